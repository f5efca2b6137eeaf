//! What `decide` hands back: events to record, what was understood, a question where unsure.
//!
//! Typed; the sentences are in `wording`.

use serde::{Deserialize, Serialize};

use super::event::{Named, What};
use super::settings::SettingError;
use super::state::LotId;
use crate::conversation::MessageId;
use crate::dates::KitchenDay;
use crate::statement::{Charge, Statement};
use crate::units::{Minor, Quantity, Ratio};
use crate::words::{Destination, Form, Place};

/// What one statement leads to.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outcome {
    pub events: Vec<Happened>,
    pub told: Vec<Told>,
    pub question: Option<Question>,
    /// Foods whose standing today is said once the events count.
    pub net: Vec<Named>,
}

/// An event before it is numbered.
#[derive(Clone, Debug, PartialEq)]
pub struct Happened {
    pub day: KitchenDay,
    /// The message whose place it takes, for a mended event.
    pub replaces: Option<MessageId>,
    pub what: What,
}

/// One thing understood: what happened, to which foods.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    pub deed: Deed,
    pub lines: Vec<Line>,
    /// The day it is about, when that is not today.
    pub day: Option<KitchenDay>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Deed {
    CameIn {
        paid: Option<Minor>,
    },
    NotReceived,
    Used,
    Given,
    Discarded {
        to: Destination,
    },
    Frozen,
    Dried,
    Thawed,
    Moved,
    PutAway,
    Cut,
    Cooked,
    Opened,
    /// The last line is the dish, the others what went into it.
    Made,
    InWater,
    WaterChanged,
    Counted,
    /// Nobody knows where it went.
    Gone,
    /// Out of the cold too long, or not too long: see each line's verdict.
    LeftOut,
    Outage {
        place: Place,
        minutes: u32,
    },
    /// A cold place stopped cooling; it keeps so long with the door shut, by this source.
    PlaceFailed {
        place: Place,
        keeps_minutes: u32,
        source: String,
    },
    ScrapsSaved,
    /// Scraps that do not go into the trimmings bag, each line with why.
    KeptOutOfBag,
    /// What the bag is like after what went in.
    BagNote(BagNote),
    BagEmptied {
        to: Destination,
    },
    StockMade,
    Wanted,
    Unwanted,
    TripTotal {
        total: Minor,
        itemised: Minor,
        /// What of it is no food, where the lines were told.
        charges: Vec<Charge>,
    },
    TripPlanned {
        on: KitchenDay,
    },
    Away {
        /// `None`: from now on.
        from: Option<KitchenDay>,
        until: KitchenDay,
    },
    Eaters {
        on: KitchenDay,
        people: u32,
    },
    Setting {
        key: String,
        value: String,
    },
    StillHere,
    /// Meant for a meal of this day.
    SpokenFor {
        on: KitchenDay,
    },
    /// What is on record now, after something was mended: each line's `left`.
    Now,
    /// The deeds of an earlier message no longer count.
    Undone(Vec<Told>),
    /// An undo was taken back.
    Restored(Vec<Told>),
    /// The deeds of an earlier message count as told here.
    Mended(Vec<Told>),
    Redated {
        to: KitchenDay,
        deeds: Vec<Told>,
    },
    Trouble(Trouble),
}

/// What is worth saying of the trimmings bag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BagNote {
    /// Strong flavours fill more of it than they should.
    TooStrong,
    /// Full enough for stock.
    Ready,
}

/// One food of a deed.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub of: Named,
    pub form: Form,
    pub amount: Spoken,
    pub place: Option<Place>,
    /// What is left of the food after it, where that is worth saying.
    pub left: Option<Left>,
    /// How much of it was not on record; `Some(None)`: an unknown amount.
    pub not_on_record: Option<Option<Quantity>>,
    /// The last day it may be eaten, from a hard limit that came into force.
    pub eat_by: Option<KitchenDay>,
    /// The day its water is changed next.
    pub water_due: Option<KitchenDay>,
    /// The rule set has nothing on it.
    pub unknown: bool,
    pub verdict: Option<Verdict>,
    /// Why, from the rule, with the source's short name.
    pub why: Option<(String, String)>,
    pub lots: Vec<LotId>,
    /// The record had it gone: by which deed, on which day, told in which message.
    pub gone: Option<(Box<Deed>, KitchenDay, MessageId)>,
    /// There is one of it at most, so that it is said in the singular.
    pub one: bool,
}

/// An amount as it is said back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spoken {
    Exact(Quantity),
    Range(Quantity, Ratio),
    Share(Ratio),
    All,
    Some,
    /// Not said.
    Plain,
}

/// What is left.
#[derive(Clone, Debug, PartialEq)]
pub enum Left {
    Nothing,
    Exact(Vec<Quantity>, Place),
    /// An amount nobody knows.
    Some(Place),
}

/// What to do with a lot after it stood warm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    Out,
    LookAt,
    Keep,
}

/// Why something was not recorded.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// An amount no kitchen holds.
    TooMuch {
        name: String,
    },
    NoAmount {
        name: String,
    },
    PriceTooHigh,
    /// A day that is not there yet, for something that has happened.
    InTheFuture {
        day: KitchenDay,
    },
    /// A day so long ago that it is more likely a slip.
    TooLongAgo {
        day: KitchenDay,
    },
    NothingToUndo,
    /// Nothing of that name in the messages that could be mended.
    NothingToMend {
        name: Option<String>,
    },
    NothingToPutAway,
    /// There is nothing on the shopping list.
    ListEmpty,
    /// There is nothing in the trimmings bag.
    BagEmpty,
    NothingInWater {
        name: Option<String>,
    },
    /// No lot of that name on record.
    NotOnRecord {
        name: String,
    },
    /// Not sold as food: never stored or counted.
    NotFood {
        name: String,
    },
    Setting(SettingError),
    NoFood,
}

/// One short question, with what each answer leads to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Question {
    pub asks: Asks,
    pub choices: Vec<Choice>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Asks {
    /// Two people reported the same shop: the same one, or more?
    SameShop { items: Vec<Named> },
    /// Two people reported the same use.
    SameUse { items: Vec<Named> },
    /// Was it out of the cold for longer than so many minutes?
    HowLongOut { items: Vec<Named>, minutes: u32 },
    /// Several messages fit: of which day?
    WhichOne { of: Named },
    /// What is to be mended was so long ago: all the same?
    LongAgo { of: Named, day: KitchenDay },
}

/// An answer: its button key, and the statements it stands for (none: nothing to record).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    pub key: String,
    /// The day it stands for, which is then its label.
    #[serde(default)]
    pub day: Option<KitchenDay>,
    pub then: Vec<Statement>,
}
