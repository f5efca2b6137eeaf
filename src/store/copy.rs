//! A whole database into another one, of either kind, proved by hash.
//!
//! Tables go in the order in which they refer to each other. The proof reads both sides afresh
//! after the commit: for each table the number of rows and the hash of all of them, which does not
//! depend on the order in which a database returns rows.

use futures_util::TryStreamExt;
use sha2::{Digest, Sha256};
use sqlx::any::AnyRow;
use sqlx::{Row, ValueRef};

use super::{Store, StoreError};

/// What a column holds, in the order of the columns of [`Table::read`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Holds {
    Number,
    Text,
}

use Holds::{Number, Text};

/// A table and its two queries.
struct Table {
    name: &'static str,
    read: &'static str,
    write: &'static str,
    columns: &'static [Holds],
}

/// Every table of the schema but the migrations' own; a test compares them with the database.
const TABLES: &[Table] = &[
    Table {
        name: "household",
        read: "SELECT id, founded_at, state, memory, last_event, last_message, last_parcel, \
               version, gone_at FROM household",
        write: "INSERT INTO household (id, founded_at, state, memory, last_event, last_message, \
                last_parcel, version, gone_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
        columns: &[Text, Number, Text, Text, Number, Number, Number, Number, Number],
    },
    Table {
        name: "person",
        read: "SELECT household, id, channel, external, name, joined_at, seen_at, left_at \
               FROM person",
        write: "INSERT INTO person (household, id, channel, external, name, joined_at, seen_at, \
                left_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        columns: &[Text, Number, Text, Text, Text, Number, Number, Number],
    },
    Table {
        name: "chat",
        read: "SELECT channel, chat, topic, household, role, person, title, closed_at FROM chat",
        write: "INSERT INTO chat (channel, chat, topic, household, role, person, title, \
                closed_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        columns: &[Text, Text, Text, Text, Text, Number, Text, Number],
    },
    Table {
        name: "invite",
        read: "SELECT token, household, made_by, expires_at, used_at FROM invite",
        write: "INSERT INTO invite (token, household, made_by, expires_at, used_at) \
                VALUES ($1, $2, $3, $4, $5)",
        columns: &[Text, Text, Number, Number, Number],
    },
    Table {
        name: "turned",
        read: "SELECT channel, chat, household, person FROM turned",
        write: "INSERT INTO turned (channel, chat, household, person) VALUES ($1, $2, $3, $4)",
        columns: &[Text, Text, Text, Number],
    },
    Table {
        name: "undecided",
        read: "SELECT channel, chat, arrival, at FROM undecided",
        write: "INSERT INTO undecided (channel, chat, arrival, at) VALUES ($1, $2, $3, $4)",
        columns: &[Text, Text, Text, Number],
    },
    Table {
        name: "stray",
        read: "SELECT household, other FROM stray",
        write: "INSERT INTO stray (household, other) VALUES ($1, $2)",
        columns: &[Text, Text],
    },
    Table {
        name: "message",
        read: "SELECT household, number, channel, chat, topic, external, person, at, words \
               FROM message",
        write: "INSERT INTO message (household, number, channel, chat, topic, external, person, \
                at, words) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
        columns: &[Text, Number, Text, Text, Text, Text, Number, Number, Text],
    },
    Table {
        name: "event",
        read: "SELECT household, id, person, at, day, message, replaces, payload FROM event",
        write: "INSERT INTO event (household, id, person, at, day, message, replaces, payload) \
                VALUES ($1, $2, $3, $4, $5, $6, $7, $8)",
        columns: &[Text, Number, Number, Number, Text, Number, Number, Text],
    },
    Table {
        name: "inbox",
        read: "SELECT channel, update_id, chat, raw, received_at, state FROM inbox",
        write: "INSERT INTO inbox (channel, update_id, chat, raw, received_at, state) \
                VALUES ($1, $2, $3, $4, $5, $6)",
        columns: &[Text, Number, Text, Text, Number, Text],
    },
    Table {
        name: "due",
        read: "SELECT household, job, day, cron, zone, due_at, state FROM due",
        write: "INSERT INTO due (household, job, day, cron, zone, due_at, state) \
                VALUES ($1, $2, $3, $4, $5, $6, $7)",
        columns: &[Text, Text, Text, Text, Text, Number, Text],
    },
    Table {
        name: "outbox",
        read: "SELECT household, number, target, kind, repeatable, payload, message, state, tries, \
               queued_at, not_before, expires_at, lease_until, settled_at, trouble FROM outbox",
        write: "INSERT INTO outbox (household, number, target, kind, repeatable, payload, message, \
                state, tries, queued_at, not_before, expires_at, lease_until, settled_at, trouble) \
                VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)",
        columns: &[
            Text, Number, Text, Text, Number, Text, Number, Text, Number, Number, Number, Number,
            Number, Number, Text,
        ],
    },
    Table {
        name: "service",
        read: "SELECT name, value FROM service",
        write: "INSERT INTO service (name, value) VALUES ($1, $2)",
        columns: &[Text, Number],
    },
];

/// What a table holds, whatever the order of its rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum {
    pub table: &'static str,
    pub rows: u64,
    /// The rows' SHA-256 hashes, combined by exclusive or: no two rows of a table are alike.
    pub hash: [u8; 32],
}

impl Sum {
    fn new(table: &'static str) -> Sum {
        Sum { table, rows: 0, hash: [0; 32] }
    }

    fn add(&mut self, values: &[Value]) {
        let mut row = Sha256::new();
        for value in values {
            // A tag and a length before each value, so that no two rows read alike.
            match value {
                Value::Number(None) | Value::Text(None) => row.update([0]),
                Value::Number(Some(number)) => {
                    row.update([1]);
                    row.update(number.to_le_bytes());
                }
                Value::Text(Some(text)) => {
                    row.update([2]);
                    row.update((text.len() as u64).to_le_bytes());
                    row.update(text.as_bytes());
                }
            }
        }
        for (sum, byte) in self.hash.iter_mut().zip(row.finalize()) {
            *sum ^= byte;
        }
        self.rows += 1;
    }
}

enum Value {
    Number(Option<i64>),
    Text(Option<String>),
}

fn values(row: &AnyRow, table: &Table) -> Result<Vec<Value>, StoreError> {
    let value = |(place, holds): (usize, &Holds)| {
        let empty = row.try_get_raw(place)?.is_null();
        Ok(match holds {
            Number if empty => Value::Number(None),
            Number => Value::Number(Some(row.try_get(place)?)),
            Text if empty => Value::Text(None),
            Text => Value::Text(Some(row.try_get(place)?)),
        })
    };
    table.columns.iter().enumerate().map(value).collect()
}

impl Store {
    /// Copies every row into `to`, which must hold none, in one transaction. Nobody may write to
    /// this store meanwhile. Works on all households by design.
    ///
    /// # Errors
    /// [`StoreError::NotEmpty`] when `to` holds rows; otherwise what reading or writing says.
    pub async fn copy_into(&self, to: &Store) -> Result<(), StoreError> {
        for sum in to.sums().await? {
            if sum.rows > 0 {
                return Err(StoreError::NotEmpty { table: sum.table });
            }
        }
        let mut tx = to.begin().await?;
        let mut from = self.pool.acquire().await?;
        for table in TABLES {
            let mut rows = sqlx::query(table.read).fetch(&mut *from);
            while let Some(row) = rows.try_next().await? {
                let mut write = sqlx::query(table.write);
                for value in values(&row, table)? {
                    write = match value {
                        Value::Number(number) => write.bind(number),
                        Value::Text(text) => write.bind(text),
                    };
                }
                write.execute(&mut *tx.inner).await?;
            }
        }
        tx.commit().await
    }

    /// The tables that a copy takes along, and how many columns of each.
    pub fn copied_tables() -> impl Iterator<Item = (&'static str, usize)> {
        TABLES.iter().map(|table| (table.name, table.columns.len()))
    }

    /// What each table holds, in the order of the tables. Works on all households by design.
    pub async fn sums(&self) -> Result<Vec<Sum>, StoreError> {
        let mut connection = self.pool.acquire().await?;
        let mut sums = Vec::new();
        for table in TABLES {
            let mut sum = Sum::new(table.name);
            let mut rows = sqlx::query(table.read).fetch(&mut *connection);
            while let Some(row) = rows.try_next().await? {
                sum.add(&values(&row, table)?);
            }
            sums.push(sum);
        }
        Ok(sums)
    }
}
