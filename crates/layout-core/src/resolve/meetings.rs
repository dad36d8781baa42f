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

/// What was found.
#[derive(Debug, Default)]
pub(super) struct Meetings {
    /// Ends that share a node, a group for each node with two or more, in the job's order.
    pub(super) nodes: Vec<Vec<EndOf>>,
    /// Ends whose node stands on another wall, between its ends.
    pub(super) tees: Vec<(EndOf, usize)>,
    /// Walls that cross or lie over each other where neither ends.
    pub(super) clashes: Vec<(usize, usize)>,
}

/// Finds what meets among `strips`; `nodes` gives the names of each wall's two nodes.
pub(super) fn find(strips: &[Strip], nodes: &[[&Name; 2]]) -> Meetings {
    let mut groups: Vec<Vec<EndOf>> = Vec::new();
    let mut group_of: BTreeMap<&Name, usize> = BTreeMap::new();
    for (wall, ends) in nodes.iter().enumerate() {
        for (end, &node) in ends.iter().enumerate() {
            let group = *group_of.entry(node).or_insert_with(|| {
                groups.push(Vec::new());
                groups.len() - 1
            });
            groups[group].push((wall, end));
        }
    }
    let mut found = Meetings { nodes: Vec::new(), ..Meetings::default() };
    for (i, j) in near_pairs(strips) {
        let shares = |end: usize, other: usize| nodes[other].contains(&nodes[i][end]) && other == j;
        let shared = shares(0, j) || shares(1, j);
        for (a, b) in [(i, j), (j, i)] {
            for end in 0..2 {
                if !nodes[b].contains(&nodes[a][end]) && stands_on(&strips[a], end, &strips[b]) {
                    found.tees.push(((a, end), b));
                }
            }
        }
        if !shared && clash(&strips[i], &strips[j]) {
            found.clashes.push((i, j));
        }
    }
    found.tees.sort_unstable();
    found.clashes.sort_unstable();
    found.nodes = groups;
    found.nodes.retain(|g| g.len() > 1);
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

/// True when the node at `end` of `a` stands in or on `b`, between b's ends.
fn stands_on(a: &Strip, end: usize, b: &Strip) -> bool {
    if a.is_parallel_to(b.place.along) {
        return false;
    }
    let (s, n) = b.place.wall(a.node(end));
    // The line through its nodes counts as the wall, wherever the frame stands beside it.
    let reach = Span { low: b.frame.low.min(0.0), high: b.frame.high.max(0.0) };
    reach.grown(ON_LINE).contains(n) && s > ON_LINE && s < b.length - ON_LINE
}

/// True when the two cross, or lie over each other in line, with neither ending there.
fn clash(a: &Strip, b: &Strip) -> bool {
    let (s0, n0) = a.place.wall(b.node(0));
    let (s1, n1) = a.place.wall(b.node(1));
    if cross(a.place.along, b.place.along).abs() <= crate::math::SQUARE {
        let along = Span::between(s0, s1).intersection(Span::from(0.0, a.length));
        let facing = if a.place.along.dot(&b.place.along) > 0.0 {
            b.frame
        } else {
            Span::between(-b.frame.low, -b.frame.high)
        };
        return along.length() > ON_LINE && facing.moved(n0).overlaps(a.frame);
    }
    // Where b's line through its nodes crosses a's, and whether both are between their ends.
    let t = n0 / (n0 - n1);
    let at = s0 + (s1 - s0) * t;
    let (depth_a, depth_b) = (a.frame.length(), b.frame.length());
    let on_b = t * b.length;
    on_b > depth_a && on_b < b.length - depth_a && at > depth_b && at < a.length - depth_b
}
