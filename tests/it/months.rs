//! Whole months of invented households, played through the real binary and scored.
//!
//! The scripts under `months/` are written as those under `conversations/`, with three more
//! expectations:
//!
//! - `#> unread`: a line meant for the kitchen in words that are not read yet. Nothing must be said
//!   to it; the day it is answered, this mark has to go.
//! - `#> lot FOOD FORM PLACE QUANTITY [UNIT]`: one lot of the end. All of them together are exactly
//!   what is on record then; a quantity of `-` is an amount nobody knows.
//! - `#> ledger TERM VALUE`: a term of the ledger at the end.
//!
//! Lines marked `silent` are chatter; they are about half of each month. The score counts messages
//! that answer chatter (false triggers), kitchen lines without an answer (missed), expectations of
//! what is said or on record that do not hold (wrong), and the bot's messages for each line.

use std::path::{Path, PathBuf};

use serde_json::Value;

use super::support::script::{self, Played};

/// What one month scored.
#[derive(Default)]
struct Score {
    kitchen: usize,
    chatter: usize,
    unread: usize,
    triggers: Vec<String>,
    missed: Vec<String>,
    wrong: Vec<String>,
    /// Messages that answer kitchen lines; the same for chatter are the triggers.
    said: usize,
    /// The most messages any one line got.
    most: usize,
}

#[test]
fn months_of_four_households_are_read_without_a_false_word() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/it/months");
    let mut scripts: Vec<PathBuf> = std::fs::read_dir(&folder)
        .expect("the folder of months is there")
        .map(|entry| entry.expect("a readable entry").path())
        .collect();
    scripts.sort();
    assert!(scripts.len() >= 4, "at least four months in {}", folder.display());
    let mut faults = Vec::new();
    println!(
        "{:<16}{:>8}{:>8}{:>8}{:>9}{:>7}{:>7}{:>10}",
        "month", "kitchen", "chatter", "unread", "triggers", "missed", "wrong", "said/line"
    );
    for path in &scripts {
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let score = score(path);
        let per_line = score.said as f64 / score.kitchen as f64;
        println!(
            "{name:<16}{:>8}{:>8}{:>8}{:>9}{:>7}{:>7}{per_line:>10.2}",
            score.kitchen,
            score.chatter,
            score.unread,
            score.triggers.len(),
            score.missed.len(),
            score.wrong.len(),
        );
        let lines = score.kitchen + score.chatter + score.unread;
        if lines < 50 || score.chatter * 5 < lines * 2 {
            faults.push(format!("{name}: not a month with its talk: {lines} lines"));
        }
        if score.most > 1 {
            faults.push(format!("{name}: {} messages to one line", score.most));
        }
        for (kind, found) in
            [("trigger", score.triggers), ("missed", score.missed), ("wrong", score.wrong)]
        {
            faults.extend(found.into_iter().map(|fault| format!("{name}: {kind}: {fault}")));
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

fn score(path: &Path) -> Score {
    let played = script::play(path).unwrap_or_else(|error| panic!("{error}"));
    let mut score = Score::default();
    for line in &played.lines {
        let is = |word: &str| line.expected.iter().any(|(_, each)| each == word);
        let said = played.answers(line.number).count();
        if line.text.contains("| !") {
            score.check(&played, line);
            continue;
        }
        score.most = score.most.max(said);
        if is("silent") || is("unread") {
            score.chatter += usize::from(is("silent"));
            score.unread += usize::from(is("unread"));
            if said > 0 {
                score.triggers.push(format!("line {}: {}", line.number, line.text));
            }
        } else {
            score.kitchen += 1;
            score.said += said;
            if said == 0 {
                score.missed.push(format!("line {}: {}", line.number, line.text));
            }
        }
        score.check(&played, line);
    }
    score.check_lots(&played);
    score
}

impl Score {
    fn check(&mut self, played: &Played, line: &script::Line) {
        for (number, expected) in &line.expected {
            let (verb, rest) = expected.split_once(' ').unwrap_or((expected, ""));
            let held = match verb {
                "silent" | "unread" | "lot" => continue,
                "ledger" => {
                    let (term, value) = rest.split_once(' ').unwrap_or((rest, ""));
                    let found = &played.state["ledger"][term];
                    let text = found.to_string();
                    if text == value { Ok(()) } else { Err(format!("got {text}")) }
                }
                _ => played.holds(expected, line.number),
            };
            if let Err(why) = held {
                self.wrong.push(format!("line {number}: {expected}\n    {why}"));
            }
        }
    }

    /// The lots of the end are exactly those named.
    fn check_lots(&mut self, played: &Played) {
        let expected = played.lines.iter().flat_map(|line| &line.expected);
        let mut expected: Vec<String> = expected
            .filter_map(|(_, each)| each.strip_prefix("lot "))
            .map(|lot| lot.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect();
        let empty = Vec::new();
        let found = played.state["lots"].as_array().unwrap_or(&empty);
        for lot in found.iter().map(told) {
            match expected.iter().position(|each| *each == lot) {
                Some(at) => {
                    expected.remove(at);
                }
                None => self.wrong.push(format!("on record at the end: {lot}")),
            }
        }
        let missing = expected.into_iter().map(|lot| format!("not on record at the end: {lot}"));
        self.wrong.extend(missing);
    }
}

/// A lot of the final state as a script writes it.
fn told(lot: &Value) -> String {
    let word = |key: &str| lot[key].as_str().map(|word| word.replace(' ', "_"));
    let food = word("food").or(word("name")).unwrap_or_default();
    let quantity = match &lot["quantity"] {
        Value::Null => "-".to_owned(),
        quantity => quantity.to_string(),
    };
    let mut words = vec![food];
    words.extend(word("form"));
    words.extend(word("place"));
    words.push(quantity);
    words.extend(word("unit"));
    words.join(" ")
}
