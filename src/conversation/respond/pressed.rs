//! Buttons: what was promised under a message is carried out once.

use super::matters::Right;
use super::*;

impl Turn<'_> {
    /// A press. A button already used, or forgotten, does nothing more: the channel only lets its
    /// waiting sign go.
    pub(super) fn pressed(&mut self, person: PersonId, on: MessageId, key: &str) {
        let Some(action) = self.house.memory.action(on, key).cloned() else { return };
        let about = self.house.memory.answered_by(on).unwrap_or(on);
        let mut draft = Draft::default();
        if let Action::SetUp(tap) = &action {
            return match self.may_decide(person) {
                Right::Granted => self.tapped(tap, on),
                Right::Refused => self.whisper_refusal(),
                Right::Unknown => {}
            };
        }
        if let Action::Confirm(by, _) = &action
            && *by != person
        {
            return self.whisper_refusal();
        }
        if let Action::Undo(of) = &action
            && kitchen::is_for_all(&self.house.log, *of)
        {
            match self.may_decide(person) {
                Right::Granted => {}
                Right::Refused => return self.whisper_refusal(),
                Right::Unknown => return,
            }
        }
        if let Action::Why = action {
            // Looking is free: the other buttons stay.
            self.house.memory.drop_button(on, key);
            self.explain(Some(on), &mut draft);
            let message = self.house.memory.next_message();
            return self.put(message, draft, Kind::Reply, Some(about), None);
        }
        if let Action::Picture(question) = action {
            self.house.memory.drop_button(on, key);
            self.show(&question, &mut draft);
            if draft.text.is_empty() {
                return;
            }
            let message = self.house.memory.next_message();
            return self.put(message, draft, Kind::Reply, Some(about), None);
        }
        if matches!(action, Action::Count | Action::QuickCount | Action::SomeThrownOut(_)) {
            // The message it hangs on stays as it is.
            self.house.memory.drop_button(on, key);
            self.carry_out(&action, person, about, &mut draft);
            let message = self.house.memory.next_message();
            return self.put(message, draft, Kind::Reply, Some(about), None);
        }
        self.house.memory.put_buttons(on, BTreeMap::new());
        if self.house.memory.open_question(person, self.now).is_some_and(|q| q.asked_in == on) {
            self.house.memory.close_question(person);
        }
        self.carry_out(&action, person, about, &mut draft);
        if draft.text.is_empty() {
            return;
        }
        // A stop that is read out in place of the one before.
        let next = MessageId(self.house.memory.last_message + 1);
        if let Some(stop) = self.house.memory.walk.stops.get_mut(&person)
            && stop.read_out == next
        {
            stop.read_out = on;
        }
        self.edit(on, Some(about), draft);
    }

    /// Tells the presser alone who may do that.
    fn whisper_refusal(&mut self) {
        self.decision.whisper = Some(self.kit.wording.not_yours_to_decide().to_plain());
    }

    /// Does what a button or an answered question stands for.
    pub(super) fn carry_out(
        &mut self,
        action: &Action,
        person: PersonId,
        about: MessageId,
        draft: &mut Draft,
    ) {
        let own = |turn: &mut Self| turn.house.memory.next_message();
        let (record, message) = match action {
            Action::Undo(of) => {
                let message = own(self);
                let undo =
                    |state: &State, cx: Cx<'_>| kitchen::undo(state, Undoing::This(*of), &cx);
                (self.decide(person, message, None, undo), message)
            }
            Action::State(statements) if statements.is_empty() => {
                return draft.line(self.kit.wording.left_as_it_is());
            }
            Action::State(statements) => {
                let sure = |state: &State, cx: Cx<'_>| {
                    kitchen::record(state, statements, &Cx { sure: true, ..cx })
                };
                (self.decide(person, about, None, sure), about)
            }
            Action::Lots(deed, lots) => {
                let message = own(self);
                let done = |state: &State, cx: Cx<'_>| kitchen::deed_on(state, *deed, lots, &cx);
                (self.decide(person, message, None, done), message)
            }
            Action::PutAway => {
                let message = own(self);
                let away = |state: &State, cx: Cx<'_>| {
                    kitchen::record(state, &[Statement::new(Intent::PutAway)], &cx)
                };
                (self.decide(person, message, None, away), message)
            }
            Action::PutBack(of, food) => {
                let message = own(self);
                let back = |state: &State, cx: Cx<'_>| kitchen::put_back(state, *of, food, &cx);
                (self.decide(person, message, None, back), message)
            }
            Action::SomeThrownOut(of) => return self.sort_out(person, *of, draft),
            Action::AllThrownOut(of) => {
                self.house.memory.sorting.remove(&person);
                let message = own(self);
                let thrown =
                    |state: &State, cx: Cx<'_>| kitchen::discard_instead(state, *of, None, &cx);
                (self.decide(person, message, None, thrown), message)
            }
            Action::SetUp(tap) => return self.tapped(tap, about),
            Action::Confirm(by, what) => return self.confirmed(*by, what, draft),
            Action::Count => return self.count(person, None, draft),
            Action::QuickCount => return self.quick_count(person, draft),
            Action::AllThere => {
                let message = self.house.memory.next_message();
                return self.all_there(person, message, draft);
            }
            Action::Skip => return self.skip(person, draft),
            Action::Stop => return self.stop(person, draft),
            Action::Why => return self.explain(None, draft),
            Action::Picture(question) => {
                self.show(question, draft);
                return;
            }
            Action::Dismiss => return draft.line(self.kit.wording.left_as_it_is()),
        };
        self.fold_in(&record, message, draft);
        // What was just taken back is not offered for taking back.
        if matches!(action, Action::Undo(_)) {
            draft.buttons.clear();
            draft.actions.clear();
        }
    }
}
