//! What the program costs beside a peer that does the least, in one run on one machine.
//!
//! `cargo bench --bench ratios` prints one row for each question; with `LARDERLING_TEST_POSTGRES`
//! set it asks the same of PostgreSQL. Absolute times are a machine's, ratios are ours.

mod history;
mod message;
mod morning;
mod picture;
mod process;

use std::time::{Duration, Instant as Stopwatch};

/// One line of the table.
struct Line {
    what: String,
    ours: String,
    /// The peer's figure, or what the goal is measured against.
    peer: String,
    ratio: Option<f64>,
    goal: &'static str,
}

fn main() {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .expect("a runtime");
    println!("| what | ours | peer | ratio | goal |");
    println!("| --- | --- | --- | --- | --- |");
    print(&[message::reading(), picture::line()]);
    print(&process::lines());
    print(&runtime.block_on(message::sqlite()));
    print(&runtime.block_on(message::postgres()));
    print(&runtime.block_on(morning::lines()));
    print(&runtime.block_on(history::lines()));
}

fn print(lines: &[Line]) {
    for line in lines {
        let ratio = line.ratio.map_or("-".to_owned(), |ratio| format!("{ratio:.2}"));
        println!("| {} | {} | {} | {ratio} | {} |", line.what, line.ours, line.peer, line.goal);
    }
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let watch = Stopwatch::now();
    let result = work();
    (result, watch.elapsed())
}

/// The middle one.
fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn micros(time: Duration) -> String {
    let micros = time.as_secs_f64() * 1e6;
    if micros < 100.0 { format!("{micros:.1} µs") } else { format!("{micros:.0} µs") }
}

fn millis(time: Duration) -> String {
    format!("{:.1} ms", time.as_secs_f64() * 1e3)
}
