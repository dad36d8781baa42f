//! Where the openings, points and fittings of a wall are.

use crate::document::{OpeningKind, PointKind, Wall, WallEnd};
use crate::id::ItemRef;
use crate::span::Span;

use super::{Hole, Spot};

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
            }
        })
        .collect();
    holes.sort_by(|a, b| a.span.low.total_cmp(&b.span.low).then_with(|| a.name.cmp(&b.name)));
    holes
}

/// The points and fittings of `wall`.
pub(super) fn spots(wall: &Wall, length: f64) -> Vec<Spot> {
    let station = |from: WallEnd, distance: f64| match from {
        WallEnd::Start => distance,
        WallEnd::End => length - distance,
    };
    let points = wall.points.iter().map(|p| Spot {
        of: ItemRef::Point(p.name.clone()),
        label: p.kind.label().to_string(),
        face: p.face,
        span: Span::about(station(p.from, p.distance), p.size.0),
        heights: Span::about(p.height, p.size.1),
        sunk: true,
        is_pipe: matches!(p.kind, PointKind::Pipe | PointKind::Waste | PointKind::Duct),
    });
    let fittings = wall.fittings.iter().map(|f| Spot {
        of: ItemRef::Fitting(f.name.clone()),
        label: "fitting".into(),
        face: f.face,
        span: Span::about(station(f.from, f.distance), f.width),
        heights: Span::between(f.bottom, f.top),
        sunk: false,
        is_pipe: false,
    });
    points.chain(fittings).collect()
}
