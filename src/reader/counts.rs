//! Counts of a whole place: under a header ("that's everything in the fridge: ...", "freezer: 2 bags
//! of peas"), by what is left ("all gone but the milk"), and closed afterwards ("nothing else left").

use std::ops::Range;

use super::Analysis;
use super::actions::{Memory, accept, accept_sure};
use super::details::{Details, Way};
use super::items;
use super::patterns;
use super::verbs;
use crate::statement::{Item, Scope, Statement};
use crate::words::{Intent, Place};

/// The count a sentence is, if it has a header, says what is left of all, or closes a count.
pub fn read(a: &Analysis<'_>, sentence: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    bagged(a, sentence.clone())
        .or_else(|| headed(a, sentence.clone()))
        .or_else(|| arrived(a, sentence.clone()))
        .or_else(|| closed(a, sentence.clone()))
        .or_else(|| all_gone_but(a, sentence.clone()))
        .or_else(|| nothing_else(a, sentence, memory))
}

/// Words that stand for all the food there is.
const ALL: &[&str] =
    &["all", "everything", "everything's", "nothing", "it's", "food", "rest", "lot"];
/// Words that leave something out of it.
const BUT: &[&str] = &["but", "except", "bar", "besides", "save", "excluding", "minus"];

/// "all gone but milk and eggs", "nothing left except the rice", "fridge is empty apart from milk".
fn all_gone_but(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let w = |i: usize| if i < sentence.end { a.text.word(i) } else { "" };
    let but = sentence.clone().take(14).find(|&i| {
        BUT.contains(&w(i))
            || matches!((w(i), w(i + 1)), ("apart" | "aside", "from") | ("other", "than"))
    })?;
    let from = but + if BUT.contains(&w(but)) { 1 } else { 2 };
    let head = sentence.start..but;
    if a.foods_in(head.clone()).any(|food| !a.lexicon.entry(food.entry).homonym) {
        return None;
    }
    let any = |words: &[&str], range: Range<usize>| range.clone().any(|i| words.contains(&w(i)));
    let place = patterns::header_place(a, head.clone());
    let none = any(&["nothing", "nothing's"], head.clone());
    let gone = any(&["gone", "finished", "eaten"], head.clone()) && any(ALL, head.clone())
        || none && (place.is_some() || any(&["left", "there", "have", "here"], sentence.clone()))
        || any(&["empty"], head) && place.is_some();
    let details = Details::read(a, from..sentence.end);
    let list = accept_sure(a, items::read(a, from..sentence.end, &details)).filter(|_| gone)?;
    let place = place.or_else(|| details.place(Way::To).cloned());
    Some(count(list, place.map(Scope::Place), true))
}

/// "nothing else left", "that's it for the freezer" after a count: what was counted is all.
fn nothing_else(
    a: &Analysis<'_>,
    sentence: Range<usize>,
    memory: &mut Memory,
) -> Option<Statement> {
    let at = closing(a, sentence.clone())?;
    let before = (sentence.start..at).all(|i| !a.text.is_word(i) || a.tag(i).is_filler());
    let counted = memory.intent == Some(Intent::Counted) && !memory.items.is_empty();
    if !before || !counted || sentence.len() > 12 || a.foods_in(at..sentence.end).next().is_some() {
        return None;
    }
    let details = Details::read(a, at..sentence.end);
    let mut items = memory.items.clone();
    if let Some(last) = memory.talk {
        memory.referred = memory.referred.or(memory.talk);
        // A count told in several messages is one count.
        let earlier = a.context.talk[..last].iter().rev();
        for mention in earlier.take_while(|m| m.intent == Some(Intent::Counted)) {
            items.splice(0..0, mention.items.iter().cloned());
        }
    }
    let place = details.place(Way::To).cloned().or_else(|| one_place(&items));
    let mut statement = Statement::new(Intent::Counted);
    statement.confidence = 0.9;
    statement.complete = true;
    statement.scope = Some(place.map_or(Scope::All, Scope::Place));
    statement.items = items;
    Some(statement)
}

/// The place all items stand in.
pub fn one_place(items: &[Item]) -> Option<Place> {
    let first = items.first()?.place.clone()?;
    items.iter().all(|item| item.place.as_ref() == Some(&first)).then_some(first)
}

/// Where words begin that close a count: "nothing else", "that's everything", "that's all we have".
fn closing(a: &Analysis<'_>, range: Range<usize>) -> Option<usize> {
    range.clone().find(|&i| match a.text.word(i) {
        "nothing" | "nothing's" => matches!(a.text.word(i + 1), "else" | "more"),
        "no" => matches!(a.text.word(i + 1), "more") && i + 2 >= range.end,
        word @ ("that's" | "thats" | "that") => {
            let next = i + usize::from(word == "that") + 1;
            matches!(a.text.word(next), "everything" | "all" | "it" | "the")
        }
        _ => false,
    })
}

fn headed(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let colon = sentence
        .clone()
        .take(14)
        .find(|&i| is_header_mark(a, i) || a.text.word(i) == "is" && i > sentence.start + 2)?;
    let header = sentence.start..colon;
    if a.foods_in(header.clone()).any(|f| !a.lexicon.entry(f.entry).homonym) {
        return None;
    }
    let any = |words: &[&str]| header.clone().any(|i| words.contains(&a.text.word(i)));
    let place = patterns::header_place(a, header.clone());
    let everything = any(&["everything", "all", "that's", "only", "whole", "full", "complete"]);
    let stock = any(&[
        "have",
        "left",
        "inventory",
        "count",
        "stock",
        "counted",
        "contents",
        "home",
        "house",
        "now",
        "stocktake",
        "got",
        "in",
        "everything",
    ]);
    let other = any(&[
        "need", "buy", "list", "bought", "put", "moved", "want", "threw", "shop", "market",
        "froze", "tossed", "took", "into", "onto", "from", "used", "clean", "cleaned",
    ]);
    let bare = place.is_some() && header.len() <= 4;
    if other || !(place.is_some() && (stock || bare || everything) || everything && stock) {
        return None;
    }
    let body = colon + 1..sentence.end;
    let details = Details::read(a, body.clone());
    let list = accept(a, items::read(a, body, &details))?;
    Some(count(
        list,
        place.map(Scope::Place),
        everything && any(&["everything", "all", "whole", "full", "complete"]),
    ))
}

/// "stock bag: carrot peels, onion ends": what went into the trimmings bag.
fn bagged(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let colon = sentence.clone().take(6).find(|&i| is_header_mark(a, i))?;
    let header = sentence.start..colon;
    let any = |words: &[&str]| header.clone().any(|i| words.contains(&a.text.word(i)));
    let bag = any(&["stock", "trimmings", "trimming", "scrap", "scraps", "broth"])
        && any(&["bag", "box"]);
    if !bag || any(&["what", "no", "not", "empty", "full", "from", "for"]) {
        return None;
    }
    let details = Details::read(a, colon + 1..sentence.end);
    let list = accept(a, items::read(a, colon + 1..sentence.end, &details))?;
    let mut statement = Statement::new(Intent::ScrapsSaved);
    statement.confidence = 0.9;
    statement.items = list.items();
    Some(statement)
}

/// "veg box came: ...", "from the market: ...": a purchase under a header.
fn arrived(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let colon = sentence.clone().take(14).find(|&i| is_header_mark(a, i))?;
    let header = sentence.start..colon;
    let any = |words: &[&str]| header.clone().any(|i| words.contains(&a.text.word(i)));
    let came = any(&[
        "box",
        "delivery",
        "order",
        "haul",
        "groceries",
        "shopping",
        "shop",
        "market",
        "harvest",
        "receipt",
        "supermarket",
        "purchases",
        "farmers",
        "store",
        "garden",
        "delivered",
    ]);
    let other = any(&[
        "need",
        "buy",
        "list",
        "want",
        "wanted",
        "get",
        "tomorrow",
        "next",
        "for",
        "missing",
        "cancelled",
        "should",
        "must",
        "to",
        "planned",
        "going",
        "threw",
        "used",
        "forgot",
        "didn't",
        "no",
        "not",
        "out",
    ]);
    if header.is_empty()
        || !came
        || other
        || a.foods_in(header.clone())
            .any(|f| !a.lexicon.entry(f.entry).homonym && a.text.word(f.tokens.start) != "veg")
    {
        return None;
    }
    let details = Details::read(a, sentence.clone());
    let list = accept(a, items::read(a, colon + 1..sentence.end, &details))?;
    let mut statement = Statement::new(Intent::Acquired);
    statement.confidence = 0.95;
    statement.day = details.day();
    statement.total = list.total.map(|price| price.minor);
    statement.items = list.items();
    Some(statement)
}

/// "3 leeks, half a squash and that's everything in the fridge".
fn closed(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let at = closing(a, sentence.clone())?;
    let tail = at..sentence.end;
    let says = |range: Range<usize>, words: &[&str]| {
        range.clone().any(|i| words.contains(&a.text.word(i)))
    };
    let tail_details = Details::read(a, tail.clone());
    let head = sentence.start..at;
    let details = Details::read(a, head.clone());
    let place =
        tail_details.place(Way::To).cloned().or_else(|| patterns::header_place(a, head.clone()));
    // "we have 3 leeks, nothing else": a count without its place is one of the house.
    let house = says(tail.clone(), &["have", "left", "house"])
        || says(head.clone(), &["have", "left", "there's", "only"])
            && !says(head.clone(), &["need", "want", "got", "bought", "used", "ate"]);
    if at <= sentence.start
        || !(place.is_some() || house)
        || a.foods_in(tail.clone()).next().is_some()
    {
        return None;
    }
    let body = verbs::head(a, head.start, head.end)
        .filter(|verb| matches!(verb.act, verbs::Act::Have | verbs::Act::Counted))
        .map_or(head.start, |verb| verb.args);
    let list = accept(a, items::read(a, body..at, &details))?;
    Some(count(list, place.map(Scope::Place).or(Some(Scope::All)), true))
}

/// A colon, a line break, or a dash with space on both sides.
fn is_header_mark(a: &Analysis<'_>, i: usize) -> bool {
    let dash = a.text.word(i) == "-" && !a.text.is_glued(i) && !a.text.is_glued(i + 1);
    let range = i > 0 && a.text.number(i - 1).is_some() && a.text.number(i + 1).is_some();
    matches!(a.text.word(i), ":" | "\n") || dash && !range
}

fn count(list: items::List, scope: Option<Scope>, complete: bool) -> Statement {
    let mut statement = Statement::new(Intent::Counted);
    statement.confidence = 0.95;
    statement.complete = complete;
    statement.scope = match (&scope, complete) {
        (None, true) => Some(Scope::All),
        _ => scope,
    };
    statement.items = list.items();
    if let Some(Scope::Place(place)) = &statement.scope {
        for item in statement.items.iter_mut().filter(|item| item.place.is_none()) {
            item.place = Some(place.clone());
        }
    }
    statement
}
