//! `serve`: the messenger, until it is stopped.
//!
//! Four loops over one store: fetching puts raw updates into the inbox, the intake hands them to
//! the desk, the rounds work what is due, the outbox sends. Any of them may be killed at any
//! moment; whoever starts next goes on where the store says.

mod elect;
mod intake;
mod status;

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use anyhow::{Context, anyhow};
use clap::Args;
use tokio::net::TcpListener;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::watch;
use tokio::task::JoinSet;

use super::{Ended, Failure, kit, open};
use crate::channel::telegram::webhook::{self, Secret as WebhookSecret};
use crate::channel::telegram::{Api, Courier, Me, PUBLIC_SERVER, Token, commands, fetch};
use crate::clock::Clock;
use crate::config;
use crate::dates::Instant;
use crate::desk::Desk;
use crate::outbox::{Limits, Outbox};
use crate::painter;
use crate::rounds;
use crate::store::{Dialect, Leases, Role, Store, StoreError};
use crate::wording::Wording;
use intake::{Tray, Us};
use status::Pulse;

/// The waits while the server cannot be reached at the start, in seconds: doubled up to the last.
const FIRST_WAIT_S: u64 = 1;
const LAST_WAIT_S: u64 = 30;
/// How often the store is tidied and the sign of life renewed, in seconds.
const HOUSEKEEPING_S: u64 = 60;
/// How long work under way may take after the signal to stop, in seconds.
const STOP_S: u64 = 4;
/// The whole-program fact: when it was last alive.
const ALIVE_AT: &str = "alive_at";

const TOKEN_VARIABLE: &str = "TELOXIDE_TOKEN";
const SECRET_VARIABLE: &str = "LARDERLING_WEBHOOK_SECRET";

/// The secrets are read from the environment alone, so that no list of processes shows them.
#[derive(Debug, Args)]
#[command(after_help = "Environment only:\n  \
    TELOXIDE_TOKEN             the bot's token, as the messenger gave it out\n  \
    LARDERLING_WEBHOOK_SECRET  what proves a push: 16 to 256 letters, digits, _ and -\n  \
    LARDERLING_ADMIT_CODE      what starts a kitchen: 8 to 64 letters, digits, _ and -\n  \
    RUST_LOG                   what is logged [default: info]")]
pub struct ServeArgs {
    /// The Bot API server
    #[arg(long, value_name = "URL", env = "TELOXIDE_API_URL", default_value = PUBLIC_SERVER)]
    api_url: String,
    /// Has the platform push to this public https address instead of fetching
    #[arg(long, value_name = "URL", env = "LARDERLING_WEBHOOK_URL")]
    webhook_url: Option<String>,
    /// Where pushes are taken
    #[arg(
        long,
        value_name = "ADDRESS",
        env = "LARDERLING_WEBHOOK_LISTEN",
        default_value = "127.0.0.1:8443"
    )]
    webhook_listen: String,
    /// Who may start a kitchen: `open` for everybody, `code` for whoever has the code of
    /// LARDERLING_ADMIT_CODE, or the ids of chats and people, with commas
    #[arg(long, value_name = "WHO", env = "LARDERLING_ADMIT", default_value = "open")]
    admit: String,
    /// Where `/live`, `/ready` and `/metrics` answer; nowhere when not given
    #[arg(long, value_name = "ADDRESS", env = "LARDERLING_STATUS_LISTEN")]
    status_listen: Option<String>,
}

/// How updates come in.
enum Way {
    Fetch,
    Webhook { public: String, listen: String, secret: WebhookSecret },
}

pub async fn run(database: Option<&str>, args: &ServeArgs) -> Ended {
    let token = std::env::var(TOKEN_VARIABLE).unwrap_or_default();
    if token.trim().is_empty() {
        return Err(Failure::Input(anyhow!(
            "{TOKEN_VARIABLE} is not set; get a token from the messenger's BotFather and export \
             it as {TOKEN_VARIABLE} (to try the bot without one, run `larderling`)"
        )));
    }
    let token = Token::new(&token).context(TOKEN_VARIABLE).map_err(Failure::Input)?;
    let api = Api::new(&args.api_url, token).context("TELOXIDE_API_URL").map_err(Failure::Input)?;
    let way = way(args)?;
    let mut signals = Signals::new()?;
    let store = open(database).await?;
    let (stop, stopped) = watch::channel(false);
    let served = {
        let mut serving = std::pin::pin!(serve(&store, &api, way, args, &stop, &stopped));
        tokio::select! {
            served = &mut serving => served,
            () = signals.next() => {
                tracing::info!("stopping");
                // Every loop ends by itself between two pieces of work.
                let _ = stop.send(true);
                let limit = Duration::from_secs(STOP_S);
                tokio::time::timeout(limit, serving).await.unwrap_or(Ok(()))
            }
        }
    };
    store.set_fact(ALIVE_AT, Clock::system().now().micros()).await?;
    store.close().await;
    tracing::info!("stopped");
    served.map_err(Failure::Other)
}

fn way(args: &ServeArgs) -> Result<Way, Failure> {
    let Some(public) = &args.webhook_url else { return Ok(Way::Fetch) };
    let secret = std::env::var(SECRET_VARIABLE).unwrap_or_default();
    let secret = WebhookSecret::new(&secret).context(SECRET_VARIABLE).map_err(Failure::Input)?;
    Ok(Way::Webhook { public: public.clone(), listen: args.webhook_listen.clone(), secret })
}

/// Runs every loop until `stopped`, or until one of them cannot go on.
async fn serve(
    store: &Store,
    api: &Api,
    way: Way,
    args: &ServeArgs,
    stop: &watch::Sender<bool>,
    stopped: &watch::Receiver<bool>,
) -> anyhow::Result<()> {
    let clock = Clock::system();
    let desk = Desk::new(store.clone(), clock.clone(), kit()?, config::founding());
    let desk = Arc::new(desk.with_admission(config::admission(&args.admit)?));
    if let Some(alive_at) = store.fact(ALIVE_AT).await? {
        desk.came_back(Instant::from_micros(alive_at));
    }
    // The lock says that no other process uses this file: whatever was claimed is abandoned.
    let leases = match store.dialect() {
        Dialect::Sqlite => Leases::All,
        Dialect::Postgres => Leases::RunOut,
    };
    let courier = Courier::new(api.clone(), painter::png);
    let outbox =
        Outbox::new(store.clone(), clock.clone(), courier, Limits::default(), desk.sender_wake());
    let pulse = Arc::new(Pulse::new(clock.now()));
    let tray = Arc::new(Tray::new(store.clone(), clock.clone(), Arc::clone(&pulse)));

    let mut loops: JoinSet<anyhow::Result<()>> = JoinSet::new();
    let until = || until(stopped.clone());
    let (ended, rounds_desk) = (until(), Arc::clone(&desk));
    loops.spawn(async move {
        rounds::run(&rounds_desk, rounds_desk.rounds_wake(), ended).await;
        Ok(())
    });
    let outbox = Arc::new(outbox);
    let send = move |ended| {
        let outbox = Arc::clone(&outbox);
        async move { Ok(outbox.run(leases, self::until(ended)).await?) }
    };
    let (sender, sender_clock) = (store.clone(), clock.clone());
    loops.spawn(elect::hold(sender, sender_clock, Role::Sender, stopped.clone(), send));
    let (ended, kept, kept_clock) = (until(), store.clone(), clock.clone());
    let kept_pulse = Arc::clone(&pulse);
    loops.spawn(async move {
        keep_house(&kept, &kept_clock, &kept_pulse, ended).await;
        Ok(())
    });
    let (ended, intake_tray, intake_api) = (until(), Arc::clone(&tray), api.clone());
    let intake_stopped = stopped.clone();
    loops.spawn(async move {
        let me = tokio::select! {
            me = who_are_we(&intake_api) => me?,
            () = ended => return Ok(()),
        };
        desk.known_as(&me.username);
        let kit = Arc::clone(desk.kit());
        let describe =
            |language: &str, name: &str| kit.speaking(language, false).wording.command(name);
        // A menu that cannot be given now is given at the next start; words work without it.
        if let Err(error) = commands::offer(&intake_api, Wording::languages(), describe).await {
            tracing::warn!("cannot offer the menu of commands: {error}");
        }
        let us = Us { api: intake_api, me };
        intake::run(&desk, &intake_tray, &us, intake_stopped).await;
        Ok(())
    });
    if let Some(listen) = args.status_listen.clone() {
        let (answers, answers_clock, answers_pulse) =
            (store.clone(), clock.clone(), Arc::clone(&pulse));
        let ended = until();
        loops.spawn(async move {
            tokio::select! {
                failed = status::answer(&listen, answers, answers_clock, answers_pulse) => failed,
                () = ended => Ok(()),
            }
        });
    }
    let (ended, api) = (until(), api.clone());
    match way {
        Way::Fetch => {
            let (fetch_pulse, fetch_clock) = (Arc::clone(&pulse), clock.clone());
            let fetch = move |ended| {
                let (api, tray) = (api.clone(), Arc::clone(&tray));
                let (pulse, clock) = (Arc::clone(&fetch_pulse), fetch_clock.clone());
                async move {
                    pulse.set_fetching(true, clock.now());
                    let fetched = tokio::select! {
                        failed = fetch_updates(&api, &tray) => failed,
                        () = self::until(ended) => Ok(()),
                    };
                    pulse.set_fetching(false, clock.now());
                    fetched
                }
            };
            let poller = store.clone();
            loops.spawn(elect::hold(poller, clock, Role::Poller, stopped.clone(), fetch));
        }
        Way::Webhook { public, listen, secret } => {
            loops.spawn(async move {
                tokio::select! {
                    failed = take_pushes(&api, &public, &listen, secret, tray) => failed,
                    () = ended => Ok(()),
                }
            });
        }
    }

    let mut first_failure = Ok(());
    while let Some(ended) = loops.join_next().await {
        let ended = ended.unwrap_or_else(|_| Err(anyhow!("a defect stopped part of the program")));
        if !*stopped.borrow() || ended.is_err() {
            // One loop that cannot go on stops them all.
            let _ = stop.send(true);
        }
        first_failure = first_failure.and(ended);
    }
    first_failure
}

/// Fetches for ever.
async fn fetch_updates(api: &Api, tray: &Tray) -> anyhow::Result<()> {
    who_are_we(api).await?;
    Ok(fetch::poll(api, tray).await?)
}

/// Takes pushes for ever.
async fn take_pushes(
    api: &Api,
    public: &str,
    listen: &str,
    secret: WebhookSecret,
    tray: Arc<Tray>,
) -> anyhow::Result<()> {
    let listener = TcpListener::bind(listen)
        .await
        .with_context(|| format!("cannot listen on {listen} (LARDERLING_WEBHOOK_LISTEN)"))?;
    who_are_we(api).await?;
    webhook::register(api, public, &secret).await?;
    tracing::info!("taking pushes on {listen}");
    axum::serve(listener, webhook::router(secret, tray)).await?;
    Ok(())
}

/// Asks the server who the bot is, until it answers.
async fn who_are_we(api: &Api) -> anyhow::Result<Me> {
    let mut wait = FIRST_WAIT_S;
    loop {
        match api.me().await {
            Ok(me) => {
                if !me.can_read_all_group_messages {
                    tracing::warn!(
                        "group privacy is on: in a group where it is not an administrator the bot \
                         hears only commands and replies; turn it off where the bot was made"
                    );
                }
                return Ok(me);
            }
            Err(error) if error.is_unauthorised() => {
                return Err(error).context(format!("the server refuses {TOKEN_VARIABLE}"));
            }
            Err(error) => {
                tracing::warn!(wait_s = wait, "cannot reach the server, trying again: {error}");
                tokio::time::sleep(Duration::from_secs(wait)).await;
                wait = (wait * 2).min(LAST_WAIT_S);
            }
        }
    }
}

/// Renews the sign of life and drops what has been kept long enough.
async fn keep_house(store: &Store, clock: &Clock, pulse: &Pulse, stop: impl Future<Output = ()>) {
    let mut stop = std::pin::pin!(stop);
    loop {
        if pulse.is_silent(clock.now()) {
            let minutes = status::SILENT_MINUTES;
            tracing::error!(minutes, "fetching has not worked for this long; see the log above");
        }
        if let Err(error) = tidy(store, clock.now()).await {
            tracing::error!(error = %error, "cannot tidy the store");
        }
        tokio::select! {
            () = &mut stop => return,
            () = tokio::time::sleep(Duration::from_secs(HOUSEKEEPING_S)) => {}
        }
    }
}

async fn tidy(store: &Store, now: Instant) -> Result<(), StoreError> {
    store.set_fact(ALIVE_AT, now.micros()).await?;
    store.prune_inbox(now).await?;
    store.prune_outbox(now).await?;
    store.delete_long_gone(now).await?;
    Ok(())
}

/// Resolves when the program is to stop.
async fn until(mut stopped: watch::Receiver<bool>) {
    // An error means that the sender is gone, and with it the program.
    let _ = stopped.wait_for(|stopped| *stopped).await;
}

/// SIGTERM and SIGINT.
struct Signals {
    terminate: Signal,
    interrupt: Signal,
}

impl Signals {
    fn new() -> anyhow::Result<Signals> {
        let listen = |kind| signal(kind).context("cannot listen for signals");
        Ok(Signals {
            terminate: listen(SignalKind::terminate())?,
            interrupt: listen(SignalKind::interrupt())?,
        })
    }

    async fn next(&mut self) {
        tokio::select! {
            _ = self.terminate.recv() => {}
            _ = self.interrupt.recv() => {}
        }
    }
}
