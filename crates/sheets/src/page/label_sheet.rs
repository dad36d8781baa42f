//! Labels for pieces, on sheets of labels of any size: what it is, where it goes, how long, how its ends are cut.

use layout_core::document::Job;
use layout_core::frame::Member;
use layout_core::layout::{Framed, Layout};
use layout_core::units::Units;

use super::{Ink, Sheet, Type};
use crate::lettering::Weight;
use crate::picture::{Align, Pen, Rect};

/// A sheet of labels, by its dimensions, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelSheet {
    /// Width and height of the sheet.
    pub sheet: (f64, f64),
    /// How many labels lie across it and down it.
    pub count: (usize, usize),
    /// Width and height of one.
    pub size: (f64, f64),
    /// From the left edge and from the top of the sheet to the first.
    pub margin: (f64, f64),
    /// From one to the next, across and down, between their edges.
    pub gap: (f64, f64),
}

impl LabelSheet {
    /// Sizes that A4 sheets of labels are sold in, the usual one first. Margins are what is left over, shared evenly.
    pub const USUAL: [LabelSheet; 5] = [
        LabelSheet::on_a4((2, 7), (99.1, 38.1), (2.5, 0.0)),
        LabelSheet::on_a4((3, 7), (63.5, 38.1), (2.5, 0.0)),
        LabelSheet::on_a4((3, 8), (70.0, 35.0), (0.0, 0.0)),
        LabelSheet::on_a4((3, 8), (70.0, 37.0), (0.0, 0.0)),
        LabelSheet::on_a4((2, 5), (99.1, 57.0), (2.5, 0.0)),
    ];

    /// Labels in the middle of an upright A4 sheet.
    pub const fn on_a4(count: (usize, usize), size: (f64, f64), gap: (f64, f64)) -> LabelSheet {
        let sheet = (210.0, 297.0);
        let (across, down) = (count.0 as f64, count.1 as f64);
        let margin = (
            (sheet.0 - across * size.0 - (across - 1.0) * gap.0) / 2.0,
            (sheet.1 - down * size.1 - (down - 1.0) * gap.1) / 2.0,
        );
        LabelSheet { sheet, count, size, margin, gap }
    }

    /// “99.1 × 38.1, 2 × 7”.
    pub fn label(&self) -> String {
        let ((w, h), (across, down)) = (self.size, self.count);
        format!("{w} × {h}, {across} × {down}")
    }

    /// As [`LabelSheet::read`] reads it, margins and gaps to a hundredth: `63.5x38.1,3x7,7.25+15.15,2.5x0`.
    pub fn written(&self) -> String {
        let ((w, h), (across, down)) = (self.size, self.count);
        let [left, top] = [self.margin.0, self.margin.1].map(|v| (v * 100.0).round() / 100.0);
        let (gap, below) = self.gap;
        format!("{w}x{h},{across}x{down},{left}+{top},{gap}x{below}")
    }

    /// Reads `99.1x38.1`, one of the usual sizes, or `WxH,ACROSSxDOWN` with, after another comma, `LEFT+TOP` margins and after one
    /// more `GAPxGAP`: `70x36,3x8,0+4.5,0x0`.
    ///
    /// # Errors
    /// One line that says what cannot be read, or what does not fit on the sheet.
    pub fn read(text: &str) -> Result<LabelSheet, String> {
        let pair = |part: &str, by: char| -> Option<(f64, f64)> {
            let (a, b) = part.trim().split_once([by, '×'])?;
            let (a, b) = (a.trim().parse::<f64>().ok()?, b.trim().parse::<f64>().ok()?);
            (a.is_finite() && b.is_finite()).then_some((a, b))
        };
        let parts: Vec<&str> = text.split(',').collect();
        let size = parts.first().and_then(|p| pair(p, 'x')).filter(|s| s.0 > 0.0 && s.1 > 0.0);
        let size = size.ok_or_else(|| format!("“{text}” is no size of label: write 99.1x38.1"))?;
        let is_usual = |l: &&LabelSheet| l.size == size;
        if let (1, Some(usual)) = (parts.len(), LabelSheet::USUAL.iter().find(is_usual)) {
            return Ok(*usual);
        }
        let Some(count) = parts.get(1).and_then(|p| pair(p, 'x')) else {
            let usual: Vec<String> =
                LabelSheet::USUAL.iter().map(|l| format!("{}x{}", l.size.0, l.size.1)).collect();
            return Err(format!(
                "How many labels of {}x{} lie across and down the sheet? Write {}x{},3x8; known without are {}",
                size.0,
                size.1,
                size.0,
                size.1,
                usual.join(", ")
            ));
        };
        let whole = |v: f64| (1.0..=50.0).contains(&v) && v.fract() == 0.0;
        if !whole(count.0) || !whole(count.1) {
            return Err(format!("“{text}” needs whole numbers of labels across and down, 1 to 50"));
        }
        let count = (count.0 as usize, count.1 as usize);
        let gap = match parts.get(3) {
            None => (0.0, 0.0),
            Some(p) => pair(p, 'x').ok_or_else(|| format!("“{p}” is no gap: write 2.5x0"))?,
        };
        let mut labels = LabelSheet::on_a4(count, size, gap);
        if let Some(p) = parts.get(2) {
            labels.margin =
                pair(p, '+').ok_or_else(|| format!("“{p}” is no margin: write 5+15"))?;
        }
        labels.fits().then_some(labels).ok_or_else(|| {
            format!("{} labels of {} × {} do not fit on A4", count.0 * count.1, size.0, size.1)
        })
    }

    fn fits(&self) -> bool {
        let last = self.place(self.count.0 * self.count.1 - 1);
        self.margin.0 > -0.05
            && self.margin.1 > -0.05
            && self.gap.0 >= 0.0
            && self.gap.1 >= 0.0
            && last.max[0] <= self.sheet.0 + 0.05
            && last.max[1] <= self.sheet.1 + 0.05
    }

    /// Where a label lies, counted along rows from the top left, from 0.
    pub fn place(&self, index: usize) -> Rect {
        let (column, row) = (index % self.count.0, index / self.count.0);
        Rect::new(
            self.margin.0 + column as f64 * (self.size.0 + self.gap.0),
            self.margin.1 + row as f64 * (self.size.1 + self.gap.1),
            self.size.0,
            self.size.1,
        )
    }
}

impl Default for LabelSheet {
    fn default() -> LabelSheet {
        LabelSheet::USUAL[0]
    }
}

/// A label for every piece of the job, wall by wall in the order of its frame.
pub(super) fn sheets(job: &Job, layout: &Layout, labels: &LabelSheet) -> Vec<Sheet> {
    let pieces: Vec<(Framed, &Member)> =
        layout.framed().flat_map(|p| p.frame().members.iter().map(move |m| (p, m))).collect();
    let on_one = labels.count.0 * labels.count.1;
    let sheet = |pieces: &[(Framed, &Member)]| {
        let mut sheet = Sheet::new("labels", "Labels of pieces");
        sheet.bare = Some(labels.sheet);
        for (i, (part, member)) in pieces.iter().enumerate() {
            let place = labels.place(i);
            sheet.ink.put(label(job, *part, member, labels.size), place.min[0], place.min[1]);
            sheet.parts.push(place);
        }
        sheet
    };
    pieces.chunks(on_one).map(sheet).collect()
}

/// What every label keeps clear of its edge, mm: printers stray.
const INSIDE: f64 = 3.0;

/// One label, its top left corner at 0, 0.
fn label(job: &Job, part: Framed, member: &Member, (width, height): (f64, f64)) -> Ink {
    let units = part.units();
    let mut ink = Ink::default();
    let room = width - 2.0 * INSIDE;
    let (left, right) = (INSIDE, width - INSIDE);
    // The mark as large as the label lets it be, the length beside it.
    let mark = member.full_mark(part.name());
    let length = units.show(part.cut_length(member));
    let length = if member.measure_in_place { format!("{length} *") } else { length };
    let big = largest(&mark, room * 0.52, (height * 0.26).min(11.0));
    let figure = largest(&length, room * 0.44, (height * 0.2).min(8.0));
    let line = INSIDE + big.height.max(figure.height);
    ink.text(left, line, big.fit(&mark, room * 0.52), big, Align::Left);
    ink.text(right, line, figure.fit(&length, room * 0.44), figure, Align::Right);
    let mut y = line + 1.8;
    ink.line([[left, y], [right, y]], Pen::Thin);
    let foot = height - INSIDE + 0.6;
    for (text, kind) in words(job, part, member, units) {
        for line in kind.wrap(&text, room) {
            if y + 1.2 + kind.height > foot {
                return ink;
            }
            y += kind.height + 1.2;
            ink.text(left, y, line, kind, Align::Left);
        }
    }
    ink
}

/// Bold lettering no wider than `room`, no higher than `most`, no lower than 2.5 mm.
fn largest(text: &str, room: f64, most: f64) -> Type {
    let at_one = Weight::Bold.width(text, 1.0).max(0.1);
    // A hair under, so that what just fits is not cut short.
    Type {
        height: (0.999 * room / at_one).min(most).max(2.5),
        weight: Weight::Bold,
        pen: Pen::Text,
    }
}

/// What stands under the mark: role and section, where it goes, how its ends are cut, to be measured.
fn words(job: &Job, part: Framed, member: &Member, units: Units) -> Vec<(String, Type)> {
    let role = format!("{} · {}", member.role.label(), member.timber.size_in(units));
    let mut lines = vec![(role, Type::HEADING), (goes(part, member, units), Type::NORMAL)];
    let cuts = member.cut_words(units);
    lines.extend((!cuts.is_empty()).then(|| (cuts.join("; "), Type::NORMAL)));
    if member.measure_in_place {
        lines.push(("* measure in place before you cut".into(), Type::SMALL));
    }
    lines.push((job.title.clone(), Type::QUIET));
    lines
}

/// Where a piece goes: an upright by its edge nearer the start, what lies by its height and from where.
fn goes(part: Framed, member: &Member, units: Units) -> String {
    match part {
        Framed::Wall(wall) => {
            let along = member.solid.stations().low - wall.spec.along().low;
            let at = units.show(along);
            if member.role.is_full_height() {
                format!("wall {}, {at} from the start", wall.name())
            } else {
                let up = units.show(member.solid.heights().low);
                format!("wall {}, {at} from the start, underside {up}", wall.name())
            }
        }
        Framed::Platform(platform) => {
            let at = units.show(member.solid.stations().low);
            format!("{}, {at} from its corner", platform.name())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_and_what_does_not_fit_is_refused() {
        assert_eq!(LabelSheet::read("99.1x38.1"), Ok(LabelSheet::USUAL[0]));
        assert_eq!(LabelSheet::read("70×35").unwrap().count, (3, 8));
        let own = LabelSheet::read("60x30,3x9,10+12,5x0").unwrap();
        assert_eq!((own.margin, own.gap), ((10.0, 12.0), (5.0, 0.0)));
        let last = own.place(26);
        assert_eq!((last.min, last.max), ([140.0, 252.0], [200.0, 282.0]));
        for usual in LabelSheet::USUAL {
            let again = LabelSheet::read(&usual.written()).unwrap();
            assert_eq!((again.count, again.size, again.gap), (usual.count, usual.size, usual.gap));
            assert!((again.margin.0 - usual.margin.0).abs() < 0.006, "{}", usual.written());
        }
        for wrong in ["", "99.1", "50x20", "70x38,3x8", "70x35,0x8", "70x35,3x8,1", "-5x9,1x1"] {
            assert!(LabelSheet::read(wrong).is_err(), "{wrong}");
        }
        assert!(LabelSheet::USUAL.iter().all(LabelSheet::fits));
    }
}
