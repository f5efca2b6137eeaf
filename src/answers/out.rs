//! The clocks in hours: left out of the fridge, power cut, thawing, reheating.

use super::age::Standing;
use super::compose::Finding;
use super::words::Danger;
use super::{Asked, Question, Subject};
use crate::kitchen::UnitSystem;
use crate::rules::{Food, Kind, Topic};
use crate::statement::Scope;
use crate::words::{Form, Intent, Place, Verdict};

/// Mostly eaten cooked, so that the name alone may mean the dish.
fn cooked_at_heart(food: &Food) -> bool {
    let cooks = food.main_part().is_some_and(|p| p.verdict == Verdict::EdibleWhenCooked);
    let dishes = matches!(food.kind, Kind::Legume | Kind::Root | Kind::Vegetable);
    cooks && dishes && !food.keeps_out.contains(&Form::Cooked)
}

/// A limit below this many minutes is said as "not at all".
const SHORTEST: u32 = 10;

impl<'a> Asked<'a> {
    /// "Left the stew out overnight, still ok?"
    pub(super) fn left_out_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        if question.subjects.is_empty() {
            let what = self.say.it();
            return vec![self.out_unknown(question, &what)];
        }
        question.subjects.iter().flat_map(|s| self.out_for(question, s)).collect()
    }

    /// Minutes at room temperature: what the reader says and what the text says, the longer.
    fn minutes_out(&self, question: &Question<'a>) -> Option<u32> {
        question.statement.and_then(|s| s.minutes).max(self.scan.minutes)
    }

    fn hot(&self) -> bool {
        let degrees = self.scan.degrees_c;
        let above = self.cx.rules.general.left_out.hot_above_c;
        self.scan.has(Danger::Heat) || degrees.is_some_and(|degrees| degrees > above)
    }

    /// One food left out.
    pub(super) fn out_for(&self, question: &Question<'a>, subject: &Subject<'a>) -> Vec<Finding> {
        let Some(food) = subject.food else {
            return vec![self.out_unknown(question, &subject.name)];
        };
        if food.hazard {
            return vec![self.whole(food)];
        }
        let form = self.standing(food, subject).form;
        // A question names the counter for whole produce too; that is no clock.
        let form = if matches!(form, Form::Frozen) { Form::Thawed } else { form };
        // What was made at home is no closed jar.
        let made = matches!(food.kind, Kind::Condiment | Kind::Prepared) && form == Form::Whole;
        let form = if made && self.scan.homemade() { Form::Cooked } else { form };
        let Some(limits) = self.cx.rules.left_out(food, form) else {
            let asks = matches!(question.intent, Intent::AskLeftOut | Intent::LeftOut);
            let lead = self.say.out_fine(food.noun());
            let days = self.minutes_out(question).map_or(0, |minutes| minutes / (24 * 60));
            return if asks && days > 0 {
                // Safe from the two-hour rule, and older all the same.
                let at = Standing { form, place: Place::Counter, said: true };
                vec![self.aged(food, &at, i64::from(days))]
            } else if asks
                && !self.scan.word(&["raw", "whole", "uncut", "uncooked", "unwashed"])
                && cooked_at_heart(food)
            {
                // "Potatoes left out overnight" may mean boiled ones.
                let rule = self.say.span(self.cx.rules.general.left_out.minutes);
                let lead = self.say.out_whole_only(food.noun(), rule);
                let cite = self.cx.rules.general.left_out.cite;
                vec![Finding::new(Verdict::Limited, food.noun(), lead).cite(cite)]
            } else if asks {
                vec![Finding::new(Verdict::Use, food.noun().to_owned(), lead)]
            } else {
                Vec::new()
            };
        };
        let most = if self.hot() { limits.hot_minutes } else { limits.minutes };
        let what = self.named(food, form);
        let rule = self.say.span(most);
        let (verdict, lead) = match self.minutes_out(question) {
            // No time at all is allowed for some ("garlic in oil").
            None if most < SHORTEST => (Verdict::DoNot, self.say.out_never(what)),
            Some(_) if most < SHORTEST => (Verdict::Discard, self.say.out_never_discard(what)),
            Some(out) if out > most => {
                let elapsed = self.elapsed(out);
                (Verdict::Discard, self.say.out_discard(what, rule, elapsed))
            }
            Some(out) => {
                let elapsed = self.elapsed(out);
                (Verdict::Use, self.say.out_use(what, rule, elapsed))
            }
            None => (Verdict::DoNot, self.say.out_do_not(what, rule)),
        };
        let mut finding = Finding::new(verdict, food.noun().to_owned(), lead).cite(limits.cite);
        if !self.hot() && limits.hot_minutes < most {
            finding.push(self.heat_line());
        }
        vec![finding]
    }

    fn elapsed(&self, minutes: u32) -> String {
        self.say.elapsed_hours(minutes.div_ceil(60))
    }

    fn heat_line(&self) -> String {
        let general = self.cx.rules.general.left_out;
        let degrees = match self.cx.settings.units {
            UnitSystem::Us => format!("{:.0} F", general.hot_above_c * 9.0 / 5.0 + 32.0),
            UnitSystem::Metric => format!("{:.0} C", general.hot_above_c),
        };
        self.say.heat(degrees, self.say.span(general.hot_minutes))
    }

    /// Something the rule set does not know, left out: perishable until shown otherwise.
    pub(super) fn out_unknown(&self, question: &Question<'a>, name: &str) -> Finding {
        let general = self.cx.rules.general.left_out;
        let most = if self.hot() { general.hot_minutes } else { general.minutes };
        let rule = self.say.span(most);
        let (verdict, lead) = match self.minutes_out(question) {
            Some(out) if out > most => {
                let elapsed = self.elapsed(out);
                (Verdict::Discard, self.say.out_unknown_discard(name, rule, elapsed))
            }
            _ => (Verdict::Unknown, self.say.out_unknown(name, rule)),
        };
        Finding::new(verdict, name, lead).cite(general.cite)
    }

    /// "Fridge was off 5 hours", "power's gone".
    pub(super) fn outage(&self, question: &Question<'a>) -> Finding {
        let general = self.cx.rules.general.outage;
        let scope = question.statement.and_then(|s| s.scope.as_ref());
        let freezer = matches!(scope, Some(Scope::Place(Place::Freezer)))
            || self.scan.word(&["freezer", "frozen"]);
        let fridge = matches!(scope, Some(Scope::Place(Place::Fridge)))
            || self.scan.word(&["fridge", "refrigerator"]);
        let minutes = question.statement.and_then(|s| s.minutes).max(self.scan.minutes);
        let hours = |hours: u32| self.say.hours(hours);
        let (full, half) = (hours(general.freezer_full_hours), hours(general.freezer_half_hours));
        let Some(minutes) = minutes else {
            let lead = self.say.outage_how(hours(general.fridge_hours), full, half);
            return Finding::new(Verdict::HowTo, self.say.this(), lead).cite(general.cite);
        };
        let elapsed = self.elapsed(minutes);
        let (verdict, lead) = if freezer && !fridge {
            let half_full = self.scan.word(&["half"]);
            let filled = self.scan.word(&["full", "packed"]) && !half_full;
            let most =
                if half_full { general.freezer_half_hours } else { general.freezer_full_hours };
            if minutes <= general.freezer_half_hours * 60
                || filled && minutes <= general.freezer_full_hours * 60
            {
                (Verdict::Use, self.say.outage_freezer_keep(full, half, elapsed))
            } else if minutes <= most * 60 {
                (Verdict::Limited, self.say.outage_freezer_look(half, full, elapsed))
            } else {
                (Verdict::Discard, self.say.outage_freezer_out(hours(most), elapsed))
            }
        } else {
            let limit = hours(general.fridge_hours);
            if minutes <= general.fridge_hours * 60 {
                (Verdict::Use, self.say.outage_fridge_keep(limit, elapsed))
            } else {
                let elapsed = super::compose::lower(&elapsed);
                (Verdict::Discard, self.say.outage_fridge_out(limit, elapsed))
            }
        };
        Finding::new(verdict, self.say.this(), lead).cite(general.cite)
    }

    /// "How do I thaw mince?", "can I refreeze it?"
    pub(super) fn thaw_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        let refreeze = self.scan.has(Danger::Guided(Topic::Refreezing));
        let topic = if refreeze { Topic::Refreezing } else { Topic::Thawing };
        let mut finding = self.guided(topic, Verdict::HowTo);
        if let Some(subject) = question.subjects.first() {
            finding.subject = subject.what().to_owned();
        }
        let mut findings = vec![finding];
        // Thawed days ago: the age decides.
        findings.extend(question.subjects.iter().flat_map(|s| self.age_asked(question, s)));
        findings
    }

    /// "Can I reheat the rice?"
    pub(super) fn reheat_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        let mut finding = self.guided(Topic::Reheating, Verdict::HowTo);
        let mut findings = Vec::new();
        for subject in &question.subjects {
            finding.subject = subject.what().to_owned();
            if subject.what().contains("rice") {
                let mut rice = self.guided(Topic::CookedRice, Verdict::HowTo);
                rice.subject = subject.what().to_owned();
                findings.push(rice);
            }
            findings.extend(self.age_asked(question, subject));
            if self.scan.has(Danger::Out) {
                findings.extend(self.out_for(question, subject));
            }
        }
        findings.push(finding);
        findings
    }
}
