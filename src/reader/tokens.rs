//! Text as people type it -> words, numbers and marks, each with its place in the original.
//!
//! One pass, no regular expressions: compatibility forms (full-width letters, vulgar fractions,
//! curly quotes, dashes) are folded, accents dropped, letters lowered; control characters and
//! direction marks vanish. A glued hyphen between words is a join, not a token ("all-purpose" is
//! two words); between two numbers it stays a mark, because "2-3" is a range. Never fails: what is
//! neither word nor number is a mark.

use std::cell::Cell;
use std::ops::Range;

use unicode_normalization::UnicodeNormalization;

use crate::units::Ratio;

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Letters, with inner apostrophes ("didn't").
    Word,
    /// Digits with an optional fraction: "3", "1.5", "1,5", "1/2", "½". The text keeps the notation.
    Number,
    /// One punctuation mark, currency sign or symbol.
    Mark,
    Newline,
    Emoji,
}

/// How a token hangs on the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    Space,
    /// Nothing in between: "3lb", "99c", "$4".
    Glued,
    /// A glued hyphen in between: "all-purpose", "5-lb".
    Hyphen,
}

#[derive(Clone, Copy, Debug)]
pub struct Token {
    pub kind: Kind,
    pub join: Join,
    /// The value of a number, at most the largest there is; `None` for other tokens and for what
    /// has no value ("1/0").
    pub value: Option<Ratio>,
    /// Where the folded text stands in [`Text::folded`].
    folded: (u32, u32),
    /// Where the token stands in the original text, in bytes.
    span: (u32, u32),
}

/// A tokenised message.
#[derive(Clone, Debug)]
pub struct Text<'a> {
    original: &'a str,
    folded: String,
    tokens: Vec<Token>,
    /// How many words were looked at.
    steps: Cell<u64>,
}

impl<'a> Text<'a> {
    pub fn new(original: &'a str) -> Text<'a> {
        let mut text = Text {
            original,
            folded: String::with_capacity(original.len() + 8),
            tokens: Vec::with_capacity(original.len() / 4 + 4),
            steps: Cell::new(0),
        };
        Scanner::default().scan(&mut text);
        text
    }

    /// How many times a word was looked at: what reading the text cost.
    pub fn steps(&self) -> u64 {
        self.steps.get()
    }

    pub fn len(&self) -> usize {
        self.tokens.len()
    }

    pub fn is_empty(&self) -> bool {
        self.tokens.is_empty()
    }

    pub fn original(&self) -> &'a str {
        self.original
    }

    /// The token at `i`, if there is one.
    pub fn get(&self, i: usize) -> Option<&Token> {
        self.tokens.get(i)
    }

    /// The folded lower-case text of token `i`: a word, a number as written, a mark; "\n" for a
    /// line break; "" past the end.
    pub fn word(&self, i: usize) -> &str {
        self.steps.set(self.steps.get() + 1);
        match self.tokens.get(i) {
            Some(t) => &self.folded[t.folded.0 as usize..t.folded.1 as usize],
            None => "",
        }
    }

    pub fn kind(&self, i: usize) -> Option<Kind> {
        self.tokens.get(i).map(|t| t.kind)
    }

    /// The value of a number token.
    pub fn number(&self, i: usize) -> Option<Ratio> {
        self.tokens.get(i).and_then(|t| t.value)
    }

    pub fn is_word(&self, i: usize) -> bool {
        self.kind(i) == Some(Kind::Word)
    }

    pub fn is_glued(&self, i: usize) -> bool {
        self.tokens.get(i).is_some_and(|t| t.join == Join::Glued)
    }

    /// The set of first bytes of the words in `range`, folded to 64 bits: a word whose own bit is
    /// missing stands nowhere in it.
    pub fn initials(&self, range: Range<usize>) -> u64 {
        range.fold(0, |set, i| set | initial(self.word(i)))
    }

    /// The words from `i` on are exactly `words`.
    pub fn has(&self, i: usize, words: &[&str]) -> bool {
        words.iter().enumerate().all(|(k, w)| self.word(i + k) == *w)
    }

    /// The first place in `range` where `words` stand in a row.
    pub fn find(&self, range: Range<usize>, words: &[&str]) -> Option<usize> {
        range.clone().find(|&i| i + words.len() <= range.end && self.has(i, words))
    }

    /// The original text from the first to the last token of `range`.
    pub fn slice(&self, range: Range<usize>) -> &'a str {
        let range = range.start..range.end.min(self.tokens.len());
        if range.is_empty() {
            return "";
        }
        let (from, to) = (self.tokens[range.start].span.0, self.tokens[range.end - 1].span.1);
        &self.original[from as usize..to as usize]
    }

    /// Byte offsets of token `i` in the original.
    pub fn span(&self, i: usize) -> Range<usize> {
        self.tokens.get(i).map_or(0..0, |t| t.span.0 as usize..t.span.1 as usize)
    }

    /// Makes the tokens of `range` one mark or line break, as if it had been typed.
    pub fn respell(&mut self, range: Range<usize>, mark: &str) {
        let Some(last) = range.end.checked_sub(1).and_then(|i| self.tokens.get(i)).copied() else {
            return;
        };
        let from = self.folded.len();
        let Some(first) = self.tokens.get_mut(range.start) else { return };
        self.folded.push_str(mark);
        first.kind = if mark == "\n" { Kind::Newline } else { Kind::Mark };
        first.join = Join::Glued;
        first.value = None;
        first.folded = (from as u32, self.folded.len() as u32);
        first.span.1 = last.span.1;
        self.tokens.drain(range.start + 1..range.end);
    }

    fn push(
        &mut self,
        kind: Kind,
        join: Join,
        value: Option<Ratio>,
        from: usize,
        span: (u32, u32),
    ) {
        let folded = (from as u32, self.folded.len() as u32);
        self.tokens.push(Token { kind, join, value, folded, span });
    }
}

/// The bit of a word's first byte in [`Text::initials`].
pub fn initial(word: &str) -> u64 {
    word.as_bytes().first().map_or(0, |byte| 1 << (byte & 63))
}

/// What one character means once folded.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Class {
    Letter,
    Digit,
    Apostrophe,
    Hyphen,
    Space,
    Newline,
    Mark,
    Emoji,
    Skip,
    Vulgar(i64, i64),
}

fn class(c: char) -> Class {
    match c {
        'a'..='z' | 'A'..='Z' => Class::Letter,
        '0'..='9' => Class::Digit,
        '\'' => Class::Apostrophe,
        '-' => Class::Hyphen,
        ' ' | '\t' => Class::Space,
        '\n' | '\r' => Class::Newline,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' => Class::Skip,
        c if c.is_ascii() => Class::Mark,
        c => class_beyond_ascii(c),
    }
}

fn class_beyond_ascii(c: char) -> Class {
    match c {
        '\u{2018}' | '\u{2019}' | '\u{201b}' | '\u{2032}' | '\u{00b4}' | '\u{02bc}' => {
            Class::Apostrophe
        }
        '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{2043}' | '\u{fe63}' | '\u{ff0d}' => {
            Class::Hyphen
        }
        '\u{00bc}' => Class::Vulgar(1, 4),
        '\u{00bd}' => Class::Vulgar(1, 2),
        '\u{00be}' => Class::Vulgar(3, 4),
        '\u{2150}' => Class::Vulgar(1, 7),
        '\u{2151}' => Class::Vulgar(1, 9),
        '\u{2152}' => Class::Vulgar(1, 10),
        '\u{2153}' => Class::Vulgar(1, 3),
        '\u{2154}' => Class::Vulgar(2, 3),
        '\u{2155}' => Class::Vulgar(1, 5),
        '\u{2156}' => Class::Vulgar(2, 5),
        '\u{2157}' => Class::Vulgar(3, 5),
        '\u{2158}' => Class::Vulgar(4, 5),
        '\u{2159}' => Class::Vulgar(1, 6),
        '\u{215a}' => Class::Vulgar(5, 6),
        '\u{215b}' => Class::Vulgar(1, 8),
        '\u{215c}' => Class::Vulgar(3, 8),
        '\u{215d}' => Class::Vulgar(5, 8),
        '\u{215e}' => Class::Vulgar(7, 8),
        '\u{2189}' => Class::Vulgar(0, 3),
        '\u{00ad}'
        | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{2064}'
        | '\u{2066}'..='\u{2069}'
        | '\u{feff}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{0300}'..='\u{036f}' => Class::Skip,
        '\u{2028}' | '\u{2029}' | '\u{85}' => Class::Newline,
        c if c.is_whitespace() => Class::Space,
        '\u{2600}'..='\u{27bf}'
        | '\u{2b00}'..='\u{2bff}'
        | '\u{1f000}'..='\u{1faff}'
        | '\u{20e3}' => Class::Emoji,
        c if c.is_alphabetic() => Class::Letter,
        c if c.is_numeric() => match c.nfkd().next() {
            Some('0'..='9') => Class::Digit,
            _ => Class::Mark,
        },
        _ => Class::Mark,
    }
}

/// Whether a character shows: control characters and direction marks do not.
pub fn shows(c: char) -> bool {
    class(c) != Class::Skip || matches!(c, '\u{0300}'..='\u{036f}')
}

/// The folded characters of one: compatibility form, no accents, lower case.
fn fold(c: char, out: &mut String) {
    if c.is_ascii() {
        out.push(c.to_ascii_lowercase());
        return;
    }
    match c {
        'ß' => out.push_str("ss"),
        'æ' | 'Æ' => out.push_str("ae"),
        'œ' | 'Œ' => out.push_str("oe"),
        'ø' | 'Ø' => out.push('o'),
        '\u{2044}' | '\u{2215}' => out.push('/'),
        '\u{00d7}' => out.push('x'),
        _ => {
            for d in c.nfkd() {
                if !matches!(d, '\u{0300}'..='\u{036f}') {
                    out.extend(d.to_lowercase());
                }
            }
        }
    }
}

#[derive(Default)]
struct Scanner {
    join: Option<Join>,
}

impl Scanner {
    fn scan(&mut self, text: &mut Text<'_>) {
        let original = text.original;
        let mut at = 0;
        self.join = Some(Join::Space);
        while let Some(c) = original[at..].chars().next() {
            let end = at + c.len_utf8();
            at = match class(c) {
                Class::Letter => self.word(text, at),
                Class::Digit => self.number(text, at),
                Class::Vulgar(n, d) => {
                    let from = text.folded.len();
                    text.folded.push_str(&format!("{n}/{d}"));
                    self.token(text, Kind::Number, Ratio::new(n, d), from, at, end)
                }
                Class::Mark if c == '.' && starts_decimal(original, at) => self.number(text, at),
                Class::Mark | Class::Apostrophe => {
                    let from = text.folded.len();
                    fold(if class(c) == Class::Apostrophe { '\'' } else { c }, &mut text.folded);
                    self.token(text, Kind::Mark, None, from, at, end)
                }
                Class::Hyphen => self.hyphen(text, at, end),
                Class::Newline => {
                    let crlf = c == '\r' && original[end..].starts_with('\n');
                    let end = if crlf { end + 1 } else { end };
                    let from = text.folded.len();
                    text.folded.push('\n');
                    let at = self.token(text, Kind::Newline, None, from, at, end);
                    self.join = Some(Join::Space);
                    at
                }
                Class::Emoji => {
                    let from = text.folded.len();
                    text.folded.push(c);
                    self.token(text, Kind::Emoji, None, from, at, end)
                }
                Class::Space => {
                    self.join = Some(Join::Space);
                    end
                }
                Class::Skip => end,
            };
        }
    }

    fn token(
        &mut self,
        text: &mut Text<'_>,
        kind: Kind,
        value: Option<Ratio>,
        from: usize,
        start: usize,
        end: usize,
    ) -> usize {
        let join = self.join.replace(Join::Glued).unwrap_or(Join::Glued);
        text.push(kind, join, value, from, (start as u32, end as u32));
        end
    }

    fn word(&mut self, text: &mut Text<'_>, start: usize) -> usize {
        let (from, original) = (text.folded.len(), text.original);
        let mut end = start;
        let mut chars = original[start..].chars().peekable();
        while let Some(c) = chars.next() {
            match class(c) {
                Class::Letter => fold(c, &mut text.folded),
                Class::Skip => {}
                // An apostrophe belongs to the word when a letter follows.
                Class::Apostrophe if chars.peek().is_some_and(|&n| class(n) == Class::Letter) => {
                    text.folded.push('\'');
                }
                _ => break,
            }
            end += c.len_utf8();
        }
        self.token(text, Kind::Word, None, from, start, end)
    }

    /// Digits; grouping and decimal marks between digits; a fraction bar with digits behind it.
    fn number(&mut self, text: &mut Text<'_>, start: usize) -> usize {
        let (from, original) = (text.folded.len(), text.original);
        let mut end = start;
        let mut rest = original[start..].chars();
        let mut bar_seen = false;
        while let Some(c) = rest.next() {
            let next_is_digit = rest.clone().next().is_some_and(|n| class(n) == Class::Digit);
            match c {
                _ if class(c) == Class::Digit => fold(c, &mut text.folded),
                '.' | ',' if next_is_digit && !bar_seen => text.folded.push(c),
                '/' | '\u{2044}' | '\u{2215}' if next_is_digit && !bar_seen && end > start => {
                    bar_seen = true;
                    text.folded.push('/');
                }
                _ => break,
            }
            end += c.len_utf8();
        }
        let mut value = number_value(&text.folded[from..]);
        if let Some((power, length)) = exponent(&original[end..]) {
            value = value.map(|value| raised(value, power));
            text.folded.push_str(&original[end..end + length]);
            end += length;
        }
        self.token(text, Kind::Number, value, from, start, end)
    }

    /// A hyphen glued on both sides is a join, except between two numbers.
    fn hyphen(&mut self, text: &mut Text<'_>, at: usize, end: usize) -> usize {
        let glued = self.join == Some(Join::Glued);
        let before = text.tokens.last().map(|t| t.kind);
        let after = text.original[end..].chars().next().map(class);
        let number_after = matches!(after, Some(Class::Digit | Class::Vulgar(..)));
        let letter_after = after == Some(Class::Letter);
        let joins = match before {
            Some(Kind::Word) => letter_after || number_after,
            Some(Kind::Number) => letter_after,
            _ => false,
        };
        if glued && joins {
            self.join = Some(Join::Hyphen);
            return end;
        }
        let from = text.folded.len();
        text.folded.push('-');
        self.token(text, Kind::Mark, None, from, at, end)
    }
}

/// The power of ten glued to a number ("1e9"), and how many bytes it takes.
fn exponent(rest: &str) -> Option<(u32, usize)> {
    let digits = rest.strip_prefix(['e', 'E'])?;
    let length = digits.bytes().take_while(u8::is_ascii_digit).count();
    (length > 0).then(|| (digits[..length].parse().unwrap_or(u32::MAX), length + 1))
}

/// A number times a power of ten; what does not fit is the largest number there is, which no
/// kitchen holds.
fn raised(value: Ratio, power: u32) -> Ratio {
    let factor = 10_i64.checked_pow(power).map(Ratio::whole);
    factor.and_then(|factor| value.checked_mul(factor)).unwrap_or(Ratio::whole(i64::MAX))
}

/// ".5" at the start of a number: a point with a digit behind it and no digit before.
fn starts_decimal(original: &str, at: usize) -> bool {
    let digit_after = original[at + 1..].starts_with(|c: char| c.is_ascii_digit());
    let loose_before = original[..at].chars().next_back().is_none_or(|c| !c.is_alphanumeric());
    digit_after && loose_before
}

/// The value of a number as written. A comma is a decimal mark unless exactly three digits follow
/// each one; a point followed by three digits and a comma further on is a grouping mark.
fn number_value(text: &str) -> Option<Ratio> {
    if let Some((num, den)) = text.split_once('/') {
        return plain_value(num)?.checked_div(plain_value(den)?);
    }
    plain_value(text)
}

fn plain_value(text: &str) -> Option<Ratio> {
    let marks = text.bytes().filter(|b| matches!(b, b'.' | b',')).count();
    if marks == 0 {
        // Only digits: what does not fit is the largest number there is, which no kitchen holds.
        return Some(Ratio::whole(text.parse().unwrap_or(i64::MAX)));
    }
    let last = text.rfind(['.', ','])?;
    let grouping = {
        let (head, tail) = (&text[..last], &text[last + 1..]);
        let uniform =
            text.bytes().filter(|b| matches!(b, b'.' | b',')).all(|b| b == text.as_bytes()[last]);
        let groups_of_three = tail.len() == 3 && !head.is_empty() && !head.starts_with('0');
        uniform && groups_of_three && (marks > 1 || text.as_bytes()[last] == b',')
    };
    let mut plain = String::with_capacity(text.len());
    for (i, c) in text.char_indices() {
        match c {
            '.' | ',' if i == last && !grouping => plain.push('.'),
            '.' | ',' => {}
            c => plain.push(c),
        }
    }
    Ratio::from_decimal(&plain)
}
