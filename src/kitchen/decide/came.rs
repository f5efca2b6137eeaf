//! What came in: purchases, their prices, what never came, and putting away.

use super::choose::Purpose;
use super::*;
use crate::kitchen::outcome::{Asks, Choice};
use crate::statement::{ChargeKind, Price};
use crate::units::{Minor, Unit};
use crate::words::DateLabel;

/// Two people reporting one shop do so within this time, in minutes.
const SAME_SHOP_MINUTES: i64 = 12 * 60;

impl Deciding<'_> {
    /// The shopping list as a purchase, without what is said not to have come, and the household
    /// goods on it, which are no food.
    fn bought_list(&self) -> (Statement, Vec<Named>) {
        let without: Vec<Named> =
            self.statement.items.iter().map(|item| self.named(item)).collect();
        let bought = self
            .state
            .wanted
            .iter()
            .filter(|line| !without.iter().any(|of| of.key() == line.of.key()));
        let (goods, foods): (Vec<_>, Vec<_>) = bought.partition(|line| {
            line.of.food.is_none() && crate::reader::receipt::is_goods(&line.of.name)
        });
        let items = foods.into_iter().map(|line| Item {
            food: line.of.food.clone(),
            name: line.of.name.clone(),
            part: line.of.part.clone(),
            quantity: line.quantity.map(|quantity| quantity.value),
            unit: line.quantity.and_then(|quantity| quantity.unit),
            ..Item::default()
        });
        let list = Statement { items: items.collect(), scope: None, ..self.statement.clone() };
        (list, goods.into_iter().map(|line| line.of.clone()).collect())
    }

    /// "Got everything on the list."
    fn list_bought(&mut self) {
        let (list, goods) = self.bought_list();
        if list.items.is_empty() && goods.is_empty() {
            return self.trouble(Trouble::ListEmpty);
        }
        let whole = self.statement;
        if !list.items.is_empty() {
            let outcome = decide(self.state, &list, self.first_new, self.cx);
            self.next_lot +=
                outcome.events.iter().map(|each| each.what.new_lots().len()).sum::<usize>() as u64;
            self.out = outcome;
        } else if whole.total.is_some() {
            self.trip_total();
        }
        let lines: Vec<Line> =
            goods.iter().map(|of| Line::new(of.clone(), Form::Whole, Spoken::Plain)).collect();
        for of in goods {
            self.happened(What::Unwanted { of });
        }
        if !lines.is_empty() {
            self.told(Deed::Unwanted, lines);
        }
    }

    pub(super) fn acquired(&mut self) {
        if self.statement.scope == Some(Scope::All) {
            return self.list_bought();
        }
        if self.statement.items.is_empty() {
            match self.statement.total {
                Some(_) => self.trip_total(),
                None => self.trouble(Trouble::NoFood),
            }
            return;
        }
        let mut items = self.statement.items.clone();
        if let Some((question, new)) = self.told_already() {
            self.out.question = Some(question);
            items = new;
        }
        let single = items.len() == 1;
        let mut lots = Vec::new();
        let mut lines = Vec::new();
        for item in &items {
            match self.new_purchase(item, self.statement.total.filter(|_| single)) {
                Ok((new, line)) => {
                    lots.push(new);
                    lines.push(line);
                }
                Err(trouble) => self.trouble(trouble),
            }
        }
        if lots.is_empty() {
            return;
        }
        let mut costs = lots.iter().filter_map(|new| new.cost);
        let sum = costs.clone().try_fold(Minor(0), Minor::checked_add);
        let paid = self.statement.total.or(costs.next().and(sum));
        if paid.is_some_and(|paid| !(0..=MINOR_MAX).contains(&paid.0)) {
            self.trouble(Trouble::PriceTooHigh);
            return;
        }
        match self.receipt(&lots) {
            Some((food, total)) => {
                let charges = self.statement.charges.clone();
                self.happened(What::Acquired { lots, paid: Some(food) });
                self.told(Deed::CameIn { paid: None }, lines);
                self.happened(What::TripTotal { total, charges: charges.clone() });
                self.told(Deed::TripTotal { total, itemised: food, charges }, Vec::new());
            }
            None => {
                self.happened(What::Acquired { lots, paid });
                self.told(Deed::CameIn { paid }, lines);
            }
        }
    }

    /// What the food and the whole of a receipt cost, where it has more to it than priced food.
    fn receipt(&self, lots: &[NewLot]) -> Option<(Minor, Minor)> {
        let costs = lots.iter().filter_map(|new| new.cost);
        let food = costs.clone().try_fold(Minor(0), Minor::checked_add)?;
        let priced = lots.len() > 1 && costs.count() == lots.len();
        let charges = &self.statement.charges;
        if charges.is_empty() && !priced {
            return None;
        }
        // A tax line is mostly in the prices already: only a total says that it is not.
        let rest = charges.iter().filter(|charge| charge.kind != ChargeKind::Tax);
        let sum = rest.map(|charge| charge.minor).try_fold(food, Minor::checked_add)?;
        let total = self.statement.total.unwrap_or(sum);
        let odd = !charges.is_empty() || total != food;
        (odd && (0..=MINOR_MAX).contains(&total.0)).then_some((food, total))
    }

    fn new_purchase(
        &mut self,
        item: &Item,
        total: Option<Minor>,
    ) -> Result<(NewLot, Line), Trouble> {
        let food = self.food(item);
        let of = self.named(item);
        if of.name.is_empty() {
            return Err(Trouble::NoFood);
        }
        // "Carrots 2 for 3": two of them.
        let for_so_many = item.price.filter(|price| price.per.is_none());
        let quantity = item.quantity.or(for_so_many.and_then(|price| price.quantity));
        let item = &Item { quantity, ..item.clone() };
        if food.is_some_and(|food| self.cx.foods.is_hazard(food)) {
            return Err(Trouble::NotFood { name: of.name });
        }
        let read = read_amount(item, food, Amount::Vague)?;
        let quantity = match read.amount {
            Amount::Exact(quantity) if quantity.value.is_zero() => {
                return Err(Trouble::NoAmount { name: item.name.clone() });
            }
            Amount::Exact(quantity) => Some(quantity),
            Amount::Share(_) | Amount::Vague => None,
        };
        let cost = match item.price {
            Some(price) => Some(cost(price, quantity, read.grams).unwrap_or(price.minor)),
            None => total,
        };
        if cost.is_some_and(|cost| !(0..=MINOR_MAX).contains(&cost.0)) {
            return Err(Trouble::PriceTooHigh);
        }
        let form = item.form.unwrap_or_else(|| self.cx.foods.usual_form(food));
        let said = self.place(item);
        let home = facts::home(food, form);
        let place = said.clone().or(home).unwrap_or(Place::Counter);
        let mut limits = self.limits(food, form, &place);
        if let Some((DateLabel::UseBy, day)) = item.printed {
            limits.push(Limit {
                day: Some(day),
                at: None,
                why: String::new(),
                source: String::new(),
            });
        }
        if form == Form::Frozen {
            limits.clear();
        }
        let mut line = Line::new(of.clone(), form, read.spoken);
        line.place = Some(place.clone());
        line.unknown = food.is_none();
        line.eat_by = eat_by(&limits, self.state);
        let new = NewLot {
            lot: self.lot_id(),
            of,
            from: self.from,
            form,
            place,
            put_away: said.is_some(),
            quantity,
            grams: read.grams,
            cost,
            limits,
            printed: item.printed,
        };
        line.lots = vec![new.lot];
        Ok((new, line))
    }

    /// The question to ask when somebody else reported this very shop a while ago.
    /// What was not reported comes with it, to be recorded now.
    fn told_already(&self) -> Option<(Question, Vec<Item>)> {
        if self.cx.sure {
            return None;
        }
        let theirs: Vec<&Lot> = self
            .state
            .lots
            .iter()
            .filter(|lot| lot.since == self.day && lot.by.is_some() && lot.by != self.cx.person)
            .filter(|lot| {
                let arrived = lot.stays.first().map(|stay| stay.from);
                arrived.is_some_and(|at| self.from.minutes_since(at).abs() <= SAME_SHOP_MINUTES)
            })
            .collect();
        let same = |item: &Item| {
            let of = self.named(item);
            let quantity = item.quantity.map(|value| Quantity::new(value, item.unit));
            theirs.iter().any(|lot| {
                super::choose::same_food(lot, &of)
                    && (quantity.is_none() || lot.quantity == quantity)
                    && lot.part == of.part
            })
        };
        let items = &self.statement.items;
        let (shared, new): (Vec<&Item>, Vec<&Item>) = items.iter().partition(|item| same(item));
        // One thing in common among many is two people buying milk.
        let told = new.is_empty() || (shared.len() > 1 && shared.len() >= new.len());
        if shared.is_empty() || !told {
            return None;
        }
        let named = shared.iter().map(|item| self.named(item)).collect();
        let about = Statement {
            items: shared.into_iter().cloned().collect(),
            total: self.statement.total.filter(|_| new.is_empty()),
            ..self.statement.clone()
        };
        let question = same_or_more(Asks::SameShop { items: named }, &about);
        Some((question, new.into_iter().cloned().collect()))
    }

    pub(super) fn not_received(&mut self) {
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let food = self.food(item);
            let of = self.named(item);
            let read = match read_amount(item, food, Amount::ALL) {
                Ok(read) => read,
                Err(trouble) => {
                    self.trouble(trouble);
                    continue;
                }
            };
            let mut lots = self.candidates(item, &of, Purpose::Out);
            // What came last is what never came.
            lots.sort_by_key(|id| {
                std::cmp::Reverse((self.state.lot(*id).map(|lot| lot.since), *id))
            });
            if item.quantity.is_none() {
                let newest = lots.first().and_then(|id| self.state.lot(*id));
                let brought = newest.and_then(|lot| lot.from);
                let first = lots.first().copied();
                lots.retain(|id| {
                    let from = self.state.lot(*id).and_then(|lot| lot.from);
                    Some(*id) == first || (brought.is_some() && from == brought)
                });
            }
            if lots.is_empty() {
                self.trouble(Trouble::NotOnRecord { name: of.name });
                continue;
            }
            let draw = Draw { of: of.clone(), lots, amount: read.amount, grams: read.grams };
            lines.push(Line::new(of, item.form.unwrap_or(Form::Whole), read.spoken));
            self.happened(What::NotReceived { draw });
        }
        if !lines.is_empty() {
            self.told(Deed::NotReceived, lines);
        }
    }

    /// "All put away", or the named foods only.
    pub(super) fn put_away(&mut self) {
        let items = &self.statement.items;
        let meant = |lot: &&Lot| {
            !lot.put_away
                && (items.is_empty()
                    || items.iter().any(|item| super::choose::same_food(lot, &self.named(item))))
        };
        let lots: Vec<LotId> = self.state.lots.iter().filter(meant).map(|lot| lot.id).collect();
        // With a place named it is a move of what is named.
        if items.iter().any(|item| self.place(item).is_some()) {
            self.moved();
            return;
        }
        if lots.is_empty() {
            self.trouble(Trouble::NothingToPutAway);
            return;
        }
        let lines = lots
            .iter()
            .filter_map(|id| self.state.lot(*id))
            .map(|lot| {
                let amount = lot.quantity.map_or(Spoken::Plain, Spoken::Exact);
                let mut line = Line::new(lot.named(), lot.form, amount);
                line.place = Some(lot.place.clone());
                line.lots = vec![lot.id];
                line
            })
            .collect();
        self.happened(What::PutAway { lots });
        self.told(Deed::PutAway, lines);
    }
}

/// "Is it the same one, or more?"
pub(super) fn same_or_more(asks: Asks, statement: &Statement) -> Question {
    let more = Choice { key: "more".to_owned(), day: None, then: vec![statement.clone()] };
    let same = Choice { key: "same".to_owned(), day: None, then: Vec::new() };
    Question { asks, choices: vec![same, more] }
}

/// What an amount costs at a price as said; `None` when the price's unit does not fit the amount.
pub(crate) fn cost(price: Price, quantity: Option<Quantity>, grams: Option<i64>) -> Option<Minor> {
    let Some(per) = price.per else {
        // For the whole item, or for so many of it ("2 for 3").
        let Some(each) = price.quantity.filter(|each| each.is_positive()) else {
            return Some(price.minor);
        };
        let times = quantity?.value.checked_div(each)?;
        return price.minor.times(times);
    };
    let one = Quantity::new(price.quantity.unwrap_or(Ratio::ONE), Some(per));
    if let Some(times) = quantity.and_then(|quantity| {
        let unit = if per == Unit::Piece {
            quantity.unit.filter(|u| u.dimension() != Dimension::Count)
        } else {
            Some(per)
        };
        let amount = if per == Unit::Piece && unit.is_none() {
            // "1.50 each": each of whatever was counted.
            Quantity::new(quantity.value, Some(per))
        } else {
            quantity.to_unit(unit)?
        };
        amount.value.checked_div(one.value)
    }) {
        return price.minor.times(times);
    }
    let times = Ratio::whole(grams?).checked_div(one.grams()?)?;
    price.minor.times(times)
}
