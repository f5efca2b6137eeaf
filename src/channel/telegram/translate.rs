//! From an update as it came to what happened, in the channel's words.
//!
//! What the bot has no business with is `None`: other bots, messages sent through bots, commands
//! for other bots, channels, service messages. The platform's types are teloxide's.

use std::panic::{AssertUnwindSafe, catch_unwind};

use teloxide_core::types::{
    CallbackQuery, ChatMemberUpdated, Message, MessageKind, Update, UpdateKind, User,
};

use super::api::Me;
use super::commands::{self, Written};
use super::exchange::{Author, Chat, ChatKind, Happening, Inbound, Post, Press};
use crate::conversation::Unreadable;
use crate::dates::Instant;

/// An update no meaning can be found in. Says what is wrong with it, never what it holds.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("an update that cannot be understood: {0}")]
pub struct NotUnderstood(String);

/// What happened, if it concerns us. `received` is the moment for what carries none of its own.
pub fn inbound(body: &str, me: &Me, received: Instant) -> Result<Option<Inbound>, NotUnderstood> {
    // The parser is not ours and takes what strangers send: nothing it does may end the program.
    let parsed = catch_unwind(AssertUnwindSafe(|| serde_json::from_str::<Update>(body)));
    let update = match parsed {
        Ok(Ok(update)) => update,
        Ok(Err(error)) => {
            return Err(NotUnderstood(format!(
                "{:?} at column {}",
                error.classify(),
                error.column()
            )));
        }
        Err(_) => return Err(NotUnderstood("the parser gave up".to_owned())),
    };
    match update.kind {
        UpdateKind::Message(message) => Ok(said(&message, me)),
        UpdateKind::EditedMessage(message) => Ok(edited(&message, me)),
        UpdateKind::CallbackQuery(query) => Ok(pressed(&query, received)),
        UpdateKind::MyChatMember(change) => Ok(standing(&change)),
        UpdateKind::Error(_) => Err(NotUnderstood("of a kind unknown to us".to_owned())),
        _ => Ok(None),
    }
}

fn said(message: &Message, me: &Me) -> Option<Inbound> {
    let chat = chat_of(&message.chat).filter(|chat| chat.kind != ChatKind::Channel)?;
    let at = instant(message.date.timestamp());
    let what = match &message.kind {
        MessageKind::Common(_) => Happening::Said(post(message, &chat, me)?),
        _ => service(message, me)?,
    };
    Some(Inbound { chat, at, what })
}

fn edited(message: &Message, me: &Me) -> Option<Inbound> {
    let chat = chat_of(&message.chat).filter(|chat| chat.kind != ChatKind::Channel)?;
    let edited = message.edit_date().unwrap_or(&message.date);
    let at = instant(edited.timestamp());
    let what = Happening::Edited(post(message, &chat, me)?);
    Some(Inbound { chat, at, what })
}

/// What the platform itself says in a chat.
fn service(message: &Message, me: &Me) -> Option<Happening> {
    if let Some(to) = message.migrate_to_chat_id() {
        return Some(Happening::MovedTo(to.0));
    }
    if let Some(from) = message.migrate_from_chat_id() {
        return Some(Happening::MovedFrom(from.0));
    }
    if let Some(members) = message.new_chat_members() {
        let people: Vec<Author> = members.iter().filter(|user| !user.is_bot).map(person).collect();
        return (!people.is_empty()).then_some(Happening::Joined(people));
    }
    let gone = message.left_chat_member()?;
    (!gone.is_bot && number(gone) != me.id).then(|| Happening::Left(person(gone)))
}

fn post(message: &Message, chat: &Chat, me: &Me) -> Option<Post> {
    if message.via_bot.is_some() || message.is_automatic_forward() {
        return None;
    }
    let author = author(message)?;
    let unreadable = unreadable(message);
    let words = message.text().or_else(|| message.caption()).unwrap_or_default();
    if words.is_empty() && unreadable.is_none() {
        return None;
    }
    let topic = message.thread_id.filter(|_| message.is_topic_message);
    // In a topic every message answers the topic's opening, which nobody wrote to.
    let answered =
        message.reply_to_message().filter(|answered| answered.forum_topic_created().is_none());
    let to_us = answered
        .is_some_and(|answered| answered.from.as_ref().is_some_and(|user| number(user) == me.id));
    let spoken = spoken(words, chat.kind, me)?;
    Some(Post {
        id: message.id.0.into(),
        topic: topic.map(|thread| thread.0.0.into()),
        author,
        text: spoken.text,
        unreadable,
        addressed: spoken.addressed || to_us || chat.kind == ChatKind::Private,
        reply_to: answered.map(|answered| answered.id.0.into()),
        album: message.media_group_id().map(|album| album.0.clone()),
        invitation: spoken.invitation,
    })
}

/// Words freed of what only the messenger needs.
struct Spoken {
    text: String,
    addressed: bool,
    invitation: Option<String>,
}

/// `None` for what is said to another bot.
fn spoken(words: &str, kind: ChatKind, me: &Me) -> Option<Spoken> {
    if let Some(written) = commands::written(words) {
        return command(&written, kind, me);
    }
    let (text, named) = without_handle(words, &me.username);
    Some(Spoken { text, addressed: named, invitation: None })
}

fn command(written: &Written<'_>, kind: ChatKind, me: &Me) -> Option<Spoken> {
    let ours = written.handle.map(|handle| handle.eq_ignore_ascii_case(&me.username));
    let command = written.command();
    match (ours, command) {
        (Some(false), _) => return None,
        // In a group a bare command that is not ours is another bot's.
        (None, None) if kind != ChatKind::Private => return None,
        (Some(true) | None, _) => {}
    }
    let invitation =
        (written.name == "start" && !written.rest.is_empty()).then(|| written.rest.to_owned());
    let name = command.map_or(written.name.as_str(), |command| command.words);
    let text = match &invitation {
        None if !written.rest.is_empty() => format!("{name} {}", written.rest),
        Some(_) | None => name.to_owned(),
    };
    Some(Spoken { text, addressed: true, invitation })
}

/// The words without the bot's `@handle`, and whether it was there.
fn without_handle(words: &str, handle: &str) -> (String, bool) {
    if handle.is_empty() {
        return (words.to_owned(), false);
    }
    let lower = words.to_ascii_lowercase();
    let mention = format!("@{}", handle.to_ascii_lowercase());
    let mut kept = String::with_capacity(words.len());
    let mut named = false;
    let mut from = 0;
    while let Some(found) = lower[from..].find(&mention).map(|at| at + from) {
        let end = found + mention.len();
        let goes_on = lower[end..].starts_with(|c: char| c.is_ascii_alphanumeric() || c == '_');
        let inside = lower[..found].ends_with(|c: char| c.is_alphanumeric() || c == '_');
        if goes_on || inside {
            kept.push_str(&words[from..end]);
        } else {
            named = true;
            kept.push_str(&words[from..found]);
        }
        from = end;
    }
    kept.push_str(&words[from..]);
    if !named {
        return (words.to_owned(), false);
    }
    let kept = kept.trim().trim_start_matches([',', ':', ';']).trim_start();
    (kept.to_owned(), true)
}

fn author(message: &Message) -> Option<Author> {
    match (&message.sender_chat, &message.from) {
        // The user named beside a sending chat is made up by the platform.
        (Some(sender), _) if sender.id == message.chat.id => Some(Author::Group),
        (Some(sender), _) => {
            let title = sender.title().unwrap_or_default().to_owned();
            Some(Author::Chat { id: sender.id.0, title })
        }
        (None, Some(user)) if !user.is_bot => Some(person(user)),
        (None, _) => None,
    }
}

fn person(user: &User) -> Author {
    Author::Person {
        id: number(user),
        name: user.full_name(),
        language: user.language_code.clone(),
    }
}

/// A user's number; those in use lie far below the limit of the type.
fn number(user: &User) -> i64 {
    i64::try_from(user.id.0).unwrap_or(i64::MAX)
}

fn unreadable(message: &Message) -> Option<Unreadable> {
    if message.text().is_some() {
        return None;
    }
    Some(if message.photo().is_some() {
        Unreadable::Photo
    } else if message.voice().is_some()
        || message.audio().is_some()
        || message.video_note().is_some()
    {
        Unreadable::Voice
    } else if message.sticker().is_some() {
        Unreadable::Sticker
    } else if message.document().is_some() {
        Unreadable::Document
    } else if message.poll().is_some() {
        Unreadable::Poll
    } else {
        Unreadable::Other
    })
}

fn pressed(query: &CallbackQuery, received: Instant) -> Option<Inbound> {
    let message = query.message.as_ref()?;
    let chat = chat_of(message.chat()).filter(|chat| chat.kind != ChatKind::Channel)?;
    let press = Press {
        id: query.id.0.clone(),
        author: person(&query.from),
        on: message.id().0.into(),
        key: query.data.clone()?,
    };
    Some(Inbound { chat, at: received, what: Happening::Pressed(press) })
}

/// The bot's own standing in a chat.
fn standing(change: &ChatMemberUpdated) -> Option<Inbound> {
    let chat = chat_of(&change.chat)?;
    let before = change.old_chat_member.kind.is_present();
    let after = change.new_chat_member.kind.is_present();
    let what = match (before, after) {
        (false, true) => Happening::Opened { by: person(&change.from) },
        (true, false) => Happening::Closed,
        (true, true) | (false, false) => return None,
    };
    Some(Inbound { chat, at: instant(change.date.timestamp()), what })
}

fn chat_of(chat: &teloxide_core::types::Chat) -> Option<Chat> {
    let kind = if chat.is_private() {
        ChatKind::Private
    } else if chat.is_group() || chat.is_supergroup() {
        ChatKind::Group
    } else {
        ChatKind::Channel
    };
    Some(Chat { id: chat.id.0, kind, title: chat.title().map(str::to_owned) })
}

fn instant(seconds: i64) -> Instant {
    Instant::from_seconds(seconds)
}
