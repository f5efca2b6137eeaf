//! The morning: many households due in the same minute, against how fast a messenger lets the
//! posts go out, and what looking for due work costs when little is due.

use std::sync::Arc;
use std::time::{Duration, Instant as Stopwatch};

use larderling::channel::{Channel, ChatKey};
use larderling::clock::Clock;
use larderling::conversation::Kit;
use larderling::desk::Desk;
use larderling::rounds;
use larderling::store::{Location, Store};

use super::message::{said, start};
use super::{Line, micros};

/// Households of the bench; the figure is per household, and the scan is shown at two sizes.
const HOUSEHOLDS: usize = 2_000;
const FEW: usize = 200;

/// Messages a second that a messenger takes from one program.
///
/// # Source
/// Telegram Bots FAQ: about 30 messages a second in all.
const SENT_A_SECOND: f64 = 30.0;

pub async fn lines() -> Vec<Line> {
    let folder = tempfile::tempdir().expect("a folder");
    let location = Location::File(folder.path().join("morning.db"));
    let store = Store::open(&location).await.expect("opened").store;
    let kit = Arc::new(Kit::embedded().expect("a kit without faults"));
    let desk = Desk::new(store, Clock::set(start()), kit, Vec::new());
    let mut few = Duration::ZERO;
    for n in 0..HOUSEHOLDS {
        let chat = ChatKey::new(Channel::Replay, format!("group-{n}"));
        desk.found(&chat, &[]).await.expect("founded");
        let mut arrival = said(&chat, 1, "got 500 g spinach, 3 leeks and 2 lb carrots", start());
        arrival.update = None;
        desk.arrive(&arrival).await.expect("handled");
        if n + 1 == FEW {
            few = scan(&desk).await;
        }
    }
    let many = scan(&desk).await;
    // Seven the next morning, everywhere in the default zone.
    desk.clock().advance_to(start().plus_minutes(21 * 60));
    let watch = Stopwatch::now();
    let worked = rounds::work_due(&desk).await.expect("worked");
    let took = watch.elapsed();
    let a_second = worked as f64 / took.as_secs_f64();
    vec![
        Line {
            what: format!("morning of {HOUSEHOLDS} households, jobs a second; sending limit"),
            ours: format!("{a_second:.0}/s"),
            peer: format!("{SENT_A_SECOND:.0}/s"),
            ratio: Some(a_second / SENT_A_SECOND),
            goal: ">= 100",
        },
        Line {
            what: format!("looking for due work, none due, {HOUSEHOLDS} households; {FEW}"),
            ours: micros(many),
            peer: micros(few),
            ratio: Some(many.as_secs_f64() / few.as_secs_f64()),
            goal: "flat",
        },
    ]
}

/// The time of one look when nothing is due.
async fn scan(desk: &Desk) -> Duration {
    const LOOKS: u32 = 200;
    let watch = Stopwatch::now();
    for _ in 0..LOOKS {
        let due = desk.store().due(desk.clock().now(), 100).await.expect("looked");
        assert!(due.is_empty(), "nothing is due yet");
    }
    watch.elapsed() / LOOKS
}
