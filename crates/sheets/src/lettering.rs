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

static REGULAR: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| Face::parse(Weight::Regular.font(), 0).ok());
static BOLD: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| Face::parse(Weight::Bold.font(), 0).ok());

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

    fn face(self) -> Option<&'static Face<'static>> {
        match self {
            Weight::Regular => REGULAR.as_ref(),
            Weight::Bold => BOLD.as_ref(),
        }
    }

    /// The glyph of a character and how far it takes the pen, as a share of the font size. A character
    /// the font does not have gives the empty box.
    pub fn glyph(self, c: char) -> (u16, f64) {
        let Some(face) = self.face() else { return (0, 0.6) };
        let glyph = face.glyph_index(c).unwrap_or_default();
        let advance = face.glyph_hor_advance(glyph).unwrap_or_default();
        (glyph.0, f64::from(advance) / f64::from(face.units_per_em()))
    }

    /// Width of `text` with capitals `height` mm high, mm.
    pub fn width(self, text: &str, height: f64) -> f64 {
        text.chars().map(|c| self.glyph(c).1).sum::<f64>() * height / CAPITAL
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_font_has_every_sign_the_sheets_use() {
        for weight in [Weight::Regular, Weight::Bold] {
            let face = Face::parse(weight.font(), 0).unwrap();
            let capital = face.glyph_bounding_box(face.glyph_index('H').unwrap()).unwrap();
            assert_eq!(
                f64::from(capital.y_max) / f64::from(face.units_per_em()),
                CAPITAL,
                "{weight:?}"
            );
            for c in "ABCxyz 0123456789 ×°±½ø–—−·…“”‘’£€→↑☐\u{2009}".chars()
            {
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
