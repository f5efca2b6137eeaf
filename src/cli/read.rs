//! `read`: what the reader makes of each line.

use std::io::{BufRead, Write};

use anyhow::{Context, anyhow};
use clap::Args;

use super::{Ended, Failure, kit};
use crate::channel::console::{self, Input, LINE_MAX};
use crate::clock::{Clock, machine_zone};
use crate::dates::KitchenDay;
use crate::reader::ReadContext;
use crate::reader::batch::Batch;
use crate::units::Currency;

#[derive(Debug, Args)]
pub struct ReadArgs {
    /// The day to read "yesterday" from, YYYY-MM-DD [default: today]
    #[arg(long, value_name = "DAY")]
    today: Option<String>,
    /// The currency of prices, by its ISO 4217 code [default: two decimals]
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// Takes each line as spoken to the bot
    #[arg(long)]
    addressed: bool,
    /// Lines are "person TAB text" and go on from each other
    #[arg(long)]
    talk: bool,
    /// For people: what was read, and why, instead of JSON
    #[arg(long)]
    explain: bool,
}

pub fn run(args: &ReadArgs) -> Ended {
    let today = match &args.today {
        Some(day) => day.parse::<KitchenDay>().context("--today").map_err(Failure::Input)?,
        None => Clock::system().now().day(machine_zone()),
    };
    let mut context = ReadContext::new(today);
    context.addressed = args.addressed;
    if let Some(code) = &args.currency {
        let currency = Currency::new(code);
        let wrong = || Failure::Input(anyhow!("--currency takes an ISO 4217 code such as EUR"));
        context.currency = currency.ok_or_else(wrong)?;
    }
    let kit = kit()?;
    let reader = &kit.reader;
    let mut batch =
        if args.talk { Batch::talk(reader, context) } else { Batch::new(reader, context) };
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    let mut input = std::io::stdin().lock();
    let mut number = 0_u64;
    while let Some(line) = next_line(&mut input, &mut number)? {
        let printed = if args.explain { batch.explained(&line) } else { batch.line(&line) };
        writeln!(out, "{printed}")?;
    }
    out.flush()?;
    Ok(())
}

/// The next line of a bounded length, as it is; `None` at the end.
pub(super) fn next_line(
    input: &mut impl BufRead,
    number: &mut u64,
) -> Result<Option<String>, Failure> {
    *number += 1;
    match console::read_line_as_is(input)? {
        None => Ok(None),
        Some(Input::Line(line)) => Ok(Some(line)),
        Some(Input::TooLong { bytes }) => Err(Failure::Input(anyhow!(
            "line {number} has {bytes} bytes; a line has at most {LINE_MAX}"
        ))),
    }
}
