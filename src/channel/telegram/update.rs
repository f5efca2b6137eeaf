//! Updates as they come: the fields we read, and no others.
//!
//! Ours and small on purpose. A full model of the platform's types refuses a whole message for one
//! new kind of mark in its text, and that message would be lost.

use serde::Deserialize;
use serde::de::IgnoredAny;

#[derive(Deserialize)]
pub struct Update {
    pub message: Option<Message>,
    pub edited_message: Option<Message>,
    pub callback_query: Option<CallbackQuery>,
    pub my_chat_member: Option<StandingChange>,
}

#[derive(Deserialize)]
pub struct Message {
    pub message_id: i64,
    /// Unix seconds.
    pub date: i64,
    pub edit_date: Option<i64>,
    pub chat: Chat,
    pub from: Option<User>,
    pub sender_chat: Option<Chat>,
    pub via_bot: Option<User>,
    #[serde(default)]
    pub is_automatic_forward: bool,
    #[serde(default)]
    pub is_topic_message: bool,
    pub message_thread_id: Option<i64>,
    pub media_group_id: Option<String>,
    pub reply_to_message: Option<Answered>,
    pub text: Option<String>,
    pub caption: Option<String>,
    #[serde(flatten)]
    pub content: Content,
    pub new_chat_members: Option<Vec<User>>,
    pub left_chat_member: Option<User>,
    pub migrate_to_chat_id: Option<i64>,
    pub migrate_from_chat_id: Option<i64>,
}

/// What people send besides text; only whether it is there matters.
#[derive(Deserialize)]
pub struct Content {
    pub photo: Option<IgnoredAny>,
    pub voice: Option<IgnoredAny>,
    pub audio: Option<IgnoredAny>,
    pub video_note: Option<IgnoredAny>,
    pub sticker: Option<IgnoredAny>,
    pub document: Option<IgnoredAny>,
    pub poll: Option<IgnoredAny>,
    pub video: Option<IgnoredAny>,
    pub animation: Option<IgnoredAny>,
    pub location: Option<IgnoredAny>,
    pub contact: Option<IgnoredAny>,
    pub dice: Option<IgnoredAny>,
    pub story: Option<IgnoredAny>,
    pub game: Option<IgnoredAny>,
    pub paid_media: Option<IgnoredAny>,
    pub checklist: Option<IgnoredAny>,
}

/// The message another one answers.
#[derive(Deserialize)]
pub struct Answered {
    pub message_id: i64,
    /// The opening of a topic, which clients make every message of the topic answer.
    pub forum_topic_created: Option<IgnoredAny>,
}

#[derive(Deserialize)]
pub struct Chat {
    pub id: i64,
    #[serde(rename = "type")]
    pub kind: String,
    pub title: Option<String>,
}

impl Chat {
    pub fn is_private(&self) -> bool {
        self.kind == "private"
    }
}

#[derive(Deserialize)]
pub struct User {
    pub id: i64,
    pub is_bot: bool,
    pub first_name: String,
    pub last_name: Option<String>,
    pub language_code: Option<String>,
}

#[derive(Deserialize)]
pub struct CallbackQuery {
    pub id: String,
    pub from: User,
    pub message: Option<Pressed>,
    pub data: Option<String>,
}

/// The message a button hangs on; no more than this is left of an old one.
#[derive(Deserialize)]
pub struct Pressed {
    pub message_id: i64,
    pub chat: Chat,
}

/// A change of the bot's own standing in a chat.
#[derive(Deserialize)]
pub struct StandingChange {
    pub chat: Chat,
    pub from: User,
    pub date: i64,
    pub old_chat_member: Standing,
    pub new_chat_member: Standing,
}

#[derive(Deserialize)]
pub struct Standing {
    pub status: String,
    #[serde(default)]
    pub is_member: bool,
}

impl Standing {
    /// An administrator hears everything, whatever the privacy mode.
    pub fn is_admin(&self) -> bool {
        matches!(self.status.as_str(), "creator" | "administrator")
    }

    pub fn is_in(&self) -> bool {
        match self.status.as_str() {
            "creator" | "administrator" | "member" => true,
            "restricted" => self.is_member,
            _ => false,
        }
    }
}
