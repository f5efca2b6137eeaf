//! Which lots a statement means, in the order they are drawn on: what spoils first goes first.

use super::{Deciding, Read};
use crate::conversation::MessageId;
use crate::dates::{Instant, KitchenDay};
use crate::kitchen::event::{Amount, Named, PersonId, What};
use crate::kitchen::outcome::Deed;
use crate::kitchen::state::{Lot, LotId};
use crate::rules::Kind;
use crate::statement::Item;
use crate::units::Ratio;
use crate::words::{Form, Place};

/// What is gone longer than this is not looked for, in days.
const GONE_DAYS: i64 = 21;

/// How a food left the record.
pub(super) struct Gone {
    pub message: MessageId,
    pub day: KitchenDay,
    pub by: Option<PersonId>,
    pub at: Instant,
    pub how: Deed,
    pub lots: Vec<LotId>,
}

/// What the lots are wanted for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Purpose {
    /// Eating, giving, throwing out: fresh before cooked before what keeps for months.
    Out,
    /// Cutting, freezing, putting in water: only what is not frozen or dried.
    Change,
    /// Taking out of the freezer.
    Thaw,
    /// Putting in water: of what is neither frozen nor dried, what was cut for it a moment ago.
    Water,
    /// Moving: whatever is not there already.
    Move,
}

/// Cut for the water and put there within this time, in minutes.
const CUT_FOR_IT_MINUTES: i64 = 15;

impl Deciding<'_> {
    /// The lots an item may mean, first to last.
    pub(super) fn candidates(&self, item: &Item, of: &Named, purpose: Purpose) -> Vec<LotId> {
        let mut lots: Vec<&Lot> = self.state.lots.iter().filter(|lot| same_food(lot, of)).collect();
        if lots.is_empty() {
            lots = self.state.lots.iter().filter(|lot| called(lot, of)).collect();
        }
        // Of several dishes of one kind, the one that is named.
        prefer(&mut lots, |lot| same_word(&lot.name, &of.name));
        match &of.part {
            // A part that is not on record by itself is a trimming of something, not the food.
            Some(part) => lots.retain(|lot| lot.part.as_ref() == Some(part)),
            None => prefer(&mut lots, |lot| lot.part.is_none()),
        }
        let pieces = ["stick", "sticks", "pieces", "slices", "chunks", "cubes"];
        if item.form.is_none() && item.name.split(' ').any(|word| pieces.contains(&word)) {
            prefer(&mut lots, |lot| matches!(lot.form, Form::Cut | Form::InWater));
        }
        // "Cut up one celery, it's in water": what was just cut, not the rest of the celery.
        let changes = matches!(purpose, Purpose::Change | Purpose::Move);
        if changes && item.quantity.is_none() && item.fraction.is_none() {
            prefer(&mut lots, |lot| lot.id.0 >= self.first_new);
        }
        match purpose {
            Purpose::Out | Purpose::Move => {}
            Purpose::Change => lots.retain(|lot| !matches!(lot.form, Form::Frozen | Form::Dried)),
            Purpose::Water => {
                lots.retain(|lot| !matches!(lot.form, Form::Frozen | Form::Dried));
                if item.quantity.is_none() && item.fraction.is_none() {
                    prefer(&mut lots, |lot| self.was_just_cut(lot));
                }
            }
            Purpose::Thaw => lots.retain(|lot| lot.form == Form::Frozen),
        }
        if purpose == Purpose::Out
            && let Some(form) = item.form
        {
            match form {
                Form::Frozen | Form::Dried => lots.retain(|lot| lot.form == form),
                // All of the cooked rice is not the sack it came from.
                Form::Cooked if item.quantity.is_none() && self.is_staple(of) => {
                    lots.retain(|lot| lot.form == form);
                }
                // Stems stand in it whole.
                Form::InWater => {
                    prefer(&mut lots, |lot| lot.form == form || lot.water.is_some());
                }
                // Raw on record and cooked by now.
                _ => prefer(&mut lots, |lot| lot.form == form),
            }
        }
        if purpose == Purpose::Out
            && let Some(place) = self.place(item)
        {
            prefer(&mut lots, |lot| stands_in(lot, &place));
        }
        lots.sort_by_key(|lot| {
            let by = (self.cx.use_by)(lot).or(lot.safety_day(self.state.settings.zone));
            let out = lot.is_out(self.cx.now, self.state.settings.zone);
            (keeps(lot.form), out, by.is_none(), by, lot.since, lot.id)
        });
        lots.iter().map(|lot| lot.id).collect()
    }

    /// Whether a food is kept dry and swells as it is cooked.
    fn is_staple(&self, of: &Named) -> bool {
        let kind = self.food_of(of).map(|food| food.kind);
        matches!(kind, Some(Kind::Grain | Kind::Legume | Kind::Pantry))
    }

    fn was_just_cut(&self, lot: &Lot) -> bool {
        let since = lot.stays.last().map(|stay| self.from.minutes_since(stay.from));
        lot.form == Form::Cut && since.is_some_and(|age| (0..=CUT_FOR_IT_MINUTES).contains(&age))
    }

    /// What the log says became of a food of which nothing is on record: the newest message that
    /// took lots of it away, with those lots.
    pub(super) fn gone(&self, of: &Named) -> Option<Gone> {
        let force = crate::kitchen::log::in_force(self.cx.log);
        for event in force.into_iter().rev() {
            if self.cx.today.days_since(event.day) > GONE_DAYS {
                return None;
            }
            let (how, lots): (Deed, &[LotId]) = match &event.what {
                What::Used { draw } => (Deed::Used, &draw.lots),
                What::Given { draw } => (Deed::Given, &draw.lots),
                What::Discarded { draw, to, .. } => (Deed::Discarded { to: *to }, &draw.lots),
                What::Uncounted { lots } => (Deed::Gone, lots),
                What::Counted { lots, .. } => (Deed::Gone, lots),
                // Nothing else takes food away.
                _ => continue,
            };
            let lots: Vec<LotId> = lots
                .iter()
                .copied()
                .filter(|id| self.state.lot(*id).is_none() && self.was(*id, of))
                .collect();
            if let Some(message) = event.message
                && !lots.is_empty()
            {
                let (day, by, at) = (event.day, event.person, event.at);
                return Some(Gone { message, day, by, at, how, lots });
            }
        }
        None
    }

    /// Keeps of `lots` those that "all of it" or a share of it means: the lots that are as fresh
    /// as the first one.
    pub(super) fn meant(&self, read: &Read, lots: Vec<LotId>) -> Vec<LotId> {
        if !matches!(read.amount, Amount::Share(_)) {
            return lots;
        }
        let class = |id: &LotId| self.state.lot(*id).map(|lot| keeps(lot.form));
        let first = lots.first().and_then(class);
        lots.into_iter().filter(|id| class(id) == first).collect()
    }

    /// Whether these lots hold one piece at most.
    pub(super) fn is_one(&self, lots: &[LotId]) -> bool {
        let [only] = lots else { return false };
        let held = self.state.lot(*only).and_then(|lot| lot.quantity);
        held.is_some_and(|held| held.unit.is_none() && held.value <= Ratio::ONE)
    }

    /// Whether the first of these lots holds more than one of something counted.
    pub(super) fn several(&self, lots: &[LotId]) -> Option<crate::units::Quantity> {
        let held = lots.first().and_then(|id| self.state.lot(*id))?.quantity?;
        let many = held.dimension() == crate::units::Dimension::Count && held.value > Ratio::ONE;
        many.then(|| crate::units::Quantity::new(Ratio::ONE, held.unit))
    }
}

/// How long a form keeps, roughly: fresh first, then cooked, then what lasts for months.
fn keeps(form: Form) -> u8 {
    match form {
        Form::Whole | Form::Cut | Form::InWater | Form::Thawed | Form::Opened => 0,
        Form::Cooked => 1,
        Form::Frozen | Form::Dried => 2,
    }
}

pub(super) fn same_food(lot: &Lot, of: &Named) -> bool {
    match (&lot.food, &of.food) {
        (Some(a), Some(b)) => a == b,
        _ => same_word(&lot.name, &of.name),
    }
}

/// A dish by a part of its name: "stew" for the bean stew.
fn called(lot: &Lot, of: &Named) -> bool {
    let mut said = of.name.split_whitespace().peekable();
    said.peek().is_some()
        && said.all(|word| lot.name.split_whitespace().any(|held| same_word(held, word)))
}

/// The same word, whatever its case and plural s.
fn same_word(a: &str, b: &str) -> bool {
    let stem = |word: &str| {
        let word = word.trim().to_lowercase();
        word.strip_suffix('s').map_or(word.clone(), str::to_owned)
    };
    stem(a) == stem(b)
}

/// Whether a lot stands in a place; the crisper is a drawer of the fridge.
pub(super) fn stands_in(lot: &Lot, place: &Place) -> bool {
    lot.place == *place || (*place == Place::Fridge && lot.place == Place::Crisper)
}

/// Keeps what fits, if anything does.
pub(super) fn prefer(lots: &mut Vec<&Lot>, fits: impl Fn(&Lot) -> bool) {
    if lots.iter().any(|lot| fits(lot)) {
        lots.retain(|lot| fits(lot));
    }
}
