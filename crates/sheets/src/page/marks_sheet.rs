//! Running marks and height rods of every wall, and the settings of the saw's stop: figures to copy onto timber, in type that can
//! be read at arm's length.

use layout_core::document::Job;
use layout_core::layout::{Layout, WallLayout};
use layout_core::pieces::{Batch, batches};
use layout_core::setout::marks::{On, is_raked, marks};
use layout_core::setout::{from_laser, levels, signed};
use layout_core::units::Units;

use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::{Paper, Sheet, run_on};
use crate::picture::Align;

/// Width of a column of the page, mm: three of them on A4.
const WIDTH: f64 = 83.0;

pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    if layout.walls.iter().all(|w| w.frame.members.is_empty()) {
        return Vec::new();
    }
    let mut blocks = Vec::new();
    for wall in layout.walls.iter().filter(|w| !w.frame.members.is_empty()) {
        blocks.push(plates(wall));
        blocks.push(rod(job, wall));
    }
    let all = batches(layout);
    blocks.extend(all.chunk_by(|a, b| a.timber == b.timber).map(|one| stops(job.units, one)));
    run_on(("marks", "Marks, rods and stops"), blocks, WIDTH, paper)
}

/// One pull along the plates of a wall: each mark from both ends, and which plates it goes on.
fn plates(wall: &WallLayout) -> Block {
    let units = wall.spec.units;
    let marks = marks(&wall.spec, &wall.frame);
    let raked = is_raked(&marks);
    let figure = 17.0;
    let head = if raked { figure + GUTTER } else { 0.0 };
    let what = WIDTH - 3.0 - 2.0 * figure - head - 11.0 - 4.0 * GUTTER;
    let mut columns = vec![
        column("", 3.0, Align::Left),
        column("from start", figure, Align::Right),
        column("from end", figure, Align::Right),
    ];
    if raked {
        columns.push(column("on the head", figure, Align::Right));
    }
    columns.extend([column("", 11.0, Align::Left), column("what", what, Align::Left)]);
    let show = |v: f64| units.show(v);
    let rows = marks.iter().map(|m| {
        let mut row = vec![Cell::Tick, Cell::Figure(show(m.at)), Cell::Text(show(m.back))];
        if raked {
            let text = if m.on == On::Sole { String::new() } else { show(m.along_head) };
            row.push(Cell::Figure(text));
        }
        row.push(Cell::Strong(m.member.to_string()));
        let only =
            if m.on == On::Both { String::new() } else { format!(", {} only", m.on.label()) };
        row.push(Cell::Text(format!("{}{only}", m.role.label())));
        row
    });
    let title = format!("{} marks: sole and head together", wall.name());
    let mut block = table(&title, &columns, rows.collect());
    let length = wall.spec.along().length();
    let mut notes = vec![format!(
        "Hook the tape on the start of the frame and do not lift it. Each figure is the edge nearer the start; the cross goes beyond it. Frame {} long.",
        show(length)
    )];
    if raked {
        let along = layout_core::setout::marks::along_slope(&wall.spec.head, wall.spec.along());
        notes.push(format!("On the head: along its slope, {} to the end.", show(along)));
    }
    for note in notes {
        block.note(&note, WIDTH);
    }
    block
}

/// The heights of a wall, to copy onto one batten.
fn rod(job: &Job, wall: &WallLayout) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("from FFL", 17.0, Align::Right),
        column("from laser", 17.0, Align::Right),
        column("what", WIDTH - 37.0 - 3.0 * GUTTER, Align::Left),
    ];
    let rows = levels(job, wall).into_iter().rev().map(|l| {
        vec![
            Cell::Tick,
            Cell::Figure(job.units.show(l.height)),
            Cell::Text(signed(job.units, from_laser(job, l.height))),
            Cell::Text(l.name),
        ]
    });
    table(&format!("{} height rod", wall.name()), &columns, rows.collect())
}

/// Every setting of the stop for one section, longest first, and how far it moves from the one before.
fn stops(units: Units, batches: &[Batch]) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("stop at", 17.0, Align::Right),
        column("move in", 17.0, Align::Right),
        column("cut", 10.0, Align::Right),
        column("what", WIDTH - 47.0 - 4.0 * GUTTER, Align::Left),
    ];
    // One setting serves every piece of a length, however its ends are cut.
    let settings = batches.chunk_by(|a, b| layout_core::math::same(a.cut.length, b.cut.length));
    let mut before: Option<f64> = None;
    let rows = settings.map(|alike| {
        let length = alike[0].cut.length;
        let moved = before.map_or(String::new(), |b| units.show(b - length));
        before = Some(length);
        let count: usize = alike.iter().map(|b| b.marks.len()).sum();
        let mut roles: Vec<&str> = Vec::new();
        for role in alike.iter().flat_map(|b| &b.roles).map(|r| r.label()) {
            if !roles.contains(&role) {
                roles.push(role);
            }
        }
        let star = if alike.iter().any(|b| b.measure_in_place) { " *" } else { "" };
        vec![
            Cell::Tick,
            Cell::Figure(format!("{}{star}", units.show(length))),
            Cell::Text(moved),
            Cell::Strong(count.to_string()),
            Cell::Text(roles.join(", ")),
        ]
    });
    let timber = &batches[0].timber;
    let title = format!("Stops for {} {}", timber.size_in(units), timber.grade());
    let mut block = table(&title, &columns, rows.collect());
    block.note(
        "From the blade to the stop, to the long point. * some are measured in place first.",
        WIDTH,
    );
    block
}
