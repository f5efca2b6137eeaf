//! From clauses to events: what came in, went out, changed, is wanted.
//!
//! Takes one clause at a time, with what was named before it, and gives at most one statement.
//! The order of attempts is the order of this file: fixed phrases, a verb with its foods, a food
//! with what is said of it, a bare list with a price or a date.

use std::ops::Range;

use super::Analysis;
use super::details::{Details, Goal, Way};
use super::items::{self, Found, List};
use super::patterns;
use super::tokens::Kind;
use super::verbs::{self, Act, Head};
use crate::statement::{Item, Mention, Scope, Statement};
use crate::units::{Dimension, Ratio, Unit};
use crate::words::{Destination, Form, Intent, Place, Role};

/// What was named earlier in this message or this talk.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    pub items: Vec<Item>,
    pub intent: Option<Intent>,
    /// Which mention of the talk `items` came from; `None` once this message named its own.
    pub talk: Option<usize>,
    /// The mention of the talk a pronoun or a fragment went back to.
    pub referred: Option<usize>,
}

impl Memory {
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
        .fixed(memory)
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
        statement
    }

    // Fixed phrases.

    fn fixed(&self, memory: &Memory) -> Option<Statement> {
        let known = !memory.items.is_empty();
        patterns::read(self.a, self.clause.clone(), &self.details, known)
            .or_else(|| self.given_to_us())
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

    // A verb and its foods.

    fn headed(&self, memory: &mut Memory) -> Option<Statement> {
        let head = verbs::head(self.a, self.clause.start, self.clause.end)?;
        let args = head.args..self.clause.end;
        // "roasted peppers" in a title is no event; "roasted the peppers", "we roasted peppers" is.
        let told = head.subject || self.a.context.addressed || head.verb > self.clause.start;
        let going_on = matches!(self.word(head.verb), "freezing" | "thawing" | "defrosting");
        if going_on && !head.subject {
            return None;
        }
        if (head.act.describes() || self.word(head.verb) == "cooked")
            && !told
            && !self.says_which(args.clone())
        {
            return None;
        }
        match head.act {
            Act::Got => self.got(args, memory),
            Act::Found => {
                self.got(args, memory).filter(|s| s.items.iter().any(|i| i.quantity.is_some()))
            }
            Act::NotGot => self.simple(Intent::NotReceived, args, memory),
            Act::Have => self.have(args),
            Act::OutOf => self.out_of(args),
            Act::Counted => self.strict(Intent::Counted, args),
            Act::Used => self.used(args, memory, false),
            Act::Finished => self.used(args, memory, true),
            Act::Had => self.had(args),
            Act::Took => self.took(args, memory),
            Act::Threw => self.threw(head, memory),
            Act::Binned => self.discarded(args, memory, Some(Destination::Trash)),
            Act::Composted => self.discarded(args, memory, Some(Destination::Compost)),
            Act::Poured => self.poured(args, memory),
            Act::Fed => self.discarded(args, memory, Some(Destination::AnimalFeed)),
            Act::Gave => self.gave(args, memory),
            Act::Froze => self.preserved(args, memory, Some(Form::Frozen)),
            Act::Dried => self.preserved(args, memory, Some(Form::Dried)),
            Act::Kept => self.preserved(args, memory, None),
            Act::Thawed => self.formed(Intent::Thawed, Some(Form::Thawed), args, memory),
            Act::Made => self.made(args),
            Act::Cooked => self.cooked(args, memory),
            Act::Cut => self.formed(Intent::Prepared, Some(Form::Cut), args, memory),
            Act::Blanched => self.blanched(args, memory),
            Act::Put => self.put(args, memory),
            Act::Moved => self.moved(args, memory),
            Act::PutAway => self.put_away(args),
            Act::Opened => self.formed(Intent::Opened, Some(Form::Opened), args, memory),
            Act::Left => self.left(args, memory),
            Act::Stood => self.put(args, memory),
            Act::Changed => self.changed(args, memory),
            Act::Did => self.did(args),
            Act::Saved => self.saved(args, memory),
            Act::Need => self.wanted(head, args),
            Act::Low => self.simple(Intent::Wanted, args, memory),
            Act::NoNeed => self.simple(Intent::Unwanted, args, memory),
            Act::Add => self.listed(Intent::Wanted, args, memory),
            Act::Remove => self.listed(Intent::Unwanted, args, memory),
            Act::Spent => None,
        }
    }

    /// The foods are told by amount or as ones in the house ("the peppers", "3 peppers").
    fn says_which(&self, args: Range<usize>) -> bool {
        let first = self.list(args.clone()).found.into_iter().next();
        first.is_some_and(|f| f.amount || f.definite || f.vague || f.article)
            || self.a.tag(args.start).is_pronoun()
    }

    /// Items the clause names, or what "it" and "them" stand for.
    fn items(&self, args: Range<usize>, memory: &mut Memory) -> Option<List> {
        if let Some(list) = self.pronoun(args.clone(), memory) {
            return Some(list);
        }
        accept(self.a, self.list(args))
    }

    /// "it", "them", "half of it", "the rest", "3 of them", "the last 3".
    fn pronoun(&self, args: Range<usize>, memory: &mut Memory) -> Option<List> {
        let first =
            (args.start..args.end).find(|&i| !self.a.tag(i).is_filler()).unwrap_or(args.end);
        // "the old ones": of the same food, no share of what was just named.
        let others = (first..args.end.min(first + 3))
            .find(|&i| matches!(self.word(i), "ones" | "one") && self.word(first) == "the");
        let start = others.unwrap_or(first);
        let named =
            self.a.foods_in(start..args.end).any(|f| self.details.at(f.tokens.start).is_none());
        if start >= args.end || named || memory.items.is_empty() {
            return None;
        }
        let amount = super::amounts::read(self.a, start, args.end);
        let at = amount.as_ref().map_or(start, |m| m.end);
        let at = if self.word(at) == "of" { at + 1 } else { at };
        let says = matches!(
            self.word(at),
            "it" | "them"
                | "those"
                | "these"
                | "that"
                | "both"
                | "this"
                | "ones"
                | "one"
                | "lot"
                | "everything"
                | "all"
        ) || self.word(start) == "the"
            && matches!(self.word(start + 1), "lot" | "rest" | "last");
        let bare = amount.is_some() && (at >= args.end || self.details.at(at).is_some());
        if !says && !bare {
            return None;
        }
        memory.referred = memory.referred.or(memory.talk);
        let mut list = List::default();
        for item in &memory.items {
            let mut item = Item {
                food: item.food.clone(),
                name: item.name.clone(),
                part: item.part.clone(),
                form: item.form,
                ..Item::default()
            };
            match &amount {
                Some(m) => {
                    item.quantity = m.quantity;
                    item.quantity_high = m.high;
                    item.fraction = m.fraction;
                    item.unit = m.unit;
                }
                None if others.is_some() => {}
                None => item.fraction = Some(Ratio::ONE),
            }
            item.place = self.details.place(Way::To).cloned();
            list.found.push(Found {
                item,
                article: false,
                known: true,
                holds_food: true,
                homonym: false,
                amount: amount.is_some(),
                vague: false,
                definite: true,
                tokens: start..at,
                trailing: at..args.end,
            });
        }
        Some(list)
    }

    fn simple(&self, intent: Intent, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let list = self.items(args, memory)?;
        Some(self.statement(intent, list))
    }

    fn strict(&self, intent: Intent, args: Range<usize>) -> Option<Statement> {
        let list = accept(self.a, self.list(args))?;
        Some(self.statement(intent, list))
    }

    fn got(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if matches!(self.word(args.start), "ur" | "your" | "u" | "his" | "their") {
            return None;
        }
        // "got the mince out of the freezer", "brought the swedes in from the porch".
        if let Some(Place::Freezer) = self.details.place(Way::From) {
            return self.formed(Intent::Thawed, Some(Form::Thawed), args, memory);
        }
        if self.details.goal() == Some(Goal::List) {
            return None;
        }
        let list = accept(self.a, self.list(args))?;
        if list.found.iter().all(|f| self.word(f.trailing.start) == "left") {
            return Some(self.statement(Intent::Counted, list));
        }
        // "brought the squash in from the porch" came from within the house.
        let inside = matches!(
            self.details.place(Way::From),
            Some(Place::Own(_) | Place::CoolDark | Place::Fridge | Place::Crisper)
        );
        let intent = if inside { Intent::Moved } else { Intent::Acquired };
        Some(self.statement(intent, list))
    }

    fn have(&self, args: Range<usize>) -> Option<Statement> {
        if self.word(args.start) == "no" || self.word(args.start) == "none" {
            return self.out_of(args.start + 1..args.end);
        }
        if self.word(args.start) == "to" || self.word(args.start) == "enough" {
            return (self.word(args.start) == "enough")
                .then(|| self.strict(Intent::Unwanted, args.start + 1..args.end))
                .flatten();
        }
        let list = accept_sure(self.a, self.list(args))?;
        if self.details.goal() == Some(Goal::Meal) || !self.tight(&list) {
            return None;
        }
        let mine = self.clause.clone().any(|i| matches!(self.word(i), "i" | "i've" | "ive"));
        if mine && !self.a.context.addressed && !list.found.iter().all(|f| f.amount) {
            return None;
        }
        let mut statement = self.statement(Intent::Counted, list);
        statement.scope = self.details.place(Way::To).cloned().map(Scope::Place);
        Some(statement)
    }

    /// "we're out of garlic": none on hand.
    fn out_of(&self, args: Range<usize>) -> Option<Statement> {
        let mut list = accept_sure(self.a, self.list(args)).filter(|list| self.tight(list))?;
        for found in &mut list.found {
            found.item.quantity = Some(Ratio::ZERO);
            found.item.fraction = None;
        }
        Some(self.statement(Intent::Counted, list))
    }

    fn used(&self, args: Range<usize>, memory: &mut Memory, finished: bool) -> Option<Statement> {
        let mut list = self.items(args.clone(), memory)?;
        let up = self.any(&["up", "off"]) && self.has(&["used", "up"]);
        let all = finished || up && list.found.iter().all(|f| !f.amount && !f.vague);
        if all {
            for found in list
                .found
                .iter_mut()
                .filter(|f| f.item.quantity.is_none() && f.item.fraction.is_none() && !f.vague)
            {
                found.item.fraction = Some(Ratio::ONE);
            }
        }
        let bare = list
            .found
            .iter()
            .all(|f| !f.amount && !f.definite && !f.vague && f.item.fraction.is_none());
        let eaten =
            matches!(self.word(args.start.saturating_sub(1)), "ate" | "eaten" | "drank" | "cooked");
        if bare && eaten && !self.a.context.addressed {
            return None;
        }
        if list
            .found
            .iter()
            .any(|f| !f.amount && !f.definite && !f.vague && f.item.fraction.is_none())
            && !self.used_plainly(&list)
        {
            return None;
        }
        Some(self.statement(Intent::Used, list))
    }

    /// A bare food after "ate" or "used" counts only when the clause says little else.
    fn used_plainly(&self, list: &List) -> bool {
        let words = self.clause.clone().filter(|&i| self.a.text.is_word(i)).count();
        words <= 4 + 4 * list.found.len()
    }

    fn had(&self, args: Range<usize>) -> Option<Statement> {
        if self.details.goal() != Some(Goal::Meal) {
            return None;
        }
        self.strict(Intent::Used, args)
            .filter(|s| s.items.iter().any(|i| i.quantity.is_some() || i.fraction.is_some()))
    }

    fn took(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let from = self.details.place(Way::From);
        let to_thaw = self.any(&["thaw", "defrost"]);
        let out = (args.start..args.end).any(|i| {
            self.word(i) == "out"
                && (i + 1 >= args.end
                    || self.details.at(i + 1).is_some()
                    || !self.a.text.is_word(i + 1)
                    || matches!(self.word(i + 1), "to" | "for" | "this" | "of"))
        });
        if from == Some(&Place::Freezer) || to_thaw || (from.is_none() && out) {
            return self.formed(Intent::Thawed, Some(Form::Thawed), args, memory);
        }
        if self.details.goal() == Some(Goal::List) {
            return self.listed(Intent::Unwanted, args, memory);
        }
        if let Some(Goal::Waste(to)) = self.details.goal() {
            return self.discarded(args, memory, Some(to));
        }
        if self.details.place(Way::To).is_some() {
            return self.moved(args, memory);
        }
        let people = people_after(self.a, args.clone());
        let mut statement =
            self.simple(if people { Intent::Given } else { Intent::Used }, args, memory)?;
        if people {
            to_all(&mut statement, Destination::People);
        }
        statement
            .items
            .iter()
            .any(|i| i.quantity.is_some() || i.fraction.is_some() || i.unit.is_some())
            .then_some(statement)
    }

    fn threw(&self, head: Head, memory: &mut Memory) -> Option<Statement> {
        let args = head.args..self.clause.end;
        match self.details.goal() {
            Some(Goal::Dish) => return self.used(args, memory, false),
            Some(Goal::Bag) => return self.into_bag(args, memory),
            Some(Goal::Waste(to)) => return self.discarded(args, memory, Some(to)),
            _ => {}
        }
        if self.details.place(Way::To) == Some(&Place::Freezer) {
            return self.preserved(args, memory, Some(Form::Frozen));
        }
        let mut args = args;
        if matches!(
            self.word(args.start),
            "throw" | "bin" | "toss" | "chuck" | "dump" | "compost" | "ditch"
        ) {
            let particle = usize::from(matches!(self.word(args.start + 1), "out" | "away"));
            args.start += 1 + particle;
        } else if self.word(head.verb) == "had" {
            return None;
        }
        self.discarded(args, memory, Some(Destination::Trash))
    }

    fn discarded(
        &self,
        args: Range<usize>,
        memory: &mut Memory,
        to: Option<Destination>,
    ) -> Option<Statement> {
        let list = self.items(args.clone(), memory)?;
        let reasons: Vec<Option<String>> =
            list.found.iter().map(|f| patterns::reason(self.a, f.trailing.clone())).collect();
        let whole = patterns::reason(self.a, args);
        let said = match self.details.goal() {
            Some(Goal::Waste(to)) => Some(to),
            _ => to,
        };
        let mut statement = self.statement(Intent::Discarded, list);
        let none = reasons.iter().all(Option::is_none);
        for (item, reason) in statement.items.iter_mut().zip(reasons) {
            item.to = said;
            item.reason = reason.or_else(|| if none { whole.clone() } else { None });
            // Thrown out without an amount is thrown out whole when it is "the" or "it".
        }
        Some(statement)
    }

    fn poured(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let away = self.any(&["away", "out"]);
        match self.details.goal() {
            Some(Goal::Waste(to)) => self.discarded(args, memory, Some(to)),
            _ if away => self.discarded(args, memory, Some(Destination::Drain)),
            _ => None,
        }
    }

    fn gave(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.word(args.start.saturating_sub(1)) == "swapped" {
            return self.changed(args, memory);
        }
        if let Some(Goal::Waste(to)) = self.details.goal() {
            return self.discarded(args, memory, Some(to));
        }
        let animal = (args.start..args.end.min(args.start + 3))
            .any(|i| super::details::is_animal(self.word(i)));
        if animal && self.a.foods_in(args.clone()).next().is_some() {
            return self.discarded(args, memory, Some(Destination::AnimalFeed));
        }
        // "mum gave us 4 marrows" came in.
        let us =
            (args.start..args.end.min(args.start + 2)).any(|i| matches!(self.word(i), "us" | "me"));
        if us {
            return self.strict(Intent::Acquired, args.start + 1..args.end);
        }
        let verb = self.word(args.start.saturating_sub(1));
        let sent = args.clone().any(|i| {
            matches!(self.word(i), "home" | "to" | "with" | "round" | "over") && i > args.start
        });
        if matches!(verb, "dropped" | "sent" | "passed" | "shared" | "lent")
            && !sent
            && !people_after(self.a, args.clone())
        {
            return None;
        }
        let mut list = self.items(args, memory)?;
        // "gave anna 3 lemons": who got them is no item.
        list.found.retain(|f| f.known || f.amount);
        let mut statement = self.statement(Intent::Given, list);
        to_all(&mut statement, Destination::People);
        Some(statement)
    }

    fn preserved(
        &self,
        args: Range<usize>,
        memory: &mut Memory,
        form: Option<Form>,
    ) -> Option<Statement> {
        let list = self.items(args, memory)?;
        let mut statement = self.statement(Intent::Preserved, list);
        for item in &mut statement.items {
            item.form = form.or(item.form);
            if form == Some(Form::Frozen) && item.place.is_none() {
                item.place = Some(Place::Freezer);
            }
        }
        Some(statement)
    }

    fn formed(
        &self,
        intent: Intent,
        form: Option<Form>,
        args: Range<usize>,
        memory: &mut Memory,
    ) -> Option<Statement> {
        let list = self.items(args, memory)?;
        if intent == Intent::Prepared
            && !list.found.iter().any(|f| f.amount || f.definite || f.vague)
            && !self.used_plainly(&list)
        {
            return None;
        }
        let mut statement = self.statement(intent, list);
        for item in &mut statement.items {
            item.form = form;
            item.fraction = item.fraction.filter(|f| *f != Ratio::ONE);
        }
        Some(statement)
    }

    /// "wilted the chard, 600 g into the freezer".
    fn blanched(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.details.place(Way::To) == Some(&Place::Freezer) || self.any(&["froze"]) {
            let first = self.list(args.clone());
            let mut statement = self.preserved(args.clone(), memory, Some(Form::Frozen))?;
            let nameless =
                (args.start..args.end).filter(|&i| self.a.text.number(i).is_some()).find_map(|i| {
                    super::amounts::read(self.a, i, args.end).filter(|m| m.unit.is_some())
                });
            if let (Some(amount), [item]) = (nameless, statement.items.as_mut_slice())
                && item.quantity.is_none()
                && first.found.len() == 1
            {
                item.quantity = amount.quantity;
                item.unit = amount.unit;
                item.fraction = None;
            }
            return Some(statement);
        }
        self.formed(Intent::Prepared, Some(Form::Cooked), args, memory)
    }

    /// "boiled 6 eggs"; "boiled up the scraps" makes stock.
    fn cooked(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.any(&["scraps", "trimmings", "bag", "carcass", "peelings"]) {
            let mut statement = Statement::new(Intent::StockMade);
            statement.day = self.details.day();
            statement.confidence = 0.85;
            return Some(statement);
        }
        self.formed(Intent::Prepared, Some(Form::Cooked), args, memory)
    }

    fn put(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.word(args.end - 1) == "away" || self.word(args.start) == "away" {
            return self.put_away(args);
        }
        match self.details.goal() {
            Some(Goal::Water) => return self.in_water(args, memory),
            Some(Goal::Waste(to)) => return self.discarded(args, memory, Some(to)),
            Some(Goal::Bag) => return self.into_bag(args, memory),
            Some(Goal::Dish) => return self.used(args, memory, false),
            Some(Goal::List) => return self.listed(Intent::Wanted, args, memory),
            Some(Goal::Meal) | None => {}
        }
        let standing = self.any(&["stood", "standing"]);
        if standing && self.any(&["jar", "glass", "vase", "jug", "bowl"]) {
            return self.in_water(args, memory);
        }
        match self.details.place(Way::To) {
            Some(Place::Freezer) => self.preserved(args, memory, Some(Form::Frozen)),
            Some(_) => self.moved(args, memory),
            None if self.any(&["thaw", "defrost"]) => {
                self.formed(Intent::Thawed, Some(Form::Thawed), args, memory)
            }
            None => None,
        }
    }

    fn in_water(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let list = self.items(args, memory)?;
        let mut statement = self.statement(Intent::PutInWater, list);
        for item in &mut statement.items {
            item.form = Some(Form::InWater);
            item.fraction = item.fraction.filter(|f| *f != Ratio::ONE);
        }
        Some(statement)
    }

    fn into_bag(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        self.simple(Intent::ScrapsSaved, args, memory)
    }

    fn moved(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let to = self.details.place(Way::To)?.clone();
        if to == Place::Freezer {
            return self.preserved(args, memory, Some(Form::Frozen));
        }
        let list = self.items(args, memory)?;
        let mut statement = self.statement(Intent::Moved, list);
        for item in &mut statement.items {
            item.place = item.place.take().or_else(|| Some(to.clone()));
            item.fraction = item.fraction.filter(|f| *f != Ratio::ONE);
        }
        Some(statement)
    }

    fn put_away(&self, args: Range<usize>) -> Option<Statement> {
        let list = accept(self.a, self.list(args.clone()));
        let all = (args.start.saturating_sub(2)..args.end).any(|i| {
            matches!(
                self.word(i),
                "everything"
                    | "all"
                    | "shopping"
                    | "groceries"
                    | "it"
                    | "stuff"
                    | "lot"
                    | "food"
                    | "shop"
                    | "delivery"
            )
        });
        match list {
            Some(list) => Some(self.statement(Intent::PutAway, list)),
            None if all => {
                let mut statement = Statement::new(Intent::PutAway);
                statement.scope = Some(Scope::All);
                statement.day = self.details.day();
                Some(statement)
            }
            None => None,
        }
    }

    fn left(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let out = self.clause.clone().any(|i| {
            matches!(
                self.a.text.word(i),
                "out" | "counter" | "table" | "worktop" | "side" | "stove" | "hob"
            )
        });
        if !out {
            return None;
        }
        let list = self.items(args, memory)?;
        let mut statement = self.statement(Intent::LeftOut, list);
        statement.minutes = patterns::minutes(self.a, self.clause.clone());
        for item in &mut statement.items {
            item.fraction = item.fraction.filter(|f| *f != Ratio::ONE);
        }
        Some(statement)
    }

    fn changed(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if !self.any(&["water", "waters"]) {
            return None;
        }
        let water = args
            .clone()
            .find(|&i| matches!(self.word(i), "water" | "waters"))
            .unwrap_or(args.start);
        let after = patterns::past_prepositions(self.a, water + 1, args.end)..args.end;
        let list = self
            .pronoun(after.clone(), memory)
            .or_else(|| accept(self.a, self.list(after)))
            .or_else(|| accept(self.a, without(self.a, self.list(args.start..water), "water")));
        let mut statement = self.statement(Intent::WaterChanged, list.unwrap_or_default());
        if statement.items.is_empty() {
            statement.scope = Some(Scope::All);
        }
        Some(statement)
    }

    /// "did the asparagus": the chore of an item in water.
    fn did(&self, args: Range<usize>) -> Option<Statement> {
        if self.word(args.start) != "the"
            && self.word(args.start) != "all"
            && self.word(args.start) != "both"
        {
            return None;
        }
        let short = args.len() <= 6;
        if short && self.any(&["water", "waters"]) {
            let list =
                accept(self.a, without(self.a, self.list(args), "water")).unwrap_or_default();
            let mut statement = self.statement(Intent::WaterChanged, list);
            if statement.items.is_empty() {
                statement.scope = Some(Scope::All);
            }
            return Some(statement);
        }
        let list = accept_sure(self.a, self.list(args))?;
        (short && !list.found.iter().any(|f| f.amount))
            .then(|| self.statement(Intent::WaterChanged, list))
    }

    fn saved(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let for_stock = self.details.goal() == Some(Goal::Bag);
        for_stock.then(|| self.simple(Intent::ScrapsSaved, args, memory)).flatten()
    }

    /// "need rice and a lemon"; "i need a coffee" is talk.
    fn wanted(&self, head: Head, args: Range<usize>) -> Option<Statement> {
        let list = accept_sure(self.a, self.list(args))?;
        let mine = self.clause.start < head.verb && self.word(head.verb - 1) == "i";
        let several = list.found.len() > 1
            || list.found.iter().any(|f| f.amount && f.item.quantity > Some(Ratio::ONE));
        if !self.tight(&list) || mine && !several && !self.a.context.addressed {
            return None;
        }
        Some(self.statement(Intent::Wanted, list))
    }

    /// The list is all the clause says: no stray words, nothing of weight behind the names.
    fn tight(&self, list: &List) -> bool {
        let heavy = |i: usize| {
            self.a.text.is_word(i)
                && !self.a.tag(i).is_filler()
                && !self.a.tag(i).is_preparation()
                && !self.a.tag(i).is_adverb()
        };
        list.stray_words(self.a) == 0
            && list.found.iter().all(|f| {
                let mut depth = 0;
                f.trailing
                    .clone()
                    .filter(|&i| {
                        match self.a.text.word(i) {
                            "(" => depth += 1,
                            ")" => depth -= 1,
                            _ => {}
                        }
                        depth == 0 && heavy(i) && self.details.at(i).is_none()
                    })
                    .count()
                    <= 1
                    && !f.trailing.clone().any(|i| {
                        matches!(
                            self.a.text.word(i),
                            "if" | "when" | "would" | "will" | "recipe" | "recipes"
                        )
                    })
            })
    }

    fn listed(&self, intent: Intent, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.details.goal() != Some(Goal::List) {
            return None;
        }
        self.simple(intent, args, memory)
    }

    /// "made bean stew, 6 portions, with 300 g carrots and 2 leeks".
    fn made(&self, args: Range<usize>) -> Option<Statement> {
        let with = args.clone().find(|&i| {
            matches!(self.word(i), "with" | "from" | "using" | "used" | "outta")
                || (self.word(i) == "out" && self.word(i + 1) == "of")
        });
        let made_end = with.unwrap_or(args.end);
        let made = self.list(args.start..made_end);
        let stock = made.found.first().is_some_and(|f| {
            let last = f.item.name.rsplit([' ', '-']).next().unwrap_or_default();
            matches!(last, "stock" | "broth")
        });
        let from = with.map(|at| self.list(at + 1..args.end)).and_then(|list| accept(self.a, list));
        let portions = portions(self.a, args.start..made_end);
        let mut first = made.found.into_iter().find(|f| !portion_only(f))?;
        let plausible = first.known
            || from.as_ref().is_some_and(|f| f.any_known()) && !first.item.name.is_empty();
        if !plausible || self.a.tag(first.tokens.end.saturating_sub(1)).is_not_food() {
            return None;
        }
        if let Some((quantity, unit)) = portions {
            if first.item.quantity.is_none() || first.item.unit.is_none() {
                first.item.quantity = Some(quantity);
                first.item.unit = Some(unit);
            }
        }
        let intent = if stock { Intent::StockMade } else { Intent::Prepared };
        let mut statement = Statement::new(intent);
        statement.day = self.details.day();
        statement.confidence = 0.9;
        let mut item = first.item;
        item.role = Some(Role::Made);
        item.place = item.place.or_else(|| self.details.place(Way::To).cloned());
        if intent == Intent::Prepared {
            item.form = item.form.or(Some(Form::Cooked));
        }
        statement.items.push(item);
        for mut found in from.into_iter().flat_map(|list| list.found) {
            found.item.role = Some(Role::From);
            statement.items.push(found.item);
        }
        Some(statement)
    }

    // A food and what is said of it.

    fn predicate(&self, memory: &mut Memory) -> Option<Statement> {
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
                        | "frozen"
                        | "opened"
                        | "out"
                        | "didnt"
                        | "wasn't"
                        | "weren't"
                        | "down"
                        | "demolished"
                        | "eaten"
                )
                && (i > subject || matches!(self.word(i), "it's" | "its" | "they're" | "that's"))
        });
        let at = verb?;
        let pronoun_subject = matches!(
            self.word(subject),
            "it's" | "its" | "they're" | "that's" | "it" | "they" | "those" | "these"
        );
        let who = subject..at;
        // "hens got the stalks"
        if super::details::is_animal(self.word(at.saturating_sub(1)))
            && matches!(self.word(at), "got" | "had" | "ate")
        {
            return self.discarded(at + 1..end, memory, Some(Destination::AnimalFeed));
        }
        // "pie took 3 carrots and the last leek", "soup used 4 onions"
        if matches!(self.word(at), "took" | "used" | "got")
            && super::details::is_dish(self.word(at.saturating_sub(1)))
        {
            return self.strict(Intent::Used, at + 1..end);
        }
        let list = if pronoun_subject {
            self.referent(memory, at)?
        } else {
            let list = self.list(who);
            let whole = list.found.len() == 1 || list.found.iter().all(|f| f.known);
            accept(self.a, list).filter(|list| whole && self.tight(list))?
        };
        let mentions = |words: &[&str]| (at..end).any(|i| words.contains(&self.word(i)));
        let been_out = mentions(&["out"])
            && (mentions(&[
                "left",
                "sat",
                "sitting",
                "overnight",
                "counter",
                "since",
                "night",
                "stood",
                "been",
            ]));
        if been_out && !mentions(&["of"])
            || mentions(&["sat", "left"])
                && mentions(&["counter", "table", "worktop", "side", "stove", "hob"])
        {
            // "homemade pizza left out overnight" asks; "the pizza was left out" tells.
            if !pronoun_subject && list.found.iter().any(|f| !f.amount && !f.definite && !f.vague) {
                return None;
            }
            let mut statement = self.statement(Intent::LeftOut, list);
            statement.minutes = patterns::minutes(self.a, self.clause.clone());
            return Some(statement);
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
            Some(Goal::Bag) => return Some(self.statement(Intent::ScrapsSaved, list)),
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
        if mentions(&["finished", "used", "eaten", "demolished"])
            && (mentions(&["all", "is", "are", "was", "were", "finished"]))
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
        if mentions(&["open", "opened"]) {
            let mut statement = self.statement(Intent::Opened, list);
            statement.items.iter_mut().for_each(|i| i.form = Some(Form::Opened));
            return Some(statement);
        }
        if let Some(place) = self.details.place(Way::To).cloned() {
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
                item.place = Some(place.clone());
                if freezer {
                    item.form = Some(Form::Frozen);
                }
            }
            return Some(statement);
        }
        None
    }

    fn referent(&self, memory: &mut Memory, at: usize) -> Option<List> {
        if memory.items.is_empty() {
            return None;
        }
        memory.referred = memory.referred.or(memory.talk);
        let mut list = List::default();
        for item in &memory.items {
            let item = Item {
                food: item.food.clone(),
                name: item.name.clone(),
                part: item.part.clone(),
                form: item.form,
                ..Item::default()
            };
            list.found.push(Found {
                item,
                article: false,
                known: true,
                holds_food: true,
                homonym: false,
                amount: false,
                vague: false,
                definite: true,
                tokens: at..at,
                trailing: at..at,
            });
        }
        Some(list)
    }

    // A bare list.

    fn verbless(&self, memory: &mut Memory) -> Option<Statement> {
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
            let list = self.referent(memory, start)?;
            return Some(self.statement(intent, list));
        }
        let goes_on = matches!(self.word(self.clause.start), "and" | "plus" | "also" | "+" | "&")
            || start > self.clause.start && self.any(&["also", "plus"]);
        if goes_on && let Some(intent) = memory.intent.filter(|i| continues(*i)) {
            let list = accept(self.a, list)?;
            memory.referred = memory.referred.or(memory.talk);
            return Some(self.statement(intent, list));
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

fn continues(intent: Intent) -> bool {
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
fn source(a: &Analysis<'_>, range: Range<usize>) -> Option<usize> {
    range.clone().find(|&i| {
        let at = i + 1 + usize::from(a.tag(i + 1).is_determiner());
        matches!(a.text.word(i), "from" | "at")
            && matches!(
                a.text.word(at),
                "market"
                    | "shop"
                    | "store"
                    | "supermarket"
                    | "greengrocer"
                    | "greengrocers"
                    | "grocer"
                    | "grocers"
                    | "farm"
                    | "stall"
                    | "butcher"
                    | "butchers"
                    | "baker"
                    | "bakery"
                    | "garden"
                    | "allotment"
                    | "farmers"
                    | "plot"
                    | "greenhouse"
                    | "grocery"
                    | "deli"
                    | "stand"
                    | "orchard"
            )
    })
}

fn to_all(statement: &mut Statement, to: Destination) {
    for item in &mut statement.items {
        item.to = Some(to);
    }
}

/// "to next door", "to the neighbours", "to mum": people follow a "to" or the verb itself.
fn people_after(a: &Analysis<'_>, range: Range<usize>) -> bool {
    range.clone().any(|i| {
        let person = matches!(
            a.text.word(i),
            "neighbour"
                | "neighbours"
                | "neighbor"
                | "neighbors"
                | "door"
                | "friend"
                | "friends"
                | "mum"
                | "mom"
                | "dad"
                | "grandma"
                | "grandpa"
                | "gran"
                | "granny"
                | "nana"
                | "nan"
                | "aunt"
                | "auntie"
                | "uncle"
                | "sister"
                | "brother"
                | "bank"
                | "foodbank"
                | "shelter"
                | "colleagues"
                | "work"
                | "office"
                | "school"
                | "church"
                | "pantry"
                | "fridge"
                | "couple"
                | "family"
                | "colleague"
        );
        person
            && i > range.start
            && matches!(
                a.text.word(i.saturating_sub(1)),
                "to" | "the"
                    | "next"
                    | "my"
                    | "our"
                    | "community"
                    | "food"
                    | "with"
                    | "for"
                    | "at"
                    | "a"
                    | "upstairs"
                    | "downstairs"
            )
    })
}

fn without(a: &Analysis<'_>, mut list: List, name: &str) -> List {
    let _ = a;
    list.found.retain(|f| f.item.name != name && !f.item.name.ends_with(" water"));
    list
}

/// "6 portions": an amount of what was made.
fn portions(a: &Analysis<'_>, range: Range<usize>) -> Option<(Ratio, Unit)> {
    range.clone().find_map(|i| {
        let amount = super::amounts::read(a, i, range.end).filter(|m| m.counted)?;
        let unit = amount.unit?;
        let nameless =
            amount.end >= range.end || !a.text.is_word(amount.end) || a.tag(amount.end).is_stop();
        (nameless || unit == Unit::Portion).then_some((amount.quantity?, unit))
    })
}

fn portion_only(found: &Found) -> bool {
    matches!(found.item.name.as_str(), "portions" | "portion" | "servings")
}

/// The list when it is about food: at least one item surely food; what is surely none falls out.
pub fn accept(a: &Analysis<'_>, list: List) -> Option<List> {
    keep(a, list, |f| {
        let said = f.amount || f.definite || f.vague || f.item.price.is_some();
        f.known && (!f.homonym || said) || f.holds_food && f.amount || measured(a, f)
    })
}

/// As [`accept`], but a known food without homonyms must be there.
pub fn accept_sure(a: &Analysis<'_>, list: List) -> Option<List> {
    keep(a, list, |f| f.known && (!f.homonym || f.amount))
}

fn keep(a: &Analysis<'_>, mut list: List, sure: impl Fn(&Found) -> bool) -> Option<List> {
    if !list.found.iter().any(&sure) {
        return None;
    }
    list.found.retain(|f| {
        let last = f.tokens.end.saturating_sub(1);
        let not_food = !f.known && a.tag(last).is_not_food();
        let bare_common = !f.known
            && !f.amount
            && f.tokens.clone().all(|k| {
                !a.text.is_word(k)
                    || a.lexicon.is_common(a.text.word(k))
                    || a.tag(k).is_stop()
                    || a.tag(k).is_subject()
            });
        !not_food && !bare_common
    });
    (!list.found.is_empty()).then_some(list)
}

/// An unknown food in a measuring unit ("2 lb zorbles") or, when spoken to, in any amount.
fn measured(a: &Analysis<'_>, found: &Found) -> bool {
    let last = found.tokens.end.saturating_sub(1);
    if a.tag(last).is_not_food() || found.item.name.len() < 3 {
        return false;
    }
    let measure = found
        .item
        .unit
        .or(found.item.size.and_then(|s| s.unit))
        .is_some_and(|u| u.dimension() != Dimension::Count);
    found.amount && (measure || a.context.addressed)
}

fn confidence(list: &List) -> f32 {
    let unknown = list.found.iter().filter(|f| !f.known).count();
    match (unknown, list.found.len()) {
        (0, _) => 0.95,
        (u, n) if u < n => 0.85,
        _ => 0.7,
    }
}

/// Whether the clause says anything but marks and fillers.
pub fn is_empty_clause(a: &Analysis<'_>, clause: Range<usize>) -> bool {
    clause.clone().all(|i| {
        a.text.kind(i) != Some(Kind::Word) && a.text.kind(i) != Some(Kind::Number)
            || a.tag(i).is_filler()
    })
}
