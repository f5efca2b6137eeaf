//! Names of weekdays, months, counts and spans of time, with the misspellings people send.

use chrono::Weekday;

use crate::dates::KitchenDay;
use crate::reader::tokens::Text;

/// A span of time people count in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Span {
    Minute,
    Hour,
    Day,
    Week,
    Fortnight,
    Month,
    Year,
}

impl Span {
    /// Minutes in one span; a month counts as 30 days and a year as 365.
    pub fn minutes(self) -> u32 {
        match self {
            Span::Minute => 1,
            Span::Hour => 60,
            Span::Day => 24 * 60,
            Span::Week => 7 * 24 * 60,
            Span::Fortnight => 14 * 24 * 60,
            Span::Month => 30 * 24 * 60,
            Span::Year => 365 * 24 * 60,
        }
    }
}

pub fn span(word: &str) -> Option<Span> {
    Some(match unowned(word) {
        "minute" | "minutes" | "min" | "mins" => Span::Minute,
        "hour" | "hours" | "hr" | "hrs" | "h" => Span::Hour,
        "day" | "days" | "night" | "nights" | "dys" => Span::Day,
        "week" | "weeks" | "wk" | "wks" => Span::Week,
        "fortnight" | "fortnights" => Span::Fortnight,
        "month" | "months" | "mth" | "mths" => Span::Month,
        "year" | "years" | "yr" | "yrs" => Span::Year,
        _ => return None,
    })
}

/// The word without a closing "'s" or "s'".
pub fn unowned(word: &str) -> &str {
    for ending in ["'s", "\u{2019}s", "'", "\u{2019}"] {
        if let Some(stem) = word.strip_suffix(ending) {
            return stem;
        }
    }
    word
}

/// Known misspellings and short forms of the words days are made of.
pub fn mended(word: &str) -> &str {
    match word {
        "yesturday" | "yesteday" | "yestrday" | "yeserday" | "yestarday" | "ystrday" | "yest"
        | "yesterdays" | "yersterday" | "yday" => "yesterday",
        "todya" | "tday" => "today",
        "tonite" | "tnight" => "tonight",
        "tomorow" | "tommorow" | "tommorrow" | "tomorrows" | "tmrw" | "tmr" | "tmw" | "tomoz"
        | "tomoro" | "tomo" | "tmoro" | "tomrw" => "tomorrow",
        "mornin" | "morn" => "morning",
        "aft" | "arvo" => "afternoon",
        "eve" => "evening",
        "agao" | "agoo" => "ago",
        _ => word,
    }
}

/// A weekday, and whether the word means nothing else.
pub fn weekday(word: &str) -> Option<(Weekday, bool)> {
    Some(match unowned(word) {
        "monday" | "mon" | "mondy" | "munday" | "moday" => (Weekday::Mon, true),
        "tuesday" | "tues" | "tue" | "teusday" | "tuseday" | "tusday" | "tuesdy" => {
            (Weekday::Tue, true)
        }
        "wednesday" | "weds" | "wensday" | "wendsday" | "wednsday" | "wednesdy" | "wedsday"
        | "wednesay" => (Weekday::Wed, true),
        "thursday" | "thurs" | "thur" | "thu" | "thrusday" | "thirsday" | "thursdy" | "thusday" => {
            (Weekday::Thu, true)
        }
        "friday" | "fri" | "firday" | "fryday" | "fridy" | "freiday" => (Weekday::Fri, true),
        "saturday" | "saterday" | "satuday" | "saturdy" | "satruday" => (Weekday::Sat, true),
        "sunday" | "sundy" | "suday" | "sunnday" => (Weekday::Sun, true),
        "sat" => (Weekday::Sat, false),
        "sun" => (Weekday::Sun, false),
        "wed" => (Weekday::Wed, false),
        _ => return None,
    })
}

pub fn weekday_plural(word: &str) -> Option<Weekday> {
    match word {
        "tues" | "weds" | "thurs" => return None,
        _ => {}
    }
    weekday(word.strip_suffix('s')?).map(|(named, _)| named)
}

/// A month's number, and whether the word means nothing else.
pub fn month(word: &str) -> Option<(u32, bool)> {
    Some(match word {
        "january" | "jan" => (1, true),
        "february" | "feb" | "febuary" => (2, true),
        "march" => (3, true),
        "mar" => (3, true),
        "april" | "apr" => (4, true),
        "may" => (5, false),
        "june" | "jun" => (6, true),
        "july" | "jul" => (7, true),
        "august" | "aug" => (8, true),
        "september" | "sept" | "sep" => (9, true),
        "october" | "oct" => (10, true),
        "november" | "nov" => (11, true),
        "december" | "dec" => (12, true),
        _ => return None,
    })
}

/// "ninth" as 9. Only read beside a month, where it can mean nothing else.
pub fn ordinal_word(word: &str) -> Option<u32> {
    const WORDS: [&str; 12] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    let at = WORDS.iter().position(|known| *known == word)?;
    u32::try_from(at + 1).ok()
}

/// A day of the month written in digits.
pub fn day_number(word: &str) -> Option<u32> {
    let digits = word.len() <= 2 && word.bytes().all(|b| b.is_ascii_digit());
    let number = digits.then(|| word.parse().ok()).flatten()?;
    (1..=31).contains(&number).then_some(number)
}

/// A four-digit year of this age.
pub fn year(word: &str) -> Option<i32> {
    let plausible = word.len() == 4 && word.bytes().all(|b| b.is_ascii_digit());
    let year = plausible.then(|| word.parse().ok()).flatten()?;
    (1970..=2199).contains(&year).then_some(year)
}

/// What may follow "the 9th" and make it a place in an order, not a day.
pub const COUNTED_IN_ORDER: &[&str] = &[
    "floor",
    "grade",
    "birthday",
    "street",
    "st",
    "avenue",
    "ave",
    "century",
    "time",
    "one",
    "place",
    "anniversary",
    "shelf",
    "row",
    "year",
    "person",
    "day",
    "week",
    "month",
    "attempt",
];

/// The numbers of a written date and how they were set apart.
pub struct DateParts {
    pub first: u32,
    pub second: u32,
    pub year: Option<i32>,
    pub year_first: bool,
    pub separator: char,
}

/// "2026-03-09", "9/3/26", "9.3.2026", "9/3"; nothing for other texts.
pub fn date_parts(text: &str) -> Option<DateParts> {
    let separator = text.chars().find(|c| !c.is_ascii_digit()).filter(|c| "/-.".contains(*c))?;
    let parts: Vec<&str> = text.split(separator).collect();
    if parts.iter().any(|part| part.is_empty() || !part.bytes().all(|b| b.is_ascii_digit())) {
        return None;
    }
    match parts[..] {
        [year, first, second] if year.len() == 4 => Some(DateParts {
            first: small(first)?,
            second: small(second)?,
            year: self::year(year),
            year_first: true,
            separator,
        }),
        [first, second, year] if year.len() == 4 || year.len() == 2 => {
            let short: i32 = year.parse().ok()?;
            let year = if year.len() == 2 { 2000 + short } else { self::year(year)? };
            let (first, second) = (small(first)?, small(second)?);
            Some(DateParts { first, second, year: Some(year), year_first: false, separator })
        }
        [first, second] => {
            let (first, second) = (small(first)?, small(second)?);
            Some(DateParts { first, second, year: None, year_first: false, separator })
        }
        _ => None,
    }
}

fn small(digits: &str) -> Option<u32> {
    (digits.len() <= 2).then(|| digits.parse().ok()).flatten()
}

/// A counting phrase at `at`: the number (`None` for "a few") and the tokens it takes. Of "2 or 3"
/// it is the larger: the older day and the longer stay are the safer readings.
pub fn count(text: &Text<'_>, at: usize) -> Option<(Option<u32>, usize)> {
    let (number, len) = count_once(text, at)?;
    let next = at + len;
    if matches!(text.word(next), "or" | "to" | "-")
        && let Some((Some(other), more)) = count_once(text, next + 1)
        && span(text.word(next + 1 + more)).is_some()
    {
        return Some((number.max(Some(other)), next + 1 + more - at));
    }
    Some((number, len))
}

fn count_once(text: &Text<'_>, at: usize) -> Option<(Option<u32>, usize)> {
    const HEDGES: [&str; 10] =
        ["about", "around", "roughly", "over", "nearly", "almost", "like", "maybe", "some", "only"];
    let mut first = at + usize::from(HEDGES.contains(&text.word(at)));
    let article = matches!(text.word(first), "a" | "an" | "the" | "last" | "past");
    let loose = first + usize::from(article);
    match text.word(loose) {
        "couple" | "cpl" | "coupla" => {
            let of = usize::from(text.word(loose + 1) == "of");
            return Some((Some(2), loose + 1 + of - at));
        }
        "few" | "several" => return Some((None, loose + 1 - at)),
        _ => {}
    }
    if matches!(text.word(first), "the" | "last" | "past") {
        first += 1;
    }
    if matches!(text.word(first), "a" | "an") {
        return Some((Some(1), first + 1 - at));
    }
    Some((Some(whole_number(text.word(first))?), first + 1 - at))
}

/// A whole number in digits or in words up to forty.
pub fn whole_number(word: &str) -> Option<u32> {
    const WORDS: [&str; 20] = [
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
    ];
    if let Some(at) = WORDS.iter().position(|known| *known == word) {
        return u32::try_from(at + 1).ok();
    }
    match word {
        "thirty" => Some(30),
        "forty" => Some(40),
        _ => (word.len() <= 4).then(|| word.parse().ok()).flatten(),
    }
}

/// The same day of the month so many months on, or the month's last day where it lacks it.
pub fn months_later(day: KitchenDay, months: i64) -> Option<KitchenDay> {
    let whole = i64::from(day.year()) * 12 + i64::from(day.month()) - 1 + months;
    let year = i32::try_from(whole.div_euclid(12)).ok()?;
    let month = u32::try_from(whole.rem_euclid(12)).ok()? + 1;
    (0..4).find_map(|short| KitchenDay::new(year, month, day.day_of_month().checked_sub(short)?))
}
