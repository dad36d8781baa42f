//! The plan sheet: the plan as large as it goes, levels, walls, openings, notes and cautions beside it.

use layout_core::document::Job;
use layout_core::layout::Layout;

use super::flow::{Block, arrange, columns, rest};
use super::{CAPTION, GAP, Paper, SCALES, Sheet, caption, cautions, lists, run_on};
use crate::picture::Rect;
use crate::views::{PlanOptions, plan};

/// Width of a column of lists, mm.
const LISTS: f64 = 69.0;

pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    let mut sheet = Sheet::new("plan", "Plan");
    let area = paper.area();
    let blocks = blocks(job, layout);

    let room = Rect {
        min: [area.min[0], area.min[1] + CAPTION],
        max: [area.max[0] - LISTS - GAP, area.max[1]],
    };
    let fitting = SCALES.into_iter().find_map(|scale| {
        let picture = plan(job, layout, &PlanOptions { scale, dimensions: true });
        let bounds = picture.bounds(scale)?;
        (bounds.width() <= room.width() && bounds.height() <= room.height())
            .then_some((scale, picture, bounds))
    });
    let mut count = 1;
    if let Some((scale, picture, bounds)) = fitting {
        // As many columns of lists as the drawing leaves room for, when one will not do.
        let free = area.width() - bounds.width();
        let most = (free / (LISTS + GAP)) as usize;
        while count < most && arrange(&blocks, &lists_at_right(area, count)).rest.is_some() {
            count += 1;
        }
        let drawing =
            Rect { max: [area.max[0] - count as f64 * (LISTS + GAP), area.max[1]], ..room };
        let x = drawing.min[0] + (drawing.width() - bounds.width()) / 2.0;
        let bottom = drawing.max[1] - (drawing.height() - bounds.height()) / 2.0;
        sheet.draw(&picture, scale, bounds, [x, bottom]);
        let caption_area = Rect { max: drawing.max, min: area.min };
        let about = "running dimensions are from the start of each frame to the edges of its holes";
        caption(&mut sheet.ink, caption_area, "Plan", about);
    }
    let set = arrange(&blocks, &lists_at_right(area, count));
    sheet.lists(&set);
    let left = set.rest;
    let mut sheets = vec![sheet];
    if let Some(left) = left {
        sheets.extend(run_on("plan", "Plan", rest(blocks, left), LISTS, paper));
    }
    sheets
}

fn lists_at_right(area: Rect, count: usize) -> Vec<Rect> {
    let wide = count as f64 * (LISTS + GAP) - GAP;
    let right = Rect { min: [area.max[0] - wide, area.min[1]], ..area };
    columns(right, count, LISTS, GAP)
}

fn blocks(job: &Job, layout: &Layout) -> Vec<Block> {
    let mut blocks = vec![lists::levels(job, LISTS)];
    let datum = format!(
        "Everything is measured from the datum: {}.",
        job.datum.label.trim_end_matches('.')
    );
    let mut notes = vec![datum];
    notes.extend(job.notes.lines().map(str::trim).filter(|l| !l.is_empty()).map(String::from));
    if !layout.walls.is_empty() {
        blocks.push(lists::walls(layout));
    }
    if layout.walls.iter().any(|w| !w.spec.holes.is_empty()) {
        blocks.push(lists::openings(job, layout));
    }
    blocks.push(Block::prose("Cautions", &cautions::of_job(layout), LISTS, true));
    blocks.push(Block::prose("Notes", &notes, LISTS, false));
    blocks.extend(lists::signs(job, LISTS));
    blocks
}
