//! Questions to the checked rule set: foods by name, lives, limits, signs, guidance.

use std::collections::{BTreeMap, HashMap};

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use super::general::{AtRisk, General, Guidance, LeftOut, PoisonLine, Topic};
use super::{Cite, Food, Grade, Life, Part, SafetyLimit, Sign, Source, Trimming, Weight};
use crate::units::Unit;
use crate::words::{FoodId, Form, Place, Verdict};

/// Words in front of a food's name that say its form or state, not another food.
const STATE_WORDS: &[&str] = &[
    "raw",
    "fresh",
    "ripe",
    "whole",
    "cut",
    "sliced",
    "chopped",
    "diced",
    "cooked",
    "boiled",
    "leftover",
    "left over",
    "frozen",
    "thawed",
    "defrosted",
    "dried",
    "opened",
    "open",
    "homemade",
    "home made",
    "organic",
    "uncooked",
    "half",
    "halved",
    "peeled",
    "shredded",
    "grated",
];

/// The checked rule set. Immutable; built by `Rules::embedded` or `Rules::parse`.
#[derive(Clone, Debug)]
pub struct Rules {
    pub foods: Vec<Food>,
    pub sources: Vec<Source>,
    pub general: General,
    /// Changes whenever the data does; events carry it.
    pub version: String,
    pub(super) by_id: HashMap<FoodId, usize>,
    pub(super) by_name: BTreeMap<String, Vec<usize>>,
}

/// The foods a name may mean.
#[derive(Clone, Debug, PartialEq)]
pub enum Found<'a> {
    One(&'a Food),
    /// Several foods share the name; the caller asks which.
    Ambiguous(Vec<&'a Food>),
    None,
}

impl Rules {
    pub fn food(&self, id: &FoodId) -> Option<&Food> {
        self.by_id.get(id).map(|&index| &self.foods[index])
    }

    /// The food or foods with this name, plural or alias, whatever its case, accents and hyphens.
    /// Words of state in front ("cooked", "leftover", "half") are passed over when the name with
    /// them is not a food of its own.
    pub fn find(&self, name: &str) -> Found<'_> {
        let name = normalise(name);
        let mut rest = name.as_str();
        loop {
            if let Some(indices) = self.named(rest) {
                return match indices {
                    [one] => Found::One(&self.foods[*one]),
                    several => Found::Ambiguous(several.iter().map(|&i| &self.foods[i]).collect()),
                };
            }
            let shorter = STATE_WORDS
                .iter()
                .find_map(|word| rest.strip_prefix(word).and_then(|tail| tail.strip_prefix(' ')));
            match shorter {
                Some(tail) => rest = tail,
                None => return Found::None,
            }
        }
    }

    fn named(&self, name: &str) -> Option<&[usize]> {
        let singular = || name.strip_suffix('s').and_then(|name| self.by_name.get(name));
        self.by_name.get(name).or_else(singular).map(Vec::as_slice)
    }

    /// Every normalised name with the food it means, in alphabetical order; an ambiguous name
    /// comes once for each of its foods.
    pub fn names(&self) -> impl Iterator<Item = (&str, &FoodId)> {
        self.by_name.iter().flat_map(|(name, indices)| {
            indices.iter().map(|&index| (name.as_str(), &self.foods[index].id))
        })
    }

    /// The source a fact rests on.
    pub fn source(&self, cite: Cite) -> &Source {
        &self.sources[cite.source]
    }

    /// The default row of the quality clock for a form in a place. The crisper stands in for the
    /// fridge and the fridge for the crisper; a place of the household's own has no row.
    pub fn life<'a>(&self, food: &'a Food, form: Form, place: &Place) -> Option<&'a Life> {
        self.lives(food, form, place).into_iter().find(|life| !life.alternative)
    }

    /// Every published figure for a form in a place, the default first.
    pub fn lives<'a>(&self, food: &'a Food, form: Form, place: &Place) -> Vec<&'a Life> {
        let form = food.meant(form);
        let rows = |place: &Place| -> Vec<&'a Life> {
            let fits = |life: &&Life| life.form == form && life.place == *place;
            food.lives.iter().filter(fits).collect()
        };
        let mut found = rows(place);
        if !found.iter().any(|life| !life.alternative)
            && let Some(other) = cold_twin(place)
        {
            found.extend(rows(&other));
        }
        found.sort_by_key(|life| life.alternative);
        found
    }

    /// The strictest safety clock on a form in a place: the food's own or the general one.
    /// Nothing lengthens it.
    pub fn safety_limit<'a>(
        &'a self,
        food: &'a Food,
        form: Form,
        place: &Place,
    ) -> Option<&'a SafetyLimit> {
        let form = food.meant(form);
        let twin = cold_twin(place);
        let own = food.safety.iter();
        let general = self.general.limits.iter().filter(|row| row.kinds.contains(&food.kind));
        own.chain(general.map(|row| &row.limit))
            .filter(|limit| limit.form == form)
            .filter(|limit| limit.place == *place || Some(&limit.place) == twin.as_ref())
            .min_by_key(|limit| limit.at_most_hours())
    }

    /// How long the food may stand at room temperature in this form; `None` when the two-hour
    /// rule is not for it (whole produce, bread, dry goods).
    pub fn left_out(&self, food: &Food, form: Form) -> Option<LeftOut> {
        if !self.perishable(food, form) {
            return None;
        }
        let general = self.general.left_out;
        let own = food.left_out_minutes.unwrap_or(general.minutes);
        let minutes = own.min(general.minutes);
        Some(LeftOut { minutes, hot_minutes: general.hot_minutes.min(minutes), ..general })
    }

    /// Whether standing warm makes the food unsafe in this form.
    pub fn perishable(&self, food: &Food, form: Form) -> bool {
        !food.keeps_out.contains(&food.meant(form))
    }

    /// What a thing seen on a food means; where several things are seen, the strictest counts.
    ///
    /// A food's own row takes the place of the general one for the words it names. For the other
    /// words of the general row it does so only when it is as strict.
    pub fn sign<'a>(&'a self, food: &'a Food, seen: &str) -> Option<&'a Sign> {
        let seen = normalise(seen);
        let sees = |word: &String| has_words(&seen, word);
        let own = food.signs.iter().filter(|sign| sign.words.iter().any(sees));
        let general = self.general.signs.iter().filter_map(|row| {
            let about = row.kinds.is_empty() || row.kinds.contains(&food.kind);
            let claimed = |word: &&String| food.signs.iter().any(|own| own.words.contains(word));
            let seen_here = row.sign.words.iter().filter(|word| !claimed(word)).any(sees);
            (about && seen_here).then(|| food.own_form_of(&row.sign))
        });
        own.chain(general).max_by_key(|sign| severity(sign.verdict))
    }

    /// The first word on a topic.
    pub fn guidance(&self, topic: Topic) -> Option<&Guidance> {
        self.general.guidance.iter().find(|row| row.topic == topic)
    }

    /// The published warnings about a food, and those about food in general.
    pub fn at_risk(&self, food: Option<&FoodId>) -> impl Iterator<Item = &AtRisk> {
        self.general.at_risk.iter().filter(move |row| match food {
            Some(id) => row.foods.is_empty() || row.foods.contains(id),
            None => row.foods.is_empty(),
        })
    }

    /// The lines of a country (ISO 3166-1 alpha-2, either case), in the order to show them.
    pub fn poison_lines(&self, country: &str) -> impl Iterator<Item = &PoisonLine> {
        self.general.poison.iter().filter(move |line| line.country.eq_ignore_ascii_case(country))
    }
}

impl Food {
    /// The form people mean: the food's usual one when they say nothing of it.
    pub fn meant(&self, form: Form) -> Form {
        if form == Form::Whole { self.usual_form } else { form }
    }

    /// The food's own row about the same thing as a general sign, unless it is looser.
    fn own_form_of<'a>(&'a self, general: &'a Sign) -> &'a Sign {
        let same = |own: &&Sign| own.words.iter().any(|word| general.words.contains(word));
        let own = self.signs.iter().filter(same).max_by_key(|sign| severity(sign.verdict));
        own.filter(|own| severity(own.verdict) >= severity(general.verdict)).unwrap_or(general)
    }

    /// The part sold as the food itself.
    pub fn main_part(&self) -> Option<&Part> {
        self.parts.iter().find(|part| part.main)
    }

    /// The part people mean by a word ("greens", "tops"); `None` is unknown, never edible.
    pub fn part(&self, word: &str) -> Option<&Part> {
        let word = normalise(word);
        let singular = word.strip_suffix('s').unwrap_or(&word);
        let leaves = if word == "leaves" { "leaf" } else { singular };
        let is = |name: &str| name == word || name == singular || name == leaves;
        self.parts.iter().find(|part| is(&part.id) || part.aliases.iter().any(|alias| is(alias)))
    }

    /// The weight of one unit as bought. A size nobody weighed falls back to the usual one, and a
    /// plain piece to the unit the food is sold by (a head, a bulb, an ear), and back.
    pub fn weight(&self, unit: Unit, size: Option<&str>) -> Option<&Weight> {
        let exact = |unit: Unit, size: Option<&str>| {
            self.weights.iter().find(|row| row.unit == unit && row.size.as_deref() == size)
        };
        let twins: &[Unit] = match unit {
            Unit::Piece => &[Unit::Head, Unit::Bulb, Unit::Ear, Unit::Loaf],
            Unit::Head | Unit::Bulb | Unit::Ear | Unit::Loaf => &[Unit::Piece],
            Unit::Rib | Unit::Stick => &[Unit::Stalk],
            _ => &[],
        };
        let units = [unit].into_iter().chain(twins.iter().copied());
        units.flat_map(|unit| [exact(unit, size), exact(unit, None)]).flatten().next()
    }

    /// What a scrap of this food does in the trimmings bag: the part's own row, else the food's.
    pub fn trimming(&self, part: Option<&str>) -> Option<&Trimming> {
        let named = part.and_then(|part| {
            let part = normalise(part);
            let singular = part.strip_suffix('s').unwrap_or(&part);
            let is = |row: &&Trimming| {
                row.part.split(',').any(|name| name.trim() == part || name.trim() == singular)
            };
            self.trimmings.iter().find(is)
        });
        named.or_else(|| self.trimmings.iter().find(|row| row.part.is_empty()))
    }
}

impl Food {
    /// What the bag makes of a scrap called by these words: of the rows that name one of them the
    /// strictest counts, so that a green potato peel is no potato peel.
    pub fn scrap(&self, words: &str) -> Option<&Trimming> {
        let words = normalise(words);
        let said = |name: &str| {
            let name = name.trim();
            !name.is_empty() && (has_words(&words, name) || has_words(&words, &format!("{name}s")))
        };
        let rows = self.trimmings.iter().filter(|row| row.part.split(',').any(said));
        rows.max_by_key(|row| row.suitability)
    }
}

impl SafetyLimit {
    /// The longest the limit can last, in hours: for comparing limits, not for dates.
    pub fn at_most_hours(&self) -> u32 {
        self.hours.unwrap_or_else(|| self.days.unwrap_or(0).saturating_mul(24))
    }
}

/// How strict a verdict on a sign is.
fn severity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Discard => 2,
        Verdict::Limited => 1,
        _ => 0,
    }
}

/// The crisper is a drawer of the fridge.
fn cold_twin(place: &Place) -> Option<Place> {
    match place {
        Place::Fridge => Some(Place::Crisper),
        Place::Crisper => Some(Place::Fridge),
        Place::Counter | Place::CoolDark | Place::Freezer | Place::InGround | Place::Own(_) => None,
    }
}

/// Whether a text holds a word or phrase as whole words.
pub fn has_words(text: &str, phrase: &str) -> bool {
    text.match_indices(phrase).any(|(start, found)| {
        let before = text[..start].chars().next_back();
        let after = text[start + found.len()..].chars().next();
        before.is_none_or(|c| !c.is_alphanumeric()) && after.is_none_or(|c| !c.is_alphanumeric())
    })
}

/// A name as it is compared: lower case, no accents, hyphens and apostrophes, single spaces.
pub fn normalise(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    let mut push = |c: char| {
        if c == '\'' || c == '\u{2019}' {
        } else if c.is_alphanumeric() {
            out.extend(c.to_lowercase());
        } else if !out.is_empty() && !out.ends_with(' ') {
            out.push(' ');
        }
    };
    if name.is_ascii() {
        name.chars().for_each(&mut push);
    } else {
        name.nfkd().filter(|c| !is_combining_mark(*c)).for_each(&mut push);
    }
    out.truncate(out.trim_end().len());
    out
}

/// How many facts stand on each grade, best grade first.
pub fn grade_counts(rules: &Rules) -> [(Grade, usize); 5] {
    let mut counts = Grade::ALL.map(|grade| (grade, 0));
    for cite in rules.foods.iter().flat_map(cites).chain(general_cites(&rules.general)) {
        counts[cite.grade as usize].1 += 1;
    }
    counts
}

/// Where every fact of a food comes from.
fn cites(food: &Food) -> impl Iterator<Item = Cite> {
    let places = food.places.iter().map(|row| row.cite);
    let lives = food.lives.iter().map(|row| row.cite);
    let safety = food.safety.iter().map(|row| row.cite);
    let conditions = food.conditions.iter().map(|row| row.cite);
    let water = food.water.iter().map(|row| row.cite);
    let signs = food.signs.iter().map(|row| row.cite);
    let parts = food.parts.iter().map(|row| row.cite);
    let preserving = food.freeze.iter().chain(&food.dry).map(|row| row.cite);
    let trimmings = food.trimmings.iter().map(|row| row.cite);
    let weights = food.weights.iter().map(|row| row.cite);
    let inedible = food.inedible.iter().map(|row| row.1);
    let texts = food.wash.iter().chain(&food.wrap).chain(&food.caution).map(|row| row.1);
    places
        .chain(lives)
        .chain(safety)
        .chain(conditions)
        .chain(water)
        .chain(signs)
        .chain(parts)
        .chain(preserving)
        .chain(trimmings)
        .chain(weights)
        .chain(inedible)
        .chain(texts)
}

fn general_cites(general: &General) -> impl Iterator<Item = Cite> {
    let clocks = [general.left_out.cite, general.outage.cite, general.bag.cite].into_iter();
    clocks
        .chain(general.limits.iter().map(|row| row.limit.cite))
        .chain(general.signs.iter().map(|row| row.sign.cite))
        .chain(general.guidance.iter().map(|row| row.cite))
        .chain(general.at_risk.iter().map(|row| row.cite))
        .chain(general.animals.iter().map(|row| row.cite))
        .chain(general.poison.iter().map(|row| row.cite))
}
