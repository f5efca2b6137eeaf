//! Foods in the text, exactly or through a typing slip.

use std::collections::BTreeMap;

use super::{DETERMINERS, FoodHit, SLIP_LENGTH, Scan, is_slip, stem};
use crate::answers::words::{Danger, Floor, words};
use crate::rules::{Food, Kind, Rules};

/// The longest name of a food looked for, in words.
const LONGEST_NAME: usize = 5;
/// Names shorter than this are never read across misplaced spaces.
const SQUEEZED_LENGTH: usize = 8;

/// Words before the dish a food goes into.
const INTO: &[&str] = &["in", "into", "for", "as", "make", "making", "makes"];
/// Words that speak of keeping, so that a dish may be what is kept.
const KEPT: &[&str] = &[
    "fridge",
    "freezer",
    "yesterday",
    "old",
    "still",
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
    "leftover",
    "leftovers",
    "reheat",
    "reheated",
    "opened",
    "left",
    "keep",
    "keeps",
    "last",
    "lasts",
    "store",
    "freeze",
];
/// Endings that many plants share, the poisonous ones too.
const ENDINGS: &[&str] =
    &["berr", "root", "bean", "nut", "weed", "flower", "wort", "mushroom", "melon", "apple"];

impl<'a> Scan<'a> {
    pub(super) fn find_foods(&mut self, names: &Names<'a>) {
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
                let squeezed = self.tokens[i..i + n].concat();
                foods = names.squeezed(&squeezed);
                // "Night shade" is nightshade.
                if foods.is_empty() && n == 2 && squeezed.len() >= SQUEEZED_LENGTH {
                    foods = names.exact(&squeezed);
                }
            }
            if !foods.is_empty() {
                return Some(FoodHit { tokens: i..i + n, foods, slip: false });
            }
        }
        let mut lengths: Vec<usize> = (1..=longest).rev().collect();
        // "Chrry leaf" is a leaf of something before it is a curry leaf.
        if self.tokens.get(i + 1).is_some_and(|word| words().is_part(word)) {
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
        if !words().is_part(word) {
            return false;
        }
        let plant =
            |food: &&Food| food.kind.is_produce() || food.hazard || food.kind == Kind::Legume;
        let other = |j: usize| {
            let token = self.tokens[j].as_str();
            j != i
                && !words().is_part(token)
                && (names.exact(token).iter().any(plant) || names.near(token).iter().any(plant))
        };
        if self.owned(i) {
            return true;
        }
        let lists = |j: usize| {
            let between = &self.tokens[i.min(j) + 1..i.max(j)];
            between.iter().any(|w| ["and", "or"].contains(&w.as_str()))
                && !between.iter().any(|w| words().is_part(w))
        };
        let mut near = i.saturating_sub(6)..(i + 7).min(self.tokens.len());
        near.any(|j| other(j) && !lists(j))
    }

    /// "The berry of the ...", "seeds from the ...": a part of whatever follows, known or not.
    pub(super) fn owned(&self, i: usize) -> bool {
        let link =
            self.tokens.get(i + 1).is_some_and(|w| ["of", "off", "from"].contains(&w.as_str()));
        let rest = self.tokens.iter().skip(i + 2);
        let mut rest = rest.skip_while(|w| DETERMINERS.contains(&w.as_str()));
        link && rest.next().is_some_and(|word| !words().plain.contains(word.as_str()))
    }

    /// "Tomatoes for sauce", "leaves in a salad": the dish is no food asked about, unless an age,
    /// a sign or a practice may be meant of it.
    pub(super) fn drop_dishes(&mut self) {
        let spoiled = self.signs.iter().any(|sign| sign.floor == Floor::Discard);
        let practice = self.dangers.iter().any(|(_, danger)| *danger != Danger::Persuasion);
        if spoiled || practice || self.minutes.is_some() || self.word(KEPT) {
            return;
        }
        let into = |hit: &FoodHit<'_>| {
            let before = self.tokens[..hit.tokens.start].iter().rev();
            let mut before = before.skip_while(|w| DETERMINERS.contains(&w.as_str())).take(2);
            before.any(|w| INTO.contains(&w.as_str()))
        };
        let dish = |food: &&Food| {
            matches!(food.kind, Kind::Prepared | Kind::Condiment | Kind::Bread | Kind::Pantry)
        };
        let first = self.foods.first().map_or(0, |hit| hit.tokens.start);
        let (dishes, foods): (Vec<_>, Vec<_>) = std::mem::take(&mut self.foods)
            .into_iter()
            .partition(|hit| hit.tokens.start > first && hit.foods.iter().all(&dish) && into(hit));
        // Parts point at foods by their place in the list, so the list is only ever cut behind.
        let last = foods.last().map_or(0, |hit| hit.tokens.start);
        let (dropped, kept): (Vec<_>, Vec<_>) =
            dishes.into_iter().partition(|hit| hit.tokens.start > last);
        self.dishes = dropped.iter().flat_map(|hit| hit.foods.iter().copied()).collect();
        self.foods = foods;
        self.foods.extend(kept);
        self.foods.sort_by_key(|hit| hit.tokens.start);
        let count = self.foods.len();
        self.parts.retain(|part| part.food.is_none_or(|food| food < count));
    }

    /// Tokens inside names that only look dangerous ("green beans", "baby carrots").
    pub(super) fn harmless(&self) -> Vec<bool> {
        let mut covered = vec![false; self.tokens.len()];
        for hit in &self.foods {
            // A plant that is no food explains nothing away.
            if hit.foods.iter().all(|food| !food.hazard) {
                hit.tokens.clone().for_each(|i| covered[i] = true);
            }
        }
        for phrase in &words().harmless {
            for range in self.phrase(phrase) {
                range.for_each(|i| covered[i] = true);
            }
        }
        covered
    }
}

/// The rule set's names, ready to be looked up exactly or through a slip.
pub(super) struct Names<'a> {
    names: BTreeMap<&'a str, Vec<&'a Food>>,
    /// The names by their first letter: a slip keeps it.
    by_letter: BTreeMap<u8, Vec<&'a str>>,
    /// Names of several words without their spaces.
    squeezed: BTreeMap<String, Vec<&'a Food>>,
}

impl<'a> Names<'a> {
    pub(super) fn new(rules: &'a Rules) -> Names<'a> {
        let mut names: BTreeMap<&str, Vec<&Food>> = BTreeMap::new();
        let mut squeezed: BTreeMap<String, Vec<&Food>> = BTreeMap::new();
        for (name, id) in rules.names() {
            if let Some(food) = rules.food(id) {
                names.entry(name).or_default().push(food);
                if name.contains(' ') {
                    squeezed.entry(name.replace(' ', "")).or_default().push(food);
                }
            }
        }
        let mut by_letter: BTreeMap<u8, Vec<&str>> = BTreeMap::new();
        for name in names.keys() {
            by_letter.entry(name.as_bytes().first().copied().unwrap_or(0)).or_default().push(name);
        }
        Names { names, by_letter, squeezed }
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
        let ordinary = words().plain.contains(first)
            || words().is_danger(first)
            || words().no_slip.contains(first);
        let part = words().part_words.iter().any(|w| is_slip(word, w));
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
        let known_danger = |(said, known): (&str, &str)| said == known || !words().is_danger(said);
        let distance = |name: &str| {
            // "Baneberry" is no slip of "blueberry": of names with one ending the rest must be near.
            let shared =
                ENDINGS.iter().any(|suffix| name.contains(suffix) && word.contains(suffix));
            if name.len().abs_diff(n) > 2
                || name.as_bytes().first() != word.as_bytes().first()
                || name.matches(' ').count() != word.matches(' ').count()
                || !word.split(' ').skip(1).zip(name.split(' ').skip(1)).all(known_danger)
            {
                return None;
            }
            let (name, word, allowed) = within(name)?;
            let allowed = if shared { allowed.min(1) } else { allowed };
            let distance = strsim::osa_distance(&name, &word);
            (distance <= allowed).then_some(distance)
        };
        let alike = word.as_bytes().first().and_then(|letter| self.by_letter.get(letter));
        let near: Vec<(usize, &str)> =
            alike.into_iter().flatten().filter_map(|name| Some((distance(name)?, *name))).collect();
        let Some(least) = near.iter().map(|(distance, _)| *distance).min() else {
            return Vec::new();
        };
        let nearest = near.iter().filter(|(distance, _)| *distance == least);
        let nearest = nearest.filter_map(|(_, name)| self.names.get(name));
        let mut foods: Vec<&Food> = nearest.flat_map(|foods| foods.iter().copied()).collect();
        foods.sort_by(|a, b| a.id.cmp(&b.id));
        foods.dedup_by(|a, b| a.id == b.id);
        foods
    }
}
