//! How pens and fills look on paper: ISO 128 line weights, light tints that also read in black and
//! white, and hatches, so that no colour carries a meaning alone.

use crate::picture::{Fill, Pen};

/// A colour: red, green, blue.
pub type Colour = [u8; 3];

/// How a line is drawn on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Width, mm: a step of ISO 128 (0.13, 0.18, 0.25, 0.35, 0.5).
    pub width: f64,
    /// Lengths of dashes and gaps, mm; empty for a whole line.
    pub dash: &'static [f64],
    /// Its colour.
    pub colour: Colour,
}

/// Ink.
pub const INK: Colour = [26, 28, 30];
/// Lettering of less weight; 7:1 against white.
pub const QUIET: Colour = [84, 84, 80];
/// Hatches and the rules of tables: light enough to be written over.
const HATCH: Colour = [150, 142, 126];

/// How a pen draws lines; `None` for [`Pen::None`].
pub fn stroke(pen: Pen) -> Option<Stroke> {
    let line = |width, dash, colour| Some(Stroke { width, dash, colour });
    match pen {
        Pen::None => None,
        Pen::Cut => line(0.5, &[], INK),
        Pen::Outline => line(0.25, &[], INK),
        Pen::Thin => line(0.13, &[], INK),
        Pen::Hidden => line(0.18, &[2.0, 1.0], INK),
        Pen::Service => line(0.35, &[4.0, 1.0], INK),
        Pen::Centre => line(0.13, &[6.0, 1.2, 0.6, 1.2], INK),
        Pen::Dimension => line(0.18, &[], INK),
        Pen::Text => line(0.35, &[], INK),
        Pen::Quiet => line(0.13, &[], HATCH),
    }
}

/// The colour a pen letters in.
pub fn lettering(pen: Pen) -> Colour {
    match pen {
        Pen::Quiet => QUIET,
        _ => INK,
    }
}

/// The line of a hatch.
pub fn hatch_stroke() -> Stroke {
    Stroke { width: 0.13, dash: &[], colour: HATCH }
}

/// The tint of a fill; `None` when what is behind shows.
pub fn tint(fill: Fill) -> Option<Colour> {
    match fill {
        Fill::None | Fill::Zone => None,
        Fill::Paper => Some([255, 255, 255]),
        Fill::Timber => Some([250, 244, 232]),
        Fill::TimberStrong => Some([243, 229, 200]),
        Fill::TimberLight => Some([253, 250, 243]),
        Fill::Pattress => Some([233, 226, 205]),
        Fill::BoxNoggin => Some([246, 238, 218]),
        Fill::TimberPlate => Some([240, 230, 211]),
        Fill::Existing => Some([226, 225, 221]),
        Fill::Board => Some([242, 242, 240]),
        Fill::Fitting => Some([255, 255, 255]),
    }
}

/// Parallel lines over an area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatch {
    /// Direction, degrees from level, anticlockwise.
    pub angle: f64,
    /// Distance between lines, mm.
    pub spacing: f64,
}

/// The hatch of a fill, for the fills that have one.
pub fn hatch(fill: Fill) -> Option<Hatch> {
    match fill {
        Fill::Existing => Some(Hatch { angle: 45.0, spacing: 1.6 }),
        Fill::TimberStrong => Some(Hatch { angle: -45.0, spacing: 1.2 }),
        Fill::Pattress => Some(Hatch { angle: 45.0, spacing: 0.9 }),
        Fill::BoxNoggin => Some(Hatch { angle: 90.0, spacing: 1.2 }),
        Fill::Zone => Some(Hatch { angle: 60.0, spacing: 2.4 }),
        Fill::None
        | Fill::Paper
        | Fill::Timber
        | Fill::TimberLight
        | Fill::TimberPlate
        | Fill::Board
        | Fill::Fitting => None,
    }
}
