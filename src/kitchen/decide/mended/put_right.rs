//! What a recorded event says, put right: another amount, another food, another day, or not at all.

use super::super::choose::Purpose;
use super::super::*;
use crate::kitchen::event::Parts;
use crate::units::Minor;

impl Deciding<'_> {
    /// Gives the food its corrected amount, price, place or destination in every event about it.
    pub(super) fn put_right(&mut self, mended: &mut [Happened], item: &Item, of: &Named) {
        let food = self.food(item);
        let read = match read_amount(item, food, Amount::Vague) {
            Ok(read) => read,
            Err(trouble) => return self.trouble(trouble),
        };
        let said = item.quantity.is_some() || item.fraction.is_some();
        let place = self.place(item);
        for happened in mended {
            match &mut happened.what {
                What::Acquired { lots, paid } => {
                    let before: i64 = lots.iter().filter_map(|new| new.cost).map(|c| c.0).sum();
                    for new in lots.iter_mut().filter(|new| same(&new.of, of)) {
                        set_new_lot(new, &read, said, item);
                        if let Some(place) = &place {
                            new.place.clone_from(place);
                            new.put_away = true;
                        }
                    }
                    let after: i64 = lots.iter().filter_map(|new| new.cost).map(|c| c.0).sum();
                    *paid = match *paid {
                        Some(Minor(sum)) if sum == before => Some(Minor(after)),
                        None if after > 0 => Some(Minor(after)),
                        paid => paid,
                    };
                }
                What::Counted { amount, grams, new, .. } if same(&new.of, of) && said => {
                    *amount = read.amount;
                    *grams = read.grams;
                    set_new_lot(new, &read, said, item);
                }
                What::Made { from, into } => {
                    for draw in from.iter_mut().filter(|draw| same(&draw.of, of) && said) {
                        set_draw(draw, &read);
                    }
                    if same(&into.of, of) && said {
                        set_new_lot(into, &read, said, item);
                        into.grams = None;
                    }
                }
                What::FoundAgain { lot: new } | What::StockMade { into: new }
                    if same(&new.of, of) =>
                {
                    set_new_lot(new, &read, said, item);
                }
                What::Moved { change }
                | What::Prepared { change }
                | What::PutInWater { change }
                | What::Opened { change }
                | What::Preserved { change, .. }
                | What::Thawed { change }
                    if same(&change.draw.of, of) =>
                {
                    if said {
                        set_draw(&mut change.draw, &read);
                    }
                    if let Some(place) = &place {
                        change.place = Some(place.clone());
                    }
                }
                What::Used { draw } | What::Given { draw } | What::NotReceived { draw }
                    if same(&draw.of, of) && said =>
                {
                    set_draw(draw, &read);
                }
                What::Discarded { draw, to, reason, .. } if same(&draw.of, of) => {
                    if said {
                        set_draw(draw, &read);
                    }
                    *to = item.to.unwrap_or(*to);
                    *reason = item.reason.clone().or(reason.take());
                }
                What::Wanted { of: named, quantity } if same(named, of) && said => {
                    *quantity = match read.amount {
                        Amount::Exact(quantity) => Some(quantity),
                        Amount::Share(_) | Amount::Vague => None,
                    };
                }
                What::PartDiscarded { of: named, grams, .. } if same(named, of) => {
                    *grams = read.grams;
                }
                // Nothing in these is an amount of one food.
                _ => {}
            }
        }
    }

    /// It was another food all along. `None`: the only food there is.
    pub(super) fn rename(&mut self, mended: &mut [Happened], wrong: Option<&Named>, right: &Item) {
        let of = self.named(right);
        let food = self.food(right);
        let is_wrong = |named: &Named| wrong.is_none_or(|wrong| same(named, wrong));
        let read = read_amount(right, food, Amount::Vague).ok();
        let said = read.as_ref().filter(|_| right.quantity.is_some());
        for happened in mended {
            let day = happened.day;
            let Parts { draws, begun, named, .. } = happened.what.parts_mut();
            for new in begun.into_iter().filter(|new| is_wrong(&new.of)) {
                new.of.clone_from(&of);
                match said {
                    Some(read) => set_new_lot(new, read, true, right),
                    None => {
                        let grams = |quantity| facts::grams(food, quantity, None);
                        new.grams = new.quantity.and_then(grams);
                    }
                }
                if !new.put_away
                    && let Some(home) = facts::home(food, new.form)
                {
                    new.place = home;
                }
                // Its clock is that of the food it was; a date on the pack stays what it is.
                let printed = new.printed.map(|(_, day)| day);
                new.limits.retain(|limit| printed.is_some() && limit.day == printed);
                if new.form != Form::Frozen {
                    let clock = self.cx.foods.clock(food, new.form, &new.place);
                    new.limits.extend(clock.map(|clock| clock.limit(day, new.from)));
                }
            }
            for draw in draws.into_iter().filter(|draw| is_wrong(&draw.of)) {
                draw.of.clone_from(&of);
                draw.lots = self.candidates(right, &of, Purpose::Out);
                match (said, draw.amount) {
                    (Some(read), _) => set_draw(draw, read),
                    (None, Amount::Exact(quantity)) => {
                        draw.grams = facts::grams(food, quantity, None);
                    }
                    (None, Amount::Share(_) | Amount::Vague) => {}
                }
            }
            for named in named.into_iter().filter(|named| is_wrong(named)) {
                named.clone_from(&of);
            }
        }
    }
}

pub(super) fn same(a: &Named, b: &Named) -> bool {
    match (&a.food, &b.food) {
        (Some(a), Some(b)) => a == b,
        _ => a.name.eq_ignore_ascii_case(&b.name),
    }
}

fn set_draw(draw: &mut Draw, read: &Read) {
    draw.amount = read.amount;
    draw.grams = read.grams;
}

fn set_new_lot(new: &mut NewLot, read: &Read, said: bool, item: &Item) {
    if said {
        new.quantity = match read.amount {
            Amount::Exact(quantity) => {
                // "No, 3": in the unit of before.
                let unit = quantity.unit.or(new.quantity.and_then(|before| before.unit));
                Some(Quantity::new(quantity.value, unit))
            }
            Amount::Share(_) | Amount::Vague => None,
        };
        new.grams = read.grams;
    }
    if let Some(price) = item.price {
        new.cost = super::came::cost(price, new.quantity, new.grams).or(Some(price.minor));
    }
}

/// Moves an event to another day, with the dates that count from it.
pub(super) fn redate(happened: &mut Happened, to: KitchenDay) {
    let days = to.days_since(happened.day);
    happened.day = to;
    let minutes = days.saturating_mul(24 * 60);
    let moment = |at: &mut Instant| *at = at.plus_minutes(minutes);
    let limit = |limit: &mut Limit| {
        limit.day = limit.day.map(|day| day.plus(days));
        limit.at = limit.at.map(|at| at.plus_minutes(minutes));
    };
    for new in happened.what.parts_mut().begun {
        moment(&mut new.from);
        // A date on the pack stays what it is.
        let printed = new.printed.map(|(_, day)| day);
        let counted = |each: &&mut Limit| each.day != printed || printed.is_none();
        new.limits.iter_mut().filter(counted).for_each(limit);
    }
    if let Some(change) = happened.what.change_mut() {
        moment(&mut change.from);
        change.limits.iter_mut().for_each(limit);
        if let Some(water) = &mut change.water {
            water.since = water.since.plus(days);
            water.changed = water.changed.plus(days);
            water.last_day = water.last_day.plus(days);
        }
    }
    match &mut happened.what {
        What::LeftOut { limit: passed, .. } => passed.iter_mut().for_each(limit),
        What::PlaceFailed { since, .. } => moment(since),
        What::PlaceRestored { out, .. } => out.iter_mut().for_each(|(_, each)| limit(each)),
        What::ScrapsSaved { scraps } => scraps.iter_mut().for_each(|scrap| scrap.day = to),
        What::PriceSeen { price, .. } => price.day = to,
        // Nothing else in an event counts from its day.
        _ => {}
    }
}
