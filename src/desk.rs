//! The desk: whatever arrives, one transaction.
//!
//! [`Desk::arrive`] takes what a channel received, [`Desk::work_due`] what a timer found due; both
//! take the same road: claim it, load the household, let the core [`respond`], append its events,
//! write the state and the memory, plan what is due next, queue what is to be said, commit. All of
//! it or nothing. One household in order, households side by side. Nothing is sent here: the
//! outbox is woken after the commit.
//!
//! A defect in the core is contained: nothing of that message is kept, and its writer is told.

mod commit;
mod door;
mod houses;
mod intake;

use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use tokio::sync::Notify;

use crate::channel::{Arrival, Arrived, Channel, ChatKey, Notice};
use crate::chores;
use crate::clock::Clock;
use crate::conversation::{House, Incoming, Kind, Kit, MessageId};
use crate::dates::Instant;
use crate::kitchen::{Event, EventId, SettingError, Settings, State, What};
use crate::store::{DueRow, HouseholdId, Store, StoreError, Turn};
use commit::{Commit, plain, plan};
pub use door::Admission;
use door::Door;
use houses::{Houses, Kept};
use intake::{Translated, number_of, press_answer, private_writer};

/// How often a transaction that lost to another writer is tried again.
const TRIES_MAX: u32 = 4;
/// Out of service for less than this, in minutes, is not worth a word: what arrived meanwhile is
/// answered as usual.
const OUTAGE_MINUTES: i64 = 10;

/// Why something could not be handled. Nothing of it was kept.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    #[error(transparent)]
    Store(#[from] StoreError),
    #[error(transparent)]
    Setting(#[from] SettingError),
    /// The core stopped in the middle; the place is in the log.
    #[error("a defect stopped the handling of one message")]
    Defect,
}

/// What became of something that arrived.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handled {
    pub household: Option<HouseholdId>,
    /// The number the arrived message got.
    pub message: Option<MessageId>,
    pub fate: Fate,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Committed.
    Done,
    /// It was handled before.
    Before,
    /// Another process has it, or is at what comes before it.
    Later,
    /// Nothing in it for us.
    Nothing,
    /// Nothing was done yet: hand it in again with the writer's standing in the household's home
    /// chat in its context.
    NeedsStanding,
    /// A defect: it was given up, and its writer is told.
    NotSaved,
}

/// A stretch of time the bot was out of service.
#[derive(Clone, Copy, Debug)]
struct Outage {
    since: Instant,
    until: Instant,
}

/// See the module head.
pub struct Desk {
    store: Store,
    clock: Clock,
    kit: Arc<Kit>,
    /// What a new household starts with, beside the defaults.
    founding: Vec<(String, String)>,
    /// Names by which the bot is spoken to, besides its own.
    handles: Vec<String>,
    houses: Houses,
    founding_lock: tokio::sync::Mutex<()>,
    outage: Mutex<Option<Outage>>,
    admission: Admission,
    notices: Mutex<Vec<Notice>>,
    /// The bot's user name on the messenger, for links into a chat with it.
    user_name: OnceLock<String>,
    sender_wake: Arc<Notify>,
    rounds_wake: Arc<Notify>,
}

impl Desk {
    pub fn new(store: Store, clock: Clock, kit: Arc<Kit>, founding: Vec<(String, String)>) -> Desk {
        Desk {
            store,
            clock,
            kit,
            founding,
            handles: Vec::new(),
            houses: Houses::default(),
            founding_lock: tokio::sync::Mutex::new(()),
            outage: Mutex::new(None),
            admission: Admission::Open,
            notices: Mutex::new(Vec::new()),
            user_name: OnceLock::new(),
            sender_wake: Arc::new(Notify::new()),
            rounds_wake: Arc::new(Notify::new()),
        }
    }

    /// Adds a name by which the bot is spoken to, such as its user name on the platform.
    pub fn with_handle(mut self, handle: impl Into<String>) -> Desk {
        self.handles.push(handle.into());
        self
    }

    pub fn store(&self) -> &Store {
        &self.store
    }

    pub fn clock(&self) -> &Clock {
        &self.clock
    }

    pub fn kit(&self) -> &Arc<Kit> {
        &self.kit
    }

    /// Rung after each commit that queued something.
    pub fn sender_wake(&self) -> Arc<Notify> {
        Arc::clone(&self.sender_wake)
    }

    /// Rung after each commit that planned something.
    pub fn rounds_wake(&self) -> Arc<Notify> {
        Arc::clone(&self.rounds_wake)
    }

    /// Says that the bot is back: what was written since `since` is caught up on rather than
    /// answered one by one, until [`Desk::caught_up`].
    pub fn came_back(&self, since: Instant) {
        let until = self.clock.now();
        let long = until.minutes_since(since) >= OUTAGE_MINUTES;
        *lock(&self.outage) = long.then_some(Outage { since, until });
    }

    /// Says that all that was written during the outage has been handled: each household that
    /// wrote gets its one line.
    pub async fn caught_up(&self) -> Result<(), DeskError> {
        let Some(outage) = lock(&self.outage).take() else { return Ok(()) };
        for household in self.houses.take_behind() {
            let back = Incoming::Back { since: outage.since, at: self.clock.now() };
            self.tell(&household, back).await?;
        }
        Ok(())
    }

    /// Founds a household with these settings, unless its home chat is known.
    ///
    /// # Errors
    /// When the store fails, or a setting does not take its value.
    pub async fn found(
        &self,
        home: &ChatKey,
        settings: &[(String, String)],
    ) -> Result<HouseholdId, DeskError> {
        let _one_at_a_time = self.founding_lock.lock().await;
        if let Some(household) = self.store.household_of_chat(home).await? {
            return Ok(household);
        }
        let now = self.clock.now();
        let household = HouseholdId::new(now);
        let log = first_settings(settings, now)?;
        let state = State::fold(&log);
        let mut tx = self.store.begin().await?;
        tx.found(&household, &state, home, now).await?;
        tx.append(&household, &log).await?;
        plan(&mut tx, &household, &state.settings, now).await?;
        tx.commit().await?;
        self.rounds_wake.notify_one();
        tracing::info!(household.id = %household, "a household was founded");
        Ok(household)
    }

    /// Handles one thing that reached a chat.
    ///
    /// # Errors
    /// When the store fails. Then nothing was kept, a stored update still waits, and the same
    /// arrival may be handed in again.
    pub async fn arrive(&self, arrival: &Arrival) -> Result<Handled, DeskError> {
        if arrival.what == Arrived::Nothing {
            return self.set_aside(arrival).await;
        }
        let instead = match self.at_the_door(arrival).await? {
            Door::Open => None,
            Door::Shut => return self.set_aside(arrival).await,
            Door::Instead(instead) => Some(instead),
        };
        let arrival = instead.as_deref().unwrap_or(arrival);
        let household = match self.household_for(arrival).await {
            Err(DeskError::Store(error)) if error.is_passing() => {
                self.household_for(arrival).await?
            }
            found => found?,
        };
        let Some(household) = household else { return self.set_aside(arrival).await };
        let slot = self.houses.slot(&household);
        let mut kept = slot.lock().await;
        let mut tries = 1;
        loop {
            match self.take_in(&household, &mut kept, arrival).await {
                Err(DeskError::Store(error)) if error.is_passing() && tries < TRIES_MAX => {
                    tries += 1
                }
                Err(DeskError::Defect) => {
                    self.give_up(&household, &mut kept, arrival).await?;
                    let fate = Fate::NotSaved;
                    return Ok(Handled { household: Some(household.clone()), message: None, fate });
                }
                ended => return ended,
            }
        }
    }

    /// Gives up a stored update that no meaning can be found in; it stays visible as failed.
    pub async fn give_up_update(&self, channel: Channel, update: i64) -> Result<(), DeskError> {
        let mut tx = self.store.begin().await?;
        tx.fail_update(channel, update).await?;
        Ok(tx.commit().await?)
    }

    /// Works one due row, or marks it missed when its time of use is over.
    pub async fn work_due(&self, row: &DueRow) -> Result<Fate, DeskError> {
        let slot = self.houses.slot(&row.household);
        let mut kept = slot.lock().await;
        let worked = self.take_due(row, &mut kept).await;
        if !matches!(worked, Err(DeskError::Defect)) {
            return worked;
        }
        let mut tx = self.store.begin().await?;
        tx.miss_due(&row.household, row.job, row.day).await?;
        let loaded = tx.load(&row.household).await?;
        plan(&mut tx, &row.household, &loaded.state.settings, self.clock.now()).await?;
        tx.commit().await?;
        Ok(Fate::NotSaved)
    }

    /// The state of a household as it is committed.
    pub async fn house(&self, household: &HouseholdId) -> Result<House, DeskError> {
        let slot = self.houses.slot(household);
        let _kept = slot.lock().await;
        let mut tx = self.store.begin().await?;
        let loaded = tx.load(household).await?;
        Ok(Kept::from_loaded(loaded, 0, 0).house)
    }

    /// Marks a stored update done that holds nothing for us.
    async fn set_aside(&self, arrival: &Arrival) -> Result<Handled, DeskError> {
        if let Some(update) = arrival.update {
            let mut tx = self.store.begin().await?;
            tx.finish_update(arrival.chat.channel, update).await?;
            tx.commit().await?;
        }
        Ok(Handled { household: None, message: None, fate: Fate::Nothing })
    }

    /// The household of a chat; a private chat leads to the household its person is known in, and
    /// an unknown chat founds one, but not by ending.
    async fn household_for(&self, arrival: &Arrival) -> Result<Option<HouseholdId>, DeskError> {
        if let Arrived::Called { token, .. } = &arrival.what
            && private_writer(arrival).is_some()
            && let Some(household) = self.store.invited_to(token, self.clock.now()).await?
        {
            return Ok(Some(household));
        }
        if let Some(household) = self.store.household_of_chat(&arrival.chat).await? {
            return Ok(Some(household));
        }
        if let Some(writer) = private_writer(arrival) {
            let channel = arrival.chat.channel;
            let known = self.store.household_of_person(channel, &writer.external).await?;
            if let Some((household, person)) = known {
                let mut tx = self.store.begin().await?;
                tx.add_private_chat(&household, &arrival.chat, person).await?;
                tx.commit().await?;
                return Ok(Some(household));
            }
        }
        match &arrival.what {
            Arrived::Nothing
            | Arrived::Dismissed
            | Arrived::Misplaced
            | Arrived::Pressed { .. }
            | Arrived::Left { .. } => Ok(None),
            // The service message of the new chat may come before the old chat's.
            Arrived::Moved { to } => Ok(self.store.household_of_chat(to).await?),
            Arrived::Said { .. }
            | Arrived::Edited { .. }
            | Arrived::Unreadable { .. }
            | Arrived::Called { .. }
            | Arrived::Joined { .. }
            | Arrived::Welcomed { .. } => {
                Ok(Some(self.found(&arrival.chat, &self.founding).await?))
            }
        }
    }

    /// The one transaction of an arrival.
    async fn take_in(
        &self,
        household: &HouseholdId,
        slot: &mut Option<Kept>,
        arrival: &Arrival,
    ) -> Result<Handled, DeskError> {
        let mut tx = self.store.begin().await?;
        let handled =
            |message, fate| Ok(Handled { household: Some(household.clone()), message, fate });
        if let Some(update) = arrival.update {
            match tx.claim_update(arrival.chat.channel, update).await? {
                Turn::Ours => {}
                Turn::Over => return handled(None, Fate::Before),
                Turn::Later => return handled(None, Fate::Later),
            }
        }
        let mut kept = houses::take(&mut tx, household, slot).await?;
        self.hear_strays(&mut tx, household, &mut kept).await?;
        let translated = self.translate(&mut tx, household, &mut kept, arrival).await?;
        let mut commit = Commit::new(self, &mut tx, household);
        commit.parcels.extend(press_answer(arrival, self.clock.now()));
        commit.private = translated.private;
        let message = match &translated.what {
            Translated::NeedsStanding => return handled(None, Fate::NeedsStanding),
            Translated::Incoming(incoming) => {
                kept.house.standing = translated.standing;
                kept.house.catching_up = self.is_behind(arrival.at);
                if kept.house.catching_up {
                    self.houses.fell_behind(household);
                }
                for each in incoming {
                    commit.carry_out(&mut kept, each).await?;
                }
                if commit.needs_standing {
                    return handled(None, Fate::NeedsStanding);
                }
                if let Some(home) = commit.deletes {
                    tx.commit().await?;
                    self.took_leave(arrival, &home);
                    return handled(None, Fate::Done);
                }
                incoming.iter().find_map(number_of)
            }
            Translated::Settled(outgoing) => {
                commit.queue(&mut kept, outgoing).await?;
                None
            }
            Translated::AlreadyKnown => {
                tx.commit().await?;
                return handled(None, Fate::Before);
            }
        };
        let exports = std::mem::take(&mut commit.exports);
        let asks_which = commit.asks_which;
        tx.commit().await?;
        *slot = Some(kept);
        self.sender_wake.notify_one();
        self.rounds_wake.notify_one();
        for to in exports {
            self.export(household, &to, &arrival.chat).await?;
        }
        if asks_which {
            self.ask_which_home(arrival).await?;
        }
        handled(message, Fate::Done)
    }

    /// The one transaction of a due row.
    async fn take_due(&self, row: &DueRow, slot: &mut Option<Kept>) -> Result<Fate, DeskError> {
        let now = self.clock.now();
        let household = &row.household;
        let mut tx = self.store.begin().await?;
        if !tx.claim_due(row).await? {
            return Ok(Fate::Later);
        }
        let mut kept = houses::take(&mut tx, household, slot).await?;
        let settings = kept.house.state.settings.clone();
        let useful = chores::still_useful(row.job, row.day, &settings, now);
        let claimed = if useful && kept.gone_at.is_none() {
            tx.finish_due(household, row.job, row.day).await?
        } else {
            tx.miss_due(household, row.job, row.day).await?;
            false
        };
        if claimed {
            kept.house.catching_up = false;
            let due = Incoming::Due { job: row.job, day: row.day, at: now };
            Commit::new(self, &mut tx, household).carry_out(&mut kept, &due).await?;
        }
        plan(&mut tx, household, &kept.house.state.settings, now).await?;
        tx.commit().await?;
        *slot = Some(kept);
        self.sender_wake.notify_one();
        self.rounds_wake.notify_one();
        tracing::info!(
            household.id = %household,
            job.name = row.job.word(),
            job.day = %row.day,
            job.late_min = now.minutes_since(row.due_at),
            "a job was {}", if claimed { "worked" } else { "missed" }
        );
        Ok(if claimed { Fate::Done } else { Fate::Nothing })
    }

    /// Tells a household something that came from no chat.
    async fn tell(&self, household: &HouseholdId, incoming: Incoming) -> Result<(), DeskError> {
        let slot = self.houses.slot(household);
        let mut slot = slot.lock().await;
        let mut tx = self.store.begin().await?;
        let mut kept = houses::take(&mut tx, household, &mut slot).await?;
        kept.house.catching_up = false;
        Commit::new(self, &mut tx, household).carry_out(&mut kept, &incoming).await?;
        tx.commit().await?;
        *slot = Some(kept);
        self.sender_wake.notify_one();
        Ok(())
    }

    /// After a defect: the update is given up and its writer told, so that one bad message can
    /// neither be lost silently nor stop those behind it.
    async fn give_up(
        &self,
        household: &HouseholdId,
        slot: &mut Option<Kept>,
        arrival: &Arrival,
    ) -> Result<(), DeskError> {
        let mut tx = self.store.begin().await?;
        if let Some(update) = arrival.update {
            tx.fail_update(arrival.chat.channel, update).await?;
        }
        *slot = None;
        let mut kept = houses::take(&mut tx, household, slot).await?;
        let to = match private_writer(arrival) {
            Some(writer) => {
                Some(tx.person(household, arrival.chat.channel, writer, arrival.at).await?)
            }
            None => None,
        };
        let message = kept.house.memory.next_message();
        let outgoing = plain(message, Kind::Error, self.kit.wording.not_saved());
        let mut commit = Commit::new(self, &mut tx, household);
        commit.private = to;
        commit.queue(&mut kept, &[outgoing]).await?;
        tx.commit().await?;
        self.sender_wake.notify_one();
        Ok(())
    }

    fn is_behind(&self, at: Instant) -> bool {
        lock(&self.outage).is_some_and(|outage| at >= outage.since && at < outage.until)
    }
}

/// The events that give a new household its settings, in the order in which they depend on each
/// other.
fn first_settings(settings: &[(String, String)], now: Instant) -> Result<Vec<Event>, SettingError> {
    let place = |key: &str| Settings::KEYS.iter().position(|each| *each == key);
    let mut ordered: Vec<&(String, String)> = settings.iter().collect();
    ordered.sort_by_key(|(key, _)| place(key).unwrap_or(Settings::KEYS.len()));
    let mut checked = Settings::default();
    let mut events = Vec::new();
    for (id, (key, value)) in (1..).zip(ordered) {
        checked.set(key, value, now.day(checked.zone))?;
        events.push(Event {
            id: EventId(id),
            person: None,
            at: now,
            day: now.day(checked.zone),
            message: None,
            replaces: None,
            what: What::SettingChanged { key: key.clone(), value: value.clone() },
        });
    }
    Ok(events)
}

/// Takes a lock that a panicking holder may have left: what it guards is whole at every step.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
