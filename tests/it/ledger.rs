//! The ledger against published and independently computed values, and in whole households.
//!
//! `checks/ledger.json` holds each value with its inputs, tolerance, kind and source. Rows without
//! a tolerance are rules, asserted here in words.

use larderling::ledger::Totals;
use larderling::ledger::money::{self, PriceView};
use larderling::ledger::waste::{self, Balance};
use larderling::units::{Minor, Quantity, Ratio, Unit};
use serde_json::{Value, json};

#[test]
fn every_waste_and_money_value_holds_within_its_tolerance() {
    let file: Value = serde_json::from_str(include_str!("checks/ledger.json")).expect("valid JSON");
    let rows = file["checks"].as_array().expect("a list of checks");
    let mut faults = Vec::new();
    let mut compared = 0;
    for row in rows {
        let name = row["name"].as_str().expect("a name");
        let got = compute(name, &row["inputs"]);
        let Some(tolerance) = row["tolerance"].as_f64() else {
            assert_eq!(got, row["expected"], "{name}");
            continue;
        };
        let published = row["kind"] == "published";
        let close = |expected: f64, got: f64| {
            let slack = if published { tolerance } else { tolerance * expected.abs().max(1.0) };
            (got - expected).abs() <= slack + 1e-9
        };
        let expected = match &row["expected"] {
            Value::Object(fields) => fields.iter().map(|(k, v)| (k.clone(), v.clone())).collect(),
            value => vec![(String::new(), value.clone())],
        };
        for (key, expected) in expected {
            let got = if key.is_empty() { &got } else { &got[&key] };
            let pair = (expected.as_f64(), got.as_f64());
            if !matches!(pair, (Some(expected), Some(got)) if close(expected, got)) {
                faults.push(format!("{name}.{key}: expected {expected}, got {got}"));
            }
            compared += 1;
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    assert_eq!((rows.len(), compared), (17, 41), "a check was added or lost");
}

/// The worked example of the waste checks, in grams.
fn example() -> Balance {
    Balance {
        opening: 18_000,
        closing: 21_400,
        flows: Totals {
            came_in: 62_000 + 3_500 + 1_200,
            eaten: 51_600,
            given: 1_000,
            fed_food: 300,
            fed_inedible: 400,
            composted_food: 900,
            composted_inedible: 4_600,
            trash_food: 700,
            trash_inedible: 500,
            sewer_food: 200,
            moisture: 1_100,
            ..Totals::default()
        },
    }
}

fn compute(name: &str, inputs: &Value) -> Value {
    let number = |key: &str| inputs[key].as_f64().unwrap_or_else(|| panic!("{key} in {inputs}"));
    // Prices in these checks have at most eight decimals.
    let exact = |value: f64| Ratio::new((value * 1e8).round() as i64, 100_000_000).expect("fits");
    let decimal = |key: &str| exact(number(key));
    let minor = |key: &str| Minor((number(key) * 100.0).round() as i64);
    let money = |minor: Minor| json!(minor.0 as f64 / 100.0);
    let kilo = |grams: i64| json!(grams as f64 / 1000.0);
    let percent = |share: Option<f64>| json!(share.expect("a share") * 100.0);
    let of = |ratio: Option<Ratio>| json!(ratio.expect("a price").to_f64() / 100.0);
    match name {
        "waste.balance" => {
            let balance = example();
            json!({
                "available_kg": kilo(balance.available()),
                "throughput_kg": kilo(balance.throughput()),
                "unexplained_kg": kilo(balance.unexplained()),
                "unexplained_pct_of_throughput": percent(balance.unexplained_share()),
            })
        }
        "waste.shares" => {
            let balance = example();
            json!({
                "flw_food_kg": kilo(balance.wasted_food()),
                "flw_inedible_kg": kilo(balance.wasted_inedible()),
                "animal_feed_kg_reported_apart": kilo(balance.flows.animal_feed()),
                "denominator_kg": kilo(balance.denominator()),
                "waste_share_food_pct": percent(balance.waste_share()),
                "waste_share_food_plus_inedible_pct": percent(balance.waste_share_with_inedible()),
            })
        }
        "waste.trash_only_view" => {
            json!({ "to_trash_and_sewer_pct": percent(example().thrown_away_share()) })
        }
        "waste.cost_of_food_waste" => {
            // Each food's weight at its own price for a kilogram.
            let rows = inputs["kg"].as_array().expect("rows");
            let costs = rows.iter().map(|row| {
                let part = |index: usize| row[index].as_f64().expect("a number");
                Minor((part(2) * 100.0).round() as i64).times(exact(part(1))).expect("fits").0
            });
            money(Minor(costs.sum()))
        }
        "waste.per_person_year" => {
            let grams = (number("flw_total_kg") * 1000.0).round() as i64;
            json!(waste::per_person_year(grams, number("days") as u32, number("people") as u32))
        }
        "waste.stock_booking" => stock_booking(inputs),
        "money.lb_to_kg" => {
            let pound = Quantity::new(Ratio::ONE, Some(Unit::Pound));
            of(money::per_kilogram(minor("price"), pound, None))
        }
        "money.oz_pack" => {
            let pack = Quantity::new(decimal("pack_oz"), Some(Unit::Ounce));
            of(money::per_kilogram(minor("price"), pack, None))
        }
        "money.each_to_kg" => {
            let one = Quantity::new(Ratio::ONE, None);
            of(money::per_kilogram(minor("price"), one, Some(decimal("each_g"))))
        }
        "money.good_price_q25" | "money.good_price_few" => {
            let prices = inputs["unit_prices"].as_array().expect("prices").iter();
            let prices: Vec<Ratio> =
                prices.map(|price| exact(price.as_f64().expect("a price") * 100.0)).collect();
            match money::view_of(Ratio::whole(0), &prices) {
                PriceView::Good { lower } => of(Some(lower)),
                _ => Value::Null,
            }
        }
        "money.burn_linear" => {
            let (day, days) = (number("day") as u32, number("days_in_month") as u32);
            let pace = money::pace(minor("spent"), minor("budget"), day, days).expect("a pace");
            json!({
                "forecast": of(Some(pace.forecast)),
                "allowed_to_date": of(Some(pace.allowed)),
                "over_pace_by": of(Some(pace.over)),
            })
        }
        "money.forecast_by_trips" => {
            let trips = inputs["past_trip_costs"].as_array().expect("trips").iter();
            let trips: Vec<Minor> = trips
                .map(|trip| Minor((trip.as_f64().expect("a cost") * 100.0).round() as i64))
                .collect();
            let small = exact(number("small_spend_per_day") * 100.0);
            let (left, days) = (number("planned_trips_left") as u32, number("days_left") as u32);
            let spent = minor("spent");
            let forecast = money::forecast(spent, &trips, left, small, days).expect("a forecast");
            let free = money::free_for_next_trip(Minor(70_000), spent, small, days);
            json!({
                "forecast": money(forecast.likely),
                "low": money(forecast.low),
                "high": money(forecast.high),
                "free_for_next_trip": money(free.expect("fits")),
            })
        }
        "money.expected_trips_if_no_plan" => {
            let since = number("days_since_last") as u32;
            let left = number("days_left") as u32;
            let expected = money::trip_expected(since, left, decimal("mean_gap_d"));
            json!({ "prob_trip_before_month_end": if expected { 1.0 } else { 0.0 } })
        }
        _ if name.starts_with("money.whole_vs_cut") => {
            let whole = money::per_edible(decimal("whole_per_kg"), decimal("yield"));
            let precut = money::per_edible_precut(decimal("precut_per_kg"));
            let even = money::break_even(decimal("precut_per_kg"), decimal("yield"));
            let value = |ratio: Option<Ratio>| ratio.expect("a price").to_f64();
            json!({
                "whole_edible_per_kg": value(whole),
                "precut_edible_per_kg": value(precut),
                "ratio": value(precut) / value(whole),
                "break_even_whole_price": value(even),
            })
        }
        _ => panic!("no code computes {name}"),
    }
}

/// Plays the stock check through the kitchen: what is bagged leaves to compost at the weight it
/// had, and the stock is no food mass.
fn stock_booking(inputs: &Value) -> Value {
    use super::kitchen::House;
    let kilo = |key: &str| inputs[key].as_f64().expect("a number");
    let mut house = House::new();
    house.say("acquired 3kg carrot");
    house.say("used all carrot");
    house.say(&format!("scraps_saved {}kg carrot %peel", kilo("scraps_kg_when_bagged")));
    let bagged = larderling::ledger::house_totals(&house.state);
    house.say(&format!("stock_made {}l stock", kilo("stock_kg")));
    let totals = larderling::ledger::house_totals(&house.state);
    let in_out = kilo("scraps_kg_when_bagged") + kilo("water_kg");
    let out = kilo("stock_kg") + kilo("spent_solids_kg_wet") + kilo("evaporated_kg");
    json!({
        "food_mass_booked_as_stock_kg":
            larderling::ledger::on_hand_all(&house.state) as f64 / 1000.0,
        "compost_inedible_booked_kg": totals.composted_inedible as f64 / 1000.0,
        "passed_through_stock_kg": bagged.scraps as f64 / 1000.0,
        "water_check": in_out - out,
    })
}

#[test]
fn no_share_is_shown_of_less_than_ten_kilograms() {
    let balance = |came_in: i64, trash_food: i64| Balance {
        flows: Totals { came_in, trash_food, ..Totals::default() },
        ..Balance::default()
    };
    assert_eq!(balance(9_999, 500).waste_share(), None);
    assert_eq!(balance(10_000, 500).waste_share(), Some(0.05));
}

#[test]
fn five_prices_make_a_judgement_and_four_do_not() {
    let price = Ratio::whole;
    let five: Vec<Ratio> = [200, 220, 240, 260, 280].map(price).to_vec();
    assert!(matches!(money::view_of(price(215), &five), PriceView::Good { .. }));
    assert!(matches!(money::view_of(price(240), &five), PriceView::Usual { .. }));
    assert!(matches!(money::view_of(price(265), &five), PriceView::High { .. }));
    let few = money::view_of(price(215), &five[..4]);
    assert_eq!(few, PriceView::NotEnough { seen: 4, lowest: Some(price(200)) });
}

/// Says the lines and compares the ledger's terms, in grams, that are not zero.
fn booked(said: &[&str], expected: &str) {
    let mut house = super::kitchen::House::new();
    for line in said {
        house.say(line);
    }
    let state = &house.state;
    let report = larderling::kitchen::report::report(state, &|_| None, Vec::new());
    let value = serde_json::to_value(&report.ledger).expect("a ledger prints");
    let terms = value.as_object().expect("an object").iter();
    let mut terms: Vec<String> = terms
        .filter(|(key, value)| key.ends_with("_g") && value.as_i64() != Some(0))
        .map(|(key, value)| format!("{} {value}", key.trim_end_matches("_g")))
        .collect();
    terms.sort();
    assert_eq!(terms.join(", "), expected, "{said:?}");
}

#[test]
fn every_gram_is_booked_once() {
    booked(&["acquired 5 carrot", "used 2 carrot"], "came_in 300, eaten 120, on_hand 180");
    booked(
        &["acquired 1kg carrot", "discarded 1/2of carrot >compost", "given all carrot"],
        "came_in 1000, composted 500, given 500",
    );
    booked(
        &["acquired 1kg carrot", "discarded all carrot >drain"],
        "came_in 1000, thrown_out 1000",
    );
    // Freezing and cooking only change the form; preserved is a memo.
    booked(
        &["acquired 1kg peach", "preserved 600g peach", "used 200g peach +frozen"],
        "came_in 1000, eaten 200, on_hand 800, preserved 600",
    );
    booked(
        &[
            "acquired 1kg carrot, 2 leek",
            "prepared 4portion stew made, 300g carrot from, 2 leek from",
            "used 2portion stew",
        ],
        "came_in 1300, eaten 300, on_hand 1000",
    );
    // Dried and weighed after: the rest is moisture.
    booked(
        &["acquired 500g carrot", "preserved carrot +dried from, 60g carrot made"],
        "came_in 500, moisture 440, on_hand 60, preserved 60",
    );
    // Peels stay in what was eaten until somebody says where they went.
    booked(
        &["acquired 1kg carrot", "used all carrot", "discarded 150g carrot %peel >compost"],
        "came_in 1000, composted 150, eaten 850",
    );
    // More than on record was in the house uncounted.
    booked(
        &["acquired 1kg carrot", "used 1500g carrot"],
        "came_in 1000, eaten 1500, uncounted -500",
    );
    // A first count is opening stock; a later one corrects the record.
    booked(&["counted 5 carrot", "counted 3 carrot"], "came_in 300, on_hand 180, uncounted 120");
    booked(&["counted 3 carrot", "counted 5 carrot"], "came_in 180, on_hand 300, uncounted -120");
    // An amount without a weight is in no term.
    booked(&["acquired 1bunch mint, carrot", "used mint", "discarded carrot"], "");
    // What never came was never there.
    booked(&["acquired 5 carrot, 2 leek", "not_received leek"], "came_in 300, on_hand 300");
    booked(&["acquired 5 carrot", "used 2 carrot", "undo", "undo"], "");
}

#[test]
fn a_total_and_its_lines_are_counted_once() {
    let spent = |said: &[&str]| {
        let mut house = super::kitchen::House::new();
        said.iter().for_each(|line| house.say(line));
        larderling::ledger::spent(&house.state)
    };
    assert_eq!(spent(&["acquired 3 leek =300, milk =150"]), 450);
    assert_eq!(spent(&["acquired 3 leek, milk ~640"]), 640);
    assert_eq!(spent(&["acquired 3 leek =300", "acquired milk =150", "trip_total ~2000"]), 2000);
    // The lines told after the total belong to it.
    assert_eq!(spent(&["trip_total ~2000", "acquired 3 leek =300"]), 2000);
    // The total may be told a day later; after that it is another shop, as is another total.
    assert_eq!(spent(&["acquired 3 leek =300 ^2026-05-03", "trip_total ~2000"]), 2000);
    assert_eq!(spent(&["acquired 3 leek =300 ^2026-05-02", "trip_total ~2000"]), 2300);
    assert_eq!(spent(&["trip_total ~2000", "trip_total ~500"]), 2500);
    assert_eq!(spent(&["acquired 2kg carrot =220 /kilogram"]), 440);
    assert_eq!(spent(&["acquired 3 leek =120 /piece"]), 360);
}
