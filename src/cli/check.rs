//! `check`: the rule set and, where there is one, the database.

use std::io::Write;

use anyhow::{Context, anyhow};
use clap::Args;

use super::{Ended, Failure};
use crate::config;
use crate::kitchen::State;
use crate::ledger;
use crate::rules::{Rules, grade_counts};
use crate::store::{Location, Store};

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// How many facts stand on which grade of source, and the sources
    #[arg(long)]
    sources: bool,
}

pub async fn run(database: Option<&str>, args: &CheckArgs) -> Ended {
    // Every fault is listed, not only the first.
    let rules = Rules::embedded().context("the rule set has faults")?;
    let mut out = std::io::stdout().lock();
    writeln!(out, "rule set: {} foods, no faults", rules.foods.len())?;
    if args.sources {
        for (grade, facts) in grade_counts(&rules) {
            writeln!(out, "  grade {}: {facts} facts", grade.letter())?;
        }
        return Ok(());
    }
    let location = config::database(database)?;
    if let Location::File(path) = &location
        && database.is_none()
        && !path.exists()
    {
        writeln!(out, "database: none yet at {}", path.display())?;
        return Ok(());
    }
    let store = Store::open_beside(&location).await?;
    store.check_sound().await?;
    let (mut events, mut faults) = (0, 0);
    let households = store.households().await?;
    for row in &households {
        let mut tx = store.begin().await?;
        let loaded = tx.load(&row.id).await?;
        drop(tx);
        events += loaded.log.len();
        if State::fold(&loaded.log) != loaded.state {
            faults += 1;
            writeln!(out, "{}: the state is not what the log adds up to", row.id)?;
        }
        for (key, grams) in ledger::imbalances(&loaded.state) {
            faults += 1;
            writeln!(out, "{}: {grams} g of {key} are unaccounted for", row.id)?;
        }
    }
    let count = households.len();
    writeln!(out, "database: {count} households, {events} events, {faults} faults")?;
    if faults > 0 {
        return Err(Failure::Other(anyhow!("see `larderling rebuild` and keep a backup")));
    }
    Ok(())
}
