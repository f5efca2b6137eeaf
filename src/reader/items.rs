//! Lists of foods: "3 lb carrots, 2 fennel and a bunch of mint".
//!
//! Finds where each item begins, reads its amount, its name and what trails it. A name is the
//! food's own words: sizes, preparations and packaging fall away, words that make another product
//! stay. Details (days, places, prices) are already out of the way.

mod name;

use std::ops::Range;

use super::Analysis;
use super::amounts::{self, Amount};
use super::details::{Detail, Details, Way};
use super::tokens::Kind;
use crate::statement::{Item, Price};
use crate::units::{Dimension, Quantity};
use crate::words::Place;
pub use name::part;
use name::{Name, heads_food, name_food, said_form, spell};

/// One item read, with how it was said.
#[derive(Clone, Debug)]
pub struct Found {
    pub item: Item,
    /// The name holds a food the lexicon knows.
    pub known: bool,
    /// A known food stands somewhere in the name ("apple foobar").
    pub holds_food: bool,
    /// Known only as a word that means other things too.
    pub homonym: bool,
    /// An amount with a number or a measuring unit was said.
    pub amount: bool,
    pub vague: bool,
    /// "the", "my": something already in the house.
    pub definite: bool,
    /// "a", "an" and nothing more.
    pub article: bool,
    pub tokens: Range<usize>,
    /// What trails the name up to the next item ("slimy").
    pub trailing: Range<usize>,
}

impl Found {
    /// A food named before, which `tokens` stand for: its name, part and form, no amount.
    pub fn meant(item: &Item, tokens: Range<usize>, trailing: Range<usize>) -> Found {
        let item = Item {
            food: item.food.clone(),
            name: item.name.clone(),
            part: item.part.clone(),
            form: item.form,
            ..Item::default()
        };
        Found {
            item,
            article: false,
            known: true,
            holds_food: true,
            homonym: false,
            amount: false,
            vague: false,
            definite: true,
            tokens,
            trailing,
        }
    }
}

/// A list of items and the price of the whole.
#[derive(Clone, Debug, Default)]
pub struct List {
    pub found: Vec<Found>,
    /// A price said after the last item for all of them.
    pub total: Option<Price>,
    /// Tokens that belong to no item.
    pub stray: Vec<Range<usize>>,
}

impl List {
    pub fn items(self) -> Vec<Item> {
        self.found
            .into_iter()
            .map(|f| Item { definite: f.definite && !f.vague, ..f.item })
            .collect()
    }

    /// How many stray words belong to no item.
    pub fn stray_words(&self, a: &Analysis<'_>) -> usize {
        self.stray.iter().flat_map(Clone::clone).filter(|&i| a.text.is_word(i)).count()
    }

    pub fn any_known(&self) -> bool {
        self.found.iter().any(|f| f.known)
    }
}

/// Reads the items in `range`.
pub fn read(a: &Analysis<'_>, range: Range<usize>, details: &Details) -> List {
    let mut list = List::default();
    let mut paid: Option<Price> = None;
    let mut placed: Option<Place> = None;
    let mut i = range.start;
    while i < range.end {
        if let Some((span, detail)) = details.at(i) {
            // "€4.50 of plums", "5 dollars worth of leeks"
            if let Detail::Price { price, whole: false } = detail {
                let of = span.end + usize::from(matches!(a.text.word(span.end), "worth" | "'s"));
                if a.text.word(of) == "of" && of < range.end {
                    paid = Some(*price);
                    i = of + 1;
                    continue;
                }
            }
            // "in the freezer 2 bags of peas": the place comes first.
            let opens = i == range.start || is_separator(a, i - 1) || is_joint(a.text.word(i - 1));
            let begins = |at: usize| {
                !is_separator(a, at)
                    && !is_joint(a.text.word(at))
                    && starts_item(a, at, range.end, details)
            };
            match detail {
                Detail::Place(place, Way::To) if opens && begins(span.end) => {
                    placed = Some(place.clone());
                }
                _ => attach(a, &mut list, detail, span, range.end),
            }
            i = span.end.max(i + 1);
            continue;
        }
        if is_separator(a, i)
            || (a.tag(i).is_filler() && a.food_at(i).is_none())
            || is_joint(a.text.word(i))
            || matches!(a.text.word(i), "total" | "altogether")
            || a.text.word(i) == "with"
                && !list.found.is_empty()
                && starts_item(a, i + 1, range.end, details)
        {
            i += 1;
            continue;
        }
        match read_one(a, i, range.end, details) {
            Some(mut found) => {
                i = found.trailing.end.max(found.tokens.end).max(i + 1);
                found.item.price = paid.take();
                found.item.place.clone_from(&placed);
                list.found.push(found);
            }
            // What begins no item: a side remark runs to the next break, a stray word is one word.
            None if nameless_amount(a, &mut list, &mut i, range.end, details) => {}
            None => {
                let remark = a.tag(i).is_stop();
                let next = if remark { skip_to_break(a, i, range.end, details) } else { i + 1 };
                list.stray.push(i..next);
                i = next;
            }
        }
    }
    settle_prices(&mut list);
    list
}

/// An amount with a unit or a place, and no name behind it.
fn nameless(a: &Analysis<'_>, i: usize, end: usize, details: &Details) -> Option<Amount> {
    let amount = amounts::read(a, i, end).filter(|m| m.counted)?;
    let next = amount.end;
    let placed = matches!(details.at(next), Some((_, Detail::Place(_, Way::To))));
    if amount.unit.is_none() && !(placed && amount.quantity.is_some()) {
        return None;
    }
    let closed = next >= end
        || !a.text.is_word(next)
        || details.at(next).is_some()
        || is_joint(a.text.word(next));
    (closed && unit_as_name(a, &amount, end).is_none()).then_some(amount)
}

/// "rice, 5 kg": an amount without a name belongs to the item before that has none. "3 leeks in the
/// fridge, 2 on the counter" are more of them; "3 leeks, 2 on the counter" are 2 of them.
fn nameless_amount(
    a: &Analysis<'_>,
    list: &mut List,
    i: &mut usize,
    end: usize,
    details: &Details,
) -> bool {
    let Some(amount) = nameless(a, *i, end, details) else { return false };
    let placed = matches!(details.at(amount.end), Some((_, Detail::Place(_, Way::To))));
    let Some(last) = list.found.last_mut() else { return false };
    if last.amount {
        // "The rest of the plums, 1.8 kg": how much that is, which is no food called kg.
        if !placed && last.item.fraction.is_some() {
            *i = amount.end;
            return true;
        }
        if !placed || last.item.unit != amount.unit || last.item.quantity.is_none() {
            return false;
        }
        let mut more = Found::meant(&last.item, *i..amount.end, amount.end..amount.end);
        more.item.quantity = amount.quantity;
        more.item.quantity_high = amount.high;
        more.item.unit = amount.unit;
        more.amount = true;
        if last.item.place.is_none() {
            let rest = last.item.quantity.zip(amount.quantity);
            let rest = rest.and_then(|(all, some)| all.checked_sub(some));
            let Some(rest) = rest.filter(|rest| rest.is_positive()) else { return false };
            last.item.quantity = Some(rest);
        }
        // The place behind it is its own, not that of the whole list.
        if let Some((span, Detail::Place(place, _))) = details.at(amount.end) {
            more.item.place = Some(place.clone());
            *i = span.end;
        }
        list.found.push(more);
        return true;
    }
    last.item.quantity = amount.quantity;
    last.item.quantity_high = amount.high;
    last.item.unit = amount.unit;
    last.item.size = amount.size;
    last.amount = true;
    *i = amount.end;
    true
}

fn attach(a: &Analysis<'_>, list: &mut List, detail: &Detail, span: &Range<usize>, end: usize) {
    match detail {
        Detail::Price { price, whole } => {
            // "total 4.20", "all together 4.20" is for everything.
            let all = *whole
                || span.start > 0
                    && matches!(
                        a.text.word(span.start - 1),
                        "total" | "altogether" | "together" | "sum" | "totalling" | "="
                    )
                || span.start > 1
                    && a.text.word(span.start - 1) == ":"
                    && a.text.word(span.start - 2) == "total";
            if all {
                list.total = Some(*price);
                return;
            }
            let last = (span.end..end).all(|k| !a.text.is_word(k) || a.tag(k).is_filler());
            if let Some(found) = list.found.last_mut()
                && found.item.price.is_none()
            {
                found.item.price = Some(*price);
            } else if last {
                list.total = Some(*price);
            }
        }
        Detail::Place(place, Way::To) => {
            // A place after several items holds for all that have none.
            for found in list.found.iter_mut().rev() {
                if found.item.place.is_some() {
                    break;
                }
                found.item.place = Some(place.clone());
            }
        }
        Detail::Printed(label, day) => {
            if let Some(found) = list.found.last_mut() {
                found.item.printed = Some((*label, *day));
            }
        }
        Detail::Place(..) | Detail::Day(_) | Detail::Goal(_) | Detail::Lasting => {}
    }
}

/// One price at the end of a list of several unpriced items is the price of all.
fn settle_prices(list: &mut List) {
    let priced = list.found.iter().filter(|f| f.item.price.is_some()).count();
    if list.found.len() > 1
        && priced == 1
        && let Some(last) = list.found.last_mut()
        && let Some(price) = last.item.price
        && price.per.is_none()
        && price.quantity.is_none()
    {
        last.item.price = None;
        list.total = Some(price);
    }
}

/// Reads the item that begins at `start`.
pub fn read_one(a: &Analysis<'_>, start: usize, end: usize, details: &Details) -> Option<Found> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let mut i = start;
    // "juice of 1/2 lemon"
    if matches!(w(i), "juice" | "zest" | "rind" | "peel" | "seeds" | "leaves" | "kernels" | "pulp")
        && matches!(w(i + 1), "of" | "from")
        && amounts::read(a, i + 2, end).is_some()
    {
        i += 2;
    }
    let mut amount = Amount { end: i, ..Amount::default() };
    let mut definite = false;
    if let Some(read) = amounts::read(a, i, end)
        && !inside_food(a, i)
    {
        i = read.end;
        amount = read;
    } else if a.tag(i).is_determiner() && !inside_food(a, i) {
        definite = true;
        i += 1;
    }
    while a.tag(i).is_determiner() && i < end && !inside_food(a, i) {
        definite = true;
        i += 1;
    }
    // "1/2 teaspoon each salt and pepper"
    if amount.unit.is_some() && w(i) == "each" {
        i += 1 + usize::from(w(i + 1) == "of");
    }
    // "pinch of cayenne", "bag of carrots": a unit said without its number.
    if i == start
        && !inside_food(a, i)
        && a.tag(i).unit.is_some_and(|unit| unit.dimension() == Dimension::Count)
        && w(i + 1) == "of"
        && a.food_at(i + 2).is_some()
    {
        amount.unit = a.tag(i).unit;
        i += 2;
    }
    // "the second jar of honey"
    if definite
        && matches!(
            w(i),
            "second" | "third" | "new" | "last" | "next" | "first" | "big" | "small" | "other"
        )
        && a.tag(i + 1).unit.is_some()
    {
        i += 1;
    }
    let is_part = part(w(i)).is_some() && w(i).ends_with('s');
    if definite && amount.unit.is_none() && w(i + 1) == "of" && a.tag(i).unit.is_some() && !is_part
    {
        amount.unit = a.tag(i).unit;
        i += 2;
        while a.tag(i).is_determiner() && i < end {
            i += 1;
        }
    }
    let mut name = Name::read(a, i, end, details);
    // "8 cloves": the unit is the food when no name follows.
    if name.is_empty()
        && let Some(back) = unit_as_name(a, &amount, end)
    {
        amount.unit = None;
        name = back;
    }
    if name.is_empty() {
        return None;
    }
    let mut next = name.range.end;
    trailing_unit(a, &mut amount, &mut name);
    trailing_amount(a, &mut amount, &mut next, end, details);
    // "2 cool whip (cartons of)"
    if amount.unit.is_none()
        && amount.counted
        && w(next) == "("
        && matches!(w(next + 2), "of" | ")" | ",")
    {
        amount.unit = a.tag(next + 1).unit;
        if amount.unit.is_none() && amounts::is_odd_unit(w(next + 1)) {
            amount.odd_unit = Some(w(next + 1).to_owned());
        }
    }
    // "4 ounces Coco Lopez (cream of coconut)": the parenthesis names the food.
    let unknown = !name.words.iter().any(|&k| a.food_at(k).is_some());
    if unknown
        && w(next) == "("
        && let Some(food) = a.food_at(next + 1).filter(|f| w(f.tokens.end) == ")")
    {
        name = Name { range: food.tokens.clone(), words: food.tokens.clone().collect() };
    }
    let mut found = build(a, &amount, &name);
    found.article = amount.quantity.is_some() && !amount.counted && amount.unit.is_none();
    found.definite = definite || amount.fraction.is_some();
    found.tokens = start..next;
    let trail = trailing_end(a, next, end, details);
    found.trailing = next..trail;
    Some(found)
}

fn inside_food(a: &Analysis<'_>, i: usize) -> bool {
    a.food_at(i).is_some_and(|f| f.tokens.len() > 1 || f.tokens.start < i)
        && a.text.number(i).is_none()
}

fn unit_as_name(a: &Analysis<'_>, amount: &Amount, end: usize) -> Option<Name> {
    amount.unit?;
    let at = amount.end.checked_sub(1)?;
    let food = a.food_at(at).filter(|f| f.tokens.end <= end)?;
    Some(Name { range: food.tokens.clone(), words: food.tokens.clone().collect() })
}

/// "2 garlic cloves": the last word is the unit.
fn trailing_unit(a: &Analysis<'_>, amount: &mut Amount, name: &mut Name) {
    if amount.unit.is_some() || amount.quantity.is_none() || name.words.len() < 2 {
        return;
    }
    let Some(&last) = name.words.last() else { return };
    // "garlic cloves" may be listed as a food of its own; the cloves are still the unit.
    let listed_clove = matches!(
        a.text.word(last),
        "clove"
            | "cloves"
            | "stalk"
            | "stalks"
            | "sprig"
            | "sprigs"
            | "rib"
            | "ribs"
            | "bulb"
            | "bulbs"
            | "head"
            | "heads"
            | "spear"
            | "spears"
    );
    let long_food = a.food_at(last).is_some_and(|f| f.tokens.len() > 1) && !listed_clove;
    let food_before = a.food_at(name.words[name.words.len() - 2]).is_some();
    if food_before
        && !long_food
        && matches!(
            a.text.word(last),
            "strand" | "strands" | "thread" | "threads" | "segment" | "segments"
        )
    {
        amount.odd_unit = Some(a.text.word(last).to_owned());
        name.words.pop();
        return;
    }
    if a.tag(last).is_trailing_unit() && !long_food && food_before {
        amount.unit = a.tag(last).unit;
        name.words.pop();
    }
}

/// An amount behind the name: "milk x2", "leeks: 3", "potatoes 2 kg", "eggs (12)".
fn trailing_amount(
    a: &Analysis<'_>,
    amount: &mut Amount,
    next: &mut usize,
    end: usize,
    details: &Details,
) {
    if amount.quantity.is_some() || amount.fraction.is_some() {
        let w = |i: usize| if i < end { a.text.word(i) } else { "" };
        // "1 kg flour x2"
        if w(*next) == "x"
            && let (Some(times), Some(unit)) = (a.text.number(*next + 1), amount.unit)
            && unit.dimension() != Dimension::Count
        {
            amount.size = amount.quantity.map(|q| Quantity::new(q, Some(unit)));
            amount.quantity = Some(times);
            amount.unit = None;
            *next += 2;
        }
        return;
    }
    let mut i = *next;
    let mut open = false;
    while i < end && matches!(a.text.word(i), ":" | "-" | "(" | "=" | "x" | "*") {
        open |= a.text.word(i) == "(";
        i += 1;
    }
    if i >= end || details.at(i).is_some() {
        return;
    }
    if a.text.number(i).is_none() && (a.tag(i).value.is_none() || i == *next) {
        return;
    }
    let Some(read) = amounts::read(a, i, end).filter(|r| r.counted && r.quantity.is_some()) else {
        return;
    };
    let after = read.end;
    let closed = after >= end
        || !a.text.is_word(after)
        || is_joint(a.text.word(after))
        || details.at(after).is_some()
        || a.tag(after).is_stop();
    if !closed {
        return;
    }
    let unit = amount.unit;
    *amount = read;
    amount.unit = amount.unit.or(unit);
    *next = if open && a.text.word(after) == ")" { after + 1 } else { after };
}

fn build(a: &Analysis<'_>, amount: &Amount, name: &Name) -> Found {
    let mut item = Item {
        quantity: amount.quantity,
        quantity_high: amount.high,
        fraction: amount.fraction,
        unit: amount.unit,
        odd_unit: amount.odd_unit.clone(),
        size: amount.size,
        vague: amount.vague,
        ..Item::default()
    };
    let (mut holds_food, mut homonym) = (false, false);
    for &k in &name.words {
        if let Some(food) = a.food_at(k).filter(|f| f.tokens.start == k) {
            let entry = a.lexicon.entry(food.entry);
            homonym = entry.homonym && (!holds_food || homonym);
            holds_food = true;
        }
    }
    let mut known = holds_food;
    if let Some(&last) = name.words.last() {
        name_food(a, &mut item, name, last);
        known = holds_food && (a.food_at(last).is_some() || heads_food(a.text.word(last)));
    }
    item.name = spell(a, name);
    item.form = item.form.or_else(|| said_form(a, name));
    Found {
        item,
        known,
        holds_food,
        homonym,
        amount: amount.counted || amount.unit.is_some(),
        vague: amount.vague,
        definite: false,
        article: false,
        tokens: name.range.clone(),
        trailing: name.range.end..name.range.end,
    }
}

/// Marks and words that may separate items.
fn is_separator(a: &Analysis<'_>, i: usize) -> bool {
    match a.text.kind(i) {
        Some(Kind::Newline | Kind::Emoji) => true,
        Some(Kind::Mark) => !matches!(a.text.word(i), "(" | ")" | "'" | "%" | "$"),
        _ => false,
    }
}

fn is_joint(word: &str) -> bool {
    matches!(word, "and" | "&" | "+" | "plus" | "then" | "comma" | "also" | "n")
}

/// Where the words after a name stop trailing it: at the next item, detail or break.
fn trailing_end(a: &Analysis<'_>, start: usize, end: usize, details: &Details) -> usize {
    let mut i = start;
    while i < end {
        if details.at(i).is_some() || a.text.kind(i) == Some(Kind::Newline) {
            return i;
        }
        if a.text.word(i) == "("
            && (i..end.min(i + 8)).all(|k| {
                details
                    .at(k)
                    .is_none_or(|(_, d)| !matches!(d, Detail::Price { .. } | Detail::Printed(..)))
            })
            && let Some((_, next)) = amounts::parenthesis(a, i, end)
        {
            i = next;
            continue;
        }
        if i == start && a.text.number(i).is_some() && starts_item(a, i, end, details) {
            return i;
        }
        if a.text.word(i) == "," && nameless(a, i + 1, end, details).is_some() {
            return i;
        }
        let with = a.text.word(i) == "with"
            && amounts::read(a, i + 1, end).is_some_and(|m| m.quantity.is_some());
        if (is_separator(a, i) || is_joint(a.text.word(i)) || with)
            && starts_item(a, i + 1, end, details)
        {
            return i;
        }
        i += 1;
    }
    end
}

fn skip_to_break(a: &Analysis<'_>, start: usize, end: usize, details: &Details) -> usize {
    (start + 1..end)
        .find(|&i| is_separator(a, i) || is_joint(a.text.word(i)) || details.at(i).is_some())
        .unwrap_or(end)
}

/// Whether a new item begins at `start`, after a separator.
pub fn starts_item(a: &Analysis<'_>, start: usize, end: usize, details: &Details) -> bool {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let mut i = start;
    while i < end
        && (is_joint(w(i)) || is_separator(a, i) || a.tag(i).is_filler() && a.food_at(i).is_none())
    {
        if matches!(w(i), "more" | "extra") {
            return false;
        }
        i += 1;
    }
    if i >= end || details.at(i).is_some() {
        return details
            .at(i)
            .is_some_and(|(_, d)| matches!(d, Detail::Price { .. } | Detail::Printed(..)));
    }
    if let Some(amount) =
        amounts::read(a, i, end).filter(|m| m.counted || m.unit.is_some() || m.vague)
        && !inside_food(a, i)
    {
        // "plus 2 tablespoons more", "about 1 inch long" measure the item before.
        let after = w(amount.end);
        let name = Name::read(a, amount.end, end, details);
        let size = amount.unit == Some(crate::units::Unit::Inch);
        return !size
            && !matches!(after, "more" | "for" | "if" | "to" | "total")
            && (!name.is_empty() || unit_as_name(a, &amount, end).is_some());
    }
    while a.tag(i).is_determiner() && i < end {
        i += 1;
    }
    if matches!(w(i), "juice" | "zest")
        && w(i + 1) == "of"
        && amounts::read(a, i + 2, end).is_some()
    {
        return true;
    }
    if a.tag(i).is_stop() || a.tag(i).is_subject() {
        return false;
    }
    food_ahead(a, i, end, details)
}

/// A food within this piece, with nothing but qualities in front; "A, B or C" is one name.
fn food_ahead(a: &Analysis<'_>, start: usize, end: usize, details: &Details) -> bool {
    let mut unknown = 0;
    for i in start..end {
        if details.at(i).is_some() {
            return false;
        }
        if a.food_at(i).is_some_and(|f| f.tokens.start == i) {
            let next = a.food_at(i).map_or(i + 1, |f| f.tokens.end);
            let dangling = a.text.word(next) == "of" && !a.text.is_word(next + 1);
            return !dangling && (a.text.word(next) != "or" || a.food_at(next + 1).is_none());
        }
        let tag = a.tag(i);
        if a.text.kind(i) != Some(Kind::Word)
            || tag.is_stop()
            || is_joint(a.text.word(i))
            || tag.is_filler() && !tag.is_quality()
        {
            return false;
        }
        if !(tag.is_quality() || tag.is_preparation() || tag.is_adverb() || tag.is_size()) {
            unknown += 1;
        }
        if unknown > 2 {
            return false;
        }
    }
    false
}
