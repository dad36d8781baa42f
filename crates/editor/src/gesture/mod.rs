//! A drag under way: it remembers where it began, and each frame says which edit it amounts to.
//!
//! The job never changes during a drag. The edit is worked out from the job the drag began on and
//! the whole movement since, so nothing drifts, and giving the drag back is forgetting it.
//! Placing something new is a drag too: it hangs on the hand until it is let go.

mod grip;
mod in_wall;
mod platform;
mod reading;
mod snap;
mod words;
#[cfg(test)]
mod tests;

use layout_core::document::{Corner, Edit, Face, Job, Node, RoofPlane};
use layout_core::id::{ItemRef, Name};
use layout_core::math::{PlanPoint, PlanVector, left_of, round_to};
use layout_core::units::Units;

pub use grip::{Grip, Space};
pub use snap::{Settled, Snap, Snapping};

/// A drag under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Gesture {
    /// What the hand holds.
    pub grip: Grip,
    /// Whether the points below are of the plan or of the elevation.
    pub space: Space,
    /// Where the drag began: a plan point, or station and height in the elevation; mm.
    pub from: PlanPoint,
    /// Where the hand is, after snapping.
    pub now: PlanPoint,
    /// What the hand has snapped to.
    pub snap: Option<Snap>,
    /// The number typed during the drag, which wins over the hand.
    pub typed: String,
    /// What a number typed without a unit is in.
    pub units: Units,
}

impl Gesture {
    /// A drag that has just begun.
    pub fn new(grip: Grip, space: Space, from: PlanPoint) -> Gesture {
        Gesture {
            grip,
            space,
            from,
            now: from,
            snap: None,
            typed: String::new(),
            units: Units::default(),
        }
    }

    /// The lengths typed so far, mm; empty while they cannot be read.
    pub fn numbers(&self) -> Vec<f64> {
        if self.typed.trim().is_empty() {
            return Vec::new();
        }
        self.typed
            .split(',')
            .map(|text| self.units.read(text))
            .collect::<Result<_, _>>()
            .unwrap_or_default()
    }

    /// How far the hand has moved, mm.
    pub fn shift(&self) -> PlanVector {
        self.now - self.from
    }

    /// A number that can be read wins over the hand, and over what the hand had snapped to.
    pub fn forget_snap_when_typed(&mut self) {
        if !self.numbers().is_empty() {
            self.snap = None;
        }
    }

    /// Where a point that began at `origin` is now. One typed number is a distance towards the
    /// hand, two are x and y from the datum.
    pub fn carried(&self, origin: PlanPoint, base: &Job) -> PlanPoint {
        match self.numbers()[..] {
            [distance] => origin + direction(self.shift()) * distance,
            [x, y, ..] => base.datum.at + PlanVector::new(x, y),
            [] => tidy(origin + self.shift()),
        }
    }

    /// How far a line along `along` has moved to its left. A typed number goes to the side the hand is on.
    fn sideways(&self, along: PlanVector) -> f64 {
        let hand = self.shift().dot(&left_of(along));
        match self.numbers().first() {
            Some(typed) if hand < 0.0 => -typed,
            Some(typed) => *typed,
            None => round_to(hand, 0.01),
        }
    }

    /// The new height of something that was at `height`, mm above FFL.
    fn height(&self, height: f64) -> f64 {
        self.numbers().first().copied().unwrap_or_else(|| round_to(height + self.shift().y, 0.01))
    }

    /// The edit this drag amounts to, worked out from the job it began on.
    pub fn edit(&self, base: &Job) -> Option<Edit> {
        match &self.grip {
            Grip::Node(name) => {
                let node = base.node(name)?;
                Some(Edit::PutNode(Node { name: name.clone(), at: self.carried(node.at, base) }))
            }
            Grip::Wall(name) => {
                let (_, u, _) = line_of(base, name)?;
                Some(Edit::MoveWall { wall: name.clone(), by: self.sideways(u) })
            }
            Grip::Corner(corner) => {
                let at = base.shell.outline.get(*corner)?.at;
                Some(Edit::MoveCorner { corner: *corner, to: self.carried(at, base) })
            }
            Grip::Side(side) => {
                let (a, b) = base.shell.sides().nth(*side)?;
                Some(Edit::MoveSide { side: *side, by: self.sideways(direction(b - a)) })
            }
            Grip::Datum => {
                let mut datum = base.datum.clone();
                datum.at = self.carried(datum.at, base);
                Some(Edit::SetDatum(datum))
            }
            Grip::Underlay(held) => {
                let by = self.carried(*held, base) - held;
                Some(Edit::SetUnderlay(Some(base.underlay.as_ref()?.moved(by))))
            }
            Grip::Room(name) => {
                let mut room = base.rooms.iter().find(|r| r.name == *name)?.clone();
                room.at = self.carried(room.at, base);
                Some(Edit::PutRoom(room))
            }
            Grip::Post(name) => {
                let mut post = base.shell.posts.iter().find(|p| p.name == *name)?.clone();
                post.at = self.carried(post.at, base);
                Some(Edit::PutPost(post))
            }
            Grip::Beam(name) => {
                let mut beam = base.shell.beams.iter().find(|b| b.name == *name)?.clone();
                let shift = self.carried(beam.from, base) - beam.from;
                beam.from += shift;
                beam.to += shift;
                Some(Edit::PutBeam(beam))
            }
            Grip::Roof(name) => {
                let mut roof = base.shell.roof.iter().find(|r| r.name == *name)?.clone();
                let shift = self.carried(roof.from, base) - roof.from;
                for p in [&mut roof.from, &mut roof.to].into_iter().chain(&mut roof.over) {
                    *p += shift;
                }
                Some(Edit::PutRoof(roof))
            }
            Grip::NewPost(post) => {
                let mut post = post.clone();
                post.at = self.carried(self.from, base);
                Some(Edit::PutPost(post))
            }
            Grip::NewBeam(beam) => {
                let mut beam = beam.clone();
                beam.from = self.from;
                beam.to = self.carried(self.from, base);
                ((beam.to - beam.from).norm() >= LEAST_DRAWN).then_some(Edit::PutBeam(beam))
            }
            Grip::NewRoof(roof) => {
                let (from, to) = (self.from, self.carried(self.from, base));
                let roof = RoofPlane { from, to, ..roof.clone() };
                ((to - from).norm() >= LEAST_DRAWN).then_some(Edit::PutRoof(roof))
            }
            Grip::NewWall(wall) => {
                let to = self.carried(self.from, base);
                ((to - self.from).norm() >= LEAST_DRAWN).then(|| Edit::AddWall {
                    wall: wall.clone(),
                    from: self.from,
                    to,
                })
            }
            Grip::NewRoom(corners) => self.outline(corners, base).map(Edit::SetOutline),
            _ => self
                .edit_platform(base)
                .or_else(|| self.edit_reading(base))
                .or_else(|| self.edit_in_wall(base)),
        }
    }

    /// The room with the corner in the hand, anticlockwise; `None` before there are three corners.
    fn outline(&self, corners: &[PlanPoint], base: &Job) -> Option<Vec<Corner>> {
        let mut points = corners.to_vec();
        let hand = self.carried(self.from, base);
        if points.iter().all(|p| (p - hand).norm() >= LEAST_DRAWN) {
            points.push(hand);
        }
        outline_through(&points)
    }

    /// What the hand holds, when it is already in the job.
    pub fn item(&self) -> Option<ItemRef> {
        self.grip.item()
    }
}

/// Nothing shorter is drawn, mm: a click that trembled.
pub const LEAST_DRAWN: f64 = 20.0;

/// A room through `points`, turned anticlockwise, with walls of the usual thickness; `None` below three.
pub fn outline_through(points: &[PlanPoint]) -> Option<Vec<Corner>> {
    if points.len() < 3 {
        return None;
    }
    let n = points.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % n]);
            a.x * b.y - b.x * a.y
        })
        .sum();
    let corner = |p: &PlanPoint| Corner { at: *p, thickness: 140.0, gaps: Vec::new() };
    Some(if twice < 0.0 {
        points.iter().rev().map(corner).collect()
    } else {
        points.iter().map(corner).collect()
    })
}

/// Start, unit direction and length of a wall's line; `None` for a wall with no length.
pub fn line_of(job: &Job, wall: &Name) -> Option<(PlanPoint, PlanVector, f64)> {
    let wall = job.wall(wall)?;
    let (a, b) = (job.node(&wall.from)?.at, job.node(&wall.to)?.at);
    let length = (b - a).norm();
    (length > 1.0).then(|| (a, (b - a) / length, length))
}

/// Unit vector of `v`; along x when it has no length.
pub fn direction(v: PlanVector) -> PlanVector {
    v.try_normalize(1e-9).unwrap_or_else(|| PlanVector::new(1.0, 0.0))
}

fn tidy(p: PlanPoint) -> PlanPoint {
    PlanPoint::new(round_to(p.x, 0.01), round_to(p.y, 0.01))
}

/// The face seen by someone standing at `p`, `n` to the left of the wall's line.
pub fn face_at(n: f64) -> Face {
    if n > 0.0 { Face::Left } else { Face::Right }
}
