//! The small talk the bot answers: help, thanks, undo, why.

use std::ops::Range;

use crate::reader::{Analysis, patterns};
use crate::statement::{Scope, Statement};
use crate::words::Intent;

/// A whole message that is one of them. In group talk only "undo" stands alone, and "why?" and
/// "thanks" right after the bot said something.
pub fn read(a: &Analysis<'_>, range: Range<usize>) -> Option<Statement> {
    let words: Vec<&str> = range
        .clone()
        .filter(|i| {
            a.text.is_word(*i) && !matches!(a.text.word(*i), "larderling" | "please" | "pls")
        })
        .map(|i| a.text.word(i))
        .collect();
    if words.is_empty() || words.len() > 7 {
        return None;
    }
    let said = words.join(" ");
    let is = |table: &[&str]| table.contains(&said.as_str());
    let spoken_to = a.context.addressed;
    let in_talk = spoken_to || !a.context.talk.is_empty();
    if is(ON_IT) && (spoken_to || chore_named(a)) {
        let mut statement = Statement::new(Intent::Setting);
        statement.setting = Some((crate::statement::ON_IT.to_owned(), String::new()));
        return Some(statement);
    }
    if spoken_to && let Some(count) = count_together(a, range, &said) {
        return Some(count);
    }
    let intent = if is(UNDO) || (in_talk && is(TAKE_BACK)) {
        Intent::Undo
    } else if in_talk && is(WHY) {
        Intent::Why
    } else if in_talk && is(THANKS) {
        Intent::Thanks
    } else if spoken_to && is(HELP) {
        Intent::Help
    } else {
        return None;
    };
    Some(Statement::new(intent))
}

/// "Stock take", "let's count the freezer": a count to be made together, of one place or of all.
/// It names no food yet.
fn count_together(a: &Analysis<'_>, range: Range<usize>, said: &str) -> Option<Statement> {
    let rest = COUNT.iter().find_map(|head| {
        let rest = said.strip_prefix(head)?;
        (rest.is_empty() || rest.starts_with(' ')).then_some(rest.trim())
    })?;
    let place = patterns::header_place(a, range);
    let whole =
        matches!(rest, "" | "everything" | "the house" | "the kitchen" | "together" | "it all");
    if place.is_none() && !whole {
        return None;
    }
    let mut statement = Statement::new(Intent::Counted);
    statement.scope = Some(place.map_or(Scope::All, Scope::Place));
    Some(statement)
}

/// How a count together is begun, the longer first.
const COUNT: &[&str] = &[
    "let's do a stock take",
    "lets do a stock take",
    "let's take stock",
    "lets take stock",
    "let's count",
    "lets count",
    "do a stock take",
    "do a count",
    "i'll count",
    "i'm counting",
    "stock take",
    "stocktake",
    "stock taking",
    "stocktaking",
    "take stock",
    "start counting",
    "count",
];

/// A chore was the last thing spoken of.
fn chore_named(a: &Analysis<'_>) -> bool {
    let last = a.context.talk.last().and_then(|mention| mention.intent);
    matches!(last, Some(Intent::WaterChanged | Intent::PutInWater))
}

/// Taking on a chore.
const ON_IT: &[&str] = &[
    "on it",
    "i'm on it",
    "im on it",
    "on it now",
    "will do",
    "doing it",
    "doing it now",
    "i'll do it",
    "ill do it",
    "i'll do that",
    "i'll do them",
    "i'll do the water",
    "i'll change the water",
    "i'll change it",
    "i've got this one",
    "i've got it",
    "got this one",
    "mine",
    "i'll take it",
    "i'll take that",
    "i'll take this one",
    "leave it to me",
    "i can do it",
    "i can do that",
    "on the water",
    "my turn",
];

const UNDO: &[&str] =
    &["undo", "undo that", "undo it", "undo the last one", "undo last", "undo this"];

const TAKE_BACK: &[&str] = &[
    "take that back",
    "take it back",
    "scratch that",
    "that was wrong",
    "that's wrong",
    "cancel that",
    "never mind that",
    "revert",
    "revert that",
    "no undo that",
    "forget that",
    "ignore that",
    "oops undo",
    "sorry undo",
    "go back",
    "that was a mistake",
    "wrong",
    "remove that",
    "delete that",
    "strike that",
];

const WHY: &[&str] = &[
    "why",
    "why is that",
    "why not",
    "how come",
    "why so",
    "says who",
    "how do you know",
    "how do you know that",
    "where does that come from",
    "what's the source",
    "source",
    "sources",
    "according to whom",
    "but why",
    "why though",
    "why that",
    "are you sure",
    "really",
    "explain",
    "who says that",
    "who says so",
    "show me the source",
    "where is that from",
];

const THANKS: &[&str] = &[
    "thanks",
    "thank you",
    "thx",
    "ty",
    "cheers",
    "thanks a lot",
    "many thanks",
    "thank you so much",
    "thanks so much",
    "great thanks",
    "ok thanks",
    "okay thanks",
    "ta",
    "much appreciated",
    "nice thanks",
    "perfect thanks",
    "thank u",
    "thanks larderling",
    "good bot",
    "thanks very much",
    "tysm",
    "brilliant thanks",
    "cool thanks",
    "lovely thanks",
    "got it thanks",
];

const HELP: &[&str] = &[
    "help",
    "help me",
    "what can you do",
    "how does this work",
    "how do you work",
    "what do you do",
    "how do i use you",
    "how do i use this",
    "commands",
    "what can i say",
    "what can i ask",
    "start",
    "who are you",
    "what are you",
    "what can i ask you",
    "how do i start",
    "what do i do",
    "menu",
    "instructions",
    "how do you do this",
    "what do i say",
    "what is this",
    "options",
];
