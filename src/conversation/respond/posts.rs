//! What the bot says of its own accord: the morning post, the evening round, being back.

use super::*;

impl Turn<'_> {
    pub(super) fn morning_post(&mut self, day: KitchenDay) {
        if self.house.memory.posted == Some(day) {
            return;
        }
        self.house.memory.posted = Some(day);
    }

    pub(super) fn evening_round(&mut self, day: KitchenDay) {
        if self.house.memory.rounded == Some(day) {
            return;
        }
        self.house.memory.rounded = Some(day);
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
        let _ = (record, draft);
    }
}
