//! [`respond`]: from one incoming thing to events and messages.

use std::collections::BTreeMap;

use super::memory::{Action, Burst, Choice, OpenQuestion};
use super::{Button, Decision, House, Incoming, Job, Kind, Kit, MessageId, Outgoing, Rich, Said, Unreadable};
use crate::dates::{Instant, KitchenDay};
use crate::kitchen::{self, Acknowledge, Cx, Lot, LotDeed, PersonId, Record};
use crate::reader::ReadContext;
use crate::statement::{Mention, Reading, Statement};
use crate::words::{Intent, Stance};

mod asked;
mod posts;

/// What happens and what is said when `incoming` reaches `house`. The events returned are already
/// folded into `house.state`; `house.memory` is brought up to date.
pub fn respond(house: &mut House, incoming: &Incoming, kit: &Kit) -> Decision {
    let mut turn = Turn { house, kit, now: incoming.at(), decision: Decision::default() };
    match incoming {
        Incoming::Said(said) => turn.said(said),
        Incoming::Edited(said) => turn.edited(said),
        Incoming::Pressed { person, on, key, .. } => turn.pressed(*person, *on, key),
        Incoming::Unreadable { said, kind } => turn.unreadable(said, *kind),
        // Eaters, chores and privacy of members are settings; coming and going alone says nothing.
        Incoming::Joined { .. } | Incoming::Left { .. } => {}
        Incoming::Due { job: Job::MorningPost, day, .. } => turn.morning_post(*day),
        Incoming::Due { job: Job::EveningRound, day, .. } => turn.evening_round(*day),
        Incoming::Back { since, .. } => turn.back(*since),
    }
    turn.decision
}

/// One incoming thing being answered.
struct Turn<'a> {
    house: &'a mut House,
    kit: &'a Kit,
    now: Instant,
    decision: Decision,
}

/// One answer being put together.
#[derive(Default)]
struct Draft {
    text: Rich,
    buttons: Vec<Button>,
    actions: BTreeMap<String, Action>,
    why: Option<Rich>,
    /// Only acknowledges: may be a reaction, may join the burst.
    plain: bool,
}

impl Draft {
    fn line(&mut self, line: Rich) {
        self.text.push_line(line);
    }

    /// Adds a button; a key already there keeps its first meaning.
    fn button(&mut self, button: Button, action: Action) {
        if !self.actions.contains_key(&button.key) {
            self.actions.insert(button.key.clone(), action);
            self.buttons.push(button);
        }
    }
}

impl Turn<'_> {
    fn today(&self) -> KitchenDay {
        self.now.day(self.house.state.settings.zone)
    }

    fn said(&mut self, said: &Said) {
        if self.answered_open_question(said) {
            return;
        }
        let reading = self.read(said);
        self.act(said, &reading);
    }

    fn read(&self, said: &Said) -> Reading {
        let settings = &self.house.state.settings;
        let open = self.house.memory.open_question(said.person, self.now).is_some();
        let context = ReadContext {
            today: self.today(),
            currency: settings.currency.clone(),
            addressed: said.addressed || said.private || open,
            places: settings.places.keys().cloned().collect(),
            talk: self.house.memory.talk(said.person, said.reply_to, self.now),
        };
        self.kit.reader.read(&said.text, &context)
    }

    /// Takes `said` as the answer to the question open to its writer, where it is one.
    fn answered_open_question(&mut self, said: &Said) -> bool {
        let Some(question) = self.house.memory.open_question(said.person, self.now) else {
            return false;
        };
        let words = said.text.trim().trim_end_matches(['.', '!']).to_lowercase();
        let chosen = question
            .choices
            .iter()
            .find(|choice| choice.key == words || choice.label.to_lowercase() == words);
        let Some(choice) = chosen.cloned() else { return false };
        let (asked_in, about) = (question.asked_in, question.about);
        self.house.memory.close_question(said.person);
        self.house.memory.put_buttons(asked_in, BTreeMap::new());
        self.carry_out(&choice.action, said.person, about, Some(said.message));
        true
    }

    /// Acts on what a message was read as.
    fn act(&mut self, said: &Said, reading: &Reading) {
        let person = said.person;
        if reading.stance == Stance::Silent {
            return;
        }
        self.remember(said, reading);
        let mut draft = Draft { plain: true, ..Draft::default() };
        if reading.stance == Stance::Ask {
            self.ask_back(said, reading, draft);
            return;
        }
        let record = kitchen::record(
            &self.house.state,
            &reading.statements,
            &self.cx(person, said.message, said.reply_to),
        );
        self.fold_in(&record, said.message, &mut draft);
        self.asked(said, &reading.statements, &mut draft);
        if !reading.not_understood.is_empty() && !draft.text.is_empty() && said.addressed {
            draft.plain = false;
            draft.line(self.kit.wording.still_unclear(&reading.not_understood));
        }
        self.put_question(said, record, &mut draft);
        self.reply(said, draft);
    }

    /// Adds what was recorded to the decision and says so in the draft.
    fn fold_in(&mut self, record: &Record, message: MessageId, draft: &mut Draft) {
        if !record.told.is_empty() {
            draft.line(self.kit.wording.told(&record.told, &self.house.state.settings));
        }
        if record.told.iter().any(kitchen::Told::is_trouble) {
            draft.plain = false;
        }
        if record.events.is_empty() {
            return;
        }
        self.house.state = record.state.clone();
        self.decision.events.extend(record.events.iter().cloned());
        draft.button(self.kit.wording.button("undo"), Action::Undo(message));
        self.put_away_advice(record, draft);
    }

    /// The context `kitchen` decides in.
    fn cx(&self, person: PersonId, message: MessageId, reply_to: Option<MessageId>) -> Cx<'_> {
        let answers = reply_to.map(|to| self.house.memory.answered_by(to).unwrap_or(to));
        Cx {
            foods: &self.kit.rules,
            now: self.now,
            today: self.today(),
            person: Some(person),
            message,
            answers,
            log: &self.house.log,
            use_by: &no_hurry,
            sure: false,
        }
    }

    fn remember(&mut self, said: &Said, reading: &Reading) {
        let items: Vec<_> =
            reading.statements.iter().flat_map(|statement| statement.items.clone()).collect();
        let intent = reading.statements.first().map(|statement| statement.intent);
        let mention = Mention { items, intent, at: Some(self.now) };
        self.house.memory.remember_mention(said.message, said.person, mention);
        self.house.memory.remember_reading(said.message, reading.statements.clone());
    }
}

fn no_hurry(_: &Lot) -> Option<KitchenDay> {
    None
}
