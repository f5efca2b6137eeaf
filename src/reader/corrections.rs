//! Mending what was said before: "no, 3 fennel", "make that 4", "that was yesterday",
//! "those weren't parsnips, they were turnips".

use std::ops::Range;

use super::Analysis;
use super::actions::{Memory, accept, accept_sure};
use super::amounts;
use super::details::Details;
use super::items;
use crate::statement::{Item, Statement};
use crate::words::{Intent, Role};

/// The correction a sentence is, if it is one.
pub fn read(a: &Analysis<'_>, sentence: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    mistaken(a, sentence.clone())
        .or_else(|| denied(a, sentence.clone(), memory))
        .or_else(|| opened(a, sentence.clone(), memory))
        .or_else(|| day(a, sentence, memory))
}

/// "no, ...", "sorry, ...", "i meant ...", "make that ...", then an amount or a food.
fn opened(a: &Analysis<'_>, sentence: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    let w = |i: usize| if i < sentence.end { a.text.word(i) } else { "" };
    let mut i = sentence.start;
    let mut opened = false;
    while i < sentence.end {
        let step = match (w(i), w(i + 1), w(i + 2)) {
            ("no" | "nope" | "nah", ",", _) => 2,
            ("no" | "nope", _, _) if a.text.number(i + 1).is_some() && i == sentence.start => 1,
            ("sorry" | "oops" | "correction" | "whoops" | "typo" | "wait", _, _) => 1,
            ("i", "meant" | "mean", _) => 2,
            ("meant", _, _) => 1,
            ("make", "that" | "it", _) => 2,
            ("should", "be", _) | ("should", "say", _) => 2,
            ("it", "was" | "were", _)
            | ("that", "was", _)
            | ("they", "were", _)
            | ("was", "actually", _)
                if opened =>
            {
                2
            }
            ("it's" | "its" | "that's", _, _) if opened => 1,
            ("actually", "it", "was") => 3,
            ("," | ":" | "-" | "." | "*", _, _) if opened || w(i) == "*" && i == sentence.start => {
                1
            }
            ("actually" | "only" | "just" | "rather" | "in" | "fact", _, _) if opened => 1,
            _ => break,
        };
        opened |= !matches!(w(i), "," | ":" | "-" | "." | "*");
        i += step;
    }
    if !opened || i >= sentence.end || w(i) == "," {
        return None;
    }
    let end = (i..sentence.end).find(|&k| w(k) == "not" && k > i).unwrap_or(sentence.end);
    let details = Details::read(a, i..end);
    let list = items::read(a, i..end, &details);
    let mut statement = Statement::new(Intent::Correct);
    statement.day = details.day();
    let short = list.found.iter().all(|f| f.amount || f.known);
    if let Some(list) = accept(a, list) {
        let amount = list.found.iter().any(|f| f.amount);
        if !short
            || !amount && !matches!(w(sentence.start), "i" | "correction" | "no" | "meant" | "make")
        {
            return None;
        }
        // "no, we had eggs" is talk: a correction names its food at once.
        let first = list.found.first()?;
        if first.tokens.start != i || list.stray_words(a) > 0 {
            return None;
        }
        statement.items = list.items();
        return Some(statement);
    }
    // "no, 3": the amount alone needs something named before.
    let amount = amounts::read(a, i, end).filter(|m| m.counted)?;
    let alone = (amount.end..end).all(|k| !a.text.is_word(k) || a.tag(k).is_filler());
    if !alone || memory.items.is_empty() {
        return None;
    }
    memory.referred = memory.referred.or(memory.talk);
    let last = memory.items.last()?;
    statement.items.push(Item {
        food: last.food.clone(),
        name: last.name.clone(),
        quantity: amount.quantity,
        quantity_high: amount.high,
        unit: amount.unit.or(last.unit),
        size: amount.size,
        ..Item::default()
    });
    Some(statement)
}

/// "that was yesterday", "it was on sunday": a new day for what was said before.
fn day(a: &Analysis<'_>, sentence: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    if sentence.len() > 10 || memory.intent.is_none() && memory.items.is_empty() {
        return None;
    }
    let details = Details::read(a, sentence.clone());
    let day = details.day()?;
    let start = sentence.clone().find(|&i| !a.tag(i).is_filler() && a.text.is_word(i))?;
    let opens = matches!(
        (a.text.word(start), a.text.word(start + 1)),
        ("that" | "it" | "this" | "those" | "they" | "these" | "all", "was" | "were" | "of")
    );
    if !opens || a.foods_in(sentence).next().is_some() {
        return None;
    }
    memory.referred = memory.referred.or(memory.talk);
    let mut statement = Statement::new(Intent::Correct);
    statement.day = Some(day);
    Some(statement)
}

/// Deeds by the word said of food, as one was done or as one does it.
fn deed(a: &Analysis<'_>, i: usize, end: usize) -> Option<(Intent, usize)> {
    let w = |i: usize| if i < end { a.text.word(i) } else { "" };
    let out = usize::from(matches!(w(i + 1), "out" | "away" | "off" | "up"));
    Some(match w(i) {
        "thrown" | "threw" | "throw" if out > 0 => (Intent::Discarded, 2),
        "tossed" | "toss" | "binned" | "bin" | "chucked" | "chuck" | "composted" | "compost"
        | "discarded" | "discard" | "dumped" | "dump" => (Intent::Discarded, 1 + out),
        "frozen" | "froze" | "freeze" => (Intent::Preserved, 1),
        "given" | "gave" | "give" if out > 0 => (Intent::Given, 2),
        "opened" | "open" => (Intent::Opened, 1),
        "used" | "use" => (Intent::Used, 1 + out),
        "eaten" | "ate" | "eat" | "finished" | "finish" => (Intent::Used, 1 + out),
        _ => return None,
    })
}

/// "the dill was never thrown out", "we didn't toss the dill", "never froze the peas": what was
/// recorded was not done.
fn denied(a: &Analysis<'_>, sentence: Range<usize>, memory: &mut Memory) -> Option<Statement> {
    let w = |i: usize| if sentence.contains(&i) { a.text.word(i) } else { "" };
    let not = sentence.clone().take(10).find(|&i| {
        matches!(
            w(i),
            "never"
                | "not"
                | "didn't"
                | "didnt"
                | "wasn't"
                | "wasnt"
                | "weren't"
                | "werent"
                | "hasn't"
                | "haven't"
                | "nobody"
                | "noone"
        )
    })?;
    let mut at = not + 1;
    while matches!(w(at), "actually" | "really" | "been" | "get" | "got" | "in" | "fact" | "even") {
        at += 1;
    }
    let (intent, length) = deed(a, at, sentence.end)?;
    let after = at + length..sentence.end;
    let details = Details::read(a, sentence.clone());
    let named = |range: Range<usize>| {
        let list = accept_sure(a, items::read(a, range, &details))?;
        let plain = list.stray_words(a) == 0 && list.found.iter().all(|f| f.known && f.definite);
        plain.then_some(list)
    };
    let (who, passive) = (
        sentence.start..not,
        matches!(w(not), "wasn't" | "wasnt" | "weren't" | "werent" | "hasn't" | "haven't"),
    );
    let be = (who.start..not)
        .rev()
        .take(2)
        .find(|&i| matches!(w(i), "was" | "were" | "is" | "has" | "have" | "been" | "got"));
    let list = match be.or(passive.then_some(not)) {
        Some(be) if a.foods_in(who.start..be).next().is_some() => named(who.start..be)?,
        Some(be)
            if be == who.start + 1 && matches!(w(who.start), "it" | "they" | "that" | "those") =>
        {
            memory.referent(who.start)?
        }
        Some(_) => return None,
        None if a.tag(after.start).is_pronoun() && after.len() == 1 => {
            memory.referent(after.start)?
        }
        None => named(after)?,
    };
    // "i didn't eat the cake" is talk as often as news.
    let ours = intent != Intent::Used || a.context.addressed || !memory.items.is_empty();
    if !ours || sentence.len() > 14 {
        return None;
    }
    let mut statement = Statement::new(Intent::Correct);
    statement.confidence = 0.85;
    statement.day = details.day();
    statement.denied = Some(intent);
    statement.items = list.items();
    Some(statement)
}

/// "those weren't parsnips on friday, they were turnips": what it is, then what it was taken for.
fn mistaken(a: &Analysis<'_>, sentence: Range<usize>) -> Option<Statement> {
    let w = |i: usize| if i < sentence.end { a.text.word(i) } else { "" };
    let denied = sentence.clone().find(|&i| {
        matches!(w(i), "weren't" | "wasn't" | "aren't" | "isn't" | "werent" | "wasnt")
            || matches!(w(i), "were" | "was" | "are" | "is" | "it's" | "they're")
                && w(i + 1) == "not"
    })?;
    let opens = (sentence.start..denied)
        .any(|i| matches!(w(i), "those" | "these" | "that" | "it" | "they" | "this"))
        || matches!(w(denied), "it's" | "they're");
    let after = if w(denied + 1) == "not" { denied + 2 } else { denied + 1 };
    let turned = (after..sentence.end).find(|&i| {
        matches!(
            (w(i), w(i + 1)),
            ("they" | "it" | "those" | "that", "were" | "was" | "are" | "is")
        ) || matches!(w(i), "but" | "it's" | "they're")
    })?;
    let right_at =
        if matches!(w(turned), "but" | "it's" | "they're") { turned + 1 } else { turned + 2 };
    if !opens {
        return None;
    }
    let details = Details::read(a, sentence.clone());
    let named = |range: Range<usize>| {
        let mut list = items::read(a, range, &details);
        list.found.retain(|f| f.known);
        (!list.found.is_empty()).then_some(list)
    };
    let wrong = named(after..turned)?;
    let right = named(right_at..sentence.end)?;
    let mut statement = Statement::new(Intent::Correct);
    statement.day = details.day();
    statement.items = right.items();
    statement.items.extend(wrong.items().into_iter().map(|mut item| {
        item.role = Some(Role::From);
        item
    }));
    Some(statement)
}
