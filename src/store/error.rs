//! What can go wrong with a database, each with its cause and its cure.

use std::path::PathBuf;

/// A failure of the store. Nothing of the transaction it ended was kept.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    #[error("the database is busy with another writer; try again")]
    Busy,
    #[error(
        "the disk that holds the database is full; free some space and try again (nothing of \
         this was saved, everything before it is)"
    )]
    Full,
    #[error(
        "the database file cannot be written; give your user write permission on it and on its folder"
    )]
    ReadOnly,
    #[error(
        "the disk refused to read or write the database ({0}); check its free space and its health, \
         and try again (nothing of this was saved, everything before it is)"
    )]
    Disk(String),
    #[error(
        "the database file is damaged ({0}); put a backup back with `larderling restore FILE`, \
         or move the file away to start afresh"
    )]
    Damaged(String),
    #[error("{path} is not a larderling database; name another file with --database")]
    NotOurs { path: PathBuf },
    #[error(
        "the database was written by a newer larderling (schema {found}, this program knows \
         {known}); start the newer program, or put back the copy it made before the upgrade"
    )]
    Newer { found: i64, known: i64 },
    #[error(
        "{path} is in use by another larderling; stop that one first, or name another file with \
         --database"
    )]
    InUse { path: PathBuf },
    #[error(
        "the database to copy to already holds rows (in {table}); name a new file or an empty \
         database"
    )]
    NotEmpty { table: &'static str },
    #[error(
        "cannot open {path}: {why}; check the path and its rights, or name another file with --database"
    )]
    CannotOpen { path: PathBuf, why: std::io::Error },
    #[error("cannot reach the PostgreSQL database: {0}; check the address, and that it runs")]
    Unreachable(String),
    #[error("{0:?} is not a database address; give a file path, or postgres://user@host/name")]
    BadAddress(String),
    #[error("another process changed the same row first")]
    Conflict,
    #[error("the database holds something this program cannot read: {0}")]
    Unreadable(String),
    #[error("bringing the database up to date failed: {0}")]
    Migration(sqlx::migrate::MigrateError),
    #[error("the database failed: {0}")]
    Other(sqlx::Error),
}

impl StoreError {
    /// Whether the same thing may well succeed when tried again.
    pub fn is_passing(&self) -> bool {
        matches!(self, StoreError::Busy | StoreError::Conflict)
    }
}

impl From<sqlx::Error> for StoreError {
    fn from(error: sqlx::Error) -> StoreError {
        let Some(database) = error.as_database_error() else {
            return match error {
                sqlx::Error::PoolTimedOut => StoreError::Busy,
                error => StoreError::Other(error),
            };
        };
        if database.is_unique_violation() {
            return StoreError::Conflict;
        }
        let code = database.code().unwrap_or_default();
        if database.try_downcast_ref::<sqlx::sqlite::SqliteError>().is_some() {
            // Primary result codes of SQLite; the low byte of an extended code is its primary.
            match code.parse::<u32>().map(|code| code & 0xff) {
                Ok(5 | 6) => return StoreError::Busy,
                Ok(8) => return StoreError::ReadOnly,
                Ok(10) => return StoreError::Disk(database.message().to_owned()),
                Ok(11 | 26) => return StoreError::Damaged(database.message().to_owned()),
                Ok(13) => return StoreError::Full,
                _ => {}
            }
        } else {
            // SQLSTATE classes of PostgreSQL: disk full, serialization failure, deadlock, lock.
            match code.as_ref() {
                "53100" => return StoreError::Full,
                "40001" | "40P01" | "55P03" => return StoreError::Busy,
                "25006" => return StoreError::ReadOnly,
                _ => {}
            }
        }
        StoreError::Other(error)
    }
}

impl From<serde_json::Error> for StoreError {
    fn from(error: serde_json::Error) -> StoreError {
        // The position only: the message of a data error may quote the data.
        let kind = error.classify();
        StoreError::Unreadable(format!("{kind:?} error in stored JSON, column {}", error.column()))
    }
}
