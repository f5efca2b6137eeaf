//! The store's contract, every case on SQLite and on PostgreSQL, and what SQLite files can be.
//!
//! PostgreSQL is reached by `LARDERLING_TEST_POSTGRES` (`tests/setup.sh` provides it). Without it
//! the cases run on SQLite alone, except in continuous integration, where they fail.

mod copying;
mod files;
mod households;
mod outbox;
mod processes;
mod queues;

use std::sync::atomic::{AtomicU32, Ordering};

use larderling::channel::{Channel, ChatKey, Writer};
use larderling::dates::Instant;
use larderling::kitchen::{PersonId, State};
use larderling::store::{HouseholdId, Location, Store};

/// Runs one case on a fresh, empty store of each kind.
pub fn on_both(case: impl AsyncFn(Store)) {
    run(async {
        let sqlite = tempfile::tempdir().expect("a folder");
        let file = Location::File(sqlite.path().join("store.db"));
        case(Store::open(&file).await.expect("SQLite opens").store).await;
        if let Some(location) = fresh_postgres().await {
            case(Store::open(&location).await.expect("PostgreSQL opens").store).await;
        }
    });
}

pub fn run<T>(work: impl Future<Output = T>) -> T {
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build();
    runtime.expect("a runtime").block_on(work)
}

/// A database of its own in the test cluster.
pub async fn fresh_postgres() -> Option<Location> {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let Ok(url) = std::env::var("LARDERLING_TEST_POSTGRES") else {
        let in_ci = std::env::var("CI").is_ok_and(|ci| ci == "true");
        assert!(!in_ci, "LARDERLING_TEST_POSTGRES is not set; tests/setup.sh provides it");
        return None;
    };
    let number = NEXT.fetch_add(1, Ordering::SeqCst);
    let name = format!("larder_{}_{number}", std::process::id());
    let admin = sqlx::PgPool::connect(&url).await.expect("the test cluster answers");
    let create = format!("CREATE DATABASE {name}");
    sqlx::query(sqlx::AssertSqlSafe(create)).execute(&admin).await.expect("a new database");
    admin.close().await;
    let (base, _) = url.rsplit_once('/').expect("an address with a database");
    Some(Location::Postgres(format!("{base}/{name}")))
}

/// Noon of 2026-03-01 UTC, the moment the cases start from.
pub fn noon() -> Instant {
    Instant::from_seconds(1_772_366_400)
}

pub fn chat(name: &str) -> ChatKey {
    ChatKey::new(Channel::Telegram, name)
}

pub fn writer(name: &str) -> Writer {
    Writer { external: format!("id of {name}"), name: name.to_owned() }
}

/// A household with its home in the chat of this name.
pub async fn founded(store: &Store, home: &str) -> HouseholdId {
    let household = HouseholdId::new(noon());
    let mut tx = store.begin().await.expect("begins");
    tx.found(&household, &State::default(), &chat(home), noon()).await.expect("founds");
    tx.commit().await.expect("commits");
    household
}

/// A member of a household.
pub async fn member(store: &Store, household: &HouseholdId, name: &str) -> PersonId {
    let mut tx = store.begin().await.expect("begins");
    let person = tx.person(household, Channel::Telegram, &writer(name), noon()).await;
    let person = person.expect("writes a person");
    tx.commit().await.expect("commits");
    person
}
