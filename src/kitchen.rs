//! The kitchen: what is in the house, as a fold over what happened.
//!
//! Events are past tense and carry all that folding needs (lots chosen, grams, dates, limits), so
//! the fold reads no rule set, clock or setting. [`State`] is the fold; [`record`] turns what
//! people said into events and the new state. Pure; called by `conversation`.

pub mod event;
pub mod settings;
pub mod state;
mod log;
mod recent;
mod taking;
pub mod bag;
mod fold;
pub mod facts;
pub mod outcome;
mod decide;
pub mod report;

pub use decide::{
    Cx, Record, Undoing, deed_on, discard_instead, edit, lost_sight, needs_log, put_back, record,
    undo, what_became_of,
};
pub use event::{
    Amount, Change, Draw, Event, EventId, Named, NewLot, PersonId, PriceSeen, Scrap, What,
};
pub use facts::{Clock, Foods, Outage, grams};
pub use log::in_force;
pub use outcome::{
    Asks, BagNote, Choice, Deed, Left, Line, Outcome, Question, Spoken, Told, Trouble, Verdict,
};
pub use recent::{is_for_all, newest_is_for_all, newest_told, retold_event, set};
pub use settings::{Acknowledge, SettingError, Settings, Style, UnitSystem, Ways, own_unit};
pub use state::{
    Eaten, Limit, Loss, Lot, LotId, Paused, RecentUse, Standing, State, Stay, Trip, Wanted,
};
