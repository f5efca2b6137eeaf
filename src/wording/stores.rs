//! The stores: the trimmings bag, the freezer, labels.

use fluent_bundle::FluentValue;

use super::{Wording, capital};
use crate::conversation::Rich;
use crate::dates::KitchenDay;
use crate::words::Form;

impl Wording {
    /// "5 May 2026": a date that still tells its year when it is read on a bag.
    pub fn date(&self, day: KitchenDay) -> String {
        let month = self.say(&format!("month-{}", day.month()), &[]);
        let args = [
            ("day", day.day_of_month().to_string().into()),
            ("month", FluentValue::from(month)),
            ("year", day.year().to_string().into()),
        ];
        self.say("day-date-year", &args)
    }

    /// "300 g onion skins".
    pub fn weighed(&self, amount: &str, food: &str) -> String {
        self.say("food-mass", &[("amount", amount.into()), ("food", food.into())])
    }

    pub fn bag_empty(&self) -> Rich {
        self.line("bag-empty", &[])
    }

    pub fn bag_holds(&self, scraps: &str, more: usize) -> Rich {
        let id = if more == 0 { "bag-holds" } else { "bag-holds-more" };
        self.line(id, &[("scraps", scraps.into()), ("more", more.into())])
    }

    pub fn bag_filled(&self, percent: i64, oldest: &str) -> Rich {
        self.line("bag-filled", &[("percent", percent.into()), ("oldest", oldest.into())])
    }

    pub fn bag_ready(&self) -> Rich {
        self.line("bag-time-for-stock", &[])
    }

    pub fn bag_old(&self, oldest: &str) -> Rich {
        self.line("bag-old", &[("oldest", oldest.into())])
    }

    pub fn freezer_month(&self, lots: &str) -> Rich {
        self.line("freezer-month", &[("lots", lots.into())])
    }

    pub fn freezer_empty(&self) -> Rich {
        self.line("freezer-empty", &[])
    }

    pub fn freezer_head(&self) -> Rich {
        let mut head = Rich::new();
        head.push_strong(self.say("freezer-head", &[]));
        head
    }

    /// A stored lot with the day it is best until, which may be unknown.
    pub fn freezer_line(&self, lot: &str, best: &str) -> Rich {
        let id = if best.is_empty() { "freezer-line-plain" } else { "freezer-line" };
        self.line(id, &[("lot", capital(lot).into()), ("best", best.into())])
    }

    pub fn stored_since(&self, lot: &str, day: &str) -> String {
        self.say("stored-since", &[("lot", lot.into()), ("day", day.into())])
    }

    pub fn label_none(&self, food: &str) -> Rich {
        self.line("label-none", &[("food", food.into())])
    }

    /// The text for a bag or jar, on one line to copy.
    pub fn label(&self, lines: &[String]) -> Rich {
        self.line("label-copy", &[("label", lines.join(" · ").into())])
    }

    /// The same by lines: what and how much, since when, best by when.
    pub fn label_lines(
        &self,
        food: &str,
        amount: Option<&str>,
        form: Form,
        since: &str,
        best: &str,
    ) -> Vec<String> {
        let food = capital(food);
        let what = match amount {
            Some(amount) => {
                self.say("label-amount", &[("food", food.into()), ("amount", amount.into())])
            }
            None => food,
        };
        let kept = if form == Form::Dried { "label-dried" } else { "label-frozen" };
        let mut lines = vec![what, self.say(kept, &[("since", since.into())])];
        if !best.is_empty() {
            lines.push(self.say("label-best", &[("best", best.into())]));
        }
        lines
    }
}
