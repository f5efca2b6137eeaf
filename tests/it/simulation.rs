//! Whole years of kitchens on a clock that jumps, with a platform and a disk that misbehave.
//!
//! The real desk, core, store, rounds and outbox run against a simulated platform (updates doubled,
//! late, in any order of their numbers; sendings refused, delayed, or answered too late to know) and
//! a disk that fails at a chosen write, once or until the program is started again. The program is
//! stopped between any two steps. Everything follows from a seed that a failure prints.
//!
//! A test run tries a few seeds; `LARDERLING_SIMULATION=SEEDS,DAYS` tries more (DEVELOPERS.md).

mod kitchens;
mod platform;

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::{Arc, LazyLock};

use chrono::Timelike;
use larderling::channel::{Arrived, Channel, ChatKey};
use larderling::clock::Clock;
use larderling::conversation::{Job, Kit};
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::desk::{Desk, Fate};
use larderling::kitchen::{State, What};
use larderling::ledger;
use larderling::outbox::{Limits, Outbox};
use larderling::rounds;
use larderling::store::{HouseholdId, Leases, Store};
use sqlx::{Connection, SqliteConnection};

use crate::kill::Dice;
use crate::store::run;
use kitchens::Kitchen;
use platform::{Courier, Platform};

static KIT: LazyLock<Arc<Kit>> =
    LazyLock::new(|| Arc::new(Kit::embedded().expect("the bundled data is sound")));

const SEEDS: u64 = 6;
const DAYS: i64 = 21;
const HOUSEHOLDS: usize = 2;
/// The longest jump of the clock, in minutes.
const JUMP_MAX_MIN: u64 = 300;

/// What happened, to see that a run tried what it claims.
#[derive(Debug, Default)]
struct Tally {
    messages: u64,
    presses: u64,
    faults: u64,
    restarts: u64,
    moves: u64,
    posts: u64,
    mornings: u64,
    unsure: u64,
}

#[test]
fn kitchens_keep_their_promises_through_faults_restarts_and_clock_changes() {
    let asked = std::env::var("LARDERLING_SIMULATION").ok();
    let (seeds, days) = match asked.as_deref().and_then(|asked| asked.split_once(',')) {
        Some((seeds, days)) => (seeds.parse().expect("seeds"), days.parse().expect("days")),
        None => (SEEDS, DAYS),
    };
    let mut total = Tally::default();
    for seed in 1..=seeds {
        println!("seed {seed}");
        run(async { Simulation::new(seed).await.live(days, &mut total).await });
    }
    println!("{total:?}");
    assert!(total.messages > 0 && total.faults > 0 && total.restarts > 0, "{total:?}");
    assert!(total.moves > 0 && total.unsure > 0 && total.presses > 0, "{total:?}");
    assert!(total.mornings > 0 && total.posts > 0, "{total:?}");
}

struct Simulation {
    dice: Dice,
    clock: Clock,
    store: Store,
    disk: SqliteConnection,
    desk: Desk,
    outbox: Outbox<Courier>,
    platform: Arc<Platform>,
    kitchens: Vec<Kitchen>,
    restarts: u64,
    _folder: tempfile::TempDir,
}

impl Simulation {
    async fn new(seed: u64) -> Simulation {
        let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        let folder = tempfile::tempdir().expect("a folder");
        let path: PathBuf = folder.path().join("larder.db");
        let store = Store::open_scratch(&path).await.expect("opens");
        let url = format!("sqlite://{}", path.display());
        let mut disk = SqliteConnection::connect(&url).await.expect("connects");
        platform::make_fallible(&mut disk).await;
        let year = 2020 + dice.below(18);
        let start = 1_577_836_800 + i64::try_from(year - 2020).unwrap() * 31_557_600;
        let day = i64::try_from(dice.below(365)).unwrap();
        let clock = Clock::set(Instant::from_seconds(start + day * 86_400));
        let platform = Arc::new(Platform::new(seed, clock.clone()));
        let desk = Desk::new(store.clone(), clock.clone(), Arc::clone(&KIT), Vec::new());
        let outbox = outbox(&store, &clock, &platform, &desk);
        let mut kitchens = Vec::new();
        for number in 0..HOUSEHOLDS {
            let zone = any_zone(&mut dice);
            let home = ChatKey::new(Channel::Telegram, format!("-{number}"));
            let tz = [("tz".to_owned(), zone.name().to_owned())];
            let household = desk.found(&home, &tz).await.expect("founds");
            kitchens.push(Kitchen::new(number, household, home, zone, clock.now()));
        }
        Simulation {
            dice,
            clock,
            store,
            disk,
            desk,
            outbox,
            platform,
            kitchens,
            restarts: 0,
            _folder: folder,
        }
    }

    async fn live(mut self, days: i64, total: &mut Tally) {
        let end = self.clock.now().plus_minutes(days * 24 * 60);
        while self.clock.now() < end {
            let jump = i64::try_from(1 + self.dice.below(JUMP_MAX_MIN)).unwrap();
            self.pass(jump).await;
            let fault = self.dice.below(12) == 0;
            if fault {
                let after = i64::try_from(1 + self.dice.below(25)).unwrap();
                platform::break_disk(&mut self.disk, after).await;
                total.faults += 1;
            }
            self.something_happens(total).await;
            let forever = fault && self.dice.below(2) == 0;
            if !self.work().await && !forever {
                platform::mend_disk(&mut self.disk).await;
                self.work().await;
            }
            if forever || self.dice.below(15) == 0 {
                platform::mend_disk(&mut self.disk).await;
                self.restart().await;
                self.work().await;
            }
            platform::mend_disk(&mut self.disk).await;
            self.check(total).await;
        }
        // The platform calms down, and everything that was told arrives.
        self.platform.calm();
        self.restart().await;
        for _ in 0..3 {
            assert!(self.work().await, "a sound disk");
            self.clock.advance_to(self.clock.now().plus_minutes(2));
        }
        self.check(total).await;
        self.check_nothing_lost().await;
        total.restarts += self.restarts;
        total.unsure += self.platform.unsure();
        for kitchen in &self.kitchens {
            total.posts += self.platform.posts(&kitchen.household).len() as u64;
        }
    }

    /// Time passes, and no morning is skipped: the program looks at its clock as often as in life.
    async fn pass(&mut self, minutes: i64) {
        let end = self.clock.now().plus_minutes(minutes);
        while self.clock.now() < end {
            let step = self.clock.now().plus_minutes(30);
            self.clock.advance_to(step.min(end));
            self.work().await;
        }
    }

    async fn something_happens(&mut self, total: &mut Tally) {
        let at = self.clock.now();
        let kitchen = usize::try_from(self.dice.below(HOUSEHOLDS as u64)).unwrap();
        let shown = self.platform.shown(&self.kitchens[kitchen].home);
        let arrivals = self.kitchens[kitchen].next(&mut self.dice, at, &shown);
        for arrival in arrivals {
            match &arrival.what {
                Arrived::Said { .. } | Arrived::Edited { .. } => total.messages += 1,
                Arrived::Pressed { .. } => total.presses += 1,
                Arrived::Moved { .. } => total.moves += 1,
                _ => {}
            }
            self.platform.accept(arrival);
        }
    }

    /// What the running program does by itself; `false` when the disk stopped it.
    async fn work(&mut self) -> bool {
        let mut sound = true;
        let batch = self.platform.batch();
        if !batch.is_empty() {
            let stored = self.store.receive(Channel::Telegram, &batch, self.clock.now()).await;
            match stored {
                Ok(_) => self.platform.confirm(&batch),
                Err(_) => sound = false,
            }
        }
        if let Ok(waiting) = self.store.waiting(Channel::Telegram, 1_000).await {
            for update in waiting {
                let mut arrival = self.platform.arrival(update.update_id);
                arrival.update = Some(update.update_id);
                match self.desk.arrive(&arrival).await {
                    Ok(handled) => {
                        assert_ne!(handled.fate, Fate::NotSaved, "a defect: {arrival:?}");
                    }
                    Err(_) => {
                        sound = false;
                        // The rest of its chat waits with it.
                        break;
                    }
                }
            }
        }
        sound &= rounds::work_due(&self.desk).await.is_ok();
        sound &= self.outbox.drain().await.is_ok();
        sound
    }

    async fn restart(&mut self) {
        let (store, clock) = (self.store.clone(), self.clock.clone());
        self.desk = Desk::new(store, clock, Arc::clone(&KIT), Vec::new());
        self.outbox = outbox(&self.store, &self.clock, &self.platform, &self.desk);
        let settled = self.store.settle_abandoned(self.clock.now(), Leases::All).await;
        settled.expect("the disk was mended");
        self.restarts += 1;
    }

    /// What holds after every step.
    async fn check(&mut self, total: &mut Tally) {
        let now = self.clock.now();
        for number in 0..self.kitchens.len() {
            let household = self.kitchens[number].household.clone();
            let (state, log) = self.loaded(&household).await;
            assert_eq!(State::fold(&log), state, "the fold is the state");
            assert_eq!(ledger::imbalances(&state), [], "every gram is accounted for");
            let ids: Vec<u64> = log.iter().map(|event| event.id.0).collect();
            assert!(ids.iter().copied().eq(1..=state.last_event), "a gap in the log");
            self.kitchens[number].check_limits(&KIT.rules, &state, &log, now);
            total.mornings += self.check_morning(number).await;
            let zone = self.kitchens[number].zone;
            let posts = self.platform.posts(&household);
            let days: BTreeSet<KitchenDay> = posts.iter().map(|at| at.day(zone)).collect();
            assert_eq!(days.len(), posts.len(), "two posts on one day in {}", zone.name());
        }
        for (chat, text) in self.platform.said() {
            for kitchen in &self.kitchens {
                let ours = kitchen.chats.contains(&chat);
                let theirs = text.contains(kitchen.own_word());
                assert!(ours || !theirs, "{:?} crossed into {chat:?}: {text}", kitchen.own_word());
            }
        }
    }

    /// 1 when the morning is over and its post was worked, whatever there was to say.
    async fn check_morning(&mut self, number: usize) -> u64 {
        let kitchen = &self.kitchens[number];
        let (day, time) = self.clock.now().local(kitchen.zone);
        if day <= kitchen.founded || time.hour() < 8 || time.hour() > 17 {
            return 0;
        }
        let states: Vec<String> = sqlx::query_scalar(
            "SELECT state FROM due WHERE household = $1 AND job = $2 AND day = $3",
        )
        .bind(kitchen.household.as_str())
        .bind(Job::MorningPost.word())
        .bind(day.to_string())
        .fetch_all(&mut self.disk)
        .await
        .unwrap();
        assert_eq!(states, ["done"], "the morning of {day} at {time} in {}", kitchen.zone.name());
        1
    }

    async fn loaded(&self, household: &HouseholdId) -> (State, Vec<larderling::kitchen::Event>) {
        let mut tx = self.store.begin().await.expect("begins");
        let loaded = tx.load(household).await.expect("loads");
        (loaded.state, loaded.log)
    }

    /// At the end: each message was handled once, and each purchase counted once.
    async fn check_nothing_lost(&mut self) {
        assert_eq!(self.store.waiting_count().await.unwrap(), 0);
        assert_eq!(self.platform.unconfirmed(), 0);
        for kitchen in &self.kitchens {
            let messages = self.store.messages(&kitchen.household).await.unwrap();
            let (_, log) = self.loaded(&kitchen.household).await;
            for told in &kitchen.bought {
                let external = told.external.as_str();
                let ours = messages.iter().filter(|row| row.words.as_deref() == Some(&told.words));
                let numbers: Vec<_> = ours.map(|row| row.number).collect();
                assert_eq!(numbers.len(), 1, "{external} {:?} was kept once", told.words);
                let events = log.iter().filter(|event| {
                    event.message == Some(numbers[0]) && matches!(event.what, What::Acquired { .. })
                });
                assert_eq!(events.count(), 1, "{external} {:?} was counted once", told.words);
            }
        }
    }
}

fn outbox(store: &Store, clock: &Clock, platform: &Arc<Platform>, desk: &Desk) -> Outbox<Courier> {
    let courier = Courier(Arc::clone(platform));
    Outbox::new(store.clone(), clock.clone(), courier, Limits::NONE, desk.sender_wake())
}

/// Any zone of the database, those without clock changes included.
fn any_zone(dice: &mut Dice) -> Zone {
    let zones = chrono_tz::TZ_VARIANTS;
    let place = usize::try_from(dice.below(zones.len() as u64)).unwrap();
    zones[place].name().parse().expect("a zone")
}
