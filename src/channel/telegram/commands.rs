//! The short list of commands: each stands for words somebody could have written.

use serde_json::Value;
use teloxide_core::payloads::{GetMyCommands, SetMyCommands};
use teloxide_core::types::{BotCommand, BotCommandScope};

use super::api::{Api, CallError};

/// A command and the words it stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Command {
    /// Without the slash: lower-case letters, at most 32.
    pub name: &'static str,
    pub words: &'static str,
}

/// Every command, in the order of the menu. `start`, `help` and `settings` are asked of all bots.
/// What each does is checked when it is said, whoever was shown which menu.
pub const COMMANDS: [Command; 12] = [
    Command { name: "first", words: "what's first?" },
    Command { name: "have", words: "what do we have?" },
    Command { name: "need", words: "what do we need?" },
    Command { name: "plan", words: "plan" },
    Command { name: "undo", words: "undo" },
    Command { name: "help", words: "help" },
    Command { name: "settings", words: "settings" },
    Command { name: "privacy", words: "privacy" },
    Command { name: "kitchen", words: "other kitchen" },
    Command { name: "invite", words: "invite" },
    Command { name: "export", words: "export" },
    Command { name: "start", words: "help" },
];

/// The commands shown where, by name.
fn menus() -> [(BotCommandScope, &'static [&'static str]); 3] {
    const EVERYDAY: &[&str] =
        &["first", "have", "need", "plan", "undo", "help", "settings", "privacy"];
    const PRIVATE: &[&str] =
        &["first", "have", "need", "plan", "undo", "help", "settings", "privacy", "kitchen"];
    const ADMINISTRATORS: &[&str] = &[
        "first", "have", "need", "plan", "undo", "help", "settings", "privacy", "invite", "export",
    ];
    [
        (BotCommandScope::AllPrivateChats, PRIVATE),
        (BotCommandScope::AllGroupChats, EVERYDAY),
        (BotCommandScope::AllChatAdministrators, ADMINISTRATORS),
    ]
}

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

/// Gives the platform each menu in each language, unless it has the same already. The first
/// language is also the one for everybody whose own is not among them. `describe` says in a
/// language what a command does.
pub async fn offer(
    api: &Api,
    languages: impl Iterator<Item = &'static str>,
    describe: impl Fn(&str, &str) -> String,
) -> Result<(), CallError> {
    for (number, language) in languages.enumerate() {
        let code = (number > 0).then(|| language.to_owned());
        for (scope, names) in menus() {
            let described =
                names.iter().map(|name| BotCommand::new(*name, describe(language, name)));
            let menu: Vec<BotCommand> = described.collect();
            let mut current = GetMyCommands::new();
            current.scope = Some(scope.clone());
            current.language_code.clone_from(&code);
            let current: Vec<BotCommand> = api.call(&current).await?;
            if current != menu {
                let mut set = SetMyCommands::new(menu);
                set.scope = Some(scope);
                set.language_code.clone_from(&code);
                api.call::<_, Value>(&set).await?;
            }
        }
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
