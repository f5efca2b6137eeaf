//! One test binary: conversations, the store, the protocol, the simulation and the outside checks.

mod support;
