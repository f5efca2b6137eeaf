//! Answers that use the household's own record.

use std::collections::BTreeMap;

use larderling::dates::KitchenDay;
use larderling::kitchen::{Limit, Lot, LotId, Settings, State, Stay};
use larderling::words::{FoodId, Form, Place, Verdict};

use super::{ask_in, noon, plain, today};

fn soup(id: u64, since: KitchenDay, last: KitchenDay) -> Lot {
    Lot {
        id: LotId(id),
        food: Some(FoodId::new("soup")),
        name: "soup".to_owned(),
        part: None,
        form: Form::Cooked,
        place: Place::Fridge,
        quantity: None,
        grams: None,
        cost: None,
        since,
        put_away: true,
        stays: vec![Stay { from: noon(), form: Form::Cooked, place: Place::Fridge }],
        limits: vec![Limit {
            day: Some(last),
            at: None,
            why: "cooked food keeps 4 days".to_owned(),
            source: "FoodSafety.gov".to_owned(),
        }],
        printed: None,
        water: None,
        last_seen: since,
        doubtful: false,
        spoken_for: None,
        from: None,
        by: None,
        contents: BTreeMap::new(),
        paused: Vec::new(),
        began: None,
    }
}

fn house(lots: Vec<Lot>) -> State {
    State { lots, ..State::default() }
}

fn ask_house(question: &str, lots: Vec<Lot>) -> (Verdict, String) {
    let answer = ask_in(question, &Settings::default(), Some(&house(lots)), noon());
    (answer.verdict, plain(&answer))
}

#[test]
fn the_limit_of_our_own_soup_is_given_as_a_day() {
    let lots = vec![soup(1, today().plus(-1), today().plus(2))];
    let (verdict, text) = ask_house("is the soup still good?", lots);
    assert_eq!(verdict, Verdict::Use, "{text}");
    assert!(text.contains("Friday"), "{text}");
}

#[test]
fn our_own_soup_past_its_limit_is_thrown_out() {
    let lots = vec![soup(1, today().plus(-5), today().plus(-2))];
    let (verdict, text) = ask_house("is the soup still good?", lots);
    assert_eq!(verdict, Verdict::Discard, "{text}");
    assert!(text.starts_with("Throw out yours"), "{text}");
}

#[test]
fn of_two_soups_the_one_past_its_limit_decides() {
    let lots = vec![soup(1, today(), today().plus(3)), soup(2, today().plus(-6), today().plus(-3))];
    let (verdict, text) = ask_house("is the soup still ok?", lots);
    assert_eq!(verdict, Verdict::Discard, "{text}");
}

#[test]
fn without_a_record_the_age_is_asked_for() {
    let (verdict, text) = ask_house("is the soup still good?", Vec::new());
    assert_eq!(verdict, Verdict::Unknown, "{text}");
    assert!(text.contains("How old is it"), "{text}");
}

#[test]
fn a_sign_of_spoiling_beats_a_date_that_still_runs() {
    let lots = vec![soup(1, today(), today().plus(3))];
    let (verdict, text) = ask_house("the soup is mouldy, still ok?", lots);
    assert_eq!(verdict, Verdict::Discard, "{text}");
}
