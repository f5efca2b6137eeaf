//! The household's figures: waste, money, prices.

use fluent_bundle::FluentValue;

use super::{Wording, capital};
use crate::conversation::Rich;
use crate::ledger::period::{Period, Span};
use crate::statement::{Charge, ChargeKind};
use crate::units::{Currency, Minor};

impl Wording {
    pub fn ledger_empty(&self) -> Rich {
        self.line("ledger-empty", &[])
    }

    /// "May so far", "last week", "2026 so far".
    pub fn period(&self, period: &Period) -> String {
        let day = period.until;
        match (period.span, period.last) {
            (Span::Today, false) => self.say("period-today", &[]),
            (Span::Today, true) => self.say("period-yesterday", &[]),
            (Span::Week, false) => self.say("period-week", &[]),
            (Span::Week, true) => self.say("period-last-week", &[]),
            (Span::Month, last) => {
                let month = self.say(&format!("month-{}", day.month()), &[]);
                let id = if last { "period-all-of" } else { "period-so-far" };
                self.say(id, &[("name", month.into())])
            }
            (Span::Year, last) => {
                let id = if last { "period-all-of" } else { "period-so-far" };
                self.say(id, &[("name", day.year().to_string().into())])
            }
            (Span::All, _) => self.say("period-all", &[]),
        }
    }

    pub fn ledger_totals(&self, period: &str, came_in: &str, eaten: &str, on_hand: &str) -> Rich {
        let args = [
            ("period", FluentValue::from(capital(period))),
            ("came", came_in.into()),
            ("eaten", eaten.into()),
            ("hand", on_hand.into()),
        ];
        self.line("ledger-totals", &args)
    }

    /// One term of what left the house another way; `id` names its message.
    pub fn ledger_term(&self, id: &str, amount: &str) -> String {
        self.say(id, &[("amount", amount.into())])
    }

    pub fn ledger_out(&self, terms: &str) -> Rich {
        self.line("ledger-out", &[("terms", capital(terms).into())])
    }

    pub fn ledger_share(&self, percent: i64, target: Option<u32>) -> Rich {
        let percent = ("percent", FluentValue::from(percent));
        match target {
            Some(target) => self.line("ledger-share-target", &[percent, ("target", target.into())]),
            None => self.line("ledger-share", &[percent]),
        }
    }

    pub fn ledger_no_share(&self) -> Rich {
        self.line("ledger-no-share", &[])
    }

    pub fn ledger_uncounted(&self, amount: &str) -> Rich {
        self.line("ledger-uncounted", &[("amount", amount.into())])
    }

    pub fn ledger_more_out(&self, amount: &str) -> Rich {
        self.line("ledger-more-out", &[("amount", amount.into())])
    }

    /// One food lost: its amount where it has a weight, how often, and why.
    pub fn ledger_lost(&self, food: &str, amount: &str, times: u32, reason: &str) -> String {
        let args = [
            ("food", FluentValue::from(food)),
            ("amount", amount.into()),
            ("times", times.into()),
            ("reason", reason.into()),
        ];
        let id = match (amount.is_empty(), reason.is_empty()) {
            (false, false) => "lost-amount-reason",
            (false, true) => "lost-amount",
            (true, false) => "lost-times-reason",
            (true, true) => "lost-times",
        };
        self.say(id, &args)
    }

    pub fn ledger_lost_most(&self, food: &str) -> Rich {
        self.line("ledger-lost-most", &[("food", food.into())])
    }

    pub fn ledger_lost_in(&self, period: &str, foods: &str) -> Rich {
        let args = [("period", FluentValue::from(capital(period))), ("foods", foods.into())];
        self.line("ledger-lost-in", &args)
    }

    pub fn ledger_lost_cost(&self, cost: &str) -> Rich {
        self.line("ledger-lost-cost", &[("cost", cost.into())])
    }

    pub fn ledger_nothing_lost(&self, period: &str) -> Rich {
        self.line("ledger-nothing-lost", &[("period", capital(period).into())])
    }

    /// What to do otherwise about a food; `share` is the part of it lost, in per cent.
    pub fn ledger_suggestion(&self, food: &str, share: Option<i64>, freezes: bool) -> Rich {
        let part = match share {
            None => None,
            Some(..30) => Some("quarter"),
            Some(30..42) => Some("third"),
            Some(42..59) => Some("half"),
            Some(59..80) => Some("two-thirds"),
            Some(_) => Some("most"),
        };
        let food = ("food", FluentValue::from(food));
        match (part, freezes) {
            (Some(part), true) => self.line("suggest-part-freeze", &[food, ("part", part.into())]),
            (Some(part), false) => self.line("suggest-part", &[food, ("part", part.into())]),
            (None, true) => self.line("suggest-freeze", &[food]),
            (None, false) => self.line("suggest-less", &[food]),
        }
    }

    pub fn ledger_food(
        &self,
        food: &str,
        period: &str,
        came_in: &str,
        eaten: &str,
        lost: &str,
    ) -> Rich {
        let args = [
            ("food", FluentValue::from(capital(food))),
            ("period", period.into()),
            ("came", came_in.into()),
            ("eaten", eaten.into()),
            ("lost", lost.into()),
        ];
        self.line("ledger-food", &args)
    }

    pub fn ledger_paid(&self, paid: &str) -> Rich {
        self.line("ledger-paid", &[("paid", paid.into())])
    }

    pub fn ledger_spent(&self, spent: &str) -> Rich {
        self.line("ledger-spent", &[("spent", spent.into())])
    }

    pub fn ledger_spent_in(&self, period: &str, spent: &str) -> Rich {
        let args = [("period", FluentValue::from(capital(period))), ("spent", spent.into())];
        self.line("ledger-spent-in", &args)
    }

    pub fn ledger_no_spending(&self) -> Rich {
        self.line("ledger-no-spending", &[])
    }

    pub fn ledger_no_budget(&self) -> Rich {
        self.line("ledger-no-budget", &[])
    }

    pub fn ledger_budget(&self, spent: &str, budget: &str, left: &str) -> Rich {
        let args = [("spent", spent.into()), ("budget", budget.into()), ("left", left.into())];
        self.line("ledger-budget", &args)
    }

    pub fn ledger_over_budget(&self, spent: &str, budget: &str, over: &str) -> Rich {
        let args = [("spent", spent.into()), ("budget", budget.into()), ("over", over.into())];
        self.line("ledger-over-budget", &args)
    }

    /// Where the month is heading, by the shops still to come.
    pub fn ledger_forecast(&self, likely: &str, low: &str, high: &str) -> String {
        let id = if low == high { "ledger-forecast" } else { "ledger-forecast-range" };
        self.say(id, &[("likely", likely.into()), ("low", low.into()), ("high", high.into())])
    }

    pub fn ledger_trip(&self, day: &str, cost: &str) -> Rich {
        self.line("ledger-trip", &[("day", capital(day).into()), ("cost", cost.into())])
    }

    pub fn ledger_trip_split(&self, terms: &str) -> String {
        self.say("ledger-trip-split", &[("terms", terms.into())])
    }

    /// What a bill is made of: food, deposits, fees, other goods, less discounts; what is left
    /// over is said to be.
    pub fn bill(
        &self,
        total: Minor,
        food: Minor,
        charges: &[Charge],
        currency: &Currency,
    ) -> String {
        let sum = |kind: ChargeKind| -> i64 {
            let of_kind = charges.iter().filter(|charge| charge.kind == kind);
            of_kind.fold(0, |sum, charge| sum.saturating_add(charge.minor.0))
        };
        let tax = sum(ChargeKind::Tax);
        let others = [
            (ChargeKind::Deposit, "bill-deposit"),
            (ChargeKind::Fee, "bill-fee"),
            (ChargeKind::Goods, "bill-goods"),
            (ChargeKind::Discount, "bill-discount"),
        ];
        let told = others.iter().fold(food.0, |all, (kind, _)| all.saturating_add(sum(*kind)));
        let mut rest = total.0.saturating_sub(told);
        // A tax line counts only where the prices do not hold it already.
        let tax = Some(tax).filter(|tax| *tax != 0 && (rest - tax).abs() < rest.abs());
        rest -= tax.unwrap_or(0);
        let money = |minor: i64| FluentValue::from(self.money(Minor(minor), currency));
        let term = |id: &str, minor: i64| self.say(id, &[("money", money(minor.abs()))]);
        let mut terms = vec![self.say("bill-food", &[("money", money(food.0))])];
        for (kind, id) in others {
            let minor = sum(kind);
            if minor != 0 {
                terms.push(term(
                    if minor < 0 && kind == ChargeKind::Deposit { "bill-returned" } else { id },
                    minor,
                ));
            }
        }
        terms.extend(tax.map(|tax| term("bill-tax", tax)));
        match rest {
            0 => {}
            1.. => terms.push(term("bill-besides", rest)),
            _ => terms.push(term("bill-less", rest)),
        }
        self.list(&terms)
    }

    pub fn ledger_no_trip(&self) -> Rich {
        self.line("ledger-no-trip", &[])
    }

    pub fn trip_on(&self, day: &str) -> Rich {
        self.line("trip-on", &[("day", day.into())])
    }

    pub fn trip_likely(&self, day: &str) -> Rich {
        self.line("trip-likely", &[("day", day.into())])
    }

    pub fn trip_unknown(&self) -> Rich {
        self.line("trip-unknown", &[])
    }

    // Prices.

    pub fn price_kilo(&self, money: &str) -> String {
        self.say("price-kilo", &[("money", money.into())])
    }

    pub fn price_pound(&self, money: &str) -> String {
        self.say("price-pound", &[("money", money.into())])
    }

    pub fn price_each(&self, money: &str) -> String {
        self.say("price-each", &[("money", money.into())])
    }

    pub fn price_good(&self, food: &str, price: &str, lower: &str) -> Rich {
        let args = [("food", food.into()), ("price", price.into()), ("lower", lower.into())];
        self.line("price-good", &args)
    }

    pub fn price_usual(&self, food: &str, lower: &str, upper: &str) -> Rich {
        let args = [("food", food.into()), ("lower", lower.into()), ("upper", upper.into())];
        self.line("price-usual", &args)
    }

    pub fn price_high(&self, food: &str, price: &str, upper: &str) -> Rich {
        let args = [("food", food.into()), ("price", price.into()), ("upper", upper.into())];
        self.line("price-high", &args)
    }

    pub fn price_few(&self, food: &str, seen: usize, lowest: &str) -> Rich {
        let args =
            [("food", FluentValue::from(food)), ("seen", seen.into()), ("lowest", lowest.into())];
        self.line("price-few", &args)
    }

    pub fn price_none(&self, food: &str) -> Rich {
        self.line("price-none", &[("food", food.into())])
    }

    pub fn price_no_measure(&self, food: &str) -> Rich {
        self.line("price-no-measure", &[("food", food.into())])
    }

    pub fn price_ceiling(&self, over: bool, limit: &str) -> Rich {
        let id = if over { "price-over-ceiling" } else { "price-under-ceiling" };
        self.line(id, &[("limit", limit.into())])
    }

    pub fn price_paid(&self, food: &str, seen: usize, last: &str, low: &str, high: &str) -> Rich {
        let args = [
            ("food", FluentValue::from(capital(food))),
            ("seen", seen.into()),
            ("last", last.into()),
            ("low", low.into()),
            ("high", high.into()),
        ];
        self.line("price-paid", &args)
    }

    /// Whole food against the same food cut for you, by the kilogram that is eaten.
    pub fn price_whole_or_cut(
        &self,
        whole: bool,
        food: &str,
        (whole_price, cut_price): (&str, &str),
        limit: &str,
    ) -> Rich {
        let args = [
            ("food", FluentValue::from(food)),
            ("whole", whole_price.into()),
            ("cut", cut_price.into()),
            ("limit", limit.into()),
        ];
        self.line(if whole { "price-buy-whole" } else { "price-buy-cut" }, &args)
    }
}
