//! From raw shapes to checked facts, with every fault named by file and key.
//!
//! A fault never stops the walk: a bad row is reported and left out, and the next one is read, so
//! one run shows all there is to mend. The grade rules live here: what "edible", "toxic" and a
//! safety clock must rest on.

use std::collections::{BTreeMap, HashMap};
use std::fmt;

use serde::de::DeserializeOwned;

use super::general::{
    AnimalRule, AtRisk, BagRules, General, GeneralLimit, GeneralSign, Guidance, Hours, LeftOut,
    Outage, PoisonLine, Topic,
};
use super::lookup::{Rules, normalise};
use super::raw::{
    RawFood, RawGeneral, RawLife, RawLimit, RawPart, RawPoison, RawPreserve, RawSign, RawSource,
    RawText,
};
use super::{
    Cite, Conditions, DayRange, Food, Grade, Kind, Life, Part, PlaceAdvice, Preserve, SafetyLimit,
    Sign, Source, Trimming, Water, WaterManner, Weight,
};
use crate::units::{Ratio, Unit};
use crate::words::{FoodId, Form, Place, Verdict};

/// The key of the source that stands for common practice, and its only grade.
const PRACTICE: (&str, Grade) = ("practice", Grade::P);
/// The key of the source that stands for memory, and its only grade.
const MEMORY: (&str, Grade) = ("memory", Grade::M);

/// Parts of an ordinary vegetable or fruit whose verdict may rest on practice or memory. Any
/// other part that is not the food itself needs a published source.
const PLAIN_PARTS: &[&str] = &[
    "peel",
    "skin",
    "stem",
    "stalk",
    "core",
    "rib",
    "pith",
    "crown",
    "end",
    "outer leaf",
    "string",
    "base",
    "fat",
    "crust",
];

/// Sizes a piece may have, in front of its unit ("large piece").
const SIZES: &[&str] = &["small", "medium", "large"];

/// One thing wrong with the data.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    pub file: String,
    /// The table and the row in it (`celery.parts.leaf`).
    pub key: String,
    pub what: String,
}

/// Everything wrong with the data, in the order of the files.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faults(pub Vec<Fault>);

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}: {}", self.file, self.key, self.what)
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

impl Rules {
    /// Parses and checks data files, given as `(file name, text)`. `sources.toml`, `general.toml`
    /// and `poison.toml` are the three that hold no foods.
    ///
    /// # Errors
    /// Every fault of every file.
    pub fn parse(files: &[(&str, &str)]) -> Result<Rules, Faults> {
        let mut checker = Checker::default();
        let sources = files.iter().filter(|(name, _)| *name == "sources.toml");
        for (file, text) in sources {
            checker.sources(file, text);
        }
        let mut foods = Vec::new();
        let mut general = None;
        let mut ambiguous = BTreeMap::new();
        let mut poison = Vec::new();
        for &(file, text) in files {
            checker.file = file.to_owned();
            match file {
                "sources.toml" => {}
                "general.toml" => general = checker.general(text, &mut ambiguous),
                "poison.toml" => poison = checker.poison(text),
                _ => checker.foods(text, &mut foods),
            }
        }
        let foods = checker.inherit(foods);
        let by_id = checker.ids(&foods);
        let by_name = checker.names(&foods, &by_id, &ambiguous);
        let foods: Vec<Food> = foods.into_iter().map(|(_, food)| food).collect();
        let general = general.map(|general| General { poison, ..general });
        match general {
            Some(general) if checker.faults.is_empty() => {
                checker.references(&general, &by_id);
                if !checker.faults.is_empty() {
                    return Err(Faults(checker.faults));
                }
                let sources = checker.sources;
                Ok(Rules { foods, sources, general, version: version(files), by_id, by_name })
            }
            Some(general) => {
                checker.references(&general, &by_id);
                Err(Faults(checker.faults))
            }
            None => {
                checker.file = "general.toml".to_owned();
                checker.fault("general.toml", "is missing or unreadable");
                Err(Faults(checker.faults))
            }
        }
    }
}

/// A short text that changes whenever any data file does: FNV-1a over names and texts.
fn version(files: &[(&str, &str)]) -> String {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for (name, text) in files {
        for byte in name.bytes().chain([0]).chain(text.bytes()) {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
    format!("{hash:016x}")
}

/// A food as read, with the food it is like.
struct Entry {
    file: String,
    like: Option<String>,
    food: Food,
}

impl Food {
    fn take_from(&mut self, model: &Food) {
        fn fill<T: Clone>(own: &mut Vec<T>, model: &[T]) {
            if own.is_empty() {
                own.extend_from_slice(model);
            }
        }
        self.usual_form = model.usual_form;
        self.keeps_out.clone_from(&model.keeps_out);
        self.left_out_minutes = model.left_out_minutes;
        fill(&mut self.places, &model.places);
        fill(&mut self.lives, &model.lives);
        fill(&mut self.safety, &model.safety);
        fill(&mut self.signs, &model.signs);
        fill(&mut self.parts, &model.parts);
        fill(&mut self.trimmings, &model.trimmings);
        fill(&mut self.weights, &model.weights);
        fill(&mut self.uses, &model.uses);
        self.conditions = self.conditions.take().or_else(|| model.conditions.clone());
        self.water = self.water.take().or_else(|| model.water.clone());
        self.freeze = self.freeze.take().or_else(|| model.freeze.clone());
        self.dry = self.dry.take().or_else(|| model.dry.clone());
        self.inedible = self.inedible.or(model.inedible);
        self.wash = self.wash.take().or_else(|| model.wash.clone());
        self.wrap = self.wrap.take().or_else(|| model.wrap.clone());
        self.caution = self.caution.take().or_else(|| model.caution.clone());
    }
}

#[derive(Default)]
struct Checker {
    faults: Vec<Fault>,
    sources: Vec<Source>,
    by_source: HashMap<String, usize>,
    file: String,
}

impl Checker {
    fn fault(&mut self, key: impl fmt::Display, what: impl Into<String>) {
        let fault = Fault { file: self.file.clone(), key: key.to_string(), what: what.into() };
        self.faults.push(fault);
    }

    /// A file of tables by key. When one table does not fit, the others are still read.
    fn tables<T: DeserializeOwned>(&mut self, text: &str) -> BTreeMap<String, T> {
        if let Ok(tables) = toml::from_str(text) {
            return tables;
        }
        let values: BTreeMap<String, toml::Value> = match toml::from_str(text) {
            Ok(values) => values,
            Err(error) => {
                self.fault("syntax", error.to_string().trim_end());
                return BTreeMap::new();
            }
        };
        let mut tables = BTreeMap::new();
        for (key, value) in values {
            match value.try_into() {
                Ok(table) => {
                    tables.insert(key, table);
                }
                Err(error) => self.fault(key, error.to_string().trim_end()),
            }
        }
        tables
    }

    fn sources(&mut self, file: &str, text: &str) {
        self.file = file.to_owned();
        for (id, raw) in self.tables::<RawSource>(text) {
            let published = id != PRACTICE.0 && id != MEMORY.0;
            if raw.short.is_empty() || raw.full.is_empty() {
                self.fault(&id, "a source needs a short and a full name");
            }
            if !published && raw.url.is_some() {
                self.fault(&id, "practice and memory have no address");
            }
            self.by_source.insert(id.clone(), self.sources.len());
            self.sources.push(Source { id, short: raw.short, full: raw.full, url: raw.url });
        }
    }

    /// `"A missouri"`. A faulty one is reported once: it stands in as the best grade, so that the
    /// grade rules do not report it again.
    fn cite(&mut self, key: impl fmt::Display, text: &str) -> Cite {
        let fallback = Cite { source: 0, grade: Grade::A };
        let Some((letter, id)) = text.split_once(' ') else {
            self.fault(key, format!("cite {text:?} is not a grade and a source (\"A missouri\")"));
            return fallback;
        };
        let Some(grade) = Grade::from_letter(letter) else {
            self.fault(key, format!("{letter:?} is not a grade (A, B, C, P or M)"));
            return fallback;
        };
        let Some(&source) = self.by_source.get(id) else {
            self.fault(key, format!("no source is called {id:?}"));
            return fallback;
        };
        let own = [PRACTICE, MEMORY].into_iter().find(|(name, _)| *name == id);
        let fits = match own {
            Some((_, only)) => grade == only,
            None => grade.is_published(),
        };
        if !fits {
            self.fault(key, format!("grade {letter} does not go with source {id:?}"));
        }
        Cite { source, grade }
    }

    fn days(&mut self, key: impl fmt::Display, (min, max): (u32, u32)) -> DayRange {
        if min > max {
            self.fault(key, format!("range {min} to {max} runs backwards"));
        }
        DayRange { min, max }
    }

    fn place(&mut self, key: impl fmt::Display, word: &str) -> Place {
        let place = Place::from(word.to_owned());
        if let Place::Own(name) = &place {
            self.fault(key, format!("{name:?} is not a place of the rule set"));
        }
        place
    }

    fn text(
        &mut self,
        key: impl fmt::Display + Copy,
        raw: Option<RawText>,
    ) -> Option<(String, Cite)> {
        let raw = raw?;
        if raw.text.is_empty() {
            self.fault(key, "is empty");
        }
        let cite = self.cite(key, &raw.cite);
        Some((raw.text, cite))
    }

    fn foods(&mut self, text: &str, into: &mut Vec<Entry>) {
        for (id, mut raw) in self.tables::<RawFood>(text) {
            let like = raw.like.take();
            let own = raw.usual_form.is_some() || raw.keeps_out.is_some();
            if like.is_some() && (own || raw.left_out_minutes.is_some() || raw.hazard) {
                self.fault(&id, "form, standing out and hazard come from the food it is like");
            }
            let food = self.food(&id, raw);
            into.push(Entry { file: self.file.clone(), like, food });
        }
    }

    /// Fills what a food leaves out from the food it is like, then asks for what every food needs.
    fn inherit(&mut self, entries: Vec<Entry>) -> Vec<(String, Food)> {
        let models: HashMap<FoodId, Food> = {
            let liked: Vec<&str> = entries.iter().filter_map(|e| e.like.as_deref()).collect();
            let models = entries
                .iter()
                .filter(|entry| entry.like.is_none() && liked.contains(&entry.food.id.as_str()));
            models.map(|entry| (entry.food.id.clone(), entry.food.clone())).collect()
        };
        let mut foods = Vec::with_capacity(entries.len());
        for Entry { file, like, mut food } in entries {
            self.file.clone_from(&file);
            if let Some(like) = like {
                match models.get(&FoodId::new(like.as_str())) {
                    Some(model) => food.take_from(model),
                    None => {
                        let what = format!("{like:?} is not a food that stands by itself");
                        self.fault(food.id.as_str(), what);
                    }
                }
            }
            self.completeness(&food);
            foods.push((file, food));
        }
        foods
    }

    fn completeness(&mut self, food: &Food) {
        let id = food.id.as_str();
        if food.hazard {
            if food.parts.is_empty() {
                self.fault(id, "a plant that is no food needs a verdict");
            }
            return;
        }
        if food.places.is_empty() {
            self.fault(id, "a food needs at least one place");
        }
        if !food.lives.iter().any(|life| !life.alternative) {
            self.fault(id, "a food needs a life in at least one place");
        }
        if food.main_part().is_none() {
            self.fault(id, "a food needs a verdict on its main part");
        }
    }

    fn food(&mut self, id: &str, raw: RawFood) -> Food {
        let well_named = !id.is_empty()
            && id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_');
        if !well_named {
            self.fault(id, "an id is lower-case words joined by _");
        }
        if raw.name.is_empty() || raw.name != raw.name.to_lowercase() {
            self.fault(id, format!("name {:?} is not lower-case words", raw.name));
        }
        let mut places = Vec::with_capacity(raw.places.len());
        for row in raw.places {
            let key = format_args!("{id}.places.{}", row.place);
            let (place, cite) = (self.place(key, &row.place), self.cite(key, &row.cite));
            places.push(PlaceAdvice { place, why: row.why, cite });
        }
        let lives = self.lives(id, raw.lives);
        let safety = raw.safety.into_iter().map(|row| self.limit(id, row)).collect();
        let conditions = raw.conditions.map(|row| {
            let key = format_args!("{id}.conditions");
            for (low, high) in [row.temp_c, row.humidity].into_iter().flatten() {
                if low > high {
                    self.fault(key, format!("range {low} to {high} runs backwards"));
                }
            }
            Conditions {
                temp_c: row.temp_c,
                humidity_percent: row.humidity,
                chilling_below_c: row.chilling_below_c,
                freezing_point_c: row.freezing_c,
                ethylene_made: row.ethylene_made,
                ethylene_feared: row.ethylene_feared,
                days: row.days.map(|days| self.days(key, days)),
                cite: self.cite(key, &row.cite),
            }
        });
        let water = raw.water.map(|row| {
            let key = format_args!("{id}.water");
            let place = self.place(key, &row.place);
            let cold = matches!(place, Place::Fridge | Place::Crisper);
            if row.manner == WaterManner::Submerged && !cold {
                self.fault(key, "cut pieces under water belong in the fridge");
            }
            if row.every_days == 0 || row.longest_days == 0 {
                self.fault(key, "a water change and a last day are at least one day away");
            }
            let cite = self.cite(key, &row.cite);
            Water {
                manner: row.manner,
                place,
                every_days: row.every_days,
                longest_days: row.longest_days,
                limit_hours: row.limit_hours,
                cite,
            }
        });
        let signs = raw.signs.into_iter().map(|row| self.sign(id, row)).collect();
        let parts: Vec<Part> = raw.parts.into_iter().map(|row| self.part(id, row)).collect();
        let mut trimmings = Vec::with_capacity(raw.trimmings.len());
        for row in raw.trimmings {
            let cite = self.cite(format_args!("{id}.trimmings.{}", row.part), &row.cite);
            let (part, suitability, why) = (row.part, row.suitability, row.why);
            trimmings.push(Trimming { part, suitability, why, cite });
        }
        let weights = self.weights(id, raw.weights);
        let inedible = raw.inedible.and_then(|row| {
            let key = format_args!("{id}.inedible");
            let cite = self.cite(key, &row.cite);
            if row.percent >= 100 {
                self.fault(key, format!("{} percent leaves nothing to eat", row.percent));
            }
            Ratio::new(row.percent.into(), 100).map(|share| (share, cite))
        });
        let repeated = parts
            .iter()
            .enumerate()
            .find(|(i, part)| parts[..*i].iter().any(|other| other.id == part.id));
        if let Some((_, part)) = repeated {
            self.fault(format_args!("{id}.parts.{}", part.id), "is listed twice");
        }
        Food {
            id: FoodId::new(id),
            plural: raw.plural.unwrap_or_else(|| raw.name.clone()),
            name: raw.name,
            aliases: raw.aliases,
            kind: raw.kind,
            hazard: raw.hazard,
            usual_form: raw.usual_form.unwrap_or(Form::Whole),
            keeps_out: raw.keeps_out.unwrap_or_else(|| keeps_out(raw.kind).to_vec()),
            left_out_minutes: raw.left_out_minutes,
            places,
            lives,
            safety,
            conditions,
            water,
            signs,
            parts,
            freeze: self.preserve(format_args!("{id}.freeze"), raw.freeze),
            dry: self.preserve(format_args!("{id}.dry"), raw.dry),
            trimmings,
            weights,
            inedible,
            wash: self.text(format_args!("{id}.wash"), raw.wash),
            wrap: self.text(format_args!("{id}.wrap"), raw.wrap),
            uses: raw.uses,
            caution: self.text(format_args!("{id}.caution"), raw.caution),
        }
    }

    fn lives(&mut self, id: &str, rows: Vec<RawLife>) -> Vec<Life> {
        let mut lives: Vec<Life> = Vec::with_capacity(rows.len());
        for row in rows {
            let key = format_args!("{id}.lives.{}.{}", row.form, row.place);
            let life = Life {
                form: row.form,
                place: self.place(key, &row.place),
                days: self.days(key, row.days),
                temp_c: row.temp_c,
                alternative: row.alternative,
                note: row.note,
                cite: self.cite(key, &row.cite),
            };
            let same = |other: &Life| {
                other.form == life.form && other.place == life.place && !other.alternative
            };
            if !life.alternative && lives.iter().any(same) {
                self.fault(key, "two default rows; mark all but one as alternative");
            }
            lives.push(life);
        }
        lives
    }

    fn limit(&mut self, id: &str, row: RawLimit) -> SafetyLimit {
        let key = format_args!("{id}.safety.{}.{}", row.form, row.place);
        let cite = self.cite(key, &row.cite);
        if !cite.grade.is_published() {
            self.fault(key, "a safety clock needs a published source (grade A, B or C)");
        }
        let one = row.hours.is_some() != row.days.is_some();
        if !one || row.hours == Some(0) || row.days == Some(0) {
            self.fault(key, "a safety clock has hours or days, one of them, above zero");
        }
        let place = self.place(key, &row.place);
        SafetyLimit { form: row.form, place, hours: row.hours, days: row.days, why: row.why, cite }
    }

    fn sign(&mut self, id: &str, row: RawSign) -> Sign {
        let first = row.words.first().cloned().unwrap_or_default();
        let key = format_args!("{id}.signs.{first}");
        if row.words.is_empty() {
            self.fault(key, "a sign needs the words people use for it");
        }
        if !matches!(row.verdict, Verdict::Use | Verdict::Limited | Verdict::Discard) {
            let text =
                format!("{} is not a verdict on a sign (use, limited, discard)", row.verdict);
            self.fault(key, text);
        }
        let cite = self.cite(key, &row.cite);
        Sign { words: row.words, verdict: row.verdict, action: row.action, cite }
    }

    fn part(&mut self, id: &str, row: RawPart) -> Part {
        let key = format_args!("{id}.parts.{}", row.id);
        let cite = self.cite(key, &row.cite);
        let mut others = Vec::with_capacity(row.others.len());
        for text in &row.others {
            let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
            match Verdict::from_word(word) {
                Some(verdict) => others.push((verdict, self.cite(key, rest))),
                None => self.fault(key, format!("{word:?} is not a verdict")),
            }
        }
        let part = Part {
            id: row.id,
            aliases: row.aliases,
            main: row.main,
            verdict: row.verdict,
            why: row.why,
            how: row.how,
            cite,
            others,
        };
        self.grade_rules(format_args!("{id}.parts.{}", part.id), &part);
        part
    }

    /// What a verdict on a part must rest on.
    fn grade_rules(&mut self, key: impl fmt::Display, part: &Part) {
        let eaten = |verdict| matches!(verdict, Verdict::Edible | Verdict::EdibleWhenCooked);
        let plain = part.main || PLAIN_PARTS.contains(&part.id.as_str());
        let grade = part.cite.grade;
        match part.verdict {
            Verdict::Edible | Verdict::EdibleWhenCooked if !plain => {
                let second = part.others.iter().any(|(verdict, other)| {
                    eaten(*verdict) && other.grade <= Grade::C && other.source != part.cite.source
                });
                if grade > Grade::C || (grade == Grade::C && !second) {
                    let what = "edible needs a source of grade A or B, or two of grade C; \
                                with less the verdict is limited or unknown";
                    self.fault(key, what);
                }
            }
            Verdict::Limited if !plain && !grade.is_published() => {
                self.fault(key, "limited needs a published source; with none it is unknown");
            }
            Verdict::Toxic if !grade.is_published() => {
                let what = "toxic needs a source of grade A, B or C; \
                            with none the verdict is not_food or unknown";
                self.fault(key, what);
            }
            Verdict::Edible
            | Verdict::EdibleWhenCooked
            | Verdict::Limited
            | Verdict::NotFood
            | Verdict::Toxic
            | Verdict::Unknown => {}
            Verdict::Use
            | Verdict::Discard
            | Verdict::DoNot
            | Verdict::Place
            | Verdict::Keeps
            | Verdict::HowTo => {
                self.fault(key, format!("{} is not a verdict on a part", part.verdict));
            }
        }
    }

    fn weights(&mut self, id: &str, rows: BTreeMap<String, BTreeMap<String, f64>>) -> Vec<Weight> {
        let mut weights: Vec<Weight> = Vec::new();
        for (cite, units) in rows {
            let cite = self.cite(format_args!("{id}.weights"), &cite);
            for (unit, grams) in units {
                let key = format_args!("{id}.weights.{unit}");
                // The shortest text of the double is the decimal that was written.
                let grams = Ratio::from_decimal(&grams.to_string()).filter(|g| g.is_positive());
                let Some(grams) = grams else {
                    self.fault(key, "grams are a decimal above zero");
                    continue;
                };
                let (size, word) = match SIZES.iter().find(|size| unit.starts_with(**size)) {
                    Some(size) => (Some((*size).to_owned()), unit[size.len()..].trim_start()),
                    None => (None, unit.as_str()),
                };
                let Some(word) = Unit::from_word(word) else {
                    self.fault(key, format!("{word:?} is not a unit"));
                    continue;
                };
                if weights.iter().any(|other| other.unit == word && other.size == size) {
                    self.fault(key, "the same unit and size twice");
                }
                weights.push(Weight { unit: word, size, grams, cite });
            }
        }
        weights
    }

    fn preserve(
        &mut self,
        key: impl fmt::Display + Copy,
        row: Option<RawPreserve>,
    ) -> Option<Preserve> {
        let row = row?;
        Some(Preserve {
            advised: row.advised,
            blanch_seconds: row.blanch_seconds,
            months: row.months.map(|months| self.days(key, months)),
            cite: self.cite(key, &row.cite),
            how: row.how,
        })
    }

    fn general(
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

    fn poison(&mut self, text: &str) -> Vec<PoisonLine> {
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

    fn ids(&mut self, foods: &[(String, Food)]) -> HashMap<FoodId, usize> {
        let mut by_id = HashMap::with_capacity(foods.len());
        for (index, (file, food)) in foods.iter().enumerate() {
            if by_id.insert(food.id.clone(), index).is_some() {
                self.file.clone_from(file);
                self.fault(food.id.as_str(), "two foods have this id");
            }
        }
        by_id
    }

    /// Every name with the foods that answer to it. Two foods may share a name only where it is
    /// listed as ambiguous, with both.
    fn names(
        &mut self,
        foods: &[(String, Food)],
        by_id: &HashMap<FoodId, usize>,
        ambiguous: &BTreeMap<String, Vec<String>>,
    ) -> BTreeMap<String, Vec<usize>> {
        let mut by_name: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        self.file = "general.toml".to_owned();
        for (name, ids) in ambiguous {
            let key = format_args!("ambiguous.{name}");
            let mut indices = Vec::with_capacity(ids.len());
            for id in ids {
                match by_id.get(&FoodId::new(id.as_str())) {
                    Some(&index) => indices.push(index),
                    None => self.fault(key, format!("no food is called {id:?}")),
                }
            }
            if ids.len() < 2 {
                self.fault(key, "an ambiguous name is shared by at least two foods");
            }
            by_name.insert(normalise(name), indices);
        }
        let listed: Vec<String> = by_name.keys().cloned().collect();
        for (index, (file, food)) in foods.iter().enumerate() {
            let id_words = food.id.as_str().replace('_', " ");
            let own = [food.name.as_str(), &food.plural, &id_words];
            for name in own.into_iter().chain(food.aliases.iter().map(String::as_str)) {
                let name = normalise(name);
                let claimed = by_name.entry(name.clone()).or_default();
                if claimed.contains(&index) {
                    continue;
                }
                if let Some(&other) = claimed.first() {
                    let other = foods[other].1.id.clone();
                    let what = if listed.binary_search(&name).is_ok() {
                        format!("{name:?} is ambiguous, and this food is not on its list")
                    } else {
                        format!("{name:?} also means {other}; list it as ambiguous or drop it")
                    };
                    self.file.clone_from(file);
                    self.fault(food.id.as_str(), what);
                    continue;
                }
                claimed.push(index);
            }
        }
        by_name
    }

    fn references(&mut self, general: &General, by_id: &HashMap<FoodId, usize>) {
        self.file = "general.toml".to_owned();
        let at_risk = general.at_risk.iter().map(|row| ("at_risk", &row.foods));
        let animals = general.animals.iter().map(|row| ("animals", &row.foods));
        for (key, foods) in at_risk.chain(animals) {
            for id in foods {
                if !by_id.contains_key(id) {
                    self.fault(key, format!("no food is called {:?}", id.as_str()));
                }
            }
        }
    }
}

/// The forms in which foods of a kind may stand at room temperature. Whole produce, dry goods and
/// bread may; whatever is cut, cooked, thawed or opened may not, apart from bread and condiments.
///
/// # Source
/// FoodSafety.gov, refrigerated food and power outages: what to keep and what to discard.
fn keeps_out(kind: Kind) -> &'static [Form] {
    match kind {
        Kind::LeafyGreen
        | Kind::Vegetable
        | Kind::Root
        | Kind::Allium
        | Kind::Herb
        | Kind::Mushroom
        | Kind::Fruit
        | Kind::Legume
        | Kind::Grain => &[Form::Whole, Form::Dried],
        Kind::NutSeed | Kind::Bread | Kind::Pantry | Kind::Condiment => {
            &[Form::Whole, Form::Cut, Form::Opened, Form::Dried]
        }
        Kind::Dairy | Kind::Egg | Kind::Meat | Kind::Fish | Kind::Prepared => &[],
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
