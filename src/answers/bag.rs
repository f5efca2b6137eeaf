//! The trimmings bag for stock: good, a little, leave out.

use super::compose::Finding;
use super::{Asked, Question, Subject, forbids};
use crate::rules::{Suitability, has_words};
use crate::wording::{capital, sentence};
use crate::words::Verdict;

/// How many examples of each kind "what can go in the bag?" names.
const EXAMPLES: usize = 5;

impl<'a> Asked<'a> {
    pub(super) fn bag_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        // "In the stock bag": the stock is where it goes, not what goes in.
        let goal = |s: &&Subject<'a>| {
            question.subjects.len() == 1
                || s.food.is_none_or(|food| !food.id.as_str().contains("stock"))
        };
        let mut findings: Vec<Finding> =
            question.subjects.iter().filter(goal).map(|subject| self.scrap(subject)).collect();
        let bag = &self.cx.rules.general.bag;
        let seen = self.scan.seen();
        let refused = bag.refused.iter().find(|word| has_words(&seen, word));
        if refused.is_some() {
            let what =
                question.subjects.first().map_or_else(|| self.say.it(), |s| s.what().to_owned());
            let lead = self.say.bag_refused(what.as_str());
            findings.push(Finding::new(Verdict::DoNot, what, lead).cite(bag.cite));
        }
        if findings.is_empty() {
            findings.push(self.bag_list());
        }
        findings
    }

    fn scrap(&self, subject: &Subject<'a>) -> Finding {
        let say = self.say;
        let Some(food) = subject.food else { return self.unknown_scrap(&subject.name) };
        let spoken = || {
            let mut parts = self.scan.parts.iter().filter(|part| {
                part.food.is_some_and(|i| self.scan.foods[i].foods.iter().any(|f| f.id == food.id))
            });
            parts.next().map(|part| part.word.clone())
        };
        let word = spoken().or_else(|| subject.part.clone());
        if food.hazard {
            return self.whole(food);
        }
        let part = word.as_deref().map(|word| self.part(food, word));
        if let Some(part) = part.as_ref().filter(|part| part.verdict == Verdict::Toxic) {
            return part.clone();
        }
        let row = food.trimming(word.as_deref()).or_else(|| match word.as_deref() {
            Some(word) => food.trimming(Some(&food.part(word)?.id.clone())),
            // Asked about as a whole: as its strictest trimming.
            None => food.trimmings.iter().max_by_key(|row| strict(row.suitability)),
        });
        let what =
            part.as_ref().map_or_else(|| food.noun().to_owned(), |part| part.subject.clone());
        let Some(row) = row else {
            let unknown = part.filter(|part| forbids(part.verdict));
            return unknown.unwrap_or_else(|| self.unknown_scrap(&what));
        };
        let why = capital(&sentence(&row.why));
        let (verdict, lead) = match row.suitability {
            Suitability::Good => (Verdict::Use, say.bag_good(what.as_str(), sentence(&row.why))),
            Suitability::SmallAmounts => (Verdict::Limited, say.bag_some(what.as_str(), why)),
            Suitability::LeaveOut => {
                (Verdict::DoNot, say.bag_not(what.as_str(), sentence(&row.why)))
            }
        };
        Finding::new(verdict, food.noun().to_owned(), lead).cite(row.cite)
    }

    fn unknown_scrap(&self, name: &str) -> Finding {
        Finding::new(Verdict::Unknown, name, self.say.bag_unknown(name))
    }

    /// "What can go in the bag?"
    fn bag_list(&self) -> Finding {
        let examples = |suitability: Suitability| {
            let rows = self.cx.rules.foods.iter().filter_map(|food| {
                let row = food.trimmings.iter().find(|row| row.suitability == suitability)?;
                let part = row.part.split(',').next().unwrap_or("").trim();
                Some(if part.is_empty() {
                    food.noun().to_owned()
                } else {
                    self.say.part_of(food.name.as_str(), part)
                })
            });
            rows.take(EXAMPLES).collect::<Vec<_>>().join(", ")
        };
        let lead = self.say.bag_what(
            examples(Suitability::Good),
            examples(Suitability::SmallAmounts),
            examples(Suitability::LeaveOut),
        );
        Finding::new(Verdict::HowTo, self.say.it(), lead).cite(self.cx.rules.general.bag.cite)
    }
}

/// Leaving out is stricter than a little, a little than as much as there is.
fn strict(suitability: Suitability) -> u8 {
    match suitability {
        Suitability::Good => 0,
        Suitability::SmallAmounts => 1,
        Suitability::LeaveOut => 2,
    }
}
