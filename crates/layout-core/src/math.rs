//! Every number that decides something: the tolerances, the rounding, and the points and
//! vectors the rest of the core is written in.
//!
//! Lengths are millimetres and angles radians everywhere inside the program. Degrees, feet and
//! inches exist only at the edge (see [`crate::units`]).

use nalgebra::{Point2, Point3, Vector2};

/// A point on the plan: x right, y up, millimetres from the job's origin.
pub type PlanPoint = Point2<f64>;
/// A direction or a shift on the plan, in millimetres.
pub type PlanVector = Vector2<f64>;
/// A point in wall coordinates: `x` along the wall from its start node (the *station*), `y`
/// towards the wall's left face, `z` up from the finished floor. Millimetres.
pub type WallPoint = Point3<f64>;

/// Two positions closer than this are the same position: a hundredth of a millimetre.
pub const SAME: f64 = 0.01;
/// How far a node may stand off a face or another wall's line and still be taken as on it.
pub const ON_LINE: f64 = 1.0;
/// Directions within this angle of square, in line or parallel are taken as exactly so.
pub const SQUARE: f64 = 1e-4;
/// Two uprights with less clear space than this between them, and not touching, are a sliver:
/// no nail gun fits. Common practice.
pub const SLIVER: f64 = 40.0;
/// The shortest piece the framer will place; anything less is left out.
pub const LEAST_PIECE: f64 = 10.0;
/// A wall under a slope ends where its studs would be shorter than this. Common practice.
pub const LEAST_STUD: f64 = 60.0;
/// The least bearing of one board edge on timber: half of the 38 mm that a joint between two
/// cut edges needs (10 + 13 mm edge distances, 6 mm to the edge of the timber).
pub const EDGE_BEARING: f64 = 19.0;

/// Half of the 32 mm that a joint between two bound edges needs.
pub const BOUND_EDGE: f64 = 16.0;
/// An end that is out of square by less than this over the piece is cut square: no saw is set to it.
pub const NEAR_SQUARE: f64 = 0.5;

/// Nothing further off, or higher, than this is framed: ten kilometres.
pub const FAR: f64 = 10_000_000.0;

/// True for a number that can be a place in a building.
pub fn is_place(value: f64) -> bool {
    value.is_finite() && value.abs() <= FAR
}

/// True when `a` and `b` are the same position.
pub fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME
}

/// A length or position as it is printed and cut: the nearest whole `step` (1 mm, 0.5 mm).
/// Half steps go up, and -0 becomes 0.
pub fn round_to(value: f64, step: f64) -> f64 {
    (value / step + 0.5).floor() * step + 0.0
}

/// The nearest whole millimetre.
pub fn round_mm(value: f64) -> i64 {
    (value + 0.5).floor() as i64
}

/// The left-hand normal of a plan direction: what `y` means in wall coordinates.
pub fn left_of(direction: PlanVector) -> PlanVector {
    PlanVector::new(-direction.y, direction.x)
}

/// z of the cross product: positive when `b` turns left from `a`.
pub fn cross(a: PlanVector, b: PlanVector) -> f64 {
    a.x * b.y - a.y * b.x
}

/// Where the line through `p` along `d` meets the line through `q` along `e`, as a distance along
/// `d` (in units of `d`); `None` when they are parallel.
pub fn meet(p: PlanPoint, d: PlanVector, q: PlanPoint, e: PlanVector) -> Option<f64> {
    let turn = cross(d, e);
    let scale = d.norm() * e.norm();
    (turn.abs() > SQUARE * scale && scale > 0.0).then(|| cross(q - p, e) / turn)
}

/// What of the convex polygon `shape` lies to the left of the line through `p` along `d`.
pub fn left_part(shape: &[PlanPoint], p: PlanPoint, d: PlanVector) -> Vec<PlanPoint> {
    let side = |q: PlanPoint| cross(d, q - p);
    let mut kept = Vec::with_capacity(shape.len() + 1);
    for (i, &a) in shape.iter().enumerate() {
        let b = shape[(i + 1) % shape.len()];
        let (from, to) = (side(a), side(b));
        if from >= 0.0 {
            kept.push(a);
        }
        if (from > 0.0 && to < 0.0) || (from < 0.0 && to > 0.0) {
            kept.push(a + (b - a) * (from / (from - to)));
        }
    }
    kept
}

/// Area of a polygon; positive when it runs anticlockwise.
pub fn area(shape: &[PlanPoint]) -> f64 {
    let n = shape.len();
    (0..n).map(|i| cross(shape[i].coords, shape[(i + 1) % n].coords)).sum::<f64>() / 2.0
}

/// True when two straight lines, each between its two ends, share any point.
pub fn crosses((a, b): (PlanPoint, PlanPoint), (c, d): (PlanPoint, PlanPoint)) -> bool {
    let side = |p: PlanPoint, q: PlanPoint, r: PlanPoint| cross(q - p, r - p);
    let (s1, s2) = (side(a, b, c), side(a, b, d));
    let (s3, s4) = (side(c, d, a), side(c, d, b));
    if (s1 > 0.0) != (s2 > 0.0) && (s3 > 0.0) != (s4 > 0.0) && s1 != s2 && s3 != s4 {
        return true;
    }
    let within = |p: PlanPoint, q: PlanPoint, r: PlanPoint| {
        let t = (r - p).dot(&(q - p)) / (q - p).norm_squared();
        (0.0..=1.0).contains(&t)
    };
    (s1 == 0.0 && within(a, b, c))
        || (s2 == 0.0 && within(a, b, d))
        || (s3 == 0.0 && within(c, d, a))
        || (s4 == 0.0 && within(c, d, b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_goes_to_the_nearest_step_and_never_to_minus_zero() {
        assert_eq!(round_mm(353.5), 354);
        assert_eq!(round_mm(-0.4), 0);
        assert_eq!(round_to(2326.26, 0.5), 2326.5);
        assert!(round_to(-0.1, 1.0).is_sign_positive());
    }

    #[test]
    fn lines_meet_or_run_parallel() {
        let x = PlanVector::new(1.0, 0.0);
        let y = PlanVector::new(0.0, 1.0);
        let at = meet(PlanPoint::origin(), x, PlanPoint::new(300.0, -50.0), y);
        approx::assert_relative_eq!(at.unwrap(), 300.0);
        assert_eq!(meet(PlanPoint::origin(), x, PlanPoint::new(0.0, 9.0), -x), None);
    }

    #[test]
    fn a_square_cut_on_its_diagonal_leaves_half() {
        let square =
            [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)].map(|(x, y)| PlanPoint::new(x, y));
        let half = left_part(&square, PlanPoint::origin(), PlanVector::new(1.0, 1.0));
        approx::assert_relative_eq!(area(&half), 8.0);
        assert!(left_part(&square, PlanPoint::new(0.0, 5.0), PlanVector::new(1.0, 0.0)).is_empty());
    }
}
