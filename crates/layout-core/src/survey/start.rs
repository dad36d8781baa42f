//! Where the fit begins: the room built up from its measurements, one corner after the other.

use super::fit::{Kind, Row, cost};
use crate::math::{PlanPoint, PlanVector, area, left_of};

/// A distance nobody has measured is begun with this, mm.
const UNKNOWN: f64 = 3000.0;

/// The room as its tape distances would have it drawn with compasses, anticlockwise from corner
/// `first` at the origin. What they leave open is drawn as a square corner.
pub(super) fn construct(rows: &[Row], count: usize, first: usize) -> Vec<PlanPoint> {
    let between = |a: usize, b: usize| {
        rows.iter().find_map(|r| match r.kind {
            Kind::Between(i, j) if (i, j) == (a, b) || (j, i) == (a, b) => Some(r.value),
            _ => None,
        })
    };
    let order: Vec<usize> = (0..count).map(|k| (first + k) % count).collect();
    let mut placed: Vec<Option<PlanPoint>> = vec![None; count];
    placed[first] = Some(PlanPoint::origin());
    while placed.iter().any(Option::is_none) {
        let known = |c: usize| -> Vec<(PlanPoint, f64)> {
            let other = |&o: &usize| Some((placed[o]?, between(c, o)?));
            order.iter().filter_map(other).collect()
        };
        // The corner with most distances to what stands already, the first of them round the room.
        let next = order
            .iter()
            .filter(|&&c| placed[c].is_none())
            .map(|&c| (c, known(c)))
            .reduce(|best, c| if c.1.len().min(3) > best.1.len().min(3) { c } else { best });
        let Some((corner, known)) = next else { break };
        let at = match known[..] {
            [] | [_] => walk_on(&placed, corner, count, known.first().map(|k| k.1)),
            _ => meet_circles(&known),
        };
        placed[corner] = Some(at);
    }
    let corners: Vec<PlanPoint> = placed.into_iter().flatten().collect();
    better_of(rows, corners)
}

/// The other corner of a square turned left, walking round the room from the corner before.
fn walk_on(
    placed: &[Option<PlanPoint>],
    corner: usize,
    count: usize,
    distance: Option<f64>,
) -> PlanPoint {
    let back = |k: usize| placed[(corner + count - k) % count];
    let from = back(1).or_else(|| placed.iter().flatten().last().copied()).unwrap_or_default();
    let ahead = match back(2) {
        Some(before) if (from - before).norm() > 0.0 => left_of((from - before).normalize()),
        _ => PlanVector::new(1.0, 0.0),
    };
    from + ahead * distance.unwrap_or(UNKNOWN)
}

/// Where circles round two of the places known meet: of the two points the one that suits the other
/// distances, or, when there are none, the one to the left.
fn meet_circles(known: &[(PlanPoint, f64)]) -> PlanPoint {
    // The two places that are furthest apart give the clearest crossing.
    let pairs = (0..known.len()).flat_map(|i| (i + 1..known.len()).map(move |j| (i, j)));
    let apart = |(i, j): (usize, usize)| (known[j].0 - known[i].0).norm();
    let (i, j) = pairs.reduce(|a, b| if apart(b) > apart(a) { b } else { a }).unwrap_or((0, 1));
    let ((a, to_a), (b, to_b)) = (known[i], known[j]);
    let base = (b - a).norm();
    if base <= 0.0 {
        return a + PlanVector::new(0.0, to_a);
    }
    let u = (b - a) / base;
    let along = (to_a * to_a - to_b * to_b + base * base) / (2.0 * base);
    let off = (to_a * to_a - along * along).max(0.0).sqrt();
    let foot = a + u * along.clamp(-to_a.abs(), to_a.abs());
    let [left, right] = [foot + left_of(u) * off, foot - left_of(u) * off];
    let miss = |p: PlanPoint| -> f64 {
        known.iter().map(|(q, d)| ((p - q).norm() - d).powi(2)).sum::<f64>()
    };
    if miss(right) + 1.0 < miss(left) { right } else { left }
}

/// The room or its mirror image, whichever suits the offsets better.
fn better_of(rows: &[Row], corners: Vec<PlanPoint>) -> Vec<PlanPoint> {
    let mirrored = mirrored(&corners);
    let (here, there) = (cost(rows, &corners), cost(rows, &mirrored));
    let same = (here - there).abs() <= 1e-6 * (here + there);
    let other = if same { area(&corners) < 0.0 } else { there < here };
    if other { mirrored } else { corners }
}

/// The room as seen in a mirror that stands along x.
pub(super) fn mirrored(corners: &[PlanPoint]) -> Vec<PlanPoint> {
    corners.iter().map(|p| PlanPoint::new(p.x, -p.y)).collect()
}
