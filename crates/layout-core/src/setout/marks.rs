//! The marks on the plates of one wall: one pull of the tape for sole and head together.
//!
//! ```text
//!   start                                     end      each mark is one edge of a piece;
//!   ├────┬──────────┬──────────┬───────────┬───┤       its cross goes on the far side of it,
//!   │╲╱  │╲╱        │╲╱        │╲╱         │╲╱ │       so that nobody plants it a thickness off
//!   0    400        800        1200        …
//! ```

use crate::frame::{Frame, Member, Role};
use crate::id::{Kind, Mark};
use crate::math::{SAME, same};
use crate::profile::Profile;
use crate::resolve::WallSpec;
use crate::span::Span;

/// Which plates a mark goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum On {
    /// Sole and head, side by side, so that they agree.
    Both,
    /// The sole only: jacks, and what stands under a sill.
    Sole,
    /// The head only: what stands over an opening.
    Head,
}

impl On {
    /// “sole + head”, “sole”, “head”.
    pub fn label(self) -> &'static str {
        match self {
            On::Both => "sole + head",
            On::Sole => "sole",
            On::Head => "head",
        }
    }
}

/// One mark on a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateMark {
    /// From the start of the frame to the edge of the piece that is nearer to it, mm.
    pub at: f64,
    /// From the end of the frame back to the same edge, mm.
    pub back: f64,
    /// The same edge along the head plate, measured on its slope from the plumb line through the start of the frame, mm; equal to
    /// `at` under a level head.
    pub along_head: f64,
    /// The piece. It stands on the far side of the mark, and so does the cross.
    pub member: Mark,
    /// What it does.
    pub role: Role,
    /// Which plates it goes on.
    pub on: On,
}

/// The marks of a wall in order along it: every full-height upright, every jack, and the cripples over and under its openings.
pub fn marks(spec: &WallSpec, frame: &Frame) -> Vec<PlateMark> {
    let along = spec.along();
    let mut marks: Vec<PlateMark> = frame
        .members
        .iter()
        .filter_map(|m| {
            let on = plates_of(spec, m)?;
            let edge = m.solid.stations().low;
            Some(PlateMark {
                at: edge - along.low,
                back: along.high - edge,
                along_head: along_slope(&spec.head, Span { low: along.low, high: edge }),
                member: m.mark,
                role: m.role,
                on,
            })
        })
        // A ground planted beyond the end stud of an angled end goes to the end of the plate.
        .filter(|mark| mark.at > -SAME)
        .collect();
    marks.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.member.cmp(&b.member)));
    marks
}

fn plates_of(spec: &WallSpec, m: &Member) -> Option<On> {
    match m.mark.kind {
        Kind::Stud => Some(On::Both),
        Kind::Jack => Some(On::Sole),
        Kind::Cripple => {
            let (at, up) = (m.solid.stations().centre(), m.solid.heights());
            let is_under = |h: &crate::resolve::Hole| {
                h.span.grown(SAME).contains(at) && h.sill.is_some_and(|sill| up.high <= sill + SAME)
            };
            Some(if spec.holes.iter().any(is_under) { On::Sole } else { On::Head })
        }
        _ => None,
    }
}

/// How long `profile` is over a stretch of the wall, measured on its slope, mm. A step has no length.
pub fn along_slope(profile: &Profile, over: Span) -> f64 {
    if over.length() < SAME {
        return over.length();
    }
    profile.stretches(over).iter().map(|s| s.span.length() * 1.0_f64.hypot(s.slope())).sum()
}

/// True when the head plate is marked at other figures than the sole: under a slope.
pub fn is_raked(marks: &[PlateMark]) -> bool {
    marks.iter().any(|m| m.on != On::Sole && !same(m.at, m.along_head))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slope_is_longer_than_its_plan() {
        // 3-4-5: three up over four along is five on the slope.
        let slope = Profile::through(vec![(0.0, 0.0), (4000.0, 3000.0)]);
        let whole = along_slope(&slope, Span { low: 0.0, high: 4000.0 });
        assert!((whole - 5000.0).abs() < 1e-9);
        let level = along_slope(&Profile::level(2400.0), Span { low: 100.0, high: 700.0 });
        assert!((level - 600.0).abs() < 1e-9);
        // Up to a ridge and down again: both slopes count.
        let ridge = Profile::through(vec![(0.0, 0.0), (400.0, 300.0), (800.0, 0.0)]);
        let over = along_slope(&ridge, Span { low: 0.0, high: 800.0 });
        assert!((over - 1000.0).abs() < 1e-9);
    }
}
