//! Taking an amount out of lots: exact fractions, nothing below zero, nothing created.

use std::collections::BTreeMap;

use super::event::{Amount, Draw};
use super::state::{Lot, LotId, State};
use crate::units::{Minor, Quantity, Ratio};

/// What a draw took.
pub(super) struct Taken {
    /// What came out of each lot, as a lot of its own with the number of its source.
    pub pieces: Vec<Piece>,
    /// What was taken without being on record.
    pub short: Short,
}

impl Taken {
    /// The lots something came out of.
    pub fn sources(&self) -> Vec<LotId> {
        self.pieces.iter().map(|piece| piece.lot.id).collect()
    }
}

pub(super) struct Piece {
    pub lot: Lot,
    /// The source is used up.
    pub whole: bool,
    /// Its place in the draw's list of lots.
    pub index: usize,
}

#[derive(Default)]
pub(super) struct Short {
    pub quantity: Option<Quantity>,
    pub grams: Option<i64>,
}

impl Short {
    pub fn is_nothing(&self) -> bool {
        self.quantity.is_none() && self.grams.is_none()
    }
}

/// Takes `draw` out of the lots of `state`: lots used up are gone from it afterwards.
pub(super) fn take(state: &mut State, draw: &Draw) -> Taken {
    let found: Vec<(usize, LotId)> = draw
        .lots
        .iter()
        .enumerate()
        .filter(|(_, id)| state.lot(**id).is_some())
        .map(|(index, id)| (index, *id))
        .collect();
    if found.is_empty() {
        let quantity = match draw.amount {
            Amount::Exact(quantity) => Some(quantity),
            Amount::Share(_) | Amount::Vague => None,
        };
        return Taken { pieces: Vec::new(), short: Short { quantity, grams: draw.grams } };
    }
    match draw.amount {
        Amount::Share(share) if share >= Ratio::ONE => {
            let pieces = found.iter().filter_map(|(index, id)| whole(state, *index, *id));
            Taken { pieces: pieces.collect(), short: Short::default() }
        }
        Amount::Share(share) => match total(state, &found) {
            Some((quantity, grams)) => {
                let part = Quantity::new(product(quantity.value, share), quantity.unit);
                let grams = grams.map(|grams| part_of(grams, share));
                take_exact(state, &found, part, grams)
            }
            None => {
                let pieces = found.iter().filter_map(|(index, id)| part(state, *index, *id, share));
                Taken { pieces: pieces.collect(), short: Short::default() }
            }
        },
        Amount::Exact(quantity) if !quantity.value.is_positive() => {
            Taken { pieces: Vec::new(), short: Short::default() }
        }
        Amount::Exact(quantity) => take_exact(state, &found, quantity, draw.grams),
        Amount::Vague => {
            let piece = found.first().and_then(|(index, id)| some(state, *index, *id));
            Taken { pieces: piece.into_iter().collect(), short: Short::default() }
        }
    }
}

/// All that the lots hold together, in the unit of the first, when that can be said.
fn total(state: &State, found: &[(usize, LotId)]) -> Option<(Quantity, Option<i64>)> {
    let mut lots = found.iter().filter_map(|(_, id)| state.lot(*id));
    let first = lots.next()?;
    let mut sum = first.quantity?;
    let mut grams = first.grams;
    for lot in lots {
        sum = sum.checked_add(lot.quantity?)?;
        grams = grams.zip(lot.grams).map(|(a, b)| a.saturating_add(b));
    }
    Some((sum, grams))
}

fn take_exact(
    state: &mut State,
    found: &[(usize, LotId)],
    asked: Quantity,
    asked_grams: Option<i64>,
) -> Taken {
    let mut pieces = Vec::new();
    // The share of what was asked that is still to be found.
    let mut open = Ratio::ONE;
    let mut unweighed = None;
    for (index, id) in found {
        if !open.is_positive() {
            break;
        }
        let Some(lot) = state.lot(*id) else { continue };
        match holds(lot, asked, asked_grams) {
            Some(held) if held <= open => {
                open = difference(open, held);
                pieces.extend(whole(state, *index, *id));
            }
            Some(held) => {
                let share = quotient(open, held);
                open = Ratio::ZERO;
                let mut piece = part(state, *index, *id, share);
                // A part goes on in the unit it was said in: 600 g out of a kilo are 600 g.
                if let Some(Piece { lot, whole: false, .. }) = &mut piece {
                    let said = lot.quantity.and_then(|part| part.to_unit(asked.unit));
                    lot.quantity = said.or(lot.quantity);
                }
                pieces.extend(piece);
            }
            None => {
                // Nobody knows what this lot holds, so it is believed to have given the rest.
                let mut piece = some(state, *index, *id);
                if let Some(piece) = &mut piece {
                    let rest = product(asked.value, open);
                    piece.lot.quantity = Some(Quantity::new(rest, asked.unit));
                }
                pieces.extend(piece);
                unweighed = asked_grams.map(|grams| part_of(grams, open));
                open = Ratio::ZERO;
            }
        }
    }
    let short = if open.is_positive() {
        let missing = Quantity::new(product(asked.value, open), asked.unit);
        let grams = asked_grams.map(|grams| part_of(grams, open));
        Short { quantity: Some(missing), grams }
    } else {
        Short { quantity: None, grams: unweighed }
    };
    Taken { pieces, short }
}

/// How many times `asked` the lot holds.
fn holds(lot: &Lot, asked: Quantity, asked_grams: Option<i64>) -> Option<Ratio> {
    let alike = lot.quantity.and_then(|held| held.to_unit(asked.unit));
    if let Some(held) = alike {
        return held.value.checked_div(asked.value);
    }
    let grams = asked_grams.filter(|grams| *grams > 0)?;
    Ratio::new(lot.grams?, grams)
}

fn whole(state: &mut State, index: usize, id: LotId) -> Option<Piece> {
    let at = state.lots.iter().position(|lot| lot.id == id)?;
    Some(Piece { lot: state.lots.remove(at), whole: true, index })
}

/// A part of a lot that is not all of it.
fn part(state: &mut State, index: usize, id: LotId, share: Ratio) -> Option<Piece> {
    if share >= Ratio::ONE {
        return whole(state, index, id);
    }
    let lot = state.lots.iter_mut().find(|lot| lot.id == id)?;
    let mut piece = lot.clone();
    piece.quantity = lot.quantity.map(|held| {
        let taken = product(held.value, share).min(held.value);
        lot.quantity = Some(Quantity::new(difference(held.value, taken), held.unit));
        Quantity::new(taken, held.unit)
    });
    piece.cost = lot.cost.map(|cost| {
        let taken = part_of(cost.0, share);
        lot.cost = Some(Minor(cost.0 - taken));
        Minor(taken)
    });
    if lot.contents.is_empty() {
        piece.grams = lot.grams.map(|grams| part_of(grams, share));
    } else {
        let taken: BTreeMap<String, i64> =
            lot.contents.iter().map(|(key, grams)| (key.clone(), part_of(*grams, share))).collect();
        for (key, grams) in &mut lot.contents {
            *grams -= taken.get(key).copied().unwrap_or(0);
        }
        piece.grams = Some(taken.values().sum());
        piece.contents = taken;
    }
    if let (Some(held), Some(taken)) = (lot.grams, piece.grams) {
        lot.grams = Some(held - taken);
    }
    Some(Piece { lot: piece, whole: false, index })
}

/// Some of a lot: from now on nobody knows how much is left.
fn some(state: &mut State, index: usize, id: LotId) -> Option<Piece> {
    let lot = state.lots.iter_mut().find(|lot| lot.id == id)?;
    lot.quantity = None;
    let piece =
        Lot { quantity: None, grams: None, cost: None, contents: BTreeMap::new(), ..lot.clone() };
    Some(Piece { lot: piece, whole: false, index })
}

/// `whole * share`, rounded to a whole number.
pub(super) fn part_of(whole: i64, share: Ratio) -> i64 {
    match Ratio::whole(whole).checked_mul(share) {
        Some(part) => part.rounded(),
        None => Ratio::whole(whole).checked_mul(coarse(share)).map_or(whole, Ratio::rounded),
    }
}

/// Exact where it fits; otherwise of thousandths, which is finer than any kitchen scale.
fn product(a: Ratio, b: Ratio) -> Ratio {
    a.checked_mul(b).or_else(|| coarse(a).checked_mul(coarse(b))).unwrap_or(a)
}

fn quotient(a: Ratio, b: Ratio) -> Ratio {
    a.checked_div(b).or_else(|| coarse(a).checked_div(coarse(b))).unwrap_or(Ratio::ONE)
}

fn difference(a: Ratio, b: Ratio) -> Ratio {
    a.checked_sub(b).or_else(|| coarse(a).checked_sub(coarse(b))).unwrap_or(a)
}

fn coarse(a: Ratio) -> Ratio {
    let thousandths = a.checked_mul(Ratio::whole(1000)).map(Ratio::rounded);
    thousandths.and_then(|n| Ratio::new(n, 1000)).unwrap_or(Ratio::whole(a.rounded()))
}
