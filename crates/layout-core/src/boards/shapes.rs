//! What is left of a rectangle of a face under its top line and round its openings.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;

use crate::profile::Profile;
use crate::span::Span;

/// A place on a face: station along the wall and height above FFL, mm.
pub type FacePoint = [f64; 2];

/// Smaller than this, mm², a shape is nothing.
const NOTHING: f64 = 1.0;

/// An outline on a face with the holes in it. The outline runs anticlockwise as the right face is seen, the holes
/// clockwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Its outline.
    pub outline: Vec<FacePoint>,
    /// Holes that lie wholly within it.
    pub holes: Vec<Vec<FacePoint>>,
}

impl Shape {
    /// Its area, mm².
    pub fn area(&self) -> f64 {
        self.outline_area() + self.holes.iter().map(|h| signed_area(h)).sum::<f64>()
    }

    fn outline_area(&self) -> f64 {
        signed_area(&self.outline)
    }

    /// True when a point is in it and not in a hole.
    pub fn contains(&self, p: FacePoint) -> bool {
        is_inside(&self.outline, p) && !self.holes.iter().any(|hole| is_inside(hole, p))
    }

    /// How far a point is from the nearest of its edges, mm.
    pub fn clearance(&self, p: FacePoint) -> f64 {
        let rings = std::iter::once(&self.outline).chain(&self.holes);
        let edges = rings.flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
        edges.map(|(a, b)| distance(p, *a, *b)).fold(f64::INFINITY, f64::min)
    }

    /// What of a plumb line at a station is in it, from the floor up.
    pub fn upright_at(&self, s: f64) -> Vec<Span> {
        let rings = std::iter::once(&self.outline).chain(&self.holes);
        let edges = rings.flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)));
        let crossed = edges.filter(|(a, b)| (a[0] > s) != (b[0] > s));
        let mut heights: Vec<f64> =
            crossed.map(|(a, b)| a[1] + (b[1] - a[1]) * (s - a[0]) / (b[0] - a[0])).collect();
        heights.sort_by(f64::total_cmp);
        heights.chunks_exact(2).map(|z| Span { low: z[0], high: z[1] }).collect()
    }

    /// What of a level line is in it, from the start.
    pub fn level_at(&self, z: f64) -> Vec<Span> {
        let turned = |ring: &Vec<FacePoint>| ring.iter().map(|p| [p[1], p[0]]).collect();
        let holes = self.holes.iter().map(turned).collect();
        Shape { outline: turned(&self.outline), holes }.upright_at(z)
    }

    /// What it covers along the wall.
    pub fn stations(&self) -> Span {
        extent(&self.outline, 0)
    }

    /// What it covers in height.
    pub fn heights(&self) -> Span {
        extent(&self.outline, 1)
    }
}

/// True when a point is inside a closed line: a ray from it crosses the line an odd number of times.
fn is_inside(ring: &[FacePoint], [x, y]: FacePoint) -> bool {
    let crossings = ring.iter().zip(ring.iter().cycle().skip(1)).filter(|(a, b)| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    });
    crossings.count() % 2 == 1
}

/// Distance of a point from a straight edge.
fn distance(p: FacePoint, a: FacePoint, b: FacePoint) -> f64 {
    let (d, f) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
    let length = d[0] * d[0] + d[1] * d[1];
    let share = if length > 0.0 { (f[0] * d[0] + f[1] * d[1]) / length } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    (f[0] - d[0] * share).hypot(f[1] - d[1] * share)
}

fn extent(points: &[FacePoint], axis: usize) -> Span {
    let empty = Span { low: f64::INFINITY, high: f64::NEG_INFINITY };
    points.iter().fold(empty, |s, p| Span { low: s.low.min(p[axis]), high: s.high.max(p[axis]) })
}

/// Area of an outline, mm²; positive when it runs anticlockwise.
pub(crate) fn signed_area(points: &[FacePoint]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0
}

/// The part of `along` × `heights` that is under `top`, less `holes`, each along the wall and in height.
pub(super) fn shapes(
    along: Span,
    heights: Span,
    top: &Profile,
    holes: &[(Span, Span)],
) -> Vec<Shape> {
    let under = under(along, heights, top);
    let cut: Vec<Vec<FacePoint>> = holes
        .iter()
        .filter(|(s, z)| s.overlaps(along) && z.overlaps(heights))
        .map(|(s, z)| rectangle(*s, *z))
        .collect();
    less(under, &cut)
}

/// The outline of what covers `along` × `heights`.
pub(crate) fn rectangle(along: Span, heights: Span) -> Vec<FacePoint> {
    let (s, z) = (along, heights);
    vec![[s.low, z.low], [s.high, z.low], [s.high, z.high], [s.low, z.high]]
}

/// What is left of the insides of `outlines` without those of `cut`, which run anticlockwise.
pub(crate) fn less(outlines: Vec<Vec<FacePoint>>, cut: &[Vec<FacePoint>]) -> Vec<Shape> {
    if cut.is_empty() {
        return in_order(outlines.into_iter().map(|outline| vec![outline]).collect());
    }
    in_order(outlines.overlay_as::<i64>(&cut.to_vec(), OverlayRule::Difference, FillRule::NonZero))
}

/// What the insides of `outlines` and those of `others` share; holes run clockwise.
pub(crate) fn common(outlines: &[Vec<FacePoint>], others: &[Vec<FacePoint>]) -> Vec<Shape> {
    let (a, b) = (outlines.to_vec(), others.to_vec());
    in_order(a.overlay_as::<i64>(&b, OverlayRule::Intersect, FillRule::NonZero))
}

/// The part of a shape in `along` × `heights`.
pub(super) fn clipped(shape: &Shape, along: Span, heights: Span) -> Vec<Shape> {
    let whole: Vec<Vec<FacePoint>> =
        std::iter::once(&shape.outline).chain(&shape.holes).cloned().collect();
    common(&whole, &[rectangle(along, heights)])
}

/// Shapes from their outlines and holes as they come, from the start and from the bottom.
fn in_order(whole: Vec<Vec<Vec<FacePoint>>>) -> Vec<Shape> {
    let mut shapes: Vec<Shape> = whole.into_iter().filter_map(shape).collect();
    shapes.sort_by(|a, b| {
        let key = |s: &Shape| (s.stations().low, s.heights().low);
        key(a).0.total_cmp(&key(b).0).then(key(a).1.total_cmp(&key(b).1))
    });
    shapes
}

/// The outlines under the top line: several when it comes down to the bottom between them.
fn under(along: Span, heights: Span, top: &Profile) -> Vec<Vec<FacePoint>> {
    let top = top.lower_of(&Profile::level(heights.high), along);
    let mut outlines: Vec<Vec<FacePoint>> = Vec::new();
    let mut line: Vec<FacePoint> = Vec::new();
    let mut close = |line: &mut Vec<FacePoint>| {
        if let (Some(first), Some(last)) = (line.first().copied(), line.last().copied()) {
            let mut outline = vec![[first[0], heights.low], [last[0], heights.low]];
            outline.extend(line.drain(..).rev());
            outlines.push(outline);
        }
    };
    for stretch in top.stretches(along) {
        let (from, to) = (stretch.from - heights.low, stretch.to - heights.low);
        let at = |share: f64| stretch.span.low + stretch.span.length() * share;
        match (from > 0.0, to > 0.0) {
            (true, true) => {
                line.push([stretch.span.low, stretch.from]);
                line.push([stretch.span.high, stretch.to]);
            }
            (true, false) => {
                line.push([stretch.span.low, stretch.from]);
                line.push([at(from / (from - to)), heights.low]);
                close(&mut line);
            }
            (false, true) => {
                line.push([at(from / (from - to)), heights.low]);
                line.push([stretch.span.high, stretch.to]);
            }
            (false, false) => close(&mut line),
        }
    }
    close(&mut line);
    outlines
}

/// A shape from its outline and holes as they come; `None` when there is nothing of it.
fn shape(mut contours: Vec<Vec<FacePoint>>) -> Option<Shape> {
    for (i, contour) in contours.iter_mut().enumerate() {
        tidy(contour);
        if (signed_area(contour) > 0.0) != (i == 0) {
            contour.reverse();
        }
        // From the lowest of the leftmost corners, so that equal shapes are equal.
        let key = |p: &FacePoint| (p[0], p[1]);
        let first = (0..contour.len()).min_by(|&a, &b| {
            let (a, b) = (key(&contour[a]), key(&contour[b]));
            a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        contour.rotate_left(first.unwrap_or(0));
    }
    let mut contours = contours.into_iter();
    let outline = contours.next()?;
    let shape = Shape { outline, holes: contours.filter(|c| c.len() > 2).collect() };
    (shape.outline.len() > 2 && shape.outline_area() > NOTHING).then_some(shape)
}

/// Takes out corners that are none.
fn tidy(points: &mut Vec<FacePoint>) {
    const SAME: f64 = crate::math::SAME;
    let mut i = 0;
    while points.len() > 2 && i < points.len() {
        let n = points.len();
        let [a, b, c] = [points[(i + n - 1) % n], points[i], points[(i + 1) % n]];
        let (u, v) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
        let (lu, lv) = (u[0].hypot(u[1]), v[0].hypot(v[1]));
        let off = (u[0] * v[1] - u[1] * v[0]).abs();
        if lu < SAME || lv < SAME || off < SAME * lu.max(lv) {
            points.remove(i);
            i = i.saturating_sub(1);
        } else {
            i += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn span(low: f64, high: f64) -> Span {
        Span { low, high }
    }

    #[test]
    fn a_door_in_the_middle_leaves_a_u_and_at_the_edge_an_l() {
        let top = Profile::level(2400.0);
        let door = (span(400.0, 800.0), span(-100.0, 2000.0));
        let u = shapes(span(0.0, 1200.0), span(0.0, 2400.0), &top, &[door]);
        assert_eq!(u.len(), 1);
        assert_eq!(
            u[0].outline,
            [
                [0.0, 0.0],
                [400.0, 0.0],
                [400.0, 2000.0],
                [800.0, 2000.0],
                [800.0, 0.0],
                [1200.0, 0.0],
                [1200.0, 2400.0],
                [0.0, 2400.0]
            ]
        );
        let l = shapes(span(600.0, 1200.0), span(0.0, 2400.0), &top, &[door]);
        assert_eq!((l.len(), l[0].outline.len()), (1, 6));
        // One as wide as the doorway leaves only what is over it.
        let over = shapes(span(400.0, 800.0), span(0.0, 2400.0), &top, &[door]);
        assert_eq!((over.len(), over[0].heights()), (1, span(2000.0, 2400.0)));
    }

    #[test]
    fn a_hatch_within_a_board_is_a_hole_in_it() {
        let top = Profile::level(2400.0);
        let hatch = (span(300.0, 900.0), span(600.0, 1200.0));
        let shapes = shapes(span(0.0, 1200.0), span(0.0, 2400.0), &top, &[hatch]);
        assert_eq!((shapes.len(), shapes[0].holes.len()), (1, 1));
        assert!(shapes[0].contains([150.0, 900.0]) && !shapes[0].contains([600.0, 900.0]));
        assert!((shapes[0].clearance([200.0, 900.0]) - 100.0).abs() < 1e-6);
        assert!((shapes[0].area() - (1200.0 * 2400.0 - 600.0 * 600.0)).abs() < 1.0);
    }

    #[test]
    fn a_rake_that_comes_down_to_the_bottom_splits_nothing_but_what_is_there() {
        let top = Profile::through(vec![(0.0, 0.0), (1000.0, 1000.0), (2000.0, -1000.0)]);
        let shapes = shapes(span(0.0, 2000.0), span(10.0, 600.0), &top, &[]);
        assert_eq!(shapes.len(), 1);
        let s = shapes[0].stations();
        assert!((s.low - 10.0).abs() < 0.01 && (s.high - 1495.0).abs() < 0.01, "{s:?}");
    }
}
