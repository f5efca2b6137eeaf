//! Counts: what is here, where it is, and what is not here any more.

use super::choose::{same_food, stands_in};
use super::*;

impl Deciding<'_> {
    pub(super) fn counted(&mut self) {
        let mut lines = Vec::new();
        let mut seen: Vec<LotId> = Vec::new();
        let mut gone = Vec::new();
        let mut placed: Vec<LotId> = Vec::new();
        for item in &self.statement.items {
            match self.count(item) {
                Ok((what, line, lots)) => {
                    if self.place(item).is_some() {
                        placed.extend(&lots);
                    }
                    seen.extend(lots);
                    let none = matches!(line.amount, Spoken::Exact(q) if q.value.is_zero());
                    if let Some(what) = what {
                        self.happened(what);
                    }
                    if none { gone.push(line) } else { lines.push(line) }
                }
                Err(trouble) => self.trouble(trouble),
            }
        }
        // What was counted where it was to go has been put there.
        let waiting = |id: &LotId| self.state.lot(*id).is_some_and(|lot| !lot.put_away);
        let put: Vec<LotId> = placed.into_iter().filter(waiting).collect();
        if !put.is_empty() {
            self.happened(What::PutAway { lots: put });
        }
        if self.statement.complete {
            gone.extend(self.rest_is_gone(&seen));
        }
        if !lines.is_empty() {
            self.told(Deed::Counted, lines);
        }
        if !gone.is_empty() {
            self.told(Deed::Gone, gone);
        }
    }

    fn count(&mut self, item: &Item) -> Result<(Option<What>, Line, Vec<LotId>), Trouble> {
        let food = self.food(item);
        let of = self.named(item);
        if of.name.is_empty() {
            return Err(Trouble::NoFood);
        }
        let read = read_amount(item, food, Amount::Vague)?;
        let said = self.place(item);
        let lots = self.counted_lots(item, &of, said.as_ref());
        let amount = match read.amount {
            Amount::Share(share) if share == Ratio::ONE => Amount::Vague,
            Amount::Share(share) => self.share_of(&lots, share),
            amount => amount,
        };
        let form = self.counted_form(item, food);
        let place = said.or_else(|| {
            lots.first().and_then(|id| self.state.lot(*id)).map(|lot| lot.place.clone())
        });
        let place = place.or_else(|| facts::home(food, form)).unwrap_or(Place::Counter);
        let quantity = match amount {
            Amount::Exact(quantity) => Some(quantity),
            Amount::Share(_) | Amount::Vague => None,
        };
        let limits =
            if form == Form::Frozen { Vec::new() } else { self.limits(food, form, &place) };
        let mut line = Line::new(of.clone(), form, read.spoken);
        line.place = Some(place.clone());
        line.unknown = food.is_none();
        line.lots.clone_from(&lots);
        let new = NewLot {
            lot: self.lot_id(),
            of,
            from: self.from,
            form,
            place,
            put_away: true,
            quantity,
            grams: read.grams,
            cost: None,
            limits,
            printed: item.printed,
        };
        let nothing = quantity.is_some_and(|quantity| quantity.value.is_zero());
        if !nothing && lots.is_empty() {
            line.lots = vec![new.lot];
        }
        let what = What::Counted { lots: lots.clone(), amount, grams: read.grams, new };
        // None of something that was not on record is no news.
        let what = (!nothing || !lots.is_empty()).then_some(what);
        Ok((what, line, lots))
    }

    /// The lots a count corrects: those of the named form and place; without a place those where
    /// the food normally is, and without a form never frozen, dried, cooked or in-water ones.
    fn counted_lots(&self, item: &Item, of: &Named, said: Option<&Place>) -> Vec<LotId> {
        let usual = self.cx.foods.usual_form(self.food(item));
        let everything = self.statement.complete && said.is_some();
        let mut lots: Vec<&Lot> = self
            .state
            .lots
            .iter()
            .filter(|lot| same_food(lot, of) && lot.part == of.part)
            .filter(|lot| match item.form {
                // A complete count speaks of everything in its place.
                None if everything => true,
                Some(Form::Whole) | None => counts_as_fresh(lot, usual, said),
                Some(form) => lot.form == form,
            })
            .filter(|lot| said.is_none_or(|place| stands_in(lot, place)))
            .collect();
        // Of several forms of one food, the fresh one is meant.
        super::choose::prefer(&mut lots, |lot| counts_as_fresh(lot, usual, said));
        if said.is_none()
            && let Some(home) = facts::home(self.food(item), item.form.unwrap_or(Form::Whole))
        {
            super::choose::prefer(&mut lots, |lot| {
                stands_in(lot, &home) || (home == Place::Crisper && lot.place == Place::Fridge)
            });
        }
        lots.sort_by_key(|lot| {
            let by = (self.cx.use_by)(lot).or(lot.safety_day(self.state.settings.zone));
            (by.is_none(), by, lot.since, lot.id)
        });
        lots.iter().map(|lot| lot.id).collect()
    }

    fn counted_form(&self, item: &Item, food: Option<&Food>) -> Form {
        let frozen = self.place(item) == Some(Place::Freezer);
        let usual = self.cx.foods.usual_form(food);
        item.form.unwrap_or(if frozen { Form::Frozen } else { usual })
    }

    fn share_of(&self, lots: &[LotId], share: Ratio) -> Amount {
        let held = lots.iter().map(|id| self.state.lot(*id).and_then(|lot| lot.quantity));
        let sum = held.reduce(|a, b| a.zip(b).and_then(|(a, b)| a.checked_add(b))).flatten();
        let part = sum.and_then(|sum| Some(Quantity::new(sum.value.checked_mul(share)?, sum.unit)));
        part.map_or(Amount::Vague, Amount::Exact)
    }

    /// After a complete count: what else the record has in that place is not there.
    fn rest_is_gone(&mut self, seen: &[LotId]) -> Vec<Line> {
        let names_form = |form: Form| {
            let frozen = |item: &Item| form == Form::Frozen && item.place == Some(Place::Freezer);
            self.statement.items.iter().any(|item| item.form == Some(form) || frozen(item))
        };
        let inside = |lot: &&Lot| match &self.statement.scope {
            Some(Scope::Place(place)) => stands_in(lot, place),
            // Said of the whole house it is said of what is eaten from day to day, unless it
            // names what is stored.
            Some(Scope::All) | None => {
                let stored = matches!(lot.form, Form::Frozen | Form::Dried);
                lot.place != Place::InGround && (!stored || names_form(lot.form))
            }
        };
        // What was bought today may still stand in its bags; older food is where it was to go.
        let of_the_house = !matches!(self.statement.scope, Some(Scope::Place(_)));
        let here = |lot: &Lot| lot.put_away || of_the_house || lot.since < self.day;
        let rest: Vec<&Lot> = self
            .state
            .lots
            .iter()
            .filter(inside)
            .filter(|lot| !seen.contains(&lot.id))
            .filter(|lot| here(lot))
            .collect();
        let lines: Vec<Line> = rest
            .iter()
            .map(|lot| {
                let amount = lot.quantity.map_or(Spoken::Plain, Spoken::Exact);
                let mut line = Line::new(lot.named(), lot.form, amount);
                line.lots = vec![lot.id];
                line
            })
            .collect();
        let lots: Vec<LotId> = rest.iter().map(|lot| lot.id).collect();
        if !lots.is_empty() {
            self.happened(What::Uncounted { lots });
        }
        lines
    }
}

/// Whether a count that names no form speaks of this lot.
fn counts_as_fresh(lot: &Lot, usual: Form, said: Option<&Place>) -> bool {
    if lot.form == usual {
        return true;
    }
    match lot.form {
        Form::Whole | Form::Cut | Form::Thawed | Form::Opened => true,
        // "Peas in the freezer": the place names the form.
        Form::Frozen => said == Some(&Place::Freezer),
        Form::Dried | Form::Cooked | Form::InWater => false,
    }
}
