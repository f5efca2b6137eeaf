//! "Is 2.20 a kilo good for leeks?": a price against the household's own, its ceiling, and whole
//! food against the same food cut for you.

use super::outlook::Outlook;
use crate::conversation::Rich;
use crate::kitchen::{self, UnitSystem};
use crate::ledger::money::{self, PriceView};
use crate::rules::Food;
use crate::statement::{Item, Price};
use crate::units::{Quantity, Ratio, Unit};
use crate::words::Form;

/// Words of food that was cut or cleaned before it was sold.
const PRECUT_WORDS: &[&str] = &[
    "sticks",
    "batons",
    "florets",
    "chopped",
    "sliced",
    "diced",
    "shredded",
    "grated",
    "cubed",
    "cubes",
    "chunks",
    "slices",
    "pre-cut",
    "precut",
    "ready",
    "peeled",
    "spiralised",
    "spiralized",
];

/// A price for one measure: a kilogram, or one.
#[derive(Clone, Copy)]
enum Measured {
    Kilogram(Ratio),
    Each(Ratio),
}

impl Outlook<'_> {
    /// "Is 2.20 a kilo good for leeks?", "what do we pay for leeks?"
    pub fn price_asked(&self, items: &[Item]) -> Rich {
        if let [a, b] = items
            && let Some(text) = self.whole_or_cut(a, b)
        {
            return text;
        }
        let mut text = Rich::new();
        for item in items.iter().filter(|item| !item.name.is_empty()) {
            text.push_line(match item.price {
                Some(price) => self.judge_price(item, price),
                None => self.prices_paid(item),
            });
        }
        text
    }

    fn food_of_item(&self, item: &Item) -> Option<&Food> {
        item.food.as_ref().and_then(|id| self.keeper.rules().food(id))
    }

    fn judge_price(&self, item: &Item, price: Price) -> Rich {
        let food = self.food_of_item(item);
        let name = self.item_plural(item);
        let Some(measured) = self.measured(item, price, food) else {
            return self.wording.price_no_measure(&name);
        };
        let key = key_of(item);
        let by_weight = money::prices_per_kilogram(self.state, key, self.today);
        let by_one = money::prices_each(self.state, key, self.today);
        let (asked, own) = match measured {
            Measured::Each(each) if by_one.len() >= by_weight.len() => (each, by_one),
            Measured::Each(each) => match food.and_then(|food| per_kilogram_of(each, food)) {
                Some(kilogram) => (kilogram, by_weight),
                None => (each, by_one),
            },
            Measured::Kilogram(kilogram) => (kilogram, by_weight),
        };
        let weighed = matches!(measured, Measured::Kilogram(_))
            || own.len() != money::prices_each(self.state, key, self.today).len();
        let say = |ratio: Ratio| self.say_price(ratio, weighed);
        let mut text = match money::view_of(asked, &own) {
            PriceView::Good { lower } => self.wording.price_good(&name, &say(asked), &say(lower)),
            PriceView::Usual { lower, upper } => {
                self.wording.price_usual(&name, &say(lower), &say(upper))
            }
            PriceView::High { upper } => self.wording.price_high(&name, &say(asked), &say(upper)),
            PriceView::NotEnough { seen: 0, .. } => self.wording.price_none(&name),
            PriceView::NotEnough { seen, lowest } => {
                let lowest = lowest.map(say).unwrap_or_default();
                self.wording.price_few(&name, seen, &lowest)
            }
        };
        if let Some(ceiling) = self.state.settings.ceilings.get(key)
            && let Some(limit) = self.measured(item, *ceiling, food)
        {
            let over = match (measured, limit) {
                (Measured::Kilogram(asked), Measured::Kilogram(limit))
                | (Measured::Each(asked), Measured::Each(limit)) => Some((asked > limit, limit)),
                _ => None,
            };
            if let Some((over, limit)) = over {
                let weighed = matches!(measured, Measured::Kilogram(_));
                let limit = self.say_price(limit, weighed);
                text.push_line(self.wording.price_ceiling(over, &limit));
            }
        }
        text
    }

    /// "What do we pay for leeks?"
    fn prices_paid(&self, item: &Item) -> Rich {
        let name = self.item_plural(item);
        let key = key_of(item);
        let mut prices = money::prices_per_kilogram(self.state, key, self.today);
        let weighed = !prices.is_empty();
        if !weighed {
            prices = money::prices_each(self.state, key, self.today);
        }
        let Some(last) = prices.last().copied() else { return self.wording.price_none(&name) };
        let seen = prices.len();
        prices.sort();
        let say = |ratio: Ratio| self.say_price(ratio, weighed);
        let (low, high) = (prices[0], prices[seen - 1]);
        self.wording.price_paid(&name, seen, &say(last), &say(low), &say(high))
    }

    /// Whole food against the same food cut for you, by what of it is eaten.
    fn whole_or_cut(&self, a: &Item, b: &Item) -> Option<Rich> {
        let precut = |item: &Item| {
            item.form == Some(Form::Cut)
                || item.name.split(' ').any(|word| PRECUT_WORDS.contains(&word))
        };
        let same = a.food.is_some() && a.food == b.food;
        let (cut, whole) = match (precut(a), precut(b)) {
            (true, false) if same => (a, b),
            (false, true) if same => (b, a),
            _ => return None,
        };
        let food = self.food_of_item(whole)?;
        let kilogram = |item: &Item| match self.measured(item, item.price?, Some(food))? {
            Measured::Kilogram(price) => Some(price),
            Measured::Each(_) => None,
        };
        let (whole_price, cut_price) = (kilogram(whole)?, kilogram(cut)?);
        let edible = match &food.inedible {
            Some((share, _)) => Ratio::ONE.checked_sub(*share)?,
            None => Ratio::ONE,
        };
        // What this household loses of it belongs to the price of whole food.
        let eaten = Ratio::ONE.checked_sub(money::own_loss_share(self.state, food.id.as_str()))?;
        let whole_eaten = money::per_edible(money::per_edible(whole_price, edible)?, eaten)?;
        let cut_eaten = money::per_edible_precut(cut_price)?;
        let limit = money::break_even(cut_price, edible)?.checked_mul(eaten)?;
        let say = |ratio: Ratio| self.say_price(ratio, true);
        Some(self.wording.price_whole_or_cut(
            whole_eaten <= cut_eaten,
            &food.plural,
            (&say(whole_eaten), &say(cut_eaten)),
            &say(limit),
        ))
    }

    fn item_plural(&self, item: &Item) -> String {
        let food = self.food_of_item(item);
        food.map_or_else(|| item.name.clone(), |food| food.plural.clone())
    }

    /// A price as said, for a kilogram or for one.
    fn measured(&self, item: &Item, price: Price, food: Option<&Food>) -> Option<Measured> {
        let unit = price.per.or(item.unit);
        let value = price.quantity.or(item.quantity.filter(|_| price.per.is_none()));
        let amount = Quantity::new(value.unwrap_or(Ratio::ONE), unit);
        let counted = matches!(unit, None | Some(Unit::Piece | Unit::Dozen));
        if counted {
            let dozen = if unit == Some(Unit::Dozen) { 12 } else { 1 };
            let pieces = amount.value.checked_mul(Ratio::whole(dozen))?;
            return Ratio::whole(price.minor.0).checked_div(pieces).map(Measured::Each);
        }
        let grams = kitchen::grams(food, amount, item.size)?;
        let grams = Quantity::new(Ratio::whole(grams), Some(Unit::Gram));
        // A weight said is exact; one by the tables is rounded to whole grams.
        let amount = if amount.grams().is_some() { amount } else { grams };
        money::per_kilogram(price.minor, amount, None).map(Measured::Kilogram)
    }

    /// "2.20 a kilo", in the household's units.
    fn say_price(&self, ratio: Ratio, weighed: bool) -> String {
        if !weighed {
            return self.wording.price_each(&self.money_of(ratio));
        }
        match self.state.settings.units {
            UnitSystem::Metric => self.wording.price_kilo(&self.money_of(ratio)),
            UnitSystem::Us => {
                let pound = Ratio::new(45_359_237, 100_000_000).and_then(|p| ratio.checked_mul(p));
                let pound = pound
                    .unwrap_or_else(|| Ratio::whole(ratio.rounded().saturating_mul(4536) / 10_000));
                self.wording.price_pound(&self.money_of(pound))
            }
        }
    }
}

fn key_of(item: &Item) -> &str {
    item.food.as_ref().map_or(item.name.as_str(), |food| food.as_str())
}

/// The price of a kilogram of what costs `each` apiece.
fn per_kilogram_of(each: Ratio, food: &Food) -> Option<Ratio> {
    let one = Quantity::new(Ratio::ONE, None);
    let grams = kitchen::grams(Some(food), one, None).filter(|grams| *grams > 0)?;
    each.checked_mul(Ratio::whole(1000))?.checked_div(Ratio::whole(grams))
}
