//! What the bot says of its own accord: the morning post, the evening round, being back; and the
//! put-away advice that follows a shop.

use super::*;
use crate::kitchen::{Event, LotId, What};
use crate::plan::{self, Post};

impl Turn<'_> {
    pub(super) fn morning_post(&mut self, day: KitchenDay) {
        if self.house.memory.posted == Some(day) {
            return;
        }
        self.house.memory.posted = Some(day);
        self.forget();
        let memory = &self.house.memory;
        let said = plan::Said { asked: &memory.asked, listed: &memory.listed };
        if let Some(post) = self.outlook(|outlook| outlook.morning_post(said)) {
            self.post(post, day, Kind::Post);
        }
    }

    pub(super) fn evening_round(&mut self, day: KitchenDay) {
        if self.house.memory.rounded == Some(day) {
            return;
        }
        self.house.memory.rounded = Some(day);
        if let Some(post) = self.outlook(|outlook| outlook.evening_round()) {
            self.post(post, day, Kind::Reminder);
        }
    }

    fn post(&mut self, post: Post, day: KitchenDay, kind: Kind) {
        let memory = &mut self.house.memory;
        post.remember(&self.house.state, day, &mut memory.asked, &mut memory.listed);
        let mut draft = Draft { text: post.text, answers: true, ..Draft::default() };
        for (button, press) in post.buttons {
            draft.button(button, press.into());
        }
        draft.why = Some(post.why);
        let message = self.house.memory.next_message();
        self.put(message, draft, kind, None, None);
    }

    /// Lots that nobody answered for leave the record: neither eaten nor waste.
    fn forget(&mut self) {
        let memory = &self.house.memory;
        let said = plan::Said { asked: &memory.asked, listed: &memory.listed };
        let lots = self.outlook(|outlook| outlook.forgotten(said));
        if lots.is_empty() {
            return;
        }
        let message = self.house.memory.next_message();
        let record = self.decide(PersonId(0), message, None, |state, cx| {
            kitchen::uncounted(state, lots, &Cx { person: None, ..cx })
        });
        self.house.state = record.state;
        self.decision.events.extend(record.events);
    }

    /// One line after an outage, however much was read.
    pub(super) fn back(&mut self, since: Instant) {
        let zone = self.house.state.settings.zone;
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.back_after(&since.wall(zone), &self.now.wall(zone)));
        let message = self.house.memory.next_message();
        self.put(message, draft, Kind::Reply, None, None);
    }

    /// What people get wrong about what just came in, and the button that ends its wait.
    pub(super) fn put_away_advice(&mut self, record: &Record, draft: &mut Draft) {
        let lots = came_in(&record.events);
        if lots.is_empty() {
            return;
        }
        if let Some(advice) = self.outlook(|outlook| outlook.put_away(&lots)) {
            draft.line(advice);
            draft.button(self.kit.wording.button("put_away"), Action::PutAway);
            draft.button(self.kit.wording.button("not_yet"), Action::Dismiss);
        }
    }
}

impl From<plan::Press> for Action {
    fn from(press: plan::Press) -> Action {
        match press {
            plan::Press::Lots(deed, lots) => Action::Lots(deed, lots),
            plan::Press::Why => Action::Why,
            plan::Press::Picture(question) => Action::Picture(question),
            plan::Press::Dismiss => Action::Dismiss,
        }
    }
}

/// The lots a purchase or a harvest brought.
fn came_in(events: &[Event]) -> Vec<LotId> {
    let mut lots = Vec::new();
    for event in events {
        if let What::Acquired { lots: new, .. } = &event.what {
            lots.extend(new.iter().map(|new| new.lot));
        }
    }
    lots
}
