//! The household's own lots: "yours was opened on Sunday, so until Wednesday".

use super::Asked;
use super::compose::Finding;
use crate::kitchen::Lot;
use crate::rules::Food;
use crate::wording::sentence;
use crate::words::Verdict;

impl<'a> Asked<'a> {
    /// What the record says of the household's own lots of a food: the strictest limit among
    /// them, one finding at most, none where no hard limit stands on any of them.
    pub(super) fn yours(&self, food: &Food) -> Vec<Finding> {
        let Some(state) = self.cx.state else { return Vec::new() };
        let lots = state.lots.iter().filter(|lot| lot.food.as_ref() == Some(&food.id));
        let limited = lots.filter_map(|lot| {
            let limits = lot.limits.iter().filter_map(|limit| {
                let from_instant =
                    limit.at.map(|at| (at.day(self.cx.settings.zone), at < self.cx.now));
                let from_day = limit.day.map(|day| (day, day < self.today));
                let (day, past) = from_day.or(from_instant)?;
                Some((day, past, limit))
            });
            let (day, past, limit) = limits.min_by_key(|(day, past, _)| (!past, *day))?;
            Some((lot, day, past, limit))
        });
        let Some((lot, day, past, limit)) = limited.min_by_key(|(_, day, past, _)| (!past, *day))
        else {
            return Vec::new();
        };
        let say = self.say;
        let (what, place) = (self.lot_name(lot), say.place(&lot.place));
        let seen = say.day_seen(day, self.today);
        let why = sentence(&limit.why);
        let (verdict, lead) = if past {
            let seen = crate::wording::capital(&seen);
            (Verdict::Discard, say.yours_past(what, place, seen, why))
        } else {
            (Verdict::Use, say.yours_use(what, place, seen, why))
        };
        let mut finding = Finding::new(verdict, food.noun().to_owned(), lead);
        finding.reason(limit.source.as_str());
        vec![finding]
    }

    fn lot_name(&self, lot: &Lot) -> String {
        self.say.formed(&lot.name, lot.form)
    }
}
