//! The word classes questions are made of, and where they stand in a message.
//!
//! The classes and their words are data (`data/question_words.txt`), embedded and parsed once.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::LazyLock;

use crate::reader::lexicon::Fast;
use crate::reader::tokens::Text;

/// Declares the classes and their names in the data file.
macro_rules! classes {
    ($($variant:ident = $name:literal),+ $(,)?) => {
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Class { $($variant),+ }

        impl Class {
            const ALL: &'static [Class] = &[$(Class::$variant),+];

            pub fn name(self) -> &'static str {
                match self { $(Class::$variant => $name),+ }
            }
        }
    };
}

classes! {
    Keep = "keep", Store = "store", Life = "life", Spoil = "spoil", Expire = "expire",
    Label = "label", Cold = "cold", Refrigerate = "refrigerate", Freeze = "freeze",
    Refreeze = "refreeze", Dry = "dry", Can = "can", Preserve = "preserve", Blanch = "blanch",
    Thaw = "thaw", Reheat = "reheat", Wash = "wash", Counter = "counter", Dark = "dark",
    LeftOut = "leftout", Still = "still", Okay = "okay", Eat = "eat", Edible = "edible",
    Poison = "poison", Condition = "condition", WeakCondition = "weak_condition", Ripe = "ripe",
    Part = "part", Who = "who", Animal = "animal", Surplus = "surplus", Trimmings = "trimmings",
    Neighbour = "neighbour", Amount = "amount", Cook = "cook", Recipe = "recipe",
    Nutrition = "nutrition", Substitute = "substitute", Equipment = "equipment", Taste = "taste",
    Dining = "dining", Elsewhere = "elsewhere", Deictic = "deictic", Treated = "treated",
}

impl Class {
    fn bit(self) -> u64 {
        1 << self as u64
    }
}

/// A set of classes.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
struct Set(u64);

/// One entry of the data file, without its first word.
struct Phrase {
    rest: Vec<&'static str>,
    classes: Set,
}

static WORDS: LazyLock<HashMap<&'static str, Vec<Phrase>, Fast>> =
    LazyLock::new(|| parse(include_str!("../data/question_words.txt")));

fn parse(data: &'static str) -> HashMap<&'static str, Vec<Phrase>, Fast> {
    let mut words: HashMap<&'static str, Vec<Phrase>, Fast> = HashMap::default();
    let mut class = None;
    for line in data.lines().map(str::trim).filter(|l| !l.is_empty() && !l.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[').and_then(|l| l.strip_suffix(']')) {
            class = Class::ALL.iter().find(|class| class.name() == name);
            continue;
        }
        let Some(class) = class else { continue };
        for entry in line.split(',').map(str::trim).filter(|entry| !entry.is_empty()) {
            let mut parts = entry.split(' ');
            let first = parts.next().unwrap_or_default();
            let rest: Vec<&str> = parts.collect();
            let known = words.entry(first).or_default();
            match known.iter_mut().find(|phrase| phrase.rest == rest) {
                Some(phrase) => phrase.classes.0 |= class.bit(),
                None => known.push(Phrase { rest, classes: Set(class.bit()) }),
            }
        }
    }
    words
}

/// Where the classes stand in a range of tokens.
pub struct Sighted {
    start: usize,
    tokens: Vec<Set>,
    all: Set,
}

impl Sighted {
    pub fn new(text: &Text<'_>, range: Range<usize>) -> Sighted {
        let mut tokens = vec![Set::default(); range.len()];
        let mut all = Set::default();
        for i in range.clone() {
            let Some(phrases) = WORDS.get(text.word(i)) else { continue };
            for phrase in phrases {
                let end = i + 1 + phrase.rest.len();
                if end <= range.end && text.has(i + 1, &phrase.rest) {
                    all.0 |= phrase.classes.0;
                    for set in &mut tokens[i - range.start..end - range.start] {
                        set.0 |= phrase.classes.0;
                    }
                }
            }
        }
        Sighted { start: range.start, tokens, all }
    }

    /// Forgets what stands inside `food`, a name of its own: "egg wash" asks nothing about washing.
    pub fn forget(&mut self, food: Range<usize>) {
        let kept = Class::Part.bit() | Class::Surplus.bit() | Class::Treated.bit();
        for i in food {
            if let Some(set) = i.checked_sub(self.start).and_then(|i| self.tokens.get_mut(i)) {
                set.0 &= kept;
            }
        }
        self.all = Set(self.tokens.iter().fold(0, |all, set| all | set.0));
    }

    /// Takes `class` from token `i`.
    pub fn remove(&mut self, i: usize, class: Class) {
        if let Some(set) = i.checked_sub(self.start).and_then(|i| self.tokens.get_mut(i)) {
            set.0 &= !class.bit();
        }
        self.all = Set(self.tokens.iter().fold(0, |all, set| all | set.0));
    }

    pub fn is_empty(&self) -> bool {
        self.all.0 == 0
    }

    pub fn has(&self, class: Class) -> bool {
        self.all.0 & class.bit() != 0
    }

    pub fn any(&self, classes: &[Class]) -> bool {
        classes.iter().any(|class| self.has(*class))
    }

    /// Whether token `i` belongs to a word or phrase of `class`.
    pub fn at(&self, i: usize, class: Class) -> bool {
        let set = i.checked_sub(self.start).and_then(|i| self.tokens.get(i));
        set.is_some_and(|set| set.0 & class.bit() != 0)
    }

    /// Whether token `i` belongs to any class at all.
    pub fn known(&self, i: usize) -> bool {
        let set = i.checked_sub(self.start).and_then(|i| self.tokens.get(i));
        set.is_some_and(|set| set.0 != 0)
    }

    /// The first token of `class`.
    pub fn first(&self, class: Class) -> Option<usize> {
        self.tokens.iter().position(|set| set.0 & class.bit() != 0).map(|i| i + self.start)
    }

    /// The names of every class seen, for `--explain`.
    pub fn names(&self) -> Vec<&'static str> {
        Class::ALL.iter().filter(|class| self.has(**class)).map(|class| class.name()).collect()
    }
}
