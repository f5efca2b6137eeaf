//! How long something lasted or lay out: "5 hours", "overnight", "for four months", "3 day old".

use std::ops::Range;

use super::names::{Span, count, span};
use crate::reader::tokens::Text;
use crate::units::Ratio;

/// A night, in minutes: what "overnight" is taken for.
pub const NIGHT_MINUTES: u32 = 8 * 60;

/// A span of time found in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Elapsed {
    pub tokens: Range<usize>,
    /// `None` for a vague one ("a few hours").
    pub minutes: Option<u32>,
    /// An age said of the food itself ("3 day old", "4 years old").
    pub age: bool,
}

/// The first span of time within `range` that is not part of "3 days ago".
pub fn find(text: &Text<'_>, range: Range<usize>) -> Option<Elapsed> {
    range.clone().find_map(|i| at(text, i)).filter(|found| found.tokens.end <= range.end)
}

/// The span of time whose words begin at token `i`.
pub fn at(text: &Text<'_>, i: usize) -> Option<Elapsed> {
    if let Some((len, minutes)) = stretch(text, i) {
        return Some(Elapsed { tokens: i..i + len, minutes: Some(minutes), age: false });
    }
    let (number, unit, mut end) = measured(text, i)?;
    if matches!(text.word(end), "ago" | "back") {
        return None;
    }
    let age = matches!(text.word(end), "old" | "olds");
    end += usize::from(age);
    let minutes = match number {
        Some(number) => {
            let minutes = number.checked_mul(Ratio::whole(unit.minutes().into()))?;
            Some(u32::try_from(minutes.rounded()).ok()?)
        }
        None => None,
    };
    Some(Elapsed { tokens: i..end, minutes, age })
}

/// Stretches with a name: a night, a day.
fn stretch(text: &Text<'_>, i: usize) -> Option<(usize, u32)> {
    const NIGHTS: [&[&str]; 9] = [
        &["overnight"],
        &["overnite"],
        &["ovenight"],
        &["over", "night"],
        &["all", "night"],
        &["all", "nite"],
        &["whole", "night"],
        &["the", "whole", "night"],
        &["through", "the", "night"],
    ];
    if let Some(words) = NIGHTS.iter().find(|words| text.has(i, words)) {
        return Some((words.len(), NIGHT_MINUTES));
    }
    // A day left standing: what lies between two nights.
    const DAYS: [&[&str]; 3] = [&["all", "day"], &["whole", "day"], &["the", "whole", "day"]];
    let words = DAYS.iter().find(|words| text.has(i, words))?;
    Some((words.len(), 24 * 60 - NIGHT_MINUTES))
}

/// A number, its span, and the token after them: "5 hours", "2 1/2 days", "an hour and a half",
/// "half an hour", "2 and a half hours".
fn measured(text: &Text<'_>, i: usize) -> Option<(Option<Ratio>, Span, usize)> {
    let half = Ratio::new(1, 2)?;
    let and_half = |at: usize| text.has(at, &["and", "a", "half"]);
    if text.word(i) == "half" {
        let unit_at = i + 1 + usize::from(matches!(text.word(i + 1), "a" | "an"));
        return Some((Some(half), span(text.word(unit_at))?, unit_at + 1));
    }
    let (number, next) = match (text.number(i), text.number(i + 1)) {
        (Some(whole), Some(part)) if text.word(i + 1).contains('/') => {
            (Some(whole.checked_add(part)?), i + 2)
        }
        (Some(decimal), _) if decimal.denom() != 1 => (Some(decimal), i + 1),
        _ => {
            let (number, len) = count(text, i)?;
            (number.map(|number| Ratio::whole(number.into())), i + len)
        }
    };
    let more = |number: Option<Ratio>| number.and_then(|number| number.checked_add(half));
    if and_half(next) {
        return Some((more(number), span(text.word(next + 3))?, next + 4));
    }
    let unit = span(text.word(next))?;
    if and_half(next + 1) {
        return Some((more(number), unit, next + 4));
    }
    Some((number, unit, next + 1))
}
