//! The lettering of every sheet: one typeface in two weights, and how wide a text comes out.

use std::sync::LazyLock;

use ttf_parser::Face;

/// The two weights of the lettering.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// For nearly everything.
    Regular,
    /// For marks, names and headings.
    Bold,
}

static REGULAR: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(Weight::Regular.font(), 0).ok());
static BOLD: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(Weight::Bold.font(), 0).ok());

/// Height of capitals as a share of the font size, in both weights.
pub const CAPITAL: f64 = 1493.0 / 2048.0;

impl Weight {
    /// The font file.
    pub fn font(self) -> &'static [u8] {
        match self {
            Weight::Regular => dejavu::sans_condensed::regular(),
            Weight::Bold => dejavu::sans_condensed::bold(),
        }
    }

    /// Width of `text` with capitals `height` mm high, mm.
    pub fn width(self, text: &str, height: f64) -> f64 {
        let face = match self {
            Weight::Regular => &*REGULAR,
            Weight::Bold => &*BOLD,
        };
        let Some(face) = face else { return 0.7 * height * text.chars().count() as f64 };
        let units: f64 = text
            .chars()
            .map(|c| face.glyph_index(c).and_then(|g| face.glyph_hor_advance(g)).map_or(1024.0, f64::from))
            .sum();
        units / f64::from(face.units_per_em()) * height / CAPITAL
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_font_has_every_sign_the_sheets_use() {
        for weight in [Weight::Regular, Weight::Bold] {
            let face = Face::parse(weight.font(), 0).unwrap();
            assert_eq!(face.capital_height().map(f64::from), Some(1493.0), "{weight:?}");
            for c in "ABCxyz 0123456789 ×°±½ø–—−·…“”‘’£€→↑☐\u{2009}".chars() {
                assert!(face.glyph_index(c).is_some(), "{weight:?} has no {c:?} ({:x})", c as u32);
            }
        }
    }

    #[test]
    fn width_grows_with_height_and_length() {
        let one = Weight::Regular.width("8", 3.5);
        assert!((2.0..3.5).contains(&one), "{one}");
        assert!((Weight::Regular.width("8888", 3.5) - 4.0 * one).abs() < 1e-9);
        assert!((Weight::Regular.width("8", 7.0) - 2.0 * one).abs() < 1e-9);
        assert!(Weight::Bold.width("8", 3.5) > one);
    }
}
