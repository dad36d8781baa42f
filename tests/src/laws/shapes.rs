//! Laws of plans drawn at any angle under any roof: solids, not boxes.

use std::collections::BTreeSet;

use layout_core::frame::{Member, Role};
use layout_core::layout::{Layout, WallLayout};
use layout_core::resolve::Meets;
use nalgebra::{Point3, Vector3};

use super::{NEAR, called, pieces};
use crate::random;

/// Two solids that share less than this are only touching, mm.
const TOUCH: f64 = 0.2;

/// A convex solid in job coordinates.
struct Body {
    points: [Point3<f64>; 8],
    /// The corners of the box round it.
    round: [Point3<f64>; 2],
    /// Directions its faces look in, and its edges run in.
    faces: Vec<Vector3<f64>>,
    edges: Vec<Vector3<f64>>,
}

impl Body {
    fn of(w: &WallLayout, m: &Member) -> Body {
        let points = m.solid.corners().map(|p| w.place.job(p));
        let quads =
            [[0, 1, 2, 3], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]];
        let faces = quads
            .iter()
            .flat_map(|q| [[q[0], q[1], q[2]], [q[2], q[3], q[0]]])
            .map(|[a, b, c]| (points[b] - points[a]).cross(&(points[c] - points[a])))
            .filter(|n| n.norm() > 1e-3)
            .map(|n| n.normalize())
            .collect();
        let pairs = [
            (0, 1),
            (1, 2),
            (2, 3),
            (3, 0),
            (4, 5),
            (5, 6),
            (6, 7),
            (7, 4),
            (0, 4),
            (1, 5),
            (2, 6),
            (3, 7),
        ];
        let edges = pairs
            .iter()
            .map(|&(a, b)| points[b] - points[a])
            .filter(|e| e.norm() > 1e-3)
            .map(|e| e.normalize())
            .collect();
        let low = points.iter().fold(points[0], |a, b| a.inf(b));
        let high = points.iter().fold(points[0], |a, b| a.sup(b));
        Body { points, round: [low, high], faces, edges }
    }

    fn reach(&self, axis: &Vector3<f64>) -> (f64, f64) {
        self.points
            .iter()
            .map(|p| p.coords.dot(axis))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |r, v| (r.0.min(v), r.1.max(v)))
    }

    /// How deep the two are in each other, along the direction in which that is least.
    fn depth_in(&self, other: &Body) -> f64 {
        let share = |axis: &Vector3<f64>| {
            let (a, b) = (self.reach(axis), other.reach(axis));
            a.1.min(b.1) - a.0.max(b.0)
        };
        let [a, b] = [&self.round, &other.round];
        let mut least = (0..3)
            .map(|i| a[1][i].min(b[1][i]) - a[0][i].max(b[0][i]))
            .fold(f64::INFINITY, f64::min);
        if least < TOUCH {
            return least;
        }
        for axis in self.faces.iter().chain(&other.faces) {
            least = least.min(share(axis));
            if least < TOUCH {
                return least;
            }
        }
        for a in &self.edges {
            for b in &other.edges {
                let axis = a.cross(b);
                if axis.norm() > 1e-3 {
                    least = least.min(share(&axis.normalize()));
                    if least < TOUCH {
                        return least;
                    }
                }
            }
        }
        least
    }
}

/// Solids are slow to compare: half as many jobs as the other laws are tried on.
fn tries() -> u64 {
    super::tries() / 2
}

fn law(rule: &str, complaints: impl Fn(&Layout) -> Vec<String>) {
    let mut broken: Vec<String> = Vec::new();
    for seed in 0..tries() {
        let layout = Layout::of(&crate::wild::job(seed));
        if let Some(first) = complaints(&layout).into_iter().next() {
            broken.push(format!("seed {seed}: {first}"));
        }
    }
    assert!(
        broken.is_empty(),
        "{rule}; broken by {} of {} jobs:\n  {}",
        broken.len(),
        tries(),
        broken[..broken.len().min(16)].join("\n  ")
    );
}

#[test]
fn the_wild_jobs_have_every_kind_of_meeting() {
    let (mut met, mut breaks, mut raked, mut ripped) = (BTreeSet::new(), 0, 0, 0);
    for seed in 0..tries() {
        let layout = Layout::of(&crate::wild::job(seed));
        for w in &layout.walls {
            met.extend(w.spec.ends.iter().map(|end| match end.meets {
                Meets::Free => "free",
                Meets::Existing { .. } => "existing",
                Meets::Post(_) => "post",
                Meets::Soffit => "soffit",
                Meets::InLine(_) => "in line",
                Meets::Mitres(_) => "mitres",
                Meets::Through(_) => "through",
                Meets::Butts(_) => "butts",
            }));
            breaks += w.spec.breaks.len();
            raked += usize::from(!w.spec.head.is_level());
            ripped += w.frame.members.iter().filter(|m| m.solid.rip().is_some()).count();
        }
    }
    assert_eq!(met.len(), 8, "{met:?}");
    assert!(breaks > 25 && raked > 75 && ripped > 50, "{breaks} {raked} {ripped}");
}

#[test]
fn no_two_solids_overlap_at_any_angle() {
    law("no two solids of a job overlap", |layout| {
        let all: Vec<_> = pieces(layout).map(|(w, m)| (called(w, m), Body::of(w, m))).collect();
        let mut wrong = Vec::new();
        for (i, (a, body)) in all.iter().enumerate() {
            for (b, other) in &all[i + 1..] {
                let depth = body.depth_in(other);
                if depth > TOUCH {
                    wrong.push(format!("{depth:.1}: {a} and {b}"));
                }
            }
        }
        wrong
    });
}

/// True when the point lies on or in the solid, grown a little.
fn touches(body: &Body, p: Point3<f64>, by: f64) -> bool {
    let [low, high] = body.round;
    if (0..3).any(|i| p[i] < low[i] - by || p[i] > high[i] + by) {
        return false;
    }
    body.faces.iter().all(|n| {
        let (low, high) = body.reach(n);
        let at = p.coords.dot(n);
        low - by <= at && at <= high + by
    })
}

#[test]
fn nothing_floats_at_any_angle() {
    law("every upright stands on something and stops under something", |layout| {
        let mut wrong = Vec::new();
        for w in &layout.walls {
            let bodies: Vec<Body> = w.frame.members.iter().map(|m| Body::of(w, m)).collect();
            for (i, m) in w.frame.members.iter().enumerate() {
                // One cut under a valley touches at one side only, and a bent plate lies a little off.
                let near = 10.5;
                let reached = |p: &Point3<f64>| {
                    let p = w.place.job(*p);
                    bodies.iter().enumerate().any(|(j, b)| i != j && touches(b, p, near))
                };
                let middle = |end: &[Point3<f64>; 4]| nalgebra::center(&end[0], &end[2]);
                let held = m
                    .solid
                    .ends
                    .iter()
                    .filter(|end| reached(&middle(end)) || end.iter().any(reached))
                    .count();
                let wanted = match m.role {
                    Role::SolePlate | Role::LowerSole | Role::UpperSole | Role::HeadPlate => 0,
                    // A ground is nailed to the stud beside it; a noggin and a head between two.
                    _ => 2,
                };
                if held < wanted {
                    wrong.push(format!(
                        "{} {} touches at {held} of its ends",
                        called(w, m),
                        m.role.label()
                    ));
                }
            }
        }
        wrong
    });
}

#[test]
fn solids_are_cut_to_their_longest_edge_from_the_bar_they_name() {
    law("a piece comes out of its section and is as long as its longest edge", |layout| {
        let mut wrong = Vec::new();
        for (w, m) in pieces(layout) {
            let corners = m.solid.corners();
            let longest = (0..4).map(|i| (corners[i + 4] - corners[i]).norm()).fold(0.0, f64::max);
            if (m.cut().length - longest).abs() > 1e-6 {
                wrong.push(format!("{} cut {} edge {longest}", called(w, m), m.cut().length));
            }
            // Square to its length no piece is larger than its section.
            let along = (corners[4] - corners[0]).normalize();
            let y = Vector3::y();
            let other = along.cross(&y);
            let size = |axis: &Vector3<f64>| {
                let flat: Vec<f64> =
                    [0usize, 1, 2, 3].iter().map(|&i| corners[i].coords.dot(axis)).collect();
                flat.iter().copied().fold(f64::NEG_INFINITY, f64::max)
                    - flat.iter().copied().fold(f64::INFINITY, f64::min)
            };
            let mut sizes = [size(&y), size(&other)];
            sizes.sort_by(f64::total_cmp);
            let mut section = [m.timber.thickness(), m.timber.depth()];
            section.sort_by(f64::total_cmp);
            if sizes[0] > section[0] + NEAR || sizes[1] > section[1] + NEAR {
                wrong.push(format!(
                    "{} {} is {sizes:?} out of {section:?}",
                    called(w, m),
                    m.role.label()
                ));
            }
        }
        wrong
    });
}

#[test]
fn dragging_at_any_angle_equals_starting_again() {
    let mut broken = Vec::new();
    for seed in 0..tries() {
        let job = crate::wild::job(seed);
        let mut layout = Layout::of(&job);
        let mut now = job;
        for step in 0..4 {
            now = random::edit(&now, &mut random::Random::new(seed * 31 + step)).apply(&now);
            layout = layout.relayout(&now);
            if layout != Layout::of(&now) {
                broken.push(format!("{seed}, step {step}"));
            }
        }
    }
    assert!(broken.is_empty(), "a drag differs from starting again: {}", broken.join(", "));
}
