//! Set-up, help, questions back and what a button is called.

use fluent_bundle::FluentValue;

use super::Wording;
use super::amounts::quoted;
use crate::conversation::{Button, Rich};
use crate::dates::{Instant, KitchenDay, Zone};

impl Wording {
    /// What to text, in a few lines.
    pub fn help(&self) -> Rich {
        let mut text = Rich::plain(self.say("help-short", &[]));
        text.push_line(Rich::plain(self.say("help-examples", &[])));
        text.push_line(Rich::plain(self.say("help-next", &[])));
        text.push_line(self.general_caution());
        text
    }

    /// The same with examples from what is in the house.
    pub fn help_with(&self, first: &str, second: &str, third: &str) -> Rich {
        let mut text = Rich::plain(self.say("help-short", &[]));
        let foods = [first, second, third].map(FluentValue::from);
        let [first, second, third] = foods;
        let args = [("first", first), ("second", second), ("third", third)];
        text.push_line(Rich::plain(self.say("help-own-examples", &args)));
        text.push_line(Rich::plain(self.say("help-own-next", &[])));
        text.push_line(self.general_caution());
        text
    }

    /// The caution that goes with the first safety answer and the help text.
    pub fn general_caution(&self) -> Rich {
        Rich::plain(self.say("caution-general", &[]))
    }

    pub fn not_saved(&self) -> Rich {
        Rich::plain(self.say("not-saved", &[]))
    }

    pub fn nothing_to_undo(&self) -> Rich {
        Rich::plain(self.say("nothing-to-undo", &[]))
    }

    /// Spoken to, and nothing of it understood.
    pub fn unsure(&self, pieces: &[String]) -> Rich {
        match pieces.first() {
            Some(words) => {
                Rich::plain(self.say("unsure-about", &[("words", quoted(words).into())]))
            }
            None => Rich::plain(self.say("unsure", &[])),
        }
    }

    /// Foods were named, but not what happened to them.
    pub fn what_about(&self, foods: &[&str]) -> Rich {
        let foods: Vec<String> = foods.iter().map(|food| quoted(food)).collect();
        Rich::plain(self.say("what-about", &[("foods", self.list(&foods).into())]))
    }

    pub fn still_unclear(&self, pieces: &[String]) -> Rich {
        let pieces: Vec<String> =
            pieces.iter().map(|piece| format!("\"{}\"", quoted(piece))).collect();
        Rich::plain(self.say("still-unclear", &[("pieces", self.list(&pieces).into())]))
    }

    pub fn cannot_read(&self) -> Rich {
        Rich::plain(self.say("cannot-read", &[]))
    }

    pub fn cannot_judge_picture(&self) -> Rich {
        Rich::plain(self.say("cannot-judge-picture", &[]))
    }

    /// What a reaction stands for, in a word.
    pub fn noted(&self) -> Rich {
        Rich::plain(self.say("noted", &[]))
    }

    pub fn left_as_it_is(&self) -> Rich {
        Rich::plain(self.say("left-as-it-is", &[]))
    }

    pub fn thanks_back(&self) -> Rich {
        Rich::plain(self.say("thanks-back", &[]))
    }

    pub fn no_why(&self) -> Rich {
        Rich::plain(self.say("no-why", &[]))
    }

    /// Back after an outage; the two ends as local wall-clock times.
    pub fn back_after(&self, from: &str, to: &str) -> Rich {
        Rich::plain(self.say("back-after", &[("from", from.into()), ("to", to.into())]))
    }

    /// The text where it fits into `most` UTF-16 code units, else its beginning and that there is
    /// more.
    pub fn within(&self, text: Rich, most: usize) -> Rich {
        if text.chars() <= most {
            return text;
        }
        let end = Rich::plain(self.say("too-long-to-say", &[]));
        let mut kept = text.cut(most - end.chars() - 1);
        kept.push_line(end);
        kept
    }

    /// The button with this key: its label is the message `button-KEY`.
    pub fn button(&self, key: &str) -> Button {
        let label = self.say(&format!("button-{}", key.replace('_', "-")), &[]);
        Button { key: key.to_owned(), label }
    }

    pub fn back_incomplete(&self) -> Rich {
        Rich::plain(self.say("back-incomplete", &[]))
    }

    pub fn somebody_joined(&self) -> Rich {
        Rich::plain(self.say("somebody-joined", &[]))
    }

    pub fn somebody_left(&self) -> Rich {
        Rich::plain(self.say("somebody-left", &[]))
    }

    /// "Do 5 eat here now, instead of 4?"
    pub fn who_eats_now(&self, before: u32, now: u32) -> Rich {
        Rich::plain(self.say("who-eats-now", &[("before", before.into()), ("now", now.into())]))
    }

    /// Somebody is at the chores: they are left in peace until then.
    pub fn at_chores(&self, until: Instant, zone: Zone) -> Rich {
        let (_, time) = until.local(zone);
        let time = time.format("%H:%M").to_string();
        Rich::plain(self.say("at-chores", &[("time", time.into())]))
    }

    /// One stop of a count: what the record has in a place, or somewhere in the house.
    pub fn count_stop(&self, place: Option<&str>, lots: &str) -> Rich {
        let mut text = Rich::new();
        match place {
            Some(place) => {
                let place = super::kitchen::sentence_start(place);
                text.push_strong(self.say("count-place", &[("place", place.into())]))
            }
            None => text.push_strong(self.say("count-quick", &[])),
        };
        let id = if lots.is_empty() { "count-nothing" } else { "count-lots" };
        text.push(" ").push(self.say(id, &[("lots", lots.into())]));
        text.push_line(Rich::plain(self.say("count-how", &[]))).to_owned()
    }

    /// "How much is a trug?", "How cold is it in the clamp?"
    pub fn what_is(&self, key: &str) -> Rich {
        if let Some(unit) = key.strip_prefix("unit:") {
            return Rich::plain(self.say("what-is-unit", &[("unit", unit.into())]));
        }
        let name = key.trim_start_matches("place:").to_owned();
        let place = self.at_place(&crate::words::Place::from(name));
        Rich::plain(self.say("what-is-place", &[("place", place.into())]))
    }

    pub fn which_thrown_out(&self) -> Rich {
        Rich::plain(self.say("which-thrown-out", &[]))
    }

    pub fn count_done(&self) -> Rich {
        Rich::plain(self.say("count-done", &[]))
    }

    pub fn count_left(&self) -> Rich {
        Rich::plain(self.say("count-left", &[]))
    }

    pub fn count_nothing_to_do(&self) -> Rich {
        Rich::plain(self.say("count-nothing-to-do", &[]))
    }

    /// A choice that stands for a day, which is its label.
    pub fn day_button(&self, key: &str, day: KitchenDay, today: KitchenDay) -> Button {
        let mut label = self.day(day, today);
        if let Some(first) = label.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        Button { key: key.to_owned(), label }
    }

    /// The choice with this key: its label is the message `choice-KEY`.
    pub fn choice(&self, key: &str) -> Button {
        let label = self.say(&format!("choice-{}", key.replace('_', "-")), &[]);
        Button { key: key.to_owned(), label }
    }
}
