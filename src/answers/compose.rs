//! From findings to one answer: the strictest first, both foods named, sources and arithmetic.

use super::words::Danger;
use super::{Answer, Asked, forbids, strictness};
use crate::conversation::Rich;
use crate::rules::{Cite, Kind, PoisonRole, Topic};
use crate::wording::sentence;
use crate::words::Verdict;

/// An answer is kept near this many characters; what does not fit stays for "why?".
const LENGTH: usize = 500;

/// One thing found on a question.
#[derive(Clone, Debug)]
pub(super) struct Finding {
    pub verdict: Verdict,
    /// What it is about, as said ("rhubarb leaves").
    pub subject: String,
    /// The food it is about, so that several findings on one food count as one.
    pub food: String,
    /// Sentences, the action first; later ones are left out when there is no room.
    pub lines: Vec<String>,
    pub caution: Option<String>,
    pub cites: Vec<Cite>,
    /// Lines for "why?" besides the sources.
    pub reasons: Vec<String>,
}

impl Finding {
    pub fn new(verdict: Verdict, subject: impl Into<String>, lead: impl Into<String>) -> Finding {
        let subject = subject.into();
        Finding {
            verdict,
            food: subject.clone(),
            subject,
            lines: vec![lead.into()],
            caution: None,
            cites: Vec::new(),
            reasons: Vec::new(),
        }
    }

    pub fn push(&mut self, line: impl Into<String>) -> &mut Finding {
        let line = line.into();
        if !line.is_empty() && !self.lines.contains(&line) {
            self.lines.push(line);
        }
        self
    }

    pub fn cite(mut self, cite: Cite) -> Finding {
        self.cites.push(cite);
        self
    }

    pub fn reason(&mut self, line: impl Into<String>) -> &mut Finding {
        self.reasons.push(line.into());
        self
    }
}

/// The answer the findings add up to.
pub(super) fn compose(asked: &Asked<'_>, mut findings: Vec<Finding>) -> Answer {
    let say = asked.say;
    if findings.is_empty() {
        let eats = asked.scan.word(&[
            "eat",
            "eaten",
            "edible",
            "inedible",
            "safe",
            "ok",
            "okay",
            "fine",
            "poisonous",
            "toxic",
            "dangerous",
            "harmful",
            "bin",
            "throw",
            "poison",
            "drink",
        ]);
        let lead = if eats { say.unknown_this() } else { say.not_a_question() };
        let mut finding = Finding::new(Verdict::Unknown, say.this(), lead);
        if eats {
            finding.push(say.help_unknown());
        }
        findings.push(finding);
    }
    findings.sort_by_key(|finding| std::cmp::Reverse(strictness(finding.verdict)));
    let first = findings[0].clone();
    let mut lines = first.lines.clone();
    let mut cites = first.cites.clone();
    let mut reasons = first.reasons.clone();
    let mut caution = first.caution.clone();
    let mut named = vec![first.food.clone()];
    for other in &findings[1..] {
        if named.contains(&other.food) {
            // The same food again: what forbids adds its reason, "I don't know" adds none.
            let informs = !forbids(first.verdict) && other.verdict != first.verdict;
            if forbids(other.verdict) && other.verdict != Verdict::Unknown || informs {
                other.lines.iter().take(1).for_each(|line| push_new(&mut lines, line));
                cites.extend(&other.cites);
            }
            reasons.extend(other.reasons.clone());
        } else if forbids(first.verdict)
            && (!forbids(other.verdict)
                || first.verdict != Verdict::Unknown && other.verdict == Verdict::Unknown)
        {
            // Nothing that sounds like leave to eat stands in an answer that forbids.
            let named_already = lines.iter().any(|line| line.contains(&other.subject));
            if !named_already && !asked.is_dish(&other.food) {
                push_new(&mut lines, &say.other_apart(crate::wording::capital(&other.subject)));
            }
            named.push(other.food.clone());
        } else {
            other.lines.iter().for_each(|line| push_new(&mut lines, line));
            cites.extend(&other.cites);
            reasons.extend(other.reasons.clone());
            named.push(other.food.clone());
        }
        if caution.is_none() && (!forbids(first.verdict) || forbids(other.verdict)) {
            caution.clone_from(&other.caution);
        }
    }
    if forbids(first.verdict) && asked.scan.has(Danger::Persuasion) {
        lines.insert(1, say.any_amount());
    }
    if first.verdict == Verdict::Toxic && caution.is_none() {
        caution = Some(say.poison_if_eaten(asked.call_short()));
    }
    dedup(&mut cites);
    let shorts = short_names(asked, &cites);
    let mut text = fit(&lines, LENGTH.saturating_sub(shorts.len() + 10));
    if !shorts.is_empty() {
        text.push(' ');
        text.push_str(&say.source(shorts.trim_end_matches('.')));
    }
    Answer {
        verdict: first.verdict,
        text: Rich::plain(text),
        caution: caution.map(Rich::plain),
        sources: full_names(asked, &cites),
        why: why(asked, &cites, &reasons, &lines),
        urgent: false,
    }
}

fn push_new(lines: &mut Vec<String>, line: &str) {
    if !line.is_empty() && !lines.iter().any(|known| known == line) {
        lines.push(line.to_owned());
    }
}

/// As many sentences as fit, always the first.
fn fit(lines: &[String], length: usize) -> String {
    let mut text = String::new();
    for line in lines {
        let line = sentence(line);
        if !text.is_empty() && text.chars().count() + line.chars().count() + 1 > length {
            continue;
        }
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&line);
    }
    text
}

fn dedup(cites: &mut Vec<Cite>) {
    let mut seen = Vec::new();
    cites.retain(|cite| {
        let fresh = !seen.contains(&cite.source);
        seen.push(cite.source);
        fresh
    });
    cites.sort_by_key(|cite| cite.grade);
}

/// Short names of the published sources, two at most.
fn short_names(asked: &Asked<'_>, cites: &[Cite]) -> String {
    let published = cites.iter().filter(|cite| cite.grade.is_published());
    let mut names: Vec<&str> =
        published.map(|cite| asked.cx.rules.source(*cite).short.as_str()).collect();
    names.dedup();
    names.truncate(2);
    names.join(", ")
}

fn full_names(asked: &Asked<'_>, cites: &[Cite]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for cite in cites {
        let full = asked.cx.rules.source(*cite).full.clone();
        if !names.contains(&full) {
            names.push(full);
        }
    }
    names
}

/// What "why?" shows.
fn why(asked: &Asked<'_>, cites: &[Cite], reasons: &[String], lines: &[String]) -> Rich {
    let say = asked.say;
    let mut why = Rich::plain(lines.join(" "));
    for reason in reasons {
        why.push_line(Rich::plain(reason.as_str()));
    }
    if cites.is_empty() {
        why.push_line(Rich::plain(say.why_none()));
        return why;
    }
    why.push_line(Rich::plain(say.why_head()));
    for cite in cites {
        let source = asked.cx.rules.source(*cite);
        let line = say.why_source(source.short.as_str(), source.full.as_str(), cite.grade.letter());
        why.push_line(Rich::plain(line));
    }
    why
}

impl<'a> Asked<'a> {
    /// The guidance on a topic as a finding, at least as strict as `least`.
    pub(super) fn guided(&self, topic: Topic, least: Verdict) -> Finding {
        match self.cx.rules.guidance(topic) {
            Some(row) => {
                let stricter = strictness(row.verdict) > strictness(least);
                let verdict = if stricter { row.verdict } else { least };
                Finding::new(verdict, self.say.this(), sentence(&row.text)).cite(row.cite)
            }
            None => Finding::new(Verdict::Unknown, self.say.this(), self.say.unknown_this()),
        }
    }

    /// Whether this food of the question is a made dish, which only goes with what is asked about.
    fn is_dish(&self, noun: &str) -> bool {
        let hits = self.scan.foods.iter().flat_map(|hit| &hit.foods);
        let mut named = hits.filter(|food| food.noun() == noun);
        self.scan.foods.len() > 1
            && named
                .any(|food| matches!(food.kind, Kind::Prepared | Kind::Condiment | Kind::Pantry))
    }

    /// The line to call if somebody has eaten it.
    pub(super) fn call_short(&self) -> String {
        let country = self.cx.settings.country.as_deref().unwrap_or("");
        let mut lines = self.cx.rules.poison_lines(country);
        match lines.find(|line| line.role == PoisonRole::Poison) {
            Some(line) => self.say.call_short(line.number.as_str(), line.name.as_str()),
            None => self.say.call_unknown(),
        }
    }

    /// Lines for "why?" about sources that say otherwise than `verdict`.
    pub(super) fn disagreement(&self, held: Verdict, others: &[(Verdict, Cite)]) -> Vec<String> {
        let line = |(verdict, cite): &(Verdict, Cite)| {
            let source = self.cx.rules.source(*cite);
            let verdict = verdict.word().replace('_', " ");
            self.say.why_disagree(source.short.as_str(), verdict)
        };
        others.iter().filter(|(verdict, _)| *verdict != held).map(line).collect()
    }
}

/// A sentence in the middle of another one.
pub(super) fn lower(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_lowercase().chain(chars).collect(),
        None => String::new(),
    }
}
