//! What is deliberately absent, held by looking at the source.

use std::path::{Path, PathBuf};

/// The core: plain functions over plain data. Everything else under `src` is the edge.
const CORE: &[&str] = &[
    "words",
    "units",
    "dates",
    "statement",
    "rules",
    "reader",
    "kitchen",
    "keeping",
    "plan",
    "ledger",
    "answers",
    "chores",
    "picture",
    "wording",
    "conversation",
];

/// What the core never names: the system, the network, the store, time as it passes, chance.
const NOT_IN_CORE: &[&str] = &[
    "std::fs",
    "std::env",
    "std::io",
    "std::net",
    "std::process",
    "std::thread",
    "std::time",
    "tokio",
    "sqlx",
    "reqwest",
    "teloxide",
    "axum",
    "tracing",
    "uuid",
    "SystemTime",
    "Utc::now",
    "Local::now",
    "async fn",
    ".await",
    "println!",
    "eprintln!",
    "rand::",
];

/// Rooms of the edge, which the core never uses.
const EDGE: &[&str] = &[
    "clock",
    "store",
    "desk",
    "outbox",
    "rounds",
    "painter",
    "channel",
    "export",
    "config",
    "telemetry",
    "cli",
];

/// What only `clock.rs` names.
const CLOCK: &[&str] = &["Utc::now", "Local::now", "SystemTime", "std::time::Instant", "now_v7"];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder with this extension, with its path from there, in order.
fn files(folder: &Path, extension: &str) -> Vec<(String, String)> {
    fn walk(folder: &Path, extension: &str, found: &mut Vec<PathBuf>) {
        for entry in std::fs::read_dir(folder).expect("a folder of the repository") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                walk(&path, extension, found);
            } else if path.extension().is_some_and(|each| each == extension) {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    walk(folder, extension, &mut found);
    found.sort();
    let read = |path: &PathBuf| {
        let name = path.strip_prefix(folder).expect("below").to_string_lossy().into_owned();
        (name, std::fs::read_to_string(path).expect("text"))
    };
    found.iter().map(read).collect()
}

fn source() -> Vec<(String, String)> {
    files(&root().join("src"), "rs")
}

/// A file's room: the name of its top-level module.
fn room(name: &str) -> &str {
    name.split(['/', '.']).next().unwrap_or(name)
}

fn is_core(name: &str) -> bool {
    CORE.contains(&room(name))
}

/// The lines of a file that are code: no comments, and not the tests at its end.
fn code(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines = (1..).zip(text.lines());
    lines
        .take_while(|(_, line)| !line.starts_with("#[cfg(test)]"))
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
}

/// Every place where `wrong` says something about a line of code.
fn faults(files: &[(String, String)], wrong: impl Fn(&str, &str) -> Option<String>) -> Vec<String> {
    let mut faults = Vec::new();
    for (name, text) in files {
        for (number, line) in code(text) {
            if let Some(what) = wrong(name, line) {
                faults.push(format!("src/{name}:{number}: {what}"));
            }
        }
    }
    faults
}

#[test]
fn the_core_names_no_io_no_clock_and_no_chance() {
    let faults = faults(&source(), |name, line| {
        let named = NOT_IN_CORE.iter().find(|word| line.contains(**word))?;
        is_core(name).then(|| format!("the core names {named}"))
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn the_core_never_uses_the_edge() {
    let faults = faults(&source(), |name, line| {
        let used = EDGE.iter().find(|room| line.contains(&format!("crate::{room}::")))?;
        is_core(name).then(|| format!("the core uses {used}"))
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn every_room_is_core_or_edge() {
    let unknown: Vec<String> = source()
        .into_iter()
        .map(|(name, _)| room(&name).to_owned())
        .filter(|room| !CORE.contains(&room.as_str()) && !EDGE.contains(&room.as_str()))
        .filter(|room| room != "lib" && room != "main")
        .collect();
    assert!(unknown.is_empty(), "add to CORE or EDGE of this file: {unknown:?}");
}

#[test]
fn only_the_clock_reads_the_time() {
    let faults = faults(&source(), |name, line| {
        let read = CLOCK.iter().find(|word| line.contains(**word))?;
        (name != "clock.rs").then(|| format!("reads the time with {read}"))
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn channels_never_touch_households_and_nothing_is_sent_by_the_desk() {
    let faults = faults(&source(), |name, line| {
        let core = line.contains("conversation::respond") || line.contains("crate::desk");
        let telegram = name.starts_with("channel/telegram");
        if telegram && core {
            return Some("a channel reaches past its arrivals".to_owned());
        }
        let sends = line.contains("Sender") || line.contains(".send(");
        (room(name) == "desk" && sends).then(|| "the desk sends".to_owned())
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn amounts_and_money_hold_no_floats() {
    let faults = faults(&source(), |name, line| {
        // Shares of waste and forecasts are ratios and may be floats; what is summed may not.
        let exact = matches!(name, "units.rs" | "ledger.rs" | "kitchen/fold.rs");
        let float = line.contains("f64") || line.contains("f32");
        let printing = line.contains("to_f64") || line.contains("as f64");
        (exact && float && !printing).then(|| "a float in an amount".to_owned())
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn sql_is_fixed_text() {
    let faults = faults(&source(), |_, line| {
        let built = line.contains("AssertSqlSafe") || line.contains("QueryBuilder");
        built.then(|| "SQL put together at run time".to_owned())
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn what_was_sent_to_the_bot_while_it_was_down_is_never_thrown_away() {
    let faults = faults(&source(), |_, line| {
        let dropped = line.contains("drop_pending_updates");
        dropped.then(|| "asks the platform to forget waiting messages".to_owned())
    });
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn modules_stand_beside_their_folder() {
    let wrong: Vec<String> = source()
        .into_iter()
        .map(|(name, _)| name)
        .filter(|name| name.ends_with("mod.rs"))
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

#[test]
fn both_databases_take_the_same_steps() {
    let steps = |engine: &str| -> Vec<(String, String)> {
        files(&root().join("migrations").join(engine), "sql")
    };
    let (sqlite, postgres) = (steps("sqlite"), steps("postgres"));
    let names = |steps: &[(String, String)]| -> Vec<String> {
        steps.iter().map(|(name, _)| name.clone()).collect()
    };
    assert_eq!(names(&sqlite), names(&postgres));
    for (name, text) in sqlite.iter().chain(&postgres) {
        assert!(text.starts_with("-- Why: "), "{name} opens with its reason");
    }
    // The same tables, columns and constraints; only the mark of an SQLite file is apart.
    let plain = |text: &str| -> Vec<String> {
        let lines = text.lines().map(str::trim);
        lines
            .filter(|line| !line.is_empty() && !line.starts_with("--"))
            .filter(|line| !line.starts_with("PRAGMA application_id"))
            .map(str::to_owned)
            .collect()
    };
    for ((name, ours), (_, theirs)) in sqlite.iter().zip(&postgres) {
        assert_eq!(plain(ours), plain(theirs), "{name}");
    }
}

#[test]
fn the_help_of_every_command_holds_together() {
    larderling::cli::command().debug_assert();
    for command in larderling::cli::command().get_subcommands() {
        assert!(command.get_about().is_some(), "{} says what it does", command.get_name());
        for argument in command.get_arguments() {
            let told = argument.get_help().is_some() || argument.is_hide_set();
            assert!(told, "{} {}", command.get_name(), argument.get_id());
        }
    }
}

#[test]
fn every_convention_of_the_platform_names_a_test_that_exists() {
    let page = std::fs::read_to_string(root().join("DEVELOPERS.md")).expect("a page");
    let (_, table) = page.split_once("### What the messaging platform expects").expect("a table");
    let rows: Vec<&str> = table
        .lines()
        .skip_while(|line| !line.starts_with("| 1 |"))
        .take_while(|line| line.starts_with('|'))
        .collect();
    assert_eq!(rows.len(), 42, "one line for each");
    let mut sources = source();
    sources.extend(files(&root().join("tests"), "rs"));
    for row in rows {
        let quoted = row.split('`').skip(1).step_by(2);
        let names = quoted.filter_map(|quoted| quoted.rsplit(": ").next());
        for name in names.filter(|name| name.contains('_') && !name.contains(['/', ' ', '.'])) {
            let heading = format!("fn {name}(");
            let found = sources.iter().any(|(_, text)| text.contains(&heading));
            assert!(found, "{name} of {row}");
        }
    }
}
