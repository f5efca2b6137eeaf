//! What is seen, smelt or felt: use, trim, throw out, or not known.

use super::compose::Finding;
use super::words::{Danger, Floor};
use super::{Asked, Question, Subject, forbids};
use crate::rules::{Food, Sign, Topic, normalise};
use crate::wording::sentence;
use crate::words::{Intent, Verdict};

impl<'a> Asked<'a> {
    /// "The carrots are limp", "soup from monday", "is the milk still good?"
    pub(super) fn condition_asked(
        &self,
        question: &Question<'a>,
        subject: &Subject<'a>,
    ) -> Vec<Finding> {
        let Some(food) = subject.food else {
            return self.unknown_condition(question, subject);
        };
        if food.hazard {
            return match &subject.part {
                Some(word) => vec![self.part(food, word)],
                None => vec![self.whole(food)],
            };
        }
        let mut findings = self.condition_findings(subject);
        if food.main_part().is_some_and(|part| forbids(part.verdict)) {
            findings.push(self.whole(food));
        }
        findings.extend(self.age_asked(question, subject));
        if self.scan.has(Danger::Out) && question.intent != Intent::AskLeftOut {
            findings.extend(self.out_for(question, subject));
        }
        if let Some(word) = &subject.part {
            findings.push(self.part(food, word));
        }
        if let Some(word) = self.unexplained() {
            findings.push(self.unexplained_word(food, word));
        }
        if findings.is_empty() {
            findings.extend(self.yours(food));
        }
        let spoken = !self.scan.signs.is_empty() || !self.scan.states.is_empty();
        let outage = self.scan.has(Danger::Guided(Topic::PowerCut));
        if findings.is_empty() && !self.has_part(food) && !spoken && !outage {
            findings.push(if self.asks_of_kind(food) {
                self.whole(food)
            } else {
                self.age_needed(food, subject)
            });
        }
        findings
    }

    /// Whether the question is if this kind of food is eaten at all, not if this one still is.
    fn asks_of_kind(&self, food: &Food) -> bool {
        use crate::rules::Kind::{Grain, Legume, NutSeed, Pantry};
        let kind = food.kind.is_produce() || matches!(food.kind, Grain | Legume | NutSeed | Pantry);
        let asks = [
            "safe",
            "poisonous",
            "toxic",
            "edible",
            "inedible",
            "eat",
            "ok",
            "okay",
            "fine",
            "dangerous",
            "harmful",
            "poison",
        ];
        let ages = ["still", "old", "fresh", "good", "off", "bad", "last", "fridge"];
        // "Squash seeds": a name alone asks what it is good for.
        let bare = self.scan.tokens.len() <= 3;
        kind && (bare || self.scan.word(&asks)) && !self.scan.word(&ages)
    }

    /// The signs said of one food by the reader; those in the text come with the scan.
    pub(super) fn condition_findings(&self, subject: &Subject<'a>) -> Vec<Finding> {
        let (Some(food), Some(seen)) = (subject.food, &subject.seen) else { return Vec::new() };
        if food.hazard {
            return Vec::new();
        }
        match self.cx.rules.sign(food, seen) {
            Some(sign) => vec![self.sign(food, sign)],
            // The scan explains the words it knows; others stay unexplained.
            None if self.scan_explains(seen) || food.part(seen).is_some() => Vec::new(),
            None => vec![self.unknown_sign(food, seen)],
        }
    }

    fn scan_explains(&self, seen: &str) -> bool {
        let seen = normalise(seen);
        let mut words = seen.split(' ');
        words.all(|word| {
            super::words::words().plain.contains(word)
                || word.chars().any(|c| c.is_ascii_digit())
                || self.scan.signs.iter().any(|sign| sign.word.split(' ').any(|w| w == word))
                || self.scan.states.iter().any(|(range, _)| {
                    self.scan.tokens[range.clone()].iter().any(|token| token == word)
                })
                || self.scan.dangers.iter().any(|(range, _)| {
                    self.scan.tokens[range.clone()].iter().any(|token| token == word)
                })
        })
    }

    /// A sign on something the rule set does not know.
    fn unknown_condition(&self, question: &Question<'a>, subject: &Subject<'a>) -> Vec<Finding> {
        let mut findings = vec![self.unknown_food(&subject.name)];
        if self.scan.has(Danger::Out) {
            findings.push(self.out_unknown(question, &subject.name));
        }
        findings
    }

    /// Every sign in the text, for every food named.
    pub(super) fn named_signs(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let live: Vec<_> = self.scan.signs.iter().filter(|sign| !sign.negated).collect();
        if self.foods().next().is_none() {
            let spoiled = live.iter().find(|sign| sign.floor == Floor::Discard);
            findings.extend(spoiled.map(|sign| self.spoiled(&self.say.this(), &sign.word)));
            return findings;
        }
        let seen = self.scan.seen();
        for food in self.foods().filter(|food| !food.hazard) {
            let whole = self.cx.rules.sign(food, &seen);
            findings.extend(whole.map(|sign| self.sign(food, sign)));
            for hit in &live {
                let known = self.cx.rules.sign(food, &hit.word);
                // "Sprouted" without a row of its own is judged as its sprouts.
                let word = if hit.word.starts_with("sprout") { "sprout" } else { &hit.word };
                match (known, hit.floor) {
                    (Some(sign), _) => findings.push(self.sign(food, sign)),
                    (None, _) if food.part(word).is_some() => findings.push(self.part(food, word)),
                    (None, Floor::Discard) => {
                        findings.push(self.spoiled(food.noun(), &hit.word));
                    }
                    (None, Floor::Unknown) if self.informs() => {}
                    (None, Floor::Unknown) => findings.push(self.unknown_sign(food, &hit.word)),
                }
            }
            // "Not mouldy" alone proves nothing.
            let denied = self.scan.signs.iter().find(|sign| sign.negated);
            if live.is_empty()
                && whole.is_none()
                && !self.informs()
                && let Some(sign) = denied
            {
                findings.push(self.unknown_sign(food, &sign.word));
            }
        }
        findings
    }

    fn sign(&self, food: &Food, sign: &Sign) -> Finding {
        let (what, action) = (food.noun(), sentence(&sign.action));
        let child = self.scan.word(&[
            "kid", "kids", "child", "children", "son", "daughter", "toddler", "baby", "pregnant",
        ]);
        if child && sign.verdict == Verdict::Limited && sign.action.contains("child") {
            let lead = self.say.not_for_children(what, action);
            return Finding::new(Verdict::DoNot, what, lead).cite(sign.cite);
        }
        // Only a whole, firm piece is trimmed, and only from outside.
        let through = self.scan.word(THROUGH) && sign.words.iter().any(|word| is_mould(word));
        if through && sign.verdict == Verdict::Limited {
            let lead = self.say.sign_discard(what, self.say.mould_through());
            return Finding::new(Verdict::Discard, what, lead).cite(sign.cite);
        }
        let lead = match sign.verdict {
            Verdict::Discard => self.say.sign_discard(what, after_throwing(&action)),
            Verdict::Limited => self.say.sign_limited(what, action),
            verdict if forbids(verdict) => self.say.toxic(what, action),
            _ => self.say.sign_use(what, action),
        };
        Finding::new(sign.verdict, food.noun().to_owned(), lead).cite(sign.cite)
    }

    fn spoiled(&self, what: &str, word: &str) -> Finding {
        Finding::new(Verdict::Discard, what, self.say.floor_discard(what, word))
    }

    pub(super) fn unknown_sign(&self, food: &Food, word: &str) -> Finding {
        let what = food.noun();
        Finding::new(Verdict::Unknown, what, self.say.unknown_sign(what, word))
    }
}

/// Mould in these is not cut away: in pieces it runs all through, inside it hides.
///
/// # Source
/// USDA FSIS, Molds on Food: sliced, shredded or crumbled cheese and soft or cut food are discarded.
const THROUGH: &[&str] = &[
    "sliced",
    "slices",
    "grated",
    "shredded",
    "crumbled",
    "chopped",
    "diced",
    "inside",
    "hollow",
    "middle",
    "through",
    "throughout",
    "everywhere",
    "covered",
    "all",
    "cooked",
    "peeled",
    "soft",
];

fn is_mould(word: &str) -> bool {
    ["mould", "mold", "fuzz", "furry"].iter().any(|stem| word.starts_with(stem))
}

/// The rest of an action that opens with "Throw it out".
fn after_throwing(action: &str) -> String {
    const OPENINGS: [&str; 4] =
        ["Throw it out", "Throw them out", "Throw all of it out", "Throw all of them out"];
    let rest = OPENINGS.iter().find_map(|opening| action.strip_prefix(opening));
    let rest = rest.unwrap_or(action).trim_start_matches(['.', ';', ':', ',', ' ']);
    crate::wording::capital(rest)
}
