//! Junctions at 1:5: one of every kind the job has, with what is built alike.

use layout_core::document::Job;
use layout_core::layout::Layout;

use super::{CAPTION, GAP, Ink, Paper, Sheet, Type, caption};
use crate::picture::{Align, Fill, Pen, Rect};
use crate::views::{Junction, junction, junction_kinds};

/// Details are at this scale: 1:5.
const SCALE: f64 = 5.0;
/// Width of the drawing of a detail, mm.
const WIDE: f64 = 83.0;
/// Its height, mm.
const HIGH: f64 = 56.0;
/// Room under it for what it is, mm.
const WORDS: f64 = 17.0;

pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    let kinds = junction_kinds(job, layout);
    let whole = paper.area();
    let area = Rect { min: [whole.min[0], whole.min[1] + CAPTION], ..whole };
    let across = ((area.width() + GAP) / (WIDE + GAP)) as usize;
    let down = ((area.height() + GAP) / (HIGH + WORDS + GAP / 2.0)) as usize;
    let (across, down) = (across.max(1), down.max(1));
    let sheet = |kinds: &[Vec<Junction>]| {
        let mut sheet = Sheet::new("junctions", "Junctions");
        let about = "one of each kind, in plan at 1:5; boards as they lap, uprights by their marks";
        caption(&mut sheet.ink, whole, "Junctions", about);
        sheet.scale = Some(SCALE);
        for (i, alike) in kinds.iter().enumerate() {
            let x = area.min[0] + (i % across) as f64 * (WIDE + GAP);
            let y = area.min[1] + (i / across) as f64 * (HIGH + WORDS + GAP / 2.0);
            detail(&mut sheet, job, layout, alike, [x, y]);
        }
        sheet
    };
    kinds.chunks(across * down).map(sheet).collect()
}

fn detail(sheet: &mut Sheet, job: &Job, layout: &Layout, alike: &[Junction], [x, y]: [f64; 2]) {
    let Some(first) = alike.first() else { return };
    let half = [WIDE / 2.0 * SCALE, HIGH / 2.0 * SCALE];
    let picture = junction(job, layout, first, SCALE, half);
    let mut drawn = Ink::default();
    let middle = [x + WIDE / 2.0, y + HIGH / 2.0];
    let origin = [middle[0] - first.at.x / SCALE, middle[1] + first.at.y / SCALE];
    drawn.picture(&picture, SCALE, origin);
    let box_of = Rect::new(x, y, WIDE, HIGH);
    let from = sheet.ink.marks.len();
    sheet.ink.put(drawn.clipped(box_of), 0.0, 0.0);
    sheet.drawings.push(from..sheet.ink.marks.len());
    sheet.ink.rect(box_of, Pen::Thin, Fill::None);
    let mut words = Ink::default();
    let mut base = 4.6;
    for line in Type::STRONG.wrap(&first.what.join(", "), WIDE).into_iter().take(2) {
        words.text(0.0, base, line, Type::STRONG, Align::Left);
        base += 3.9;
    }
    let others: Vec<String> = alike[1..].iter().map(|j| j.what.join(", ")).collect();
    if !others.is_empty() {
        let text = format!("the same: {}", others.join("; "));
        let mut lines = Type::SMALL.wrap(&text, WIDE);
        let room = ((WORDS - base) / 3.9) as usize + 1;
        if lines.len() > room {
            lines.truncate(room.saturating_sub(1));
            lines.push(format!("… {} in all", alike.len()));
        }
        for line in lines {
            words.text(0.0, base, line, Type::SMALL, Align::Left);
            base += 3.9;
        }
    }
    sheet.ink.put(words, x, y + HIGH);
    sheet.parts.push(Rect::new(x, y, WIDE, HIGH + WORDS));
}
