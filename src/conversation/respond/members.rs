//! People come and go: who eats, whose turn it is, and what the newcomer should know, in one message.

use super::*;

impl Turn<'_> {
    /// Somebody joined the chat: what this is, what is kept, and the question who eats now.
    pub(super) fn joined(&mut self) {
        let people = self.house.state.settings.people;
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.somebody_joined());
        self.who_eats(people, people.saturating_add(1), &mut draft);
    }

    /// Somebody left: their chores are free again, and the same question.
    pub(super) fn left(&mut self, person: PersonId) {
        let memory = &mut self.house.memory;
        if memory.at_chores.is_some_and(|(who, _)| who == person) {
            memory.at_chores = None;
        }
        memory.walk.stops.remove(&person);
        memory.close_question(person);
        let people = self.house.state.settings.people;
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.somebody_left());
        self.who_eats(people, people.saturating_sub(1).max(1), &mut draft);
    }

    fn who_eats(&mut self, people: u32, now: u32, draft: &mut Draft) {
        draft.line(self.kit.wording.who_eats_now(people, now));
        let mut set = Statement::new(Intent::Setting);
        set.setting = Some(("people".to_owned(), now.to_string()));
        draft.button(self.kit.wording.button("yes"), Action::State(vec![set]));
        draft.button(self.kit.wording.button("no"), Action::Dismiss);
        let message = self.house.memory.next_message();
        let draft = std::mem::take(draft);
        self.put(message, draft, Kind::Reply, None, None);
    }
}
