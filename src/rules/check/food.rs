//! One food from its raw shape, and what it takes from the food it is like and from its kind.

use std::collections::{BTreeMap, HashMap};
use std::fmt;

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::{Error, StrDeserializer};

use super::Checker;
use crate::rules::raw::{
    RawFood, RawKind, RawLife, RawLimit, RawPart, RawPreserve, RawSign, RawTrimming,
};
use crate::rules::{
    Cite, Conditions, Food, Grade, Kind, Life, Part, PlaceAdvice, Preserve, SafetyLimit, Sign,
    Trimming, Water, WaterManner, Weight,
};
use crate::units::{Ratio, Unit};
use crate::words::{FoodId, Form, Place, Verdict};

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

/// What holds for every food of a kind that has no fact of its own.
#[derive(Clone, Debug, Default)]
pub(super) struct KindFacts {
    lives: Vec<Life>,
    trimmings: Vec<Trimming>,
    uses: Vec<String>,
    freeze: Option<Preserve>,
    dry: Option<Preserve>,
    wash: Option<(String, Cite)>,
    wrap: Option<(String, Cite)>,
}

/// A food as read, with the food it is like.
pub(super) struct Entry {
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

impl Food {
    /// What its kind says where the food itself says nothing.
    fn take_from_kind(&mut self, facts: &KindFacts) {
        for life in &facts.lives {
            let (form, place) = (life.form, &life.place);
            let own = self.lives.iter().any(|own| own.form == form && own.place == *place)
                || self.safety.iter().any(|own| own.form == form && own.place == *place);
            if !own {
                self.lives.push(life.clone());
            }
        }
        if self.trimmings.is_empty() {
            self.trimmings.clone_from(&facts.trimmings);
        }
        if self.uses.is_empty() {
            self.uses.clone_from(&facts.uses);
        }
        self.freeze = self.freeze.take().or_else(|| facts.freeze.clone());
        self.dry = self.dry.take().or_else(|| facts.dry.clone());
        self.wash = self.wash.take().or_else(|| facts.wash.clone());
        self.wrap = self.wrap.take().or_else(|| facts.wrap.clone());
    }
}

impl Checker {
    /// `kinds.toml`: one table for each kind, by its word.
    pub(super) fn kinds(&mut self, text: &str) -> HashMap<Kind, KindFacts> {
        let mut kinds = HashMap::new();
        for (word, raw) in self.tables::<RawKind>(text) {
            let deserializer: StrDeserializer<'_, Error> = word.as_str().into_deserializer();
            let Ok(kind) = Kind::deserialize(deserializer) else {
                self.fault(&word, "is not a kind of food");
                continue;
            };
            let facts = KindFacts {
                lives: self.lives(&word, raw.lives),
                trimmings: self.trimmings(&word, raw.trimmings),
                uses: raw.uses,
                freeze: self.preserve(format_args!("{word}.freeze"), raw.freeze),
                dry: self.preserve(format_args!("{word}.dry"), raw.dry),
                wash: self.text(format_args!("{word}.wash"), raw.wash),
                wrap: self.text(format_args!("{word}.wrap"), raw.wrap),
            };
            kinds.insert(kind, facts);
        }
        kinds
    }

    pub(super) fn foods(&mut self, text: &str, into: &mut Vec<Entry>) {
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
    pub(super) fn inherit(
        &mut self,
        entries: Vec<Entry>,
        kinds: &HashMap<Kind, KindFacts>,
    ) -> Vec<(String, Food)> {
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
            if let Some(facts) = kinds.get(&food.kind).filter(|_| !food.hazard) {
                food.take_from_kind(facts);
            }
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
        let trimmings = self.trimmings(id, raw.trimmings);
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

    fn trimmings(&mut self, id: &str, rows: Vec<RawTrimming>) -> Vec<Trimming> {
        let mut trimmings = Vec::with_capacity(rows.len());
        for row in rows {
            let cite = self.cite(format_args!("{id}.trimmings.{}", row.part), &row.cite);
            let (part, suitability, why) = (row.part, row.suitability, row.why);
            trimmings.push(Trimming { part, suitability, why, cite });
        }
        trimmings
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

    pub(super) fn limit(&mut self, id: &str, row: RawLimit) -> SafetyLimit {
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

    pub(super) fn sign(&mut self, id: &str, row: RawSign) -> Sign {
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
