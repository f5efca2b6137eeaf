//! What the bot says of its own accord: the morning post, the evening round, being back; and the
//! put-away advice that follows a shop.

use super::*;
use crate::kitchen::{Event, LotId, What};
use crate::plan::{self, Post, Press};

/// The messenger keeps what the bot did not fetch for this long, in minutes.
///
/// # Source
/// Telegram Bot API, "Getting updates": incoming updates are kept for 24 hours at most.
const COMPLETE_MINUTES: i64 = 24 * 60;

/// So many lots in one message are a shop rather than a find.
const WHOLE_SHOP_LOTS: usize = 3;

impl Turn<'_> {
    pub(super) fn morning_post(&mut self, day: KitchenDay) {
        if self.house.memory.posted == Some(day) {
            return;
        }
        self.house.memory.posted = Some(day);
        if self.outlook(|outlook| outlook.is_away(day)) {
            return;
        }
        let forgotten = self.forget();
        let post = self.outlook(|outlook| {
            let back = outlook.back_home();
            back.or_else(|| outlook.morning_post(&self.house.memory.shown))
        });
        let post = match (post, forgotten) {
            (post, None) => post,
            (post, Some((line, undo))) => {
                let mut post = post.unwrap_or_default();
                post.text.push_line(line);
                post.buttons.push((self.kit.wording.button("undo"), Press::Undo(undo)));
                Some(post)
            }
        };
        if let Some(post) = post {
            self.post(post, day, Kind::Post);
        }
    }

    pub(super) fn evening_round(&mut self, day: KitchenDay) {
        if self.house.memory.rounded == Some(day) {
            return;
        }
        self.house.memory.rounded = Some(day);
        let held = self.house.memory.held_chores(self.now);
        let post = self.outlook(|outlook| {
            let leaving = outlook.before_leaving(day.plus(1));
            leaving.or_else(|| outlook.evening_round(held))
        });
        if let Some(post) = post {
            self.post(post, day, Kind::Reminder);
        }
    }

    fn post(&mut self, post: Post, day: KitchenDay, kind: Kind) {
        post.remember(&self.house.state, day, &mut self.house.memory.shown);
        let mut draft = Draft { text: post.text, answers: true, ..Draft::default() };
        for (button, press) in post.buttons {
            draft.button(button, press.into());
        }
        draft.why = Some(post.why);
        let message = self.house.memory.next_message();
        self.put(message, draft, kind, None, None);
    }

    /// Lots that nobody answered for are doubted, and a week later leave the record: neither eaten
    /// nor waste. Returns the line that says so, and the message that can be taken back.
    fn forget(&mut self) -> Option<(Rich, MessageId)> {
        let shown = &self.house.memory.shown;
        let (doubted, gone, names) = self.outlook(|outlook| {
            let gone = outlook.forgotten(shown);
            (outlook.doubtful(shown), gone.clone(), outlook.names(&gone))
        });
        if doubted.is_empty() && gone.is_empty() {
            return None;
        }
        let message = self.house.memory.next_message();
        let record = self.decide(PersonId(0), message, None, |state, cx| {
            kitchen::lost_sight(state, doubted, gone.clone(), &Cx { person: None, ..cx })
        });
        self.house.state = record.state;
        self.decision.events.extend(record.events);
        for lot in &gone {
            self.house.memory.shown.remove(lot);
        }
        (!gone.is_empty()).then(|| (self.kit.wording.post_off_list(&names), message))
    }

    /// An absence that begins today or, once the evening round is over, tomorrow gets its list at
    /// once.
    pub(super) fn leaving_soon(&mut self, record: &Record, draft: &mut Draft) {
        let away = record.told.iter().any(|told| matches!(told.deed, Deed::Away { .. }));
        if !away {
            return;
        }
        let today = self.today();
        let rounded = self.house.memory.rounded == Some(today);
        let post = self.outlook(|outlook| {
            let tomorrow = || outlook.before_leaving(today.plus(1)).filter(|_| rounded);
            outlook.before_leaving(today).or_else(tomorrow)
        });
        if let Some(post) = post {
            draft.line(post.text);
            draft.why = Some(post.why);
        }
    }

    /// One line after an outage, however much was read. After a long one messages may be missing,
    /// and the record is best counted.
    pub(super) fn back(&mut self, since: Instant) {
        let zone = self.house.state.settings.zone;
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.back_after(&since.wall(zone), &self.now.wall(zone)));
        if self.now.minutes_since(since) > COMPLETE_MINUTES {
            draft.line(self.kit.wording.back_incomplete());
            draft.button(self.kit.wording.button("count"), Action::Count);
        }
        let message = self.house.memory.next_message();
        self.put(message, draft, Kind::Reply, None, None);
    }

    /// The labels of what was just frozen or dried.
    pub(super) fn labels(&self, record: &Record, draft: &mut Draft) {
        for label in self.outlook(|outlook| outlook.labels(&record.events)) {
            draft.line(label);
        }
    }

    /// What people get wrong about what just came in, and the button that ends its wait.
    pub(super) fn put_away_advice(&mut self, record: &Record, draft: &mut Draft) {
        let lots = came_in(&record.events);
        if lots.is_empty() {
            return;
        }
        let advised = self.advise(&lots, draft);
        if advised && lots.len() >= WHOLE_SHOP_LOTS && self.offers_quick_count() {
            draft.button(self.kit.wording.button("quick_count"), Action::QuickCount);
        }
        draft.lots = lots;
    }

    /// Puts the advice about these lots under the draft, in place of any before; false when there
    /// is none to give.
    pub(super) fn advise(&self, lots: &[LotId], draft: &mut Draft) -> bool {
        let Some(mut advice) = self.outlook(|outlook| outlook.put_away(lots)) else { return false };
        if let Some(line) = self.outlook(|outlook| outlook.bought_too_much(lots)) {
            advice.push_line(line);
        }
        draft.advice = advice;
        draft.button(self.kit.wording.button("put_away"), Action::PutAway);
        draft.button(self.kit.wording.button("not_yet"), Action::Dismiss);
        true
    }
}

impl From<plan::Press> for Action {
    fn from(press: plan::Press) -> Action {
        match press {
            plan::Press::Lots(deed, lots) => Action::Lots(deed, lots),
            plan::Press::PutAway => Action::PutAway,
            plan::Press::Undo(of) => Action::Undo(of),
            plan::Press::Count => Action::Count,
            plan::Press::Why => Action::Why,
            plan::Press::Picture(question) => Action::Picture(question),
            plan::Press::Dismiss => Action::Dismiss,
        }
    }
}

/// The lots a purchase or a harvest brought.
fn came_in(events: &[Event]) -> Vec<LotId> {
    let mut lots = Vec::new();
    for event in events.iter().filter(|event| event.replaces.is_none()) {
        if let What::Acquired { lots: new, .. } = &event.what {
            lots.extend(new.iter().map(|new| new.lot));
        }
    }
    lots
}
