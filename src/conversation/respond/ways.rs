//! Each person their own way: plain style, a child, and what makes a sound.

use super::*;
use crate::answers::{Answer, forbids};
use crate::chores::{self, Lateness};
use crate::kitchen::Style;
use crate::words::Verdict;

impl Turn<'_> {
    /// Puts the answers to somebody who chose plain style into it: one thing to a line, and the
    /// buttons as words.
    pub(super) fn in_plain_words(&mut self) {
        if !self.kit.wording.is_plain() {
            return;
        }
        let wording = &self.kit.wording;
        for said in &mut self.decision.outgoing {
            if said.kind == Kind::Reaction {
                continue;
            }
            said.text = said.text.one_sentence_a_line();
            if !said.buttons.is_empty() {
                let labels: Vec<String> =
                    said.buttons.iter().map(|button| button.label.clone()).collect();
                said.text.push_line(wording.you_can_say(&labels));
                let keys = said.buttons.iter().map(|button| button.key.clone());
                self.house.memory.remember_labels(said.message, keys.zip(labels).collect());
            }
        }
    }

    /// The words on a button of the message replied to, or of the bot's newest one, typed instead
    /// of pressed by somebody in plain style.
    pub(super) fn typed_button(&mut self, said: &Said) -> bool {
        if !self.is_in_style(Style::Plain) {
            return false;
        }
        let memory = &self.house.memory;
        let Some(on) = said.reply_to.or_else(|| memory.newest_with_buttons()) else {
            return false;
        };
        let words = crate::reader::after_name(&said.text).unwrap_or(&said.text);
        let Some(key) = memory.button_saying(on, words) else { return false };
        self.decision.heard = true;
        let before = self.decision.outgoing.len();
        self.pressed(said.person, on, &key);
        // What a press edits in place, words are answered with.
        if self.decision.outgoing.len() == before {
            return true;
        }
        for edit in &mut self.decision.outgoing[before..] {
            if edit.kind == Kind::Edit {
                edit.kind = Kind::Reply;
                edit.message = self.house.memory.next_message();
            }
            edit.answers = Some(said.message);
        }
        true
    }

    /// An answer as a child gets it: what to do, and whom to show it to. Anything short of "fine
    /// to eat" is "don't"; what somebody has eaten already keeps every word.
    pub(super) fn for_a_child(&self, answer: &mut Answer) {
        if !self.is_in_style(Style::Child) {
            return;
        }
        let wording = &self.kit.wording;
        if answer.urgent {
            answer.text.push_line(wording.child_grown_up_now());
            return;
        }
        let eats = forbids(answer.verdict)
            || matches!(
                answer.verdict,
                Verdict::Limited | Verdict::EdibleWhenCooked | Verdict::Use
            );
        let first =
            if eats { wording.child_do_not() } else { Rich::plain(answer.text.first_sentence()) };
        answer.text = first;
        answer.text.push(" ");
        answer.text.push(wording.child_grown_up());
        answer.caution = None;
    }

    /// Whether something said unasked makes a sound: the morning post, and a round with something
    /// in it that is about safety and was missed; nothing in the quiet hours.
    pub(super) fn sounds(&self, kind: Kind) -> bool {
        let settings = &self.house.state.settings;
        if settings.is_quiet(self.now) {
            return false;
        }
        match kind {
            Kind::Post => true,
            Kind::Reminder => {
                let today = self.today();
                let last_day = self
                    .house
                    .state
                    .lots
                    .iter()
                    .any(|lot| lot.safety_day(settings.zone).is_some_and(|day| day == today));
                let missed = chores::due(&self.house.state, self.now).iter().any(|chore| {
                    matches!(
                        chore.lateness,
                        Lateness::Overdue | Lateness::InspectOrDiscard | Lateness::EndOfLife
                    )
                });
                last_day || missed
            }
            Kind::Reply | Kind::Reaction | Kind::Edit | Kind::Error => false,
        }
    }
}

/// Copies a post to the private chat of everybody in plain style. `memory` is the household's from
/// before the post: a copy says what the post said.
pub(super) fn copy_post(
    house: &mut House,
    incoming: &Incoming,
    kit: &Kit,
    memory: crate::conversation::Memory,
    decision: &mut Decision,
) {
    let plain: Vec<PersonId> = house
        .state
        .settings
        .ways
        .iter()
        .filter(|(_, ways)| ways.style == Style::Plain)
        .map(|(person, _)| *person)
        .collect();
    for person in plain {
        let after = std::mem::replace(&mut house.memory, memory.clone());
        house.memory.last_message = after.last_message;
        let voice = kit_for(house, kit, Some(person));
        let mut turn = Turn::new(house, voice, incoming.at(), Some(person));
        match incoming {
            Incoming::Due { job: Job::MorningPost, day, .. } => turn.morning_post(*day),
            Incoming::Due { job: Job::EveningRound, day, .. } => turn.evening_round(*day),
            _ => {}
        }
        turn.in_plain_words();
        let copies = std::mem::take(&mut turn.decision.outgoing);
        let said = std::mem::replace(&mut house.memory, after);
        for copy in copies {
            house.memory.last_message = house.memory.last_message.max(copy.message.0);
            let buttons = said.buttons(copy.message);
            let actions = buttons.map(|(key, action)| (key.clone(), action.clone())).collect();
            let labels = copy.buttons.iter().map(|b| (b.key.clone(), b.label.clone()));
            house.memory.remember_labels(copy.message, labels.collect());
            house.memory.put_buttons(copy.message, actions);
            if let Some(why) = said.why(Some(copy.message)) {
                house.memory.remember_why(copy.message, why.clone());
            }
            decision.outgoing.push(Outgoing { to: Some(person), ..copy });
        }
    }
}
