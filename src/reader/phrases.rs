//! Many short phrases looked for at once: one look-up by its first word for each word of a text.

use std::collections::HashMap;
use std::ops::Range;

use super::lexicon::Fast;
use super::tokens::Text;

/// Phrases by their first word; "*" stands for any one word.
#[derive(Debug, Default)]
pub struct Phrases {
    by_first: HashMap<&'static str, Vec<Vec<&'static str>>, Fast>,
}

impl Phrases {
    /// Phrases of words joined by spaces.
    pub fn new(phrases: impl IntoIterator<Item = &'static str>) -> Phrases {
        let mut all = Phrases::default();
        for phrase in phrases {
            let words: Vec<&str> = phrase.split(' ').collect();
            all.by_first.entry(words[0]).or_default().push(words);
        }
        all
    }

    /// How many words of the text from `i` on are one of the phrases.
    pub fn at(&self, text: &Text<'_>, i: usize) -> Option<usize> {
        let phrases = self.by_first.get(text.word(i))?;
        let says = |phrase: &&Vec<&str>| {
            phrase.iter().enumerate().skip(1).all(|(k, word)| match *word {
                "*" => text.is_word(i + k),
                word => text.word(i + k) == word,
            })
        };
        phrases.iter().find(says).map(Vec::len)
    }

    /// The first token of `range` at which one of them stands, all of it within.
    pub fn find(&self, text: &Text<'_>, range: Range<usize>) -> Option<usize> {
        range.clone().find(|&i| self.at(text, i).is_some_and(|len| i + len <= range.end))
    }
}
