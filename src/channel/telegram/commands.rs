//! The short list of commands: each stands for words somebody could have written.

use serde_json::Value;
use teloxide_core::payloads::{GetMyCommands, SetMyCommands};
use teloxide_core::types::BotCommand;

use super::api::{Api, CallError};

/// A command and the words it stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Command {
    /// Without the slash: lower-case letters, at most 32.
    pub name: &'static str,
    pub words: &'static str,
}

/// Every command, in the order of the menu. `start`, `help` and `settings` are asked of all bots.
pub const COMMANDS: [Command; 8] = [
    Command { name: "first", words: "what's first?" },
    Command { name: "have", words: "what do we have?" },
    Command { name: "need", words: "what do we need?" },
    Command { name: "plan", words: "plan" },
    Command { name: "undo", words: "undo" },
    Command { name: "settings", words: "settings" },
    Command { name: "help", words: "help" },
    Command { name: "start", words: "help" },
];

/// A command as written: `/name`, `/name@handle`, with or without more words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written<'a> {
    pub name: String,
    pub handle: Option<&'a str>,
    pub rest: &'a str,
}

impl Written<'_> {
    /// The command it is, when it is one of ours.
    pub fn command(&self) -> Option<Command> {
        COMMANDS.into_iter().find(|command| command.name == self.name)
    }
}

/// The command `text` starts with.
pub fn written(text: &str) -> Option<Written<'_>> {
    let (head, rest) = match text.strip_prefix('/')?.split_once(char::is_whitespace) {
        Some((head, rest)) => (head, rest.trim()),
        None => (text.strip_prefix('/')?, ""),
    };
    let (name, handle) = match head.split_once('@') {
        Some((name, handle)) => (name, Some(handle)),
        None => (head, None),
    };
    let fits = (1..=32).contains(&name.len())
        && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_');
    fits.then(|| Written { name: name.to_ascii_lowercase(), handle, rest })
}

/// Gives the platform the menu, unless it has the same already. `describe` says in a few words
/// what a command does; one it has no words for is left out of the menu.
pub async fn offer(api: &Api, describe: impl Fn(&str) -> Option<String>) -> Result<(), CallError> {
    let described = COMMANDS.into_iter().filter_map(|command| {
        describe(command.name).map(|words| BotCommand::new(command.name, words))
    });
    let menu: Vec<BotCommand> = described.collect();
    let current: Vec<BotCommand> = api.call(&GetMyCommands::new()).await?;
    if current != menu {
        api.call::<_, Value>(&SetMyCommands::new(menu)).await?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commands_are_known_with_and_without_a_handle_in_any_case() {
        let table = [
            ("/help", Some(("help", None, ""))),
            ("/Help@Larder_bot", Some(("help", Some("Larder_bot"), ""))),
            ("/start  abc_-1", Some(("start", None, "abc_-1"))),
            ("/first\nplease", Some(("first", None, "please"))),
            ("help", None),
            ("/", None),
            ("/ help", None),
            ("/3/4 cup", None),
            ("/über", None),
        ];
        for (text, expected) in table {
            let found = written(text);
            let found = found.as_ref().map(|w| (w.name.as_str(), w.handle, w.rest));
            assert_eq!(found, expected, "{text:?}");
        }
    }
}
