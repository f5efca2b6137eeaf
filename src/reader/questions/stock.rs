//! Questions about what is in the house, the plan, the list and the money.

use super::{Class, Found, Question};
use crate::words::Intent;

/// Any of them.
pub fn stock(q: &Question<'_>) -> Option<Found> {
    // Said among other things it is talk: "do i need a mixer? if so what should i get?".
    let alone = q.addressed || q.a.text.len() <= q.range.len() + 6;
    if !q.foods.iter().any(|food| food.sure) && alone {
        if let Some(intent) = whole_sentence(q) {
            return topic(q, intent).map(|found| Found { about: Some(Vec::new()), ..found });
        }
    }
    first(q)
        .or_else(|| log(q))
        .or_else(|| price(q))
        .or_else(|| plan(q))
        .or_else(|| basket(q))
        .or_else(|| need(q))
        .or_else(|| ledger(q))
        .or_else(|| have(q))
}

fn topic(q: &Question<'_>, intent: Intent) -> Option<Found> {
    let period = ["today", "week", "month", "year"].iter().find(|word| q.says(&[word]));
    match period.filter(|_| intent == Intent::AskLedger) {
        Some(period) => Found::about(intent, period),
        None => Found::new(intent),
    }
}

/// Short sentences that can mean only one thing in a kitchen chat.
fn whole_sentence(q: &Question<'_>) -> Option<Intent> {
    const SENTENCES: &[(Intent, &[&str])] = &[
        (
            Intent::AskFirst,
            &[
                "what's first",
                "whats first",
                "what is first",
                "what goes first",
                "what's up first",
                "what should we eat first",
                "what should i cook first",
                "what should we cook first",
                "what should we use first",
                "what should i use first",
                "what to cook first",
                "what to eat first",
                "what to use first",
                "what do we use first",
                "what do we eat first",
                "what needs using",
                "what needs using up",
                "what needs eating",
                "what needs to be eaten",
                "what needs to be used",
                "what needs using first",
                "what's going off",
                "whats going off",
                "what is going off",
                "what's about to go off",
                "what's about to go",
                "what's going bad",
                "whats going bad",
                "what's about to spoil",
                "what is about to go bad",
                "what's urgent",
                "anything going off",
                "anything about to go",
                "anything need using",
                "anything that needs using",
                "what has to go",
                "what has to go first",
                "what must go first",
                "what goes off first",
                "what spoils first",
                "what's spoiling",
                "what will go off first",
                "use first",
                "what should be eaten first",
                "what's oldest",
                "what do we have to use up",
                "what should we use up",
                "what needs using today",
                "what needs using tonight",
            ],
        ),
        (
            Intent::AskHave,
            &[
                "what do we have",
                "what do we have in",
                "what have we got",
                "what have we got in",
                "what's in the house",
                "what's in",
                "what is in the house",
                "what's in the fridge",
                "whats in the fridge",
                "what's in the freezer",
                "whats in the freezer",
                "what is in the fridge",
                "what is in the freezer",
                "what's left",
                "what's on hand",
                "what do we still have",
                "what do we have left",
                "what's in stock",
                "what's there to eat",
                "what food do we have",
                "what's in the pantry",
                "what's in the cellar",
                "what is there",
                "list everything",
                "what's in the larder",
                "what do we have in the fridge",
                "what do we have in the freezer",
                "what have we got in the fridge",
                "what have we got in the freezer",
                "what's in the crisper",
                "show me what we have",
                "what have we",
                "inventory",
                "anything in the freezer",
            ],
        ),
        (
            Intent::AskNeed,
            &[
                "what do we need",
                "what do we need to buy",
                "what do we need to get",
                "what are we out of",
                "what's on the list",
                "whats on the list",
                "what is on the list",
                "what's on the shopping list",
                "whats on the shopping list",
                "what is on the shopping list",
                "what should we buy",
                "what should i buy",
                "what should i get",
                "what do i need to buy",
                "what do i need to get",
                "what are we low on",
                "what are we running out of",
                "what do we need from the shop",
                "what do we need from the store",
                "shopping list",
                "show the list",
                "show the shopping list",
                "what's missing",
                "what do we need for the shop",
                "anything we need",
                "do we need anything",
                "do we need anything from the shop",
                "need anything from the shop",
            ],
        ),
        (
            Intent::AskBasket,
            &[
                "what should we not buy",
                "what shouldn't we buy",
                "what should i not buy",
                "what shouldn't i buy",
                "what not to buy",
                "what do we have too much of",
                "what should we skip",
                "what don't we need",
                "what do we not need",
                "is that too much",
                "is this too much",
                "will we get through it all",
                "can we eat all that",
            ],
        ),
        (
            Intent::AskPlan,
            &[
                "make a plan",
                "what's the plan",
                "whats the plan for the food",
                "plan the week",
                "plan this week",
                "plan until the shop",
                "plan to the next shop",
                "plan the meals",
                "plan our meals",
                "meal plan",
                "plan for the week",
                "what will be left",
                "what should we freeze",
                "what needs freezing",
                "what do we need to freeze",
                "what should i freeze",
            ],
        ),
        (
            Intent::AskLedger,
            &[
                "how are we doing",
                "how are we doing this month",
                "how are we doing this week",
                "how did we do",
                "how did we do this month",
                "how did we do last month",
                "how did we do this week",
                "how much did we waste",
                "how much have we wasted",
                "how much food did we waste",
                "how much are we wasting",
                "how much waste",
                "how much have we thrown out",
                "how much did we throw out",
                "how much did we throw away",
                "how much have we thrown away",
                "how much did we spend",
                "how much have we spent",
                "how much have we spent on food",
                "how much did we spend on food",
                "what's our waste",
                "what is our waste share",
                "waste share",
                "what did we waste",
                "what did we throw out",
                "how's the budget",
                "hows the budget",
                "what's left of the budget",
                "how much budget is left",
                "what's left in the budget",
                "how is the budget",
                "are we over budget",
                "budget",
                "waste this month",
                "how much have we saved",
                "what have we spent",
                "what did we spend",
                "what did we waste this month",
                "what went to waste",
                "what have we wasted",
            ],
        ),
        (
            Intent::AskLog,
            &[
                "who changed the water",
                "when was the water changed",
                "when did we change the water",
                "did anyone change the water",
                "has anyone changed the water",
                "did someone change the water",
                "has the water been changed",
                "was the water changed",
                "who did the water",
                "when did we last shop",
                "when was the last shop",
                "what did we buy",
                "what did you record",
                "what did you write down",
                "what happened today",
                "what did we use today",
            ],
        ),
    ];
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
    let start = q.first();
    for (intent, sentences) in SENTENCES {
        for sentence in *sentences {
            if !q.says_at(start, sentence) {
                continue;
            }
            let end = start + sentence.split(' ').count();
            let rest_empty =
                (end..q.range.end).all(|i| ENDINGS.contains(&q.word(i)) || !q.a.text.is_word(i));
            let short = q.addressed
                || !matches!(
                    *sentence,
                    "budget"
                        | "inventory"
                        | "what's in"
                        | "what have we"
                        | "what is there"
                        | "what's the plan"
                        | "what's left"
                        | "what's missing"
                        | "how are we doing"
                        | "how did we do"
                        | "how much did we spend"
                        | "how much have we spent"
                        | "make a plan"
                        | "is that too much"
                        | "is this too much"
                        | "what's oldest"
                        | "what's urgent"
                );
            if rest_empty && short {
                return Some(*intent);
            }
        }
    }
    None
}

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
    let who = q.word(start) == "who"
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
        return topic(q, Intent::AskLedger);
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
