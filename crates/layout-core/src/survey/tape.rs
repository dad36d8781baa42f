//! Setting out backwards, with a tape and nothing else: two distances to a point, three-four-five at
//! a corner, the diagonals that prove a square.

use crate::math::{PlanPoint, PlanVector, SAME};

/// Tapes that cross at a smaller angle than this mark no point, radians.
const LEAST_CROSSING: f64 = 0.01;

/// Two tapes that meet at a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoTapes {
    /// The fixed points they are held at, from 0, the lower first.
    pub from: (usize, usize),
    /// How far each is pulled, mm.
    pub pulled: (f64, f64),
    /// The angle at which they cross, radians, up to a right angle: the nearer that, the surer.
    pub crossing: f64,
}

/// The two of `fixed` from which tapes to `point` cross nearest to square, and what they read. `None` when
/// no two give a crossing: fewer than two, all in line with the point, or the point on one of them.
pub fn two_tapes(point: PlanPoint, fixed: &[PlanPoint]) -> Option<TwoTapes> {
    let pairs = (0..fixed.len()).flat_map(|i| (i + 1..fixed.len()).map(move |j| (i, j)));
    let tried = pairs.filter_map(|(i, j)| {
        let (a, b): (PlanVector, PlanVector) = (fixed[i] - point, fixed[j] - point);
        let pulled = (a.norm(), b.norm());
        if !(pulled.0 > SAME && pulled.1 > SAME) {
            return None;
        }
        let crossing = crate::math::cross(a, b).abs().atan2(a.dot(&b).abs());
        (crossing > LEAST_CROSSING).then_some(TwoTapes { from: (i, j), pulled, crossing })
    });
    // As good a crossing with less tape to pull is better; then the first.
    let reach = |t: &TwoTapes| t.pulled.0 + t.pulled.1;
    tried.reduce(|best, next| {
        let surer = next.crossing - best.crossing;
        if surer > 1e-6 || (surer > -1e-6 && reach(&next) < reach(&best) - SAME) {
            next
        } else {
            best
        }
    })
}

/// Three, four and five in whole multiples of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreeFourFive {
    /// Along the first side, mm.
    pub first: f64,
    /// Along the second side, mm.
    pub second: f64,
    /// From end to end when the corner is square, mm.
    pub across: f64,
}

/// The biggest three-four-five that fits a corner whose sides are `first` and `second` long: four goes along the
/// longer. Three, four and five times a whole number of `step` (100 mm, or a foot). `None` when not
/// even one fits.
pub fn three_four_five(first: f64, second: f64, step: f64) -> Option<ThreeFourFive> {
    if ![first, second].iter().all(|side| side.is_finite()) || step <= 0.0 {
        return None;
    }
    let (short, long) = (first.min(second), first.max(second));
    let times = ((short / 3.0).min(long / 4.0) / step + 1e-9).floor();
    if times < 1.0 || !times.is_finite() {
        return None;
    }
    let of = |n: f64| n * times * step;
    let (first, second) = if first <= second { (of(3.0), of(4.0)) } else { (of(4.0), of(3.0)) };
    Some(ThreeFourFive { first, second, across: of(5.0) })
}

/// A diagonal of a room: its two corners, from 0, and its length, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagonal {
    /// The corners it runs between, the lower first.
    pub between: (usize, usize),
    /// Its length.
    pub length: f64,
}

/// Every diagonal of `corners`: what a tape must read when the room is set out as drawn.
pub fn diagonals(corners: &[PlanPoint]) -> Vec<Diagonal> {
    let n = corners.len();
    let pairs = (0..n).flat_map(|a| (a + 2..n).map(move |b| (a, b)));
    pairs
        .filter(|&(a, b)| a != 0 || b + 1 != n)
        .map(|(a, b)| Diagonal { between: (a, b), length: (corners[b] - corners[a]).norm() })
        .collect()
}

/// The diagonal of a rectangle: both must read this when it is square.
pub fn square_diagonal(width: f64, height: f64) -> f64 {
    width.hypot(height)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn diagonals_of_rectangles_by_pythagoras() {
        // Pythagoras, computed: 2400×1200, 2400×3000, 2400×3600.
        for (w, h, d) in
            [(2400.0, 1200.0, 2683.28), (2400.0, 3000.0, 3841.87), (2400.0, 3600.0, 4326.66)]
        {
            assert!((square_diagonal(w, h) - d).abs() < 0.005, "{w}×{h}");
            let room = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(|(x, y)| PlanPoint::new(x, y));
            let both = diagonals(&room);
            assert_eq!(both.iter().map(|d| d.between).collect::<Vec<_>>(), [(0, 2), (1, 3)]);
            assert!(both.iter().all(|x| (x.length - d).abs() < 0.005));
        }
    }

    #[test]
    fn the_biggest_three_four_five_that_fits() {
        let got = three_four_five(3650.0, 2900.0, 100.0).unwrap();
        assert_eq!((got.first, got.second, got.across), (3600.0, 2700.0, 4500.0));
        let got = three_four_five(950.0, 4000.0, 100.0).unwrap();
        assert_eq!((got.first, got.second, got.across), (900.0, 1200.0, 1500.0));
        // Twelve feet and nine: exactly three times three, four and five feet.
        let got = three_four_five(9.0 * 304.8, 12.0 * 304.8, 304.8).unwrap();
        assert!((got.across - 15.0 * 304.8).abs() < 1e-9);
        assert_eq!(three_four_five(250.0, 4000.0, 100.0), None);
        assert_eq!(three_four_five(f64::NAN, 4000.0, 100.0), None);
        assert_eq!(three_four_five(900.0, 4000.0, 0.0), None);
    }

    #[test]
    fn two_tapes_cross_as_squarely_as_they_can() {
        let room = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)];
        let room = room.map(|(x, y)| PlanPoint::new(x, y));
        // From corners 1 and 2 at the middle of a 3-4-5 leg: square by Thales where the point is on the circle.
        let point = PlanPoint::new(2000.0, 2000.0);
        let got = two_tapes(point, &room).unwrap();
        assert_eq!(got.from, (0, 1));
        assert!((got.crossing - std::f64::consts::FRAC_PI_2).abs() < 1e-9);
        let pulled = 8e6_f64.sqrt();
        assert!((got.pulled.0 - pulled).abs() < 1e-9 && (got.pulled.1 - pulled).abs() < 1e-9);
        // On a side the far corners cross; on a corner two others do.
        assert!(two_tapes(PlanPoint::new(1000.0, 0.0), &room).is_some());
        assert_eq!(two_tapes(room[0], &room).unwrap().from, (1, 3));
        assert_eq!(two_tapes(point, &room[..1]), None);
        assert_eq!(two_tapes(PlanPoint::new(500.0, 0.0), &room[..2]), None);
    }
}
