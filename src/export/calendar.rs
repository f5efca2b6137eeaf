//! The household's schedules as an iCalendar file: the posts, the next shop, absences, and the
//! chores that are due.
//!
//! Local times carry the zone's name and the file carries the zone's rules, so that a calendar
//! program that has never heard of the zone still shows the right hour.
//!
//! # Source
//! RFC 5545: content lines 3.1, text 3.3.11, recurrence 3.3.10, time zones 3.6.5.

use std::fmt::Write;

use crate::chores::{self, CronError};
use crate::conversation::{House, Job};
use crate::dates::{Change, Instant, KitchenDay, Zone};
use crate::kitchen::Foods;
use crate::store::HouseholdId;
use crate::wording::Wording;

/// How far ahead a zone's clock changes are looked at. Longer than any pattern needs to show.
const YEARS_AHEAD: i64 = 12;
/// A pattern holds only when it has held so many times in a row.
const PATTERN_SEEN: usize = 8;
/// The longest content line, in bytes without its end.
const LINE_BYTES: usize = 75;

/// A calendar being written.
pub struct Calendar {
    out: String,
    now: Instant,
    zones: Vec<Zone>,
}

impl Calendar {
    pub fn new(now: Instant) -> Calendar {
        let mut calendar = Calendar { out: String::new(), now, zones: Vec::new() };
        calendar.line("BEGIN:VCALENDAR");
        calendar.line("VERSION:2.0");
        calendar.line("PRODID:-//larderling//schedules//EN");
        calendar.line("CALSCALE:GREGORIAN");
        calendar
    }

    /// Adds what one household has on its calendar.
    ///
    /// # Errors
    /// When a schedule of the household cannot be read.
    pub fn household(
        &mut self,
        id: &HouseholdId,
        house: &House,
        wording: &Wording,
        foods: &dyn Foods,
    ) -> Result<(), CronError> {
        let settings = &house.state.settings;
        let zone = settings.zone;
        self.zone(zone);
        for (job, cron) in chores::schedules(settings) {
            let Some((day, _)) = chores::next_run(&cron, zone, self.now)? else { continue };
            self.begin("VEVENT", &format!("{}-{}", id.as_str(), job.word()));
            // The wall clock the household set, not the one of a first day with a gap in it.
            let time = match job {
                Job::MorningPost => chores::post_time(settings),
                Job::EveningRound => chores::evening_time(settings),
            };
            let time = time.format("%H%M%S");
            self.line(&format!("DTSTART;TZID={}:{}T{time}", zone.name(), compact(day)));
            self.line("RRULE:FREQ=DAILY");
            self.text("SUMMARY", &wording.calendar_job(job));
            self.line("TRANSP:TRANSPARENT");
            self.line("END:VEVENT");
        }
        if let Some(day) = house.state.next_trip {
            self.all_day(&format!("{}-shop", id.as_str()), day, day, &wording.calendar_shop());
        }
        for (first, last) in &house.state.away {
            let uid = format!("{}-away-{first}", id.as_str());
            self.all_day(&uid, *first, *last, &wording.calendar_away());
        }
        for chore in chores::pending(&house.state, self.now) {
            let lot = house.state.lots.iter().find(|lot| lot.id == chore.lot);
            let name = lot.map(|lot| wording.food(&lot.named(), foods, true));
            let (day, time) = chore.due.local(zone);
            let kind = chore.kind.word();
            self.begin("VTODO", &format!("{}-{kind}-{}", id.as_str(), chore.lot.0));
            let due = format!("{}T{}", compact(day), time.format("%H%M%S"));
            self.line(&format!("DUE;TZID={}:{due}", zone.name()));
            let name = name.unwrap_or_else(|| chore.name.clone());
            self.text("SUMMARY", &wording.calendar_chore(chore.kind, &name));
            self.line("STATUS:NEEDS-ACTION");
            self.line("END:VTODO");
        }
        Ok(())
    }

    /// The whole file.
    pub fn finish(mut self) -> String {
        self.line("END:VCALENDAR");
        self.out
    }

    fn all_day(&mut self, uid: &str, first: KitchenDay, last: KitchenDay, summary: &str) {
        self.begin("VEVENT", uid);
        self.line(&format!("DTSTART;VALUE=DATE:{}", compact(first)));
        // The end is the first day that no longer belongs to it.
        self.line(&format!("DTEND;VALUE=DATE:{}", compact(last.plus(1))));
        self.text("SUMMARY", summary);
        self.line("TRANSP:TRANSPARENT");
        self.line("END:VEVENT");
    }

    fn begin(&mut self, component: &str, uid: &str) {
        self.line(&format!("BEGIN:{component}"));
        self.line(&format!("UID:{uid}@larderling"));
        let (day, time) = self.now.local(Zone::UTC);
        self.line(&format!("DTSTAMP:{}T{}Z", compact(day), time.format("%H%M%S")));
    }

    /// The rules of a zone, once in a file.
    fn zone(&mut self, zone: Zone) {
        if self.zones.contains(&zone) {
            return;
        }
        self.zones.push(zone);
        self.line("BEGIN:VTIMEZONE");
        self.line(&format!("TZID:{}", zone.name()));
        let today = self.now.day(Zone::UTC);
        let until = today.plus(YEARS_AHEAD * 366);
        let changes = zone.changes(today.plus(-400), until);
        let mut patterns: Vec<Vec<&Change>> = Vec::new();
        for change in &changes {
            let same = |group: &&mut Vec<&Change>| {
                (group[0].from_s, group[0].to_s) == (change.from_s, change.to_s)
            };
            match patterns.iter_mut().find(same) {
                Some(group) => group.push(change),
                None => patterns.push(vec![change]),
            }
        }
        if patterns.is_empty() {
            // No clock change in sight: one offset for good.
            let always = zone.offset_s(self.now);
            self.observance("STANDARD", "19700101T000000", always, always, &[]);
        }
        for group in patterns {
            let first = group[0];
            // Clocks that go forward go to summer time, also where the law calls the other one so:
            // programs reckon with no summer time behind the standard one.
            let kind = if first.to_s > first.from_s { "DAYLIGHT" } else { "STANDARD" };
            let begins: Vec<(KitchenDay, String)> = group.iter().map(|c| wall(c)).collect();
            let rule = yearly(&begins);
            let start = begins[0].1.clone();
            let more: Vec<String> = match rule {
                Some(rule) => vec![format!("RRULE:{rule}")],
                None => begins.iter().skip(1).map(|(_, at)| format!("RDATE:{at}")).collect(),
            };
            self.observance(kind, &start, first.from_s, first.to_s, &more);
        }
        self.line("END:VTIMEZONE");
    }

    fn observance(&mut self, kind: &str, start: &str, from_s: i32, to_s: i32, more: &[String]) {
        self.line(&format!("BEGIN:{kind}"));
        self.line(&format!("DTSTART:{start}"));
        self.line(&format!("TZOFFSETFROM:{}", offset(from_s)));
        self.line(&format!("TZOFFSETTO:{}", offset(to_s)));
        for line in more {
            self.line(line);
        }
        self.line(&format!("END:{kind}"));
    }

    /// A property whose value is text.
    fn text(&mut self, name: &str, value: &str) {
        let mut escaped = String::with_capacity(value.len());
        for letter in value.chars() {
            match letter {
                '\\' | ';' | ',' => escaped.extend(['\\', letter]),
                '\n' => escaped.push_str("\\n"),
                letter if letter.is_control() => {}
                letter => escaped.push(letter),
            }
        }
        self.line(&format!("{name}:{escaped}"));
    }

    /// A content line, folded between characters where it is too long.
    fn line(&mut self, line: &str) {
        let mut room = LINE_BYTES;
        for letter in line.chars() {
            if letter.len_utf8() > room {
                self.out.push_str("\r\n ");
                room = LINE_BYTES - 1;
            }
            self.out.push(letter);
            room -= letter.len_utf8();
        }
        self.out.push_str("\r\n");
    }
}

/// The wall-clock time of a change by the clock before it, and its day.
fn wall(change: &Change) -> (KitchenDay, String) {
    let before = Instant::from_seconds(change.at.seconds() + i64::from(change.from_s));
    let (day, time) = before.local(Zone::UTC);
    (day, format!("{}T{}", compact(day), time.format("%H%M%S")))
}

/// The yearly rule behind changes that always fall on the same weekday of the same week of a
/// month, at the same time; `None` where there is no such rule.
fn yearly(begins: &[(KitchenDay, String)]) -> Option<String> {
    let (first, at) = begins.first()?;
    let time = |at: &str| at.split_once('T').map(|(_, time)| time.to_owned());
    let alike = begins.iter().all(|(day, each)| {
        day.month() == first.month() && day.weekday() == first.weekday() && time(each) == time(at)
    });
    let yearly = begins.windows(2).all(|pair| pair[1].0.year() == pair[0].0.year() + 1);
    if begins.len() < PATTERN_SEEN || !alike || !yearly {
        return None;
    }
    let week = |day: KitchenDay| (day.day_of_month() - 1) / 7 + 1;
    let last = |day: KitchenDay| day.plus(7).month() != day.month();
    let number = if begins.iter().all(|(day, _)| last(*day)) {
        -1
    } else if begins.iter().all(|(day, _)| week(*day) == week(*first)) {
        i64::from(week(*first))
    } else {
        return None;
    };
    let names = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];
    let name = names[first.weekday().num_days_from_monday() as usize];
    Some(format!("FREQ=YEARLY;BYMONTH={};BYDAY={number}{name}", first.month()))
}

/// `20261125`.
fn compact(day: KitchenDay) -> String {
    day.to_string().replace('-', "")
}

/// An offset from UTC as `+HHMM`, with seconds where there are some.
fn offset(seconds: i32) -> String {
    let sign = if seconds < 0 { '-' } else { '+' };
    let all = seconds.unsigned_abs();
    let mut text = format!("{sign}{:02}{:02}", all / 3600, all / 60 % 60);
    if !all.is_multiple_of(60) {
        let _ = write!(text, "{:02}", all % 60);
    }
    text
}
