//! The only reader of the time. Everything else is handed an [`Instant`].
//!
//! [`Clock::system`] follows the machine; [`Clock::set`] stands still until it is moved, for
//! replay and tests.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use crate::dates::{Instant, Zone};

/// Where the time comes from. Clones share it.
#[derive(Clone, Debug)]
pub struct Clock(Source);

#[derive(Clone, Debug)]
enum Source {
    System,
    Set(Arc<AtomicI64>),
}

impl Clock {
    pub fn system() -> Clock {
        Clock(Source::System)
    }

    /// A clock that shows `at` until it is moved.
    pub fn set(at: Instant) -> Clock {
        Clock(Source::Set(Arc::new(AtomicI64::new(at.micros()))))
    }

    pub fn now(&self) -> Instant {
        match &self.0 {
            Source::System => Instant::from_micros(chrono::Utc::now().timestamp_micros()),
            Source::Set(micros) => Instant::from_micros(micros.load(Ordering::SeqCst)),
        }
    }

    /// Moves a hand-set clock forward to `at`; it never goes back. The system clock ignores it.
    pub fn advance_to(&self, at: Instant) {
        match &self.0 {
            Source::System => {}
            Source::Set(micros) => {
                micros.fetch_max(at.micros(), Ordering::SeqCst);
            }
        }
    }
}

/// The machine's own time zone, UTC where it has none that we know.
pub fn machine_zone() -> Zone {
    let name = iana_time_zone::get_timezone().ok();
    name.and_then(|name| name.parse().ok()).unwrap_or(Zone::UTC)
}
