//! Leases: what only one of several processes does at a time.
//!
//! A lease is a row with the instant it runs to. That instant is also how its holder is known: who
//! renews must say which one it holds, and nobody else can know it.

use super::{Store, StoreError};
use crate::dates::Instant;

/// A piece of work for one process at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Fetches updates: the platform serves one poller.
    Poller,
    /// Sends: the limits of the platform hold over all processes.
    Sender,
}

impl Role {
    pub fn word(self) -> &'static str {
        match self {
            Role::Poller => "poller",
            Role::Sender => "sender",
        }
    }

    fn fact(self) -> &'static str {
        match self {
            Role::Poller => "poller_until",
            Role::Sender => "sender_until",
        }
    }
}

impl Store {
    /// Takes or renews the lease of `role` to `until`; `held` is what this process took before.
    /// `false` when another process holds it.
    pub async fn take_lease(
        &self,
        role: Role,
        held: Option<Instant>,
        now: Instant,
        until: Instant,
    ) -> Result<bool, StoreError> {
        let mut tx = self.begin().await?;
        let done = sqlx::query(
            "INSERT INTO service (name, value) VALUES ($1, $2) \
             ON CONFLICT (name) DO UPDATE SET value = excluded.value \
             WHERE service.value < $3 OR service.value = $4",
        )
        .bind(role.fact())
        .bind(until.micros())
        .bind(now.micros())
        .bind(held.unwrap_or(now).micros())
        .execute(&mut *tx.inner)
        .await?;
        tx.commit().await?;
        Ok(done.rows_affected() == 1)
    }

    /// Gives the lease back, so that the next process need not wait until it has run out.
    pub async fn drop_lease(&self, role: Role, held: Instant) -> Result<(), StoreError> {
        let mut tx = self.begin().await?;
        sqlx::query("DELETE FROM service WHERE name = $1 AND value = $2")
            .bind(role.fact())
            .bind(held.micros())
            .execute(&mut *tx.inner)
            .await?;
        tx.commit().await
    }
}
