//! Households, their people, messages and logs.

use larderling::channel::{Channel, ChatKey};
use larderling::conversation::{Memory, MessageId};
use larderling::dates::KitchenDay;
use larderling::kitchen::{Event, EventId, PersonId, State, What};
use larderling::store::{Author, NewMessage, Store};

use super::{chat, founded, member, noon, on_both, writer};

fn setting(id: u64, value: &str, message: Option<u64>) -> Event {
    Event {
        id: EventId(id),
        person: Some(PersonId(1)),
        at: noon(),
        day: KitchenDay::new(2026, 2, 28).unwrap(),
        message: message.map(MessageId),
        replaces: message.map(|number| MessageId(number - 1)),
        what: What::SettingChanged { key: "post".to_owned(), value: value.to_owned() },
    }
}

async fn words(store: &Store, house: &larderling::store::HouseholdId) -> Vec<Option<String>> {
    let messages = store.messages(house).await.unwrap();
    messages.into_iter().map(|message| message.words).collect()
}

#[test]
fn a_chat_leads_to_its_household_and_a_topic_to_the_chats() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let other = founded(&store, "other").await;
        assert_eq!(store.household_of_chat(&chat("home")).await.unwrap(), Some(house.clone()));
        assert_eq!(store.household_of_chat(&chat("other")).await.unwrap(), Some(other));
        let topic = ChatKey { topic: "5".to_owned(), ..chat("home") };
        assert_eq!(store.household_of_chat(&topic).await.unwrap(), Some(house));
        assert_eq!(store.household_of_chat(&chat("nobody's")).await.unwrap(), None);
        let console = ChatKey::new(Channel::Console, "home");
        assert_eq!(store.household_of_chat(&console).await.unwrap(), None, "another channel");
    });
}

#[test]
fn a_home_that_moves_stays_the_same_household_however_often_it_is_told() {
    on_both(async |store| {
        let house = founded(&store, "group").await;
        for _ in 0..2 {
            let mut tx = store.begin().await.unwrap();
            tx.move_home(&house, &chat("supergroup")).await.unwrap();
            assert_eq!(tx.chat_of(&house, None).await.unwrap(), Some(chat("supergroup")));
            tx.commit().await.unwrap();
        }
        for key in ["group", "supergroup"] {
            assert_eq!(store.household_of_chat(&chat(key)).await.unwrap(), Some(house.clone()));
        }
    });
}

#[test]
fn a_moved_home_wins_over_a_household_founded_there_by_mistake() {
    on_both(async |store| {
        let house = founded(&store, "group").await;
        let stray = founded(&store, "supergroup").await;
        let mut tx = store.begin().await.unwrap();
        tx.move_home(&house, &chat("supergroup")).await.unwrap();
        assert_eq!(tx.chat_of(&stray, None).await.unwrap(), None);
        tx.commit().await.unwrap();
        assert_eq!(store.household_of_chat(&chat("supergroup")).await.unwrap(), Some(house));
    });
}

#[test]
fn people_keep_their_number_through_renames_and_returns() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let ada = member(&store, &house, "Ada").await;
        let wren = member(&store, &house, "Wren").await;
        assert_eq!((ada, wren), (PersonId(1), PersonId(2)));
        let mut tx = store.begin().await.unwrap();
        tx.person_left(&house, ada, noon()).await.unwrap();
        tx.commit().await.unwrap();
        let known = async |name: &str| {
            store.household_of_person(Channel::Telegram, &writer(name).external).await.unwrap()
        };
        assert_eq!(known("Ada").await, None, "who left is not at home there");
        assert_eq!(known("Wren").await, Some((house.clone(), wren)));

        let mut tx = store.begin().await.unwrap();
        let renamed = larderling::channel::Writer { name: "Ada B".to_owned(), ..writer("Ada") };
        let again = tx.person(&house, Channel::Telegram, &renamed, noon()).await.unwrap();
        tx.commit().await.unwrap();
        assert_eq!(again, ada);
        let people = store.people(&house).await.unwrap();
        let names: Vec<&str> = people.iter().map(|person| person.name.as_str()).collect();
        assert_eq!(names, ["Ada B", "Wren"]);
        assert_eq!(people[0].left_at, None, "and is back");
    });
}

#[test]
fn a_private_chat_is_used_for_its_person_once_it_is_known() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let ada = member(&store, &house, "Ada").await;
        let mut tx = store.begin().await.unwrap();
        let own_id = chat(&writer("Ada").external);
        assert_eq!(tx.chat_of(&house, Some(ada)).await.unwrap(), Some(own_id));
        tx.add_private_chat(&house, &chat("ada and the bot"), ada).await.unwrap();
        let known = tx.chat_of(&house, Some(ada)).await.unwrap();
        assert_eq!(known, Some(chat("ada and the bot")));
        assert_eq!(tx.chat_of(&house, Some(PersonId(9))).await.unwrap(), None);
        tx.commit().await.unwrap();
    });
}

#[test]
fn messages_are_found_by_the_channels_id_and_their_words_can_go() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let ada = member(&store, &house, "Ada").await;
        let home = chat("home");
        let mut tx = store.begin().await.unwrap();
        let message = |number, external, person, words| NewMessage {
            number: MessageId(number),
            chat: &home,
            external,
            person,
            at: noon(),
            words,
        };
        let said = message(1, Some("77"), Some(ada), Some("got 3 leeks"));
        tx.write_message(&house, &said).await.unwrap();
        tx.write_message(&house, &message(2, None, None, None)).await.unwrap();
        tx.write_message(&house, &message(3, Some("78"), None, None)).await.unwrap();
        let find = tx.message_by_external(&house, &home, "77").await.unwrap();
        assert_eq!(find, Some((MessageId(1), Author::Person(ada))));
        let find = tx.message_by_external(&house, &home, "78").await.unwrap();
        assert_eq!(find, Some((MessageId(3), Author::Bot)));
        let elsewhere = tx.message_by_external(&house, &chat("other"), "77").await.unwrap();
        assert_eq!(elsewhere, None, "another chat has its own numbers");
        tx.rewrite_words(&house, MessageId(1), Some("got 4 leeks")).await.unwrap();
        let other = chat("other");
        assert!(tx.take_message_to(&house, MessageId(3), &other).await.unwrap());
        assert!(!tx.take_message_to(&house, MessageId(3), &other).await.unwrap(), "is there");
        assert!(!tx.take_message_to(&house, MessageId(1), &other).await.unwrap(), "not ours");
        assert_eq!(tx.message_by_external(&house, &home, "78").await.unwrap(), None);
        tx.commit().await.unwrap();
        assert_eq!(words(&store, &house).await[0].as_deref(), Some("got 4 leeks"));

        let mut tx = store.begin().await.unwrap();
        tx.rewrite_words(&house, MessageId(1), None).await.unwrap();
        tx.commit().await.unwrap();
        assert_eq!(words(&store, &house).await, [None, None, None]);
    });
}

#[test]
fn what_is_saved_is_what_is_loaded() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        member(&store, &house, "Ada").await;
        let log = [setting(1, "07:30", None), setting(2, "08:00", Some(5))];
        let state = State::fold(&log);
        let mut memory = Memory::default();
        memory.next_message();
        let mut tx = store.begin().await.unwrap();
        let taken = tx.take(&house).await.unwrap().expect("it is there");
        assert_eq!((taken.version, taken.last_event, taken.last_parcel), (1, 0, 0));
        tx.append(&house, &log).await.unwrap();
        tx.save(&house, &state, &memory, 4).await.unwrap();
        tx.commit().await.unwrap();

        let mut tx = store.begin().await.unwrap();
        let taken = tx.take(&house).await.unwrap().expect("it is there");
        assert_eq!((taken.version, taken.last_event, taken.last_message), (2, 2, 1));
        assert_eq!(taken.last_parcel, 4);
        let loaded = tx.load(&house).await.unwrap();
        assert_eq!(loaded.log, log);
        assert_eq!(loaded.state, state);
        assert_eq!(loaded.memory, memory);
        assert_eq!(loaded.names.values().collect::<Vec<_>>(), ["Ada"]);
        let other = larderling::store::HouseholdId::new(noon());
        assert_eq!(tx.take(&other).await.unwrap(), None, "nobody's household");
    });
}

#[test]
fn a_transaction_that_is_dropped_changes_nothing() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let before = store.households().await.unwrap();
        {
            let mut tx = store.begin().await.unwrap();
            tx.take(&house).await.unwrap();
            tx.append(&house, &[setting(1, "07:30", None)]).await.unwrap();
            tx.set_gone(&house, Some(noon())).await.unwrap();
        }
        assert_eq!(store.households().await.unwrap(), before);
        let loaded = store.begin().await.unwrap().load(&house).await.unwrap();
        assert!(loaded.log.is_empty());
    });
}

#[test]
fn the_same_event_number_is_refused_the_second_time() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let mut tx = store.begin().await.unwrap();
        let twice = [setting(1, "07:30", None), setting(1, "08:00", None)];
        let refused = tx.append(&house, &twice).await.expect_err("one number, one event");
        assert!(refused.is_passing(), "{refused}");
    });
}

#[test]
fn takers_of_one_household_wait_for_each_other() {
    on_both(async |store| {
        let house = founded(&store, "home").await;
        let mut tasks = tokio::task::JoinSet::new();
        for _ in 0..8 {
            let (store, house) = (store.clone(), house.clone());
            tasks.spawn(async move {
                for _ in 0..5 {
                    let mut tx = store.begin().await.unwrap();
                    let taken = tx.take(&house).await.unwrap().expect("it is there");
                    let state = State { last_event: taken.last_event + 1, ..State::default() };
                    tx.save(&house, &state, &Memory::default(), 0).await.unwrap();
                    tx.commit().await.unwrap();
                }
            });
        }
        while let Some(done) = tasks.join_next().await {
            done.unwrap();
        }
        assert_eq!(store.households().await.unwrap()[0].last_event, 40, "none was overwritten");
    });
}

#[test]
fn nothing_of_one_household_shows_in_another() {
    on_both(async |store| {
        let (ours, theirs) = (founded(&store, "ours").await, founded(&store, "theirs").await);
        let ada = member(&store, &ours, "Ada").await;
        let mut tx = store.begin().await.unwrap();
        let message = NewMessage {
            number: MessageId(1),
            chat: &chat("ours"),
            external: Some("1"),
            person: Some(ada),
            at: noon(),
            words: Some("ours"),
        };
        tx.write_message(&ours, &message).await.unwrap();
        tx.append(&ours, &[setting(1, "07:30", None)]).await.unwrap();
        // What names the other household's rows by their numbers meets nothing.
        tx.rewrite_words(&theirs, MessageId(1), Some("theirs")).await.unwrap();
        tx.person_left(&theirs, ada, noon()).await.unwrap();
        let found = tx.message_by_external(&theirs, &chat("ours"), "1").await.unwrap();
        assert_eq!(found, None);
        assert_eq!(tx.chat_of(&theirs, Some(ada)).await.unwrap(), None);
        let loaded = tx.load(&theirs).await.unwrap();
        assert!(loaded.log.is_empty() && loaded.names.is_empty());
        tx.commit().await.unwrap();
        assert_eq!(words(&store, &ours).await, [Some("ours".to_owned())]);
        assert!(store.messages(&theirs).await.unwrap().is_empty());
        assert!(store.people(&theirs).await.unwrap().is_empty());
        assert_eq!(store.people(&ours).await.unwrap()[0].left_at, None);
    });
}
