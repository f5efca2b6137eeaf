//! The second half of the road: what the core decided is written down, in the transaction given.

use std::panic::{AssertUnwindSafe, catch_unwind};

use super::houses::Kept;
use super::{Desk, DeskError};
use crate::channel::{ChatKey, Notice};
use crate::chores::{self, evening_time, next_run};
use crate::conversation::{Act, Incoming, Kind, MessageId, Outgoing, Rich, respond};
use crate::dates::Instant;
use crate::kitchen::{PersonId, Settings};
use crate::store::{DueRow, Errand, HouseholdId, NewMessage, Queued, StoreError, Tx};

/// How long a reply is worth sending, in minutes. The answer to a safety question still is hours
/// later.
const REPLY_MINUTES: i64 = 6 * 60;

/// How long a post is worth sending at least, in minutes; a morning post until the evening round.
const POST_MINUTES: i64 = 60;

pub(super) struct Commit<'a> {
    desk: &'a Desk,
    tx: &'a mut Tx,
    household: &'a HouseholdId,
    /// The person whose private message is being answered: the answer goes nowhere else.
    pub private: Option<PersonId>,
    /// To queue besides what is said.
    pub parcels: Vec<Queued>,
    /// The core must know first what the writer may decide; nothing of this may be kept.
    pub needs_standing: bool,
    /// The household was deleted, and this was its home.
    pub deletes: Option<ChatKey>,
    /// The writer wants to be asked which household the private chat is about.
    pub asks_which: bool,
    /// Who gets everything on record, after the commit.
    pub exports: Vec<ChatKey>,
}

impl<'a> Commit<'a> {
    pub fn new(desk: &'a Desk, tx: &'a mut Tx, household: &'a HouseholdId) -> Commit<'a> {
        Commit {
            desk,
            tx,
            household,
            private: None,
            parcels: Vec::new(),
            needs_standing: false,
            deletes: None,
            asks_which: false,
            exports: Vec::new(),
        }
    }

    /// Lets the core respond and writes all of it: events, state, memory, plan, outbox.
    pub async fn carry_out(
        &mut self,
        kept: &mut Kept,
        incoming: &Incoming,
    ) -> Result<(), DeskError> {
        let planned = schedule_of(&kept.house.state.settings);
        let events_before = kept.house.state.last_event;
        let kit = self.desk.kit();
        // A panic leaves `kept` half changed; it is dropped with the error, and loaded afresh.
        let decision = catch_unwind(AssertUnwindSafe(|| respond(&mut kept.house, incoming, kit)))
            .map_err(|_| DeskError::Defect)?;
        if decision.needs_standing {
            self.needs_standing = true;
            return Ok(());
        }
        let ids = (events_before + 1)..;
        let in_step = decision.events.iter().zip(ids).all(|(event, id)| event.id.0 == id)
            && kept.house.state.last_event == events_before + decision.events.len() as u64;
        if !in_step {
            tracing::error!(household.id = %self.household, "events and state are out of step");
            return Err(DeskError::Defect);
        }
        self.tx.append(self.household, &decision.events).await?;
        // The core may have kept its own events in the log already.
        kept.house.log.truncate(usize::try_from(events_before).unwrap_or(usize::MAX));
        kept.house.log.extend(decision.events);
        if schedule_of(&kept.house.state.settings) != planned {
            let now = self.desk.clock().now();
            plan(self.tx, self.household, &kept.house.state.settings, now).await?;
        }
        if let Incoming::Said(said) | Incoming::Edited(said) | Incoming::Unreadable { said, .. } =
            incoming
        {
            let words = decision.heard.then_some(said.text.as_str());
            self.tx.rewrite_words(self.household, said.message, words).await?;
        }
        for parcel in &mut self.parcels {
            if let Errand::AnswerPress { text, .. } = &mut parcel.errand {
                text.clone_from(&decision.whisper);
            }
        }
        self.queue(kept, &decision.outgoing).await?;
        for act in &decision.acts {
            self.act(kept, act).await?;
        }
        Ok(())
    }

    /// Does what only the desk can.
    async fn act(&mut self, kept: &mut Kept, act: &Act) -> Result<(), DeskError> {
        let now = self.desk.clock().now();
        match act {
            Act::Export { to } => {
                self.exports.extend(self.tx.chat_of(self.household, Some(*to)).await?);
            }
            Act::DeleteHousehold => {
                self.deletes = self.tx.chat_of(self.household, None).await?;
                self.tx.delete_household(self.household).await?;
            }
            Act::Forget(person) => {
                let chat = self.tx.chat_of(self.household, Some(*person)).await?;
                self.tx.forget_person(self.household, *person, now).await?;
                if let Some(chat) = chat.filter(|_| self.private == Some(*person)) {
                    let text = self.desk.kit().wording.forgotten();
                    self.desk.notice(Notice::new(&chat, text));
                }
            }
            Act::Invite { by, answers, private } => {
                let token = token();
                let link = self.desk.link(&token);
                if link.is_some() {
                    self.tx.add_invite(self.household, &token, *by, now).await?;
                }
                let made = Incoming::InviteMade {
                    person: *by,
                    link,
                    answers: *answers,
                    private: *private,
                    at: now,
                };
                Box::pin(self.carry_out(kept, &made)).await?;
            }
            Act::PostWhere(message) => self.tx.move_topic(self.household, *message).await?,
            Act::AskWhichHousehold => self.asks_which = true,
        }
        Ok(())
    }

    /// Queues messages under numbers of their own and writes the household back.
    pub async fn queue(&mut self, kept: &mut Kept, outgoing: &[Outgoing]) -> Result<(), DeskError> {
        let now = self.desk.clock().now();
        let settings = &kept.house.state.settings;
        for said in outgoing {
            let to = said.to.or(self.private);
            let mut said = Outgoing { to, ..said.clone() };
            let chat = self.tx.chat_of(self.household, to).await?;
            if let Some(chat) = &chat {
                if is_new(said.kind) {
                    self.number_own(chat, said.message, now).await?;
                } else if said.kind == Kind::Edit
                    && self.tx.take_message_to(self.household, said.message, chat).await?
                {
                    // Its chat has moved on: what it should now say is said where people are.
                    said.kind = Kind::Reply;
                }
            }
            let expires_at = match said.kind {
                Kind::Post | Kind::Reminder => {
                    let evening = now.day(settings.zone).at(evening_time(settings), settings.zone);
                    evening.max(now.plus_minutes(POST_MINUTES))
                }
                Kind::Reply | Kind::Reaction | Kind::Edit | Kind::Error => {
                    now.plus_minutes(REPLY_MINUTES)
                }
            };
            self.parcels.push(Queued { to, errand: Errand::Say(said), expires_at });
        }
        for parcel in self.parcels.drain(..) {
            kept.last_parcel += 1;
            self.tx.queue(self.household, kept.last_parcel, &parcel, now).await?;
        }
        let house = &kept.house;
        self.tx.save(self.household, &house.state, &house.memory, kept.last_parcel).await?;
        Ok(())
    }

    /// Writes down a message of the bot's own; its channel's id follows when it is sent.
    async fn number_own(
        &mut self,
        chat: &ChatKey,
        number: MessageId,
        now: Instant,
    ) -> Result<(), StoreError> {
        let message =
            NewMessage { number, chat, external: None, person: None, at: now, words: None };
        self.tx.write_message(self.household, &message).await
    }
}

/// A token nobody can guess: 122 random bits (RFC 9562, version 4), for an invite.
fn token() -> String {
    uuid::Uuid::new_v4().simple().to_string()
}

fn is_new(kind: Kind) -> bool {
    match kind {
        Kind::Reply | Kind::Post | Kind::Reminder | Kind::Error => true,
        Kind::Edit | Kind::Reaction => false,
    }
}

/// What the plan of the jobs depends on.
fn schedule_of(settings: &Settings) -> (&'static str, String, String) {
    (settings.zone.name(), settings.post.clone(), settings.evening.clone())
}

/// Plans the next run of every job after `now`, on a day on which it has not been worked yet, and
/// drops plans that no longer hold.
pub(super) async fn plan(
    tx: &mut Tx,
    household: &HouseholdId,
    settings: &Settings,
    now: Instant,
) -> Result<(), StoreError> {
    /// A job is worked at most on the days around a change of zone or hour.
    const DAYS_AHEAD: u32 = 4;
    for (job, cron) in chores::schedules(settings) {
        let mut after = now;
        for _ in 0..DAYS_AHEAD {
            let run = next_run(&cron, settings.zone, after);
            let run = run.map_err(|error| StoreError::Unreadable(error.to_string()))?;
            let Some((day, due_at)) = run else { break };
            let due = DueRow { household: household.clone(), job, day, due_at };
            if tx.plan_due(&due, &cron, settings.zone).await? {
                tx.drop_plans_except(household, job, day, now).await?;
                break;
            }
            after = due_at;
        }
    }
    Ok(())
}

/// A message of the program itself.
pub(super) fn plain(message: MessageId, kind: Kind, text: Rich) -> Outgoing {
    Outgoing {
        message,
        kind,
        answers: None,
        to: None,
        text,
        buttons: Vec::new(),
        picture: None,
        loud: false,
    }
}
