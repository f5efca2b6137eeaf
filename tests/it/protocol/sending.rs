//! What is sent, and how each way of failing is judged.

use std::time::Duration;

use larderling::channel::telegram::{Api, Token, send};
use larderling::channel::{Letter, Outbound, Outcome};
use larderling::conversation::{Button, Rich};

use crate::support::messenger::{End, Fault, Messenger, Person, TOKEN};
use crate::support::referee;

const GROUP: i64 = -40;
const SUPERGROUP: i64 = -1_001_234_567_890;

struct Desk {
    messenger: Messenger,
    api: Api,
    ann: Person,
}

impl Desk {
    fn new() -> Desk {
        let messenger = Messenger::start();
        let api = Api::new(&messenger.url(), Token::new(TOKEN).unwrap()).unwrap();
        let ann = Person::new(11, "Ann");
        messenger.group(GROUP, "Kitchen", &[&ann]);
        messenger.private(&ann);
        Desk { messenger, api, ann }
    }

    fn send(&self, outbound: &Outbound) -> Outcome {
        self.messenger.block_on(send::send(&self.api, outbound))
    }

    /// Sends and expects the new message's number.
    fn sent(&self, letter: Letter) -> i64 {
        match self.send(&Outbound::Send(letter)) {
            Outcome::Sent { message: Some(message) } => message,
            other => panic!("{other:?}\n{}", self.messenger.lock().summary()),
        }
    }

    /// Nothing in the record is against the platform's own types.
    fn judge(&self) {
        let state = self.messenger.lock();
        let faults = referee::judge(&referee::record(&state));
        assert!(faults.is_empty(), "{faults:#?}\n{}", state.summary());
    }
}

fn letter(chat: i64, words: &str) -> Letter {
    Letter {
        chat,
        topic: None,
        reply_to: None,
        text: Rich::plain(words),
        buttons: Vec::new(),
        picture: None,
        loud: false,
    }
}

fn button(key: &str, label: &str) -> Button {
    Button { key: key.to_owned(), label: label.to_owned() }
}

#[test]
fn a_message_shows_its_words_weight_buttons_and_what_it_answers() {
    let desk = Desk::new();
    let asked = desk.messenger.says(&desk.ann, GROUP, "what's first?");
    let mut text = Rich::plain("Thanks <3_Ann & *co*: ");
    text.push_strong("leeks > chard");
    let mut message = letter(GROUP, "");
    message.text = text;
    message.reply_to = Some(asked);
    message.buttons = vec![button("undo", "Undo"), button("why", "Why?")];
    let id = desk.sent(message);
    let state = desk.messenger.lock();
    let shown = state.message(GROUP, id).unwrap();
    assert_eq!(shown.text, "Thanks <3_Ann & *co*: leeks > chard");
    assert_eq!(shown.reply_to, Some(asked));
    let labels: Vec<&str> = shown.buttons.iter().map(|(label, _)| label.as_str()).collect();
    assert_eq!(labels, ["Undo", "Why?"]);
    assert!(shown.silent);
    drop(state);
    desk.judge();
}

#[test]
fn only_a_loud_message_makes_a_sound() {
    let desk = Desk::new();
    let quiet = desk.sent(letter(GROUP, "noted"));
    let loud = desk.sent(Letter { loud: true, ..letter(GROUP, "good morning") });
    let state = desk.messenger.lock();
    assert!(state.message(GROUP, quiet).unwrap().silent);
    assert!(!state.message(GROUP, loud).unwrap().silent);
}

#[test]
fn an_answer_to_a_message_that_is_gone_is_sent_all_the_same() {
    let desk = Desk::new();
    let id = desk.sent(Letter { reply_to: Some(9_999), ..letter(GROUP, "noted") });
    assert_eq!(desk.messenger.lock().message(GROUP, id).unwrap().reply_to, None);
}

#[test]
fn a_long_text_goes_out_in_parts_with_the_buttons_under_the_last() {
    let desk = Desk::new();
    let mut text = Rich::new();
    for number in 0..600 {
        text.push_line(Rich::plain(format!("{number} 🥕 carrots & <leeks>")));
    }
    let mut message = letter(GROUP, "");
    message.text = text.clone();
    message.buttons = vec![button("more", "More")];
    let last = desk.sent(message);
    let state = desk.messenger.lock();
    let shown = state.shown(GROUP);
    let joined: Vec<&str> = shown.iter().map(|message| message.text.as_str()).collect();
    assert_eq!(joined.join("\n"), text.to_plain());
    let with_buttons: Vec<i64> =
        shown.iter().filter(|message| !message.buttons.is_empty()).map(|m| m.id).collect();
    assert_eq!(with_buttons, [last]);
    drop(state);
    desk.judge();
}

#[test]
fn edits_reactions_and_button_answers_may_be_repeated() {
    let desk = Desk::new();
    let said = desk.messenger.says(&desk.ann, GROUP, "got 3 leeks");
    let id =
        desk.sent(Letter { buttons: vec![button("undo", "Undo")], ..letter(GROUP, "3 leeks") });
    let press = desk.messenger.presses(&desk.ann, GROUP, id, "Undo");
    let requests = [
        Outbound::Edit { chat: GROUP, message: id, text: Rich::plain("undone"), buttons: vec![] },
        Outbound::React { chat: GROUP, message: said },
        Outbound::AnswerPress { press: press.clone(), text: Some("Undone".to_owned()) },
    ];
    for request in &requests {
        for _ in 0..2 {
            let outcome = desk.send(request);
            assert!(matches!(outcome, Outcome::Sent { .. }), "{request:?}: {outcome:?}");
        }
    }
    let state = desk.messenger.lock();
    let shown = state.message(GROUP, id).unwrap();
    assert_eq!((shown.text.as_str(), shown.buttons.len(), shown.edits), ("undone", 0, 1));
    assert_eq!(state.message(GROUP, said).unwrap().reaction.as_deref(), Some("👍"));
    assert_eq!(state.presses[&press].words.as_deref(), Some("Undone"));
    drop(state);
    desk.judge();
}

#[test]
fn a_picture_goes_out_with_its_words_and_long_words_go_out_alone() {
    let desk = Desk::new();
    let png = b"\x89PNG\r\n\x1a\nnot much of a picture".to_vec();
    let message =
        Letter { picture: Some(png.clone()), ..letter(GROUP, "What is in the house & <when>") };
    let id = desk.sent(Letter { buttons: vec![button("more", "More")], ..message });
    let wordy = "leek ".repeat(300);
    let alone = desk.sent(Letter { picture: Some(png.clone()), ..letter(GROUP, &wordy) });
    let state = desk.messenger.lock();
    let shown = state.message(GROUP, id).unwrap();
    assert_eq!(shown.picture, Some(png.len()));
    assert_eq!(shown.text, "What is in the house & <when>");
    assert_eq!(shown.buttons.len(), 1);
    assert_eq!(state.message(GROUP, alone).unwrap().picture, None);
    drop(state);
    desk.judge();
}

#[test]
fn a_topic_is_kept_and_a_topic_that_is_gone_falls_back_to_the_group() {
    let desk = Desk::new();
    desk.messenger.group(SUPERGROUP, "Kitchen", &[&desk.ann]);
    let topic = desk.messenger.opens_topic(&desk.ann, SUPERGROUP, "Food");
    let kept = desk.sent(Letter { topic: Some(topic), ..letter(SUPERGROUP, "noted") });
    let gone = desk.sent(Letter { topic: Some(topic + 50), ..letter(SUPERGROUP, "noted too") });
    let state = desk.messenger.lock();
    assert_eq!(state.message(SUPERGROUP, kept).unwrap().topic, Some(topic));
    assert_eq!(state.message(SUPERGROUP, gone).unwrap().topic, None);
    drop(state);
    desk.judge();
}

#[test]
fn refused_markup_is_sent_once_more_as_plain_words() {
    let desk = Desk::new();
    let words = "Bad Request: can't parse entities: something new";
    desk.messenger.fail("sendMessage", Fault::Deny { code: 400, words });
    let id = desk.sent(letter(GROUP, "a & b"));
    assert_eq!(desk.messenger.lock().message(GROUP, id).unwrap().text, "a & b");
}

#[test]
fn each_way_of_failing_is_judged_by_whether_the_message_can_have_arrived() {
    let desk = Desk::new();
    let table = [
        (Fault::TooMany { seconds: 7 }, "later 7"),
        (Fault::Gateway(500), "later"),
        (Fault::Gateway(502), "later"),
        (Fault::Gateway(503), "later"),
        (Fault::Gateway(504), "unsure"),
        (Fault::CutBefore, "unsure"),
        (Fault::CutAfter, "unsure"),
        (
            Fault::Deny { code: 403, words: "Forbidden: bot was kicked from the group chat" },
            "closed",
        ),
        (Fault::Deny { code: 403, words: "Forbidden: bot was blocked by the user" }, "closed"),
        (Fault::Deny { code: 400, words: "Bad Request: chat not found" }, "closed"),
        (Fault::Deny { code: 400, words: "Bad Request: not enough rights" }, "refused"),
    ];
    for (chat, (fault, expected)) in (-160..).zip(table) {
        desk.messenger.group(chat, "Kitchen", &[&desk.ann]);
        desk.messenger.fail("sendMessage", fault.clone());
        let outcome = desk.send(&Outbound::Send(letter(chat, "noted")));
        let judged = match outcome {
            Outcome::Sent { .. } => "sent".to_owned(),
            Outcome::Later { wait: Some(wait), .. } => format!("later {}", wait.as_secs()),
            Outcome::Later { wait: None, .. } => "later".to_owned(),
            Outcome::Moved { .. } => "moved".to_owned(),
            Outcome::Closed { .. } => "closed".to_owned(),
            Outcome::Refused { .. } => "refused".to_owned(),
            Outcome::Unsure { .. } => "unsure".to_owned(),
        };
        assert_eq!(judged, expected, "{fault:?}");
        let arrived = desk.messenger.lock().shown(chat).len();
        assert_eq!(arrived, usize::from(fault == Fault::CutAfter), "{fault:?}");
    }
}

#[test]
fn what_may_be_repeated_is_never_unsure() {
    let desk = Desk::new();
    let id = desk.sent(letter(GROUP, "3 leeks"));
    desk.messenger.fail("editMessageText", Fault::CutAfter);
    let edit =
        Outbound::Edit { chat: GROUP, message: id, text: Rich::plain("4 leeks"), buttons: vec![] };
    assert!(matches!(desk.send(&edit), Outcome::Later { .. }));
    assert_eq!(desk.send(&edit), Outcome::Sent { message: Some(id) });
    assert_eq!(desk.messenger.lock().message(GROUP, id).unwrap().edits, 1);
}

#[test]
fn a_server_that_is_down_has_certainly_not_got_the_message() {
    let messenger = Messenger::asleep();
    let api = Api::new(&messenger.url(), Token::new(TOKEN).unwrap()).unwrap();
    let request = Outbound::Send(letter(GROUP, "noted"));
    let outcome = messenger.block_on(send::send(&api, &request));
    let Outcome::Later { wait: None, reason } = outcome else { panic!("{outcome:?}") };
    assert!(!reason.contains("CANARY"), "{reason}");
}

#[test]
fn a_group_that_became_a_supergroup_says_where_it_went() {
    let desk = Desk::new();
    desk.messenger.moves(GROUP, SUPERGROUP);
    let request = Outbound::Send(letter(GROUP, "noted"));
    assert_eq!(desk.send(&request), Outcome::Moved { to: SUPERGROUP });
    desk.sent(letter(SUPERGROUP, "noted"));
}

#[test]
fn a_message_cut_off_between_its_parts_does_not_start_over() {
    let desk = Desk::new();
    let wordy = letter(GROUP, &"leek ".repeat(1_500));
    let whole = desk.sent(wordy.clone());
    assert!(whole > 0);
    let parts = desk.messenger.lock().requests_of("sendMessage").len();
    assert_eq!(parts, 2);
    // The first part passes; the chat is closed before the second.
    let first = desk.messenger.lock().shown(GROUP).len();
    desk.messenger.fail_after("sendMessage", 1, Fault::Gateway(502));
    let outcome = desk.send(&Outbound::Send(wordy));
    assert!(matches!(outcome, Outcome::Unsure { .. }), "{outcome:?}");
    assert_eq!(desk.messenger.lock().shown(GROUP).len(), first + 1);
}

#[test]
fn a_message_without_words_is_never_sent() {
    let desk = Desk::new();
    let outcome = desk.send(&Outbound::Send(letter(GROUP, " \n\u{7} ")));
    assert!(matches!(outcome, Outcome::Refused { .. }));
    assert_eq!(desk.messenger.lock().requests_of("sendMessage").len(), 0);
}

#[test]
fn a_pause_the_server_asks_for_comes_with_its_length() {
    let desk = Desk::new();
    desk.messenger.fail("sendMessage", Fault::TooMany { seconds: 30 });
    let outcome = desk.send(&Outbound::Send(letter(GROUP, "noted")));
    let wait = Some(Duration::from_secs(30));
    assert!(matches!(outcome, Outcome::Later { wait: found, .. } if found == wait), "{outcome:?}");
    let state = desk.messenger.lock();
    let last = state.requests.last().unwrap();
    assert!(matches!(last.end, End::Denied(429, _)));
}
