//! What stood out: left on the counter, forgotten on the stove, never put back.

use std::ops::Range;

use super::{Clause, Memory, accept};
use crate::reader::details::Way;
use crate::reader::items::List;
use crate::reader::patterns;
use crate::statement::Statement;
use crate::units::Ratio;
use crate::words::{Intent, Place};

/// Where food stands that was left out.
const OUTSIDE: &[&str] = &[
    "counter",
    "countertop",
    "table",
    "worktop",
    "side",
    "stove",
    "hob",
    "cooker",
    "stovetop",
    "car",
    "bench",
    "windowsill",
    "oven",
];

/// Since when or how long, in words that are no span of minutes.
const SINCE: &[&str] =
    &["since", "overnight", "night", "day", "morning", "hours", "evening", "ages"];

impl Clause<'_, '_> {
    /// "left the stew out overnight", "left the milk on the table".
    pub(super) fn left(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let out = self.any(&["out", "outside", "overnight"]) || self.any(OUTSIDE);
        if !out {
            return None;
        }
        let list = self.items(args, memory)?;
        Some(self.left_out(list))
    }

    pub(super) fn left_out(&self, list: List) -> Statement {
        let mut statement = self.statement(Intent::LeftOut, list);
        statement.minutes = patterns::minutes(self.a, self.clause.clone());
        statement.topic = since(self);
        for item in &mut statement.items {
            item.fraction = item.fraction.filter(|share| *share != Ratio::ONE);
        }
        statement
    }

    /// Said of food from token `at` on: it stands or stood where it does not keep.
    pub(super) fn stands_out(&self, at: usize) -> bool {
        let end = self.clause.end;
        let says = |words: &[&str]| (at..end).any(|i| words.contains(&self.word(i)));
        let stood = says(&[
            "left", "sat", "sitting", "stood", "standing", "been", "was", "were", "out", "still",
        ]);
        let long = patterns::minutes(self.a, at..end).is_some() || says(SINCE);
        let out = says(&["out"])
            && !says(&["of"])
            && (says(&["left", "sat", "sitting", "counter"]) || long);
        out || stood && says(OUTSIDE) && (long || says(&["left", "sat", "sitting", "forgotten"]))
    }

    /// "forgot the milk" did not come, "forgot the rice on the counter" stood out, "forgot the
    /// sugar in the cookies" is a story.
    pub(super) fn forgot(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.details.place(Way::To) == Some(&Place::Counter)
            || self.any(&["out", "overnight"])
            || self.any(OUTSIDE)
        {
            return self.left(args, memory);
        }
        if self.any(&["in", "from"]) && self.details.place(Way::To).is_none() {
            return None;
        }
        self.simple(Intent::NotReceived, args, memory)
    }

    /// "forgot to put the milk back", "didn't put the chicken away", "forgot to refrigerate it".
    pub(super) fn not_put_away(&self) -> Option<Statement> {
        let not = self.clause.clone().take(6).find(|&i| {
            matches!(
                (self.word(i), self.word(i + 1)),
                ("forgot", "to") | ("didn't" | "didnt" | "never" | "nobody", _)
            )
        })?;
        let verb = (not + 1..self.clause.end.min(not + 4))
            .find(|&i| matches!(self.word(i), "put" | "refrigerate" | "return" | "refrigerated"))?;
        let away = |i: &usize| matches!(self.word(*i), "back" | "away" | "in" | "into" | "to");
        let end = (verb + 2..self.clause.end).find(away).unwrap_or(self.clause.end);
        let cold = matches!(
            self.details.place(Way::To),
            Some(Place::Fridge | Place::Freezer | Place::Crisper)
        );
        let back = matches!(self.word(end), "back" | "away");
        if self.word(verb) == "put" && !(cold || back) {
            return None;
        }
        let mut list = accept(self.a, self.list(verb + 1..end))?;
        // Where it should have been is not where it stood.
        for found in list.found.iter_mut() {
            found.item.place = None;
        }
        list.found.iter().any(|f| f.known && (f.definite || f.amount)).then(|| self.left_out(list))
    }
}

/// The meal or the time of day something stood out since.
fn since(clause: &Clause<'_, '_>) -> Option<String> {
    let at = clause.clause.clone().find(|&i| clause.word(i) == "since")?;
    let word = clause.word(at + 1);
    let meal = matches!(
        word,
        "breakfast"
            | "lunch"
            | "dinner"
            | "tea"
            | "supper"
            | "lunchtime"
            | "brunch"
            | "noon"
            | "midday"
    );
    meal.then(|| word.to_owned())
}
