//! The conversation's short memory: what was said lately, what is being asked, what a button means.
//!
//! Not derived from the log and lost without harm: at worst the bot asks again. Everything in it is
//! bounded by a constant of this file.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::{MessageId, Rich};
use crate::dates::{Instant, KitchenDay};
use crate::kitchen::{LotId, Named, PersonId, UnitSystem};
use crate::statement::{Mention, Statement};
use crate::words::Place;

/// How long something named stays what "it" refers to, in minutes.
pub const MENTION_MINUTES: i64 = 5;
/// How long an open question waits for its answer, in minutes.
pub const QUESTION_MINUTES: i64 = 10;
/// How soon a person's next message still belongs to the same burst, in minutes.
pub const BURST_MINUTES: i64 = 1;
/// How long "on it" keeps the chores from being named again, in minutes.
pub const AT_CHORES_MINUTES: i64 = 3 * 60;
/// How long the acknowledgement of a burst grows, in characters, before a new one begins.
pub const BURST_CHARS: usize = 700;
/// How many recent messages are remembered, for replies, edits and buttons.
const RECENT: usize = 200;

/// See the module head.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Memory {
    /// The number of the newest message, the bot's or anybody's.
    pub last_message: u64,
    /// What each recent message named, by message.
    mentions: BTreeMap<MessageId, Mentioned>,
    /// What each recent message was read as, so that a cosmetic edit changes nothing.
    readings: BTreeMap<MessageId, Vec<Statement>>,
    /// What the buttons under the bot's recent messages do.
    buttons: BTreeMap<MessageId, BTreeMap<String, Action>>,
    /// What is written on them, where somebody says it instead of pressing.
    labels: BTreeMap<MessageId, Vec<(String, String)>>,
    /// The bot's answer to each recent message, and what it said.
    answered: BTreeMap<MessageId, MessageId>,
    /// The long explanation behind each recent answer of the bot.
    whys: BTreeMap<MessageId, Rich>,
    /// The one question open to each person.
    questions: BTreeMap<PersonId, OpenQuestion>,
    /// The newest acknowledgement, as long as nothing else was said by the bot.
    pub burst: Option<Burst>,
    /// The cautions that go with the first safety answer were given.
    pub cautioned: bool,
    /// The set-up, while it is under way.
    pub set_up: Option<SetUp>,
    /// The group was told that plain messages do not reach the bot.
    pub deaf_told: bool,
    /// The newest album seen: its pictures are one thing.
    pub album: Option<String>,
    /// The local day of the newest morning post and of the newest evening round.
    pub posted: Option<KitchenDay>,
    pub rounded: Option<KitchenDay>,
    /// The count under way, place by place.
    pub walk: Walk,
    /// Who is asked what of a count's losses was thrown out, since when.
    pub sorting: BTreeMap<PersonId, (MessageId, Instant)>,
    /// Units and places of the household's own that were asked about, each once.
    pub asked_words: BTreeSet<String>,
    /// Who is asked what such a word stands for: the setting it becomes, since when.
    pub naming: BTreeMap<PersonId, (String, Instant)>,
    /// The day on which a quick count was last offered.
    pub count_offered: Option<KitchenDay>,
    /// Who is at the chores, since when.
    pub at_chores: Option<(PersonId, Instant)>,
    /// What the morning posts have said of each lot since somebody last gave a sign of it.
    pub shown: BTreeMap<LotId, Shown>,
}

/// A count place by place, by one person or by several in different places.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Walk {
    pub begun: Option<Instant>,
    pub done: Vec<Place>,
    /// Who stands where.
    pub stops: BTreeMap<PersonId, Stop>,
}

/// What one person is counting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stop {
    /// `None`: a quick count of these lots, wherever they are.
    pub place: Option<Place>,
    pub lots: Vec<LotId>,
    pub at: Instant,
    /// The bot's message that reads it out.
    pub read_out: MessageId,
}

/// How often a lot stood in the morning post, unanswered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shown {
    pub first: KitchenDay,
    pub last: KitchenDay,
    /// On how many mornings.
    pub mornings: u32,
    /// The day it was asked about, or named as out.
    pub asked: Option<KitchenDay>,
    /// It was named as out: not again, whatever is seen of it.
    #[serde(default)]
    pub out: bool,
}

/// Something named, by whom.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Mentioned {
    person: PersonId,
    mention: Mention,
}

/// What a button does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Action {
    /// Takes back what this message recorded.
    Undo(MessageId),
    /// Acts as if the person had said this.
    State(Vec<Statement>),
    /// A deed on exactly these lots.
    Lots(LotDeed, Vec<LotId>),
    /// Everything bought is where it belongs.
    PutAway,
    /// What this message took of this food was never so.
    PutBack(MessageId, Named),
    /// Some of what this message's count found missing was thrown out: asks which.
    SomeThrownOut(MessageId),
    /// All of it was.
    AllThrownOut(MessageId),
    /// A tap of the set-up.
    SetUp(Tap),
    /// Carries out what this person asked for, who alone can confirm it.
    Confirm(PersonId, Confirmed),
    /// Starts or takes up a count, place by place.
    Count,
    /// Offers the lots longest out of sight for a count in one go.
    QuickCount,
    /// At a stop of a count: all of it is there.
    AllThere,
    /// At a stop of a count: on to the next place.
    Skip,
    /// Leaves the count; it can be taken up again.
    Stop,
    /// Shows the long explanation behind the message.
    Why,
    /// Answers this question with a picture of how things stand then.
    Picture(Box<Statement>),
    /// Nothing to do; the buttons go.
    Dismiss,
}

/// A tap of the set-up.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Tap {
    Region(String),
    /// One group of a region's cities.
    Cities(String, usize),
    Zone(String),
    Hour(String),
    Money(UnitSystem, String),
    /// What is set may stay.
    Keep,
    Back,
}

/// What is only done once it was confirmed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Confirmed {
    Export,
    DeleteHousehold,
    Forget(PersonId),
}

/// The set-up under way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetUp {
    /// The bot's message that asks, edited from step to step.
    pub message: MessageId,
    /// When it was last tapped.
    pub at: Instant,
    pub step: Step,
    pub private: bool,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Step {
    Zone,
    Region(String),
    Cities(String, usize),
    Hour,
    Money,
    Done,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum LotDeed {
    WaterChanged,
    UsedUp,
    ThrownOut,
    StillHere,
}

/// A question put to one person.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OpenQuestion {
    /// The bot's message that asks.
    pub asked_in: MessageId,
    /// The message it is about.
    pub about: MessageId,
    pub at: Instant,
    pub choices: Vec<Choice>,
}

/// One answer to an open question: by button, by its key or by its label in words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    pub key: String,
    pub label: String,
    pub action: Action,
}

/// An acknowledgement that the next message of the same person may still join.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Burst {
    pub person: PersonId,
    pub at: Instant,
    /// The bot's message to edit.
    pub message: MessageId,
    /// The messages it acknowledges.
    pub of: Vec<MessageId>,
    pub text: Rich,
    /// The lots it brought, which the put-away advice under it is about.
    #[serde(default)]
    pub lots: Vec<LotId>,
}

impl Memory {
    /// Numbers a new message.
    pub fn next_message(&mut self) -> MessageId {
        self.last_message += 1;
        MessageId(self.last_message)
    }

    pub fn remember_mention(&mut self, message: MessageId, person: PersonId, mention: Mention) {
        if !mention.items.is_empty() {
            keep_recent(&mut self.mentions).insert(message, Mentioned { person, mention });
        }
    }

    /// What "it" can mean for `person` at `now`: what they named in the last minutes, oldest
    /// first, or what the message they reply to named, however old.
    pub fn talk(
        &self,
        person: PersonId,
        reply_to: Option<MessageId>,
        now: Instant,
    ) -> Vec<Mention> {
        if let Some(named) = reply_to.and_then(|message| self.mentions.get(&message)) {
            return vec![named.mention.clone()];
        }
        let recent = self.mentions.values().filter(|each| {
            let age = each.mention.at.map(|at| now.minutes_since(at));
            each.person == person && age.is_some_and(|age| (0..=MENTION_MINUTES).contains(&age))
        });
        recent.map(|each| each.mention.clone()).collect()
    }

    pub fn remember_reading(&mut self, message: MessageId, statements: Vec<Statement>) {
        keep_recent(&mut self.readings).insert(message, statements);
    }

    pub fn reading(&self, message: MessageId) -> Option<&[Statement]> {
        self.readings.get(&message).map(Vec::as_slice)
    }

    pub fn remember_answer(&mut self, to: MessageId, answer: MessageId) {
        keep_recent(&mut self.answered).insert(to, answer);
    }

    /// The bot's message that answered `message`.
    pub fn answer_to(&self, message: MessageId) -> Option<MessageId> {
        self.answered.get(&message).copied()
    }

    /// The message that the bot's message `answer` answered.
    pub fn answered_by(&self, answer: MessageId) -> Option<MessageId> {
        let found = self.answered.iter().find(|(_, by)| **by == answer);
        found.map(|(message, _)| *message)
    }

    pub fn remember_why(&mut self, answer: MessageId, why: Rich) {
        keep_recent(&mut self.whys).insert(answer, why);
    }

    /// The explanation behind the bot's message `answer`, or behind its newest explained one.
    pub fn why(&self, answer: Option<MessageId>) -> Option<&Rich> {
        match answer {
            Some(answer) => self.whys.get(&answer),
            None => self.whys.last_key_value().map(|(_, why)| why),
        }
    }

    pub fn put_buttons(&mut self, under: MessageId, actions: BTreeMap<String, Action>) {
        if actions.is_empty() {
            self.buttons.remove(&under);
        } else {
            keep_recent(&mut self.buttons).insert(under, actions);
        }
    }

    /// What the button does; `None` once it was pressed or is forgotten.
    pub fn action(&self, under: MessageId, key: &str) -> Option<&Action> {
        self.buttons.get(&under)?.get(key)
    }

    /// Drops one button, or all of a message's.
    pub fn drop_button(&mut self, under: MessageId, key: &str) {
        if let Some(actions) = self.buttons.get_mut(&under) {
            actions.remove(key);
        }
    }

    /// Whether somebody said a while ago that they are at the chores.
    pub fn held_chores(&self, now: Instant) -> bool {
        self.at_chores.is_some_and(|(_, at)| now.minutes_since(at) < AT_CHORES_MINUTES)
    }

    pub fn ask(&mut self, person: PersonId, question: OpenQuestion) {
        self.questions.insert(person, question);
    }

    /// The question open to `person` at `now`, if it has not lapsed.
    pub fn open_question(&self, person: PersonId, now: Instant) -> Option<&OpenQuestion> {
        let question = self.questions.get(&person)?;
        (now.minutes_since(question.at) <= QUESTION_MINUTES).then_some(question)
    }

    pub fn close_question(&mut self, person: PersonId) -> Option<OpenQuestion> {
        self.questions.remove(&person)
    }
}

impl Memory {
    /// Forgets what a person said and was asked.
    pub fn forget(&mut self, person: PersonId) {
        let theirs: Vec<MessageId> = self
            .mentions
            .iter()
            .filter(|(_, mentioned)| mentioned.person == person)
            .map(|(message, _)| *message)
            .collect();
        self.mentions.retain(|_, mentioned| mentioned.person != person);
        self.readings.retain(|message, _| !theirs.contains(message));
        self.questions.remove(&person);
        if self.burst.as_ref().is_some_and(|burst| burst.person == person) {
            self.burst = None;
        }
    }

    /// The buttons under one of the bot's messages.
    pub fn buttons(&self, under: MessageId) -> impl Iterator<Item = (&String, &Action)> {
        self.buttons.get(&under).into_iter().flatten()
    }

    /// Keeps what is written on the buttons under a message: key and label.
    pub fn remember_labels(&mut self, under: MessageId, labels: Vec<(String, String)>) {
        if !labels.is_empty() {
            keep_recent(&mut self.labels).insert(under, labels);
        }
    }

    /// The button under a message that goes by these words: its key, or what is written on it.
    pub fn button_saying(&self, under: MessageId, words: &str) -> Option<String> {
        let ends = ['.', '!', '?'];
        let words = words.trim().trim_end_matches(ends).to_lowercase();
        let labels = self.labels.get(&under).into_iter().flatten();
        let said = labels
            .into_iter()
            .find(|(_, label)| label.trim_end_matches(ends).to_lowercase() == words);
        let key = said.map(|(key, _)| key.as_str()).or(Some(words.as_str()));
        key.filter(|key| self.action(under, key).is_some()).map(str::to_owned)
    }

    /// The bot's newest message with buttons.
    pub fn newest_with_buttons(&self) -> Option<MessageId> {
        self.buttons.last_key_value().map(|(message, _)| *message)
    }
}

/// Makes room for one more: drops the oldest beyond the limit.
fn keep_recent<V>(map: &mut BTreeMap<MessageId, V>) -> &mut BTreeMap<MessageId, V> {
    while map.len() >= RECENT {
        map.pop_first();
    }
    map
}
