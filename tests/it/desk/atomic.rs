//! Storage that fails at any step leaves nothing half done, and the same update works afterwards.

use larderling::desk::{DeskError, Fate};
use larderling::store::{Location, Store};
use proptest::prelude::*;
use sqlx::Connection;

use super::{Office, ada, run, spoken, texts};
use crate::store::noon;
use larderling::channel::Arrived;
use larderling::clock::Clock;

/// Every kind of write that one of the messages below makes, and when it fails.
const STEPS: &[(&str, &str, &str)] = &[
    ("inbox", "UPDATE", "1"),
    ("household", "UPDATE", "NEW.version <> OLD.version"),
    ("household", "UPDATE", "NEW.version = OLD.version"),
    ("person", "INSERT", "1"),
    ("message", "INSERT", "NEW.person IS NOT NULL"),
    ("message", "INSERT", "NEW.person IS NULL"),
    ("message", "UPDATE", "NEW.words IS NOT NULL"),
    ("event", "INSERT", "1"),
    ("due", "UPDATE", "1"),
    ("due", "INSERT", "1"),
    ("outbox", "INSERT", "1"),
];

/// Everything in the tables a transaction touches, but for the sign that somebody was there.
async fn contents(url: &str) -> Vec<String> {
    let mut connection = sqlx::SqliteConnection::connect(url).await.unwrap();
    let mut all = Vec::new();
    for query in [
        "SELECT id || state || memory || last_event || last_message || last_parcel || version FROM household",
        "SELECT household || id || external || name FROM person",
        "SELECT household || number || coalesce(words, '') FROM message",
        "SELECT household || id || payload FROM event",
        "SELECT household || job || day || due_at || state FROM due",
        "SELECT household || number || payload || state FROM outbox",
        "SELECT update_id || state || coalesce(raw, '') FROM inbox",
    ] {
        let rows: Vec<String> = sqlx::query_scalar(query).fetch_all(&mut connection).await.unwrap();
        all.extend(rows);
    }
    connection.close().await.unwrap();
    all
}

async fn statement(url: &str, sql: String) {
    let mut connection = sqlx::SqliteConnection::connect(url).await.unwrap();
    sqlx::raw_sql(sqlx::AssertSqlSafe(sql)).execute(&mut connection).await.unwrap();
    connection.close().await.unwrap();
}

#[test]
fn a_write_that_fails_at_any_step_leaves_nothing_behind_and_can_be_repeated() {
    run(async {
        for (table, operation, when) in STEPS {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("larder.db");
            let url = format!("sqlite://{}", path.display());
            let store = Store::open(&Location::File(path)).await.unwrap().store;
            let mut office = Office::on(store, Clock::set(noon()));
            office.said("home", "got 2 carrots").await;
            // Both what changes the stock and what changes the plan.
            for text in ["got 3 leeks", "larderling, post at 13:45"] {
                let arrival = office.arrival("home", text).await;
                let before = contents(&url).await;
                let step = format!("{table} {operation} when {when}: {text}");
                statement(
                    &url,
                    format!(
                        "CREATE TRIGGER fault BEFORE {operation} ON {table} WHEN {when} \
                         BEGIN SELECT RAISE(ABORT, 'a fault'); END"
                    ),
                )
                .await;
                let mut failed = false;
                for _ in 0..2 {
                    match office.desk.arrive(&arrival).await {
                        Err(DeskError::Store(_)) => {
                            failed = true;
                            assert_eq!(contents(&url).await, before, "{step}: half done");
                        }
                        Err(error) => panic!("{step}: {error}"),
                        // A message that does not get to this step.
                        Ok(handled) if !failed => assert!(handled.fate != Fate::NotSaved, "{step}"),
                        Ok(_) => panic!("{step}: failed once and went through"),
                    }
                }
                statement(&url, "DROP TRIGGER fault".to_owned()).await;
                if failed {
                    let handled = office.desk.arrive(&arrival).await.unwrap();
                    assert_eq!(handled.fate, Fate::Done, "{step}: works afterwards");
                }
                office.assert_sound().await;
            }
            let household = office.household("home").await;
            let house = office.desk.house(&household).await.unwrap();
            assert_eq!(house.state.lots.len(), 2, "{table}: once each");
            assert_eq!(house.state.settings.post, "13:45");
        }
    });
}

#[test]
fn every_step_of_the_list_is_one_that_messages_reach() {
    run(async {
        for (table, operation, when) in STEPS {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("larder.db");
            let url = format!("sqlite://{}", path.display());
            let store = Store::open(&Location::File(path)).await.unwrap().store;
            let mut office = Office::on(store, Clock::set(noon()));
            office.said("home", "got 2 carrots").await;
            let fault = format!(
                "CREATE TRIGGER fault BEFORE {operation} ON {table} WHEN {when} \
                 BEGIN SELECT RAISE(ABORT, 'a fault'); END"
            );
            statement(&url, fault).await;
            let mut reached = false;
            for text in ["got 3 leeks", "larderling, post at 13:45"] {
                let arrival = office.arrival("home", text).await;
                reached |= office.desk.arrive(&arrival).await.is_err();
            }
            assert!(reached, "{table} {operation} {when}");
        }
    });
}

#[test]
fn a_defect_in_the_core_is_told_to_its_writer_and_stops_nobody_else() {
    run(async {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("larder.db");
        let url = format!("sqlite://{}", path.display());
        let store = Store::open(&Location::File(path)).await.unwrap().store;
        let mut office = Office::on(store, Clock::set(noon()));
        office.said("home", "hello").await;
        // A number at the end of its range stands for any defect: counting on from it panics.
        let broken = "UPDATE household SET state = \
                      replace(state, '\"next_lot\":1,', '\"next_lot\":18446744073709551615,')";
        statement(&url, broken.to_owned()).await;
        office = office.restart();
        let (_, handled) = office.said("home", "got 3 leeks").await;
        assert_eq!(handled.fate, Fate::NotSaved);
        let said = texts(&office.sent().await);
        assert_eq!(said.len(), 1);
        assert!(said[0].contains("not saved"), "{said:?}");
        assert_eq!(office.store.waiting_count().await.unwrap(), 0, "it does not block the rest");
        let (_, handled) = office.said("other", "got 3 leeks").await;
        assert_eq!(handled.fate, Fate::Done);
        let house = office.desk.house(&office.household("home").await).await.unwrap();
        assert!(house.state.lots.is_empty() && house.log.is_empty(), "nothing half applied");
    });
}

/// What somebody does next.
#[derive(Clone, Debug)]
enum Step {
    Say(&'static str),
    Edit(usize, &'static str),
    Press(&'static str),
    Again(usize),
    Restart,
    Wait(i64),
}

const TEXTS: &[&str] = &[
    "got 3 lb carrots, 2 fennel and a bunch of mint 6.40",
    "bought 10 kg potatoes for 4.99",
    "we have 3 leeks and half a squash",
    "used half the carrots",
    "ate 2 leeks",
    "finished the mint",
    "tossed the fennel, slimy",
    "froze 2 leeks",
    "cut up the carrots, they're in water",
    "changed the water",
    "all put away",
    "made carrot soup, 6 portions, with 300 g carrots and 2 leeks",
    "left the soup out overnight",
    "gave 1 squash to next door",
    "composted the carrot peel",
    "that's everything in the fridge: 2 carrots",
    "undo",
    "no, 3 fennel",
    "larderling, post at 7:30",
    "need rice and a lemon",
    "what's first?",
    "see you at six",
];

fn step() -> impl Strategy<Value = Step> {
    let text = prop::sample::select(TEXTS);
    prop_oneof![
        8 => text.clone().prop_map(Step::Say),
        1 => (0..50_usize, text).prop_map(|(which, text)| Step::Edit(which, text)),
        1 => prop::sample::select(&["undo", "changed", "used_up", "put_away"][..])
            .prop_map(Step::Press),
        1 => (0..50_usize).prop_map(Step::Again),
        1 => Just(Step::Restart),
        2 => (1..3_000_i64).prop_map(Step::Wait),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn prop_the_fold_of_the_log_is_the_stored_state(steps in prop::collection::vec(step(), 1..30)) {
        run(async {
            let mut office = Office::open().await;
            let mut past = Vec::new();
            let mut buttons: Vec<(String, String)> = Vec::new();
            for step in steps {
                match step {
                    Step::Say(text) => past.push(office.said("home", text).await.0),
                    Step::Edit(which, text) if !past.is_empty() => {
                        let edited = &past[which % past.len()];
                        let Arrived::Said { message, .. } = &edited.what else { continue };
                        let number: i64 = message.external.as_deref().unwrap_or("0").parse().unwrap();
                        let what = Arrived::Edited { from: ada(), message: spoken(number, text) };
                        let update = 50_000 + past.len() as i64 * 100 + which as i64;
                        let arrival = office.stored("home", update, what).await;
                        office.desk.arrive(&arrival).await.unwrap();
                    }
                    Step::Press(wanted) => {
                        let pressed = buttons.iter().rev().find(|(_, key)| key.starts_with(wanted));
                        let Some((on, key)) = pressed.cloned() else { continue };
                        let what = Arrived::Pressed {
                            from: ada(), on, key, private: false, query: None,
                        };
                        let update = 90_000 + buttons.len() as i64;
                        let arrival = office.stored("home", update, what).await;
                        office.desk.arrive(&arrival).await.unwrap();
                    }
                    Step::Again(which) if !past.is_empty() => {
                        let handled = office.desk.arrive(&past[which % past.len()]).await.unwrap();
                        assert_eq!(handled.fate, Fate::Before);
                    }
                    Step::Edit(..) | Step::Again(_) => {}
                    Step::Restart => office = office.restart(),
                    Step::Wait(minutes) => {
                        super::later(&office.clock, minutes);
                        larderling::rounds::work_due(&office.desk).await.unwrap();
                    }
                }
                while let Some(claimed) =
                    office.store.claim_parcel(office.clock.now()).await.unwrap()
                {
                    let external = format!("bot {}", claimed.number);
                    if let larderling::store::Errand::Say(outgoing) = &claimed.errand {
                        let keys = outgoing.buttons.iter().map(|button| button.key.clone());
                        buttons.extend(keys.map(|key| (external.clone(), key)));
                    }
                    let sent = larderling::store::Settled::Sent { external: Some(external) };
                    office.store.settle_parcel(&claimed, &sent, office.clock.now()).await.unwrap();
                }
                office.assert_sound().await;
            }
        });
    }
}
