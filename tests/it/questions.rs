//! Questions in people's own words: the intent, the food's own words, and what else was said.

use larderling::reader::lexicon::Lexicon;
use larderling::reader::{ReadContext, Reader};
use larderling::statement::Statement;
use larderling::words::Stance;

/// A Wednesday.
const TODAY: &str = "2026-03-11";

fn context(addressed: bool) -> ReadContext {
    let mut context = ReadContext::new(TODAY.parse().unwrap());
    context.addressed = addressed;
    context.places = vec!["porch".to_owned()];
    context
}

fn reader() -> Reader {
    Reader::new(Lexicon::new([]))
}

/// "intent: name, name" of the first statement; "silent" when nothing is said.
fn gist(reader: &Reader, text: &str, addressed: bool) -> String {
    let reading = reader.read(text, &context(addressed));
    match reading.statements.first() {
        Some(first) if reading.stance != Stance::Silent => {
            let names: Vec<&str> = first.items.iter().map(|item| item.name.as_str()).collect();
            format!("{}: {}", first.intent, names.join(", ")).trim_end().to_owned()
        }
        _ => "silent".to_owned(),
    }
}

fn check(cases: &[(&str, &str)], addressed: bool) {
    let reader = reader();
    let wrong: Vec<String> = cases
        .iter()
        .map(|(text, expected)| (text, expected, gist(&reader, text, addressed)))
        .filter(|(_, expected, found)| found != *expected)
        .map(|(text, expected, found)| format!("{text:?}: {found:?}, not {expected:?}"))
        .collect();
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}

fn only(text: &str, addressed: bool) -> Statement {
    let reading = reader().read(text, &context(addressed));
    reading.statements.into_iter().next().unwrap_or_else(|| panic!("{text}: nothing read"))
}

#[test]
fn questions_about_keeping_food_are_answered_in_group_talk() {
    check(
        &[
            ("how long does cut melon keep?", "ask_keeps: melon"),
            ("how long will opened hummus last in the fridge", "ask_keeps: hummus"),
            ("how many days is cooked rice good for", "ask_keeps: rice"),
            ("when do the mushrooms go bad", "ask_keeps: mushrooms"),
            ("does rice vinegar go off?", "ask_keeps: rice vinegar"),
            ("do carrots spoil", "ask_keeps: carrots"),
            ("shelf life of pesto?", "ask_keeps: pesto"),
            ("leek soup, how long in the freezer?", "ask_keeps: leek soup"),
            ("hey how long can raw mince sit in the fridge", "ask_keeps: mince"),
            ("until when can we eat the yogurt", "ask_keeps: yogurt"),
            ("where do plums go?", "ask_where: plums"),
            ("where should i put the sweet potatoes", "ask_where: sweet potatoes"),
            ("do tomatoes go in the fridge?", "ask_where: tomatoes"),
            ("should eggs be refrigerated", "ask_where: eggs"),
            ("fridge or counter for avocados?", "ask_where: avocados"),
            ("best way to store spring onions?", "ask_where: spring onions"),
            ("how do i keep cilantro fresh", "ask_where: cilantro"),
            ("does ketchup need to be kept cold?", "ask_where: ketchup"),
            ("storing cut cabbage", "ask_where: cabbage"),
            ("can pears sit with kale?", "ask_neighbours: pears, kale"),
            ("can i keep bananas next to the kiwis", "ask_neighbours: bananas, kiwis"),
            ("are onions and potatoes ok in the same drawer?", "ask_neighbours: onions, potatoes"),
            ("apples with carrots?", "ask_neighbours: apples, carrots"),
            ("should i wash the berries now or later?", "ask_wash: berries"),
            ("do you wash mushrooms before storing", "ask_wash: mushrooms"),
            ("how do I freeze leeks?", "ask_preserve: leeks"),
            ("can you freeze cooked pasta", "ask_preserve: pasta"),
            ("do i have to blanch green beans before freezing?", "ask_preserve: green beans"),
            ("freezing mashed potatoes?", "ask_preserve: potatoes"),
            ("can i dry the oregano", "ask_preserve: oregano"),
            ("is it ok to can pumpkin at home", "ask_preserve: pumpkin"),
            ("how do i thaw the mince quickly?", "ask_thaw: mince"),
            ("can I refreeze thawed chicken?", "ask_thaw: chicken"),
            ("can I reheat rice twice?", "ask_reheat: rice"),
            ("is it safe to reheat spinach", "ask_reheat: spinach"),
            ("how much is a bunch of kale in grams?", "ask_amount: kale"),
            ("how many grams does a leek weigh", "ask_amount: leek"),
            ("what can i do with too many plums?", "ask_use_up: plums"),
            ("ideas for leftover rice?", "ask_use_up: rice"),
            ("how do i use up a glut of zucchini", "ask_use_up: zucchini"),
            ("what can go in the trimmings bag?", "ask_trimmings:"),
            ("can onion skins go in the stock bag?", "ask_trimmings: onion skins"),
            ("what does best before mean?", "ask_date_label:"),
            ("is the cream ok past its use by?", "ask_date_label: cream"),
        ],
        false,
    );
}

#[test]
fn questions_about_eating_food_are_answered_in_group_talk() {
    check(
        &[
            ("can you eat beet greens?", "ask_part: beet greens"),
            ("are carrot tops edible", "ask_part: carrot tops"),
            ("is rhubarb leaf poisonous?", "ask_part: rhubarb leaf"),
            ("are potato sprouts toxic", "ask_part: potato sprouts"),
            ("can we eat the skin of a kiwi", "ask_part: kiwi"),
            ("do i need to peel parsnips?", "ask_part: parsnips"),
            ("fennel is limp", "ask_condition: fennel"),
            ("this potato is green", "ask_condition: potato"),
            ("the carrots are bendy", "ask_condition: carrots"),
            ("milk smells off", "ask_condition: milk"),
            ("mould on the cheddar", "ask_condition: cheddar"),
            ("our spinach has gone slimy", "ask_condition: spinach"),
            ("garlic sprouting, still ok?", "ask_condition: garlic"),
            ("is this yogurt still ok?", "ask_condition: yogurt"),
            ("can i still use the broth from friday", "ask_condition: broth"),
            ("is the rice i got monday ok?", "ask_condition: rice"),
            ("soup from monday ok to eat?", "ask_condition: soup"),
            ("mayo in the fridge 3 years?", "ask_condition: mayo"),
            ("how do i know if an avocado is ripe", "ask_condition: avocado"),
            ("should i throw out the mouldy strawberries?", "ask_condition: strawberries"),
            ("is it bad if the hummus is fizzy", "ask_condition: hummus"),
            ("is the ham off?", "ask_condition: ham"),
            ("stew left out overnight, is it safe", "ask_left_out: stew"),
            ("can i eat pizza that sat out all night?", "ask_left_out: pizza"),
            ("is milk ok after 3 hours on the counter", "ask_left_out: milk"),
            ("forgot to put the chicken in the fridge, still ok?", "ask_left_out: chicken"),
            ("can the dog have grapes?", "ask_who_may: grapes"),
            ("is brie ok when pregnant", "ask_who_may: brie"),
            ("can a baby eat honey?", "ask_who_may: honey"),
            ("are avocados bad for the parrot", "ask_who_may: avocados"),
        ],
        false,
    );
}

#[test]
fn questions_about_the_house_are_answered_in_group_talk() {
    check(
        &[
            ("what's first?", "ask_first:"),
            ("what should we cook first", "ask_first:"),
            ("what needs using up?", "ask_first:"),
            ("what do we have?", "ask_have:"),
            ("what's in the freezer", "ask_have:"),
            ("any garlic?", "ask_have: garlic"),
            ("got any milk left?", "ask_have: milk"),
            ("do we have any carrots", "ask_have: carrots"),
            ("how many onions do we have?", "ask_have: onions"),
            ("is there any soup left", "ask_have: soup"),
            ("what do we need?", "ask_need:"),
            ("do we need eggs?", "ask_need: eggs"),
            ("what's on the shopping list", "ask_need:"),
            ("what should we not buy?", "ask_basket:"),
            ("4 kg spinach and 3 melons for this week ok?", "ask_basket: spinach, melons"),
            ("should i buy more carrots?", "ask_basket: carrots"),
            ("plan until the 14th", "ask_plan:"),
            ("what won't last till saturday?", "ask_plan:"),
            ("is 2.20 a kilo good for leeks?", "price_asked: leeks"),
            ("what did we pay for rice last time?", "price_asked: rice"),
            ("how are we doing this month?", "ask_ledger:"),
            ("how much did we waste this week", "ask_ledger:"),
            ("who changed the water?", "ask_log:"),
            ("when did we buy the chicken?", "ask_log: chicken"),
            ("what happened to the feta?", "ask_log: feta"),
        ],
        false,
    );
}

#[test]
fn cooking_and_shopping_questions_of_others_are_left_alone() {
    let silent = [
        "how long do i boil eggs",
        "how long should the lasagna be in the oven",
        "what's a good recipe for leek soup?",
        "how do you make pesto",
        "can i use yogurt instead of sour cream?",
        "how many calories in an avocado",
        "is rice healthy",
        "why is my bread so dense?",
        "what's the difference between yams and sweet potatoes",
        "where can i buy saffron",
        "which pan for the fish?",
        "do ducks eat lettuce?",
        "is the pizza place open?",
        "any good places for sushi?",
        "how long is the battery good for",
        "when does my passport expire?",
        "can you freeze my account",
        "how long does the train take",
        "is it still raining",
        "what's first on the agenda",
        "what do we have to do today",
        "what's first? maths or bio",
        "how much is a taxi",
        "should i buy the blue jacket?",
        "thanks!",
        "why?",
        "help me with the sofa",
    ];
    let cases: Vec<(&str, &str)> = silent.iter().map(|text| (*text, "silent")).collect();
    check(&cases, false);
}

#[test]
fn spoken_to_the_gate_opens() {
    check(
        &[
            ("why?", "why:"),
            ("thanks", "thanks:"),
            ("help", "help:"),
            ("undo", "undo:"),
            ("take that back", "undo:"),
            ("how many grams in a pound", "ask_amount:"),
            ("what can i do with leeks", "ask_use_up: leeks"),
            ("budget", "ask_ledger:"),
            ("how did we do", "ask_ledger:"),
            ("is pokeweed ok if I boil it twice?", "ask_part: pokeweed"),
        ],
        true,
    );
}

#[test]
fn somebody_who_has_eaten_something_is_noticed_at_once() {
    for (text, topic) in [
        ("she ate one of the berries", "person"),
        ("the toddler swallowed a cherry pit", "toddler"),
        ("dog ate onions", "dog"),
        ("our dog just ate a whole bag of raisins", "dog"),
        ("my son ate a rhubarb leaf, is that bad?", "son"),
        ("i ate the mouldy bread by accident", "person"),
        ("he's eaten some raw kidney beans", "person"),
        ("the baby has eaten honey", "baby"),
        ("we ate the green potatoes and now i feel sick", "person"),
        ("grandpa ate wild mushrooms he found", "person"),
        ("kid swallowed apple seeds", "kid"),
        ("she drank the old milk and is throwing up", "person"),
        ("the cat licked a lily", "cat"),
    ] {
        let found = only(text, false);
        assert_eq!(found.intent.word(), "eaten_already", "{text}");
        assert_eq!(found.topic.as_deref(), Some(topic), "{text}");
    }
    for text in [
        "the cook ate 2 eggs",
        "ate 2 plums",
        "she ate the last pear",
        "the kids ate the strawberries",
        "the dog ate my homework",
        "can she eat the berries?",
        "don't let the dog eat grapes",
    ] {
        let reading = reader().read(text, &context(false));
        let emergency = reading.statements.iter().any(|s| s.intent.word() == "eaten_already");
        assert!(!emergency, "{text}");
    }
}

#[test]
fn settings_are_read_only_when_spoken_to() {
    for (text, key, value) in [
        ("larderling, post at 7:30", "post", "07:30"),
        ("post the list at 6am please", "post", "06:00"),
        ("evening round at 20:15", "evening", "20:15"),
        ("larderling, the porch is 7C", "place:porch", "7C"),
        ("the cellar is at 12 degrees", "place:cellar", "12C"),
        ("porch is minus 2 c now", "place:porch", "-2C"),
        ("second fridge is 40 F", "place:second fridge", "40F"),
        ("we are 5 people", "people", "5"),
        ("there are six of us", "people", "6"),
        ("use metric", "units", "metric"),
        ("units us", "units", "us"),
        ("our currency is euro", "currency", "EUR"),
        ("time zone Europe/Berlin", "tz", "Europe/Berlin"),
        ("answer in spanish please", "lang", "es"),
        ("budget is 400 a month", "budget", "400"),
        ("target 5%", "target", "5"),
        ("country is Germany", "country", "germany"),
        ("use reactions instead of replies", "ack", "reaction"),
        ("skip quiet days", "quiet_days", "yes"),
        ("forget what you learned", "learning", "forget"),
        ("stop learning from us", "learning", "off"),
        ("learning on", "learning", "on"),
    ] {
        let found = only(text, true);
        assert_eq!(found.intent.word(), "setting", "{text}");
        assert_eq!(found.setting, Some((key.to_owned(), value.to_owned())), "{text}");
    }
    let cases = [
        ("the porch is 7C", "silent"),
        ("we are 5 people tonight", "silent"),
        ("use metric", "silent"),
    ];
    check(&cases[..1], false);
    check(&cases[2..], false);
}

#[test]
fn what_else_was_said_is_kept() {
    let left_out = only("is the stew ok, left out 5 hours?", false);
    assert_eq!(left_out.minutes, Some(300));
    assert_eq!(only("ham left out overnight, safe?", false).minutes, Some(480));
    let soup = only("is the soup from monday still good?", false);
    assert_eq!(soup.day.map(|day| day.to_string()).as_deref(), Some("2026-03-09"));
    let plan = only("what won't last till saturday?", false);
    assert_eq!(plan.until.map(|day| day.to_string()).as_deref(), Some("2026-03-14"));
    let basket = only("4 kg greens and 3 melons for this week ok?", false);
    let amount = |i: usize| {
        let item = &basket.items[i];
        (item.quantity.map(|q| q.numer()), item.unit.map(|unit| unit.word()))
    };
    assert_eq!((amount(0), amount(1)), ((Some(4), Some("kilogram")), (Some(3), None)));
    let slimy = only("the lettuce is brown and slimy, ok to eat?", false);
    assert_eq!(slimy.items[0].reason.as_deref(), Some("brown and slimy"));
    let melon = only("how long does cut melon keep in the fridge?", false);
    assert_eq!(melon.items[0].form.map(|form| form.word()), Some("cut"));
    assert_eq!(melon.items[0].place.as_ref().map(|place| place.word()), Some("fridge"));
    let chicken = only("is cooked chicken ok after 5 days", false);
    assert_eq!(chicken.items[0].form.map(|form| form.word()), Some("cooked"));
    let skin = only("can we eat the skin of a kiwi", false);
    assert_eq!(skin.items[0].part.as_deref(), Some("peel"));
    let who = only("is brie ok when pregnant", false);
    assert_eq!(who.topic.as_deref(), Some("pregnant"));
    let month = only("how are we doing this month?", false);
    assert_eq!(month.topic.as_deref(), Some("month"));
}

#[test]
fn why_a_question_was_read_so_can_be_printed() {
    let lines = |text: &str| reader().explain(text, &context(false)).explanation.join("\n");
    assert!(lines("how long does cut melon keep?").contains("the rule \"how long\""));
    assert!(lines("can i use yogurt instead of sour cream still?").contains("substitution"));
}
