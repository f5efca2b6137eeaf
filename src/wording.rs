//! Every sentence for people, through typed functions over one Fluent file per language.
//!
//! Nothing outside this room writes a sentence, a list or a button label. The engine is private
//! to the room; the rooms under it group the functions by what they speak of. Pure.

mod answers;
mod engine;
mod kitchen;
mod manners;
mod console;
mod posts;

pub(crate) use answers::{Sentences, capital, sentence};
pub use engine::Wording;
