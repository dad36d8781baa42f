//! The plan sheet: the plan as large as it goes, lists beside it and under it, cautions along the foot.

use layout_core::document::Job;
use layout_core::layout::Layout;

use super::flow::{Block, arrange, columns, rest};
use super::parts::Parts;
use super::{CAPTION, GAP, Paper, SCALES, Sheet, Type, caption, cautions, levels, lists, run_on};
use crate::picture::Rect;
use crate::views::{PlanOptions, plan};

/// Width of a column of lists, mm.
const LISTS: f64 = 69.0;

pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    let whole = paper.area();
    let under_drawing = Rect { max: [whole.max[0] - LISTS - GAP, whole.max[1]], ..whole };
    // Cautions along the whole foot; under the drawing alone where that keeps all lists on the sheet.
    let (mut sheets, has_all) = put_together(job, layout, paper, whole);
    if !has_all {
        let (narrow, has_all) = put_together(job, layout, paper, under_drawing);
        let as_large = |a: &[Sheet], b: &[Sheet]| {
            let scale = |set: &[Sheet]| set.first().and_then(|s| s.scale).unwrap_or(f64::INFINITY);
            scale(a) <= scale(b)
        };
        if has_all && as_large(&narrow, &sheets) {
            sheets = narrow;
        }
    }
    sheets
}

/// The sheets with the cautions at the foot of `foot_area`, and whether the first has all lists.
fn put_together(job: &Job, layout: &Layout, paper: Paper, foot_area: Rect) -> (Vec<Sheet>, bool) {
    let mut sheet = Sheet::new("plan", "Plan");
    let whole = paper.area();
    let (notes, long_notes) = notes(job, whole.width());
    let foot: Vec<String> =
        notes.into_iter().chain(lists::signs(job)).chain(cautions::of_job(layout)).collect();
    let over_foot = cautions::foot(&mut sheet, foot_area, &foot, cautions::Foot::SMALL);
    let is_narrow = foot_area.max[0] < whole.max[0];
    let low = if is_narrow { whole.max[1] } else { over_foot };
    let area = Rect { max: [whole.max[0], low], ..whole };
    let room = Rect {
        min: [area.min[0], area.min[1] + CAPTION],
        max: [area.max[0] - LISTS - GAP, over_foot],
    };

    // What does not fit without its lettering is not worth lettering.
    let extent =
        plan(job, layout, &PlanOptions { scale: 100.0, dimensions: false, boards: None }).extent();
    let may_fit = |scale: &f64| {
        extent.width() / scale <= room.width() && extent.height() / scale <= room.height()
    };
    let fitting = SCALES.into_iter().filter(may_fit).find_map(|scale| {
        let dimensions = scale <= SMALLEST;
        let picture = plan(job, layout, &PlanOptions { scale, dimensions, boards: None });
        let bounds = picture.bounds(scale)?;
        let fits = bounds.width() <= room.width() && bounds.height() <= room.height();
        fits.then_some((scale, picture, bounds))
    });
    let mut blocks = blocks(job, layout);
    blocks.extend(long_notes);
    let size = fitting.as_ref().map_or([0.0, 0.0], |(_, _, b)| [b.width(), b.height()]);
    let (drawing, columns) =
        places(&blocks, area, room, size, if is_narrow { 1 } else { usize::MAX });
    let is_small = fitting.as_ref().is_some_and(|(scale, ..)| *scale > SMALLEST);
    let parts = if is_small { Parts::of(job, layout, paper, PARTS) } else { None };
    let about = match (is_small, &parts) {
        (true, Some(_)) => "in numbered parts, which follow with their figures",
        (true, None) => "too small for figures: they are on the sheets of the walls",
        (false, _) => "running dimensions from the start of each frame",
    };
    caption(&mut sheet.ink, Rect { min: area.min, max: room.max }, "Plan", about);
    if let Some((scale, picture, bounds)) = fitting {
        let x = drawing.min[0] + (drawing.width() - bounds.width()) / 2.0;
        let bottom = drawing.max[1] - (drawing.height() - bounds.height()) / 2.0;
        sheet.draw(&picture, scale, bounds, [x, bottom]);
        if let Some(parts) = &parts {
            parts.key(&mut sheet.ink, scale, [x - bounds.min[0], bottom + bounds.min[1]]);
        }
    }
    let set = arrange(&blocks, &columns);
    sheet.lists(&set);
    let left = set.rest;
    let mut sheets = vec![sheet];
    sheets.extend(parts.iter().flat_map(|p| p.sheets(paper)));
    if let Some(left) = left {
        sheets.extend(run_on(("plan", "Plan, continued"), rest(blocks, left), LISTS, paper));
    }
    (sheets, left.is_none())
}

/// The smallest scale at which figures can be read beside their walls: 1 to this.
const SMALLEST: f64 = 100.0;

/// The scale of the parts of a plan that is too large for one sheet.
const PARTS: f64 = 50.0;

/// Where the drawing and the lists go: lists in one column at the right, in more where the drawing leaves
/// room (`at_most` so many), or under the drawing as well; the first way that has room for all of them, or else the last.
fn places(
    blocks: &[Block],
    area: Rect,
    room: Rect,
    [width, height]: [f64; 2],
    at_most: usize,
) -> (Rect, Vec<Rect>) {
    let most = (((area.width() - width) / (LISTS + GAP)) as usize).clamp(1, at_most);
    let at_right = |count: usize| {
        let wide = count as f64 * (LISTS + GAP) - GAP;
        let drawing = Rect { max: [area.max[0] - wide - GAP, room.max[1]], ..room };
        let right = Rect { min: [area.max[0] - wide, area.min[1]], ..area };
        (drawing, columns(right, count, LISTS, GAP))
    };
    let fits = |columns: &[Rect]| arrange(blocks, columns).rest.is_none();
    if let Some(found) = (1..=most).map(at_right).find(|(_, columns)| fits(columns)) {
        return found;
    }
    let (mut drawing, mut all) = at_right(most);
    let under = Rect { min: [drawing.min[0], drawing.min[1] + height + GAP], ..drawing };
    let count = ((under.width() + GAP) / (LISTS + GAP)) as usize;
    if under.height() > 20.0 && count > 0 {
        drawing.max[1] = under.min[1] - GAP;
        all.extend(columns(under, count, LISTS, GAP));
    }
    (drawing, all)
}

fn blocks(job: &Job, layout: &Layout) -> Vec<Block> {
    let mut blocks = vec![levels::of_job(job, LISTS)];
    if !layout.walls.is_empty() {
        blocks.push(lists::walls(layout));
    }
    if !layout.platforms.is_empty() {
        blocks.push(lists::platforms(job, layout));
    }
    if layout.walls.iter().any(|w| !w.spec.holes.is_empty()) {
        blocks.push(lists::openings(job, layout));
    }
    blocks.extend(lists::corners(layout));
    blocks
}

/// The job's notes: a paragraph for the foot of the sheet, or a list of their own when they are long.
fn notes(job: &Job, width: f64) -> (Option<String>, Option<Block>) {
    let lines: Vec<String> =
        job.notes.lines().map(str::trim).filter(|l| !l.is_empty()).map(String::from).collect();
    let text = format!("Notes: {}", lines.join(" · "));
    if lines.is_empty() {
        (None, None)
    } else if Type::SMALL.wrap(&text, width).len() <= 3 {
        (Some(text), None)
    } else {
        (None, Some(Block::prose("Notes", &lines, LISTS, false)))
    }
}
