//! Drawings of other programs, read with care: the lines of a DXF in text form, and the closed outlines among them.
//!
//! What is read is flat: lines as lists of points, in the drawing's own units. Arcs, bulges, ellipses and splines become
//! short straight lines, blocks are put where they are inserted, lettering and hatches are left out.

mod tags;
mod curves;
mod entities;
mod outlines;

pub use outlines::{Outline, outlines};

/// A drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Millimetres to one of its units, when it says so.
    pub unit: Option<f64>,
    /// Its lines.
    pub lines: Vec<Line>,
    /// How many splines were left out because their numbers do not belong together.
    pub left_out: usize,
}

/// A line through points.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its layer.
    pub layer: String,
    /// Its points, in units of the drawing.
    pub points: Vec<[f64; 2]>,
    /// True when the last joins the first.
    pub closed: bool,
}

/// The most points a drawing may come to.
const MOST_POINTS: usize = 200_000;
/// A coordinate further out than this is no place.
const FURTHEST: f64 = 1e9;

/// Reads the text of a DXF file.
///
/// # Errors
/// One plain line with the number of the line that cannot be read.
pub fn read(text: &str) -> Result<Drawing, String> {
    if text.lines().next().is_some_and(|first| first.trim().ends_with("Binary DXF")) {
        return Err("it is a DXF in binary form; save it as DXF in text form (ASCII)".into());
    }
    let tags = tags::tags(text)?;
    let drawing = entities::read(&tags)?;
    match (drawing.lines.is_empty(), drawing.left_out) {
        (false, _) => Ok(drawing),
        (true, 0) => Err("there are no lines in it".into()),
        (true, _) => Err("there is nothing in it but splines that cannot be read".into()),
    }
}

impl Drawing {
    /// The same in millimetres, with `unit` of them to one of its own.
    #[must_use]
    pub fn scaled(mut self, unit: f64) -> Drawing {
        for point in self.lines.iter_mut().flat_map(|l| &mut l.points) {
            *point = point.map(|v| v * unit);
        }
        self.unit = Some(1.0);
        self
    }
}
