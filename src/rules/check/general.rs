//! What is true of every food, and whom to call.

use std::collections::BTreeMap;

use super::Checker;
use crate::rules::general::{
    AnimalRule, AtRisk, BagRules, General, GeneralLimit, GeneralSign, Guidance, Hours, LeftOut,
    Outage, PoisonLine, Topic,
};
use crate::rules::raw::{RawGeneral, RawPoison};
use crate::units::Ratio;
use crate::words::FoodId;

impl Checker {
    pub(super) fn general(
        &mut self,
        text: &str,
        ambiguous: &mut BTreeMap<String, Vec<String>>,
    ) -> Option<General> {
        let raw: RawGeneral = match toml::from_str(text) {
            Ok(raw) => raw,
            Err(error) => {
                self.fault("syntax", error.to_string().trim_end());
                return None;
            }
        };
        *ambiguous = raw.ambiguous;
        let mut limits = Vec::with_capacity(raw.limits.len());
        for mut row in raw.limits {
            let kinds = std::mem::take(&mut row.kinds);
            if kinds.is_empty() {
                self.fault("limits", "a general limit names the kinds it is for");
            }
            limits.push(GeneralLimit { kinds, limit: self.limit("general", row) });
        }
        let mut signs = Vec::with_capacity(raw.signs.len());
        for mut row in raw.signs {
            let kinds = std::mem::take(&mut row.kinds);
            signs.push(GeneralSign { kinds, sign: self.sign("general", row) });
        }
        let mut guidance = Vec::with_capacity(raw.guidance.len());
        for row in raw.guidance {
            let cite = self.cite(format_args!("guidance.{:?}", row.topic), &row.cite);
            let (topic, verdict, text) = (row.topic, row.verdict, row.text);
            guidance.push(Guidance { topic, verdict, text, cite });
        }
        for topic in Topic::ALL {
            if !guidance.iter().any(|row| row.topic == *topic) {
                self.fault("guidance", format!("nothing is said about {topic:?}"));
            }
        }
        let mut at_risk = Vec::with_capacity(raw.at_risk.len());
        for row in raw.at_risk {
            let cite = self.cite("at_risk", &row.cite);
            let foods = row.foods.into_iter().map(FoodId::new).collect();
            at_risk.push(AtRisk { who: row.who, foods, text: row.text, cite });
        }
        let mut animals = Vec::with_capacity(raw.animals.len());
        for row in raw.animals {
            let cite = self.cite("animals", &row.cite);
            let foods = row.foods.into_iter().map(FoodId::new).collect();
            animals.push(AnimalRule { animals: row.animals, foods, text: row.text, cite });
        }
        let left_out = LeftOut {
            minutes: raw.left_out.minutes,
            hot_minutes: raw.left_out.hot_minutes,
            hot_above_c: raw.left_out.hot_above_c,
            cite: self.cite("left_out", &raw.left_out.cite),
        };
        let outage = Outage {
            fridge_hours: raw.outage.fridge_hours,
            freezer_full_hours: raw.outage.freezer_full_hours,
            freezer_half_hours: raw.outage.freezer_half_hours,
            warm_minutes: raw.outage.warm_minutes,
            warm_above_c: raw.outage.warm_above_c,
            cite: self.cite("outage", &raw.outage.cite),
        };
        for (key, cite) in [("left_out", left_out.cite), ("outage", outage.cite)] {
            if !cite.grade.is_published() {
                self.fault(key, "a safety clock needs a published source (grade A, B or C)");
            }
        }
        let strong_share = Ratio::new(raw.bag.strong_share_percent.into(), 100);
        let bag = BagRules {
            strong_share: strong_share.unwrap_or(Ratio::ZERO),
            months: raw.bag.months,
            refused: raw.bag.refused,
            cite: self.cite("bag", &raw.bag.cite),
        };
        let poison = Vec::new();
        Some(General { left_out, outage, limits, signs, guidance, at_risk, animals, poison, bag })
    }

    pub(super) fn poison(&mut self, text: &str) -> Vec<PoisonLine> {
        let mut lines = Vec::new();
        for (country, rows) in self.tables::<Vec<RawPoison>>(text) {
            if country.len() != 2 || !country.bytes().all(|b| b.is_ascii_uppercase()) {
                self.fault(&country, "a country is two capital letters (ISO 3166-1)");
            }
            for row in rows {
                let cite = self.cite(&country, &row.cite);
                if !cite.grade.is_published() {
                    self.fault(&country, "a number to call needs a published source");
                }
                let hours = match row.hours.as_deref() {
                    None => Hours::NotStated,
                    Some("always") => Hours::Always,
                    Some(text) => hours(text).unwrap_or_else(|| {
                        let what = format!("hours {text:?} are not \"always\" or \"08:00-22:00\"");
                        self.fault(&country, what);
                        Hours::NotStated
                    }),
                };
                lines.push(PoisonLine {
                    country: country.clone(),
                    role: row.role,
                    number: row.number,
                    name: row.name,
                    hours,
                    note: row.note,
                    cite,
                });
            }
        }
        lines
    }
}

/// `08:00-22:00` as minutes after midnight.
fn hours(text: &str) -> Option<Hours> {
    let minutes = |clock: &str| -> Option<u16> {
        let (hour, minute) = clock.split_once(':')?;
        let (hour, minute): (u16, u16) = (hour.parse().ok()?, minute.parse().ok()?);
        (hour <= 24 && minute < 60).then_some(hour * 60 + minute)
    };
    let (from, until) = text.split_once('-')?;
    let (from, until) = (minutes(from)?, minutes(until)?);
    (from < until).then_some(Hours::Daily { from, until })
}
