//! The bot's token: a secret that cannot print itself.
//!
//! It stands in the address of every request, so it leaks through whatever prints addresses. It is
//! never formatted outside [`Token::address`], and every text that comes back from the transport
//! goes through [`Token::redact`] before anybody sees it.

use std::fmt;

/// What stands in place of the token.
const REDACTED: &str = "[token]";

/// `123456:ABC...`, as the platform gives it out.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

impl Token {
    /// # Errors
    /// A text that cannot be a token: it has the form digits, colon, letters, digits, `_` and `-`.
    pub fn new(text: &str) -> Result<Token, NotAToken> {
        let text = text.trim();
        let (number, secret) = text.split_once(':').ok_or(NotAToken)?;
        let number_fits = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
        let plain = |b: u8| b.is_ascii_alphanumeric() || b == b'_' || b == b'-';
        let secret_fits = !secret.is_empty() && secret.bytes().all(plain);
        if number_fits && secret_fits { Ok(Token(text.to_owned())) } else { Err(NotAToken) }
    }

    /// The address of a method on `server`. Holds the token: not for printing.
    pub(super) fn address(&self, server: &str, method: &str) -> String {
        format!("{}/bot{}/{method}", server.trim_end_matches('/'), self.0)
    }

    /// `text` without the token and without its secret half.
    pub fn redact(&self, text: &str) -> String {
        let secret = self.0.split_once(':').map_or(self.0.as_str(), |(_, secret)| secret);
        text.replace(&self.0, REDACTED).replace(secret, REDACTED)
    }
}

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(REDACTED)
    }
}

/// Says what a token looks like, never what was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("that is not a bot token: it has the form 123456:AbC-dEf, as given out with the bot")]
pub struct NotAToken;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_never_prints() {
        let token = Token::new(" 110201543:AAHdqTcvCH1vGWJxfSeofSAs0K5PALDsaw\n").unwrap();
        assert_eq!(format!("{token:?}"), "[token]");
        let address = token.address("http://localhost:1/", "getMe");
        assert_eq!(token.redact(&address), "http://localhost:1/bot[token]/getMe");
        assert_eq!(token.redact("AAHdqTcvCH1vGWJxfSeofSAs0K5PALDsaw"), "[token]");
    }

    #[test]
    fn what_cannot_be_a_token_is_refused() {
        for text in ["", "abc", "12:", ":abc", "12a:abc", "12:ab/c", "12:ab c"] {
            assert_eq!(Token::new(text), Err(NotAToken), "{text:?}");
        }
    }
}
