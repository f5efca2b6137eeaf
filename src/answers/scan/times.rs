//! How long, how old and how warm.

use super::Scan;
use crate::answers::words::Danger;
use crate::rules::Topic;

const DAY: u32 = 24 * 60;
const YEAR: u32 = 365 * DAY;
/// Up to this age a person counts as an infant here, in minutes.
const INFANCY: u32 = 3 * YEAR;
/// From this age on a person is one of the older ones at risk, in minutes.
///
/// # Source
/// FoodSafety.gov, people at risk: older adults (65 and older).
const OLD_AGE: u32 = 65 * YEAR;

/// Words for a person whose age may follow.
const PERSONS: &[&str] = &[
    "he",
    "she",
    "hes",
    "shes",
    "son",
    "daughter",
    "baby",
    "child",
    "kid",
    "grandson",
    "granddaughter",
    "niece",
    "nephew",
    "brother",
    "sister",
    "mum",
    "mom",
    "mother",
    "dad",
    "father",
    "gran",
    "granny",
    "grandma",
    "grandmother",
    "nan",
    "nana",
    "grandad",
    "granddad",
    "grandpa",
    "grandfather",
    "aunt",
    "auntie",
    "uncle",
    "neighbour",
    "neighbor",
    "husband",
    "wife",
];

impl Scan<'_> {
    /// The longest length of time said. The age of a person is none of the food's.
    pub(super) fn find_ages(&mut self) {
        let tokens = &self.tokens;
        let said = |i: usize, word: &str| tokens.get(i).is_some_and(|token| token == word);
        let mut longest: Option<u32> = None;
        let mut people = Vec::new();
        for (i, word) in tokens.iter().enumerate() {
            let after = |before: &str| i > 0 && said(i - 1, before);
            let named = match word.as_str() {
                "overnight" => Some(8 * 60),
                "fortnight" => Some(14 * DAY),
                "night" if after("all") || after("last") => Some(8 * 60),
                "day" if after("all") => Some(10 * 60),
                "yesterday" => Some(DAY),
                "week" if after("last") => Some(7 * DAY),
                "month" if after("last") => Some(30 * DAY),
                "year" if after("last") => Some(365 * DAY),
                _ => None,
            };
            // "4day", "10hrs", "3 days", "a couple of weeks".
            let digits = word.chars().take_while(char::is_ascii_digit).count();
            let (number, rest) = word.split_at(digits);
            let glued = if digits > 0 { span(number.parse().ok(), rest) } else { None };
            let spaced = number_before(tokens, i).and_then(|n| span(Some(n), word));
            let minutes = named.max(glued).max(spaced);
            let grown = ["month", "months", "year", "years"].contains(&word.as_str());
            if grown && said(i + 1, "old") && self.is_person(i + 1) {
                people.extend(minutes.map(|minutes| (i, minutes)));
                continue;
            }
            longest = longest.max(minutes);
        }
        people.extend(self.stated_ages());
        self.minutes = longest;
        for (i, minutes) in people {
            let topic = match minutes {
                ..=INFANCY => Topic::Infants,
                OLD_AGE.. => Topic::Illness,
                _ => continue,
            };
            self.dangers.push((i..i + 1, Danger::Guided(topic)));
        }
    }

    /// "Grandad is 92", "she is 8 months": an age said of a person, with its place.
    fn stated_ages(&self) -> Vec<(usize, u32)> {
        let person = self.tokens.iter().position(|w| PERSONS.contains(&w.as_str()));
        let Some(person) = person else { return Vec::new() };
        let said = |i: usize, words: &[&str]| {
            self.tokens.get(i).is_some_and(|word| words.contains(&word.as_str()))
        };
        let ages = (person + 1..self.tokens.len()).filter_map(|i| {
            let number: u32 = self.tokens[i].parse().ok()?;
            let told = said(
                i - 1,
                &["is", "aged", "turned", "turning", "nearly", "almost", "hes", "shes"],
            );
            let unit =
                if said(i + 1, &["months", "month", "weeks", "week"]) { 30 * DAY } else { YEAR };
            let other =
                said(i + 1, &["days", "day", "hours", "hour", "minutes", "percent", "kg", "lb"]);
            (told && !other).then_some((i, number.saturating_mul(unit)))
        });
        ages.collect()
    }

    /// "For a 3 year old", "my two year old son", never "a 2 year old cheese".
    fn is_person(&self, old: usize) -> bool {
        let food = self.foods.iter().any(|hit| hit.tokens.start == old + 1);
        let owners = ["a", "an", "my", "our", "his", "her", "for", "the", "their", "your"];
        let before = &self.tokens[old.saturating_sub(4)..old];
        !food && before.iter().any(|word| owners.contains(&word.as_str()))
    }
}

fn span(n: Option<u32>, unit: &str) -> Option<u32> {
    let minutes = match unit {
        "minute" | "minutes" | "min" | "mins" => 1,
        "h" | "hr" | "hrs" | "hour" | "hours" => 60,
        "d" | "day" | "days" | "night" | "nights" => DAY,
        "wk" | "wks" | "week" | "weeks" => 7 * DAY,
        "month" | "months" => 30 * DAY,
        "year" | "years" | "yr" | "yrs" => 365 * DAY,
        "decade" | "decades" => 3650 * DAY,
        _ => return None,
    };
    n?.checked_mul(minutes)
}

/// The number said right before token `i` ("3 days", "a few weeks", "half an hour").
fn number_before(tokens: &[String], i: usize) -> Option<u32> {
    let mut at = i.checked_sub(1)?;
    while ["of", "more", "whole", "full", "good", "solid", "an", "old"]
        .contains(&tokens[at].as_str())
    {
        at = at.checked_sub(1)?;
    }
    if let Ok(n) = tokens[at].parse() {
        return Some(n);
    }
    let n = match tokens[at].as_str() {
        "a" | "one" | "half" => 1,
        "two" | "couple" => 2,
        "three" => 3,
        "four" | "few" => 4,
        "five" | "several" => 5,
        "six" => 6,
        "seven" => 7,
        "eight" => 8,
        "nine" => 9,
        "ten" => 10,
        "eleven" => 11,
        "twelve" => 12,
        "fourteen" => 14,
        "twenty" => 20,
        "thirty" => 30,
        _ => return (tokens[at + 1..i] == ["an".to_owned()]).then_some(1),
    };
    Some(n)
}

/// A temperature said, in degrees Celsius ("35c", "95 f", "30 degrees").
pub(super) fn temperature(tokens: &[String]) -> Option<f64> {
    let read = |i: usize| {
        let word = &tokens[i];
        let digits = word.chars().take_while(char::is_ascii_digit).count();
        let (number, rest) = word.split_at(digits);
        let value: f64 = number.parse().ok()?;
        let next = tokens.get(i + 1).map_or("", String::as_str);
        let after = tokens.get(i + 2).map_or("", String::as_str);
        let unit = if rest.is_empty() { next } else { rest };
        let unit = if ["degrees", "degree", "deg"].contains(&unit) { after } else { unit };
        match unit {
            "c" | "celsius" | "centigrade" => Some(value),
            "f" | "fahrenheit" => Some((value - 32.0) * 5.0 / 9.0),
            _ => None,
        }
    };
    (0..tokens.len()).find_map(read)
}
