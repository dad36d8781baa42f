//! What is cut from sheets: the blank of every board, whether it may be turned, and what falls out of it.

use std::collections::BTreeMap;

use super::BoardMark;
use crate::boards::{FacePoint, Layer, Piece};
use crate::document::{Face, Lay};
use crate::id::Name;
use crate::layout::{Layout, WallLayout};
use crate::math::SAME;
use crate::span::Span;

/// Closed lines on a blank, tenths of a millimetre from its lower left corner: outline, then holes.
pub(super) type Rings = Vec<Vec<[i64; 2]>>;

/// What boards are cut alike for: blank, whether it turns, what falls out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Alike {
    pub(super) width: u64,
    pub(super) length: u64,
    pub(super) turns: bool,
    pub(super) cut_outs: Vec<saw::sheets::Rect>,
}

/// Boards of one kind and thickness.
#[derive(Default)]
pub(super) struct Wanted {
    /// Sizes of sheet the walls were boarded with, tenths of a millimetre.
    pub(super) sizes: Vec<(u64, u64)>,
    /// The boards, those of one shape together.
    pub(super) boards: BTreeMap<Alike, Vec<(Rings, BoardMark)>>,
    /// Area on the walls, mm².
    pub(super) area: f64,
}

/// Name and thickness, hundredths of a millimetre.
pub(super) type Kind = (Name, i64);

pub(super) fn hundredths(mm: f64) -> i64 {
    (mm.clamp(0.0, 1e9) * 100.0).round() as i64
}

pub(super) fn tenths(mm: f64) -> u64 {
    (mm.clamp(0.0, 1e8) * 10.0).round() as u64
}

/// Every board of a layout, by kind and thickness.
pub(super) fn wanted(layout: &Layout, kerf: f64, keep: f64) -> BTreeMap<Kind, Wanted> {
    let mut kinds: BTreeMap<Kind, Wanted> = BTreeMap::new();
    for wall in &layout.walls {
        for layer in &wall.boards.layers {
            let kind = (layer.board.kind.clone(), hundredths(layer.board.thickness));
            let wanted = kinds.entry(kind).or_default();
            let size = (tenths(layer.sheet.0), tenths(layer.sheet.1));
            if !wanted.sizes.contains(&size) {
                wanted.sizes.push(size);
            }
            let outermost =
                !wall.boards.layers.iter().any(|l| l.face == layer.face && l.layer > layer.layer);
            for piece in &layer.pieces {
                wanted.area += piece.shape.area();
                let blank = Blank { wall, layer, piece };
                let mut cut_outs = blank.cut_outs(kerf, keep);
                cut_outs.sort_unstable();
                let alike = Alike {
                    width: tenths(piece.blank.0),
                    length: tenths(piece.blank.1),
                    turns: !outermost || !blank.is_joined_lengthways(),
                    cut_outs,
                };
                let mark = BoardMark {
                    wall: wall.name().clone(),
                    face: layer.face,
                    layer: layer.layer,
                    number: piece.number,
                };
                wanted.boards.entry(alike).or_default().push((blank.rings(), mark));
            }
        }
    }
    for wanted in kinds.values_mut() {
        wanted.sizes.sort_unstable();
        for boards in wanted.boards.values_mut() {
            // Stable: those of one shape stay in the order of the walls.
            boards.sort_by(|a, b| a.0.cmp(&b.0));
        }
    }
    kinds
}

struct Blank<'a> {
    wall: &'a WallLayout,
    layer: &'a Layer,
    piece: &'a Piece,
}

impl Blank<'_> {
    /// A place on the face as seen from the room, from the lower left corner of the blank, mm. Boards that lie across are
    /// turned a quarter, not mirrored.
    fn on_blank(&self, [s, z]: FacePoint) -> [f64; 2] {
        let (along, up) = (self.piece.shape.stations(), self.piece.shape.heights());
        let u = match self.layer.face {
            Face::Right => s - along.low,
            Face::Left => along.high - s,
        };
        match self.layer.board.lay {
            Lay::Upright => [u, z - up.low],
            Lay::Across => [up.high - z, u],
        }
    }

    fn rings(&self) -> Rings {
        let shape = &self.piece.shape;
        let tenth = |mm: f64| (mm * 10.0).round() as i64;
        std::iter::once(&shape.outline)
            .chain(&shape.holes)
            .map(|ring| ring.iter().map(|p| self.on_blank(*p).map(tenth)).collect())
            .collect()
    }

    /// True when a board of its layer is joined to one of its long edges, where the tapers are.
    fn is_joined_lengthways(&self) -> bool {
        let (along, up) = (self.piece.shape.stations(), self.piece.shape.heights());
        let at_an_end = |v: f64, of: Span| (v - of.low).abs() < SAME || (v - of.high).abs() < SAME;
        self.layer.joints.iter().any(|j| match self.layer.board.lay {
            Lay::Upright => {
                j.along.length() < SAME && at_an_end(j.along.low, along) && j.heights.overlaps(up)
            }
            Lay::Across => {
                j.heights.length() < SAME && at_an_end(j.heights.low, up) && j.along.overlaps(along)
            }
        })
    }

    /// What the openings take out of it that is worth keeping: whole rectangles only.
    fn cut_outs(&self, kerf: f64, keep: f64) -> Vec<saw::sheets::Rect> {
        let (along, up) = (self.piece.shape.stations(), self.piece.shape.heights());
        let spec = &self.wall.spec;
        let mut cut_outs = Vec::new();
        for hole in &spec.holes {
            let door = hole.doorway();
            let within = |part: Span, of: Span| {
                let span = Span { low: part.low.max(of.low), high: part.high.min(of.high) };
                // The saw takes its width where it goes round inside the board.
                let inset = |inside: bool| if inside { kerf } else { 0.0 };
                Span {
                    low: span.low + inset(span.low > of.low + SAME),
                    high: span.high - inset(span.high < of.high - SAME),
                }
            };
            let s = within(door, along);
            let z =
                within(Span { low: hole.sill.unwrap_or(f64::NEG_INFINITY), high: hole.top }, up);
            if s.length() < keep || z.length() < keep || spec.head.range(s).low < z.high - SAME {
                continue;
            }
            let corners = [self.on_blank([s.low, z.low]), self.on_blank([s.high, z.high])];
            let side = |axis: usize| Span::between(corners[0][axis], corners[1][axis]);
            let (x, y) = (side(0), side(1));
            let (left, low) = (tenths(x.low), tenths(y.low));
            // Rounded by its edges, so that it stays within the blank.
            cut_outs.push(saw::sheets::Rect {
                x: left,
                y: low,
                width: tenths(x.high).saturating_sub(left),
                length: tenths(y.high).saturating_sub(low),
            });
        }
        cut_outs
    }
}
