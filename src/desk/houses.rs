//! Households kept in memory between messages, each behind a lock of its own: one household in
//! order, households side by side. A kept one that another process has changed is loaded again.

use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, Mutex};

use super::{DeskError, lock};
use crate::conversation::{House, Standing};
use crate::dates::Instant;
use crate::store::{HouseholdId, Loaded, StoreError, Tx};

/// How many households are kept. One more, and those nobody is using are let go.
const KEPT_MAX: usize = 2_000;

/// A household as of its newest commit, or in the middle of the next.
pub(super) struct Kept {
    pub house: House,
    /// The version the transaction under way will have.
    pub version: u64,
    pub last_parcel: u64,
    pub gone_at: Option<Instant>,
}

impl Kept {
    pub fn from_loaded(loaded: Loaded, version: u64, last_parcel: u64) -> Kept {
        let house = House {
            state: loaded.state,
            memory: loaded.memory,
            names: loaded.names,
            log: loaded.log,
            standing: Standing::Unknown,
            catching_up: false,
        };
        Kept { house, version, last_parcel, gone_at: None }
    }
}

/// Empty until it is first used, and after a transaction that failed.
type Slot = Arc<tokio::sync::Mutex<Option<Kept>>>;

#[derive(Default)]
pub(super) struct Houses {
    slots: Mutex<HashMap<HouseholdId, Slot>>,
    /// Those that wrote while the bot was out of service.
    behind: Mutex<BTreeSet<HouseholdId>>,
}

impl Houses {
    pub fn slot(&self, household: &HouseholdId) -> Slot {
        let mut slots = lock(&self.slots);
        if slots.len() > KEPT_MAX {
            slots.retain(|_, slot| Arc::strong_count(slot) > 1);
        }
        Arc::clone(slots.entry(household.clone()).or_default())
    }

    pub fn fell_behind(&self, household: &HouseholdId) {
        lock(&self.behind).insert(household.clone());
    }

    pub fn take_behind(&self) -> BTreeSet<HouseholdId> {
        std::mem::take(&mut lock(&self.behind))
    }
}

/// Takes the household for this transaction and out of its slot, where the caller puts it back
/// after the commit: a transaction that fails leaves the slot empty, never half changed.
pub(super) async fn take(
    tx: &mut Tx,
    household: &HouseholdId,
    slot: &mut Option<Kept>,
) -> Result<Kept, DeskError> {
    let row = tx.take(household).await?;
    let row = row.ok_or_else(|| StoreError::Unreadable("a chat without household".to_owned()))?;
    let mut kept = match slot.take() {
        Some(kept) if kept.version + 1 == row.version => kept,
        _ => Kept::from_loaded(tx.load(household).await?, row.version, row.last_parcel),
    };
    kept.version = row.version;
    kept.last_parcel = row.last_parcel;
    kept.gone_at = row.gone_at;
    // The number of the newest message must never fall back, or two messages would share one.
    let memory = &mut kept.house.memory;
    memory.last_message = memory.last_message.max(row.last_message);
    Ok(kept)
}
