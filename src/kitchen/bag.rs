//! The trimmings bag: how full it is, how strong, how old.
//!
//! Rough by nature: scraps are rarely weighed. Nothing here enters the ledger.

use super::event::Scrap;
use super::state::State;
use crate::dates::KitchenDay;
use crate::units::Ratio;

/// The room a handful takes, and any scrap whose amount nobody said, in millilitres [D].
pub const HANDFUL_ML: u32 = 150;
/// Millilitres a gram of frozen scraps takes in the bag, with the air between them [D].
const ML_PER_GRAM: i64 = 3;
/// A bag this full is worth a pot of stock, in per cent [D].
const READY_PERCENT: u64 = 80;

/// The room scraps of this weight or volume take.
pub fn room_ml(grams: Option<i64>, millilitres: Option<i64>) -> u32 {
    let room = millilitres.or(grams.map(|grams| grams.saturating_mul(ML_PER_GRAM)));
    room.and_then(|ml| u32::try_from(ml.max(1)).ok()).unwrap_or(HANDFUL_ML)
}

fn room(scraps: &[Scrap]) -> u64 {
    scraps.iter().map(|scrap| u64::from(scrap.room_ml)).sum()
}

/// How full the bag is, 0 to 1.
pub fn filled(state: &State) -> Ratio {
    let room = room(&state.trimmings).min(u64::from(state.settings.bag_ml));
    let size = i64::from(state.settings.bag_ml).max(1);
    let room = i64::try_from(room).unwrap_or(size);
    Ratio::new(room, size).unwrap_or(Ratio::ONE)
}

/// The share of the bag that is strong in taste; zero of an empty bag.
pub fn strong_share(scraps: &[Scrap]) -> Ratio {
    let strong: u64 =
        scraps.iter().filter(|scrap| scrap.strong).map(|scrap| u64::from(scrap.room_ml)).sum();
    let share = i64::try_from(strong).ok().zip(i64::try_from(room(scraps)).ok());
    share.and_then(|(strong, all)| Ratio::new(strong, all)).unwrap_or(Ratio::ZERO)
}

/// The day the bag became full enough for stock; `None` while it is not.
pub fn ready_since(state: &State) -> Option<KitchenDay> {
    let enough = u64::from(state.settings.bag_ml) * READY_PERCENT / 100;
    let mut held = 0;
    let filling = state.trimmings.iter().find(|scrap| {
        held += u64::from(scrap.room_ml);
        held >= enough
    });
    filling.map(|scrap| scrap.day)
}

/// The day of the oldest scraps in it.
pub fn oldest(state: &State) -> Option<KitchenDay> {
    state.trimmings.iter().map(|scrap| scrap.day).min()
}
