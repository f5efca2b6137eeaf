//! How the program is doing, in figures: lag, lateness, what waits and what was refused.

use sqlx::Row;

use super::{ParcelState, Store, StoreError};
use crate::dates::Instant;

/// Figures over all households at one moment; no word and no name is among them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figures {
    pub households: i64,
    /// Updates stored and not handled yet, and how long the oldest has waited, in seconds.
    pub inbox_waiting: i64,
    pub inbox_oldest_s: i64,
    /// Updates given up.
    pub inbox_failed: i64,
    /// Jobs whose time has come and that are not worked, and how late the latest one is, in
    /// seconds.
    pub due_late: i64,
    pub due_latest_s: i64,
    /// How long the oldest message that may go out now has waited, in seconds.
    pub outbox_oldest_s: i64,
    /// Messages by how far they came; settled ones are kept for some days.
    pub outbox: Vec<(ParcelState, i64)>,
}

impl Store {
    /// Scan over all households by design; reads what is open, and counts what is kept.
    pub async fn figures(&self, now: Instant) -> Result<Figures, StoreError> {
        let age =
            |since: Option<i64>| since.map_or(0, |since| (now.micros() - since).max(0) / 1_000_000);
        let row = sqlx::query("SELECT count(*) AS households FROM household")
            .fetch_one(&self.pool)
            .await?;
        let households = row.try_get("households")?;
        let waiting = sqlx::query(
            "SELECT count(*) AS waiting, min(received_at) AS oldest FROM inbox \
             WHERE state = 'waiting'",
        )
        .fetch_one(&self.pool)
        .await?;
        let failed = sqlx::query("SELECT count(*) AS failed FROM inbox WHERE state = 'failed'")
            .fetch_one(&self.pool)
            .await?;
        let late = sqlx::query(
            "SELECT count(*) AS late, min(due_at) AS oldest FROM due \
             WHERE state = 'waiting' AND due_at <= $1",
        )
        .bind(now.micros())
        .fetch_one(&self.pool)
        .await?;
        let queued = sqlx::query(
            "SELECT min(queued_at) AS oldest FROM outbox \
             WHERE state = 'queued' AND not_before <= $1",
        )
        .bind(now.micros())
        .fetch_one(&self.pool)
        .await?;
        Ok(Figures {
            households,
            inbox_waiting: waiting.try_get("waiting")?,
            inbox_oldest_s: age(waiting.try_get("oldest")?),
            inbox_failed: failed.try_get("failed")?,
            due_late: late.try_get("late")?,
            due_latest_s: age(late.try_get("oldest")?),
            outbox_oldest_s: age(queued.try_get("oldest")?),
            outbox: self.outbox_counts().await?,
        })
    }
}
