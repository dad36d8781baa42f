//! The sheet of one wall: section and elevation side by side, the list of its pieces, cautions.

use layout_core::document::{Face, Finish, Job};
use layout_core::layout::{Framed, Layout, WallLayout};

use super::drawing::{Drawing, Drawn};
use super::flow::Block;
use super::{Paper, Sheet, backing, cautions, doors, file_name, insulation, levels, lists};
use crate::views::{ElevationOptions, SectionOptions, elevation, section};

/// Width of a column of lists, mm.
pub(super) const LISTS: f64 = lists::PIECES;

/// Distance between section and elevation, mm.
const APART: f64 = 5.0;

/// The sheet, and the lists that found no room on it.
pub(super) fn sheet(
    job: &Job,
    layout: &Layout,
    wall: &WallLayout,
    paper: Paper,
) -> (Sheet, Vec<Block>) {
    let name = format!("wall-{}", file_name(wall.name().as_str()));
    let title = format!("Wall {}", wall.name());
    let foot = cautions::of_wall(job, layout, wall);
    let drawn = Drawn::new(name, title, &foot, LISTS, paper);

    let mut blocks = lists::pieces(Framed::Wall(wall));
    blocks.extend(backing::list(wall));
    blocks.extend(doors::stacks(wall));
    blocks.extend(levels::packers(wall));
    blocks.extend(insulation::of_wall(job, wall, LISTS));
    blocks.push(levels::of_wall(job, wall));
    let draw = |scale: f64, dimensions: bool| draw(job, layout, wall, scale, dimensions);
    let mut drawings = drawn.fitting(LEAST, |scale| draw(scale, true));
    // Too long for its figures at any scale: they become a list, and the drawing goes without.
    if drawings.is_empty() {
        blocks.push(lists::running(wall));
        drawings = drawn.fitting(f64::INFINITY, |scale| draw(scale, false));
        drawings.truncate(1);
    }
    drawn.finish(&drawings, blocks, &about(wall), "“Pieces”")
}

/// Figures are not drawn smaller than this: 1:100.
const LEAST: f64 = 100.0;

/// Section and elevation, level with each other.
fn draw(job: &Job, layout: &Layout, wall: &WallLayout, scale: f64, dimensions: bool) -> Drawing {
    let section = section(job, wall, &SectionOptions { scale });
    let face = Face::Right;
    let options = ElevationOptions { scale, face, dimensions, boards: None, zones: false };
    let elevation = elevation(job, layout, wall, &options);
    Drawing::side_by_side(scale, vec![section, elevation], APART)
}

/// What the wall is made of, in a line.
fn about(wall: &WallLayout) -> String {
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
        "seen on its right face · {} {} at {} centres · {boards}",
        makeup.timber.size_in(wall.spec.units),
        makeup.timber.grade(),
        wall.spec.units.show(wall.spec.centres)
    )
}
