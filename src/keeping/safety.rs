//! The arithmetic of safety clocks in whole days. Hard: nothing here or elsewhere adds a day.
//!
//! # Source
//! FDA Food Code 3-501.17, as explained by the Southern Nevada Health District (day of preparation
//! is day 1; a mixed dish keeps the date of its oldest ingredient) and by North Carolina's
//! adoption sheet (freezing stops the count: the freezing day is not counted, the thaw day is) [S].

use crate::dates::KitchenDay;

/// Days a cooked dish may be kept cold at home, the cooking day being day 1.
///
/// # Source
/// USDA National Agricultural Library and University of Illinois Extension: use leftovers within
/// 3 to 4 days [S]; counted the strict way [D].
pub const LEFTOVER_DAYS: u32 = 4;

/// The last day under a limit of `days`, the day of preparation being day 1.
pub fn last_day(prepared: KitchenDay, days: u32) -> KitchenDay {
    prepared.plus(i64::from(days.max(1)) - 1)
}

/// The day a mixed dish counts from: that of its oldest ingredient under a clock.
pub fn counts_from(
    made: KitchenDay,
    ingredients: impl IntoIterator<Item = KitchenDay>,
) -> KitchenDay {
    ingredients.into_iter().fold(made, KitchenDay::min)
}

/// The last day after a time in the freezer: the clock stood still from `frozen` to `thawed`.
///
/// A limit that had already run out is returned unchanged: freezing revives nothing.
pub fn last_day_after_freezing(
    last_day: KitchenDay,
    frozen: KitchenDay,
    thawed: KitchenDay,
) -> KitchenDay {
    if frozen > last_day || thawed < frozen {
        return last_day;
    }
    last_day.plus(thawed.days_since(frozen))
}
