//! Where it goes and how long it keeps.

use super::age::Standing;
use super::compose::Finding;
use super::{Asked, Question, Subject};
use crate::rules::{Food, WaterManner};
use crate::wording::{capital, sentence};
use crate::words::{Form, Place, Verdict};

/// Places tried, in this order, when nobody names one and the usual place has no figure.
const FALLBACKS: [Place; 5] =
    [Place::Fridge, Place::Crisper, Place::CoolDark, Place::Counter, Place::Freezer];

impl<'a> Asked<'a> {
    /// "How long does cut melon keep?"
    pub(super) fn keeps_asked(
        &self,
        question: &Question<'a>,
        subject: &Subject<'a>,
    ) -> Vec<Finding> {
        let Some(food) = subject.food else { return vec![self.no_rule(subject)] };
        if food.hazard {
            return vec![self.whole(food)];
        }
        if let Some(finding) = self.compound(food) {
            return vec![finding];
        }
        let mut at = self.standing(food, subject);
        if at.form == Form::InWater || self.in_water(food) {
            return vec![self.in_water_rule(food)];
        }
        if let Some(word) = self.unlisted_part(subject) {
            return vec![self.part(food, &word)];
        }
        let has_figure = |at: &Standing| {
            self.cx.rules.safety_limit(food, at.form, &at.place).is_some()
                || self.cx.rules.life(food, at.form, &at.place).is_some()
        };
        if !at.said && !has_figure(&at) {
            let form = at.form;
            let other = FALLBACKS
                .into_iter()
                .map(|place| Standing { form, place, said: false })
                .find(has_figure);
            at = other.unwrap_or(at);
        }
        let mut finding = self.keeps(food, &at);
        if finding.verdict == Verdict::Keeps {
            self.keep_elsewhere(food, &at, &mut finding);
            for line in self.yours(food).into_iter().filter(|f| f.verdict != Verdict::Unknown) {
                finding.lines.insert(1, line.lines[0].clone());
            }
        }
        let mut findings = vec![finding];
        // "... I've had it for two weeks": an age in the question is judged as well.
        if question.statement.is_some_and(|s| s.day.is_some()) {
            findings.extend(self.age_asked(question, subject));
        }
        findings
    }

    /// A named part that the table does not call fit to eat.
    fn unlisted_part(&self, subject: &Subject<'a>) -> Option<String> {
        let food = subject.food?;
        let word = subject.part.clone()?;
        super::forbids(self.part(food, &word).verdict).then_some(word)
    }

    /// The figure for one form in one place.
    pub(super) fn keeps(&self, food: &'a Food, at: &Standing) -> Finding {
        let say = self.say;
        let (what, place) = (self.named(food, at.form), say.place(&at.place));
        if let Some(limit) = self.cx.rules.safety_limit(food, at.form, &at.place) {
            let most = match (limit.hours, limit.days) {
                (Some(hours), _) => say.hours(hours),
                (None, days) => say.limit_short(days.unwrap_or(0)),
            };
            let lead = say.keeps_limit(what, place, most, sentence(&limit.why));
            return Finding::new(Verdict::Keeps, food.noun().to_owned(), lead).cite(limit.cite);
        }
        let lives = self.cx.rules.lives(food, at.form, &at.place);
        let Some(life) = lives.first().filter(|life| !life.alternative) else {
            let lead = say.no_figure(what, place);
            return Finding::new(Verdict::Unknown, food.noun().to_owned(), lead);
        };
        let lead = say.keeps(what, place, say.range(life.days));
        let mut finding =
            Finding::new(Verdict::Keeps, food.noun().to_owned(), lead).cite(life.cite);
        if let Some(note) = &life.note {
            finding.push(capital(&sentence(note)));
        }
        for other in lives.iter().filter(|life| life.alternative) {
            let source = self.cx.rules.source(other.cite).short.clone();
            finding.reason(say.sum_alternative(
                say.range(other.days),
                say.place(&other.place),
                source,
            ));
        }
        finding
    }

    /// The other figures worth knowing: cut or opened, frozen.
    fn keep_elsewhere(&self, food: &'a Food, at: &Standing, finding: &mut Finding) {
        let say = self.say;
        if !at.said && at.form == food.usual_form {
            let others = [Place::Counter, Place::CoolDark, Place::Fridge];
            for place in others.into_iter().filter(|place| *place != at.place) {
                if let Some(life) = self.cx.rules.life(food, at.form, &place) {
                    let place = capital(&say.place(&place));
                    finding.push(say.keeps_also(place, say.range(life.days)));
                }
            }
        }
        let months = food.freeze.as_ref().filter(|freeze| freeze.advised);
        if at.form != Form::Frozen
            && let Some(months) = months.and_then(|freeze| freeze.months)
        {
            finding.push(say.keeps_frozen(self.months(months)));
        }
    }

    /// "Rice horchata" is not rice.
    fn compound(&self, food: &Food) -> Option<Finding> {
        let name = self.scan.compound(food)?;
        let mut finding = Finding::new(Verdict::Unknown, food.noun(), self.say.no_rule(name));
        finding.push(self.say.help_unknown());
        Some(finding)
    }

    fn no_rule(&self, subject: &Subject<'a>) -> Finding {
        let name = &subject.name;
        let mut finding =
            Finding::new(Verdict::Unknown, name.clone(), self.say.no_rule(name.as_str()));
        finding.push(self.say.help_unknown());
        finding
    }

    /// "Where do plums go?"
    pub(super) fn where_asked(&self, subject: &Subject<'a>) -> Vec<Finding> {
        let Some(food) = subject.food else { return vec![self.no_rule(subject)] };
        if food.hazard {
            return vec![self.whole(food)];
        }
        if let Some(finding) = self.compound(food) {
            return vec![finding];
        }
        let at = self.standing(food, subject);
        if at.form == Form::InWater || self.in_water(food) {
            return vec![self.in_water_rule(food)];
        }
        if let Some(word) = self.unlisted_part(subject) {
            return vec![self.part(food, &word)];
        }
        if at.form != food.usual_form && at.form != Form::Whole {
            let mut finding = self.keeps(food, &at);
            if finding.verdict == Verdict::Keeps {
                finding.verdict = Verdict::Place;
            }
            return vec![finding];
        }
        let Some(best) = food.places.first() else { return vec![self.no_rule(subject)] };
        let say = self.say;
        let why = capital(&sentence(&best.why));
        let lead = say.place(&best.place);
        let lead = say.place_best(food.noun(), lead, why);
        let mut finding =
            Finding::new(Verdict::Place, food.noun().to_owned(), lead).cite(best.cite);
        if let Some(life) = self.cx.rules.life(food, at.form, &best.place) {
            let place = capital(&say.place(&best.place));
            finding.push(say.keeps_also(place, say.range(life.days)));
            finding.cites.push(life.cite);
        }
        if let Some((wrap, cite)) = &food.wrap {
            finding.push(capital(&sentence(wrap)));
            finding.cites.push(*cite);
        }
        if let Some(next) = food.places.get(1) {
            finding.push(say.place_next(say.place(&next.place)));
        }
        if let Some((text, cite)) = &food.caution {
            finding.push(capital(&sentence(text)));
            finding.cites.push(*cite);
        }
        vec![finding]
    }

    pub(super) fn in_water(&self, food: &Food) -> bool {
        food.water.is_some() && self.scan.word(&["water", "jar", "glass", "vase"])
    }

    /// How it stands in water.
    pub(super) fn in_water_rule(&self, food: &Food) -> Finding {
        let say = self.say;
        let what = food.noun();
        let Some(water) = &food.water else {
            return Finding::new(Verdict::Unknown, what, say.water_not(what));
        };
        let place = say.place(&water.place);
        let every = say.every(water.every_days);
        let lead = match (water.limit_hours, water.manner) {
            (Some(hours), _) => say.water_hours(what, place, hours),
            (None, WaterManner::StemsOnly) => {
                say.water_stems(what, place, every, water.longest_days)
            }
            (None, WaterManner::Submerged) => {
                say.water_submerged(what, place, every, water.longest_days)
            }
        };
        Finding::new(Verdict::HowTo, what, lead).cite(water.cite)
    }
}
