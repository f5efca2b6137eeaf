//! Questions about keeping food: how long, where, beside what, and making it last.

use super::{Class, Found, Question};
use crate::words::Intent;

/// "ham left out overnight?", "is milk ok after 3 hours on the counter".
pub fn left_out(q: &Question<'_>) -> Option<Found> {
    let out = q.has(Class::LeftOut)
        || q.says(&["out overnight", "out for"])
        || (q.has(Class::Counter) && q.elapsed.is_some() && !q.says(&["how long"]));
    if !out || !q.food_or_unknown() {
        return None;
    }
    // "we left the stew out" tells; "stew left out overnight" asks.
    let first = q.word(q.first());
    let told =
        matches!(first, "left" | "i" | "we" | "someone" | "somebody" | "he" | "she" | "they")
            || q.says(&[
                "was left",
                "were left",
                "got left",
                "i left",
                "we left",
                "accidentally left",
            ]);
    if told && !q.asks {
        return None;
    }
    Found::new(Intent::AskLeftOut)
}

/// "yogurt past its use by, ok?", "what does best before mean".
pub fn date_label(q: &Question<'_>) -> Option<Found> {
    if !q.has(Class::Label) {
        return None;
    }
    let meaning = q.says(&["mean", "means", "meaning", "difference", "same as", "same thing"])
        && q.asks
        && (q.says(&[
            "use by",
            "best before",
            "sell by",
            "best by",
            "expiry date",
            "expiration date",
        ]));
    if meaning {
        return Found::new(Intent::AskDateLabel);
    }
    let past =
        q.says(&["past", "after", "beyond", "passed", "over", "crossed", "out of date", "ago"]);
    if past && q.food_or_unknown() {
        return Found::new(Intent::AskDateLabel);
    }
    None
}

/// "can pears sit with kale?".
pub fn neighbours(q: &Question<'_>) -> Option<Found> {
    let two = q.foods.len() >= 2 && q.foods.iter().any(|food| food.sure);
    let keeping = q.any(&[Class::Keep, Class::Store, Class::Cold])
        || q.says(&["sit", "go", "live", "share", "be", "put", "lie"]);
    let near = (q.has(Class::Neighbour)
        && !q.any(&[Class::Cook])
        && !q.says(&["used", "cooked", "hold", "mix", "mixed", "eat", "eaten"]))
        || (q.says(&["with"]) && q.says(&["sit", "live", "share"]));
    let titled =
        q.any(&[Class::Store]) && q.says(&["same cellar", "same drawer", "same bowl", "together"]);
    let short = two
        && q.marked()
        && q.foods.len() == 2
        && q.foods[0].tokens.end + 1 == q.foods[1].tokens.start
        && q.foods[0].tokens.start <= q.range.start + 1
        && q.foods[1].tokens.end + 1 >= q.range.end
        && matches!(q.word(q.foods[0].tokens.end), "with" | "near" | "beside" | "by");
    let shared = q.says(&[
        "same drawer",
        "same bowl",
        "same bag",
        "same basket",
        "same shelf",
        "same box",
        "same cellar",
    ]);
    if two
        && ((near && (keeping || shared) && (q.asks || titled))
            || (short && !q.any(&[Class::Cook])))
    {
        return Found::new(Intent::AskNeighbours);
    }
    None
}

/// "how do i thaw mince", "can i refreeze thawed chicken".
pub fn thaw(q: &Question<'_>) -> Option<Found> {
    if !q.any(&[Class::Thaw, Class::Refreeze]) || !q.food_or_unknown() {
        return None;
    }
    if how_long_asked(q) && q.any(&[Class::Keep, Class::Cold, Class::Spoil]) {
        return None;
    }
    let titled = q.seen.at(q.first(), Class::Refreeze) || q.seen.at(q.first(), Class::Thaw);
    (q.asks || titled).then(|| Found::new(Intent::AskThaw)).flatten()
}

/// Asks for a length of time or a date.
fn how_long_asked(q: &Question<'_>) -> bool {
    q.says(&[
        "how long",
        "how many days",
        "how many weeks",
        "how many months",
        "how soon",
        "how much time",
        "time limit",
        "time frame",
        "timeframe",
        "length of time",
        "the longest",
        "until when",
        "till when",
        "what date",
        "what day",
        "how old",
        "how late",
        "limit to how",
        "amount of time",
        "how many hours",
        "maximum time",
        "max time",
        "by when",
        "how far past",
        "how much longer",
        "how fast",
        "how quickly",
    ]) || (q.says(&["when"]) && q.any(&[Class::Expire, Class::Spoil]))
}

/// "how long does cut melon keep?", "when does milk expire".
pub fn how_long(q: &Question<'_>) -> Option<Found> {
    let keeps = q.any(&[
        Class::Keep,
        Class::Spoil,
        Class::Expire,
        Class::Cold,
        Class::Life,
        Class::LeftOut,
    ]) || q.says(&[
        "good for",
        "okay for",
        "ok for",
        "safe for",
        "fine for",
        "leave",
        "be safe",
        "is it safe",
        "stay",
        "be good",
        "before it",
    ]) || (q.says(&["still", "until when", "till when", "by when"])
        && q.any(&[Class::Eat]))
        || (q.any(&[Class::Counter, Class::Dark]))
        || (q.says(&["how long is", "how long are"]) && q.any(&[Class::Okay, Class::Edible]))
        || q.says(&[
            "be used once",
            "be eaten",
            "be consumed",
            "consumable",
            "drinkable",
            "edible",
        ]);
    if !(how_long_asked(q) && keeps) {
        return None;
    }
    let known = q.food() || (q.unknown.is_some() && q.only_food());
    known.then(|| Found::new(Intent::AskKeeps)).flatten()
}

/// "can i freeze leeks", "freezing cooked chicken", "how to dry mint".
pub fn preserve(q: &Question<'_>) -> Option<Found> {
    let ways = [Class::Freeze, Class::Dry, Class::Can, Class::Blanch, Class::Preserve];
    let way = q.range.clone().find(|i| ways.iter().any(|class| q.seen.at(*i, *class)))?;
    let freeze_it = q.unknown.is_some()
        && !q.has(Class::Elsewhere)
        && (q.says(&["i freeze", "you freeze", "we freeze", "one freeze"])
            || q.says(&["be frozen"]) && q.word(q.first()) == "can");
    if !q.food_or_unknown() && !freeze_it {
        return None;
    }
    let first = q.first();
    let titled =
        ["freezing", "refreezing", "preserving", "drying", "dehydrating", "storing", "canning"]
            .contains(&q.word(first))
            || q.says_at(first, "how to");
    if !q.asks && !titled {
        return None;
    }
    // "in the freezer" alone is a place, and "frozen" a form.
    let verb = q.has(Class::Freeze) && !matches!(q.word(way), "in" | "into")
        || q.any(&[Class::Preserve, Class::Blanch, Class::Can, Class::Dry]);
    if !verb {
        return None;
    }
    Found::new(Intent::AskPreserve)
}

/// "does soy sauce go bad?", "shelf life of kimchi", "how should i store speck?".
pub fn keeps(q: &Question<'_>) -> Option<Found> {
    let known = q.food()
        || q.unknown.is_some() && (q.only_food() || (q.has(Class::Store) && how_to_store(q)));
    if !known {
        return None;
    }
    if q.has(Class::Life) {
        return Found::new(Intent::AskKeeps);
    }
    let first = q.word(q.first());
    if q.has(Class::Expire) && (q.asks || q.range.len() <= 6) {
        return Found::new(Intent::AskKeeps);
    }
    let asks_whether =
        matches!(first, "does" | "do" | "can" | "will" | "could" | "would" | "doesn't" | "don't");
    if asks_whether && q.any(&[Class::Spoil]) && !q.any(&[Class::Eat]) {
        return Found::new(Intent::AskKeeps);
    }
    None
}

/// Storing put as a question of method, which leaves few things but food to be meant.
fn how_to_store(q: &Question<'_>) -> bool {
    let first = q.first();
    let how = q.says_at(first, "how to")
        || q.says_at(first, "how should")
        || q.says_at(first, "how do")
        || q.says_at(first, "best way")
        || q.says_at(first, "how long can i store")
        || q.says_at(first, "where should")
        || q.says_at(first, "how can");
    how && !q.has(Class::Elsewhere)
        && q.range.len() <= 12
        && q.says(&[
            "long can i store",
            "store fresh",
            "store leftover",
            "store extra",
            "properly store",
            "should i store",
            "best store",
        ])
}

/// "where do plums go?", "should eggs be refrigerated", "best way to store leeks".
pub fn place(q: &Question<'_>) -> Option<Found> {
    let known = q.food()
        || q.unknown.is_some() && (q.only_food() || (q.has(Class::Store) && how_to_store(q)));
    if !known {
        return None;
    }
    let first = q.word(q.first());
    let asks_where = first == "where"
        && (q.any(&[Class::Keep, Class::Cold]) || q.says(&["go", "goes", "put", "live", "belong"]));
    let way = q.says(&[
        "how to",
        "how do",
        "how should",
        "how can",
        "how would",
        "best way",
        "good way",
        "right way",
        "correct way",
        "proper way",
        "ways to",
        "best method",
        "best place",
        "what temperature",
        "how best",
        "best temperature",
        "way of storing",
        "should i",
        "should",
        "do you",
        "how could",
        "can i",
        "is it",
        "tips",
        "can",
    ]);
    let gerund =
        matches!(first, "storing" | "keeping" | "storage" | "store" | "preserving" | "preserve")
            || q.has(Class::Store) && !q.asks && q.says(&["storage"]);
    if asks_where || (q.has(Class::Store) && (way || gerund || q.asks)) {
        return Found::new(Intent::AskWhere);
    }
    let keep_fresh = q.says(&["keep", "stay"])
        && (q.says(&[
            "fresh",
            "fresher",
            "longer",
            "crisp",
            "crispy",
            "from going bad",
            "from spoiling",
            "from rotting",
            "from browning",
            "from going brown",
            "from wilting",
            "from sprouting",
            "moist",
            "safely",
            "freshness",
        ]));
    let fried = q.says(&["crispy", "crisp", "crunchy"])
        && q.says(&[
            "fried",
            "roast",
            "roasted",
            "baked",
            "fries",
            "chips",
            "bacon",
            "crackling",
            "pastry",
            "batter",
        ]);
    if keep_fresh && q.asks && !fried {
        return Found::new(Intent::AskWhere);
    }
    let goes = matches!(first, "do" | "does")
        && q.says(&["go in", "go on", "belong in", "belong on", "live in"])
        && q.any(&[Class::Cold, Class::Dark, Class::Counter]);
    if goes {
        return Found::new(Intent::AskWhere);
    }
    let fridge_asked = q.any(&[Class::Refrigerate, Class::Cold, Class::Dark, Class::Counter])
        && q.says(&[
            "should",
            "need",
            "needs",
            "have to",
            "has to",
            "belong",
            "belongs",
            "or",
            "better",
            "do you",
            "must",
            "does",
            "ok to keep",
            "safe to keep",
            "can i keep",
            "can you keep",
            "can",
        ])
        && q.elapsed.is_none()
        && (q.asks || q.says(&["or"]));
    if fridge_asked {
        return Found::new(Intent::AskWhere);
    }
    None
}

/// "can i reheat rice twice?".
pub fn reheat(q: &Question<'_>) -> Option<Found> {
    if !q.has(Class::Reheat) || !q.asks || !q.food() {
        return None;
    }
    let may = q.says(&[
        "can",
        "safe",
        "ok",
        "okay",
        "should",
        "fine",
        "how many times",
        "twice",
        "again",
    ]);
    (may || q.addressed).then(|| Found::new(Intent::AskReheat)).flatten()
}

/// "wash the berries now or later?".
pub fn wash(q: &Question<'_>) -> Option<Found> {
    let verb =
        q.says(&["wash", "rinse", "washing", "rinsing", "be washed", "get washed", "be rinsed"]);
    (verb && q.has(Class::Wash) && q.asks && q.food())
        .then(|| Found::new(Intent::AskWash))
        .flatten()
}

/// "how much is a bunch of kale", "how many grams is a leek".
pub fn amount(q: &Question<'_>) -> Option<Found> {
    if !q.has(Class::Amount) || !q.asks || !(q.food() || q.addressed) {
        return None;
    }
    let measured = q.says(&[
        "weigh", "weighs", "grams", "ounces", "pounds", "kilos", "kg", "bunch", "head", "weight",
        "bulb", "punnet",
    ]);
    let made = q.says(&["gain", "percentage", "produce", "make", "need", "recipe", "use", "lose"]);
    ((measured && !made) || q.addressed).then(|| Found::new(Intent::AskAmount)).flatten()
}
