//! The floor and the ceiling as they were read: a surface through the readings of the room, straight between
//! neighbours and exact at each, and its height along a line of the plan.

use spade::{DelaunayTriangulation, HasPosition, Point2, PositionInTriangulation, Triangulation};

use crate::document::Reading;
use crate::math::{ON_LINE, PlanPoint, is_place};
use crate::profile::Profile;
use crate::span::Span;

use super::Place;

/// One corner of the surface.
#[derive(Clone, Copy)]
struct Spot {
    at: PlanPoint,
    level: f64,
}

impl HasPosition for Spot {
    type Scalar = f64;

    fn position(&self) -> Point2<f64> {
        Point2::new(self.at.x, self.at.y)
    }
}

/// A surface in triangles between the readings; beyond them, as high as at its nearest place.
pub(super) struct Relief {
    mesh: DelaunayTriangulation<Spot>,
    /// Its edges, and those among them that nothing lies beyond.
    edges: Vec<[Spot; 2]>,
    rim: Vec<[Spot; 2]>,
}

impl Relief {
    /// The surface through `readings`, whatever their order; `None` when there are none. Those within a
    /// millimetre of each other count as one, with their mean.
    pub(super) fn of(readings: &[Reading]) -> Option<Relief> {
        let mut mesh = DelaunayTriangulation::new();
        for spot in spots(readings) {
            // What the library refuses is no place in a building.
            let _ = mesh.insert(spot);
        }
        let edges: Vec<[Spot; 2]> =
            mesh.undirected_edges().map(|e| e.vertices().map(|v| *v.data())).collect();
        let rim = if mesh.all_vertices_on_line() {
            edges.clone()
        } else {
            mesh.convex_hull().map(|e| e.vertices().map(|v| *v.data())).collect()
        };
        (mesh.num_vertices() > 0).then_some(Relief { mesh, edges, rim })
    }

    /// Its height along the line of a wall, over `reach`.
    pub(super) fn along(&self, place: &Place, reach: Span) -> Profile {
        let mut cuts = vec![reach.low, reach.high];
        for [a, b] in &self.edges {
            let (a, b) = (place.wall(a.at), place.wall(b.at));
            if (a.1 <= 0.0) != (b.1 <= 0.0) {
                cuts.push(a.0 + (b.0 - a.0) * a.1 / (a.1 - b.1));
            }
            // An edge along the line crosses it nowhere.
            cuts.extend([a, b].iter().filter(|p| p.1.abs() < 1e-6).map(|p| p.0));
        }
        // Beyond the rim the nearest place changes its edge square off each end of one.
        for [a, b] in &self.rim {
            let (a, b) = (place.wall(a.at), place.wall(b.at));
            let (along, across) = (b.0 - a.0, b.1 - a.1);
            if along.abs() > 1e-9 {
                cuts.extend([a, b].map(|(s, n)| s + n * across / along));
            }
        }
        cuts.retain(|s| reach.contains(*s));
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        let points = cuts.into_iter().map(|s| (s, self.at(place.plan(s, 0.0)))).collect();
        Profile::through(points).simple()
    }

    /// Its height at a place.
    fn at(&self, p: PlanPoint) -> f64 {
        match self.mesh.locate(Point2::new(p.x, p.y)) {
            PositionInTriangulation::OnVertex(v) => self.mesh.vertex(v).data().level,
            PositionInTriangulation::OnEdge(e) => {
                nearest(self.mesh.directed_edge(e).vertices().map(|v| *v.data()), p).1
            }
            PositionInTriangulation::OnFace(f) => {
                in_triangle(self.mesh.face(f).vertices().map(|v| *v.data()), p)
            }
            _ => {
                let beyond = self.rim.iter().map(|edge| nearest(*edge, p));
                let only = self.mesh.vertices().next().map_or(0.0, |v| v.data().level);
                beyond.min_by(|a, b| a.0.total_cmp(&b.0)).map_or(only, |(_, level)| level)
            }
        }
    }
}

/// The levels read along a wall, straight between them; `None` when there are none.
pub(super) fn along_wall(readings: &[(f64, f64)]) -> Option<Profile> {
    let mut points = readings.to_vec();
    points.retain(|(s, z)| is_place(*s) && is_place(*z));
    // Of two at one station the lower comes first, whichever was read first.
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    (!points.is_empty()).then(|| Profile::through(points).simple())
}

/// The places of the readings in an order of their own.
fn spots(readings: &[Reading]) -> Vec<Spot> {
    let mut sorted: Vec<&Reading> =
        readings.iter().filter(|r| [r.at.x, r.at.y, r.level].into_iter().all(is_place)).collect();
    sorted.sort_by(|a, b| {
        let key = |r: &Reading| [r.at.x, r.at.y, r.level];
        let (a, b) = (key(a), key(b));
        a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])).then(a[2].total_cmp(&b[2]))
    });
    let mut groups: Vec<(PlanPoint, Vec<f64>)> = Vec::new();
    for reading in sorted {
        match groups.iter_mut().find(|(at, _)| (at - reading.at).norm() <= ON_LINE) {
            Some((_, levels)) => levels.push(reading.level),
            None => groups.push((reading.at, vec![reading.level])),
        }
    }
    let mean = |levels: &[f64]| {
        let first = levels.first().copied().unwrap_or(0.0);
        first + levels.iter().map(|l| l - first).sum::<f64>() / levels.len().max(1) as f64
    };
    // The library takes no coordinate that is not zero and next to nothing.
    let clean = |v: f64| if v.abs() < 1e-9 { 0.0 } else { v };
    groups
        .into_iter()
        .map(|(at, levels)| Spot {
            at: PlanPoint::new(clean(at.x), clean(at.y)),
            level: mean(&levels),
        })
        .collect()
}

/// How far `p` is from the nearest place of an edge, and the level there.
fn nearest([a, b]: [Spot; 2], p: PlanPoint) -> (f64, f64) {
    let edge = b.at - a.at;
    let share = ((p - a.at).dot(&edge) / edge.norm_squared()).clamp(0.0, 1.0);
    ((p - (a.at + edge * share)).norm(), a.level + (b.level - a.level) * share)
}

/// The level of the plane through three spots.
fn in_triangle([a, b, c]: [Spot; 3], p: PlanPoint) -> f64 {
    let (u, v, q) = (b.at - a.at, c.at - a.at, p - a.at);
    let area = u.x * v.y - u.y * v.x;
    let (s, t) = ((q.x * v.y - q.y * v.x) / area, (u.x * q.y - u.y * q.x) / area);
    a.level + (b.level - a.level) * s + (c.level - a.level) * t
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::PlanVector;
    use approx::assert_relative_eq;

    fn readings(list: &[(f64, f64, f64)]) -> Vec<Reading> {
        list.iter().map(|&(x, y, level)| Reading { at: PlanPoint::new(x, y), level }).collect()
    }

    fn along(list: &[(f64, f64, f64)], y: f64) -> Profile {
        let place = Place { origin: PlanPoint::new(0.0, y), along: PlanVector::new(1.0, 0.0) };
        Relief::of(&readings(list)).unwrap().along(&place, Span::between(0.0, 4000.0))
    }

    // A plane through three readings is found again everywhere between them.
    #[test]
    fn a_plane_is_read_as_a_plane() {
        let plane = |x: f64, y: f64| (x, y, 0.002 * x - 0.003 * y + 5.0);
        let list = [plane(0.0, 0.0), plane(4000.0, 0.0), plane(4000.0, 3000.0), plane(0.0, 3000.0)];
        let p = along(&list, 1000.0);
        assert_relative_eq!(p.at(0.0), 2.0, epsilon = 1e-9);
        assert_relative_eq!(p.at(1700.0), 5.4, epsilon = 1e-9);
        assert_eq!(p.breaks().count(), 2);
    }

    #[test]
    fn every_reading_is_met_and_its_order_does_not_matter() {
        let mut list = vec![
            (0.0, 0.0, -3.0),
            (1000.0, 0.0, -9.0),
            (2500.0, 0.0, 4.0),
            (4000.0, 0.0, 1.0),
            (600.0, 1500.0, 7.0),
            (3300.0, -1200.0, -20.0),
        ];
        let p = along(&list, 0.0);
        for (x, y, level) in &list {
            if *y == 0.0 {
                assert_relative_eq!(p.at(*x), *level, epsilon = 1e-9);
            }
        }
        for _ in 0..list.len() {
            list.rotate_left(1);
            list.swap(0, 2);
            assert_eq!(along(&list, 0.0), p);
        }
    }

    #[test]
    fn beyond_the_readings_the_nearest_counts() {
        assert_eq!(along(&[(900.0, 40.0, -6.0)], 0.0), Profile::level(-6.0));
        // Two readings: straight between them, level beyond, also beside their line.
        let p = along(&[(1000.0, 500.0, -6.0), (3000.0, 500.0, 4.0)], 0.0);
        assert_eq!(
            [0.0, 1000.0, 2000.0, 3000.0, 4000.0].map(|s| p.at(s)),
            [-6.0, -6.0, -1.0, 4.0, 4.0]
        );
        // Square off a rim the profile is as it is on it.
        let tri = [(1000.0, 500.0, -6.0), (3000.0, 500.0, 4.0), (2000.0, 2500.0, 90.0)];
        assert_relative_eq!(along(&tri, 0.0).at(2000.0), -1.0, epsilon = 1e-9);
    }

    #[test]
    fn two_readings_of_one_place_count_with_their_mean() {
        assert_eq!(along(&[(900.0, 40.0, -6.0), (900.2, 40.0, -2.0)], 0.0), Profile::level(-4.0));
        assert!(Relief::of(&[]).is_none());
        let odd = readings(&[(f64::NAN, 0.0, 0.0), (0.0, 0.0, f64::INFINITY)]);
        assert!(Relief::of(&odd).is_none());
        assert!(Relief::of(&readings(&[(1e-300, -1e-200, 2.0)])).is_some());
    }

    #[test]
    fn level_readings_are_level_to_the_last_digit() {
        let list =
            [(3.3, 7.7, 0.1), (4001.1, -8.9, 0.1), (77.7, 3123.4, 0.1), (2001.0, 900.0, 0.1)];
        assert_eq!(along(&list, 333.0), Profile::level(0.1));
    }
}
