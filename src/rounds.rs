//! The rounds: when each household's scheduled jobs come due, and working them.
//!
//! A job is due once per local day; its row is claimed, worked and marked in one transaction with
//! what it says, so restarts and clock changes can neither repeat nor lose it. A job missed while
//! the program was down is made good only while it is still useful.

use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use tokio::sync::Notify;

use crate::clock::Clock;
use crate::conversation::Job;
use crate::dates::{Instant, KitchenDay, clock_time};
use crate::desk::{Desk, DeskError};
use crate::kitchen::Settings;

/// How many due rows are worked before looking again.
const BATCH: u32 = 100;
/// The longest sleep, in seconds: the wall clock may be set while we sleep.
const SLEEP_MAX_S: u64 = 20;
/// The wait after a failure of the store, in seconds.
const RETRY_S: u64 = 5;
/// The shortest sleep, in milliseconds.
const SLEEP_MIN_MS: u64 = 50;

/// The first run of `job` after `after`: its local day and its instant.
pub fn next_run(settings: &Settings, job: Job, after: Instant) -> (KitchenDay, Instant) {
    let day = after.day(settings.zone).plus(-1);
    // Yesterday's run may still lie ahead of `after` when the zone's date jumps; four days cover
    // every zone and every clock change.
    let mut runs = (0..4).map(|ahead| {
        let day = day.plus(ahead);
        (day, run_on(settings, job, day))
    });
    let last = (day.plus(4), run_on(settings, job, day.plus(4)));
    runs.find(|(_, at)| *at > after).unwrap_or(last)
}

/// The instant of `job` on `day`.
fn run_on(settings: &Settings, job: Job, day: KitchenDay) -> Instant {
    let (text, default) = match job {
        Job::MorningPost => (&settings.post, (7, 0)),
        Job::EveningRound => (&settings.evening, (19, 0)),
    };
    let time = clock_time(text).ok();
    let time = time.or_else(|| chrono::NaiveTime::from_hms_opt(default.0, default.1, 0));
    day.at(time.unwrap_or_default(), settings.zone)
}

/// Until when a job of `day` is worth doing late: the morning post until the evening round, the
/// round until the day is over.
pub fn useful_until(settings: &Settings, job: Job, day: KitchenDay) -> Instant {
    let midnight = day.plus(1).at(chrono::NaiveTime::MIN, settings.zone);
    match job {
        Job::MorningPost => {
            let evening = run_on(settings, Job::EveningRound, day);
            // Where the round comes before the post, the day is the limit.
            if evening > run_on(settings, job, day) { evening } else { midnight }
        }
        Job::EveningRound => midnight,
    }
}

/// Works everything that is due now, oldest first, and returns how many jobs there were.
pub async fn work_due(desk: &Desk) -> Result<usize, DeskError> {
    let mut worked = 0;
    loop {
        let rows = desk.store().due(desk.clock().now(), BATCH).await?;
        if rows.is_empty() {
            return Ok(worked);
        }
        worked += rows.len();
        for row in rows {
            desk.work_due(&row).await?;
        }
    }
}

/// Works what comes due until `stop` resolves. `wake` says that the plan may have changed.
pub async fn run(desk: &Desk, wake: Arc<Notify>, stop: impl Future<Output = ()>) {
    let mut stop = std::pin::pin!(stop);
    loop {
        let wait = match look(desk).await {
            Ok(wait) => wait,
            Err(error) => {
                tracing::error!(error = %error, "cannot work what is due");
                Duration::from_secs(RETRY_S)
            }
        };
        tokio::select! {
            () = &mut stop => return,
            () = wake.notified() => {}
            () = tokio::time::sleep(wait) => {}
        }
    }
}

/// Works what is due and says how long to sleep.
async fn look(desk: &Desk) -> Result<Duration, DeskError> {
    work_due(desk).await?;
    Ok(until(desk.clock(), desk.store().next_due().await?))
}

fn until(clock: &Clock, next: Option<Instant>) -> Duration {
    let longest = Duration::from_secs(SLEEP_MAX_S);
    let Some(next) = next else { return longest };
    let micros = next.micros().saturating_sub(clock.now().micros());
    let wait = Duration::from_micros(u64::try_from(micros).unwrap_or(0));
    wait.clamp(Duration::from_millis(SLEEP_MIN_MS), longest)
}

#[cfg(test)]
mod tests {
    use super::{next_run, useful_until};
    use crate::conversation::Job;
    use crate::dates::{Instant, KitchenDay, Zone};
    use crate::kitchen::Settings;

    fn settings(zone: &str, post: &str) -> Settings {
        let zone: Zone = zone.parse().expect("a zone");
        Settings { zone, post: post.to_owned(), ..Settings::default() }
    }

    /// All zones worth the name, each local day of two years: one run a day, never two, none lost.
    #[test]
    fn every_local_day_has_exactly_one_run() {
        let zones = [
            "America/New_York",
            "Europe/Berlin",
            "Australia/Lord_Howe",
            "Africa/Cairo",
            "Asia/Beirut",
            "America/St_Johns",
            "Pacific/Apia",
            "Africa/Casablanca",
            "UTC",
        ];
        for zone in zones {
            for post in ["00:00", "00:30", "01:30", "02:30", "07:00", "23:45"] {
                let settings = settings(zone, post);
                let mut at = Instant::from_seconds(1_767_139_200);
                let mut previous: Option<KitchenDay> = None;
                for _ in 0..730 {
                    let (day, next) = next_run(&settings, Job::MorningPost, at);
                    assert!(next > at, "{zone} {post}: time goes on");
                    if let Some(previous) = previous {
                        assert_eq!(day, previous.plus(1), "{zone} {post}: days follow each other");
                    }
                    (previous, at) = (Some(day), next);
                }
            }
        }
    }

    #[test]
    fn a_missed_post_is_useful_until_the_evening_round() {
        let settings = settings("Europe/Berlin", "07:00");
        let day = KitchenDay::new(2026, 3, 29).expect("a day");
        let until = useful_until(&settings, Job::MorningPost, day);
        assert_eq!(until.wall(settings.zone), "2026-03-29 19:00");
        let until = useful_until(&settings, Job::EveningRound, day);
        assert_eq!(until.wall(settings.zone), "2026-03-30 00:00");
    }
}
