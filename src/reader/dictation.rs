//! Spoken text: punctuation said aloud, and words that sound like food.
//!
//! Both count only beside food and amounts: "eggs comma milk full stop" is a list, "came to a full
//! stop" is not; "2 kg leaks" are leeks, "the roof leaks" is not.

use super::lexicon::{FoodSpan, Lexicon};
use super::tokens::{Kind, Text};

/// Turns punctuation said aloud beside food or amounts into marks.
pub fn punctuate(text: &mut Text<'_>, lexicon: &Lexicon) {
    let spoken = |text: &Text<'_>| (0..text.len()).any(|i| said(text, i).is_some());
    if !spoken(text) {
        return;
    }
    let foods = lexicon.foods(text);
    if foods.is_empty() {
        return;
    }
    let listed = |i: usize| {
        let food = foods.iter().any(|f| f.tokens.contains(&i));
        let tag = lexicon.vocabulary().get(text.word(i));
        food || text.number(i).is_some() || tag.unit.is_some() || tag.value.is_some()
    };
    let mut marks = Vec::new();
    for i in 0..text.len() {
        let Some((length, mark)) = said(text, i) else { continue };
        let before = i > 0 && listed(i - 1);
        let after =
            listed(i + length) || i + length >= text.len() || text.word(i + length) == "and";
        let ends = mark != "," && i > 0;
        let last = i + length >= text.len();
        if before && (after || ends) || ends && last {
            marks.push((i, length, mark));
        }
    }
    for (i, length, mark) in marks.into_iter().rev() {
        text.respell(i..i + length, mark);
    }
}

/// A mark said aloud at `i`: how many words it takes, and the mark.
fn said(text: &Text<'_>, i: usize) -> Option<(usize, &'static str)> {
    match (text.word(i), text.word(i + 1)) {
        ("comma", _) => Some((1, ",")),
        ("full", "stop") => Some((2, ".")),
        ("question", "mark") => Some((2, "?")),
        ("exclamation", "mark" | "point") => Some((2, "!")),
        ("new", "line") => Some((2, "\n")),
        ("newline", _) => Some((1, "\n")),
        _ => None,
    }
}

/// The food word that a word sounds like.
pub fn sounds_like(word: &str) -> Option<&'static str> {
    Some(match word {
        "leak" => "leek",
        "leaks" => "leeks",
        "flower" => "flour",
        "time" => "thyme",
        "beat" => "beet",
        "beats" => "beets",
        "carat" | "karat" | "caret" => "carrot",
        "carats" | "karats" | "carets" => "carrots",
        "currents" => "currants",
        "muscles" => "mussels",
        "plumbs" => "plums",
        "serial" => "cereal",
        "stake" => "steak",
        "stakes" => "steaks",
        "bred" => "bread",
        "chilly" => "chilli",
        "peace" => "peas",
        "pairs" => "pears",
        "tee" => "tea",
        "maze" => "maize",
        "doe" => "dough",
        "been" | "beens" => "beans",
        "rise" => "rice",
        "meet" => "meat",
        _ => return None,
    })
}

/// Adds the foods that are only heard: the word stands right behind an amount, in a message that
/// is about food or measures. Heard foods vouch for each other, so it listens twice.
pub fn hear(text: &Text<'_>, lexicon: &Lexicon, foods: &mut Vec<FoodSpan>) {
    if (1..text.len()).any(|i| sounds_like(text.word(i)).is_some()) {
        listen(text, lexicon, foods);
        listen(text, lexicon, foods);
    }
}

fn listen(text: &Text<'_>, lexicon: &Lexicon, foods: &mut Vec<FoodSpan>) {
    for i in 1..text.len() {
        let Some(meant) = sounds_like(text.word(i)) else { continue };
        if foods.iter().any(|f| f.tokens.contains(&i)) || !amount_before(text, lexicon, i) {
            continue;
        }
        let listed = !foods.is_empty() && list_joint(text, i + 1) || measured(text, lexicon, i);
        if let Some(entry) = lexicon.lookup(meant).filter(|_| listed) {
            let at = foods.partition_point(|f| f.tokens.start < i);
            foods.insert(at, FoodSpan { tokens: i..i + 1, entry, fuzzy: true });
        }
    }
}

/// "3 leaks", "2 kg leaks", "a bunch of time".
fn amount_before(text: &Text<'_>, lexicon: &Lexicon, i: usize) -> bool {
    let last = if text.word(i - 1) == "of" && i > 1 { i - 2 } else { i - 1 };
    let tag = lexicon.vocabulary().get(text.word(last));
    text.number(last).is_some() && last + 1 == i
        || measured(text, lexicon, i)
        || tag.value.is_some()
}

/// A number and a unit of weight, volume or kitchen count stand before.
fn measured(text: &Text<'_>, lexicon: &Lexicon, i: usize) -> bool {
    let last = if text.word(i - 1) == "of" && i > 1 { i - 2 } else { i - 1 };
    let vocabulary = lexicon.vocabulary();
    let unit = vocabulary.get(text.word(last)).unit.is_some() && text.word(last) != "bunches";
    let before = last.checked_sub(1);
    unit && before.is_some_and(|k| {
        text.number(k).is_some()
            || vocabulary.get(text.word(k)).value.is_some()
            || matches!(text.word(k), "a" | "an")
    })
}

/// The end of the text or something that goes on with a list.
fn list_joint(text: &Text<'_>, i: usize) -> bool {
    match text.kind(i) {
        None | Some(Kind::Newline | Kind::Emoji | Kind::Number) => true,
        Some(Kind::Mark) => matches!(text.word(i), "," | "&" | "+" | "." | ";" | "!"),
        Some(Kind::Word) => {
            matches!(text.word(i), "and" | "plus" | "for" | "from" | "yesterday" | "today")
        }
    }
}
