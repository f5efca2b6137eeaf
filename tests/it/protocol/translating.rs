//! From updates as they come to what happened.

use larderling::channel::telegram::{Me, Raw, translate};
use larderling::channel::{Arrival, Arrived, Channel, ChatKey, Spoken, Writer};
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

fn read(update: &Value) -> Arrival {
    let raw = Raw::from_value(update).unwrap();
    translate::arrival(&raw, &me(), RECEIVED).unwrap()
}

/// What the newest update says.
fn newest(messenger: &Messenger) -> Arrival {
    let state = messenger.lock();
    let update = state.updates.last().unwrap();
    let faults = referee::judge(&json!({ "updates": [update] }));
    assert!(faults.is_empty(), "{faults:?}: {update}");
    read(update)
}

fn spoken(arrival: Arrival) -> Spoken {
    match arrival.what {
        Arrived::Said { message, .. }
        | Arrived::Edited { message, .. }
        | Arrived::Unreadable { message, .. } => message,
        other => panic!("{other:?}"),
    }
}

fn writer(arrival: Arrival) -> Writer {
    match arrival.what {
        Arrived::Said { from, .. } => from,
        other => panic!("{other:?}"),
    }
}

fn somebody(id: i64, name: &str) -> Writer {
    Writer { external: id.to_string(), name: name.to_owned() }
}

fn chat(id: i64) -> ChatKey {
    ChatKey::new(Channel::Telegram, id.to_string())
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
    let arrival = newest(&messenger);
    assert_eq!(arrival.chat, chat(GROUP));
    assert_eq!(arrival.update, messenger.lock().updates[1]["update_id"].as_i64());
    let message = Spoken {
        external: Some(id.to_string()),
        text: "got 3 lb carrots\nand milk".to_owned(),
        reply_to: None,
        private: false,
        addressed: false,
    };
    assert_eq!(arrival.what, Arrived::Said { from: somebody(11, "Ann <3"), message });
}

#[test]
fn a_text_in_private_is_marked_so() {
    let (messenger, ann, _) = kitchen();
    let room = messenger.private(&ann);
    messenger.says(&ann, room, "milk?");
    assert_eq!(newest(&messenger).chat, chat(11));
    assert!(spoken(newest(&messenger)).private);
}

#[test]
fn an_answer_names_the_message_it_answers() {
    let (messenger, ann, ben) = kitchen();
    let said = messenger.says(&ann, GROUP, "soup tonight");
    messenger.answers(&ben, GROUP, said, "again?");
    assert_eq!(spoken(newest(&messenger)).reply_to, Some(said.to_string()));
}

#[test]
fn the_handle_and_commands_become_plain_words() {
    let table: [(&str, Option<(&str, bool)>); 16] = [
        ("@larder_test_bot", Some(("help", true))),
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
        let found = match newest(&messenger).what {
            Arrived::Said { message, .. } => Some((message.text, message.addressed)),
            Arrived::Nothing => None,
            other => panic!("{other:?}"),
        };
        let found = found.as_ref().map(|(text, addressed)| (text.as_str(), *addressed));
        assert_eq!(found, expected, "{text:?}");
    }
}

#[test]
fn what_a_link_into_the_chat_carries_is_no_words() {
    let (messenger, ann, _) = kitchen();
    let room = messenger.private(&ann);
    messenger.says(&ann, room, "/start Zx81_-a");
    let Arrived::Called { token, message, .. } = newest(&messenger).what else { panic!() };
    assert_eq!((token.as_str(), message.text.as_str()), ("Zx81_-a", "help"));
    // Longer than a link can carry, or with other letters: words, of which nothing is made.
    for text in [format!("/start {}", "x".repeat(65)), "/start a b".to_owned()] {
        messenger.says(&ann, room, &text);
        assert_eq!(spoken(newest(&messenger)).text, "help", "{text}");
    }
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
        let Arrived::Unreadable { message, kind: found, .. } = newest(&messenger).what else {
            panic!("{item:?}")
        };
        assert_eq!((found, message.text.as_str()), (kind, caption));
    }
}

#[test]
fn other_bots_and_messages_through_bots_are_nobody_s_business() {
    let (messenger, ann, _) = kitchen();
    let other = Person::bot(99, "Noise");
    messenger.says(&other, GROUP, "got 3 leeks");
    assert_eq!(newest(&messenger).what, Arrived::Nothing);
    messenger.says_through(&ann, &other, GROUP, "got 3 leeks");
    assert_eq!(newest(&messenger).what, Arrived::Nothing);
    messenger.joins(&other, GROUP);
    assert_eq!(newest(&messenger).what, Arrived::Nothing);
}

#[test]
fn an_unnamed_administrator_writes_as_the_group() {
    let (messenger, _, _) = kitchen();
    messenger.says_unnamed(GROUP, "got 3 leeks");
    assert_eq!(writer(newest(&messenger)), somebody(GROUP, "Kitchen"));

    let mut update = messenger.lock().updates.last().unwrap().clone();
    update["message"]["sender_chat"] =
        json!({ "id": -1_009_999, "type": "channel", "title": "News" });
    assert_eq!(writer(read(&update)), somebody(-1_009_999, "News"));
    update["message"]["is_automatic_forward"] = json!(true);
    assert_eq!(read(&update).what, Arrived::Nothing, "a channel's own post is nobody speaking");
}

#[test]
fn a_topic_is_told_from_the_general_one_and_from_plain_replies() {
    let messenger = Messenger::asleep();
    let ann = Person::new(11, "Ann");
    messenger.group(SUPERGROUP, "Kitchen", &[&ann]);
    let topic = messenger.opens_topic(&ann, SUPERGROUP, "Food");
    assert_eq!(newest(&messenger).what, Arrived::Nothing);
    messenger.says_in(&ann, SUPERGROUP, topic, "got 3 leeks");
    assert_eq!(newest(&messenger).chat.topic, topic.to_string());

    // Clients make every message of a topic an answer to its opening.
    let mut update = messenger.lock().updates.last().unwrap().clone();
    update["message"]["reply_to_message"] = messenger.lock().updates[1]["message"].clone();
    assert_eq!(spoken(read(&update)).reply_to, None);

    // A thread number without the mark of a topic is a plain reply in the general topic.
    update["message"]["is_topic_message"] = json!(false);
    assert_eq!(read(&update).chat.topic, "");
}

#[test]
fn an_edited_message_keeps_its_number() {
    let (messenger, ann, _) = kitchen();
    let id = messenger.says(&ann, GROUP, "got 3 leeks");
    messenger.edits(GROUP, id, "got 4 leeks");
    let arrival = newest(&messenger);
    assert!(matches!(arrival.what, Arrived::Edited { .. }));
    let message = spoken(arrival);
    assert_eq!((message.external, message.text.as_str()), (Some(id.to_string()), "got 4 leeks"));
}

#[test]
fn a_press_names_the_message_the_button_and_the_person() {
    let (messenger, ann, ben) = kitchen();
    let id = messenger.says(&ann, GROUP, "stands in for a message of the bot");
    let press = messenger.forges_press(&ben, GROUP, id, "undo");
    let arrival = newest(&messenger);
    assert_eq!(arrival.at, RECEIVED, "a press carries no moment of its own");
    let expected = |on: i64| Arrived::Pressed {
        from: somebody(12, "Ben_&"),
        on: on.to_string(),
        key: "undo".to_owned(),
        private: false,
        query: Some(press.clone()),
    };
    assert_eq!((arrival.chat, arrival.what), (chat(GROUP), expected(id)));

    // The message may be too old for the platform to show.
    let mut update = messenger.lock().updates.last().unwrap().clone();
    let group = json!({ "id": GROUP, "type": "group", "title": "Kitchen" });
    update["callback_query"]["message"] = json!({ "chat": group, "message_id": 3, "date": 0 });
    assert_eq!(read(&update).what, expected(3));
}

#[test]
fn comings_goings_and_moves_are_told() {
    let (messenger, ann, _) = kitchen();
    let told = || {
        let arrival = newest(&messenger);
        (arrival.chat, arrival.what)
    };
    let welcomed =
        Arrived::Welcomed { by: Some(somebody(11, "Ann <3")), hears: true, private: false };
    assert_eq!(told(), (chat(GROUP), welcomed));
    let cleo = Person::new(13, "Cleo");
    messenger.joins(&cleo, GROUP);
    assert_eq!(told(), (chat(GROUP), Arrived::Joined { who: vec![somebody(13, "Cleo")] }));
    messenger.leaves(&cleo, GROUP);
    assert_eq!(told(), (chat(GROUP), Arrived::Left { who: somebody(13, "Cleo") }));
    messenger.moves(GROUP, SUPERGROUP);
    let moved = (chat(GROUP), Arrived::Moved { to: chat(SUPERGROUP) });
    messenger.announces_new_home(&ann, GROUP);
    assert_eq!(told(), moved);
    messenger.announces_old_home(&ann, SUPERGROUP, GROUP);
    assert_eq!(told(), moved, "both signals say the same");
    messenger.removes_bot(&ann, SUPERGROUP);
    assert_eq!(told(), (chat(SUPERGROUP), Arrived::Dismissed));
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
    assert_eq!(spoken(read(&update)).text, "got 3 leeks");
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
        assert_eq!(read(&update).what, Arrived::Nothing, "{update}");
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
        let raw = Raw { id: 1, chat: None, body: body.to_owned() };
        let error = translate::arrival(&raw, &me(), RECEIVED).unwrap_err();
        assert!(!format!("{error} {error:?}").contains("secret"), "{error}");
    }
}
