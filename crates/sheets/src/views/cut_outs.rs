//! What is cut out of a board and how its top runs, from its own lower left corner as one stands before it.

use layout_core::boards::{Piece, Shape};
use layout_core::document::Face;
use layout_core::id::{ItemRef, Name};
use layout_core::layout::WallLayout;
use layout_core::math::same;
use layout_core::span::Span;

/// A board as one stands before its face, to measure from.
#[derive(Clone, Copy)]
pub(crate) struct Own<'a> {
    pub(crate) face: Face,
    pub(crate) shape: &'a Shape,
}

/// Something that is cut out of a board: a rectangle, in the board or at its edge.
pub(crate) struct CutOut {
    pub(crate) of: ItemRef,
    /// “D1”, “X1”.
    pub(crate) name: Name,
    /// From the left edge of the board, mm.
    pub(crate) x: Span,
    /// From the foot of the board, mm.
    pub(crate) y: Span,
    /// True for the hole of a box, pipe or duct that lies wholly within the board: it is set out by its middle.
    pub(crate) is_centred: bool,
}

impl Own<'_> {
    /// Width of the board, mm.
    pub(crate) fn width(self) -> f64 {
        self.shape.stations().length()
    }

    /// A stretch of the wall from the left edge of the board, mm.
    fn across(self, stations: Span) -> Span {
        let board = self.shape.stations();
        match self.face {
            Face::Right => stations.moved(-board.low),
            Face::Left => Span { low: board.high - stations.high, high: board.high - stations.low },
        }
    }

    /// The station that lies `x` mm from the left edge of the board.
    pub(crate) fn station(self, x: f64) -> f64 {
        let board = self.shape.stations();
        match self.face {
            Face::Right => board.low + x,
            Face::Left => board.high - x,
        }
    }

    /// The corners of its top from left to right, each from its left edge and over its foot, mm; `None` when it is level.
    pub(crate) fn top(self) -> Option<Vec<[f64; 2]>> {
        let (along, up) = (self.shape.stations(), self.shape.heights());
        let ring = &self.shape.outline;
        // Anticlockwise the top is what lies between the highest corner on the right and the highest on the left.
        let highest = |station: f64| {
            let on = (0..ring.len()).filter(|&i| same(ring[i][0], station));
            on.max_by(|&a, &b| ring[a][1].total_cmp(&ring[b][1]))
        };
        let (from, to) = (highest(along.high)?, highest(along.low)?);
        let count = (to + ring.len() - from) % ring.len();
        let mut top: Vec<[f64; 2]> = (0..=count).map(|i| ring[(from + i) % ring.len()]).collect();
        let is_raked = |pair: &[[f64; 2]]| {
            !same(pair[0][0], pair[1][0]) && (pair[1][1] - pair[0][1]).abs() > 0.5
        };
        if !top.windows(2).any(is_raked) {
            return None;
        }
        if self.face == Face::Right {
            top.reverse();
        }
        let own = |[s, z]: [f64; 2]| {
            let x = self.across(Span { low: s, high: s }).low;
            [x, z - up.low]
        };
        Some(top.into_iter().map(own).collect())
    }
}

/// What is cut out of a board of a wall: for openings, then for boxes, pipes and ducts on its face, each from left to right.
pub(crate) fn cut_outs(wall: &WallLayout, face: Face, piece: &Piece) -> Vec<CutOut> {
    let spec = &wall.spec;
    let own = Own { face, shape: &piece.shape };
    let (along, up) = (piece.shape.stations(), piece.shape.heights());
    let part = |of: &ItemRef, name: &Name, stations: Span, heights: Span, is_point: bool| {
        let (s, z) = (stations.intersection(along), heights.intersection(up));
        // Not what lies past its edges, nor over its rake.
        let is_in = s.overlaps(along) && z.overlaps(up) && s.length() > 0.5 && z.length() > 0.5;
        (is_in && spec.head.range(s).high > z.low).then(|| CutOut {
            of: of.clone(),
            name: name.clone(),
            x: own.across(s),
            y: z.moved(-up.low),
            is_centred: is_point && along.covers(stations) && up.covers(heights),
        })
    };
    let openings = spec.holes.iter().filter_map(|hole| {
        let heights = Span { low: hole.sill.unwrap_or(f64::NEG_INFINITY), high: hole.top };
        let of = ItemRef::Opening(hole.name.clone());
        part(&of, &hole.name, hole.doorway(), heights, false)
    });
    let mut cuts: Vec<CutOut> = openings.collect();
    cuts.sort_by(|a, b| a.x.low.total_cmp(&b.x.low));
    let spots = spec.spots.iter().filter(|s| s.face == face && s.sunk);
    let boxes = spots.filter_map(|spot| {
        let ItemRef::Point(name) = &spot.of else { return None };
        let middle =
            [spot.span.intersection(along).centre(), spot.heights.intersection(up).centre()];
        let cut = part(&spot.of, name, spot.span, spot.heights, true);
        cut.filter(|_| piece.shape.contains(middle))
    });
    let mut boxes: Vec<CutOut> = boxes.collect();
    boxes.sort_by(|a, b| a.x.low.total_cmp(&b.x.low));
    cuts.extend(boxes);
    cuts
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Under a gable: 300 high at its start, 900 in its middle, 600 at its end.
    fn gable() -> Shape {
        let outline =
            vec![[1000.0, 10.0], [2200.0, 10.0], [2200.0, 610.0], [1600.0, 910.0], [1000.0, 310.0]];
        Shape { outline, holes: Vec::new() }
    }

    #[test]
    fn the_top_is_told_from_left_to_right_as_one_stands_before_it() {
        let shape = gable();
        let top = |face| Own { face, shape: &shape }.top().unwrap();
        assert_eq!(top(Face::Right), [[0.0, 300.0], [600.0, 900.0], [1200.0, 600.0]]);
        assert_eq!(top(Face::Left), [[0.0, 600.0], [600.0, 900.0], [1200.0, 300.0]]);
        let own = Own { face: Face::Left, shape: &shape };
        assert_eq!((own.station(0.0), own.station(1200.0)), (2200.0, 1000.0));
    }

    #[test]
    fn a_level_top_is_none_however_the_foot_is_cut() {
        let u = [[0.0, 0.0], [2.0, 0.0], [2.0, 20.0], [8.0, 20.0], [8.0, 0.0], [12.0, 0.0]];
        let outline = [u.to_vec(), vec![[12.0, 24.0], [0.0, 24.0]]].concat();
        let shape = Shape { outline, holes: Vec::new() };
        assert!(Own { face: Face::Right, shape: &shape }.top().is_none());
    }
}
