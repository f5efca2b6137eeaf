//! From updates as they come to what happened.

use larderling::channel::telegram::{Me, translate};
use larderling::channel::{Author, ChatKind, Happening, Inbound, Post};
use larderling::conversation::Unreadable;
use larderling::dates::Instant;
use serde_json::{Value, json};

use crate::support::messenger::{BOT_HANDLE, BOT_ID, Item, Messenger, Person};
use crate::support::referee;

const GROUP: i64 = -40;
const SUPERGROUP: i64 = -1_001_234_567_890;
const RECEIVED: Instant = Instant::from_seconds(1_790_000_000);

fn me() -> Me {
    Me { id: BOT_ID, username: BOT_HANDLE.to_owned(), can_read_all_group_messages: true }
}

fn read(update: &Value) -> Option<Inbound> {
    translate::inbound(&update.to_string(), &me(), RECEIVED).unwrap()
}

/// What the newest update says.
fn newest(messenger: &Messenger) -> Option<Inbound> {
    let state = messenger.lock();
    let update = state.updates.last().unwrap();
    let faults = referee::judge(&json!({ "updates": [update] }));
    assert!(faults.is_empty(), "{faults:?}: {update}");
    read(update)
}

fn newest_post(messenger: &Messenger) -> Post {
    match newest(messenger).map(|inbound| inbound.what) {
        Some(Happening::Said(post)) => post,
        other => panic!("{other:?}"),
    }
}

fn somebody(id: i64, name: &str) -> Author {
    Author::Person { id, name: name.to_owned(), language: Some("en".to_owned()) }
}

/// A group with two people and the bot.
fn kitchen() -> (Messenger, Person, Person) {
    let messenger = Messenger::asleep();
    let (ann, ben) = (Person::new(11, "Ann <3"), Person::new(12, "Ben_&"));
    messenger.group(GROUP, "Kitchen", &[&ann, &ben]);
    (messenger, ann, ben)
}

#[test]
fn a_text_in_a_group_is_not_spoken_to_the_bot() {
    let (messenger, ann, _) = kitchen();
    let id = messenger.says(&ann, GROUP, "got 3 lb carrots\nand milk");
    let inbound = newest(&messenger).unwrap();
    assert_eq!((inbound.chat.id, inbound.chat.kind), (GROUP, ChatKind::Group));
    assert_eq!(inbound.chat.title.as_deref(), Some("Kitchen"));
    let Happening::Said(post) = inbound.what else { panic!() };
    assert_eq!(
        post,
        Post {
            id,
            topic: None,
            author: somebody(11, "Ann <3"),
            text: "got 3 lb carrots\nand milk".to_owned(),
            unreadable: None,
            addressed: false,
            reply_to: None,
            album: None,
            invitation: None,
        }
    );
}

#[test]
fn a_text_in_private_is_spoken_to_the_bot() {
    let (messenger, ann, _) = kitchen();
    let chat = messenger.private(&ann);
    messenger.says(&ann, chat, "milk?");
    let inbound = newest(&messenger).unwrap();
    assert_eq!((inbound.chat.id, inbound.chat.kind), (11, ChatKind::Private));
    assert!(newest_post(&messenger).addressed);
}

#[test]
fn only_a_reply_to_the_bot_is_spoken_to_it() {
    let (messenger, ann, ben) = kitchen();
    let said = messenger.says(&ann, GROUP, "soup tonight");
    messenger.answers(&ben, GROUP, said, "again?");
    let post = newest_post(&messenger);
    assert_eq!((post.reply_to, post.addressed), (Some(said), false));

    let mut update = messenger.lock().updates.last().unwrap().clone();
    update["message"]["reply_to_message"]["from"] =
        json!({ "id": BOT_ID, "is_bot": true, "first_name": "Larder", "username": BOT_HANDLE });
    let Some(Happening::Said(post)) = read(&update).map(|inbound| inbound.what) else { panic!() };
    assert!(post.addressed);
}

#[test]
fn the_handle_and_commands_become_plain_words() {
    let table: [(&str, Option<(&str, bool)>); 15] = [
        ("@larder_test_bot what's first?", Some(("what's first?", true))),
        ("@Larder_Test_Bot, any garlic?", Some(("any garlic?", true))),
        ("any garlic @larder_test_bot", Some(("any garlic", true))),
        ("ask @larder_test_bot2 instead", Some(("ask @larder_test_bot2 instead", false))),
        ("mail x@larder_test_bot", Some(("mail x@larder_test_bot", false))),
        ("/help", Some(("help", true))),
        ("/help@larder_test_bot", Some(("help", true))),
        ("/FIRST@LARDER_TEST_BOT", Some(("what's first?", true))),
        ("/undo", Some(("undo", true))),
        ("/help@other_bot", None),
        ("/banana", None),
        ("/banana@other_bot split", None),
        ("/banana@larder_test_bot split", Some(("banana split", true))),
        ("/3 of the cake", None),
        ("1/2 the cake", Some(("1/2 the cake", false))),
    ];
    let (messenger, ann, _) = kitchen();
    for (text, expected) in table {
        messenger.says(&ann, GROUP, text);
        let found = newest(&messenger).map(|inbound| match inbound.what {
            Happening::Said(post) => (post.text, post.addressed),
            other => panic!("{other:?}"),
        });
        let found = found.as_ref().map(|(text, addressed)| (text.as_str(), *addressed));
        assert_eq!(found, expected, "{text:?}");
    }
}

#[test]
fn a_link_into_the_chat_carries_its_word() {
    let (messenger, ann, _) = kitchen();
    let chat = messenger.private(&ann);
    messenger.says(&ann, chat, "/start Zx81_-a");
    let post = newest_post(&messenger);
    assert_eq!((post.text.as_str(), post.invitation.as_deref()), ("help", Some("Zx81_-a")));
}

#[test]
fn what_the_bot_cannot_read_comes_with_its_kind_and_caption() {
    let (messenger, ann, _) = kitchen();
    let table = [
        (Item::Photo, Unreadable::Photo),
        (Item::Voice, Unreadable::Voice),
        (Item::Sticker, Unreadable::Sticker),
        (Item::Document, Unreadable::Document),
        (Item::Poll, Unreadable::Poll),
    ];
    for (item, kind) in table {
        let caption = if item == Item::Photo { "can we eat this?" } else { "" };
        messenger.sends(&ann, GROUP, item, caption);
        let post = newest_post(&messenger);
        assert_eq!((post.unreadable, post.text.as_str()), (Some(kind), caption));
    }
}

#[test]
fn other_bots_and_messages_through_bots_are_nobody_s_business() {
    let (messenger, ann, _) = kitchen();
    let other = Person::bot(99, "Noise");
    messenger.says(&other, GROUP, "got 3 leeks");
    assert_eq!(newest(&messenger), None);
    messenger.says_through(&ann, &other, GROUP, "got 3 leeks");
    assert_eq!(newest(&messenger), None);
    messenger.joins(&other, GROUP);
    assert_eq!(newest(&messenger), None);
}

#[test]
fn an_unnamed_administrator_is_the_group() {
    let (messenger, _, _) = kitchen();
    messenger.says_unnamed(GROUP, "got 3 leeks");
    assert_eq!(newest_post(&messenger).author, Author::Group);

    let mut update = messenger.lock().updates.last().unwrap().clone();
    update["message"]["sender_chat"] =
        json!({ "id": -1_009_999, "type": "channel", "title": "News" });
    let author = |update: &Value| match read(update).map(|inbound| inbound.what) {
        Some(Happening::Said(post)) => Some(post.author),
        None => None,
        other => panic!("{other:?}"),
    };
    let channel = Author::Chat { id: -1_009_999, title: "News".to_owned() };
    assert_eq!(author(&update), Some(channel));
    update["message"]["is_automatic_forward"] = json!(true);
    assert_eq!(author(&update), None, "a channel's own post is nobody speaking");
}

#[test]
fn a_topic_is_told_from_the_general_one_and_from_plain_replies() {
    let messenger = Messenger::asleep();
    let ann = Person::new(11, "Ann");
    messenger.group(SUPERGROUP, "Kitchen", &[&ann]);
    let topic = messenger.opens_topic(&ann, SUPERGROUP, "Food");
    assert_eq!(newest(&messenger), None);
    messenger.says_in(&ann, SUPERGROUP, topic, "got 3 leeks");
    assert_eq!(newest_post(&messenger).topic, Some(topic));

    // Clients make every message of a topic an answer to its opening.
    let mut update = messenger.lock().updates.last().unwrap().clone();
    update["message"]["reply_to_message"] = messenger.lock().updates[1]["message"].clone();
    let Some(Happening::Said(post)) = read(&update).map(|inbound| inbound.what) else { panic!() };
    assert_eq!(post.reply_to, None);

    // A thread number without the mark of a topic is a plain reply in the general topic.
    update["message"]["is_topic_message"] = json!(false);
    let Some(Happening::Said(post)) = read(&update).map(|inbound| inbound.what) else { panic!() };
    assert_eq!(post.topic, None);
}

#[test]
fn an_edited_message_keeps_its_number() {
    let (messenger, ann, _) = kitchen();
    let id = messenger.says(&ann, GROUP, "got 3 leeks");
    messenger.edits(GROUP, id, "got 4 leeks");
    let Some(Happening::Edited(post)) = newest(&messenger).map(|inbound| inbound.what) else {
        panic!()
    };
    assert_eq!((post.id, post.text.as_str()), (id, "got 4 leeks"));
}

#[test]
fn a_press_names_the_message_the_button_and_the_person() {
    let (messenger, ann, ben) = kitchen();
    let id = messenger.says(&ann, GROUP, "stands in for a message of the bot");
    let press = messenger.forges_press(&ben, GROUP, id, "undo");
    let inbound = newest(&messenger).unwrap();
    assert_eq!(inbound.at, RECEIVED, "a press carries no moment of its own");
    let Happening::Pressed(found) = inbound.what else { panic!() };
    assert_eq!((found.id, found.on, found.key.as_str()), (press, id, "undo"));
    assert_eq!(found.author, somebody(12, "Ben_&"));

    // The message may be too old for the platform to show.
    let mut update = messenger.lock().updates.last().unwrap().clone();
    let chat = json!({ "id": GROUP, "type": "group", "title": "Kitchen" });
    update["callback_query"]["message"] = json!({ "chat": chat, "message_id": 3, "date": 0 });
    let Some(Happening::Pressed(found)) = read(&update).map(|inbound| inbound.what) else {
        panic!()
    };
    assert_eq!(found.on, 3);
}

#[test]
fn comings_goings_and_moves_are_told() {
    let (messenger, ann, _) = kitchen();
    let what = || newest(&messenger).map(|inbound| inbound.what);
    assert_eq!(what(), Some(Happening::Opened { by: somebody(11, "Ann <3") }));
    let cleo = Person::new(13, "Cleo");
    messenger.joins(&cleo, GROUP);
    assert_eq!(what(), Some(Happening::Joined(vec![somebody(13, "Cleo")])));
    messenger.leaves(&cleo, GROUP);
    assert_eq!(what(), Some(Happening::Left(somebody(13, "Cleo"))));
    messenger.moves(GROUP, SUPERGROUP);
    messenger.announces_new_home(&ann, GROUP);
    assert_eq!(what(), Some(Happening::MovedTo(SUPERGROUP)));
    messenger.announces_old_home(&ann, SUPERGROUP, GROUP);
    assert_eq!(what(), Some(Happening::MovedFrom(GROUP)));
    messenger.removes_bot(&ann, SUPERGROUP);
    assert_eq!(what(), Some(Happening::Closed));
}

#[test]
fn marks_and_fields_of_later_days_do_not_cost_the_message() {
    let (messenger, ann, _) = kitchen();
    messenger.says(&ann, GROUP, "got 3 leeks");
    let mut update = messenger.lock().updates.last().unwrap().clone();
    update["message"]["entities"] = json!([{ "type": "shiny", "offset": 0, "length": 3 }]);
    update["message"]["link_preview_options"] = json!("gone odd");
    update["message"]["shiny_field"] = json!({ "of": ["later", "days"] });
    update["shiny_sibling"] = json!(1);
    let Some(Happening::Said(post)) = read(&update).map(|inbound| inbound.what) else { panic!() };
    assert_eq!(post.text, "got 3 leeks");
}

#[test]
fn what_does_not_concern_us_is_nothing() {
    let person = json!({ "id": 11, "is_bot": false, "first_name": "Ann" });
    let group = json!({ "id": GROUP, "type": "group", "title": "Kitchen" });
    let channel = json!({ "id": -1_001, "type": "channel", "title": "News" });
    let from_group = |extra: Value| {
        let mut message = json!({ "message_id": 1, "date": 1, "chat": group, "from": person });
        message.as_object_mut().unwrap().extend(extra.as_object().unwrap().clone());
        json!({ "update_id": 1, "message": message })
    };
    let table = [
        json!({ "update_id": 1 }),
        json!({ "update_id": 1, "shiny_new_kind": { "a": 1 } }),
        json!({ "update_id": 1, "message_reaction": {
            "chat": group, "message_id": 5, "date": 1, "old_reaction": [], "new_reaction": [],
        } }),
        json!({ "update_id": 1, "channel_post": {
            "message_id": 1, "date": 1, "chat": channel, "text": "got 3 leeks",
        } }),
        from_group(json!({ "shiny_content": {} })),
        from_group(json!({ "new_chat_title": "Larder" })),
        from_group(json!({ "pinned_message": { "message_id": 1, "date": 0, "chat": group } })),
        from_group(json!({ "text": "" })),
    ];
    for update in table {
        assert_eq!(read(&update), None, "{update}");
    }
}

#[test]
fn a_broken_update_is_an_error_that_shows_nothing_of_it() {
    let table = [
        r#"{"update_id":1,"message":{"message_id":1,"text":"Ann's secret"}}"#,
        r#"{"update_id":1,"message":{"message_id":"Ann's secret"}}"#,
        r#"{"update_id":1,"message":{"text":"Ann's secret""#,
        r#"["Ann's secret"]"#,
    ];
    for body in table {
        let error = translate::inbound(body, &me(), RECEIVED).unwrap_err();
        assert!(!format!("{error} {error:?}").contains("secret"), "{error}");
    }
}
