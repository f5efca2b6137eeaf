//! What the console itself says, around the conversation.

use super::Wording;

impl Wording {
    /// Where a picture was written.
    pub fn console_picture(&self, path: &str) -> String {
        self.say("console-picture", &[("path", path.into())])
    }

    pub fn console_no_picture(&self, why: &str) -> String {
        self.say("console-no-picture", &[("why", why.into())])
    }

    /// The lines a chat in the console opens with; at most six.
    pub fn console_opening(&self, database: &str) -> String {
        self.say("console-opening", &[("database", database.into())])
    }

    pub fn console_demo(&self) -> String {
        self.say("console-demo", &[])
    }

    /// A line longer than the console reads, in bytes.
    pub fn console_too_long(&self, bytes: u64, limit: u64) -> String {
        let args = [("bytes", bytes.to_string().into()), ("limit", limit.to_string().into())];
        self.say("console-too-long", &args)
    }

    pub fn console_no_button(&self, wanted: &str) -> String {
        self.say("console-no-button", &[("wanted", wanted.into())])
    }

    /// What is due or was to be said cannot be read; `why` is the store's own sentence.
    pub fn console_trouble(&self, why: &str) -> String {
        self.say("console-trouble", &[("why", why.into())])
    }

    /// The store failed; `why` is its own sentence.
    pub fn console_not_saved(&self, why: &str) -> String {
        self.say("console-not-saved", &[("why", why.into())])
    }
}
