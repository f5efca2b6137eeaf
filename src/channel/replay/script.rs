//! A dated chat log, read: lines of `YYYY-MM-DD HH:MM | person | text` with a few directives.

use chrono::NaiveTime;

use crate::conversation::Unreadable;
use crate::dates::{Instant, KitchenDay, Zone, clock_time};
use crate::kitchen::Settings;

/// A log as parsed.
#[derive(Clone, Debug, PartialEq)]
pub struct Script {
    /// Checked pairs of key and value.
    pub settings: Vec<(String, String)>,
    pub zone: Zone,
    pub steps: Vec<Step>,
}

/// One line.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its number in the file, from 1.
    pub line: usize,
    pub at: Instant,
    pub act: Act,
}

/// What a line does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Act {
    /// Only moves the clock.
    Tick,
    /// The bot stops, and starts again.
    Down,
    Up,
    Join(String),
    Leave(String),
    /// The group becomes a supergroup.
    Move,
    Write(Line),
    Unreadable {
        person: String,
        kind: Unreadable,
        caption: String,
        id: Option<String>,
    },
}

/// Something a person typed or pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    pub person: String,
    pub private: bool,
    /// The name the line gives itself, for later lines to edit or answer.
    pub id: Option<String>,
    pub text: Typed,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    Text(String),
    Edit {
        id: String,
        text: String,
    },
    /// An answer to a named message, or (`None`) to the bot's newest.
    Reply {
        id: Option<String>,
        text: String,
    },
    Press(String),
}

/// What is wrong with a log, and where.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {why}")]
pub struct ScriptError {
    /// From 1.
    pub line: usize,
    pub why: String,
}

impl Script {
    pub fn parse(text: &str) -> Result<Script, ScriptError> {
        let mut settings = Vec::new();
        let mut lines = Vec::new();
        for (number, line) in (1..).zip(text.trim_start_matches('\u{feff}').lines()) {
            let fault = |why: String| ScriptError { line: number, why };
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            if let Some(pairs) = line.strip_prefix("@household") {
                if !lines.is_empty() {
                    return Err(fault("@household stands above the first dated line".to_owned()));
                }
                set_up(&mut settings, pairs).map_err(fault)?;
                continue;
            }
            lines.push((number, line));
        }
        let zone = zone_of(&settings);
        let mut steps: Vec<Step> = Vec::new();
        let mut ids: Vec<String> = Vec::new();
        let mut people: Vec<String> = Vec::new();
        let mut above: Option<(KitchenDay, NaiveTime)> = None;
        for (number, line) in lines {
            let fault = |why: String| ScriptError { line: number, why };
            let (wall, rest) = stamp(line).map_err(fault)?;
            if let Some((day, time)) = above.filter(|above| wall < *above) {
                let time = time.format("%H:%M");
                return Err(fault(format!("earlier than the line above, {day} {time}")));
            }
            above = Some(wall);
            let act = act(rest, &people).map_err(fault)?;
            if let Act::Write(written) = &act {
                check_ids(&written.text, &ids).map_err(fault)?;
                if !people.contains(&written.person) {
                    people.push(written.person.clone());
                }
            }
            if let Act::Write(Line { id: Some(id), .. }) | Act::Unreadable { id: Some(id), .. } =
                &act
            {
                ids.push(id.clone());
            }
            let at = wall.0.at(wall.1, zone);
            // A wall-clock time inside a spring gap lies after times written below it.
            let at = steps.last().map_or(at, |last| last.at.max(at));
            steps.push(Step { line: number, at, act });
        }
        Ok(Script { settings, zone, steps })
    }
}

impl Script {
    /// Moves every line by whole days and reads its wall-clock time in `zone`.
    pub fn move_to(&mut self, days: i64, zone: Zone) {
        for step in &mut self.steps {
            let (day, time) = step.at.local(self.zone);
            step.at = day.plus(days).at(time, zone);
        }
        self.zone = zone;
        self.settings.retain(|(key, _)| key != "tz");
        self.settings.push(("tz".to_owned(), zone.name().to_owned()));
    }
}

/// `YYYY-MM-DD HH:MM | rest`.
fn stamp(line: &str) -> Result<((KitchenDay, NaiveTime), &str), String> {
    let form = "expected YYYY-MM-DD HH:MM | person | text";
    let (when, rest) = line.split_once('|').ok_or(form)?;
    let (day, time) = when.trim().split_once(char::is_whitespace).ok_or(form)?;
    let day = day.parse().map_err(|e| format!("{e}"))?;
    let time = clock_time(time.trim()).map_err(|e| e.to_string())?;
    Ok(((day, time), rest.trim()))
}

fn act(rest: &str, people: &[String]) -> Result<Act, String> {
    if let Some(directive) = rest.strip_prefix('!') {
        return directive_act(directive.trim(), people);
    }
    let (person, text) = rest.split_once('|').ok_or("expected | person | text")?;
    let (person, private) = match person.trim().strip_suffix("(private)") {
        Some(person) => (person.trim(), true),
        None => (person.trim(), false),
    };
    if person.is_empty() {
        return Err("nobody is named".to_owned());
    }
    let (text, id) = split_id(text.trim());
    let text = typed(text)?;
    Ok(Act::Write(Line { person: person.to_owned(), private, id, text }))
}

fn directive_act(directive: &str, people: &[String]) -> Result<Act, String> {
    let (word, rest) = directive.split_once(char::is_whitespace).unwrap_or((directive, ""));
    let rest = rest.trim();
    let name = || if rest.is_empty() { Err(format!("!{word} needs a name")) } else { Ok(rest) };
    let unreadable = |kind| {
        let rest = name()?;
        let known = people.iter().filter(|person| {
            rest.strip_prefix(person.as_str())
                .is_some_and(|after| after.is_empty() || after.starts_with(char::is_whitespace))
        });
        let first = rest.split_whitespace().next().unwrap_or(rest);
        let person = known.max_by_key(|person| person.len()).map_or(first, String::as_str);
        let (caption, id) = split_id(rest[person.len()..].trim());
        Ok(Act::Unreadable {
            person: person.to_owned(),
            kind,
            caption: caption.replace("\\n", "\n"),
            id,
        })
    };
    match word {
        "tick" => Ok(Act::Tick),
        "down" => Ok(Act::Down),
        "up" => Ok(Act::Up),
        "move" => Ok(Act::Move),
        "join" => Ok(Act::Join(name()?.to_owned())),
        "leave" => Ok(Act::Leave(name()?.to_owned())),
        "photo" => unreadable(Unreadable::Photo),
        "voice" => unreadable(Unreadable::Voice),
        "sticker" => unreadable(Unreadable::Sticker),
        other => Err(format!("unknown directive !{other}")),
    }
}

/// Takes a last ` [id]` off a text.
fn split_id(text: &str) -> (&str, Option<String>) {
    let id = text.strip_suffix(']').and_then(|head| head.rsplit_once('['));
    match id {
        Some((text, id))
            if is_id(id) && (text.is_empty() || text.ends_with(char::is_whitespace)) =>
        {
            (text.trim_end(), Some(id.to_owned()))
        }
        _ => (text, None),
    }
}

fn is_id(id: &str) -> bool {
    !id.is_empty() && id.chars().all(|c| c.is_alphanumeric() || c == '_' || c == '-')
}

fn typed(text: &str) -> Result<Typed, String> {
    let spoken = |text: &str| text.trim().replace("\\n", "\n");
    if let Some(key) = text.strip_prefix("press:") {
        return Ok(Typed::Press(key.trim().to_owned()));
    }
    if let Some(text) = text.strip_prefix("reply:") {
        return Ok(Typed::Reply { id: None, text: spoken(text) });
    }
    for word in ["edit", "reply"] {
        let named = text.strip_prefix(word).and_then(|rest| rest.trim_start().strip_prefix('['));
        let Some((id, text)) = named.and_then(|rest| rest.split_once("]:")) else { continue };
        if !is_id(id) {
            return Err(format!("{word} [{id}]: is not the name of a message"));
        }
        let (id, text) = (id.to_owned(), spoken(text));
        return Ok(match word {
            "edit" => Typed::Edit { id, text },
            _ => Typed::Reply { id: Some(id), text },
        });
    }
    Ok(Typed::Text(spoken(text)))
}

fn check_ids(typed: &Typed, ids: &[String]) -> Result<(), String> {
    match typed {
        Typed::Edit { id, .. } | Typed::Reply { id: Some(id), .. } if !ids.contains(id) => {
            Err(format!("no message above is named [{id}]"))
        }
        Typed::Edit { .. } | Typed::Reply { .. } | Typed::Press(_) | Typed::Text(_) => Ok(()),
    }
}

/// Reads the `key=value` pairs of an `@household` line; the zone must be known for what follows.
fn set_up(settings: &mut Vec<(String, String)>, pairs: &str) -> Result<(), String> {
    let mut checked = Settings::default();
    let day = KitchenDay::new(2000, 1, 1).ok_or("a calendar without the year 2000")?;
    for pair in pairs.split_whitespace() {
        let (key, value) =
            pair.split_once('=').ok_or_else(|| format!("{pair:?} is not key=value"))?;
        let value = value.trim_matches('"');
        checked.set(key, value, day).map_err(|e| e.to_string())?;
        settings.retain(|(each, _)| each != key);
        settings.push((key.to_owned(), value.to_owned()));
    }
    Ok(())
}

fn zone_of(settings: &[(String, String)]) -> Zone {
    let named = settings.iter().find(|(key, _)| key == "tz");
    named.and_then(|(_, value)| value.parse().ok()).unwrap_or(Zone::UTC)
}
