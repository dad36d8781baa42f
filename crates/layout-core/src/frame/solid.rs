//! The shape of one piece of timber.

use nalgebra::{Point3, Vector3};

use crate::document::Face;
use crate::math::WallPoint;
use crate::span::Span;
use crate::units::{Units, degrees};

/// How one end is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EndCut {
    /// Across the thickness, radians from square.
    pub bevel: f64,
    /// Across the depth, radians from square.
    pub mitre: f64,
}

impl EndCut {
    /// What the saw is set to for it: “bevel 40°”, “mitre 22.5°”, “bevel 15.3°, mitre 45°”; `None` for a
    /// square end.
    pub fn words(&self) -> Option<String> {
        let set = |what: &str, angle: f64| {
            (angle.to_degrees().abs() >= 0.05).then(|| format!("{what} {}", degrees(angle)))
        };
        match (set("bevel", self.bevel), set("mitre", self.mitre)) {
            (Some(bevel), Some(mitre)) => Some(format!("{bevel}, {mitre}")),
            (bevel, mitre) => bevel.or(mitre),
        }
    }
}

/// How a piece is ripped along its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rip {
    /// Width left at the wider face, mm.
    pub wide: f64,
    /// Width left at the narrower face, mm; 0 for a feather edge.
    pub narrow: f64,
    /// Lean of the saw blade from square, radians.
    pub bevel: f64,
}

impl Rip {
    /// “ripped 40 to 21 at 22.5°”.
    pub fn words(&self, units: Units) -> String {
        let (wide, narrow) = (units.show(self.wide), units.show(self.narrow));
        format!("ripped {wide} to {narrow} at {}", degrees(self.bevel))
    }
}

/// How a piece is cut from the bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Long point to long point, mm.
    pub length: f64,
    /// Its two ends.
    pub ends: [EndCut; 2],
}

/// A piece of timber as it stands: two end quads joined by four straight edges. In wall
/// coordinates: x along the wall, y to its left, z up.
///
/// ```text
///        3────2            corner i of one end is joined
///       /│   /│            to corner i of the other
///      0────1 │
///      │ …  │ …
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solid {
    /// The corners of each end, in the same order round it.
    pub ends: [[WallPoint; 4]; 2],
}

impl Solid {
    /// An upright: `s` along the wall and `n` across it, from heights `foot` to `head` given at
    /// its low and high station.
    pub fn upright(s: Span, n: Span, foot: (f64, f64), head: (f64, f64)) -> Solid {
        let end = |(low, high): (f64, f64)| {
            [
                Point3::new(s.low, n.low, low),
                Point3::new(s.high, n.low, high),
                Point3::new(s.high, n.high, high),
                Point3::new(s.low, n.high, low),
            ]
        };
        Solid { ends: [end(foot), end(head)] }
    }

    /// A piece lying along the wall from `s.low` to `s.high`, `n` across, its underside at `low`
    /// and its top at `high`, each given at its two stations. Its ends are plumb.
    pub fn lying(s: Span, n: Span, low: (f64, f64), high: (f64, f64)) -> Solid {
        let end = |at: f64, low: f64, high: f64| {
            [
                Point3::new(at, n.low, low),
                Point3::new(at, n.high, low),
                Point3::new(at, n.high, high),
                Point3::new(at, n.low, high),
            ]
        };
        Solid { ends: [end(s.low, low.0, high.0), end(s.high, low.1, high.1)] }
    }

    /// A piece lying along the wall between two plumb or leaning cuts, `n` across. `cuts` are the stations of
    /// the corners of each end: right and left at the bottom, left and right at the top. `low` and `high` are
    /// the straight lines of its underside and its top.
    pub fn between(
        cuts: [[f64; 4]; 2],
        n: Span,
        low: impl Fn(f64) -> f64,
        high: impl Fn(f64) -> f64,
    ) -> Solid {
        let end = |[a, b, c, d]: [f64; 4]| {
            [
                Point3::new(a, n.low, low(a)),
                Point3::new(b, n.high, low(b)),
                Point3::new(c, n.high, high(c)),
                Point3::new(d, n.low, high(d)),
            ]
        };
        Solid { ends: cuts.map(end) }
    }

    /// An upright whose sides are not square to the wall: `low` and `high` are the stations of its two sides on
    /// the right and the left of `n`; `foot` and `head` the straight lines it stands between.
    pub fn ripped(
        [low, high]: [[f64; 2]; 2],
        n: Span,
        foot: impl Fn(f64) -> f64,
        head: impl Fn(f64) -> f64,
    ) -> Solid {
        let end = |z: &dyn Fn(f64) -> f64| {
            [
                Point3::new(low[0], n.low, z(low[0])),
                Point3::new(high[0], n.low, z(high[0])),
                Point3::new(high[1], n.high, z(high[1])),
                Point3::new(low[1], n.high, z(low[1])),
            ]
        };
        Solid { ends: [end(&foot), end(&head)] }
    }

    /// A level, square-ended box that lies along `y`: `s` along x, `n` along y, `z` up.
    pub fn lying_across(s: Span, n: Span, z: Span) -> Solid {
        let end = |at: f64| {
            [
                Point3::new(s.low, at, z.low),
                Point3::new(s.high, at, z.low),
                Point3::new(s.high, at, z.high),
                Point3::new(s.low, at, z.high),
            ]
        };
        Solid { ends: [end(n.low), end(n.high)] }
    }

    /// All eight corners: one end in order round it, then the matching four of the other.
    pub fn corners(&self) -> [WallPoint; 8] {
        let [a, b] = self.ends;
        [a[0], a[1], a[2], a[3], b[0], b[1], b[2], b[3]]
    }

    /// The stretch of the wall it covers.
    pub fn stations(&self) -> Span {
        self.extent(|p| p.x)
    }

    /// What it covers across the wall.
    pub fn across(&self) -> Span {
        self.extent(|p| p.y)
    }

    /// What it covers in height.
    pub fn heights(&self) -> Span {
        self.extent(|p| p.z)
    }

    fn extent(&self, axis: impl Fn(&WallPoint) -> f64) -> Span {
        let mut span = Span { low: f64::INFINITY, high: f64::NEG_INFINITY };
        for p in self.ends.iter().flatten() {
            span.low = span.low.min(axis(p));
            span.high = span.high.max(axis(p));
        }
        span
    }

    /// Its outline in the elevation: station and height of the four corners of its side towards `face`, in
    /// order.
    pub fn elevation(&self, face: Face) -> [(f64, f64); 4] {
        // Of the corners of an end, the two nearest the face, in order round it. Where the piece is as wide
        // at all four, 0 and 2 are opposite, so they bound what is seen.
        let pick = |e: &[WallPoint; 4]| {
            let mut near: Vec<usize> = vec![0, 1, 2, 3];
            let depth = |i: usize| if face == Face::Right { e[i].y } else { -e[i].y };
            near.sort_by(|&a, &b| depth(a).total_cmp(&depth(b)));
            let (i, j) = (near[0].min(near[1]), near[0].max(near[1]));
            [(e[i].x, e[i].z), (e[j].x, e[j].z)]
        };
        let ([a0, a1], [b0, b1]) = (pick(&self.ends[0]), pick(&self.ends[1]));
        [a0, a1, b1, b0]
    }

    /// The longest of its four long edges: the length to cut, long point to long point.
    pub fn longest_edge(&self) -> f64 {
        let [a, b] = &self.ends;
        (0..4).map(|i| (b[i] - a[i]).norm()).fold(0.0, f64::max)
    }

    /// The shortest of its four long edges: what its short points are apart.
    pub fn shortest_edge(&self) -> f64 {
        let [a, b] = &self.ends;
        (0..4).map(|i| (b[i] - a[i]).norm()).fold(f64::INFINITY, f64::min)
    }

    /// How it is cut from the bar: its longest edge, and how far each end leans from square, across its
    /// thickness (bevel) and across its depth (mitre), each measured on the face of the bar.
    ///
    /// The depth lies through the wall (along y), the thickness square to it and to the length.
    pub fn cut(&self) -> Cut {
        let axis = self.ends[1][0] - self.ends[0][0];
        let scale = axis.norm();
        let lean = |end: &[WallPoint; 4]| {
            if scale == 0.0 {
                return EndCut::default();
            }
            let axis = axis / scale;
            let plane = (end[2] - end[0]).cross(&(end[3] - end[1]));
            let (depth, thickness) = if axis.y.abs() > axis.x.abs().max(axis.z.abs()) {
                // A piece on edge that lies through the frame.
                (Vector3::z(), axis.cross(&Vector3::z()))
            } else if axis.z.abs() > axis.x.abs() {
                (Vector3::y(), Vector3::y().cross(&axis))
            } else {
                (Vector3::y(), axis.cross(&Vector3::y()))
            };
            // How far the plane of the end runs along the piece for one across it.
            let angle = |across: Vector3<f64>| {
                let along = plane.dot(&axis);
                if along == 0.0 { 0.0 } else { (-plane.dot(&across) / along).atan() + 0.0 }
            };
            EndCut { bevel: angle(thickness), mitre: angle(depth) }
        };
        Cut { length: self.longest_edge(), ends: [lean(&self.ends[0]), lean(&self.ends[1])] }
    }

    /// How an upright is ripped, when its sides are not square to the wall.
    pub fn rip(&self) -> Option<Rip> {
        let [a, b, c, d] = self.ends[0];
        let (right, left) = (b.x - a.x, c.x - d.x);
        let (wide, narrow) = (right.abs().max(left.abs()), right.abs().min(left.abs()));
        let through = (d.y - a.y).abs();
        (wide - narrow > crate::math::SAME && through > 0.0).then(|| Rip {
            wide,
            narrow,
            bevel: ((wide - narrow) / through).atan(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Handbook trigonometry: a 38 mm stud under a 15 degree rake has long point − short point =
    // 38 × tan 15° = 10.18 mm, and the saw is set to 15 degrees.
    #[test]
    fn a_raking_stud_is_cut_to_its_long_point() {
        let rise = 38.0 * 15f64.to_radians().tan();
        let stud = Solid::upright(
            Span::from(600.0, 38.0),
            Span::from(0.0, 89.0),
            (38.0, 38.0),
            (2362.0, 2362.0 + rise),
        );
        let cut = stud.cut();
        assert_relative_eq!(cut.length, 2324.0 + rise, epsilon = 1e-9);
        assert_relative_eq!(rise, 10.18, epsilon = 0.005);
        assert_relative_eq!(cut.ends[1].bevel.to_degrees(), 15.0, epsilon = 1e-9);
        assert_relative_eq!(cut.ends[0].bevel, 0.0);
        assert_relative_eq!(cut.ends[1].mitre, 0.0);
    }

    // Handbook trigonometry: a frame 89 deep that turns 45 degrees is cut at half of it, and its two faces
    // differ by 89 × tan 22.5° = 36.87 mm.
    #[test]
    fn a_mitred_plate_is_cut_to_its_long_point() {
        let half = 22.5f64.to_radians();
        let step = 89.0 * half.tan();
        let plate = Solid::between(
            [[0.0; 4], [2000.0, 2000.0 - step, 2000.0 - step, 2000.0]],
            Span::from(0.0, 89.0),
            |_| 0.0,
            |_| 38.0,
        );
        assert_relative_eq!(step, 36.87, epsilon = 0.006);
        assert_relative_eq!(plate.cut().length, 2000.0);
        assert_relative_eq!(plate.cut().ends[1].mitre.abs().to_degrees(), 22.5, epsilon = 1e-9);
        assert_relative_eq!(plate.cut().ends[1].bevel, 0.0);
        assert_eq!(plate.elevation(Face::Right)[2].0, 2000.0);
        assert_relative_eq!(plate.elevation(Face::Left)[2].0, 2000.0 - step);
    }

    #[test]
    fn a_ripped_stud_says_what_is_left_of_it() {
        let step = 89.0 * 10f64.to_radians().tan();
        let stud =
            Solid::ripped([[0.0, step], [38.0, 38.0]], Span::from(0.0, 89.0), |_| 0.0, |_| 2000.0);
        let rip = stud.rip().unwrap();
        assert_relative_eq!(rip.wide, 38.0);
        assert_relative_eq!(rip.narrow, 38.0 - step);
        assert_relative_eq!(rip.bevel.to_degrees(), 10.0, epsilon = 1e-9);
        assert_relative_eq!(stud.cut().length, 2000.0);
    }

    #[test]
    fn a_noggin_is_square_and_as_long_as_its_bay() {
        let noggin = Solid::lying(
            Span::from(423.0, 354.0),
            Span::from(0.0, 97.0),
            (1187.0, 1187.0),
            (1233.0, 1233.0),
        );
        assert_relative_eq!(noggin.cut().length, 354.0);
        assert_eq!(noggin.cut().ends, [EndCut::default(); 2]);
        let outline = noggin.elevation(Face::Right);
        assert_eq!(outline[0], (423.0, 1187.0));
        assert_eq!(outline[2], (777.0, 1233.0));
    }
}
