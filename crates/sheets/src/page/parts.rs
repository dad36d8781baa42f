//! A plan that is too large for one sheet, in parts: each at a scale that can be read, with some of its
//! neighbours along its edges.

use layout_core::document::Job;
use layout_core::layout::Layout;

use super::{CAPTION, Ink, Paper, Sheet, Type, caption};
use crate::picture::{Align, Fill, Pen, Rect};
use crate::views::{PlanOptions, plan};

/// How much neighbouring parts share, mm: more than any lettering is long.
const SHARED: f64 = 25.0;

/// More parts than this help nobody.
const MOST: usize = 60;

/// The whole plan at the scale of its parts, and where they are cut from it.
pub(super) struct Parts {
    scale: f64,
    /// The plan, its top left corner at 0, 0.
    ink: Ink,
    /// Where the plan's own top left corner is from the model's origin, mm of paper, y up.
    corner: [f64; 2],
    parts: Vec<Rect>,
}

impl Parts {
    pub(super) fn of(job: &Job, layout: &Layout, paper: Paper, scale: f64) -> Option<Parts> {
        let picture = plan(job, layout, &PlanOptions { scale, dimensions: true, boards: None });
        let bounds = picture.bounds(scale)?;
        let corner = [bounds.min[0], bounds.max[1]];
        let mut ink = Ink::default();
        ink.picture(&picture, scale, [-corner[0], corner[1]]);
        let room = room(paper);
        let (columns, rows) =
            (cuts(bounds.width(), room.width()), cuts(bounds.height(), room.height()));
        if columns.len() * rows.len() > MOST {
            return None;
        }
        let parts = rows
            .iter()
            .flat_map(|&(y, height)| {
                columns.iter().map(move |&(x, width)| Rect::new(x, y, width, height))
            })
            .collect();
        Some(Parts { scale, ink, corner, parts })
    }

    /// Outlines and numbers of the parts on a key plan at `scale` with the model's origin at `origin`.
    pub(super) fn key(&self, ink: &mut Ink, scale: f64, origin: [f64; 2]) {
        let per = self.scale / scale;
        for (i, part) in self.parts.iter().enumerate() {
            let x = origin[0] + (part.min[0] + self.corner[0]) * per;
            let y = origin[1] + (part.min[1] - self.corner[1]) * per;
            let on_key = Rect::new(x, y, part.width() * per, part.height() * per);
            ink.rect(on_key, Pen::Centre, Fill::None);
            let number = (i + 1).to_string();
            let width = Type::HEADING.width(&number) + 2.0;
            ink.rect(Rect::new(x, y, width, 5.5), Pen::Thin, Fill::Paper);
            ink.text(x + 1.0, y + 4.5, number, Type::HEADING, Align::Left);
        }
    }

    pub(super) fn sheets(&self, paper: Paper) -> Vec<Sheet> {
        let room = room(paper);
        let count = self.parts.len();
        let part = |(i, part): (usize, &Rect)| {
            let name = format!("Plan, part {} of {count}", i + 1);
            let mut sheet = Sheet::new(format!("plan-part-{}", i + 1), name.as_str());
            caption(&mut sheet.ink, paper.area(), &name, "where the parts are is on the plan");
            let x = room.min[0] + (room.width() - part.width()) / 2.0;
            let y = room.min[1] + (room.height() - part.height()) / 2.0;
            let from = sheet.ink.marks.len();
            sheet.ink.put(self.ink.clipped(*part), x - part.min[0], y - part.min[1]);
            sheet.drawings.push(from..sheet.ink.marks.len());
            let covered = Rect::new(x, y, part.width(), part.height());
            sheet.ink.rect(covered, Pen::Centre, Fill::None);
            sheet.parts.push(covered);
            sheet.scale = Some(self.scale);
            sheet
        };
        self.parts.iter().enumerate().map(part).collect()
    }
}

/// Where a part goes on its sheet.
fn room(paper: Paper) -> Rect {
    let area = paper.area();
    Rect { min: [area.min[0], area.min[1] + CAPTION], ..area }
}

/// Where a length is cut so that no part is longer than `most`: start and length of each.
fn cuts(whole: f64, most: f64) -> Vec<(f64, f64)> {
    if whole <= most {
        return vec![(0.0, whole)];
    }
    let count = ((whole - SHARED) / (most - SHARED)).ceil();
    let step = (whole - most) / (count - 1.0);
    (0..count as usize).map(|i| (step * i as f64, most)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_cover_the_whole_and_share_their_edges() {
        assert_eq!(cuts(200.0, 250.0), [(0.0, 200.0)]);
        for whole in [251.0, 480.0, 3000.0] {
            let parts = cuts(whole, 250.0);
            assert_eq!(parts[0].0, 0.0);
            let last = parts[parts.len() - 1];
            assert!((last.0 + last.1 - whole).abs() < 1e-9);
            for pair in parts.windows(2) {
                assert!(pair[0].0 + 250.0 - pair[1].0 >= SHARED - 1e-9, "{pair:?}");
            }
        }
    }
}
