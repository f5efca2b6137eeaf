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

use super::spread::gamma;
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
const SHOWN_LOTS: usize = 8;

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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

/// What a household has taught, by place and by food in a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Learned {
    factors: BTreeMap<(FoodId, Place), Lesson>,
    places: BTreeMap<Place, f64>,
}

/// What was learned about one food in one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lesson {
    /// The factor on the published life.
    pub factor: f64,
    /// Enough to say it aloud.
    pub shown: bool,
}

/// One outcome with what it belongs to: the food, the place that holds most of its life, and the
/// food's shape there.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    pub food: FoodId,
    pub place: Place,
    pub shape: f64,
    pub outcome: Outcome,
}

impl Learned {
    /// Learns from all outcomes of a household.
    pub fn from_cases(cases: &[Case]) -> Learned {
        let mut places: BTreeMap<Place, Belief> = BTreeMap::new();
        for case in cases {
            let belief = places
                .entry(case.place.clone())
                .or_insert_with(|| Belief::prior(PLACE_SHAPE, PLACE_PRIOR_LOTS, 1.0));
            *belief = belief.with(case.outcome);
        }
        let places: BTreeMap<Place, f64> =
            places.into_iter().map(|(place, belief)| (place, belief.clamped())).collect();

        let mut beliefs: BTreeMap<(FoodId, Place), (Belief, usize)> = BTreeMap::new();
        for case in cases {
            let key = (case.food.clone(), case.place.clone());
            let parent = places.get(&case.place).copied().unwrap_or(1.0);
            let (belief, lots) = beliefs
                .entry(key)
                .or_insert_with(|| (Belief::prior(case.shape, PRIOR_LOTS, parent), 0));
            *belief = belief.with(case.outcome);
            *lots += 1;
        }
        let lesson = |(belief, lots): (Belief, usize)| Lesson {
            factor: belief.clamped(),
            shown: belief.a - PRIOR_LOTS >= SHOWN_EVENTS || lots >= SHOWN_LOTS,
        };
        let factors = beliefs.into_iter().map(|(key, seen)| (key, lesson(seen))).collect();
        Learned { factors, places }
    }

    /// The factor on the published life of `food` in `place`; 1 where nothing was learned.
    pub fn factor(&self, food: &FoodId, place: &Place) -> f64 {
        let own = self.factors.get(&(food.clone(), place.clone()));
        own.map(|lesson| lesson.factor).or_else(|| self.places.get(place).copied()).unwrap_or(1.0)
    }

    /// What may be said aloud, by food and place.
    pub fn lessons(&self) -> impl Iterator<Item = (&FoodId, &Place, f64)> {
        let shown = self.factors.iter().filter(|(_, lesson)| lesson.shown);
        shown.map(|((food, place), lesson)| (food, place, lesson.factor))
    }
}
