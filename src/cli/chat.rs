//! `chat`: the console, on the household in a local file.

use std::io::{IsTerminal, Stdout};
use std::sync::Arc;
use std::time::Duration;

use anyhow::anyhow;
use clap::Args;
use tokio::sync::mpsc;

use super::{Ended, Failure, demo, kit, open};
use crate::channel::Writer;
use crate::channel::console::{self, Gallery, Input, LINE_MAX, Request, Terminal};
use crate::clock::Clock;
use crate::config;
use crate::desk::{Desk, DeskError};
use crate::outbox::{Limits, Outbox};
use crate::rounds;
use crate::store::{Leases, Location};

/// Lines read ahead of the one being answered.
const LINES_AHEAD: usize = 64;
/// How often the console looks whether something is due, in seconds.
const LOOK_EVERY_S: u64 = 10;
/// The longest name taken.
const NAME_CHARS: usize = 60;

#[derive(Debug, Default, Args)]
pub struct ChatArgs {
    /// Your name in the household [default: your user name]
    #[arg(long = "as", value_name = "NAME")]
    name: Option<String>,
    /// Opens an invented household with four weeks of history, apart from your own
    #[arg(long)]
    demo: bool,
}

pub async fn run(database: Option<&str>, args: &ChatArgs) -> Ended {
    let name = name(args.name.as_deref())?;
    let kit = kit()?;
    let clock = Clock::system();
    let store =
        if args.demo { demo::open(database, &kit, &clock).await? } else { open(database).await? };
    let place = match store.location() {
        Location::File(path) => path.display().to_string(),
        Location::Memory => "memory".to_owned(),
        Location::Postgres(_) => "the PostgreSQL database".to_owned(),
    };
    let desk = Desk::new(store.clone(), clock.clone(), kit.clone(), config::founding());
    desk.found(&console::chat(), &config::founding()).await?;
    let kit_of_pictures = Arc::clone(&kit);
    let gallery = Gallery {
        folder: config::pictures_folder(store.location()),
        say: Box::new(move |written| match written {
            Ok(path) => kit_of_pictures.wording.console_picture(&path.display().to_string()),
            Err(why) => kit_of_pictures.wording.console_no_picture(why),
        }),
    };
    let terminal = Terminal::new(std::io::stdout()).with_pictures(gallery);
    terminal.say(&kit.wording.console_opening(&place))?;
    if args.demo {
        terminal.say(&kit.wording.console_demo())?;
    }
    let outbox =
        Outbox::new(store.clone(), clock.clone(), terminal, Limits::NONE, desk.sender_wake());
    store.settle_abandoned(clock.now(), Leases::All).await?;
    let writer = Writer { external: name.to_lowercase(), name };
    converse(&desk, &outbox, &writer).await?;
    store.close().await;
    Ok(())
}

/// Answers line by line until the input ends, and posts what comes due in between.
async fn converse(desk: &Desk, outbox: &Outbox<Terminal<Stdout>>, writer: &Writer) -> Ended {
    let mut lines = read_lines();
    let terminal = outbox.sender();
    let interactive = std::io::stdin().is_terminal();
    let mut prompt = true;
    let mut trouble = String::new();
    loop {
        match look(desk, outbox).await {
            Ok(()) => trouble.clear(),
            // Said once, not every few seconds.
            Err(error) if error.to_string() != trouble => {
                trouble = error.to_string();
                terminal.say(&desk.kit().wording.console_trouble(&trouble))?;
            }
            Err(_) => {}
        }
        if interactive && prompt {
            terminal.prompt("> ")?;
        }
        let input = tokio::select! {
            input = lines.recv() => input,
            () = tokio::time::sleep(Duration::from_secs(LOOK_EVERY_S)) => {
                prompt = false;
                continue;
            }
        };
        prompt = true;
        let Some(input) = input else { break };
        match input? {
            Input::TooLong { bytes } => {
                terminal.say(&desk.kit().wording.console_too_long(bytes, LINE_MAX))?;
            }
            Input::Line(line) => answer(desk, terminal, writer, &line).await?,
        }
    }
    outbox.drain().await?;
    if interactive {
        terminal.say("")?;
    }
    Ok(())
}

async fn look(desk: &Desk, outbox: &Outbox<Terminal<Stdout>>) -> Result<(), DeskError> {
    rounds::work_due(desk).await?;
    outbox.drain().await?;
    Ok(())
}

async fn answer(
    desk: &Desk,
    terminal: &Terminal<Stdout>,
    writer: &Writer,
    line: &str,
) -> std::io::Result<()> {
    let wording = &desk.kit().wording;
    match terminal.request(line, writer, desk.clock().now()) {
        Request::Nothing => Ok(()),
        Request::NoButton(wanted) => terminal.say(&wording.console_no_button(&wanted)),
        Request::Arrival(arrival) => match desk.arrive(&arrival).await {
            Ok(_) => {
                for notice in desk.take_notices() {
                    terminal.say(&notice.text.to_plain())?;
                }
                Ok(())
            }
            Err(error) => terminal.say(&wording.console_not_saved(&error.to_string())),
        },
    }
}

/// Standard input, read on a thread of its own, because nothing can interrupt a read.
fn read_lines() -> mpsc::Receiver<std::io::Result<Input>> {
    let (sender, receiver) = mpsc::channel(LINES_AHEAD);
    std::thread::spawn(move || {
        let mut input = std::io::stdin().lock();
        while let Some(line) = console::read_line(&mut input).transpose() {
            if sender.blocking_send(line).is_err() {
                return;
            }
        }
    });
    receiver
}

fn name(given: Option<&str>) -> Result<String, Failure> {
    let user = || std::env::var("USER").ok().filter(|name| !name.trim().is_empty());
    let name = given.map(str::to_owned).or_else(user).unwrap_or_else(|| "you".to_owned());
    let name = console::without_controls(&name).trim().to_owned();
    if name.is_empty() || name.chars().count() > NAME_CHARS {
        return Err(Failure::Input(anyhow!("--as takes a name of 1 to {NAME_CHARS} letters")));
    }
    Ok(name)
}
