//! How good a fit is: what each measurement is out by, how far the others check it, what is not held.
//!
//! Residuals, redundancy and data snooping as in Baarda, A Testing Procedure for Use in Geodetic
//! Networks (1968).

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::fit::{Frame, Kind, Row, cost, normal};
use crate::math::{PlanPoint, crosses};

/// A standardised residual beyond this happens to a good measurement once in a thousand times.
pub(super) const SNOOP: f64 = 3.29;
/// A shape that could give way by more than this within the expected errors is not held, mm.
const GIVES_WAY: f64 = 100.0;
/// How well a rough shape is taken to be known when nothing holds it, mm.
const ROUGH: f64 = 1000.0;
/// Below this share of its own error in the residual a measurement is not checked by the others.
const UNCHECKED: f64 = 1e-6;
/// Measurements whose standardised residuals are as large as this share of the largest cannot be told from it.
const ALIKE: f64 = 0.99;
/// Scores that differ by less than this share are the same: the first in order counts.
const SAME_SCORE: f64 = 0.01;
/// Rounds the search for the principal directions may take.
const MOST_ROUNDS: usize = 10_000;

/// What one measurement is out by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Judged {
    pub(super) computed: f64,
    pub(super) checked: f64,
    pub(super) standardised: Option<f64>,
}

/// A fit, judged.
#[derive(Clone, Debug)]
pub(super) struct Judgement {
    pub(super) rows: Vec<Judged>,
    pub(super) freedom: usize,
    pub(super) redundancy: usize,
    pub(super) spread: Option<f64>,
    pub(super) closes: bool,
    pub(super) suspects: Vec<usize>,
    /// How well each corner is known, mm; `None` where it is not held.
    pub(super) corners: Vec<Option<f64>>,
    /// The distances that would hold what is not held, the most helpful first.
    pub(super) wanted: Vec<(usize, usize)>,
}

/// The principal directions of what is measured: how firmly each is held.
struct Directions {
    firmness: DVector<f64>,
    along: DMatrix<f64>,
}

impl Directions {
    fn of(matrix: DMatrix<f64>) -> Directions {
        let n = matrix.nrows();
        match SymmetricEigen::try_new(matrix, f64::EPSILON, MOST_ROUNDS) {
            Some(e) => Directions { firmness: e.eigenvalues, along: e.eigenvectors },
            None => Directions { firmness: DVector::zeros(n), along: DMatrix::identity(n, n) },
        }
    }

    fn is_held(&self, k: usize) -> bool {
        self.firmness[k] > (1.0 / GIVES_WAY).powi(2)
    }

    fn freedom(&self) -> usize {
        (0..self.firmness.len()).filter(|&k| !self.is_held(k)).count()
    }

    /// The variance of a linear measure of the shape, from the directions that are held.
    fn variance(&self, slope: &DVector<f64>) -> f64 {
        (0..self.firmness.len())
            .filter(|&k| self.is_held(k))
            .map(|k| self.along.column(k).dot(slope).powi(2) / self.firmness[k])
            .sum()
    }

    /// How much of a linear measure lies in directions that are not held.
    fn loose(&self, slope: &DVector<f64>) -> f64 {
        (0..self.firmness.len())
            .filter(|&k| !self.is_held(k))
            .map(|k| self.along.column(k).dot(slope).powi(2))
            .sum::<f64>()
            .sqrt()
    }

    /// What is not known of the shape, with the rough shape counted as known to a metre.
    fn spread(&self) -> DMatrix<f64> {
        let n = self.firmness.len();
        let mut q = DMatrix::zeros(n, n);
        for k in 0..n {
            let v = self.along.column(k);
            q += v * v.transpose() / (self.firmness[k].max(0.0) + ROUGH.powi(-2));
        }
        q
    }
}

/// Judges `corners` as fitted to `rows`.
pub(super) fn judge(rows: &[Row], frame: Frame, corners: &[PlanPoint]) -> Judgement {
    let directions = Directions::of(normal(rows, frame, corners).0);
    let freedom = directions.freedom();
    let held = frame.unknowns() - freedom;
    let redundancy = rows.len().saturating_sub(held);
    let judged: Vec<Judged> = rows
        .iter()
        .map(|row| {
            let (computed, slopes) = row.kind.computed(corners);
            let slope = frame.gradient(&slopes) / row.error;
            let checked = (1.0 - directions.variance(&slope)).clamp(0.0, 1.0);
            let left = (row.value - computed) / row.error;
            let is_checked = checked > UNCHECKED && redundancy > 0;
            let standardised = is_checked.then(|| left / checked.sqrt());
            Judged { computed, checked: if is_checked { checked } else { 0.0 }, standardised }
        })
        .collect();
    let total = cost(rows, corners);
    let spread = (redundancy > 0).then(|| (total / redundancy as f64).sqrt());
    let size = |j: &Judged| j.standardised.map_or(0.0, f64::abs);
    let most = judged.iter().map(size).fold(0.0, f64::max);
    let closes = most <= SNOOP && total <= chance(redundancy).max(1e-9);
    let suspects = if closes {
        Vec::new()
    } else {
        (0..judged.len()).filter(|&i| size(&judged[i]) >= most * ALIKE && most > 0.0).collect()
    };
    let known = |corner: usize| {
        let axes = [0, 1].map(|axis| {
            let mut slope = DVector::zeros(frame.unknowns());
            if let Some(k) = frame.column(corner, axis) {
                slope[k] = 1.0;
            }
            slope
        });
        let is_held = axes.iter().all(|s| directions.loose(s) < 0.01);
        is_held.then(|| axes.iter().map(|s| directions.variance(s)).sum::<f64>().sqrt())
    };
    let known = (0..frame.count).map(known).collect();
    let wanted = wanted(rows, frame, corners, &directions, redundancy);
    Judgement {
        rows: judged,
        freedom,
        redundancy,
        spread,
        closes,
        suspects,
        corners: known,
        wanted,
    }
}

/// The sum of squares that good measurements with so many checks exceed once in a thousand times: the
/// chi-square distribution by the approximation of Wilson and Hilferty (1931).
fn chance(checks: usize) -> f64 {
    if checks == 0 {
        return f64::INFINITY;
    }
    let n = checks as f64;
    let ninth = 2.0 / (9.0 * n);
    n * (1.0 - ninth + 3.0902 * ninth.sqrt()).powi(3)
}

/// Distances to measure next: those that take most freedom away until none is left; one that checks
/// the others when nothing does.
fn wanted(
    rows: &[Row],
    frame: Frame,
    corners: &[PlanPoint],
    directions: &Directions,
    redundancy: usize,
) -> Vec<(usize, usize)> {
    let n = frame.count;
    let measured = |a: usize, b: usize| {
        rows.iter().any(|r| match r.kind {
            Kind::Between(i, j) => (i.min(j), i.max(j)) == (a, b),
            _ => false,
        })
    };
    let pairs = || (0..n).flat_map(move |a| (a + 1..n).map(move |b| (a, b)));
    let open: Vec<(usize, usize)> = pairs().filter(|&(a, b)| !measured(a, b)).collect();
    // A tape that runs inside the room where there is one that helps; through a wall if not.
    for inside in [true, false] {
        let mut open: Vec<(usize, usize, DVector<f64>)> = open
            .iter()
            .filter(|&&(a, b)| !inside || can_be_seen(corners, a, b))
            .map(|&(a, b)| (a, b, frame.gradient(&Kind::Between(a, b).computed(corners).1)))
            .collect();
        let mut spread = directions.spread();
        let mut freedom = directions.freedom();
        let mut found = Vec::new();
        let mut checks = redundancy;
        while freedom > 0 || checks == 0 {
            let score = |slope: &DVector<f64>| slope.dot(&(&spread * slope));
            let best = open.iter().enumerate().fold(None, |best: Option<(usize, f64)>, (i, c)| {
                let score = score(&c.2);
                match best {
                    Some((_, most)) if score <= most * (1.0 + SAME_SCORE) => best,
                    _ => Some((i, score)),
                }
            });
            let Some((i, most)) = best else { break };
            if freedom > 0 && most < GIVES_WAY * GIVES_WAY {
                break;
            }
            let (a, b, slope) = open.remove(i);
            let moved = &spread * &slope;
            spread -= &moved * moved.transpose() / (9.0 + most);
            found.push((a, b));
            if freedom > 0 {
                freedom -= 1;
            } else {
                checks += 1;
            }
        }
        if freedom == 0 || !inside {
            return found;
        }
    }
    Vec::new()
}

/// True when a tape can be pulled straight from one corner to the other inside the room, or along a side.
fn can_be_seen(corners: &[PlanPoint], a: usize, b: usize) -> bool {
    let n = corners.len();
    if (a + 1) % n == b || (b + 1) % n == a {
        return true;
    }
    let tape = (corners[a], corners[b]);
    let sides = || (0..n).map(|i| (i, (i + 1) % n));
    let clear = sides()
        .filter(|&(i, j)| ![i, j].contains(&a) && ![i, j].contains(&b))
        .all(|(i, j)| !crosses(tape, (corners[i], corners[j])));
    let middle = nalgebra::center(&tape.0, &tape.1);
    let crossings = sides().filter(|&(i, j)| {
        let (p, q) = (corners[i], corners[j]);
        (p.y > middle.y) != (q.y > middle.y)
            && middle.x < p.x + (middle.y - p.y) / (q.y - p.y) * (q.x - p.x)
    });
    clear && crossings.count() % 2 == 1
}

/// True when `corners` go round a room without a side crossing another.
pub(super) fn goes_round(corners: &[PlanPoint]) -> bool {
    let n = corners.len();
    let side = |i: usize| (corners[i], corners[(i + 1) % n]);
    let long = (0..n).all(|i| (side(i).1 - side(i).0).norm() >= 1.0);
    let apart = |i: usize, j: usize| (i == 0 && j + 1 == n) || !crosses(side(i), side(j));
    n >= 3 && long && (0..n).all(|i| (i + 2..n).all(|j| apart(i, j)))
}
