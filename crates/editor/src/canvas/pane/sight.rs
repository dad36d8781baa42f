//! How the eye moves over a view: fitted to what is drawn, or by wheel, pinch and drag.

use egui::{CursorIcon, Key, MouseWheelUnit, Rect, Ui, Vec2};
use layout_core::id::ItemRef;
use layout_core::math::{PlanPoint, round_mm};
use layout_core::survey::Solved;

use super::Side;
use crate::canvas::eye::{Extent, Eye};
use crate::canvas::{Fitted, PaneState, under};
use crate::gesture::Space;
use crate::scene::Scene;

/// The corners of a room that is measured and not drawn yet, while its table is shown.
fn measured(scene: &Scene<'_>) -> Vec<PlanPoint> {
    let shown = scene.session.picked == Some(ItemRef::Survey);
    let solved = scene.layout.survey.as_deref().filter(|_| shown);
    solved
        .filter(|s| s.corners.len() != scene.job.shell.outline.len())
        .map(Solved::outline)
        .unwrap_or_default()
}

impl Side<'_> {
    /// What there is without its lettering; room for a room of 6 × 5 m when there is nothing.
    fn building(&self, scene: &Scene<'_>) -> Extent {
        let mut extent = Extent::default();
        if self.space == Space::Plan {
            scene.job.nodes.iter().for_each(|n| extent.include(n.at.x, n.at.y, 8.0));
            scene.job.shell.outline.iter().for_each(|c| extent.include(c.at.x, c.at.y, 8.0));
            measured(scene).iter().for_each(|p| extent.include(p.x, p.y, 8.0));
            under::corners(scene).iter().for_each(|p| extent.include(p.x, p.y, 8.0));
        } else if let Some(wall) = self.wall {
            let x = |s: f64| if self.mirrored { -s } else { s };
            let along = wall.spec.along();
            extent.include(x(along.low), wall.spec.floor.lowest(), 0.0);
            extent.include(x(along.high), wall.spec.ceiling.highest(), 0.0);
        }
        if extent.is_empty() {
            extent.include(-500.0, -500.0, 0.0);
            extent.include(5500.0, 4500.0, 0.0);
        }
        extent
    }

    /// The box round the building, whole millimetres: least x and y, then most.
    fn reach(&self, scene: &Scene<'_>) -> [i64; 4] {
        let mut reach = [i64::MAX, i64::MAX, i64::MIN, i64::MIN];
        let mut include = |x: f64, y: f64| {
            let (x, y) = (round_mm(x), round_mm(y));
            reach = [reach[0].min(x), reach[1].min(y), reach[2].max(x), reach[3].max(y)];
        };
        if self.space == Space::Plan {
            scene.job.nodes.iter().for_each(|n| include(n.at.x, n.at.y));
            scene.job.shell.outline.iter().for_each(|c| include(c.at.x, c.at.y));
            measured(scene).iter().for_each(|p| include(p.x, p.y));
            under::corners(scene).iter().for_each(|p| include(p.x, p.y));
        } else if let Some(wall) = self.wall {
            let along = wall.spec.along();
            include(along.low, wall.spec.floor.lowest());
            include(along.high, wall.spec.ceiling.highest());
        }
        reach
    }

    /// What the eye has to see of all this when it is fitted.
    fn extent(&self, scene: &Scene<'_>, zoom: f64) -> Extent {
        let mut extent = Extent::of(&self.picture(scene, zoom));
        extent.join(self.building(scene));
        extent
    }

    /// The nearest eye that sees all of it. Lettering is laid out for a scale, and how much room it
    /// takes changes with it, so the eye backs off from the building alone in small steps until
    /// everything is in view.
    fn fitted(&self, scene: &Scene<'_>, rect: Rect) -> Eye {
        let mut eye = Eye::fitting(&self.building(scene), rect);
        for _ in 0..24 {
            let extent = self.extent(scene, eye.zoom);
            let next = Eye::fitting(&extent, rect).zoom;
            let sees_all = next >= 0.995 * eye.zoom;
            eye = Eye::over(&extent, if sees_all { eye.zoom } else { next.max(0.92 * eye.zoom) });
            if sees_all {
                break;
            }
        }
        eye
    }

    /// Fits the eye when it has not been fitted to this yet.
    pub(super) fn fit(&self, rect: Rect, scene: &Scene<'_>, pane: &mut PaneState) {
        pane.rect = Some(rect);
        let wall = self.wall.map(|w| (w.name().clone(), self.mirrored));
        let size = [rect.width() as i32, rect.height() as i32];
        let reach = self.reach(scene);
        let fits = match &pane.fitted {
            Some(f) => {
                let as_it_was = f.size == size && f.reach == reach;
                f.wall == wall && (f.moved || as_it_was || scene.session.gesture.is_some())
            }
            None => false,
        };
        if !fits {
            pane.eye = self.fitted(scene, rect);
            pane.fitted = Some(Fitted { wall, size, reach, moved: false });
        }
    }

    /// Wheel, pinch, two fingers, middle button, space: all that moves the eye.
    pub(super) fn move_eye(&self, ui: &Ui, rect: Rect, drawing: Rect, pane: &mut PaneState) {
        let over = ui.rect_contains_pointer(rect);
        let space = over && !ui.ctx().text_edit_focused() && ui.input(|i| i.key_down(Key::Space));
        let (hand, pinch, wheel, slide, drag) = ui.input(|i| {
            let mut wheel = 0.0;
            let mut slide = Vec2::ZERO;
            for event in &i.events {
                if let egui::Event::MouseWheel { unit, delta, modifiers, .. } = event
                    && !modifiers.ctrl
                    && !modifiers.command
                {
                    match unit {
                        MouseWheelUnit::Point => slide += *delta,
                        MouseWheelUnit::Line if modifiers.shift => slide += *delta * 40.0,
                        MouseWheelUnit::Line => wheel += f64::from(delta.y),
                        MouseWheelUnit::Page => wheel += 3.0 * f64::from(delta.y),
                    }
                }
            }
            let moving = i.pointer.middle_down() || (space && i.pointer.primary_down());
            let drag = if moving { i.pointer.delta() } else { Vec2::ZERO };
            (i.pointer.latest_pos(), f64::from(i.zoom_delta()), wheel, slide, drag)
        });
        let began_here = ui.input(|i| i.pointer.press_origin()).is_some_and(|p| rect.contains(p));
        let before = pane.eye;
        let factor = pinch * (0.16 * wheel).exp();
        if let (true, Some(hand)) = (over, hand) {
            if factor != 1.0 {
                pane.eye = pane.eye.zoomed(factor, hand, drawing);
            }
            pane.eye = pane.eye.panned(slide);
        }
        if began_here {
            pane.eye = pane.eye.panned(drag);
        }
        if space {
            ui.ctx().set_cursor_icon(CursorIcon::Grab);
        }
        if pane.eye != before
            && let Some(fitted) = &mut pane.fitted
        {
            fitted.moved = true;
        }
    }
}
