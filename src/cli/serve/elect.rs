//! Election: of several processes on one database, one fetches and one sends.
//!
//! The lease runs [`LEASE_S`] and is renewed three times as often; a process that cannot renew it
//! stops the work before it has run out, so that two never do it at once while their clocks differ
//! by less than the rest.

use std::future::Future;
use std::time::Duration;

use tokio::sync::watch;

use super::until;
use crate::clock::Clock;
use crate::dates::Instant;
use crate::store::{Dialect, Role, Store, StoreError};

/// How long a lease runs, in seconds.
const LEASE_S: i64 = 15;
/// How often it is renewed, or asked for, in seconds.
const RENEW_S: u64 = 5;
/// A lease with less left than this, in seconds, is no longer relied on.
const REST_S: i64 = 5;

/// Does `work` while this process holds `role`, until `stopped`. What `work` is given turns true
/// when it must end. A process alone on its database holds every role.
pub async fn hold<W: Future<Output = anyhow::Result<()>>>(
    store: Store,
    clock: Clock,
    role: Role,
    stopped: watch::Receiver<bool>,
    work: impl Fn(watch::Receiver<bool>) -> W,
) -> anyhow::Result<()> {
    if store.dialect() == Dialect::Sqlite {
        return work(stopped).await;
    }
    while !*stopped.borrow() {
        let taken = take(&store, &clock, role, None).await.unwrap_or_else(|error| {
            tracing::error!(role = role.word(), "cannot ask for the role: {error}");
            None
        });
        let Some(held) = taken else {
            tokio::select! {
                () = until(stopped.clone()) => {}
                () = tokio::time::sleep(Duration::from_secs(RENEW_S)) => {}
            }
            continue;
        };
        tracing::info!(role = role.word(), "this process has the role now");
        let (end, ended) = watch::channel(false);
        let mut working = std::pin::pin!(work(ended));
        let held = tokio::select! {
            ended = &mut working => {
                store.drop_lease(role, held).await?;
                return ended;
            }
            held = keep(&store, &clock, role, held, stopped.clone()) => held,
        };
        let _ = end.send(true);
        working.await?;
        match held {
            Some(held) => store.drop_lease(role, held).await?,
            None => tracing::warn!(role = role.word(), "another process has the role now"),
        }
    }
    Ok(())
}

/// Renews the lease until `stopped`, and returns what is then held; `None` when it was lost.
async fn keep(
    store: &Store,
    clock: &Clock,
    role: Role,
    mut held: Instant,
    stopped: watch::Receiver<bool>,
) -> Option<Instant> {
    loop {
        tokio::select! {
            () = until(stopped.clone()) => return Some(held),
            () = tokio::time::sleep(Duration::from_secs(RENEW_S)) => {}
        }
        let limit = Duration::from_secs(RENEW_S);
        match tokio::time::timeout(limit, take(store, clock, role, Some(held))).await {
            Ok(Ok(Some(renewed))) => held = renewed,
            Ok(Ok(None)) => return None,
            Ok(Err(error)) => tracing::error!(role = role.word(), "cannot renew: {error}"),
            Err(_) => tracing::error!(role = role.word(), "the database does not answer"),
        }
        if held.micros() - clock.now().micros() < REST_S * 1_000_000 {
            return None;
        }
    }
}

async fn take(
    store: &Store,
    clock: &Clock,
    role: Role,
    held: Option<Instant>,
) -> Result<Option<Instant>, StoreError> {
    let now = clock.now();
    let until = Instant::from_micros(now.micros() + LEASE_S * 1_000_000);
    Ok(store.take_lease(role, held, now, until).await?.then_some(until))
}
