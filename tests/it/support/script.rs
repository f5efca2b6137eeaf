//! Scripts: replay files with expectations in comments, played through the real binary.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// A script that was played.
pub struct Played {
    pub lines: Vec<Line>,
    pub rows: Vec<Value>,
    pub state: Value,
}

/// One line of a script, with what is expected of it and where that stands.
pub struct Line {
    pub number: u64,
    pub text: String,
    pub expected: Vec<(u64, String)>,
}

/// Plays one script; the error names the file.
pub fn play(path: &Path) -> Result<Played, String> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let script = std::fs::read_to_string(path).map_err(|error| format!("{name}: {error}"))?;
    let output = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .args(["replay", "--json", "--state"])
        .arg(path)
        .output()
        .map_err(|error| format!("{name}: {error}"))?;
    if !output.status.success() {
        return Err(format!("{name}: {}", String::from_utf8_lossy(&output.stderr)));
    }
    let mut rows: Vec<Value> = String::from_utf8_lossy(&output.stdout)
        .lines()
        .map(|line| serde_json::from_str(line).expect("one JSON object a line"))
        .collect();
    let state = rows.pop().ok_or("the state is the last line")?;
    let mut lines: Vec<Line> = Vec::new();
    for (number, text) in (1..).zip(script.lines()) {
        if let Some(expected) = text.strip_prefix("#> ") {
            let line = lines.last_mut().ok_or(format!("{name}:{number}: before any line"))?;
            line.expected.push((number, expected.trim().to_owned()));
        } else if !text.starts_with(['#', '@']) && !text.trim().is_empty() {
            lines.push(Line { number, text: text.to_owned(), expected: Vec::new() });
        }
    }
    Ok(Played { lines, rows, state })
}

impl Played {
    /// What the bot said to one line.
    pub fn answers(&self, line: u64) -> impl Iterator<Item = &Value> {
        self.rows.iter().filter(move |row| row["for"].as_u64() == Some(line))
    }

    /// Whether an expectation about a line holds, or why not.
    pub fn holds(&self, expectation: &str, line: u64) -> Result<(), String> {
        holds(self, expectation, line)
    }
}

fn holds(played: &Played, expectation: &str, line: u64) -> Result<(), String> {
    let Played { rows, state, .. } = played;
    let answers = || played.answers(line);
    let (verb, rest) = expectation.split_once(' ').unwrap_or((expectation, ""));
    match verb {
        "silent" => told(answers().next().is_none(), answers()),
        "says" => told(answers().any(|row| contains(row, rest)), answers()),
        "never" => told(!answers().any(|row| contains(row, rest)), answers()),
        "kind" => told(answers().any(|row| row["kind"] == rest), answers()),
        "key" => told(answers().any(|row| has_key(row, rest)), answers()),
        "post" => {
            let (at, rest) = rest.split_at_checked(16).ok_or("a post needs YYYY-MM-DD HH:MM")?;
            let posts = || {
                rows.iter().filter(|row| {
                    row["at"] == at && (row["kind"] == "post" || row["kind"] == "reminder")
                })
            };
            let (verb, text) = rest.trim().split_once(' ').unwrap_or((rest.trim(), ""));
            match verb {
                "says" => told(posts().any(|row| contains(row, text)), posts()),
                "never" => told(!posts().any(|row| contains(row, text)), posts()),
                "none" => told(posts().next().is_none(), posts()),
                other => Err(format!("unknown expectation about a post: {other}")),
            }
        }
        "state" => {
            let (pointer, wanted) =
                rest.split_once(' ').ok_or("a state needs pointer and value")?;
            let wanted: Value = serde_json::from_str(wanted).map_err(|e| e.to_string())?;
            let found = look_up(state, pointer);
            if found == Some(&wanted) { Ok(()) } else { Err(format!("got {found:?}")) }
        }
        other => Err(format!("unknown expectation: {other}")),
    }
}

fn told<'a>(good: bool, rows: impl Iterator<Item = &'a Value>) -> Result<(), String> {
    if good {
        return Ok(());
    }
    let got: Vec<String> = rows.map(|row| format!("{}: {}", row["kind"], row["text"])).collect();
    Err(format!("got {got:?}"))
}

fn contains(row: &Value, text: &str) -> bool {
    let said = row["text"].as_str().unwrap_or_default().to_lowercase();
    said.contains(&text.to_lowercase())
}

fn has_key(row: &Value, key: &str) -> bool {
    row["keys"].as_array().is_some_and(|keys| keys.iter().any(|each| each == key))
}

fn look_up<'a>(state: &'a Value, pointer: &str) -> Option<&'a Value> {
    pointer.split('/').filter(|step| !step.is_empty()).try_fold(state, |value, step| {
        match step.split_once('[') {
            Some((list, food)) => {
                let food = food.trim_end_matches(']');
                let lots = value.get(list)?.as_array()?;
                lots.iter().find(|lot| lot["food"] == food || lot["name"] == food)
            }
            None => match step.parse::<usize>() {
                Ok(index) => value.get(index),
                Err(_) => value.get(step),
            },
        }
    })
}
