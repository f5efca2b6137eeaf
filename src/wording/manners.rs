//! Set-up, help, questions back and what a button is called.

use super::Wording;
use super::amounts::quoted;
use crate::conversation::{Button, Rich};

impl Wording {
    /// What to text, in a few lines.
    pub fn help(&self) -> Rich {
        let mut text = Rich::plain(self.say("help-short", &[]));
        text.push_line(Rich::plain(self.say("help-examples", &[])));
        text.push_line(Rich::plain(self.say("help-next", &[])));
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

    /// The choice with this key: its label is the message `choice-KEY`.
    pub fn choice(&self, key: &str) -> Button {
        let label = self.say(&format!("choice-{}", key.replace('_', "-")), &[]);
        Button { key: key.to_owned(), label }
    }
}
