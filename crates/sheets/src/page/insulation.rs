//! What is cut for the bays of a wall.

use layout_core::document::Job;
use layout_core::insulation::{alike, fills, friction};
use layout_core::layout::WallLayout;

use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use crate::picture::Align;

/// The pieces for its bays, like ones together, in a list `width` mm wide; `None` when nothing fills them.
pub(super) fn of_wall(job: &Job, wall: &WallLayout, width: f64) -> Option<Block> {
    let units = job.units;
    let insulation = wall.spec.makeup.insulation.as_ref()?;
    let fills = fills(&wall.spec, &wall.frame, friction(&job.sundries));
    let columns = [
        column("", 3.0, Align::Left),
        column("no.", 6.0, Align::Right),
        column("cut", 25.0, Align::Left),
        column("bays from the start", width - 34.0 - 3.0 * GUTTER, Align::Left),
    ];
    let rows = alike(&fills).into_iter().map(|cuts| {
        let bays: Vec<String> = cuts.bays.iter().map(ToString::to_string).collect();
        vec![
            Cell::Tick,
            Cell::Strong(cuts.count.to_string()),
            Cell::Text(format!("{} × {}", units.show(cuts.size.0), units.show(cuts.size.1))),
            Cell::Text(bays.join(" ")),
        ]
    });
    let (kind, thickness) = (&insulation.kind, units.fine(insulation.thickness));
    let title = format!("{} bays: {kind} {thickness}", wall.name());
    (!fills.is_empty()).then(|| table(&title, &columns, rows.collect()))
}
