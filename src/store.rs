//! The store: households, their logs and states, the inbox, what is due, the outbox.
//!
//! [`Store`] is a pool over SQLite or PostgreSQL behind `sqlx::Any`; [`Tx`] is one writing
//! transaction, and everything one message touches goes through a single one. Every method that
//! reads or changes a household's rows takes its [`HouseholdId`]; the few that scan all households
//! by design (what is due, what to send, what came in) say so. Rows are read by name.
//!
//! Called by the desk, the rounds, the outbox and the command line; never by a channel or the core.

mod copy;
mod dialect;
mod due;
mod error;
mod figures;
mod household;
mod inbox;
mod lease;
mod member;
mod message;
mod open;
mod outbox;

pub use copy::Sum;
pub use dialect::Dialect;
pub use due::DueRow;
pub use error::StoreError;
pub use figures::Figures;
pub use household::{HouseholdRow, Loaded, PersonRow};
pub use inbox::{Received, Turn};
pub use lease::Role;
pub use member::{GONE_DAYS, INVITE_DAYS, Membership};
pub use message::{Author, MessageRow, NewMessage};
pub use open::{Location, Opened};
pub use outbox::{Claimed, Errand, Leases, OutboxRow, ParcelState, Queued, Settled};

use std::fmt;
use std::fs::File;
use std::sync::Arc;

use sqlx::{Any, AnyPool, Transaction};
use uuid::{NoContext, Timestamp, Uuid};

use crate::dates::Instant;

/// A household: the tenant. Nothing crosses from one to another.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct HouseholdId(String);

impl HouseholdId {
    /// A new id, ordered by the time it was made (UUID version 7, RFC 9562).
    pub fn new(now: Instant) -> HouseholdId {
        let micros = now.micros().max(0).unsigned_abs();
        let nanos = u32::try_from(micros % 1_000_000).unwrap_or(0) * 1_000;
        let stamp = Timestamp::from_unix(NoContext, micros / 1_000_000, nanos);
        HouseholdId(Uuid::new_v7(stamp).to_string())
    }

    /// The id with this text, if it is one.
    pub fn from_text(text: &str) -> Option<HouseholdId> {
        Uuid::try_parse(text).ok().map(|id| HouseholdId(id.to_string()))
    }

    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for HouseholdId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A database. Clones share the pool and the lock.
#[derive(Clone)]
pub struct Store {
    pool: AnyPool,
    dialect: Dialect,
    location: Location,
    /// Held for as long as a clone lives: one writing process per SQLite file.
    _lock: Option<Arc<File>>,
}

impl Store {
    /// Begins a writing transaction. Dropped without [`Tx::commit`] it changes nothing.
    pub async fn begin(&self) -> Result<Tx, StoreError> {
        let inner = self.pool.begin_with(self.dialect.begin()).await?;
        Ok(Tx { inner, dialect: self.dialect })
    }

    pub fn dialect(&self) -> Dialect {
        self.dialect
    }

    pub fn location(&self) -> &Location {
        &self.location
    }

    /// Closes every connection, after the transactions that are under way.
    pub async fn close(&self) {
        self.pool.close().await;
    }

    /// A whole-program fact by its name.
    pub async fn fact(&self, name: &str) -> Result<Option<i64>, StoreError> {
        use sqlx::Row;
        let row = sqlx::query("SELECT value FROM service WHERE name = $1")
            .bind(name)
            .fetch_optional(&self.pool)
            .await?;
        Ok(row.map(|row| row.try_get("value")).transpose()?)
    }

    pub async fn set_fact(&self, name: &str, value: i64) -> Result<(), StoreError> {
        let mut tx = self.begin().await?;
        sqlx::query(
            "INSERT INTO service (name, value) VALUES ($1, $2) \
             ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        )
        .bind(name)
        .bind(value)
        .execute(&mut *tx.inner)
        .await?;
        tx.commit().await
    }
}

/// One writing transaction.
pub struct Tx {
    inner: Transaction<'static, Any>,
    dialect: Dialect,
}

impl Tx {
    pub async fn commit(self) -> Result<(), StoreError> {
        Ok(self.inner.commit().await?)
    }
}

/// Text from outside as both databases keep it: PostgreSQL refuses NUL.
fn storable(text: &str) -> String {
    text.replace('\0', "\u{FFFD}")
}

/// A count or number as the database keeps it. Ours are far below the limit.
fn db(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

/// A count or number as it comes from the database.
fn count(number: i64) -> Result<u64, StoreError> {
    u64::try_from(number).map_err(|_| StoreError::Unreadable(format!("a count of {number}")))
}
