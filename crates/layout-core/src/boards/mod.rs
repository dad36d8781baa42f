//! The boards of a wall: which sheet goes where on each face, layer by layer, joined on timber.
//!
//! A face is cut into runs by the walls that meet it, a run into bands as wide as a sheet, and a band into
//! boards at the joints of a shortest path over the studs. What openings and the line of the head
//! leave of a board is its shape.

mod shapes;
mod joints;
mod backing;
mod screws;
mod strips;
mod flat;

use crate::catalogue::mass_of;
use crate::document::{Board, Face, Lay, WallEnd};
use crate::frame::{Frame, Rise, board_joints};
pub use crate::frame::{LIFT, sheet_of};
use crate::math::{BOUND_EDGE, EDGE_BEARING, SAME};
use crate::resolve::{Hole, WallSpec, side};
use crate::span::Span;
use backing::Backing;
pub(crate) use flat::{Flat, Timber, spacing};
use joints::Band;
pub use screws::screws;
pub use shapes::{FacePoint, Shape};
pub(crate) use shapes::{common, less, rectangle, signed_area as area_of};
pub use strips::{Closes, Reveal, Strip};

/// Timber may be missing behind a joint over so much of it: the gap under a head, a packed end, mm.
const BARE: f64 = 60.0;
/// A board this little past the timber at its end is cut to it, mm.
const TRIMMED: f64 = 5.0;

/// What a board is on, as its mark says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum On {
    /// A face of a wall.
    Face(Face),
    /// An end of a wall that stands free.
    End,
    /// A reveal of an opening of a wall.
    Reveal,
    /// The underside of a platform.
    Below,
    /// The top of a platform.
    Above,
    /// The front of a platform.
    Front,
    /// The room's own ceiling.
    Ceiling,
}

impl On {
    /// “left”, “end”.
    pub fn label(self) -> &'static str {
        match self {
            On::Face(face) => face.label(),
            On::End => "end",
            On::Reveal => "reveal",
            On::Below => "below",
            On::Above => "above",
            On::Front => "front",
            On::Ceiling => "ceiling",
        }
    }
}

/// The boards of one wall.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Boarding {
    /// The layers: of the right face from the frame outwards, then of the left.
    pub layers: Vec<Layer>,
    /// Strips over its free ends and in the reveals of its openings: the ends first.
    pub strips: Vec<Strip>,
}

/// One layer of board on one face of a wall, or on what is flat.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer<F = Face> {
    /// The face, or what it is on.
    pub face: F,
    /// Which layer, from 0 at the frame.
    pub layer: usize,
    /// What it is of.
    pub board: Board,
    /// Width and length of the sheets it is cut from, mm.
    pub sheet: (f64, f64),
    /// What it covers across the wall, as the frame does; square to what is flat.
    pub across: Span,
    /// Its boards, from the start of the wall to its end, from the floor up.
    pub pieces: Vec<Piece>,
    /// Its joints.
    pub joints: Vec<Joint>,
}

/// One board, cut to shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its number on its face, from 1.
    pub number: usize,
    /// Its shape on the face.
    pub shape: Shape,
    /// What it is cut from: across the sheet and along it, mm.
    pub blank: (f64, f64),
}

/// Where two boards of a layer meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// What it covers along the wall: nothing when it is upright.
    pub along: Span,
    /// What it covers in height: nothing when it is level.
    pub heights: Span,
    /// How much of it has no timber behind both edges, mm.
    pub bare: f64,
    /// True when it is nearer the line of an opening's corner than boards should be joined.
    pub at_corner: bool,
}

impl<F> Layer<F> {
    /// True when the whole sheet is used for a piece.
    pub fn is_whole(&self, piece: &Piece) -> bool {
        (piece.blank.0 - self.sheet.0).abs() < SAME && (piece.blank.1 - self.sheet.1).abs() < SAME
    }

    /// Mass of a piece, kg.
    pub fn mass(&self, piece: &Piece) -> f64 {
        piece.shape.area() / 1e6 * mass_of(&self.board)
    }

    /// Mass of a whole sheet, kg.
    pub fn sheet_mass(&self) -> f64 {
        self.sheet.0 * self.sheet.1 / 1e6 * mass_of(&self.board)
    }

    /// Area of its boards, mm².
    pub fn area(&self) -> f64 {
        self.pieces.iter().map(|p| p.shape.area()).sum()
    }
}

/// Boards a wall.
pub fn board(spec: &WallSpec, frame: &Frame) -> Boarding {
    let mut layers: Vec<Layer> = Vec::new();
    if frame.members.is_empty() {
        return Boarding::default();
    }
    for face in [Face::Right, Face::Left] {
        let finish = match face {
            Face::Left => &spec.makeup.left,
            Face::Right => &spec.makeup.right,
        };
        let backing = Backing::of(spec, frame, face);
        let mut number = 0;
        for (index, board) in finish.boards.iter().enumerate() {
            let layer = Laid { spec, face, board, index, backing: &backing, done: &layers };
            layers.push(layer.lay(finish.floor_gap, &mut number));
        }
    }
    Boarding { layers, strips: strips::strips(spec, frame) }
}

/// What timber bears of either edge at a joint: as much as is wanted, what a bound edge does with, or nothing. `bare` says how
/// much of the joint has none behind it when each edge is to have so much.
fn bearing(bare: impl Fn(f64) -> f64) -> f64 {
    let carries = |half: &f64| bare(*half) <= BARE;
    [EDGE_BEARING, BOUND_EDGE].into_iter().find(carries).unwrap_or(0.0)
}

/// A layer being laid.
struct Laid<'a> {
    spec: &'a WallSpec,
    face: Face,
    board: &'a Board,
    index: usize,
    backing: &'a Backing,
    /// The layers that are up.
    done: &'a [Layer],
}

impl Laid<'_> {
    fn lay(&self, gap: f64, number: &mut usize) -> Layer {
        let spec = self.spec;
        let sheet = sheet_of(self.board, spec.centres);
        let mut layer = Layer {
            face: self.face,
            layer: self.index,
            board: self.board.clone(),
            sheet,
            across: self.across(),
            pieces: Vec::new(),
            joints: Vec::new(),
        };
        for run in &spec.faces[side(self.face)] {
            let Some(&along) = run.layers.get(self.index) else { continue };
            let Some(rise) = Rise::of(spec, self.board, gap, along) else { continue };
            match self.board.lay {
                Lay::Upright => self.upright(along, &rise, sheet.0, &mut layer),
                Lay::Across => self.lying(along, &rise, sheet.1, &mut layer),
            }
        }
        for piece in &mut layer.pieces {
            *number += 1;
            piece.number = *number;
        }
        layer
    }

    /// What the layer covers across the wall.
    fn across(&self) -> Span {
        let thickness = |l: &&Layer| (l.face == self.face).then_some(l.board.thickness);
        let under: f64 = self.done.iter().filter_map(|l| thickness(&l)).sum();
        let (frame, t) = (self.spec.frame, self.board.thickness);
        match self.face {
            Face::Left => Span::from(frame.high + under, t),
            Face::Right => Span { low: frame.low - under - t, high: frame.low - under },
        }
    }

    /// Columns of boards as wide as a sheet; where the wall is higher than a sheet is long, joined from the floor up
    /// and from the head down in turn.
    fn upright(&self, along: Span, rise: &Rise, width: f64, layer: &mut Layer) {
        let below = self.joints_of(|l| l.face == self.face);
        let whole = rise.whole;
        let joints = self.band(along, whole, width, &below, &[], layer);
        for (i, column) in cells(along, &joints).into_iter().enumerate() {
            let top = self.spec.head.range(column).high.min(whole.high);
            let own = Span { low: whole.low, high: top };
            let cuts = rise.column(i, top);
            for &height in &cuts {
                self.level_joint(column, height, layer);
            }
            for part in cells(own, &cuts) {
                self.put(column, part, layer);
            }
        }
    }

    /// Bands of boards as high as a sheet is wide, from the floor up.
    fn lying(&self, along: Span, rise: &Rise, length: f64, layer: &mut Layer) {
        let (whole, heights) = (rise.whole, rise.up_from_floor());
        let under = self.joints_of(|l| l.face == self.face);
        let mut below: Vec<f64> = Vec::new();
        for (i, band) in cells(whole, &heights).into_iter().enumerate() {
            if i > 0 {
                self.level_joint(along, band.low, layer);
            }
            let joints = self.band(along, band, length, &under, &below, layer);
            for column in cells(along, &joints) {
                self.put(column, band, layer);
            }
            below = joints;
        }
    }

    /// Stations of the upright joints of the layers that are up.
    fn joints_of(&self, which: impl Fn(&Layer) -> bool) -> Vec<f64> {
        let joints = self.done.iter().filter(|l| which(l)).flat_map(|l| &l.joints);
        joints.filter(|j| j.along.length() < SAME).map(|j| j.along.low).collect()
    }

    /// Chooses the upright joints of a band.
    fn band(
        &self,
        along: Span,
        heights: Span,
        step: f64,
        under: &[f64],
        below: &[f64],
        layer: &mut Layer,
    ) -> Vec<f64> {
        let spec = self.spec;
        let corners: Vec<f64> = spec
            .holes
            .iter()
            .filter(|h| {
                let inside = |z: f64| heights.low + SAME < z && z < heights.high - SAME;
                inside(h.top) || h.sill.is_some_and(inside)
            })
            .flat_map(|h| [h.doorway().low, h.doorway().high])
            .collect();
        let bearing = |at: f64| bearing(|half| self.bare_at(at, heights, half));
        let grid = board_joints(spec, WallEnd::Start);
        let joints = Band {
            along,
            step,
            middles: &self.backing.middles(along, 100.0),
            bearing: &bearing,
            corners: &corners,
            under: &[under, below].concat(),
            other: &self.joints_of(|l| l.face != self.face),
            grid: &grid,
        }
        .joints();
        for &at in &joints {
            let near = |c: &f64| (c - at).abs() < joints::OFF_CORNER - SAME;
            for stretch in self.on_board(at, heights) {
                layer.joints.push(Joint {
                    along: Span { low: at, high: at },
                    heights: stretch,
                    bare: self.backing.bare(Span::about(at, 2.0 * BOUND_EDGE), &[stretch]),
                    at_corner: corners.iter().any(near),
                });
            }
        }
        joints
    }

    /// How much of an upright joint has no timber for `half` each side, mm.
    fn bare_at(&self, at: f64, heights: Span, half: f64) -> f64 {
        self.backing.bare(Span::about(at, 2.0 * half), &self.on_board(at, heights))
    }

    /// What of `heights` is board at a station: under the head, and not in an opening.
    fn on_board(&self, at: f64, heights: Span) -> Vec<Span> {
        let head = &self.spec.head;
        let top = head.at(at).min(head.before(at)).min(heights.high);
        let holes: Vec<Span> = self
            .spec
            .holes
            .iter()
            .filter(|h| h.doorway().contains(at))
            .map(|h| Span { low: h.sill.unwrap_or(f64::NEG_INFINITY), high: h.top })
            .collect();
        if top - heights.low < SAME {
            return Vec::new();
        }
        let mut parts = Span { low: heights.low, high: top }.without(&holes);
        parts.retain(|p| p.length() > SAME);
        parts
    }

    /// Notes a level joint.
    fn level_joint(&self, along: Span, height: f64, layer: &mut Layer) {
        let inside =
            |h: &&Hole| h.top > height + SAME && h.sill.is_none_or(|sill| sill < height - SAME);
        let holes: Vec<Span> = self.spec.holes.iter().filter(inside).map(Hole::doorway).collect();
        let above = |s: f64| self.spec.head.at(s).min(self.spec.head.before(s)) > height + SAME;
        for along in along.without(&holes) {
            if along.length() < TRIMMED || !(above(along.low) && above(along.high)) {
                continue;
            }
            let bare = self.backing.bare_along(height, along, BOUND_EDGE);
            layer.joints.push(Joint {
                along,
                heights: Span { low: height, high: height },
                bare: bare.iter().map(|s| s.length()).sum(),
                at_corner: false,
            });
        }
    }

    /// Puts up what is left of a cell.
    fn put(&self, along: Span, heights: Span, layer: &mut Layer) {
        let holes: Vec<(Span, Span)> = self
            .spec
            .holes
            .iter()
            .map(|h| {
                let low = h.sill.unwrap_or(heights.low.min(0.0) - 100.0);
                (h.doorway(), Span { low, high: h.top })
            })
            .collect();
        for shape in shapes::shapes(along, heights, &self.spec.head, &holes) {
            let (s, z) = (shape.stations().length(), shape.heights().length());
            let blank = match self.board.lay {
                Lay::Upright => (s, z),
                Lay::Across => (z, s),
            };
            layer.pieces.push(Piece { number: 0, shape, blank });
        }
    }
}

/// What cuts leave of a span, in order.
fn cells(span: Span, cuts: &[f64]) -> Vec<Span> {
    let mut from = span.low;
    let mut cells = Vec::with_capacity(cuts.len() + 1);
    for &cut in cuts.iter().chain([&span.high]) {
        if cut - from > SAME {
            cells.push(Span { low: from, high: cut });
        }
        from = cut;
    }
    cells
}
