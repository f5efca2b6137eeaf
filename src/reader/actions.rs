//! From clauses to events: what came in, went out, changed, is wanted.
//!
//! Takes one clause at a time, with what was named before it, and gives at most one statement.
//! The order of attempts: fixed phrases (`patterns` and here), a verb with its foods (`headed`,
//! `went`, `changed`), a food with what is said of it, a bare list with a price or a date (`said`).

mod accept;
mod headed;
mod went;
mod changed;
mod left;
mod said;
mod shop;

use std::ops::Range;

use super::Analysis;
use super::details::Details;
use super::items::{self, Found, List};
use super::marks;
use super::patterns;
use crate::statement::{Item, Mention, Statement};
use crate::words::Intent;
use accept::confidence;
pub use accept::{accept, accept_sure};

/// What was named earlier in this message or this talk.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    pub items: Vec<Item>,
    pub intent: Option<Intent>,
    /// Which mention of the talk `items` came from; `None` once this message named its own.
    pub talk: Option<usize>,
    /// The sentence before said that somebody came home from the shop.
    pub came_home: bool,
    /// The mention of the talk a pronoun or a fragment went back to.
    pub referred: Option<usize>,
}

impl Memory {
    /// What "it" and "they" stand for; `at` is the pronoun.
    pub fn referent(&mut self, at: usize) -> Option<List> {
        if self.items.is_empty() {
            return None;
        }
        self.referred = self.referred.or(self.talk);
        let found = self.items.iter().map(|item| Found::meant(item, at..at, at..at)).collect();
        Some(List { found, ..List::default() })
    }

    /// Goes back to the last mention of other foods than the last ones, if there is one.
    fn turn_back(&mut self, talk: &[Mention]) {
        let same = |items: &[Item]| {
            items.len() == self.items.len()
                && items.iter().zip(&self.items).all(|(a, b)| a.name == b.name)
        };
        let other = talk.iter().rposition(|m| !m.items.is_empty() && !same(&m.items));
        if let Some(at) = other {
            self.items.clone_from(&talk[at].items);
            self.talk = Some(at);
        }
    }
}

/// The statement of one clause.
pub fn read(a: &Analysis<'_>, clause: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    let details = Details::read(a, clause.clone());
    let reading = Clause { a, clause, details };
    reading
        .fixed()
        .or_else(|| marks::read(a, reading.clause.clone(), memory))
        .or_else(|| reading.headed(memory))
        .or_else(|| reading.predicate(memory))
        .or_else(|| reading.verbless(memory))
}

struct Clause<'a, 'b> {
    a: &'a Analysis<'b>,
    clause: Range<usize>,
    details: Details,
}

impl Clause<'_, '_> {
    fn word(&self, i: usize) -> &str {
        if i < self.clause.end { self.a.text.word(i) } else { "" }
    }

    fn has(&self, words: &[&str]) -> bool {
        self.a.text.find(self.clause.clone(), words).is_some()
    }

    fn any(&self, words: &[&str]) -> bool {
        self.clause.clone().any(|i| words.contains(&self.a.text.word(i)))
    }

    fn list(&self, range: Range<usize>) -> List {
        items::read(self.a, range, &self.details)
    }

    fn statement(&self, intent: Intent, list: List) -> Statement {
        let mut statement = Statement::new(intent);
        statement.day = self.details.day();
        statement.confidence = confidence(&list);
        statement.total = list.total.map(|p| p.minor);
        statement.items = list.items();
        if intent == Intent::Used && self.was_going() {
            statement.items.iter_mut().for_each(|item| item.reason = Some("going".to_owned()));
        }
        statement
    }

    /// "It was going off", "before it turned", "nearly gone": used because it would not have lasted.
    /// Said in a clause of its own as often as not, so a few words further on are looked at.
    fn was_going(&self) -> bool {
        /// Words after the clause: "it was going off".
        const LOOKS_ON: usize = 6;
        let text = &self.a.text;
        (self.clause.start..self.clause.end + LOOKS_ON).any(|i| match text.word(i) {
            "going" => {
                matches!(text.word(i + 1), "off" | "soft" | "bad" | "brown" | "yellow")
                    || matches!(text.word(i.wrapping_sub(1)), "was" | "were")
            }
            "gone" => matches!(text.word(i.wrapping_sub(1)), "nearly" | "almost"),
            "before" => matches!(text.word(i + 2), "went" | "turned" | "spoiled"),
            "legs" => text.word(i.wrapping_sub(1)) == "last",
            "way" => text.word(i + 1) == "out",
            _ => false,
        })
    }

    fn fixed(&self) -> Option<Statement> {
        patterns::read(self.a, self.clause.clone(), &self.details)
            .or_else(|| self.swapped_in_shop())
            .or_else(|| self.whole_list())
            .or_else(|| self.sent_back())
            .or_else(|| self.given_to_us())
            .or_else(|| self.not_put_away())
            .or_else(|| self.meal_was())
            .or_else(|| self.all_but())
            .or_else(|| self.shop_had_none())
    }

    /// "neighbours gave us 4 marrows", "anna dropped off 6 eggs for us": came in, whoever brought it.
    fn given_to_us(&self) -> Option<Statement> {
        let verb = self.clause.clone().take(6).find(|&i| {
            matches!(
                (self.word(i), self.word(i + 1)),
                (
                    "gave" | "brought" | "dropped" | "left" | "sent" | "handed" | "got" | "lent",
                    "us" | "me"
                )
            )
        })?;
        if self.a.foods_in(self.clause.start..verb).next().is_some() {
            return None;
        }
        let list = accept(self.a, self.list(verb + 2..self.clause.end))?;
        list.found.iter().any(|f| f.known).then(|| self.statement(Intent::Acquired, list))
    }

    /// "got everything but the leeks": what did not come.
    fn all_but(&self) -> Option<Statement> {
        let at = self.clause.clone().find(|&i| matches!(self.word(i), "everything" | "all"))?;
        let mut next = match (self.word(at + 1), self.word(at + 2)) {
            ("but" | "except" | "bar", _) => at + 2,
            ("apart", "from") => at + 3,
            _ => return None,
        };
        let got = self.any(&["got", "bought", "found", "had", "came", "there"]);
        while matches!(self.word(next), "not" | "for" | "the") {
            next += 1;
        }
        let list = accept_sure(self.a, self.list(next..self.clause.end)).filter(|_| got)?;
        Some(self.statement(Intent::NotReceived, list))
    }

    /// "they were out of leeks", "no leeks today", "no leeks at the shop".
    fn shop_had_none(&self) -> Option<Statement> {
        let first =
            self.clause.clone().find(|&i| !self.a.tag(i).is_filler()).unwrap_or(self.clause.start);
        let they = matches!(
            self.word(first),
            "they" | "shop" | "store" | "market" | "they're" | "supermarket"
        ) || self.word(first) == "the"
            && matches!(self.word(first + 1), "shop" | "store" | "market" | "supermarket" | "farm");
        let args = if they {
            let none = self.a.text.find(self.clause.clone(), &["out", "of"]).map(|i| i + 2);
            none.or_else(|| self.a.text.find(self.clause.clone(), &["had", "no"]).map(|i| i + 2))
                .or_else(|| {
                    self.a.text.find(self.clause.clone(), &["didn't", "have"]).map(|i| i + 2)
                })?
        } else {
            let shop = self.any(&["shop", "market", "store", "supermarket"])
                || self.word(self.clause.end - 1) == "today";
            if self.word(first) != "no" || !shop {
                return None;
            }
            first + 1
        };
        let list = accept_sure(self.a, self.list(args..self.clause.end))?;
        list.found
            .first()
            .is_some_and(|f| f.tokens.start <= args + 1)
            .then(|| self.statement(Intent::NotReceived, list))
    }
}
