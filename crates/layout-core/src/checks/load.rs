//! Load: anything that may rest on a partition stops the work until an engineer has looked.

use crate::document::Job;
use crate::id::ItemRef;
use crate::math::{PlanPoint, SAME, left_of};
use crate::resolve::{Meets, Shared, WallSpec, settle_wall};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// A head closer than this under a beam's soffit will be loaded when the beam sags.
const CLEAR_OF_BEAM: f64 = 20.0;

/// A wall marked as carrying load.
pub(super) fn marked(spec: &WallSpec, snags: &mut Vec<Snag>) {
    if spec.loadbearing {
        snags.push(
            Snag::new(
                Code::Loadbearing,
                ItemRef::Wall(spec.name.clone()),
                format!("Wall {} is marked as carrying load", spec.name),
                "Stop: have an engineer size it. This program sets out partitions only.",
            )
            .in_wall(&spec.name, spec.along().centre()),
        );
    }
}

/// Walls that reach up to a beam, along it or across.
pub(super) fn under_beams(job: &Job, walls: &[Shared], snags: &mut Vec<Snag>) {
    for beam in &job.shell.beams {
        let along = beam.to - beam.from;
        let length = along.norm();
        if !(length > SAME && length.is_finite()) {
            continue;
        }
        let half = left_of(along / length) * (beam.width / 2.0);
        let corners = [beam.from + half, beam.from - half, beam.to - half, beam.to + half];
        for shared in walls {
            let wall = &job.walls[shared.wall];
            let Some(under) = strip_meets(shared, &corners) else { continue };
            let top = settle_wall(job, shared).head.range(under).high;
            if top <= beam.soffit - CLEAR_OF_BEAM {
                continue;
            }
            snags.push(
                Snag::new(
                    Code::UnderBeam,
                    ItemRef::Wall(wall.name.clone()),
                    format!(
                        "Wall {} goes up to {} under beam {}, whose soffit is at {}",
                        wall.name,
                        job.units.show(top),
                        beam.name,
                        job.units.show(beam.soffit)
                    ),
                    "Stop: have an engineer say how the beam is carried, and keep the wall clear of it.",
                )
                .in_wall(&wall.name, under.centre())
                .at_height(beam.soffit)
                .measured(top, beam.soffit - CLEAR_OF_BEAM),
            );
        }
    }
}

/// Posts that plates are let into by more than a third of their thickness.
pub(super) fn housings(job: &Job, walls: &[Shared], snags: &mut Vec<Snag>) {
    for post in &job.shell.posts {
        let most = post.size.0.min(post.size.1) / 3.0;
        let met = |shared: &&Shared| {
            let ends = shared.ends.iter().any(|end| match &end.meets {
                Meets::Post(name) => *name == post.name,
                _ => false,
            });
            ends || shared.breaks.iter().any(|b| b.with == ItemRef::Post(post.name.clone()))
        };
        if post.housing <= most + SAME {
            continue;
        }
        let Some(first) = walls.iter().find(met) else { continue };
        let wall = &job.walls[first.wall];
        snags.push(
            Snag::new(
                Code::HousingTooDeep,
                ItemRef::Post(post.name.clone()),
                format!(
                    "The plates of wall {} are let {} into post {}: more than a third of it",
                    wall.name,
                    job.units.show(post.housing),
                    post.name
                ),
                "Let them in less, or butt them and fix with angle brackets. Ask an engineer before you cut into a post that carries load.",
            )
            .in_wall(&wall.name, first.place.wall(post.at).0)
            .measured(post.housing, most),
        );
    }
}

/// Where a wall's frame and a four-cornered shape on the plan overlap, as stations; by the
/// separating axes of the two.
fn strip_meets(shared: &Shared, corners: &[PlanPoint; 4]) -> Option<Span> {
    let local: Vec<(f64, f64)> = corners.iter().map(|&c| shared.place.wall(c)).collect();
    let spread = |values: &mut dyn Iterator<Item = f64>| {
        values.fold(Span { low: f64::INFINITY, high: f64::NEG_INFINITY }, |s, v| Span {
            low: s.low.min(v),
            high: s.high.max(v),
        })
    };
    let frame = Span { low: shared.ends[0].spread().low, high: shared.ends[1].spread().high };
    let stations = spread(&mut local.iter().map(|p| p.0)).intersection(frame);
    let across = spread(&mut local.iter().map(|p| p.1));
    if stations.length() <= 0.0 || !across.overlaps(shared.frame) {
        return None;
    }
    // The other rectangle's own axes.
    let own = [
        (local[1].0 - local[0].0, local[1].1 - local[0].1),
        (local[2].0 - local[1].0, local[2].1 - local[1].1),
    ];
    let ours = [
        (frame.low, shared.frame.low),
        (frame.high, shared.frame.low),
        (frame.high, shared.frame.high),
        (frame.low, shared.frame.high),
    ];
    let apart = own.iter().any(|axis| {
        let project = |p: &(f64, f64)| p.0 * axis.0 + p.1 * axis.1;
        !spread(&mut local.iter().map(project)).overlaps(spread(&mut ours.iter().map(project)))
    });
    (!apart).then_some(stations)
}
