//! What is kept and what is not; everything out, somebody forgotten, all of it gone.

use std::path::Path;

use crate::support::messenger::{Message, Person};
use crate::support::process::{Signal, World};

const GROUP: i64 = -40;

/// Words that must turn up nowhere.
const CANARY: &str = "xylophone-rehearsal";

fn ann() -> Person {
    Person::new(11, "Annabelle")
}

fn ben() -> Person {
    Person::new(12, "Benedict")
}

/// A running program that Ann has let into a group with Ben.
fn kitchen() -> World {
    let world = World::new();
    world.messenger.group(GROUP, "Kitchen", &[&ann(), &ben()]);
    world.messenger.until("the welcome", |state| state.shown(GROUP).first().map(|_| ()));
    world
}

fn confirm(world: &World, asked: &Message, label: &str) -> String {
    world.messenger.presses(&ann(), GROUP, asked.id, label)
}

/// Whether a file or one of its companions holds these bytes.
fn holds(database: &Path, words: &str) -> bool {
    let folder = database.parent().expect("a folder");
    let files = std::fs::read_dir(folder).expect("a folder").map(|entry| entry.unwrap().path());
    files.into_iter().any(|path| {
        let bytes = std::fs::read(&path).expect("a file");
        bytes.windows(words.len()).any(|window| window == words.as_bytes())
    })
}

#[test]
fn words_that_are_not_for_the_bot_are_neither_kept_nor_logged() {
    let mut world = World::without_program(crate::support::messenger::Messenger::start());
    world.set("RUST_LOG", "trace");
    world.start();
    world.messenger.group(GROUP, "Kitchen", &[&ann(), &ben()]);
    world.asks(&ann(), GROUP, "got 3 leeks");
    for text in [
        format!("{CANARY} tonight at eight?"),
        format!("did anybody feed the {CANARY}"),
        format!("lol {CANARY}"),
    ] {
        let said = world.messenger.says(&ben(), GROUP, &text);
        world.messenger.edits(GROUP, said, &format!("{text}!"));
    }
    // What was for the bot, and is edited into chatter, goes too.
    let said = world.messenger.says(&ben(), GROUP, "got 2 melons");
    world.reply_to(GROUP, said);
    world.messenger.edits(GROUP, said, &format!("never mind, {CANARY}"));
    world.asks(&ann(), GROUP, "larderling, what do we have?");
    world.until_handled();
    let kept = world.query("SELECT 1 FROM message WHERE words LIKE '%leeks%'").len();
    assert_eq!(kept, 1, "words for the bot are kept");
    world.stop(Signal::Terminate);
    assert!(!holds(&world.database(), CANARY), "kept in the household file");
    assert!(!world.printed().contains(CANARY), "logged");
    world.finish();
}

#[test]
fn privacy_is_told_on_one_screen() {
    let world = kitchen();
    let told = world.asks(&ben(), GROUP, "larderling, privacy");
    assert!(told.text.chars().count() <= 1_100, "{} characters", told.text.chars().count());
    for words in ["never stored or logged", "30 days", "export", "delete everything", "forget me"] {
        assert!(told.text.contains(words), "{words}: {told:?}");
    }
    world.finish();
}

#[test]
fn everything_on_record_is_handed_over_in_private_once_it_is_confirmed() {
    let world = kitchen();
    world.asks(&ben(), GROUP, "got 3 leeks and 2 melons");
    let asked = world.asks(&ann(), GROUP, "larderling, export");
    assert!(asked.text.ends_with('?'), "{asked:?}");
    // Somebody else cannot confirm it.
    let press = world.messenger.presses(&ben(), GROUP, asked.id, "Send it");
    world.until_answered(&press);
    assert!(world.messenger.lock().requests_of("sendDocument").is_empty());

    // Without a private chat the group is told how to get it.
    let press = confirm(&world, &asked, "Send it");
    world.until_answered(&press);
    world.messenger.until("how to get it", |state| {
        state.shown(GROUP).iter().any(|m| m.text.contains("press start")).then_some(())
    });
    let room = world.messenger.private(&ann());
    let asked = world.asks(&ann(), room, "export");
    let press = world.messenger.presses(&ann(), room, asked.id, "Send it");
    world.until_answered(&press);
    let content = world.messenger.until("the file", |state| {
        let sent = state.requests_of("sendDocument");
        let sent = sent.iter().rfind(|sent| sent.params["chat_id"] == room);
        sent.map(|sent| String::from_utf8(sent.files[0].1.clone()).unwrap())
    });
    let lines: Vec<serde_json::Value> =
        content.lines().map(|line| serde_json::from_str(line).expect("JSON lines")).collect();
    for kind in ["household", "person", "message", "event"] {
        assert!(lines.iter().any(|line| line["type"] == kind), "{kind}: {content}");
    }
    assert!(content.contains("leek") && content.contains("Benedict"));
    world.finish();
}

#[test]
fn a_person_can_be_forgotten_and_the_stock_stays() {
    let world = kitchen();
    world.asks(&ben(), GROUP, "got 2 melons");
    let room = world.messenger.private(&ben());
    world.asks(&ben(), room, "got 3 leeks for benedict's pie");
    let asked = world.asks(&ann(), GROUP, "larderling, forget Benedict");
    assert!(asked.text.contains("Benedict"), "{asked:?}");
    let press = confirm(&world, &asked, "Forget");
    world.until_answered(&press);
    world.messenger.until("it is done", |state| {
        state.message(GROUP, asked.id).filter(|m| m.text.contains("Forgotten")).map(|_| ())
    });
    world.until_handled();
    assert!(world.query("SELECT 1 FROM person WHERE name LIKE '%enedict%'").is_empty());
    assert!(world.query("SELECT 1 FROM message WHERE words LIKE '%melons%'").is_empty());
    assert!(world.query("SELECT 1 FROM chat WHERE role = 'private'").is_empty());
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?").text;
    assert!(have.contains("leek") && have.contains("melon"), "{have}");
    let who = world.asks(&ann(), GROUP, "larderling, forget Benedict");
    assert!(who.text.contains("nobody"), "{who:?}");
    // The log still folds to the state without them.
    let mut world = world;
    world.stop(Signal::Terminate);
    let proof = world.run(&["rebuild"]);
    assert!(proof.status.success(), "{proof:?}");
    assert!(!holds(&world.database(), "Benedict"), "a trace of the name");
    world.finish();
}

#[test]
fn a_household_is_deleted_to_the_last_row_and_the_bot_leaves() {
    let mut world = kitchen();
    world.asks(&ben(), GROUP, "got 3 leeks");
    let asked = world.asks(&ann(), GROUP, "larderling, delete everything");
    let kept = confirm(&world, &asked, "Keep it");
    world.until_answered(&kept);
    assert!(world.asks(&ann(), GROUP, "larderling, any leeks?").text.contains("leek"));

    let asked = world.asks(&ann(), GROUP, "larderling, delete everything");
    let press = confirm(&world, &asked, "Delete it all");
    world.messenger.until("leaving", |state| (!state.rooms[&GROUP].bot_in).then_some(()));
    assert!(world.messenger.lock().presses[&press].answered);
    world.until_handled();
    for sql in [
        "SELECT 1 FROM household",
        "SELECT 1 FROM person",
        "SELECT 1 FROM chat",
        "SELECT 1 FROM message",
        "SELECT 1 FROM event",
        "SELECT 1 FROM due",
        "SELECT 1 FROM outbox",
        "SELECT 1 FROM invite",
        "SELECT 1 FROM inbox WHERE raw IS NOT NULL",
    ] {
        assert!(world.query(sql).is_empty(), "{sql}");
    }
    world.stop(Signal::Terminate);
    assert!(!holds(&world.database(), "Benedict"), "a trace of a name");
    world.start();
    // Added again, it begins anew.
    world.messenger.lets_bot_in(&ann(), GROUP);
    world.messenger.until("a welcome", |state| {
        state.shown(GROUP).iter().rev().take(1).any(|m| m.text.contains("1 of 3")).then_some(())
    });
    let have = world.asks(&ann(), GROUP, "larderling, what do we have?").text;
    assert!(!have.contains("leek"), "{have}");
    world.finish();
}
