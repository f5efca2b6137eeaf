//! The outside judge of the protocol: recorded traffic against aiogram's typed models.
//!
//! One process serves the whole test binary. A run without it fails, unless the person running it
//! says otherwise, and never in continuous integration.

use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::{LazyLock, Mutex};

use serde_json::{Value, json};

use super::messenger::{End, State};

/// Set to do without the outside judges on a machine that cannot install them.
const WITHOUT: &str = "LARDERLING_TEST_WITHOUT_REFEREES";

/// Where `tests/referees/setup.sh` puts things; `None` when this run does without.
pub fn installed(what: &str) -> Option<PathBuf> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or(root.join("target"), PathBuf::from);
    let path = target.join("referees").join(what);
    if path.exists() {
        return Some(path);
    }
    let in_ci = std::env::var("CI").is_ok_and(|ci| ci == "true");
    let without = std::env::var_os(WITHOUT).is_some() && !in_ci;
    assert!(without, "{} is missing: run tests/referees/setup.sh first", path.display());
    None
}

struct Referee {
    _process: Child,
    ask: ChildStdin,
    verdicts: BufReader<ChildStdout>,
}

static REFEREE: LazyLock<Option<Mutex<Referee>>> = LazyLock::new(|| {
    let python = installed("aiogram/bin/python")?;
    let script = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/referees/aiogram_check.py");
    let mut process = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the referee starts");
    let ask = process.stdin.take().expect("its input");
    let verdicts = BufReader::new(process.stdout.take().expect("its output"));
    Some(Mutex::new(Referee { _process: process, ask, verdicts }))
});

/// The faults found in `record`.
pub fn judge(record: &Value) -> Vec<String> {
    let Some(referee) = REFEREE.as_ref() else { return Vec::new() };
    let mut referee = referee.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    writeln!(referee.ask, "{record}").expect("the referee listens");
    referee.ask.flush().expect("the referee listens");
    let mut verdict = String::new();
    referee.verdicts.read_line(&mut verdict).expect("the referee answers");
    serde_json::from_str(&verdict).expect("a list of faults")
}

/// Everything that went over the wire, as the referee wants it.
pub fn record(state: &State) -> Value {
    let requests: Vec<Value> = state
        .requests
        .iter()
        .map(|request| {
            let files: Vec<&str> = request.files.iter().map(|(name, _)| name.as_str()).collect();
            let mut entry = json!({
                "method": request.method, "params": request.params, "files": files,
            });
            if let End::Done(result) = &request.end {
                entry["result"] = result.clone();
            }
            entry
        })
        .collect();
    json!({ "requests": requests, "updates": state.updates })
}
