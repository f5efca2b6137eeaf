//! The log as it counts: without what was undone, and with mended events in their places.

use std::collections::{BTreeMap, BTreeSet};

use super::event::{Event, What};
use crate::conversation::MessageId;

/// The events that count, in the order they count.
///
/// `Undone { of }` voids the earlier events of that message, unless it is itself undone later. An
/// event with `replaces` counts where that message's first event stands.
pub fn in_force(log: &[Event]) -> Vec<&Event> {
    let first = first_events(log);
    let mut kept = standing(log);
    kept.retain(|event| !matches!(event.what, What::Undone { .. }));
    kept.sort_by_key(|event| (position(event, &first), event.id));
    kept
}

/// The events not undone, undoings among them, newest first.
pub(super) fn standing(log: &[Event]) -> Vec<&Event> {
    let mut undone: BTreeSet<MessageId> = BTreeSet::new();
    let mut kept: Vec<&Event> = Vec::with_capacity(log.len());
    for event in log.iter().rev() {
        if event.message.is_some_and(|message| undone.contains(&message)) {
            continue;
        }
        if let What::Undone { of } = event.what {
            undone.insert(of);
        }
        kept.push(event);
    }
    kept
}

/// Whether a newly appended event changes what earlier events mean.
pub(super) fn reaches_back(event: &Event) -> bool {
    event.replaces.is_some() || matches!(event.what, What::Undone { .. })
}

/// The place of `event` in the order that counts.
pub(super) fn position(
    event: &Event,
    first: &BTreeMap<MessageId, (u64, Option<MessageId>)>,
) -> u64 {
    let mut place = event.id.0;
    let mut replaced = event.replaces;
    // Each step goes to an earlier event, so the walk ends.
    while let Some((id, next)) = replaced.and_then(|message| first.get(&message)) {
        if *id >= place {
            break;
        }
        place = *id;
        replaced = *next;
    }
    place
}

/// The first event of each message, with what that one replaces.
pub(super) fn first_events(log: &[Event]) -> BTreeMap<MessageId, (u64, Option<MessageId>)> {
    let mut first = BTreeMap::new();
    for event in log {
        if let Some(message) = event.message {
            first.entry(message).or_insert((event.id.0, event.replaces));
        }
    }
    first
}
