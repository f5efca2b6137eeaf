//! What a question is about: the foods named, their form, part and place.

use std::ops::Range;

use super::words::{Class, Sighted};
use crate::reader::Analysis;
use crate::statement::Item;
use crate::words::{FoodId, Form, Place};

/// A food as named in a question.
#[derive(Clone, Debug)]
pub struct Subject {
    pub tokens: Range<usize>,
    pub name: String,
    pub food: Option<FoodId>,
    /// Read through a typing slip.
    slip: bool,
    /// Said in the plural.
    pub many: bool,
    /// In the lexicon, and not only as a word that means other things too.
    pub sure: bool,
}

/// The foods named in `range`: neighbours are one food ("sweet potato" "pie"), and "in oil",
/// "in sauce" belong to the name.
pub fn foods(a: &Analysis<'_>, range: Range<usize>, seen: &Sighted) -> Vec<Subject> {
    let mut found: Vec<Subject> = Vec::new();
    for span in a.foods_in(range.clone()) {
        let entry = a.lexicon.entry(span.entry);
        // A slip in a word the questions know is no slip.
        if span.fuzzy && span.tokens.clone().any(|i| seen.known(i)) {
            continue;
        }
        let named = &entry.name;
        // The date on a label is no fruit, the bag of trimmings no food; "peel" may be a verb.
        let bag = entry.homonym && span.tokens.clone().any(|i| seen.at(i, Class::Trimmings));
        if named == "date" && !a.text.has(span.tokens.start, &["dates"])
            || named == "trimmings"
            || bag
        {
            continue;
        }
        // "the chili place" is where people go out.
        if matches!(a.text.word(span.tokens.end), "place" | "joint" | "truck" | "restaurant")
            && !a.text.has(span.tokens.end, &["place", "to"])
        {
            continue;
        }
        let said: Vec<&str> = span.tokens.clone().map(|i| a.text.word(i)).collect();
        let name = if span.fuzzy { entry.name.clone() } else { said.join(" ") };
        let sure = !entry.homonym && !span.fuzzy;
        if found.last().is_some_and(|last| {
            last.tokens.end == span.tokens.start && VERBS_TOO.contains(&last.name.as_str())
        }) {
            found.pop();
        }
        if let Some(last) = found.last_mut() {
            let between = last.tokens.end..span.tokens.start;
            let joined =
                between.is_empty() && !matches!(last.name.as_str(), "leftover" | "leftovers");
            let packed = between.len() == 1
                && a.text.word(between.start) == "in"
                && PACKED_IN.contains(&name.as_str());
            if joined || packed {
                last.name = if packed {
                    format!("{} in {name}", last.name)
                } else {
                    format!("{} {name}", last.name)
                };
                // The last word names the thing, but a dish is not its ingredient.
                last.food = if packed { last.food.take() } else { entry.food.clone() };
                last.sure |= sure;
                last.tokens.end = span.tokens.end;
                continue;
            }
        }
        let (tokens, food) = (span.tokens.clone(), entry.food.clone());
        let many = name.len() > 3 && name.ends_with('s') && !entry.name.ends_with('s');
        found.push(Subject { tokens, name, food, slip: span.fuzzy, many, sure });
    }
    // A slip is believed only where no food is named plainly.
    if found.iter().any(|food| food.sure) {
        found.retain(|food| !food.slip);
    }
    // "leftover" says what kind of food; on its own it is one.
    if found.len() > 1 {
        found.retain(|food| !matches!(food.name.as_str(), "leftover" | "leftovers"));
    }
    for subject in &mut found {
        let words: Vec<&str> = subject.name.split(' ').collect();
        let kept = words.iter().position(|word| form_word(word).is_none()).unwrap_or(0);
        subject.name = words[kept..].join(" ");
    }
    found
}

/// Food words that are verbs when a food follows ("bake chicken", "peel parsnips").
const VERBS_TOO: &[&str] =
    &["peel", "bake", "fry", "mix", "brine", "pickle", "freeze", "dip", "core"];

/// What a food may stand in and be another thing for it.
const PACKED_IN: &[&str] =
    &["oil", "olive oil", "sauce", "syrup", "brine", "vinegar", "gravy", "honey", "tomato sauce"];

/// A noun phrase where a food would stand, when the lexicon knows none: the first run of words
/// that belong to nothing else.
pub fn unknown(a: &Analysis<'_>, range: Range<usize>, seen: &Sighted) -> Option<Subject> {
    let free = |i: usize| {
        let word = a.text.word(i);
        a.text.is_word(i)
            && word.len() > 2
            && !seen.known(i)
            && !a.context.places.iter().any(|place| place == word)
            && !FUNCTION_WORDS.contains(&word)
    };
    let start = range.clone().find(|i| free(*i))?;
    let end = (start..range.end).find(|i| !free(*i)).unwrap_or(range.end);
    let tokens = start..end;
    if tokens.len() > 4 {
        return None;
    }
    let said: Vec<&str> = tokens.clone().map(|i| a.text.word(i)).collect();
    Some(Subject {
        tokens,
        name: said.join(" "),
        food: None,
        slip: false,
        many: false,
        sure: false,
    })
}

/// The item of a statement for a subject.
pub fn item(a: &Analysis<'_>, range: &Range<usize>, seen: &Sighted, subject: &Subject) -> Item {
    Item {
        food: subject.food.clone(),
        name: subject.name.clone(),
        form: form(a, range, subject),
        place: place(a, range),
        part: part(a, range, seen, subject),
        reason: condition(a, range, seen, subject),
        ..Item::default()
    }
}

/// The form said of the food, beside it or anywhere in the question.
fn form(a: &Analysis<'_>, range: &Range<usize>, subject: &Subject) -> Option<Form> {
    form_beside(a, range, subject).or_else(|| {
        let mut others = range.clone().filter(|i| !subject.tokens.contains(i));
        others.find_map(|i| form_word(a.text.word(i)))
    })
}

/// The form said right before the food.
pub fn form_beside(a: &Analysis<'_>, range: &Range<usize>, subject: &Subject) -> Option<Form> {
    let before = subject.tokens.start.saturating_sub(3).max(range.start)..subject.tokens.start;
    before.rev().find_map(|i| form_word(a.text.word(i)))
}

fn form_word(word: &str) -> Option<Form> {
    Some(match word {
        "cooked" | "boiled" | "roasted" | "baked" | "fried" | "leftover" | "leftovers"
        | "steamed" | "grilled" | "sauteed" | "stewed" | "mashed" | "precooked" | "hardboiled" => {
            Form::Cooked
        }
        "frozen" => Form::Frozen,
        "thawed" | "defrosted" => Form::Thawed,
        "dried" | "dehydrated" => Form::Dried,
        "cut" | "sliced" | "chopped" | "diced" | "peeled" | "halved" | "shredded" | "cubed"
        | "grated" => Form::Cut,
        "opened" | "opening" => Form::Opened,
        "whole" | "uncut" | "unpeeled" => Form::Whole,
        _ => return None,
    })
}

/// The place a question speaks of.
pub fn place(a: &Analysis<'_>, range: &Range<usize>) -> Option<Place> {
    for i in range.clone() {
        let word = a.text.word(i);
        if a.context.places.iter().any(|place| place == word) {
            return Some(Place::Own(word.to_owned()));
        }
        let next = a.text.word(i + 1);
        return Some(match word {
            "out" | "outside" if next == "of" || next == "the" => Place::Counter,
            "fridge" | "refrigerator" | "refrigerated" | "refrigerate" | "refridgerator"
            | "refridgerated" | "frig" | "frige" | "fridgerator" => Place::Fridge,
            "freezer" => Place::Freezer,
            "counter" | "countertop" | "worktop" | "windowsill" => Place::Counter,
            "room" if matches!(next, "temperature" | "temp") => Place::Counter,
            "crisper" => Place::Crisper,
            "veg" | "vegetable" if next == "drawer" => Place::Crisper,
            "pantry" | "cupboard" | "larder" | "cellar" | "basement" => Place::CoolDark,
            _ => continue,
        });
    }
    None
}

/// The part asked about, when one stands beside the food or is the food's last word.
fn part(
    a: &Analysis<'_>,
    range: &Range<usize>,
    seen: &Sighted,
    subject: &Subject,
) -> Option<String> {
    let is_part = |i: &usize| seen.at(*i, Class::Part);
    let inside = subject.tokens.clone().rev().find(|i| part_word(a.text.word(*i)).is_some());
    let after = subject.tokens.end..(subject.tokens.end + 2).min(range.end);
    let before = subject.tokens.start.saturating_sub(4).max(range.start)..subject.tokens.start;
    let at = inside
        .or_else(|| after.clone().find(is_part))
        .or_else(|| before.clone().rev().find(is_part));
    let at = at.or_else(|| range.clone().find(is_part))?;
    Some(part_word(a.text.word(at)).unwrap_or_else(|| a.text.word(at)).to_owned())
}

/// The rule set's word for a part.
fn part_word(word: &str) -> Option<&'static str> {
    Some(match word {
        "leaf" | "leaves" | "greens" | "tops" | "fronds" | "frond" => "leaf",
        "stem" | "stems" => "stem",
        "stalk" | "stalks" => "stalk",
        "peel" | "peels" | "skin" | "skins" => "peel",
        "rind" | "rinds" => "rind",
        "seed" | "seeds" | "pip" | "pips" => "seed",
        "pit" | "pits" | "stone" | "stones" => "pit",
        "kernel" | "kernels" => "kernel",
        "core" | "cores" => "core",
        "root" | "roots" | "rhizome" | "rhizomes" => "root",
        "flower" | "flowers" | "blossom" | "blossoms" => "flower",
        "pod" | "pods" => "pod",
        "shoot" | "shoots" => "shoot",
        "sprout" | "sprouts" => "sprout",
        "husk" | "husks" => "husk",
        "casing" | "casings" => "casing",
        "shell" | "shells" => "shell",
        "bone" | "bones" => "bone",
        _ => return None,
    })
}

/// The condition in people's own words: the run of condition words, without the food.
fn condition(
    a: &Analysis<'_>,
    range: &Range<usize>,
    seen: &Sighted,
    subject: &Subject,
) -> Option<String> {
    let sign = |i: usize| seen.at(i, Class::Condition) && !subject.tokens.contains(&i);
    let weak = |i: usize| seen.at(i, Class::WeakCondition) && !subject.tokens.contains(&i);
    let start = range.clone().find(|i| sign(*i)).or_else(|| range.clone().find(|i| weak(*i)))?;
    let end = (start..range.end)
        .find(|i| !(sign(*i) || weak(*i) || a.text.word(*i) == "and"))
        .unwrap_or(range.end);
    let end = (start..end).rev().find(|i| a.text.word(*i) != "and").map_or(end, |last| last + 1);
    Some(a.text.slice(start..end).to_lowercase())
}

/// Words a food's name is never made of.
const FUNCTION_WORDS: &[&str] = &[
    "the",
    "and",
    "but",
    "for",
    "from",
    "with",
    "without",
    "into",
    "onto",
    "after",
    "before",
    "while",
    "when",
    "what",
    "where",
    "which",
    "who",
    "whom",
    "whose",
    "how",
    "why",
    "this",
    "that",
    "these",
    "those",
    "there",
    "here",
    "have",
    "has",
    "had",
    "having",
    "was",
    "were",
    "are",
    "been",
    "being",
    "does",
    "did",
    "doing",
    "done",
    "can",
    "could",
    "may",
    "might",
    "must",
    "shall",
    "should",
    "will",
    "would",
    "won",
    "don't",
    "doesn't",
    "didn't",
    "isn't",
    "aren't",
    "wasn't",
    "weren't",
    "won't",
    "can't",
    "cannot",
    "couldn't",
    "wouldn't",
    "not",
    "you",
    "your",
    "yours",
    "our",
    "ours",
    "his",
    "her",
    "hers",
    "him",
    "she",
    "they",
    "them",
    "their",
    "its",
    "it's",
    "i'm",
    "i've",
    "we've",
    "what's",
    "that's",
    "there's",
    "let",
    "lets",
    "long",
    "longer",
    "longest",
    "many",
    "much",
    "more",
    "most",
    "less",
    "least",
    "best",
    "better",
    "way",
    "ways",
    "time",
    "times",
    "day",
    "days",
    "week",
    "weeks",
    "month",
    "months",
    "year",
    "years",
    "hour",
    "hours",
    "minute",
    "minutes",
    "night",
    "today",
    "yesterday",
    "tomorrow",
    "now",
    "ago",
    "since",
    "until",
    "till",
    "over",
    "under",
    "out",
    "off",
    "about",
    "around",
    "some",
    "any",
    "all",
    "each",
    "every",
    "other",
    "another",
    "both",
    "either",
    "neither",
    "only",
    "just",
    "also",
    "too",
    "very",
    "really",
    "quite",
    "still",
    "yet",
    "ever",
    "never",
    "again",
    "once",
    "twice",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "know",
    "tell",
    "think",
    "want",
    "wanted",
    "need",
    "needs",
    "like",
    "make",
    "makes",
    "making",
    "made",
    "get",
    "gets",
    "got",
    "getting",
    "put",
    "puts",
    "putting",
    "take",
    "takes",
    "taking",
    "leave",
    "leaving",
    "left",
    "keep",
    "buy",
    "bought",
    "give",
    "goes",
    "going",
    "went",
    "come",
    "comes",
    "said",
    "says",
    "say",
    "ask",
    "asked",
    "find",
    "look",
    "looks",
    "looking",
    "seem",
    "seems",
    "supposed",
    "properly",
    "correctly",
    "safely",
    "possible",
    "possibly",
    "long-term",
    "term",
    "short",
    "well",
    "right",
    "correct",
    "proper",
    "method",
    "methods",
    "tips",
    "advice",
    "help",
    "please",
    "thanks",
    "thank",
    "hey",
    "hello",
    "hi",
    "yes",
    "no",
    "okay",
    "sure",
    "maybe",
    "people",
    "person",
    "someone",
    "anyone",
    "everyone",
    "something",
    "anything",
    "everything",
    "nothing",
    "thing",
    "things",
    "stuff",
    "kind",
    "sort",
    "type",
    "types",
    "lot",
    "lots",
    "bit",
    "few",
    "couple",
    "several",
    "half",
    "between",
    "during",
    "than",
    "then",
    "because",
    "though",
    "although",
    "unless",
    "whether",
    "home",
    "house",
    "kitchen",
    "shop",
    "store",
    "bag",
    "bags",
    "jar",
    "jars",
    "bottle",
    "box",
    "container",
    "packet",
    "package",
    "pack",
    "tin",
    "bunch",
    "bowl",
    "cup",
    "piece",
    "pieces",
    "amount",
    "limit",
    "length",
    "frame",
    "date",
    "dates",
    "temperature",
    "point",
    "actual",
    "average",
    "normal",
    "usual",
    "typical",
    "expect",
    "approximate",
    "turns",
    "turn",
    "become",
    "becoming",
    "becomes",
    "onces",
    "using",
    "use",
    "used",
    "via",
    "per",
    "own",
    "new",
    "old",
    "large",
    "small",
    "big",
    "little",
    "extra",
    "up",
    "down",
    "away",
    "back",
    "order",
    "way",
];
