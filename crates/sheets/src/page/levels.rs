//! The lists of levels, and of what is packed under soles.

use layout_core::document::Job;
use layout_core::layout::WallLayout;
use layout_core::packers;
use layout_core::setout::{self, from_laser, signed};

use super::flow::{Block, Cell, Row, table};
use super::lists::{PIECES, column};
use super::{Ink, Type};
use crate::picture::{Align, Fill, Pen, Rect};

/// The levels as a small stack, from the ceiling down to the slab, with each layer of the floor; each with what
/// is measured up or down from the laser line.
pub(super) fn of_job(job: &Job, width: f64) -> Block {
    let levels = &job.levels;
    let mut rows = Vec::new();
    let show = |length: f64| job.units.show(length);
    let off = |height: f64| Some(signed(job.units, from_laser(job, height)));
    let heights = [levels.ceiling, levels.laser, 0.0, levels.slab()];
    let widest = heights.into_iter().filter_map(off).map(|text| Type::STRONG.width(&text) + 2.5);
    let off_width = widest.fold(OFF, f64::max);
    let mut row =
        |name: &str, value: String, off: Option<String>, layer: Option<usize>, pen: Pen| {
            let mut ink = Ink::default();
            let height = 5.4;
            match layer {
                // Layers side by side differ by more than a tint.
                Some(index) => {
                    let fill = if index % 2 == 0 { Fill::Existing } else { Fill::Paper };
                    ink.rect(Rect::new(0.0, 0.0, 10.0, height), Pen::Thin, fill);
                }
                None => ink.line([[0.0, 2.8], [10.0, 2.8]], pen),
            }
            let right = if layer.is_some() { width } else { width - off_width };
            let room = right - 14.0 - Type::SMALL.width(&value);
            ink.text(12.5, 4.0, Type::SMALL.fit(name, room), Type::SMALL, Align::Left);
            ink.text(right, 4.0, value, Type::SMALL, Align::Right);
            if let Some(off) = off {
                ink.text(width, 4.0, off, Type::STRONG, Align::Right);
            }
            rows.push(Row { height, ink });
        };
    row("ceiling", show(levels.ceiling), off(levels.ceiling), None, Pen::Outline);
    row("laser line", show(levels.laser), off(levels.laser), None, Pen::Centre);
    row("finished floor (FFL)", show(0.0), off(0.0), None, Pen::Cut);
    for (index, layer) in levels.build_up.iter().enumerate().rev() {
        row(&layer.name, format!("{} thick", show(layer.thickness)), None, Some(index), Pen::Thin);
    }
    if !levels.build_up.is_empty() {
        row("slab (SSL)", show(levels.slab()), off(levels.slab()), None, Pen::Cut);
    }
    let mut head = Row { height: 5.0, ink: Ink::default() };
    head.ink.text(width - off_width, 3.5, "from FFL", Type::QUIET, Align::Right);
    head.ink.text(width, 3.5, "from laser", Type::QUIET, Align::Right);
    Block { head: vec![Row::heading("Levels", width), head], rows, whole: true }
}

/// Least width of the column of what is measured from the laser line, mm.
const OFF: f64 = 17.0;

/// Every level of one wall, with what is measured up or down from the laser line.
pub(super) fn of_wall(job: &Job, wall: &WallLayout) -> Block {
    let columns = [
        column("level", 33.6, Align::Left),
        column("from FFL", 14.8, Align::Right),
        column("from laser", 16.4, Align::Right),
    ];
    let mut rows: Vec<Vec<Cell>> = setout::levels(job, wall)
        .into_iter()
        .rev()
        .map(|l| {
            vec![
                Cell::Text(l.name),
                Cell::Text(job.units.show(l.height)),
                Cell::Strong(signed(job.units, from_laser(job, l.height))),
            ]
        })
        .collect();
    let [a, b] = setout::diagonals(&wall.spec).map(|d| job.units.show(d));
    let (name, second) = if a == b { ("both diagonals", String::new()) } else { ("diagonals", b) };
    rows.push(vec![Cell::Text(name.into()), Cell::Text(a), Cell::Text(second)]);
    let drying = setout::drying(job.levels.moisture, &wall.spec);
    let mut table = table(&format!("{} levels", wall.name()), &columns, rows);
    for hole in &wall.spec.holes {
        if let Some(soles) = setout::soles_at(wall, hole) {
            table.note(&format!("At {}: {}.", hole.name, soles.text()), PIECES);
        }
    }
    let moisture = job.levels.moisture;
    let drying = format!(
        "{} plates of {} together lose {} drying from {} to {} %.",
        drying.plates,
        job.units.show(drying.now),
        job.units.small(drying.loss()),
        moisture.now,
        moisture.in_use
    );
    table.note(&drying, PIECES);
    table.whole = true;
    table
}

/// The packers of a wall and what they are made up from; `None` for a sole that stands on none.
pub(super) fn packers(wall: &WallLayout) -> Option<Block> {
    let list = packers::fixings(&wall.spec, &wall.frame);
    let units = wall.spec.units;
    if list.iter().all(|f| units.round(f.packer) <= 0.0) {
        return None;
    }
    let columns = [
        column("", 3.0, Align::Left),
        column("at", 13.0, Align::Right),
        column("packer", 11.0, Align::Right),
        column("shims", 36.2, Align::Left),
    ];
    let start = wall.spec.along().low;
    let rows = list
        .iter()
        .map(|f| {
            let made = packers::shims(&wall.spec, f);
            let left = if units.round(made.left) > 0.0 {
                format!(", {} over", units.small(made.left))
            } else {
                String::new()
            };
            let shims = match made.text(units) {
                none if none.is_empty() => none,
                shims => format!("= {shims}"),
            };
            let pipe = if f.blocked { " (over a pipe)" } else { "" };
            vec![
                Cell::Tick,
                Cell::Strong(units.show(f.at - start)),
                Cell::Text(units.show(f.packer)),
                Cell::Text(format!("{shims}{left}{pipe}")),
            ]
        })
        .collect();
    let table = table(&format!("{} fixings and packers", wall.name()), &columns, rows);
    Some(Block { whole: true, ..table })
}
