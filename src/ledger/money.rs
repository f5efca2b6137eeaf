//! Money: unit prices, price memory, budget and forecast.
//!
//! Exact: minor units and fractions of them; a double appears only where a check or a sentence
//! needs one. A price nobody told is not a price of zero.

use super::period::{Period, Span};
use crate::dates::KitchenDay;
use crate::kitchen::{PriceSeen, State};
use crate::units::{Minor, Quantity, Ratio};

/// Prices older than this many days say nothing about today's.
const PRICE_DAYS: i64 = 365;
/// Prices needed before one may be called good or high. Our own choice.
pub const PRICES_NEEDED: usize = 5;
/// Shops the forecast looks back on.
const TRIPS_BACK: usize = 5;

/// The share of pre-cut food that is eaten, in per cent. Our own choice: nobody publishes one.
const PRECUT_YIELD_PERCENT: i64 = 98;

/// Minor units for a kilogram, exact; `None` where the amount has no weight.
///
/// `each_grams` is the weight of one, for amounts that are counted.
pub fn per_kilogram(price: Minor, amount: Quantity, each_grams: Option<Ratio>) -> Option<Ratio> {
    let grams = match amount.grams() {
        Some(grams) => grams,
        None => amount.value.checked_mul(each_grams?)?,
    };
    if !grams.is_positive() {
        return None;
    }
    Ratio::whole(price.0).checked_mul(Ratio::whole(1000))?.checked_div(grams)
}

/// The price of a kilogram that is eaten, from the price of one bought and the share of it that
/// is edible.
pub fn per_edible(per_kilogram: Ratio, edible: Ratio) -> Option<Ratio> {
    edible.is_positive().then(|| per_kilogram.checked_div(edible))?
}

/// The price of a kilogram of pre-cut food that is eaten.
pub fn per_edible_precut(per_kilogram: Ratio) -> Option<Ratio> {
    per_edible(per_kilogram, Ratio::new(PRECUT_YIELD_PERCENT, 100)?)
}

/// The price of whole food up to which it is no cheaper than pre-cut food at `precut`, both for a
/// kilogram bought.
pub fn break_even(precut: Ratio, whole_edible: Ratio) -> Option<Ratio> {
    per_edible_precut(precut)?.checked_mul(whole_edible)
}

/// The quantile `share` of prices, linear between them (type 7 of Hyndman and Fan, 1996);
/// `None` of no prices.
pub fn quantile(prices: &[Ratio], share: Ratio) -> Option<Ratio> {
    let mut sorted = prices.to_vec();
    sorted.sort();
    let last = i64::try_from(sorted.len().checked_sub(1)?).ok()?;
    let at = Ratio::whole(last).checked_mul(share)?;
    let below = at.numer().div_euclid(at.denom());
    let index = usize::try_from(below).ok()?;
    let low = *sorted.get(index)?;
    let high = sorted.get(index + 1).copied().unwrap_or(low);
    let rest = at.checked_sub(Ratio::whole(below))?;
    low.checked_add(high.checked_sub(low)?.checked_mul(rest)?)
}

/// The weight of own record that counts as much as the house's usual loss, in grams [D].
const LOSS_PRIOR_GRAMS: i64 = 2_000;

/// The share of a food bought that this household loses, drawn towards its share of everything
/// while little of it was bought.
pub fn own_loss_share(state: &State, key: &str) -> Ratio {
    let wasted = |totals: &super::Totals| {
        totals.composted_food.saturating_add(totals.trash_food).saturating_add(totals.sewer_food)
    };
    let house = super::house_totals(state);
    let of_all = Ratio::new(wasted(&house), house.came_in.max(1)).unwrap_or(Ratio::ZERO);
    let own = state.ledger.get(key).copied().unwrap_or_default();
    let bought = Ratio::whole(LOSS_PRIOR_GRAMS.saturating_add(own.came_in.max(0)));
    let lost = of_all
        .checked_mul(Ratio::whole(LOSS_PRIOR_GRAMS))
        .and_then(|prior| prior.checked_add(Ratio::whole(wasted(&own))));
    let share = lost.and_then(|lost| lost.checked_div(bought)).unwrap_or(Ratio::ZERO);
    // Nobody loses more than was bought; what the record says beyond that is its own fault.
    let most = Ratio::new(9, 10).unwrap_or(Ratio::ONE);
    share.clamp(Ratio::ZERO, most)
}

/// How a price compares with the household's own.
#[derive(Clone, Debug, PartialEq)]
pub enum PriceView {
    /// Among the lowest quarter.
    Good {
        lower: Ratio,
    },
    Usual {
        lower: Ratio,
        upper: Ratio,
    },
    /// Among the highest quarter.
    High {
        upper: Ratio,
    },
    /// Too few prices to say; the lowest of them.
    NotEnough {
        seen: usize,
        lowest: Option<Ratio>,
    },
}

/// Compares a price with earlier ones, all in minor units for the same amount.
pub fn view_of(price: Ratio, earlier: &[Ratio]) -> PriceView {
    let quarters = Ratio::new(1, 4).zip(Ratio::new(3, 4));
    let ends =
        quarters.and_then(|(low, high)| Some((quantile(earlier, low)?, quantile(earlier, high)?)));
    match ends {
        Some((lower, upper)) if earlier.len() >= PRICES_NEEDED => {
            if price <= lower {
                PriceView::Good { lower }
            } else if price >= upper {
                PriceView::High { upper }
            } else {
                PriceView::Usual { lower, upper }
            }
        }
        _ => PriceView::NotEnough { seen: earlier.len(), lowest: earlier.iter().min().copied() },
    }
}

/// The household's own prices of a food for a kilogram, of the last twelve months.
pub fn prices_per_kilogram(state: &State, key: &str, today: KitchenDay) -> Vec<Ratio> {
    let recent = |price: &&PriceSeen| today.days_since(price.day) <= PRICE_DAYS;
    let known = state.prices.get(key).into_iter().flatten().filter(recent);
    known
        .filter_map(|price| {
            let grams = price.grams.filter(|grams| *grams > 0)?;
            Ratio::whole(price.minor.0)
                .checked_mul(Ratio::whole(1000))?
                .checked_div(Ratio::whole(grams))
        })
        .collect()
}

/// The household's own prices of a food for one, where it is counted, of the last twelve months.
pub fn prices_each(state: &State, key: &str, today: KitchenDay) -> Vec<Ratio> {
    let recent = |price: &&PriceSeen| today.days_since(price.day) <= PRICE_DAYS;
    let known = state.prices.get(key).into_iter().flatten().filter(recent);
    known
        .filter_map(|price| {
            let quantity = price.quantity?;
            let counted = quantity.grams().is_none() && quantity.millilitres().is_none();
            let value = quantity.value;
            (counted && value.is_positive())
                .then(|| Ratio::whole(price.minor.0).checked_div(value))?
        })
        .collect()
}

/// A budget at an even pace through its days.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Spent by the last day if every day were like the days so far. Misleads when shops are
    /// weeks apart.
    pub forecast: Ratio,
    /// What an even pace allows by now.
    pub allowed: Ratio,
    pub over: Ratio,
}

/// The even pace on day `day` of `days` (both from 1).
pub fn pace(spent: Minor, budget: Minor, day: u32, days: u32) -> Option<Pace> {
    let gone = Ratio::new(i64::from(day), i64::from(days)).filter(|gone| gone.is_positive())?;
    let allowed = Ratio::whole(budget.0).checked_mul(gone)?;
    let spent = Ratio::whole(spent.0);
    Some(Pace { forecast: spent.checked_div(gone)?, allowed, over: spent.checked_sub(allowed)? })
}

/// What a month is likely to cost, shop by shop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Forecast {
    pub likely: Minor,
    pub low: Minor,
    pub high: Minor,
}

/// The forecast: what is spent, the shops still to come at the cost of earlier ones, and the small
/// spending of the days left. `None` without an earlier shop to go by, when one is to come.
pub fn forecast(
    spent: Minor,
    earlier_trips: &[Minor],
    trips_left: u32,
    small_a_day: Ratio,
    days_left: u32,
) -> Option<Forecast> {
    let recent = &earlier_trips[earlier_trips.len().saturating_sub(TRIPS_BACK)..];
    let mut sorted: Vec<Ratio> = recent.iter().map(|trip| Ratio::whole(trip.0)).collect();
    sorted.sort();
    let half = Ratio::new(1, 2)?;
    let small = small_a_day.checked_mul(Ratio::whole(i64::from(days_left)))?;
    let with = |trip: Ratio| {
        let trips = trip.checked_mul(Ratio::whole(i64::from(trips_left)))?;
        let sum = Ratio::whole(spent.0).checked_add(trips)?.checked_add(small)?;
        Some(Minor(sum.rounded()))
    };
    if trips_left == 0 {
        let likely = with(Ratio::ZERO)?;
        return Some(Forecast { likely, low: likely, high: likely });
    }
    Some(Forecast {
        likely: with(quantile(&sorted, half)?)?,
        low: with(*sorted.first()?)?,
        high: with(*sorted.last()?)?,
    })
}

/// What the next shop may cost: the budget less what is spent and the small spending to come.
pub fn free_for_next_trip(
    budget: Minor,
    spent: Minor,
    small_a_day: Ratio,
    days_left: u32,
) -> Option<Minor> {
    let small = small_a_day.checked_mul(Ratio::whole(i64::from(days_left)))?;
    let free = Ratio::whole(budget.0).checked_sub(Ratio::whole(spent.0))?.checked_sub(small)?;
    Some(Minor(free.rounded()))
}

/// Whether a shop is to be expected before the month ends, by the mean gap between shops.
pub fn trip_expected(days_since_last: u32, days_left: u32, mean_gap_days: Ratio) -> bool {
    Ratio::whole(i64::from(days_since_last) + i64::from(days_left)) >= mean_gap_days
}

/// The money of one calendar month.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Month {
    pub spent: Minor,
    pub trips: u32,
    pub budget: Option<Minor>,
    /// The budget less what is spent; negative when it is overdrawn.
    pub left: Option<Minor>,
    /// What was thrown out of food whose price was told.
    pub wasted: Minor,
    pub forecast: Option<Forecast>,
}

/// The month of `today`, up to and with `today`.
pub fn month(state: &State, today: KitchenDay) -> Month {
    let first = today.plus(1 - i64::from(today.day_of_month()));
    let next = first.plus(31);
    let days_in_month = first.plus(31 - i64::from(next.day_of_month()) + 1).days_since(first);
    let inside = |day: KitchenDay| (first..=today).contains(&day);
    let costs: Vec<Minor> = state.trips.iter().map(|trip| trip.cost()).collect();
    let this: Vec<Minor> =
        state.trips.iter().filter(|trip| inside(trip.day)).map(|trip| trip.cost()).collect();
    let spent = Minor(this.iter().fold(0, |sum, cost| sum.saturating_add(cost.0)));
    let wasted = super::waste::lost_most(&state.losses, &Period::of(Span::Month, false, today));
    let days_left = days_in_month - i64::from(today.day_of_month());
    Month {
        spent,
        trips: u32::try_from(this.len()).unwrap_or(u32::MAX),
        budget: state.settings.budget,
        left: state.settings.budget.map(|budget| Minor(budget.0.saturating_sub(spent.0))),
        wasted: Minor(wasted.iter().fold(0, |sum, lost| sum.saturating_add(lost.cost.0))),
        forecast: trips_to_come(state, today, days_left).and_then(|trips_left| {
            let days_left = u32::try_from(days_left).ok()?;
            forecast(spent, &costs, trips_left, Ratio::ZERO, days_left)
        }),
    }
}

/// Shops still to come this month: the planned one and as many as the mean gap leaves room for
/// after it. `None` with too little history to say.
fn trips_to_come(state: &State, today: KitchenDay, days_left: i64) -> Option<u32> {
    let gap = mean_gap(state).filter(|gap| gap.is_positive());
    let next = match state.next_trip.filter(|day| *day > today) {
        Some(planned) => planned.days_since(today),
        None => {
            let since = today.days_since(state.trips.last()?.day);
            (gap?.rounded() - since).max(1)
        }
    };
    if next > days_left {
        return Some(0);
    }
    let rest = Ratio::whole(days_left - next);
    let more = gap
        .and_then(|gap| rest.checked_div(gap))
        .map_or(0, |times| times.numer().div_euclid(times.denom()));
    u32::try_from(1 + more).ok()
}

/// The mean number of days between two shops; `None` before the second.
pub fn mean_gap(state: &State) -> Option<Ratio> {
    let mut days: Vec<KitchenDay> = state.trips.iter().map(|trip| trip.day).collect();
    days.sort();
    days.dedup();
    let (first, last) = days.first().zip(days.last())?;
    let gaps = i64::try_from(days.len()).ok()? - 1;
    (gaps > 0).then(|| Ratio::new(last.days_since(*first), gaps))?
}
