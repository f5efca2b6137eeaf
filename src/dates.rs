//! Days, instants and zones, and the one rule that turns a local time into an instant.
//!
//! Three kinds of time that never mix: a [`KitchenDay`] is a civil date ("bought on", "eat by"),
//! an [`Instant`] is a moment ("arrived", "sent"), a [`Zone`] turns one into the other. Nothing
//! here reads the clock; `clock` does, once, and everything else is handed the result.
//!
//! # Source
//! Local times at clock changes: RFC 5545 section 3.3.5. A time that happens twice means the
//! first; a time that does not happen is read with the offset in force before the gap.

mod zones;

use std::fmt;
use std::str::FromStr;

use chrono::{
    Datelike, Duration, LocalResult, NaiveDate, NaiveDateTime, NaiveTime, Offset, TimeZone, Weekday,
};
use serde::{Deserialize, Serialize};

pub use zones::REGIONS;

/// A civil date in the household's own zone. Printed as `YYYY-MM-DD`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct KitchenDay(NaiveDate);

impl KitchenDay {
    pub const fn new(year: i32, month: u32, day: u32) -> Option<KitchenDay> {
        match NaiveDate::from_ymd_opt(year, month, day) {
            Some(day) => Some(KitchenDay(day)),
            None => None,
        }
    }

    /// This day plus `days` (negative goes back); saturates at the calendar's ends.
    pub fn plus(self, days: i64) -> KitchenDay {
        let fallback = if days < 0 { NaiveDate::MIN } else { NaiveDate::MAX };
        let span = Duration::try_days(days);
        KitchenDay(span.and_then(|span| self.0.checked_add_signed(span)).unwrap_or(fallback))
    }

    /// Whole days from `earlier` to this day; negative when this day is the earlier one.
    pub fn days_since(self, earlier: KitchenDay) -> i64 {
        (self.0 - earlier.0).num_days()
    }

    pub fn weekday(self) -> Weekday {
        self.0.weekday()
    }

    pub fn year(self) -> i32 {
        self.0.year()
    }

    pub fn month(self) -> u32 {
        self.0.month()
    }

    pub fn day_of_month(self) -> u32 {
        self.0.day()
    }

    /// The instant at which `time` happens on this day in `zone` (see the module head for clock
    /// changes).
    pub fn at(self, time: NaiveTime, zone: Zone) -> Instant {
        zone.resolve(self.0.and_time(time))
    }
}

impl fmt::Display for KitchenDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%Y-%m-%d"))
    }
}

impl FromStr for KitchenDay {
    type Err = DateError;

    fn from_str(text: &str) -> Result<KitchenDay, DateError> {
        let parsed = NaiveDate::parse_from_str(text, "%Y-%m-%d");
        parsed.map(KitchenDay).map_err(|_| DateError::NotADay(text.to_owned()))
    }
}

impl TryFrom<String> for KitchenDay {
    type Error = DateError;

    fn try_from(text: String) -> Result<KitchenDay, DateError> {
        text.parse()
    }
}

impl From<KitchenDay> for String {
    fn from(day: KitchenDay) -> String {
        day.to_string()
    }
}

/// A moment, in microseconds since 1970-01-01T00:00:00 UTC. Stored as that integer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Instant(i64);

impl Instant {
    pub const fn from_micros(micros: i64) -> Instant {
        Instant(micros)
    }

    pub const fn from_seconds(seconds: i64) -> Instant {
        Instant(seconds.saturating_mul(1_000_000))
    }

    pub const fn micros(self) -> i64 {
        self.0
    }

    pub const fn seconds(self) -> i64 {
        self.0.div_euclid(1_000_000)
    }

    pub fn plus_minutes(self, minutes: i64) -> Instant {
        Instant(self.0.saturating_add(minutes.saturating_mul(60_000_000)))
    }

    /// Whole minutes since `earlier`, rounded towards it; negative when this is the earlier one.
    pub fn minutes_since(self, earlier: Instant) -> i64 {
        self.0.saturating_sub(earlier.0).div_euclid(60_000_000)
    }

    /// The date and wall-clock time of this moment in `zone`.
    pub fn local(self, zone: Zone) -> (KitchenDay, NaiveTime) {
        let utc = chrono::DateTime::from_timestamp_micros(self.0).unwrap_or_default();
        let local = utc.with_timezone(&zone.0).naive_local();
        (KitchenDay(local.date()), local.time())
    }

    /// The local day of this moment in `zone`.
    pub fn day(self, zone: Zone) -> KitchenDay {
        self.local(zone).0
    }

    /// `YYYY-MM-DDTHH:MM:SS.ffffffZ`, the form of RFC 3339.
    pub fn rfc3339(self) -> String {
        let utc = chrono::DateTime::from_timestamp_micros(self.0).unwrap_or_default();
        utc.to_rfc3339_opts(chrono::SecondsFormat::AutoSi, true)
    }

    /// `YYYY-MM-DD HH:MM` on the wall clock of `zone`.
    pub fn wall(self, zone: Zone) -> String {
        let (day, time) = self.local(zone);
        format!("{day} {}", time.format("%H:%M"))
    }
}

/// A moment at which the clocks of a zone change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change {
    pub at: Instant,
    /// Seconds ahead of UTC before and after.
    pub from_s: i32,
    pub to_s: i32,
}

/// An IANA time zone, by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Zone(chrono_tz::Tz);

impl Zone {
    pub const UTC: Zone = Zone(chrono_tz::Tz::UTC);

    pub fn name(self) -> &'static str {
        self.0.name()
    }

    /// Seconds ahead of UTC at a moment.
    pub fn offset_s(self, at: Instant) -> i32 {
        let utc = chrono::DateTime::from_timestamp_micros(at.0).unwrap_or_default();
        self.0.offset_from_utc_datetime(&utc.naive_utc()).fix().local_minus_utc()
    }

    /// The clock changes between the first moments of two days, in order.
    pub fn changes(self, from: KitchenDay, until: KitchenDay) -> Vec<Change> {
        let mut changes = Vec::new();
        for days in 0..until.days_since(from) {
            let midnight = |days: i64| from.plus(days).at(NaiveTime::MIN, Zone::UTC);
            // The last second known to be before a change, and the first known to be after.
            let (mut before, mut after) = (midnight(days).seconds(), midnight(days + 1).seconds());
            let offset = |seconds: i64| self.offset_s(Instant::from_seconds(seconds));
            let (from_s, to_s) = (offset(before), offset(after));
            if from_s == to_s {
                continue;
            }
            while after - before > 1 {
                let middle = before + (after - before) / 2;
                if offset(middle) == from_s { before = middle } else { after = middle }
            }
            changes.push(Change { at: Instant::from_seconds(after), from_s, to_s });
        }
        changes
    }

    /// The instant of a wall-clock time in this zone, by the one rule of this module.
    pub fn resolve(self, local: NaiveDateTime) -> Instant {
        let utc = match self.0.from_local_datetime(&local) {
            LocalResult::Single(at) | LocalResult::Ambiguous(at, _) => at.naive_utc(),
            LocalResult::None => {
                let before = self.0.offset_from_utc_datetime(&(local - Duration::hours(24)));
                local - Duration::seconds(before.fix().local_minus_utc().into())
            }
        };
        Instant(utc.and_utc().timestamp_micros())
    }
}

impl FromStr for Zone {
    type Err = DateError;

    fn from_str(name: &str) -> Result<Zone, DateError> {
        name.parse().map(Zone).map_err(|_| DateError::NotAZone(name.to_owned()))
    }
}

impl TryFrom<String> for Zone {
    type Error = DateError;

    fn try_from(name: String) -> Result<Zone, DateError> {
        name.parse()
    }
}

impl From<Zone> for String {
    fn from(zone: Zone) -> String {
        zone.name().to_owned()
    }
}

/// `HH:MM` as a time of day; also takes one-digit hours.
pub fn clock_time(text: &str) -> Result<NaiveTime, DateError> {
    NaiveTime::parse_from_str(text, "%H:%M").map_err(|_| DateError::NotATime(text.to_owned()))
}

/// Why a text is not a day, a time or a zone.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DateError {
    #[error("{0:?} is not a day written as YYYY-MM-DD")]
    NotADay(String),
    #[error("{0:?} is not a time written as HH:MM")]
    NotATime(String),
    #[error("{0:?} is not an IANA time zone name such as Europe/Berlin")]
    NotAZone(String),
}
