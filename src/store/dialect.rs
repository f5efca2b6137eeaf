//! The two things that differ between SQLite and PostgreSQL: how a writing transaction begins and
//! how a row is claimed without waiting for others. All other SQL is one text.

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
