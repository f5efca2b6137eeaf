//! One conversation with a test server of somebody else's, so that ours and the program are not
//! wrong in the same way.

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Instant;

use serde_json::{Value, json};

use crate::support::messenger::{PATIENCE, TOKEN};
use crate::support::process::{Program, Signal, address, assert_discreet};
use crate::support::referee;

struct Peer {
    process: Child,
    url: String,
    runtime: tokio::runtime::Runtime,
    client: reqwest::Client,
}

impl Peer {
    /// Starts the server; `None` when this run does without it.
    fn start() -> Option<Peer> {
        let modules = referee::installed("foreign_peer/node_modules")?;
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let mut process = Command::new("node")
            .arg(root.join("tests/referees/foreign_peer/start.js"))
            .env("NODE_PATH", modules)
            .stdout(Stdio::piped())
            .spawn()
            .expect("node starts");
        let mut port = String::new();
        let mut out = BufReader::new(process.stdout.take().expect("its output"));
        out.read_line(&mut port).expect("its port");
        let url = format!("http://127.0.0.1:{}", port.trim());
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        Some(Peer { process, url, runtime, client: reqwest::Client::new() })
    }

    fn post(&self, path: &str, body: &Value) -> Value {
        self.runtime.block_on(async {
            let request = self.client.post(format!("{}{path}", self.url)).json(body);
            request.send().await.expect("an answer").json().await.expect("JSON")
        })
    }

    fn common() -> Value {
        json!({
            "botToken": TOKEN, "date": 1_790_000_000,
            "from": { "id": 11, "is_bot": false, "first_name": "Ann" },
            "chat": { "id": 11, "type": "private", "first_name": "Ann" },
        })
    }

    fn says(&self, text: &str) {
        let mut message = Peer::common();
        message["text"] = json!(text);
        self.post("/sendMessage", &message);
    }

    fn presses(&self, on: &Value, key: &str) {
        let common = Peer::common();
        let query = json!({
            "botToken": TOKEN, "data": key, "from": common["from"],
            "message": { "message_id": on, "chat": common["chat"], "date": 1 },
        });
        self.post("/sendCallback", &query);
    }

    /// Waits for a message of the bot's with these words.
    fn hears(&self, words: &str) -> Value {
        let limit = Instant::now() + PATIENCE;
        let mut heard = Vec::new();
        loop {
            let got = self.post("/getUpdates", &json!({ "token": TOKEN, "chatId": 11 }));
            for update in got["result"].as_array().into_iter().flatten() {
                if update["message"]["text"].as_str().is_some_and(|text| text.contains(words)) {
                    return update.clone();
                }
                heard.push(update.clone());
            }
            assert!(Instant::now() < limit, "never heard {words:?}, but {heard:#?}");
            std::thread::yield_now();
        }
    }
}

impl Drop for Peer {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

#[test]
fn a_server_of_somebody_else_s_gets_a_sensible_conversation() {
    let Some(peer) = Peer::start() else { return };
    let folder = tempfile::tempdir().unwrap();
    let program = Program::serve(&peer.url, &address(&folder.path().join("household.db")), &[]);
    peer.says("got 3 leeks");
    let noted = peer.hears("leek");
    let buttons = noted["message"]["reply_markup"]["inline_keyboard"].to_string();
    assert!(buttons.contains("\"undo\""), "{noted}");
    peer.says("can you eat rhubarb leaves?");
    peer.hears("rhubarb");
    peer.presses(&noted["messageId"], "undo");
    peer.says("got 2 plums");
    peer.hears("plum");
    peer.says("what do we have?");
    let have = peer.hears("plum");
    assert!(!have["message"]["text"].as_str().unwrap().contains("leek"), "{have}");
    let (status, log) = program.stop(Signal::Terminate);
    assert!(status.success(), "{log}");
    assert_discreet(&log);
}
