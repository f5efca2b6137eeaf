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
    headed(a, sentence.clone()).or_else(|| closed(a, sentence))
}

fn headed(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let colon = sentence.clone().take(14).find(|&i| {
        matches!(a.text.word(i), ":" | "\n")
            || a.text.word(i) == "-" && !a.text.is_glued(i)
            || a.text.word(i) == "is" && i > sentence.start + 2
    })?;
    let header = sentence.start..colon;
    if a.foods_in(header.clone()).next().is_some() {
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
