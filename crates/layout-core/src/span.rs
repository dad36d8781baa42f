//! A stretch of one axis, from a lower to a higher value: the width of a stud along a wall, the
//! height of an opening, the depth of a frame.

use crate::math::SAME;

/// A closed stretch `[low, high]` in millimetres. An empty span has `high <= low`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The lower end.
    pub low: f64,
    /// The higher end.
    pub high: f64,
}

impl Span {
    /// The span between two values given in either order.
    pub fn between(a: f64, b: f64) -> Span {
        Span { low: a.min(b), high: a.max(b) }
    }

    /// A span of `length` starting at `low`.
    pub fn from(low: f64, length: f64) -> Span {
        Span { low, high: low + length }
    }

    /// A span of `length` with its middle at `centre`.
    pub fn about(centre: f64, length: f64) -> Span {
        Span { low: centre - length / 2.0, high: centre + length / 2.0 }
    }

    /// How long it is; negative when it is inside out.
    pub fn length(self) -> f64 {
        self.high - self.low
    }

    /// Its middle.
    pub fn centre(self) -> f64 {
        (self.low + self.high) / 2.0
    }

    /// True when the two share more than a touching end.
    pub fn overlaps(self, other: Span) -> bool {
        self.low < other.high - SAME && other.low < self.high - SAME
    }

    /// True when `other` lies wholly inside, ends allowed.
    pub fn covers(self, other: Span) -> bool {
        self.low <= other.low + SAME && other.high <= self.high + SAME
    }

    /// True when `value` is inside or on an end.
    pub fn contains(self, value: f64) -> bool {
        self.low - SAME <= value && value <= self.high + SAME
    }

    /// The clear space between the two; negative when they overlap.
    pub fn gap(self, other: Span) -> f64 {
        (other.low - self.high).max(self.low - other.high)
    }

    /// The same span moved by `by`.
    pub fn moved(self, by: f64) -> Span {
        Span { low: self.low + by, high: self.high + by }
    }

    /// The same span grown by `by` at both ends.
    pub fn grown(self, by: f64) -> Span {
        Span { low: self.low - by, high: self.high + by }
    }

    /// From the lower of both starts to the higher of both ends.
    pub fn hull(self, other: Span) -> Span {
        Span { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// The part both share; empty (high < low) when they are apart.
    pub fn intersection(self, other: Span) -> Span {
        Span { low: self.low.max(other.low), high: self.high.min(other.high) }
    }

    /// What is left of this span when the `holes` are taken out, in order. `holes` may come in any
    /// order and may overlap.
    pub fn without(self, holes: &[Span]) -> Vec<Span> {
        let mut sorted: Vec<Span> = holes.iter().copied().filter(|h| h.length() > SAME).collect();
        sorted.sort_by(|a, b| a.low.total_cmp(&b.low));
        let mut rest = Vec::new();
        let mut from = self.low;
        for hole in sorted {
            if hole.low - from > SAME {
                rest.push(Span { low: from, high: hole.low.min(self.high) });
            }
            from = from.max(hole.high);
            if from >= self.high - SAME {
                break;
            }
        }
        if self.high - from > SAME {
            rest.push(Span { low: from, high: self.high });
        }
        rest.retain(|s| s.length() > SAME);
        rest
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_with_two_doors_cut_out_leaves_three_pieces() {
        let plate = Span::between(0.0, 5000.0);
        let holes = [Span::from(3000.0, 838.0), Span::from(1000.0, 838.0)];
        let rest: Vec<_> = plate.without(&holes).iter().map(|s| (s.low, s.high)).collect();
        assert_eq!(rest, [(0.0, 1000.0), (1838.0, 3000.0), (3838.0, 5000.0)]);
    }

    #[test]
    fn holes_past_the_ends_and_over_each_other_are_harmless() {
        let plate = Span::between(0.0, 1000.0);
        let rest = plate.without(&[
            Span::between(-50.0, 100.0),
            Span::between(400.0, 700.0),
            Span::between(500.0, 600.0),
            Span::between(990.0, 2000.0),
        ]);
        let rest: Vec<_> = rest.iter().map(|s| (s.low, s.high)).collect();
        assert_eq!(rest, [(100.0, 400.0), (700.0, 990.0)]);
        assert!(plate.without(&[Span::between(-1.0, 1001.0)]).is_empty());
    }

    #[test]
    fn touching_is_not_overlapping() {
        let a = Span::from(0.0, 46.0);
        assert!(!a.overlaps(Span::from(46.0, 46.0)));
        assert!(a.overlaps(Span::from(45.0, 46.0)));
        assert_eq!(a.gap(Span::from(86.0, 46.0)), 40.0);
    }
}
