//! Long polling that never confirms what is not stored.
//!
//! The next request for updates is the confirmation of the last batch, so a batch goes to the
//! [`Inbox`] first and the next request is made only when the inbox has it. A crash in between
//! brings the batch again, and the inbox knows it by its numbers.

use std::future::Future;
use std::time::Duration;

use serde_json::Value;
use teloxide_core::requests::Payload;
use teloxide_core::types::AllowedUpdate;

use super::api::{Api, CallError, Denial};

/// The kinds of update asked for, at every start: the platform remembers the last list given.
pub const ALLOWED: [AllowedUpdate; 4] = [
    AllowedUpdate::Message,
    AllowedUpdate::EditedMessage,
    AllowedUpdate::CallbackQuery,
    AllowedUpdate::MyChatMember,
];

/// How long the server holds a request when nothing has happened.
const HOLD: Duration = Duration::from_secs(25);
/// Updates at a time; the platform's own maximum.
const BATCH: u8 = 100;
/// Waits after failures: doubled from the first to the last.
const FIRST_WAIT: Duration = Duration::from_millis(500);
const LAST_WAIT: Duration = Duration::from_secs(30);
/// How many times in a row another poller may take our place before we give way.
const CONFLICTS: u32 = 3;

/// One update as it came, not yet understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Raw {
    /// The platform's number. It may jump and fall, so it says nothing about order.
    pub id: i64,
    /// The chat it belongs to, where there is one.
    pub chat: Option<String>,
    /// The whole update as JSON.
    pub body: String,
}

impl Raw {
    /// An update from its JSON; `None` without a number.
    pub fn from_value(update: &Value) -> Option<Raw> {
        let id = update["update_id"].as_i64()?;
        let kinds = update.as_object().into_iter().flatten().map(|(_, content)| content);
        let chat = kinds
            .flat_map(|content| [&content["chat"]["id"], &content["message"]["chat"]["id"]])
            .find_map(Value::as_i64);
        Some(Raw { id, chat: chat.map(|chat| chat.to_string()), body: update.to_string() })
    }
}

/// Where updates are put down before anything else happens to them.
pub trait Inbox: Send + Sync {
    /// Stores the updates and returns when they are safe on disk. Those it already has, by number,
    /// are left as they are.
    ///
    /// # Errors
    /// When they could not be stored; none is then confirmed.
    fn keep(&self, updates: &[Raw]) -> impl Future<Output = anyhow::Result<()>> + Send;
}

/// Why polling came to an end by itself.
#[derive(Debug, thiserror::Error)]
pub enum PollError {
    #[error("the server refuses the bot token: {0}; check TELOXIDE_TOKEN")]
    Unauthorised(CallError),
    #[error(
        "another program is fetching messages with the same bot token: {0}; stop it, then start again"
    )]
    AnotherPoller(Denial),
}

/// Fetches for ever. Drop it to stop: what was fetched and not yet stored comes again. A webhook
/// left from an earlier run, which keeps polling from working, is given up.
///
/// # Errors
/// Only what waiting cannot cure; everything else is waited out.
pub async fn poll(api: &Api, inbox: &impl Inbox) -> Result<(), PollError> {
    let mut offset = None;
    let mut wait = FIRST_WAIT;
    let mut conflicts = 0;
    loop {
        let failure = match fetch(api, offset).await {
            Ok(updates) => {
                // The answer confirmed the batch before. Its number must not be sent again: it
                // would confirm whatever lies below, and numbers may fall.
                offset = None;
                match inbox.keep(&updates).await {
                    Ok(()) => {
                        offset = updates.iter().map(|update| update.id.saturating_add(1)).max();
                        (wait, conflicts) = (FIRST_WAIT, 0);
                        continue;
                    }
                    Err(error) => format!("storing what came: {error:#}"),
                }
            }
            Err(error) if error.is_unauthorised() => return Err(PollError::Unauthorised(error)),
            Err(CallError::Denied(denial)) if denial.code == 409 && denial.is_about_webhook() => {
                match api.drop_webhook().await {
                    Ok(()) => continue,
                    Err(error) => error.to_string(),
                }
            }
            Err(CallError::Denied(denial)) if denial.code == 409 => {
                conflicts += 1;
                if conflicts >= CONFLICTS {
                    return Err(PollError::AnotherPoller(denial));
                }
                denial.to_string()
            }
            Err(CallError::Denied(denial)) => {
                wait = wait.max(denial.retry_after.unwrap_or_default());
                denial.to_string()
            }
            Err(error) => error.to_string(),
        };
        tracing::warn!(
            wait_ms = wait.as_millis(),
            "cannot fetch messages, trying again: {failure}"
        );
        tokio::time::sleep(wait).await;
        wait = (wait * 2).min(LAST_WAIT);
    }
}

async fn fetch(api: &Api, offset: Option<i64>) -> Result<Vec<Raw>, CallError> {
    let request =
        GetUpdates { offset, limit: BATCH, timeout: HOLD.as_secs(), allowed_updates: &ALLOWED };
    let updates: Vec<Value> = api.call_held(&request, HOLD).await?;
    Ok(updates.iter().filter_map(Raw::from_value).collect())
}

/// Ours, because teloxide's keeps the offset in 32 bits.
#[derive(serde::Serialize)]
struct GetUpdates<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    offset: Option<i64>,
    limit: u8,
    timeout: u64,
    allowed_updates: &'a [AllowedUpdate],
}

impl Payload for GetUpdates<'_> {
    type Output = Vec<Value>;
    const NAME: &'static str = "GetUpdates";
}
