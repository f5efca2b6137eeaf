//! What it is like in a place: temperature and humidity, from the household or by default.

use std::collections::BTreeMap;

use crate::dates::KitchenDay;
use crate::words::Place;

/// The air of a place on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Climate {
    pub celsius: f64,
    pub humidity_percent: f64,
    pub known: Known,
}

/// How a temperature is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// The household said it.
    Told,
    /// The usual figure for such a place.
    Usual,
    /// A place of the household's own of which nothing is known: room temperature, the strict
    /// reading.
    Assumed,
}

/// The temperatures a household has told, by place: from a day on, oldest first.
pub type Told = BTreeMap<String, Vec<(KitchenDay, f64)>>;

/// Usual temperatures in °C.
///
/// # Source
/// Fridge and freezer: FDA and USDA FSIS, at or below 40 °F and 0 °F [S]. Room: the condition
/// tables' 70 °F [S]. Cool dark place: the middle of 7 to 16 °C, what potato and sweet potato
/// rows ask of a pantry [D].
const ROOM_C: f64 = 21.0;
const COOL_DARK_C: f64 = 12.0;
const FRIDGE_C: f64 = 4.0;
const FREEZER_C: f64 = -18.0;

/// Usual relative humidity in per cent; all [D].
const ROOM_HUMIDITY: f64 = 50.0;
const CELLAR_HUMIDITY: f64 = 88.0;
const SHELF_HUMIDITY: f64 = 60.0;
const CRISPER_HUMIDITY: f64 = 95.0;

/// Words in the name of a household's own place that tell what it is like.
const COOL_NAMES: &[&str] = &[
    "cellar",
    "basement",
    "larder",
    "pantry",
    "porch",
    "balcony",
    "garage",
    "shed",
    "cold room",
    "root",
];

impl Climate {
    /// The air of `place` on `day`; `None` for the ground, which has no clock.
    pub fn of(place: &Place, told: &Told, day: KitchenDay) -> Option<Climate> {
        let usual = Climate::usual(place)?;
        let said = told.get(place.word()).and_then(|changes| {
            // The latest change that had begun; before the first one, the usual figure.
            changes.iter().filter(|(from, _)| *from <= day).max_by_key(|(from, _)| *from)
        });
        Some(match said {
            Some((_, celsius)) => Climate { celsius: *celsius, known: Known::Told, ..usual },
            None => usual,
        })
    }

    fn usual(place: &Place) -> Option<Climate> {
        let (celsius, humidity_percent) = match place {
            Place::Counter => (ROOM_C, ROOM_HUMIDITY),
            Place::CoolDark => (COOL_DARK_C, CELLAR_HUMIDITY),
            Place::Fridge => (FRIDGE_C, SHELF_HUMIDITY),
            Place::Crisper => (FRIDGE_C, CRISPER_HUMIDITY),
            Place::Freezer => (FREEZER_C, SHELF_HUMIDITY),
            Place::InGround => return None,
            Place::Own(name) => return Some(Climate::of_own(name)),
        };
        Some(Climate { celsius, humidity_percent, known: Known::Usual })
    }

    fn of_own(name: &str) -> Climate {
        let (celsius, humidity_percent, known) = if name.contains("freezer") {
            (FREEZER_C, SHELF_HUMIDITY, Known::Usual)
        } else if name.contains("fridge") || name.contains("refrigerator") {
            (FRIDGE_C, SHELF_HUMIDITY, Known::Usual)
        } else if COOL_NAMES.iter().any(|cool| name.contains(cool)) {
            (COOL_DARK_C, CELLAR_HUMIDITY, Known::Usual)
        } else {
            (ROOM_C, ROOM_HUMIDITY, Known::Assumed)
        };
        Climate { celsius, humidity_percent, known }
    }

    /// The days in `(from, to]` on which the household's figure for `place` changed.
    pub fn changes<'a>(
        place: &Place,
        told: &'a Told,
        from: KitchenDay,
        to: KitchenDay,
    ) -> impl Iterator<Item = KitchenDay> + use<'a> {
        let changes = told.get(place.word()).map(Vec::as_slice).unwrap_or_default();
        changes.iter().map(|(day, _)| *day).filter(move |day| *day > from && *day <= to)
    }
}
