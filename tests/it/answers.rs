//! Answers: the table of safety questions, what never happens, what typical answers look like,
//! who is called at which hour, and facts of published sources seen through real answers.

mod limits;
mod outside;
mod poison;
mod property;
mod table;
mod typical;
mod yours;

use std::sync::OnceLock;

use larderling::answers::{self, Answer, Context};
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::kitchen::{Settings, State};
use larderling::reader::lexicon::Lexicon;
use larderling::reader::{ReadContext, Reader};
use larderling::rules::Rules;
use larderling::wording::Wording;
use larderling::words::Verdict;

/// Verdicts that keep people from eating.
const STRICT: [Verdict; 5] =
    [Verdict::Toxic, Verdict::NotFood, Verdict::Discard, Verdict::DoNot, Verdict::Unknown];

/// What every question needs: built once.
struct Bench {
    rules: Rules,
    wording: Wording,
    reader: Reader,
}

fn bench() -> &'static Bench {
    static BENCH: OnceLock<Bench> = OnceLock::new();
    BENCH.get_or_init(|| {
        let rules = Rules::embedded().expect("the bundled rule set is sound");
        let wording = Wording::english().expect("the wording file is sound");
        let names = rules.names().map(|(name, id)| (name, Some(id.clone())));
        let reader = Reader::new(Lexicon::new(names));
        Bench { rules, wording, reader }
    })
}

/// A Wednesday.
fn today() -> KitchenDay {
    "2026-03-18".parse().expect("a day")
}

fn noon() -> Instant {
    at("12:00")
}

fn at(time: &str) -> Instant {
    let time = larderling::dates::clock_time(time).expect("a time");
    today().at(time, Zone::UTC)
}

/// The answer to one line spoken to the bot, in a household without stock or country.
fn ask(question: &str) -> Answer {
    ask_in(question, &Settings::default(), None, noon())
}

fn ask_in(question: &str, settings: &Settings, state: Option<&State>, now: Instant) -> Answer {
    let bench = bench();
    let base = Context {
        rules: &bench.rules,
        wording: &bench.wording,
        settings,
        state,
        now,
        text: "",
        statements: &[],
    };
    answers::ask_text(question, &bench.reader, &ReadContext::new(today()), &base)
}

fn plain(answer: &Answer) -> String {
    answer.text.to_plain()
}
