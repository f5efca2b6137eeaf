//! The inbox, what is due, and whole-program facts.

use larderling::channel::Channel;
use larderling::conversation::Job;
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::store::{DueRow, HouseholdId, Received, Tx};

use super::{founded, noon, on_both};

fn update(id: i64) -> Received {
    Received { update_id: id, chat: Some("1".to_owned()), raw: format!("raw {id}") }
}

fn due(household: &HouseholdId, job: Job, day: KitchenDay, due_at: Instant) -> DueRow {
    DueRow { household: household.clone(), job, day, due_at }
}

async fn plan(tx: &mut Tx, row: DueRow) -> bool {
    tx.plan_due(&row, "0 7 * * *", Zone::UTC).await.unwrap()
}

fn ids(updates: &[Received]) -> Vec<i64> {
    updates.iter().map(|update| update.update_id).collect()
}

#[test]
fn an_update_counts_once_whatever_the_order_of_its_number() {
    on_both(async |store| {
        let channel = Channel::Telegram;
        let first = [update(900), update(901)];
        assert_eq!(store.receive(channel, &first, noon()).await.unwrap(), 2);
        // Delivered again, with one that is new and whose number is lower.
        let again = [update(901), update(3)];
        let later = noon().plus_minutes(1);
        assert_eq!(store.receive(channel, &again, later).await.unwrap(), 1);
        let waiting = store.waiting(channel, 10).await.unwrap();
        assert_eq!(ids(&waiting), [900, 901, 3], "in order of arrival");
        assert_eq!(waiting[0], update(900));

        let mut tx = store.begin().await.unwrap();
        assert!(tx.finish_update(channel, 900).await.unwrap());
        assert!(!tx.finish_update(channel, 900).await.unwrap(), "a second time is too late");
        assert!(!tx.finish_update(channel, 7).await.unwrap(), "never received");
        tx.fail_update(channel, 901).await.unwrap();
        tx.commit().await.unwrap();
        assert_eq!(ids(&store.waiting(channel, 10).await.unwrap()), [3]);
        assert_eq!(store.waiting_count().await.unwrap(), 1);
        assert_eq!(store.receive(channel, &first, later).await.unwrap(), 0, "done stays known");
    });
}

#[test]
fn channels_number_their_updates_apart() {
    on_both(async |store| {
        store.receive(Channel::Telegram, &[update(1)], noon()).await.unwrap();
        assert_eq!(store.receive(Channel::Replay, &[update(1)], noon()).await.unwrap(), 1);
        assert_eq!(store.waiting(Channel::Replay, 10).await.unwrap().len(), 1);
    });
}

#[test]
fn a_finished_update_is_remembered_longer_than_it_can_be_delivered_again() {
    on_both(async |store| {
        let channel = Channel::Telegram;
        store.receive(channel, &[update(1), update(2)], noon()).await.unwrap();
        let mut tx = store.begin().await.unwrap();
        tx.finish_update(channel, 1).await.unwrap();
        tx.commit().await.unwrap();
        let two_days = noon().plus_minutes(48 * 60);
        assert_eq!(store.prune_inbox(two_days).await.unwrap(), 0);
        let later = noon().plus_minutes(73 * 60);
        assert_eq!(store.prune_inbox(later).await.unwrap(), 1, "the one that waits is kept");
        assert_eq!(ids(&store.waiting(channel, 10).await.unwrap()), [2]);
    });
}

#[test]
fn a_job_of_a_day_is_worked_once() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let day = KitchenDay::new(2026, 3, 1).unwrap();
        let mut tx = store.begin().await.unwrap();
        assert!(plan(&mut tx, due(&house, Job::MorningPost, day, noon())).await);
        let later = noon().plus_minutes(30);
        assert!(plan(&mut tx, due(&house, Job::MorningPost, day, later)).await, "moves");
        plan(&mut tx, due(&house, Job::EveningRound, day, noon().plus_minutes(60))).await;
        tx.commit().await.unwrap();

        assert_eq!(store.next_due().await.unwrap(), Some(later));
        assert!(store.due(noon(), 10).await.unwrap().is_empty(), "not yet");
        let rows = store.due(later, 10).await.unwrap();
        assert_eq!(rows, [due(&house, Job::MorningPost, day, later)]);

        let mut tx = store.begin().await.unwrap();
        assert!(tx.finish_due(&house, Job::MorningPost, day).await.unwrap());
        assert!(!tx.finish_due(&house, Job::MorningPost, day).await.unwrap());
        assert!(!plan(&mut tx, due(&house, Job::MorningPost, day, later)).await, "never again");
        assert!(tx.miss_due(&house, Job::EveningRound, day).await.unwrap());
        assert!(!plan(&mut tx, due(&house, Job::EveningRound, day, later)).await);
        tx.commit().await.unwrap();
        assert_eq!(store.next_due().await.unwrap(), None);
    });
}

#[test]
fn a_plan_replaces_other_plans_but_nothing_that_has_come_due() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let other = founded(&store, "other").await;
        let today = KitchenDay::new(2026, 3, 1).unwrap();
        let mut tx = store.begin().await.unwrap();
        for household in [&house, &other] {
            for ahead in 0..3 {
                let at = noon().plus_minutes(ahead * 24 * 60);
                plan(&mut tx, due(household, Job::MorningPost, today.plus(ahead), at)).await;
            }
        }
        let keep = today.plus(2);
        tx.drop_plans_except(&house, Job::MorningPost, keep, noon()).await.unwrap();
        tx.commit().await.unwrap();
        let days = async |of: &HouseholdId| -> Vec<i64> {
            let rows = store.due(noon().plus_minutes(72 * 60), 10).await.unwrap();
            let ours = rows.iter().filter(|row| row.household == *of);
            ours.map(|row| row.day.days_since(today)).collect()
        };
        assert_eq!(days(&house).await, [0, 2], "today's has come due");
        assert_eq!(days(&other).await, [0, 1, 2], "the other household's plan stands");
        let mut tx = store.begin().await.unwrap();
        tx.drop_due(&house).await.unwrap();
        tx.commit().await.unwrap();
        assert_eq!(days(&house).await, [0; 0]);
        assert_eq!(days(&other).await, [0, 1, 2]);
    });
}

#[test]
fn facts_of_the_program_are_kept_by_name() {
    on_both(async |store| {
        assert_eq!(store.fact("alive_at").await.unwrap(), None);
        for value in [7, 8] {
            store.set_fact("alive_at", value).await.unwrap();
            assert_eq!(store.fact("alive_at").await.unwrap(), Some(value));
        }
    });
}
