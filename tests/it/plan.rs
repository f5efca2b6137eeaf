//! Plans and posts: order, wording, what is repeated and what is not.

use std::collections::BTreeMap;

use larderling::conversation::LotDeed;
use larderling::dates::{KitchenDay, Zone};
use larderling::keeping::Learned;
use larderling::kitchen::{Limit, Lot, LotId, Standing, State};
use larderling::plan::{Grounds, Outlook, Post, Press, Said};
use larderling::rules::Rules;
use larderling::units::{Quantity, Ratio, Unit};
use larderling::wording::Wording;
use larderling::words::Form;

use super::keeping::{at, lot};

/// A household with some lots, and what it takes to plan for it.
struct Kitchen {
    rules: Rules,
    wording: Wording,
    learned: Learned,
    state: State,
    asked: BTreeMap<LotId, KitchenDay>,
    listed: BTreeMap<LotId, KitchenDay>,
}

impl Kitchen {
    fn new(lots: Vec<Lot>) -> Kitchen {
        let mut state = State::default();
        state.settings.zone = Zone::UTC;
        state.settings.units = larderling::kitchen::UnitSystem::Metric;
        state.last_heard = lots.iter().map(|lot| lot.since).max();
        state.lots = lots;
        for (number, lot) in (1..).zip(&mut state.lots) {
            lot.id = LotId(number);
        }
        Kitchen {
            rules: Rules::embedded().unwrap_or_else(|faults| panic!("{faults}")),
            wording: Wording::english().expect("a wording file without faults"),
            learned: Learned::default(),
            state,
            asked: BTreeMap::new(),
            listed: BTreeMap::new(),
        }
    }

    fn outlook(&self, now: &str) -> Outlook<'_> {
        let grounds = Grounds {
            rules: &self.rules,
            foods: &self.rules,
            learned: &self.learned,
            wording: &self.wording,
        };
        Outlook::new(&self.state, grounds, at(now))
    }

    /// The morning post, remembered as the conversation remembers it.
    fn morning(&mut self, now: &str) -> Option<Post> {
        let said = Said { asked: &self.asked, listed: &self.listed };
        let post = self.outlook(now).morning_post(said)?;
        let today = at(now).day(Zone::UTC);
        post.remember(&self.state, today, &mut self.asked, &mut self.listed);
        Some(post)
    }

    fn morning_text(&mut self, now: &str) -> String {
        self.morning(now).map_or_else(String::new, |post| post.text.to_plain())
    }
}

fn grams(mut lot: Lot, grams: i64) -> Lot {
    lot.grams = Some(grams);
    lot.quantity = Some(Quantity::new(Ratio::whole(grams), Some(Unit::Gram)));
    lot
}

fn day(text: &str) -> KitchenDay {
    text.parse().expect("a day")
}

fn in_water(food: &str, since: &str, changed: &str) -> Lot {
    let mut lot = lot(food, &[(&format!("{since} 12:00"), Form::InWater, "fridge")]);
    lot.water = Some(Standing {
        since: day(since),
        changed: day(changed),
        every_days: 1,
        last_day: day(since).plus(6),
    });
    lot
}

#[test]
fn the_post_lists_in_spoil_order_with_amount_reason_and_what_to_do() {
    let mut kitchen = Kitchen::new(vec![
        grams(lot("potato", &[("2026-03-02 12:00", Form::Whole, "cool_dark")]), 5000),
        grams(lot("carrot", &[("2026-03-02 12:00", Form::Whole, "fridge")]), 1000),
        grams(lot("spinach", &[("2026-03-01 12:00", Form::Whole, "fridge")]), 400),
        in_water("celery", "2026-03-02", "2026-03-02"),
    ]);
    let post = kitchen.morning("2026-03-03 07:00").expect("a post");
    let text = post.text.to_plain();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "Use first:");
    assert!(lines[1].starts_with("400 g spinach: "), "{text}");
    assert!(lines[1].ends_with("Cook it today or freeze it."), "{text}");
    assert_eq!(lines.last(), Some(&"Change the water: celery in water."));
    assert!(!text.contains("potato"), "nothing presses there: {text}");
    let keys: Vec<&str> = post.buttons.iter().map(|(button, _)| button.key.as_str()).collect();
    assert_eq!(keys, ["changed", "used_up", "thrown_out", "why", "later"]);
    assert_eq!(post.buttons[0].1, Press::Lots(LotDeed::WaterChanged, vec![LotId(4)]));
    assert!(post.why.to_plain().contains("400 g spinach: Published: 3 to 5 days in the fridge"));
}

#[test]
fn a_quiet_day_gets_one_line_and_none_where_the_household_wants_none() {
    let potatoes = grams(lot("potato", &[("2026-03-02 12:00", Form::Whole, "cool_dark")]), 5000);
    let mut kitchen = Kitchen::new(vec![potatoes]);
    let text = kitchen.morning_text("2026-03-03 07:00");
    assert_eq!(text.lines().count(), 1, "{text}");
    assert!(text.starts_with("Nothing presses today. Next: 5 kg potatoes"), "{text}");
    kitchen.state.settings.quiet_days = true;
    assert_eq!(kitchen.morning("2026-03-03 07:00"), None);
    kitchen.state.lots.clear();
    kitchen.state.settings.quiet_days = false;
    assert_eq!(kitchen.morning("2026-03-03 07:00"), None, "nothing on hand");
}

#[test]
fn nothing_is_posted_while_everybody_is_away() {
    let spinach = grams(lot("spinach", &[("2026-03-01 12:00", Form::Whole, "fridge")]), 400);
    let mut kitchen = Kitchen::new(vec![spinach, in_water("celery", "2026-03-01", "2026-03-01")]);
    kitchen.state.away = vec![(day("2026-03-03"), day("2026-03-05"))];
    assert_eq!(kitchen.morning("2026-03-03 07:00"), None);
    assert_eq!(kitchen.outlook("2026-03-05 19:00").evening_round(), None);
    assert!(kitchen.morning("2026-03-06 07:00").is_some());
}

#[test]
fn the_evening_round_repeats_only_what_is_not_done() {
    let mut kitchen = Kitchen::new(vec![in_water("celery", "2026-03-02", "2026-03-02")]);
    let round = kitchen.outlook("2026-03-03 19:00").evening_round().expect("a round");
    assert_eq!(round.text.to_plain(), "Change the water, 12 hours late: celery in water.");
    kitchen.state.lots[0].water.as_mut().expect("water").changed = day("2026-03-03");
    assert_eq!(kitchen.outlook("2026-03-03 19:00").evening_round(), None);
}

#[test]
fn the_last_day_in_water_is_said_and_then_given_up() {
    let mut kitchen = Kitchen::new(vec![in_water("carrot", "2026-03-02", "2026-03-07")]);
    kitchen.state.last_heard = Some(day("2026-03-07"));
    let mut said = |now: &str| kitchen.morning_text(now);
    assert!(said("2026-03-08 07:00").contains("last day in water. Use today or throw out."));
    assert!(said("2026-03-09 07:00").contains("past the last day in water"));
    assert!(!said("2026-03-10 07:00").contains("in water"), "two mornings are enough");
}

#[test]
fn what_is_past_its_safe_day_is_named_once() {
    let mut stew = lot("stew", &[("2026-03-01 18:00", Form::Cooked, "fridge")]);
    stew.limits = vec![Limit {
        day: Some(day("2026-03-04")),
        at: None,
        why: "cooked dishes".to_owned(),
        source: "a handbook".to_owned(),
    }];
    let mut kitchen = Kitchen::new(vec![stew]);
    let mut said = |now: &str| {
        kitchen.state.last_heard = Some(at(now).day(Zone::UTC).plus(-1));
        kitchen.morning_text(now)
    };
    assert!(said("2026-03-03 07:00").contains("tomorrow is its last safe day (cooked dishes)"));
    assert!(said("2026-03-04 07:00").contains("today is its last safe day"));
    let out = said("2026-03-05 07:00");
    assert!(out.contains("past its last safe day (cooked dishes). Throw it out."), "{out}");
    assert!(!said("2026-03-06 07:00").contains("stew"));
}

#[test]
fn a_lot_past_its_late_day_is_asked_about_once_and_uncounted_a_week_later() {
    let carrots = lot("carrot", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let mut kitchen = Kitchen::new(vec![carrots]);
    kitchen.state.last_heard = Some(day("2026-03-19"));
    let post = kitchen.morning("2026-03-20 07:00").expect("a post");
    assert!(post.text.to_plain().contains("still here?"), "{}", post.text.to_plain());
    assert!(post.buttons.iter().any(|(button, _)| button.key == "still_here"));
    assert!(!kitchen.morning_text("2026-03-21 07:00").contains("arrot"));
    let forgotten = |kitchen: &Kitchen, now: &str| {
        kitchen.outlook(now).forgotten(Said { asked: &kitchen.asked, listed: &kitchen.listed })
    };
    assert_eq!(forgotten(&kitchen, "2026-03-26 07:00"), vec![]);
    assert_eq!(forgotten(&kitchen, "2026-03-27 07:00"), vec![LotId(1)]);
    kitchen.state.lots[0].last_seen = day("2026-03-20");
    assert_eq!(forgotten(&kitchen, "2026-03-27 07:00"), vec![], "somebody gave a sign");
}

#[test]
fn a_pressing_lot_stands_in_two_posts_unless_somebody_gives_a_sign() {
    let carrots = lot("carrot", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let mut kitchen = Kitchen::new(vec![carrots]);
    let mut pressing = |now: &str, seen: &str| {
        kitchen.state.last_heard = Some(at(now).day(Zone::UTC).plus(-1));
        kitchen.state.lots[0].last_seen = day(seen);
        kitchen.morning_text(now).contains("Cook it today")
    };
    assert!(pressing("2026-03-09 07:00", "2026-03-01"));
    assert!(pressing("2026-03-10 07:00", "2026-03-01"));
    assert!(!pressing("2026-03-11 07:00", "2026-03-01"));
    assert!(pressing("2026-03-12 07:00", "2026-03-11"), "still here, so it presses again");
}

#[test]
fn after_two_quiet_days_the_post_doubts_itself_and_names_three() {
    let foods = ["spinach", "kale", "lettuce", "asparagus", "mushroom"];
    let lots = foods.map(|food| lot(food, &[("2026-03-01 12:00", Form::Whole, "fridge")]));
    let mut kitchen = Kitchen::new(lots.to_vec());
    let post = kitchen.morning("2026-03-04 07:00").expect("a post");
    let text = post.text.to_plain();
    assert!(text.starts_with("Nobody has told me anything for 2 days"), "{text}");
    assert_eq!(text.lines().count(), 4, "{text}");
}

#[test]
fn a_bad_day_is_triaged_into_one_line_for_each_kind_of_trouble() {
    let foods =
        ["spinach", "kale", "lettuce", "asparagus", "mushroom", "chard", "broccoli", "cucumber"];
    let mut lots: Vec<Lot> = foods
        .iter()
        .map(|food| {
            grams(
                lot(
                    food,
                    &[
                        ("2026-02-20 12:00", Form::Whole, "fridge"),
                        ("2026-03-01 12:00", Form::Whole, "fridge"),
                    ],
                ),
                500,
            )
        })
        .collect();
    for lot in &mut lots {
        lot.stays = vec![lot.stays[1].clone()];
        lot.stays[0].place = larderling::words::Place::Counter;
        lot.place = larderling::words::Place::Counter;
    }
    lots.push(in_water("celery", "2026-03-01", "2026-03-01"));
    let mut kitchen = Kitchen::new(lots);
    let post = kitchen.morning("2026-03-02 07:00").expect("a post");
    let text = post.text.to_plain();
    assert!(text.starts_with("A lot at once today."), "{text}");
    assert!(text.contains("Cook tonight: "), "{text}");
    assert!(text.contains(" more can wait."), "{text}");
    assert!(text.contains("Change the water: celery in water."), "{text}");
    assert!(text.chars().count() <= 700);
}

/// Use-first order is one order: the same lots in any arrangement come out the same.
#[test]
fn use_first_order_does_not_depend_on_how_the_lots_are_kept() {
    let foods = ["spinach", "kale", "lettuce", "carrot", "potato", "moon_cheese", "carrot"];
    let lots: Vec<Lot> = foods
        .iter()
        .map(|food| grams(lot(food, &[("2026-03-01 12:00", Form::Whole, "fridge")]), 300))
        .collect();
    let kitchen = Kitchen::new(lots);
    let order = |kitchen: &Kitchen| -> Vec<LotId> {
        kitchen.outlook("2026-03-02 07:00").held.iter().map(|held| held.lot.id).collect()
    };
    let expected = order(&kitchen);
    let mut turned = Kitchen::new(Vec::new());
    turned.state = kitchen.state.clone();
    for _ in 0..foods.len() {
        turned.state.lots.rotate_left(1);
        assert_eq!(order(&turned), expected);
    }
    turned.state.lots.reverse();
    assert_eq!(order(&turned), expected);
    let unknown = kitchen.outlook("2026-03-02 07:00").held.last().map(|held| held.lot.name.clone());
    assert_eq!(unknown.as_deref(), Some("moon_cheese"), "what nobody can judge comes last");
}
