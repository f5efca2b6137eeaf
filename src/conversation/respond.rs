//! [`respond`]: from one incoming thing to events and messages.

use std::collections::BTreeMap;

use super::memory::{Action, BURST_CHARS, BURST_MINUTES, Burst, Choice, OpenQuestion};
use super::{
    Button, Decision, House, Incoming, Job, Kind, Kit, LotDeed, MessageId, Outgoing, Rich, Said,
    Unreadable,
};
use crate::chores;
use crate::dates::{Instant, KitchenDay};
use crate::keeping::{Keeper, Learned};
use crate::kitchen::{
    self, Acknowledge, Cx, Deed, Lot, LotId, PersonId, Record, State, Style, Told, Trouble,
    Undoing, UnitSystem, Verdict,
};
use crate::picture::Picture;
use crate::plan::view;
use crate::reader::ReadContext;
use crate::reader::captions;
use crate::reader::days::DateOrder;
use crate::statement::{Mention, ON_IT, Reading, Statement};
use crate::wording::Voice;
use crate::words::{Intent, Stance};

mod asked;
mod count;
mod house_words;
mod members;
mod posts;
mod pressed;
mod setup;
mod matters;
mod ways;
mod log;

/// The longest message sent, in UTF-16 code units: what the messenger takes in one.
const MESSAGE_CHARS: usize = 4096;

/// What happens and what is said when `incoming` reaches `house`. The events returned are already
/// folded into `house.state`; `house.memory` is brought up to date. `house.log` is left alone.
pub fn respond(house: &mut House, incoming: &Incoming, kit: &Kit) -> Decision {
    let writer = incoming.person();
    let due = matches!(incoming, Incoming::Due { .. });
    let before = due.then(|| house.memory.clone());
    let voice = kit_for(house, kit, writer);
    let mut turn = Turn::new(house, voice, incoming.at(), writer);
    match incoming {
        Incoming::Said(said) => turn.said(said),
        Incoming::Edited(said) => turn.edited(said),
        Incoming::Pressed { person, on, key, .. } => turn.pressed(*person, *on, key),
        Incoming::Unreadable { said, kind } => turn.unreadable(said, *kind),
        Incoming::Welcomed { by, hears, language, private, .. } => {
            turn.welcomed(*by, *hears, language.as_deref(), *private);
        }
        Incoming::Admitted { person, .. } => turn.admitted(*person),
        Incoming::InviteMade { person, link, answers, private, .. } => {
            turn.invite_made(*person, link.as_deref(), *answers, *private);
        }
        Incoming::Joined { .. } => turn.joined(),
        Incoming::Left { person, .. } => turn.left(*person),
        Incoming::Due { job: Job::MorningPost, day, .. } => turn.morning_post(*day),
        Incoming::Due { job: Job::EveningRound, day, .. } => turn.evening_round(*day),
        Incoming::Back { since, .. } => turn.back(*since),
    }
    turn.in_plain_words();
    let mut decision = turn.decision;
    if let Some(before) = before.filter(|_| !decision.outgoing.is_empty()) {
        ways::copy_post(house, incoming, kit, before, &mut decision);
    }
    decision
}

/// The voice a person is spoken to in, or the household (`None`).
fn kit_for(house: &House, kit: &Kit, person: Option<PersonId>) -> Kit {
    let settings = &house.state.settings;
    let ways = person.map(|person| settings.ways_of(person)).unwrap_or_default();
    let language = ways.lang.as_deref().unwrap_or(&settings.lang);
    kit.speaking(language, ways.style == Style::Plain)
}

/// One incoming thing being answered.
struct Turn<'a> {
    house: &'a mut House,
    kit: Kit,
    now: Instant,
    /// Whom it came from; `None` for what comes of its own accord.
    writer: Option<PersonId>,
    decision: Decision,
}

/// Buttons of acknowledgements that can be one.
const JOINING: &[&str] = &["undo", "put_away", "not_yet", "quick_count"];

/// One answer being put together.
#[derive(Default)]
struct Draft {
    text: Rich,
    /// Where what came in belongs, said last.
    advice: Rich,
    /// The lots the advice is about.
    lots: Vec<LotId>,
    buttons: Vec<Button>,
    actions: BTreeMap<String, Action>,
    why: Option<Rich>,
    picture: Option<Picture>,
    /// Says more than that something was noted: never a reaction, never part of a burst.
    answers: bool,
    /// Safety cannot wait: said even while catching up.
    urgent: bool,
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
    fn new(house: &mut House, kit: Kit, now: Instant, writer: Option<PersonId>) -> Turn<'_> {
        Turn { house, kit, now, writer, decision: Decision::default() }
    }

    fn today(&self) -> KitchenDay {
        self.now.day(self.house.state.settings.zone)
    }

    fn voice(&self) -> Voice<'_> {
        Voice { foods: &*self.kit.rules, settings: &self.house.state.settings, today: self.today() }
    }

    fn said(&mut self, said: &Said) {
        if self.answered_open_question(said)
            || self.answered_stop(said)
            || self.answered_sorting(said)
            || self.answered_naming(said)
            || self.typed_city(said)
            || self.typed_button(said)
        {
            return;
        }
        let mut reading = self.read(said);
        // "On it" while something is due is said of that.
        if reading.stance == Stance::Silent && !chores::due(&self.house.state, self.now).is_empty()
        {
            let heard = self.read(&Said { addressed: true, ..said.clone() });
            if !heard.statements.is_empty() && heard.statements.iter().all(is_on_it) {
                reading = heard;
            }
        }
        self.act(said, &reading);
    }

    fn read(&self, said: &Said) -> Reading {
        let settings = &self.house.state.settings;
        let open = self.house.memory.open_question(said.person, self.now).is_some();
        let context = ReadContext {
            today: self.today(),
            currency: settings.currency.clone(),
            addressed: said.addressed || said.private || open,
            date_order: match settings.units {
                UnitSystem::Us => DateOrder::MonthFirst,
                UnitSystem::Metric => DateOrder::DayFirst,
            },
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
        self.decision.heard = true;
        let (asked_in, about) = (question.asked_in, question.about);
        self.house.memory.close_question(said.person);
        self.house.memory.put_buttons(asked_in, BTreeMap::new());
        let mut draft = Draft::default();
        self.carry_out(&choice.action, said.person, about, &mut draft);
        self.reply(said, draft);
        true
    }

    /// Acts on what a message was read as.
    fn act(&mut self, said: &Said, reading: &Reading) {
        match reading.stance {
            Stance::Silent => return,
            Stance::Ask if self.overheard(said) => {
                self.decision.heard = true;
                return;
            }
            Stance::Ask => {
                self.decision.heard = true;
                return self.ask_back(said, reading);
            }
            Stance::Act => self.decision.heard = true,
        }
        if self.matter(said, &reading.statements) {
            return;
        }
        self.remember(said, &reading.statements);
        let mut draft = Draft::default();
        let record = self.decide(said.person, said.message, said.reply_to, |state, cx| {
            kitchen::record(state, &reading.statements, &cx)
        });
        // "No, 3 onions" between people is not always about us.
        let to_nobody = |told: &Told| {
            matches!(told.deed, Deed::Trouble(Trouble::NothingToMend { .. }))
                && !(said.addressed || said.private)
        };
        let mut record = record;
        record.told.retain(|told| !to_nobody(told));
        self.fold_in(&record, said.message, &mut draft);
        self.leaving_soon(&record, &mut draft);
        self.asked(said, &reading.statements, &mut draft);
        let spoken_to = said.addressed || said.private;
        if !reading.not_understood.is_empty() && !draft.text.is_empty() && spoken_to {
            draft.answers = true;
            draft.line(self.kit.wording.still_unclear(&reading.not_understood));
        }
        self.put_questions(said, &record, &mut draft);
        self.house_words(said, &reading.statements, &record, &mut draft);
        self.reply(said, draft);
    }

    /// Adds what was recorded to the decision, and says so in the draft.
    fn fold_in(&mut self, record: &Record, message: MessageId, draft: &mut Draft) {
        if !record.told.is_empty() {
            let before = std::mem::replace(&mut self.house.state, record.state.clone());
            draft.line(self.kit.wording.told(&record.told, self.voice()));
            self.house.state = before;
            draft.answers |= record.told.iter().any(|told| matters(&told.deed));
        }
        if record.events.is_empty() {
            return;
        }
        self.house.state = record.state.clone();
        self.decision.events.extend(record.events.iter().cloned());
        let out = thrown_out_next(&record.told);
        if !out.is_empty() {
            let button = self.kit.wording.button("thrown_out");
            draft.button(button, Action::Lots(LotDeed::ThrownOut, out));
        }
        draft.button(self.kit.wording.button("undo"), Action::Undo(message));
        for line in record.told.iter().flat_map(|told| &told.lines) {
            if let Some((_, _, took)) = &line.gone {
                let back = Action::PutBack(*took, line.of.clone());
                draft.button(self.kit.wording.button("put_back"), back);
            }
        }
        self.offers_sorting(record, message, draft);
        self.put_away_advice(record, draft);
        self.labels(record, draft);
    }

    /// What the household's outcomes have taught; nothing where it has turned learning off.
    fn learned(&self) -> Learned {
        Learned::by(&self.house.state)
    }

    /// Lets the kitchen decide for `person`, drawing first on what spoils first.
    fn decide<T>(
        &self,
        person: PersonId,
        message: MessageId,
        reply_to: Option<MessageId>,
        act: impl FnOnce(&State, Cx<'_>) -> T,
    ) -> T {
        let learned = self.learned();
        let keeper = Keeper::new(&self.house.state, &self.kit.rules, &learned);
        let use_by = |lot: &Lot| view::use_by(lot, &keeper, self.now);
        let lived = |lot: &Lot, at: Instant| keeper.lived(lot, at);
        let answers = reply_to.map(|to| self.house.memory.answered_by(to).unwrap_or(to));
        let cx = Cx {
            foods: &*self.kit.rules,
            now: self.now,
            today: self.today(),
            person: Some(person),
            message,
            answers,
            log: &self.house.log,
            use_by: &use_by,
            lived: &lived,
            sure: false,
        };
        act(&self.house.state, cx)
    }

    fn remember(&mut self, said: &Said, statements: &[Statement]) {
        let items: Vec<_> =
            statements.iter().flat_map(|statement| statement.items.clone()).collect();
        let intent = statements.first().map(|statement| statement.intent);
        let mention = Mention { items, intent, at: Some(self.now) };
        self.house.memory.remember_mention(said.message, said.person, mention);
        self.house.memory.remember_reading(said.message, statements.to_vec());
    }

    /// The new text of an earlier message: only a new meaning changes anything.
    fn edited(&mut self, said: &Said) {
        let reading = self.read(said);
        let before = self.house.memory.reading(said.message).unwrap_or_default();
        let now = match reading.stance {
            Stance::Act => reading.statements.clone(),
            Stance::Ask | Stance::Silent => Vec::new(),
        };
        if before == now.as_slice() {
            return;
        }
        if before.is_empty() {
            return self.act(said, &reading);
        }
        self.decision.heard = !now.is_empty();
        self.remember(said, &now);
        let record = self
            .decide(said.person, said.message, None, |state, cx| kitchen::edit(state, &now, &cx));
        let mut draft = Draft::default();
        self.fold_in(&record, said.message, &mut draft);
        self.asked(said, &now, &mut draft);
        if draft.text.is_empty() {
            return;
        }
        let answer = self.house.memory.answer_to(said.message);
        // A picture cannot take the place of words, nor stay beside new ones.
        match answer.filter(|_| draft.picture.is_none()) {
            Some(answer) => self.edit(answer, Some(said.message), draft),
            None => self.reply(said, draft),
        }
    }

    /// Spoken to and unsure: one short question, with buttons where foods were named.
    fn ask_back(&mut self, said: &Said, reading: &Reading) {
        let mut draft = Draft { answers: true, ..Draft::default() };
        let foods = reading.statements.iter().find(|statement| !statement.items.is_empty());
        let Some(statement) = foods else {
            draft.line(self.kit.wording.unsure(&reading.not_understood));
            return self.reply(said, draft);
        };
        let names: Vec<&str> = statement.items.iter().map(|item| item.name.as_str()).collect();
        draft.line(self.kit.wording.what_about(&names));
        let choices = [
            ("bought", Intent::Acquired),
            ("have", Intent::Counted),
            ("used", Intent::Used),
            ("thrown_out", Intent::Discarded),
        ];
        let choices = choices.map(|(key, intent)| {
            let mut meant = statement.clone();
            meant.intent = intent;
            (self.kit.wording.choice(key), Action::State(vec![meant]))
        });
        self.ask(said, choices.into(), &mut draft);
        self.reply(said, draft);
    }

    /// Puts the questions the kitchen is left with; the first one gets the buttons.
    fn put_questions(&mut self, said: &Said, record: &Record, draft: &mut Draft) {
        let Some(question) = record.questions.first() else { return };
        draft.line(self.kit.wording.asks(question, self.voice()));
        draft.answers = true;
        let choices = question.choices.iter().map(|choice| {
            let button = match choice.day {
                Some(day) => self.kit.wording.day_button(&choice.key, day, self.today()),
                None => self.kit.wording.choice(&choice.key),
            };
            (button, Action::State(choice.then.clone()))
        });
        let choices = choices.collect();
        self.ask(said, choices, draft);
    }

    /// Opens a question to the writer of `said`, to be answered by button or in words.
    fn ask(&mut self, said: &Said, choices: Vec<(Button, Action)>, draft: &mut Draft) {
        let question = OpenQuestion {
            // The number the reply is about to get.
            asked_in: MessageId(self.house.memory.last_message + 1),
            about: said.message,
            at: self.now,
            choices: choices
                .iter()
                .map(|(button, action)| Choice {
                    key: button.key.clone(),
                    label: button.label.clone(),
                    action: action.clone(),
                })
                .collect(),
        };
        self.house.memory.ask(said.person, question);
        for (button, action) in choices {
            draft.button(button, action);
        }
    }

    /// Queues the answer to `said`: a message, a sign of "noted", or the burst's next line.
    fn reply(&mut self, said: &Said, draft: Draft) {
        if draft.text.is_empty() || (self.house.catching_up && !draft.urgent) {
            return;
        }
        let noted = !draft.answers && !self.decision.events.is_empty();
        let by_sign = self.house.state.settings.ack == Acknowledge::Reaction;
        if noted && by_sign && !said.private && !self.is_in_style(Style::Plain) {
            return self.react(said);
        }
        if noted && self.join_burst(said, &draft) {
            return;
        }
        let message = self.house.memory.next_message();
        let burst = Burst {
            person: said.person,
            at: self.now,
            message,
            of: vec![said.message],
            text: draft.text.clone(),
            lots: draft.lots.clone(),
        };
        self.house.memory.burst = noted.then_some(burst);
        self.house.memory.remember_answer(said.message, message);
        self.put(
            message,
            draft,
            Kind::Reply,
            Some(said.message),
            said.private.then_some(said.person),
        );
    }

    fn react(&mut self, said: &Said) {
        self.decision.outgoing.push(Outgoing {
            message: said.message,
            kind: Kind::Reaction,
            answers: Some(said.message),
            to: None,
            text: self.kit.wording.noted(),
            buttons: Vec::new(),
            picture: None,
            loud: false,
        });
    }

    /// Adds the draft to the acknowledgement of the same person's message of a moment ago.
    fn join_burst(&mut self, said: &Said, draft: &Draft) -> bool {
        let joins = self.house.memory.burst.take().filter(|burst| {
            burst.person == said.person
                && self.now.minutes_since(burst.at) < BURST_MINUTES
                && draft.actions.keys().all(|key| JOINING.contains(&key.as_str()))
                && burst.text.chars() + draft.text.chars() < BURST_CHARS
        });
        let Some(mut burst) = joins else { return false };
        burst.text.push_line(draft.text.clone());
        burst.at = self.now;
        burst.of.push(said.message);
        burst.lots.extend(&draft.lots);
        let mut whole = Draft { text: burst.text.clone(), ..Draft::default() };
        whole.button(self.kit.wording.button("undo"), Action::Undo(said.message));
        self.advise(&burst.lots, &mut whole);
        self.house.memory.remember_answer(said.message, burst.message);
        let message = burst.message;
        self.edit(message, Some(said.message), whole);
        self.house.memory.burst = Some(burst);
        true
    }

    /// Replaces text and buttons of one of the bot's messages.
    fn edit(&mut self, message: MessageId, answers: Option<MessageId>, draft: Draft) {
        self.put(message, draft, Kind::Edit, answers, None);
    }

    /// Queues a message and remembers what hangs on it.
    fn put(
        &mut self,
        message: MessageId,
        draft: Draft,
        kind: Kind,
        answers: Option<MessageId>,
        to: Option<PersonId>,
    ) {
        let Draft { mut text, advice, buttons, actions, why, picture, .. } = draft;
        text.push_line(advice);
        let text = self.kit.wording.within(text, MESSAGE_CHARS);
        if kind != Kind::Reply {
            self.house.memory.burst = None;
        }
        if let Some(why) = why {
            let why = self.kit.wording.within(why, MESSAGE_CHARS);
            self.house.memory.remember_why(message, why);
        }
        self.house.memory.put_buttons(message, actions);
        self.decision.outgoing.push(Outgoing {
            message,
            kind,
            answers,
            to,
            text,
            buttons,
            picture,
            loud: self.sounds(kind),
        });
    }

    /// A picture, a voice note, a sticker: silence in a group; a question about a picture gets
    /// the refusal, and in private one line says what can be read.
    fn unreadable(&mut self, said: &Said, kind: Unreadable) {
        if !said.text.trim().is_empty() {
            let reading = self.read(said);
            let judges = reading.statements.iter().any(|statement| {
                matches!(
                    statement.intent,
                    Intent::AskPart | Intent::AskCondition | Intent::AskKeeps | Intent::AskLeftOut
                )
            });
            let spoken_to = said.addressed || said.private;
            let judges = judges
                || captions::asks_to_eat(&said.text)
                || (spoken_to && reading.stance == Stance::Ask && said.text.contains('?'));
            let eaten = reading.statements.iter().any(|s| s.intent == Intent::EatenAlready);
            if kind == Unreadable::Photo && judges && !eaten {
                self.decision.heard = true;
                let mut draft = Draft { answers: true, ..Draft::default() };
                draft.line(self.kit.wording.cannot_judge_picture());
                return self.reply(said, draft);
            }
            return self.said(said);
        }
        if said.private {
            let mut draft = Draft { answers: true, ..Draft::default() };
            draft.line(self.kit.wording.cannot_read());
            self.reply(said, draft);
        }
    }
}

/// The lots that stood out of the cold too long and are to be thrown out now.
fn thrown_out_next(told: &[Told]) -> Vec<LotId> {
    let warm = told.iter().filter(|told| matches!(told.deed, Deed::LeftOut | Deed::Outage { .. }));
    let lines = warm.flat_map(|told| &told.lines);
    let out = lines.filter(|line| line.verdict == Some(Verdict::Out));
    out.flat_map(|line| line.lots.iter().copied()).collect()
}

/// "On it": a word between people about the chores.
fn is_on_it(statement: &Statement) -> bool {
    statement.setting.as_ref().is_some_and(|(key, _)| key == ON_IT)
}

/// Whether a deed's line must be seen in full, so that a bare sign of "noted" is not enough.
fn matters(deed: &Deed) -> bool {
    match deed {
        Deed::Trouble(_)
        | Deed::LeftOut
        | Deed::Outage { .. }
        | Deed::PlaceFailed { .. }
        | Deed::Thawed
        | Deed::Undone(_)
        | Deed::Restored(_)
        | Deed::Mended(_)
        | Deed::Now
        | Deed::Redated { .. }
        | Deed::Setting { .. }
        | Deed::KeptOutOfBag
        | Deed::BagNote(_)
        | Deed::Away { .. } => true,
        Deed::CameIn { .. }
        | Deed::NotReceived
        | Deed::Used
        | Deed::Given
        | Deed::Discarded { .. }
        | Deed::Frozen
        | Deed::Dried
        | Deed::Moved
        | Deed::PutAway
        | Deed::Cut
        | Deed::Cooked
        | Deed::Opened
        | Deed::Made
        | Deed::InWater
        | Deed::WaterChanged
        | Deed::Counted
        | Deed::Gone
        | Deed::ScrapsSaved
        | Deed::BagEmptied { .. }
        | Deed::StockMade
        | Deed::Wanted
        | Deed::Unwanted
        | Deed::TripTotal { .. }
        | Deed::TripPlanned { .. }
        | Deed::Eaters { .. }
        | Deed::SpokenFor { .. }
        | Deed::StillHere => false,
    }
}
