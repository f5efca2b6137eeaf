//! `ask`: an answer from the rule set, without a household.

use std::io::Write;

use anyhow::Context as _;
use clap::Args;

use super::{Ended, Failure, kit, read};
use crate::answers::{self, Context};
use crate::clock::{Clock, machine_zone};
use crate::kitchen::Settings;
use crate::reader::ReadContext;

#[derive(Debug, Args)]
pub struct AskArgs {
    /// The question; without one, each line of standard input is a question
    question: Vec<String>,
    /// One JSON object a question
    #[arg(long)]
    json: bool,
    /// The two-letter code of the country whose poison centre to name [default: none]
    #[arg(long, value_name = "CODE", env = "LARDERLING_COUNTRY")]
    country: Option<String>,
}

pub fn run(args: &AskArgs) -> Ended {
    let kit = kit()?;
    let now = Clock::system().now();
    let today = now.day(machine_zone());
    let mut settings = Settings::default();
    if let Some(country) = &args.country {
        let set = settings.set("country", country, today).context("--country");
        set.map_err(Failure::Input)?;
    }
    let context = Context {
        rules: &kit.rules,
        wording: &kit.wording,
        settings: &settings,
        state: None,
        now,
        text: "",
        statements: &[],
    };
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    let mut answer = |question: &str, alone: bool| -> Ended {
        let read_context = ReadContext::new(today);
        let answer = answers::ask_text(question, &kit.reader, &read_context, &context);
        if args.json {
            writeln!(out, "{}", answers::json(question, &answer))?;
        } else {
            writeln!(out, "{}", answer.text.to_plain())?;
            if let Some(caution) = &answer.caution {
                writeln!(out, "{}", caution.to_plain())?;
            }
            if !alone {
                writeln!(out)?;
            }
        }
        Ok(out.flush()?)
    };
    if !args.question.is_empty() {
        return answer(&args.question.join(" "), true);
    }
    let mut input = std::io::stdin().lock();
    let mut number = 0;
    while let Some(question) = read::next_line(&mut input, &mut number)? {
        answer(&question, false)?;
    }
    Ok(())
}
