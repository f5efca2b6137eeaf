//! The words a question can hold that an answer must not overlook.
//!
//! The lists stand in `words.txt`: parts of plants, signs of spoilage, practices and people that
//! change an answer. The scan looks for them in the raw text, whatever the reader made of it. A
//! word there never makes an answer milder; it can only hold it back. No facts: what a word means
//! for a food is in the rule set, and a word the rule set does not explain leads to "I don't
//! know".
//!
//! # How the lists read
//! A heading in brackets, then words or phrases parted by commas, as `rules::normalise` leaves
//! them; a `*` ends a word that may go on. `[parts]` holds one group of words for the same part
//! to a line, the first being its name. `[about TOPIC]` names a topic of the rule set's guidance.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde::Deserialize;
use serde::de::IntoDeserializer;
use serde::de::value::Error;

use crate::rules::Topic;

static WORDS: LazyLock<Words> = LazyLock::new(|| Words::parse(include_str!("words.txt")).0);

/// The bundled lists.
pub(super) fn words() -> &'static Words {
    &WORDS
}

/// What in the bundled lists cannot be read, a line each; none in a sound bundle.
pub fn word_faults() -> Vec<String> {
    Words::parse(include_str!("words.txt")).1
}

/// The lists, ready to be looked through.
#[derive(Default)]
pub(super) struct Words {
    /// Groups of words for the same part of a plant.
    pub parts: Vec<Vec<&'static str>>,
    /// Every word of `parts`.
    pub part_words: BTreeSet<&'static str>,
    /// A part word that stands for the part only behind or before a food ("carrot top", "end of
    /// the leek"); elsewhere it is ordinary English.
    pub loose_parts: BTreeSet<&'static str>,
    /// States of a food that have a verdict of their own.
    pub states: Vec<(&'static str, State)>,
    /// Words for what is seen, smelt or felt on food.
    pub signs: Vec<(&'static str, Floor)>,
    /// Names of things that hold a sign word and mean something else ("green tea").
    pub harmless: Vec<&'static str>,
    /// Phrases and what they signal.
    pub phrases: Vec<(&'static str, Danger)>,
    /// Words believed through a typing slip too.
    pub slipped: Vec<(&'static str, Danger)>,
    /// Ordinary words too close to a danger word or a food for a slip to be believed.
    pub no_slip: BTreeSet<&'static str>,
    /// Words that need no explanation beside a food: grammar, kitchen work, places, sizes, times.
    pub plain: BTreeSet<&'static str>,
    danger_words: BTreeSet<&'static str>,
}

impl Words {
    fn parse(text: &'static str) -> (Words, Vec<String>) {
        let (mut words, mut faults) = (Words::default(), Vec::new());
        let mut heading = "";
        for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
            if let Some(head) = line.strip_prefix('[').and_then(|line| line.strip_suffix(']')) {
                heading = head;
                continue;
            }
            let listed: Vec<&str> =
                line.split(',').map(str::trim).filter(|w| !w.is_empty()).collect();
            if !words.add(heading, listed) {
                faults.push(format!("words.txt: nothing is called [{heading}]: {line}"));
            }
        }
        words.part_words = words.parts.iter().flatten().copied().collect();
        let phrases = words.phrases.iter().map(|(phrase, _)| phrase.trim_end_matches('*'));
        let named = words.states.iter().map(|(word, _)| *word);
        let named = named.chain(words.signs.iter().map(|(word, _)| *word)).chain(phrases);
        words.danger_words = named.chain(words.part_words.iter().copied()).collect();
        (words, faults)
    }

    /// Adds one line to the list under a heading; false where no list has this heading.
    fn add(&mut self, heading: &str, listed: Vec<&'static str>) -> bool {
        let (kind, of) = heading.split_once(' ').unwrap_or((heading, ""));
        match (kind, of) {
            ("parts", "") => self.parts.push(listed),
            ("loose", "parts") => self.loose_parts.extend(listed),
            ("harmless", "") => self.harmless.extend(listed),
            ("no", "slip") => self.no_slip.extend(listed),
            ("plain", "") => self.plain.extend(listed),
            ("state", of) => match word(of) {
                Some(state) => self.states.extend(listed.into_iter().map(|w| (w, state))),
                None => return false,
            },
            ("sign", of) => match word(of) {
                Some(floor) => self.signs.extend(listed.into_iter().map(|w| (w, floor))),
                None => return false,
            },
            ("slipped", of) => match danger(of) {
                Some(danger) => self.slipped.extend(listed.into_iter().map(|w| (w, danger))),
                None => return false,
            },
            _ => match danger(heading) {
                Some(danger) => self.phrases.extend(listed.into_iter().map(|w| (w, danger))),
                None => return false,
            },
        }
        true
    }

    /// Whether a word is in one of the lists that hold an answer back.
    pub fn is_danger(&self, word: &str) -> bool {
        self.danger_words.contains(word)
    }

    /// Whether a word names a part of plants, in the singular or the plural.
    pub fn is_part(&self, word: &str) -> bool {
        self.part_words.contains(word) || self.part_words.contains(word.trim_end_matches('s'))
    }

    pub fn is_state(&self, word: &str) -> bool {
        self.states.iter().any(|(state, _)| *state == word)
    }
}

/// A word of a closed vocabulary, as its type spells it.
fn word<'de, T: Deserialize<'de>>(word: &'de str) -> Option<T> {
    let deserializer: serde::de::value::StrDeserializer<'de, Error> = word.into_deserializer();
    T::deserialize(deserializer).ok()
}

fn danger(heading: &str) -> Option<Danger> {
    match heading.strip_prefix("about ") {
        Some(topic) => word(topic).map(Danger::Guided),
        None => word(&heading.replace(' ', "_")),
    }
}

/// A state of a food that has a verdict of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum State {
    Raw,
    Unripe,
    Green,
    Bitter,
    Dried,
    Cooked,
    /// More than a pinch of it.
    Much,
}

/// What a sign of spoilage leads to when the rule set has no row for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Floor {
    /// Thrown out unless a rule says otherwise.
    Discard,
    /// Not eaten on the bot's word unless a rule explains it.
    Unknown,
}

/// A sign of trouble in the text, besides signs on the food itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Danger {
    /// A practice or a person the rule set has guidance on.
    #[serde(skip)]
    Guided(Topic),
    /// Hens and other farm animals fed with scraps.
    FarmAnimal,
    /// Standing at room temperature.
    Out,
    /// Great heat: the shorter limit.
    Heat,
    /// Trust in a look, a smell, a small amount, a tradition: changes nothing.
    Persuasion,
    /// Thawed or to be thawed in the warm.
    WarmThaw,
    /// To be reheated a second time.
    ReheatAgain,
    /// Eaten already.
    Eaten,
    /// Ill already, perhaps from it.
    Symptom,
    /// A stored time without the cold ("in the cupboard", "on the shelf").
    Shelf,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bundled_lists_are_sound() {
        assert_eq!(word_faults(), Vec::<String>::new());
        let faults = Words::parse("[about unicorns]\nhorn\n[sign discard]\nmould\n").1;
        assert_eq!(faults.len(), 1, "{faults:?}");
    }

    #[test]
    fn every_phrase_reads_as_the_text_it_is_compared_with() {
        let words = words();
        let phrases = words.phrases.iter().chain(&words.slipped).map(|(phrase, _)| *phrase);
        let signs = words.signs.iter().map(|(word, _)| *word);
        let states = words.states.iter().map(|(word, _)| *word);
        let single = words.plain.iter().chain(&words.no_slip).chain(&words.part_words).copied();
        let harmless = words.harmless.iter().copied();
        for phrase in phrases.chain(signs).chain(states).chain(single).chain(harmless) {
            let bare = phrase.trim_end_matches('*');
            assert_eq!(crate::rules::normalise(bare), bare);
        }
    }
}
