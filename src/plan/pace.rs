//! How much a household eats: from its own record once there is enough of it, from the number of
//! eaters until then.

use std::collections::BTreeMap;

use crate::dates::KitchenDay;
use crate::kitchen::state::week_of;
use crate::kitchen::{Foods, State};
use crate::rules::{Food, Kind};
use crate::words::FoodId;

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

/// The record sets the pace once this many whole weeks of it say something [D].
const RECORD_WEEKS: usize = 4;

/// The pace taken from the record stays within this share of the usual one, in per cent: a
/// household that tells half of its meals must not be told that it eats half as much [D].
const RECORD_BOUNDS_PERCENT: (i64, i64) = (60, 250);

/// The most of one food on one day, from the record: so much more than an even week of its
/// heaviest one, in per cent [D].
const HEAVIEST_PERCENT: i64 = 150;

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
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Appetite {
    /// People who eat on an ordinary day.
    people: i64,
    /// Grams a person and day.
    a_person: i64,
    /// The heaviest week of each food in the record, in grams, by ledger key. Empty while the
    /// record is short.
    heaviest: BTreeMap<String, i64>,
}

impl Appetite {
    pub fn of(state: &State, foods: &dyn Foods, today: KitchenDay) -> Appetite {
        let people = i64::from(state.settings.people.max(1));
        let weeks = told_weeks(state, foods, today);
        if weeks.len() < RECORD_WEEKS {
            return Appetite { people, a_person: A_PERSON_GRAMS, heaviest: BTreeMap::new() };
        }
        let mut sums: Vec<i64> = weeks.values().copied().collect();
        sums.sort_unstable();
        let bound = |percent: i64| A_PERSON_GRAMS * percent / 100;
        let own = sums[(sums.len() - 1) / 2] / 7 / people;
        let a_person = own.clamp(bound(RECORD_BOUNDS_PERCENT.0), bound(RECORD_BOUNDS_PERCENT.1));
        let heaviest = state.eaten.iter().map(|(key, own)| {
            let told = own.iter().filter(|(week, _)| weeks.contains_key(week));
            (key.clone(), told.map(|(_, eaten)| eaten.grams).max().unwrap_or(0))
        });
        Appetite { people, a_person, heaviest: heaviest.collect() }
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

    /// The most of one food on one day, in grams: the usual share of the pace, or what its
    /// heaviest week on record shows to be eaten.
    pub fn cap(&self, key: &str, diet: Diet) -> i64 {
        let a_person = match diet {
            Diet::Herb => CAP_HERB_GRAMS,
            Diet::Allium => CAP_ALLIUM_GRAMS,
            Diet::Produce | Diet::Other => CAP_GRAMS * self.a_person / A_PERSON_GRAMS,
        };
        let shown = self.heaviest.get(key).map_or(0, |grams| grams * HEAVIEST_PERCENT / 700);
        (self.people * a_person).max(shown.min(self.a_day())).max(1)
    }
}

/// Grams of vegetables and fruit eaten in each whole week that says something: nobody was away,
/// no guests ate, and somebody told what was eaten. Weeks of silence say nothing, so gaps in the
/// telling do not slow the pace.
fn told_weeks(state: &State, foods: &dyn Foods, today: KitchenDay) -> BTreeMap<i64, i64> {
    let mut weeks: BTreeMap<i64, i64> = BTreeMap::new();
    for (key, own) in &state.eaten {
        if diet_of(foods.food(&FoodId::new(key.as_str()))).is_shared() {
            for (week, eaten) in own {
                *weeks.entry(*week).or_default() += eaten.grams;
            }
        }
    }
    let whole = |week: i64| week < week_of(today);
    let unusual = |week: i64| {
        state.eaters.keys().any(|day| week_of(*day) == week)
            || state.away.iter().any(|(from, to)| (week_of(*from)..=week_of(*to)).contains(&week))
    };
    // The first week on record hardly began on its first day.
    let first = weeks.keys().next().copied();
    weeks.retain(|week, grams| {
        *grams > 0 && whole(*week) && Some(*week) != first && !unusual(*week)
    });
    weeks
}
