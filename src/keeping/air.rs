//! The air around food: dryness, which makes it limp, and ethylene, which makes it old.
//!
//! Limp is not lost. The water-loss limits of the trade are limits of sale; passing one makes a
//! lot "limp" (perk it up in cold water, cook it, make stock) and never touches its chance of loss.

use crate::rules::{Food, Kind, Level};
use crate::words::Place;

/// Saturation vapour pressure in kPa.
///
/// # Source
/// FAO Irrigation and Drainage Paper 56 (1998), equation 11 [S].
pub fn saturation_kpa(celsius: f64) -> f64 {
    0.6108 * (17.27 * celsius / (celsius + 237.3)).exp()
}

/// The vapour pressure deficit in kPa at a temperature and relative humidity.
pub fn deficit_kpa(celsius: f64, humidity_percent: f64) -> f64 {
    saturation_kpa(celsius) * (1.0 - humidity_percent / 100.0)
}

/// The water-loss coefficient in per cent a day and kPa, from a loss measured in some air.
pub fn loss_coefficient(percent_per_day: f64, deficit_kpa: f64) -> f64 {
    percent_per_day / deficit_kpa
}

/// Days until `limit_percent` of the weight is gone as water.
pub fn days_to_limp(limit_percent: f64, coefficient: f64, deficit_kpa: f64, pack: f64) -> f64 {
    limit_percent / (coefficient * deficit_kpa * pack)
}

/// How food is packed: the share of the bare loss that remains.
///
/// # Source
/// [D]; no measured pack factors were found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pack {
    Bare,
    OpenBag,
    ClosedBag,
}

impl Pack {
    pub fn factor(self) -> f64 {
        match self {
            Pack::Bare => 1.0,
            Pack::OpenBag => 0.3,
            Pack::ClosedBag => 0.1,
        }
    }
}

/// How a food goes limp: its water-loss coefficient and the loss at which it does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wilting {
    /// Per cent a day and kPa.
    pub coefficient: f64,
    /// Per cent of the weight.
    pub limit_percent: f64,
}

/// Edges of the published loss classes at 5 °C and 80 % humidity, as coefficients.
///
/// # Source
/// Applied Horticultural Research, postharvest.net.au, "Display considerations": losses up to
/// 0.7, 1.2 and 1.6 per cent a day; the top class has no upper edge, so its lower one is used [S].
const LOW: f64 = 4.01;
const MODERATE: f64 = 6.88;
const HIGH: f64 = 9.17;
const VERY_HIGH: f64 = 9.2;

/// The loss at which leaves and roots without a figure of their own are limp, in per cent [D].
const LIMIT_PERCENT: f64 = 6.0;

/// How `food` wilts whole; `None` for what does not (dry bulbs, fruit, what is not a plant).
///
/// # Source
/// Classes: as the constants above [S]. Limits: bunched carrots 4 %, small radishes 5 %, Kays
/// 1991 as cited in "Fruit and Vegetable Quality" [S]; 6 % for the rest [D].
pub fn wilting(food: &Food) -> Option<Wilting> {
    let coefficient = match food.id.as_str() {
        "cabbage" | "pumpkin" | "eggplant" | "sweet_potato" | "bell_pepper" | "pepper" => LOW,
        "celery" | "leek" | "lettuce" | "cauliflower" | "zucchini" => MODERATE,
        "green_bean" | "brussels_sprouts" | "scallion" | "napa_cabbage" => HIGH,
        "carrot" | "parsnip" | "kale" | "broccoli" | "spinach" => VERY_HIGH,
        "potato" | "onion" | "garlic" | "shallot" => return None,
        _ => match food.kind {
            Kind::LeafyGreen | Kind::Herb | Kind::Root => VERY_HIGH,
            Kind::Vegetable => MODERATE,
            Kind::Allium
            | Kind::Mushroom
            | Kind::Fruit
            | Kind::Legume
            | Kind::Grain
            | Kind::NutSeed
            | Kind::Dairy
            | Kind::Egg
            | Kind::Meat
            | Kind::Fish
            | Kind::Bread
            | Kind::Prepared
            | Kind::Pantry
            | Kind::Condiment => return None,
        },
    };
    let limit_percent = match food.id.as_str() {
        "carrot" => 4.0,
        "radish" => 5.0,
        _ => LIMIT_PERCENT,
    };
    Some(Wilting { coefficient, limit_percent })
}

/// The cleanest air of the ethylene measurements, in microlitres a litre.
const CLEAN_UL: f64 = 0.005;

/// No more than this share of life is taken by ethylene.
///
/// # Source
/// UC Davis, broccoli produce facts: 2 ppm at 10 °C halves its life [S].
const ETHYLENE_FLOOR: f64 = 0.5;

/// The share of life lost for each tenfold of ethylene, from two points.
///
/// # Source
/// Wills et al. 1999, Aust. J. Exp. Agric. 39:221: over 23 kinds, 1.6 times longer at 0.005 than
/// at 0.1 microlitres a litre, linear in the logarithm [S].
pub fn ethylene_slope() -> f64 {
    (1.0 - 1.0 / 1.6) / (0.1_f64 / CLEAN_UL).log10()
}

/// The share of its cleanest-air life that non-climacteric produce keeps at `microlitres`.
pub fn ethylene_life(microlitres: f64) -> f64 {
    let tenfolds = (microlitres.max(CLEAN_UL) / CLEAN_UL).log10();
    (1.0 - ethylene_slope() * tenfolds).max(ETHYLENE_FLOOR)
}

/// The share of life left in a home fridge with apples in it against one without.
///
/// # Source
/// Wills et al. 2000: home fridges measured at 0.20 with and 0.029 microlitres a litre without
/// apples [S].
pub fn ethylene_fridge() -> f64 {
    ethylene_life(0.20) / ethylene_life(0.029)
}

/// Whether food in `place` shares its air with what stands in `other`: the same closed space.
///
/// Rooms are not closed; the crisper is a drawer of the fridge; a fridge of the household's own
/// is told by its name [D].
pub fn same_closed_air(place: &Place, other: &Place) -> bool {
    let space = |place: &Place| match place {
        Place::Fridge | Place::Crisper => Some("fridge".to_owned()),
        Place::Own(name) if name.contains("fridge") || name.contains("refrigerator") => {
            Some(name.clone())
        }
        Place::Own(_) | Place::Counter | Place::CoolDark | Place::Freezer | Place::InGround => None,
    };
    space(place).is_some_and(|here| space(other) == Some(here))
}

/// Whether `food`, whole, gives off enough ethylene to age its neighbours [D: high and above].
pub fn makes_ethylene(food: &Food) -> bool {
    food.conditions.as_ref().is_some_and(|c| c.ethylene_made >= Level::High)
}

/// Whether `food` ages in ethylene [D: high and above].
pub fn fears_ethylene(food: &Food) -> bool {
    food.conditions.as_ref().is_some_and(|c| c.ethylene_feared >= Level::High)
}
