//! The plan: what to use first, what can be eaten until the next shop, what to freeze, what not
//! to buy.
//!
//! Reads the kitchen's state through `keeping`; pure, with the time passed in. Amounts that have
//! no weight take part in orders but not in sums.

pub mod base;
pub mod cover;
pub mod numbers;
pub mod order;
pub mod view;
