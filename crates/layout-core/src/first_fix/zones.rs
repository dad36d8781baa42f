//! Where cables may run in a wall and are looked for: BS 7671, 522.6.202.

use crate::document::{Face, Rule};
use crate::id::ItemRef;
use crate::math::SAME;
use crate::profile::Profile;
use crate::resolve::{Edge, WallSpec, side};
use crate::span::Span;

/// Why there is a zone.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// Along the top of the wall.
    Top,
    /// Beside an angle between two walls.
    Angle,
    /// Straight up and down from a point.
    Upright(ItemRef),
    /// Straight to either side of a point.
    Level(ItemRef),
}

/// A stretch of a face in which cables may run.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// The face it is on.
    pub face: Face,
    /// Why it is there.
    pub why: Why,
    /// What it covers along the wall.
    pub span: Span,
    /// From where it goes up.
    pub low: Profile,
    /// To where.
    pub high: Profile,
    /// True when its point is on the other face, and the wall is thin enough for it to count here too.
    pub from_behind: bool,
}

impl Zone {
    /// The point it is of.
    pub fn of_point(&self) -> Option<&ItemRef> {
        match &self.why {
            Why::Upright(of) | Why::Level(of) => Some(of),
            Why::Top | Why::Angle => None,
        }
    }

    /// True when a place is in it.
    pub fn contains(&self, station: f64, height: f64) -> bool {
        let (low, high) = (self.low.at(station), self.high.at(station));
        self.span.grown(SAME).contains(station) && height > low - SAME && height < high + SAME
    }
}

/// The zones of both faces of a wall.
pub fn zones(spec: &WallSpec) -> Vec<Zone> {
    let mut zones = Vec::new();
    let width = spec.rules.value(Rule::CableZone);
    let through = spec.rules.value(Rule::ZoneThrough);
    for face in [Face::Right, Face::Left] {
        let top = &spec.head;
        for run in &spec.faces[side(face)] {
            let span = run.seen;
            let zone =
                |why, span, low, high| Zone { face, why, span, low, high, from_behind: false };
            zones.push(zone(Why::Top, span, top.offset(-width), top.clone()));
            let floor = || Profile::level(0.0);
            let beside = [
                Span::from(span.low, width.min(span.length())),
                Span { low: span.high - width.min(span.length()), high: span.high },
            ];
            for (edge, beside) in run.edges.into_iter().zip(beside) {
                if matches!(edge, Edge::Existing | Edge::Inside | Edge::Outside) {
                    zones.push(zone(Why::Angle, beside, floor(), top.clone()));
                }
            }
        }
        for spot in spec.spots.iter().filter(|s| s.is_wired) {
            let from_behind = spot.face != face;
            if from_behind && spec.finished.length() > through + SAME {
                continue;
            }
            let mut runs = spec.faces[side(face)].iter().map(|run| run.seen);
            let Some(run) = runs.find(|r| r.contains(spot.span.centre())) else {
                continue;
            };
            let zone = |why, span, low: f64, high| Zone {
                face,
                why,
                span,
                low: Profile::level(low),
                high,
                from_behind,
            };
            let (up, across) = free(spec, spot.span, spot.heights, run);
            let ceiling = if up.high.is_finite() { Profile::level(up.high) } else { top.clone() };
            zones.push(zone(Why::Upright(spot.of.clone()), spot.span, up.low, ceiling));
            let high = Profile::level(spot.heights.high);
            zones.push(zone(Why::Level(spot.of.clone()), across, spot.heights.low, high));
        }
    }
    zones
}

/// How far up and down, and to either side, a straight run from a point gets before it comes to an opening.
fn free(spec: &WallSpec, span: Span, heights: Span, run: Span) -> (Span, Span) {
    let mut up = Span { low: 0.0, high: f64::INFINITY };
    let mut across = run;
    for hole in &spec.holes {
        let void = Span { low: hole.sill.unwrap_or(0.0), high: hole.top };
        if hole.span.overlaps(span) {
            if void.low >= heights.high {
                up.high = up.high.min(void.low);
            } else {
                up.low = up.low.max(void.high.min(heights.low));
            }
        }
        if void.overlaps(heights) {
            if hole.span.low >= span.high {
                across.high = across.high.min(hole.span.low);
            } else if hole.span.high <= span.low {
                across.low = across.low.max(hole.span.high);
            }
        }
    }
    (up, across)
}
