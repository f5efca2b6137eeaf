//! One test binary: rules, language, conversations, the store, the protocol, and the outside checks.

mod support;

mod answers;
mod checks;
mod chores;
mod conversations;
mod days;
mod desk;
mod exports;
mod keeping;
mod kill;
mod kitchen;
mod ledger;
mod months;
mod noise;
mod pictures;
mod plan;
mod processes;
mod protocol;
mod questions;
mod quiet;
mod reader;
mod replay;
mod rules;
mod simulation;
mod store;
mod tidy;
mod wording;
