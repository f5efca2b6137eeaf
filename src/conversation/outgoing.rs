//! What the bot sends, free of any channel's markup.

use serde::{Deserialize, Serialize};

use super::MessageId;
use crate::kitchen::PersonId;
use crate::picture::Picture;

/// One message, edit or sign the bot gives.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Outgoing {
    /// The bot's own message: new for a reply or a post, the one changed for an edit, the
    /// person's message for a reaction.
    pub message: MessageId,
    pub kind: Kind,
    /// The message this answers.
    pub answers: Option<MessageId>,
    /// Only to this person, in private; `None` is the household's chat.
    pub to: Option<PersonId>,
    pub text: Rich,
    pub buttons: Vec<Button>,
    /// A picture with the same content as the text.
    pub picture: Option<Picture>,
    /// With sound: the morning post and missed safety reminders.
    pub loud: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Kind {
    #[serde(rename = "reply")]
    Reply,
    #[serde(rename = "post")]
    Post,
    #[serde(rename = "reminder")]
    Reminder,
    #[serde(rename = "reaction")]
    Reaction,
    #[serde(rename = "edit")]
    Edit,
    #[serde(rename = "error")]
    Error,
}

impl Kind {
    pub fn word(self) -> &'static str {
        match self {
            Kind::Reply => "reply",
            Kind::Post => "post",
            Kind::Reminder => "reminder",
            Kind::Reaction => "reaction",
            Kind::Edit => "edit",
            Kind::Error => "error",
        }
    }
}

/// A button: a stable key and the words on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Button {
    pub key: String,
    pub label: String,
}

/// Text with weight, free of any channel's markup: lines of plain and strong pieces. Channels
/// render it (HTML with escaping on the messenger, bare text on the console).
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Rich {
    pieces: Vec<Piece>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Piece {
    Plain(String),
    Strong(String),
}

impl Piece {
    pub fn words(&self) -> &str {
        match self {
            Piece::Plain(words) | Piece::Strong(words) => words,
        }
    }
}

impl Rich {
    pub fn new() -> Rich {
        Rich::default()
    }

    pub fn plain(text: impl Into<String>) -> Rich {
        Rich { pieces: vec![Piece::Plain(text.into())] }
    }

    pub fn push(&mut self, text: impl Into<String>) -> &mut Rich {
        self.pieces.push(Piece::Plain(text.into()));
        self
    }

    pub fn push_strong(&mut self, text: impl Into<String>) -> &mut Rich {
        self.pieces.push(Piece::Strong(text.into()));
        self
    }

    /// Adds `other` on a line of its own.
    pub fn push_line(&mut self, other: Rich) -> &mut Rich {
        if !self.is_empty() && !other.is_empty() {
            self.push("\n");
        }
        self.pieces.extend(other.pieces);
        self
    }

    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    pub fn is_empty(&self) -> bool {
        self.pieces.iter().all(|piece| match piece {
            Piece::Plain(text) | Piece::Strong(text) => text.is_empty(),
        })
    }

    /// The same with each sentence on a line of its own.
    pub fn one_sentence_a_line(&self) -> Rich {
        let split = |words: &str| {
            let mut lines = String::with_capacity(words.len());
            let mut rest = words;
            while let Some(at) = rest.find(['.', '!', '?']) {
                let (sentence, after) = rest.split_at(at + 1);
                lines.push_str(sentence);
                rest = after;
                let next = rest.trim_start_matches(' ');
                let opens = next.starts_with(|c: char| c.is_uppercase() || c == '"');
                if next.len() < rest.len() && opens {
                    lines.push('\n');
                    rest = next;
                }
            }
            lines.push_str(rest);
            lines
        };
        let pieces = self.pieces.iter().map(|piece| match piece {
            Piece::Plain(words) => Piece::Plain(split(words)),
            Piece::Strong(words) => Piece::Strong(split(words)),
        });
        Rich { pieces: pieces.collect() }
    }

    /// The first sentence alone.
    pub fn first_sentence(&self) -> String {
        let words = self.to_plain();
        let line = words.lines().next().unwrap_or_default();
        let ends = line.match_indices(['.', '!', '?']).map(|(at, _)| at + 1);
        let end = ends.into_iter().find(|end| line[*end..].starts_with(' '));
        line[..end.unwrap_or(line.len())].to_owned()
    }

    /// How long it is, in UTF-16 code units, as the messenger counts.
    pub fn chars(&self) -> usize {
        self.pieces.iter().map(|piece| piece.words().encode_utf16().count()).sum()
    }

    /// Its first `most` units, as whole lines where that leaves anything.
    pub fn cut(&self, most: usize) -> Rich {
        let mut kept = Rich::new();
        let mut room = most;
        for piece in &self.pieces {
            let mut end = 0;
            for (at, c) in piece.words().char_indices() {
                if c.len_utf16() > room {
                    break;
                }
                room -= c.len_utf16();
                end = at + c.len_utf8();
            }
            let words = piece.words();
            if end == words.len() {
                kept.pieces.push(piece.clone());
                continue;
            }
            let part = &words[..end];
            let part = part.rsplit_once('\n').map_or(part, |(lines, _)| lines);
            kept.pieces.push(match piece {
                Piece::Plain(_) => Piece::Plain(part.to_owned()),
                Piece::Strong(_) => Piece::Strong(part.to_owned()),
            });
            break;
        }
        kept
    }

    /// The words alone.
    pub fn to_plain(&self) -> String {
        let words = self.pieces.iter().map(|piece| match piece {
            Piece::Plain(text) | Piece::Strong(text) => text.as_str(),
        });
        words.collect()
    }
}
