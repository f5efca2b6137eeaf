//! The people: what they write, edit, press, and how their group moves.

use std::collections::BTreeMap;

use larderling::channel::{Arrival, Arrived, ChatKey, Spoken, Writer};
use larderling::dates::{Instant, KitchenDay, Zone};
use larderling::keeping::{Keeper, Learned};
use larderling::kitchen::{Event, State, What};
use larderling::rules::Rules;
use larderling::store::HouseholdId;

use super::platform::Shown;
use crate::kill::Dice;

/// A food of each household that no rule set and no other household knows.
const OWN_WORDS: [&str; 2] = ["quillop", "vastrin"];

/// What people write; `N` is a number, `F` a food.
const LINES: [&str; 34] = [
    "got N F",
    "got N F",
    "bought N F and N F",
    "used N F",
    "ate N F",
    "finished the F",
    "used half the F",
    "tossed the F, slimy",
    "composted N F",
    "gave N F to next door",
    "froze N F",
    "cut up the F, in water",
    "changed the water",
    "moved the F to the fridge",
    "moved the F to the counter",
    "opened the F",
    "took the F out of the freezer",
    "made bean stew, 6 portions, with N F",
    "left the bean stew out overnight",
    "fridge was off 5 hours",
    "we have N F",
    "that's everything in the fridge: N F, N F",
    "all put away",
    "undo",
    "no, N F",
    "larderling, what's first?",
    "larderling, what do we have?",
    "larderling, how long do F keep?",
    "larderling, can you eat rhubarb leaves?",
    "larderling, plan until friday",
    "need N F",
    "see you at six",
    "lol",
    "larderling, how are we doing this month?",
];

const FOODS: [&str; 14] = [
    "carrots",
    "leeks",
    "eggs",
    "apples",
    "milk",
    "spinach",
    "cooked rice",
    "mince",
    "asparagus",
    "basil",
    "potatoes",
    "strawberries",
    "chicken",
    "beans",
];

/// A purchase that must be found in the log.
pub struct Told {
    pub external: String,
    pub words: String,
}

pub struct Kitchen {
    pub household: HouseholdId,
    pub home: ChatKey,
    /// Every chat that was ever its home.
    pub chats: Vec<ChatKey>,
    pub zone: Zone,
    pub founded: KitchenDay,
    pub bought: Vec<Told>,
    number: usize,
    next_message: u64,
    last: Option<Spoken>,
    limits: BTreeMap<(u64, String), Instant>,
    events_seen: usize,
}

impl Kitchen {
    pub fn new(
        number: usize,
        household: HouseholdId,
        home: ChatKey,
        zone: Zone,
        now: Instant,
    ) -> Kitchen {
        Kitchen {
            household,
            chats: vec![home.clone()],
            home,
            zone,
            founded: now.day(zone),
            bought: Vec::new(),
            number,
            next_message: 1,
            last: None,
            limits: BTreeMap::new(),
            events_seen: 0,
        }
    }

    pub fn own_word(&self) -> &'static str {
        OWN_WORDS[self.number]
    }

    /// What happens in this household's chat next.
    pub fn next(&mut self, dice: &mut Dice, at: Instant, shown: &[Shown]) -> Vec<Arrival> {
        let from = Writer { external: (1 + dice.below(3)).to_string(), name: "Someone".to_owned() };
        let chat = self.home.clone();
        let context = larderling::channel::Context::of_equals();
        let arrival =
            |what| Arrival { chat: chat.clone(), update: None, at, what, context: context.clone() };
        match dice.below(40) {
            0..3 if self.last.is_some() => {
                let mut message = self.last.clone().expect("just looked");
                message.text = self.line(dice);
                vec![arrival(Arrived::Edited { from, message })]
            }
            3..10 => {
                let pressed = shown.iter().rev().find(|shown| !shown.keys.is_empty());
                let Some(pressed) = pressed else { return Vec::new() };
                let key = pressed.keys
                    [usize::try_from(dice.below(pressed.keys.len() as u64)).unwrap()]
                .clone();
                let on = pressed.external.clone();
                let press = Arrived::Pressed { from, on, key, private: false, query: None };
                vec![arrival(press)]
            }
            10 => {
                let to = ChatKey::new(chat.channel, format!("{}0", chat.chat));
                self.chats.push(to.clone());
                self.home = to.clone();
                self.last = None;
                vec![arrival(Arrived::Moved { to })]
            }
            11..15 => {
                // A burst of purchases, each in words of its own.
                (0..1 + dice.below(3))
                    .map(|_| {
                        let grams = 100 + self.next_message;
                        let words = format!("got {grams} g {}", self.own_word());
                        let message = self.spoken(&words);
                        let external = message.external.clone().expect("just made");
                        self.bought.push(Told { external, words });
                        arrival(Arrived::Said { from: from.clone(), message })
                    })
                    .collect()
            }
            _ => {
                let words = self.line(dice);
                let message = self.spoken(&words);
                self.last = Some(message.clone());
                vec![arrival(Arrived::Said { from, message })]
            }
        }
    }

    fn spoken(&mut self, words: &str) -> Spoken {
        let external = Some(self.next_message.to_string());
        self.next_message += 1;
        Spoken {
            external,
            text: words.to_owned(),
            reply_to: None,
            private: false,
            addressed: false,
        }
    }

    fn line(&self, dice: &mut Dice) -> String {
        let line = LINES[usize::try_from(dice.below(LINES.len() as u64)).unwrap()];
        let mut text = String::new();
        for letter in line.chars() {
            match letter {
                'N' => text.push_str(&(1 + dice.below(9)).to_string()),
                'F' => {
                    let place = usize::try_from(dice.below(FOODS.len() as u64 + 1)).unwrap();
                    text.push_str(FOODS.get(place).copied().unwrap_or(self.own_word()));
                }
                letter => text.push(letter),
            }
        }
        text
    }

    /// No safety limit moves later while a lot stays in its form, unless somebody took something
    /// back.
    pub fn check_limits(&mut self, rules: &Rules, state: &State, log: &[Event], now: Instant) {
        let taken_back = log[self.events_seen..]
            .iter()
            .any(|event| event.replaces.is_some() || matches!(event.what, What::Undone { .. }));
        self.events_seen = log.len();
        let learned = Learned::default();
        let keeper = Keeper::new(state, rules, &learned);
        let mut limits = BTreeMap::new();
        for lot in &state.lots {
            let estimate = keeper.estimate(lot, now);
            let day =
                estimate.safety_day.map(|day| day.plus(1).at(chrono::NaiveTime::MIN, self.zone));
            let Some(limit) = day.into_iter().chain(estimate.safety_at).min() else { continue };
            let key = (lot.id.0, format!("{:?}", lot.form));
            if let Some(before) = self.limits.get(&key).filter(|_| !taken_back) {
                assert!(
                    limit <= *before,
                    "the limit of {lot:?} went from {} to {}",
                    before.wall(self.zone),
                    limit.wall(self.zone)
                );
            }
            limits.insert(key, limit);
        }
        self.limits = limits;
    }
}
