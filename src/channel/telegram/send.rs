//! Sending: one [`Outbound`] becomes one request and ends as one [`Outcome`].
//!
//! Nothing here tries again on its own, except where the server said no for a reason that a
//! plainer form of the same message cures (the topic is gone, the markup is refused).

use std::time::Duration;

use serde::Deserialize;
use serde_json::Value;
use teloxide_core::payloads::{
    AnswerCallbackQuery, EditMessageText, LeaveChat, SendMessage, SendPhoto, SetMessageReaction,
};
use teloxide_core::types::{
    CallbackQueryId, ChatId, InlineKeyboardButton, InlineKeyboardMarkup, InputFile,
    LinkPreviewOptions, MessageId, ParseMode, ReactionType, Recipient, ReplyMarkup,
    ReplyParameters, ThreadId,
};

use super::api::{Api, CallError, Denial};
use super::exchange::{Letter, Outbound, Outcome};
use super::html::{self, Page};
use crate::conversation::{Button, Rich};

/// The sign of "noted", one of those every chat offers.
const NOTED: &str = "👍";
/// The longest key a button can carry, in bytes.
pub const KEY_MAX: usize = 64;
/// The longest words in answer to a press, in characters.
const PRESS_ANSWER_MAX: usize = 200;
/// A row of buttons holds at most so many, and labels of about so many characters in all, or a
/// narrow screen cuts them off.
const ROW_BUTTONS: usize = 3;
const ROW_LETTERS: usize = 32;

/// Makes the request and judges how it ended.
pub async fn send(api: &Api, outbound: &Outbound) -> Outcome {
    let outcome = match outbound {
        Outbound::Send(letter) => send_letter(api, letter).await,
        Outbound::Edit { chat, message, text, buttons } => {
            edit(api, *chat, *message, text, buttons).await
        }
        Outbound::React { chat, message } => react(api, *chat, *message).await,
        Outbound::AnswerPress { press, text } => answer_press(api, press, text.as_deref()).await,
        Outbound::Leave { chat } => {
            done(api.call::<_, Value>(&LeaveChat::new(ChatId(*chat))).await)
        }
    };
    match outcome {
        Outcome::Unsure { reason } if outbound.may_be_repeated() => {
            Outcome::Later { wait: None, reason }
        }
        outcome => outcome,
    }
}

async fn send_letter(api: &Api, letter: &Letter) -> Outcome {
    let mut pages = html::pages(&letter.text, html::MESSAGE_MAX);
    let Some(last) = pages.pop() else {
        return Outcome::Refused { reason: "the message has no words".to_owned() };
    };
    for (number, page) in pages.iter().enumerate() {
        let outcome = send_page(api, letter, page, &[]).await;
        match (number, outcome) {
            (_, Outcome::Sent { .. }) => {}
            (0, outcome) => return outcome,
            (_, outcome) => return cut_short(outcome),
        }
    }
    let outcome = send_page(api, letter, &last, &letter.buttons).await;
    if pages.is_empty() { outcome } else { cut_short(outcome) }
}

/// A message of several parts of which some are sent must not start over.
fn cut_short(outcome: Outcome) -> Outcome {
    match outcome {
        Outcome::Sent { message } => Outcome::Sent { message },
        Outcome::Later { reason, .. }
        | Outcome::Closed { reason }
        | Outcome::Refused { reason }
        | Outcome::Unsure { reason } => {
            Outcome::Unsure { reason: format!("only the first part was sent: {reason}") }
        }
        Outcome::Moved { .. } => {
            Outcome::Unsure { reason: "the chat moved between two parts".to_owned() }
        }
    }
}

async fn send_page(api: &Api, letter: &Letter, page: &Page, buttons: &[Button]) -> Outcome {
    let mut style = Style { topic: letter.topic, markup: Markup::Html };
    loop {
        let result = match &letter.picture {
            Some(picture) if page.plain.encode_utf16().count() <= html::CAPTION_MAX => {
                send_picture(api, letter, page, buttons, style, picture.clone()).await
            }
            Some(_) | None => send_text(api, letter, page, buttons, style).await,
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
    topic: Option<i64>,
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
    letter: &Letter,
    page: &Page,
    buttons: &[Button],
    style: Style,
) -> Result<New, CallError> {
    let (text, parse_mode) = style.markup.of(page);
    let mut request = SendMessage::new(chat(letter.chat), text);
    request.parse_mode = parse_mode;
    request.link_preview_options = Some(no_preview());
    request.message_thread_id = style.topic.and_then(thread);
    request.reply_parameters = letter.reply_to.and_then(reply);
    request.reply_markup = keyboard(buttons).map(ReplyMarkup::InlineKeyboard);
    request.disable_notification = (!letter.loud).then_some(true);
    api.call(&request).await
}

async fn send_picture(
    api: &Api,
    letter: &Letter,
    page: &Page,
    buttons: &[Button],
    style: Style,
    picture: Vec<u8>,
) -> Result<New, CallError> {
    let (text, parse_mode) = style.markup.of(page);
    let mut request = SendPhoto::new(chat(letter.chat), InputFile::memory(Vec::new()));
    request.caption = Some(text);
    request.parse_mode = parse_mode;
    request.message_thread_id = style.topic.and_then(thread);
    request.reply_parameters = letter.reply_to.and_then(reply);
    request.reply_markup = keyboard(buttons).map(ReplyMarkup::InlineKeyboard);
    request.disable_notification = (!letter.loud).then_some(true);
    api.call_with_file(&request, "photo", ("picture.png", "image/png", picture)).await
}

async fn edit(api: &Api, chat_id: i64, message: i64, text: &Rich, buttons: &[Button]) -> Outcome {
    let Some(page) = html::pages(text, html::MESSAGE_MAX).into_iter().next() else {
        return Outcome::Refused { reason: "the message has no words".to_owned() };
    };
    let Ok(id) = i32::try_from(message) else { return no_such_message(message) };
    let mut request = EditMessageText::new(chat(chat_id), MessageId(id), page.html.clone());
    request.parse_mode = Some(ParseMode::Html);
    request.link_preview_options = Some(no_preview());
    request.reply_markup = keyboard(buttons);
    let mut result = api.call::<_, Value>(&request).await;
    if matches!(&result, Err(CallError::Denied(denial)) if denial.markup_is_refused()) {
        request.text = page.plain;
        request.parse_mode = None;
        result = api.call::<_, Value>(&request).await;
    }
    match done(result) {
        Outcome::Sent { .. } => Outcome::Sent { message: Some(message) },
        outcome => outcome,
    }
}

async fn react(api: &Api, chat_id: i64, message: i64) -> Outcome {
    let Ok(id) = i32::try_from(message) else { return no_such_message(message) };
    let mut request = SetMessageReaction::new(chat(chat_id), MessageId(id));
    request.reaction = Some(vec![ReactionType::Emoji { emoji: NOTED.to_owned() }]);
    done(api.call::<_, Value>(&request).await)
}

async fn answer_press(api: &Api, press: &str, text: Option<&str>) -> Outcome {
    let mut request = AnswerCallbackQuery::new(CallbackQueryId(press.to_owned()));
    request.text = text.map(|text| text.chars().take(PRESS_ANSWER_MAX).collect());
    done(api.call::<_, Value>(&request).await)
}

fn no_such_message(message: i64) -> Outcome {
    Outcome::Refused { reason: format!("no message can have the number {message}") }
}

/// The part of an answer that is kept: the new message's number.
#[derive(Deserialize)]
struct New {
    message_id: i64,
}

fn sent(result: Result<New, CallError>) -> Outcome {
    match result {
        Ok(new) => Outcome::Sent { message: Some(new.message_id) },
        Err(error) => judge(error),
    }
}

fn done(result: Result<Value, CallError>) -> Outcome {
    match result {
        Ok(_) => Outcome::Sent { message: None },
        Err(error) => judge(error),
    }
}

/// How a request without a good answer ended.
fn judge(error: CallError) -> Outcome {
    let denial = match error {
        CallError::NotMade(reason) => return Outcome::Later { wait: None, reason },
        CallError::NoAnswer(reason) => return Outcome::Unsure { reason },
        CallError::Denied(denial) => denial,
    };
    let reason = denial.to_string();
    if let Some(to) = denial.migrate_to {
        return Outcome::Moved { to };
    }
    if denial.already_done() {
        return Outcome::Sent { message: None };
    }
    if denial.chat_is_closed() {
        return Outcome::Closed { reason };
    }
    match denial.code {
        429 => Outcome::Later { wait: denial.retry_after.or(Some(Duration::from_secs(1))), reason },
        // A bad token is cured outside; the message can wait for it.
        401 | 404 => Outcome::Later { wait: None, reason },
        500..=503 => Outcome::Later { wait: denial.retry_after, reason },
        // Something in between gave up waiting for the server.
        504.. => Outcome::Unsure { reason },
        _ => Outcome::Refused { reason },
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

    fn markup_is_refused(&self) -> bool {
        self.says(&["can't parse entities"])
    }
}

fn chat(id: i64) -> Recipient {
    Recipient::Id(ChatId(id))
}

fn thread(topic: i64) -> Option<ThreadId> {
    i32::try_from(topic).ok().map(|id| ThreadId(MessageId(id)))
}

fn reply(message: i64) -> Option<ReplyParameters> {
    let id = i32::try_from(message).ok()?;
    Some(ReplyParameters::new(MessageId(id)).allow_sending_without_reply())
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
            assert!(matches!(judge(denied(code, words)), Outcome::Closed { .. }), "{words}");
        }
        let done = [
            "Bad Request: message is not modified: specified new message content",
            "Bad Request: query is too old and response timeout expired or query ID is invalid",
        ];
        for words in done {
            assert_eq!(judge(denied(400, words)), Outcome::Sent { message: None }, "{words}");
        }
        for code in [429, 500, 502, 503, 401] {
            assert!(matches!(judge(denied(code, "x")), Outcome::Later { .. }), "{code}");
        }
        assert!(matches!(judge(denied(504, "x")), Outcome::Unsure { .. }));
        let refused = judge(denied(400, "Bad Request: message text is empty"));
        assert!(matches!(refused, Outcome::Refused { .. }));
    }

    #[test]
    fn only_a_request_that_was_never_written_is_surely_not_sent() {
        let never = judge(CallError::NotMade("connection refused".to_owned()));
        assert!(matches!(never, Outcome::Later { .. }));
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
