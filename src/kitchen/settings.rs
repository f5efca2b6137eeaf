//! A household's settings, with their defaults.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::event::PersonId;
use crate::dates::{self, Instant, KitchenDay, Zone};
use crate::statement::Price;
use crate::units::{Currency, Minor, Quantity, Ratio, Unit};

/// What a household has set. Changed only by `SettingChanged` events.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    pub zone: Zone,
    /// Local time of the morning post, `HH:MM`.
    pub post: String,
    /// Local time of the evening round, `HH:MM`.
    pub evening: String,
    pub units: UnitSystem,
    /// How many people eat.
    pub people: u32,
    pub currency: Currency,
    /// ISO 3166 code of the country, for poison and emergency numbers.
    pub country: Option<String>,
    pub ack: Acknowledge,
    /// Primary language subtag of the posts.
    pub lang: String,
    /// Waste share aimed at, in per cent.
    pub target_percent: Option<u32>,
    /// Food money for a calendar month.
    pub budget: Option<Minor>,
    /// Skip the one-line post on days on which nothing presses.
    pub quiet_days: bool,
    /// Let the household's own outcomes sharpen the quality clock.
    #[serde(default = "yes")]
    pub learning: bool,
    /// The household's own places, and the trade's where it has told us a temperature: degrees
    /// Celsius from a day on, oldest first.
    pub places: BTreeMap<String, Vec<(KitchenDay, f64)>>,
    /// Units of the household's own, in the singular, with the grams of one.
    #[serde(default)]
    pub own_units: BTreeMap<String, i64>,
    /// The most the household means to pay, by ledger key.
    #[serde(default)]
    pub ceilings: BTreeMap<String, Price>,
    /// What the trimmings bag holds, in millilitres.
    #[serde(default = "usual_bag")]
    pub bag_ml: u32,
    /// Whoever let the bot in: decides for all, beside the administrators of the chat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub host: Option<PersonId>,
    /// Local hours in which nothing makes a sound, `HH:MM` to `HH:MM`; `None` for never.
    #[serde(default = "Settings::usual_quiet")]
    pub quiet: Option<(String, String)>,
    /// Who did what may be told to the group.
    #[serde(default)]
    pub names: bool,
    /// What single people have chosen for themselves.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub ways: BTreeMap<PersonId, Ways>,
}

/// How one person wants to be spoken to.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Ways {
    pub style: Style,
    /// Primary language subtag; `None` is the household's.
    pub lang: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Style {
    #[default]
    Usual,
    /// Words instead of reactions and signs, one thing to a line, posts copied to a private chat.
    Plain,
    /// Two short sentences, the strictest verdict, and a grown-up to show it to.
    Child,
}

impl Style {
    pub const ALL: &'static [Style] = &[Style::Usual, Style::Plain, Style::Child];

    pub fn word(self) -> &'static str {
        match self {
            Style::Usual => "usual",
            Style::Plain => "plain",
            Style::Child => "child",
        }
    }
}

/// The bag until the household tells its own.
fn usual_bag() -> u32 {
    USUAL_BAG_ML
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    Us,
    Metric,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Acknowledge {
    Line,
    Reaction,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            zone: Zone::UTC,
            post: "07:00".to_owned(),
            evening: "19:00".to_owned(),
            units: UnitSystem::Us,
            people: 2,
            currency: Currency::unnamed(),
            country: None,
            ack: Acknowledge::Line,
            lang: "en".to_owned(),
            target_percent: None,
            budget: None,
            quiet_days: false,
            learning: true,
            places: BTreeMap::new(),
            own_units: BTreeMap::new(),
            host: None,
            quiet: Settings::usual_quiet(),
            names: false,
            ways: BTreeMap::new(),
            ceilings: BTreeMap::new(),
            bag_ml: USUAL_BAG_ML,
        }
    }
}

/// Why a value is not taken. The text is for people who write configuration; chats get theirs
/// from `wording`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SettingError {
    #[error("there is no setting {0:?}")]
    Unknown(String),
    #[error("{key} takes {wanted}, not {value:?}")]
    Value { key: String, value: String, wanted: &'static str },
}

/// How many people a household may have.
const PEOPLE: std::ops::RangeInclusive<u32> = 1..=200;
/// Waste share one can aim at, in per cent.
const TARGET_PERCENT: std::ops::RangeInclusive<u32> = 0..=100;
/// Temperatures of a place where food is kept, in degrees Celsius.
const PLACE_C: std::ops::RangeInclusive<f64> = -40.0..=50.0;
/// The weight of one unit of the household's own, in grams.
const UNIT_GRAMS: std::ops::RangeInclusive<i64> = 1..=200_000;
/// The largest budget, in whole units of the currency.
const BUDGET_MAX: i64 = 100_000_000;
/// The trimmings bag until the household tells its own: a freezer bag of about a gallon [D].
const USUAL_BAG_ML: u32 = 4_000;
/// What a trimmings bag may hold, in millilitres.
const BAG_ML: std::ops::RangeInclusive<i64> = 200..=100_000;
/// The longest name of a place, in characters.
const PLACE_NAME_CHARS: usize = 40;

impl Settings {
    /// The keys of DESIGN section 11, in its order.
    pub const KEYS: &'static [&'static str] = &[
        "tz",
        "post",
        "evening",
        "units",
        "people",
        "currency",
        "country",
        "ack",
        "lang",
        "target",
        "budget",
        "quiet_days",
        Settings::LEARNING,
        "quiet",
        "names",
        "host",
    ];

    /// The key of the setting that turns learning on and off.
    pub const LEARNING: &'static str = "learning";
    /// Its value that forgets what was learned, and learns anew from then on.
    pub const FORGET: &'static str = "forget";

    /// Nothing makes a sound at night.
    fn usual_quiet() -> Option<(String, String)> {
        Some(("22:00".to_owned(), "06:00".to_owned()))
    }

    /// How `person` wants to be spoken to.
    pub fn ways_of(&self, person: PersonId) -> Ways {
        self.ways.get(&person).cloned().unwrap_or_default()
    }

    /// Whether `now` lies in the quiet hours.
    pub fn is_quiet(&self, now: Instant) -> bool {
        let Some((from, to)) = &self.quiet else { return false };
        let time = now.local(self.zone).1.format("%H:%M").to_string();
        if from <= to { *from <= time && time < *to } else { *from <= time || time < *to }
    }

    /// Whether a key states a fact of the kitchen or one person's own way, so that anybody may set
    /// it.
    pub fn is_everyday(key: &str) -> bool {
        let kind = key.split_once(':').map_or(key, |(kind, _)| kind);
        matches!(kind, "place" | "person" | "ceiling" | "bag" | "people")
    }

    /// Sets one value from its words: a key of [`Settings::KEYS`], `person:ID:style` or
    /// `person:ID:lang`, or `place:NAME` with a temperature ("7C", "45 F", "7") that holds from
    /// `day` on.
    pub fn set(&mut self, key: &str, value: &str, day: KitchenDay) -> Result<(), SettingError> {
        let value = value.trim();
        let wrong =
            |wanted| SettingError::Value { key: key.to_owned(), value: value.to_owned(), wanted };
        let word = value.to_lowercase();
        let none = matches!(word.as_str(), "none" | "off" | "no" | "");
        match key {
            "tz" => {
                let wanted = "an IANA time zone name such as Europe/Berlin";
                self.zone = Zone::named(value).ok_or_else(|| wrong(wanted))?;
            }
            "post" => self.post = clock(value).ok_or_else(|| wrong("a time such as 07:00"))?,
            "evening" => {
                self.evening = clock(value).ok_or_else(|| wrong("a time such as 19:00"))?;
            }
            "units" => {
                self.units = match word.as_str() {
                    "us" | "imperial" | "pounds" => UnitSystem::Us,
                    "metric" | "kilos" | "grams" => UnitSystem::Metric,
                    _ => return Err(wrong("us or metric")),
                };
            }
            "people" => {
                let people = word.parse().ok().filter(|people| PEOPLE.contains(people));
                self.people = people.ok_or_else(|| wrong("a number from 1 to 200"))?;
            }
            "currency" => {
                let currency = Currency::new(value);
                self.currency = currency.ok_or_else(|| wrong("a three-letter code such as EUR"))?;
            }
            "country" => {
                let code = value.len() == 2 && value.bytes().all(|b| b.is_ascii_alphabetic());
                if !none && !code {
                    return Err(wrong("a two-letter country code such as IE"));
                }
                self.country = (!none).then(|| value.to_ascii_uppercase());
            }
            "ack" => {
                self.ack = match word.as_str() {
                    "line" | "text" => Acknowledge::Line,
                    "reaction" => Acknowledge::Reaction,
                    _ => return Err(wrong("line or reaction")),
                };
            }
            "lang" => {
                let letters = word.bytes().all(|b| b.is_ascii_lowercase());
                if !(2..=3).contains(&word.len()) || !letters {
                    return Err(wrong("a language code such as en"));
                }
                self.lang = word;
            }
            "target" => {
                let number = word.trim_end_matches('%').trim().parse().ok();
                let percent = number.filter(|percent| TARGET_PERCENT.contains(percent));
                if !none && percent.is_none() {
                    return Err(wrong("a whole number of per cent from 0 to 100"));
                }
                self.target_percent = percent.filter(|_| !none);
            }
            "budget" => {
                let budget = self.money(&word);
                if !none && budget.is_none() {
                    return Err(wrong("an amount of money for a month, such as 400"));
                }
                self.budget = budget.filter(|_| !none);
            }
            "quiet_days" => {
                self.quiet_days = match word.as_str() {
                    "yes" | "on" | "true" => true,
                    "no" | "off" | "false" => false,
                    _ => return Err(wrong("yes or no")),
                };
            }
            Settings::LEARNING => {
                self.learning = match word.as_str() {
                    "yes" | "on" | "true" | Settings::FORGET => true,
                    "no" | "off" | "false" => false,
                    _ => return Err(wrong("on, off or forget")),
                };
            }
            "quiet" => {
                let hours = || {
                    let (from, to) = word.split_once('-')?;
                    Some((clock(from.trim())?, clock(to.trim())?)).filter(|(from, to)| from != to)
                };
                let hours = hours();
                if !none && hours.is_none() {
                    return Err(wrong("two times such as 22:00-06:00, or none"));
                }
                self.quiet = hours.filter(|_| !none);
            }
            "names" => {
                self.names = match word.as_str() {
                    "yes" | "on" | "true" => true,
                    "no" | "off" | "false" => false,
                    _ => return Err(wrong("yes or no")),
                };
            }
            "host" => self.host = Some(person(&word).ok_or_else(|| wrong("a person's number"))?),
            _ if key.starts_with("person:") => {
                let unknown = || SettingError::Unknown(key.to_owned());
                let (who, which) = key["person:".len()..].split_once(':').ok_or_else(unknown)?;
                let ways = self.ways.entry(person(who).ok_or_else(unknown)?).or_default();
                match which {
                    "style" => {
                        let style = Style::ALL.iter().find(|style| style.word() == word);
                        ways.style = *style.ok_or_else(|| wrong("usual, plain or child"))?;
                    }
                    "lang" => ways.lang = (!none).then_some(word),
                    _ => return Err(unknown()),
                }
            }
            "bag" => {
                let wanted = "a volume such as 3 l or 1 gallon";
                let millilitres = volume(&word).filter(|ml| BAG_ML.contains(ml));
                let millilitres = millilitres.and_then(|ml| u32::try_from(ml).ok());
                self.bag_ml = millilitres.ok_or_else(|| wrong(wanted))?;
            }
            _ if key.starts_with("ceiling:") && key.len() > "ceiling:".len() => {
                let of = key["ceiling:".len()..].to_owned();
                if none {
                    self.ceilings.remove(&of);
                    return Ok(());
                }
                let price =
                    self.price(&word).ok_or_else(|| wrong("a price such as 2.40/kilogram"))?;
                self.ceilings.insert(of, price);
            }
            _ if key.starts_with("unit:") => {
                let unit = own_unit(key.trim_start_matches("unit:"));
                let grams = weight(&word).filter(|grams| UNIT_GRAMS.contains(grams));
                let grams = grams.ok_or_else(|| wrong("a weight such as 3 kg or 5 lb"))?;
                self.own_units.insert(unit, grams);
            }
            _ => {
                let name = key.strip_prefix("place:").map(str::trim);
                let name = name.filter(|name| !name.is_empty());
                let name = name.ok_or_else(|| SettingError::Unknown(key.to_owned()))?;
                if name.chars().count() > PLACE_NAME_CHARS {
                    return Err(wrong("a place with a short name"));
                }
                let celsius = celsius(&word, self.units).filter(|c| PLACE_C.contains(c));
                let celsius = celsius.ok_or_else(|| wrong("a temperature such as 7C or 45F"))?;
                let readings = self.places.entry(name.to_lowercase()).or_default();
                readings.retain(|(since, _)| *since != day);
                let at = readings.partition_point(|(since, _)| *since < day);
                readings.insert(at, (day, celsius));
            }
        }
        Ok(())
    }

    /// "2.40/kilogram", or "2.40" for one.
    fn price(&self, word: &str) -> Option<Price> {
        let (money, unit) = word.split_once('/').unwrap_or((word, ""));
        let per = match unit.trim() {
            "" => None,
            unit => Some(Unit::from_word(unit)?),
        };
        let minor = self.money(money).filter(|minor| minor.0 > 0)?;
        Some(Price { minor, per, quantity: None })
    }

    /// An amount of money in whole and minor units as written ("400", "400.50").
    fn money(&self, word: &str) -> Option<Minor> {
        let plain = word.trim_matches(|c: char| !c.is_ascii_digit() && c != '-').replace(',', "");
        let amount = Ratio::from_decimal(&plain)?;
        if amount > Ratio::whole(BUDGET_MAX) {
            return None;
        }
        let minor = amount.checked_mul(Ratio::whole(10_i64.pow(self.currency.decimals())))?;
        Some(Minor(minor.rounded()))
    }
}

fn yes() -> bool {
    true
}

fn person(number: &str) -> Option<PersonId> {
    number.parse().ok().map(PersonId)
}

/// "3 liter", "1 gallon" in millilitres; a bare number is litres.
fn volume(word: &str) -> Option<i64> {
    let (number, unit) = word.split_once(' ').unwrap_or((word, "liter"));
    let unit = match unit.trim() {
        "l" | "litre" | "litres" | "liters" => Unit::Liter,
        "ml" => Unit::Milliliter,
        "gal" | "gallons" => Unit::Gallon,
        "quarts" | "qt" => Unit::Quart,
        unit => Unit::from_word(unit)?,
    };
    let quantity = Quantity::new(Ratio::from_decimal(number)?, Some(unit));
    quantity.millilitres().map(Ratio::rounded)
}

fn clock(value: &str) -> Option<String> {
    let time = dates::clock_time(value).ok()?;
    Some(time.format("%H:%M").to_string())
}

/// A unit of the household's own, in the singular.
pub fn own_unit(word: &str) -> String {
    let word = word.trim().to_lowercase();
    word.strip_suffix('s').map_or(word.clone(), str::to_owned)
}

/// A weight in words ("3 kg", "5 lb"), in grams.
fn weight(word: &str) -> Option<i64> {
    let end = word.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(word.len());
    let value = Ratio::from_decimal(word.get(..end)?)?;
    let unit = match word.get(end..)?.trim() {
        "g" | "gram" | "grams" => Unit::Gram,
        "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" => Unit::Kilogram,
        "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
        "oz" | "ounce" | "ounces" => Unit::Ounce,
        _ => return None,
    };
    Some(Quantity::new(value, Some(unit)).grams()?.rounded())
}

/// A temperature in words, in degrees Celsius; without a letter, in the household's units.
fn celsius(word: &str, units: UnitSystem) -> Option<f64> {
    let word = word.replace(['\u{b0}', ' '], "").replace("degrees", "");
    let fahrenheit = word.ends_with('f') || (units == UnitSystem::Us && !word.ends_with('c'));
    let number: f64 = word.trim_end_matches(['c', 'f']).parse().ok()?;
    let celsius = if fahrenheit { (number - 32.0) / 1.8 } else { number };
    celsius.is_finite().then_some(celsius)
}
