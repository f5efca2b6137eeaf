//! The two things that differ between SQLite and PostgreSQL: how a writing transaction begins and
//! how a row is claimed without waiting for others. All other SQL is one text. SQLite needs no
//! claim of a row: its writing transactions come one after the other, in one process.

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dialect {
    Sqlite,
    Postgres,
}

impl Dialect {
    /// SQLite must take its write lock at once: a transaction that reads first and writes later
    /// fails as busy under load, whatever the busy timeout.
    pub(super) fn begin(self) -> &'static str {
        match self {
            Dialect::Sqlite => "BEGIN IMMEDIATE",
            Dialect::Postgres => "BEGIN",
        }
    }

    /// Locks a waiting update, or finds none where another process has it.
    pub(super) fn lock_update(self) -> Option<&'static str> {
        match self {
            Dialect::Sqlite => None,
            Dialect::Postgres => Some(
                "SELECT chat, received_at FROM inbox \
                 WHERE channel = $1 AND update_id = $2 AND state = 'waiting' \
                 FOR UPDATE SKIP LOCKED",
            ),
        }
    }

    /// Locks a waiting due row, or finds none where another process has it.
    pub(super) fn lock_due(self) -> Option<&'static str> {
        match self {
            Dialect::Sqlite => None,
            Dialect::Postgres => Some(
                "SELECT 1 AS found FROM due \
                 WHERE household = $1 AND job = $2 AND day = $3 AND state = 'waiting' \
                 FOR UPDATE SKIP LOCKED",
            ),
        }
    }

    /// What is due and in nobody's hands, oldest first.
    pub(super) fn due(self) -> &'static str {
        match self {
            Dialect::Sqlite => {
                "SELECT household, job, day, due_at FROM due \
                 WHERE state = 'waiting' AND due_at <= $1 ORDER BY due_at, household, job LIMIT $2"
            }
            Dialect::Postgres => {
                "SELECT household, job, day, due_at FROM due \
                 WHERE state = 'waiting' AND due_at <= $1 ORDER BY due_at, household, job LIMIT $2 \
                 FOR UPDATE SKIP LOCKED"
            }
        }
    }

    /// The number of the oldest parcel that may go out now. A target's parcels go in order: one
    /// with an unsettled elder waits.
    pub(super) fn next_parcel(self) -> &'static str {
        match self {
            Dialect::Sqlite => {
                "SELECT o.household AS household, o.number AS number FROM outbox o \
                 WHERE o.state = 'queued' AND o.not_before <= $1 AND NOT EXISTS ( \
                   SELECT 1 FROM outbox e WHERE e.household = o.household AND e.target = o.target \
                   AND e.number < o.number AND e.state IN ('queued', 'claimed')) \
                 ORDER BY o.queued_at, o.household, o.number LIMIT 1"
            }
            Dialect::Postgres => {
                "SELECT o.household AS household, o.number AS number FROM outbox o \
                 WHERE o.state = 'queued' AND o.not_before <= $1 AND NOT EXISTS ( \
                   SELECT 1 FROM outbox e WHERE e.household = o.household AND e.target = o.target \
                   AND e.number < o.number AND e.state IN ('queued', 'claimed')) \
                 ORDER BY o.queued_at, o.household, o.number LIMIT 1 \
                 FOR UPDATE SKIP LOCKED"
            }
        }
    }
}
