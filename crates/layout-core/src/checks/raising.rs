//! Raising: whether a frame nailed together on the floor goes up under the ceiling.

use crate::document::Raising;
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// A frame is taller while it is tilted up than when it stands: √(H² + d²), corner to corner.
pub(super) fn tilts(spec: &WallSpec, snags: &mut Vec<Snag>) {
    if spec.raising != Raising::Tilted {
        return;
    }
    let along = spec.along();
    if along.length() <= SAME {
        return;
    }
    let depth = spec.frame.length();
    let mut stations = vec![along.low, along.high];
    for profile in [&spec.head, &spec.bed, &spec.ceiling, &spec.floor] {
        stations.extend(profile.stretches(along).iter().map(|s| s.span.high));
    }
    let tight = stations.into_iter().map(|s| {
        let (height, clear) =
            (spec.head.before(s) - spec.bed.at(s), spec.ceiling.before(s) - spec.floor.at(s));
        (s, height, height.hypot(depth), clear)
    });
    let Some((at, height, diagonal, clear)) =
        tight.max_by(|a, b| (a.2 - a.3).total_cmp(&(b.2 - b.3)))
    else {
        return;
    };
    if diagonal <= clear + SAME {
        return;
    }
    let units = spec.units;
    let fits = (clear * clear - depth * depth).max(0.0).sqrt();
    let message = format!(
        "The frame of wall {}, {} high and {} deep, is {} from corner to corner: there is {} to tilt it up in",
        spec.name,
        units.show(height),
        units.show(depth),
        units.fine(diagonal),
        units.show(clear)
    );
    let remedy = format!(
        "Build it in place, leave {} more at its head and pack, or put the head plate up first.",
        units.with_unit(units.up(height - fits))
    );
    snags.push(
        Snag::new(Code::CannotTilt, ItemRef::Wall(spec.name.clone()), message, remedy)
            .in_wall(&spec.name, at)
            .measured(diagonal, clear),
    );
}
