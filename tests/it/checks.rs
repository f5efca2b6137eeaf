//! Published and independently computed values against the product's own code.
//!
//! `checks/checks.json` holds each value with its inputs, tolerance, kind and source: `published`
//! values stand in the source, `computed` ones were reproduced with SciPy, lifelines or zoneinfo,
//! `design` ones are choices of this product. A `published-disagrees` row records a source that
//! the product misses on purpose; it is computed and printed, not asserted. A row without
//! a tolerance is recorded as well.

use std::collections::BTreeMap;

use chrono::NaiveDateTime;
use larderling::chores::{Lateness, water_due};
use larderling::dates::{Instant, KitchenDay, Zone, clock_time};
use larderling::keeping::Learned;
use larderling::keeping::learning::{Belief, Case, End, Outcome, Taught, midpoint, shrink};
use larderling::keeping::spread::{self, LogSpread, Spread};
use larderling::keeping::{air, chilling, safety, temperature};
use larderling::plan::base::{self, Gap, Use};
use larderling::plan::cover::{self, Amount, Pace, cover};
use larderling::plan::numbers::normal_quantile;
use larderling::plan::order::{self, Standing};
use larderling::words::{FoodId, Place};
use serde_json::{Value, json};

/// Values that do not follow from the inputs of their own row, with what does. Recorded; the value
/// that follows is asserted instead.
///
/// With 6 lots in 10 noticed at nine tenths of their life, a lot adds `0.4 + 0.6 * 0.9^4` to the
/// exposure and, when rescue counts as plain use, 0.4 to the losses: the multiplier is
/// `((0.4 + 0.6 * 0.9^4) / 0.4)^(1/4)` = 1.1869, not 1.21. The two other values of the row hold.
const DISPUTED: &[(&str, f64)] =
    &[("learn.rescued_counts_as_event.m_if_rescued_is_censored", 1.186_9)];

#[test]
fn every_check_value_holds_within_its_tolerance() {
    let file: Value = serde_json::from_str(include_str!("checks/checks.json")).expect("valid JSON");
    let rows = file["checks"].as_array().expect("a list of checks");
    let mut faults = Vec::new();
    let mut asserted = 0;
    for row in rows {
        let name = row["name"].as_str().expect("a name");
        let got = compute(name, &row["inputs"]);
        let recorded = row["tolerance"].is_null() || row["kind"] == "published-disagrees";
        if recorded {
            println!("recorded {name}: computed {got}, source says {}", row["expected"]);
            continue;
        }
        let tolerance = row["tolerance"].as_f64().expect("a number");
        let published = row["kind"] == "published";
        asserted += 1;
        compare(
            name,
            &row["expected"],
            &got,
            &|expected, got: f64| {
                let slack = if published { tolerance } else { tolerance * expected.abs().max(1.0) };
                // The last digits of decimal literals are not a disagreement.
                (got - expected).abs() <= slack + 1e-9 * expected.abs().max(1.0)
            },
            &mut faults,
        );
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    assert_eq!((rows.len(), asserted), (127, 124), "a check was added or lost");
}

/// Compares what was expected with what was computed; every expected key must have been computed.
fn compare(
    path: &str,
    expected: &Value,
    got: &Value,
    close: &dyn Fn(f64, f64) -> bool,
    faults: &mut Vec<String>,
) {
    match (expected, got) {
        (Value::Object(expected), got) => {
            for (key, value) in expected {
                compare(&format!("{path}.{key}"), value, &got[key], close, faults);
            }
        }
        (Value::Array(expected), Value::Array(got)) if expected.len() == got.len() => {
            for (index, (expected, got)) in expected.iter().zip(got).enumerate() {
                compare(&format!("{path}[{index}]"), expected, got, close, faults);
            }
        }
        (Value::Number(expected), Value::Number(got)) => {
            let disputed = DISPUTED.iter().find(|(name, _)| *name == path);
            let pair = (disputed.map(|(_, value)| *value).or(expected.as_f64()), got.as_f64());
            if !matches!(pair, (Some(expected), Some(got)) if close(expected, got)) {
                faults.push(format!("{path}: expected {expected}, got {got}"));
            }
        }
        _ if expected == got => {}
        _ => faults.push(format!("{path}: expected {expected}, got {got}")),
    }
}

fn compute(name: &str, inputs: &Value) -> Value {
    let group = name.split('.').next().unwrap_or_default();
    match group {
        "keep" => keep(name, inputs),
        "safety" => safety_days(name, inputs),
        "learn" => learn(name, inputs),
        "rank" => rank(inputs),
        "cover" => covered(name, inputs),
        "time" => time(name, inputs),
        "stock" => stock(name, inputs),
        _ => panic!("no code computes {name}"),
    }
}

fn number(inputs: &Value, key: &str) -> f64 {
    inputs[key].as_f64().unwrap_or_else(|| panic!("{key} in {inputs}"))
}

fn pair(inputs: &Value, key: &str) -> (f64, f64) {
    let values = inputs[key].as_array().expect("a pair");
    (values[0].as_f64().expect("a number"), values[1].as_f64().expect("a number"))
}

fn numbers(inputs: &Value, key: &str) -> Vec<f64> {
    let values = inputs[key].as_array().expect("a list");
    values.iter().map(|value| value.as_f64().expect("a number")).collect()
}

fn text<'a>(inputs: &'a Value, key: &str) -> &'a str {
    inputs[key].as_str().unwrap_or_else(|| panic!("{key} in {inputs}"))
}

fn typical((min, max): (f64, f64)) -> f64 {
    spread::typical_days(min, max)
}

fn keep(name: &str, i: &Value) -> Value {
    let what = name.strip_prefix("keep.").expect("a keeping check");
    match what {
        _ if what.starts_with("rel_life_") => json!(100.0 / temperature::rate(number(i, "T_C"))),
        _ if what.starts_with("rate_") => json!(temperature::rate(number(i, "T_C"))),
        "move_20_to_0" | "move_20_to_40" => {
            json!(temperature::moved(number(i, "life_at_20C_d"), 20.0, number(i, "T_to_C")))
        }
        "lettuce_0_to_5" | "broccoli_0_to_5" | "broccoli_0_to_10_MISS" => {
            let life = typical(pair(i, "range_0C_d"));
            json!(temperature::moved(life, 0.0, number(i, "T_to_C")))
        }
        "romaine_0_to_5" => {
            json!(temperature::moved(number(i, "life_0C_d"), 0.0, number(i, "T_to_C")))
        }
        "carrot_0_to_4" => {
            let months = typical(pair(i, "life_0C_months"));
            json!(temperature::moved(months, 0.0, number(i, "T_to_C")))
        }
        "q10_broccoli_5_10" | "q10_alfajor_25pct" => json!(temperature::q10(
            (number(i, "T2"), number(i, "L2_d")),
            (number(i, "T1"), number(i, "L1_d"))
        )),
        "Ea_alfajor_25pct_kJ" => json!(temperature::activation_energy(
            (number(i, "T2"), number(i, "L2_d")),
            (number(i, "T1"), number(i, "L1_d"))
        )),
        "interp_broccoli_8C" | "interp_broccoli_20C" => {
            let points = i["points_C_d"].as_array().expect("points");
            let points = points.iter().map(|p| (p[0].as_f64().unwrap(), p[1].as_f64().unwrap()));
            let curve = temperature::Curve::through(points).expect("a falling curve");
            json!(curve.life(number(i, "T")))
        }
        _ if what.starts_with("weibull_from_") => {
            let s = Spread::of_range(number(i, "min_d"), number(i, "max_d"));
            json!({"k": s.shape, "lambda_d": s.scale_days, "median_d": s.median_days(),
                "mean_d": s.mean_days()})
        }
        _ if what.starts_with("lognorm_from_") => {
            let s = LogSpread::of_range(number(i, "min_d"), number(i, "max_d"));
            json!({"mu": s.mu, "sigma": s.sigma, "median_d": s.median_days()})
        }
        _ if what.starts_with("remaining_p") => {
            let at_4 = Spread::of_range(number(i, "min_d_at_4C"), number(i, "max_d_at_4C"));
            let at = |celsius: f64| at_4.times(temperature::rate(4.0) / temperature::rate(celsius));
            let stages = i["stages"].as_array().expect("stages");
            let spent: f64 = stages
                .iter()
                .map(|stage| at(stage[0].as_f64().unwrap()).spent(stage[1].as_f64().unwrap()))
                .sum();
            let here = at(number(i, "now_T"));
            json!({"u": spent, "remaining_d": here.days_until(spent, number(i, "p"))})
        }
        "spoil_prob_next_day_on_counter" => {
            let s = Spread { shape: number(i, "k"), scale_days: number(i, "lambda_d") };
            json!(s.chance_within(number(i, "u"), number(i, "h_d")))
        }
        "miner_deterministic" => {
            let stays: Vec<(f64, f64)> =
                numbers(i, "days").into_iter().zip(numbers(i, "lives_d")).collect();
            let now_life = number(i, "now_life_d");
            let left = spread::remaining_days(&stays, now_life);
            json!({"used": 1.0 - left / now_life, "remaining_d": left})
        }
        "porch_mean_rate" | "porch_hourly_mean_rate" => {
            json!(temperature::mean_rate(number(i, "T_mean_C"), number(i, "amplitude_C")))
        }
        "es_15C" | "es_24.5C" => json!(air::saturation_kpa(number(i, "T_C"))),
        _ if what.starts_with("vpd_") => {
            json!(air::deficit_kpa(number(i, "T_C"), number(i, "RH_pct")))
        }
        "K_low_max" | "K_moderate_max" | "K_high_max" => {
            let deficit = air::deficit_kpa(number(i, "T_C"), number(i, "RH_pct"));
            json!(air::loss_coefficient(number(i, "loss_pct_per_d"), deficit))
        }
        _ if what.starts_with("wilt_") => {
            let deficit = air::deficit_kpa(number(i, "T_C"), number(i, "RH_pct"));
            json!(air::days_to_limp(number(i, "W_max_pct"), number(i, "K"), deficit, 1.0))
        }
        "limp_before_spoiled" => {
            let limp = |humidity: f64| {
                let deficit = air::deficit_kpa(number(i, "T_C"), humidity);
                air::days_to_limp(number(i, "W_max_pct"), number(i, "K"), deficit, 1.0)
            };
            json!({"limp_d": limp(number(i, "RH_pct")), "limp_d_in_crisper_95": limp(95.0)})
        }
        "chill_eggplant_5C" => {
            let (first, last) = pair(i, "onset_d");
            // Against a tolerance of 1 the damage is in degree-days.
            let onset = |days| chilling::damage(number(i, "Tc"), number(i, "T"), days, 1.0);
            json!({"degree_days": [onset(first), onset(last)]})
        }
        "chill_pepper_5C" => {
            let days = number(i, "onset_d");
            json!({"degree_days": chilling::damage(number(i, "Tc"), number(i, "T"), days, 1.0)})
        }
        "chill_fraction_eggplant_fridge3d" => json!(chilling::damage(
            number(i, "Tc"),
            number(i, "T"),
            number(i, "days"),
            chilling::tolerance("eggplant")
        )),
        "combined_broccoli_fridge_with_apples" => {
            // Broccoli's own rows at 0 and 5 °C, UC Davis, as in the interpolation rows above.
            let rows = [(0.0, typical((21.0, 28.0))), (5.0, 14.0)];
            let curve = temperature::Curve::through(rows).expect("a falling curve");
            json!({"life_d": curve.life(4.0) * air::ethylene_fridge()})
        }
        "ethylene_slope" => json!(air::ethylene_slope()),
        "ethylene_fridge_apple_ratio" => json!(air::ethylene_fridge()),
        "ethylene_loss_at_0.015_consistency" | "ethylene_loss_at_0.1_consistency" => {
            json!({"loss_pct_formula": 100.0 * (1.0 - air::ethylene_life(number(i, "c")))})
        }
        "ethylene_broccoli_2ppm_10C" => json!(air::ethylene_life(number(i, "c"))),
        _ => panic!("no code computes {name}"),
    }
}

fn day(inputs: &Value, key: &str) -> KitchenDay {
    text(inputs, key).parse().expect("a day")
}

fn safety_days(name: &str, i: &Value) -> Value {
    let limit = i["limit_days"].as_u64().expect("a limit") as u32;
    let last = match name {
        "safety.day7_plain" => safety::last_day(day(i, "prepared"), limit),
        "safety.day7_oldest_ingredient" => {
            let from = safety::counts_from(day(i, "chili_made"), [day(i, "burger_cooked")]);
            safety::last_day(from, limit)
        }
        "safety.day7_paused_by_freezer" => {
            let before = safety::last_day(day(i, "cooked"), limit);
            safety::last_day_after_freezing(before, day(i, "frozen"), day(i, "thawed"))
        }
        "safety.home_leftover_limit" => {
            assert_eq!(limit, safety::LEFTOVER_DAYS);
            safety::last_day(day(i, "cooked"), safety::LEFTOVER_DAYS)
        }
        _ => panic!("no code computes {name}"),
    };
    json!(last.to_string())
}

/// One row of the made-up log of 48 lots.
struct Logged {
    place: String,
    age_days: f64,
    spent: f64,
    end: End,
}

fn log(place: Option<&str>) -> Vec<Logged> {
    let rows = include_str!("checks/learning_log.csv").lines().skip(1).map(|line| {
        let fields: Vec<&str> = line.split(',').collect();
        let end = if fields[5] == "1" { End::Spoiled } else { End::Sound };
        Logged {
            place: fields[2].to_owned(),
            age_days: fields[3].parse().expect("an age"),
            spent: fields[7].parse().expect("a share"),
            end,
        }
    });
    rows.filter(|row| place.is_none_or(|place| row.place == place)).collect()
}

fn believe(start: Belief, times: impl IntoIterator<Item = (f64, End)>) -> Belief {
    let outcomes = times.into_iter().map(|(spent, end)| Outcome { spent, weight: 1.0, end });
    outcomes.fold(start, Belief::with)
}

/// The most likely characteristic life under a known shape: the closed form of the product.
fn life_at(shape: f64, rows: &[Logged]) -> f64 {
    believe(Belief::flat(shape), rows.iter().map(|row| (row.age_days, row.end))).multiplier()
}

/// The shape at which the likelihood of censored `times` in groups of their own scale is highest.
fn best_shape(groups: &[Vec<(f64, End)>]) -> f64 {
    let likelihood = |shape: f64| -> f64 {
        let of_group = |times: &Vec<(f64, End)>| -> f64 {
            let scale = believe(Belief::flat(shape), times.iter().copied()).multiplier();
            let term = |&(t, end): &(f64, End)| {
                let hazard = match end {
                    End::Spoiled | End::WasGoing => {
                        (shape / scale * (t / scale).powf(shape - 1.0)).ln()
                    }
                    End::Sound => 0.0,
                };
                hazard - (t / scale).powf(shape)
            };
            times.iter().map(term).sum()
        };
        groups.iter().map(of_group).sum()
    };
    let (mut low, mut high) = (0.5, 20.0);
    for _ in 0..200 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if likelihood(a) < likelihood(b) { low = a } else { high = b }
    }
    (low + high) / 2.0
}

fn times(rows: &[Logged], of: impl Fn(&Logged) -> f64) -> Vec<(f64, End)> {
    rows.iter().map(|row| (of(row), row.end)).collect()
}

fn learn(name: &str, i: &Value) -> Value {
    let what = name.strip_prefix("learn.").expect("a learning check");
    let rows = || log(i["place"].as_str());
    let events = |observed: &Value| -> Vec<(f64, End)> {
        let observed = observed.as_array().expect("outcomes");
        let end = |o: &Value| if o[1] == 1 { End::Spoiled } else { End::Sound };
        observed.iter().map(|o| (o[0].as_f64().expect("a share"), end(o))).collect()
    };
    match what {
        "lifelines_weibull_fridge" | "lifelines_weibull_cellar" => {
            let rows = rows();
            let rho = best_shape(&[times(&rows, |row| row.age_days)]);
            let lambda = life_at(rho, &rows);
            let median = Spread { shape: rho, scale_days: lambda }.median_days();
            json!({"lambda_d": lambda, "rho": rho, "median_d": median})
        }
        "identity_fridge" | "identity_cellar" => {
            json!({"lambda_d": life_at(number(i, "k"), &rows())})
        }
        "fixed_k_mle_fridge" | "fixed_k_mle_cellar" => {
            let belief = believe(Belief::flat(number(i, "k")), times(&rows(), |row| row.spent));
            let true_m = if name.ends_with("fridge") { 0.8 } else { 1.3 };
            // The multiplier the log was drawn with is an input of the row, not a result.
            json!({"events": belief.a, "sum_u_k": belief.b, "m_mle": belief.multiplier(),
                "true_m": true_m})
        }
        "gamma_posterior_fridge" | "gamma_posterior_cellar" => {
            let prior = Belief::prior(number(i, "k"), number(i, "n0"), number(i, "prior_m"));
            let belief = believe(prior, times(&rows(), |row| row.spent));
            let exact = |p: f64| {
                let rate = larderling::plan::numbers::gamma_quantile(
                    belief.a / belief.b,
                    belief.a / belief.b.powi(2),
                    p,
                );
                rate.powf(-1.0 / belief.shape)
            };
            json!({"a": belief.a, "b": belief.b, "m_hat": belief.multiplier(),
                "m_q10": exact(0.9), "m_median": exact(0.5), "m_q90": exact(0.1)})
        }
        "wilson_hilferty_fridge" | "wilson_hilferty_cellar" => {
            let belief = Belief { a: number(i, "a"), b: number(i, "b"), shape: number(i, "k") };
            let (low, high) = belief.range();
            json!({"m_q10": low, "m_q90": high})
        }
        "posterior_mean_m_fridge" | "posterior_mean_m_cellar" => {
            let belief = Belief { a: number(i, "a"), b: number(i, "b"), shape: number(i, "k") };
            json!(belief.mean())
        }
        "lifelines_aft_ratio" | "lifelines_aft_multiplier_ratio" => {
            let of: fn(&Logged) -> f64 =
                if what == "lifelines_aft_ratio" { |row| row.age_days } else { |row| row.spent };
            let groups = ["fridge", "cellar"].map(|place| times(&log(Some(place)), of));
            let rho = best_shape(&groups);
            let [fridge, cellar] =
                groups.map(|times| believe(Belief::flat(rho), times).multiplier());
            let ratio = cellar / fridge;
            json!({"exp_coef_cellar": ratio, "rho": rho, "m_cellar_over_m_fridge": ratio})
        }
        "hand_example" | "all_used_no_spoil" | "early_use_teaches_nothing" | "parent_prior" => {
            let parent = i["m_parent"].as_f64().unwrap_or(1.0);
            let prior = Belief::prior(number(i, "k"), number(i, "n0"), parent);
            let belief = believe(prior, events(&i["obs_u_event"]));
            json!({"a": belief.a, "b": belief.b, "m_hat": belief.multiplier()})
        }
        "normal_shrink" => {
            let (weight, m) = shrink(
                number(i, "m_mle"),
                number(i, "events"),
                number(i, "k"),
                number(i, "m_parent"),
                number(i, "tau"),
            );
            json!({"weight": weight, "m": m})
        }
        "interval_midpoint" => {
            let k = number(i, "k");
            let (sound, bad) = (numbers(i, "last_ok_u"), numbers(i, "found_bad_u"));
            let middles = sound.iter().zip(&bad).map(|(a, b)| (midpoint(*a, *b), End::Spoiled));
            let belief = believe(Belief::flat(k), middles);
            json!({"m_midpoint": belief.multiplier(),
                "m_exact_interval_mle": exact_interval(k, &sound, &bad)})
        }
        "rescued_counts_as_event" => rescued(i),
        _ => panic!("no code computes {name}"),
    }
}

/// The most likely multiplier when a loss lies somewhere between two looks, by search: the
/// referee of the midpoint rule, here and nowhere else.
fn exact_interval(k: f64, sound: &[f64], bad: &[f64]) -> f64 {
    let likelihood = |m: f64| -> f64 {
        let s = Spread { shape: k, scale_days: m };
        let gone = |u: f64| s.chance_within(0.0, u);
        sound.iter().zip(bad).map(|(a, b)| (gone(*b) - gone(*a)).ln()).sum()
    };
    let (mut low, mut high) = (0.2, 3.0);
    for _ in 0..200 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if likelihood(a) < likelihood(b) { low = a } else { high = b }
    }
    (low + high) / 2.0
}

/// Numbers in (0, 1) that are the same on every run: a 64-bit Weyl sequence, mixed.
fn uniform(state: &mut u64) -> f64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut mixed = *state;
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1u64 << 53) as f64 + f64::EPSILON / 4.0
}

/// What counting "used because it was going" as plain use, as a loss or as half of one does.
fn rescued(i: &Value) -> Value {
    let (k, notice) = (number(i, "k"), number(i, "notice_prob"));
    let draws = i["draws"].as_u64().expect("a count");
    let mut seed = 20_261_125;
    let mut beliefs = [Belief::flat(k); 3];
    for _ in 0..draws {
        let life = (-uniform(&mut seed).ln()).powf(1.0 / k);
        // Noticed at nine tenths of its own life.
        let outcomes = if uniform(&mut seed) < notice {
            let at = 0.9 * life;
            [
                vec![(at, 1.0, End::Sound)],
                vec![(at, 1.0, End::WasGoing)],
                vec![(at, 0.5, End::WasGoing), (at, 0.5, End::Sound)],
            ]
        } else {
            [(); 3].map(|()| vec![(life, 1.0, End::Spoiled)])
        };
        for (belief, outcomes) in beliefs.iter_mut().zip(outcomes) {
            for (spent, weight, end) in outcomes {
                *belief = belief.with(Outcome { spent, weight, end });
            }
        }
    }
    let [censored, event, half] = beliefs.map(Belief::multiplier);
    json!({"m_if_rescued_is_censored": censored, "m_if_rescued_is_event": event,
        "m_if_half_event": half})
}

fn rank(i: &Value) -> Value {
    let days = number(i, "h_d");
    let lots = i["lots"].as_array().expect("lots");
    let standings: Vec<(String, Standing, f64, f64)> = lots
        .iter()
        .map(|lot| {
            let spread = Spread { shape: number(lot, "k"), scale_days: number(lot, "lam") };
            let (spent, kg) = (number(lot, "u"), number(lot, "kg"));
            let chance = spread.chance_within(spent, days);
            let standing = Standing {
                safety_days: None,
                days_left: Some(spread.days_until(spent, 0.1)),
                at_risk_per_kg: order::at_risk(number(lot, "cost"), chance),
                grams: (kg * 1000.0).round() as i64,
                opened: false,
                since: KitchenDay::new(2026, 1, 1).expect("a day"),
                name: text(lot, "id").to_owned(),
                number: 0,
            };
            let risk = order::at_risk(number(lot, "cost") * kg, chance);
            (text(lot, "id").to_owned(), standing, chance, risk)
        })
        .collect();
    let per_lot: Vec<Value> = lots
        .iter()
        .zip(&standings)
        .map(|(lot, (id, standing, chance, risk))| {
            let spread = Spread { shape: number(lot, "k"), scale_days: number(lot, "lam") };
            json!({"id": id, "p1": chance, "loss_per_kg": standing.at_risk_per_kg, "loss": risk,
                "x10": standing.days_left, "x50": spread.days_until(number(lot, "u"), 0.5)})
        })
        .collect();
    type Ranked = (String, Standing, f64, f64);
    let sorted = |by: &dyn Fn(&Ranked, &Ranked) -> std::cmp::Ordering| {
        let mut all: Vec<_> = standings.iter().collect();
        all.sort_by(|a, b| by(a, b));
        all.iter().map(|(id, ..)| id.clone()).collect::<Vec<_>>()
    };
    json!({"per_lot": per_lot,
        "order_by_p10": sorted(&|a, b| a.1.cmp(&b.1)),
        "order_by_loss_per_kg": sorted(&|a, b| b.1.at_risk_per_kg.total_cmp(&a.1.at_risk_per_kg)),
        "order_by_loss": sorted(&|a, b| b.3.total_cmp(&a.3))})
}

fn grams(kg: f64) -> i64 {
    (kg * 1000.0).round() as i64
}

fn covered(name: &str, i: &Value) -> Value {
    if name == "cover.runs_short_days" {
        return json!({"days_short": base::days_short(number(i, "kg"), number(i, "kg_per_day"),
            number(i, "days_to_trip"))});
    }
    let lots = i["lots_id_kg_lastday"].as_array().expect("lots");
    let keepers: Vec<&str> = i["can_preserve"]
        .as_array()
        .map(|names| names.iter().filter_map(Value::as_str).collect())
        .unwrap_or_default();
    let names: Vec<&str> = lots.iter().map(|lot| lot[0].as_str().expect("a name")).collect();
    let amounts: Vec<Amount> = lots
        .iter()
        .enumerate()
        .map(|(food, lot)| Amount {
            food,
            grams: grams(lot[1].as_f64().expect("kilograms")),
            last_day: lot[2].as_i64().expect("a day"),
            keeps: keepers.contains(&names[food]),
        })
        .collect();
    let days = i["T_days"].as_i64().expect("days");
    let a_day = grams(number(i, "eat_kg_per_day"));
    let cap = |name: &str| i["per_food_kg_per_day"][name].as_f64().map(grams);
    let caps: Vec<i64> = names.iter().map(|name| cap(name).unwrap_or(i64::MAX / 4)).collect();
    let slot = i["preserve_kg_per_day"].as_f64().map_or(0, grams);
    let preserving: Vec<(i64, i64)> = i["preserve_days"]
        .as_array()
        .map(|days| days.iter().filter_map(Value::as_i64).map(|day| (day, slot)).collect())
        .unwrap_or_default();
    let pace = Pace { days, grams: vec![a_day; days as usize], caps: caps.clone(), preserving };
    let plan = cover(&amounts, &pace);
    let kg = |grams: i64| grams as f64 / 1000.0;
    let by_food: BTreeMap<&str, f64> = names
        .iter()
        .enumerate()
        .map(|(food, name)| (*name, kg(cover::excess_by_food(&amounts, food, caps[food]))))
        .collect();
    let mut preserved: BTreeMap<&str, f64> = BTreeMap::new();
    for (_, index, grams) in &plan.preserved {
        *preserved.entry(names[*index]).or_default() += kg(*grams);
    }
    // The objective of the linear program, from the product's own assignment.
    let early: f64 = plan
        .eaten
        .iter()
        .chain(&plan.preserved)
        .map(|(day, _, grams)| *day as f64 * kg(*grams))
        .sum();
    let objective = kg(plan.wasted_total())
        + 0.15 * kg(plan.preserved_total())
        + kg(plan.short_total())
        + 1e-4 * early;
    json!({"edf_excess_kg": kg(cover::excess_total(&amounts, a_day)),
        "edf_excess_kg_total_only": kg(cover::excess_total(&amounts, a_day)),
        "edf_excess_per_food": by_food, "wasted_total": kg(plan.wasted_total()),
        "short_total": kg(plan.short_total()), "left_total": kg(plan.left_total()),
        "preserved_total": kg(plan.preserved_total()), "preserved": preserved,
        "objective": objective})
}

/// `2026-03-08T12:00:00Z` on the UTC clock.
fn utc(at: Instant) -> String {
    let (day, time) = at.local(Zone::UTC);
    format!("{day}T{}Z", time.format("%H:%M:%S"))
}

/// Minutes the wall clock of `zone` is ahead of UTC.
fn offset_minutes(at: Instant, zone: Zone) -> i64 {
    let (day, time) = at.local(zone);
    Instant::minutes_since(day.at(time, Zone::UTC), at)
}

/// `2026-03-08T10:00:00-04:00` as an instant.
fn instant(text: &str) -> Instant {
    let (local, offset) = text.split_at(19);
    let sign = if offset.starts_with('-') { -1 } else { 1 };
    let hours: i64 = offset[1..3].parse().expect("hours");
    let minutes: i64 = offset[4..6].parse().expect("minutes");
    let local = NaiveDateTime::parse_from_str(local, "%Y-%m-%dT%H:%M:%S").expect("a local time");
    Zone::UTC.resolve(local).plus_minutes(-sign * (hours * 60 + minutes))
}

fn time(name: &str, i: &Value) -> Value {
    let zone: Zone = text(i, "tz").parse().expect("a zone");
    let what = name.strip_prefix("time.").expect("a time check");
    if what.starts_with("transitions_") {
        let years = numbers(i, "years");
        let hour = |day: KitchenDay, half: i64| {
            day.at(chrono::NaiveTime::MIN, Zone::UTC).plus_minutes(30 * half)
        };
        let first = KitchenDay::new(years[0] as i32, 1, 1).expect("a day");
        let last = KitchenDay::new(years[1] as i32 + 1, 1, 1).expect("a day");
        let mut found = Vec::new();
        for half in 0..last.days_since(first) * 48 {
            let (before, after) = (hour(first, half), hour(first, half + 1));
            let (a, b) = (offset_minutes(before, zone), offset_minutes(after, zone));
            if a != b {
                found.push(json!([utc(after), a, b]));
            }
        }
        return json!({"utc_instant_offset_before_after_min": found});
    }
    if what.starts_with("resolve_") {
        let local = NaiveDateTime::parse_from_str(text(i, "local"), "%Y-%m-%dT%H:%M")
            .expect("a local time");
        let at = zone.resolve(local);
        let (day, time) = at.local(zone);
        let offset = offset_minutes(at, zone);
        let sign = if offset < 0 { '-' } else { '+' };
        let shown = format!(
            "{day}T{}{sign}{:02}{:02}",
            time.format("%H:%M:%S"),
            offset.abs() / 60,
            offset.abs() % 60
        );
        let same_wall_later =
            (1..=180).any(|minutes| at.plus_minutes(minutes).local(zone) == (day, time));
        let kind = if (day.at(time, Zone::UTC)) != Zone::UTC.resolve(local) {
            "gap"
        } else if same_wall_later {
            "ambiguous"
        } else {
            "normal"
        };
        return json!({"utc": utc(at), "local_shown": shown, "kind": kind});
    }
    if what.starts_with("daily0730_") {
        let start = day(i, "start");
        let time = clock_time(text(i, "local_time")).expect("a time");
        let days = i["n"].as_i64().expect("a count");
        let all: Vec<Instant> = (0..days).map(|n| start.plus(n).at(time, zone)).collect();
        let gaps = all.windows(2).map(|w| w[1].minutes_since(w[0]) as f64 / 60.0);
        return json!({"utc": all.iter().map(|at| utc(*at)).collect::<Vec<_>>(),
            "gaps_h": gaps.collect::<Vec<_>>()});
    }
    let (changed, now, started) =
        (instant(text(i, "changed")), instant(text(i, "now")), instant(text(i, "started")));
    let post = clock_time(text(i, "due_local")).expect("a time");
    let every = i["every_days"].as_u64().expect("days") as u32;
    let due = water_due(changed.day(zone), every, post, zone);
    let last_day = started.day(zone).plus(i["max_days"].as_i64().expect("days") - 1);
    json!({"due_utc": utc(due), "late_h": now.minutes_since(due) as f64 / 60.0,
        "age_calendar_days": now.day(zone).days_since(started.day(zone)),
        "level": Lateness::at(now, due, last_day, zone).word()})
}

fn stock(name: &str, i: &Value) -> Value {
    let use_of = |i: &Value| Use {
        per_day: number(i, "mean_kg_per_day"),
        deviation: i["sd_per_day"].as_f64().unwrap_or(0.0),
    };
    match name {
        "stock.RS_basic" => {
            let gap =
                Gap { days: number(i, "review_days") + number(i, "lead_days"), deviation: 0.0 };
            let level = base::up_to(use_of(i), gap, number(i, "service"));
            json!({"z": normal_quantile(number(i, "service")), "S_kg": level.up_to,
                "safety_kg": level.safety})
        }
        "stock.RS_random_trip_gap" => {
            let gap = Gap { days: number(i, "mean_gap_d"), deviation: number(i, "sd_gap_d") };
            let level = base::up_to(use_of(i), gap, number(i, "service"));
            json!({"S_kg": level.up_to, "safety_kg": level.safety})
        }
        // The same household as in the row above; a gap is at least a day.
        "stock.RS_random_gap_montecarlo" => {
            let usage = Use { per_day: 0.35, deviation: 0.12 };
            let level = base::up_to(usage, Gap { days: 21.0, deviation: 4.0 }, 0.95);
            let draws = i["draws"].as_u64().expect("a count");
            let mut seed = 7;
            let mut normal = || {
                let (a, b) = (uniform(&mut seed), uniform(&mut seed));
                (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
            };
            let reached = (0..draws)
                .filter(|_| {
                    let gap = (21.0 + 4.0 * normal()).round().max(1.0);
                    0.35 * gap + 0.12 * gap.sqrt() * normal() <= level.up_to
                })
                .count();
            json!({"service_reached": reached as f64 / draws as f64})
        }
        "stock.order_now" => {
            let (raw, packs) = base::order(
                number(i, "S_kg"),
                number(i, "on_hand_kg"),
                number(i, "already_ordered_kg"),
                number(i, "pack_kg"),
            );
            json!({"raw_kg": raw, "packs": packs})
        }
        "stock.perishable_cap" => {
            let fresh = Spread::of_range(number(i, "min_d"), number(i, "max_d"));
            let cap = base::keeps_for(number(i, "mean_kg_per_day"), fresh.days_until(0.0, 0.1));
            json!({"cap_kg": cap, "buy_up_to_kg": number(i, "S_kg").min(cap)})
        }
        "stock.RS_gamma_alternative" => {
            json!({"S_kg": base::up_to_lumpy(number(i, "mean"), number(i, "var"), number(i, "service"))})
        }
        "stock.poisson_each" => json!({"S_units": base::up_to_counted(
            number(i, "units_per_day"), number(i, "review_days"), number(i, "service"))}),
        _ => panic!("no code computes {name}"),
    }
}

/// The coverage plan against linear programs solved by HiGHS (`tests/referees/cover.py`): as much
/// is eaten, and as little wasted, as any plan could.
#[test]
fn a_plan_eats_as_much_and_wastes_as_little_as_the_best_linear_program() {
    let file: Value = serde_json::from_str(include_str!("checks/cover.json")).expect("valid JSON");
    let cases = file["cases"].as_array().expect("cases");
    assert!(cases.len() >= 200);
    for (number, case) in cases.iter().enumerate() {
        let whole = |value: &Value| value.as_i64().expect("a whole number");
        let list = |value: &Value| -> Vec<i64> {
            value.as_array().expect("a list").iter().map(whole).collect()
        };
        let amounts: Vec<Amount> = case["lots"]
            .as_array()
            .expect("lots")
            .iter()
            .map(|lot| Amount {
                food: whole(&lot[0]) as usize,
                grams: whole(&lot[1]),
                last_day: whole(&lot[2]),
                keeps: lot[3].as_bool().expect("yes or no"),
            })
            .collect();
        let slots = case["preserving"].as_array().expect("days");
        let slots: Vec<(i64, i64)> =
            slots.iter().map(|slot| (whole(&slot[0]), whole(&slot[1]))).collect();
        for (preserving, suffix) in [(Vec::new(), ""), (slots, "_preserving")] {
            let pace = Pace {
                days: whole(&case["days"]),
                grams: list(&case["pace"]),
                caps: list(&case["caps"]),
                preserving,
            };
            let plan = cover(&amounts, &pace);
            let eaten: i64 = plan.eaten.iter().map(|(_, _, grams)| grams).sum();
            let expected = |key: &str| number_of(&case["expected"], key, suffix);
            assert_eq!(eaten as f64, expected("eaten"), "case {number}{suffix}: eaten");
            let wasted = plan.wasted_total() as f64;
            assert_eq!(wasted, expected("wasted"), "case {number}{suffix}: wasted");
        }
    }
}

fn number_of(expected: &Value, key: &str, suffix: &str) -> f64 {
    number(expected, &format!("{key}{suffix}")).round()
}

/// Sixty random logs, fitted by lifelines (`tests/referees/learning.py`): with lifelines' own shape
/// and no prior, the closed form lands on lifelines' scale.
#[test]
fn learning_without_a_prior_is_the_maximum_likelihood_fit() {
    let file: Value =
        serde_json::from_str(include_str!("checks/learning.json")).expect("valid JSON");
    let cases = file["cases"].as_array().expect("cases");
    assert!(cases.len() >= 50);
    for (index, case) in cases.iter().enumerate() {
        let times = numbers(case, "spent_milli").into_iter().map(|milli| milli / 1000.0);
        let ends =
            case["lost"].as_array().expect("a list").iter().map(|lost| {
                if lost.as_bool().expect("yes or no") { End::Spoiled } else { End::Sound }
            });
        let rho = number(case, "rho");
        let own = believe(Belief::flat(rho), times.zip(ends)).multiplier();
        let theirs = number(case, "lambda");
        assert!((own / theirs - 1.0).abs() < 1e-3, "case {index}: {own} against {theirs}");
    }
}

/// Through the state a household keeps, in whole numbers, a log teaches what the belief says.
#[test]
fn what_a_household_keeps_of_its_outcomes_teaches_the_same() {
    let (food, place) = (FoodId::new("carrot"), Place::Fridge);
    let mut taught = Taught::default();
    let mut place_belief = Belief::prior(4.0, 4.0, 1.0);
    let rows = log(Some("fridge"));
    for row in &rows {
        let spent_milli = (row.spent * 1000.0).round() as u32;
        taught.add(&Case {
            food: food.clone(),
            place: place.clone(),
            shape_centi: 400,
            spent_milli,
            weight_milli: 1000,
            end: row.end,
        });
        let outcome = Outcome { spent: f64::from(spent_milli) / 1e3, weight: 1.0, end: row.end };
        place_belief = place_belief.with(outcome);
    }
    let learned = Learned::of(&taught);
    let expected = believe(
        Belief::prior(4.0, 2.0, place_belief.clamped()),
        rows.iter().map(|row| (row.spent, row.end)),
    );
    let lesson = learned.lesson(&food, &place).expect("a lesson");
    assert!((lesson.factor - expected.multiplier()).abs() < 1e-3, "{lesson:?} {expected:?}");
    assert!(lesson.shown && lesson.factor < 1.0);
    // Another food there is believed to share some of it; another place is not.
    assert!(learned.factor(&FoodId::new("leek"), &place) < 1.0);
    assert_eq!(learned.factor(&food, &Place::Counter), 1.0);
}

/// The rule's rates against respiration, which sets the pace of ageing, as Handbook 66 tabulates
/// it crop by crop. The rule was set from the handbook's typical Q10, not from these rows.
#[test]
fn the_temperature_rule_follows_the_respiration_of_handbook_66() {
    let rows = include_str!("checks/respiration.csv");
    let rows = rows.lines().filter(|line| !line.starts_with('#')).skip(1);
    let rows: Vec<Vec<&str>> = rows.map(|line| line.split(',').collect()).collect();
    let mut all = Vec::new();
    for (column, celsius) in [(2, 5.0), (3, 10.0), (4, 15.0), (5, 20.0)] {
        let ratio = |row: &Vec<&str>| -> Option<f64> {
            let (cold, warm): (f64, f64) = (row[1].parse().ok()?, row[column].parse().ok()?);
            Some(temperature::rate(celsius) / (warm / cold))
        };
        let mut off: Vec<f64> = rows.iter().filter_map(ratio).collect();
        off.sort_by(f64::total_cmp);
        assert!(off.len() >= 15, "{} rows at {celsius}", off.len());
        let middle = off[off.len() / 2];
        println!("{celsius} C: {} rows, rule / measured {middle:.2} in the middle", off.len());
        assert!((0.8..1.25).contains(&middle), "{celsius} C: {middle}");
        all.extend(off.into_iter().map(|off| (celsius, off)));
    }
    let within = |to_c: f64, factor: f64| {
        let off = all.iter().filter(|(celsius, _)| *celsius <= to_c);
        let near = off.clone().filter(|(_, off)| (1.0 / factor..factor).contains(off));
        near.count() as f64 / off.count() as f64
    };
    println!(
        "within 1.6 up to 10 C: {:.2}; within 2 up to 20 C: {:.2}",
        within(10.0, 1.6),
        within(20.0, 2.0)
    );
    assert!(within(10.0, 1.6) >= 0.85);
    assert!(within(20.0, 2.0) >= 0.85);
}

/// UC Davis produce facts that name two temperatures and did not set the rule. Coriander holds;
/// mushrooms are the recorded miss, which is why a food's own rows beat the rule.
#[test]
fn the_temperature_rule_against_two_uc_davis_fact_sheets() {
    // About 3 weeks at 0 °C, 2 weeks at 5 °C.
    let coriander = temperature::moved(21.0, 0.0, 5.0);
    assert!((coriander / 14.0 - 1.0).abs() < 0.2, "{coriander}");
    // 5 to 7 days at 1.5 °C, 2 days at 4.5 °C.
    let mushroom = temperature::moved(typical((5.0, 7.0)), 1.5, 4.5);
    println!("recorded mushroom: the rule says {mushroom:.1} days at 4.5 C, UC Davis 2");
}
