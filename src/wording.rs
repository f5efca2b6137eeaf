//! Every sentence for people, through typed functions over one Fluent file per language.
//!
//! Nothing outside this room writes a sentence, a list or a button label. The engine is private
//! to the room; the rooms under it group the functions by what they speak of. Pure.

mod amounts;
mod answers;
mod boards;
mod console;
mod engine;
mod figures;
mod kitchen;
mod manners;
mod member;
mod posts;
mod stores;

pub(crate) use answers::{Sentences, capital, sentence};
pub use engine::{Wording, WordingError};
pub use kitchen::Voice;
pub use posts::{Number, ToDo};
