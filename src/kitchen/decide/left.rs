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
                line.left = Some(left_of(&after, line));
            }
        }
    }
}

/// What the lots the draw was made from, and others of the kind that stand with them, still hold.
fn left_of(after: &State, line: &Line) -> Left {
    let forms = |lot: &&Lot| match line.form {
        Form::Frozen | Form::Dried if line.lots.contains(&lot.id) => lot.form != line.form,
        form => {
            matches!(lot.form, Form::Frozen | Form::Dried)
                == matches!(form, Form::Frozen | Form::Dried)
        }
    };
    let lots: Vec<&Lot> = after
        .lots
        .iter()
        .filter(|lot| line.lots.contains(&lot.id) || same_food(lot, &line.of))
        .filter(|lot| lot.part.is_none())
        .filter(forms)
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
