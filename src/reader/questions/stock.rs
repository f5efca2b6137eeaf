//! Questions about what is in the house, the plan, the list and the money.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::{Class, Found, Question};
use crate::reader::prices;
use crate::words::Intent;

/// Any of them.
pub fn stock(q: &Question<'_>) -> Option<Found> {
    if !q.foods.iter().any(|food| food.sure)
        && (q.addressed || stands_alone(q))
        && let Some(sentence) = whole_sentence(q)
    {
        let found = topic(q, sentence.intent, sentence.topic);
        return found.map(|found| Found { about: Some(Vec::new()), ..found });
    }
    first(q)
        .or_else(|| log(q))
        .or_else(|| price(q))
        .or_else(|| plan(q))
        .or_else(|| basket(q))
        .or_else(|| need(q))
        .or_else(|| ledger(q))
        .or_else(|| label(q))
        .or_else(|| have(q))
}

/// "label for the stew?", "what do I write on the bag of leeks?"
fn label(q: &Question<'_>) -> Option<Found> {
    let asks = q.says(&["label for", "labels for", "label the", "label on", "write on the"]);
    let short = q.range.len() <= LONGEST_LABEL;
    let dates = q.says(&["best before", "use by", "sell by", "says", "date on", "nutrition"]);
    (asks && short && !dates && q.foods.iter().any(|food| food.sure) && (q.asks || q.addressed))
        .then(|| Found::about(Intent::AskHave, "label"))
        .flatten()
}

/// A question for a label has at most so many words and marks.
const LONGEST_LABEL: usize = 10;

/// So many words may stand before a question that stands alone.
const WORDS_BEFORE: usize = 3;
/// How far back another question is looked for, in words and marks.
const LOOK_BACK: usize = 100;

/// Said among other things it is talk ("what's first? maths or bio"), unless those are food too.
fn stands_alone(q: &Question<'_>) -> bool {
    let text = &q.a.text;
    let words = |mut range: std::ops::Range<usize>| {
        range.all(|i| !text.is_word(i) || ENDINGS.contains(&text.word(i)))
    };
    let begins = || (0..q.range.start).filter(|i| text.is_word(*i)).nth(WORDS_BEFORE).is_none();
    let elsewhere_food =
        q.a.foods
            .iter()
            .any(|food| food.tokens.end <= q.range.start || food.tokens.start >= q.range.end);
    let asked_before = || (0..q.range.start).rev().take(LOOK_BACK).any(|i| text.word(i) == "?");
    elsewhere_food && !asked_before() || (words(q.range.end..text.len()) && begins())
}

/// The topic of a sentence, with the period a question about figures names.
fn topic(q: &Question<'_>, intent: Intent, about: &str) -> Option<Found> {
    let mut words: Vec<&str> = about.split(' ').filter(|word| !word.is_empty()).collect();
    if intent == Intent::AskLedger {
        let periods = ["today", "week", "month", "year"];
        words.extend(periods.iter().filter(|word| q.says(&[word])).take(1));
        words.extend((!words.is_empty() && q.says(PAST)).then_some("last"));
        words.extend(q.says(EVER).then_some("ever"));
    }
    match words.is_empty() {
        false => Found::about(intent, &words.join(" ")),
        true => Found::new(intent),
    }
}

/// What makes a week or a month the one before this.
const PAST: &[&str] = &[
    "last week",
    "last month",
    "last year",
    "previous month",
    "previous week",
    "week before",
    "month before",
];

/// What makes a period of the whole record.
const EVER: &[&str] = &["ever", "so far overall", "since we began", "since we started", "all time"];

/// The sentence the question is, but for what may follow any of them ("please", "this week").
fn whole_sentence(q: &Question<'_>) -> Option<&'static Sentence> {
    let start = q.first();
    let sentences = SENTENCES.get(q.word(start))?;
    let fits = |sentence: &&Sentence| {
        let end = start + sentence.words.len();
        let said = sentence.words.iter().enumerate().all(|(k, word)| q.word(start + k) == *word);
        let rest = (end..q.range.end).all(|i| ENDINGS.contains(&q.word(i)) || !q.a.text.is_word(i));
        said && rest && (q.addressed || !sentence.spoken_to)
    };
    sentences.iter().find(fits)
}

struct Sentence {
    words: Vec<&'static str>,
    intent: Intent,
    /// What it is about, beyond the intent; mostly empty.
    topic: &'static str,
    /// Too common to mean us unless the bot is spoken to.
    spoken_to: bool,
}

/// The sentences of `data/question_sentences.txt` by their first word.
static SENTENCES: LazyLock<HashMap<&'static str, Vec<Sentence>>> =
    LazyLock::new(|| parse(include_str!("../data/question_sentences.txt")));

fn parse(data: &'static str) -> HashMap<&'static str, Vec<Sentence>> {
    let mut sentences: HashMap<&'static str, Vec<Sentence>> = HashMap::new();
    let (mut intent, mut topic) = (Intent::None, "");
    for line in data.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[').and_then(|line| line.strip_suffix(']')) {
            let (word, about) = name.split_once(' ').unwrap_or((name, ""));
            intent = Intent::from_word(word).unwrap_or(Intent::None);
            topic = about;
            continue;
        }
        let plain = line.trim_end_matches([' ', '!']);
        let words: Vec<&str> = plain.split(' ').collect();
        let spoken_to = line.ends_with('!');
        sentences.entry(words[0]).or_default().push(Sentence { words, intent, topic, spoken_to });
    }
    sentences
}

/// What may follow such a sentence without changing it.
const ENDINGS: &[&str] = &[
    "?",
    "!",
    ".",
    "please",
    "pls",
    "today",
    "tonight",
    "then",
    "now",
    "again",
    "this",
    "last",
    "week",
    "month",
    "year",
    "so",
    "far",
    "at",
    "the",
    "moment",
    "right",
    "in",
    "total",
    "up",
    "tho",
    "guys",
    "for",
    "dinner",
    "on",
    "food",
    "groceries",
    "to",
    "from",
    "shop",
    "store",
    "weekend",
    "cook",
    "eat",
];

/// "what should i use first, the leeks or the chard?"
fn first(q: &Question<'_>) -> Option<Found> {
    let first = q.says(&["first"]) && q.says(&["use", "eat", "cook", "goes", "go"]) && q.asks;
    (first && q.food() && q.says(&["what", "which", "should"]))
        .then(|| Found::new(Intent::AskFirst))
        .flatten()
}

/// "when did we buy the leeks", "who ate the pie".
fn log(q: &Question<'_>) -> Option<Found> {
    if !q.food() {
        return None;
    }
    let start = q.first();
    // Who did it is told only when the bot is asked.
    let who = q.addressed
        && q.word(start) == "who"
        && matches!(
            q.word(start + 1),
            "ate"
                | "used"
                | "finished"
                | "took"
                | "bought"
                | "opened"
                | "threw"
                | "tossed"
                | "had"
                | "froze"
        );
    let when = q.word(start) == "when"
        && q.says(&[
            "did we",
            "did i",
            "did you",
            "was the",
            "were the",
            "did she",
            "did he",
            "did someone",
            "did anyone",
            "have we",
        ])
        && q.says(&[
            "buy", "bought", "get", "open", "opened", "freeze", "cook", "cooked", "make", "made",
            "use", "eat", "last",
        ]);
    let happened =
        q.says(&["what happened to the", "what happened to our", "what happened with the"]);
    (who || when || happened).then(|| Found::new(Intent::AskLog)).flatten()
}

/// "is 2.20 a kilo good for leeks?", "what did we pay for rice".
fn price(q: &Question<'_>) -> Option<Found> {
    if !q.food() {
        return None;
    }
    let number = q.range.clone().any(|i| q.a.text.number(i).is_some());
    let judged = q.says(&[
        "good price",
        "good for",
        "fair price",
        "too much for",
        "expensive",
        "cheap",
        "good deal",
        "ok for",
        "okay for",
        "a bargain",
        "worth it",
        "fair for",
        "a lot for",
        "too dear",
        "dear for",
        "steep for",
        "reasonable for",
        "decent price",
        "buy at that price",
        "good value",
        "fair at",
        "better value",
        "cheaper",
    ]);
    let per = q.says(&[
        "a kilo",
        "per kilo",
        "a kg",
        "per kg",
        "a lb",
        "per lb",
        "a pound",
        "per pound",
        "each",
        "/kg",
        "/lb",
        "a bunch",
        "a head",
        "a bag",
        "a dozen",
        "a piece",
    ]) || q.range.clone().any(|i| {
        matches!(
            q.word(i),
            "$" | "€"
                | "£"
                | "c"
                | "p"
                | "cents"
                | "eur"
                | "usd"
                | "gbp"
                | "euro"
                | "euros"
                | "dollars"
                | "bucks"
                | "quid"
        )
    });
    let per = per
        || q.range
            .clone()
            .any(|i| prices::at(q.a, i, q.range.end).is_some_and(|price| price.explicit));
    if number && q.asks && judged && per {
        return Found::new(Intent::PriceAsked);
    }
    let paid = q.says(&[
        "what did we pay",
        "what do we pay",
        "how much did we pay",
        "what do we usually pay",
        "what did i pay",
        "usual price",
        "normal price",
        "how much do we usually pay",
        "how much did we pay",
        "how much do we pay",
        "what does a kilo",
        "what did we last pay",
        "best price for",
        "lowest price for",
    ]);
    (paid && q.asks).then(|| Found::new(Intent::PriceAsked)).flatten()
}

/// "plan until the 14th", "what won't last till saturday?".
fn plan(q: &Question<'_>) -> Option<Found> {
    let start = q.first();
    let until = super::days::find_all(q.a, q.range.clone(), super::Facing::Future)
        .iter()
        .any(|day| day.reach == super::Reach::Until || day.tense == Some(super::Facing::Future));
    let asked = matches!(q.word(start), "what" | "what's" | "whats" | "which" | "will");
    let lasts = q.says(&[
        "won't last",
        "wont last",
        "will last",
        "will not last",
        "not last",
        "won't make it",
        "wont make it",
        "won't keep",
        "will be left",
        "have left",
        "run out",
        "runs out",
        "will go off",
        "goes off",
        "will spoil",
        "make it to",
        "will go bad",
    ]);
    let orders = q.word(start) == "plan"
        || q.says_at(start, "make a plan")
        || q.says_at(start, "can you plan")
        || q.says_at(start, "what's the plan");
    let short_order = orders && q.range.len() <= 8;
    if until && q.foods.is_empty() && ((asked && lasts) || short_order) {
        return Found::new(Intent::AskPlan);
    }
    None
}

/// "4 kg greens and 3 melons for this week ok?".
fn basket(q: &Question<'_>) -> Option<Found> {
    if !q.food() {
        return None;
    }
    let number = q.range.clone().any(|i| q.a.text.number(i).is_some());
    let period = q.says(&[
        "for this week",
        "for the week",
        "for a week",
        "this week",
        "until the next shop",
        "for two weeks",
        "for the fortnight",
        "for this fortnight",
        "till the next shop",
        "next week",
    ]);
    let asks_ok = q.says(&[
        "ok",
        "okay",
        "too much",
        "too many",
        "enough",
        "alright",
        "all right",
        "fine",
        "is that ok",
        "is it ok",
        "reasonable",
    ]);
    // "5 melons and 10 lb spinach ok?"
    let ends_ok = q
        .range
        .end
        .checked_sub(1)
        .is_some_and(|last| matches!(q.word(last), "ok" | "okay" | "fine" | "alright"));
    if q.marked()
        && ends_ok
        && q.a.text.number(q.first()).is_some()
        && !q.any(&[
            Class::Keep,
            Class::Cook,
            Class::Spoil,
            Class::LeftOut,
            Class::Cold,
            Class::Counter,
        ])
        && q.elapsed.is_none()
    {
        return Found::new(Intent::AskBasket);
    }
    let buying = q.says(&[
        "should i buy",
        "should we buy",
        "shall i buy",
        "shall i get",
        "should i get",
        "should we get",
        "thinking of buying",
        "worth buying",
        "ok to buy",
        "do we want",
        "get some more",
        "buy more",
    ]);
    let in_shop = q.says(&["at the shop", "at the store", "at the market", "in the shop"]);
    if number && period && asks_ok {
        return Found::new(Intent::AskBasket);
    }
    let other = q.says(&[
        "to make",
        "to serve",
        "where",
        "to cook",
        "how many",
        "how much",
        "for a recipe",
        "what kind",
        "which",
        "what",
    ]);
    if buying && (q.asks || in_shop) && !other && !q.any(&[Class::Recipe, Class::Cook]) {
        return Found::new(Intent::AskBasket);
    }
    (number && asks_ok && q.says(&["too much", "too many"]) && q.asks)
        .then(|| Found::new(Intent::AskBasket))
        .flatten()
}

/// "do we need milk?", "is rice on the list?".
fn need(q: &Question<'_>) -> Option<Found> {
    let listed = q.says(&[
        "shopping list",
        "grocery list",
        "on the list",
        "on my list",
        "on our list",
        "groceries list",
    ]);
    let asking = q.says(&[
        "is", "are", "did", "does", "do", "what", "what's", "whats", "have", "show", "read",
        "tell me", "check", "how many", "can you",
    ]);
    if listed && asking && q.food() && !q.says(&["add", "put", "remove", "delete", "take"]) {
        return Found::new(Intent::AskNeed);
    }
    // "what do we need on the 15th?"
    let start = q.first();
    let asked = q.says_at(start, "what do we need") || q.says_at(start, "what should we buy");
    if asked && q.foods.is_empty() && matches!(q.word(start + 4), "on" | "for" | "by" | "before") {
        let days = super::days::find_all(q.a, q.range.clone(), super::Facing::Future);
        if days.iter().any(|day| day.day.is_some()) && q.range.len() <= 10 {
            return Found::new(Intent::AskNeed);
        }
    }
    let need = q.says(&[
        "do we need",
        "do we still need",
        "are we out of",
        "are we low on",
        "do you need any",
    ]);
    (need && q.food() && !q.says(&["to make", "to cook", "for a", "for the recipe"]))
        .then(|| Found::new(Intent::AskNeed))
        .flatten()
}

/// "how much did we waste on lettuce", "what did we spend on cheese".
fn ledger(q: &Question<'_>) -> Option<Found> {
    let spent = q.says(&[
        "did we waste",
        "have we wasted",
        "did we throw",
        "have we thrown",
        "do we waste",
        "we waste",
        "we spend on",
        "have we spent on",
        "we spent on",
    ]);
    if spent && q.asks && q.says(&["how much", "what", "how many"]) {
        return topic(q, Intent::AskLedger, "");
    }
    None
}

/// "any garlic?", "do we have leeks", "how many onions do we have".
fn have(q: &Question<'_>) -> Option<Found> {
    if !q.food() || q.range.len() > 12 {
        return None;
    }
    let start = q.first();
    let food = &q.foods[0];
    if q.any(&[Class::Spoil, Class::Expire, Class::Life, Class::LeftOut]) || q.says(&["how long"]) {
        return None;
    }
    // "any garlic?", "got any milk left?", "is there any more rice in the fridge"
    let before =
        (1..=2).find_map(|n| food.tokens.start.checked_sub(n).filter(|i| q.word(*i) == "any"));
    let between = |any: usize| {
        any + 1 == food.tokens.start
            || matches!(
                q.word(any + 1),
                "more" | "fresh" | "leftover" | "frozen" | "cooked" | "spare" | "other"
            )
    };
    let opener =
        matches!(q.word(start), "any" | "got" | "have" | "is" | "are" | "do" | "still" | "we");
    let after = (food.tokens.end..q.range.end).all(|i| {
        !q.a.text.is_word(i)
            || matches!(
                q.word(i),
                "left"
                    | "in"
                    | "the"
                    | "fridge"
                    | "freezer"
                    | "house"
                    | "pantry"
                    | "or"
                    | "and"
                    | "still"
                    | "at"
                    | "home"
                    | "there"
                    | "somewhere"
                    | "please"
                    | "of"
                    | "over"
                    | "cellar"
                    | "today"
            )
            || q.foods.iter().any(|f| f.tokens.contains(&i))
    });
    if opener && after && food.sure && before.is_some_and(between) {
        return Found::new(Intent::AskHave);
    }
    let ours = q.says(&[
        "do we have",
        "have we got",
        "do we still have",
        "we have any",
        "we got any",
        "do i have",
        "have i got",
        "is there still",
        "are there still",
        "did we run out of",
        "have we run out of",
        "we still got",
        "do we got",
        "have we any",
    ]);
    let counted = (q.says(&["how many", "how much"]))
        && q.says(&[
            "do we have",
            "have we got",
            "are left",
            "is left",
            "do i have",
            "left",
            "are there",
            "is there",
            "on hand",
        ]);
    let ours_named = food.sure
        && food
            .tokens
            .start
            .checked_sub(1)
            .is_some_and(|i| matches!(q.word(i), "the" | "our" | "my"));
    let where_is = ours_named
        && q.word(start) == "where"
        && matches!(q.word(start + 1), "is" | "are" | "did")
        && q.says(&["the", "our"])
        && food.tokens.end + 1 >= q.range.end;
    let elsewhere = q.has(Class::Elsewhere)
        || q.says(&["to add", "do i have to", "do we have to", "have before"])
        || q.any(&[Class::Recipe, Class::Dining, Class::Cook, Class::Nutrition, Class::Substitute])
        || q.says(&["on my shopping list", "in the recipe", "in town", "for the"])
        || q.says(&["enough"]) && !q.addressed;
    ((ours || counted || where_is) && !elsewhere).then(|| Found::new(Intent::AskHave)).flatten()
}
