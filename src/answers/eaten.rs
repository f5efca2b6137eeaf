//! Somebody has already eaten it: whom to call, at once, whatever it was.

use super::compose::Finding;
use super::words::Danger;
use super::{Answer, Asked, forbids};
use crate::conversation::Rich;
use crate::rules::{Hours, PoisonLine, PoisonRole, Topic};
use crate::words::{Intent, Verdict};

/// Whether somebody may have been harmed already: the reader says so, or the text tells of eating
/// and the thing eaten is not known to be harmless, or somebody is ill.
pub(super) fn is_urgent(asked: &Asked<'_>, findings: &mut dyn FnMut() -> Vec<Finding>) -> bool {
    let told = asked.cx.statements.iter().any(|s| s.intent == Intent::EatenAlready);
    if told && !asked.scan.habit() {
        return true;
    }
    let about_food = !asked.questions.is_empty() || !asked.scan.foods.is_empty();
    if asked.scan.has(Danger::Symptom) && about_food {
        return true;
    }
    let bad = ["bad", "off", "mouldy", "moldy", "rotten", "raw", "spoiled", "undercooked"];
    if asked.scan.has(Danger::Eaten) && asked.scan.word(&bad) && about_food {
        return true;
    }
    asked.scan.has(Danger::Eaten)
        && !asked.questions.is_empty()
        && findings().iter().any(|finding| forbids(finding.verdict))
}

/// The lines to call, the one that answers at this hour first. No verdict, no buttons.
pub(super) fn answer(asked: &Asked<'_>) -> Answer {
    let cx = asked.cx;
    let lines = lines(asked);
    if asked.is_animal() {
        return animal(asked, &lines);
    }
    let text = asked.say.eaten(lines.join(" "));
    let cites: Vec<_> = country(asked).map(|line| line.cite).collect();
    let mut sources: Vec<String> =
        cites.iter().map(|cite| cx.rules.source(*cite).full.clone()).collect();
    sources.dedup();
    let mut why = Rich::plain(text.as_str());
    for source in &sources {
        why.push_line(Rich::plain(source.as_str()));
    }
    let caution = cx.rules.guidance(Topic::EatenAlready);
    Answer {
        verdict: Verdict::Unknown,
        text: Rich::plain(text),
        caution: caution.map(|row| Rich::plain(row.text.as_str())),
        sources,
        why,
        urgent: true,
    }
}

/// An animal has eaten it: the vet at once; the line for people only for people.
fn animal(asked: &Asked<'_>, lines: &[String]) -> Answer {
    let text = asked.say.eaten_animal(lines.first().map_or("", String::as_str));
    Answer {
        verdict: Verdict::Unknown,
        text: Rich::plain(text.as_str()),
        caution: None,
        sources: Vec::new(),
        why: Rich::plain(text),
        urgent: true,
    }
}

impl Asked<'_> {
    /// Whether it was an animal that ate, and no person is named.
    fn is_animal(&self) -> bool {
        let animal =
            self.scan.has(Danger::Guided(Topic::Pets)) || self.scan.has(Danger::FarmAnimal);
        let person = self.scan.word(&[
            "i", "me", "we", "he", "she", "they", "son", "daughter", "baby", "toddler", "child",
            "kid", "kids", "children", "husband", "wife", "mum", "mom", "dad", "grandma",
            "grandpa", "boy", "girl", "infant", "brother", "sister", "friend", "guest",
        ]);
        animal && !person
    }
}

fn country<'a>(asked: &Asked<'a>) -> impl Iterator<Item = &'a PoisonLine> {
    let code = asked.cx.settings.country.as_deref().unwrap_or("");
    let rules = asked.cx.rules;
    let code = code.to_owned();
    rules
        .general
        .poison
        .iter()
        .filter(move |line| line.country.eq_ignore_ascii_case(&code))
        .filter(|line| line.role != PoisonRole::ProfessionalsOnly)
}

fn lines(asked: &Asked<'_>) -> Vec<String> {
    let say = asked.say;
    let (_, time) = asked.cx.now.local(asked.cx.settings.zone);
    let minute = {
        use chrono::Timelike;
        time.hour() * 60 + time.minute()
    };
    let poison = || country(asked).filter(|line| line.role == PoisonRole::Poison);
    let mut lines = Vec::new();
    match poison().find(|line| answers_at(line, minute)) {
        Some(line) => lines.push(say.eaten_poison(line.name.as_str(), line.number.as_str())),
        None => match poison().next() {
            Some(line) => {
                lines.push(say.eaten_closed(line.name.as_str(), line.number.as_str()));
            }
            None => lines.push(say.eaten_poison_unknown()),
        },
    }
    let emergency = country(asked).find(|line| line.role == PoisonRole::Emergency);
    lines.push(match emergency {
        Some(line) => say.eaten_emergency(line.number.as_str()),
        None => say.eaten_emergency_unknown(),
    });
    lines
}

/// Whether a line answers at this minute of its own day; a line whose hours no source names may.
fn answers_at(line: &PoisonLine, minute: u32) -> bool {
    match line.hours {
        Hours::Always | Hours::NotStated => true,
        Hours::Daily { from, until } => (u32::from(from)..u32::from(until)).contains(&minute),
    }
}
