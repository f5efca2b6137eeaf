//! How much a household eats: from its own record once there is enough of it, from the number of
//! eaters until then.

use crate::dates::KitchenDay;
use crate::kitchen::State;
use crate::ledger;
use crate::rules::{Food, Kind};

/// Grams of vegetables and fruit a person eats a day, as bought.
///
/// # Source
/// [D], the pace of the simulated households of seven that the model was tried on; the WHO asks
/// for at least 400 g eaten [M].
const A_PERSON_GRAMS: i64 = 350;

/// The most of one food a person eats a day, in grams [D]: about two fifths of the pace, so that
/// no plan is all kale.
const CAP_GRAMS: i64 = 140;
const CAP_HERB_GRAMS: i64 = 10;
const CAP_ALLIUM_GRAMS: i64 = 60;

/// The record sets the pace once it holds this many days and this much eaten a person and day: a
/// household that logs half of its meals must not be told that it eats half as much.
const RECORD_DAYS: i64 = 28;

/// The pace taken from the record stays within this share of the usual one, in per cent.
const RECORD_BOUNDS_PERCENT: (i64, i64) = (50, 250);

/// What part of a day's food a kind belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Diet {
    /// Vegetables and fruit: they share one pace.
    Produce,
    Herb,
    Allium,
    /// Everything else is eaten at its own pace and stands outside the plan's sums.
    Other,
}

impl Diet {
    /// Whether it counts against the household's daily pace.
    pub fn is_shared(self) -> bool {
        self != Diet::Other
    }
}

pub fn diet_of(food: Option<&Food>) -> Diet {
    match food.map(|food| food.kind) {
        Some(Kind::Herb) => Diet::Herb,
        Some(Kind::Allium) => Diet::Allium,
        Some(Kind::LeafyGreen | Kind::Vegetable | Kind::Root | Kind::Mushroom | Kind::Fruit) => {
            Diet::Produce
        }
        Some(
            Kind::Legume
            | Kind::Grain
            | Kind::NutSeed
            | Kind::Dairy
            | Kind::Egg
            | Kind::Meat
            | Kind::Fish
            | Kind::Bread
            | Kind::Prepared
            | Kind::Pantry
            | Kind::Condiment,
        )
        | None => Diet::Other,
    }
}

/// A household's pace.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Appetite {
    /// People who eat on an ordinary day.
    people: i64,
    /// Grams a person and day.
    a_person: i64,
}

impl Appetite {
    pub fn of(state: &State) -> Appetite {
        let people = i64::from(state.settings.people.max(1));
        let a_person = from_record(state, people).unwrap_or(A_PERSON_GRAMS);
        Appetite { people, a_person }
    }

    /// Grams eaten on an ordinary day.
    pub fn a_day(&self) -> i64 {
        self.people * self.a_person
    }

    /// Grams eaten on `day`: nobody eats while away, guests eat with the others.
    pub fn on(&self, state: &State, day: KitchenDay) -> i64 {
        if state.away.iter().any(|(first, last)| *first <= day && day <= *last) {
            return 0;
        }
        let people = state.eaters.get(&day).map_or(self.people, |people| i64::from(*people));
        people * self.a_person
    }

    /// The most of one food on one day, in grams.
    pub fn cap(&self, diet: Diet) -> i64 {
        let a_person = match diet {
            Diet::Herb => CAP_HERB_GRAMS,
            Diet::Allium => CAP_ALLIUM_GRAMS,
            Diet::Produce | Diet::Other => CAP_GRAMS * self.a_person / A_PERSON_GRAMS,
        };
        (self.people * a_person).max(1)
    }
}

/// Grams a person and day from the household's own record, when it is long enough.
fn from_record(state: &State, people: i64) -> Option<i64> {
    let first = state.trips.first()?.day;
    let days = state.last_heard?.days_since(first);
    if days < RECORD_DAYS {
        return None;
    }
    let eaten = ledger::house_totals(state).eaten;
    let a_person = eaten / days / people;
    let bound = |percent: i64| A_PERSON_GRAMS * percent / 100;
    (a_person >= bound(RECORD_BOUNDS_PERCENT.0))
        .then(|| a_person.min(bound(RECORD_BOUNDS_PERCENT.1)))
}
