//! What never happens, whatever the wording: a thing the table calls toxic, thrown out or unknown
//! gets a verdict that lets somebody eat it.

use std::sync::OnceLock;

use larderling::words::Verdict;
use proptest::prelude::*;

use super::{STRICT, ask, bench, plain};

/// Names of parts and states the table forbids, as people would say them.
fn forbidden_things() -> &'static [String] {
    static THINGS: OnceLock<Vec<String>> = OnceLock::new();
    THINGS.get_or_init(|| {
        let mut things = Vec::new();
        for food in &bench().rules.foods {
            for part in &food.parts {
                if !STRICT.contains(&part.verdict) {
                    continue;
                }
                let state = ["raw", "unripe", "mouldy", "bitter"].contains(&part.id.as_str());
                if part.main || food.hazard {
                    things.push(food.name.clone());
                } else if state {
                    things.push(format!("{} {}", part.id, food.plural));
                } else {
                    things.push(format!("{} {}", food.name, part.id));
                    things.push(format!("{} of the {}", part.id, food.name));
                }
            }
        }
        things
    })
}

const WORDINGS: &[&str] = &[
    "can you eat {}?",
    "is it ok to eat {}",
    "are {} poisonous?",
    "is {} safe?",
    "{} edible?",
    "can i cook {}",
    "should i bin {}?",
    "just a little {} is fine, right?",
    "grandma always ate {}, ok?",
    "hey, quick one: {} in a salad, yes or no",
    "CAN I EAT {}??",
    "i read online that {} is healthy, true?",
    "what about {} and carrots",
    "why shouldn't i eat {}",
    "isn't {} good for you?",
    "{} for dinner tonight ok if i boil it for an hour?",
];

/// One slip of the typing finger in a long word.
fn slip(text: &str, at: usize, kind: u8) -> String {
    let mut words: Vec<String> = text.split(' ').map(str::to_owned).collect();
    let long: Vec<usize> = (0..words.len()).filter(|&i| words[i].chars().count() >= 6).collect();
    let Some(&i) = long.get(at % long.len().max(1)) else { return text.to_owned() };
    let mut letters: Vec<char> = words[i].chars().collect();
    let place = 2 + at % (letters.len() - 3);
    match kind % 3 {
        0 => {
            letters.remove(place);
        }
        1 => letters.swap(place, place + 1),
        _ => letters.insert(place, letters[place]),
    }
    words[i] = letters.into_iter().collect();
    words.join(" ")
}

fn plural_slip(text: &str) -> String {
    text.replace("leaf", "leafs").replace("berry", "berrys")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn prop_what_the_table_forbids_is_never_allowed(
        thing in prop::sample::select(forbidden_things()),
        wording in prop::sample::select(WORDINGS),
        at in 0usize..40,
        kind in 0u8..5,
        slips in 0u8..3,
    ) {
        let thing = match slips {
            0 => thing,
            1 => slip(&thing, at, kind),
            _ => plural_slip(&thing),
        };
        let question = wording.replace("{}", &thing);
        let answer = ask(&question);
        prop_assert!(
            STRICT.contains(&answer.verdict),
            "{}: {} ({})", question, answer.verdict, plain(&answer)
        );
    }

    #[test]
    fn prop_a_part_nobody_knows_is_never_allowed(
        food in prop::sample::select(produce()),
        part in "[b-df-hj-np-tv-z][aeiou][b-df-hj-np-tv-z]{2}[aeiou][kgvz]s",
        wording in prop::sample::select(&["can you eat {}?", "are {} poisonous?", "{} ok raw?", "is {} safe"][..]),
    ) {
        let question = wording.replace("{}", &format!("{food} {part}"));
        let answer = ask(&question);
        prop_assert!(
            STRICT.contains(&answer.verdict),
            "{}: {} ({})", question, answer.verdict, plain(&answer)
        );
    }

    #[test]
    fn prop_spoiled_food_is_never_allowed_unless_its_own_rule_says_trim(
        food in prop::sample::select(everything()),
        sign in prop::sample::select(&["mouldy", "moldy", "slimy", "rotten", "fuzzy", "putrid", "maggoty mouldy", "leaking"][..]),
        wording in prop::sample::select(&["{} ok?", "can i still eat {}?", "is {} bad?", "just a bit of {}?", "i scraped off the {}, ok?"][..]),
    ) {
        let question = wording.replace("{}", &format!("{sign} {food}"));
        let answer = ask(&question);
        let trims = answer.verdict == Verdict::Limited;
        prop_assert!(
            STRICT.contains(&answer.verdict) || trims,
            "{}: {} ({})", question, answer.verdict, plain(&answer)
        );
    }

    #[test]
    fn prop_any_text_gets_an_answer(text in "\\PC{0,200}") {
        let answer = ask(&text);
        prop_assert!(!answer.text.is_empty());
    }
}

fn produce() -> &'static [String] {
    static NAMES: OnceLock<Vec<String>> = OnceLock::new();
    NAMES.get_or_init(|| {
        let foods = bench().rules.foods.iter().filter(|food| food.kind.is_produce());
        foods.map(|food| food.name.clone()).collect()
    })
}

fn everything() -> &'static [String] {
    static NAMES: OnceLock<Vec<String>> = OnceLock::new();
    NAMES.get_or_init(|| bench().rules.foods.iter().map(|food| food.plural.clone()).collect())
}
