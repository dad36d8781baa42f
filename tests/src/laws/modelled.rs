//! Laws of what is over the room, and of the building model.

use layout_core::document::{Job, RoofPlane};
use layout_core::existing::{floor, soffits};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use sheets::export::ifc;

use super::tries;
use crate::random::{self, Random};

/// An L-shaped room under up to four planes: some over all of it, some over a part.
fn room(seed: u64) -> Job {
    let mut r = Random::new(seed);
    let mut job = random::job(seed);
    let l = [(0, 0), (6000, 0), (6000, 2500), (3500, 2500), (3500, 5000), (0, 5000)];
    let corner = |(x, y): (i32, i32)| layout_core::document::Corner {
        at: PlanPoint::new(f64::from(x), f64::from(y)),
        thickness: 100.0,
        gaps: Vec::new(),
    };
    job.shell.outline = l.map(corner).to_vec();
    job.levels.ceiling = 2400.0;
    job.shell.roof.clear();
    for i in 0..r.below(5) {
        let from = PlanPoint::new(r.mm(-1000.0, 7000.0), r.mm(-1000.0, 6000.0));
        let to = PlanPoint::new(r.mm(-1000.0, 7000.0), r.mm(-1000.0, 6000.0));
        let (level, pitch_deg) = (r.mm(1000.0, 2750.0), r.mm(0.0, 50.0));
        let (x, y) = (r.mm(-500.0, 5500.0), r.mm(-500.0, 4500.0));
        let (w, d) = (r.mm(200.0, 3000.0), r.mm(200.0, 3000.0));
        let part = [(x, y), (x + w, y), (x + w, y + d), (x, y + d)];
        let over = if r.once_in(2) {
            Vec::from(part.map(|(x, y)| PlanPoint::new(x, y)))
        } else {
            Vec::new()
        };
        let name = format!("R{i}").as_str().into();
        job.shell.roof.push(RoofPlane { name, from, to, level, pitch_deg, over });
    }
    job
}

/// The planes at a place, as the file format has them: those kept to a part only there, and no ceiling where one is.
fn lowest(job: &Job, [x, y]: [f64; 2]) -> f64 {
    let mut heights = Vec::new();
    let mut hides = false;
    for plane in &job.shell.roof {
        let eaves = plane.to - plane.from;
        if eaves.norm() < 1.0 {
            continue;
        }
        let inside = |p: &[PlanPoint]| p[0].x < x && x < p[2].x && p[0].y < y && y < p[2].y;
        if plane.over.is_empty() || inside(&plane.over) {
            hides |= !plane.over.is_empty();
            let off = (eaves.x * (y - plane.from.y) - eaves.y * (x - plane.from.x)) / eaves.norm();
            heights.push(plane.level + off * plane.pitch_deg.to_radians().tan());
        }
    }
    if !hides {
        heights.push(job.levels.ceiling);
    }
    heights.into_iter().fold(f64::INFINITY, f64::min)
}

#[test]
fn what_is_over_the_room_covers_it_once_and_is_the_lowest() {
    let (mut broken, mut several) = (Vec::new(), 0);
    for seed in 0..tries() {
        let job = room(seed);
        let seen = soffits(&job);
        several += usize::from(seen.len() > 2);
        let area = |s: &layout_core::existing::Surface| {
            s.shapes.iter().map(layout_core::boards::Shape::area).sum::<f64>()
        };
        let (over, under) =
            (seen.iter().map(area).sum::<f64>(), floor(&job).map_or(0.0, |f| area(&f)));
        if (under - 23.75e6).abs() > 1.0 || (over - under).abs() > 200.0 {
            broken.push(format!("seed {seed}: {over:.0} of {under:.0} mm²"));
        }
        for i in 0..200_u32 {
            let p = [f64::from(i % 20) * 300.0 + 7.3, f64::from(i / 20) * 500.0 + 11.9];
            let is_in = |s: &&layout_core::existing::Surface| {
                s.shapes.iter().any(|shape| shape.contains(p) && shape.clearance(p) > 0.5)
            };
            if let Some(surface) = seen.iter().find(is_in) {
                let (got, is) = (surface.at(p), lowest(&job, p));
                if (got - is).abs() > 0.05 {
                    broken.push(format!("seed {seed} at {p:?}: {got:.2}, not {is:.2}"));
                    break;
                }
            }
        }
    }
    assert!(several as u64 > tries() / 8, "only {several} rooms with several planes");
    assert!(broken.is_empty(), "{} broken:\n  {}", broken.len(), broken.join("\n  "));
}

#[test]
fn every_job_becomes_a_model_of_sound_numbers() {
    let jobs = (0..tries() / 8)
        .flat_map(|seed| [room(seed), crate::wild::job(seed), random::absurd(seed)]);
    let mut bored = 0;
    for job in jobs {
        let text = ifc(&job, &Layout::of(&job));
        assert!(text.starts_with("ISO-10303-21;") && text.ends_with("END-ISO-10303-21;\n"));
        let numberless = ["(NaN", ",NaN", "(inf", ",inf", "-inf"];
        let found = numberless.map(|word| text.lines().find(|line| line.contains(word)));
        assert_eq!(found, [None; 5]);
        bored += text.matches("IFCCIRCLEPROFILEDEF").count();
    }
    assert!(bored > 20, "only {bored} holes");
}
