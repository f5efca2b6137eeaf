//! Keeping: how long food lasts where it stands, as an estimate that can explain itself.
//!
//! Two clocks that never mix. The *quality clock* is a distribution: a published range of days is
//! read as the 10 % and 90 % points of the time to loss, life is spent at a rate that depends on
//! the place, and what is spent adds up over moves. The *safety clock* is a set of hard limits the
//! lot carries; nothing in this room lengthens one. Pure; called by `plan`, `chores` and
//! `answers` with the time passed in.
//!
//! # Entry points
//! - `estimate` tells when a lot is early, late, limp and out of safety, and how that was found.
//! - `Climate::of` is the temperature and humidity of a household's place on a day.
//! - `lives::base` chooses the row of the rule set an estimate starts from.
//! - `temperature`, `spread`, `air`, `chilling`, `safety` hold the formulas, one idea a file.
//! - `learning` sharpens the quality clock from the household's own outcomes.
//!
//! # Marks
//! `[S]` a published source was seen, `[M]` from memory, `[D]` a choice of our own: every number
//! that enters the code carries one in its `# Source` section.

pub mod air;
pub mod chilling;
pub mod climate;
mod estimate;
pub mod learning;
pub mod lives;
pub mod safety;
pub mod spread;
pub mod temperature;

pub use climate::{Climate, Known};
pub use estimate::{Clock, Estimate, Keeper, Lived, Quality, Step, is_guess};
pub use learning::{Learned, Lesson};
pub use lives::Basis;
