//! Requests and answers on the wire, and the ways a connection can go wrong.

use std::io;
use std::net::SocketAddr;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::{Context, Poll};
use std::time::{Duration, Instant};

use axum::extract::connect_info::Connected;
use axum::extract::{ConnectInfo, DefaultBodyLimit, FromRequest, Multipart, Request, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::serve::{IncomingStream, Listener};
use serde_json::{Map, Value, json};
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::{TcpListener, TcpStream};

use super::rules::{self, Denial};
use super::{End, Fault, Shared, TOKEN};

/// The longest the server holds a poll, whatever it is asked for.
const HOLD_MAX: Duration = Duration::from_secs(50);
/// Between two tries to push an update that was not taken.
const PUSH_PAUSE: Duration = Duration::from_millis(50);

pub async fn serve(listener: TcpListener, shared: Arc<Shared>) {
    let router = axum::Router::new()
        .fallback(answer)
        .layer(DefaultBodyLimit::max(64 << 20))
        .with_state(shared);
    let service = router.into_make_service_with_connect_info::<Scissors>();
    axum::serve(Cuttable(listener), service).await.expect("the test server runs");
}

async fn answer(
    State(shared): State<Arc<Shared>>,
    ConnectInfo(scissors): ConnectInfo<Scissors>,
    request: Request,
) -> Response {
    let path = request.uri().path().to_owned();
    let method = path.strip_prefix(&format!("/bot{TOKEN}/")).map(rules::canonical);
    let (params, files) = parameters(request).await;
    let Some(method) = method else {
        return denial(&Denial::new(401, "Unauthorized"));
    };
    let Some(method) = method else {
        return denial(&Denial::new(404, "Not Found: method not found"));
    };
    let (number, fault) = {
        let mut state = shared.state.lock().unwrap();
        state.requests.push(super::Request {
            method: method.to_owned(),
            params: params.clone(),
            files: files.clone(),
            end: End::Open,
        });
        (state.requests.len() - 1, state.take_fault(method))
    };
    shared.changed.notify_all();
    let chat = params.get("chat_id").and_then(Value::as_i64);
    let end = |end: End| {
        shared.state.lock().unwrap().requests[number].end = end;
        shared.changed.notify_all();
    };
    match fault {
        Some(Fault::Hang) => {
            end(End::Unanswered);
            std::future::pending().await
        }
        Some(Fault::CutBefore) => {
            end(End::Unanswered);
            scissors.cut();
            return StatusCode::OK.into_response();
        }
        Some(Fault::Gateway(code)) => {
            end(End::Denied(code, "a gateway's page".to_owned()));
            let code = StatusCode::from_u16(code).expect("a status");
            return (code, "<html><h1>gateway</h1></html>").into_response();
        }
        Some(Fault::Deny { code, words }) => {
            end(End::Denied(code, words.to_owned()));
            return denial(&Denial::new(code, words));
        }
        Some(Fault::TooMany { seconds }) => {
            let denied = Denial::too_many(seconds);
            if let Some(chat) = chat {
                let until = Instant::now() + Duration::from_secs(seconds);
                shared.state.lock().unwrap().paused.insert(chat, until);
            }
            end(End::Denied(429, denied.words.clone()));
            return denial(&denied);
        }
        Some(Fault::CutAfter) | None => {}
    }
    let result = match method {
        "getUpdates" => updates(&shared, &params).await,
        _ => rules::perform(&mut shared.state.lock().unwrap(), method, &params, &files),
    };
    if method == "setWebhook" && result.is_ok() {
        tokio::spawn(push(Arc::clone(&shared)));
    }
    if fault == Some(Fault::CutAfter) {
        end(End::Unanswered);
        scissors.cut();
        return StatusCode::OK.into_response();
    }
    match result {
        Ok(value) => {
            end(End::Done(value.clone()));
            axum::Json(json!({ "ok": true, "result": value })).into_response()
        }
        Err(denied) => {
            end(End::Denied(denied.code, denied.words.clone()));
            denial(&denied)
        }
    }
}

fn denial(denial: &Denial) -> Response {
    let mut parameters = Map::new();
    if let Some(seconds) = denial.retry_after {
        parameters.insert("retry_after".to_owned(), json!(seconds));
    }
    if let Some(to) = denial.migrate_to {
        parameters.insert("migrate_to_chat_id".to_owned(), json!(to));
    }
    let mut body = json!({
        "ok": false, "error_code": denial.code, "description": denial.words,
    });
    if !parameters.is_empty() {
        body["parameters"] = Value::Object(parameters);
    }
    let code = StatusCode::from_u16(denial.code).expect("a status");
    (code, axum::Json(body)).into_response()
}

/// The parameters of a request, JSON or multipart, and its files.
async fn parameters(request: Request) -> (Map<String, Value>, Vec<(String, Vec<u8>)>) {
    let kind = request.headers().get(header::CONTENT_TYPE).cloned();
    let kind = kind.as_ref().and_then(|kind| kind.to_str().ok()).unwrap_or_default();
    let mut files = Vec::new();
    let mut params = Map::new();
    if kind.starts_with("multipart/form-data") {
        let mut parts = Multipart::from_request(request, &()).await.expect("multipart");
        while let Some(part) = parts.next_field().await.expect("a part") {
            let name = part.name().expect("a name").to_owned();
            if part.file_name().is_some() {
                files.push((name, part.bytes().await.expect("a file").to_vec()));
                continue;
            }
            let text = part.text().await.expect("text");
            // Words stay words even when they look like JSON.
            let is_words = matches!(name.as_str(), "text" | "caption");
            let value = if is_words { None } else { serde_json::from_str(&text).ok() };
            params.insert(name, value.unwrap_or(Value::String(text)));
        }
    } else {
        let body = axum::body::to_bytes(request.into_body(), 64 << 20).await.expect("a body");
        if !body.is_empty() {
            params = serde_json::from_slice(&body).expect("a JSON object");
        }
    }
    (params, files)
}

/// Confirms what lies below the offset, then waits for what comes after.
async fn updates(shared: &Shared, params: &Map<String, Value>) -> Result<Value, Denial> {
    let number = |name: &str| params.get(name).and_then(Value::as_i64);
    let hold = Duration::from_secs(number("timeout").unwrap_or(0).max(0).unsigned_abs());
    let limit = usize::try_from(number("limit").unwrap_or(100).clamp(1, 100)).expect("a limit");
    let until = Instant::now() + hold.min(HOLD_MAX);
    let this = {
        let mut state = shared.state.lock().unwrap();
        if state.webhook.is_some() {
            let words = "Conflict: can't use getUpdates method while webhook is active; \
                         use deleteWebhook to delete the webhook first";
            return Err(Denial::new(409, words));
        }
        if let Some(kinds) = params.get("allowed_updates").and_then(Value::as_array) {
            let kinds = kinds.iter().filter_map(Value::as_str).map(str::to_owned);
            state.allowed = Some(kinds.collect());
        }
        if let Some(offset) = number("offset") {
            state.pending.retain(|update| update["update_id"].as_i64() >= Some(offset));
        }
        state.polls += 1;
        state.polls
    };
    // Whoever polled before has to go.
    shared.arrived.notify_waiters();
    shared.changed.notify_all();
    loop {
        let arrived = shared.arrived.notified();
        tokio::pin!(arrived);
        arrived.as_mut().enable();
        {
            let state = shared.state.lock().unwrap();
            if state.polls != this {
                let words = "Conflict: terminated by other getUpdates request; \
                             make sure that only one bot instance is running";
                return Err(Denial::new(409, words));
            }
            if !state.pending.is_empty() {
                return Ok(state.pending.iter().take(limit).cloned().collect());
            }
        }
        let left = until.saturating_duration_since(Instant::now());
        if left.is_zero() || tokio::time::timeout(left, arrived).await.is_err() {
            return Ok(Value::Array(Vec::new()));
        }
    }
}

/// Pushes updates one by one until each is taken.
async fn push(shared: Arc<Shared>) {
    let client = reqwest::Client::new();
    loop {
        let (webhook, update) = {
            let state = shared.state.lock().unwrap();
            let Some(webhook) = state.webhook.clone() else { return };
            (webhook, state.pending.front().cloned())
        };
        if let Some(update) = update {
            let request = client
                .post(&webhook.url)
                .header("X-Telegram-Bot-Api-Secret-Token", &webhook.secret)
                .json(&update);
            let taken = request.send().await.is_ok_and(|response| response.status().is_success());
            if taken {
                let mut state = shared.state.lock().unwrap();
                state.pending.retain(|other| other["update_id"] != update["update_id"]);
                drop(state);
                shared.changed.notify_all();
                continue;
            }
        }
        tokio::time::sleep(PUSH_PAUSE).await;
    }
}

/// Connections that can be cut from inside a handler.
struct Cuttable(TcpListener);

#[derive(Clone)]
struct Scissors(Arc<AtomicBool>);

impl Scissors {
    /// From now on nothing more is written.
    fn cut(&self) {
        self.0.store(true, Ordering::SeqCst);
    }
}

impl Connected<IncomingStream<'_, Cuttable>> for Scissors {
    fn connect_info(stream: IncomingStream<'_, Cuttable>) -> Scissors {
        stream.io().scissors.clone()
    }
}

impl Listener for Cuttable {
    type Io = Thread;
    type Addr = SocketAddr;

    async fn accept(&mut self) -> (Thread, SocketAddr) {
        loop {
            if let Ok((stream, from)) = self.0.accept().await {
                let scissors = Scissors(Arc::new(AtomicBool::new(false)));
                return (Thread { stream, scissors }, from);
            }
        }
    }

    fn local_addr(&self) -> io::Result<SocketAddr> {
        self.0.local_addr()
    }
}

/// A connection with the scissors at it.
struct Thread {
    stream: TcpStream,
    scissors: Scissors,
}

impl AsyncRead for Thread {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, buffer)
    }
}

impl AsyncWrite for Thread {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        if self.scissors.0.load(Ordering::SeqCst) {
            return Poll::Ready(Err(io::ErrorKind::BrokenPipe.into()));
        }
        Pin::new(&mut self.stream).poll_write(context, bytes)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }
}
