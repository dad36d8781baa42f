//! The short plain cautions of each sheet. They never say that anything is safe or complies.

use layout_core::document::Job;
use layout_core::layout::{Layout, WallLayout};
use layout_core::snag::{Severity, Snag};

use super::{Sheet, Type};
use crate::picture::{Align, Pen, Rect};

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

/// The cautions along the foot of a sheet. Gives back where they start.
pub(super) fn foot(sheet: &mut Sheet, area: Rect, cautions: &[String]) -> f64 {
    let kind = |caution: &str| if caution.starts_with("STOP") { Type::STRONG } else { Type::SMALL };
    let mut lines: Vec<(String, Type)> = Vec::new();
    let mut run = String::new();
    for caution in cautions {
        match kind(caution) {
            // A stop stands on its own, the rest run on.
            Type::STRONG => {
                lines.extend(
                    Type::STRONG.wrap(caution, area.width()).into_iter().map(|l| (l, Type::STRONG)),
                );
            }
            _ => run = format!("{run}{}{caution}", if run.is_empty() { "" } else { " " }),
        }
    }
    lines.extend(Type::SMALL.wrap(&run, area.width()).into_iter().map(|l| (l, Type::SMALL)));
    let top = area.max[1] - LINE * lines.len() as f64 - 1.6;
    sheet.ink.line([[area.min[0], top], [area.max[0], top]], Pen::Quiet);
    for (i, (line, kind)) in lines.into_iter().enumerate() {
        sheet.ink.text(area.min[0], top + LINE * (i + 1) as f64, line, kind, Align::Left);
    }
    sheet.parts.push(Rect { min: [area.min[0], top], max: area.max });
    top - 2.0
}

/// From one line of cautions to the next, mm.
const LINE: f64 = 4.2;

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
