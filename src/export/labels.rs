//! The label sheet: a page to print and cut, one label for each lot that is frozen or dried.
//!
//! A page of plain HTML without scripts: every browser prints it, a screen reader reads it, and
//! the words on it are the ones the chat gives to copy.

use crate::conversation::{House, Kit};
use crate::dates::Instant;
use crate::keeping::Learned;
use crate::plan::{Grounds, Outlook};
use crate::wording::Wording;
use crate::words::Form;

/// The words of each label of a household, in the order in which the food came in.
pub fn of(house: &House, kit: &Kit, now: Instant) -> Vec<Vec<String>> {
    let learned = Learned::by(&house.state);
    let grounds = Grounds {
        rules: &kit.rules,
        foods: &*kit.rules,
        learned: &learned,
        wording: &kit.wording,
        log: &house.log,
    };
    let outlook = Outlook::new(&house.state, grounds, now);
    let stored = |form: Form| matches!(form, Form::Frozen | Form::Dried);
    let mut lots: Vec<_> = outlook.held.iter().filter(|held| stored(held.lot.form)).collect();
    lots.sort_by_key(|held| held.lot.id);
    lots.into_iter().map(|held| outlook.label_lines(held)).collect()
}

/// The page, three labels to a row.
pub fn page(labels: &[Vec<String>], wording: &Wording) -> String {
    let mut page = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n",
        title = escape(&wording.labels_title()),
    );
    if labels.is_empty() {
        page.push_str(&format!("<p>{}</p>\n", escape(&wording.labels_none())));
    } else {
        page.push_str("<ul>\n");
        for label in labels {
            let lines: Vec<String> = label.iter().map(|line| escape(line)).collect();
            page.push_str(&format!("<li>{}</li>\n", lines.join("<br>")));
        }
        page.push_str("</ul>\n");
    }
    page.push_str("</body>\n</html>\n");
    page
}

/// Black on white, for any printer; a label is never cut by the end of a page.
const STYLE: &str = "\
@page { margin: 10mm }
body { margin: 0; color: #000; background: #fff; font: 11pt/1.35 sans-serif }
ul { display: grid; grid-template-columns: repeat(3, 1fr); gap: 2mm; margin: 0; padding: 0 }
li::first-line { font-weight: bold }
li { list-style: none; min-height: 30mm; padding: 3mm; border: 0.3mm dashed #000; \
break-inside: avoid; overflow-wrap: anywhere }
";

/// Text inside an element.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            letter if letter.is_control() => {}
            letter => escaped.push(letter),
        }
    }
    escaped
}
