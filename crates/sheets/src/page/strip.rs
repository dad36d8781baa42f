//! What every sheet has: the border, and the title strip along its foot.

use layout_core::math::round_to;
use layout_core::units::Units;

use super::{Ink, Type};
use crate::picture::{Align, Fill, Pen, Rect};

/// A size of paper, and which way it lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 297 × 210 mm, on its long side.
    #[default]
    A4,
    /// 420 × 297 mm, on its long side.
    A3,
    /// 210 × 297 mm, upright.
    A4Upright,
    /// 297 × 420 mm, upright.
    A3Upright,
}

/// Height of a row of the title strip, mm.
const STRIP: f64 = 20.0;

impl Paper {
    /// Width and height of the sheet, mm.
    pub fn size(self) -> (f64, f64) {
        match self {
            Paper::A4 => (297.0, 210.0),
            Paper::A3 => (420.0, 297.0),
            Paper::A4Upright => (210.0, 297.0),
            Paper::A3Upright => (297.0, 420.0),
        }
    }

    /// True when it stands on its short side.
    pub fn is_upright(self) -> bool {
        matches!(self, Paper::A4Upright | Paper::A3Upright)
    }

    /// The same sheet on its long side: what a plan is laid out on, whatever way the others stand.
    pub fn lying(self) -> Paper {
        match self {
            Paper::A4 | Paper::A4Upright => Paper::A4,
            Paper::A3 | Paper::A3Upright => Paper::A3,
        }
    }

    /// True when the title strip has no room for all its cells side by side.
    fn is_narrow(self) -> bool {
        self == Paper::A4Upright
    }

    /// Inside the border: ISO 5457's 20 mm filing margin on the left and 10 mm on the other sides.
    pub fn frame(self) -> Rect {
        let (width, height) = self.size();
        Rect { min: [20.0, 10.0], max: [width - 10.0, height - 10.0] }
    }

    /// Inside the border and over the title strip, with a little air.
    pub fn area(self) -> Rect {
        let frame = self.frame();
        Rect {
            min: [frame.min[0] + 3.0, frame.min[1] + 3.0],
            max: [frame.max[0] - 3.0, self.strip().min[1] - 3.0],
        }
    }

    /// The title strip.
    pub fn strip(self) -> Rect {
        let frame = self.frame();
        let high = if self.is_narrow() { 2.0 * STRIP } else { STRIP };
        Rect { min: [frame.min[0], frame.max[1] - high], max: frame.max }
    }

    /// The cells of the title strip: title, check line, scale, page. One row; on narrow paper title and page over the other two.
    fn cells(self) -> [Rect; 4] {
        let strip = self.strip();
        let [left, top] = strip.min;
        let right = strip.max[0];
        if self.is_narrow() {
            let low = top + STRIP;
            return [
                Rect::new(left, top, strip.width() - PAGE, STRIP),
                Rect::new(left, low, strip.width() - SCALE, STRIP),
                Rect::new(right - SCALE, low, SCALE, STRIP),
                Rect::new(right - PAGE, top, PAGE, STRIP),
            ];
        }
        let (page, scale) = (right - PAGE, right - PAGE - SCALE);
        let check = scale - CHECK;
        [
            Rect::new(left, top, check - left, STRIP),
            Rect::new(check, top, CHECK, STRIP),
            Rect::new(scale, top, SCALE, STRIP),
            Rect::new(page, top, PAGE, STRIP),
        ]
    }

    /// The ends of the line that is exactly 100 mm long on every sheet, by which the crew sees that the
    /// printer did not shrink it: level, 6.5 mm below the top of the title strip, the left end first.
    pub fn check_line(self) -> [[f64; 2]; 2] {
        let cell = self.cells()[1];
        let (right, y) = (cell.max[0] - 4.0, cell.min[1] + 6.5);
        [[right - 100.0, y], [right, y]]
    }
}

/// Widths of the cells of the strip, from the right; what is left is the title's.
const PAGE: f64 = 33.0;
const SCALE: f64 = 38.0;
const CHECK: f64 = 108.0;

/// What a title strip says.
pub(super) struct Title<'a> {
    pub(super) job: &'a str,
    pub(super) sheet: &'a str,
    /// Millimetres of model to one of paper, on sheets with a drawing.
    pub(super) scale: Option<f64>,
    pub(super) date: &'a str,
    pub(super) crew_copy: Option<&'a str>,
    pub(super) page: (usize, usize),
    /// What lengths are shown in.
    pub(super) units: Units,
}

/// Draws the border and the title strip.
pub(super) fn draw(ink: &mut Ink, paper: Paper, title: &Title) {
    let (frame, strip) = (paper.frame(), paper.strip());
    ink.rect(frame, Pen::Cut, Fill::None);
    ink.line([[strip.min[0], strip.min[1]], [strip.max[0], strip.min[1]]], Pen::Outline);
    let [job, check, scale, page] = paper.cells();
    for cell in [check, scale, page] {
        if cell.min[0] > strip.min[0] {
            ink.line([cell.min, [cell.min[0], cell.max[1]]], Pen::Thin);
        }
        if cell.min[1] > strip.min[1] {
            ink.line([cell.min, [cell.max[0], cell.min[1]]], Pen::Thin);
        }
    }
    let line = |cell: Rect, n: usize| cell.min[1] + [6.0, 12.0, 17.4][n];

    let left = job.min[0] + 3.0;
    let room = job.width() - 5.0;
    let kind = if Type::HEADING.width(title.job) <= room { Type::HEADING } else { Type::STRONG };
    ink.text(left, line(job, 0), kind.fit(title.job, room), kind, Align::Left);
    let sheet = Type::NORMAL.fit(title.sheet, room);
    ink.text(left, line(job, 1), sheet, Type::NORMAL, Align::Left);
    ink.text(left, line(job, 2), "Check on site before cutting", Type::STRONG, Align::Left);

    let [from, to] = paper.check_line();
    ink.line([from, to], Pen::Outline);
    for end in [from, to] {
        ink.line([[end[0], end[1] - 2.0], [end[0], end[1] + 2.0]], Pen::Outline);
    }
    let middle = (from[0] + to[0]) / 2.0;
    ink.text(middle, line(check, 1) + 1.0, "this line is 100 mm:", Type::QUIET, Align::Centre);
    let shrunk = "if not, the printer has shrunk it";
    ink.text(middle, line(check, 2), shrunk, Type::QUIET, Align::Centre);

    let x = scale.min[0] + 3.0;
    match title.scale {
        Some(value) => {
            let text = format!("Scale 1 : {}", round_to(value, 0.1));
            ink.text(x, line(scale, 0), text, Type::NORMAL, Align::Left);
            scale_bar(ink, title.units, value, x, scale.min[1] + 9.0);
        }
        None => ink.text(x, line(scale, 0), "No scale", Type::QUIET, Align::Left),
    }

    let x = page.min[0] + 3.0;
    let room = PAGE - 5.0;
    let (number, of) = title.page;
    ink.text(x, line(page, 0), format!("page {number} of {of}"), Type::SMALL, Align::Left);
    ink.text(x, line(page, 1), Type::SMALL.fit(title.date, room), Type::SMALL, Align::Left);
    let copy = title.crew_copy.map_or("no crew copy".to_string(), |c| format!("last copy {c}"));
    let kind = if title.crew_copy.is_some() { Type::STRONG } else { Type::QUIET };
    ink.text(x, line(page, 2), kind.fit(&copy, room), kind, Align::Left);
}

/// A bar of a round length, halved, with its length in metres beside it.
fn scale_bar(ink: &mut Ink, units: Units, scale: f64, x: f64, y: f64) {
    const ROOM: f64 = 28.0;
    let rounds = [0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
    let (one, called) = match units {
        Units::Millimetres => (1000.0, "m"),
        Units::FeetInches => (304.8, "ft"),
    };
    let count = rounds.into_iter().rev().find(|m| m * one / scale <= ROOM).unwrap_or(0.02);
    let length = count * one / scale;
    let half = length / 2.0;
    ink.rect(Rect::new(x, y, half, 1.6), Pen::Outline, Fill::Existing);
    ink.rect(Rect::new(x + half, y, half, 1.6), Pen::Outline, Fill::Paper);
    ink.text(x, y + 6.4, "0", Type::SMALL, Align::Centre);
    let far = match units {
        Units::Millimetres if count < 0.1 => format!("{} mm", round_to(count * one, 1.0)),
        _ => format!("{count} {called}"),
    };
    ink.text(x + length, y + 6.4, far, Type::SMALL, Align::Centre);
}
