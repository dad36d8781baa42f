//! What already stands, as far as it is known: the walls of the room with their doors and windows, its floor, the
//! soffits over it, posts and beams.
//!
//! Of a soffit only its underside is known, of a door or window in an existing wall only its sides and its sill: neither is
//! given a thickness or a head here.

use crate::boards::{FacePoint, Shape, area_of, common, less};
use crate::document::{Beam, Job, Post, RoofPlane, Shell};
use crate::id::Name;
use crate::math::{PlanPoint, PlanVector, SAME, is_place, left_of, left_part, meet};
use crate::profile::{Profile, Stretch};
pub use crate::resolve::post_outline;
use crate::resolve::{Place, soffit};
use crate::span::Span;

/// How far inside the room one looks up beside a wall, mm: what ends at its face is over it.
const BESIDE: f64 = 0.01;
/// A corner so much longer than its walls are thick is cut off square.
const SHARPEST: f64 = 4.0;

/// One existing wall, from corner to corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// Which side of the outline it is.
    pub index: usize,
    /// The inside corner it starts at.
    pub start: PlanPoint,
    /// Unit vector along it.
    pub along: PlanVector,
    /// Unit vector out of the room.
    pub out: PlanVector,
    /// Length of its inside face.
    pub length: f64,
    /// How thick it is, outwards.
    pub thickness: f64,
    /// Distances along the inside face that the outer corners come to.
    pub outer: Span,
}

impl Side {
    /// The plan point so far along its inside face and so far out of the room.
    pub fn at(&self, along: f64, out: f64) -> PlanPoint {
        self.start + self.along * along + self.out * out
    }

    /// The doors and windows in it that have a width: what they cover along it, and their sills.
    pub fn gaps(&self, shell: &Shell) -> Vec<(Span, f64)> {
        let whole = Span::between(0.0, self.length);
        shell.outline[self.index]
            .gaps
            .iter()
            .map(|g| (Span::from(g.from, g.width).intersection(whole), g.sill))
            .filter(|(span, _)| span.length() > SAME)
            .collect()
    }

    /// What is over it: ceiling and roof planes along its inside face, straight stretch by straight stretch. Beams bear on it.
    pub fn under(&self, job: &Job) -> Vec<Stretch> {
        let place = Place { origin: self.start, along: self.along };
        let inside = -BESIDE * left_of(self.along).dot(&self.out);
        let whole = Span::between(0.0, self.length);
        let shell = without_beams(&job.shell);
        over(job, &shell, &place, Span::from(inside, 0.0), whole).stretches(whole)
    }
}

/// The sides of the room that have a length.
pub fn sides(shell: &Shell) -> Vec<Side> {
    let turn = if shell.twice_area() < 0.0 { 1.0 } else { -1.0 };
    let mut sides: Vec<Side> = shell
        .sides()
        .enumerate()
        .filter(|(_, (a, b))| (b - a).norm() > SAME)
        .map(|(index, (start, end))| {
            let length = (end - start).norm();
            let along = (end - start) / length;
            let thickness = shell.outline[index].thickness.max(0.0);
            let outer = Span::between(0.0, length);
            Side { index, start, along, out: left_of(along) * turn, length, thickness, outer }
        })
        .collect();
    let corner = |a: &Side, b: &Side| -> Option<PlanPoint> {
        let (p, q) = (a.start + a.out * a.thickness, b.start + b.out * b.thickness);
        let t = meet(p, a.along, q, b.along)?;
        // A very sharp corner would run its point far outside; cut it off square instead.
        ((t - a.length).abs() <= SHARPEST * (a.thickness + b.thickness)).then(|| p + a.along * t)
    };
    let count = sides.len();
    let corners: Vec<_> = (0..count).map(|i| corner(&sides[i], &sides[(i + 1) % count])).collect();
    for (i, side) in sides.iter_mut().enumerate() {
        let on = |p: PlanPoint| (p - side.start).dot(&side.along);
        side.outer = Span {
            low: corners[(i + count - 1) % count].map_or(0.0, on),
            high: corners[i].map_or(side.length, on),
        };
    }
    sides
}

/// What is over a line of the plan in a shell: ceiling, roof planes and beams, the lowest of them across.
fn over(job: &Job, shell: &Shell, place: &Place, across: Span, reach: Span) -> Profile {
    soffit(&Profile::level(job.levels.ceiling), shell, place, across, reach)
}

fn without_beams(shell: &Shell) -> Shell {
    Shell { beams: Vec::new(), ..shell.clone() }
}

/// Where a post stands: its foot, and its top under the lowest that is over it.
pub fn post_heights(job: &Job, post: &Post) -> Span {
    let (sin, cos) = post.turn_deg.to_radians().sin_cos();
    let place = Place { origin: post.at, along: PlanVector::new(cos, sin) };
    let (reach, across) = (Span::about(0.0, post.size.0), Span::about(0.0, post.size.1));
    let top = over(job, &job.shell, &place, across, reach).range(reach).low;
    Span { low: job.levels.slab(), high: top }
}

/// Where a beam lies, and what is seen of it along it: from its underside up to what is over it. Nothing where that
/// is no higher.
pub fn beam_stretches(job: &Job, beam: &Beam) -> Option<(Place, Vec<Stretch>)> {
    let run = beam.to - beam.from;
    let length = run.norm();
    if !(length > SAME && is_place(length)) {
        return None;
    }
    let place = Place { origin: beam.from, along: run / length };
    let without = without_beams(&job.shell);
    let whole = Span::between(0.0, length);
    let over = over(job, &without, &place, Span::about(0.0, beam.width), whole);
    let seen = |s: &Stretch| s.from.max(s.to) > beam.soffit + SAME;
    let mut stretches = Vec::new();
    for s in over.stretches(whole).into_iter().filter(seen) {
        // Where a slope comes down to its underside it ends.
        let meets = s.span.low + s.span.length() * (beam.soffit - s.from) / (s.to - s.from);
        let cut = if s.from < beam.soffit {
            Stretch { span: Span { low: meets, ..s.span }, from: beam.soffit, to: s.to }
        } else if s.to < beam.soffit {
            Stretch { span: Span { high: meets, ..s.span }, from: s.from, to: beam.soffit }
        } else {
            s
        };
        stretches.push(cut);
    }
    Some((place, stretches))
}

/// A surface over or under the room that is seen from it: which it is, what of the plan it covers, and how high it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// The roof plane; `None` for the ceiling and the floor.
    pub name: Option<Name>,
    /// What of the plan it covers.
    pub shapes: Vec<Shape>,
    plane: Plane,
}

impl Surface {
    /// Its height at a place of the plan.
    pub fn at(&self, [x, y]: FacePoint) -> f64 {
        self.plane.at([x, y])
    }

    /// True when it slopes.
    pub fn slopes(&self) -> bool {
        self.plane.rise.norm() > SAME
    }

    /// Its slope, radians from level.
    pub fn pitch(&self) -> f64 {
        self.plane.rise.norm().atan()
    }
}

/// A level or sloping plane: its height at the plan's zero, and how it rises along x and y.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Plane {
    zero: f64,
    rise: PlanVector,
}

impl Plane {
    fn level(z: f64) -> Plane {
        Plane { zero: z, rise: PlanVector::zeros() }
    }

    fn of(plane: &RoofPlane) -> Option<Plane> {
        let eaves = plane.to - plane.from;
        let rise = plane.pitch_deg.to_radians().tan();
        let is_sane =
            eaves.norm() > SAME && [eaves.norm(), rise, plane.level].into_iter().all(is_place);
        is_sane.then(|| {
            let rise = left_of(eaves / eaves.norm()) * rise;
            Plane { zero: plane.level - plane.from.coords.dot(&rise), rise }
        })
    }

    fn at(self, [x, y]: FacePoint) -> f64 {
        self.zero + self.rise.x * x + self.rise.y * y
    }

    /// The part of the convex polygon `within` where this plane is lower than `other`; of two that are the same, the one
    /// that comes `first` counts as the lower.
    fn lower(self, other: Plane, first: bool, within: &[PlanPoint]) -> Vec<PlanPoint> {
        let (zero, rise) = (other.zero - self.zero, other.rise - self.rise);
        if rise.norm() < SAME * SAME {
            let is_lower = zero > SAME || (first && zero >= -SAME);
            return if is_lower { within.to_vec() } else { Vec::new() };
        }
        let on = PlanPoint::from(rise * (-zero / rise.norm_squared()));
        left_part(within, on, PlanVector::new(rise.y, -rise.x))
    }
}

/// The floor the room has: structural slab level, from wall to wall.
pub fn floor(job: &Job) -> Option<Surface> {
    let outline = room(&job.shell)?;
    let shapes = less(vec![outline], &[]);
    Some(Surface { name: None, shapes, plane: Plane::level(job.levels.slab()) })
}

/// The ceiling or a roof plane as it goes on, before others hide it.
struct Over {
    name: Option<Name>,
    plane: Plane,
    /// The part of the plan it is kept to.
    part: Option<Vec<FacePoint>>,
}

/// What is seen over the room, looking up: its ceiling, then its roof planes, each where it is the lowest. A plane that
/// covers only part of the plan hides the ceiling there. Nothing while the room has not been drawn.
pub fn soffits(job: &Job) -> Vec<Surface> {
    let Some(outline) = room(&job.shell) else { return Vec::new() };
    let mut over: Vec<Over> = job.shell.roof.iter().filter_map(Over::of).collect();
    let parts: Vec<Vec<FacePoint>> = over.iter().filter_map(|o| o.part.clone()).collect();
    over.insert(0, Over { name: None, plane: Plane::level(job.levels.ceiling), part: None });
    let all = around(&outline);
    let mut seen = Vec::new();
    for (i, one) in over.iter().enumerate() {
        let own = match &one.part {
            Some(part) => common(std::slice::from_ref(&outline), std::slice::from_ref(part)),
            None => less(vec![outline.clone()], if i == 0 { &parts } else { &[] }),
        };
        let others = over.iter().enumerate().filter(|(j, _)| *j != i);
        let hidden: Vec<Vec<FacePoint>> = others
            .flat_map(|(j, other)| {
                let lower = other.plane.lower(one.plane, j < i, &all);
                let lower: Vec<FacePoint> = lower.iter().map(|p| [p.x, p.y]).collect();
                match &other.part {
                    Some(part) => rings(common(&[lower], std::slice::from_ref(part))),
                    // The ceiling is not there where a plane covers part of the plan.
                    None if j == 0 => rings(less(vec![lower], &parts)),
                    None => vec![lower],
                }
            })
            .filter(|ring| ring.len() > 2)
            .collect();
        let shapes: Vec<Shape> =
            own.into_iter().flat_map(|shape| without(shape, &hidden)).collect();
        if !shapes.is_empty() {
            seen.push(Surface { name: one.name.clone(), shapes, plane: one.plane });
        }
    }
    seen
}

impl Over {
    fn of(roof: &RoofPlane) -> Option<Over> {
        let is_sane = roof.over.iter().all(|p| is_place(p.x) && is_place(p.y));
        let part = (roof.over.len() > 2).then(|| ring(&roof.over));
        let plane = Plane::of(roof).filter(|_| is_sane)?;
        Some(Over { name: Some(roof.name.clone()), plane, part })
    }
}

/// The room's outline, anticlockwise; `None` when there is none.
fn room(shell: &Shell) -> Option<Vec<FacePoint>> {
    let corners: Vec<PlanPoint> = shell.outline.iter().map(|c| c.at).collect();
    let is_sane = corners.len() > 2 && corners.iter().all(|p| is_place(p.x) && is_place(p.y));
    is_sane.then(|| ring(&corners))
}

fn ring(points: &[PlanPoint]) -> Vec<FacePoint> {
    let mut ring: Vec<FacePoint> = points.iter().map(|p| [p.x, p.y]).collect();
    if area_of(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

/// A rectangle well round an outline.
fn around(outline: &[FacePoint]) -> Vec<PlanPoint> {
    let extent = |axis: usize| {
        let values = || outline.iter().map(move |p| p[axis]);
        let low = values().fold(f64::INFINITY, f64::min);
        Span { low, high: values().fold(f64::NEG_INFINITY, f64::max) }.grown(1000.0)
    };
    let (x, y) = (extent(0), extent(1));
    [(x.low, y.low), (x.high, y.low), (x.high, y.high), (x.low, y.high)]
        .map(|(x, y)| PlanPoint::new(x, y))
        .to_vec()
}

/// All rings of shapes: outlines anticlockwise, holes clockwise.
fn rings(shapes: Vec<Shape>) -> Vec<Vec<FacePoint>> {
    shapes.into_iter().flat_map(|s| std::iter::once(s.outline).chain(s.holes)).collect()
}

fn without(shape: Shape, hidden: &[Vec<FacePoint>]) -> Vec<Shape> {
    if hidden.is_empty() { vec![shape] } else { less(rings(vec![shape]), hidden) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Corner;
    use approx::assert_relative_eq;

    fn room(corners: &[(f64, f64)]) -> Job {
        let corner = |&(x, y): &(f64, f64)| Corner {
            at: PlanPoint::new(x, y),
            thickness: 200.0,
            gaps: Vec::new(),
        };
        let mut job = Job::default();
        job.shell.outline = corners.iter().map(corner).collect();
        job
    }

    fn roof(name: &str, from: (f64, f64), to: (f64, f64), level: f64, pitch_deg: f64) -> RoofPlane {
        RoofPlane {
            name: name.into(),
            from: PlanPoint::new(from.0, from.1),
            to: PlanPoint::new(to.0, to.1),
            level,
            pitch_deg,
            over: Vec::new(),
        }
    }

    fn area(surface: &Surface) -> f64 {
        surface.shapes.iter().map(Shape::area).sum::<f64>() / 1e6
    }

    // Trigonometry: slopes of 45 degrees from 1400 at both eaves of a room 6 m wide reach a ceiling of 2400 after 1 m.
    #[test]
    fn two_slopes_and_the_ceiling_between_them_share_the_room() {
        let mut job = room(&[(0.0, 0.0), (8000.0, 0.0), (8000.0, 6000.0), (0.0, 6000.0)]);
        job.shell.roof = vec![
            roof("S", (0.0, 0.0), (8000.0, 0.0), 1400.0, 45.0),
            roof("N", (8000.0, 6000.0), (0.0, 6000.0), 1400.0, 45.0),
        ];
        let seen = soffits(&job);
        let areas: Vec<f64> = seen.iter().map(area).collect();
        let names: Vec<_> = seen.iter().map(|s| s.name.as_ref().map(Name::as_str)).collect();
        assert_eq!(names, [None, Some("S"), Some("N")]);
        for (got, is) in areas.iter().zip([32.0, 8.0, 8.0]) {
            assert_relative_eq!(*got, is, epsilon = 1e-4);
        }
        assert_relative_eq!(seen[1].at([4000.0, 500.0]), 1900.0, epsilon = 1e-6);
        let sides = sides(&job.shell);
        let gable: Vec<(f64, f64)> = sides[1].under(&job).iter().map(|s| (s.from, s.to)).collect();
        assert_eq!(gable.len(), 3);
        for (got, is) in gable.iter().zip([(1400.0, 2400.0), (2400.0, 2400.0), (2400.0, 1400.0)]) {
            assert_relative_eq!(got.0, is.0, epsilon = 0.01);
            assert_relative_eq!(got.1, is.1, epsilon = 0.01);
        }
    }

    // A lowered patch in the middle of an L-shaped room leaves a ceiling with a hole in it; a plane above it is not seen.
    #[test]
    fn a_patch_leaves_a_hole_and_what_is_hidden_is_left_out() {
        let l = [
            (0.0, 0.0),
            (6000.0, 0.0),
            (6000.0, 3000.0),
            (3000.0, 3000.0),
            (3000.0, 5000.0),
            (0.0, 5000.0),
        ];
        let mut job = room(&l);
        let mut patch = roof("P", (0.0, 0.0), (1000.0, 0.0), 2200.0, 0.0);
        patch.over = [(1000.0, 1000.0), (2000.0, 1000.0), (2000.0, 2000.0), (1000.0, 2000.0)]
            .map(|(x, y)| PlanPoint::new(x, y))
            .to_vec();
        job.shell.roof = vec![patch, roof("high", (0.0, 0.0), (1000.0, 0.0), 3000.0, 0.0)];
        let seen = soffits(&job);
        assert_eq!(seen.len(), 2);
        assert_relative_eq!(area(&seen[0]), 24.0 - 1.0, epsilon = 1e-6);
        assert_eq!(seen[0].shapes[0].holes.len(), 1);
        assert_relative_eq!(area(&seen[1]), 1.0, epsilon = 1e-6);
        assert_relative_eq!(area(&floor(&job).unwrap()), 24.0, epsilon = 1e-6);
    }

    // Two planes at one level share no place: the first has it all.
    #[test]
    fn of_twins_the_first_is_seen() {
        let mut job = room(&[(0.0, 0.0), (0.0, 4000.0), (4000.0, 4000.0), (4000.0, 0.0)]);
        job.shell.roof = ["a", "b"].map(|n| roof(n, (0.0, 0.0), (1.0, 0.0), 2300.0, 0.0)).to_vec();
        let seen = soffits(&job);
        assert_eq!(seen.len(), 1);
        assert_eq!(seen[0].name, Some("a".into()));
        assert_relative_eq!(area(&seen[0]), 16.0, epsilon = 1e-6);
        assert!(soffits(&Job::default()).is_empty());
    }

    #[test]
    fn posts_stop_under_beams_and_beams_show_up_to_what_is_over_them() {
        let mut job = room(&[(0.0, 0.0), (8000.0, 0.0), (8000.0, 6000.0), (0.0, 6000.0)]);
        let beam = Beam {
            name: "B".into(),
            from: PlanPoint::new(2000.0, 0.0),
            to: PlanPoint::new(2000.0, 3000.0),
            width: 100.0,
            soffit: 2000.0,
        };
        job.shell.roof = vec![roof("S", (0.0, 0.0), (8000.0, 0.0), 1400.0, 45.0)];
        job.shell.beams = vec![beam.clone()];
        let post = |y: f64| Post {
            name: "P".into(),
            at: PlanPoint::new(2000.0, y),
            size: (100.0, 100.0),
            turn_deg: 0.0,
            housing: 0.0,
        };
        assert_eq!(post_heights(&job, &post(2500.0)).high, 2000.0);
        assert_relative_eq!(post_heights(&job, &post(4000.0)).high, 2400.0);
        // Under the slope there is no beam to be seen before it is as high as its underside: 600 from the eaves.
        let (_, seen) = beam_stretches(&job, &beam).unwrap();
        let seen: Vec<[f64; 4]> =
            seen.iter().map(|s| [s.span.low, s.span.high, s.from, s.to]).collect();
        assert_eq!(seen.len(), 2);
        for (got, is) in seen
            .iter()
            .flatten()
            .zip([600.0, 1000.0, 2000.0, 2400.0, 1000.0, 3000.0, 2400.0, 2400.0])
        {
            assert_relative_eq!(*got, is, epsilon = 1e-6);
        }
    }
}
