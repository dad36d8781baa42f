//! Splays: walls that cut a corner off. The corner they cut off, their set-backs from it, and how the end of a
//! wall slides when the wall is moved sideways.

use super::{Job, Wall};
use crate::id::Name;
use crate::math::{ON_LINE, PlanPoint, PlanVector, SAME, SQUARE, cross, meet};

/// Two directions that cross at less than this (6 degrees) do not hold a node between them: it would run off.
const SLIPS: f64 = 0.1;

/// The corner a wall cuts off: where the two lines its ends stand on would meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutCorner {
    /// The imaginary corner on the plan.
    pub at: PlanPoint,
    /// From the corner to the wall's start and to its end.
    pub set_backs: [f64; 2],
    /// Between the wall and the line its start, its end stands on, radians.
    pub angles: [f64; 2],
}

/// Set-backs of a face of length `face` across a corner whose two sides open by `opening`, standing at `angle`
/// to the first side (both radians): the sides of a triangle, by the law of sines. Across a square corner they
/// are face × cos and face × sin of the angle.
pub fn set_backs(face: f64, opening: f64, angle: f64) -> [f64; 2] {
    let rest = std::f64::consts::PI - opening - angle;
    [face * rest.sin() / opening.sin(), face * angle.sin() / opening.sin()]
}

impl Job {
    /// The corner that `wall` cuts off, when the lines its two ends stand on meet.
    pub fn cut_corner(&self, wall: &Name) -> Option<CutCorner> {
        let wall = self.wall(wall)?;
        let (from, to) = (self.node(&wall.from)?.at, self.node(&wall.to)?.at);
        let rails = [self.rail(wall, &wall.from)?, self.rail(wall, &wall.to)?];
        let at = from + rails[0] * meet(from, rails[0], to, rails[1])?;
        let set_backs = [(from - at).norm(), (to - at).norm()];
        if set_backs.iter().any(|s| *s < ON_LINE) {
            return None;
        }
        let u = (to - from) / (to - from).norm();
        let angle = |d: PlanVector| cross(d, u).abs().atan2(d.dot(&u));
        Some(CutCorner {
            at,
            set_backs,
            angles: [angle((at - from) / set_backs[0]), angle((to - at) / set_backs[1])],
        })
    }

    /// The one direction along which a node of `wall` can slide: along the wall or the side of the room it
    /// stands on or shares the node with. `None` when there is none, or more than one.
    pub(super) fn rail(&self, wall: &Wall, node: &Name) -> Option<PlanVector> {
        let (from, to) = (self.node(&wall.from)?.at, self.node(&wall.to)?.at);
        let own = (to - from) / (to - from).norm();
        let at = self.node(node)?.at;
        let mut rail: Option<PlanVector> = None;
        let lines = self
            .walls
            .iter()
            .filter(|w| w.name != wall.name)
            .filter_map(|w| Some((self.node(&w.from)?.at, self.node(&w.to)?.at)))
            .chain(self.shell.sides());
        for (a, b) in lines {
            let Some(d) = holds(a, b, at).filter(|d| cross(*d, own).abs() > SQUARE) else {
                continue;
            };
            match rail {
                Some(other) if cross(other, d).abs() > SQUARE => return None,
                _ => rail = Some(d),
            }
        }
        rail.filter(|d| cross(*d, own).abs() > SLIPS)
    }
}

/// The direction of a line from `a` to `b` when `p` stands on it.
fn holds(a: PlanPoint, b: PlanPoint, p: PlanPoint) -> Option<PlanVector> {
    let length = (b - a).norm();
    if length < SAME {
        return None;
    }
    let (u, d) = ((b - a) / length, p - a);
    let s = d.dot(&u);
    (cross(u, d).abs() <= ON_LINE && (-ON_LINE..=length + ON_LINE).contains(&s)).then_some(u)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Edit;
    use approx::assert_relative_eq;
    use std::sync::Arc;

    // Common practice: a face of 1130 at 45 degrees across a square corner is set back 799 on both sides.
    #[test]
    fn a_face_of_1130_is_set_back_799() {
        let square = std::f64::consts::FRAC_PI_2;
        let [a, b] = set_backs(1130.0, square, square / 2.0);
        assert_relative_eq!(a, 799.03, epsilon = 0.005);
        assert_relative_eq!(b, 799.03, epsilon = 0.005);
        let [a, b] = set_backs(1000.0, square, 30f64.to_radians());
        assert_relative_eq!(a, 866.03, epsilon = 0.005);
        assert_relative_eq!(b, 500.0, epsilon = 1e-9);
        // Across an opening of 120 degrees at 30, the triangle is isosceles: both sides are face / √3.
        let [a, b] = set_backs(1000.0, 120f64.to_radians(), 30f64.to_radians());
        assert_relative_eq!(a, 1000.0 / 3f64.sqrt(), epsilon = 1e-9);
        assert_relative_eq!(b, a, epsilon = 1e-9);
    }

    fn corner() -> Job {
        let wall = |name: &str, a: (f64, f64), b: (f64, f64)| Edit::AddWall {
            wall: Arc::new(Wall::new(name, "1", "2", "Partition 97")),
            from: PlanPoint::new(a.0, a.1),
            to: PlanPoint::new(b.0, b.1),
        };
        let job = wall("A", (0.0, 0.0), (3000.0, 0.0)).apply(&Job::default());
        wall("B", (3000.0, 0.0), (3000.0, 2500.0)).apply(&job)
    }

    fn splayed() -> Job {
        let node = corner().wall(&"A".into()).unwrap().to.clone();
        let cut = Edit::CutCorner {
            node,
            set_backs: [800.0, 600.0],
            wall: Arc::new(Wall::new("C", "", "", "Partition 97")),
        };
        cut.apply(&corner())
    }

    #[test]
    fn a_corner_is_cut_and_knows_it() {
        let job = splayed();
        let cut = job.cut_corner(&"C".into()).unwrap();
        assert_relative_eq!(cut.at, PlanPoint::new(3000.0, 0.0));
        assert_relative_eq!(cut.set_backs[0], 800.0);
        assert_relative_eq!(cut.set_backs[1], 600.0);
        assert_relative_eq!(cut.angles[0].tan(), 0.75, epsilon = 1e-12);
        assert_eq!(job.nodes.len(), 4);
        assert!(job.cut_corner(&"A".into()).is_none());
    }

    #[test]
    fn a_splay_that_is_moved_keeps_its_angle_and_its_neighbours_their_lines() {
        let job = splayed();
        let moved = Edit::MoveWall { wall: "C".into(), by: 60.0 }.apply(&job);
        let (was, is) =
            (job.cut_corner(&"C".into()).unwrap(), moved.cut_corner(&"C".into()).unwrap());
        assert_relative_eq!(is.at, was.at, epsilon = 1e-9);
        assert_relative_eq!(is.angles[0], was.angles[0], epsilon = 1e-12);
        // 60 towards its left is 60 away from the corner: the height of the triangle grows from 480 to 540.
        assert_relative_eq!(is.set_backs[0] / was.set_backs[0], 540.0 / 480.0, epsilon = 1e-9);
        let face = Edit::SetFace { wall: "C".into(), length: 500.0 }.apply(&job);
        assert_relative_eq!(
            face.cut_corner(&"C".into()).unwrap().set_backs[0],
            400.0,
            epsilon = 1e-9
        );
    }
}
