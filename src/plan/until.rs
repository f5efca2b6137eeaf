//! The plan until the next shop: what is eaten when, what to freeze and by when, what runs out.

use std::collections::BTreeMap;

use super::cover::{Amount, Cover, Pace, cover};
use super::outlook::Outlook;
use super::pace::diet_of;
use super::view::{Held, Urgency};
use crate::conversation::Rich;
use crate::dates::KitchenDay;
use crate::kitchen::LotId;

/// Days a household shops for when it has named no day and has no habit yet: the middle of two to
/// four weeks [D].
pub const USUAL_GAP_DAYS: i64 = 14;

/// A plan reaches this far at most.
pub const LONGEST_DAYS: i64 = 60;

/// Grams that can be frozen or dried on a day of the weekend and on another day [D].
const WEEKEND_GRAMS: i64 = 3000;
const WEEKDAY_GRAMS: i64 = 1000;

/// The freeze-by line stands in the post when the day is this near.
const FREEZE_SOON_DAYS: i64 = 2;

/// Less than this is not worth a line, in grams [D].
pub(super) const WORTH_SAYING_GRAMS: i64 = 250;

/// Some of a lot that will not be eaten in time, and the day by which to preserve it.
#[derive(Clone, Debug)]
pub struct Rescue<'a, 'h> {
    pub held: &'h Held<'a>,
    pub grams: i64,
    pub by: KitchenDay,
}

/// A plan from today to `until`.
pub struct Until<'a, 'h> {
    pub until: KitchenDay,
    /// The lots that take part, in use-first order; `cover` numbers them.
    pub lots: Vec<&'h Held<'a>>,
    pub cover: Cover,
    /// What to freeze or dry, the soonest first.
    pub rescues: Vec<Rescue<'a, 'h>>,
}

impl Until<'_, '_> {
    /// Grams by food that cannot be eaten in time: frozen, if they are, or lost.
    pub fn over(&self) -> BTreeMap<&str, i64> {
        let mut over: BTreeMap<&str, i64> = BTreeMap::new();
        for (_, index, grams) in &self.cover.preserved {
            *over.entry(self.lots[*index].key()).or_default() += grams;
        }
        for (held, grams) in self.lots.iter().zip(&self.cover.wasted) {
            *over.entry(held.key()).or_default() += grams;
        }
        over
    }
}

impl<'a> Outlook<'a> {
    /// The last day before the next shop: the day that was set, else the household's usual gap
    /// after the last one.
    pub fn next_shop(&self) -> KitchenDay {
        if let Some(day) = self.state.next_trip.filter(|day| *day > self.today) {
            return day;
        }
        let days: Vec<KitchenDay> = self.state.trips.iter().map(|trip| trip.day).collect();
        let gaps: Vec<i64> = days
            .windows(2)
            .map(|pair| pair[1].days_since(pair[0]))
            .filter(|gap| *gap > 0)
            .collect();
        let gap = match gaps.as_slice() {
            [] => USUAL_GAP_DAYS,
            gaps => median(gaps).clamp(1, LONGEST_DAYS),
        };
        let due = days.last().map_or(self.today, |last| *last).plus(gap);
        if due > self.today { due } else { self.today.plus(gap) }
    }

    /// What is eaten when, up to and without the day `until`.
    pub fn plan_until(&self, until: KitchenDay) -> Until<'a, '_> {
        let days = until.days_since(self.today).clamp(1, LONGEST_DAYS);
        let appetite = self.appetite();
        let lots: Vec<&Held<'a>> = self
            .held
            .iter()
            .filter(|held| held.is_fresh() && held.urgency > Urgency::Out)
            .filter(|held| held.lot.grams.is_some_and(|grams| grams > 0))
            .filter(|held| held.last_day_number().is_some())
            .filter(|held| diet_of(held.food).is_shared())
            .collect();
        let mut keys: Vec<&str> = lots.iter().map(|held| held.key()).collect();
        keys.sort_unstable();
        keys.dedup();
        let number = |held: &Held<'_>| keys.partition_point(|key| *key < held.key());
        let amounts: Vec<Amount> = lots
            .iter()
            .map(|held| Amount {
                food: number(held),
                grams: held.lot.grams.unwrap_or(0),
                last_day: held.last_day_number().unwrap_or(1),
                keeps: held.can_freeze(),
            })
            .collect();
        let mut caps = vec![0; keys.len()];
        for held in &lots {
            caps[number(held)] = appetite.cap(held.key(), diet_of(held.food));
        }
        let grams = (0..days).map(|day| appetite.on(self.state, self.today.plus(day))).collect();
        let preserving = (0..days).map(|day| (day + 1, preserving_grams(self.today.plus(day))));
        let pace = Pace { days, grams, caps, preserving: preserving.collect() };
        let cover = cover(&amounts, &pace);
        let rescues = self.rescues(&lots, &cover);
        Until { until, lots, cover, rescues }
    }

    fn rescues<'h>(&self, lots: &[&'h Held<'a>], cover: &Cover) -> Vec<Rescue<'a, 'h>> {
        let mut by_lot = vec![0; lots.len()];
        for (_, index, grams) in &cover.preserved {
            by_lot[*index] += grams;
        }
        let found = lots.iter().zip(by_lot).filter(|(_, grams)| *grams >= WORTH_SAYING_GRAMS);
        let mut rescues: Vec<Rescue<'a, 'h>> =
            found.map(|(held, grams)| Rescue { held, grams, by: self.preserve_by(held) }).collect();
        rescues.sort_by_key(|rescue| rescue.by);
        rescues
    }

    /// The last day of a weekend to come before the lot's last day, else the day before that.
    fn preserve_by(&self, held: &Held<'_>) -> KitchenDay {
        let ahead = (held.last_day_number().unwrap_or(1) - 2).max(0);
        let weekend =
            (1..=ahead).rev().map(|day| self.today.plus(day)).find(|day| is_weekend(*day));
        weekend.unwrap_or_else(|| self.today.plus(ahead))
    }

    /// What to freeze, one line for each day.
    pub(super) fn freeze_lines(&self, rescues: &[&Rescue<'_, '_>]) -> Vec<Rich> {
        let mut lines = Vec::new();
        for of_day in rescues.chunk_by(|a, b| a.by == b.by) {
            let names: Vec<String> = of_day.iter().map(|rescue| self.say_rescue(rescue)).collect();
            lines.push(
                self.wording.freeze_by(&self.say_day(of_day[0].by), &self.wording.list(&names)),
            );
        }
        lines
    }

    /// "Freeze by Sunday: 1.2 kg chard", when such a day is near.
    /// What `said` names already is left out: its own line says it.
    pub(super) fn freeze_line(&self, said: &[&Held<'_>]) -> Option<(Rich, Vec<(LotId, i64)>)> {
        let plan = self.plan_until(self.next_shop());
        let near: Vec<&Rescue<'_, '_>> = plan
            .rescues
            .iter()
            .filter(|rescue| rescue.by.days_since(self.today) <= FREEZE_SOON_DAYS)
            // A lot whose day has come says so itself, as often as it may.
            .filter(|rescue| rescue.held.urgency > Urgency::Today)
            .filter(|rescue| !said.iter().any(|held| held.lot.id == rescue.held.lot.id))
            .collect();
        let soonest = near.chunk_by(|a, b| a.by == b.by).next()?;
        let line = self.freeze_lines(soonest).into_iter().next()?;
        Some((line, soonest.iter().map(|rescue| (rescue.held.lot.id, rescue.grams)).collect()))
    }

    /// An amount to rescue: all of a lot, or about so much of it.
    pub(super) fn say_rescue(&self, rescue: &Rescue<'_, '_>) -> String {
        let lot = rescue.held.lot;
        let all = lot.grams.is_some_and(|grams| rescue.grams * 10 >= grams * 9);
        if all {
            return self.say(rescue.held);
        }
        let name = self.wording.lot_name(lot, self.foods);
        self.wording.some_of(&self.wording.weight(rescue.grams, self.state.settings.units), &name)
    }
}

fn preserving_grams(day: KitchenDay) -> i64 {
    if is_weekend(day) { WEEKEND_GRAMS } else { WEEKDAY_GRAMS }
}

fn is_weekend(day: KitchenDay) -> bool {
    day.weekday().number_from_monday() >= 6
}

/// The middle value, the lower one of two.
fn median(values: &[i64]) -> i64 {
    let mut sorted = values.to_vec();
    sorted.sort_unstable();
    sorted[(sorted.len() - 1) / 2]
}
