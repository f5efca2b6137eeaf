//! The messenger: fetching and translating updates, sending messages, over the Telegram Bot API.
//!
//! Entry points: `Api::new` and `Api::me`, then `fetch::poll` or `webhook::router` to put updates
//! into an inbox, `translate::inbound` to understand one, `send::send` to carry one out. Types and
//! request payloads are teloxide's; the loop, the transport and the judgement of how a request
//! ended are ours, because an update may be confirmed only after it is stored, and a message may
//! be sent only once.

pub mod token;
pub mod exchange;
pub mod api;
pub mod fetch;
pub mod webhook;
pub mod commands;
pub mod translate;
pub mod html;
pub mod send;

pub use api::{Api, CallError, Me, PUBLIC_SERVER};
pub use fetch::{Inbox, PollError, Raw};
pub use token::Token;
