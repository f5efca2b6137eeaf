//! Quantiles used by the kitchen base: normal, gamma and Poisson, from one incomplete gamma.

use crate::keeping::spread::gamma;

/// Series and fractions stop when a term no longer changes the sum, or after this many.
const TERMS: u32 = 500;

/// Bisection stops when the middle is one of the ends, and after this many halvings in any case.
const HALVINGS: u32 = 200;

/// The regularised lower incomplete gamma function for `a > 0`, `x >= 0`.
///
/// # Source
/// The usual series below `a + 1` and Lentz's continued fraction above it [M]; held by the check
/// values for gamma and normal quantiles.
pub fn incomplete_gamma(a: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    let scale = (a * x.ln() - x - ln_gamma(a)).exp();
    if x < a + 1.0 {
        let (mut term, mut sum) = (1.0 / a, 1.0 / a);
        for n in 1..TERMS {
            term *= x / (a + f64::from(n));
            sum += term;
            if term < sum * f64::EPSILON {
                break;
            }
        }
        return (sum * scale).min(1.0);
    }
    let tiny = 1e-300;
    let mut b = x + 1.0 - a;
    let (mut c, mut d) = (1.0 / tiny, 1.0 / b);
    let mut fraction = d;
    for n in 1..TERMS {
        let n = f64::from(n);
        let an = -n * (n - a);
        b += 2.0;
        d = 1.0 / not_zero(an * d + b, tiny);
        c = not_zero(b + an / c, tiny);
        let step = d * c;
        fraction *= step;
        if (step - 1.0).abs() < f64::EPSILON {
            break;
        }
    }
    (1.0 - fraction * scale).max(0.0)
}

fn not_zero(value: f64, tiny: f64) -> f64 {
    if value.abs() < tiny { tiny } else { value }
}

/// The logarithm of the gamma function; by recurrence above the range a double holds directly.
fn ln_gamma(a: f64) -> f64 {
    if a < 100.0 {
        return gamma(a).ln();
    }
    // Stirling with two correction terms: beyond 100 they are exact to a double.
    (a - 0.5) * a.ln() - a + 0.5 * std::f64::consts::TAU.ln() + 1.0 / (12.0 * a)
        - 1.0 / (360.0 * a.powi(3))
}

/// The standard normal quantile for `0 < p < 1`.
pub fn normal_quantile(p: f64) -> f64 {
    let below = |z: f64| {
        let half = 0.5 * incomplete_gamma(0.5, z * z / 2.0);
        if z < 0.0 { 0.5 - half } else { 0.5 + half }
    };
    bisect(-40.0, 40.0, |z| below(z) < p)
}

/// The gamma quantile with this mean and variance.
pub fn gamma_quantile(mean: f64, variance: f64, p: f64) -> f64 {
    let (shape, scale) = (mean * mean / variance, variance / mean);
    bisect(0.0, shape + 100.0 * shape.sqrt() + 100.0, |x| incomplete_gamma(shape, x) < p) * scale
}

/// The smallest count whose Poisson probability of not being exceeded is at least `p`.
pub fn poisson_quantile(mean: f64, p: f64) -> u32 {
    let enough = |count: u32| 1.0 - incomplete_gamma(f64::from(count) + 1.0, mean) >= p;
    let limit = (mean + 20.0 * mean.sqrt() + 40.0) as u32;
    (0..limit).find(|count| enough(*count)).unwrap_or(limit)
}

fn bisect(mut low: f64, mut high: f64, below: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if below(middle) { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}
