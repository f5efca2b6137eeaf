//! What is really in the house: lots of units, each with its own end.

use crate::chance::Chance;
use crate::world::{CAP_A_DAY, EATEN_A_DAY, Ground, UNIT_GRAMS, World};
use larderling::keeping::air;
use larderling::words::Place;

/// A lot as it really is.
pub struct Lot {
    pub number: u64,
    pub food: usize,
    pub bought: usize,
    /// Days it still stands on the counter.
    pub waits: f64,
    /// The share of life spent.
    pub age: f64,
    /// The share of life at which each unit left is lost.
    pub ends: Vec<f64>,
}

impl Lot {
    pub fn grams(&self) -> i64 {
        self.ends.len() as i64 * UNIT_GRAMS
    }

    pub fn is_lost(&self, unit: usize) -> bool {
        self.ends[unit] <= self.age
    }
}

/// Grams and money, in and out.
#[derive(Clone, Copy, Debug, Default)]
pub struct Account {
    pub bought: i64,
    pub wasted: i64,
    pub paid: i64,
    pub lost: i64,
    pub eaten: i64,
    pub short: i64,
    pub frozen: i64,
    pub still_frozen: i64,
}

/// What one evening did to a lot: grams eaten and grams found lost.
pub struct Deed {
    pub number: u64,
    pub food: usize,
    pub eaten: i64,
    pub lost: i64,
}

pub struct Home<'w> {
    ground: &'w Ground<'w>,
    world: &'w World,
    pub lots: Vec<Lot>,
    /// Grams in the freezer by food, with the number the record gave them, if it knows them.
    pub freezer: Vec<(usize, Option<u64>, i64)>,
    pub account: Account,
    carried: i64,
    next: u64,
}

/// A mark people see: so much of a lot's life is gone, or something in it is lost [D].
const LOOKS_OLD: f64 = 0.7;

impl<'w> Home<'w> {
    pub fn new(ground: &'w Ground<'w>, world: &'w World) -> Home<'w> {
        Home {
            ground,
            world,
            lots: Vec::new(),
            freezer: Vec::new(),
            account: Account::default(),
            carried: 0,
            next: 1,
        }
    }

    /// Brings a basket home; the lots' numbers follow each other.
    pub fn buy(&mut self, trip: usize, basket: &[(usize, i64)], at_once: f64) {
        for &(food, units) in basket {
            let kind = &self.ground.foods[food];
            let waits = if kind.home == Place::Counter {
                0.0
            } else {
                self.world.wait_days(trip, food, at_once)
            };
            self.lots.push(Lot {
                number: self.next,
                food,
                bought: self.world.trips[trip],
                waits,
                age: 0.0,
                ends: self.world.ends(kind, trip, food, units),
            });
            self.next += 1;
            self.account.bought += units * UNIT_GRAMS;
            self.account.paid += units * UNIT_GRAMS * kind.price_per_kg / 1000;
        }
    }

    /// The number a frozen part of a lot gets.
    pub fn number(&mut self) -> u64 {
        self.next += 1;
        self.next - 1
    }

    /// Lets `days` go by.
    pub fn age(&mut self, days: f64) {
        let gives = |lot: &Lot| self.ground.foods[lot.food].gives_ethylene && lot.waits <= 0.0;
        let makers: Vec<usize> =
            self.lots.iter().filter(|lot| gives(lot)).map(|lot| lot.food).collect();
        let counter = self.world.place_factor(&Place::Counter);
        for lot in &mut self.lots {
            let kind = &self.ground.foods[lot.food];
            let factor = self.world.factors[lot.food];
            let own = factor / self.world.place_factor(&kind.home);
            let waiting = lot.waits.min(days);
            lot.waits -= waiting;
            let felt = kind.fears_ethylene && makers.iter().any(|maker| *maker != lot.food);
            let air = if felt { air::ethylene_fridge() } else { 1.0 };
            lot.age += kind.on_counter.spent(waiting) / (own * counter);
            lot.age += kind.at_home.spent(days - waiting) / (factor * air);
        }
    }

    /// True days left of a unit where its lot stands.
    fn left(&self, lot: &Lot, unit: usize) -> f64 {
        let kind = &self.ground.foods[lot.food];
        (lot.ends[unit] - lot.age) * kind.at_home.scale_days * self.world.factors[lot.food]
    }

    /// Every unit by its true end, the soonest first.
    pub fn by_true_end(&self) -> Vec<(usize, usize)> {
        let mut all: Vec<(f64, usize, usize)> = Vec::new();
        for (index, lot) in self.lots.iter().enumerate() {
            all.extend((0..lot.ends.len()).map(|unit| (self.left(lot, unit), index, unit)));
        }
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        all.into_iter().map(|(_, lot, unit)| (lot, unit)).collect()
    }

    /// Lots in some order; what visibly ages is noticed half the time and goes first.
    pub fn by_eye(&self, chance: &mut Chance) -> Vec<usize> {
        let order = chance.order(self.lots.len());
        let old =
            |lot: &Lot| lot.age >= LOOKS_OLD || (0..lot.ends.len()).any(|unit| lot.is_lost(unit));
        let seen: Vec<bool> = self.lots.iter().map(|lot| chance.happens(0.5) && old(lot)).collect();
        let (first, rest): (Vec<usize>, Vec<usize>) = order.into_iter().partition(|&i| seen[i]);
        first.into_iter().chain(rest).collect()
    }

    pub fn at(&self, number: u64) -> Option<usize> {
        self.lots.iter().position(|lot| lot.number == number)
    }

    /// One evening: eats from the lots in this order, throws out what is found lost, and takes
    /// from the freezer what is missing.
    pub fn dine(&mut self, order: &[usize]) -> Vec<Deed> {
        let mut picks: Vec<(usize, usize)> = Vec::new();
        for &lot in order {
            picks.extend((0..self.lots[lot].ends.len()).map(|unit| (lot, unit)));
        }
        self.dine_on(&picks, true)
    }

    /// As `dine`, unit by unit; `opens` is whether touching a lot shows all that is lost in it.
    pub fn dine_on(&mut self, picks: &[(usize, usize)], opens: bool) -> Vec<Deed> {
        let mut hunger = EATEN_A_DAY + self.carried;
        let mut by_food = vec![0; self.ground.foods.len()];
        let mut gone: Vec<Vec<usize>> = vec![Vec::new(); self.lots.len()];
        let mut touched = vec![false; self.lots.len()];
        let mut deeds: Vec<Deed> = self.lots.iter().map(Deed::none).collect();
        for &(at, unit) in picks {
            if hunger < UNIT_GRAMS {
                break;
            }
            let lot = &self.lots[at];
            let fits = by_food[lot.food] + UNIT_GRAMS <= CAP_A_DAY;
            if opens && fits && !touched[at] {
                touched[at] = true;
                gone[at].extend((0..lot.ends.len()).filter(|unit| lot.is_lost(*unit)));
                deeds[at].lost = gone[at].len() as i64 * UNIT_GRAMS;
            }
            if lot.is_lost(unit) {
                if !opens {
                    gone[at].push(unit);
                    deeds[at].lost += UNIT_GRAMS;
                }
                continue;
            }
            if !fits {
                continue;
            }
            by_food[lot.food] += UNIT_GRAMS;
            hunger -= UNIT_GRAMS;
            gone[at].push(unit);
            deeds[at].eaten += UNIT_GRAMS;
            self.account.eaten += UNIT_GRAMS;
        }
        for (at, units) in gone.iter_mut().enumerate() {
            self.waste(at, deeds[at].lost);
            units.sort_unstable();
            for unit in units.iter().rev() {
                self.lots[at].ends.remove(*unit);
            }
        }
        self.lots.retain(|lot| !lot.ends.is_empty());
        self.carried = hunger.min(UNIT_GRAMS - 1);
        deeds.retain(|deed| deed.eaten + deed.lost > 0);
        hunger -= self.carried;
        for (food, number, grams) in &mut self.freezer {
            let taken = hunger.min(*grams);
            *grams -= taken;
            hunger -= taken;
            self.account.eaten += taken;
            if let (Some(number), true) = (*number, taken > 0) {
                deeds.push(Deed { number, food: *food, eaten: taken, lost: 0 });
            }
        }
        self.freezer.retain(|(_, _, grams)| *grams > 0);
        self.account.short += hunger.max(0);
        deeds
    }

    fn waste(&mut self, at: usize, grams: i64) {
        self.account.wasted += grams;
        self.account.lost += grams * self.ground.foods[self.lots[at].food].price_per_kg / 1000;
    }

    /// Looks through a lot and throws out what is lost; grams thrown out.
    pub fn sort_out(&mut self, at: usize) -> i64 {
        let age = self.lots[at].age;
        let before = self.lots[at].grams();
        self.lots[at].ends.retain(|end| *end > age);
        let lost = before - self.lots[at].grams();
        self.waste(at, lost);
        lost
    }

    /// Freezes up to `grams` of the sound units of a lot; grams frozen.
    pub fn freeze(&mut self, at: usize, grams: i64, number: Option<u64>) -> i64 {
        let units = ((grams + UNIT_GRAMS / 2) / UNIT_GRAMS).max(1) as usize;
        let lot = &mut self.lots[at];
        let frozen = units.min(lot.ends.len());
        lot.ends.drain(..frozen);
        let frozen = frozen as i64 * UNIT_GRAMS;
        if frozen > 0 {
            self.freezer.push((lot.food, number, frozen));
            self.account.frozen += frozen;
        }
        frozen
    }

    pub fn forget_empty(&mut self) {
        self.lots.retain(|lot| !lot.ends.is_empty());
    }

    /// Closes the account: what is lost by now is waste, wherever it stands.
    pub fn close(mut self) -> Account {
        for at in 0..self.lots.len() {
            self.sort_out(at);
        }
        self.account.still_frozen = self.freezer.iter().map(|(_, _, grams)| grams).sum();
        self.account
    }
}

impl Deed {
    fn none(lot: &Lot) -> Deed {
        Deed { number: lot.number, food: lot.food, eaten: 0, lost: 0 }
    }
}
