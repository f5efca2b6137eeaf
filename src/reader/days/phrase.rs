//! One wording of a day read at one place: the tables and the rules.

use chrono::Weekday;

use super::names::{
    self, Span, count, day_number, month, ordinal_word, span, weekday, weekday_plural,
};
use super::{Calendar, DateOrder, Facing, Reach};
use crate::dates::KitchenDay;
use crate::reader::tokens::{Join, Kind, Text};

/// The prepositions before a day.
pub struct Lead {
    pub end: usize,
    pub reach: Reach,
    /// Something before the day says that a day follows ("on", "by", "dated", "exp").
    pub expects_day: bool,
}

/// A day phrase read at one place.
pub struct Read {
    pub day: Option<KitchenDay>,
    pub len: usize,
    pub tense: Option<Facing>,
}

impl Read {
    fn on(day: KitchenDay, len: usize) -> Option<Read> {
        Some(Read { day: Some(day), len, tense: None })
    }

    fn back(day: KitchenDay, len: usize) -> Option<Read> {
        Some(Read { day: Some(day), len, tense: Some(Facing::Past) })
    }

    fn forward(day: KitchenDay, len: usize) -> Option<Read> {
        Some(Read { day: Some(day), len, tense: Some(Facing::Future) })
    }

    fn vague(len: usize, tense: Facing) -> Option<Read> {
        Some(Read { day: None, len, tense: Some(tense) })
    }
}

/// Wordings that are a number of days from today, longest first where one begins another.
const FIXED: &[(&str, i64)] = &[
    ("the day before yesterday", -2),
    ("day before yesterday", -2),
    ("the night before last", -2),
    ("night before last", -2),
    ("the evening before last", -2),
    ("the day after tomorrow", 2),
    ("day after tomorrow", 2),
    ("yesterday morning", -1),
    ("yesterday lunchtime", -1),
    ("yesterday afternoon", -1),
    ("yesterday evening", -1),
    ("yesterday night", -1),
    ("yesterday", -1),
    ("last night", -1),
    ("last nite", -1),
    ("last evening", -1),
    ("earlier today", 0),
    ("earlier this morning", 0),
    ("earlier this afternoon", 0),
    ("earlier this evening", 0),
    ("this morning", 0),
    ("this lunchtime", 0),
    ("this afternoon", 0),
    ("this evening", 0),
    ("later today", 0),
    ("today", 0),
    ("tonight", 0),
    ("tomorrow morning", 1),
    ("tomorrow afternoon", 1),
    ("tomorrow evening", 1),
    ("tomorrow night", 1),
    ("tomorrow", 1),
    ("just now", 0),
    ("earlier on", 0),
    ("earlier", 0),
];

/// Wordings that point at no one day.
const VAGUE: &[(&str, Facing)] = &[
    ("the other day", Facing::Past),
    ("other day", Facing::Past),
    ("the other night", Facing::Past),
    ("the other week", Facing::Past),
    ("earlier this week", Facing::Past),
    ("earlier this month", Facing::Past),
    ("earlier in the week", Facing::Past),
    ("recently", Facing::Past),
    ("ages ago", Facing::Past),
    ("a while ago", Facing::Past),
    ("a while back", Facing::Past),
    ("some time ago", Facing::Past),
    ("one of these days", Facing::Future),
    ("some day", Facing::Future),
    ("later this week", Facing::Future),
    ("later in the week", Facing::Future),
];

/// Days with a name of their own: month and day.
const FEASTS: &[(&str, u32, u32)] = &[
    ("new year's eve", 12, 31),
    ("new years eve", 12, 31),
    ("new year's day", 1, 1),
    ("new years day", 1, 1),
    ("new year", 1, 1),
    ("valentine's day", 2, 14),
    ("valentines day", 2, 14),
    ("halloween", 10, 31),
    ("christmas eve", 12, 24),
    ("christmas day", 12, 25),
    ("christmas", 12, 25),
    ("xmas", 12, 25),
    ("boxing day", 12, 26),
];

/// No more prepositions than this stand before a day ("up until on").
const LONGEST_LEAD: usize = 6;

pub struct Phrase<'a> {
    pub text: &'a Text<'a>,
    /// No token from here on is looked at.
    pub end: usize,
    pub cal: Calendar,
}

impl Phrase<'_> {
    fn word(&self, at: usize) -> &str {
        if at < self.end { names::mended(self.text.word(at)) } else { "" }
    }

    /// How many tokens from `at` say `phrase`, if they do.
    fn says(&self, at: usize, phrase: &str) -> Option<usize> {
        // A mended word keeps its first letter, and most phrases end here.
        if at >= self.end || self.text.word(at).as_bytes().first() != phrase.as_bytes().first() {
            return None;
        }
        let mut len = 0;
        for expected in phrase.split(' ') {
            let said = self.word(at + len);
            if said != expected && names::unowned(said) != expected {
                return None;
            }
            len += 1;
        }
        Some(len)
    }

    fn says_any(&self, at: usize, phrases: &[&str]) -> Option<usize> {
        phrases.iter().find_map(|phrase| self.says(at, phrase))
    }

    pub fn lead(&self, at: usize, follows_day: bool) -> Lead {
        let label = at.checked_sub(1).map_or("", |before| self.text.word(before));
        let dated = ["dated", "date", "exp", "expires", "expiry", "expired", "bb", "bbe", "on"];
        let mut lead = Lead { end: at, reach: Reach::On, expects_day: dated.contains(&label) };
        // "fri-sun": the hyphen is no token of its own.
        if follows_day && self.text.get(at).is_some_and(|token| token.join == Join::Hyphen) {
            (lead.reach, lead.expects_day) = (Reach::Until, true);
        }
        while lead.end < at + LONGEST_LEAD {
            match self.word(lead.end) {
                "since" => lead.reach = Reach::Since,
                "until" | "till" | "til" | "untill" | "by" | "before" | "thru" | "through" => {
                    lead.reach = Reach::Until;
                }
                "to" | "-" if follows_day && lead.end == at => lead.reach = Reach::Until,
                "on" | "from" | "dated" | "for" | "of" | "over" | "during" | "around" => {}
                "up" | "back" | "at" => {
                    lead.end += 1;
                    continue;
                }
                _ => return lead,
            }
            lead.expects_day = true;
            lead.end += 1;
        }
        lead
    }

    pub fn read(&self, at: usize, facing: Facing, expects_day: bool) -> Option<Read> {
        self.vague(at)
            .or_else(|| self.week_from_day(at))
            .or_else(|| self.fixed(at))
            .or_else(|| self.qualified_weekday(at, facing))
            .or_else(|| self.counted(at))
            .or_else(|| self.period(at, facing))
            .or_else(|| self.month_day(at, facing, expects_day))
            .or_else(|| self.numeric(at, facing, expects_day))
            .or_else(|| self.ordinal_day(at, facing, expects_day))
            .or_else(|| self.feast(at, facing))
            .or_else(|| self.bare_weekday(at, facing, expects_day))
    }

    fn vague(&self, at: usize) -> Option<Read> {
        let (len, tense) =
            VAGUE.iter().find_map(|(phrase, tense)| Some((self.says(at, phrase)?, *tense)))?;
        Read::vague(len, tense)
    }

    fn fixed(&self, at: usize) -> Option<Read> {
        if self.word(at) == "2" && self.text.is_glued(at + 1) {
            return match self.word(at + 1) {
                "day" => Read::on(self.cal.today, 2),
                "nite" | "night" => Read::on(self.cal.today, 2),
                "moro" | "morrow" | "moz" => Read::forward(self.cal.today.plus(1), 2),
                _ => None,
            };
        }
        let (len, offset) =
            FIXED.iter().find_map(|(phrase, days)| Some((self.says(at, phrase)?, *days)))?;
        let day = self.cal.today.plus(offset);
        match offset {
            0 => Read::on(day, len),
            ..0 => Read::back(day, len),
            _ => Read::forward(day, len),
        }
    }

    /// "a week ago yesterday", "a week last monday", "a week on friday", "a week tomorrow".
    fn week_from_day(&self, at: usize) -> Option<Read> {
        let article = self.says_any(at, &["a week", "one week", "1 week"])?;
        let mut next = at + article;
        let ago = self.says_any(next, &["ago", "back"]);
        next += ago.unwrap_or(0);
        next += self.says_any(next, &["on", "from", "this"]).unwrap_or(0);
        let last = self.says_any(next, &["last", "past"]);
        next += last.unwrap_or(0);
        let back = ago.is_some() || last.is_some();
        if let Some(offset) =
            ["yesterday", "today", "tomorrow"].iter().position(|word| self.word(next) == *word)
        {
            let day = self.cal.today.plus(i64::try_from(offset).ok()? - 1);
            let (len, back) = (next + 1 - at, back || offset == 0);
            return if back {
                Read::back(day.plus(-7), len)
            } else {
                Read::forward(day.plus(7), len)
            };
        }
        let (named, _) = weekday(self.word(next))?;
        let len = self.with_part_of_day(next + 1) - at;
        if back {
            Read::back(self.last(named).plus(-7), len)
        } else {
            Read::forward(self.next(named).plus(7), len)
        }
    }

    /// A weekday with words that say which one.
    fn qualified_weekday(&self, at: usize, facing: Facing) -> Option<Read> {
        // "last week('s) monday", "next week on monday".
        for (phrases, weeks) in [
            (&["last week", "last week on", "last week's"][..], -1),
            (&["next week", "next week on", "next week's"][..], 1),
        ] {
            let longest = phrases.iter().filter_map(|phrase| self.says(at, phrase)).max();
            if let Some(lead) = longest
                && let Some((named, _)) = weekday(self.word(at + lead))
            {
                let len = self.with_part_of_day(at + lead + 1) - at;
                return self.in_week(named, weeks, len);
            }
        }
        let mut start = at;
        start += self.says(start, "the").unwrap_or(0);
        let qualifier = self.says_any(
            start,
            &["this past", "this coming", "last", "past", "this", "next", "coming", "other"],
        );
        let said = qualifier.map(|_| self.word(start).to_owned());
        let past = self.says(start, "this past").is_some();
        let coming = self.says(start, "this coming").is_some();
        start += qualifier.unwrap_or(0);
        let (named, _) = weekday(self.word(start))?;
        let end = self.with_part_of_day(start + 1);
        let len = end - at;
        let after = |phrases: &[&str]| self.says_any(end, phrases);
        if let Some(more) = after(&["before last"]) {
            return Read::back(self.last(named).plus(-7), len + more);
        }
        if let Some(more) = after(&["after next"]) {
            return Read::forward(self.next(named).plus(7), len + more);
        }
        if let Some(more) = after(&["the week before last", "week before last"]) {
            return self.in_week(named, -2, len + more);
        }
        if let Some(more) = after(&["of last week", "last week", "the week before"]) {
            return self.in_week(named, -1, len + more);
        }
        if let Some(more) = after(&["of next week", "next week"]) {
            return self.in_week(named, 1, len + more);
        }
        if let Some(more) = after(&["a week ago", "week ago", "a week back"]) {
            return Read::back(self.last(named).plus(-7), len + more);
        }
        if let Some(more) = after(&["just gone", "gone"]) {
            return Read::back(self.last(named), len + more);
        }
        if self.word(end) == "week" {
            return Read::forward(self.next(named).plus(7), len + 1);
        }
        match said.as_deref() {
            Some("this") if past => Read::back(self.last(named), len),
            Some("this") if coming => Read::forward(self.next(named), len),
            Some("last" | "past") => Read::back(self.last(named), len),
            Some("coming") => Read::forward(self.next(named), len),
            // Speakers differ on "next friday"; the nearer one is taken, as general date readers do.
            Some("next") => Read::forward(self.next(named), len),
            Some("other") => Read::vague(len, Facing::Past),
            Some("this") if self.cal.today.weekday() == named => Read::on(self.cal.today, len),
            Some("this") if facing == Facing::Past => Read::on(self.last(named), len),
            Some("this") => Read::on(self.next(named), len),
            _ => None,
        }
    }

    fn bare_weekday(&self, at: usize, facing: Facing, expects_day: bool) -> Option<Read> {
        let (named, clear) = weekday(self.word(at))?;
        // "sat to thursday", "sat and sun": beside another weekday the short form means nothing else.
        let joined =
            matches!(self.word(at + 1), "to" | "-" | "till" | "until" | "and" | "&" | "or")
                && weekday(self.word(at + 2)).is_some()
                || at >= 2
                    && matches!(self.text.word(at - 1), "and" | "&" | "or" | "-")
                    && weekday(self.text.word(at - 2)).is_some();
        if !clear && !expects_day && !joined {
            return None;
        }
        let len = self.with_part_of_day(at + 1) - at;
        let day = match facing {
            Facing::Past => self.last(named),
            Facing::Future => self.next(named),
        };
        Read::on(day, len)
    }

    /// "3 days ago", "two mondays ago", "a couple of weeks back", "in 3 days".
    fn counted(&self, at: usize) -> Option<Read> {
        let ahead = self.says_any(at, &["in", "within"]).unwrap_or(0);
        let start = at + ahead;
        if let Some(len) = self.says_any(at, &["half an hour ago", "half a day ago"]) {
            return Read::back(self.cal.today, len);
        }
        let (number, taken) = count(self.text, start)?;
        let unit_at = start + taken;
        if let Some(named) = weekday_plural(self.word(unit_at)) {
            let more = self.says_any(unit_at + 1, &["ago", "back"])?;
            let weeks = number?.checked_sub(1)?;
            let day = self.last(named).plus(-7 * i64::from(weeks));
            return Read::back(day, unit_at + 1 + more - at);
        }
        let unit = span(self.word(unit_at))?;
        let end = unit_at + 1;
        let ago = self.says_any(end, &["ago", "back", "earlier", "previously", "prior"]);
        if let Some(more) = ago.filter(|_| ahead == 0) {
            let len = end + more - at;
            return match number.and_then(|number| self.shifted(-i64::from(number), unit)) {
                Some(day) => Read::back(day, len),
                None => Read::vague(len, Facing::Past),
            };
        }
        let hence = self.says_any(end, &["from now", "from today", "hence", "'s time", "time"]);
        if ahead == 0 && hence.is_none() {
            return None;
        }
        let len = end + hence.unwrap_or(0) - at;
        match number.and_then(|number| self.shifted(i64::from(number), unit)) {
            Some(day) => Read::forward(day, len),
            None => Read::vague(len, Facing::Future),
        }
    }

    /// "last week", "next month", "the weekend", "the end of the month".
    fn period(&self, at: usize, facing: Facing) -> Option<Read> {
        let today = self.cal.today;
        let monday = self.monday(0);
        let weekend_now = today.days_since(monday) >= 5;
        if let Some(len) = self.says_any(at, &["the week before last", "week before last"]) {
            return Read::back(today.plus(-14), len);
        }
        if let Some(len) = self.says_any(at, &["the weekend before last", "weekend before last"]) {
            return Read::back(monday.plus(-9), len);
        }
        if let Some(len) = self.says_any(at, &["last weekend", "the weekend just gone"]) {
            return Read::back(monday.plus(-2), len);
        }
        if let Some(len) = self.says_any(at, &["next weekend"]) {
            return Read::forward(monday.plus(12), len);
        }
        if let Some(len) = self.says_any(at, &["this weekend", "the weekend", "weekend"]) {
            let day = match (facing, weekend_now) {
                (_, true) => monday.plus(5),
                (Facing::Past, false) => monday.plus(-2),
                (Facing::Future, false) => monday.plus(5),
            };
            return Read::on(day, len);
        }
        if let Some(len) = self.says_any(at, &["last week", "the past week"]) {
            return Read::back(today.plus(-7), len);
        }
        if let Some(len) = self.says_any(at, &["next week"]) {
            return Read::forward(today.plus(7), len);
        }
        if let Some(len) = self.says_any(at, &["last month"]) {
            return Read::back(self.shifted(-1, Span::Month)?, len);
        }
        if let Some(len) = self.says_any(at, &["next month"]) {
            return Read::forward(self.shifted(1, Span::Month)?, len);
        }
        if let Some(len) = self.says_any(at, &["last year"]) {
            return Read::back(self.shifted(-1, Span::Year)?, len);
        }
        if let Some(len) =
            self.says_any(at, &["the end of the week", "end of the week", "end of this week"])
        {
            return Read::forward(monday.plus(6), len);
        }
        if let Some(len) =
            self.says_any(at, &["the end of the month", "end of the month", "end of this month"])
        {
            let first = KitchenDay::new(today.year(), today.month(), 1)?;
            let next = names::months_later(first, 1)?;
            return Read::forward(next.plus(-1), len);
        }
        None
    }

    /// "9th" as 9, in digits with an ending; the tokens it takes.
    fn ordinal(&self, at: usize) -> Option<(u32, usize)> {
        let ending = self.text.is_glued(at + 1)
            && matches!(names::unowned(self.word(at + 1)), "st" | "nd" | "rd" | "th");
        Some((day_number(self.word(at))?, 2)).filter(|_| ending)
    }

    /// "9 march", "march 9th", "the 9th of march 2026".
    fn month_day(&self, at: usize, facing: Facing, expects_day: bool) -> Option<Read> {
        let mut next = at + self.says(at, "the").unwrap_or(0);
        let as_number = |next: usize| Some((day_number(self.word(next))?, 1));
        let (day, named, sure) = if let Some((named, clear)) = month(self.word(next)) {
            next += 1;
            next += self.says(next, "the").unwrap_or(0);
            let as_ordinal = self.ordinal(next);
            let (day, len) = as_ordinal.or_else(|| as_number(next))?;
            next += len;
            (day, named, clear || as_ordinal.is_some())
        } else {
            let in_words = |next: usize| Some((ordinal_word(self.word(next))?, 1));
            let as_ordinal = self.ordinal(next).or_else(|| in_words(next));
            let (day, len) = as_ordinal.or_else(|| as_number(next))?;
            next += len;
            let of = self.says(next, "of");
            next += of.unwrap_or(0);
            let (named, clear) = month(self.word(next))?;
            next += 1;
            (day, named, clear || as_ordinal.is_some() || of.is_some())
        };
        if !sure && !expects_day {
            return None;
        }
        let year_at = next + self.says(next, ",").unwrap_or(0);
        if let Some(year) = names::year(self.word(year_at)) {
            return Read::on(KitchenDay::new(year, named, day)?, year_at + 1 - at);
        }
        Read::on(self.nearest(named, day, facing)?, next - at)
    }

    /// "2026-03-09", "9/3/2026", "9.3.2026", and "9/3" where a day is expected.
    fn numeric(&self, at: usize, facing: Facing, expects_day: bool) -> Option<Read> {
        if self.text.kind(at) != Some(Kind::Number) {
            return None;
        }
        let mut written = self.word(at).to_owned();
        let mut len = 1;
        while len < 5 && matches!(self.word(at + len), "/" | "-") && self.text.is_glued(at + len) {
            written.push_str(self.word(at + len));
            written.push_str(self.word(at + len + 1));
            len += 2;
        }
        let parts = names::date_parts(&written)?;
        if let Some(year) = parts.year {
            let day = if parts.year_first {
                KitchenDay::new(year, parts.first, parts.second)
            } else {
                let ordered = self.ordered(parts.first, parts.second);
                ordered.and_then(|(month, day)| KitchenDay::new(year, month, day))
            };
            return Read::on(day?, len);
        }
        if !expects_day || parts.separator != '/' {
            return None;
        }
        let (month, day) = self.ordered(parts.first, parts.second)?;
        Read::on(self.nearest(month, day, facing)?, len)
    }

    /// Month and day of two written numbers, in the household's order unless only the other fits.
    fn ordered(&self, first: u32, second: u32) -> Option<(u32, u32)> {
        let day_first = match self.cal.order {
            DateOrder::DayFirst => second <= 12,
            DateOrder::MonthFirst => first > 12,
        };
        let (month, day) = if day_first { (second, first) } else { (first, second) };
        ((1..=12).contains(&month) && (1..=31).contains(&day)).then_some((month, day))
    }

    /// "the 9th", "by the 9th".
    fn ordinal_day(&self, at: usize, facing: Facing, expects_day: bool) -> Option<Read> {
        let article = self.says(at, "the").unwrap_or(0);
        let next = at + article;
        let (day, len) = self.ordinal(next)?;
        let in_order = names::COUNTED_IN_ORDER.contains(&self.word(next + len));
        if (article == 0 && !expects_day) || in_order {
            return None;
        }
        let len = article + len;
        let today = self.cal.today;
        let mut first = KitchenDay::new(today.year(), today.month(), 1)?;
        // At most two months in a row lack a day 29 to 31.
        for _ in 0..4 {
            if let Some(found) = KitchenDay::new(first.year(), first.month(), day) {
                let fits = match facing {
                    Facing::Past => found <= today,
                    Facing::Future => found >= today,
                };
                if fits {
                    return Read::on(found, len);
                }
            }
            let step = if facing == Facing::Past { -1 } else { 1 };
            first = names::months_later(first, step)?;
        }
        None
    }

    fn feast(&self, at: usize, facing: Facing) -> Option<Read> {
        let (len, month, day) = FEASTS
            .iter()
            .find_map(|(phrase, month, day)| Some((self.says(at, phrase)?, *month, *day)))?;
        Read::on(self.nearest(month, day, facing)?, len)
    }

    /// The nearest such date on the side looked at, today included.
    fn nearest(&self, month: u32, day: u32, facing: Facing) -> Option<KitchenDay> {
        let today = self.cal.today;
        // A 29 February may be up to eight years away.
        (0..=8).find_map(|years| {
            let years = if facing == Facing::Past { -years } else { years };
            let found = KitchenDay::new(today.year() + years, month, day)?;
            let fits = match facing {
                Facing::Past => found <= today,
                Facing::Future => found >= today,
            };
            fits.then_some(found)
        })
    }

    /// The latest such weekday before today.
    fn last(&self, named: Weekday) -> KitchenDay {
        let today = self.cal.today.weekday().num_days_from_monday();
        let back = (6 + today - named.num_days_from_monday()) % 7 + 1;
        self.cal.today.plus(-i64::from(back))
    }

    /// The first such weekday after today.
    fn next(&self, named: Weekday) -> KitchenDay {
        let today = self.cal.today.weekday().num_days_from_monday();
        let ahead = (6 + named.num_days_from_monday() - today) % 7 + 1;
        self.cal.today.plus(i64::from(ahead))
    }

    /// The Monday of this week plus `weeks`.
    fn monday(&self, weeks: i64) -> KitchenDay {
        let into = i64::from(self.cal.today.weekday().num_days_from_monday());
        self.cal.today.plus(7 * weeks - into)
    }

    fn in_week(&self, named: Weekday, weeks: i64, len: usize) -> Option<Read> {
        let day = self.monday(weeks).plus(i64::from(named.num_days_from_monday()));
        if weeks < 0 { Read::back(day, len) } else { Read::forward(day, len) }
    }

    fn shifted(&self, count: i64, unit: Span) -> Option<KitchenDay> {
        let today = self.cal.today;
        match unit {
            Span::Minute => Some(today.plus(count / (24 * 60))),
            Span::Hour => Some(today.plus(count / 24)),
            Span::Day => Some(today.plus(count)),
            Span::Week => Some(today.plus(7 * count)),
            Span::Fortnight => Some(today.plus(14 * count)),
            Span::Month => names::months_later(today, count),
            Span::Year => names::months_later(today, 12 * count),
        }
    }

    /// The place after "morning", "night" ... when one stands at `at`.
    fn with_part_of_day(&self, at: usize) -> usize {
        let parts =
            ["morning", "lunchtime", "afternoon", "evening", "night", "mornin", "arvo", "nite"];
        at + usize::from(parts.contains(&self.word(at)))
    }
}
