//! Somebody has eaten it: the line that answers at this hour and the emergency number, at once.
//!
//! # Source
//! Numbers and hours: the centres' own pages, as cited beside each in the rule set. The Irish line
//! answers from 8 to 22 (National Poisons Information Centre of Ireland).

use larderling::kitchen::Settings;
use larderling::words::Verdict;

use super::{ask_in, at, plain};

fn in_country(country: &str, time: &str, question: &str) -> String {
    let settings = Settings { country: Some(country.to_owned()), ..Settings::default() };
    let answer = ask_in(question, &settings, None, at(time));
    assert_eq!(answer.verdict, Verdict::Unknown, "{question}");
    assert!(answer.urgent, "{question}");
    plain(&answer)
}

#[test]
fn a_line_open_all_hours_is_given_at_any_hour_with_the_emergency_number() {
    for time in ["00:10", "03:30", "12:00", "23:59"] {
        let us = in_country("US", time, "my kid ate a rhubarb leaf");
        assert!(us.contains("1-800-222-1222") && us.contains("911"), "{us}");
        let gb = in_country("GB", time, "she ate one of the berries");
        assert!(gb.contains("111") && gb.contains("999"), "{gb}");
    }
}

#[test]
fn a_line_closed_at_this_hour_says_so_and_sends_elsewhere() {
    let day = in_country("IE", "09:00", "he swallowed a cherry pit");
    assert!(day.starts_with("Call Public Poisons Information Line now: 01 809 2166."), "{day}");
    for time in ["07:59", "22:00", "02:00"] {
        let night = in_country("IE", time, "he swallowed a cherry pit");
        assert!(night.contains("does not answer at this hour"), "{night}");
        assert!(night.contains("112"), "{night}");
    }
    let open = in_country("IE", "21:59", "he swallowed a cherry pit");
    assert!(!open.contains("does not answer"), "{open}");
}

#[test]
fn the_hour_is_the_households_own() {
    let zone = "Europe/Dublin".parse().expect("a zone");
    let settings = Settings { country: Some("IE".to_owned()), zone, ..Settings::default() };
    let summer = "2026-07-01".parse::<larderling::dates::KitchenDay>().expect("a day");
    let utc = |time: &str| {
        let time = larderling::dates::clock_time(time).expect("a time");
        summer.at(time, larderling::dates::Zone::UTC)
    };
    let early = plain(&ask_in("she ate one of the berries", &settings, None, utc("06:30")));
    assert!(early.contains("does not answer"), "half past seven in Dublin: {early}");
    let open = plain(&ask_in("she ate one of the berries", &settings, None, utc("07:30")));
    assert!(!open.contains("does not answer"), "half past eight in Dublin: {open}");
}

#[test]
fn a_line_for_doctors_only_is_never_shown() {
    let text = in_country("NL", "12:00", "my kid ate a rhubarb leaf");
    assert!(!text.contains("088") && text.contains("112"), "{text}");
}

#[test]
fn without_a_country_the_local_centre_and_number_are_named() {
    let answer =
        ask_in("my toddler chewed a daffodil bulb", &Settings::default(), None, at("12:00"));
    let text = plain(&answer);
    assert!(text.starts_with("Call your local poison centre now."), "{text}");
    assert!(text.contains("local emergency number"), "{text}");
    assert!(answer.urgent);
}

#[test]
fn many_ways_of_having_eaten_it_are_understood() {
    for text in [
        "my kid ate a rhubarb leaf",
        "she ate one of the berries",
        "he just swallowed some potato berries",
        "toddler chewed on an oleander leaf",
        "we ate the raw kidney beans by mistake",
        "i ate mouldy bread what now",
        "grandpa ate wild mushrooms",
        "my son is throwing up after the beans",
        "the baby licked a daffodil bulb",
        "i've eaten a green potato, what should i do",
    ] {
        let answer = ask_in(text, &Settings::default(), None, at("12:00"));
        assert!(answer.urgent, "{text}: {} {}", answer.verdict, plain(&answer));
        assert_eq!(answer.verdict, Verdict::Unknown, "{text}");
    }
}

#[test]
fn an_ordinary_meal_is_no_emergency() {
    for text in [
        "grandma always ate pokeweed, can i?",
        "how long does soup keep?",
        "can you eat beet greens?",
        "never ate okra, how do i store it?",
    ] {
        let answer = ask_in(text, &Settings::default(), None, at("12:00"));
        assert!(!answer.urgent, "{text}: {}", plain(&answer));
    }
}
