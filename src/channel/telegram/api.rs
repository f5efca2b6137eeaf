//! The transport: one request, one typed answer or a typed failure that says whether the request
//! can have been carried out.
//!
//! Request payloads are teloxide's. The transport is not, because its errors drop the status code,
//! wait ten seconds on a server error and time out before a long poll ends.

use std::time::Duration;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use teloxide_core::payloads::{DeleteWebhook, GetMe};
use teloxide_core::requests::Payload;

use super::token::Token;

/// The public server.
pub const PUBLIC_SERVER: &str = "https://api.telegram.org";

/// How long making a connection may take.
const CONNECT_LIMIT: Duration = Duration::from_secs(5);
/// How long an ordinary request may take in all.
const REQUEST_LIMIT: Duration = Duration::from_secs(15);
/// How long an unused connection is kept: shorter than servers do, so that a message is seldom
/// written to a connection the other side is closing.
const IDLE_LIMIT: Duration = Duration::from_secs(10);

/// A Bot API server and the right to speak there as one bot.
#[derive(Clone, Debug)]
pub struct Api {
    client: reqwest::Client,
    server: String,
    token: Token,
}

/// The bot itself.
#[derive(Clone, Debug, PartialEq, Eq, serde::Deserialize)]
pub struct Me {
    pub id: i64,
    /// The handle, without the `@`.
    #[serde(default)]
    pub username: String,
    /// Whether plain messages of groups reach it where it is no administrator.
    #[serde(default)]
    pub can_read_all_group_messages: bool,
}

impl Api {
    /// # Errors
    /// When `server` is no address, or the transport cannot be set up.
    pub fn new(server: &str, token: Token) -> anyhow::Result<Api> {
        let address = reqwest::Url::parse(server)
            .map_err(|error| anyhow::anyhow!("the server address {server:?}: {error}"))?;
        anyhow::ensure!(
            matches!(address.scheme(), "http" | "https"),
            "the server address {server:?} must start with http:// or https://"
        );
        let client = reqwest::Client::builder()
            .connect_timeout(CONNECT_LIMIT)
            .pool_idle_timeout(IDLE_LIMIT)
            .build()?;
        Ok(Api { client, server: server.to_owned(), token })
    }

    /// Who we are.
    pub async fn me(&self) -> Result<Me, CallError> {
        self.call(&GetMe::new()).await
    }

    /// Gives up a webhook. What is waiting is kept.
    pub async fn drop_webhook(&self) -> Result<(), CallError> {
        self.call::<_, Value>(&DeleteWebhook::new()).await.map(|_| ())
    }

    /// Makes one request.
    pub async fn call<P, T>(&self, payload: &P) -> Result<T, CallError>
    where
        P: Payload + Serialize,
        T: DeserializeOwned,
    {
        let body = parameters(payload)?;
        self.exchange(P::NAME, REQUEST_LIMIT, |request| request.json(&body)).await
    }

    /// Makes one request that may be answered late: the server holds it for up to `held`.
    pub(super) async fn call_held<P, T>(&self, payload: &P, held: Duration) -> Result<T, CallError>
    where
        P: Payload + Serialize,
        T: DeserializeOwned,
    {
        let body = parameters(payload)?;
        self.exchange(P::NAME, held + REQUEST_LIMIT, |request| request.json(&body)).await
    }

    /// Makes one request with a file in the place of the parameter `field`.
    pub(super) async fn call_with_file<P, T>(
        &self,
        payload: &P,
        field: &'static str,
        file: (&'static str, &'static str, Vec<u8>),
    ) -> Result<T, CallError>
    where
        P: Payload + Serialize,
        T: DeserializeOwned,
    {
        let (name, mime, bytes) = file;
        let part = reqwest::multipart::Part::bytes(bytes).file_name(name);
        let part = part.mime_str(mime).map_err(|error| CallError::NotMade(error.to_string()))?;
        let mut form = reqwest::multipart::Form::new().part(field, part);
        if let Value::Object(values) = parameters(payload)? {
            for (key, value) in values.into_iter().filter(|(key, _)| key != field) {
                let text = match value {
                    Value::String(text) => text,
                    other => other.to_string(),
                };
                form = form.text(key, text);
            }
        }
        self.exchange(P::NAME, REQUEST_LIMIT, |request| request.multipart(form)).await
    }

    async fn exchange<T: DeserializeOwned>(
        &self,
        method: &str,
        limit: Duration,
        fill: impl FnOnce(reqwest::RequestBuilder) -> reqwest::RequestBuilder,
    ) -> Result<T, CallError> {
        let request = self.client.post(self.token.address(&self.server, method)).timeout(limit);
        let response = fill(request).send().await.map_err(|error| self.failure(error))?;
        let status = response.status().as_u16();
        let body = response.bytes().await.map_err(|error| self.failure(error))?;
        let mut answer: Answer = match serde_json::from_slice(&body) {
            Ok(answer) => answer,
            Err(_) if status >= 400 => Answer::refusal(status),
            Err(_) => return Err(CallError::NoAnswer(format!("{method}: an unreadable answer"))),
        };
        if !answer.ok {
            let description = self.token.redact(&answer.description.take().unwrap_or_default());
            return Err(CallError::Denied(Denial {
                code: answer.error_code.unwrap_or(status),
                description,
                retry_after: answer.parameters.retry_after.map(Duration::from_secs),
                migrate_to: answer.parameters.migrate_to_chat_id,
            }));
        }
        serde_json::from_value(answer.result)
            .map_err(|_| CallError::NoAnswer(format!("{method}: an answer of an unknown shape")))
    }

    /// Keeps apart what surely did not arrive and what may have.
    fn failure(&self, error: reqwest::Error) -> CallError {
        let never_written = error.is_connect() || error.is_builder();
        let reason = self.token.redact(&cause(&error.without_url()));
        if never_written { CallError::NotMade(reason) } else { CallError::NoAnswer(reason) }
    }
}

/// An error with what lies under it: the transport's outermost words say little.
fn cause(error: &dyn std::error::Error) -> String {
    let mut words = error.to_string();
    let mut under = error.source();
    while let Some(error) = under {
        words = format!("{words}: {error}");
        under = error.source();
    }
    words
}

/// The parameters of a request as JSON.
fn parameters<P: Serialize>(payload: &P) -> Result<Value, CallError> {
    serde_json::to_value(payload).map_err(|error| CallError::NotMade(error.to_string()))
}

#[derive(serde::Deserialize)]
struct Answer {
    ok: bool,
    #[serde(default)]
    result: Value,
    description: Option<String>,
    error_code: Option<u16>,
    #[serde(default)]
    parameters: Hints,
}

#[derive(Default, serde::Deserialize)]
struct Hints {
    retry_after: Option<u64>,
    migrate_to_chat_id: Option<i64>,
}

impl Answer {
    /// For a refusal by something in between that does not speak the protocol.
    fn refusal(status: u16) -> Answer {
        Answer {
            ok: false,
            result: Value::Null,
            description: Some(format!("the server answered {status}")),
            error_code: Some(status),
            parameters: Hints::default(),
        }
    }
}

/// Why a request did not get its answer.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CallError {
    /// The request was never written: it has certainly not been carried out.
    #[error("the server cannot be reached: {0}")]
    NotMade(String),
    /// The request was written and no whole answer came: it may have been carried out.
    #[error("no answer: {0}")]
    NoAnswer(String),
    /// The server said no.
    #[error("{0}")]
    Denied(Denial),
}

/// The server's own words for saying no.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{description} ({code})")]
pub struct Denial {
    pub code: u16,
    pub description: String,
    pub retry_after: Option<Duration>,
    pub migrate_to: Option<i64>,
}

impl Denial {
    /// Polling is refused because updates are pushed.
    pub(super) fn is_about_webhook(&self) -> bool {
        self.description.to_lowercase().contains("webhook is active")
    }
}

impl CallError {
    /// The token is wrong or was withdrawn: no request will ever succeed.
    pub fn is_unauthorised(&self) -> bool {
        matches!(self, CallError::Denied(Denial { code: 401 | 404, .. }))
    }
}
