//! Project Fluent behind one small door: a message id and named arguments in, text out.
//!
//! One file per language, and one more per language that says the same in full words for people
//! who have chosen plain style. Adding a language is adding its two files to [`LANGUAGES`]; a test
//! holds every file against the English one, message by message and argument by argument.

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

/// Every language there is, English first: primary subtag (BCP 47), messages, and the messages
/// that read otherwise in plain style.
const LANGUAGES: &[Language] = &[Language {
    tag: "en",
    messages: include_str!("en.ftl"),
    plain: include_str!("en_plain.ftl"),
}];

struct Language {
    tag: &'static str,
    messages: &'static str,
    plain: &'static str,
}

/// The sentences of one language, in the usual style or in full words.
pub struct Wording {
    tag: &'static str,
    plain: bool,
    bundle: FluentBundle<FluentResource>,
}

/// Why a language file cannot be used.
#[derive(Debug, thiserror::Error)]
#[error("the wording file for {language} has faults: {faults}")]
pub struct WordingError {
    language: String,
    faults: String,
}

impl Wording {
    pub fn english() -> Result<Wording, WordingError> {
        Wording::of(&LANGUAGES[0], false)
    }

    /// Every language in both styles, English first.
    ///
    /// # Errors
    /// When a file does not hold together.
    pub fn all() -> Result<Vec<Wording>, WordingError> {
        let styled = LANGUAGES.iter().flat_map(|language| [(language, false), (language, true)]);
        styled.map(|(language, plain)| Wording::of(language, plain)).collect()
    }

    /// The tags of all languages.
    pub fn languages() -> impl Iterator<Item = &'static str> {
        LANGUAGES.iter().map(|language| language.tag)
    }

    fn of(language: &Language, plain: bool) -> Result<Wording, WordingError> {
        let fault = |faults: String| WordingError { language: language.tag.to_owned(), faults };
        let resource = |text: &str| {
            let parsed = FluentResource::try_new(text.to_owned());
            parsed.map_err(|(_, errors)| fault(format!("{errors:?}")))
        };
        let id = language.tag.parse().map_err(|e| fault(format!("{e:?}")))?;
        let mut bundle = FluentBundle::new_concurrent(vec![id]);
        bundle.set_use_isolating(false);
        // What a language does not say yet is said in English rather than not at all; the tests
        // do not let it come to that.
        bundle.add_resource_overriding(resource(LANGUAGES[0].messages)?);
        bundle.add_resource_overriding(resource(language.messages)?);
        if plain {
            bundle.add_resource_overriding(resource(language.plain)?);
        }
        Ok(Wording { tag: language.tag, plain, bundle })
    }

    /// The primary subtag of the language.
    pub fn tag(&self) -> &'static str {
        self.tag
    }

    /// Whether it is the style of full words.
    pub fn is_plain(&self) -> bool {
        self.plain
    }

    /// The text of message `id`. A missing message or argument is a defect that the tests find;
    /// at run time the id itself is shown rather than nothing.
    pub(super) fn say(&self, id: &str, args: &[(&str, FluentValue<'_>)]) -> String {
        let Some(pattern) = self.bundle.get_message(id).and_then(|message| message.value()) else {
            return id.to_owned();
        };
        let mut named = FluentArgs::with_capacity(args.len());
        for (name, value) in args {
            named.set(*name, value.clone());
        }
        let mut errors = Vec::new();
        let text = self.bundle.format_pattern(pattern, Some(&named), &mut errors).into_owned();
        debug_assert!(errors.is_empty(), "wording {id}: {errors:?}");
        text
    }
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};

    use super::{LANGUAGES, Wording};

    /// Each message of a file with the arguments it uses.
    fn messages(text: &str) -> BTreeMap<&str, BTreeSet<&str>> {
        let mut found: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        let mut current = "";
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            let opens = line.starts_with(|c: char| c.is_ascii_lowercase());
            if let Some((id, _)) = line.split_once('=').filter(|_| opens) {
                current = id.trim();
                // Every unit is told how many there are, whether its English needs it or not.
                let given = current.starts_with("unit-").then_some("count");
                let before = found.insert(current, given.into_iter().collect());
                assert!(before.is_none(), "{current} twice");
            }
            for rest in line.split('$').skip(1) {
                let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '_');
                let name = &rest[..end.unwrap_or(rest.len())];
                found.get_mut(current).expect("an argument stands in a message").insert(name);
            }
        }
        found
    }

    /// What `theirs` lacks or has beyond `ours`.
    fn gaps(ours: &str, theirs: &str) -> Vec<String> {
        let (ours, theirs) = (messages(ours), messages(theirs));
        let missing = ours.keys().filter(|id| !theirs.contains_key(*id));
        let mut gaps: Vec<String> = missing.map(|id| format!("{id} is missing")).collect();
        for (id, arguments) in &theirs {
            match ours.get(id) {
                None => gaps.push(format!("{id} is not one of ours")),
                Some(known) if !arguments.is_subset(known) => {
                    gaps.push(format!("{id} uses an argument it is not given"));
                }
                Some(_) => {}
            }
        }
        gaps
    }

    #[test]
    fn every_language_says_everything_english_says() {
        let english = LANGUAGES[0].messages;
        for language in LANGUAGES {
            let gaps = gaps(english, language.messages);
            assert!(gaps.is_empty(), "{}: {gaps:#?}", language.tag);
            // Plain style changes messages and adds none; every language changes the same ones.
            let known = messages(english);
            for (id, arguments) in messages(language.plain) {
                let given = known.get(id).unwrap_or_else(|| panic!("{id} is not one of ours"));
                assert!(arguments.is_subset(given), "{id} uses an argument it is not given");
            }
        }
        assert_eq!(Wording::all().unwrap().len(), 2 * LANGUAGES.len());
    }

    #[test]
    fn a_missing_message_or_a_foreign_argument_is_found() {
        let ours = "a = One { $food }\nb = { $n ->\n    [one] x\n   *[other] { $n } y\n}\n";
        assert!(gaps(ours, ours).is_empty());
        assert_eq!(gaps(ours, "a = Uno { $food }\n"), ["b is missing"]);
        let strange = gaps(ours, "a = Uno { $comida }\nb = { $n }\nc = x\n");
        assert_eq!(strange, ["a uses an argument it is not given", "c is not one of ours"]);
    }
}
