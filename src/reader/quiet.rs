//! What is not for the bot: chatter, cooking talk, idioms, futures, wishes, other people's shopping.
//!
//! Three gates. `silent_clause` stops a clause before anything is read in it (idioms).
//! `nothing_happened` looks at what was read as an event and at how it was said: the future, a
//! condition, a wish, a request and another household's shopping record nothing. `off_topic` stops
//! a question that is about cooking, eating out or something else.

mod idioms;
mod unreal;

use std::ops::Range;

use super::Analysis;
use super::questions::{Class, Question};
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
    let in_house = matches!(intent, Intent::AskHave | Intent::AskFirst);
    let veto = [
        (q.has(Class::Elsewhere) && !strong, "speaks of something else"),
        (q.word(q.first()) == "why", "asks why"),
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
