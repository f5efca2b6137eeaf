//! Messages: our numbers against the channels' ids, and words that can be forgotten.

use sqlx::Row;

use super::{HouseholdId, Store, StoreError, Tx, count, db, storable};
use crate::channel::ChatKey;
use crate::conversation::MessageId;
use crate::dates::Instant;
use crate::kitchen::PersonId;

/// A message, for export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MessageRow {
    pub number: MessageId,
    pub person: Option<PersonId>,
    pub at: Instant,
    /// `None` once forgotten, and for the bot's own.
    pub words: Option<String>,
}

/// What to write of a message.
pub struct NewMessage<'a> {
    pub number: MessageId,
    pub chat: &'a ChatKey,
    pub external: Option<&'a str>,
    pub person: Option<PersonId>,
    pub at: Instant,
    pub words: Option<&'a str>,
}

/// Who wrote a message.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Author {
    Bot,
    Person(PersonId),
}

impl Store {
    /// Every message of a household, in order of arrival.
    pub async fn messages(&self, household: &HouseholdId) -> Result<Vec<MessageRow>, StoreError> {
        let rows = sqlx::query(
            "SELECT number, person, at, words FROM message WHERE household = $1 ORDER BY number",
        )
        .bind(household.as_str())
        .fetch_all(&self.pool)
        .await?;
        let messages = rows.iter().map(|row| {
            Ok(MessageRow {
                number: MessageId(count(row.try_get("number")?)?),
                person: row.try_get::<Option<i64>, _>("person")?.map(PersonId),
                at: Instant::from_micros(row.try_get("at")?),
                words: row.try_get("words")?,
            })
        });
        messages.collect()
    }
}

impl Tx {
    /// Our number of a channel's message, and whether the bot wrote it.
    pub async fn message_by_external(
        &mut self,
        household: &HouseholdId,
        chat: &ChatKey,
        external: &str,
    ) -> Result<Option<(MessageId, Author)>, StoreError> {
        let row = sqlx::query(
            "SELECT number, person FROM message \
             WHERE household = $1 AND channel = $2 AND chat = $3 AND external = $4",
        )
        .bind(household.as_str())
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .bind(external)
        .fetch_optional(&mut *self.inner)
        .await?;
        let Some(row) = row else { return Ok(None) };
        let author = match row.try_get::<Option<i64>, _>("person")? {
            Some(id) => Author::Person(PersonId(id)),
            None => Author::Bot,
        };
        Ok(Some((MessageId(count(row.try_get("number")?)?), author)))
    }

    pub async fn write_message(
        &mut self,
        household: &HouseholdId,
        message: &NewMessage<'_>,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO message (household, number, channel, chat, topic, external, person, at, \
             words) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
        )
        .bind(household.as_str())
        .bind(db(message.number.0))
        .bind(message.chat.channel.word())
        .bind(message.chat.chat.as_str())
        .bind(message.chat.topic.as_str())
        .bind(message.external)
        .bind(message.person.map(|person| person.0))
        .bind(message.at.micros())
        .bind(message.words.map(storable))
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Takes one of the bot's messages to another chat, where it is yet to be sent; `false` when
    /// it is in that chat already.
    pub async fn take_message_to(
        &mut self,
        household: &HouseholdId,
        number: MessageId,
        chat: &ChatKey,
    ) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "UPDATE message SET channel = $3, chat = $4, external = NULL \
             WHERE household = $1 AND number = $2 AND person IS NULL \
             AND (channel <> $3 OR chat <> $4)",
        )
        .bind(household.as_str())
        .bind(db(number.0))
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .execute(&mut *self.inner)
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Replaces the words of a message; `None` forgets them.
    pub async fn rewrite_words(
        &mut self,
        household: &HouseholdId,
        number: MessageId,
        words: Option<&str>,
    ) -> Result<(), StoreError> {
        sqlx::query("UPDATE message SET words = $3 WHERE household = $1 AND number = $2")
            .bind(household.as_str())
            .bind(db(number.0))
            .bind(words.map(storable))
            .execute(&mut *self.inner)
            .await?;
        Ok(())
    }
}
