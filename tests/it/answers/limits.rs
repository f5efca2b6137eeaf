//! The order of verdicts, the JSON line, and the arithmetic of ages and hours.

use larderling::answers::{self, forbids, strictness};
use larderling::kitchen::Settings;
use larderling::words::Verdict;

use super::{STRICT, ask, ask_in, at, plain};

#[test]
fn every_verdict_that_forbids_is_stricter_than_every_one_that_allows() {
    for strict in STRICT {
        assert!(forbids(strict), "{strict}");
        for mild in Verdict::ALL.iter().filter(|v| !STRICT.contains(v)) {
            assert!(strictness(strict) > strictness(*mild), "{strict} {mild}");
            assert!(!forbids(*mild), "{mild}");
        }
    }
}

#[test]
fn no_two_verdicts_are_equally_strict() {
    let mut order: Vec<u8> = Verdict::ALL.iter().map(|v| strictness(*v)).collect();
    order.sort_unstable();
    order.dedup();
    assert_eq!(order.len(), Verdict::ALL.len());
}

#[test]
fn the_json_line_has_its_keys_in_the_published_order() {
    let question = "can you eat \"rhubarb\" leaves?";
    let line = answers::json(question, &ask(question));
    assert!(!line.contains('\n'));
    let keys =
        ["\"text\":", "\"verdict\":\"toxic\"", "\"answer\":", "\"caution\":", "\"sources\":["];
    let places: Vec<usize> = keys.iter().map(|key| line.find(key).expect(key)).collect();
    assert!(places.is_sorted(), "{line}");
    let value: serde_json::Value = serde_json::from_str(&line).expect("JSON");
    assert_eq!(value["text"], question);
    assert!(value["sources"].as_array().is_some_and(|sources| !sources.is_empty()));
}

/// Ages of cooked food: the cooking day is day 1, the last day is day 4.
///
/// # Source
/// FoodSafety.gov and Univ. of Illinois Extension: 3 to 4 days, read as the last day being day 4.
#[test]
fn cooked_food_ends_on_its_fourth_day() {
    for (question, verdict) in [
        ("is the soup from today ok?", Verdict::Use),
        ("is the soup from yesterday ok?", Verdict::Use),
        ("is the soup i made 2 days ago ok?", Verdict::Use),
        ("is the soup i made 3 days ago ok?", Verdict::Use),
        ("is the soup i made 4 days ago ok?", Verdict::Discard),
        ("is the soup i made 5 days ago ok?", Verdict::Discard),
        ("soup from sunday ok?", Verdict::Use),
        ("soup from saturday ok?", Verdict::Discard),
        ("soup from last friday ok?", Verdict::Discard),
    ] {
        let answer = ask(question);
        assert_eq!(answer.verdict, verdict, "{question}: {}", plain(&answer));
    }
}

#[test]
fn advice_never_becomes_milder_as_food_ages() {
    let foods = ["soup", "cooked rice", "cut melon", "raw chicken", "carrots", "strawberries"];
    for food in foods {
        let mut last = 0;
        for days in 1..=90 {
            let question = format!("is {food} {days} days old in the fridge ok?");
            let answer = ask(&question);
            let now = strictness(answer.verdict);
            assert!(now >= last, "{question}: {} {}", answer.verdict, plain(&answer));
            last = now;
        }
        assert_eq!(last, strictness(Verdict::Discard), "{food}");
    }
}

#[test]
fn two_hours_at_room_temperature_and_one_in_great_heat() {
    for (question, verdict) in [
        ("stew left out 1 hour ok?", Verdict::Use),
        ("stew left out 2 hours ok?", Verdict::Use),
        ("stew left out 3 hours ok?", Verdict::Discard),
        ("stew left out overnight ok?", Verdict::Discard),
        ("stew left out 90 minutes at 35C ok?", Verdict::Discard),
        ("stew left out 90 minutes at 95 F ok?", Verdict::Discard),
        ("stew left out 90 minutes at 20C ok?", Verdict::Use),
        ("cooked rice left out 90 minutes ok?", Verdict::Discard),
    ] {
        let answer = ask(question);
        assert_eq!(answer.verdict, verdict, "{question}: {}", plain(&answer));
    }
}

#[test]
fn the_fridge_holds_four_hours_and_the_freezer_one_or_two_days() {
    for (question, verdict) in [
        ("fridge was off 3 hours", Verdict::Use),
        ("fridge was off 4 hours", Verdict::Use),
        ("fridge was off 5 hours", Verdict::Discard),
        ("freezer was off 20 hours", Verdict::Use),
        ("freezer was off 30 hours", Verdict::Limited),
        ("freezer was off 50 hours", Verdict::Discard),
    ] {
        let answer = ask(question);
        assert_eq!(answer.verdict, verdict, "{question}: {}", plain(&answer));
    }
}

#[test]
fn why_shows_the_sources_by_full_name_and_the_arithmetic() {
    let why = ask("is the soup i made 2 days ago ok?").why.to_plain();
    assert!(why.contains("2026-03-16"), "{why}");
    assert!(why.contains("2026-03-19"), "{why}");
    assert!(why.contains("grade"), "{why}");
}

#[test]
fn what_is_no_question_about_food_says_what_can_be_asked() {
    for text in ["hello there", "what's the capital of france", "🥕", "   ", "a\u{202e}b", "?"] {
        let answer = ask(text);
        assert_eq!(answer.verdict, Verdict::Unknown, "{text}: {}", plain(&answer));
        assert!(!plain(&answer).is_empty());
    }
}

#[test]
fn very_long_and_hostile_texts_are_answered_without_harm() {
    for text in ["can i eat rhubarb leaves ".repeat(400), "é".repeat(5000), "mould ".repeat(2000)]
    {
        let answer = ask_in(&text, &Settings::default(), None, at("12:00"));
        assert!(STRICT.contains(&answer.verdict), "{}", answer.verdict);
        assert!(plain(&answer).chars().count() < 1000);
    }
}
