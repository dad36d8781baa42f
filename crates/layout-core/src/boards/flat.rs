//! Boards on what is flat and not a wall: under joists and over them, on the front of a bulkhead, under the room's ceiling.
//!
//! Rows as wide as a sheet, their long edges across the timber; in a row boards are joined on timber by the same
//! shortest path as on a wall, off the joints of the row before and of the layer under them. Every other layer
//! starts with half a row. A long edge between two timbers carries itself: only ends and outer edges want timber.

use super::backing::Backing;
use super::joints::Band;
use super::screws::{Spacing, merged, on};
use super::shapes::clipped;
use super::{FacePoint, Joint, Layer, On, Piece, Shape, cells, sheet_of};
use crate::document::{Board, Lay, Sundries};
use crate::math::{BOUND_EDGE, SAME};
use crate::span::Span;

/// Rows beyond this are not counted: what is left is one.
const MOST: f64 = 500.0;

/// Something flat to be boarded. In its coordinates the timber runs up and the boards lie along.
pub(crate) struct Flat<'a> {
    /// What is to be covered.
    pub(crate) area: &'a [Shape],
    /// The timber that shows at it.
    pub(crate) timber: Timber,
    /// What is boarded with, from the timber outwards.
    pub(crate) boards: &'a [Board],
    /// Centres of the timber, mm: what sheets are chosen to suit.
    pub(crate) centres: f64,
    /// What it is.
    pub(crate) on: On,
    /// Where the face of the timber is, square to it.
    pub(crate) face: f64,
    /// 1 when the layers go up from there, -1 when they go down.
    pub(crate) out: f64,
}

/// Timber that boards are fixed to: what each piece shows along and up.
pub(crate) struct Timber(Backing);

impl Timber {
    pub(crate) fn of(pieces: impl Iterator<Item = (Span, Span)>) -> Timber {
        Timber(Backing::flat(pieces))
    }

    /// The stretches of the edge at `height`, over `along`, with no timber to carry one board.
    pub(crate) fn bare_edge(&self, height: f64, inwards: f64, along: Span) -> Vec<Span> {
        let middle = height + inwards * BOUND_EDGE / 2.0;
        self.0.bare_along(middle, along, BOUND_EDGE / 2.0)
    }

    /// Places of the screws in each piece of a layer, in the order of its pieces: no more than `spacing` apart.
    pub(crate) fn screws(&self, layer: &Layer<On>, spacing: f64) -> Vec<Vec<FacePoint>> {
        on(&self.0, &layer.pieces, &Spacing::new(spacing, spacing))
    }
}

/// Most between the screws of a layer on something flat, mm: closer overhead.
pub(crate) fn spacing(on: On, is_outer: bool, rules: &Sundries) -> f64 {
    match on {
        On::Below | On::Ceiling => rules.overhead,
        _ if is_outer => rules.edge.min(rules.field),
        _ => rules.inner,
    }
}

impl Flat<'_> {
    /// Its layers; its boards are numbered on from `number`.
    pub(crate) fn lay(&self, number: &mut usize) -> Vec<Layer<On>> {
        let mut layers: Vec<Layer<On>> = Vec::new();
        let mut from = self.face;
        for (index, board) in self.boards.iter().enumerate() {
            let to = from + self.out * board.thickness;
            let board = Board { lay: Lay::Across, ..board.clone() };
            let mut layer = Layer {
                face: self.on,
                layer: index,
                sheet: sheet_of(&board, self.centres),
                board,
                across: Span::between(from, to),
                pieces: Vec::new(),
                joints: Vec::new(),
            };
            for shape in self.area {
                self.rows(shape, layers.last(), &mut layer);
            }
            for piece in &mut layer.pieces {
                *number += 1;
                piece.number = *number;
            }
            from = to;
            layers.push(layer);
        }
        layers
    }

    fn rows(&self, shape: &Shape, under: Option<&Layer<On>>, layer: &mut Layer<On>) {
        let (width, length) = layer.sheet;
        let whole = shape.heights();
        let first = if layer.layer % 2 == 1 { width / 2.0 } else { width };
        let count = ((whole.length() - first) / width).ceil().clamp(0.0, MOST) as usize;
        let mut heights: Vec<f64> =
            (0..count).map(|k| whole.low + first + k as f64 * width).collect();
        heights.retain(|z| *z < whole.high - SAME);
        let upright = |j: &&Joint| j.along.length() < SAME;
        let under: Vec<f64> = under
            .map(|l| l.joints.iter().filter(upright).map(|j| j.along.low).collect())
            .unwrap_or_default();
        let mut before: Vec<f64> = Vec::new();
        for (i, row) in cells(whole, &heights).into_iter().enumerate() {
            if i > 0 {
                self.long_edge(shape, row.low, layer);
            }
            let near = [under.as_slice(), before.as_slice()].concat();
            before.clear();
            let parts = clipped(shape, shape.stations(), row);
            for along in merged(parts.iter().map(Shape::stations)) {
                let joints = self.ends(&parts, along, length, &near, layer);
                for column in cells(along, &joints) {
                    for part in parts.iter().flat_map(|p| clipped(p, column, row)) {
                        let blank = (part.heights().length(), part.stations().length());
                        layer.pieces.push(Piece { number: 0, shape: part, blank });
                    }
                }
                before.extend(joints);
            }
        }
    }

    /// Chooses where the boards of a row end on each other.
    fn ends(
        &self,
        parts: &[Shape],
        along: Span,
        step: f64,
        near: &[f64],
        layer: &mut Layer<On>,
    ) -> Vec<f64> {
        let timber = &self.timber.0;
        let there = |at: f64| parts.iter().flat_map(|p| p.upright_at(at)).collect::<Vec<Span>>();
        let bearing = |at: f64| {
            let on = there(at);
            super::bearing(|half| timber.bare(Span::about(at, 2.0 * half), &on))
        };
        let middles = timber.middles(along, 100.0);
        let grid = longest_first(along, step, &middles);
        let joints = Band {
            along,
            step,
            middles: &middles,
            bearing: &bearing,
            corners: &[],
            under: near,
            other: &[],
            grid: &grid,
        }
        .joints();
        for &at in &joints {
            for heights in there(at) {
                layer.joints.push(Joint {
                    along: Span { low: at, high: at },
                    heights,
                    bare: timber.bare(Span::about(at, 2.0 * BOUND_EDGE), &[heights]),
                    at_corner: false,
                });
            }
        }
        joints
    }

    /// Notes where two rows meet.
    fn long_edge(&self, shape: &Shape, height: f64, layer: &mut Layer<On>) {
        let [below, above] = [-2.0, 2.0].map(|by| shape.level_at(height + by * SAME));
        for a in &below {
            for along in above.iter().map(|b| b.intersection(*a)).filter(|s| s.length() > SAME) {
                let heights = Span { low: height, high: height };
                layer.joints.push(Joint { along, heights, bare: 0.0, at_corner: false });
            }
        }
    }
}

/// Where boards end that reach as far as they can from the start: of two ways as good the one nearer to this is taken.
fn longest_first(along: Span, step: f64, middles: &[f64]) -> Vec<f64> {
    let mut ends: Vec<f64> = Vec::new();
    let mut from = along.low;
    while from + step < along.high - SAME && (ends.len() as f64) < MOST {
        let mut reached =
            middles.iter().copied().filter(|m| *m > from + SAME && *m <= from + step + SAME);
        from = reached.next_back().unwrap_or(from + step);
        ends.push(from);
    }
    ends
}
