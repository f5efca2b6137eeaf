//! What this household always has in the house: how much to bring it up to at a shop, and when it
//! runs low before one. The arithmetic is in `base`; here it meets the household's own record.

use super::base::{self, Gap, USUAL_SERVICE, Use};
use super::outlook::Outlook;
use super::until::USUAL_GAP_DAYS;
use super::view::Held;
use crate::conversation::Rich;
use crate::kitchen::state::week_of;
use crate::kitchen::{Eaten, Named, Spoken};
use crate::rules::Food;
use crate::units::{Quantity, Ratio, Unit};
use crate::words::FoodId;

/// Whole weeks of record before anything is called a staple [D].
const LEAST_WEEKS: usize = 4;

/// Staples named in one line.
const NAMES: usize = 6;

/// How the amount of a staple is measured: by weight where its lots have one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Measure {
    Grams,
    Millilitres,
    Pieces,
}

impl Measure {
    fn of(self, eaten: &Eaten) -> f64 {
        match self {
            Measure::Grams => eaten.grams as f64,
            Measure::Millilitres => eaten.millilitres as f64,
            Measure::Pieces => eaten.milli_pieces as f64 / 1000.0,
        }
    }

    fn quantity(self, quantity: Quantity) -> f64 {
        let amount = match self {
            Measure::Grams => quantity.grams(),
            Measure::Millilitres => quantity.millilitres(),
            Measure::Pieces => {
                quantity.unit.is_none_or(|unit| unit == Unit::Piece).then_some(quantity.value)
            }
        };
        amount.map_or(0.0, |amount| amount.numer() as f64 / amount.denom() as f64)
    }
}

/// A food this household uses week after week.
#[derive(Clone, Debug)]
pub struct Staple<'a> {
    pub key: String,
    pub food: Option<&'a Food>,
    measure: Measure,
    usage: Use,
    pub on_hand: f64,
    /// What it is brought up to at a shop, so that it lasts to the next; no more than keeps.
    pub level: f64,
}

impl<'a> Outlook<'a> {
    /// The staples, the shortest first.
    pub fn staples(&self) -> Vec<Staple<'a>> {
        let this_week = week_of(self.today);
        let mut weeks: Vec<i64> =
            self.state.eaten.values().flat_map(|own| own.keys().copied()).collect();
        weeks.sort_unstable();
        weeks.dedup();
        // The first week on record hardly began on its first day; this one is not over. A week in
        // which nothing at all was told says nothing.
        let told: Vec<i64> = weeks.into_iter().skip(1).filter(|week| *week < this_week).collect();
        if told.len() < LEAST_WEEKS {
            return Vec::new();
        }
        let gap = self.shop_gap();
        let staples = self.state.eaten.iter().filter_map(|(key, own)| {
            let in_weeks: Vec<Eaten> =
                told.iter().map(|week| own.get(week).copied().unwrap_or_default()).collect();
            let used = in_weeks.iter().filter(|eaten| **eaten != Eaten::default()).count();
            if used < LEAST_WEEKS || used * 2 < told.len() {
                return None;
            }
            self.staple(key, &in_weeks, gap)
        });
        let mut staples: Vec<Staple<'a>> = staples.collect();
        let full = |staple: &Staple<'_>| staple.on_hand / staple.level.max(1e-9);
        staples.sort_by(|a, b| full(a).total_cmp(&full(b)).then_with(|| a.key.cmp(&b.key)));
        staples
    }

    fn staple(&self, key: &str, weeks: &[Eaten], gap: Gap) -> Option<Staple<'a>> {
        let food = self.foods.food(&FoodId::new(key));
        let lots: Vec<&Held<'a>> = self.held.iter().filter(|held| held.key() == key).collect();
        let measure = if weeks.iter().any(|week| week.grams > 0) {
            Measure::Grams
        } else if weeks.iter().any(|week| week.millilitres > 0) {
            Measure::Millilitres
        } else {
            Measure::Pieces
        };
        let own: Vec<f64> = weeks.iter().map(|week| measure.of(week)).collect();
        let count = own.len() as f64;
        let mean = own.iter().sum::<f64>() / count;
        let variance = own.iter().map(|week| (week - mean).powi(2)).sum::<f64>() / (count - 1.0);
        let usage = Use { per_day: mean / 7.0, deviation: (variance / 7.0).sqrt() };
        let on_hand = lots.iter().map(|held| match (measure, held.lot.grams) {
            (Measure::Grams, Some(grams)) => grams as f64,
            _ => held.lot.quantity.map_or(0.0, |quantity| measure.quantity(quantity)),
        });
        let level = base::up_to(usage, gap, USUAL_SERVICE).up_to;
        let keeps = food
            .and_then(|food| self.fresh_days(food))
            .map_or(f64::INFINITY, |days| base::keeps_for(usage.per_day, days.0 as f64));
        let on_hand = on_hand.sum();
        (mean > 0.0).then(|| Staple {
            key: key.to_owned(),
            food,
            measure,
            usage,
            on_hand,
            level: level.min(keeps),
        })
    }

    /// Days between the household's shops, with their spread.
    fn shop_gap(&self) -> Gap {
        let days: Vec<i64> = self
            .state
            .trips
            .windows(2)
            .map(|pair| pair[1].day.days_since(pair[0].day))
            .filter(|gap| *gap > 0)
            .collect();
        if days.is_empty() {
            return Gap { days: USUAL_GAP_DAYS as f64, deviation: 0.0 };
        }
        let count = days.len() as f64;
        let mean = days.iter().sum::<i64>() as f64 / count;
        let squares = days.iter().map(|gap| (*gap as f64 - mean).powi(2)).sum::<f64>();
        Gap { days: mean, deviation: (squares / (count - 1.0).max(1.0)).sqrt() }
    }

    /// What to buy of the staples, in one line; empty when there is enough of each.
    pub(super) fn bring_up(&self) -> Rich {
        let listed = |staple: &Staple<'_>| {
            self.state.wanted.iter().any(|wanted| wanted.of.key() == staple.key)
        };
        let staples = self.staples().into_iter().filter(|staple| !listed(staple));
        let short = staples.filter_map(|staple| {
            let (missing, _) = base::order(staple.level, staple.on_hand, 0.0, 1.0);
            // A quarter of the level is worth a line [D].
            (missing * 4.0 >= staple.level).then(|| self.say_amount(&staple, missing))
        });
        let names: Vec<String> = short.take(NAMES).collect();
        if names.is_empty() {
            Rich::new()
        } else {
            self.wording.need_base(&self.wording.list(&names))
        }
    }

    /// Staples that ran low yesterday: what is left may not last to the shop. Said on the morning
    /// after the use that brought them there, so once.
    pub(super) fn ran_low(&self) -> Option<Rich> {
        let yesterday = self.today.plus(-1);
        if !self.state.recent_uses.iter().any(|used| used.at.day(self.zone()) == yesterday) {
            return None;
        }
        let days = self.next_shop().days_since(self.today) as f64;
        let used = |staple: &Staple<'_>| -> f64 {
            let uses = self
                .state
                .recent_uses
                .iter()
                .filter(|used| used.key == staple.key && used.at.day(self.zone()) == yesterday);
            uses.filter_map(|used| self.measure_of(staple, used.quantity?)).sum()
        };
        let low = self.staples().into_iter().filter(|staple| {
            // What does not keep to the shop cannot be kept in stock for it.
            let lasts = staple.level >= staple.usage.per_day * days;
            let below = base::low_below(staple.usage, days, USUAL_SERVICE);
            lasts && staple.on_hand < below && staple.on_hand + used(staple) >= below
        });
        let names: Vec<String> = low.take(NAMES).map(|staple| self.staple_name(&staple)).collect();
        (!names.is_empty()).then(|| self.wording.ran_low(&self.wording.list(&names)))
    }

    fn measure_of(&self, staple: &Staple<'_>, quantity: Quantity) -> Option<f64> {
        if staple.measure == Measure::Grams {
            let grams = staple
                .food
                .and_then(|food| crate::kitchen::facts::grams(Some(food), quantity, None));
            return grams.or_else(|| quantity.grams().map(Ratio::rounded)).map(|g| g as f64);
        }
        Some(staple.measure.quantity(quantity))
    }

    fn staple_name(&self, staple: &Staple<'_>) -> String {
        staple.food.map_or_else(|| staple.key.clone(), |food| food.plural.clone())
    }

    fn say_amount(&self, staple: &Staple<'_>, amount: f64) -> String {
        let quantity = match staple.measure {
            Measure::Grams => {
                self.wording.rounded_weight(amount.ceil() as i64, self.state.settings.units)
            }
            Measure::Millilitres => {
                let tenths = Ratio::new((amount / 100.0).ceil() as i64, 10);
                Quantity::new(tenths.unwrap_or(Ratio::ONE), Some(Unit::Liter))
            }
            Measure::Pieces => Quantity::new(Ratio::whole(amount.ceil() as i64), None),
        };
        let food = staple.food.map(|food| food.id.clone());
        let name = staple.food.map_or_else(|| staple.key.clone(), |food| food.name.clone());
        let of = Named { food, name, part: None };
        let form = self.foods.usual_form(staple.food);
        self.wording.amount_of(&of, form, Spoken::Exact(quantity), self.foods)
    }
}
