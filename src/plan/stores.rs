//! The stores: the trimmings bag, and what is frozen or dried. What is in them, what to take out
//! first, when to make stock, and the label for a bag or jar.

use super::outlook::Outlook;
use super::view::Held;
use crate::conversation::Rich;
use crate::dates::KitchenDay;
use crate::keeping::Quality;
use crate::kitchen::{Event, LotId, What, bag};
use crate::words::Form;

/// Lots named in one answer about the freezer, and in its line of the month.
const MOST_STORED: usize = 6;
const MOST_IN_MONTH: usize = 4;

/// Labels in one reply.
const MOST_LABELS: usize = 4;

/// Scraps named in one answer about the bag.
const MOST_SCRAPS: usize = 8;

/// A bag that waits for its pot is spoken of again after this many days.
const AGAIN_DAYS: i64 = 7;

impl<'a> Outlook<'a> {
    /// "What's in the trimmings bag?", "can we make stock yet?"
    pub fn ask_bag(&self) -> Rich {
        let Some(oldest) = bag::oldest(self.state) else { return self.wording.bag_empty() };
        let mut names: Vec<(String, i64)> = Vec::new();
        for scrap in &self.state.trimmings {
            let name = self.wording.food(&scrap.of, self.foods, true);
            let grams = scrap.grams.unwrap_or(0);
            match names.iter_mut().find(|(known, _)| *known == name) {
                Some((_, sum)) => *sum = sum.saturating_add(grams),
                None => names.push((name, grams)),
            }
        }
        let more = names.len().saturating_sub(MOST_SCRAPS);
        let say = |(name, grams): &(String, i64)| match grams {
            0 => name.clone(),
            grams => {
                let amount = self.wording.weight(*grams, self.state.settings.units);
                self.wording.weighed(&amount, name)
            }
        };
        let names: Vec<String> = names.iter().take(MOST_SCRAPS).map(say).collect();
        let mut text = self.wording.bag_holds(&self.wording.list(&names), more);
        let percent = bag::filled(self.state).to_f64() * 100.0;
        text.push_line(self.wording.bag_filled(percent.round() as i64, &self.say_day(oldest)));
        text.push_line(match bag::ready_since(self.state) {
            Some(_) => self.wording.bag_ready(),
            None if self.bag_is_old() => self.wording.bag_old(&self.say_day(oldest)),
            None => Rich::new(),
        });
        text
    }

    /// The last day the oldest scraps are at their best.
    fn bag_best_until(&self) -> Option<KitchenDay> {
        let months = i64::from(self.foods.bag().months);
        bag::oldest(self.state).map(|oldest| oldest.plus(months * DAYS_A_MONTH))
    }

    fn bag_is_old(&self) -> bool {
        self.bag_best_until().is_some_and(|last| last <= self.today)
    }

    /// What a morning post says of the stores: stock to make, once a week; what to eat from the
    /// freezer, once a month.
    pub(super) fn store_lines(&self) -> Vec<Rich> {
        let mut lines = Vec::new();
        let again = |since: KitchenDay| {
            let days = self.today.days_since(since);
            days >= 0 && days % AGAIN_DAYS == 0
        };
        if let Some(ready) = bag::ready_since(self.state) {
            // Not on the evening it filled up, which was told at once.
            if again(ready.plus(1)) {
                lines.push(self.wording.bag_ready());
            }
        } else if let Some(last) = self.bag_best_until().filter(|last| again(*last)) {
            let oldest = bag::oldest(self.state).unwrap_or(last);
            lines.push(self.wording.bag_old(&self.say_day(oldest)));
        }
        if self.today.day_of_month() == 1 {
            let stored = self.stored();
            let names: Vec<String> =
                stored.iter().take(MOST_IN_MONTH).map(|held| self.say_stored(held)).collect();
            if !names.is_empty() {
                lines.push(self.wording.freezer_month(&self.wording.list(&names)));
            }
        }
        lines
    }

    /// "What should we eat from the freezer?"
    pub fn ask_stored(&self) -> Rich {
        let stored = self.stored();
        if stored.is_empty() {
            return self.wording.freezer_empty();
        }
        let mut text = self.wording.freezer_head();
        for held in stored.iter().take(MOST_STORED) {
            text.push_line(self.wording.freezer_line(&self.say_stored(held), &self.best_by(held)));
        }
        text
    }

    /// What lies in the freezer, the oldest first.
    fn stored(&self) -> Vec<&Held<'a>> {
        let mut stored: Vec<&Held<'a>> =
            self.held.iter().filter(|held| held.lot.form == Form::Frozen).collect();
        stored.sort_by_key(|held| (self.stored_since(held), held.lot.id));
        stored
    }

    /// The day it took the form it has.
    pub(super) fn stored_since(&self, held: &Held<'_>) -> KitchenDay {
        let form = held.lot.form;
        let stays = held.lot.stays.iter().rev().take_while(|stay| stay.form == form);
        stays.last().map_or(held.lot.since, |stay| stay.from.day(self.zone()))
    }

    fn say_stored(&self, held: &Held<'_>) -> String {
        let day = self.wording.date(self.stored_since(held));
        self.wording.stored_since(&self.say(held), &day)
    }

    fn best_by(&self, held: &Held<'_>) -> String {
        match &held.estimate.quality {
            Quality::Known(clock) => self.wording.date(clock.early.day(self.zone())),
            Quality::Unknown | Quality::Growing | Quality::MayFreeze { .. } => String::new(),
        }
    }

    /// The labels of what `events` froze or dried, ready to copy onto the bag.
    pub fn labels(&self, events: &[Event]) -> Vec<Rich> {
        let mut lots: Vec<LotId> = Vec::new();
        for event in events {
            if let What::Preserved { change, .. } = &event.what {
                lots.extend(change.draw.lots.iter().chain(&change.pieces));
            }
        }
        let kept = self.held.iter().filter(|held| lots.contains(&held.lot.id) && is_stored(held));
        kept.take(MOST_LABELS).map(|held| self.label(held)).collect()
    }

    /// What is written on the bag: what, how much, since when, best until when.
    pub fn label(&self, held: &Held<'_>) -> Rich {
        self.wording.label(&self.label_lines(held))
    }

    /// The same, line by line.
    pub fn label_lines(&self, held: &Held<'_>) -> Vec<String> {
        let name = self.wording.lot_name(held.lot, self.foods);
        let amount = held.lot.quantity.map(|quantity| self.wording.quantity(quantity));
        let since = self.wording.date(self.stored_since(held));
        let best = self.best_by(held);
        self.wording.label_lines(&name, amount.as_deref(), held.lot.form, &since, &best)
    }
}

/// Days in a month of "best within months".
const DAYS_A_MONTH: i64 = 30;

fn is_stored(held: &Held<'_>) -> bool {
    matches!(held.lot.form, Form::Frozen | Form::Dried)
}
