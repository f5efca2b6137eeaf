//! What a large household costs: morning post, plan and basket check with up to 300 live lots and
//! ten years of events.
//!
//! `cargo bench --bench speed` prints the time of each and two ratios: lots against time, and
//! history against time. Cost should grow with live lots and not with history.

use std::hint::black_box;
use std::time::{Duration, Instant as Stopwatch};

use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::keeping::Learned;
use larderling::kitchen::{
    Amount, Draw, Event, EventId, LotId, Named, NewLot, PersonId, State, What,
};
use larderling::plan::{Grounds, Outlook, Said};
use larderling::rules::Rules;
use larderling::statement::Item;
use larderling::units::{Minor, Quantity, Ratio, Unit};
use larderling::wording::Wording;
use larderling::words::{FoodId, Form};

const ROUNDS: u32 = 60;
const GRAMS: i64 = 600;

/// Foods of the bundle that a household of many eats.
const FOODS: &[&str] = &[
    "carrot",
    "potato",
    "onion",
    "cabbage",
    "apple",
    "orange",
    "leek",
    "beet",
    "celery",
    "tomato",
    "banana",
    "lettuce",
    "kale",
    "broccoli",
    "cauliflower",
    "bell_pepper",
    "cucumber",
    "spinach",
    "garlic",
    "pear",
    "parsnip",
    "mushroom",
    "zucchini",
    "chard",
];

fn main() {
    let rules = Rules::embedded().unwrap_or_else(|faults| panic!("{faults}"));
    let wording = Wording::english().expect("a wording file without faults");
    println!("{:>5} lots {:>5} years: post, plan and basket check in microseconds", "", "");
    let mut rows = Vec::new();
    for (lots, years) in [(75, 10), (150, 10), (300, 1), (300, 10)] {
        let state = household(lots, years, &rules);
        let row = measure(&state, &rules, &wording);
        println!(
            "{lots:>5} lots {years:>5} years: post {:>7.0}  plan {:>7.0}  basket {:>7.0}  ({} events)",
            row[0], row[1], row[2], state.last_event
        );
        rows.push(row);
    }
    let names = ["post", "plan", "basket"];
    for (what, name) in names.iter().enumerate() {
        println!(
            "{name}: four times the lots cost {:.1} times; ten times the history {:.2} times",
            rows[3][what] / rows[0][what],
            rows[3][what] / rows[2][what]
        );
    }
}

/// The middle of many runs of each, in microseconds.
fn measure(state: &State, rules: &Rules, wording: &Wording) -> [f64; 3] {
    let now = state.last_heard.expect("events").plus(1).at(chrono::NaiveTime::MIN, Zone::UTC);
    let now = now.plus_minutes(7 * 60);
    let learned = Learned::by(state);
    let nothing = Said::new();
    let outlook = || {
        let grounds = Grounds { rules, foods: rules, learned: &learned, wording, log: &[] };
        Outlook::new(state, grounds, now)
    };
    let items: Vec<Item> = ["kale", "melon", "carrot", "potato"]
        .iter()
        .map(|food| Item {
            food: Some(FoodId::new(*food)),
            name: (*food).to_owned(),
            quantity: Some(Ratio::whole(3)),
            unit: Some(Unit::Kilogram),
            ..Item::default()
        })
        .collect();
    [
        middle(|| {
            black_box(outlook().morning_post(&nothing));
        }),
        middle(|| {
            black_box(outlook().ask_plan(None));
        }),
        middle(|| {
            black_box(outlook().ask_basket(&items, None));
        }),
    ]
}

fn middle(mut run: impl FnMut()) -> f64 {
    let mut times: Vec<Duration> = Vec::new();
    for _ in 0..ROUNDS {
        let began = Stopwatch::now();
        run();
        times.push(began.elapsed());
    }
    times.sort_unstable();
    times[times.len() / 2].as_secs_f64() * 1e6
}

/// A household of forty with a history of shops and meals, and so many lots in the end.
fn household(lots: usize, years: i64, rules: &Rules) -> State {
    let last = KitchenDay::new(2026, 3, 1).expect("a day");
    let first = last.plus(-365 * years);
    let mut state = State::default();
    happened(&mut state, first, What::SettingChanged { key: "people".into(), value: "40".into() });
    let mut day = first;
    let mut number = 1;
    while day < last.plus(-14) {
        shop(&mut state, rules, day, &mut number, FOODS.len());
        for n in 1..=10_u64 {
            let id = LotId(number - n);
            let Some(lot) = state.lot(id) else { continue };
            let draw =
                Draw { of: lot.named(), lots: vec![id], amount: Amount::ALL, grams: lot.grams };
            happened(&mut state, day.plus(5), What::Used { draw });
        }
        let gone: Vec<LotId> = state.lots.iter().map(|lot| lot.id).collect();
        happened(&mut state, day.plus(13), What::Uncounted { lots: gone });
        day = day.plus(14);
    }
    for back in 0.. {
        let missing = lots.saturating_sub(state.lots.len());
        if missing == 0 {
            break;
        }
        shop(&mut state, rules, last.plus(-(back % 6)), &mut number, missing.min(FOODS.len()));
    }
    state
}

fn shop(state: &mut State, rules: &Rules, day: KitchenDay, number: &mut u64, count: usize) {
    let from: Instant = day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(600);
    let lots: Vec<NewLot> = (*number..)
        .zip(FOODS.iter().take(count))
        .map(|(number, id)| {
            let food = rules.food(&FoodId::new(*id)).expect("a food of the rule set");
            NewLot {
                lot: LotId(number),
                of: Named { food: Some(food.id.clone()), name: food.name.clone(), part: None },
                from,
                form: Form::Whole,
                place: food.places[0].place.clone(),
                put_away: true,
                quantity: Some(Quantity::new(Ratio::whole(GRAMS), Some(Unit::Gram))),
                grams: Some(GRAMS),
                cost: Some(Minor(200)),
                limits: Vec::new(),
                printed: None,
            }
        })
        .collect();
    *number += lots.len() as u64;
    let paid = Some(Minor(200 * lots.len() as i64));
    happened(state, day, What::Acquired { lots, paid });
}

fn happened(state: &mut State, day: KitchenDay, what: What) {
    let event = Event {
        id: EventId(state.last_event + 1),
        person: Some(PersonId(1)),
        at: day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(600),
        day,
        message: None,
        replaces: None,
        what,
    };
    state.apply(&event);
}
