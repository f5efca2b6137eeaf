//! Settings said to the bot: "post at 7:30", "the porch is 7C", "we are 5 people".

use std::ops::Range;

use super::matters;
use crate::dates::Zone;
use crate::reader::{Analysis, amounts, prices};
use crate::statement::Statement;
use crate::units::{Dimension, Ratio};
use crate::words::Intent;

/// A setting, when the bot is spoken to.
pub fn read(a: &Analysis<'_>, range: &Range<usize>) -> Option<Statement> {
    if !a.context.addressed {
        return None;
    }
    let (key, value) = Told { a, range }.setting()?;
    let mut statement = Statement::new(Intent::Setting);
    statement.setting = Some((key, value));
    Some(statement)
}

struct Told<'a> {
    a: &'a Analysis<'a>,
    range: &'a Range<usize>,
}

impl Told<'_> {
    fn word(&self, i: usize) -> &str {
        if self.range.contains(&i) { self.a.text.word(i) } else { "" }
    }

    fn says(&self, phrase: &str) -> Option<usize> {
        let len = phrase.split(' ').count();
        let at = |i: usize| phrase.split(' ').enumerate().all(|(k, word)| self.word(i + k) == word);
        self.range.clone().find(|i| at(*i)).map(|i| i + len)
    }

    fn says_any(&self, phrases: &[&str]) -> Option<usize> {
        phrases.iter().find_map(|phrase| self.says(phrase))
    }

    /// "the most we pay for leeks is 2.40 a kilo": a price that is not to be passed.
    fn ceiling(&self) -> Option<(String, String)> {
        self.says_any(&[
            "most we pay",
            "most i pay",
            "pay at most",
            "pay no more",
            "no more than",
            "not more than",
            "price limit",
            "price ceiling",
            "limit for",
            "ceiling for",
            "too dear above",
            "too expensive above",
        ])?;
        let food = self.a.foods_in(self.range.clone()).next()?;
        let entry = self.a.lexicon.entry(food.entry);
        let key = entry.food.as_ref().map_or(entry.name.as_str(), |id| id.as_str());
        let price = self.range.clone().find_map(|i| {
            let price = prices::at(self.a, i, self.range.end)?.price;
            (price.quantity.is_none()).then_some(price)
        })?;
        let scale = i64::from(10_u32.pow(self.a.context.currency.decimals()));
        let value = Ratio::new(price.minor.0, scale)?.to_f64();
        let per = price.per.map(|unit| format!("/{}", unit.word())).unwrap_or_default();
        Some((format!("ceiling:{key}"), format!("{value}{per}")))
    }

    /// "the trimmings bag holds 2 litres".
    fn bag(&self) -> Option<String> {
        self.says_any(&["trimmings bag", "stock bag", "scrap bag", "scraps bag"])?;
        self.says_any(&["holds", "is", "takes", "fits", "size", "of"])?;
        let amount = self.range.clone().find_map(|i| amounts::read(self.a, i, self.range.end))?;
        let (quantity, unit) = (amount.quantity?, amount.unit?);
        (unit.dimension() == Dimension::Volume)
            .then(|| format!("{} {}", quantity.to_f64(), unit.word()))
    }

    fn setting(&self) -> Option<(String, String)> {
        let known = |key: &str, value: String| Some((key.to_owned(), value));
        if self.range.len() > 16 || self.says("?").is_some() {
            return None;
        }
        if let Some(place) = self.temperature() {
            return Some(place);
        }
        if let Some(value) = self.learning() {
            return known("learning", value.to_owned());
        }
        let time = self.time();
        let evening = self.says_any(&["evening round", "evening reminder", "evening", "remind"]);
        if let (Some(_), Some(time)) = (evening, time.clone()) {
            return known("evening", time);
        }
        let post = self.says_any(&[
            "post at",
            "morning post",
            "post the list",
            "post every",
            "post in the morning",
            "post",
            "send the list",
            "daily post",
            "list at",
        ]);
        if let (Some(_), Some(time)) = (post, time) {
            return known("post", time);
        }
        if self
            .says_any(&["time zone", "timezone", "our zone", "we live in", "we are in", "tz"])
            .is_some()
            && let Some(zone) = self.zone()
        {
            return known("tz", zone);
        }
        if let Some(zone) = self.zone() {
            return known("tz", zone);
        }
        if let Some(count) = self.people() {
            return known("people", count);
        }
        if let Some(currency) = self.currency() {
            return known("currency", currency);
        }
        if self
            .says_any(&[
                "units",
                "use metric",
                "metric",
                "use us",
                "use pounds",
                "use kilos",
                "use imperial",
                "grams please",
            ])
            .is_some()
        {
            let metric =
                self.says_any(&["metric", "kilos", "grams", "kilograms", "celsius"]).is_some();
            let us = self
                .says_any(&["us", "pounds", "imperial", "ounces", "american", "customary"])
                .is_some();
            return match (metric, us) {
                (true, false) => known("units", "metric".to_owned()),
                (false, true) => known("units", "us".to_owned()),
                _ => None,
            };
        }
        if self.says_any(&["reaction", "reactions", "thumbs up", "react"]).is_some() {
            return known("ack", "reaction".to_owned());
        }
        if self
            .says_any(&[
                "answer in one line",
                "reply in one line",
                "confirm in words",
                "ack line",
                "plain style",
                "in words",
            ])
            .is_some()
        {
            return known("ack", "line".to_owned());
        }
        if self
            .says_any(&[
                "quiet days",
                "skip quiet days",
                "skip days with nothing",
                "post only when",
            ])
            .is_some()
            || self.says_any(&["nothing presses", "nothing is due", "nothing's due"]).is_some()
        {
            let off = self.says_any(&["off", "no", "post every day"]).is_some();
            return known("quiet_days", if off { "no" } else { "yes" }.to_owned());
        }
        if let Some(ceiling) = self.ceiling() {
            return Some(ceiling);
        }
        if let Some(volume) = self.bag() {
            return known("bag", volume);
        }
        if let Some(at) = self.says_any(&["budget is", "budget of", "budget", "monthly budget is"])
            && let Some(amount) = self.number_from(at)
        {
            return known("budget", amount);
        }
        if let Some(at) =
            self.says_any(&["waste target is", "target is", "target of", "target", "aim for"])
            && let Some(amount) = self.number_from(at)
        {
            return known("target", amount);
        }
        if let Some(at) = self.says_any(&["country is", "country", "we live in", "our country is"])
        {
            let value = self.rest(at)?;
            return known("country", value);
        }
        if self
            .says_any(&[
                "language",
                "lang",
                "speak",
                "answer in",
                "reply in",
                "talk in",
                "write in",
            ])
            .is_some()
        {
            let code = self.range.clone().find_map(|i| matters::language(self.word(i)))?;
            return known("lang", code.to_owned());
        }
        None
    }

    /// "forget what you learned", "stop learning", "learning on".
    fn learning(&self) -> Option<&'static str> {
        let forget = self.says_any(&["forget what", "forget everything", "forget all", "reset"]);
        let learned = self.says_any(&["learned", "learnt", "learning", "learn"])?;
        if forget.is_some() || self.says("start over").is_some() {
            return Some("forget");
        }
        let off = self.says_any(&["stop", "off", "no", "don't", "do not", "disable", "without"]);
        let on = self.says_any(&["on", "start", "enable", "again"]);
        match (off, on) {
            (Some(_), _) => Some("off"),
            (None, Some(_)) => Some("on"),
            // "learning" alone says nothing; a value may follow it.
            (None, None) => match self.word(learned) {
                "yes" => Some("on"),
                _ => None,
            },
        }
    }

    /// "the porch is 7C", "porch is at 7 degrees", "set the cellar to 12 c".
    fn temperature(&self) -> Option<(String, String)> {
        let number = self
            .range
            .clone()
            .find(|i| self.a.text.number(*i).is_some() && self.degree(*i).is_some())?;
        let (unit, _) = self.degree(number)?;
        let mut start = number;
        let mut below = false;
        while start > self.range.start {
            match self.word(start - 1) {
                "is" | "at" | "to" | "about" | "around" | "now" | "=" | ":" | "'s" | "are" => {
                    start -= 1
                }
                "-" | "minus" => {
                    below = true;
                    start -= 1;
                }
                _ => break,
            }
        }
        let end = start;
        while start > self.range.start
            && self.a.text.is_word(start - 1)
            && !matches!(
                self.word(start - 1),
                "the" | "our" | "my" | "set" | "larderling" | "in" | "it's" | "its"
            )
        {
            start -= 1;
        }
        let name = (start..end).map(|i| self.word(i)).collect::<Vec<_>>().join(" ");
        if name.is_empty() || name.split(' ').count() > 3 {
            return None;
        }
        let sign = if below { "-" } else { "" };
        Some((format!("place:{name}"), format!("{sign}{}{unit}", self.word(number))))
    }

    /// The scale after a number: "7C", "7 degrees", "45 F".
    fn degree(&self, number: usize) -> Option<(&'static str, usize)> {
        match self.word(number + 1) {
            "c" | "celsius" => Some(("C", number + 2)),
            "f" | "fahrenheit" => Some(("F", number + 2)),
            "°" | "degrees" | "degree" | "deg" | "º" => match self.word(number + 2) {
                "f" | "fahrenheit" => Some(("F", number + 3)),
                "c" | "celsius" => Some(("C", number + 3)),
                _ => Some(("C", number + 2)),
            },
            _ => None,
        }
    }

    /// A time of day as `HH:MM`.
    fn time(&self) -> Option<String> {
        for i in self.range.clone() {
            let Some(hour) =
                self.a.text.number(i).filter(|n| n.denom() == 1 && (0..24).contains(&n.numer()))
            else {
                if let Some((hour, minute)) =
                    self.word(i).split_once('.').filter(|_| self.a.text.number(i).is_some())
                    && let (Ok(hour), Ok(minute)) = (hour.parse::<u32>(), minute.parse::<u32>())
                    && hour < 24
                    && minute < 60
                    && self.word(i).ends_with(&format!("{minute:02}"))
                {
                    return Some(self.clock(hour, minute, i + 1));
                }
                continue;
            };
            let hour = u32::try_from(hour.numer()).ok()?;
            if self.word(i + 1) == ":" {
                let minute: u32 = self.word(i + 2).parse().ok().filter(|m| *m < 60)?;
                return Some(self.clock(hour, minute, i + 3));
            }
            let marked = matches!(
                self.word(i + 1),
                "am" | "pm" | "o'clock" | "oclock" | "h" | "uhr" | "a" | "p"
            ) || i.checked_sub(1).is_some_and(|before| self.word(before) == "at");
            if marked {
                return Some(self.clock(hour, 0, i + 1));
            }
        }
        None
    }

    fn clock(&self, hour: u32, minute: u32, next: usize) -> String {
        let hour = match self.word(next) {
            "pm" if hour < 12 => hour + 12,
            "am" if hour == 12 => 0,
            _ => hour,
        };
        format!("{hour:02}:{minute:02}")
    }

    /// An IANA zone name as written ("Europe/Berlin").
    fn zone(&self) -> Option<String> {
        let original = self.a.text.original();
        let name = original.split_whitespace().find(|word| word.contains('/'));
        let name = name.map(|name| name.trim_matches(|c: char| !c.is_alphanumeric()));
        let named = name.and_then(|name| name.parse::<Zone>().ok());
        named.or_else(|| self.city()).map(|zone| zone.name().to_owned())
    }

    /// "our time zone is Vienna", "we live in Buenos Aires".
    fn city(&self) -> Option<Zone> {
        let said = ["time zone", "timezone", "our zone", "we live in", "we are in", "tz"];
        let at = self.says_any(&said)?;
        let words: Vec<&str> = (at..self.range.end)
            .filter(|i| self.a.text.is_word(*i) && !matches!(self.word(*i), "is" | "to" | "of"))
            .map(|i| self.word(i))
            .collect();
        Zone::named(&words.join(" "))
    }

    /// "we are 5", "5 people here", "there are six of us".
    fn people(&self) -> Option<String> {
        let at = self.says_any(&[
            "we are",
            "we're",
            "there are",
            "there's",
            "people",
            "household of",
            "cooking for",
        ])?;
        let people = self
            .says_any(&[
                "people",
                "of us",
                "eaters",
                "persons",
                "household of",
                "in the house",
                "mouths",
            ])
            .is_some()
            || (self.says_any(&["we are", "we're"]).is_some() && at + 1 >= self.range.end);
        let number =
            self.range.clone().find_map(|i| crate::reader::days::whole_number(self.word(i)))?;
        let temporary = self
            .says_any(&[
                "tonight",
                "tomorrow",
                "today",
                "on",
                "for dinner",
                "guests",
                "weekend",
                "this",
            ])
            .is_some();
        (people && !temporary).then(|| number.to_string())
    }

    fn currency(&self) -> Option<String> {
        self.says_any(&[
            "currency",
            "prices are in",
            "prices in",
            "we pay in",
            "money is in",
            "use euros",
            "use dollars",
            "in euros",
        ])?;
        const NAMES: &[(&str, &str)] = &[
            ("euro", "EUR"),
            ("euros", "EUR"),
            ("eur", "EUR"),
            ("dollars", "USD"),
            ("dollar", "USD"),
            ("usd", "USD"),
            ("gbp", "GBP"),
            ("pounds", "GBP"),
            ("francs", "CHF"),
            ("chf", "CHF"),
            ("yen", "JPY"),
            ("jpy", "JPY"),
            ("zloty", "PLN"),
            ("pln", "PLN"),
            ("kroner", "DKK"),
            ("dkk", "DKK"),
            ("sek", "SEK"),
            ("nok", "NOK"),
            ("cad", "CAD"),
            ("aud", "AUD"),
            ("nzd", "NZD"),
            ("inr", "INR"),
            ("rupees", "INR"),
        ];
        NAMES.iter().find(|(name, _)| self.says(name).is_some()).map(|(_, code)| (*code).to_owned())
    }

    fn number_from(&self, at: usize) -> Option<String> {
        let i = (at..self.range.end).find(|i| self.a.text.number(*i).is_some())?;
        Some(self.word(i).to_owned())
    }

    fn rest(&self, at: usize) -> Option<String> {
        let words: Vec<&str> = (at..self.range.end)
            .filter(|i| {
                self.a.text.is_word(*i) && !matches!(self.a.text.word(*i), "is" | "the" | "in")
            })
            .map(|i| self.a.text.word(i))
            .collect();
        (!words.is_empty() && words.len() <= 3).then(|| words.join(" "))
    }
}
