//! From an update as it came to what happened, in the channel's words.
//!
//! What the bot has no business with is `None`: other bots, messages sent through bots, commands
//! for other bots, channels, service messages, kinds of update nobody asked for.

use super::api::Me;
use super::commands::{self, Written};
use super::update::{self, CallbackQuery, Message, StandingChange, Update, User};
use crate::channel::{Author, Chat, ChatKind, Happening, Inbound, Post, Press};
use crate::conversation::Unreadable;
use crate::dates::Instant;

/// An update no meaning can be found in. Says where it stops making sense, never what it holds.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("an update that cannot be understood from its byte {0} on")]
pub struct NotUnderstood(usize);

/// What happened, if it concerns us. `received` is the moment for what carries none of its own.
pub fn inbound(body: &str, me: &Me, received: Instant) -> Result<Option<Inbound>, NotUnderstood> {
    let update: Update =
        serde_json::from_str(body).map_err(|error| NotUnderstood(error.column()))?;
    let Update { message, edited_message, callback_query, my_chat_member } = update;
    let happened = message.and_then(|message| said(message, me));
    let happened = happened.or_else(|| edited_message.and_then(|message| edited(message, me)));
    let happened = happened.or_else(|| callback_query.and_then(|query| pressed(query, received)));
    Ok(happened.or_else(|| my_chat_member.and_then(standing)))
}

fn said(message: Message, me: &Me) -> Option<Inbound> {
    let chat = chat_of(&message.chat).filter(|chat| chat.kind != ChatKind::Channel)?;
    let at = Instant::from_seconds(message.date);
    let what = match service(&message) {
        Service::Told(what) => what,
        Service::Nothing => return None,
        Service::No => Happening::Said(post(message, chat.kind, me)?),
    };
    Some(Inbound { chat, at, what })
}

fn edited(message: Message, me: &Me) -> Option<Inbound> {
    let chat = chat_of(&message.chat).filter(|chat| chat.kind != ChatKind::Channel)?;
    let at = Instant::from_seconds(message.edit_date.unwrap_or(message.date));
    let what = Happening::Edited(post(message, chat.kind, me)?);
    Some(Inbound { chat, at, what })
}

/// What the platform itself says in a chat.
enum Service {
    Told(Happening),
    /// It says something that does not concern us.
    Nothing,
    /// Somebody else is speaking.
    No,
}

fn service(message: &Message) -> Service {
    if let Some(to) = message.migrate_to_chat_id {
        return Service::Told(Happening::MovedTo(to));
    }
    if let Some(from) = message.migrate_from_chat_id {
        return Service::Told(Happening::MovedFrom(from));
    }
    if let Some(members) = &message.new_chat_members {
        let people: Vec<Author> = members.iter().filter(|user| !user.is_bot).map(person).collect();
        if people.is_empty() {
            return Service::Nothing;
        }
        return Service::Told(Happening::Joined(people));
    }
    match &message.left_chat_member {
        Some(gone) if gone.is_bot => Service::Nothing,
        Some(gone) => Service::Told(Happening::Left(person(gone))),
        None => Service::No,
    }
}

fn post(message: Message, kind: ChatKind, me: &Me) -> Option<Post> {
    if message.via_bot.is_some() || message.is_automatic_forward {
        return None;
    }
    let author = author(&message)?;
    let unreadable = unreadable(&message);
    let words = message.text.or(message.caption).unwrap_or_default();
    if words.is_empty() && unreadable.is_none() {
        return None;
    }
    let answered =
        message.reply_to_message.filter(|answered| answered.forum_topic_created.is_none());
    let answered_author = answered.as_ref().and_then(|answered| answered.from.as_ref());
    let to_us = answered_author.is_some_and(|user| user.id == me.id);
    let spoken = spoken(&words, kind, me)?;
    Some(Post {
        id: message.message_id,
        // Plain answers in the general topic carry a thread number too.
        topic: message.message_thread_id.filter(|_| message.is_topic_message),
        author,
        text: spoken.text,
        unreadable,
        addressed: spoken.addressed || to_us || kind == ChatKind::Private,
        reply_to: answered.map(|answered| answered.message_id),
        album: message.media_group_id,
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
            let title = sender.title.clone().unwrap_or_default();
            Some(Author::Chat { id: sender.id, title })
        }
        (None, Some(user)) if !user.is_bot => Some(person(user)),
        (None, _) => None,
    }
}

fn person(user: &User) -> Author {
    let name = match &user.last_name {
        Some(last) => format!("{} {last}", user.first_name),
        None => user.first_name.clone(),
    };
    Author::Person { id: user.id, name, language: user.language_code.clone() }
}

/// What a message without text holds, if people sent it.
fn unreadable(message: &Message) -> Option<Unreadable> {
    let content = &message.content;
    if message.text.is_some() {
        return None;
    }
    if content.photo.is_some() {
        return Some(Unreadable::Photo);
    }
    if [&content.voice, &content.audio, &content.video_note].iter().any(|it| it.is_some()) {
        return Some(Unreadable::Voice);
    }
    if content.sticker.is_some() {
        return Some(Unreadable::Sticker);
    }
    if content.document.is_some() {
        return Some(Unreadable::Document);
    }
    if content.poll.is_some() {
        return Some(Unreadable::Poll);
    }
    let others = [
        &content.video,
        &content.animation,
        &content.location,
        &content.contact,
        &content.dice,
        &content.story,
        &content.game,
        &content.paid_media,
        &content.checklist,
    ];
    others.iter().any(|it| it.is_some()).then_some(Unreadable::Other)
}

fn pressed(query: CallbackQuery, received: Instant) -> Option<Inbound> {
    let message = query.message?;
    let chat = chat_of(&message.chat).filter(|chat| chat.kind != ChatKind::Channel)?;
    let author = person(&query.from);
    let press = Press { id: query.id, author, on: message.message_id, key: query.data? };
    Some(Inbound { chat, at: received, what: Happening::Pressed(press) })
}

/// The bot's own standing in a chat.
fn standing(change: StandingChange) -> Option<Inbound> {
    let chat = chat_of(&change.chat)?;
    let what = match (change.old_chat_member.is_in(), change.new_chat_member.is_in()) {
        (false, true) => Happening::Opened { by: person(&change.from) },
        (true, false) => Happening::Closed,
        (true, true) | (false, false) => return None,
    };
    Some(Inbound { chat, at: Instant::from_seconds(change.date), what })
}

fn chat_of(chat: &update::Chat) -> Option<Chat> {
    let kind = match chat.kind.as_str() {
        "private" => ChatKind::Private,
        "group" | "supergroup" => ChatKind::Group,
        "channel" => ChatKind::Channel,
        _ => return None,
    };
    Some(Chat { id: chat.id, kind, title: chat.title.clone() })
}
