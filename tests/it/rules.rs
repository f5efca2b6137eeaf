//! The rule set: the bundle is sound, its facts agree with the published sources named beside
//! each, and the checker finds what is wrong with bad data, all of it at once.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::sync::LazyLock;

use larderling::rules::{Faults, Food, Found, Grade, Hours, PoisonRole, Rules, Topic, Who};
use larderling::rules::{grade_counts, normalise};
use larderling::units::{Ratio, Unit};
use larderling::words::{FoodId, Form, Place, Verdict};
use proptest::prelude::*;

static RULES: LazyLock<Rules> = LazyLock::new(|| match Rules::embedded() {
    Ok(rules) => rules,
    Err(faults) => panic!("{} faults in the embedded rule set\n{faults}", faults.0.len()),
});

fn food(id: &str) -> &'static Food {
    RULES.food(&FoodId::new(id)).unwrap_or_else(|| panic!("no food {id}"))
}

/// The verdict on a part and the short name of its source.
fn verdict(id: &str, part: &str) -> (Verdict, &'static str, Grade) {
    let part = food(id).part(part).unwrap_or_else(|| panic!("{id} has no part {part}"));
    (part.verdict, &RULES.source(part.cite).short, part.cite.grade)
}

#[test]
fn the_embedded_rule_set_has_no_fault() {
    assert!(!RULES.foods.is_empty());
    assert_eq!(RULES.version.len(), 16);
}

#[test]
fn at_least_160_foods_are_covered_and_hazards_are_not_counted() {
    let foods = RULES.foods.iter().filter(|food| !food.hazard).count();
    assert!(foods >= 160, "{foods} foods");
    for id in [
        "carrot",
        "potato",
        "spinach",
        "kale",
        "lettuce",
        "leek",
        "garlic",
        "celery",
        "asparagus",
        "tomato",
        "rhubarb",
        "apple",
        "banana",
        "strawberry",
        "grape",
        "basil",
        "parsley",
        "mushroom",
        "kidney_bean",
        "chickpea",
        "lentil",
        "rice",
        "pasta",
        "bread",
        "oats",
        "almond",
        "milk",
        "egg",
        "hard_cheese",
        "yogurt",
        "tofu",
        "plant_milk",
        "hummus",
        "soup",
        "stew",
        "leftovers",
        "canned_beans",
        "canned_tomatoes",
        "stock",
        "jam",
        "poultry",
        "meat",
        "fish",
        "ground_meat",
        "bacon",
        "shellfish",
        "pesto",
        "mayonnaise",
        "ketchup",
        "honey",
    ] {
        assert!(!food(id).hazard, "{id}");
    }
}

#[test]
fn nothing_called_a_hazard_has_an_edible_part() {
    for food in RULES.foods.iter().filter(|food| food.hazard) {
        for part in &food.parts {
            let eaten = matches!(part.verdict, Verdict::Edible | Verdict::EdibleWhenCooked);
            assert!(!eaten, "{}.{}", food.id, part.id);
        }
    }
}

#[test]
fn edible_parts_agree_with_their_published_sources() {
    use Verdict::{Edible, EdibleWhenCooked, Limited};
    let cases = [
        ("carrot", "tops", Edible, "Univ. of Maryland Extension"),
        ("beet", "greens", Edible, "Texas A&M Extension"),
        ("turnip", "greens", Edible, "Texas A&M Extension"),
        ("radish", "greens", Edible, "Univ. of Maryland Extension"),
        ("kohlrabi", "leaves", Edible, "Univ. of Maryland Extension"),
        ("broccoli", "stalk", Edible, "Texas A&M Extension"),
        ("broccoli", "leaves", Edible, "Univ. of Maryland Extension"),
        ("broccoli", "flowers", Edible, "Univ. of Hawaii CTAHR"),
        ("cauliflower", "leaves", Edible, "Texas A&M Extension"),
        ("cauliflower", "core", Edible, "Texas A&M Extension"),
        ("collards", "flower bud", Edible, "Univ. of Maryland Extension"),
        ("bok_choy", "flower stalk", Edible, "Univ. of Maryland Extension"),
        ("celery", "leaves", Edible, "Texas A&M Extension"),
        ("parsley", "root", Edible, "Extension column"),
        ("chives", "flower", Edible, "Colorado State Extension"),
        ("onion", "green top", Edible, "Texas A&M Extension"),
        ("onion", "sprout", Edible, "Penn State"),
        ("garlic", "sprout", Edible, "Penn State"),
        ("pea", "shoot", Edible, "Univ. of Maryland Extension"),
        ("snow_pea", "pod", Edible, "Texas A&M Extension"),
        ("zucchini", "flower", Edible, "Texas A&M Extension"),
        ("zucchini", "young leaf", EdibleWhenCooked, "Univ. of Maryland Extension"),
        ("winter_squash", "seeds", Edible, "Texas A&M Extension"),
        ("winter_squash", "flowers", Edible, "Texas A&M Extension"),
        ("winter_squash", "leaves", EdibleWhenCooked, "Univ. of Maryland Extension"),
        ("pumpkin", "seeds", Edible, "Texas A&M Extension"),
        ("watermelon", "rind", Edible, "Texas A&M Extension"),
        ("watermelon", "seeds", Edible, "Texas A&M Extension"),
        ("chayote", "seed", Edible, "Univ. of Florida IFAS"),
        ("okra", "leaves", EdibleWhenCooked, "Univ. of Maryland Extension"),
        ("corn", "young ear", Edible, "Texas A&M Extension"),
        ("sweet_potato", "leaves", EdibleWhenCooked, "Texas A&M Extension"),
        ("green_bean", "pod", EdibleWhenCooked, "Univ. of Guelph"),
        ("green_bean", "leaf", EdibleWhenCooked, "Univ. of Maryland Extension"),
        ("kidney_bean", "seed", EdibleWhenCooked, "Univ. of Guelph"),
        ("bean_sprout", "sprout", EdibleWhenCooked, "Canadian federal advice"),
        ("alfalfa_sprout", "raw", EdibleWhenCooked, "Canadian federal advice"),
        ("cassava", "root", EdibleWhenCooked, "Food Safety Information Council (AU)"),
        ("bamboo_shoot", "shoot", EdibleWhenCooked, "Food Safety Information Council (AU)"),
        ("grape", "leaves", EdibleWhenCooked, "Michigan State Extension"),
        ("bell_pepper", "seeds", Edible, "Texas A&M Extension"),
        ("salsify", "leaf", Edible, "Univ. of Maryland Extension"),
        ("black_eyed_pea", "leaf", EdibleWhenCooked, "Univ. of Maryland Extension"),
        ("nasturtium", "flower", Edible, "UF/IFAS Extension NW District"),
        ("dandelion", "greens", Edible, "New Jersey Department of Agriculture"),
        ("fiddlehead", "fiddlehead", EdibleWhenCooked, "Health Canada"),
        ("potato", "peel", EdibleWhenCooked, "Hong Kong CFS"),
        ("elderberry", "berries", Limited, "Clemson (SC Public Radio)"),
    ];
    let mut wrong = String::new();
    for (id, part, expected, source) in cases {
        let (found, short, grade) = verdict(id, part);
        let published = grade <= Grade::B || expected == Limited;
        if found != expected || short != source || !published {
            let _ = writeln!(wrong, "{id} {part}: {found} {short:?} {}", grade.letter());
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn toxic_and_not_food_parts_agree_with_their_published_sources() {
    use Verdict::{NotFood, Toxic};
    let cases = [
        ("rhubarb", "leaf", Toxic),
        ("rhubarb", "root", Toxic),
        ("potato", "leaf", Toxic),
        ("potato", "green part", Toxic),
        ("potato", "sprouts", Toxic),
        ("potato", "berry", Toxic),
        ("parsnip", "tops", Toxic),
        ("kidney_bean", "raw", Toxic),
        ("kidney_bean", "sprouts", Toxic),
        ("white_kidney_bean", "raw", Toxic),
        ("lima_bean", "raw", Toxic),
        ("soybean", "raw", Toxic),
        ("cassava", "raw", Toxic),
        ("cassava", "peel", Toxic),
        ("taro", "raw", Toxic),
        ("bamboo_shoot", "raw", Toxic),
        ("fiddlehead", "raw", Toxic),
        ("elderberry", "raw", Toxic),
        ("elderberry", "leaf", Toxic),
        ("asparagus", "berries", Toxic),
        ("tomatillo", "leaves", Toxic),
        ("ground_cherry", "unripe", Toxic),
        ("jicama", "seeds", Toxic),
        ("apple", "seeds", Toxic),
        ("cherry", "pit", Toxic),
        ("peach", "kernel", Toxic),
        ("plum", "kernel", Toxic),
        ("apricot", "kernel", Toxic),
        ("ackee", "unripe", Toxic),
        ("ginkgo", "raw", Toxic),
        ("cashew", "shell", Toxic),
        ("zucchini", "bitter", Toxic),
        ("wild_mushroom", "any", Toxic),
        ("daffodil", "bulb", Toxic),
        ("lily_of_the_valley", "leaf", Toxic),
        ("pokeweed", "leaf", Toxic),
        ("water_hemlock", "root", Toxic),
        ("poison_hemlock", "any", Toxic),
        ("foxglove", "leaf", Toxic),
        ("autumn_crocus", "leaf", Toxic),
        ("castor_bean", "seed", Toxic),
        ("comfrey", "leaf", Toxic),
        ("tomato", "leaves", NotFood),
        ("eggplant", "leaves", NotFood),
        ("borage", "leaf", NotFood),
        ("avocado", "pit", NotFood),
    ];
    let mut wrong = String::new();
    for (id, part, expected) in cases {
        let (found, source, grade) = verdict(id, part);
        if found != expected || !grade.is_published() {
            let _ = writeln!(wrong, "{id} {part}: {found} {source:?} {}", grade.letter());
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn a_part_the_table_does_not_list_is_unknown() {
    for (id, part) in [("carrot", "flower"), ("apple", "leaf"), ("milk", "bone"), ("kale", "root")]
    {
        assert_eq!(food(id).part(part), None, "{id} {part}");
    }
}

/// Home lives at the place named: form, place, days, source.
#[test]
fn home_lives_are_the_published_figures() {
    let cases = [
        ("carrot", Form::Whole, Place::Fridge, (7, 14), "Univ. of Missouri Extension"),
        ("celery", Form::Whole, Place::Crisper, (7, 14), "Univ. of Missouri Extension"),
        ("cabbage", Form::Whole, Place::Fridge, (7, 14), "Univ. of Missouri Extension"),
        ("cabbage", Form::Cut, Place::Fridge, (1, 2), "Univ. of Missouri Extension"),
        ("mushroom", Form::Whole, Place::Fridge, (1, 2), "Univ. of Missouri Extension"),
        ("asparagus", Form::Whole, Place::Fridge, (1, 2), "Univ. of Missouri Extension"),
        ("strawberry", Form::Whole, Place::Fridge, (1, 2), "Univ. of Missouri Extension"),
        ("butter", Form::Whole, Place::Fridge, (7, 14), "Univ. of Missouri Extension"),
        ("garlic", Form::Whole, Place::CoolDark, (90, 150), "L. Harris"),
        ("basil", Form::InWater, Place::Counter, (7, 14), "UC Davis Postharvest Center"),
        ("egg", Form::Whole, Place::Fridge, (14, 35), "Univ. of Missouri Extension"),
        ("poultry", Form::Whole, Place::Fridge, (1, 2), "FoodSafety.gov"),
        ("ground_meat", Form::Whole, Place::Fridge, (1, 2), "FoodSafety.gov"),
        ("ground_meat", Form::Frozen, Place::Freezer, (90, 120), "FoodSafety.gov"),
        ("meat", Form::Whole, Place::Fridge, (3, 5), "FoodSafety.gov"),
        ("bacon", Form::Whole, Place::Fridge, (7, 7), "FoodSafety.gov"),
        ("deli_meat", Form::Opened, Place::Fridge, (3, 5), "FoodSafety.gov"),
        ("soup", Form::Cooked, Place::Fridge, (3, 4), "FoodSafety.gov"),
        ("leftovers", Form::Cooked, Place::Fridge, (3, 4), "Univ. of Illinois Extension"),
        ("rice", Form::Cooked, Place::Fridge, (1, 1), "UK FSA"),
        ("chickpea", Form::Cooked, Place::Fridge, (3, 4), "Univ. of Maine Extension"),
        ("pesto", Form::Whole, Place::Fridge, (1, 3), "NCHFP"),
        ("canned_beans", Form::Opened, Place::Fridge, (3, 4), "USDA FSIS"),
        ("canned_tomatoes", Form::Opened, Place::Fridge, (5, 7), "USDA FSIS"),
        ("tomato", Form::Cut, Place::Fridge, (1, 3), "Oklahoma State Extension"),
        ("kale", Form::Frozen, Place::Freezer, (240, 365), "NCHFP"),
    ];
    let mut wrong = String::new();
    for (id, form, place, (min, max), source) in cases {
        let life = RULES.life(food(id), form, &place).unwrap_or_else(|| panic!("{id} {form}"));
        let short = &RULES.source(life.cite).short;
        if (life.days.min, life.days.max) != (min, max) || short != source {
            let _ = writeln!(wrong, "{id} {form} {place}: {:?} {short:?}", life.days);
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

/// The last day a form may be eaten, the first day being day 1.
#[test]
fn safety_limits_are_the_published_ones() {
    let days = |days| (None, Some(days));
    let hours = |hours| (Some(hours), None);
    let cases = [
        ("leftovers", Form::Whole, days(4), "Univ. of Illinois Extension"),
        ("soup", Form::Cooked, days(4), "FoodSafety.gov"),
        ("carrot", Form::Cooked, days(4), "Ohio State Univ."),
        ("chickpea", Form::Cooked, days(4), "Ohio State Univ."),
        ("rice", Form::Cooked, days(1), "UK FSA"),
        ("rice_dish", Form::Whole, days(1), "UK FSA"),
        ("garlic_in_oil", Form::Whole, days(4), "NCHFP"),
        ("pesto", Form::Whole, days(3), "NCHFP"),
        ("melon", Form::Cut, days(2), "ANSES (FR)"),
        ("cantaloupe", Form::Cut, days(2), "ANSES (FR)"),
        ("watermelon", Form::Cut, days(2), "ANSES (FR)"),
        ("tomato", Form::Cut, days(7), "FDA Food Code (Minnesota)"),
        ("lettuce", Form::Cut, days(7), "FDA Food Code (Minnesota)"),
        ("spinach", Form::Cut, days(7), "FDA Food Code (Minnesota)"),
        ("bean_sprout", Form::Whole, days(2), "UK advice"),
        ("canned_beans", Form::Opened, days(4), "USDA FSIS"),
        ("potato", Form::InWater, hours(24), "Idaho Potato Commission"),
        ("poultry", Form::Whole, days(2), "FoodSafety.gov"),
        ("ground_meat", Form::Whole, days(2), "FoodSafety.gov"),
        ("meat", Form::Whole, days(5), "FoodSafety.gov"),
        ("boiled_egg", Form::Whole, days(7), "FoodSafety.gov"),
        ("fish", Form::Whole, days(2), "FoodSafety.gov"),
        ("stew", Form::Thawed, hours(24), "FDA Food Code (Minnesota)"),
    ];
    let mut wrong = String::new();
    for (id, form, expected, source) in cases {
        let Some(limit) = RULES.safety_limit(food(id), form, &Place::Fridge) else {
            let _ = writeln!(wrong, "{id} {form}: none");
            continue;
        };
        let short = &RULES.source(limit.cite).short;
        if (limit.hours, limit.days) != expected || short != source {
            let _ = writeln!(wrong, "{id} {form}: {:?} {:?} {short:?}", limit.hours, limit.days);
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
    for id in ["carrot", "apple", "onion", "bread", "honey", "ketchup"] {
        assert_eq!(RULES.safety_limit(food(id), Form::Whole, &Place::Fridge), None, "{id}");
    }
}

/// Two hours, one in great heat, one for rice; FoodSafety.gov, USDA and the UK FSA.
#[test]
fn the_clocks_in_hours_are_the_published_ones() {
    let minutes = |id, form| RULES.left_out(food(id), form).map(|limit| limit.minutes);
    for (id, form) in [
        ("stew", Form::Whole),
        ("soup", Form::Cooked),
        ("melon", Form::Cut),
        ("carrot", Form::Cooked),
        ("poultry", Form::Whole),
        ("milk", Form::Whole),
        ("egg", Form::Whole),
        ("tofu", Form::Whole),
        ("canned_beans", Form::Opened),
        ("fish", Form::Thawed),
        ("bean_sprout", Form::Whole),
    ] {
        assert_eq!(minutes(id, form), Some(120), "{id} {form}");
    }
    assert_eq!(minutes("rice", Form::Cooked), Some(60));
    assert_eq!(minutes("rice_dish", Form::Whole), Some(60));
    for (id, form) in [
        ("apple", Form::Whole),
        ("bread", Form::Cut),
        ("butter", Form::Opened),
        ("hard_cheese", Form::Cut),
        ("ketchup", Form::Opened),
        ("jam", Form::Opened),
        ("rice", Form::Whole),
        ("canned_beans", Form::Whole),
    ] {
        assert_eq!(minutes(id, form), None, "{id} {form}");
    }
    let (out, outage) = (RULES.general.left_out, RULES.general.outage);
    assert_eq!((out.hot_minutes, out.hot_above_c), (60, 32.0));
    assert_eq!((outage.fridge_hours, outage.freezer_half_hours), (4, 24));
    assert_eq!((outage.freezer_full_hours, outage.warm_minutes), (48, 120));
}

/// Chilling limits in degrees Celsius: USDA Agriculture Handbook 66 and UC Davis (Cantwell 2001).
#[test]
fn chilling_limits_are_those_of_handbook_66_and_uc_davis() {
    let cases = [
        ("eggplant", 7.0),
        ("bell_pepper", 7.0),
        ("cucumber", 7.0),
        ("sweet_potato", 13.0),
        ("avocado", 4.5),
        ("okra", 7.0),
        ("banana", 13.0),
        ("basil", 10.0),
        ("green_bean", 7.0),
    ];
    for (id, limit) in cases {
        let conditions = food(id).conditions.as_ref().unwrap_or_else(|| panic!("{id}"));
        assert_eq!(conditions.chilling_below_c, Some(limit), "{id}");
    }
    for id in ["carrot", "lettuce", "broccoli", "leek"] {
        let conditions = food(id).conditions.as_ref().unwrap_or_else(|| panic!("{id}"));
        assert_eq!(conditions.chilling_below_c, None, "{id}");
    }
}

/// Seconds in boiling water: NCHFP (Univ. of Georgia), North Dakota State and Univ. of Minnesota
/// Extension.
#[test]
fn blanching_times_are_the_published_ones() {
    for (id, seconds) in [
        ("asparagus", 180),
        ("broccoli", 180),
        ("brussels_sprout", 240),
        ("artichoke", 420),
        ("collards", 180),
        ("kale", 120),
        ("spinach", 120),
        ("green_bean", 180),
        ("corn", 240),
        ("onion", 0),
        ("bell_pepper", 0),
        ("tomato", 0),
    ] {
        let freeze = food(id).freeze.as_ref().unwrap_or_else(|| panic!("{id}"));
        assert_eq!(freeze.blanch_seconds, Some(seconds), "{id}");
        assert!(freeze.advised, "{id}");
    }
    for id in ["lettuce", "cucumber", "radish"] {
        assert!(food(id).freeze.as_ref().is_some_and(|freeze| !freeze.advised), "{id}");
    }
}

/// Edible grams of the USDA National Nutrient Database (SR28, 2015) over the share that is not
/// refuse: what one buys.
#[test]
fn weights_are_those_of_usda_sr28_as_bought() {
    for (id, unit, size, grams) in [
        ("carrot", Unit::Piece, None, 69),
        ("carrot", Unit::Piece, Some("large"), 81),
        ("onion", Unit::Piece, None, 122),
        ("apple", Unit::Piece, None, 202),
        ("banana", Unit::Piece, None, 184),
        ("egg", Unit::Piece, None, 57),
        ("cucumber", Unit::Piece, None, 310),
        ("broccoli", Unit::Bunch, None, 997),
        ("lettuce", Unit::Head, None, 567),
        ("celery", Unit::Stalk, None, 45),
        ("celery", Unit::Rib, None, 45),
        ("cauliflower", Unit::Piece, None, 1508),
        ("mango", Unit::Piece, Some("huge"), 473),
    ] {
        let weight = food(id).weight(unit, size).unwrap_or_else(|| panic!("{id} {unit}"));
        assert_eq!(weight.grams, Ratio::whole(grams), "{id} {unit} {size:?}");
        assert_eq!(RULES.source(weight.cite).short, "USDA SR28", "{id} {unit}");
    }
    assert_eq!(food("carrot").weight(Unit::Gallon, None), None);
}

/// Rules of thumb of the trade: common practice, no source.
#[test]
fn common_practice_is_kept_and_marked() {
    let practice = |id: &str, days: (u32, u32)| {
        let lives = RULES.lives(food(id), Form::Whole, &Place::Fridge);
        lives.iter().any(|life| {
            (life.days.min, life.days.max) == days
                && life.cite.grade == Grade::P
                && life.alternative
        })
    };
    for id in ["apple", "cabbage", "carrot", "celery"] {
        assert!(practice(id, (21, 28)), "{id}: 21 to 28 days");
    }
    assert!(practice("leafy_greens", (14, 14)));
    assert_eq!(verdict("carrot", "tops").0, Verdict::Edible);
    assert_eq!(verdict("celery", "leaves").0, Verdict::Edible);
    assert_eq!(verdict("celery", "heart").0, Verdict::Edible);
    assert_ne!(verdict("celery", "base").0, Verdict::Edible);
    assert_eq!(verdict("potato", "leaf").0, Verdict::Toxic);
    assert_eq!(verdict("rhubarb", "leaf").0, Verdict::Toxic);
    for id in ["garlic", "onion"] {
        let places: Vec<&Place> = food(id).places.iter().map(|row| &row.place).collect();
        assert!(places.contains(&&Place::Counter) && !places.contains(&&Place::Fridge), "{id}");
    }
    assert!(food("sweet_potato").places.iter().all(|row| row.place != Place::Fridge));
    assert_eq!(food("potato").places[0].place, Place::CoolDark);
    let water = food("celery").water.as_ref().map(|water| (water.every_days, &water.place));
    assert_eq!(water, Some((1, &Place::Fridge)));
    let strong = food("cilantro").trimming(Some("stems")).map(|row| row.suitability);
    assert_eq!(strong, Some(larderling::rules::Suitability::SmallAmounts));
    let base = food("celery").trimming(Some("base")).map(|row| row.suitability);
    assert_eq!(base, Some(larderling::rules::Suitability::Good));
    let frozen = food("banana").freeze.as_ref().map(|freeze| freeze.how.as_str());
    assert!(frozen.is_some_and(|how| how.contains("Peel") && how.contains("dated")));
}

#[test]
fn what_people_see_is_judged_strictest_first() {
    use Verdict::{Discard, Limited, Use};
    for (id, seen, expected) in [
        ("carrot", "limp", Use),
        ("carrot", "a bit bendy", Use),
        ("carrot", "limp and slimy", Discard),
        ("carrot", "mouldy", Limited),
        ("celery", "wilted", Use),
        ("strawberry", "mouldy", Discard),
        ("strawberry", "one mouldy", Discard),
        ("bread", "moldy", Discard),
        ("bread", "stale", Use),
        ("hard_cheese", "moldy", Limited),
        ("jam", "fuzzy", Discard),
        ("potato", "sprouting", Limited),
        ("potato", "completely green", Discard),
        ("sweet_potato", "mouldy", Discard),
        ("onion", "sprouting", Use),
        ("garlic", "turned blue", Use),
        ("zucchini", "bitter", Discard),
        ("canned_food", "bulging", Discard),
        ("milk", "lumpy", Discard),
        ("yogurt", "liquid on top", Use),
        ("avocado", "brown", Limited),
        ("banana", "black", Use),
        ("poultry", "slimy", Discard),
        ("dry_beans", "musty", Discard),
        ("leek", "slimy", Limited),
        ("rhubarb", "limp", Use),
        ("rhubarb", "limp after frost", Discard),
    ] {
        let sign = RULES.sign(food(id), seen).unwrap_or_else(|| panic!("{id} {seen}"));
        assert_eq!(sign.verdict, expected, "{id} {seen}: {}", sign.action);
    }
    assert_eq!(RULES.sign(food("carrot"), "purple with stripes"), None);
}

#[test]
fn the_same_food_answers_to_its_names_on_both_sides_of_the_ocean() {
    for (names, id) in [
        (["aubergine", "Eggplants"], "eggplant"),
        (["courgettes", "zucchini"], "zucchini"),
        (["swede", "rutabagas"], "rutabaga"),
        (["rocket", "arugula"], "arugula"),
        (["spring onions", "scallion"], "scallion"),
        (["mince", "ground beef"], "ground_meat"),
        (["capsicum", "bell peppers"], "bell_pepper"),
        (["beetroot", "beets"], "beet"),
        (["mangetout", "snow peas"], "snow_pea"),
        (["prawns", "shrimp"], "shrimp"),
        (["coriander", "cilantro"], "cilantro"),
        (["pak choi", "bok-choy"], "bok_choy"),
        (["broad beans", "fava bean"], "fava_bean"),
        (["sweetcorn", "corn on the cob"], "corn"),
        (["silverbeet", "Swiss chard"], "chard"),
        (["celery root", "celeriac"], "celeriac"),
        (["cooked rice", "leftover rice"], "rice"),
        (["yoghurt", "yogurts"], "yogurt"),
        (["frisée", "escarole"], "endive"),
        (["jalapeño", "jalapenos"], "jalapeno"),
    ] {
        for name in names {
            match RULES.find(name) {
                Found::One(found) => assert_eq!(found.id.as_str(), id, "{name}"),
                other => panic!("{name}: {other:?}"),
            }
        }
    }
    assert_eq!(RULES.find("spaceship"), Found::None);
}

#[test]
fn a_name_several_foods_share_is_ambiguous() {
    for name in ["beans", "Sprouts", "chili"] {
        let Found::Ambiguous(foods) = RULES.find(name) else { panic!("{name}") };
        assert!(foods.len() >= 2, "{name}");
    }
}

#[test]
fn a_poison_line_says_when_it_answers_and_doctors_lines_are_marked() {
    let us: Vec<_> = RULES.poison_lines("us").collect();
    assert_eq!(us[0].number, "1-800-222-1222");
    assert_eq!((us[0].role, us[0].hours), (PoisonRole::Poison, Hours::Always));
    let ie = RULES.poison_lines("IE").next().map(|line| line.hours);
    assert_eq!(ie, Some(Hours::Daily { from: 8 * 60, until: 22 * 60 }));
    let nl = RULES.poison_lines("NL").next().map(|line| line.role);
    assert_eq!(nl, Some(PoisonRole::ProfessionalsOnly));
    assert_eq!(RULES.poison_lines("XX").count(), 0);
}

#[test]
fn every_topic_has_guidance_and_refusals_never_say_edible() {
    for topic in Topic::ALL {
        assert!(RULES.guidance(*topic).is_some(), "{topic:?}");
    }
    for topic in [
        Topic::Foraged,
        Topic::WildMushroom,
        Topic::Pets,
        Topic::Medicine,
        Topic::Infants,
        Topic::Pregnancy,
        Topic::Allergy,
        Topic::HomeCanning,
        Topic::OnlyALittle,
        Topic::Tradition,
        Topic::EatenAlready,
        Topic::UnknownFood,
    ] {
        let verdict = RULES.guidance(topic).map(|row| row.verdict);
        assert_eq!(verdict, Some(Verdict::Unknown), "{topic:?}");
    }
}

#[test]
fn those_at_risk_are_named_for_their_foods() {
    let warned =
        |id: &str, who| RULES.at_risk(Some(&FoodId::new(id))).any(|row| row.who.contains(&who));
    assert!(warned("honey", Who::Infant));
    assert!(warned("starfruit", Who::KidneyDisease));
    assert!(warned("fava_bean", Who::G6pdDeficiency));
    assert!(warned("grapefruit", Who::OnMedicines));
    assert!(warned("bean_sprout", Who::Pregnant));
    assert!(!warned("starfruit", Who::Infant));
}

#[test]
fn the_version_changes_with_the_data() {
    let one = small("", "").map(|rules| rules.version);
    let two = small("wash = { text = \"rinse\", cite = \"A uni\" }", "").map(|rules| rules.version);
    assert!(one.is_ok() && one != two);
}

/// A rule set of one food, with more lines for it and more lines of general rules.
fn small(lines: &str, general: &str) -> Result<Rules, Faults> {
    let sources = r#"
        [uni]
        short = "Uni"
        full = "A university, 2020"
        [blog]
        short = "blog"
        full = "A page, 2020"
        [other]
        short = "other"
        full = "Another page, 2020"
        [practice]
        short = "common practice"
        full = "Common practice"
        [memory]
        short = "memory"
        full = "From memory"
    "#;
    let mut whole = String::from(
        r#"
        [left_out]
        minutes = 120
        hot_minutes = 60
        hot_above_c = 32.0
        cite = "A uni"
        [outage]
        fridge_hours = 4
        freezer_full_hours = 48
        freezer_half_hours = 24
        warm_minutes = 120
        warm_above_c = 4.4
        cite = "A uni"
        [bag]
        strong_share_percent = 20
        months = 6
        refused = ["mouldy"]
        cite = "P practice"
        "#,
    );
    for topic in Topic::ALL {
        let name: String = format!("{topic:?}").chars().fold(String::new(), |mut name, c| {
            if c.is_uppercase() && !name.is_empty() {
                name.push('_');
            }
            name.extend(c.to_lowercase());
            name
        });
        let _ = writeln!(
            whole,
            "[[guidance]]\ntopic = \"{name}\"\nverdict = \"unknown\"\ntext = \"x\"\ncite = \"A uni\""
        );
    }
    whole.push_str(general);
    let food = format!(
        r#"
        [pea]
        name = "pea"
        plural = "peas"
        kind = "vegetable"
        places = [{{ place = "fridge", why = "cold", cite = "A uni" }}]
        lives = [{{ form = "whole", place = "fridge", days = [3, 5], cite = "A uni" }}]
        parts = [{{ id = "seed", main = true, verdict = "edible", why = "food", cite = "P practice" }}]
        {lines}
        "#
    );
    Rules::parse(&[("sources.toml", sources), ("general.toml", &whole), ("peas.toml", &food)])
}

#[test]
fn a_sound_small_rule_set_is_accepted() {
    let rules = small("", "").unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(rules.foods.len(), 1);
    let counts = grade_counts(&rules);
    assert_eq!(counts[0], (Grade::A, 4 + Topic::ALL.len()));
    assert_eq!(counts[3], (Grade::P, 2));
}

/// Each bad line with the fault it must raise, and nothing else.
#[test]
fn bad_data_is_named_by_file_key_and_fault() {
    let part = |id: &str, verdict: &str, cite: &str| {
        format!(
            "[[pea.parts]]\nid = \"{id}\"\nverdict = \"{verdict}\"\nwhy = \"x\"\ncite = \"{cite}\""
        )
    };
    // `parts` is an inline array above, so bad parts come as a second food.
    let second = |part: String| {
        let part = part.replace("[[pea.parts]]", "[[bean.parts]]");
        format!(
            "[bean]\nname = \"bean\"\nkind = \"vegetable\"\nhazard = true\n{part}\n[unused]\n\
             name = \"unused\"\nkind = \"herb\"\nlike = \"pea\""
        )
    };
    let cases: Vec<(String, &str)> = vec![
        (second(part("leaf", "edible", "C blog")), "bean.parts.leaf: edible needs"),
        (second(part("leaf", "edible", "M memory")), "bean.parts.leaf: edible needs"),
        (second(part("flower", "edible_when_cooked", "P practice")), "edible needs"),
        (second(part("leaf", "limited", "M memory")), "limited needs a published source"),
        (second(part("leaf", "toxic", "M memory")), "toxic needs a source"),
        (second(part("leaf", "keeps", "A uni")), "keeps is not a verdict on a part"),
        (second(part("leaf", "edible", "A nobody")), "no source is called \"nobody\""),
        (second(part("leaf", "edible", "X uni")), "\"X\" is not a grade"),
        (second(part("leaf", "edible", "uni")), "is not a grade and a source"),
        (second(part("peel", "edible", "A memory")), "grade A does not go with source \"memory\""),
        (second(part("peel", "edible", "M uni")), "grade M does not go with source \"uni\""),
        ("safety = [{ form = \"cut\", place = \"fridge\", days = 2, why = \"x\", cite = \"M memory\" }]".into(),
            "pea.safety.cut.fridge: a safety clock needs a published source"),
        ("safety = [{ form = \"cut\", place = \"fridge\", why = \"x\", cite = \"A uni\" }]".into(),
            "has hours or days"),
        ("safety = [{ form = \"cut\", place = \"fridge\", days = 2, hours = 3, why = \"x\", cite = \"A uni\" }]".into(),
            "has hours or days"),
        ("signs = [{ words = [\"limp\"], verdict = \"edible\", action = \"x\", cite = \"A uni\" }]".into(),
            "edible is not a verdict on a sign"),
        ("freeze = { how = \"x\", months = [9, 3], cite = \"A uni\" }".into(), "runs backwards"),
        ("water = { manner = \"submerged\", place = \"counter\", every_days = 1, longest_days = 3, cite = \"A uni\" }".into(),
            "belong in the fridge"),
        ("weights = { \"A uni\" = { hogshead = 3 } }".into(), "is not a unit"),
        ("weights = { \"A uni\" = { piece = 0 } }".into(), "above zero"),
        ("inedible = { percent = 100, cite = \"A uni\" }".into(), "leaves nothing to eat"),
        ("colour = \"green\"".into(), "unknown field `colour`"),
        ("[bean]\nname = \"bean\"\nkind = \"vegetable\"\nlike = \"lentil\"\nparts = [{ id = \"seed\", main = true, verdict = \"edible\", why = \"x\", cite = \"P practice\" }]\nplaces = [{ place = \"fridge\", why = \"x\", cite = \"A uni\" }]\nlives = [{ form = \"whole\", place = \"fridge\", days = [1, 2], cite = \"A uni\" }]".into(),
            "\"lentil\" is not a food that stands by itself"),
        ("[bean]\nname = \"peas\"\nkind = \"vegetable\"\nlike = \"pea\"".into(),
            "\"peas\" also means bean; list it as ambiguous or drop it"),
        ("[bean]\nname = \"Bean\"\nkind = \"vegetable\"\nlike = \"pea\"".into(), "is not lower-case"),
    ];
    for (lines, expected) in cases {
        let faults = match small(&lines, "") {
            Ok(_) => panic!("accepted: {lines}"),
            Err(faults) => faults,
        };
        assert_eq!(faults.0.len(), 1, "{lines}\n{faults}");
        let text = faults.to_string();
        assert!(text.contains(expected), "{expected:?} is not in {text:?}");
        assert_eq!(faults.0[0].file, "peas.toml", "{text}");
    }
}

#[test]
fn two_independent_pages_of_grade_c_are_enough_for_edible() {
    let lines = |others: &str| {
        format!(
            "[bean]\nname = \"bean\"\nkind = \"vegetable\"\nhazard = true\nparts = [{{ id = \"leaf\", \
             verdict = \"edible\", why = \"x\", cite = \"C blog\", others = [{others}] }}]"
        )
    };
    assert!(small(&lines("\"edible C other\""), "").is_ok());
    assert!(small(&lines("\"edible C blog\""), "").is_err(), "the same page twice is one page");
    assert!(small(&lines("\"toxic C other\""), "").is_err(), "a page that disagrees is no support");
}

#[test]
fn all_faults_are_reported_at_once() {
    let food = r#"
        weights = { "A uni" = { hogshead = 3 } }
        freeze = { how = "x", months = [9, 3], cite = "A nobody" }
        [no_food]
        name = "no food"
        kind = "vegetable"
        [no_kind]
        name = "no kind"
    "#;
    let general = r#"
        [[at_risk]]
        who = ["infant"]
        foods = ["unicorn"]
        text = "x"
        cite = "A uni"
    "#;
    let Err(faults) = small(food, general) else { panic!("accepted") };
    let text = faults.to_string();
    for expected in [
        "is not a unit",
        "runs backwards",
        "no source is called \"nobody\"",
        "no_food: a food needs at least one place",
        "no_food: a food needs a life in at least one place",
        "no_food: a food needs a verdict on its main part",
        "no_kind: missing field `kind`",
        "general.toml: at_risk: no food is called \"unicorn\"",
    ] {
        assert!(text.contains(expected), "{expected:?} is not in\n{text}");
    }
    assert_eq!(faults.0.len(), 8, "{text}");
}

#[test]
fn a_file_that_is_no_toml_is_one_fault_and_the_others_are_still_read() {
    let Err(faults) = small("[pea", "") else { panic!("accepted") };
    assert_eq!(faults.0.len(), 1, "{faults}");
    assert_eq!((faults.0[0].file.as_str(), faults.0[0].key.as_str()), ("peas.toml", "syntax"));
}

#[test]
fn every_name_leads_to_its_food_and_no_id_is_lost() {
    let mut reached = BTreeSet::new();
    for (name, id) in RULES.names() {
        assert_eq!(name, normalise(name), "{name}");
        match RULES.find(name) {
            Found::One(food) => assert_eq!(food.id, *id, "{name}"),
            Found::Ambiguous(foods) => assert!(foods.iter().any(|food| food.id == *id), "{name}"),
            Found::None => panic!("{name} leads nowhere"),
        }
        reached.insert(id);
    }
    assert_eq!(reached.len(), RULES.foods.len());
}

proptest! {
    #[test]
    fn prop_normalising_twice_is_normalising_once(text in ".{0,40}") {
        let once = normalise(&text);
        prop_assert_eq!(normalise(&once), once);
    }

    #[test]
    fn prop_a_name_is_found_whatever_its_case_and_spacing(index in 0usize..4000, loud: bool) {
        let names: Vec<(&str, &FoodId)> = RULES.names().collect();
        let (name, _) = names[index % names.len()];
        let spaced = name.replace(' ', "  ");
        let said = if loud { spaced.to_uppercase() } else { format!(" {spaced} ") };
        prop_assert_eq!(RULES.find(&said), RULES.find(name));
    }

    /// The clock of a food is never looser than the general clock of its kind.
    #[test]
    fn prop_no_food_is_looser_than_the_general_rule(index in 0usize..4000) {
        let food = &RULES.foods[index % RULES.foods.len()];
        for row in RULES.general.limits.iter().filter(|row| row.kinds.contains(&food.kind)) {
            let limit = RULES.safety_limit(food, row.limit.form, &row.limit.place);
            let strict = limit.is_some_and(|own| own.at_most_hours() <= row.limit.at_most_hours());
            prop_assert!(strict, "{} {}", food.id, row.limit.form);
        }
    }
}

/// The whole table in a form one can read: a change of data shows up in review.
#[test]
fn the_table_reads_as_recorded() {
    let mut text = String::new();
    for food in &RULES.foods {
        write_food(&mut text, food).expect("writing to a string cannot fail");
    }
    insta::assert_snapshot!("rules_table", text);
}

fn write_food(out: &mut String, food: &Food) -> std::fmt::Result {
    let cite = |cite: larderling::rules::Cite| {
        format!("{} {}", cite.grade.letter(), RULES.source(cite).id)
    };
    let hazard = if food.hazard { " HAZARD" } else { "" };
    writeln!(
        out,
        "{} ({}, {:?}{hazard}): {}",
        food.id,
        food.name,
        food.kind,
        food.aliases.join(", ")
    )?;
    let places: Vec<&str> = food.places.iter().map(|row| row.place.word()).collect();
    if !places.is_empty() {
        writeln!(out, "  places: {}", places.join(" > "))?;
    }
    for life in &food.lives {
        let also = if life.alternative { " (also)" } else { "" };
        let days = (life.days.min, life.days.max);
        let (form, place) = (life.form, &life.place);
        writeln!(out, "  life {form} {place} {}-{}{also} [{}]", days.0, days.1, cite(life.cite))?;
    }
    for limit in &food.safety {
        let length = match (limit.days, limit.hours) {
            (Some(days), _) => format!("day {days}"),
            (None, hours) => format!("{} h", hours.unwrap_or(0)),
        };
        writeln!(out, "  safety {} {} {length} [{}]", limit.form, limit.place, cite(limit.cite))?;
    }
    if let Some(water) = &food.water {
        let (manner, last) = (water.manner, water.longest_days);
        let every = water.every_days;
        writeln!(
            out,
            "  water {manner:?} {} every {every} last {last} [{}]",
            water.place,
            cite(water.cite)
        )?;
    }
    for part in &food.parts {
        let main = if part.main { "*" } else { "" };
        writeln!(out, "  part {}{main}: {} [{}]", part.id, part.verdict, cite(part.cite))?;
    }
    for sign in &food.signs {
        writeln!(out, "  sign {}: {} [{}]", sign.words.join("/"), sign.verdict, cite(sign.cite))?;
    }
    if let Some(freeze) = &food.freeze {
        let blanch = freeze.blanch_seconds.map(|s| format!("{s} s")).unwrap_or_default();
        let advised = if freeze.advised { "" } else { " not advised" };
        writeln!(out, "  freeze {blanch}{advised} [{}]", cite(freeze.cite))?;
    }
    for trimming in &food.trimmings {
        writeln!(
            out,
            "  bag {}: {:?} [{}]",
            trimming.part,
            trimming.suitability,
            cite(trimming.cite)
        )?;
    }
    let weights = food.weights.iter().map(|weight| {
        let size = weight.size.as_deref().map(|size| format!("{size} ")).unwrap_or_default();
        format!("{size}{} {} g", weight.unit, weight.grams)
    });
    let weights: Vec<String> = weights.collect();
    if !weights.is_empty() {
        writeln!(out, "  weights: {}", weights.join(", "))?;
    }
    Ok(())
}
