//! The outbox: order, claims, outcomes.

use larderling::conversation::{Kind, MessageId, Outgoing, Rich};
use larderling::kitchen::PersonId;
use larderling::store::{
    Claimed, Errand, HouseholdId, Leases, NewMessage, ParcelState, Queued, Settled, Store,
};

use super::{chat, founded, member, noon, on_both};

fn say(kind: Kind, message: u64, to: Option<PersonId>) -> Queued {
    let outgoing = Outgoing {
        message: MessageId(message),
        kind,
        answers: None,
        to,
        text: Rich::plain(format!("message {message}")),
        buttons: Vec::new(),
        picture: None,
        loud: false,
    };
    Queued { to, errand: Errand::Say(outgoing), expires_at: noon().plus_minutes(60) }
}

async fn queue(store: &Store, house: &HouseholdId, parcels: &[(u64, Queued)]) {
    let mut tx = store.begin().await.unwrap();
    for (number, parcel) in parcels {
        tx.queue(house, *number, parcel, noon()).await.unwrap();
    }
    tx.commit().await.unwrap();
}

async fn claim(store: &Store) -> Option<Claimed> {
    store.claim_parcel(noon()).await.unwrap()
}

async fn settle(store: &Store, claimed: &Claimed, outcome: Settled) {
    store.settle_parcel(claimed, &outcome, noon()).await.unwrap();
}

fn sent() -> Settled {
    Settled::Sent { external: None }
}

async fn count(store: &Store, state: ParcelState) -> i64 {
    let counts = store.outbox_counts().await.unwrap();
    counts.into_iter().find(|(each, _)| *each == state).expect("every state is counted").1
}

#[test]
fn one_chats_parcels_go_in_order_and_other_chats_do_not_wait() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let other = founded(&store, "other").await;
        let ada = member(&store, &house, "Ada").await;
        let parcels = [
            (1, say(Kind::Reply, 1, None)),
            (2, say(Kind::Reply, 2, None)),
            (3, say(Kind::Reply, 3, Some(ada))),
        ];
        queue(&store, &house, &parcels).await;
        queue(&store, &other, &[(1, say(Kind::Post, 1, None))]).await;
        let mut first = Vec::new();
        while let Some(claimed) = claim(&store).await {
            first.push((claimed.household.clone(), claimed.number));
        }
        first.sort();
        let mut expected = vec![(house.clone(), 1), (house.clone(), 3), (other.clone(), 1)];
        expected.sort();
        assert_eq!(first, expected, "the second one for the home chat waits for the first");
    });
}

#[test]
fn a_claimed_parcel_has_all_the_channel_needs() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let home = chat("home");
        let mut tx = store.begin().await.unwrap();
        for (number, external) in [(1, Some("501")), (2, None)] {
            let message = NewMessage {
                number: MessageId(number),
                chat: &home,
                external,
                person: None,
                at: noon(),
                words: None,
            };
            tx.write_message(&house, &message).await.unwrap();
        }
        tx.commit().await.unwrap();
        let mut answer = say(Kind::Reply, 2, None);
        if let Errand::Say(outgoing) = &mut answer.errand {
            outgoing.answers = Some(MessageId(1));
        }
        queue(&store, &house, &[(1, answer.clone()), (2, say(Kind::Edit, 2, None))]).await;
        let claimed = claim(&store).await.expect("the answer");
        assert_eq!(claimed.chat, Some(home));
        assert_eq!(claimed.errand, answer.errand);
        assert_eq!((claimed.reply_to.as_deref(), claimed.on.as_deref()), (Some("501"), None));
        assert_eq!(claimed.tries, 1);
        settle(&store, &claimed, Settled::Sent { external: Some("502".to_owned()) }).await;
        let edit = claim(&store).await.expect("the edit");
        assert_eq!(edit.on.as_deref(), Some("502"), "the id it got when it was sent");
    });
}

#[test]
fn each_outcome_leaves_the_row_in_its_state() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let outcomes = [
            (sent(), ParcelState::Sent),
            (Settled::Refused { why: "no".to_owned() }, ParcelState::Refused),
            (Settled::Unsure { why: "cut".to_owned() }, ParcelState::Unsure),
        ];
        for (number, (outcome, state)) in (1..).zip(outcomes) {
            queue(&store, &house, &[(number, say(Kind::Reply, number, None))]).await;
            let claimed = claim(&store).await.expect("it is there");
            settle(&store, &claimed, outcome).await;
            assert_eq!(count(&store, state).await, 1, "{state:?}");
            assert!(claim(&store).await.is_none(), "{state:?} is final");
        }
        let troubled = store.troubled_parcels(10).await.unwrap();
        let troubles: Vec<_> = troubled.iter().filter_map(|row| row.trouble.as_deref()).collect();
        assert_eq!(troubles.len(), 2);
        assert!(troubles.contains(&"no") && troubles.contains(&"cut"));
        let later = noon().plus_minutes(73 * 60);
        assert_eq!(store.prune_outbox(noon()).await.unwrap(), 0);
        assert_eq!(store.prune_outbox(later).await.unwrap(), 3);
    });
}

#[test]
fn a_parcel_tried_again_waits_its_time_and_counts_its_tries() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        queue(&store, &house, &[(1, say(Kind::Reply, 1, None))]).await;
        let later = noon().plus_minutes(1);
        let claimed = claim(&store).await.expect("it is there");
        let again = Settled::Again { not_before: later, why: "down".to_owned() };
        settle(&store, &claimed, again).await;
        assert!(claim(&store).await.is_none(), "not before its time");
        assert_eq!(store.next_parcel_at().await.unwrap(), Some(later));
        let claimed = store.claim_parcel(later).await.unwrap().expect("now it is");
        assert_eq!(claimed.tries, 2);
        store.settle_parcel(&claimed, &Settled::PutOff { not_before: later }, later).await.unwrap();
        let claimed = store.claim_parcel(later).await.unwrap().expect("put off until now");
        assert_eq!(claimed.tries, 2, "a rest is no try");
    });
}

#[test]
fn a_sender_that_went_away_leaves_new_messages_unsure_and_repeats_the_rest() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let ada = member(&store, &house, "Ada").await;
        let parcels = [(1, say(Kind::Reply, 1, None)), (2, say(Kind::Edit, 1, Some(ada)))];
        queue(&store, &house, &parcels).await;
        while claim(&store).await.is_some() {}
        let soon = noon().plus_minutes(1);
        assert_eq!(store.settle_abandoned(soon, Leases::RunOut).await.unwrap(), 0);
        let later = noon().plus_minutes(3);
        assert_eq!(store.settle_abandoned(later, Leases::RunOut).await.unwrap(), 2);
        assert_eq!(count(&store, ParcelState::Unsure).await, 1);
        let again = store.claim_parcel(later).await.unwrap().expect("the edit");
        assert_eq!(again.number, 2);
        assert_eq!(store.settle_abandoned(later, Leases::All).await.unwrap(), 1, "at a start");
    });
}

#[test]
fn an_outcome_that_comes_after_the_lease_ran_out_changes_nothing() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        queue(&store, &house, &[(1, say(Kind::Reply, 1, None))]).await;
        let claimed = claim(&store).await.expect("it is there");
        store.settle_abandoned(noon().plus_minutes(3), Leases::RunOut).await.unwrap();
        settle(&store, &claimed, sent()).await;
        assert_eq!(count(&store, ParcelState::Unsure).await, 1);
        assert_eq!(count(&store, ParcelState::Sent).await, 0);
    });
}

#[test]
fn parcels_follow_a_chat_that_moved() {
    on_both(async |store| {
        let house = founded(&store, "group").await;
        let parcels = [(1, say(Kind::Reply, 1, None)), (2, say(Kind::Reply, 2, None))];
        queue(&store, &house, &parcels).await;
        let claimed = claim(&store).await.expect("it is there");
        store.re_aim(&claimed, &chat("supergroup")).await.unwrap();
        let again = Settled::Again { not_before: noon(), why: "moved".to_owned() };
        settle(&store, &claimed, again).await;
        for number in [1, 2] {
            let claimed = claim(&store).await.expect("both go on");
            assert_eq!((claimed.number, claimed.chat.clone()), (number, Some(chat("supergroup"))));
            settle(&store, &claimed, sent()).await;
        }
    });
}

#[test]
fn a_chat_that_is_closed_to_the_bot_gets_nothing_more() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let ada = member(&store, &house, "Ada").await;
        let parcels = [
            (1, say(Kind::Reply, 1, None)),
            (2, say(Kind::Reply, 2, None)),
            (3, say(Kind::Reply, 3, Some(ada))),
        ];
        queue(&store, &house, &parcels).await;
        let claimed = claim(&store).await.expect("it is there");
        assert_eq!(claimed.number, 1);
        store.give_up(&claimed, noon()).await.unwrap();
        settle(&store, &claimed, Settled::Refused { why: "removed".to_owned() }).await;
        assert_eq!(store.households().await.unwrap()[0].gone_at, Some(noon()));
        let left = claim(&store).await.expect("a private chat is another matter");
        assert_eq!(left.number, 3);
        // Blocked by one person: the household goes on.
        let mut tx = store.begin().await.unwrap();
        tx.set_gone(&house, None).await.unwrap();
        tx.commit().await.unwrap();
        store.give_up(&left, noon()).await.unwrap();
        assert_eq!(store.households().await.unwrap()[0].gone_at, None);
        assert_eq!(count(&store, ParcelState::Refused).await, 2);
    });
}

#[test]
fn what_is_queued_for_home_can_be_refused_at_once() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let other = founded(&store, "other").await;
        for household in [&house, &other] {
            queue(&store, household, &[(1, say(Kind::Post, 1, None))]).await;
        }
        let mut tx = store.begin().await.unwrap();
        tx.refuse_home(&house, noon()).await.unwrap();
        tx.commit().await.unwrap();
        let claimed = claim(&store).await.expect("the other's");
        assert_eq!(claimed.household, other);
        assert!(claim(&store).await.is_none());
    });
}

#[test]
fn senders_side_by_side_never_claim_the_same_parcel() {
    on_both(async |store| {
        const HOUSEHOLDS: u64 = 10;
        const PARCELS: u64 = 5;
        for n in 0..HOUSEHOLDS {
            let house = founded(&store, &format!("home {n}")).await;
            let parcels: Vec<(u64, Queued)> =
                (1..=PARCELS).map(|number| (number, say(Kind::Reply, number, None))).collect();
            queue(&store, &house, &parcels).await;
        }
        let mut senders = tokio::task::JoinSet::new();
        for _ in 0..4 {
            let store = store.clone();
            senders.spawn(async move {
                let mut mine = Vec::new();
                // Others may hold every row that could go: look until all are settled.
                while count(&store, ParcelState::Sent).await < (HOUSEHOLDS * PARCELS) as i64 {
                    if let Some(claimed) = claim(&store).await {
                        settle(&store, &claimed, sent()).await;
                        mine.push((claimed.household, claimed.number));
                    }
                }
                mine
            });
        }
        let mut all = Vec::new();
        while let Some(mine) = senders.join_next().await {
            all.extend(mine.unwrap());
        }
        let claimed = all.len();
        all.sort();
        all.dedup();
        assert_eq!((claimed as u64, all.len() as u64), (50, 50));
    });
}
