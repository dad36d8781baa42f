//! The room's own ceiling, where the job boards it: from wall to wall before partitions stand, or between them after.
//!
//! Rows of boards lie across the joists, as under a platform. What slopes, lowered parts, beams and posts take of the room is
//! not this ceiling. After partitions, those that go up to it are boarded first: it goes between the boards of their faces.

use crate::boards::{FacePoint, Flat, Layer, On, Shape, Timber, area_of, less, spacing};
use crate::document::{CeilingBoards, CeilingTurn, Job, RoofPlane, Sundries};
use crate::math::{PlanPoint, PlanVector, SAME, is_place, left_of};
use crate::resolve::{Place, WallSpec, post_outline};
use crate::span::Span;

/// A partition goes up to the ceiling when its head comes so near to it, mm: a slip joint.
const NEAR: f64 = 60.0;
/// More joists than this are not looked at.
const MOST: f64 = 4000.0;

/// A ceiling, settled. Equal specs give equal boards.
#[derive(Clone, Debug, PartialEq)]
pub struct CeilingSpec {
    /// What the job says of it.
    pub boards: CeilingBoards,
    /// What is boarded, across the joists and along them, from the lowest of each in the room.
    pub area: Vec<Shape>,
    /// Where that is counted from, and along the joists.
    pub place: Place,
    /// Underside of the joists above FFL, mm.
    pub face: f64,
}

/// A ceiling with its boards. Places on them are across the joists and along them.
#[derive(Clone, Debug, PartialEq)]
pub struct CeilingLayout {
    /// The ceiling, settled.
    pub spec: CeilingSpec,
    /// Its layers, from the joists down.
    pub layers: Vec<Layer<On>>,
}

/// The ceiling of a job; `None` when the job does not board it, or there is no room.
pub(crate) fn settle<'a>(
    job: &Job,
    walls: impl Iterator<Item = (&'a Place, &'a WallSpec)>,
) -> Option<CeilingSpec> {
    let boards = job.levels.boarded.clone()?;
    let (level, thick) = (job.levels.ceiling, boards.below.boards.iter().map(|b| b.thickness));
    let is_sane = [level, boards.joists_deg, boards.first, boards.centres, boards.width];
    if !is_sane.into_iter().all(is_place) || boards.centres < 1.0 || boards.width < 1.0 {
        return None;
    }
    let (sin, cos) = boards.joists_deg.to_radians().sin_cos();
    let along = PlanVector::new(cos, sin);
    let across = -left_of(along);
    let outline: Vec<PlanPoint> = job.shell.outline.iter().map(|c| c.at).collect();
    if outline.len() < 3 || !outline.iter().all(|p| is_place(p.x) && is_place(p.y)) {
        return None;
    }
    let least =
        |v: PlanVector| outline.iter().map(|p| p.coords.dot(&v)).fold(f64::INFINITY, f64::min);
    let origin = PlanPoint::from(across * least(across) + along * least(along));
    let own = |p: &PlanPoint| {
        let d = p - origin;
        [d.dot(&across), d.dot(&along)]
    };
    let ring = |points: &[PlanPoint]| {
        let mut ring: Vec<FacePoint> = points.iter().map(own).collect();
        if area_of(&ring) < 0.0 {
            ring.reverse();
        }
        ring
    };
    let mut cut: Vec<Vec<FacePoint>> = Vec::new();
    cut.extend(job.shell.posts.iter().map(|p| ring(&post_outline(p))));
    let reach = outline.iter().map(|p| (p - origin).norm()).fold(1000.0, f64::max);
    cut.extend(job.shell.roof.iter().filter_map(|r| lowered(r, level, reach)).map(|r| ring(&r)));
    for beam in job.shell.beams.iter().filter(|b| b.soffit < level - SAME) {
        let run = beam.to - beam.from;
        if run.norm() > SAME {
            let half = left_of(run.normalize()) * beam.width / 2.0;
            cut.push(ring(&[beam.from - half, beam.to - half, beam.to + half, beam.from + half]));
        }
    }
    if boards.turn == CeilingTurn::AfterPartitions {
        let high = walls.filter(|(_, w)| w.head.highest() > level - NEAR);
        cut.extend(high.map(|(place, wall)| ring(&footprint(place, wall))));
    }
    cut.retain(|ring| ring.iter().flatten().all(|v| is_place(*v)));
    let area = less(vec![ring(&outline)], &cut);
    let face = match boards.turn {
        // Partitions go up to its underside, or to the joists.
        CeilingTurn::BeforePartitions => level + thick.sum::<f64>(),
        CeilingTurn::AfterPartitions => level,
    };
    Some(CeilingSpec { boards, area, place: Place { origin, along }, face })
}

/// What a wall with the boards of its faces covers.
fn footprint(place: &Place, wall: &WallSpec) -> [PlanPoint; 4] {
    let thick = |f: &crate::document::Finish| f.boards.iter().map(|b| b.thickness).sum::<f64>();
    let (along, makeup) = (wall.reach(), &wall.makeup);
    let low = wall.frame.low - thick(&makeup.right);
    let high = wall.frame.high + thick(&makeup.left);
    let corners = [(along.low, low), (along.high, low), (along.high, high), (along.low, high)];
    corners.map(|(s, n)| place.plan(s, n))
}

/// Where a roof plane takes the place of the ceiling, within `reach` of anywhere in the room.
fn lowered(plane: &RoofPlane, level: f64, reach: f64) -> Option<Vec<PlanPoint>> {
    if plane.over.len() > 2 {
        return Some(plane.over.clone());
    }
    let run = plane.to - plane.from;
    if run.norm() < SAME {
        return None;
    }
    let (u, up) = (run.normalize(), left_of(run.normalize()));
    let slope = plane.pitch_deg.to_radians().tan();
    let far = 4.0 * (reach + run.norm());
    // To its left it rises, until it is as high as the ceiling.
    let to = match slope > 1e-9 {
        true => (level - plane.level) / slope,
        false if plane.level < level - SAME => far,
        false => return None,
    };
    let to = to.clamp(-far, far);
    let corner = |s: f64, n: f64| plane.from + u * s + up * n;
    (to > -far)
        .then(|| vec![corner(-far, -far), corner(far, -far), corner(far, to), corner(-far, to)])
}

impl CeilingLayout {
    pub(crate) fn of(spec: CeilingSpec) -> CeilingLayout {
        let (area, boards) = (spec.area.as_slice(), &spec.boards.below.boards);
        let (centres, face, out) = (spec.boards.centres, spec.face, -1.0);
        let timber = spec.timber();
        let flat = Flat { area, timber, boards, centres, on: On::Ceiling, face, out };
        let layers = flat.lay(&mut 0);
        CeilingLayout { spec, layers }
    }

    /// Places of the screws in each piece of a layer, in the order of its pieces.
    pub fn screws(&self, layer: &Layer<On>, rules: &Sundries) -> Vec<Vec<FacePoint>> {
        self.spec.timber().screws(layer, spacing(On::Ceiling, self.is_outer(layer), rules))
    }

    /// True when no other layer goes over it.
    pub fn is_outer(&self, layer: &Layer<On>) -> bool {
        layer.layer + 1 == self.layers.len()
    }

    /// A place on a layer, on the plan.
    pub fn on_plan(&self, [s, z]: FacePoint) -> PlanPoint {
        self.spec.place.plan(z, -s)
    }

    /// How far it runs along walls, partitions and whatever else it stops at, mm.
    pub fn edge(&self) -> f64 {
        let rings = self.spec.area.iter().flat_map(|s| std::iter::once(&s.outline).chain(&s.holes));
        let side = |(a, b): (&FacePoint, &FacePoint)| (b[0] - a[0]).hypot(b[1] - a[1]);
        rings.map(|r| r.iter().zip(r.iter().cycle().skip(1)).map(side).sum::<f64>()).sum()
    }
}

impl CeilingSpec {
    /// The joists, as they show across and along.
    fn timber(&self) -> Timber {
        let extent = |of: fn(&Shape) -> Span| self.area.iter().map(of).reduce(Span::hull);
        let across = extent(Shape::stations).map_or(0.0, |s| s.high);
        let along = extent(Shape::heights).unwrap_or(Span { low: 0.0, high: 0.0 });
        let CeilingBoards { centres, first, width, .. } = self.boards;
        // Also those before the first.
        let from = (first / centres).floor().clamp(0.0, MOST);
        let count = ((across - first) / centres).floor().clamp(0.0, MOST) + from;
        let joists = (0..=count as usize).map(move |k| {
            let middle = first + (k as f64 - from) * centres;
            (Span::about(middle, width), along.grown(width))
        });
        Timber::of(joists)
    }
}
