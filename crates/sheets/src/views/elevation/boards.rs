//! The boards of one layer over the frame: each with its number and what it is cut to.

use std::f64::consts::FRAC_PI_2;

use layout_core::boards::{Layer, Piece, Shape};

use super::Sheet;
use crate::picture::{Fill, Label, Pen};

/// Outlines, and a number and size in each board.
pub(super) fn draw(sheet: &mut Sheet, layer: usize) {
    let wall = sheet.wall;
    let face = sheet.options.face;
    let Some(layer) = wall.boards.layers.iter().find(|l| l.face == face && l.layer == layer) else {
        return;
    };
    let of = sheet.of_wall();
    for piece in &layer.pieces {
        for ring in std::iter::once(&piece.shape.outline).chain(&piece.shape.holes) {
            let mut line: Vec<_> = ring.iter().map(|p| sheet.at(p[0], p[1])).collect();
            line.extend(line.first().copied());
            sheet.picture.line(line, Pen::Cut, Some(&of));
        }
    }
    for piece in &layer.pieces {
        label(sheet, layer, piece);
    }
}

fn label(sheet: &mut Sheet, layer: &Layer, piece: &Piece) {
    let units = sheet.job.units;
    let at = middle(&piece.shape);
    let size = if layer.is_whole(piece) {
        "whole".to_string()
    } else {
        let (across, along) = (piece.shape.stations().length(), piece.shape.heights().length());
        format!("{}×{}", units.show(across), units.show(along))
    };
    let number = Label::new(sheet.at(at[0], at[1]), piece.number.to_string()).large();
    let size = Label::new(sheet.at(at[0], at[1]), size).small();
    // Upright where the board is too narrow for it.
    let room = piece.shape.stations().length() / sheet.scale - 1.5;
    let (number, size) = if size.width() <= room {
        (
            number.at(sheet.at(at[0], at[1]).shifted(0.0, 1.0)),
            size.at(sheet.at(at[0], at[1]).shifted(0.0, -4.0)),
        )
    } else {
        let below = sheet.at(at[0], at[1]).shifted(0.0, -2.5 - size.width() / 2.0);
        (number.at(sheet.at(at[0], at[1]).shifted(0.0, 1.0)), size.turned(FRAC_PI_2).at(below))
    };
    for label in [number, size] {
        sheet.picture.area(label.backing(), Pen::None, Fill::Paper, None);
        sheet.write(label);
    }
}

/// A place well inside a shape.
fn middle(shape: &Shape) -> [f64; 2] {
    let (s, z) = (shape.stations(), shape.heights());
    let places =
        (1..10).flat_map(|i| (1..20).map(move |k| (f64::from(i) / 10.0, f64::from(k) / 20.0)));
    let places = places.map(|(u, v)| [s.low + s.length() * u, z.low + z.length() * v]);
    let centre = [s.centre(), z.centre()];
    let clear = |p: &[f64; 2]| {
        let off = (p[0] - centre[0]).hypot(p[1] - centre[1]);
        if shape.contains(*p) {
            shape.clearance(*p).min(400.0) - off * 0.01
        } else {
            f64::NEG_INFINITY
        }
    };
    places.max_by(|a, b| clear(a).total_cmp(&clear(b))).unwrap_or(centre)
}
