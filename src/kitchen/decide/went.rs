//! What went out: used, given, thrown out, saved as trimmings.

use super::came::same_or_more;
use super::choose::Purpose;
use super::ended::{self, Way};
use super::*;
use crate::kitchen::outcome::Asks;
use crate::words::Destination;

/// Two people reporting one use do so within this time, in minutes.
const SAME_USE_MINUTES: i64 = 2 * 60;

impl Deciding<'_> {
    pub(super) fn used(&mut self) {
        if let Some(question) = self.used_already() {
            self.out.question = Some(question);
            return;
        }
        let mut drawn = Vec::new();
        let lines = self.each_draw(Amount::Vague, |item, draw| {
            let going = item.reason.is_some();
            drawn.push((draw.clone(), if going { Way::UsedGoing } else { Way::Used }));
            What::Used { draw }
        });
        for (draw, way) in drawn {
            self.ended(&draw, way);
        }
        if !lines.is_empty() {
            self.told(Deed::Used, lines);
        }
    }

    pub(super) fn given(&mut self) {
        let lines = self.each_draw(Amount::ALL, |_, draw| What::Given { draw });
        if !lines.is_empty() {
            self.told(Deed::Given, lines);
        }
    }

    pub(super) fn discarded(&mut self) {
        let to = self.statement.items.iter().find_map(|item| item.to);
        let to = to.unwrap_or(Destination::Trash);
        if to == Destination::People {
            return self.given();
        }
        if self.statement.items.iter().any(|item| super::trimmings::is_bag(&item.name)) {
            return self.bag_emptied(to);
        }
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let of = match super::trimmings::is_mixed(item) {
                true => Named::mixed_scraps(),
                false => self.named(item),
            };
            let to = item.to.unwrap_or(to);
            let food = self.food(item);
            let read = match read_amount(item, food, Amount::ALL) {
                Ok(read) => read,
                Err(trouble) => {
                    self.trouble(trouble);
                    continue;
                }
            };
            let candidates = self.candidates(item, &of, Purpose::Out);
            let mut line =
                Line::new(of.clone(), form_of(self.state, item, &candidates), read.spoken);
            line.unknown = food.is_none();
            let lots = self.meant(&read, candidates);
            let trimmed = of.part.clone().filter(|_| lots.is_empty());
            let what = match trimmed {
                Some(part) => {
                    line.amount = match line.amount {
                        Spoken::All => Spoken::Plain,
                        other => other,
                    };
                    What::PartDiscarded {
                        of,
                        part,
                        grams: read.grams,
                        to,
                        reason: item.reason.clone(),
                    }
                }
                None => {
                    let raw = matches!(line.form, Form::Whole | Form::Cut | Form::InWater);
                    let inedible = food.and_then(|food| food.inedible).filter(|_| raw);
                    let draw = self.draw(of, lots, &read);
                    line.not_on_record = shortfall(self.state, &draw);
                    line.lots.clone_from(&draw.lots);
                    line.one = self.is_one(&draw.lots);
                    What::Discarded {
                        draw,
                        to,
                        reason: item.reason.clone(),
                        inedible: inedible.map(|(share, _)| share),
                    }
                }
            };
            if let What::Discarded { draw, .. } = &what {
                self.ended(draw, Way::ThrownOut(item.reason.as_deref()));
            }
            self.happened(what);
            lines.push(line);
        }
        if lines.is_empty() {
            if self.statement.items.is_empty() {
                self.trouble(Trouble::NoFood);
            }
            return;
        }
        self.told(Deed::Discarded { to }, lines);
    }

    /// Draws every item out of the lots it means.
    pub(super) fn each_draw(
        &mut self,
        default: Amount,
        mut what: impl FnMut(&Item, Draw) -> What,
    ) -> Vec<Line> {
        if self.statement.items.is_empty() {
            self.trouble(Trouble::NoFood);
        }
        let mut lines = Vec::new();
        let mut events = Vec::new();
        for item in &self.statement.items {
            match self.drawn(item, default, Purpose::Out) {
                Ok((draw, line)) => {
                    events.push(what(item, draw));
                    lines.push(line);
                }
                Err(trouble) => self.trouble(trouble),
            }
        }
        events.into_iter().for_each(|what| self.happened(what));
        lines
    }

    pub(super) fn drawn(
        &self,
        item: &Item,
        default: Amount,
        purpose: Purpose,
    ) -> Result<(Draw, Line), Trouble> {
        let food = self.food(item);
        let of = self.named(item);
        if of.name.is_empty() {
            return Err(Trouble::NoFood);
        }
        let candidates = self.candidates(item, &of, purpose);
        let all_of_it = default == Amount::Vague && self.means_all(item, food, &candidates);
        let read = read_amount(item, food, if all_of_it { Amount::ALL } else { default })?;
        if read.amount == Amount::Exact(Quantity::new(Ratio::ZERO, item.unit)) {
            return Err(Trouble::NoAmount { name: item.name.clone() });
        }
        let gone = if candidates.is_empty() && of.part.is_none() { self.gone(&of) } else { None };
        // What was used up since was here on the day that is told of.
        let gone = gone.filter(|gone| gone.day <= self.day);
        let mut line = Line::new(of.clone(), form_of(self.state, item, &candidates), read.spoken);
        line.unknown = food.is_none();
        let mut lots = self.meant(&read, candidates);
        if let Some(gone) = gone {
            // Drawn on all the same: it counts should what took them be taken back.
            lots = gone.lots;
            line.gone = Some((Box::new(gone.how), gone.day, gone.message));
        }
        let draw = self.draw(of, lots, &read);
        line.not_on_record = shortfall(self.state, &draw);
        line.lots.clone_from(&draw.lots);
        line.one = self.is_one(&draw.lots);
        Ok((draw, line))
    }

    /// Whether a food named without an amount is all there is of it: "the" pumpkin, or the only
    /// one. Of what comes in stores, like rice and milk, some is used at a time.
    fn means_all(&self, item: &Item, food: Option<&Food>, lots: &[LotId]) -> bool {
        if item.vague || item.quantity.is_some() || item.fraction.is_some() {
            return false;
        }
        let stored = food.is_some_and(|food| {
            matches!(
                food.kind,
                Kind::Pantry | Kind::Condiment | Kind::Dairy | Kind::Grain | Kind::Bread
            )
        });
        !stored && (item.definite || self.is_one(lots))
    }

    /// A draw; a share carries the grams it is now, for the day its lots are gone.
    pub(super) fn draw(&self, of: Named, lots: Vec<LotId>, read: &Read) -> Draw {
        let grams = match read.amount {
            Amount::Exact(_) | Amount::Vague => read.grams,
            Amount::Share(share) => {
                let held: Option<i64> =
                    lots.iter().map(|id| self.state.lot(*id)?.grams).sum::<Option<i64>>();
                held.filter(|_| !lots.is_empty()).map(|grams| taking::part_of(grams, share))
            }
        };
        Draw { of, lots, amount: read.amount, grams }
    }

    /// The question to ask when somebody else reported this very use a moment ago.
    fn used_already(&self) -> Option<Question> {
        let items = &self.statement.items;
        if self.cx.sure || items.is_empty() {
            return None;
        }
        let same = |item: &Item| {
            let of = self.named(item);
            let quantity = item.quantity.map(|value| Quantity::new(value, item.unit));
            if quantity.is_none() {
                // "Finished the peas", told again by somebody else.
                let gone = self.state.lots.iter().all(|lot| !super::choose::same_food(lot, &of));
                return gone
                    && self.gone(&of).is_some_and(|gone| {
                        gone.how == Deed::Used
                            && gone.by != self.cx.person
                            && self.from.minutes_since(gone.at).abs() <= SAME_USE_MINUTES
                    });
            }
            self.state.recent_uses.iter().any(|used| {
                used.by != self.cx.person
                    && used.key == of.key()
                    && used.quantity == quantity
                    && self.from.minutes_since(used.at).abs() <= SAME_USE_MINUTES
            })
        };
        if !items.iter().all(same) {
            return None;
        }
        let named = items.iter().map(|item| self.named(item)).collect();
        Some(same_or_more(Asks::SameUse { items: named }, self.statement))
    }
}

/// The form a statement is about: the one said, else that of the first lot it means.
pub(super) fn form_of(state: &State, item: &Item, lots: &[LotId]) -> Form {
    let held = lots.first().and_then(|id| state.lot(*id)).map(|lot| lot.form);
    item.form.or(held).unwrap_or(Form::Whole)
}

/// A deed done by button on exactly these lots.
pub fn deed_on(state: &State, deed: LotDeed, lots: &[LotId], cx: &Cx<'_>) -> Record {
    let held: Vec<&Lot> = lots.iter().filter_map(|id| state.lot(*id)).collect();
    let mut outcome = Outcome::default();
    let mut lines = Vec::new();
    let all = |lot: &Lot| Draw {
        of: lot.named(),
        lots: vec![lot.id],
        amount: Amount::ALL,
        grams: lot.grams,
    };
    let mut whats = Vec::new();
    let mut taught = Vec::new();
    for lot in &held {
        let mut line =
            Line::new(lot.named(), lot.form, lot.quantity.map_or(Spoken::All, Spoken::Exact));
        line.lots = vec![lot.id];
        match deed {
            LotDeed::UsedUp => {
                taught.extend(ended::cases(state, &all(lot), Way::Used, cx.now, cx));
                whats.push(What::Used { draw: all(lot) });
            }
            LotDeed::ThrownOut => {
                taught.extend(ended::cases(state, &all(lot), Way::ThrownOut(None), cx.now, cx));
                let raw = matches!(lot.form, Form::Whole | Form::Cut | Form::InWater);
                let food = lot.food.as_ref().and_then(|id| cx.foods.food(id));
                let inedible = food.and_then(|food| food.inedible).filter(|_| raw);
                whats.push(What::Discarded {
                    draw: all(lot),
                    to: Destination::Trash,
                    reason: None,
                    inedible: inedible.map(|(share, _)| share),
                });
            }
            LotDeed::WaterChanged | LotDeed::StillHere => {}
        }
        if deed == LotDeed::WaterChanged {
            line.water_due = lot.water.as_ref().map(|water| water.next(cx.today));
        }
        lines.push(line);
    }
    let numbers: Vec<LotId> = held.iter().map(|lot| lot.id).collect();
    let told = match deed {
        LotDeed::UsedUp => Deed::Used,
        LotDeed::ThrownOut => Deed::Discarded { to: Destination::Trash },
        LotDeed::WaterChanged => {
            whats.push(What::WaterChanged { lots: numbers });
            Deed::WaterChanged
        }
        LotDeed::StillHere => {
            whats.push(What::Seen { lots: numbers });
            Deed::StillHere
        }
    };
    if !taught.is_empty() {
        whats.push(What::Ended { cases: taught });
    }
    if !held.is_empty() {
        let happened = |what| Happened { day: cx.today, replaces: None, what };
        outcome.events = whats.into_iter().map(happened).collect();
        outcome.told = vec![Told { deed: told, lines, day: None }];
    }
    let mut record = Record { state: state.clone(), ..Record::default() };
    absorb(&mut record, outcome, cx);
    record
}

impl Standing {
    /// The day the water is next due after a change on `changed`.
    pub fn next(&self, changed: KitchenDay) -> KitchenDay {
        changed.plus(i64::from(self.every_days))
    }
}
