//! The temperature rule: how fast food ages at one temperature against another.
//!
//! # Source
//! Rates at the multiples of ten: Saltveit, Respiratory metabolism, USDA Agriculture Handbook 66
//! (2002 draft), tables of typical Q10 and of relative shelf life [S]. The rule is not valid at
//! low temperature for chilling-sensitive crops (same place); `chilling` takes those.

use std::f64::consts::TAU;

/// Rate of ageing at 0, 10, 20, 30 and 40 °C, relative to 0 °C: Q10 of 3.0, 2.5, 2.0 and 1.5.
const RATE_AT_TENS: [f64; 5] = [1.0, 3.0, 7.5, 15.0, 22.5];

/// The rule holds inside this range, in °C; outside it the nearest end is used [D].
pub const VALID_C: (f64, f64) = (-2.0, 40.0);

/// Kelvin at 0 °C.
const KELVIN: f64 = 273.15;

/// The gas constant in kJ/(mol K).
///
/// # Source
/// CODATA 2018, exact; memory [M].
const GAS_KJ: f64 = 8.314_462_618e-3;

/// How many times faster food ages at `celsius` than at 0 °C.
pub fn rate(celsius: f64) -> f64 {
    let celsius = celsius.clamp(VALID_C.0, VALID_C.1);
    if celsius < 0.0 {
        return RATE_AT_TENS[1].powf(celsius / 10.0);
    }
    // The band is 0..=3: the value is clamped to 40 at most.
    let band = ((celsius / 10.0) as usize).min(RATE_AT_TENS.len() - 2);
    let (low, high) = (RATE_AT_TENS[band], RATE_AT_TENS[band + 1]);
    low * (high / low).powf(celsius / 10.0 - band as f64)
}

/// What a life in days at `from_c` becomes at `to_c`, by the general rule alone.
pub fn moved(life_days: f64, from_c: f64, to_c: f64) -> f64 {
    life_days * rate(from_c) / rate(to_c)
}

/// The mean rate over a day whose temperature swings as a sine, from 24 hourly middles.
///
/// The rate of the mean temperature would be too low: ageing is convex in temperature.
pub fn mean_rate(mean_c: f64, amplitude_c: f64) -> f64 {
    let hours = (0..24).map(|hour| (f64::from(hour) + 0.5) / 24.0);
    hours.map(|part| rate(mean_c + amplitude_c * (TAU * part).sin())).sum::<f64>() / 24.0
}

/// The factor by which life shortens over ten degrees, from lives at two temperatures.
///
/// # Source
/// Labuza, the Q10 form of shelf-life testing [S/M].
pub fn q10(warm: (f64, f64), cold: (f64, f64)) -> f64 {
    let ((warm_c, warm_days), (cold_c, cold_days)) = (warm, cold);
    (cold_days / warm_days).powf(10.0 / (warm_c - cold_c))
}

/// The activation energy in kJ/mol, from lives at two temperatures.
///
/// # Source
/// Arrhenius in the form used by Labuza [S/M].
pub fn activation_energy(warm: (f64, f64), cold: (f64, f64)) -> f64 {
    let ((warm_c, warm_days), (cold_c, cold_days)) = (warm, cold);
    let inverse = 1.0 / (cold_c + KELVIN) - 1.0 / (warm_c + KELVIN);
    GAS_KJ * (cold_days / warm_days).ln() / inverse
}

/// A food's own lives by temperature: they beat the general rule wherever they reach.
///
/// Between its points the logarithm of life runs straight in the temperature; outside them the
/// general rule continues from the nearest one. Broccoli shows why: the general rule gives 8.1
/// days at 10 °C, UC Davis 5.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Temperature in °C and life in days, coldest first.
    points: Vec<(f64, f64)>,
}

impl Curve {
    /// A curve through `points` (°C, days); `None` unless every warmer point has a shorter life.
    ///
    /// Points that break that order differ in more than temperature (humidity, wrapping, another
    /// source) and say nothing about it.
    pub fn through(points: impl IntoIterator<Item = (f64, f64)>) -> Option<Curve> {
        let mut points: Vec<(f64, f64)> = points.into_iter().collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let falling = points.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1);
        let positive = points.iter().all(|point| point.1 > 0.0);
        (!points.is_empty() && falling && positive).then_some(Curve { points })
    }

    /// Life in days at `celsius`.
    pub fn life(&self, celsius: f64) -> f64 {
        let (first, last) = (self.points[0], self.points[self.points.len() - 1]);
        if celsius <= first.0 {
            return moved(first.1, first.0, celsius);
        }
        if celsius >= last.0 {
            return moved(last.1, last.0, celsius);
        }
        let above = self.points.partition_point(|point| point.0 <= celsius);
        let ((low_c, low), (high_c, high)) = (self.points[above - 1], self.points[above]);
        let share = (celsius - low_c) / (high_c - low_c);
        (low.ln() + share * (high.ln() - low.ln())).exp()
    }

    /// Whether both temperatures lie within the food's own points, with more than one of them.
    pub fn covers(&self, celsius: f64) -> bool {
        let (first, last) = (self.points[0], self.points[self.points.len() - 1]);
        self.points.len() > 1 && (first.0..=last.0).contains(&celsius)
    }
}
