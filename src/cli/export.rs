//! `export`: a household's data for other programs and for paper.

use std::io::Write;

use anyhow::anyhow;
use clap::{Args, ValueEnum};

use super::data::open_beside;
use super::{Ended, Failure, kit};
use crate::clock::Clock;
use crate::conversation::{House, Kit};
use crate::export::calendar::Calendar;
use crate::export::tables::{Kind, Source, Table};
use crate::export::{self, labels};
use crate::keeping::Learned;
use crate::store::{HouseholdId, Store};

#[derive(Debug, Args)]
pub struct ExportArgs {
    /// What to write
    #[arg(value_enum, default_value_t = What::Everything)]
    what: What,
    /// The form of rows: json (an array of objects) or csv (safe to open in a spreadsheet)
    #[arg(long, value_enum)]
    format: Option<Format>,
    /// Only this household, by its id; all of them when not given
    #[arg(long)]
    household: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum What {
    /// All of it, as JSON lines: state, people, messages, events
    Everything,
    /// What happened, one event a row
    Events,
    /// What is in the house, one lot a row
    Lots,
    /// Grams by food: where they went
    Ledger,
    /// What each shop cost
    Shops,
    /// What was lost, when and why
    Losses,
    /// The posts, the next shop and the chores, as an iCalendar file
    Schedules,
    /// Labels for what is frozen or dried, as a page to print
    Labels,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    Json,
    Csv,
}

impl What {
    fn rows(self) -> Option<Kind> {
        match self {
            What::Events => Some(Kind::Events),
            What::Lots => Some(Kind::Lots),
            What::Ledger => Some(Kind::Ledger),
            What::Shops => Some(Kind::Shops),
            What::Losses => Some(Kind::Losses),
            What::Everything | What::Schedules | What::Labels => None,
        }
    }
}

pub async fn run(database: Option<&str>, args: &ExportArgs) -> Ended {
    if args.format.is_some() && args.what.rows().is_none() {
        let why = "--format is for rows: events, lots, ledger, shops and losses";
        return Err(Failure::Input(anyhow!(why)));
    }
    let store = open_beside(database).await?;
    let mut households: Vec<HouseholdId> =
        store.households().await?.into_iter().map(|row| row.id).collect();
    if let Some(wanted) = &args.household {
        households.retain(|household| household.as_str() == wanted);
        if households.is_empty() {
            return Err(Failure::Input(anyhow!("no household has the id {wanted:?}")));
        }
    }
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    match (args.what, args.what.rows()) {
        (_, Some(kind)) => {
            let kit = kit()?;
            let table = table(&store, &households, kind, &kit).await?;
            let text = match args.format.unwrap_or(Format::Csv) {
                Format::Json => table.json(),
                Format::Csv => table.csv()?,
            };
            out.write_all(text.as_bytes())?;
        }
        (What::Schedules, None) => {
            let kit = kit()?;
            let mut calendar = Calendar::new(Clock::system().now());
            for id in &households {
                let house = load(&store, id).await?;
                calendar.household(id, &house, &kit.wording, &*kit.rules)?;
            }
            out.write_all(calendar.finish().as_bytes())?;
        }
        (What::Labels, None) => {
            let kit = kit()?;
            let mut sheet = Vec::new();
            for id in &households {
                let house = load(&store, id).await?;
                sheet.extend(labels::of(&house, &kit, Clock::system().now()));
            }
            out.write_all(labels::page(&sheet, &kit.wording).as_bytes())?;
        }
        (_, None) => {
            for household in &households {
                for line in export::lines(&store, household).await? {
                    writeln!(out, "{line}")?;
                }
            }
        }
    }
    out.flush()?;
    Ok(())
}

async fn load(store: &Store, id: &HouseholdId) -> anyhow::Result<House> {
    let loaded = {
        let mut tx = store.begin().await?;
        tx.load(id).await?
    };
    Ok(House {
        state: loaded.state,
        memory: loaded.memory,
        names: loaded.names,
        log: loaded.log,
        ..House::default()
    })
}

async fn table(
    store: &Store,
    households: &[HouseholdId],
    kind: Kind,
    kit: &Kit,
) -> anyhow::Result<Table> {
    let now = Clock::system().now();
    let mut rows = Vec::new();
    for household in households {
        let house = load(store, household).await?;
        let learned = Learned::by(&house.state);
        let quality = export::qualities(&house.state, &kit.rules, &learned, now);
        let source = Source { household, state: &house.state, log: &house.log, quality: &quality };
        rows.extend(kind.rows(&source));
    }
    Ok(Table { columns: kind.columns(), rows })
}
