//! What may be taken out of a piece of timber that carries nothing but boards.

/// A hole is no wider than this share of the depth of its stud: non-bearing studs, IRC R602.6 (2018).
pub const HOLE_SHARE: f64 = 0.6;
/// This much wood is left beside a hole, mm: 5/8 in, IRC R602.6 (2018).
pub const HOLE_EDGE: f64 = 16.0;
/// A notch is no deeper than this share of the depth of its stud: non-bearing studs, IRC R602.6 (2018).
pub const NOTCH_SHARE: f64 = 0.4;

/// The widest hole in the middle of a piece `depth` deep, mm.
pub fn largest_hole(depth: f64) -> f64 {
    (HOLE_SHARE * depth).min(depth - 2.0 * HOLE_EDGE).max(0.0)
}

/// The deepest notch in the face of a piece `depth` deep, mm.
pub fn deepest_notch(depth: f64) -> f64 {
    NOTCH_SHARE * depth
}
