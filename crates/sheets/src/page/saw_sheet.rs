//! The cutting list: totals, stop-block batches, and bars with the pieces that come out of them.

use layout_core::document::Job;
use layout_core::layout::Layout;

use super::flow::{Block, arrange, columns, rest};
use super::plans::Plans;
use super::{GAP, Paper, Sheet, bars, lists, run_on};

/// Width of a column, mm: three of them on A4, four on A3.
fn width(paper: Paper) -> f64 {
    let (area, count) = (paper.area(), count(paper) as f64);
    (area.width() - (count - 1.0) * GAP) / count
}

fn count(paper: Paper) -> usize {
    match paper {
        Paper::A4Upright => 2,
        Paper::A4 | Paper::A3Upright => 3,
        Paper::A3 => 4,
    }
}

pub(super) fn sheets(job: &Job, layout: &Layout, plans: &Plans<'_>, paper: Paper) -> Vec<Sheet> {
    if layout.framed().all(|p| p.frame().members.is_empty()) {
        return Vec::new();
    }
    let width = width(paper);
    let mut blocks = vec![lists::totals(job, layout)];
    blocks.extend(lists::batches(job, layout, width));
    let kerf = job.units.small(job.saw.kerf);
    let mut notes =
        vec![format!("Lengths are net, long point to long point; bars allow {kerf} for each cut.")];
    notes.push("Leaning ends lie on a bar as they are drawn.".into());
    if layout.framed().any(lists::has_measured) {
        notes.push("* one of them is to be measured in place before it is cut.".into());
    }
    blocks.push(Block::prose("Notes", &notes, width, false));
    blocks.extend(bars::bars(job, plans.bars(), width));

    let mut sheet = Sheet::new("saw", "Cutting list");
    let set = arrange(&blocks, &columns(paper.area(), count(paper), width, GAP));
    sheet.lists(&set);
    let left = set.rest;
    let mut sheets = vec![sheet];
    if let Some(left) = left {
        sheets.extend(run_on(("saw", "Cutting list, continued"), rest(blocks, left), width, paper));
    }
    sheets
}
