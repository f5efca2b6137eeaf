//! What is left of a food after what was just told, for the line that says so.

use super::choose::same_food;
use super::*;
use crate::kitchen::outcome::Left;

/// Fills in what is left of each food that went out or changed.
pub(super) fn fill(state: &State, out: &mut Outcome, cx: &Cx<'_>) {
    let wanted = |deed: &Deed| {
        matches!(
            deed,
            Deed::Used
                | Deed::Given
                | Deed::Discarded { .. }
                | Deed::Frozen
                | Deed::Dried
                | Deed::Made
        )
    };
    if !out.told.iter().any(|told| wanted(&told.deed)) {
        return;
    }
    let mut after = state.clone();
    for event in number(out.events.clone(), state.last_event, cx) {
        after.apply(&event);
    }
    for told in out.told.iter_mut().filter(|told| wanted(&told.deed)) {
        for line in &mut told.lines {
            let drawn = line.lots.iter().any(|id| state.lot(*id).is_some());
            if drawn && line.of.part.is_none() {
                let left = left_of(&after, &told.deed, line);
                // What is all in the freezer is not gone.
                let stored = matches!(told.deed, Deed::Frozen | Deed::Dried);
                line.left = Some(left).filter(|left| !(stored && *left == Left::Nothing));
            }
        }
    }
}

/// What is on record of these foods now.
pub(super) fn now(state: &State, foods: &[Named]) -> Told {
    let lines = foods.iter().map(|of| {
        let mut line = Line::new(of.clone(), Form::Whole, Spoken::Plain);
        line.left = Some(left_of(state, &Deed::Now, &line));
        line
    });
    Told { deed: Deed::Now, lines: lines.collect(), day: None }
}

/// What the house still holds of the food, fresh or, where that is what went, from the stores.
fn left_of(after: &State, deed: &Deed, line: &Line) -> Left {
    let stored = |form: Form| matches!(form, Form::Frozen | Form::Dried);
    let of_stores = stored(line.form) && !matches!(deed, Deed::Frozen | Deed::Dried);
    let lots: Vec<&Lot> = after
        .lots
        .iter()
        .filter(|lot| line.lots.contains(&lot.id) || same_food(lot, &line.of))
        .filter(|lot| lot.part.is_none() && stored(lot.form) == of_stores)
        .collect();
    let Some(first) = lots.first() else { return Left::Nothing };
    let mut sums: Vec<Quantity> = Vec::new();
    for lot in &lots {
        let Some(quantity) = lot.quantity else { return Left::Some(first.place.clone()) };
        match sums.iter_mut().find_map(|sum| sum.checked_add(quantity).map(|new| (sum, new))) {
            Some((sum, new)) => *sum = new,
            None => sums.push(quantity),
        }
    }
    Left::Exact(sums, first.place.clone())
}
