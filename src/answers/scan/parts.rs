//! Parts of plants in the text, and the food each belongs to.

use super::{DETERMINERS, PartHit, Scan, is_slip, stem};
use crate::answers::words::words;
use crate::rules::Food;

impl Scan<'_> {
    pub(super) fn find_parts(&mut self, harmless: &[bool]) {
        let mut taken = self.find_listed_parts();
        for (i, harmless) in harmless.iter().enumerate() {
            taken[i] |= harmless;
        }
        for i in (0..self.tokens.len()).filter(|&i| !taken[i]) {
            let word = self.tokens[i].as_str();
            let known = || words().part_words.iter();
            let exact = known().find(|known| **known == word || **known == stem(word));
            let Some(known) = exact.or_else(|| known().find(|known| is_slip(word, known))) else {
                continue;
            };
            let food = self.food_of(i);
            if words().loose_parts.contains(word) && food.is_none() && !self.owned(i) {
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
                    let state = words().is_state(word);
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
                    let Some(said) = self.tokens.get(tokens.clone()) else { continue };
                    let word = said.join(" ");
                    let state = words().is_state(&word);
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
                    .all(|word| BETWEEN.contains(&word.as_str()) || words().is_part(word))
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
                                || words().plain.contains(w.as_str())
                        })
                }
            })
        };
        before.or_else(after)
    }
}

/// Words between a food and a part of it ("potato plant leaves", "cashews in the shell").
const BETWEEN: &[&str] = &[
    "plant", "plants", "s", "green", "the", "young", "outer", "raw", "its", "their", "and", "own",
    "in", "with", "still", "or",
];
const LINKS: &[&str] = &["of", "off", "from", "on", "in", "inside", "for", "belonging"];
