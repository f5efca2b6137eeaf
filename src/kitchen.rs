//! The kitchen: what is in the house, as a fold over what happened.
//!
//! Events are past tense and carry all that folding needs (lots chosen, grams, dates, limits), so
//! the fold reads no rule set, clock or setting. [`State`] is the fold; `decide` turns a statement
//! into events. Pure; called by `conversation`.

pub mod event;
pub mod settings;
pub mod state;

pub use event::{Event, EventId, PersonId, What};
pub use settings::{Acknowledge, Settings, UnitSystem};
pub use state::{Lot, LotId, State, Stay};
