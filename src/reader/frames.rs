//! Coming home from the shop: the words before a list that make it a purchase.

use super::Analysis;
use super::tokens::Kind;

/// Where food is bought.
pub fn is_shop(word: &str) -> bool {
    matches!(
        word,
        "market"
            | "markets"
            | "shop"
            | "shops"
            | "store"
            | "stores"
            | "supermarket"
            | "greengrocer"
            | "greengrocers"
            | "greengrocer's"
            | "grocer"
            | "grocers"
            | "grocer's"
            | "farm"
            | "stall"
            | "butcher"
            | "butchers"
            | "butcher's"
            | "baker"
            | "baker's"
            | "bakery"
            | "garden"
            | "allotment"
            | "farmers"
            | "plot"
            | "greenhouse"
            | "grocery"
            | "deli"
            | "stand"
            | "orchard"
            | "shopping"
    )
}

/// Where the words at `i` end that say somebody came home with food ("back from the shop!", "home
/// with", "did the big shop"), the marks behind them included; `None` when they say something else.
pub fn came_home(a: &Analysis<'_>, i: usize, end: usize) -> Option<usize> {
    let w = |k: usize| if k < end { a.text.word(k) } else { "" };
    let skip = |mut k: usize, words: &[&str]| {
        while words.contains(&w(k)) {
            k += 1;
        }
        k
    };
    const THE: &[&str] = &["the", "a", "my", "our", "big", "weekly", "local", "farmers", "grocery"];
    let shop = |k: usize| {
        let at = skip(k, THE);
        is_shop(w(at)).then_some(at + 1)
    };
    let with = |k: usize| (w(k) == "with").then_some(k + 1);
    let after = match w(i) {
        "back" | "home" | "in" if w(i + 1) == "from" => shop(i + 2)?,
        "back" | "home" if w(i + 1) == "with" => return with(i + 1),
        "been" | "went" if w(i + 1) == "to" => shop(i + 2)?,
        "been" | "went" if w(i + 1) == "shopping" => i + 2,
        "did" | "done" => shop(i + 1)?,
        "shopping's" | "groceries" if w(i + 1) == "done" => i + 2,
        "shopping" if matches!((w(i + 1), w(i + 2)), ("is", "done" | "in")) => i + 3,
        "unloaded" if !a.text.is_word(i + 1) || a.text.number(i + 1).is_some() => i + 1,
        _ => return None,
    };
    let after = skip(after, &["today", "now", "just"]);
    let marks = |k: &usize| {
        let mark = matches!(w(*k), "," | ":" | "-" | "." | "!" | "and" | "got");
        mark || *k < end && matches!(a.text.kind(*k), Some(Kind::Newline | Kind::Emoji))
    };
    let list = (after..end).find(|k| !marks(k)).unwrap_or(end);
    with(after).or((list > after || after >= end || w(i) == "unloaded").then_some(list))
}
