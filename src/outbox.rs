//! The sender: claims parcels, has the channel send them, writes down how it ended.
//!
//! Nothing is sent inside a transaction. A sending ends as sent, refused or unsure; unsure is never
//! tried again for a new message, because it may have arrived. A failure that certainly sent
//! nothing is tried again with capped, jittered backoff until the parcel expires. The one place
//! that retries; called by the command line's `serve`, the console and replay.

mod pace;

pub use pace::{Limits, Pace};

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use tokio::sync::Notify;
use tokio::task::JoinSet;

use crate::channel::ChatKey;
use crate::clock::Clock;
use crate::conversation::Kind;
use crate::dates::Instant;
use crate::store::{Claimed, Errand, Leases, Settled, Store, StoreError};

/// The wait before the second try, in seconds; doubled for each further one.
const BACKOFF_BASE_S: u64 = 1;
/// The longest wait between two tries, in seconds.
const BACKOFF_MAX_S: u64 = 60;
/// How many sendings are under way at once, each in a chat of its own.
const UNDER_WAY_MAX: usize = 16;
/// How often an idle sender looks by itself, in milliseconds; a desk that queues wakes it at once.
const LOOK_EVERY_MS: u64 = 1_000;

/// The way out of a channel.
pub trait Sender: Send + Sync + 'static {
    /// Tries one parcel once. Never retries by itself. `claimed.chat` is set.
    fn send(&self, claimed: &Claimed) -> impl Future<Output = Outcome> + Send;
}

/// How one try ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Delivered; `external` is the channel's id of a new message.
    Sent { external: Option<String> },
    /// The platform wants a rest, in seconds; nothing was sent.
    RetryAfter { seconds: u64 },
    /// Certainly not sent (no connection, a server error before it was taken); may work later.
    Failed { why: String },
    /// The request was written and no answer came.
    Unsure { why: String },
    /// The platform will not take this one.
    Refused { why: String },
    /// The chat goes on under another key; nothing was sent.
    Moved { to: ChatKey },
    /// The bot was removed from the chat, or blocked, or the chat is no more.
    Gone { why: String },
}

/// The sending side of the program.
pub struct Outbox<S> {
    store: Store,
    clock: Clock,
    sender: Arc<S>,
    limits: Limits,
    wake: Arc<Notify>,
}

impl<S: Sender> Outbox<S> {
    pub fn new(
        store: Store,
        clock: Clock,
        sender: S,
        limits: Limits,
        wake: Arc<Notify>,
    ) -> Outbox<S> {
        Outbox { store, clock, sender: Arc::new(sender), limits, wake }
    }

    pub fn sender(&self) -> &S {
        &self.sender
    }

    /// Sends all that may go out now, one after the other, and returns how many were tried. For
    /// the console and replay, which wait for it.
    pub async fn drain(&self) -> Result<usize, StoreError> {
        let mut tried = 0;
        while let Some(claimed) = self.store.claim_parcel(self.clock.now()).await? {
            deliver(&self.store, &self.clock, self.sender.as_ref(), claimed).await?;
            tried += 1;
        }
        Ok(tried)
    }

    /// Sends until `stop` resolves, then waits for the sendings under way. `leases` says whose
    /// unfinished rows to settle first.
    pub async fn run(
        &self,
        leases: Leases,
        stop: impl Future<Output = ()>,
    ) -> Result<(), StoreError> {
        self.store.settle_abandoned(self.clock.now(), leases).await?;
        let mut pace = Pace::new(self.limits);
        let mut under_way: JoinSet<Result<(), StoreError>> = JoinSet::new();
        let mut stop = std::pin::pin!(stop);
        loop {
            while under_way.len() < UNDER_WAY_MAX {
                let now = self.clock.now();
                let claimed = match self.store.claim_parcel(now).await {
                    Ok(Some(claimed)) => claimed,
                    Ok(None) => break,
                    Err(error) => {
                        tracing::error!(error = %error, "cannot read the outbox");
                        break;
                    }
                };
                if let Some(rest) = pace.take(claimed.chat.as_ref(), counts(&claimed), now) {
                    let put_off = Settled::PutOff { not_before: rest };
                    if let Err(error) = self.store.settle_parcel(&claimed, &put_off, now).await {
                        // Its lease will run out.
                        tracing::error!(error = %error, "cannot put a sending off");
                        break;
                    }
                    continue;
                }
                let (store, clock) = (self.store.clone(), self.clock.clone());
                let sender = Arc::clone(&self.sender);
                under_way
                    .spawn(async move { deliver(&store, &clock, sender.as_ref(), claimed).await });
            }
            let wait = Duration::from_millis(LOOK_EVERY_MS);
            tokio::select! {
                () = &mut stop => break,
                Some(done) = under_way.join_next() => log_failure(done),
                () = self.wake.notified() => {}
                () = tokio::time::sleep(wait) => {
                    let settled = self.store.settle_abandoned(self.clock.now(), Leases::RunOut);
                    if let Err(error) = settled.await {
                        tracing::error!(error = %error, "cannot settle what was abandoned");
                    }
                }
            }
        }
        while let Some(done) = under_way.join_next().await {
            log_failure(done);
        }
        Ok(())
    }
}

/// Whether the platform counts this one against its limits on messages.
fn counts(claimed: &Claimed) -> bool {
    match &claimed.errand {
        Errand::Say(outgoing) => outgoing.kind != Kind::Reaction,
        Errand::AnswerPress { .. } => false,
    }
}

fn log_failure(done: Result<Result<(), StoreError>, tokio::task::JoinError>) {
    match done {
        Ok(Ok(())) => {}
        Ok(Err(error)) => tracing::error!(error = %error, "cannot settle a sending"),
        Err(_) => tracing::error!("a sending was stopped by a defect; it will count as unsure"),
    }
}

/// One try and its settlement.
async fn deliver<S: Sender>(
    store: &Store,
    clock: &Clock,
    sender: &S,
    claimed: Claimed,
) -> Result<(), StoreError> {
    let now = clock.now();
    let refused = |why: &str| Settled::Refused { why: why.to_owned() };
    if claimed.expires_at <= now {
        return store.settle_parcel(&claimed, &refused("too late to be of use"), now).await;
    }
    if claimed.chat.is_none() {
        return store.settle_parcel(&claimed, &refused("no chat to send to"), now).await;
    }
    let changes = matches!(&claimed.errand, Errand::Say(outgoing)
        if matches!(outgoing.kind, Kind::Edit | Kind::Reaction));
    if changes && claimed.on.is_none() {
        let why = "the message it changes was never confirmed";
        return store.settle_parcel(&claimed, &refused(why), now).await;
    }
    let outcome = sender.send(&claimed).await;
    let now = clock.now();
    let settled = match outcome {
        Outcome::Sent { external } => Settled::Sent { external },
        Outcome::RetryAfter { seconds } => {
            Settled::Again { not_before: after(now, seconds), why: "asked to wait".to_owned() }
        }
        Outcome::Failed { why } => {
            Settled::Again { not_before: after(now, backoff(&claimed)), why }
        }
        Outcome::Unsure { why } if claimed.errand.is_repeatable() => {
            Settled::Again { not_before: after(now, backoff(&claimed)), why }
        }
        Outcome::Unsure { why } => Settled::Unsure { why },
        Outcome::Refused { why } => Settled::Refused { why },
        Outcome::Moved { to } => {
            store.re_aim(&claimed, &to).await?;
            Settled::Again { not_before: now, why: "the chat moved".to_owned() }
        }
        Outcome::Gone { why } => {
            store.give_up(&claimed, now).await?;
            Settled::Refused { why }
        }
    };
    tracing::debug!(
        household.id = %claimed.household,
        parcel.number = claimed.number,
        parcel.kind = claimed.errand.word(),
        parcel.tries = claimed.tries,
        "a sending ended"
    );
    store.settle_parcel(&claimed, &settled, now).await
}

fn after(now: Instant, seconds: u64) -> Instant {
    let micros = i64::try_from(seconds).unwrap_or(i64::MAX).saturating_mul(1_000_000);
    Instant::from_micros(now.micros().saturating_add(micros))
}

/// Capped exponential backoff, jittered over its upper half so that chats do not retry together.
/// The jitter comes from the parcel itself: the same parcel waits the same time in every run.
fn backoff(claimed: &Claimed) -> u64 {
    let doublings = claimed.tries.saturating_sub(1).min(16);
    let longest = (BACKOFF_BASE_S << doublings).min(BACKOFF_MAX_S);
    let seed = claimed.household.as_str().bytes().chain(claimed.number.to_le_bytes());
    let spread = seed.fold(u64::from(claimed.tries), |sum, byte| {
        sum.wrapping_mul(31).wrapping_add(u64::from(byte))
    });
    longest - spread % (longest / 2 + 1)
}
