//! The plan: what to use first, what can be eaten until the next shop, what to freeze, what not
//! to buy, and the posts that say so.
//!
//! Reads the kitchen's state through `keeping`; pure, with the time passed in. Amounts that have
//! no weight take part in orders but not in sums.
//!
//! # Entry points
//! - `Outlook::new` judges every lot of a household at one moment; all else hangs on it.
//! - `Outlook::morning_post`, `evening_round` are the two posts of a day.
//! - `Outlook::answer` answers questions about the household's own stock, `ask_basket` about a
//!   list; `put_away` is the advice after a shop.
//! - `Outlook::board` is what a picture shows.
//! - `Outlook::explain` says how one estimate was made.
//! - `order`, `cover`, `base` hold the arithmetic of use-first, coverage and the kitchen base.

mod absence;
mod asked;
pub mod base;
mod basket;
mod boards;
pub mod cover;
mod figures;
pub mod numbers;
pub mod order;
mod outlook;
mod pace;
mod post;
mod prices;
mod put_away;
mod staples;
mod reason;
mod stores;
mod until;
pub mod view;

pub use asked::Answer;
pub use basket::{Basket, Verdict};
pub use outlook::{Grounds, Outlook, Said};
pub use pace::Appetite;
pub use post::{Post, Press};
pub use staples::Staple;
pub use until::{Rescue, Until};
