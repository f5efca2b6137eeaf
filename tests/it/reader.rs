//! Messages of the kitchen: what they say, in how many wordings, and what is none of ours.

use std::fmt::Write;

use larderling::reader::batch::Batch;
use larderling::reader::{ReadContext, Reader, json};
use larderling::rules::Rules;
use larderling::statement::{Item, Statement};
use larderling::units::{Currency, Quantity, Ratio, Unit};
use larderling::words::{Intent, Stance};
use proptest::prelude::*;

/// A Wednesday.
const TODAY: &str = "2026-06-10";

fn reader() -> Reader {
    Reader::of_rules(&Rules::embedded().unwrap())
}

fn context() -> ReadContext {
    ReadContext::new(TODAY.parse().unwrap())
}

/// The notation of `tests/data/statements.txt`.
fn gist(reader: &Reader, text: &str, context: &ReadContext) -> String {
    let reading = reader.read(text, context);
    if reading.stance == Stance::Silent || reading.statements.is_empty() {
        return "silent".to_owned();
    }
    reading.statements.iter().map(statement_gist).collect::<Vec<_>>().join(" || ")
}

fn statement_gist(statement: &Statement) -> String {
    let mut out = statement.intent.word().to_owned();
    let mut say = |key: &str, value: Option<String>| {
        if let Some(value) = value {
            let _ = write!(out, " {key}={value}");
        }
    };
    say("day", statement.day.map(|day| day.to_string()));
    say("until", statement.until.map(|day| day.to_string()));
    say("total", statement.total.map(|total| total.0.to_string()));
    say("scope", statement.scope.as_ref().map(|scope| scope.word().to_owned()));
    say("min", statement.minutes.map(|minutes| minutes.to_string()));
    say("people", statement.people.map(|people| people.to_string()));
    say("topic", statement.topic.clone());
    say("setting", statement.setting.clone().map(|(key, _)| key));
    say("denied", statement.denied.map(|intent| intent.word().to_owned()));
    if statement.complete {
        out.push_str(" complete");
    }
    let items: Vec<String> = statement.items.iter().map(item_gist).collect();
    if items.is_empty() { out } else { format!("{out}: {}", items.join("; ")) }
}

fn item_gist(item: &Item) -> String {
    let mut words: Vec<String> = Vec::new();
    if let Some(quantity) = item.quantity {
        let high = item.quantity_high.map(|high| format!("-{}", number(high)));
        words.push(format!("{}{}", number(quantity), high.unwrap_or_default()));
    }
    words.extend(item.fraction.map(|share| format!("f{}", number(share))));
    words.extend(item.vague.then(|| "~".to_owned()));
    words.extend(item.unit.map(|unit| unit.word().to_owned()).or_else(|| item.odd_unit.clone()));
    words.extend(
        item.size.map(|size| {
            format!("({} {})", number(size.value), size.unit.map_or("None", Unit::word))
        }),
    );
    words.push(format!("{:?}", item.name));
    let mut say = |key: &str, value: Option<&str>| {
        words.extend(value.map(|value| format!("{key}={value}")));
    };
    say("part", item.part.as_deref());
    say("form", item.form.map(|form| form.word()));
    say("place", item.place.as_ref().map(|place| place.word()));
    say("reason", item.reason.as_deref());
    say("role", item.role.map(|role| role.word()));
    say("to", item.to.map(|to| to.word()));
    if let Some(price) = item.price {
        let per = price.per.map(|per| format!("/{}", per.word())).unwrap_or_default();
        let count = price.quantity.map(|count| format!("x{}", number(count))).unwrap_or_default();
        words.push(format!("price={}{per}{count}", price.minor.0));
    }
    if let Some((label, day)) = item.printed {
        words.push(format!("{}={day}", label.word()));
    }
    words.join(" ")
}

/// Three decimals at most.
fn number(value: Ratio) -> String {
    let text = format!("{:.3}", value.to_f64());
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn check(rows: &[(&str, &str)], context: &ReadContext) {
    let reader = reader();
    let wrong: Vec<String> = rows
        .iter()
        .map(|(text, expected)| (text, expected, gist(&reader, text, context)))
        .filter(|(_, expected, found)| found != *expected)
        .map(|(text, expected, found)| {
            format!("{text}\n   expected {expected}\n   found    {found}")
        })
        .collect();
    assert!(wrong.is_empty(), "{} of {} rows\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

#[test]
fn messages_say_what_the_table_of_statements_says() {
    let table = include_str!("../data/statements.txt");
    let rows: Vec<(&str, &str)> = table
        .lines()
        .filter(|line| !line.starts_with(['#', '[']))
        .filter_map(|line| line.split_once(" => "))
        .collect();
    assert!(rows.len() > 400, "the table is whole: {} rows", rows.len());
    check(&rows, &context());
}

#[test]
fn line_breaks_separate_items_and_statements() {
    check(
        &[
            (
                "got:\n3 leeks\n2 kg carrots\nmilk",
                "acquired: 3 \"leeks\"; 2 kilogram \"carrots\"; \"milk\"",
            ),
            ("bought\n- 3 leeks\n- a swede\n", "acquired: 3 \"leeks\"; 1 \"swede\""),
            ("Carrots 1.20\nLeeks 2.40", "acquired: \"carrots\" price=120; \"leeks\" price=240"),
            (
                "CARROTS 1KG 1.29\r\nEGGS 12 3.10",
                "acquired: 1 kilogram \"carrots\" price=129; 12 \"eggs\" price=310",
            ),
            (
                "froze the peas\ntossed the dill",
                "preserved: \"peas\" form=frozen place=freezer || discarded: \"dill\" to=trash",
            ),
            (
                "that's everything in the freezer:\n2 bags of peas\nmince",
                "counted scope=freezer complete: 2 bag \"peas\" place=freezer; \"mince\" place=freezer",
            ),
        ],
        &context(),
    );
}

#[test]
fn a_pasted_list_of_eighty_lines_is_read_whole() {
    let foods = ["carrots", "leeks", "swedes", "onions", "apples", "pears", "kale", "plums"];
    let lines: Vec<String> = (1..=80).map(|n| format!("{n} {}", foods[n % foods.len()])).collect();
    let reading = reader().read(&format!("got\n{}", lines.join("\n")), &context());
    assert_eq!(reading.statements.len(), 1);
    let items = &reading.statements[0].items;
    assert_eq!(items.len(), 80);
    for (n, item) in items.iter().enumerate() {
        assert_eq!(item.quantity, Some(Ratio::whole(n as i64 + 1)), "line {n}");
        assert_eq!(item.name, foods[(n + 1) % foods.len()], "line {n}");
    }
}

#[test]
fn regional_and_variant_names_mean_one_food() {
    let reader = reader();
    let food = |name: &str| {
        let reading = reader.read(&format!("got 3 {name}"), &context());
        let item = reading.statements.first().and_then(|s| s.items.first());
        item.and_then(|item| item.food.clone()).unwrap_or_else(|| panic!("{name} is no food"))
    };
    for (one, other) in [
        ("aubergines", "eggplants"),
        ("bunches of coriander", "bunches of cilantro"),
        ("courgettes", "zucchini"),
        ("spring onions", "scallions"),
        ("spring onions", "green onions"),
        ("bags of rocket", "bags of arugula"),
        ("swedes", "rutabagas"),
        ("tomatoes", "tomato"),
        ("leaves of chard", "swiss chard"),
        ("cherries", "cherry"),
        ("avocados", "avocadoes"),
        ("Potatoes", "POTATO"),
        ("carots", "carrots"),
        ("tomatos", "tomatoes"),
        ("brocolli", "broccoli"),
        ("cauliflour", "cauliflower"),
        ("parsnps", "parsnips"),
    ] {
        assert_eq!(food(one), food(other), "{one} and {other}");
    }
}

#[test]
fn foods_without_rules_are_recorded_under_their_own_name() {
    let names = include_str!("../../src/reader/data/foods.txt");
    let names: Vec<&str> =
        names.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty()).collect();
    let reader = reader();
    let unread: Vec<&&str> = names
        .iter()
        // "2 kg roll" is a roll of 2 kg of something.
        .filter(|name| **name != "roll")
        .filter(|name| {
            let reading = reader.read(&format!("got 2 kg {name}"), &context());
            let item = reading.statements.first().and_then(|s| s.items.first());
            !item.is_some_and(|i| {
                i.unit == Some(Unit::Kilogram) && i.quantity == Some(Ratio::whole(2))
            })
        })
        .collect();
    assert!(names.len() >= 350, "{} names", names.len());
    assert!(unread.is_empty(), "{unread:?}");
}

#[test]
fn an_unknown_food_in_a_measure_keeps_its_name() {
    let reading = reader().read("got 2 kg zorbles and 3 leeks", &context());
    let items = &reading.statements[0].items;
    assert_eq!((items[0].name.as_str(), &items[0].food), ("zorbles", &None));
    assert_eq!(items[1].food.as_ref().map(|food| food.as_str()), Some("leek"));
}

#[test]
fn words_that_sound_like_food_count_only_beside_amounts() {
    check(
        &[
            ("got 3 leaks and 2 kg flower", "acquired: 3 \"leeks\"; 2 kilogram \"flour\""),
            (
                "got milk, eggs and a bunch of time",
                "acquired: \"milk\"; \"eggs\"; 1 bunch \"thyme\"",
            ),
            ("the tap leaks again", "silent"),
            ("what a waste of time", "silent"),
            ("got 2 bunches of flowers", "silent"),
            (
                "got milk comma eggs comma and bread full stop used 2 carrots",
                "acquired: \"milk\"; \"eggs\"; \"bread\" || used: 2 \"carrots\"",
            ),
            ("the train came to a full stop", "silent"),
        ],
        &context(),
    );
}

#[test]
fn places_of_the_household_are_known_by_name() {
    let mut context = context();
    context.places = vec!["cold room".to_owned(), "attic".to_owned()];
    check(
        &[
            ("moved the swedes to the cold room", "moved: \"swedes\" place=cold room"),
            ("put 3 pumpkins in the attic", "moved: 3 \"pumpkins\" place=attic"),
            ("cold room: 3 pumpkins", "counted scope=cold room: 3 \"pumpkins\" place=cold room"),
        ],
        &context,
    );
}

#[test]
fn money_is_read_with_the_decimals_of_the_currency() {
    let mut context = context();
    for (code, text, minor) in [
        ("USD", "got 3 leeks for $6.40", 640),
        ("EUR", "got 3 leeks for 6,40 EUR", 640),
        ("JPY", "got 3 leeks for ¥640", 640),
        ("KWD", "got 3 leeks for 1.250 KWD", 1250),
    ] {
        context.currency = Currency::new(code).unwrap();
        let reading = reader().read(text, &context);
        let price = reading.statements[0].items[0].price.unwrap_or_else(|| panic!("{text}"));
        assert_eq!(price.minor.0, minor, "{code}");
    }
}

#[test]
fn spoken_to_it_asks_where_it_does_not_understand() {
    let reader = reader();
    let mut context = context();
    for text in ["3 leeks, milk", "flurb the wozzle"] {
        assert_eq!(reader.read(text, &context).stance, Stance::Silent, "{text}");
    }
    context.addressed = true;
    for text in ["3 leeks, milk", "flurb the wozzle"] {
        assert_eq!(reader.read(text, &context).stance, Stance::Ask, "{text}");
    }
    assert_eq!(reader.read("got 3 zorbles", &context).stance, Stance::Act);
    assert_eq!(reader.read("", &context).stance, Stance::Silent);
}

/// Lines of a talk with the gist of each and the line it goes back to.
#[test]
fn people_go_on_from_what_they_named_before() {
    let reader = reader();
    let mut batch = Batch::talk(&reader, context());
    let rows = [
        ("Kim\tgot 3 leeks and 2 kg carrots", "acquired", &["leeks", "carrots"][..], None),
        ("Kim\tand 600 g rice", "acquired", &["rice"], Some(1)),
        ("Kim\tbinned it", "discarded", &["rice"], Some(2)),
        ("Ana\tfroze 5 peaches", "preserved", &["peaches"], None),
        ("Ana\tlast 3 in the freezer", "preserved", &["peaches"], Some(4)),
        ("Kim\tthose too", "discarded", &["leeks", "carrots"], Some(1)),
        ("Kim\tthat was yesterday", "correct", &[], Some(6)),
        ("Ana\tgot a cabbage", "acquired", &["cabbage"], None),
        ("Ana\tcut it up", "prepared", &["cabbage"], Some(8)),
        ("Ana\tit's in water", "put_in_water", &["cabbage"], Some(9)),
        ("Ana\tused half of it", "used", &["cabbage"], Some(10)),
        ("Ana\thello there", "", &[], None),
        ("Ana\tcomposted the rest", "discarded", &["cabbage"], Some(11)),
        ("Leo\tate it", "", &[], None),
        ("Leo\twe have 3 leeks", "counted", &["leeks"], None),
        ("Leo\tmake that 4", "correct", &["leeks"], Some(15)),
        ("Leo\tno, 5 leeks", "correct", &["leeks"], None),
        ("Mia\twe have 3 leeks and milk", "counted", &["leeks", "milk"], None),
        ("Mia\tand half a squash", "counted", &["squash"], Some(18)),
        ("Mia\tnothing else left", "counted", &["leeks", "milk", "squash"], Some(19)),
        ("Noa\tnothing else left", "", &[], None),
        ("Noa\ton it", "", &[], None),
        ("Noa\tchanged the water on the asparagus", "water_changed", &["asparagus"], None),
        ("Noa\ton it", "setting", &[], None),
        ("Mia\ttossed the dill", "discarded", &["dill"], None),
        ("Mia\tit was never thrown out", "correct", &["dill"], Some(25)),
    ];
    for (n, (line, intent, names, refers_to)) in rows.into_iter().enumerate() {
        let printed = batch.line(line);
        let row: serde_json::Value = serde_json::from_str(&printed).unwrap();
        let silent = row["stance"] == "silent";
        let said = if silent { "" } else { row["statements"][0]["intent"].as_str().unwrap() };
        assert_eq!(said, intent, "line {}: {printed}", n + 1);
        let items = row["statements"][0]["items"].as_array().cloned().unwrap_or_default();
        let found: Vec<&str> = items.iter().map(|item| item["name"].as_str().unwrap()).collect();
        assert_eq!(found, names, "line {}", n + 1);
        let expected = refers_to.map_or(serde_json::Value::Null, serde_json::Value::from);
        assert_eq!(row["refers_to"], expected, "line {}", n + 1);
    }
}

#[test]
fn the_line_of_read_is_compact_and_complete() {
    let text = "got 2 5-lb bags of potatoes for 4.99, use by the 12th";
    let line = json::line(text, &reader().read(text, &context()));
    assert_eq!(
        line,
        concat!(
            r#"{"text":"got 2 5-lb bags of potatoes for 4.99, use by the 12th","stance":"act","statements":[{"#,
            r#""intent":"acquired","confidence":0.95,"day":null,"total_minor":null,"scope":null,"complete":false,"#,
            r#""items":[{"food":"potato","name":"potatoes","part":null,"form":null,"quantity":2,"quantity_high":null,"#,
            r#""fraction":null,"unit":"bag","size":{"quantity":5,"unit":"pound"},"price_minor":499,"price_per":null,"#,
            r#""price_quantity":null,"place":null,"reason":null,"role":null,"to":null,"#,
            r#""printed":{"kind":"use_by","day":"2026-06-12"}}]}],"not_understood":[]}"#,
        )
    );
}

#[test]
fn what_was_read_and_why_can_be_printed() {
    let reading = reader().explain("got 3 carots", &context());
    let steps = reading.explanation.join("\n");
    assert!(steps.contains("carrot") && steps.contains("slip"), "{steps}");
    assert!(steps.contains("acquired"), "{steps}");
}

#[test]
fn every_event_of_the_kitchen_can_be_said() {
    let table = include_str!("../data/statements.txt");
    let said: Vec<&str> = table
        .lines()
        .filter_map(|line| line.split_once(" => "))
        .flat_map(|(_, statements)| statements.split(" || "))
        .filter_map(|statement| statement.split([' ', ':']).next())
        .collect();
    for intent in [
        Intent::Acquired,
        Intent::NotReceived,
        Intent::Counted,
        Intent::Used,
        Intent::Given,
        Intent::Discarded,
        Intent::Preserved,
        Intent::Thawed,
        Intent::Prepared,
        Intent::Moved,
        Intent::PutAway,
        Intent::Opened,
        Intent::LeftOut,
        Intent::Outage,
        Intent::PutInWater,
        Intent::WaterChanged,
        Intent::ScrapsSaved,
        Intent::StockMade,
        Intent::Wanted,
        Intent::Unwanted,
        Intent::TripTotal,
        Intent::TripPlanned,
        Intent::Away,
        Intent::Eaters,
        Intent::Correct,
    ] {
        let wordings = said.iter().filter(|word| **word == intent.word()).count();
        assert!(wordings >= 2, "{intent}: {wordings} wordings");
    }
}

/// Source: NIST Handbook 44 (2024), appendix C, tables of customary units, and NIST SP 1290
/// (2024): exact by definition where the pound and the US gallon define them.
#[test]
fn units_agree_with_the_handbook() {
    let exact = |value: &str| Ratio::from_decimal(value).unwrap();
    for (unit, grams) in [
        (Unit::Pound, "453.59237"),
        (Unit::Ounce, "28.349523125"),
        (Unit::Kilogram, "1000"),
        (Unit::Milligram, "0.001"),
        (Unit::Stone, "6350.29318"),
    ] {
        let one = Quantity::new(Ratio::ONE, Some(unit));
        assert_eq!(one.grams(), Some(exact(grams)), "{}", unit.word());
        assert_eq!(one.millilitres(), None);
    }
    for (unit, millilitres) in [
        (Unit::Gallon, "3785.411784"),
        (Unit::Quart, "946.352946"),
        (Unit::Pint, "473.176473"),
        (Unit::Cup, "236.5882365"),
        (Unit::FluidOunce, "29.5735295625"),
        (Unit::Liter, "1000"),
        (Unit::Deciliter, "100"),
        (Unit::Centiliter, "10"),
    ] {
        let one = Quantity::new(Ratio::ONE, Some(unit));
        assert_eq!(one.millilitres(), Some(exact(millilitres)), "{}", unit.word());
    }
    let count = |n: i64, from: Unit, to: Unit| {
        Quantity::new(Ratio::whole(n), Some(from)).to_unit(Some(to)).map(|q| q.value)
    };
    for (n, from, to, expected) in [
        (1, Unit::Tablespoon, Unit::Teaspoon, 3),
        (1, Unit::FluidOunce, Unit::Tablespoon, 2),
        (1, Unit::Cup, Unit::FluidOunce, 8),
        (1, Unit::Pint, Unit::Cup, 2),
        (1, Unit::Quart, Unit::Pint, 2),
        (1, Unit::Gallon, Unit::Quart, 4),
        (1, Unit::Pound, Unit::Ounce, 16),
        (1, Unit::Stone, Unit::Pound, 14),
        (2, Unit::Dozen, Unit::Piece, 24),
    ] {
        assert_eq!(count(n, from, to), Some(Ratio::whole(expected)), "{} {}", n, from.word());
    }
    assert_eq!(count(1, Unit::Bunch, Unit::Head), None);
    assert_eq!(count(1, Unit::Pinch, Unit::Gram), None);
    assert_eq!(count(1, Unit::Inch, Unit::Milliliter), None);
}

#[test]
fn every_unit_is_read_by_its_own_word() {
    let reader = reader();
    for unit in Unit::ALL {
        if matches!(unit, Unit::Piece | Unit::Dozen | Unit::Inch) {
            continue;
        }
        let reading = reader.read(&format!("got 3 {} of leeks", unit.word()), &context());
        let item = reading.statements.first().and_then(|s| s.items.first());
        assert_eq!(item.and_then(|item| item.unit), Some(*unit), "{}", unit.word());
    }
}

#[test]
fn absurd_amounts_are_read_without_harm() {
    let reader = reader();
    for text in [
        "bought 1e9 kg rice",
        "bought 99999999999999999999999999 kg rice",
        "got 0 leeks",
        "got 1/0 leeks",
        "got 1/99999999999999999999 leeks",
        "got 9223372036854775807 dozen eggs",
        "got leeks for 99999999999999999999.99",
        "got -3 leeks",
        "used 500% of the rice",
        "\u{202e}got 3 leeks\u{202c}",
        "got\u{0} 3\u{7} leeks",
        "got 3 \u{1F955} and 2 leeks",
    ] {
        let line = json::line(text, &reader.read(text, &context()));
        assert!(serde_json::from_str::<serde_json::Value>(&line).is_ok(), "{text}");
    }
    assert_eq!(gist(&reader, "\u{202e}got 3 leeks\u{202c}", &context()), "acquired: 3 \"leeks\"");
}

/// Text made of the reader's own words, where it is most likely to stumble.
fn kitchen_text() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "got",
        "used",
        "tossed",
        "froze",
        "the",
        "a",
        "3",
        "1/2",
        "½",
        "2-3",
        "kg",
        "lb",
        "bag",
        "of",
        "leeks",
        "milk",
        "carrot",
        "tops",
        ",",
        "and",
        "&",
        "(",
        ")",
        "6.40",
        "for",
        "$",
        "yesterday",
        "on",
        "sunday",
        "in",
        "fridge",
        "water",
        "bin",
        "half",
        "rest",
        "it",
        "them",
        "no",
        "not",
        "didn't",
        "need",
        "left",
        "x",
        "-",
        ".",
        "?",
        "\n",
        "full",
        "stop",
        "comma",
        "every",
        "all",
        "put",
        "away",
        "changed",
        "power",
        "out",
        "till",
        "made",
        "with",
        "stock",
        "🥕",
        "'",
        "%",
        "/",
        "total",
        "each",
        "per",
        "use",
        "by",
        "was",
        "were",
        "they",
        "us",
        "gave",
        "hens",
    ]);
    prop::collection::vec((words, prop::bool::weighted(0.9)), 0..40).prop_map(|parts| {
        parts
            .into_iter()
            .map(|(word, space)| format!("{word}{}", if space { " " } else { "" }))
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn prop_any_text_is_read_twice_alike(text in ".{0,200}") {
        let reader = shared_reader();
        let mut context = context();
        context.addressed = text.len() % 2 == 0;
        prop_assert_eq!(reader.read(&text, &context), reader.read(&text, &context));
    }

    #[test]
    fn prop_any_bytes_are_read_without_harm(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let text = String::from_utf8_lossy(&bytes);
        let line = json::line(&text, &shared_reader().read(&text, &context()));
        prop_assert!(serde_json::from_str::<serde_json::Value>(&line).is_ok());
        prop_assert!(!line.contains('\n'));
    }

    #[test]
    fn prop_kitchen_words_in_any_order_are_read_without_harm(text in kitchen_text()) {
        let reader = shared_reader();
        let reading = reader.read(&text, &context());
        prop_assert_eq!(&reading, &reader.read(&text, &context()));
        for statement in &reading.statements {
            for item in &statement.items {
                prop_assert!(!item.name.is_empty());
                prop_assert!(item.fraction.is_none_or(|share| share <= Ratio::ONE));
                prop_assert!(item.quantity_high.is_none_or(|high| item.quantity.is_some_and(|low| low < high)));
            }
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn prop_the_cost_grows_with_the_length(text in kitchen_text()) {
        let unit = format!("{text} ");
        let reader = shared_reader();
        let steps = |length: usize| {
            let repeated = unit.repeat(length / unit.len() + 1);
            reader.read_counting(&repeated, &context()).1
        };
        let (small, large) = (steps(1024), steps(16 * 1024));
        prop_assert!(large <= 20 * small, "{small} steps, then {large}");
    }
}

fn shared_reader() -> &'static Reader {
    static READER: std::sync::LazyLock<Reader> = std::sync::LazyLock::new(reader);
    &READER
}

#[test]
fn sixteen_times_the_text_costs_at_most_twenty_times_the_steps() {
    let reader = reader();
    for unit in [
        "got 3 leeks. ",
        "got 3 leeks\n",
        ".got ",
        "- froze all gotgot leeks ",
        "3 leeks, ",
        "leeks ",
        "and ",
        "x ",
        "1 ",
        "1/2 ",
        "take ",
        "(",
        ") ",
        "? ",
        "is it ok? ",
        "used 2 carrots and ",
        "the ",
        "a few ",
        "comma ",
        "if ",
        "put it in the ",
        "- ",
        "6.40 ",
        "yesterday ",
        "to the ",
        "they were ",
        "because ",
        "\u{1F600}",
        "ä",
        "why ",
        "can we eat leeks? ",
        "of ",
        "or ",
        "plus 2 cups ",
        "5 lb bag of ",
        "for 3 ",
        "with ",
        "no, ",
        "fridge: ",
        "on the list ",
        "half the ",
        "neighbour ",
        "will ",
        "how long ",
    ] {
        let steps = |length: usize| {
            reader.read_counting(&unit.repeat(length / unit.len()), &context()).1.max(1_000)
        };
        let (small, large) = (steps(4 * 1024), steps(64 * 1024));
        assert!(large <= 20 * small, "{unit:?}: {small} steps, then {large}");
    }
}
