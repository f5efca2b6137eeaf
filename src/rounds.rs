//! The rounds: when each household's scheduled jobs come due, and working them.
//!
//! A job is due once per local day; its row is claimed, worked and marked in one transaction with
//! what it says, so restarts and clock changes can neither repeat nor lose it. A job missed while
//! the program was down is made good only while it is still useful.

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use tokio::sync::Notify;

use crate::clock::Clock;
use crate::dates::Instant;
use crate::desk::{Desk, DeskError, Fate};

/// How many due rows are worked before looking again.
const BATCH: u32 = 100;
/// The longest sleep, in seconds: the wall clock may be set while we sleep.
const SLEEP_MAX_S: u64 = 20;
/// The wait after a failure of the store, in seconds.
const RETRY_S: u64 = 5;
/// The shortest sleep, in milliseconds.
const SLEEP_MIN_MS: u64 = 50;

/// Works everything that is due now, oldest first, and returns how many jobs there were.
pub async fn work_due(desk: &Desk) -> Result<usize, DeskError> {
    let mut worked = 0;
    loop {
        let rows = desk.store().due(desk.clock().now(), BATCH).await?;
        let before = worked;
        for row in rows {
            worked += usize::from(desk.work_due(&row).await? != Fate::Later);
        }
        if worked == before {
            return Ok(worked);
        }
    }
}

/// Works what comes due until `stop` resolves. `wake` says that the plan may have changed.
pub async fn run(desk: &Desk, wake: Arc<Notify>, stop: impl Future<Output = ()>) {
    let mut stop = std::pin::pin!(stop);
    loop {
        let wait = match look(desk).await {
            Ok(wait) => wait,
            Err(error) => {
                tracing::error!(error = %error, "cannot work what is due");
                Duration::from_secs(RETRY_S)
            }
        };
        tokio::select! {
            () = &mut stop => return,
            () = wake.notified() => {}
            () = tokio::time::sleep(wait) => {}
        }
    }
}

/// Works what is due and says how long to sleep.
async fn look(desk: &Desk) -> Result<Duration, DeskError> {
    work_due(desk).await?;
    Ok(until(desk.clock(), desk.store().next_due().await?))
}

fn until(clock: &Clock, next: Option<Instant>) -> Duration {
    let longest = Duration::from_secs(SLEEP_MAX_S);
    let Some(next) = next else { return longest };
    let micros = next.micros().saturating_sub(clock.now().micros());
    let wait = Duration::from_micros(u64::try_from(micros).unwrap_or(0));
    wait.clamp(Duration::from_millis(SLEEP_MIN_MS), longest)
}
