//! Questions and the small talk the bot answers: every `ask_*`, help, thanks, undo, why,
//! eaten_already, setting.

use std::ops::Range;

use super::Analysis;
use crate::statement::Statement;

/// The question (or order to the bot) that `range` of the message is, if it is one.
pub fn read_question(_analysis: &Analysis<'_>, _range: Range<usize>) -> Option<Statement> {
    None
}
