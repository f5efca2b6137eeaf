//! What people want of the bot itself: settings and who may change them, records and who may have
//! them, names, invites. Whatever cannot be taken back is asked once more.

use super::*;
use crate::conversation::memory::Confirmed;
use crate::conversation::{Act, Standing};
use crate::kitchen::{Settings, Style};
use crate::reader::questions::matters as key;

/// Whether somebody may decide for all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Right {
    Granted,
    Refused,
    /// The channel must be asked first; then everything starts over.
    Unknown,
}

impl Turn<'_> {
    /// Who may decide for all: whoever let the bot in, and the administrators of the chat.
    pub(super) fn may_decide(&mut self, person: PersonId) -> Right {
        if self.house.state.settings.host == Some(person) {
            return Right::Granted;
        }
        match self.house.standing {
            Standing::Admin => Right::Granted,
            Standing::Member | Standing::Outsider => Right::Refused,
            Standing::Unknown => {
                self.decision.needs_standing = true;
                Right::Unknown
            }
        }
    }

    /// Takes a whole message about the bot itself; whether it was one.
    pub(super) fn matter(&mut self, said: &Said, statements: &[Statement]) -> bool {
        let [statement] = statements else { return false };
        if statement.intent == Intent::Undo && said.reply_to.is_none() {
            return self.undoes_a_setting(said);
        }
        let Some((key, value)) = &statement.setting else { return false };
        let (key, value) = (key.as_str(), value.as_str());
        let for_all = !matches!(
            key,
            key::SHOW | key::PRIVACY | key::KITCHEN | key::STYLE | key::MY_LANGUAGE | key::FORGET
        );
        let for_all = for_all && !Settings::is_everyday(key);
        let about_another = key == key::FORGET && value != "me";
        if for_all || about_another {
            match self.may_decide(said.person) {
                Right::Granted => {}
                Right::Unknown => return true,
                Right::Refused => {
                    self.refuse(said);
                    return true;
                }
            }
        }
        let wording = std::sync::Arc::clone(&self.kit.wording);
        let mut draft = Draft { answers: true, ..Draft::default() };
        match key {
            key::SHOW => draft.line(self.settings_shown(said.person)),
            key::PRIVACY => draft.line(wording.privacy()),
            key::EXPORT => {
                draft.line(wording.ask_export());
                self.ask_to_confirm(said.person, Confirmed::Export, &mut draft);
            }
            key::DELETE => {
                draft.line(wording.ask_delete());
                self.ask_to_confirm(said.person, Confirmed::DeleteHousehold, &mut draft);
            }
            key::FORGET => {
                // The name asked about is not to be kept in the asking.
                self.decision.heard = false;
                match self.person_meant(value, said.person) {
                    Some(person) => {
                        draft.line(match person == said.person {
                            true => wording.ask_forget_you(),
                            false => wording.ask_forget(self.name(person)),
                        });
                        self.ask_to_confirm(said.person, Confirmed::Forget(person), &mut draft);
                    }
                    None => draft.line(wording.nobody_called(value)),
                }
            }
            key::INVITE => {
                let (by, private) = (said.person, said.private);
                let answers = Some(said.message);
                self.decision.acts.push(Act::Invite { by, answers, private });
                return true;
            }
            key::KITCHEN if said.private => {
                self.decision.acts.push(Act::AskWhichHousehold);
                return true;
            }
            key::KITCHEN => draft.line(wording.kitchen_in_private()),
            key::SET_UP => {
                self.set_up_again(said);
                return true;
            }
            key::POST_HERE => {
                self.decision.acts.push(Act::PostWhere(said.message));
                draft.line(wording.posts_here());
            }
            key::STYLE => {
                let own = format!("person:{}:style", said.person.0);
                self.set(&own, value, Some(said.message));
                let style = Style::ALL.iter().find(|style| style.word() == value);
                draft.line(wording.style_chosen(style.copied().unwrap_or_default()));
            }
            key::MY_LANGUAGE if self.kit.speaks(value) => {
                let own = format!("person:{}:lang", said.person.0);
                self.set(&own, value, Some(said.message));
                self.kit = self.kit.speaking(value, wording.is_plain());
                draft.line(self.kit.wording.language_chosen());
            }
            "lang" if self.kit.speaks(value) => return false,
            key::MY_LANGUAGE | "lang" => draft.line(wording.language_unknown()),
            _ => return false,
        }
        self.reply(said, draft);
        true
    }

    /// A bare "undo" of a setting that concerns all is for those who may set it.
    fn undoes_a_setting(&mut self, said: &Said) -> bool {
        if !kitchen::newest_is_for_all(&self.house.log) {
            return false;
        }
        match self.may_decide(said.person) {
            Right::Granted => false,
            Right::Unknown => true,
            Right::Refused => {
                self.refuse(said);
                true
            }
        }
    }

    /// Says who may do that.
    pub(super) fn refuse(&mut self, said: &Said) {
        let mut draft = Draft { answers: true, ..Draft::default() };
        draft.line(self.kit.wording.not_yours_to_decide());
        self.reply(said, draft);
    }

    /// Adds the two buttons; only whoever asked can press the first.
    fn ask_to_confirm(&mut self, person: PersonId, what: Confirmed, draft: &mut Draft) {
        let label = match &what {
            Confirmed::Export => "send-it",
            Confirmed::DeleteHousehold => "delete-all",
            Confirmed::Forget(_) => "forget",
        };
        draft.button(self.kit.wording.button(label), Action::Confirm(person, what));
        draft.button(self.kit.wording.button("keep"), Action::Dismiss);
    }

    /// What was asked for is done; the rest is the desk's.
    pub(super) fn confirmed(&mut self, person: PersonId, what: &Confirmed, draft: &mut Draft) {
        let wording = &self.kit.wording;
        let act = match what {
            Confirmed::Export => {
                draft.line(wording.export_sent());
                Act::Export { to: person }
            }
            Confirmed::DeleteHousehold => {
                draft.line(wording.deleted());
                Act::DeleteHousehold
            }
            Confirmed::Forget(who) => {
                draft.line(wording.forgotten());
                self.house.names.remove(who);
                self.house.memory.forget(*who);
                Act::Forget(*who)
            }
        };
        self.decision.acts.push(act);
    }

    /// The member somebody names: by the whole name or its first word, in any case.
    fn person_meant(&self, name: &str, me: PersonId) -> Option<PersonId> {
        if name == "me" {
            return Some(me);
        }
        let wanted = name.to_lowercase();
        let mut fits = self.house.names.iter().filter(|(_, name)| {
            let name = name.to_lowercase();
            name == wanted || name.split_whitespace().next() == Some(wanted.as_str())
        });
        let found = fits.next().map(|(person, _)| *person);
        // Two of one name: neither is guessed.
        found.filter(|_| fits.next().is_none())
    }

    pub(super) fn name(&self, person: PersonId) -> &str {
        self.house.names.get(&person).map_or("", String::as_str)
    }

    /// Every setting on one screen, and what the asker has chosen.
    fn settings_shown(&self, person: PersonId) -> Rich {
        let settings = &self.house.state.settings;
        self.kit.wording.settings(settings, &settings.ways_of(person))
    }
}
