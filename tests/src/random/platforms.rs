//! Platforms nobody thought of: anywhere about the walls, of any kind, with holes wherever they fall.

use std::sync::Arc;

use layout_core::document::{
    Bearing, Edit, Job, Platform, PlatformHole, PlatformHoleKind, PlatformKind, PlatformSpan,
    Timber,
};
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use super::Random;

/// Adds one to `job`.
pub(super) fn add(job: &mut Job, r: &mut Random) {
    let kind = r.pick(&PlatformKind::ALL);
    let corner = job.nodes.first().map_or(PlanPoint::origin(), |n| n.at);
    let size = (r.mm(300.0, 4000.0), r.mm(300.0, 4000.0));
    let level = r.mm(1800.0, 2350.0);
    let mut p = Platform::new(job.free_platform_name(kind), kind, corner, size, level);
    p.turn_deg = r.pick(&[0.0, 90.0, 37.0]);
    let section = [(46.0, 97.0), (38.0, 63.0), (47.0, 145.0), (22.0, 97.0)];
    let (thickness, depth) = r.pick(&section);
    p.timber = Timber::new(thickness, depth, r.pick(&["C16", "C24"]));
    p.front = r.pick(&[None, Some(Timber::new(38.0, 63.0, "C16"))]);
    p.centres = r.pick(&[300.0, 400.0, 406.4, 600.0]);
    p.span = r.pick(&[PlatformSpan::Shorter, PlatformSpan::Width, PlatformSpan::Depth]);
    p.bearings = (r.pick(&Bearing::ALL), r.pick(&Bearing::ALL));
    p.noggins_apart = r.pick(&[600.0, 1350.0]);
    p.load = r.pick(&[None, Some(0.25), Some(1.0)]);
    for _ in 0..r.below(4) {
        let kind = r.pick(&[PlatformHoleKind::Fan, PlatformHoleKind::Hatch]);
        let (w, d) = p.size;
        let so_far = Edit::PutPlatform(Arc::new(p.clone())).apply(job);
        p.holes.push(PlatformHole {
            name: so_far.free_platform_hole_name(kind),
            kind,
            at: (r.mm(0.0, w), r.mm(0.0, d)),
            size: r.pick(&[(150.0, 150.0), (600.0, 600.0), (560.0, 900.0), (100.0, 300.0)]),
        });
    }
    *job = Edit::PutPlatform(Arc::new(p)).apply(job);
}

/// An edit that a hand might make to a platform of `job`, now and then.
pub(super) fn edit(job: &Job, r: &mut Random) -> Option<Edit> {
    let platform = job.platforms.first()?;
    let mut p = Platform::clone(platform);
    match r.below(12) {
        0 => p.level += r.mm(-50.0, 50.0),
        1 => p.size.0 = r.mm(300.0, 4000.0),
        2 => p.corner.x += r.mm(-50.0, 50.0),
        3 => {
            let hole = p.holes.first_mut()?;
            hole.at.0 += r.mm(-100.0, 100.0);
            return Some(Edit::PutPlatformHole { platform: p.name.clone(), hole: hole.clone() });
        }
        4 => return Some(Edit::Remove(ItemRef::Platform(p.name))),
        5 => {
            let item = ItemRef::Platform(p.name);
            return Some(Edit::Rename { item, to: "Another".into() });
        }
        _ => return None,
    }
    Some(Edit::PutPlatform(Arc::new(p)))
}

/// Puts a senseless number in a platform of `job`.
pub(super) fn absurd(job: &mut Job, value: f64, r: &mut Random) {
    add(job, r);
    let Some(p) = job.platforms.last_mut() else { return };
    let p = Arc::make_mut(p);
    match r.below(9) {
        0 => p.corner.x = value,
        1 => p.size = (value, 600.0),
        2 => p.size.1 = value,
        3 => p.turn_deg = value,
        4 => p.level = value,
        5 => p.timber = Timber::new(value, 97.0, "C16"),
        6 => p.centres = value,
        7 => p.noggins_apart = value,
        _ => {
            let hole = PlatformHole {
                name: "odd".into(),
                kind: PlatformHoleKind::Hatch,
                at: (value, 300.0),
                size: (value, 200.0),
            };
            p.holes.extend([hole.clone(), hole]);
        }
    }
}
