//! The demo household: four weeks of an invented family, played through the real program so that
//! they end yesterday.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, bail};

use crate::channel::console;
use crate::channel::replay::{Player, Script};
use crate::clock::Clock;
use crate::config;
use crate::conversation::Kit;
use crate::store::{Location, Store};

const LOG: &str = include_str!("demo.txt");

/// Loads the demo into `database` (which must be new) or into its own file (which is replaced),
/// and opens it.
pub async fn open(database: Option<&str>, kit: &Arc<Kit>, clock: &Clock) -> anyhow::Result<Store> {
    let location = match database {
        Some(given) => config::database(Some(given))?,
        None => Location::File(config::demo_file()?),
    };
    let Location::File(path) = &location else {
        bail!("the demo lives in an SQLite file; name a new one with --database");
    };
    if database.is_some() && path.exists() {
        bail!("{} exists; the demo needs a file of its own", path.display());
    }
    // Taken before it is replaced: another console may be talking in it.
    if path.exists() {
        Store::open(&location).await?.store.close().await;
    }
    let fresh = PathBuf::from(format!("{}.new", path.display()));
    remove(&fresh);
    let played = play(kit, clock, &fresh).await?;
    played.close().await;
    drop(played);
    remove(path);
    std::fs::rename(&fresh, path).with_context(|| format!("cannot write {}", path.display()))?;
    remove(&fresh);
    Ok(Store::open(&location).await?.store)
}

/// A database file and all that stands beside it; what is not there is not missed.
fn remove(path: &Path) {
    for part in ["", "-wal", "-shm", ".lock"] {
        let _ = std::fs::remove_file(format!("{}{part}", path.display()));
    }
}

/// Plays the log into a new file, its days moved so that the last one is yesterday.
async fn play(kit: &Arc<Kit>, clock: &Clock, fresh: &Path) -> anyhow::Result<Store> {
    let zone = crate::clock::machine_zone();
    let mut script = Script::parse(LOG).context("the demo's log")?;
    let Some(last) = script.steps.last().map(|step| step.at.day(script.zone)) else {
        bail!("the demo's log is empty");
    };
    let yesterday = clock.now().day(zone).plus(-1);
    script.move_to(yesterday.days_since(last), zone);
    let store = Store::open_scratch(fresh).await?;
    let mut player = Player::new(store.clone(), Arc::clone(kit), &script, console::chat()).await?;
    for step in &script.steps {
        player.step(step).await?;
    }
    Ok(store)
}
