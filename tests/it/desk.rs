//! The desk: one transaction for whatever arrives, whole or not at all.

mod atomic;
mod console;
mod leaving;
mod road;
mod sending;

use std::sync::{Arc, LazyLock};

use larderling::channel::{Arrival, Arrived, Channel, ChatKey, Spoken, Writer};
use larderling::clock::Clock;
use larderling::conversation::{Kit, Outgoing};
use larderling::dates::Instant;
use larderling::desk::{Desk, Fate, Handled};
use larderling::kitchen::State;
use larderling::ledger;
use larderling::store::{Errand, HouseholdId, Location, Received, Settled, Store};

use crate::store::{noon, run};

static KIT: LazyLock<Arc<Kit>> =
    LazyLock::new(|| Arc::new(Kit::embedded().expect("the bundled data is sound")));

/// A store in memory and a desk on it, at noon of a day in March.
pub struct Office {
    pub store: Store,
    pub clock: Clock,
    pub desk: Desk,
    next_update: i64,
}

impl Office {
    pub async fn open() -> Office {
        let store = Store::open(&Location::Memory).await.expect("opens").store;
        Office::on(store, Clock::set(noon()))
    }

    pub fn on(store: Store, clock: Clock) -> Office {
        let desk = Desk::new(store.clone(), clock.clone(), Arc::clone(&KIT), Vec::new());
        Office { store, clock, desk, next_update: 100 }
    }

    /// The program stops and starts again on the same store.
    pub fn restart(self) -> Office {
        let next_update = self.next_update;
        Office { next_update, ..Office::on(self.store, self.clock) }
    }

    /// A minute later, as an update that was stored first.
    pub async fn said(&mut self, chat: &str, text: &str) -> (Arrival, Handled) {
        self.clock.advance_to(self.clock.now().plus_minutes(1));
        let arrival = self.arrival(chat, text).await;
        let handled = self.desk.arrive(&arrival).await.expect("is handled");
        (arrival, handled)
    }

    /// A stored update, not handled yet.
    pub async fn arrival(&mut self, chat: &str, text: &str) -> Arrival {
        let number = self.next_update;
        self.next_update += 1;
        let what = Arrived::Said { from: ada(), message: spoken(number, text) };
        self.stored(chat, number, what).await
    }

    pub async fn stored(&mut self, chat: &str, number: i64, what: Arrived) -> Arrival {
        let update =
            Received { update_id: number, chat: Some(chat.to_owned()), raw: "raw".to_owned() };
        let channel = Channel::Telegram;
        self.store.receive(channel, &[update], self.clock.now()).await.expect("is stored");
        let chat = ChatKey::new(channel, chat);
        let context = larderling::channel::Context::of_equals();
        Arrival { chat, update: Some(number), at: self.clock.now(), what, context }
    }

    pub async fn household(&self, chat: &str) -> HouseholdId {
        let chat = ChatKey::new(Channel::Telegram, chat);
        self.store.household_of_chat(&chat).await.expect("looks").expect("is known")
    }

    /// Sends everything, and returns what was said.
    pub async fn sent(&self) -> Vec<Outgoing> {
        let mut said = Vec::new();
        while let Some(claimed) = self.store.claim_parcel(self.clock.now()).await.expect("claims") {
            let outcome = Settled::Sent { external: Some(format!("bot {}", claimed.number)) };
            self.store.settle_parcel(&claimed, &outcome, self.clock.now()).await.expect("settles");
            if let Errand::Say(outgoing) = claimed.errand {
                said.push(outgoing);
            }
        }
        said
    }

    /// What holds at any time: the state is what the log adds up to, and every gram is accounted
    /// for.
    pub async fn assert_sound(&self) {
        for row in self.store.households().await.expect("lists") {
            let mut tx = self.store.begin().await.expect("begins");
            let loaded = tx.load(&row.id).await.expect("loads");
            drop(tx);
            assert_eq!(State::fold(&loaded.log), loaded.state, "the fold is the state");
            assert_eq!(loaded.log.len() as u64, row.last_event);
            assert_eq!(ledger::imbalances(&loaded.state), [], "the balance holds");
        }
    }
}

pub fn ada() -> Writer {
    Writer { external: "7".to_owned(), name: "Ada".to_owned() }
}

pub fn spoken(number: i64, text: &str) -> Spoken {
    Spoken {
        external: Some(number.to_string()),
        text: text.to_owned(),
        reply_to: None,
        private: false,
        addressed: false,
    }
}

pub fn texts(said: &[Outgoing]) -> Vec<String> {
    said.iter().map(|outgoing| outgoing.text.to_plain()).collect()
}

pub fn later(clock: &Clock, minutes: i64) -> Instant {
    let at = clock.now().plus_minutes(minutes);
    clock.advance_to(at);
    at
}

#[test]
fn an_update_is_handled_once_however_often_it_is_handed_in() {
    run(async {
        let mut office = Office::open().await;
        let (arrival, handled) = office.said("home", "got 3 leeks").await;
        assert_eq!(handled.fate, Fate::Done);
        let before = office.desk.house(&office.household("home").await).await.unwrap();
        assert_eq!(before.state.lots.len(), 1);
        for _ in 0..3 {
            office = office.restart();
            let again = office.desk.arrive(&arrival).await.unwrap();
            assert_eq!(again.fate, Fate::Before);
        }
        // The same message under another number, as after a change of how updates are fetched.
        let copy = office.stored("home", 9_000, arrival.what.clone()).await;
        assert_eq!(office.desk.arrive(&copy).await.unwrap().fate, Fate::Before);
        let after = office.desk.house(&office.household("home").await).await.unwrap();
        assert_eq!(after, before);
        assert_eq!(office.sent().await.len(), 1, "one answer");
        assert_eq!(office.store.waiting_count().await.unwrap(), 0);
    });
}
