//! One way to cut a sheet, drawn: its boards with their marks, what openings take out of them, what is kept, and every cut on
//! two running tapes.

use layout_core::board_plan::{CutSheet, Laid, Patch, marks_in_words};
use layout_core::boards::Shape;
use layout_core::units::Units;

use super::flow::Row;
use super::{Ink, Mark, Type};
use crate::picture::{Align, Fill, Pen, Rect, spread_up_to};

/// Room over the drawing for its name, mm.
const OVER: f64 = 5.0;
/// Between the sheet and the figures of its tapes, mm.
const TICK: f64 = 2.2;
/// A line of lettering, mm.
const LINE: f64 = 3.6;

/// How all sheets of a set are drawn.
#[derive(Clone, Copy)]
pub(super) struct Look {
    pub(super) units: Units,
    pub(super) scale: f64,
    /// Room for figures left of the sheet and under it, mm.
    margin: f64,
}

impl Look {
    pub(super) fn new<'a>(
        units: Units,
        scale: f64,
        sheets: impl Iterator<Item = &'a CutSheet>,
    ) -> Look {
        let figures = sheets.flat_map(|s| [0, 1].map(|axis| edges(s, axis))).flatten();
        let widest = figures.map(|v| Type::SMALL.width(&units.show(v))).fold(6.0, f64::max);
        Look { units, scale, margin: widest + TICK + 0.2 }
    }

    /// Width and height of the tile of a sheet.
    pub(super) fn size(&self, (width, length): (f64, f64)) -> (f64, f64) {
        (self.margin + width / self.scale + 0.5, OVER + length / self.scale + self.margin)
    }
}

/// Where boards begin, end or have a corner, from the lower left corner of their sheet; not the sheet's own edges.
fn edges(sheet: &CutSheet, axis: usize) -> Vec<f64> {
    let whole = if axis == 0 { sheet.size.0 } else { sheet.size.1 };
    let corners = sheet.boards.iter().flat_map(|b| b.rings.iter().flatten()).map(|p| p[axis]);
    let mut edges: Vec<f64> = corners.filter(|v| (0.5..whole - 0.5).contains(v)).collect();
    edges.sort_by(f64::total_cmp);
    edges.dedup_by(|a, b| (*a - *b).abs() < 0.5);
    edges
}

/// A drawing of a sheet with what stands round it.
pub(super) struct Tile<'a> {
    look: Look,
    sheet: &'a CutSheet,
    ink: Ink,
    /// What found no room on the drawing.
    beside: Vec<String>,
}

impl<'a> Tile<'a> {
    pub(super) fn of(look: Look, sheet: &'a CutSheet) -> Tile<'a> {
        let mut tile = Tile { look, sheet, ink: Ink::default(), beside: Vec::new() };
        tile.draw();
        tile
    }

    /// The tile as a row of a list, and what found no room on it line by line under it.
    pub(super) fn rows(self, width: f64) -> Vec<Row> {
        let height = self.look.size(self.sheet.size).1;
        let mut rows = vec![Row { height, ink: self.ink }];
        for line in self.beside.iter().flat_map(|text| Type::SMALL.wrap(text, width)) {
            let mut row = Row { height: LINE, ink: Ink::default() };
            row.ink.text(0.0, LINE - 1.0, line, Type::SMALL, Align::Left);
            rows.push(row);
        }
        if let Some(last) = rows.last_mut() {
            last.height += 0.3;
        }
        rows
    }

    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let Look { scale, margin, .. } = self.look;
        [margin + x / scale, OVER + (self.sheet.size.1 - y) / scale]
    }

    fn patch(&self, p: Patch) -> Rect {
        let low = self.at([p.x, p.y]);
        let high = self.at([p.x + p.width, p.y + p.length]);
        Rect { min: [low[0], high[1]], max: [high[0], low[1]] }
    }

    fn draw(&mut self) {
        let sheet = self.sheet;
        let (width, length) = sheet.size;
        let shown = format!("{} × {}", self.look.units.show(width), self.look.units.show(length));
        let here = if sheet.owned { ", here" } else { "" };
        self.ink.rect(Rect::new(0.0, 0.1, 2.8, 2.8), Pen::Outline, Fill::None);
        let name = match sheet.count {
            1 => format!("{shown}{here}"),
            n => format!("{n} alike, {shown}{here}"),
        };
        self.ink.text(4.2, 2.7, name, Type::STRONG, Align::Left);
        let whole = Patch { x: 0.0, y: 0.0, width, length };
        for part in sheet.boards.iter().flat_map(|b| strips(&b.rings)) {
            let part = part.map(|p| self.at(p)).to_vec();
            self.ink.area(part, Pen::None, Fill::Board);
        }
        for cut in &sheet.cuts {
            let p = cut.through;
            let line = if cut.across {
                [[p.x, cut.at], [p.x + p.width, cut.at]]
            } else {
                [[cut.at, p.y], [cut.at, p.y + p.length]]
            };
            self.ink.line(line.map(|p| self.at(p)), Pen::Outline);
        }
        for board in &sheet.boards {
            self.openings(board);
        }
        for &offcut in &sheet.offcuts {
            self.kept(offcut);
        }
        self.ink.rect(self.patch(whole), Pen::Cut, Fill::None);
        for i in 0..sheet.boards.len() {
            self.mark(i);
        }
        self.tapes();
    }

    /// The edges of a board that are not edges of its blank.
    fn openings(&mut self, board: &Laid) {
        let p = board.at;
        let edge = |axis: usize, a: [f64; 2], b: [f64; 2]| {
            let (from, size) = if axis == 0 { (p.x, p.width) } else { (p.y, p.length) };
            [from, from + size]
                .into_iter()
                .any(|v| (a[axis] - v).abs() < 0.2 && (b[axis] - v).abs() < 0.2)
        };
        for ring in &board.rings {
            for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                if !(edge(0, a, b) || edge(1, a, b)) {
                    self.ink.line([self.at(a), self.at(b)], Pen::Hidden);
                }
            }
        }
    }

    /// What is worth keeping.
    fn kept(&mut self, offcut: Patch) {
        let r = self.patch(offcut);
        self.ink.line([[r.min[0], r.max[1]], [r.max[0], r.min[1]]], Pen::Quiet);
        let size = format!(
            "{} × {}",
            self.look.units.show(offcut.width),
            self.look.units.show(offcut.length)
        );
        let lines = [vec![size.clone()], vec!["keep".to_string(), size]];
        let inside = |_: [f64; 2]| true;
        for lines in lines.iter().rev() {
            if self.letter(r, lines, Type::QUIET, &inside) {
                return;
            }
        }
    }

    /// The marks of a board and its size, where there is room on it; else under the drawing.
    fn mark(&mut self, i: usize) {
        let sheet = self.sheet;
        let board = &sheet.boards[i];
        let r = self.patch(board.at);
        let mut rings = board.rings.iter();
        let shape = Shape {
            outline: rings.next().cloned().unwrap_or_default(),
            holes: rings.cloned().collect(),
        };
        let others: Vec<Rect> = sheet
            .boards
            .iter()
            .enumerate()
            .filter(|(k, b)| *k != i && inside(b.at, board.at))
            .map(|(_, b)| self.patch(b.at))
            .collect();
        let Look { scale, margin, .. } = self.look;
        let length = sheet.size.1;
        let back = move |[x, y]: [f64; 2]| [(x - margin) * scale, length - (y - OVER) * scale];
        let whole = board.is_rectangle();
        let free = |p: [f64; 2]| {
            let on_other =
                |o: &Rect| (0..2).all(|k| o.min[k] - 0.3 < p[k] && p[k] < o.max[k] + 0.3);
            (whole || shape.contains(back(p))) && !others.iter().any(on_other)
        };
        let marks = marks_in_words(&board.marks);
        let turned = if board.turned { " turned" } else { "" };
        let size = format!(
            "{} × {}{turned}",
            self.look.units.show(board.at.width),
            self.look.units.show(board.at.length)
        );
        let wrapped = |width: f64| {
            let mut lines = Type::STRONG.wrap(&marks, width);
            lines.push(size.clone());
            lines
        };
        let mut tries = vec![vec![marks.clone(), size.clone()]];
        tries.extend([r.width(), r.height()].map(|w| wrapped(w - 2.0)));
        tries.push(vec![marks.clone()]);
        for lines in tries {
            if self.letter(r, &lines, Type::STRONG, &free) {
                return;
            }
        }
        let at =
            format!("{}, {}", self.look.units.show(board.at.x), self.look.units.show(board.at.y));
        self.beside.push(format!("{marks}: {size} from {at}"));
    }

    /// Writes lines on each other in the middle of `r` or as near to it as they are clear, level or upright; the first bold,
    /// when it is a mark. False when there is no room.
    fn letter(
        &mut self,
        r: Rect,
        lines: &[String],
        kind: Type,
        free: &dyn Fn([f64; 2]) -> bool,
    ) -> bool {
        let wide = lines.iter().map(|l| kind.width(l)).fold(0.0, f64::max) + 0.8;
        let high = lines.len() as f64 * LINE;
        let centre = r.centre();
        for upright in [false, true] {
            let (w, h) = if upright { (high, wide) } else { (wide, high) };
            if w > r.width() - 0.6 || h > r.height() - 0.6 {
                continue;
            }
            let clear = |c: [f64; 2]| {
                let b = Rect::about(c[0], c[1], w, h);
                let steps = |k: u32| f64::from(k) / 8.0;
                let b = b.grown(0.5);
                r.grown(0.3).covers(b)
                    && (0..=8).all(|u| {
                        (0..=8).all(|v| {
                            free([
                                b.min[0] + b.width() * steps(u),
                                b.min[1] + b.height() * steps(v),
                            ])
                        })
                    })
            };
            let places = (0..=24).flat_map(|u| (0..=48).map(move |v| (u, v))).map(|(u, v)| {
                let share = |k: u32, n: f64| f64::from(k) / n;
                [r.min[0] + r.width() * share(u, 24.0), r.min[1] + r.height() * share(v, 48.0)]
            });
            let off = |p: &[f64; 2]| (p[0] - centre[0]).hypot(p[1] - centre[1]);
            let best = std::iter::once(centre)
                .chain(places)
                .filter(|p| clear(*p))
                .min_by(|a, b| off(a).total_cmp(&off(b)));
            let Some(c) = best else { continue };
            if kind == Type::QUIET {
                // The diagonal stops at the words.
                self.ink.rect(Rect::about(c[0], c[1], w, h), Pen::None, Fill::Paper);
            }
            for (i, line) in lines.iter().enumerate() {
                let last = i + 1 == lines.len() && i > 0;
                let kind = if last { Type { weight: Type::SMALL.weight, ..kind } } else { kind };
                let down = (i as f64 + 0.5) * LINE - high / 2.0 + kind.height / 2.0;
                let half = kind.width(line) / 2.0;
                if upright {
                    self.upright([c[0] + down, c[1] + half], line, kind);
                } else {
                    self.ink.text(c[0], c[1] + down, line.clone(), kind, Align::Centre);
                }
            }
            return true;
        }
        false
    }

    /// Lettering that reads from below upwards, its left end at a place.
    fn upright(&mut self, at: [f64; 2], text: &str, kind: Type) {
        let Type { height, weight, pen } = kind;
        let turn = std::f64::consts::FRAC_PI_2;
        self.ink.marks.push(Mark::Text { at, text: text.into(), height, weight, turn, pen });
    }

    /// Every edge on a tape along the foot and one along the left side.
    fn tapes(&mut self) {
        for axis in 0..2 {
            let marks = edges(self.sheet, axis);
            // Up the page y falls, so the order turns.
            let on_paper =
                |v: f64| if axis == 0 { self.at([v, 0.0])[0] } else { -self.at([0.0, v])[1] };
            let places: Vec<f64> = marks.iter().map(|v| on_paper(*v)).collect();
            // No figure stands beyond the sheet, where its name is.
            let most = on_paper([self.sheet.size.0, self.sheet.size.1][axis]);
            let spaced = spread_up_to(&places, &vec![2.5; places.len()], 0.7, most);
            let [left, foot] = self.at([0.0, 0.0]);
            for ((mark, place), text_at) in marks.iter().zip(&places).zip(&spaced) {
                let text = self.look.units.show(*mark);
                let wide = Type::SMALL.width(&text);
                if axis == 0 {
                    let tick = [[*place, foot], [*place, foot + 0.8], [*text_at, foot + 1.8]];
                    self.ink.line(tick, Pen::Dimension);
                    self.upright([text_at + 1.25, foot + TICK + wide], &text, Type::SMALL);
                } else {
                    let tick = [[left, -place], [left - 0.8, -place], [left - 1.8, -text_at]];
                    self.ink.line(tick, Pen::Dimension);
                    self.ink.text(left - TICK, -text_at + 1.25, text, Type::SMALL, Align::Right);
                }
            }
        }
    }
}

/// The area inside closed lines as upright strips with straight ends, so that anything can fill them.
fn strips(rings: &[Vec<[f64; 2]>]) -> Vec<[[f64; 2]; 4]> {
    let mut stations: Vec<f64> = rings.iter().flatten().map(|p| p[0]).collect();
    stations.sort_by(f64::total_cmp);
    stations.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    let mut strips = Vec::new();
    for pair in stations.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let middle = (from + to) / 2.0;
        let edges = rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)));
        let over = edges.filter(|(a, b)| (a[0] > middle) != (b[0] > middle));
        let mut heights: Vec<[f64; 3]> = over
            .map(|(a, b)| {
                let at = |x: f64| a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]);
                [at(middle), at(from), at(to)]
            })
            .collect();
        heights.sort_by(|a, b| a[0].total_cmp(&b[0]));
        for ends in heights.chunks_exact(2) {
            let ([_, a, b], [_, d, c]) = (ends[0], ends[1]);
            strips.push([[from, a], [to, b], [to, c], [from, d]]);
        }
    }
    strips
}

fn inside(a: Patch, b: Patch) -> bool {
    a.x > b.x - 0.1
        && a.y > b.y - 0.1
        && a.x + a.width < b.x + b.width + 0.1
        && a.y + a.length < b.y + b.length + 0.1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strips_cover_what_is_inside_the_lines() {
        let area = |strips: Vec<[[f64; 2]; 4]>| -> f64 {
            let one = |s: [[f64; 2]; 4]| {
                (s[1][0] - s[0][0]) * (s[3][1] - s[0][1] + s[2][1] - s[1][1]) / 2.0
            };
            strips.into_iter().map(one).sum()
        };
        let square =
            |x: f64, y: f64, w: f64, l: f64| vec![[x, y], [x + w, y], [x + w, y + l], [x, y + l]];
        // A U, and a board with a hole in it under a rake.
        let u = [[0.0, 0.0], [2.0, 0.0], [2.0, 20.0], [8.0, 20.0], [8.0, 0.0], [12.0, 0.0]];
        let u = [u.to_vec(), vec![[12.0, 24.0], [0.0, 24.0]]].concat();
        assert_eq!(area(strips(&[u])), 12.0 * 24.0 - 6.0 * 20.0);
        let rake = vec![[0.0, 0.0], [12.0, 0.0], [12.0, 24.0], [0.0, 18.0]];
        let got = area(strips(&[rake, square(3.0, 5.0, 4.0, 6.0)]));
        assert!((got - (12.0 * 21.0 - 24.0)).abs() < 1e-9, "{got}");
    }
}
