//! What lies over the drawing: the outline of what the hand is on, guides of a snap, the numbers
//! at the hand, and the running dimension along the wall that is picked.

use std::sync::Arc;

use egui::epaint::TextShape;
use egui::{
    Align2, Color32, Galley, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2,
};
use layout_core::id::{ItemRef, Name};
use layout_core::layout::WallLayout;
use layout_core::math::PlanPoint;

use super::eye::Sight;
use super::paint::Emphasis;
use super::target::Targets;
use crate::gesture::Snap;
use crate::scene::Scene;
use crate::theme::{Theme, bold_font, font};

/// Outlines `item` wherever it is in the view.
pub(super) fn outline(
    painter: &Painter,
    targets: &Targets,
    item: &ItemRef,
    theme: &Theme,
    emphasis: Emphasis,
) {
    let (width, tint) = match emphasis {
        Emphasis::None => return,
        Emphasis::Hovered => (1.2, 0.08),
        Emphasis::Picked => (1.8, 0.04),
    };
    let stroke = Stroke::new(width, theme.accent);
    let has_outline = targets.of(item).any(|p| p.closed && !p.lettering);
    for part in targets.of(item).filter(|p| !p.lettering && p.closed == has_outline) {
        if part.closed {
            let fill = theme.accent.gamma_multiply(tint);
            if part.points.len() == 4 {
                painter.add(Shape::convex_polygon(part.points.clone(), fill, Stroke::NONE));
            }
            painter.add(Shape::closed_line(part.points.clone(), stroke));
        } else {
            painter.add(Shape::line(part.points.clone(), Stroke::new(width + 1.0, theme.accent)));
        }
    }
}

/// The handles of the plan's nodes: small rings that say “take hold here”.
pub(super) fn nodes(
    painter: &Painter,
    sight: &Sight,
    scene: &Scene<'_>,
    emphasis: impl Fn(&ItemRef) -> Emphasis,
) {
    for node in &scene.job.nodes {
        let at = sight.screen(node.at.x, node.at.y);
        let theme = scene.theme;
        let (ink, fill, radius) = match emphasis(&ItemRef::Node(node.name.clone())) {
            Emphasis::None => (theme.ink, theme.sheet, 3.0),
            Emphasis::Hovered => (theme.accent, theme.accent_tint, 5.0),
            Emphasis::Picked => (theme.accent, theme.accent, 4.5),
        };
        painter.circle(at, radius, fill, Stroke::new(1.2, ink));
    }
}

/// Lines that show what the hand has snapped to.
pub(super) fn guides(
    painter: &Painter,
    sight: &Sight,
    theme: &Theme,
    snap: &Snap,
    place: impl Fn(PlanPoint) -> Pos2,
) {
    let clip = sight.rect.expand(2000.0);
    for [a, b] in &snap.guides {
        let (a, b) = (place(*a).clamp(clip.min, clip.max), place(*b).clamp(clip.min, clip.max));
        painter.extend(Shape::dashed_line(&[a, b], Stroke::new(1.0, theme.accent), 5.0, 3.0));
    }
}

/// What is written at the hand.
pub(super) struct Label<'a> {
    /// Where the hand is, in figures.
    pub(super) figures: &'a str,
    /// What has been typed instead.
    pub(super) typed: &'a str,
    /// What it has snapped to.
    pub(super) snap: Option<&'a str>,
}

/// The numbers at the hand and the name of the snap, clear of the pointer and inside the view.
pub(super) fn at_hand(painter: &Painter, theme: &Theme, view: Rect, hand: Pos2, label: &Label<'_>) {
    let Label { figures, typed, snap } = *label;
    let first = if typed.is_empty() { figures.to_owned() } else { format!("{typed}▏") };
    let mut lines = Vec::new();
    if !first.is_empty() {
        lines.push(painter.layout_no_wrap(first, bold_font(13.5), theme.accent));
    }
    if let Some(snap) = snap {
        lines.push(painter.layout(snap.to_owned(), font(11.5), theme.ink, 330.0));
    }
    if lines.is_empty() {
        return;
    }
    let wide = lines.iter().map(|g| g.size().x).fold(0.0, f32::max);
    let high: f32 = lines.iter().map(|g| g.size().y).sum();
    let size = vec2(wide + 14.0, high + 8.0);
    let inside = view.shrink(6.0);
    let mut corner = hand + vec2(16.0, -size.y - 12.0);
    if corner.x + size.x > inside.right() {
        corner.x = hand.x - 16.0 - size.x;
    }
    if corner.y < inside.top() {
        corner.y = hand.y + 20.0;
    }
    let corner = corner.clamp(inside.min, (inside.max - size).max(inside.min));
    let rect = Rect::from_min_size(corner, size);
    painter.rect(rect, 3.0, theme.sheet, Stroke::new(1.0, theme.accent), StrokeKind::Inside);
    let mut y = rect.top() + 4.0;
    for galley in lines {
        let down = galley.size().y;
        painter.galley(pos2(rect.left() + 7.0, y), galley, theme.ink);
        y += down;
    }
}

/// A ring where a click would fall.
pub(super) fn ring(painter: &Painter, at: Pos2, theme: &Theme) {
    painter.circle(at, 4.5, Color32::TRANSPARENT, Stroke::new(1.5, theme.accent));
}

/// Lines through the corners drawn so far and the hand.
pub(super) fn drawn(painter: &Painter, theme: &Theme, points: &[Pos2]) {
    if points.len() > 1 {
        painter.add(Shape::line(points.to_vec(), Stroke::new(1.6, theme.accent)));
    }
    for at in points {
        painter.circle(*at, 3.0, theme.sheet, Stroke::new(1.4, theme.accent));
    }
}

/// The running dimension of a wall on the plan: from its start to each hole's edges and its end.
pub(super) struct Running {
    line: [Pos2; 2],
    across: Vec2,
    ticks: Vec<Pos2>,
    figures: Vec<(Pos2, Arc<Galley>, Rect)>,
    turn: f32,
}

impl Running {
    /// Lays it out, `lit` the opening whose figures are bold and written first.
    pub(super) fn of(
        painter: &Painter,
        sight: &Sight,
        theme: &Theme,
        wall: &WallLayout,
        lit: Option<&Name>,
    ) -> Option<Running> {
        let spec = &wall.spec;
        let on_screen = |s: f64| {
            let p = wall.place.plan(s, 0.0);
            sight.screen(p.x, p.y)
        };
        let (a, b) = (on_screen(0.0), on_screen(spec.length));
        let along = (b - a).normalized();
        if (b - a).length() < 30.0 {
            return None;
        }
        // The wall's right hand on screen, where its elevation is seen from.
        let across = vec2(-along.y, along.x);
        let off = across * ((-spec.finished.low * sight.eye.zoom) as f32 + 26.0);
        let mut stops = vec![(0.0, false), (spec.length, false)];
        for hole in &spec.holes {
            let is_lit = lit == Some(&hole.name);
            stops.extend([(hole.span.low, is_lit), (hole.span.high, is_lit)]);
        }
        stops.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.total_cmp(&b.0)));
        // Figures read from below or from the right, and leave one out rather than write over
        // another.
        let upright = along.x.abs() < 0.35;
        let mut running = Running {
            line: [a + off, b + off],
            across,
            ticks: Vec::new(),
            figures: Vec::new(),
            turn: if upright { -std::f32::consts::FRAC_PI_2 } else { 0.0 },
        };
        for (s, is_lit) in stops {
            let at = on_screen(s) + off;
            running.ticks.push(at);
            let face = if is_lit { bold_font(12.5) } else { font(11.5) };
            let galley = painter.layout_no_wrap(spec.units.show(s), face, theme.accent);
            let size = galley.size();
            let (corner, rect) = if upright {
                let x = at.x + across.x.signum() * (size.y / 2.0 + 6.0) - size.y / 2.0;
                let rect = Rect::from_min_size(pos2(x, at.y - size.x / 2.0), size.yx());
                (rect.left_bottom(), rect)
            } else {
                let y = at.y + if across.y >= 0.0 { 5.0 } else { -5.0 - size.y };
                let rect = Rect::from_min_size(pos2(at.x - size.x / 2.0, y), size);
                (rect.min, rect)
            };
            if running.covers().all(|r| !r.expand(3.0).intersects(rect)) {
                running.figures.push((corner, galley, rect));
            }
        }
        Some(running)
    }

    /// Where its figures are.
    pub(super) fn covers(&self) -> impl Iterator<Item = Rect> + '_ {
        self.figures.iter().map(|(_, _, rect)| *rect)
    }

    /// Paints it.
    pub(super) fn paint(&self, painter: &Painter, theme: &Theme) {
        let line = Stroke::new(1.0, theme.accent);
        painter.line_segment(self.line, line);
        for at in &self.ticks {
            painter.line_segment([*at - self.across * 4.0, *at + self.across * 4.0], line);
        }
        for (corner, galley, rect) in &self.figures {
            painter.rect_filled(rect.expand(1.0), 0.0, theme.sheet.gamma_multiply(0.85));
            let text = TextShape::new(*corner, galley.clone(), theme.accent);
            painter.add(text.with_angle(self.turn));
        }
    }
}

/// Says in the middle of an empty view what to do.
pub(super) fn nothing(painter: &Painter, rect: Rect, theme: &Theme, lines: &[&str]) {
    let mut at = rect.center() - vec2(0.0, 9.0 * lines.len() as f32);
    for (i, line) in lines.iter().enumerate() {
        let (face, ink) =
            if i == 0 { (bold_font(15.0), theme.ink) } else { (font(13.0), theme.quiet) };
        painter.text(at, Align2::CENTER_CENTER, *line, face, ink);
        at.y += 22.0;
    }
}

/// Items that stand out with `picked`: an opening lights its own studs, jacks, head and sill.
pub(super) fn lit_with(scene: &Scene<'_>, picked: &ItemRef) -> Vec<ItemRef> {
    let ItemRef::Opening(name) = picked else { return Vec::new() };
    let Some(wall) =
        scene.layout.walls.iter().find(|w| w.spec.holes.iter().any(|h| h.name == *name))
    else {
        return Vec::new();
    };
    let Some(hole) = wall.spec.holes.iter().find(|h| h.name == *name) else { return Vec::new() };
    let near = hole.span.grown(2.0 * wall.spec.makeup.timber.thickness() + 1.0);
    use layout_core::frame::Role;
    let frames = |m: &&layout_core::frame::Member| {
        matches!(m.role, Role::OpeningStud | Role::Jack | Role::OpeningHead | Role::Sill)
            && near.covers(m.solid.stations())
    };
    let members = wall.frame.members.iter().filter(frames);
    members.map(|m| ItemRef::Member { wall: wall.name().clone(), mark: m.mark }).collect()
}
