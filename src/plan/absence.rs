//! Before everybody leaves, and when they are back: one list each.
//!
//! While they are away nothing is posted and every clock runs on; `pace` has nobody eat.

use super::outlook::Outlook;
use super::post::{Post, Press};
use super::view::{Held, Urgency};
use crate::conversation::Rich;
use crate::dates::KitchenDay;
use crate::kitchen::LotId;
use crate::words::Form;

/// Lots named in one line.
const MOST_NAMES: usize = 8;

impl<'a> Outlook<'a> {
    /// What to do before an absence that begins on `first`: eat, freeze, take out of water, give
    /// away. `None` when none begins then, or all of it keeps.
    pub fn before_leaving(&self, first: KitchenDay) -> Option<Post> {
        let last =
            self.state.away.iter().find(|(from, _)| *from == first).map(|(_, last)| *last)?;
        let spoils = |held: &&Held<'a>| {
            held.is_fresh()
                && held.lot.form != Form::InWater
                && held.urgency > Urgency::Out
                && held.use_by(self.today).is_some_and(|day| day <= last)
        };
        let (freeze, eat): (Vec<&Held<'a>>, Vec<&Held<'a>>) =
            self.held.iter().filter(spoils).partition(|held| held.can_freeze());
        let water: Vec<&Held<'a>> =
            self.held.iter().filter(|held| held.lot.form == Form::InWater).collect();
        let out: Vec<&Held<'a>> =
            self.held.iter().filter(|held| held.urgency == Urgency::Out).collect();
        if [&freeze, &eat, &water, &out].iter().all(|lots| lots.is_empty()) {
            return None;
        }
        let mut text = self.wording.leaving_head(&self.say_day(last));
        for (id, lots) in [
            ("triage-out", &out),
            ("leaving-eat", &eat),
            ("leaving-freeze", &freeze),
            ("leaving-water", &water),
        ] {
            text.push_line(self.group(id, lots));
        }
        let all: Vec<&Held<'a>> = [out, eat, freeze, water].concat();
        let buttons = vec![(self.wording.button("why"), Press::Why)];
        Some(Post { text, buttons, why: self.explain_all(&all), ..Post::default() })
    }

    /// The first morning after an absence: what passed its limit, what to look at, and the offer
    /// to count. `None` on any other day.
    pub fn back_home(&self) -> Option<Post> {
        let yesterday = self.today.plus(-1);
        self.state.away.iter().find(|(_, last)| *last == yesterday)?;
        if self.is_away(self.today) || self.state.lots.is_empty() {
            return None;
        }
        let fresh = || self.held.iter().filter(|held| held.is_fresh());
        let out: Vec<&Held<'a>> =
            self.held.iter().filter(|held| held.urgency == Urgency::Out).collect();
        let look: Vec<&Held<'a>> = fresh()
            .filter(|held| (Urgency::LastSafeDay..=Urgency::Today).contains(&held.urgency))
            .collect();
        let mut text = self.wording.back_home_head();
        text.push_line(self.group("triage-out", &out));
        text.push_line(self.group("back-home-look", &look));
        if out.is_empty() && look.is_empty() {
            text.push_line(self.wording.post_quiet());
        }
        for line in self.chore_lines(&crate::chores::due(self.state, self.now)) {
            text.push_line(line);
        }
        let asked: Vec<LotId> = out.iter().map(|held| held.lot.id).collect();
        let listed = out.iter().chain(&look).map(|held| held.lot.id).collect();
        let mut why: Vec<&Held<'a>> = out.clone();
        why.extend(&look);
        let buttons = vec![
            (self.wording.button("count"), Press::Count),
            (self.wording.button("why"), Press::Why),
        ];
        let why = self.explain_all(&why);
        Some(Post { text, buttons, why, out: asked.clone(), asked, listed, ..Post::default() })
    }

    /// "Freeze: mince and leeks", nothing for no lots.
    fn group(&self, id: &str, lots: &[&Held<'_>]) -> Rich {
        if lots.is_empty() {
            return Rich::new();
        }
        let names: Vec<String> = lots.iter().take(MOST_NAMES).map(|held| self.say(held)).collect();
        self.wording.group(id, &self.wording.list(&names))
    }

    /// These lots in words.
    pub fn names(&self, lots: &[LotId]) -> String {
        let held = self.held.iter().filter(|held| lots.contains(&held.lot.id));
        let names: Vec<String> = held.map(|held| self.say(held)).collect();
        self.wording.list(&names)
    }
}
