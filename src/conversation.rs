//! The one road through the core: something came in, this is what happens and what is said.
//!
//! Every channel and every timer becomes one [`Incoming`]; [`respond`] reads it, decides, and
//! returns the events to append and the messages to queue. Pure: the desk loads the household,
//! calls this, and commits the result in one transaction. Nothing here sends, stores or looks at
//! a clock.

mod memory;
mod outgoing;
mod respond;

pub use memory::{LotDeed, Memory, Shown};
pub use outgoing::{Button, Kind, Outgoing, Piece, Rich};
pub use respond::respond;

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::dates::{Instant, KitchenDay};
use crate::kitchen::{Event, PersonId, State};
use crate::reader::Reader;
use crate::reader::lexicon::Lexicon;
use crate::rules::{Faults, Rules};
use crate::wording::{Wording, WordingError};

/// One household as the core sees it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct House {
    /// The fold of its events.
    pub state: State,
    /// What was said lately: open questions, what buttons stand for, what was already explained.
    /// Not derived from the log, and lost without harm.
    pub memory: Memory,
    /// The names people go by.
    pub names: BTreeMap<PersonId, String>,
    /// Every event before this incoming one, oldest first. The desk keeps it; `respond` reads it.
    pub log: Vec<Event>,
    /// What the writer of this incoming thing may decide for all, as far as the channel told.
    pub standing: Standing,
    /// This arrived while the bot was out of service, at its own `at`: record it, and say nothing
    /// that can wait for the one line of [`Incoming::Back`], which follows the last of them.
    pub catching_up: bool,
}

/// What somebody may decide for all in the household's home chat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Standing {
    /// Nobody has asked the channel yet.
    #[default]
    Unknown,
    /// Not in the chat.
    Outsider,
    Member,
    /// An administrator, named or not; everybody where there are none.
    Admin,
}

/// What the core needs besides the household: the same for all households, in one of its voices.
#[derive(Clone)]
pub struct Kit {
    pub rules: Arc<Rules>,
    pub reader: Arc<Reader>,
    /// The voice spoken in; a new kit speaks English.
    pub wording: Arc<Wording>,
    /// Every language, in the usual style and in plain style.
    voices: Arc<[Arc<Wording>]>,
}

/// Why the program's own bundled data cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum KitError {
    #[error("the rule set has faults: {0}")]
    Rules(#[from] Faults),
    #[error(transparent)]
    Wording(#[from] WordingError),
}

impl Kit {
    /// The kit this program carries.
    pub fn embedded() -> Result<Kit, KitError> {
        let rules = Rules::embedded()?;
        let names = rules.names().map(|(name, food)| (name, Some(food.clone())));
        let reader = Reader::new(Lexicon::new(names));
        let voices: Arc<[Arc<Wording>]> = Wording::all()?.into_iter().map(Arc::new).collect();
        Ok(Kit {
            reader: Arc::new(reader),
            wording: Arc::clone(&voices[0]),
            rules: Arc::new(rules),
            voices,
        })
    }

    /// The same kit in the language with this primary subtag (English where there is no such
    /// wording), in plain style or the usual one.
    pub fn speaking(&self, language: &str, plain: bool) -> Kit {
        let voice = |tag: &str| {
            self.voices.iter().find(|voice| voice.tag() == tag && voice.is_plain() == plain)
        };
        let wording = voice(language).or_else(|| voice("en")).unwrap_or(&self.wording);
        Kit { wording: Arc::clone(wording), ..self.clone() }
    }

    /// Whether there is wording in this language.
    pub fn speaks(&self, language: &str) -> bool {
        self.voices.iter().any(|voice| voice.tag() == language)
    }
}

/// A message of a household's chat, its members' and the bot's own alike: a number of the
/// program's own, in order of arrival within the household. Channels map theirs to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MessageId(pub u64);

/// Everything that can reach a household. Closed: a new kind is a new variant, and every match on
/// it names it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Incoming {
    Said(Said),
    /// The text of an earlier message was changed to this.
    Edited(Said),
    /// A button under one of the bot's messages.
    Pressed {
        person: PersonId,
        on: MessageId,
        key: String,
        at: Instant,
    },
    /// Something the bot cannot read: a photo, a voice note, a sticker, a poll.
    Unreadable {
        said: Said,
        kind: Unreadable,
    },
    Joined {
        person: PersonId,
        at: Instant,
    },
    Left {
        person: PersonId,
        at: Instant,
    },
    /// The bot was let into the chat, or may write to it again.
    Welcomed {
        /// `None` for an administrator who stays unnamed.
        by: Option<PersonId>,
        /// Plain messages of the chat reach the bot.
        hears: bool,
        /// The language tag of whoever did it (BCP 47), where the channel knows it.
        language: Option<String>,
        private: bool,
        at: Instant,
    },
    /// Somebody joined by an invite, in their private chat.
    Admitted {
        person: PersonId,
        at: Instant,
    },
    /// The invite asked for in `answers` is ready; `None` where the channel knows none.
    InviteMade {
        person: PersonId,
        link: Option<String>,
        answers: Option<MessageId>,
        private: bool,
        at: Instant,
    },
    /// A scheduled job of one local day is due.
    Due {
        job: Job,
        day: KitchenDay,
        at: Instant,
    },
    /// The bot is back after being out of service since `since`.
    Back {
        since: Instant,
        at: Instant,
    },
}

impl Incoming {
    /// Whom it came from; `None` for what comes of its own accord.
    pub fn person(&self) -> Option<PersonId> {
        match self {
            Incoming::Said(said) | Incoming::Edited(said) | Incoming::Unreadable { said, .. } => {
                Some(said.person)
            }
            Incoming::Pressed { person, .. }
            | Incoming::Joined { person, .. }
            | Incoming::Left { person, .. }
            | Incoming::Admitted { person, .. }
            | Incoming::InviteMade { person, .. } => Some(*person),
            Incoming::Welcomed { by, .. } => *by,
            Incoming::Due { .. } | Incoming::Back { .. } => None,
        }
    }

    pub fn at(&self) -> Instant {
        match self {
            Incoming::Said(said) | Incoming::Edited(said) | Incoming::Unreadable { said, .. } => {
                said.at
            }
            Incoming::Pressed { at, .. }
            | Incoming::Joined { at, .. }
            | Incoming::Left { at, .. }
            | Incoming::Welcomed { at, .. }
            | Incoming::Admitted { at, .. }
            | Incoming::InviteMade { at, .. }
            | Incoming::Due { at, .. }
            | Incoming::Back { at, .. } => *at,
        }
    }
}

/// One message somebody wrote.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    pub message: MessageId,
    pub person: PersonId,
    /// The words (a caption, for a picture).
    pub text: String,
    /// Spoken to the bot: by its name, a reply to it, a private chat, the console.
    pub addressed: bool,
    pub private: bool,
    pub reply_to: Option<MessageId>,
    pub at: Instant,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Unreadable {
    Photo,
    Voice,
    Sticker,
    Document,
    Poll,
    Other,
}

/// A scheduled job: once per household and local day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Job {
    #[serde(rename = "morning_post")]
    MorningPost,
    #[serde(rename = "evening_round")]
    EveningRound,
}

impl Job {
    pub const ALL: &'static [Job] = &[Job::MorningPost, Job::EveningRound];

    /// The stored name.
    pub fn word(self) -> &'static str {
        match self {
            Job::MorningPost => "morning_post",
            Job::EveningRound => "evening_round",
        }
    }

    pub fn from_word(word: &str) -> Option<Job> {
        Job::ALL.iter().copied().find(|job| job.word() == word)
    }
}

/// What an incoming thing leads to, for the desk to carry out in one transaction.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Decision {
    /// To append to the log, already numbered and folded into the household's state.
    pub events: Vec<Event>,
    /// To queue, in order.
    pub outgoing: Vec<Outgoing>,
    /// What only the desk can do, after all of the above.
    pub acts: Vec<Act>,
    /// It was for the bot: its words may be kept. Of anything else no word is.
    pub heard: bool,
    /// Nothing was decided: whether the writer may decide for all must be known first.
    pub needs_standing: bool,
    /// What a pressed button answers its presser alone, in few words.
    pub whisper: Option<String>,
}

/// A thing only the desk can do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Act {
    /// Hands this person everything on record, in private.
    Export { to: PersonId },
    /// Deletes the household and all of it.
    DeleteHousehold,
    /// Removes this person's name and words everywhere; what they reported stays.
    Forget(PersonId),
    /// Makes an invite for one person and answers with [`Incoming::InviteMade`].
    Invite { by: PersonId, answers: Option<MessageId>, private: bool },
    /// Posts go to the topic this message was written in.
    PostWhere(MessageId),
    /// Asks the writer of this private chat anew which household it speaks to.
    AskWhichHousehold,
}
