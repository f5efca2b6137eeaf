//! What the bot says of its own accord: the morning post, the evening round, being back.

use super::*;
use crate::plan::{self, Post};

/// How many days it is remembered that a lot was asked about or listed.
const NAMED_DAYS: i64 = 30;

impl Turn<'_> {
    pub(super) fn morning_post(&mut self, day: KitchenDay) {
        if self.house.memory.posted == Some(day) {
            return;
        }
        self.house.memory.posted = Some(day);
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
        for (named, lots) in [(&mut memory.asked, &post.asked), (&mut memory.listed, &post.listed)]
        {
            named.retain(|_, first| day.days_since(*first) <= NAMED_DAYS);
            for lot in lots {
                named.entry(*lot).or_insert(day);
            }
        }
        let mut draft = Draft { text: post.text, answers: true, ..Draft::default() };
        for (button, press) in post.buttons {
            let action = match press {
                plan::Press::Lots(deed, lots) => Action::Lots(deed, lots),
                plan::Press::Why => Action::Why,
                plan::Press::Dismiss => Action::Dismiss,
            };
            draft.button(button, action);
        }
        draft.why = Some(post.why);
        let message = self.house.memory.next_message();
        self.put(message, draft, kind, None, None);
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
