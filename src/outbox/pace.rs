//! How fast we send: our own limits, below the platform's.

use std::collections::{BTreeMap, VecDeque};

use crate::channel::ChatKey;
use crate::dates::Instant;

const SECOND: i64 = 1_000_000;
const MINUTE: i64 = 60 * SECOND;

/// How many messages may go out.
///
/// # Source
/// The platform's FAQ states about one message a second in a chat, 20 a minute in a group and 30 a
/// second overall, and that the true limits are not published; the defaults stay below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// In any one second, over all chats.
    pub per_second: usize,
    /// In any one chat, in any one minute.
    pub per_chat_minute: usize,
    /// Between two messages in one chat, in milliseconds.
    pub chat_gap_ms: i64,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits { per_second: 25, per_chat_minute: 18, chat_gap_ms: 1_000 }
    }
}

impl Limits {
    /// For channels without limits: the console, replay.
    pub const NONE: Limits =
        Limits { per_second: usize::MAX, per_chat_minute: usize::MAX, chat_gap_ms: 0 };
}

/// When the recent messages went out.
#[derive(Debug)]
pub struct Pace {
    limits: Limits,
    overall: VecDeque<Instant>,
    chats: BTreeMap<ChatKey, VecDeque<Instant>>,
}

impl Pace {
    pub fn new(limits: Limits) -> Pace {
        Pace { limits, overall: VecDeque::new(), chats: BTreeMap::new() }
    }

    /// Takes a place for one message at `now`; `Some` is the moment until which the chat must rest
    /// instead. What the platform does not count (`counted` false) always goes.
    pub fn take(&mut self, chat: Option<&ChatKey>, counted: bool, now: Instant) -> Option<Instant> {
        let chat = chat.filter(|_| counted)?;
        forget(&mut self.overall, now, SECOND);
        self.chats.retain(|_, sent| {
            forget(sent, now, MINUTE);
            !sent.is_empty()
        });
        let sent = self.chats.entry(chat.clone()).or_default();
        let full_second = freed(&self.overall, self.limits.per_second, SECOND);
        let full_minute = freed(sent, self.limits.per_chat_minute, MINUTE);
        let gap = sent.back().map(|last| last.micros() + self.limits.chat_gap_ms * 1_000);
        let rest = [full_second, full_minute, gap].into_iter().flatten().max();
        match rest.filter(|rest| *rest > now.micros()) {
            Some(rest) => Some(Instant::from_micros(rest)),
            None => {
                sent.push_back(now);
                self.overall.push_back(now);
                None
            }
        }
    }
}

fn forget(sent: &mut VecDeque<Instant>, now: Instant, window: i64) {
    while sent.front().is_some_and(|oldest| oldest.micros() + window <= now.micros()) {
        sent.pop_front();
    }
}

/// When a full window has room again; `None` when it has room now.
fn freed(sent: &VecDeque<Instant>, limit: usize, window: i64) -> Option<i64> {
    let blocking = sent.len().checked_sub(limit)?;
    sent.get(blocking).map(|oldest| oldest.micros() + window)
}

#[cfg(test)]
mod tests {
    use super::{Limits, Pace};
    use crate::channel::{Channel, ChatKey};
    use crate::dates::Instant;

    /// Sends as fast as the pace allows and returns the moment of each message, in milliseconds.
    fn moments(limits: Limits, chats: &[&str], messages: usize) -> Vec<i64> {
        let mut pace = Pace::new(limits);
        let mut now = Instant::from_micros(0);
        (0..messages)
            .map(|n| {
                let chat = ChatKey::new(Channel::Telegram, chats[n % chats.len()]);
                while let Some(rest) = pace.take(Some(&chat), true, now) {
                    assert!(rest > now, "a rest lies ahead");
                    now = rest;
                }
                now.micros() / 1_000
            })
            .collect()
    }

    #[test]
    fn one_chat_gets_one_message_a_second_and_a_bounded_number_a_minute() {
        let moments = moments(Limits::default(), &["a"], 40);
        assert!(moments.windows(2).all(|pair| pair[1] - pair[0] >= 1_000), "{moments:?}");
        let limit = Limits::default().per_chat_minute;
        assert!(moments.windows(limit + 1).all(|run| run[limit] - run[0] >= 60_000), "{moments:?}");
    }

    #[test]
    fn all_chats_together_stay_below_the_limit_of_a_second() {
        let names: Vec<String> = (0..100).map(|n| n.to_string()).collect();
        let chats: Vec<&str> = names.iter().map(String::as_str).collect();
        let moments = moments(Limits::default(), &chats, 300);
        let limit = Limits::default().per_second;
        assert!(moments.windows(limit + 1).all(|run| run[limit] - run[0] >= 1_000));
    }

    #[test]
    fn what_is_not_counted_goes_at_once() {
        let mut pace = Pace::new(Limits::default());
        let chat = ChatKey::new(Channel::Telegram, "a");
        for _ in 0..100 {
            assert_eq!(pace.take(Some(&chat), false, Instant::from_micros(0)), None);
        }
    }
}
