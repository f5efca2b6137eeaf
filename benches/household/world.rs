//! The worlds: what a household buys and when it really goes.
//!
//! A world holds everything chance decides, so that every way of eating meets the same one: the
//! days of the shops, what is in the basket, which lots wait on the counter, the household's own
//! multipliers, and for each quarter of a kilogram the share of life at which it is lost.
//!
//! # Source
//! Seven people, 0.35 kg a person and day, 26 weeks, shops every 14 to 28 days, 22 foods in units
//! of 0.25 kg, multipliers with a standard deviation of 0.2 (food) and 0.12 (place), a quarter of
//! the lots not put away at once [D]. Lives are the published rows of the rule set: stand-ins for
//! a real kitchen's, so read differences, not levels.

use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::keeping::spread::Spread;
use larderling::keeping::{Climate, air, lives};
use larderling::rules::{Food, Rules};
use larderling::words::{FoodId, Form, Place};

use crate::chance::Chance;

pub const PEOPLE: u32 = 7;
/// Grams a household eats a day.
pub const EATEN_A_DAY: i64 = 350 * PEOPLE as i64;
/// The most of one food on one day.
pub const CAP_A_DAY: i64 = EATEN_A_DAY * 2 / 5;
pub const DAYS: usize = 26 * 7;
pub const UNIT_GRAMS: i64 = 250;
const GAP_DAYS: (f64, f64) = (14.0, 28.0);
const FOOD_SPREAD: f64 = 0.2;
const PLACE_SPREAD: f64 = 0.12;
/// How long what is not put away at once stands on the counter, in days [D].
const WAIT_DAYS: (f64, f64) = (1.0, 4.0);
/// How much the share of a food in a basket varies from shop to shop: standard deviation of its
/// logarithm [D].
const TASTE: f64 = 0.6;

/// Foods of the bundle with the usual share of a basket, by weight [D], and a price in minor units
/// a kilogram [D].
const FOODS: [(&str, f64, i64); 22] = [
    ("spinach", 1.5, 600),
    ("lettuce", 3.0, 350),
    ("kale", 1.5, 400),
    ("broccoli", 1.5, 350),
    ("mushroom", 0.5, 700),
    ("strawberry", 0.5, 800),
    ("green_bean", 0.5, 450),
    ("zucchini", 1.5, 250),
    ("cucumber", 2.0, 250),
    ("tomato", 3.0, 300),
    ("bell_pepper", 3.0, 450),
    ("banana", 4.0, 180),
    ("cauliflower", 3.0, 280),
    ("celery", 5.0, 220),
    ("leek", 6.0, 300),
    ("carrot", 12.0, 140),
    ("beet", 7.0, 180),
    ("cabbage", 9.0, 120),
    ("apple", 10.0, 220),
    ("orange", 8.0, 200),
    ("potato", 12.0, 110),
    ("onion", 6.0, 130),
];

/// A food not on the list is a keeper from this many days on, at this price a kilogram [D].
const KEEPER_DAYS: f64 = 25.0;
const KEEPER_PRICE: i64 = 200;

/// What the worlds are made of: the foods, each with its lives where it is kept and on the counter.
pub struct Ground<'a> {
    pub foods: Vec<Kind<'a>>,
}

pub struct Kind<'a> {
    pub food: &'a Food,
    pub id: FoodId,
    pub home: Place,
    /// The published row at its place, in days.
    pub days: (f64, f64),
    pub at_home: Spread,
    pub on_counter: Spread,
    pub price_per_kg: i64,
    pub gives_ethylene: bool,
    pub fears_ethylene: bool,
    share: f64,
}

impl<'a> Ground<'a> {
    /// The foods of the list, then every other vegetable and fruit that keeps for weeks: those are
    /// bought only where the basket check names them.
    ///
    /// # Panics
    /// When a food of the list is not in the rule set, or has no life at its place.
    pub fn new(rules: &'a Rules) -> Ground<'a> {
        let listed = FOODS.iter().map(|(id, share, price)| {
            let food = rules.food(&FoodId::new(*id)).expect("a food of the rule set");
            kind(food, *share, *price).expect("a life at its place and on the counter")
        });
        let mut foods: Vec<Kind<'a>> = listed.collect();
        let known: Vec<FoodId> = foods.iter().map(|kind| kind.id.clone()).collect();
        let others = rules.foods.iter().filter(|food| food.kind.is_produce() && !food.hazard);
        let others = others.filter(|food| !known.contains(&food.id));
        let keepers = others.filter_map(|food| kind(food, 0.0, KEEPER_PRICE));
        foods.extend(keepers.filter(|kind| kind.days.0 >= KEEPER_DAYS));
        Ground { foods }
    }

    pub fn number(&self, id: &FoodId) -> Option<usize> {
        self.foods.iter().position(|kind| kind.id == *id)
    }
}

fn kind(food: &Food, share: f64, price_per_kg: i64) -> Option<Kind<'_>> {
    let home = food.places.first().map_or(Place::Fridge, |advice| advice.place.clone());
    let day = KitchenDay::new(2026, 1, 5)?;
    let life = |place: &Place| {
        let climate = Climate::of(place, &Default::default(), day)?;
        lives::base(food, Form::Whole, place, climate)
    };
    let (at_home, on_counter) = (life(&home)?, life(&Place::Counter)?);
    Some(Kind {
        food,
        id: food.id.clone(),
        days: at_home.days,
        at_home: at_home.spread,
        on_counter: on_counter.spread,
        price_per_kg,
        gives_ethylene: air::makes_ethylene(food) && air::same_closed_air(&home, &Place::Fridge),
        fears_ethylene: air::fears_ethylene(food) && air::same_closed_air(&home, &Place::Fridge),
        home,
        share,
    })
}

/// One household's half year.
pub struct World {
    pub seed: u64,
    /// Days of the shops, the first being day 0.
    pub trips: Vec<usize>,
    /// Days from each shop to the next.
    pub gaps: Vec<usize>,
    /// The household's own factor on each food's life: food and place together.
    pub factors: Vec<f64>,
    place_factors: Vec<(Place, f64)>,
}

impl World {
    pub fn new(ground: &Ground<'_>, seed: u64) -> World {
        let mut chance = Chance::named(&[seed, 1]);
        let (mut trips, mut gaps, mut day) = (Vec::new(), Vec::new(), 0);
        while day < DAYS {
            let gap = chance.between(GAP_DAYS.0, GAP_DAYS.1 + 1.0).floor() as usize;
            trips.push(day);
            gaps.push(gap);
            day += gap;
        }
        let places = [Place::Fridge, Place::Crisper, Place::CoolDark, Place::Counter];
        let place_factors: Vec<(Place, f64)> =
            places.map(|place| (place, (PLACE_SPREAD * chance.normal()).exp())).into();
        let of_place = |place: &Place| {
            place_factors.iter().find(|(known, _)| known == place).map_or(1.0, |(_, f)| *f)
        };
        let factors = ground.foods.iter().enumerate().map(|(food, kind)| {
            let own = FOOD_SPREAD * Chance::named(&[seed, 2, food as u64]).normal();
            own.exp() * of_place(&kind.home)
        });
        World {
            seed,
            trips,
            gaps,
            factors: factors.collect(),
            place_factors: place_factors.clone(),
        }
    }

    pub fn place_factor(&self, place: &Place) -> f64 {
        self.place_factors.iter().find(|(known, _)| known == place).map_or(1.0, |(_, f)| *f)
    }

    /// What the household means to buy at a shop: units by food, as much as is eaten to the next.
    pub fn basket(&self, ground: &Ground<'_>, trip: usize) -> Vec<(usize, i64)> {
        let mut chance = Chance::named(&[self.seed, 3, trip as u64]);
        let weights: Vec<f64> =
            ground.foods.iter().map(|kind| kind.share * (TASTE * chance.normal()).exp()).collect();
        let total: f64 = weights.iter().sum();
        let units = (EATEN_A_DAY * self.gaps[trip] as i64 / UNIT_GRAMS) as f64;
        let of = weights.iter().map(|weight| (units * weight / total).round() as i64);
        of.enumerate().filter(|(_, units)| *units > 0).collect()
    }

    /// How this lot is put away: by people who do it at once with probability `at_once`, in days.
    pub fn wait_days(&self, trip: usize, food: usize, at_once: f64) -> f64 {
        let mut chance = Chance::named(&[self.seed, 4, trip as u64, food as u64]);
        let (late, days) = (chance.share() >= at_once, chance.between(WAIT_DAYS.0, WAIT_DAYS.1));
        if late { days } else { 0.0 }
    }

    /// The share of its life at which each unit of a lot is lost.
    pub fn ends(&self, kind: &Kind<'_>, trip: usize, food: usize, units: i64) -> Vec<f64> {
        let of = |unit: i64| {
            let mut drawn = Chance::named(&[self.seed, 5, trip as u64, food as u64, unit as u64]);
            drawn.exponential().powf(1.0 / kind.at_home.shape)
        };
        let mut ends: Vec<f64> = (0..units).map(of).collect();
        ends.sort_by(f64::total_cmp);
        ends
    }
}

/// The calendar day of a day of the half year; a Monday first.
pub fn calendar(day: usize) -> KitchenDay {
    KitchenDay::new(2026, 1, 5).expect("a day").plus(day as i64)
}

/// A moment of a day, in minutes after midnight.
pub fn moment(day: usize, minutes: i64) -> Instant {
    calendar(day).at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(minutes)
}
