//! Pages and pictures as files: PDF, SVG, and plain text for tests; drawings as DXF, tables as a
//! workbook, the whole job as a building model.

mod pdf;
mod svg;
mod text;
mod ifc;
mod drawings;
mod dxf;
mod xlsx;

use std::iter::Peekable;
use std::slice::Iter;

use crate::page::Mark;
use crate::picture::{Fill, Pen};

pub use drawings::{Drawing, drawing, drawings};
pub use dxf::dxf;
pub use ifc::ifc;
pub use pdf::{Meta, pdf};
pub use svg::svg;
pub use text::text;
pub use xlsx::{Cell, Table, is_like_a_formula, one_line, xlsx};

/// The lines that follow a line of the same pen: they make one path with it. Areas stay on their own, so
/// that the later cover the earlier.
fn lines_after<'a>(
    marks: &mut Peekable<Iter<'a, Mark>>,
    pen: Pen,
    fill: Fill,
) -> Vec<(&'a [[f64; 2]], bool)> {
    let mut lines = Vec::new();
    if fill == Fill::None {
        let is_alike =
            |m: &&Mark| matches!(m, Mark::Path { pen: p, fill: Fill::None, .. } if *p == pen);
        while let Some(Mark::Path { points, closed, .. }) = marks.next_if(is_alike) {
            lines.push((points.as_slice(), *closed));
        }
    }
    lines
}
