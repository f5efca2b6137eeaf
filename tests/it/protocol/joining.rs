//! Into a group: set-up, who may decide, invites, several households, whom the operator lets in.

use crate::support::messenger::{BOT_HANDLE, Message, Messenger, Person};
use crate::support::process::{Signal, World};

const GROUP: i64 = -40;
const OTHER_GROUP: i64 = -41;

fn ann() -> Person {
    Person::new(11, "Ann")
}

fn ben() -> Person {
    Person::new(12, "Ben")
}

fn cleo() -> Person {
    Person::new(13, "Cleo")
}

/// A running program that Ann, an administrator, has just let into a group with Ben.
fn let_in() -> (World, Message) {
    let world = World::new();
    world.messenger.group(GROUP, "Kitchen", &[&ann(), &ben()]);
    let welcome = newest(&world, GROUP, "the welcome");
    (world, welcome)
}

fn newest(world: &World, chat: i64, what: &str) -> Message {
    world.messenger.until(what, |state| state.shown(chat).last().map(|m| (*m).clone()))
}

/// Presses a button and waits until the message reads otherwise.
fn tap(world: &World, person: &Person, on: &Message, label: &str) -> Message {
    let chat =
        if world.messenger.lock().message(GROUP, on.id).is_some() { GROUP } else { OTHER_GROUP };
    world.messenger.presses(person, chat, on.id, label);
    world.messenger.until(&format!("an edit after {label}"), |state| {
        state.message(chat, on.id).filter(|now| now.edits > on.edits).cloned()
    })
}

fn labels(message: &Message) -> Vec<&str> {
    message.buttons.iter().map(|(label, _)| label.as_str()).collect()
}

fn settings(world: &World) -> String {
    world.asks(&ann(), GROUP, "larderling, settings").text
}

#[test]
fn three_taps_set_the_kitchen_up_in_one_message() {
    let (world, welcome) = let_in();
    assert!(welcome.silent && welcome.text.contains("1 of 3"), "{welcome:?}");
    // Whoever did not let it in and is no administrator changes nothing, and is told so alone.
    let press = world.messenger.presses(&ben(), GROUP, welcome.id, "Europe");
    world.until_answered(&press);

    let region = tap(&world, &ann(), &welcome, "Europe");
    let group = labels(&region).into_iter().find(|label| {
        label.split_once(" to ").is_some_and(|(first, last)| first <= "Vienna" && "Vienna" <= last)
    });
    let group = group.expect("a group of cities with Vienna in it").to_owned();
    let cities = tap(&world, &ann(), &region, &group);
    let hour = tap(&world, &ann(), &cities, "Vienna");
    assert!(hour.text.contains("2 of 3") && hour.text.contains("Vienna"), "{hour:?}");
    let money = tap(&world, &ann(), &hour, "07:30");
    assert!(money.text.contains("3 of 3"), "{money:?}");
    let done = tap(&world, &ann(), &money, "Kilos and litres, EUR");
    assert!(done.text.contains("we have 3 leeks"), "the next step: {done:?}");
    assert!(done.buttons.is_empty());

    let state = world.messenger.lock();
    assert_eq!(state.shown(GROUP).len(), 1, "all in one message");
    assert!(state.presses[&press].text.as_deref().is_some_and(|text| text.contains("decide")));
    for (message, label) in [(&welcome, "Europe"), (&hour, "07:30")] {
        assert!(message.buttons.iter().all(|(_, data)| data.len() <= 64), "{label}");
    }
    drop(state);
    let set = settings(&world);
    for words in ["Europe/Vienna", "07:30", "Kilos", "EUR"] {
        assert!(set.contains(words), "{words}: {set}");
    }
    world.finish();
}

#[test]
fn a_city_may_be_typed_and_the_rest_left_to_the_usual_settings() {
    let (world, welcome) = let_in();
    world.messenger.says(&ben(), GROUP, "Vienna");
    world.messenger.says(&ann(), GROUP, "buenos aires");
    let hour = world.messenger.until("the next step", |state| {
        state.message(GROUP, welcome.id).filter(|now| now.edits > 0).cloned()
    });
    assert!(hour.text.contains("Buenos Aires"), "{hour:?}");
    // Nobody taps on: what is told counts all the same, and the usual hour stands.
    assert!(world.asks(&ben(), GROUP, "we have 3 leeks and half a squash").text.contains("leek"));
    let set = settings(&world);
    assert!(set.contains("Buenos_Aires") && set.contains("07:00"), "{set}");
    world.finish();
}

#[test]
fn a_group_it_cannot_hear_is_told_so_once_and_how_to_cure_it() {
    let mut world = World::without_program(Messenger::start());
    world.messenger.lock().privacy = true;
    world.start();
    world.messenger.group(GROUP, "Kitchen", &[&ann(), &ben()]);
    let welcome = newest(&world, GROUP, "the welcome");
    assert!(welcome.text.contains("administrator") && welcome.text.contains("privacy"));
    // Answers to its messages and commands still work.
    let said = world.messenger.answers(&ann(), GROUP, welcome.id, "we have 3 leeks");
    assert!(world.reply_to(GROUP, said).text.contains("leek"));
    for _ in 0..10 {
        world.stop(Signal::Terminate);
        world.start();
    }
    let have = world.asks(&ann(), GROUP, "/have");
    assert!(have.text.contains("leek"), "{have:?}");
    let state = world.messenger.lock();
    let notices = state.shown(GROUP).iter().filter(|m| m.text.contains("privacy off")).count();
    assert_eq!(notices, 1);
    drop(state);
    world.finish();
}

#[test]
fn an_administrator_s_bot_hears_and_needs_no_notice() {
    let world = World::new();
    world.messenger.lock().privacy = true;
    world.messenger.lets_bot_in_as(&ann(), GROUP, "Kitchen", "administrator");
    let welcome = newest(&world, GROUP, "the welcome");
    assert!(!welcome.text.contains("privacy off"), "{welcome:?}");
    world.finish();
}

#[test]
fn what_concerns_all_is_for_whoever_let_it_in_and_for_administrators() {
    let world = World::new();
    // Ben lets it in; Ann is the administrator; Cleo is neither.
    world.messenger.group_let_in_by(GROUP, "Kitchen", &[&ann(), &ben(), &cleo()], &ben());
    newest(&world, GROUP, "the welcome");
    let refused = |text: &str| {
        let told = world.asks(&cleo(), GROUP, text);
        assert!(told.text.contains("to decide"), "{text}: {told:?}");
    };
    for text in [
        "larderling, post at 8:30",
        "larderling, target 5",
        "larderling, export",
        "larderling, delete everything",
        "larderling, invite",
        "larderling, names on",
        "larderling, forget Ben",
        &format!("/export@{BOT_HANDLE}"),
    ] {
        refused(text);
    }
    // Everyday logging and one's own ways are open to all.
    assert!(world.asks(&cleo(), GROUP, "got 3 leeks").text.contains("leek"));
    assert!(world.asks(&cleo(), GROUP, "larderling, the porch is 7C").text.contains("porch"));
    for (person, hour) in [(ben(), "08:10"), (ann(), "08:20")] {
        let told = world.asks(&person, GROUP, &format!("larderling, post at {hour}"));
        assert!(told.text.contains(hour), "{told:?}");
    }
    let said = world.messenger.says_unnamed(GROUP, "larderling, post at 8:40");
    assert!(world.reply_to(GROUP, said).text.contains("08:40"));
    // Taking such a setting back is no way round it.
    refused("larderling, undo");
    assert!(settings(&world).contains("08:40"));
    // In private the same person has the same rights.
    let room = world.messenger.private(&cleo());
    assert!(world.asks(&cleo(), room, "post at 9:00").text.contains("to decide"));
    let room = world.messenger.private(&ann());
    assert!(world.asks(&ann(), room, "post at 9:00").text.contains("09:00"));
    assert!(settings(&world).contains("09:00"), "one household, whichever chat");
    world.finish();
}

#[test]
fn a_press_from_outside_the_group_changes_nothing() {
    let (world, _) = let_in();
    let noted = world.asks(&ann(), GROUP, "got 3 leeks");
    let stranger = Person::new(66, "Stranger");
    let press = world.messenger.forges_press(&stranger, GROUP, noted.id, "undo");
    world.until_answered(&press);
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?");
    assert!(have.text.contains("leek"), "{have:?}");
    // A member who never wrote may press.
    let press = world.messenger.presses(&ben(), GROUP, noted.id, "undo");
    world.until_answered(&press);
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?");
    assert!(!have.text.contains("leek"), "{have:?}");
    world.finish();
}

#[test]
fn an_invite_lets_one_person_in_once() {
    let (world, _) = let_in();
    world.asks(&ann(), GROUP, "got 3 leeks");
    let invite = world.asks(&ann(), GROUP, "larderling, invite");
    let (_, token) = invite.text.rsplit_once("?start=").expect("a link");
    let token = token.split_whitespace().next().unwrap().to_owned();
    assert!(token.len() >= 22 && token.len() <= 64, "{token}");

    let room = world.messenger.private(&cleo());
    let dora = Person::new(14, "Dora");
    let other_room = world.messenger.private(&dora);
    // Guesses let nobody in.
    world.messenger.says(&dora, other_room, "/start 0000000000000000000000000000000a");
    world.messenger.until("a refusal", |state| {
        state.shown(other_room).iter().any(|m| m.text.contains("used already")).then_some(())
    });
    world.messenger.says(&cleo(), room, &format!("/start {token}"));
    world.messenger.until("a greeting", |state| {
        state.shown(room).iter().any(|m| m.text.contains("You are in")).then_some(())
    });
    let have = world.asks(&cleo(), room, "what do we have?");
    assert!(have.text.contains("leek"), "the group's kitchen: {have:?}");
    // The same token again, by another and by the same person.
    for (person, chat) in [(&dora, other_room), (&cleo(), room)] {
        let before = world.messenger.lock().shown(chat).len();
        world.messenger.says(person, chat, &format!("/start {token}"));
        world.messenger.until("a refusal", |state| {
            let new = &state.shown(chat)[before..];
            new.iter().any(|m| m.text.contains("used already")).then_some(())
        });
    }
    let people = world.query("SELECT name FROM person WHERE name = 'Dora'").len();
    assert_eq!(people, 0, "nobody joined by guessing");
    world.finish();
}

#[test]
fn somebody_in_two_kitchens_is_asked_which_one_is_meant() {
    let (world, _) = let_in();
    world.messenger.group(OTHER_GROUP, "Allotment", &[&cleo(), &ann()]);
    newest(&world, OTHER_GROUP, "the second welcome");
    world.asks(&ann(), GROUP, "got 3 leeks");
    world.asks(&ann(), OTHER_GROUP, "got 2 melons");
    let room = world.messenger.private(&ann());
    world.messenger.says(&ann(), room, "got 5 plums");
    let asked = newest(&world, room, "the question");
    assert_eq!(labels(&asked), ["Kitchen", "Allotment"], "{asked:?}");
    // A household she is not in cannot be chosen.
    let forged = format!("home:{}", "0198c0de-0000-7000-8000-000000000000");
    let press = world.messenger.forges_press(&ann(), room, asked.id, &forged);
    world.until_answered(&press);
    let press = world.messenger.presses(&ann(), room, asked.id, "Allotment");
    world.until_answered(&press);
    // What she wrote counts for the one she chose, and so does what she writes next.
    let have = world.asks(&ann(), room, "what do we have?").text;
    assert!(have.contains("plum") && have.contains("melon") && !have.contains("leek"), "{have}");
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?").text;
    assert!(!have.contains("plum"), "nothing crosses over: {have}");
    // And she can turn the chat to the other one.
    world.messenger.says(&ann(), room, "other kitchen");
    let asked = world.messenger.until("the question again", |state| {
        let asks = |message: &&Message| labels(message).contains(&"Kitchen");
        let again = state.shown(room).into_iter().rfind(asks);
        again.filter(|again| again.id != asked.id).cloned()
    });
    let press = world.messenger.presses(&ann(), room, asked.id, "Kitchen");
    world.until_answered(&press);
    let have = world.asks(&ann(), room, "what do we have?").text;
    assert!(have.contains("leek") && !have.contains("melon"), "{have}");
    world.finish();
}

#[test]
fn whoever_left_the_group_has_no_way_in_by_their_private_chat() {
    let (world, _) = let_in();
    world.asks(&ben(), GROUP, "got 3 leeks");
    let room = world.messenger.private(&ben());
    assert!(world.asks(&ben(), room, "what do we have?").text.contains("leek"));
    world.messenger.leaves(&ben(), GROUP);
    world.until_handled();
    let before = world.messenger.lock().shown(room).len();
    world.messenger.says(&ben(), room, "what do we have?");
    world.messenger.until("a refusal", |state| {
        let new = &state.shown(room)[before..];
        new.iter().find(|m| m.text.contains("left")).map(|_| ())
    });
    let have = world.asks(&ben(), room, "what do we have?").text;
    assert!(!have.contains("leek"), "a kitchen of his own: {have}");
    world.finish();
}

#[test]
fn any_language_tag_or_none_is_understood() {
    let world = World::new();
    let tags = [None, Some("en-BR"), Some("it-IT"), Some("xx"), Some("")];
    for (number, language) in (1_i64..).zip(tags) {
        let person = Person { language, ..Person::new(20 + number, "Dora") };
        world.messenger.group(-100 - number, "Kitchen", &[&person]);
        let welcome = newest(&world, -100 - number, "a welcome");
        assert!(welcome.text.starts_with("Hello"), "{language:?}: {welcome:?}");
    }
    world.finish();
}

#[test]
fn somebody_who_wrote_alone_first_is_asked_once_they_are_in_a_group_too() {
    let (world, _) = let_in();
    let room = world.messenger.private(&ben());
    assert!(world.asks(&ben(), room, "got 5 plums").text.contains("plum"), "a kitchen alone");
    world.asks(&ben(), GROUP, "got 3 leeks");
    world.messenger.says(&ben(), room, "what do we have?");
    let asked = world.messenger.until("the question", |state| {
        let asks = |message: &&Message| labels(message).contains(&"Kitchen");
        state.shown(room).into_iter().find(asks).cloned()
    });
    let press = world.messenger.presses(&ben(), room, asked.id, "Kitchen");
    world.until_answered(&press);
    world.messenger.until("the answer to what was asked", |state| {
        let says = |m: &&Message| m.text.contains("leek") && !m.text.contains("plum");
        state.shown(room).into_iter().find(says).map(|_| ())
    });
    world.finish();
}

#[test]
fn the_operator_lets_in_whoever_has_the_code() {
    let mut world = World::without_program(Messenger::start());
    world.set("LARDERLING_ADMIT", "code");
    world.set("LARDERLING_ADMIT_CODE", "green-gooseberry");
    world.start();
    world.messenger.group(GROUP, "Kitchen", &[&ann()]);
    let told = newest(&world, GROUP, "the condition");
    assert!(told.text.contains("by invitation"), "{told:?}");
    world.messenger.says(&ann(), GROUP, "got 3 leeks");
    world.messenger.says(&ann(), GROUP, &format!("/start@{BOT_HANDLE} red-gooseberry"));
    world.until_handled();
    assert!(world.query("SELECT 1 FROM household").is_empty());
    world.messenger.says(&ann(), GROUP, &format!("/start@{BOT_HANDLE} green-gooseberry"));
    world.messenger.until("the welcome", |state| {
        state.shown(GROUP).iter().any(|m| m.text.contains("1 of 3")).then_some(())
    });
    assert!(world.asks(&ann(), GROUP, "got 3 leeks").text.contains("leek"));
    world.finish();
}

#[test]
fn the_operator_may_keep_a_list_and_the_bot_leaves_other_groups() {
    let mut world = World::without_program(Messenger::start());
    world.set("LARDERLING_ADMIT", "-41, 12");
    world.start();
    world.messenger.group(GROUP, "Kitchen", &[&ann()]);
    world.messenger.until("leaving", |state| (!state.rooms[&GROUP].bot_in).then_some(()));
    world.messenger.group(OTHER_GROUP, "Listed", &[&ann()]);
    newest(&world, OTHER_GROUP, "the welcome");
    let room = world.messenger.private(&ben());
    assert!(world.asks(&ben(), room, "got 3 leeks").text.contains("leek"), "a listed person");
    world.finish();
}

#[test]
fn a_channel_is_no_place_to_talk() {
    let world = World::new();
    world.messenger.lets_bot_into_channel(&ann(), -1_009_000_000_001);
    world.messenger.until("leaving", |state| state.requests_of("leaveChat").first().map(|_| ()));
    assert!(world.query("SELECT 1 FROM household").is_empty());
    world.finish();
}

#[test]
fn menus_are_set_for_each_place_once() {
    let mut world = World::new();
    let menus = |world: &World| {
        world.messenger.until("three menus", |state| {
            (state.commands.len() == 3).then(|| state.commands.clone())
        })
    };
    let given = menus(&world);
    let mut shown: Vec<String> = given
        .iter()
        .map(|((scope, language), menu)| {
            let names = menu.as_array().unwrap().iter().map(|c| c["command"].as_str().unwrap());
            format!("{scope} {language:?}: {}", names.collect::<Vec<_>>().join(" "))
        })
        .collect();
    shown.sort();
    assert_eq!(
        shown,
        [
            "all_chat_administrators \"\": first have need plan undo help settings privacy invite \
             export",
            "all_group_chats \"\": first have need plan undo help settings privacy",
            "all_private_chats \"\": first have need plan undo help settings privacy kitchen",
        ]
    );
    world.stop(Signal::Terminate);
    world.start();
    world.messenger.group(GROUP, "Kitchen", &[&ann()]);
    newest(&world, GROUP, "the welcome");
    assert_eq!(world.messenger.lock().requests_of("setMyCommands").len(), 3, "only once");
    world.finish();
}
