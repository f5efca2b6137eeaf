//! How amounts, money, days, places, foods and lists are said.

use fluent_bundle::FluentValue;

use super::Wording;
use crate::dates::KitchenDay;
use crate::kitchen::{Foods, Named, Spoken};
use crate::rules::Kind;
use crate::units::{Currency, Dimension, Minor, Quantity, Ratio, Unit};
use crate::words::{Form, Place};

/// So many things are named in one sentence; of more, the rest is counted.
const LISTED: usize = 24;
const LISTED_AT_LENGTH: usize = 80;

/// A name somebody made up, and words said back to them, are cut to this many characters.
pub(super) const QUOTED_CHARS: usize = 60;

/// Weekdays are said by name this many days ahead.
const DAYS_BY_NAME: i64 = 6;

impl Wording {
    /// "carrots, 2 leeks and mint"; of very many the first ones and how many more.
    pub fn list(&self, items: &[String]) -> String {
        self.list_of(items, LISTED)
    }

    /// The same for what nobody may miss: what is thrown out after a power cut.
    pub fn long_list(&self, items: &[String]) -> String {
        self.list_of(items, LISTED_AT_LENGTH)
    }

    /// "carrots, leeks or mint".
    pub fn list_or(&self, items: &[String]) -> String {
        self.joined(items, "list-or")
    }

    fn list_of(&self, items: &[String], most: usize) -> String {
        if items.len() <= most {
            return self.joined(items, "list-and");
        }
        let first = items[..most].join(", ");
        self.say("list-more", &[("first", first.into()), ("count", (items.len() - most).into())])
    }

    fn joined(&self, items: &[String], last: &str) -> String {
        match items {
            [] => String::new(),
            [only] => only.clone(),
            [rest @ .., end] => {
                let first = rest.join(&self.say("list-separator", &[]));
                self.say(last, &[("first", first.into()), ("last", end.as_str().into())])
            }
        }
    }

    /// An amount of money without a sign: "6.40", "640".
    pub fn money(&self, minor: Minor, currency: &Currency) -> String {
        let decimals = currency.decimals();
        let sign = if minor.0 < 0 { "-" } else { "" };
        let digits = minor.0.unsigned_abs();
        let one = 10_u64.pow(decimals);
        if decimals == 0 {
            return format!("{sign}{digits}");
        }
        let width = decimals as usize;
        format!("{sign}{}.{:0width$}", digits / one, digits % one)
    }

    /// "today", "Thursday", "12 May": a day as people say it on `today`.
    pub fn day(&self, day: KitchenDay, today: KitchenDay) -> String {
        match day.days_since(today) {
            0 => self.say("day-today", &[]),
            1 => self.say("day-tomorrow", &[]),
            -1 => self.say("day-yesterday", &[]),
            ahead if (2..=DAYS_BY_NAME).contains(&ahead) => {
                let number = day.weekday().number_from_monday();
                self.say(&format!("weekday-{number}"), &[])
            }
            _ => {
                let month = self.say(&format!("month-{}", day.month()), &[]);
                let number = day.day_of_month().to_string();
                let args = [("day", number.into()), ("month", FluentValue::from(month))];
                if day.year() == today.year() {
                    return self.say("day-date", &args);
                }
                let [number, month] = args;
                let year = ("year", day.year().to_string().into());
                self.say("day-date-year", &[number, month, year])
            }
        }
    }

    /// "90 minutes", "5 hours", "3 days".
    pub fn span(&self, minutes: u32) -> String {
        let (id, count) = match minutes {
            m if m >= 48 * 60 && m % (24 * 60) == 0 => ("span-days", m / (24 * 60)),
            m if m >= 60 && m % 60 == 0 => ("span-hours", m / 60),
            m if m >= 6 * 60 => ("span-hours", m / 60),
            m => ("span-minutes", m),
        };
        self.say(id, &[("count", count.into())])
    }

    /// "in the crisper".
    pub fn at_place(&self, place: &Place) -> String {
        self.place("place", place)
    }

    /// "to the porch".
    pub fn to_place(&self, place: &Place) -> String {
        self.place("to", place)
    }

    /// "the fridge".
    pub fn the_place(&self, place: &Place) -> String {
        self.place("the", place)
    }

    fn place(&self, kind: &str, place: &Place) -> String {
        match place {
            Place::Own(name) => {
                let name = name.replace('_', " ");
                // "On the porch", but "in the cellar".
                let open = ["porch", "balcony", "terrace", "patio", "shelf", "rack", "table"];
                let kind = match kind {
                    "place" if open.iter().any(|word| name.ends_with(word)) => "place-open",
                    kind => kind,
                };
                self.say(&format!("{kind}-own"), &[("name", name.into())])
            }
            known => self.say(&format!("{kind}-{}", known.word().replace('_', "-")), &[]),
        }
    }

    /// A number of something: "3", "2 1/2", "1.25". Fractions people say stay fractions for
    /// counts; weights and volumes are decimals of at most two places.
    pub fn number(&self, value: Ratio, dimension: Dimension) -> String {
        let spoken = matches!(value.denom(), 1..=4);
        if spoken && (dimension == Dimension::Count || value.denom() == 1) {
            return value.to_string();
        }
        decimal(value)
    }

    /// An amount with its unit: "3", "1 kg", "2 bunches".
    pub fn quantity(&self, quantity: Quantity) -> String {
        let quantity = handy(quantity);
        let number = self.number(quantity.value, quantity.dimension());
        match quantity.unit {
            None | Some(Unit::Piece) => number,
            Some(unit) => {
                let unit = self.unit(unit, quantity.value);
                self.say("amount-unit", &[("number", number.into()), ("unit", unit.into())])
            }
        }
    }

    fn unit(&self, unit: Unit, value: Ratio) -> String {
        let id = format!("unit-{}", unit.word().replace(' ', "-"));
        let count = if value > Ratio::ONE { 2 } else { 1 };
        self.say(&id, &[("count", count.into())])
    }

    /// The food's own word: "carrots", "fennel leaf", "milk".
    pub fn food(&self, of: &Named, foods: &dyn Foods, many: bool) -> String {
        let food = of.food.as_ref().and_then(|id| foods.food(id));
        let name = match food {
            // A dish goes by its own name, and there is one pot of it.
            Some(food) if food.kind == Kind::Prepared => quoted(&of.name),
            // The household's own word for it.
            Some(food) if of.name != food.name && food.aliases.contains(&of.name) => {
                let plurals = [format!("{}s", of.name), format!("{}es", of.name)];
                let plural = plurals.into_iter().find(|plural| food.aliases.contains(plural));
                plural.filter(|_| many && of.part.is_none()).unwrap_or_else(|| of.name.clone())
            }
            Some(food) if many && of.part.is_none() => food.plural.clone(),
            Some(food) => food.name.clone(),
            None => quoted(&of.name),
        };
        match &of.part {
            Some(part) if !name.ends_with(part.as_str()) => {
                let part = part.replace('_', " ");
                self.say("food-part", &[("food", name.into()), ("part", part.into())])
            }
            Some(_) | None => name,
        }
    }

    /// Whether more of a food is said in the plural: "carrots", but "spinach" and "stew".
    pub(super) fn has_plural(&self, of: &Named, foods: &dyn Foods) -> bool {
        let known = of.food.as_ref().and_then(|id| foods.food(id));
        let name = self.food(of, foods, true);
        name != self.food(of, foods, false)
            || known.is_none() && name.ends_with('s') && !name.ends_with("ss")
    }

    /// A food with its form where that is worth saying: "frozen peas".
    pub fn food_in_form(&self, of: &Named, form: Form, foods: &dyn Foods, many: bool) -> String {
        let food = self.food(of, foods, many);
        let known = of.food.as_ref().and_then(|id| foods.food(id));
        let id = match form {
            Form::Whole => return food,
            // A dish is cooked and says so by its name.
            Form::Cooked if known.is_none() => return food,
            form if foods.usual_form(known) == form => return food,
            // So are jam and bread.
            Form::Cooked
                if known.is_some_and(|food| matches!(food.kind, Kind::Condiment | Kind::Bread)) =>
            {
                return food;
            }
            Form::Cut => "form-cut",
            Form::InWater => "form-in-water",
            Form::Cooked => "form-cooked",
            Form::Frozen => "form-frozen",
            Form::Thawed => "form-thawed",
            Form::Dried => "form-dried",
            Form::Opened => "form-opened",
        };
        if food.split(' ').next() == Some(form.word()) {
            return food;
        }
        self.say(id, &[("food", food.into())])
    }

    /// A food with its amount: "3 leeks", "1 kg carrots", "mint (1 bunch)", "half the carrots".
    pub fn amount_of(&self, of: &Named, form: Form, amount: Spoken, foods: &dyn Foods) -> String {
        self.amount_of_one(of, form, amount, false, foods)
    }

    /// The same; `one` where a share is of a single piece: "half the squash".
    pub(super) fn amount_of_one(
        &self,
        of: &Named,
        form: Form,
        amount: Spoken,
        one: bool,
        foods: &dyn Foods,
    ) -> String {
        let name = |many| self.food_in_form(of, form, foods, many);
        match amount {
            Spoken::Exact(quantity) => self.counted_food(quantity, None, &name),
            Spoken::Range(quantity, high) => self.counted_food(quantity, Some(high), &name),
            Spoken::Share(share) => {
                let food = ("food", FluentValue::from(name(!one)));
                match (share.numer(), share.denom()) {
                    (1, 2) => self.say("food-half", &[food]),
                    (1, 3) => self.say("food-third", &[food]),
                    (1, 4) => self.say("food-quarter", &[food]),
                    _ => {
                        let share = ("share", FluentValue::from(share.to_string()));
                        self.say("food-share", &[share, food])
                    }
                }
            }
            Spoken::All => self.say("food-all", &[("food", name(!one).into())]),
            Spoken::Some | Spoken::Plain => name(!one),
        }
    }

    fn counted_food(
        &self,
        quantity: Quantity,
        high: Option<Ratio>,
        name: &dyn Fn(bool) -> String,
    ) -> String {
        let quantity = if high.is_some() { quantity } else { handy(quantity) };
        let low = self.number(quantity.value, quantity.dimension());
        let number = match high {
            Some(high) => {
                let high = self.number(high, quantity.dimension());
                self.say("amount-range", &[("low", low.into()), ("high", high.into())])
            }
            None => low,
        };
        let largest = high.unwrap_or(quantity.value);
        match quantity.unit {
            None | Some(Unit::Piece) => {
                let food = name(largest > Ratio::ONE || largest.is_zero());
                self.say("food-pieces", &[("number", number.into()), ("food", food.into())])
            }
            Some(unit) => {
                let word = self.unit(unit, largest);
                let amount =
                    self.say("amount-unit", &[("number", number.into()), ("unit", word.into())]);
                let weighed = unit.dimension() != Dimension::Count;
                let id = if weighed { "food-mass" } else { "food-units" };
                self.say(id, &[("amount", amount.into()), ("food", name(true).into())])
            }
        }
    }
}

/// Words said back, cut where they would crowd out everything else.
pub(super) fn quoted(words: &str) -> String {
    if words.chars().count() <= QUOTED_CHARS {
        return words.to_owned();
    }
    let kept: String = words.chars().take(QUOTED_CHARS - 1).collect();
    format!("{}…", kept.trim_end())
}

/// A decimal of at most two places, without trailing zeros.
fn decimal(value: Ratio) -> String {
    let hundredths = value.checked_mul(Ratio::whole(100)).map_or(0, Ratio::rounded);
    let (whole, rest) = (hundredths / 100, (hundredths % 100).abs());
    let sign = if hundredths < 0 && whole == 0 { "-" } else { "" };
    if hundredths == 0 && value.is_positive() {
        return "<0.01".to_owned();
    }
    match rest {
        0 => format!("{sign}{whole}"),
        tens if tens % 10 == 0 => format!("{sign}{whole}.{}", tens / 10),
        _ => format!("{sign}{whole}.{rest:02}"),
    }
}

/// The same amount in the unit people would say it in: 0.4 kg is 400 g, 1500 ml is 1.5 l.
fn handy(quantity: Quantity) -> Quantity {
    let below_one = quantity.value < Ratio::ONE && quantity.value.is_positive();
    let thousands = quantity.value >= Ratio::whole(1000);
    let unit = match quantity.unit {
        Some(Unit::Kilogram) if below_one => Unit::Gram,
        Some(Unit::Liter) if below_one => Unit::Milliliter,
        Some(Unit::Gram) if thousands => Unit::Kilogram,
        Some(Unit::Milliliter) if thousands => Unit::Liter,
        _ => return quantity,
    };
    quantity.to_unit(Some(unit)).unwrap_or(quantity)
}
