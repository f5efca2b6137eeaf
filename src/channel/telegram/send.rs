//! Sending: one parcel becomes one request and ends as one [`Outcome`].
//!
//! Nothing here tries again on its own, except where the server said no for a reason that a
//! plainer form of the same message cures (the topic is gone, the markup is refused).

use serde::Deserialize;
use serde_json::Value;
use teloxide_core::payloads::{
    AnswerCallbackQuery, EditMessageCaption, EditMessageText, GetChatMember, LeaveChat,
    SendDocument, SendMessage, SendPhoto, SetMessageReaction,
};
use teloxide_core::types::{
    CallbackQueryId, ChatId, InlineKeyboardButton, InlineKeyboardMarkup, InputFile,
    LinkPreviewOptions, MessageId, ParseMode, ReactionType, Recipient, ReplyMarkup,
    ReplyParameters, ThreadId, UserId,
};

use super::api::{Api, CallError, Denial};
use super::html::{self, Page};
use crate::channel::{Channel, ChatKey, Notice};
use crate::conversation::{Button, Kind, Outgoing, Rich, Standing};
use crate::outbox::{Outcome, Sender};
use crate::store::{Claimed, Errand};

/// The sign of "noted", one of those every chat offers.
const NOTED: &str = "👍";
/// The longest key a button can carry, in bytes.
pub const KEY_MAX: usize = 64;
/// The longest answer to a press, in characters.
const WHISPER_MAX: usize = 200;
/// A row of buttons holds at most so many, and labels of about so many characters in all, or a
/// narrow screen cuts them off.
const ROW_BUTTONS: usize = 3;
const ROW_LETTERS: usize = 32;
/// The wait when the server asks for one without saying how long, in seconds.
const WAIT_UNSAID_S: u64 = 1;

/// The way out to the messenger.
#[derive(Clone, Debug)]
pub struct Courier {
    api: Api,
    draw: Draw,
}

/// Turns a picture as SVG into PNG; `None` when it cannot, and the words go out alone.
pub type Draw = fn(&str) -> Option<Vec<u8>>;

impl Courier {
    pub fn new(api: Api, draw: Draw) -> Courier {
        Courier { api, draw }
    }
}

impl Courier {
    /// The message's picture, drawn on a thread where it holds nobody up.
    async fn drawn(&self, outgoing: &Outgoing) -> Option<Vec<u8>> {
        let svg = outgoing.picture.as_ref()?.svg.clone();
        let draw = self.draw;
        tokio::task::spawn_blocking(move || draw(&svg)).await.ok().flatten()
    }
}

impl Sender for Courier {
    async fn send(&self, claimed: &Claimed) -> Outcome {
        match &claimed.errand {
            Errand::AnswerPress { query, text } => {
                answer_press(&self.api, query, text.as_deref()).await
            }
            Errand::Say(outgoing) => {
                let Some(chat) = claimed.chat.as_ref().and_then(Place::of) else {
                    return refused("the chat is not one of the messenger's");
                };
                let on = claimed.on.as_deref().and_then(message_id);
                match (outgoing.kind, on) {
                    (Kind::Edit, Some(on)) => edit(&self.api, chat, on, outgoing).await,
                    (Kind::Reaction, Some(on)) => react(&self.api, chat, on).await,
                    (Kind::Edit | Kind::Reaction, None) => refused("there is nothing to change"),
                    (Kind::Reply | Kind::Post | Kind::Reminder | Kind::Error, _) => {
                        let reply_to = claimed.reply_to.as_deref().and_then(message_id);
                        let picture = self.drawn(outgoing).await;
                        let letter = Letter { chat, reply_to, outgoing, picture };
                        send_letter(&self.api, &letter).await
                    }
                }
            }
        }
    }
}

/// Says what belongs to no household, once; whether it arrived.
pub async fn deliver(api: &Api, notice: &Notice) -> bool {
    if let Some(query) = &notice.press {
        answer_press(api, query, None).await;
    }
    let Some(chat) = Place::of(&notice.chat) else { return false };
    let mut arrived = true;
    if !notice.text.is_empty() {
        let outcome = match &notice.file {
            Some((name, content)) => send_file(api, chat, &notice.text, name, content).await,
            None => {
                let outgoing = letter_of(notice);
                let letter = Letter { chat, reply_to: None, outgoing: &outgoing, picture: None };
                send_letter(api, &letter).await
            }
        };
        arrived = matches!(outcome, Outcome::Sent { .. } | Outcome::Unsure { .. });
    }
    if notice.leave {
        let left = api.call::<_, Value>(&LeaveChat::new(chat.recipient())).await;
        if let Err(error) = left {
            tracing::warn!("cannot leave a chat: {error}");
        }
    }
    arrived
}

fn letter_of(notice: &Notice) -> Outgoing {
    Outgoing {
        message: crate::conversation::MessageId(0),
        kind: Kind::Reply,
        answers: None,
        to: None,
        text: notice.text.clone(),
        buttons: notice.buttons.clone(),
        picture: None,
        loud: false,
    }
}

async fn send_file(
    api: &Api,
    chat: Place,
    text: &Rich,
    name: &'static str,
    content: &str,
) -> Outcome {
    let mut request = SendDocument::new(chat.recipient(), InputFile::memory(Vec::new()));
    request.caption = Some(text.to_plain());
    request.disable_notification = Some(true);
    let file = (name, "application/x-ndjson", content.as_bytes().to_vec());
    sent(api.call_with_file(&request, "document", file).await)
}

/// What somebody may decide in a chat, as the platform tells; `None` when it does not.
pub async fn standing(api: &Api, chat: &ChatKey, person: &str) -> Option<Standing> {
    let place = Place::of(chat)?;
    let user = UserId(person.parse().ok()?);
    let request = GetChatMember::new(place.recipient(), user);
    let member: Value = match api.call(&request).await {
        Ok(member) => member,
        Err(error) => {
            tracing::warn!("cannot ask who is an administrator: {error}");
            return None;
        }
    };
    Some(match member["status"].as_str().unwrap_or_default() {
        "creator" | "administrator" => Standing::Admin,
        "member" => Standing::Member,
        "restricted" if member["is_member"] == Value::Bool(true) => Standing::Member,
        _ => Standing::Outsider,
    })
}

/// A chat and its topic, in the platform's numbers.
#[derive(Clone, Copy)]
struct Place {
    chat: i64,
    topic: Option<ThreadId>,
}

impl Place {
    fn of(key: &ChatKey) -> Option<Place> {
        let chat = key.chat.parse().ok()?;
        Some(Place { chat, topic: message_id(&key.topic).map(ThreadId) })
    }

    fn recipient(self) -> Recipient {
        Recipient::Id(ChatId(self.chat))
    }
}

fn message_id(external: &str) -> Option<MessageId> {
    external.parse().ok().map(MessageId)
}

/// A new message with all it needs.
struct Letter<'a> {
    chat: Place,
    reply_to: Option<MessageId>,
    outgoing: &'a Outgoing,
    picture: Option<Vec<u8>>,
}

async fn send_letter(api: &Api, letter: &Letter<'_>) -> Outcome {
    let limit = if letter.picture.is_some() { html::CAPTION_MAX } else { html::MESSAGE_MAX };
    let mut pages = html::pages(&letter.outgoing.text, limit);
    let Some(last) = pages.pop() else { return refused("the message has no words") };
    // The picture comes with the first words.
    let mut picture = letter.picture.as_deref();
    for (number, page) in pages.iter().enumerate() {
        match (number, send_page(api, letter, page, &[], picture.take()).await) {
            (_, Outcome::Sent { .. }) => {}
            (0, outcome) => return outcome,
            (_, outcome) => return cut_short(outcome),
        }
    }
    let outcome = send_page(api, letter, &last, &letter.outgoing.buttons, picture).await;
    if pages.is_empty() { outcome } else { cut_short(outcome) }
}

/// A message of several parts of which some are sent must not start over.
fn cut_short(outcome: Outcome) -> Outcome {
    let why = match outcome {
        Outcome::Sent { .. } => return outcome,
        Outcome::RetryAfter { .. } => "asked to wait".to_owned(),
        Outcome::Moved { .. } => "the chat moved".to_owned(),
        Outcome::Failed { why }
        | Outcome::Unsure { why }
        | Outcome::Refused { why }
        | Outcome::Gone { why } => why,
    };
    Outcome::Unsure { why: format!("only the first part was sent: {why}") }
}

async fn send_page(
    api: &Api,
    letter: &Letter<'_>,
    page: &Page,
    buttons: &[Button],
    picture: Option<&[u8]>,
) -> Outcome {
    let mut style = Style { topic: letter.chat.topic, markup: Markup::Html };
    loop {
        let result = match picture {
            Some(png) => send_picture(api, letter, page, buttons, style, png.to_vec()).await,
            None => send_text(api, letter, page, buttons, style).await,
        };
        match &result {
            Err(CallError::Denied(denial)) if style.topic.is_some() && denial.topic_is_gone() => {
                style.topic = None;
            }
            Err(CallError::Denied(denial))
                if style.markup == Markup::Html && denial.markup_is_refused() =>
            {
                style.markup = Markup::None;
            }
            Ok(_) | Err(_) => return sent(result),
        }
    }
}

/// What is given up when the server refuses it.
#[derive(Clone, Copy)]
struct Style {
    topic: Option<ThreadId>,
    markup: Markup,
}

#[derive(Clone, Copy, PartialEq)]
enum Markup {
    Html,
    None,
}

impl Markup {
    fn of(self, page: &Page) -> (String, Option<ParseMode>) {
        match self {
            Markup::Html => (page.html.clone(), Some(ParseMode::Html)),
            Markup::None => (page.plain.clone(), None),
        }
    }
}

async fn send_text(
    api: &Api,
    letter: &Letter<'_>,
    page: &Page,
    buttons: &[Button],
    style: Style,
) -> Result<New, CallError> {
    let (text, parse_mode) = style.markup.of(page);
    let mut request = SendMessage::new(letter.chat.recipient(), text);
    request.parse_mode = parse_mode;
    request.link_preview_options = Some(no_preview());
    request.message_thread_id = style.topic;
    request.reply_parameters = letter.reply_to.map(reply);
    request.reply_markup = keyboard(buttons).map(ReplyMarkup::InlineKeyboard);
    request.disable_notification = (!letter.outgoing.loud).then_some(true);
    api.call(&request).await
}

async fn send_picture(
    api: &Api,
    letter: &Letter<'_>,
    page: &Page,
    buttons: &[Button],
    style: Style,
    picture: Vec<u8>,
) -> Result<New, CallError> {
    let (text, parse_mode) = style.markup.of(page);
    let mut request = SendPhoto::new(letter.chat.recipient(), InputFile::memory(Vec::new()));
    request.caption = Some(text);
    request.parse_mode = parse_mode;
    request.message_thread_id = style.topic;
    request.reply_parameters = letter.reply_to.map(reply);
    request.reply_markup = keyboard(buttons).map(ReplyMarkup::InlineKeyboard);
    request.disable_notification = (!letter.outgoing.loud).then_some(true);
    api.call_with_file(&request, "photo", ("picture.png", "image/png", picture)).await
}

async fn edit(api: &Api, chat: Place, on: MessageId, outgoing: &Outgoing) -> Outcome {
    let pages = html::pages(&outgoing.text, html::MESSAGE_MAX);
    let Some(page) = pages.into_iter().next() else { return refused("the message has no words") };
    let outcome = edit_text(api, chat, on, outgoing, page).await;
    match outcome {
        Err(CallError::Denied(denial)) if denial.is_about_caption() => {
            edit_caption(api, chat, on, outgoing).await
        }
        result => done(result),
    }
}

async fn edit_text(
    api: &Api,
    chat: Place,
    on: MessageId,
    outgoing: &Outgoing,
    page: Page,
) -> Result<Value, CallError> {
    let mut request = EditMessageText::new(chat.recipient(), on, page.html);
    request.parse_mode = Some(ParseMode::Html);
    request.link_preview_options = Some(no_preview());
    request.reply_markup = keyboard(&outgoing.buttons);
    let mut result = api.call::<_, Value>(&request).await;
    if matches!(&result, Err(CallError::Denied(denial)) if denial.markup_is_refused()) {
        request.text = page.plain;
        request.parse_mode = None;
        result = api.call::<_, Value>(&request).await;
    }
    result
}

/// The words of a picture are its caption, which is changed by a request of its own.
async fn edit_caption(api: &Api, chat: Place, on: MessageId, outgoing: &Outgoing) -> Outcome {
    let pages = html::pages(&outgoing.text, html::CAPTION_MAX);
    let Some(page) = pages.into_iter().next() else { return refused("the message has no words") };
    let mut request = EditMessageCaption::new(chat.recipient(), on);
    request.caption = Some(page.html);
    request.parse_mode = Some(ParseMode::Html);
    request.reply_markup = keyboard(&outgoing.buttons);
    done(api.call::<_, Value>(&request).await)
}

async fn react(api: &Api, chat: Place, on: MessageId) -> Outcome {
    let mut request = SetMessageReaction::new(chat.recipient(), on);
    request.reaction = Some(vec![ReactionType::Emoji { emoji: NOTED.to_owned() }]);
    done(api.call::<_, Value>(&request).await)
}

async fn answer_press(api: &Api, query: &str, text: Option<&str>) -> Outcome {
    let mut request = AnswerCallbackQuery::new(CallbackQueryId(query.to_owned()));
    request.text = text.map(|text| text.chars().take(WHISPER_MAX).collect());
    done(api.call::<_, Value>(&request).await)
}

fn refused(why: &str) -> Outcome {
    Outcome::Refused { why: why.to_owned() }
}

/// The part of an answer that is kept: the new message's number.
#[derive(Deserialize)]
struct New {
    message_id: i64,
}

fn sent(result: Result<New, CallError>) -> Outcome {
    match result {
        Ok(new) => Outcome::Sent { external: Some(new.message_id.to_string()) },
        Err(error) => judge(error),
    }
}

fn done(result: Result<Value, CallError>) -> Outcome {
    match result {
        Ok(_) => Outcome::Sent { external: None },
        Err(error) => judge(error),
    }
}

/// How a request without a good answer ended.
fn judge(error: CallError) -> Outcome {
    let denial = match error {
        CallError::NotMade(why) => return Outcome::Failed { why },
        CallError::NoAnswer(why) => return Outcome::Unsure { why },
        CallError::Denied(denial) => denial,
    };
    let why = denial.to_string();
    if let Some(to) = denial.migrate_to {
        return Outcome::Moved { to: ChatKey::new(Channel::Telegram, to.to_string()) };
    }
    if denial.already_done() {
        return Outcome::Sent { external: None };
    }
    if denial.chat_is_closed() {
        return Outcome::Gone { why };
    }
    match denial.code {
        429 => {
            let wait = denial.retry_after.map_or(WAIT_UNSAID_S, |wait| wait.as_secs());
            Outcome::RetryAfter { seconds: wait }
        }
        // A bad token is cured outside; the message can wait for it.
        401 | 404 | 500..=503 => Outcome::Failed { why },
        // Something in between gave up waiting for the server.
        504.. => Outcome::Unsure { why },
        _ => Outcome::Refused { why },
    }
}

impl Denial {
    fn says(&self, words: &[&str]) -> bool {
        let description = self.description.to_lowercase();
        words.iter().any(|words| description.contains(words))
    }

    /// The result asked for stands already, or came too late to matter.
    fn already_done(&self) -> bool {
        self.says(&["message is not modified", "query is too old", "query id is invalid"])
    }

    /// The bot cannot speak in this chat any more.
    fn chat_is_closed(&self) -> bool {
        self.code == 403
            || self.description.starts_with("Forbidden:")
            || self.says(&["chat not found", "user not found", "group chat was deactivated"])
    }

    fn topic_is_gone(&self) -> bool {
        self.says(&["message thread not found", "topic_deleted", "topic_closed"])
    }

    /// The message to change is a picture.
    fn is_about_caption(&self) -> bool {
        self.says(&["there is no text in the message to edit"])
    }

    fn markup_is_refused(&self) -> bool {
        self.says(&["can't parse entities"])
    }
}

fn reply(message: MessageId) -> ReplyParameters {
    ReplyParameters::new(message).allow_sending_without_reply()
}

fn no_preview() -> LinkPreviewOptions {
    LinkPreviewOptions {
        is_disabled: true,
        url: None,
        prefer_small_media: false,
        prefer_large_media: false,
        show_above_text: false,
    }
}

/// Buttons in rows; `None` without any. A key too long to come back whole is left out: a button
/// that cannot be understood is worse than none.
fn keyboard(buttons: &[Button]) -> Option<InlineKeyboardMarkup> {
    let mut rows: Vec<Vec<InlineKeyboardButton>> = Vec::new();
    let mut letters = 0;
    for button in buttons.iter().filter(|button| (1..=KEY_MAX).contains(&button.key.len())) {
        let length = button.label.chars().count();
        let made = InlineKeyboardButton::callback(button.label.clone(), button.key.clone());
        match rows.last_mut() {
            Some(row) if row.len() < ROW_BUTTONS && letters + length <= ROW_LETTERS => {
                row.push(made);
                letters += length;
            }
            Some(_) | None => {
                rows.push(vec![made]);
                letters = length;
            }
        }
    }
    if rows.is_empty() { None } else { Some(InlineKeyboardMarkup::new(rows)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn denied(code: u16, description: &str) -> CallError {
        CallError::Denied(Denial {
            code,
            description: description.to_owned(),
            retry_after: None,
            migrate_to: None,
        })
    }

    #[test]
    fn a_refusal_is_judged_by_what_it_means_for_the_message() {
        let closed = [
            (403, "Forbidden: bot was kicked from the group chat"),
            (403, "Forbidden: bot was blocked by the user"),
            (400, "Forbidden: something new"),
            (400, "Bad Request: chat not found"),
            (400, "Bad Request: group chat was deactivated"),
        ];
        for (code, words) in closed {
            assert!(matches!(judge(denied(code, words)), Outcome::Gone { .. }), "{words}");
        }
        let done = [
            "Bad Request: message is not modified: specified new message content",
            "Bad Request: query is too old and response timeout expired or query ID is invalid",
        ];
        for words in done {
            assert_eq!(judge(denied(400, words)), Outcome::Sent { external: None }, "{words}");
        }
        for code in [500, 502, 503, 401] {
            assert!(matches!(judge(denied(code, "x")), Outcome::Failed { .. }), "{code}");
        }
        assert_eq!(judge(denied(429, "x")), Outcome::RetryAfter { seconds: 1 });
        assert!(matches!(judge(denied(504, "x")), Outcome::Unsure { .. }));
        let refused = judge(denied(400, "Bad Request: message text is empty"));
        assert!(matches!(refused, Outcome::Refused { .. }));
    }

    #[test]
    fn only_a_request_that_was_never_written_is_surely_not_sent() {
        let never = judge(CallError::NotMade("connection refused".to_owned()));
        assert!(matches!(never, Outcome::Failed { .. }));
        let cut = judge(CallError::NoAnswer("connection closed".to_owned()));
        assert!(matches!(cut, Outcome::Unsure { .. }));
    }

    #[test]
    fn buttons_fill_rows_that_fit_a_narrow_screen() {
        let button = |label: &str| Button { key: label.to_lowercase(), label: label.to_owned() };
        let labels = ["Changed", "Used up", "Thrown out", "Still here", "Why"];
        let buttons: Vec<Button> = labels.map(button).into();
        let rows: Vec<usize> =
            keyboard(&buttons).unwrap().inline_keyboard.iter().map(Vec::len).collect();
        assert_eq!(rows, [3, 2]);
        assert_eq!(keyboard(&[Button { key: "x".repeat(65), label: "x".to_owned() }]), None);
    }
}
