//! First fix bay by bay: what the electrician and the plumber do between one pair of studs and the next.

use crate::frame::Frame;
use crate::id::{ItemRef, Mark};
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::span::Span;

use super::{Bore, Held, Runs, held};

/// One bay between two full-height uprights.
#[derive(Clone, Debug, PartialEq)]
pub struct BayList {
    /// The uprights it lies between.
    pub between: [Mark; 2],
    /// Its clear width along the wall.
    pub clear: Span,
    /// The points in it, from the floor up.
    pub points: Vec<ItemRef>,
    /// What its boxes hang on.
    pub held: Vec<Held>,
    /// Holes and notches in the upright at its start, and in what lies in it.
    pub bores: Vec<Bore>,
}

/// The bays of a wall that have something in them, in order along it. Those of the upright that ends the last
/// are with that bay.
pub fn by_bay(spec: &WallSpec, frame: &Frame, runs: &Runs) -> Vec<BayList> {
    let mut uprights: Vec<(Span, Mark)> = frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height())
        .map(|m| (m.solid.stations(), m.mark))
        .collect();
    uprights.sort_by(|a, b| a.0.low.total_cmp(&b.0.low));
    let held = held(spec, frame);
    let mut spots: Vec<_> = spec.spots.iter().filter(|s| s.sunk).collect();
    spots.sort_by(|a, b| a.heights.low.total_cmp(&b.heights.low));
    let mut list: Vec<BayList> = Vec::new();
    let pairs = uprights.windows(2).filter(|p| p[0].0.gap(p[1].0) > SAME);
    let bays: Vec<(Span, [Mark; 2])> =
        pairs.map(|p| (Span { low: p[0].0.high, high: p[1].0.low }, [p[0].1, p[1].1])).collect();
    for (i, &(clear, between)) in bays.iter().enumerate() {
        // From the end of the bay before it to its own end; the first and the last take the ends of the wall.
        let low = if i == 0 { f64::NEG_INFINITY } else { bays[i - 1].0.high };
        let high = if i + 1 == bays.len() { f64::INFINITY } else { clear.high };
        let here = |s: f64| s >= low && s < high;
        let points: Vec<ItemRef> =
            spots.iter().filter(|s| here(s.span.centre())).map(|s| s.of.clone()).collect();
        let bores: Vec<Bore> = runs.bores.iter().filter(|b| here(b.station)).cloned().collect();
        if !points.is_empty() || !bores.is_empty() {
            let held = held.iter().filter(|h| points.contains(&h.of)).cloned().collect();
            list.push(BayList { between, clear, points, held, bores });
        }
    }
    list
}
