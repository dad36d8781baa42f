//! The measured room over the plan: its shape dashed, its corners numbered, and at each tape what
//! it is out by.

use egui::{Align2, Color32, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use layout_core::document::Measured;
use layout_core::math::PlanPoint;
use layout_core::units::Units;

use super::Measuring;
use super::eye::Sight;
use crate::panels::particulars::signed;
use crate::theme::{Theme, bold_font, font};

/// Paints it.
pub(super) fn paint(
    painter: &Painter,
    sight: &Sight,
    (theme, job_units): (&Theme, Units),
    measuring: &Measuring,
) {
    let Some(solved) = &measuring.solved else { return };
    let place = |p: PlanPoint| sight.screen(p.x, p.y);
    let corners: Vec<Pos2> = solved.corners.iter().map(|c| place(c.at)).collect();
    let middle = corners.iter().fold(egui::Vec2::ZERO, |sum, p| sum + p.to_vec2())
        / corners.len().max(1) as f32;
    let mut labels = Labels { taken: corner_boxes(&corners, middle.to_pos2()) };
    for (i, line) in measuring.survey.rows.iter().enumerate() {
        let Some(tape) = tape(measuring, &line.what, &corners) else { continue };
        let typing = measuring.row == Some(i);
        let side = match &line.what {
            Measured::Between { from, to } => measuring.survey.is_side(from, to),
            _ => false,
        };
        let stroke = Stroke::new(if typing { 2.2 } else { 1.0 }, theme.accent);
        if typing {
            painter.line_segment(tape, stroke);
        } else if !side {
            let faint = Stroke::new(0.8, theme.accent.gamma_multiply(0.55));
            painter.extend(Shape::dashed_line(&tape, faint, 2.0, 5.0));
        }
    }
    let mut round = corners.clone();
    round.extend(corners.first().copied());
    painter.extend(Shape::dashed_line(&round, Stroke::new(1.8, theme.accent), 9.0, 5.0));
    // What is suspect is written first, then what is furthest out.
    let mut order: Vec<usize> = (0..measuring.survey.rows.len()).collect();
    let out = |i: &usize| solved.readings[*i].residual.map_or(-1.0, f64::abs);
    order.sort_by(|a, b| {
        let suspect = |i: &usize| solved.suspects.contains(i);
        suspect(b).cmp(&suspect(a)).then(out(b).total_cmp(&out(a)))
    });
    let named = solved.suspects.len() <= 3;
    for i in order {
        let line = &measuring.survey.rows[i];
        let units = match line.what {
            Measured::Square { .. } => Units::Millimetres,
            _ => job_units,
        };
        let Some(tape) = tape(measuring, &line.what, &corners) else { continue };
        let suspect = named && solved.suspects.contains(&i);
        let (words, ink) = match solved.readings[i].residual {
            Some(out) if suspect => (format!("⚠ {}", signed(units, out)), theme.stop),
            Some(out) => (signed(units, out), theme.accent),
            None => ("?".to_string(), theme.accent),
        };
        labels.write(painter, theme, tape, &words, ink, suspect);
    }
    for (corner, at) in solved.corners.iter().zip(&corners) {
        let rect = corner_box(*at, middle.to_pos2());
        painter.circle(*at, 3.5, theme.sheet, Stroke::new(1.4, theme.accent));
        painter.rect_filled(rect, 8.0, theme.accent);
        let centre = rect.center();
        let name = corner.name.as_str();
        painter.text(centre, Align2::CENTER_CENTER, name, bold_font(12.0), theme.on_accent);
    }
}

/// Where a corner's number is written: outside the room.
fn corner_box(at: Pos2, middle: Pos2) -> Rect {
    let out = at - middle;
    let out = if out.length() > 0.0 { out.normalized() } else { vec2(0.0, -1.0) };
    Rect::from_center_size(at + out * 17.0, vec2(18.0, 17.0))
}

fn corner_boxes(corners: &[Pos2], middle: Pos2) -> Vec<Rect> {
    corners.iter().map(|p| corner_box(*p, middle)).collect()
}

/// The line a measurement lies along on the screen.
fn tape(measuring: &Measuring, what: &Measured, corners: &[Pos2]) -> Option<[Pos2; 2]> {
    let survey = &measuring.survey;
    let at = |name| survey.index(name).and_then(|i| corners.get(i).copied());
    match what {
        Measured::Between { from, to } => Some([at(from)?, at(to)?]),
        Measured::Offset { corner, from, to, .. } => {
            let (p, a, b) = (at(corner)?, at(from)?, at(to)?);
            let along = b - a;
            let share =
                if along.length_sq() > 0.0 { (p - a).dot(along) / along.length_sq() } else { 0.0 };
            Some([p, a + along * share])
        }
        Measured::Square { corner } => {
            let p = at(corner)?;
            let i = survey.index(corner)?;
            let n = corners.len();
            let (a, b) = (corners[(i + n - 1) % n] - p, corners[(i + 1) % n] - p);
            let inwards = a.normalized() + b.normalized();
            Some([p, p + inwards * 34.0])
        }
    }
}

/// Lettering that keeps clear of what is written already.
struct Labels {
    taken: Vec<Rect>,
}

impl Labels {
    /// Writes `words` along a tape where there is room, nearest its middle.
    fn write(
        &mut self,
        painter: &Painter,
        theme: &Theme,
        [a, b]: [Pos2; 2],
        words: &str,
        ink: Color32,
        bold: bool,
    ) {
        let face = if bold { bold_font(13.0) } else { font(11.5) };
        let galley = painter.layout_no_wrap(words.to_string(), face, ink);
        for share in [0.5, 0.4, 0.6, 0.32, 0.68, 0.25, 0.75] {
            let centre = a + (b - a) * share;
            let rect = Rect::from_center_size(centre, galley.size() + vec2(6.0, 2.0));
            if self.taken.iter().all(|t| !t.intersects(rect)) {
                self.taken.push(rect);
                painter.rect_filled(rect, 2.0, theme.sheet.gamma_multiply(0.9));
                painter.galley(pos2(rect.left() + 3.0, rect.top() + 1.0), galley, ink);
                return;
            }
        }
    }
}
