//! The command line: one program, a command per role.
//!
//! Each command has a file of its own, its options beside what it does. Results go to standard
//! output, everything else to standard error. Exit codes: 0 done, 1 failed, 2 the input or the
//! options were wrong.

mod chat;
mod serve;
mod replay;
mod read;
mod ask;
mod check;
mod data;
mod export;
mod demo;
mod health;

use std::process::ExitCode;
use std::sync::Arc;

use clap::{CommandFactory, Parser, Subcommand};

use crate::config::{self, DATABASE_VARIABLE};
use crate::conversation::Kit;
use crate::store::Store;
use crate::telemetry;

/// A chat-style helper for a shared family kitchen.
#[derive(Debug, Parser)]
#[command(name = "larderling", version, about, disable_help_subcommand = true)]
struct Args {
    /// The database: a file, or postgres://user@host/name. Default: larderling.db in
    /// $XDG_DATA_HOME/larderling, else in ~/.local/share/larderling
    #[arg(long, global = true, value_name = "URL", env = DATABASE_VARIABLE, hide_env_values = true)]
    database: Option<String>,
    #[command(flatten)]
    chat: chat::ChatArgs,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// A chat here in the console (what runs when no command is given)
    Chat(chat::ChatArgs),
    /// The messenger: fetches, answers, posts, reminds, until it is stopped
    Serve(serve::ServeArgs),
    /// Asks a running `serve` whether all is well
    Health(health::HealthArgs),
    /// Plays a dated chat log and prints what the bot says
    Replay(replay::ReplayArgs),
    /// Reads one message a line and prints what it says, one JSON object a line
    Read(read::ReadArgs),
    /// Answers a question, or each line of standard input, as spoken to the bot
    Ask(ask::AskArgs),
    /// Checks the rule set and the database
    Check(check::CheckArgs),
    /// Writes a household's data to standard output: rows, a calendar, labels
    Export(export::ExportArgs),
    /// Copies the database to a file, also while the program runs
    Backup(data::BackupArgs),
    /// Puts a backup in the place of the database, which is kept beside it
    Restore(data::RestoreArgs),
    /// Copies everything into another, empty database, and proves it
    Copy(data::CopyArgs),
    /// Proves that each household's state follows from its log
    Rebuild(data::RebuildArgs),
    /// Shows what could not be sent
    Outbox(data::OutboxArgs),
}

/// Why a command ended badly.
#[derive(Debug)]
enum Failure {
    /// The input or the options are wrong.
    Input(anyhow::Error),
    Other(anyhow::Error),
}

impl<E: Into<anyhow::Error>> From<E> for Failure {
    fn from(error: E) -> Failure {
        Failure::Other(error.into())
    }
}

type Ended = Result<(), Failure>;

/// Runs the command of the process's arguments.
pub fn run() -> ExitCode {
    let args = Args::parse();
    let filter = match &args.command {
        Some(Command::Serve(_)) => "info,sqlx=warn",
        _ => "error",
    };
    telemetry::start(filter);
    let runtime = match tokio::runtime::Builder::new_multi_thread().enable_all().build() {
        Ok(runtime) => runtime,
        Err(error) => {
            eprintln!("larderling: cannot start: {error}");
            return ExitCode::FAILURE;
        }
    };
    let ended = runtime.block_on(dispatch(args));
    // Whatever still waits for input or a timer goes down with the process.
    runtime.shutdown_background();
    match ended {
        Ok(()) => ExitCode::SUCCESS,
        Err(Failure::Input(error)) => {
            eprintln!("larderling: {error:#}");
            ExitCode::from(2)
        }
        Err(Failure::Other(error)) if is_closed_pipe(&error) => ExitCode::SUCCESS,
        Err(Failure::Other(error)) => {
            eprintln!("larderling: {error:#}");
            ExitCode::FAILURE
        }
    }
}

async fn dispatch(args: Args) -> Ended {
    let database = args.database.as_deref();
    match args.command {
        None => chat::run(database, &args.chat).await,
        Some(Command::Chat(chat)) => chat::run(database, &chat).await,
        Some(Command::Serve(serve)) => serve::run(database, &serve).await,
        Some(Command::Health(health)) => health::run(&health).await,
        Some(Command::Replay(replay)) => replay::run(&replay).await,
        Some(Command::Read(read)) => read::run(&read),
        Some(Command::Ask(ask)) => ask::run(&ask),
        Some(Command::Check(check)) => check::run(database, &check).await,
        Some(Command::Export(export)) => export::run(database, &export).await,
        Some(Command::Backup(backup)) => data::backup(database, &backup).await,
        Some(Command::Restore(restore)) => data::restore(database, &restore).await,
        Some(Command::Copy(copy)) => data::copy(&copy).await,
        Some(Command::Rebuild(rebuild)) => data::rebuild(database, &rebuild).await,
        Some(Command::Outbox(outbox)) => data::outbox(database, &outbox).await,
    }
}

/// Whoever read our output has heard enough.
fn is_closed_pipe(error: &anyhow::Error) -> bool {
    let io = error.downcast_ref::<std::io::Error>();
    io.is_some_and(|error| error.kind() == std::io::ErrorKind::BrokenPipe)
}

/// What the core needs besides a household.
fn kit() -> anyhow::Result<Arc<Kit>> {
    Ok(Arc::new(Kit::embedded()?))
}

/// Opens the database for writing and says when it was brought up to date.
async fn open(database: Option<&str>) -> anyhow::Result<Store> {
    let opened = Store::open(&config::database(database)?).await?;
    if let Some(copy) = opened.copied_to {
        eprintln!(
            "larderling: the database was brought up to date; a copy from before is {}",
            copy.display()
        );
    }
    Ok(opened.store)
}

/// The whole command line as clap sees it, for tests.
pub fn command() -> clap::Command {
    Args::command()
}
