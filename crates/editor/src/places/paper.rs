//! A page of the prints on the screen, mark for mark as it is written to file.

use egui::epaint::TextShape;
use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use sheets::lettering::{CAPITAL, Weight};
use sheets::page::{Mark, Page};
use sheets::picture::{Fill, Pen};
use sheets::theme;

use crate::theme::{Theme, bold};

/// Lines thinner than this on the screen are drawn this thin, points.
const THINNEST: f32 = 0.6;
/// Lettering smaller than this on the screen cannot be read and is drawn as a line, points.
const LEAST_TYPE: f32 = 3.0;

/// Draws `page` into `sheet`, whose shape is the page's.
pub fn paint(painter: &Painter, page: &Page, sheet: Rect, look: &Theme) {
    painter.rect_filled(sheet, 0.0, look.print);
    painter.rect_stroke(sheet, 0.0, Stroke::new(1.0, look.rule), egui::StrokeKind::Outside);
    let view = Glass {
        sheet,
        scale: sheet.width() / page.width.max(1.0) as f32,
        painter: &painter.with_clip_rect(sheet.intersect(painter.clip_rect())),
        look,
    };
    for mark in &page.ink.marks {
        view.mark(mark);
    }
}

/// The page as it lies on the screen.
struct Glass<'a> {
    sheet: Rect,
    /// Points to a millimetre of paper.
    scale: f32,
    painter: &'a Painter,
    look: &'a Theme,
}

impl Glass<'_> {
    fn at(&self, [x, y]: [f64; 2]) -> Pos2 {
        self.sheet.min + vec2(x as f32, y as f32) * self.scale
    }

    fn colour(&self, [r, g, b]: theme::Colour) -> Color32 {
        // Paper is not pure white in every look; white areas take its colour.
        if [r, g, b] == [255, 255, 255] { self.look.print } else { Color32::from_rgb(r, g, b) }
    }

    fn stroke(&self, stroke: &theme::Stroke) -> Stroke {
        Stroke::new((stroke.width as f32 * self.scale).max(THINNEST), self.colour(stroke.colour))
    }

    fn mark(&self, mark: &Mark) {
        match mark {
            Mark::Path { points, closed, pen, fill } => self.path(points, *closed, *pen, *fill),
            Mark::Hatch { lines } => {
                let stroke = self.stroke(&theme::hatch_stroke());
                for line in lines {
                    self.painter.line_segment(line.map(|p| self.at(p)), stroke);
                }
            }
            Mark::Text { at, text, height, weight, turn, pen } => {
                self.text(*at, text, *height, *weight, *turn, *pen);
            }
        }
    }

    fn path(&self, points: &[[f64; 2]], closed: bool, pen: Pen, fill: Fill) {
        let points: Vec<Pos2> = points.iter().map(|p| self.at(*p)).collect();
        if closed && let Some(tint) = theme::tint(fill) {
            self.painter.add(Shape::convex_polygon(
                points.clone(),
                self.colour(tint),
                Stroke::NONE,
            ));
        }
        let Some(line) = theme::stroke(pen) else { return };
        let stroke = self.stroke(&line);
        if line.dash.is_empty() {
            let shape = if closed {
                Shape::closed_line(points, stroke)
            } else {
                Shape::line(points, stroke)
            };
            self.painter.add(shape);
            return;
        }
        let mut points = points;
        if closed && let Some(first) = points.first().copied() {
            points.push(first);
        }
        let part = |from: usize| -> Vec<f32> {
            line.dash
                .iter()
                .skip(from)
                .step_by(2)
                .map(|mm| (*mm as f32 * self.scale).max(1.0))
                .collect()
        };
        self.painter.extend(Shape::dashed_line_with_offset(
            &points,
            stroke,
            &part(0),
            &part(1),
            0.0,
        ));
    }

    fn text(&self, at: [f64; 2], text: &str, height: f64, weight: Weight, turn: f64, pen: Pen) {
        let size = (height / CAPITAL) as f32 * self.scale;
        let colour = self.colour(theme::lettering(pen));
        let at = self.at(at);
        let angle = -turn as f32;
        if size < LEAST_TYPE {
            let width = weight.width(text, height) as f32 * self.scale;
            let along = egui::emath::Rot2::from_angle(angle);
            let up = along * vec2(0.0, -0.3 * size);
            let ends = [at + up, at + up + along * vec2(width, 0.0)];
            self.painter.line_segment(ends, Stroke::new(0.5, colour.gamma_multiply(0.5)));
            return;
        }
        let font = match weight {
            Weight::Regular => FontId::proportional(size),
            Weight::Bold => FontId::new(size, bold()),
        };
        let galley = self.painter.layout_no_wrap(text.to_string(), font, colour);
        let base = galley
            .rows
            .first()
            .map_or(0.0, |row| row.pos.y + row.glyphs.first().map_or(0.0, |g| g.pos.y));
        let down = egui::emath::Rot2::from_angle(angle) * vec2(0.0, base);
        self.painter.add(
            TextShape::new(pos2(at.x - down.x, at.y - down.y), galley, colour).with_angle(angle),
        );
    }
}
