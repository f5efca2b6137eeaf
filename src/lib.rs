//! larderling: the shared memory and the quiet helper of a family kitchen.
//!
//! The rooms stand in the order a newcomer should read them. The core rooms are plain functions
//! over plain data: no I/O, no async, no clock, no randomness. The edge does the rest and may use
//! the core; the core never uses the edge. `tests/it/tidy.rs` holds both rules.

// Core.
pub mod dates;
pub mod rules;
pub mod statement;
pub mod units;
pub mod words;
