//! The morning post and the evening round.
//!
//! The post names at most `MOST_LOTS` lots in use-first order, each with its amount, why now and
//! what to do, then the chores. On a bad day it triages: one line each for safety, tonight,
//! freezing and chores. It never repeats itself for long: a lot past its late day is asked about
//! once, one that is out is named once, and a pressing one stands in at most two posts unanswered.

use std::collections::BTreeMap;

use super::outlook::{Outlook, Said};
use super::view::{Held, Urgency};
use crate::chores::{Chore, ChoreKind, Lateness, due};
use crate::conversation::{Button, LotDeed, Rich};
use crate::dates::KitchenDay;
use crate::kitchen::{LotId, State};
use crate::statement::Statement;

/// Lots in one post.
const MOST_LOTS: usize = 6;

/// Lots in a post of doubt.
const DOUBT_LOTS: usize = 3;

/// Foods named in one line of a triage.
const TRIAGE_NAMES: usize = 3;

/// A post is kept under this many characters.
const MOST_CHARS: usize = 700;

/// A pressing lot stands in the post on this many mornings unless somebody gives a sign of it.
const MORNINGS: i64 = 2;

/// After this many days since anybody wrote, the post doubts the record: two whole quiet days.
const QUIET_DAYS: i64 = 3;

/// So many days after an unanswered question a lot is no longer counted.
const UNCOUNTED_DAYS: i64 = 7;

/// A post or a round, ready to send.
#[derive(Clone, Debug, PartialEq)]
pub struct Post {
    pub text: Rich,
    pub buttons: Vec<(Button, Press)>,
    /// The long explanation behind "why?".
    pub why: Rich,
    /// Lots that were asked about or named as out: not again.
    pub asked: Vec<LotId>,
    /// Lots that were listed as pressing.
    pub listed: Vec<LotId>,
}

impl Post {
    /// Keeps what the post said, for `Said` of the next ones. A lot that somebody gave a sign of
    /// since begins anew; one that is gone is forgotten.
    pub fn remember(
        &self,
        state: &State,
        today: KitchenDay,
        asked: &mut BTreeMap<LotId, KitchenDay>,
        listed: &mut BTreeMap<LotId, KitchenDay>,
    ) {
        for (kept, lots) in [(asked, &self.asked), (listed, &self.listed)] {
            kept.retain(|id, day| state.lot(*id).is_some_and(|lot| lot.last_seen < *day));
            for lot in lots {
                kept.entry(*lot).or_insert(today);
            }
        }
    }
}

/// What a button under a post does.
#[derive(Clone, Debug, PartialEq)]
pub enum Press {
    /// A deed on exactly these lots.
    Lots(LotDeed, Vec<LotId>),
    /// Shows the explanation.
    Why,
    /// Answers the same question again, as a picture of how things stand then.
    Picture(Box<Statement>),
    /// The buttons go.
    Dismiss,
}

/// What one post is about.
#[derive(Default)]
struct Picked<'a, 'h> {
    out: Vec<&'h Held<'a>>,
    safety: Vec<&'h Held<'a>>,
    ask: Vec<&'h Held<'a>>,
    today: Vec<&'h Held<'a>>,
    soon: Vec<&'h Held<'a>>,
}

impl<'a, 'h> Picked<'a, 'h> {
    fn pressing(&self) -> usize {
        self.out.len() + self.safety.len() + self.ask.len() + self.today.len()
    }

    /// All of them, the most pressing first.
    fn in_order(&self) -> impl Iterator<Item = &'h Held<'a>> {
        let all = [&self.out, &self.safety, &self.today, &self.soon, &self.ask];
        all.into_iter().flatten().copied()
    }
}

impl<'a> Outlook<'a> {
    /// The morning post; `None` when nothing is on hand, everybody is away, or nothing presses and
    /// the household skips quiet days.
    pub fn morning_post(&self, said: Said<'_>) -> Option<Post> {
        if self.is_away(self.today) || self.state.lots.is_empty() {
            return None;
        }
        let picked = self.pick(said);
        let chores = due(self.state, self.now);
        if picked.pressing() + picked.soon.len() + chores.len() == 0 {
            return self.quiet_post();
        }
        let shown: Vec<&Held<'_>> = picked.in_order().collect();
        let quiet_for = self.state.last_heard.map_or(0, |day| self.today.days_since(day));
        let text = if quiet_for >= QUIET_DAYS && picked.pressing() > 0 {
            return Some(self.doubt_post(&shown, &chores, quiet_for));
        } else if picked.pressing() > MOST_LOTS {
            self.triage(&picked, &chores)
        } else {
            self.list_or_triage(&picked, &chores)
        };
        Some(Post {
            text,
            buttons: self
                .buttons(&chores, if picked.ask.is_empty() { &picked.out } else { &picked.ask }),
            why: self.explain_all(&shown),
            asked: picked.ask.iter().chain(&picked.out).map(|held| held.lot.id).collect(),
            listed: picked.today.iter().map(|held| held.lot.id).collect(),
        })
    }

    /// The evening round: only what is still not done.
    pub fn evening_round(&self) -> Option<Post> {
        if self.is_away(self.today) {
            return None;
        }
        let chores = due(self.state, self.now);
        let last_day: Vec<&Held<'_>> = self
            .held
            .iter()
            .filter(|held| held.urgency == Urgency::LastSafeDay)
            .filter(|held| held.standing.safety_days == Some(0))
            .filter(|held| !chores.iter().any(|chore| chore.lot == held.lot.id))
            .collect();
        if chores.is_empty() && last_day.is_empty() {
            return None;
        }
        let mut text = Rich::new();
        for held in last_day.iter().take(MOST_LOTS) {
            text.push_line(self.wording.post_line(
                &self.say(held),
                &self.why_now(held),
                &self.to_do(held),
            ));
        }
        for line in self.chore_lines(&chores) {
            text.push_line(line);
        }
        Some(Post {
            text,
            buttons: self.buttons(&chores, &[]),
            why: self.explain_all(&last_day),
            asked: Vec::new(),
            listed: Vec::new(),
        })
    }

    /// Lots to move to uncounted: asked about long enough ago, and nobody answered.
    pub fn forgotten(&self, said: Said<'_>) -> Vec<LotId> {
        let silent = self.held.iter().filter(|held| {
            let asked = said.asked.get(&held.lot.id);
            asked.is_some_and(|day| {
                self.today.days_since(*day) >= UNCOUNTED_DAYS && held.lot.last_seen < *day
            })
        });
        silent.map(|held| held.lot.id).collect()
    }

    fn pick<'h>(&'h self, said: Said<'_>) -> Picked<'a, 'h> {
        let mut picked = Picked::default();
        let answered = |day: KitchenDay, held: &Held<'_>| held.lot.last_seen >= day;
        for held in &self.held {
            let id = held.lot.id;
            // Said before, and no sign since: not again.
            let asked =
                said.asked.get(&id).is_some_and(|day| *day < self.today && !answered(*day, held));
            let worn = said.listed.get(&id).is_some_and(|first| {
                self.today.days_since(*first) >= MORNINGS && !answered(*first, held)
            });
            // What stands in water is a chore, and said once.
            let last_day = held.lot.water.as_ref().is_some_and(|w| w.last_day <= self.today);
            match held.urgency {
                Urgency::Out if !asked => picked.out.push(held),
                _ if last_day => {}
                Urgency::Soon if held.lot.water.is_some() => {}
                Urgency::LastSafeDay => picked.safety.push(held),
                Urgency::PastLate if !asked && !held.lot.doubtful => picked.ask.push(held),
                Urgency::Today | Urgency::MayFreeze if !worn => picked.today.push(held),
                Urgency::Soon => picked.soon.push(held),
                Urgency::Out
                | Urgency::PastLate
                | Urgency::Today
                | Urgency::MayFreeze
                | Urgency::PastBest
                | Urgency::Keeps => {}
            }
        }
        // One question a morning; the others wait for theirs.
        picked.ask.truncate(1);
        picked
    }

    /// One line on a day on which nothing presses.
    fn quiet_post(&self) -> Option<Post> {
        if self.state.settings.quiet_days {
            return None;
        }
        let next = self.held.iter().find(|held| {
            held.urgency > Urgency::PastLate && held.is_fresh() && held.last_day_number().is_some()
        });
        let unanswered =
            self.held.iter().any(|held| matches!(held.urgency, Urgency::Today | Urgency::PastLate));
        let text = match next
            .filter(|_| !unanswered)
            .and_then(|held| Some((held, held.use_by(self.today)?)))
        {
            Some((held, day)) => self.wording.post_quiet_next(&self.say(held), &self.say_day(day)),
            None if unanswered => self.wording.post_nothing_new(),
            None => self.wording.post_quiet(),
        };
        let shown: Vec<&Held<'_>> = next.into_iter().collect();
        Some(Post {
            text,
            buttons: vec![(self.wording.button("why"), Press::Why)],
            why: self.explain_all(&shown),
            asked: Vec::new(),
            listed: Vec::new(),
        })
    }

    /// The house went quiet: the record is doubted, and only what matters most is asked about.
    fn doubt_post(&self, shown: &[&Held<'_>], chores: &[Chore], quiet_for: i64) -> Post {
        let in_chores = |held: &&&Held<'_>| chores.iter().any(|chore| chore.lot == held.lot.id);
        let rest = shown.iter().filter(|held| !in_chores(held));
        let most: Vec<&Held<'_>> = rest.take(DOUBT_LOTS).copied().collect();
        let lots: Vec<LotId> = most.iter().map(|held| held.lot.id).collect();
        let mut text = self.wording.post_doubt(quiet_for - 1);
        for held in &most {
            text.push_line(self.wording.post_line(
                &self.say(held),
                &self.why_now(held),
                &self.to_do(held),
            ));
        }
        for line in self.chore_lines(chores) {
            text.push_line(line);
        }
        let mut buttons = match (most.as_slice(), lots.as_slice()) {
            ([], _) => self.buttons(chores, &[]),
            ([only], _) => {
                self.lot_buttons(&lots, Some(&self.wording.lot_name(only.lot, self.foods)))
            }
            _ => self.lot_buttons(&lots, None),
        };
        if most.is_empty() {
            // The buttons are those of the chores alone.
        } else if let Some(changed) = self.changed_button(chores) {
            buttons.insert(0, changed);
        }
        if !most.is_empty() {
            buttons.push((self.wording.button("later"), Press::Dismiss));
        }
        let asked = most.iter().filter(|h| matches!(h.urgency, Urgency::Out | Urgency::PastLate));
        Post {
            text,
            buttons,
            why: self.explain_all(&most),
            asked: asked.map(|held| held.lot.id).collect(),
            listed: most.iter().filter(|h| h.urgency == Urgency::Today).map(|h| h.lot.id).collect(),
        }
    }

    /// The list of an ordinary day; shorter wording, then triage, when it would grow too long.
    fn list_or_triage(&self, picked: &Picked<'a, '_>, chores: &[Chore]) -> Rich {
        let full = self.list(picked, chores, false);
        if full.to_plain().chars().count() <= MOST_CHARS {
            return full;
        }
        let brief = self.list(picked, chores, true);
        if brief.to_plain().chars().count() <= MOST_CHARS {
            return brief;
        }
        self.triage(picked, chores)
    }

    fn list(&self, picked: &Picked<'a, '_>, chores: &[Chore], brief: bool) -> Rich {
        let mut text = Rich::new();
        let all: Vec<&Held<'_>> = picked.in_order().collect();
        if all.iter().any(|held| held.urgency > Urgency::Out && held.urgency != Urgency::PastLate) {
            text.push_line(self.wording.post_head());
        }
        for held in all.iter().take(MOST_LOTS) {
            let why = if brief { String::new() } else { self.why_now(held) };
            text.push_line(self.wording.post_line(&self.say(held), &why, &self.to_do(held)));
        }
        if all.len() > MOST_LOTS {
            text.push_line(self.wording.post_more(all.len() - MOST_LOTS));
        }
        if let Some(line) = self.freeze_line(&all) {
            text.push_line(line);
        }
        for line in self.chore_lines(chores) {
            text.push_line(line);
        }
        text
    }

    /// A bad day: one line for each kind of trouble, and the rest can wait.
    fn triage(&self, picked: &Picked<'a, '_>, chores: &[Chore]) -> Rich {
        let mut text = self.wording.post_bad_day();
        let mut named = 0;
        let mut line = |lots: &[&Held<'_>], say: &dyn Fn(&str) -> Rich| {
            if lots.is_empty() {
                return;
            }
            let names: Vec<String> = lots.iter().take(TRIAGE_NAMES).map(|h| self.say(h)).collect();
            named += names.len();
            text.push_line(say(&self.wording.list(&names)));
        };
        line(&picked.out, &|names| self.wording.triage_out(names));
        line(&picked.safety, &|names| self.wording.triage_safety(names));
        let tonight: Vec<&Held<'_>> = picked.today.to_vec();
        line(&tonight, &|names| self.wording.triage_tonight(names));
        if let Some(held) = picked.ask.first() {
            text.push_line(self.wording.post_line(
                &self.say(held),
                &self.why_now(held),
                &self.to_do(held),
            ));
            named += 1;
        }
        if let Some(freeze) = self.freeze_line(&picked.today) {
            text.push_line(freeze);
        }
        for chores in self.chore_lines(chores) {
            text.push_line(chores);
        }
        let rest = (picked.pressing() + picked.soon.len()).saturating_sub(named);
        if rest > 0 {
            text.push_line(self.wording.post_more(rest));
        }
        text
    }

    /// One line of chores for each kind, the most pressing first.
    pub(super) fn chore_lines(&self, chores: &[Chore]) -> Vec<Rich> {
        let mut lines = Vec::new();
        for chore in chores.iter().filter(|chore| chore.kind == ChoreKind::Turnover) {
            let Some(name) = self.chore_name(chore) else { continue };
            lines.push(match chore.lateness {
                Lateness::EndOfLife => self.wording.chore_past_last_day(&name),
                _ => self.wording.chore_last_day(&name),
            });
        }
        let water: Vec<&Chore> =
            chores.iter().filter(|chore| chore.kind == ChoreKind::WaterChange).collect();
        let Some(worst) = water.iter().max_by_key(|chore| chore.lateness) else { return lines };
        let names: Vec<String> = water.iter().filter_map(|chore| self.chore_name(chore)).collect();
        let names = self.wording.list(&names);
        let late = worst.late_hours(self.now);
        lines.push(match worst.lateness {
            Lateness::NotDue | Lateness::Due => self.wording.chore_water(&names),
            Lateness::Late => self.wording.chore_water_late(&names, late),
            Lateness::Overdue => self.wording.chore_water_overdue(&names, late),
            Lateness::InspectOrDiscard | Lateness::EndOfLife => {
                self.wording.chore_water_inspect(&names, late / 24)
            }
        });
        lines
    }

    fn chore_name(&self, chore: &Chore) -> Option<String> {
        let lot = self.state.lot(chore.lot)?;
        Some(self.wording.lot_name(lot, self.foods))
    }

    fn changed_button(&self, chores: &[Chore]) -> Option<(Button, Press)> {
        let water = chores.iter().filter(|chore| chore.kind == ChoreKind::WaterChange);
        let lots: Vec<LotId> = water.map(|chore| chore.lot).collect();
        let press = Press::Lots(LotDeed::WaterChanged, lots.clone());
        (!lots.is_empty()).then(|| (self.wording.button("changed"), press))
    }

    /// Buttons for the chores and for the one lot that is asked about, or else for the one lot
    /// whose water or last day is due.
    fn buttons(&self, chores: &[Chore], ask: &[&Held<'_>]) -> Vec<(Button, Press)> {
        let mut buttons: Vec<(Button, Press)> = self.changed_button(chores).into_iter().collect();
        let mut in_chores: Vec<LotId> = chores.iter().map(|chore| chore.lot).collect();
        in_chores.dedup();
        let about = match (ask, in_chores.as_slice()) {
            ([held, ..], _) => Some(held.lot.id),
            ([], [only]) => Some(*only),
            // Of several, the one whose last day has come.
            ([], _) => chores.iter().find(|c| c.kind == ChoreKind::Turnover).map(|c| c.lot),
        };
        if let Some(lot) = about.and_then(|id| self.state.lot(id)) {
            let name = self.wording.lot_name(lot, self.foods);
            let mut deeds = self.lot_buttons(&[lot.id], Some(&name));
            if ask.first().is_none_or(|held| held.urgency == Urgency::Out) {
                deeds.retain(|(button, _)| button.key != "still_here");
            }
            buttons.extend(deeds);
        }
        buttons.push((self.wording.button("why"), Press::Why));
        if !chores.is_empty() {
            buttons.push((self.wording.button("later"), Press::Dismiss));
        }
        buttons
    }

    /// Used up, thrown out, still here: for one lot by name, or for several at once.
    fn lot_buttons(&self, lots: &[LotId], name: Option<&str>) -> Vec<(Button, Press)> {
        let deeds = [
            ("used_up", LotDeed::UsedUp),
            ("thrown_out", LotDeed::ThrownOut),
            ("still_here", LotDeed::StillHere),
        ];
        let button =
            |(key, deed)| (self.wording.deed_button(key, name), Press::Lots(deed, lots.to_vec()));
        deeds.into_iter().map(button).collect()
    }
}
