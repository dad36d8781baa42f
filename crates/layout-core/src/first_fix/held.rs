//! What each box hangs on.

use crate::frame::{BOX_REACHES, Frame};
use crate::id::{ItemRef, Mark};
use crate::math::SAME;
use crate::resolve::{Spot, WallSpec};

/// A box and the timber it hangs on.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The box.
    pub of: ItemRef,
    /// The nearest piece: beside it, else under or over it; `None` where there is none.
    pub by: Option<Mark>,
}

/// What the boxes of a wall that hang on timber hang on.
pub fn held(spec: &WallSpec, frame: &Frame) -> Vec<Held> {
    let hang = |spot: &Spot| Held { of: spot.of.clone(), by: nearest(spec, frame, spot) };
    spec.spots.iter().filter(|s| s.hangs).map(hang).collect()
}

fn nearest(spec: &WallSpec, frame: &Frame, spot: &Spot) -> Option<Mark> {
    let across = spec.into_from(spot.face, spot.depth);
    let mut best: Option<(f64, Mark)> = None;
    for member in frame.members.iter().filter(|m| m.solid.across().overlaps(across)) {
        let (s, z) = (member.solid.stations(), member.solid.heights());
        let beside = z.overlaps(spot.heights).then(|| s.gap(spot.span).max(0.0));
        // Beside is better than under or over: one screw through the side of the box.
        let over = s.overlaps(spot.span).then(|| z.gap(spot.heights).max(0.0) + BOX_REACHES);
        for (gap, most) in [(beside, BOX_REACHES), (over, 2.0 * BOX_REACHES)] {
            if let Some(gap) = gap
                && gap <= most + SAME
                && best.is_none_or(|(least, _)| gap < least)
            {
                best = Some((gap, member.mark));
            }
        }
    }
    best.map(|(_, mark)| mark)
}
