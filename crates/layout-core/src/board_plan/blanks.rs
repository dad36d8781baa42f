//! What is cut from sheets: the blank of every board, whether it may be turned, and what falls out of it.

use std::collections::BTreeMap;

use super::BoardMark;
use crate::boards::{FacePoint, Layer, On, Piece};
use crate::document::{Board, Face, Lay};
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
    let mut kinds = Kinds::default();
    for wall in &layout.walls {
        for layer in &wall.boards.layers {
            let outermost =
                !wall.boards.layers.iter().any(|l| l.face == layer.face && l.layer > layer.layer);
            for piece in &layer.pieces {
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
                    on: On::Face(layer.face),
                    layer: layer.layer,
                    number: piece.number,
                };
                let wanted = kinds.of(&layer.board, layer.sheet);
                wanted.area += piece.shape.area();
                wanted.boards.entry(alike).or_default().push((blank.rings(), mark));
            }
        }
        for strip in &wall.boards.strips {
            let (width, length) = strip.blank();
            let (width, length) = (tenths(width), tenths(length));
            let alike = Alike { width, length, turns: true, cut_outs: Vec::new() };
            let (w, l) = (width as i64, length as i64);
            let mark = BoardMark {
                wall: wall.name().clone(),
                on: strip.closes.on(),
                layer: strip.layer,
                number: strip.number,
            };
            let wanted = kinds.of(&strip.board, strip.sheet);
            wanted.area += strip.area();
            let outline = vec![[0, 0], [w, 0], [w, l], [0, l]];
            wanted.boards.entry(alike).or_default().push((vec![outline], mark));
        }
    }
    let mut kinds = kinds.0;
    for wanted in kinds.values_mut() {
        wanted.sizes.sort_unstable();
        for boards in wanted.boards.values_mut() {
            // Stable: those of one shape stay in the order of the walls.
            boards.sort_by(|a, b| a.0.cmp(&b.0));
        }
    }
    kinds
}

#[derive(Default)]
struct Kinds(BTreeMap<Kind, Wanted>);

impl Kinds {
    /// Boards of the kind of `board`, from sheets of a size.
    fn of(&mut self, board: &Board, sheet: (f64, f64)) -> &mut Wanted {
        let wanted = self.0.entry((board.kind.clone(), hundredths(board.thickness))).or_default();
        let size = (tenths(sheet.0), tenths(sheet.1));
        if !wanted.sizes.contains(&size) {
            wanted.sizes.push(size);
        }
        wanted
    }
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
