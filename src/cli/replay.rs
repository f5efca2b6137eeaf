//! `replay`: a dated chat log through the real program.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::Context;
use clap::Args;

use super::{Ended, Failure, kit};
use crate::channel::replay::{self, Act, Line, Player, Row, Script, Step, Typed};
use crate::export;
use crate::store::{Location, Store};

/// The longest log read, in bytes.
const LOG_MAX: u64 = 64 << 20;

#[derive(Debug, Args)]
pub struct ReplayArgs {
    /// The log, or - for standard input. Lines of "YYYY-MM-DD HH:MM | person | text"
    file: PathBuf,
    /// One JSON object a bot message
    #[arg(long)]
    json: bool,
    /// The household's state at the end, as one JSON object on the last line
    #[arg(long)]
    state: bool,
    /// In plain text, also what people wrote
    #[arg(long, conflicts_with = "json")]
    both: bool,
}

pub async fn run(args: &ReplayArgs) -> Ended {
    let text = read(&args.file)?;
    let name = args.file.display();
    let script = Script::parse(&text).with_context(|| format!("{name}")).map_err(Failure::Input)?;
    let kit = kit()?;
    let opened = Store::open(&Location::Memory).await?;
    let mut player = Player::new(opened.store, Arc::clone(&kit), &script, replay::group()).await?;
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for step in &script.steps {
        let rows = player.step(step).await?;
        // What the passing of time brought was said before the line itself.
        let (before, after): (Vec<&Row>, Vec<&Row>) =
            rows.iter().partition(|row| row.line.is_none());
        let print = |out: &mut dyn Write, rows: &[&Row]| -> anyhow::Result<()> {
            for row in rows {
                if args.json {
                    writeln!(out, "{}", serde_json::to_string(row)?)?;
                } else {
                    write_plain(out, row)?;
                }
            }
            Ok(())
        };
        if args.both {
            print(&mut out, &before)?;
            write_line(&mut out, step, player.wall(step.at))?;
            print(&mut out, &after)?;
        } else {
            print(&mut out, &rows.iter().collect::<Vec<_>>())?;
        }
    }
    if args.state {
        let house = player.house().await?;
        let state = export::state(&house, &kit.rules, player.now());
        writeln!(out, "{}", serde_json::to_string(&state)?)?;
    }
    out.flush()?;
    Ok(())
}

fn read(file: &Path) -> Result<String, Failure> {
    let source: Box<dyn Read> = if file == Path::new("-") {
        Box::new(std::io::stdin().lock())
    } else {
        let opened = std::fs::File::open(file);
        let opened = opened.with_context(|| format!("cannot open {}", file.display()));
        Box::new(opened.map_err(Failure::Input)?)
    };
    let mut bytes = Vec::new();
    source.take(LOG_MAX + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LOG_MAX {
        let why = anyhow::anyhow!("the log is longer than {} MB", LOG_MAX >> 20);
        return Err(Failure::Input(why));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(text),
        Err(error) => {
            let upto = error.utf8_error().valid_up_to();
            let line = 1 + error.as_bytes()[..upto].iter().filter(|b| **b == b'\n').count();
            Err(Failure::Input(anyhow::anyhow!("line {line}: not UTF-8 text")))
        }
    }
}

fn write_plain(out: &mut dyn Write, row: &Row) -> std::io::Result<()> {
    let to = row.to.as_ref().map(|to| format!(" (to {to})")).unwrap_or_default();
    let mut lines = row.text.lines();
    writeln!(out, "{}  larderling{to}: {}", row.at, lines.next().unwrap_or_default())?;
    for line in lines {
        writeln!(out, "{:18}{line}", "")?;
    }
    if !row.buttons.is_empty() {
        let buttons: Vec<String> = row.buttons.iter().map(|label| format!("[{label}]")).collect();
        writeln!(out, "{:18}{}", "", buttons.join(" "))?;
    }
    Ok(())
}

fn write_line(out: &mut dyn Write, step: &Step, at: String) -> std::io::Result<()> {
    let Act::Write(Line { person, text, .. }) = &step.act else { return Ok(()) };
    let text = match text {
        Typed::Text(text) | Typed::Reply { text, .. } => text.clone(),
        Typed::Edit { text, .. } => format!("(edited) {text}"),
        Typed::Press(key) => format!("(presses {key})"),
    };
    writeln!(out, "{at}  {person}: {}", text.replace('\n', &format!("\n{:18}", "")))
}
