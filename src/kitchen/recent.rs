//! What was recorded lately, by message, and whom it concerns.

use super::decide::{Record, retell};
use super::event::{Event, EventId, PersonId, What};
use super::log::in_force;
use super::outcome::Told;
use super::settings::Settings;
use super::state::State;
use crate::conversation::MessageId;
use crate::dates::Instant;

/// Sets one value; `None` when it is not taken.
pub fn set(
    state: &State,
    key: &str,
    value: &str,
    now: Instant,
    person: Option<PersonId>,
    message: Option<MessageId>,
) -> Option<Record> {
    let day = now.day(state.settings.zone);
    state.settings.clone().set(key, value, day).ok()?;
    let event = Event {
        id: EventId(state.last_event + 1),
        person,
        at: now,
        day,
        message,
        replaces: None,
        what: What::SettingChanged { key: key.to_owned(), value: value.to_owned() },
    };
    let mut state = state.clone();
    state.apply(&event);
    Some(Record { events: vec![event], state, ..Record::default() })
}

/// The newest `most` messages in force that people wrote, newest first, and what each told.
pub fn newest_told(log: &[Event], most: usize) -> Vec<(MessageId, Vec<Told>)> {
    let force = in_force(log);
    let mut messages: Vec<(EventId, MessageId)> = Vec::new();
    for event in &force {
        let Some(message) = event.message.filter(|_| event.person.is_some()) else { continue };
        match messages.iter_mut().find(|(_, known)| *known == message) {
            Some((id, _)) => *id = event.id.max(*id),
            None => messages.push((event.id, message)),
        }
    }
    messages.sort_by(|a, b| b.cmp(a));
    let told = messages.into_iter().map(|(_, message)| {
        let events: Vec<&Event> =
            force.iter().filter(|event| event.message == Some(message)).copied().collect();
        (message, retell(&events))
    });
    told.filter(|(_, told)| !told.is_empty()).take(most).collect()
}

/// What one event tells.
pub fn retold_event(event: &Event) -> Vec<Told> {
    retell(&[event])
}

/// Whether a message set what concerns everybody.
pub fn is_for_all(log: &[Event], message: MessageId) -> bool {
    let of_message = log.iter().filter(|event| event.message == Some(message));
    of_message.into_iter().any(|event| match &event.what {
        What::SettingChanged { key, .. } => !Settings::is_everyday(key),
        What::Undone { of } => *of != message && is_for_all(log, *of),
        _ => false,
    })
}

/// Whether the newest message in force set what concerns everybody.
pub fn newest_is_for_all(log: &[Event]) -> bool {
    let force = in_force(log);
    let newest = force.iter().filter(|event| event.person.is_some()).max_by_key(|event| event.id);
    let message = newest.and_then(|event| event.message);
    message.is_some_and(|message| is_for_all(log, message))
}
