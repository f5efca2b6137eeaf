//! Small household knowledge: neighbours, washing, weights, uses.

use super::compose::Finding;
use super::{Asked, Question, Subject, forbids};
use crate::rules::{Food, Kind, Level, Topic};
use crate::units::{Dimension, Quantity, Ratio, Unit};
use crate::wording::{capital, sentence};
use crate::words::{Form, Verdict};

impl<'a> Asked<'a> {
    /// "Can pears sit with kale?"
    pub(super) fn neighbours_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        let foods: Vec<&Food> = question.subjects.iter().filter_map(|s| s.food).collect();
        let mut findings: Vec<Finding> = question
            .subjects
            .iter()
            .filter(|s| s.food.is_none())
            .map(|s| self.unknown_food(&s.name))
            .collect();
        match foods.as_slice() {
            [] => {
                if findings.is_empty() {
                    findings.push(self.guided(Topic::Neighbours, Verdict::Place));
                }
            }
            [one] => findings.push(self.alone(one)),
            several => {
                for (i, first) in several.iter().enumerate() {
                    for second in &several[i + 1..] {
                        findings.push(self.pair(first, second));
                    }
                }
                // What must stand apart is said first.
                findings.sort_by_key(|f| f.cites.is_empty());
            }
        }
        findings
    }

    fn pair(&self, first: &Food, second: &Food) -> Finding {
        let say = self.say;
        let subject = say.and(first.noun(), second.noun());
        let raw = |food: &Food| {
            matches!(food.kind, Kind::Meat | Kind::Fish) && food.usual_form == Form::Whole
        };
        for (meat, other) in [(first, second), (second, first)] {
            if raw(meat) && !raw(other) {
                let lead = say.apart_raw(meat.name.as_str(), other.noun());
                let row = self.guided(Topic::Neighbours, Verdict::DoNot);
                let mut finding = Finding::new(Verdict::DoNot, subject, lead);
                finding.cites = row.cites;
                return finding;
            }
        }
        for (maker, other) in [(first, second), (second, first)] {
            let made = maker.conditions.as_ref().map_or(Level::None, |c| c.ethylene_made);
            let feared = other.conditions.as_ref().map_or(Level::None, |c| c.ethylene_feared);
            // Leaves of every kind yellow in ethylene.
            let leaves = other.kind == Kind::LeafyGreen;
            let feared = if leaves { feared.max(Level::Moderate) } else { feared };
            if made >= Level::Moderate && feared >= Level::Moderate {
                let lead = say.apart(maker.noun(), other.noun(), "yes");
                let mut finding = Finding::new(Verdict::Place, subject, lead);
                let cites = [maker, other].into_iter().filter_map(|f| f.conditions.as_ref());
                finding.cites = cites.map(|c| c.cite).collect();
                return finding;
            }
        }
        let listed = |a: &str, b: &str| {
            first.id.as_str() == a && second.id.as_str() == b
                || first.id.as_str() == b && second.id.as_str() == a
        };
        if listed("onion", "potato") {
            let row = self.guided(Topic::Neighbours, Verdict::Place);
            let why = row.lines.join(" ");
            let lead = say.apart_listed(first.noun(), second.noun(), why);
            let mut finding = Finding::new(Verdict::Place, subject, lead);
            finding.cites = row.cites;
            return finding;
        }
        let known = first.conditions.is_some() && second.conditions.is_some();
        if known {
            let lead = say.together(first.noun(), second.noun());
            return Finding::new(Verdict::Place, subject, lead);
        }
        let mut finding = self.guided(Topic::Neighbours, Verdict::Place);
        finding.verdict = Verdict::Place;
        finding.subject = subject;
        finding
    }

    fn alone(&self, food: &Food) -> Finding {
        let (say, what) = (self.say, food.noun());
        let Some(conditions) = &food.conditions else {
            let mut finding = self.guided(Topic::Neighbours, Verdict::Place);
            finding.subject = what.to_owned();
            return finding;
        };
        let lead = if conditions.ethylene_made >= Level::Moderate {
            say.alone_maker(what)
        } else if conditions.ethylene_feared >= Level::Moderate {
            say.alone_fears(what)
        } else {
            say.alone_neutral(what)
        };
        Finding::new(Verdict::Place, what, lead).cite(conditions.cite)
    }

    /// "Wash berries now or later?"
    pub(super) fn wash_asked(&self, subject: &Subject<'a>) -> Vec<Finding> {
        let Some(food) = subject.food else { return vec![self.unknown_food(&subject.name)] };
        let what = food.noun();
        if food.hazard {
            return vec![self.whole(food)];
        }
        // Washing raw meat, fish or eggs spreads what is on them.
        let raw = matches!(food.kind, Kind::Meat | Kind::Fish | Kind::Egg);
        let verdict = if raw { Verdict::DoNot } else { Verdict::HowTo };
        let finding = match &food.wash {
            Some((text, cite)) => Finding::new(verdict, what, capital(&sentence(text))).cite(*cite),
            None if food.kind.is_produce() => {
                let row = self.guided(Topic::WashBeforeUse, Verdict::HowTo);
                let mut finding = Finding::new(Verdict::HowTo, what, self.say.wash_unknown(what));
                finding.cites = row.cites;
                finding
            }
            None => {
                let mut finding = self.guided(Topic::WashHow, Verdict::HowTo);
                finding.subject = what.to_owned();
                finding
            }
        };
        vec![finding]
    }

    /// "What can I do with too many plums?"
    pub(super) fn uses_asked(&self, subject: &Subject<'a>) -> Vec<Finding> {
        let Some(food) = subject.food else { return vec![self.unknown_food(&subject.name)] };
        let (say, what) = (self.say, food.noun());
        if food.hazard {
            return vec![self.whole(food)];
        }
        if let Some(word) = &subject.part {
            let part = self.part(food, word);
            if forbids(part.verdict) || food.part(word).is_some_and(|part| !part.main) {
                return vec![part];
            }
        }
        if food.uses.is_empty() {
            let mut finding = Finding::new(Verdict::HowTo, what, say.uses_unknown(what));
            if food.freeze.is_none() {
                finding.verdict = Verdict::Unknown;
            }
            return vec![finding];
        }
        let lead = say.uses(what, food.uses.join("; "));
        let mut finding = Finding::new(Verdict::HowTo, what, lead);
        if let Some(freeze) = food.freeze.as_ref().filter(|freeze| freeze.advised) {
            finding.push(say.uses_freeze());
            finding.cites.push(freeze.cite);
        }
        vec![finding]
    }

    /// "How much is a bunch of kale?", "2 lb in grams?"
    pub(super) fn amount_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        let items = question.statement.map_or(&[][..], |s| &s.items);
        let mut findings = Vec::new();
        for (i, item) in items.iter().enumerate() {
            let food = item
                .food
                .as_ref()
                .and_then(|id| self.cx.rules.food(id))
                .or_else(|| question.subjects.get(i).and_then(|s| s.food));
            let value = item.quantity.unwrap_or(Ratio::ONE);
            let spoken = || self.spoken_amount(food.is_some()).map(|(_, unit)| unit);
            match (food, item.unit.or_else(spoken)) {
                (None, Some(unit)) => findings.push(self.convert(value, unit)),
                (Some(food), unit) => findings.push(self.weigh(food, value, unit)),
                (None, None) => findings.push(self.unknown_food(&item.name)),
            }
        }
        if findings.is_empty() {
            let food = self.foods().next();
            findings.push(match (food, self.spoken_amount(food.is_some())) {
                (Some(food), amount) => {
                    let (value, unit) = amount.map_or((Ratio::ONE, None), |(v, u)| (v, Some(u)));
                    self.weigh(food, value, unit)
                }
                (None, Some((value, unit))) => self.convert(value, unit),
                (None, None) => self.unknown_this(),
            });
        }
        findings
    }

    /// The amount named in the text ("2 pounds", "a cup"): not the unit it is wanted in, and of a
    /// food rather a kitchen measure than a weight.
    fn spoken_amount(&self, of_food: bool) -> Option<(Ratio, Unit)> {
        let tokens = &self.scan.tokens;
        let amounts = tokens.iter().enumerate().filter_map(|(i, word)| {
            let unit = unit_word(word)?;
            let before = i.checked_sub(1).map_or("", |i| tokens[i].as_str());
            let wanted = ["in", "to", "into", "many"].contains(&before);
            let value = Ratio::from_decimal(before).unwrap_or(Ratio::ONE);
            Some((wanted, of_food && unit.dimension() == Dimension::Mass, value, unit))
        });
        let best = amounts.min_by_key(|(wanted, mass, _, _)| (*wanted, *mass));
        best.map(|(_, _, value, unit)| (value, unit))
    }

    fn convert(&self, value: Ratio, unit: Unit) -> Finding {
        let say = self.say;
        let amount = Quantity::new(value, Some(unit));
        let from = value.to_string();
        let lead = match unit.dimension() {
            Dimension::Mass => amount.grams().map(|g| say.convert(from, unit.word(), g.rounded())),
            Dimension::Volume => {
                amount.millilitres().map(|ml| say.convert_volume(from, unit.word(), ml.rounded()))
            }
            Dimension::Count => None,
        };
        match lead {
            Some(lead) => Finding::new(Verdict::HowTo, say.this(), lead),
            None => Finding::new(Verdict::Unknown, say.this(), say.weight_unknown(unit.word())),
        }
    }

    fn weigh(&self, food: &Food, value: Ratio, unit: Option<Unit>) -> Finding {
        let (say, what) = (self.say, food.noun());
        let mass = |unit: Unit| unit.dimension() == Dimension::Mass;
        if let Some(unit) = unit.filter(|unit| mass(*unit)) {
            return self.convert(value, unit);
        }
        let unit = unit.unwrap_or(Unit::Piece);
        let rows = food.weights.iter().filter(|row| row.unit == unit);
        let sized = rows
            .clone()
            .find(|row| row.size.as_deref().is_some_and(|size| self.scan.word(&[size])));
        let any = rows.clone().find(|row| row.size.is_none()).or_else(|| rows.clone().next());
        let Some(row) = sized.or(any).or_else(|| food.weights.first()) else {
            return Finding::new(Verdict::Unknown, what, say.weight_unknown(what));
        };
        let grams = row.grams.rounded();
        let ounces = row.grams.checked_div(ounce()).map_or(0.0, Ratio::to_f64);
        let ounces = format!("{ounces:.1}");
        let name = food.name.as_str();
        let lead = match (&row.size, row.unit) {
            (Some(size), Unit::Piece) => say.weight_sized(size.as_str(), name, grams, ounces),
            (None, Unit::Piece) => say.weight_piece(name, grams, ounces),
            (_, unit) => say.weight(unit.word(), name, grams, ounces),
        };
        let mut finding = Finding::new(Verdict::HowTo, what, lead).cite(row.cite);
        if let Some((share, cite)) = food.inedible {
            let hundred = Ratio::whole(100);
            let eaten = Ratio::ONE.checked_sub(share).and_then(|r| r.checked_mul(hundred));
            if let Some(percent) = eaten {
                finding.push(say.weight_edible(percent.rounded()));
                finding.cites.push(cite);
            }
        }
        finding
    }
}

/// Grams in an ounce.
fn ounce() -> Ratio {
    Quantity::new(Ratio::ONE, Some(Unit::Ounce)).grams().unwrap_or(Ratio::ONE)
}

/// The unit a word names, abbreviations and plurals included.
pub(super) fn unit_word(word: &str) -> Option<Unit> {
    let unit = match word {
        "lb" | "lbs" => "pound",
        "oz" => "ounce",
        "kg" | "kilo" | "kilos" => "kilogram",
        "g" => "gram",
        "l" | "litre" | "litres" | "liters" => "liter",
        "ml" => "milliliter",
        _ => word,
    };
    let stem = unit.strip_suffix("es").or_else(|| unit.strip_suffix('s'));
    Unit::from_word(unit)
        .or_else(|| unit.strip_suffix('s').and_then(Unit::from_word))
        .or_else(|| stem.and_then(Unit::from_word))
}
