//! A wall too long for one sheet: its elevation broken at studs, each part with a match line at which the next goes on.
//!
//! ```text
//!   part 1                    ┆  ┆ part 2
//!   ├──┬──┬──┬──┬──┬──┬──┬──┬──┤  ├──┬──┬──
//!                             S12 S12       the line is on the same stud on both
//! ```

use layout_core::document::Face;
use layout_core::layout::WallLayout;

use super::{CAPTION, Ink, Paper, Sheet, Type, caption, cautions};
use crate::picture::{Align, Pen, Picture, Rect};

/// How far each part goes on beyond its match line, mm of paper: more than a figure is wide.
const BEYOND: f64 = 12.0;

/// Room over the drawing for the words of its match lines, mm.
const WORDS: f64 = 6.0;

/// More parts than this help nobody.
const MOST: usize = 200;

/// An elevation that is broken.
pub(super) struct Long<'a> {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) foot: Vec<String>,
    pub(super) wall: &'a WallLayout,
    pub(super) face: Face,
    pub(super) scale: f64,
    pub(super) paper: Paper,
}

/// A place where it is broken, on its picture: mm of paper from the model's origin, and the stud that stands there.
#[derive(Clone, Debug, PartialEq)]
struct Break {
    x: f64,
    stud: String,
}

impl Long<'_> {
    /// A sheet for each part; `None` when it is too high, or has nothing to be broken at.
    pub(super) fn sheets(&self, picture: &Picture, about: &str) -> Option<Vec<Sheet>> {
        let bounds = picture.bounds(self.scale)?;
        let mut whole = Ink::default();
        whole.picture(picture, self.scale, [0.0, 0.0]);
        let area = self.paper.area();
        let most = area.width() - 2.0 * BEYOND;
        let mut foot = Sheet::new("", "");
        let over = cautions::foot(&mut foot, area, &self.foot, cautions::Foot::SMALL);
        let high = over - area.min[1] - CAPTION - WORDS;
        let breaks = breaks(&self.studs(), bounds.min[0], bounds.max[0], most)?;
        if bounds.height() > high || breaks.len() >= MOST {
            return None;
        }
        let count = breaks.len() + 1;
        let part = |i: usize| {
            let before = i.checked_sub(1).and_then(|b| breaks.get(b));
            self.part(&whole, bounds, [before, breaks.get(i)], (i + 1, count), about)
        };
        Some((0..count).map(part).collect())
    }

    /// The studs it can be broken at, from left to right.
    fn studs(&self) -> Vec<Break> {
        let is_stud = |m: &&layout_core::frame::Member| m.role.is_full_height();
        let studs = self.wall.frame.members.iter().filter(is_stud);
        let mut list: Vec<Break> = studs
            .map(|m| {
                let station = m.solid.stations().centre();
                let x = if self.face == Face::Right { station } else { -station };
                Break { x: x / self.scale, stud: m.mark.to_string() }
            })
            .collect();
        list.sort_by(|a, b| a.x.total_cmp(&b.x));
        list
    }

    fn part(
        &self,
        whole: &Ink,
        bounds: Rect,
        [before, after]: [Option<&Break>; 2],
        (number, count): (usize, usize),
        about: &str,
    ) -> Sheet {
        let title = match count {
            1 => self.title.clone(),
            _ => format!("{}, part {number} of {count}", self.title),
        };
        let mut sheet = Sheet::new(self.name.clone(), title.as_str());
        let area = self.paper.area();
        let over = cautions::foot(&mut sheet, area, &self.foot, cautions::Foot::SMALL);
        let about = format!("{about} · lists go on in “Pieces”");
        caption(&mut sheet.ink, area, &title, &about);
        // The page's y runs down: the picture lies from −max to −min.
        let low = before.map_or(bounds.min[0], |b| b.x - BEYOND);
        let high = after.map_or(bounds.max[0], |b| b.x + BEYOND);
        let shown = Rect { min: [low, -bounds.max[1]], max: [high, -bounds.min[1]] };
        let top = area.min[1] + CAPTION + WORDS;
        let room = (over - top - shown.height()).max(0.0);
        let left = area.min[0] + ((area.width() - shown.width()) / 2.0).max(0.0);
        let (dx, dy) = (left - shown.min[0], top + room / 2.0 - shown.min[1]);
        let from = sheet.ink.marks.len();
        sheet.ink.put(whole.clipped(shown), dx, dy);
        let drawn = shown.moved(dx, dy);
        let lines =
            [(before, number.wrapping_sub(1), Align::Left), (after, number + 1, Align::Right)];
        for (at, other, align) in lines {
            let Some(at) = at else { continue };
            let x = at.x + dx;
            sheet.ink.line([[x, drawn.min[1] - 2.0], [x, drawn.max[1]]], Pen::Centre);
            let words = format!("match line {}: part {other}", at.stud);
            sheet.ink.text(x, drawn.min[1] - 3.0, words, Type::STRONG, align);
        }
        sheet.drawings.push(from..sheet.ink.marks.len());
        sheet.scale = Some(self.scale);
        sheet.parts.push(Rect { min: [drawn.min[0], drawn.min[1] - WORDS], max: drawn.max });
        sheet
    }
}

/// Where a drawing from `low` to `high` is broken so that no part is longer than `most`: at the last stud that lets it be. `None`
/// where no stud does.
fn breaks(studs: &[Break], low: f64, high: f64, most: f64) -> Option<Vec<Break>> {
    let mut breaks: Vec<Break> = Vec::new();
    let mut from = low;
    while high - from > most && breaks.len() < MOST {
        let reach = |s: &&Break| s.x > from + 1.0 && s.x <= from + most;
        let at = studs.iter().rev().find(reach)?;
        from = at.x;
        breaks.push(at.clone());
    }
    Some(breaks)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_part_is_too_long_and_every_break_is_at_a_stud() {
        let studs: Vec<Break> =
            (0..60).map(|i| Break { x: f64::from(i) * 12.0, stud: format!("S{i}") }).collect();
        let found = breaks(&studs, -10.0, 740.0, 250.0).unwrap();
        assert_eq!(found.iter().map(|b| b.x).collect::<Vec<_>>(), [240.0, 480.0, 708.0]);
        assert_eq!(breaks(&studs, 0.0, 200.0, 250.0), Some(Vec::new()));
        assert_eq!(breaks(&[], 0.0, 900.0, 250.0), None, "nothing to break it at");
    }
}
