//! Chores: what is due, how late it is, and when the household's jobs run.
//!
//! A chore is not stored: it follows from a lot standing in water, the household's post hour and
//! the calendar, so nothing can get out of step. Schedules are five-field cron text with weekdays
//! by name and an IANA zone. Pure; called by `plan`'s posts and, for the schedules, by `rounds`.
//!
//! # Entry points
//! - `pending` lists every chore with its due instant; `due` only what to name by now.
//! - `schedules` gives each job's cron text, `next_run` its next run, `still_useful` whether a
//!   missed one is worth sending late.

mod lateness;
mod schedule;

pub use lateness::{Lateness, water_due};
pub use schedule::{CronError, next_run, schedules, still_useful};

use chrono::NaiveTime;

use crate::dates::{Instant, KitchenDay, Zone, clock_time};
use crate::kitchen::{Lot, LotId, Settings, State};
use crate::words::FoodId;

/// The post hour of a household whose setting cannot be read.
const USUAL_POST: NaiveTime = NaiveTime::from_hms_opt(7, 0, 0).expect("seven o'clock is a time");

/// The evening hour of a household whose setting cannot be read.
const USUAL_EVENING: NaiveTime =
    NaiveTime::from_hms_opt(19, 0, 0).expect("seven in the evening is a time");

/// The kinds of chore.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChoreKind {
    /// Past or at its last day in water: use it today or throw it out.
    Turnover,
    WaterChange,
}

impl ChoreKind {
    /// The printed word.
    pub fn word(self) -> &'static str {
        match self {
            ChoreKind::Turnover => "turnover",
            ChoreKind::WaterChange => "water_change",
        }
    }
}

/// One thing to do, and by when.
#[derive(Clone, Debug, PartialEq)]
pub struct Chore {
    pub kind: ChoreKind,
    pub lot: LotId,
    pub food: Option<FoodId>,
    /// What the lot is called, for a food outside the rule set.
    pub name: String,
    pub due: Instant,
    pub lateness: Lateness,
    /// The last day the lot may stand in water.
    pub last_day: KitchenDay,
}

impl Chore {
    /// Whole hours since it was due; negative while it is not.
    pub fn late_hours(&self, now: Instant) -> i64 {
        now.minutes_since(self.due).div_euclid(60)
    }
}

/// The local time of the morning post.
pub fn post_time(settings: &Settings) -> NaiveTime {
    clock_time(&settings.post).unwrap_or(USUAL_POST)
}

/// The local time of the evening round.
pub fn evening_time(settings: &Settings) -> NaiveTime {
    clock_time(&settings.evening).unwrap_or(USUAL_EVENING)
}

/// Every chore of the household, due or to come, the most pressing first.
pub fn pending(state: &State, now: Instant) -> Vec<Chore> {
    let zone = state.settings.zone;
    let post = post_time(&state.settings);
    let lots = state.lots.iter();
    let mut chores: Vec<Chore> = lots.flat_map(|lot| of_lot(lot, post, zone, now)).collect();
    chores.sort_by(|a, b| {
        (b.lateness.cmp(&a.lateness)).then(a.due.cmp(&b.due)).then(a.lot.cmp(&b.lot))
    });
    chores
}

/// A last day that passed unanswered is still said on this many days after it.
const DAYS_PAST_LAST: i64 = 1;

/// A water change this many hours late has been named on three mornings and is given up: what is
/// left to say is the last day.
const GIVEN_UP_HOURS: i64 = 60;

/// The chores to name at `now`, the most pressing first: due, and not given up by everybody.
pub fn due(state: &State, now: Instant) -> Vec<Chore> {
    let mut chores = pending(state, now);
    let today = now.day(state.settings.zone);
    chores.retain(|c| c.due <= now && today.days_since(c.last_day) <= DAYS_PAST_LAST);
    chores.retain(|c| c.kind != ChoreKind::WaterChange || c.late_hours(now) < GIVEN_UP_HOURS);
    chores
}

/// A lot in water has its next change, until its last day has come, and that last day.
fn of_lot(lot: &Lot, post: NaiveTime, zone: Zone, now: Instant) -> Vec<Chore> {
    let Some(water) = &lot.water else { return Vec::new() };
    let chore = |kind: ChoreKind, due: Instant| Chore {
        kind,
        lot: lot.id,
        food: lot.food.clone(),
        name: lot.name.clone(),
        due,
        lateness: Lateness::at(now, due, water.last_day, zone),
        last_day: water.last_day,
    };
    let mut chores = Vec::with_capacity(2);
    let next = water_due(water.changed, water.every_days, post, zone);
    // On its last day it is finished, not freshened.
    if next.day(zone) < water.last_day && now.day(zone) < water.last_day {
        chores.push(chore(ChoreKind::WaterChange, next));
    }
    chores.push(chore(ChoreKind::Turnover, water.last_day.at(post, zone)));
    chores
}
