//! The state of a household as one machine-readable object.

use serde::Serialize;
use serde_json::Number;

use super::state::{Lot, State};
use crate::dates::KitchenDay;
use crate::ledger::{self, waste::Balance};
use crate::units::{Ratio, Unit};
use crate::words::{FoodId, Form, Place};

/// The object `replay --state` prints. Fields in the order of the format; unknown is null.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    pub lots: Vec<LotRow>,
    pub chores: Vec<ChoreRow>,
    pub trimmings: Trimmings,
    /// Food ids, or names outside the rule set.
    pub wanted: Vec<String>,
    pub ledger: LedgerRow,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LotRow {
    pub food: Option<FoodId>,
    pub name: String,
    pub form: Form,
    pub place: Place,
    pub quantity: Option<Number>,
    /// `None` for plain pieces.
    pub unit: Option<Unit>,
    pub since: KitchenDay,
    pub put_away: bool,
    pub quality: Option<QualityRow>,
    pub safety: Option<KitchenDay>,
    pub safety_at: Option<String>,
    pub doubtful: bool,
}

/// The days by which one lot in ten and nine in ten are lost; frozen: past best.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct QualityRow {
    pub early: KitchenDay,
    pub late: KitchenDay,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChoreRow {
    pub kind: String,
    pub food: String,
    /// Local wall-clock time.
    pub due: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Trimmings {
    pub items: Vec<String>,
    /// 0 to 1; `None` while nobody knows how large the bag is.
    pub filled: Option<f64>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LedgerRow {
    pub came_in_g: i64,
    pub eaten_g: i64,
    pub given_g: i64,
    pub preserved_g: i64,
    pub scraps_g: i64,
    pub composted_g: i64,
    pub animal_feed_g: i64,
    pub thrown_out_g: i64,
    pub moisture_g: i64,
    pub on_hand_g: i64,
    pub uncounted_g: i64,
    pub waste_share: Option<f64>,
    pub spent_minor: i64,
}

/// A whole number where it is one.
fn number(value: Ratio) -> Option<Number> {
    match value.denom() {
        1 => Some(Number::from(value.numer())),
        _ => Number::from_f64(value.to_f64()),
    }
}

/// How full the trimmings bag is, 0 to 1, where a full one holds `full_grams`; `None` while it
/// holds trimmings nobody weighed and the weighed ones do not fill it.
pub fn bag_filled(state: &State, full_grams: u32) -> Option<f64> {
    let weighed: i64 = state.trimmings.iter().filter_map(|scrap| scrap.grams).sum();
    let filled = (weighed as f64 / f64::from(full_grams.max(1))).min(1.0);
    let all_weighed = state.trimmings.iter().all(|scrap| scrap.grams.is_some());
    (all_weighed || filled >= 1.0).then_some((filled * 100.0).round() / 100.0)
}

/// The report of `state`; `quality` tells a lot's early and late day, `chores` come as they are,
/// and a full trimmings bag holds `bag_grams`.
pub fn report(
    state: &State,
    quality: &dyn Fn(&Lot) -> Option<QualityRow>,
    chores: Vec<ChoreRow>,
    bag_grams: u32,
) -> Report {
    let zone = state.settings.zone;
    let lots = state.lots.iter().map(|lot| LotRow {
        food: lot.food.clone(),
        name: lot.name.clone(),
        form: lot.form,
        place: lot.place.clone(),
        quantity: lot.quantity.and_then(|quantity| number(quantity.value)),
        unit: lot.quantity.and_then(|quantity| quantity.unit).filter(|unit| *unit != Unit::Piece),
        since: lot.since,
        put_away: lot.put_away,
        quality: quality(lot),
        safety: lot.safety_day(zone).filter(|_| lot.form != Form::Frozen),
        safety_at: lot.safety_moment().map(|at| at.wall(zone)),
        doubtful: lot.doubtful,
    });
    let scraps = state.trimmings.iter().map(|scrap| match &scrap.of.part {
        Some(part) => format!("{} {part}", scrap.of.name),
        None => scrap.of.name.clone(),
    });
    let totals = ledger::house_totals(state);
    Report {
        lots: lots.collect(),
        chores,
        trimmings: Trimmings { items: scraps.collect(), filled: bag_filled(state, bag_grams) },
        wanted: state.wanted.iter().map(|line| line.of.key().to_owned()).collect(),
        ledger: LedgerRow {
            came_in_g: totals.came_in,
            eaten_g: totals.eaten,
            given_g: totals.given,
            preserved_g: totals.preserved,
            scraps_g: totals.scraps,
            composted_g: totals.composted(),
            animal_feed_g: totals.animal_feed(),
            thrown_out_g: totals.thrown_out(),
            moisture_g: totals.moisture,
            on_hand_g: ledger::on_hand_all(state),
            uncounted_g: totals.uncounted,
            waste_share: Balance::of(state).waste_share(),
            spent_minor: ledger::spent(state),
        },
    }
}
