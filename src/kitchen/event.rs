//! What happened: events, past tense, each enough on its own to be folded.
//!
//! The stored form is JSON tagged by `kind`. A field is only ever added, with a default that means
//! what its absence meant before; a kind is never renamed or reused. An event names the lots it
//! chose, in the order they are drawn on, with the amount in the words people used and the grams
//! that amount weighs: so a purchase mended days later is found again by everything that followed.

use serde::{Deserialize, Serialize};

use super::state::{Limit, LotId, Standing};
use crate::conversation::MessageId;
use crate::dates::{Instant, KitchenDay};
use crate::keeping::learning::Case;
use crate::statement::Charge;
use crate::units::{Minor, Quantity, Ratio};
use crate::words::{DateLabel, Destination, FoodId, Form, Place};

/// The position of an event in its household's log, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EventId(pub u64);

/// A member of a household, by number; the name stands in one table only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct PersonId(pub i64);

/// One thing that happened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Event {
    pub id: EventId,
    /// `None`: the house itself (a timer).
    pub person: Option<PersonId>,
    pub at: Instant,
    /// The local day it speaks of, which may lie before `at`.
    pub day: KitchenDay,
    /// The message it came from.
    pub message: Option<MessageId>,
    /// Set on a mended event: it counts at the position of this earlier message, not of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub replaces: Option<MessageId>,
    pub what: What,
}

/// The kinds of event.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum What {
    /// Food came into the house.
    Acquired {
        lots: Vec<NewLot>,
        /// What was paid for all of it, where said.
        paid: Option<Minor>,
    },
    /// A purchase that never came, was swapped or sent back: neither waste nor use.
    NotReceived { draw: Draw },
    /// What came in now stands where it was to go.
    PutAway { lots: Vec<LotId> },
    /// Food went to another place; it is put away there.
    Moved { change: Change },
    /// Food changed its form: cut, or cooked on its own.
    Prepared { change: Change },
    /// A dish was made out of several foods.
    Made { from: Vec<Draw>, into: NewLot },
    /// Food stands in water from this day on.
    PutInWater { change: Change },
    /// The water of these lots was changed on the event's day.
    WaterChanged { lots: Vec<LotId> },
    /// A package was opened.
    Opened { change: Change },
    /// Food was frozen or dried.
    Preserved {
        change: Change,
        /// Grams weighed after; the difference to what went in is moisture lost.
        weighed: Option<i64>,
    },
    /// Food came out of the freezer.
    Thawed { change: Change },
    /// Food was eaten or cooked and eaten.
    Used { draw: Draw },
    /// Food was given to people outside the household.
    Given { draw: Draw },
    /// Food was thrown out, composted, fed to animals or poured away.
    Discarded {
        draw: Draw,
        to: Destination,
        /// Why, in people's own words.
        reason: Option<String>,
        /// The share of it nobody eats (peel, core), where known.
        inedible: Option<Ratio>,
    },
    /// Trimmings of something already used left the kitchen.
    PartDiscarded {
        of: Named,
        part: String,
        grams: Option<i64>,
        to: Destination,
        reason: Option<String>,
    },
    /// Food stood out of its cold place.
    LeftOut {
        lots: Vec<LotId>,
        minutes: u32,
        /// The limit it passed, where it passed one.
        limit: Option<Limit>,
    },
    /// A cold place stopped cooling at this moment.
    PlaceFailed { place: Place, since: Instant },
    /// A cold place cools again after so many minutes without.
    PlaceRestored {
        place: Place,
        minutes: u32,
        /// The lots that passed a limit, each with it.
        out: Vec<(LotId, Limit)>,
    },
    /// Trimmings went into the bag for stock.
    ScrapsSaved { scraps: Vec<Scrap> },
    /// The bag was emptied without making stock of it.
    BagEmptied { to: Destination },
    /// The bag was made into stock.
    StockMade { into: NewLot },
    /// Somebody counted: what these lots hold together is this much.
    Counted {
        lots: Vec<LotId>,
        amount: Amount,
        grams: Option<i64>,
        /// The lot to make of it where nothing was on record.
        new: NewLot,
    },
    /// Nobody knows where these went: neither eaten nor waste.
    Uncounted { lots: Vec<LotId> },
    /// Something the record had lost is here.
    FoundAgain { lot: NewLot },
    /// Somebody gave a sign that these are still here.
    Seen { lots: Vec<LotId> },
    /// The record is unsure of these.
    Doubted { lots: Vec<LotId> },
    /// These are meant for a meal of this day.
    SpokenFor { lots: Vec<LotId>, on: KitchenDay },
    /// A price seen without buying.
    PriceSeen { of: Named, price: PriceSeen },
    /// Put on the shopping list.
    Wanted { of: Named, quantity: Option<Quantity> },
    /// Taken off the shopping list.
    Unwanted { of: Named },
    /// What a whole shop cost, food and all.
    TripTotal {
        total: Minor,
        /// What of it is no food, where the lines were told.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        charges: Vec<Charge>,
    },
    /// The next shop is on this day.
    TripPlanned { on: KitchenDay },
    /// Nobody eats at home from the event's day until this one.
    Away { until: KitchenDay },
    /// So many people eat on this day.
    Eaters { on: KitchenDay, people: u32 },
    /// A setting has this value from now on, checked before it was recorded.
    SettingChanged { key: String, value: String },
    /// Lots came to an end, each after so much of its published life: what the household's own
    /// outcomes teach the quality clock. No amount moves.
    Ended { cases: Vec<Case> },
    /// The earlier events of this message no longer count.
    Undone { of: MessageId },
}

/// A food by the rule set's id where it has one, and by people's own words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Named {
    pub food: Option<FoodId>,
    pub name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
}

impl Named {
    /// Trimmings of everything together, as they are weighed by people who weigh them.
    pub fn mixed_scraps() -> Named {
        Named { food: None, name: MIXED_SCRAPS.to_owned(), part: Some(MIXED_SCRAPS.to_owned()) }
    }

    pub fn is_mixed_scraps(&self) -> bool {
        self.food.is_none() && self.name == MIXED_SCRAPS
    }

    /// The key of this food in the ledger and the price memory.
    pub fn key(&self) -> &str {
        self.food.as_ref().map_or(self.name.as_str(), FoodId::as_str)
    }
}

/// What trimmings of everything together are called.
const MIXED_SCRAPS: &str = "scraps";

/// How much, as said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    Exact(Quantity),
    /// A share of what the lots hold when the event is folded, above 0 and at most 1.
    Share(Ratio),
    /// Some; never turned into a number.
    Vague,
}

impl Amount {
    pub const ALL: Amount = Amount::Share(Ratio::ONE);
}

/// An amount of one food taken out of lots, the first lot first.
///
/// What the lots cannot give is believed all the same: it was in the house without being on
/// record, and the ledger says so under "uncounted".
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Draw {
    pub of: Named,
    pub lots: Vec<LotId>,
    pub amount: Amount,
    /// Grams of the amount, as bought, where the weight is known; for a share, as it was when said.
    pub grams: Option<i64>,
}

/// Food drawn from lots that stays in the house in another form or place.
///
/// A lot drawn whole keeps its number; a part of it goes on as a new lot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Change {
    pub draw: Draw,
    /// One number for a part of each lot of the draw, and a last one for what was not on record.
    pub pieces: Vec<LotId>,
    /// The moment it happened.
    pub from: Instant,
    /// `None`: as before.
    pub form: Option<Form>,
    pub place: Option<Place>,
    /// Hard limits the change sets.
    pub limits: Vec<Limit>,
    pub water: Option<Standing>,
    /// The amount as counted after the change ("6 portions"), where said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted: Option<Quantity>,
}

/// A lot as it begins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct NewLot {
    pub lot: LotId,
    pub of: Named,
    /// The moment it came.
    pub from: Instant,
    pub form: Form,
    /// Where it is, or is going.
    pub place: Place,
    pub put_away: bool,
    pub quantity: Option<Quantity>,
    /// Grams as bought, where known.
    pub grams: Option<i64>,
    /// What it cost; `None` is not said, which is not zero.
    pub cost: Option<Minor>,
    pub limits: Vec<Limit>,
    pub printed: Option<(DateLabel, KitchenDay)>,
}

/// A price: so many minor units for this amount.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PriceSeen {
    pub day: KitchenDay,
    pub minor: Minor,
    pub quantity: Option<Quantity>,
    pub grams: Option<i64>,
}

/// One thing in the trimmings bag.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Scrap {
    pub of: Named,
    pub grams: Option<i64>,
    pub day: KitchenDay,
    /// About how much room it takes in the bag, in millilitres.
    #[serde(default = "handful_ml")]
    pub room_ml: u32,
    /// Strong in taste: it may fill only a share of the bag.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub strong: bool,
    /// Set for whole food that went into the bag instead of onto the table.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub draw: Option<Draw>,
}

/// The room a scrap of unknown amount takes.
fn handful_ml() -> u32 {
    super::bag::HANDFUL_ML
}

/// What an event is made of.
#[derive(Default)]
pub(super) struct Parts<'a> {
    /// What it takes out of lots.
    pub draws: Vec<&'a mut Draw>,
    /// The lots it begins.
    pub begun: Vec<&'a mut NewLot>,
    /// Foods it names without an amount of them.
    pub named: Vec<&'a mut Named>,
    /// Lots it refers to besides.
    pub lots: Vec<&'a mut LotId>,
}

impl What {
    /// Every lot number this event gives out.
    pub fn new_lots(&self) -> Vec<LotId> {
        match self {
            What::Acquired { lots, .. } => lots.iter().map(|new| new.lot).collect(),
            What::Moved { change }
            | What::Prepared { change }
            | What::PutInWater { change }
            | What::Opened { change }
            | What::Preserved { change, .. }
            | What::Thawed { change } => change.pieces.clone(),
            What::Made { into, .. } | What::StockMade { into } => vec![into.lot],
            What::Counted { new, .. } => vec![new.lot],
            What::FoundAgain { lot } => vec![lot.lot],
            What::NotReceived { .. }
            | What::PutAway { .. }
            | What::WaterChanged { .. }
            | What::Used { .. }
            | What::Given { .. }
            | What::Discarded { .. }
            | What::PartDiscarded { .. }
            | What::LeftOut { .. }
            | What::PlaceFailed { .. }
            | What::PlaceRestored { .. }
            | What::ScrapsSaved { .. }
            | What::BagEmptied { .. }
            | What::Uncounted { .. }
            | What::Seen { .. }
            | What::Doubted { .. }
            | What::SpokenFor { .. }
            | What::PriceSeen { .. }
            | What::Wanted { .. }
            | What::Unwanted { .. }
            | What::TripTotal { .. }
            | What::TripPlanned { .. }
            | What::Away { .. }
            | What::Eaters { .. }
            | What::SettingChanged { .. }
            | What::Ended { .. }
            | What::Undone { .. } => Vec::new(),
        }
    }

    /// The change in it, for the kinds that are one.
    pub(super) fn change_mut(&mut self) -> Option<&mut Change> {
        match self {
            What::Moved { change }
            | What::Prepared { change }
            | What::PutInWater { change }
            | What::Opened { change }
            | What::Preserved { change, .. }
            | What::Thawed { change } => Some(change),
            What::Acquired { .. }
            | What::NotReceived { .. }
            | What::PutAway { .. }
            | What::Made { .. }
            | What::WaterChanged { .. }
            | What::Used { .. }
            | What::Given { .. }
            | What::Discarded { .. }
            | What::PartDiscarded { .. }
            | What::LeftOut { .. }
            | What::PlaceFailed { .. }
            | What::PlaceRestored { .. }
            | What::ScrapsSaved { .. }
            | What::BagEmptied { .. }
            | What::StockMade { .. }
            | What::Counted { .. }
            | What::Uncounted { .. }
            | What::FoundAgain { .. }
            | What::Seen { .. }
            | What::Doubted { .. }
            | What::SpokenFor { .. }
            | What::PriceSeen { .. }
            | What::Wanted { .. }
            | What::Unwanted { .. }
            | What::TripTotal { .. }
            | What::TripPlanned { .. }
            | What::Away { .. }
            | What::Eaters { .. }
            | What::SettingChanged { .. }
            | What::Ended { .. }
            | What::Undone { .. } => None,
        }
    }

    /// What it is made of, for whoever mends it.
    pub(super) fn parts_mut(&mut self) -> Parts<'_> {
        let mut parts = Parts::default();
        match self {
            What::Acquired { lots, .. } => parts.begun.extend(lots),
            What::Moved { change }
            | What::Prepared { change }
            | What::PutInWater { change }
            | What::Opened { change }
            | What::Preserved { change, .. }
            | What::Thawed { change } => {
                parts.draws.push(&mut change.draw);
                parts.lots.extend(&mut change.pieces);
            }
            What::Made { from, into } => {
                parts.draws.extend(from);
                parts.begun.push(into);
            }
            What::Used { draw }
            | What::Given { draw }
            | What::NotReceived { draw }
            | What::Discarded { draw, .. } => parts.draws.push(draw),
            What::StockMade { into: new } | What::FoundAgain { lot: new } => parts.begun.push(new),
            What::Counted { lots, new, .. } => {
                parts.lots.extend(lots);
                parts.begun.push(new);
            }
            What::PutAway { lots }
            | What::WaterChanged { lots }
            | What::LeftOut { lots, .. }
            | What::Uncounted { lots }
            | What::Seen { lots }
            | What::Doubted { lots }
            | What::SpokenFor { lots, .. } => parts.lots.extend(lots),
            What::PlaceRestored { out, .. } => parts.lots.extend(out.iter_mut().map(|(id, _)| id)),
            What::PartDiscarded { of, .. }
            | What::PriceSeen { of, .. }
            | What::Wanted { of, .. }
            | What::Unwanted { of } => parts.named.push(of),
            What::ScrapsSaved { scraps } => {
                for scrap in scraps {
                    parts.named.push(&mut scrap.of);
                    parts.draws.extend(&mut scrap.draw);
                }
            }
            What::BagEmptied { .. }
            | What::PlaceFailed { .. }
            | What::TripTotal { .. }
            | What::TripPlanned { .. }
            | What::Away { .. }
            | What::Eaters { .. }
            | What::SettingChanged { .. }
            | What::Ended { .. }
            | What::Undone { .. } => {}
        }
        parts
    }

    /// Every lot number in it, given out or referred to.
    pub(super) fn each_lot(&mut self, act: &mut dyn FnMut(&mut LotId)) {
        let Parts { draws, begun, lots, .. } = self.parts_mut();
        draws.into_iter().flat_map(|draw| &mut draw.lots).for_each(&mut *act);
        begun.into_iter().map(|new| &mut new.lot).for_each(&mut *act);
        lots.into_iter().for_each(act);
    }

    /// The foods it names.
    pub fn names(&self) -> Vec<&Named> {
        match self {
            What::Acquired { lots, .. } => lots.iter().map(|new| &new.of).collect(),
            What::Moved { change }
            | What::Prepared { change }
            | What::PutInWater { change }
            | What::Opened { change }
            | What::Preserved { change, .. }
            | What::Thawed { change } => vec![&change.draw.of],
            What::Made { from, into } => {
                from.iter().map(|draw| &draw.of).chain([&into.of]).collect()
            }
            What::Used { draw }
            | What::Given { draw }
            | What::NotReceived { draw }
            | What::Discarded { draw, .. } => vec![&draw.of],
            What::StockMade { into } => vec![&into.of],
            What::Counted { new, .. } => vec![&new.of],
            What::FoundAgain { lot } => vec![&lot.of],
            What::PartDiscarded { of, .. }
            | What::PriceSeen { of, .. }
            | What::Wanted { of, .. }
            | What::Unwanted { of } => vec![of],
            What::ScrapsSaved { scraps } => scraps.iter().map(|scrap| &scrap.of).collect(),
            What::PutAway { .. }
            | What::WaterChanged { .. }
            | What::LeftOut { .. }
            | What::BagEmptied { .. }
            | What::PlaceFailed { .. }
            | What::PlaceRestored { .. }
            | What::Uncounted { .. }
            | What::Seen { .. }
            | What::Doubted { .. }
            | What::SpokenFor { .. }
            | What::TripTotal { .. }
            | What::TripPlanned { .. }
            | What::Away { .. }
            | What::Eaters { .. }
            | What::SettingChanged { .. }
            | What::Ended { .. }
            | What::Undone { .. } => Vec::new(),
        }
    }
}
