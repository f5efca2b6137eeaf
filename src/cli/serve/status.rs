//! How `serve` is doing, for whoever runs it: `/live`, `/ready`, `/metrics`.
//!
//! Metrics are in the OpenMetrics text format, read from the store when they are asked for. No
//! word, name or household is among them.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicI64, Ordering};

use anyhow::Context;
use axum::Router;
use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use prometheus_client::encoding::text::encode;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::registry::Registry;
use tokio::net::TcpListener;

use crate::clock::Clock;
use crate::dates::Instant;
use crate::store::{Figures, Store};

/// Fetching that has not worked for this long, in minutes, is an alarm.
pub const SILENT_MINUTES: i64 = 10;

const METRICS_TYPE: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";

/// When fetching last worked, and whether it is this process that fetches.
#[derive(Debug)]
pub struct Pulse {
    fetching: AtomicBool,
    fetched_at: AtomicI64,
}

impl Pulse {
    pub fn new(now: Instant) -> Pulse {
        Pulse { fetching: AtomicBool::new(false), fetched_at: AtomicI64::new(now.micros()) }
    }

    /// This process starts fetching, or leaves it to another.
    pub fn set_fetching(&self, fetching: bool, now: Instant) {
        self.beat(now);
        self.fetching.store(fetching, Ordering::SeqCst);
    }

    /// Fetching worked.
    pub fn beat(&self, now: Instant) {
        self.fetched_at.store(now.micros(), Ordering::SeqCst);
    }

    /// How long fetching has not worked, in seconds; `None` when it is not ours to do.
    pub fn silent_s(&self, now: Instant) -> Option<i64> {
        let since = self.fetched_at.load(Ordering::SeqCst);
        let silent = (now.micros() - since).max(0) / 1_000_000;
        self.fetching.load(Ordering::SeqCst).then_some(silent)
    }

    pub fn is_silent(&self, now: Instant) -> bool {
        self.silent_s(now).is_some_and(|silent| silent >= SILENT_MINUTES * 60)
    }
}

struct Desk {
    store: Store,
    clock: Clock,
    pulse: Arc<Pulse>,
}

/// Answers on `listen` for ever.
pub async fn answer(
    listen: &str,
    store: Store,
    clock: Clock,
    pulse: Arc<Pulse>,
) -> anyhow::Result<()> {
    let listener = TcpListener::bind(listen)
        .await
        .with_context(|| format!("cannot listen on {listen} (LARDERLING_STATUS_LISTEN)"))?;
    let router = Router::new()
        .route("/live", get(async || "alive\n"))
        .route("/ready", get(ready))
        .route("/metrics", get(metrics))
        .with_state(Arc::new(Desk { store, clock, pulse }));
    axum::serve(listener, router).await?;
    Ok(())
}

async fn ready(State(desk): State<Arc<Desk>>) -> Response {
    let fault = if let Err(error) = desk.store.fact("alive_at").await {
        tracing::error!(error = %error, "the store does not answer");
        Some("the store does not answer")
    } else if desk.pulse.is_silent(desk.clock.now()) {
        Some("fetching has not worked for ten minutes")
    } else {
        None
    };
    match fault {
        None => "ready\n".into_response(),
        Some(fault) => (StatusCode::SERVICE_UNAVAILABLE, format!("{fault}\n")).into_response(),
    }
}

async fn metrics(State(desk): State<Arc<Desk>>) -> Response {
    let now = desk.clock.now();
    let figures = match desk.store.figures(now).await {
        Ok(figures) => figures,
        Err(error) => {
            tracing::error!(error = %error, "cannot read the figures");
            return StatusCode::SERVICE_UNAVAILABLE.into_response();
        }
    };
    match text(&figures, desk.pulse.silent_s(now)) {
        Ok(text) => ([(header::CONTENT_TYPE, METRICS_TYPE)], text).into_response(),
        Err(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
    }
}

/// The figures in the OpenMetrics text format.
fn text(figures: &Figures, silent_s: Option<i64>) -> Result<String, std::fmt::Error> {
    let mut registry = Registry::with_prefix("larderling");
    let single = [
        ("households", "Households in the database", Some(figures.households)),
        ("inbox_waiting", "Updates stored and not handled yet", Some(figures.inbox_waiting)),
        ("inbox_lag_seconds", "Age of the oldest of them", Some(figures.inbox_oldest_s)),
        ("inbox_given_up", "Updates given up, of the last days", Some(figures.inbox_failed)),
        ("due_late", "Jobs whose time has come and that are not worked", Some(figures.due_late)),
        ("due_late_seconds", "How late the latest of them is", Some(figures.due_latest_s)),
        ("outbox_lag_seconds", "Age of the oldest message to send", Some(figures.outbox_oldest_s)),
        ("fetch_silence_seconds", "Time since fetching last worked, where it is done", silent_s),
    ];
    for (name, help, value) in single {
        let Some(value) = value else { continue };
        let gauge = Gauge::<i64>::default();
        gauge.set(value);
        registry.register(name, help, gauge);
    }
    let outbox = Family::<Vec<(&'static str, &'static str)>, Gauge>::default();
    for (state, parcels) in &figures.outbox {
        outbox.get_or_create(&vec![("state", state.word())]).set(*parcels);
    }
    registry.register("outbox", "Messages by how far they came, of the last days", outbox);
    let mut text = String::new();
    encode(&mut text, &registry)?;
    Ok(text)
}
