//! A household's settings, with their defaults.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::dates::{KitchenDay, Zone};
use crate::units::{Currency, Minor};

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
    /// The household's own places, and the trade's where it has told us a temperature: degrees
    /// Celsius from a day on, oldest first.
    pub places: BTreeMap<String, Vec<(KitchenDay, f64)>>,
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
            places: BTreeMap::new(),
        }
    }
}
