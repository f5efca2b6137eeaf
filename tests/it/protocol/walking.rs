//! The whole program as a process: what people do on the messenger, and what they see.

use crate::support::messenger::{BOT_HANDLE, Fault, Item, Messenger, Person};
use crate::support::process::{Signal, World};

const GROUP: i64 = -40;
const OTHER_GROUP: i64 = -41;
const SUPERGROUP: i64 = -1_001_234_567_890;

fn ann() -> Person {
    Person::new(11, "Ann")
}

fn ben() -> Person {
    Person::new(12, "Ben")
}

/// A question with a short answer from the rule set.
const QUESTION: &str = "larderling, can you eat rhubarb leaves?";

/// A running program in a group that has let it in.
fn kitchen() -> World {
    let world = World::new();
    world.messenger.group(GROUP, "Kitchen", &[&ann(), &ben()]);
    world
}

/// What the household has, by the bot's own account.
fn stock(world: &World, chat: i64) -> String {
    world.asks(&ann(), chat, "larderling, what do we have?").text
}

/// Asks what is always answered: when the answer is there, nothing earlier is still coming.
fn settle(world: &World, chat: i64) {
    world.asks(&ann(), chat, QUESTION);
}

fn assert_silent(world: &World, chat: i64, before: usize) {
    settle(world, chat);
    let state = world.messenger.lock();
    let shown = state.shown(chat);
    assert_eq!(shown.len(), before + 1, "{shown:#?}");
}

#[test]
fn a_group_tells_asks_undoes_and_edits() {
    let world = kitchen();
    let said = world.messenger.says(&ann(), GROUP, "got 3 leeks and 500 g carrots");
    let noted = world.reply_to(GROUP, said);
    assert!(noted.text.contains("leek") && noted.text.contains("carrot"), "{noted:?}");
    assert!(noted.silent, "an answer makes no sound");

    let have = stock(&world, GROUP);
    assert!(have.contains("leek") && have.contains("carrot"), "{have}");

    // Undo, tapped twice in a row: one effect, both presses let go.
    let presses = [(); 2].map(|()| world.messenger.presses(&ann(), GROUP, noted.id, "undo"));
    for press in &presses {
        world.until_answered(press);
    }
    let have = stock(&world, GROUP);
    assert!(!have.contains("leek") && !have.contains("carrot"), "{have}");

    let said = world.messenger.says(&ben(), GROUP, "got 2 kg potatoes");
    world.reply_to(GROUP, said);
    world.messenger.edits(GROUP, said, "got 4 kg potatoes");
    let have = stock(&world, GROUP);
    assert!(have.contains('4') && !have.contains('2'), "{have}");
    world.finish();
}

#[test]
fn a_private_chat_is_spoken_to_throughout() {
    let world = World::new();
    let chat = world.messenger.private(&ann());
    let said = world.messenger.says(&ann(), chat, "got 3 leeks");
    assert!(world.reply_to(chat, said).text.contains("leek"));
    let have = world.asks(&ann(), chat, "what do we have?");
    assert!(have.text.contains("leek"), "{have:?}");
    let voice = world.messenger.sends(&ann(), chat, Item::Voice, "");
    let told = world.reply_to(chat, voice);
    assert!(!told.text.is_empty());
    world.finish();
}

#[test]
fn chatter_bots_stickers_and_commands_for_others_get_nothing() {
    let world = kitchen();
    settle(&world, GROUP);
    let before = world.messenger.lock().shown(GROUP).len();
    let noise = Person::bot(99, "Noise");
    world.messenger.says(&ann(), GROUP, "who is picking up the kids?");
    world.messenger.says(&noise, GROUP, "got 3 leeks");
    world.messenger.says_through(&ann(), &noise, GROUP, "got 3 leeks");
    world.messenger.says(&ann(), GROUP, "/help@other_bot");
    world.messenger.says(&ann(), GROUP, "/banana");
    world.messenger.sends(&ben(), GROUP, Item::Sticker, "");
    world.messenger.sends(&ben(), GROUP, Item::Photo, "");
    world.messenger.sends(&ben(), GROUP, Item::Poll, "");
    world.messenger.reacts(&ben(), GROUP, 1, "👍");
    assert_silent(&world, GROUP, before);
    world.finish();
}

#[test]
fn commands_and_the_handle_are_shortcuts_for_words() {
    let world = kitchen();
    let said = world.messenger.says(&ann(), GROUP, "got 3 leeks");
    world.reply_to(GROUP, said);
    for text in [format!("/have@{BOT_HANDLE}"), format!("@{BOT_HANDLE} what do we have?")] {
        let have = world.asks(&ann(), GROUP, &text);
        assert!(have.text.contains("leek"), "{text}: {have:?}");
    }
    world.finish();
}

#[test]
fn a_picture_with_a_question_about_eating_it_is_not_judged() {
    let world = kitchen();
    let shown = world.messenger.sends(&ann(), GROUP, Item::Photo, "can we eat these mushrooms?");
    let told = world.reply_to(GROUP, shown);
    assert!(!told.text.is_empty());
    world.finish();
}

#[test]
fn several_chats_are_kept_apart_though_their_messages_have_the_same_numbers() {
    let world = kitchen();
    let cleo = Person::new(13, "Cleo");
    world.messenger.group(OTHER_GROUP, "Next door", &[&cleo]);
    let here = world.messenger.says(&ann(), GROUP, "got 3 leeks");
    let there = world.messenger.says(&cleo, OTHER_GROUP, "got 2 melons");
    world.reply_to(GROUP, here);
    world.reply_to(OTHER_GROUP, there);
    let have = stock(&world, GROUP);
    assert!(have.contains("leek") && !have.contains("melon"), "{have}");
    let have = world.asks(&cleo, OTHER_GROUP, "larderling, what do we have?").text;
    assert!(have.contains("melon") && !have.contains("leek"), "{have}");

    // A button of one chat pressed in the other does nothing.
    let noted = world.reply_to(GROUP, here);
    let forged = world.messenger.forges_press(&cleo, OTHER_GROUP, noted.id + 40, "undo");
    world.until_answered(&forged);
    assert!(stock(&world, GROUP).contains("leek"));
    world.finish();
}

#[test]
fn names_and_foods_with_markup_in_them_never_break_a_message() {
    let world = World::new();
    let odd = Person::new(14, "<b>&_*Zoë</i> \u{202e}✨");
    world.messenger.group(GROUP, "K & <Co>", &[&odd]);
    for text in [
        "larderling, we got 2 jars of <pickled & salted> limes",
        "larderling, what do we have?",
        "larderling, who used the <script>alert(1)</script>?",
        "larderling, got 3 leeks & 2 <carrots>",
    ] {
        world.asks(&odd, GROUP, text);
    }
    let state = world.messenger.lock();
    let refused = state
        .requests
        .iter()
        .filter(|r| matches!(r.end, crate::support::messenger::End::Denied(..)));
    assert_eq!(refused.count(), 0, "{}", state.summary());
    drop(state);
    world.finish();
}

#[test]
fn a_plain_success_may_be_a_reaction_instead() {
    let world = kitchen();
    world.asks(&ann(), GROUP, "larderling, ack reaction");
    let said = world.messenger.says(&ann(), GROUP, "used 2 eggs");
    let found = world.messenger.until("a reaction", |state| {
        state.message(GROUP, said).and_then(|message| message.reaction.clone())
    });
    assert_eq!(found, "👍");
    world.finish();
}

#[test]
fn a_server_that_is_down_at_the_start_is_waited_for() {
    let mut world = World::without_program(Messenger::asleep());
    world.messenger.group(GROUP, "Kitchen", &[&ann()]);
    world.messenger.says(&ann(), GROUP, "got 3 leeks");
    world.start();
    world.until_logged("cannot");
    world.messenger.wake();
    assert!(stock(&world, GROUP).contains("leek"));
    world.finish();
}

#[test]
fn each_signal_ends_the_program_cleanly() {
    for signal in [Signal::Terminate, Signal::Interrupt] {
        let mut world = kitchen();
        settle(&world, GROUP);
        let status = world.stop(signal);
        assert!(status.success(), "{signal:?}: {status}");
        world.finish();
    }
}

#[test]
fn what_came_in_while_it_was_down_is_there_after_the_restart() {
    let mut world = kitchen();
    settle(&world, GROUP);
    world.stop(Signal::Terminate);
    world.messenger.says(&ann(), GROUP, "got 3 leeks");
    world.messenger.says(&ben(), GROUP, "got 2 melons");
    world.start();
    let have = stock(&world, GROUP);
    assert!(have.contains("leek") && have.contains("melon"), "{have}");
    world.finish();
}

#[test]
fn an_answer_the_server_does_not_take_is_sent_again_and_shown_once() {
    let faults = [
        Fault::TooMany { seconds: 2 },
        Fault::Gateway(500),
        Fault::Gateway(502),
        Fault::Gateway(503),
    ];
    let world = kitchen();
    settle(&world, GROUP);
    for fault in faults {
        world.messenger.fail("sendMessage", fault.clone());
        let said = world.messenger.says(&ann(), GROUP, QUESTION);
        world.reply_to(GROUP, said);
        let state = world.messenger.lock();
        assert_eq!(world.replies(&state, GROUP, said), 1, "{fault:?}");
        assert_eq!(state.hammered, 0, "a chat told to wait was left alone");
    }
    world.finish();
}

#[test]
fn an_answer_that_may_have_arrived_is_never_sent_twice() {
    let world = kitchen();
    settle(&world, GROUP);
    for (fault, shown) in [(Fault::CutAfter, 1), (Fault::CutBefore, 0), (Fault::Hang, 0)] {
        world.messenger.fail("sendMessage", fault.clone());
        let said = world.messenger.says(&ann(), GROUP, QUESTION);
        // The next answer comes all the same.
        settle(&world, GROUP);
        let state = world.messenger.lock();
        assert_eq!(world.replies(&state, GROUP, said), shown, "{fault:?}");
    }
    world.finish();
}

#[test]
fn a_chat_that_removed_the_bot_is_left_alone_and_taken_up_again_later() {
    let world = kitchen();
    let said = world.messenger.says(&ann(), GROUP, "got 3 leeks");
    world.reply_to(GROUP, said);
    world.messenger.says(&ann(), GROUP, "larderling, what do we have?");
    world.messenger.removes_bot(&ann(), GROUP);
    world.messenger.until("the removal taken in", |state| (state.unconfirmed() == 0).then_some(()));
    world.messenger.lets_bot_in(&ben(), GROUP);
    assert!(stock(&world, GROUP).contains("leek"), "the household is still there");
    world.finish();
}

#[test]
fn a_group_that_becomes_a_supergroup_keeps_its_household_in_any_order_of_the_signals() {
    // Signals: the note in the old chat, the note in the new one, a send to the old number.
    let orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    for order in orders {
        println!("{order:?}");
        let mut world = kitchen();
        let said = world.messenger.says(&ann(), GROUP, "got 3 leeks");
        world.reply_to(GROUP, said);
        for (step, signal) in order.into_iter().enumerate() {
            match signal {
                0 => {
                    if step == 0 {
                        world.messenger.moves(GROUP, SUPERGROUP);
                    }
                    world.messenger.announces_new_home(&ann(), GROUP);
                }
                1 => {
                    if step == 0 {
                        world.messenger.moves(GROUP, SUPERGROUP);
                    }
                    world.messenger.announces_old_home(&ann(), SUPERGROUP, GROUP);
                }
                _ => {
                    // Asked just before the move, answered after it.
                    world.stop(Signal::Terminate);
                    let chat = if step == 0 { GROUP } else { SUPERGROUP };
                    world.messenger.says(&ann(), chat, QUESTION);
                    if step == 0 {
                        world.messenger.moves(GROUP, SUPERGROUP);
                    }
                    world.start();
                    world.messenger.until("an answer in the new chat", |state| {
                        state.shown(SUPERGROUP).last().map(|_| ())
                    });
                }
            }
        }
        let have = stock(&world, SUPERGROUP);
        assert!(have.contains("leek"), "{order:?}: {have}");
        world.finish();
    }
}

#[test]
fn a_topic_gets_its_answers_in_the_topic() {
    let world = World::new();
    world.messenger.group(SUPERGROUP, "Kitchen", &[&ann()]);
    let topic = world.messenger.opens_topic(&ann(), SUPERGROUP, "Food");
    let said = world.messenger.says_in(&ann(), SUPERGROUP, topic, "got 3 leeks");
    let noted = world.reply_to(SUPERGROUP, said);
    assert_eq!(noted.topic, Some(topic));
    world.finish();
}

#[test]
fn an_unnamed_administrator_can_tell_and_ask() {
    let world = kitchen();
    let said = world.messenger.says_unnamed(GROUP, "got 3 leeks");
    world.reply_to(GROUP, said);
    assert!(stock(&world, GROUP).contains("leek"));
    world.finish();
}

#[test]
fn pushed_updates_lead_to_the_same_answers_as_fetched_ones() {
    let mut world = World::without_program(Messenger::start());
    let free = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    world.set("LARDERLING_WEBHOOK_URL", &format!("http://{free}"));
    world.set("LARDERLING_WEBHOOK_LISTEN", &free.to_string());
    world.set("LARDERLING_WEBHOOK_SECRET", "a-secret-of-the-test");
    world.messenger.group(GROUP, "Kitchen", &[&ann()]);
    world.start();
    let said = world.messenger.says(&ann(), GROUP, "got 3 leeks");
    world.reply_to(GROUP, said);
    assert!(stock(&world, GROUP).contains("leek"));
    assert_eq!(world.messenger.lock().requests_of("getUpdates").len(), 0);
    world.finish();
}

#[test]
fn a_missing_or_wrong_token_is_named_with_its_cure() {
    for (token, words) in
        [("", "TELOXIDE_TOKEN"), ("nonsense", "token"), ("1:wrong", "TELOXIDE_TOKEN")]
    {
        let mut world = World::without_program(Messenger::start());
        world.set("TELOXIDE_TOKEN", token);
        world.start();
        let (status, log) = world.program.take().unwrap().wait();
        assert!(!status.success(), "{token:?}: {log}");
        assert!(log.contains(words), "{token:?}: {log}");
        assert!(!log.contains("panicked"), "{token:?}: {log}");
    }
}

#[test]
fn a_second_program_on_the_same_household_file_is_refused() {
    let mut world = kitchen();
    settle(&world, GROUP);
    let first = world.program.take();
    world.start();
    let (status, log) = world.program.take().unwrap().wait();
    assert!(!status.success(), "{log}");
    world.program = first;
    settle(&world, GROUP);
    world.finish();
}
