//! What recorded events tell, said back to whoever takes them back or puts them right.

use super::super::*;
use crate::units::Minor;

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
    // What was only seen is worth no word beside what was done.
    if told.len() > 1 {
        told.retain(|each| each.deed != Deed::StillHere || !each.lines.is_empty());
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
        What::BagEmptied { to } => (Deed::BagEmptied { to: *to }, Vec::new()),
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
        What::TripTotal { total, charges } => {
            let charges = charges.clone();
            (Deed::TripTotal { total: *total, itemised: Minor(0), charges }, Vec::new())
        }
        What::TripPlanned { on } => (Deed::TripPlanned { on: *on }, Vec::new()),
        What::Away { until } => (Deed::Away { from: None, until: *until }, Vec::new()),
        What::Eaters { on, people } => (Deed::Eaters { on: *on, people: *people }, Vec::new()),
        What::SettingChanged { key, value } => {
            (Deed::Setting { key: key.clone(), value: value.clone() }, Vec::new())
        }
        What::SpokenFor { on, .. } => (Deed::SpokenFor { on: *on }, Vec::new()),
        What::PriceSeen { .. }
        | What::Doubted { .. }
        | What::Ended { .. }
        | What::Undone { .. } => return None,
    };
    Some(found)
}
