//! Several programs on one PostgreSQL, killed at random: nothing lost, nothing doubled, each chat
//! in order; and what a running program says of itself.

use std::time::Duration;

use sqlx::Row;
use sqlx::postgres::PgPool;

use crate::kill::Dice;
use crate::store::fresh_postgres;
use crate::support::messenger::{Messenger, PATIENCE, Person};
use crate::support::process::{Program, Signal, World, assert_discreet};
use larderling::store::Location;

/// Programs side by side.
const PROGRAMS: usize = 3;
const KILLS: usize = 12;
/// Messages written before each kill, in each group.
const BURST: usize = 3;
const GROUPS: [i64; 3] = [-41, -42, -43];
/// The longest pause between two kills.
const PAUSE_MAX_MS: u64 = 1_500;

#[test]
fn programs_on_one_postgresql_lose_and_double_nothing_while_one_after_the_other_is_killed() {
    let messenger = Messenger::start();
    let location = messenger.block_on(fresh_postgres());
    let Some(Location::Postgres(database)) = location else { return };
    let ann = Person::new(11, "Ann");
    for group in GROUPS {
        messenger.group(group, "Kitchen", &[&ann]);
    }
    let mut dice = Dice(0x5EED);
    let start = || Program::serve(&messenger.url(), &database, &[]);
    let mut programs: Vec<Program> = (0..PROGRAMS).map(|_| start()).collect();
    let mut told = Vec::new();
    let query = |sql: &'static str| {
        messenger.block_on(async {
            let pool = PgPool::connect(&database).await.unwrap();
            let rows = sqlx::query(sql).fetch_all(&pool).await.unwrap();
            pool.close().await;
            rows
        })
    };
    for kill in 0..KILLS {
        for leeks in 1..=BURST {
            for group in GROUPS {
                // A count: the last one said is what holds.
                let text = format!("we have {} leeks", kill * BURST + leeks);
                told.push((group, messenger.says(&ann, group, &text)));
            }
        }
        messenger.linger(Duration::from_millis(dice.below(PAUSE_MAX_MS)), |_| false);
        if kill % 4 == 3 {
            // The database drops everybody, as when it is started again.
            query(
                "SELECT pg_terminate_backend(pid) FROM pg_stat_activity \
                 WHERE datname = current_database() AND pid <> pg_backend_pid()",
            );
        }
        let victim = usize::try_from(dice.below(PROGRAMS as u64)).unwrap();
        let (_, log) = std::mem::replace(&mut programs[victim], start()).stop(Signal::Kill);
        assert_discreet(&log);
        assert!(!log.contains("a defect"), "{log}");
    }
    let limit = std::time::Instant::now() + PATIENCE;
    loop {
        messenger.until("everything confirmed", |state| (state.unconfirmed() == 0).then_some(()));
        if query("SELECT 1 FROM inbox WHERE state = 'waiting'").is_empty() {
            break;
        }
        assert!(std::time::Instant::now() < limit, "updates are still waiting");
        messenger.linger(Duration::from_millis(50), |_| false);
    }
    for program in programs {
        let (status, log) = program.stop(Signal::Terminate);
        assert!(status.success(), "{log}");
    }

    let handled = query(
        "SELECT m.chat AS chat, m.external AS external, count(e.id) AS events, \
         min(m.number) AS number FROM message m \
         LEFT JOIN event e ON e.household = m.household AND e.message = m.number \
         WHERE m.person IS NOT NULL GROUP BY m.household, m.chat, m.external ORDER BY number",
    );
    for group in GROUPS {
        let ours = told.iter().filter(|(chat, _)| *chat == group);
        let expected: Vec<String> = ours.map(|(_, message)| message.to_string()).collect();
        let chat = group.to_string();
        let rows = handled.iter().filter(|row| row.get::<String, _>("chat") == chat);
        let found: Vec<String> = rows.map(|row| row.get("external")).collect();
        assert_eq!(found, expected, "each message of {group} once, in order");
    }
    for row in &handled {
        assert_eq!(row.get::<i64, _>("events"), 1, "message {}", row.get::<String, _>("external"));
    }
    let state = messenger.lock();
    for (group, message) in told {
        let answers =
            state.shown(group).iter().filter(|shown| shown.reply_to == Some(message)).count();
        assert!(answers <= 1, "message {message} was answered {answers} times");
    }
}

#[test]
fn a_running_program_says_how_it_is() {
    let mut world = World::without_program(Messenger::start());
    let port = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
    let address = format!("127.0.0.1:{port}");
    let health = |world: &World| world.run(&["health", "--status-listen", &address]);
    assert!(!health(&world).status.success(), "nobody is there");
    world.set("LARDERLING_STATUS_LISTEN", &address);
    let ann = Person::new(11, "Ann");
    world.messenger.group(-40, "Kitchen", &[&ann]);
    world.start();
    world.asks(&ann, -40, "got 3 leeks");
    let asked = health(&world);
    assert!(asked.status.success(), "{asked:?}");
    let metrics = world.messenger.block_on(async {
        let answer = reqwest::get(format!("http://{address}/metrics")).await.unwrap();
        answer.text().await.unwrap()
    });
    let value = |name: &str| {
        let line = metrics.lines().find(|line| line.starts_with(&format!("larderling_{name} ")));
        line.and_then(|line| line.rsplit(' ').next()).map(ToOwned::to_owned)
    };
    assert_eq!(value("households").as_deref(), Some("1"), "{metrics}");
    assert_eq!(value("inbox_waiting").as_deref(), Some("0"), "{metrics}");
    assert_eq!(value("due_late").as_deref(), Some("0"), "{metrics}");
    assert!(value("fetch_silence_seconds").is_some(), "{metrics}");
    assert!(metrics.contains("larderling_outbox{state=\"sent\"}"), "{metrics}");
    assert!(metrics.ends_with("# EOF\n"), "{metrics}");
    for word in ["Ann", "leek", "Kitchen"] {
        assert!(!metrics.contains(word), "{word} in {metrics}");
    }
    world.finish();
}
