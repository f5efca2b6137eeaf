//! What people want of the bot itself: its settings, its records, who may join, how to be spoken
//! to. Only when it is spoken to, and only as a whole message.

use std::ops::Range;

use crate::reader::Analysis;
use crate::statement::Statement;
use crate::words::Intent;

/// The keys under which a matter stands in [`Statement::setting`], beside the settings proper.
pub const SHOW: &str = "show";
pub const PRIVACY: &str = "privacy";
pub const EXPORT: &str = "export";
pub const DELETE: &str = "delete";
/// Its value is a name, or `me`.
pub const FORGET: &str = "forget";
pub const INVITE: &str = "invite";
/// Which household a private chat speaks to.
pub const KITCHEN: &str = "kitchen";
pub const SET_UP: &str = "set_up";
/// Posts go to the topic this was said in.
pub const POST_HERE: &str = "post_here";
/// How the writer wants to be spoken to: `usual`, `plain`, `child`.
pub const STYLE: &str = "style";
/// The writer's own language.
pub const MY_LANGUAGE: &str = "my_lang";

/// A matter, when the bot is spoken to.
pub fn read(a: &Analysis<'_>, range: Range<usize>) -> Option<Statement> {
    if !a.context.addressed || range.len() > LONGEST {
        return None;
    }
    let said: Vec<&str> = range
        .clone()
        .filter(|i| a.text.is_word(*i) || a.text.number(*i).is_some() || a.text.word(*i) == ":")
        .map(|i| a.text.word(i))
        .filter(|word| !matches!(*word, "larderling" | "please" | "pls"))
        .collect();
    let said = said.join(" ").replace(" : ", ":");
    let whole = WHOLE.iter().find(|(words, ..)| words.contains(&said.as_str()));
    let found = match whole {
        Some((_, key, value)) => Some((*key, (*value).to_owned())),
        None => forget(&said).or_else(|| my_language(&said)).or_else(|| quiet_hours(&said)),
    };
    let (key, value) = found?;
    let mut statement = Statement::new(Intent::Setting);
    statement.setting = Some((key.to_owned(), value));
    Some(statement)
}

/// No matter is told in more tokens than this.
const LONGEST: usize = 14;

/// Whole messages, what they are about, and the value.
const WHOLE: &[(&[&str], &str, &str)] = &[
    (
        &[
            "settings",
            "show settings",
            "show the settings",
            "our settings",
            "my settings",
            "what are our settings",
            "what are the settings",
            "preferences",
        ],
        SHOW,
        "",
    ),
    (
        &[
            "privacy",
            "privacy policy",
            "what do you store",
            "what do you keep",
            "what do you save",
            "what do you know about me",
            "what do you know about us",
            "what do you store about us",
            "what do you store about me",
            "do you read everything",
            "do you read our messages",
            "do you store our messages",
            "where is our data",
            "is this private",
        ],
        PRIVACY,
        "",
    ),
    (
        &[
            "export",
            "export everything",
            "export our data",
            "export the data",
            "export my data",
            "export all",
            "download our data",
            "give us our data",
            "give me our data",
            "send me our data",
            "send me everything you have",
            "give me everything you have",
        ],
        EXPORT,
        "",
    ),
    (
        &[
            "delete everything",
            "delete the household",
            "delete our household",
            "delete the kitchen",
            "delete our kitchen",
            "delete our data",
            "delete all our data",
            "delete all data",
            "erase everything",
            "erase our data",
            "delete all of it",
            "wipe everything",
        ],
        DELETE,
        "",
    ),
    (
        &[
            "invite",
            "invite someone",
            "invite somebody",
            "invite link",
            "make an invite",
            "new invite",
            "add someone",
            "add a person",
            "add a member",
            "invite a person",
            "invite another person",
            "make an invite link",
            "give me an invite link",
        ],
        INVITE,
        "",
    ),
    (
        &[
            "kitchen",
            "other kitchen",
            "which kitchen",
            "switch kitchen",
            "change kitchen",
            "other household",
            "switch household",
            "which household",
            "change household",
        ],
        KITCHEN,
        "",
    ),
    (&["set up", "setup", "set up again", "start set up", "set up the kitchen"], SET_UP, ""),
    (
        &[
            "post here",
            "post in this topic",
            "use this topic",
            "this is your topic",
            "stay in this topic",
            "send the post here",
        ],
        POST_HERE,
        "",
    ),
    (&["names on", "use names", "use our names", "say names", "tell names"], "names", "yes"),
    (
        &[
            "names off",
            "no names",
            "don't use names",
            "without names",
            "never say names",
            "don't tell names",
            "don't say names",
        ],
        "names",
        "no",
    ),
    (&["quiet hours off", "no quiet hours", "quiet hours none"], "quiet", "none"),
    (
        &[
            "plain style",
            "plain",
            "plain words",
            "plain text",
            "use plain style",
            "plain style for me",
            "full words",
            "words instead of reactions",
            "no reactions for me",
            "no symbols",
            "i use a screen reader",
        ],
        STYLE,
        "plain",
    ),
    (
        &[
            "child style",
            "i'm a child",
            "i am a child",
            "i'm a kid",
            "i am a kid",
            "kid style",
            "child style for me",
            "kids style",
        ],
        STYLE,
        "child",
    ),
    (
        &[
            "usual style",
            "normal style",
            "grown-up style",
            "grown up style",
            "adult style",
            "standard style",
            "usual style for me",
            "i'm a grown-up",
            "i am a grown-up",
        ],
        STYLE,
        "usual",
    ),
];

/// "forget me", "forget Ben".
fn forget(said: &str) -> Option<(&'static str, String)> {
    let heads = ["forget about ", "forget "];
    let who = heads.iter().find_map(|head| said.strip_prefix(head))?;
    let words = who.split(' ').count();
    let points = ["that", "it", "this", "the", "them", "about", "to", "what", "everything"];
    let starts = who.split(' ').next().unwrap_or_default();
    if words > 3 || points.contains(&starts) {
        return None;
    }
    let me = matches!(who, "me" | "my name" | "me please" | "about me");
    Some((FORGET, if me { "me".to_owned() } else { who.to_owned() }))
}

/// "answer me in English".
fn my_language(said: &str) -> Option<(&'static str, String)> {
    let heads = [
        "answer me in ",
        "reply to me in ",
        "talk to me in ",
        "write to me in ",
        "my language is ",
    ];
    let name = heads.iter().find_map(|head| said.strip_prefix(head))?;
    language(name).map(|code| (MY_LANGUAGE, code.to_owned()))
}

/// The primary subtag (BCP 47) of a language by its own name, its English one, or the tag.
pub fn language(name: &str) -> Option<&'static str> {
    const LANGUAGES: &[(&[&str], &str)] = &[
        (&["english", "en"], "en"),
        (&["german", "deutsch", "de"], "de"),
        (&["spanish", "espanol", "español", "castellano", "es"], "es"),
        (&["french", "francais", "français", "fr"], "fr"),
        (&["italian", "italiano", "it"], "it"),
        (&["dutch", "nederlands", "nl"], "nl"),
        (&["polish", "polski", "pl"], "pl"),
        (&["portuguese", "portugues", "português", "pt"], "pt"),
    ];
    LANGUAGES.iter().find(|(names, _)| names.contains(&name)).map(|(_, code)| *code)
}

/// "quiet hours from 22:00 to 6:00", "quiet hours 22-6".
fn quiet_hours(said: &str) -> Option<(&'static str, String)> {
    let rest = said.strip_prefix("quiet hours").or_else(|| said.strip_prefix("quiet from"))?;
    let times: Vec<String> = rest
        .split([' ', '-'])
        .filter(|word| word.starts_with(|c: char| c.is_ascii_digit()))
        .map(|time| if time.contains(':') { time.to_owned() } else { format!("{time}:00") })
        .collect();
    match times.as_slice() {
        [from, to] => Some(("quiet", format!("{from}-{to}"))),
        _ => None,
    }
}
