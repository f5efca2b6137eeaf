//! Households: where they are reached, who is in them, their log and their state.

use std::collections::BTreeMap;

use sqlx::Row;
use sqlx::any::AnyRow;

use super::{HouseholdId, Store, StoreError, Tx, count, db, storable};
use crate::channel::{Channel, ChatKey, Writer};
use crate::conversation::{Memory, MessageId};
use crate::dates::{Instant, KitchenDay};
use crate::kitchen::{Event, EventId, PersonId, State, What};

/// A household's own row: its counters, all but the state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HouseholdRow {
    pub id: HouseholdId,
    pub version: u64,
    pub last_event: u64,
    pub last_message: u64,
    pub last_parcel: u64,
    /// When the bot was removed from its home chat.
    pub gone_at: Option<Instant>,
}

/// What a household consists of.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    pub state: State,
    pub memory: Memory,
    pub names: BTreeMap<PersonId, String>,
    /// Every event, oldest first.
    pub log: Vec<Event>,
}

/// A member, for export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PersonRow {
    pub id: PersonId,
    pub name: String,
    pub joined_at: Instant,
    pub left_at: Option<Instant>,
}

pub(super) fn chat_key(row: &AnyRow) -> Result<ChatKey, StoreError> {
    let word: String = row.try_get("channel")?;
    let channel = Channel::from_word(&word);
    Ok(ChatKey {
        channel: channel.ok_or_else(|| StoreError::Unreadable("an unknown channel".to_owned()))?,
        chat: row.try_get("chat")?,
        topic: row.try_get("topic")?,
    })
}

fn household_row(row: &AnyRow) -> Result<HouseholdRow, StoreError> {
    Ok(HouseholdRow {
        id: HouseholdId(row.try_get("id")?),
        version: count(row.try_get("version")?)?,
        last_event: count(row.try_get("last_event")?)?,
        last_message: count(row.try_get("last_message")?)?,
        last_parcel: count(row.try_get("last_parcel")?)?,
        gone_at: row.try_get::<Option<i64>, _>("gone_at")?.map(Instant::from_micros),
    })
}

fn event(row: &AnyRow) -> Result<Event, StoreError> {
    let day: String = row.try_get("day")?;
    let payload: String = row.try_get("payload")?;
    let message: Option<i64> = row.try_get("message")?;
    let replaces: Option<i64> = row.try_get("replaces")?;
    let what: What = serde_json::from_str(&payload)?;
    Ok(Event {
        id: EventId(count(row.try_get("id")?)?),
        person: row.try_get::<Option<i64>, _>("person")?.map(PersonId),
        at: Instant::from_micros(row.try_get("at")?),
        day: day
            .parse::<KitchenDay>()
            .map_err(|_| StoreError::Unreadable("a day that is none".to_owned()))?,
        message: message.map(count).transpose()?.map(MessageId),
        replaces: replaces.map(count).transpose()?.map(MessageId),
        what,
    })
}

impl Store {
    /// The household a chat belongs to; every topic of a chat belongs to the same one. The way
    /// from a channel to a household, so it takes none.
    pub async fn household_of_chat(
        &self,
        chat: &ChatKey,
    ) -> Result<Option<HouseholdId>, StoreError> {
        let row = sqlx::query(
            "SELECT coalesce((SELECT t.household FROM turned t WHERE t.channel = $1 \
             AND t.chat = $2), household) AS household FROM chat \
             WHERE channel = $1 AND chat = $2 \
             ORDER BY CASE WHEN topic = $3 THEN 0 ELSE 1 END, topic LIMIT 1",
        )
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .bind(chat.topic.as_str())
        .fetch_optional(&self.pool)
        .await?;
        Ok(row.map(|row| row.try_get("household").map(HouseholdId)).transpose()?)
    }

    /// The household in which a person was seen last, for their first private message. The way
    /// from a channel to a household, so it takes none.
    pub async fn household_of_person(
        &self,
        channel: Channel,
        external: &str,
    ) -> Result<Option<(HouseholdId, PersonId)>, StoreError> {
        let row = sqlx::query(
            "SELECT household, id FROM person \
             WHERE channel = $1 AND external = $2 AND left_at IS NULL \
             ORDER BY seen_at DESC, household LIMIT 1",
        )
        .bind(channel.word())
        .bind(external)
        .fetch_optional(&self.pool)
        .await?;
        let Some(row) = row else { return Ok(None) };
        Ok(Some((HouseholdId(row.try_get("household")?), PersonId(row.try_get("id")?))))
    }

    /// Every household. Scan by design, for export and proof.
    pub async fn households(&self) -> Result<Vec<HouseholdRow>, StoreError> {
        let rows = sqlx::query(
            "SELECT id, version, last_event, last_message, last_parcel, gone_at \
             FROM household ORDER BY id",
        )
        .fetch_all(&self.pool)
        .await?;
        rows.iter().map(household_row).collect()
    }

    pub async fn people(&self, household: &HouseholdId) -> Result<Vec<PersonRow>, StoreError> {
        let rows = sqlx::query(
            "SELECT id, name, joined_at, left_at FROM person WHERE household = $1 ORDER BY id",
        )
        .bind(household.as_str())
        .fetch_all(&self.pool)
        .await?;
        let people = rows.iter().map(|row| {
            Ok(PersonRow {
                id: PersonId(row.try_get("id")?),
                name: row.try_get("name")?,
                joined_at: Instant::from_micros(row.try_get("joined_at")?),
                left_at: row.try_get::<Option<i64>, _>("left_at")?.map(Instant::from_micros),
            })
        });
        people.collect()
    }
}

impl Tx {
    /// Founds a household and gives it its home chat.
    pub async fn found(
        &mut self,
        household: &HouseholdId,
        state: &State,
        home: &ChatKey,
        now: Instant,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO household (id, founded_at, state, memory, last_event, last_message, \
             last_parcel, version) VALUES ($1, $2, $3, $4, $5, 0, 0, 0)",
        )
        .bind(household.as_str())
        .bind(now.micros())
        .bind(serde_json::to_string(state)?)
        .bind(serde_json::to_string(&Memory::default())?)
        .bind(db(state.last_event))
        .execute(&mut *self.inner)
        .await?;
        self.add_chat(household, home, "home", None).await
    }

    /// Remembers a person's private chat with the bot.
    pub async fn add_private_chat(
        &mut self,
        household: &HouseholdId,
        chat: &ChatKey,
        person: PersonId,
    ) -> Result<(), StoreError> {
        self.add_chat(household, chat, "private", Some(person)).await
    }

    async fn add_chat(
        &mut self,
        household: &HouseholdId,
        chat: &ChatKey,
        role: &'static str,
        person: Option<PersonId>,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO chat (channel, chat, topic, household, role, person) \
             VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT (channel, chat, topic) DO NOTHING",
        )
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .bind(chat.topic.as_str())
        .bind(household.as_str())
        .bind(role)
        .bind(person.map(|person| person.0))
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// The home chat goes on as `to`; the old one still leads to the household. Doing it again
    /// changes nothing.
    pub async fn move_home(
        &mut self,
        household: &HouseholdId,
        to: &ChatKey,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE chat SET role = 'former' WHERE household = $1 AND role = 'home' \
             AND NOT (channel = $2 AND chat = $3)",
        )
        .bind(household.as_str())
        .bind(to.channel.word())
        .bind(to.chat.as_str())
        .execute(&mut *self.inner)
        .await?;
        // The new chat's own messages may have come first and founded a household there: what it
        // was told is this one's.
        sqlx::query(
            "INSERT INTO stray (household, other) SELECT $1, household FROM chat \
             WHERE channel = $2 AND chat = $3 AND household <> $1 LIMIT 1 \
             ON CONFLICT (household, other) DO NOTHING",
        )
        .bind(household.as_str())
        .bind(to.channel.word())
        .bind(to.chat.as_str())
        .execute(&mut *self.inner)
        .await?;
        sqlx::query(
            "INSERT INTO chat (channel, chat, topic, household, role) \
             VALUES ($1, $2, $3, $4, 'home') ON CONFLICT (channel, chat, topic) \
             DO UPDATE SET household = excluded.household, role = 'home', person = NULL",
        )
        .bind(to.channel.word())
        .bind(to.chat.as_str())
        .bind(to.topic.as_str())
        .bind(household.as_str())
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Takes the household for this transaction: others that take it wait until it ends.
    pub async fn take(
        &mut self,
        household: &HouseholdId,
    ) -> Result<Option<HouseholdRow>, StoreError> {
        let row = sqlx::query(
            "UPDATE household SET version = version + 1 WHERE id = $1 \
             RETURNING id, version, last_event, last_message, last_parcel, gone_at",
        )
        .bind(household.as_str())
        .fetch_optional(&mut *self.inner)
        .await?;
        row.as_ref().map(household_row).transpose()
    }

    /// Everything of a household.
    pub async fn load(&mut self, household: &HouseholdId) -> Result<Loaded, StoreError> {
        let row = sqlx::query("SELECT state, memory FROM household WHERE id = $1")
            .bind(household.as_str())
            .fetch_one(&mut *self.inner)
            .await?;
        let (state, memory): (String, String) = (row.try_get("state")?, row.try_get("memory")?);
        let rows = sqlx::query(
            "SELECT id, person, at, day, message, replaces, payload FROM event \
             WHERE household = $1 ORDER BY id",
        )
        .bind(household.as_str())
        .fetch_all(&mut *self.inner)
        .await?;
        let log = rows.iter().map(event).collect::<Result<_, _>>()?;
        let rows = sqlx::query("SELECT id, name FROM person WHERE household = $1")
            .bind(household.as_str())
            .fetch_all(&mut *self.inner)
            .await?;
        let names = rows.iter().map(|row| Ok((PersonId(row.try_get("id")?), row.try_get("name")?)));
        Ok(Loaded {
            state: serde_json::from_str(&state)?,
            // The memory is lost without harm: one that an older program wrote may be.
            memory: serde_json::from_str(&memory).unwrap_or_default(),
            names: names.collect::<Result<_, StoreError>>()?,
            log,
        })
    }

    /// The number of a person, who becomes a member when first seen; the name follows renames.
    pub async fn person(
        &mut self,
        household: &HouseholdId,
        channel: Channel,
        writer: &Writer,
        now: Instant,
    ) -> Result<PersonId, StoreError> {
        let row = sqlx::query(
            "INSERT INTO person (household, id, channel, external, name, joined_at, seen_at) \
             VALUES ($1, (SELECT coalesce(max(id), 0) + 1 FROM person WHERE household = $1), \
             $2, $3, $4, $5, $5) ON CONFLICT (household, channel, external) \
             DO UPDATE SET name = excluded.name, seen_at = excluded.seen_at, left_at = NULL \
             RETURNING id",
        )
        .bind(household.as_str())
        .bind(channel.word())
        .bind(writer.external.as_str())
        .bind(storable(&writer.name))
        .bind(now.micros())
        .fetch_one(&mut *self.inner)
        .await?;
        Ok(PersonId(row.try_get("id")?))
    }

    pub async fn person_left(
        &mut self,
        household: &HouseholdId,
        person: PersonId,
        now: Instant,
    ) -> Result<(), StoreError> {
        sqlx::query("UPDATE person SET left_at = $3 WHERE household = $1 AND id = $2")
            .bind(household.as_str())
            .bind(person.0)
            .bind(now.micros())
            .execute(&mut *self.inner)
            .await?;
        Ok(())
    }

    /// Appends events; their ids go on from the household's last one.
    pub async fn append(
        &mut self,
        household: &HouseholdId,
        events: &[Event],
    ) -> Result<(), StoreError> {
        for event in events {
            sqlx::query(
                "INSERT INTO event (household, id, person, at, day, message, replaces, payload) \
                 VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
            )
            .bind(household.as_str())
            .bind(db(event.id.0))
            .bind(event.person.map(|person| person.0))
            .bind(event.at.micros())
            .bind(event.day.to_string())
            .bind(event.message.map(|message| db(message.0)))
            .bind(event.replaces.map(|message| db(message.0)))
            .bind(serde_json::to_string(&event.what)?)
            .execute(&mut *self.inner)
            .await?;
        }
        Ok(())
    }

    /// Writes the state, the memory and the counters of a household that was taken.
    pub async fn save(
        &mut self,
        household: &HouseholdId,
        state: &State,
        memory: &Memory,
        last_parcel: u64,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE household SET state = $2, memory = $3, last_event = $4, last_message = $5, \
             last_parcel = $6 WHERE id = $1",
        )
        .bind(household.as_str())
        .bind(serde_json::to_string(state)?)
        .bind(serde_json::to_string(memory)?)
        .bind(db(state.last_event))
        .bind(db(memory.last_message))
        .bind(db(last_parcel))
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Notes that the bot was removed from the home chat, or (`None`) is back in it.
    pub async fn set_gone(
        &mut self,
        household: &HouseholdId,
        gone_at: Option<Instant>,
    ) -> Result<(), StoreError> {
        sqlx::query("UPDATE household SET gone_at = $2 WHERE id = $1")
            .bind(household.as_str())
            .bind(gone_at.map(Instant::micros))
            .execute(&mut *self.inner)
            .await?;
        Ok(())
    }
}
