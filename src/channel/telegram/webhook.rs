//! The other way in: the platform pushes updates to us.
//!
//! An update is answered with success only after the inbox has it; anything else makes the
//! platform push it again. The secret is compared in constant time.

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, State};
use axum::http::{HeaderMap, StatusCode};
use axum::routing::post;
use serde_json::Value;
use subtle::ConstantTimeEq;
use teloxide_core::payloads::SetWebhook;
use tokio::sync::Semaphore;

use super::api::{Api, CallError};
use super::fetch::{ALLOWED, Inbox, Raw};

/// Where the platform pushes to, below the public address.
pub const PATH: &str = "/updates";

/// The header that carries the secret.
const SECRET_HEADER: &str = "X-Telegram-Bot-Api-Secret-Token";
/// The largest update taken, in bytes; real ones are a few thousand.
const BODY_MAX: usize = 1 << 20;
/// How many pushes are taken at once; more are turned away, and the platform pushes them again.
const AT_ONCE_MAX: usize = 64;
/// How many pushes the platform may make at once.
const CONNECTIONS: u8 = 4;

/// What proves that a push comes from the platform. Cannot print itself.
#[derive(Clone)]
pub struct Secret(String);

impl Secret {
    /// # Errors
    /// The platform takes 1 to 256 letters, digits, `_` and `-`; fewer than 16 are too easy to
    /// guess.
    pub fn new(text: &str) -> Result<Secret, WeakSecret> {
        let plain = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
        let fits = (16..=256).contains(&text.len()) && text.bytes().all(plain);
        if fits { Ok(Secret(text.to_owned())) } else { Err(WeakSecret) }
    }

    fn matches(&self, given: &[u8]) -> bool {
        self.0.as_bytes().ct_eq(given).into()
    }
}

impl std::fmt::Debug for Secret {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("[secret]")
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a webhook secret has 16 to 256 letters, digits, '_' and '-'")]
pub struct WeakSecret;

/// Asks the platform to push to `public` + [`PATH`].
///
/// # Errors
/// When the address is none or the platform refuses it.
pub async fn register(api: &Api, public: &str, secret: &Secret) -> Result<(), CallError> {
    let address = format!("{}{PATH}", public.trim_end_matches('/'));
    let address = reqwest::Url::parse(&address)
        .map_err(|error| CallError::NotMade(format!("the address {address:?}: {error}")))?;
    let mut request = SetWebhook::new(address);
    request.secret_token = Some(secret.0.clone());
    request.allowed_updates = Some(ALLOWED.to_vec());
    request.max_connections = Some(CONNECTIONS);
    api.call::<_, Value>(&request).await.map(|_| ())
}

/// The route that takes pushes.
pub fn router<I: Inbox + 'static>(secret: Secret, inbox: Arc<I>) -> Router {
    Router::new()
        .route(PATH, post(take::<I>))
        .layer(DefaultBodyLimit::max(BODY_MAX))
        .with_state(Arc::new(Door { secret, inbox, places: Semaphore::new(AT_ONCE_MAX) }))
}

struct Door<I> {
    secret: Secret,
    inbox: Arc<I>,
    places: Semaphore,
}

async fn take<I: Inbox>(
    State(door): State<Arc<Door<I>>>,
    headers: HeaderMap,
    body: Bytes,
) -> StatusCode {
    let given = headers.get(SECRET_HEADER).map_or(&[][..], |value| value.as_bytes());
    if !door.secret.matches(given) {
        return StatusCode::UNAUTHORIZED;
    }
    let Ok(_place) = door.places.try_acquire() else {
        return StatusCode::TOO_MANY_REQUESTS;
    };
    let update = serde_json::from_slice::<Value>(&body).ok();
    let Some(raw) = update.as_ref().and_then(Raw::from_value) else {
        return StatusCode::BAD_REQUEST;
    };
    match door.inbox.keep(&[raw]).await {
        Ok(()) => StatusCode::OK,
        Err(error) => {
            tracing::warn!("cannot store what was pushed: {error:#}");
            StatusCode::SERVICE_UNAVAILABLE
        }
    }
}
