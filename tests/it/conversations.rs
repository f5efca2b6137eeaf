//! Dated conversations played through the real binary, with what must and must not be said.
//!
//! A script under `conversations/` is an ordinary `replay` file. Comments that start with `#>`
//! hold the expectations about the line above them, so the same file also plays by hand:
//!
//! - `#> silent`: the bot gives no sign at all for that line.
//! - `#> says TEXT` / `#> never TEXT`: some row for that line holds / no row holds the text
//!   (case ignored).
//! - `#> kind WORD`: some row for that line is of this kind.
//! - `#> key KEY`: some row for that line has this button.
//! - `#> post YYYY-MM-DD HH:MM says TEXT` / `... never TEXT` / `... none`: the same about the posts
//!   and reminders of that minute.
//! - `#> state POINTER VALUE`: the final state holds this JSON value at the JSON pointer; in a
//!   pointer, `lots[carrot]` stands for the first lot of that food or name.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

#[test]
fn every_conversation_script_says_what_it_must_and_nothing_else() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/it/conversations");
    let mut scripts: Vec<PathBuf> = std::fs::read_dir(&folder)
        .expect("the folder of scripts is there")
        .map(|entry| entry.expect("a readable entry").path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "txt"))
        .collect();
    scripts.sort();
    assert!(!scripts.is_empty(), "no scripts in {}", folder.display());
    let faults: Vec<String> = scripts.iter().flat_map(|path| play(path)).collect();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn the_readme_shows_what_replay_prints() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = std::fs::read_to_string(root.join("README.md")).expect("a readable README");
    let shown = readme.split_once("```text\n").and_then(|(_, rest)| rest.split_once("\n```"));
    let (shown, _) = shown.expect("the README has a conversation");
    let output = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .args(["replay", "--both"])
        .arg(root.join("tests/it/conversations/first_walk.txt"))
        .output()
        .expect("the binary runs");
    assert_eq!(shown, String::from_utf8_lossy(&output.stdout).trim_end());
}

/// Plays one script and returns what was not as expected, each with file and line.
fn play(path: &Path) -> Vec<String> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let script = std::fs::read_to_string(path).expect("a readable script");
    let output = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .args(["replay", "--json", "--state"])
        .arg(path)
        .output()
        .expect("the binary runs");
    if !output.status.success() {
        return vec![format!("{name}: {}", String::from_utf8_lossy(&output.stderr))];
    }
    let mut rows: Vec<Value> = String::from_utf8_lossy(&output.stdout)
        .lines()
        .map(|line| serde_json::from_str(line).expect("one JSON object a line"))
        .collect();
    let state = rows.pop().expect("the state is the last line");

    let mut faults = Vec::new();
    let mut spoken = 0;
    for (number, line) in (1..).zip(script.lines()) {
        let Some(expectation) = line.strip_prefix("#> ") else {
            if !line.starts_with('#') && !line.trim().is_empty() {
                spoken = number;
            }
            continue;
        };
        if let Err(why) = holds(expectation.trim(), spoken, &rows, &state) {
            faults.push(format!("{name}:{number}: {expectation}\n    {why}"));
        }
    }
    faults
}

fn holds(expectation: &str, line: u64, rows: &[Value], state: &Value) -> Result<(), String> {
    let answers = || rows.iter().filter(|row| row["for"].as_u64() == Some(line));
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
