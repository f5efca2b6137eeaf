//! Practices and people that change an answer: refusals with what to do instead.

use super::compose::Finding;
use super::words::Danger;
use super::{Asked, Question, strictness};
use crate::rules::{Food, Topic, Who};
use crate::wording::{capital, sentence};
use crate::words::{Form, Intent, Verdict};

impl<'a> Asked<'a> {
    /// Every practice, origin and person the text names.
    pub(super) fn named_practices(&self) -> Vec<Finding> {
        let mut seen = Vec::new();
        let mut findings = Vec::new();
        for (_, danger) in &self.scan.dangers {
            if !seen.contains(danger) {
                seen.push(*danger);
                findings.extend(self.practice(*danger));
            }
        }
        findings
    }

    fn practice(&self, danger: Danger) -> Vec<Finding> {
        let subject = self.subject();
        let named = |mut finding: Finding| {
            finding.subject.clone_from(&subject);
            vec![finding]
        };
        match danger {
            Danger::Guided(topic) => match topic {
                Topic::Pets => vec![self.animals(topic)],
                Topic::Infants
                | Topic::Pregnancy
                | Topic::Allergy
                | Topic::Medicine
                | Topic::Illness => vec![self.person(topic)],
                // Never identified, never confirmed; a stricter verdict comes from the plant's own
                // row where it has one.
                Topic::Foraged | Topic::WildMushroom | Topic::Ornamental => {
                    let mut finding = self.guided(topic, Verdict::Unknown);
                    finding.verdict = Verdict::Unknown;
                    named(finding)
                }
                Topic::Flood | Topic::Recall => named(self.guided(topic, Verdict::Discard)),
                Topic::TasteTest | Topic::RawMeatApart => named(self.guided(topic, Verdict::DoNot)),
                Topic::HomeCanning | Topic::InOil | Topic::CanSigns | Topic::Fermenting => {
                    named(self.guided(topic, Verdict::Unknown))
                }
                Topic::PowerCut => match self.questions.first() {
                    Some(q) if self.questions.iter().all(|q| q.intent != Intent::Outage) => {
                        vec![self.outage(q)]
                    }
                    _ => Vec::new(),
                },
                Topic::SlowCooker => {
                    let beans = self.foods().any(|f| f.kind == crate::rules::Kind::Legume);
                    let reheats = self.questions.iter().any(|q| q.intent == Intent::AskReheat);
                    let least = if beans || reheats { Verdict::DoNot } else { Verdict::HowTo };
                    named(self.guided(topic, least))
                }
                _ => named(self.guided(topic, Verdict::HowTo)),
            },
            Danger::FarmAnimal => vec![self.animals(Topic::Pets)],
            Danger::Out => self.out_elsewhere(),
            Danger::Shelf => self.shelf(),
            Danger::WarmThaw => {
                let mut finding = self.guided(Topic::Thawing, Verdict::DoNot);
                finding.lines = vec![self.say.thaw_warm(finding.lines.join(" "))];
                named(finding)
            }
            Danger::ReheatAgain => {
                let mut finding = self.guided(Topic::Reheating, Verdict::DoNot);
                finding.lines = vec![self.say.reheat_again(finding.lines.join(" "))];
                named(finding)
            }
            Danger::Heat | Danger::Persuasion | Danger::Eaten | Danger::Symptom => Vec::new(),
        }
    }

    /// The first food named, or "this".
    fn subject(&self) -> String {
        self.foods().next().map_or_else(|| self.say.this(), |food| food.noun().to_owned())
    }

    /// Left out, in a question about something else.
    fn out_elsewhere(&self) -> Vec<Finding> {
        let other = |q: &&Question<'a>| {
            !matches!(
                q.intent,
                Intent::AskCondition | Intent::AskLeftOut | Intent::LeftOut | Intent::AskReheat
            )
        };
        let questions = self.questions.iter().filter(other);
        let found = questions.flat_map(|q| q.subjects.iter().map(move |s| (q, s)));
        found.filter(|(_, s)| s.food.is_some()).flat_map(|(q, s)| self.out_for(q, s)).collect()
    }

    /// Kept without the cold what needs it.
    fn shelf(&self) -> Vec<Finding> {
        let subjects = self.questions.iter().flat_map(|q| &q.subjects);
        let warm = subjects.filter_map(|subject| {
            let food = subject.food?;
            let form = self.standing(food, subject).form;
            let form = if form == Form::Frozen { food.usual_form } else { form };
            self.cx.rules.left_out(food, form).map(|limits| (food, form, limits))
        });
        warm.map(|(food, form, limits)| {
            let rule = self.say.span(limits.minutes);
            let lead = self.say.out_do_not(self.named(food, form), rule);
            Finding::new(Verdict::DoNot, food.noun().to_owned(), lead).cite(limits.cite)
        })
        .collect()
    }

    /// Somebody at risk: the published warnings, and the doctor.
    fn person(&self, topic: Topic) -> Finding {
        let who = at_risk(topic);
        let mut finding = self.guided(topic, Verdict::Unknown);
        finding.verdict = Verdict::Unknown;
        finding.subject = self.subject();
        for food in self.foods().collect::<Vec<_>>() {
            for row in self.warnings(food, who) {
                let lead = self.say.who_listed(sentence(&row.0));
                finding.lines.insert(0, lead);
                finding.cites.insert(0, row.1);
            }
        }
        finding.push(self.say.who_refuse());
        finding
    }

    /// The published warnings on a food for some people.
    fn warnings(&self, food: &Food, who: &[Who]) -> Vec<(String, crate::rules::Cite)> {
        let rows = self.cx.rules.at_risk(Some(&food.id)).filter(|row| {
            row.foods.contains(&food.id) && row.who.iter().any(|known| who.contains(known))
        });
        rows.map(|row| (row.text.clone(), row.cite)).collect()
    }

    /// Scraps for animals: the short never-list, else "I don't know".
    fn animals(&self, topic: Topic) -> Finding {
        let mut finding = self.guided(topic, Verdict::Unknown);
        finding.verdict = Verdict::Unknown;
        finding.subject = self.subject();
        let farm = self.scan.has(Danger::FarmAnimal);
        for food in self.foods().collect::<Vec<_>>() {
            let rows = self.cx.rules.general.animals.iter().filter(|row| {
                let animal = row.animals.is_empty()
                    || row.animals.iter().any(|animal| {
                        self.scan
                            .tokens
                            .iter()
                            .any(|w| w == animal || w.strip_suffix('s') == Some(animal))
                    });
                animal && row.foods.contains(&food.id)
            });
            let mut never = false;
            for row in rows {
                never = true;
                let what = food.noun();
                finding.lines.insert(0, self.say.pets_never(what, sentence(&row.text)));
                finding.cites.insert(0, row.cite);
            }
            if !never && farm {
                finding.lines.insert(0, self.say.animals_unknown(food.noun()));
            }
        }
        if !farm {
            finding.push(self.say.pets());
        }
        finding
    }

    /// "Who should not eat raw sprouts?", "may a two-year-old have grapes?"
    pub(super) fn who_asked(&self, question: &Question<'a>) -> Vec<Finding> {
        let topic = question.statement.and_then(|s| s.topic.as_deref()).and_then(spoken_topic);
        if let Some(topic) = topic {
            let finding =
                if topic == Topic::Pets { self.animals(topic) } else { self.person(topic) };
            return vec![finding];
        }
        let child = self.scan.word(&[
            "child",
            "children",
            "kid",
            "kids",
            "son",
            "daughter",
            "grandson",
            "granddaughter",
        ]);
        let mut findings = Vec::new();
        for subject in &question.subjects {
            let Some(food) = subject.food else {
                findings.push(self.unknown_food(&subject.name));
                continue;
            };
            let who: &[Who] = if child { &[Who::SmallChild, Who::Infant] } else { EVERYBODY };
            let rows = self.warnings(food, who);
            let what = food.noun();
            let whole = self.whole(food);
            if strictness(whole.verdict) > strictness(Verdict::Limited) {
                findings.push(whole);
            }
            if rows.is_empty() {
                let lead = self.say.who_none(what);
                findings.push(Finding::new(Verdict::Unknown, what, lead));
                continue;
            }
            let texts: Vec<String> = rows.iter().map(|row| sentence(&row.0).into_owned()).collect();
            let lead = self.say.who(what, texts.join(" "));
            let mut finding = Finding::new(Verdict::Limited, what, lead);
            finding.cites = rows.iter().map(|row| row.1).collect();
            findings.push(finding);
        }
        if findings.is_empty() {
            let rows: Vec<_> = self.cx.rules.at_risk(None).collect();
            let mut finding = self.guided(Topic::Illness, Verdict::Unknown);
            finding.verdict = Verdict::Unknown;
            for row in rows {
                finding.push(capital(&sentence(&row.text)));
                finding.cites.push(row.cite);
            }
            findings.push(finding);
        }
        findings
    }
}

const EVERYBODY: &[Who] = &[
    Who::Infant,
    Who::SmallChild,
    Who::Pregnant,
    Who::OlderPerson,
    Who::WeakImmunity,
    Who::KidneyDisease,
    Who::G6pdDeficiency,
    Who::OnMedicines,
    Who::Allergic,
];

fn at_risk(topic: Topic) -> &'static [Who] {
    match topic {
        Topic::Infants => &[Who::Infant, Who::SmallChild],
        Topic::Pregnancy => &[Who::Pregnant],
        Topic::Allergy => &[Who::Allergic],
        Topic::Medicine => &[Who::OnMedicines],
        Topic::Illness => {
            &[Who::WeakImmunity, Who::KidneyDisease, Who::G6pdDeficiency, Who::OlderPerson]
        }
        _ => &[],
    }
}

/// The person or animal the reader names as the topic of a question.
fn spoken_topic(topic: &str) -> Option<Topic> {
    let topic = topic.to_lowercase();
    let any = |words: &[&str]| words.iter().any(|word| topic.contains(word));
    if any(&["baby", "babies", "infant", "toddler", "newborn"]) {
        Some(Topic::Infants)
    } else if any(&["pregnan", "breastfeed"]) {
        Some(Topic::Pregnancy)
    } else if any(&["allerg", "coeliac", "celiac", "intoleran"]) {
        Some(Topic::Allergy)
    } else if any(&["medic", "drug", "pill"]) {
        Some(Topic::Medicine)
    } else if any(&["dog", "cat", "pet", "hen", "rabbit", "puppy", "kitten", "horse", "animal"]) {
        Some(Topic::Pets)
    } else if any(&["diabet", "kidney", "immun", "elderly", "old ", "ill", "sick", "g6pd"]) {
        Some(Topic::Illness)
    } else {
        None
    }
}
