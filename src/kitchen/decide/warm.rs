//! Left out of the cold, and cold places without power: the safety clocks in hours.

use super::choose::stands_in;
use super::*;
use crate::kitchen::outcome::{Asks, Choice, Verdict};

/// Longest time taken at its word, in minutes: 60 days.
const MINUTES_MAX: u32 = 60 * 24 * 60;

impl Deciding<'_> {
    pub(super) fn left_out(&mut self) {
        if self.statement.items.is_empty() {
            return self.trouble(Trouble::NoFood);
        }
        let Some(minutes) = self.statement.minutes.map(|minutes| minutes.min(MINUTES_MAX)) else {
            return self.how_long_out();
        };
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let of = self.named(item);
            let food = self.food(item);
            let lots = self.stood_out(item, &of);
            let form = self.stood_as(item, food, &lots);
            let clock = self.cx.foods.left_out(food, form);
            let reason = clock.as_ref().map(|clock| (clock.why.clone(), clock.source.clone()));
            let over = clock.filter(|clock| clock.minutes.is_none_or(|longest| minutes > longest));
            let began = self.from.plus_minutes(-i64::from(minutes));
            let limit = over.map(|clock| clock.limit(began.day(self.state.settings.zone), began));
            let passed = self.passed(&lots);
            let mut line = self.stood(of.clone(), form, &lots);
            let out = limit.is_some() || passed.is_some();
            line.verdict = Some(if out { Verdict::Out } else { Verdict::Keep });
            line.why = passed.or(reason);
            lines.push(line);
            if !lots.is_empty() {
                self.happened(What::LeftOut { lots, minutes, limit });
            }
        }
        lines.sort_by_key(|line| line.verdict);
        self.told(Deed::LeftOut, lines);
    }

    /// The line about what stood out: the lot by its own name and amount, where it is one.
    fn stood(&self, of: Named, form: Form, lots: &[LotId]) -> Line {
        let only = match lots {
            [only] => self.state.lot(*only),
            _ => None,
        };
        let mut line = match only {
            Some(lot) => {
                let amount = lot.quantity.map_or(Spoken::Plain, Spoken::Exact);
                Line::new(lot.named(), form, amount)
            }
            None => Line::new(of, form, Spoken::Plain),
        };
        line.lots = lots.to_vec();
        line
    }

    /// The limit that every one of these lots has passed already, with its source.
    fn passed(&self, lots: &[LotId]) -> Option<(String, String)> {
        let mut limits = lots.iter().map(|id| self.passed_by(self.state.lot(*id)?));
        let first = limits.next()??;
        limits.all(|limit| limit.is_some()).then_some((first.why, first.source))
    }

    fn passed_by(&self, lot: &Lot) -> Option<Limit> {
        let today = self.cx.now.day(self.state.settings.zone);
        let passed = |limit: &&Limit| {
            limit.day.is_some_and(|day| day < today) || limit.at.is_some_and(|at| at < self.cx.now)
        };
        lot.limits.iter().find(passed).cloned()
    }

    /// What stood out: the cooked or opened before the whole, and never what is in the freezer
    /// unless that was said.
    fn stood_out(&self, item: &Item, of: &Named) -> Vec<LotId> {
        let mut lots = self.candidates(item, of, super::choose::Purpose::Out);
        let thawing = item.form == Some(Form::Frozen);
        let warm =
            |id: &LotId| self.state.lot(*id).is_some_and(|lot| thawing || lot.form != Form::Frozen);
        if lots.iter().any(warm) {
            lots.retain(warm);
        }
        lots
    }

    /// The form it stood out in. What neither the record nor the rule set knows is taken for
    /// cooked: unknown is not safe.
    fn stood_as(&self, item: &Item, food: Option<&Food>, lots: &[LotId]) -> Form {
        let held = lots.first().and_then(|id| self.state.lot(*id)).map(|lot| lot.form);
        let form = item.form.or(held).unwrap_or_else(|| self.cx.foods.usual_form(food));
        if food.is_none() && form == Form::Whole { Form::Cooked } else { form }
    }

    fn how_long_out(&mut self) {
        let mut lines = Vec::new();
        let mut longest: Option<u32> = None;
        for item in &self.statement.items {
            let of = self.named(item);
            let food = self.food(item);
            let lots = self.stood_out(item, &of);
            let form = self.stood_as(item, food, &lots);
            let clock = self.cx.foods.left_out(food, form);
            let mut line = self.stood(of, form, &lots);
            line.verdict = Some(if clock.is_some() { Verdict::LookAt } else { Verdict::Keep });
            if let Some(clock) = clock {
                let minutes = clock.minutes.unwrap_or(0);
                longest = Some(longest.map_or(minutes, |other| other.min(minutes)));
                line.why = Some((clock.why, clock.source));
            }
            lines.push(line);
        }
        if let Some(minutes) = longest {
            let with = |minutes: u32| {
                let mut statement = self.statement.clone();
                statement.minutes = Some(minutes);
                vec![statement]
            };
            let items = lines.iter().map(|line| line.of.clone()).collect();
            self.out.question = Some(Question {
                asks: Asks::HowLongOut { items, minutes },
                choices: vec![
                    Choice {
                        key: "yes".to_owned(),
                        day: None,
                        then: with(minutes.saturating_add(1)),
                    },
                    Choice { key: "no".to_owned(), day: None, then: with(minutes) },
                ],
            });
        }
        self.told(Deed::LeftOut, lines);
    }

    pub(super) fn outage(&mut self) {
        let cold = [Place::Fridge, Place::Freezer];
        let places: Vec<Place> = match &self.statement.scope {
            Some(Scope::Place(Place::Crisper)) => vec![Place::Fridge],
            Some(Scope::Place(place)) => vec![place.clone()],
            Some(Scope::All) | None => cold.to_vec(),
        };
        let back = self.statement.topic.as_deref() == Some("back");
        for place in places {
            let told = self.statement.minutes.map(|minutes| minutes.min(MINUTES_MAX));
            let minutes = told.or_else(|| {
                let since = self.state.failed.get(&place).filter(|_| back)?;
                u32::try_from(self.from.minutes_since(*since).max(0)).ok()
            });
            match minutes {
                Some(minutes) => {
                    self.was_without(place, minutes);
                    // A place nobody named and with nothing in it is not worth a line.
                    let named = matches!(self.statement.scope, Some(Scope::Place(_)));
                    let several = self.out.told.len() > 1;
                    let empty = self.out.told.last().is_some_and(|told| told.lines.is_empty());
                    if !named && several && empty {
                        self.out.told.pop();
                    }
                }
                None if back => {}
                None => {
                    self.happened(What::PlaceFailed { place: place.clone(), since: self.from });
                    let outage = self.cx.foods.outage();
                    let freezer = place == Place::Freezer;
                    let keeps_minutes =
                        if freezer { outage.freezer_minutes } else { outage.fridge_minutes };
                    let source = outage.source;
                    self.told(Deed::PlaceFailed { place, keeps_minutes, source }, Vec::new());
                }
            }
        }
    }

    /// A cold place stood without cooling for so long, until now.
    fn was_without(&mut self, place: Place, minutes: u32) {
        let outage = self.cx.foods.outage();
        let freezer = place == Place::Freezer;
        let keeps = if freezer { outage.freezer_minutes } else { outage.fridge_minutes };
        let began = self.from.plus_minutes(-i64::from(minutes));
        let mut out = Vec::new();
        let mut lines = Vec::new();
        for lot in self.state.lots.iter().filter(|lot| stands_in(lot, &place)) {
            let food = lot.food.as_ref().and_then(|id| self.cx.foods.food(id));
            // What thawed is judged as thawed.
            let form = if lot.form == Form::Frozen { Form::Thawed } else { lot.form };
            let clock = self.cx.foods.left_out(food, form).filter(|_| minutes > keeps);
            let passed = self.passed_by(lot);
            let verdict = match &clock {
                // Out before the power went.
                _ if passed.is_some() => Verdict::Out,
                None => Verdict::Keep,
                // A full freezer holds longer, and what still has ice in it is as good as before.
                Some(_) if freezer && minutes <= outage.freezer_full_minutes => Verdict::LookAt,
                Some(_) => Verdict::Out,
            };
            let mut line =
                Line::new(lot.named(), lot.form, lot.quantity.map_or(Spoken::Plain, Spoken::Exact));
            line.lots = vec![lot.id];
            line.verdict = Some(verdict);
            if let Some(limit) = passed {
                line.why = Some((limit.why, limit.source));
            } else if let (Verdict::Out, Some(clock)) = (verdict, clock) {
                let limit = Limit {
                    day: None,
                    at: Some(began.plus_minutes(i64::from(keeps))),
                    why: clock.why,
                    source: outage.source.clone(),
                };
                line.why = Some((limit.why.clone(), limit.source.clone()));
                out.push((lot.id, limit));
            }
            lines.push(line);
        }
        lines.sort_by_key(|line| line.verdict);
        self.happened(What::PlaceRestored { place: place.clone(), minutes, out });
        self.told(Deed::Outage { place, minutes }, lines);
    }
}
