//! Questions: about the household's own stock, about food in general, about the bot.

use super::*;
use crate::answers;
use crate::conversation::memory::AT_CHORES_MINUTES;
use crate::plan::{Grounds, Outlook};
use crate::statement::Scope;

impl Turn<'_> {
    /// Adds the answers to whatever the statements ask.
    pub(super) fn asked(&mut self, said: &Said, statements: &[Statement], draft: &mut Draft) {
        let of_stock = |statement: &Statement| {
            statement.intent == Intent::AskTrimmings && statement.topic.as_deref() == Some("bag")
        };
        if statements.iter().any(|s| answers::is_question(s.intent) && !of_stock(s)) {
            self.answered(said, statements, draft);
        }
        for statement in statements {
            if self.show(statement, draft) {
                if statement.intent == Intent::AskHave {
                    self.asked_for_gone(said, statement, draft);
                }
                continue;
            }
            match statement.intent {
                Intent::Help => draft.line(self.help()),
                Intent::Undo => self.offer_undos(draft),
                Intent::AskLog if said.addressed || said.private => {
                    self.who_did(said, statement, draft);
                }
                Intent::Thanks if said.addressed || said.private => {
                    draft.line(self.kit.wording.thanks_back());
                }
                Intent::Why => self.explain(said.reply_to, draft),
                Intent::Setting if is_on_it(statement) => {
                    self.house.memory.at_chores = Some((said.person, self.now));
                    let until = self.now.plus_minutes(AT_CHORES_MINUTES);
                    let zone = self.house.state.settings.zone;
                    draft.line(self.kit.wording.at_chores(until, zone));
                }
                Intent::Counted if statement.items.is_empty() && !statement.complete => {
                    let place = match &statement.scope {
                        Some(Scope::Place(place)) => Some(place.clone()),
                        Some(Scope::All) | None => None,
                    };
                    self.count(said.person, place, draft);
                }
                _ => continue,
            }
            draft.answers = true;
        }
    }

    /// Adds what the household's own stock says to a question; whether it says anything.
    pub(super) fn show(&mut self, statement: &Statement, draft: &mut Draft) -> bool {
        let Some(answer) = self.outlook(|outlook| outlook.answer(statement)) else { return false };
        draft.answers = true;
        draft.line(answer.text);
        for (button, press) in answer.buttons {
            draft.button(button, press.into());
        }
        if !answer.why.is_empty() {
            draft.why = Some(answer.why);
        }
        // One message shows one picture; what else was asked for stands in its words.
        draft.picture = draft.picture.take().or(answer.picture);
        true
    }

    /// "Any garlic?" when the record has none: what became of it, and the way to say that it is
    /// here after all.
    fn asked_for_gone(&self, said: &Said, statement: &Statement, draft: &mut Draft) {
        let [item] = statement.items.as_slice() else { return };
        let gone = self.decide(said.person, said.message, None, |state, cx| {
            kitchen::what_became_of(state, item, &cx)
        });
        let Some((of, how, day, took)) = gone else { return };
        draft.line(self.kit.wording.gone_since(&of, &how, day, self.voice()));
        draft.button(self.kit.wording.button("put_back"), Action::PutBack(took, of));
    }

    /// A question about food, from the rule set and the household's own stock.
    fn answered(&mut self, said: &Said, statements: &[Statement], draft: &mut Draft) {
        let answer = answers::answer(&self.answers_context(said, statements));
        self.say_answer(answer, draft);
    }

    /// A question the reader could make nothing of, but which names a food or a danger: answered
    /// all the same. Whether it was.
    pub(super) fn overheard(&mut self, said: &Said) -> bool {
        let context = self.answers_context(said, &[]);
        let Some(answer) = answers::overheard(&context) else { return false };
        let mut draft = Draft::default();
        self.say_answer(answer, &mut draft);
        self.reply(said, draft);
        true
    }

    fn answers_context<'b>(
        &'b self,
        said: &'b Said,
        statements: &'b [Statement],
    ) -> answers::Context<'b> {
        answers::Context {
            rules: &self.kit.rules,
            wording: &self.kit.wording,
            settings: &self.house.state.settings,
            state: Some(&self.house.state),
            now: self.now,
            text: &said.text,
            statements,
        }
    }

    fn say_answer(&mut self, mut answer: answers::Answer, draft: &mut Draft) {
        self.for_a_child(&mut answer);
        draft.answers = true;
        // A safety question is answered however late.
        draft.urgent |= answer.urgent || answer.about_safety();
        draft.line(answer.text.clone());
        if let Some(caution) = answer.caution.clone() {
            draft.line(caution);
        }
        if answer.urgent {
            draft.buttons.clear();
            draft.actions.clear();
            return;
        }
        let child = self.is_in_style(Style::Child);
        if answer.about_safety() && !self.house.memory.cautioned && !child {
            self.house.memory.cautioned = true;
            draft.line(self.kit.wording.general_caution());
        }
        if !answer.why.is_empty() {
            draft.button(self.kit.wording.button("why"), Action::Why);
            draft.why = Some(answer.why);
        }
    }

    /// The household's lots as judged now, for one use.
    pub(super) fn outlook<T>(&self, ask: impl FnOnce(&Outlook<'_>) -> T) -> T {
        let learned = self.learned();
        let grounds = Grounds {
            rules: &self.kit.rules,
            foods: &*self.kit.rules,
            learned: &learned,
            wording: &self.kit.wording,
            log: &self.house.log,
        };
        ask(&Outlook::new(&self.house.state, grounds, self.now))
    }

    /// The long explanation behind one of the bot's answers, or behind its newest one.
    pub(super) fn explain(&mut self, answer: Option<MessageId>, draft: &mut Draft) {
        draft.answers = true;
        let why = self.house.memory.why(answer).cloned();
        draft.line(why.unwrap_or_else(|| self.kit.wording.no_why()));
    }
}
