//! The fit: the corners that agree best with what was measured, by weighted least squares.
//!
//! Levenberg and Marquardt's damping of Gauss and Newton's step, steered as in Madsen, Nielsen and
//! Tingleff, Methods for Non-Linear Least Squares Problems (2004), algorithm 3.16.

use nalgebra::{DMatrix, DVector};

use crate::math::{PlanPoint, PlanVector, cross, is_place, left_of};

/// Steps before giving up on coming nearer.
const MOST_STEPS: usize = 200;
/// A step shorter than this comes no nearer, mm.
const STILL: f64 = 1e-10;
/// A step shorter than this is taken without asking whether it comes nearer, mm.
const NEAR: f64 = 1e-2;
/// How much of the curvature the damping is to begin with, and the least of it.
const DAMPING: (f64, f64) = (1e-3, 1e-12);
/// Out of square is told in mm in a metre.
const METRE: f64 = 1000.0;

/// What one measurement is of; corners by their place in the order round the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Kind {
    /// From one corner to another.
    Between(usize, usize),
    /// Off the line from the second to the third; to its right when the last is true.
    Offset(usize, usize, usize, bool),
    /// Out of square at the middle of three.
    Square(usize, usize, usize),
}

/// A measurement that counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) kind: Kind,
    pub(super) value: f64,
    pub(super) error: f64,
}

/// How a computed measurement changes as corners move.
type Slopes = [(usize, PlanVector); 3];

impl Kind {
    /// What would be measured at `corners`, and how it changes as they move.
    pub(super) fn computed(&self, corners: &[PlanPoint]) -> (f64, Slopes) {
        let none = (0, PlanVector::zeros());
        match *self {
            Kind::Between(a, b) => {
                let (u, length) = direction(corners[a], corners[b]);
                (length, [(a, -u), (b, u), none])
            }
            Kind::Offset(c, a, b, right) => {
                let (u, length) = direction(corners[a], corners[b]);
                let w = corners[c] - corners[a];
                let n = left_of(u);
                let share = if length > 0.0 { w.dot(&u) / length } else { 0.0 };
                let sign = if right { -1.0 } else { 1.0 };
                let slopes =
                    [(c, n * sign), (a, n * -sign * (1.0 - share)), (b, n * -sign * share)];
                (cross(u, w) * sign, slopes)
            }
            Kind::Square(a, p, b) => {
                let (u, to_a) = direction(corners[p], corners[a]);
                let (v, to_b) = direction(corners[p], corners[b]);
                let cos = u.dot(&v);
                let by_a = (v - u * cos) * (-METRE / to_a.max(1.0));
                let by_b = (u - v * cos) * (-METRE / to_b.max(1.0));
                (-METRE * cos, [(a, by_a), (b, by_b), (p, -by_a - by_b)])
            }
        }
    }
}

/// Direction and distance; corners that coincide are taken as apart along x.
fn direction(a: PlanPoint, b: PlanPoint) -> (PlanVector, f64) {
    let d = b - a;
    let length = d.norm();
    if length > 0.0 { (d / length, length) } else { (PlanVector::new(1.0, 0.0), 0.0) }
}

/// Which corner stays where it is and which way its first side runs: the rest is free to move.
/// Fitting works with that corner at the origin and that side along x.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    pub(super) held: usize,
    pub(super) count: usize,
}

impl Frame {
    /// How many numbers are to be found.
    pub(super) fn unknowns(&self) -> usize {
        (2 * self.count).saturating_sub(3)
    }

    /// The end of the first side, which moves along it only.
    fn first(&self) -> usize {
        (self.held + 1) % self.count.max(1)
    }

    /// Where the unknown of a corner's x or y (0 or 1) stands; `None` for what is held.
    pub(super) fn column(&self, corner: usize, axis: usize) -> Option<usize> {
        let k = (corner + self.count - self.held) % self.count.max(1);
        match k {
            0 => None,
            1 => (axis == 0).then_some(0),
            k => Some(1 + 2 * (k - 2) + axis),
        }
    }

    /// `corners` with the held one at the origin and the first side along x.
    pub(super) fn local(&self, corners: &[PlanPoint]) -> Vec<PlanPoint> {
        let (u, _) = direction(corners[self.held], corners[self.first()]);
        let turn = |p: &PlanPoint| {
            let d = p - corners[self.held];
            PlanPoint::new(d.dot(&u), cross(u, d))
        };
        corners.iter().map(turn).collect()
    }

    /// The slopes of one measurement, over the unknowns.
    pub(super) fn gradient(&self, slopes: &Slopes) -> DVector<f64> {
        let mut row = DVector::zeros(self.unknowns());
        for (corner, slope) in slopes {
            for axis in 0..2 {
                if let Some(k) = self.column(*corner, axis) {
                    row[k] += slope[axis];
                }
            }
        }
        row
    }

    fn moved(&self, corners: &[PlanPoint], step: &DVector<f64>) -> Vec<PlanPoint> {
        let shifted = |(i, p): (usize, &PlanPoint)| {
            let by = |axis| self.column(i, axis).map_or(0.0, |k| step[k]);
            PlanPoint::new(p.x + by(0), p.y + by(1))
        };
        corners.iter().enumerate().map(shifted).collect()
    }
}

/// The sum of the squares of what is left, each in its own expected error.
pub(super) fn cost(rows: &[Row], corners: &[PlanPoint]) -> f64 {
    rows.iter().map(|r| ((r.value - r.kind.computed(corners).0) / r.error).powi(2)).sum()
}

/// Normal matrix and right-hand side at `corners`.
pub(super) fn normal(
    rows: &[Row],
    frame: Frame,
    corners: &[PlanPoint],
) -> (DMatrix<f64>, DVector<f64>) {
    let n = frame.unknowns();
    let (mut matrix, mut right) = (DMatrix::zeros(n, n), DVector::zeros(n));
    for row in rows {
        let (computed, slopes) = row.kind.computed(corners);
        let left = (row.value - computed) / row.error;
        let mut entries = [(0, 0.0); 6];
        let mut used = 0;
        for (corner, slope) in slopes {
            for axis in 0..2 {
                if let Some(k) = frame.column(corner, axis) {
                    entries[used] = (k, slope[axis] / row.error);
                    used += 1;
                }
            }
        }
        for &(i, a) in &entries[..used] {
            right[i] += a * left;
            for &(j, b) in &entries[..used] {
                matrix[(i, j)] += a * b;
            }
        }
    }
    (matrix, right)
}

/// The corners near `start`, which are in the frame's own place, that agree best with `rows`.
pub(super) fn fit(rows: &[Row], frame: Frame, start: &[PlanPoint]) -> Vec<PlanPoint> {
    let mut corners = damped(rows, frame, start);
    // Sums of squares tell nothing about the last fraction of a thousandth: there the step itself does.
    let mut before = NEAR;
    for _ in 0..MOST_STEPS {
        let (mut matrix, right) = normal(rows, frame, &corners);
        let least = matrix.diagonal().max().max(1e-6) * DAMPING.1;
        for k in 0..frame.unknowns() {
            matrix[(k, k)] += least;
        }
        let Some(step) = matrix.cholesky().map(|c| c.solve(&right)) else { break };
        let length = step.norm();
        if length >= before * 0.9 || !length.is_finite() {
            break;
        }
        before = length;
        corners = frame.moved(&corners, &step);
        if before <= STILL {
            break;
        }
    }
    corners
}

fn damped(rows: &[Row], frame: Frame, start: &[PlanPoint]) -> Vec<PlanPoint> {
    let mut corners = start.to_vec();
    let mut left = cost(rows, &corners);
    let (mut matrix, mut right) = normal(rows, frame, &corners);
    let steepest = matrix.diagonal().max().max(1e-6);
    let mut damping = steepest * DAMPING.0;
    let mut harder = 2.0;
    for _ in 0..MOST_STEPS {
        let mut damped = matrix.clone();
        for k in 0..frame.unknowns() {
            damped[(k, k)] += damping;
        }
        let Some(step) = damped.cholesky().map(|c| c.solve(&right)) else {
            damping *= harder;
            harder *= 2.0;
            continue;
        };
        let moved = frame.moved(&corners, &step);
        if step.norm() <= STILL || !moved.iter().all(|p| is_place(p.x) && is_place(p.y)) {
            break;
        }
        let now = cost(rows, &moved);
        let foretold = step.dot(&(&step * damping + &right));
        let gain = (left - now) / foretold.max(f64::MIN_POSITIVE);
        if now <= left {
            let enough = left - now <= 1e-15 * left && step.norm() < 1e-7;
            corners = moved;
            left = now;
            if enough {
                break;
            }
            (matrix, right) = normal(rows, frame, &corners);
            damping = (damping * (1.0 - (2.0 * gain - 1.0).powi(3)).max(1.0 / 3.0))
                .max(steepest * DAMPING.1);
            harder = 2.0;
        } else {
            damping *= harder;
            harder *= 2.0;
        }
        if damping > 1e12 * steepest {
            break;
        }
    }
    corners
}
