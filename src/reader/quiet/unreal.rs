//! The future, conditions, wishes, requests, and what other people bought.

use std::ops::Range;
use std::sync::LazyLock;

use crate::reader::Analysis;
use crate::reader::phrases::Phrases;
use crate::words::Intent;

/// Intents that record something as having happened.
pub fn is_event(intent: Intent) -> bool {
    matches!(
        intent,
        Intent::Acquired
            | Intent::NotReceived
            | Intent::Counted
            | Intent::Used
            | Intent::Given
            | Intent::Discarded
            | Intent::Preserved
            | Intent::Thawed
            | Intent::Prepared
            | Intent::Moved
            | Intent::PutAway
            | Intent::Opened
            | Intent::LeftOut
            | Intent::PutInWater
            | Intent::WaterChanged
            | Intent::ScrapsSaved
            | Intent::StockMade
            | Intent::TripTotal
            | Intent::Outage
    )
}

/// Single words that take a clause out of what happened.
static WORDS: LazyLock<Phrases> = LazyLock::new(|| {
    Phrases::new([
        "if",
        "unless",
        "imagine",
        "suppose",
        "supposing",
        "pretend",
        "wish",
        "would",
        "could",
        "should",
        "might",
        "must",
        "will",
        "shall",
        "won't",
        "wouldn't",
        "couldn't",
        "shouldn't",
        "i'll",
        "we'll",
        "you'll",
        "he'll",
        "she'll",
        "they'll",
        "it'll",
        "i'd",
        "we'd",
        "gonna",
        "wanna",
        "gotta",
        "let's",
        "lets",
        "hope",
        "hoping",
        "hopefully",
        "maybe",
        "perhaps",
        "tempted",
        "remind",
        "someday",
        "dreamt",
        "dreamed",
        "dream",
        "nearly",
        "almost",
        "wishing",
        "planning",
        "intend",
        "promise",
        "promised",
        "whenever",
        "ill",
        "apparently",
        "youll",
        "oughta",
        "probably",
        "theoretically",
        "hypothetically",
    ])
});

/// Phrases that do.
static PHRASES: LazyLock<Phrases> = LazyLock::new(|| {
    Phrases::new([
        "what if",
        "going to use",
        "going to eat",
        "going to freeze",
        "going to get",
        "going to buy",
        "going to cook",
        "going to make",
        "going to toss",
        "going to throw",
        "going to put",
        "going to have",
        "going to need",
        "going to give",
        "going to be",
        "about to",
        "plan to",
        "plan on",
        "want to",
        "wants to",
        "wanted to",
        "have to",
        "has to",
        "had to be",
        "need to",
        "needs to",
        "thinking of",
        "thinking about",
        "thought about",
        "supposed to",
        "meant to",
        "forgot to",
        "remember to",
        "don't forget",
        "dont forget",
        "can you",
        "can someone",
        "could you",
        "can u",
        "will you",
        "next time",
        "one day",
        "as soon as",
        "in case",
        "used to eat",
        "used to buy",
        "used to get",
        "used to have",
        "used to make",
        "used to freeze",
        "used to be",
        "offered to",
        "said she",
        "would have",
        "would've",
        "once i",
        "once we",
        "when i get",
        "when we get",
        "when you",
        "when i'm",
        "when we're",
        "it's time to",
        "ought to",
        "fancy some",
        "feel like",
        "rather have",
        "on my way to get",
        "off to get",
        "off to buy",
        "trying to",
        "tried to",
        "the recipe",
        "recipe says",
        "no need to",
        "be great",
    ])
});

/// Why the clause says nothing that happened.
pub fn not_real(a: &Analysis<'_>, clause: &Range<usize>) -> Option<&'static str> {
    if WORDS.find(&a.text, clause.clone()).is_some()
        || PHRASES.find(&a.text, clause.clone()).is_some()
    {
        return Some("future, wish or condition");
    }
    // "if i get milk, i bake": the condition stands in an earlier clause of the sentence.
    let sentence = sentence_start(a, clause.start)..clause.start;
    let opened = a.text.word(sentence.start);
    let hypothetical = matches!(opened, "if" | "imagine" | "suppose" | "unless" | "pretend")
        || a.text.has(sentence.start, &["what", "if"]);
    (hypothetical && !sentence.is_empty()).then_some("a condition")
}

/// A sentence is looked back on for at most this many words.
const LONGEST_SENTENCE: usize = 80;

fn sentence_start(a: &Analysis<'_>, before: usize) -> usize {
    let ends = |i: usize| matches!(a.text.word(i), "." | "!" | "?" | ";" | "\n");
    let far = before.saturating_sub(LONGEST_SENTENCE);
    (far..before).rev().find(|i| ends(*i)).map_or(far, |i| i + 1)
}

/// People and places that are not this household, as the one who did it.
static OTHERS: LazyLock<Phrases> = LazyLock::new(|| {
    Phrases::new([
        "next door",
        "neighbour",
        "neighbours",
        "neighbor",
        "neighbors",
        "friend",
        "friends",
        "colleague",
        "colleagues",
        "coworker",
        "coworkers",
        "boss",
        "landlord",
        "restaurant",
        "cafe",
        "teacher",
        "guests",
        "some guy",
        "that guy",
        "this guy",
        "the guy",
        "a guy",
        "some woman",
        "the woman",
        "a woman",
        "a man",
        "the man",
        "people at",
        "someone at work",
        "my team",
        "the team",
        "the school",
        "the office",
        "everyone at work",
        "mate",
        "buddy",
        "roommate's",
        "the store",
        "the shop",
        "the supermarket",
        "the market",
        "the bakery",
        "classmate",
        "celebrity",
        "president",
        "her sister",
        "his sister",
        "his brother",
        "her brother",
        "people",
        "the baker",
        "the chef",
        "in laws",
        "the couple",
        "customer",
        "customers",
        "patient",
        "client",
    ])
});

/// What makes other people's doing ours all the same.
static FOR_US: LazyLock<Phrases> = LazyLock::new(|| {
    Phrases::new([
        "gave us",
        "gave me",
        "brought us",
        "brought me",
        "for us",
        "dropped off",
        "sent us",
        "left us",
        "got us",
        "handed us",
        "brought over",
        "brought round",
        "delivered",
        "bought us",
    ])
});

/// Why it is another household's doing.
pub fn not_ours(a: &Analysis<'_>, clause: &Range<usize>) -> Option<&'static str> {
    let others = OTHERS.find(&a.text, clause.clone())?;
    let food = a.foods_in(clause.clone()).map(|food| food.tokens.start).min();
    let number = clause.clone().find(|i| a.text.number(*i).is_some());
    let first = food.into_iter().chain(number).min().unwrap_or(clause.end);
    // After the food they are the ones who were given it.
    let doing = others < first && others <= clause.start + 4;
    // "gave my friend 3 melons", "to the neighbours"
    let given = (others.saturating_sub(2)..others).any(|i| {
        i >= clause.start
            && matches!(
                a.text.word(i),
                "to" | "for"
                    | "with"
                    | "from"
                    | "at"
                    | "gave"
                    | "fed"
                    | "give"
                    | "handed"
                    | "took"
                    | "brought"
            )
    });
    let for_us = FOR_US.find(&a.text, clause.clone()).is_some();
    (doing && !given && !for_us).then_some("other people's")
}

/// "bought 3 melons for the neighbours": on the way to another house.
pub fn for_others(a: &Analysis<'_>, clause: &Range<usize>) -> Option<&'static str> {
    let at = clause.clone().find(|&i| a.text.word(i) == "for")?;
    let who = at + 1..clause.end.min(at + 4);
    let other = who.clone().any(|i| {
        matches!(
            a.text.word(i),
            "neighbour"
                | "neighbours"
                | "neighbor"
                | "neighbors"
                | "colleague"
                | "colleagues"
                | "boss"
                | "landlord"
                | "coworker"
                | "coworkers"
                | "teacher"
                | "friend's"
                | "neighbour's"
                | "neighbor's"
        ) || a.text.has(i, &["next", "door"])
    });
    (other && a.foods_in(who).next().is_none()).then_some("for other people")
}
