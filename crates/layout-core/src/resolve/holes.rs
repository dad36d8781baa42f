//! Where the openings, points and fittings of a wall are.

use crate::document::{OpeningKind, PointKind, Wall, WallEnd};
use crate::id::ItemRef;
use crate::span::Span;

use super::{Fixing, Hole, Spot};

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
    let points = wall.points.iter().map(|p| Spot {
        of: ItemRef::Point(p.name.clone()),
        label: p.kind.label().to_string(),
        span: Span::about(station(p.from, p.distance, length), p.size.0),
        heights: Span::about(p.height, p.size.1),
        sunk: true,
        is_pipe: matches!(p.kind, PointKind::Pipe | PointKind::Waste | PointKind::Duct),
        face: p.face,
        hangs: p.kind.is_box(),
    });
    let fittings = wall.fittings.iter().map(|f| Spot {
        of: ItemRef::Fitting(f.name.clone()),
        label: "fitting".into(),
        span: Span::about(station(f.from, f.distance, length), f.width),
        heights: Span::between(f.bottom, f.top),
        sunk: false,
        is_pipe: false,
        face: f.face,
        hangs: false,
    });
    points.chain(fittings).collect()
}

/// What the fittings of `wall` are fixed to.
pub(super) fn fixings(wall: &Wall, length: f64) -> Vec<Fixing> {
    let wants = wall.fittings.iter().filter(|f| !f.fixings.is_empty());
    wants
        .map(|f| Fixing {
            of: ItemRef::Fitting(f.name.clone()),
            span: Span::about(station(f.from, f.distance, length), f.width),
            face: f.face,
            heights: f.fixings.clone(),
            behind: f.behind,
            tolerance: f.tolerance,
        })
        .collect()
}

fn station(from: WallEnd, distance: f64, length: f64) -> f64 {
    match from {
        WallEnd::Start => distance,
        WallEnd::End => length - distance,
    }
}
