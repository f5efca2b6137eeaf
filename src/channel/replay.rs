//! Replay: a dated chat log played through the real program on a clock that jumps.
//!
//! The same desk, store, rounds and outbox as everywhere; only the clock is set by hand and the
//! way out is a list of rows. Deterministic: nothing here depends on the machine or the moment.

mod script;

pub use script::{Act, Line, Script, ScriptError, Step, Typed};

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use serde::Serialize;

use super::board::{Board, external};
use super::{Arrival, Arrived, Channel, ChatKey, Context, Spoken, Writer};
use crate::clock::Clock;
use crate::conversation::{House, Kind, Kit, Outgoing};
use crate::dates::{Instant, Zone};
use crate::desk::{Desk, DeskError};
use crate::outbox::{Limits, Outbox, Outcome, Sender};
use crate::rounds;
use crate::store::{Claimed, Errand, HouseholdId, Store};

/// One thing the bot said, as `replay --json` prints it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Row {
    /// `YYYY-MM-DD HH:MM` in household time.
    pub at: String,
    pub kind: Kind,
    /// The number of the input line it answers.
    #[serde(rename = "for")]
    pub line: Option<usize>,
    /// The person it goes to, when it goes to one alone.
    pub to: Option<String>,
    pub text: String,
    /// The labels of the buttons, then their keys.
    pub buttons: Vec<String>,
    pub keys: Vec<String>,
    pub picture: bool,
}

/// The group of a log played for its own sake.
pub fn group() -> ChatKey {
    ChatKey::new(Channel::Replay, "group")
}

/// A log being played.
pub struct Player {
    desk: Desk,
    clock: Clock,
    outbox: Outbox<Lines>,
    household: HouseholdId,
    zone: Zone,
    /// The group, and the keys it had before it moved.
    group: ChatKey,
    former: Vec<ChatKey>,
    /// Which chat and message each name of a line stands for.
    named: HashMap<String, (ChatKey, String)>,
    /// Since when the bot is stopped, and what was written meanwhile.
    down: Option<Instant>,
    backlog: Vec<(usize, Arrival)>,
}

impl Player {
    /// Founds the log's household in `store`, a minute before its first line, with `group` for its
    /// home.
    pub async fn new(
        store: Store,
        kit: Arc<Kit>,
        script: &Script,
        group: ChatKey,
    ) -> Result<Player, DeskError> {
        let start = script.steps.first().map_or(Instant::from_seconds(0), |step| step.at);
        let clock = Clock::set(start.plus_minutes(-1));
        let desk = Desk::new(store.clone(), clock.clone(), kit, Vec::new());
        let household = desk.found(&group, &script.settings).await?;
        let house = desk.house(&household).await?;
        let outbox =
            Outbox::new(store, clock.clone(), Lines::default(), Limits::NONE, desk.sender_wake());
        let mut player = Player {
            desk,
            clock,
            outbox,
            household,
            zone: house.state.settings.zone,
            group,
            former: Vec::new(),
            named: HashMap::new(),
            down: None,
            backlog: Vec::new(),
        };
        player.admit(script).await?;
        Ok(player)
    }

    /// Everybody in the log is a member from the start: a private message must find its home.
    async fn admit(&mut self, script: &Script) -> Result<(), DeskError> {
        let mut tx = self.desk.store().begin().await?;
        for step in &script.steps {
            let person = match &step.act {
                Act::Write(line) => &line.person,
                Act::Unreadable { person, .. } | Act::Leave(person) => person,
                Act::Join(_) | Act::Tick | Act::Down | Act::Up | Act::Move => continue,
            };
            let (channel, now) = (self.group.channel, self.clock.now());
            tx.person(&self.household, channel, &writer(person), now).await?;
        }
        tx.commit().await?;
        Ok(())
    }

    /// Plays one step and returns what the bot said up to it, in order.
    pub async fn step(&mut self, step: &Step) -> Result<Vec<Row>, DeskError> {
        let mut rows = Vec::new();
        self.pass_time(step.at, &mut rows).await?;
        match &step.act {
            Act::Tick => {}
            Act::Down => {
                self.down.get_or_insert(step.at);
            }
            Act::Up => {
                if let Some(since) = self.down.take() {
                    self.come_back(since, &mut rows).await?;
                }
            }
            Act::Move => {
                let number = self.former.len() + 1;
                let to = ChatKey::new(self.group.channel, format!("supergroup-{number}"));
                let from = std::mem::replace(&mut self.group, to.clone());
                let moved = self.arrival(from.clone(), step.at, Arrived::Moved { to });
                self.former.push(from);
                self.take_in(step.line, moved, &mut rows).await?;
            }
            Act::Join(name) => {
                let what = Arrived::Joined { who: vec![writer(name)] };
                let arrival = self.arrival(self.group.clone(), step.at, what);
                self.take_in(step.line, arrival, &mut rows).await?;
            }
            Act::Leave(name) => {
                let what = Arrived::Left { who: writer(name) };
                let arrival = self.arrival(self.group.clone(), step.at, what);
                self.take_in(step.line, arrival, &mut rows).await?;
            }
            Act::Unreadable { person, kind, caption, id } => {
                let chat = self.group.clone();
                let message = self.spoken(step.line, &chat, caption, id.as_deref(), None);
                let what = Arrived::Unreadable { from: writer(person), message, kind: *kind };
                let arrival = self.arrival(chat, step.at, what);
                self.take_in(step.line, arrival, &mut rows).await?;
            }
            Act::Write(line) => self.write(step, line, &mut rows).await?,
        }
        Ok(rows)
    }

    /// The household as it stands.
    pub async fn house(&self) -> Result<House, DeskError> {
        self.desk.house(&self.household).await
    }

    /// A moment on the household's wall clock.
    pub fn wall(&self, at: Instant) -> String {
        at.wall(self.zone)
    }

    pub fn kit(&self) -> &Kit {
        self.desk.kit()
    }

    pub fn now(&self) -> Instant {
        self.clock.now()
    }

    async fn write(
        &mut self,
        step: &Step,
        line: &Line,
        rows: &mut Vec<Row>,
    ) -> Result<(), DeskError> {
        let from = writer(&line.person);
        let chat = if line.private { self.private(&line.person) } else { self.group.clone() };
        let arrival = match &line.text {
            Typed::Text(text) => {
                let message = self.spoken(step.line, &chat, text, line.id.as_deref(), None);
                self.arrival(chat, step.at, said(from, message, line.private))
            }
            Typed::Reply { id: None, text } => {
                let newest =
                    self.with_board(|board| board.newest(&chat).map(|each| each.external()));
                let message = self.spoken(step.line, &chat, text, line.id.as_deref(), newest);
                self.arrival(chat, step.at, said(from, message, line.private))
            }
            Typed::Reply { id: Some(id), text } => {
                let (chat, reply_to) = self.named.get(id).cloned().unwrap_or((chat, String::new()));
                let message =
                    self.spoken(step.line, &chat, text, line.id.as_deref(), Some(reply_to));
                self.arrival(chat, step.at, said(from, message, line.private))
            }
            Typed::Edit { id, text } => {
                let known = self.named.get(id).cloned();
                let (chat, edited) = known.unwrap_or((chat, String::new()));
                let mut message = self.spoken(step.line, &chat, text, None, None);
                message.external = Some(edited);
                message.private = line.private;
                self.arrival(chat, step.at, Arrived::Edited { from, message })
            }
            Typed::Press(wanted) => {
                let mut chats = vec![chat.clone()];
                if !line.private {
                    chats.extend(self.former.iter().cloned());
                }
                let found = self.with_board(|board| {
                    let (posted, key) = board.with_button(&chats, wanted)?;
                    Some((posted.chat.clone(), posted.external(), key.to_owned()))
                });
                let Some((chat, on, key)) = found else {
                    rows.push(self.no_button(step, line, wanted));
                    return Ok(());
                };
                let private = line.private;
                let what = Arrived::Pressed { from, on, key, private, query: None };
                self.arrival(chat, step.at, what)
            }
        };
        self.take_in(step.line, arrival, rows).await
    }

    /// Lets the time pass until `at`, working what comes due at its own moment.
    async fn pass_time(&mut self, at: Instant, rows: &mut Vec<Row>) -> Result<(), DeskError> {
        while self.down.is_none() {
            let Some(next) = self.desk.store().next_due().await?.filter(|next| *next <= at) else {
                break;
            };
            self.clock.advance_to(next);
            rounds::work_due(&self.desk).await?;
            self.collect(self.clock.now(), None, rows).await?;
        }
        self.clock.advance_to(at);
        Ok(())
    }

    async fn come_back(&mut self, since: Instant, rows: &mut Vec<Row>) -> Result<(), DeskError> {
        self.desk.came_back(since);
        for (line, arrival) in std::mem::take(&mut self.backlog) {
            self.desk.arrive(&arrival).await?;
            self.collect(arrival.at, Some(line), rows).await?;
        }
        self.desk.caught_up().await?;
        self.collect(self.clock.now(), None, rows).await?;
        rounds::work_due(&self.desk).await?;
        self.collect(self.clock.now(), None, rows).await
    }

    async fn take_in(
        &mut self,
        line: usize,
        arrival: Arrival,
        rows: &mut Vec<Row>,
    ) -> Result<(), DeskError> {
        if self.down.is_some() {
            self.backlog.push((line, arrival));
            return Ok(());
        }
        self.desk.arrive(&arrival).await?;
        self.collect(arrival.at, Some(line), rows).await
    }

    /// Empties the outbox into rows of this minute.
    async fn collect(
        &mut self,
        at: Instant,
        line: Option<usize>,
        rows: &mut Vec<Row>,
    ) -> Result<(), DeskError> {
        self.outbox.drain().await?;
        let sent = std::mem::take(&mut lock(&self.outbox.sender().sent).rows);
        if sent.is_empty() {
            return Ok(());
        }
        let people = if sent.iter().any(|outgoing| outgoing.to.is_some()) {
            self.desk.store().people(&self.household).await?
        } else {
            Vec::new()
        };
        let name = |id| people.iter().find(|each| each.id == id).map(|each| each.name.clone());
        rows.extend(sent.into_iter().map(|outgoing| Row {
            at: at.wall(self.zone),
            kind: outgoing.kind,
            line,
            to: outgoing.to.and_then(name),
            text: outgoing.text.to_plain(),
            buttons: outgoing.buttons.iter().map(|button| button.label.clone()).collect(),
            keys: outgoing.buttons.iter().map(|button| button.key.clone()).collect(),
            picture: outgoing.picture.is_some(),
        }));
        Ok(())
    }

    fn arrival(&self, chat: ChatKey, at: Instant, what: Arrived) -> Arrival {
        Arrival { chat, update: None, at, what, context: Context::of_equals() }
    }

    /// A message of this line, under the line's own id, and under its name for later lines.
    fn spoken(
        &mut self,
        line: usize,
        chat: &ChatKey,
        text: &str,
        id: Option<&str>,
        reply_to: Option<String>,
    ) -> Spoken {
        let external = format!("line-{line}");
        if let Some(id) = id {
            self.named.insert(id.to_owned(), (chat.clone(), external.clone()));
        }
        Spoken {
            external: Some(external),
            text: text.to_owned(),
            reply_to,
            private: false,
            addressed: false,
        }
    }

    /// A person's private chat goes by their own id.
    fn private(&self, name: &str) -> ChatKey {
        ChatKey::new(self.group.channel, writer(name).external)
    }

    fn no_button(&self, step: &Step, line: &Line, wanted: &str) -> Row {
        Row {
            at: step.at.wall(self.zone),
            kind: Kind::Error,
            line: Some(step.line),
            to: line.private.then(|| line.person.clone()),
            text: format!("no message of the bot has a button {wanted:?}"),
            buttons: Vec::new(),
            keys: Vec::new(),
            picture: false,
        }
    }

    fn with_board<T>(&self, look: impl FnOnce(&Board) -> T) -> T {
        look(&lock(&self.outbox.sender().sent).board)
    }
}

fn writer(name: &str) -> Writer {
    Writer { external: name.to_lowercase(), name: name.to_owned() }
}

fn said(from: Writer, message: Spoken, private: bool) -> Arrived {
    Arrived::Said { from, message: Spoken { private, ..message } }
}

/// The way out: what is sent is kept, and always arrives.
#[derive(Default)]
pub struct Lines {
    sent: Mutex<Sent>,
}

#[derive(Default)]
struct Sent {
    board: Board,
    rows: Vec<Outgoing>,
}

impl Sender for Lines {
    async fn send(&self, claimed: &Claimed) -> Outcome {
        let (Errand::Say(outgoing), Some(chat)) = (&claimed.errand, &claimed.chat) else {
            return Outcome::Sent { external: None };
        };
        let mut sent = lock(&self.sent);
        sent.board.post(chat, outgoing);
        sent.rows.push(outgoing.clone());
        Outcome::Sent { external: Some(external(outgoing.message)) }
    }
}

fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
