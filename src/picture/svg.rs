//! Lays a board out and writes it as SVG.
//!
//! One unit is one pixel of a phone as wide as the picture; the painter draws several real pixels
//! to a unit. Everything stands on a fixed grid, so that two equal boards give the same text.

use std::fmt::Write;

use super::measure::{Weight, fit, has, width, wrap};
use super::{Bar, Board, DayRow, Gauge, LotRow, Mark, Rows, Section, Share, Tick};

/// The width of every picture, in units.
pub const WIDTH: f32 = 360.0;

/// The ground everything stands on, and what is drawn there: words, quiet words, and the marks.
pub const GROUND: &str = "#fbf8f1";
pub const COLOURS: &[&str] =
    &[INK, QUIET, "#a61b1b", "#ad4a06", "#7a6000", "#1f6b58", "#2b5c9b", QUIET];
const INK: &str = "#1e2723";
const QUIET: &str = "#59635e";
/// Helping lines: never the only sign of anything.
const GRID: &str = "#d8d2c4";

const MARGIN: f32 = 14.0;
const RIGHT: f32 = WIDTH - MARGIN;
const MARK_SIZE: f32 = 11.0;
/// Where labels begin, after the mark.
const LABEL_X: f32 = MARGIN + MARK_SIZE + 6.0;
/// The bars' columns: beside a lot's label, and under a gauge's.
const BAR_X: f32 = 200.0;
const BAR_WIDTH: f32 = 76.0;
const BAR_HEIGHT: f32 = 8.0;
const GAUGE_HEIGHT: f32 = 14.0;
/// Where the foods of a day begin, after the day.
const FOODS_X: f32 = 80.0;
/// Room for an amount at the right end of a day.
const AMOUNT_WIDTH: f32 = 56.0;

const TITLE: f32 = 19.0;
const HEADING: f32 = 12.0;
const TEXT: f32 = 13.0;
const SMALL: f32 = 11.0;
const LOT_ROW: f32 = 22.0;
const LINE: f32 = 17.0;
const SMALL_LINE: f32 = 15.0;
/// Lines a label may take, a day's foods, and a note.
const LABEL_LINES: usize = 2;
const FOODS_LINES: usize = 2;
const NOTE_LINES: usize = 3;

/// The board as SVG, with its title and `description` inside for those who cannot see it.
pub fn draw(board: &Board, description: &str) -> String {
    let mut page = Page { out: String::new(), y: MARGIN };
    page.head(board);
    for section in &board.sections {
        page.section(section, &board.ticks);
    }
    page.foot(board);
    let height = (page.y + MARGIN).ceil();
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{WIDTH}\" \
         height=\"{height}\" viewBox=\"0 0 {WIDTH} {height}\">\n"
    );
    // Writing to memory cannot fail.
    let _ = writeln!(svg, "<title>{}</title>", escape(&board.title));
    let _ = writeln!(svg, "<desc>{}</desc>", escape(description));
    let _ = writeln!(svg, "<rect width=\"{WIDTH}\" height=\"{height}\" fill=\"{GROUND}\"/>");
    svg.push_str(&page.out);
    svg.push_str("</svg>\n");
    svg
}

/// A picture as far as it is drawn: `y` is where the next thing goes.
struct Page {
    out: String,
    y: f32,
}

impl Page {
    fn head(&mut self, board: &Board) {
        self.y += TITLE;
        self.words(MARGIN, &Words::strong(&board.title, TITLE).in_room(RIGHT - MARGIN));
        self.y += LINE;
        self.words(MARGIN, &Words::quiet(&board.day, SMALL).in_room(RIGHT - MARGIN));
        self.y += 6.0;
    }

    fn section(&mut self, section: &Section, ticks: &[Tick]) {
        self.y += 10.0;
        if !section.heading.is_empty() {
            let barred = match &section.rows {
                Rows::Lots(rows) => rows.iter().any(|row| row.bar.is_some()),
                Rows::Days(_) | Rows::Gauges(_) => false,
            };
            let end = if barred && !ticks.is_empty() { BAR_X - 4.0 } else { RIGHT };
            self.y += HEADING;
            let heading = Words::strong(&section.heading, HEADING);
            self.words(MARGIN, &heading.in_room(end - MARGIN));
            if barred {
                self.scale(ticks);
            }
            self.y += 5.0;
            self.line(MARGIN, self.y, RIGHT, self.y, GRID);
        }
        match &section.rows {
            Rows::Lots(rows) => rows.iter().for_each(|row| self.lot(row, ticks)),
            Rows::Days(rows) => rows.iter().for_each(|row| self.day(row)),
            Rows::Gauges(rows) => rows.iter().for_each(|row| self.gauge(row)),
        }
    }

    /// The scale's labels, over the bars and at the height of the heading.
    fn scale(&mut self, ticks: &[Tick]) {
        for tick in ticks {
            let words = Words::quiet(&tick.label, SMALL - 1.0);
            let at = along(BAR_X, BAR_WIDTH, tick.at) - words.width() / 2.0;
            self.words(at, &words);
        }
    }

    fn lot(&mut self, row: &LotRow, ticks: &[Tick]) {
        let top = self.y;
        let middle = top + LOT_ROW / 2.0;
        let base = middle + TEXT * 0.36;
        let value = Words::strong(&row.value, TEXT - 1.0).in_room(RIGHT - BAR_X - BAR_WIDTH - 4.0);
        let label_end = match &row.bar {
            Some(_) => BAR_X - 6.0,
            None => RIGHT - value.width() - 8.0,
        };
        let room = label_end - LABEL_X;
        let lines = wrap(&plain(&row.label), TEXT, Weight::Plain, room, LABEL_LINES);
        self.y = base;
        for (number, line) in lines.iter().enumerate() {
            self.y += if number == 0 { 0.0 } else { LINE - 1.0 };
            self.words(LABEL_X, &Words::plain(line, TEXT));
        }
        self.y += top + LOT_ROW - base;
        self.mark(row.mark, MARGIN + MARK_SIZE / 2.0, middle);
        if let Some(bar) = &row.bar {
            for tick in ticks {
                let x = along(BAR_X, BAR_WIDTH, tick.at);
                self.line(x, top + 1.0, x, self.y - 1.0, GRID);
            }
            let bar_top = middle - BAR_HEIGHT / 2.0;
            self.bar(bar, row.mark, BAR_X, bar_top, BAR_WIDTH, BAR_HEIGHT);
        }
        self.at(base, RIGHT - value.width(), &value);
    }

    fn day(&mut self, row: &DayRow) {
        self.y += 4.0;
        let top = self.y;
        let amount = Words::strong(&row.amount, TEXT - 1.0).in_room(AMOUNT_WIDTH);
        let room = RIGHT - AMOUNT_WIDTH - 8.0 - FOODS_X;
        let lines = wrap(&plain(&row.foods), TEXT, Weight::Plain, room, FOODS_LINES);
        let day = Words::strong(&row.day, TEXT - 1.0).in_room(FOODS_X - MARGIN - 6.0);
        self.at(top + TEXT, MARGIN, &day);
        self.at(top + TEXT, RIGHT - amount.width(), &amount);
        for (number, line) in (0_u8..).zip(&lines) {
            self.at(top + TEXT + f32::from(number) * LINE, FOODS_X, &Words::plain(line, TEXT));
        }
        let width = FOODS_X - MARGIN - 12.0;
        let met = Bar::solid(row.met);
        self.frame(MARGIN, top + LINE + 2.0, width, BAR_HEIGHT - 2.0);
        self.bar(&met, Mark::Keeps, MARGIN, top + LINE + 2.0, width, BAR_HEIGHT - 2.0);
        self.y = top + LINE * 2.0 - 2.0;
        if lines.len() > 1 {
            self.y = top + LINE * 2.0 + 2.0;
        }
        self.line(MARGIN, self.y, RIGHT, self.y, GRID);
    }

    fn gauge(&mut self, row: &Gauge) {
        self.y += LINE + 4.0;
        let base = self.y;
        self.mark(row.mark, MARGIN + MARK_SIZE / 2.0, base - TEXT * 0.36);
        let value = Words::strong(&row.value, TEXT);
        self.at(base, RIGHT - value.width(), &value);
        let room = RIGHT - value.width() - 8.0 - LABEL_X;
        self.at(base, LABEL_X, &Words::plain(&row.label, TEXT).in_room(room));
        let Some(bar) = &row.bar else { return };
        let (x, width) = (MARGIN, RIGHT - MARGIN);
        let top = base + 8.0;
        self.frame(x, top, width, GAUGE_HEIGHT);
        self.bar(bar, row.mark, x, top, width, GAUGE_HEIGHT);
        self.y = top + GAUGE_HEIGHT;
        if let Some(at) = bar.line {
            let words = Words::quiet(&row.line, SMALL).in_room(width);
            let middle = along(x, width, at);
            let start =
                (middle - words.width() / 2.0).clamp(x, (RIGHT - words.width()).max(MARGIN));
            self.y += SMALL_LINE;
            self.words(start, &words);
        }
    }

    fn foot(&mut self, board: &Board) {
        if !board.notes.is_empty() {
            self.y += 8.0;
        }
        for note in &board.notes {
            let lines = wrap(&plain(note), TEXT - 1.0, Weight::Plain, RIGHT - MARGIN, NOTE_LINES);
            for line in lines {
                self.y += LINE;
                self.words(MARGIN, &Words::plain(&line, TEXT - 1.0));
            }
            self.y += 3.0;
        }
        if !board.legend.is_empty() {
            self.y += 8.0;
            let lines =
                wrap(&plain(&board.legend), SMALL, Weight::Plain, RIGHT - MARGIN, NOTE_LINES);
            for line in lines {
                self.y += SMALL_LINE;
                self.words(MARGIN, &Words::quiet(&line, SMALL));
            }
        }
    }

    fn words(&mut self, x: f32, words: &Words) {
        self.at(self.y, x, words);
    }

    fn at(&mut self, base: f32, x: f32, words: &Words) {
        if words.text.is_empty() {
            return;
        }
        let weight = match words.weight {
            Weight::Plain => "",
            Weight::Strong => " font-weight=\"700\"",
        };
        let _ = writeln!(
            self.out,
            "<text x=\"{}\" y=\"{}\" font-family=\"Noto Sans\" font-size=\"{}\"{weight} \
             fill=\"{}\">{}</text>",
            number(x),
            number(base),
            number(words.size),
            words.colour,
            escape(&words.text)
        );
    }

    fn line(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, colour: &str) {
        let _ = writeln!(
            self.out,
            "<path d=\"M{} {}L{} {}\" stroke=\"{colour}\"/>",
            number(x1),
            number(y1),
            number(x2),
            number(y2)
        );
    }

    /// The whole of what a bar is a share of.
    fn frame(&mut self, x: f32, y: f32, width: f32, height: f32) {
        let _ = writeln!(
            self.out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" \
             stroke=\"{QUIET}\" stroke-width=\"0.7\"/>",
            number(x),
            number(y),
            number(width),
            number(height)
        );
    }

    fn bar(&mut self, bar: &Bar, mark: Mark, x: f32, y: f32, width: f32, height: f32) {
        let colour = colour(mark);
        let solid = along(0.0, width, bar.solid);
        if solid > 0.0 {
            let _ = writeln!(
                self.out,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{colour}\"/>",
                number(x),
                number(y),
                // The least is still seen.
                number(solid.max(2.0)),
                number(height)
            );
        }
        let end = along(0.0, width, bar.striped);
        let mut stripes = String::new();
        let mut at = solid + STRIPE_GAP;
        while at <= end {
            let _ = write!(stripes, "M{} {}v{}", number(x + at), number(y), number(height));
            at += STRIPE_GAP;
        }
        if !stripes.is_empty() {
            let _ = writeln!(
                self.out,
                "<path d=\"{stripes}\" stroke=\"{colour}\" stroke-width=\"1.3\"/>"
            );
        }
        if let Some(line) = bar.line {
            let at = number(along(x, width, line));
            let _ = writeln!(
                self.out,
                "<path d=\"M{at} {}v{}\" stroke=\"{INK}\" stroke-width=\"2\"/>",
                number(y - 3.0),
                number(height + 6.0)
            );
        }
    }

    fn mark(&mut self, mark: Mark, x: f32, y: f32) {
        let colour = colour(mark);
        let (x, y) = (number(x), number(y));
        let shape = match mark {
            // A filled square with a cross.
            Mark::Out => format!(
                "<path d=\"M-5.5 -5.5h11v11h-11z\" fill=\"{colour}\"/>\
                 <path d=\"M-2.8 -2.8l5.6 5.6M2.8 -2.8l-5.6 5.6\" stroke=\"{GROUND}\" \
                 stroke-width=\"1.8\"/>"
            ),
            // A filled triangle with a stroke and a dot.
            Mark::Now => format!(
                "<path d=\"M0 -5.5l6 10.8h-12z\" fill=\"{colour}\"/>\
                 <path d=\"M0 -1.8v3.6M0 3v1.4\" stroke=\"{GROUND}\" stroke-width=\"1.5\"/>"
            ),
            // A circle, half full.
            Mark::Soon => format!(
                "<circle r=\"4.6\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"1.6\"/>\
                 <path d=\"M0 -4.6a4.6 4.6 0 0 1 0 9.2z\" fill=\"{colour}\"/>"
            ),
            // An empty circle.
            Mark::Keeps => format!(
                "<circle r=\"4.6\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"1.6\"/>"
            ),
            // A star of six rays.
            Mark::Frozen => format!(
                "<path d=\"M0 -5.5v11M-4.8 -2.75l9.6 5.5M4.8 -2.75l-9.6 5.5\" \
                 stroke=\"{colour}\" stroke-width=\"1.6\"/>"
            ),
            // A dash.
            Mark::Unknown => {
                format!("<path d=\"M-4.5 0h9\" stroke=\"{colour}\" stroke-width=\"2\"/>")
            }
        };
        let _ = writeln!(self.out, "<g transform=\"translate({x} {y})\">{shape}</g>");
    }
}

/// The distance between the stripes of an uncertain stretch.
const STRIPE_GAP: f32 = 3.0;

fn colour(mark: Mark) -> &'static str {
    let at = match mark {
        Mark::Out => 2,
        Mark::Now => 3,
        Mark::Soon => 4,
        Mark::Keeps => 5,
        Mark::Frozen => 6,
        Mark::Unknown => 7,
    };
    COLOURS[at]
}

fn along(start: f32, width: f32, share: Share) -> f32 {
    start + width * f32::from(share.thousandths()) / 1000.0
}

/// Words as they are drawn.
struct Words {
    text: String,
    size: f32,
    weight: Weight,
    colour: &'static str,
}

impl Words {
    fn plain(text: &str, size: f32) -> Words {
        Words { text: plain(text), size, weight: Weight::Plain, colour: INK }
    }

    fn strong(text: &str, size: f32) -> Words {
        Words { text: plain(text), size, weight: Weight::Strong, colour: INK }
    }

    fn quiet(text: &str, size: f32) -> Words {
        Words { text: plain(text), size, weight: Weight::Plain, colour: QUIET }
    }

    fn width(&self) -> f32 {
        width(&self.text, self.size, self.weight)
    }

    fn in_room(self, room: f32) -> Words {
        Words { text: fit(&self.text, self.size, self.weight, room), ..self }
    }
}

/// Words on one line, with letters the fonts have: other letters become a question mark, other
/// signs (and what could turn the direction of the words around them) are left out.
fn plain(text: &str) -> String {
    let turns = |c: char| matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let kept = text.chars().filter_map(|letter| match letter {
        letter if letter.is_whitespace() => Some(' '),
        letter if letter.is_control() || turns(letter) => None,
        letter if has(letter) => Some(letter),
        letter if letter.is_alphanumeric() => Some('?'),
        _ => None,
    });
    let kept: String = kept.collect();
    kept.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Text inside an element. What XML 1.0 cannot hold is left out.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '\n' => escaped.push('\n'),
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {}
            letter => escaped.push(letter),
        }
    }
    escaped
}

/// A number with at most one decimal.
fn number(value: f32) -> String {
    let tenths = (value * 10.0).round();
    if tenths % 10.0 == 0.0 {
        format!("{}", tenths / 10.0)
    } else {
        format!("{:.1}", tenths / 10.0)
    }
}
