//! Nothing told is lost or counted twice, whenever the program is stopped.
//!
//! The program is killed at random moments while people write, then allowed to finish. Every
//! message must have led to exactly one event, no message may be answered twice, and the stock must
//! be what was told. The moments come from a seed that is printed, so a failure can be repeated
//! closely, though never exactly: the machine's own timing is part of it.

use std::time::Duration;

use sqlx::Row;

use crate::support::messenger::{Messenger, Person, State};
use crate::support::process::{Signal, World};

/// Kills in all, shared among so many households side by side.
const KILLS: u32 = 200;
const HOUSEHOLDS: u32 = 4;
/// Polite stops in all.
const STOPS: u32 = 40;
/// Messages written between two stops.
const BURST: u64 = 3;
/// The longest a program lives before it is killed.
const LIFE_MAX_MS: u64 = 400;

const GROUP: i64 = -40;

/// A small generator of numbers that look random (xorshift64*).
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, limit: u64) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 32) % limit
    }
}

#[test]
fn no_message_is_lost_or_doubled_by_killing_the_program() {
    side_by_side(Signal::Kill, KILLS);
}

#[test]
fn no_message_is_lost_or_doubled_by_stopping_the_program() {
    side_by_side(Signal::Terminate, STOPS);
}

fn side_by_side(signal: Signal, stops: u32) {
    std::thread::scope(|scope| {
        for seed in 1..=HOUSEHOLDS {
            scope.spawn(move || ordeal(signal, stops / HOUSEHOLDS, u64::from(seed)));
        }
    });
}

/// One household through so many stops.
fn ordeal(signal: Signal, stops: u32, seed: u64) {
    println!("seed {seed}");
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let ann = Person::new(11, "Ann");
    let mut world = World::without_program(Messenger::start());
    world.messenger.group(GROUP, "Kitchen", &[&ann]);
    let mut told = Vec::new();
    for _ in 0..stops {
        for _ in 0..BURST {
            told.push(world.messenger.says(&ann, GROUP, "got 1 leek"));
        }
        let polls = polls(&world.messenger.lock());
        world.start();
        // Some die on the way up; a polite stop is one the program can hear.
        if signal != Signal::Kill || dice.below(5) > 0 {
            world
                .messenger
                .until("a first poll", |state| (self::polls(state) > polls).then_some(()));
        }
        let life = Duration::from_micros(dice.below(LIFE_MAX_MS * 1_000));
        world.messenger.linger(life, |_| false);
        let status = world.stop(signal);
        assert_eq!(status.success(), signal != Signal::Kill, "{signal:?} ended with {status}");
    }
    world.start();
    world.until_handled();
    world.stop(Signal::Terminate);

    let counts = events_of_each_message(&world);
    for message in &told {
        let events = counts.iter().find(|(external, _)| external == &message.to_string());
        assert_eq!(events.map(|(_, events)| *events), Some(1), "message {message}, seed {seed}");
    }
    let proof = world.run(&["rebuild"]);
    assert!(proof.status.success(), "the state does not follow from the log: {proof:?}");
    assert_answered_once(&world.messenger.lock(), &told);
    world.finish();
}

fn polls(state: &State) -> usize {
    state.requests_of("getUpdates").len()
}

/// How many events each message of a person led to.
fn events_of_each_message(world: &World) -> Vec<(String, i64)> {
    let rows = world.query(
        "SELECT m.external AS external, count(e.id) AS events FROM message m \
         LEFT JOIN event e ON e.household = m.household AND e.message = m.number \
         WHERE m.person IS NOT NULL GROUP BY m.household, m.number",
    );
    rows.iter().map(|row| (row.get("external"), row.get("events"))).collect()
}

fn assert_answered_once(state: &State, told: &[i64]) {
    for message in told {
        let answers =
            state.shown(GROUP).iter().filter(|shown| shown.reply_to == Some(*message)).count();
        assert!(answers <= 1, "message {message} was answered {answers} times");
    }
}
