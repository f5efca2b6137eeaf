//! The first half of the road: the channel's ids become ours; people, chats and messages are
//! written down on the way.

use super::commit::plan;
use super::houses::Kept;
use super::{Desk, DeskError};
use crate::channel::{Arrival, Arrived, ChatKey, Spoken, Writer, starts_with_name};
use crate::conversation::{Incoming, MessageId, Outgoing, Said, Standing};
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
    /// What its writer may decide, as far as is known.
    pub standing: Standing,
}

pub(super) enum Translated {
    /// For the core, one after the other.
    Incoming(Vec<Incoming>),
    /// Dealt with here; at most these are said.
    Settled(Vec<Outgoing>),
    /// A message we have already, under another update.
    AlreadyKnown,
    /// Whether the writer belongs to the chat must be known first.
    NeedsStanding,
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
        let alone = at_home && private_writer(arrival).is_some();
        // Whoever is alone with the bot decides alone.
        let standing = if alone { Standing::Admin } else { arrival.context.standing };
        if let Some(title) = arrival.context.title.as_deref().filter(|_| at_home) {
            tx.set_title(household, chat, title).await?;
        }
        if kept.gone_at.is_some() && at_home && arrival.what != Arrived::Dismissed {
            tx.set_gone(household, None).await?;
            plan(tx, household, &kept.house.state.settings, self.clock.now()).await?;
        }
        let mut intake = Intake { desk: self, tx, household, kept, chat };
        let ended = |what| Translation { what, private: None, standing };
        let settled = |outgoing| ended(Translated::Settled(outgoing));
        let incoming = match &arrival.what {
            Arrived::Said { from, message } => match intake.said(from, message, at).await? {
                Some(said) => Incoming::Said(said),
                None => return Ok(ended(Translated::AlreadyKnown)),
            },
            Arrived::Unreadable { from, message, kind } => {
                // The pictures of an album are one thing, said by its first or by its caption.
                let album = arrival.context.album.clone();
                let memory = &mut intake.kept.house.memory;
                if album.is_some() && memory.album == album && message.text.is_empty() {
                    return Ok(settled(Vec::new()));
                }
                if album.is_some() {
                    memory.album = album;
                }
                match intake.said(from, message, at).await? {
                    Some(said) => Incoming::Unreadable { said, kind: *kind },
                    None => return Ok(ended(Translated::AlreadyKnown)),
                }
            }
            Arrived::Edited { from, message } => {
                Incoming::Edited(intake.edited(from, message, at).await?)
            }
            Arrived::Pressed { from, on, key, private, .. } => {
                let channel = chat.channel;
                let known = intake.tx.member(household, channel, &from.external).await?;
                match standing {
                    Standing::Outsider => return Ok(settled(Vec::new())),
                    Standing::Unknown if known.is_none() && !private => {
                        return Ok(ended(Translated::NeedsStanding));
                    }
                    Standing::Unknown | Standing::Member | Standing::Admin => {}
                }
                let person = intake.person(from, at).await?;
                // A button of a message we do not know: only the waiting sign goes.
                let Some((on, _)) = intake.tx.message_by_external(household, chat, on).await?
                else {
                    return Ok(settled(Vec::new()));
                };
                let what = Incoming::Pressed { person, on, key: key.clone(), at };
                let private = private.then_some(person);
                let what = Translated::Incoming(vec![what]);
                return Ok(Translation { what, private, standing });
            }
            Arrived::Joined { who } => {
                let mut joined = Vec::new();
                for each in who {
                    joined.push(Incoming::Joined { person: intake.person(each, at).await?, at });
                }
                return Ok(ended(Translated::Incoming(joined)));
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
            Arrived::Welcomed { by, hears, private } => {
                let by = match by {
                    Some(by) => Some(intake.person(by, at).await?),
                    None => None,
                };
                if !at_home {
                    // A private chat that was closed to us is open again.
                    if let Some(person) = by {
                        tx.close_private_chat(household, person, None).await?;
                    }
                    return Ok(settled(Vec::new()));
                }
                let (hears, private) = (*hears, *private);
                let language = arrival.context.language.clone();
                Incoming::Welcomed { by, hears, language, private, at }
            }
            Arrived::Called { from, message, token } => {
                let fresh = intake.kept.house.memory.last_message == 0;
                let Some(said) = intake.said(from, message, at).await? else {
                    return Ok(ended(Translated::AlreadyKnown));
                };
                let (person, private) = (said.person, said.private);
                let now = intake.desk.clock.now();
                let what = if tx.use_invite(household, token, now).await? {
                    tx.turn_private_chat(household, chat, person).await?;
                    Incoming::Admitted { person, at }
                } else if fresh {
                    let language = arrival.context.language.clone();
                    Incoming::Welcomed { by: Some(person), hears: true, language, private, at }
                } else {
                    Incoming::Said(said)
                };
                let private = private.then_some(person);
                let what = Translated::Incoming(vec![what]);
                return Ok(Translation { what, private, standing });
            }
            Arrived::Dismissed => {
                if at_home {
                    let now = self.clock.now();
                    tx.set_gone(household, Some(now)).await?;
                    tx.refuse_home(household, now).await?;
                    tx.drop_due(household).await?;
                } else if let Some(person) = tx.member(household, chat.channel, &chat.chat).await? {
                    // Somebody blocked the bot: no copies to them from now on.
                    tx.close_private_chat(household, person, Some(self.clock.now())).await?;
                }
                return Ok(settled(Vec::new()));
            }
            Arrived::Misplaced | Arrived::Nothing => return Ok(settled(Vec::new())),
        };
        let private = match &incoming {
            Incoming::Said(said) | Incoming::Edited(said) | Incoming::Unreadable { said, .. } => {
                said.private.then_some(said.person)
            }
            Incoming::Pressed { .. }
            | Incoming::Joined { .. }
            | Incoming::Left { .. }
            | Incoming::Welcomed { .. }
            | Incoming::Admitted { .. }
            | Incoming::InviteMade { .. }
            | Incoming::Due { .. }
            | Incoming::Back { .. } => None,
        };
        Ok(Translation { what: Translated::Incoming(vec![incoming]), private, standing })
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
            Some((number, _)) => self.spoken(number, from, message, at).await,
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

    /// Writes a message down without its words: they are kept only once it is clear that it was
    /// for the bot.
    async fn write(&mut self, said: &Said, message: &Spoken) -> Result<(), StoreError> {
        let new = NewMessage {
            number: said.message,
            chat: self.chat,
            external: message.external.as_deref(),
            person: Some(said.person),
            at: said.at,
            words: None,
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
        | Incoming::Welcomed { .. }
        | Incoming::Admitted { .. }
        | Incoming::InviteMade { .. }
        | Incoming::Due { .. }
        | Incoming::Back { .. } => None,
    }
}

/// The writer, when it happened in private between them and the bot.
pub(super) fn private_writer(arrival: &Arrival) -> Option<&Writer> {
    match &arrival.what {
        Arrived::Said { from, message }
        | Arrived::Edited { from, message }
        | Arrived::Called { from, message, .. }
        | Arrived::Unreadable { from, message, .. } => message.private.then_some(from),
        Arrived::Pressed { from, private, .. } => private.then_some(from),
        Arrived::Welcomed { by, private, .. } => by.as_ref().filter(|_| *private),
        Arrived::Joined { .. }
        | Arrived::Left { .. }
        | Arrived::Moved { .. }
        | Arrived::Misplaced
        | Arrived::Dismissed
        | Arrived::Nothing => None,
    }
}

/// What takes the waiting sign off a pressed button.
pub(super) fn press_answer(arrival: &Arrival, now: Instant) -> Option<Queued> {
    let Arrived::Pressed { query: Some(query), .. } = &arrival.what else { return None };
    Some(Queued {
        to: None,
        errand: Errand::AnswerPress { query: query.clone(), text: None },
        expires_at: now.plus_minutes(PRESS_ANSWER_MINUTES),
    })
}
