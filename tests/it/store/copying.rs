//! A whole database copied into another one, of the same and of the other kind.

use larderling::channel::{Channel, Writer};
use larderling::conversation::{Job, Kind, MessageId, Outgoing};
use larderling::dates::{KitchenDay, Zone};
use larderling::kitchen::{Event, EventId, PersonId, What};
use larderling::store::{
    DueRow, Errand, Location, NewMessage, Queued, Received, Store, StoreError,
};
use sqlx::Connection;

use super::{chat, founded, fresh_postgres, noon, run};

/// A store with at least one row in every table, empty and filled columns, and words of any kind.
async fn filled(location: &Location) -> Store {
    let store = Store::open(location).await.unwrap().store;
    store.set_fact("alive_at", 7).await.unwrap();
    let raw = "{\"text\": \"40 \u{20ac} of p\u{e9}ches \u{1f351} \u{5d0}\"}";
    let received = [
        Received { update_id: i64::MAX, chat: None, raw: raw.to_owned() },
        Received { update_id: -1, chat: Some("home".to_owned()), raw: String::new() },
    ];
    store.receive(Channel::Telegram, &received, noon()).await.unwrap();
    for name in ["home", "other"] {
        let house = founded(&store, name).await;
        let mut tx = store.begin().await.unwrap();
        let ada = Writer { external: "7".to_owned(), name: "Ada \u{0} ' \\".to_owned() };
        let ada = tx.person(&house, Channel::Telegram, &ada, noon()).await.unwrap();
        let message = NewMessage {
            number: MessageId(1),
            chat: &chat(name),
            external: Some("7"),
            person: Some(ada),
            at: noon(),
            words: Some("got 3 leeks\u{0}"),
        };
        tx.write_message(&house, &message).await.unwrap();
        let event = Event {
            id: EventId(1),
            person: Some(PersonId(1)),
            at: noon(),
            day: KitchenDay::new(2026, 2, 28).unwrap(),
            message: None,
            replaces: None,
            what: What::SettingChanged { key: "post".to_owned(), value: "07:30".to_owned() },
        };
        tx.append(&house, &[event]).await.unwrap();
        let day = KitchenDay::new(2026, 3, 2).unwrap();
        let due = DueRow { household: house.clone(), job: Job::MorningPost, day, due_at: noon() };
        tx.plan_due(&due, "0 7 * * *", Zone::UTC).await.unwrap();
        let outgoing = Outgoing {
            message: MessageId(2),
            kind: Kind::Reply,
            answers: None,
            to: None,
            text: Default::default(),
            buttons: Vec::new(),
            picture: None,
            loud: false,
        };
        let parcel = Queued { to: None, errand: Errand::Say(outgoing), expires_at: noon() };
        tx.queue(&house, 1, &parcel, noon()).await.unwrap();
        tx.add_invite(&house, &format!("token of {name}"), ada, noon()).await.unwrap();
        tx.turn_private_chat(&house, &chat(&format!("{name} alone")), ada).await.unwrap();
        tx.keep_undecided(&chat(&format!("{name} alone")), "{}", noon()).await.unwrap();
        tx.commit().await.unwrap();
    }
    // A move to a place that was taken leaves a stray.
    let home = store.household_of_chat(&chat("home")).await.unwrap().unwrap();
    let mut tx = store.begin().await.unwrap();
    tx.move_home(&home, &chat("other")).await.unwrap();
    tx.commit().await.unwrap();
    store
}

async fn empty_ones(folder: &tempfile::TempDir) -> Vec<Location> {
    let file = Location::File(folder.path().join("copy.db"));
    std::iter::once(file).chain(fresh_postgres().await).collect()
}

#[test]
fn a_copy_holds_the_same_rows_whichever_kinds_the_two_are() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let file = Location::File(folder.path().join("store.db"));
        let sources = std::iter::once(file).chain(fresh_postgres().await);
        for (number, source) in sources.enumerate() {
            let from = filled(&source).await;
            let before = from.sums().await.unwrap();
            assert!(before.iter().all(|sum| sum.rows > 0), "every table is tried: {before:?}");
            let targets = tempfile::tempdir().unwrap();
            for target in empty_ones(&targets).await {
                let to = Store::open(&target).await.unwrap().store;
                from.copy_into(&to).await.unwrap();
                assert_eq!(to.sums().await.unwrap(), before, "{number}: {target:?}");
                let again = from.copy_into(&to).await;
                assert!(matches!(again, Err(StoreError::NotEmpty { table: "household" })));
                to.set_fact("alive_at", 8).await.unwrap();
                assert_ne!(to.sums().await.unwrap(), before, "one number tells");
            }
        }
    });
}

#[test]
fn a_copy_knows_every_table_and_every_column() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("store.db");
        let store = Store::open(&Location::File(path.clone())).await.unwrap().store;
        let mut known: Vec<(String, usize)> =
            Store::copied_tables().map(|(name, columns)| (name.to_owned(), columns)).collect();
        store.close().await;
        let url = format!("sqlite://{}", path.display());
        let mut connection = sqlx::SqliteConnection::connect(&url).await.unwrap();
        let tables: Vec<String> = sqlx::query_scalar(
            "SELECT name FROM sqlite_master WHERE type = 'table' \
             AND name NOT LIKE 'sqlite_%' AND name <> '_sqlx_migrations' ORDER BY name",
        )
        .fetch_all(&mut connection)
        .await
        .unwrap();
        let mut found = Vec::new();
        for table in tables {
            let columns: i64 = sqlx::query_scalar("SELECT count(*) FROM pragma_table_info($1)")
                .bind(&table)
                .fetch_one(&mut connection)
                .await
                .unwrap();
            found.push((table, usize::try_from(columns).unwrap()));
        }
        known.sort();
        assert_eq!(known, found, "src/store/copy.rs does not fit the schema");
    });
}
