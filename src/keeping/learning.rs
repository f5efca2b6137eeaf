//! Learning from the household's own outcomes: real life is `m` times the published one.
//!
//! `m` belongs to a food in a place. With the share of life spent `u` computed from published
//! lives, `u^k` is exponential with rate `m^-k`; a gamma prior on the rate is conjugate under
//! censoring, so an outcome is two additions. Early use teaches nothing, and nothing here is ever
//! handed to a safety clock.
//!
//! # Source
//! Known-shape Weibull with a gamma prior under right censoring: Kundu 2008 [S]. Weights, prior
//! strengths and clamps [D].

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::spread::gamma;
use crate::kitchen::State;
use crate::words::{FoodId, Place};

/// How many lots the published value counts for [D].
pub const PRIOR_LOTS: f64 = 2.0;

/// How many lots the published value counts for when a place is learned over all foods [D].
pub const PLACE_PRIOR_LOTS: f64 = 4.0;

/// The shape used for a place over all foods [D].
pub const PLACE_SHAPE: f64 = 4.0;

/// No household is believed to be further from the published value than this [D].
const CLAMP: (f64, f64) = (0.4, 2.5);

/// Standard normal 90 % point.
const Z90: f64 = 1.281_551_565_544_600_4;

/// Shown to people only with so many losses, or so many lots [D].
const SHOWN_EVENTS: f64 = 2.0;
const SHOWN_LOTS: u32 = 8;

/// One lot's outcome.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// The share of the published life spent when it ended.
    pub spent: f64,
    /// The share of the lot's mass with this outcome, 0 to 1.
    pub weight: f64,
    pub end: End,
}

/// How a lot ended, for learning only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Found spoiled.
    Spoiled,
    /// Used because it was going: a loss for learning, never for the waste figures.
    WasGoing,
    /// Eaten sound.
    Sound,
}

/// Where between "last seen sound" and "found bad" a loss is placed.
pub fn midpoint(last_sound: f64, found_bad: f64) -> f64 {
    (last_sound + found_bad) / 2.0
}

/// Where a loss is placed that nobody looked for before: halfway on the scale on which life is
/// spent evenly, which is `spent^shape`.
pub fn halfway(found_bad: f64, shape: f64) -> f64 {
    found_bad * 0.5_f64.powf(1.0 / shape)
}

/// What is believed of the rate `m^-k`: a gamma distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belief {
    /// Losses seen, the prior's included.
    pub a: f64,
    /// Exposure seen, the prior's included.
    pub b: f64,
    /// The Weibull shape the exposures were raised to.
    pub shape: f64,
}

impl Belief {
    /// The prior: `lots` lots' worth of belief in the parent's multiplier.
    pub fn prior(shape: f64, lots: f64, parent: f64) -> Belief {
        Belief { a: lots, b: lots * parent.powf(shape), shape }
    }

    /// No prior at all: the plain likelihood.
    pub fn flat(shape: f64) -> Belief {
        Belief { a: 0.0, b: 0.0, shape }
    }

    pub fn with(mut self, outcome: Outcome) -> Belief {
        let lost = match outcome.end {
            End::Spoiled | End::WasGoing => 1.0,
            End::Sound => 0.0,
        };
        self.a += outcome.weight * lost;
        self.b += outcome.weight * outcome.spent.max(0.0).powf(self.shape);
        self
    }

    /// The multiplier of highest weight, unclamped.
    pub fn multiplier(self) -> f64 {
        (self.b / self.a).powf(1.0 / self.shape)
    }

    /// The multiplier that the clock uses.
    pub fn clamped(self) -> f64 {
        self.multiplier().clamp(CLAMP.0, CLAMP.1)
    }

    /// The 10 % and 90 % points of the multiplier, by Wilson and Hilferty.
    pub fn range(self) -> (f64, f64) {
        let quantile = |z: f64| {
            let root = 1.0 - 1.0 / (9.0 * self.a) + z / (3.0 * self.a.sqrt());
            let rate = self.a / self.b * root.powi(3);
            rate.powf(-1.0 / self.shape)
        };
        (quantile(Z90), quantile(-Z90))
    }

    /// The mean of the multiplier.
    pub fn mean(self) -> f64 {
        let k = 1.0 / self.shape;
        self.b.powf(k) * gamma(self.a - k) / gamma(self.a)
    }
}

/// The normal shrinkage of a multiplier on the logarithmic scale: its weight against the parent
/// and the result.
pub fn shrink(own: f64, losses: f64, shape: f64, parent: f64, tau: f64) -> (f64, f64) {
    let variance = 1.0 / (shape * shape * losses);
    let weight = tau * tau / (tau * tau + variance);
    (weight, (weight * own.ln() + (1.0 - weight) * parent.ln()).exp())
}

/// One lot, or a part of it, that came to an end. In whole numbers, so that a log folds to the
/// same state everywhere.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Case {
    pub food: FoodId,
    /// The place that holds most of its life.
    pub place: Place,
    /// The food's Weibull shape there, in hundredths.
    pub shape_centi: u32,
    /// The share of the published life spent when it ended, in thousandths.
    pub spent_milli: u32,
    /// The share of the lot's mass with this outcome, in thousandths.
    pub weight_milli: u32,
    pub end: End,
}

impl Case {
    fn outcome(&self) -> Outcome {
        Outcome {
            spent: f64::from(self.spent_milli) / 1e3,
            weight: f64::from(self.weight_milli) / 1e3,
            end: self.end,
        }
    }
}

/// All cases of one food in one place, or of one place, added up: the two sums the belief needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Tally {
    /// The shape the exposures were raised to, in hundredths: that of the first case.
    shape_centi: u32,
    /// Cases seen.
    cases: u32,
    /// Losses, weighted, in thousandths.
    lost_milli: i64,
    /// Exposure, weighted, in millionths.
    exposure_micro: i64,
}

impl Tally {
    fn add(&mut self, case: &Case, shape_centi: u32) {
        if self.cases == 0 {
            self.shape_centi = shape_centi.max(1);
        }
        let one = Belief::flat(self.shape()).with(case.outcome());
        self.cases = self.cases.saturating_add(1);
        self.lost_milli = self.lost_milli.saturating_add((one.a * 1e3).round() as i64);
        self.exposure_micro = self.exposure_micro.saturating_add((one.b * 1e6).round() as i64);
    }

    fn shape(self) -> f64 {
        f64::from(self.shape_centi) / 100.0
    }

    fn belief(self, lots: f64, parent: f64) -> Belief {
        let prior = Belief::prior(self.shape(), lots, parent);
        Belief {
            a: prior.a + self.lost_milli as f64 / 1e3,
            b: prior.b + self.exposure_micro as f64 / 1e6,
            ..prior
        }
    }
}

/// What a household's outcomes add up to: part of its state, of bounded size.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Taught {
    foods: BTreeMap<FoodId, BTreeMap<Place, Tally>>,
    places: BTreeMap<Place, Tally>,
}

impl Taught {
    pub fn add(&mut self, case: &Case) {
        let place = || case.place.clone();
        let own = self.foods.entry(case.food.clone()).or_default().entry(place()).or_default();
        own.add(case, case.shape_centi);
        self.places.entry(place()).or_default().add(case, (PLACE_SHAPE * 100.0) as u32);
    }
}

/// What a household has taught, by place and by food in a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Learned {
    foods: BTreeMap<FoodId, BTreeMap<Place, Lesson>>,
    places: BTreeMap<Place, f64>,
}

/// What was learned about one food in one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lesson {
    /// The factor on the published life.
    pub factor: f64,
    /// How many outcomes it rests on.
    pub cases: u32,
    /// Enough to say it aloud.
    pub shown: bool,
}

impl Learned {
    /// What a household's outcomes have taught it; nothing where it has turned learning off.
    pub fn by(state: &State) -> Learned {
        if state.settings.learning { Learned::of(&state.taught) } else { Learned::default() }
    }

    pub fn of(taught: &Taught) -> Learned {
        let place = |(place, tally): (&Place, &Tally)| {
            (place.clone(), tally.belief(PLACE_PRIOR_LOTS, 1.0).clamped())
        };
        let places: BTreeMap<Place, f64> = taught.places.iter().map(place).collect();
        let lesson = |(place, tally): (&Place, &Tally)| {
            let parent = places.get(place).copied().unwrap_or(1.0);
            let lost = tally.lost_milli as f64 / 1e3;
            let lesson = Lesson {
                factor: tally.belief(PRIOR_LOTS, parent).clamped(),
                cases: tally.cases,
                shown: lost >= SHOWN_EVENTS || tally.cases >= SHOWN_LOTS,
            };
            (place.clone(), lesson)
        };
        let foods = taught.foods.iter().map(|(food, places)| {
            (food.clone(), places.iter().map(lesson).collect::<BTreeMap<_, _>>())
        });
        let foods = foods.collect();
        Learned { foods, places }
    }

    /// The factor on the published life of `food`, whole, in `place`; 1 where nothing was learned.
    pub fn factor(&self, food: &FoodId, place: &Place) -> f64 {
        let own = self.lesson(food, place).map(|lesson| lesson.factor);
        own.or_else(|| self.places.get(place).copied()).unwrap_or(1.0)
    }

    /// What was learned of `food` in `place`.
    pub fn lesson(&self, food: &FoodId, place: &Place) -> Option<Lesson> {
        self.foods.get(food)?.get(place).copied()
    }

    /// What may be said aloud, by food and place.
    pub fn lessons(&self) -> impl Iterator<Item = (&FoodId, &Place, Lesson)> {
        let all = self.foods.iter().flat_map(|(food, places)| {
            places.iter().map(move |(place, lesson)| (food, place, *lesson))
        });
        all.filter(|(_, _, lesson)| lesson.shown)
    }
}
