//! One message: read alone, and from the stored update to the queued reply against a bare sqlx
//! transaction that writes the same rows.

use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant as Stopwatch};

use larderling::channel::{Arrival, Arrived, Channel, ChatKey, Context, Spoken, Writer};
use larderling::clock::Clock;
use larderling::conversation::Kit;
use larderling::dates::Instant;
use larderling::desk::Desk;
use larderling::reader::ReadContext;
use larderling::store::{HouseholdId, Location, Received, Store};
use sqlx::AnyPool;
use sqlx::{Connection, Row};

use super::{Line, median, micros, timed};

/// Messages in one round; ours and the peer's rounds alternate, so that both meet the same noise.
const ROUND: usize = 150;
const ROUNDS: usize = 6;
/// Households that write side by side on PostgreSQL.
const SIDE_BY_SIDE: usize = 8;

/// What a kitchen chat says, over and over; what comes in is used again.
const TALK: &[&str] = &[
    "got 3 lb carrots, 2 fennel and a bunch of mint 6.40",
    "used 2 carrots and a fennel",
    "finished the carrots",
    "tossed the mint, slimy",
    "got 500 g spinach and 3 leeks",
    "see you at six, traffic is awful",
    "used 250 g spinach",
    "finished the spinach and the leeks",
    "what's first?",
    "used the last fennel",
];

pub fn start() -> Instant {
    // 2026-03-02 10:00 UTC.
    Instant::from_seconds(1_772_445_600)
}

/// What a text says when it reaches the household's chat.
pub fn said(chat: &ChatKey, number: usize, text: &str, at: Instant) -> Arrival {
    Arrival {
        chat: chat.clone(),
        update: Some(number as i64),
        at,
        what: Arrived::Said {
            from: Writer { external: "ann".to_owned(), name: "Ann".to_owned() },
            message: Spoken {
                external: Some(number.to_string()),
                text: text.to_owned(),
                reply_to: None,
                private: false,
                addressed: text.ends_with('?'),
            },
        },
        context: Context::default(),
    }
}

/// The reader alone.
pub fn reading() -> Line {
    let kit = Kit::embedded().expect("a kit without faults");
    let context = ReadContext::new(start().day(larderling::dates::Zone::UTC));
    let mut times = Vec::new();
    for _ in 0..200 {
        for text in TALK {
            times.push(timed(|| black_box(kit.reader.read(text, &context))).1);
        }
    }
    Line {
        what: "read one message, median".to_owned(),
        ours: micros(median(&mut times)),
        peer: "-".to_owned(),
        ratio: None,
        goal: "<= 15 µs",
    }
}

/// A program with one household on a store.
struct Ours {
    desk: Desk,
    chat: ChatKey,
    household: HouseholdId,
    sent: usize,
}

impl Ours {
    async fn new(store: Store, kit: &Arc<Kit>, name: &str) -> Ours {
        let clock = Clock::set(start());
        let desk = Desk::new(store, clock, Arc::clone(kit), Vec::new());
        let chat = ChatKey::new(Channel::Telegram, name);
        let household = desk.found(&chat, &[]).await.expect("founded");
        Ours { desk, chat, household, sent: 0 }
    }

    /// Stores the updates of a round, then handles them; the time is that of the handling.
    async fn round(&mut self, base: usize) -> Duration {
        let arrivals: Vec<Arrival> = (0..ROUND)
            .map(|n| {
                let number = base + self.sent + n + 1;
                let at = start().plus_minutes((self.sent + n) as i64 * 3);
                said(&self.chat, number, TALK[n % TALK.len()], at)
            })
            .collect();
        let updates: Vec<Received> = arrivals
            .iter()
            .map(|arrival| Received {
                update_id: arrival.update.unwrap_or_default(),
                chat: Some(self.chat.chat.clone()),
                raw: format!("{:?}", arrival.what),
            })
            .collect();
        let now = self.desk.clock().now();
        self.desk.store().receive(Channel::Telegram, &updates, now).await.expect("stored");
        let watch = Stopwatch::now();
        for arrival in &arrivals {
            self.desk.clock().advance_to(arrival.at);
            self.desk.arrive(arrival).await.expect("handled");
        }
        self.sent += ROUND;
        watch.elapsed()
    }
}

/// Number, the channel's id, person, instant, words.
type MessageRow = (i64, Option<String>, Option<i64>, i64, Option<String>);

/// The rows one round has written, for the peer to write again.
struct Rows {
    state: String,
    memory: String,
    events: Vec<(i64, i64, String, i64, String)>,
    messages: Vec<MessageRow>,
    parcels: Vec<(i64, String, String, i64)>,
}

async fn rows_of(pool: &AnyPool, household: &str, after: (i64, i64, i64)) -> Rows {
    let row = sqlx::query("SELECT state, memory FROM household WHERE id = $1")
        .bind(household)
        .fetch_one(pool)
        .await
        .expect("read");
    let events = sqlx::query(
        "SELECT id, at, day, message, payload FROM event WHERE household = $1 AND id > $2 ORDER BY id",
    )
    .bind(household)
    .bind(after.0)
    .fetch_all(pool)
    .await
    .expect("read");
    let messages = sqlx::query(
        "SELECT number, external, person, at, words FROM message \
         WHERE household = $1 AND number > $2 ORDER BY number",
    )
    .bind(household)
    .bind(after.1)
    .fetch_all(pool)
    .await
    .expect("read");
    let parcels = sqlx::query(
        "SELECT number, kind, payload, queued_at FROM outbox \
         WHERE household = $1 AND number > $2 ORDER BY number",
    )
    .bind(household)
    .bind(after.2)
    .fetch_all(pool)
    .await
    .expect("read");
    Rows {
        state: row.get(0),
        memory: row.get(1),
        events: events.iter().map(|r| (r.get(0), r.get(1), r.get(2), r.get(3), r.get(4))).collect(),
        messages: messages
            .iter()
            .map(|r| (r.get(0), r.get(1), r.get(2), r.get(3), r.get(4)))
            .collect(),
        parcels: parcels.iter().map(|r| (r.get(0), r.get(1), r.get(2), r.get(3))).collect(),
    }
}

/// Writes the rows of a round, a transaction a message, and nothing else.
async fn bare_round(pool: &AnyPool, begin: &'static str, household: &str, rows: &Rows) -> Duration {
    let mut connection = pool.acquire().await.expect("a connection");
    let share = |len: usize, n: usize| len * n / ROUND..len * (n + 1) / ROUND;
    let watch = Stopwatch::now();
    for n in 0..ROUND {
        let mut tx = connection.begin_with(begin).await.expect("begun");
        for (id, at, day, message, payload) in &rows.events[share(rows.events.len(), n)] {
            sqlx::query(
                "INSERT INTO event (household, id, person, at, day, message, replaces, payload) \
                 VALUES ($1, $2, 1, $3, $4, $5, NULL, $6)",
            )
            .bind(household)
            .bind(*id)
            .bind(*at)
            .bind(day.as_str())
            .bind(*message)
            .bind(payload.as_str())
            .execute(&mut *tx)
            .await
            .expect("written");
        }
        for (number, external, person, at, words) in &rows.messages[share(rows.messages.len(), n)] {
            sqlx::query(
                "INSERT INTO message (household, number, channel, chat, topic, external, person, \
                 at, words) VALUES ($1, $2, 'telegram', 'bare', '', $3, $4, $5, $6)",
            )
            .bind(household)
            .bind(*number)
            .bind(external.as_deref())
            .bind(*person)
            .bind(*at)
            .bind(words.as_deref())
            .execute(&mut *tx)
            .await
            .expect("written");
        }
        for (number, kind, payload, at) in &rows.parcels[share(rows.parcels.len(), n)] {
            sqlx::query(
                "INSERT INTO outbox (household, number, target, kind, repeatable, payload, message, \
                 state, tries, queued_at, not_before, expires_at) \
                 VALUES ($1, $2, 'home', $3, 0, $4, $2, 'queued', 0, $5, $5, $5)",
            )
            .bind(household)
            .bind(*number)
            .bind(kind.as_str())
            .bind(payload.as_str())
            .bind(*at)
            .execute(&mut *tx)
            .await
            .expect("written");
        }
        sqlx::query(
            "UPDATE household SET state = $2, memory = $3, version = version + 1 WHERE id = $1",
        )
        .bind(household)
        .bind(rows.state.as_str())
        .bind(rows.memory.as_str())
        .execute(&mut *tx)
        .await
        .expect("written");
        sqlx::query(
            "UPDATE inbox SET raw = NULL, state = 'done' WHERE channel = $1 AND update_id = $2",
        )
        .bind("telegram")
        .bind(n as i64)
        .execute(&mut *tx)
        .await
        .expect("written");
        tx.commit().await.expect("committed");
    }
    watch.elapsed()
}

/// The peer's household, alone in a database of the same schema and settings.
async fn bare_household(pool: &AnyPool, household: &str) {
    sqlx::query(
        "INSERT INTO household (id, founded_at, state, memory, last_event, last_message, \
         last_parcel, version) VALUES ($1, 0, '{}', '{}', 0, 0, 0, 0)",
    )
    .bind(household)
    .execute(pool)
    .await
    .expect("written");
}

async fn bare_updates(pool: &AnyPool) {
    sqlx::query("DELETE FROM inbox").execute(pool).await.expect("emptied");
    let mut tx = pool.begin().await.expect("begun");
    for n in 0..ROUND {
        sqlx::query(
            "INSERT INTO inbox (channel, update_id, chat, raw, received_at, state) \
             VALUES ('telegram', $1, 'bare', $2, 0, 'waiting')",
        )
        .bind(n as i64)
        .bind("x".repeat(200))
        .execute(&mut *tx)
        .await
        .expect("written");
    }
    tx.commit().await.expect("committed");
}

fn row(what: String, ours: Duration, bare: Duration, goal: &'static str) -> Line {
    let each = |time: Duration| time / (ROUND * ROUNDS) as u32;
    Line {
        what,
        ours: micros(each(ours)),
        peer: micros(each(bare)),
        ratio: Some(bare.as_secs_f64() / ours.as_secs_f64()),
        goal,
    }
}

async fn open(path: &Path) -> Store {
    Store::open(&Location::File(path.to_owned())).await.expect("opened").store
}

/// One household on an SQLite file at full durability.
pub async fn sqlite() -> Vec<Line> {
    sqlx::any::install_default_drivers();
    let folder = tempfile::tempdir().expect("a folder");
    let (ours_file, bare_file) = (folder.path().join("ours.db"), folder.path().join("bare.db"));
    let kit = Arc::new(Kit::embedded().expect("a kit without faults"));
    let mut ours = Ours::new(open(&ours_file).await, &kit, "-1").await;
    // The schema and settings of the program's own making, then nobody but the peer in it.
    open(&bare_file).await.close().await;
    let pool = |path: &Path| format!("sqlite://{}", path.display());
    let settings = |pool: sqlx::any::AnyPoolOptions| {
        pool.max_connections(1).after_connect(|connection, _| {
            Box::pin(async move {
                sqlx::query("PRAGMA synchronous = FULL").execute(&mut *connection).await?;
                sqlx::query("PRAGMA foreign_keys = ON").execute(&mut *connection).await?;
                Ok(())
            })
        })
    };
    let reading = AnyPool::connect(&pool(&ours_file)).await.expect("opened");
    let bare = settings(sqlx::any::AnyPoolOptions::new())
        .connect(&pool(&bare_file))
        .await
        .expect("opened");
    bare_household(&bare, "bare").await;
    ours.round(0).await;
    let (mut our_time, mut bare_time) = (Duration::ZERO, Duration::ZERO);
    for _ in 0..ROUNDS {
        let after = counts(&reading, ours.household.as_str()).await;
        our_time += ours.round(0).await;
        let rows = rows_of(&reading, ours.household.as_str(), after).await;
        bare_updates(&bare).await;
        bare_time += bare_round(&bare, "BEGIN IMMEDIATE", "bare", &rows).await;
    }
    let what = "whole message, SQLite, synchronous FULL; bare sqlx";
    vec![row(what.to_owned(), our_time, bare_time, ">= 0.8")]
}

async fn counts(pool: &AnyPool, household: &str) -> (i64, i64, i64) {
    let row =
        sqlx::query("SELECT last_event, last_message, last_parcel FROM household WHERE id = $1")
            .bind(household)
            .fetch_one(pool)
            .await
            .expect("read");
    (row.get(0), row.get(1), row.get(2))
}

/// The same on PostgreSQL, households side by side; nothing without a server to ask.
pub async fn postgres() -> Vec<Line> {
    let Ok(server) = std::env::var("LARDERLING_TEST_POSTGRES") else { return Vec::new() };
    sqlx::any::install_default_drivers();
    let admin = AnyPool::connect(&server).await.expect("a server");
    let at = format!("{}_{}", std::process::id(), start().seconds());
    let mut stores = Vec::new();
    for name in ["ours", "bare"] {
        let name = format!("bench_{name}_{at}");
        let create = format!("CREATE DATABASE {name}");
        sqlx::raw_sql(sqlx::AssertSqlSafe(create)).execute(&admin).await.expect("created");
        let url =
            server.rsplit_once('/').map_or(String::new(), |(base, _)| format!("{base}/{name}"));
        let location = Location::parse(&url).expect("an address");
        stores.push((name, url, Store::open(&location).await.expect("opened").store));
    }
    let kit = Arc::new(Kit::embedded().expect("a kit without faults"));
    let pool = |url: &str| {
        let url = url.to_owned();
        async move {
            sqlx::any::AnyPoolOptions::new()
                .max_connections(SIDE_BY_SIDE as u32)
                .connect(&url)
                .await
                .expect("opened")
        }
    };
    let (reading, bare) = (pool(&stores[0].1).await, pool(&stores[1].1).await);
    let mut ours = Vec::new();
    for n in 0..SIDE_BY_SIDE {
        ours.push(Ours::new(stores[0].2.clone(), &kit, &format!("-{}", n + 1)).await);
        bare_household(&bare, &format!("bare-{n}")).await;
    }
    let (mut our_time, mut bare_time) = (Duration::ZERO, Duration::ZERO);
    for number in 0..=ROUNDS {
        let mut after = Vec::new();
        for each in &ours {
            after.push(counts(&reading, each.household.as_str()).await);
        }
        let watch = Stopwatch::now();
        let mut running = tokio::task::JoinSet::new();
        for (n, mut each) in ours.drain(..).enumerate() {
            running.spawn(async move {
                each.round(n * 1_000_000).await;
                (n, each)
            });
        }
        let mut done: Vec<(usize, Ours)> = running.join_all().await;
        let round = watch.elapsed();
        done.sort_by_key(|(n, _)| *n);
        ours = done.into_iter().map(|(_, each)| each).collect();
        let mut written = Vec::new();
        for (each, after) in ours.iter().zip(after) {
            written.push(rows_of(&reading, each.household.as_str(), after).await);
        }
        bare_updates(&bare).await;
        let watch = Stopwatch::now();
        let mut running = tokio::task::JoinSet::new();
        for (n, rows) in written.into_iter().enumerate() {
            let bare = bare.clone();
            running.spawn(
                async move { bare_round(&bare, "BEGIN", &format!("bare-{n}"), &rows).await },
            );
        }
        running.join_all().await;
        // The first round warms both up.
        if number > 0 {
            our_time += round;
            bare_time += watch.elapsed();
        }
    }
    for (name, _, store) in stores {
        store.close().await;
        let drop = format!("DROP DATABASE {name} WITH (FORCE)");
        let _ = sqlx::raw_sql(sqlx::AssertSqlSafe(drop)).execute(&admin).await;
    }
    let what = "whole message, PostgreSQL, 8 households side by side; bare sqlx";
    vec![row(
        what.to_owned(),
        our_time / SIDE_BY_SIDE as u32,
        bare_time / SIDE_BY_SIDE as u32,
        ">= 0.6",
    )]
}
