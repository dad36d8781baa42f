//! What stands on the floor as outlines on the plan: walls, the room, posts, fittings.

use crate::document::{Face, Job};
use crate::id::{ItemRef, Name};
use crate::math::{PlanPoint, PlanVector, SAME, left_of};
use crate::resolve::{Place, Spot, WallSpec, post_outline};
use crate::span::Span;

/// A wall that could be framed, where it stands.
pub(crate) struct Standing<'a> {
    pub(crate) place: Place,
    pub(crate) spec: &'a WallSpec,
}

/// A corner to measure from: a point and two directions square to each other.
pub(super) struct Corner2 {
    pub(super) origin: PlanPoint,
    /// Along the wall.
    pub(super) u: PlanVector,
    /// Out from its face.
    pub(super) v: PlanVector,
}

impl Corner2 {
    /// The point at a station and an offset of a wall; `along` and `out` are ±1 for which way u and v go.
    pub(super) fn of(wall: &Standing<'_>, station: f64, n: f64, along: f64, out: f64) -> Corner2 {
        let u = wall.place.along;
        Corner2 { origin: wall.place.plan(station, n), u: u * along, v: left_of(u) * out }
    }

    /// A plan point as seen from here.
    pub(super) fn local(&self, p: PlanPoint) -> [f64; 2] {
        let d = p - self.origin;
        [d.dot(&self.u), d.dot(&self.v)]
    }
}

/// A stretch of floor in front of a wall.
pub(super) struct Window {
    pub(super) u: Span,
    pub(super) v: Span,
}

impl Window {
    /// What of a segment is in it.
    pub(super) fn clip(&self, [a, b]: [[f64; 2]; 2]) -> Option<[[f64; 2]; 2]> {
        let d = [b[0] - a[0], b[1] - a[1]];
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (i, span) in [self.u, self.v].into_iter().enumerate() {
            if d[i].abs() < 1e-9 {
                if a[i] < span.low || a[i] > span.high {
                    return None;
                }
                continue;
            }
            let (s, t) = ((span.low - a[i]) / d[i], (span.high - a[i]) / d[i]);
            from = from.max(s.min(t));
            to = to.min(s.max(t));
        }
        let at = |t: f64| [a[0] + t * d[0], a[1] + t * d[1]];
        (from <= to).then(|| [at(from), at(to)])
    }
}

/// Something that stands on the floor or hangs on a wall.
pub(super) struct Obstacle {
    pub(super) of: ItemRef,
    heights: Span,
    sides: Vec<[PlanPoint; 2]>,
    /// What it takes up along each axis of the plan.
    bounds: [Span; 2],
}

impl Obstacle {
    fn new(of: ItemRef, heights: Span, sides: Vec<[PlanPoint; 2]>) -> Obstacle {
        let bounds = [0, 1].map(|axis| {
            let values = || sides.iter().flatten().map(|p| p[axis]);
            Span {
                low: values().fold(f64::INFINITY, f64::min),
                high: values().fold(f64::NEG_INFINITY, f64::max),
            }
        });
        Obstacle { of, heights, sides, bounds }
    }

    fn closed(of: ItemRef, heights: Span, corners: &[PlanPoint]) -> Obstacle {
        let next = corners.iter().cycle().skip(1);
        let sides = corners.iter().zip(next).map(|(a, b)| [*a, *b]).collect();
        Obstacle::new(of, heights, sides)
    }

    /// What a message calls it.
    pub(super) fn called(&self) -> String {
        match self.of {
            ItemRef::Side(_) => "the wall of the room".into(),
            ref of => of.label(),
        }
    }

    /// True when some of it may be within `reach` of a point along each axis.
    fn in_reach(&self, of: PlanPoint, reach: f64) -> bool {
        (0..2).all(|axis| self.bounds[axis].grown(reach).contains(of[axis]))
    }

    /// True when it is in the way of something of those heights.
    pub(super) fn stands_in(&self, heights: Span) -> bool {
        self.heights.overlaps(heights)
    }

    /// Its sides that may come within `reach` of a corner, as seen from there.
    pub(super) fn near<'a>(
        &'a self,
        at: &'a Corner2,
        reach: f64,
    ) -> impl Iterator<Item = [[f64; 2]; 2]> + 'a {
        self.sides.iter().map(|s| s.map(|p| at.local(p))).filter(move |s| {
            (0..2).all(|i| s[0][i].min(s[1][i]) <= reach && s[0][i].max(s[1][i]) >= -SAME)
        })
    }
}

/// Everything a door could run into.
pub(super) struct Obstacles {
    list: Vec<Obstacle>,
}

impl Obstacles {
    pub(super) fn of(job: &Job, walls: &[Standing<'_>]) -> Obstacles {
        let everywhere = Span { low: f64::NEG_INFINITY, high: f64::INFINITY };
        let sides = job.shell.sides().enumerate();
        let sides =
            sides.map(|(i, (a, b))| Obstacle::new(ItemRef::Side(i), everywhere, vec![[a, b]]));
        let posts = job.shell.posts.iter().map(|post| {
            Obstacle::closed(ItemRef::Post(post.name.clone()), everywhere, &post_outline(post))
        });
        let walls = walls.iter().flat_map(|wall| {
            let hangs = |s: &&Spot| matches!(s.of, ItemRef::Fitting(_));
            std::iter::once(outline(wall))
                .chain(wall.spec.spots.iter().filter(hangs).map(|fitting| hung(wall, fitting)))
        });
        Obstacles { list: sides.chain(posts).chain(walls).collect() }
    }

    /// What may be within `reach` of a point on the plan, but for one wall.
    pub(super) fn round(&self, point: PlanPoint, reach: f64, but: &Name) -> Vec<&Obstacle> {
        let other = |o: &Obstacle| !matches!(&o.of, ItemRef::Wall(name) if name == but);
        self.list.iter().filter(|o| o.in_reach(point, reach) && other(o)).collect()
    }
}

/// A wall, boards and all.
fn outline(wall: &Standing<'_>) -> Obstacle {
    let (spec, place) = (wall.spec, wall.place);
    let Span { low, high } = spec.finished;
    let heights = Span { low: spec.floor.lowest(), high: spec.head.highest() };
    let [start, end] = [spec.ends[0].at, spec.ends[1].at];
    let corners = [(start[0], low), (end[0], low), (end[1], high), (start[1], high)];
    let corners = corners.map(|(station, offset)| place.plan(station, offset));
    Obstacle::closed(ItemRef::Wall(spec.name.clone()), heights, &corners)
}

/// A fitting on the face of a wall.
fn hung(wall: &Standing<'_>, fitting: &Spot) -> Obstacle {
    let along = fitting.span;
    let Span { low, high } = wall.spec.finished;
    let [face, front] = match fitting.face {
        Face::Left => [high, high + fitting.depth],
        Face::Right => [low, low - fitting.depth],
    };
    let corners = [(along.low, face), (along.high, face), (along.high, front), (along.low, front)];
    let corners = corners.map(|(station, offset)| wall.place.plan(station, offset));
    Obstacle::closed(fitting.of.clone(), fitting.heights, &corners)
}
