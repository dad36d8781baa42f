//! What is open, to be ticked off, and what is let stand, with the reasons.

use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::snag::{Severity, Snag};
use layout_core::units::Units;

use super::flow::{Block, Cell, Column, GUTTER, table};
use super::lists::column;
use super::{Paper, Sheet, run_on};
use crate::picture::Align;

/// Width of the list, mm: all of an A4 sheet.
const LIST: f64 = 255.0;

/// The sheets; none when there is nothing to say.
pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    let mut blocks = Vec::new();
    let width = LIST.min(paper.area().width());
    for (severity, title) in [
        (Severity::Stop, "Stop: do not build it like this"),
        (Severity::Mend, "Mend: it will not fit, or will have to be undone"),
        (Severity::Note, "Note: worth knowing before it is cut"),
    ] {
        let list: Vec<&Snag> = layout.snags.iter().filter(|s| s.severity() == severity).collect();
        if !list.is_empty() {
            blocks.push(open(job.units, title, &list, width));
        }
    }
    if !layout.accepted.is_empty() {
        blocks.push(accepted(job.units, layout, width));
    }
    if blocks.is_empty() {
        return Vec::new();
    }
    run_on(("snags", "Snags"), blocks, width, paper)
}

/// Columns that are as wide as they are given on paper that has room for the whole list, and narrower alike on other paper.
fn narrowed<const N: usize>(width: f64, mut columns: [Column; N]) -> [Column; N] {
    let gutters = GUTTER * (N as f64 - 1.0);
    let of = |is_box: bool| -> f64 {
        columns.iter().filter(|c| c.title.is_empty() == is_box).map(|c| c.width).sum()
    };
    let share = ((width - gutters - of(true)) / of(false)).min(1.0);
    for column in columns.iter_mut().filter(|c| !c.title.is_empty()) {
        column.width *= share;
    }
    columns
}

fn open(units: Units, title: &str, snags: &[&Snag], width: f64) -> Block {
    let columns = narrowed(
        width,
        [
            column("", 3.0, Align::Left),
            column("where", 38.0, Align::Left),
            column("what", 80.0, Align::Left),
            column("found", 16.0, Align::Right),
            column("limit", 14.0, Align::Right),
            column("do", 44.0, Align::Left),
            column("source", 50.0, Align::Left),
        ],
    );
    let figure = |value: Option<f64>, unit: Option<&str>| match (value, unit) {
        (None, _) => String::new(),
        (Some(v), None) => units.fine(v),
        (Some(v), Some(unit)) => format!("{v} {unit}"),
    };
    let rows = snags
        .iter()
        .map(|snag| {
            vec![
                Cell::Tick,
                Cell::Text(snag.place(units)),
                Cell::Strong(snag.message.to_string()),
                Cell::Text(figure(snag.value, snag.unit)),
                Cell::Text(figure(snag.limit, snag.unit)),
                Cell::Text(snag.remedy.to_string()),
                Cell::Text(snag.source().into()),
            ]
        })
        .collect();
    table(title, &columns, rows)
}

fn accepted(units: Units, layout: &Layout, width: f64) -> Block {
    let columns = narrowed(
        width,
        [
            column("kind", 10.0, Align::Left),
            column("where", 38.0, Align::Left),
            column("what", 110.0, Align::Left),
            column("let stand because", 90.0, Align::Left),
        ],
    );
    let mut rows = Vec::new();
    for (accepted, snags) in &layout.accepted {
        for snag in snags {
            rows.push(vec![
                Cell::Text(snag.severity().label().into()),
                Cell::Text(snag.place(units)),
                Cell::Text(snag.message.to_string()),
                Cell::Strong(accepted.reason.clone()),
            ]);
        }
        if snags.is_empty() {
            rows.push(vec![
                Cell::Text("gone".into()),
                Cell::Text(accepted.of.label()),
                Cell::Text(format!("{}: no longer found", accepted.code.id())),
                Cell::Strong(accepted.reason.clone()),
            ]);
        }
    }
    table("Accepted", &columns, rows)
}
