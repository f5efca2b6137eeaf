//! What the tests share.

pub mod messenger;
pub mod process;
pub mod referee;
pub mod script;
