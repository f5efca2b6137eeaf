//! What the bot has said lately in a chat without a platform of its own (console, replay), so that
//! "press this" and "reply to that" have something to stand on.

use crate::channel::ChatKey;
use crate::conversation::{Button, Kind, MessageId, Outgoing};

/// How many messages back a button can be pressed.
const KEPT_MAX: usize = 500;

/// A message of the bot's.
#[derive(Clone, Debug)]
pub struct Posted {
    pub chat: ChatKey,
    pub number: MessageId,
    pub buttons: Vec<Button>,
}

impl Posted {
    /// The id under which the channel knows it.
    pub fn external(&self) -> String {
        external(self.number)
    }
}

/// The id under which these channels know a message of the bot's.
pub fn external(number: MessageId) -> String {
    format!("bot-{}", number.0)
}

/// The bot's recent messages, oldest first.
#[derive(Clone, Debug, Default)]
pub struct Board(Vec<Posted>);

impl Board {
    /// Takes in what was sent to `chat`: a new message, or new buttons under an old one.
    pub fn post(&mut self, chat: &ChatKey, outgoing: &Outgoing) {
        match outgoing.kind {
            Kind::Reaction => {}
            Kind::Edit => {
                for posted in self.0.iter_mut().filter(|each| each.number == outgoing.message) {
                    posted.buttons.clone_from(&outgoing.buttons);
                }
            }
            Kind::Reply | Kind::Post | Kind::Reminder | Kind::Error => {
                if self.0.len() >= KEPT_MAX {
                    self.0.remove(0);
                }
                let (chat, number) = (chat.clone(), outgoing.message);
                self.0.push(Posted { chat, number, buttons: outgoing.buttons.clone() });
            }
        }
    }

    /// The newest message of a chat.
    pub fn newest(&self, chat: &ChatKey) -> Option<&Posted> {
        self.0.iter().rev().find(|posted| posted.chat == *chat)
    }

    /// The newest message that has a button with this key or label (case ignored), in one of
    /// `chats`, and the button's key.
    pub fn with_button(&self, chats: &[ChatKey], wanted: &str) -> Option<(&Posted, &str)> {
        let wanted = wanted.trim().to_lowercase();
        self.0.iter().rev().filter(|posted| chats.contains(&posted.chat)).find_map(|posted| {
            let named = posted.buttons.iter().find(|button| {
                button.key.to_lowercase() == wanted || button.label.to_lowercase() == wanted
            });
            named.map(|button| (posted, button.key.as_str()))
        })
    }
}
