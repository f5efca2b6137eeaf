//! A long history: whether the last message costs what the first one did, and what a rebuild costs
//! beside reading the rows it is made from.

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant as Stopwatch};

use larderling::channel::{Channel, ChatKey};
use larderling::clock::Clock;
use larderling::conversation::Kit;
use larderling::desk::Desk;
use larderling::kitchen::State;
use larderling::store::{Location, Store};

use super::message::{said, start};
use super::{Line, median, micros, millis};

/// Events of the history, over five years.
const EVENTS: usize = 100_000;
const MINUTES_BETWEEN: i64 = 5 * 365 * 24 * 60 / EVENTS as i64;
/// Messages whose cost is compared, at either end.
const SAMPLE: usize = 1_000;

const FOODS: &[&str] =
    &["leeks", "carrots", "plums", "beets", "pears", "lemons", "peas", "radishes"];

pub async fn lines() -> Vec<Line> {
    let folder = tempfile::tempdir().expect("a folder");
    let location = Location::File(folder.path().join("long.db"));
    let store = Store::open(&location).await.expect("opened").store;
    let kit = Arc::new(Kit::embedded().expect("a kit without faults"));
    let desk = Desk::new(store, Clock::set(start()), kit, Vec::new());
    let chat = ChatKey::new(Channel::Replay, "group");
    let household = desk.found(&chat, &[]).await.expect("founded");
    let mut times: Vec<Duration> = Vec::with_capacity(EVENTS);
    for n in 0..EVENTS {
        let food = FOODS[n / 2 % FOODS.len()];
        let text = match n % 2 {
            0 => format!("got {} {food}", n % 5 + 2),
            _ => format!("finished the {food}"),
        };
        let mut arrival =
            said(&chat, n + 1, &text, start().plus_minutes(n as i64 * MINUTES_BETWEEN));
        arrival.update = None;
        desk.clock().advance_to(arrival.at);
        let watch = Stopwatch::now();
        desk.arrive(&arrival).await.expect("handled");
        times.push(watch.elapsed());
    }
    // The first messages warm the program up.
    let first = median(&mut times[SAMPLE..SAMPLE * 2].to_vec());
    let last = median(&mut times[EVENTS - SAMPLE..].to_vec());
    let watch = Stopwatch::now();
    let loaded = {
        let mut tx = desk.store().begin().await.expect("begun");
        tx.load(&household).await.expect("loaded")
    };
    let read = watch.elapsed();
    let watch = Stopwatch::now();
    black_box(State::fold(&loaded.log));
    let folded = watch.elapsed();
    vec![
        Line {
            what: format!("last message of {} events over 5 years; the first", loaded.log.len()),
            ours: micros(last),
            peer: micros(first),
            ratio: Some(last.as_secs_f64() / first.as_secs_f64()),
            goal: "<= 1.2",
        },
        Line {
            what: "rebuild of its state; reading the rows".to_owned(),
            ours: millis(read + folded),
            peer: millis(read),
            ratio: Some((read + folded).as_secs_f64() / read.as_secs_f64()),
            goal: "<= 3",
        },
    ]
}
