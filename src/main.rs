use std::io::{BufRead, Write};

use larderling::dates::KitchenDay;
use larderling::reader::batch::Batch;
use larderling::reader::{ReadContext, Reader};
use larderling::rules::Rules;
use larderling::units::Currency;

fn main() -> anyhow::Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let value = |name: &str| args.iter().position(|a| a == name).and_then(|i| args.get(i + 1));
    let flag = |name: &str| args.iter().any(|a| a == name);
    let today: KitchenDay = value("--today").map_or("2026-06-10", String::as_str).parse()?;
    let mut context = ReadContext::new(today);
    context.addressed = flag("--addressed");
    if let Some(currency) = value("--currency").and_then(|code| Currency::new(code)) {
        context.currency = currency;
    }
    let rules = Rules::embedded().map_err(|faults| anyhow::anyhow!("{faults:?}"))?;
    let reader = Reader::of_rules(&rules);
    let mut batch =
        if flag("--talk") { Batch::talk(&reader, context) } else { Batch::new(&reader, context) };
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let printed = if flag("--explain") { batch.explained(&line) } else { batch.line(&line) };
        writeln!(out, "{printed}")?;
    }
    Ok(())
}
