//! larderling: the shared memory and the quiet helper of a family kitchen.
//!
//! The rooms stand in the order a newcomer should read them. The core rooms are plain functions
//! over plain data: no I/O, no async, no clock, no randomness. The edge does the rest and may use
//! the core; the core never uses the edge. `tests/it/tidy.rs` holds both rules.

// Core.
pub mod words;
pub mod units;
pub mod dates;
pub mod statement;
pub mod rules;
pub mod reader;
pub mod kitchen;
pub mod keeping;
pub mod plan;
pub mod ledger;
pub mod answers;
pub mod chores;
pub mod picture;
pub mod wording;
pub mod conversation;

// Edge.
pub mod clock;
pub mod store;
pub mod desk;
pub mod outbox;
pub mod rounds;
pub mod painter;
pub mod channel;
pub mod export;
pub mod config;
pub mod telemetry;
pub mod cli;
