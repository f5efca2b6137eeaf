//! A year in simulated kitchens: how much is wasted with the product, and without it.
//!
//! `cargo bench --bench household` plays paired half years through the product's own code and
//! prints waste by weight and by money with standard errors. `-- 40` plays 40 households instead.

mod chance;
mod home;
mod product;
mod world;

use std::thread;

use chance::Chance;
use home::{Account, Home};
use larderling::rules::Rules;
use larderling::wording::Wording;
use product::Habits;
use world::{DAYS, Ground, World};

/// Households in a full run.
const HOUSEHOLDS: u64 = 300;

/// A quarter of the lots is not put away at once where nobody advises it.
const AT_ONCE: f64 = 0.75;

const DILIGENT: Habits = Habits {
    name: "product, diligent",
    at_once: 0.95,
    tells: 0.95,
    follows: 0.95,
    asks: 0.9,
    freezes: 0.9,
    checks: 0.95,
    counts: 0.8,
};
const AVERAGE: Habits = Habits {
    name: "product, average",
    at_once: 0.85,
    tells: 0.8,
    follows: 0.75,
    asks: 0.4,
    freezes: 0.6,
    checks: 0.75,
    counts: 0.4,
};
const FORGETFUL: Habits = Habits {
    name: "product, forgetful",
    at_once: AT_ONCE,
    tells: 0.5,
    follows: 0.4,
    asks: 0.1,
    freezes: 0.25,
    checks: 0.3,
    counts: 0.1,
};

/// One way of eating.
#[derive(Clone, Copy)]
enum Way {
    Random,
    ByEye,
    Purchase,
    FixedDates,
    Prophet,
    Product(Habits),
}

impl Way {
    fn name(self) -> &'static str {
        match self {
            Way::Random => "random order",
            Way::ByEye => "random, half of what looks old first",
            Way::Purchase => "purchase order",
            Way::FixedDates => "fixed dates (purchase + shortest life)",
            Way::Prophet => "prophet (true remaining life)",
            Way::Product(habits) => habits.name,
        }
    }
}

fn main() {
    let asked = std::env::args().skip(1).find_map(|word| word.parse().ok());
    let households = asked.unwrap_or(HOUSEHOLDS);
    let order_only = Habits { at_once: AT_ONCE, freezes: 0.0, checks: 0.0, ..DILIGENT };
    let ways = [
        Way::Random,
        Way::ByEye,
        Way::Purchase,
        Way::FixedDates,
        Way::Prophet,
        Way::Product(FORGETFUL),
        Way::Product(AVERAGE),
        Way::Product(DILIGENT),
        Way::Product(Habits { name: "diligent, order alone", ..order_only }),
        Way::Product(Habits { name: "... and put away at once", at_once: 0.95, ..order_only }),
        Way::Product(Habits { name: "... and freezing", checks: 0.0, ..DILIGENT }),
        Way::Product(Habits {
            name: "... and basket check, no freezing",
            freezes: 0.0,
            ..DILIGENT
        }),
    ];
    let accounts = play(&ways, households);
    println!("{households} paired households, {DAYS} days each");
    println!(
        "{:42}{:>14}{:>14}{:>9}{:>9}{:>9}{:>9}",
        "way of eating", "waste % (kg)", "waste % ($)", "bought", "frozen", "left fr.", "short"
    );
    for (way, accounts) in ways.iter().zip(&accounts) {
        let (kg, kg_error) = share(accounts, |account| (account.wasted, account.bought));
        let (money, money_error) = share(accounts, |account| (account.lost, account.paid));
        let mean = |of: fn(&Account) -> i64| {
            accounts.iter().map(|a| of(a) as f64).sum::<f64>() / accounts.len() as f64 / 1000.0
        };
        println!(
            "{:42}{kg:8.1} ±{kg_error:4.2}{money:8.1} ±{money_error:4.2}{:9.1}{:9.1}{:9.1}{:9.1}",
            way.name(),
            mean(|a| a.bought),
            mean(|a| a.frozen),
            mean(|a| a.still_frozen),
            mean(|a| a.short),
        );
    }
}

/// Every way of eating in the same worlds, worlds side by side.
fn play(ways: &[Way], households: u64) -> Vec<Vec<Account>> {
    let threads = thread::available_parallelism().map_or(1, usize::from) as u64;
    let parts: Vec<Vec<Vec<Account>>> = thread::scope(|scope| {
        let part = |first: u64| {
            scope.spawn(move || {
                let rules = Rules::embedded().unwrap_or_else(|faults| panic!("{faults}"));
                let wording = Wording::english().expect("a wording file without faults");
                let ground = Ground::new(&rules);
                let seeds = (first..households).step_by(threads as usize);
                let worlds = seeds.map(|seed| World::new(&ground, seed));
                worlds
                    .map(|world| {
                        ways.iter()
                            .map(|way| live(&ground, &world, &rules, &wording, *way))
                            .collect()
                    })
                    .collect()
            })
        };
        let running: Vec<_> = (0..threads).map(part).collect();
        running.into_iter().map(|thread| thread.join().expect("a thread that ends")).collect()
    });
    let all: Vec<Vec<Account>> = parts.into_iter().flatten().collect();
    (0..ways.len()).map(|way| all.iter().map(|household| household[way]).collect()).collect()
}

fn live(ground: &Ground<'_>, world: &World, rules: &Rules, wording: &Wording, way: Way) -> Account {
    if let Way::Product(habits) = way {
        return product::live(ground, world, rules, wording, habits);
    }
    let mut home = Home::new(ground, world);
    let mut trip = 0;
    for day in 0..DAYS {
        let mut chance = Chance::named(&[world.seed, 10, day as u64]);
        if world.trips.get(trip) == Some(&day) {
            home.buy(trip, &world.basket(ground, trip), AT_ONCE);
            trip += 1;
        }
        home.age(1.0 / 3.0);
        let by = |key: &dyn Fn(&home::Lot) -> f64, home: &Home<'_>| {
            let mut order: Vec<usize> = (0..home.lots.len()).collect();
            order.sort_by(|a, b| key(&home.lots[*a]).total_cmp(&key(&home.lots[*b])));
            order
        };
        match way {
            Way::Random => {
                let order = chance.order(home.lots.len());
                home.dine(&order);
            }
            Way::ByEye => {
                let order = home.by_eye(&mut chance);
                home.dine(&order);
            }
            Way::Purchase => {
                // Lots of one shop in some order.
                let order = chance.order(home.lots.len());
                let mut rank = vec![0.0; home.lots.len()];
                for (place, lot) in order.iter().enumerate() {
                    rank[*lot] = place as f64 / 1000.0;
                }
                let mut order: Vec<usize> = (0..home.lots.len()).collect();
                let key = |lot: usize| home.lots[lot].bought as f64 + rank[lot];
                order.sort_by(|a, b| key(*a).total_cmp(&key(*b)));
                home.dine(&order);
            }
            Way::FixedDates => {
                let date = |lot: &home::Lot| lot.bought as f64 + ground.foods[lot.food].days.0;
                let order = by(&date, &home);
                home.dine(&order);
            }
            Way::Prophet => {
                let picks = home.by_true_end();
                home.dine_on(&picks, false);
            }
            Way::Product(_) => {}
        }
        home.age(2.0 / 3.0);
    }
    home.close()
}

/// The mean over households of a share in per cent, and its standard error.
fn share(accounts: &[Account], of: impl Fn(&Account) -> (i64, i64)) -> (f64, f64) {
    let shares: Vec<f64> = accounts
        .iter()
        .map(|account| {
            let (part, whole) = of(account);
            100.0 * part as f64 / whole.max(1) as f64
        })
        .collect();
    let count = shares.len() as f64;
    let mean = shares.iter().sum::<f64>() / count;
    let spread = shares.iter().map(|share| (share - mean).powi(2)).sum::<f64>();
    (mean, (spread / (count - 1.0).max(1.0) / count).sqrt())
}
