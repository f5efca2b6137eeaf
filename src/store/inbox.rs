//! The inbox: raw updates, stored before the platform is told that they arrived.
//!
//! An update counts once by its primary key, never by comparing ids. Its text is emptied in the
//! transaction that finishes it; its id stays for [`KEEP_HOURS`].

use sqlx::Row;

use super::{Store, StoreError, Tx};
use crate::channel::Channel;
use crate::dates::Instant;

/// How long the id of a finished update is remembered, in hours. The platform delivers again for
/// at most 24.
pub const KEEP_HOURS: i64 = 72;

/// A stored update.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Received {
    pub update_id: i64,
    /// The chat it belongs to, as the channel names it; `None` when the channel could not tell.
    pub chat: Option<String>,
    pub raw: String,
}

/// Whether a stored update may be handled now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// It is this transaction's, and marked done in it.
    Ours,
    /// It was handled before.
    Over,
    /// Another process is at it, or at an elder one of the same chat.
    Later,
}

impl Store {
    /// Stores a batch of raw updates and returns how many of them are new. When this returns, the
    /// platform may forget them. Scan over all households by design.
    pub async fn receive(
        &self,
        channel: Channel,
        updates: &[Received],
        now: Instant,
    ) -> Result<usize, StoreError> {
        let mut tx = self.begin().await?;
        let mut new = 0;
        for update in updates {
            let done = sqlx::query(
                "INSERT INTO inbox (channel, update_id, chat, raw, received_at, state) \
                 VALUES ($1, $2, $3, $4, $5, 'waiting') ON CONFLICT (channel, update_id) DO NOTHING",
            )
            .bind(channel.word())
            .bind(update.update_id)
            .bind(update.chat.as_deref())
            .bind(update.raw.as_str())
            .bind(now.micros())
            .execute(&mut *tx.inner)
            .await?;
            new += usize::from(done.rows_affected() == 1);
        }
        tx.commit().await?;
        Ok(new)
    }

    /// The oldest updates not yet handled, in order of arrival. Scan by design.
    pub async fn waiting(&self, channel: Channel, limit: u32) -> Result<Vec<Received>, StoreError> {
        let rows = sqlx::query(
            "SELECT update_id, chat, raw FROM inbox WHERE channel = $1 AND state = 'waiting' \
             ORDER BY received_at, update_id LIMIT $2",
        )
        .bind(channel.word())
        .bind(i64::from(limit))
        .fetch_all(&self.pool)
        .await?;
        let received = rows.iter().map(|row| {
            Ok(Received {
                update_id: row.try_get("update_id")?,
                chat: row.try_get("chat")?,
                raw: row.try_get("raw")?,
            })
        });
        received.collect()
    }

    /// How many updates are waiting. Scan by design.
    pub async fn waiting_count(&self) -> Result<i64, StoreError> {
        let row = sqlx::query("SELECT count(*) AS waiting FROM inbox WHERE state = 'waiting'")
            .fetch_one(&self.pool)
            .await?;
        Ok(row.try_get("waiting")?)
    }

    /// Forgets the ids of updates finished more than [`KEEP_HOURS`] ago. Scan by design.
    pub async fn prune_inbox(&self, now: Instant) -> Result<u64, StoreError> {
        let mut tx = self.begin().await?;
        let done = sqlx::query("DELETE FROM inbox WHERE state <> 'waiting' AND received_at < $1")
            .bind(now.plus_minutes(-60 * KEEP_HOURS).micros())
            .execute(&mut *tx.inner)
            .await?;
        tx.commit().await?;
        Ok(done.rows_affected())
    }
}

impl Tx {
    /// Claims a waiting update for this transaction and marks it done. Where several processes
    /// share the database, one that another transaction holds is passed over, and a chat's updates
    /// go in order of arrival. The claim ends with the transaction, however it ends.
    pub async fn claim_update(
        &mut self,
        channel: Channel,
        update: i64,
    ) -> Result<Turn, StoreError> {
        if let Some(lock) = self.dialect.lock_update() {
            let row = sqlx::query(lock)
                .bind(channel.word())
                .bind(update)
                .fetch_optional(&mut *self.inner)
                .await?;
            let Some(row) = row else {
                return Ok(if self.is_waiting(channel, update).await? {
                    Turn::Later
                } else {
                    Turn::Over
                });
            };
            let (chat, received_at): (Option<String>, i64) =
                (row.try_get("chat")?, row.try_get("received_at")?);
            let elders = sqlx::query(
                "SELECT count(*) AS elders FROM inbox \
                 WHERE channel = $1 AND chat = $2 AND state = 'waiting' \
                 AND (received_at < $3 OR (received_at = $3 AND update_id < $4))",
            )
            .bind(channel.word())
            .bind(chat)
            .bind(received_at)
            .bind(update)
            .fetch_one(&mut *self.inner)
            .await?;
            if elders.try_get::<i64, _>("elders")? > 0 {
                return Ok(Turn::Later);
            }
        }
        Ok(if self.finish_update(channel, update).await? { Turn::Ours } else { Turn::Over })
    }

    async fn is_waiting(&mut self, channel: Channel, update: i64) -> Result<bool, StoreError> {
        let row = sqlx::query(
            "SELECT count(*) AS waiting FROM inbox \
             WHERE channel = $1 AND update_id = $2 AND state = 'waiting'",
        )
        .bind(channel.word())
        .bind(update)
        .fetch_one(&mut *self.inner)
        .await?;
        Ok(row.try_get::<i64, _>("waiting")? > 0)
    }

    /// Marks a waiting update as done and empties it; `false` when it was not waiting, which means
    /// that it was handled before.
    pub async fn finish_update(
        &mut self,
        channel: Channel,
        update: i64,
    ) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "UPDATE inbox SET state = 'done', raw = NULL \
             WHERE channel = $1 AND update_id = $2 AND state = 'waiting'",
        )
        .bind(channel.word())
        .bind(update)
        .execute(&mut *self.inner)
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Gives a waiting update up: it stays visible as failed, without its text.
    pub async fn fail_update(&mut self, channel: Channel, update: i64) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE inbox SET state = 'failed', raw = NULL \
             WHERE channel = $1 AND update_id = $2 AND state = 'waiting'",
        )
        .bind(channel.word())
        .bind(update)
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }
}
