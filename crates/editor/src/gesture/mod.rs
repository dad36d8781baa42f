//! A drag under way: it remembers where it began, and each frame says which edit it amounts to.
//!
//! The job never changes during a drag. The edit is worked out from the job the drag began on and
//! the whole movement since, so nothing drifts, and giving the drag back is forgetting it.
//! Placing something new is a drag too: it hangs on the hand until it is let go.

mod grip;
mod snap;
#[cfg(test)]
mod tests;

use layout_core::document::{
    Corner, Edit, Face, Fitting, Head, Hold, HoldTo, Job, Node, OpeningKind, Point, Rows, WallEnd,
};
use layout_core::id::{ItemRef, Name};
use layout_core::math::{PlanPoint, PlanVector, left_of, round_to};
use layout_core::units;

pub use grip::{Grip, Space};
pub use snap::{Snap, Snapping};

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
}

impl Gesture {
    /// A drag that has just begun.
    pub fn new(grip: Grip, space: Space, from: PlanPoint) -> Gesture {
        Gesture { grip, space, from, now: from, snap: None, typed: String::new() }
    }

    /// The lengths typed so far, mm; empty while they cannot be read.
    pub fn numbers(&self) -> Vec<f64> {
        if self.typed.trim().is_empty() {
            return Vec::new();
        }
        self.typed.split(',').map(units::read_length).collect::<Result<_, _>>().unwrap_or_default()
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

    /// How far the hand has moved along `wall`, mm.
    fn along(&self, base: &Job, wall: &Name) -> f64 {
        match self.space {
            Space::Elevation => self.shift().x,
            Space::Plan => line_of(base, wall).map_or(0.0, |(_, u, _)| self.shift().dot(&u)),
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
            Grip::NewWall(wall) => {
                let to = self.carried(self.from, base);
                ((to - self.from).norm() >= LEAST_DRAWN).then(|| Edit::AddWall {
                    wall: wall.clone(),
                    from: self.from,
                    to,
                })
            }
            Grip::NewRoom(corners) => self.outline(corners, base).map(Edit::SetOutline),
            _ => self.edit_in_wall(base),
        }
    }

    fn edit_in_wall(&self, base: &Job) -> Option<Edit> {
        match &self.grip {
            Grip::Opening(name) => {
                let (wall, opening) = base.opening(name)?;
                let (_, _, length) = line_of(base, &wall.name)?;
                let width = opening.kind.width();
                let left = opening.hold.left_edge(width, length) + self.along(base, &wall.name);
                let held = opening.hold.with_left_edge(left, width, length);
                let distance = self
                    .numbers()
                    .first()
                    .copied()
                    .unwrap_or_else(|| round_to(held.distance, 0.01));
                Some(Edit::MoveOpening { opening: name.clone(), distance })
            }
            Grip::Sill(name) | Grip::Top(name) => {
                let (wall, opening) = base.opening(name)?;
                let mut opening = opening.clone();
                let top = matches!(self.grip, Grip::Top(_));
                match &mut opening.kind {
                    OpeningKind::BorrowedLight { height, sill, .. }
                    | OpeningKind::Hatch { height, sill, .. } => {
                        let old_top = *sill + *height;
                        if top {
                            *height = (self.height(old_top) - *sill).max(LEAST_DRAWN);
                        } else {
                            *sill = self.height(*sill).clamp(0.0, old_top - LEAST_DRAWN);
                            *height = old_top - *sill;
                        }
                    }
                    OpeningKind::Plain { height, .. } if top => {
                        *height = self.height(*height).max(LEAST_DRAWN)
                    }
                    OpeningKind::Plain { .. } | OpeningKind::Door(_) => return None,
                }
                Some(Edit::PutOpening { wall: wall.name.clone(), opening })
            }
            Grip::Row { wall, row, heights } => {
                let mut rows = heights.clone();
                let moved = rows.get_mut(*row)?;
                *moved = self.height(*moved);
                rows.sort_by(f64::total_cmp);
                Some(Edit::SetRows { wall: wall.clone(), rows: Some(Rows::At(rows)) })
            }
            Grip::Head { wall, height } => {
                let mut changed = layout_core::document::Wall::clone(base.wall(wall)?);
                changed.head = Some(Head::Free { height: self.height(*height).max(LEAST_DRAWN) });
                Some(Edit::PutWall(changed.into()))
            }
            Grip::Point(name) => {
                let (wall, point) = base.point(name)?;
                Some(Edit::PutPoint {
                    wall: wall.name.clone(),
                    point: self.carried_point(base, &wall.name, point),
                })
            }
            Grip::Fitting(name) => {
                let (wall, fitting) = base.fitting(name)?;
                let fitting = self.carried_fitting(base, &wall.name, fitting);
                Some(Edit::PutFitting { wall: wall.name.clone(), fitting })
            }
            Grip::NewOpening { wall, opening } => {
                let (_, _, length) = line_of(base, wall)?;
                let width = opening.kind.width();
                let hold = Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 0.0 };
                let left = self.station(base, wall)? - width / 2.0;
                let held = hold.with_left_edge(left, width, length);
                let distance = self
                    .numbers()
                    .first()
                    .copied()
                    .unwrap_or_else(|| round_to(held.distance, 0.01));
                let opening = layout_core::document::Opening {
                    hold: Hold { distance, ..hold },
                    ..opening.clone()
                };
                Some(Edit::PutOpening { wall: wall.clone(), opening })
            }
            Grip::NewPoint { wall, point } => {
                let mut point = point.clone();
                point.distance = round_to(self.station(base, wall)?, 0.01);
                if self.space == Space::Elevation {
                    point.height = round_to(self.now.y, 0.01);
                }
                point.from = WallEnd::Start;
                (point.distance, point.height) = self.typed_place(point.distance, point.height);
                Some(Edit::PutPoint { wall: wall.clone(), point })
            }
            Grip::NewFitting { wall, fitting } => {
                let mut fitting = fitting.clone();
                fitting.distance = round_to(self.station(base, wall)?, 0.01);
                fitting.from = WallEnd::Start;
                let rise = match self.space {
                    Space::Elevation => round_to(self.now.y, 0.01) - fitting.bottom,
                    Space::Plan => 0.0,
                };
                let (distance, bottom) = self.typed_place(fitting.distance, fitting.bottom + rise);
                fitting.distance = distance;
                raise(&mut fitting, bottom);
                Some(Edit::PutFitting { wall: wall.clone(), fitting })
            }
            _ => None,
        }
    }

    /// Station of the hand along `wall`, mm.
    fn station(&self, base: &Job, wall: &Name) -> Option<f64> {
        match self.space {
            Space::Elevation => Some(self.now.x),
            Space::Plan => line_of(base, wall).map(|(a, u, _)| (self.now - a).dot(&u)),
        }
    }

    /// Distance and height with what was typed in their place: one number is the distance when
    /// the hand moved mostly along the wall, else the height; two are both.
    fn typed_place(&self, distance: f64, height: f64) -> (f64, f64) {
        let upwards = self.space == Space::Elevation && self.shift().y.abs() > self.shift().x.abs();
        match self.numbers()[..] {
            [] => (distance, height),
            [h] if upwards => (distance, h),
            [d] => (d, height),
            [d, h, ..] => (d, h),
        }
    }

    fn carried_point(&self, base: &Job, wall: &Name, point: &Point) -> Point {
        let mut point = point.clone();
        let along = self.along(base, wall) * towards(point.from);
        let rise = if self.space == Space::Elevation { self.shift().y } else { 0.0 };
        let place = (round_to(point.distance + along, 0.01), round_to(point.height + rise, 0.01));
        (point.distance, point.height) = self.typed_place(place.0, place.1);
        point
    }

    fn carried_fitting(&self, base: &Job, wall: &Name, fitting: &Fitting) -> Fitting {
        let mut fitting = fitting.clone();
        let along = self.along(base, wall) * towards(fitting.from);
        let rise = if self.space == Space::Elevation { self.shift().y } else { 0.0 };
        let place =
            (round_to(fitting.distance + along, 0.01), round_to(fitting.bottom + rise, 0.01));
        let (distance, bottom) = self.typed_place(place.0, place.1);
        fitting.distance = distance;
        raise(&mut fitting, bottom);
        fitting
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

    /// What the hand is at, in figures: the distance that holds an opening, a height, a length.
    pub fn reading(&self, base: &Job) -> String {
        let mm = units::mm;
        let figures = |p: PlanPoint| {
            let d = p - base.datum.at;
            format!("x {}  y {}", mm(d.x), mm(d.y))
        };
        match (&self.grip, self.edit(base)) {
            (Grip::NewRoom(_), _) => mm((self.carried(self.from, base) - self.from).norm()),
            (_, None) => String::new(),
            (_, Some(edit)) => match edit {
                Edit::MoveOpening { distance, .. } => mm(distance),
                Edit::PutOpening { opening, .. } => match self.grip {
                    Grip::Sill(_) => mm(opening.kind.sill().unwrap_or(0.0)),
                    Grip::Top(_) => mm(opening.kind.top()),
                    _ => mm(opening.hold.distance),
                },
                Edit::SetRows { rows: Some(Rows::At(_)), .. } => match &self.grip {
                    Grip::Row { row, heights, .. } => mm(self.height(heights[*row])),
                    _ => String::new(),
                },
                Edit::PutWall(_) => match &self.grip {
                    Grip::Head { height, .. } => mm(self.height(*height)),
                    _ => String::new(),
                },
                Edit::MoveWall { by, .. } | Edit::MoveSide { by, .. } => mm(by.abs()),
                Edit::PutNode(node) => figures(node.at),
                Edit::MoveCorner { to, .. } => figures(to),
                Edit::PutPost(post) => figures(post.at),
                Edit::SetDatum(_) | Edit::PutRoom(_) => mm(self.shift().norm()),
                Edit::PutBeam(beam) => mm((beam.to - beam.from).norm()),
                Edit::AddWall { from, to, .. } => mm((to - from).norm()),
                Edit::PutPoint { point, .. } => {
                    format!("{} · {} up", mm(point.distance), mm(point.height))
                }
                Edit::PutFitting { fitting, .. } => {
                    format!("{} · {} up", mm(fitting.distance), mm(fitting.bottom))
                }
                _ => String::new(),
            },
        }
    }

    /// How far it has moved from where it started, in words: “+60 mm”. Empty for what is new.
    pub fn moved(&self, base: &Job) -> String {
        let signed = |by: f64| {
            let sign = if by > 0.05 { "+" } else { "" };
            format!("{sign}{} mm", units::mm(by))
        };
        match (&self.grip, self.edit(base)) {
            (grip, _) if grip.is_new() => String::new(),
            (Grip::Opening(name), Some(Edit::MoveOpening { distance, .. })) => base
                .opening(name)
                .map(|(_, o)| signed(distance - o.hold.distance))
                .unwrap_or_default(),
            (Grip::Sill(_) | Grip::Top(_) | Grip::Row { .. } | Grip::Head { .. }, _) => signed(
                self.height(0.0) - self.numbers().first().map_or(0.0, |_| self.started_at(base)),
            ),
            (
                Grip::Wall(_) | Grip::Side(_),
                Some(Edit::MoveWall { by, .. } | Edit::MoveSide { by, .. }),
            ) => signed(by.abs()),
            (_, Some(edit)) => {
                let moved = self.begun_at(base).zip(placed_at(&edit)).map(|(a, b)| (b - a).norm());
                format!("{} mm", units::mm(moved.unwrap_or_else(|| self.shift().norm())))
            }
            (_, None) => String::new(),
        }
    }

    /// Where the point in the hand began.
    fn begun_at(&self, base: &Job) -> Option<PlanPoint> {
        match &self.grip {
            Grip::Node(name) => base.node(name).map(|n| n.at),
            Grip::Corner(i) => base.shell.outline.get(*i).map(|c| c.at),
            Grip::Post(name) => base.shell.posts.iter().find(|p| p.name == *name).map(|p| p.at),
            Grip::Beam(name) => base.shell.beams.iter().find(|b| b.name == *name).map(|b| b.from),
            Grip::Datum => Some(base.datum.at),
            _ => None,
        }
    }

    /// The height at which something that goes up and down began.
    fn started_at(&self, base: &Job) -> f64 {
        match &self.grip {
            Grip::Sill(name) => base.opening(name).and_then(|(_, o)| o.kind.sill()).unwrap_or(0.0),
            Grip::Top(name) => base.opening(name).map_or(0.0, |(_, o)| o.kind.top()),
            Grip::Row { row, heights, .. } => heights.get(*row).copied().unwrap_or(0.0),
            Grip::Head { height, .. } => *height,
            _ => 0.0,
        }
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

fn towards(end: WallEnd) -> f64 {
    match end {
        WallEnd::Start => 1.0,
        WallEnd::End => -1.0,
    }
}

/// Raises a fitting, with its fixings, so that its underside is at `bottom`.
fn raise(fitting: &mut Fitting, bottom: f64) {
    let by = bottom - fitting.bottom;
    fitting.bottom += by;
    fitting.top += by;
    for fixing in &mut fitting.fixings {
        *fixing += by;
    }
}

/// Where an edit puts the point it moves.
fn placed_at(edit: &Edit) -> Option<PlanPoint> {
    match edit {
        Edit::PutNode(node) => Some(node.at),
        Edit::MoveCorner { to, .. } => Some(*to),
        Edit::PutPost(post) => Some(post.at),
        Edit::PutBeam(beam) => Some(beam.from),
        Edit::SetDatum(datum) => Some(datum.at),
        _ => None,
    }
}

fn tidy(p: PlanPoint) -> PlanPoint {
    PlanPoint::new(round_to(p.x, 0.01), round_to(p.y, 0.01))
}

/// The face seen by someone standing at `p`, `n` to the left of the wall's line.
pub fn face_at(n: f64) -> Face {
    if n > 0.0 { Face::Left } else { Face::Right }
}
