//! Logs, to standard error, and what must never be in them: the text of a message, a person's
//! name, a secret.
//!
//! Fields have dotted names (`household.id`, `job.name`) and carry their unit last. A panic is
//! logged by its place in the source only, because its message may quote what somebody wrote.

use tracing_subscriber::EnvFilter;

/// Starts logging. `filter` is a list like `info,larderling=debug`; `RUST_LOG` when unset.
pub fn start(default_filter: &str) {
    let filter =
        EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new(default_filter));
    let subscriber = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .with_ansi(false)
        .finish();
    // A second start (in a test) keeps the first subscriber.
    let _ = tracing::subscriber::set_global_default(subscriber);
    quiet_panics();
}

/// Logs panics without their message.
pub fn quiet_panics() {
    std::panic::set_hook(Box::new(|info| {
        let place = info.location().map(ToString::to_string).unwrap_or_default();
        tracing::error!(code.location = %place, "a defect stopped one piece of work");
    }));
}
