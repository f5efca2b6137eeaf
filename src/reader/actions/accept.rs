//! Which lists are about food: what is surely food, what falls out.

use crate::reader::Analysis;
use crate::reader::details::is_animal;
use crate::reader::items::{Found, List};
use crate::units::Dimension;

/// The list when it is about food: at least one item surely food; what is surely none falls out.
pub fn accept(a: &Analysis<'_>, list: List) -> Option<List> {
    keep(a, list, |f| {
        let said = f.amount || f.definite || f.vague || f.item.price.is_some();
        f.known && (!f.homonym || said) || f.holds_food && f.amount || measured(a, f)
    })
}

/// As [`accept`], but a known food without homonyms must be there.
pub fn accept_sure(a: &Analysis<'_>, list: List) -> Option<List> {
    keep(a, list, |f| f.known && (!f.homonym || f.amount))
}

pub(super) fn keep(
    a: &Analysis<'_>,
    mut list: List,
    sure: impl Fn(&Found) -> bool,
) -> Option<List> {
    if !list.found.iter().any(&sure) {
        return None;
    }
    list.found.retain(|f| {
        let last = f.tokens.end.saturating_sub(1);
        let not_food = !f.known && a.tag(last).is_not_food();
        let bare_common = !f.known
            && !f.amount
            && f.tokens.clone().all(|k| {
                !a.text.is_word(k)
                    || a.lexicon.is_common(a.text.word(k))
                    || a.tag(k).is_stop()
                    || a.tag(k).is_subject()
            });
        // "dog food", "cat treats": no food of the house.
        let fed = f.tokens.clone().any(|k| is_animal(a.text.word(k)))
            && matches!(
                a.text.word(last),
                "food" | "treats" | "biscuits" | "kibble" | "litter" | "feed"
            );
        !not_food && !bare_common && !fed
    });
    (!list.found.is_empty()).then_some(list)
}

/// An unknown food in a measuring unit ("2 lb zorbles") or, when spoken to, in any amount.
pub(super) fn measured(a: &Analysis<'_>, found: &Found) -> bool {
    let last = found.tokens.end.saturating_sub(1);
    if a.tag(last).is_not_food() || found.item.name.len() < 3 {
        return false;
    }
    let measure = found
        .item
        .unit
        .or(found.item.size.and_then(|s| s.unit))
        .is_some_and(|u| u.dimension() != Dimension::Count);
    found.amount && (measure || a.context.addressed)
}

pub fn confidence(list: &List) -> f32 {
    let unknown = list.found.iter().filter(|f| !f.known).count();
    match (unknown, list.found.len()) {
        (0, _) => 0.95,
        (u, n) if u < n => 0.85,
        _ => 0.7,
    }
}
