//! Pictures: what they show, that nothing runs out of them, and that they can be read by everybody.

use larderling::painter;
use larderling::picture::{
    Bar, Board, COLOURS, DayRow, GROUND, Gauge, LotRow, Mark, Rows, Scene, Section, Share, Tick,
    WIDTH,
};
use larderling::wording::Wording;
use proptest::prelude::*;
use resvg::tiny_skia::Pixmap;
use resvg::usvg;

/// Width and height together, in pixels, and the ratio of the longer to the shorter side.
///
/// # Source
/// Telegram Bot API, method `sendPhoto`: at most 10000 in total; ratio at most 20.
const SIDES_MAX: u32 = 10_000;
const RATIO_MAX: u32 = 20;

fn board(scene: Scene, title: &str, sections: Vec<Section>) -> Board {
    let tick = |days: f64, label: &str| Tick { at: Share::of(days, 14.0), label: label.to_owned() };
    Board {
        scene,
        title: title.to_owned(),
        day: "Wednesday, 25 November".to_owned(),
        sections,
        notes: Vec::new(),
        legend: "Days left. Striped: may be gone or may keep.".to_owned(),
        ticks: vec![tick(1.0, "1"), tick(7.0, "7")],
    }
}

fn lot(mark: Mark, label: &str, value: &str, days: Option<(f64, f64)>) -> LotRow {
    let share = |days: f64| Share::of(days, 14.0);
    let bar = days.map(|(sure, perhaps)| Bar::range(share(sure), share(perhaps)));
    LotRow { mark, label: label.to_owned(), value: value.to_owned(), bar }
}

fn lots(heading: &str, rows: Vec<LotRow>) -> Section {
    Section { heading: heading.to_owned(), rows: Rows::Lots(rows) }
}

fn small() -> Board {
    board(
        Scene::House,
        "What is in the house",
        vec![
            lots("Throw out", vec![lot(Mark::Out, "cut melon", "out", None)]),
            lots("Today", vec![lot(Mark::Now, "300 g spinach", "today", Some((0.5, 2.0)))]),
            lots("Within 3 days", vec![lot(Mark::Soon, "2 fennel", "2 days", Some((2.0, 5.0)))]),
            lots("Later", vec![lot(Mark::Keeps, "1/2 squash", "2 weeks", Some((12.0, 20.0)))]),
            lots("No figure known", vec![lot(Mark::Unknown, "moon cheese", "?", None)]),
        ],
    )
}

fn empty() -> Board {
    let mut board = board(Scene::House, "What is in the house", Vec::new());
    board.notes.push("Nothing is on my list. Tell me what you have.".to_owned());
    board.legend.clear();
    board
}

fn crowded() -> Board {
    let row = |number: usize| {
        let label = format!("{number} kg sweet potatoes from the market in the cellar");
        lot(Mark::ALL[number % Mark::ALL.len()], &label, "11 months", Some((3.0, 9.0)))
    };
    let section =
        |number: usize| lots("Within a week", (number * 4..number * 4 + 4).map(row).collect());
    let mut board = board(Scene::House, "What is in the house", (0..5).map(section).collect());
    board.notes.push("137 more lots keep longer. ".repeat(6));
    board
}

fn names(labels: &[&str]) -> Board {
    let row = |label: &&str| lot(Mark::Soon, label, "2 days", Some((2.0, 5.0)));
    board(
        Scene::House,
        "En casa: ñandú, jalapeño, piña",
        vec![lots("Within 3 days", labels.iter().map(row).collect())],
    )
}

fn right_to_left() -> Board {
    names(&[
        "3 תפוחים",
        "500 g תפוחי אדמה מתוקים מהשוק של יום שישי",
        "عدس أحمر",
        "2 kg سبانخ و خيار طازج من السوق",
        "شَكْشُوكَة (4 portions)",
        "שַׁקְשׁוּקָה",
    ])
}

fn long_names() -> Board {
    names(&[
        "the rest of the slow-cooked pumpkin and red lentil stew from Sunday evening",
        "Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüsselbrot",
        "½ żurawina, ŽŠČ, crème brûlée",
        "Борщ с говядиной и свёклой",
        "🥕🥕 <carrots> & \"co\" \u{202e}desrever\u{7}",
        "饺子 24",
    ])
}

fn plan() -> Board {
    let day = |day: &str, foods: &str, amount: &str, met: f64| DayRow {
        day: day.to_owned(),
        foods: foods.to_owned(),
        amount: amount.to_owned(),
        met: Share::of(met, 1.0),
    };
    let days = vec![
        day(
            "Today",
            "strawberries, spinach, cucumbers, pears, carrots, mint, leeks",
            "1.8 kg",
            1.0,
        ),
        day("Thu 26", "lettuces", "300 g", 0.2),
        day("Fri 27", "nothing fresh left", "", 0.0),
    ];
    let freeze = lot(Mark::Frozen, "about 700 g of the carrots", "by Sat 28", None);
    board(
        Scene::Plan,
        "Plan until 30 November",
        vec![
            Section { heading: String::new(), rows: Rows::Days(days) },
            lots("Freeze or dry, since it will not be eaten in time", vec![freeze]),
        ],
    )
}

fn month() -> Board {
    let bar = |part: f64, whole: f64| Bar::solid(Share::of(part, whole));
    let gauges = vec![
        Gauge {
            mark: Mark::Now,
            label: "Food wasted".to_owned(),
            value: "7 %".to_owned(),
            bar: Some(bar(7.0, 20.0).with_line(Share::of(5.0, 20.0))),
            line: "target 5 %".to_owned(),
        },
        Gauge {
            mark: Mark::Keeps,
            label: "Money spent".to_owned(),
            value: "284.10".to_owned(),
            bar: Some(
                Bar::range(Share::of(284.0, 500.0), Share::of(390.0, 500.0))
                    .with_line(Share::of(400.0, 500.0)),
            ),
            line: "budget 400.00".to_owned(),
        },
    ];
    let lost = lot(Mark::Unknown, "dill: slimy", "80 g", Some((4.0, 4.0)));
    board(
        Scene::Month,
        "November",
        vec![
            Section { heading: String::new(), rows: Rows::Gauges(gauges) },
            lots("Lost most", vec![lost]),
        ],
    )
}

fn all() -> Vec<(&'static str, Board)> {
    vec![
        ("small", small()),
        ("empty", empty()),
        ("crowded", crowded()),
        ("right_to_left", right_to_left()),
        ("long_names", long_names()),
        ("plan", plan()),
        ("month", month()),
    ]
}

fn svg(board: &Board) -> String {
    let wording = Wording::english().expect("a wording file without faults");
    board.picture(&wording.board(board).to_plain()).svg
}

fn pixels(svg: &str) -> Pixmap {
    let png = painter::png(svg).unwrap_or_else(|| panic!("not drawn: {svg}"));
    Pixmap::decode_png(&png).expect("a picture")
}

#[test]
fn boards_are_laid_out_on_their_grid() {
    for (name, board) in all() {
        insta::with_settings!({ prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(format!("picture_{name}"), svg(&board));
        });
    }
}

#[test]
fn every_picture_is_drawn_crisp_and_within_what_a_messenger_takes() {
    for (name, board) in all() {
        let picture = pixels(&svg(&board));
        let (width, height) = (picture.width(), picture.height());
        assert_eq!(width, 1080, "{name}: three pixels to each of a phone {WIDTH} wide");
        assert!(width + height <= SIDES_MAX, "{name}: {height}");
        assert!(height <= RATIO_MAX * width && width <= RATIO_MAX * height, "{name}: {height}");
        let ground = picture.pixels()[0];
        let inked = picture.pixels().iter().filter(|pixel| **pixel != ground).count();
        assert!(inked > 1_000, "{name}: {inked} pixels are drawn");
        // Nothing runs over the edge.
        let edge = |x: u32| (0..height).all(|y| picture.pixel(x, y) == Some(ground));
        assert!(edge(width - 1) && edge(width - 20) && edge(0) && edge(20), "{name}");
    }
}

/// The outline of a label as drawn: the words of the one row of a board.
fn outline(label: &str) -> String {
    let mut fonts = usvg::fontdb::Database::new();
    for font in larderling::picture::FONTS {
        fonts.load_font_data(font.to_vec());
    }
    let options = usvg::Options { fontdb: fonts.into(), ..usvg::Options::default() };
    let text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"300\" height=\"40\"><text y=\"20\" \
         font-family=\"Noto Sans\" font-size=\"13\">{label}</text></svg>"
    );
    let tree = usvg::Tree::from_str(&text, &options).expect("a drawing");
    tree.to_string(&usvg::WriteOptions::default())
}

#[test]
fn names_in_hebrew_and_arabic_are_joined_and_ordered() {
    // A letter no font has is drawn as a box; the boxes of two unknown letters are alike, so words
    // that are drawn as boxes look like other words of as many letters.
    for (one, other) in [("عدس", "خبز"), ("תפוח", "גזרה"), ("борщ", "каша"), ("ñandú", "piñas")]
    {
        assert_ne!(outline(one), outline(other), "{one} and {other} have letters of their own");
        let mixed = [one, other].map(|name| outline(&format!("2 kg {name} (1)")));
        assert_ne!(mixed[0], mixed[1], "also beside other letters: {one}, {other}");
    }
    // Arabic letters take the form of their place: kept apart by a non-joiner they look otherwise.
    assert_ne!(outline("عدس"), outline("ع\u{200c}د\u{200c}س"));
    // The first letter of a right-to-left word stands rightmost: a left-to-right override, which
    // draws the same letters the other way round, gives another picture.
    assert_ne!(outline("תפוח"), outline("\u{202d}תפוח\u{202c}"));
}

#[test]
fn what_a_picture_shows_stands_in_its_words_and_its_description() {
    let wording = Wording::english().expect("a wording file without faults");
    for (name, board) in all() {
        let words = wording.board(&board).to_plain();
        let svg = svg(&board);
        assert!(svg.contains("role=\"img\"") && svg.contains("<title>"), "{name}");
        let described = svg.split_once("<desc>").and_then(|(_, rest)| rest.split_once("</desc>"));
        assert!(described.is_some_and(|(text, _)| text.len() >= words.len() / 2), "{name}");
        let mut said = vec![board.title.clone()];
        said.extend(board.notes.iter().cloned());
        for section in &board.sections {
            match &section.rows {
                Rows::Lots(rows) => {
                    said.extend(rows.iter().flat_map(|r| [r.label.clone(), r.value.clone()]));
                }
                Rows::Days(rows) => {
                    said.extend(rows.iter().flat_map(|r| [r.day.clone(), r.foods.clone()]));
                }
                Rows::Gauges(rows) => {
                    said.extend(rows.iter().flat_map(|r| [r.value.clone(), r.line.clone()]));
                }
            }
        }
        for part in said {
            assert!(words.contains(&part), "{name}: {part:?} is not in {words}");
        }
    }
}

/// The relative luminance of a colour written `#rrggbb`.
///
/// # Source
/// Web Content Accessibility Guidelines (WCAG) 2.2, W3C 2023, definition of relative luminance.
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let value = u8::from_str_radix(&colour[at..at + 2], 16).expect("a colour");
        let share = f64::from(value) / 255.0;
        if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

#[test]
fn words_and_signs_stand_out_from_the_ground() {
    // WCAG 2.2, success criterion 1.4.3 (AA): at least 4.5 to 1 for text; 1.4.11 asks 3 to 1 of
    // signs, and ours keep the stricter one.
    for colour in COLOURS {
        let (light, dark) = (luminance(GROUND), luminance(colour));
        let contrast = (light + 0.05) / (dark + 0.05);
        assert!(contrast >= 4.5, "{colour} on {GROUND}: {contrast:.2}");
    }
}

#[test]
fn each_mark_has_a_shape_of_its_own() {
    // Without colour: what is drawn for each mark, with every colour taken out.
    let shape = |mark: &Mark| {
        let drawn = svg(&board(Scene::House, "x", vec![lots("x", vec![lot(*mark, "", "", None)])]));
        let mut plain = drawn;
        for colour in COLOURS {
            plain = plain.replace(colour, "black");
        }
        plain
    };
    let shapes: std::collections::BTreeSet<String> = Mark::ALL.iter().map(shape).collect();
    assert_eq!(shapes.len(), Mark::ALL.len());
}

#[test]
fn only_what_a_picture_says_of_itself_is_drawn() {
    for svg in ["", "no picture", "<svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"/>"] {
        // Too little to draw is no panic; the words go out alone.
        let _ = painter::png(svg);
    }
    let tall = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"360\" height=\"90000\"></svg>";
    assert!(painter::png(tall).is_none(), "a picture is bounded");
    assert!(painter::png("no picture").is_none());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn prop_any_name_makes_a_well_formed_picture_within_its_columns(
        labels in proptest::collection::vec(any::<String>(), 1..6),
        title in any::<String>(),
        value in "\\PC{0,30}",
    ) {
        let mut board = names(&labels.iter().map(String::as_str).collect::<Vec<_>>());
        board.title = title;
        if let [Section { rows: Rows::Lots(rows), .. }] = board.sections.as_mut_slice() {
            rows[0].value = value;
        }
        let svg = svg(&board);
        let parsed = usvg::Tree::from_str(&svg, &usvg::Options::default());
        prop_assert!(parsed.is_ok(), "{:?}\n{}", parsed.err(), svg);
    }
}
