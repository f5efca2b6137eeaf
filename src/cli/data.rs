//! `backup`, `restore`, `copy`, `rebuild`, `outbox`: the data itself, and proof of it.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, anyhow, bail};
use clap::Args;

use super::{Ended, Failure};
use crate::config;
use crate::kitchen::State;
use crate::store::{Location, ParcelState, Store};

/// How many troubled parcels `outbox` lists.
const LISTED_MAX: u32 = 100;

#[derive(Debug, Args)]
pub struct BackupArgs {
    /// The file to write; it must not exist yet
    file: PathBuf,
}

#[derive(Debug, Args)]
pub struct RestoreArgs {
    /// The backup to put in place
    file: PathBuf,
}

#[derive(Debug, Args)]
pub struct CopyArgs {
    /// The database to copy, which nobody may use meanwhile: a file, or postgres://user@host/name
    #[arg(long, value_name = "URL")]
    from: String,
    /// The database to copy to, which must be new or empty
    #[arg(long, value_name = "URL")]
    to: String,
}

#[derive(Debug, Args)]
pub struct RebuildArgs {
    /// Write the state that follows from the log where the stored one differs
    #[arg(long)]
    write: bool,
}

#[derive(Debug, Args)]
pub struct OutboxArgs {
    /// One JSON object a line
    #[arg(long)]
    json: bool,
}

pub(super) async fn open_beside(database: Option<&str>) -> anyhow::Result<Store> {
    Ok(Store::open_beside(&config::database(database)?).await?)
}

pub async fn backup(database: Option<&str>, args: &BackupArgs) -> Ended {
    let store = open_beside(database).await?;
    if let Location::Postgres(_) = store.location() {
        let why = "a PostgreSQL database is backed up with pg_dump, while the program runs";
        return Err(Failure::Input(anyhow!(why)));
    }
    if args.file.exists() {
        let why = anyhow!("{} exists; name a new file", args.file.display());
        return Err(Failure::Input(why));
    }
    store.copy_to(&args.file).await.with_context(|| format!("{}", args.file.display()))?;
    let copy = Store::open_beside(&Location::File(args.file.clone())).await?;
    copy.check_sound().await?;
    copy.close().await;
    println!("copied and checked: {}", args.file.display());
    Ok(())
}

pub async fn restore(database: Option<&str>, args: &RestoreArgs) -> Ended {
    let Location::File(path) = config::database(database)? else {
        return Err(Failure::Input(anyhow!(
            "restore puts back an SQLite file; name it with --database"
        )));
    };
    let backup = Store::open_beside(&Location::File(args.file.clone()))
        .await
        .with_context(|| format!("the backup {}", args.file.display()))?;
    backup.check_sound().await?;
    // Beside the database first, so that putting it in place is one rename.
    let fresh = with_suffix(&path, "restoring");
    let _ = std::fs::remove_file(&fresh);
    backup.copy_to(&fresh).await?;
    backup.close().await;
    let kept = replace(&path, &fresh)?;
    println!("restored: {}", path.display());
    if let Some(kept) = kept {
        println!("what was there before: {}", kept.display());
    }
    let store = Store::open(&Location::File(path)).await?.store;
    store.close().await;
    Ok(())
}

pub async fn copy(args: &CopyArgs) -> Ended {
    let address = |given: &str, option: &str| {
        Location::parse(given).context(option.to_owned()).map_err(Failure::Input)
    };
    let (source, target) = (address(&args.from, "--from")?, address(&args.to, "--to")?);
    if let Location::File(path) = &source
        && !path.exists()
    {
        return Err(Failure::Input(anyhow!("--from: {} does not exist", path.display())));
    }
    // Opened for writing, so that a file is locked, and is as new as the copy will be.
    let from = Store::open(&source).await.context("--from")?.store;
    let to = Store::open(&target).await.context("--to")?.store;
    from.copy_into(&to).await?;
    let (had, has) = (from.sums().await?, to.sums().await?);
    let mut out = std::io::stdout().lock();
    for (before, after) in had.iter().zip(&has) {
        let hash: String = before.hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
        let alike = if before == after { "alike" } else { "DIFFERENT" };
        writeln!(out, "{:<10} {:>9} rows  {hash}  {alike}", before.table, before.rows)?;
    }
    from.close().await;
    to.close().await;
    if had != has {
        let why = "the copy differs; was something still writing? Stop it, and copy to a new one";
        return Err(Failure::Other(anyhow!(why)));
    }
    Ok(())
}

/// Puts `fresh` in the place of `path`, whose files move aside; needs `path` to be unused.
fn replace(path: &Path, fresh: &Path) -> anyhow::Result<Option<PathBuf>> {
    let lock = std::fs::OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(with_suffix(path, "lock"))?;
    if lock.try_lock().is_err() {
        bail!("{} is in use; stop the program that uses it first", path.display());
    }
    let mut kept = None;
    if path.exists() {
        let mut names = (1..).map(|number| with_suffix(path, &format!("replaced-{number}")));
        let aside = names.find(|name| !name.exists()).context("no name is free")?;
        for part in ["", "-wal", "-shm"] {
            let from = PathBuf::from(format!("{}{part}", path.display()));
            if from.exists() {
                std::fs::rename(&from, format!("{}{part}", aside.display()))?;
            }
        }
        kept = Some(aside);
    }
    std::fs::rename(fresh, path)?;
    Ok(kept)
}

fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    PathBuf::from(format!("{}.{suffix}", path.display()))
}

pub async fn rebuild(database: Option<&str>, args: &RebuildArgs) -> Ended {
    let store =
        if args.write { super::open(database).await? } else { open_beside(database).await? };
    let (mut proved, mut differing) = (0, 0);
    for row in store.households().await? {
        let mut tx = store.begin().await?;
        let loaded = tx.load(&row.id).await?;
        let folded = State::fold(&loaded.log);
        if serde_json::to_string(&folded)? == serde_json::to_string(&loaded.state)? {
            proved += 1;
            continue;
        }
        differing += 1;
        println!(
            "{}: the stored state is not what its {} events add up to",
            row.id, row.last_event
        );
        if args.write {
            let Some(taken) = tx.take(&row.id).await? else { continue };
            tx.save(&row.id, &folded, &loaded.memory, taken.last_parcel).await?;
            tx.commit().await?;
            println!("{}: rebuilt", row.id);
        }
    }
    println!("{proved} proved, {differing} differing");
    if differing > 0 && !args.write {
        return Err(Failure::Other(anyhow!("run `larderling rebuild --write` to mend them")));
    }
    Ok(())
}

pub async fn outbox(database: Option<&str>, args: &OutboxArgs) -> Ended {
    let store = open_beside(database).await?;
    let counts = store.outbox_counts().await?;
    let troubled = store.troubled_parcels(LISTED_MAX).await?;
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    if !args.json {
        let words = counts.iter().map(|(state, parcels)| format!("{} {parcels}", state.word()));
        writeln!(out, "{}", words.collect::<Vec<_>>().join(", "))?;
    }
    for row in troubled {
        if args.json {
            let line = serde_json::json!({
                "household": row.household.as_str(),
                "number": row.number,
                "kind": row.kind,
                "state": row.state.word(),
                "tries": row.tries,
                "queued_at": row.queued_at.wall(crate::dates::Zone::UTC),
                "trouble": row.trouble,
            });
            writeln!(out, "{line}")?;
        } else {
            let at = row.queued_at.wall(crate::dates::Zone::UTC);
            let state = match row.state {
                ParcelState::Queued => "trying again",
                state => state.word(),
            };
            let trouble = row.trouble.unwrap_or_default();
            let (household, number, kind) = (row.household, row.number, row.kind);
            writeln!(out, "{at} UTC  {household}/{number}  {kind}  {state}  {trouble}")?;
        }
    }
    out.flush()?;
    Ok(())
}
