//! Who belongs where: titles, private chats, invites, moves; forgetting people and deleting
//! households.

use sqlx::Row;

use super::household::chat_key;
use super::{HouseholdId, Store, StoreError, Tx, count};
use crate::channel::{Channel, ChatKey, Writer};
use crate::conversation::{MessageId, Said};
use crate::dates::Instant;
use crate::kitchen::PersonId;

/// How long the data of a household is kept after the bot was removed from its chat, in days.
pub const GONE_DAYS: i64 = 30;
/// How long an invite can be used, in days.
pub const INVITE_DAYS: i64 = 7;
/// How long what somebody wrote waits for their word which household it was for, in hours.
const UNDECIDED_HOURS: i64 = 24;
/// How long a message that was not for the bot is known by its number, in hours: long enough for
/// an edit to make it one that is.
const CHATTER_HOURS: i64 = 48;

/// A household somebody is a member of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Membership {
    pub household: HouseholdId,
    pub person: PersonId,
    /// What its group is called.
    pub title: Option<String>,
}

impl Store {
    /// The households a person is in. The way from a channel to a household, so it takes none.
    pub async fn memberships(
        &self,
        channel: Channel,
        external: &str,
    ) -> Result<Vec<Membership>, StoreError> {
        let rows = sqlx::query(
            "SELECT p.household AS household, p.id AS id, c.title AS title FROM person p \
             JOIN household h ON h.id = p.household AND h.gone_at IS NULL \
             LEFT JOIN chat c ON c.household = p.household AND c.role = 'home' \
             WHERE p.channel = $1 AND p.external = $2 AND p.left_at IS NULL ORDER BY p.household",
        )
        .bind(channel.word())
        .bind(external)
        .fetch_all(&self.pool)
        .await?;
        let memberships = rows.iter().map(|row| {
            Ok(Membership {
                household: HouseholdId(row.try_get("household")?),
                person: PersonId(row.try_get("id")?),
                title: row.try_get("title")?,
            })
        });
        memberships.collect()
    }

    /// Whether somebody was in a household and has left it.
    pub async fn has_left(
        &self,
        household: &HouseholdId,
        channel: Channel,
        external: &str,
    ) -> Result<bool, StoreError> {
        let row = sqlx::query(
            "SELECT id FROM person WHERE household = $1 AND channel = $2 AND external = $3 \
             AND left_at IS NOT NULL",
        )
        .bind(household.as_str())
        .bind(channel.word())
        .bind(external)
        .fetch_optional(&self.pool)
        .await?;
        Ok(row.is_some())
    }

    /// Whether it is settled which household a private chat speaks to: it has been asked, or it
    /// was clear from the start. The way from a channel to a household, so it takes none.
    pub async fn is_settled(&self, chat: &ChatKey) -> Result<bool, StoreError> {
        let row = sqlx::query(
            "SELECT 1 AS settled FROM turned WHERE channel = $1 AND chat = $2 UNION ALL \
             SELECT 1 AS settled FROM chat WHERE channel = $1 AND chat = $2 AND role <> 'home'",
        )
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .fetch_optional(&self.pool)
        .await?;
        Ok(row.is_some())
    }

    /// The household an invite leads to, while it can be used. The way from a channel to a
    /// household, so it takes none.
    pub async fn invited_to(
        &self,
        token: &str,
        now: Instant,
    ) -> Result<Option<HouseholdId>, StoreError> {
        let row = sqlx::query(
            "SELECT household FROM invite \
             WHERE token = $1 AND used_at IS NULL AND expires_at > $2",
        )
        .bind(token)
        .bind(now.micros())
        .fetch_optional(&self.pool)
        .await?;
        Ok(row.map(|row| row.try_get("household").map(HouseholdId)).transpose()?)
    }

    /// The household's home chat.
    pub async fn home_of(&self, household: &HouseholdId) -> Result<Option<ChatKey>, StoreError> {
        let row = sqlx::query(
            "SELECT channel, chat, topic FROM chat WHERE household = $1 AND role = 'home'",
        )
        .bind(household.as_str())
        .fetch_optional(&self.pool)
        .await?;
        row.as_ref().map(chat_key).transpose()
    }

    /// Deletes the households whose chat removed the bot more than [`GONE_DAYS`] ago, and what has
    /// waited too long for its writer's word; forgets the numbers of messages that were not for
    /// the bot. Scan by design.
    pub async fn delete_long_gone(&self, now: Instant) -> Result<u64, StoreError> {
        let mut tx = self.begin().await?;
        let rows = sqlx::query("SELECT id FROM household WHERE gone_at < $1")
            .bind(now.plus_minutes(-GONE_DAYS * 24 * 60).micros())
            .fetch_all(&mut *tx.inner)
            .await?;
        for row in &rows {
            tx.delete_household(&HouseholdId(row.try_get("id")?)).await?;
        }
        sqlx::query("DELETE FROM undecided WHERE at < $1")
            .bind(now.plus_minutes(-UNDECIDED_HOURS * 60).micros())
            .execute(&mut *tx.inner)
            .await?;
        sqlx::query(
            "DELETE FROM message WHERE words IS NULL AND person IS NOT NULL AND at < $1 \
             AND NOT EXISTS (SELECT 1 FROM event e WHERE e.household = message.household \
             AND (e.message = message.number OR e.replaces = message.number))",
        )
        .bind(now.plus_minutes(-CHATTER_HOURS * 60).micros())
        .execute(&mut *tx.inner)
        .await?;
        sqlx::query("DELETE FROM invite WHERE expires_at < $1")
            .bind(now.micros())
            .execute(&mut *tx.inner)
            .await?;
        tx.commit().await?;
        Ok(rows.len() as u64)
    }
}

impl Tx {
    /// The number of somebody who is a member now; nobody becomes one by this.
    pub async fn member(
        &mut self,
        household: &HouseholdId,
        channel: Channel,
        external: &str,
    ) -> Result<Option<PersonId>, StoreError> {
        let row = sqlx::query(
            "SELECT id FROM person WHERE household = $1 AND channel = $2 AND external = $3 \
             AND left_at IS NULL",
        )
        .bind(household.as_str())
        .bind(channel.word())
        .bind(external)
        .fetch_optional(&mut *self.inner)
        .await?;
        Ok(row.map(|row| row.try_get("id").map(PersonId)).transpose()?)
    }

    /// Notes what the group is called.
    pub async fn set_title(
        &mut self,
        household: &HouseholdId,
        chat: &ChatKey,
        title: &str,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE chat SET title = $4 WHERE household = $1 AND channel = $2 AND chat = $3 \
             AND (title IS NULL OR title <> $4)",
        )
        .bind(household.as_str())
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .bind(super::storable(title))
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// From now on a private chat speaks to this household.
    pub async fn turn_private_chat(
        &mut self,
        household: &HouseholdId,
        chat: &ChatKey,
        person: PersonId,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO turned (channel, chat, household, person) VALUES ($1, $2, $3, $4) \
             ON CONFLICT (channel, chat) DO UPDATE SET household = excluded.household, \
             person = excluded.person",
        )
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .bind(household.as_str())
        .bind(person.0)
        .execute(&mut *self.inner)
        .await?;
        self.close_private_chat(household, person, None).await
    }

    /// A private chat speaks to no household any more.
    pub async fn release_private_chat(&mut self, chat: &ChatKey) -> Result<(), StoreError> {
        for step in [
            "DELETE FROM turned WHERE channel = $1 AND chat = $2",
            "DELETE FROM chat WHERE channel = $1 AND chat = $2 AND role = 'private'",
        ] {
            sqlx::query(step)
                .bind(chat.channel.word())
                .bind(chat.chat.as_str())
                .execute(&mut *self.inner)
                .await?;
        }
        Ok(())
    }

    /// Closes a person's private chat for us, or (`None`) opens it again.
    pub async fn close_private_chat(
        &mut self,
        household: &HouseholdId,
        person: PersonId,
        closed_at: Option<Instant>,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO chat (channel, chat, topic, household, role, person, closed_at) \
             SELECT channel, external, '', household, 'private', id, $3 FROM person \
             WHERE household = $1 AND id = $2 ON CONFLICT (channel, chat, topic) \
             DO UPDATE SET closed_at = excluded.closed_at",
        )
        .bind(household.as_str())
        .bind(person.0)
        .bind(closed_at.map(Instant::micros))
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Posts go to the topic in which this message was written.
    pub async fn move_topic(
        &mut self,
        household: &HouseholdId,
        message: MessageId,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE chat SET topic = (SELECT m.topic FROM message m WHERE m.household = $1 \
             AND m.number = $2) WHERE household = $1 AND role = 'home' \
             AND chat = (SELECT m.chat FROM message m WHERE m.household = $1 AND m.number = $2)",
        )
        .bind(household.as_str())
        .bind(super::db(message.0))
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    pub async fn add_invite(
        &mut self,
        household: &HouseholdId,
        token: &str,
        by: PersonId,
        now: Instant,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO invite (token, household, made_by, expires_at) VALUES ($1, $2, $3, $4)",
        )
        .bind(token)
        .bind(household.as_str())
        .bind(by.0)
        .bind(now.plus_minutes(INVITE_DAYS * 24 * 60).micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    /// Uses an invite up; `false` when somebody else was first or it has run out.
    pub async fn use_invite(
        &mut self,
        household: &HouseholdId,
        token: &str,
        now: Instant,
    ) -> Result<bool, StoreError> {
        let done = sqlx::query(
            "UPDATE invite SET used_at = $3 WHERE household = $1 AND token = $2 \
             AND used_at IS NULL AND expires_at > $3",
        )
        .bind(household.as_str())
        .bind(token)
        .bind(now.micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(done.rows_affected() == 1)
    }

    /// Keeps what was written in private until its writer says which household it is for.
    pub async fn keep_undecided(
        &mut self,
        chat: &ChatKey,
        arrival: &str,
        now: Instant,
    ) -> Result<(), StoreError> {
        sqlx::query(
            "INSERT INTO undecided (channel, chat, arrival, at) VALUES ($1, $2, $3, $4) \
             ON CONFLICT (channel, chat) DO UPDATE SET arrival = excluded.arrival, \
             at = excluded.at",
        )
        .bind(chat.channel.word())
        .bind(chat.chat.as_str())
        .bind(arrival)
        .bind(now.micros())
        .execute(&mut *self.inner)
        .await?;
        Ok(())
    }

    pub async fn take_undecided(&mut self, chat: &ChatKey) -> Result<Option<String>, StoreError> {
        let row =
            sqlx::query("DELETE FROM undecided WHERE channel = $1 AND chat = $2 RETURNING arrival")
                .bind(chat.channel.word())
                .bind(chat.chat.as_str())
                .fetch_optional(&mut *self.inner)
                .await?;
        Ok(row.map(|row| row.try_get("arrival")).transpose()?)
    }

    /// Removes a person's name, their words and others' that say the name, and their private chat.
    /// What they reported stays, under a number that leads to nobody.
    pub async fn forget_person(
        &mut self,
        household: &HouseholdId,
        person: PersonId,
        now: Instant,
    ) -> Result<(), StoreError> {
        let row = sqlx::query("SELECT name FROM person WHERE household = $1 AND id = $2")
            .bind(household.as_str())
            .bind(person.0)
            .fetch_optional(&mut *self.inner)
            .await?;
        let name: String = row.map_or(Ok(String::new()), |row| row.try_get("name"))?;
        self.forget_words_with(household, &name).await?;
        sqlx::query(
            "UPDATE person SET name = '', external = 'forgotten:' || id, left_at = $3 \
             WHERE household = $1 AND id = $2",
        )
        .bind(household.as_str())
        .bind(person.0)
        .bind(now.micros())
        .execute(&mut *self.inner)
        .await?;
        let theirs = [
            "UPDATE message SET words = NULL WHERE household = $1 AND person = $2",
            "DELETE FROM chat WHERE household = $1 AND role = 'private' AND person = $2",
            "DELETE FROM turned WHERE household = $1 AND person = $2",
        ];
        for step in theirs {
            let step = sqlx::query(step).bind(household.as_str()).bind(person.0);
            step.execute(&mut *self.inner).await?;
        }
        // What was said lately may have named them.
        sqlx::query("DELETE FROM outbox WHERE household = $1 AND settled_at IS NOT NULL")
            .bind(household.as_str())
            .execute(&mut *self.inner)
            .await?;
        Ok(())
    }

    /// Empties every message that says a name, or the first word of it.
    async fn forget_words_with(
        &mut self,
        household: &HouseholdId,
        name: &str,
    ) -> Result<(), StoreError> {
        let name = name.to_lowercase();
        let Some(first) = name.split_whitespace().next() else { return Ok(()) };
        let rows = sqlx::query(
            "SELECT number, words FROM message WHERE household = $1 AND words IS NOT NULL",
        )
        .bind(household.as_str())
        .fetch_all(&mut *self.inner)
        .await?;
        for row in rows {
            let words: String = row.try_get("words")?;
            let words = words.to_lowercase();
            let mut said = words.split(|c: char| !c.is_alphanumeric());
            if words.contains(&name) || said.any(|word| word == first) {
                let number = MessageId(count(row.try_get("number")?)?);
                self.rewrite_words(household, number, None).await?;
            }
        }
        Ok(())
    }

    /// Deletes a household and all of it.
    pub async fn delete_household(&mut self, household: &HouseholdId) -> Result<(), StoreError> {
        let steps = [
            "DELETE FROM stray WHERE household = $1 OR other = $1",
            "DELETE FROM invite WHERE household = $1",
            "DELETE FROM turned WHERE household = $1",
            "DELETE FROM outbox WHERE household = $1",
            "DELETE FROM due WHERE household = $1",
            "DELETE FROM event WHERE household = $1",
            "DELETE FROM message WHERE household = $1",
            "DELETE FROM chat WHERE household = $1",
            "DELETE FROM person WHERE household = $1",
            "DELETE FROM household WHERE id = $1",
        ];
        for step in steps {
            sqlx::query(step).bind(household.as_str()).execute(&mut *self.inner).await?;
        }
        tracing::info!(household.id = %household, "a household was deleted");
        Ok(())
    }

    /// Households founded in this one's new place before its move was known.
    pub async fn strays(
        &mut self,
        household: &HouseholdId,
    ) -> Result<Vec<HouseholdId>, StoreError> {
        let rows = sqlx::query("SELECT other FROM stray WHERE household = $1 ORDER BY other")
            .bind(household.as_str())
            .fetch_all(&mut *self.inner)
            .await?;
        rows.iter().map(|row| Ok(HouseholdId(row.try_get("other")?))).collect()
    }

    /// What people told a household in words, oldest first, with who they are: to be told to
    /// another one.
    pub async fn told_in(
        &mut self,
        household: &HouseholdId,
    ) -> Result<Vec<(Writer, Option<String>, Said)>, StoreError> {
        let rows = sqlx::query(
            "SELECT m.number AS number, m.external AS external, m.at AS at, m.words AS words, \
             p.external AS writer, p.name AS name FROM message m JOIN person p \
             ON p.household = m.household AND p.id = m.person \
             WHERE m.household = $1 AND m.words IS NOT NULL ORDER BY m.number",
        )
        .bind(household.as_str())
        .fetch_all(&mut *self.inner)
        .await?;
        let told = rows.iter().map(|row| {
            let writer = Writer { external: row.try_get("writer")?, name: row.try_get("name")? };
            let said = Said {
                message: MessageId(count(row.try_get("number")?)?),
                person: PersonId(0),
                text: row.try_get("words")?,
                addressed: false,
                private: false,
                reply_to: None,
                at: Instant::from_micros(row.try_get("at")?),
            };
            Ok((writer, row.try_get("external")?, said))
        });
        told.collect()
    }
}
