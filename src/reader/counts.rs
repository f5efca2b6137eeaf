//! Counts under a header: "that's everything in the fridge: ...", "freezer: 2 bags of peas".

use std::ops::Range;

use super::Analysis;
use super::actions::accept;
use super::details::{Details, Way};
use super::items;
use super::patterns;
use crate::statement::{Scope, Statement};
use crate::words::Intent;

/// The count a sentence is, if it has a header or a closing "that's everything".
pub fn read(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    headed(a, sentence.clone())
        .or_else(|| arrived(a, sentence.clone()))
        .or_else(|| closed(a, sentence))
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
    let at = sentence.clone().find(|&i| {
        let word = a.text.word(i);
        matches!(word, "that's" | "thats" | "that") && {
            let next = i + usize::from(word == "that") + 1;
            matches!(a.text.word(next), "everything" | "all" | "it" | "the")
        }
    })?;
    let tail = at..sentence.end;
    let text = |w: &str| tail.clone().any(|i| a.text.word(i) == w);
    let tail_details = Details::read(a, tail.clone());
    let place = tail_details.place(Way::To).cloned();
    let house = text("have") || text("left") || text("house");
    if at <= sentence.start
        || !(place.is_some() || house)
        || a.foods_in(tail.clone()).next().is_some()
    {
        return None;
    }
    let details = Details::read(a, sentence.start..at);
    let list = accept(a, items::read(a, sentence.start..at, &details))?;
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
