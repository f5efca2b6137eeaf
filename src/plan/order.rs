//! Use first: the order in which lots should be cooked.
//!
//! Safety dates come first; then the moment by which one lot in ten is expected lost; then money
//! at risk. The order is total and deterministic.
//!
//! # Source
//! Our own choice [D], backed by the simulated households of `benches/household`: the time by
//! which one in ten is lost wastes less than purchase order or fixed dates, and less in tenths of
//! a day than in whole days, by weight and by money.

use std::cmp::Ordering;

use crate::dates::KitchenDay;

/// A safety date this many days away or nearer comes before everything else: today or tomorrow.
const SAFETY_FIRST_DAYS: i64 = 1;

/// Two lots whose days differ by less than a tenth go by the money at risk.
const TENTHS: f64 = 10.0;

/// How one lot stands in the order.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Whole days from today to the last safe day: 0 is today.
    pub safety_days: Option<i64>,
    /// Days until one in ten is expected lost or the safety date passes; `None` when unknown.
    pub days_left: Option<f64>,
    /// Money a kilogram at risk if it is not eaten at the next chance, in minor units.
    pub at_risk_per_kg: f64,
    pub grams: i64,
    /// Opened, cut or otherwise no longer whole.
    pub opened: bool,
    pub since: KitchenDay,
    pub name: String,
    /// The lot's number: the last resort.
    pub number: u64,
}

/// What is at risk: money times the chance of losing it.
pub fn at_risk(cost: f64, chance: f64) -> f64 {
    cost * chance
}

impl Standing {
    /// Days to a safety date that is near enough to come first.
    fn pressing(&self) -> Option<i64> {
        self.safety_days.filter(|days| *days <= SAFETY_FIRST_DAYS)
    }

    /// Days left in tenths of a day; the unknown comes last.
    fn days(&self) -> f64 {
        self.days_left.map_or(f64::INFINITY, |days| (days * TENTHS).round())
    }
}

impl Eq for Standing {}

impl PartialOrd for Standing {
    fn partial_cmp(&self, other: &Standing) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Standing {
    fn cmp(&self, other: &Standing) -> Ordering {
        let soonest = |a: Option<i64>, b: Option<i64>| match (a, b) {
            (Some(a), Some(b)) => a.cmp(&b),
            (a, b) => a.is_none().cmp(&b.is_none()),
        };
        soonest(self.pressing(), other.pressing())
            .then(self.days().total_cmp(&other.days()))
            .then(other.at_risk_per_kg.total_cmp(&self.at_risk_per_kg))
            .then(other.grams.cmp(&self.grams))
            .then(other.opened.cmp(&self.opened))
            .then(self.since.cmp(&other.since))
            .then_with(|| self.name.cmp(&other.name))
            .then(self.number.cmp(&other.number))
    }
}
