//! The product in the loop: events in through the fold, posts and basket checks out, and people
//! who follow them as far as their habits go.

use larderling::keeping::Learned;
use larderling::kitchen::{
    Amount, Change, Draw, Event, EventId, LotId, Named, NewLot, PersonId, State, What,
};
use larderling::plan::{Grounds, Outlook, Post, Said, Verdict};
use larderling::rules::Rules;
use larderling::statement::Item;
use larderling::units::{Quantity, Ratio, Unit};
use larderling::wording::Wording;
use larderling::words::{Destination, Form, Place};

use crate::chance::Chance;
use crate::home::{Account, Home};
use crate::world::{DAYS, Ground, PEOPLE, UNIT_GRAMS, World, calendar, moment};

const POST: i64 = 7 * 60;
const SHOP: i64 = 10 * 60;
const DINNER: i64 = 18 * 60;

/// How people follow: the probability of each habit, each time it could show.
#[derive(Clone, Copy)]
pub struct Habits {
    pub name: &'static str,
    /// A lot is put away at once, once the advice has named the shop.
    pub at_once: f64,
    /// A use, a loss, a freezing or an answer is told to the bot.
    pub tells: f64,
    /// Dinner starts from the morning post.
    pub follows: f64,
    /// Having used what the post named, the cook asks what is next rather than taking anything.
    pub asks: f64,
    /// What the post says to freeze is frozen.
    pub freezes: f64,
    /// The basket is checked before the shop, and the answer is followed.
    pub checks: f64,
    /// The quick count offered after a shop is given.
    pub counts: f64,
}

/// Runs the product's own code beside the true kitchen.
struct Bot<'a> {
    rules: &'a Rules,
    wording: &'a Wording,
    learned: Learned,
    state: State,
    said: Said,
}

impl<'a> Bot<'a> {
    fn new(rules: &'a Rules, wording: &'a Wording) -> Bot<'a> {
        let mut bot = Bot {
            rules,
            wording,
            learned: Learned::default(),
            state: State::default(),
            said: Said::new(),
        };
        for (key, value) in [("people", PEOPLE.to_string()), ("units", "metric".to_owned())] {
            bot.happened(0, 0, None, What::SettingChanged { key: key.to_owned(), value });
        }
        bot
    }

    /// One event, through the fold.
    fn happened(&mut self, day: usize, minutes: i64, person: Option<PersonId>, what: What) {
        let id = EventId(self.state.last_event + 1);
        let at = moment(day, minutes);
        let event =
            Event { id, person, at, day: calendar(day), message: None, replaces: None, what };
        self.state.apply(&event);
    }

    fn told(&mut self, day: usize, minutes: i64, what: What) {
        self.happened(day, minutes, Some(PersonId(1)), what);
    }

    fn outlook(&self, day: usize, minutes: i64) -> Outlook<'_> {
        let grounds = Grounds {
            rules: self.rules,
            foods: self.rules,
            learned: &self.learned,
            wording: self.wording,
            log: &[],
        };
        Outlook::new(&self.state, grounds, moment(day, minutes))
    }

    fn morning(&mut self, day: usize) -> Option<Post> {
        let outlook = self.outlook(day, POST);
        let (doubted, gone) = (outlook.doubtful(&self.said), outlook.forgotten(&self.said));
        if !doubted.is_empty() {
            self.happened(day, POST, None, What::Doubted { lots: doubted });
        }
        if !gone.is_empty() {
            self.happened(day, POST, None, What::Uncounted { lots: gone });
        }
        let post = self.outlook(day, POST).morning_post(&self.said)?;
        post.remember(&self.state, calendar(day), &mut self.said);
        Some(post)
    }

    fn draw(
        &self,
        ground: &Ground<'_>,
        food: usize,
        lot: u64,
        amount: Amount,
        grams: Option<i64>,
    ) -> Draw {
        let kind = &ground.foods[food];
        let of = Named { food: Some(kind.id.clone()), name: kind.food.name.clone(), part: None };
        Draw { of, lots: vec![LotId(lot)], amount, grams }
    }

    fn used(&mut self, ground: &Ground<'_>, day: usize, food: usize, lot: u64, grams: i64) {
        let draw = self.draw(ground, food, lot, exact(grams), Some(grams));
        self.told(day, DINNER, What::Used { draw });
    }

    fn used_up(&mut self, ground: &Ground<'_>, day: usize, food: usize, lot: u64) {
        if self.state.lot(LotId(lot)).is_some() {
            let draw = self.draw(ground, food, lot, Amount::ALL, None);
            self.told(day, DINNER, What::Used { draw });
        }
    }

    fn spoiled(&mut self, ground: &Ground<'_>, day: usize, food: usize, lot: u64, grams: i64) {
        let draw = self.draw(ground, food, lot, exact(grams), Some(grams));
        let to = Destination::Compost;
        let reason = Some("mouldy".to_owned());
        self.told(day, DINNER, What::Discarded { draw, to, reason, inedible: None });
    }

    fn frozen(
        &mut self,
        ground: &Ground<'_>,
        day: usize,
        food: usize,
        lot: u64,
        piece: u64,
        grams: i64,
    ) -> u64 {
        let extra = piece + EXTRA;
        let change = Change {
            draw: self.draw(ground, food, lot, exact(grams), Some(grams)),
            pieces: vec![LotId(piece), LotId(extra)],
            from: moment(day, DINNER),
            form: Some(Form::Frozen),
            place: Some(Place::Freezer),
            limits: Vec::new(),
            water: None,
            counted: None,
        };
        self.told(day, DINNER, What::Preserved { change, weighed: None });
        let whole = self.state.lot(LotId(lot)).is_some_and(|lot| lot.form == Form::Frozen);
        if whole { lot } else { piece }
    }
}

/// Numbers of what a draw finds off the record, out of the way of all others.
const EXTRA: u64 = 1_000_000;

fn exact(grams: i64) -> Amount {
    Amount::Exact(Quantity::new(Ratio::whole(grams), Some(Unit::Gram)))
}

/// Half a year with the product.
pub fn live(
    ground: &Ground<'_>,
    world: &World,
    rules: &Rules,
    wording: &Wording,
    habits: Habits,
) -> Account {
    let mut bot = Bot::new(rules, wording);
    let mut home = Home::new(ground, world);
    let mut trip = 0;
    for day in 0..DAYS {
        let mut chance = Chance::named(&[world.seed, 10, day as u64]);
        let post = bot.morning(day);
        if world.trips.get(trip) == Some(&day) {
            shop(&mut bot, &mut home, ground, world, habits, trip, &mut chance);
            trip += 1;
        }
        home.age((DINNER - SHOP) as f64 / 1440.0);
        dinner(&mut bot, &mut home, ground, habits, day, post, &mut chance);
        home.age(1.0 - (DINNER - SHOP) as f64 / 1440.0);
        put_away(&mut bot, &home, day, habits, &mut chance);
    }
    home.close()
}

fn shop(
    bot: &mut Bot<'_>,
    home: &mut Home<'_>,
    ground: &Ground<'_>,
    world: &World,
    habits: Habits,
    trip: usize,
    chance: &mut Chance,
) {
    let day = world.trips[trip];
    let next = day + world.gaps[trip];
    let mut basket = world.basket(ground, trip);
    bot.told(day, SHOP - 60, What::TripPlanned { on: calendar(day) });
    if chance.happens(habits.checks) {
        basket = checked(bot, ground, day, basket);
    }
    let first = home.number() + 1;
    home.buy(trip, &basket, habits.at_once);
    let lots = (first..).zip(&basket).map(|(number, (food, units))| {
        let kind = &ground.foods[*food];
        let grams = units * UNIT_GRAMS;
        NewLot {
            lot: LotId(number),
            of: Named { food: Some(kind.id.clone()), name: kind.food.name.clone(), part: None },
            from: moment(day, SHOP),
            form: Form::Whole,
            place: kind.home.clone(),
            put_away: kind.home == Place::Counter,
            quantity: Some(Quantity::new(Ratio::whole(grams), Some(Unit::Gram))),
            grams: Some(grams),
            cost: Some(larderling::units::Minor(grams * kind.price_per_kg / 1000)),
            limits: Vec::new(),
            printed: None,
        }
    });
    let lots: Vec<NewLot> = lots.collect();
    let paid = lots.iter().filter_map(|lot| lot.cost).map(|cost| cost.0).sum();
    let paid = Some(larderling::units::Minor(paid));
    bot.told(day, SHOP, What::Acquired { lots, paid });
    if chance.happens(habits.tells) {
        bot.told(day, SHOP, What::TripPlanned { on: calendar(next) });
    }
    // What is put away at once is told at once; some say "all put away" of what is not.
    let told = chance.happens(habits.tells);
    let away = home.lots.iter().filter(|lot| lot.number >= first && (lot.waits <= 0.0 || !told));
    let away: Vec<LotId> = away.map(|lot| LotId(lot.number)).collect();
    bot.told(day, SHOP, What::PutAway { lots: away });
    if chance.happens(habits.counts) {
        count(bot, home, ground, day);
    }
}

/// The basket after the check: what is too much is left, and what keeps is taken instead.
fn checked(
    bot: &Bot<'_>,
    ground: &Ground<'_>,
    day: usize,
    basket: Vec<(usize, i64)>,
) -> Vec<(usize, i64)> {
    let items: Vec<Item> = basket
        .iter()
        .map(|(food, units)| Item {
            food: Some(ground.foods[*food].id.clone()),
            name: ground.foods[*food].food.name.clone(),
            quantity: Some(Ratio::whole(units * UNIT_GRAMS)),
            unit: Some(Unit::Gram),
            ..Item::default()
        })
        .collect();
    let said = bot.outlook(day, SHOP - 30).basket(&items, None);
    let mut freed = 0;
    let mut kept: Vec<(usize, i64)> = Vec::new();
    for ((food, units), verdict) in basket.into_iter().zip(&said.verdicts) {
        let over = match verdict {
            Verdict::TooMuch { over, .. } => (over + UNIT_GRAMS - 1) / UNIT_GRAMS,
            Verdict::Fits | Verdict::Keeps | Verdict::Unknown => 0,
        };
        freed += over.min(units);
        kept.push((food, units - over.min(units)));
    }
    kept.retain(|(_, units)| *units > 0);
    let keepers: Vec<usize> = said.keepers.iter().filter_map(|id| ground.number(id)).collect();
    for (n, keeper) in keepers.iter().enumerate() {
        let share =
            freed / keepers.len() as i64 + i64::from((n as i64) < freed % keepers.len() as i64);
        match kept.iter_mut().find(|(food, _)| food == keeper) {
            Some((_, units)) => *units += share,
            None if share > 0 => kept.push((*keeper, share)),
            None => {}
        }
    }
    kept
}

/// The quick count: every lot on record is set to what is there.
fn count(bot: &mut Bot<'_>, home: &Home<'_>, ground: &Ground<'_>, day: usize) {
    let lots: Vec<(u64, i64)> = bot
        .state
        .lots
        .iter()
        .filter(|lot| lot.form != Form::Frozen)
        .map(|lot| (lot.id.0, lot.grams.unwrap_or(0)))
        .collect();
    for (number, on_record) in lots {
        let there = home.at(number).map_or(0, |at| home.lots[at].grams());
        if there == on_record {
            continue;
        }
        if there == 0 {
            bot.told(day, SHOP, What::Uncounted { lots: vec![LotId(number)] });
            continue;
        }
        let Some(at) = home.at(number) else { continue };
        let kind = &ground.foods[home.lots[at].food];
        let quantity = Quantity::new(Ratio::whole(there), Some(Unit::Gram));
        let new = NewLot {
            lot: LotId(number + EXTRA),
            of: Named { food: Some(kind.id.clone()), name: kind.food.name.clone(), part: None },
            from: moment(day, SHOP),
            form: Form::Whole,
            place: kind.home.clone(),
            put_away: true,
            quantity: Some(quantity),
            grams: Some(there),
            cost: None,
            limits: Vec::new(),
            printed: None,
        };
        let (lots, amount) = (vec![LotId(number)], Amount::Exact(quantity));
        bot.told(day, SHOP, What::Counted { lots, amount, grams: Some(there), new });
    }
}

fn dinner(
    bot: &mut Bot<'_>,
    home: &mut Home<'_>,
    ground: &Ground<'_>,
    habits: Habits,
    day: usize,
    post: Option<Post>,
    chance: &mut Chance,
) {
    let mut order: Vec<usize> = Vec::new();
    if let Some(post) = post {
        for lot in &post.asked {
            if chance.happens(habits.tells) {
                look(bot, home, ground, day, lot.0);
            }
        }
        for (lot, grams) in &post.rescue {
            if chance.happens(habits.freezes) {
                rescue(bot, home, ground, habits, day, lot.0, *grams, chance);
            }
        }
        if chance.happens(habits.follows) {
            for lot in &post.first {
                if home.at(lot.0).is_none() && chance.happens(habits.tells) {
                    look(bot, home, ground, day, lot.0);
                }
            }
            order.extend(post.first.iter().filter_map(|lot| home.at(lot.0)));
            if chance.happens(habits.asks) {
                let outlook = bot.outlook(day, DINNER);
                let next = outlook.held.iter().filter(|held| held.is_fresh());
                let next = next.filter(|held| held.last_day_number().is_some());
                order.extend(next.filter_map(|held| home.at(held.lot.id.0)));
            }
        }
    }
    order.extend(home.by_eye(chance));
    let mut seen = vec![false; home.lots.len()];
    order.retain(|&at| !std::mem::replace(&mut seen[at], true));
    for deed in home.dine(&order) {
        if !chance.happens(habits.tells) {
            continue;
        }
        if deed.lost > 0 {
            bot.spoiled(ground, day, deed.food, deed.number, deed.lost);
        }
        if deed.eaten > 0 {
            bot.used(ground, day, deed.food, deed.number, deed.eaten);
        }
    }
}

/// Somebody looks for a lot and says what became of it.
fn look(bot: &mut Bot<'_>, home: &mut Home<'_>, ground: &Ground<'_>, day: usize, number: u64) {
    let Some(lot) = bot.state.lot(LotId(number)) else { return };
    let food = lot.food.as_ref().and_then(|id| ground.number(id)).unwrap_or(0);
    let Some(at) = home.at(number) else { return bot.used_up(ground, day, food, number) };
    let lost = home.sort_out(at);
    if lost > 0 {
        bot.spoiled(ground, day, food, number, lost);
    }
    if home.lots[at].ends.is_empty() {
        bot.used_up(ground, day, food, number);
    } else {
        bot.told(day, DINNER, What::Seen { lots: vec![LotId(number)] });
    }
    home.forget_empty();
}

#[expect(clippy::too_many_arguments, reason = "one scene with everybody in it")]
fn rescue(
    bot: &mut Bot<'_>,
    home: &mut Home<'_>,
    ground: &Ground<'_>,
    habits: Habits,
    day: usize,
    number: u64,
    grams: i64,
    chance: &mut Chance,
) {
    let Some(at) = home.at(number) else { return };
    let tells = chance.happens(habits.tells);
    let food = home.lots[at].food;
    let lost = home.sort_out(at);
    let piece = home.number();
    let frozen = home.freeze(at, grams, None);
    home.forget_empty();
    if !tells {
        return;
    }
    if lost > 0 {
        bot.spoiled(ground, day, food, number, lost);
    }
    if frozen > 0 {
        let number = bot.frozen(ground, day, food, number, piece, frozen);
        if let Some(last) = home.freezer.last_mut() {
            last.1 = Some(number);
        }
    }
}

/// What stood on the counter and now stands in its place is told, or not.
fn put_away(bot: &mut Bot<'_>, home: &Home<'_>, day: usize, habits: Habits, chance: &mut Chance) {
    let waiting = |number: u64| home.at(number).is_some_and(|at| home.lots[at].waits > 0.0);
    let on_record = bot.state.lots.iter().filter(|lot| !lot.put_away && !waiting(lot.id.0));
    let away: Vec<LotId> = on_record.map(|lot| lot.id).collect();
    if !away.is_empty() && chance.happens(habits.tells) {
        bot.told(day, 23 * 60, What::PutAway { lots: away });
    }
}
