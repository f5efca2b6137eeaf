//! "Show us the fridge", "a picture of the plan", "chart of this month": a question about the
//! household's own stock, to be answered with a picture.
//!
//! Only when spoken to the bot: in a family "send me a picture of the fridge" is said to somebody
//! with a camera. And only where every word is one of these: "show me how to freeze leeks" is not.

use std::ops::Range;

use crate::reader::Analysis;
use crate::reader::days::{self, Facing, Reach};
use crate::reader::details::named_place;
use crate::statement::{Scope, Statement};
use crate::words::{Intent, Place};

/// Words for the picture itself.
const WISH: &[&str] = &[
    "picture", "pictures", "pic", "image", "drawing", "draw", "chart", "graph", "diagram", "plot",
];

/// Ways to ask to see something.
const SHOW: &[&[&str]] = &[&["show"], &["see"], &["a", "look", "at"], &["display"]];

/// Words that carry no subject.
const FILLERS: &[&str] = &[
    "larderling",
    "please",
    "pls",
    "hey",
    "hi",
    "ok",
    "okay",
    "so",
    "and",
    "me",
    "us",
    "the",
    "a",
    "an",
    "of",
    "our",
    "my",
    "your",
    "in",
    "on",
    "with",
    "as",
    "for",
    "at",
    "to",
    "can",
    "could",
    "would",
    "will",
    "you",
    "i",
    "we",
    "let",
    "let's",
    "lets",
    "want",
    "like",
    "have",
    "get",
    "give",
    "send",
    "make",
    "post",
    "how",
    "what",
    "what's",
    "whats",
    "is",
    "are",
    "do",
    "doing",
    "it",
    "that",
    "this",
    "there",
    "all",
    "now",
    "look",
    "still",
    "got",
    "up",
    "until",
    "till",
    "quick",
    "nice",
    "by",
    "one",
    "some",
    "current",
    "next",
];

const PLAN: &[&str] = &["plan", "shop", "shopping"];
const FREEZER: &[&str] = &["freezer", "frozen"];
const LEDGER: &[&str] = &[
    "money", "budget", "waste", "wasted", "spending", "spent", "month", "figures", "numbers",
    "ledger", "doing",
];
const HOUSE: &[&str] = &[
    "house",
    "home",
    "kitchen",
    "stock",
    "inventory",
    "food",
    "larder",
    "everything",
    "lots",
    "left",
    "days",
    "first",
    "have",
    "got",
];

/// The wish that `range` of the message is, if it is one.
pub fn read(a: &Analysis<'_>, range: &Range<usize>) -> Option<Statement> {
    if !a.context.addressed {
        return None;
    }
    let wished = range.clone().any(|i| WISH.contains(&a.text.word(i)));
    if !wished && !SHOW.iter().any(|words| a.text.find(range.clone(), words).is_some()) {
        return None;
    }
    let mut said = Said::default();
    let spans = days::find_all(a, range.clone(), Facing::Future);
    let mut i = range.start;
    while i < range.end {
        if let Some(span) = spans.iter().find(|span| span.tokens.contains(&i)) {
            let until = span.reach == Reach::Until || span.tense != Some(Facing::Past);
            said.until = said.until.or(span.day.filter(|_| until));
            i = span.tokens.end.max(i + 1);
            continue;
        }
        i += match named_place(a, i, range.end) {
            Some((place, length)) if place != Place::Freezer => {
                said.place = said.place.or(Some(place));
                length.max(1)
            }
            Some(_) | None => {
                let known = !a.text.is_word(i) || said.takes(a.text.word(i));
                known.then_some(1)?
            }
        };
    }
    said.statement(wished)
}

/// What the words were about.
#[derive(Default)]
struct Said {
    plan: bool,
    freezer: bool,
    ledger: bool,
    house: bool,
    place: Option<Place>,
    until: Option<crate::dates::KitchenDay>,
}

impl Said {
    /// Notes a word; `false` for one that has no business here.
    fn takes(&mut self, word: &str) -> bool {
        let is = |words: &[&str]| words.contains(&word);
        self.plan |= is(PLAN);
        self.freezer |= is(FREEZER);
        self.ledger |= is(LEDGER);
        self.house |= is(HOUSE);
        let shows = SHOW.iter().any(|words| words.contains(&word));
        shows || [PLAN, FREEZER, LEDGER, HOUSE, FILLERS, WISH].iter().any(|words| is(words))
    }

    fn statement(self, wished: bool) -> Option<Statement> {
        let place = self.place.or(self.freezer.then_some(Place::Freezer));
        let intent = if self.plan || self.until.is_some() {
            Intent::AskPlan
        } else if self.ledger && place.is_none() {
            Intent::AskLedger
        } else if place.is_some() || self.house || wished {
            Intent::AskHave
        } else {
            return None;
        };
        let mut statement = Statement::new(intent);
        statement.confidence = 0.9;
        statement.picture = true;
        match intent {
            Intent::AskPlan => statement.until = self.until,
            Intent::AskLedger => statement.topic = Some("month".to_owned()),
            _ => statement.scope = place.map(Scope::Place),
        }
        Some(statement)
    }
}

/// "How are we doing this month? Picture please.": whether `next` is a wish that names nothing and
/// so is about the question before it.
pub fn goes_with(before: &Statement, next: &Statement) -> bool {
    let bare = next.picture && next.intent == Intent::AskHave && next.scope.is_none();
    let shown = [Intent::AskFirst, Intent::AskHave, Intent::AskPlan, Intent::AskLedger];
    bare && !before.picture && shown.contains(&before.intent)
}
