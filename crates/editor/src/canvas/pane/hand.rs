//! What the hand does in a view: takes hold, drags, clicks, draws.

use egui::{CursorIcon, Key, PointerButton};
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use super::{Ask, Mark, View};
use crate::canvas::{tools, under};
use crate::command::Command;
use crate::gesture::{Gesture, Grip, Snapping, Space};
use crate::session::Tool;

/// How near the pointer snaps, points.
const SNAP: f64 = 8.0;
/// How near an edge that can be dragged counts as on it, points.
const EDGE: f64 = 6.0;

impl View<'_> {
    /// What the hand does in this view. Gives the mark where a first click would fall.
    pub(super) fn hand(&self, ask: &mut Ask<'_>) -> Mark {
        if ask.state.hovered.as_ref().is_some_and(|(space, _)| *space == self.side.space) {
            ask.state.hovered = None;
        }
        let response = &self.response;
        let hand = response.interact_pointer_pos().or_else(|| response.hover_pos())?;
        let (moving_eye, held_off) =
            self.ui.input(|i| (i.pointer.middle_down() || i.key_down(Key::Space), i.modifiers.alt));
        if moving_eye || ask.hold.drop {
            return None;
        }
        if response.hovered() || response.dragged() {
            ask.state.active = self.side.space;
        }
        let snapping = Snapping {
            job: self.scene.session.history.job(),
            layout: self.scene.base,
            reach: self.sight.mm(SNAP),
            held_off,
        };
        let at = self.side.point(&self.sight, hand);
        let marking = self.scene.session.marking.as_ref().is_some_and(|m| m.len() < 2);
        if marking && self.side.space == Space::Plan {
            return self.mark_under(ask, at);
        }
        if self.scene.session.tool == Tool::Pick {
            self.take_hold(ask, at);
            self.pan(ask);
            self.drag(ask, at, &snapping);
            self.point_at(ask, at);
            return None;
        }
        self.use_tool(ask, at, &snapping)
    }

    /// A point of what lies under the plan is looked for; a click takes it.
    fn mark_under(&self, ask: &mut Ask<'_>, at: PlanPoint) -> Mark {
        let at = under::corner_near(self.scene, at, self.sight.mm(SNAP)).unwrap_or(at);
        if self.response.clicked_by(PointerButton::Primary) {
            ask.out.push(Command::Marked(at));
        }
        self.ui.ctx().set_cursor_icon(CursorIcon::Crosshair);
        Some((at, None))
    }

    /// Where the button went down, as a point of the drag's own space.
    fn pressed_at(&self, now: PlanPoint) -> PlanPoint {
        let origin = self.ui.input(|i| i.pointer.press_origin());
        origin.map_or(now, |p| self.side.point(&self.sight, p))
    }

    /// A drag begins: the hand takes hold of what was under it when the button went down, or of
    /// the drawing itself.
    fn take_hold(&self, ask: &mut Ask<'_>, at: PlanPoint) {
        if !self.response.drag_started_by(PointerButton::Primary) || ask.hold.gesture.is_some() {
            return;
        }
        let from = self.pressed_at(at);
        let under = self.targets.under(self.side.screen(&self.sight, from), self.side.space);
        let first = ask.state.cycle.min(under.len().saturating_sub(1));
        let in_turn = under.iter().skip(first).chain(under.iter().take(first));
        let edge = self.picked_edge(&under, from);
        let taken =
            edge.or_else(|| in_turn.filter_map(|item| Some((item, self.grip(item, from)?))).next());
        let taken = taken.or_else(|| Some((&ItemRef::Underlay, self.underlay(from)?)));
        self.side.pane(ask.state).panning = taken.is_none();
        if let Some((item, grip)) = taken {
            let picked = grip.item().unwrap_or_else(|| item.clone());
            if self.scene.session.picked.as_ref() != Some(&picked) {
                ask.out.push(Command::Pick(Some(picked)));
            }
            ask.hold.gesture = Some(Gesture::new(grip, self.side.space, from));
        }
    }

    /// What lies under the plan, while it is picked, shown and not locked: held by its corner that is near, so that the corner
    /// snaps, or by where the hand is.
    fn underlay(&self, at: PlanPoint) -> Option<Grip> {
        let reach = self.sight.mm(SNAP);
        let is_picked = self.scene.session.picked == Some(ItemRef::Underlay);
        let is_here = self.side.space == Space::Plan && under::can_be_held(self.scene, at, reach);
        (is_picked && is_here)
            .then(|| Grip::Underlay(under::corner_near(self.scene, at, reach).unwrap_or(at)))
    }

    /// The edge of a platform that is picked: it lies against walls, and wins over them.
    fn picked_edge<'u>(&self, under: &'u [ItemRef], at: PlanPoint) -> Option<(&'u ItemRef, Grip)> {
        let picked = self.scene.session.picked.as_ref()?;
        let item = under.iter().find(|i| *i == picked)?;
        let on_hole = under.iter().any(|i| matches!(i, ItemRef::PlatformHole(_)));
        let grip = self.grip(item, at).filter(|_| self.side.space == Space::Plan && !on_hole)?;
        matches!(grip, Grip::PlatformEdge { .. }).then_some((item, grip))
    }

    fn grip(&self, item: &ItemRef, at: PlanPoint) -> Option<Grip> {
        let job = self.scene.session.history.job();
        match self.side.space {
            Space::Plan => {
                let picked = self.scene.session.picked.as_ref() == Some(item);
                Grip::on_plan_at(item, at, self.sight.mm(EDGE), picked, job)
            }
            Space::Elevation => {
                Grip::on_elevation(item, at, self.sight.mm(EDGE), job, self.scene.base)
            }
        }
    }

    /// A press that took hold of nothing moves the drawing.
    fn pan(&self, ask: &mut Ask<'_>) {
        let pane = self.side.pane(ask.state);
        if pane.panning && self.response.dragged_by(PointerButton::Primary) {
            pane.eye = pane.eye.panned(self.ui.input(|i| i.pointer.delta()));
            if let Some(fitted) = &mut pane.fitted {
                fitted.moved = true;
            }
        }
    }

    /// The hand moves what it holds, up to and with the frame in which it lets go.
    fn drag(&self, ask: &mut Ask<'_>, at: PlanPoint, snapping: &Snapping<'_>) {
        let released = self.response.drag_stopped();
        let held = ask.hold.gesture.as_mut();
        let mine = held.filter(|g| g.space == self.side.space && !g.grip.is_new());
        if let (Some(gesture), true) = (mine, self.response.dragged() || released) {
            (gesture.now, gesture.snap) = snapping.settle(gesture, at);
            gesture.forget_snap_when_typed();
            ask.hold.drop |= released;
        }
        if released {
            self.side.pane(ask.state).panning = false;
        }
    }

    /// Hovering and clicking, while nothing is held.
    fn point_at(&self, ask: &mut Ask<'_>, at: PlanPoint) {
        if ask.hold.gesture.is_some() || self.side.pane(ask.state).panning {
            return;
        }
        let under = self.targets.under(self.side.screen(&self.sight, at), self.side.space);
        if under != self.side.pane(ask.state).under {
            ask.state.cycle = 0;
            self.side.pane(ask.state).under.clone_from(&under);
        }
        let item = (!under.is_empty()).then(|| under[ask.state.cycle % under.len()].clone());
        let response = &self.response;
        if response.clicked_by(PointerButton::Primary) && item != self.scene.session.picked {
            ask.out.push(Command::Pick(item.clone()));
        }
        if let (Space::Plan, Some(ItemRef::Wall(wall))) = (self.side.space, &item)
            && response.double_clicked_by(PointerButton::Primary)
        {
            ask.out.push(Command::ShowWall(wall.clone()));
            ask.state.elevation.fitted = None;
            if ask.state.filled == Some(Space::Plan) {
                ask.state.filled = None;
            }
        }
        ask.state.hovered = item.filter(|_| response.hovered()).map(|i| (self.side.space, i));
    }

    /// What the tool makes hangs on the hand; a click lets it go.
    fn use_tool(&self, ask: &mut Ask<'_>, at: PlanPoint, snapping: &Snapping<'_>) -> Mark {
        let tool = self.scene.session.tool;
        let lines =
            matches!(tool, Tool::Room | Tool::Wall | Tool::Beam | Tool::Roof | Tool::Platform);
        if self.side.space == Space::Elevation && (lines || tool == Tool::Post) {
            return None;
        }
        let began = lines && self.response.drag_started_by(PointerButton::Primary);
        if began && ask.state.drawn.is_empty() {
            // Press and drag draws a line as well as click and click.
            let pressed = self.pressed_at(at);
            let start = match tool {
                Tool::Platform => snapping.face_corner(pressed),
                _ => snapping.point(pressed, None, None),
            };
            ask.state.drawn.push(start.0);
        }
        let before = ask.hold.gesture.take();
        let (mut gesture, mark) = tools::hang(self.scene, ask.state, self.side.space, at, snapping);
        if let (Some(new), Some(old)) = (&mut gesture, &before)
            && std::mem::discriminant(&new.grip) == std::mem::discriminant(&old.grip)
        {
            new.typed.clone_from(&old.typed);
            new.forget_snap_when_typed();
        }
        ask.hold.gesture = gesture;
        let clicked = self.response.clicked_by(PointerButton::Primary)
            || self.response.drag_stopped_by(PointerButton::Primary);
        if clicked {
            match &mark {
                Some((start, _)) if ask.state.drawn.is_empty() => ask.state.drawn.push(*start),
                _ => {
                    let keep_tool = self.ui.input(|i| i.modifiers.shift);
                    tools::confirm(self.scene, ask.state, ask.hold, keep_tool);
                }
            }
        }
        self.ui.ctx().set_cursor_icon(CursorIcon::Crosshair);
        mark
    }
}
