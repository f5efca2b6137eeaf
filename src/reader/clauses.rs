//! Where one statement ends and the next begins.
//!
//! A message is cut into sentences at end marks, and sentences into clauses wherever a joint
//! (comma, "and", "but", a line break) is followed by something that opens a clause of its own.

use std::ops::Range;

use super::Analysis;
use super::tokens::Kind;
use super::verbs;

/// A sentence and whether it is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Sentence {
    pub tokens: Range<usize>,
    pub asked: bool,
}

/// Cuts the message into sentences; end marks belong to none.
pub fn sentences(a: &Analysis<'_>) -> Vec<Sentence> {
    let (mut out, mut start, mut depth) = (Vec::new(), 0, 0_usize);
    for i in 0..a.text.len() {
        match a.text.word(i) {
            "(" => depth += 1,
            ")" => depth = depth.saturating_sub(1),
            "\n" => depth = 0,
            _ => {}
        }
        // A parenthesis that never closes does not swallow the message.
        let inside = depth > 0 && (i..(i + 60).min(a.text.len())).any(|k| a.text.word(k) == ")");
        let ends = match a.text.word(i) {
            "!" | "?" | ";" | "…" => true,
            "." => !inside && is_full_stop(a, i),
            _ => false,
        };
        if ends {
            let asked = a.text.word(i) == "?";
            if i > start {
                out.push(Sentence { tokens: start..i, asked });
            } else if asked && let Some(last) = out.last_mut() {
                last.asked = true;
            }
            start = i + 1;
            depth = 0;
        }
    }
    if a.text.len() > start {
        out.push(Sentence { tokens: start..a.text.len(), asked: false });
    }
    out
}

fn is_full_stop(a: &Analysis<'_>, i: usize) -> bool {
    let abbreviation = i > 0
        && (a.tag(i - 1).unit.is_some() && a.text.word(i - 1).len() <= 4
            || matches!(
                a.text.word(i - 1),
                "approx"
                    | "e"
                    | "g"
                    | "i"
                    | "vs"
                    | "no"
                    | "dr"
                    | "mr"
                    | "mrs"
                    | "lg"
                    | "sm"
                    | "med"
                    | "use"
                    | "exp"
                    | "fl"
            ))
        && a.text.is_glued(i);
    let next_is_lower = a.text.slice(i + 1..i + 2).starts_with(|c: char| c.is_lowercase());
    let inside_word = a.text.is_glued(i)
        && a.text.is_glued(i + 1)
        && a.text.is_word(i + 1)
        && i > 0
        && a.text.is_word(i - 1);
    !(inside_word || abbreviation && next_is_lower)
}

/// Cuts a sentence into clauses. Every clause but the first opens with its own verb or subject.
pub fn clauses(a: &Analysis<'_>, sentence: Range<usize>) -> Vec<Range<usize>> {
    let (mut out, mut start) = (Vec::new(), sentence.start);
    let (mut i, mut depth) = (sentence.start, 0_usize);
    while i < sentence.end {
        match a.text.word(i) {
            "(" => depth += 1,
            ")" => depth = depth.saturating_sub(1),
            "\n" => depth = 0,
            _ => {}
        }
        if depth == 0 && is_joint(a, i) {
            let mut next = i + 1;
            while next < sentence.end && is_joint(a, next) {
                next += 1;
            }
            if verbs::opens_clause(a, next, sentence.end) && next > start {
                if i > start {
                    out.push(start..i);
                }
                start = next;
            }
            i = next;
        } else {
            i += 1;
        }
    }
    if sentence.end > start {
        out.push(start..sentence.end);
    }
    out
}

/// A mark or word that may join two clauses; never inside a food's name.
pub fn is_joint(a: &Analysis<'_>, i: usize) -> bool {
    match a.text.kind(i) {
        Some(Kind::Newline | Kind::Emoji) => true,
        Some(Kind::Mark) => {
            matches!(a.text.word(i), "," | "-" | "&" | "+" | ":" | "/" | "•" | "*" | "·")
                && !a.text.is_glued(i + 1)
        }
        Some(Kind::Word) => {
            matches!(
                a.text.word(i),
                "and" | "but" | "then" | "so" | "plus" | "also" | "while" | "comma"
            ) && a.food_at(i).is_none()
        }
        _ => false,
    }
}
