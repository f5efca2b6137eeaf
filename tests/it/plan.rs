//! Plans and posts: order, wording, what is repeated and what is not.

use larderling::conversation::LotDeed;
use larderling::dates::{KitchenDay, Zone};
use larderling::keeping::Learned;
use larderling::kitchen::{Limit, Lot, LotId, Standing, State};
use larderling::plan::{Grounds, Outlook, Post, Press, Said};
use larderling::rules::Rules;
use larderling::statement::{Item, Scope, Statement};
use larderling::units::{Quantity, Ratio, Unit};
use larderling::wording::Wording;
use larderling::words::{FoodId, Form, Intent, Place};

use super::keeping::{at, lot};

/// A household with some lots, and what it takes to plan for it.
struct Kitchen {
    rules: Rules,
    wording: Wording,
    learned: Learned,
    state: State,
    said: Said,
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
            said: Said::new(),
        }
    }

    fn outlook(&self, now: &str) -> Outlook<'_> {
        let grounds = Grounds {
            rules: &self.rules,
            foods: &self.rules,
            learned: &self.learned,
            wording: &self.wording,
            log: &[],
        };
        Outlook::new(&self.state, grounds, at(now))
    }

    /// The morning post, remembered as the conversation remembers it.
    fn morning(&mut self, now: &str) -> Option<Post> {
        let post = self.outlook(now).morning_post(&self.said)?;
        let today = at(now).day(Zone::UTC);
        post.remember(&self.state, today, &mut self.said);
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
        grams(lot("carrot", &[("2026-03-03 12:00", Form::Whole, "fridge")]), 1000),
        grams(lot("spinach", &[("2026-03-01 12:00", Form::Whole, "fridge")]), 400),
        in_water("celery", "2026-03-03", "2026-03-03"),
    ]);
    let post = kitchen.morning("2026-03-04 07:00").expect("a post");
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
    assert_eq!(kitchen.outlook("2026-03-05 19:00").evening_round(false), None);
    assert!(kitchen.morning("2026-03-06 07:00").is_some());
}

#[test]
fn the_evening_round_repeats_only_what_is_not_done() {
    let mut kitchen = Kitchen::new(vec![in_water("celery", "2026-03-02", "2026-03-02")]);
    let round = kitchen.outlook("2026-03-03 19:00").evening_round(false).expect("a round");
    assert_eq!(round.text.to_plain(), "Change the water, 12 hours late: celery in water.");
    kitchen.state.lots[0].water.as_mut().expect("water").changed = day("2026-03-03");
    assert_eq!(kitchen.outlook("2026-03-03 19:00").evening_round(false), None);
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
    let forgotten = |kitchen: &Kitchen, now: &str| kitchen.outlook(now).forgotten(&kitchen.said);
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
        kitchen.morning_text(now).contains(" today or freeze")
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
    let spinach = lot("spinach", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let mut lots: Vec<Lot> = (1..=8).map(|n| grams(spinach.clone(), 100 * n)).collect();
    lots.push(in_water("celery", "2026-03-04", "2026-03-04"));
    let mut kitchen = Kitchen::new(lots);
    let post = kitchen.morning("2026-03-05 07:00").expect("a post");
    let text = post.text.to_plain();
    assert!(text.starts_with("A lot at once today."), "{text}");
    assert!(
        text.contains("Cook tonight: 800 g spinach, 700 g spinach and 600 g spinach."),
        "{text}"
    );
    assert!(text.contains("5 more can wait."), "{text}");
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

fn item(food: &str, quantity: Option<(i64, Option<Unit>)>) -> Item {
    Item {
        food: Some(FoodId::new(food)),
        name: food.to_owned(),
        quantity: quantity.map(|(number, _)| Ratio::whole(number)),
        unit: quantity.and_then(|(_, unit)| unit),
        ..Item::default()
    }
}

fn asked(intent: Intent, items: Vec<Item>) -> Statement {
    let mut statement = Statement::new(intent);
    statement.items = items;
    statement
}

fn answer(kitchen: &Kitchen, now: &str, statement: &Statement) -> String {
    let answer = kitchen.outlook(now).answer(statement);
    answer.map_or_else(String::new, |answer| answer.text.to_plain())
}

fn full_house() -> Kitchen {
    let fridge = |food: &str| lot(food, &[("2026-03-02 12:00", Form::Whole, "fridge")]);
    Kitchen::new(vec![
        grams(fridge("spinach"), 400),
        grams(fridge("carrot"), 2000),
        grams(fridge("kale"), 3000),
        grams(lot("potato", &[("2026-03-02 12:00", Form::Whole, "cool_dark")]), 5000),
        grams(lot("peas", &[("2026-03-02 12:00", Form::Frozen, "freezer")]), 500),
        fridge("mint"),
    ])
}

#[test]
fn what_there_is_is_told_by_food_by_place_and_for_the_whole_house() {
    let kitchen = full_house();
    let now = "2026-03-02 13:00";
    let of = asked(Intent::AskHave, vec![item("kale", None), item("garlic", None)]);
    assert_eq!(
        answer(&kitchen, now, &of),
        "3 kg kale in the fridge: use by Wednesday.\nNo garlic on my list."
    );
    let mut fridge = Statement::new(Intent::AskHave);
    fridge.scope = Some(Scope::Place(Place::Fridge));
    let text = answer(&kitchen, now, &fridge);
    assert!(text.starts_with("In the fridge: ") && !text.contains("potatoes"), "{text}");
    let all = answer(&kitchen, now, &Statement::new(Intent::AskHave));
    assert_eq!(all.lines().count(), 3, "{all}");
    assert!(all.contains("In the freezer: 500 g frozen peas"), "{all}");
    let empty = Kitchen::new(Vec::new());
    let text = answer(&empty, now, &Statement::new(Intent::AskHave));
    assert_eq!(text, "Nothing is on my list. Tell me what you have.");
}

#[test]
fn a_plan_says_what_will_not_last_what_to_freeze_by_when_and_what_runs_short() {
    let kitchen = full_house();
    let mut statement = Statement::new(Intent::AskPlan);
    statement.until = Some(day("2026-03-20"));
    let text = answer(&kitchen, "2026-03-02 13:00", &statement);
    assert!(text.starts_with("Until 20 March:"), "{text}");
    assert!(text.contains("use first: 3 kg kale (by Wednesday), 400 g spinach"), "{text}");
    assert!(text.contains("of the kale"), "3 kg of kale are too much for two: {text}");
    assert!(text.contains("Freeze by "), "{text}");
    assert!(text.contains("run short from "), "{text}");
    assert!(text.contains("I know no weight: mint."), "{text}");
    statement.until = Some(day("2026-03-03"));
    let text = answer(&kitchen, "2026-03-02 13:00", &statement);
    assert!(text.contains("Everything on my list keeps that long."), "{text}");
}

#[test]
fn a_basket_is_told_what_cannot_be_eaten_in_time_and_what_keeps_instead() {
    let kitchen = full_house();
    let kilos = |n| Some((n, Some(Unit::Kilogram)));
    let list = vec![item("chard", kilos(4)), item("potato", kilos(5)), item("moon_cheese", None)];
    let text = answer(&kitchen, "2026-03-02 13:00", &asked(Intent::AskBasket, list));
    assert!(text.starts_with("4 kg chard: about 3.6 kg more than you can eat in time."), "{text}");
    assert!(text.contains("Fine to buy: 5 kg potatoes."), "{text}");
    assert!(text.contains("I cannot judge without a weight or a storage figure: moon_cheese"));
    assert!(text.contains("What keeps for weeks instead: "), "{text}");
    let little = asked(Intent::AskBasket, vec![item("chard", Some((200, Some(Unit::Gram))))]);
    let empty = Kitchen::new(Vec::new());
    assert_eq!(answer(&empty, "2026-03-02 13:00", &little), "Fine to buy: 200 g chard.");
}

#[test]
fn put_away_advice_names_only_what_people_get_wrong() {
    let mut lots = vec![
        lot("tomato", &[("2026-03-02 12:00", Form::Whole, "counter")]),
        lot("potato", &[("2026-03-02 12:00", Form::Whole, "counter")]),
        lot("leek", &[("2026-03-02 12:00", Form::Whole, "counter")]),
        lot("ground_meat", &[("2026-03-02 12:00", Form::Whole, "counter")]),
    ];
    for lot in &mut lots {
        lot.put_away = false;
    }
    let kitchen = Kitchen::new(lots);
    let all: Vec<LotId> = (1..=4).map(LotId).collect();
    let outlook = kitchen.outlook("2026-03-02 13:00");
    let text = outlook.put_away(&all).expect("advice").to_plain();
    assert!(text.contains("Tomatoes: on the counter, not in the fridge."), "{text}");
    assert!(text.contains("Potatoes: in a cool dark place, not in the fridge."), "{text}");
    assert!(text.contains("Ground meat: into the fridge now."), "{text}");
    assert_eq!(outlook.put_away(&[]), None);
    let leek = outlook.put_away(&[LotId(3)]).expect("advice").to_plain();
    assert!(!leek.contains("not in the fridge"), "{leek}");
}

#[test]
fn why_explains_row_place_and_range() {
    let kitchen = full_house();
    let text =
        answer(&kitchen, "2026-03-03 13:00", &asked(Intent::Why, vec![item("carrot", None)]));
    assert!(text.contains("2 kg carrots: Published: "), "{text}");
    assert!(text.contains("in the fridge took "), "{text}");
    assert!(text.contains("One in ten would be gone by "), "{text}");
}

#[test]
fn figures_are_shown_from_ten_kilograms_on() {
    let mut kitchen = full_house();
    let totals = |came_in, eaten, thrown| {
        let mut totals = larderling::ledger::Totals::default();
        (totals.came_in, totals.eaten, totals.trash_food) = (came_in, eaten, thrown);
        totals
    };
    kitchen.state.ledger.insert("kale".to_owned(), totals(14_000, 2_500, 600));
    let text = answer(&kitchen, "2026-03-03 13:00", &Statement::new(Intent::AskLedger));
    assert!(text.contains("Too little so far for a share of waste."), "{text}");
    kitchen.state.ledger.insert("kale".to_owned(), totals(31_000, 19_000, 1_000));
    let text = answer(&kitchen, "2026-03-03 13:00", &Statement::new(Intent::AskLedger));
    // 1 of 31 - 10.9 kilograms.
    assert!(text.contains("Food wasted: 5 % of what was used."), "{text}");
}
