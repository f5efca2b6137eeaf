//! Undo, edits and corrections: what an earlier message recorded, taken back or put right.
//!
//! Nothing is rewritten. An `Undone` voids the events of a message, and mended events take its
//! place in the order that counts, so that whatever followed finds the corrected lots again.

use std::collections::BTreeSet;

use super::*;
use crate::kitchen::log;
use crate::units::Minor;
use crate::words::Role;

/// What an undo is aimed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Undoing {
    /// The household's newest message in force.
    Newest,
    This(MessageId),
}

/// Takes back what one message recorded. Reads the log.
pub fn undo(state: &State, target: Undoing, cx: &Cx<'_>) -> Record {
    let mut record = Record { state: state.clone(), ..Record::default() };
    let outcome = undoing(target, cx);
    absorb(&mut record, outcome, cx);
    record
}

/// Records what the new text of an already recorded message says, in the place of what its first
/// text recorded. Reads the log. `cx.message` is the edited message.
pub fn edit(state: &State, statements: &[Statement], cx: &Cx<'_>) -> Record {
    let before = before(cx.log, cx.message);
    let force = log::in_force(cx.log);
    let old: Vec<&Event> =
        force.into_iter().filter(|event| event.message == Some(cx.message)).collect();
    // Numbers given out since are not given again.
    let base = State { next_lot: state.next_lot, ..before };
    let (mut mended, told, questions) = record_on(&base, statements, &Cx { sure: true, ..*cx });
    keep_numbers(&old, &mut mended);
    let undone = What::Undone { of: cx.message };
    let undone = Happened { day: cx.today, replaces: None, what: undone };
    let mut events: Vec<Happened> = Vec::new();
    if !old.is_empty() {
        events.push(undone);
    }
    events.append(&mut mended);
    let mut record = Record { state: state.clone(), ..Record::default() };
    absorb(&mut record, Outcome { events, told, question: None }, cx);
    record.questions = questions;
    record
}

/// Gives the lots of mended events the numbers their foods had in the old ones, so that later
/// events find them.
fn keep_numbers(old: &[&Event], mended: &mut [Happened]) {
    let mut known: Vec<(String, LotId)> = old.iter().flat_map(|event| made(&event.what)).collect();
    let mut renumbered = std::collections::BTreeMap::new();
    for happened in mended.iter() {
        for (key, new) in made(&happened.what) {
            if let Some(at) = known.iter().position(|(other, _)| *other == key) {
                renumbered.insert(new, known.remove(at).1);
            }
        }
    }
    for happened in mended {
        happened.what.each_lot(&mut |id| {
            if let Some(kept) = renumbered.get(id) {
                *id = *kept;
            }
        });
    }
}

/// The lots an event makes, each under what it makes of which food.
fn made(what: &What) -> Vec<(String, LotId)> {
    let under = |kind: &str, of: &Named, lot: LotId| (format!("{kind} {}", of.key()), lot);
    match what {
        What::Acquired { lots, .. } => {
            lots.iter().map(|new| under("in", &new.of, new.lot)).collect()
        }
        What::Counted { new, .. } => vec![under("in", &new.of, new.lot)],
        What::FoundAgain { lot: new } => vec![under("in", &new.of, new.lot)],
        What::Made { into, .. } => vec![under("made", &into.of, into.lot)],
        What::StockMade { into } => vec![under("stock", &into.of, into.lot)],
        What::Moved { change }
        | What::Prepared { change }
        | What::PutInWater { change }
        | What::Opened { change }
        | What::Preserved { change, .. }
        | What::Thawed { change } => {
            let kind = change.form.map_or("moved", Form::word);
            let pieces = change.pieces.iter();
            pieces.map(|piece| under(kind, &change.draw.of, *piece)).collect()
        }
        _ => Vec::new(),
    }
}

/// Decides statements on an earlier state; what they say happened takes `cx.message`'s place.
fn record_on(
    base: &State,
    statements: &[Statement],
    cx: &Cx<'_>,
) -> (Vec<Happened>, Vec<Told>, Vec<Question>) {
    let record = record(base, statements, cx);
    let happened = record.events.into_iter().map(|event| Happened {
        day: event.day,
        replaces: Some(cx.message),
        what: event.what,
    });
    (happened.collect(), record.told, record.questions)
}

/// The state just before a message counted; the newest state for a message that recorded nothing.
fn before(events: &[Event], message: MessageId) -> State {
    let first = log::first_events(events);
    let limit = first.get(&message).map(|(id, replaces)| match replaces {
        Some(other) => first.get(other).map_or(*id, |(id, _)| *id),
        None => *id,
    });
    let mut state = State::default();
    for event in log::in_force(events) {
        let counts = limit.is_none_or(|limit| log::position(event, &first) < limit);
        if counts && event.message != Some(message) {
            state.apply(event);
        }
    }
    state
}

fn undoing(target: Undoing, cx: &Cx<'_>) -> Outcome {
    let force = log::in_force(cx.log);
    let target = match target {
        Undoing::This(message) => Some(message),
        Undoing::Newest => {
            let newest = force.iter().filter(|event| event.person.is_some());
            newest.max_by_key(|event| event.id).and_then(|event| event.message)
        }
    };
    let standing = log::standing(cx.log).into_iter().any(|event| event.message == target);
    let Some(of) = target.filter(|_| standing) else {
        return Outcome::trouble(Trouble::NothingToUndo);
    };
    let events: Vec<&Event> =
        force.iter().filter(|event| event.message == target).copied().collect();
    let deed = if events.is_empty() {
        // An undo taken back: what it took is there again.
        let without: Vec<Event> =
            cx.log.iter().filter(|event| event.message != target).cloned().collect();
        let counted: BTreeSet<EventId> = force.iter().map(|event| event.id).collect();
        let back = log::in_force(&without);
        let back: Vec<&Event> =
            back.into_iter().filter(|event| !counted.contains(&event.id)).collect();
        Deed::Restored(retell(&back))
    } else {
        Deed::Undone(retell(&events))
    };
    let told = Told { deed, lines: Vec::new(), day: None };
    let happened = Happened { day: cx.today, replaces: None, what: What::Undone { of } };
    Outcome { events: vec![happened], told: vec![told], question: None }
}

impl Deciding<'_> {
    pub(super) fn undo(&mut self) {
        let target = self.cx.answers.map_or(Undoing::Newest, Undoing::This);
        let outcome = undoing(target, self.cx);
        self.out.events.extend(outcome.events);
        self.out.told.extend(outcome.told);
    }

    /// "No, 3 fennel"; "that was yesterday"; "those were turnips".
    pub(super) fn correct(&mut self) {
        let force = log::in_force(self.cx.log);
        let items = &self.statement.items;
        if items.is_empty() && self.statement.day.is_none() {
            return self.undo();
        }
        // "Not X but Y": what it was not stands under `from`, or first.
        let swap = match items.as_slice() {
            [a, b, ..] if b.role == Some(Role::From) => Some((b, a)),
            [a, b, ..] => Some((a, b)),
            _ => None,
        };
        let wrong = match swap {
            Some((wrong, _)) => Some(self.named(wrong)),
            None => items.first().map(|only| self.named(only)),
        };
        let on_day = self.statement.day.filter(|_| !items.is_empty());
        let target = match (swap, &wrong) {
            (Some(_), Some(wrong)) => self.swapped(&force, wrong, on_day),
            _ => self.target(&force, wrong.as_ref(), on_day),
        };
        let Some(target) = target else {
            let name = wrong.map(|of| of.name);
            return self.trouble(Trouble::NothingToMend { name });
        };
        let events: Vec<&Event> =
            force.into_iter().filter(|event| event.message == Some(target)).collect();
        let mut mended: Vec<Happened> = events
            .iter()
            .map(|event| Happened {
                day: event.day,
                replaces: Some(target),
                what: event.what.clone(),
            })
            .collect();
        let deed = match (swap, items.as_slice()) {
            (Some((_, right)), _) => {
                self.rename(&mut mended, wrong.as_ref(), right);
                Deed::Mended(Vec::new())
            }
            (None, []) => {
                let to = self.day;
                for happened in &mut mended {
                    redate(happened, to);
                }
                Deed::Redated { to, deeds: Vec::new() }
            }
            (None, [item, ..]) => {
                let of = self.named(item);
                let known = mended.iter().any(|h| h.what.names().iter().any(|n| same(n, &of)));
                if known {
                    self.put_right(&mut mended, item, &of);
                } else {
                    self.rename(&mut mended, None, item);
                }
                Deed::Mended(Vec::new())
            }
        };
        let retold: Vec<Event> = number(mended.clone(), self.state.last_event, self.cx);
        let deeds = retell(&retold.iter().collect::<Vec<_>>());
        let deed = match deed {
            Deed::Redated { to, .. } => Deed::Redated { to, deeds },
            _ => Deed::Mended(deeds),
        };
        let undone = What::Undone { of: target };
        self.out.events.push(Happened { day: self.cx.today, replaces: None, what: undone });
        self.out.events.append(&mut mended);
        self.out.told.push(Told { deed, lines: Vec::new(), day: None });
    }

    /// The message by which a food came on record that was another one all along: the newest that
    /// brought it in, by anybody; else the newest that names it.
    fn swapped(
        &self,
        force: &[&Event],
        wrong: &Named,
        on_day: Option<KitchenDay>,
    ) -> Option<MessageId> {
        let naming = force
            .iter()
            .filter(|event| event.message.is_some() && on_day.is_none_or(|day| event.day == day))
            .filter(|event| event.what.names().iter().any(|named| same(named, wrong)));
        let brought = |what: &What| {
            matches!(what, What::Acquired { .. } | What::Counted { .. } | What::FoundAgain { .. })
        };
        naming.max_by_key(|event| (brought(&event.what), event.id)).and_then(|event| event.message)
    }

    /// The message to mend: what this one answers, or the same person's last one that names the
    /// food; for a food nobody named, the person's last one about a single food.
    fn target(
        &self,
        force: &[&Event],
        wrong: Option<&Named>,
        on_day: Option<KitchenDay>,
    ) -> Option<MessageId> {
        if let Some(answered) = self.cx.answers
            && force.iter().any(|event| event.message == Some(answered))
        {
            return Some(answered);
        }
        let mut theirs: Vec<&&Event> = force
            .iter()
            .filter(|event| event.person.is_some() && event.person == self.cx.person)
            .filter(|event| on_day.is_none_or(|day| event.day == day))
            .collect();
        if on_day.is_some() && theirs.is_empty() {
            theirs = force.iter().filter(|event| Some(event.day) == on_day).collect();
        }
        theirs.sort_by_key(|event| std::cmp::Reverse(event.id));
        let Some(of) = wrong else {
            return theirs.first().and_then(|event| event.message);
        };
        let names = |event: &Event| event.what.names().iter().any(|named| same(named, of));
        let naming = theirs.iter().find(|event| names(event));
        if let Some(event) = naming {
            return event.message;
        }
        if on_day.is_some() {
            return None;
        }
        // "No, turnips": their last message, if it named one food only.
        let last = theirs.first().and_then(|event| event.message)?;
        let named: BTreeSet<String> = theirs
            .iter()
            .filter(|event| event.message == Some(last))
            .flat_map(|event| event.what.names())
            .map(|named| named.key().to_owned())
            .collect();
        (named.len() == 1).then_some(last)
    }

    /// Gives the food its corrected amount, price, place or destination in every event about it.
    fn put_right(&mut self, mended: &mut [Happened], item: &Item, of: &Named) {
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
    fn rename(&mut self, mended: &mut [Happened], wrong: Option<&Named>, right: &Item) {
        let of = self.named(right);
        let food = self.food(right);
        let is_wrong = |named: &Named| wrong.is_none_or(|wrong| same(named, wrong));
        let read = read_amount(right, food, Amount::Vague).ok();
        let said = right.quantity.is_some();
        for happened in mended {
            let set = |new: &mut NewLot| {
                if !is_wrong(&new.of) {
                    return;
                }
                new.of.clone_from(&of);
                match &read {
                    Some(read) if said => set_new_lot(new, read, true, right),
                    _ => {
                        new.grams =
                            new.quantity.and_then(|quantity| facts::grams(food, quantity, None));
                    }
                }
            };
            let swap = |draw: &mut Draw| {
                if !is_wrong(&draw.of) {
                    return;
                }
                draw.of.clone_from(&of);
                draw.lots = self.candidates(right, &of, super::choose::Purpose::Out);
                match &read {
                    Some(read) if said => set_draw(draw, read),
                    _ => {
                        if let Amount::Exact(quantity) = draw.amount {
                            draw.grams = facts::grams(food, quantity, None);
                        }
                    }
                }
            };
            match &mut happened.what {
                What::Acquired { lots, .. } => lots.iter_mut().for_each(set),
                What::Counted { new, .. }
                | What::FoundAgain { lot: new }
                | What::StockMade { into: new } => set(new),
                What::Made { from, into } => {
                    from.iter_mut().for_each(swap);
                    set(into);
                }
                What::Used { draw }
                | What::Given { draw }
                | What::NotReceived { draw }
                | What::Discarded { draw, .. } => swap(draw),
                What::Moved { change }
                | What::Prepared { change }
                | What::PutInWater { change }
                | What::Opened { change }
                | What::Preserved { change, .. }
                | What::Thawed { change } => swap(&mut change.draw),
                What::Wanted { of: named, .. }
                | What::Unwanted { of: named }
                | What::PriceSeen { of: named, .. }
                | What::PartDiscarded { of: named, .. }
                    if is_wrong(named) =>
                {
                    named.clone_from(&of);
                }
                What::ScrapsSaved { scraps } => {
                    for scrap in scraps.iter_mut().filter(|scrap| is_wrong(&scrap.of)) {
                        scrap.of.clone_from(&of);
                    }
                }
                // Nothing in these names a food.
                _ => {}
            }
        }
    }
}

fn same(a: &Named, b: &Named) -> bool {
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
fn redate(happened: &mut Happened, to: KitchenDay) {
    let days = to.days_since(happened.day);
    happened.day = to;
    let moment = |at: &mut Instant| *at = at.plus_minutes(days.saturating_mul(24 * 60));
    let limit = |limit: &mut Limit| {
        limit.day = limit.day.map(|day| day.plus(days));
        limit.at = limit.at.map(|at| at.plus_minutes(days.saturating_mul(24 * 60)));
    };
    let new_lot = |new: &mut NewLot| {
        moment(&mut new.from);
        let printed = new.printed.map(|(_, day)| day);
        // A date on the pack stays what it is.
        new.limits
            .iter_mut()
            .filter(|each| each.day != printed || printed.is_none())
            .for_each(limit);
    };
    match &mut happened.what {
        What::Acquired { lots, .. } => lots.iter_mut().for_each(new_lot),
        What::Counted { new, .. }
        | What::FoundAgain { lot: new }
        | What::StockMade { into: new }
        | What::Made { into: new, .. } => new_lot(new),
        What::Moved { change }
        | What::Prepared { change }
        | What::PutInWater { change }
        | What::Opened { change }
        | What::Preserved { change, .. }
        | What::Thawed { change } => {
            moment(&mut change.from);
            change.limits.iter_mut().for_each(limit);
            if let Some(water) = &mut change.water {
                water.since = water.since.plus(days);
                water.changed = water.changed.plus(days);
                water.last_day = water.last_day.plus(days);
            }
        }
        What::LeftOut { limit: passed, .. } => passed.iter_mut().for_each(limit),
        What::PlaceFailed { since, .. } => moment(since),
        What::PlaceRestored { out, .. } => out.iter_mut().for_each(|(_, each)| limit(each)),
        What::ScrapsSaved { scraps } => scraps.iter_mut().for_each(|scrap| scrap.day = to),
        What::PriceSeen { price, .. } => price.day = to,
        What::NotReceived { .. }
        | What::PutAway { .. }
        | What::WaterChanged { .. }
        | What::Used { .. }
        | What::Given { .. }
        | What::Discarded { .. }
        | What::PartDiscarded { .. }
        | What::Uncounted { .. }
        | What::Seen { .. }
        | What::Doubted { .. }
        | What::Wanted { .. }
        | What::Unwanted { .. }
        | What::TripTotal { .. }
        | What::TripPlanned { .. }
        | What::Away { .. }
        | What::Eaters { .. }
        | What::SettingChanged { .. }
        | What::Undone { .. } => {}
    }
}

/// What recorded events tell, for people who take them back.
pub(crate) fn retell(events: &[&Event]) -> Vec<Told> {
    let mut told: Vec<Told> = Vec::new();
    for event in events {
        let Some((deed, lines)) = retold(&event.what) else { continue };
        match told.last_mut() {
            Some(last) if last.deed == deed => last.lines.extend(lines),
            _ => told.push(Told { deed, lines, day: None }),
        }
    }
    told
}

fn retold(what: &What) -> Option<(Deed, Vec<Line>)> {
    let spoken = |amount: &Amount| match amount {
        Amount::Exact(quantity) => Spoken::Exact(*quantity),
        Amount::Share(share) if *share == Ratio::ONE => Spoken::All,
        Amount::Share(share) => Spoken::Share(*share),
        Amount::Vague => Spoken::Plain,
    };
    let drawn = |draw: &Draw| vec![Line::new(draw.of.clone(), Form::Whole, spoken(&draw.amount))];
    let new_lot = |new: &NewLot| {
        let mut line =
            Line::new(new.of.clone(), new.form, new.quantity.map_or(Spoken::Plain, Spoken::Exact));
        line.place = Some(new.place.clone());
        line
    };
    let changed = |change: &Change| {
        let mut lines = drawn(&change.draw);
        for line in &mut lines {
            line.form = change.form.unwrap_or(line.form);
            line.place.clone_from(&change.place);
        }
        lines
    };
    let plain = |of: &Named| vec![Line::new(of.clone(), Form::Whole, Spoken::Plain)];
    let found = match what {
        What::Acquired { lots, paid } => {
            (Deed::CameIn { paid: *paid }, lots.iter().map(new_lot).collect())
        }
        What::NotReceived { draw } => (Deed::NotReceived, drawn(draw)),
        What::PutAway { .. } => (Deed::PutAway, Vec::new()),
        What::Moved { change } => (Deed::Moved, changed(change)),
        What::Prepared { change } if change.form == Some(Form::Cooked) => {
            (Deed::Cooked, changed(change))
        }
        What::Prepared { change } => (Deed::Cut, changed(change)),
        What::Made { into, .. } => (Deed::Made, vec![new_lot(into)]),
        What::PutInWater { change } => (Deed::InWater, changed(change)),
        What::WaterChanged { .. } => (Deed::WaterChanged, Vec::new()),
        What::Opened { change } => (Deed::Opened, changed(change)),
        What::Preserved { change, .. } if change.form == Some(Form::Dried) => {
            (Deed::Dried, changed(change))
        }
        What::Preserved { change, .. } => (Deed::Frozen, changed(change)),
        What::Thawed { change } => (Deed::Thawed, changed(change)),
        What::Used { draw } => (Deed::Used, drawn(draw)),
        What::Given { draw } => (Deed::Given, drawn(draw)),
        What::Discarded { draw, to, .. } => (Deed::Discarded { to: *to }, drawn(draw)),
        What::PartDiscarded { of, to, .. } => (Deed::Discarded { to: *to }, plain(of)),
        What::LeftOut { .. } => (Deed::LeftOut, Vec::new()),
        What::PlaceFailed { place, .. } => {
            let place = place.clone();
            (Deed::PlaceFailed { place, keeps_minutes: 0, source: String::new() }, Vec::new())
        }
        What::PlaceRestored { place, minutes, .. } => {
            (Deed::Outage { place: place.clone(), minutes: *minutes }, Vec::new())
        }
        What::ScrapsSaved { scraps } => {
            (Deed::ScrapsSaved, scraps.iter().flat_map(|scrap| plain(&scrap.of)).collect())
        }
        What::StockMade { into } => (Deed::StockMade, vec![new_lot(into)]),
        What::Counted { new, amount, .. } => {
            let mut line = new_lot(new);
            line.amount = spoken(amount);
            (Deed::Counted, vec![line])
        }
        What::Uncounted { .. } => (Deed::Gone, Vec::new()),
        What::FoundAgain { lot } => (Deed::StillHere, vec![new_lot(lot)]),
        What::Seen { .. } => (Deed::StillHere, Vec::new()),
        What::Wanted { of, quantity } => {
            let amount = quantity.map_or(Spoken::Plain, Spoken::Exact);
            (Deed::Wanted, vec![Line::new(of.clone(), Form::Whole, amount)])
        }
        What::Unwanted { of } => (Deed::Unwanted, plain(of)),
        What::TripTotal { total } => {
            (Deed::TripTotal { total: *total, itemised: Minor(0) }, Vec::new())
        }
        What::TripPlanned { on } => (Deed::TripPlanned { on: *on }, Vec::new()),
        What::Away { until } => (Deed::Away { until: *until }, Vec::new()),
        What::Eaters { on, people } => (Deed::Eaters { on: *on, people: *people }, Vec::new()),
        What::SettingChanged { key, value } => {
            (Deed::Setting { key: key.clone(), value: value.clone() }, Vec::new())
        }
        What::PriceSeen { .. } | What::Doubted { .. } | What::Undone { .. } => return None,
    };
    Some(found)
}
