//! What goes with boards: screws, tape, beads, filler, sealant, and what the boards weigh.

use crate::boards::{Layer, On, screws};
use crate::ceiling::CeilingLayout;
use crate::document::{Bearing, Face, Finish, Sundries};
use crate::layout::{PlatformLayout, WallLayout};
use crate::math::SAME;
use crate::platform;
use crate::resolve::{Edge, Hole, side};
use crate::span::Span;

/// Lengths screws are sold in, mm. Common practice.
const SCREWS: [f64; 12] =
    [25.0, 32.0, 38.0, 42.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 120.0, 150.0];

/// The least screw that goes through so much board and far enough into the timber, mm.
pub fn screw_length(boards: f64, penetration: f64) -> f64 {
    let least = boards + penetration;
    SCREWS.into_iter().find(|l| *l >= least - SAME).unwrap_or((least / 10.0).ceil() * 10.0)
}

/// What the boards of one wall or platform take.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfWall {
    /// Screws by length, mm.
    pub screws: Vec<(f64, usize)>,
    /// Tape over joints and in inside corners, mm.
    pub tape: f64,
    /// Joints and corners that are filled, mm: those without skim.
    pub filled: f64,
    /// Beads on outside corners, free ends and the boarded reveals, mm.
    pub corner_bead: f64,
    /// Beads where boards end against what is there, mm.
    pub edge_bead: f64,
    /// Sealant along floor, head and what is there, mm.
    pub sealant: f64,
    /// Mass of its boards, kg.
    pub mass: f64,
}

impl OfWall {
    fn screw(&mut self, length: f64, count: usize) {
        match self.screws.iter_mut().find(|(l, _)| *l == length) {
            Some((_, n)) => *n += count,
            None => self.screws.push((length, count)),
        }
    }

    fn in_order(mut self) -> OfWall {
        self.screws.retain(|(_, n)| *n > 0);
        self.screws.sort_by(|a, b| a.0.total_cmp(&b.0));
        self
    }
}

/// What the boards of `wall` take.
pub fn of_wall(wall: &WallLayout, rules: &Sundries) -> OfWall {
    let mut sum = OfWall::default();
    for face in [Face::Right, Face::Left] {
        let layers: Vec<&Layer> = wall.boards.layers.iter().filter(|l| l.face == face).collect();
        let Some(outer) = layers.last().copied() else { continue };
        let mut thick = 0.0;
        for layer in &layers {
            thick += layer.board.thickness;
            let length = screw_length(thick, rules.penetration);
            let is_outer = layer.layer == outer.layer;
            let placed = screws(&wall.spec, &wall.frame, layer, is_outer, rules);
            sum.screw(length, placed.iter().map(Vec::len).sum());
            sum.mass += layer.pieces.iter().map(|p| layer.mass(p)).sum::<f64>();
        }
        finish(wall, outer, &mut sum);
    }
    for strip in &wall.boards.strips {
        let length = screw_length(strip.under + strip.board.thickness, rules.penetration);
        sum.screw(length, strip.screws(rules).len());
        sum.mass += strip.mass();
    }
    sum.in_order()
}

/// What the boards of `platform` take. Those overhead are taped in the corners with what holds the platform; decking is not.
pub fn of_platform(platform: &PlatformLayout, rules: &Sundries) -> OfWall {
    let mut sum = OfWall::default();
    let spec = &platform.spec;
    let mut thick = 0.0;
    for layer in platform.boards.iter() {
        thick = if layer.layer == 0 { 0.0 } else { thick } + layer.board.thickness;
        let placed = platform::screws(spec, &platform.frame, layer, rules);
        let length = screw_length(thick, rules.penetration);
        sum.screw(length, placed.iter().map(Vec::len).sum());
        sum.mass += layer.pieces.iter().map(|p| layer.mass(p)).sum::<f64>();
        if !platform::is_outer(spec, layer) || layer.face == On::Above {
            continue;
        }
        sum.tape += layer.joints.iter().map(|j| j.along.length() + j.heights.length()).sum::<f64>();
        if layer.face == On::Front {
            // An inside corner with the ceiling, an outside one with the boards below.
            sum.tape += spec.width;
            sum.corner_bead += spec.width;
            continue;
        }
        for (side, held) in spec.held.iter().enumerate() {
            match spec.bearings.get(side) {
                Some(Bearing::Front) => {}
                Some(Bearing::Rim) => sum.edge_bead += spec.width,
                _ => {
                    let length = if side < 2 { spec.width } else { spec.length };
                    let whole = Span { low: 0.0, high: length };
                    let held: Vec<Span> = held.iter().map(|h| h.span).collect();
                    let bare: f64 = whole.without(&held).into_iter().map(Span::length).sum();
                    sum.tape += length - bare;
                }
            }
        }
    }
    if spec.below.skim <= 0.0 {
        sum.filled = sum.tape;
    }
    sum.in_order()
}

/// What the boards of the room's own ceiling take: taped where they stop at walls and partitions.
pub fn of_ceiling(ceiling: &CeilingLayout, rules: &Sundries) -> OfWall {
    let mut sum = OfWall::default();
    let mut thick = 0.0;
    for layer in &ceiling.layers {
        thick += layer.board.thickness;
        let placed = ceiling.screws(layer, rules);
        sum.screw(screw_length(thick, rules.penetration), placed.iter().map(Vec::len).sum());
        sum.mass += layer.pieces.iter().map(|p| layer.mass(p)).sum::<f64>();
    }
    if let Some(outer) = ceiling.layers.last() {
        let joints = outer.joints.iter().map(|j| j.along.length() + j.heights.length());
        sum.tape = joints.sum::<f64>() + ceiling.edge();
    }
    if ceiling.spec.boards.below.skim <= 0.0 {
        sum.filled = sum.tape;
    }
    sum.in_order()
}

fn finish(wall: &WallLayout, outer: &Layer, sum: &mut OfWall) {
    let spec = &wall.spec;
    let finish: &Finish = match outer.face {
        Face::Left => &spec.makeup.left,
        Face::Right => &spec.makeup.right,
    };
    let bottom = |s: f64| finish.floor_gap.max(spec.bed.at(s));
    let mut tape: f64 = outer.joints.iter().map(|j| j.along.length() + j.heights.length()).sum();
    for run in &spec.faces[side(outer.face)] {
        let Some(&along) = run.layers.get(outer.layer) else { continue };
        for (at, edge) in [along.low, along.high].into_iter().zip(run.edges) {
            let up = (spec.head.at(at).min(spec.head.before(at)) - bottom(at)).max(0.0);
            match edge {
                // Two runs meet there, of two walls: half of it is each one's.
                Edge::Inside => tape += up / 2.0,
                Edge::Outside => sum.corner_bead += up / 2.0,
                Edge::InLine => tape += up / 2.0,
                Edge::Free => sum.corner_bead += up,
                Edge::Existing => {
                    sum.edge_bead += up;
                    sum.sealant += up;
                }
            }
        }
        let at_floor = |h: &&Hole| h.sill.is_none_or(|sill| sill <= bottom(h.span.low) + SAME);
        let doors: Vec<Span> = spec.holes.iter().filter(at_floor).map(Hole::doorway).collect();
        sum.sealant += along.without(&doors).iter().map(|s| s.length()).sum::<f64>();
        sum.sealant += spec
            .head
            .stretches(along)
            .iter()
            .map(|s| s.span.length().hypot(s.to - s.from))
            .sum::<f64>();
    }
    // Reveals that are boarded.
    for hole in spec.holes.iter().filter(|h| h.boarded) {
        let doorway = hole.doorway();
        let low = hole.sill.unwrap_or_else(|| bottom(doorway.centre()));
        let level = if hole.sill.is_some() { 2.0 } else { 1.0 };
        sum.corner_bead += 2.0 * (hole.top - low).max(0.0) + level * doorway.length();
    }
    sum.tape += tape;
    if finish.skim <= 0.0 {
        sum.filled += tape;
    }
}
