//! Food marked for a day: "the cauliflower is for tonight", "keep the peas for saturday".

use std::ops::Range;

use super::Analysis;
use super::actions::{Memory, accept_sure};
use super::days::{self, Facing};
use super::details::Details;
use super::items::{self, List};
use crate::statement::{SPOKEN_FOR, Statement};
use crate::words::Intent;

/// Verbs that tell others to leave food alone for something.
const KEEP: &[&str] = &[
    "keep",
    "keeping",
    "save",
    "saving",
    "saved",
    "reserve",
    "reserved",
    "reserving",
    "leave",
    "leaving",
    "need",
];

/// Meals that are on the day named, or on the day at hand.
const MEALS: &[&str] = &["dinner", "lunch", "tea", "supper", "breakfast", "brunch"];

/// The mark a clause makes, if it is one.
pub fn read(a: &Analysis<'_>, clause: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    let w = |i: usize| if clause.contains(&i) { a.text.word(i) } else { "" };
    let at = clause.clone().find(|&i| w(i) == "for")?;
    let day = day_of(a, at..clause.end)?;
    let copula = at.checked_sub(1).filter(|&i| {
        matches!(w(i), "is" | "are" | "it's" | "they're" | "that's" | "its" | "reserved" | "meant")
    });
    let list = match copula {
        Some(be) => subject(a, clause.start..be + 1, memory)?,
        None => {
            let verb = clause.clone().take(4).find(|&i| KEEP.contains(&w(i)))?;
            told_to_keep(a, verb + 1..at)?
        }
    };
    let mut statement = Statement::new(Intent::Setting);
    statement.setting = Some((SPOKEN_FOR.to_owned(), String::new()));
    statement.confidence = 0.85;
    statement.day = Some(day);
    statement.items = list.items();
    Some(statement)
}

/// The day that "for" leads to, where nothing but a meal or an occasion stands beside it.
fn day_of(a: &Analysis<'_>, range: Range<usize>) -> Option<crate::dates::KitchenDay> {
    let today = a.context.today;
    let named = days::find(a, range.clone(), Facing::Future);
    let meal = range.clone().skip(1).take(3).any(|i| MEALS.contains(&a.text.word(i)));
    if let Some(span) = named {
        let near = span.tokens.start <= range.start + 4;
        return span.day.filter(|day| near && *day >= today);
    }
    (meal && range.len() <= 3).then_some(today)
}

/// "the cauliflower", "that", "it" before the verb of being.
fn subject(a: &Analysis<'_>, range: Range<usize>, memory: &mut Memory) -> Option<List> {
    let end = range.end - 1;
    let pronoun = |word: &str| {
        matches!(
            word,
            "it" | "it's"
                | "its"
                | "they"
                | "they're"
                | "that"
                | "that's"
                | "those"
                | "these"
                | "this"
        )
    };
    let first = (range.start..range.end).find(|&i| a.text.is_word(i) && !a.tag(i).is_filler())?;
    if a.foods_in(range.start..end).next().is_none() {
        let alone = pronoun(a.text.word(first)) && end <= first + 1;
        return alone.then(|| memory.referent(first)).flatten();
    }
    let details = Details::read(a, range.start..end);
    let list = accept_sure(a, items::read(a, range.start..end, &details))?;
    let plain =
        list.stray_words(a) == 0 && list.found.iter().all(|f| f.known && (f.definite || f.amount));
    plain.then_some(list)
}

fn told_to_keep(a: &Analysis<'_>, range: Range<usize>) -> Option<List> {
    let details = Details::read(a, range.clone());
    let list = accept_sure(a, items::read(a, range, &details))?;
    let which = list.found.iter().all(|f| f.known && (f.definite || f.amount));
    (which && list.stray_words(a) == 0).then_some(list)
}
