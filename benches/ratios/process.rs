//! The program as a process: how soon it answers, how much memory it holds, how large it is.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant as Stopwatch};

use super::{Line, median, millis};

const STARTS: usize = 15;
const BARE_STACK_MB: f64 = 19.6;

pub fn lines() -> Vec<Line> {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("larder.db");
    // The first start makes the file.
    let (_, mut child) = opened(&database);
    end(&mut child);
    let mut starts: Vec<Duration> = Vec::new();
    let mut resident = None;
    for _ in 0..STARTS {
        let (time, mut child) = opened(&database);
        starts.push(time);
        resident = resident.or_else(|| resident_mib(child.id()));
        end(&mut child);
    }
    let mut lines = vec![Line {
        what: "start to the console's first line".to_owned(),
        ours: millis(median(&mut starts)),
        peer: "-".to_owned(),
        ratio: None,
        goal: "<= 50 ms",
    }];
    if let Some(mib) = resident {
        lines.push(Line {
            what: "resident memory, console with one household".to_owned(),
            ours: format!("{mib:.1} MiB"),
            peer: "-".to_owned(),
            ratio: None,
            goal: "<= 25 MiB",
        });
    }
    let released = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/release/larderling");
    if let Ok(file) = std::fs::metadata(&released) {
        let mb = file.len() as f64 / 1e6;
        lines.push(Line {
            what: "release binary, stripped; bare stack of the same crates".to_owned(),
            ours: format!("{mb:.1} MB"),
            peer: format!("{BARE_STACK_MB} MB"),
            ratio: Some(mb / BARE_STACK_MB),
            goal: "<= 1.4",
        });
    }
    lines
}

/// A console and the time to its first line.
fn opened(database: &Path) -> (Duration, Child) {
    let watch = Stopwatch::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_larderling"))
        .arg("--database")
        .arg(database)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut line = String::new();
    let output = child.stdout.take().expect("its output");
    BufReader::new(output).read_line(&mut line).expect("reads");
    assert!(!line.is_empty(), "the console opens");
    (watch.elapsed(), child)
}

fn end(child: &mut Child) {
    drop(child.stdin.take());
    let _ = child.wait();
}

/// Resident memory where the system tells it (Linux), in MiB.
fn resident_mib(process: u32) -> Option<f64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmRSS:"))?;
    let kib: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kib / 1024.0)
}
