//! Where the openings, points, fittings and routes of a wall are.

use crate::document::{Face, Hung, MeasuredFrom, OpeningKind, PointKind, Wall, WallEnd};
use crate::id::ItemRef;
use crate::span::Span;

use super::faces::side;
use super::{FaceRun, Fixing, Hole, RouteSpec, Spot, WallSpec};

/// The holes of `wall`, in order of station, in a wall whose nodes are `length` apart.
pub(super) fn holes(wall: &Wall, length: f64) -> Vec<Hole> {
    let mut holes: Vec<Hole> = wall
        .openings
        .iter()
        .map(|o| {
            let width = o.kind.width();
            Hole {
                name: o.name.clone(),
                label: o.kind.label(),
                span: Span::from(o.hold.left_edge(width, length), width),
                sill: o.kind.sill(),
                top: o.kind.top(),
                door: match &o.kind {
                    OpeningKind::Door(door) => Some(door.clone()),
                    _ => None,
                },
                boarded: o.is_boarded(),
            }
        })
        .collect();
    holes.sort_by(|a, b| a.span.low.total_cmp(&b.span.low).then_with(|| a.name.cmp(&b.name)));
    holes
}

/// What places along a wall are measured from.
pub(super) struct Bearings<'a> {
    /// Distance between its nodes.
    pub(super) length: f64,
    /// Its openings.
    pub(super) holes: &'a [Hole],
    /// The runs of boards of its right and its left face.
    pub(super) faces: &'a [Vec<FaceRun>; 2],
}

impl Bearings<'_> {
    /// The station `distance` from what something on `face` of `wall` is measured from.
    fn station(&self, wall: &Wall, face: Face, from: &MeasuredFrom, distance: f64) -> f64 {
        let mut distance = distance;
        let mut from = from;
        // A point may be measured from one that is measured from another; a ring of them ends at the start.
        for _ in 0..=wall.points.len() {
            if let Some(zero) = self.zero(face, from) {
                return zero + from.way() * distance;
            }
            let MeasuredFrom::Point(name) = from else { break };
            let Some(other) = wall.points.iter().find(|p| p.name == *name) else { break };
            distance = other.distance + other.from.way() * distance;
            from = &other.from;
        }
        distance
    }

    /// The station distances on `face` are counted from; `None` for another point, or what is not there.
    fn zero(&self, face: Face, from: &MeasuredFrom) -> Option<f64> {
        match from {
            MeasuredFrom::Start => Some(0.0),
            MeasuredFrom::End => Some(self.length),
            MeasuredFrom::Corner(end) => {
                let runs = &self.faces[side(face)];
                let run = if *end == WallEnd::Start { runs.first() } else { runs.last() };
                Some(match end {
                    WallEnd::Start => run.map_or(0.0, |run| run.seen.low),
                    WallEnd::End => run.map_or(self.length, |run| run.seen.high),
                })
            }
            MeasuredFrom::Opening(name, end) => {
                let hole = self.holes.iter().find(|h| h.name == *name)?;
                Some(if *end == WallEnd::Start { hole.span.low } else { hole.span.high })
            }
            MeasuredFrom::Point(_) => None,
        }
    }
}

/// The station `distance` from what something on `face` of a settled wall is measured from; `wall` is the same
/// as it is drawn.
pub fn station_on(
    spec: &WallSpec,
    wall: &Wall,
    face: Face,
    from: &MeasuredFrom,
    distance: f64,
) -> f64 {
    let bearings = Bearings { length: spec.length, holes: &spec.holes, faces: &spec.faces };
    bearings.station(wall, face, from, distance)
}

/// The points and fittings of `wall`.
pub(super) fn spots(wall: &Wall, bearings: &Bearings<'_>) -> Vec<Spot> {
    let points = wall.points.iter().map(|p| Spot {
        of: ItemRef::Point(p.name.clone()),
        label: p.kind.label().to_string(),
        span: Span::about(bearings.station(wall, p.face, &p.from, p.distance), p.size.0),
        heights: Span::about(p.height, p.size.1),
        depth: p.depth,
        sunk: true,
        is_pipe: matches!(p.kind, PointKind::Pipe | PointKind::Waste | PointKind::Duct),
        is_wired: p.kind.is_wired(),
        by_hand: p.kind.is_by_hand(),
        face: p.face,
        hangs: p.kind.is_box() && p.hung == Hung::Timber,
        feed: p.feed,
        headed: p.headed,
    });
    let fittings = wall.fittings.iter().map(|f| Spot {
        of: ItemRef::Fitting(f.name.clone()),
        label: "fitting".into(),
        span: Span::about(bearings.station(wall, f.face, &f.from, f.distance), f.width),
        heights: Span::between(f.bottom, f.top),
        depth: f.depth,
        sunk: false,
        is_pipe: false,
        is_wired: false,
        by_hand: false,
        face: f.face,
        hangs: false,
        feed: None,
        headed: false,
    });
    points.chain(fittings).collect()
}

/// What the fittings of `wall` are fixed to; `spots` are its points and fittings.
pub(super) fn fixings(wall: &Wall, spots: &[Spot]) -> Vec<Fixing> {
    let placed = wall.fittings.iter().zip(&spots[wall.points.len()..]);
    placed
        .filter(|(f, _)| !f.fixings.is_empty())
        .map(|(f, spot)| Fixing {
            of: spot.of.clone(),
            span: spot.span,
            face: f.face,
            heights: f.fixings.clone(),
            behind: f.behind,
            tolerance: f.tolerance,
        })
        .collect()
}

/// The routes of `wall`, a frame that covers `along`; `spots` are its points and fittings.
pub(super) fn routes(wall: &Wall, spots: &[Spot], along: Span) -> Vec<RouteSpec> {
    let route = |r: &crate::document::Route| {
        let serves = |s: &&Spot| matches!(&s.of, ItemRef::Point(name) if r.points.contains(name));
        let drops: Vec<(ItemRef, f64, Span)> = spots
            .iter()
            .filter(serves)
            .map(|s| (s.of.clone(), s.span.centre(), s.heights))
            .collect();
        let past = [(r.past.0, along.low), (r.past.1, along.high)];
        let ends = past.into_iter().filter(|(past, _)| *past).map(|(_, s)| s);
        let reach = drops.iter().map(|d| d.1).chain(ends).fold(None, |span: Option<Span>, s| {
            Some(span.map_or(Span { low: s, high: s }, |span| Span {
                low: span.low.min(s),
                high: span.high.max(s),
            }))
        })?;
        Some(RouteSpec {
            of: ItemRef::Route(r.name.clone()),
            service: r.service,
            along: reach,
            height: r.height,
            hole: r.hole,
            drops,
            notched: r.notched,
        })
    };
    wall.routes.iter().filter_map(route).collect()
}
