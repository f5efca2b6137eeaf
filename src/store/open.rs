//! Opening a database: where it is, whether it is ours, sound and not too new, the lock, the copy
//! before an upgrade, and the upgrade.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use sqlx::any::{AnyConnectOptions, AnyPoolOptions};
use sqlx::migrate::Migrator;
use sqlx::{AnyConnection, AnyPool};
use sqlx::{Connection, Executor, Row};

use super::{Dialect, Store, StoreError};

static SQLITE_STEPS: Migrator = sqlx::migrate!("./migrations/sqlite");
static POSTGRES_STEPS: Migrator = sqlx::migrate!("./migrations/postgres");

/// Marks an SQLite file as ours; set by the first migration.
const APPLICATION_ID: i64 = 1_279_349_316;
/// How long a writer waits for another one, in milliseconds; [`CONNECTION_SETTINGS`] says the same.
const BUSY_TIMEOUT_MS: u64 = 5_000;
/// What every connection to an SQLite file is set to. What is deleted is overwritten: words that
/// were not for the bot, and what people had deleted, do not linger. Reading the schema finds a file that is no
/// database or a damaged one.
const CONNECTION_SETTINGS: &str = "PRAGMA busy_timeout = 5000; PRAGMA synchronous = FULL; \
                                   PRAGMA foreign_keys = ON; PRAGMA secure_delete = ON; \
                                   PRAGMA schema_version;";
/// The same for a file that can be made again: a power cut may leave it damaged.
const SCRATCH_SETTINGS: &str = "PRAGMA busy_timeout = 5000; PRAGMA synchronous = OFF; \
                                PRAGMA foreign_keys = ON; PRAGMA schema_version;";
/// Connections to one database.
const CONNECTIONS_MAX: u32 = 8;
const SQLITE_HEADER: &[u8; 16] = b"SQLite format 3\0";

/// Where a database is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Location {
    /// Gone when the program ends.
    Memory,
    File(PathBuf),
    /// A PostgreSQL address. May hold a password: never printed whole.
    Postgres(String),
}

impl Location {
    /// Reads `postgres://...`, `sqlite:PATH`, `sqlite::memory:` or a plain path.
    pub fn parse(text: &str) -> Result<Location, StoreError> {
        if text.starts_with("postgres://") || text.starts_with("postgresql://") {
            return Ok(Location::Postgres(text.to_owned()));
        }
        let path = match text.strip_prefix("sqlite:") {
            Some(":memory:") => return Ok(Location::Memory),
            Some(rest) => rest.strip_prefix("//").unwrap_or(rest),
            None => text,
        };
        if path.is_empty() || path.contains("://") {
            return Err(StoreError::BadAddress(text.to_owned()));
        }
        Ok(Location::File(PathBuf::from(path)))
    }
}

/// A database just opened, and what was done to it on the way.
pub struct Opened {
    pub store: Store,
    /// The file's copy from before the upgrade, when there was one.
    pub copied_to: Option<PathBuf>,
}

impl Store {
    /// Opens for reading and writing; creates an SQLite file that is missing, and its folder.
    pub async fn open(location: &Location) -> Result<Opened, StoreError> {
        sqlx::any::install_default_drivers();
        match location {
            Location::Memory => {
                let pool = memory_pool().await?;
                SQLITE_STEPS.run(&pool).await.map_err(migration_failed)?;
                let store = Store {
                    pool,
                    dialect: Dialect::Sqlite,
                    location: location.clone(),
                    _lock: None,
                };
                Ok(Opened { store, copied_to: None })
            }
            Location::File(path) => open_file(path, CONNECTION_SETTINGS).await,
            Location::Postgres(url) => {
                let pool = postgres_pool(url).await?;
                newest_applied(&pool, &POSTGRES_STEPS).await?;
                POSTGRES_STEPS.run(&pool).await.map_err(migration_failed)?;
                let store = Store {
                    pool,
                    dialect: Dialect::Postgres,
                    location: location.clone(),
                    _lock: None,
                };
                Ok(Opened { store, copied_to: None })
            }
        }
    }

    /// Opens a new file that can be made again, fast rather than safe against a power cut.
    pub async fn open_scratch(path: &Path) -> Result<Store, StoreError> {
        sqlx::any::install_default_drivers();
        Ok(open_file(path, SCRATCH_SETTINGS).await?.store)
    }

    /// Opens an existing database as it is, beside a running program: takes no lock, creates and
    /// upgrades nothing.
    pub async fn open_beside(location: &Location) -> Result<Store, StoreError> {
        sqlx::any::install_default_drivers();
        let (pool, dialect) = match location {
            Location::Memory => (memory_pool().await?, Dialect::Sqlite),
            Location::File(path) => {
                let missing = |why| StoreError::CannotOpen { path: path.clone(), why };
                std::fs::metadata(path).map_err(missing)?;
                check_header(path)?;
                let pool = file_pool(path, CONNECTION_SETTINGS).await?;
                check_ours(&pool, path).await?;
                newest_applied(&pool, &SQLITE_STEPS).await?;
                (pool, Dialect::Sqlite)
            }
            Location::Postgres(url) => (postgres_pool(url).await?, Dialect::Postgres),
        };
        Ok(Store { pool, dialect, location: location.clone(), _lock: None })
    }

    /// Writes a consistent copy of an SQLite database to `to`, while it is in use.
    pub async fn copy_to(&self, to: &Path) -> Result<(), StoreError> {
        copy(&self.pool, to).await
    }

    /// Whether the database is sound, by its own check.
    pub async fn check_sound(&self) -> Result<(), StoreError> {
        match self.dialect {
            Dialect::Sqlite => check_sound(&self.pool, "PRAGMA integrity_check(1)").await,
            Dialect::Postgres => Ok(()),
        }
    }
}

async fn open_file(path: &Path, settings: &'static str) -> Result<Opened, StoreError> {
    let fault = |why| StoreError::CannotOpen { path: path.to_owned(), why };
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        std::fs::create_dir_all(folder).map_err(fault)?;
    }
    let existed = std::fs::metadata(path).is_ok_and(|file| file.len() > 0);
    if existed {
        check_header(path)?;
        // Opening for appending is the one reliable test of the right to write.
        if let Err(why) = OpenOptions::new().append(true).open(path) {
            return Err(match why.kind() {
                ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => StoreError::ReadOnly,
                _ => fault(why),
            });
        }
    }
    let lock = take_lock(path)?;
    let pool = file_pool(path, settings).await?;
    let mut copied_to = None;
    if existed {
        check_ours(&pool, path).await?;
        check_sound(&pool, "PRAGMA quick_check(1)").await?;
        let applied = newest_applied(&pool, &SQLITE_STEPS).await?;
        if applied < newest_known(&SQLITE_STEPS) {
            let copy_path = free_name(path);
            copy(&pool, &copy_path).await?;
            copied_to = Some(copy_path);
        }
    }
    // Kept in the file itself, so set only once the file is known to be ours.
    sqlx::query("PRAGMA journal_mode = WAL").fetch_one(&pool).await?;
    SQLITE_STEPS.run(&pool).await.map_err(migration_failed)?;
    let store = Store {
        pool,
        dialect: Dialect::Sqlite,
        location: Location::File(path.to_owned()),
        _lock: Some(Arc::new(lock)),
    };
    Ok(Opened { store, copied_to })
}

/// `NAME.before-VERSION`, numbered on where that is taken, so that no earlier copy is lost.
fn free_name(path: &Path) -> PathBuf {
    let base = format!("{}.before-{}", path.display(), env!("CARGO_PKG_VERSION"));
    let numbered = (2..).map(|number| PathBuf::from(format!("{base}-{number}")));
    let mut names = std::iter::once(PathBuf::from(&base)).chain(numbered);
    names.find(|name| !name.exists()).unwrap_or_else(|| PathBuf::from(base))
}

fn check_header(path: &Path) -> Result<(), StoreError> {
    let fault = |why| StoreError::CannotOpen { path: path.to_owned(), why };
    let mut head = Vec::new();
    let file = File::open(path).map_err(fault)?;
    file.take(SQLITE_HEADER.len() as u64).read_to_end(&mut head).map_err(fault)?;
    if head.is_empty() || head == SQLITE_HEADER {
        Ok(())
    } else {
        Err(StoreError::NotOurs { path: path.to_owned() })
    }
}

/// The lock stands on a file of its own beside the database, which stays.
fn take_lock(path: &Path) -> Result<File, StoreError> {
    let name = PathBuf::from(format!("{}.lock", path.display()));
    let opened = OpenOptions::new().create(true).truncate(false).write(true).open(&name);
    let file = opened.map_err(|why| match why.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => StoreError::ReadOnly,
        _ => StoreError::CannotOpen { path: name, why },
    })?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(StoreError::InUse { path: path.to_owned() }),
        Err(TryLockError::Error(why)) => Err(StoreError::CannotOpen { path: path.to_owned(), why }),
    }
}

async fn memory_pool() -> Result<AnyPool, StoreError> {
    // One connection that is never let go: the database lives as long as it does.
    let options = AnyPoolOptions::new()
        .max_connections(1)
        .min_connections(1)
        .idle_timeout(None)
        .max_lifetime(None);
    Ok(options.connect("sqlite::memory:").await?)
}

async fn file_pool(path: &Path, settings: &'static str) -> Result<AnyPool, StoreError> {
    let fault = |why| StoreError::CannotOpen { path: path.to_owned(), why };
    let absolute = std::path::absolute(path).map_err(fault)?;
    let Some(absolute) = absolute.to_str() else {
        return Err(StoreError::BadAddress(path.display().to_string()));
    };
    let url = format!("sqlite://{}?mode=rwc", percent_encoded(absolute));
    let options: AnyConnectOptions = url.parse()?;
    // A pool tries a failing connection again until it times out; one of our own says why.
    let mut first = AnyConnection::connect_with(&options).await?;
    first.execute(sqlx::raw_sql(settings)).await?;
    first.close().await?;
    let pool = AnyPoolOptions::new().max_connections(CONNECTIONS_MAX).after_connect(
        move |connection, _| {
            Box::pin(async move {
                connection.execute(sqlx::raw_sql(settings)).await?;
                Ok(())
            })
        },
    );
    let wait = Duration::from_millis(BUSY_TIMEOUT_MS);
    Ok(pool.acquire_timeout(wait * 2).connect_with(options).await?)
}

async fn postgres_pool(url: &str) -> Result<AnyPool, StoreError> {
    let first = AnyConnection::connect(url).await;
    let first = first.map_err(|error| StoreError::Unreachable(error.to_string()))?;
    first.close().await?;
    let wait = Duration::from_millis(BUSY_TIMEOUT_MS);
    let pool = AnyPoolOptions::new().max_connections(CONNECTIONS_MAX).acquire_timeout(wait * 2);
    Ok(pool.connect(url).await?)
}

/// A path as it may stand in a URL.
fn percent_encoded(path: &str) -> String {
    let encode = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'_' | b'.' | b'~' => {
            char::from(byte).to_string()
        }
        byte => format!("%{byte:02X}"),
    };
    path.bytes().map(encode).collect()
}

async fn check_ours(pool: &AnyPool, path: &Path) -> Result<(), StoreError> {
    let row = sqlx::query("PRAGMA application_id").fetch_one(pool).await?;
    let id: i64 = row.try_get(0)?;
    let tables =
        sqlx::query("SELECT count(*) AS tables FROM sqlite_master").fetch_one(pool).await?;
    let tables: i64 = tables.try_get("tables")?;
    if id == APPLICATION_ID || tables == 0 {
        Ok(())
    } else {
        Err(StoreError::NotOurs { path: path.to_owned() })
    }
}

async fn check_sound(pool: &AnyPool, check: &'static str) -> Result<(), StoreError> {
    let row = sqlx::query(check).fetch_one(pool).await?;
    let verdict: String = row.try_get(0)?;
    if verdict == "ok" { Ok(()) } else { Err(StoreError::Damaged(verdict)) }
}

async fn copy(pool: &AnyPool, to: &Path) -> Result<(), StoreError> {
    let Some(name) = to.to_str() else {
        return Err(StoreError::BadAddress(to.display().to_string()));
    };
    sqlx::query("VACUUM INTO $1").bind(name).execute(pool).await?;
    Ok(())
}

fn newest_known(steps: &Migrator) -> i64 {
    steps.iter().map(|step| step.version).max().unwrap_or(0)
}

/// The newest migration the database has seen, 0 for none.
async fn newest_applied(pool: &AnyPool, steps: &Migrator) -> Result<i64, StoreError> {
    // A database that was never migrated has no such table, and its error says just that.
    let found = sqlx::query("SELECT CAST(max(version) AS BIGINT) AS newest FROM _sqlx_migrations")
        .fetch_one(pool)
        .await;
    let found = match found {
        Ok(row) => row.try_get::<Option<i64>, _>("newest")?.unwrap_or(0),
        Err(error) => match StoreError::from(error) {
            StoreError::Other(sqlx::Error::Database(_)) => 0,
            error => return Err(error),
        },
    };
    let known = newest_known(steps);
    if found > known { Err(StoreError::Newer { found, known }) } else { Ok(found) }
}

fn migration_failed(error: sqlx::migrate::MigrateError) -> StoreError {
    use sqlx::migrate::MigrateError;
    match error {
        MigrateError::Execute(error) | MigrateError::ExecuteMigration(error, _) => error.into(),
        error => StoreError::Migration(error),
    }
}

#[cfg(test)]
mod tests {
    use super::Location;
    use std::path::PathBuf;

    #[test]
    fn an_address_is_a_path_or_a_url() {
        let file = |path: &str| Some(Location::File(PathBuf::from(path)));
        let cases = [
            ("larder.db", file("larder.db")),
            ("sqlite:larder.db", file("larder.db")),
            ("sqlite:///var/lib/larder.db", file("/var/lib/larder.db")),
            ("sqlite::memory:", Some(Location::Memory)),
            ("postgres://a@b/c", Some(Location::Postgres("postgres://a@b/c".to_owned()))),
            ("mysql://a@b/c", None),
            ("", None),
        ];
        for (text, expected) in cases {
            assert_eq!(Location::parse(text).ok(), expected, "{text}");
        }
    }
}
