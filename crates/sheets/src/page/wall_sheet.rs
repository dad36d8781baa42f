//! The sheet of one wall: section and elevation side by side, the list of its pieces, cautions.

use layout_core::document::{Face, Finish, Job};
use layout_core::layout::{Framed, Layout, WallLayout};

use super::drawing::{Drawing, Drawn};
use super::flow::Block;
use super::long_wall::Long;
use super::{PrintOptions, Sheet, backing, cautions, doors, file_name, insulation, levels, lists};
use crate::picture::Picture;
use crate::views::{ElevationOptions, SectionOptions, elevation, section};

/// Width of a column of lists, mm.
pub(super) const LISTS: f64 = lists::PIECES;

/// Distance between section and elevation, mm.
const APART: f64 = 5.0;

/// The sheets of a wall, and the lists that found no room on them. One sheet, unless the wall is so long that its elevation would be
/// smaller than 1:50: then it is broken at studs into parts that follow one another.
pub(super) fn sheets(
    job: &Job,
    layout: &Layout,
    wall: &WallLayout,
    options: &PrintOptions,
) -> (Vec<Sheet>, Vec<Block>) {
    let name = format!("wall-{}", file_name(wall.name().as_str()));
    let title = format!("Wall {}", wall.name());
    let foot = cautions::of_wall(job, layout, wall);
    let drawn = Drawn::new(name.clone(), title.clone(), &foot, LISTS, options.paper);

    let mut blocks = lists::pieces(Framed::Wall(wall));
    blocks.extend(backing::list(wall));
    blocks.extend(doors::stacks(wall));
    blocks.extend(levels::packers(wall));
    blocks.extend(insulation::of_wall(job, wall, LISTS));
    blocks.push(levels::of_wall(job, wall));
    let face = options.face;
    let draw = |scale: f64| {
        let section = section(job, wall, &SectionOptions { scale });
        Drawing::side_by_side(scale, vec![section, seen(job, layout, wall, face, scale)], APART)
    };
    let mut drawings = drawn.at_or_fitting(options.scale, LEAST, draw);
    if drawings.is_empty() {
        // On narrow paper the elevation has the width to itself, and its lists stand under it.
        let face = options.face;
        drawings = drawn.fitting(LEAST, |scale| {
            Drawing::side_by_side(scale, vec![seen(job, layout, wall, face, scale)], 0.0)
        });
    }
    if drawings.is_empty() {
        let picture = seen(job, layout, wall, face, LEAST);
        let (name, title, foot) = (name.clone(), title.clone(), foot.clone());
        let long = Long { name, title, foot, wall, face, scale: LEAST, paper: options.paper };
        if let Some(parts) = long.sheets(&picture, &about(wall, face)) {
            return (parts, blocks);
        }
        // Too high for that as well: figures become a list, and the drawing goes without.
        blocks.push(lists::running(wall));
        let plain = ElevationOptions { dimensions: false, ..options_for(face, LEAST) };
        drawings = drawn.fitting(f64::INFINITY, |scale| {
            let plain = ElevationOptions { scale, ..plain.clone() };
            Drawing::side_by_side(scale, vec![elevation(job, layout, wall, &plain)], 0.0)
        });
        drawings.truncate(1);
    }
    // Without its section beside it a long wall may be drawn much larger: then section and lists have the next sheet.
    let beside = drawings.first().map_or(LEAST, Drawing::scale);
    let alone =
        |scale: f64| Drawing::side_by_side(scale, vec![seen(job, layout, wall, face, scale)], 0.0);
    let larger = if options.scale.is_none() && beside >= LEAST {
        drawn.fitting(beside * LARGER, alone)
    } else {
        Vec::new()
    };
    if larger.is_empty() {
        let (sheet, rest) = drawn.finish(&drawings, blocks, &about(wall, face), "“Pieces”");
        return (vec![sheet], rest);
    }
    let (sheet, _) = drawn.finish(&larger[..1], Vec::new(), &about(wall, face), "");
    let title = format!("{title}, section and lists");
    let next = Drawn::new(
        format!("section-{}", file_name(wall.name().as_str())),
        title,
        &foot,
        LISTS,
        options.paper,
    );
    let sections = next.fitting(LEAST, |scale| {
        Drawing::side_by_side(scale, vec![section(job, wall, &SectionOptions { scale })], 0.0)
    });
    let about = "heights are beside the elevation, on the sheet before";
    let (lists, rest) = next.finish(&sections, blocks, about, "“Pieces”");
    (vec![sheet, lists], rest)
}

/// How much larger a wall must come out to be worth a sheet of its own: 1:25 rather than 1:50.
const LARGER: f64 = 0.6;

/// Elevations are not drawn smaller than this: 1:50.
const LEAST: f64 = 50.0;

/// The elevation with its figures.
fn seen(job: &Job, layout: &Layout, wall: &WallLayout, face: Face, scale: f64) -> Picture {
    elevation(job, layout, wall, &options_for(face, scale))
}

fn options_for(face: Face, scale: f64) -> ElevationOptions {
    ElevationOptions { scale, face, dimensions: true, boards: None, zones: false }
}

/// What the wall is made of, in a line.
fn about(wall: &WallLayout, face: Face) -> String {
    let makeup = &wall.spec.makeup;
    let boards = |finish: &Finish| {
        let layers: Vec<String> =
            finish.boards.iter().map(|b| wall.spec.units.fine(b.thickness)).collect();
        if layers.is_empty() { "none".to_string() } else { layers.join(" + ") }
    };
    let (left, right) = (boards(&makeup.left), boards(&makeup.right));
    let boards = if left == right {
        format!("boards {left} each side")
    } else {
        format!("boards {left} left, {right} right")
    };
    format!(
        "seen on its {} face · {} {} at {} centres · {boards}",
        face.label(),
        makeup.timber.size_in(wall.spec.units),
        makeup.timber.grade(),
        wall.spec.units.show(wall.spec.centres)
    )
}
