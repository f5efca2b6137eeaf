//! What happened: events, past tense, each enough on its own to be folded.

use serde::{Deserialize, Serialize};

use crate::conversation::MessageId;
use crate::dates::{Instant, KitchenDay};

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
    pub what: What,
}

/// The kinds of event.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum What {
    /// The events of this message no longer count.
    Undone { of: MessageId },
}
