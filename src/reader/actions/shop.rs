//! What a shop brought otherwise than planned, the whole list at once, and list lines that are no
//! food.

use std::ops::Range;

use super::{Clause, accept, accept_sure};
use crate::reader::items::{Found, List};
use crate::reader::receipt;
use crate::statement::{Item, Scope, Statement};
use crate::words::{Intent, Role};

impl Clause<'_, '_> {
    /// Household goods named in `range`.
    pub(super) fn goods(&self, range: &Range<usize>) -> Vec<Found> {
        let mut goods = Vec::new();
        let mut i = range.start;
        while i < range.end {
            let Some(end) = receipt::goods_at(&self.a.text, i, range.end) else {
                i += 1;
                continue;
            };
            let name = self.a.text.slice(i..end).to_lowercase();
            goods.push(Found::meant(&Item { name, ..Item::default() }, i..end, end..end));
            i = end;
        }
        goods
    }

    /// A list for the shop: food the lexicon knows, and goods of the household.
    pub(super) fn shopping(&self, args: Range<usize>) -> Option<List> {
        let goods = self.goods(&args);
        let list = self.list(args);
        if goods.is_empty() {
            return accept_sure(self.a, list);
        }
        let inside = |range: &Range<usize>| {
            goods.iter().any(|each| range.start < each.tokens.end && each.tokens.start < range.end)
        };
        let mut food = list;
        food.found.retain(|found| !inside(&found.tokens));
        food.stray.retain(|stray| !inside(stray));
        for found in &mut food.found {
            if inside(&found.trailing) {
                found.trailing = found.trailing.start..found.trailing.start;
            }
        }
        let stray = std::mem::take(&mut food.stray);
        let total = food.total;
        let mut list = accept_sure(self.a, food).unwrap_or_default();
        list.found.extend(goods);
        list.found.sort_by_key(|found| found.tokens.start);
        list.stray = stray;
        list.total = total.or(list.total);
        Some(list)
    }

    /// "they gave us parsnips instead of carrots", "the carrots were swapped for parsnips": the
    /// purchase is of the other food.
    pub(super) fn swapped_in_shop(&self) -> Option<Statement> {
        let instead = self.a.text.find(self.clause.clone(), &["instead", "of"]);
        let (right, wrong) = if let Some(at) = instead {
            let came = |i: &usize| {
                matches!(self.word(*i), "gave" | "sent" | "got" | "came" | "brought" | "delivered")
            };
            let verb = (self.clause.start..at).find(came)?;
            (verb + 1..at, at + 2..self.clause.end)
        } else {
            let verb = self.clause.clone().find(|&i| {
                matches!(self.word(i), "swapped" | "substituted" | "replaced")
                    && i > self.clause.start
                    && matches!(self.word(i - 1), "was" | "were" | "got" | "been")
            })?;
            let by = (verb + 1..self.clause.end)
                .find(|&i| matches!(self.word(i), "for" | "with" | "by"))?;
            (by + 1..self.clause.end, self.clause.start..verb - 1)
        };
        let one = |range: Range<usize>| {
            let mut found = accept(self.a, self.list(range))?.found;
            (found.len() == 1).then(|| found.pop()).flatten().map(|found| found.item)
        };
        let (right, mut wrong) = (one(right)?, one(wrong)?);
        wrong.role = Some(Role::From);
        let mut statement = Statement::new(Intent::Correct);
        statement.confidence = 0.9;
        statement.day = self.details.day();
        statement.items = vec![right, wrong];
        Some(statement)
    }

    /// "sent back the bananas", "returned the milk", "took the plums back to the shop".
    pub(super) fn sent_back(&self) -> Option<Statement> {
        let first = self.clause.clone().find(|&i| {
            !self.a.tag(i).is_filler() && !self.a.tag(i).is_subject() && !self.a.tag(i).is_pronoun()
        })?;
        let back = (first..self.clause.end).find(|&i| self.word(i) == "back");
        let args = match (self.word(first), back) {
            ("returned", _) => first + 1..self.clause.end,
            ("sent", Some(at)) if at == first + 1 => at + 1..self.clause.end,
            ("sent", Some(at)) => first + 1..at,
            ("took" | "brought", Some(at)) if self.says_shop() => match at == first + 1 {
                true => at + 1..self.clause.end,
                false => first + 1..at,
            },
            _ => return None,
        };
        let list = accept_sure(self.a, self.list(args))?;
        let ours = list.found.iter().all(|f| f.definite || f.amount);
        ours.then(|| self.statement(Intent::NotReceived, list))
    }

    fn says_shop(&self) -> bool {
        self.any(&["to"]) && self.any(&["shop", "store", "market", "supermarket"])
    }

    /// "got everything on the list", "bought the whole list except the lemons".
    pub(super) fn whole_list(&self) -> Option<Statement> {
        let got = self.clause.clone().take(4).find(|&i| {
            matches!(self.word(i), "got" | "bought" | "have" | "picked" | "done" | "finished")
        })?;
        let list = (got..self.clause.end).find(|&i| self.word(i) == "list")?;
        let all = (got..list)
            .any(|i| matches!(self.word(i), "everything" | "all" | "whole" | "full" | "entire"))
            || self.word(list - 1) == "the" && list == got + 2 && self.word(got) != "have";
        let negated = self.any(&["not", "didn't", "didnt", "haven't", "nothing", "can't"]);
        if !all || negated {
            return None;
        }
        let except = (got..self.clause.end)
            .find(|&i| matches!(self.word(i), "except" | "but" | "without" | "minus"));
        let mut statement = Statement::new(Intent::Acquired);
        statement.confidence = 0.9;
        statement.day = self.details.day();
        statement.scope = Some(Scope::All);
        if let Some(at) = except {
            let args = at + 1..self.clause.end;
            statement.items = accept(self.a, self.list(args)).map(List::items).unwrap_or_default();
            statement.items.iter_mut().for_each(|item| item.role = Some(Role::From));
        }
        let price = self.clause.clone().find_map(|i| {
            crate::reader::prices::at(self.a, i, self.clause.end)
                .filter(|price| price.price.per.is_none())
        });
        statement.total = price.map(|price| price.price.minor);
        Some(statement)
    }
}
