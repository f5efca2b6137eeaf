//! Can it be eaten in time? Amounts against days, exactly, in grams.
//!
//! Two answers of different depth. `excess_total` and `excess_by_food` are the quick tests:
//! earliest deadline first. `cover` assigns grams to days with the household's pace and a cap per
//! food, by augmenting a flow: nothing that could be eaten in time is left over, and what cannot
//! be eaten goes to the preserving days it can still reach.
//!
//! # Source
//! Earliest deadline first answers "can everything be eaten in time" for one capacity: Horn 1974,
//! Jackson 1955 [M]. The totals of `cover` are held against linear programs solved by HiGHS.

use std::collections::VecDeque;

/// Some of one food with the last day it should be eaten: 1 is today.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amount {
    /// Which food, by the caller's numbering from 0.
    pub food: usize,
    pub grams: i64,
    pub last_day: i64,
    /// Whether it can be frozen or dried.
    pub keeps: bool,
}

/// What the household eats and preserves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pace {
    /// Days to the next shop; plans reach no further.
    pub days: i64,
    /// Grams eaten on each of these days, first day first.
    pub grams: Vec<i64>,
    /// The most of one food on one day, in grams, by food.
    pub caps: Vec<i64>,
    /// Days on which something can be frozen or dried, with the grams that can be done.
    pub preserving: Vec<(i64, i64)>,
}

/// Grams that cannot be eaten by their last day, whatever the order, at `a_day` grams a day.
pub fn excess_total(amounts: &[Amount], a_day: i64) -> i64 {
    let mut sorted: Vec<&Amount> = amounts.iter().collect();
    sorted.sort_by_key(|amount| amount.last_day);
    let mut by_then = 0;
    let over = sorted.iter().map(|amount| {
        by_then += amount.grams;
        by_then - a_day.saturating_mul(amount.last_day.max(0))
    });
    over.max().unwrap_or(0).max(0)
}

/// Grams of one food that its daily cap does not let people eat in time.
pub fn excess_by_food(amounts: &[Amount], food: usize, cap: i64) -> i64 {
    let own: Vec<Amount> = amounts.iter().filter(|a| a.food == food).copied().collect();
    excess_total(&own, cap)
}

/// Who eats what when.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Cover {
    /// Day, amount (by its index), grams; in order of day, then of the amounts.
    pub eaten: Vec<(i64, usize, i64)>,
    /// Preserving day, amount, grams.
    pub preserved: Vec<(i64, usize, i64)>,
    /// Grams of each amount that are past their last day before they can be eaten.
    pub wasted: Vec<i64>,
    /// Grams of each amount still sound when the plan ends.
    pub left: Vec<i64>,
    /// Grams by which each day falls short of the pace.
    pub short: Vec<i64>,
}

impl Cover {
    pub fn wasted_total(&self) -> i64 {
        self.wasted.iter().sum()
    }

    pub fn left_total(&self) -> i64 {
        self.left.iter().sum()
    }

    pub fn short_total(&self) -> i64 {
        self.short.iter().sum()
    }

    pub fn preserved_total(&self) -> i64 {
        self.preserved.iter().map(|(_, _, grams)| grams).sum()
    }
}

/// Assigns amounts to days: as much as possible is eaten, the soonest to spoil first, and of the
/// rest as much as possible is preserved.
pub fn cover(amounts: &[Amount], pace: &Pace) -> Cover {
    let mut net = Net::new(amounts, pace);
    let mut order: Vec<usize> = (0..amounts.len()).collect();
    order.sort_by_key(|&index| (amounts[index].last_day, index));
    for &index in &order {
        net.route(index);
    }
    net.open_preserving();
    for &index in &order {
        // What cannot be preserved itself may still be eaten in place of something that can.
        if amounts[index].last_day <= pace.days {
            net.route(index);
        }
    }
    net.into_cover()
}

/// A node of the flow network, by number: amounts, then food-days, then days, then slots.
type Node = usize;

struct Edge {
    to: Node,
    /// Grams that may still flow along it.
    room: i64,
}

/// The network amounts -> food-days -> days -> out, with the preserving slots beside the days.
/// Edges stand in pairs: `edge ^ 1` is the way back.
struct Net<'a> {
    amounts: &'a [Amount],
    pace: &'a Pace,
    edges: Vec<Edge>,
    at: Vec<Vec<usize>>,
    supply: Vec<i64>,
    /// Grams that may still leave by each node: only days and slots have any.
    outlet: Vec<i64>,
    /// No way out was found from here; none can appear until new outlets open.
    dead: Vec<bool>,
    days: Vec<Node>,
    slots: Vec<Node>,
}

impl<'a> Net<'a> {
    fn new(amounts: &'a [Amount], pace: &'a Pace) -> Net<'a> {
        let horizon = usize::try_from(pace.days.max(0)).unwrap_or(0);
        let foods = pace.caps.len();
        let food_day = |food: usize, day: usize| amounts.len() + food * horizon + day;
        let first_day = amounts.len() + foods * horizon;
        let first_slot = first_day + horizon;
        let nodes = first_slot + pace.preserving.len();
        let mut net = Net {
            amounts,
            pace,
            edges: Vec::new(),
            at: vec![Vec::new(); nodes],
            supply: amounts.iter().map(|amount| amount.grams.max(0)).collect(),
            outlet: vec![0; nodes],
            dead: vec![false; nodes],
            days: (first_day..first_slot).collect(),
            slots: (first_slot..nodes).collect(),
        };
        for day in 0..horizon {
            net.outlet[first_day + day] = pace.grams.get(day).copied().unwrap_or(0).max(0);
        }
        for (food, cap) in pace.caps.iter().enumerate() {
            for day in 0..horizon {
                net.connect(food_day(food, day), first_day + day, (*cap).max(0));
            }
        }
        for (index, amount) in amounts.iter().enumerate() {
            let last = usize::try_from(amount.last_day.clamp(0, pace.days.max(0))).unwrap_or(0);
            for day in 0..last {
                net.connect(index, food_day(amount.food, day), amount.grams.max(0));
            }
        }
        net
    }

    fn connect(&mut self, from: Node, to: Node, room: i64) {
        self.at[from].push(self.edges.len());
        self.edges.push(Edge { to, room });
        self.at[to].push(self.edges.len());
        self.edges.push(Edge { to: from, room: 0 });
    }

    /// Opens the preserving days for whatever would spoil before the plan ends.
    fn open_preserving(&mut self) {
        for (slot, &(day, grams)) in self.pace.preserving.iter().enumerate() {
            let node = self.slots[slot];
            self.outlet[node] = grams.max(0);
            for (index, amount) in self.amounts.iter().enumerate() {
                let spoils = amount.last_day <= self.pace.days;
                if amount.keeps && spoils && day <= amount.last_day {
                    self.connect(index, node, amount.grams.max(0));
                }
            }
        }
        self.dead.fill(false);
    }

    /// Sends as much of an amount as can go, rerouting others where that makes room.
    fn route(&mut self, amount: usize) {
        while self.supply[amount] > 0 {
            let Some(path) = self.way_out(amount) else { return };
            let end = path.last().map_or(amount, |&edge| self.edges[edge].to);
            let room = path.iter().map(|&edge| self.edges[edge].room);
            let grams = room.fold(self.supply[amount].min(self.outlet[end]), i64::min);
            for edge in path {
                self.edges[edge].room -= grams;
                self.edges[edge ^ 1].room += grams;
            }
            self.supply[amount] -= grams;
            self.outlet[end] -= grams;
        }
    }

    /// The shortest way from an amount to a node with an outlet, as edges; earlier days first.
    fn way_out(&mut self, from: Node) -> Option<Vec<usize>> {
        let mut came_by: Vec<Option<usize>> = vec![None; self.at.len()];
        let mut seen = vec![false; self.at.len()];
        let mut queue = VecDeque::from([from]);
        seen[from] = true;
        while let Some(node) = queue.pop_front() {
            if self.outlet[node] > 0 {
                let mut path = Vec::new();
                let mut here = node;
                while let Some(edge) = came_by[here] {
                    path.push(edge);
                    here = self.edges[edge ^ 1].to;
                }
                path.reverse();
                return Some(path);
            }
            for &edge in &self.at[node] {
                let Edge { to, room } = self.edges[edge];
                if room > 0 && !seen[to] && !self.dead[to] {
                    seen[to] = true;
                    came_by[to] = Some(edge);
                    queue.push_back(to);
                }
            }
        }
        // Whatever was reached has no way out, and no later flow can open one: all of it is dead.
        for (dead, seen) in self.dead.iter_mut().zip(&seen) {
            *dead |= seen;
        }
        None
    }

    fn into_cover(self) -> Cover {
        let mut cover = Cover::default();
        let horizon = self.days.len();
        let first_food_day = self.amounts.len();
        for index in 0..self.amounts.len() {
            for &edge in &self.at[index] {
                // Only the way back of a used edge has room here.
                let (to, grams) = (self.edges[edge].to, self.edges[edge ^ 1].room);
                if grams == 0 {
                    continue;
                }
                if let Some(slot) = self.slots.iter().position(|&node| node == to) {
                    cover.preserved.push((self.pace.preserving[slot].0, index, grams));
                } else {
                    let day = (to - first_food_day) % horizon;
                    cover.eaten.push((day as i64 + 1, index, grams));
                }
            }
        }
        cover.eaten.sort_unstable();
        cover.preserved.sort_unstable();
        let spoils = |index: usize| self.amounts[index].last_day <= self.pace.days;
        let rest = |wanted: bool| {
            let amounts = self.supply.iter().enumerate();
            amounts.map(|(i, grams)| if spoils(i) == wanted { *grams } else { 0 }).collect()
        };
        cover.wasted = rest(true);
        cover.left = rest(false);
        cover.short = self.days.iter().map(|&day| self.outlet[day]).collect();
        cover
    }
}
