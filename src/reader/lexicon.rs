//! What food words mean: names of foods, longest first, plurals and small typing slips included.
//!
//! Built once from (name, food) pairs: the rule set's names plus the reader's own list of foods
//! without rules (`data/foods.txt`). A food found is a span of tokens with an entry. A slip is
//! forgiven only in words that are no ordinary English word (`data/common.txt`), so chatter never
//! turns into food. Nothing here decides what a message does.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use std::ops::Range;

use super::tokens::Text;
use super::vocabulary::Vocabulary;
use crate::rules::Rules;
use crate::words::FoodId;

/// One food by name.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Lower case, as listed first ("spring onion").
    pub name: String,
    pub food: Option<FoodId>,
    /// Also an ordinary word or a name ("date", "mint", "sage"): food only beside an amount, in a
    /// list or after a kitchen verb.
    pub homonym: bool,
}

/// A food named in a text.
#[derive(Clone, Debug, PartialEq)]
pub struct FoodSpan {
    pub tokens: Range<usize>,
    /// Index for [`Lexicon::entry`].
    pub entry: usize,
    /// Read through a typing slip.
    pub fuzzy: bool,
}

/// The lexicon of foods.
#[derive(Debug, Default)]
pub struct Lexicon {
    entries: Vec<Entry>,
    /// Word stem -> its number.
    words: HashMap<String, u32, Fast>,
    /// (node, word) -> node of the trie of names; node 0 is the root.
    edges: HashMap<u64, u32, Fast>,
    /// Entry that ends at a node.
    ends: Vec<Option<u32>>,
    /// Names' words by length and first letter, for slips.
    near: HashMap<(u8, u8), Vec<Near>, Fast>,
    common: std::collections::HashSet<String, Fast>,
    vocabulary: Vocabulary,
}

impl Lexicon {
    /// The lexicon of the rule set and the reader's own list. A name that several foods of the
    /// rule set share means none of them here; whoever needs one asks which.
    pub fn of_rules(rules: &Rules) -> Lexicon {
        let mut names: Vec<(&str, Option<FoodId>)> = Vec::new();
        for (name, food) in rules.names() {
            match names.last_mut().filter(|(last, _)| *last == name) {
                Some((_, shared)) => *shared = None,
                None => names.push((name, Some(food.clone()))),
            }
        }
        let bread =
            names.iter().find(|(name, _)| *name == "bread").and_then(|(_, food)| food.clone());
        names.push(("loaf", bread));
        Lexicon::new(names)
    }

    /// A lexicon of `names` and the reader's own list; the first food given for a name keeps it.
    pub fn new<'n>(names: impl IntoIterator<Item = (&'n str, Option<FoodId>)>) -> Lexicon {
        let mut lexicon =
            Lexicon { ends: vec![None], vocabulary: Vocabulary::new(), ..Lexicon::default() };
        lexicon.common = lines(include_str!("data/common.txt")).map(str::to_owned).collect();
        for (name, food) in names {
            lexicon.add(name, food);
        }
        for name in lines(include_str!("data/foods.txt")) {
            lexicon.add(name, None);
        }
        for line in lines(include_str!("data/question_foods.txt")) {
            let name = line.trim_end_matches(['~', ' ']);
            let fresh = lexicon.lookup(name).is_none();
            lexicon.add(name, None);
            if let Some(entry) = lexicon.lookup(name).filter(|_| fresh && line.ends_with('~')) {
                lexicon.entries[entry].homonym = true;
            }
        }
        for name in lines(include_str!("data/homonyms.txt")) {
            if let Some(entry) = lexicon.lookup(name) {
                lexicon.entries[entry].homonym = true;
            }
        }
        lexicon
    }

    /// The closed-class words.
    pub fn vocabulary(&self) -> &Vocabulary {
        &self.vocabulary
    }

    pub fn entry(&self, index: usize) -> &Entry {
        &self.entries[index]
    }

    /// How many different names are known.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The entry whose name is exactly `name` (plural or singular).
    pub fn lookup(&self, name: &str) -> Option<usize> {
        let text = Text::new(name);
        let words = self.words_of(&text);
        let span = self.longest_at(&text, &words, 0)?;
        (span.tokens.end == text.len()).then_some(span.entry)
    }

    /// Every food named in `text`, left to right, longest match first, never overlapping.
    pub fn foods(&self, text: &Text<'_>) -> Vec<FoodSpan> {
        let words = self.words_of(text);
        let (mut found, mut i) = (Vec::new(), 0);
        while i < text.len() {
            match self.longest_at(text, &words, i) {
                Some(span) => {
                    i = span.tokens.end;
                    found.push(span);
                }
                None => i += 1,
            }
        }
        found
    }

    /// An ordinary English word, as far as the reader knows.
    pub fn is_common(&self, word: &str) -> bool {
        self.common.contains(word)
    }

    /// What each token is among the words of names; read once, used by every start.
    fn words_of(&self, text: &Text<'_>) -> Vec<Option<Word>> {
        (0..text.len())
            .map(|i| {
                if !text.is_word(i) {
                    return None;
                }
                let word = text.word(i);
                match self.word_id(word) {
                    Some(id) => Some(Word { id, slipped: false }),
                    None => {
                        // The slip may be in a plural, whose singular alone is listed.
                        let singular = word.strip_suffix('s').and_then(|stem| self.near_word(stem));
                        let near = self.near_word(word).or(singular);
                        near.map(|id| Word { id, slipped: true })
                    }
                }
            })
            .collect()
    }

    fn longest_at(&self, text: &Text<'_>, words: &[Option<Word>], i: usize) -> Option<FoodSpan> {
        let (mut node, mut best, mut slipped) = (0, None, false);
        for (k, word) in words.iter().enumerate().skip(i) {
            let Some(word) = word else { break };
            let Some(&next) = self.edges.get(&edge(node, word.id)) else { break };
            node = next;
            slipped |= word.slipped;
            if let Some(entry) = self.ends[node as usize] {
                best = Some((k + 1, entry, slipped));
            }
        }
        let (end, entry, fuzzy) = best?;
        // "cans" may be food, "can" is what people may do.
        if end == i + 1 && text.word(i) == "can" {
            return None;
        }
        Some(FoodSpan { tokens: i..end, entry: entry as usize, fuzzy })
    }

    fn add(&mut self, name: &str, food: Option<FoodId>) {
        let text = Text::new(name);
        // "loaf of bread" is an amount and a food; "2% milk" is milk.
        let amount = self.vocabulary.get(text.word(0)).unit.is_some() && text.word(1) == "of";
        if amount || (0..text.len()).any(|k| text.number(k).is_some()) {
            return;
        }
        let mut node = 0;
        for k in (0..text.len()).filter(|&k| text.is_word(k)) {
            let id = self.intern(text.word(k));
            let fresh = self.ends.len() as u32;
            let next = *self.edges.entry(edge(node, id)).or_insert(fresh);
            if next == fresh {
                self.ends.push(None);
            }
            node = next;
        }
        if node != 0 && self.ends[node as usize].is_none() {
            self.ends[node as usize] = Some(self.entries.len() as u32);
            self.entries.push(Entry { name: name.to_lowercase(), food, homonym: false });
        }
    }

    fn intern(&mut self, word: &str) -> u32 {
        if let Some(id) = self.word_id(word) {
            return id;
        }
        let id = self.words.len() as u32;
        self.words.insert(word.to_owned(), id);
        if (SLIP_LENGTH..=SLIP_LENGTH_MAX).contains(&word.len()) {
            let key = (word.len() as u8, word.as_bytes()[0]);
            let near = Near { letters: letters(word), word: word.into(), id };
            self.near.entry(key).or_default().push(near);
        }
        id
    }

    /// The number of a word or of the word it is the plural of.
    fn word_id(&self, word: &str) -> Option<u32> {
        if let Some(&id) = self.words.get(word) {
            return Some(id);
        }
        let known = |stem: &str| self.words.get(stem).copied().filter(|_| stem.len() >= 2);
        let head = word.strip_suffix('s')?;
        if let Some(stem) = head.strip_suffix('\'') {
            return known(stem);
        }
        if let Some(stem) = head.strip_suffix("ie") {
            return respelt(stem, "y", known).or_else(|| known(head));
        }
        if let Some(stem) = head.strip_suffix("ve") {
            let f = respelt(stem, "f", known).or_else(|| respelt(stem, "fe", known));
            return f.or_else(|| known(head));
        }
        head.strip_suffix('e').and_then(known).or_else(|| known(head))
    }

    /// The known word that `word` is a slip of: one slip, two in long words, same first letter.
    fn near_word(&self, word: &str) -> Option<u32> {
        let n = word.len();
        let plain = (SLIP_LENGTH..=SLIP_LENGTH_MAX).contains(&n)
            && word.bytes().all(|b| b.is_ascii_lowercase());
        if !plain || self.vocabulary.get(word).is_known() || self.is_common(word) {
            return None;
        }
        let allowed = if n >= 8 { 2 } else { 1 };
        let (first, letters) = (word.as_bytes()[0], letters(word));
        // The nearest word wins, then the one of the most alike letters ("carot": carrot, not carob).
        let mut best: Option<(usize, u32, u32)> = None;
        for length in n - allowed..=n + allowed {
            let Some(words) = self.near.get(&(length as u8, first)) else { continue };
            for near in words {
                // One slip changes at most two letters of the set; most words end here.
                let unlike = (near.letters ^ letters).count_ones();
                if unlike as usize > 2 * allowed {
                    continue;
                }
                let distance = strsim::osa_distance(&near.word, word);
                let nearer = best.is_none_or(|(d, u, _)| (distance, unlike) < (d, u));
                if distance <= allowed && nearer {
                    best = Some((distance, unlike, near.id));
                }
            }
        }
        best.map(|(_, _, id)| id)
    }
}

/// A token that is a word of some name.
#[derive(Clone, Copy, Debug)]
struct Word {
    id: u32,
    slipped: bool,
}

/// A word of a name, laid by for slips.
#[derive(Debug)]
struct Near {
    letters: u32,
    word: Box<str>,
    id: u32,
}

/// The set of letters of a word, one bit each.
fn letters(word: &str) -> u32 {
    word.bytes().fold(0, |set, b| set | 1 << (b.wrapping_sub(b'a') & 31))
}

/// Looks up `stem` with another ending, without touching the heap.
fn respelt(stem: &str, ending: &str, known: impl Fn(&str) -> Option<u32>) -> Option<u32> {
    let mut buffer = [0_u8; 32];
    let length = stem.len() + ending.len();
    let spelt = buffer.get_mut(..length)?;
    spelt[..stem.len()].copy_from_slice(stem.as_bytes());
    spelt[stem.len()..].copy_from_slice(ending.as_bytes());
    known(std::str::from_utf8(spelt).ok()?)
}

/// Words shorter than this are never read through a slip.
const SLIP_LENGTH: usize = 5;
/// Words longer than this are no slips of kitchen words.
const SLIP_LENGTH_MAX: usize = 20;

/// Lines of a data file without comments and blanks.
fn lines(data: &str) -> impl Iterator<Item = &str> {
    data.lines().map(str::trim).filter(|l| !l.is_empty() && !l.starts_with('#'))
}

fn edge(node: u32, word: u32) -> u64 {
    u64::from(node) << 32 | u64::from(word)
}

/// A small multiplicative hasher: keys are short words and integers of our own, never hostile in
/// number (the maps are built once and only read).
#[derive(Default)]
pub struct FastHasher(u64);

pub type Fast = BuildHasherDefault<FastHasher>;

impl Hasher for FastHasher {
    fn finish(&self) -> u64 {
        self.0 ^ self.0 >> 32
    }

    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.write_u64(u64::from_le_bytes(word));
        }
    }

    fn write_u8(&mut self, n: u8) {
        self.write_u64(n.into());
    }

    fn write_u32(&mut self, n: u32) {
        self.write_u64(n.into());
    }

    fn write_u64(&mut self, n: u64) {
        self.0 = (self.0.rotate_left(5) ^ n).wrapping_mul(0x517c_c1b7_2722_0a95);
    }
}
