//! Somebody has already eaten something that may harm: "she ate one of the berries".
//!
//! Which foods harm is not decided here: this only notices that somebody who may be harmed, or
//! something that may harm, is spoken of, so that the poison line is given at once. Doubt counts.

use super::{Class, Found, Question};
use crate::words::Intent;

const ATE: &[&str] = &[
    "ate",
    "eaten",
    "eat",
    "swallowed",
    "swallow",
    "drank",
    "drunk",
    "chewed",
    "chewing",
    "licked",
    "ingested",
    "swallowing",
    "nibbled",
    "munched",
    "gobbled",
    "bit",
    "scoffed",
    "tasted",
];

const CHILD: &[&str] = &[
    "baby",
    "toddler",
    "kid",
    "kids",
    "child",
    "children",
    "infant",
    "newborn",
    "grandson",
    "granddaughter",
    "son",
    "daughter",
    "little one",
    "nephew",
    "niece",
    "bub",
    "twins",
];

const ANIMAL: &[&str] = &[
    "dog",
    "dogs",
    "puppy",
    "pup",
    "cat",
    "cats",
    "kitten",
    "rabbit",
    "hamster",
    "guinea pig",
    "parrot",
    "budgie",
    "tortoise",
    "bunny",
];

/// Things that are no ordinary meal when eaten.
const HAZARD: &[&str] = &[
    "berries off",
    "berries from",
    "berry from",
    "wild",
    "poisonous",
    "toxic",
    "poison",
    "mouldy",
    "moldy",
    "rotten",
    "raw chicken",
    "raw pork",
    "raw mince",
    "raw beans",
    "raw kidney beans",
    "raw meat",
    "undercooked",
    "green potato",
    "green potatoes",
    "rhubarb leaf",
    "rhubarb leaves",
    "daffodil",
    "daffodils",
    "daffodil bulb",
    "lily",
    "lilies",
    "foxglove",
    "yew",
    "holly",
    "nightshade",
    "oleander",
    "hemlock",
    "lily of the valley",
    "ivy",
    "laburnum",
    "mistletoe",
    "toadstool",
    "toadstools",
    "mushroom from",
    "mushrooms from",
    "wild mushroom",
    "wild mushrooms",
    "bleach",
    "detergent",
    "cherry pit",
    "cherry pits",
    "cherry stone",
    "cherry stones",
    "peach pit",
    "apricot kernel",
    "apricot kernels",
    "apple seeds",
    "apple pips",
    "plum stone",
    "tomato leaves",
    "tomato leaf",
    "potato leaves",
    "potato sprouts",
    "unripe",
    "spoiled",
    "spoilt",
    "expired",
    "gone off",
    "off milk",
    "bad shrimp",
    "the bulb",
    "bulbs",
    "houseplant",
    "house plant",
    "a plant",
    "the plant",
    "plant",
    "plants",
    "something in the garden",
    "something from the garden",
    "aconite",
    "elderberries",
    "honey",
    "seeds of",
    "leaves of",
    "castor",
    "yew berries",
    "yew berry",
    "holly berries",
    "pit",
    "pits",
    "stone",
    "kernel",
    "kernels",
    "mothballs",
    "tulip",
    "hyacinth",
    "hydrangea",
];

/// What is dangerous to the animals of a house.
const ANIMAL_HAZARD: &[&str] = &[
    "onion",
    "onions",
    "garlic",
    "leek",
    "leeks",
    "chives",
    "grape",
    "grapes",
    "raisin",
    "raisins",
    "chocolate",
    "xylitol",
    "macadamia",
    "avocado",
    "mushroom",
    "mushrooms",
    "cooked bone",
    "cooked bones",
    "dough",
    "coffee",
    "rhubarb",
    "currants",
    "sultanas",
    "stew",
    "nuts",
    "mouldy",
    "moldy",
    "pit",
    "pits",
    "stone",
    "bulb",
    "lily",
];

const SICK: &[&str] = &[
    "feel sick",
    "feels sick",
    "feeling sick",
    "throwing up",
    "threw up",
    "vomiting",
    "vomited",
    "stomach ache",
    "tummy ache",
    "stomach hurts",
    "tummy hurts",
    "poisoned",
    "food poisoning",
    "is sick",
    "are sick",
    "diarrhea",
    "diarrhoea",
    "dizzy",
    "now i feel",
    "been sick",
    "swelling",
    "can't breathe",
];

const BERRY: &[&str] = &["berry", "berries"];

const THIRD: &[&str] = &["she", "he", "someone", "somebody", "they"];

/// Things without a name that somebody found.
const UNNAMED: &[&str] = &[
    "one of the berries",
    "some of the berries",
    "a berry",
    "some berries",
    "those berries",
    "these berries",
    "a few berries",
    "of the berries",
    "of those berries",
    "of these berries",
    "the berries",
    "of those mushrooms",
    "one of the mushrooms",
    "those mushrooms",
    "of the seeds",
    "one of the seeds",
    "some leaves",
    "a leaf",
    "the leaves",
    "some of the leaves",
    "of the leaves",
];

/// Any wording of it.
pub fn eaten_already(q: &Question<'_>) -> Option<Found> {
    let ate = q.range.clone().find(|i| ATE.contains(&q.word(*i)))?;
    if !happened(q, ate) || q.has(Class::Elsewhere) {
        return None;
    }
    let has =
        |words: &'static [&'static str]| words.iter().find(|word| q.find(word).is_some()).copied();
    let before = |words: &'static [&'static str]| {
        words.iter().find(|word| q.find(word).is_some_and(|at| at < ate)).copied()
    };
    let swallowed = q.word(ate).starts_with("swallow") || q.word(ate) == "ingested";
    let mouth_food = q.food() || q.any(&[Class::Part]) || has(BERRY).is_some();
    if let Some(animal) = before(ANIMAL) {
        let risky = has(ANIMAL_HAZARD).or_else(|| has(HAZARD)).is_some() || swallowed;
        return risky.then(|| Found::about(Intent::EatenAlready, animal)).flatten();
    }
    let child = before(CHILD);
    let who = child.unwrap_or("person");
    let hazard = has(HAZARD).is_some_and(|word| {
        word != "honey" || matches!(child, Some("baby" | "infant" | "newborn"))
    });
    if hazard
        && (mouth_food || swallowed || !q.foods.is_empty() || q.unknown.is_some())
        && !negated_hazard(q)
    {
        return Found::about(Intent::EatenAlready, who);
    }
    if swallowed && (mouth_food || child.is_some()) {
        return Found::about(Intent::EatenAlready, who);
    }
    let third = before(THIRD).is_some() || child.is_some();
    let unnamed_berry = has(UNNAMED);
    if third && unnamed_berry.is_some() {
        return Found::about(Intent::EatenAlready, who);
    }
    // Ill after food.
    if has(SICK).is_some() && mouth_food {
        return Found::about(Intent::EatenAlready, who);
    }
    None
}

/// Past or perfect: not "can she eat", "don't eat", "before you eat".
fn happened(q: &Question<'_>, ate: usize) -> bool {
    let word = q.word(ate);
    let back = |n: usize| ate.checked_sub(n).map_or("", |i| q.word(i));
    if matches!(word, "eat" | "swallow") {
        return q.says(&["did eat", "did swallow"]);
    }
    if matches!(word, "eaten" | "drunk" | "chewing" | "swallowing") {
        let near = [back(1), back(2), back(3)];
        let perfect = near.iter().any(|w| {
            matches!(
                *w,
                "has"
                    | "have"
                    | "'s"
                    | "s"
                    | "had"
                    | "just"
                    | "been"
                    | "i've"
                    | "she's"
                    | "he's"
                    | "we've"
                    | "they've"
                    | "i'd"
                    | "already"
                    | "is"
                    | "after"
                    | "was"
            )
        });
        let passive = near.iter().any(|w| matches!(*w, "be" | "can" | "should" | "could"));
        return perfect && !passive;
    }
    !matches!(back(1), "never" | "nobody" | "to" | "would've" | "almost" | "nearly" | "no")
        && !matches!(q.word(q.range.start), "if" | "imagine")
        && !q.says(&["if she ate", "if he ate", "if i ate", "if someone ate", "what if"])
}

/// "ate the last ripe plum": the hazard word is part of another thing.
fn negated_hazard(q: &Question<'_>) -> bool {
    q.says(&[
        "not mouldy",
        "not moldy",
        "wild rice",
        "wild garlic",
        "stone fruit",
        "stone soup",
        "a pit stop",
        "pitted",
        "wild boar",
        "wild salmon",
        "pit bull",
        "wild card",
        "went wild",
        "go wild",
    ])
}
