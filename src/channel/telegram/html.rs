//! Text for the messenger: the only place that writes its markup.
//!
//! Markup comes from [`Rich`] pieces alone and every piece is escaped, so no name or food can
//! break a message or add a tag. Long texts are cut between lines, never inside a tag.

use crate::conversation::{Piece, Rich};

/// The longest message, in UTF-16 code units after the markup is taken out.
pub const MESSAGE_MAX: usize = 4096;
/// The longest caption of a picture, in the same units.
pub const CAPTION_MAX: usize = 1024;

/// One message's worth of text, both ways.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Page {
    pub html: String,
    pub plain: String,
}

impl Page {
    fn units(&self) -> usize {
        units(&self.plain)
    }

    fn push(&mut self, text: &str, weight: Weight) {
        self.plain.push_str(text);
        let escaped = escape(text);
        match weight {
            Weight::Plain => self.html.push_str(&escaped),
            Weight::Strong => {
                self.html.push_str("<b>");
                self.html.push_str(&escaped);
                self.html.push_str("</b>");
            }
        }
    }
}

#[derive(Clone, Copy)]
enum Weight {
    Plain,
    Strong,
}

/// `text` in as few pages of at most `limit` units as its lines allow. No page is blank.
pub fn pages(text: &Rich, limit: usize) -> Vec<Page> {
    let mut pages: Vec<Page> = vec![Page::default()];
    for line in lines(text) {
        let length: usize = line.iter().map(|(piece, _)| units(piece)).sum();
        let full = pages
            .last()
            .is_some_and(|page| !page.plain.is_empty() && page.units() + 1 + length > limit);
        if full {
            pages.push(Page::default());
        } else if let Some(page) = pages.last_mut().filter(|page| !page.plain.is_empty()) {
            page.push("\n", Weight::Plain);
        }
        for (piece, weight) in line {
            for part in cut(&piece, limit) {
                let room = pages.last().map_or(0, |page| limit - page.units());
                if units(part) > room {
                    pages.push(Page::default());
                }
                if let Some(page) = pages.last_mut() {
                    page.push(part, weight);
                }
            }
        }
    }
    pages.retain(|page| !page.plain.trim().is_empty());
    pages
}

/// The pieces of each line, without what no message may hold.
fn lines(text: &Rich) -> Vec<Vec<(String, Weight)>> {
    let mut lines = vec![Vec::new()];
    for piece in text.pieces() {
        let (words, weight) = match piece {
            Piece::Plain(words) => (words, Weight::Plain),
            Piece::Strong(words) => (words, Weight::Strong),
        };
        for (number, part) in words.split('\n').enumerate() {
            if number > 0 {
                lines.push(Vec::new());
            }
            let part: String = part.chars().filter(|c| !c.is_control() || *c == '\t').collect();
            if let Some(line) = lines.last_mut().filter(|_| !part.is_empty()) {
                line.push((part, weight));
            }
        }
    }
    lines
}

/// A piece in parts of at most `limit` units, cut at spaces where there are any.
fn cut(piece: &str, limit: usize) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut rest = piece;
    while units(rest) > limit {
        let mut used = 0;
        let mut end = 0;
        let mut space = None;
        for (at, c) in rest.char_indices() {
            used += c.len_utf16();
            if used > limit {
                break;
            }
            end = at + c.len_utf8();
            if c == ' ' {
                space = Some(end);
            }
        }
        let (part, after) = rest.split_at(space.unwrap_or(end));
        parts.push(part);
        rest = after;
    }
    parts.push(rest);
    parts
}

fn units(text: &str) -> usize {
    text.encode_utf16().count()
}

/// The three characters that mean something in the markup.
fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn names_with_markup_in_them_stay_words() {
        let mut text = Rich::plain("Thanks, <3_Ann & Co>.");
        text.push_strong("<b>leeks</b>");
        let pages = pages(&text, MESSAGE_MAX);
        let html = "Thanks, &lt;3_Ann &amp; Co&gt;.<b>&lt;b&gt;leeks&lt;/b&gt;</b>";
        assert_eq!(pages[0].html, html);
        assert_eq!(pages[0].plain, "Thanks, <3_Ann & Co>.<b>leeks</b>");
    }

    #[test]
    fn long_texts_are_cut_between_lines() {
        let mut text = Rich::new();
        for number in 0..40 {
            text.push_line(Rich::plain(format!("line {number} {}", "x".repeat(200))));
        }
        let pages = pages(&text, MESSAGE_MAX);
        assert_eq!(pages.len(), 3);
        assert!(pages.iter().all(|page| page.plain.starts_with("line ")));
    }

    #[test]
    fn a_blank_text_has_no_page() {
        for text in ["", "\n\n", " \u{0} \n"] {
            assert_eq!(pages(&Rich::plain(text), MESSAGE_MAX), Vec::new());
        }
    }

    proptest! {
        /// Every page fits, and the words come through whole and in order.
        #[test]
        fn prop_pages_fit_and_lose_no_words(
            pieces in prop::collection::vec((any::<bool>(), "(?s).{0,60}"), 0..30),
            limit in 8usize..80,
        ) {
            let mut text = Rich::new();
            for (strong, words) in &pieces {
                if *strong { text.push_strong(words) } else { text.push(words) };
            }
            let pages = pages(&text, limit);
            let squeeze = |words: &str| words.chars()
                .filter(|c| !c.is_whitespace() && !c.is_control())
                .collect::<String>();
            let joined: String = pages.iter().map(|page| page.plain.as_str()).collect();
            prop_assert_eq!(squeeze(&joined), squeeze(&text.to_plain()));
            for page in &pages {
                prop_assert!(page.plain.encode_utf16().count() <= limit);
                let bare = page.html.replace("<b>", "").replace("</b>", "");
                prop_assert!(!bare.contains('<') && !bare.contains('>'));
                let words = bare.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
                prop_assert_eq!(&words, &page.plain);
            }
        }
    }
}
