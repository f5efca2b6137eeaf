//! What is not for the bot: chatter, cooking talk, idioms, futures, wishes, other people's shopping.

use std::ops::Range;

use super::Analysis;
use super::questions::{Class, Question};
use crate::words::Intent;

/// Why the whole message is none of the bot's business; `None` when it may be.
pub fn silent_message(_analysis: &Analysis<'_>) -> Option<&'static str> {
    None
}

/// Why this clause records nothing (future, wish, hypothetical, another household, idiom);
/// `None` when it may.
pub fn silent_clause(_analysis: &Analysis<'_>, _clause: Range<usize>) -> Option<&'static str> {
    None
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
    ]) || (q.has(Class::Cold) && !q.any(&[Class::Substitute]));
    let stored = stored || q.has(Class::Preserve);
    let strong = stored || q.any(&[Class::Freeze, Class::Thaw, Class::Refrigerate]);
    if q.has(Class::Elsewhere) && !strong {
        return Some("speaks of something else");
    }
    if q.word(q.first()) == "why" {
        return Some("asks why");
    }
    if q.has(Class::Nutrition) && !stored {
        return Some("nutrition");
    }
    if q.has(Class::Substitute) && !stored {
        return Some("substitution");
    }
    if q.has(Class::Recipe) && !stored && intent != Intent::AskKeeps {
        return Some("a recipe");
    }
    if q.has(Class::Dining) && !stored {
        return Some("a restaurant");
    }
    if q.has(Class::Equipment) && !stored {
        return Some("equipment");
    }
    if q.has(Class::Taste) && !stored && !q.has(Class::Condition) {
        return Some("taste or difference");
    }
    if cooks(q) && !strong && !matches!(intent, Intent::AskHave | Intent::AskFirst) {
        return Some("cooking");
    }
    None
}

/// A cooking verb, not a form ("cooked").
fn cooks(q: &Question<'_>) -> bool {
    q.has(Class::Cook)
}
