//! The state of a household's kitchen: lots and what else the events add up to.

use serde::{Deserialize, Serialize};

use super::settings::Settings;
use crate::conversation::MessageId;
use crate::dates::{Instant, KitchenDay};
use crate::units::{Minor, Quantity};
use crate::words::{DateLabel, FoodId, Form, Place};

/// A lot, by number within its household, in order of arrival.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct LotId(pub u64);

/// An amount of one food, in one form, in one place, that came in together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lot {
    pub id: LotId,
    /// `None` for a food outside the rule set, which goes by its own `name`.
    pub food: Option<FoodId>,
    pub name: String,
    pub part: Option<String>,
    pub form: Form,
    pub place: Place,
    /// What is left, in the unit people said; `None` while the amount is vague.
    pub quantity: Option<Quantity>,
    /// Grams left, as bought; `None` where the weight is not known.
    pub grams: Option<i64>,
    /// What was paid for what is left.
    pub cost: Option<Minor>,
    /// The local day it came in.
    pub since: KitchenDay,
    pub put_away: bool,
    /// Where it has been, oldest first; the last one is where it is now.
    pub stays: Vec<Stay>,
    /// Hard limits on it, each with the rule it rests on. The earliest holds.
    pub limits: Vec<Limit>,
    pub printed: Option<(DateLabel, KitchenDay)>,
    pub water: Option<Standing>,
    /// The last local day somebody gave a sign of it.
    pub last_seen: KitchenDay,
    pub doubtful: bool,
    /// The message it came from.
    pub from: Option<MessageId>,
}

/// A time spent in one place and form. Life spent adds up over stays.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stay {
    pub from: Instant,
    pub form: Form,
    /// Where it stood: the counter until it is put away.
    pub place: Place,
}

/// One hard limit: the last day, or the moment, it may be eaten.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limit {
    pub day: Option<KitchenDay>,
    pub at: Option<Instant>,
    /// The reason in few words, and the source's short name.
    pub why: String,
    pub source: String,
}

/// How a lot stands in water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Standing {
    pub since: KitchenDay,
    pub changed: KitchenDay,
    pub every_days: u32,
    /// The last day: use today or throw out.
    pub last_day: KitchenDay,
}

/// What the events of one household add up to.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct State {
    /// The number of the last event folded in.
    pub last_event: u64,
    pub settings: Settings,
    pub lots: Vec<Lot>,
}
