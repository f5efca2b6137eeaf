//! Turns a picture's SVG into PNG, in the process and with its own fonts.
//!
//! Only what `picture` writes is drawn: nothing outside the text is loaded, neither fonts of the
//! system nor images. Used by the channels that can show a picture.

use std::sync::{Arc, LazyLock};

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use crate::picture;

/// Real pixels to a unit of the drawing: crisp on a phone as wide as the picture.
pub const SCALE: f32 = 3.0;

/// The tallest picture drawn, in pixels: width and height together stay within what messengers
/// take, 10,000 pixels.
const HEIGHT_MAX: f32 = 8_000.0;

static OPTIONS: LazyLock<Options<'static>> = LazyLock::new(|| {
    let mut fonts = fontdb::Database::new();
    for font in picture::FONTS {
        fonts.load_font_source(fontdb::Source::Binary(Arc::new(*font)));
    }
    Options { fontdb: Arc::new(fonts), font_family: "Noto Sans".to_owned(), ..Options::default() }
});

/// The picture as PNG; `None` when the SVG is none or too large.
pub fn png(svg: &str) -> Option<Vec<u8>> {
    let tree = Tree::from_str(svg, &OPTIONS).ok()?;
    let size = tree.size().to_int_size().scale_by(SCALE)?;
    if size.height() as f32 > HEIGHT_MAX {
        return None;
    }
    let mut pixels = Pixmap::new(size.width(), size.height())?;
    resvg::render(&tree, Transform::from_scale(SCALE, SCALE), &mut pixels.as_mut());
    pixels.encode_png().ok()
}
