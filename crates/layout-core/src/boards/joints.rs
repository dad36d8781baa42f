//! Where the boards of one band of a face are joined: a shortest path over the timber that could take a joint.
//!
//! Every place where a joint could be is a node, every board between two of them a step. A step costs a board; a joint
//! costs what is wrong with it: nothing behind it, too near the corner of an opening, over a joint of the layer
//! below, on the same stud as one of the other face, off the grid. The cheapest way from one end to the other
//! is found exactly, so a joint moves off a corner by itself, where there is another stud to take it.

use crate::math::{BOUND_EDGE, EDGE_BEARING, SAME};
use crate::span::Span;

/// Joints keep this far from the line of an opening's corner, mm. Common practice (trade guides: 150 mm, 6 in).
pub(super) const OFF_CORNER: f64 = 150.0;
/// Joints of two layers, or of neighbouring bands, keep this far apart, mm. Common practice.
const STAGGER: f64 = 200.0;
/// A strip narrower than this is better avoided, mm.
const NARROW: f64 = 300.0;

/// What each thing costs; a board is worth a thousand.
const BOARD: f64 = 1000.0;
const BARE: f64 = 6000.0;
const CORNER: f64 = 1500.0;
const OVER_JOINT: f64 = 1300.0;
const SHARED_STUD: f64 = 60.0;
const CUT_ON_NARROW: f64 = 2.0;
const OFF_GRID: f64 = 5.0;

/// A band of a face that boards are laid along, and what is behind and round it.
pub(super) struct Band<'a> {
    /// From where to where.
    pub(super) along: Span,
    /// The longest a board reaches along the wall.
    pub(super) step: f64,
    /// Middles of upright timber, in order.
    pub(super) middles: &'a [f64],
    /// How far the timber behind the band carries a joint: the lesser of what is to its left and its right, mm.
    pub(super) bearing: &'a dyn Fn(f64) -> f64,
    /// Lines of the corners of openings that have a corner in the band.
    pub(super) corners: &'a [f64],
    /// Joints of the layer below and of the band below.
    pub(super) under: &'a [f64],
    /// Joints of the other face.
    pub(super) other: &'a [f64],
    /// Where the grid has them.
    pub(super) grid: &'a [f64],
}

/// A place where a joint could be, and how it would be carried there.
#[derive(Clone, Copy)]
struct Node {
    at: f64,
    bearing: f64,
}

/// More places than this are not looked at.
const MOST_NODES: usize = 4000;

impl Band<'_> {
    /// The stations of the joints, in order, without the two ends.
    pub(super) fn joints(&self) -> Vec<f64> {
        let nodes = self.nodes();
        let last = nodes.len() - 1;
        let joint = |i: usize| if i == last { 0.0 } else { self.joint(nodes[i]) };
        let mut best: Vec<(f64, usize)> = vec![(f64::INFINITY, 0); nodes.len()];
        best[0] = (0.0, 0);
        for to in 1..nodes.len() {
            let own = joint(to);
            let first = nodes.partition_point(|n| n.at < nodes[to].at - self.step - SAME);
            for from in first..to {
                let cost = best[from].0 + self.board(nodes[to].at - nodes[from].at) + own;
                // Of two as good the one with the longer board before it, so that what is odd is left to the end.
                if cost < best[to].0 - SAME {
                    best[to] = (cost, from);
                }
            }
        }
        let mut joints = Vec::new();
        let mut at = best[last].1;
        while at != 0 {
            joints.push(nodes[at].at);
            at = best[at].1;
        }
        joints.reverse();
        joints
    }

    /// Every place that is worth a thought: the ends, the middles of studs, and where a whole board ends on a stud off
    /// its middle, or on none where studs give only half a board.
    fn nodes(&self) -> Vec<Node> {
        let Span { low, high } = self.along;
        let inside = |at: f64| at > low + SAME && at < high - SAME;
        let node = |at: f64| Node { at, bearing: (self.bearing)(at) };
        let mut nodes: Vec<Node> = vec![Node { at: low, bearing: 0.0 }];
        let middles = self.middles.iter().filter(|&&m| inside(m)).map(|&m| node(m));
        nodes.extend(middles.filter(|n| n.bearing >= BOUND_EDGE - SAME));
        nodes.push(Node { at: high, bearing: 0.0 });
        let mut i = 0;
        while i < nodes.len() && nodes.len() < MOST_NODES {
            let next = nodes[i].at + self.step;
            if inside(next) {
                let reached = nodes.partition_point(|n| n.at < next + SAME);
                if !nodes.iter().any(|n| (n.at - next).abs() < 0.5) {
                    let short = nodes[reached - 1].at < nodes[i].at + self.step / 2.0;
                    let next = node(next);
                    if next.bearing >= BOUND_EDGE - SAME || short {
                        nodes.insert(reached, next);
                    }
                }
            }
            i += 1;
        }
        nodes
    }

    /// What a board so long costs.
    fn board(&self, length: f64) -> f64 {
        BOARD + (NARROW - length).max(0.0)
    }

    /// What a joint there costs.
    fn joint(&self, Node { at, bearing }: Node) -> f64 {
        let near = |list: &[f64], by: f64| list.iter().any(|l| (l - at).abs() < by - SAME);
        let mut cost = 0.0;
        if bearing < BOUND_EDGE - SAME {
            cost += BARE;
        } else if bearing < EDGE_BEARING - SAME {
            cost += CUT_ON_NARROW;
        }
        if near(self.corners, OFF_CORNER) {
            cost += CORNER;
        }
        if near(self.under, STAGGER) {
            cost += OVER_JOINT;
        }
        if near(self.other, 2.0 * EDGE_BEARING) {
            cost += SHARED_STUD;
        }
        if !near(self.grid, 1.0) {
            cost += OFF_GRID;
        }
        cost
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn joints(length: f64, middles: &[f64], corners: &[f64], other: &[f64]) -> Vec<f64> {
        let bearing = |at: f64| {
            let near = |m: &&f64| (**m - at).abs() < 23.0;
            middles.iter().find(near).map_or(0.0, |m| 23.0 - (m - at).abs())
        };
        Band {
            along: Span { low: 0.0, high: length },
            step: 1200.0,
            middles,
            bearing: &bearing,
            corners,
            under: &[],
            other,
            grid: &[1200.0, 2400.0, 3600.0],
        }
        .joints()
    }

    fn every(step: f64, to: f64) -> Vec<f64> {
        (1..).map(|k| f64::from(k) * step).take_while(|s| *s < to).collect()
    }

    #[test]
    fn whole_boards_from_the_start_where_nothing_is_in_the_way() {
        assert_eq!(joints(4000.0, &every(400.0, 4000.0), &[], &[]), [1200.0, 2400.0, 3600.0]);
    }

    #[test]
    fn a_joint_moves_off_the_corner_of_an_opening() {
        // A door from 1250 to 2088: the joint at 1200 is 50 off its corner; four boards as before.
        let at = joints(4000.0, &every(400.0, 4000.0), &[1250.0, 2088.0], &[]);
        assert_eq!(at.len(), 3);
        assert!(
            at.iter().all(|j| (j - 1250.0_f64).abs() >= 150.0 && (j - 2088.0).abs() >= 150.0),
            "{at:?}"
        );
    }

    #[test]
    fn faces_do_not_share_a_joint_when_another_stud_will_do() {
        let at = joints(4000.0, &every(400.0, 4000.0), &[], &[1200.0, 2400.0, 3600.0]);
        assert_eq!(at, [400.0, 1600.0, 2800.0]);
    }

    #[test]
    fn a_stud_that_was_shifted_still_takes_the_edge_of_a_whole_board() {
        let at = joints(2000.0, &[400.0, 800.0, 1205.0, 1600.0], &[], &[]);
        assert_eq!(at, [1200.0]);
    }

    #[test]
    fn where_no_stud_can_be_reached_the_board_ends_bare() {
        assert_eq!(joints(2000.0, &[50.0, 1900.0], &[], &[]).len(), 1);
    }
}
