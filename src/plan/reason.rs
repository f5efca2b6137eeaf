//! Why a lot, why now, and what to do with it: the short line and the long explanation.

use chrono::NaiveTime;

use super::outlook::Outlook;
use super::view::{Held, Urgency};
use crate::conversation::Rich;
use crate::keeping::{Quality, Step};
use crate::rules::Kind;
use crate::wording::ToDo;
use crate::words::{Form, Place};

/// A time at room temperature is worth saying when it took this share of the life spent [D].
const TELLING_SHARE: f64 = 0.4;

/// From so many days left on, "use it today" is not said to be for lack of days.
const SOME_DAYS: f64 = 1.5;

/// Explanations of this many lots at most go into one answer.
const EXPLAINED: usize = 6;

impl Outlook<'_> {
    /// Why this lot is named now, in few words; empty when there is nothing to say.
    pub(super) fn why_now(&self, held: &Held<'_>) -> String {
        let words = self.wording;
        let of = words.number_of(held.lot, self.foods);
        match held.urgency {
            Urgency::Out => return words.why_out(of, &self.limit_reason(held)),
            Urgency::LastSafeDay => {
                let reason = self.limit_reason(held);
                if let Some(at) = held.estimate.safety_at
                    && at.day(self.zone()) == self.today
                {
                    let (_, time) = at.local(self.zone());
                    return words.why_safe_until(&time.format("%H:%M").to_string(), &reason);
                }
                let day = held.estimate.safety_day.unwrap_or(self.today);
                return words.why_last_safe_day(of, &self.say_day(day), &reason);
            }
            Urgency::PastLate => return words.why_past_late(of),
            Urgency::MayFreeze => return self.why_freezing(held),
            Urgency::PastBest => return words.why_past_best(of),
            Urgency::Today | Urgency::Soon | Urgency::Keeps => {}
        }
        if let Some(reason) = self.special_reason(held) {
            return reason;
        }
        let Some(clock) = held.estimate.clock() else { return String::new() };
        let row = held.estimate.steps.iter().find_map(|step| match step {
            Step::Row { basis, .. } => Some(basis),
            _ => None,
        });
        match row {
            Some(basis) if held.lot.stays.len() <= 1 => words.why_usual_range(
                basis.days,
                &words.at_place(&held.lot.place),
                self.today.days_since(held.lot.since),
            ),
            // Past the day one in ten is lost by, but sound so far.
            _ if held.urgency == Urgency::Today && clock.days_left() >= SOME_DAYS => {
                words.why_any_day()
            }
            _ => words.why_days_left(of, clock.days_left()),
        }
    }

    /// What shortened this lot's time, where something did.
    fn special_reason(&self, held: &Held<'_>) -> Option<String> {
        let of = self.wording.number_of(held.lot, self.foods);
        let spent: f64 = held
            .estimate
            .steps
            .iter()
            .map(|step| if let Step::Stay { share, .. } = step { *share } else { 0.0 })
            .sum();
        held.estimate.steps.iter().find_map(|step| match step {
            Step::Chilling { .. } => {
                Some(self.wording.why_chilled(of, &self.wording.at_place(&held.lot.place)))
            }
            Step::Stay { place: Place::Counter, share, days, form, .. }
                if held.lot.place != Place::Counter
                    && *form != Form::Cooked
                    && *share >= TELLING_SHARE * spent
                    && *days >= 0.1 =>
            {
                Some(self.wording.why_warm(of, *days))
            }
            Step::Neighbour { maker, .. } => {
                let maker = self.foods.food(maker).map_or(maker.as_str(), |food| &food.plural);
                Some(self.wording.why_neighbour(of, maker))
            }
            Step::Printed { day, .. } if *day <= self.today.plus(1) => {
                Some(self.wording.why_printed(&self.say_day(*day)))
            }
            _ => None,
        })
    }

    fn why_freezing(&self, held: &Held<'_>) -> String {
        match held.estimate.quality {
            Quality::MayFreeze { at_c } => {
                let of = self.wording.number_of(held.lot, self.foods);
                self.wording.why_may_freeze(of, &self.wording.at_place(&held.lot.place), at_c)
            }
            Quality::Unknown | Quality::Growing | Quality::Known(_) => String::new(),
        }
    }

    /// The reason of the earliest limit.
    fn limit_reason(&self, held: &Held<'_>) -> String {
        let limits = held.lot.limits.iter();
        let end = |limit: &&crate::kitchen::Limit| {
            let day = limit.day.map(|day| day.plus(1).at(NaiveTime::MIN, self.zone()));
            day.into_iter().chain(limit.at).min()
        };
        limits
            .min_by_key(|limit| (end(limit).is_none(), end(limit)))
            .map_or_else(String::new, |limit| limit.why.clone())
    }

    /// What to do with it, as an instruction.
    pub(super) fn to_do(&self, held: &Held<'_>) -> String {
        let freeze = held.can_freeze();
        let by = self.by(held);
        let what = match held.urgency {
            Urgency::Out => ToDo::ThrowOut,
            Urgency::LastSafeDay if freeze && is_cooked_first(held) => ToDo::CookOrFreeze,
            Urgency::LastSafeDay if freeze => ToDo::EatOrFreeze,
            Urgency::LastSafeDay if is_cooked_first(held) => ToDo::CookOrThrow,
            Urgency::LastSafeDay => ToDo::EatOrThrow,
            Urgency::PastLate => ToDo::Look,
            Urgency::MayFreeze => ToDo::BringIn,
            Urgency::Today if freeze && is_cooked_first(held) => ToDo::CookOrFreeze,
            Urgency::Today if freeze => ToDo::UseOrFreeze,
            Urgency::Today => ToDo::UseToday,
            Urgency::Soon if freeze => ToDo::UseOrFreezeBy(&by),
            Urgency::Soon => ToDo::UseBy(&by),
            Urgency::PastBest => ToDo::FirstOut,
            Urgency::Keeps if held.use_by(self.today).is_some() => ToDo::FineUntil(&by),
            Urgency::Keeps => return String::new(),
        };
        self.wording.to_do(what, self.wording.number_of(held.lot, self.foods))
    }

    fn by(&self, held: &Held<'_>) -> String {
        self.say_day(held.use_by(self.today).unwrap_or(self.today))
    }

    /// How these estimates were made, lot by lot.
    pub fn explain_all(&self, lots: &[&Held<'_>]) -> Rich {
        let mut text = Rich::new();
        for held in lots.iter().take(EXPLAINED) {
            text.push_line(self.explain(held));
        }
        text
    }

    /// How one lot's estimate was made: the row, the places, what changed it, and the range.
    pub fn explain(&self, held: &Held<'_>) -> Rich {
        let words = self.wording;
        let mut parts: Vec<String> = Vec::new();
        let row = held.estimate.steps.iter().find_map(|step| match step {
            Step::Row { basis, place, climate } => Some((basis, place, climate)),
            _ => None,
        });
        if let Some((basis, place, climate)) = row {
            let source = basis.row.cite.map(|cite| self.keeper.rules().source(cite));
            let source = source.map_or_else(|| words.explain_own_rule(), |s| s.full.clone());
            let row_days = (f64::from(basis.row.days.min), f64::from(basis.row.days.max));
            let row_place = basis.row.place.as_ref().unwrap_or(place);
            parts.push(words.explain_row(row_days, &words.at_place(row_place), &source));
            parts.extend(words.explain_scaled(basis.scaled, basis.days, &words.at_place(place)));
            if crate::keeping::is_guess(*climate) {
                parts.push(words.explain_guess(&words.the_place(place), climate.celsius));
            }
        }
        for step in &held.estimate.steps {
            parts.extend(self.explain_step(step));
        }
        match &held.estimate.quality {
            Quality::Known(clock) => {
                let day = |at: crate::dates::Instant| self.say_day(at.day(self.zone()));
                parts.push(if clock.frozen {
                    words.explain_best_until(&day(clock.early), &day(clock.late))
                } else {
                    words.explain_range(&day(clock.early), &day(clock.late))
                });
                parts.extend(clock.limp.map(|at| words.explain_limp(&day(at))));
            }
            Quality::Unknown => parts.push(words.explain_unknown()),
            Quality::Growing => parts.push(words.explain_growing()),
            Quality::MayFreeze { at_c } => {
                let of = words.number_of(held.lot, self.foods);
                parts.push(words.why_may_freeze(of, &words.at_place(&held.lot.place), *at_c));
            }
        }
        let mut text = Rich::new();
        text.push_strong(self.say(held));
        text.push(format!(": {}", parts.join(" ")));
        text
    }

    fn explain_step(&self, step: &Step) -> Option<String> {
        let words = self.wording;
        match step {
            Step::Row { .. } => None,
            Step::Stay { days, share, .. } if *days < 0.05 || *share < 0.005 => None,
            Step::Stay { place, days, share, .. } => {
                Some(words.explain_stay(*days, &words.at_place(place), *share))
            }
            Step::Neighbour { maker, factor } => {
                let maker = self.foods.food(maker).map_or(maker.as_str(), |food| &food.plural);
                Some(words.explain_neighbour(maker, *factor))
            }
            Step::Chilling { safe_c, injury } => {
                Some(words.explain_chilling(*safe_c, &self.say_day(injury.day(self.zone()))))
            }
            Step::Learned { factor, cases } => Some(words.explain_learned(*factor, *cases)),
            Step::Printed { day, .. } => Some(words.explain_printed(&self.say_day(*day))),
            Step::Frozen => Some(words.explain_frozen()),
            Step::Limit { day, at, why, source } => {
                let when = match (day, at) {
                    (_, Some(at)) => at.wall(self.zone()),
                    (Some(day), None) => self.say_day(*day),
                    (None, None) => return None,
                };
                Some(words.explain_limit(&when, why, source))
            }
        }
    }
}

/// Whether people cook it rather than eat it as it is.
fn is_cooked_first(held: &Held<'_>) -> bool {
    let kind = held.food.map(|food| food.kind);
    let raw = matches!(held.lot.form, Form::Whole | Form::Cut | Form::Thawed);
    let cooked = [Kind::LeafyGreen, Kind::Vegetable, Kind::Root, Kind::Mushroom, Kind::Legume];
    let meat = [Kind::Meat, Kind::Fish];
    raw && kind.is_some_and(|kind| cooked.contains(&kind) || meat.contains(&kind))
}
