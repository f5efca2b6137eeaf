//! The words every room shares: what a message can say, what a food can be, where it can stand.
//!
//! Closed vocabularies with one printed form each; the printed forms are the machine-readable
//! formats of `read`, `ask` and `replay`, so a renamed variant is a broken contract. Nothing here
//! reads text people wrote (that is `reader`) or says anything to them (that is `wording`).

use std::fmt;

use serde::{Deserialize, Serialize};

/// The bot's name, by which it is spoken to in a group.
pub const BOT_NAME: &str = "larderling";

/// Declares a closed vocabulary: an enum, its printed words, and the way back.
macro_rules! vocabulary {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum $name { $($(#[$vdoc])* #[serde(rename = $word)] $variant),+ }

        impl $name {
            /// Every value, in the order of declaration.
            pub const ALL: &'static [$name] = &[$($name::$variant),+];

            /// The printed word: stable, used in every machine-readable format.
            pub fn word(self) -> &'static str {
                match self { $($name::$variant => $word),+ }
            }

            /// The value with this printed word, if there is one.
            pub fn from_word(word: &str) -> Option<$name> {
                match word { $($word => Some($name::$variant),)+ _ => None }
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { f.write_str(self.word()) }
        }
    };
}

vocabulary! {
    /// What one statement of a message does or asks.
    Intent {
        Acquired = "acquired", NotReceived = "not_received", Counted = "counted", Used = "used",
        Given = "given", Discarded = "discarded", Preserved = "preserved", Thawed = "thawed",
        Prepared = "prepared", Moved = "moved", PutAway = "put_away", Opened = "opened",
        LeftOut = "left_out", Outage = "outage", PutInWater = "put_in_water",
        WaterChanged = "water_changed", ScrapsSaved = "scraps_saved", StockMade = "stock_made",
        Wanted = "wanted", Unwanted = "unwanted", TripTotal = "trip_total",
        TripPlanned = "trip_planned", Away = "away", Eaters = "eaters", PriceAsked = "price_asked",
        AskFirst = "ask_first", AskHave = "ask_have", AskWhere = "ask_where",
        AskKeeps = "ask_keeps", AskPart = "ask_part", AskCondition = "ask_condition",
        AskLeftOut = "ask_left_out", AskNeighbours = "ask_neighbours", AskWash = "ask_wash",
        AskPreserve = "ask_preserve", AskThaw = "ask_thaw", AskReheat = "ask_reheat",
        AskAmount = "ask_amount", AskUseUp = "ask_use_up", AskWhoMay = "ask_who_may",
        AskDateLabel = "ask_date_label", AskTrimmings = "ask_trimmings", AskPlan = "ask_plan",
        AskBasket = "ask_basket", AskNeed = "ask_need", AskLedger = "ask_ledger",
        AskLog = "ask_log", Why = "why", EatenAlready = "eaten_already", Setting = "setting",
        Undo = "undo", Correct = "correct", Thanks = "thanks", Help = "help", None = "none",
    }
}

vocabulary! {
    /// Whether the bot acts on a message, asks one short question back, or says nothing.
    Stance { Act = "act", Ask = "ask", Silent = "silent" }
}

vocabulary! {
    /// The form a lot is in.
    Form {
        Whole = "whole", Cut = "cut", InWater = "in_water", Cooked = "cooked", Frozen = "frozen",
        Thawed = "thawed", Dried = "dried", Opened = "opened",
    }
}

vocabulary! {
    /// The class of an answer. Never "safe" for the unknown.
    Verdict {
        Edible = "edible", EdibleWhenCooked = "edible_when_cooked", Limited = "limited",
        NotFood = "not_food", Toxic = "toxic", Use = "use", Discard = "discard", DoNot = "do_not",
        Place = "place", Keeps = "keeps", HowTo = "how_to", Unknown = "unknown",
    }
}

vocabulary! {
    /// Where food that leaves the kitchen goes (Food Loss and Waste Accounting and Reporting
    /// Standard, WRI 2016: destinations; "people" is giving away and is not waste).
    Destination {
        Compost = "compost", AnimalFeed = "animal_feed", Trash = "trash", Drain = "drain",
        People = "people",
    }
}

vocabulary! {
    /// The part an item plays in a preparation: what was made, or what it was made from.
    Role { Made = "made", From = "from" }
}

vocabulary! {
    /// The kind of date printed on a package.
    DateLabel { UseBy = "use_by", BestBefore = "best_before" }
}

/// A place food can stand: the trade's own places, and the household's (a cellar, a porch).
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub enum Place {
    Counter,
    CoolDark,
    Fridge,
    Crisper,
    Freezer,
    InGround,
    /// A place of the household's own, by its lower-case name.
    Own(String),
}

impl Place {
    pub fn word(&self) -> &str {
        match self {
            Place::Counter => "counter",
            Place::CoolDark => "cool_dark",
            Place::Fridge => "fridge",
            Place::Crisper => "crisper",
            Place::Freezer => "freezer",
            Place::InGround => "in_ground",
            Place::Own(name) => name,
        }
    }
}

impl From<String> for Place {
    fn from(word: String) -> Place {
        match word.as_str() {
            "counter" => Place::Counter,
            "cool_dark" => Place::CoolDark,
            "fridge" => Place::Fridge,
            "crisper" => Place::Crisper,
            "freezer" => Place::Freezer,
            "in_ground" => Place::InGround,
            _ => Place::Own(word),
        }
    }
}

impl From<Place> for String {
    fn from(place: Place) -> String {
        place.word().to_owned()
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// The id of a food in the rule set: lower-case words joined by `_` (`sweet_potato`).
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct FoodId(String);

impl FoodId {
    pub fn new(id: impl Into<String>) -> FoodId {
        FoodId(id.into())
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for FoodId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
