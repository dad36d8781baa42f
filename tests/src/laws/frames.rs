//! Laws of one layout: pieces keep out of each other, inside their wall, and rest on something.

use std::collections::BTreeSet;

use layout_core::document::HeadLay;
use layout_core::frame::{Member, Role};
use layout_core::id::Kind;
use layout_core::layout::WallLayout;
use layout_core::math::PlanPoint;
use layout_core::snag::{Code, Severity, Snag};
use layout_core::span::Span;

use super::{NEAR, bounds, called, depth_of_overlap, law, pieces};

#[test]
fn the_random_jobs_are_worth_laying_out() {
    let (mut walls, mut members, mut roles) = (0, 0, BTreeSet::new());
    for seed in 0..super::tries() {
        let layout = layout_core::layout::Layout::of(&crate::random::job(seed));
        walls += layout.walls.len();
        members += pieces(&layout).count();
        roles.extend(pieces(&layout).map(|(_, m)| m.role));
    }
    assert!(walls > 700 && members > 15_000, "{walls} walls, {members} pieces");
    assert!(roles.len() >= 16, "{roles:?}");
}

#[test]
fn no_two_pieces_of_a_wall_overlap() {
    law("no two pieces of a wall overlap", |_, layout| {
        let mut wrong = Vec::new();
        for w in &layout.walls {
            let all: Vec<_> = w.frame.members.iter().map(|m| (m, bounds(m))).collect();
            for (i, (a, box_a)) in all.iter().enumerate() {
                for (b, box_b) in &all[i + 1..] {
                    let depth = depth_of_overlap(box_a, box_b);
                    if depth > NEAR {
                        wrong.push(format!("{depth:.1}: {} and {}", called(w, a), called(w, b)));
                    }
                }
            }
        }
        wrong
    });
}

/// The corners of a piece on the plan, in order round it, and its heights.
fn on_plan(w: &WallLayout, m: &Member) -> ([PlanPoint; 4], Span) {
    let [x, y, z] = bounds(m);
    let corner = |s, n| w.place.plan(s, n);
    let corners = [
        corner(x.low, y.low),
        corner(x.high, y.low),
        corner(x.high, y.high),
        corner(x.low, y.high),
    ];
    (corners, z)
}

/// True when two rectangles on the plan share more than an edge: no side of either parts them.
fn rectangles_overlap(a: &[PlanPoint; 4], b: &[PlanPoint; 4]) -> bool {
    [a, b].iter().all(|r| {
        [(0, 1), (1, 2)].iter().all(|&(i, j)| {
            let side = r[j] - r[i];
            let axis = side / side.norm();
            let reach = |r: &[PlanPoint; 4]| {
                let along = r.map(|p| p.coords.dot(&axis));
                let low = along.iter().copied().fold(f64::INFINITY, f64::min);
                let high = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                Span { low, high }
            };
            reach(a).intersection(reach(b)).length() > NEAR
        })
    })
}

#[test]
fn no_two_pieces_of_different_walls_overlap() {
    law("no two pieces of different walls overlap", |_, layout| {
        let mut wrong = Vec::new();
        for (i, v) in layout.walls.iter().enumerate() {
            for w in &layout.walls[i + 1..] {
                for a in &v.frame.members {
                    let (plan_a, z_a) = on_plan(v, a);
                    for b in &w.frame.members {
                        let (plan_b, z_b) = on_plan(w, b);
                        if z_a.intersection(z_b).length() > NEAR
                            && rectangles_overlap(&plan_a, &plan_b)
                        {
                            wrong.push(format!("{} and {}", called(v, a), called(w, b)));
                        }
                    }
                }
            }
        }
        wrong
    });
}

#[test]
fn every_piece_lies_inside_its_wall() {
    law("every piece lies inside its wall, between floor and head", |_, layout| {
        let mut wrong = Vec::new();
        for (w, m) in pieces(layout) {
            let [x, y, z] = bounds(m);
            let laps = [&w.spec.head_laps, &w.spec.sole_laps].into_iter().flat_map(|l| l.ends);
            let reach = laps
                .flatten()
                .fold(w.spec.reach(), |r, s| Span { low: r.low.min(s), high: r.high.max(s) });
            let along = if m.role.is_plate() { reach } else { w.spec.along() }.grown(NEAR);
            let across = w.spec.frame.grown(NEAR);
            let heights =
                Span { low: w.spec.floor.lowest() - NEAR, high: w.spec.head.highest() + NEAR };
            if !(along.covers(x) && across.covers(y) && heights.covers(z)) {
                wrong.push(called(w, m));
            }
        }
        wrong
    });
}

#[test]
fn openings_are_left_clear() {
    law("nothing stands in an opening that could be framed", |_, layout| {
        let mut wrong = Vec::new();
        for w in &layout.walls {
            for h in &w.spec.holes {
                let blamed = w.frame.snags.iter().chain(&layout.snags).any(|s| {
                    s.severity() != Severity::Note
                        && s.of.label().ends_with(&format!(" {}", h.name))
                });
                let floor = w.spec.floor.lowest();
                let height = Span { low: h.sill.unwrap_or(floor.max(0.0)), high: h.top };
                for m in w.frame.members.iter().filter(|_| !blamed) {
                    let [x, y, z] = bounds(m);
                    // Of a pocket, only what the leaf slides through.
                    let leaf = h.door.as_ref().map_or(0.0, |d| d.leaf.2);
                    let leaf = Span::about(w.spec.frame.centre(), leaf);
                    let in_pocket = h.pocket().is_some_and(|p| {
                        x.intersection(p).length() > NEAR && y.intersection(leaf).length() > NEAR
                    });
                    let in_doorway = x.intersection(h.doorway()).length() > NEAR;
                    if (in_doorway || in_pocket) && z.intersection(height).length() > NEAR {
                        wrong.push(format!("{} stands in {}", called(w, m), h.name));
                    }
                }
            }
        }
        wrong
    });
}

#[test]
fn pieces_are_cut_to_their_longest_edge() {
    law("the cut length is the longest edge", |_, layout| {
        let mut wrong = Vec::new();
        for (w, m) in pieces(layout) {
            let corners = m.solid.corners();
            let longest = (0..4).map(|i| (corners[i + 4] - corners[i]).norm()).fold(0.0, f64::max);
            let cut = m.cut();
            let [x, y, z] = bounds(m);
            let extent = x.length().max(y.length()).max(z.length());
            if (cut.length - longest).abs() > 1e-6 || cut.length > extent + NEAR {
                wrong.push(format!("{} cut {} edge {longest}", called(w, m), cut.length));
            }
        }
        wrong
    });
}

#[test]
fn pieces_are_as_thick_as_their_section() {
    law("a piece's other two sizes are its section", |_, layout| {
        let mut wrong = Vec::new();
        for (w, m) in pieces(layout) {
            let sizes = bounds(m).map(Span::length);
            let length = m.cut().length;
            let mut others: Vec<f64> = sizes.to_vec();
            let long = others.iter().position(|s| (s - length).abs() < NEAR);
            if let Some(i) = long {
                others.remove(i);
            }
            others.sort_by(f64::total_cmp);
            let section = [m.timber.thickness(), m.timber.depth()];
            let right = others.len() == 2
                && (others[0] - section[0].min(section[1])).abs() < NEAR
                && (others[1] - section[1].max(section[0])).abs() < NEAR;
            if !right {
                wrong.push(format!("{} of {}", called(w, m), m.timber.size()));
            }
        }
        wrong
    });
}

/// True when something of the wall bears against the face of `m` at one end of `axis`.
fn borne(w: &WallLayout, m: &Member, axis: usize, at: f64) -> bool {
    let here = bounds(m);
    w.frame.members.iter().filter(|o| o.mark != m.mark).any(|o| {
        let other = bounds(o);
        let touches = (other[axis].low - at).abs() < NEAR || (other[axis].high - at).abs() < NEAR;
        let shares =
            (0..3).filter(|i| *i != axis).all(|i| here[i].intersection(other[i]).length() > 1.0);
        touches && shares
    })
}

#[test]
fn every_upright_stands_on_timber_and_reaches_timber() {
    law("every upright stands on timber and reaches timber", |_, layout| {
        let upright = |m: &Member| {
            m.role.is_full_height() || matches!(m.role, Role::Jack | Role::Cripple | Role::Slat)
        };
        pieces(layout)
            .filter(|(w, m)| {
                let z = bounds(m)[2];
                upright(m) && !(borne(w, m, 2, z.low) && borne(w, m, 2, z.high))
            })
            .map(|(w, m)| called(w, m))
            .collect()
    });
}

#[test]
fn noggins_heads_and_sills_are_held_at_both_ends() {
    law("noggins, heads and sills are held at both ends", |_, layout| {
        let between = |m: &Member| {
            let noggin = matches!(
                m.role,
                Role::Noggin | Role::BoxNoggin | Role::Pattress | Role::StudTrimmer
            );
            noggin || matches!(m.role, Role::OpeningHead | Role::Sill)
        };
        pieces(layout)
            .filter(|(w, m)| {
                let x = bounds(m)[0];
                // A jack holds a head from below.
                let held = |at: f64| borne(w, m, 0, at) || borne(w, m, 2, bounds(m)[2].low);
                between(m) && !(held(x.low) && held(x.high))
            })
            .map(|(w, m)| called(w, m))
            .collect()
    });
}

#[test]
fn spacing_keeps_to_the_centres() {
    law("clear spacing is at most centres less half a stud, or a snag says so", |_, layout| {
        let mut wrong = Vec::new();
        for w in &layout.walls {
            let thickness = w.spec.makeup.timber.thickness();
            let excused = w.frame.snags.iter().any(|s| {
                matches!(
                    s.code,
                    Code::OpeningNoStud
                        | Code::OpeningsClash
                        | Code::OpeningTooTall
                        | Code::OpeningUpsideDown
                        | Code::OpeningPastEnd
                        | Code::StudPacked
                        | Code::StudDropped
                )
            });
            if excused || w.frame.members.is_empty() {
                continue;
            }
            // Just under the head plate: full-height uprights, and cripples over openings.
            let level = w.frame.members.iter().filter(|m| m.role.is_full_height());
            let level = level.map(|m| bounds(m)[2].high).fold(f64::INFINITY, f64::min) - 1.0;
            let mut at: Vec<Span> = w
                .frame
                .members
                .iter()
                .filter(|m| m.mark.kind != Kind::Noggin && m.mark.kind != Kind::Pattress)
                .filter(|m| !m.role.is_plate() && m.role != Role::Block)
                .map(bounds)
                .filter(|b| b[2].contains(level))
                .map(|b| b[0])
                .collect();
            at.sort_by(|a, b| a.low.total_cmp(&b.low));
            let mut reach = f64::NEG_INFINITY;
            for s in at {
                let gap = s.low - reach;
                // The head plate itself is the head of an opening that reaches up to it.
                let clear = Span { low: reach, high: s.low };
                let head = w.spec.makeup.opening_head.as_ref().unwrap_or(&w.spec.makeup.timber);
                let high = match w.spec.makeup.opening_head_lay {
                    HeadLay::Flat => head.thickness(),
                    HeadLay::OnEdge | HeadLay::Doubled => head.depth(),
                };
                let plate_serves = |top: f64| top > level - high - 10.0;
                if w.spec.holes.iter().any(|h| plate_serves(h.top) && h.span.overlaps(clear)) {
                    reach = reach.max(s.high);
                    continue;
                }
                if reach > f64::NEG_INFINITY && gap > w.spec.centres - thickness / 2.0 + NEAR {
                    wrong.push(format!(
                        "{} {:.1} clear before {:.1} at centres {}",
                        w.name(),
                        gap,
                        s.low,
                        w.spec.centres
                    ));
                }
                reach = reach.max(s.high);
            }
        }
        wrong
    });
}

#[test]
fn marks_are_unique_and_count_from_one() {
    law("marks are unique in a wall and count from 1", |_, layout| {
        let mut wrong = Vec::new();
        for w in &layout.walls {
            let marks: BTreeSet<_> = w.frame.members.iter().map(|m| m.mark).collect();
            if marks.len() != w.frame.members.len() {
                wrong.push(format!("{}: a mark is used twice", w.name()));
            }
            let mut last = None;
            for mark in marks {
                let expected = match last {
                    Some((kind, number)) if kind == mark.kind => number + 1,
                    _ => 1,
                };
                if mark.number != expected
                    || w.member(mark).is_none_or(|m| m.role.kind() != mark.kind)
                {
                    wrong.push(format!("{}-{mark}, expected number {expected}", w.name()));
                }
                last = Some((mark.kind, mark.number));
            }
        }
        wrong
    });
}

#[test]
fn every_snag_says_what_and_what_to_do() {
    law("a snag names its place, says what is wrong and what to do", |_, layout| {
        let sentence =
            |t: &str| t.chars().next().is_some_and(|c| c.is_uppercase() || c.is_numeric());
        layout
            .snags
            .iter()
            .filter(|s| !sentence(&s.message) || !sentence(&s.remedy) || s.message == s.remedy)
            .map(|s| format!("{:?}: “{}” “{}”", s.code, s.message, s.remedy))
            .collect()
    });
}

#[test]
fn snags_come_gravest_first() {
    law("the gravest snags come first", |_, layout| {
        let order: Vec<Severity> = layout.snags.iter().map(Snag::severity).collect();
        if order.is_sorted() { Vec::new() } else { vec![format!("{order:?}")] }
    });
}
