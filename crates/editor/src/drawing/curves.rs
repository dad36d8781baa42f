//! Curves that are no arcs as short straight lines: ellipses, and splines with their weights.

use std::f64::consts::TAU;

/// A straight line strays from its curve by no more than this share of the curve's own size.
const STRAY: f64 = 0.0005;
/// A stretch between two knots is halved no more often than this.
const HALVINGS: u32 = 7;
/// No program draws splines of a higher degree.
const HIGHEST: usize = 11;

/// Points along an ellipse, both ends among them: `major` from its middle to the end of its long axis, the short one
/// `ratio` of that, a quarter turn on (back, when `flipped`).
pub(super) fn ellipse(
    centre: [f64; 2],
    major: [f64; 2],
    (ratio, flipped): (f64, bool),
    [from, turn]: [f64; 2],
    step: f64,
) -> Vec<[f64; 2]> {
    let way = if flipped { -ratio } else { ratio };
    let minor = [-major[1] * way, major[0] * way];
    let count = (turn.abs() / step).ceil().clamp(2.0, (TAU / step).ceil()) as u32;
    (0..=count)
        .map(|i| {
            let (sin, cos) = (from + turn * f64::from(i) / f64::from(count)).sin_cos();
            [0, 1].map(|k| centre[k] + major[k] * cos + minor[k] * sin)
        })
        .collect()
}

/// A spline as a file has it.
#[derive(Clone, Debug, Default)]
pub(super) struct Spline {
    pub(super) degree: usize,
    pub(super) knots: Vec<f64>,
    /// The points that pull it.
    pub(super) controls: Vec<[f64; 2]>,
    /// How hard each does; all alike when there are none.
    pub(super) weights: Vec<f64>,
    /// The points it goes through: what it is made of when it has no others.
    pub(super) places: Vec<[f64; 2]>,
}

impl Spline {
    /// Points along it, both ends among them; `None` when its numbers do not belong together.
    pub(super) fn points(mut self) -> Option<Vec<[f64; 2]>> {
        if self.controls.is_empty() {
            self = self.through_places()?;
        }
        let (n, p) = (self.controls.len(), self.degree);
        let fits = (1..=HIGHEST).contains(&p)
            && n > p
            && self.knots.len() == n + p + 1
            && self.knots.windows(2).all(|k| k[0] <= k[1])
            && self.knots[p] < self.knots[n]
            && (self.weights.is_empty() || self.weights.len() == n)
            && self.weights.iter().all(|w| *w > 0.0);
        if !fits {
            return None;
        }
        let extent = |axis: usize| {
            let values = || self.controls.iter().map(move |c| c[axis]);
            values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
        };
        let stray = STRAY * extent(0).max(extent(1));
        let mut points = vec![self.at(self.knots[p])];
        for span in self.knots[p..=n].windows(2).filter(|k| k[0] < k[1]) {
            // Halved once whatever it looks like: an S has its middle on its chord.
            let middle = f64::midpoint(span[0], span[1]);
            for half in [[span[0], middle], [middle, span[1]]] {
                let ends = half.map(|t| self.at(t));
                self.halved(half, ends, stray, HALVINGS, &mut points);
            }
        }
        points.iter().flatten().all(|v| v.is_finite()).then_some(points)
    }

    /// Adds what follows the start of a stretch: its end, and what lies between when that strays from the straight.
    fn halved(
        &self,
        [from, to]: [f64; 2],
        [a, b]: [[f64; 2]; 2],
        stray: f64,
        left: u32,
        points: &mut Vec<[f64; 2]>,
    ) {
        let middle = f64::midpoint(from, to);
        let m = self.at(middle);
        if left == 0 || distance(m, a, b) <= stray {
            points.push(b);
            return;
        }
        self.halved([from, middle], [a, m], stray, left - 1, points);
        self.halved([middle, to], [m, b], stray, left - 1, points);
    }

    /// Its place at a parameter, by de Boor's recursion on weighted points.
    fn at(&self, t: f64) -> [f64; 2] {
        let (p, n) = (self.degree, self.controls.len());
        let span = self.knots[p + 1..n].partition_point(|k| *k <= t) + p;
        let weight = |i: usize| self.weights.get(i).copied().unwrap_or(1.0);
        let mut d: Vec<[f64; 3]> = (span - p..=span)
            .map(|i| {
                let ([x, y], w) = (self.controls[i], weight(i));
                [x * w, y * w, w]
            })
            .collect();
        for r in 1..=p {
            for j in (r..=p).rev() {
                let (low, high) = (self.knots[span - p + j], self.knots[span + 1 + j - r]);
                let share = if high > low { (t - low) / (high - low) } else { 0.0 };
                d[j] = [0, 1, 2].map(|k| d[j - 1][k] * (1.0 - share) + d[j][k] * share);
            }
        }
        let [x, y, w] = d[p];
        [x / w, y / w]
    }

    /// The cubic spline through its places that is straight at both ends: parameters by the chords, slope and bend going on
    /// through every place (a natural spline, as drawing programs make of such points).
    fn through_places(self) -> Option<Spline> {
        let mut places = self.places;
        places.dedup();
        let steps: Vec<f64> =
            places.windows(2).map(|c| (c[1][0] - c[0][0]).hypot(c[1][1] - c[0][1])).collect();
        if steps.is_empty() {
            return None;
        }
        let bends = natural_bends(&places, &steps);
        // Piece by piece: each place once, and two points between it and the next.
        let (mut controls, mut knots, mut along) = (vec![places[0]], vec![0.0; 4], 0.0);
        for (i, h) in steps.iter().enumerate() {
            let (a, b) = (places[i], places[i + 1]);
            let slope = |k: usize, at_start: bool| {
                let (m, n) = (bends[i][k], bends[i + 1][k]);
                let bent = if at_start { -(2.0 * m + n) } else { m + 2.0 * n };
                (b[k] - a[k]) / h + h * bent / 6.0
            };
            controls.push([0, 1].map(|k| a[k] + slope(k, true) * h / 3.0));
            controls.push([0, 1].map(|k| b[k] - slope(k, false) * h / 3.0));
            controls.push(b);
            along += h;
            knots.extend([along; 3]);
        }
        knots.push(along);
        Some(Spline { degree: 3, knots, controls, ..Spline::default() })
    }
}

/// The second derivatives of the natural cubic spline at its places: none at its ends. By elimination of three diagonals
/// (Press and others, Numerical Recipes, 3.3).
fn natural_bends(places: &[[f64; 2]], steps: &[f64]) -> Vec<[f64; 2]> {
    let n = places.len();
    let mut bends = vec![[0.0; 2]; n];
    let mut shares = vec![0.0; n];
    for i in 1..n - 1 {
        let (before, after) = (steps[i - 1], steps[i]);
        let whole = 2.0 * (before + after) - before * shares[i - 1];
        shares[i] = after / whole;
        bends[i] = [0, 1].map(|k| {
            let turn = (places[i + 1][k] - places[i][k]) / after
                - (places[i][k] - places[i - 1][k]) / before;
            (6.0 * turn - before * bends[i - 1][k]) / whole
        });
    }
    for i in (1..n - 1).rev() {
        bends[i] = [0, 1].map(|k| bends[i][k] - shares[i] * bends[i + 1][k]);
    }
    bends
}

/// How far a point is from a straight line between two.
fn distance(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (d, f) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
    let length = d[0] * d[0] + d[1] * d[1];
    let share =
        if length > 0.0 { ((f[0] * d[0] + f[1] * d[1]) / length).clamp(0.0, 1.0) } else { 0.0 };
    (f[0] - d[0] * share).hypot(f[1] - d[1] * share)
}

#[cfg(test)]
mod tests {
    use super::*;

    // The NURBS Book, example 7.1: a quarter of a circle is a parabola with the weights 1, √2/2, 1.
    #[test]
    fn a_weighted_spline_is_a_true_quarter_circle() {
        let quarter = Spline {
            degree: 2,
            knots: vec![0.0, 0.0, 0.0, 1.0, 1.0, 1.0],
            controls: vec![[100.0, 0.0], [100.0, 100.0], [0.0, 100.0]],
            weights: vec![1.0, 0.5f64.sqrt(), 1.0],
            places: Vec::new(),
        };
        let points = quarter.points().unwrap();
        assert!(points.len() > 8, "{}", points.len());
        assert!(points.iter().all(|p| (p[0].hypot(p[1]) - 100.0).abs() < 1e-9));
        assert_eq!((points[0], points[points.len() - 1]), ([100.0, 0.0], [0.0, 100.0]));
        let chords = points.windows(2).map(|c| {
            let m = [f64::midpoint(c[0][0], c[1][0]), f64::midpoint(c[0][1], c[1][1])];
            100.0 - m[0].hypot(m[1])
        });
        assert!(chords.fold(0.0, f64::max) <= 0.05);
    }

    #[test]
    fn a_spline_goes_through_its_places() {
        let places = vec![[0.0, 0.0], [10.0, 5.0], [20.0, -3.0], [35.0, 4.0], [36.0, 20.0]];
        let spline = Spline { degree: 3, places: places.clone(), ..Spline::default() };
        let points = spline.points().unwrap();
        for place in places {
            let near = points
                .windows(2)
                .map(|c| distance(place, c[0], c[1]))
                .fold(f64::INFINITY, f64::min);
            assert!(near < 0.05, "{place:?}: {near}");
        }
        let two = Spline { degree: 3, places: vec![[0.0; 2], [1.0; 2]], ..Spline::default() };
        assert!(two.points().unwrap().len() >= 2);
    }

    #[test]
    fn numbers_that_do_not_belong_together_are_no_spline() {
        let sound = Spline {
            degree: 1,
            knots: vec![0.0, 0.0, 1.0, 1.0],
            controls: vec![[0.0, 0.0], [1.0, 1.0]],
            ..Spline::default()
        };
        assert!(sound.clone().points().is_some());
        assert!(Spline { degree: 0, ..sound.clone() }.points().is_none());
        assert!(Spline { knots: vec![0.0, 1.0, 0.0, 1.0], ..sound.clone() }.points().is_none());
        assert!(Spline { knots: vec![0.0; 4], ..sound.clone() }.points().is_none());
        assert!(Spline { weights: vec![1.0], ..sound.clone() }.points().is_none());
        assert!(Spline { weights: vec![1.0, 0.0], ..sound.clone() }.points().is_none());
        assert!(Spline { controls: Vec::new(), ..sound }.points().is_none());
        let heap = Spline { degree: 3, places: vec![[1.0, 1.0]; 5], ..Spline::default() };
        assert!(heap.points().is_none());
    }

    #[test]
    fn an_ellipse_goes_through_the_ends_of_its_axes() {
        let all = ellipse([1.0, 2.0], [0.0, 4.0], (0.5, false), [0.0, TAU], TAU / 72.0);
        assert_eq!(all.len(), 73);
        let near = |p: [f64; 2]| all.iter().any(|q| (p[0] - q[0]).hypot(p[1] - q[1]) < 1e-9);
        assert!([[1.0, 6.0], [-1.0, 2.0], [1.0, -2.0], [3.0, 2.0]].into_iter().all(near));
        let quarter = [0.0, TAU / 4.0];
        let ends = [false, true].map(|f| ellipse([0.0; 2], [4.0, 0.0], (0.5, f), quarter, 0.1));
        let last = ends.map(|points| points[points.len() - 1][1].round());
        assert_eq!(last, [2.0, -2.0]);
    }
}
