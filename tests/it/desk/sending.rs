//! How sendings end: what is tried again, what never is.

use std::collections::VecDeque;
use std::sync::Mutex;

use larderling::channel::{Channel, ChatKey};
use larderling::conversation::Kind;
use larderling::outbox::{Limits, Outbox, Outcome, Sender};
use larderling::store::{Claimed, Errand, ParcelState};

use super::{Office, later, run};

/// A channel that answers as told, and then always says "sent".
#[derive(Default)]
struct Scripted {
    outcomes: Mutex<VecDeque<Outcome>>,
    tried: Mutex<Vec<Claimed>>,
}

impl Sender for Scripted {
    async fn send(&self, claimed: &Claimed) -> Outcome {
        self.tried.lock().unwrap().push(claimed.clone());
        let next = self.outcomes.lock().unwrap().pop_front();
        next.unwrap_or(Outcome::Sent { external: Some(format!("bot {}", claimed.number)) })
    }
}

/// Something said, its parcel sent with these outcomes over `minutes`, and the chats tried.
async fn tried(office: &mut Office, outcomes: Vec<Outcome>, minutes: i64) -> Vec<ChatKey> {
    office.said("home", "got 3 leeks").await;
    let scripted = Scripted { outcomes: Mutex::new(outcomes.into()), ..Scripted::default() };
    let outbox = Outbox::new(
        office.store.clone(),
        office.clock.clone(),
        scripted,
        Limits::NONE,
        office.desk.sender_wake(),
    );
    for _ in 0..minutes {
        outbox.drain().await.unwrap();
        later(&office.clock, 1);
    }
    let tried = outbox.sender().tried.lock().unwrap();
    tried.iter().filter_map(|claimed| claimed.chat.clone()).collect()
}

async fn count(office: &Office, state: ParcelState) -> i64 {
    let counts = office.store.outbox_counts().await.unwrap();
    counts.into_iter().find(|(each, _)| *each == state).expect("counted").1
}

fn why() -> String {
    "as told".to_owned()
}

#[test]
fn what_was_certainly_not_sent_is_tried_until_it_is() {
    run(async {
        let mut office = Office::open().await;
        let failed = || Outcome::Failed { why: why() };
        let waits = Outcome::RetryAfter { seconds: 90 };
        let tried = tried(&mut office, vec![failed(), waits, failed()], 10).await;
        assert_eq!(tried.len(), 4);
        assert_eq!(count(&office, ParcelState::Sent).await, 1);
    });
}

#[test]
fn what_may_have_arrived_is_never_sent_again_by_itself() {
    run(async {
        let mut office = Office::open().await;
        let tried = tried(&mut office, vec![Outcome::Unsure { why: why() }], 10).await;
        assert_eq!(tried.len(), 1);
        assert_eq!(count(&office, ParcelState::Unsure).await, 1);
        // An edit of it has nothing to stand on, and says so instead of guessing.
        let trouble = office.store.troubled_parcels(10).await.unwrap();
        assert_eq!(trouble[0].trouble.as_deref(), Some("as told"));
    });
}

#[test]
fn an_edit_may_be_repeated_when_its_answer_was_lost() {
    run(async {
        let mut office = Office::open().await;
        office.said("home", "we have 3 leeks and 3 carrots").await;
        office.said("home", "used 1 leek").await;
        office.sent().await;
        // Within the same burst the acknowledgement is edited.
        let arrival = office.arrival("home", "used 1 carrot").await;
        office.desk.arrive(&arrival).await.unwrap();
        let scripted = Scripted::default();
        scripted.outcomes.lock().unwrap().push_back(Outcome::Unsure { why: why() });
        let outbox = Outbox::new(
            office.store.clone(),
            office.clock.clone(),
            scripted,
            Limits::NONE,
            office.desk.sender_wake(),
        );
        for _ in 0..3 {
            outbox.drain().await.unwrap();
            later(&office.clock, 1);
        }
        let edits = {
            let tried = outbox.sender().tried.lock().unwrap();
            let is_edit = |claimed: &&Claimed| matches!(&claimed.errand, Errand::Say(said) if said.kind == Kind::Edit);
            tried.iter().filter(is_edit).count()
        };
        assert_eq!(edits, 2);
        assert_eq!(count(&office, ParcelState::Unsure).await, 0);
    });
}

#[test]
fn a_refused_message_is_not_tried_again_and_stays_visible() {
    run(async {
        let mut office = Office::open().await;
        let tried = tried(&mut office, vec![Outcome::Refused { why: why() }], 5).await;
        assert_eq!(tried.len(), 1);
        assert_eq!(count(&office, ParcelState::Refused).await, 1);
    });
}

#[test]
fn a_chat_that_moved_gets_the_message_at_its_new_key() {
    run(async {
        let mut office = Office::open().await;
        let to = ChatKey::new(Channel::Telegram, "super");
        let tried = tried(&mut office, vec![Outcome::Moved { to: to.clone() }], 3).await;
        assert_eq!(tried, [ChatKey::new(Channel::Telegram, "home"), to]);
    });
}

#[test]
fn a_chat_that_removed_the_bot_is_given_up() {
    run(async {
        let mut office = Office::open().await;
        let tried = tried(&mut office, vec![Outcome::Gone { why: why() }], 48 * 60).await;
        assert_eq!(tried.len(), 1);
        larderling::rounds::work_due(&office.desk).await.unwrap();
        assert_eq!(count(&office, ParcelState::Queued).await, 0, "no posts either");
    });
}

#[test]
fn an_answer_that_is_too_late_to_be_of_use_is_not_sent() {
    run(async {
        let mut office = Office::open().await;
        let down = vec![Outcome::Failed { why: why() }; 100_000];
        tried(&mut office, down, 60 * 24).await;
        assert_eq!(count(&office, ParcelState::Refused).await, 1);
        assert_eq!(count(&office, ParcelState::Queued).await, 0);
    });
}
