//! From an update as it came to what arrived.
//!
//! What the bot has no business with is [`Arrived::Nothing`]: other bots, messages sent through
//! bots, commands for other bots, channels, service messages, kinds of update nobody asked for.

use super::api::Me;
use super::commands::{self, Written};
use super::fetch::Raw;
use super::update::{Answered, CallbackQuery, Chat, Message, StandingChange, Update, User};
use crate::channel::{Arrival, Arrived, Channel, ChatKey, Context, Spoken, Writer};
use crate::conversation::{Standing, Unreadable};
use crate::dates::Instant;

/// An update no meaning can be found in. Says where it stops making sense, never what it holds.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("an update that cannot be understood from its byte {0} on")]
pub struct NotUnderstood(usize);

/// What arrived with `raw`. `received` is the moment for what carries none of its own.
///
/// # Errors
/// When it is not an update as we know them.
pub fn arrival(raw: &Raw, me: &Me, received: Instant) -> Result<Arrival, NotUnderstood> {
    let update: Update =
        serde_json::from_str(&raw.body).map_err(|error| NotUnderstood(error.column()))?;
    let context = context(&update);
    let Update { message, edited_message, callback_query, my_chat_member } = update;
    let found = message.and_then(|message| said(message, me));
    let found = found.or_else(|| edited_message.and_then(|message| edited(message, me)));
    let found = found.or_else(|| callback_query.and_then(|query| pressed(query, received)));
    let found = found.or_else(|| my_chat_member.and_then(|change| standing(change, me)));
    let (chat, at, what) = found.unwrap_or_else(|| {
        let chat = raw.chat.clone().unwrap_or_default();
        (ChatKey::new(Channel::Telegram, chat), received, Arrived::Nothing)
    });
    Ok(Arrival { chat, update: Some(raw.id), at, what, context })
}

/// What an update tells besides what happened.
fn context(update: &Update) -> Context {
    let message = update.message.as_ref().or(update.edited_message.as_ref());
    let change = update.my_chat_member.as_ref();
    let query = update.callback_query.as_ref();
    let user = message.and_then(|message| message.from.as_ref());
    let user = user.or(query.map(|query| &query.from)).or(change.map(|change| &change.from));
    let pressed = query.and_then(|query| query.message.as_ref());
    let chat = message.map(|message| &message.chat);
    let chat = chat.or(change.map(|change| &change.chat)).or(pressed.map(|on| &on.chat));
    // Whoever writes as the group itself is one of its administrators.
    let unnamed = message.is_some_and(|message| {
        message.sender_chat.as_ref().is_some_and(|sender| sender.id == message.chat.id)
    });
    Context {
        language: user.and_then(|user| user.language_code.clone()),
        title: chat.filter(|chat| !chat.is_private()).and_then(|chat| chat.title.clone()),
        standing: if unnamed { Standing::Admin } else { Standing::Unknown },
        album: message.and_then(|message| message.media_group_id.clone()),
    }
}

/// The longest token a link can carry.
const TOKEN_MAX: usize = 64;

/// Where, when and what.
type Found = (ChatKey, Instant, Arrived);

fn said(message: Message, me: &Me) -> Option<Found> {
    let chat = key(&message.chat)?;
    let at = Instant::from_seconds(message.date);
    if let Some(told) = service(&message, &chat) {
        let (chat, what) = told?;
        return Some((chat, at, what));
    }
    let token = token(&message, me);
    let (chat, from, spoken, unreadable) = post(message, chat, me)?;
    if let Some(token) = token {
        return Some((chat, at, Arrived::Called { from, message: spoken, token }));
    }
    let what = match unreadable {
        Some(kind) => Arrived::Unreadable { from, message: spoken, kind },
        None => Arrived::Said { from, message: spoken },
    };
    Some((chat, at, what))
}

fn edited(message: Message, me: &Me) -> Option<Found> {
    let chat = key(&message.chat)?;
    let at = Instant::from_seconds(message.edit_date.unwrap_or(message.date));
    let (chat, from, spoken, _) = post(message, chat, me)?;
    Some((chat, at, Arrived::Edited { from, message: spoken }))
}

/// What a link into the chat carries: `/start TOKEN`; a bare `/start` in private carries nothing.
fn token(message: &Message, me: &Me) -> Option<String> {
    let written = commands::written(message.text.as_deref()?)?;
    let ours = written.handle.is_none_or(|handle| handle.eq_ignore_ascii_case(&me.username));
    let plain = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
    let fits = written.rest.len() <= TOKEN_MAX && written.rest.bytes().all(plain);
    let opens = written.name == "start" && (message.chat.is_private() || !written.rest.is_empty());
    (ours && opens && fits).then(|| written.rest.to_owned())
}

/// What the platform itself says in a chat, and in which it counts: `None` when somebody else is
/// speaking, `Some(None)` when it does not concern us.
fn service(message: &Message, chat: &ChatKey) -> Option<Option<(ChatKey, Arrived)>> {
    if let Some(to) = message.migrate_to_chat_id {
        let to = ChatKey::new(Channel::Telegram, to.to_string());
        return Some(Some((chat.clone(), Arrived::Moved { to })));
    }
    if let Some(from) = message.migrate_from_chat_id {
        let from = ChatKey::new(Channel::Telegram, from.to_string());
        return Some(Some((from, Arrived::Moved { to: chat.clone() })));
    }
    if let Some(members) = &message.new_chat_members {
        let who: Vec<Writer> = members.iter().filter(|user| !user.is_bot).map(person).collect();
        return Some((!who.is_empty()).then(|| (chat.clone(), Arrived::Joined { who })));
    }
    let gone = message.left_chat_member.as_ref()?;
    Some((!gone.is_bot).then(|| (chat.clone(), Arrived::Left { who: person(gone) })))
}

/// What somebody sent, and the topic it was sent in.
fn post(
    message: Message,
    mut chat: ChatKey,
    me: &Me,
) -> Option<(ChatKey, Writer, Spoken, Option<Unreadable>)> {
    if message.via_bot.is_some() || message.is_automatic_forward {
        return None;
    }
    let from = author(&message)?;
    let unreadable = unreadable(&message);
    let private = message.chat.is_private();
    let words = message.text.or(message.caption).unwrap_or_default();
    if words.is_empty() && unreadable.is_none() {
        return None;
    }
    // Plain answers in the general topic carry a thread number too.
    if let Some(topic) = message.message_thread_id.filter(|_| message.is_topic_message) {
        chat.topic = topic.to_string();
    }
    let words = spoken(&words, private, me)?;
    let spoken = Spoken {
        external: Some(message.message_id.to_string()),
        text: words.text,
        reply_to: message.reply_to_message.as_ref().and_then(answered),
        private,
        addressed: words.addressed,
    };
    Some((chat, from, spoken, unreadable))
}

/// The number of the message that is answered.
fn answered(answered: &Answered) -> Option<String> {
    answered.forum_topic_created.is_none().then(|| answered.message_id.to_string())
}

/// Words freed of what only the messenger needs.
struct Words {
    text: String,
    addressed: bool,
}

/// `None` for what is said to another bot.
fn spoken(words: &str, private: bool, me: &Me) -> Option<Words> {
    if let Some(written) = commands::written(words) {
        return command(&written, private, me);
    }
    let (text, named) = without_handle(words, &me.username);
    Some(Words { text, addressed: named })
}

fn command(written: &Written<'_>, private: bool, me: &Me) -> Option<Words> {
    let ours = written.handle.map(|handle| handle.eq_ignore_ascii_case(&me.username));
    let command = written.command();
    match (ours, command) {
        (Some(false), _) => return None,
        // In a group a bare command that is not ours is another bot's.
        (None, None) if !private => return None,
        (Some(true) | None, _) => {}
    }
    let name = command.map_or(written.name.as_str(), |command| command.words);
    // What a link into the chat carries after `start` is no words of anybody's.
    let text = match written.rest {
        "" => name.to_owned(),
        _ if written.name == "start" => name.to_owned(),
        rest => format!("{name} {rest}"),
    };
    Some(Words { text, addressed: true })
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
    match kept.trim().trim_start_matches([',', ':', ';']).trim_start() {
        // Called by name and nothing more.
        "" => ("help".to_owned(), true),
        words => (words.to_owned(), true),
    }
}

fn author(message: &Message) -> Option<Writer> {
    match (&message.sender_chat, &message.from) {
        // Somebody writes as the group (an administrator who stays unnamed) or as another chat;
        // the user named beside it is made up by the platform.
        (Some(sender), _) => Some(Writer {
            external: sender.id.to_string(),
            name: sender.title.clone().unwrap_or_default(),
        }),
        (None, Some(user)) if !user.is_bot => Some(person(user)),
        (None, _) => None,
    }
}

fn person(user: &User) -> Writer {
    let name = match &user.last_name {
        Some(last) => format!("{} {last}", user.first_name),
        None => user.first_name.clone(),
    };
    Writer { external: user.id.to_string(), name }
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

fn pressed(query: CallbackQuery, received: Instant) -> Option<Found> {
    let message = query.message?;
    let what = Arrived::Pressed {
        from: person(&query.from),
        on: message.message_id.to_string(),
        key: query.data?,
        private: message.chat.is_private(),
        query: Some(query.id),
    };
    Some((key(&message.chat)?, received, what))
}

/// The bot's own standing in a chat.
fn standing(change: StandingChange, me: &Me) -> Option<Found> {
    let at = Instant::from_seconds(change.date);
    let what = match (change.old_chat_member.is_in(), change.new_chat_member.is_in()) {
        (_, true) if change.chat.kind == "channel" => {
            let chat = ChatKey::new(Channel::Telegram, change.chat.id.to_string());
            return Some((chat, at, Arrived::Misplaced));
        }
        (false, true) => Arrived::Welcomed {
            by: (!change.from.is_bot).then(|| person(&change.from)),
            hears: change.chat.is_private()
                || me.can_read_all_group_messages
                || change.new_chat_member.is_admin(),
            private: change.chat.is_private(),
        },
        (true, false) => Arrived::Dismissed,
        (true, true) | (false, false) => return None,
    };
    Some((key(&change.chat)?, at, what))
}

/// The chat, if it is one people talk in.
fn key(chat: &Chat) -> Option<ChatKey> {
    let talks = matches!(chat.kind.as_str(), "private" | "group" | "supergroup");
    talks.then(|| ChatKey::new(Channel::Telegram, chat.id.to_string()))
}
