//! What a view shows: the drawing, what stands out in it, and what is at the hand.

use egui::{CursorIcon, Key, Painter, Pos2, Stroke, StrokeKind};
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use super::{Ask, Mark, View, wall_of};
use crate::canvas::overlay;
use crate::canvas::paint::{Emphasis, paint};
use crate::canvas::rulers::{Zero, rulers};
use crate::canvas::survey;
use crate::canvas::under;
use crate::gesture::{Gesture, Grip, Space};
use crate::session::Tool;

impl View<'_> {
    /// Paints the view.
    pub(super) fn paint(&self, ask: &Ask<'_>, mark: Mark) {
        let theme = self.scene.theme;
        let whole = self.response.rect;
        let painter = self.ui.painter_at(whole);
        painter.rect_filled(whole, 0.0, theme.sheet);
        let canvas = self.ui.painter_at(self.sight.rect);
        self.paint_drawing(&canvas, ask);
        self.paint_hand(&canvas, ask, mark);
        self.paint_empty(&canvas);
        rulers(
            &painter,
            &self.sight,
            (theme, self.scene.job.units),
            self.zero(),
            self.response.hover_pos(),
        );
        if self.response.has_focus() && self.ui.input(|i| i.key_down(Key::Tab)) {
            painter.rect_stroke(whole, 0.0, Stroke::new(1.0, theme.accent), StrokeKind::Inside);
        }
        let holding = ask.hold.gesture.as_ref().is_some_and(|g| !g.grip.is_new());
        if holding {
            self.ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
        } else if self.response.hovered()
            && ask.state.hovered.is_some()
            && self.scene.session.tool == Tool::Pick
        {
            self.ui.ctx().set_cursor_icon(CursorIcon::PointingHand);
        }
    }

    fn paint_drawing(&self, canvas: &Painter, ask: &Ask<'_>) {
        let (scene, theme, sight) = (self.scene, self.scene.theme, &self.sight);
        let picked = scene.session.picked.as_ref();
        let lit = picked.map(|p| overlay::lit_with(scene, p)).unwrap_or_default();
        let hovered = ask.state.hovered.as_ref().map(|(_, item)| item);
        // In the elevation the wall is the whole drawing: lighting it up says nothing.
        let in_elevation = self.side.space == Space::Elevation;
        let worth = |item: &ItemRef| !(in_elevation && matches!(item, ItemRef::Wall(_)));
        let emphasis = |item: &ItemRef| {
            if !worth(item) {
                Emphasis::None
            } else if picked == Some(item) || lit.contains(item) {
                Emphasis::Picked
            } else if hovered == Some(item) {
                Emphasis::Hovered
            } else {
                Emphasis::None
            }
        };
        if !in_elevation {
            under::paint(canvas, sight, scene);
        }
        let running = self.running(canvas);
        let taken = running.iter().flat_map(overlay::Running::covers).collect();
        paint(canvas, sight, &self.picture, theme, taken, emphasis);
        if let Some(item) = hovered.filter(|i| worth(i) && picked != Some(*i)) {
            overlay::outline(canvas, &self.targets, item, theme, Emphasis::Hovered);
        }
        if let Some(item) = picked.filter(|i| worth(i)) {
            overlay::outline(canvas, &self.targets, item, theme, Emphasis::Picked);
        }
        if in_elevation {
            return;
        }
        if let Some(running) = running {
            running.paint(canvas, theme);
        }
        overlay::nodes(canvas, sight, scene, emphasis);
        under::paint_marks(canvas, sight, scene);
        if let (Some(ItemRef::Survey), Some(measuring)) = (picked, &ask.state.measuring) {
            survey::paint(canvas, sight, (theme, self.scene.job.units), measuring);
        }
    }

    /// The running dimension on the plan of the wall that is picked, or that what is picked is in.
    fn running(&self, canvas: &Painter) -> Option<overlay::Running> {
        let scene = self.scene;
        let picked = scene.session.picked.as_ref().filter(|_| self.side.space == Space::Plan)?;
        let wall = scene.layout.wall(&wall_of(scene, picked)?)?;
        let opening = match picked {
            ItemRef::Opening(name) => Some(name),
            _ => None,
        };
        overlay::Running::of(canvas, &self.sight, scene.theme, wall, opening)
    }

    fn zero(&self) -> Zero {
        match self.side.wall {
            Some(wall) => {
                let (start, mirrored) = (wall.spec.along().low, self.side.mirrored);
                Zero { at: [if mirrored { -start } else { start }, 0.0], mirrored }
            }
            None => {
                let datum = self.scene.job.datum.at;
                Zero { at: [datum.x, datum.y], mirrored: false }
            }
        }
    }

    fn paint_hand(&self, canvas: &Painter, ask: &Ask<'_>, mark: Mark) {
        let theme = self.scene.theme;
        let place = |p: PlanPoint| self.side.screen(&self.sight, p);
        let held = ask.hold.gesture.as_ref().filter(|g| g.space == self.side.space);
        if let Some(gesture) = held {
            self.paint_held(canvas, gesture, &ask.state.drawn);
        } else if let Some((at, snap)) = mark {
            overlay::ring(canvas, place(at), theme);
            if let Some(snap) = snap {
                overlay::guides(canvas, &self.sight, theme, &snap, place);
                let label = overlay::Label { figures: "", typed: "", snap: Some(&snap.label) };
                overlay::at_hand(canvas, theme, self.sight.rect, place(at), &label);
            }
        }
    }

    fn paint_held(&self, canvas: &Painter, gesture: &Gesture, drawn: &[PlanPoint]) {
        let theme = self.scene.theme;
        let job = self.scene.session.history.job();
        let place = |p: PlanPoint| self.side.screen(&self.sight, p);
        if matches!(
            gesture.grip,
            Grip::NewRoom(_) | Grip::NewWall(_) | Grip::NewBeam(_) | Grip::NewRoof(_)
        ) {
            let hand = gesture.carried(gesture.from, job);
            let points: Vec<Pos2> = drawn.iter().chain([&hand]).map(|p| place(*p)).collect();
            overlay::drawn(canvas, theme, &points);
        }
        if let Some(snap) = &gesture.snap {
            overlay::guides(canvas, &self.sight, theme, snap, place);
        }
        let pointer = self.response.interact_pointer_pos().or_else(|| self.response.hover_pos());
        let label = overlay::Label {
            figures: &gesture.reading(job),
            typed: &gesture.typed,
            snap: gesture.snap.as_ref().map(|s| s.label.as_str()),
        };
        let at = pointer.unwrap_or_else(|| place(gesture.now));
        overlay::at_hand(canvas, theme, self.sight.rect, at, &label);
    }

    fn paint_empty(&self, canvas: &Painter) {
        let job = self.scene.job;
        let lines: &[&str] = match self.side.space {
            Space::Plan
                if job.walls.is_empty()
                    && job.shell.outline.is_empty()
                    && job.underlay.is_none() =>
            {
                &[
                    "An empty sheet",
                    "Room draws what stands, corner by corner.",
                    "Wall draws a partition.",
                ]
            }
            Space::Elevation if self.side.wall.is_none() => {
                &["No wall to show", "Draw a wall on the plan: its elevation comes here."]
            }
            _ => return,
        };
        if self.scene.session.gesture.is_none() {
            overlay::nothing(canvas, self.sight.rect, self.scene.theme, lines);
        }
    }
}
