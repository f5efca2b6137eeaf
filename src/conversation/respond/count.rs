//! Counting together: place by place in one order, by one person or several at once; and the quick
//! count of a few lots after a shop. It may be left at any stop and taken up again.
//!
//! At a stop the record is read out and answered with the exceptions; what is not named is there.

use super::*;
use crate::conversation::memory::{QUESTION_MINUTES, Stop, Walk};
use crate::kitchen::{LotId, What};
use crate::statement::Scope;
use crate::words::Place;

/// How long a stop waits for its answer, in minutes.
const STOP_MINUTES: i64 = 45;

/// A count left longer ago than this begins anew, in minutes.
const WALK_MINUTES: i64 = 24 * 60;

/// Lots of a quick count.
const QUICK_LOTS: usize = 5;

/// A quick count is worth it for lots not seen for so many days.
const STALE_DAYS: i64 = 3;

/// How an exception is said to the reader: the answer goes on from here.
const HEAD: &str = "we have ";

impl Turn<'_> {
    /// Starts a count or takes it up: at `place`, or at the next one nobody has counted.
    pub(super) fn count(&mut self, person: PersonId, place: Option<Place>, draft: &mut Draft) {
        draft.answers = true;
        let walk = &mut self.house.memory.walk;
        let fresh = walk.begun.is_some_and(|at| self.now.minutes_since(at) < WALK_MINUTES);
        if !fresh {
            *walk = Walk { begun: Some(self.now), ..Walk::default() };
        }
        let Some(place) = place.map(whole_place).or_else(|| self.next_place(person)) else {
            let none_done = self.house.memory.walk.done.is_empty();
            self.house.memory.walk = Walk::default();
            return draft.line(if none_done {
                self.kit.wording.count_nothing_to_do()
            } else {
                self.kit.wording.count_done()
            });
        };
        let state = &self.house.state;
        let here = state.lots.iter().filter(|lot| whole_place(lot.place.clone()) == place);
        let lots: Vec<LotId> = here.map(|lot| lot.id).collect();
        self.read_out(person, Some(place), lots, draft);
    }

    /// A quick count of what has been out of sight longest.
    pub(super) fn quick_count(&mut self, person: PersonId, draft: &mut Draft) {
        draft.answers = true;
        let lots = self.stale();
        if lots.is_empty() {
            return draft.line(self.kit.wording.count_done());
        }
        self.read_out(person, None, lots, draft);
    }

    /// Whether a quick count is worth offering after a shop: once a day.
    pub(super) fn offers_quick_count(&mut self) -> bool {
        let today = self.today();
        if self.house.memory.count_offered == Some(today) || self.stale().len() < 2 {
            return false;
        }
        self.house.memory.count_offered = Some(today);
        true
    }

    fn stale(&self) -> Vec<LotId> {
        let today = self.today();
        let mut lots: Vec<&Lot> = self
            .house
            .state
            .lots
            .iter()
            .filter(|lot| today.days_since(lot.last_seen) >= STALE_DAYS)
            .filter(|lot| lot.place != Place::InGround && lot.place != Place::Freezer)
            .collect();
        lots.sort_by_key(|lot| (lot.last_seen, lot.id));
        lots.iter().take(QUICK_LOTS).map(|lot| lot.id).collect()
    }

    fn read_out(
        &mut self,
        person: PersonId,
        place: Option<Place>,
        lots: Vec<LotId>,
        draft: &mut Draft,
    ) {
        let names = self.outlook(|outlook| outlook.names(&lots));
        let words = place.as_ref().map(|place| self.kit.wording.the_place(place));
        draft.line(self.kit.wording.count_stop(words.as_deref(), &names));
        let mut buttons = vec![("all_there", Action::AllThere), ("stop", Action::Stop)];
        if place.is_some() {
            buttons.insert(1, ("skip", Action::Skip));
        }
        for (key, action) in buttons {
            draft.button(self.kit.wording.button(key), action);
        }
        let read_out = MessageId(self.house.memory.last_message + 1);
        let stop = Stop { place, lots, at: self.now, read_out };
        self.house.memory.walk.stops.insert(person, stop);
    }

    /// The first place in the household's order that nobody has counted or is at.
    fn next_place(&self, person: PersonId) -> Option<Place> {
        let walk = &self.house.memory.walk;
        let mut places: Vec<Place> = Vec::new();
        for lot in &self.house.state.lots {
            let place = whole_place(lot.place.clone());
            if place != Place::InGround && !places.contains(&place) {
                places.push(place);
            }
        }
        places.sort_by_key(order);
        let taken = |place: &Place| {
            walk.done.contains(place)
                || walk.stops.iter().any(|(who, stop)| {
                    *who != person && stop.place.as_ref() == Some(place) && self.waits(stop)
                })
        };
        places.into_iter().find(|place| !taken(place))
    }

    fn waits(&self, stop: &Stop) -> bool {
        self.now.minutes_since(stop.at) < STOP_MINUTES
    }

    /// Takes a message as the answer at its writer's stop, where it is one.
    pub(super) fn answered_stop(&mut self, said: &Said) -> bool {
        let stop = self.house.memory.walk.stops.get(&said.person).cloned();
        let Some(stop) = stop.filter(|stop| self.waits(stop)) else { return false };
        let words = said.text.trim().trim_end_matches(['.', '!']).to_lowercase();
        let words = words.trim_start_matches("larderling").trim_start_matches([',', ':', ' ']);
        let mut draft = Draft { answers: true, ..Draft::default() };
        match words {
            "all there" | "all here" | "yes" | "ok" | "same" | "correct" | "right" | "all good" => {
                self.all_there(said.person, said.message, &mut draft);
            }
            "next" | "skip" | "next place" => self.skip(said.person, &mut draft),
            "stop" | "stop here" | "later" | "enough" => self.stop(said.person, &mut draft),
            _ => {
                let Some(statements) = self.exceptions(said, &stop) else { return false };
                self.house.memory.put_buttons(stop.read_out, BTreeMap::new());
                self.remember(said, &statements);
                let before = self.house.state.last_event;
                let record = self.decide(said.person, said.message, None, |state, cx| {
                    kitchen::record(state, &statements, &cx)
                });
                self.fold_in(&record, said.message, &mut draft);
                let named = touched(&self.decision.events, before);
                let rest: Vec<LotId> =
                    stop.lots.iter().copied().filter(|id| !named.contains(id)).collect();
                self.see(said.person, said.message, &rest);
                self.go_on(said.person, &stop, &mut draft);
            }
        }
        self.reply(said, draft);
        true
    }

    /// What an answer says is different; `None` for talk about something else.
    fn exceptions(&self, said: &Said, stop: &Stop) -> Option<Vec<Statement>> {
        let plain = self.read(said);
        let tells = |reading: &Reading| {
            reading.stance == Stance::Act
                && reading.statements.iter().all(|statement| {
                    matches!(
                        statement.intent,
                        Intent::Counted
                            | Intent::Used
                            | Intent::Given
                            | Intent::Discarded
                            | Intent::Moved
                            | Intent::Preserved
                    )
                })
        };
        let reading = if tells(&plain) {
            plain
        } else if plain.statements.is_empty() || plain.stance != Stance::Act {
            let text = format!("{HEAD}{}", said.text);
            let reading = self.read(&Said { text, addressed: true, ..said.clone() });
            Some(reading).filter(tells)?
        } else {
            return None;
        };
        let mut statements = reading.statements;
        for statement in statements.iter_mut().filter(|s| s.intent == Intent::Counted) {
            if statement.scope.is_none() {
                statement.scope = stop.place.clone().map(Scope::Place);
            }
        }
        (!statements.is_empty()).then_some(statements)
    }

    pub(super) fn all_there(&mut self, person: PersonId, message: MessageId, draft: &mut Draft) {
        let Some(stop) = self.house.memory.walk.stops.get(&person).cloned() else { return };
        self.see(person, message, &stop.lots);
        self.go_on(person, &stop, draft);
    }

    pub(super) fn skip(&mut self, person: PersonId, draft: &mut Draft) {
        let Some(stop) = self.house.memory.walk.stops.get(&person).cloned() else { return };
        self.go_on(person, &stop, draft);
    }

    pub(super) fn stop(&mut self, person: PersonId, draft: &mut Draft) {
        self.house.memory.walk.stops.remove(&person);
        draft.answers = true;
        draft.line(self.kit.wording.count_left());
    }

    /// Leaves a stop that was answered, for the next one.
    fn go_on(&mut self, person: PersonId, stop: &Stop, draft: &mut Draft) {
        self.house.memory.walk.stops.remove(&person);
        match &stop.place {
            Some(place) => {
                self.house.memory.walk.done.push(place.clone());
                self.count(person, None, draft);
            }
            None if draft.text.is_empty() => draft.line(self.kit.wording.count_done()),
            None => {}
        }
    }

    /// After a count that found food missing: the way to say that some of it was thrown out.
    pub(super) fn offers_sorting(
        &self,
        record: &kitchen::Record,
        message: MessageId,
        draft: &mut Draft,
    ) {
        let missing = record.events.iter().any(|event| match &event.what {
            What::Uncounted { lots } => !lots.is_empty(),
            _ => false,
        });
        if missing {
            let button = self.kit.wording.button("some_thrown_out");
            draft.button(button, Action::SomeThrownOut(message));
        }
    }

    /// Asks which of a count's losses were thrown out.
    pub(super) fn sort_out(&mut self, person: PersonId, of: MessageId, draft: &mut Draft) {
        draft.answers = true;
        self.house.memory.sorting.insert(person, (of, self.now));
        draft.line(self.kit.wording.which_thrown_out());
        let all = self.kit.wording.button("all_thrown_out");
        draft.button(all, Action::AllThrownOut(of));
    }

    /// Takes a message as the answer to which losses were thrown out, where it is one.
    pub(super) fn answered_sorting(&mut self, said: &Said) -> bool {
        let asked = self.house.memory.sorting.get(&said.person).copied();
        let Some((of, at)) = asked else { return false };
        if self.now.minutes_since(at) > QUESTION_MINUTES {
            return false;
        }
        let text = format!("threw out {}", said.text);
        let reading = self.read(&Said { text, addressed: true, ..said.clone() });
        let plain = reading.statements.iter().all(|s| s.intent == Intent::Discarded);
        if reading.stance != Stance::Act || !plain || reading.statements.is_empty() {
            return false;
        }
        self.house.memory.sorting.remove(&said.person);
        let record = self.decide(said.person, said.message, None, |state, cx| {
            kitchen::discard_instead(state, of, Some(&reading.statements), &cx)
        });
        let mut draft = Draft { answers: true, ..Draft::default() };
        self.fold_in(&record, said.message, &mut draft);
        self.reply(said, draft);
        true
    }

    /// Notes that these lots were seen.
    fn see(&mut self, person: PersonId, message: MessageId, lots: &[LotId]) {
        if lots.is_empty() {
            return;
        }
        let record = self.decide(person, message, None, |state, cx| {
            kitchen::deed_on(state, LotDeed::StillHere, lots, &cx)
        });
        self.house.state = record.state;
        self.decision.events.extend(record.events);
    }
}

/// The crisper is a drawer of the fridge: one look counts both.
fn whole_place(place: Place) -> Place {
    if place == Place::Crisper { Place::Fridge } else { place }
}

/// The order of a walk: the fridge first, the freezer last.
fn order(place: &Place) -> (u8, String) {
    let rank = match place {
        Place::Fridge | Place::Crisper => 0,
        Place::Counter => 1,
        Place::CoolDark => 2,
        Place::Own(_) => 3,
        Place::Freezer => 4,
        Place::InGround => 5,
    };
    (rank, place.word().to_owned())
}

/// The lots that the events after `before` name.
fn touched(events: &[kitchen::Event], before: u64) -> Vec<LotId> {
    let new = events.iter().filter(|event| event.id.0 > before);
    let mut lots = Vec::new();
    for event in new {
        match &event.what {
            What::Counted { lots: counted, .. } => lots.extend(counted),
            What::Used { draw } | What::Given { draw } | What::Discarded { draw, .. } => {
                lots.extend(&draw.lots);
            }
            What::Moved { change } | What::Preserved { change, .. } => {
                lots.extend(&change.draw.lots);
            }
            // Nothing else is an exception at a stop.
            _ => {}
        }
    }
    lots
}
