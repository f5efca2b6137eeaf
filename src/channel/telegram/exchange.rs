//! What the messenger and the desk exchange, in the platform's own numbers (chats, people,
//! messages): what came in is an [`Inbound`], what goes out is an [`Outbound`] and ends as an
//! [`Outcome`]. The desk maps the numbers to the household's.

use std::time::Duration;

use crate::conversation::{Button, Rich, Unreadable};
use crate::dates::Instant;

/// One thing that happened in a chat.
#[derive(Clone, Debug, PartialEq)]
pub struct Inbound {
    pub chat: Chat,
    pub at: Instant,
    pub what: Happening,
}

/// A chat by the platform's number (64 bits, negative for groups).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chat {
    pub id: i64,
    pub kind: ChatKind,
    /// The group's name; `None` in private.
    pub title: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChatKind {
    Private,
    Group,
    /// A place to read, not to talk: the bot leaves it. Nothing but `Opened` and `Closed` comes
    /// from it.
    Channel,
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Happening {
    Said(Post),
    /// An earlier message, the same `Post::id`, now reads like this.
    Edited(Post),
    Pressed(Press),
    /// Members came in; the bot is never among them.
    Joined(Vec<Author>),
    Left(Author),
    /// The bot was let in, or back in.
    Opened {
        by: Author,
    },
    /// The bot was removed or blocked: nothing can be sent here any more.
    Closed,
    /// The chat goes on under another number.
    MovedTo(i64),
    /// The chat used to have another number.
    MovedFrom(i64),
}

/// A message somebody wrote.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Post {
    /// Its number within the chat.
    pub id: i64,
    /// The topic of a group with topics; `None` for its general topic and everywhere else.
    pub topic: Option<i64>,
    pub author: Author,
    /// The words, or the caption of what cannot be read. Commands and a leading mention of the bot
    /// are already plain words.
    pub text: String,
    /// Something the bot cannot read, which `text` is the caption of.
    pub unreadable: Option<Unreadable>,
    /// Spoken to the bot: in private, by a reply to it, by its handle, by a command.
    pub addressed: bool,
    /// The number of the message it answers.
    pub reply_to: Option<i64>,
    /// Pictures sent together share this.
    pub album: Option<String>,
    /// What a link into the chat carried: the word after `/start`.
    pub invitation: Option<String>,
}

/// Who did it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Author {
    Person {
        id: i64,
        name: String,
        /// The language tag of their program ("en", "pt-BR"); not checked.
        language: Option<String>,
    },
    /// Somebody who writes as the group itself: an administrator who stays unnamed.
    Group,
    /// Somebody who writes as another chat.
    Chat { id: i64, title: String },
}

/// A button pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Press {
    /// The platform's number of the press, to answer it by.
    pub id: String,
    pub author: Author,
    /// The message the button hangs on.
    pub on: i64,
    /// The button's key.
    pub key: String,
}

/// One request to make of the platform.
#[derive(Clone, Debug, PartialEq)]
pub enum Outbound {
    Send(Letter),
    /// Replaces text and buttons of one of the bot's messages. May be repeated.
    Edit {
        chat: i64,
        message: i64,
        text: Rich,
        buttons: Vec<Button>,
    },
    /// Puts the sign of "noted" on somebody's message. May be repeated.
    React {
        chat: i64,
        message: i64,
    },
    /// Lets a pressed button go, with a few words or none. May be repeated.
    AnswerPress {
        press: String,
        text: Option<String>,
    },
    /// Leaves a chat the bot has no business in. May be repeated.
    Leave {
        chat: i64,
    },
}

impl Outbound {
    /// Whether doing it twice shows the same as doing it once.
    pub fn may_be_repeated(&self) -> bool {
        match self {
            Outbound::Send(_) => false,
            Outbound::Edit { .. }
            | Outbound::React { .. }
            | Outbound::AnswerPress { .. }
            | Outbound::Leave { .. } => true,
        }
    }
}

/// A new message.
#[derive(Clone, Debug, PartialEq)]
pub struct Letter {
    pub chat: i64,
    pub topic: Option<i64>,
    /// The message it answers; sent all the same when that one is gone.
    pub reply_to: Option<i64>,
    pub text: Rich,
    pub buttons: Vec<Button>,
    /// A picture as PNG, with the same content as the text.
    pub picture: Option<Vec<u8>>,
    /// With sound.
    pub loud: bool,
}

/// How a request ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Done. `message` is the number of the new message, where there is one.
    Sent { message: Option<i64> },
    /// Certainly not done; worth another try, not before `wait`.
    Later { wait: Option<Duration>, reason: String },
    /// Certainly not done; do it again for the chat's new number.
    Moved { to: i64 },
    /// Certainly not done, and will not be: the bot was removed from the chat or blocked.
    Closed { reason: String },
    /// Certainly not done, and will not be.
    Refused { reason: String },
    /// The request was written and no answer came: it may have been done.
    Unsure { reason: String },
}
