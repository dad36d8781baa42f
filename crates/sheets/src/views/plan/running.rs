//! Running dimensions along a partition: from the start of its frame to every jamb and to its end, on
//! the side that is free.

use std::f64::consts::FRAC_PI_2;

use layout_core::id::ItemRef;
use layout_core::layout::WallLayout;

use super::Sheet;
use super::partition::{at, shift};
use crate::picture::{At, Fill, Label, Lettering, Pen, Rect, Shape, readable, spread};

/// One running dimension: where on the wall, and what it belongs to.
struct Running {
    station: f64,
    of: ItemRef,
}

pub(super) fn draw(sheet: &mut Sheet, wall: &WallLayout) {
    let along = wall.spec.along();
    let of = ItemRef::Wall(wall.name().clone());
    let mut marks = vec![Running { station: along.low, of: of.clone() }];
    for hole in &wall.spec.holes {
        for station in [hole.span.low, hole.span.high] {
            marks.push(Running { station, of: ItemRef::Opening(hole.name.clone()) });
        }
    }
    marks.push(Running { station: along.high, of });
    marks.sort_by(|a, b| a.station.total_cmp(&b.station));

    let spec = &wall.spec;
    let mut best: Option<(f64, Line)> = None;
    let drawn = sheet.picture.bounds(sheet.scale);
    // Near the wall, or else beyond the swing of its doors.
    let widest = spec.holes.iter().map(|h| h.span.length()).fold(0.0, f64::max);
    let beyond_swing = (widest / sheet.scale + 3.0).clamp(7.0, 34.0);
    for off in [7.0, 9.5, 12.5, 16.0, 22.0, beyond_swing] {
        for (face, left) in [(spec.finished.low, -off), (spec.finished.high, off)] {
            for figures in [Figures::Along, Figures::Across] {
                let line = Line::new(sheet.scale, wall, &marks, (face, left), figures);
                let way = line.in_the_way(sheet, &marks) + line.sticks_out(sheet, drawn);
                if best.as_ref().is_none_or(|(least, _)| way < *least) {
                    best = Some((way, line));
                }
            }
        }
    }
    if let Some((_, line)) = best {
        line.draw(sheet, &marks);
    }
}

/// How the figures stand to their line.
#[derive(Clone, Copy, PartialEq)]
enum Figures {
    /// Along it, where there is room.
    Along,
    /// Across it, for many figures on a short wall.
    Across,
}

/// Between figures in one line, mm of paper: twice the space that holds the thousands of a figure together.
const ALONG: f64 = 1.9;
/// Between figures beside one another, mm of paper.
const ACROSS: f64 = 1.0;
/// A figure may stand this far from its tick before it is hard to tell which it belongs to, mm of paper.
const STRAY: f64 = 1.5;

/// A dimension line at one distance from the wall.
struct Line<'a> {
    wall: &'a WallLayout,
    /// Offset of the finished face it belongs to.
    face: f64,
    /// Distance from the face to the left, mm of paper.
    left: f64,
    figures: Vec<Label>,
    /// What it costs before anything is in its way.
    cost: f64,
}

impl<'a> Line<'a> {
    fn new(
        scale: f64,
        wall: &'a WallLayout,
        marks: &[Running],
        (face, left): (f64, f64),
        figures: Figures,
    ) -> Line<'a> {
        let start = wall.spec.along().low;
        let along = wall.place.along;
        let direction = along.y.atan2(along.x);
        let turn = match figures {
            Figures::Along => readable(direction),
            Figures::Across => readable(direction + FRAC_PI_2),
        };
        let labels: Vec<Label> = marks
            .iter()
            .map(|m| {
                let text = wall.spec.units.show(m.station - start);
                Label::new(At::model(0.0, 0.0), text).pen(Pen::Dimension).turned(turn).of(&m.of)
            })
            .collect();
        let on_paper: Vec<f64> = marks.iter().map(|m| m.station / scale).collect();
        let widths: Vec<f64> = match figures {
            Figures::Along => labels.iter().map(Label::width).collect(),
            Figures::Across => vec![Lettering::Normal.height(); marks.len()],
        };
        // The first and the last figure stand inside the ends, clear of what the wall meets there.
        let mut wanted = on_paper.clone();
        if let ([first, .., last], [w0, .., w1]) = (wanted.as_mut_slice(), widths.as_slice()) {
            *first += w0 / 2.0 + 0.4;
            *last -= w1 / 2.0 + 0.4;
        }
        // A space holds the thousands of a figure together: figures in one line need more between them.
        let apart = if figures == Figures::Along { ALONG } else { ACROSS };
        let spread_out = spread(&wanted, &widths, apart);
        let strayed = |(to, at): (&f64, &f64)| ((to - at).abs() - STRAY).max(0.0);
        let strayed: f64 = spread_out.iter().zip(&wanted).map(strayed).sum();
        let labels = labels
            .into_iter()
            .zip(marks)
            .zip(on_paper.iter().zip(&spread_out))
            .map(|((label, mark), (on, to))| {
                let beyond = match figures {
                    Figures::Along => 3.2,
                    Figures::Across => label.width() / 2.0 + 2.0,
                };
                let (dx, dy) = shift(wall, to - on, left + beyond * left.signum());
                label.at(at(wall, mark.station, face).shifted(dx, dy))
            })
            .collect();
        let cost = 0.3 * strayed + if figures == Figures::Along { 0.0 } else { 1.5 };
        Line { wall, face, left, figures: labels, cost }
    }

    fn point(&self, station: f64, along: f64, left: f64) -> At {
        let (dx, dy) = shift(self.wall, along, left);
        at(self.wall, station, self.face).shifted(dx, dy)
    }

    /// How much it would be drawn over, and a little more the further it is from the wall.
    fn in_the_way(&self, sheet: &Sheet, marks: &[Running]) -> f64 {
        let figures: f64 = self
            .figures
            .iter()
            .map(|f| sheet.crowd.overlap(f.bounds(sheet.scale).grown(0.4)))
            .sum();
        let along = self.wall.spec.along();
        let parts = 40;
        let line: f64 = (0..=parts)
            .map(|i| {
                let station = along.low + along.length() * f64::from(i) / f64::from(parts);
                let [x, y] = self.point(station, 0.0, self.left).on_paper(sheet.scale);
                if sheet.crowd.overlap(Rect::about(x, y, 0.4, 0.4)) > 0.0 { 5.0 } else { 0.0 }
            })
            .sum();
        let steps = (self.left.abs() / 2.0) as u32;
        let out = self.left.signum();
        let leaders: f64 = marks
            .iter()
            .flat_map(|mark| {
                (1..steps).map(move |i| self.point(mark.station, 0.0, 2.0 * f64::from(i) * out))
            })
            .map(|at| {
                let [x, y] = at.on_paper(sheet.scale);
                if sheet.crowd.overlap(Rect::about(x, y, 0.4, 0.4)) > 0.0 { 2.0 } else { 0.0 }
            })
            .sum();
        10.0 * figures + line + leaders + self.cost + 0.1 * self.left.abs()
    }

    /// How much larger the drawing would be for it, mm: its scale is worth more than a free place outside.
    fn sticks_out(&self, sheet: &Sheet, drawn: Option<Rect>) -> f64 {
        let figures = self.figures.iter().map(|f| f.bounds(sheet.scale)).reduce(Rect::join);
        let (Some(drawn), Some(figures)) = (drawn, figures) else { return 0.0 };
        let all = drawn.join(figures);
        all.width() - drawn.width() + all.height() - drawn.height()
    }

    fn draw(self, sheet: &mut Sheet, marks: &[Running]) {
        let of = ItemRef::Wall(self.wall.name().clone());
        let out = self.left.signum();
        let ends = self.wall.spec.along();
        let line = [self.point(ends.low, 0.0, self.left), self.point(ends.high, 0.0, self.left)];
        sheet.picture.line(line, Pen::Dimension, Some(&of));
        sheet.keep_line_clear(line[0], line[1]);
        for (i, mark) in marks.iter().enumerate() {
            let leader = [
                self.point(mark.station, 0.0, out),
                self.point(mark.station, 0.0, self.left + 1.2 * out),
            ];
            sheet.picture.line(leader, Pen::Dimension, Some(&mark.of));
            let on = self.point(mark.station, 0.0, self.left);
            if i == 0 {
                sheet.picture.add(
                    Shape::Dot { at: on, radius: 0.8 },
                    Pen::Dimension,
                    Fill::Paper,
                    Some(&mark.of),
                );
            } else {
                let tick = [
                    self.point(mark.station, -0.9, self.left - 0.9),
                    self.point(mark.station, 0.9, self.left + 0.9),
                ];
                sheet.picture.line(tick, Pen::Dimension, Some(&mark.of));
            }
        }
        for figure in self.figures {
            sheet.crowd.write(&mut sheet.picture, sheet.scale, figure);
        }
    }
}
