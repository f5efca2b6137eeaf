//! Pictures: a board of plain data, drawn as SVG text.
//!
//! A [`Board`] holds everything a picture shows, already in words; `plan` fills it and `wording`
//! says the same as text, so a picture never goes out without its words. [`Board::picture`] lays
//! it out. Pure: no pixels are made here, that is `painter`'s work at the edge.
//!
//! Colour is never the only sign: every mark has a shape of its own, every row says its time in
//! words, and an uncertain stretch is striped. Colours keep the contrast of WCAG 2.2 on the
//! picture's own light ground, so it reads alike in a light and in a dark chat.

mod measure;
mod svg;

use serde::{Deserialize, Serialize};

pub use measure::FONTS;
pub use svg::{COLOURS, GROUND, WIDTH};

/// What a picture can show. The word is stored and names the console's file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Scene {
    /// What is in the house, by days left.
    House,
    /// The plan until the next shop.
    Plan,
    /// The month: waste against target, money against budget.
    Month,
    /// The freezer, by age.
    Freezer,
}

impl Scene {
    pub const ALL: &'static [Scene] = &[Scene::House, Scene::Plan, Scene::Month, Scene::Freezer];

    pub fn word(self) -> &'static str {
        match self {
            Scene::House => "house",
            Scene::Plan => "plan",
            Scene::Month => "month",
            Scene::Freezer => "freezer",
        }
    }
}

/// A picture as it waits to be sent: SVG, with its title and description inside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Picture {
    pub scene: Scene,
    pub svg: String,
}

/// Everything one picture shows, in words of the household's language.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    pub scene: Scene,
    pub title: String,
    /// The day it was drawn, under the title.
    pub day: String,
    pub sections: Vec<Section>,
    /// Sentences under the rows.
    pub notes: Vec<String>,
    /// How to read the bars; part of the picture alone.
    pub legend: String,
    /// Where the bars' scale is marked.
    pub ticks: Vec<Tick>,
}

/// Rows under one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    pub heading: String,
    pub rows: Rows,
}

/// Rows of one kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Rows {
    Lots(Vec<LotRow>),
    Days(Vec<DayRow>),
    Gauges(Vec<Gauge>),
}

/// One lot, or one food, with a time or an amount.
#[derive(Clone, Debug, PartialEq)]
pub struct LotRow {
    pub mark: Mark,
    pub label: String,
    /// "today", "5 days", "1.2 kg".
    pub value: String,
    pub bar: Option<Bar>,
}

/// One day of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct DayRow {
    pub day: String,
    pub foods: String,
    pub amount: String,
    /// How much of the day's need is met.
    pub met: Share,
}

/// A figure against a limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    pub mark: Mark,
    pub label: String,
    pub value: String,
    /// `None` while there is no figure: the words alone.
    pub bar: Option<Bar>,
    /// What the line across the bar means; empty without one.
    pub line: String,
}

/// A bar: solid to one point, striped on to another, a line across it at a third.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    pub solid: Share,
    /// Never before `solid`.
    pub striped: Share,
    pub line: Option<Share>,
}

impl Bar {
    pub fn solid(to: Share) -> Bar {
        Bar { solid: to, striped: to, line: None }
    }

    /// Solid to `sure`, striped from there to `perhaps`.
    pub fn range(sure: Share, perhaps: Share) -> Bar {
        Bar { solid: sure, striped: perhaps.max(sure), line: None }
    }

    pub fn with_line(self, at: Share) -> Bar {
        Bar { line: Some(at), ..self }
    }
}

/// A place on the scale, with what it says there.
#[derive(Clone, Debug, PartialEq)]
pub struct Tick {
    pub at: Share,
    pub label: String,
}

/// A share of the whole, in thousandths: 0 to 1000.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Share(u16);

impl Share {
    pub const NONE: Share = Share(0);
    pub const WHOLE: Share = Share(1000);

    /// `part` of `whole`, kept between none and all of it; none of nothing.
    pub fn of(part: f64, whole: f64) -> Share {
        let share = if whole > 0.0 { (part / whole).clamp(0.0, 1.0) } else { 0.0 };
        // In range by the clamp; a value that is no number becomes 0.
        Share((share * 1000.0).round() as u16)
    }

    pub fn thousandths(self) -> u16 {
        self.0
    }
}

/// What a row asks for. Each has a shape and a colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    /// Past a safety limit.
    Out,
    /// Today, or have a look at it today.
    Now,
    /// Within a few days.
    Soon,
    /// In no hurry.
    Keeps,
    /// Frozen.
    Frozen,
    /// Nothing is known of it.
    Unknown,
}

impl Mark {
    pub const ALL: &'static [Mark] =
        &[Mark::Out, Mark::Now, Mark::Soon, Mark::Keeps, Mark::Frozen, Mark::Unknown];
}

impl Board {
    /// The board as SVG. `description` is its content in words, for those who cannot see it.
    pub fn picture(&self, description: &str) -> Picture {
        Picture { scene: self.scene, svg: svg::draw(self, description) }
    }
}
