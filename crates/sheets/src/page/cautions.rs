//! The short plain cautions of each sheet. They never say that anything is safe or complies.

use layout_core::document::{Job, Rule};
use layout_core::layout::{Layout, PlatformLayout, WallLayout};
use layout_core::snag::{Severity, Snag};

use super::{Sheet, Type};
use crate::picture::{Align, Pen, Rect};

/// Cautions for the whole job, each stop on its own.
pub(super) fn of_job(layout: &Layout) -> Vec<String> {
    let mut cautions: Vec<String> = stops(layout.snags.iter());
    cautions.push(
        "Before drilling or fixing into the floor, find out what runs in it: pipes, heating, cables, membranes. \
         Keep fixings out of the bands straight up, down and across from boxes: cables run there. \
         Saw where the dust can go, and wear a mask. Two people to lift boards and to tilt up frames. \
         Fire, sound and access rules are for the local code and those licensed to judge them."
            .into(),
    );
    cautions
}

/// Cautions for one wall: each stop on its own, then three.
pub(super) fn of_wall(job: &Job, layout: &Layout, wall: &WallLayout) -> Vec<String> {
    let mut cautions = stops(layout.snags.iter().filter(|s| s.wall.as_ref() == Some(wall.name())));
    let has_points = job.wall(wall.name()).is_some_and(|w| !w.points.is_empty());
    let fixing = if has_points {
        "Keep fixings out of the bands straight up, down and across from boxes: cables run there."
    } else {
        "Before fixing into floor or wall, find out what runs in it."
    };
    let load = if wall.spec.loadbearing {
        "Prop what rests on this wall only as the engineer says."
    } else {
        "Nothing may rest on this frame: it is set out as a partition only."
    };
    cautions
        .push(format!("Measure plates and end bays on site before you cut them. {fixing} {load}"));
    cautions
}

/// Cautions for setting out on the floor.
pub(super) fn of_floor() -> Vec<String> {
    vec![
        "Prove the room before you set out in it: if its diagonals are not as listed, ask before you snap a line. Before drilling \
         or fixing into the floor, find out what runs in it: pipes, heating, cables, membranes. Mark sole and head together, \
         plumb the head line up from the snapped line at both ends."
            .into(),
    ]
}

/// Cautions for the first fix of a wall.
pub(super) fn of_first_fix() -> Vec<String> {
    vec![
        "Photograph every bay before it is boarded. Zones are where cables may run and are looked for; the wiring rules, \
         the electrician and the local code decide. Find out what runs in a wall before you drill. Fire stopping round \
         what goes through is for those licensed to judge it."
            .into(),
    ]
}

/// Cautions for the boards of a wall.
pub(super) fn of_boards(wall: &WallLayout) -> Vec<String> {
    let lift = wall.spec.rules.value(Rule::SheetLift);
    vec![format!(
        "Measure the wall before you cut: a frame is never quite as drawn. What is heavier than {lift} kg is for two. Keep screws \
         out of the bands straight up, down and across from boxes: cables run there. Score and snap, or saw where the dust can go, \
         and wear a mask."
    )]
}

/// Cautions for one platform.
pub(super) fn of_platform(laid: &PlatformLayout) -> Vec<String> {
    vec![format!(
        "Measure plates and joists on site before you cut them. Before fixing into walls, find out what runs in \
         them. It is reckoned with {} kN/m² and its own weight, and with nobody standing on it; what carries it, and \
         whether the walls can, is for those licensed to judge it.",
        laid.spec.reckoned_load()
    )]
}

/// Paragraphs along the foot of a sheet, stops in bold. Gives back where they start.
pub(super) fn foot(sheet: &mut Sheet, area: Rect, paragraphs: &[String], size: Foot) -> f64 {
    let Foot { height, line: step } = size;
    let lines: Vec<(String, Type)> = paragraphs
        .iter()
        .flat_map(|text| {
            let kind = if text.starts_with(STOP) { Type::STRONG } else { Type::SMALL };
            let kind = Type { height, ..kind };
            kind.wrap(text, area.width()).into_iter().map(move |line| (line, kind))
        })
        .collect();
    let top = area.max[1] - step * lines.len() as f64 - 1.6;
    sheet.ink.line([[area.min[0], top], [area.max[0], top]], Pen::Quiet);
    for (i, (line, kind)) in lines.into_iter().enumerate() {
        sheet.ink.text(area.min[0], top + step * (i + 1) as f64, line, kind, Align::Left);
    }
    sheet.parts.push(Rect { min: [area.min[0], top], max: area.max });
    top - 1.0
}

/// How large the lettering of a foot is.
#[derive(Clone, Copy)]
pub(super) struct Foot {
    /// Height of capitals, mm.
    height: f64,
    /// From one line to the next, mm.
    line: f64,
}

impl Foot {
    /// 2.5 mm.
    pub(super) const SMALL: Foot = Foot { height: 2.5, line: 3.8 };
    /// 3.5 mm, for sheets that are read standing.
    pub(super) const LARGE: Foot = Foot { height: 3.5, line: 5.6 };
}

/// What a caution that ends all work begins with.
const STOP: &str = "STOP";

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
