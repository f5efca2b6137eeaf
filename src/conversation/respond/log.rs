//! What is on record: who did what, and what can still be taken back.

use super::*;
use crate::kitchen::Told;

/// How many earlier messages an undo offers.
const UNDOS: usize = 3;
/// How many answers "who used the leeks?" gives.
const ANSWERS: usize = 3;
/// The longest label of a button, in characters.
const LABEL_CHARS: usize = 40;

impl Turn<'_> {
    /// After an undo: the newest messages that could be taken back too, by what they told.
    pub(super) fn offer_undos(&self, draft: &mut Draft) {
        let mut log = self.house.log.clone();
        log.extend(self.decision.events.iter().cloned());
        for (number, (message, told)) in (1..).zip(kitchen::newest_told(&log, UNDOS)) {
            let deeds = self.kit.wording.deeds_in_short(&told, self.voice(), LABEL_CHARS);
            let label = self.kit.wording.undo_too(&deeds);
            let button = Button { key: format!("undo_{number}"), label };
            draft.button(button, Action::Undo(message));
        }
    }

    /// "Who used the leeks?": names only in private, or where the household wants them.
    pub(super) fn who_did(&self, said: &Said, statement: &Statement, draft: &mut Draft) {
        let names = said.private || self.house.state.settings.names;
        let foods: Vec<String> = statement
            .items
            .iter()
            .map(|item| item.food.as_ref().map_or(item.name.as_str(), |id| id.as_str()).to_owned())
            .collect();
        let wanted = Wanted::of(&said.text);
        let mut found = 0;
        for event in kitchen::in_force(&self.house.log).into_iter().rev() {
            let named = event.what.names().iter().any(|of| foods.iter().any(|f| f == of.key()));
            if !named || !wanted.is_met_by(&event.what) {
                continue;
            }
            let told: Vec<Told> = kitchen::retold_event(event);
            if told.is_empty() {
                continue;
            }
            let deeds = self.kit.wording.deeds_in_short(&told, self.voice(), usize::MAX);
            let day = self.kit.wording.day(event.day, self.today());
            let who = event.person.map(|person| self.name(person)).filter(|name| !name.is_empty());
            draft.line(match who.filter(|_| names) {
                Some(who) => self.kit.wording.who_did(&day, &deeds, who),
                None => self.kit.wording.was_done(&day, &deeds),
            });
            found += 1;
            if found == ANSWERS {
                break;
            }
        }
        if found == 0 {
            draft.line(self.kit.wording.nothing_on_record());
        } else if !names && said.text.to_lowercase().contains("who") {
            draft.line(self.kit.wording.names_in_private());
        }
    }
}

/// What kind of deed a question is about.
#[derive(Clone, Copy, PartialEq)]
enum Wanted {
    CameIn,
    Used,
    Preserved,
    Opened,
    ThrownOut,
    Any,
}

impl Wanted {
    fn of(text: &str) -> Wanted {
        let text = text.to_lowercase();
        let says = |words: &[&str]| words.iter().any(|word| text.contains(word));
        if says(&["threw", "tossed", "thrown", "binned", "composted"]) {
            Wanted::ThrownOut
        } else if says(&["buy", "bought", "get the", "got the", "brought"]) {
            Wanted::CameIn
        } else if says(&["froze", "freeze"]) {
            Wanted::Preserved
        } else if says(&["open"]) {
            Wanted::Opened
        } else if says(&["used", "use ", "ate", "eat", "finished", "took", "had", "cook"]) {
            Wanted::Used
        } else {
            Wanted::Any
        }
    }

    fn is_met_by(self, what: &kitchen::What) -> bool {
        use kitchen::What;
        match self {
            Wanted::CameIn => matches!(what, What::Acquired { .. }),
            Wanted::Used => {
                matches!(what, What::Used { .. } | What::Made { .. } | What::Given { .. })
            }
            Wanted::Preserved => matches!(what, What::Preserved { .. }),
            Wanted::Opened => matches!(what, What::Opened { .. }),
            Wanted::ThrownOut => {
                matches!(what, What::Discarded { .. } | What::PartDiscarded { .. })
            }
            Wanted::Any => true,
        }
    }
}
