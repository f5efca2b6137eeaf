//! What is left of a food after what was just told, for the line that says so.

use super::choose::same_food;
use super::*;
use crate::kitchen::outcome::Left;

/// Fills in what is left of each food that went out or changed, and until when what came of it
/// may be eaten.
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
    let limited = |deed: &Deed| {
        matches!(
            deed,
            Deed::Made
                | Deed::Cooked
                | Deed::Cut
                | Deed::Frozen
                | Deed::Thawed
                | Deed::Moved
                | Deed::Opened
        )
    };
    if !out.told.iter().any(|told| wanted(&told.deed) || limited(&told.deed)) {
        return;
    }
    let mut after = state.clone();
    for event in number(out.events.clone(), state.last_event, cx) {
        after.apply(&event);
    }
    let whats: Vec<&What> = out.events.iter().map(|happened| &happened.what).collect();
    for told in out.told.iter_mut() {
        for line in &mut told.lines {
            match told.deed {
                // It may not be eaten yet.
                Deed::Used | Deed::Given => {
                    let drawn = line.lots.iter().filter_map(|id| state.lot(*id));
                    line.eat_by = drawn.filter_map(|lot| last_day(lot, state, cx)).min();
                    line.eat_by = line.eat_by.filter(|day| *day < cx.today);
                }
                _ if limited(&told.deed) => {
                    let made = came_of(line, &whats, state, &after);
                    let lots = made.iter().filter_map(|id| after.lot(*id));
                    let days = lots.filter_map(|lot| last_day(lot, &after, cx));
                    line.eat_by = line.eat_by.into_iter().chain(days).min();
                }
                _ => {}
            }
        }
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

/// The lots that came of what a line tells.
fn came_of(line: &Line, whats: &[&What], before: &State, after: &State) -> Vec<LotId> {
    let mut lots = Vec::new();
    for what in whats {
        match what {
            What::Made { into, .. } if line.lots.contains(&into.lot) => lots.push(into.lot),
            What::Preserved { change, .. }
            | What::Prepared { change }
            | What::Thawed { change }
            | What::Opened { change }
            | What::Moved { change }
                if change.draw.lots == line.lots =>
            {
                // A lot that was drawn in part stays what it was.
                let shape = |state: &State, id| {
                    state.lot(id).map(|lot| (lot.form, lot.place.clone(), lot.put_away))
                };
                let changed = |id: &LotId| shape(before, *id) != shape(after, *id);
                lots.extend(change.pieces.iter().copied());
                lots.extend(change.draw.lots.iter().copied().filter(changed));
            }
            _ => {}
        }
    }
    lots
}

/// The last day a lot may be eaten; of frozen food only where that was past before it froze,
/// because nothing frozen becomes safe again.
fn last_day(lot: &Lot, state: &State, cx: &Cx<'_>) -> Option<KitchenDay> {
    match lot.form {
        _ if lot.is_out(cx.now, state.settings.zone) => Some(cx.today.plus(-1)),
        Form::Frozen => None,
        _ => lot.safety_day(state.settings.zone),
    }
}
