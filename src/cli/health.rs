//! `health`: asks a running `serve` how it is, so that a container needs no other program for it.

use std::time::Duration;

use anyhow::{Context, anyhow};
use clap::Args;

use super::{Ended, Failure};

/// How long the answer may take, in seconds.
const PATIENCE_S: u64 = 5;

#[derive(Debug, Args)]
pub struct HealthArgs {
    /// Where the running program answers, as its --status-listen says
    #[arg(long, value_name = "ADDRESS", env = "LARDERLING_STATUS_LISTEN")]
    status_listen: String,
}

pub async fn run(args: &HealthArgs) -> Ended {
    let client = reqwest::Client::builder().timeout(Duration::from_secs(PATIENCE_S)).build()?;
    let url = format!("http://{}/ready", args.status_listen);
    let answer = client.get(&url).send().await.context("it does not answer")?;
    let healthy = answer.status().is_success();
    let words = answer.text().await.unwrap_or_default();
    if healthy {
        println!("{}", words.trim());
        return Ok(());
    }
    Err(Failure::Other(anyhow!("{}", words.trim().to_owned())))
}
