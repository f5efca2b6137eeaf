//! The fold: what each event does to the state.
//!
//! Reads no rule set and no clock. Grams never appear or vanish: whatever leaves a lot enters a
//! term of the ledger, and what was not on record comes in under "uncounted".

use super::event::{Amount, Change, Draw, Event, NewLot, Scrap, What};
use super::log;
use super::settings::Settings;
use super::state::{
    Eaten, Limit, Loss, Lot, LotId, Paused, RecentUse, State, Stay, Trip, WEEKS_KEPT, Wanted,
    week_of,
};
use super::taking::{self, Piece, Short};
use crate::dates::{Instant, KitchenDay};
use crate::keeping::learning::Taught;
use crate::ledger::Totals;
use crate::statement::Charge;
use crate::units::{Dimension, Minor, Quantity, Ratio};
use crate::words::{Destination, Form, Place};

/// How many uses are remembered to notice the same one told twice.
const RECENT_USES: usize = 32;
/// How many prices are remembered of one food.
const PRICES_KEPT: usize = 100;
/// Lines that come in so soon after a total was said belong to the shop it was paid for.
const LINES_AFTER_TOTAL_MINUTES: i64 = 60;

impl State {
    /// The state a whole log adds up to.
    pub fn fold(log: &[Event]) -> State {
        let mut state = State::default();
        for event in log::in_force(log) {
            state.apply(event);
        }
        // What was undone still used up its numbers.
        for event in log {
            state.count(event);
        }
        state
    }

    /// The state at the beginning of `day`, as the whole log tells it now: what was mended since
    /// counts as mended.
    pub fn before(log: &[Event], day: KitchenDay) -> State {
        let mut state = State::default();
        for event in log::in_force(log).into_iter().filter(|event| event.day < day) {
            state.apply(event);
        }
        state
    }

    /// Folds in events that were just appended to `log`, which ends with them. The result is
    /// always that of [`State::fold`] over the whole log.
    ///
    /// `log` is only looked at when an event reaches back (an undo or a mended event).
    pub fn advance(&mut self, new: &[Event], log: &[Event]) {
        if new.iter().any(log::reaches_back) {
            *self = State::fold(log);
        } else {
            for event in new {
                self.apply(event);
            }
        }
    }

    /// Folds one event in. An `Undone` only counts its number here: see [`State::advance`].
    pub fn apply(&mut self, event: &Event) {
        self.count(event);
        if event.person.is_some() {
            self.last_heard = self.last_heard.max(Some(event.at.day(self.settings.zone)));
        }
        match &event.what {
            What::Acquired { lots, paid } => self.acquired(event, lots, *paid),
            What::NotReceived { draw } => self.not_received(draw),
            What::PutAway { lots } => self.each(lots, |lot| {
                if !lot.put_away {
                    lot.put_away = true;
                    let place = lot.place.clone();
                    stay(lot, event.at, place);
                }
                see(lot, event.day);
            }),
            What::Moved { change } | What::Opened { change } => {
                self.change(event, change, Joining::Apart);
            }
            What::Prepared { change } | What::PutInWater { change } | What::Thawed { change } => {
                self.change(event, change, Joining::Together);
            }
            What::Preserved { change, weighed } => self.preserved(event, change, *weighed),
            What::Made { from, into } => self.made(event, from, into),
            What::WaterChanged { lots } => self.each(lots, |lot| {
                if let Some(water) = &mut lot.water {
                    water.changed = water.changed.max(event.day);
                }
                see(lot, event.day);
            }),
            What::Used { draw } => {
                let taken = self.out(event, draw, |totals, grams| totals.eaten += grams);
                for (key, eaten) in taken.eaten {
                    self.eat(key, event.day, eaten);
                }
                self.recent_uses.push(RecentUse {
                    at: event.at,
                    by: event.person,
                    key: draw.of.key().to_owned(),
                    quantity: match draw.amount {
                        Amount::Exact(quantity) => Some(quantity),
                        Amount::Share(_) | Amount::Vague => None,
                    },
                });
                let excess = self.recent_uses.len().saturating_sub(RECENT_USES);
                self.recent_uses.drain(..excess);
            }
            What::Given { draw } => {
                self.out(event, draw, |totals, grams| totals.given += grams);
            }
            What::Discarded { draw, to, reason, inedible } => {
                let share = inedible.unwrap_or(Ratio::ZERO);
                // A lot that was another food all along is lost as what it was.
                let held = draw.lots.iter().find_map(|id| self.lot(*id));
                let of = held.map_or_else(|| draw.of.clone(), Lot::named);
                let Out { grams, cost, .. } = self.out(event, draw, |totals, grams| {
                    let parts = taking::part_of(grams, share).clamp(0, grams.max(0));
                    discard(totals, *to, grams - parts, parts);
                });
                self.losses.push(Loss {
                    day: event.day,
                    of,
                    grams,
                    cost,
                    to: *to,
                    reason: reason.clone(),
                });
            }
            What::PartDiscarded { of, grams, to, .. } => {
                let grams = grams.unwrap_or(0);
                self.out_of_eaten(of, grams);
                discard(self.totals(of.key()), *to, 0, grams);
            }
            What::LeftOut { lots, minutes, limit } => self.each(lots, |lot| {
                lot.limits.extend(limit.clone());
                let began = event.at.plus_minutes(-i64::from(*minutes));
                let home = lot.place.clone();
                stay(lot, began, Place::Counter);
                stay(lot, event.at, home);
                see(lot, event.day);
            }),
            What::PlaceFailed { place, since } => {
                self.failed.entry(place.clone()).or_insert(*since);
            }
            What::PlaceRestored { place, out, .. } => {
                self.failed.remove(place);
                for (id, limit) in out {
                    self.each(&[*id], |lot| lot.limits.push(limit.clone()));
                }
            }
            What::ScrapsSaved { scraps } => {
                for scrap in scraps {
                    self.bagged(event, scrap);
                }
            }
            What::BagEmptied { to } => self.empty_bag(|totals, grams, whole| match whole {
                true => discard(totals, *to, grams, 0),
                false => discard(totals, *to, 0, grams),
            }),
            What::StockMade { into } => {
                // What was boiled out is no food any more.
                self.empty_bag(|totals, grams, _| totals.composted_inedible += grams);
                // Water is not food that came in, and the trimmings left with the solids.
                self.begin(event, &NewLot { grams: None, ..into.clone() });
            }
            What::Counted { lots, amount, grams, new } => {
                self.counted(event, lots, *amount, *grams, new);
            }
            What::Uncounted { lots } => {
                for id in lots {
                    if let Some(lot) = self.remove(*id) {
                        self.book(&lot, |totals, grams| totals.uncounted += grams);
                    }
                }
            }
            What::FoundAgain { lot } => {
                if self.begin(event, lot) {
                    self.totals(lot.of.key()).uncounted -= lot.grams.unwrap_or(0);
                }
            }
            What::Seen { lots } => self.each(lots, |lot| see(lot, event.day)),
            What::Doubted { lots } => self.each(lots, |lot| lot.doubtful = true),
            What::SpokenFor { lots, on } => self.each(lots, |lot| {
                lot.spoken_for = Some(*on);
                see(lot, event.day);
            }),
            What::PriceSeen { of, price } => self.price(of.key(), price.clone()),
            What::Wanted { of, quantity } => {
                self.want(event, of, *quantity);
            }
            What::Unwanted { of } => self.wanted.retain(|line| line.of.key() != of.key()),
            What::TripTotal { total, charges } => self.trip_total(event, *total, charges),
            What::TripPlanned { on } => self.next_trip = Some(*on),
            What::Away { until } => self.away.push((event.day, *until)),
            What::Eaters { on, people } => {
                self.eaters.insert(*on, *people);
            }
            What::SettingChanged { key, value } => {
                // Checked when it was recorded; a value this version no longer takes is left out.
                let _ = self.settings.set(key, value, event.day);
                if key == Settings::LEARNING && value == Settings::FORGET {
                    self.taught = Taught::default();
                }
            }
            What::Ended { cases } => {
                for case in cases {
                    self.taught.add(case);
                }
            }
            What::Undone { .. } => {}
        }
    }

    fn count(&mut self, event: &Event) {
        self.last_event = self.last_event.max(event.id.0);
        for LotId(number) in event.what.new_lots() {
            self.next_lot = self.next_lot.max(number.saturating_add(1));
        }
    }

    fn totals(&mut self, key: &str) -> &mut Totals {
        self.ledger.entry(key.to_owned()).or_default()
    }

    fn each(&mut self, lots: &[LotId], mut act: impl FnMut(&mut Lot)) {
        self.lots.iter_mut().filter(|lot| lots.contains(&lot.id)).for_each(&mut act);
    }

    fn remove(&mut self, id: LotId) -> Option<Lot> {
        let at = self.lots.iter().position(|lot| lot.id == id)?;
        Some(self.lots.remove(at))
    }

    /// Puts a lot into the house, keeping the order of numbers.
    fn keep(&mut self, lot: Lot) {
        let at = self.lots.partition_point(|other| other.id < lot.id);
        self.lots.insert(at, lot);
    }

    /// Books what a lot weighs, food by food.
    fn book(&mut self, lot: &Lot, book: impl Fn(&mut Totals, i64)) {
        if lot.contents.is_empty() {
            let grams = lot.grams.unwrap_or(0);
            book(self.totals(lot.key()), grams);
        } else {
            for (key, grams) in &lot.contents {
                book(self.totals(key), *grams);
            }
        }
    }

    /// Makes a lot of its beginning, without booking its grams; false when there is nothing to
    /// make.
    fn begin(&mut self, event: &Event, new: &NewLot) -> bool {
        let nothing = new.quantity.is_some_and(|quantity| !quantity.value.is_positive());
        if nothing || self.lot(new.lot).is_some() {
            return false;
        }
        // The freezer is where frozen food goes first; everything else waits on the counter.
        let waits = !new.put_away && new.form != Form::Frozen;
        let first = if waits { Place::Counter } else { new.place.clone() };
        self.keep(Lot {
            id: new.lot,
            food: new.of.food.clone(),
            name: new.of.name.clone(),
            part: new.of.part.clone(),
            form: new.form,
            place: new.place.clone(),
            quantity: new.quantity,
            grams: new.grams,
            cost: new.cost,
            since: event.day,
            put_away: new.put_away,
            stays: vec![Stay { from: new.from, form: new.form, place: first }],
            limits: new.limits.clone(),
            printed: new.printed,
            water: None,
            last_seen: event.day,
            doubtful: false,
            spoken_for: None,
            from: event.message,
            by: event.person,
            contents: Default::default(),
            paused: Vec::new(),
            began: new.grams,
        });
        true
    }

    fn acquired(&mut self, event: &Event, lots: &[NewLot], paid: Option<Minor>) {
        for new in lots {
            if !self.begin(event, new) {
                continue;
            }
            self.totals(new.of.key()).came_in += new.grams.unwrap_or(0);
            self.wanted.retain(|line| line.of.key() != new.of.key());
            if let Some(minor) = new.cost {
                let price = super::event::PriceSeen {
                    day: event.day,
                    minor,
                    quantity: new.quantity,
                    grams: new.grams,
                };
                self.price(new.of.key(), price);
            }
        }
        if let Some(paid) = paid {
            self.paid(event, paid);
            self.next_trip = self.next_trip.filter(|day| *day > event.day);
        }
    }

    /// Puts a line on the shopping list. The same person's own line gives way to the new one; of
    /// two people who want the same food the larger amount stands, and amounts that cannot be
    /// compared both stay.
    fn want(&mut self, event: &Event, of: &super::event::Named, quantity: Option<Quantity>) {
        let mut quantity = quantity;
        self.wanted.retain(|line| {
            if line.of.key() != of.key() {
                return true;
            }
            match (line.quantity, quantity) {
                (None, _) => false,
                (held, None) => {
                    quantity = held;
                    false
                }
                _ if line.by == event.person => false,
                (Some(held), Some(new)) => match held.to_unit(new.unit) {
                    Some(alike) => {
                        quantity = Some(if alike.value > new.value { held } else { new });
                        false
                    }
                    None => true,
                },
            }
        });
        self.wanted.push(Wanted { of: of.clone(), quantity, by: event.person, since: event.day });
    }

    /// Puts scraps into the bag: trimmings of what was eaten, or whole food out of its lots.
    fn bagged(&mut self, event: &Event, scrap: &Scrap) {
        let mut scrap = scrap.clone();
        match &scrap.draw {
            Some(draw) => {
                // Lots of this food alone: the bag knows no mixtures.
                let plain = |id: &LotId| {
                    let lot = self.lot(*id);
                    lot.is_some_and(|lot| lot.contents.is_empty() && lot.key() == draw.of.key())
                };
                let lots = draw.lots.iter().copied().filter(plain).collect();
                let draw = Draw { lots, ..draw.clone() };
                let grams = self.out(event, &draw, |totals, grams| totals.scraps += grams).grams;
                scrap.grams = grams;
            }
            None => {
                let grams = scrap.grams.unwrap_or(0);
                self.out_of_eaten(&scrap.of, grams);
                self.totals(scrap.of.key()).scraps += grams;
            }
        }
        self.trimmings.push(scrap);
    }

    /// The scraps leave the kitchen at the weight they had when they were bagged; `book` is told
    /// whether they were whole food.
    fn empty_bag(&mut self, book: impl Fn(&mut Totals, i64, bool)) {
        for Scrap { of, grams, draw, .. } in std::mem::take(&mut self.trimmings) {
            let grams = grams.unwrap_or(0);
            let totals = self.totals(of.key());
            totals.scraps -= grams;
            book(totals, grams, draw.is_some());
        }
    }

    /// Trimmings come out of what was eaten so far; beyond that nobody recorded where they came
    /// from. Scraps of everything together come out of what was eaten of everything.
    fn out_of_eaten(&mut self, of: &super::event::Named, grams: i64) {
        let all = of.is_mixed_scraps();
        let house = crate::ledger::house_totals(self).eaten;
        let totals = self.totals(of.key());
        let known = if all { house } else { totals.eaten };
        let eaten = grams.min(known.max(0));
        totals.eaten -= eaten;
        totals.uncounted -= grams - eaten;
    }

    fn price(&mut self, key: &str, price: super::event::PriceSeen) {
        let prices = self.prices.entry(key.to_owned()).or_default();
        prices.push(price);
        let excess = prices.len().saturating_sub(PRICES_KEPT);
        prices.drain(..excess);
    }

    /// Adds the price of a line to the shop it belongs to.
    fn paid(&mut self, event: &Event, paid: Minor) {
        let add = |a: Minor| Minor(a.0.saturating_add(paid.0));
        if let Some(trip) = self.trips.last_mut().filter(|trip| trip.day == event.day) {
            let covered = match trip.total {
                None => true,
                Some(total) => {
                    event.at.minutes_since(trip.last_at) <= LINES_AFTER_TOTAL_MINUTES
                        && add(trip.itemised) <= total
                }
            };
            if covered {
                trip.itemised = add(trip.itemised);
                trip.last_at = event.at;
                return;
            }
        }
        self.trips.push(Trip {
            day: event.day,
            last_at: event.at,
            itemised: paid,
            total: None,
            charges: Vec::new(),
        });
    }

    /// A total closes the shop of its day or the day before; a second one is a second shop, unless
    /// it is the same sum told again with its lines.
    fn trip_total(&mut self, event: &Event, total: Minor, charges: &[Charge]) {
        let again = |trip: &Trip| {
            trip.total == Some(total)
                && trip.day == event.day
                && event.at.minutes_since(trip.last_at) <= LINES_AFTER_TOTAL_MINUTES
                && !charges.is_empty()
        };
        match self.trips.last_mut() {
            Some(trip) if trip.closes(total, event.day) || again(trip) => {
                trip.total = Some(total);
                trip.charges.extend_from_slice(charges);
                trip.last_at = event.at;
            }
            _ => self.trips.push(Trip {
                day: event.day,
                last_at: event.at,
                itemised: Minor(0),
                total: Some(total),
                charges: charges.to_vec(),
            }),
        }
        self.next_trip = self.next_trip.filter(|day| *day > event.day);
    }

    fn not_received(&mut self, draw: &Draw) {
        for Piece { lot, .. } in taking::take(self, draw).pieces {
            self.book(&lot, |totals, grams| totals.came_in -= grams);
            let trip = self.trips.iter_mut().rev().find(|trip| trip.day == lot.since);
            if let (Some(trip), Some(cost)) = (trip, lot.cost) {
                for sum in std::iter::once(&mut trip.itemised).chain(&mut trip.total) {
                    *sum = Minor(sum.0.saturating_sub(cost.0).max(0));
                }
            }
        }
    }

    /// Remembers what was eaten in its week, and forgets weeks long past.
    fn eat(&mut self, key: String, day: KitchenDay, eaten: Eaten) {
        let week = week_of(day);
        let own = self.eaten.entry(key).or_default();
        let new = !own.contains_key(&week);
        let sum = own.entry(week).or_default();
        sum.grams = sum.grams.saturating_add(eaten.grams);
        sum.milli_pieces = sum.milli_pieces.saturating_add(eaten.milli_pieces);
        sum.millilitres = sum.millilitres.saturating_add(eaten.millilitres);
        if new {
            let newest = self.eaten.values().filter_map(|weeks| weeks.keys().next_back()).max();
            let first = newest.map_or(week, |newest| newest - WEEKS_KEPT + 1);
            for weeks in self.eaten.values_mut() {
                *weeks = weeks.split_off(&first);
            }
            self.eaten.retain(|_, weeks| !weeks.is_empty());
        }
    }

    /// Takes a draw out of the house and books it.
    fn out(&mut self, event: &Event, draw: &Draw, book: impl Fn(&mut Totals, i64)) -> Out {
        let taken = taking::take(self, draw);
        let mut out = Out::default();
        let mut cost = None;
        for Piece { lot, .. } in &taken.pieces {
            self.book(lot, &book);
            out.grams = sum(out.grams, lot.grams);
            cost = sum(cost, lot.cost.map(|cost| cost.0));
            if lot.contents.is_empty() {
                out.eaten.push((lot.key().to_owned(), eaten(lot.grams, lot.quantity)));
            }
            let contents = lot.contents.iter();
            out.eaten.extend(contents.map(|(key, g)| (key.clone(), eaten(Some(*g), None))));
        }
        if let Some(found) = taken.short.grams {
            let totals = self.totals(draw.of.key());
            totals.uncounted -= found;
            book(totals, found);
            out.grams = sum(out.grams, Some(found));
        }
        if !taken.short.is_nothing() {
            let short = eaten(taken.short.grams, taken.short.quantity);
            out.eaten.push((draw.of.key().to_owned(), short));
        }
        self.each(&taken.sources(), |lot| see(lot, event.day));
        Out { cost: cost.map(Minor), ..out }
    }

    /// Turns what a draw takes into lots in another form or place. Returns their numbers.
    fn change(&mut self, event: &Event, change: &Change, joining: Joining) -> Vec<LotId> {
        let taken = taking::take(self, &change.draw);
        self.each(&taken.sources(), |lot| see(lot, event.day));
        let mut lots: Vec<Lot> = taken
            .pieces
            .into_iter()
            .map(|Piece { mut lot, whole, index }| {
                let piece = change.pieces.get(index).copied();
                lot.id = piece.filter(|_| !whole).unwrap_or(lot.id);
                lot
            })
            .collect();
        self.add_what_was_not_on_record(event, change, taken.short, &mut lots);
        for lot in &mut lots {
            reshape(lot, event, change);
        }
        if joining == Joining::Together
            && let Some(joined) = lots.drain(..).reduce(join)
        {
            lots.push(joined);
        }
        if let (Some(counted), [lot]) = (change.counted, lots.as_mut_slice()) {
            lot.quantity = Some(counted);
        }
        let numbers = lots.iter().map(|lot| lot.id).collect();
        lots.into_iter().for_each(|lot| self.keep(lot));
        numbers
    }

    fn add_what_was_not_on_record(
        &mut self,
        event: &Event,
        change: &Change,
        short: Short,
        lots: &mut Vec<Lot>,
    ) {
        let zero = matches!(change.draw.amount, Amount::Exact(q) if !q.value.is_positive());
        if zero || (short.is_nothing() && !lots.is_empty()) {
            return;
        }
        let of = &change.draw.of;
        let grams = short.grams.unwrap_or(0);
        // The weight of an amount drawn from a lot of unknown amount.
        if let (None, Some(lot)) = (short.quantity, lots.last_mut()) {
            self.totals(lot.key()).uncounted -= grams;
            if !lot.contents.is_empty() {
                *lot.contents.entry(lot.key().to_owned()).or_default() += grams;
            }
            lot.grams = sum(lot.grams, short.grams);
            return;
        }
        self.totals(of.key()).uncounted -= grams;
        let Some(id) = change.pieces.last().copied() else { return };
        let form = change.form.unwrap_or(Form::Whole);
        let place = change.place.clone().unwrap_or(Place::Counter);
        lots.push(Lot {
            id,
            food: of.food.clone(),
            name: of.name.clone(),
            part: of.part.clone(),
            form,
            place: place.clone(),
            quantity: short.quantity,
            grams: short.grams,
            cost: None,
            since: event.day,
            put_away: true,
            stays: vec![Stay { from: change.from, form, place }],
            limits: Vec::new(),
            printed: None,
            water: None,
            last_seen: event.day,
            doubtful: false,
            spoken_for: None,
            from: event.message,
            by: event.person,
            contents: Default::default(),
            paused: Vec::new(),
            began: short.grams,
        });
    }

    fn preserved(&mut self, event: &Event, change: &Change, weighed: Option<i64>) {
        for id in self.change(event, change, Joining::Together) {
            let Some(mut lot) = self.remove(id) else { continue };
            if let (Some(after), true) = (weighed, lot.contents.is_empty()) {
                let totals = self.totals(lot.key());
                match lot.grams {
                    Some(before) if before >= after => totals.moisture += before - after,
                    Some(before) => totals.uncounted -= after - before,
                    None => totals.uncounted -= after,
                }
                lot.grams = Some(after);
            }
            self.book(&lot, |totals, grams| totals.preserved += grams);
            self.keep(lot);
        }
    }

    fn made(&mut self, event: &Event, from: &[Draw], into: &NewLot) {
        let mut contents = std::collections::BTreeMap::<String, i64>::new();
        let mut cost = None;
        let mut limits = into.limits.clone();
        for draw in from {
            let taken = taking::take(self, draw);
            let touched = taken.sources();
            for Piece { lot, .. } in taken.pieces {
                if lot.contents.is_empty() {
                    *contents.entry(lot.key().to_owned()).or_default() += lot.grams.unwrap_or(0);
                }
                for (key, grams) in &lot.contents {
                    *contents.entry(key.clone()).or_default() += grams;
                }
                cost = sum(cost, lot.cost.map(|cost| cost.0));
                limits.extend(carried_into_cooked(&lot, event));
            }
            if let Some(found) = taken.short.grams {
                self.totals(draw.of.key()).uncounted -= found;
                *contents.entry(draw.of.key().to_owned()).or_default() += found;
            }
            self.each(&touched, |lot| see(lot, event.day));
        }
        contents.retain(|_, grams| *grams != 0);
        let quantity = into.quantity.filter(|quantity| quantity.value.is_positive());
        let grams = (!contents.is_empty()).then(|| contents.values().sum());
        if !self.begin(event, &NewLot { quantity, grams, limits, ..into.clone() }) {
            for (key, grams) in contents {
                self.totals(&key).uncounted += grams;
            }
            return;
        }
        self.each(&[into.lot], |lot| {
            lot.contents.clone_from(&contents);
            lot.cost = cost.map(Minor);
        });
    }

    fn counted(
        &mut self,
        event: &Event,
        lots: &[LotId],
        amount: Amount,
        grams: Option<i64>,
        new: &NewLot,
    ) {
        let here: Vec<LotId> = lots.iter().copied().filter(|id| self.lot(*id).is_some()).collect();
        let Amount::Exact(quantity) = amount else {
            // "Some": whatever is on record stays as it was, seen today.
            if here.is_empty() && self.begin(event, new) {
                self.first_or_found(new.of.key(), new.grams.unwrap_or(0));
            }
            self.each(&here, |lot| see(lot, event.day));
            return;
        };
        if here.is_empty() {
            if quantity.value.is_positive() && self.begin(event, new) {
                self.first_or_found(new.of.key(), new.grams.unwrap_or(0));
            }
            return;
        }
        self.set_to(event, &here, quantity, grams);
    }

    /// Makes these lots hold `quantity` together. What is too much leaves the lots that are drawn
    /// first; what is missing from the record joins the last.
    fn set_to(&mut self, event: &Event, lots: &[LotId], quantity: Quantity, grams: Option<i64>) {
        let held = lots
            .iter()
            .filter_map(|id| self.lot(*id))
            .map(|lot| lot.quantity)
            .reduce(|sum, next| sum.zip(next).and_then(|(sum, next)| sum.checked_add(next)));
        let alike = held.flatten().and_then(|held| held.to_unit(quantity.unit));
        let excess = alike.and_then(|held| held.value.checked_sub(quantity.value));
        match excess {
            Some(excess) if excess.is_positive() && quantity.value.is_positive() => {
                let draw = Draw {
                    of: super::event::Named { food: None, name: String::new(), part: None },
                    lots: lots.to_vec(),
                    amount: Amount::Exact(Quantity::new(excess, quantity.unit)),
                    grams: None,
                };
                for Piece { lot, .. } in taking::take(self, &draw).pieces {
                    self.book(&lot, |totals, grams| totals.uncounted += grams);
                }
                self.each(lots, |lot| see(lot, event.day));
            }
            Some(excess) if excess.is_zero() => self.each(lots, |lot| see(lot, event.day)),
            Some(excess) if !excess.is_positive() && quantity.value.is_positive() => {
                let missing = Ratio::ZERO.checked_sub(excess).unwrap_or(Ratio::ZERO);
                self.raise(lots, Quantity::new(missing, quantity.unit), quantity, grams);
                self.each(lots, |lot| see(lot, event.day));
            }
            // Nothing left, or an amount that cannot be compared: they become one lot.
            _ => {
                let Some((last, others)) = lots.split_last() else { return };
                let mut merged: Option<Lot> = self.remove(*last);
                for id in others {
                    let Some(other) = self.remove(*id) else { continue };
                    merged = merged.map(|lot| join(lot, other));
                }
                let Some(mut lot) = merged else { return };
                if !quantity.value.is_positive() {
                    self.book(&lot, |totals, grams| totals.uncounted += grams);
                    return;
                }
                let weight = alike
                    .filter(|held| held.value.is_positive())
                    .and_then(|held| quantity.value.checked_div(held.value))
                    .zip(lot.grams)
                    .map(|(times, grams)| taking::part_of(grams, times))
                    .or(grams);
                if lot.contents.is_empty() {
                    let before = lot.grams.unwrap_or(0);
                    self.totals(lot.key()).uncounted += before - weight.unwrap_or(0);
                    lot.grams = weight;
                }
                lot.quantity = Some(quantity);
                see(&mut lot, event.day);
                self.keep(lot);
            }
        }
    }

    /// Adds what a count found to the last of these lots, at the weight of the whole count.
    fn raise(&mut self, lots: &[LotId], missing: Quantity, counted: Quantity, grams: Option<i64>) {
        let Some(mut lot) = lots.last().and_then(|id| self.remove(*id)) else { return };
        let share =
            lot.quantity.and_then(|held| missing.to_unit(held.unit)?.value.checked_div(held.value));
        let found = match share.zip(lot.grams) {
            Some((share, grams)) => Some(taking::part_of(grams, share)),
            None => missing
                .to_unit(counted.unit)
                .and_then(|missing| missing.value.checked_div(counted.value))
                .zip(grams)
                .map(|(share, grams)| taking::part_of(grams, share)),
        };
        lot.quantity = lot.quantity.and_then(|held| held.checked_add(missing));
        if lot.contents.is_empty() {
            self.totals(lot.key()).uncounted -= found.unwrap_or(0);
            lot.grams = sum(lot.grams, found);
        }
        self.keep(lot);
    }

    /// The first count of a food is opening stock; later ones correct the record.
    fn first_or_found(&mut self, key: &str, grams: i64) {
        match self.ledger.get_mut(key) {
            None => self.totals(key).came_in += grams,
            Some(totals) => totals.uncounted -= grams,
        }
    }
}

/// What left the house.
#[derive(Default)]
struct Out {
    grams: Option<i64>,
    cost: Option<Minor>,
    /// By ledger key.
    eaten: Vec<(String, Eaten)>,
}

/// An amount that was eaten, by weight where it has one.
fn eaten(grams: Option<i64>, quantity: Option<Quantity>) -> Eaten {
    if let Some(grams) = grams {
        return Eaten { grams, ..Eaten::default() };
    }
    let Some(quantity) = quantity else { return Eaten::default() };
    match quantity.dimension() {
        Dimension::Mass => Eaten::default(),
        Dimension::Volume => {
            let millilitres = quantity.millilitres().map_or(0, Ratio::rounded);
            Eaten { millilitres, ..Eaten::default() }
        }
        Dimension::Count => {
            let milli = quantity.value.checked_mul(Ratio::whole(1000)).map_or(0, Ratio::rounded);
            Eaten { milli_pieces: milli, ..Eaten::default() }
        }
    }
}

/// Whether the pieces of one change become one lot.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Joining {
    Apart,
    Together,
}

/// Gives a lot the form, place, limits and water of a change.
fn reshape(lot: &mut Lot, event: &Event, change: &Change) {
    let before = lot.form;
    let after = change.form.unwrap_or(before);
    let carried = carried_into_cooked(lot, event);
    if let Some(place) = &change.place {
        lot.place = place.clone();
        lot.put_away = true;
    }
    lot.form = after;
    if after != before {
        lot.water = None;
        match after {
            Form::Frozen => pause(lot, event.day),
            Form::Cooked | Form::Dried => lot.limits = carried,
            Form::Whole | Form::Cut | Form::InWater | Form::Thawed | Form::Opened => {}
        }
        if before == Form::Frozen {
            resume(lot, event.day);
        }
    }
    lot.limits.extend(change.limits.iter().cloned());
    if change.water.is_some() {
        lot.water = change.water.clone();
    }
    let place = if lot.put_away { lot.place.clone() } else { Place::Counter };
    stay(lot, change.from, place);
    see(lot, event.day);
}

/// The limits that cooking or drying does not lift: those already passed, and those of food that
/// was ready to eat before.
fn carried_into_cooked(lot: &Lot, event: &Event) -> Vec<Limit> {
    let ready = matches!(lot.form, Form::Cooked);
    let passed = |limit: &&Limit| {
        ready
            || limit.day.is_some_and(|day| day < event.day)
            || limit.at.is_some_and(|at| at < event.at)
    };
    lot.limits.iter().filter(passed).cloned().collect()
}

/// Stops the safety clock on the day of freezing, which is not counted. A limit that has passed
/// stands where it was: freezing revives nothing.
fn pause(lot: &mut Lot, day: KitchenDay) {
    let (days, moments): (Vec<Limit>, Vec<Limit>) = std::mem::take(&mut lot.limits)
        .into_iter()
        .partition(|limit| limit.day.is_some_and(|last| last >= day));
    lot.paused.extend(days.into_iter().filter_map(|limit| {
        let days_left = limit.day?.days_since(day);
        Some(Paused { days_left, why: limit.why, source: limit.source })
    }));
    // A limit in hours has no days to stop at: it stays.
    lot.limits = moments;
}

/// Lets the safety clock run on from the day of thawing, which is counted.
fn resume(lot: &mut Lot, day: KitchenDay) {
    let paused = std::mem::take(&mut lot.paused);
    lot.limits.extend(paused.into_iter().map(|paused| Limit {
        day: Some(day.plus(paused.days_left)),
        at: None,
        why: paused.why,
        source: paused.source,
    }));
}

/// Two lots of one food become one: with the longer history, and the limits of both.
fn join(a: Lot, b: Lot) -> Lot {
    let (mut kept, other) = if (b.since, b.id) < (a.since, a.id) { (b, a) } else { (a, b) };
    kept.contents = match (kept.contents.is_empty(), other.contents.is_empty()) {
        (true, true) if kept.key() == other.key() => Default::default(),
        _ => {
            let mut contents = contents_of(&kept);
            for (key, grams) in contents_of(&other) {
                *contents.entry(key).or_default() += grams;
            }
            contents
        }
    };
    kept.quantity = kept.quantity.zip(other.quantity).and_then(|(a, b)| a.checked_add(b));
    kept.grams = sum(kept.grams, other.grams);
    kept.began = sum(kept.began, other.began);
    kept.cost = sum(kept.cost.map(|c| c.0), other.cost.map(|c| c.0)).map(Minor);
    kept.limits.extend(other.limits);
    kept.paused.extend(other.paused);
    kept.last_seen = kept.last_seen.max(other.last_seen);
    kept.printed = match (kept.printed, other.printed) {
        (Some(a), Some(b)) => Some(if b.1 < a.1 { b } else { a }),
        (a, b) => a.or(b),
    };
    kept
}

fn contents_of(lot: &Lot) -> std::collections::BTreeMap<String, i64> {
    if lot.contents.is_empty() {
        let grams = lot.grams.unwrap_or(0);
        if grams == 0 { Default::default() } else { [(lot.key().to_owned(), grams)].into() }
    } else {
        lot.contents.clone()
    }
}

fn stay(lot: &mut Lot, from: Instant, place: Place) {
    let from = lot.stays.last().map_or(from, |last| last.from.max(from));
    lot.stays.push(Stay { from, form: lot.form, place });
}

fn see(lot: &mut Lot, day: KitchenDay) {
    lot.last_seen = lot.last_seen.max(day);
    lot.doubtful = false;
}

fn sum(a: Option<i64>, b: Option<i64>) -> Option<i64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.saturating_add(b)),
        (a, b) => a.or(b),
    }
}

fn discard(totals: &mut Totals, to: Destination, food: i64, inedible: i64) {
    match to {
        Destination::Compost => {
            totals.composted_food += food;
            totals.composted_inedible += inedible;
        }
        Destination::AnimalFeed => {
            totals.fed_food += food;
            totals.fed_inedible += inedible;
        }
        Destination::Trash => {
            totals.trash_food += food;
            totals.trash_inedible += inedible;
        }
        Destination::Drain => {
            totals.sewer_food += food;
            totals.sewer_inedible += inedible;
        }
        Destination::People => totals.given += food + inedible,
    }
}
