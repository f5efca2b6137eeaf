//! What a post is about, and how long it goes on about it.
//!
//! A lot stands in at most two morning posts while nobody gives a sign of it: once as coming up,
//! and the rest of its mornings when it presses. Past its late day it is asked about once, one that
//! is out is named once; a week later it is no longer counted.

use std::cmp::Reverse;

use super::super::outlook::{Outlook, Said};
use super::super::view::{Held, Urgency};
use super::{MOST_LOTS, Post};
use crate::conversation::Shown;
use crate::dates::KitchenDay;
use crate::kitchen::{LotId, State};

/// A lot stands in the post on this many mornings unless somebody gives a sign of it.
const MORNINGS: u32 = 2;

/// After so many whole days without a word the post doubts the record.
pub(super) const QUIET_DAYS: i64 = 2;

/// So many days after an unanswered question a lot is no longer counted.
const UNCOUNTED_DAYS: i64 = 7;

/// A lot past its late day that somebody saw less than so many days ago is not asked about yet.
const ASKED_UNSEEN_DAYS: i64 = 3;

/// In a quiet house only what should be eaten within so many days is worth a question.
const DEAREST_DAYS: f64 = 7.0;

/// A lot with a safety date as near as this is not said to be coming up: its last two mornings are
/// kept for the date itself.
const SAFETY_KEPT_DAYS: i64 = 3;

/// What one post is about.
#[derive(Default)]
pub(super) struct Picked<'a, 'h> {
    pub out: Vec<&'h Held<'a>>,
    pub safety: Vec<&'h Held<'a>>,
    pub ask: Vec<&'h Held<'a>>,
    pub today: Vec<&'h Held<'a>>,
    pub soon: Vec<&'h Held<'a>>,
}

impl<'a, 'h> Picked<'a, 'h> {
    pub fn pressing(&self) -> usize {
        self.out.len() + self.safety.len() + self.ask.len() + self.today.len()
    }

    /// All of them, the most pressing first; what is asked about never so late that it would be
    /// left out of the list.
    pub fn in_order(&self) -> Vec<&'h Held<'a>> {
        let all = [&self.out, &self.safety, &self.today, &self.soon];
        let mut all: Vec<&Held<'_>> = all.into_iter().flatten().copied().collect();
        let last = all.len().min(MOST_LOTS - 1);
        all.splice(last..last, self.ask.iter().copied());
        all
    }
}

impl Post {
    /// Keeps what the post said, for the next ones. A lot that somebody gave a sign of since
    /// begins anew; one that is gone is forgotten.
    pub fn remember(&self, state: &State, today: KitchenDay, said: &mut Said) {
        said.retain(|id, shown| {
            state.lot(*id).is_some_and(|lot| shown.out || lot.last_seen < shown.first)
        });
        for lot in self.listed.iter().chain(&self.asked) {
            let fresh = Shown { first: today, last: today, mornings: 0, asked: None, out: false };
            let shown = said.entry(*lot).or_insert(fresh);
            if shown.mornings == 0 || shown.last < today {
                shown.mornings += 1;
                shown.last = today;
            }
        }
        for lot in &self.asked {
            if let Some(shown) = said.get_mut(lot) {
                shown.asked.get_or_insert(today);
                shown.out |= self.out.contains(lot);
            }
        }
    }
}

impl<'a> Outlook<'a> {
    /// Whole days without a word from anybody; days away are not quiet.
    pub(super) fn quiet_days(&self) -> i64 {
        let heard = self.state.last_heard.unwrap_or(self.today);
        let back = self.state.away.iter().map(|(_, last)| *last).filter(|last| *last < self.today);
        let since = back.max().map_or(heard, |last| heard.max(last));
        self.today.days_since(since) - 1
    }

    /// Lots to move to uncounted: asked about long enough ago, and nobody answered.
    pub fn forgotten(&self, said: &Said) -> Vec<LotId> {
        let silent = self.held.iter().filter(|held| {
            let asked = self.shown(said, held).and_then(|shown| shown.asked);
            asked.is_some_and(|day| self.days_at_home(day) >= UNCOUNTED_DAYS)
        });
        silent.map(|held| held.lot.id).collect()
    }

    /// Days since `day` on which somebody was there to answer.
    fn days_at_home(&self, day: KitchenDay) -> i64 {
        let days = (1..=self.today.days_since(day)).map(|number| day.plus(number));
        days.filter(|day| !self.is_away(*day)).count() as i64
    }

    /// Lots that were asked about before today without an answer, and not doubted yet.
    pub fn doubtful(&self, said: &Said) -> Vec<LotId> {
        let silent = self.held.iter().filter(|held| {
            let asked = self.shown(said, held).and_then(|shown| shown.asked);
            !held.lot.doubtful && asked.is_some_and(|day| day < self.today)
        });
        silent.map(|held| held.lot.id).collect()
    }

    /// What the posts said of a lot since the last sign of it.
    fn shown<'s>(&self, said: &'s Said, held: &Held<'_>) -> Option<&'s Shown> {
        said.get(&held.lot.id).filter(|shown| held.lot.last_seen < shown.first)
    }

    pub(super) fn pick<'h>(&'h self, said: &Said) -> Picked<'a, 'h> {
        let mut picked = Picked::default();
        for held in &self.held {
            let shown = self.shown(said, held);
            let before = shown.map_or(0, |shown| {
                shown.mornings - u32::from(shown.last == self.today && shown.mornings > 0)
            });
            let asked = shown.and_then(|shown| shown.asked).is_some_and(|day| day < self.today);
            let unseen = self.today.days_since(held.lot.last_seen) >= ASKED_UNSEEN_DAYS;
            let worn = before >= MORNINGS;
            // What stands in water is a chore, and said once.
            let last_day = held.lot.water.as_ref().is_some_and(|w| w.last_day <= self.today);
            let safety_near = held.standing.safety_days.is_some_and(|d| d <= SAFETY_KEPT_DAYS);
            match held.urgency {
                Urgency::Out if !asked && !said.get(&held.lot.id).is_some_and(|s| s.out) => {
                    picked.out.push(held);
                }
                Urgency::Out => {}
                _ if last_day || self.is_spoken_for(held) => {}
                Urgency::PastLate if held.lot.water.is_some() => {}
                Urgency::Soon if held.lot.water.is_some() || safety_near => {}
                Urgency::LastSafeDay => picked.safety.push(held),
                Urgency::PastLate if !asked && unseen && !held.lot.doubtful => {
                    picked.ask.push(held);
                }
                Urgency::Today | Urgency::MayFreeze if !worn => picked.today.push(held),
                Urgency::Soon if before == 0 => picked.soon.push(held),
                Urgency::PastLate
                | Urgency::Today
                | Urgency::Soon
                | Urgency::MayFreeze
                | Urgency::PastBest
                | Urgency::Keeps => {}
            }
        }
        // One question a morning; the others wait for theirs.
        picked.ask.truncate(1);
        picked
    }

    /// What a wrong record costs most: fresh lots not yet talked about for long, the dearest first.
    pub(super) fn dearest(&self, said: &Said) -> Vec<&Held<'a>> {
        let mut lots: Vec<&Held<'a>> = self
            .held
            .iter()
            .filter(|held| {
                held.is_fresh() && !held.lot.doubtful && held.urgency > Urgency::PastLate
            })
            .filter(|held| held.standing.days_left.is_some_and(|days| days <= DEAREST_DAYS))
            .filter(|held| !self.is_spoken_for(held))
            .filter(|held| self.shown(said, held).is_none_or(|shown| shown.mornings < MORNINGS))
            .collect();
        lots.sort_by_key(|held| Reverse((held.lot.cost.map(|cost| cost.0), held.lot.grams)));
        lots
    }

    /// Whether a lot is meant for today or later, in time for its safety date.
    fn is_spoken_for(&self, held: &Held<'_>) -> bool {
        held.lot.spoken_for.is_some_and(|day| {
            let days = day.days_since(self.today);
            days >= 0 && held.standing.safety_days.is_none_or(|safe| days <= safe)
        })
    }
}
