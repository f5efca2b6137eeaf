//! From raw shapes to checked facts, with every fault named by file and key.
//!
//! A fault never stops the walk: a bad row is reported and left out, and the next one is read, so
//! one run shows all there is to mend. The grade rules live here: what "edible", "toxic" and a
//! safety clock must rest on.

mod food;
mod general;
mod names;

use std::collections::{BTreeMap, HashMap};
use std::fmt;

use serde::de::DeserializeOwned;

use super::general::General;
use super::lookup::Rules;
use super::raw::{RawSource, RawText};
use super::{Cite, DayRange, Food, Grade, Source};
use crate::words::Place;

/// The key of the source that stands for common practice, and its only grade.
const PRACTICE: (&str, Grade) = ("practice", Grade::P);
/// The key of the source that stands for memory, and its only grade.
const MEMORY: (&str, Grade) = ("memory", Grade::M);

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
    /// Parses and checks data files, given as `(file name, text)`. `sources.toml`, `general.toml`,
    /// `kinds.toml` and `poison.toml` are the four that hold no foods.
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
        let mut kinds = HashMap::new();
        for &(file, text) in files {
            checker.file = file.to_owned();
            match file {
                "sources.toml" => {}
                "general.toml" => general = checker.general(text, &mut ambiguous),
                "kinds.toml" => kinds = checker.kinds(text),
                "poison.toml" => poison = checker.poison(text),
                _ => checker.foods(text, &mut foods),
            }
        }
        let foods = checker.inherit(foods, &kinds);
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
}
