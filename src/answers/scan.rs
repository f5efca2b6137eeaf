//! The danger scan: what the raw text of a question holds, whatever the reader made of it.
//!
//! A second pair of eyes. It names foods through the rule set, pairs them with the parts and
//! states said of them, and collects the words of `words` that must not be overlooked, typing
//! slips included. What it finds can only make an answer stricter. Pure; called by `answers`.

mod dangers;
mod foods;
mod parts;
mod times;

use std::ops::Range;

use super::words::{Danger, Floor, State, words};
use crate::rules::{Food, Rules, normalise};
use foods::Names;

/// Words shorter than this are never read through a typing slip.
const SLIP_LENGTH: usize = 5;

/// What was found in one question.
pub(super) struct Scan<'a> {
    pub tokens: Vec<String>,
    pub foods: Vec<FoodHit<'a>>,
    pub parts: Vec<PartHit>,
    pub states: Vec<(Range<usize>, State)>,
    pub signs: Vec<SignHit>,
    pub dangers: Vec<(Range<usize>, Danger)>,
    /// A length of time said ("3 days", "2 weeks", "overnight"), the longest, in minutes.
    pub minutes: Option<u32>,
    /// Foods that only name the dish another food goes into.
    dishes: Vec<&'a Food>,
    /// A temperature said ("35C", "95 F"), in degrees Celsius.
    pub degrees_c: Option<f64>,
}

/// A food named in the text: the one, or the several, that go by the name.
pub(super) struct FoodHit<'a> {
    pub tokens: Range<usize>,
    pub foods: Vec<&'a Food>,
    /// Read through a typing slip.
    pub slip: bool,
}

/// A part named, and the food it belongs to, as an index into `Scan::foods`.
pub(super) struct PartHit {
    pub tokens: Range<usize>,
    pub word: String,
    pub food: Option<usize>,
}

/// Something seen, smelt or felt.
pub(super) struct SignHit {
    pub tokens: Range<usize>,
    pub word: String,
    pub floor: Floor,
    /// "not slimy".
    pub negated: bool,
}

impl<'a> Scan<'a> {
    pub fn new(text: &str, rules: &'a Rules) -> Scan<'a> {
        let tokens: Vec<String> =
            normalise(text).split(' ').filter(|w| !w.is_empty()).map(str::to_owned).collect();
        let mut scan = Scan {
            tokens,
            foods: Vec::new(),
            parts: Vec::new(),
            states: Vec::new(),
            signs: Vec::new(),
            dangers: Vec::new(),
            minutes: None,
            dishes: Vec::new(),
            degrees_c: None,
        };
        scan.find_foods(&Names::new(rules));
        let harmless = scan.harmless();
        scan.find_dangers(&harmless, rules.general.outage.warm_above_c);
        scan.find_signs(&harmless);
        scan.find_states(&harmless);
        scan.find_parts(&harmless);
        scan.find_ages();
        scan.drop_dishes();
        scan.degrees_c = times::temperature(&scan.tokens);
        scan
    }

    pub fn has(&self, danger: Danger) -> bool {
        self.dangers.iter().any(|(_, found)| *found == danger)
    }

    /// Whether something in the text must not go unanswered, even where nobody asks.
    pub fn asks_for_care(&self) -> bool {
        let practice = self.dangers.iter().any(|(_, danger)| {
            !matches!(danger, Danger::Persuasion | Danger::Heat | Danger::Shelf)
        });
        let food = !self.foods.is_empty();
        let spoiled = self.signs.iter().any(|sign| sign.floor == Floor::Discard && !sign.negated);
        food && (!self.parts.is_empty() || !self.signs.is_empty() || !self.states.is_empty())
            || practice
            || spoiled
    }

    pub fn says(&self, state: State) -> bool {
        self.states.iter().any(|(_, found)| *found == state)
    }

    /// Whether any of these words stands in the text.
    pub fn word(&self, words: &[&str]) -> bool {
        self.tokens.iter().any(|token| words.contains(&token.as_str()))
    }

    /// The foods named by some of these words.
    pub fn foods_within(&self, name: &str) -> Vec<&'a Food> {
        let name = normalise(name);
        let words: Vec<&str> = name.split(' ').collect();
        let inside = |hit: &&FoodHit<'a>| {
            self.tokens[hit.tokens.clone()].iter().all(|token| words.contains(&token.as_str()))
        };
        self.foods.iter().filter(inside).flat_map(|hit| hit.foods.iter().copied()).collect()
    }

    /// Whether this food is only a part word said of another food ("squash flowers").
    pub fn is_part_of_other(&self, food: &Food) -> bool {
        let named = |hit: &FoodHit<'_>| hit.foods.iter().any(|known| known.id == food.id);
        let called = |word: &str| {
            let names = food.aliases.iter().chain([&food.name, &food.plural]);
            names.into_iter().any(|name| stem(name) == stem(word))
        };
        !self.foods.iter().any(named)
            && self.parts.iter().any(|part| part.food.is_some() && called(&part.word))
    }

    /// Whether these words name parts and nothing else ("dark green tops").
    pub fn is_bare_part(&self, name: &str) -> bool {
        let name = normalise(name);
        let mut words_in = name.split(' ');
        name.split(' ').any(|word| words().is_part(word))
            && words_in.all(|word| {
                words().is_part(word) || words().is_state(word) || words().plain.contains(word)
            })
    }

    /// Whether the word stands inside the name of this food ("mustard seed").
    pub fn in_name(&self, food: &Food, word: &str) -> bool {
        let hits = self.foods.iter().filter(|hit| hit.foods.iter().any(|f| f.id == food.id));
        hits.flat_map(|hit| &self.tokens[hit.tokens.clone()])
            .any(|token| stem(token) == stem(word) || token == "leaves" && word == "leaf")
    }

    /// Whether the text holds this name as it is.
    pub fn holds(&self, name: &str) -> bool {
        normalise(name).split(' ').all(|word| self.tokens.iter().any(|token| token == word))
    }

    /// Whether eating is told of as a habit, and nothing says it was just now.
    pub fn habit(&self) -> bool {
        let usual = ["always", "often", "usually", "regularly"];
        let eats = ["ate", "eat", "eaten", "eating", "had", "drank", "chewed"];
        let told = self.tokens.windows(2).any(|pair| {
            usual.contains(&pair[0].as_str()) && eats.contains(&pair[1].as_str())
                || pair[0] == "used" && pair[1] == "to"
        });
        let now = ["just", "now", "today", "already", "minutes", "hour", "morning", "tonight"];
        told && !self.word(&now) && !self.has(Danger::Symptom)
    }

    /// Whether the food was made at home.
    pub fn homemade(&self) -> bool {
        let made = |pair: &[String]| pair[0] == "home" && pair[1] == "made";
        self.word(&["homemade", "selfmade"]) || self.tokens.windows(2).any(made)
    }

    /// Whether the text speaks of standing in water.
    pub fn in_water(&self) -> bool {
        let stands = |hit: &FoodHit<'_>| hit.foods.iter().any(|food| food.water.is_some());
        let drinks = self.word(&["drink", "boil", "boiled", "boiling", "soak", "soaking", "wash"]);
        self.word(&["water"]) && !drinks && self.foods.iter().any(stands)
    }

    /// Whether a weight is asked for: "weight of a carrot", "2 lb in grams".
    pub fn asks_amount(&self) -> bool {
        let weighs = self.tokens.windows(2).any(|pair| pair[0] == "weight" && pair[1] == "of");
        let unit = |word: &String| crate::answers::neighbours::unit_word(word).is_some();
        let into = self
            .tokens
            .windows(3)
            .any(|w| unit(&w[0]) && ["in", "to", "into"].contains(&w[1].as_str()) && unit(&w[2]));
        weighs || into
    }

    /// Whether this food only names the dish another one goes into ("tomatoes for sauce").
    pub fn is_mere_dish(&self, food: &Food) -> bool {
        self.dishes.iter().any(|dish| dish.id == food.id)
    }

    /// The word right behind a food that nothing explains, with the food ("rice horchata"): very
    /// likely something else than the food.
    pub fn compound(&self, food: &Food) -> Option<String> {
        let hit = self.foods.iter().find(|hit| hit.foods.iter().any(|f| f.id == food.id))?;
        let unknown = self.is_unexplained(hit.tokens.end);
        unknown.then(|| self.tokens[hit.tokens.start..=hit.tokens.end].join(" "))
    }

    /// The text without the names of foods, and without what is denied: what signs are read from.
    pub fn seen(&self) -> String {
        // "Cut it off", "off the bush": only what smells or has gone off is off.
        let before_off = [
            "smells", "smell", "bit", "gone", "is", "tastes", "went", "going", "little",
            "slightly", "turned", "looks", "are",
        ];
        let apart = |i: usize| {
            self.tokens[i] == "off"
                && i.checked_sub(1).is_none_or(|j| !before_off.contains(&self.tokens[j].as_str()))
        };
        let hidden = |i: usize| {
            apart(i)
                || self.foods.iter().any(|hit| hit.tokens.contains(&i))
                || self.signs.iter().any(|sign| sign.negated && sign.tokens.contains(&i))
        };
        let words = self.tokens.iter().enumerate().filter(|(i, _)| !hidden(*i));
        words.map(|(_, word)| word.as_str()).collect::<Vec<_>>().join(" ")
    }

    /// Words right beside a food that nothing here explains ("rhubarb fluff", "the bits of the
    /// rhubarb", "furrowed rhubarb").
    pub fn unexplained(&self) -> Option<&str> {
        self.foods
            .iter()
            .find_map(|hit| {
                let before = hit.tokens.start.checked_sub(1);
                let owner = self.owner_before(hit.tokens.start);
                // "Furrowed stalk of the rhubarb": what is said of the part is said of the food.
                let said_of_owner = owner.and_then(|i| i.checked_sub(1));
                let around = [Some(hit.tokens.end), before, owner, said_of_owner];
                around.into_iter().flatten().find(|&i| self.is_unexplained(i))
            })
            .map(|i| self.tokens[i].as_str())
            .or_else(|| self.unknown_owner())
    }

    /// The word before "of the", "on my", "from a" in front of token `at`.
    fn owner_before(&self, at: usize) -> Option<usize> {
        let mut i = at.checked_sub(1)?;
        while DETERMINERS.contains(&self.tokens[i].as_str()) {
            i = i.checked_sub(1)?;
        }
        ["of", "off", "from", "on", "inside"].contains(&self.tokens[i].as_str()).then_some(())?;
        i.checked_sub(1)
    }

    /// The word before a part that nothing explains: the part is of something unknown ("laburnum
    /// pods").
    pub fn unknown_owner(&self) -> Option<&str> {
        let before = self.parts.iter().filter_map(|part| part.tokens.start.checked_sub(1));
        before.filter(|i| self.is_unexplained(*i)).map(|i| self.tokens[i].as_str()).next()
    }

    fn is_unexplained(&self, i: usize) -> bool {
        let Some(word) = self.tokens.get(i) else { return false };
        // Right beside a food, a word that is another food only by a slip may be anything: an
        // unknown part of the first one, say.
        let beside = |hit: &FoodHit<'_>| {
            self.foods.iter().any(|other| {
                other.tokens.end == hit.tokens.start || other.tokens.start == hit.tokens.end
            })
        };
        let food = |hit: &FoodHit<'_>| hit.tokens.contains(&i) && !(hit.slip && beside(hit));
        let explained = self.foods.iter().any(food)
            || self.parts.iter().any(|part| part.tokens.contains(&i))
            || self.states.iter().any(|(range, _)| range.contains(&i))
            || self.signs.iter().any(|sign| sign.tokens.contains(&i))
            || self.dangers.iter().any(|(range, _)| range.contains(&i))
            || word.chars().any(|c| c.is_ascii_digit())
            || words().plain.contains(word.as_str());
        !explained
    }
}

/// A word without its plural ending.
fn stem(word: &str) -> &str {
    word.trim_end_matches('s')
}

const DETERMINERS: &[&str] = &[
    "the", "a", "an", "my", "our", "your", "his", "her", "their", "this", "that", "these", "those",
    "some",
];

/// One typing slip from a known danger word, with the same first letter.
fn is_slip(word: &str, known: &str) -> bool {
    let near = known.len() >= SLIP_LENGTH
        && word.len() >= SLIP_LENGTH
        && word != known
        && word.as_bytes().first() == known.as_bytes().first()
        && word.len().abs_diff(known.len()) <= 1
        && strsim::osa_distance(word, known) <= 1;
    near && !words().no_slip.contains(word)
        && !words().plain.contains(word)
        && !words().is_danger(word)
}
