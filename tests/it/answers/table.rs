//! The table of safety questions, each asked both ways round.

use larderling::answers::forbids;
use larderling::words::Verdict;

use super::{ask, plain};
use larderling::answers::Answer;
use std::sync::OnceLock;

const TABLE: &str = include_str!("safety_questions.tsv");

/// Words that give leave or make light, never in an answer that forbids.
const NEVER: [&str; 16] = [
    "fine to eat",
    "safe to eat",
    "is safe",
    "are safe",
    "ok to eat",
    "okay to eat",
    "good to eat",
    "go ahead",
    "enjoy",
    "a little is",
    "no harm",
    "harmless",
    "don't worry",
    "perfectly",
    "no problem",
    "nothing to worry",
];

/// An answer is about this long at most, in characters.
const LENGTH: usize = 560;

struct Row {
    ways: [&'static str; 2],
    allowed: Vec<Verdict>,
    forbidden: Vec<&'static str>,
}

fn rows() -> impl Iterator<Item = Row> {
    TABLE.lines().filter(|line| !line.starts_with('#')).map(|line| {
        let cells: Vec<&str> = line.split('\t').collect();
        let [one, other, allowed, forbidden, source] = cells[..] else {
            panic!("five cells wanted: {line}");
        };
        assert!(!source.is_empty(), "no source: {line}");
        let verdict = |word| Verdict::from_word(word).unwrap_or_else(|| panic!("{word}: {line}"));
        Row {
            ways: [one, other],
            allowed: allowed.split('|').map(verdict).collect(),
            forbidden: forbidden.split('|').filter(|phrase| !phrase.is_empty()).collect(),
        }
    })
}

/// Every row with its two answers, asked once for all tests.
fn answered() -> &'static [(Row, [Answer; 2])] {
    static ANSWERED: OnceLock<Vec<(Row, [Answer; 2])>> = OnceLock::new();
    ANSWERED.get_or_init(|| {
        let ask_both = |row: Row| {
            let answers = row.ways.map(ask);
            (row, answers)
        };
        rows().map(ask_both).collect()
    })
}

#[test]
fn the_table_holds_at_least_three_hundred_questions() {
    assert!(rows().count() * 2 >= 300);
}

#[test]
fn every_safety_question_gets_one_of_its_verdicts() {
    let mut wrong = Vec::new();
    for (row, answers) in answered() {
        for (question, answer) in row.ways.iter().zip(answers) {
            if !row.allowed.contains(&answer.verdict) {
                wrong.push(format!("{question}: {} ({})", answer.verdict, plain(answer)));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_answer_that_forbids_holds_no_word_of_leave() {
    let mut wrong = Vec::new();
    for (row, answers) in answered() {
        for (question, answer) in row.ways.iter().zip(answers) {
            let text = plain(answer).to_lowercase();
            let general = NEVER.iter().filter(|_| forbids(answer.verdict));
            for phrase in general.chain(&row.forbidden).filter(|phrase| text.contains(**phrase)) {
                wrong.push(format!("{question}: {phrase:?} in {text}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn both_ways_of_asking_open_with_the_same_action() {
    let opening = |answer: &Answer| {
        let text = plain(answer);
        text.split(' ').take(2).collect::<Vec<_>>().join(" ")
    };
    let mut wrong = Vec::new();
    for (row, answers) in answered() {
        let [one, other] = answers.each_ref().map(opening);
        if one != other {
            wrong.push(format!("{}: {one:?} against {other:?}", row.ways[0]));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_answer_begins_with_an_action_never_with_yes_or_no_and_stays_short() {
    for (row, answers) in answered() {
        for (question, answer) in row.ways.iter().zip(answers) {
            let text = plain(answer);
            let first = text.split([' ', ',', ':']).next().unwrap_or("").to_lowercase();
            assert!(
                !["yes", "no", "nope", "yep", "sure", "maybe"].contains(&first.as_str()),
                "{text}"
            );
            assert!(text.chars().count() <= LENGTH, "{question}: {} {text}", text.chars().count());
            assert!(text.ends_with('.'), "{question}: {text}");
            assert!(!text.contains("  ") && !text.contains(".."), "{question}: {text}");
        }
    }
}

#[test]
fn a_toxic_or_discarded_thing_names_a_source_or_the_reason_why() {
    for (row, answers) in answered() {
        let answer = &answers[0];
        if answer.verdict == Verdict::Toxic {
            assert!(!answer.sources.is_empty(), "{}: {}", row.ways[0], plain(answer));
            assert!(answer.caution.is_some(), "{}", row.ways[0]);
        }
    }
}
