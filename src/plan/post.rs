//! The morning post and the evening round.
//!
//! The post names at most `MOST_LOTS` lots in use-first order, each with its amount, why now and
//! what to do, then the chores. On a bad day it triages: one line each for safety, tonight,
//! freezing and chores. What it repeats, and for how long, is decided in `pick`.

mod pick;

use std::cmp::Reverse;
use std::collections::BTreeMap;

use self::pick::Picked;
use self::pick::QUIET_DAYS;
use super::outlook::{Outlook, Said};
use super::view::{Held, Urgency};
use crate::chores::{Chore, ChoreKind, Lateness, due};
use crate::conversation::{Button, LotDeed, MessageId, Rich};
use crate::kitchen::LotId;
use crate::statement::Statement;

/// Lots in one post.
const MOST_LOTS: usize = 6;

/// Lots in a post of doubt.
const DOUBT_LOTS: usize = 3;

/// Foods named in one line of a triage.
const TRIAGE_NAMES: usize = 3;

/// A post is kept under this many characters.
const MOST_CHARS: usize = 700;

/// So many days after it came in, a food that nobody put away is mentioned in the post.
const STILL_OUT_DAYS: i64 = 1;

/// A post or a round, ready to send.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Post {
    pub text: Rich,
    pub buttons: Vec<(Button, Press)>,
    /// The long explanation behind "why?".
    pub why: Rich,
    /// Lots that were asked about or named as out: not again.
    pub asked: Vec<LotId>,
    /// Those of them that are past a safety limit.
    pub out: Vec<LotId>,
    /// Lots that stand in it.
    pub listed: Vec<LotId>,
    /// Every lot the text names for eating or cooking, in its order.
    pub first: Vec<LotId>,
    /// What the text says to freeze or dry, with the grams.
    pub rescue: Vec<(LotId, i64)>,
}

/// What a button under a post does.
#[derive(Clone, Debug, PartialEq)]
pub enum Press {
    /// A deed on exactly these lots.
    Lots(LotDeed, Vec<LotId>),
    /// Everything bought is where it belongs.
    PutAway,
    /// Shows the explanation.
    Why,
    /// Answers the same question again, as a picture of how things stand then.
    Picture(Box<Statement>),
    /// Starts a count, place by place.
    Count,
    /// Takes back what was recorded under this message.
    Undo(MessageId),
    /// The buttons go.
    Dismiss,
}

/// What a post says, with the lots its words name.
#[derive(Default)]
struct Body {
    text: Rich,
    first: Vec<LotId>,
    rescue: Vec<(LotId, i64)>,
}

impl<'a> Outlook<'a> {
    /// The morning post; `None` when nothing is on hand, everybody is away, or nothing presses and
    /// the household skips quiet days.
    pub fn morning_post(&self, said: &Said) -> Option<Post> {
        if self.is_away(self.today) {
            return None;
        }
        let stores = self.store_lines();
        let lots = if self.state.lots.is_empty() { None } else { self.lots_post(said) };
        let mut post = match lots {
            Some(post) => post,
            None if stores.is_empty() => return None,
            None => Post::default(),
        };
        for line in stores {
            let long = post.text.to_plain().chars().count() + line.to_plain().chars().count();
            if long <= MOST_CHARS {
                post.text.push_line(line);
            }
        }
        Some(post)
    }

    /// What the morning post says of the lots; `None` when nothing presses and the household skips
    /// quiet days.
    fn lots_post(&self, said: &Said) -> Option<Post> {
        let picked = self.pick(said);
        let chores = due(self.state, self.now);
        let quiet_days = self.quiet_days();
        if quiet_days >= QUIET_DAYS
            && let Some(post) = self.doubt_post(&picked, said, &chores, quiet_days)
        {
            return Some(post);
        }
        if picked.pressing() + picked.soon.len() + chores.len() == 0 {
            return self.quiet_post().map(|post| self.with_still_out(post));
        }
        let shown = picked.in_order();
        let body = if picked.pressing() > MOST_LOTS {
            self.triage(&picked, &chores)
        } else {
            self.list_or_triage(&picked, &chores)
        };
        let post = Post {
            text: body.text,
            buttons: self
                .buttons(&chores, if picked.ask.is_empty() { &picked.out } else { &picked.ask }),
            why: self.explain_all(&shown),
            asked: picked.ask.iter().chain(&picked.out).map(|held| held.lot.id).collect(),
            out: picked.out.iter().map(|held| held.lot.id).collect(),
            listed: shown.iter().map(|held| held.lot.id).collect(),
            first: body.first,
            rescue: body.rescue,
        };
        Some(self.with_still_out(post))
    }

    /// Adds what came in yesterday and was never said to be put away: nobody may know that it is
    /// still counted as standing warm.
    fn with_still_out(&self, mut post: Post) -> Post {
        let waits = |held: &&Held<'_>| {
            let warm = held.lot.stays.last().is_some_and(|stay| stay.place != held.lot.place);
            let new = self.today.days_since(held.lot.since) <= STILL_OUT_DAYS;
            !held.lot.put_away && warm && new && held.urgency > Urgency::Out
        };
        let mut names: Vec<String> = self
            .held
            .iter()
            .filter(waits)
            .map(|held| self.wording.lot_name(held.lot, self.foods))
            .collect();
        names.dedup();
        if names.is_empty() {
            return post;
        }
        let more = names.len() > MOST_LOTS;
        names.truncate(MOST_LOTS);
        let line = self.wording.post_still_out(&self.wording.list(&names));
        let fits = post.text.chars() + line.chars() < MOST_CHARS;
        if fits && !more {
            post.text.push_line(line);
            post.buttons.insert(0, (self.wording.button("put_away"), Press::PutAway));
        } else {
            post.buttons.push((self.wording.button("put_away"), Press::PutAway));
        }
        post
    }

    /// The evening round: only what is still not done. Chores somebody is at are left to them.
    pub fn evening_round(&self, chores_held: bool) -> Option<Post> {
        if self.is_away(self.today) {
            return None;
        }
        let chores = if chores_held { Vec::new() } else { due(self.state, self.now) };
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
            out: Vec::new(),
            listed: Vec::new(),
            first: last_day.iter().take(MOST_LOTS).map(|held| held.lot.id).collect(),
            rescue: Vec::new(),
        })
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
        let mut text = text;
        if let Some(line) = self.ran_low() {
            text.push_line(line);
        }
        Some(Post {
            text,
            buttons: vec![(self.wording.button("why"), Press::Why)],
            why: self.explain_all(&shown),
            asked: Vec::new(),
            out: Vec::new(),
            listed: Vec::new(),
            first: shown.iter().map(|held| held.lot.id).collect(),
            rescue: Vec::new(),
        })
    }

    /// The house went quiet: the record is doubted, and only what matters most is asked about.
    /// `None` when that has all been said.
    fn doubt_post(
        &self,
        picked: &Picked<'a, '_>,
        said: &Said,
        chores: &[Chore],
        quiet_days: i64,
    ) -> Option<Post> {
        let in_chores = |held: &&Held<'_>| chores.iter().any(|chore| chore.lot == held.lot.id);
        let pressing = picked.in_order().into_iter().filter(|held| !in_chores(held));
        let dearest = self.dearest(said);
        let mut most: Vec<&Held<'_>> = Vec::new();
        for held in pressing.chain(dearest.into_iter().filter(|held| !in_chores(held))) {
            if most.len() < DOUBT_LOTS && !most.iter().any(|each| each.lot.id == held.lot.id) {
                most.push(held);
            }
        }
        if most.is_empty() {
            return None;
        }
        let lots: Vec<LotId> = most.iter().map(|held| held.lot.id).collect();
        let mut text = self.wording.post_doubt(quiet_days);
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
        let mut buttons = match most.as_slice() {
            [only] => self.lot_buttons(&lots, Some(&self.wording.lot_name(only.lot, self.foods))),
            _ => self.lot_buttons(&lots, None),
        };
        if let Some(changed) = self.changed_button(chores) {
            buttons.insert(0, changed);
        }
        buttons.push((self.wording.button("count"), Press::Count));
        let asked = most.iter().filter(|h| matches!(h.urgency, Urgency::Out | Urgency::PastLate));
        Some(Post {
            text,
            buttons,
            why: self.explain_all(&most),
            asked: asked.map(|held| held.lot.id).collect(),
            out: most.iter().filter(|h| h.urgency == Urgency::Out).map(|h| h.lot.id).collect(),
            listed: lots,
            first: to_eat(&most),
            rescue: Vec::new(),
        })
    }

    /// The list of an ordinary day; shorter wording, then triage, when it would grow too long.
    fn list_or_triage(&self, picked: &Picked<'a, '_>, chores: &[Chore]) -> Body {
        let fits = |body: &Body| body.text.to_plain().chars().count() <= MOST_CHARS;
        let full = self.list(picked, chores, false);
        if fits(&full) {
            return full;
        }
        let brief = self.list(picked, chores, true);
        if fits(&brief) {
            return brief;
        }
        self.triage(picked, chores)
    }

    fn list(&self, picked: &Picked<'a, '_>, chores: &[Chore], brief: bool) -> Body {
        let mut text = Rich::new();
        let all = picked.in_order();
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
        let rescue = self.freeze_line(&all).map_or_else(Vec::new, |(line, rescue)| {
            text.push_line(line);
            rescue
        });
        for line in self.chore_lines(chores) {
            text.push_line(line);
        }
        if let Some(line) = self.ran_low() {
            text.push_line(line);
        }
        Body { text, first: to_eat(&all[..all.len().min(MOST_LOTS)]), rescue }
    }

    /// A bad day: one line for each kind of trouble, and the rest can wait.
    fn triage(&self, picked: &Picked<'a, '_>, chores: &[Chore]) -> Body {
        let mut text = self.wording.post_bad_day();
        let mut named = 0;
        let mut first = Vec::new();
        let mut line = |lots: &[&Held<'_>], say: &dyn Fn(&str) -> Rich| {
            if lots.is_empty() {
                return;
            }
            let names: Vec<String> = lots.iter().take(TRIAGE_NAMES).map(|h| self.say(h)).collect();
            named += names.len();
            first.extend(to_eat(&lots[..names.len()]));
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
        let rescue = self.freeze_line(&picked.today).map_or_else(Vec::new, |(line, rescue)| {
            text.push_line(line);
            rescue
        });
        for chores in self.chore_lines(chores) {
            text.push_line(chores);
        }
        let rest = (picked.pressing() + picked.soon.len()).saturating_sub(named);
        if rest > 0 {
            text.push_line(self.wording.post_more(rest));
        }
        Body { text, first, rescue }
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
        // The latest first; what is due today is not called late for its neighbour's sake.
        let mut groups: BTreeMap<Reverse<Lateness>, Vec<&Chore>> = BTreeMap::new();
        for chore in water {
            groups.entry(Reverse(chore.lateness)).or_default().push(chore);
        }
        for (Reverse(lateness), chores) in groups {
            let names: Vec<String> = chores.iter().filter_map(|c| self.chore_name(c)).collect();
            let names = self.wording.list(&names);
            let late = chores.iter().map(|chore| chore.late_hours(self.now)).max().unwrap_or(0);
            lines.push(match lateness {
                Lateness::NotDue | Lateness::Due => self.wording.chore_water(&names),
                Lateness::Late => self.wording.chore_water_late(&names, late),
                Lateness::Overdue => self.wording.chore_water_overdue(&names, late),
                Lateness::InspectOrDiscard | Lateness::EndOfLife => {
                    self.wording.chore_water_inspect(&names, late / 24)
                }
            });
        }
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

/// The lots of a list that are named for eating: neither out nor only asked about.
fn to_eat(lots: &[&Held<'_>]) -> Vec<LotId> {
    let asked = |held: &Held<'_>| matches!(held.urgency, Urgency::Out | Urgency::PastLate);
    lots.iter().filter(|held| !asked(held)).map(|held| held.lot.id).collect()
}
