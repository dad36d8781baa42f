//! One view, plan or elevation: the eye, the drawing, what can be picked in it, and what the hand
//! does there.

use egui::{
    CursorIcon, EventFilter, Id, Key, MouseWheelUnit, PointerButton, Pos2, Rect, Response, Sense,
    Ui, Vec2,
};
use egui::{WidgetInfo, accesskit::Role as Part};
use layout_core::document::Face;
use layout_core::id::{ItemRef, Name};
use layout_core::layout::WallLayout;
use layout_core::math::PlanPoint;
use sheets::picture::Picture;
use sheets::views::{ElevationOptions, PlanOptions, elevation, plan};

use super::eye::{Extent, Eye, PX_PER_PAPER_MM, Sight};
use super::overlay;
use super::paint::{Emphasis, paint};
use super::rulers::{RULER, Zero, rulers};
use super::target::Targets;
use super::tools::{self, Hold};
use super::words::item_words;
use super::{DrawState, Fitted, PaneState};
use crate::command::Command;
use crate::gesture::{Gesture, Grip, Snapping, Space};
use crate::scene::Scene;
use crate::session::Tool;

/// How near the pointer snaps, points.
const SNAP: f64 = 8.0;

/// The id of a view, for the keyboard.
pub(super) fn view_id(space: Space) -> Id {
    Id::unique(("drawing", space))
}

/// The plan, in `rect`.
pub fn plan_ui(
    ui: &mut Ui,
    rect: Rect,
    scene: &Scene<'_>,
    state: &mut DrawState,
    hold: &mut Hold,
    out: &mut Vec<Command>,
) {
    View { space: Space::Plan, wall: None, mirrored: false }
        .show(ui, rect, scene, state, hold, out);
}

/// The elevation of the wall that is shown, in `rect`.
pub fn elevation_ui(
    ui: &mut Ui,
    rect: Rect,
    scene: &Scene<'_>,
    state: &mut DrawState,
    hold: &mut Hold,
    out: &mut Vec<Command>,
) {
    let wall = shown_wall(scene).and_then(|w| scene.layout.wall(w));
    let mirrored = scene.session.face == Face::Left;
    View { space: Space::Elevation, wall, mirrored }.show(ui, rect, scene, state, hold, out);
}

struct View<'a> {
    space: Space,
    wall: Option<&'a WallLayout>,
    mirrored: bool,
}

impl View<'_> {
    fn show(
        &self,
        ui: &mut Ui,
        rect: Rect,
        scene: &Scene<'_>,
        state: &mut DrawState,
        hold: &mut Hold,
        out: &mut Vec<Command>,
    ) {
        let drawing =
            Rect::from_min_max(rect.min + Vec2::new(RULER, 0.0), rect.max - Vec2::new(0.0, RULER));
        self.move_eye(ui, rect, drawing, self.pane(state));
        self.fit(drawing, scene, self.pane(state));
        let sight = Sight { rect: drawing, eye: self.pane(state).eye };
        let picture = self.picture(scene, sight.eye.zoom);
        let targets = match (self.space, self.wall) {
            (Space::Plan, _) => Targets::plan(&picture, &sight, scene.job, scene.layout),
            (Space::Elevation, Some(wall)) => {
                Targets::elevation(&picture, &sight, wall, self.mirrored)
            }
            (Space::Elevation, None) => Targets::default(),
        };
        self.name_items(ui, rect, scene, &targets, out);
        let response = ui.interact(rect, view_id(self.space), Sense::click_and_drag());
        let name = match self.space {
            Space::Plan => "Plan view".to_owned(),
            Space::Elevation => {
                self.wall.map_or("Elevation".into(), |w| format!("Elevation of wall {}", w.name()))
            }
        };
        response.widget_info(|| WidgetInfo::labeled(Part::Canvas, true, &name));
        self.hold_keys(ui, &response);
        let mark = self.hand(ui, &response, scene, state, &sight, &targets, hold, out);
        self.paint(ui, scene, state, &sight, &picture, &targets, hold, &response, mark);
    }

    fn pane<'s>(&self, state: &'s mut DrawState) -> &'s mut PaneState {
        match self.space {
            Space::Plan => &mut state.plan,
            Space::Elevation => &mut state.elevation,
        }
    }

    fn picture(&self, scene: &Scene<'_>, zoom: f64) -> Picture {
        let scale = PX_PER_PAPER_MM / zoom;
        match (self.space, self.wall) {
            (Space::Plan, _) => {
                plan(scene.job, scene.layout, &PlanOptions { scale, dimensions: false })
            }
            (Space::Elevation, Some(wall)) => {
                let face = if self.mirrored { Face::Left } else { Face::Right };
                elevation(
                    scene.job,
                    scene.layout,
                    wall,
                    &ElevationOptions { scale, face, dimensions: true },
                )
            }
            (Space::Elevation, None) => Picture::default(),
        }
    }

    /// What the eye has to see of all this when it is fitted.
    fn extent(&self, scene: &Scene<'_>, zoom: f64) -> Extent {
        let mut extent = Extent::of(&self.picture(scene, zoom));
        extent.join(self.building(scene));
        extent
    }

    /// What there is without its lettering; room for a room of 6 × 5 m when there is nothing.
    fn building(&self, scene: &Scene<'_>) -> Extent {
        let mut extent = Extent::default();
        if self.space == Space::Plan {
            scene.job.nodes.iter().for_each(|n| extent.include(n.at.x, n.at.y, 8.0));
            scene.job.shell.outline.iter().for_each(|c| extent.include(c.at.x, c.at.y, 8.0));
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

    /// Fits the eye when it has not been fitted to this yet.
    fn fit(&self, rect: Rect, scene: &Scene<'_>, pane: &mut PaneState) {
        pane.rect = Some(rect);
        let wall = self.wall.map(|w| w.name().clone());
        let size = [rect.width() as i32, rect.height() as i32];
        let fits = match &pane.fitted {
            Some(f) => {
                f.wall == wall && (f.moved || f.size == size || scene.session.gesture.is_some())
            }
            None => false,
        };
        if !fits {
            // Lettering is laid out for a scale, and the scale follows from what is drawn: begin
            // with the building alone, then let both settle.
            pane.eye = Eye::fitting(&self.building(scene), rect);
            for _ in 0..6 {
                let before = pane.eye.zoom;
                pane.eye = Eye::fitting(&self.extent(scene, before), rect);
                if (pane.eye.zoom / before - 1.0).abs() < 0.01 {
                    break;
                }
            }
            pane.fitted = Some(Fitted { wall, size, moved: false });
        }
    }

    /// Wheel, pinch, two fingers, middle button, space: all that moves the eye.
    fn move_eye(&self, ui: &Ui, rect: Rect, drawing: Rect, pane: &mut PaneState) {
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
        if let (true, Some(hand)) = (over, hand) {
            pane.eye = pane.eye.zoomed(pinch * (0.16 * wheel).exp(), hand, drawing).panned(slide);
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

    /// Gives everything in the view a name that can be read aloud and pressed. These lie under the
    /// view itself, which does its own, finer, picking.
    fn name_items(
        &self,
        ui: &Ui,
        rect: Rect,
        scene: &Scene<'_>,
        targets: &Targets,
        out: &mut Vec<Command>,
    ) {
        let place = match self.space {
            Space::Plan => "plan",
            Space::Elevation => "elevation",
        };
        for (item, covers) in targets.items(rect) {
            let picked = scene.session.picked.as_ref() == Some(&item);
            let response = ui.interact(covers, view_id(self.space).with(&item), Sense::CLICK);
            response.widget_info(|| {
                let label = format!("{}, {place}", item_words(scene, &item));
                WidgetInfo::selected(Part::ListItem, true, picked, label)
            });
            if response.clicked() {
                out.push(Command::Pick(Some(item)));
            }
        }
    }

    /// While a view has the keyboard, Tab and the arrows are its own.
    fn hold_keys(&self, ui: &Ui, response: &Response) {
        if response.clicked() || response.drag_started() {
            response.request_focus();
        }
        let filter = EventFilter {
            tab: true,
            horizontal_arrows: true,
            vertical_arrows: true,
            escape: false,
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    }

    /// The point of the drag's own space under a point of the screen.
    fn point(&self, sight: &Sight, p: Pos2) -> PlanPoint {
        let [x, y] = sight.model(p);
        PlanPoint::new(if self.mirrored { -x } else { x }, y)
    }

    /// Where a point of the drag's own space falls on the screen.
    fn screen(&self, sight: &Sight, p: PlanPoint) -> Pos2 {
        sight.screen(if self.mirrored { -p.x } else { p.x }, p.y)
    }

    /// What the hand does in this view. Gives the mark where a first click would fall.
    #[allow(clippy::too_many_arguments)]
    fn hand(
        &self,
        ui: &Ui,
        response: &Response,
        scene: &Scene<'_>,
        state: &mut DrawState,
        sight: &Sight,
        targets: &Targets,
        hold: &mut Hold,
        out: &mut Vec<Command>,
    ) -> Option<(PlanPoint, Option<crate::gesture::Snap>)> {
        let hand = response.interact_pointer_pos().or_else(|| response.hover_pos());
        if state.hovered.as_ref().is_some_and(|(space, _)| *space == self.space) {
            state.hovered = None;
        }
        let moving = ui.input(|i| i.pointer.middle_down() || i.key_down(Key::Space));
        let Some(hand) = hand else { return None };
        if moving || hold.drop {
            return None;
        }
        state.active =
            if response.hovered() || response.dragged() { self.space } else { state.active };
        let job = scene.session.history.job();
        let snapping = Snapping {
            job,
            layout: scene.base,
            reach: sight.mm(SNAP),
            held_off: ui.input(|i| i.modifiers.alt),
        };
        let at = self.point(sight, hand);
        if scene.session.tool == Tool::Pick {
            self.pick_and_drag(
                ui, response, scene, state, sight, targets, hold, out, at, &snapping,
            );
            return None;
        }
        self.use_tool(ui, response, scene, state, sight, hold, at, &snapping)
    }

    #[allow(clippy::too_many_arguments)]
    fn pick_and_drag(
        &self,
        ui: &Ui,
        response: &Response,
        scene: &Scene<'_>,
        state: &mut DrawState,
        sight: &Sight,
        targets: &Targets,
        hold: &mut Hold,
        out: &mut Vec<Command>,
        at: PlanPoint,
        snapping: &Snapping<'_>,
    ) {
        if response.drag_started_by(PointerButton::Primary) && hold.gesture.is_none() {
            let origin =
                ui.input(|i| i.pointer.press_origin()).unwrap_or_else(|| self.screen(sight, at));
            let under = targets.under(origin, self.space);
            let from = self.point(sight, origin);
            let first = state.cycle.min(under.len().saturating_sub(1));
            let taken = under.iter().skip(first).chain(under.iter().take(first)).find_map(|item| {
                let grip = match self.space {
                    Space::Plan => Grip::on_plan(item),
                    Space::Elevation => Grip::on_elevation(
                        item,
                        from,
                        sight.mm(6.0),
                        scene.session.history.job(),
                        scene.base,
                    ),
                };
                grip.map(|g| (item.clone(), g))
            });
            self.pane(state).panning = taken.is_none();
            if let Some((item, grip)) = taken {
                let picked = grip.item().unwrap_or(item);
                if scene.session.picked.as_ref() != Some(&picked) {
                    out.push(Command::Pick(Some(picked)));
                }
                hold.gesture = Some(Gesture::new(grip, self.space, from));
            }
        }
        if self.pane(state).panning && response.dragged_by(PointerButton::Primary) {
            let by = ui.input(|i| i.pointer.delta());
            let pane = self.pane(state);
            pane.eye = pane.eye.panned(by);
            if let Some(fitted) = &mut pane.fitted {
                fitted.moved = true;
            }
        }
        let mine = hold.gesture.as_ref().is_some_and(|g| g.space == self.space && !g.grip.is_new());
        let released = response.drag_stopped();
        if let (true, Some(gesture)) = (mine && (response.dragged() || released), &mut hold.gesture)
        {
            (gesture.now, gesture.snap) = snapping.settle(gesture, at);
            gesture.forget_snap_when_typed();
            hold.drop |= released;
        }
        if released {
            self.pane(state).panning = false;
        }
        if hold.gesture.is_some() || self.pane(state).panning {
            return;
        }
        let under = targets.under(self.screen(sight, at), self.space);
        if under != self.pane(state).pressed {
            state.cycle = 0;
            self.pane(state).pressed.clone_from(&under);
        }
        let item = (!under.is_empty()).then(|| under[state.cycle % under.len()].clone());
        if response.clicked_by(PointerButton::Primary) && item != scene.session.picked {
            out.push(Command::Pick(item.clone()));
        }
        if response.double_clicked_by(PointerButton::Primary)
            && self.space == Space::Plan
            && let Some(ItemRef::Wall(wall)) = &item
        {
            out.push(Command::ShowWall(wall.clone()));
            state.elevation.fitted = None;
            if state.filled == Some(Space::Plan) {
                state.filled = None;
            }
        }
        state.hovered = item.filter(|_| response.hovered()).map(|item| (self.space, item));
    }

    #[allow(clippy::too_many_arguments)]
    fn use_tool(
        &self,
        ui: &Ui,
        response: &Response,
        scene: &Scene<'_>,
        state: &mut DrawState,
        sight: &Sight,
        hold: &mut Hold,
        at: PlanPoint,
        snapping: &Snapping<'_>,
    ) -> Option<(PlanPoint, Option<crate::gesture::Snap>)> {
        let drawing_lines = matches!(scene.session.tool, Tool::Room | Tool::Wall | Tool::Beam);
        let here = self.space == Space::Plan || !drawing_lines;
        if !here || scene.session.tool == Tool::Post && self.space == Space::Elevation {
            return None;
        }
        let drawn_before = !state.drawn.is_empty();
        if drawing_lines && !drawn_before && response.drag_started_by(PointerButton::Primary) {
            // Press and drag draws a line as well as click and click.
            let origin =
                ui.input(|i| i.pointer.press_origin()).unwrap_or_else(|| self.screen(sight, at));
            state.drawn.push(snapping.point(self.point(sight, origin), None, None).0);
        }
        let before = hold.gesture.take();
        let (mut gesture, mark) = tools::hang(scene, state, self.space, at, snapping);
        if let (Some(new), Some(old)) = (&mut gesture, &before)
            && std::mem::discriminant(&new.grip) == std::mem::discriminant(&old.grip)
        {
            new.typed.clone_from(&old.typed);
            new.forget_snap_when_typed();
        }
        hold.gesture = gesture;
        let pressed = response.clicked_by(PointerButton::Primary)
            || response.drag_stopped_by(PointerButton::Primary);
        let keep_tool = ui.input(|i| i.modifiers.shift);
        if pressed {
            match &mark {
                Some((start, _)) if state.drawn.is_empty() => state.drawn.push(*start),
                _ => tools::confirm(scene, state, hold, keep_tool),
            }
        }
        ui.ctx().set_cursor_icon(CursorIcon::Crosshair);
        mark
    }

    #[allow(clippy::too_many_arguments)]
    fn paint(
        &self,
        ui: &Ui,
        scene: &Scene<'_>,
        state: &DrawState,
        sight: &Sight,
        picture: &Picture,
        targets: &Targets,
        hold: &Hold,
        response: &Response,
        mark: Option<(PlanPoint, Option<crate::gesture::Snap>)>,
    ) {
        let theme = scene.theme;
        let whole = response.rect;
        let painter = ui.painter_at(whole);
        painter.rect_filled(whole, 0.0, theme.sheet);
        let picked = scene.session.picked.clone();
        let lit = picked.as_ref().map(|p| overlay::lit_with(scene, p)).unwrap_or_default();
        let hovered = state.hovered.as_ref().map(|(_, item)| item);
        let emphasis = |item: &ItemRef| {
            if picked.as_ref() == Some(item) || lit.contains(item) {
                Emphasis::Picked
            } else if hovered == Some(item) {
                Emphasis::Hovered
            } else {
                Emphasis::None
            }
        };
        let canvas = ui.painter_at(sight.rect);
        paint(&canvas, sight, picture, theme, emphasis);
        // In the elevation the wall is the whole drawing: an outline round it says nothing.
        let worth =
            |item: &ItemRef| !(self.space == Space::Elevation && matches!(item, ItemRef::Wall(_)));
        if let Some(item) = hovered.filter(|i| worth(i) && picked.as_ref() != Some(*i)) {
            overlay::outline(&canvas, targets, item, theme, Emphasis::Hovered);
        }
        if let Some(item) = picked.as_ref().filter(|i| worth(i)) {
            overlay::outline(&canvas, targets, item, theme, Emphasis::Picked);
        }
        if self.space == Space::Plan {
            if let Some(wall) = self.measured_wall(scene) {
                let opening = match &picked {
                    Some(ItemRef::Opening(name)) => Some(name),
                    _ => None,
                };
                overlay::running(&canvas, sight, theme, wall, opening);
            }
            overlay::nodes(&canvas, sight, scene, emphasis);
        }
        self.paint_hand(&canvas, scene, state, sight, hold, response, mark);
        self.paint_empty(&canvas, scene, sight);
        let zero = self.zero(scene);
        rulers(&painter, sight, theme, zero, response.hover_pos());
        if response.has_focus() && ui.input(|i| i.key_down(Key::Tab)) {
            painter.rect_stroke(
                whole,
                0.0,
                egui::Stroke::new(1.0, theme.accent),
                egui::StrokeKind::Inside,
            );
        }
        if hold.gesture.as_ref().is_some_and(|g| !g.grip.is_new()) {
            ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
        } else if response.hovered() && hovered.is_some() && scene.session.tool == Tool::Pick {
            ui.ctx().set_cursor_icon(CursorIcon::PointingHand);
        }
    }

    /// The wall whose running dimension is shown on the plan: the one picked, or of what is picked.
    fn measured_wall<'s>(&self, scene: &'s Scene<'_>) -> Option<&'s WallLayout> {
        scene.layout.wall(&wall_of(scene, scene.session.picked.as_ref()?)?)
    }

    fn zero(&self, scene: &Scene<'_>) -> Zero {
        match self.wall {
            Some(wall) => {
                let start = wall.spec.along().low;
                Zero {
                    at: [if self.mirrored { -start } else { start }, 0.0],
                    mirrored: self.mirrored,
                }
            }
            None => Zero { at: [scene.job.datum.at.x, scene.job.datum.at.y], mirrored: false },
        }
    }

    #[allow(clippy::too_many_arguments)]
    fn paint_hand(
        &self,
        painter: &egui::Painter,
        scene: &Scene<'_>,
        state: &DrawState,
        sight: &Sight,
        hold: &Hold,
        response: &Response,
        mark: Option<(PlanPoint, Option<crate::gesture::Snap>)>,
    ) {
        let theme = scene.theme;
        let place = |p: PlanPoint| self.screen(sight, p);
        if let Some(gesture) = hold.gesture.as_ref().filter(|g| g.space == self.space) {
            let job = scene.session.history.job();
            let hand = gesture.carried(gesture.from, job);
            let mut points: Vec<Pos2> = state.drawn.iter().map(|p| place(*p)).collect();
            if matches!(gesture.grip, Grip::NewRoom(_) | Grip::NewWall(_) | Grip::NewBeam(_)) {
                points.push(place(hand));
                overlay::drawn(painter, theme, &points);
            }
            if let Some(snap) = &gesture.snap {
                overlay::guides(painter, sight, theme, snap, place);
            }
            let at = response
                .interact_pointer_pos()
                .or_else(|| response.hover_pos())
                .unwrap_or_else(|| place(gesture.now));
            let snap = gesture.snap.as_ref().map(|s| s.label.as_str());
            overlay::at_hand(
                painter,
                theme,
                sight.rect,
                at,
                &gesture.reading(job),
                &gesture.typed,
                snap,
            );
        } else if let Some((at, snap)) = mark {
            let on_screen = place(at);
            overlay::ring(painter, on_screen, theme);
            if let Some(snap) = snap {
                overlay::guides(painter, sight, theme, &snap, place);
                overlay::at_hand(painter, theme, sight.rect, on_screen, "", "", Some(&snap.label));
            }
        }
    }

    fn paint_empty(&self, painter: &egui::Painter, scene: &Scene<'_>, sight: &Sight) {
        let lines: &[&str] = match self.space {
            Space::Plan if scene.job.walls.is_empty() && scene.job.shell.outline.is_empty() => &[
                "An empty sheet",
                "Room draws what stands, corner by corner.",
                "Wall draws a partition.",
            ],
            Space::Elevation if self.wall.is_none() => {
                &["No wall to show", "Draw a wall on the plan: its elevation comes here."]
            }
            _ => return,
        };
        if scene.session.gesture.is_none() {
            overlay::nothing(painter, sight.rect, scene.theme, lines);
        }
    }
}

/// The wall of the elevation: the one that is shown, or the one something new is being put in.
pub(super) fn shown_wall<'s>(scene: &Scene<'s>) -> Option<&'s Name> {
    let placed = scene.session.gesture.as_ref().and_then(|g| match &g.grip {
        Grip::NewOpening { wall, .. }
        | Grip::NewPoint { wall, .. }
        | Grip::NewFitting { wall, .. } => Some(wall),
        Grip::NewWall(wall) => Some(&wall.name),
        _ => None,
    });
    placed.filter(|w| scene.layout.wall(w).is_some()).or(scene.session.wall.as_ref())
}

/// The wall something is, or is in.
pub(super) fn wall_of(scene: &Scene<'_>, item: &ItemRef) -> Option<Name> {
    match item {
        ItemRef::Wall(wall) | ItemRef::Member { wall, .. } | ItemRef::NogginRow { wall, .. } => {
            Some(wall.clone())
        }
        ItemRef::Opening(name) => scene.job.opening(name).map(|(w, _)| w.name.clone()),
        ItemRef::Point(name) => scene.job.point(name).map(|(w, _)| w.name.clone()),
        ItemRef::Fitting(name) => scene.job.fitting(name).map(|(w, _)| w.name.clone()),
        _ => None,
    }
}
