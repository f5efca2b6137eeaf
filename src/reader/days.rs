//! Days people speak of: "yesterday", "on sunday", "two mondays ago", "the 9th".

use std::ops::Range;

use super::Analysis;
use crate::dates::KitchenDay;

/// A day found in a text and the tokens that say it (with their preposition: "on sunday").
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DaySpan {
    pub day: KitchenDay,
    pub tokens: Range<usize>,
}

/// Which way a bare weekday or date points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Facing {
    /// Something that happened: the last such day, today included.
    Past,
    /// A plan, a printed date: the next such day, today included.
    Future,
}

/// The first day said within `range`.
pub fn find(analysis: &Analysis<'_>, range: Range<usize>, facing: Facing) -> Option<DaySpan> {
    range.clone().find_map(|i| at(analysis, i..range.end, facing))
}

/// The day whose words begin at the first token of `range`.
pub fn at(_analysis: &Analysis<'_>, _range: Range<usize>, _facing: Facing) -> Option<DaySpan> {
    None
}
