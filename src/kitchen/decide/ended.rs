//! What lots teach when they come to an end: how much of their published life they had lived.

use super::*;
use crate::keeping::learning::{Case, End, halfway, midpoint};

/// Reasons for throwing out that say nothing of keeping: it was sound, or something else befell it.
const NOT_SPOILED: &[&str] = &[
    "burn", "liked", "like it", "want", "drop", "floor", "salt", "bitter", "too much", "too many",
    "too hot", "spic", "allerg", "recall", "broke", "spill", "cat ", "dog ", "taste",
];

/// Thrown out without a word, a lot counts as spoiled from this share of its life on [D]: what
/// leaves earlier leaves for another reason.
const SPOILED_FROM: f64 = 0.5;

/// Outcomes of less of a lot than this, in thousandths, teach nothing.
const LEAST_MILLI: u32 = 10;

/// How something left the house.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Way<'a> {
    Used,
    /// Used because it was going: a loss for learning only.
    UsedGoing,
    ThrownOut(Option<&'a str>),
}

/// The cases that the lots of `draw` make when they leave so at `from`.
pub(super) fn cases(
    state: &State,
    draw: &Draw,
    way: Way<'_>,
    from: Instant,
    cx: &Cx<'_>,
) -> Vec<Case> {
    if !state.settings.learning || draw.lots.is_empty() {
        return Vec::new();
    }
    let pieces = taking::take(&mut state.clone(), draw).pieces;
    pieces.iter().filter_map(|piece| case(state, piece, way, from, cx)).collect()
}

fn case(
    state: &State,
    piece: &taking::Piece,
    way: Way<'_>,
    from: Instant,
    cx: &Cx<'_>,
) -> Option<Case> {
    let lot = state.lot(piece.lot.id)?;
    // Of a lot that still waits to be put away nobody knows where it stands.
    if lot.doubtful || !(lot.put_away || lot.place == Place::Counter) {
        return None;
    }
    let lived = (cx.lived)(lot, from)?;
    let (end, spent) = match way {
        Way::Used => (End::Sound, lived.spent),
        Way::UsedGoing => (End::WasGoing, lived.spent),
        Way::ThrownOut(reason) => {
            if !is_spoiled(reason, lived.spent) {
                return None;
            }
            let zone = state.settings.zone;
            let seen = lot.last_seen.at(from.local(zone).1, zone).min(from);
            let sound = if lot.last_seen > lot.since { (cx.lived)(lot, seen) } else { None };
            let spent = match sound {
                Some(sound) => midpoint(sound.spent, lived.spent),
                None => halfway(lived.spent, lived.shape),
            };
            (End::Spoiled, spent)
        }
    };
    let weight_milli = match (piece.lot.grams, lot.began) {
        (Some(grams), Some(began)) if began > 0 => (grams * 1000 / began).clamp(0, 1000) as u32,
        _ if piece.whole => 1000,
        _ => return None,
    };
    let food = lot.food.clone()?;
    (weight_milli >= LEAST_MILLI).then(|| Case {
        food,
        place: lived.place,
        shape_centi: (lived.shape * 100.0).round() as u32,
        spent_milli: (spent * 1000.0).round().clamp(0.0, 1e6) as u32,
        weight_milli,
        end,
    })
}

fn is_spoiled(reason: Option<&str>, spent: f64) -> bool {
    match reason {
        Some(reason) => !NOT_SPOILED.iter().any(|other| reason.contains(other)),
        None => spent >= SPOILED_FROM,
    }
}
