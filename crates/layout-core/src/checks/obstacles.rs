//! What stands on the floor as outlines on the plan: walls, the room, posts, fittings.

use std::collections::BTreeMap;

use crate::document::{Face, Job, WallEnd};
use crate::id::ItemRef;
use crate::math::{PlanPoint, PlanVector, SAME, left_of};
use crate::resolve::{Place, WallSpec, post_outline};
use crate::span::Span;

/// How far a fitting stands off its wall, mm, while nothing better is known. Common practice.
const FITTING: f64 = 150.0;

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
    pub(super) called: String,
    heights: Span,
    sides: Vec<[PlanPoint; 2]>,
}

impl Obstacle {
    fn closed(of: ItemRef, heights: Span, corners: &[PlanPoint]) -> Obstacle {
        let next = corners.iter().cycle().skip(1);
        let sides = corners.iter().zip(next).map(|(a, b)| [*a, *b]).collect();
        Obstacle { called: of.label(), of, heights, sides }
    }

    /// True when some of it may be within `reach` of a corner: cheap, to be asked first.
    pub(super) fn in_reach(&self, at: &Corner2, reach: f64) -> bool {
        let reach = reach * std::f64::consts::SQRT_2 + SAME;
        let between = |axis: usize| {
            let values = || self.sides.iter().flatten().map(move |p| p[axis]);
            let (low, high) = (
                values().fold(f64::INFINITY, f64::min),
                values().fold(f64::NEG_INFINITY, f64::max),
            );
            low - reach <= at.origin[axis] && at.origin[axis] <= high + reach
        };
        between(0) && between(1)
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
    pub(super) list: Vec<Obstacle>,
}

impl Obstacles {
    pub(super) fn of(job: &Job, walls: &[Standing<'_>]) -> Obstacles {
        let mut list = Vec::new();
        let drawn: BTreeMap<_, _> = job.walls.iter().map(|w| (&w.name, w)).collect();
        let everywhere = Span { low: f64::NEG_INFINITY, high: f64::INFINITY };
        for (i, (a, b)) in job.shell.sides().enumerate() {
            let sides = vec![[a, b]];
            let of = ItemRef::Side(i);
            let called = "the wall of the room".into();
            list.push(Obstacle { of, called, heights: everywhere, sides });
        }
        for post in &job.shell.posts {
            let of = ItemRef::Post(post.name.clone());
            list.push(Obstacle::closed(of, everywhere, &post_outline(post)));
        }
        for wall in walls {
            let (spec, place) = (&wall.spec, wall.place);
            let Span { low, high } = spec.finished;
            let heights = Span { low: spec.floor.lowest(), high: spec.head.highest() };
            let [start, end] = [spec.ends[0].at, spec.ends[1].at];
            let corners = [
                place.plan(start[0], low),
                place.plan(end[0], low),
                place.plan(end[1], high),
                place.plan(start[1], high),
            ];
            list.push(Obstacle::closed(ItemRef::Wall(spec.name.clone()), heights, &corners));
            let Some(drawn) = drawn.get(&spec.name) else { continue };
            for f in &drawn.fittings {
                let middle = match f.from {
                    WallEnd::Start => f.distance,
                    WallEnd::End => spec.length - f.distance,
                };
                let along = Span::about(middle, f.width);
                let across = match f.face {
                    Face::Left => [high, high + FITTING],
                    Face::Right => [low, low - FITTING],
                };
                let corners = [
                    place.plan(along.low, across[0]),
                    place.plan(along.high, across[0]),
                    place.plan(along.high, across[1]),
                    place.plan(along.low, across[1]),
                ];
                let of = ItemRef::Fitting(f.name.clone());
                list.push(Obstacle::closed(of, Span::between(f.bottom, f.top), &corners));
            }
        }
        Obstacles { list }
    }
}
