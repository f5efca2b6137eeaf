//! Words of the household's own: a place or a unit nobody else knows is asked about once and kept.

use super::*;
use crate::conversation::memory::QUESTION_MINUTES;
use crate::statement::Scope;
use crate::words::Place;

/// What may stand before the figure of an answer.
const BEFORE_A_FIGURE: &[&str] =
    &["", "about", "around", "roughly", "it's", "its", "maybe", "say", "larderling"];

impl Turn<'_> {
    /// Asks about a place or unit of the household's own in what was just recorded: one at a time,
    /// and each once.
    pub(super) fn house_words(
        &mut self,
        said: &Said,
        statements: &[Statement],
        record: &Record,
        draft: &mut Draft,
    ) {
        if record.events.is_empty() || !record.questions.is_empty() || self.house.catching_up {
            return;
        }
        let settings = &self.house.state.settings;
        let unit = statements
            .iter()
            .flat_map(|statement| &statement.items)
            .filter_map(|item| item.odd_unit.as_deref())
            .map(kitchen::own_unit)
            .find(|unit| !settings.own_units.contains_key(unit))
            .map(|unit| format!("unit:{unit}"));
        let place = statements.iter().flat_map(places_of).find_map(|place| match place {
            Place::Own(name) if !settings.places.contains_key(&name) => {
                Some(format!("place:{name}"))
            }
            _ => None,
        });
        let Some(key) = unit.or(place) else { return };
        if !self.house.memory.asked_words.insert(key.clone()) {
            return;
        }
        draft.line(self.kit.wording.what_is(&key));
        self.house.memory.naming.insert(said.person, (key, self.now));
    }

    /// Takes a message as the answer to what a word stands for, where it is one.
    pub(super) fn answered_naming(&mut self, said: &Said) -> bool {
        let asked = self.house.memory.naming.get(&said.person).cloned();
        let Some((key, at)) = asked else { return false };
        if self.now.minutes_since(at) > QUESTION_MINUTES {
            return false;
        }
        let text = said.text.trim().trim_end_matches(['.', '!']);
        let figure = text.find(|c: char| c.is_ascii_digit() || c == '-').unwrap_or(0);
        let (before, value) = text.split_at(figure);
        let before = before.to_lowercase();
        let plain = before
            .split(|c: char| !c.is_alphanumeric() && c != '\'')
            .all(|word| BEFORE_A_FIGURE.contains(&word));
        let day = self.today();
        let fits = plain && self.house.state.settings.clone().set(&key, value, day).is_ok();
        if !fits {
            return false;
        }
        self.house.memory.naming.remove(&said.person);
        let mut statement = Statement::new(Intent::Setting);
        statement.setting = Some((key, value.to_owned()));
        let record = self.decide(said.person, said.message, None, |state, cx| {
            kitchen::record(state, &[statement], &cx)
        });
        let mut draft = Draft::default();
        self.fold_in(&record, said.message, &mut draft);
        self.reply(said, draft);
        true
    }
}

/// Every place a statement names.
fn places_of(statement: &Statement) -> Vec<Place> {
    let mut places: Vec<Place> =
        statement.items.iter().filter_map(|item| item.place.clone()).collect();
    if let Some(Scope::Place(place)) = &statement.scope {
        places.push(place.clone());
    }
    places
}
