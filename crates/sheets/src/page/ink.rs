//! What is on a page: paths and lettering in millimetres from its top left corner.

use layout_core::math::SAME;

use crate::lettering::Weight;
use crate::picture::{Align, Fill, Lettering, Pen, Picture, Rect, Shape};
use crate::theme;

/// One thing on a page. x runs right and y *down*, millimetres from the top left corner of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line, or a convex area.
    Path {
        /// Its points.
        points: Vec<[f64; 2]>,
        /// True when the last point joins the first.
        closed: bool,
        /// Its line; [`Pen::None`] for none.
        pen: Pen,
        /// What fills it, when it is closed. Hatches are marks of their own.
        fill: Fill,
    },
    /// The lines of a hatch.
    Hatch {
        /// Its lines, from point to point.
        lines: Vec<[[f64; 2]; 2]>,
    },
    /// A line of lettering.
    Text {
        /// Left end of its baseline.
        at: [f64; 2],
        /// The text.
        text: String,
        /// Height of its capitals, mm.
        height: f64,
        /// Regular or bold.
        weight: Weight,
        /// Turned anticlockwise as it is seen, radians.
        turn: f64,
        /// Its colour.
        pen: Pen,
    },
}

impl Mark {
    /// What it covers.
    pub fn bounds(&self) -> Rect {
        match self {
            Mark::Path { points, .. } => Rect::round(points.iter().copied()),
            Mark::Hatch { lines } => Rect::round(lines.iter().flatten().copied()),
            Mark::Text { at, text, height, weight, turn, .. } => {
                let width = weight.width(text, *height);
                let (sin, cos) = turn.sin_cos();
                let corner =
                    |x: f64, up: f64| [at[0] + x * cos - up * sin, at[1] - x * sin - up * cos];
                let (low, high) = (-0.33 * height, 1.05 * height);
                Rect::round([
                    corner(0.0, low),
                    corner(width, low),
                    corner(width, high),
                    corner(0.0, high),
                ])
            }
        }
    }

    fn moved(self, dx: f64, dy: f64) -> Mark {
        let shift = |[x, y]: [f64; 2]| [x + dx, y + dy];
        match self {
            Mark::Path { points, closed, pen, fill } => {
                Mark::Path { points: points.into_iter().map(shift).collect(), closed, pen, fill }
            }
            Mark::Hatch { lines } => {
                Mark::Hatch { lines: lines.into_iter().map(|l| l.map(shift)).collect() }
            }
            Mark::Text { at, text, height, weight, turn, pen } => {
                Mark::Text { at: shift(at), text, height, weight, turn, pen }
            }
        }
    }
}

/// Lettering for a page, at a height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// Height of capitals, mm.
    pub height: f64,
    /// Regular or bold.
    pub weight: Weight,
    /// Its colour.
    pub pen: Pen,
}

impl Type {
    /// 2.5 mm.
    pub const SMALL: Type = Type { height: 2.5, weight: Weight::Regular, pen: Pen::Text };
    /// 2.5 mm, of less weight.
    pub const QUIET: Type = Type { pen: Pen::Quiet, ..Type::SMALL };
    /// 2.5 mm, bold.
    pub const STRONG: Type = Type { weight: Weight::Bold, ..Type::SMALL };
    /// 3.5 mm.
    pub const NORMAL: Type = Type { height: 3.5, ..Type::SMALL };
    /// 3.5 mm, bold: headings.
    pub const HEADING: Type = Type { height: 3.5, weight: Weight::Bold, pen: Pen::Text };

    /// How wide `text` comes out, mm.
    pub fn width(self, text: &str) -> f64 {
        self.weight.width(text, self.height)
    }

    /// `text` in lines no wider than `width`. A word that is too long on its own is broken.
    pub fn wrap(self, text: &str, width: f64) -> Vec<String> {
        let mut lines = Vec::new();
        for paragraph in text.lines() {
            let mut line = String::new();
            // Not at the spaces that hold the thousands of a figure together.
            for word in paragraph.split(' ').filter(|word| !word.is_empty()) {
                let longer =
                    if line.is_empty() { word.to_string() } else { format!("{line} {word}") };
                if self.width(&longer) <= width {
                    line = longer;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                for c in word.chars() {
                    line.push(c);
                    if line.chars().count() > 1 && self.width(&line) > width {
                        line.pop();
                        lines.push(std::mem::replace(&mut line, c.to_string()));
                    }
                }
            }
            lines.push(line);
        }
        lines
    }

    /// `text`, cut short with an ellipsis when it is wider than `width`.
    pub fn fit(self, text: &str, width: f64) -> String {
        if self.width(text) <= width {
            return text.to_string();
        }
        let mut short: String = text.to_string();
        while short.pop().is_some() {
            let cut = format!("{}…", short.trim_end());
            if self.width(&cut) <= width {
                return cut;
            }
        }
        String::new()
    }
}

/// Marks being gathered for a page or a part of one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ink {
    /// The marks, the later over the earlier.
    pub marks: Vec<Mark>,
}

impl Ink {
    /// A line through `points`.
    pub fn line(&mut self, points: impl Into<Vec<[f64; 2]>>, pen: Pen) {
        self.marks.push(Mark::Path { points: points.into(), closed: false, pen, fill: Fill::None });
    }

    /// An upright rectangle.
    pub fn rect(&mut self, rect: Rect, pen: Pen, fill: Fill) {
        let ([x0, y0], [x1, y1]) = (rect.min, rect.max);
        self.area(vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]], pen, fill);
    }

    /// A convex area, with the hatch of its fill.
    pub fn area(&mut self, points: Vec<[f64; 2]>, pen: Pen, fill: Fill) {
        let hatch = theme::hatch(fill).map(|h| hatched(&points, h));
        match hatch {
            Some(lines) if !lines.is_empty() => {
                self.marks.push(Mark::Path {
                    points: points.clone(),
                    closed: true,
                    pen: Pen::None,
                    fill,
                });
                self.marks.push(Mark::Hatch { lines });
                if pen != Pen::None {
                    self.marks.push(Mark::Path { points, closed: true, pen, fill: Fill::None });
                }
            }
            _ => self.marks.push(Mark::Path { points, closed: true, pen, fill }),
        }
    }

    /// A line of lettering with its baseline at `y`; `x` is its left end, middle or right end.
    pub fn text(&mut self, x: f64, y: f64, text: impl Into<String>, kind: Type, align: Align) {
        let text = text.into();
        if text.is_empty() {
            return;
        }
        let width = kind.width(&text);
        let left = match align {
            Align::Left => x,
            Align::Centre => x - width / 2.0,
            Align::Right => x - width,
        };
        let Type { height, weight, pen } = kind;
        self.marks.push(Mark::Text { at: [left, y], text, height, weight, turn: 0.0, pen });
    }

    /// Everything of `other`, moved.
    pub fn put(&mut self, other: Ink, dx: f64, dy: f64) {
        self.marks.extend(other.marks.into_iter().map(|m| m.moved(dx, dy)));
    }

    /// A picture at `scale`, with its origin (model 0, 0) at `origin` on the page.
    pub fn picture(&mut self, picture: &Picture, scale: f64, origin: [f64; 2]) {
        let place = |[x, y]: [f64; 2]| [origin[0] + x, origin[1] - y];
        for item in &picture.items {
            let points = |points: &[crate::picture::At]| -> Vec<[f64; 2]> {
                points.iter().map(|p| place(p.on_paper(scale))).collect()
            };
            match &item.shape {
                Shape::Line(p) => self.line(points(p), item.pen),
                Shape::Area(p) => {
                    if item.pen != Pen::None || item.fill != Fill::None {
                        self.area(points(p), item.pen, item.fill);
                    }
                }
                Shape::Arc { centre, radius, from, to } => {
                    let arc = circle(centre.on_paper(scale), radius / scale, *from, *to);
                    self.line(arc.into_iter().map(place).collect::<Vec<_>>(), item.pen);
                }
                Shape::Dot { at, radius } => {
                    let ring = circle(at.on_paper(scale), *radius, 0.0, std::f64::consts::TAU);
                    let ring = ring.into_iter().skip(1).map(place).collect();
                    self.marks.push(Mark::Path {
                        points: ring,
                        closed: true,
                        pen: item.pen,
                        fill: item.fill,
                    });
                }
                Shape::Text { at, text, size, align, turn } => {
                    let height = size.height();
                    let weight =
                        if *size == Lettering::Large { Weight::Bold } else { Weight::Regular };
                    let width = weight.width(text, height);
                    let back = match align {
                        Align::Left => 0.0,
                        Align::Centre => width / 2.0,
                        Align::Right => width,
                    };
                    let (sin, cos) = turn.sin_cos();
                    let [x, y] = at.on_paper(scale);
                    let down = height / 2.0;
                    let at = place([x - back * cos + down * sin, y - back * sin - down * cos]);
                    let (text, turn) = (text.clone(), *turn);
                    self.marks.push(Mark::Text { at, text, height, weight, turn, pen: item.pen });
                }
            }
        }
    }

    /// What of it lies inside `rect`. Lines and areas are cut off at its edges; lettering is there as a
    /// whole or not at all.
    #[must_use]
    pub fn clipped(&self, rect: Rect) -> Ink {
        let mut ink = Ink::default();
        for mark in &self.marks {
            let covered = mark.bounds();
            if rect.covers(covered) {
                ink.marks.push(mark.clone());
                continue;
            }
            let is_apart =
                (0..2).any(|i| covered.max[i] < rect.min[i] || rect.max[i] < covered.min[i]);
            match mark {
                _ if is_apart => {}
                Mark::Path { points, closed, pen, fill } => {
                    let area =
                        if *fill == Fill::None { Vec::new() } else { clipped_area(points, rect) };
                    if area.len() > 2 {
                        ink.marks.push(Mark::Path {
                            points: area,
                            closed: true,
                            pen: Pen::None,
                            fill: *fill,
                        });
                    }
                    // The cut itself is no edge, so what is left of an outline is lines.
                    let ends = if *closed { points.len() } else { points.len().saturating_sub(1) };
                    for i in (0..ends).filter(|_| *pen != Pen::None) {
                        let line = clipped_line(points[i], points[(i + 1) % points.len()], rect);
                        if let Some(line) = line {
                            ink.line(line, *pen);
                        }
                    }
                }
                Mark::Hatch { lines } => {
                    let lines =
                        lines.iter().filter_map(|[p, q]| clipped_line(*p, *q, rect)).collect();
                    ink.marks.push(Mark::Hatch { lines });
                }
                Mark::Text { .. } => {}
            }
        }
        ink
    }

    /// What all of it covers; `None` when there is nothing.
    pub fn bounds(&self) -> Option<Rect> {
        self.marks.iter().map(Mark::bounds).reduce(Rect::join)
    }
}

/// The part of a convex outline inside `rect`, given either way round: one edge of the rectangle after
/// another cuts off what is beyond it.
fn clipped_area(outline: &[[f64; 2]], rect: Rect) -> Vec<[f64; 2]> {
    let mut points = outline.to_vec();
    for axis in 0..2 {
        for (limit, sign) in [(rect.min[axis], 1.0), (rect.max[axis], -1.0)] {
            let depth = |p: [f64; 2]| (p[axis] - limit) * sign;
            let mut kept = Vec::with_capacity(points.len() + 1);
            for (i, &p) in points.iter().enumerate() {
                let q = points[(i + 1) % points.len()];
                if depth(p) >= 0.0 {
                    kept.push(p);
                }
                if (depth(p) >= 0.0) != (depth(q) >= 0.0) {
                    kept.push(between(p, q, depth(p) / (depth(p) - depth(q))));
                }
            }
            points = kept;
        }
    }
    points
}

/// The part of the line from `p` to `q` inside `rect`; `None` when there is none.
fn clipped_line(p: [f64; 2], q: [f64; 2], rect: Rect) -> Option<[[f64; 2]; 2]> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        for (limit, sign) in [(rect.min[axis], 1.0), (rect.max[axis], -1.0)] {
            let (a, b) = ((p[axis] - limit) * sign, (q[axis] - limit) * sign);
            if a < 0.0 && b < 0.0 {
                return None;
            }
            if (a < 0.0) != (b < 0.0) {
                let t = a / (a - b);
                if a < 0.0 { from = from.max(t) } else { to = to.min(t) }
            }
        }
    }
    (from <= to).then(|| [between(p, q, from), between(p, q, to)])
}

fn between(p: [f64; 2], q: [f64; 2], t: f64) -> [f64; 2] {
    [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]
}

/// Points round a circle, near enough that the eye sees no corners: chords stray by 0.02 mm at most.
fn circle(centre: [f64; 2], radius: f64, from: f64, to: f64) -> Vec<[f64; 2]> {
    let step = 2.0 * (1.0 - (0.02 / radius.max(0.04)).min(0.5)).acos();
    let count = ((to - from).abs() / step).ceil().clamp(4.0, 720.0) as u32;
    (0..=count)
        .map(|i| {
            let angle = from + (to - from) * f64::from(i) / f64::from(count);
            [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()]
        })
        .collect()
}

/// The lines of a hatch that fall inside a convex outline, given either way round.
pub(crate) fn hatched(outline: &[[f64; 2]], hatch: theme::Hatch) -> Vec<[[f64; 2]; 2]> {
    let (sin, cos) = hatch.angle.to_radians().sin_cos();
    // Along and across the lines of the hatch; the page's y runs down.
    let (along, across) = ([cos, -sin], [sin, cos]);
    let dot = |a: [f64; 2], b: [f64; 2]| a[0] * b[0] + a[1] * b[1];
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for p in outline {
        low = low.min(dot(*p, across));
        high = high.max(dot(*p, across));
    }
    if !(high - low).is_finite() {
        return Vec::new();
    }
    let first = (low / hatch.spacing).ceil() as i64;
    let last = (high / hatch.spacing).floor() as i64;
    (first..=last.min(first + 4000))
        .filter_map(|k| {
            let level = k as f64 * hatch.spacing;
            let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
            for (i, p) in outline.iter().enumerate() {
                let q = outline[(i + 1) % outline.len()];
                let (a, b) = (dot(*p, across) - level, dot(q, across) - level);
                if (a < 0.0) != (b < 0.0) {
                    let t = a / (a - b);
                    let s = dot(*p, along) * (1.0 - t) + dot(q, along) * t;
                    from = from.min(s);
                    to = to.max(s);
                }
            }
            let point =
                |s: f64| [along[0] * s + across[0] * level, along[1] * s + across[1] * level];
            (to - from > SAME).then(|| [point(from), point(to)])
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hatch_stays_inside_its_outline() {
        let square = vec![[10.0, 10.0], [30.0, 10.0], [30.0, 20.0], [10.0, 20.0]];
        let lines = hatched(&square, theme::Hatch { angle: 45.0, spacing: 2.0 });
        assert!((9..=12).contains(&lines.len()), "{}", lines.len());
        let inside = Rect::new(10.0, 10.0, 20.0, 10.0);
        assert!(inside.covers(Rect::round(lines.iter().flatten().copied())));
        // Up to the right, as it is seen.
        let [a, b] = lines[5];
        assert!((b[0] - a[0]) * (b[1] - a[1]) < 0.0, "{a:?} {b:?}");
    }

    #[test]
    fn what_is_cut_off_stays_inside() {
        let mut ink = Ink::default();
        ink.area(
            vec![[-5.0, 2.0], [15.0, 2.0], [15.0, 8.0], [-5.0, 8.0]],
            Pen::Outline,
            Fill::Existing,
        );
        ink.line([[-5.0, -5.0], [20.0, 20.0]], Pen::Thin);
        ink.line([[-5.0, 5.0], [-1.0, 5.0]], Pen::Thin);
        ink.text(8.0, 5.0, "too wide", Type::SMALL, Align::Left);
        let rect = Rect::new(0.0, 0.0, 10.0, 10.0);
        let part = ink.clipped(rect);
        assert!(rect.covers(part.bounds().unwrap()));
        let is_text = |m: &Mark| matches!(m, Mark::Text { .. });
        assert!(!part.marks.iter().any(is_text));
        let lines: Vec<_> = part
            .marks
            .iter()
            .filter_map(|m| match m {
                Mark::Path { points, pen: Pen::Outline | Pen::Thin, .. } => Some(points.clone()),
                _ => None,
            })
            .collect();
        assert_eq!(
            lines,
            [
                vec![[0.0, 2.0], [10.0, 2.0]],
                vec![[10.0, 8.0], [0.0, 8.0]],
                vec![[0.0, 0.0], [10.0, 10.0]]
            ]
        );
    }

    #[test]
    fn text_is_wrapped_and_cut_to_width() {
        let lines = Type::SMALL.wrap("Check every size on site before cutting", 30.0);
        assert!(
            lines.len() >= 3 && lines.iter().all(|l| Type::SMALL.width(l) <= 30.0),
            "{lines:?}"
        );
        let lines = Type::SMALL.wrap("Donaudampfschifffahrtsgesellschaft", 20.0);
        assert!(
            lines.len() >= 2 && lines.concat() == "Donaudampfschifffahrtsgesellschaft",
            "{lines:?}"
        );
        assert!(Type::SMALL.fit("a long enough title", 15.0).ends_with('…'));
        assert_eq!(Type::SMALL.fit("short", 15.0), "short");
    }

    #[test]
    fn lettering_of_a_picture_keeps_its_middle() {
        let mut picture = Picture::default();
        picture.label(crate::picture::Label::new(crate::picture::At::model(0.0, 0.0), "HHHH"));
        let mut ink = Ink::default();
        ink.picture(&picture, 20.0, [100.0, 50.0]);
        let Mark::Text { at, .. } = &ink.marks[0] else { panic!() };
        assert!((at[0] + Type::NORMAL.width("HHHH") / 2.0 - 100.0).abs() < 1e-9);
        assert!((at[1] - 1.75 - 50.0).abs() < 1e-9);
    }
}
