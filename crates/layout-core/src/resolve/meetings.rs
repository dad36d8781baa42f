//! Which walls meet: ends that share a node, ends that stand against another wall's side, and
//! walls that cross where they should not.

use std::collections::BTreeMap;

use super::ends::Strip;
use crate::id::Name;
use crate::math::{ON_LINE, cross};
use crate::span::Span;

/// An end of a wall: which wall (by its place in the list of strips), and 0 for its start, 1 for
/// its end.
pub(super) type EndOf = (usize, usize);

/// What ends at one place.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Meeting {
    /// Ends that share the node, in the job's order.
    pub(super) ends: Vec<EndOf>,
    /// Walls that pass there, between their own ends.
    pub(super) passing: Vec<usize>,
}

/// What was found.
#[derive(Debug, Default)]
pub(super) struct Meetings {
    /// One for every node in use, in order of first use.
    pub(super) nodes: Vec<Meeting>,
    /// Walls that cross where neither ends: the first runs through.
    pub(super) crossings: Vec<(usize, usize)>,
    /// Walls that lie over each other.
    pub(super) overlaps: Vec<(usize, usize)>,
}

/// Finds what meets among `strips`; `nodes` gives the names of each wall's two nodes.
pub(super) fn find(strips: &[Strip], nodes: &[[&Name; 2]]) -> Meetings {
    let mut found = Meetings::default();
    let mut meeting_of: BTreeMap<&Name, usize> = BTreeMap::new();
    for (wall, ends) in nodes.iter().enumerate() {
        for (end, &node) in ends.iter().enumerate() {
            let at = *meeting_of.entry(node).or_insert_with(|| {
                found.nodes.push(Meeting::default());
                found.nodes.len() - 1
            });
            found.nodes[at].ends.push((wall, end));
        }
    }
    let mut pass = |node: &Name, wall: usize| {
        if let Some(&at) = meeting_of.get(node) {
            let passing = &mut found.nodes[at].passing;
            if !passing.contains(&wall) {
                passing.push(wall);
            }
        }
    };
    for (i, j) in near_pairs(strips) {
        let mut met = nodes[i].iter().any(|n| nodes[j].contains(n));
        for (a, b) in [(i, j), (j, i)] {
            for end in 0..2 {
                if !nodes[b].contains(&nodes[a][end]) && stands_on(&strips[a], end, &strips[b]) {
                    pass(nodes[a][end], b);
                    met = true;
                }
            }
        }
        if met {
            continue;
        }
        let (first, second) = (i.min(j), i.max(j));
        match clash(&strips[first], &strips[second]) {
            Clash::None => {}
            Clash::Over => found.overlaps.push((first, second)),
            Clash::Cross => found.crossings.push((first, second)),
            Clash::Stub { of_second: true, end } => pass(nodes[second][end], first),
            Clash::Stub { of_second: false, end } => pass(nodes[first][end], second),
        }
    }
    for meeting in &mut found.nodes {
        meeting.passing.sort_unstable();
    }
    found.crossings.sort_unstable();
    found.overlaps.sort_unstable();
    found
}

/// Pairs of walls whose boxes touch, by a sweep along x. Each pair comes once.
fn near_pairs(strips: &[Strip]) -> Vec<(usize, usize)> {
    let boxes: Vec<(Span, Span)> = strips.iter().map(bounds).collect();
    let mut order: Vec<usize> = (0..strips.len()).collect();
    order.sort_by(|&a, &b| boxes[a].0.low.total_cmp(&boxes[b].0.low));
    let mut pairs = Vec::new();
    for (k, &i) in order.iter().enumerate() {
        for &j in &order[k + 1..] {
            if boxes[j].0.low > boxes[i].0.high {
                break;
            }
            if boxes[i].1.low <= boxes[j].1.high && boxes[j].1.low <= boxes[i].1.high {
                pairs.push((i, j));
            }
        }
    }
    pairs
}

/// The box round a wall's strip on the plan, grown by the tolerance.
fn bounds(strip: &Strip) -> (Span, Span) {
    let (a, b) = (strip.node(0), strip.node(1));
    let margin = strip.frame.low.abs().max(strip.frame.high.abs()) + ON_LINE;
    (Span::between(a.x, b.x).grown(margin), Span::between(a.y, b.y).grown(margin))
}

/// True when the node at `end` of `a`, or a corner of its frame there, stands in or on `b`, between b's ends.
fn stands_on(a: &Strip, end: usize, b: &Strip) -> bool {
    if a.is_parallel_to(b.place.along) {
        return false;
    }
    let (s, n) = b.place.wall(a.node(end));
    // The line through its nodes counts as the wall, wherever the frame stands beside it.
    let reach = Span { low: b.frame.low.min(0.0), high: b.frame.high.max(0.0) };
    let between = |s: f64| s > ON_LINE && s < b.length - ON_LINE;
    let corner = |across: f64| b.place.wall(a.place.plan(a.node_station(end), across));
    let inside = |(s, n): (f64, f64)| b.frame.grown(-ON_LINE).contains(n) && between(s);
    reach.grown(ON_LINE).contains(n) && between(s)
        || inside(corner(a.frame.low))
        || inside(corner(a.frame.high))
}

/// How two walls that share no node and end at neither lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Clash {
    /// Apart.
    None,
    /// One over the other, in line.
    Over,
    /// They cross.
    Cross,
    /// They cross so near an end that what is left of that wall is no wall: it stops there.
    Stub { of_second: bool, end: usize },
}

fn clash(a: &Strip, b: &Strip) -> Clash {
    let (s0, n0) = a.place.wall(b.node(0));
    let (s1, n1) = a.place.wall(b.node(1));
    let turn = cross(a.place.along, b.place.along).abs();
    if turn <= crate::math::SQUARE {
        let along = Span::between(s0, s1).intersection(Span::from(0.0, a.length));
        let facing = if a.place.along.dot(&b.place.along) > 0.0 {
            b.frame
        } else {
            Span::between(-b.frame.low, -b.frame.high)
        };
        let over = along.length() > ON_LINE && facing.moved(n0).overlaps(a.frame);
        return if over { Clash::Over } else { Clash::None };
    }
    // Where b's line through its nodes crosses a's, and whether that is between the ends of both.
    let t = n0 / (n0 - n1);
    let at = s0 + (s1 - s0) * t;
    let on_b = t * b.length;
    if !(0.0..=b.length).contains(&on_b) || !(0.0..=a.length).contains(&at) {
        return Clash::None;
    }
    let nearer = |at: f64, length: f64| if at <= length / 2.0 { (at, 0) } else { (length - at, 1) };
    let (a_depth, b_depth) = (a.frame.length(), b.frame.length());
    let ((left_of_b, b_end), (left_of_a, a_end)) = (nearer(on_b, b.length), nearer(at, a.length));
    if left_of_b < (a_depth + b_depth) / turn {
        Clash::Stub { of_second: true, end: b_end }
    } else if left_of_a < (a_depth + b_depth) / turn {
        Clash::Stub { of_second: false, end: a_end }
    } else {
        Clash::Cross
    }
}
