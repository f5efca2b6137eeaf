//! A clause without a verb of ours in front: a food and what is said of it, or a bare list.

use std::ops::Range;

use super::{Clause, Memory, accept};
use crate::reader::details::{self, Goal, Way};
use crate::reader::frames;
use crate::reader::tokens::Join;
use crate::reader::{Analysis, patterns};
use crate::statement::Statement;
use crate::units::Ratio;
use crate::words::{Destination, Form, Intent, Place};

impl Clause<'_, '_> {
    pub(super) fn predicate(&self, memory: &mut Memory) -> Option<Statement> {
        let subject = self.clause.clone().find(|&i| {
            !self.a.tag(i).is_filler() && self.a.text.is_word(i) || self.a.text.number(i).is_some()
        })?;
        let end = self.clause.end;
        let verb = (subject..end).find(|&i| {
            self.a.food_at(i).is_none()
                && matches!(
                    self.word(i),
                    "is" | "are"
                        | "was"
                        | "were"
                        | "it's"
                        | "its"
                        | "they're"
                        | "went"
                        | "goes"
                        | "got"
                        | "took"
                        | "never"
                        | "didn't"
                        | "has"
                        | "have"
                        | "came"
                        | "arrived"
                        | "left"
                        | "gone"
                        | "finished"
                        | "standing"
                        | "stands"
                        | "sits"
                        | "sitting"
                        | "sat"
                        | "in"
                        | "into"
                        | "onto"
                        | "on"
                        | "all"
                        | "used"
                        | "now"
                        | "stood"
                        | "to"
                        | "delivered"
                        | "missing"
                        | "thawing"
                        | "defrosting"
                        | "open"
                        | "off"
                        | "that's"
                        | "moved"
                        | "been"
                        | "changed"
                        | "frozen"
                        | "opened"
                        | "out"
                        | "didnt"
                        | "wasn't"
                        | "weren't"
                        | "down"
                        | "demolished"
                        | "eaten"
                        | "empty"
                )
                && (i > subject || matches!(self.word(i), "it's" | "its" | "they're" | "that's"))
        });
        let at = verb?;
        // "pre-soaking tea in cold water" is a title.
        if self.word(subject).ends_with("ing") && self.a.food_at(subject).is_none()
            || self.a.text.word(subject + 1).ends_with("ing")
                && self.a.text.get(subject + 1).is_some_and(|t| t.join == Join::Hyphen)
        {
            return None;
        }
        let pronoun_subject = matches!(
            self.word(subject),
            "it's" | "its" | "they're" | "that's" | "it" | "they" | "those" | "these"
        );
        let who = subject..at;
        // "hens got the stalks"
        if details::is_animal(self.word(at.saturating_sub(1)))
            && matches!(self.word(at), "got" | "had" | "ate")
        {
            return self.discarded(at + 1..end, memory, Some(Destination::AnimalFeed));
        }
        // "pie took 3 carrots and the last leek", "soup used 4 onions"
        if matches!(self.word(at), "took" | "used" | "got")
            && details::is_dish(self.word(at.saturating_sub(1)))
        {
            return self.strict(Intent::Used, at + 1..end);
        }
        let list = if pronoun_subject {
            memory.referent(at)?
        } else {
            let list = self.list(who);
            let whole = list.found.len() == 1 || list.found.iter().all(|f| f.known);
            accept(self.a, list).filter(|list| whole && self.tight(list))?
        };
        let mentions = |words: &[&str]| (at..end).any(|i| words.contains(&self.word(i)));
        let stands_out = self.stands_out(at);
        if stands_out {
            // "homemade pizza left out overnight" asks; "the pizza was left out" tells.
            let told = pronoun_subject
                || (subject..end.min(at + 2)).any(|i| {
                    matches!(self.word(i), "was" | "were" | "has" | "have" | "sat" | "stood")
                })
                || list.found.iter().all(|f| f.amount || f.definite || f.vague);
            return told.then(|| self.left_out(list));
        }
        let mut list = list;
        let which = pronoun_subject
            || list.found.iter().all(|f| f.amount || f.definite || f.vague || f.article);
        match self.details.goal() {
            Some(Goal::Water) => {
                let mut statement = self.statement(Intent::PutInWater, list);
                statement.items.iter_mut().for_each(|i| i.form = Some(Form::InWater));
                return Some(statement);
            }
            Some(Goal::Waste(to)) => {
                let reason = patterns::reason(self.a, at..end);
                let mut statement = self.statement(Intent::Discarded, list);
                for item in &mut statement.items {
                    item.to = Some(to);
                    item.reason.clone_from(&reason);
                }
                return Some(statement);
            }
            Some(Goal::Bag) => return Some(self.scraps(list)),
            Some(Goal::Dish) if which && mentions(&["went", "into", "used", "in"]) => {
                return Some(self.statement(Intent::Used, list));
            }
            Some(Goal::List) => return None,
            _ => {}
        }
        let not_come = mentions(&["never", "didn't", "didnt", "wasn't", "weren't"])
            && mentions(&[
                "came",
                "come",
                "arrive",
                "arrived",
                "turn",
                "turned",
                "in",
                "delivered",
                "there",
            ]);
        if not_come || mentions(&["missing"]) || mentions(&["sold"]) && mentions(&["out"]) {
            return Some(self.statement(Intent::NotReceived, list));
        }
        if mentions(&["never", "didn't", "wasn't", "weren't", "not"]) {
            return None;
        }
        if mentions(&["standing", "stands", "stood", "sitting", "sits"])
            && mentions(&["jar", "glass", "vase", "jug"])
        {
            let mut statement = self.statement(Intent::PutInWater, list);
            statement.items.iter_mut().for_each(|i| i.form = Some(Form::InWater));
            return Some(statement);
        }
        if mentions(&["arrived", "delivered"]) || self.word(at) == "came" && at + 1 >= end {
            return Some(self.statement(Intent::Acquired, list));
        }
        if self.details.place(Way::From) == Some(&Place::Freezer)
            || mentions(&["thawing", "defrosting", "thawed", "defrosted"])
        {
            let mut statement = self.statement(Intent::Thawed, list);
            statement.items.iter_mut().for_each(|i| i.form = Some(Form::Thawed));
            return Some(statement);
        }
        let gone = mentions(&["gone"])
            && !mentions(&[
                "off", "bad", "mouldy", "moldy", "soft", "limp", "slimy", "rotten", "brown",
                "black", "green", "sour", "soggy", "mushy", "stale", "up",
            ]);
        if gone {
            for found in &mut list.found {
                found.item.quantity = Some(Ratio::ZERO);
                found.item.fraction = None;
            }
            return Some(self.statement(Intent::Counted, list));
        }
        // "celery's been changed": its water.
        if mentions(&["changed"])
            && mentions(&["been", "is", "was", "were", "are", "has"])
            && !mentions(&["my", "mind"])
        {
            return Some(self.statement(Intent::WaterChanged, list));
        }
        if mentions(&["finished", "used", "eaten", "demolished", "empty"])
            && !mentions(&["be", "can", "being"])
            && (mentions(&["all", "is", "are", "was", "were", "finished", "empty"]))
        {
            for found in list
                .found
                .iter_mut()
                .filter(|f| f.item.quantity.is_none() && f.item.fraction.is_none())
            {
                found.item.fraction = Some(Ratio::ONE);
            }
            return Some(self.statement(Intent::Used, list));
        }
        if self.word(at) == "left" || mentions(&["left"]) && self.word(at) != "on" {
            let quantified = list.found.iter().any(|f| f.amount || f.vague);
            return quantified.then(|| self.statement(Intent::Counted, list));
        }
        // "a round of opened cheese" tells what kind it is.
        let opened = (at..end).find(|&i| matches!(self.word(i), "open" | "opened"));
        if opened
            .is_some_and(|i| self.a.food_at(i + 1).is_none() && !self.a.tag(i + 1).is_quality())
        {
            let mut statement = self.statement(Intent::Opened, list);
            statement.items.iter_mut().for_each(|i| i.form = Some(Form::Opened));
            return Some(statement);
        }
        if let Some(place) = self.details.place(Way::To).cloned() {
            // "3 leeks in the fridge, 2 on the counter"
            let whole = self.list(self.clause.clone());
            if whole.found.len() > list.found.len() && whole.found.iter().all(|f| f.known) {
                list = whole;
            }
            let past = mentions(&["was", "were"]);
            let stated = mentions(&[
                "is", "are", "it's", "they're", "its", "went", "now", "moved", "gone", "into",
                "onto",
            ]);
            if past || !(which || stated) || patterns::has_price(&self.details) {
                return None;
            }
            let freezer = place == Place::Freezer;
            let mut statement =
                self.statement(if freezer { Intent::Preserved } else { Intent::Moved }, list);
            for item in &mut statement.items {
                item.place = item.place.take().or_else(|| Some(place.clone()));
                if freezer {
                    item.form = Some(Form::Frozen);
                }
            }
            return Some(statement);
        }
        None
    }

    pub(super) fn verbless(&self, memory: &mut Memory) -> Option<Statement> {
        let start = self.clause.clone().find(|&i| !self.a.tag(i).is_filler())?;
        let freezer = self.details.place(Way::To) == Some(&Place::Freezer);
        if freezer && let Some(list) = self.pronoun(self.clause.clone(), memory) {
            let mut statement = self.statement(Intent::Preserved, list);
            for item in &mut statement.items {
                item.form = Some(Form::Frozen);
                item.place = Some(Place::Freezer);
            }
            return Some(statement);
        }
        let list = self.list(self.clause.clone());
        // "3 leeks from the market": bought, without a verb.
        let bought = source(self.a, self.clause.clone());
        if let Some(at) = bought {
            let list = self.list(self.clause.start..at);
            let tail = self.list(at..self.clause.end);
            let plain = list.stray.is_empty()
                && tail.found.is_empty()
                && list.found.iter().all(|f| f.amount || f.known);
            let told = list.found.iter().any(|f| f.amount) && list.found.iter().any(|f| f.known);
            if plain
                && told
                && let Some(list) = accept(self.a, list)
            {
                return Some(self.statement(Intent::Acquired, list));
            }
        }
        let talks = self.clause.clone().any(|i| {
            let stop = self.a.tag(i).is_stop() && !matches!(self.word(i), "and" | "or");
            self.a.tag(i).is_subject() || stop && self.details.at(i).is_none()
        });
        if talks {
            return None;
        }
        // "those too": what was named before that, with what was done last.
        let too =
            matches!(self.word(self.clause.end - 1), "too" | "also") || self.has(&["as", "well"]);
        if too
            && self.clause.len() <= 4
            && matches!(self.word(start), "those" | "these" | "that" | "it" | "them" | "this")
            && let Some(intent) = memory
                .intent
                .filter(|i| continues(*i) || matches!(i, Intent::Moved | Intent::PutInWater))
        {
            memory.turn_back(&self.a.context.talk);
            let list = memory.referent(start)?;
            return Some(self.statement(intent, list));
        }
        let goes_on = matches!(self.word(self.clause.start), "and" | "plus" | "also" | "+" | "&")
            || start > self.clause.start && self.any(&["also", "plus"]);
        if goes_on && let Some(intent) = memory.intent.filter(|i| continues(*i)) {
            let list = accept(self.a, list)?;
            memory.referred = memory.referred.or(memory.talk);
            return Some(self.statement(intent, list));
        }
        // "Back from the shop! 10 lb potatoes, a gallon of milk"
        if memory.came_home && list.stray.is_empty() && list.found.iter().any(|f| f.known) {
            return accept(self.a, list).map(|list| self.statement(Intent::Acquired, list));
        }
        let every = list.found.iter().all(|f| f.known && !f.homonym);
        let priced = list.total.is_some() || list.found.iter().any(|f| f.item.price.is_some());
        let printed = list.found.iter().any(|f| f.item.printed.is_some());
        let receipt = list.found.len() > 1 && list.found.iter().all(|f| f.item.price.is_some());
        let amounts = list.found.iter().all(|f| f.amount);
        if !list.found.is_empty()
            && every
            && list.stray.is_empty()
            && (receipt || priced && amounts || printed || self.a.context.addressed && priced)
        {
            return Some(self.statement(Intent::Acquired, list));
        }
        None
    }
}

pub(super) fn continues(intent: Intent) -> bool {
    matches!(
        intent,
        Intent::Acquired
            | Intent::Used
            | Intent::Discarded
            | Intent::Counted
            | Intent::Preserved
            | Intent::Given
            | Intent::Wanted
            | Intent::ScrapsSaved
            | Intent::NotReceived
    )
}

/// "from the market", "from the shop": where a purchase came from.
pub(super) fn source(a: &Analysis<'_>, range: Range<usize>) -> Option<usize> {
    range.clone().find(|&i| {
        let at = i + 1 + usize::from(a.tag(i + 1).is_determiner());
        matches!(a.text.word(i), "from" | "at") && frames::is_shop(a.text.word(at))
    })
}
