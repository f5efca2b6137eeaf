//! Questions about eating food: its state, its parts, who may, and what to do with too much.

use super::{Class, Found, Question};
use crate::reader::details::is_dish;
use crate::words::Intent;

/// "can the dog have grapes", "is brie ok when pregnant".
pub fn who_may(q: &Question<'_>) -> Option<Found> {
    let who = q.seen.first(Class::Who)?;
    let may = q.any(&[Class::Eat, Class::Okay, Class::Edible])
        || q.says(&["have", "give", "feed", "allowed", "avoid", "bad for", "good for"]);
    if !may || !q.asks || q.foods.is_empty() {
        return None;
    }
    // "do ducks eat meat" asks about ducks, not about our food.
    let asks_leave = q.says(&[
        "can",
        "could",
        "should",
        "ok",
        "okay",
        "safe",
        "fine",
        "allowed",
        "may",
        "bad",
        "good",
        "poisonous",
        "toxic",
        "harmful",
        "avoid",
        "dangerous",
    ]);
    if !asks_leave {
        return None;
    }
    let topic = q.word(who).to_owned();
    let about =
        q.foods.iter().filter(|food| !food.tokens.contains(&who)).cloned().collect::<Vec<_>>();
    (!about.is_empty()).then_some(Found {
        intent: Intent::AskWhoMay,
        topic: Some(topic),
        about: Some(about),
    })
}

/// "what can go in the bag?", "can onion skins go in the stock?".
pub fn trimmings(q: &Question<'_>) -> Option<Found> {
    if !q.has(Class::Trimmings) || !q.asks {
        return None;
    }
    let goes = q.says(&[
        "go in",
        "goes in",
        "go into",
        "put",
        "add",
        "ok for stock",
        "good for stock",
        "save",
        "use",
        "for stock",
        "belong",
    ]);
    let named = q.says(&["trimmings", "stock bag", "scrap bag", "scraps bag", "the bag", "stock"]);
    (goes && named && (q.food() || q.any(&[Class::Part]) || q.says(&["what"])))
        .then(|| Found::new(Intent::AskTrimmings))
        .flatten()
}

/// "what can i do with too many plums", "ideas for leftover rice".
pub fn use_up(q: &Question<'_>) -> Option<Found> {
    let ideas = q.says(&[
        "do with",
        "use for",
        "uses for",
        "ideas for",
        "make with",
        "use up",
        "using up",
        "ideas",
        "cook with",
        "what to do",
        "used for",
        "make from",
        "get rid of",
    ]);
    let surplus = q.has(Class::Surplus) || q.says(&["extra"]);
    (ideas
        && q.food()
        && (surplus || q.addressed)
        && !q.says(&["added", "adding", "add too much", "put in too much"])
        && (q.asks || q.says(&["ideas", "uses for", "use up"])))
    .then(|| Found::new(Intent::AskUseUp))
    .flatten()
}

/// "fennel is limp", "is the rice from monday ok?", "mayo in the fridge 3 years?".
pub fn condition(q: &Question<'_>) -> Option<Found> {
    let known = q.food();
    let dated = q.elapsed.is_some()
        || super::days::find(q.a, q.range.clone(), super::Facing::Past).is_some();
    let any_good = q.find("any good").is_some_and(|at| {
        at + 2 >= q.range.end
            || matches!(q.word(at + 2), "still" | "now" | "to" | "after" | "if" | "anymore")
    });
    let still = q.says(&["still"]) || any_good;
    let verdict = q.any(&[Class::Okay, Class::Edible]);
    let eat = q.has(Class::Eat);
    let cold = q.any(&[Class::Cold, Class::Counter, Class::Dark]);
    if q.asks && (known || (q.unknown.is_some() && q.only_food())) {
        if still && (verdict || eat) {
            return Found::new(Intent::AskCondition);
        }
        if (verdict || eat || q.has(Class::Spoil) || q.says(&["bad", "off"])) && (dated || cold) {
            return Found::new(Intent::AskCondition);
        }
        if ripeness(q) {
            return Found::new(Intent::AskCondition);
        }
        if known && cold && q.elapsed.is_some() {
            return Found::new(Intent::AskCondition);
        }
        let telling = q.says(&[
            "how to tell",
            "how do you tell",
            "how do i tell",
            "can you tell",
            "how to know",
            "how do i know",
            "how do you know",
            "how to recognize",
            "how can i tell",
            "how can you tell",
            "how do we know",
            "how can you know",
            "signs",
            "what does",
        ]) || q.says(&["when is"])
            && (q.any(&[Class::Ripe, Class::Spoil]) || q.says(&["bad", "off", "ready"]));
        if telling
            && (q.any(&[Class::Spoil, Class::Okay, Class::Ripe, Class::Condition])
                || q.says(&["bad", "off", "ready"]))
        {
            return Found::new(Intent::AskCondition);
        }
    }
    if q.asks && known {
        if q.has(Class::Condition)
            && (verdict || eat || q.says(&["bad", "off", "normal", "throw", "bin", "toss"]))
        {
            return Found::new(Intent::AskCondition);
        }
        let first = q.word(q.first());
        let being = matches!(first, "is" | "are" | "has" | "have" | "was" | "did");
        let gone_bad = |i: usize| {
            matches!(q.word(i), "bad" | "off")
                && (i + 1 >= q.range.end
                    || matches!(
                        q.word(i + 1),
                        "yet" | "now" | "already" | "if" | "after" | "or" | "?"
                    ))
        };
        let bad = q.foods.iter().any(|food| (food.tokens.end..food.tokens.end + 4).any(gone_bad));
        if being && (q.any(&[Class::Condition, Class::Spoil]) || bad) && q.range.len() <= 9 {
            return Found::new(Intent::AskCondition);
        }
        if q.says(&["throw out", "throw away", "bin", "toss", "chuck"])
            && q.says(&["should", "do i", "do we", "need"])
        {
            return Found::new(Intent::AskCondition);
        }
        if predicated(q) {
            return Found::new(Intent::AskCondition);
        }
        if let Some(being) = q.range.clone().find(|i| {
            matches!(
                q.word(*i),
                "is" | "are" | "has" | "have" | "looks" | "gone" | "went" | "turned"
            )
        }) && (being..q.range.end).any(|i| {
            q.seen.at(i, Class::WeakCondition) && !q.foods.iter().any(|f| f.tokens.start == i + 1)
        }) && (q.any(&[Class::Edible])
            || q.says(&[
                "still ok",
                "still good",
                "is it ok",
                "are they ok",
                "is it safe",
                "are they safe",
                "is that ok",
                "is this ok",
                "can i eat",
                "can we eat",
                "ok to eat",
                "can i use",
            ])
            || q.find("is it bad").is_some_and(|at| q.word(at + 3) != "to"))
        {
            return Found::new(Intent::AskCondition);
        }
    }
    told_condition(q)
}

/// A dish or something baked, whose texture is the cook's doing.
fn made(name: &str) -> bool {
    let last = name.rsplit(' ').next().unwrap_or_default();
    is_dish(last)
        || is_dish(last.trim_end_matches('s'))
        || BAKED.contains(&last.trim_end_matches('s'))
}

const BAKED: &[&str] = &[
    "cookie",
    "brownie",
    "marshmallow",
    "meringue",
    "fudge",
    "candy",
    "caramel",
    "pudding",
    "custard",
    "mousse",
    "icing",
    "frosting",
    "batter",
    "crust",
    "pastry",
    "dough",
    "gravy",
    "cheesecake",
    "muffin",
    "pancake",
    "waffle",
    "biscuit",
    "scone",
    "macaron",
    "souffle",
    "ganache",
    "jelly",
    "fries",
    "frie",
    "chips",
    "chip",
    "steak",
    "meatball",
    "burger",
    "cupcake",
    "pie",
    "dumpling",
    "tortilla",
    "bagel",
    "brine",
    "toffee",
    "truffle",
    "cheese",
];

/// "is this cooked lamb still ok", "are the eggs good": the verdict said of the food itself and not
/// of what is done with it.
fn predicated(q: &Question<'_>) -> bool {
    let first = q.first();
    if !matches!(q.word(first), "is" | "are" | "was" | "were") || q.has(Class::Part) {
        return false;
    }
    let Some(food) = q.foods.iter().find(|food| food.tokens.start <= first + 5) else {
        return false;
    };
    let pointed = (first + 1..food.tokens.start).any(|i| {
        q.seen.at(i, Class::Deictic)
            || q.seen.at(i, Class::Treated)
            || matches!(q.word(i), "the" | "my" | "our")
    });
    let near = food.tokens.end..(food.tokens.end + 9).min(q.range.end);
    let Some(verdict) = near.clone().find(|i| {
        matches!(
            q.word(*i),
            "ok" | "okay"
                | "fine"
                | "alright"
                | "safe"
                | "good"
                | "edible"
                | "usable"
                | "fresh"
                | "off"
                | "bad"
        )
    }) else {
        return false;
    };
    let then = (q.word(verdict + 1), q.word(verdict + 2));
    let eaten = matches!(then, ("to", "eat" | "drink" | "use" | "have" | "consume" | "serve"))
        && !matches!(q.word(verdict + 3), "in" | "for" | "as" | "with" | "to" | "on");
    let ends = verdict + 1 >= q.range.end
        || matches!(
            then.0,
            "?" | "now"
                | "still"
                | "after"
                | "if"
                | "or"
                | "today"
                | "tonight"
                | "tomorrow"
                | ","
                | "for"
        );
    (eaten
        || (ends
            && pointed
            && (then.0 != "for"
                || matches!(then.1, "dinner" | "lunch" | "tonight" | "tomorrow" | "breakfast"))))
        && !q.any(&[Class::Cook])
}

/// Ripe said of the food, not a ripe food used for something.
fn ripeness(q: &Question<'_>) -> bool {
    q.range.clone().any(|i| {
        let after = (i..q.range.end).find(|k| !q.seen.at(*k, Class::Ripe)).unwrap_or(q.range.end);
        (q.seen.at(i, Class::Ripe) && !q.foods.iter().any(|food| food.tokens.start == after))
            || matches!(q.word(i), "ripen" | "ripening")
    })
}

/// A state told of a food, which asks what to do: "fennel is limp", "this potato is green".
fn told_condition(q: &Question<'_>) -> Option<Found> {
    if q.range.len() > 9 || q.foods.is_empty() {
        return None;
    }
    let food = q.foods.iter().find(|food| food.sure)?;
    // "my cookies turned out dry", "sweet potatoes going black when peeled": cooking that failed.
    let cooked = q.says(&[
        "turned out",
        "turn out",
        "came out",
        "when peeled",
        "when cut",
        "when cooked",
        "when boiled",
        "always",
        "every time",
        "after cooking",
        "after baking",
        "as they",
        "as it",
    ]) || made(&food.name)
        && !q.says(&[
            "mouldy", "moldy", "mould", "mold", "slimy", "smells", "smell", "stale", "sour",
            "fizzy", "limp", "rotten", "off",
        ]);
    if cooked && !q.addressed {
        return None;
    }
    let before = &q.range.start..&food.tokens.start;
    let plain_start = (*before.start..*before.end).all(|i| {
        matches!(
            q.word(i),
            "the"
                | "this"
                | "that"
                | "these"
                | "those"
                | "my"
                | "our"
                | "some"
                | "a"
                | "of"
                | "one"
                | "all"
                | "your"
                | "hey"
                | "um"
                | "so"
                | "oh"
                | "no"
                | "ugh"
                | ","
                | "half"
                | "bag"
                | "head"
                | "bunch"
        )
    });
    let linked = matches!(
        q.word(food.tokens.end),
        "is" | "are"
            | "looks"
            | "look"
            | "looking"
            | "has"
            | "have"
            | "feels"
            | "feel"
            | "smells"
            | "smell"
            | "tastes"
            | "taste"
            | "went"
            | "gone"
            | "got"
            | "getting"
            | "seems"
            | "seem"
            | "turned"
            | "'s"
            | "s"
            | "going"
    ) || (q.seen.at(food.tokens.end, Class::Condition) && q.foods.len() == 1);
    let sign_first =
        q.seen.at(q.first(), Class::Condition) && q.says(&["on the", "in the", "on my", "in my"]);
    let sign = q.has(Class::Condition)
        || q.range.clone().any(|i| i > food.tokens.end && q.seen.at(i, Class::WeakCondition));
    ((plain_start && linked && sign) || sign_first)
        .then(|| Found::new(Intent::AskCondition))
        .flatten()
}

/// "can you eat beet greens?", "are nectarine seeds edible?", "is the rind toxic".
pub fn part(q: &Question<'_>) -> Option<Found> {
    if !q.asks || !(q.food() || (q.unknown.is_some() && (q.has(Class::Edible) || q.addressed))) {
        return None;
    }
    let eating = q.any(&[Class::Edible])
        || (q.addressed && q.any(&[Class::Okay, Class::Eat]))
        || (q.says(&["eat", "eaten", "safe", "ok", "good", "okay", "fine"])
            && (q.has(Class::Part)
                || q.says(&[
                    "can you eat",
                    "can i eat",
                    "can we eat",
                    "can one eat",
                    "is it ok to eat",
                    "supposed to eat",
                    "should you eat",
                    "do you eat",
                    "can they eat",
                ])));
    let peeling =
        q.says(&["peel"]) && q.says(&["need to", "have to", "should i", "should you", "must"]);
    (eating || peeling).then(|| Found::new(Intent::AskPart)).flatten()
}
