//! Paints a picture on the screen. It knows pens and fills, and nothing of what they are of beyond
//! whether the hand is on it.

use std::f32::consts::TAU;

use egui::epaint::{Mesh, PathShape, PathStroke, TextShape, Vertex, WHITE_UV};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape as Ink, Stroke, Vec2, vec2};
use layout_core::id::ItemRef;
use sheets::picture::{Align, Fill, Item, Lettering, Pen, Picture, Shape};

use super::eye::Sight;
use crate::theme::{Theme, bold_font, font};

/// How much something stands out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Emphasis {
    /// As drawn.
    #[default]
    None,
    /// The pointer is on it.
    Hovered,
    /// It is picked.
    Picked,
}

/// What is smaller than this both ways is not painted, points: from far off a stud is a speck.
const FINEST: f32 = 1.2;

/// Paints `picture`; `emphasis` says what stands out, and nothing is written where it is `taken`.
pub fn paint(
    painter: &Painter,
    sight: &Sight,
    picture: &Picture,
    theme: &Theme,
    mut taken: Vec<Rect>,
    emphasis: impl Fn(&ItemRef) -> Emphasis,
) {
    let mut lettering = Vec::new();
    let clip = painter.clip_rect();
    let shows = |points: &[Pos2], stands_out: Emphasis| {
        let covers = bounds(points);
        let fine = covers.width().max(covers.height()) < FINEST && stands_out == Emphasis::None;
        !fine && clip.intersects(covers)
    };
    for item in &picture.items {
        let stands_out = item.of.as_ref().map(&emphasis).unwrap_or_default();
        let stroke = pen(theme, item, stands_out);
        match &item.shape {
            Shape::Line(points) => {
                let points: Vec<Pos2> = points.iter().map(|p| sight.at(*p)).collect();
                if shows(&points, stands_out) {
                    line(painter, points, item.pen, stroke);
                }
            }
            Shape::Area(points) => {
                let points: Vec<Pos2> = points.iter().map(|p| sight.at(*p)).collect();
                if shows(&points, stands_out) {
                    area(painter, points, fill(theme, item.fill, stands_out), item.pen, stroke);
                }
            }
            Shape::Arc { centre, radius, from, to } => {
                let (c, r) = (sight.at(*centre), (radius * sight.eye.zoom) as f32);
                let (from, to) = (*from as f32, *to as f32);
                if clip.intersects(Rect::from_center_size(c, Vec2::splat(2.0 * r))) {
                    line(painter, arc(c, r, from, to), item.pen, stroke);
                }
            }
            Shape::Dot { at, radius } => {
                let r = (radius * super::eye::PX_PER_PAPER_MM) as f32;
                painter.circle(sight.at(*at), r, fill(theme, item.fill, stands_out), stroke);
            }
            Shape::Text { at, text, size, align, turn } => {
                let at = sight.at(*at);
                if clip.expand(200.0).contains(at) {
                    let anchor = match align {
                        Align::Left => Align2::LEFT_CENTER,
                        Align::Centre => Align2::CENTER_CENTER,
                        Align::Right => Align2::RIGHT_CENTER,
                    };
                    let ink = text_colour(theme, item.pen, stands_out);
                    let line = Written { at, text, size: *size, anchor, turn: *turn as f32, ink };
                    lettering.push((stands_out, line));
                }
            }
        }
    }
    // Where two would be written over each other, what stands out and what is large stays.
    lettering.sort_by_key(|(stands_out, line)| std::cmp::Reverse((*stands_out, line.size)));
    for (_, line) in lettering {
        line.write(painter, &mut taken);
    }
}

/// One line of lettering, ready to be written.
struct Written<'a> {
    at: Pos2,
    text: &'a str,
    size: Lettering,
    anchor: Align2,
    turn: f32,
    ink: Color32,
}

/// The font of a height of lettering on screen: never below 11 points.
pub(super) fn lettering(size: Lettering) -> FontId {
    match size {
        Lettering::Small => font(11.0),
        Lettering::Normal => font(12.5),
        Lettering::Large => bold_font(14.5),
    }
}

fn pen(theme: &Theme, item: &Item, emphasis: Emphasis) -> Stroke {
    let plain = theme.pen(item.pen);
    match emphasis {
        _ if item.pen == Pen::None => Stroke::NONE,
        Emphasis::None => plain,
        Emphasis::Hovered => Stroke::new(plain.width.max(1.4), theme.accent),
        Emphasis::Picked => Stroke::new(plain.width.max(1.2) + 0.5, theme.accent),
    }
}

fn fill(theme: &Theme, fill: Fill, emphasis: Emphasis) -> Color32 {
    match (fill, emphasis) {
        (Fill::None | Fill::Paper, _) | (_, Emphasis::None) => theme.fill(fill),
        (_, Emphasis::Hovered) => theme.fill(fill).lerp_to_gamma(theme.accent_tint, 0.6),
        (_, Emphasis::Picked) => theme.accent_tint,
    }
}

fn text_colour(theme: &Theme, pen: Pen, emphasis: Emphasis) -> Color32 {
    if emphasis == Emphasis::None { theme.pen(pen).color } else { theme.accent }
}

fn line(painter: &Painter, points: Vec<Pos2>, pen: Pen, stroke: Stroke) {
    if stroke.is_empty() || points.len() < 2 {
        return;
    }
    match Theme::dash(pen) {
        None => {
            painter.add(Ink::line(points, stroke));
        }
        Some(pattern) => {
            let dashes: Vec<f32> = pattern.iter().copied().step_by(2).collect();
            let gaps: Vec<f32> = pattern.iter().copied().skip(1).step_by(2).collect();
            painter.extend(Ink::dashed_line_with_offset(&points, stroke, &dashes, &gaps, 0.0));
        }
    }
}

fn area(painter: &Painter, mut points: Vec<Pos2>, fill: Color32, pen: Pen, stroke: Stroke) {
    points.dedup();
    if points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    if points.len() < 3 {
        return;
    }
    if fill.a() > 0 {
        if is_convex(&points) {
            painter.add(PathShape::convex_polygon(points.clone(), fill, PathStroke::NONE));
        } else {
            painter.add(Ink::mesh(filled(&points, fill)));
        }
    }
    if Theme::dash(pen).is_some() {
        points.push(points[0]);
        line(painter, points, pen, stroke);
    } else if !stroke.is_empty() {
        painter.add(Ink::closed_line(points, stroke));
    }
}

impl Written<'_> {
    /// Writes it unless it would lie over what is `taken`: nobody could read either.
    fn write(&self, painter: &Painter, taken: &mut Vec<Rect>) {
        let galley = painter.layout_no_wrap(self.text.to_owned(), lettering(self.size), self.ink);
        // egui turns clockwise, pictures anticlockwise.
        let turn = -self.turn;
        let size = galley.size();
        let offset = self.anchor.pos_in_rect(&Rect::from_min_size(Pos2::ZERO, size)).to_vec2();
        let spin = egui::emath::Rot2::from_angle(turn);
        let corner = self.at - spin * offset;
        let corners =
            [vec2(0.0, 0.0), vec2(size.x, 0.0), size, vec2(0.0, size.y)].map(|v| corner + spin * v);
        let covers = bounds(&corners).shrink(2.0);
        if taken.iter().all(|r| !r.intersects(covers)) {
            taken.push(covers);
            painter.add(TextShape::new(corner, galley, self.ink).with_angle(turn));
        }
    }
}

/// Points along part of a circle, anticlockwise from `from` to `to` radians as seen on screen.
pub(super) fn arc(centre: Pos2, radius: f32, from: f32, to: f32) -> Vec<Pos2> {
    let turn = if to < from { to + TAU - from } else { to - from };
    let steps = ((radius * turn.abs() / 6.0).ceil() as usize).clamp(8, 96);
    (0..=steps)
        .map(|i| {
            let a = from + turn * i as f32 / steps as f32;
            centre + vec2(a.cos(), -a.sin()) * radius
        })
        .collect()
}

/// The box round some points of the screen.
pub(super) fn bounds(points: &[Pos2]) -> Rect {
    let mut rect = Rect::NOTHING;
    points.iter().for_each(|p| rect.extend_with(*p));
    rect
}

fn turn(a: Pos2, b: Pos2, c: Pos2) -> f32 {
    let (p, q) = (b - a, c - b);
    p.x * q.y - p.y * q.x
}

fn is_convex(points: &[Pos2]) -> bool {
    let n = points.len();
    let turns = || (0..n).map(|i| turn(points[i], points[(i + 1) % n], points[(i + 2) % n]));
    turns().all(|t| t >= -0.01) || turns().all(|t| t <= 0.01)
}

/// The inside of a closed outline, in triangles, cut off ear by ear.
fn filled(points: &[Pos2], fill: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    mesh.vertices.extend(points.iter().map(|&pos| Vertex { pos, uv: WHITE_UV, color: fill }));
    let area: f32 = (0..points.len())
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % points.len()]);
            a.x * b.y - b.x * a.y
        })
        .sum();
    let mut left: Vec<usize> = (0..points.len()).collect();
    if area < 0.0 {
        left.reverse();
    }
    while left.len() > 2 {
        let n = left.len();
        let ear = (0..n).find(|&i| {
            let [a, b, c] = [left[i], left[(i + 1) % n], left[(i + 2) % n]];
            let corner = [points[a], points[b], points[c]];
            turn(corner[0], corner[1], corner[2]) >= 0.0
                && left
                    .iter()
                    .all(|&p| p == a || p == b || p == c || !in_triangle(points[p], corner))
        });
        // An outline that crosses itself has no clean ear; what is left of it stays open.
        let Some(i) = ear else { break };
        mesh.add_triangle(left[i] as u32, left[(i + 1) % n] as u32, left[(i + 2) % n] as u32);
        left.remove((i + 1) % n);
    }
    mesh
}

fn in_triangle(p: Pos2, [a, b, c]: [Pos2; 3]) -> bool {
    turn(a, b, p) > 0.0 && turn(b, c, p) > 0.0 && turn(c, a, p) > 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    #[test]
    fn an_l_shaped_room_is_filled_once_all_over() {
        let l = [(0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0)]
            .map(|(x, y)| pos2(x, y));
        assert!(!is_convex(&l));
        for outline in [l.to_vec(), l.iter().rev().copied().collect()] {
            let mesh = filled(&outline, Color32::RED);
            let area: f32 = mesh
                .indices
                .chunks(3)
                .map(|t| {
                    let [a, b, c] = [0, 1, 2].map(|i| mesh.vertices[t[i] as usize].pos);
                    turn(a, b, c).abs() / 2.0
                })
                .sum();
            assert!((area - (60.0 * 20.0 + 20.0 * 30.0)).abs() < 0.01, "{area}");
        }
    }

    #[test]
    fn an_arc_runs_anticlockwise() {
        let quarter = arc(Pos2::ZERO, 100.0, 0.0, TAU / 4.0);
        let (first, last) = (quarter[0], quarter[quarter.len() - 1]);
        assert!((first - pos2(100.0, 0.0)).length() < 0.01);
        assert!((last - pos2(0.0, -100.0)).length() < 0.01, "up on screen is minus y");
    }
}
