//! `serve`: the messenger, until it is stopped.

use clap::Args;

use super::Ended;

#[derive(Debug, Args)]
pub struct ServeArgs {}

pub async fn run(_database: Option<&str>, _args: &ServeArgs) -> Ended {
    Ok(())
}
