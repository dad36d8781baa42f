//! Closed outlines among the lines of a drawing: what can be the room.

use std::collections::BTreeMap;

use super::{Drawing, Line};

/// A closed outline, anticlockwise, without corners that are none.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The layer it is on.
    pub layer: String,
    /// Its corners, mm.
    pub corners: Vec<[f64; 2]>,
}

impl Outline {
    /// Its area, mm².
    pub fn area(&self) -> f64 {
        signed_area(&self.corners)
    }

    /// How far it goes along x (0) or y (1), mm.
    pub fn across(&self, axis: usize) -> f64 {
        let of = self.corners.iter().map(|p| p[axis]);
        of.clone().fold(f64::NEG_INFINITY, f64::max) - of.fold(f64::INFINITY, f64::min)
    }
}

/// Corners nearer to each other than this are one, mm.
const NEAR: f64 = 1.0;
/// A corner so little off the line of its neighbours is none, mm.
const STRAIGHT: f64 = 0.2;
/// An outline has no more corners.
const MOST_CORNERS: usize = 400;
/// Nothing smaller is a room, mm².
const SMALLEST: f64 = 250_000.0;

/// Nor anything narrower: a wall drawn by its two faces, mm.
const NARROWEST: f64 = 500.0;

/// The closed outlines of a drawing in millimetres, the largest first: closed lines, and open ones whose ends meet. Those
/// that cross themselves, are too small for a room or have too many corners are left out.
pub fn outlines(drawing: &Drawing) -> Vec<Outline> {
    let (closed, open): (Vec<&Line>, Vec<&Line>) = drawing.lines.iter().partition(|l| l.closed);
    let closed = closed.into_iter().map(|l| (l.layer.clone(), l.points.clone()));
    let mut found: Vec<Outline> = closed
        .chain(chained(&open))
        .filter_map(|(layer, points)| {
            let corners = tidied(points);
            let fits = (3..=MOST_CORNERS).contains(&corners.len());
            (fits && !crosses_itself(&corners)).then_some(Outline { layer, corners })
        })
        .filter(|o| o.area() >= SMALLEST && (0..2).all(|axis| o.across(axis) >= NARROWEST))
        .collect();
    found.sort_by(|a, b| b.area().total_cmp(&a.area()));
    found.dedup_by(|a, b| a.corners == b.corners);
    found
}

/// A place with its number.
type Place = (usize, [f64; 2]);

/// Places of ends, numbered so that ends that meet have the same number.
#[derive(Default)]
struct Places {
    cells: BTreeMap<(i64, i64), Vec<Place>>,
    count: usize,
}

impl Places {
    /// The number of the place at `p`: that of one within [`NEAR`], or a new one.
    fn number(&mut self, p: [f64; 2]) -> usize {
        let [x, y] = p.map(|v| (v / NEAR).floor() as i64);
        let around = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (x + dx, y + dy)));
        let near = around.filter_map(|cell| self.cells.get(&cell)).flatten();
        let mut near = near.filter(|(_, q)| apart(p, *q) < NEAR);
        if let Some((number, _)) = near.next() {
            return *number;
        }
        self.cells.entry((x, y)).or_default().push((self.count, p));
        self.count += 1;
        self.count - 1
    }
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Rings of lines each of which goes on at both its ends in exactly one other.
fn chained(lines: &[&Line]) -> Vec<(String, Vec<[f64; 2]>)> {
    let mut places = Places::default();
    let ends: Vec<Option<[usize; 2]>> = lines
        .iter()
        .map(|l| Some([places.number(*l.points.first()?), places.number(*l.points.last()?)]))
        .collect();
    let mut at: Vec<Vec<usize>> = vec![Vec::new(); places.count];
    for (i, ends) in ends.iter().enumerate() {
        for end in ends.iter().flatten() {
            at[*end].push(i);
        }
    }
    let mut rings: Vec<(String, Vec<[f64; 2]>)> = Vec::new();
    let mut used = vec![false; lines.len()];
    for first in 0..lines.len() {
        let (false, Some([start, mut here])) = (used[first], ends[first]) else { continue };
        used[first] = true;
        let mut points = lines[first].points.clone();
        let mut last = first;
        while here != start {
            let [a, b] = at[here][..] else { break };
            let next = if a == last { b } else { a };
            let (false, Some([from, to])) = (used[next], ends[next]) else { break };
            used[next] = true;
            last = next;
            let mut more = lines[next].points.clone();
            if from != here {
                more.reverse();
            }
            points.extend(more.iter().skip(1));
            here = if from == here { to } else { from };
        }
        if here == start {
            rings.push((lines[first].layer.clone(), points));
        }
    }
    rings
}

/// Without corners that fall together or lie in line, anticlockwise, from the lowest of the leftmost.
fn tidied(points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    let mut corners: Vec<[f64; 2]> = Vec::with_capacity(points.len());
    for p in points {
        if corners.last().is_none_or(|q| apart(p, *q) >= NEAR) {
            corners.push(p);
        }
    }
    while corners.len() > 1 && apart(corners[0], corners[corners.len() - 1]) < NEAR {
        corners.pop();
    }
    let mut i = 0;
    while corners.len() > 2 && i < corners.len() {
        let n = corners.len();
        let (a, b, c) = (corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
        let run = apart(a, c);
        let off = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])).abs();
        let on = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) > 0.0;
        if run > 0.0 && off / run < STRAIGHT && on {
            corners.remove(i);
            i = i.saturating_sub(1);
        } else {
            i += 1;
        }
    }
    if signed_area(&corners) < 0.0 {
        corners.reverse();
    }
    let key = |p: &[f64; 2]| (p[0] * 100.0).round() as i64;
    let first = (0..corners.len()).min_by(|a, b| {
        let (p, q) = (&corners[*a], &corners[*b]);
        key(p).cmp(&key(q)).then(p[1].total_cmp(&q[1]))
    });
    corners.rotate_left(first.unwrap_or(0));
    corners
}

fn signed_area(corners: &[[f64; 2]]) -> f64 {
    let Some(o) = corners.first() else { return 0.0 };
    let fan = corners
        .windows(2)
        .map(|w| (w[0][0] - o[0]) * (w[1][1] - o[1]) - (w[1][0] - o[0]) * (w[0][1] - o[1]));
    fan.sum::<f64>() / 2.0
}

/// True when two sides that are not neighbours meet.
fn crosses_itself(corners: &[[f64; 2]]) -> bool {
    use layout_core::math::{PlanPoint, crosses};
    let n = corners.len();
    let at = |i: usize| PlanPoint::new(corners[i % n][0], corners[i % n][1]);
    let side = |i: usize| (at(i), at(i + 1));
    (0..n).any(|i| (i + 2..n).any(|j| !(i == 0 && j == n - 1) && crosses(side(i), side(j))))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(points: &[[f64; 2]], closed: bool) -> Line {
        Line { layer: "0".into(), points: points.to_vec(), closed }
    }

    fn found(lines: Vec<Line>) -> Vec<Outline> {
        outlines(&Drawing { lines, ..Drawing::default() })
    }

    #[test]
    fn four_lines_whose_ends_meet_are_a_room() {
        // Drawn this way and that, in no order, the ends half a millimetre apart.
        let room = found(vec![
            line(&[[0.0, 0.0], [4000.0, 0.0]], false),
            line(&[[0.0, 3000.2], [0.0, 0.2]], false),
            line(&[[4000.0, 3000.6], [4000.0, 0.0]], false),
            line(&[[4000.0, 3000.0], [0.0, 3000.0]], false),
            line(&[[9000.0, 0.0], [9000.0, 500.0]], false),
        ]);
        assert_eq!(room.len(), 1);
        assert_eq!(room[0].corners.len(), 4);
        assert!((room[0].area() - 12e6).abs() < 1e4);
        assert_eq!(room[0].corners[0], [0.0, 0.0]);
    }

    #[test]
    fn corners_that_are_none_go_and_rooms_run_anticlockwise() {
        let clockwise = [
            [0.0, 0.0],
            [0.0, 3000.0],
            [2000.0, 3000.05],
            [4000.0, 3000.0],
            [4000.0, 0.0],
            [0.3, 0.0],
        ];
        let room = found(vec![line(&clockwise, true)]);
        assert_eq!(room[0].corners, [[0.0, 0.0], [4000.0, 0.0], [4000.0, 3000.0], [0.0, 3000.0]]);
    }

    #[test]
    fn what_crosses_itself_or_is_small_is_no_room() {
        let crossed = [[0.0, 0.0], [4000.0, 3000.0], [4000.0, 0.0], [0.0, 2000.0]];
        let small = [[0.0, 0.0], [400.0, 0.0], [400.0, 400.0], [0.0, 400.0]];
        let wall = [[0.0, 0.0], [4000.0, 0.0], [4000.0, 140.0], [0.0, 140.0]];
        let lines = vec![line(&crossed, true), line(&small, true), line(&wall, true)];
        assert_eq!(found(lines), []);
    }

    #[test]
    fn the_largest_comes_first() {
        let square = |w: f64| line(&[[0.0, 0.0], [w, 0.0], [w, w], [0.0, w]], true);
        let rooms = found(vec![square(2000.0), square(5000.0), square(2000.0)]);
        assert_eq!(rooms.len(), 2);
        assert!(rooms[0].area() > rooms[1].area());
    }
}
