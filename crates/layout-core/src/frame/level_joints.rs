//! Where the boards of a wall are joined level: found from sheet, lay and heights alone, so that noggins can lie there
//! before the boards are up.

use crate::document::{Board, Face, Lay};
use crate::math::SAME;
use crate::resolve::{WallSpec, board_width, side};
use crate::span::Span;

/// Boards may stand so much higher off the floor than they should: a skirting covers it, mm. Common practice.
pub const LIFT: f64 = 40.0;
/// More joints one over another are not looked for.
const MOST: f64 = 100.0;

/// Width and length of the sheets of a board in a wall, mm: those it says, or 1200 × 2400, or 4 × 8 ft where the
/// studs suit those.
pub fn sheet_of(board: &Board, centres: f64) -> (f64, f64) {
    board.sheet.unwrap_or_else(|| {
        let width = board_width(centres);
        (width, 2.0 * width)
    })
}

/// How a layer of boards rises from the floor to the head over one run of a face.
pub(crate) struct Rise {
    /// From the lowest board's bottom edge to where the head is highest.
    pub(crate) whole: Span,
    lay: Lay,
    /// What one board reaches up the wall.
    reach: f64,
    /// True when columns of upright boards start at the floor and at the head in turn.
    turns: bool,
}

impl Rise {
    /// Boards over `along`, `gap` above the finished floor; `None` where there is no room for any.
    pub(crate) fn of(spec: &WallSpec, board: &Board, gap: f64, along: Span) -> Option<Rise> {
        let sheet = sheet_of(board, spec.centres);
        let bottom = gap.max(spec.bed.range(along).low);
        let head = spec.head.range(along);
        let high = head.high;
        // Boards that are a little short stand higher off the floor, rather than be pieced out with a strip.
        let short = high - bottom - sheet.1;
        let lifts = board.lay == Lay::Upright && (0.0..=LIFT).contains(&short);
        let whole = Span { low: if lifts { bottom + short } else { bottom }, high };
        let reach = if board.lay == Lay::Across { sheet.0 } else { sheet.1 };
        let is_there = whole.length() >= SAME && along.length() >= SAME;
        let turns = head.length() < SAME;
        is_there.then_some(Rise { whole, lay: board.lay, reach, turns })
    }

    /// Heights of the joints of the bands of boards laid across, or of upright boards that start at the floor.
    pub(crate) fn up_from_floor(&self) -> Vec<f64> {
        self.steps(self.whole.length()).map(|step| self.whole.low + step).collect()
    }

    /// Heights of the joints of upright boards that start at the head.
    fn down_from_head(&self) -> Vec<f64> {
        self.steps(self.whole.length()).map(|step| self.whole.high - step).collect()
    }

    fn steps(&self, length: f64) -> impl Iterator<Item = f64> + '_ {
        let count = ((length - SAME) / self.reach).floor().clamp(0.0, MOST) as usize;
        (1..=count).map(|k| k as f64 * self.reach)
    }

    /// Heights at which the `i`th column of upright boards is joined, of which the head is at `top`. Under a level
    /// head columns start at the floor and at the head in turn, so that their joints are not in line; under a rake,
    /// where only some are higher than a board, all of them at the floor.
    pub(crate) fn column(&self, i: usize, top: f64) -> Vec<f64> {
        let own = Span { low: self.whole.low, high: top };
        let mut heights =
            if self.turns && i % 2 == 1 { self.down_from_head() } else { self.up_from_floor() };
        heights.retain(|z| own.grown(-SAME).contains(*z));
        heights.sort_by(f64::total_cmp);
        heights
    }

    /// Every height at which boards may be joined over `along`, and over what stretch.
    fn joints(&self, spec: &WallSpec, along: Span, width: f64) -> Vec<(f64, Span)> {
        if self.lay == Lay::Across {
            return self.up_from_floor().into_iter().map(|z| (z, along)).collect();
        }
        // Only where the wall is higher than a board, and as far as a board there may reach.
        let least = self.whole.low + self.reach + SAME;
        let high = spec.head.stretches(along).into_iter().filter_map(|s| {
            let (from, to) = (s.from > least, s.to > least);
            let share = (least - s.from) / (s.to - s.from);
            let crossed = s.span.low + s.span.length() * share;
            match (from, to) {
                (true, true) => Some(s.span),
                (true, false) => Some(Span { low: s.span.low, high: crossed }),
                (false, true) => Some(Span { low: crossed, high: s.span.high }),
                (false, false) => None,
            }
        });
        let Some(over) = high.reduce(Span::hull) else { return Vec::new() };
        let over = over.grown(width).intersection(along);
        let mut heights = self.up_from_floor();
        if self.turns {
            heights.extend(self.down_from_head());
        }
        heights.into_iter().map(|z| (z, over)).collect()
    }
}

/// A height at which the boards on the frame are joined.
pub(super) struct LevelJoint {
    pub(super) height: f64,
    /// From where to where there may be such a joint.
    pub(super) along: Span,
    /// Whether the boards of the right and of the left face are.
    pub(super) faces: [bool; 2],
}

/// The level joints of the layers on the frame, from the floor up: what is fixed to it.
pub(super) fn level_joints(spec: &WallSpec) -> Vec<LevelJoint> {
    let mut list: Vec<LevelJoint> = Vec::new();
    for (face, finish) in [(Face::Right, &spec.makeup.right), (Face::Left, &spec.makeup.left)] {
        let Some(board) = finish.boards.first() else { continue };
        let width = sheet_of(board, spec.centres).0;
        for run in &spec.faces[side(face)] {
            let Some(&along) = run.layers.first() else { continue };
            let Some(rise) = Rise::of(spec, board, finish.floor_gap, along) else { continue };
            for (height, along) in rise.joints(spec, along, width) {
                let known = list.iter_mut().find(|j| (j.height - height).abs() < SAME);
                match known {
                    Some(joint) => {
                        joint.along = joint.along.hull(along);
                        joint.faces[side(face)] = true;
                    }
                    None => {
                        let mut faces = [false; 2];
                        faces[side(face)] = true;
                        list.push(LevelJoint { height, along, faces });
                    }
                }
            }
        }
    }
    list.sort_by(|a, b| a.height.total_cmp(&b.height));
    list
}
