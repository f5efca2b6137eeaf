//! Undo, edits and corrections: what an earlier message recorded, taken back or put right.
//!
//! Nothing is rewritten. An `Undone` voids the events of a message, and mended events take its
//! place in the order that counts, so that whatever followed finds the corrected lots again.

use std::collections::BTreeSet;

use super::*;
use crate::kitchen::log;
use crate::words::Role;

mod find;
mod put_right;
mod retell;

use find::{Found, Sought, did};
use put_right::{redate, same};
pub(crate) use retell::retell;

/// What an undo is aimed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Undoing {
    /// The household's newest message in force.
    Newest,
    This(MessageId),
}

/// Takes back what one message recorded. Reads the log.
pub fn undo(state: &State, target: Undoing, cx: &Cx<'_>) -> Record {
    let mut record = Record { state: state.clone(), ..Record::default() };
    let outcome = undoing(target, cx);
    absorb(&mut record, outcome, cx);
    record
}

/// Takes back what one message took of one food; the rest of that message stays as it was. Reads
/// the log.
pub fn put_back(state: &State, target: MessageId, of: &Named, cx: &Cx<'_>) -> Record {
    let mut record = Record { state: state.clone(), ..Record::default() };
    let statement = Statement::new(Intent::Correct);
    if let Ok(mut deciding) = Deciding::begin(state, &statement, state.next_lot, cx) {
        deciding.strike_out(target, of, None);
        let outcome = deciding.finish();
        absorb(&mut record, outcome, cx);
    }
    record
}

/// What became of a food of which nothing is on record: the deed, its day and its message. Reads
/// the log.
pub fn what_became_of(
    state: &State,
    item: &Item,
    cx: &Cx<'_>,
) -> Option<(Named, Deed, KitchenDay, MessageId)> {
    let statement = Statement::new(Intent::AskHave);
    let deciding = Deciding::begin(state, &statement, state.next_lot, cx).ok()?;
    let of = deciding.named(item);
    let held = state.lots.iter().any(|lot| choose::same_food(lot, &of));
    let gone = deciding.gone(&of).filter(|_| !held)?;
    Some((of, gone.how, gone.day, gone.message))
}

/// What a count found missing was thrown out: those of its lots that `named` names, or all of
/// them. Reads the log.
pub fn discard_instead(
    state: &State,
    target: MessageId,
    named: Option<&[Statement]>,
    cx: &Cx<'_>,
) -> Record {
    let mut record = Record { state: state.clone(), ..Record::default() };
    let statement = Statement::new(Intent::Correct);
    let Ok(mut deciding) = Deciding::begin(state, &statement, state.next_lot, cx) else {
        return record;
    };
    let mut kept = deciding.copies(target);
    let mut thrown = Vec::new();
    let foods: Option<Vec<Named>> = named.map(|statements| {
        let items = statements.iter().flat_map(|statement| &statement.items);
        items.map(|item| deciding.named(item)).collect()
    });
    let meant = |id: LotId| match &foods {
        Some(foods) => foods.iter().any(|of| deciding.was(id, of)),
        None => true,
    };
    for happened in &mut kept {
        match &mut happened.what {
            What::Uncounted { lots } => {
                let (out, rest) = lots.iter().copied().partition(|id| meant(*id));
                thrown.extend::<Vec<LotId>>(out);
                *lots = rest;
            }
            What::Counted { lots, amount: Amount::Exact(none), .. }
                if none.value.is_zero() && lots.iter().any(|id| meant(*id)) =>
            {
                thrown.append(lots);
            }
            // Nothing else in a count finds something missing.
            _ => {}
        }
    }
    if thrown.is_empty() {
        let trouble = Outcome::trouble(Trouble::NothingToMend { name: None });
        absorb(&mut record, trouble, cx);
        return record;
    }
    deciding.mend(target, kept, Deed::Mended(Vec::new()));
    let outcome = Outcome { told: Vec::new(), ..deciding.finish() };
    absorb(&mut record, outcome, cx);
    let log: Vec<Event> = cx.log.iter().chain(&record.events).cloned().collect();
    let done = deed_on(&record.state, LotDeed::ThrownOut, &thrown, &Cx { log: &log, ..*cx });
    record.events.extend(done.events);
    record.state = done.state;
    record.told.extend(done.told);
    record
}

/// Records what the new text of an already recorded message says, in the place of what its first
/// text recorded. Reads the log. `cx.message` is the edited message.
pub fn edit(state: &State, statements: &[Statement], cx: &Cx<'_>) -> Record {
    let before = before(cx.log, cx.message);
    let force = log::in_force(cx.log);
    let old: Vec<&Event> =
        force.into_iter().filter(|event| event.message == Some(cx.message)).collect();
    // Numbers given out since are not given again.
    let base = State { next_lot: state.next_lot, ..before };
    let (mut mended, told, questions) = record_on(&base, statements, &Cx { sure: true, ..*cx });
    keep_numbers(&old, &mut mended);
    let undone = What::Undone { of: cx.message };
    let undone = Happened { day: cx.today, replaces: None, what: undone };
    let mut events: Vec<Happened> = Vec::new();
    if !old.is_empty() {
        events.push(undone);
    }
    events.append(&mut mended);
    let mut record = Record { state: state.clone(), ..Record::default() };
    absorb(&mut record, Outcome { events, told, ..Outcome::default() }, cx);
    record.questions = questions;
    record
}

/// Gives the lots of mended events the numbers their foods had in the old ones, so that later
/// events find them.
fn keep_numbers(old: &[&Event], mended: &mut [Happened]) {
    let mut known: Vec<(String, LotId)> = old.iter().flat_map(|event| made(&event.what)).collect();
    let mut renumbered = std::collections::BTreeMap::new();
    for happened in mended.iter() {
        for (key, new) in made(&happened.what) {
            if let Some(at) = known.iter().position(|(other, _)| *other == key) {
                renumbered.insert(new, known.remove(at).1);
            }
        }
    }
    for happened in mended {
        happened.what.each_lot(&mut |id| {
            if let Some(kept) = renumbered.get(id) {
                *id = *kept;
            }
        });
    }
}

/// The lots an event makes, each under what it makes of which food.
fn made(what: &What) -> Vec<(String, LotId)> {
    let under = |kind: &str, of: &Named, lot: LotId| (format!("{kind} {}", of.key()), lot);
    match what {
        What::Acquired { lots, .. } => {
            lots.iter().map(|new| under("in", &new.of, new.lot)).collect()
        }
        What::Counted { new, .. } => vec![under("in", &new.of, new.lot)],
        What::FoundAgain { lot: new } => vec![under("in", &new.of, new.lot)],
        What::Made { into, .. } => vec![under("made", &into.of, into.lot)],
        What::StockMade { into } => vec![under("stock", &into.of, into.lot)],
        What::Moved { change }
        | What::Prepared { change }
        | What::PutInWater { change }
        | What::Opened { change }
        | What::Preserved { change, .. }
        | What::Thawed { change } => {
            let kind = change.form.map_or("moved", Form::word);
            let pieces = change.pieces.iter();
            pieces.map(|piece| under(kind, &change.draw.of, *piece)).collect()
        }
        _ => Vec::new(),
    }
}

/// Decides statements on an earlier state; what they say happened takes `cx.message`'s place.
fn record_on(
    base: &State,
    statements: &[Statement],
    cx: &Cx<'_>,
) -> (Vec<Happened>, Vec<Told>, Vec<Question>) {
    let record = record(base, statements, cx);
    let happened = record.events.into_iter().map(|event| Happened {
        day: event.day,
        replaces: Some(cx.message),
        what: event.what,
    });
    (happened.collect(), record.told, record.questions)
}

/// The state just before a message counted; the newest state for a message that recorded nothing.
fn before(events: &[Event], message: MessageId) -> State {
    let first = log::first_events(events);
    let limit = first.get(&message).map(|(id, replaces)| match replaces {
        Some(other) => first.get(other).map_or(*id, |(id, _)| *id),
        None => *id,
    });
    let mut state = State::default();
    for event in log::in_force(events) {
        let counts = limit.is_none_or(|limit| log::position(event, &first) < limit);
        if counts && event.message != Some(message) {
            state.apply(event);
        }
    }
    state
}

fn undoing(target: Undoing, cx: &Cx<'_>) -> Outcome {
    let force = log::in_force(cx.log);
    let target = match target {
        Undoing::This(message) => Some(message),
        Undoing::Newest => {
            let newest = force.iter().filter(|event| event.person.is_some());
            newest.max_by_key(|event| event.id).and_then(|event| event.message)
        }
    };
    let standing = log::standing(cx.log).into_iter().any(|event| event.message == target);
    let Some(of) = target.filter(|_| standing) else {
        return Outcome::trouble(Trouble::NothingToUndo);
    };
    let events: Vec<&Event> =
        force.iter().filter(|event| event.message == target).copied().collect();
    let deed = if events.is_empty() {
        // An undo taken back: what it took is there again.
        let without: Vec<Event> =
            cx.log.iter().filter(|event| event.message != target).cloned().collect();
        let counted: BTreeSet<EventId> = force.iter().map(|event| event.id).collect();
        let back = log::in_force(&without);
        let back: Vec<&Event> =
            back.into_iter().filter(|event| !counted.contains(&event.id)).collect();
        Deed::Restored(retell(&back))
    } else {
        Deed::Undone(retell(&events))
    };
    let told = Told { deed, lines: Vec::new(), day: None };
    let happened = Happened { day: cx.today, replaces: None, what: What::Undone { of } };
    Outcome { events: vec![happened], told: vec![told], ..Outcome::default() }
}

impl Deciding<'_> {
    pub(super) fn undo(&mut self) {
        let target = self.cx.answers.map_or(Undoing::Newest, Undoing::This);
        let outcome = undoing(target, self.cx);
        self.out.events.extend(outcome.events);
        self.out.told.extend(outcome.told);
    }

    /// "No, 3 fennel"; "that was yesterday"; "those were turnips"; "the dill was never thrown out".
    pub(super) fn correct(&mut self) {
        let items = &self.statement.items;
        if let Some(denied) = self.statement.denied {
            return self.strike(denied);
        }
        match items.as_slice() {
            [] if self.statement.day.is_none() => self.undo(),
            [] => self.correct_day(),
            // "Not X but Y": what it was not stands under `from`, or first.
            [a, b, ..] if b.role == Some(Role::From) => self.swap(b, a),
            [a, b, ..] => self.swap(a, b),
            [only] => self.correct_one(only),
        }
    }

    fn correct_day(&mut self) {
        let Some(target) = self.last_of_theirs(None, None) else {
            return self.trouble(Trouble::NothingToMend { name: None });
        };
        let to = self.day;
        let mut mended = self.copies(target);
        mended.iter_mut().for_each(|happened| redate(happened, to));
        let deeds = self.retold(&mended);
        self.mend(target, mended, Deed::Redated { to, deeds });
    }

    fn correct_one(&mut self, item: &Item) {
        let of = self.named(item);
        let Some(target) = self.last_of_theirs(Some(&of), self.statement.day) else {
            return self.trouble(Trouble::NothingToMend { name: Some(of.name) });
        };
        let mut mended = self.copies(target);
        let known = mended.iter().any(|h| h.what.names().iter().any(|n| same(n, &of)));
        if known {
            self.put_right(&mut mended, item, &of);
        } else {
            self.rename(&mut mended, None, item);
        }
        let deed = Deed::Mended(self.retold(&mended));
        self.mend(target, mended, deed);
    }

    /// "Those weren't parsnips on friday, they were turnips".
    fn swap(&mut self, wrong: &Item, right: &Item) {
        let (wrong, of) = (self.named(wrong), self.named(right));
        let found = match self.find(&wrong, Sought::Brought) {
            Found::One(target) => target,
            Found::Ask(question) => {
                self.out.question = Some(question);
                return;
            }
            Found::None => {
                return self.trouble(Trouble::NothingToMend { name: Some(wrong.name) });
            }
        };
        let mut mended = self.copies(found);
        self.rename(&mut mended, Some(&wrong), right);
        let about: Vec<Happened> = mended
            .iter()
            .filter(|h| h.what.names().iter().any(|named| same(named, &of)))
            .cloned()
            .collect();
        let deed = Deed::Mended(self.retold(&about));
        self.mend(found, mended, deed);
        self.out.net = vec![of];
        if !self.out.net.iter().any(|of| same(of, &wrong)) {
            self.out.net.push(wrong);
        }
    }

    /// "The dill was never thrown out": what took it off the record did not happen.
    fn strike(&mut self, denied: Intent) {
        for item in &self.statement.items {
            let of = self.named(item);
            match self.find(&of, Sought::Done(denied)) {
                Found::One(target) => self.strike_out(target, &of, Some(denied)),
                Found::Ask(question) => self.out.question = Some(question),
                Found::None => self.trouble(Trouble::NothingToMend { name: Some(of.name) }),
            }
        }
    }

    /// Takes what one message took of a food back, and leaves the rest of the message as it was.
    pub(super) fn strike_out(&mut self, target: MessageId, of: &Named, denied: Option<Intent>) {
        let (struck, kept): (Vec<Happened>, Vec<Happened>) =
            self.copies(target).into_iter().partition(|h| did(&h.what, of, denied));
        let mut kept = kept;
        let mut gone = false;
        for happened in &mut kept {
            if let What::Uncounted { lots } = &mut happened.what {
                let before = lots.len();
                lots.retain(|id| !self.was(*id, of));
                gone |= lots.len() < before;
            }
        }
        let mut deeds = self.retold(&struck);
        if gone {
            let line = Line::new(of.clone(), Form::Whole, Spoken::Plain);
            deeds.push(Told { deed: Deed::Gone, lines: vec![line], day: None });
        }
        self.mend(target, kept, Deed::Undone(deeds));
        self.out.net.push(of.clone());
    }

    /// The events of a message, to be put right in its place.
    fn copies(&self, target: MessageId) -> Vec<Happened> {
        let force = log::in_force(self.cx.log);
        // What a lot's end taught is not known of the other food or day it is mended to.
        let of_target = force.into_iter().filter(|event| {
            event.message == Some(target) && !matches!(event.what, What::Ended { .. })
        });
        let copy = |event: &Event| Happened {
            day: event.day,
            // A mended event stays in the place it took.
            replaces: event.replaces.or(Some(target)),
            what: event.what.clone(),
        };
        of_target.map(copy).collect()
    }

    fn retold(&self, happened: &[Happened]) -> Vec<Told> {
        let events = number(happened.to_vec(), self.state.last_event, self.cx);
        retell(&events.iter().collect::<Vec<_>>())
    }

    /// Voids a message and lets `mended` count in its place.
    fn mend(&mut self, target: MessageId, mut mended: Vec<Happened>, deed: Deed) {
        // What the message itself had voided stays void.
        let voided = log::standing(self.cx.log).into_iter().filter_map(|event| match event.what {
            What::Undone { of } if event.message == Some(target) => Some(of),
            _ => None,
        });
        for of in std::iter::once(target).chain(voided) {
            let undone = What::Undone { of };
            self.out.events.push(Happened { day: self.cx.today, replaces: None, what: undone });
        }
        self.out.events.append(&mut mended);
        self.out.told.push(Told { deed, lines: Vec::new(), day: None });
    }
}
