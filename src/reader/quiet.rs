//! What is not for the bot: chatter, cooking talk, idioms, futures, wishes, other people's shopping.
//!
//! Three gates. `silent_clause` stops a clause before anything is read in it (idioms).
//! `nothing_happened` looks at what was read as an event and at how it was said: the future, a
//! condition, a wish, a request and another household's shopping record nothing. `off_topic` stops
//! a question that is about cooking, eating out or something else.

mod idioms;
mod unreal;

use std::ops::Range;

pub use unreal::for_others;

use super::Analysis;
use super::questions::{Class, Question};
use super::verbs;
use crate::statement::Statement;
use crate::words::Intent;

/// Why the whole message is none of the bot's business; `None` when it may be.
pub fn silent_message(_analysis: &Analysis<'_>) -> Option<&'static str> {
    None
}

/// Why this clause is not to be read at all; `None` when it may.
pub fn silent_clause(a: &Analysis<'_>, clause: Range<usize>) -> Option<&'static str> {
    idioms::touches(&a.text, &clause).then_some("a turn of phrase")
}

/// Why what was read as `intent` did not happen, or not in this house; `None` when it did.
pub fn nothing_happened(
    a: &Analysis<'_>,
    clause: Range<usize>,
    intent: Intent,
) -> Option<&'static str> {
    if !unreal::is_event(intent) {
        return None;
    }
    unreal::not_real(a, &clause).or_else(|| unreal::not_ours(a, &clause))
}

/// A question that a story leads up to comes within so many words and marks.
const STORY_LENGTH: usize = 100;

/// Why something told in `range` is only the beginning of a question ("I made white bread
/// yesterday and it smelled. Why?"): the food is a mere "a" or nothing, and the message asks on
/// from `end`.
pub fn story(
    a: &Analysis<'_>,
    range: Range<usize>,
    end: usize,
    statement: &Statement,
) -> Option<&'static str> {
    let told = matches!(
        statement.intent,
        Intent::Counted
            | Intent::Prepared
            | Intent::Preserved
            | Intent::Opened
            | Intent::NotReceived
            | Intent::PutInWater
    );
    if !told || a.context.addressed || statement.complete {
        return None;
    }
    let asks = (end..a.text.len()).take(STORY_LENGTH).any(|i| {
        let opens = i == end || matches!(a.text.word(i - 1), "." | "," | ":" | "!" | "\n" | "-");
        a.text.word(i) == "?" || opens && matches!(a.text.word(i), "how" | "why")
    });
    let which = verbs::head(a, range.start, end).is_none_or(|head| {
        let at = head.args;
        let article = matches!(a.text.word(at), "a" | "an");
        !article
            && (a.tag(at).is_determiner()
                || a.tag(at).is_pronoun()
                || a.text.number(at).is_some()
                || a.tag(at).value.is_some())
    });
    // "I have 2 kg of pork belly. How should I cook it?"
    let mine = statement.intent == Intent::Counted
        && range.clone().any(|i| matches!(a.text.word(i), "i" | "i've" | "ive"));
    (asks && (mine || !which)).then_some("the beginning of a question")
}

/// Why a question that looks like `intent` is none of ours in group talk; `None` when it is ours.
pub fn off_topic(q: &Question<'_>, intent: Intent) -> Option<&'static str> {
    let stored = q.any(&[
        Class::Life,
        Class::LeftOut,
        Class::Label,
        Class::Expire,
        Class::Spoil,
        Class::Store,
        Class::Preserve,
    ]) || (q.has(Class::Cold) && !q.any(&[Class::Substitute]));
    let strong = stored || q.any(&[Class::Freeze, Class::Thaw, Class::Refrigerate]);
    let bought = q.says(&[
        "can i buy",
        "can i get",
        "can i find",
        "can you buy",
        "can one buy",
        "can you get",
        "can you find",
        "to buy",
        "to find",
        "do i buy",
        "do you buy",
        "do i find",
        "could i buy",
        "could i find",
    ]);
    // How to pickle and to ferment is a recipe.
    let pickled = intent == Intent::AskPreserve
        && !q.any(&[Class::Freeze, Class::Preserve])
        && ["pickle", "pickling", "ferment", "fermenting", "confit"].iter().any(|w| q.says(&[w]));
    let in_house = matches!(intent, Intent::AskHave | Intent::AskFirst);
    let veto = [
        (q.has(Class::Elsewhere) && !strong, "speaks of something else"),
        (q.word(q.first()) == "why", "asks why"),
        (bought && q.word(q.first()) == "where", "where it is sold"),
        (pickled, "a recipe"),
        (q.has(Class::Nutrition) && !stored, "nutrition"),
        (q.has(Class::Substitute) && !stored, "substitution"),
        (q.has(Class::Recipe) && !stored && intent != Intent::AskKeeps, "a recipe"),
        (q.has(Class::Dining) && !stored, "eating out"),
        (q.has(Class::Equipment) && !stored, "equipment"),
        (q.has(Class::Taste) && !stored && !q.has(Class::Condition), "taste or difference"),
        (q.has(Class::Cook) && !strong && !in_house, "cooking"),
    ];
    veto.iter().find(|(applies, _)| *applies).map(|(_, why)| *why)
}
