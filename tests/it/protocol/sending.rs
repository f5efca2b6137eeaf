//! What is sent, and how each way of failing is judged.

use larderling::channel::telegram::{Api, Courier, Token};
use larderling::channel::{Channel, ChatKey};
use larderling::conversation::{Button, Kind, MessageId, Outgoing, Rich};
use larderling::dates::Instant;
use larderling::outbox::{Outcome, Sender};
use larderling::picture::{Picture, Scene};
use larderling::store::{Claimed, Errand, HouseholdId};

use crate::support::messenger::{End, Fault, Messenger, Person, TOKEN};
use crate::support::referee;

const GROUP: i64 = -40;
const SUPERGROUP: i64 = -1_001_234_567_890;
const PNG: &[u8] = b"\x89PNG\r\n\x1a\nnot much of a picture";

struct Desk {
    messenger: Messenger,
    courier: Courier,
    ann: Person,
}

impl Desk {
    fn new() -> Desk {
        let messenger = Messenger::start();
        let courier = courier(&messenger);
        let ann = Person::new(11, "Ann");
        messenger.group(GROUP, "Kitchen", &[&ann]);
        messenger.private(&ann);
        Desk { messenger, courier, ann }
    }

    fn send(&self, parcel: &Claimed) -> Outcome {
        self.messenger.block_on(self.courier.send(parcel))
    }

    /// Sends and expects the new message's number.
    fn sent(&self, parcel: &Claimed) -> i64 {
        match self.send(parcel) {
            Outcome::Sent { external: Some(message) } => message.parse().unwrap(),
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

fn courier(messenger: &Messenger) -> Courier {
    let api = Api::new(&messenger.url(), Token::new(TOKEN).unwrap()).unwrap();
    Courier::new(api, |svg| svg.starts_with("<svg").then(|| PNG.to_vec()))
}

/// A parcel to try, with a few things set on it.
fn parcel(chat: i64, kind: Kind, words: &str) -> Claimed {
    let outgoing = Outgoing {
        message: MessageId(1),
        kind,
        answers: None,
        to: None,
        text: Rich::plain(words),
        buttons: Vec::new(),
        picture: None,
        loud: false,
    };
    errand(chat, Errand::Say(outgoing))
}

fn errand(chat: i64, errand: Errand) -> Claimed {
    let now = Instant::from_seconds(1_790_000_000);
    Claimed {
        household: HouseholdId::new(now),
        number: 1,
        chat: Some(ChatKey::new(Channel::Telegram, chat.to_string())),
        errand,
        on: None,
        reply_to: None,
        tries: 1,
        expires_at: now.plus_minutes(60),
        lease_until: now.plus_minutes(2),
    }
}

fn reply(chat: i64, words: &str) -> Claimed {
    parcel(chat, Kind::Reply, words)
}

trait Fill {
    fn with(self, fill: impl FnOnce(&mut Outgoing)) -> Self;
    fn on(self, message: i64) -> Self;
    fn answering(self, message: i64) -> Self;
    fn in_topic(self, topic: i64) -> Self;
}

impl Fill for Claimed {
    fn with(mut self, fill: impl FnOnce(&mut Outgoing)) -> Claimed {
        if let Errand::Say(outgoing) = &mut self.errand {
            fill(outgoing);
        }
        self
    }

    fn on(mut self, message: i64) -> Claimed {
        self.on = Some(message.to_string());
        self
    }

    fn answering(mut self, message: i64) -> Claimed {
        self.reply_to = Some(message.to_string());
        self
    }

    fn in_topic(mut self, topic: i64) -> Claimed {
        self.chat.as_mut().unwrap().topic = topic.to_string();
        self
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
    let id = desk.sent(&reply(GROUP, "").answering(asked).with(|outgoing| {
        outgoing.text = text;
        outgoing.buttons = vec![button("undo", "Undo"), button("why", "Why?")];
    }));
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
    let quiet = desk.sent(&reply(GROUP, "noted"));
    let loud = desk.sent(&parcel(GROUP, Kind::Post, "good morning").with(|it| it.loud = true));
    let state = desk.messenger.lock();
    assert!(state.message(GROUP, quiet).unwrap().silent);
    assert!(!state.message(GROUP, loud).unwrap().silent);
}

#[test]
fn an_answer_to_a_message_that_is_gone_is_sent_all_the_same() {
    let desk = Desk::new();
    let id = desk.sent(&reply(GROUP, "noted").answering(9_999));
    assert_eq!(desk.messenger.lock().message(GROUP, id).unwrap().reply_to, None);
}

#[test]
fn a_long_text_goes_out_in_parts_with_the_buttons_under_the_last() {
    let desk = Desk::new();
    let mut text = Rich::new();
    for number in 0..600 {
        text.push_line(Rich::plain(format!("{number} 🥕 carrots & <leeks>")));
    }
    let last = desk.sent(&reply(GROUP, "").with(|outgoing| {
        outgoing.text = text.clone();
        outgoing.buttons = vec![button("more", "More")];
    }));
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
    let undo = vec![button("undo", "Undo")];
    let id = desk.sent(&reply(GROUP, "3 leeks").with(|outgoing| outgoing.buttons = undo));
    let press = desk.messenger.presses(&desk.ann, GROUP, id, "Undo");
    let requests = [
        parcel(GROUP, Kind::Edit, "undone").on(id),
        parcel(GROUP, Kind::Reaction, "").on(said),
        errand(GROUP, Errand::AnswerPress { query: press.clone(), text: None }),
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
    assert!(state.presses[&press].answered);
    drop(state);
    desk.judge();
}

#[test]
fn a_picture_goes_out_with_its_words_and_long_words_go_on_after_it() {
    let desk = Desk::new();
    let picture = |svg: &str| Some(Picture { scene: Scene::House, svg: svg.to_owned() });
    let drawn = |outgoing: &mut Outgoing| outgoing.picture = picture("<svg/>");
    let words = "What is in the house & <when>";
    let id = desk.sent(&reply(GROUP, words).with(drawn).with(|outgoing| {
        outgoing.buttons = vec![button("more", "More")];
    }));
    let long = desk.sent(&reply(GROUP, &vec!["leek"; 300].join("\n")).with(drawn));
    let undrawn = desk.sent(&reply(GROUP, words).with(|it| it.picture = picture("?")));
    let state = desk.messenger.lock();
    let shown = state.message(GROUP, id).unwrap();
    assert_eq!(shown.picture, Some(PNG.len()));
    assert_eq!(shown.text, "What is in the house & <when>");
    assert_eq!(shown.buttons.len(), 1);
    let rest = state.message(GROUP, long).unwrap();
    let first = state.message(GROUP, long - 1).unwrap();
    assert_eq!((first.picture, rest.picture), (Some(PNG.len()), None));
    assert_eq!(first.text.len() + 1 + rest.text.len(), "leek\n".len() * 300 - 1);
    assert_eq!(state.message(GROUP, undrawn).unwrap().text, words);
    drop(state);
    desk.judge();
}

#[test]
fn the_words_under_a_picture_are_changed_like_any_others() {
    let desk = Desk::new();
    let picture = Some(Picture { scene: Scene::Plan, svg: "<svg/>".to_owned() });
    let id = desk.sent(&reply(GROUP, "Plan until Friday").with(|it| it.picture = picture));
    let changed = parcel(GROUP, Kind::Edit, "Taken back").on(id);
    assert!(matches!(desk.send(&changed), Outcome::Sent { .. }));
    let state = desk.messenger.lock();
    let shown = state.message(GROUP, id).unwrap();
    assert_eq!((shown.text.as_str(), shown.picture), ("Taken back", Some(PNG.len())));
    drop(state);
    desk.judge();
}

#[test]
fn a_topic_is_kept_and_a_topic_that_is_gone_falls_back_to_the_group() {
    let desk = Desk::new();
    desk.messenger.group(SUPERGROUP, "Kitchen", &[&desk.ann]);
    let topic = desk.messenger.opens_topic(&desk.ann, SUPERGROUP, "Food");
    let kept = desk.sent(&reply(SUPERGROUP, "noted").in_topic(topic));
    let gone = desk.sent(&reply(SUPERGROUP, "noted too").in_topic(topic + 50));
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
    let id = desk.sent(&reply(GROUP, "a & b"));
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
        let outcome = desk.send(&reply(chat, "noted"));
        let judged = match outcome {
            Outcome::Sent { .. } => "sent".to_owned(),
            Outcome::RetryAfter { seconds } => format!("later {seconds}"),
            Outcome::Failed { .. } => "later".to_owned(),
            Outcome::Moved { .. } => "moved".to_owned(),
            Outcome::Gone { .. } => "closed".to_owned(),
            Outcome::Refused { .. } => "refused".to_owned(),
            Outcome::Unsure { .. } => "unsure".to_owned(),
        };
        assert_eq!(judged, expected, "{fault:?}");
        let arrived = desk.messenger.lock().shown(chat).len();
        assert_eq!(arrived, usize::from(fault == Fault::CutAfter), "{fault:?}");
    }
}

#[test]
fn an_edit_that_may_have_arrived_can_be_made_again() {
    let desk = Desk::new();
    let id = desk.sent(&reply(GROUP, "3 leeks"));
    desk.messenger.fail("editMessageText", Fault::CutAfter);
    let edit = parcel(GROUP, Kind::Edit, "4 leeks").on(id);
    assert!(matches!(desk.send(&edit), Outcome::Unsure { .. }));
    assert_eq!(desk.send(&edit), Outcome::Sent { external: None });
    assert_eq!(desk.messenger.lock().message(GROUP, id).unwrap().edits, 1);
}

#[test]
fn a_server_that_is_down_has_certainly_not_got_the_message() {
    let messenger = Messenger::asleep();
    let outcome = messenger.block_on(courier(&messenger).send(&reply(GROUP, "noted")));
    let Outcome::Failed { why } = outcome else { panic!("{outcome:?}") };
    assert!(!why.contains("CANARY"), "{why}");
}

#[test]
fn a_group_that_became_a_supergroup_says_where_it_went() {
    let desk = Desk::new();
    desk.messenger.moves(GROUP, SUPERGROUP);
    let to = ChatKey::new(Channel::Telegram, SUPERGROUP.to_string());
    assert_eq!(desk.send(&reply(GROUP, "noted")), Outcome::Moved { to });
    desk.sent(&reply(SUPERGROUP, "noted"));
}

#[test]
fn a_message_cut_off_between_its_parts_does_not_start_over() {
    let desk = Desk::new();
    let wordy = reply(GROUP, &"leek ".repeat(1_500));
    let whole = desk.sent(&wordy);
    assert!(whole > 0);
    let parts = desk.messenger.lock().requests_of("sendMessage").len();
    assert_eq!(parts, 2);
    // The first part passes; the chat is closed before the second.
    let first = desk.messenger.lock().shown(GROUP).len();
    desk.messenger.fail_after("sendMessage", 1, Fault::Gateway(502));
    let outcome = desk.send(&wordy);
    assert!(matches!(outcome, Outcome::Unsure { .. }), "{outcome:?}");
    assert_eq!(desk.messenger.lock().shown(GROUP).len(), first + 1);
}

#[test]
fn a_message_without_words_is_never_sent() {
    let desk = Desk::new();
    let outcome = desk.send(&reply(GROUP, " \n\u{7} "));
    assert!(matches!(outcome, Outcome::Refused { .. }));
    assert_eq!(desk.messenger.lock().requests_of("sendMessage").len(), 0);
}

#[test]
fn a_pause_the_server_asks_for_comes_with_its_length() {
    let desk = Desk::new();
    desk.messenger.fail("sendMessage", Fault::TooMany { seconds: 30 });
    let outcome = desk.send(&reply(GROUP, "noted"));
    assert_eq!(outcome, Outcome::RetryAfter { seconds: 30 });
    let state = desk.messenger.lock();
    let last = state.requests.last().unwrap();
    assert!(matches!(last.end, End::Denied(429, _)));
}
