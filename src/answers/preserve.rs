//! How to freeze, dry and blanch; canning, oil and fermenting are left to tested recipes.

use super::compose::Finding;
use super::words::Danger;
use super::{Asked, Question, Subject, forbids};
use crate::rules::{Food, Preserve, Topic};
use crate::wording::{capital, sentence};
use crate::words::Verdict;

/// What is to be done with the food.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Method {
    Freeze,
    Dry,
    Blanch,
}

impl<'a> Asked<'a> {
    /// "How do I freeze leeks?", "can you dry mushrooms?", "how long to blanch broccoli?"
    pub(super) fn preserve_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        let scan = self.scan;
        let deferred = [
            Topic::HomeCanning,
            Topic::InOil,
            Topic::Fermenting,
            Topic::Pickling,
            Topic::VacuumPacked,
        ];
        let deferred: Vec<Finding> = deferred
            .into_iter()
            .filter(|topic| scan.has(Danger::Guided(*topic)) || self.topic_of(question, *topic))
            .map(|topic| self.guided(topic, Verdict::HowTo))
            .collect();
        if !deferred.is_empty() {
            return deferred;
        }
        let stem =
            |stems: &[&str]| scan.tokens.iter().any(|w| stems.iter().any(|s| w.starts_with(s)));
        let method = if stem(&["dry", "dried", "dehydrat"]) {
            Method::Dry
        } else if stem(&["blanch"]) {
            Method::Blanch
        } else {
            Method::Freeze
        };
        self.each(question, |subject| vec![self.preserve(subject, method)])
    }

    fn topic_of(&self, question: &Question<'a>, topic: Topic) -> bool {
        let Some(spoken) = question.statement.and_then(|s| s.topic.as_deref()) else {
            return false;
        };
        match topic {
            Topic::HomeCanning => ["can", "canning", "bottle", "jar"].contains(&spoken),
            Topic::InOil => spoken.contains("oil"),
            Topic::Fermenting => spoken.starts_with("ferment"),
            Topic::Pickling => spoken.starts_with("pickl"),
            Topic::VacuumPacked => spoken.starts_with("vacuum"),
            _ => false,
        }
    }

    fn preserve(&self, subject: &Subject<'a>, method: Method) -> Finding {
        let say = self.say;
        let Some(food) = subject.food else { return self.unknown_food(&subject.name) };
        if food.hazard {
            return self.whole(food);
        }
        let what = food.noun();
        if let Some(word) = &subject.part {
            let part = self.part(food, word);
            let main = food.part(word).is_some_and(|part| part.main);
            if forbids(part.verdict) {
                return part;
            }
            if !main {
                let lead = say.preserve_unknown(part.subject.as_str());
                return Finding::new(Verdict::Unknown, part.subject, lead);
            }
        }
        let row = match method {
            Method::Freeze | Method::Blanch => food.freeze.as_ref(),
            Method::Dry => food.dry.as_ref(),
        };
        let Some(row) = row else {
            return Finding::new(Verdict::Unknown, what, say.preserve_unknown(what));
        };
        self.method(food, row, method)
    }

    fn method(&self, food: &Food, row: &Preserve, method: Method) -> Finding {
        let (say, what, how) = (self.say, food.noun(), sentence(&row.how));
        let lead = match (method, row.advised) {
            (Method::Dry, true) => say.dry(what, how),
            (Method::Dry, false) => say.dry_not(what, how),
            (_, true) => say.freeze(what, how),
            (_, false) => say.freeze_not(what, how),
        };
        let mut finding = Finding::new(Verdict::HowTo, what, lead).cite(row.cite);
        if method != Method::Dry {
            let blanch = row.blanch_seconds.map(|seconds| match seconds {
                0 => say.blanch_none(),
                _ => say.blanch(say.kitchen_time(seconds)),
            });
            if let Some(blanch) = blanch {
                let at = if method == Method::Blanch { 0 } else { 1 };
                finding.lines.insert(at, blanch);
            }
        }
        if let Some(months) = row.months {
            finding.push(say.freeze_months(self.months(months)));
        }
        if let Some((text, cite)) = &food.caution {
            finding.push(capital(&sentence(text)));
            finding.cites.push(*cite);
        }
        finding
    }
}
