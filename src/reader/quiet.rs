//! What is not for the bot: chatter, cooking talk, idioms, futures, wishes, other people's shopping.

use std::ops::Range;

use super::Analysis;

/// Why the whole message is none of the bot's business; `None` when it may be.
pub fn silent_message(_analysis: &Analysis<'_>) -> Option<&'static str> {
    None
}

/// Why this clause records nothing (future, wish, hypothetical, another household, idiom);
/// `None` when it may.
pub fn silent_clause(_analysis: &Analysis<'_>, _clause: Range<usize>) -> Option<&'static str> {
    None
}
