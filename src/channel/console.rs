//! The console: one person, one household, lines in and lines out.
//!
//! Every line is spoken to the bot. Control characters are dropped on the way in and on the way
//! out, so that neither a paste nor a stored name can drive the terminal.

use std::io::{BufRead, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::board::{Board, external};
use super::{Arrival, Arrived, Channel, ChatKey, Context, Spoken, Writer};
use crate::conversation::{Kind, Outgoing};
use crate::dates::Instant;
use crate::outbox::{Outcome, Sender};
use crate::painter;
use crate::picture::Picture;
use crate::store::{Claimed, Errand};

/// The longest line read, in bytes.
pub const LINE_MAX: u64 = 16_384;

/// The one chat of a console.
pub fn chat() -> ChatKey {
    ChatKey::new(Channel::Console, "console")
}

/// One line as it came from the input.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Input {
    Line(String),
    /// A line of more than [`LINE_MAX`] bytes, of which nothing was kept.
    TooLong {
        bytes: u64,
    },
}

/// Reads the next line, without control characters; `None` at the end. A line that is too long is
/// read to its end and dropped, so it takes time but no memory.
pub fn read_line(input: &mut impl BufRead) -> std::io::Result<Option<Input>> {
    Ok(read_line_as_is(input)?.map(|line| match line {
        Input::Line(line) => Input::Line(without_controls(&line)),
        too_long @ Input::TooLong { .. } => too_long,
    }))
}

/// The same with every character it has, but for its end.
pub fn read_line_as_is(input: &mut impl BufRead) -> std::io::Result<Option<Input>> {
    let mut line = Vec::new();
    let read = input.by_ref().take(LINE_MAX + 1).read_until(b'\n', &mut line)? as u64;
    if read == 0 {
        return Ok(None);
    }
    if read <= LINE_MAX || line.ends_with(b"\n") {
        let line = String::from_utf8_lossy(&line);
        return Ok(Some(Input::Line(line.trim_end_matches(['\n', '\r']).to_owned())));
    }
    let mut bytes = read;
    loop {
        let (skipped, end, ended) = {
            let chunk = input.fill_buf()?;
            match chunk.iter().position(|byte| *byte == b'\n') {
                Some(at) => (at, 1, true),
                None => (chunk.len(), 0, chunk.is_empty()),
            }
        };
        input.consume(skipped + end);
        bytes += skipped as u64;
        if ended {
            return Ok(Some(Input::TooLong { bytes }));
        }
    }
}

/// Text without control characters, tabs as spaces; line breaks stay.
pub fn without_controls(text: &str) -> String {
    let kept = text.trim_end_matches(['\n', '\r']).chars().filter_map(|c| match c {
        '\t' => Some(' '),
        '\n' => Some('\n'),
        c if c.is_control() => None,
        c => Some(c),
    });
    kept.collect()
}

/// What a line asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Request {
    Arrival(Box<Arrival>),
    /// A press on a button that none of the messages has.
    NoButton(String),
    /// An empty line.
    Nothing,
}

/// Where pictures go, since a terminal shows none.
pub struct Gallery {
    /// Holds one file for each kind of picture, the newest.
    pub folder: PathBuf,
    /// Says where a picture was written, or why it was not.
    pub say: Box<SayWritten>,
}

/// The sentence about a picture that was written to a path, or was not for a reason.
pub type SayWritten = dyn Fn(Result<&Path, &str>) -> String + Send + Sync;

impl Gallery {
    /// Writes the picture and returns the line that says so.
    fn hang(&self, picture: &Picture) -> String {
        let path = self.folder.join(picture.scene.word()).with_extension("png");
        let written = painter::png(&picture.svg)
            .ok_or_else(|| std::io::Error::other("it cannot be drawn"))
            .and_then(|png| {
                std::fs::create_dir_all(&self.folder)?;
                std::fs::write(&path, png)?;
                std::path::absolute(&path)
            });
        match written {
            Ok(path) => (self.say)(Ok(&path)),
            Err(error) => (self.say)(Err(&error.to_string())),
        }
    }
}

/// The way out: prints.
pub struct Terminal<W> {
    inner: Mutex<Inner<W>>,
    gallery: Option<Gallery>,
}

struct Inner<W> {
    out: W,
    board: Board,
}

impl<W: Write + Send + 'static> Terminal<W> {
    pub fn new(out: W) -> Terminal<W> {
        Terminal { inner: Mutex::new(Inner { out, board: Board::default() }), gallery: None }
    }

    /// The same, writing pictures into files; without, their words alone are printed.
    pub fn with_pictures(self, gallery: Gallery) -> Terminal<W> {
        Terminal { gallery: Some(gallery), ..self }
    }

    /// Prints a line of the console's own.
    pub fn say(&self, text: &str) -> std::io::Result<()> {
        let out = &mut self.lock().out;
        writeln!(out, "{}", without_controls(text))?;
        out.flush()
    }

    /// Prints without a line break.
    pub fn prompt(&self, text: &str) -> std::io::Result<()> {
        let out = &mut self.lock().out;
        write!(out, "{text}")?;
        out.flush()
    }

    /// What `line` is: something said, or a button pressed, by `press: KEY` or by the words on a
    /// button of the newest message.
    pub fn request(&self, line: &str, from: &Writer, at: Instant) -> Request {
        let line = line.trim();
        if line.is_empty() {
            return Request::Nothing;
        }
        let inner = self.lock();
        let pressed = line.strip_prefix("press:").map(str::trim);
        let found = match pressed {
            Some(wanted) => inner.board.with_button(&[chat()], wanted),
            None => inner.board.newest(&chat()).and_then(|posted| {
                let on_it =
                    |button: &&crate::conversation::Button| button.label.eq_ignore_ascii_case(line);
                posted.buttons.iter().find(on_it).map(|button| (posted, button.key.as_str()))
            }),
        };
        let what = match (found, pressed) {
            (Some((posted, key)), _) => Arrived::Pressed {
                from: from.clone(),
                on: posted.external(),
                key: key.to_owned(),
                private: false,
                query: None,
            },
            (None, Some(wanted)) => return Request::NoButton(wanted.to_owned()),
            (None, None) => Arrived::Said {
                from: from.clone(),
                message: Spoken {
                    external: None,
                    text: line.to_owned(),
                    reply_to: None,
                    private: false,
                    addressed: true,
                },
            },
        };
        let context = Context::of_equals();
        Request::Arrival(Box::new(Arrival { chat: chat(), update: None, at, what, context }))
    }

    fn lock(&self) -> MutexGuard<'_, Inner<W>> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl<W: Write + Send + 'static> Sender for Terminal<W> {
    async fn send(&self, claimed: &Claimed) -> Outcome {
        let (Errand::Say(outgoing), Some(chat)) = (&claimed.errand, &claimed.chat) else {
            return Outcome::Sent { external: None };
        };
        let picture = self.gallery.as_ref().zip(outgoing.picture.as_ref());
        let hung = picture.map(|(gallery, picture)| gallery.hang(picture));
        let mut inner = self.lock();
        inner.board.post(chat, outgoing);
        match print(&mut inner.out, outgoing, hung.as_deref()) {
            Ok(()) => Outcome::Sent { external: Some(external(outgoing.message)) },
            Err(error) => Outcome::Refused { why: format!("the output is closed: {error}") },
        }
    }
}

fn print(out: &mut impl Write, outgoing: &Outgoing, picture: Option<&str>) -> std::io::Result<()> {
    let text = without_controls(&outgoing.text.to_plain());
    match outgoing.kind {
        Kind::Post | Kind::Reminder => writeln!(out, "\n{text}")?,
        Kind::Reply | Kind::Reaction | Kind::Edit | Kind::Error => writeln!(out, "{text}")?,
    }
    if let Some(line) = picture {
        writeln!(out, "{}", without_controls(line))?;
    }
    if !outgoing.buttons.is_empty() {
        let labels = outgoing.buttons.iter().map(|button| format!("[{}]", button.label));
        writeln!(out, "{}", labels.collect::<Vec<_>>().join(" "))?;
    }
    out.flush()
}

#[cfg(test)]
mod tests {
    use super::{Input, LINE_MAX, read_line, without_controls};

    #[test]
    fn a_line_that_is_too_long_is_dropped_and_the_next_one_read() {
        let long = "x".repeat(10 << 20);
        let text = format!("got 3 leeks\n{long}\nused 1 leek");
        let mut input = std::io::BufReader::new(text.as_bytes());
        let mut next = || read_line(&mut input).expect("memory does not fail");
        assert_eq!(next(), Some(Input::Line("got 3 leeks".to_owned())));
        assert_eq!(next(), Some(Input::TooLong { bytes: 10 << 20 }));
        assert_eq!(next(), Some(Input::Line("used 1 leek".to_owned())));
        assert_eq!(next(), None);
    }

    #[test]
    fn a_line_of_the_longest_length_is_read() {
        let longest = "x".repeat(usize::try_from(LINE_MAX).expect("fits"));
        for end in ["", "\n"] {
            let text = format!("{longest}{end}");
            let read = read_line(&mut text.as_bytes()).expect("memory does not fail");
            assert_eq!(read, Some(Input::Line(longest.clone())));
        }
    }

    #[test]
    fn control_characters_never_reach_the_terminal() {
        assert_eq!(without_controls("got \u{1b}[2J3\tleeks\u{7}\r\n"), "got [2J3 leeks");
        assert_eq!(without_controls("עדשים 🥕"), "עדשים 🥕");
    }
}
