//! Silence: turns of phrase, the future, conditions, wishes, and other people's shopping. Every
//! table has true twins, so that silence is not deafness.

use larderling::reader::lexicon::Lexicon;
use larderling::reader::{ReadContext, Reader};
use larderling::statement::Reading;
use larderling::words::{Intent, Stance};

fn read(reader: &Reader, text: &str, addressed: bool) -> Reading {
    let mut context = ReadContext::new("2026-03-11".parse().unwrap());
    context.addressed = addressed;
    reader.read(text, &context)
}

fn reader() -> Reader {
    Reader::new(Lexicon::new([]))
}

/// What would be recorded as having happened or as wanted.
fn recorded(reading: &Reading) -> Vec<&'static str> {
    let harmless = |intent: Intent| intent.word().starts_with("ask_") || intent == Intent::None;
    let intents = reading.statements.iter().map(|statement| statement.intent);
    intents.filter(|intent| !harmless(*intent)).map(Intent::word).collect()
}

#[test]
fn turns_of_phrase_are_silent_and_their_true_twins_are_heard() {
    let table = include_str!("../../src/reader/data/quiet_idioms.txt");
    let reader = reader();
    let mut wrong = Vec::new();
    let mut rows = 0;
    for line in table.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let [_, idiom, twin, intent] = line.split('|').map(str::trim).collect::<Vec<_>>()[..]
        else {
            panic!("four columns: {line:?}");
        };
        rows += 1;
        let said = read(&reader, idiom, false);
        if said.stance != Stance::Silent {
            wrong.push(format!("{idiom:?} is read as {:?}", recorded(&said)));
        }
        let heard = read(&reader, twin, false);
        if heard.statements.first().map(|statement| statement.intent.word()) != Some(intent) {
            let found: Vec<&str> = heard.statements.iter().map(|s| s.intent.word()).collect();
            wrong.push(format!("{twin:?} is read as {found:?}, not {intent}"));
        }
    }
    assert!(rows >= 100, "only {rows} rows");
    assert!(wrong.is_empty(), "{} of {rows} rows\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn the_future_conditions_wishes_and_requests_are_never_events() {
    let lines = [
        "we should buy leeks",
        "if i get milk i'll bake",
        "i'll toss it tomorrow",
        "imagine we had 40 eggs",
        "we could freeze the peaches",
        "let's cook the carrots tonight",
        "going to use the squash tomorrow",
        "i might get 3 leeks",
        "we would have eaten the pears",
        "wish we had 2 mangos",
        "hope they got bananas",
        "maybe i'll use the spinach",
        "i want to buy 3 lb carrots",
        "thinking of freezing the peas",
        "planning to cook the beets on friday",
        "remember to toss the old dill",
        "don't forget to buy milk",
        "can you buy 2 leeks",
        "please get 6 eggs",
        "buy 3 carrots",
        "get milk on the way home",
        "could you pick up bread and milk",
        "when i get the eggs i'll make custard",
        "once we finish the peas we can open the corn",
        "what if we ate the plums",
        "suppose we bought 10 kg potatoes",
        "unless somebody used the cream",
        "i was going to throw out the ham",
        "about to eat the last pear",
        "we need to use the chard",
        "have to finish the milk",
        "must eat the fish today",
        "you should have eaten the yogurt",
        "tempted to get 2 melons",
        "i nearly bought 5 mangoes",
        "almost tossed the leeks",
        "used to eat kale every day",
        "next time get 4 leeks",
        "tomorrow we eat the beets",
        "i'd get 2 squash",
        "she'll bring 3 cabbages",
        "they will finish the pie",
        "we won't use the celery",
        "i promise to eat the broccoli",
        "someday we'll grow tomatoes",
        "if only we had garlic",
        "had we bought leeks we would be fine",
        "let me freeze the berries",
        "i'm getting milk later",
        "getting 3 leeks tomorrow",
        "will pick up bread",
        "gonna freeze 5 peaches",
        "gotta use the mushrooms",
        "supposed to get 2 cucumbers",
        "i meant to freeze the mince",
        "forgot to buy leeks",
        "would love 3 peaches",
        "could eat 4 burgers",
        "freeze the peas",
        "throw out the dill",
        "imagine if the fridge was off 5 hours",
        "the recipe says 3 eggs and 200 g flour",
        "i dreamt we ate 12 pies",
    ];
    assert!(lines.len() >= 60);
    let reader = reader();
    for addressed in [false, true] {
        for line in lines {
            let events = recorded(&read(&reader, line, addressed));
            let only_lists = events.iter().all(|intent| matches!(*intent, "wanted" | "unwanted"));
            assert!(only_lists, "{line:?} (addressed: {addressed}) records {events:?}");
        }
    }
}

#[test]
fn what_other_people_bought_is_not_ours() {
    let reader = reader();
    for line in [
        "next door bought 5 kg cherries",
        "mum's friend got 3 melons",
        "our neighbours picked 2 kg plums",
        "the restaurant used 6 eggs",
        "my boss ate 3 bananas",
        "a guy at work bought 40 eggs",
        "the shop got fresh leeks",
        "my friend gave her cat the tuna",
        "my sister said she bought leeks for her party",
        "some woman at the market bought 6 melons",
        "the cafe threw out 20 croissants",
        "her brother got 3 lb carrots",
        "the guests brought wine to their own party",
        "mum bought 3 melons for the neighbours",
        "i got 2 kg plums for next door",
    ] {
        let events = recorded(&read(&reader, line, false));
        assert!(events.is_empty(), "{line:?} records {events:?}");
    }
}

#[test]
fn what_only_leads_up_to_a_question_or_names_no_kitchen_is_silent() {
    let reader = reader();
    for line in [
        "I have 2 kg of pork belly. How should I cook it?",
        "I have a frozen fish head. What should I do with it?",
        "I've made a custard and added wine to it, but too much: how can I fix it?",
        "forgot the sugar in the cookies",
        "added too much salt to my soup",
        "Steel Cut Oats: cooking in milk vs. water",
        "pre-soaking tea in cold water prior to brewing",
        "changed the water filter",
        "power is out at the office",
        "away game on saturday",
        "put it away",
        "had a sandwich for lunch",
        "got dog food",
        "who ate my sandwich",
        "the smoke detector goes off when baking chicken",
        "is the chili place any good",
        "where can i buy fresh yeast",
        "how do i pickle hot peppers?",
        "my cookies turned out dry",
    ] {
        let said = read(&reader, line, false);
        assert_eq!(said.stance, Stance::Silent, "{line:?} is read as {:?}", said.statements);
    }
}

#[test]
fn the_same_words_told_as_done_are_events() {
    let reader = reader();
    for (line, intent) in [
        ("we bought leeks", "acquired"),
        ("i got milk", "acquired"),
        ("tossed it yesterday, the dill", "discarded"),
        ("froze the peaches for tomorrow", "preserved"),
        ("cooked the carrots last night", "used"),
        ("used the squash", "used"),
        ("got 3 leeks for the party on friday", "acquired"),
        ("took 6 apples for the trip tomorrow", "used"),
        ("gave 4 marrows to next door", "given"),
        ("gave my friend 3 melons", "given"),
        ("next door gave us 5 kg cherries", "acquired"),
        ("our neighbour brought us 3 squash", "acquired"),
        ("finished the milk", "used"),
        ("threw out the ham, slimy", "discarded"),
        ("need rice and a lemon", "wanted"),
        ("got 3 melons for the guests", "acquired"),
        ("got dog food and 2 kg rice", "acquired"),
        ("forgot to put the milk back in the fridge", "left_out"),
    ] {
        let events = recorded(&read(&reader, line, false));
        assert_eq!(events.first().copied(), Some(intent), "{line:?}");
    }
}
