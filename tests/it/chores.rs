//! Chores and the household's jobs: once per local day, whatever the clock does.

use std::collections::BTreeMap;
use std::str::FromStr;

use chrono::{Datelike, NaiveTime, TimeZone, Timelike};
use larderling::chores::{CronError, next_run, schedules, still_useful};
use larderling::conversation::Job;
use larderling::dates::{Instant, KitchenDay, Zone, clock_time};
use larderling::kitchen::Settings;

fn zone(name: &str) -> Zone {
    name.parse().expect("a zone")
}

fn day(text: &str) -> KitchenDay {
    text.parse().expect("a day")
}

fn at(text: &str, zone: Zone) -> Instant {
    let (date, time) = text.split_once(' ').expect("a day and a time");
    day(date).at(clock_time(time).expect("a time"), zone)
}

/// Every run in `(from, to]`.
fn runs(cron: &str, zone: Zone, from: Instant, to: Instant) -> Vec<(KitchenDay, Instant)> {
    let mut runs = Vec::new();
    let mut after = from;
    while let Some((day, at)) = next_run(cron, zone, after).expect("a schedule") {
        if at > to {
            break;
        }
        assert!(at > after, "time goes on");
        runs.push((day, at));
        after = at;
    }
    runs
}

#[test]
fn a_household_has_a_schedule_for_each_job_in_five_fields() {
    let settings = Settings { post: "7:05".to_owned(), ..Settings::default() };
    assert_eq!(
        schedules(&settings),
        vec![
            (Job::MorningPost, "5 7 * * *".to_owned()),
            (Job::EveningRound, "0 19 * * *".to_owned()),
        ]
    );
}

#[test]
fn a_local_time_in_a_gap_or_an_overlap_runs_exactly_once() {
    let cases = [
        (
            "Europe/Berlin",
            "30 2 * * *",
            "2026-03-28 12:00",
            "2026-03-30 12:00",
            vec!["2026-03-29 03:30", "2026-03-30 02:30"],
        ),
        (
            "Europe/Berlin",
            "30 2 * * *",
            "2026-10-24 12:00",
            "2026-10-26 12:00",
            vec!["2026-10-25 02:30", "2026-10-26 02:30"],
        ),
        (
            "America/New_York",
            "30 1 * * *",
            "2026-10-31 12:00",
            "2026-11-02 12:00",
            vec!["2026-11-01 01:30", "2026-11-02 01:30"],
        ),
        // The clocks go on at midnight: the day has no 00:00 and still one run.
        (
            "Africa/Cairo",
            "0 0 * * *",
            "2026-04-23 12:00",
            "2026-04-25 12:00",
            vec!["2026-04-24 01:00", "2026-04-25 00:00"],
        ),
        // Samoa had no 30 December 2011.
        (
            "Pacific/Apia",
            "0 7 * * *",
            "2011-12-28 12:00",
            "2012-01-01 12:00",
            vec!["2011-12-29 07:00", "2011-12-31 07:00", "2012-01-01 07:00"],
        ),
        (
            "Europe/Berlin",
            "0 8 * * Mon,Thu",
            "2026-03-28 12:00",
            "2026-04-03 12:00",
            vec!["2026-03-30 08:00", "2026-04-02 08:00"],
        ),
    ];
    for (name, cron, from, to, expected) in cases {
        let zone = zone(name);
        let found = runs(cron, zone, at(from, zone), at(to, zone));
        let walls: Vec<String> = found.iter().map(|(_, at)| at.wall(zone)).collect();
        assert_eq!(walls, expected, "{name} {cron}");
    }
}

/// In every zone, around every clock change of some years, each local day that exists has exactly
/// one run of each time, and none has two.
#[test]
fn every_zone_runs_once_on_every_existing_local_day() {
    for tz in chrono_tz::TZ_VARIANTS {
        let zone = zone(tz.name());
        for change in clock_changes(zone) {
            let first = change.day(zone).plus(-2);
            for cron in ["0 0 * * *", "30 2 * * *", "30 23 * * *"] {
                let start = first.at(NaiveTime::MIN, zone).plus_minutes(-1);
                let end = first.plus(5).at(NaiveTime::MIN, zone).plus_minutes(-1);
                let mut by_day: BTreeMap<KitchenDay, u32> = BTreeMap::new();
                for (day, _) in runs(cron, zone, start, end) {
                    *by_day.entry(day).or_default() += 1;
                }
                let existing = (0..5).map(|n| first.plus(n)).filter(|day| exists(*day, zone));
                let expected: BTreeMap<KitchenDay, u32> = existing.map(|day| (day, 1)).collect();
                assert_eq!(by_day, expected, "{} {cron} around {}", tz.name(), change.wall(zone));
            }
        }
    }
}

/// Whether any hour of the day happens there.
fn exists(day: KitchenDay, zone: Zone) -> bool {
    let middle = day.at(NaiveTime::from_hms_opt(12, 0, 0).expect("noon"), Zone::UTC);
    (-30..=30).any(|hours| middle.plus_minutes(60 * hours).day(zone) == day)
}

/// Instants, to the hour, at which the wall clock of a zone jumps in years with changes of kinds.
fn clock_changes(zone: Zone) -> Vec<Instant> {
    let offset = |at: Instant| {
        let (day, time) = at.local(zone);
        day.at(time, Zone::UTC).minutes_since(at)
    };
    let mut found = Vec::new();
    for year in [2011, 2026] {
        let start = KitchenDay::new(year, 1, 3).expect("a day").at(NaiveTime::MIN, Zone::UTC);
        for day in 0..364 {
            let (mut low, mut high) =
                (start.plus_minutes(1440 * day), start.plus_minutes(1440 * (day + 1)));
            if offset(low) == offset(high) {
                continue;
            }
            let before = offset(low);
            while high.minutes_since(low) > 1 {
                let middle = low.plus_minutes(high.minutes_since(low) / 2);
                if offset(middle) == before { low = middle } else { high = middle }
            }
            found.push(high);
        }
    }
    found
}

/// Away from clock changes an independent cron library agrees.
#[test]
fn another_cron_library_agrees_on_ordinary_days() {
    let crons = ["0 7 * * *", "15 19 * * Sun", "30 6 1 * *", "45 12 29 2 *"];
    for name in ["America/New_York", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kathmandu"] {
        let (tz, zone) = (chrono_tz::Tz::from_str(name).expect("a zone"), zone(name));
        for cron in crons {
            let theirs = croner::Cron::from_str(cron).expect("a schedule");
            for month in 1..=12 {
                let after = tz.with_ymd_and_hms(2026, month, 15, 12, 0, 0).single().expect("noon");
                let expected = theirs.find_next_occurrence(&after, false).expect("a next run");
                let ours = next_run(cron, zone, Instant::from_seconds(after.timestamp()));
                let (day, at) = ours.expect("a schedule").expect("a next run");
                assert_eq!(at.seconds(), expected.timestamp(), "{name} {cron} after month {month}");
                assert_eq!(day.to_string(), expected.date_naive().to_string());
                assert_eq!(
                    (day.day_of_month(), at.local(zone).1.minute()),
                    (expected.day(), expected.minute())
                );
            }
        }
    }
}

#[test]
fn a_schedule_that_could_run_twice_or_is_read_in_two_ways_is_refused() {
    let run = |cron: &str| next_run(cron, Zone::UTC, Instant::from_seconds(0));
    assert!(matches!(run("0 7 * *"), Err(CronError::Fields(_))));
    assert!(matches!(run("*/5 7 * * *"), Err(CronError::MoreThanDaily(_))));
    assert!(matches!(run("0 7 * * 1"), Err(CronError::NumberedWeekday(_))));
    assert!(matches!(run("0 99 * * *"), Err(CronError::Unreadable(..))));
}

#[test]
fn a_missed_post_is_useful_until_the_evening_and_a_missed_round_until_midnight() {
    let settings = Settings { zone: zone("Europe/Berlin"), ..Settings::default() };
    let useful = |job, now| still_useful(job, day("2026-05-04"), &settings, at(now, settings.zone));
    assert!(useful(Job::MorningPost, "2026-05-04 18:59"));
    assert!(!useful(Job::MorningPost, "2026-05-04 19:00"));
    assert!(useful(Job::EveningRound, "2026-05-04 23:59"));
    assert!(!useful(Job::EveningRound, "2026-05-05 00:00"));
}
