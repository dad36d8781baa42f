//! What runs through a frame, and what is cut out of it for a box.

use layout_core::first_fix::{Way, by_bay, zones};
use layout_core::id::ItemRef;
use layout_core::math::SAME;
use layout_core::snag::{Code, Snag};

use super::law;

fn says(snags: &[Snag], code: Code, of: &ItemRef) -> bool {
    snags.iter().any(|s| s.code == code && s.of == *of)
}

#[test]
fn a_level_run_is_drilled_through_every_upright_it_meets_and_nothing_else() {
    law("holes are where a run meets uprights", |_, layout| {
        let mut broken = Vec::new();
        for w in &layout.walls {
            for run in w.runs.runs.iter().filter(|r| r.way == Way::Level) {
                let z = run.heights.centre();
                let met = w.frame.members.iter().filter(|m| {
                    let (s, h) = (m.solid.stations(), m.solid.heights());
                    let middle = w.spec.frame.centre();
                    let inside = m.solid.across().grown(run.hole / 2.0 - SAME).contains(middle);
                    let notched = run.notched.is_some();
                    h.length() > s.length()
                        && s.overlaps(run.span)
                        && h.contains(z)
                        && (inside || notched)
                });
                let drilled = w.runs.bores.iter().filter(|b| b.of == run.of && b.way == Way::Level);
                let (met, drilled) = (met.count(), drilled.count());
                if run.notched.is_none() && met != drilled || drilled > met {
                    broken.push(format!("{}: {met} met, {drilled} drilled", run.of.label()));
                }
            }
        }
        broken
    });
}

#[test]
fn every_hole_is_in_its_piece() {
    law("a hole is in its piece", |_, layout| {
        let of = |w: &layout_core::layout::WallLayout| {
            let outside = w.runs.bores.iter().filter(|b| {
                w.member(b.member).is_none_or(|m| {
                    let (s, z) = (m.solid.stations(), m.solid.heights());
                    !s.grown(SAME).contains(b.station) || !z.grown(SAME).contains(b.height)
                })
            });
            outside.map(|b| format!("{}-{}", w.name(), b.member)).collect::<Vec<_>>()
        };
        layout.walls.iter().flat_map(of).collect()
    });
}

#[test]
fn nothing_stands_behind_what_is_headed_off() {
    law("no stud behind a box that is headed off", |_, layout| {
        let mut broken = Vec::new();
        for w in layout.walls.iter().filter(|w| !w.frame.members.is_empty()) {
            for spot in w.spec.spots.iter().filter(|s| s.headed) {
                let excused = [Code::NotHeaded, Code::PointAtOpening, Code::OutsideWall]
                    .iter()
                    .any(|code| says(&layout.snags, *code, &spot.of));
                let behind = w.frame.members.iter().find(|m| {
                    m.role.is_full_height()
                        && m.solid.stations().overlaps(spot.span)
                        && m.solid.heights().overlaps(spot.heights)
                });
                if let (Some(m), false) = (behind, excused) {
                    broken.push(format!("{} {}", m.full_mark(w.name()), spot.of.label()));
                }
            }
        }
        broken
    });
}

#[test]
fn every_point_is_in_one_bay_of_the_list_and_every_hole_too() {
    law("bays hold everything once", |_, layout| {
        let mut broken = Vec::new();
        for w in layout.walls.iter().filter(|w| !w.frame.members.is_empty()) {
            let bays = by_bay(&w.spec, &w.frame, &w.runs);
            let points: usize = bays.iter().map(|b| b.points.len()).sum();
            let bores: usize = bays.iter().map(|b| b.bores.len()).sum();
            let sunk = w.spec.spots.iter().filter(|s| s.sunk).count();
            // A wall of two studs and no bay between them has no list.
            if !bays.is_empty() && (points, bores) != (sunk, w.runs.bores.len()) {
                broken.push(format!("{}: {points} of {sunk}, {bores} holes", w.name()));
            }
        }
        broken
    });
}

#[test]
fn a_point_is_in_its_own_zones() {
    law("a point is in its own zones", |_, layout| {
        let mut broken = Vec::new();
        for w in &layout.walls {
            let zones = zones(&w.spec);
            for spot in w.spec.spots.iter().filter(|s| s.is_wired) {
                let (s, z) = (spot.span.centre(), spot.heights.centre());
                let on_wall = w.spec.along().contains(s) && z < w.spec.head.at(s);
                let own = zones
                    .iter()
                    .filter(|zone| zone.of_point() == Some(&spot.of) && zone.face == spot.face);
                let (all, holds) = own.fold((0, 0), |(all, holds), zone| {
                    (all + 1, holds + usize::from(zone.contains(s, z)))
                });
                let at_opening = says(&layout.snags, Code::PointAtOpening, &spot.of);
                if on_wall && !at_opening && all > 0 && holds < 2 {
                    broken.push(format!("{}: {holds} of {all}", spot.of.label()));
                }
            }
        }
        broken
    });
}
