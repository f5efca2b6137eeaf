//! The shopping list, trips, absences and settings.

use super::choose::Purpose;
use super::*;
use crate::statement::{ON_IT, SPOKEN_FOR};

/// Most people at one table.
const EATERS_MAX: u32 = 500;
/// How far ahead a plan may reach, in days.
const DAYS_AHEAD_MAX: i64 = 400;

impl Deciding<'_> {
    pub(super) fn wanted(&mut self) {
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let of = self.named(item);
            if of.name.is_empty() {
                continue;
            }
            match read_amount(item, self.food(item), Amount::Vague) {
                Ok(read) => {
                    let quantity = match read.amount {
                        Amount::Exact(quantity) => Some(quantity),
                        Amount::Share(_) | Amount::Vague => None,
                    };
                    lines.push(Line::new(of.clone(), Form::Whole, read.spoken));
                    self.happened(What::Wanted { of, quantity });
                }
                Err(trouble) => self.trouble(trouble),
            }
        }
        if !lines.is_empty() {
            self.told(Deed::Wanted, lines);
        }
    }

    pub(super) fn unwanted(&mut self) {
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let of = self.named(item);
            if self.state.wanted.iter().any(|line| line.of.key() == of.key()) {
                lines.push(Line::new(of.clone(), Form::Whole, Spoken::Plain));
                self.happened(What::Unwanted { of });
            } else {
                self.trouble(Trouble::NotOnRecord { name: of.name });
            }
        }
        if !lines.is_empty() {
            self.told(Deed::Unwanted, lines);
        }
    }

    pub(super) fn trip_total(&mut self) {
        let Some(total) = self.statement.total else {
            return self.trouble(Trouble::NoFood);
        };
        if !(0..=MINOR_MAX).contains(&total.0) {
            return self.trouble(Trouble::PriceTooHigh);
        }
        self.happened(What::TripTotal { total, charges: Vec::new() });
        let open = self.state.trips.last().filter(|trip| trip.closes(total, self.day));
        let itemised = open.map_or(crate::units::Minor(0), |trip| trip.itemised);
        self.told(Deed::TripTotal { total, itemised, charges: Vec::new() }, Vec::new());
    }

    pub(super) fn trip_planned(&mut self) {
        let Some(on) = self.statement.until.or(self.statement.day) else {
            return self.trouble(Trouble::NoFood);
        };
        if let Some(on) = self.ahead(on) {
            self.happened(What::TripPlanned { on });
            self.told(Deed::TripPlanned { on }, Vec::new());
        }
    }

    pub(super) fn away(&mut self) {
        let from = self.statement.day.unwrap_or(self.day);
        let until = self.statement.until.unwrap_or(from);
        let Some(until) = self.ahead(until.max(from)) else { return };
        self.out.events.push(Happened { day: from, replaces: None, what: What::Away { until } });
        let from = Some(from).filter(|from| *from > self.cx.today);
        self.told(Deed::Away { from, until }, Vec::new());
    }

    pub(super) fn eaters(&mut self) {
        let Some(people) = self.statement.people.filter(|people| *people <= EATERS_MAX) else {
            return self.trouble(Trouble::NoFood);
        };
        if let Some(on) = self.ahead(self.statement.day.unwrap_or(self.day)) {
            self.happened(What::Eaters { on, people });
            self.told(Deed::Eaters { on, people }, Vec::new());
        }
    }

    /// "The cauliflower is for tonight": it leaves the post until that day is over.
    fn spoken_for(&mut self) {
        let Some(on) = self.ahead(self.statement.day.unwrap_or(self.cx.today)) else { return };
        let mut lines = Vec::new();
        for item in &self.statement.items {
            let of = self.named(item);
            let lots = self.candidates(item, &of, Purpose::Change);
            if lots.is_empty() {
                continue;
            }
            lines.push(Line::new(of, Form::Whole, Spoken::Plain));
            self.happened(What::SpokenFor { lots, on });
        }
        if !lines.is_empty() {
            self.told(Deed::SpokenFor { on }, lines);
        }
    }

    /// A day to plan for: not past, and not absurdly far.
    fn ahead(&mut self, on: KitchenDay) -> Option<KitchenDay> {
        let ahead = on.days_since(self.cx.today);
        if ahead < 0 {
            self.trouble(Trouble::TooLongAgo { day: on });
        } else if ahead > DAYS_AHEAD_MAX {
            self.trouble(Trouble::InTheFuture { day: on });
        } else {
            return Some(on);
        }
        None
    }

    pub(super) fn setting(&mut self) {
        let Some((key, value)) = self.statement.setting.clone() else {
            return self.trouble(Trouble::NoFood);
        };
        match key.as_str() {
            SPOKEN_FOR => return self.spoken_for(),
            // A word between people: the conversation remembers it.
            ON_IT => return,
            _ => {}
        }
        match self.state.settings.clone().set(&key, &value, self.day) {
            Ok(()) => {
                self.happened(What::SettingChanged { key: key.clone(), value: value.clone() });
                self.told(Deed::Setting { key, value }, Vec::new());
            }
            Err(error) => self.trouble(Trouble::Setting(error)),
        }
    }
}
