//! How fast messages are read: one thread, each line of the files named on the command line by
//! itself. Prints the time to start, the median and the ninth decile per message, and the largest
//! memory held. `benches/language.py` runs it beside the reference library.

use std::hint::black_box;
use std::time::{Duration, Instant};

use larderling::reader::{ReadContext, Reader, json};
use larderling::rules::Rules;

/// Every message is read this many times, and the last round counts.
const ROUNDS: usize = 3;

fn main() {
    let begun = Instant::now();
    let rules = Rules::embedded().expect("the bundled rule set is checked by the tests");
    let reader = Reader::of_rules(&rules);
    let context = ReadContext::new("2026-06-10".parse().expect("a date"));
    black_box(reader.read("got 3 leeks", &context));
    println!("start {:.1} ms", begun.elapsed().as_secs_f64() * 1e3);
    for file in std::env::args().skip(1).filter(|arg| !arg.starts_with("--")) {
        let Ok(text) = std::fs::read_to_string(&file) else {
            eprintln!("cannot read {file}");
            std::process::exit(2);
        };
        let mut times: Vec<Duration> = Vec::new();
        for _ in 0..ROUNDS {
            times.clear();
            for line in text.lines() {
                let one = Instant::now();
                black_box(json::line(line, &reader.read(line, &context)));
                times.push(one.elapsed());
            }
        }
        times.sort_unstable();
        let micros = |share: usize| {
            let at = (times.len() * share / 10).min(times.len().saturating_sub(1));
            times.get(at).map_or(0.0, |time| time.as_secs_f64() * 1e6)
        };
        println!("{file}: median {:.1} us, ninth decile {:.1} us", micros(5), micros(9));
    }
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    if let Some(peak) = status.lines().find(|line| line.starts_with("VmHWM")) {
        println!("{}", peak.split_whitespace().collect::<Vec<_>>().join(" "));
    }
}
