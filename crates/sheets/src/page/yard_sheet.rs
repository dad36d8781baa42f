//! What goes with boards: screws, tape, beads, filler, insulation and linings to order, and what is cut for each bay.

use layout_core::document::Job;
use layout_core::insulation::alike;
use layout_core::layout::Layout;
use layout_core::sundries::{Filled, Need, insulated, order};
use layout_core::units::Units;

use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::{Paper, Sheet, run_on};
use crate::picture::Align;

/// Width of a column of the page, mm.
const WIDTH: f64 = 118.0;

pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    let needs = order(job, layout);
    if needs.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![needed(job, &needs)];
    let rules: Vec<String> =
        needs.iter().map(|n| format!("{}: {} – {}.", n.what, n.rule, n.source)).collect();
    blocks.push(Block::prose("How they were counted", &rules, WIDTH, false));
    blocks.extend(insulated(job, layout).iter().map(|f| filled(job.units, f)));
    run_on(("yard", "Yard order"), blocks, WIDTH, paper)
}

fn needed(job: &Job, needs: &[Need]) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("what", 38.0, Align::Left),
        column("needed", 16.0, Align::Right),
        column("buy", 8.0, Align::Right),
        column("of", 34.0, Align::Left),
        column("price", WIDTH - 99.0 - 5.0 * GUTTER, Align::Right),
    ];
    let rows = needs.iter().map(|n| {
        let digits = usize::from(!n.unit.is_empty());
        let amount = format!("{:.digits$} {}", n.amount, n.unit);
        vec![
            Cell::Tick,
            Cell::Strong(n.what.to_string()),
            Cell::Text(amount.trim().into()),
            Cell::Strong(n.buy.to_string()),
            Cell::Text(n.of.clone()),
            Cell::Text(n.price.map_or("–".into(), |p| format!("{}{p:.2}", job.saw.currency))),
        ]
    });
    let mut block = table("Beside timber and board: estimates", &columns, rows.collect());
    block.note("Nothing is added for breakage.", WIDTH);
    block
}

/// What is cut for the bays of one wall, like pieces together.
fn filled(units: Units, filled: &Filled<'_>) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("no.", 8.0, Align::Right),
        column("cut", 32.0, Align::Left),
        column("bays from the start", WIDTH - 43.0 - 3.0 * GUTTER, Align::Left),
    ];
    let rows = alike(&filled.fills).into_iter().map(|cuts| {
        let bays: Vec<String> = cuts.bays.iter().map(ToString::to_string).collect();
        vec![
            Cell::Tick,
            Cell::Strong(cuts.count.to_string()),
            Cell::Text(format!("{} × {}", units.show(cuts.size.0), units.show(cuts.size.1))),
            Cell::Text(bays.join(" ")),
        ]
    });
    let title = format!(
        "Wall {}: {} {}",
        filled.wall.name(),
        filled.insulation.kind,
        units.fine(filled.insulation.thickness)
    );
    table(&title, &columns, rows.collect())
}
