//! From the inbox to the desk: each chat's updates in order, chats side by side.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use tokio::sync::{Notify, Semaphore, watch};
use tokio::task::JoinSet;

use super::status::Pulse;
use crate::channel::telegram::{Api, Inbox, Me, Raw, send, translate};
use crate::channel::{Arrival, Arrived, Channel, Notice};
use crate::clock::Clock;
use crate::conversation::Standing;
use crate::dates::Instant;
use crate::desk::{Desk, DeskError, Fate, Handled};
use crate::store::{Received, Store};

/// How many waiting updates are handed out at a time.
const BATCH: u32 = 200;
/// How many chats are worked side by side.
const CHATS_MAX: usize = 8;
/// A batch that is not full is the last of what had been waiting on the platform.
const FULL_BATCH: usize = 100;
/// How long the intake waits after a failure of the store, in milliseconds.
const RETRY_MS: u64 = 1_000;
/// How often the intake looks by itself, in milliseconds; new updates wake it at once.
const LOOK_EVERY_MS: u64 = 2_000;

/// The way to the platform, and who the bot is there.
#[derive(Clone)]
pub struct Us {
    pub api: Api,
    pub me: Me,
}

/// Where fetched and pushed updates are put down.
pub struct Tray {
    store: Store,
    clock: Clock,
    pulse: Arc<Pulse>,
    wake: Notify,
    /// Everything that had been waiting on the platform is here.
    complete: AtomicBool,
}

impl Tray {
    pub fn new(store: Store, clock: Clock, pulse: Arc<Pulse>) -> Tray {
        Tray { store, clock, pulse, wake: Notify::new(), complete: AtomicBool::new(false) }
    }
}

impl Inbox for Tray {
    async fn keep(&self, updates: &[Raw]) -> anyhow::Result<()> {
        if !updates.is_empty() {
            let received: Vec<Received> = updates
                .iter()
                .map(|update| Received {
                    update_id: update.id,
                    chat: update.chat.clone(),
                    raw: update.body.clone(),
                })
                .collect();
            self.store.receive(Channel::Telegram, &received, self.clock.now()).await?;
        }
        if updates.len() < FULL_BATCH {
            self.complete.store(true, Ordering::SeqCst);
        }
        self.pulse.beat(self.clock.now());
        self.wake.notify_one();
        Ok(())
    }
}

/// Hands out what waits until `stopped`.
pub async fn run(desk: &Arc<Desk>, tray: &Tray, us: &Us, mut stopped: watch::Receiver<bool>) {
    while !*stopped.borrow() {
        let wait = match hand_out(desk, tray, us, &stopped).await {
            // More may be waiting than fits a batch.
            Ok(handed) if handed > 0 => continue,
            Ok(_) => LOOK_EVERY_MS,
            Err(error) => {
                tracing::error!(error = %error, "cannot handle what came, trying again");
                RETRY_MS
            }
        };
        tokio::select! {
            _ = stopped.changed() => {}
            () = tray.wake.notified() => {}
            () = tokio::time::sleep(Duration::from_millis(wait)) => {}
        }
    }
}

/// Handles one batch and returns how many updates of it were this process's to handle.
async fn hand_out(
    desk: &Arc<Desk>,
    tray: &Tray,
    us: &Us,
    stopped: &watch::Receiver<bool>,
) -> Result<usize, DeskError> {
    let complete = tray.complete.load(Ordering::SeqCst);
    let waiting = tray.store.waiting(Channel::Telegram, BATCH).await?;
    if waiting.is_empty() {
        if complete {
            desk.caught_up().await?;
        }
        return Ok(0);
    }
    // A chat's move is worked alone, in its place among the others: what came before it belongs to
    // the old number, and what came after must find the household under the new one.
    let (mut count, mut beside) = (0, Vec::new());
    for update in waiting {
        if is_move(us, &update) {
            count += side_by_side(desk, us, std::mem::take(&mut beside), stopped).await?;
            if !*stopped.borrow() {
                count += usize::from(handle(desk, us, update).await? != Fate::Later);
            }
        } else {
            beside.push(update);
        }
    }
    count += side_by_side(desk, us, beside, stopped).await?;
    Ok(count)
}

fn is_move(us: &Us, update: &Received) -> bool {
    let raw = Raw { id: update.update_id, chat: None, body: update.raw.clone() };
    let arrival = translate::arrival(&raw, &us.me, Instant::from_micros(0));
    arrival.is_ok_and(|arrival| matches!(arrival.what, Arrived::Moved { .. }))
}

/// Handles updates, each chat's in order, and returns how many there were. A chat that another
/// process is at is left to it.
async fn side_by_side(
    desk: &Arc<Desk>,
    us: &Us,
    updates: Vec<Received>,
    stopped: &watch::Receiver<bool>,
) -> Result<usize, DeskError> {
    let mut chats: BTreeMap<Option<String>, Vec<Received>> = BTreeMap::new();
    for update in updates {
        chats.entry(update.chat.clone()).or_default().push(update);
    }
    let places = Arc::new(Semaphore::new(CHATS_MAX));
    let mut work: JoinSet<Result<usize, DeskError>> = JoinSet::new();
    for updates in chats.into_values() {
        let (desk, us, places) = (Arc::clone(desk), us.clone(), Arc::clone(&places));
        let stopped = stopped.clone();
        work.spawn(async move {
            let _place = places.acquire().await;
            let mut count = 0;
            for update in updates {
                if *stopped.borrow() || handle(&desk, &us, update).await? == Fate::Later {
                    break;
                }
                count += 1;
            }
            Ok(count)
        });
    }
    let mut ended = Ok(0);
    while let Some(chat) = work.join_next().await {
        let chat = chat.unwrap_or(Err(DeskError::Defect));
        ended = ended.and_then(|sum| Ok(sum + chat?));
    }
    ended
}

async fn handle(desk: &Desk, us: &Us, update: Received) -> Result<Fate, DeskError> {
    let raw = Raw { id: update.update_id, chat: update.chat, body: update.raw };
    match translate::arrival(&raw, &us.me, desk.clock().now()) {
        Ok(mut arrival) => {
            let mut handled = desk.arrive(&arrival).await?;
            if handled.fate == Fate::NeedsStanding {
                arrival.context.standing = ask_standing(desk, us, &arrival, &handled).await?;
                handled = desk.arrive(&arrival).await?;
            }
            for notice in desk.take_notices() {
                say(us, notice).await;
            }
            tracing::debug!(update.id = raw.id, fate = ?handled.fate, "an update was handled");
            Ok(handled.fate)
        }
        Err(error) => {
            tracing::error!(update.id = raw.id, error = %error, "given up");
            desk.give_up_update(Channel::Telegram, raw.id).await?;
            Ok(Fate::Nothing)
        }
    }
}

/// What the writer may decide in the household's home chat; whom the platform does not tell about
/// decides nothing for others.
async fn ask_standing(
    desk: &Desk,
    us: &Us,
    arrival: &Arrival,
    handled: &Handled,
) -> Result<Standing, DeskError> {
    let home = match &handled.household {
        Some(household) => desk.store().home_of(household).await?,
        None => None,
    };
    let (Some(home), Some(writer)) = (home, arrival.writer()) else {
        return Ok(Standing::Member);
    };
    let standing = send::standing(&us.api, &home, &writer.external).await;
    Ok(standing.unwrap_or(Standing::Member))
}

/// Says what belongs to no household, and says it elsewhere when it cannot be delivered.
async fn say(us: &Us, notice: Notice) {
    if send::deliver(&us.api, &notice).await {
        return;
    }
    if let Some((chat, text)) = notice.otherwise {
        send::deliver(&us.api, &Notice::new(&chat, text)).await;
    }
}
