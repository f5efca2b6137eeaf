//! The kitchen base: what should always be in the house, and how much to bring it up to.
//!
//! # Source
//! Periodic review with an order-up-to level: Silver, Pyke and Peterson [M]; lecture notes
//! neoprimate.github.io/IEOR 447 [S]. Random review gap: the variance of a random sum, the same.
//! Gamma for lumpy use: Strijbosch and Moors [S].

use std::sync::LazyLock;

use super::numbers::{gamma_quantile, normal_quantile, poisson_quantile};

/// How sure to be that an item lasts until the next shop, where the household has not said [D].
pub const USUAL_SERVICE: f64 = 0.90;

/// The normal quantile of the usual service, reckoned once.
static USUAL_QUANTILE: LazyLock<f64> = LazyLock::new(|| normal_quantile(USUAL_SERVICE));

fn quantile_of(service: f64) -> f64 {
    if service == USUAL_SERVICE { *USUAL_QUANTILE } else { normal_quantile(service) }
}

/// Own use of an item: mean and standard deviation a day, zeros included. In the item's own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Use {
    pub per_day: f64,
    pub deviation: f64,
}

/// Days between two shops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    pub days: f64,
    pub deviation: f64,
}

/// An order-up-to level and the part of it that is only there for safety.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    pub up_to: f64,
    pub safety: f64,
}

/// The level that lasts to the next shop with probability `service`.
pub fn up_to(usage: Use, gap: Gap, service: f64) -> Level {
    let expected = usage.per_day * gap.days;
    let safety = quantile_of(service) * variance(usage, gap).sqrt();
    Level { up_to: expected + safety, safety }
}

/// The variance of what is used between two shops.
fn variance(usage: Use, gap: Gap) -> f64 {
    gap.days * usage.deviation.powi(2) + (usage.per_day * gap.deviation).powi(2)
}

/// The level for lumpy use: a gamma with the same mean and variance.
pub fn up_to_lumpy(mean: f64, variance: f64, service: f64) -> f64 {
    gamma_quantile(mean, variance, service)
}

/// The level in whole things, for slow items that are counted.
pub fn up_to_counted(per_day: f64, gap_days: f64, service: f64) -> u32 {
    poisson_quantile(per_day * gap_days, service)
}

/// What to buy, and in how many packs.
pub fn order(level: f64, on_hand: f64, coming: f64, pack: f64) -> (f64, u32) {
    let wanted = (level - on_hand - coming).max(0.0);
    (wanted, (wanted / pack).ceil() as u32)
}

/// No more than is eaten while nine in ten of it are still sound.
pub fn keeps_for(per_day: f64, days_until_one_in_ten: f64) -> f64 {
    per_day * days_until_one_in_ten
}

/// Below this on hand it may run out before the shop: the low-stock line.
pub fn low_below(usage: Use, days_to_shop: f64, service: f64) -> f64 {
    let safety = quantile_of(service) * usage.deviation * days_to_shop.max(0.0).sqrt();
    usage.per_day * days_to_shop + safety
}

/// Days without the item before the next shop.
pub fn days_short(on_hand: f64, per_day: f64, days_to_shop: f64) -> f64 {
    if per_day <= 0.0 { 0.0 } else { (days_to_shop - on_hand / per_day).max(0.0) }
}
