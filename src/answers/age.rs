//! How old it is against how long it lasts: the hard limit first, then the estimate.

use super::compose::Finding;
use super::words::{Danger, State};
use super::{Asked, Question, Subject};
use crate::dates::KitchenDay;
use crate::rules::{DayRange, Food, Kind, Life, SafetyLimit};
use crate::wording::{capital, sentence};
use crate::words::{DateLabel, Form, Place, Verdict};

/// Fresh produce this many times past its usual life is thrown out without a look.
const FAR_PAST: i64 = 2;

/// What stands in or comes from one of these is a cooked dish.
const HEATED: &[&str] = &[
    "stove",
    "hob",
    "pan",
    "oven",
    "wok",
    "reheat",
    "reheated",
    "reheating",
    "casserole",
    "takeaway",
    "takeout",
    "warmed",
];

/// Where and in which form a food is asked about.
pub(super) struct Standing {
    pub form: Form,
    pub place: Place,
    /// Said, not assumed.
    pub said: bool,
}

impl<'a> Asked<'a> {
    /// The age in whole days, when one was said: from the reader's day, else from the text.
    pub(super) fn age_days(&self, question: &Question<'a>) -> Option<i64> {
        let spoken_day = question.statement.and_then(|s| s.day);
        let spoken_day = spoken_day.or_else(|| self.spoken_weekday());
        let from_day = spoken_day.map(|day| self.today.days_since(day)).filter(|days| *days >= 0);
        let minutes = question.statement.and_then(|s| s.minutes).max(self.scan.minutes);
        let out = self.scan.has(Danger::Out);
        let from_minutes = minutes.map(|m| i64::from(m / (24 * 60))).filter(|days| {
            // Hours at room temperature are not an age.
            *days > 0 && !out
        });
        from_day.max(from_minutes)
    }

    /// "From monday": the last one gone by, where the reader made no day of it.
    fn spoken_weekday(&self) -> Option<KitchenDay> {
        let tokens = &self.scan.tokens;
        let past = |i: usize| {
            i.checked_sub(1).is_some_and(|i| {
                ["from", "since", "on", "last", "of"].contains(&tokens[i].as_str())
            })
        };
        let named = tokens.iter().enumerate().filter(|(i, _)| past(*i));
        let weekday = named.filter_map(|(_, word)| word.parse::<chrono::Weekday>().ok()).next()?;
        (1..=7).map(|days| self.today.plus(-days)).find(|day| day.weekday() == weekday)
    }

    pub(super) fn age_asked(&self, question: &Question<'a>, subject: &Subject<'a>) -> Vec<Finding> {
        let Some(food) = subject.food else { return Vec::new() };
        if food.hazard {
            return Vec::new();
        }
        match self.age_days(question) {
            Some(days) if self.too_long_in_water(food, days) => {
                let rule = self.in_water_rule(food);
                let lead = self.say.sign_discard(food.noun(), rule.lines.join(" "));
                let mut finding = Finding::new(Verdict::Discard, food.noun(), lead);
                finding.cites = rule.cites;
                vec![finding]
            }
            Some(days) => vec![self.aged(food, &self.standing(food, subject), days)],
            None => Vec::new(),
        }
    }

    /// Whether pieces stand in water longer than they may.
    fn too_long_in_water(&self, food: &Food, days: i64) -> bool {
        let Some(water) = food.water.as_ref().filter(|_| self.in_water(food)) else { return false };
        let most = water.limit_hours.map_or(water.longest_days, |hours| hours / 24);
        days > i64::from(most)
    }

    /// The form and place meant: as said, else as the text says, else where it normally is.
    pub(super) fn standing(&self, food: &Food, subject: &Subject<'a>) -> Standing {
        let scan = self.scan;
        let spoken = |words: &[&str], form: Form| scan.word(words).then_some(form);
        let form = subject
            .form
            .or_else(|| spoken(&["leftover", "leftovers", "cooked"], Form::Cooked))
            .or_else(|| scan.says(State::Cooked).then_some(Form::Cooked))
            .or_else(|| spoken(HEATED, Form::Cooked))
            .or_else(|| spoken(&["thawed", "defrosted"], Form::Thawed))
            .or_else(|| spoken(&["opened", "open"], Form::Opened))
            .or_else(|| spoken(&["cut", "sliced", "chopped", "halved", "peeled"], Form::Cut))
            .or_else(|| spoken(&["frozen"], Form::Frozen));
        let form = form.or_else(|| self.is_leftover(food).then_some(Form::Cooked));
        let form = food.meant(form.unwrap_or(Form::Whole));
        let place = subject.place.clone().or_else(|| {
            let spoken = |words: &[&str], place: Place| scan.word(words).then_some(place);
            spoken(&["freezer"], Place::Freezer)
                .or_else(|| spoken(&["fridge", "refrigerator", "refrigerated"], Place::Fridge))
                .or_else(|| spoken(&["counter", "worktop"], Place::Counter))
        });
        let said = place.is_some();
        let usual = || match form {
            Form::Frozen => Place::Freezer,
            Form::Whole | Form::Dried => {
                food.places.first().map_or(Place::Fridge, |advice| advice.place.clone())
            }
            _ => Place::Fridge,
        };
        let place = place.unwrap_or_else(usual);
        let form = if place == Place::Freezer && form == Form::Whole { Form::Frozen } else { form };
        Standing { form, place, said }
    }

    /// Rice or beans with an age, in the fridge or left out are cooked ones, unless said dry.
    fn is_leftover(&self, food: &Food) -> bool {
        let scan = self.scan;
        let dry = matches!(food.kind, Kind::Grain | Kind::Legume | Kind::Pantry)
            && food.keeps_out.contains(&Form::Whole)
            && !food.keeps_out.contains(&Form::Cooked)
            && self.cx.rules.safety_limit(food, Form::Cooked, &Place::Fridge).is_some();
        let ages = scan.minutes.is_some()
            || scan.has(Danger::Out)
            || scan.word(&["fridge", "refrigerator", "reheat", "reheated", "still"])
            || self.cx.statements.iter().any(|s| s.day.is_some() || s.minutes.is_some());
        let stored = [
            "dry", "dried", "uncooked", "raw", "bag", "packet", "pantry", "cupboard", "unopened",
            "jar", "box", "shelf",
        ];
        dry && ages && !scan.word(&stored)
    }

    /// What an age means for a food in a form and place.
    pub(super) fn aged(&self, food: &'a Food, at: &Standing, days: i64) -> Finding {
        let limit = self.cx.rules.safety_limit(food, at.form, &at.place);
        if let Some(limit) = limit {
            return self.against_limit(food, at, limit, days);
        }
        if at.form == Form::Frozen {
            return self.frozen(food, at, days);
        }
        match self.cx.rules.life(food, at.form, &at.place) {
            Some(life) => self.against_life(food, at, life, days),
            None => {
                let what = self.named(food, at.form);
                let elapsed = self.say.elapsed_days(days);
                let place = self.say.place(&at.place);
                let lead = self.say.age_unknown(what, place, elapsed);
                Finding::new(Verdict::Unknown, food.noun().to_owned(), lead)
            }
        }
    }

    fn against_limit(&self, food: &Food, at: &Standing, limit: &SafetyLimit, days: i64) -> Finding {
        let start = self.today.plus(-days);
        let last = last_day(limit, start);
        let what = self.named(food, at.form);
        let rule = self.limit_text(limit, &at.place);
        let elapsed = self.say.elapsed_days(days);
        let (verdict, lead) = if self.today > last {
            (Verdict::Discard, self.say.age_past_limit(what.as_str(), rule, elapsed))
        } else if self.today == last {
            (Verdict::Use, self.say.age_last_day(what.as_str(), rule, elapsed))
        } else {
            let day = self.say.day_seen(last, self.today);
            (Verdict::Use, self.say.age_within_limit(what.as_str(), day, rule, elapsed))
        };
        let mut finding = Finding::new(verdict, food.noun().to_owned(), lead).cite(limit.cite);
        if verdict == Verdict::Use {
            finding.push(self.say.slime_check());
        }
        let sum = self.say.sum_age(what, start.to_string(), days + 1, last.to_string());
        finding.reason(sum);
        finding
    }

    fn frozen(&self, food: &Food, at: &Standing, days: i64) -> Finding {
        let what = self.named(food, Form::Frozen);
        let elapsed = self.say.elapsed_days(days);
        let life = self.cx.rules.life(food, Form::Frozen, &at.place);
        let months = food.freeze.as_ref().and_then(|freeze| Some((freeze.months?, freeze.cite)));
        let (range, cite) = match (life, months) {
            (Some(life), _) => (self.say.range(life.days), life.cite),
            (None, Some((months, cite))) => (self.months(months), cite),
            (None, None) => {
                let lead = self.say.age_unknown(what, self.say.place(&Place::Freezer), elapsed);
                return Finding::new(Verdict::Unknown, food.noun().to_owned(), lead);
            }
        };
        let lead = self.say.age_frozen(what, range, elapsed);
        Finding::new(Verdict::Use, food.noun().to_owned(), lead).cite(cite)
    }

    fn against_life(&self, food: &Food, at: &Standing, life: &Life, days: i64) -> Finding {
        let what = self.named(food, at.form);
        let (range, place) = (self.say.range(life.days), self.say.place(&at.place));
        let elapsed = self.say.elapsed_days(days);
        let most = i64::from(life.days.max);
        let fresh = food.kind.is_produce() && at.form == Form::Whole;
        let dry = matches!(food.kind, Kind::Pantry | Kind::Grain | Kind::Legume | Kind::NutSeed)
            && matches!(at.form, Form::Whole | Form::Dried);
        let (verdict, lead) = if days <= most {
            (Verdict::Use, self.say.age_within_life(what, range, place, elapsed))
        } else if dry || fresh && days <= most * FAR_PAST {
            (Verdict::Limited, self.say.age_over_life(what, range, place, elapsed))
        } else {
            (Verdict::Discard, self.say.age_past_life(what, range, place, elapsed))
        };
        Finding::new(verdict, food.noun().to_owned(), lead).cite(life.cite)
    }

    /// Asked whether it is still good, with nothing said of its age or looks.
    pub(super) fn age_needed(&self, food: &'a Food, subject: &Subject<'a>) -> Finding {
        let at = self.standing(food, subject);
        let what = self.named(food, at.form);
        match self.cx.rules.safety_limit(food, at.form, &at.place) {
            Some(limit) => {
                let rule = capital(&self.limit_text(limit, &at.place));
                let lead = self.say.unknown_age(what, rule);
                Finding::new(Verdict::Unknown, food.noun().to_owned(), lead).cite(limit.cite)
            }
            None => {
                let mut finding = self.keeps(food, &at);
                if finding.verdict == Verdict::Keeps && !food.kind.is_produce() {
                    // Not produce, age unknown: a figure, and no leave to eat.
                    finding.verdict = Verdict::Unknown;
                    let figure = finding.lines.remove(0);
                    finding.lines.insert(0, self.say.unknown_age(what, figure));
                }
                finding.push(self.say.slime_check());
                finding
            }
        }
    }

    /// "4 days in the fridge, the day of cooking being day 1 (...)".
    pub(super) fn limit_text(&self, limit: &SafetyLimit, place: &Place) -> String {
        let (place, why) = (self.say.place(place), limit.why.trim_end_matches('.'));
        match (limit.hours, limit.days) {
            (Some(hours), _) => self.say.limit_hours(hours, place, why),
            (None, Some(days)) => self.say.limit_days(days, place, why),
            (None, None) => String::new(),
        }
    }

    /// "cooked rice"; the bare name when the form is the usual one.
    pub(super) fn named(&self, food: &Food, form: Form) -> String {
        if form == food.usual_form || form == Form::Whole {
            return food.noun().to_owned();
        }
        self.say.formed(food.noun(), form)
    }

    pub(super) fn months(&self, months: DayRange) -> String {
        self.say.range_months(
            if months.min == months.max { "yes" } else { "no" },
            months.max,
            months.min,
        )
    }

    /// "Best before was last week", "use by yesterday".
    pub(super) fn label_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        use crate::rules::Topic;
        let printed = question.statement.into_iter().flat_map(|s| &s.items).find_map(|i| i.printed);
        let scan = self.scan;
        let formula = question
            .subjects
            .iter()
            .any(|s| s.food.is_some_and(|food| food.name.contains("formula")));
        let use_by = formula
            || printed.map_or_else(
                || {
                    let said = scan.tokens.windows(2).any(|w| w[0] == "use" && w[1] == "by");
                    said || scan.word(&["useby"])
                },
                |(label, _)| label == DateLabel::UseBy,
            );
        let passed = [
            "past",
            "passed",
            "after",
            "expired",
            "ago",
            "yesterday",
            "over",
            "gone",
            "last",
            "out",
        ];
        let meaning = scan.word(&["mean", "means", "meaning", "difference", "same"]);
        if meaning {
            let topic = if use_by { Topic::DateUseBy } else { Topic::DateBestBefore };
            let mut row = self.guided(topic, Verdict::HowTo);
            row.verdict = Verdict::HowTo;
            return vec![row];
        }
        let subject = question.subjects.first();
        let food = subject.and_then(|s| s.food);
        let what = food.map_or_else(|| self.say.it(), |food| food.noun().to_owned());
        if use_by {
            let row = self.guided(Topic::DateUseBy, Verdict::HowTo);
            let day = printed.map(|(_, day)| day);
            let day = day.or_else(|| question.statement.and_then(|s| s.day));
            return match day {
                Some(day) if day < self.today => {
                    let day = self.say.day_seen(day, self.today);
                    let lead = self.say.label_past_use_by(capital(&day));
                    vec![with(Finding::new(Verdict::Discard, what, lead), &row)]
                }
                Some(day) => {
                    let day = self.say.day_seen(day, self.today);
                    let lead = self.say.label_before_use_by(what.as_str(), day);
                    vec![with(Finding::new(Verdict::Use, what, lead), &row)]
                }
                None if scan.word(&passed) => {
                    let mut finding = row;
                    finding.verdict = Verdict::Discard;
                    let lead = self.say.sign_discard(what.as_str(), finding.lines.remove(0));
                    finding.lines.insert(0, lead);
                    vec![finding]
                }
                None => vec![row],
            };
        }
        let row = self.guided(Topic::DateBestBefore, Verdict::HowTo);
        let Some(food) = food.filter(|_| scan.word(&passed) || printed.is_some()) else {
            return vec![row];
        };
        // Days past a best-before date are added to no clock: meat and the like go by their own.
        let days = self.age_days(question).unwrap_or(0);
        let at = subject.map(|s| self.standing(food, s));
        let life = at.as_ref().and_then(|at| self.cx.rules.life(food, at.form, &at.place));
        let careful = matches!(food.kind, Kind::Meat | Kind::Fish);
        let far = life.is_none_or(|life| days > i64::from(life.days.max));
        if careful || far && days > 0 {
            let lead = self.say.unknown_age(what.as_str(), row.lines[0].as_str());
            return vec![with(Finding::new(Verdict::Unknown, food.noun().to_owned(), lead), &row)];
        }
        let lead = self.say.label_past_best(what.as_str());
        vec![with(Finding::new(Verdict::Use, food.noun().to_owned(), lead), &row)]
    }
}

/// The last day within a limit that began on `start`: of a limit in days the first day counts, of
/// one in hours a day is over when its hours are.
pub(super) fn last_day(limit: &SafetyLimit, start: KitchenDay) -> KitchenDay {
    match (limit.hours, limit.days) {
        (Some(hours), _) => start.plus(i64::from(hours / 24)),
        (None, Some(days)) => start.plus(i64::from(days) - 1),
        (None, None) => start,
    }
}

/// A finding with the words and sources of the guidance it rests on.
fn with(mut finding: Finding, row: &Finding) -> Finding {
    row.lines.iter().for_each(|line| {
        finding.push(sentence(line).into_owned());
    });
    finding.cites.extend(&row.cites);
    finding
}
