//! Reading line by line, as `larderling read` does: one message in, one JSON line out.
//!
//! Lines stand alone, or with talk are `person TAB text` and go on from each other.

use super::{ReadContext, Reader, json};
use crate::statement::Mention;

/// A talk of several people, line by line.
pub struct Batch<'a> {
    reader: &'a Reader,
    context: ReadContext,
    /// Lines name their person and share context.
    talk: bool,
    lines: usize,
    /// What each person named, with its line.
    mentions: Vec<(String, usize, Mention)>,
}

/// How many mentions back a person may go; older ones are forgotten.
const MEMORY: usize = 4;

impl<'a> Batch<'a> {
    /// Lines that stand alone.
    pub fn new(reader: &'a Reader, context: ReadContext) -> Batch<'a> {
        Batch { reader, context, talk: false, lines: 0, mentions: Vec::new() }
    }

    /// Lines of `person TAB text` that share context.
    pub fn talk(reader: &'a Reader, context: ReadContext) -> Batch<'a> {
        Batch { talk: true, ..Batch::new(reader, context) }
    }

    /// The JSON line for one input line (without its line end).
    pub fn line(&mut self, line: &str) -> String {
        self.lines += 1;
        if !self.talk {
            return json::line(line, &self.reader.read(line, &self.context));
        }
        let (person, text) = line.split_once('\t').unwrap_or(("", line));
        let own: Vec<(usize, Mention)> = self
            .mentions
            .iter()
            .filter(|(who, ..)| who == person)
            .map(|(_, line, mention)| (*line, mention.clone()))
            .collect();
        let context = ReadContext {
            talk: own.iter().map(|(_, m)| m.clone()).collect(),
            ..self.context.clone()
        };
        let (reading, referred) = self.reader.read_in_talk(text, &context);
        let refers_to = referred.and_then(|i| own.get(i)).map(|(line, _)| *line);
        self.remember(person, &reading.statements);
        json::talk_line(text, &reading, refers_to)
    }

    /// The reading of one line for people: what was read, and why.
    pub fn explained(&mut self, line: &str) -> String {
        let text =
            if self.talk { line.split_once('\t').map_or(line, |(_, text)| text) } else { line };
        let reading = self.reader.explain(text, &self.context);
        let mut out = format!("{text}\n");
        for step in &reading.explanation {
            out.push_str(&format!("  {step}\n"));
        }
        out.push_str(&format!("  stance: {}\n", reading.stance));
        out
    }

    fn remember(&mut self, person: &str, statements: &[crate::statement::Statement]) {
        for statement in statements.iter().filter(|s| !s.items.is_empty()) {
            let mention = Mention {
                items: statement.items.clone(),
                intent: Some(statement.intent),
                at: None,
            };
            self.mentions.push((person.to_owned(), self.lines, mention));
        }
        let own = self.mentions.iter().filter(|(who, ..)| who == person).count();
        for _ in MEMORY..own {
            if let Some(at) = self.mentions.iter().position(|(who, ..)| who == person) {
                self.mentions.remove(at);
            }
        }
    }
}
