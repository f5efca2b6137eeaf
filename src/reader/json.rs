//! The machine-readable form of a reading: one compact object on one line.

use serde::Serialize;
use serde::ser::{SerializeMap, SerializeSeq, Serializer};

use crate::statement::{Item, Reading, Scope, Statement};
use crate::units::{Ratio, Unit};

/// One line of `read`, without the line end.
pub fn line(text: &str, reading: &Reading) -> String {
    render(text, reading, None)
}

/// One line of `read --talk`: with the line the statement goes on from, if any.
pub fn talk_line(text: &str, reading: &Reading, refers_to: Option<usize>) -> String {
    render(text, reading, Some(refers_to))
}

fn render(text: &str, reading: &Reading, refers_to: Option<Option<usize>>) -> String {
    // Writing plain data to memory cannot fail: no map keys but strings, no foreign types.
    serde_json::to_string(&Line { text, reading, refers_to }).unwrap_or_default()
}

struct Line<'a> {
    text: &'a str,
    reading: &'a Reading,
    /// `None` outside `--talk`.
    refers_to: Option<Option<usize>>,
}

impl Serialize for Line<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("text", self.text)?;
        map.serialize_entry("stance", self.reading.stance.word())?;
        map.serialize_entry("statements", &Statements(&self.reading.statements))?;
        map.serialize_entry("not_understood", &self.reading.not_understood)?;
        if let Some(refers_to) = &self.refers_to {
            map.serialize_entry("refers_to", refers_to)?;
        }
        map.end()
    }
}

struct Statements<'a>(&'a [Statement]);

impl Serialize for Statements<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut seq = serializer.serialize_seq(Some(self.0.len()))?;
        for statement in self.0 {
            seq.serialize_element(&One(statement))?;
        }
        seq.end()
    }
}

struct One<'a>(&'a Statement);

impl Serialize for One<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let s = self.0;
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("intent", s.intent.word())?;
        map.serialize_entry("confidence", &hundredths(s.confidence))?;
        map.serialize_entry("day", &s.day)?;
        map.serialize_entry("total_minor", &s.total.map(|m| m.0))?;
        map.serialize_entry("scope", &s.scope.as_ref().map(Scope::word))?;
        map.serialize_entry("complete", &s.complete)?;
        map.serialize_entry("items", &Items(&s.items))?;
        // New fields appear only when there is something to say.
        if let Some(minutes) = s.minutes {
            map.serialize_entry("minutes", &minutes)?;
        }
        if let Some(until) = s.until {
            map.serialize_entry("until", &until)?;
        }
        if let Some(people) = s.people {
            map.serialize_entry("people", &people)?;
        }
        if let Some((key, value)) = &s.setting {
            map.serialize_entry("setting", &[key, value])?;
        }
        if let Some(denied) = s.denied {
            map.serialize_entry("denied", denied.word())?;
        }
        if let Some(topic) = &s.topic {
            map.serialize_entry("topic", topic)?;
        }
        if s.picture {
            map.serialize_entry("picture", &true)?;
        }
        map.end()
    }
}

struct Items<'a>(&'a [Item]);

impl Serialize for Items<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut seq = serializer.serialize_seq(Some(self.0.len()))?;
        for item in self.0 {
            seq.serialize_element(&OneItem(item))?;
        }
        seq.end()
    }
}

struct OneItem<'a>(&'a Item);

impl Serialize for OneItem<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let item = self.0;
        let unit = item.unit.map(Unit::word).or(item.odd_unit.as_deref());
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("food", &item.food)?;
        map.serialize_entry("name", &item.name)?;
        map.serialize_entry("part", &item.part)?;
        map.serialize_entry("form", &item.form)?;
        map.serialize_entry("quantity", &item.quantity.map(Number))?;
        map.serialize_entry("quantity_high", &item.quantity_high.map(Number))?;
        map.serialize_entry("fraction", &item.fraction.map(Number))?;
        map.serialize_entry("unit", &unit)?;
        map.serialize_entry(
            "size",
            &item.size.map(|s| Size { quantity: Number(s.value), unit: s.unit }),
        )?;
        map.serialize_entry("price_minor", &item.price.map(|p| p.minor.0))?;
        map.serialize_entry("price_per", &item.price.and_then(|p| p.per))?;
        map.serialize_entry("price_quantity", &item.price.and_then(|p| p.quantity).map(Number))?;
        map.serialize_entry("place", &item.place)?;
        map.serialize_entry("reason", &item.reason)?;
        map.serialize_entry("role", &item.role)?;
        map.serialize_entry("to", &item.to)?;
        map.serialize_entry(
            "printed",
            &item.printed.map(|(kind, day)| Printed { kind: kind.word(), day: day.to_string() }),
        )?;
        map.end()
    }
}

#[derive(Serialize)]
struct Size {
    quantity: Number,
    unit: Option<Unit>,
}

#[derive(Serialize)]
struct Printed {
    kind: &'static str,
    day: String,
}

/// An exact fraction as a JSON number: whole numbers without a point.
struct Number(Ratio);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0.denom() {
            1 => serializer.serialize_i64(self.0.numer()),
            _ => serializer.serialize_f64(self.0.to_f64()),
        }
    }
}

/// A confidence with two decimals, so that equal readings print alike.
fn hundredths(confidence: f32) -> f64 {
    f64::from((confidence * 100.0).round()) / 100.0
}
