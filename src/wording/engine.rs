//! Project Fluent behind one small door: a message id and named arguments in, text out.

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

const ENGLISH: &str = include_str!("en.ftl");

/// The sentences of one language.
pub struct Wording {
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
        Wording::parse("en", ENGLISH)
    }

    fn parse(language: &str, text: &str) -> Result<Wording, WordingError> {
        let fault = |faults: String| WordingError { language: language.to_owned(), faults };
        let resource = FluentResource::try_new(text.to_owned())
            .map_err(|(_, errors)| fault(format!("{errors:?}")))?;
        let id = language.parse().map_err(|e| fault(format!("{e:?}")))?;
        let mut bundle = FluentBundle::new_concurrent(vec![id]);
        bundle.set_use_isolating(false);
        bundle.add_resource(resource).map_err(|errors| fault(format!("{errors:?}")))?;
        Ok(Wording { bundle })
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
