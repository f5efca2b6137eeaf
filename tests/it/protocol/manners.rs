//! Manners: each person their own way, names, sound, topics, albums, moves and leaving.

use crate::support::messenger::{End, Item, Message, Person};
use crate::support::process::{Signal, World};

const GROUP: i64 = -40;
const SUPERGROUP: i64 = -1_001_234_567_890;

fn ann() -> Person {
    Person::new(11, "Ann")
}

fn ben() -> Person {
    Person::new(12, "Ben")
}

fn kitchen() -> World {
    let world = World::new();
    world.messenger.group(GROUP, "Kitchen", &[&ann(), &ben()]);
    world.messenger.until("the welcome", |state| state.shown(GROUP).first().map(|_| ()));
    world
}

#[test]
fn plain_style_is_in_words_one_thing_to_a_line_with_buttons_to_say() {
    let world = kitchen();
    world.asks(&ann(), GROUP, "larderling, ack reaction");
    world.asks(&ben(), GROUP, "larderling, plain style");
    let said = world.messenger.says(&ben(), GROUP, "got 500 g carrots, 3 leeks and 2 lb potatoes");
    let noted = world.reply_to(GROUP, said);
    assert!(noted.text.contains("500 grams"), "units in full: {noted:?}");
    assert!(noted.text.contains("2 pounds"), "{noted:?}");
    assert!(noted.text.lines().count() >= 3, "one thing to a line: {noted:?}");
    assert!(noted.text.contains("You can say: \"undo\""), "{noted:?}");
    assert!(!noted.text.contains(['·', '%', '°', '👍']), "no signs: {noted:?}");
    assert_eq!(world.messenger.lock().message(GROUP, said).unwrap().reaction, None);
    // The words on a button do what the button does.
    let said = world.messenger.says(&ben(), GROUP, "all put away");
    world.reply_to(GROUP, said);
    let undone = world.asks(&ben(), GROUP, "larderling, undo");
    assert!(undone.text.to_lowercase().contains("taken back"), "{undone:?}");
    // Others keep theirs.
    let said = world.messenger.says(&ann(), GROUP, "used 1 leek");
    world
        .messenger
        .until("a reaction", |state| state.message(GROUP, said).and_then(|m| m.reaction.clone()));
    world.finish();
}

#[test]
fn a_child_gets_two_short_sentences_and_a_grown_up_to_show_them_to() {
    let world = kitchen();
    world.asks(&ben(), GROUP, "larderling, I'm a child");
    for question in [
        "larderling, can I eat rhubarb leaves?",
        "larderling, can I eat raw kidney beans?",
        "larderling, can I eat this potato, it is green?",
        "larderling, can I eat elderberries?",
    ] {
        let told = world.asks(&ben(), GROUP, question).text;
        assert!(told.starts_with("Don't eat it now."), "{question}: {told}");
        assert!(told.contains("grown-up"), "{question}: {told}");
        assert!(told.chars().count() <= 90, "{question}: {told}");
    }
    let told = world.asks(&ben(), GROUP, "larderling, can I eat a banana?").text;
    assert!(told.contains("grown-up") && told.chars().count() <= 160, "{told}");
    // What was eaten already is said in full, at once.
    let told = world.asks(&ben(), GROUP, "larderling, I ate a rhubarb leaf").text;
    assert!(told.to_lowercase().contains("poison centre") && told.contains("grown-up"), "{told}");
    world.finish();
}

#[test]
fn who_it_was_is_told_in_private_or_where_the_household_wants_names() {
    let world = kitchen();
    world.asks(&ann(), GROUP, "got 3 leeks");
    world.asks(&ben(), GROUP, "used 2 leeks");
    // Not asked of the bot: nothing.
    let said = world.messenger.says(&ann(), GROUP, "who used the leeks?");
    let told = world.asks(&ann(), GROUP, "larderling, who used the leeks?");
    assert_eq!(world.replies(&world.messenger.lock(), GROUP, said), 0);
    assert!(told.text.contains("2 leeks") && !told.text.contains("Ben"), "{told:?}");
    let room = world.messenger.private(&ann());
    let told = world.asks(&ann(), room, "who used the leeks?");
    assert!(told.text.contains("Ben"), "{told:?}");
    world.asks(&ann(), GROUP, "larderling, names on");
    let told = world.asks(&ann(), GROUP, "larderling, who used the leeks?");
    assert!(told.text.contains("Ben"), "{told:?}");
    world.finish();
}

#[test]
fn undo_names_what_it_takes_back_and_offers_the_last_three() {
    let world = kitchen();
    for text in ["got 3 leeks", "got 2 melons", "got 5 plums", "got 1 squash", "used 2 plums"] {
        // Each with an answer of its own.
        world.asks(&ann(), GROUP, &format!("larderling, {text}"));
        world.asks(&ann(), GROUP, "larderling, any garlic?");
    }
    let undone = world.asks(&ann(), GROUP, "larderling, undo");
    assert!(undone.text.contains("plums"), "{undone:?}");
    let offered: Vec<&str> = undone.buttons.iter().map(|(label, _)| label.as_str()).collect();
    let more: Vec<&&str> = offered.iter().filter(|label| label.starts_with("Undo: ")).collect();
    assert_eq!(more.len(), 3, "{offered:?}");
    assert!(more[0].contains("squash") && more[1].contains("plums") && more[2].contains("melons"));
    let press = world.messenger.presses(&ben(), GROUP, undone.id, more[2]);
    world.until_answered(&press);
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?").text;
    assert!(!have.contains("melon") && have.contains("leek") && have.contains("5 plums"), "{have}");
    world.finish();
}

#[test]
fn an_album_is_one_thing() {
    let world = kitchen();
    let room = world.messenger.private(&ann());
    for _ in 0..10 {
        world.messenger.sends_in_album(&ann(), room, "album-1");
    }
    let asked = world.asks(&ann(), room, "what do we have?");
    let shown = world.messenger.lock().shown(room).len();
    assert_eq!(shown, 2, "one answer to ten pictures, one to {asked:?}");
    world.finish();
}

#[test]
fn thousand_messages_of_other_bots_are_let_pass() {
    let world = kitchen();
    let noise = Person::bot(99, "Noise");
    for number in 0..1_000 {
        world.messenger.says(&noise, GROUP, &format!("got {number} leeks"));
    }
    let before = world.messenger.lock().shown(GROUP).len();
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?").text;
    assert!(!have.contains("leek"), "{have}");
    assert_eq!(world.messenger.lock().shown(GROUP).len(), before + 1);
    assert!(world.query("SELECT 1 FROM event WHERE payload LIKE '%leek%'").is_empty());
    world.finish();
}

#[test]
fn posts_go_to_the_topic_they_were_asked_to() {
    let world = World::new();
    world.messenger.group(SUPERGROUP, "Kitchen", &[&ann()]);
    let topic = world.messenger.opens_topic(&ann(), SUPERGROUP, "Food");
    let said = world.messenger.says_in(&ann(), SUPERGROUP, topic, "larderling, post here");
    assert_eq!(world.reply_to(SUPERGROUP, said).topic, Some(topic));
    let home = world.query("SELECT topic FROM chat WHERE role = 'home'");
    let kept: String = sqlx::Row::get(&home[0], "topic");
    assert_eq!(kept, topic.to_string());
    world.finish();
}

#[test]
fn double_taps_have_one_effect_and_every_press_is_answered() {
    let world = kitchen();
    let noted = world.asks(&ann(), GROUP, "got 3 leeks");
    let presses: Vec<String> =
        (0..10).map(|_| world.messenger.presses(&ann(), GROUP, noted.id, "undo")).collect();
    for press in &presses {
        world.until_answered(press);
    }
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?").text;
    assert!(!have.contains("leek"), "{have}");
    let undone = world.query("SELECT 1 FROM event WHERE payload LIKE '%ndone%'").len();
    assert_eq!(undone, 1, "one effect");
    world.finish();
}

#[test]
fn a_press_is_answered_while_the_chat_must_rest() {
    let world = kitchen();
    let noted = world.asks(&ann(), GROUP, "got 3 leeks");
    // The chat may not be written to for minutes; the waiting sign still goes at once.
    world.messenger.fail("sendMessage", crate::support::messenger::Fault::TooMany { seconds: 300 });
    world.messenger.says(&ann(), GROUP, "larderling, what do we have?");
    world.messenger.until("the refusal", |state| {
        let denied = |r: &&crate::support::messenger::Request| matches!(r.end, End::Denied(429, _));
        state.requests_of("sendMessage").into_iter().find(denied).map(|_| ())
    });
    let press = world.messenger.presses(&ann(), GROUP, noted.id, "undo");
    world.until_answered(&press);
    let mut world = world;
    world.stop(Signal::Terminate);
    world.finish();
}

/// The newest message of the bot's in a chat.
fn newest(world: &World, chat: i64) -> Option<Message> {
    world.messenger.lock().shown(chat).last().map(|m| (*m).clone())
}

#[test]
fn a_move_loses_nothing_in_any_order_of_its_signals_with_a_crash_at_each_step() {
    // 0: the note in the old chat; 1: the note in the new one; 2: words in the new chat.
    let orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    for order in orders {
        println!("{order:?}");
        let mut world = kitchen();
        let before = world.asks(&ann(), GROUP, "got 3 leeks");
        world.messenger.moves(GROUP, SUPERGROUP);
        for signal in order {
            match signal {
                0 => world.messenger.announces_new_home(&ann(), GROUP),
                1 => world.messenger.announces_old_home(&ann(), SUPERGROUP, GROUP),
                _ => {
                    let said = world.messenger.says(&ben(), SUPERGROUP, "got 2 melons");
                    world.reply_to(SUPERGROUP, said);
                }
            }
            // Killed somewhere in the middle of it, or just after.
            world.stop(Signal::Kill);
            world.start();
        }
        world.until_handled();
        let have = world.asks(&ann(), SUPERGROUP, "larderling, what do we have?").text;
        assert!(have.contains("leek") && have.contains("melon"), "{order:?}: {have}");
        assert_eq!(world.query("SELECT 1 FROM household").len(), 1, "{order:?}: one household");
        let homes = world.query("SELECT 1 FROM chat WHERE role = 'home'").len();
        assert_eq!(homes, 1, "{order:?}: one home");
        assert!(newest(&world, SUPERGROUP).is_some_and(|m| m.id != before.id));
        world.finish();
    }
}

#[test]
fn a_removed_bot_says_nothing_more_and_plans_nothing() {
    let world = kitchen();
    world.asks(&ann(), GROUP, "got 3 leeks");
    world.messenger.removes_bot(&ann(), GROUP);
    world.until_handled();
    let requests = world.messenger.lock().requests_of("sendMessage").len();
    assert!(world.query("SELECT 1 FROM due WHERE state = 'waiting'").is_empty());
    assert!(!world.query("SELECT 1 FROM household WHERE gone_at IS NOT NULL").is_empty());
    assert_eq!(world.messenger.lock().requests_of("sendMessage").len(), requests);
    world.finish();
}

#[test]
fn whoever_blocks_the_bot_gets_no_more_copies() {
    let world = kitchen();
    world.asks(&ben(), GROUP, "got 2 melons");
    let room = world.messenger.private(&ben());
    world.asks(&ben(), room, "plain style");
    world.messenger.removes_bot(&ben(), room);
    world.until_handled();
    let closed = world.query("SELECT 1 FROM chat WHERE closed_at IS NOT NULL").len();
    assert_eq!(closed, 1);
    // Back again, the chat is open again.
    world.messenger.lets_bot_in(&ben(), room);
    assert!(world.asks(&ben(), room, "got 3 leeks").text.contains("leek"));
    world.until_handled();
    assert!(world.query("SELECT 1 FROM chat WHERE closed_at IS NOT NULL").is_empty());
    world.finish();
}

#[test]
fn pictures_stay_silent_where_nobody_asks() {
    let world = kitchen();
    let before = world.messenger.lock().shown(GROUP).len();
    world.messenger.sends(&ann(), GROUP, Item::Photo, "");
    world.asks(&ann(), GROUP, "larderling, what do we have?");
    assert_eq!(world.messenger.lock().shown(GROUP).len(), before + 1);
    world.finish();
}
