//! What timber shows at a face of a frame: what boards on it can be fixed to.

use crate::document::Face;
use crate::frame::Frame;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::span::Span;

/// A face of a piece that lies in the face of the frame, mm.
const FLUSH: f64 = 0.5;

/// What one piece shows.
struct Piece {
    along: Span,
    heights: Span,
    /// Its corners, when it is no upright or level rectangle.
    corners: Option<[(f64, f64); 4]>,
}

/// The timber at one face of a frame.
pub(super) struct Backing {
    pieces: Vec<Piece>,
}

impl Backing {
    pub(super) fn of(spec: &WallSpec, frame: &Frame, face: Face) -> Backing {
        let flush = |across: Span| match face {
            Face::Right => across.low <= spec.frame.low + FLUSH,
            Face::Left => across.high >= spec.frame.high - FLUSH,
        };
        let pieces = frame.members.iter().filter(|m| flush(m.solid.across())).map(|m| {
            let corners = m.solid.elevation(face);
            let spread = |of: &dyn Fn(&(f64, f64)) -> f64| {
                let values = corners.iter().map(of);
                let empty = (f64::INFINITY, f64::NEG_INFINITY);
                let (low, high) = values.fold(empty, |(a, b), v| (a.min(v), b.max(v)));
                Span { low, high }
            };
            let (along, heights) = (spread(&|c| c.0), spread(&|c| c.1));
            let on_edge = |c: &(f64, f64)| {
                let on = |v: f64, s: Span| (v - s.low).abs() < SAME || (v - s.high).abs() < SAME;
                on(c.0, along) && on(c.1, heights)
            };
            let corners = (!corners.iter().all(on_edge)).then_some(corners);
            Piece { along, heights, corners }
        });
        Backing { pieces: pieces.collect() }
    }

    /// Timber that shows as upright and level rectangles.
    pub(super) fn flat(pieces: impl Iterator<Item = (Span, Span)>) -> Backing {
        let piece = |(along, heights)| Piece { along, heights, corners: None };
        Backing { pieces: pieces.map(piece).collect() }
    }

    /// Middles of the upright pieces that stand between two stations, in order.
    pub(super) fn middles(&self, along: Span, least: f64) -> Vec<f64> {
        let upright = |p: &&Piece| p.heights.length() > least.max(p.along.length());
        let mut middles: Vec<f64> = self
            .pieces
            .iter()
            .filter(upright)
            .map(|p| p.along.centre())
            .filter(|m| along.contains(*m))
            .collect();
        middles.sort_by(f64::total_cmp);
        middles.dedup_by(|a, b| (*a - *b).abs() < SAME);
        middles
    }

    /// What the upright pieces cover along the wall and how high they are, the highest first.
    pub(super) fn uprights(&self) -> Vec<(Span, f64)> {
        let upright = |p: &&Piece| p.heights.length() > p.along.length();
        let mut list: Vec<&Piece> = self.pieces.iter().filter(upright).collect();
        list.sort_by(|a, b| {
            let key = |p: &Piece| (-p.heights.length(), p.along.low);
            key(a).0.total_cmp(&key(b).0).then(key(a).1.total_cmp(&key(b).1))
        });
        list.into_iter().map(|p| (p.along, p.heights.length())).collect()
    }

    /// What level and sloping pieces cover in height at a station.
    pub(super) fn lying_at(&self, s: f64) -> Vec<Span> {
        let lying = |p: &&Piece| p.heights.length() <= p.along.length() || p.corners.is_some();
        self.pieces.iter().filter(lying).filter_map(|p| p.at(s)).collect()
    }

    /// What timber of every kind covers in height at a station, from the floor up.
    pub(super) fn timber_at(&self, s: f64) -> Vec<Span> {
        let mut all: Vec<Span> = self.pieces.iter().filter_map(|p| p.at(s)).collect();
        all.sort_by(|a, b| a.low.total_cmp(&b.low));
        let mut timber: Vec<Span> = Vec::with_capacity(all.len());
        for span in all {
            match timber.last_mut() {
                Some(last) if span.low <= last.high + SAME => last.high = last.high.max(span.high),
                _ => timber.push(span),
            }
        }
        timber
    }

    /// How much of `heights` has no timber behind it all the way across `strip`, mm.
    pub(super) fn bare(&self, strip: Span, heights: &[Span]) -> f64 {
        let inner = strip.grown(-SAME);
        let near: Vec<&Piece> = self.pieces.iter().filter(|p| p.along.overlaps(strip)).collect();
        // Pieces side by side carry it together, so it is looked at along both its edges and its middle.
        [inner.low, inner.centre(), inner.high]
            .into_iter()
            .map(|s| heights.iter().map(|h| bare_at(&near, s, *h)).sum::<f64>())
            .fold(0.0, f64::max)
    }

    /// The stretches of a level line over `along` that have no timber for `bearing` above and below it.
    pub(super) fn bare_along(&self, height: f64, along: Span, bearing: f64) -> Vec<Span> {
        let edge = Span { low: height - bearing, high: height + bearing }.grown(-SAME);
        let carries = |p: &&Piece| p.corners.is_none() && p.heights.covers(edge);
        let stands: Vec<Span> = self.pieces.iter().filter(carries).map(|p| p.along).collect();
        along.without(&stands)
    }
}

/// How much of `heights` has no timber behind it at a station, mm.
fn bare_at(pieces: &[&Piece], s: f64, heights: Span) -> f64 {
    let mut bare = 0.0;
    let mut up_to = heights.low;
    while up_to < heights.high - SAME {
        // The top of what stands there, or else the foot of what comes next.
        let (mut top, mut next) = (up_to, heights.high);
        for piece in pieces.iter().filter_map(|p| p.at(s)) {
            if piece.low <= up_to + SAME {
                top = top.max(piece.high);
            } else {
                next = next.min(piece.low);
            }
        }
        if top <= up_to + SAME {
            bare += next - up_to;
            top = next;
        }
        up_to = top;
    }
    bare
}

impl Piece {
    /// What of it is at a station.
    fn at(&self, s: f64) -> Option<Span> {
        if !self.along.contains(s) {
            return None;
        }
        let Some(corners) = self.corners else { return Some(self.heights) };
        let empty = (f64::INFINITY, f64::NEG_INFINITY);
        let (low, high) = (0..4).fold(empty, |(low, high), i| {
            let (a, b) = (corners[i], corners[(i + 1) % 4]);
            let span = Span::between(a.0, b.0);
            if !span.contains(s) {
                return (low, high);
            }
            let share = if span.length() > SAME { (s - a.0) / (b.0 - a.0) } else { 0.0 };
            let z = a.1 + (b.1 - a.1) * share;
            (low.min(z), high.max(z))
        });
        (low < high).then_some(Span { low, high })
    }
}
