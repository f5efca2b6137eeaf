//! From "min to max days" to a distribution, and life spent over several places.

use crate::rules::DayRange;

/// The chance of loss a range's lower end stands for; its upper end stands for the rest.
///
/// # Source
/// [D]: no table says which quantiles its range means.
pub const TAIL: f64 = 0.1;

/// The ratio of max to min is kept inside this range.
///
/// # Source
/// [D]: narrower claims more than a handbook knows, wider is no information.
const RATIO: (f64, f64) = (1.25, 6.0);

/// A single figure ("about 14 days") is read as a range from it to this many times it [D].
const SINGLE: f64 = 1.6;

/// Standard normal 90 % point, twice: the width of a 10 to 90 % range in standard deviations.
const NORMAL_WIDTH: f64 = 2.563_103_131_089_201;

/// The Weibull distribution of the time to loss: survival `exp(-(t / scale)^shape)`.
///
/// The hazard of food rises with age, and adding up spent fractions is exact for it.
///
/// # Source
/// For food lives: Gacula and Singh 1984; Cardelli and Labuza 2001; Hough et al. 2003 [S].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// `k`, above 1.
    pub shape: f64,
    /// The characteristic life `lambda`, in days.
    pub scale_days: f64,
}

impl Spread {
    /// Reads a range of days as the 10 % and 90 % points of the time to loss.
    pub fn of_range(min_days: f64, max_days: f64) -> Spread {
        let min = min_days.max(0.25);
        let max = if max_days <= min { SINGLE * min } else { max_days };
        let ratio = (max / min).clamp(RATIO.0, RATIO.1);
        let shape = (TAIL.ln() / (1.0 - TAIL).ln()).ln() / ratio.ln();
        Spread { shape, scale_days: min / hazard(TAIL).powf(1.0 / shape) }
    }

    pub fn of_days(days: DayRange) -> Spread {
        Spread::of_range(days.min.into(), days.max.into())
    }

    /// The same spread with every life `factor` times as long.
    pub fn times(self, factor: f64) -> Spread {
        Spread { scale_days: self.scale_days * factor, ..self }
    }

    /// Days from fresh until the chance of loss reaches `chance`.
    pub fn quantile_days(self, chance: f64) -> f64 {
        self.scale_days * self.spent_at(chance)
    }

    pub fn median_days(self) -> f64 {
        self.quantile_days(0.5)
    }

    pub fn mean_days(self) -> f64 {
        self.scale_days * gamma(1.0 + 1.0 / self.shape)
    }

    /// The share of life spent at which the chance of loss reaches `chance`.
    pub fn spent_at(self, chance: f64) -> f64 {
        hazard(chance).powf(1.0 / self.shape)
    }

    /// The share of life spent by `days` under this spread.
    pub fn spent(self, days: f64) -> f64 {
        days / self.scale_days
    }

    /// The chance that a lot still sound with `spent` of its life gone is lost within `days` more.
    pub fn chance_within(self, spent: f64, days: f64) -> f64 {
        let then = spent + self.spent(days);
        1.0 - (spent.powf(self.shape) - then.powf(self.shape)).exp()
    }

    /// Days until `chance` of a lot that is still sound with `spent` gone is expected lost.
    ///
    /// Shrinks as `spent` grows: waiting never gains days.
    pub fn days_until(self, spent: f64, chance: f64) -> f64 {
        let at = (spent.powf(self.shape) + hazard(chance)).powf(1.0 / self.shape);
        self.scale_days * (at - spent)
    }
}

/// The cumulative hazard at which the chance of loss reaches `chance`.
fn hazard(chance: f64) -> f64 {
    -(1.0 - chance).ln()
}

/// The lognormal with the same range: only its median is used, as the typical life of a range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogSpread {
    pub mu: f64,
    pub sigma: f64,
}

impl LogSpread {
    pub fn of_range(min_days: f64, max_days: f64) -> LogSpread {
        let (low, high) = (min_days.ln(), max_days.ln());
        LogSpread { mu: (low + high) / 2.0, sigma: (high - low) / NORMAL_WIDTH }
    }

    pub fn median_days(self) -> f64 {
        self.mu.exp()
    }
}

/// One typical life for a range: the middle on a logarithmic scale.
pub fn typical_days(min_days: f64, max_days: f64) -> f64 {
    LogSpread::of_range(min_days.max(0.25), max_days.max(0.25)).median_days()
}

/// The additive life rule without chance: days left at `now_life` after `(days, life)` stays.
///
/// # Source
/// Fu and Labuza, time-temperature tolerance; Miner's sum [S].
pub fn remaining_days(stays: &[(f64, f64)], now_life: f64) -> f64 {
    let used: f64 = stays.iter().map(|(days, life)| days / life).sum();
    (1.0 - used) * now_life
}

/// The gamma function for positive arguments, by Lanczos with seven terms.
///
/// # Source
/// Lanczos 1964 with Godfrey's coefficients; memory [M], held by the published check values.
pub fn gamma(x: f64) -> f64 {
    const G: f64 = 7.0;
    const HEAD: f64 = 0.999_999_999_999_809_9;
    const TERMS: [f64; 8] = [
        676.520_368_121_885_1,
        -1_259.139_216_722_402_8,
        771.323_428_777_653_1,
        -176.615_029_162_140_6,
        12.507_343_278_686_905,
        -0.138_571_095_265_720_12,
        9.984_369_578_019_572e-6,
        1.505_632_735_149_311_6e-7,
    ];
    let x = x - 1.0;
    let series = TERMS.iter().zip(1..).fold(HEAD, |sum, (term, i)| sum + term / (x + f64::from(i)));
    let t = x + G + 0.5;
    (std::f64::consts::TAU).sqrt() * t.powf(x + 0.5) * (-t).exp() * series
}
