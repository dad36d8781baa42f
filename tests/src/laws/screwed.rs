//! Laws of screws and of insulation: every board is held along every stud it crosses, and what fills the bays is what timber
//! and openings leave of the wall.

use layout_core::boards;
use layout_core::document::{Face, Insulation, Sundries};
use layout_core::insulation::fills;
use layout_core::layout::Layout;
use layout_core::span::Span;
use std::sync::Arc;

use super::{law, tries};
use crate::random;

/// A stud counts as crossed when its middle is this far inside the board, mm.
const INSIDE: f64 = 65.0;

#[test]
fn boards_are_screwed_along_every_stud_they_cross() {
    let rules = Sundries::default();
    law("no stud a board crosses is without a screw for more than the spacing", |_, layout| {
        let mut complaints = Vec::new();
        for wall in &layout.walls {
            for layer in &wall.boards.layers {
                let placed = boards::screws(&wall.spec, &wall.frame, layer, true, &rules);
                let surface = match layer.face {
                    Face::Right => wall.spec.frame.low,
                    Face::Left => wall.spec.frame.high,
                };
                let studs: Vec<(Span, Span)> = wall
                    .frame
                    .members
                    .iter()
                    .filter(|m| m.role.is_full_height())
                    .filter(|m| m.solid.across().contains(surface))
                    .map(|m| (m.solid.stations(), m.solid.heights()))
                    .collect();
                for (piece, screws) in layer.pieces.iter().zip(placed) {
                    for (along, up) in &studs {
                        let s = along.centre();
                        let inside = piece.shape.stations().grown(-INSIDE).contains(s);
                        if !inside || along.length() < 30.0 {
                            continue;
                        }
                        // Up the middle of the stud, as far as board and stud go.
                        let mut z = up.low + 100.0;
                        while z < up.high - 100.0 {
                            let there = piece.shape.contains([s, z])
                                && piece.shape.clearance([s, z]) > 30.0;
                            let held = |p: &[f64; 2]| {
                                (p[0] - s).abs() <= 60.0 + 1e-6
                                    && (p[1] - z).abs() <= rules.field + 1e-6
                            };
                            if there && !screws.iter().any(held) {
                                complaints.push(format!(
                                    "{} {:?} B{}: nothing near {s:.0}, {z:.0}",
                                    wall.name(),
                                    layer.face,
                                    piece.number
                                ));
                            }
                            z += 150.0;
                        }
                    }
                }
            }
        }
        complaints
    });
}

/// Area of a wall at stations a millimetre apart, that is in no timber and no opening, by counting points.
#[test]
fn insulation_and_timber_make_up_the_wall() {
    let mut walls = 0;
    for seed in 0..tries() / 4 {
        let mut job = random::job(seed);
        for makeup in &mut job.makeups {
            Arc::make_mut(makeup).insulation = Some(Insulation::usual(97.0));
        }
        let layout = Layout::of(&job);
        for wall in &layout.walls {
            let spec = &wall.spec;
            let fills = fills(spec, &wall.frame, 10.0);
            let half = spec.frame.length() / 2.0;
            let along = spec.along();
            walls += 1;
            // Nothing filled lies over timber or an opening, and nothing lies over another.
            for (i, f) in fills.iter().enumerate() {
                let heights = Span { low: f.low, high: f.high[0].min(f.high[1]) };
                let (s, z) = (f.along.grown(-1.0), heights.grown(-1.0));
                if s.length() <= 0.0 || z.length() <= 0.0 {
                    continue;
                }
                for m in &wall.frame.members {
                    let square = m.solid.elevation(Face::Right);
                    let (x, h) = (m.solid.stations(), m.solid.heights());
                    let plain = square.iter().all(|c| {
                        ((c.0 - x.low).abs() < 0.1 || (c.0 - x.high).abs() < 0.1)
                            && ((c.1 - h.low).abs() < 0.1 || (c.1 - h.high).abs() < 0.1)
                    });
                    if plain && m.solid.across().length() >= half {
                        assert!(
                            !(x.overlaps(s) && h.overlaps(z)),
                            "seed {seed} {}: bay {} lies over {}",
                            wall.name(),
                            f.bay,
                            m.mark
                        );
                    }
                }
                for other in &fills[i + 1..] {
                    let over = other.along.grown(-1.0).overlaps(s)
                        && Span { low: other.low, high: other.high[0].min(other.high[1]) }
                            .grown(-1.0)
                            .overlaps(z);
                    assert!(!over, "seed {seed} {}: bays {} and {}", wall.name(), f.bay, other.bay);
                }
            }
            // Of points spread over a level frame those in the clear are filled, but for slivers.
            if !spec.head.is_level() || !spec.breaks.is_empty() {
                continue;
            }
            // Between the plates: at most two of 46 each.
            let top = spec.head.at(along.centre()) - 95.0;
            let (mut clear, mut filled) = (0, 0);
            let mut s = along.low + 3.7;
            while s < along.high {
                let mut z = (spec.bed.at(s) + 95.3).max(50.0);
                while z < top {
                    // Slivers are packed, and nothing is cut for them.
                    let is_timber = wall.frame.members.iter().any(|m| {
                        m.solid.across().length() >= half
                            && m.solid.stations().grown(15.0).contains(s)
                            && m.solid.heights().grown(15.0).contains(z)
                    });
                    let is_open = spec.holes.iter().any(|h| {
                        h.span.contains(s) && z <= h.top && h.sill.is_none_or(|sill| z >= sill)
                    });
                    if !is_timber && !is_open {
                        clear += 1;
                        let holds = |f: &&layout_core::insulation::Fill| {
                            f.along.contains(s) && f.low <= z && z <= f.high[0].max(f.high[1])
                        };
                        filled += usize::from(fills.iter().any(|f| holds(&f)));
                    }
                    z += 31.0;
                }
                s += 23.0;
            }
            assert!(
                filled as f64 >= 0.97 * f64::from(clear) - 2.0,
                "seed {seed} {}: {filled} of {clear} points are filled",
                wall.name()
            );
        }
    }
    assert!(walls > 50, "{walls}");
}
