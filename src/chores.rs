//! Chores: what is due when.

mod lateness;

pub use lateness::{Lateness, water_due};
