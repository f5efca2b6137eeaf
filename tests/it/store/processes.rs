//! Several processes on one database: two stores stand for them.

use larderling::channel::Channel;
use larderling::conversation::Job;
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::store::{DueRow, Location, Received, Role, Store, Turn};

use super::{founded, fresh_postgres, noon, on_both, run};

const CHANNEL: Channel = Channel::Telegram;

/// Two processes on a database that allows them. SQLite has one by its lock.
fn on_two(case: impl AsyncFn(Store, Store)) {
    run(async {
        let Some(location) = fresh_postgres().await else { return };
        let open = async |location: &Location| Store::open(location).await.unwrap().store;
        case(open(&location).await, open(&location).await).await;
    });
}

fn update(id: i64, chat: &str) -> Received {
    Received { update_id: id, chat: Some(chat.to_owned()), raw: "{}".to_owned() }
}

fn seconds_on(from: Instant, seconds: i64) -> Instant {
    Instant::from_micros(from.micros() + seconds * 1_000_000)
}

#[test]
fn a_lease_has_one_holder_who_may_renew_it_until_it_runs_out() {
    on_both(async |store| {
        let (now, until) = (noon(), seconds_on(noon(), 15));
        let take = async |held, now, until| {
            store.take_lease(Role::Poller, held, now, until).await.unwrap()
        };
        assert!(take(None, now, until).await);
        assert!(!take(None, seconds_on(now, 5), seconds_on(now, 20)).await, "it is held");
        assert!(store.take_lease(Role::Sender, None, now, until).await.unwrap(), "another role");
        let renewed = seconds_on(now, 21);
        assert!(take(Some(until), seconds_on(now, 6), renewed).await);
        assert!(!take(Some(until), seconds_on(now, 7), seconds_on(now, 22)).await, "an old hold");
        let later = seconds_on(now, 22);
        assert!(take(None, later, seconds_on(later, 15)).await, "it ran out");
        assert!(!take(Some(renewed), later, seconds_on(later, 16)).await, "lost while away");
        store.drop_lease(Role::Poller, renewed).await.unwrap();
        assert!(!take(None, later, seconds_on(later, 15)).await, "who lost it cannot give it back");
        store.drop_lease(Role::Poller, seconds_on(later, 15)).await.unwrap();
        assert!(take(None, later, seconds_on(later, 15)).await);
    });
}

#[test]
fn an_update_is_handled_by_one_process_and_a_chats_in_order() {
    on_two(async |one, two| {
        let updates = [update(900, "a"), update(901, "b"), update(3, "a")];
        for (minute, update) in (0..).zip(&updates) {
            let at = noon().plus_minutes(minute);
            one.receive(CHANNEL, std::slice::from_ref(update), at).await.unwrap();
        }
        let mut first = one.begin().await.unwrap();
        let mut second = two.begin().await.unwrap();
        assert_eq!(first.claim_update(CHANNEL, 900).await.unwrap(), Turn::Ours);
        assert_eq!(second.claim_update(CHANNEL, 900).await.unwrap(), Turn::Later, "taken");
        assert_eq!(second.claim_update(CHANNEL, 3).await.unwrap(), Turn::Later, "its elder waits");
        assert_eq!(second.claim_update(CHANNEL, 901).await.unwrap(), Turn::Ours, "another chat");
        second.commit().await.unwrap();
        // Killed before it committed.
        drop(first);
        let mut second = two.begin().await.unwrap();
        assert_eq!(second.claim_update(CHANNEL, 3).await.unwrap(), Turn::Later);
        assert_eq!(second.claim_update(CHANNEL, 900).await.unwrap(), Turn::Ours);
        assert_eq!(second.claim_update(CHANNEL, 3).await.unwrap(), Turn::Ours);
        second.commit().await.unwrap();
        let mut first = one.begin().await.unwrap();
        assert_eq!(first.claim_update(CHANNEL, 3).await.unwrap(), Turn::Over);
        assert_eq!(first.claim_update(CHANNEL, 77).await.unwrap(), Turn::Over, "never received");
    });
}

#[test]
fn a_due_row_is_worked_by_one_process_and_not_offered_to_another() {
    on_two(async |one, two| {
        let day = KitchenDay::new(2026, 3, 1).unwrap();
        let mut rows = Vec::new();
        for name in ["a", "b"] {
            let household = founded(&one, name).await;
            let row = DueRow { household, job: Job::MorningPost, day, due_at: noon() };
            let mut tx = one.begin().await.unwrap();
            tx.plan_due(&row, "0 7 * * *", Zone::UTC).await.unwrap();
            tx.commit().await.unwrap();
            rows.push(row);
        }
        let mut first = one.begin().await.unwrap();
        assert!(first.claim_due(&rows[0]).await.unwrap());
        assert_eq!(two.due(noon(), 10).await.unwrap(), rows[1..], "the other one is free");
        let mut second = two.begin().await.unwrap();
        assert!(!second.claim_due(&rows[0]).await.unwrap());
        drop(first);
        assert!(second.claim_due(&rows[0]).await.unwrap(), "its process is gone");
    });
}
