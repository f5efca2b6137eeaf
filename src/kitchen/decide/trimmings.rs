//! The trimmings bag: what goes in, what is kept out and why, and the stock made of it.

use super::choose::Purpose;
use super::*;
use crate::kitchen::bag;
use crate::kitchen::event::Scrap;
use crate::kitchen::outcome::BagNote;
use crate::rules::{Suitability, has_words};
use crate::words::{Destination, Role, Verdict};

/// What people call trimmings of everything together.
const MIXED: &[&str] = &[
    "scraps",
    "kitchen scraps",
    "vegetable scraps",
    "veggie scraps",
    "veg scraps",
    "food scraps",
    "peelings",
    "vegetable peelings",
    "peels",
    "trimmings",
    "vegetable trimmings",
    "veg trimmings",
    "offcuts",
    "ends",
];

/// What people call the bag itself.
const BAG: &[&str] = &["trimmings bag", "stock bag", "scrap bag", "scraps bag", "bag of scraps"];

/// Why a scrap stays out of the bag, or only a little of it goes in: the reason in few words, and
/// the source's short name. No words: it is spoiled. Nothing at all: no rule is known.
type Reason = Option<(String, String)>;

/// With fewer scraps in the bag its mixture is not worth a word.
const FEW_SCRAPS: usize = 3;

pub(super) fn is_bag(name: &str) -> bool {
    BAG.contains(&name.trim())
}

/// Trimmings of no food in particular.
pub(super) fn is_mixed(item: &Item) -> bool {
    item.food.is_none() && MIXED.contains(&item.name.trim())
}

impl Deciding<'_> {
    pub(super) fn scraps_saved(&mut self) {
        let mut scraps = Vec::new();
        let mut lines = Vec::new();
        let mut kept_out = Vec::new();
        for item in &self.statement.items {
            let of = if is_mixed(item) { Named::mixed_scraps() } else { self.scrap_name(item) };
            let read = match read_amount(item, self.food(item), Amount::Vague) {
                Ok(read) => read,
                Err(trouble) => {
                    self.trouble(trouble);
                    continue;
                }
            };
            let mut line = Line::new(of.clone(), Form::Whole, read.spoken);
            match self.suits_the_bag(item) {
                Err(refusal) => {
                    line.why = refusal;
                    kept_out.push(line);
                }
                Ok(strong) => {
                    line.why = strong.clone();
                    let (scrap, lots) = self.scrap(item, of, &read, strong.is_some());
                    line.lots = lots;
                    lines.push(line);
                    scraps.push(scrap);
                }
            }
        }
        if !scraps.is_empty() {
            let mut state = self.state.clone();
            state.trimmings.extend(scraps.iter().cloned());
            self.happened(What::ScrapsSaved { scraps });
            self.told(Deed::ScrapsSaved, lines);
            self.note_on_bag(&state);
        }
        if !kept_out.is_empty() {
            self.told(Deed::KeptOutOfBag, kept_out);
        }
    }

    /// A scrap by its food and its part in people's own word ("tops" of the leek).
    fn scrap_name(&self, item: &Item) -> Named {
        let mut of = self.named(item);
        let said = item.name.split_once(" of ").map_or_else(
            || item.name.rsplit_once(' ').map(|(_, last)| last),
            |(part, _)| Some(part),
        );
        if of.food.is_some() && of.part.is_some() && item.part.is_some() {
            of.part = said.map(str::to_owned).or(of.part);
        }
        of
    }

    /// A scrap with its weight. Pieces of peel have none: only a weight said is one. Whole food
    /// comes out of its lots.
    fn scrap(&self, item: &Item, of: Named, read: &Read, strong: bool) -> (Scrap, Vec<LotId>) {
        let quantity = match read.amount {
            Amount::Exact(quantity) => Some(quantity),
            Amount::Share(_) | Amount::Vague => None,
        };
        let lots = match of.part {
            None if !of.is_mixed_scraps() => self.candidates(item, &of, Purpose::Out),
            _ => Vec::new(),
        };
        let plain = |id: &LotId| self.state.lot(*id).is_some_and(|lot| lot.contents.is_empty());
        let lots: Vec<LotId> = lots.into_iter().filter(plain).collect();
        let draw = (!lots.is_empty()).then(|| {
            // "Carrots in the bag" without more: some of them, not all.
            self.draw(of.clone(), self.meant(read, lots.clone()), read)
        });
        let weighed = quantity.and_then(Quantity::grams).map(Ratio::rounded);
        let grams = draw.as_ref().map_or(weighed, |draw| draw.grams);
        let millilitres = quantity.and_then(Quantity::millilitres).map(Ratio::rounded);
        let handfuls = quantity.filter(|quantity| {
            quantity.unit == Some(crate::units::Unit::Handful) && quantity.value.is_positive()
        });
        let handfuls = handfuls.map(|quantity| {
            let ml = quantity.value.checked_mul(Ratio::whole(i64::from(bag::HANDFUL_ML)));
            ml.map_or(i64::from(bag::HANDFUL_ML), Ratio::rounded)
        });
        let room_ml = bag::room_ml(grams, millilitres.or(handfuls));
        (Scrap { of, grams, day: self.day, room_ml, strong, draw }, lots)
    }

    /// Whether a scrap may go in: with the reason to take only a little of it, or not at all.
    fn suits_the_bag(&self, item: &Item) -> Result<Reason, Reason> {
        let rules = self.cx.foods.bag();
        let said = format!(
            "{} {} {}",
            item.reason.as_deref().unwrap_or_default(),
            item.name,
            item.part.as_deref().unwrap_or_default()
        );
        let said = said.to_lowercase();
        if rules.refused.iter().any(|word| has_words(&said, word)) {
            return Err(Some((String::new(), self.cx.foods.source(rules.cite))));
        }
        if is_mixed(item) {
            return Ok(None);
        }
        let Some(food) = self.food(item) else { return Err(None) };
        let source = |cite| self.cx.foods.source(cite);
        let part = item.part.as_deref().and_then(|word| food.part(word)).or_else(|| {
            let mut words = item.name.split(' ').rev();
            words.find_map(|word| food.part(word).filter(|part| !part.main))
        });
        let judged = part.or_else(|| food.main_part().filter(|_| food.hazard));
        let refused = judged
            .filter(|part| matches!(part.verdict, Verdict::Toxic | Verdict::NotFood))
            .map(|part| (part.verdict, Some((part.why.clone(), source(part.cite)))));
        match refused {
            Some((Verdict::Toxic, why)) => return Err(why),
            // Nobody eats an onion's skin, but it is good in stock.
            Some((_, why)) if food.scrap(&said).is_none() => return Err(why),
            Some(_) | None => {}
        }
        if food.hazard {
            return Err(None);
        }
        // Sound vegetables themselves are as good as the scraps named first.
        let whole = || food.trimmings.first().filter(|_| item.part.is_none());
        let row = food.scrap(&said).or_else(|| food.trimming(item.part.as_deref())).or_else(whole);
        let Some(row) = row else { return Err(None) };
        match row.suitability {
            Suitability::Good => Ok(None),
            Suitability::SmallAmounts => Ok(Some((row.why.clone(), String::new()))),
            Suitability::LeaveOut => Err(Some((row.why.clone(), source(row.cite)))),
        }
    }

    /// What the bag is like now, where that is worth a word.
    fn note_on_bag(&mut self, state: &State) {
        let over = bag::strong_share(&state.trimmings) > self.cx.foods.bag().strong_share;
        let note = if bag::ready_since(state).is_some() {
            BagNote::Ready
        } else if over && state.trimmings.len() > FEW_SCRAPS {
            BagNote::TooStrong
        } else {
            return;
        };
        self.told(Deed::BagNote(note), Vec::new());
    }

    pub(super) fn bag_emptied(&mut self, to: Destination) {
        if self.state.trimmings.is_empty() {
            return self.trouble(Trouble::BagEmpty);
        }
        self.happened(What::BagEmptied { to });
        self.told(Deed::BagEmptied { to }, Vec::new());
    }

    pub(super) fn stock_made(&mut self) {
        let said = self.statement.items.iter().find(|item| item.role != Some(Role::From));
        let made =
            said.cloned().unwrap_or_else(|| Item { name: "stock".to_owned(), ..Item::default() });
        let food = self.food(&made);
        let mut of = self.named(&made);
        if of.name.is_empty() {
            "stock".clone_into(&mut of.name);
        }
        let read = match read_amount(&made, food, Amount::Vague) {
            Ok(read) => read,
            Err(trouble) => return self.trouble(trouble),
        };
        let quantity = match read.amount {
            Amount::Exact(quantity) => Some(quantity),
            Amount::Share(_) | Amount::Vague => None,
        };
        let place = self.place(&made).unwrap_or(Place::Fridge);
        let frozen = place == Place::Freezer;
        let form = if frozen { Form::Frozen } else { Form::Cooked };
        let limits = if frozen { Vec::new() } else { self.limits(food, Form::Cooked, &place) };
        let mut line = Line::new(of.clone(), form, read.spoken);
        line.place = Some(place.clone());
        line.eat_by = eat_by(&limits, self.state);
        let into = NewLot {
            lot: self.lot_id(),
            of,
            from: self.from,
            form,
            place,
            put_away: true,
            quantity,
            // Water is not food that came in, and the trimmings leave with the solids.
            grams: None,
            cost: None,
            limits,
            printed: None,
        };
        line.lots = vec![into.lot];
        self.happened(What::StockMade { into });
        self.told(Deed::StockMade, vec![line]);
    }
}
