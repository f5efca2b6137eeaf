//! The name of an item: the food's own words, the part, the form.
//!
//! Sizes, preparations and packaging fall away; words that make another product stay.

use std::ops::Range;

use crate::reader::details::Details;
use crate::reader::dictation::sounds_like;
use crate::reader::tokens::{Join, Kind, shows};
use crate::reader::{Analysis, amounts, vocabulary};
use crate::statement::Item;
use crate::words::Form;

/// No food's name has more words than this.
const LONGEST_NAME: usize = 12;

/// The words of a name, by token.
#[derive(Clone, Debug)]
pub(super) struct Name {
    /// First to last token looked at.
    pub(super) range: Range<usize>,
    pub(super) words: Vec<usize>,
}

impl Name {
    pub(super) fn is_empty(&self) -> bool {
        self.words.is_empty()
    }

    pub(super) fn read(a: &Analysis<'_>, start: usize, end: usize, details: &Details) -> Name {
        let mut name = Name { range: start..start, words: Vec::new() };
        let mut i = start;
        let mut has_food = false;
        if a.text.word(i) == "of" {
            i += 1;
        }
        while i < end {
            if details.at(i).is_some() || name.words.len() >= LONGEST_NAME {
                break;
            }
            if let Some(food) = a.food_at(i).filter(|f| f.tokens.start == i && f.tokens.end <= end)
            {
                name.words.extend(food.tokens.clone());
                has_food = true;
                i = food.tokens.end;
                name.range.end = i;
                continue;
            }
            match name.step(a, i, end, has_food) {
                Step::Take => {
                    name.words.push(i);
                    i += 1;
                    name.range.end = i;
                }
                Step::Skip(n) => i += n,
                Step::Stop => break,
            }
        }
        // A name of qualities alone ("firm") is none.
        if !has_food && name.words.iter().all(|&k| a.tag(k).is_quality() || a.text.word(k) == "or")
        {
            name.words.clear();
        }
        name
    }

    fn step(&self, a: &Analysis<'_>, i: usize, end: usize, has_food: bool) -> Step {
        let word = a.text.word(i);
        let started = self.words.iter().any(|&k| !a.tag(k).is_quality() && a.text.word(k) != "or");
        match a.text.kind(i) {
            Some(Kind::Word) => {}
            Some(Kind::Mark) => return self.step_mark(a, i, end, started),
            Some(Kind::Number)
                if !started && a.text.get(i + 1).is_some_and(|t| t.join == Join::Hyphen) =>
            {
                return Step::Skip(2);
            }
            _ => return Step::Stop,
        }
        let tag = a.tag(i);
        let hyphened = a.text.get(i + 1).is_some_and(|t| t.join == Join::Hyphen);
        if hyphened && !started && a.text.is_word(i + 1) {
            return Step::Take;
        }
        if a.text.get(i).is_some_and(|t| t.join == Join::Hyphen)
            && self.words.last() == Some(&(i - 1))
        {
            return Step::Take;
        }
        match word {
            "of" if has_food || started => return Step::Take,
            "or" if !has_food => return Step::Take,
            "or" if amounts::read(a, i + 1, end).is_some_and(|x| x.counted) => return Step::Stop,
            "or" if alternative(a, i + 1, end) => return Step::Take,
            // The words of an alternative up to its food: "or other tubular pasta".
            _ if self.words.last().is_some_and(|&k| a.text.word(k) == "or" && started) => {
                return Step::Take;
            }
            _ if self.in_alternative(a) && !tag.is_stop() => return Step::Take,
            "and" | "&" if !started => return Step::Skip(1),
            "with"
                if has_food
                    && amounts::read(a, i + 1, end).is_none()
                    && alternative(a, i + 1, end.min(i + 4)) =>
            {
                return Step::Take;
            }
            "in" if has_food
                && matches!(
                    a.text.word(i + 1),
                    "juice" | "oil" | "brine" | "syrup" | "vinegar" | "tomato"
                ) =>
            {
                return Step::Take;
            }
            "and" | "plus" | "then" | "with" => return Step::Stop,
            "comma" | "stop" if started => return Step::Stop,
            "any" if started && a.text.word(i + 1) == "more" => return Step::Stop,
            "x" if a.text.number(i + 1).is_some() => return Step::Stop,
            _ => {}
        }
        if tag.is_size() || tag.is_preparation() || tag.is_adverb() {
            return if started || has_food { Step::Stop } else { Step::Skip(1) };
        }
        if tag.is_stop() || tag.is_pronoun() && started || tag.is_subject() {
            return Step::Stop;
        }
        if tag.is_determiner() && !started {
            return Step::Skip(1);
        }
        if (tag.is_filler() || tag.is_about()) && !tag.is_quality() {
            return if started { Step::Stop } else { Step::Skip(1) };
        }
        Step::Take
    }

    /// An "or" was taken and its food has not come yet.
    fn in_alternative(&self, a: &Analysis<'_>) -> bool {
        let or = self.words.iter().rposition(|&k| a.text.word(k) == "or");
        or.is_some_and(|at| at > 0 && !self.words[at..].iter().any(|&k| a.food_at(k).is_some()))
    }

    fn step_mark(&self, a: &Analysis<'_>, i: usize, end: usize, started: bool) -> Step {
        match a.text.word(i) {
            "(" => match amounts::parenthesis(a, i, end) {
                Some((_, next)) if !started || a.food_at(next).is_some() => Step::Skip(next - i),
                _ => Step::Stop,
            },
            "," if !started
                && (!self.words.is_empty() || a.tag(i.saturating_sub(1)).is_preparation()) =>
            {
                Step::Skip(1)
            }
            "'" | "\"" | "™" | "®" => Step::Skip(1),
            "/" if started && a.text.is_glued(i) && a.text.is_word(i + 1) => Step::Skip(1),
            _ => Step::Stop,
        }
    }
}

enum Step {
    Take,
    Skip(usize),
    Stop,
}

/// A food within a few words after "or", with no stop or amount in between.
fn alternative(a: &Analysis<'_>, start: usize, end: usize) -> bool {
    for i in start..end.min(start + 6) {
        if a.food_at(i).is_some() {
            return true;
        }
        if a.text.kind(i) != Some(Kind::Word)
            || a.tag(i).is_stop()
            || a.tag(i).is_subject()
            || a.tag(i).is_pronoun()
        {
            return false;
        }
    }
    false
}

/// The food and the part a name means: the food at its end, or the food before a part's word.
pub(super) fn name_food(a: &Analysis<'_>, item: &mut Item, name: &Name, last: usize) {
    // "yogurt with honey" is yogurt, "peaches in syrup" are peaches.
    let cut = name
        .words
        .iter()
        .position(|&k| matches!(a.text.word(k), "with" | "in"))
        .filter(|&at| at > 0);
    let last = cut.map_or(last, |at| name.words[at - 1]);
    let of_entry = |k: usize| a.food_at(k).map(|f| a.lexicon.entry(f.entry));
    let named = name.words[..name.words.len() - 1].iter().rev().copied();
    let before = named.filter(|&k| a.text.word(k) != "outer").find_map(of_entry);
    let outer = |said: &str| {
        let outer = name.words.iter().any(|&k| a.text.word(k) == "outer") && said == "leaf";
        if outer { "outer leaf" } else { said }.to_owned()
    };
    // "cabbage outer leaves": the part has no rules of its own, the food has.
    let bare_part = of_entry(last).is_none_or(|entry| entry.food.is_none());
    if let Some(said) = part(a.text.word(last)).filter(|_| bare_part && name.words.len() > 1)
        && let Some(entry) = before
    {
        item.part = Some(outer(said));
        item.food = entry.food.clone();
        return;
    }
    if let Some(entry) = of_entry(last) {
        item.food = entry.food.clone();
        // "the outer leaves of the cabbage": a part, and the food it is one of.
        let of = name.words.iter().position(|&k| a.text.word(k) == "of").filter(|&at| at > 0);
        if let Some(at) = of
            && let Some(said) = part(a.text.word(name.words[at - 1]))
        {
            item.part = Some(outer(said));
            return;
        }
        item.part = part(a.text.word(last))
            .map(str::to_owned)
            .filter(|_| a.food_at(last).is_some_and(|f| f.tokens.len() > 1));
    }
}

/// Words that stand behind a food and still mean it: parts, cuts, shapes.
pub(super) fn heads_food(word: &str) -> bool {
    part(word).is_some()
        || matches!(
            word,
            "fillet"
                | "fillets"
                | "steak"
                | "steaks"
                | "breast"
                | "breasts"
                | "thigh"
                | "thighs"
                | "wing"
                | "wings"
                | "leg"
                | "legs"
                | "florets"
                | "floret"
                | "hearts"
                | "heart"
                | "chunks"
                | "pieces"
                | "halves"
                | "strips"
                | "rings"
                | "bits"
                | "crumbs"
                | "flakes"
                | "granules"
                | "cubes"
                | "wedges"
                | "slices"
                | "spears"
                | "tips"
                | "buds"
                | "nibs"
                | "chips"
                | "bars"
                | "cups"
                | "tenders"
                | "nuggets"
                | "cutlets"
                | "patties"
                | "balls"
                | "sticks"
                | "straws"
                | "puffs"
                | "buns"
                | "rolls"
                | "loaf"
                | "liquor"
                | "blend"
                | "meal"
                | "segments"
                | "strands"
                | "threads"
                | "shavings"
                | "crisps"
                | "cakes"
                | "pickles"
                | "jelly"
                | "singles"
                | "roast"
                | "ribs"
                | "head"
                | "heads"
                | "bulb"
                | "bulbs"
                | "cobs"
                | "ears"
                | "bunch"
                | "drink"
        )
}

/// The rule set's word for a part people name.
pub fn part(word: &str) -> Option<&'static str> {
    Some(match word {
        "tops" | "greens" | "leaves" | "leaf" | "top" | "fronds" | "frond" => "leaf",
        "peel" | "peels" | "peelings" | "skin" | "skins" | "rind" | "zest" => "peel",
        "stalks" | "stalk" | "stems" | "stem" => "stem",
        "seeds" | "seed" | "pips" | "pip" => "seed",
        "root" | "roots" => "root",
        "core" | "cores" => "core",
        "ends" | "end" | "tails" | "trimmings" | "scraps" | "offcuts" => "ends",
        "flower" | "flowers" | "blossom" | "blossoms" => "flower",
        "pod" | "pods" | "husk" | "husks" => "pod",
        "stones" | "pits" | "kernel" | "kernels" => "kernel",
        "shells" | "shell" => "shell",
        "sprouts" | "shoots" => "sprout",
        "bones" | "bone" | "carcass" => "bone",
        _ => return None,
    })
}

/// The name in lower case as typed, hyphens kept.
pub(super) fn spell(a: &Analysis<'_>, name: &Name) -> String {
    let mut out = String::new();
    let mut words = name.words.as_slice();
    // "or" and "of" do not begin or end a name.
    while let [first, rest @ ..] = words
        && matches!(a.text.word(*first), "or" | "of")
    {
        words = rest;
    }
    while let [rest @ .., last] = words
        && matches!(a.text.word(*last), "or" | "of")
    {
        words = rest;
    }
    for (n, &k) in words.iter().enumerate() {
        if n > 0 {
            let hyphen =
                a.text.get(k).is_some_and(|t| t.join == Join::Hyphen) && words[n - 1] + 1 == k;
            out.push(if hyphen { '-' } else { ' ' });
        }
        let heard = a.food_at(k).filter(|f| f.fuzzy).and_then(|_| sounds_like(a.text.word(k)));
        match heard {
            Some(meant) => out.push_str(meant),
            None => out.extend(
                a.text.slice(k..k + 1).chars().filter(|c| shows(*c)).flat_map(char::to_lowercase),
            ),
        }
    }
    // "milk's all gone": the verb is no part of the name.
    for ending in ["'s", "\u{2019}s"] {
        if out.ends_with(ending) {
            out.truncate(out.len() - ending.len());
        }
    }
    out
}

/// The form said in front of the name ("frozen", "cooked", "chopped").
pub(super) fn said_form(a: &Analysis<'_>, name: &Name) -> Option<Form> {
    let from = name.words.first().copied().unwrap_or(name.range.start);
    let first = from.saturating_sub(3).max(name.range.start.saturating_sub(3));
    let mut form = None;
    for k in first..name.range.end {
        if !a.tag(k).is_preparation() && !a.tag(k).is_quality() {
            continue;
        }
        match vocabulary::form(a.text.word(k)) {
            Some(Form::Opened) | None => {}
            Some(Form::Cut) if a.food_at(k).is_some() => {}
            found => form = form.or(found),
        }
    }
    form
}
