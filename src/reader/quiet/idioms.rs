//! Turns of phrase that name food and mean none (`data/quiet_idioms.txt`).

use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

use crate::reader::tokens::Text;

/// Phrases by their first word; "*" stands for any one word.
static IDIOMS: LazyLock<HashMap<&'static str, Vec<Vec<&'static str>>>> =
    LazyLock::new(|| parse(include_str!("../data/quiet_idioms.txt")));

fn parse(data: &'static str) -> HashMap<&'static str, Vec<Vec<&'static str>>> {
    let mut idioms: HashMap<&'static str, Vec<Vec<&'static str>>> = HashMap::new();
    for line in data.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let phrase = line.split('|').next().unwrap_or_default().trim();
        let words: Vec<&str> = phrase.split(' ').collect();
        idioms.entry(words[0]).or_default().push(words);
    }
    idioms
}

/// No turn of phrase is longer than this many words.
const LONGEST: usize = 16;

/// Whether a turn of phrase reaches into `clause`; it may begin or end in another clause.
pub fn touches(text: &Text<'_>, clause: &Range<usize>) -> bool {
    (clause.start.saturating_sub(LONGEST)..clause.end).any(|i| {
        let Some(phrases) = IDIOMS.get(text.word(i)) else { return false };
        phrases.iter().any(|phrase| {
            i + phrase.len() > clause.start
                && phrase.iter().enumerate().all(|(k, word)| match *word {
                    "*" => text.is_word(i + k),
                    word => text.word(i + k) == word,
                })
        })
    })
}
