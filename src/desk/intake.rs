//! The first half of the road: the channel's ids become ours; people, chats and messages are
//! written down on the way.

use super::commit::{plain, plan};
use super::houses::Kept;
use super::{Desk, DeskError};
use crate::channel::{Arrival, Arrived, ChatKey, Spoken, Writer, starts_with_name};
use crate::conversation::{Incoming, Kind, MessageId, Outgoing, Said};
use crate::dates::Instant;
use crate::kitchen::PersonId;
use crate::store::{Author, Errand, HouseholdId, NewMessage, Queued, StoreError, Tx};

/// How long the answer to a press is worth sending, in minutes: the platform soon refuses it.
const PRESS_ANSWER_MINUTES: i64 = 1;

/// An arrival in our own terms.
pub(super) struct Translation {
    pub what: Translated,
    /// Who wrote, when it was in private.
    pub private: Option<PersonId>,
}

pub(super) enum Translated {
    /// For the core, one after the other.
    Incoming(Vec<Incoming>),
    /// Dealt with here; at most these are said.
    Settled(Vec<Outgoing>),
    /// A message we have already, under another update.
    AlreadyKnown,
}

impl Desk {
    pub(super) async fn translate(
        &self,
        tx: &mut Tx,
        household: &HouseholdId,
        kept: &mut Kept,
        arrival: &Arrival,
    ) -> Result<Translation, DeskError> {
        let (chat, at) = (&arrival.chat, arrival.at);
        let at_home = tx.chat_of(household, None).await?.is_some_and(|home| home.chat == chat.chat);
        if kept.gone_at.is_some() && at_home && arrival.what != Arrived::Dismissed {
            tx.set_gone(household, None).await?;
            plan(tx, household, &kept.house.state.settings, self.clock.now()).await?;
        }
        let mut intake = Intake { desk: self, tx, household, kept, chat };
        let settled = |outgoing| Translation { what: Translated::Settled(outgoing), private: None };
        let incoming = match &arrival.what {
            Arrived::Said { from, message } => match intake.said(from, message, at).await? {
                Some(said) => Incoming::Said(said),
                None => return Ok(Translation { what: Translated::AlreadyKnown, private: None }),
            },
            Arrived::Unreadable { from, message, kind } => {
                match intake.said(from, message, at).await? {
                    Some(said) => Incoming::Unreadable { said, kind: *kind },
                    None => {
                        return Ok(Translation { what: Translated::AlreadyKnown, private: None });
                    }
                }
            }
            Arrived::Edited { from, message } => {
                Incoming::Edited(intake.edited(from, message, at).await?)
            }
            Arrived::Pressed { from, on, key, private, .. } => {
                let person = intake.person(from, at).await?;
                // A button of a message we do not know: only the waiting sign goes.
                let Some((on, _)) = intake.tx.message_by_external(household, chat, on).await?
                else {
                    return Ok(settled(Vec::new()));
                };
                let what = Incoming::Pressed { person, on, key: key.clone(), at };
                let private = private.then_some(person);
                return Ok(Translation { what: Translated::Incoming(vec![what]), private });
            }
            Arrived::Joined { who } => {
                let mut joined = Vec::new();
                for each in who {
                    joined.push(Incoming::Joined { person: intake.person(each, at).await?, at });
                }
                return Ok(Translation { what: Translated::Incoming(joined), private: None });
            }
            Arrived::Left { who } => {
                let person = intake.person(who, at).await?;
                intake.tx.person_left(household, person, at).await?;
                Incoming::Left { person, at }
            }
            Arrived::Moved { to } => {
                tx.move_home(household, to).await?;
                return Ok(settled(Vec::new()));
            }
            Arrived::Welcomed { by } => {
                if let Some(by) = by {
                    intake.person(by, at).await?;
                }
                let message = kept.house.memory.next_message();
                return Ok(settled(vec![plain(message, Kind::Reply, self.kit.wording.help())]));
            }
            Arrived::Dismissed => {
                if at_home {
                    let now = self.clock.now();
                    tx.set_gone(household, Some(now)).await?;
                    tx.refuse_home(household, now).await?;
                    tx.drop_due(household).await?;
                }
                return Ok(settled(Vec::new()));
            }
            Arrived::Nothing => return Ok(settled(Vec::new())),
        };
        let private = match &incoming {
            Incoming::Said(said) | Incoming::Edited(said) | Incoming::Unreadable { said, .. } => {
                said.private.then_some(said.person)
            }
            Incoming::Pressed { .. }
            | Incoming::Joined { .. }
            | Incoming::Left { .. }
            | Incoming::Due { .. }
            | Incoming::Back { .. } => None,
        };
        Ok(Translation { what: Translated::Incoming(vec![incoming]), private })
    }
}

struct Intake<'a> {
    desk: &'a Desk,
    tx: &'a mut Tx,
    household: &'a HouseholdId,
    kept: &'a mut Kept,
    chat: &'a ChatKey,
}

impl Intake<'_> {
    async fn person(&mut self, writer: &Writer, at: Instant) -> Result<PersonId, StoreError> {
        let person = self.tx.person(self.household, self.chat.channel, writer, at).await?;
        self.kept.house.names.insert(person, writer.name.clone());
        Ok(person)
    }

    /// A new message; `None` when we have it already.
    async fn said(
        &mut self,
        from: &Writer,
        message: &Spoken,
        at: Instant,
    ) -> Result<Option<Said>, StoreError> {
        if let Some(external) = &message.external
            && self.known(external).await?.is_some()
        {
            return Ok(None);
        }
        let number = self.kept.house.memory.next_message();
        let said = self.spoken(number, from, message, at).await?;
        self.write(&said, message).await?;
        Ok(Some(said))
    }

    /// An edited message, under the number it had; one we never saw gets one now.
    async fn edited(
        &mut self,
        from: &Writer,
        message: &Spoken,
        at: Instant,
    ) -> Result<Said, StoreError> {
        let known = match &message.external {
            Some(external) => self.known(external).await?,
            None => None,
        };
        match known {
            Some((number, _)) => {
                let words = Some(message.text.as_str());
                self.tx.rewrite_words(self.household, number, words).await?;
                self.spoken(number, from, message, at).await
            }
            None => {
                let number = self.kept.house.memory.next_message();
                let said = self.spoken(number, from, message, at).await?;
                self.write(&said, message).await?;
                Ok(said)
            }
        }
    }

    async fn spoken(
        &mut self,
        number: MessageId,
        from: &Writer,
        message: &Spoken,
        at: Instant,
    ) -> Result<Said, StoreError> {
        let person = self.person(from, at).await?;
        let reply_to = match &message.reply_to {
            Some(external) => self.known(external).await?,
            None => None,
        };
        let to_bot = reply_to.is_some_and(|(_, author)| author == Author::Bot);
        let handles: Vec<&str> = self.desk.handles.iter().map(String::as_str).collect();
        Ok(Said {
            message: number,
            person,
            text: message.text.clone(),
            addressed: message.addressed
                || message.private
                || to_bot
                || starts_with_name(&message.text, &handles),
            private: message.private,
            reply_to: reply_to.map(|(number, _)| number),
            at,
        })
    }

    async fn known(&mut self, external: &str) -> Result<Option<(MessageId, Author)>, StoreError> {
        self.tx.message_by_external(self.household, self.chat, external).await
    }

    async fn write(&mut self, said: &Said, message: &Spoken) -> Result<(), StoreError> {
        let new = NewMessage {
            number: said.message,
            chat: self.chat,
            external: message.external.as_deref(),
            person: Some(said.person),
            at: said.at,
            words: Some(&message.text),
        };
        self.tx.write_message(self.household, &new).await
    }
}

/// The number the message got.
pub(super) fn number_of(incoming: &Incoming) -> Option<MessageId> {
    match incoming {
        Incoming::Said(said) | Incoming::Edited(said) | Incoming::Unreadable { said, .. } => {
            Some(said.message)
        }
        Incoming::Pressed { .. }
        | Incoming::Joined { .. }
        | Incoming::Left { .. }
        | Incoming::Due { .. }
        | Incoming::Back { .. } => None,
    }
}

/// The writer, when it happened in private between them and the bot.
pub(super) fn private_writer(arrival: &Arrival) -> Option<&Writer> {
    match &arrival.what {
        Arrived::Said { from, message }
        | Arrived::Edited { from, message }
        | Arrived::Unreadable { from, message, .. } => message.private.then_some(from),
        Arrived::Pressed { from, private, .. } => private.then_some(from),
        Arrived::Joined { .. }
        | Arrived::Left { .. }
        | Arrived::Moved { .. }
        | Arrived::Welcomed { .. }
        | Arrived::Dismissed
        | Arrived::Nothing => None,
    }
}

/// What takes the waiting sign off a pressed button.
pub(super) fn press_answer(arrival: &Arrival, now: Instant) -> Option<Queued> {
    let Arrived::Pressed { query: Some(query), .. } = &arrival.what else { return None };
    Some(Queued {
        to: None,
        errand: Errand::AnswerPress { query: query.clone() },
        expires_at: now.plus_minutes(PRESS_ANSWER_MINUTES),
    })
}
