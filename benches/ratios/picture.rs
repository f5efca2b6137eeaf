//! The picture of a crowded household against the encoding of a blank one of that size.

use std::hint::black_box;

use larderling::painter;
use larderling::picture::{Bar, Board, LotRow, Mark, Rows, Scene, Section, Share, Tick};
use resvg::tiny_skia::{Color, Pixmap};

use super::{Line, median, millis, timed};

const TIMES: usize = 25;

pub fn line() -> Line {
    let board = crowded();
    let svg = board.picture("crowded").svg;
    let png = painter::png(&svg).expect("drawn");
    let size = Pixmap::decode_png(&png).expect("a picture");
    let blank = || {
        let mut pixels = Pixmap::new(size.width(), size.height()).expect("a size");
        pixels.fill(Color::WHITE);
        pixels.encode_png().expect("encoded")
    };
    let mut ours: Vec<_> = (0..TIMES)
        .map(|_| timed(|| black_box(painter::png(&board.picture("crowded").svg))).1)
        .collect();
    let mut peer: Vec<_> = (0..TIMES).map(|_| timed(|| black_box(blank())).1).collect();
    let (ours, peer) = (median(&mut ours), median(&mut peer));
    Line {
        what: format!(
            "crowded picture, {} by {}; a blank one encoded",
            size.width(),
            size.height()
        ),
        ours: millis(ours),
        peer: millis(peer),
        ratio: Some(ours.as_secs_f64() / peer.as_secs_f64()),
        goal: "<= 5, <= 150 ms",
    }
}

/// As many rows as a picture holds, with long names.
fn crowded() -> Board {
    let row = |n: usize| LotRow {
        mark: Mark::ALL[n % Mark::ALL.len()],
        label: format!("{n} kg of the sweet potatoes from the market"),
        value: "11 days".to_owned(),
        bar: Some(Bar::range(Share::of(n as f64, 20.0), Share::of(n as f64 + 4.0, 20.0))),
    };
    let section = |n: usize| Section {
        heading: "Within a week".to_owned(),
        rows: Rows::Lots((n * 4..n * 4 + 4).map(row).collect()),
    };
    let tick = |n: usize| Tick { at: Share::of(n as f64, 20.0), label: n.to_string() };
    Board {
        scene: Scene::House,
        title: "What is in the house".to_owned(),
        day: "Wednesday, 25 November".to_owned(),
        sections: (0..4).map(section).collect(),
        notes: vec!["137 more lots keep longer.".to_owned(), "12 frozen lots besides.".to_owned()],
        legend: "Days left. Striped: may be gone or may keep.".to_owned(),
        ticks: [1, 3, 7, 14].into_iter().map(tick).collect(),
    }
}
