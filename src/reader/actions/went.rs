//! What went out: eaten, cooked, given, thrown out, fed.

use std::ops::Range;

use super::{Clause, Memory, accept};
use crate::reader::details::{self, Goal, Way};
use crate::reader::items::{Found, List};
use crate::reader::verbs::Head;
use crate::reader::{Analysis, patterns};
use crate::statement::Statement;
use crate::units::Ratio;
use crate::words::{Destination, Form, Intent, Place};

impl Clause<'_, '_> {
    pub(super) fn used(
        &self,
        args: Range<usize>,
        memory: &mut Memory,
        finished: bool,
    ) -> Option<Statement> {
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
        let mut statement = self.statement(Intent::Used, list);
        self.standing(&mut statement);
        Some(statement)
    }

    /// "Finished the carrots in water": those, not the ones in the drawer.
    fn standing(&self, statement: &mut Statement) {
        if self.details.goal() == Some(Goal::Water) {
            for item in statement.items.iter_mut().filter(|item| item.form.is_none()) {
                item.form = Some(Form::InWater);
            }
        }
    }

    /// A bare food after "ate" or "used" counts only when the clause says little else.
    pub(super) fn used_plainly(&self, list: &List) -> bool {
        let words = self.clause.clone().filter(|&i| self.a.text.is_word(i)).count();
        words <= 4 + 4 * list.found.len()
    }

    pub(super) fn had(&self, args: Range<usize>) -> Option<Statement> {
        // "had 3 eggs and an apple", "had the last yogurt": out of the kitchen, not the pub's.
        if self.details.goal() != Some(Goal::Meal) {
            let list = accept(self.a, self.list(args.clone()))?;
            let last = self.a.text.find(args.clone(), &["the", "last"]).is_some()
                || self.a.text.find(args.clone(), &["the", "rest"]).is_some();
            let told = list.found.iter().all(|f| f.known && !f.homonym)
                && (last
                    || list
                        .found
                        .iter()
                        .any(|f| f.amount && f.item.quantity.is_some_and(|q| q.is_positive())))
                && !self.any(&["at", "left", "out"]);
            return (told && self.tight(&list)).then(|| self.statement(Intent::Used, list));
        }
        // "had a sandwich for lunch" says nothing of what was in the house.
        let list = accept(self.a, self.list(args))?;
        let told = list.found.iter().any(|f| f.amount || f.definite || f.item.fraction.is_some());
        told.then(|| self.statement(Intent::Used, list))
    }

    /// "dinner was pasta with the spinach and 2 tomatoes", "breakfast was 4 eggs".
    pub(super) fn meal_was(&self) -> Option<Statement> {
        let at = self.clause.clone().take(5).find(|&i| {
            matches!(self.word(i), "breakfast" | "lunch" | "dinner" | "tea" | "supper" | "brunch")
                && matches!(self.word(i + 1), "was" | "were")
        })?;
        if self.a.foods_in(self.clause.start..at).next().is_some() {
            return None;
        }
        let end = self.clause.end;
        let with = (at + 2..end).find(|&i| self.word(i) == "with").unwrap_or(end);
        let mut list = self.list(at + 2..with);
        list.found.extend(self.list((with + 1).min(end)..end).found);
        let list = accept(self.a, list)?;
        let ours = |f: &Found| f.known && (f.amount && f.item.quantity.is_some() || f.definite);
        list.found.iter().any(ours).then(|| self.statement(Intent::Used, list))
    }

    pub(super) fn took(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
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

    pub(super) fn threw(&self, head: Head, memory: &mut Memory) -> Option<Statement> {
        let args = head.args..self.clause.end;
        match self.details.goal() {
            Some(Goal::Dish) => return self.used(args, memory, false),
            Some(Goal::Bag) => return self.bagged(args, memory),
            Some(Goal::Waste(to)) => return self.discarded(args, memory, Some(to)),
            _ => {}
        }
        match self.details.place(Way::To) {
            Some(Place::Freezer) => return self.preserved(args, memory, Some(Form::Frozen)),
            // "Chucked the melon in the fridge" keeps it; "tossed the dill in the fridge, slimy" not.
            Some(_)
                if self.any(&["chucked", "tossed", "threw", "lobbed", "dumped"])
                    && !self.any(&["out", "away"])
                    && patterns::reason(self.a, args.clone()).is_none() =>
            {
                return self.moved(args, memory);
            }
            Some(_) | None => {}
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

    pub(super) fn discarded(
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
        self.standing(&mut statement);
        let none = reasons.iter().all(Option::is_none);
        for (item, reason) in statement.items.iter_mut().zip(reasons) {
            item.to = said;
            item.reason = reason.or_else(|| if none { whole.clone() } else { None });
            // Thrown out without an amount is thrown out whole when it is "the" or "it".
        }
        Some(statement)
    }

    pub(super) fn poured(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let away = self.any(&["away", "out"]);
        // "The milk away": the word belongs to the deed.
        let end = args.clone().rev().find(|&i| matches!(self.word(i), "away" | "out"));
        let args = args.start..end.filter(|&i| i > args.start).unwrap_or(args.end);
        match self.details.goal() {
            Some(Goal::Waste(to)) => self.discarded(args, memory, Some(to)),
            _ if away => self.discarded(args, memory, Some(Destination::Drain)),
            _ => None,
        }
    }

    pub(super) fn gave(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.word(args.start.saturating_sub(1)) == "swapped" {
            return self.changed(args, memory);
        }
        if let Some(Goal::Waste(to)) = self.details.goal() {
            return self.discarded(args, memory, Some(to));
        }
        let animal =
            (args.start..args.end.min(args.start + 3)).any(|i| details::is_animal(self.word(i)));
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
}

pub(super) fn to_all(statement: &mut Statement, to: Destination) {
    for item in &mut statement.items {
        item.to = Some(to);
    }
}

/// "to next door", "to the neighbours", "to mum": people follow a "to" or the verb itself.
pub(super) fn people_after(a: &Analysis<'_>, range: Range<usize>) -> bool {
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
