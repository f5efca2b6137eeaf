//! Chilling injury: cold that harms what comes from warm countries.

/// Degree-days below the lowest safe temperature at which injury is expected, where a food has
/// no figure of its own.
///
/// # Source
/// [D], between the two published calibrations below; wide uncertainty.
const TOLERANCE_DEGREE_DAYS: f64 = 30.0;

/// Degree-days of chilling `food` bears.
///
/// # Source
/// Eggplant: lowest safe 10 °C, injured after 6 to 8 days at 5 °C (UC Davis) [S]. Sweet pepper:
/// lowest safe 7 °C, injured after two weeks at 5 °C (Gonzalez-Aguilar 2004, as cited) [S], which
/// is 28.
pub fn tolerance(food: &str) -> f64 {
    match food {
        "eggplant" => 35.0,
        "bell_pepper" | "pepper" => 28.0,
        _ => TOLERANCE_DEGREE_DAYS,
    }
}

/// The share of a food's chilling tolerance that `days` at `celsius` use up; injury at 1.
pub fn damage(safe_c: f64, celsius: f64, days: f64, tolerance: f64) -> f64 {
    (safe_c - celsius).max(0.0) * days / tolerance
}

/// Days until injury at a steady `celsius`, with `already` of the tolerance used; `None` where it
/// is warm enough.
pub fn days_to_injury(safe_c: f64, celsius: f64, already: f64, tolerance: f64) -> Option<f64> {
    let a_day = damage(safe_c, celsius, 1.0, tolerance);
    (a_day > 0.0).then(|| ((1.0 - already) / a_day).max(0.0))
}
