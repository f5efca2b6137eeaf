//! Days people name: "yesterday", "two mondays ago", "the 9th", "till saturday".
//!
//! Works on the tokens of a message and a kitchen calendar (what day it is here, and which of day
//! and month is written first). The caller says whether the talk faces the past (events) or the
//! future (plans); wordings that carry their own direction ("tomorrow", "since", "until") keep it.
//! A bare number is never a day, so a price after a day stays a price.
//!
//! Entry points: `find`, `find_all`, `at`, and `elapsed::find` for how long something lasted.
//! Weeks begin on Monday (ISO 8601).

pub mod elapsed;
mod names;
mod phrase;

use std::ops::Range;

use super::Analysis;
use super::tokens::Text;
use super::vocabulary::Tag;
use crate::dates::KitchenDay;
pub use names::whole_number;
use phrase::Phrase;

/// What the words are read against.
#[derive(Clone, Copy, Debug)]
pub struct Calendar {
    pub today: KitchenDay,
    pub order: DateOrder,
}

/// Which number of "9/3" is the day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DateOrder {
    #[default]
    DayFirst,
    MonthFirst,
}

/// Which way a bare weekday or date points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Facing {
    /// Something that happened: the last such day; a date may be today, a weekday never is
    /// (people say "today" for that, and the older reading is the safer one).
    Past,
    /// A plan, a printed date: the next such day, a date today included.
    Future,
}

/// How the day bounds what is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    On,
    Since,
    Until,
}

/// A day found in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DaySpan {
    /// `None` for a wording that names no one day ("the other day", "a few days ago").
    pub day: Option<KitchenDay>,
    /// The tokens that say it, with their preposition ("on sunday").
    pub tokens: Range<usize>,
    pub reach: Reach,
    /// The direction the wording itself carries, if it does ("tomorrow", "3 days ago").
    pub tense: Option<Facing>,
}

/// The first day said within `range`.
pub fn find(analysis: &Analysis<'_>, range: Range<usize>, facing: Facing) -> Option<DaySpan> {
    range.clone().find_map(|i| at(analysis, i..range.end, facing))
}

/// Every day said within `range`, left to right.
pub fn find_all(analysis: &Analysis<'_>, range: Range<usize>, facing: Facing) -> Vec<DaySpan> {
    let calendar = analysis.context.calendar();
    let mut found: Vec<DaySpan> = Vec::new();
    let mut i = range.start;
    while i < range.end {
        // Nothing begins a day long before the word that makes it one.
        let first = analysis.next_day_word(i).saturating_sub(LONGEST);
        if first > i {
            i = first;
            continue;
        }
        let follows_day = found.last().is_some_and(|day| day.tokens.end == i);
        match said_at(analysis, i..range.end, calendar, facing, follows_day) {
            Some(day) => {
                i = day.tokens.end;
                found.push(day);
            }
            None => i += 1,
        }
    }
    found
}

/// The day whose words begin at the first token of `range`.
pub fn at(analysis: &Analysis<'_>, range: Range<usize>, facing: Facing) -> Option<DaySpan> {
    let near = analysis.next_day_word(range.start) <= range.start + LONGEST;
    let said = || said_at(analysis, range, analysis.context.calendar(), facing, false);
    if near { said() } else { None }
}

/// How far from its first token, prepositions included, the word stands that makes a wording one
/// of a day.
const LONGEST: usize = 8;

/// As far without the prepositions ("the end of the month", "two and a half weeks").
const LONGEST_BARE: usize = 4;

/// For each token the first one from there on that a wording of a day needs: a word of days, or
/// a number written or led in like a date.
pub fn words(text: &Text<'_>, tags: &[Tag]) -> Vec<usize> {
    let mut next = vec![usize::MAX; tags.len()];
    let mut last = usize::MAX;
    for i in (0..tags.len()).rev() {
        let owned = || text.word(i).contains('\'');
        if tags[i].is_day_word() || owned() || (text.number(i).is_some() && like_a_date(text, i)) {
            last = i;
        }
        next[i] = last;
    }
    next
}

/// A number with an ending or a separator glued to it, or a word before it that leads in a date.
fn like_a_date(text: &Text<'_>, i: usize) -> bool {
    let word = text.word(i);
    let marks = word.bytes().filter(|b| matches!(b, b'/' | b'.' | b'-')).count();
    let glued = text.is_glued(i + 1);
    let written = marks > 1
        || glued
            && matches!(
                text.word(i + 1),
                "st" | "nd" | "rd" | "th" | "st's" | "nd's" | "rd's" | "th's"
            )
        || glued && (marks > 0 || text.is_glued(i + 3)) && matches!(text.word(i + 1), "/" | "-");
    let before = i.checked_sub(1).map_or("", |k| text.word(k));
    written
        || matches!(
            before,
            "the"
                | "on"
                | "by"
                | "until"
                | "till"
                | "til"
                | "before"
                | "since"
                | "from"
                | "to"
                | "exp"
                | "expires"
                | "expiry"
                | "expired"
                | "bb"
                | "bbe"
                | "date"
                | "dated"
                | "-"
                | "/"
                | "."
                | ":"
                | "up"
                | "of"
                | "through"
        )
}

/// A day whose words, prepositions first, begin at the first token of `range`. After another day
/// "to" reaches on to it ("from the 12th to the 14th").
fn said_at(
    analysis: &Analysis<'_>,
    range: Range<usize>,
    cal: Calendar,
    facing: Facing,
    follows_day: bool,
) -> Option<DaySpan> {
    let phrase = Phrase { text: &analysis.text, end: range.end, cal };
    let lead = phrase.lead(range.start, follows_day);
    if analysis.next_day_word(lead.end) > lead.end + LONGEST_BARE {
        return None;
    }
    let facing = match lead.reach {
        Reach::Since => Facing::Past,
        Reach::Until => Facing::Future,
        Reach::On => facing,
    };
    let read = phrase.read(lead.end, facing, lead.expects_day)?;
    let tokens = range.start..lead.end + read.len;
    Some(DaySpan { day: read.day, tokens, reach: lead.reach, tense: read.tense })
}
