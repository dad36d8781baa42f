//! The short plain cautions of each sheet. They never say that anything is safe or complies.

use layout_core::document::Job;
use layout_core::layout::{Layout, WallLayout};
use layout_core::snag::{Severity, Snag};

/// Cautions for the whole job, stops first.
pub(super) fn of_job(layout: &Layout) -> Vec<String> {
    let mut cautions: Vec<String> = stops(layout.snags.iter());
    cautions.extend(
        [
            "Before drilling or fixing into the floor, find out what runs in it: pipes, heating, cables, membranes.",
            "Keep fixings out of the bands straight up, down and across from boxes: cables run there.",
            "Saw where the dust can go, and wear a mask. Two people to lift boards and to tilt up frames.",
            "Fire, sound and access rules are for the local code and those licensed to judge them.",
        ]
        .map(String::from),
    );
    cautions
}

/// Cautions for one wall: stops first, then three.
pub(super) fn of_wall(job: &Job, layout: &Layout, wall: &WallLayout) -> Vec<String> {
    let mut cautions = stops(layout.snags.iter().filter(|s| s.wall.as_ref() == Some(wall.name())));
    let has_points = job.wall(wall.name()).is_some_and(|w| !w.points.is_empty());
    cautions.push("Measure plates and end bays on site before you cut them.".into());
    cautions.push(
        if has_points {
            "Keep fixings out of the bands straight up, down and across from boxes: cables run there."
        } else {
            "Before fixing into floor or wall, find out what runs in it."
        }
        .into(),
    );
    cautions.push(if wall.spec.loadbearing {
        "Prop what rests on this wall only as the engineer says.".into()
    } else {
        "Nothing may rest on this frame: it is set out as a partition only.".into()
    });
    cautions
}

fn stops<'a>(snags: impl Iterator<Item = &'a Snag>) -> Vec<String> {
    snags
        .filter(|s| s.severity() == Severity::Stop)
        .map(|s| {
            format!(
                "STOP. {}. {}.",
                s.message.trim_end_matches('.'),
                s.remedy.trim_end_matches('.')
            )
        })
        .collect()
}
