//! What is cut from sheets: the blank of every board, whether it may be turned, and what falls out of it.

use std::collections::BTreeMap;

use super::BoardMark;
use crate::boards::{FacePoint, Joint, Layer, On, Piece};
use crate::document::{self, Board, Lay};
use crate::id::Name;
use crate::layout::Layout;
use crate::math::SAME;
use crate::platform::{is_mirrored, is_outer};
use crate::profile::Profile;
use crate::span::Span;

/// What the boards of the room's own ceiling are said to be of.
const ROOM: &str = "room";

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
        let spec = &wall.spec;
        let holes = spec
            .holes
            .iter()
            .map(|h| (h.doorway(), Span { low: h.sill.unwrap_or(f64::NEG_INFINITY), high: h.top }));
        let holes: Vec<(Span, Span)> = holes.collect();
        for layer in &wall.boards.layers {
            let face = Face {
                of: wall.name(),
                on: On::Face(layer.face),
                mirrored: layer.face == document::Face::Left,
                is_outer: !wall
                    .boards
                    .layers
                    .iter()
                    .any(|l| l.face == layer.face && l.layer > layer.layer),
                holes: &holes,
                top: Some(&spec.head),
            };
            kinds.layer(layer, &face, kerf, keep);
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
    for platform in &layout.platforms {
        let spec = &platform.spec;
        let holes: Vec<(Span, Span)> = spec.holes.iter().map(|h| (h.across, h.along)).collect();
        for layer in platform.boards.iter() {
            let face = Face {
                of: platform.name(),
                on: layer.face,
                mirrored: is_mirrored(spec, layer),
                is_outer: is_outer(spec, layer),
                holes: if layer.face == On::Front { &[] } else { &holes },
                top: None,
            };
            kinds.layer(layer, &face, kerf, keep);
        }
    }
    if let Some(ceiling) = &layout.ceiling {
        let name = Name::new(ROOM);
        for layer in &ceiling.layers {
            let face = Face {
                of: &name,
                on: layer.face,
                mirrored: true,
                is_outer: ceiling.is_outer(layer),
                holes: &[],
                top: None,
            };
            kinds.layer(layer, &face, kerf, keep);
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

    /// The boards of a layer.
    fn layer<F>(&mut self, layer: &Layer<F>, face: &Face<'_>, kerf: f64, keep: f64) {
        let wanted = self.of(&layer.board, layer.sheet);
        for piece in &layer.pieces {
            let (lay, joints) = (layer.board.lay, &layer.joints);
            let blank = Blank { face, lay, joints, piece };
            let mut cut_outs = blank.cut_outs(kerf, keep);
            cut_outs.sort_unstable();
            let alike = Alike {
                width: tenths(piece.blank.0),
                length: tenths(piece.blank.1),
                turns: !face.is_outer || !blank.is_joined_lengthways(),
                cut_outs,
            };
            let mark = BoardMark {
                wall: face.of.clone(),
                on: face.on,
                layer: layer.layer,
                number: piece.number,
            };
            wanted.area += piece.shape.area();
            wanted.boards.entry(alike).or_default().push((blank.rings(), mark));
        }
    }
}

/// What a layer is on.
struct Face<'a> {
    /// The wall or platform.
    of: &'a Name,
    on: On,
    /// True when its places run from right to left as it is seen from the room.
    mirrored: bool,
    /// True when no other layer goes over it.
    is_outer: bool,
    /// What boards are cut round: along it and up it.
    holes: &'a [(Span, Span)],
    /// The line its boards go up to.
    top: Option<&'a Profile>,
}

struct Blank<'a> {
    face: &'a Face<'a>,
    lay: Lay,
    joints: &'a [Joint],
    piece: &'a Piece,
}

impl Blank<'_> {
    /// A place on the face as seen from the room, from the lower left corner of the blank, mm. Boards that lie across are
    /// turned a quarter, not mirrored.
    fn on_blank(&self, [s, z]: FacePoint) -> [f64; 2] {
        let (along, up) = (self.piece.shape.stations(), self.piece.shape.heights());
        let u = if self.face.mirrored { along.high - s } else { s - along.low };
        match self.lay {
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
        self.joints.iter().any(|j| match self.lay {
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
        let mut cut_outs = Vec::new();
        for &(door, heights) in self.face.holes {
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
            let z = within(heights, up);
            let is_cut = self.face.top.is_some_and(|top| top.range(s).low < z.high - SAME);
            if s.length() < keep || z.length() < keep || is_cut {
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
