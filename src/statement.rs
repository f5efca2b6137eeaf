//! What a message says, once read: statements made of items, in the household's own words.
//!
//! The reader writes these, the kitchen and the answers read them, and `read` prints them. Plain
//! data; nothing here looks at text.

use serde::{Deserialize, Serialize};

use crate::dates::{Instant, KitchenDay};
use crate::units::{Minor, Quantity, Ratio, Unit};
use crate::words::{DateLabel, Destination, FoodId, Form, Intent, Place, Role, Stance};

/// Everything one message was read as.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    pub stance: Stance,
    pub statements: Vec<Statement>,
    /// Pieces of the text that look meant for the kitchen but were not understood.
    pub not_understood: Vec<String>,
    /// Why it was read so, one short line per step; filled only when asked to explain.
    pub explanation: Vec<String>,
}

/// One thing a message says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Statement {
    pub intent: Intent,
    /// 0 to 1: how sure the reader is of the intent and the items together.
    pub confidence: f32,
    /// The local day it speaks of; `None` when not said.
    pub day: Option<KitchenDay>,
    /// A total paid for the whole statement, in minor units.
    pub total: Option<Minor>,
    /// Lines of a receipt that are no food, with what they cost.
    #[serde(default)]
    pub charges: Vec<Charge>,
    /// The place or the whole house a count, question or move is about.
    pub scope: Option<Scope>,
    /// A count that lists everything there is in its scope.
    pub complete: bool,
    pub items: Vec<Item>,
    /// How long something lasted or lay out ("5 hours", "overnight" = 480), in minutes.
    pub minutes: Option<u32>,
    /// The day a plan, an absence or a question reaches to ("until the 14th", "till saturday").
    pub until: Option<KitchenDay>,
    /// A number of people (eaters, guests).
    pub people: Option<u32>,
    /// A household setting to change: its key of DESIGN section 11 or `place:NAME`, and the words
    /// given for its value; or one of the marks of this file ([`SPOKEN_FOR`], [`ON_IT`]).
    pub setting: Option<(String, String)>,
    /// What a correction says was never done ("the dill was never thrown out": discarded).
    #[serde(default)]
    pub denied: Option<Intent>,
    /// A spoken topic that is not a food: an animal, a person at risk ("baby", "pregnant"), a
    /// label ("best before"), a period ("month").
    pub topic: Option<String>,
    /// The answer is wanted as a picture ("show us the plan").
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub picture: bool,
}

/// The setting that marks food for a day: "the cauliflower is for tonight", with its items and day.
pub const SPOKEN_FOR: &str = "spoken_for";
/// The setting by which a person takes on the chores just named: "on it".
pub const ON_IT: &str = "on_it";

/// How far a statement reaches.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Scope {
    All,
    Place(Place),
}

impl Scope {
    pub fn word(&self) -> &str {
        match self {
            Scope::All => "all",
            Scope::Place(place) => place.word(),
        }
    }
}

/// One food in a statement, with what was said of it.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Item {
    /// The rule set's food, when it has one.
    pub food: Option<FoodId>,
    /// The food's own words, without amount, unit, size, packaging and preparation.
    pub name: String,
    /// A part of the food ("leaf", "peel", "stem"), by the rule set's word where it has one.
    pub part: Option<String>,
    pub form: Option<Form>,
    /// A number without its unit; `None` when the amount is vague or not said.
    pub quantity: Option<Ratio>,
    /// The upper end of a range ("2-3").
    pub quantity_high: Option<Ratio>,
    /// A share of what is on record: "half the" 1/2, "all", "the rest", "finished" 1.
    pub fraction: Option<Ratio>,
    /// `None` for plain pieces.
    pub unit: Option<Unit>,
    /// A unit of the household's own or one outside the vocabulary, as said.
    pub odd_unit: Option<String>,
    /// "some", "a few": an amount was said, and it is neither a number nor all of it.
    #[serde(default)]
    pub vague: bool,
    /// "The", "my", "those": food that is already here, and all of it unless an amount is said.
    #[serde(default)]
    pub definite: bool,
    /// The size of each unit: "2 5-lb bags" has quantity 2, unit bag, size 5 pound.
    pub size: Option<Quantity>,
    pub price: Option<Price>,
    pub place: Option<Place>,
    /// Why, in people's own words ("slimy", "bitter"): also the condition asked about.
    pub reason: Option<String>,
    pub role: Option<Role>,
    pub to: Option<Destination>,
    pub printed: Option<(DateLabel, KitchenDay)>,
}

/// A price as said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Price {
    pub minor: Minor,
    /// The unit the price is for ("2.20 a kilo"); `None` for the whole item.
    pub per: Option<Unit>,
    /// "2 for 3" is 300 minor for a quantity of 2.
    pub quantity: Option<Ratio>,
}

/// A line of a receipt that is no food.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Charge {
    pub kind: ChargeKind,
    pub name: String,
    /// Negative where it lowers the bill.
    pub minor: Minor,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChargeKind {
    Deposit,
    Fee,
    /// A tax named on its own line; often it is in the prices already.
    Tax,
    Discount,
    /// Goods of the household that are no food.
    Goods,
}

impl Statement {
    pub fn new(intent: Intent) -> Statement {
        Statement {
            intent,
            confidence: 1.0,
            day: None,
            total: None,
            charges: Vec::new(),
            scope: None,
            complete: false,
            items: Vec::new(),
            minutes: None,
            until: None,
            people: None,
            setting: None,
            denied: None,
            topic: None,
            picture: false,
        }
    }
}

/// What a person or the bot named a moment ago, so that "binned it" has something to refer to.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Mention {
    pub items: Vec<Item>,
    pub intent: Option<Intent>,
    pub at: Option<Instant>,
}
