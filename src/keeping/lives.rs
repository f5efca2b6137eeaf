//! Which published row an estimate starts from, and what it becomes at the place's temperature.

use super::climate::Climate;
use super::spread::{Spread, typical_days};
use super::temperature::{Curve, rate};
use crate::dates::KitchenDay;
use crate::rules::{Cite, DayRange, Food, Kind, Life, WaterManner};
use crate::words::{Form, Place};

/// The quality life of a food in one form and place, with how it was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Basis {
    /// The range at the place's temperature, in days.
    pub days: (f64, f64),
    pub spread: Spread,
    /// The row or rule it started from.
    pub row: Row,
    pub scaled: Scaled,
    /// Whether the row speaks of this very place; such a row holds whatever the cold does there.
    pub own_place: bool,
}

/// Where a life comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub form: Form,
    /// `None` when no place was published.
    pub place: Option<Place>,
    pub days: DayRange,
    /// The temperature the row is read at, in °C.
    pub celsius: f64,
    pub cite: Option<Cite>,
}

/// How a published life was brought to the place's temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scaled {
    /// Used as published.
    AsPublished,
    /// Between the food's own rows.
    OwnRows { to_c: f64 },
    /// By the general temperature rule.
    General { to_c: f64 },
}

/// Lives for forms a food has no row for, in days in the fridge unless the form says otherwise.
///
/// # Source
/// Cut: Oklahoma State University Extension, "Storing fresh produce for best flavor", 1 to 3
/// days [S]. Cooked: USDA NAL and University of Illinois Extension, 3 to 4 days [S]. Frozen
/// vegetables and fruit: National Center for Home Food Preservation, freezer shelf life, 8 to 12
/// months; ground meat: FoodSafety.gov, 3 to 4 months, the strictest of the meats; leftovers: the
/// same, 2 to 6 months [S]. Thawed: FSIS allows ground meat 1 to 2 days, the strictest [S].
/// Dried: [D].
const CUT: DayRange = DayRange { min: 1, max: 3 };
const COOKED: DayRange = DayRange { min: 3, max: 4 };
const FROZEN_PRODUCE: DayRange = DayRange { min: 240, max: 365 };
const FROZEN_MEAT: DayRange = DayRange { min: 90, max: 120 };
const FROZEN_OTHER: DayRange = DayRange { min: 60, max: 180 };
const THAWED: DayRange = DayRange { min: 1, max: 2 };
const DRIED: DayRange = DayRange { min: 180, max: 365 };

/// Days in a month of "best within months".
const MONTH_DAYS: u32 = 30;

/// The fridge the fallback rows speak of, in °C.
const FRIDGE_C: f64 = 4.0;

/// How far a temperature may lie from the row's before it is scaled, in °C [D].
const NEAR_C: f64 = 0.5;

/// The life of `food` in `form` at `place`, whose air is `climate`; `None` when no row and no rule
/// speaks of it: unknown stays unknown.
pub fn base(food: &Food, form: Form, place: &Place, climate: Climate) -> Option<Basis> {
    if form == Form::Frozen {
        return Some(fixed(frozen_row(food, place)));
    }
    let rows = rows(food, form);
    if rows.is_empty() {
        return by_rule(food, form, place, climate);
    }
    Some(from_rows(food, &rows, place, climate))
}

/// The food's default rows for a form.
fn rows(food: &Food, form: Form) -> Vec<&Life> {
    let defaults = food.lives.iter().filter(|life| !life.alternative);
    defaults.filter(|life| life.form == form).collect()
}

/// What holds for a form the food has no row for.
fn by_rule(food: &Food, form: Form, place: &Place, climate: Climate) -> Option<Basis> {
    let in_fridge = |form: Form, days: DayRange| {
        let row = Row { form, place: None, days, celsius: FRIDGE_C, cite: None };
        Some(scaled_generally(food, row, climate))
    };
    match form {
        Form::Cut => in_fridge(Form::Cut, CUT),
        Form::Cooked => in_fridge(Form::Cooked, COOKED),
        Form::Thawed => in_fridge(Form::Thawed, THAWED),
        Form::Dried => Some(fixed(Row {
            form,
            place: None,
            days: DRIED,
            celsius: climate.celsius,
            cite: None,
        })),
        Form::InWater => match &food.water {
            Some(water) if water.manner == WaterManner::Submerged => {
                let days = DayRange {
                    min: water.longest_days.saturating_sub(2).max(1),
                    max: water.longest_days.max(2),
                };
                let row =
                    Row { form, place: None, days, celsius: FRIDGE_C, cite: Some(water.cite) };
                Some(scaled_generally(food, row, climate))
            }
            Some(_) => base(food, Form::Whole, place, climate),
            None => base(food, Form::Cut, place, climate),
        },
        // What is bought whole and has only, say, a cooked row (a stew) is meant in that form.
        Form::Whole if food.usual_form != Form::Whole => {
            base(food, food.usual_form, place, climate)
        }
        Form::Opened if opens_like_whole(food.kind) => base(food, Form::Whole, place, climate),
        Form::Opened | Form::Whole | Form::Frozen => None,
    }
}

/// Kinds an opened bag does not change; an opened can or carton without a row stays unknown.
fn opens_like_whole(kind: Kind) -> bool {
    match kind {
        Kind::LeafyGreen
        | Kind::Vegetable
        | Kind::Root
        | Kind::Allium
        | Kind::Herb
        | Kind::Mushroom
        | Kind::Fruit
        | Kind::Legume
        | Kind::Grain
        | Kind::NutSeed
        | Kind::Egg
        | Kind::Bread => true,
        Kind::Dairy | Kind::Meat | Kind::Fish | Kind::Prepared | Kind::Pantry | Kind::Condiment => {
            false
        }
    }
}

/// Dry goods: what the temperature rule of fresh produce does not speak of.
fn is_dry(kind: Kind) -> bool {
    matches!(kind, Kind::Grain | Kind::NutSeed | Kind::Pantry | Kind::Condiment)
}

fn frozen_row(food: &Food, place: &Place) -> Row {
    let rows = rows(food, Form::Frozen);
    let nearest = rows.iter().find(|life| life.place == *place).or(rows.first());
    if let Some(life) = nearest {
        return row_of(life);
    }
    let months = food.freeze.as_ref().and_then(|freeze| Some((freeze.months?, freeze.cite)));
    let (days, cite) = match months {
        Some((months, cite)) => {
            let days = DayRange { min: months.min * MONTH_DAYS, max: months.max * MONTH_DAYS };
            (days, Some(cite))
        }
        None => (frozen_by_kind(food.kind), None),
    };
    Row { form: Form::Frozen, place: None, days, celsius: row_celsius(&Place::Freezer), cite }
}

fn frozen_by_kind(kind: Kind) -> DayRange {
    match kind {
        Kind::Meat | Kind::Fish => FROZEN_MEAT,
        Kind::LeafyGreen
        | Kind::Vegetable
        | Kind::Root
        | Kind::Allium
        | Kind::Herb
        | Kind::Mushroom
        | Kind::Fruit
        | Kind::Legume
        | Kind::Grain
        | Kind::NutSeed => FROZEN_PRODUCE,
        Kind::Dairy | Kind::Egg | Kind::Bread | Kind::Prepared | Kind::Pantry | Kind::Condiment => {
            FROZEN_OTHER
        }
    }
}

fn row_of(life: &Life) -> Row {
    Row {
        form: life.form,
        place: Some(life.place.clone()),
        days: life.days,
        celsius: life.temp_c.unwrap_or_else(|| row_celsius(&life.place)),
        cite: Some(life.cite),
    }
}

/// The usual temperature of a place of the trade; any day will do, nothing is told.
fn row_celsius(place: &Place) -> f64 {
    let any = KitchenDay::new(2000, 1, 1).map(|day| Climate::of(place, &Default::default(), day));
    any.flatten().map_or(FRIDGE_C, |climate| climate.celsius)
}

fn fixed(row: Row) -> Basis {
    let days = (f64::from(row.days.min), f64::from(row.days.max));
    let spread = Spread::of_days(row.days);
    Basis { days, spread, row, scaled: Scaled::AsPublished, own_place: true }
}

/// From the food's own rows: that of the place itself, else between the rows by temperature.
fn from_rows(food: &Food, rows: &[&Life], place: &Place, climate: Climate) -> Basis {
    if let Some(life) = rows.iter().find(|life| life.place == *place) {
        // A row for such a place holds at its usual temperature, whatever the source's fridge had.
        let row = Row { celsius: row_celsius(place), ..row_of(life) };
        let factor = own_curve_factor(food, rows, row.celsius, climate.celsius);
        return Basis { own_place: true, ..scale(row, factor, climate.celsius) };
    }
    let mut by_temperature: Vec<Row> = rows.iter().map(|life| row_of(life)).collect();
    by_temperature.sort_by(|a, b| {
        let shorter = |row: &Row| (row.days.min, row.days.max);
        let grade = |row: &Row| row.cite.map(|cite| cite.grade);
        (a.celsius.total_cmp(&b.celsius))
            .then(grade(a).cmp(&grade(b)))
            .then(shorter(a).cmp(&shorter(b)))
    });
    by_temperature.dedup_by(|next, kept| next.celsius == kept.celsius);
    let nearest = nearest(&by_temperature, climate.celsius);
    if is_dry(food.kind) || (nearest.celsius - climate.celsius).abs() <= NEAR_C {
        return Basis { own_place: false, ..fixed(nearest.clone()) };
    }
    between(food, &by_temperature, climate)
}

/// The row whose temperature is nearest; the warmer one of two as near.
fn nearest(rows: &[Row], celsius: f64) -> &Row {
    rows.iter().rev().fold(&rows[0], |best, row| {
        let gap = |row: &Row| (row.celsius - celsius).abs();
        if gap(row) < gap(best) { row } else { best }
    })
}

/// Between rows for other places. A warmer row that lasts longer than a colder one differs in
/// more than temperature (damp, wrapping), so it holds for the colder side as well: colder never
/// shortens a life here.
fn between(food: &Food, rows: &[Row], climate: Climate) -> Basis {
    let to_c = warm_enough(food, climate.celsius);
    let mut lows: Vec<(f64, f64)> = Vec::with_capacity(rows.len());
    let mut highs: Vec<(f64, f64)> = Vec::with_capacity(rows.len());
    for row in rows.iter().rev() {
        let floor = |points: &[(f64, f64)], days: u32| {
            points.last().map_or(f64::from(days), |warmer| warmer.1.max(days.into()))
        };
        lows.push((row.celsius, floor(&lows, row.days.min)));
        highs.push((row.celsius, floor(&highs, row.days.max)));
    }
    let days = (along(&lows, to_c), along(&highs, to_c));
    let inside = rows[0].celsius <= to_c && to_c <= rows[rows.len() - 1].celsius;
    let scaled = match inside && rows.len() > 1 {
        true => Scaled::OwnRows { to_c: climate.celsius },
        false => Scaled::General { to_c: climate.celsius },
    };
    Basis {
        days,
        spread: Spread::of_range(days.0, days.1),
        row: nearest(rows, climate.celsius).clone(),
        scaled,
        own_place: false,
    }
}

/// Life at `celsius` along points ordered warmest first, straight in its logarithm between them.
fn along(points: &[(f64, f64)], celsius: f64) -> f64 {
    let (warmest, coldest) = (points[0], points[points.len() - 1]);
    if celsius >= warmest.0 {
        return warmest.1 * rate(warmest.0) / rate(celsius);
    }
    if celsius <= coldest.0 {
        return coldest.1 * rate(coldest.0) / rate(celsius);
    }
    let below = points.partition_point(|point| point.0 > celsius);
    let ((high_c, high), (low_c, low)) = (points[below - 1], points[below]);
    let share = (celsius - low_c) / (high_c - low_c);
    (low.ln() + share * (high.ln() - low.ln())).exp()
}

/// The factor on a row read at `from_c` when its own place stands at `to_c`: by the food's own
/// rows where they fall with warmth, by the general rule else.
fn own_curve_factor(food: &Food, rows: &[&Life], from_c: f64, to_c: f64) -> (f64, bool) {
    if is_dry(food.kind) || (from_c - to_c).abs() <= NEAR_C {
        return (1.0, false);
    }
    let (from_c, to_c) = (warm_enough(food, from_c), warm_enough(food, to_c));
    let points = rows.iter().map(|life| {
        let typical = typical_days(life.days.min.into(), life.days.max.into());
        (row_of(life).celsius, typical)
    });
    let own = Curve::through(points).filter(|curve| curve.covers(from_c));
    match own {
        Some(curve) => (curve.life(to_c) / curve.life(from_c), curve.covers(to_c)),
        None => (rate(from_c) / rate(to_c), false),
    }
}

/// No food gains from being colder than its chilling limit.
fn warm_enough(food: &Food, celsius: f64) -> f64 {
    let safe = food.conditions.as_ref().and_then(|conditions| conditions.chilling_below_c);
    safe.map_or(celsius, |safe| celsius.max(safe))
}

fn scaled_generally(food: &Food, row: Row, climate: Climate) -> Basis {
    let factor = if (row.celsius - climate.celsius).abs() <= NEAR_C {
        1.0
    } else {
        rate(row.celsius) / rate(warm_enough(food, climate.celsius))
    };
    Basis { own_place: false, ..scale(row, (factor, false), climate.celsius) }
}

fn scale(row: Row, (factor, by_own_rows): (f64, bool), to_c: f64) -> Basis {
    let days = (f64::from(row.days.min) * factor, f64::from(row.days.max) * factor);
    let scaled = if factor == 1.0 {
        Scaled::AsPublished
    } else if by_own_rows {
        Scaled::OwnRows { to_c }
    } else {
        Scaled::General { to_c }
    };
    Basis { days, spread: Spread::of_days(row.days).times(factor), row, scaled, own_place: false }
}
