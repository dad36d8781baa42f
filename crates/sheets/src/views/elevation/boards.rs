//! The boards of one layer: their outlines, and on each its number and what it is cut to.

use std::f64::consts::FRAC_PI_2;

use layout_core::boards::{Layer, Piece, Shape};
use layout_core::units::Units;

use super::Sheet;
use crate::picture::{Fill, Label, Pen, Rect};

/// The layer of boards that is shown, when the face has it.
pub(super) fn shown<'a>(sheet: &Sheet<'a>) -> Option<&'a Layer> {
    let index = sheet.options.boards?;
    let face = sheet.options.face;
    sheet.wall.boards.layers.iter().find(|l| l.face == face && l.layer == index)
}

/// Outlines; lettering keeps off them from now on.
pub(super) fn outlines(sheet: &mut Sheet, layer: &Layer) {
    let of = sheet.of_wall();
    for piece in &layer.pieces {
        for ring in std::iter::once(&piece.shape.outline).chain(&piece.shape.holes) {
            let mut line: Vec<_> = ring.iter().map(|p| sheet.at(p[0], p[1])).collect();
            line.extend(line.first().copied());
            for edge in line.windows(2) {
                let [a, b] = [edge[0], edge[1]].map(|at| at.on_paper(sheet.scale));
                for part in along_line(a, b) {
                    sheet.lines.take(part.grown(LINE));
                }
            }
            sheet.picture.line(line, Pen::Cut, Some(&of));
        }
    }
}

/// What a board is cut to: across its sheet and along it, as where sheets are cut.
pub(crate) fn cut_to(units: Units, piece: &Piece) -> String {
    format!("{} × {}", units.show(piece.blank.0), units.show(piece.blank.1))
}

/// A number and what it is cut to on each board, where there is room for them.
pub(super) fn marks(sheet: &mut Sheet, layer: &Layer) {
    for piece in &layer.pieces {
        let size = if layer.is_whole(piece) {
            "whole".to_string()
        } else {
            cut_to(sheet.job.units, piece).replace(" × ", "×")
        };
        mark(sheet, &piece.shape, &piece.number.to_string(), &size);
    }
}

/// A label and how far it stands from the middle of the mark, mm of paper.
type Part = (Label, [f64; 2]);

/// Number and size in the ways they can stand together, the better first.
fn arrangements(number: &str, size: &str) -> [Vec<Part>; 6] {
    let at = crate::picture::At::model(0.0, 0.0);
    let number = Label::new(at, number);
    let size = Label::new(at, size).small();
    let (lying, standing) = (size.clone(), size.turned(FRAC_PI_2));
    let down = lying.width() / 2.0;
    let beside = number.clone().turned(FRAC_PI_2);
    let along = (down + beside.width()) / 2.0 + 0.6;
    [
        vec![(number.clone().large(), [0.0, 2.0]), (lying.clone(), [0.0, -3.0])],
        vec![(number.clone().large(), [0.0, down + 1.2]), (standing.clone(), [0.0, -3.2])],
        vec![(number.clone(), [0.0, 2.2]), (lying, [0.0, -1.8])],
        vec![(beside.clone(), [0.0, -along]), (standing, [0.0, along])],
        vec![(number.large(), [0.0, 0.0])],
        vec![(beside.small(), [0.0, 0.0])],
    ]
}

fn mark(sheet: &mut Sheet, shape: &Shape, number: &str, size: &str) {
    let places = places(shape);
    let ways = arrangements(number, size);
    let put = |way: &[Part], at: [f64; 2], sheet: &Sheet| -> Vec<Label> {
        let at = sheet.at(at[0], at[1]);
        way.iter().map(|(label, [dx, dy])| label.clone().at(at.shifted(*dx, *dy))).collect()
    };
    let on_board = |label: &Label| {
        let Rect { min, max } = label.bounds(sheet.scale);
        let corners = [min, max, [min[0], max[1]], [max[0], min[1]]];
        corners
            .iter()
            .all(|[x, y]| shape.contains([sheet.station(x * sheet.scale), y * sheet.scale]))
    };
    let free = |labels: &[Label]| labels.iter().all(|l| on_board(l) && sheet.is_free(l));
    let tries = ways.iter().flat_map(|way| places.iter().map(move |at| (way, *at)));
    let found = tries.map(|(way, at)| put(way, at, sheet)).find(|labels| free(labels));
    // A board that is too small for it has its number all the same, over its edges but over no other lettering.
    let found = found.or_else(|| {
        let mut small = places.iter().map(|at| put(&ways[5], *at, sheet));
        let clear = |l: &Label| sheet.crowd.overlap(l.bounds(sheet.scale).grown(0.2)) == 0.0;
        small.find(|labels| labels.iter().all(clear))
    });
    for label in found.into_iter().flatten() {
        sheet.write_on_paper(label);
    }
}

/// Places well inside a shape, the roomiest first.
fn places(shape: &Shape) -> Vec<[f64; 2]> {
    let (s, z) = (shape.stations(), shape.heights());
    let centre = [s.centre(), z.centre()];
    let shares =
        (1..10).flat_map(|i| (1..20).map(move |k| (f64::from(i) / 10.0, f64::from(k) / 20.0)));
    let places = shares.map(|(u, v)| [s.low + s.length() * u, z.low + z.length() * v]);
    let room = |p: [f64; 2]| {
        let off = (p[0] - centre[0]).hypot(p[1] - centre[1]);
        shape.clearance(p).min(400.0) - off * 0.01
    };
    let inside = places.filter(|p| shape.contains(*p));
    let mut inside: Vec<([f64; 2], f64)> = inside.map(|p| (p, room(p))).collect();
    inside.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut places: Vec<[f64; 2]> = inside.into_iter().map(|(p, _)| p).collect();
    if places.is_empty() {
        places.push(centre);
    }
    places
}

/// A straight line of the paper as small rectangles, so that a slant covers no more than it has to.
pub(super) fn along_line(a: [f64; 2], b: [f64; 2]) -> impl Iterator<Item = Rect> {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let is_slant = dx.abs() > 0.05 && dy.abs() > 0.05;
    let parts = if is_slant { (dx.hypot(dy) / 1.5).ceil().clamp(1.0, 2000.0) } else { 1.0 };
    let at = move |k: usize| {
        let share = k as f64 / parts;
        [a[0] + dx * share, a[1] + dy * share]
    };
    (0..parts as usize).map(move |i| Rect::round([at(i), at(i + 1)]))
}

impl Sheet<'_> {
    /// True when nothing is where a label would be.
    pub(super) fn is_free(&self, label: &Label) -> bool {
        let covered = label.bounds(self.scale).grown(0.3);
        self.crowd.overlap(covered) == 0.0 && self.lines.overlap(covered) == 0.0
    }

    /// Draws a label on a piece of bare paper of its own.
    pub(super) fn write_on_paper(&mut self, label: Label) {
        self.picture.area(label.backing(), Pen::None, Fill::Paper, None);
        self.write(label);
    }
}

/// Half of what the outline of a board takes up, mm of paper.
const LINE: f64 = 0.25;
