//! Laws of platforms: nothing overlaps, and everything bears on something at both ends.

use std::collections::BTreeSet;

use layout_core::boards::On;
use layout_core::document::Bearing;
use layout_core::frame::{Member, Role};
use layout_core::id::{ItemRef, Name};
use layout_core::layout::{Layout, PlatformLayout};
use layout_core::span::Span;

use crate::random::{self, Random};

use super::{NEAR, all_pieces, bounds, depth_of_overlap, law};

fn called(p: &PlatformLayout, m: &Member) -> String {
    let [x, y, z] = bounds(m);
    format!("{} {} x {x:.1?} y {y:.1?} z {z:.1?}", m.full_mark(p.name()), m.role.label())
}

/// Along the joists, across them, up.
fn own(p: &PlatformLayout, m: &Member) -> [Span; 3] {
    let [x, y, z] = bounds(m);
    if p.spec.along_width { [x, y, z] } else { [y, x, z] }
}

#[test]
fn no_two_pieces_of_a_platform_overlap() {
    law("no two pieces of a platform overlap", |_, layout| {
        let mut wrong = Vec::new();
        for p in &layout.platforms {
            for (i, a) in p.frame.members.iter().enumerate() {
                for b in &p.frame.members[i + 1..] {
                    if depth_of_overlap(&bounds(a), &bounds(b)) > NEAR {
                        wrong.push(format!("{} and {}", called(p, a), called(p, b)));
                    }
                }
            }
        }
        wrong
    });
}

#[test]
fn every_piece_lies_inside_the_outline() {
    law("every piece of a platform lies inside its outline", |job, layout| {
        let mut wrong = Vec::new();
        for p in &layout.platforms {
            let (w, d) = job.platform(p.name()).expect("it is in the job").size;
            for m in &p.frame.members {
                let [x, y, _] = bounds(m);
                if !(Span::between(0.0, w).covers(x) && Span::between(0.0, d).covers(y)) {
                    wrong.push(called(p, m));
                }
            }
        }
        wrong
    });
}

/// Every point of a platform that is in no hole is under one board of each layer below, and no other; no board is larger than
/// its sheet, and numbers run on.
#[test]
fn boards_cover_a_platform_once() {
    let mut boards = 0;
    for seed in 0..super::tries() {
        let layout = Layout::of(&random::job(seed));
        let mut r = Random::new(seed);
        for p in &layout.platforms {
            let mut numbers: Vec<(On, usize)> = Vec::new();
            for layer in p.boards.iter() {
                boards += layer.pieces.len();
                numbers.extend(layer.pieces.iter().map(|b| (layer.face, b.number)));
                for piece in &layer.pieces {
                    let (w, l) = piece.blank;
                    let fits = w <= layer.sheet.0 + NEAR && l <= layer.sheet.1 + NEAR;
                    assert!(fits, "seed {seed} {}: {w} x {l}", p.name());
                }
                if layer.face != On::Below {
                    continue;
                }
                for _ in 0..100 {
                    let at = [r.mm(0.0, p.spec.width) + 0.5, r.mm(0.0, p.spec.length) + 0.5];
                    let near =
                        |v: f64, s: Span| (v - s.low).abs() < 1.0 || (v - s.high).abs() < 1.0;
                    let holes = || p.spec.holes.iter();
                    let edge = at[0] > p.spec.width - 1.0 || at[1] > p.spec.length - 1.0;
                    if edge || holes().any(|h| near(at[0], h.across) || near(at[1], h.along)) {
                        continue;
                    }
                    let open = holes().any(|h| h.across.contains(at[0]) && h.along.contains(at[1]));
                    let over = layer.pieces.iter().filter(|b| b.shape.contains(at)).count();
                    assert_eq!(over, usize::from(!open), "seed {seed} {} at {at:?}", p.name());
                }
            }
            let all = numbers.len();
            numbers.sort_unstable();
            numbers.dedup();
            assert_eq!(numbers.len(), all, "seed {seed} {}: numbers", p.name());
        }
    }
    assert!(boards > 300, "only {boards} boards");
}

/// Joists, trimmers and noggins touch another piece with both ends, or a wall where a hanger or the end of
/// a rim is; plates lie along walls and under the ceiling.
#[test]
fn everything_bears_on_something_at_both_ends() {
    law("everything bears on something at both ends", |_, layout| {
        let mut wrong = Vec::new();
        for p in &layout.platforms {
            for m in &p.frame.members {
                // The way it lies: 0 along, 1 across, 2 up.
                let way = match m.role {
                    Role::WallPlate | Role::FrontPlate => continue,
                    Role::Joist | Role::TrimmingJoist | Role::TailJoist => 0,
                    Role::FrontStud => 2,
                    _ => 1,
                };
                let me = own(p, m);
                let touches = |at: f64| {
                    p.frame.members.iter().filter(|o| o.mark != m.mark).any(|other| {
                        let o = own(p, other);
                        let meets =
                            (o[way].low - at).abs() < NEAR || (o[way].high - at).abs() < NEAR;
                        let mut sides = (0..3).filter(|i| *i != way);
                        meets && sides.all(|i| me[i].intersection(o[i]).length() > NEAR)
                    })
                };
                for (end, at) in [me[way].low, me[way].high].into_iter().enumerate() {
                    let edge = [0.0, if way == 0 { p.spec.length } else { p.spec.width }][end];
                    let on_wall = (at - edge).abs() < NEAR
                        && match way {
                            0 => p.spec.bearings[end] == Bearing::Hangers,
                            _ => m.role == Role::Rim,
                        };
                    if !on_wall && !touches(at) {
                        wrong.push(format!("{} at {at:.1}", called(p, m)));
                    }
                }
            }
        }
        wrong
    });
}

#[test]
fn no_timber_lies_in_a_framed_hole() {
    law("no timber lies in a hole that is framed", |_, layout| {
        let mut wrong = Vec::new();
        let left_out = |name: &Name| {
            let of = ItemRef::PlatformHole(name.clone());
            layout.snags.iter().any(|s| s.of == of && s.message.contains("not framed"))
        };
        for p in &layout.platforms {
            for hole in p.spec.holes.iter().filter(|h| !left_out(&h.name)) {
                for m in &p.frame.members {
                    let [along, across, up] = own(p, m);
                    let overlap = along
                        .intersection(hole.along)
                        .length()
                        .min(across.intersection(hole.across).length());
                    if overlap > NEAR && up.overlaps(p.spec.heights) {
                        wrong.push(format!("{} in {}", called(p, m), hole.name));
                    }
                }
            }
        }
        wrong
    });
}

#[test]
fn no_bay_is_wider_than_the_centres_allow() {
    law("no bay between joists is wider than the centres and half a joist", |_, layout| {
        let mut wrong = Vec::new();
        for p in layout.platforms.iter().filter(|p| p.spec.holes.is_empty()) {
            let marks = layout_core::platform::running(&p.spec, &p.frame);
            let most = p.spec.centres + p.spec.timber.thickness() / 2.0 + NEAR;
            for pair in marks.windows(2) {
                if pair[1].at - pair[0].at > most {
                    wrong.push(format!("{}: {} to {}", p.name(), pair[0].at, pair[1].at));
                }
            }
        }
        wrong
    });
}

#[test]
fn marks_are_of_one_piece_in_the_whole_job() {
    law("a mark is of one piece", |_, layout| {
        let mut seen = BTreeSet::new();
        all_pieces(layout)
            .map(|(name, m)| m.full_mark(name))
            .filter(|mark| !seen.insert(mark.clone()))
            .collect()
    });
}
