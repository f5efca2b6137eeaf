//! Updates reach the inbox before they are confirmed, by polling and by pushes.

use std::sync::{Arc, Mutex};

use larderling::channel::telegram::webhook::{self, Secret};
use larderling::channel::telegram::{Api, Inbox, PollError, Raw, Token, fetch};

use crate::support::messenger::{BOT_HANDLE, BOT_ID, Fault, Messenger, Person, TOKEN};
use crate::support::referee;

/// An inbox that keeps numbers, and fails as often as it is told.
#[derive(Default)]
struct Shelf {
    kept: Mutex<Vec<i64>>,
    failures: Mutex<u32>,
}

impl Inbox for Shelf {
    async fn keep(&self, updates: &[Raw]) -> anyhow::Result<()> {
        let mut failures = self.failures.lock().unwrap();
        if *failures > 0 && !updates.is_empty() {
            *failures -= 1;
            anyhow::bail!("the disk is full");
        }
        let mut kept = self.kept.lock().unwrap();
        for update in updates {
            if !kept.contains(&update.id) {
                kept.push(update.id);
            }
        }
        Ok(())
    }
}

fn api(messenger: &Messenger) -> Api {
    Api::new(&messenger.url(), Token::new(TOKEN).unwrap()).unwrap()
}

/// Polls until everything fed is confirmed.
fn poll_all(messenger: &Messenger, shelf: &Shelf) {
    let api = api(messenger);
    std::thread::scope(|scope| {
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        scope.spawn(move || {
            messenger.block_on(async {
                tokio::select! {
                    ended = fetch::poll(&api, shelf) => panic!("polling ended: {ended:?}"),
                    _ = stopped => {}
                }
            });
        });
        messenger.until("everything confirmed", |state| (state.unconfirmed() == 0).then_some(()));
        stop.send(()).unwrap();
    });
}

#[test]
fn an_update_the_inbox_could_not_keep_comes_again() {
    let messenger = Messenger::start();
    let ann = Person::new(11, "Ann");
    let chat = messenger.group(-40, "Kitchen", &[&ann]);
    for number in 0..5 {
        messenger.says(&ann, chat, &format!("{number} leeks"));
    }
    let shelf = Arc::new(Shelf::default());
    *shelf.failures.lock().unwrap() = 1;
    poll_all(&messenger, &shelf);
    assert_eq!(shelf.kept.lock().unwrap().len(), 6);
}

#[test]
fn numbers_that_jump_down_lose_nothing() {
    let messenger = Messenger::start();
    let ann = Person::new(11, "Ann");
    let chat = messenger.private(&ann);
    let shelf = Arc::new(Shelf::default());
    for start in [900_000, 12, 5_000_000_000, 40] {
        messenger.jump_to_update(start);
        messenger.says(&ann, chat, "milk");
        messenger.says(&ann, chat, "more milk");
        poll_all(&messenger, &shelf);
    }
    let expected = [900_000, 900_001, 12, 13, 5_000_000_000, 5_000_000_001, 40, 41];
    assert_eq!(*shelf.kept.lock().unwrap(), expected);
}

#[test]
fn more_than_one_batch_is_fetched_in_order_through_every_kind_of_failure() {
    let messenger = Messenger::start();
    let ann = Person::new(11, "Ann");
    let chat = messenger.private(&ann);
    for number in 0..250 {
        messenger.says(&ann, chat, &format!("{number} plums"));
    }
    messenger.fail("getUpdates", Fault::Gateway(502));
    messenger.fail("getUpdates", Fault::CutBefore);
    messenger.fail("getUpdates", Fault::CutAfter);
    messenger.fail("getUpdates", Fault::TooMany { seconds: 1 });
    let shelf = Arc::new(Shelf::default());
    poll_all(&messenger, &shelf);
    let fed: Vec<i64> =
        messenger.lock().updates.iter().filter_map(|update| update["update_id"].as_i64()).collect();
    assert_eq!(*shelf.kept.lock().unwrap(), fed);
}

#[test]
fn every_poll_names_the_kinds_of_update_it_wants() {
    let messenger = Messenger::start();
    let ann = Person::new(11, "Ann");
    let chat = messenger.private(&ann);
    messenger.says(&ann, chat, "milk");
    poll_all(&messenger, &Shelf::default());
    let state = messenger.lock();
    for poll in state.requests_of("getUpdates") {
        let kinds = ["message", "edited_message", "callback_query", "my_chat_member"];
        assert_eq!(poll.params["allowed_updates"], serde_json::json!(kinds));
    }
    assert_eq!(referee::judge(&referee::record(&state)), Vec::<String>::new());
}

#[test]
fn a_wrong_token_ends_polling_with_the_cure_and_without_the_token() {
    let messenger = Messenger::start();
    let wrong = "12345:WRONG-token";
    let api = Api::new(&messenger.url(), Token::new(wrong).unwrap()).unwrap();
    let ended = messenger.block_on(fetch::poll(&api, &Shelf::default())).unwrap_err();
    assert!(matches!(ended, PollError::Unauthorised(_)));
    assert!(ended.to_string().contains("TELOXIDE_TOKEN"), "{ended}");
    assert!(!format!("{ended} {ended:?} {api:?}").contains("WRONG"), "{ended}");
}

#[test]
fn a_second_poller_with_the_same_token_is_told_apart() {
    let messenger = Messenger::start();
    for _ in 0..3 {
        let words = "Conflict: terminated by other getUpdates request";
        messenger.fail("getUpdates", Fault::Deny { code: 409, words });
    }
    let api = api(&messenger);
    let ended = messenger.block_on(fetch::poll(&api, &Shelf::default())).unwrap_err();
    assert!(matches!(ended, PollError::AnotherPoller(_)), "{ended}");
}

#[test]
fn a_webhook_left_behind_is_given_up_without_losing_what_waits() {
    let messenger = Messenger::start();
    let ann = Person::new(11, "Ann");
    let chat = messenger.private(&ann);
    let api = api(&messenger);
    let secret = Secret::new("0123456789abcdef").unwrap();
    messenger.block_on(webhook::register(&api, "http://127.0.0.1:9", &secret)).unwrap();
    messenger.says(&ann, chat, "milk");
    let shelf = Arc::new(Shelf::default());
    poll_all(&messenger, &shelf);
    assert_eq!(shelf.kept.lock().unwrap().len(), 1);
    let me = messenger.block_on(api.me()).unwrap();
    assert_eq!((me.id, me.username.as_str()), (BOT_ID, BOT_HANDLE));
    assert!(me.can_read_all_group_messages);
}

#[test]
fn pushes_need_the_secret_and_are_confirmed_after_the_inbox_has_them() {
    let messenger = Messenger::start();
    let ann = Person::new(11, "Ann");
    let chat = messenger.private(&ann);
    let api = api(&messenger);
    let secret = Secret::new("0123456789abcdef").unwrap();
    let shelf = Arc::new(Shelf::default());
    *shelf.failures.lock().unwrap() = 1;

    let router = webhook::router(secret.clone(), Arc::clone(&shelf));
    let listener =
        messenger.block_on(tokio::net::TcpListener::bind("127.0.0.1:0")).expect("a port");
    let base = format!("http://{}", listener.local_addr().unwrap());
    let door = messenger.spawn(async move { axum::serve(listener, router).await });

    let address = format!("{base}{}", webhook::PATH);
    let client = reqwest::Client::new();
    let push = |secret: Option<&str>, body: &str| {
        let mut request = client.post(&address).body(body.to_owned());
        if let Some(secret) = secret {
            request = request.header("X-Telegram-Bot-Api-Secret-Token", secret);
        }
        messenger.block_on(request.send()).unwrap().status().as_u16()
    };
    let update = r#"{"update_id":7}"#;
    assert_eq!(push(None, update), 401);
    assert_eq!(push(Some("0123456789abcdeX"), update), 401);
    assert_eq!(push(Some("0123456789abcdef0"), update), 401);
    assert_eq!(push(Some("0123456789abcdef"), "no update"), 400);
    assert_eq!(push(Some("0123456789abcdef"), &" ".repeat(2 << 20)), 413);
    assert_eq!(*shelf.kept.lock().unwrap(), Vec::<i64>::new());

    messenger.says(&ann, chat, "milk");
    messenger.block_on(webhook::register(&api, &base, &secret)).unwrap();
    messenger.until("the update taken", |state| (state.unconfirmed() == 0).then_some(()));
    assert_eq!(shelf.kept.lock().unwrap().len(), 1);
    assert_eq!(*shelf.failures.lock().unwrap(), 0, "the first push was refused and came again");
    assert_eq!(referee::judge(&referee::record(&messenger.lock())), Vec::<String>::new());
    door.abort();
}
