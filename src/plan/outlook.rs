//! One household's plan at one moment: what everything under `plan` that speaks starts from.

use std::collections::BTreeMap;

use super::view::{Held, held};
use crate::dates::{Instant, KitchenDay, Zone};
use crate::keeping::{Keeper, Learned};
use crate::kitchen::{Foods, LotId, State};
use crate::rules::Rules;
use crate::wording::Wording;

/// A household's lots, judged at one moment, with the words to speak of them.
pub struct Outlook<'a> {
    pub state: &'a State,
    pub keeper: Keeper<'a>,
    pub foods: &'a dyn Foods,
    pub wording: &'a Wording,
    pub now: Instant,
    pub today: KitchenDay,
    /// Every lot, in use-first order.
    pub held: Vec<Held<'a>>,
}

/// What the household runs on besides its state.
#[derive(Clone, Copy)]
pub struct Grounds<'a> {
    pub rules: &'a Rules,
    pub foods: &'a dyn Foods,
    pub learned: &'a Learned,
    pub wording: &'a Wording,
}

/// What the posts have already said, kept by the conversation.
#[derive(Clone, Copy)]
pub struct Said<'a> {
    /// Lots asked about, or named as out, with the day.
    pub asked: &'a BTreeMap<LotId, KitchenDay>,
    /// Lots listed as pressing, with the first day of it.
    pub listed: &'a BTreeMap<LotId, KitchenDay>,
}

impl<'a> Outlook<'a> {
    pub fn new(state: &'a State, grounds: Grounds<'a>, now: Instant) -> Outlook<'a> {
        let keeper = Keeper::new(state, grounds.rules, grounds.learned);
        let held = held(state, &keeper, now);
        let today = now.day(state.settings.zone);
        let Grounds { foods, wording, .. } = grounds;
        Outlook { state, keeper, foods, wording, now, today, held }
    }

    pub fn zone(&self) -> Zone {
        self.state.settings.zone
    }

    /// A lot with its amount, in words.
    pub fn say(&self, held: &Held<'_>) -> String {
        self.wording.lot(held.lot, self.foods)
    }

    /// A day in words, as said today.
    pub fn say_day(&self, day: KitchenDay) -> String {
        self.wording.day(day, self.today)
    }

    /// Whether the household is away on `day`.
    pub fn is_away(&self, day: KitchenDay) -> bool {
        self.state.away.iter().any(|(first, last)| *first <= day && day <= *last)
    }
}
