//! The state of a household as one machine-readable object.

use serde::Serialize;
use serde_json::Number;

use super::bag;
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
    /// 0 to 1, roughly: scraps are rarely weighed.
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

/// How full the trimmings bag is, to a hundredth.
fn filled(state: &State) -> f64 {
    let hundredths = bag::filled(state).checked_mul(Ratio::whole(100));
    hundredths.map_or(0.0, |filled| filled.rounded() as f64 / 100.0)
}

/// A whole number where it is one.
fn number(value: Ratio) -> Option<Number> {
    match value.denom() {
        1 => Some(Number::from(value.numer())),
        _ => Number::from_f64(value.to_f64()),
    }
}

/// The report of `state`; `quality` tells a lot's early and late day, `chores` come as they are.
pub fn report(
    state: &State,
    quality: &dyn Fn(&Lot) -> Option<QualityRow>,
    chores: Vec<ChoreRow>,
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
        trimmings: Trimmings { items: scraps.collect(), filled: Some(filled(state)) },
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
