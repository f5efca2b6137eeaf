//! One household's plan at one moment: what everything under `plan` that speaks starts from.

use std::collections::BTreeMap;

use super::pace::Appetite;
use super::view::{Held, held};
use crate::conversation::Shown;
use crate::dates::{Instant, KitchenDay, Zone};
use crate::keeping::{Keeper, Learned};
use crate::kitchen::{Event, Foods, LotId, State};
use crate::rules::Rules;
use crate::wording::Wording;
use crate::words::FoodId;

/// A household's lots, judged at one moment, with the words to speak of them.
pub struct Outlook<'a> {
    pub state: &'a State,
    pub keeper: Keeper<'a>,
    pub foods: &'a dyn Foods,
    pub wording: &'a Wording,
    pub now: Instant,
    pub today: KitchenDay,
    /// The household's log, oldest first, without the events of the message being answered.
    pub log: &'a [Event],
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
    pub log: &'a [Event],
}

/// What the posts have already said of each lot, kept by the conversation.
pub type Said = BTreeMap<LotId, Shown>;

impl<'a> Outlook<'a> {
    pub fn new(state: &'a State, grounds: Grounds<'a>, now: Instant) -> Outlook<'a> {
        let keeper = Keeper::new(state, grounds.rules, grounds.learned);
        let held = held(state, &keeper, now);
        let today = now.day(state.settings.zone);
        let Grounds { foods, wording, log, .. } = grounds;
        Outlook { state, keeper, foods, wording, now, today, log, held }
    }

    pub fn zone(&self) -> Zone {
        self.state.settings.zone
    }

    /// A lot with its amount, in words.
    pub fn say(&self, held: &Held<'_>) -> String {
        self.wording.lot(held.lot, self.foods)
    }

    /// What the household calls a food it has, by its key in the ledger.
    pub fn called(&self, key: &str) -> String {
        match self.held.iter().find(|held| held.key() == key) {
            Some(held) => self.wording.lot_name(held.lot, self.foods),
            None => {
                let food = self.foods.food(&FoodId::new(key));
                food.map_or_else(|| key.to_owned(), |food| food.plural.clone())
            }
        }
    }

    /// A day in words, as said today.
    pub fn say_day(&self, day: KitchenDay) -> String {
        self.wording.day(day, self.today)
    }

    /// How much the household eats.
    pub fn appetite(&self) -> Appetite {
        Appetite::of(self.state, self.foods, self.today)
    }

    /// Whether the household is away on `day`.
    pub fn is_away(&self, day: KitchenDay) -> bool {
        self.state.away.iter().any(|(first, last)| *first <= day && day <= *last)
    }
}
