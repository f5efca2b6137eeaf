//! A Bot API server to test against: it keeps chats, delivers updates until they are confirmed,
//! checks what it is sent as the platform documents it, fails when told to, and remembers all.
//!
//! Written from the platform's public reference and from observed behaviour, not from our own
//! code; the referees in `tests/referees` judge both sides. Runs on a thread of its own; the
//! methods of [`Messenger`] are what people do, the methods of [`State`] are what can be seen.

mod markup;
mod people;
mod rules;
mod wire;

use std::collections::{BTreeMap, HashMap, VecDeque};
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::time::{Duration, Instant, SystemTime, UNIX_EPOCH};

use serde_json::{Map, Value};
use tokio::net::TcpSocket;
use tokio::runtime::Runtime;
use tokio::sync::Notify;

pub use people::{Item, Person};

/// The one bot this server knows. The token is a canary: it must never turn up in any output.
pub const TOKEN: &str = "7000000001:CANARY-token_that-must-never_be-printed";
pub const BOT_ID: i64 = 7_000_000_001;
pub const BOT_HANDLE: &str = "larder_test_bot";

/// How long to wait for something to happen before a test is given up as hung.
pub const PATIENCE: Duration = Duration::from_secs(30);

pub struct Messenger {
    shared: Arc<Shared>,
    runtime: Runtime,
    address: SocketAddr,
    /// Holds the address while the server is down: connections are refused, nobody else gets it.
    reserved: Mutex<Option<TcpSocket>>,
    serving: Mutex<Option<tokio::task::JoinHandle<()>>>,
}

struct Shared {
    state: Mutex<State>,
    /// Something changed: for tests that wait.
    changed: Condvar,
    /// An update arrived or a newer poll came: for polls that wait.
    arrived: Notify,
}

/// Everything the server knows.
#[derive(Default)]
pub struct State {
    pub requests: Vec<Request>,
    /// Every update ever made, in order.
    pub updates: Vec<Value>,
    pub rooms: BTreeMap<i64, Room>,
    pub presses: HashMap<String, Press>,
    /// The menus of commands, by scope and language.
    pub commands: BTreeMap<(String, String), Value>,
    /// Requests made in a chat that was told to wait.
    pub hammered: u32,
    pub webhook: Option<Webhook>,
    /// Members only reach the bot with commands and replies to it.
    pub privacy: bool,
    pending: VecDeque<Value>,
    allowed: Option<Vec<String>>,
    faults: Vec<(String, u32, Fault)>,
    paused: HashMap<i64, Instant>,
    next_update: i64,
    polls: u64,
    next_press: u64,
}

/// One request the bot made.
#[derive(Clone, Debug)]
pub struct Request {
    pub method: String,
    pub params: Map<String, Value>,
    pub files: Vec<(String, Vec<u8>)>,
    pub end: End,
}

/// How the server dealt with a request.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    Open,
    Done(Value),
    Denied(u16, String),
    /// Carried out or not, but never answered.
    Unanswered,
}

/// What goes wrong with the next request of a method.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// 429; the chat must be left alone for so many seconds.
    TooMany {
        seconds: u64,
    },
    Deny {
        code: u16,
        words: &'static str,
    },
    /// A gateway's page, not the protocol.
    Gateway(u16),
    /// Not carried out, never answered.
    Hang,
    /// Not carried out; the connection is closed.
    CutBefore,
    /// Carried out; the connection is closed without an answer.
    CutAfter,
}

#[derive(Clone, Debug)]
pub struct Webhook {
    pub url: String,
    pub secret: String,
}

#[derive(Clone, Debug)]
pub struct Press {
    pub answered: bool,
    /// What the presser alone was shown.
    pub text: Option<String>,
}

/// A chat.
pub struct Room {
    pub id: i64,
    pub kind: RoomKind,
    pub title: String,
    pub bot_in: bool,
    /// The bot is an administrator: it hears everything.
    pub bot_is_admin: bool,
    pub moved_to: Option<i64>,
    pub members: Vec<Person>,
    pub admins: Vec<i64>,
    pub topics: Vec<i64>,
    pub messages: BTreeMap<i64, Message>,
    next_message: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoomKind {
    Private,
    Group,
    Supergroup,
}

/// A message in a chat, as members see it now.
#[derive(Clone, Debug)]
pub struct Message {
    pub id: i64,
    pub by_bot: bool,
    pub text: String,
    /// Label and data.
    pub buttons: Vec<(String, String)>,
    pub reply_to: Option<i64>,
    pub topic: Option<i64>,
    pub silent: bool,
    pub picture: Option<usize>,
    /// The bot's reaction.
    pub reaction: Option<String>,
    /// How often it was changed.
    pub edits: u32,
    json: Value,
}

impl Messenger {
    /// A server that is up.
    pub fn start() -> Messenger {
        let messenger = Messenger::asleep();
        messenger.wake();
        messenger
    }

    /// A server that is down: its address is known and refuses connections.
    pub fn asleep() -> Messenger {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(1)
            .enable_all()
            .build()
            .expect("a runtime");
        let socket = TcpSocket::new_v4().expect("a socket");
        socket.bind((Ipv4Addr::LOCALHOST, 0).into()).expect("a free port");
        let address = socket.local_addr().expect("an address");
        let state = State { next_update: 400_001, ..State::default() };
        let shared =
            Shared { state: Mutex::new(state), changed: Condvar::new(), arrived: Notify::new() };
        Messenger {
            shared: Arc::new(shared),
            runtime,
            address,
            reserved: Mutex::new(Some(socket)),
            serving: Mutex::new(None),
        }
    }

    /// Starts answering.
    pub fn wake(&self) {
        let socket = self.reserved.lock().unwrap().take().expect("the server is down");
        let _inside = self.runtime.enter();
        let listener = socket.listen(1024).expect("listening");
        let serving = self.runtime.spawn(wire::serve(listener, Arc::clone(&self.shared)));
        *self.serving.lock().unwrap() = Some(serving);
    }

    pub fn url(&self) -> String {
        format!("http://{}", self.address)
    }

    pub fn lock(&self) -> MutexGuard<'_, State> {
        self.shared.state.lock().unwrap()
    }

    /// Waits until `look` finds something.
    pub fn until<T>(&self, what: &str, mut look: impl FnMut(&State) -> Option<T>) -> T {
        let limit = Instant::now() + PATIENCE;
        let mut state = self.lock();
        loop {
            if let Some(found) = look(&state) {
                return found;
            }
            let left = limit.saturating_duration_since(Instant::now());
            assert!(!left.is_zero(), "waited in vain for {what}; seen:\n{}", state.summary());
            state = self.shared.changed.wait_timeout(state, left).unwrap().0;
        }
    }

    /// Makes the next request of `method` go wrong.
    pub fn fail(&self, method: &str, fault: Fault) {
        self.fail_after(method, 0, fault);
    }

    /// Lets so many requests of `method` pass, then makes one go wrong.
    pub fn fail_after(&self, method: &str, passing: u32, fault: Fault) {
        self.lock().faults.push((method.to_owned(), passing, fault));
    }

    /// Gives the next update this number.
    pub fn jump_to_update(&self, number: i64) {
        self.lock().next_update = number;
    }

    /// Lets at most so much time pass, less when `look` is satisfied earlier.
    pub fn linger(&self, at_most: Duration, look: impl Fn(&State) -> bool) {
        let limit = Instant::now() + at_most;
        let mut state = self.lock();
        while !look(&state) {
            let left = limit.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return;
            }
            state = self.shared.changed.wait_timeout(state, left).unwrap().0;
        }
    }

    /// Runs something of the asynchronous world.
    pub fn block_on<T>(&self, future: impl Future<Output = T>) -> T {
        self.runtime.block_on(future)
    }

    /// Runs something beside the test.
    pub fn spawn<T: Send + 'static>(
        &self,
        future: impl Future<Output = T> + Send + 'static,
    ) -> tokio::task::JoinHandle<T> {
        self.runtime.spawn(future)
    }

    /// Delivers an update, whatever it holds.
    pub fn deliver(&self, kind: &str, content: Value) -> i64 {
        let number = self.lock().push_update(kind, content);
        self.shared.arrived.notify_waiters();
        self.shared.changed.notify_all();
        number
    }
}

impl State {
    /// Unix seconds on the clock that dates messages.
    pub fn now(&self) -> i64 {
        let now = SystemTime::now().duration_since(UNIX_EPOCH).expect("after 1970");
        i64::try_from(now.as_secs()).expect("seconds")
    }

    /// The bot's messages in a chat, oldest first.
    pub fn shown(&self, chat: i64) -> Vec<&Message> {
        let room = self.rooms.get(&chat);
        room.into_iter().flat_map(|room| room.messages.values()).filter(|m| m.by_bot).collect()
    }

    /// A message in a chat.
    pub fn message(&self, chat: i64, id: i64) -> Option<&Message> {
        self.rooms.get(&chat)?.messages.get(&id)
    }

    /// The requests of one method.
    pub fn requests_of(&self, method: &str) -> Vec<&Request> {
        self.requests.iter().filter(|request| request.method == method).collect()
    }

    /// How many updates are not confirmed yet.
    pub fn unconfirmed(&self) -> usize {
        self.pending.len()
    }

    fn push_update(&mut self, kind: &str, content: Value) -> i64 {
        let number = self.next_update;
        self.next_update += 1;
        let update = serde_json::json!({ "update_id": number, kind: content });
        self.updates.push(update.clone());
        if self.wants(kind) {
            self.pending.push_back(update);
        }
        number
    }

    /// The list given last counts; without one, all kinds but those that must be asked for.
    fn wants(&self, kind: &str) -> bool {
        match &self.allowed {
            Some(kinds) => kinds.iter().any(|wanted| wanted == kind),
            None => !matches!(kind, "chat_member" | "message_reaction" | "message_reaction_count"),
        }
    }

    fn take_fault(&mut self, method: &str) -> Option<Fault> {
        let at = self.faults.iter().position(|(failing, ..)| failing == method)?;
        if let Some(left) = self.faults[at].1.checked_sub(1) {
            self.faults[at].1 = left;
            return None;
        }
        Some(self.faults.remove(at).2)
    }

    /// What happened, for people.
    pub fn summary(&self) -> String {
        let mut lines = Vec::new();
        for request in self.requests.iter().filter(|request| request.method != "getUpdates") {
            let params = Value::Object(request.params.clone());
            lines.push(format!("{} {params} -> {:?}", request.method, request.end));
        }
        let polls = self.requests_of("getUpdates").len();
        lines.push(format!("{polls} polls, {} updates unconfirmed", self.pending.len()));
        lines.join("\n")
    }
}
