//! Waste in the terms of the Food Loss and Waste Accounting and Reporting Standard.
//!
//! # Source
//! Food Loss and Waste Accounting and Reporting Standard, version 1.0 (FLW Protocol, World
//! Resources Institute, 2016): food and associated inedible parts apart, destinations apart,
//! inference by mass balance. What counts as waste follows the Food Waste Index of the United
//! Nations Environment Programme: compost, sewer and refuse, not animal feed.

use std::collections::BTreeMap;

use super::period::Period;
use super::{Totals, house_totals, on_hand_all};
use crate::kitchen::{Event, Loss, Named, State};
use crate::units::Minor;

/// Under this much food that went through the kitchen no share is shown, in grams.
pub const SHARE_FROM_G: i64 = 10_000;

/// Above this share of what went through, the unexplained makes every share rough. Our own choice.
pub const ROUGH_UNEXPLAINED: f64 = 0.10;

/// What went through a kitchen in a period, in grams.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Balance {
    /// On hand at the start.
    pub opening: i64,
    /// What happened in the period.
    pub flows: Totals,
    /// On hand at the end.
    pub closing: i64,
}

impl Balance {
    /// Everything since the log began.
    pub fn of(state: &State) -> Balance {
        Balance { opening: 0, flows: house_totals(state), closing: on_hand_all(state) }
    }

    /// From one state of a household to a later one.
    pub fn between(start: &State, end: &State) -> Balance {
        Balance {
            opening: on_hand_all(start),
            flows: house_totals(end).minus(house_totals(start)),
            closing: on_hand_all(end),
        }
    }

    /// Over a period of a household whose log is `log` and whose state now is `now`.
    pub fn over(period: &Period, log: &[Event], now: &State) -> Balance {
        let start = match period.from {
            Some(from) => State::before(log, from),
            None => State::default(),
        };
        if period.last {
            return Balance::between(&start, &State::before(log, period.until.plus(1)));
        }
        Balance::between(&start, now)
    }

    /// Grams there were to use: the opening stock and what came in.
    pub fn available(&self) -> i64 {
        self.opening.saturating_add(self.flows.came_in)
    }

    /// Grams that went through: available less what is still on hand.
    pub fn throughput(&self) -> i64 {
        self.available().saturating_sub(self.closing)
    }

    /// Grams nobody reported where they went; negative when more was used than came in.
    pub fn unexplained(&self) -> i64 {
        let told = self.flows.gone().saturating_sub(self.flows.uncounted);
        self.throughput().saturating_sub(told)
    }

    /// What shares are taken of: what went through, less what was given away or dried off.
    pub fn denominator(&self) -> i64 {
        self.throughput().saturating_sub(self.flows.given).saturating_sub(self.flows.moisture)
    }

    /// Food that was wasted: to compost, refuse and sewer.
    pub fn wasted_food(&self) -> i64 {
        let flows = &self.flows;
        flows.composted_food.saturating_add(flows.trash_food).saturating_add(flows.sewer_food)
    }

    /// Inedible parts that went the same ways.
    pub fn wasted_inedible(&self) -> i64 {
        let flows = &self.flows;
        let kitchen = flows.composted_inedible.saturating_add(flows.trash_inedible);
        kitchen.saturating_add(flows.sewer_inedible)
    }

    /// The waste share: wasted food over the denominator. `None` under [`SHARE_FROM_G`].
    pub fn waste_share(&self) -> Option<f64> {
        self.share(self.wasted_food())
    }

    /// The waste share with the inedible parts.
    pub fn waste_share_with_inedible(&self) -> Option<f64> {
        self.share(self.wasted_food().saturating_add(self.wasted_inedible()))
    }

    /// What a family means by "thrown away": refuse and sewer, food and inedible parts.
    pub fn thrown_away_share(&self) -> Option<f64> {
        self.share(self.flows.thrown_out())
    }

    /// The unexplained as a share of what went through.
    pub fn unexplained_share(&self) -> Option<f64> {
        let through = self.throughput();
        (through > 0).then(|| self.unexplained() as f64 / through as f64)
    }

    /// Whether the shares are rough because too much is unexplained, or more went out than in.
    pub fn is_rough(&self) -> bool {
        self.unexplained() < 0 || self.unexplained_share().is_some_and(|s| s > ROUGH_UNEXPLAINED)
    }

    fn share(&self, grams: i64) -> Option<f64> {
        let denominator = self.denominator();
        (denominator >= SHARE_FROM_G).then(|| grams as f64 / denominator as f64)
    }
}

/// Days of a year, leap years included.
const YEAR_DAYS: f64 = 365.25;

/// Kilograms a person and year at the pace of `grams` wasted in `days` by `people`; `None` for no
/// days or no people.
pub fn per_person_year(grams: i64, days: u32, people: u32) -> Option<f64> {
    let person_days = f64::from(days) * f64::from(people);
    (person_days > 0.0).then(|| grams as f64 / 1000.0 / person_days * YEAR_DAYS)
}

/// What was lost of one food in a period.
#[derive(Clone, Debug, PartialEq)]
pub struct Lost {
    pub of: Named,
    pub times: u32,
    pub grams: i64,
    /// What it cost, where prices were told.
    pub cost: Minor,
    /// People's own words for why, the most frequent first.
    pub reasons: Vec<String>,
}

#[derive(Default)]
struct Sum {
    times: u32,
    grams: i64,
    minor: i64,
}

/// What was lost in a period, the most grams first. Animal feed is no loss.
pub fn lost_most(losses: &[Loss], period: &Period) -> Vec<Lost> {
    use crate::words::Destination;
    let mut foods: BTreeMap<&str, (&Named, Sum, BTreeMap<&str, u32>)> = BTreeMap::new();
    for loss in losses.iter().filter(|loss| period.contains(loss.day)) {
        if matches!(loss.to, Destination::AnimalFeed | Destination::People) {
            continue;
        }
        let entry = foods.entry(loss.of.key());
        let (_, lost, reasons) = entry.or_insert((&loss.of, Sum::default(), BTreeMap::new()));
        lost.times += 1;
        lost.grams = lost.grams.saturating_add(loss.grams.unwrap_or(0));
        lost.minor = lost.minor.saturating_add(loss.cost.map_or(0, |cost| cost.0));
        if let Some(reason) = &loss.reason {
            *reasons.entry(reason).or_default() += 1;
        }
    }
    let mut all: Vec<Lost> = foods
        .into_values()
        .map(|(of, lost, reasons)| {
            let mut reasons: Vec<(&str, u32)> = reasons.into_iter().collect();
            reasons.sort_by_key(|(word, times)| (std::cmp::Reverse(*times), *word));
            let reasons = reasons.into_iter().map(|(word, _)| word.to_owned()).collect();
            let Sum { times, grams, minor } = lost;
            Lost { of: of.clone(), times, grams, cost: Minor(minor), reasons }
        })
        .collect();
    all.sort_by(|a, b| (b.grams, b.times, a.of.key()).cmp(&(a.grams, a.times, b.of.key())));
    all
}
