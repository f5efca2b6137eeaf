//! Facts of published sources, seen through real answers.

use larderling::words::Verdict;

use super::{ask, plain};

/// Question, verdict, words the answer holds, published source.
type Check = (&'static str, Verdict, &'static [&'static str], &'static str);

const CHECKS: &[Check] = &[
    // FoodSafety.gov cold storage chart; USDA FSIS leftovers.
    (
        "is the stew i made 3 days ago ok?",
        Verdict::Use,
        &["4 days"],
        "FoodSafety.gov, cold food storage chart: soups and stews 3-4 days",
    ),
    (
        "is the stew i made 4 days ago ok?",
        Verdict::Discard,
        &["4 days"],
        "FoodSafety.gov, cold food storage chart: soups and stews 3-4 days",
    ),
    (
        "raw mince 3 days in the fridge ok?",
        Verdict::Discard,
        &["2 days"],
        "FoodSafety.gov: ground meat 1-2 days",
    ),
    (
        "how long do eggs keep in the fridge?",
        Verdict::Keeps,
        &["weeks"],
        "FoodSafety.gov: raw eggs in shell 3-5 weeks",
    ),
    (
        "how long does cooked chicken keep?",
        Verdict::Keeps,
        &["4 days"],
        "FoodSafety.gov: cooked poultry 3-4 days",
    ),
    (
        "fridge was off 5 hours",
        Verdict::Discard,
        &["4 hours"],
        "FoodSafety.gov, power outages: a shut fridge keeps 4 hours",
    ),
    (
        "freezer was off 49 hours",
        Verdict::Discard,
        &["48 hours"],
        "FoodSafety.gov, power outages: a full freezer 48 hours",
    ),
    ("pizza left out 3 hours ok?", Verdict::Discard, &["2 hours"], "USDA FSIS: the two-hour rule"),
    // FDA Food Code.
    (
        "can i thaw fish on the counter?",
        Verdict::DoNot,
        &["fridge"],
        "FDA Food Code 3-501.13: thawing",
    ),
    (
        "cut melon left out 3 hours ok?",
        Verdict::Discard,
        &["2 hours"],
        "FDA Food Code 1-201.10: cut melons need the cold",
    ),
    // NCHFP and extension blanching tables.
    (
        "how do i freeze broccoli?",
        Verdict::HowTo,
        &["3 minutes"],
        "NDSU Extension, freezing vegetables: broccoli 3 min",
    ),
    (
        "how do i freeze green beans?",
        Verdict::HowTo,
        &["3 minutes"],
        "NCHFP / Univ. of Georgia: green beans 3 min",
    ),
    (
        "how do i freeze spinach?",
        Verdict::HowTo,
        &["2 minutes", "1.5"],
        "Univ. of Minnesota Extension: greens 2 min, tender spinach 1.5 min",
    ),
    (
        "how do i freeze peas?",
        Verdict::HowTo,
        &["1 1/2 minutes"],
        "blanching timetable (C): shelled peas 1.5 min",
    ),
    (
        "how do i freeze onions?",
        Verdict::HowTo,
        &["No blanching"],
        "Univ. of Nebraska Extension: chopped onions raw",
    ),
    (
        "how long does garlic in oil keep?",
        Verdict::Keeps,
        &["4 days"],
        "NCHFP, garlic in oil, 2015: 4 days",
    ),
    // CDC, EFSA, poison centres, universities on parts.
    ("can you eat rhubarb leaves?", Verdict::Toxic, &["oxalic"], "Univ. of Idaho FCS 270"),
    ("are raw elderberries ok?", Verdict::Toxic, &["cyanide"], "CDC MMWR, elderberry juice, 1984"),
    ("can you eat water hemlock?", Verdict::Toxic, &[], "CDC MMWR, water hemlock, 1994"),
    ("are apricot kernels ok?", Verdict::Toxic, &["three"], "EFSA Journal 2016;14(4):4424"),
    (
        "are raw kidney beans ok?",
        Verdict::Toxic,
        &["4 or 5 beans", "30 minutes"],
        "Ohio State Univ. citing the FDA Bad Bug Book",
    ),
    (
        "can you eat potato sprouts?",
        Verdict::Toxic,
        &["solanine"],
        "Hong Kong CFS, report 27, 2007",
    ),
    (
        "is starfruit ok with kidney disease?",
        Verdict::Unknown,
        &["kidney"],
        "National Kidney Foundation",
    ),
    ("can my baby have honey?", Verdict::Unknown, &["12 months"], "INSPQ, honey"),
    (
        "bitter zucchini ok?",
        Verdict::Toxic,
        &["cooking"],
        "Pacific Northwest Plant Disease Handbook",
    ),
    (
        "can you eat beet greens?",
        Verdict::Edible,
        &[],
        "Texas A&M Extension, table of edible parts, 2002",
    ),
    ("can you eat carrot tops?", Verdict::Edible, &[], "Univ. of Maryland Extension, 2011"),
    ("are radish leaves ok?", Verdict::Edible, &[], "Univ. of Maryland Extension, 2011"),
    (
        "mouldy carrot, firm, ok?",
        Verdict::Limited,
        &["2.5 cm"],
        "USDA FSIS, molds on food: firm produce",
    ),
    ("mouldy bread ok?", Verdict::Discard, &[], "USDA FSIS, molds on food"),
    ("sprouted onions ok?", Verdict::Use, &[], "Penn State Food Science, 2024"),
    // UC Davis and Handbook 66.
    (
        "can apples sit with carrots?",
        Verdict::Place,
        &["ethylene"],
        "UC Davis: carrots turn bitter in ethylene",
    ),
    (
        "can pears sit with kale?",
        Verdict::Place,
        &["ethylene"],
        "USDA Handbook 66: ethylene and leafy greens",
    ),
    ("where do bananas go?", Verdict::Place, &["counter"], "UC Davis: chilling injury below 13 C"),
    (
        "where do potatoes go?",
        Verdict::Place,
        &["cool, dark"],
        "Iowa State Univ., home vegetable storage",
    ),
    // USDA SR28 weights.
    (
        "how many grams is a cup of rhubarb?",
        Verdict::HowTo,
        &["163 g"],
        "USDA SR28: rhubarb, 1 cup diced 122 g edible, 25 % refuse",
    ),
    (
        "2 pounds in grams?",
        Verdict::HowTo,
        &["907 g"],
        "NIST Handbook 44: the pound is 453.59237 g",
    ),
];

#[test]
fn published_facts_come_through_the_answers() {
    let mut wrong = Vec::new();
    for (question, verdict, words, source) in CHECKS {
        let answer = ask(question);
        let text = plain(&answer);
        let missing: Vec<_> = words.iter().filter(|word| !text.contains(**word)).collect();
        if answer.verdict != *verdict || !missing.is_empty() {
            wrong.push(format!(
                "{question} ({source}): {} wants {verdict}, missing {missing:?}\n    {text}",
                answer.verdict
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
