//! Which message is meant by a description: "the parsnips on friday", "the dill was never thrown
//! out". Looks through the whole log; several that fit, or one of long ago, is a question.

use std::collections::BTreeSet;

use super::super::*;
use super::put_right::same;
use crate::kitchen::log;
use crate::kitchen::outcome::{Asks, Choice};

/// What was recorded longer ago than this is only mended after asking, in days.
const UNASKED_DAYS: i64 = 14;

/// The most choices of one question.
const CHOICES_MAX: usize = 4;

/// What is looked for.
#[derive(Clone, Copy)]
pub(super) enum Sought {
    /// What brought a food onto the record.
    Brought,
    /// What did this deed to it, which took it off the record or changed it.
    Done(Intent),
}

pub(super) enum Found {
    None,
    One(MessageId),
    Ask(Question),
}

impl Deciding<'_> {
    /// The message that did to `of` what is sought, on the statement's day where one is said.
    pub(super) fn find(&self, of: &Named, sought: Sought) -> Found {
        let force = log::in_force(self.cx.log);
        let on_day = self.statement.day;
        let mut fits: Vec<(MessageId, KitchenDay)> = Vec::new();
        let mut newest_first: Vec<&&Event> = force.iter().collect();
        newest_first.sort_by_key(|event| std::cmp::Reverse(event.id));
        for event in newest_first {
            let fitting = match sought {
                Sought::Brought => brings(&event.what, of),
                Sought::Done(deed) => {
                    did(&event.what, of, Some(deed)) || self.loses(&event.what, of)
                }
            };
            if let Some(message) = event.message
                && fitting
                && on_day.is_none_or(|day| day == event.day)
                && !fits.iter().any(|(other, _)| *other == message)
            {
                fits.push((message, event.day));
            }
        }
        let answered = self.cx.answers.filter(|to| fits.iter().any(|(message, _)| message == to));
        if let Some(answered) = answered {
            return Found::One(answered);
        }
        let recent = |day: &KitchenDay| self.cx.today.days_since(*day) <= UNASKED_DAYS;
        let Some((newest, day)) = fits.first().copied() else { return Found::None };
        if self.cx.sure {
            return Found::One(newest);
        }
        let near: Vec<KitchenDay> = fits.iter().map(|(_, day)| *day).filter(recent).collect();
        match near.as_slice() {
            [_] => Found::One(newest),
            [] => Found::Ask(self.long_ago(of, day)),
            [..] => Found::Ask(self.which(of, &near)),
        }
    }

    fn which(&self, of: &Named, days: &[KitchenDay]) -> Question {
        let mut days = days.to_vec();
        days.dedup();
        days.truncate(CHOICES_MAX);
        let choices = (1..).zip(days).map(|(number, day)| Choice {
            key: format!("match_{number}"),
            day: Some(day),
            then: vec![Statement { day: Some(day), ..self.statement.clone() }],
        });
        Question { asks: Asks::WhichOne { of: of.clone() }, choices: choices.collect() }
    }

    fn long_ago(&self, of: &Named, day: KitchenDay) -> Question {
        let then = vec![Statement { day: Some(day), ..self.statement.clone() }];
        let choice = |key: &str, then| Choice { key: key.to_owned(), day: None, then };
        Question {
            asks: Asks::LongAgo { of: of.clone(), day },
            choices: vec![choice("yes", then), choice("no", Vec::new())],
        }
    }

    /// Whether an event left one of this food's lots uncounted.
    pub(super) fn loses(&self, what: &What, of: &Named) -> bool {
        matches!(what, What::Uncounted { lots } if lots.iter().any(|id| self.was(*id, of)))
    }

    /// Whether a lot, here or gone, is or was of this food.
    pub(in crate::kitchen::decide) fn was(&self, id: LotId, of: &Named) -> bool {
        self.cx.log.iter().any(|event| {
            event.what.names().iter().any(|named| same(named, of))
                && event.what.new_lots().contains(&id)
                && begins(&event.what, id, of)
        })
    }

    /// The message to mend: what this one answers, or the same person's last one that names the
    /// food; for a food nobody named, the person's last one about a single food.
    pub(super) fn last_of_theirs(
        &self,
        wrong: Option<&Named>,
        on_day: Option<KitchenDay>,
    ) -> Option<MessageId> {
        let force = log::in_force(self.cx.log);
        if let Some(answered) = self.cx.answers
            && force.iter().any(|event| event.message == Some(answered))
        {
            return Some(answered);
        }
        let on_day = on_day.filter(|_| wrong.is_some());
        let mut theirs: Vec<&&Event> = force
            .iter()
            .filter(|event| event.person.is_some() && event.person == self.cx.person)
            .filter(|event| on_day.is_none_or(|day| event.day == day))
            .collect();
        if on_day.is_some() && theirs.is_empty() {
            theirs = force.iter().filter(|event| Some(event.day) == on_day).collect();
        }
        theirs.sort_by_key(|event| std::cmp::Reverse(event.id));
        let Some(of) = wrong else {
            return theirs.first().and_then(|event| event.message);
        };
        let names = |event: &Event| event.what.names().iter().any(|named| same(named, of));
        let naming = theirs.iter().find(|event| names(event));
        if let Some(event) = naming {
            return event.message;
        }
        if on_day.is_some() {
            return None;
        }
        // "No, turnips": their last message, if it named one food only.
        let last = theirs.first().and_then(|event| event.message)?;
        let named: BTreeSet<String> = theirs
            .iter()
            .filter(|event| event.message == Some(last))
            .flat_map(|event| event.what.names())
            .map(|named| named.key().to_owned())
            .collect();
        (named.len() == 1).then_some(last)
    }
}

/// Whether an event brings this food onto the record.
fn brings(what: &What, of: &Named) -> bool {
    matches!(what, What::Acquired { .. } | What::Counted { .. } | What::FoundAgain { .. })
        && what.names().iter().any(|named| same(named, of))
}

/// Whether an event did this deed to a food; `None`: took it off the record in any way.
pub(super) fn did(what: &What, of: &Named, deed: Option<Intent>) -> bool {
    let is = |intent: Intent| deed.is_none_or(|deed| deed == intent);
    let zero = |amount: &Amount| matches!(amount, Amount::Exact(q) if q.value.is_zero());
    match what {
        What::Used { draw } => is(Intent::Used) && same(&draw.of, of),
        What::Given { draw } => is(Intent::Given) && same(&draw.of, of),
        What::NotReceived { draw } => is(Intent::NotReceived) && same(&draw.of, of),
        What::Discarded { draw, .. } => is(Intent::Discarded) && same(&draw.of, of),
        What::PartDiscarded { of: named, .. } => is(Intent::Discarded) && same(named, of),
        What::Counted { amount, new, .. } => zero(amount) && same(&new.of, of),
        What::Preserved { change, .. } => {
            deed == Some(Intent::Preserved) && same(&change.draw.of, of)
        }
        What::Opened { change } => deed == Some(Intent::Opened) && same(&change.draw.of, of),
        // Nothing else is denied.
        _ => false,
    }
}

/// Whether an event begins this lot as this food.
fn begins(what: &What, id: LotId, of: &Named) -> bool {
    match what {
        What::Acquired { lots, .. } => lots.iter().any(|new| new.lot == id && same(&new.of, of)),
        // Every other kind begins lots of one food.
        _ => true,
    }
}
