//! What the kitchen asks of the rule set, and the few sums it does with the answers.

use super::state::{Limit, Standing};
use crate::dates::{Instant, KitchenDay};
use crate::rules::{BagRules, Cite, Food, Found, Kind, Rules, SafetyLimit, WaterManner};
use crate::units::{Dimension, Quantity, Ratio, Unit};
use crate::words::{FoodId, Form, Place};

/// The rule set as the kitchen needs it.
pub trait Foods {
    fn food(&self, id: &FoodId) -> Option<&Food>;

    /// The dish of this name, where a food shares it: chili is a pepper and a stew.
    fn dish(&self, name: &str) -> Option<&Food>;

    /// The food of this name as it comes out of a can.
    fn canned(&self, name: &str) -> Option<&Food>;

    /// The form meant when nobody says one.
    fn usual_form(&self, food: Option<&Food>) -> Form;

    /// Whether this word names the part sold as the food itself.
    fn is_main_part(&self, food: &Food, part: &str) -> bool;

    /// Not sold as food (a toxic plant, a look-alike): answered about, never stored.
    fn is_hazard(&self, food: &Food) -> bool;

    /// The strictest safety clock on a form in a place; `None` for the food is a dish or a food
    /// outside the rule set.
    fn clock(&self, food: Option<&Food>, form: Form, place: &Place) -> Option<Clock>;

    /// How long it may stand at room temperature; `None` where standing warm is no matter of
    /// safety.
    fn left_out(&self, food: Option<&Food>, form: Form) -> Option<Clock>;

    /// The short name of a source.
    fn source(&self, cite: Cite) -> String;

    /// What a cold place does without power.
    fn outage(&self) -> Outage;

    /// What the trimmings bag takes.
    fn bag(&self) -> &BagRules;
}

/// A hard limit as the rule set states it.
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// Whole calendar days, the first day being day 1.
    pub days: Option<u32>,
    pub minutes: Option<u32>,
    pub why: String,
    /// The source's short name.
    pub source: String,
}

impl Clock {
    /// The limit of food whose clock starts on `day`, at the moment `from`.
    pub fn limit(self, day: KitchenDay, from: Instant) -> Limit {
        Limit {
            day: self.days.map(|days| day.plus(i64::from(days.max(1)) - 1)),
            at: self.minutes.map(|minutes| from.plus_minutes(i64::from(minutes))),
            why: self.why,
            source: self.source,
        }
    }
}

/// How long cold places keep without power.
#[derive(Clone, Debug, PartialEq)]
pub struct Outage {
    pub fridge_minutes: u32,
    /// A half-full freezer: the shorter of the published times.
    pub freezer_minutes: u32,
    /// A full freezer.
    pub freezer_full_minutes: u32,
    pub source: String,
}

/// Days between water changes where the rule set has no row. Common practice, no source.
const WATER_EVERY_DAYS: u32 = 1;
/// Days from cutting to the last day in water where the rule set has no row. Our own convention:
/// no published limit exists.
const WATER_LONGEST_DAYS: u32 = 6;

/// How a food goes into water on `day`: its form and place there, the standing, a hard limit.
pub(super) struct InWater {
    pub form: Option<Form>,
    pub place: Place,
    pub standing: Standing,
    pub limit: Option<Clock>,
}

pub(super) fn in_water(
    foods: &dyn Foods,
    food: Option<&Food>,
    form: Form,
    day: KitchenDay,
) -> InWater {
    let water = food.and_then(|food| food.water.as_ref());
    let pieces = matches!(form, Form::Cut | Form::InWater);
    let stems = !pieces && water.is_some_and(|water| water.manner == WaterManner::StemsOnly);
    let longest = match water {
        Some(water) if stems || water.manner == WaterManner::Submerged => water.longest_days,
        _ => WATER_LONGEST_DAYS,
    };
    let place = match water {
        Some(water) if stems => water.place.clone(),
        _ => Place::Fridge,
    };
    let hours = water.and_then(|water| water.limit_hours).filter(|_| !stems);
    InWater {
        form: (!stems).then_some(Form::InWater),
        place,
        standing: Standing {
            since: day,
            changed: day,
            every_days: water.map_or(WATER_EVERY_DAYS, |water| water.every_days.max(1)),
            last_day: day.plus(i64::from(longest)),
        },
        limit: hours.zip(water).map(|(hours, water)| Clock {
            days: None,
            minutes: Some(hours.saturating_mul(60)),
            why: String::new(),
            source: foods.source(water.cite),
        }),
    }
}

/// Grams of an amount as bought, where its weight is known: by its own unit, by the size of each
/// unit, or by the rule set's weights.
pub fn grams(food: Option<&Food>, quantity: Quantity, size: Option<Quantity>) -> Option<i64> {
    if let Some(grams) = quantity.grams() {
        return Some(grams.rounded());
    }
    if let Some(size) = size {
        let each = match size.grams() {
            Some(grams) => grams,
            None => by_weights(food?, size)?,
        };
        return quantity.value.checked_mul(each).map(Ratio::rounded);
    }
    by_weights(food?, quantity).map(Ratio::rounded)
}

fn by_weights(food: &Food, quantity: Quantity) -> Option<Ratio> {
    let unit = quantity.unit.unwrap_or(Unit::Piece);
    let rows = || food.weights.iter().filter(|row| row.size.is_none());
    let (times, row) = match unit.dimension() {
        Dimension::Mass => return quantity.grams(),
        Dimension::Volume => {
            let same = rows().find(|row| row.unit == unit);
            let row = same.or_else(|| rows().find(|r| r.unit.dimension() == Dimension::Volume))?;
            (quantity.to_unit(Some(row.unit))?.value, row)
        }
        Dimension::Count => match rows().find(|row| row.unit == unit) {
            Some(row) => (quantity.value, row),
            None if unit == Unit::Dozen => {
                let row = rows().find(|row| row.unit == Unit::Piece)?;
                (quantity.value.checked_mul(Ratio::whole(12))?, row)
            }
            None => return None,
        },
    };
    times.checked_mul(row.grams)
}

/// Where a food is best kept, by the rule set: its first place, whatever its form needs first.
pub(super) fn home(food: Option<&Food>, form: Form) -> Option<Place> {
    match form {
        Form::Frozen => Some(Place::Freezer),
        Form::Dried => Some(Place::CoolDark),
        Form::Cut | Form::InWater | Form::Cooked | Form::Thawed => Some(Place::Fridge),
        Form::Whole | Form::Opened => {
            food.and_then(|food| food.places.first()).map(|advice| advice.place.clone())
        }
    }
}

impl Foods for Rules {
    fn food(&self, id: &FoodId) -> Option<&Food> {
        Rules::food(self, id)
    }

    fn dish(&self, name: &str) -> Option<&Food> {
        match self.find(name) {
            Found::Ambiguous(foods) => foods.into_iter().find(|food| food.kind == Kind::Prepared),
            Found::One(_) | Found::None => None,
        }
    }

    fn canned(&self, name: &str) -> Option<&Food> {
        match self.find(&format!("canned {name}")) {
            Found::One(food) => Some(food).filter(|food| {
                food.aliases.iter().chain([&food.name]).any(|known| known.starts_with("canned "))
            }),
            Found::Ambiguous(_) | Found::None => None,
        }
    }

    fn usual_form(&self, food: Option<&Food>) -> Form {
        food.map_or(Form::Whole, |food| food.usual_form)
    }

    fn is_main_part(&self, food: &Food, part: &str) -> bool {
        food.part(part).is_some_and(|part| part.main)
    }

    fn is_hazard(&self, food: &Food) -> bool {
        food.hazard
    }

    fn clock(&self, food: Option<&Food>, form: Form, place: &Place) -> Option<Clock> {
        match place {
            // The freezer stops the clock.
            Place::Freezer | Place::InGround => None,
            Place::Fridge | Place::Crisper => self.cold_clock(food, form),
            Place::Counter => {
                let meat = food.is_some_and(|food| matches!(food.kind, Kind::Meat | Kind::Fish));
                let ready = matches!(form, Form::Cut | Form::Cooked | Form::Thawed | Form::InWater);
                let hours = Foods::left_out(self, food, form).filter(|_| meat || ready);
                hours.or_else(|| food.and_then(|food| self.own_clock(food, form, place)))
            }
            // No cellar and no porch lengthens what the fridge allows.
            Place::CoolDark | Place::Own(_) => {
                let own = food.and_then(|food| self.own_clock(food, form, place));
                own.or_else(|| self.cold_clock(food, form))
            }
        }
    }

    fn left_out(&self, food: Option<&Food>, form: Form) -> Option<Clock> {
        let rule = match food {
            Some(food) => Rules::left_out(self, food, form)?,
            // A food nobody knows may be a potato or a prawn: it is held to the limit too.
            None if matches!(form, Form::Frozen | Form::Dried) => return None,
            None => self.general.left_out,
        };
        Some(Clock {
            days: None,
            minutes: Some(rule.minutes),
            why: String::new(),
            source: Rules::source(self, rule.cite).short.clone(),
        })
    }

    fn source(&self, cite: Cite) -> String {
        Rules::source(self, cite).short.clone()
    }

    fn bag(&self) -> &BagRules {
        &self.general.bag
    }

    fn outage(&self) -> Outage {
        let outage = self.general.outage;
        Outage {
            fridge_minutes: outage.fridge_hours.saturating_mul(60),
            freezer_minutes: outage.freezer_half_hours.saturating_mul(60),
            freezer_full_minutes: outage.freezer_full_hours.saturating_mul(60),
            source: Rules::source(self, outage.cite).short.clone(),
        }
    }
}

impl Rules {
    fn own_clock(&self, food: &Food, form: Form, place: &Place) -> Option<Clock> {
        self.safety_limit(food, form, place).map(|limit| self.clock_of(limit))
    }

    /// The clock in the fridge; a dish or a food outside the rule set goes by what holds for any
    /// prepared food.
    fn cold_clock(&self, food: Option<&Food>, form: Form) -> Option<Clock> {
        if let Some(food) = food {
            return self.own_clock(food, form, &Place::Fridge);
        }
        let rows = self.general.limits.iter().filter(|row| {
            row.limit.form == form
                && row.limit.place == Place::Fridge
                && row.kinds.contains(&Kind::Prepared)
        });
        let strictest = rows.map(|row| &row.limit).min_by_key(|limit| limit.at_most_hours());
        strictest.map(|limit| self.clock_of(limit))
    }

    fn clock_of(&self, limit: &SafetyLimit) -> Clock {
        Clock {
            days: limit.days.filter(|_| limit.hours.is_none()),
            minutes: limit.hours.map(|hours| hours.saturating_mul(60)),
            why: limit.why.clone(),
            source: Rules::source(self, limit.cite).short.clone(),
        }
    }
}
