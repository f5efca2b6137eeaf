//! Answers about the household's figures: waste, money, what is lost most and why, what a shop
//! cost. The reckoning is the ledger's; one practical suggestion at most, and no blame.

use super::outlook::Outlook;
use crate::conversation::Rich;
use crate::keeping::Lesson;
use crate::ledger::money;
use crate::ledger::period::{Period, Span};
use crate::ledger::waste::{self, Balance, Lost};
use crate::statement::{Item, Statement};
use crate::units::{Minor, Ratio};

/// Foods named as lost most.
const MOST_LOST: usize = 3;

/// An answer is kept under this many characters.
const MOST_CHARS: usize = 500;

/// A food is worth a suggestion once it was lost this often, or this share of it, in per cent [D].
const SUGGEST_TIMES: u32 = 2;
const SUGGEST_SHARE_PERCENT: i64 = 20;

/// Below this a loss is a crumb and no reason to shop otherwise, in grams [D].
const SUGGEST_FROM_GRAMS: i64 = 50;

/// A lesson is told when it moves a life by this share, and no more than so many at once [D].
const WORTH_TELLING: f64 = 0.15;
const MOST_LESSONS: usize = 2;

impl Outlook<'_> {
    /// "How are we doing this month?", "what do we lose most?", "what did that trip cost?"
    pub fn ask_ledger(&self, statement: &Statement) -> Rich {
        let topic = statement.topic.as_deref().unwrap_or_default();
        let about = |word: &str| topic.split(' ').any(|each| each == word);
        let named = statement.items.iter().find(|item| !item.name.is_empty());
        if let Some(item) = named {
            return self.figures_of(item, topic);
        }
        if self.state.ledger.is_empty() && self.state.trips.is_empty() {
            return self.wording.ledger_empty();
        }
        if about("trip") {
            return self.last_trip();
        }
        if about("budget") {
            return self.money_only();
        }
        if about("spent") {
            let period = Period::named(topic, self.today);
            return match period.span {
                Span::Month if !period.last => self.money_only(),
                _ => self.spent_in(&period),
            };
        }
        if about("lost") {
            // What is lost most is a habit: a month is too short to show it.
            let span = if topic == "lost" { "lost year" } else { topic };
            return self.lost_most(&Period::named(span, self.today));
        }
        self.figures(&Period::named(topic, self.today))
    }

    fn figures(&self, period: &Period) -> Rich {
        let units = self.state.settings.units;
        let weight = |grams: i64| self.wording.weight(grams, units);
        let balance = Balance::over(period, self.log, self.state);
        let flows = &balance.flows;
        let mut text = self.wording.ledger_totals(
            &self.period(period),
            &weight(flows.came_in),
            &weight(flows.eaten),
            &weight(balance.closing),
        );
        let out = [
            ("ledger-composted", flows.composted()),
            ("ledger-fed", flows.animal_feed()),
            ("ledger-thrown-out", flows.thrown_out()),
            ("ledger-given", flows.given),
        ];
        let out: Vec<String> = out
            .iter()
            .filter(|(_, grams)| *grams > 0)
            .map(|(id, grams)| self.wording.ledger_term(id, &weight(*grams)))
            .collect();
        if !out.is_empty() {
            text.push_line(self.wording.ledger_out(&self.wording.list(&out)));
        }
        text.push_line(match balance.waste_share() {
            Some(share) => {
                let percent = (share * 100.0).round() as i64;
                self.wording.ledger_share(percent, self.state.settings.target_percent)
            }
            None => self.wording.ledger_no_share(),
        });
        if balance.is_rough() {
            text.push_line(match flows.uncounted {
                more @ ..0 => self.wording.ledger_more_out(&weight(-more)),
                left => self.wording.ledger_uncounted(&weight(left)),
            });
        }
        let lost = waste::lost_most(&self.state.losses, period);
        if let Some(most) = lost.first() {
            text.push_line(self.wording.ledger_lost_most(&self.say_lost(most)));
        }
        text.push_line(match period.span {
            Span::Month if !period.last => self.month_money(),
            _ if self.state.trips.is_empty() => Rich::new(),
            _ => self.spent_in(period),
        });
        let suggestion = self.suggestion(&lost);
        if text.to_plain().chars().count() + suggestion.to_plain().chars().count() < MOST_CHARS {
            text.push_line(suggestion);
        }
        for lesson in self.lessons() {
            if text.to_plain().chars().count() + lesson.to_plain().chars().count() < MOST_CHARS {
                text.push_line(lesson);
            }
        }
        text
    }

    /// What the household's own outcomes have taught, where it is sure enough and matters.
    fn lessons(&self) -> Vec<Rich> {
        let learned = self.keeper.learned();
        let mut lessons: Vec<_> = learned
            .lessons()
            .filter(|(_, _, lesson)| (lesson.factor - 1.0).abs() >= WORTH_TELLING)
            .collect();
        lessons.sort_by(|a, b| {
            let far = |lesson: &Lesson| (lesson.factor.ln()).abs();
            far(&b.2).total_cmp(&far(&a.2)).then_with(|| (a.0, a.1).cmp(&(b.0, b.1)))
        });
        let lines = lessons.into_iter().take(MOST_LESSONS).map(|(food, place, lesson)| {
            let name = self.foods.food(food).map_or(food.as_str(), |food| &food.plural);
            self.wording.lesson(name, &self.wording.at_place(place), lesson.factor, lesson.cases)
        });
        lines.collect()
    }

    /// The figures of one food.
    fn figures_of(&self, item: &Item, topic: &str) -> Rich {
        let units = self.state.settings.units;
        let weight = |grams: i64| self.wording.weight(grams, units);
        let key = item.food.as_ref().map_or(item.name.as_str(), |food| food.as_str());
        let said = ["today", "week", "month", "year"];
        let named = topic.split(' ').any(|word| said.contains(&word));
        let period = if named {
            Period::named(topic, self.today)
        } else {
            Period::of(Span::All, false, self.today)
        };
        let at = |day| crate::kitchen::State::before(self.log, day);
        let of = |state: &crate::kitchen::State| state.ledger.get(key).copied().unwrap_or_default();
        let until = if period.last { of(&at(period.until.plus(1))) } else { of(self.state) };
        let totals = until.minus(period.from.map(|from| of(&at(from))).unwrap_or_default());
        let food = item.food.as_ref().and_then(|id| self.foods.food(id));
        let name = food.map_or(item.name.as_str(), |food| &food.plural);
        let lost = totals.composted_food + totals.trash_food + totals.sewer_food;
        let mut text = self.wording.ledger_food(
            name,
            &self.period(&period),
            &weight(totals.came_in),
            &weight(totals.eaten),
            &weight(lost),
        );
        let paid = self.state.prices.get(key).into_iter().flatten();
        let paid: i64 =
            paid.filter(|price| period.contains(price.day)).map(|price| price.minor.0).sum();
        if paid > 0 {
            text.push_line(self.wording.ledger_paid(&self.money(Minor(paid))));
        }
        text
    }

    fn lost_most(&self, period: &Period) -> Rich {
        let lost = waste::lost_most(&self.state.losses, period);
        if lost.is_empty() {
            return self.wording.ledger_nothing_lost(&self.period(period));
        }
        let most: Vec<String> =
            lost.iter().take(MOST_LOST).map(|lost| self.say_lost(lost)).collect();
        let mut text = self.wording.ledger_lost_in(&self.period(period), &self.wording.list(&most));
        let cost = lost.iter().fold(0, |sum: i64, lost| sum.saturating_add(lost.cost.0));
        if cost > 0 {
            text.push_line(self.wording.ledger_lost_cost(&self.money(Minor(cost))));
        }
        text.push_line(self.suggestion(&lost));
        text
    }

    /// "300 g mushrooms (slimy)", "dill twice".
    fn say_lost(&self, lost: &Lost) -> String {
        let name = self.wording.food(&lost.of, self.foods, true);
        let amount = match lost.grams {
            0 => String::new(),
            grams => self.wording.weight(grams, self.state.settings.units),
        };
        let reason = lost.reasons.first().map_or("", String::as_str);
        self.wording.ledger_lost(&name, &amount, lost.times, reason)
    }

    /// One thing to do otherwise, from the household's own record.
    fn suggestion(&self, lost: &[Lost]) -> Rich {
        let share_of = |lost: &Lost| {
            let totals = self.state.ledger.get(lost.of.key()).copied().unwrap_or_default();
            let wasted = totals.composted_food + totals.trash_food + totals.sewer_food;
            (totals.came_in > 0).then(|| wasted * 100 / totals.came_in)
        };
        let telling = lost.iter().find_map(|lost| {
            let share = share_of(lost);
            let large = share.is_some_and(|share| share >= SUGGEST_SHARE_PERCENT)
                && lost.grams >= SUGGEST_FROM_GRAMS;
            (large || lost.times >= SUGGEST_TIMES).then_some((lost, share))
        });
        let Some((lost, share)) = telling else { return Rich::new() };
        let food = lost.of.food.as_ref().and_then(|id| self.foods.food(id));
        let freezes = food.is_some_and(|food| food.freeze.is_some());
        let name = self.wording.food(&lost.of, self.foods, true);
        let share = share.filter(|share| *share >= SUGGEST_SHARE_PERCENT);
        self.wording.ledger_suggestion(&name, share, freezes)
    }

    /// What the month has cost, what is left, and where it is heading.
    fn month_money(&self) -> Rich {
        let month = money::month(self.state, self.today);
        if month.trips == 0 && month.budget.is_none() {
            return Rich::new();
        }
        let spent = self.money(month.spent);
        let mut text = match month.budget.zip(month.left) {
            Some((budget, left)) if left.0 < 0 => {
                let over = self.money(Minor(-left.0));
                self.wording.ledger_over_budget(&spent, &self.money(budget), &over)
            }
            Some((budget, left)) => {
                self.wording.ledger_budget(&spent, &self.money(budget), &self.money(left))
            }
            None => self.wording.ledger_spent(&spent),
        };
        if let Some(forecast) = month.forecast.filter(|forecast| forecast.likely > month.spent) {
            text.push(" ").push(self.wording.ledger_forecast(
                &self.money(forecast.likely),
                &self.money(forecast.low),
                &self.money(forecast.high),
            ));
        }
        text
    }

    fn money_only(&self) -> Rich {
        let text = self.month_money();
        if self.state.settings.budget.is_some() {
            return text;
        }
        let mut text = if text.is_empty() { self.wording.ledger_no_spending() } else { text };
        text.push_line(self.wording.ledger_no_budget());
        text
    }

    fn spent_in(&self, period: &Period) -> Rich {
        let trips = self.state.trips.iter().filter(|trip| period.contains(trip.day));
        let spent = trips.fold(0_i64, |sum, trip| sum.saturating_add(trip.cost().0));
        self.wording.ledger_spent_in(&self.period(period), &self.money(Minor(spent)))
    }

    /// "What did that trip cost?"
    fn last_trip(&self) -> Rich {
        let Some(trip) = self.state.trips.last() else {
            return self.wording.ledger_no_trip();
        };
        let day = self.say_day(trip.day);
        let mut text = self.wording.ledger_trip(&day, &self.money(trip.cost()));
        let split = trip.cost() != trip.itemised || !trip.charges.is_empty();
        if split && trip.itemised.0 > 0 {
            let currency = &self.state.settings.currency;
            let terms = self.wording.bill(trip.cost(), trip.itemised, &trip.charges, currency);
            text.push(" ").push(self.wording.ledger_trip_split(&terms));
        }
        text
    }

    fn period(&self, period: &Period) -> String {
        self.wording.period(period)
    }

    pub(super) fn money(&self, minor: Minor) -> String {
        self.wording.money(minor, &self.state.settings.currency)
    }

    /// An exact amount of minor units, rounded to be said.
    pub(super) fn money_of(&self, minor: Ratio) -> String {
        self.money(Minor(minor.rounded()))
    }
}
