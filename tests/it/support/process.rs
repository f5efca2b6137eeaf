//! The real program as a process: started with its settings in the environment, watched through
//! its logs, stopped by signals.

use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Output, Stdio};
use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use sqlx::SqlitePool;
use sqlx::sqlite::SqliteRow;

use super::messenger::{Message, Messenger, PATIENCE, Person, State, TOKEN};

/// How often the household file is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(50);
/// How long the program may take to stop when asked to.
const STOP_LIMIT: Duration = Duration::from_secs(5);

pub struct Program {
    child: Child,
    log: Arc<Mutex<String>>,
    readers: Vec<JoinHandle<()>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    Terminate,
    Interrupt,
    Kill,
}

impl Program {
    /// Starts `larderling serve` against the server at `url`, with its household at `database` and
    /// more settings.
    pub fn serve(url: &str, database: &str, settings: &[(&str, &str)]) -> Program {
        let mut command = Command::new(env!("CARGO_BIN_EXE_larderling"));
        command
            .arg("serve")
            .env("TELOXIDE_TOKEN", TOKEN)
            .env("TELOXIDE_API_URL", url)
            .env("LARDERLING_DATABASE", database)
            .env("TZ", "UTC")
            .env("RUST_BACKTRACE", "1")
            .envs(settings.iter().copied())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        let mut child = command.spawn().expect("the program starts");
        let log = Arc::new(Mutex::new(String::new()));
        let out = child.stdout.take().map(|pipe| follow(pipe, Arc::clone(&log)));
        let err = child.stderr.take().map(|pipe| follow(pipe, Arc::clone(&log)));
        Program { child, log, readers: out.into_iter().chain(err).collect() }
    }

    /// Everything it printed so far.
    pub fn log(&self) -> String {
        self.log.lock().unwrap().clone()
    }

    pub fn signal(&mut self, signal: Signal) {
        let name = match signal {
            Signal::Terminate => "-TERM",
            Signal::Interrupt => "-INT",
            Signal::Kill => return self.child.kill().expect("a running program"),
        };
        let pid = self.child.id().to_string();
        let status = Command::new("kill").args([name, &pid]).status().expect("kill runs");
        assert!(status.success(), "the program was not there to be stopped:\n{}", self.log());
    }

    /// Waits for the end; gives the log too.
    pub fn wait(mut self) -> (ExitStatus, String) {
        let status = self.child.wait().expect("an end");
        for reader in self.readers.drain(..) {
            reader.join().expect("the log is read");
        }
        (status, self.log())
    }

    /// Sends the signal and waits as long as stopping may take.
    pub fn stop(mut self, signal: Signal) -> (ExitStatus, String) {
        self.signal(signal);
        let limit = Instant::now() + STOP_LIMIT;
        while self.child.try_wait().expect("a child").is_none() {
            assert!(
                Instant::now() < limit,
                "still running {STOP_LIMIT:?} after {signal:?}:\n{}",
                self.log()
            );
            std::thread::yield_now();
        }
        self.wait()
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A database file as the program wants to be told.
pub fn address(database: &Path) -> String {
    format!("sqlite://{}", database.display())
}

fn follow(pipe: impl Read + Send + 'static, log: Arc<Mutex<String>>) -> JoinHandle<()> {
    std::thread::spawn(move || {
        for line in BufReader::new(pipe).lines().map_while(Result::ok) {
            let mut log = log.lock().unwrap();
            log.push_str(&line);
            log.push('\n');
        }
    })
}

/// A server, a household file and the program between them.
pub struct World {
    pub messenger: Messenger,
    pub program: Option<Program>,
    folder: tempfile::TempDir,
    settings: Vec<(&'static str, String)>,
    /// What stopped programs printed.
    logs: String,
}

impl World {
    /// Everything up.
    pub fn new() -> World {
        let mut world = World::without_program(Messenger::start());
        world.start();
        world
    }

    pub fn without_program(messenger: Messenger) -> World {
        let folder = tempfile::tempdir().expect("a folder");
        World { messenger, program: None, folder, settings: Vec::new(), logs: String::new() }
    }

    /// A setting for programs started from now on.
    pub fn set(&mut self, name: &'static str, value: &str) {
        self.settings.push((name, value.to_owned()));
    }

    pub fn database(&self) -> PathBuf {
        self.folder.path().join("household.db")
    }

    pub fn start(&mut self) {
        let settings: Vec<(&str, &str)> =
            self.settings.iter().map(|(name, value)| (*name, value.as_str())).collect();
        let database = address(&self.database());
        self.program = Some(Program::serve(&self.messenger.url(), &database, &settings));
    }

    /// Waits until the running program has printed `words`.
    pub fn until_logged(&self, words: &str) {
        let program = self.program.as_ref().expect("a running program");
        let limit = Instant::now() + PATIENCE;
        while !program.log().contains(words) {
            assert!(Instant::now() < limit, "never printed {words:?}:\n{}", program.log());
            std::thread::yield_now();
        }
    }

    /// Waits for what the bot answers to a message.
    pub fn reply_to(&self, chat: i64, message: i64) -> Message {
        let what = format!("an answer to message {message} in {chat}");
        self.messenger.until(&what, |state| {
            let shown = state.shown(chat);
            shown.into_iter().find(|shown| shown.reply_to == Some(message)).cloned()
        })
    }

    /// How many of the bot's messages answer a message.
    pub fn replies(&self, state: &State, chat: i64, message: i64) -> usize {
        state.shown(chat).iter().filter(|shown| shown.reply_to == Some(message)).count()
    }

    /// Says something and waits for the answer.
    pub fn asks(&self, person: &Person, chat: i64, text: &str) -> Message {
        let said = self.messenger.says(person, chat, text);
        self.reply_to(chat, said)
    }

    /// Waits until a press was answered.
    pub fn until_answered(&self, press: &str) {
        self.messenger.until(&format!("an answer to {press}"), |state| {
            state.presses[press].answered.then_some(())
        });
    }

    /// Reads the household file behind the program's back.
    pub fn query(&self, sql: &'static str) -> Vec<SqliteRow> {
        self.messenger.block_on(async {
            let address = address(&self.database());
            let pool = SqlitePool::connect(&address).await.expect("the household file opens");
            let rows = sqlx::query(sql).fetch_all(&pool).await.expect("an answer");
            pool.close().await;
            rows
        })
    }

    /// Waits until everything that was fed is confirmed and worked through.
    pub fn until_handled(&self) {
        let limit = Instant::now() + PATIENCE;
        loop {
            self.messenger
                .until("everything confirmed", |state| (state.unconfirmed() == 0).then_some(()));
            let waiting = self.query("SELECT 1 FROM inbox WHERE state = 'waiting'").len();
            if waiting == 0 {
                return;
            }
            assert!(Instant::now() < limit, "{waiting} updates are still waiting");
            self.messenger.linger(LOOK_EVERY, |_| false);
        }
    }

    /// Runs another command on the same household file.
    pub fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_larderling"))
            .args(arguments)
            .env("LARDERLING_DATABASE", address(&self.database()))
            .output()
            .expect("the program runs")
    }

    /// Everything that stopped programs printed.
    pub fn printed(&self) -> &str {
        &self.logs
    }

    /// Stops the program as asked and keeps what it printed.
    pub fn stop(&mut self, signal: Signal) -> ExitStatus {
        let program = self.program.take().expect("a running program");
        let (status, log) = program.stop(signal);
        self.logs.push_str(&log);
        status
    }

    /// Ends a test: the program stops cleanly, printed no secret and no panic, and the referee
    /// finds nothing wrong with what went over the wire.
    pub fn finish(mut self) {
        if self.program.is_some() {
            let status = self.stop(Signal::Terminate);
            assert!(status.success(), "stopped with {status}:\n{}", self.logs);
        }
        assert_discreet(&self.logs);
        assert!(!self.logs.contains("panicked"), "a panic:\n{}", self.logs);
        let state = self.messenger.lock();
        let faults = super::referee::judge(&super::referee::record(&state));
        assert!(faults.is_empty(), "the referee: {faults:#?}\n{}", state.summary());
    }
}

/// The token never shows, whole or in part.
pub fn assert_discreet(log: &str) {
    let secret = TOKEN.split_once(':').expect("a token").1;
    assert!(!log.contains(secret), "the token was printed:\n{log}");
}
