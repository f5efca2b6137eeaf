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

use super::support::script;

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
    let faults: Vec<String> = scripts.iter().flat_map(|path| faults(path)).collect();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// Plays one script and returns what was not as expected, each with file and line.
fn faults(path: &Path) -> Vec<String> {
    let played = match script::play(path) {
        Ok(played) => played,
        Err(error) => return vec![error],
    };
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let mut faults = Vec::new();
    for line in &played.lines {
        for (number, expected) in &line.expected {
            if let Err(why) = played.holds(expected, line.number) {
                faults.push(format!("{name}:{number}: {expected}\n    {why}"));
            }
        }
    }
    faults
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
