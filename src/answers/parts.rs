//! Parts and states: may this part of this food be eaten, and how.

use super::compose::Finding;
use super::words::{State, words};
use super::{Asked, Subject, forbids, strictness};
use crate::rules::{Food, Kind, Part};
use crate::wording::{capital, sentence};
use crate::words::{Intent, Verdict};

/// The row of a part and the words people used for it.
enum PartRow<'a> {
    Listed(&'a Part),
    /// Not in the table of this food: unknown, never edible.
    Unlisted,
}

impl<'a> Asked<'a> {
    /// "Can you eat beet greens?"
    pub(super) fn part_asked(&self, subject: &Subject<'a>) -> Vec<Finding> {
        let Some(food) = subject.food else { return vec![self.unknown_food(&subject.name)] };
        let mut findings = Vec::new();
        match &subject.part {
            Some(word) => findings.push(self.part(food, word)),
            // A part named in the text is judged by the scan; the food as a whole only without.
            None if self.has_part(food) => {}
            None => findings.push(self.whole(food)),
        }
        if let Some(word) = self.unexplained().filter(|_| !food.hazard) {
            findings.push(self.unexplained_word(food, word));
        }
        findings.extend(self.condition_findings(subject));
        findings
    }

    /// A word beside the food that nothing explains holds every milder answer back.
    pub(super) fn unexplained_word(&self, food: &Food, word: &str) -> Finding {
        Finding::new(
            Verdict::Unknown,
            food.noun().to_owned(),
            self.say.unknown_word(food.noun(), word),
        )
    }

    pub(super) fn unexplained(&self) -> Option<&'a str> {
        self.scan.unexplained()
    }

    /// Whether the text names a part of this food.
    pub(super) fn has_part(&self, food: &Food) -> bool {
        self.scan.parts.iter().any(|part| {
            part.food.is_some_and(|i| self.scan.foods[i].foods.iter().any(|f| f.id == food.id))
        })
    }

    /// Every part the text names, paired with its food.
    pub(super) fn named_parts(&self) -> Vec<Finding> {
        let mut findings = self.parts_in_text();
        // What goes in the bag is not eaten: only poison keeps a scrap out of it.
        let bag = self.questions.iter().all(|q| q.intent == Intent::AskTrimmings);
        findings.retain(|finding| !bag || finding.verdict == Verdict::Toxic);
        findings
    }

    fn parts_in_text(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        for hit in &self.scan.parts {
            match hit.food {
                Some(i) => {
                    let foods = &self.scan.foods[i].foods;
                    findings.extend(foods.iter().map(|food| self.part(food, &hit.word)));
                }
                // A part with no food beside it belongs to whatever is asked about.
                None => {
                    if self.foods().next().is_none() {
                        findings.push(self.unknown_this());
                    }
                    findings.extend(self.foods().filter_map(|food| match find(food, &hit.word) {
                        PartRow::Listed(part) if !part.main => Some(self.judged(food, part)),
                        PartRow::Listed(_) => None,
                        PartRow::Unlisted => Some(self.unlisted(food, &hit.word)),
                    }));
                }
            }
        }
        findings
    }

    /// Raw, unripe, green, bitter: states with a verdict of their own.
    pub(super) fn named_states(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        for food in self.foods() {
            let part = self.has_part(food);
            for (_, state) in &self.scan.states {
                // "Raw taro leaves": what is poisonous raw is so in every part that wants cooking.
                if part && *state != State::Raw || *state == State::Raw && self.informs() {
                    continue;
                }
                let found = self.state(food, *state);
                findings.extend(found.filter(|f| !part || f.verdict == Verdict::Toxic));
            }
        }
        findings
    }

    fn state(&self, food: &'a Food, state: State) -> Option<Finding> {
        let word = state_word(state);
        if let Some(part) = food.part(word) {
            return (state != State::Cooked).then(|| self.judged(food, part));
        }
        match state {
            State::Raw => {
                let whole = self.whole(food);
                let cook = matches!(food.kind, Kind::Meat | Kind::Fish | Kind::Egg);
                let milder = strictness(whole.verdict) < strictness(Verdict::EdibleWhenCooked);
                if cook && milder {
                    let what = self.say.state("raw", food.noun());
                    return Some(Finding::new(
                        Verdict::Unknown,
                        food.noun().to_owned(),
                        self.say.unknown_state(what),
                    ));
                }
                Some(whole)
            }
            State::Unripe => {
                let what = self.say.state("unripe", food.noun());
                let lead = self.say.unknown_state(what);
                Some(Finding::new(Verdict::Unknown, food.noun().to_owned(), lead))
            }
            State::Green | State::Bitter | State::Dried | State::Cooked | State::Much => None,
        }
    }

    /// The verdict on a part by whatever word people use for it.
    pub(super) fn part(&self, food: &'a Food, word: &str) -> Finding {
        match find(food, word) {
            PartRow::Listed(part) => self.judged(food, part),
            PartRow::Unlisted => self.unlisted(food, word),
        }
    }

    fn unlisted(&self, food: &Food, word: &str) -> Finding {
        let what = self.say.part_of(food.name.as_str(), word);
        let mut finding = Finding::new(Verdict::Unknown, what.clone(), self.say.unknown_part(what));
        finding.food = food.noun().to_owned();
        finding.push(self.say.help_unknown());
        finding
    }

    /// The food as a whole: the part sold as food, or, for a plant that is none, its worst part.
    pub(super) fn whole(&self, food: &'a Food) -> Finding {
        let part = if food.hazard { strictest(food.parts.iter()) } else { food.main_part() };
        let Some(part) = part else { return self.unknown_food(food.noun()) };
        let mut finding = self.judged(food, part);
        if let Some((text, cite)) = &food.caution {
            finding.push(sentence(text));
            finding.cites.push(*cite);
        }
        finding
    }

    fn judged(&self, food: &Food, part: &Part) -> Finding {
        let what = self.part_name(food, part);
        let (say, why) = (self.say, sentence(&part.why));
        // A plant that is not sold as food is never confirmed, whatever could be said of it.
        let verdict =
            if food.hazard && !forbids(part.verdict) { Verdict::Unknown } else { part.verdict };
        let bare = part.why.is_empty() || part.why == "none";
        let what_ref = what.as_str();
        let lead = match verdict {
            Verdict::Unknown if food.hazard => say.unknown_plant(what_ref, why),
            Verdict::Toxic => say.toxic(what_ref, why),
            Verdict::NotFood => say.not_food(what_ref, why),
            Verdict::EdibleWhenCooked => say.cook_first(what_ref, capital(&why)),
            Verdict::Limited => say.limited(what_ref, capital(&why)),
            Verdict::Edible if bare => say.edible_plain(what_ref),
            Verdict::Edible => say.edible(what_ref, capital(&why)),
            _ => say.unknown_part(what_ref),
        };
        let mut finding = Finding::new(verdict, what, lead).cite(part.cite);
        finding.food = food.noun().to_owned();
        let how = part.how.as_deref().unwrap_or("");
        for step in how.split(". ").flat_map(|step| step.split("; ")).filter(|s| !s.is_empty()) {
            let step = capital(&sentence(step));
            // What comforts stays for "why?" where the part is poisonous.
            if verdict == Verdict::Toxic && COMFORT.iter().any(|word| step.contains(word)) {
                finding.reason(step);
            } else {
                finding.push(step);
            }
        }
        let agreeing = part.others.iter().filter(|(verdict, _)| *verdict == part.verdict);
        finding.cites.extend(agreeing.map(|(_, cite)| *cite));
        finding.reasons = self.disagreement(part.verdict, &part.others);
        finding
    }

    /// "rhubarb leaves", "raw kidney beans", "carrots".
    fn part_name(&self, food: &Food, part: &Part) -> String {
        let say = self.say;
        match part.id.as_str() {
            _ if part.main => food.noun().to_owned(),
            id if id.contains(food.name.as_str()) => id.to_owned(),
            state @ ("raw" | "unripe" | "green" | "mouldy" | "bitter" | "sprouted" | "wild") => {
                say.state(state, food.noun())
            }
            id => say.part_of(food.name.as_str(), plural(id)),
        }
    }
}

/// Words that make light of a poison: never in the answer itself.
const COMFORT: [&str; 6] =
    ["no harm", "harmless", "no concern", "no emergency", "usually passes", "no poisoning"];

/// The row for a part: by the word itself, else the strictest row among words for the same part.
fn find<'a>(food: &'a Food, word: &str) -> PartRow<'a> {
    if let Some(part) = food.part(word) {
        return PartRow::Listed(part);
    }
    let kin = words().parts.iter().filter(|group| group.contains(&word));
    let rows = kin.flat_map(|group| group.iter()).filter_map(|word| food.part(word));
    let found = match strictest(rows) {
        None if food.hazard => strictest(food.parts.iter()),
        found => found,
    };
    found.map_or(PartRow::Unlisted, PartRow::Listed)
}

fn strictest<'a>(parts: impl Iterator<Item = &'a Part>) -> Option<&'a Part> {
    parts.max_by_key(|part| strictness(part.verdict))
}

fn state_word(state: State) -> &'static str {
    match state {
        State::Raw => "raw",
        State::Unripe => "unripe",
        State::Green => "green",
        State::Bitter => "bitter",
        State::Dried => "dried",
        State::Cooked => "cooked",
        State::Much => "spoonful",
    }
}

/// The plural of a part's name; words for a mass ("skin", "flesh") stay as they are.
fn plural(part: &str) -> String {
    match part {
        "leaf" => "leaves".to_owned(),
        "skin" | "peel" | "rind" | "flesh" | "zest" | "pith" | "bark" | "sap" | "silk" => {
            part.to_owned()
        }
        _ if part.ends_with('s') || part.contains(' ') => part.to_owned(),
        _ => match part.strip_suffix('y') {
            Some(stem) => format!("{stem}ies"),
            None => format!("{part}s"),
        },
    }
}
