//! The danger scan: what the raw text of a question holds, whatever the reader made of it.
//!
//! A second pair of eyes. It names foods through the rule set, pairs them with the parts and
//! states said of them, and collects the words of `words` that must not be overlooked, typing
//! slips included. What it finds can only make an answer stricter. Pure; called by `answers`.

use std::collections::HashMap;
use std::ops::Range;

use super::words::{self, Danger, Floor, State};
use crate::rules::{Food, Kind, Rules, Topic, normalise};

/// The longest name of a food looked for, in words.
const LONGEST_NAME: usize = 5;
/// Words shorter than this are never read through a typing slip.
const SLIP_LENGTH: usize = 5;
/// "To check" this many words after "taste" still belongs to it.
const TASTE_REACH: usize = 8;
/// Names shorter than this are never read across misplaced spaces.
const SQUEEZED_LENGTH: usize = 8;

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
            degrees_c: None,
        };
        scan.find_foods(&Names::new(rules));
        let harmless = scan.harmless();
        scan.find_dangers(&harmless);
        scan.find_signs(&harmless);
        scan.find_states(&harmless);
        scan.find_parts(&harmless);
        scan.find_ages();
        scan.degrees_c = temperature(&scan.tokens);
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
            || words::PLAIN.contains(&word.as_str());
        !explained
    }

    fn find_foods(&mut self, names: &Names<'a>) {
        let mut i = 0;
        while i < self.tokens.len() {
            match self.food_at(i, names) {
                Some(hit) => {
                    i = hit.tokens.end;
                    self.foods.push(hit);
                }
                None => i += 1,
            }
        }
    }

    fn food_at(&self, i: usize, names: &Names<'a>) -> Option<FoodHit<'a>> {
        let longest = LONGEST_NAME.min(self.tokens.len() - i);
        for n in (1..=longest).rev() {
            if n == 1 && (self.is_no_food(i) || self.is_part_here(i, names)) {
                return None;
            }
            let mut foods = names.exact(&self.tokens[i..i + n].join(" "));
            if foods.is_empty() {
                foods = names.squeezed(&self.tokens[i..i + n].concat());
            }
            if !foods.is_empty() {
                return Some(FoodHit { tokens: i..i + n, foods, slip: false });
            }
        }
        let mut lengths: Vec<usize> = (1..=longest).rev().collect();
        // "Chrry leaf" is a leaf of something before it is a curry leaf.
        if self.tokens.get(i + 1).is_some_and(|word| part_word(word)) {
            lengths.reverse();
        }
        lengths.into_iter().find_map(|n| {
            let foods = names.near(&self.tokens[i..i + n].join(" "));
            (!foods.is_empty()).then(|| FoodHit { tokens: i..i + n, foods, slip: true })
        })
    }

    /// "use by date" is no fruit, "can you" no tin.
    fn is_no_food(&self, i: usize) -> bool {
        ["date", "can"].contains(&self.tokens[i].as_str())
    }

    /// A word that names a food alone but a part beside a food: "potato sprouts", "the sprouts on
    /// my potatoes".
    fn is_part_here(&self, i: usize, names: &Names<'a>) -> bool {
        let word = self.tokens[i].as_str();
        if !part_word(word) {
            return false;
        }
        let plant =
            |food: &&Food| food.kind.is_produce() || food.hazard || food.kind == Kind::Legume;
        let other = |j: usize| {
            let token = self.tokens[j].as_str();
            j != i
                && !part_word(token)
                && (names.exact(token).iter().any(plant) || names.near(token).iter().any(plant))
        };
        if self.owned(i) {
            return true;
        }
        let lists = |j: usize| {
            let between = &self.tokens[i.min(j) + 1..i.max(j)];
            between.iter().any(|w| ["and", "or"].contains(&w.as_str()))
        };
        let mut near = i.saturating_sub(4)..(i + 5).min(self.tokens.len());
        near.any(|j| other(j) && !lists(j))
    }

    /// "The berry of the ...", "seeds from the ...": a part of whatever follows, known or not.
    fn owned(&self, i: usize) -> bool {
        let link =
            self.tokens.get(i + 1).is_some_and(|w| ["of", "off", "from"].contains(&w.as_str()));
        let rest = self.tokens.iter().skip(i + 2);
        let mut rest = rest.skip_while(|w| DETERMINERS.contains(&w.as_str()));
        link && rest.next().is_some_and(|word| !words::PLAIN.contains(&word.as_str()))
    }

    /// Tokens inside names that only look dangerous ("green beans", "baby carrots").
    fn harmless(&self) -> Vec<bool> {
        let mut covered = vec![false; self.tokens.len()];
        for hit in &self.foods {
            // A plant that is no food explains nothing away.
            if hit.foods.iter().all(|food| !food.hazard) {
                hit.tokens.clone().for_each(|i| covered[i] = true);
            }
        }
        for phrase in words::HARMLESS {
            for range in self.phrase(phrase) {
                range.for_each(|i| covered[i] = true);
            }
        }
        covered
    }

    fn find_dangers(&mut self, harmless: &[bool]) {
        for (phrase, danger) in words::PHRASES {
            for range in self.phrase(phrase) {
                // A plant's name explains its own words ("horse chestnut"), but not where it grows.
                let origin = matches!(
                    danger,
                    Danger::Guided(Topic::Foraged | Topic::WildMushroom | Topic::Ornamental)
                );
                let named = self
                    .foods
                    .iter()
                    .any(|hit| range.start >= hit.tokens.start && range.end <= hit.tokens.end);
                if !range.clone().all(|i| harmless[i]) && (origin || !named) {
                    self.dangers.push((range, *danger));
                }
            }
        }
        for (known, danger) in words::SLIPPED {
            let slips = self.tokens.iter().enumerate().filter(|(_, word)| is_slip(word, known));
            self.dangers.extend(slips.map(|(i, _)| (i..i + 1, *danger)));
        }
        let stem = |stems: &[&str]| {
            self.tokens.iter().position(|w| stems.iter().any(|stem| w.starts_with(stem)))
        };
        let mut more = Vec::new();
        // "Taste the chicken to check", but not "taste the soup to check the salt".
        let tastes = ["taste", "tasting", "lick", "sip"];
        for (i, _) in self.tokens.iter().enumerate().filter(|(_, w)| tastes.contains(&w.as_str())) {
            let after = &self.tokens[i + 1..(i + TASTE_REACH).min(self.tokens.len())];
            let checks = after.windows(2).position(|pair| {
                pair[0] == "to"
                    && ["check", "see", "tell", "test", "find"].contains(&pair[1].as_str())
            });
            let Some(at) = checks.map(|at| i + 1 + at) else { continue };
            let what = self.tokens.get(at + 2).map(String::as_str);
            if matches!(what, None | Some("if" | "whether" | "it" | "them" | "that" | "out")) {
                more.push((i..at + 2, Danger::Guided(Topic::TasteTest)));
            }
        }
        if let Some(i) = stem(&["thaw", "defrost"])
            && self.word(&[
                "counter", "worktop", "sink", "side", "table", "sun", "radiator", "hot", "warm",
                "room", "outside",
            ])
        {
            more.push((i..i + 1, Danger::WarmThaw));
        }
        if let Some(i) = stem(&["reheat", "microwav", "heat", "warm"])
            && self.word(&["twice", "again", "second", "third", "2nd", "3rd", "times"])
        {
            more.push((i..i + 1, Danger::ReheatAgain));
        }
        let habit = |i: usize| {
            i > 0
                && ["always", "never", "often", "usually", "used"]
                    .contains(&self.tokens[i - 1].as_str())
        };
        self.dangers.retain(|(range, danger)| *danger != Danger::Eaten || !habit(range.start));
        self.dangers.extend(more);
        let picked = self.word(&[
            "wild", "found", "picked", "foraged", "woods", "forest", "lawn", "garden", "yard",
            "tree", "log", "field", "park", "identify", "backyard", "growing", "grow",
        ]);
        let pointed = ["this", "that", "these", "those", "what", "which"];
        let kept = self.word(&[
            "still",
            "old",
            "fridge",
            "day",
            "days",
            "week",
            "weeks",
            "bought",
            "shop",
            "packet",
            "left",
            "yesterday",
            "opened",
            "store",
        ]);
        if let Some(i) = self.tokens.iter().position(|w| w.starts_with("mushroom")) {
            let shown = i > 0 && pointed.contains(&self.tokens[i - 1].as_str()) && !kept;
            if picked || shown {
                self.dangers.push((i..i + 1, Danger::Guided(Topic::WildMushroom)));
            }
        }
        // "Some leaves", "these seeds": of what, nobody says.
        for i in 1..self.tokens.len() {
            let nameless = ["some", "these", "those", "unknown"]
                .contains(&self.tokens[i - 1].as_str())
                && NAMELESS.contains(&self.tokens[i].as_str())
                && !self.foods.iter().any(|hit| hit.tokens.contains(&i))
                && !self.tokens.get(i + 1).is_some_and(|w| ["of", "from"].contains(&w.as_str()));
            if nameless {
                self.dangers.push((i - 1..i + 1, Danger::Guided(Topic::Foraged)));
            }
        }
    }

    fn find_signs(&mut self, harmless: &[bool]) {
        for (phrase, floor) in words::SIGNS {
            for tokens in self.phrase_or_slip(phrase) {
                if tokens.clone().all(|i| harmless[i]) {
                    continue;
                }
                let negated = self.negated(tokens.start);
                let word = (*phrase).to_owned();
                self.signs.push(SignHit { tokens, word, floor: *floor, negated });
            }
        }
    }

    fn find_states(&mut self, harmless: &[bool]) {
        for (phrase, state) in words::STATES {
            for range in self.phrase_or_slip(phrase) {
                // "Raw kidney beans" may be a name; raw they are all the same.
                let raw = *state == State::Raw && range.start + 1 != self.tokens.len();
                if raw || !range.clone().all(|i| harmless[i]) {
                    self.states.push((range, *state));
                }
            }
        }
    }

    fn find_parts(&mut self, harmless: &[bool]) {
        let mut taken = self.find_listed_parts();
        for (i, harmless) in harmless.iter().enumerate() {
            taken[i] |= harmless;
        }
        for i in (0..self.tokens.len()).filter(|&i| !taken[i]) {
            let word = self.tokens[i].as_str();
            let known = || words::PARTS.iter().flat_map(|group| group.iter());
            let exact = known().find(|known| **known == word || **known == stem(word));
            let Some(known) = exact.or_else(|| known().find(|known| is_slip(word, known))) else {
                continue;
            };
            let food = self.food_of(i);
            if words::LOOSE_PARTS.contains(&word) && food.is_none() && !self.owned(i) {
                continue;
            }
            self.parts.push(PartHit { tokens: i..i + 1, word: (*known).to_owned(), food });
        }
        self.share_parts();
    }

    /// Parts by the food's own words, right behind or before it ("garlic scape", "radish seed
    /// pod"), the longest first. Returns which tokens they cover.
    fn find_listed_parts(&mut self) -> Vec<bool> {
        let mut taken = vec![false; self.tokens.len()];
        for (index, hit) in self.foods.iter().enumerate() {
            // "Corn cob" is a name, and the cob is a part of it all the same.
            if hit.tokens.len() > 1 {
                for i in hit.tokens.clone() {
                    let word = &self.tokens[i];
                    let part = |food: &&Food| food.part(word).is_some_and(|part| !part.main);
                    let state = words::STATES.iter().any(|(state, _)| state == word);
                    if !state && hit.foods.iter().all(part) {
                        self.parts.push(PartHit {
                            tokens: i..i + 1,
                            word: word.clone(),
                            food: Some(index),
                        });
                    }
                }
            }
            for n in (1..=3).rev() {
                let behind = hit.tokens.end..hit.tokens.end + n;
                let before = hit.tokens.start.checked_sub(n).map(|start| start..hit.tokens.start);
                // "Soaking water of the beans".
                let owner = self.owner_before(hit.tokens.start).map(|last| last + 1);
                let owner = owner.and_then(|end| Some(end.checked_sub(n)?..end));
                for tokens in [Some(behind), before, owner].into_iter().flatten() {
                    let Some(words) = self.tokens.get(tokens.clone()) else { continue };
                    let word = words.join(" ");
                    let state = words::STATES.iter().any(|(state, _)| *state == word);
                    let listed = |food: &&Food| food.part(&word).is_some_and(|part| !part.main);
                    if state || !hit.foods.iter().any(listed) {
                        continue;
                    }
                    if !tokens.clone().any(|i| taken[i]) {
                        tokens.clone().for_each(|i| taken[i] = true);
                        self.parts.push(PartHit { tokens, word, food: Some(index) });
                    }
                }
            }
        }
        taken
    }

    /// The longest length of time said. The age of a person is none of the food's.
    fn find_ages(&mut self) {
        let tokens = &self.tokens;
        let said = |i: usize, word: &str| tokens.get(i).is_some_and(|token| token == word);
        let mut longest: Option<u32> = None;
        let mut infant = None;
        for (i, word) in tokens.iter().enumerate() {
            let after = |before: &str| i > 0 && said(i - 1, before);
            let named = match word.as_str() {
                "overnight" => Some(8 * 60),
                "fortnight" => Some(14 * DAY),
                "night" if after("all") || after("last") => Some(8 * 60),
                "day" if after("all") => Some(10 * 60),
                "yesterday" => Some(DAY),
                "week" if after("last") => Some(7 * DAY),
                "month" if after("last") => Some(30 * DAY),
                "year" if after("last") => Some(365 * DAY),
                _ => None,
            };
            // "4day", "10hrs", "3 days", "a couple of weeks".
            let digits = word.chars().take_while(char::is_ascii_digit).count();
            let (number, rest) = word.split_at(digits);
            let glued = if digits > 0 { span(number.parse().ok(), rest) } else { None };
            let spaced = number_before(tokens, i).and_then(|n| span(Some(n), word));
            let minutes = named.max(glued).max(spaced);
            let grown = ["month", "months", "year", "years"].contains(&word.as_str());
            if grown && said(i + 1, "old") && self.is_person(i + 1) {
                let small = minutes.is_some_and(|minutes| minutes <= INFANCY);
                infant = infant.or(small.then_some(i));
                continue;
            }
            longest = longest.max(minutes);
        }
        self.minutes = longest;
        if let Some(i) = infant {
            self.dangers.push((i..i + 1, Danger::Guided(Topic::Infants)));
        }
    }

    /// "For a 3 year old", "my two year old son", never "a 2 year old cheese".
    fn is_person(&self, old: usize) -> bool {
        let food = self.foods.iter().any(|hit| hit.tokens.start == old + 1);
        let owners = ["a", "an", "my", "our", "his", "her", "for", "the", "their", "your"];
        let before = &self.tokens[old.saturating_sub(4)..old];
        !food && before.iter().any(|word| owners.contains(&word.as_str()))
    }

    fn share_parts(&mut self) {
        // "potato and tomato leaves": the part is said of both.
        let mut shared = Vec::new();
        for part in &self.parts {
            let Some(mut index) = part.food else { continue };
            while index > 0 && self.joined(index - 1, index) {
                index -= 1;
                let has_own = self.parts.iter().any(|other| {
                    let next = &self.foods[index + 1].tokens;
                    other.food == Some(index) && other.tokens.start < next.start
                });
                if !has_own && part.tokens.start >= self.foods[index + 1].tokens.end {
                    let (tokens, word) = (part.tokens.clone(), part.word.clone());
                    shared.push(PartHit { tokens, word, food: Some(index) });
                }
            }
        }
        self.parts.extend(shared);
    }

    /// Whether two foods stand in one list.
    fn joined(&self, left: usize, right: usize) -> bool {
        let between = self.foods[left].tokens.end..self.foods[right].tokens.start;
        between.len() <= 1
            && self.tokens[between]
                .iter()
                .all(|w| ["and", "or", "n", "nor", "plus"].contains(&w.as_str()))
    }

    /// The food a part word at `i` belongs to: the one right before it ("beet greens", "potato
    /// plant leaves"), or the one after "of", "from", "on".
    fn food_of(&self, i: usize) -> Option<usize> {
        let before = self.foods.iter().rposition(|hit| {
            hit.tokens.end <= i
                && self.tokens[hit.tokens.end..i]
                    .iter()
                    .all(|word| BETWEEN.contains(&word.as_str()) || part_word(word))
        });
        let after = || {
            self.foods.iter().position(|hit| {
                hit.tokens.start > i && {
                    let between = &self.tokens[i + 1..hit.tokens.start];
                    between.len() <= 4
                        && between.iter().any(|w| LINKS.contains(&w.as_str()))
                        && between.iter().all(|w| {
                            LINKS.contains(&w.as_str())
                                || DETERMINERS.contains(&w.as_str())
                                || words::PLAIN.contains(&w.as_str())
                        })
                }
            })
        };
        before.or_else(after)
    }

    /// "not slimy", "no mould", "the bread isn't mouldy"; never "isn't mouldy bread fine?".
    fn negated(&self, at: usize) -> bool {
        let fillers = ["any", "a", "very", "too", "yet", "really", "visibly", "at", "all", "or"];
        let mut i = at;
        while i > 0 && fillers.contains(&self.tokens[i - 1].as_str()) {
            i -= 1;
        }
        let Some(i) = i.checked_sub(1) else { return false };
        match self.tokens[i].as_str() {
            "not" | "no" | "without" | "isnt" | "arent" | "wasnt" => {
                i > 0
                    && !["why", "if", "and", "but", "or", "so", "eat", "to"]
                        .contains(&self.tokens[i - 1].as_str())
                    || i > 0 && self.tokens[i] == "not" && self.tokens[i - 1] == "but"
                    || i > 0 && self.tokens[i] == "no" && self.tokens[i - 1] == "and"
            }
            _ => false,
        }
    }

    fn phrase(&self, phrase: &str) -> Vec<Range<usize>> {
        let (phrase, open) = phrase.strip_suffix('*').map_or((phrase, false), |p| (p, true));
        let words: Vec<&str> = phrase.split(' ').collect();
        let fits = |window: &[String]| {
            window.iter().zip(&words).enumerate().all(|(k, (token, word))| {
                token == word || (open && k + 1 == words.len() && token.starts_with(word))
            })
        };
        let windows = self.tokens.windows(words.len()).enumerate();
        windows.filter(|(_, w)| fits(w)).map(|(i, _)| i..i + words.len()).collect()
    }

    fn phrase_or_slip(&self, phrase: &str) -> Vec<Range<usize>> {
        let mut found = self.phrase(phrase);
        if !phrase.contains(' ') {
            let slips = self.tokens.iter().enumerate().filter(|(_, w)| is_slip(w, phrase));
            found.extend(slips.map(|(i, _)| i..i + 1));
        }
        found
    }
}

/// Whether a word names a part of plants.
fn part_word(word: &str) -> bool {
    words::PARTS.iter().flat_map(|group| group.iter()).any(|w| *w == word || *w == stem(word))
}

/// A word without its plural ending.
fn stem(word: &str) -> &str {
    word.trim_end_matches('s')
}

/// Parts that are shown without the plant they come from.
const NAMELESS: &[&str] = &[
    "leaves",
    "leaf",
    "seeds",
    "roots",
    "flowers",
    "berries",
    "bulbs",
    "greens",
    "plants",
    "shoots",
    "nuts",
    "pods",
    "mushrooms",
];
const DETERMINERS: &[&str] = &[
    "the", "a", "an", "my", "our", "your", "his", "her", "their", "this", "that", "these", "those",
    "some",
];
/// Words between a food and a part of it ("potato plant leaves", "cashews in the shell").
const BETWEEN: &[&str] = &[
    "plant", "plants", "s", "green", "the", "young", "outer", "raw", "its", "their", "and", "own",
    "in", "with", "still", "or",
];
const LINKS: &[&str] = &["of", "off", "from", "on", "in", "inside", "for", "belonging"];

/// The rule set's names, ready to be looked up exactly or through a slip.
struct Names<'a> {
    names: HashMap<&'a str, Vec<&'a Food>>,
    /// Names of several words without their spaces.
    squeezed: HashMap<String, Vec<&'a Food>>,
}

impl<'a> Names<'a> {
    fn new(rules: &'a Rules) -> Names<'a> {
        let mut names: HashMap<&str, Vec<&Food>> = HashMap::new();
        let mut squeezed: HashMap<String, Vec<&Food>> = HashMap::new();
        for (name, id) in rules.names() {
            if let Some(food) = rules.food(id) {
                names.entry(name).or_default().push(food);
                if name.contains(' ') {
                    squeezed.entry(name.replace(' ', "")).or_default().push(food);
                }
            }
        }
        Names { names, squeezed }
    }

    /// Foods with this name when spaces fall elsewhere ("selfs own squash", "horsechestnut").
    fn squeezed(&self, name: &str) -> Vec<&'a Food> {
        let long = name.len() >= SQUEEZED_LENGTH;
        let found = long.then(|| self.squeezed.get(name).or_else(|| self.squeezed.get(stem(name))));
        found.flatten().cloned().unwrap_or_default()
    }

    /// Foods with exactly this name, or with the name it is the plural of.
    fn exact(&self, name: &str) -> Vec<&'a Food> {
        let plural = |suffix: &str, with: &str| {
            let stem = name.strip_suffix(suffix)?;
            self.names.get(format!("{stem}{with}").as_str())
        };
        let found = self.names.get(name);
        let found = found.or_else(|| plural("s", "")).or_else(|| plural("es", ""));
        found.or_else(|| plural("ies", "y")).cloned().unwrap_or_default()
    }

    /// Foods whose name the word is a typing slip of: one slip, two in long words.
    fn near(&self, word: &str) -> Vec<&'a Food> {
        let n = word.len();
        let first = word.split(' ').next().unwrap_or(word);
        let ordinary = words::PLAIN.contains(&first)
            || is_danger_word(first)
            || words::NOT_SLIPS.contains(&first);
        let part = words::PARTS.iter().flat_map(|group| group.iter()).any(|w| is_slip(word, w));
        let alone = first == word;
        if n < SLIP_LENGTH || !word.is_ascii() || (alone && ordinary) || part {
            return Vec::new();
        }
        let allowed_for = |length: usize| match length {
            0..5 => 0,
            5..8 => 1,
            _ => 2,
        };
        // "Red elerberry" is near "red elderberry": after an ordinary word the rest must be near.
        let within = |name: &str| match (ordinary, name.split_once(' '), word.split_once(' ')) {
            (true, Some((a, name)), Some((b, word))) => {
                let allowed = allowed_for(word.len());
                (a == b).then(|| (name.to_owned(), word.to_owned(), allowed))
            }
            _ => Some((name.to_owned(), word.to_owned(), allowed_for(n))),
        };
        // "Almond bitter" is no almond butter.
        let known_danger = |(said, known): (&str, &str)| said == known || !is_danger_word(said);
        let distance = |name: &str| {
            if name.len().abs_diff(n) > 2
                || name.as_bytes().first() != word.as_bytes().first()
                || name.matches(' ').count() != word.matches(' ').count()
                || !word.split(' ').skip(1).zip(name.split(' ').skip(1)).all(known_danger)
            {
                return None;
            }
            let (name, word, allowed) = within(name)?;
            let distance = strsim::osa_distance(&name, &word);
            (distance <= allowed).then_some(distance)
        };
        let Some(least) = self.names.keys().filter_map(|name| distance(name)).min() else {
            return Vec::new();
        };
        let nearest = self.names.iter().filter(|(name, _)| distance(name) == Some(least));
        let mut foods: Vec<&Food> = nearest.flat_map(|(_, foods)| foods.iter().copied()).collect();
        foods.sort_by(|a, b| a.id.cmp(&b.id));
        foods.dedup_by(|a, b| a.id == b.id);
        foods
    }
}

fn is_danger_word(word: &str) -> bool {
    words::PARTS.iter().any(|group| group.contains(&word))
        || words::SIGNS.iter().any(|(sign, _)| *sign == word)
        || words::STATES.iter().any(|(state, _)| *state == word)
        || words::PHRASES.iter().any(|(phrase, _)| phrase.trim_end_matches('*') == word)
}

/// One typing slip from a known danger word, with the same first letter.
fn is_slip(word: &str, known: &str) -> bool {
    let near = known.len() >= SLIP_LENGTH
        && word.len() >= SLIP_LENGTH
        && word != known
        && word.as_bytes().first() == known.as_bytes().first()
        && word.len().abs_diff(known.len()) <= 1
        && strsim::osa_distance(word, known) <= 1;
    near && !words::NOT_SLIPS.contains(&word)
        && !words::PLAIN.contains(&word)
        && !is_danger_word(word)
}

const DAY: u32 = 24 * 60;
/// Up to this age a person counts as an infant here, in minutes.
const INFANCY: u32 = 3 * 365 * DAY;

fn span(n: Option<u32>, unit: &str) -> Option<u32> {
    let minutes = match unit {
        "minute" | "minutes" | "min" | "mins" => 1,
        "h" | "hr" | "hrs" | "hour" | "hours" => 60,
        "d" | "day" | "days" | "night" | "nights" => DAY,
        "wk" | "wks" | "week" | "weeks" => 7 * DAY,
        "month" | "months" => 30 * DAY,
        "year" | "years" | "yr" | "yrs" => 365 * DAY,
        "decade" | "decades" => 3650 * DAY,
        _ => return None,
    };
    n?.checked_mul(minutes)
}

/// The number said right before token `i` ("3 days", "a few weeks", "half an hour").
fn number_before(tokens: &[String], i: usize) -> Option<u32> {
    let mut at = i.checked_sub(1)?;
    while ["of", "more", "whole", "full", "good", "solid", "an", "old"]
        .contains(&tokens[at].as_str())
    {
        at = at.checked_sub(1)?;
    }
    if let Ok(n) = tokens[at].parse() {
        return Some(n);
    }
    let n = match tokens[at].as_str() {
        "a" | "one" | "half" => 1,
        "two" | "couple" => 2,
        "three" => 3,
        "four" | "few" => 4,
        "five" | "several" => 5,
        "six" => 6,
        "seven" => 7,
        "eight" => 8,
        "nine" => 9,
        "ten" => 10,
        "eleven" => 11,
        "twelve" => 12,
        "fourteen" => 14,
        "twenty" => 20,
        "thirty" => 30,
        _ => return (tokens[at + 1..i] == ["an".to_owned()]).then_some(1),
    };
    Some(n)
}

/// A temperature said, in degrees Celsius ("35c", "95 f", "30 degrees").
fn temperature(tokens: &[String]) -> Option<f64> {
    let read = |i: usize| {
        let word = &tokens[i];
        let digits = word.chars().take_while(char::is_ascii_digit).count();
        let (number, rest) = word.split_at(digits);
        let value: f64 = number.parse().ok()?;
        let next = tokens.get(i + 1).map_or("", String::as_str);
        let after = tokens.get(i + 2).map_or("", String::as_str);
        let unit = if rest.is_empty() { next } else { rest };
        let unit = if ["degrees", "degree", "deg"].contains(&unit) { after } else { unit };
        match unit {
            "c" | "celsius" | "centigrade" => Some(value),
            "f" | "fahrenheit" => Some((value - 32.0) * 5.0 / 9.0),
            _ => None,
        }
    };
    (0..tokens.len()).find_map(read)
}
