//! What lies under the plan, on the screen: pale, beneath everything.

use std::sync::Arc;

use egui::epaint::{Mesh, Vertex};
use egui::{
    Color32, ColorImage, Context, Id, Painter, Rect, Stroke, TextureHandle, TextureOptions, pos2,
};
use layout_core::document::Underlay;
use layout_core::math::PlanPoint;

use super::eye::Sight;
use super::overlay;
use crate::scene::Scene;
use crate::under::Shown;

/// Lines shorter than this on the screen are not painted, points.
const SPECK: f32 = 0.6;

/// What is to be shown under the plan, if there is anything.
fn shown<'a>(scene: &Scene<'a>) -> Option<(&'a Underlay, &'a Shown)> {
    let underlay = scene.job.underlay.as_ref().filter(|u| !u.hidden)?;
    let under = scene.session.under.as_ref()?;
    let is_it = under.path.file_name().is_some_and(|name| name == underlay.file.as_str());
    Some((underlay, under.shown.as_ref().ok().filter(|_| is_it)?))
}

/// The corners of what lies under the plan, while nothing is drawn yet that the eye could look at.
pub(super) fn corners(scene: &Scene<'_>) -> Vec<PlanPoint> {
    let is_empty = scene.job.walls.is_empty() && scene.job.shell.outline.is_empty();
    let Some((underlay, shown)) = shown(scene).filter(|_| is_empty) else { return Vec::new() };
    let [w, h] = shown.size();
    [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]].map(|p| underlay.plan(p)).to_vec()
}

/// True when it is not locked and lies under a place of the plan, or within `reach` mm of it: its corners are at its edge.
pub(super) fn can_be_held(scene: &Scene<'_>, at: PlanPoint, reach: f64) -> bool {
    let Some((underlay, shown)) = shown(scene).filter(|(u, _)| !u.locked) else { return false };
    let (sin, cos) = underlay.turn_deg.to_radians().sin_cos();
    let (d, reach) = ((at - underlay.at) / underlay.unit_mm, reach / underlay.unit_mm);
    let own = [d.x * cos + d.y * sin, d.y * cos - d.x * sin];
    own.into_iter().zip(shown.size()).all(|(v, most)| (-reach..=most + reach).contains(&v))
}

/// Paints it.
pub(super) fn paint(canvas: &Painter, sight: &Sight, scene: &Scene<'_>) {
    if let Some((underlay, shown)) = shown(scene) {
        let strength = (underlay.strength / 100.0).clamp(0.0, 1.0) as f32;
        let place = |own: [f64; 2]| {
            let p = underlay.plan(own);
            sight.screen(p.x, p.y)
        };
        match shown {
            Shown::Drawing(drawing) => {
                let stroke = Stroke::new(1.0, scene.theme.quiet.gamma_multiply(strength));
                let clip = canvas.clip_rect();
                for line in &drawing.lines {
                    let first = line.points.first().filter(|_| line.closed);
                    for (a, b) in line.points.iter().zip(line.points.iter().skip(1).chain(first)) {
                        let ends = [place(*a), place(*b)];
                        // A hatch seen from far off is a mist of specks.
                        let seen = ends[0].distance_sq(ends[1]) > SPECK * SPECK;
                        if seen && clip.intersects(Rect::from_two_pos(ends[0], ends[1])) {
                            canvas.line_segment(ends, stroke);
                        }
                    }
                }
            }
            Shown::Picture { size: [w, h], dots } => {
                let texture = texture(canvas.ctx(), dots);
                let mut mesh = Mesh::with_texture(texture.id());
                let color = Color32::WHITE.gamma_multiply(strength);
                for ([u, v], uv) in [
                    ([0.0, 0.0], pos2(0.0, 1.0)),
                    ([*w, 0.0], pos2(1.0, 1.0)),
                    ([*w, *h], pos2(1.0, 0.0)),
                    ([0.0, *h], pos2(0.0, 0.0)),
                ] {
                    mesh.vertices.push(Vertex { pos: place([u, v]), uv, color });
                }
                mesh.add_triangle(0, 1, 2);
                mesh.add_triangle(0, 2, 3);
                canvas.add(mesh);
            }
        }
    }
}

/// The points that are being clicked on it, with the line between them.
pub(super) fn paint_marks(canvas: &Painter, sight: &Sight, scene: &Scene<'_>) {
    let Some(points) = &scene.session.marking else { return };
    let places: Vec<_> = points.iter().map(|p| sight.screen(p.x, p.y)).collect();
    if let [a, b] = places[..] {
        canvas.line_segment([a, b], Stroke::new(1.5, scene.theme.accent));
    }
    for place in places {
        overlay::ring(canvas, place, scene.theme);
    }
}

/// The picture as the screen has it; it is handed over once.
fn texture(ctx: &Context, dots: &Arc<ColorImage>) -> TextureHandle {
    type Kept = (Arc<ColorImage>, TextureHandle);
    let id = Id::unique("under the plan");
    let kept: Option<Kept> = ctx.data(|d| d.get_temp(id));
    if let Some((of, texture)) = kept.filter(|(of, _)| Arc::ptr_eq(of, dots)) {
        drop(of);
        return texture;
    }
    let texture = ctx.load_texture("under the plan", dots.clone(), TextureOptions::LINEAR);
    ctx.data_mut(|d| d.insert_temp::<Kept>(id, (dots.clone(), texture.clone())));
    texture
}

/// The corner of a drawing under the plan within `reach` mm of `at`.
pub(super) fn corner_near(scene: &Scene<'_>, at: PlanPoint, reach: f64) -> Option<PlanPoint> {
    let (underlay, shown) = shown(scene)?;
    let corners = shown.drawing()?.lines.iter().flat_map(|l| &l.points);
    let near = corners.map(|p| underlay.plan(*p)).map(|p| ((p - at).norm(), p));
    near.filter(|(d, _)| *d <= reach).min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, p)| p)
}
