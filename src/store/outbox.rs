//! The outbox table: what is to be sent, in order per target, and how each sending ended.

use serde::{Deserialize, Serialize};
use sqlx::Row;
use sqlx::any::AnyRow;

use super::{HouseholdId, Store, StoreError, Tx, count, db};
use crate::channel::ChatKey;
use crate::conversation::{Kind, MessageId, Outgoing};
use crate::dates::Instant;
use crate::kitchen::PersonId;

/// How long a claimed row waits for its outcome before it counts as given up, in minutes.
pub const LEASE_MINUTES: i64 = 2;
/// How long settled rows are kept for whoever looks after the bot, in hours.
pub const KEEP_HOURS: i64 = 72;

/// What one row has the channel do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Errand {
    Say(Outgoing),
    /// Tells the platform that a press on a button was taken.
    AnswerPress {
        query: String,
        /// Shown to the presser alone, where there is something to say.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        text: Option<String>,
    },
}

impl Errand {
    /// The stored kind, for whoever looks at the table.
    pub fn word(&self) -> &'static str {
        match self {
            Errand::Say(outgoing) => outgoing.kind.word(),
            Errand::AnswerPress { .. } => "press_answer",
        }
    }

    /// Whether doing it twice does no harm.
    pub fn is_repeatable(&self) -> bool {
        match self {
            Errand::Say(outgoing) => matches!(outgoing.kind, Kind::Edit | Kind::Reaction),
            Errand::AnswerPress { .. } => true,
        }
    }
}

/// A row to write.
#[derive(Clone, Debug, PartialEq)]
pub struct Queued {
    /// `None` is the household's home chat.
    pub to: Option<PersonId>,
    pub errand: Errand,
    /// From then on it is no longer worth sending.
    pub expires_at: Instant,
}

/// A row claimed for sending, with all the channel needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Claimed {
    pub household: HouseholdId,
    pub number: u64,
    /// `None` when the household has no chat left to send to.
    pub chat: Option<ChatKey>,
    pub errand: Errand,
    /// The channel's id of the message to edit or react to; for an edit or reaction without one
    /// there is nothing to change.
    pub on: Option<String>,
    /// The channel's id of the message this answers, if it is in the same chat.
    pub reply_to: Option<String>,
    /// This try included.
    pub tries: u32,
    pub expires_at: Instant,
    pub lease_until: Instant,
}

/// How a sending ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Settled {
    /// Delivered; `external` is the channel's id of a new message.
    Sent { external: Option<String> },
    /// Not sent and never will be.
    Refused { why: String },
    /// Written, no answer: it may have arrived.
    Unsure { why: String },
    /// Certainly not sent; try again from then on.
    Again { not_before: Instant, why: String },
    /// Not tried at all, because the chat must rest; does not count as a try.
    PutOff { not_before: Instant },
}

/// The state of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParcelState {
    Queued,
    Claimed,
    Sent,
    Refused,
    Unsure,
}

impl ParcelState {
    pub const ALL: &'static [ParcelState] = &[
        ParcelState::Queued,
        ParcelState::Claimed,
        ParcelState::Sent,
        ParcelState::Refused,
        ParcelState::Unsure,
    ];

    pub fn word(self) -> &'static str {
        match self {
            ParcelState::Queued => "queued",
            ParcelState::Claimed => "claimed",
            ParcelState::Sent => "sent",
            ParcelState::Refused => "refused",
            ParcelState::Unsure => "unsure",
        }
    }

    fn from_word(word: &str) -> Result<ParcelState, StoreError> {
        let found = ParcelState::ALL.iter().copied().find(|state| state.word() == word);
        found.ok_or_else(|| StoreError::Unreadable("an unknown outbox state".to_owned()))
    }
}

/// A row as the operator sees it: no words of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutboxRow {
    pub household: HouseholdId,
    pub number: u64,
    pub kind: String,
    pub state: ParcelState,
    pub tries: u32,
    pub queued_at: Instant,
    pub trouble: Option<String>,
}

fn target(to: Option<PersonId>) -> String {
    match to {
        None => "home".to_owned(),
        Some(PersonId(id)) => format!("person:{id}"),
    }
}

fn outbox_row(row: &AnyRow) -> Result<OutboxRow, StoreError> {
    let state: String = row.try_get("state")?;
    Ok(OutboxRow {
        household: HouseholdId(row.try_get("household")?),
        number: count(row.try_get("number")?)?,
        kind: row.try_get("kind")?,
        state: ParcelState::from_word(&state)?,
        tries: u32::try_from(row.try_get::<i64, _>("tries")?).unwrap_or(u32::MAX),
        queued_at: Instant::from_micros(row.try_get("queued_at")?),
        trouble: row.try_get("trouble")?,
    })
}

impl Tx {
    /// Queues a row under the household's next parcel number.
    pub async fn queue(
        &mut self,
        household: &HouseholdId,
        number: u64,
        parcel: &Queued,
        now: Instant,
    ) -> Result<(), StoreError> {
        let message = match &parcel.errand {
            Errand::Say(outgoing) => Some(db(outgoing.message.0)),
            Errand::AnswerPress { .. } => None,
        };
        let target = match &parcel.errand {
            Errand::Say(_) => target(parcel.to),
            // Waits for nothing: within seconds the platform takes it no more.
            Errand::AnswerPress { .. } => format!("press:{number}"),
        };
        sqlx::query(
            "INSERT INTO outbox (household, number, target, kind, repeatable, payload, message, \
             state, tries, queued_at, not_before, expires_at) \
             VALUES ($1, $2, $3, $4, $5, $6, $7, 'queued', 0, $8, $8, $9)",
        )
        .bind(household.as_str())
        .bind(db(number))
        .bind(target)
        .bind(parcel.errand.word())
        .bind(i64::from(parcel.errand.is_repeatable()))
        .bind(serde_json::to_string(&parcel.errand)?)
        .bind(message)
        .bind(now.micros())
        .bind(parcel.expires_at.micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Refuses what is queued for the home chat, which is closed to us.
    pub async fn refuse_home(
        &mut self,
        household: &HouseholdId,
        now: Instant,
    ) -> Result<(), StoreError> {
        self.refuse_queued(household, "home", now).await
    }

    async fn refuse_queued(
        &mut self,
        household: &HouseholdId,
        target: &str,
        now: Instant,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE outbox SET state = 'refused', settled_at = $3, \
             trouble = 'the bot may not write there' \
             WHERE household = $1 AND target = $2 AND state = 'queued'",
        )
        .bind(household.as_str())
        .bind(target)
        .bind(now.micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// The chat in which to reach the household (`None`) or one person in private.
    pub async fn chat_of(
        &mut self,
        household: &HouseholdId,
        to: Option<PersonId>,
    ) -> Result<Option<ChatKey>, StoreError> {
        self.chat_of_target(household, &target(to)).await
    }

    async fn chat_of_target(
        &mut self,
        household: &HouseholdId,
        target: &str,
    ) -> Result<Option<ChatKey>, StoreError> {
        let row =
            match target.strip_prefix("person:") {
                None => sqlx::query(
                    "SELECT channel, chat, topic FROM chat WHERE household = $1 AND role = 'home'",
                )
                .bind(household.as_str())
                .fetch_optional(&mut *self.inner)
                .await?,
                // A person who never wrote in private is tried under their own id.
                Some(id) => {
                    let id: i64 = id.parse().unwrap_or(0);
                    sqlx::query(
                        "SELECT p.channel AS channel, coalesce(c.chat, p.external) AS chat, \
                     coalesce(c.topic, '') AS topic FROM person p LEFT JOIN chat c \
                     ON c.household = p.household AND c.role = 'private' AND c.person = p.id \
                     WHERE p.household = $1 AND p.id = $2 AND c.closed_at IS NULL",
                    )
                    .bind(household.as_str())
                    .bind(id)
                    .fetch_optional(&mut *self.inner)
                    .await?
                }
            };
        row.map(|row| super::household::chat_key(&row)).transpose()
    }

    /// The channel's id of a message of this chat, and its topic.
    async fn external_of(
        &mut self,
        household: &HouseholdId,
        message: MessageId,
        chat: &ChatKey,
    ) -> Result<Option<(String, String)>, StoreError> {
        let row = sqlx::query(
            "SELECT external, topic FROM message WHERE household = $1 AND number = $2 \
             AND channel = $3 AND chat = $4 AND external IS NOT NULL",
        )
        .bind(household.as_str())
        .bind(db(message.0))
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .fetch_optional(&mut *self.inner)
        .await?;
        let Some(row) = row else { return Ok(None) };
        Ok(Some((row.try_get("external")?, row.try_get("topic")?)))
    }
}

impl Store {
    /// Claims the oldest row that may go out now, for [`LEASE_MINUTES`]. Each target's rows go in
    /// order. Scan over all households by design.
    pub async fn claim_parcel(&self, now: Instant) -> Result<Option<Claimed>, StoreError> {
        let mut tx = self.begin().await?;
        let next = sqlx::query(tx.dialect.next_parcel()).bind(now.micros());
        let Some(row) = next.fetch_optional(&mut *tx.inner).await? else {
            return Ok(None);
        };
        let household = HouseholdId(row.try_get("household")?);
        let number: i64 = row.try_get("number")?;
        let lease_until = now.plus_minutes(LEASE_MINUTES);
        let row = sqlx::query(
            "UPDATE outbox SET state = 'claimed', lease_until = $3, tries = tries + 1 \
             WHERE household = $1 AND number = $2 AND state = 'queued' \
             RETURNING target, payload, tries, expires_at",
        )
        .bind(household.as_str())
        .bind(number)
        .bind(lease_until.micros())
        .fetch_optional(&mut *tx.inner)
        .await?;
        let Some(row) = row else {
            return Ok(None);
        };
        let target: String = row.try_get("target")?;
        let payload: String = row.try_get("payload")?;
        let errand: Errand = serde_json::from_str(&payload)?;
        let mut chat = tx.chat_of_target(&household, &target).await?;
        let (mut on, mut reply_to) = (None, None);
        if let (Some(chat), Errand::Say(outgoing)) = (&mut chat, &errand) {
            if matches!(outgoing.kind, Kind::Edit | Kind::Reaction) {
                let changed = tx.external_of(&household, outgoing.message, chat).await?;
                on = changed.map(|(external, _)| external);
            } else if let Some(answers) = outgoing.answers
                && let Some((external, topic)) = tx.external_of(&household, answers, chat).await?
            {
                // An answer goes where the question was asked.
                reply_to = Some(external);
                chat.topic = topic;
            }
        }
        let claimed = Claimed {
            household,
            number: count(number)?,
            chat,
            errand,
            on,
            reply_to,
            tries: u32::try_from(row.try_get::<i64, _>("tries")?).unwrap_or(u32::MAX),
            expires_at: Instant::from_micros(row.try_get("expires_at")?),
            lease_until,
        };
        tx.commit().await?;
        Ok(Some(claimed))
    }

    /// Writes down how a claimed sending ended. A row whose lease ran out and was settled by
    /// somebody else in the meantime is left alone.
    pub async fn settle_parcel(
        &self,
        claimed: &Claimed,
        outcome: &Settled,
        now: Instant,
    ) -> Result<(), StoreError> {
        let mut tx = self.begin().await?;
        let (state, not_before, untried, trouble) = match outcome {
            Settled::Sent { .. } => (ParcelState::Sent, None, 0_i64, None),
            Settled::Refused { why } => (ParcelState::Refused, None, 0, Some(why.as_str())),
            Settled::Unsure { why } => (ParcelState::Unsure, None, 0, Some(why.as_str())),
            Settled::Again { not_before, why } => {
                (ParcelState::Queued, Some(*not_before), 0, Some(why.as_str()))
            }
            Settled::PutOff { not_before } => (ParcelState::Queued, Some(*not_before), 1, None),
        };
        let settled = (state != ParcelState::Queued).then_some(now.micros());
        let done = sqlx::query(
            "UPDATE outbox SET state = $3, lease_until = NULL, settled_at = $4, \
             trouble = coalesce($5, trouble), not_before = coalesce($6, not_before), \
             tries = tries - $7 \
             WHERE household = $1 AND number = $2 AND state = 'claimed' AND lease_until = $8",
        )
        .bind(claimed.household.as_str())
        .bind(db(claimed.number))
        .bind(state.word())
        .bind(settled)
        .bind(trouble)
        .bind(not_before.map(Instant::micros))
        .bind(untried)
        .bind(claimed.lease_until.micros())
        .execute(&mut *tx.inner)
        .await?;
        if let (1, Settled::Sent { external: Some(external) }, Errand::Say(outgoing), Some(chat)) =
            (done.rows_affected(), outcome, &claimed.errand, &claimed.chat)
            && !claimed.errand.is_repeatable()
        {
            sqlx::query(
                "UPDATE message SET external = $3, channel = $4, chat = $5 \
                 WHERE household = $1 AND number = $2",
            )
            .bind(claimed.household.as_str())
            .bind(db(outgoing.message.0))
            .bind(external.as_str())
            .bind(chat.channel.word())
            .bind(chat.chat.as_str())
            .execute(&mut *tx.inner)
            .await?;
        }
        tx.commit().await
    }

    /// Settles rows whose sender went away without an outcome: what may be repeated is queued
    /// again, anything else is unsure. [`Leases::All`] is for the only
    /// process on its database at its start. Scan by design.
    pub async fn settle_abandoned(&self, now: Instant, whose: Leases) -> Result<u64, StoreError> {
        let limit = match whose {
            Leases::RunOut => now.micros(),
            Leases::All => i64::MAX,
        };
        let mut tx = self.begin().await?;
        let again = sqlx::query(
            "UPDATE outbox SET state = 'queued', lease_until = NULL \
             WHERE state = 'claimed' AND repeatable = 1 AND lease_until < $1",
        )
        .bind(limit)
        .execute(&mut *tx.inner)
        .await?;
        let unsure = sqlx::query(
            "UPDATE outbox SET state = 'unsure', lease_until = NULL, settled_at = $2, \
             trouble = 'the program stopped while this was being sent' \
             WHERE state = 'claimed' AND repeatable = 0 AND lease_until < $1",
        )
        .bind(limit)
        .bind(now.micros())
        .execute(&mut *tx.inner)
        .await?;
        tx.commit().await?;
        Ok(again.rows_affected() + unsure.rows_affected())
    }

    /// The chat of a claimed row goes on as `to`; everything queued for it follows by itself.
    pub async fn re_aim(&self, claimed: &Claimed, to: &ChatKey) -> Result<(), StoreError> {
        let mut tx = self.begin().await?;
        tx.move_home(&claimed.household, to).await?;
        tx.commit().await
    }

    /// The chat of a claimed row is closed to us: refuses what is queued for it and, when it is
    /// the household's home, stops its posts.
    pub async fn give_up(&self, claimed: &Claimed, now: Instant) -> Result<(), StoreError> {
        let mut tx = self.begin().await?;
        let row = sqlx::query("SELECT target FROM outbox WHERE household = $1 AND number = $2")
            .bind(claimed.household.as_str())
            .bind(db(claimed.number))
            .fetch_one(&mut *tx.inner)
            .await?;
        let target: String = row.try_get("target")?;
        if target == "home" {
            tx.set_gone(&claimed.household, Some(now)).await?;
            tx.drop_due(&claimed.household).await?;
        }
        if let Some(person) = target.strip_prefix("person:").and_then(|id| id.parse().ok()) {
            tx.close_private_chat(&claimed.household, PersonId(person), Some(now)).await?;
        }
        tx.refuse_queued(&claimed.household, &target, now).await?;
        tx.commit().await
    }

    /// When the next queued row may go out. Scan by design.
    pub async fn next_parcel_at(&self) -> Result<Option<Instant>, StoreError> {
        let row = sqlx::query("SELECT min(not_before) AS at FROM outbox WHERE state = 'queued'")
            .fetch_one(&self.pool)
            .await?;
        let micros: Option<i64> = row.try_get("at")?;
        Ok(micros.map(Instant::from_micros))
    }

    /// How many rows are in each state. Scan by design, for the operator.
    pub async fn outbox_counts(&self) -> Result<Vec<(ParcelState, i64)>, StoreError> {
        let rows = sqlx::query("SELECT state, count(*) AS parcels FROM outbox GROUP BY state")
            .fetch_all(&self.pool)
            .await?;
        let mut counts: Vec<(ParcelState, i64)> =
            ParcelState::ALL.iter().map(|state| (*state, 0)).collect();
        for row in rows {
            let word: String = row.try_get("state")?;
            let state = ParcelState::from_word(&word)?;
            for each in counts.iter_mut().filter(|(each, _)| *each == state) {
                each.1 = row.try_get("parcels")?;
            }
        }
        Ok(counts)
    }

    /// Rows that did not arrive, or may not have, newest first. Scan by design, for the operator.
    pub async fn troubled_parcels(&self, limit: u32) -> Result<Vec<OutboxRow>, StoreError> {
        let rows = sqlx::query(
            "SELECT household, number, kind, state, tries, queued_at, trouble FROM outbox \
             WHERE state IN ('refused', 'unsure') OR (state = 'queued' AND tries > 0) \
             ORDER BY queued_at DESC, household, number DESC LIMIT $1",
        )
        .bind(i64::from(limit))
        .fetch_all(&self.pool)
        .await?;
        rows.iter().map(outbox_row).collect()
    }

    /// Drops rows settled more than [`KEEP_HOURS`] ago. Scan by design.
    pub async fn prune_outbox(&self, now: Instant) -> Result<u64, StoreError> {
        let mut tx = self.begin().await?;
        let done = sqlx::query("DELETE FROM outbox WHERE settled_at < $1")
            .bind(now.plus_minutes(-60 * KEEP_HOURS).micros())
            .execute(&mut *tx.inner)
            .await?;
        tx.commit().await?;
        Ok(done.rows_affected())
    }
}

/// Which leases count as abandoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leases {
    /// Those that have run out.
    RunOut,
    /// All of them.
    All,
}
