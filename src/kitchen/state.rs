//! The state of a household's kitchen: lots and what else the events add up to.
//!
//! Only `fold` writes it. Everything in it stands in a fixed order, so that two equal states
//! print the same bytes.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::event::{Named, PersonId, PriceSeen, Scrap};
use super::settings::Settings;
use crate::conversation::MessageId;
use crate::dates::{Instant, KitchenDay};
use crate::keeping::learning::Taught;
use crate::ledger::Totals;
use crate::statement::Charge;
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
    /// The day it is meant for, where somebody said so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spoken_for: Option<KitchenDay>,
    /// The message it came from.
    pub from: Option<MessageId>,
    /// Who reported it.
    pub by: Option<PersonId>,
    /// For a dish: grams as bought of each food in it, by ledger key. They sum to `grams`. Empty
    /// for a lot of one food.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub contents: BTreeMap<String, i64>,
    /// Hard limits waiting while it is frozen.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub paused: Vec<Paused>,
    /// Grams it began with, as bought; `None` where the weight was not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub began: Option<i64>,
}

impl Lot {
    /// The food's key in the ledger and the price memory.
    pub fn key(&self) -> &str {
        self.food.as_ref().map_or(self.name.as_str(), FoodId::as_str)
    }

    pub fn named(&self) -> Named {
        Named { food: self.food.clone(), name: self.name.clone(), part: self.part.clone() }
    }

    /// The last day it may be eaten, from the hard limits; the earliest holds.
    ///
    /// A limit that is a moment counts for the local day of that moment in `zone`.
    pub fn safety_day(&self, zone: crate::dates::Zone) -> Option<KitchenDay> {
        let days = self
            .limits
            .iter()
            .flat_map(|limit| [limit.day, limit.at.map(|at| at.day(zone))].into_iter().flatten());
        days.min()
    }

    /// The moment after which it may no longer be eaten, where a limit is one of hours.
    pub fn safety_moment(&self) -> Option<Instant> {
        self.limits.iter().filter_map(|limit| limit.at).min()
    }

    /// Whether a hard limit is passed at `now`.
    pub fn is_out(&self, now: Instant, zone: crate::dates::Zone) -> bool {
        let today = now.day(zone);
        self.limits.iter().any(|limit| {
            limit.day.is_some_and(|day| day < today) || limit.at.is_some_and(|at| at < now)
        })
    }
}

/// A hard limit while the lot is frozen: freezing stops this clock and never resets it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Paused {
    /// Days left on the day it was frozen, that day not counted; the day it thaws counts.
    pub days_left: i64,
    pub why: String,
    pub source: String,
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct State {
    /// The number of the last event folded in.
    pub last_event: u64,
    /// The number the next lot gets; never given twice, not even after an undo.
    pub next_lot: u64,
    pub settings: Settings,
    /// What is in the house, by number.
    pub lots: Vec<Lot>,
    /// The trimmings bag, oldest first.
    pub trimmings: Vec<Scrap>,
    /// The shopping list, oldest first.
    pub wanted: Vec<Wanted>,
    /// Grams by ledger key.
    pub ledger: BTreeMap<String, Totals>,
    /// Grams, money and words of what was thrown out, one row each, oldest first.
    pub losses: Vec<Loss>,
    /// Prices paid or seen, by ledger key, oldest first.
    pub prices: BTreeMap<String, Vec<PriceSeen>>,
    /// Money spent, shop by shop, oldest first.
    pub trips: Vec<Trip>,
    pub next_trip: Option<KitchenDay>,
    /// Absences, first and last day.
    pub away: Vec<(KitchenDay, KitchenDay)>,
    /// Days on which another number of people eats.
    pub eaters: BTreeMap<KitchenDay, u32>,
    /// Places that stand without cooling, since when.
    pub failed: BTreeMap<Place, Instant>,
    /// What was eaten lately, oldest first: to notice the same use told twice.
    pub recent_uses: Vec<RecentUse>,
    /// The last local day on which any person reported something.
    pub last_heard: Option<KitchenDay>,
    /// What was eaten in each of the last `WEEKS_KEPT` weeks, by ledger key and week.
    #[serde(default)]
    pub eaten: BTreeMap<String, BTreeMap<i64, Eaten>>,
    /// What the household's own outcomes taught the quality clock.
    #[serde(default)]
    pub taught: Taught,
}

impl Default for State {
    fn default() -> State {
        State {
            last_event: 0,
            next_lot: 1,
            settings: Settings::default(),
            lots: Vec::new(),
            trimmings: Vec::new(),
            wanted: Vec::new(),
            ledger: BTreeMap::new(),
            losses: Vec::new(),
            prices: BTreeMap::new(),
            trips: Vec::new(),
            next_trip: None,
            away: Vec::new(),
            eaters: BTreeMap::new(),
            failed: BTreeMap::new(),
            recent_uses: Vec::new(),
            last_heard: None,
            eaten: BTreeMap::new(),
            taught: Taught::default(),
        }
    }
}

impl State {
    pub fn lot(&self, id: LotId) -> Option<&Lot> {
        self.lots.iter().find(|lot| lot.id == id)
    }
}

/// One line of the shopping list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Wanted {
    pub of: Named,
    pub quantity: Option<Quantity>,
    pub by: Option<PersonId>,
    pub since: KitchenDay,
}

/// One time something was lost, for "what do we lose most, and why".
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Loss {
    pub day: KitchenDay,
    pub of: Named,
    pub grams: Option<i64>,
    pub cost: Option<Minor>,
    pub to: crate::words::Destination,
    pub reason: Option<String>,
}

/// The most a whole shop is taken to be reduced by, in per cent [D].
const DISCOUNT_PERCENT: i64 = 20;

/// One shop: what its lines add up to, and the total paid where somebody said it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Trip {
    pub day: KitchenDay,
    pub last_at: Instant,
    /// The sum of the prices of its lines.
    pub itemised: Minor,
    /// What was paid in all: food, deposits and other goods.
    pub total: Option<Minor>,
    /// What of it was no food, where the lines were told.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub charges: Vec<Charge>,
}

impl Trip {
    /// Whether a total said on `day` is that of this shop: it is of the day or the one before,
    /// has none yet, and a discount at most lies between its lines and the total.
    pub fn closes(&self, total: Minor, day: KitchenDay) -> bool {
        let least = self.itemised.0.saturating_mul(100 - DISCOUNT_PERCENT) / 100;
        self.total.is_none() && (0..=1).contains(&day.days_since(self.day)) && total.0 >= least
    }

    /// What it cost: the total where it is known, else the sum of its lines.
    pub fn cost(&self) -> Minor {
        self.total.unwrap_or(self.itemised)
    }
}

/// How many weeks of eating are remembered, the current one among them.
pub const WEEKS_KEPT: i64 = 13;

/// The number of a day's week, Monday first.
pub fn week_of(day: KitchenDay) -> i64 {
    const A_MONDAY: Option<KitchenDay> = KitchenDay::new(1970, 1, 5);
    A_MONDAY.map_or(0, |monday| day.days_since(monday).div_euclid(7))
}

/// What of one food was eaten in one week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Eaten {
    pub grams: i64,
    /// Where no weight is known: thousandths of a piece, and millilitres.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub milli_pieces: i64,
    #[serde(default, skip_serializing_if = "is_zero")]
    pub millilitres: i64,
}

fn is_zero(number: &i64) -> bool {
    *number == 0
}

/// A use somebody reported.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RecentUse {
    pub at: Instant,
    pub by: Option<PersonId>,
    pub key: String,
    pub quantity: Option<Quantity>,
}
