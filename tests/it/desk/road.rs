//! The road of messages and jobs: who is spoken to, what is said where, what is due when.

use larderling::channel::{Arrival, Arrived, Channel, ChatKey, Spoken, Writer};
use larderling::conversation::Kind;
use larderling::desk::Fate;
use larderling::rounds::work_due;
use larderling::store::Errand;

use super::{Office, ada, later, run, spoken, texts};

fn arrival(chat: &str, at: larderling::dates::Instant, what: Arrived) -> Arrival {
    let context = larderling::channel::Context::of_equals();
    Arrival { chat: ChatKey::new(Channel::Telegram, chat), update: None, at, what, context }
}

pub async fn arrive(office: &Office, chat: &str, what: Arrived) -> Fate {
    let arrival = arrival(chat, office.clock.now(), what);
    office.desk.arrive(&arrival).await.expect("is handled").fate
}

#[test]
fn households_written_to_side_by_side_end_as_if_one_after_the_other() {
    run(async {
        let mut office = Office::open().await;
        let mut work = Vec::new();
        for n in 1..=20 {
            for chat in ["a", "b", "c", "d", "e"] {
                work.push(office.arrival(chat, &format!("got {n} leeks")).await);
            }
        }
        let desk = std::sync::Arc::new(office.desk);
        let mut tasks = tokio::task::JoinSet::new();
        for arrival in work {
            let desk = std::sync::Arc::clone(&desk);
            tasks.spawn(async move { desk.arrive(&arrival).await.expect("is handled").fate });
        }
        while let Some(fate) = tasks.join_next().await {
            assert_eq!(fate.unwrap(), Fate::Done);
        }
        let rows = office.store.households().await.unwrap();
        assert_eq!(rows.len(), 5, "one household a chat, founded once");
        for row in rows {
            let house = desk.house(&row.id).await.unwrap();
            let leeks: i64 = house
                .state
                .lots
                .iter()
                .filter_map(|lot| lot.quantity)
                .map(|quantity| quantity.value.rounded())
                .sum();
            assert_eq!(leeks, 210);
        }
    });
}

#[test]
fn a_private_message_is_answered_in_private_and_acts_on_the_household() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks").await;
        office.sent().await;
        let message = Spoken { private: true, ..spoken(1, "what do we have?") };
        arrive(&office, "7", Arrived::Said { from: ada(), message }).await;
        let claimed = office.store.claim_parcel(office.clock.now()).await.unwrap().expect("said");
        assert_eq!(claimed.chat, Some(ChatKey::new(Channel::Telegram, "7")), "not in the group");
        let Errand::Say(outgoing) = claimed.errand else { panic!("an answer") };
        assert!(outgoing.text.to_plain().contains("leek"), "{:?}", outgoing.text);
        assert!(outgoing.to.is_some());
        assert_eq!(office.store.households().await.unwrap().len(), 1);
    });
}

#[test]
fn a_stranger_in_private_has_a_household_of_their_own() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks").await;
        office.sent().await;
        let stranger = Writer { external: "99".to_owned(), name: "Moss".to_owned() };
        let message = Spoken { private: true, ..spoken(1, "what do we have?") };
        arrive(&office, "99", Arrived::Said { from: stranger, message }).await;
        let said = texts(&office.sent().await);
        assert_eq!(office.store.households().await.unwrap().len(), 2);
        assert_eq!(said.len(), 1);
        assert!(!said[0].contains("leek"), "{said:?}");
    });
}

#[test]
fn spoken_to_is_who_names_the_bot_or_replies_to_it() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks").await;
        assert_eq!(office.sent().await.len(), 1);
        let vague = "mumble the thing";
        office.said("home", vague).await;
        assert_eq!(texts(&office.sent().await), [] as [&str; 0], "family chatter gets nothing");
        office.said("home", &format!("larderling, {vague}")).await;
        assert_eq!(office.sent().await.len(), 1, "named");
        let reply = Spoken { reply_to: Some("bot 1".to_owned()), ..spoken(500, vague) };
        arrive(&office, "home", Arrived::Said { from: ada(), message: reply }).await;
        assert_eq!(office.sent().await.len(), 1, "replied to");
        let reply = Spoken { reply_to: Some("100".to_owned()), ..spoken(501, vague) };
        arrive(&office, "home", Arrived::Said { from: ada(), message: reply }).await;
        assert_eq!(office.sent().await.len(), 0, "a reply to a person is not");
    });
}

#[test]
fn a_press_is_answered_even_on_a_message_nobody_knows() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks").await;
        office.sent().await;
        for (on, says) in [("bot 1", true), ("never said", false)] {
            let what = Arrived::Pressed {
                from: ada(),
                on: on.to_owned(),
                key: "undo".to_owned(),
                private: false,
                query: Some("query".to_owned()),
            };
            arrive(&office, "home", what).await;
            let claimed = office.store.claim_parcel(office.clock.now()).await.unwrap();
            let claimed = claimed.expect("an answer to the press");
            assert_eq!(
                claimed.errand,
                Errand::AnswerPress { query: "query".to_owned(), text: None }
            );
            let sent = larderling::store::Settled::Sent { external: None };
            office.store.settle_parcel(&claimed, &sent, office.clock.now()).await.unwrap();
            assert_eq!(!office.sent().await.is_empty(), says, "{on}");
        }
        let house = office.desk.house(&office.household("home").await).await.unwrap();
        assert!(house.state.lots.is_empty(), "taken back once");
    });
}

#[test]
fn a_post_is_made_once_a_local_day_through_restarts_and_changes_of_the_hour() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks and 2 lb carrots").await;
        office.sent().await;
        let mut posts = 0;
        // Noon to noon in steps of half an hour, starting anew each time.
        for step in 0..48 {
            later(&office.clock, 30);
            office = office.restart();
            work_due(&office.desk).await.unwrap();
            work_due(&office.desk).await.unwrap();
            if step == 40 {
                // 08:30, after the post: an hour that lies ahead today.
                office.said("home", "larderling, post at 9:30").await;
            }
            posts += office.sent().await.iter().filter(|said| said.kind == Kind::Post).count();
        }
        assert_eq!(posts, 1);
    });
}

#[test]
fn a_missed_post_is_made_late_while_it_is_useful_and_not_after() {
    run(async {
        for (hours_down, expected) in [(22, 1), (32, 0)] {
            let mut office = Office::open().await;
            office.said("home", "got 3 leeks and 2 lb carrots").await;
            office.sent().await;
            later(&office.clock, hours_down * 60);
            office = office.restart();
            work_due(&office.desk).await.unwrap();
            let said = office.sent().await;
            let posts = said.iter().filter(|said| said.kind == Kind::Post).count();
            assert_eq!(posts, expected, "{hours_down} hours: {:?}", texts(&said));
        }
    });
}

#[test]
fn what_was_written_during_an_outage_is_recorded_at_its_own_time_and_answered_in_one_line() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "hello").await;
        let down = office.clock.now();
        let mut backlog = Vec::new();
        for text in ["got 3 leeks", "used 1 leek", "tossed the dill, slimy"] {
            later(&office.clock, 20);
            backlog.push(office.arrival("home", text).await);
        }
        later(&office.clock, 20);
        office = office.restart();
        office.desk.came_back(down);
        for arrival in &backlog {
            office.desk.arrive(arrival).await.unwrap();
        }
        office.desk.caught_up().await.unwrap();
        let said = texts(&office.sent().await);
        assert_eq!(said.len(), 1, "{said:?}");
        let house = office.desk.house(&office.household("home").await).await.unwrap();
        assert!(house.log.iter().all(|event| event.at < office.clock.now()), "each at its time");
        assert_eq!(house.log.len(), 3);
        office.said("home", "got 2 lemons").await;
        assert_eq!(office.sent().await.len(), 1, "and goes on as usual");
    });
}

#[test]
fn a_short_stop_is_not_worth_a_word() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "hello").await;
        let down = office.clock.now();
        later(&office.clock, 1);
        let arrival = office.arrival("home", "got 3 leeks").await;
        later(&office.clock, 1);
        office = office.restart();
        office.desk.came_back(down);
        office.desk.arrive(&arrival).await.unwrap();
        office.desk.caught_up().await.unwrap();
        let said = texts(&office.sent().await);
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("leek"), "answered as usual: {said:?}");
    });
}

#[test]
fn a_removed_bot_says_nothing_until_it_is_let_in_again() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "got 3 leeks and 2 lb carrots").await;
        arrive(&office, "home", Arrived::Dismissed).await;
        assert_eq!(office.sent().await.len(), 0, "not even what was queued");
        later(&office.clock, 48 * 60);
        assert_eq!(work_due(&office.desk).await.unwrap(), 0, "nothing is due");
        arrive(&office, "home", Arrived::Welcomed { by: Some(ada()), hears: true, private: false })
            .await;
        assert_eq!(office.sent().await.len(), 1, "says what to text");
        later(&office.clock, 24 * 60);
        work_due(&office.desk).await.unwrap();
        let posts = office.sent().await;
        assert!(posts.iter().any(|said| said.kind == Kind::Post), "{:?}", texts(&posts));
    });
}

#[test]
fn a_group_that_moves_stays_one_household_whichever_sign_comes_first() {
    run(async {
        let moved = || Arrived::Moved { to: ChatKey::new(Channel::Telegram, "super") };
        for signs in 1..=3 {
            let mut office = Office::open().await;
            office.said("home", "got 3 leeks").await;
            office.sent().await;
            for _ in 0..signs {
                arrive(&office, "home", moved()).await;
            }
            office.said("super", "what do we have?").await;
            let claimed = office.store.claim_parcel(office.clock.now()).await.unwrap();
            let claimed = claimed.expect("an answer");
            assert_eq!(claimed.chat, Some(ChatKey::new(Channel::Telegram, "super")));
            assert_eq!(office.store.households().await.unwrap().len(), 1);
        }
    });
}
