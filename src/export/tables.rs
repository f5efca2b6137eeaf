//! Rows for spreadsheets and scripts: events, lots, ledger, shops and losses, as CSV or as JSON.
//!
//! A text cell that a spreadsheet would take for a formula is marked as text. One household's rows
//! follow the other's; the first column says whose they are.
//!
//! # Source
//! CSV: RFC 4180. Formulas in cells: OWASP, CSV Injection.

use serde_json::{Map, Value, json};

use crate::kitchen::State;
use crate::kitchen::report::QualityRow;
use crate::kitchen::{Event, Lot};
use crate::ledger::{self, Totals};
use crate::store::HouseholdId;
use crate::units::Ratio;
use crate::words::Form;

/// One kind of rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Events,
    Lots,
    Ledger,
    Shops,
    Losses,
}

/// Rows of one kind, each with as many values as there are columns.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    pub columns: &'static [&'static str],
    pub rows: Vec<Vec<Value>>,
}

/// What the rows of one household are made of.
pub struct Source<'a> {
    pub household: &'a HouseholdId,
    pub state: &'a State,
    pub log: &'a [Event],
    /// A lot's early and late day.
    pub quality: &'a dyn Fn(&Lot) -> Option<QualityRow>,
}

impl Kind {
    pub fn columns(self) -> &'static [&'static str] {
        match self {
            Kind::Events => &[
                "household",
                "event",
                "at",
                "day",
                "person",
                "message",
                "replaces",
                "kind",
                "details",
            ],
            Kind::Lots => &[
                "household",
                "lot",
                "food",
                "name",
                "part",
                "form",
                "place",
                "quantity",
                "unit",
                "grams",
                "cost_minor",
                "currency",
                "since",
                "put_away",
                "early",
                "late",
                "safety",
                "safety_at",
                "last_seen",
                "doubtful",
            ],
            Kind::Ledger => &[
                "household",
                "food",
                "came_in_g",
                "eaten_g",
                "given_g",
                "preserved_g",
                "scraps_g",
                "composted_food_g",
                "composted_inedible_g",
                "animal_feed_food_g",
                "animal_feed_inedible_g",
                "trash_food_g",
                "trash_inedible_g",
                "sewer_food_g",
                "sewer_inedible_g",
                "moisture_g",
                "on_hand_g",
                "uncounted_g",
            ],
            Kind::Shops => &["household", "day", "itemised_minor", "total_minor", "currency"],
            Kind::Losses => {
                &["household", "day", "food", "grams", "cost_minor", "currency", "to", "reason"]
            }
        }
    }

    /// The rows of one household.
    pub fn rows(self, source: &Source<'_>) -> Vec<Vec<Value>> {
        match self {
            Kind::Events => source.log.iter().map(|event| event_row(source, event)).collect(),
            Kind::Lots => source.state.lots.iter().map(|lot| lot_row(source, lot)).collect(),
            Kind::Ledger => ledger_rows(source),
            Kind::Shops => shop_rows(source),
            Kind::Losses => loss_rows(source),
        }
    }
}

fn event_row(source: &Source<'_>, event: &Event) -> Vec<Value> {
    // An event is plain data; what cannot be written is shown as nothing known.
    let mut details = serde_json::to_value(&event.what).unwrap_or_default();
    let kind = details.as_object_mut().and_then(|fields| fields.remove("kind"));
    vec![
        json!(source.household.as_str()),
        json!(event.id),
        json!(event.at.rfc3339()),
        json!(event.day),
        json!(event.person),
        json!(event.message),
        json!(event.replaces),
        kind.unwrap_or_default(),
        details,
    ]
}

fn lot_row(source: &Source<'_>, lot: &Lot) -> Vec<Value> {
    let settings = &source.state.settings;
    let quality = (source.quality)(lot);
    let safety = lot.safety_day(settings.zone).filter(|_| lot.form != Form::Frozen);
    vec![
        json!(source.household.as_str()),
        json!(lot.id),
        json!(lot.food),
        json!(lot.name),
        json!(lot.part),
        json!(lot.form),
        json!(lot.place),
        lot.quantity.map_or(Value::Null, |quantity| number(quantity.value)),
        json!(lot.quantity.and_then(|quantity| quantity.unit)),
        json!(lot.grams),
        json!(lot.cost.map(|cost| cost.0)),
        json!(settings.currency.code()),
        json!(lot.since),
        json!(lot.put_away),
        json!(quality.map(|quality| quality.early)),
        json!(quality.map(|quality| quality.late)),
        json!(safety),
        json!(lot.safety_moment().map(|at| at.wall(settings.zone))),
        json!(lot.last_seen),
        json!(lot.doubtful),
    ]
}

/// A whole number where it is one.
fn number(value: Ratio) -> Value {
    match value.denom() {
        1 => json!(value.numer()),
        _ => json!(value.to_f64()),
    }
}

fn ledger_rows(source: &Source<'_>) -> Vec<Vec<Value>> {
    let row = |(key, totals): (&String, &Totals)| {
        let mut row = vec![json!(source.household.as_str()), json!(key)];
        let grams = [
            totals.came_in,
            totals.eaten,
            totals.given,
            totals.preserved,
            totals.scraps,
            totals.composted_food,
            totals.composted_inedible,
            totals.fed_food,
            totals.fed_inedible,
            totals.trash_food,
            totals.trash_inedible,
            totals.sewer_food,
            totals.sewer_inedible,
            totals.moisture,
            ledger::on_hand(source.state, key),
            totals.uncounted,
        ];
        row.extend(grams.iter().map(|grams| json!(grams)));
        row
    };
    source.state.ledger.iter().map(row).collect()
}

fn shop_rows(source: &Source<'_>) -> Vec<Vec<Value>> {
    let currency = source.state.settings.currency.code();
    let shops = source.state.trips.iter().map(|trip| {
        vec![
            json!(source.household.as_str()),
            json!(trip.day),
            json!(trip.itemised.0),
            json!(trip.total.map(|total| total.0)),
            json!(currency),
        ]
    });
    shops.collect()
}

fn loss_rows(source: &Source<'_>) -> Vec<Vec<Value>> {
    let currency = source.state.settings.currency.code();
    let losses = source.state.losses.iter().map(|loss| {
        vec![
            json!(source.household.as_str()),
            json!(loss.day),
            json!(loss.of.key()),
            json!(loss.grams),
            json!(loss.cost.map(|cost| cost.0)),
            json!(currency),
            json!(loss.to),
            json!(loss.reason),
        ]
    });
    losses.collect()
}

impl Table {
    /// An array of objects, one to a line.
    pub fn json(&self) -> String {
        let objects = self.rows.iter().map(|row| {
            let names = self.columns.iter().map(|name| (*name).to_owned());
            Value::Object(Map::from_iter(names.zip(row.iter().cloned()))).to_string()
        });
        let objects: Vec<String> = objects.collect();
        match objects.as_slice() {
            [] => "[]\n".to_owned(),
            objects => format!("[\n{}\n]\n", objects.join(",\n")),
        }
    }

    /// A header and a line a row, ended as RFC 4180 has it.
    ///
    /// # Errors
    /// Only when the text cannot be put together in memory.
    pub fn csv(&self) -> anyhow::Result<String> {
        let mut writer =
            csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        writer.write_record(self.columns)?;
        for row in &self.rows {
            writer.write_record(row.iter().map(cell))?;
        }
        Ok(String::from_utf8(writer.into_inner()?)?)
    }
}

/// A value as the text of a cell; nothing for what is not known.
fn cell(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => without_formula(text),
        Value::Bool(_) | Value::Number(_) => value.to_string(),
        Value::Array(_) | Value::Object(_) => value.to_string(),
    }
}

/// Text that a spreadsheet takes for text: what begins like a formula gets an apostrophe in front.
/// Numbers are never text here, so a negative one stays a number.
fn without_formula(text: &str) -> String {
    let formula = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];
    if text.trim_start_matches(' ').starts_with(formula) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_like_a_formula_is_marked_as_text_and_numbers_stay_numbers() {
        let cases = [
            (json!("=1+1"), "'=1+1"),
            (json!("@SUM(A1)"), "'@SUM(A1)"),
            (json!("  +49 30"), "'  +49 30"),
            (json!("-carrots"), "'-carrots"),
            (json!("\t=1"), "'\t=1"),
            (json!(-250), "-250"),
            (json!(0.5), "0.5"),
            (json!(null), ""),
            (json!(true), "true"),
            (json!("crème brûlée"), "crème brûlée"),
            (json!({"a": "=1"}), "{\"a\":\"=1\"}"),
        ];
        for (value, expected) in cases {
            assert_eq!(cell(&value), expected, "{value}");
        }
    }
}
