//! Estimates of lots: dates, moves, forms, and the laws they keep whatever happens.

use std::collections::BTreeMap;

use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::keeping::learning::{Case, End, Taught};
use larderling::keeping::{Climate, Clock, Estimate, Keeper, Learned, Quality, Step};
use larderling::kitchen::{
    Amount, Change, Draw, Event, EventId, Limit, Lot, LotId, Named, NewLot, PersonId, State, What,
};
use larderling::rules::{Rules, Topic};
use larderling::words::{FoodId, Form, Place};
use proptest::prelude::*;
use serde_json::json;

/// Published rows in small, so that the laws do not hang on the bundle's data.
const FOODS: &str = r#"
[carrot]
name = "carrot"
kind = "root"
places = [{ place = "crisper", why = "cold and damp", cite = "A handbook" }]
lives = [
  { form = "whole", place = "fridge", days = [14, 28], cite = "A handbook" },
  { form = "cut", place = "fridge", days = [5, 7], cite = "A handbook" },
]
parts = [{ id = "root", main = true, verdict = "edible", why = "sold as food", cite = "A handbook" }]

[broccoli]
name = "broccoli"
kind = "vegetable"
places = [{ place = "fridge", why = "cold", cite = "A handbook" }]
lives = [
  { form = "whole", place = "fridge", days = [14, 14], temp_c = 5.0, cite = "A handbook" },
  { form = "whole", place = "cool_dark", days = [5, 5], temp_c = 10.0, cite = "A handbook" },
]
parts = [{ id = "head", main = true, verdict = "edible", why = "sold as food", cite = "A handbook" }]
[broccoli.conditions]
ethylene_feared = "very_high"
freezing_c = -0.6
cite = "A handbook"

[apple]
name = "apple"
kind = "fruit"
places = [{ place = "fridge", why = "cold", cite = "A handbook" }]
lives = [{ form = "whole", place = "fridge", days = [21, 28], cite = "A handbook" }]
parts = [{ id = "flesh", main = true, verdict = "edible", why = "sold as food", cite = "A handbook" }]
[apple.conditions]
ethylene_made = "very_high"
cite = "A handbook"

[eggplant]
name = "eggplant"
kind = "vegetable"
places = [{ place = "counter", why = "cold harms it", cite = "A handbook" }]
lives = [{ form = "whole", place = "counter", days = [4, 8], cite = "A handbook" }]
parts = [{ id = "flesh", main = true, verdict = "edible", why = "sold as food", cite = "A handbook" }]
[eggplant.conditions]
chilling_below_c = 10.0
cite = "A handbook"
"#;

const SOURCES: &str = r#"
[handbook]
short = "handbook"
full = "A handbook made for these tests"
"#;

/// The least a rule set must say of food in general; nothing here reads it.
fn general() -> String {
    let mut text = r#"
left_out = { minutes = 120, hot_minutes = 60, hot_above_c = 32.0, cite = "A handbook" }
outage = { fridge_hours = 4, freezer_full_hours = 48, freezer_half_hours = 24, warm_minutes = 120, warm_above_c = 5.0, cite = "A handbook" }
bag = { strong_share_percent = 20, months = 6, refused = [], cite = "A handbook" }
"#
    .to_owned();
    for topic in Topic::ALL {
        let mut name = String::new();
        for letter in format!("{topic:?}").chars() {
            if letter.is_uppercase() && !name.is_empty() {
                name.push('_');
            }
            name.extend(letter.to_lowercase());
        }
        text += &format!(
            "[[guidance]]\ntopic = \"{name}\"\nverdict = \"unknown\"\ntext = \"-\"\ncite = \"A handbook\"\n"
        );
    }
    text
}

/// The rule set of these tests.
pub fn rules() -> Rules {
    let files = [("sources.toml", SOURCES), ("general.toml", &general()), ("foods.toml", FOODS)];
    Rules::parse(&files).unwrap_or_else(|faults| panic!("{faults}"))
}

pub fn at(text: &str) -> Instant {
    let (day, time) = text.split_once(' ').expect("a day and a time");
    let day: KitchenDay = day.parse().expect("a day");
    day.at(larderling::dates::clock_time(time).expect("a time"), Zone::UTC)
}

/// A lot that has been through `stays` ("2026-03-01 12:00", form, place), as the log keeps it.
pub fn lot(food: &str, stays: &[(&str, Form, &str)]) -> Lot {
    let rows: Vec<_> = stays
        .iter()
        .map(|(from, form, place)| json!({"from": at(from), "form": form, "place": place}))
        .collect();
    let (first, last) = (stays[0], stays[stays.len() - 1]);
    let day = &first.0[..10];
    serde_json::from_value(json!({"id": 1, "food": food, "name": food, "form": last.1,
        "place": last.2, "since": day, "put_away": true, "stays": rows, "limits": [],
        "last_seen": day, "doubtful": false}))
    .expect("a lot")
}

fn estimate_in(state: &State, lot: &Lot, now: &str) -> Estimate {
    let (rules, learned) = (rules(), Learned::default());
    Keeper::new(state, &rules, &learned).estimate(lot, at(now))
}

fn estimate(lot: &Lot, now: &str) -> Estimate {
    estimate_in(&State::default(), lot, now)
}

fn clock(estimate: &Estimate) -> &Clock {
    estimate.clock().unwrap_or_else(|| panic!("no clock: {:?}", estimate.quality))
}

fn dates(estimate: &Estimate) -> (String, String) {
    let clock = clock(estimate);
    (clock.early.day(Zone::UTC).to_string(), clock.late.day(Zone::UTC).to_string())
}

#[test]
fn a_lot_put_away_at_once_gets_the_published_range() {
    let carrots = lot("carrot", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    for now in ["2026-03-01 12:00", "2026-03-10 08:00", "2026-04-20 08:00"] {
        let expected = ("2026-03-15".to_owned(), "2026-03-29".to_owned());
        assert_eq!(dates(&estimate(&carrots, now)), expected, "asked at {now}");
    }
}

#[test]
fn days_at_room_temperature_take_life_from_the_fridge_days() {
    // Two days at 21 °C take 2 * r(21)/r(4) = 10.36 days of a fridge life.
    let carrots = lot(
        "carrot",
        &[
            ("2026-03-01 12:00", Form::Whole, "counter"),
            ("2026-03-03 12:00", Form::Whole, "fridge"),
        ],
    );
    let expected = ("2026-03-07".to_owned(), "2026-03-21".to_owned());
    assert_eq!(dates(&estimate(&carrots, "2026-03-03 12:00")), expected);
}

#[test]
fn a_place_of_the_households_own_uses_the_foods_own_rows_between_their_temperatures() {
    let mut state = State::default();
    let from: KitchenDay = "2026-01-01".parse().expect("a day");
    state.settings.places = BTreeMap::from([("porch".to_owned(), vec![(from, 8.0)])]);
    let broccoli = lot("broccoli", &[("2026-03-01 12:00", Form::Whole, "porch")]);
    let found = estimate_in(&state, &broccoli, "2026-03-01 12:00");
    // MODEL value keep.interp_broccoli_8C: 7.548 days between the rows of 5 and 10 °C.
    let days = clock(&found).spread.quantile_days(0.1);
    assert!((days - 7.548).abs() < 0.001, "{days}");
}

#[test]
fn a_told_temperature_counts_from_its_day_on() {
    let mut state = State::default();
    let day = |text: &str| text.parse::<KitchenDay>().expect("a day");
    state.settings.places = BTreeMap::from([(
        "porch".to_owned(),
        vec![(day("2026-03-01"), 5.0), (day("2026-03-05"), 10.0)],
    )]);
    let broccoli = lot("broccoli", &[("2026-03-01 00:00", Form::Whole, "porch")]);
    let found = estimate_in(&state, &broccoli, "2026-03-05 00:00");
    // Four of fourteen days are gone; five sevenths of five days are left.
    let left = clock(&found).early.minutes_since(at("2026-03-05 00:00")) as f64 / 1440.0;
    assert!((left - 5.0 * (1.0 - 4.0 / 14.0)).abs() < 0.01, "{left}");
}

#[test]
fn apples_in_the_fridge_age_what_fears_ethylene_and_not_themselves() {
    let broccoli = lot("broccoli", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let apples = lot("apple", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let state = State { lots: vec![broccoli.clone(), apples.clone()], ..State::default() };
    let found = estimate_in(&state, &broccoli, "2026-03-01 12:00");
    let days = clock(&found).spread.quantile_days(0.1);
    assert!((days - 14.0 * 0.690_083).abs() < 0.001, "{days}");
    assert!(found.steps.iter().any(|step| matches!(step, Step::Neighbour { .. })));
    let own = estimate_in(&state, &apples, "2026-03-01 12:00");
    assert_eq!(dates(&own), ("2026-03-22".to_owned(), "2026-03-29".to_owned()));
}

#[test]
fn cold_ends_what_cannot_bear_it_and_gains_it_nothing() {
    let eggplant = lot("eggplant", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let found = estimate(&eggplant, "2026-03-01 12:00");
    // Six degrees too cold, 35 degree-days: 5.83 days.
    assert_eq!(clock(&found).late.day(Zone::UTC).to_string(), "2026-03-07");
    assert!(found.steps.iter().any(|step| matches!(step, Step::Chilling { .. })));
}

#[test]
fn below_its_freezing_point_no_life_is_computed() {
    let mut state = State::default();
    let from: KitchenDay = "2026-01-01".parse().expect("a day");
    state.settings.places = BTreeMap::from([("porch".to_owned(), vec![(from, -1.0)])]);
    let broccoli = lot("broccoli", &[("2026-03-01 12:00", Form::Whole, "porch")]);
    let found = estimate_in(&state, &broccoli, "2026-03-01 12:00");
    assert_eq!(found.quality, Quality::MayFreeze { at_c: -1.0 });
}

#[test]
fn freezing_stops_the_fresh_clock_and_thawing_goes_on_where_it_stopped() {
    let stays = [
        ("2026-03-01 12:00", Form::Whole, "fridge"),
        ("2026-03-08 12:00", Form::Frozen, "freezer"),
        ("2026-06-08 12:00", Form::Thawed, "fridge"),
    ];
    let frozen = lot("carrot", &stays[..2]);
    let found = estimate(&frozen, "2026-04-01 12:00");
    assert!(clock(&found).frozen);
    assert_eq!(clock(&found).chance_within(30.0), 0.0, "frozen food is past best, never lost");
    let thawed = lot("carrot", &stays);
    let spent = clock(&estimate(&thawed, "2026-06-08 12:00")).spent;
    assert!((spent - 7.0 / 23.2145).abs() < 1e-3, "{spent}");
}

#[test]
fn a_food_or_form_nobody_wrote_about_has_no_clock() {
    let unknown = lot("moon_cheese", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    assert_eq!(estimate(&unknown, "2026-03-01 12:00").quality, Quality::Unknown);
    let growing = lot("carrot", &[("2026-03-01 12:00", Form::Whole, "in_ground")]);
    assert_eq!(estimate(&growing, "2026-03-01 12:00").quality, Quality::Growing);
}

#[test]
fn a_use_by_date_is_a_hard_limit_and_a_best_before_date_is_not() {
    let mut milk = lot("apple", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let day: KitchenDay = "2026-03-05".parse().expect("a day");
    milk.printed = Some((larderling::words::DateLabel::UseBy, day));
    let found = estimate(&milk, "2026-03-01 12:00");
    assert_eq!(found.safety_day, Some(day));
    assert!(clock(&found).late.day(Zone::UTC) <= day);
    milk.printed = Some((larderling::words::DateLabel::BestBefore, day));
    let found = estimate(&milk, "2026-03-01 12:00");
    assert_eq!(found.safety_day, None);
    assert!(clock(&found).late.day(Zone::UTC) > day);
}

#[test]
fn limp_comes_before_lost_and_is_no_loss() {
    let carrots = lot("carrot", &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    let found = estimate(&carrots, "2026-03-01 12:00");
    let clock = clock(&found);
    assert!(clock.limp.is_some_and(|limp| limp < clock.early));
}

/// A life of some stays in known forms and places, each a few hours to a few weeks long.
fn any_stays() -> impl Strategy<Value = Vec<(i64, Form, &'static str)>> {
    let form = prop::sample::select(vec![
        Form::Whole,
        Form::Cut,
        Form::InWater,
        Form::Cooked,
        Form::Frozen,
        Form::Thawed,
        Form::Dried,
        Form::Opened,
    ]);
    let place =
        prop::sample::select(vec!["counter", "fridge", "crisper", "cool_dark", "freezer", "porch"]);
    prop::collection::vec((6_i64..500, form, place), 1..6)
}

fn any_food() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["carrot", "broccoli", "apple", "eggplant"])
}

fn after_hours(start: Instant, hours: i64) -> Instant {
    start.plus_minutes(hours * 60)
}

fn lot_through(food: &str, stays: &[(i64, Form, &'static str)]) -> (Lot, Instant) {
    let start = at("2026-03-01 12:00");
    let mut made = lot(food, &[("2026-03-01 12:00", Form::Whole, "fridge")]);
    made.stays.clear();
    let mut from = start;
    for (hours, form, place) in stays {
        let place = Place::from((*place).to_owned());
        (made.form, made.place) = (*form, place.clone());
        made.stays.push(larderling::kitchen::Stay { from, form: *form, place });
        from = after_hours(from, *hours);
    }
    (made, from)
}

/// What a household may have been taught: outcomes of any food in any place.
fn any_lessons() -> impl Strategy<Value = Learned> {
    let case = (any_food(), prop::sample::select(vec!["counter", "fridge", "cool_dark", "porch"]))
        .prop_flat_map(|(food, place)| {
            let end = prop::sample::select(vec![End::Spoiled, End::WasGoing, End::Sound]);
            (Just(food), Just(place), 120_u32..1400, 1_u32..5000, 10_u32..=1000, end)
        });
    let case = case.prop_map(|(food, place, shape_centi, spent_milli, weight_milli, end)| Case {
        food: FoodId::new(food),
        place: Place::from(place.to_owned()),
        shape_centi,
        spent_milli,
        weight_milli,
        end,
    });
    prop::collection::vec(case, 0..20).prop_map(|cases| {
        let mut taught = Taught::default();
        cases.iter().for_each(|case| taught.add(case));
        Learned::of(&taught)
    })
}

/// Something that happens to a lot that stands under a hard limit.
#[derive(Clone, Debug)]
enum Fate {
    Wait(i64),
    Move(&'static str),
    Freeze,
    Thaw,
    PutInWater,
    Open,
    Cook,
    Count(i64),
    Seen,
    PutAway,
    Warm(f64),
    LeftOut(u32),
    Setting(&'static str, &'static str),
    Teach(u32),
}

fn any_fate() -> impl Strategy<Value = Fate> {
    let place = prop::sample::select(vec!["counter", "fridge", "crisper", "cool_dark", "porch"]);
    prop_oneof![
        3 => (1_i64..5).prop_map(Fate::Wait),
        2 => place.prop_map(Fate::Move),
        2 => Just(Fate::Freeze),
        2 => Just(Fate::Thaw),
        1 => Just(Fate::PutInWater),
        1 => Just(Fate::Open),
        1 => Just(Fate::Cook),
        1 => (1_i64..2000).prop_map(Fate::Count),
        1 => Just(Fate::Seen),
        1 => Just(Fate::PutAway),
        1 => (-30.0_f64..40.0).prop_map(Fate::Warm),
        1 => (1_u32..600).prop_map(Fate::LeftOut),
        1 => prop::sample::select(vec![("learning", "off"), ("learning", "forget"),
            ("people", "9"), ("units", "us")]).prop_map(|(key, value)| Fate::Setting(key, value)),
        1 => (1_u32..4000).prop_map(Fate::Teach),
    ]
}

/// What an event of `fate` is, on a lot of carrots that is all there is.
fn event_of(fate: &Fate, day: KitchenDay) -> Option<What> {
    let draw = Draw {
        of: Named { food: Some(FoodId::new("carrot")), name: "carrot".to_owned(), part: None },
        lots: vec![LotId(1)],
        amount: Amount::ALL,
        grams: None,
    };
    let from = day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(720);
    let change = |form: Option<Form>, place: Option<&str>, limits: Vec<Limit>| Change {
        draw: draw.clone(),
        pieces: vec![LotId(50), LotId(51)],
        from,
        form,
        place: place.map(|place| Place::from(place.to_owned())),
        limits,
        water: None,
        counted: None,
    };
    let limit = |day: KitchenDay| Limit {
        day: Some(day),
        at: None,
        why: "cooked".to_owned(),
        source: "handbook".to_owned(),
    };
    let grams = |grams: i64| {
        larderling::units::Quantity::new(
            larderling::units::Ratio::whole(grams),
            Some(larderling::units::Unit::Gram),
        )
    };
    Some(match fate {
        Fate::Wait(_) => return None,
        Fate::Move(place) => What::Moved { change: change(None, Some(place), Vec::new()) },
        Fate::Freeze => What::Preserved {
            change: change(Some(Form::Frozen), Some("freezer"), Vec::new()),
            weighed: None,
        },
        Fate::Thaw => {
            What::Thawed { change: change(Some(Form::Thawed), Some("fridge"), Vec::new()) }
        }
        Fate::PutInWater => {
            What::PutInWater { change: change(Some(Form::InWater), Some("fridge"), Vec::new()) }
        }
        Fate::Open => What::Opened { change: change(Some(Form::Opened), None, Vec::new()) },
        Fate::Cook => What::Prepared {
            change: change(Some(Form::Cooked), Some("fridge"), vec![limit(day.plus(3))]),
        },
        Fate::Count(count) => What::Counted {
            lots: vec![LotId(1)],
            amount: Amount::Exact(grams(*count)),
            grams: Some(*count),
            new: new_lot(day, Vec::new()),
        },
        Fate::Seen => What::Seen { lots: vec![LotId(1)] },
        Fate::PutAway => What::PutAway { lots: vec![LotId(1)] },
        Fate::Warm(celsius) => {
            What::SettingChanged { key: "place:fridge".to_owned(), value: format!("{celsius}C") }
        }
        Fate::LeftOut(minutes) => {
            What::LeftOut { lots: vec![LotId(1)], minutes: *minutes, limit: None }
        }
        Fate::Setting(key, value) => {
            What::SettingChanged { key: (*key).to_owned(), value: (*value).to_owned() }
        }
        Fate::Teach(spent_milli) => What::Ended {
            cases: vec![Case {
                food: FoodId::new("carrot"),
                place: Place::Fridge,
                shape_centi: 445,
                spent_milli: *spent_milli,
                weight_milli: 1000,
                end: End::Sound,
            }],
        },
    })
}

fn new_lot(day: KitchenDay, limits: Vec<Limit>) -> NewLot {
    NewLot {
        lot: LotId(1),
        of: Named { food: Some(FoodId::new("carrot")), name: "carrot".to_owned(), part: None },
        from: day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(720),
        form: Form::Cut,
        place: Place::Fridge,
        put_away: false,
        quantity: None,
        grams: Some(1000),
        cost: None,
        limits,
        printed: None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    /// While nothing happens to a lot, no date moves later and no days are gained.
    #[test]
    fn prop_advice_never_gets_looser_as_a_lot_ages(
        food in any_food(), stays in any_stays(), waits in prop::collection::vec(1_i64..300, 2..6),
        learned in any_lessons(),
    ) {
        let rules = rules();
        let state = State::default();
        let keeper = Keeper::new(&state, &rules, &learned);
        let (lot, mut now) = lot_through(food, &stays);
        let mut before = keeper.estimate(&lot, now);
        for wait in waits {
            now = after_hours(now, wait);
            let after = keeper.estimate(&lot, now);
            if let (Some(old), Some(new)) = (before.clock(), after.clock()) {
                prop_assert!(new.early <= old.early && new.late <= old.late);
                prop_assert!(new.days_left() <= old.days_left() + 1e-9);
                prop_assert!(new.chance_within(1.0) >= old.chance_within(1.0) - 1e-12);
            }
            prop_assert!(after.clock().is_some() == before.clock().is_some());
            before = after;
        }
    }

    /// Nothing but its limits decides when a lot is out: no stay, temperature or lesson.
    #[test]
    fn prop_no_stay_setting_or_lesson_moves_a_safety_date_later(
        food in any_food(), stays in any_stays(), limit in 0_i64..40, celsius in -5.0_f64..30.0,
        printed in prop::option::of(0_i64..40), learned in any_lessons(),
    ) {
        let rules = rules();
        let (mut lot, now) = lot_through(food, &stays);
        let first: KitchenDay = "2026-03-01".parse().expect("a day");
        let limit = first.plus(limit);
        lot.limits = vec![larderling::kitchen::state::Limit {
            day: Some(limit), at: None, why: "cut".to_owned(), source: "handbook".to_owned(),
        }];
        lot.printed =
            printed.map(|days| (larderling::words::DateLabel::UseBy, first.plus(days)));
        let mut state = State::default();
        state.settings.places =
            ["fridge", "porch"].map(|place| (place.to_owned(), vec![(first, celsius)])).into();
        let found = Keeper::new(&state, &rules, &learned).estimate(&lot, now);
        if lot.form == Form::Frozen {
            prop_assert_eq!(found.safety_day, None);
        } else {
            prop_assert!(found.safety_day.is_some_and(|day| day <= limit));
            let left = found.days_left(now, Zone::UTC).expect("a limit is known");
            let end = limit.plus(1).at(chrono::NaiveTime::MIN, Zone::UTC);
            prop_assert!(left * 1440.0 <= end.minutes_since(now) as f64 + 1.0);
        }
    }

    /// Above what it bears, a colder place never shortens a life.
    #[test]
    fn prop_a_colder_place_never_shortens_a_life(
        food in any_food(), warm in 10.0_f64..30.0, colder_by in 0.0_f64..20.0,
    ) {
        let rules = rules();
        let cold = (warm - colder_by).max(if food == "eggplant" { 10.0 } else { 0.0 });
        let day: KitchenDay = "2026-03-01".parse().expect("a day");
        let learned = Learned::default();
        for place in ["porch", "fridge"] {
            let dates = [cold, warm].map(|celsius| {
                let mut state = State::default();
                state.settings.places = [(place.to_owned(), vec![(day, celsius)])].into();
                let lot = lot(food, &[("2026-03-01 12:00", Form::Whole, place)]);
                let found = Keeper::new(&state, &rules, &learned).estimate(&lot, at("2026-03-01 12:00"));
                let clock = found.clock().expect("a clock").clone();
                (clock.early, clock.late)
            });
            prop_assert!(dates[0].0 >= dates[1].0 && dates[0].1 >= dates[1].1, "{place} {dates:?}");
        }
    }

    /// Whatever happens, a hard limit stands where its source put it: only the days in the freezer,
    /// where its clock stands still, are added, and cooking sound food starts the cooked clock.
    #[test]
    fn prop_no_event_setting_or_lesson_moves_a_safety_date_later_than_its_source(
        fates in prop::collection::vec(any_fate(), 1..25), days in 1_i64..10,
    ) {
        let rules = rules();
        let mut state = State::default();
        let mut day: KitchenDay = "2026-03-01".parse().expect("a day");
        let mut allowed = day.plus(days - 1);
        let limit = Limit {
            day: Some(allowed), at: None, why: "cut".to_owned(), source: "handbook".to_owned(),
        };
        let happen = |state: &mut State, day: KitchenDay, what: What| {
            let event = Event {
                id: EventId(state.last_event + 1),
                person: Some(PersonId(1)),
                at: day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(720),
                day,
                message: None,
                replaces: None,
                what,
            };
            state.apply(&event);
        };
        let lots = vec![new_lot(day, vec![limit])];
        happen(&mut state, day, What::Acquired { lots, paid: None });
        let mut frozen_on = None;
        for fate in &fates {
            if let Fate::Wait(days) = fate {
                day = day.plus(*days);
            }
            let form = state.lot(LotId(1)).map(|lot| lot.form);
            let frozen = form == Some(Form::Frozen);
            // People freeze what is not frozen, and thaw what is; the frozen cannot be cut or cooked.
            let fits = match fate {
                Fate::Thaw => frozen,
                Fate::Freeze | Fate::Cook | Fate::Open | Fate::PutInWater | Fate::Move(_) => !frozen,
                _ => true,
            };
            if fits && let Some(what) = event_of(fate, day) {
                happen(&mut state, day, what);
            }
            match fate {
                Fate::Freeze if fits => frozen_on = Some(day),
                Fate::Thaw if fits => {
                    let since = frozen_on.take().expect("it was frozen");
                    if since <= allowed {
                        allowed = allowed.plus(day.days_since(since));
                    }
                }
                // Cooked before its day, raw food gets the cooked clock; food cooked before does not.
                Fate::Cook if fits && day <= allowed && form != Some(Form::Cooked) => {
                    allowed = day.plus(3);
                }
                _ => {}
            }
            let learned = Learned::by(&state);
            let keeper = Keeper::new(&state, &rules, &learned);
            let lot = state.lot(LotId(1)).expect("it is all there is");
            let now = day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(720);
            let found = keeper.estimate(lot, now);
            if lot.form != Form::Frozen {
                let until = found.safety_day.expect("its limit is known");
                prop_assert!(until <= allowed, "{until} after {allowed} by {fate:?}");
                prop_assert_eq!(found.is_out(now, Zone::UTC), day > until);
            }
        }
    }
}

#[test]
fn a_place_nobody_described_is_taken_as_a_warm_room() {
    let day: KitchenDay = "2026-03-01".parse().expect("a day");
    let of = |name: &str| Climate::of(&Place::from(name.to_owned()), &BTreeMap::new(), day);
    assert_eq!(of("under the stairs").map(|c| c.celsius), of("counter").map(|c| c.celsius));
    assert_eq!(of("garage fridge").map(|c| c.celsius), of("fridge").map(|c| c.celsius));
    assert_eq!(of("in_ground"), None);
}
