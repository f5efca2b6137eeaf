//! Where people chat: what arrives from there, and the one test of whether the bot is spoken to.
//!
//! A channel turns its own updates into [`Arrival`]s and hands them to the desk, and implements
//! [`Sender`](crate::outbox::Sender) for the way out. It never touches a household, the log or the
//! core. Adding a channel is adding a module here and a word to [`Channel`].

pub mod telegram;
pub mod board;
pub mod console;
pub mod replay;

use serde::{Deserialize, Serialize};

use crate::conversation::{Button, Rich, Standing, Unreadable};
use crate::dates::Instant;
use crate::words::BOT_NAME;

/// A way people reach the bot. The word is stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Channel {
    Telegram,
    Console,
    Replay,
}

impl Channel {
    pub const ALL: &'static [Channel] = &[Channel::Telegram, Channel::Console, Channel::Replay];

    pub fn word(self) -> &'static str {
        match self {
            Channel::Telegram => "telegram",
            Channel::Console => "console",
            Channel::Replay => "replay",
        }
    }

    pub fn from_word(word: &str) -> Option<Channel> {
        Channel::ALL.iter().copied().find(|channel| channel.word() == word)
    }
}

/// A chat as its channel names it.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ChatKey {
    pub channel: Channel,
    pub chat: String,
    /// The topic of a chat that has them; empty for none and for the general one.
    pub topic: String,
}

impl ChatKey {
    pub fn new(channel: Channel, chat: impl Into<String>) -> ChatKey {
        ChatKey { channel, chat: chat.into(), topic: String::new() }
    }
}

/// Who wrote or pressed, as the channel names them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Writer {
    /// The channel's own id of the person, stable over renames.
    pub external: String,
    pub name: String,
}

/// One thing that reached a chat, for the desk.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Arrival {
    pub chat: ChatKey,
    /// The stored update this came from; the transaction that handles it also marks it done.
    /// `None` where nothing is ever delivered twice (console, replay).
    pub update: Option<i64>,
    pub at: Instant,
    pub what: Arrived,
    pub context: Context,
}

impl Arrival {
    /// Who wrote or pressed; `None` for what nobody in particular did.
    pub fn writer(&self) -> Option<&Writer> {
        match &self.what {
            Arrived::Said { from, .. }
            | Arrived::Edited { from, .. }
            | Arrived::Unreadable { from, .. }
            | Arrived::Called { from, .. }
            | Arrived::Pressed { from, .. } => Some(from),
            Arrived::Left { who } => Some(who),
            Arrived::Welcomed { by, .. } => by.as_ref(),
            Arrived::Joined { .. }
            | Arrived::Moved { .. }
            | Arrived::Misplaced
            | Arrived::Dismissed
            | Arrived::Nothing => None,
        }
    }
}

/// What the channel knows besides what arrived.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Context {
    /// The language tag (BCP 47) of whoever did it.
    pub language: Option<String>,
    /// What the group is called.
    pub title: Option<String>,
    pub standing: Standing,
    /// The messages sent together with this one share it.
    pub album: Option<String>,
}

impl Context {
    /// Of a channel without ranks: everybody decides.
    pub fn of_equals() -> Context {
        Context { standing: Standing::Admin, ..Context::default() }
    }
}

/// What arrived.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Arrived {
    Said {
        from: Writer,
        message: Spoken,
    },
    Edited {
        from: Writer,
        message: Spoken,
    },
    Unreadable {
        from: Writer,
        message: Spoken,
        kind: Unreadable,
    },
    /// A button under the bot's message `on`. `query` is answered so that the waiting sign goes.
    Pressed {
        from: Writer,
        on: String,
        key: String,
        private: bool,
        query: Option<String>,
    },
    Joined {
        who: Vec<Writer>,
    },
    Left {
        who: Writer,
    },
    /// The chat goes on under another key (a group that became a supergroup).
    Moved {
        to: ChatKey,
    },
    /// The bot was added to the chat, or may write to it again.
    Welcomed {
        by: Option<Writer>,
        /// Plain messages of the chat reach the bot.
        hears: bool,
        private: bool,
    },
    /// Somebody came by a link that carries a token, into a private chat or a group.
    Called {
        from: Writer,
        message: Spoken,
        token: String,
    },
    /// The bot was put where people do not talk: it leaves.
    Misplaced,
    /// The bot was removed from the chat or blocked: nothing is sent there from now on.
    Dismissed,
    /// An update that holds nothing for us. Only marked done.
    Nothing,
}

/// A message with words, or a caption.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spoken {
    /// The channel's id of the message, unique within its chat.
    pub external: Option<String>,
    pub text: String,
    /// The id of the message it replies to.
    pub reply_to: Option<String>,
    /// In a chat between this person and the bot alone.
    pub private: bool,
    /// Spoken to the bot for a reason only the channel sees (a command, the console). Its name and
    /// replies to it are seen by the desk; an answer to its open question by the core.
    pub addressed: bool,
}

/// Something said outside of every household.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    pub chat: ChatKey,
    pub text: Rich,
    pub buttons: Vec<Button>,
    /// A file that goes with it: its name and content.
    pub file: Option<(&'static str, String)>,
    /// The press it answers.
    pub press: Option<String>,
    /// The bot leaves the chat afterwards.
    pub leave: bool,
    /// What is said elsewhere when this cannot be delivered.
    pub otherwise: Option<(ChatKey, Rich)>,
}

impl Notice {
    pub fn new(chat: &ChatKey, text: Rich) -> Notice {
        Notice {
            chat: chat.clone(),
            text,
            buttons: Vec::new(),
            file: None,
            press: None,
            leave: false,
            otherwise: None,
        }
    }
}

/// Whether `text` starts with the bot's name (case ignored), or `@` and one of its `handles`. The
/// name stays in the text; the reader skips it.
pub fn starts_with_name(text: &str, handles: &[&str]) -> bool {
    let text = text.trim_start();
    let text = text.strip_prefix('@').unwrap_or(text);
    handles.iter().chain([&BOT_NAME]).any(|name| {
        let head = text.get(..name.len());
        let after = text.get(name.len()..).and_then(|rest| rest.chars().next());
        head.is_some_and(|head| head.eq_ignore_ascii_case(name))
            && !after.is_some_and(|next| next.is_alphanumeric() || next == '_')
    })
}

#[cfg(test)]
mod tests {
    use super::starts_with_name;

    #[test]
    fn the_bot_is_spoken_to_by_its_name_alone() {
        for text in [
            "larderling, post at 7:30",
            "Larderling what's first?",
            " @larderling hi",
            "LARDERLING",
        ] {
            assert!(starts_with_name(text, &[]), "{text}");
        }
        for text in ["ask larderling", "larderlings are cute", "larder", "", "ein lärderling"] {
            assert!(!starts_with_name(text, &[]), "{text}");
        }
        assert!(starts_with_name("@kitchen_bot undo", &["kitchen_bot"]));
    }
}
