//! Laws of floors and ceilings that were read.

use layout_core::document::{Job, Reading};
use layout_core::id::Surface;
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use layout_core::packers;

use super::{NEAR, tries};
use crate::random::Random;

const SURFACES: [Surface; 2] = [Surface::Floor, Surface::Ceiling];

/// Complaints about wild jobs, and how many were asked.
fn law(rule: &str, complaint: impl Fn(&Job, u64) -> Option<String>) {
    let broken: Vec<String> = (0..tries())
        .filter_map(|seed| {
            Some(format!("seed {seed}: {}", complaint(&crate::wild::job(seed), seed)?))
        })
        .collect();
    assert!(
        broken.is_empty(),
        "{rule}; broken by {}:\n  {}",
        broken.len(),
        broken[..broken.len().min(12)].join("\n  ")
    );
}

#[test]
fn the_order_of_readings_does_not_matter() {
    law("a job is laid out alike whatever order its levels were read in", |job, seed| {
        let mut other = job.clone();
        let mut r = Random::new(seed);
        for surface in SURFACES {
            let list = other.levels.readings.of_mut(surface);
            for i in (1..list.len()).rev() {
                list.swap(i, r.below(i + 1));
            }
            for wall in &mut other.walls {
                std::sync::Arc::make_mut(wall).readings_mut(surface).reverse();
            }
        }
        let (a, b) = (Layout::of(job), Layout::of(&other));
        (a.walls != b.walls).then(|| "differs".to_string())
    });
}

#[test]
fn flat_readings_are_no_readings() {
    law("a floor and a ceiling read flat give the frames of those that were not read", |job, _| {
        let mut none = job.clone();
        for surface in SURFACES {
            none.levels.readings.of_mut(surface).clear();
            for wall in &mut none.walls {
                std::sync::Arc::make_mut(wall).readings_mut(surface).clear();
            }
        }
        let mut flat = none.clone();
        let floor = match flat.levels.readings.floor_is {
            layout_core::document::Floor::Slab => flat.levels.slab(),
            layout_core::document::Floor::Finished => 0.0,
        };
        for (surface, level) in [(Surface::Floor, floor), (Surface::Ceiling, flat.levels.ceiling)] {
            let at = |x: f64, y: f64| Reading { at: PlanPoint::new(x, y), level };
            *flat.levels.readings.of_mut(surface) =
                vec![at(-900.0, -800.0), at(1100.0, 300.0), at(-200.0, 2100.0), at(777.0, -1234.5)];
        }
        let (a, b) = (Layout::of(&none), Layout::of(&flat));
        let differs = a.walls.iter().zip(&b.walls).find(|(v, w)| v.frame != w.frame);
        differs.map(|(v, _)| format!("wall {}", v.name()))
    });
}

#[test]
fn every_plate_is_fixed_near_its_ends_and_often_enough() {
    law(
        "fixings are no further apart than the job says, and no packer is less than nothing",
        |job, _| {
            for w in &Layout::of(job).walls {
                let fixings = packers::fixings(&w.spec, &w.frame);
                let bedding =
                    job.wall(w.name()).and_then(|v| v.bedding).unwrap_or(w.spec.makeup.bedding);
                for plate in w.frame.members.iter().filter(|m| m.role.is_plate()) {
                    let on: Vec<_> = fixings.iter().filter(|f| f.plate == plate.mark).collect();
                    let run = plate.solid.stations();
                    let (Some(first), Some(last)) = (on.first(), on.last()) else { continue };
                    let ends =
                        first.at - run.low <= 150.0 + NEAR && run.high - last.at <= 150.0 + NEAR;
                    let short = run.length() < 300.0;
                    let apart =
                        on.windows(2).all(|p| p[1].at - p[0].at <= w.spec.packing.apart + NEAR);
                    if !(ends || short) || !apart {
                        return Some(format!("{} {}: {on:?} of {run:?}", w.name(), plate.mark));
                    }
                    let inside = on.iter().all(|f| run.contains(f.at));
                    let held = on.iter().all(|f| f.packer >= 0.0);
                    if !inside || !held {
                        return Some(format!("{} {}: {on:?}", w.name(), plate.mark));
                    }
                }
                // The plate stands on or over the floor everywhere there is one.
                let stations = w.spec.runs().into_iter().flat_map(|[start, end]| {
                    let (low, high) = (start[0].min(start[1]), end[0].max(end[1]));
                    (0..=50).map(move |i| low + (high - low) * f64::from(i) / 50.0)
                });
                for s in stations {
                    if w.spec.bed.at(s) < w.spec.floor.at(s) - 1e-6 {
                        return Some(format!(
                            "{} {bedding:?} stands in the floor at {s:.0}",
                            w.name()
                        ));
                    }
                }
            }
            None
        },
    );
}
