//! The data files as they are written: plain shapes, unknown keys refused, nothing checked yet.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::general::{PoisonRole, Topic, Who};
use super::{Kind, Level, Suitability, WaterManner};
use crate::words::{Form, Verdict};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawSource {
    pub short: String,
    pub full: String,
    pub url: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFood {
    pub name: String,
    pub plural: Option<String>,
    #[serde(default)]
    pub aliases: Vec<String>,
    pub kind: Kind,
    /// The food this one is a kind of: what is left out here is taken from there.
    pub like: Option<String>,
    #[serde(default)]
    pub hazard: bool,
    pub usual_form: Option<Form>,
    pub keeps_out: Option<Vec<Form>>,
    pub left_out_minutes: Option<u32>,
    #[serde(default)]
    pub places: Vec<RawPlace>,
    #[serde(default)]
    pub lives: Vec<RawLife>,
    #[serde(default)]
    pub safety: Vec<RawLimit>,
    pub conditions: Option<RawConditions>,
    pub water: Option<RawWater>,
    #[serde(default)]
    pub signs: Vec<RawSign>,
    #[serde(default)]
    pub parts: Vec<RawPart>,
    pub freeze: Option<RawPreserve>,
    pub dry: Option<RawPreserve>,
    #[serde(default)]
    pub trimmings: Vec<RawTrimming>,
    /// By cite, then by unit ("piece", "large piece"): grams as bought.
    #[serde(default)]
    pub weights: BTreeMap<String, BTreeMap<String, f64>>,
    pub inedible: Option<RawInedible>,
    pub wash: Option<RawText>,
    pub wrap: Option<RawText>,
    #[serde(default)]
    pub uses: Vec<String>,
    pub caution: Option<RawText>,
}

/// What holds for every food of a kind that has no fact of its own.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawKind {
    #[serde(default)]
    pub lives: Vec<RawLife>,
    #[serde(default)]
    pub trimmings: Vec<RawTrimming>,
    #[serde(default)]
    pub uses: Vec<String>,
    pub freeze: Option<RawPreserve>,
    pub dry: Option<RawPreserve>,
    pub wash: Option<RawText>,
    pub wrap: Option<RawText>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPlace {
    pub place: String,
    pub why: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLife {
    pub form: Form,
    pub place: String,
    /// `[min, max]`.
    pub days: (u32, u32),
    pub temp_c: Option<f64>,
    #[serde(default)]
    pub alternative: bool,
    pub note: Option<String>,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLimit {
    /// General limits only.
    #[serde(default)]
    pub kinds: Vec<Kind>,
    pub form: Form,
    pub place: String,
    pub hours: Option<u32>,
    pub days: Option<u32>,
    pub why: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawConditions {
    pub temp_c: Option<(f64, f64)>,
    pub humidity: Option<(f64, f64)>,
    pub chilling_below_c: Option<f64>,
    pub freezing_c: Option<f64>,
    #[serde(default = "no_level")]
    pub ethylene_made: Level,
    #[serde(default = "no_level")]
    pub ethylene_feared: Level,
    pub days: Option<(u32, u32)>,
    pub cite: String,
}

fn no_level() -> Level {
    Level::None
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawWater {
    pub manner: WaterManner,
    pub place: String,
    pub every_days: u32,
    pub longest_days: u32,
    pub limit_hours: Option<u32>,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawSign {
    /// General signs only.
    #[serde(default)]
    pub kinds: Vec<Kind>,
    pub words: Vec<String>,
    pub verdict: Verdict,
    pub action: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPart {
    pub id: String,
    #[serde(default)]
    pub aliases: Vec<String>,
    #[serde(default)]
    pub main: bool,
    pub verdict: Verdict,
    pub why: String,
    pub how: Option<String>,
    pub cite: String,
    /// `"edible C localfood"`: what another source says.
    #[serde(default)]
    pub others: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPreserve {
    pub how: String,
    #[serde(default = "yes")]
    pub advised: bool,
    pub blanch_seconds: Option<u32>,
    pub months: Option<(u32, u32)>,
    pub cite: String,
}

fn yes() -> bool {
    true
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawTrimming {
    #[serde(default)]
    pub part: String,
    pub suitability: Suitability,
    pub why: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawInedible {
    /// Of the bought weight.
    pub percent: u32,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawText {
    pub text: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawGeneral {
    pub left_out: RawLeftOut,
    pub outage: RawOutage,
    pub bag: RawBag,
    #[serde(default)]
    pub limits: Vec<RawLimit>,
    #[serde(default)]
    pub signs: Vec<RawSign>,
    #[serde(default)]
    pub guidance: Vec<RawGuidance>,
    #[serde(default)]
    pub at_risk: Vec<RawAtRisk>,
    #[serde(default)]
    pub animals: Vec<RawAnimals>,
    /// A name several foods share, and those foods.
    #[serde(default)]
    pub ambiguous: BTreeMap<String, Vec<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLeftOut {
    pub minutes: u32,
    pub hot_minutes: u32,
    pub hot_above_c: f64,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawOutage {
    pub fridge_hours: u32,
    pub freezer_full_hours: u32,
    pub freezer_half_hours: u32,
    pub warm_minutes: u32,
    pub warm_above_c: f64,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawBag {
    pub strong_share_percent: u32,
    pub months: u32,
    pub refused: Vec<String>,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawGuidance {
    pub topic: Topic,
    pub verdict: Verdict,
    pub text: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAtRisk {
    pub who: Vec<Who>,
    #[serde(default)]
    pub foods: Vec<String>,
    pub text: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAnimals {
    #[serde(default)]
    pub animals: Vec<String>,
    #[serde(default)]
    pub foods: Vec<String>,
    pub text: String,
    pub cite: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPoison {
    pub role: PoisonRole,
    pub number: String,
    pub name: String,
    /// `"always"` or `"08:00-22:00"`; absent when the source names none.
    pub hours: Option<String>,
    pub note: Option<String>,
    pub cite: String,
}
