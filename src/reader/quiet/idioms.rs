//! Turns of phrase that name food and mean none (`data/quiet_idioms.txt`).

use std::ops::Range;
use std::sync::LazyLock;

use crate::reader::phrases::Phrases;
use crate::reader::tokens::Text;

static IDIOMS: LazyLock<Phrases> = LazyLock::new(|| {
    let lines = include_str!("../data/quiet_idioms.txt").lines();
    let rows = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
    Phrases::new(rows.map(|row| row.split('|').next().unwrap_or_default().trim()))
});

/// No turn of phrase is longer than this many words.
const LONGEST: usize = 16;

/// Whether a turn of phrase reaches into `clause`; it may begin or end in another clause.
pub fn touches(text: &Text<'_>, clause: &Range<usize>) -> bool {
    (clause.start.saturating_sub(LONGEST)..clause.end)
        .any(|i| IDIOMS.at(text, i).is_some_and(|len| i + len > clause.start))
}
