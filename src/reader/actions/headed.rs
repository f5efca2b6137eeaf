//! The clause with a verb: which reader of its foods the verb calls, and what came in, is on hand
//! or is wanted.

use std::ops::Range;

use super::{Clause, Memory, accept, accept_sure};
use crate::reader::amounts;
use crate::reader::counts::one_place;
use crate::reader::details::{Detail, Goal, Way};
use crate::reader::items::{Found, List};
use crate::reader::verbs::{self, Act, Head};
use crate::statement::{Item, Scope, Statement};
use crate::units::{Ratio, Unit};
use crate::words::{Destination, Form, Intent, Place};

impl Clause<'_, '_> {
    pub(super) fn headed(&self, memory: &mut Memory) -> Option<Statement> {
        let head = verbs::head(self.a, self.clause.start, self.clause.end)?;
        let args = head.args..self.clause.end;
        // "roasted peppers" in a title is no event; "roasted the peppers", "we roasted peppers" is.
        let told = head.subject || self.a.context.addressed || head.verb > self.clause.start;
        // "added too much salt to my soup" is a cook's complaint.
        if self.word(args.start) == "too" && matches!(self.word(args.start + 1), "much" | "many") {
            return None;
        }
        let going_on = matches!(self.word(head.verb), "freezing" | "thawing" | "defrosting");
        if going_on && !head.subject {
            return None;
        }
        if (head.act.describes() || self.word(head.verb) == "cooked" && head.act != Act::Made)
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
            Act::NotGot if self.word(head.verb) == "forgot" => self.forgot(args, memory),
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
            Act::Cut => self.cut(args, memory),
            Act::Blanched => self.blanched(args, memory),
            Act::Put => self.put(args, memory),
            Act::Moved => self.moved(args, memory),
            Act::PutAway => self.put_away(args, memory),
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
    pub(super) fn says_which(&self, args: Range<usize>) -> bool {
        let first = self.list(args.clone()).found.into_iter().next();
        first.is_some_and(|f| f.amount || f.definite || f.vague || f.article)
            || self.packs(args.clone()).is_some()
            || self.a.tag(args.start).is_pronoun()
    }

    /// Items the clause names, or what "it" and "them" stand for.
    pub(super) fn items(&self, args: Range<usize>, memory: &mut Memory) -> Option<List> {
        if let Some(list) = self.pronoun(args.clone(), memory) {
            return Some(list);
        }
        accept(self.a, self.list(args.clone())).or_else(|| self.packs(args))
    }

    /// "donated 5 cans", "opened 2 tins": packs, whatever is in them.
    fn packs(&self, args: Range<usize>) -> Option<List> {
        let amount = amounts::read(self.a, args.start, args.end)?;
        let said = amount.end.checked_sub(1)?;
        let unit = amount.unit.filter(|unit| matches!(unit, Unit::Can | Unit::Jar | Unit::Loaf))?;
        let alone = (amount.end..args.end).all(|i| {
            !self.a.text.is_word(i)
                || self.details.at(i).is_some()
                || self.a.tag(i).is_filler()
                || self.a.tag(i).is_stop()
                || self.a.tag(i).is_subject()
        });
        if !alone || !amount.counted || amount.quantity.is_none() {
            return None;
        }
        let item = Item { name: self.a.text.word(said).to_owned(), ..Item::default() };
        let mut found = Found::meant(&item, args.start..amount.end, amount.end..args.end);
        found.item.quantity = amount.quantity;
        found.item.unit = Some(unit);
        found.amount = true;
        Some(List { found: vec![found], ..List::default() })
    }

    /// "it", "them", "half of it", "the rest", "3 of them", "the last 3".
    pub(super) fn pronoun(&self, args: Range<usize>, memory: &mut Memory) -> Option<List> {
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
        let amount = amounts::read(self.a, start, args.end);
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
            let mut found = Found::meant(item, start..at, at..args.end);
            match &amount {
                Some(m) => {
                    found.item.quantity = m.quantity;
                    found.item.quantity_high = m.high;
                    found.item.fraction = m.fraction;
                    found.item.unit = m.unit;
                    found.amount = true;
                }
                None if others.is_some() => {}
                None => found.item.fraction = Some(Ratio::ONE),
            }
            found.item.place = self.details.place(Way::To).cloned();
            list.found.push(found);
        }
        Some(list)
    }

    pub(super) fn simple(
        &self,
        intent: Intent,
        args: Range<usize>,
        memory: &mut Memory,
    ) -> Option<Statement> {
        let list = self.items(args, memory)?;
        Some(self.statement(intent, list))
    }

    pub(super) fn strict(&self, intent: Intent, args: Range<usize>) -> Option<Statement> {
        let list = accept(self.a, self.list(args))?;
        Some(self.statement(intent, list))
    }

    pub(super) fn got(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if matches!(self.word(args.start), "ur" | "your" | "u" | "his" | "their") {
            return None;
        }
        // "got my favourite sashimi" is told at a table.
        if self.word(args.start) == "my"
            && matches!(self.word(args.start + 1), "favorite" | "favourite" | "fav" | "fave")
            && !self.a.context.addressed
        {
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

    pub(super) fn have(&self, args: Range<usize>) -> Option<Statement> {
        if self.word(args.start) == "no" || self.word(args.start) == "none" {
            return self.out_of(args.start + 1..args.end);
        }
        if self.word(args.start) == "to" || self.word(args.start) == "enough" {
            return (self.word(args.start) == "enough")
                .then(|| self.strict(Intent::Unwanted, args.start + 1..args.end))
                .flatten();
        }
        // "in the fridge we have ..."
        let lead = self.details.iter().find_map(|(span, detail)| match detail {
            Detail::Place(place, Way::To) if span.end <= args.start => Some(place.clone()),
            _ => None,
        });
        let mut list = accept_sure(self.a, self.list(args))?;
        if self.details.goal() == Some(Goal::Meal) || !self.tight(&list) {
            return None;
        }
        // "i have a frozen fish head" is the start of a story.
        let mine = self.clause.clone().any(|i| matches!(self.word(i), "i" | "i've" | "ive"));
        let counted = |f: &Found| f.amount && self.a.text.word(f.tokens.start) != "a";
        if mine && !self.a.context.addressed && !list.found.iter().all(counted) {
            return None;
        }
        let unplaced = list.found.iter_mut().take_while(|f| f.item.place.is_none());
        unplaced.for_each(|f| f.item.place.clone_from(&lead));
        let mut statement = self.statement(Intent::Counted, list);
        statement.scope = one_place(&statement.items).map(Scope::Place);
        Some(statement)
    }

    /// "we're out of garlic": none on hand.
    pub(super) fn out_of(&self, args: Range<usize>) -> Option<Statement> {
        let mut list = accept_sure(self.a, self.list(args)).filter(|list| self.tight(list))?;
        // "No milk, 2 eggs": an amount of its own is what there is.
        for found in list.found.iter_mut().filter(|f| f.item.quantity.is_none()) {
            found.item.quantity = Some(Ratio::ZERO);
            found.item.fraction = None;
        }
        Some(self.statement(Intent::Counted, list))
    }

    /// "need rice and a lemon"; "i need a coffee" is talk.
    pub(super) fn wanted(&self, head: Head, args: Range<usize>) -> Option<Statement> {
        let list = self.shopping(args)?;
        let mine = self.clause.start < head.verb && self.word(head.verb - 1) == "i";
        let several = list.found.len() > 1
            || list.found.iter().any(|f| f.amount && f.item.quantity > Some(Ratio::ONE));
        if !self.tight(&list) || mine && !several && !self.a.context.addressed {
            return None;
        }
        Some(self.statement(Intent::Wanted, list))
    }

    /// The list is all the clause says: no stray words, nothing of weight behind the names.
    pub(super) fn tight(&self, list: &List) -> bool {
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

    pub(super) fn listed(
        &self,
        intent: Intent,
        args: Range<usize>,
        memory: &mut Memory,
    ) -> Option<Statement> {
        if self.details.goal() != Some(Goal::List) {
            return None;
        }
        if !self.goods(&args).is_empty() {
            return self.shopping(args).map(|list| self.statement(intent, list));
        }
        self.simple(intent, args, memory)
    }
}
