//! The messenger: fetching and translating updates, sending messages, over the Telegram Bot API.
//!
//! Entry points: `Api::new` and `Api::me`, then `fetch::poll` or `webhook::router` to put updates
//! into an inbox, `translate::arrival` to understand one, `send::Courier` to send.
//! The types of requests are teloxide's. The loop, the transport, the judgement of how a request
//! ended and the reading of updates are ours: an update may be confirmed only after it is stored,
//! a message may be sent only once, and no message may be lost for a field we do not know.

pub mod token;
pub mod api;
pub mod fetch;
pub mod webhook;
pub mod commands;
mod update;
pub mod translate;
pub mod html;
pub mod send;

pub use api::{Api, CallError, Me, PUBLIC_SERVER};
pub use fetch::{Inbox, PollError, Raw};
pub use send::Courier;
pub use token::Token;
