//! The basket check: what of a shopping list can be eaten in time, and what keeps instead.

use std::collections::BTreeMap;

use super::cover::{Amount, excess_by_food, excess_total};
use super::outlook::Outlook;
use super::pace::{Diet, diet_of};
use super::until::WORTH_SAYING_GRAMS;
use crate::conversation::Rich;
use crate::dates::KitchenDay;
use crate::keeping::lives;
use crate::kitchen::facts;
use crate::rules::{Food, Kind};
use crate::statement::Item;
use crate::units::{Quantity, Ratio};
use crate::words::{FoodId, Form, Place};

/// What keeps this many days is no risk in a basket [D].
const KEEPER_DAYS: i64 = 25;

/// A basket may fill this much of what can be eaten in time, in per cent [D].
const MARGIN_PERCENT: i64 = 85;

/// Foods named in one line.
const NAMES_A_LINE: usize = 6;

/// Keepers to name.
const KEEPERS: usize = 3;

/// What the check says of one item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It can be eaten in time, with what is there.
    Fits,
    /// It keeps for weeks.
    Keeps,
    /// So many grams of it cannot be eaten in time; it keeps so many days from the shop.
    TooMuch { over: i64, days: (i64, i64) },
    /// Its weight or its life is not known.
    Unknown,
}

/// One line of a list, as the check sees it.
struct Line<'a> {
    item: &'a Item,
    food: Option<&'a Food>,
    grams: Option<i64>,
    /// The days it keeps from the shop, at its best place.
    days: Option<(i64, i64)>,
}

/// What the check says of a list: a verdict for each item, and what keeps instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basket {
    pub verdicts: Vec<Verdict>,
    /// Foods that keep for weeks, where something on the list is too much.
    pub keepers: Vec<FoodId>,
}

impl Outlook<'_> {
    /// The check of `items`, meant to be eaten by `until` where that was said.
    pub fn basket(&self, items: &[Item], until: Option<KitchenDay>) -> Basket {
        let lines: Vec<Line<'_>> = items.iter().map(|item| self.line(item)).collect();
        let verdicts = self.verdicts(&lines, until);
        let too_much = verdicts.iter().any(|v| matches!(v, Verdict::TooMuch { .. }));
        let keepers = if too_much { self.keepers(&lines) } else { Vec::new() };
        Basket { verdicts, keepers: keepers.into_iter().map(|food| food.id.clone()).collect() }
    }

    /// "4 kg greens and 3 melons for this week ok?"
    pub fn ask_basket(&self, items: &[Item], until: Option<KitchenDay>) -> Rich {
        let lines: Vec<Line<'_>> = if items.is_empty() {
            let mut text = self.basket_of_list();
            for line in self.not_to_buy() {
                text.push_line(line);
            }
            if text.is_empty() {
                text = self.wording.basket_empty();
            }
            return text;
        } else {
            items.iter().map(|item| self.line(item)).collect()
        };
        self.judge(&lines, until)
    }

    /// The check of the shopping list itself.
    fn basket_of_list(&self) -> Rich {
        let items: Vec<Item> = self
            .state
            .wanted
            .iter()
            .map(|wanted| Item {
                food: wanted.of.food.clone(),
                name: wanted.of.name.clone(),
                quantity: wanted.quantity.map(|quantity| quantity.value),
                unit: wanted.quantity.and_then(|quantity| quantity.unit),
                ..Item::default()
            })
            .collect();
        if items.is_empty() {
            return Rich::new();
        }
        let lines: Vec<Line<'_>> = items.iter().map(|item| self.line(item)).collect();
        self.judge(&lines, None)
    }

    /// "What should we not buy?": what is here in plenty.
    fn not_to_buy(&self) -> Vec<Rich> {
        let until = self.next_shop();
        let plan = self.plan_until(until);
        let over = plan.over();
        let name = |key: &str| self.called(key);
        let too_much: Vec<&str> = over
            .iter()
            .filter(|(_, grams)| **grams >= WORTH_SAYING_GRAMS)
            .map(|(key, _)| *key)
            .collect();
        // What is not eaten up by the next shop and keeps beyond it is enough for now.
        let mut left: BTreeMap<&str, i64> = BTreeMap::new();
        for (held, grams) in plan.lots.iter().zip(&plan.cover.left) {
            *left.entry(held.key()).or_default() += grams;
        }
        let enough = left
            .iter()
            .filter(|(key, grams)| **grams >= WORTH_SAYING_GRAMS && !too_much.contains(*key));
        let enough: Vec<String> = enough.map(|(key, _)| name(key)).take(NAMES_A_LINE).collect();
        let too_much: Vec<String> = too_much.into_iter().map(name).take(NAMES_A_LINE).collect();
        let mut lines = Vec::new();
        if !too_much.is_empty() {
            lines.push(self.wording.too_much_here(&self.wording.list(&too_much)));
        }
        if !enough.is_empty() {
            let day = self.say_day(until);
            lines.push(self.wording.enough_here(&self.wording.list(&enough), &day));
        }
        lines
    }

    fn line<'i>(&'i self, item: &'i Item) -> Line<'i> {
        let food = item.food.as_ref().and_then(|id| self.keeper.rules().food(id));
        let grams = food.and_then(|food| grams_of(food, item));
        let days = food.and_then(|food| self.fresh_days(food));
        Line { item, food, grams, days }
    }

    /// How long a food keeps from the shop: the longest of the places advised for it.
    pub(super) fn fresh_days(&self, food: &Food) -> Option<(i64, i64)> {
        let days = |place: &Place| {
            let climate = self.keeper.climate(place, self.now)?;
            let basis = lives::base(food, Form::Whole, place, climate)?;
            Some((basis.days.0.floor() as i64, basis.days.1.floor() as i64))
        };
        let advised = food.places.iter().filter_map(|advice| days(&advice.place)).max();
        advised.or_else(|| days(&Place::Fridge))
    }

    fn judge(&self, lines: &[Line<'_>], until: Option<KitchenDay>) -> Rich {
        let verdicts = self.verdicts(lines, until);
        let mut text = Rich::new();
        let names = |wanted: &dyn Fn(&Verdict) -> bool| -> Vec<String> {
            let fitting = lines.iter().zip(&verdicts).filter(|(_, verdict)| wanted(verdict));
            fitting.map(|(line, _)| self.item_name(line)).collect()
        };
        for (line, verdict) in lines.iter().zip(&verdicts) {
            if let Verdict::TooMuch { over, days } = verdict {
                let amount = self.wording.weight(*over, self.state.settings.units);
                let range = (days.0 as f64, days.1 as f64);
                text.push_line(self.wording.basket_too_much(&self.item_name(line), &amount, range));
            }
        }
        let too_much = !text.is_empty();
        let fine = names(&|verdict| matches!(verdict, Verdict::Fits | Verdict::Keeps));
        if !fine.is_empty() {
            text.push_line(self.wording.basket_fine(&self.wording.list(&fine)));
        }
        let unknown = names(&|verdict| *verdict == Verdict::Unknown);
        if !unknown.is_empty() {
            text.push_line(self.wording.basket_unknown(&self.wording.list(&unknown)));
        }
        if too_much {
            let keepers = self.keepers(lines);
            let keepers: Vec<String> = keepers.iter().map(|food| food.plural.clone()).collect();
            if !keepers.is_empty() {
                text.push_line(self.wording.basket_keepers(&self.wording.list(&keepers)));
            }
        }
        text
    }

    /// What of a list cannot be eaten before it is expected lost, with what is in the house.
    fn verdicts(&self, lines: &[Line<'_>], until: Option<KitchenDay>) -> Vec<Verdict> {
        let appetite = self.appetite();
        let margin = |grams: i64| grams * MARGIN_PERCENT / 100;
        // A stated period is the time it is meant for; what is left then is not asked about.
        let horizon = until.map(|day| day.days_since(self.today)).filter(|days| *days > 0);
        let in_house = |key: &str, last: i64| -> i64 {
            let lots = self.held.iter().filter(|held| held.is_fresh() && held.key() == key);
            let soon = lots.filter(|held| held.last_day_number().is_some_and(|day| day <= last));
            soon.filter_map(|held| held.lot.grams).sum()
        };
        let shared_stock: Vec<Amount> = self
            .held
            .iter()
            .filter(|held| held.is_fresh() && diet_of(held.food).is_shared())
            .filter_map(|held| Some((held.lot.grams?, held.last_day_number()?)))
            .filter(|(_, last_day)| *last_day < KEEPER_DAYS)
            .map(|(grams, last_day)| Amount { food: usize::MAX, grams, last_day, keeps: false })
            .collect();

        let mut bought: Vec<Amount> = Vec::new();
        let mut verdicts = Vec::with_capacity(lines.len());
        for (index, line) in lines.iter().enumerate() {
            let (Some(food), Some(grams), Some(days)) = (line.food, line.grams, line.days) else {
                let keeps = line.days.is_some_and(|days| days.0 >= KEEPER_DAYS);
                verdicts.push(if keeps { Verdict::Keeps } else { Verdict::Unknown });
                continue;
            };
            if days.0 >= KEEPER_DAYS {
                verdicts.push(Verdict::Keeps);
                continue;
            }
            let last_day = days.0.max(1);
            let new = Amount { food: index, grams, last_day, keeps: false };
            let held = in_house(food.id.as_str(), last_day);
            let own_cap = appetite.cap(food.id.as_str(), diet_of(line.food));
            let cap = margin(own_cap);
            let stock = Amount { grams: grams + held, ..new };
            let own = excess_by_food(&[stock], index, cap);
            let total = if diet_of(line.food) == Diet::Other {
                0
            } else {
                let mut all = shared_stock.clone();
                all.extend(&bought);
                let before = excess_total(&all, margin(appetite.a_day()));
                all.push(new);
                excess_total(&all, margin(appetite.a_day())) - before
            };
            let over = own.max(total).min(grams);
            let eaten_by_then = horizon.map_or(0, |days| days.min(last_day)) * own_cap;
            verdicts.push(if over >= WORTH_SAYING_GRAMS && grams > eaten_by_then {
                bought.push(Amount { grams: grams - over, ..new });
                Verdict::TooMuch { over, days }
            } else {
                if diet_of(line.food).is_shared() {
                    bought.push(new);
                }
                Verdict::Fits
            });
        }
        verdicts
    }

    fn item_name(&self, line: &Line<'_>) -> String {
        let name = line.food.map_or(line.item.name.clone(), |food| food.plural.clone());
        let quantity = line.item.quantity.map(|value| Quantity::new(value, line.item.unit));
        let of = crate::kitchen::Named { food: line.item.food.clone(), name, part: None };
        let amount = quantity.map_or(crate::kitchen::Spoken::Plain, crate::kitchen::Spoken::Exact);
        self.wording.amount_of(&of, self.foods.usual_form(line.food), amount, self.foods)
    }

    /// Vegetables and fruit that keep for weeks, not on the list, of which little is in the house.
    fn keepers(&self, lines: &[Line<'_>]) -> Vec<&Food> {
        let appetite = self.appetite();
        let plenty = |food: &Food| {
            let lots = self.held.iter().filter(|held| held.key() == food.id.as_str());
            let held = lots.filter_map(|held| held.lot.grams).sum::<i64>();
            held > 7 * appetite.cap(food.id.as_str(), Diet::Produce)
        };
        let foods = self.keeper.rules().foods.iter().filter(|food| {
            diet_of(Some(food)) == Diet::Produce
                && !food.hazard
                && !food.weights.is_empty()
                && !lines.iter().any(|line| line.food.is_some_and(|own| own.id == food.id))
                && !plenty(food)
        });
        let mut lasting: Vec<((i64, i64), &Food)> = foods
            .filter_map(|food| Some((self.fresh_days(food)?, food)))
            .filter(|(days, _)| days.0 >= KEEPER_DAYS)
            .collect();
        // Plain staples first: those with the most household weights known are the commonest.
        lasting.sort_by_key(|(days, food)| {
            (std::cmp::Reverse(food.weights.len()), std::cmp::Reverse(days.0), food.id.clone())
        });
        lasting.into_iter().take(KEEPERS).map(|(_, food)| food).collect()
    }
}

/// Grams of an item as bought, from its unit or the food's own weights.
fn grams_of(food: &Food, item: &Item) -> Option<i64> {
    let value = item.quantity_high.or(item.quantity)?;
    let quantity = Quantity::new(value, item.unit);
    if let Some(grams) = facts::grams(Some(food), quantity, item.size) {
        return Some(grams);
    }
    // What is sold by volume and drunk weighs about as much as water [D].
    let liquid = matches!(food.kind, Kind::Dairy | Kind::Prepared | Kind::Condiment);
    quantity.millilitres().filter(|_| liquid).map(Ratio::rounded)
}
