//! What goes with boards: screws, tape, beads, filler, insulation and linings to order, and what is cut for each bay.

use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::sundries::{Need, order};

use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::{Paper, Sheet, insulation, run_on};
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
    blocks.extend(layout.walls.iter().filter_map(|w| insulation::of_wall(job, w, WIDTH)));
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
