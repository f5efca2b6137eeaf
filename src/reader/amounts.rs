//! Amounts as people write them: "1 1/2 lb", "2-3", "half the", "a couple of", "3 x 400 g cans".
//!
//! Reads one amount where it begins; exact fractions only. A vague amount stays vague.

use super::Analysis;
use super::tokens::{Join, Kind};
use super::verbs;
use crate::units::{Dimension, Quantity, Ratio, Unit};

/// One amount and where it ends.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Amount {
    pub quantity: Option<Ratio>,
    pub high: Option<Ratio>,
    /// A share of what is on record.
    pub fraction: Option<Ratio>,
    pub unit: Option<Unit>,
    pub odd_unit: Option<String>,
    pub size: Option<Quantity>,
    /// "some", "a few": said, but without a number.
    pub vague: bool,
    /// Said with a digit or a number word other than "a".
    pub counted: bool,
    /// The token after the amount.
    pub end: usize,
}

impl Amount {
    fn of(quantity: Ratio, end: usize) -> Amount {
        Amount { quantity: Some(quantity), counted: true, end, ..Amount::default() }
    }

    fn share(fraction: Ratio, end: usize) -> Amount {
        Amount { fraction: Some(fraction), counted: true, end, ..Amount::default() }
    }

    fn vague(end: usize) -> Amount {
        Amount { vague: true, end, ..Amount::default() }
    }
}

const HALF: (i64, i64) = (1, 2);

fn ratio((num, den): (i64, i64)) -> Ratio {
    Ratio::new(num, den).unwrap_or(Ratio::ZERO)
}

/// The amount that begins at token `start`, before `end`.
pub fn read(a: &Analysis<'_>, start: usize, end: usize) -> Option<Amount> {
    let mut i = start;
    while i < end {
        let up_to = a.text.has(i, &["up", "to"]) && i + 1 < end;
        let about = a.tag(i).is_about() || a.text.word(i) == "~" || up_to;
        let next = i + 1 + usize::from(up_to);
        if !about || !starts_number(a, next, end) {
            break;
        }
        i = next;
    }
    let mut amount =
        shares(a, i, end).or_else(|| counts(a, i, end)).or_else(|| bare_unit(a, i, end))?;
    if amount.fraction.is_none() || amount.unit.is_none() {
        units(a, &mut amount, end);
    }
    Some(amount)
}

fn starts_number(a: &Analysis<'_>, i: usize, end: usize) -> bool {
    i < end
        && (a.text.number(i).is_some()
            || a.tag(i).value.is_some()
            || a.tag(i).is_about()
            || matches!(a.text.word(i), "a" | "an" | "half" | "the" | "dozen"))
}

/// "half the", "all of the", "the rest of the", "the last of", "most of", "50% of the".
fn shares(a: &Analysis<'_>, start: usize, end: usize) -> Option<Amount> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let definite = |i: usize| {
        matches!(
            w(i),
            "the" | "my" | "our" | "that" | "those" | "these" | "this" | "your" | "it" | "them"
        )
    };
    // An optional "the" in front: "the rest", "the other half".
    let i = if definite(start) { start + 1 } else { start };
    let has_the = i > start;
    let past_of = |mut k: usize| {
        if w(k) == "of" {
            k += 1;
        }
        if definite(k) && !matches!(w(k), "it" | "them") {
            k += 1;
        }
        k
    };
    match w(i) {
        "rest" | "remainder" | "remains" if has_the => {
            Some(Amount::share(Ratio::ONE, past_of(i + 1)))
        }
        "remaining" if has_the && a.text.number(i + 1).is_none() => {
            Some(Amount::share(Ratio::ONE, i + 1))
        }
        "last" if has_the || number(a, i + 1, end).is_some() || w(i + 1) == "of" => {
            match w(i + 1) {
                "of" => Some(Amount::share(Ratio::ONE, past_of(i + 1))),
                "bit" | "bits" | "little" | "few" => {
                    Some(Amount::share(Ratio::ONE, past_of(i + 2)))
                }
                _ => {
                    let mut counted = counts(a, i + 1, end).filter(|c| c.counted);
                    if counted.is_none() {
                        counted = Some(Amount::of(Ratio::ONE, i + 1));
                    }
                    counted
                }
            }
        }
        "whole" | "entire" if has_the => Some(Amount::share(Ratio::ONE, i + 1)),
        "other" | "second" if has_the && w(i + 1) == "half" => {
            Some(Amount::share(Ratio::ONE, past_of(i + 2)))
        }
        "all" if !has_the => {
            let k = past_of(i + 1);
            counts(a, k, end).filter(|c| c.counted).or(Some(Amount::share(Ratio::ONE, k)))
        }
        "both" if !has_the => Some(Amount::of(Ratio::whole(2), past_of(i + 1))),
        "most" if !has_the && w(i + 1) == "of" => Some(Amount::vague(past_of(i + 1))),
        "half" | "quarter" | "third" if w(i) == "half" || has_the || w(start) == "a" => {
            half_of(a, i, end)
        }
        "a" if matches!(w(i + 1), "half" | "quarter" | "third") => half_of(a, i + 1, end),
        _ => percent_or_fraction_of(a, i, end),
    }
}

/// "half the", "half of the", "half it": a share; anything else is no share.
fn half_of(a: &Analysis<'_>, i: usize, end: usize) -> Option<Amount> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let share = a.tag(i).value?;
    let k = if w(i + 1) == "of" { i + 2 } else { i + 1 };
    let definite =
        matches!(w(k), "the" | "my" | "our" | "that" | "those" | "these" | "this" | "it" | "them");
    if !definite {
        return None;
    }
    let next = if matches!(w(k), "it" | "them") { k } else { k + 1 };
    Some(Amount::share(share, next))
}

/// "1/3 of the", "3/4 the", "50% of the", "two thirds of the", "three quarters of the".
fn percent_or_fraction_of(a: &Analysis<'_>, i: usize, end: usize) -> Option<Amount> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let (share, mut k) = if let Some(n) = a.text.number(i) {
        if w(i + 1) == "%" {
            (n.checked_div(Ratio::whole(100))?, i + 2)
        } else if n < Ratio::ONE && n.is_positive() {
            (n, i + 1)
        } else {
            return None;
        }
    } else {
        let times = a.tag(i).value?;
        if !matches!(w(i + 1), "thirds" | "quarters" | "third" | "quarter") {
            return None;
        }
        (times.checked_mul(a.tag(i + 1).value?)?, i + 2)
    };
    if w(k) == "of" {
        k += 1;
    }
    let definite = matches!(w(k), "the" | "my" | "our" | "that" | "those" | "these");
    (definite && share <= Ratio::ONE).then(|| Amount::share(share, k + 1))
}

/// "gallon of milk", "bunch of mint": one of a unit whose article was left out.
fn bare_unit(a: &Analysis<'_>, i: usize, end: usize) -> Option<Amount> {
    let word = a.text.word(i);
    let (_, next) = unit_at(a, i, end, false)?;
    let one = !word.ends_with('s') || word == "glass";
    let food = (next + 1..end.min(next + 3)).any(|k| a.food_at(k).is_some());
    (one && a.text.word(next) == "of" && food && a.food_at(i).is_none())
        .then(|| Amount::of(Ratio::ONE, i))
}

/// A number in any notation, a range, a vague word; the unit comes later.
fn counts(a: &Analysis<'_>, start: usize, end: usize) -> Option<Amount> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let mut i = start;
    // "x2 milk": the cross comes first.
    if w(i) == "x" && a.text.number(i + 1).is_some() {
        i += 1;
    }
    // Possessives and articles before a number: "the 3 leeks", "my 2 eggs".
    if a.tag(i).is_determiner() && !matches!(w(i), "a" | "an") && number(a, i + 1, end).is_some() {
        i += 1;
    }
    match (w(i), w(i + 1)) {
        ("a", "few")
        | ("a", "bit")
        | ("a", "little")
        | ("a", "lot")
        | ("a", "load")
        | ("a", "tad")
        | ("quite", "a")
        | ("a", "good")
        | ("a", "ton") => {
            let k = if w(i) == "quite" { i + 3 } else { i + 2 };
            return Some(Amount::vague(if w(k) == "of" { k + 1 } else { k }));
        }
        ("one" | "some" | "few" | "couple", "of") if w(i) != "couple" => {
            let mut k = i + 2;
            if a.tag(k).is_determiner() {
                k += 1;
            }
            return Some(match w(i) {
                "one" => Amount::of(Ratio::ONE, k),
                _ => Amount::vague(k),
            });
        }
        ("no", _) => return Some(Amount::of(Ratio::ZERO, i + 1)),
        ("zero", _) => return Some(Amount::of(Ratio::ZERO, i + 1)),
        ("some" | "several" | "few" | "lots" | "loads" | "plenty" | "many" | "tons", next) => {
            return Some(Amount::vague(if next == "of" { i + 2 } else { i + 1 }));
        }
        _ => {}
    }
    let (value, mut k, counted) = number(a, i, end)?;
    let mut amount = Amount { quantity: Some(value), counted, end: k, ..Amount::default() };
    // A range: "2-3", "2 to 3", "2 or 3".
    if counted
        && matches!(w(k), "-" | "to" | "or")
        && let Some((high, next, true)) = number(a, k + 1, end)
        && high > value
        && (w(k) != "or" || a.text.number(k + 1).is_some() || a.tag(k + 1).value.is_some())
    {
        amount.high = Some(high);
        k = next;
    }
    if w(k) == "or" && matches!(w(k + 1), "more" | "so") {
        k += 2;
    }
    // "2 of the leeks".
    if counted && w(k) == "of" && a.tag(k + 1).is_determiner() {
        k += 2;
    }
    amount.end = k;
    Some(amount)
}

/// One number: digits, fractions, mixed numbers, number words, dozens. The flag is false for a
/// bare article.
pub fn number(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Ratio, usize, bool)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    if i >= end {
        return None;
    }
    if let Some(value) = a.text.number(i) {
        return digits(a, i, end, value);
    }
    let article = matches!(w(i), "a" | "an");
    let k = if article { i + 1 } else { i };
    match w(k) {
        "dozen" => return Some((Ratio::whole(12), of(a, k + 1), true)),
        "couple" => return Some((Ratio::whole(2), of(a, k + 1), true)),
        "pair" if article || w(k + 1) == "of" => {
            return Some((Ratio::whole(2), of(a, k + 1), true));
        }
        "hundred" if article => return Some((Ratio::whole(100), k + 1, true)),
        "half" => {
            let dozen = if matches!(w(k + 1), "a" | "an") { k + 2 } else { k + 1 };
            return Some(match w(dozen) {
                "dozen" => (Ratio::whole(6), of(a, dozen + 1), true),
                _ if matches!(w(k + 1), "a" | "an") => (ratio(HALF), k + 2, true),
                // "half of a squash"
                "of" if matches!(w(k + 2), "a" | "an") => (ratio(HALF), k + 3, true),
                _ => (ratio(HALF), k + 1, true),
            });
        }
        "quarter" | "third" if article || matches!(w(k + 1), "of") => {
            let mut next = k + 1;
            if w(next) == "of" {
                next += 1;
            }
            if matches!(w(next), "a" | "an") {
                next += 1;
            }
            return Some((a.tag(k).value?, next, true));
        }
        _ => {}
    }
    if article {
        return Some((Ratio::ONE, i + 1, false));
    }
    let first = a.tag(i).value?;
    if matches!(w(i), "quarters" | "thirds" | "quarter" | "third") {
        return None;
    }
    let (mut value, mut k) = (first, i + 1);
    if matches!(w(k), "quarters" | "thirds" | "third" | "quarter" | "half" | "halves") {
        value = value.checked_mul(a.tag(k).value?)?;
        k += 1;
        if w(k) == "of" {
            k += 1;
        }
        if matches!(w(k), "a" | "an") {
            k += 1;
        }
        return Some((value, k, true));
    }
    let tens = first >= Ratio::whole(20) && first < Ratio::whole(100);
    if tens && a.tag(k).value.is_some_and(|v| v >= Ratio::ONE && v < Ratio::whole(10)) {
        value = value.checked_add(a.tag(k).value?)?;
        k += 1;
    }
    if w(k) == "hundred" {
        value = value.checked_mul(Ratio::whole(100))?;
        k += 1;
    }
    if w(k) == "dozen" {
        return Some((value.checked_mul(Ratio::whole(12))?, of(a, k + 1), true));
    }
    Some(and_a_half(a, k, end, value))
}

/// "two and a half", "1 and 1/2".
fn and_a_half(a: &Analysis<'_>, k: usize, end: usize, value: Ratio) -> (Ratio, usize, bool) {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    if w(k) == "and"
        && w(k + 1) == "a"
        && matches!(w(k + 2), "half" | "quarter" | "third")
        && let Some(sum) = a.tag(k + 2).value.and_then(|part| value.checked_add(part))
    {
        return (sum, k + 3, true);
    }
    if w(k) == "and"
        && w(k + 1).contains('/')
        && let Some(sum) = a.text.number(k + 1).and_then(|part| value.checked_add(part))
    {
        return (sum, k + 2, true);
    }
    (value, k, true)
}

/// "of" after a count noun is skipped: "a couple of", "a dozen of".
fn of(a: &Analysis<'_>, k: usize) -> usize {
    if a.text.word(k) == "of" { k + 1 } else { k }
}

fn digits(a: &Analysis<'_>, i: usize, end: usize, value: Ratio) -> Option<(Ratio, usize, bool)> {
    let value = if is_below_zero(a, i) { value.checked_mul(Ratio::whole(-1))? } else { value };
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let glued_word = a.text.is_glued(i + 1) && a.text.is_word(i + 1);
    if glued_word && matches!(w(i + 1), "st" | "nd" | "rd" | "th" | "am" | "pm" | "ish") {
        return if w(i + 1) == "ish" { Some((value, i + 2, true)) } else { None };
    }
    if w(i + 1) == "%"
        || (w(i + 1) == ":" && a.text.is_glued(i + 1) && a.text.number(i + 2).is_some())
    {
        return None;
    }
    let whole = value.denom() == 1 && !w(i).contains('/');
    let fraction_at = |k: usize| {
        let part = a.text.number(k).filter(|_| k < end && a.text.word(k).contains('/'))?;
        (part < Ratio::ONE).then_some(part)
    };
    if whole {
        if let Some(sum) = fraction_at(i + 1).and_then(|part| value.checked_add(part)) {
            return Some((sum, i + 2, true));
        }
        // "1-1/2" glued on both sides is a mixed number; with spaces it is a range.
        if w(i + 1) == "-"
            && a.text.is_glued(i + 1)
            && a.text.is_glued(i + 2)
            && let Some(sum) = fraction_at(i + 2).and_then(|part| value.checked_add(part))
        {
            return Some((sum, i + 3, true));
        }
        if matches!(w(i + 1), "dozen" | "doz" | "dz") {
            return Some((value.checked_mul(Ratio::whole(12))?, of(a, i + 2), true));
        }
        return Some(and_a_half(a, i + 1, end, value));
    }
    if matches!(w(i + 1), "dozen" | "doz" | "dz") {
        return Some((value.checked_mul(Ratio::whole(12))?, of(a, i + 2), true));
    }
    Some((value, i + 1, true))
}

/// "got -3 leeks", "used minus 2 eggs": a sign between the verb and its number. Everywhere else a
/// dash opens a line of a list or a range.
fn is_below_zero(a: &Analysis<'_>, i: usize) -> bool {
    let Some(verb) = i.checked_sub(2) else { return false };
    let signed = match a.text.word(i - 1) {
        "-" => a.text.is_glued(i) && !a.text.is_glued(i - 1),
        "minus" => true,
        _ => false,
    };
    signed && a.text.is_word(verb) && verbs::head(a, verb, verb + 1).is_some()
}

/// Adds the unit, the size and the nesting to a number.
fn units(a: &Analysis<'_>, amount: &mut Amount, end: usize) {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let mut i = amount.end;
    let counted = amount.counted;
    // "3 x 400 g cans", "2x milk".
    let crossed = counted && matches!(w(i), "x" | "*" | "×");
    if crossed {
        i += 1;
        amount.end = i;
    }
    // A parenthesis right after the number: "1 (14 oz) can", "1 (about 20) ...".
    if w(i) == "("
        && let Some((size, next)) = parenthesis(a, i, end)
    {
        amount.size = amount.size.or(size);
        i = next;
        amount.end = i;
    }
    // "2 5-lb bags", "two 15 1/2-ounce cans", "3 x 400 g cans".
    if let Some((inner, next)) = measure(a, i, end)
        && (crossed || a.text.number(i).is_some())
    {
        let at = skip_sizes(a, next, end);
        let pack =
            unit_at(a, at, end, true).filter(|(unit, _)| unit.dimension() == Dimension::Count);
        amount.size = Some(inner);
        match pack {
            Some((unit, next)) => {
                amount.unit = Some(unit);
                amount.end = of(a, next);
            }
            None => amount.end = of(a, next),
        }
        return;
    }
    let at = skip_sizes(a, i, end);
    if let Some((unit, next)) = unit_at(a, at, end, counted) {
        let value = amount.quantity;
        amount.unit = Some(unit);
        amount.end = next;
        // "5 lb bag of potatoes": the unit is the bag.
        let pack_at = skip_sizes(a, next, end);
        let hyphen = a.text.get(at).is_some_and(|t| t.join == Join::Hyphen);
        if unit.dimension() != Dimension::Count
            && let Some((pack, after)) = unit_at(a, pack_at, end, true)
            && a.tag(pack_at).is_pack()
            && (hyphen || w(after) == "of" || a.tag(pack_at).unit == Some(pack))
        {
            amount.size = value.map(|v| Quantity::new(v, Some(unit)));
            amount.unit = Some(pack);
            let plural = w(pack_at).ends_with('s');
            amount.quantity = (!plural).then_some(Ratio::ONE);
            amount.end = of(a, after);
            return;
        }
        i = amount.end;
        if w(i) == "("
            && let Some((size, next)) = parenthesis(a, i, end)
        {
            if amount.size.is_none() && unit.dimension() == Dimension::Count {
                amount.size = size;
            }
            i = next;
        }
        i = plus_more(a, i, end);
        amount.end = of(a, i);
        return;
    }
    if is_odd_unit(w(at)) {
        let after_of = w(at + 1) == "of";
        let food_near = (at + 1..end.min(at + 3)).any(|k| a.food_at(k).is_some());
        if after_of || food_near {
            amount.odd_unit = Some(w(at).to_owned());
            amount.end = of(a, at + 1);
        }
    }
}

/// "1/2 cup plus 2 tablespoons", "1/4 cup, plus 2 tablespoons,": the rest is skipped.
fn plus_more(a: &Analysis<'_>, i: usize, end: usize) -> usize {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let comma = w(i) == ",";
    let at = if comma { i + 1 } else { i };
    if w(at) != "plus" && w(at) != "+" {
        return i;
    }
    match measure(a, at + 1, end) {
        Some((_, next)) if comma && w(next) == "," => next + 1,
        Some((_, next)) if !comma => next,
        _ => i,
    }
}

/// A number with a measuring unit: "5-lb", "2-inch", "4- to 5-pound" (the lower one).
fn measure(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Quantity, usize)> {
    let (value, k, true) = number(a, i, end)? else { return None };
    let joint = k + usize::from(a.text.word(k) == "-" && k < end);
    let high = matches!(a.text.word(joint), "to" | "or").then_some(joint + 1);
    let high = high.or((joint > k).then_some(joint)).and_then(|at| number(a, at, end));
    let k = high.filter(|(_, _, counted)| *counted).map_or(k, |(_, next, _)| next);
    let (unit, next) = unit_at(a, k, end, true)?;
    let measures = unit.dimension() != Dimension::Count || unit == Unit::Inch;
    measures.then(|| (Quantity::new(value, Some(unit)), next))
}

/// A short parenthesis: its size, if it tells one, and the token after it.
pub fn parenthesis(a: &Analysis<'_>, open: usize, end: usize) -> Option<(Option<Quantity>, usize)> {
    let close = (open + 1..end.min(open + 40)).find(|&k| a.text.word(k) == ")")?;
    let mut i = open + 1;
    while i < close && a.tag(i).is_about() {
        i += 1;
    }
    Some((measure(a, i, close).map(|(size, _)| size), close + 1))
}

fn skip_sizes(a: &Analysis<'_>, mut i: usize, end: usize) -> usize {
    while i < end && a.tag(i).is_size() && !starts_long_food(a, i) {
        i += 1;
    }
    i
}

fn starts_long_food(a: &Analysis<'_>, i: usize) -> bool {
    a.food_at(i).is_some_and(|f| f.tokens.start == i && f.tokens.len() > 1)
}

/// The unit at `i` and the token after it (a point after a short form is skipped).
pub fn unit_at(a: &Analysis<'_>, i: usize, end: usize, counted: bool) -> Option<(Unit, usize)> {
    if i >= end || a.text.kind(i) != Some(Kind::Word) {
        return None;
    }
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    if matches!(w(i), "fl" | "fluid") {
        let k = if w(i + 1) == "." { i + 2 } else { i + 1 };
        if matches!(w(k), "oz" | "ounce" | "ounces" | "ozs") {
            let next = if w(k + 1) == "." && a.text.is_glued(k + 1) { k + 2 } else { k + 1 };
            return Some((Unit::FluidOunce, next));
        }
    }
    let tag = a.tag(i);
    let unit = tag.unit?;
    if tag.is_shy_unit() && !counted && w(i + 1) != "of" {
        return None;
    }
    if starts_long_food(a, i) && w(i + 1) != "of" {
        return None;
    }
    let unit = match (w(i), a.text.slice(i..i + 1)) {
        ("t", "T") => Unit::Tablespoon,
        _ => unit,
    };
    let point = w(i + 1) == "."
        && a.text.is_glued(i + 1)
        && w(i).len() <= 4
        && i + 2 < end
        && a.text.kind(i + 2) != Some(Kind::Newline);
    Some((unit, if point { i + 2 } else { i + 1 }))
}

/// Whether a word is a unit outside the vocabulary; it is kept as said.
pub fn is_odd_unit(word: &str) -> bool {
    matches!(
        word,
        "spray"
            | "sprays"
            | "splash"
            | "splashes"
            | "dollop"
            | "dollops"
            | "drizzle"
            | "squeeze"
            | "squeezes"
            | "squirt"
            | "squirts"
            | "pat"
            | "pats"
            | "lump"
            | "lumps"
            | "chunk"
            | "chunks"
            | "hunk"
            | "hunks"
            | "heap"
            | "heaps"
            | "pile"
            | "piles"
            | "trug"
            | "trugs"
            | "armful"
            | "armfuls"
            | "bushel"
            | "bushels"
            | "peck"
            | "pecks"
            | "wheel"
            | "wheels"
            | "round"
            | "rounds"
            | "log"
            | "logs"
            | "link"
            | "links"
            | "strand"
            | "strands"
            | "thread"
            | "threads"
            | "string"
            | "strings"
            | "braid"
            | "braids"
            | "plait"
            | "plaits"
            | "fifth"
            | "fifths"
            | "tablet"
            | "tablets"
            | "pallet"
            | "pallets"
            | "ladle"
            | "ladles"
            | "ladleful"
            | "mug"
            | "mugs"
            | "mugful"
            | "pan"
            | "pans"
            | "dish"
            | "dishes"
            | "jug"
            | "jugs"
            | "barrel"
            | "barrels"
            | "spoon"
            | "spoons"
            | "spoonful"
            | "spoonfuls"
            | "batch"
            | "batches"
            | "truss"
            | "trusses"
            | "hand"
            | "hands"
            | "crown"
            | "crowns"
            | "side"
            | "sides"
            | "rack"
            | "racks"
            | "twist"
            | "twists"
            | "segment"
            | "segments"
            | "fillet"
            | "fillets"
            | "keg"
            | "kegs"
            | "carrier"
            | "wheelbarrow"
            | "bin"
            | "bins"
            | "bowlful"
            | "panful"
            | "potful"
            | "smidge"
            | "smidgen"
            | "dab"
            | "pound-bag"
            | "puck"
            | "pucks"
            | "ball"
            | "balls"
            | "square"
            | "squares"
            | "strip"
            | "strips"
            | "slab"
            | "slabs"
            | "shake"
            | "shakes"
            | "grind"
            | "grinds"
            | "glug"
            | "glugs"
            | "nest"
            | "nests"
            | "nub"
            | "nubs"
            | "brace"
    )
}
