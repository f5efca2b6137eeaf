//! The messaging protocol: the channel against a server, then the whole program as a process.

mod fetching;
mod sending;
mod translating;
mod walking;
mod joining;
mod discreet;
mod manners;
mod foreign;
