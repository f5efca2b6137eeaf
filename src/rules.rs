//! The rule set: what is known about foods, with a source and a grade on every fact.
//!
//! Text data files under `rules/data` are embedded, parsed once into raw shapes, and checked into
//! the types of this room; the checker reports every fault it finds, not the first. Pure: no I/O
//! at run time. The reader takes its lexicon from here, keeping its lives, answers their facts.
//! Nothing in this room writes sentences to people, apart from the short facts the data carries.
//!
//! # Entry points
//! - `Rules::embedded` parses and checks the bundle; `Rules::parse` does it for other texts.
//! - `Rules::food`, `Rules::find`, `Rules::names` go from ids and names to foods. A name that
//!   several foods share is ambiguous, and the caller asks.
//! - `Rules::life` is the default row of the quality clock, `Rules::lives` adds the other
//!   published figures; `Rules::safety_limit` is the strictest safety clock that applies.
//! - `Rules::sign` explains what people see on a food; `Food::part` what part of it they mean.
//! - `Rules::left_out` and `Rules::perishable` serve the clocks in hours.
//! - `Rules::general` holds what is true of every food: outage hours, thawing, who is at risk,
//!   refusals, poison centres. `Rules::guidance` finds one by its topic.
//! - `grade_counts` says how many facts stand on each grade.
//!
//! # How the data reads
//! One table per food, named by its id. Every fact ends in `cite = "A missouri"`: the grade and
//! the key of a source in `sources.toml`. `practice` (grade P) and `memory` (grade M) are the two
//! sources that are none. Parts named `raw`, `unripe` or `green` mean the food itself in that
//! state; a part the table does not list is unknown, and unknown is never edible.

mod bundle;
mod check;
mod general;
mod lookup;
mod raw;

pub use check::{Fault, Faults};
pub use general::{
    AnimalRule, AtRisk, BagRules, General, GeneralLimit, GeneralSign, Guidance, Hours, LeftOut,
    Outage, PoisonLine, PoisonRole, Topic, Who,
};
pub use lookup::{Found, Rules, grade_counts, has_words, normalise};

use serde::Deserialize;

use crate::units::{Ratio, Unit};
use crate::words::{FoodId, Form, Place, Verdict};

/// How good a source is. Ordered best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// An official or university page, seen.
    A,
    /// Official text, seen as a copy.
    B,
    /// Another page.
    C,
    /// Common practice, no source.
    P,
    /// From memory.
    M,
}

impl Grade {
    /// Every grade, best first.
    pub const ALL: [Grade; 5] = [Grade::A, Grade::B, Grade::C, Grade::P, Grade::M];

    /// The letter used by the data files and by `check --sources`.
    pub fn letter(self) -> &'static str {
        match self {
            Grade::A => "A",
            Grade::B => "B",
            Grade::C => "C",
            Grade::P => "P",
            Grade::M => "M",
        }
    }

    pub(crate) fn from_letter(letter: &str) -> Option<Grade> {
        Grade::ALL.into_iter().find(|grade| grade.letter() == letter)
    }

    /// A page that can be looked up, whatever its standing: A, B or C.
    pub fn is_published(self) -> bool {
        self <= Grade::C
    }
}

/// A published source, or one of the two that are none (`practice`, `memory`).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Short key used by the data files.
    pub id: String,
    /// Short name shown after an answer ("USDA FSIS", "UC Davis").
    pub short: String,
    /// Publisher, title and year as shown by "why?".
    pub full: String,
    pub url: Option<String>,
}

/// Where one fact comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Cite {
    /// Index into `Rules::sources`.
    pub source: usize,
    pub grade: Grade,
}

/// A range of whole days, `min <= max`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayRange {
    pub min: u32,
    pub max: u32,
}

/// One row of the quality clock: how long a form lasts in a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Life {
    pub form: Form,
    pub place: Place,
    pub days: DayRange,
    /// The temperature the source measured at, in degrees Celsius; the place's own otherwise.
    pub temp_c: Option<f64>,
    /// Another published figure for the same form and place, kept for "why?" only.
    pub alternative: bool,
    pub note: Option<String>,
    pub cite: Cite,
}

/// One safety clock: a hard limit in a form and place.
#[derive(Clone, Debug, PartialEq)]
pub struct SafetyLimit {
    pub form: Form,
    pub place: Place,
    /// In hours; a limit in days is kept in `days` instead.
    pub hours: Option<u32>,
    /// Whole calendar days, the day of preparation being day 1, the last day being day `days`.
    pub days: Option<u32>,
    pub why: String,
    pub cite: Cite,
}

/// A place to keep the food, best first.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceAdvice {
    pub place: Place,
    /// The short reason ("cold and damp keeps it crisp").
    pub why: String,
    pub cite: Cite,
}

/// How strongly a food makes or fears ethylene.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    None,
    Low,
    Moderate,
    High,
    VeryHigh,
}

/// Ideal conditions and physiology.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditions {
    pub temp_c: Option<(f64, f64)>,
    pub humidity_percent: Option<(f64, f64)>,
    /// Injury appears below this many degrees Celsius.
    pub chilling_below_c: Option<f64>,
    pub freezing_point_c: Option<f64>,
    pub ethylene_made: Level,
    pub ethylene_feared: Level,
    /// Commercial life at these conditions, freshly harvested; home figures are shorter.
    pub days: Option<DayRange>,
    pub cite: Cite,
}

/// How a food stands in water.
#[derive(Clone, Debug, PartialEq)]
pub struct Water {
    /// Pieces under water, or only the stem ends.
    pub manner: WaterManner,
    pub place: Place,
    pub every_days: u32,
    /// The last day is the day it was put in water plus this many days.
    pub longest_days: u32,
    /// A hard limit in hours where a source gives one (raw potato: 24).
    pub limit_hours: Option<u32>,
    pub cite: Cite,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WaterManner {
    Submerged,
    StemsOnly,
}

/// A sign of going: what people see, what it means, what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// Words people use ("limp", "bendy").
    pub words: Vec<String>,
    /// `Use`, `Limited` or `Discard`.
    pub verdict: Verdict,
    pub action: String,
    pub cite: Cite,
}

/// A part of a food and whether it may be eaten.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The rule set's word ("leaf", "peel", "stem", "root", "seed").
    pub id: String,
    /// Other words people use for it ("greens", "tops").
    pub aliases: Vec<String>,
    /// The part sold as the food itself.
    pub main: bool,
    pub verdict: Verdict,
    pub why: String,
    pub how: Option<String>,
    pub cite: Cite,
    /// Other sources, kept for "why?".
    pub others: Vec<(Verdict, Cite)>,
}

/// How to freeze or dry.
#[derive(Clone, Debug, PartialEq)]
pub struct Preserve {
    /// The short "how" for people; says why not when it is not advised.
    pub how: String,
    /// False where the result is poor enough to advise against.
    pub advised: bool,
    /// Blanching time in seconds, where the source blanches; `Some(0)`: none needed.
    pub blanch_seconds: Option<u32>,
    /// Best quality for this many months.
    pub months: Option<DayRange>,
    pub cite: Cite,
}

/// What a scrap does in the trimmings bag.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Suitability {
    Good,
    SmallAmounts,
    LeaveOut,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Trimming {
    /// The scrap ("leaf ends", "peel"); empty for the food as a whole.
    pub part: String,
    pub suitability: Suitability,
    pub why: String,
    pub cite: Cite,
}

/// Grams of one household unit of the food.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// `Piece` for a plain piece.
    pub unit: Unit,
    /// "large", "small", "medium"; `None` is the default for the unit.
    pub size: Option<String>,
    /// As bought, with peel and core.
    pub grams: Ratio,
    pub cite: Cite,
}

/// What kind of thing a food is: groups put-away advice, lists and general rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    LeafyGreen,
    Vegetable,
    Root,
    Allium,
    Herb,
    Mushroom,
    Fruit,
    Legume,
    Grain,
    NutSeed,
    Dairy,
    Egg,
    Meat,
    Fish,
    Bread,
    Prepared,
    Pantry,
    Condiment,
}

impl Kind {
    /// Fresh plants and mushrooms: what whole lasts without the fridge being a safety matter.
    pub fn is_produce(self) -> bool {
        use Kind::{Allium, Fruit, Herb, LeafyGreen, Mushroom, Root, Vegetable};
        matches!(self, LeafyGreen | Vegetable | Root | Allium | Herb | Mushroom | Fruit)
    }
}

/// One food of the rule set.
#[derive(Clone, Debug, PartialEq)]
pub struct Food {
    pub id: FoodId,
    /// Singular, lower case, as said to people.
    pub name: String,
    pub plural: String,
    /// Every other name it goes by, singular and plural, US and UK.
    pub aliases: Vec<String>,
    pub kind: Kind,
    /// Not sold as food (a toxic or ornamental plant, a look-alike): in the table so that a
    /// question about it gets an answer, never stored, planned or counted as food.
    pub hazard: bool,
    /// The form meant when nobody says one: `Cooked` for a stew, `Whole` for most.
    pub usual_form: Form,
    /// Forms that may stand at room temperature: the two-hour rule is not for them.
    pub keeps_out: Vec<Form>,
    /// Minutes at room temperature where the food is stricter than the general rule.
    pub left_out_minutes: Option<u32>,
    pub places: Vec<PlaceAdvice>,
    pub lives: Vec<Life>,
    pub safety: Vec<SafetyLimit>,
    pub conditions: Option<Conditions>,
    pub water: Option<Water>,
    pub signs: Vec<Sign>,
    pub parts: Vec<Part>,
    pub freeze: Option<Preserve>,
    pub dry: Option<Preserve>,
    pub trimmings: Vec<Trimming>,
    pub weights: Vec<Weight>,
    /// Share of the bought weight that is not eaten, as a fraction.
    pub inedible: Option<(Ratio, Cite)>,
    /// Washing and wrapping, each a short action.
    pub wash: Option<(String, Cite)>,
    pub wrap: Option<(String, Cite)>,
    /// What to do with too much of it.
    pub uses: Vec<String>,
    /// Anything people must know before eating it ("boil 30 minutes").
    pub caution: Option<(String, Cite)>,
}
