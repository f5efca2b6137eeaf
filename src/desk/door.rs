//! At the door: what arrives before it is known which household it belongs to, and what is said
//! there. Who may found a household, invites, somebody in two households, a channel that is no
//! place to talk.
//!
//! What is said here belongs to no household, so it goes past the outbox: a [`Notice`], tried once.
//! Losing one does no harm; whoever knocks again is answered again.

use std::collections::BTreeSet;

use super::commit::Commit;
use super::houses::Kept;
use super::intake::private_writer;
use super::{Desk, DeskError, lock};
use crate::channel::{Arrival, Arrived, ChatKey, Notice};
use crate::conversation::{Button, Incoming, Rich, Said};
use crate::store::{HouseholdId, Membership, NewMessage, Tx};

/// What a button that chooses a household starts with; its id follows.
const HOME_KEY: &str = "home:";

/// What the file of an export is called.
const EXPORT_NAME: &str = "kitchen.jsonl";

/// Whom the operator lets found a household.
#[derive(Clone, PartialEq, Eq, Default)]
pub enum Admission {
    #[default]
    Open,
    /// Whoever says this code.
    Code(String),
    /// These chats and people, by the channel's ids.
    Listed(BTreeSet<String>),
}

/// What happens to an arrival at the door.
pub(super) enum Door {
    /// It goes on to its household, or founds one.
    Open,
    /// It was dealt with.
    Shut,
    /// This waited for the writer's word and goes on now, instead of the arrival.
    Instead(Box<Arrival>),
}

impl Desk {
    /// Sets whom the operator lets found a household.
    pub fn with_admission(mut self, admission: Admission) -> Desk {
        self.admission = admission;
        self
    }

    /// What is to be said outside of every household since this was last asked.
    pub fn take_notices(&self) -> Vec<Notice> {
        std::mem::take(&mut lock(&self.notices))
    }

    pub(super) fn notice(&self, notice: Notice) {
        lock(&self.notices).push(notice);
    }

    /// Handles what belongs to no household yet.
    pub(super) async fn at_the_door(&self, arrival: &Arrival) -> Result<Door, DeskError> {
        let wording = &self.kit.wording;
        if arrival.what == Arrived::Misplaced {
            self.notice(Notice { leave: true, ..Notice::new(&arrival.chat, Rich::new()) });
            return Ok(Door::Shut);
        }
        let called = match &arrival.what {
            Arrived::Called { token, .. } if !token.is_empty() => Some(token.as_str()),
            _ => None,
        };
        let writer = private_writer(arrival);
        if let (Some(token), Some(_)) = (called, writer) {
            if self.store.invited_to(token, self.clock.now()).await?.is_some() {
                return Ok(Door::Open);
            }
            if !self.admits_code(token) {
                self.notice(Notice::new(&arrival.chat, wording.invite_used()));
                return Ok(Door::Shut);
            }
        }
        let chooses = matches!(&arrival.what, Arrived::Pressed { key, .. }
            if key.starts_with(HOME_KEY));
        let household = self.store.household_of_chat(&arrival.chat).await?;
        if let (Some(writer), Some(household)) = (writer, &household) {
            let channel = arrival.chat.channel;
            if self.store.has_left(household, channel, &writer.external).await? {
                let mut tx = self.store.begin().await?;
                tx.release_private_chat(&arrival.chat).await?;
                tx.commit().await?;
                self.notice(Notice::new(&arrival.chat, wording.no_longer_here()));
                return Ok(Door::Shut);
            }
        }
        let known = household.is_some();
        // Somebody who wrote alone first, and is in a group's household by now, is asked too.
        let settled = match writer {
            Some(_) if known => self.store.is_settled(&arrival.chat).await?,
            _ => true,
        };
        if known && settled && !(chooses && writer.is_some()) {
            return Ok(Door::Open);
        }
        if let Some(writer) = writer {
            let homes = self.store.memberships(arrival.chat.channel, &writer.external).await?;
            match homes.as_slice() {
                [] => {}
                [_] if !chooses => return Ok(Door::Open),
                some => return self.which_home(arrival, some).await,
            }
        }
        if known { Ok(Door::Open) } else { self.admit(arrival, called) }
    }

    /// Whether an unknown chat may become a household.
    fn admit(&self, arrival: &Arrival, called: Option<&str>) -> Result<Door, DeskError> {
        let founds = matches!(
            arrival.what,
            Arrived::Said { .. }
                | Arrived::Called { .. }
                | Arrived::Welcomed { .. }
                | Arrived::Unreadable { .. }
                | Arrived::Edited { .. }
                | Arrived::Joined { .. }
        );
        if let Arrived::Pressed { query, .. } = &arrival.what {
            let press = query.clone();
            self.notice(Notice { press, ..Notice::new(&arrival.chat, Rich::new()) });
            return Ok(Door::Shut);
        }
        if !founds {
            return Ok(Door::Open);
        }
        let wording = &self.kit.wording;
        let asked = matches!(arrival.what, Arrived::Welcomed { .. } | Arrived::Called { .. })
            || private_writer(arrival).is_some();
        match &self.admission {
            Admission::Open => Ok(Door::Open),
            Admission::Code(_) if called.is_some_and(|code| self.admits_code(code)) => {
                Ok(Door::Open)
            }
            Admission::Code(_) => {
                if asked {
                    self.notice(Notice::new(&arrival.chat, wording.by_invitation()));
                }
                Ok(Door::Shut)
            }
            Admission::Listed(list) => {
                let by = match &arrival.what {
                    Arrived::Welcomed { by, .. } => by.as_ref(),
                    _ => private_writer(arrival),
                };
                let listed = list.contains(&arrival.chat.chat)
                    || by.is_some_and(|by| list.contains(&by.external));
                if listed {
                    return Ok(Door::Open);
                }
                if asked {
                    let leave = private_writer(arrival).is_none();
                    let said = Notice::new(&arrival.chat, wording.by_list());
                    self.notice(Notice { leave, ..said });
                }
                Ok(Door::Shut)
            }
        }
    }

    fn admits_code(&self, said: &str) -> bool {
        use subtle::ConstantTimeEq;
        match &self.admission {
            Admission::Code(code) => code.as_bytes().ct_eq(said.as_bytes()).into(),
            Admission::Open | Admission::Listed(_) => false,
        }
    }

    /// Somebody in several households writes in private: which one is meant? What they wrote
    /// waits for the answer.
    async fn which_home(&self, arrival: &Arrival, homes: &[Membership]) -> Result<Door, DeskError> {
        let wording = &self.kit.wording;
        let names = self.names(homes);
        let chosen = match &arrival.what {
            Arrived::Pressed { key, .. } => key.strip_prefix(HOME_KEY),
            _ => None,
        };
        let chosen = chosen.and_then(HouseholdId::from_text);
        let chosen =
            homes.iter().zip(&names).find(|(home, _)| Some(&home.household) == chosen.as_ref());
        let press = match &arrival.what {
            Arrived::Pressed { query, .. } => query.clone(),
            _ => None,
        };
        let mut tx = self.store.begin().await?;
        let Some((home, name)) = chosen else {
            if !matches!(arrival.what, Arrived::Pressed { .. }) {
                let kept = serde_json::to_string(&Arrival { update: None, ..arrival.clone() });
                let kept = kept.map_err(crate::store::StoreError::from)?;
                tx.keep_undecided(&arrival.chat, &kept, self.clock.now()).await?;
            }
            if let Some(update) = arrival.update {
                tx.finish_update(arrival.chat.channel, update).await?;
            }
            tx.commit().await?;
            self.notice(Notice { press, ..self.question(&arrival.chat, homes) });
            return Ok(Door::Shut);
        };
        tx.turn_private_chat(&home.household, &arrival.chat, home.person).await?;
        let waiting = tx.take_undecided(&arrival.chat).await?;
        if let Some(update) = arrival.update {
            tx.finish_update(arrival.chat.channel, update).await?;
        }
        tx.commit().await?;
        let chosen = Notice::new(&arrival.chat, wording.kitchen_chosen(name));
        self.notice(Notice { press, ..chosen });
        let waiting = waiting.and_then(|arrival| serde_json::from_str(&arrival).ok());
        Ok(waiting.map_or(Door::Shut, |arrival| Door::Instead(Box::new(arrival))))
    }

    /// What each household is called to somebody who is in it.
    fn names(&self, homes: &[Membership]) -> Vec<String> {
        let numbered = (1..).zip(homes);
        let name = |(number, home): (usize, &Membership)| {
            let unnamed = || self.kit.wording.kitchen_without_name(number);
            home.title.clone().unwrap_or_else(unnamed)
        };
        numbered.map(name).collect()
    }

    fn question(&self, chat: &ChatKey, homes: &[Membership]) -> Notice {
        let buttons = homes
            .iter()
            .zip(self.names(homes))
            .map(|(home, label)| Button { key: format!("{HOME_KEY}{}", home.household), label });
        let question = Notice::new(chat, self.kit.wording.which_kitchen());
        Notice { buttons: buttons.collect(), ..question }
    }

    /// Asks anew which household a private chat is about.
    pub(super) async fn ask_which_home(&self, arrival: &Arrival) -> Result<(), DeskError> {
        let Some(writer) = private_writer(arrival) else { return Ok(()) };
        let homes = self.store.memberships(arrival.chat.channel, &writer.external).await?;
        self.notice(match homes.as_slice() {
            [_] => Notice::new(&arrival.chat, self.kit.wording.only_kitchen()),
            homes => self.question(&arrival.chat, homes),
        });
        Ok(())
    }

    /// Says in its home that a household is no more, and leaves a group.
    pub(super) fn took_leave(&self, arrival: &Arrival, home: &ChatKey) {
        let press = match &arrival.what {
            Arrived::Pressed { query, .. } => query.clone(),
            _ => None,
        };
        let alone = private_writer(arrival).is_some() && arrival.chat.chat == home.chat;
        let notice = Notice::new(home, self.kit.wording.deleted_and_gone());
        self.notice(Notice { leave: !alone, press, ..notice });
    }

    /// Hands somebody everything on record, in private; where it was asked for, it is said if that
    /// does not work.
    pub(super) async fn export(
        &self,
        household: &HouseholdId,
        to: &ChatKey,
        asked_in: &ChatKey,
    ) -> Result<(), DeskError> {
        let lines = crate::export::lines(&self.store, household).await?;
        let mut content = String::new();
        for line in lines {
            content.push_str(&line.to_string());
            content.push('\n');
        }
        let wording = &self.kit.wording;
        let otherwise = (asked_in.clone(), wording.export_not_sent());
        self.notice(Notice {
            file: Some((EXPORT_NAME, content)),
            otherwise: Some(otherwise),
            ..Notice::new(to, wording.export_here())
        });
        Ok(())
    }

    /// Says under which user name the messenger knows the bot.
    pub fn known_as(&self, user_name: &str) {
        let _ = self.user_name.set(user_name.to_owned());
    }

    /// The link that brings somebody into a private chat with the bot; `None` off the messenger.
    pub(super) fn link(&self, token: &str) -> Option<String> {
        self.user_name.get().map(|name| format!("https://t.me/{name}?start={token}"))
    }

    /// What a household founded in the new place of this one's chat was told is told to this one,
    /// silently, and the other household is no more.
    pub(super) async fn hear_strays(
        &self,
        tx: &mut Tx,
        household: &HouseholdId,
        kept: &mut Kept,
    ) -> Result<(), DeskError> {
        for other in tx.strays(household).await? {
            let told = tx.told_in(&other).await?;
            tx.delete_household(&other).await?;
            let Some(home) = tx.chat_of(household, None).await? else { continue };
            for (writer, external, said) in told {
                let person = tx.person(household, home.channel, &writer, said.at).await?;
                kept.house.names.insert(person, writer.name);
                let message = kept.house.memory.next_message();
                let said = Said { message, person, ..said };
                let new = NewMessage {
                    number: message,
                    chat: &home,
                    external: external.as_deref(),
                    person: Some(person),
                    at: said.at,
                    words: None,
                };
                tx.write_message(household, &new).await?;
                kept.house.catching_up = true;
                Commit::new(self, tx, household).carry_out(kept, &Incoming::Said(said)).await?;
            }
            kept.house.catching_up = false;
        }
        Ok(())
    }
}
