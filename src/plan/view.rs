//! The household's lots as a plan sees them: each with its estimate, in use-first order.

use std::cmp::Ordering;

use super::order::{Standing, at_risk};
use crate::dates::{Instant, KitchenDay};
use crate::keeping::{Estimate, Keeper, Quality};
use crate::kitchen::{Lot, State};
use crate::rules::{Food, Kind};
use crate::words::{Form, Place};

/// Days to the next chance to cook.
const NEXT_CHANCE_DAYS: f64 = 1.0;

/// A lot with what is known of its time.
#[derive(Clone, Debug)]
pub struct Held<'a> {
    pub lot: &'a Lot,
    pub food: Option<&'a Food>,
    pub estimate: Estimate,
    pub standing: Standing,
    pub urgency: Urgency,
}

/// What a lot asks for, the most pressing first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Urgency {
    /// A safety limit has passed: out.
    Out,
    /// Its last safe day is today or tomorrow.
    LastSafeDay,
    /// Nine in ten are lost by now: have a look, and say what became of it.
    PastLate,
    /// One in ten is lost by tomorrow: today.
    Today,
    /// Within the days of `SOON_DAYS`.
    Soon,
    /// It may freeze where it stands.
    MayFreeze,
    /// Frozen and past its best: no hurry, but first out.
    PastBest,
    /// Nothing presses.
    Keeps,
}

/// "Soon" reaches this many days [D].
pub const SOON_DAYS: f64 = 3.0;

/// "Today" reaches this many days: what waiting a day would push over its tenth [D].
const TODAY_DAYS: f64 = 1.0;

/// Every lot in the house, in use-first order.
pub fn held<'a>(state: &'a State, keeper: &Keeper<'a>, now: Instant) -> Vec<Held<'a>> {
    let mut held: Vec<Held<'a>> = state.lots.iter().map(|lot| hold(lot, keeper, now)).collect();
    held.sort_by(in_order);
    held
}

/// Use-first order. What is frozen and what nobody can judge comes after what spoils.
fn in_order(a: &Held<'_>, b: &Held<'_>) -> Ordering {
    a.standing.cmp(&b.standing)
}

/// The day by which a lot should be eaten, the same as every list says it: what a use draws on
/// first. `None` when nothing presses.
pub fn use_by(lot: &Lot, keeper: &Keeper<'_>, now: Instant) -> Option<KitchenDay> {
    hold(lot, keeper, now).use_by(now.day(keeper.zone()))
}

fn hold<'a>(lot: &'a Lot, keeper: &Keeper<'a>, now: Instant) -> Held<'a> {
    let estimate = keeper.estimate(lot, now);
    let zone = keeper.zone();
    let today = now.day(zone);
    let chance = estimate.clock().map_or(0.0, |clock| clock.chance_within(NEXT_CHANCE_DAYS));
    let standing = Standing {
        safety_days: estimate.safety_day.map(|day| day.days_since(today)),
        days_left: estimate.days_left(now, zone),
        at_risk_per_kg: at_risk(cost_per_kg(lot), chance),
        grams: lot.grams.unwrap_or(0),
        opened: lot.form != Form::Whole,
        since: lot.since,
        name: lot.name.clone(),
        number: lot.id.0,
    };
    let urgency = urgency(&estimate, &standing, now, keeper);
    Held { lot, food: keeper.food(lot), estimate, standing, urgency }
}

fn cost_per_kg(lot: &Lot) -> f64 {
    match (lot.cost, lot.grams) {
        (Some(cost), Some(grams)) if grams > 0 => cost.0 as f64 * 1000.0 / grams as f64,
        _ => 0.0,
    }
}

fn urgency(estimate: &Estimate, standing: &Standing, now: Instant, keeper: &Keeper<'_>) -> Urgency {
    if estimate.is_out(now, keeper.zone()) {
        return Urgency::Out;
    }
    if standing.safety_days.is_some_and(|days| days <= 1) {
        return Urgency::LastSafeDay;
    }
    let clock = match &estimate.quality {
        Quality::Known(clock) => clock,
        Quality::MayFreeze { .. } => return Urgency::MayFreeze,
        Quality::Unknown | Quality::Growing => return Urgency::Keeps,
    };
    if clock.frozen {
        return if clock.early <= now { Urgency::PastBest } else { Urgency::Keeps };
    }
    let tomorrow = now.day(keeper.zone()).plus(1);
    let early = clock.early.day(keeper.zone());
    match standing.days_left {
        _ if clock.late <= now => Urgency::PastLate,
        Some(left) if left < TODAY_DAYS || early < tomorrow => Urgency::Today,
        Some(left) if left <= SOON_DAYS => Urgency::Soon,
        _ => Urgency::Keeps,
    }
}

impl Held<'_> {
    /// The key of its food, as the ledger names it.
    pub fn key(&self) -> &str {
        self.lot.food.as_ref().map_or(self.lot.name.as_str(), |food| food.as_str())
    }

    /// Whole days in which it should be eaten, 1 being today; at least 1 while it may be eaten.
    pub fn last_day_number(&self) -> Option<i64> {
        let quality = self.standing.days_left?;
        Some((quality.floor() as i64).max(1))
    }

    /// The local day by which it should be eaten; today at the earliest.
    pub fn use_by(&self, today: KitchenDay) -> Option<KitchenDay> {
        let days = self.standing.days_left?.floor().max(0.0) as i64;
        Some(today.plus(if self.urgency <= Urgency::Today { 0 } else { days }))
    }

    /// Whether freezing is a way out: it is not frozen or unsafe yet, freezing is advised, and
    /// people do it: nobody freezes eggs in the shell or a jar of mustard.
    pub fn can_freeze(&self) -> bool {
        let form = matches!(self.lot.form, Form::Whole | Form::Cut | Form::Cooked | Form::Opened);
        let advised = self.food.and_then(|food| food.freeze.as_ref()).is_some_and(|f| f.advised);
        let usual = self
            .food
            .is_some_and(|food| !matches!(food.kind, Kind::Egg | Kind::Condiment | Kind::Pantry));
        form && advised && usual && self.urgency > Urgency::Out
    }

    /// Whether it is eaten from day to day: neither frozen nor dried nor still growing.
    pub fn is_fresh(&self) -> bool {
        !matches!(self.lot.form, Form::Frozen | Form::Dried)
            && self.lot.place != Place::InGround
            && self.lot.place != Place::Freezer
    }
}
