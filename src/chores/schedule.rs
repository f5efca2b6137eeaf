//! When the household's jobs run: cron text on the wall clock of a zone, once per local day.
//!
//! The `cron` crate only lists wall-clock times; `dates` turns them into instants. Alone it would
//! skip a day whose time falls in a spring gap and run twice in an autumn overlap.
//!
//! # Source
//! Times at clock changes: RFC 5545 section 3.3.5, see `dates`. Unlike 3.3.10, a time in a gap is
//! not dropped: a skipped water change is worse than one an hour later by the clock.

use std::str::FromStr;

use chrono::{NaiveTime, TimeZone, Utc};
use cron::Schedule;

use super::{evening_time, post_time};
use crate::conversation::Job;
use crate::dates::{Instant, KitchenDay, Zone};
use crate::kitchen::Settings;

/// Listing stops after this many wall-clock times: a year of days and the longest skip.
const LISTED: usize = 800;

/// Why a cron text cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CronError {
    #[error("{0:?} does not have the five fields minute, hour, day, month and weekday")]
    Fields(String),
    #[error("{0:?} runs more than once a day: minute and hour are one number each")]
    MoreThanDaily(String),
    #[error("{0:?} names weekdays by number; names such as Mon are read the same everywhere")]
    NumberedWeekday(String),
    #[error("{0:?} is not a schedule: {1}")]
    Unreadable(String, String),
}

/// Each job of the household with its cron text, in the household's own zone.
pub fn schedules(settings: &Settings) -> Vec<(Job, String)> {
    let daily = |time: NaiveTime| time.format("%-M %-H * * *").to_string();
    let jobs = Job::ALL.iter().map(|job| match job {
        Job::MorningPost => (*job, daily(post_time(settings))),
        Job::EveningRound => (*job, daily(evening_time(settings))),
    });
    jobs.collect()
}

/// The first run of a daily `cron` text after `after`, with the local day it belongs to.
///
/// Each local day that exists in `zone` has at most one run, and one that the text names has
/// exactly one; a local day that does not exist (Samoa, 30 December 2011) has none.
///
/// # Errors
/// A text that is not five fields, runs more than once a day or names weekdays by number.
pub fn next_run(
    cron: &str,
    zone: Zone,
    after: Instant,
) -> Result<Option<(KitchenDay, Instant)>, CronError> {
    let schedule = parse(cron)?;
    // The day before takes in a run that a clock change moved across midnight.
    let (day, _) = after.local(zone);
    let start = day.plus(-1).at(NaiveTime::MIN, Zone::UTC).plus_minutes(-1);
    let start = Utc.timestamp_micros(start.micros()).single().unwrap_or_default();
    let listed = schedule.after(&start).take(LISTED).map(|wall| {
        // The crate was handed the wall clock as if it were UTC.
        let wall = Instant::from_seconds(wall.timestamp());
        wall.local(Zone::UTC)
    });
    let runs =
        listed.filter(|(day, _)| exists(*day, zone)).map(|(day, time)| (day, day.at(time, zone)));
    Ok(runs.into_iter().find(|(_, at)| *at > after))
}

/// Whether a missed run of `job`, due at `due`, is still worth doing at `now`: the morning post
/// until the evening round of its day, the evening round until midnight.
pub fn still_useful(job: Job, day: KitchenDay, settings: &Settings, now: Instant) -> bool {
    match job {
        Job::MorningPost => {
            now < day
                .at(evening_time(settings), settings.zone)
                .max(day.at(post_time(settings), settings.zone).plus_minutes(1))
        }
        Job::EveningRound => now.day(settings.zone) == day,
    }
}

/// Whether any part of a civil day happens in a zone.
fn exists(day: KitchenDay, zone: Zone) -> bool {
    let noon = NaiveTime::from_hms_opt(12, 0, 0).unwrap_or_default();
    day.at(noon, zone).day(zone) == day
}

/// Reads five-field text as the six fields the crate takes, seconds first.
fn parse(text: &str) -> Result<Schedule, CronError> {
    let fields: Vec<&str> = text.split_whitespace().collect();
    let [minute, hour, _, _, weekday] = fields[..] else {
        return Err(CronError::Fields(text.to_owned()));
    };
    let single = |field: &str| field.bytes().all(|byte| byte.is_ascii_digit());
    if !single(minute) || !single(hour) {
        return Err(CronError::MoreThanDaily(text.to_owned()));
    }
    if weekday.bytes().any(|byte| byte.is_ascii_digit()) {
        return Err(CronError::NumberedWeekday(text.to_owned()));
    }
    let six = format!("0 {}", fields.join(" "));
    Schedule::from_str(&six)
        .map_err(|error| CronError::Unreadable(text.to_owned(), error.to_string()))
}
