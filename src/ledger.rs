//! The ledger: where the grams and the money went.
//!
//! [`Totals`] is the mass balance of one food, kept by the fold of the kitchen; the functions here
//! read it: shares of waste in the terms of the Food Loss and Waste Accounting and Reporting
//! Standard (WRI 2016), and prices, budgets and forecasts under [`money`]. Pure; whole grams and
//! minor units; rounded for display only.

use serde::{Deserialize, Serialize};

use crate::kitchen::State;

pub mod money;
pub mod period;
pub mod waste;

/// Grams of one food, as bought, since the log began. `came_in` equals the sum of the other terms
/// (`preserved` is a memo, not a term) and what is on hand, at all times.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Totals {
    /// Bought, grown, received, and the opening stock.
    pub came_in: i64,
    pub eaten: i64,
    pub given: i64,
    /// Memo: frozen or dried.
    pub preserved: i64,
    /// Trimmings in the bag.
    pub scraps: i64,
    pub composted_food: i64,
    pub composted_inedible: i64,
    pub fed_food: i64,
    pub fed_inedible: i64,
    pub trash_food: i64,
    pub trash_inedible: i64,
    pub sewer_food: i64,
    pub sewer_inedible: i64,
    /// Weight lost by cooking down or drying, where weighed.
    pub moisture: i64,
    /// Gone without anybody knowing where; negative when more was found than was on record.
    pub uncounted: i64,
}

impl Totals {
    pub fn composted(&self) -> i64 {
        self.composted_food.saturating_add(self.composted_inedible)
    }

    pub fn animal_feed(&self) -> i64 {
        self.fed_food.saturating_add(self.fed_inedible)
    }

    /// Trash and drain, food and inedible parts; neither compost nor feed.
    pub fn thrown_out(&self) -> i64 {
        [self.trash_food, self.trash_inedible, self.sewer_food, self.sewer_inedible]
            .iter()
            .fold(0, |sum, grams| sum.saturating_add(*grams))
    }

    /// Everything that is no longer on hand.
    pub fn gone(&self) -> i64 {
        let terms = [
            self.eaten,
            self.given,
            self.scraps,
            self.composted(),
            self.animal_feed(),
            self.thrown_out(),
            self.moisture,
            self.uncounted,
        ];
        terms.iter().fold(0, |sum, grams| sum.saturating_add(*grams))
    }

    /// The sum of both, term by term.
    pub fn plus(self, other: Totals) -> Totals {
        self.each(other, i64::saturating_add)
    }

    /// The difference, term by term: what happened since `other`.
    pub fn minus(self, other: Totals) -> Totals {
        self.each(other, i64::saturating_sub)
    }

    fn each(self, other: Totals, add: fn(i64, i64) -> i64) -> Totals {
        Totals {
            came_in: add(self.came_in, other.came_in),
            eaten: add(self.eaten, other.eaten),
            given: add(self.given, other.given),
            preserved: add(self.preserved, other.preserved),
            scraps: add(self.scraps, other.scraps),
            composted_food: add(self.composted_food, other.composted_food),
            composted_inedible: add(self.composted_inedible, other.composted_inedible),
            fed_food: add(self.fed_food, other.fed_food),
            fed_inedible: add(self.fed_inedible, other.fed_inedible),
            trash_food: add(self.trash_food, other.trash_food),
            trash_inedible: add(self.trash_inedible, other.trash_inedible),
            sewer_food: add(self.sewer_food, other.sewer_food),
            sewer_inedible: add(self.sewer_inedible, other.sewer_inedible),
            moisture: add(self.moisture, other.moisture),
            uncounted: add(self.uncounted, other.uncounted),
        }
    }
}

/// The totals of all foods together.
pub fn house_totals(state: &State) -> Totals {
    state.ledger.values().fold(Totals::default(), |sum, totals| sum.plus(*totals))
}

/// Grams on hand of one ledger key, dishes by what is in them.
pub fn on_hand(state: &State, key: &str) -> i64 {
    let grams = state.lots.iter().map(|lot| {
        if lot.contents.is_empty() {
            if lot.key() == key { lot.grams.unwrap_or(0) } else { 0 }
        } else {
            lot.contents.get(key).copied().unwrap_or(0)
        }
    });
    grams.sum()
}

/// Grams on hand of everything.
pub fn on_hand_all(state: &State) -> i64 {
    state.lots.iter().filter_map(|lot| lot.grams).sum()
}

/// The ledger keys whose balance does not hold, with the grams missing. Always empty: what a test
/// and the `check` command look for.
pub fn imbalances(state: &State) -> Vec<(String, i64)> {
    let mut keys: std::collections::BTreeSet<&str> =
        state.ledger.keys().map(String::as_str).collect();
    for lot in &state.lots {
        if lot.contents.is_empty() {
            keys.insert(lot.key());
        } else {
            keys.extend(lot.contents.keys().map(String::as_str));
        }
    }
    let missing = keys.into_iter().map(|key| {
        let totals = state.ledger.get(key).copied().unwrap_or_default();
        (key.to_owned(), totals.came_in - totals.gone() - on_hand(state, key))
    });
    missing.filter(|(_, grams)| *grams != 0).collect()
}

/// Money spent in all shops.
pub fn spent(state: &State) -> i64 {
    state.trips.iter().fold(0, |sum, trip| sum.saturating_add(trip.cost().0))
}
