//! The platform and the disk, as bad as they get.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard};

use larderling::channel::{Arrival, ChatKey};
use larderling::clock::Clock;
use larderling::conversation::Kind;
use larderling::dates::Instant;
use larderling::outbox::{Outcome, Sender};
use larderling::store::{Claimed, Errand, HouseholdId, Received};
use sqlx::SqliteConnection;

use crate::kill::Dice;

/// Updates handed over at a time at most.
const BATCH: usize = 20;

pub struct Platform(Mutex<Inside>, Clock);

struct Inside {
    dice: Dice,
    calm: bool,
    next_update: i64,
    /// Every update there ever was, by its number.
    updates: BTreeMap<i64, Arrival>,
    /// Not confirmed yet, in the order in which they will be handed over.
    waiting: Vec<i64>,
    /// What stands in each chat.
    shown: BTreeMap<ChatKey, Vec<Shown>>,
    /// When each post arrived, by household and parcel.
    posts: BTreeMap<(HouseholdId, u64), Instant>,
    next_message: u64,
    unsure: u64,
}

/// A message of the bot in a chat.
#[derive(Clone)]
pub struct Shown {
    pub external: String,
    pub text: String,
    pub keys: Vec<String>,
}

impl Platform {
    pub fn new(seed: u64, clock: Clock) -> Platform {
        let inside = Inside {
            dice: Dice(seed.wrapping_mul(0xD1B5_4A32_D192_ED03) | 1),
            calm: false,
            next_update: 1_000,
            updates: BTreeMap::new(),
            waiting: Vec::new(),
            shown: BTreeMap::new(),
            posts: BTreeMap::new(),
            next_message: 1,
            unsure: 0,
        };
        Platform(Mutex::new(inside), clock)
    }

    fn lock(&self) -> MutexGuard<'_, Inside> {
        self.0.lock().expect("no test thread panicked")
    }

    /// Takes something that happened in a chat, under a number that may jump either way. Now and
    /// then it comes a second time, under another number.
    pub fn accept(&self, arrival: Arrival) {
        let mut inside = self.lock();
        let copies = 1 + usize::from(inside.dice.below(10) == 0);
        for _ in 0..copies {
            let jump = match inside.dice.below(20) {
                0 => -500,
                1 => 100_000,
                _ => 1,
            };
            inside.next_update += jump;
            while inside.updates.contains_key(&inside.next_update) {
                inside.next_update += 1;
            }
            let number = inside.next_update;
            inside.updates.insert(number, arrival.clone());
            inside.waiting.push(number);
        }
    }

    /// What is handed over now: some of what waits, each chat's in order; what was not confirmed
    /// comes again.
    pub fn batch(&self) -> Vec<Received> {
        let mut inside = self.lock();
        let late = !inside.calm && inside.dice.below(6) == 0;
        let many = if late { 0 } else { BATCH };
        let numbers: Vec<i64> = inside.waiting.iter().copied().take(many).collect();
        let update = |number: &i64| Received {
            update_id: *number,
            chat: Some(inside.updates[number].chat.chat.clone()),
            raw: "{}".to_owned(),
        };
        numbers.iter().map(update).collect()
    }

    /// The batch is stored. The word of it may be lost on the way.
    pub fn confirm(&self, batch: &[Received]) {
        let mut inside = self.lock();
        if !inside.calm && inside.dice.below(8) == 0 {
            return;
        }
        inside.waiting.retain(|number| !batch.iter().any(|update| update.update_id == *number));
    }

    pub fn arrival(&self, number: i64) -> Arrival {
        self.lock().updates[&number].clone()
    }

    pub fn unconfirmed(&self) -> usize {
        self.lock().waiting.len()
    }

    pub fn calm(&self) {
        self.lock().calm = true;
    }

    pub fn unsure(&self) -> u64 {
        self.lock().unsure
    }

    pub fn shown(&self, chat: &ChatKey) -> Vec<Shown> {
        self.lock().shown.get(chat).cloned().unwrap_or_default()
    }

    /// When each post to a household arrived.
    pub fn posts(&self, household: &HouseholdId) -> Vec<Instant> {
        let inside = self.lock();
        let ours = inside.posts.iter().filter(|((of, _), _)| of == household);
        ours.map(|(_, at)| *at).collect()
    }

    /// Everything said so far, by chat. Forgets all but the last messages.
    pub fn said(&self) -> Vec<(ChatKey, String)> {
        let mut inside = self.lock();
        let mut said = Vec::new();
        for (chat, shown) in &mut inside.shown {
            said.extend(shown.iter().map(|shown| (chat.clone(), shown.text.clone())));
            let old = shown.len().saturating_sub(10);
            shown.drain(..old);
        }
        said
    }

    fn show(&self, inside: &mut Inside, claimed: &Claimed) -> String {
        let external = format!("bot {}", inside.next_message);
        inside.next_message += 1;
        let (Errand::Say(outgoing), Some(chat)) = (&claimed.errand, &claimed.chat) else {
            return external;
        };
        if outgoing.kind == Kind::Post {
            let post = (claimed.household.clone(), claimed.number);
            let before = inside.posts.insert(post, self.1.now());
            assert!(before.is_none(), "a post was sent twice");
        }
        let shown = Shown {
            external: external.clone(),
            text: outgoing.text.to_plain(),
            keys: outgoing.buttons.iter().map(|button| button.key.clone()).collect(),
        };
        inside.shown.entry(chat.clone()).or_default().push(shown);
        external
    }
}

/// The way out.
pub struct Courier(pub Arc<Platform>);

impl Sender for Courier {
    async fn send(&self, claimed: &Claimed) -> Outcome {
        let platform = &self.0;
        let mut inside = platform.lock();
        let why = || "simulated".to_owned();
        let luck = if inside.calm { 99 } else { inside.dice.below(30) };
        match luck {
            0 => Outcome::RetryAfter { seconds: 1 + inside.dice.below(90) },
            1 => Outcome::Failed { why: why() },
            // The answer was lost: the message stands there, or does not.
            2 => {
                inside.unsure += 1;
                platform.show(&mut inside, claimed);
                Outcome::Unsure { why: why() }
            }
            3 => {
                inside.unsure += 1;
                Outcome::Unsure { why: why() }
            }
            4 => Outcome::Refused { why: why() },
            _ => Outcome::Sent { external: Some(platform.show(&mut inside, claimed)) },
        }
    }
}

/// Tables whose writes can be made to fail.
const FALLIBLE: [(&str, &str); 9] = [
    ("inbox", "INSERT"),
    ("inbox", "UPDATE"),
    ("household", "UPDATE"),
    ("person", "INSERT"),
    ("message", "INSERT"),
    ("event", "INSERT"),
    ("due", "INSERT"),
    ("due", "UPDATE"),
    ("outbox", "INSERT"),
];

/// Writes count down what the table `fault` holds; at zero they fail, and go on failing.
pub async fn make_fallible(disk: &mut SqliteConnection) {
    let mut script =
        String::from("CREATE TABLE fault (left INTEGER); INSERT INTO fault VALUES (-1);");
    for (table, operation) in FALLIBLE.iter().chain(&[("outbox", "UPDATE")]) {
        script.push_str(&format!(
            "CREATE TRIGGER fault_{table}_{operation} BEFORE {operation} ON {table} \
             WHEN (SELECT left FROM fault) >= 0 BEGIN \
             SELECT CASE WHEN (SELECT left FROM fault) = 0 \
             THEN RAISE(ABORT, 'simulated disk error') END; \
             UPDATE fault SET left = left - 1; END;"
        ));
    }
    sqlx::raw_sql(sqlx::AssertSqlSafe(script)).execute(disk).await.expect("runs");
}

/// The disk fails at the write after so many others, until it is mended.
pub async fn break_disk(disk: &mut SqliteConnection, after: i64) {
    sqlx::query("UPDATE fault SET left = $1").bind(after).execute(disk).await.expect("runs");
}

pub async fn mend_disk(disk: &mut SqliteConnection) {
    sqlx::query("UPDATE fault SET left = -1").execute(disk).await.expect("runs");
}
