//! What changed in the house: kept, thawed, prepared, moved, opened, left out, watered.

use std::ops::Range;

use super::{Clause, Memory, accept, accept_sure};
use crate::reader::details::{Goal, Way};
use crate::reader::items::{Found, List};
use crate::reader::{Analysis, amounts, patterns};
use crate::statement::{Scope, Statement};
use crate::units::{Ratio, Unit};
use crate::words::{Form, Intent, Place, Role};

/// Words before a name in which its state is said.
const BEFORE_NAME: usize = 2;

impl Clause<'_, '_> {
    pub(super) fn preserved(
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

    pub(super) fn formed(
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
    pub(super) fn blanched(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.details.place(Way::To) == Some(&Place::Freezer) || self.any(&["froze"]) {
            let first = self.list(args.clone());
            let mut statement = self.preserved(args.clone(), memory, Some(Form::Frozen))?;
            let nameless = (args.start..args.end)
                .filter(|&i| self.a.text.number(i).is_some())
                .find_map(|i| amounts::read(self.a, i, args.end).filter(|m| m.unit.is_some()));
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
    pub(super) fn cooked(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.any(&["scraps", "trimmings", "bag", "carcass", "peelings"]) {
            let mut statement = Statement::new(Intent::StockMade);
            statement.day = self.details.day();
            statement.confidence = 0.85;
            return Some(statement);
        }
        self.formed(Intent::Prepared, Some(Form::Cooked), args, memory)
    }

    /// "cut up the fennel"; "cut the carrots into sticks, in water" is both in one.
    pub(super) fn cut(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let mut statement = self.formed(Intent::Prepared, Some(Form::Cut), args, memory)?;
        if self.details.goal() == Some(Goal::Water) {
            statement.intent = Intent::PutInWater;
        }
        Some(statement)
    }

    pub(super) fn put(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if self.word(args.end - 1) == "away" || self.word(args.start) == "away" {
            return self.put_away(args, memory);
        }
        match self.details.goal() {
            Some(Goal::Water) => return self.in_water(args, memory),
            Some(Goal::Waste(to)) => return self.discarded(args, memory, Some(to)),
            Some(Goal::Bag) => return self.bagged(args, memory),
            Some(Goal::Dish) => return self.used(args, memory, false),
            Some(Goal::List) => return self.listed(Intent::Wanted, args, memory),
            Some(Goal::Meal) | None => {}
        }
        // "stuck the herbs in a glass": nobody drinks parsley.
        let vessel = self.any(&["jar", "glass", "vase", "jug", "tumbler"]);
        if vessel
            && let Some(list) = accept(self.a, self.list(args.clone()))
            && list.found.iter().all(|f| stands_in_water(&f.item.name))
        {
            return self.in_water(args, memory);
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

    pub(super) fn in_water(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let list = self.items(args, memory)?;
        let mut statement = self.statement(Intent::PutInWater, list);
        for item in &mut statement.items {
            item.form = Some(Form::InWater);
            item.fraction = item.fraction.filter(|f| *f != Ratio::ONE);
        }
        Some(statement)
    }

    pub(super) fn bagged(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        Some(self.scraps(self.items(args, memory)?))
    }

    /// Scraps for the bag, each with the state said of it ("mouldy carrot ends").
    pub(super) fn scraps(&self, list: List) -> Statement {
        let reasons: Vec<Option<String>> = list
            .found
            .iter()
            .map(|found| {
                let begins = found.tokens.start.saturating_sub(BEFORE_NAME).max(self.clause.start);
                patterns::reason(self.a, begins..found.trailing.end.max(found.tokens.end))
            })
            .collect();
        let mut statement = self.statement(Intent::ScrapsSaved, list);
        for (item, reason) in statement.items.iter_mut().zip(reasons) {
            item.reason = reason;
        }
        statement
    }

    pub(super) fn moved(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
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

    pub(super) fn put_away(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let list = accept(self.a, self.list(args.clone()));
        // "put it away" says what only after something was named.
        let pronoun = self.any(&["it", "stuff", "lot"]) && !self.any(&["all", "everything"]);
        if list.is_none() && pronoun && memory.items.is_empty() && !self.a.context.addressed {
            return None;
        }
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
            // "Put away", right after the shop was told.
            None if all
                || args.is_empty() && memory.intent == Some(Intent::Acquired)
                || args.is_empty() && self.a.context.addressed =>
            {
                let mut statement = Statement::new(Intent::PutAway);
                statement.scope = Some(Scope::All);
                statement.day = self.details.day();
                Some(statement)
            }
            None => None,
        }
    }

    pub(super) fn changed(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        if !self.any(&["water", "waters"])
            || self
                .any(&["filter", "filters", "heater", "pump", "cooler", "tank", "meter", "bottle"])
        {
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
            .or_else(|| accept(self.a, without(self.list(args.start..water), "water")));
        let mut statement = self.statement(Intent::WaterChanged, list.unwrap_or_default());
        if statement.items.is_empty() {
            statement.scope = Some(Scope::All);
        }
        Some(statement)
    }

    /// "did the asparagus": the chore of an item in water.
    pub(super) fn did(&self, args: Range<usize>) -> Option<Statement> {
        if self.word(args.start) != "the"
            && self.word(args.start) != "all"
            && self.word(args.start) != "both"
        {
            return None;
        }
        let short = args.len() <= 6;
        if short && self.any(&["water", "waters"]) {
            let list = accept(self.a, without(self.list(args), "water")).unwrap_or_default();
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

    pub(super) fn saved(&self, args: Range<usize>, memory: &mut Memory) -> Option<Statement> {
        let for_stock = self.details.goal() == Some(Goal::Bag);
        for_stock.then(|| self.bagged(args, memory)).flatten()
    }

    /// "made bean stew, 6 portions, with 300 g carrots and 2 leeks".
    pub(super) fn made(&self, args: Range<usize>) -> Option<Statement> {
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
        if let Some((quantity, unit)) = portions
            && (first.item.quantity.is_none()
                || first
                    .item
                    .unit
                    .is_none_or(|unit| matches!(unit, Unit::Pot | Unit::Tray | Unit::Bowl)))
        {
            first.item.quantity = Some(quantity);
            first.item.unit = Some(unit);
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
            found.item.definite = found.definite && !found.vague;
            found.item.role = Some(Role::From);
            statement.items.push(found.item);
        }
        Some(statement)
    }
}

/// Herbs and stalks that are kept standing in water.
fn stands_in_water(name: &str) -> bool {
    let last = name.rsplit(' ').next().unwrap_or_default();
    matches!(
        last,
        "herbs"
            | "herb"
            | "parsley"
            | "cilantro"
            | "coriander"
            | "mint"
            | "basil"
            | "dill"
            | "chives"
            | "tarragon"
            | "chervil"
            | "sage"
            | "thyme"
            | "rosemary"
            | "asparagus"
            | "celery"
            | "scallions"
            | "onions"
            | "greens"
            | "chard"
    )
}

pub(super) fn without(mut list: List, name: &str) -> List {
    list.found.retain(|f| f.item.name != name && !f.item.name.ends_with(" water"));
    list
}

/// "6 portions": an amount of what was made.
pub(super) fn portions(a: &Analysis<'_>, range: Range<usize>) -> Option<(Ratio, Unit)> {
    range.clone().find_map(|i| {
        let amount = amounts::read(a, i, range.end).filter(|m| m.counted)?;
        let unit = amount.unit?;
        let nameless =
            amount.end >= range.end || !a.text.is_word(amount.end) || a.tag(amount.end).is_stop();
        (nameless || unit == Unit::Portion).then_some((amount.quantity?, unit))
    })
}

pub(super) fn portion_only(found: &Found) -> bool {
    matches!(found.item.name.as_str(), "portions" | "portion" | "servings")
}
