//! Where what just came in goes: only what people get wrong, grouped by place.

use std::collections::BTreeMap;

use super::outlook::{Grounds, Outlook};
use super::view::Held;
use crate::conversation::Rich;
use crate::keeping::air;
use crate::kitchen::{LotId, Stay};
use crate::rules::{Food, Kind};
use crate::words::{Form, Place};

/// So many grams of a purchase beyond what can be eaten are worth a line [D].
const TOO_MUCH_GRAMS: i64 = 500;

/// Foods named for one place before the rest is left to sense.
const MOST_NAMES: usize = 6;

impl Outlook<'_> {
    /// Advice for the lots that just came in and still wait; `None` when none of them does.
    pub fn put_away(&self, lots: &[LotId]) -> Option<Rich> {
        let waiting: Vec<&Held<'_>> = self
            .held
            .iter()
            .filter(|held| lots.contains(&held.lot.id) && !held.lot.put_away)
            .filter(|held| held.lot.form != Form::Frozen)
            .collect();
        if waiting.is_empty() {
            return None;
        }
        let mut by_place: BTreeMap<&Place, Vec<String>> = BTreeMap::new();
        for held in &waiting {
            let Some(food) = held.food else { continue };
            let Some(place) = food.places.first().map(|advice| &advice.place) else { continue };
            if is_surprise(food, place) {
                by_place
                    .entry(place)
                    .or_default()
                    .push(self.wording.lot_name(held.lot, self.foods));
            }
        }
        let mut text = Rich::new();
        for (place, mut names) in by_place {
            names.dedup();
            names.truncate(MOST_NAMES);
            let names = self.wording.list(&names);
            text.push_line(match place {
                Place::Counter | Place::CoolDark => {
                    self.wording.put_away_not_fridge(&names, &self.wording.at_place(place))
                }
                _ => self.wording.put_away_at(&names, &self.wording.at_place(place)),
            });
        }
        text.push_line(self.apart(&waiting));
        text.push_line(self.at_once(&waiting));
        if text.is_empty() {
            text = self.wording.put_away_usual();
        }
        Some(text)
    }

    /// One line when what just came in is more than can be eaten in time. Judged as it will stand
    /// once it is put away.
    pub fn bought_too_much(&self, lots: &[LotId]) -> Option<Rich> {
        let mut state = self.state.clone();
        for lot in state.lots.iter_mut().filter(|lot| !lot.put_away) {
            lot.put_away = true;
            let (from, form, place) = (self.now, lot.form, lot.place.clone());
            lot.stays.push(Stay { from, form, place });
        }
        let grounds = Grounds {
            rules: self.keeper.rules(),
            foods: self.foods,
            learned: self.keeper.learned(),
            wording: self.wording,
            log: self.log,
        };
        let away = Outlook::new(&state, grounds, self.now);
        let plan = away.plan_until(away.next_shop());
        let over = plan.over();
        let bought = |key: &str| {
            self.held.iter().any(|held| lots.contains(&held.lot.id) && held.key() == key)
        };
        let units = self.state.settings.units;
        let names: Vec<String> = over
            .iter()
            .filter(|(key, grams)| **grams >= TOO_MUCH_GRAMS && bought(key))
            .map(|(key, grams)| {
                let name = self.called(key);
                self.wording.some_of(&self.wording.weight(*grams, units), &name)
            })
            .take(MOST_NAMES)
            .collect();
        (!names.is_empty()).then(|| self.wording.bought_too_much(&self.wording.list(&names)))
    }

    /// What gives off ethylene is kept from what ages in it, when both go into the fridge.
    fn apart(&self, waiting: &[&Held<'_>]) -> Rich {
        let cold = |food: &Food| {
            food.places.first().is_some_and(|a| matches!(a.place, Place::Fridge | Place::Crisper))
        };
        let foods = || waiting.iter().filter_map(|held| held.food).filter(|food| cold(food));
        let names = |wanted: fn(&Food) -> bool| -> Vec<String> {
            let mut names: Vec<String> =
                foods().filter(|food| wanted(food)).map(|food| food.plural.clone()).collect();
            names.dedup();
            names.truncate(MOST_NAMES);
            names
        };
        let makers = names(air::makes_ethylene);
        let fearing = names(|food| air::fears_ethylene(food) && !air::makes_ethylene(food));
        if makers.is_empty() || fearing.is_empty() {
            return Rich::new();
        }
        self.wording.put_away_apart(&self.wording.list(&makers), &self.wording.list(&fearing))
    }

    /// Raw meat, fish and dairy do not wait.
    fn at_once(&self, waiting: &[&Held<'_>]) -> Rich {
        let urgent = waiting.iter().filter(|held| {
            let kind = held.food.map(|food| food.kind);
            matches!(kind, Some(Kind::Meat | Kind::Fish | Kind::Dairy | Kind::Prepared))
                && held.food.is_some_and(|food| self.keeper.rules().perishable(food, held.lot.form))
        });
        let mut names: Vec<String> =
            urgent.map(|held| self.wording.lot_name(held.lot, self.foods)).collect();
        names.dedup();
        names.truncate(MOST_NAMES);
        if names.is_empty() {
            Rich::new()
        } else {
            self.wording.put_away_at_once(&self.wording.list(&names))
        }
    }
}

/// Whether the best place is another than the one most people would take: vegetables in the
/// fridge, fruit, bread and bulbs outside it.
///
/// # Source
/// Common practice, no source [D].
fn is_surprise(food: &Food, place: &Place) -> bool {
    let cold = matches!(place, Place::Fridge | Place::Crisper);
    match food.kind {
        Kind::LeafyGreen
        | Kind::Vegetable
        | Kind::Root
        | Kind::Herb
        | Kind::Mushroom
        | Kind::Dairy
        | Kind::Egg
        | Kind::Meat
        | Kind::Fish
        | Kind::Prepared
        | Kind::Legume => !cold,
        Kind::Fruit | Kind::Allium | Kind::Bread | Kind::NutSeed => cold,
        Kind::Grain | Kind::Pantry | Kind::Condiment => false,
    }
}
