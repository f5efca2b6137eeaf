//! The morning post, the evening round, plans and lists, and how an estimate is explained.

use fluent_bundle::FluentValue;

use super::Wording;
use crate::conversation::{Button, Rich};
use crate::keeping::lives::Scaled;
use crate::kitchen::{Foods, Lot, Spoken, UnitSystem};
use crate::units::{Dimension, Quantity, Ratio, Unit};

/// What to do with a lot. A day is in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToDo<'a> {
    ThrowOut,
    EatOrFreeze,
    EatOrThrow,
    CookOrThrow,
    Look,
    BringIn,
    CookOrFreeze,
    UseOrFreeze,
    UseToday,
    UseBy(&'a str),
    UseOrFreezeBy(&'a str),
    FirstOut,
    FineUntil(&'a str),
}

/// Whether something is spoken of as "it" or as "them".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Number {
    One,
    Many,
}

impl Number {
    pub(super) fn arg<'b>(self) -> (&'static str, FluentValue<'b>) {
        ("number", i64::from(if self == Number::One { 1 } else { 2 }).into())
    }
}

impl Wording {
    /// Whether a lot, as [`Wording::lot`] names it, is "it" or "them".
    pub fn number_of(&self, lot: &Lot, foods: &dyn Foods) -> Number {
        let counted = lot.quantity.filter(|held| held.dimension() == Dimension::Count);
        let single = counted.is_some_and(|held| held.value <= Ratio::ONE);
        let many = !single && self.has_plural(&lot.named(), foods);
        if many { Number::Many } else { Number::One }
    }

    /// "200 g spinach", "3 cut carrots".
    pub fn lot(&self, lot: &Lot, foods: &dyn Foods) -> String {
        let amount = lot.quantity.map_or(Spoken::Some, Spoken::Exact);
        self.amount_of(&lot.named(), lot.form, amount, foods)
    }

    /// "spinach", "carrots in water": a lot without its amount.
    pub fn lot_name(&self, lot: &Lot, foods: &dyn Foods) -> String {
        let many = self.number_of(lot, foods) == Number::Many;
        self.food_in_form(&lot.named(), lot.form, foods, many)
    }

    pub(super) fn line(&self, id: &str, args: &[(&str, FluentValue<'_>)]) -> Rich {
        Rich::plain(self.say(id, args))
    }

    // The post.

    pub fn post_head(&self) -> Rich {
        let mut head = Rich::new();
        head.push_strong(self.say("post-head", &[]));
        head
    }

    /// One lot: its name in bold, why now, what to do. Either of the two may be empty.
    pub fn post_line(&self, lot: &str, why: &str, to_do: &str) -> Rich {
        let mut line = Rich::new();
        line.push_strong(capital(lot));
        let rest: Vec<String> = [why, to_do]
            .iter()
            .filter(|part| !part.is_empty())
            .map(|part| sentence(part))
            .collect();
        if !rest.is_empty() {
            line.push(format!(": {}", rest.join(" ")));
        }
        line
    }

    pub fn post_more(&self, count: usize) -> Rich {
        self.line("post-more", &[("count", count.into())])
    }

    pub fn post_still_out(&self, foods: &str) -> Rich {
        self.line("post-still-out", &[("foods", foods.into())])
    }

    pub fn post_bad_day(&self) -> Rich {
        let mut head = Rich::new();
        head.push_strong(self.say("post-bad-day", &[]));
        head
    }

    pub fn post_quiet(&self) -> Rich {
        self.line("post-quiet", &[])
    }

    pub fn post_nothing_new(&self) -> Rich {
        self.line("post-nothing-new", &[])
    }

    pub fn post_quiet_next(&self, lot: &str, day: &str) -> Rich {
        self.line("post-quiet-next", &[("lot", lot.into()), ("day", day.into())])
    }

    pub fn post_doubt(&self, days: i64) -> Rich {
        self.line("post-doubt", &[("days", days.into())])
    }

    pub fn post_off_list(&self, lots: &str) -> Rich {
        self.line("post-off-list", &[("lots", lots.into())])
    }

    pub fn leaving_head(&self, until: &str) -> Rich {
        let mut head = Rich::new();
        head.push_strong(self.say("leaving-head", &[("day", until.into())]));
        head
    }

    pub fn back_home_head(&self) -> Rich {
        let mut head = Rich::new();
        head.push_strong(self.say("back-home-head", &[]));
        head
    }

    /// One line of lots that share a fate; `id` names its message.
    pub fn group(&self, id: &str, lots: &str) -> Rich {
        self.line(id, &[("lots", capital(lots).into())])
    }

    pub fn triage_out(&self, lots: &str) -> Rich {
        self.line("triage-out", &[("lots", lots.into())])
    }

    pub fn triage_safety(&self, lots: &str) -> Rich {
        self.line("triage-safety", &[("lots", lots.into())])
    }

    pub fn triage_tonight(&self, lots: &str) -> Rich {
        self.line("triage-tonight", &[("lots", lots.into())])
    }

    /// The button of a deed, naming the food it is about.
    pub fn deed_button(&self, key: &str, food: Option<&str>) -> Button {
        let Some(food) = food else {
            let label = self.say(&format!("button-all-{}", key.replace('_', "-")), &[]);
            return Button { key: key.to_owned(), label };
        };
        let id = format!("button-{}-of", key.replace('_', "-"));
        let label = self.say(&id, &[("food", capital(food).into())]);
        Button { key: key.to_owned(), label }
    }

    // Why now.

    pub fn why_out(&self, of: Number, reason: &str) -> String {
        self.with_reason("why-out", reason, &[of.arg()])
    }

    pub fn why_last_safe_day(&self, of: Number, day: &str, reason: &str) -> String {
        self.with_reason("why-last-safe-day", reason, &[of.arg(), ("day", day.into())])
    }

    pub fn why_safe_until(&self, time: &str, reason: &str) -> String {
        self.with_reason("why-safe-until", reason, &[("time", time.into())])
    }

    fn with_reason(&self, id: &str, reason: &str, args: &[(&str, FluentValue<'_>)]) -> String {
        let text = self.say(id, args);
        if reason.is_empty() {
            return text;
        }
        self.say("why-with-reason", &[("text", text.into()), ("reason", reason.into())])
    }

    pub fn why_past_late(&self, of: Number) -> String {
        self.say("why-past-late", &[of.arg()])
    }

    pub fn why_past_best(&self, of: Number) -> String {
        self.say("why-past-best", &[of.arg()])
    }

    pub fn why_may_freeze(&self, of: Number, place: &str, celsius: f64) -> String {
        let args = [of.arg(), ("place", place.into()), ("celsius", degrees(celsius).into())];
        self.say("why-may-freeze", &args)
    }

    /// The usual range in days at `place`, and which day this is.
    pub fn why_usual_range(&self, days: (f64, f64), place: &str, age_days: i64) -> String {
        let args = [
            ("range", self.day_range(days).into()),
            ("place", FluentValue::from(place)),
            ("age", age_days.into()),
        ];
        self.say("why-usual-range", &args)
    }

    pub fn why_days_left(&self, of: Number, days: f64) -> String {
        self.say("why-days-left", &[of.arg(), ("days", (days.round() as i64).into())])
    }

    pub fn why_any_day(&self) -> String {
        self.say("why-any-day", &[])
    }

    pub fn why_chilled(&self, of: Number, place: &str) -> String {
        self.say("why-chilled", &[of.arg(), ("place", place.into())])
    }

    pub fn why_warm(&self, of: Number, days: f64) -> String {
        self.say("why-warm", &[of.arg(), ("span", self.rough_span(days).into())])
    }

    pub fn why_neighbour(&self, of: Number, maker: &str) -> String {
        self.say("why-neighbour", &[of.arg(), ("maker", maker.into())])
    }

    pub fn why_printed(&self, day: &str) -> String {
        self.say("why-printed", &[("day", day.into())])
    }

    // What to do.

    /// What to do with a lot, as an instruction.
    pub fn to_do(&self, what: ToDo<'_>, of: Number) -> String {
        let (id, day) = match what {
            ToDo::ThrowOut => ("do-throw-out", None),
            ToDo::EatOrFreeze => ("do-eat-or-freeze", None),
            ToDo::EatOrThrow => ("do-eat-or-throw", None),
            ToDo::CookOrThrow => ("do-cook-or-throw", None),
            ToDo::Look => ("do-look", None),
            ToDo::BringIn => ("do-bring-in", None),
            ToDo::CookOrFreeze => ("do-cook-or-freeze", None),
            ToDo::UseOrFreeze => ("do-use-or-freeze", None),
            ToDo::UseToday => ("do-use-today", None),
            ToDo::UseBy(day) => ("do-soon", Some(day)),
            ToDo::UseOrFreezeBy(day) => ("do-soon-or-freeze", Some(day)),
            ToDo::FirstOut => ("do-first-out", None),
            ToDo::FineUntil(day) => ("do-keeps-until", Some(day)),
        };
        self.say(id, &[of.arg(), ("day", day.unwrap_or_default().into())])
    }

    // Chores.

    pub fn chore_water(&self, lots: &str) -> Rich {
        self.line("chore-water", &[("lots", lots.into())])
    }

    pub fn chore_water_late(&self, lots: &str, hours: i64) -> Rich {
        self.line("chore-water-late", &[("lots", lots.into()), ("hours", hours.into())])
    }

    pub fn chore_water_overdue(&self, lots: &str, hours: i64) -> Rich {
        self.line("chore-water-overdue", &[("lots", lots.into()), ("hours", hours.into())])
    }

    pub fn chore_water_inspect(&self, lots: &str, days: i64) -> Rich {
        self.line("chore-water-inspect", &[("lots", lots.into()), ("days", days.into())])
    }

    pub fn chore_last_day(&self, lot: &str) -> Rich {
        self.line("chore-last-day", &[("lot", capital(lot).into())])
    }

    pub fn chore_past_last_day(&self, lot: &str) -> Rich {
        self.line("chore-past-last-day", &[("lot", capital(lot).into())])
    }

    pub fn freeze_by(&self, day: &str, lots: &str) -> Rich {
        self.line("freeze-by", &[("day", day.into()), ("lots", lots.into())])
    }

    /// "about 600 g of the carrots".
    pub fn some_of(&self, amount: &str, food: &str) -> String {
        self.say("some-of", &[("amount", amount.into()), ("food", food.into())])
    }

    /// A weight in the household's units, rounded as people would say it.
    pub fn weight(&self, grams: i64, units: UnitSystem) -> String {
        self.quantity(self.rounded_weight(grams, units))
    }

    /// The same as an amount.
    pub fn rounded_weight(&self, grams: i64, units: UnitSystem) -> Quantity {
        let (value, unit) = match units {
            UnitSystem::Metric if grams >= 1000 => {
                (Ratio::new((grams + 50) / 100, 10), Unit::Kilogram)
            }
            UnitSystem::Metric => (Ratio::new((grams + 25) / 50 * 50, 1), Unit::Gram),
            // Quarter pounds from half a pound on, ounces below.
            UnitSystem::Us if grams >= 227 => (Ratio::new((grams * 4 + 227) / 454, 4), Unit::Pound),
            UnitSystem::Us => (Ratio::new((grams + 14) / 28, 1), Unit::Ounce),
        };
        Quantity::new(value.unwrap_or(Ratio::ZERO), Some(unit))
    }

    // The household's own stock.

    pub fn nothing_first(&self) -> Rich {
        self.line("nothing-first", &[])
    }

    pub fn have_none(&self, food: &str) -> Rich {
        self.line("have-none", &[("food", food.into())])
    }

    pub fn have_nothing(&self) -> Rich {
        self.line("have-nothing", &[])
    }

    pub fn have_nothing_at(&self, place: &str) -> Rich {
        self.line("have-nothing-at", &[("place", place.into())])
    }

    /// A lot with its place and a note, which may be empty.
    pub fn have_line(&self, lot: &str, place: &str, note: &str) -> String {
        let args = [
            ("lot", FluentValue::from(capital(lot))),
            ("place", place.into()),
            ("note", note.into()),
        ];
        self.say(if note.is_empty() { "have-line" } else { "have-line-note" }, &args)
    }

    pub fn have_at(&self, place: &str, lots: &str, more: usize) -> Rich {
        let mut line = Rich::new();
        line.push_strong(capital(place));
        line.push(": ");
        let args = [("lots", lots.into()), ("more", more.into())];
        line.push(self.say(if more == 0 { "have-lots" } else { "have-lots-more" }, &args));
        line
    }

    pub fn note_doubtful(&self) -> String {
        self.say("note-doubtful", &[])
    }

    pub fn note_use_by(&self, day: &str) -> String {
        self.say("note-use-by", &[("day", day.into())])
    }

    // Plans.

    pub fn plan_head(&self, day: &str) -> Rich {
        let mut head = Rich::new();
        head.push_strong(self.say("plan-head", &[("day", day.into())]));
        head
    }

    pub fn plan_all_keeps(&self) -> Rich {
        self.line("plan-all-keeps", &[])
    }

    pub fn lot_by_day(&self, lot: &str, day: &str) -> String {
        self.say("lot-by-day", &[("lot", lot.into()), ("day", day.into())])
    }

    pub fn plan_wont_last(&self, lots: &str, more: usize) -> Rich {
        let args = [("lots", lots.into()), ("more", more.into())];
        self.line(if more == 0 { "plan-wont-last" } else { "plan-wont-last-more" }, &args)
    }

    pub fn plan_day(&self, day: &str, lots: &str) -> Rich {
        self.line("plan-day", &[("day", capital(day).into()), ("lots", lots.into())])
    }

    pub fn freeze_how(&self, food: &str, how: &str) -> Rich {
        self.line("freeze-how", &[("food", food.into()), ("how", how.into())])
    }

    pub fn plan_too_much(&self, lots: &str) -> Rich {
        self.line("plan-too-much", &[("lots", lots.into())])
    }

    pub fn plan_short(&self, day: &str, amount: &str) -> Rich {
        self.line("plan-short", &[("day", day.into()), ("amount", amount.into())])
    }

    pub fn plan_no_weight(&self, lots: &str) -> Rich {
        self.line("plan-no-weight", &[("lots", lots.into())])
    }

    // The shopping list and the basket.

    pub fn need_listed(&self, food: &str) -> Rich {
        self.line("need-listed", &[("food", capital(food).into())])
    }

    pub fn need_not_listed(&self, food: &str) -> Rich {
        self.line("need-not-listed", &[("food", capital(food).into())])
    }

    pub fn need_nothing(&self) -> Rich {
        self.line("need-nothing", &[])
    }

    pub fn need_list(&self, foods: &str) -> Rich {
        self.line("need-list", &[("foods", foods.into())])
    }

    pub fn need_usual(&self, foods: &str) -> Rich {
        self.line("need-usual", &[("foods", foods.into())])
    }

    pub fn need_base(&self, items: &str) -> Rich {
        self.line("need-base", &[("items", items.into())])
    }

    pub fn ran_low(&self, foods: &str) -> Rich {
        self.line("post-ran-low", &[("foods", foods.into())])
    }

    pub fn enough_here(&self, foods: &str, day: &str) -> Rich {
        self.line("basket-enough", &[("foods", foods.into()), ("day", day.into())])
    }

    pub fn too_much_here(&self, foods: &str) -> Rich {
        self.line("basket-too-much-here", &[("foods", foods.into())])
    }

    pub fn bought_too_much(&self, foods: &str) -> Rich {
        self.line("bought-too-much", &[("foods", foods.into())])
    }

    pub fn basket_empty(&self) -> Rich {
        self.line("basket-empty", &[])
    }

    pub fn basket_too_much(&self, item: &str, over: &str, days: (f64, f64)) -> Rich {
        let args = [
            ("item", FluentValue::from(capital(item))),
            ("over", over.into()),
            ("range", self.day_range(days).into()),
        ];
        self.line("basket-too-much", &args)
    }

    pub fn basket_fine(&self, items: &str) -> Rich {
        self.line("basket-fine", &[("items", items.into())])
    }

    pub fn basket_unknown(&self, items: &str) -> Rich {
        self.line("basket-unknown", &[("items", items.into())])
    }

    pub fn basket_keepers(&self, foods: &str) -> Rich {
        self.line("basket-keepers", &[("foods", foods.into())])
    }

    // Putting away.

    pub fn put_away_not_fridge(&self, foods: &str, place: &str) -> Rich {
        self.line(
            "put-away-not-fridge",
            &[("foods", capital(foods).into()), ("place", place.into())],
        )
    }

    pub fn put_away_at(&self, foods: &str, place: &str) -> Rich {
        self.line("put-away-at", &[("foods", capital(foods).into()), ("place", place.into())])
    }

    pub fn put_away_apart(&self, makers: &str, fearing: &str) -> Rich {
        self.line("put-away-apart", &[("makers", makers.into()), ("fearing", fearing.into())])
    }

    pub fn put_away_at_once(&self, foods: &str) -> Rich {
        self.line("put-away-at-once", &[("foods", capital(foods).into())])
    }

    pub fn put_away_usual(&self) -> Rich {
        self.line("put-away-usual", &[])
    }

    // Explanations.

    pub fn explain_row(&self, days: (f64, f64), place: &str, source: &str) -> String {
        let args = [
            ("range", FluentValue::from(self.day_range(days))),
            ("place", place.into()),
            ("source", source.into()),
        ];
        self.say("explain-row", &args)
    }

    pub fn explain_own_rule(&self) -> String {
        self.say("explain-own-rule", &[])
    }

    /// How the row was brought to the place's temperature; `None` when it was not.
    pub fn explain_scaled(&self, scaled: Scaled, days: (f64, f64), place: &str) -> Option<String> {
        let (id, celsius) = match scaled {
            Scaled::AsPublished => return None,
            Scaled::OwnRows { to_c } => ("explain-own-rows", to_c),
            Scaled::General { to_c } => ("explain-general-rule", to_c),
        };
        let args = [
            ("range", FluentValue::from(self.day_range(days))),
            ("place", place.into()),
            ("celsius", degrees(celsius).into()),
        ];
        Some(self.say(id, &args))
    }

    pub fn explain_guess(&self, place: &str, celsius: f64) -> String {
        self.say("explain-guess", &[("place", place.into()), ("celsius", degrees(celsius).into())])
    }

    pub fn explain_stay(&self, days: f64, place: &str, share: f64) -> String {
        let args = [
            ("span", FluentValue::from(self.rough_span(days))),
            ("place", place.into()),
            ("percent", percent(share.min(1.0)).into()),
        ];
        self.say("explain-stay", &args)
    }

    pub fn explain_neighbour(&self, maker: &str, factor: f64) -> String {
        let args = [("maker", maker.into()), ("percent", percent(1.0 - factor).into())];
        self.say("explain-neighbour", &args)
    }

    pub fn explain_chilling(&self, safe_c: f64, day: &str) -> String {
        self.say("explain-chilling", &[("celsius", degrees(safe_c).into()), ("day", day.into())])
    }

    pub fn explain_learned(&self, factor: f64, cases: u32) -> String {
        let change = percent((factor - 1.0).abs());
        let id = if factor < 1.0 { "explain-learned-shorter" } else { "explain-learned-longer" };
        self.say(id, &[("percent", change.into()), ("cases", cases.into())])
    }

    /// "Your porch keeps swedes about a third longer than the book (9 outcomes)."
    pub fn lesson(&self, food: &str, place: &str, factor: f64, cases: u32) -> Rich {
        let share = (factor - 1.0).abs();
        let parts = [("a-fifth", 0.2), ("a-quarter", 0.25), ("a-third", 1.0 / 3.0), ("half", 0.5)];
        let nearest =
            parts.iter().min_by(|a, b| (a.1 - share).abs().total_cmp(&(b.1 - share).abs()));
        let part = match nearest {
            Some((name, size)) if (size - share).abs() <= 0.06 => *name,
            Some(_) | None => "other",
        };
        let args = [
            ("food", capital(food).into()),
            ("place", FluentValue::from(place)),
            ("percent", percent(share).into()),
            ("part", part.into()),
            ("cases", cases.into()),
        ];
        self.line(if factor < 1.0 { "lesson-shorter" } else { "lesson-longer" }, &args)
    }

    pub fn explain_printed(&self, day: &str) -> String {
        self.say("explain-printed", &[("day", day.into())])
    }

    pub fn explain_frozen(&self) -> String {
        self.say("explain-frozen", &[])
    }

    pub fn explain_limit(&self, when: &str, why: &str, source: &str) -> String {
        let args =
            [("when", FluentValue::from(when)), ("why", why.into()), ("source", source.into())];
        self.say(if why.is_empty() { "explain-limit-plain" } else { "explain-limit" }, &args)
    }

    pub fn explain_range(&self, early: &str, late: &str) -> String {
        self.say("explain-range", &[("early", early.into()), ("late", late.into())])
    }

    pub fn explain_best_until(&self, early: &str, late: &str) -> String {
        self.say("explain-best-until", &[("early", early.into()), ("late", late.into())])
    }

    pub fn explain_limp(&self, day: &str) -> String {
        self.say("explain-limp", &[("day", day.into())])
    }

    pub fn explain_unknown(&self) -> String {
        self.say("explain-unknown", &[])
    }

    pub fn explain_growing(&self) -> String {
        self.say("explain-growing", &[])
    }

    /// "3 to 5", "about 7", "half a day": days in whole numbers, from above a day on.
    fn day_range(&self, (min, max): (f64, f64)) -> String {
        let (low, high) = (min.round() as i64, max.round() as i64);
        match (low, high) {
            (_, 0) => self.say("days-under-one", &[]),
            (0, high) => self.say("days-up-to", &[("days", high.into())]),
            (low, high) if low == high => self.say("days-about", &[("days", low.into())]),
            (low, high) => self.say("days-range", &[("low", low.into()), ("high", high.into())]),
        }
    }

    /// "5 hours", "2 days": a length of time in round words.
    pub fn rough_span(&self, days: f64) -> String {
        let hours = (days * 24.0).round() as u32;
        match hours {
            // From most of a day on, days.
            20.. => self.say("span-days", &[("count", (days.round() as u32).into())]),
            _ => self.span(hours.max(1) * 60),
        }
    }
}

/// Degrees in whole numbers.
fn degrees(celsius: f64) -> String {
    format!("{}", celsius.round() as i64)
}

fn percent(share: f64) -> i64 {
    (share * 100.0).round() as i64
}

/// The text with a capital first letter.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// The text as a sentence: a full stop where it has no mark of its own.
fn sentence(text: &str) -> String {
    let ends = text.ends_with(['.', '?', '!']);
    format!("{text}{}", if ends { "" } else { "." })
}
