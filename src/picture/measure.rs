//! How wide words are in the pictures' own fonts, so that long ones can be cut before they meet
//! the next column.
//!
//! Widths are sums of advance widths without kerning and joining, both of which only make text
//! narrower: what fits here fits in the picture.

use std::sync::LazyLock;

use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider};

/// Noto Sans with Latin, Greek, Cyrillic, Hebrew and Arabic letters, and last the bold one for
/// headings: subsets under the SIL Open Font License, see `fonts/README.md`.
pub const FONTS: &[&[u8]] = &[REGULAR, BOLD];

const REGULAR: &[u8] = include_bytes!("fonts/NotoSans-Regular.ttf");
const BOLD: &[u8] = include_bytes!("fonts/NotoSans-Bold.ttf");

/// The width of a letter none of the fonts has, in ems: an empty box.
const BOX_EMS: f32 = 0.6;

/// What stands for the rest of words that are cut.
const REST: char = '…';

#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    Plain,
    Strong,
}

struct Face {
    font: FontRef<'static>,
    metrics: GlyphMetrics<'static>,
}

impl Face {
    fn of(data: &'static [u8]) -> Option<Face> {
        let font = FontRef::new(data).ok()?;
        let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
        Some(Face { font, metrics })
    }

    fn advance(&self, letter: char) -> Option<f32> {
        let glyph = self.font.charmap().map(letter)?;
        self.metrics.advance_width(glyph)
    }
}

/// The faces in the order in which a letter is looked for.
static FACES: LazyLock<Vec<Face>> =
    LazyLock::new(|| FONTS.iter().filter_map(|data| Face::of(data)).collect());

/// Whether a font has the letter.
pub fn has(letter: char) -> bool {
    FACES.iter().any(|face| face.advance(letter).is_some())
}

fn advance_ems(letter: char, weight: Weight) -> f32 {
    let strong = FACES.last().filter(|_| weight == Weight::Strong);
    strong
        .and_then(|face| face.advance(letter))
        .or_else(|| FACES.iter().find_map(|face| face.advance(letter)))
        .unwrap_or(BOX_EMS)
}

/// The width of `words` at `size`, in the unit of `size`.
pub fn width(words: &str, size: f32, weight: Weight) -> f32 {
    words.chars().map(|letter| advance_ems(letter, weight)).sum::<f32>() * size
}

/// `words` as they are where they fit into `room`, else as much as does, with a sign that there
/// is more.
pub fn fit(words: &str, size: f32, weight: Weight, room: f32) -> String {
    if width(words, size, weight) <= room {
        return words.to_owned();
    }
    let room = room - advance_ems(REST, weight) * size;
    let mut used = 0.0;
    let kept: String = words
        .chars()
        .take_while(|letter| {
            used += advance_ems(*letter, weight) * size;
            used <= room
        })
        .collect();
    format!("{}{REST}", kept.trim_end())
}

/// `words` in at most `lines` lines of `room`, broken between words; the last line is cut.
pub fn wrap(words: &str, size: f32, weight: Weight, room: f32, lines: usize) -> Vec<String> {
    let mut wrapped: Vec<String> = Vec::new();
    let mut rest = words.trim();
    while !rest.is_empty() && wrapped.len() < lines {
        let last = wrapped.len() + 1 == lines;
        if last || width(rest, size, weight) <= room {
            wrapped.push(fit(rest, size, weight, room));
            break;
        }
        let breaks = rest.char_indices().filter(|(_, letter)| *letter == ' ').map(|(at, _)| at);
        let fitting = breaks.take_while(|at| width(&rest[..*at], size, weight) <= room).last();
        let Some(at) = fitting.filter(|at| *at > 0) else {
            // One word longer than the line.
            wrapped.push(fit(rest.split(' ').next().unwrap_or(rest), size, weight, room));
            rest = rest.split_once(' ').map_or("", |(_, rest)| rest.trim_start());
            continue;
        };
        wrapped.push(rest[..at].to_owned());
        rest = rest[at..].trim_start();
    }
    wrapped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_do_not_fit_are_cut_with_a_sign_and_then_fit() {
        for words in ["sweet potatoes from the market", "בטטות מהשוק של יום שישי", "ŻÓŁĆ żurawina"]
        {
            for room in [20.0, 60.0, 100.0, 400.0] {
                let kept = fit(words, 13.0, Weight::Plain, room);
                assert!(width(&kept, 13.0, Weight::Plain) <= room.max(13.0), "{kept} in {room}");
                assert!(kept == words || kept.ends_with('…'), "{kept}");
            }
        }
    }

    #[test]
    fn words_wrap_between_words_and_the_last_line_is_cut() {
        let words = "spinach, chard, two leeks, half a squash and the rest of the peas";
        let lines = wrap(words, 13.0, Weight::Plain, 120.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(words.starts_with(lines[0].as_str()) && lines[1].ends_with('…'), "{lines:?}");
        assert_eq!(wrap("peas", 13.0, Weight::Plain, 120.0, 2), ["peas"]);
    }

    #[test]
    fn the_fonts_have_the_letters_of_the_languages_they_are_meant_for() {
        let letters = "½¼¾–…·ñÑáéíóúü¿¡çßøåæœžšłğıăâîșțőűđ€£¥₪°×";
        let missing: String = letters
            .chars()
            .chain("ΑΩαω АЯаяёїґ תפוחים שָׁלוֹם تفاح سبانخ پنیر گوجه ٠١٢".chars())
            .filter(|letter| !letter.is_whitespace() && !has(*letter))
            .collect();
        assert_eq!(missing, "");
    }
}
