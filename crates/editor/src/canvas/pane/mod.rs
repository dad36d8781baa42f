//! One view, plan or elevation: the eye, the drawing, what can be picked in it, and what the hand
//! does there.

mod hand;
mod show;
mod sight;
mod wall;

use std::sync::Arc;

use egui::accesskit::Role as Part;
use egui::{EventFilter, Id, Pos2, Rect, Response, Sense, Ui, Vec2, WidgetInfo};
use layout_core::document::Face;
use layout_core::layout::WallLayout;
use layout_core::math::PlanPoint;
use sheets::picture::Picture;
use sheets::views::{ElevationOptions, PlanOptions, elevation, plan};

use super::eye::{PX_PER_PAPER_MM, Sight};
use super::rulers::RULER;
use super::target::Targets;
use super::tools::Hold;
use super::words::item_words;
use super::{DrawState, DrawnFrom, PaneState};
use crate::command::Command;
use crate::gesture::{Snap, Space};
use crate::scene::Scene;
pub(super) use wall::{shown_wall, wall_of};

/// The id of a view, for the keyboard.
pub(super) fn view_id(space: Space) -> Id {
    Id::unique(("drawing", space))
}

/// What a view may change and ask for.
pub struct Ask<'a> {
    /// What the views remember.
    pub state: &'a mut DrawState,
    /// What the hand holds.
    pub hold: &'a mut Hold,
    /// What is asked for.
    pub out: &'a mut Vec<Command>,
}

/// The plan, in `rect`.
pub fn plan_ui(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, ask: &mut Ask<'_>) {
    Side { space: Space::Plan, wall: None, mirrored: false }.show(ui, rect, scene, ask);
}

/// The elevation of the wall that is shown, in `rect`.
pub fn elevation_ui(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, ask: &mut Ask<'_>) {
    let wall = shown_wall(scene).and_then(|w| scene.layout.wall(w));
    let mirrored = scene.session.face == Face::Left;
    Side { space: Space::Elevation, wall, mirrored }.show(ui, rect, scene, ask);
}

/// What is looked at: the plan, or one face of a wall.
#[derive(Clone, Copy)]
struct Side<'a> {
    space: Space,
    wall: Option<&'a WallLayout>,
    mirrored: bool,
}

/// A view as it is in this frame.
struct View<'a> {
    side: Side<'a>,
    ui: &'a Ui,
    scene: &'a Scene<'a>,
    response: Response,
    sight: Sight,
    picture: Arc<Picture>,
    targets: Arc<Targets>,
}

/// Where a first click would fall, and why there.
type Mark = Option<(PlanPoint, Option<Snap>)>;

impl Side<'_> {
    fn show(&self, ui: &mut Ui, rect: Rect, scene: &Scene<'_>, ask: &mut Ask<'_>) {
        let drawing =
            Rect::from_min_max(rect.min + Vec2::new(RULER, 0.0), rect.max - Vec2::new(0.0, RULER));
        self.move_eye(ui, rect, drawing, self.pane(ask.state));
        self.fit(drawing, scene, self.pane(ask.state));
        let sight = Sight { rect: drawing, eye: self.pane(ask.state).eye };
        let pane = self.pane(ask.state);
        let picture = self.kept_picture(scene, pane);
        let targets = self.kept_targets(scene, pane, &picture, sight);
        self.name_items(ui, rect, scene, &targets, ask.out);
        let response = ui.interact(rect, view_id(self.space), Sense::click_and_drag());
        let name = match (self.space, self.wall) {
            (Space::Plan, _) => "Plan view".to_owned(),
            (Space::Elevation, Some(wall)) => format!("Elevation of wall {}", wall.name()),
            (Space::Elevation, None) => "Elevation".to_owned(),
        };
        response.widget_info(|| WidgetInfo::labeled(Part::Canvas, true, &name));
        self.hold_keys(ui, &response);
        let view = View { side: *self, ui, scene, response, sight, picture, targets };
        let mark = view.hand(ask);
        view.paint(ask, mark);
    }

    fn pane<'s>(&self, state: &'s mut DrawState) -> &'s mut PaneState {
        match self.space {
            Space::Plan => &mut state.plan,
            Space::Elevation => &mut state.elevation,
        }
    }

    /// The drawing, drawn again only when what it is of has changed or the eye came nearer.
    fn kept_picture(&self, scene: &Scene<'_>, pane: &mut PaneState) -> Arc<Picture> {
        let from = self.drawn_from(scene, pane.eye.zoom);
        if let Some((kept, picture)) = &pane.drawing
            && *kept == from
        {
            return picture.clone();
        }
        let picture = Arc::new(self.picture(scene, pane.eye.zoom));
        pane.drawing = Some((from, picture.clone()));
        picture
    }

    fn kept_targets(
        &self,
        scene: &Scene<'_>,
        pane: &mut PaneState,
        picture: &Picture,
        sight: Sight,
    ) -> Arc<Targets> {
        let from = self.drawn_from(scene, sight.eye.zoom);
        if let Some((kept, seen, targets)) = &pane.targets
            && (kept, seen) == (&from, &sight)
        {
            return targets.clone();
        }
        let targets = Arc::new(match (self.space, self.wall) {
            (Space::Plan, _) => Targets::plan(picture, &sight, scene.job, scene.layout),
            (Space::Elevation, Some(wall)) => {
                Targets::elevation(picture, &sight, wall, self.mirrored)
            }
            (Space::Elevation, None) => Targets::default(),
        });
        pane.targets = Some((from, sight, targets.clone()));
        targets
    }

    fn drawn_from(&self, scene: &Scene<'_>, zoom: f64) -> DrawnFrom {
        let wall = self.wall.map(|w| (w.name().clone(), self.mirrored));
        let (boards, zones) = (scene.session.boards, scene.session.zones);
        DrawnFrom { generation: scene.generation, wall, zoom, boards, zones }
    }

    fn picture(&self, scene: &Scene<'_>, zoom: f64) -> Picture {
        let scale = PX_PER_PAPER_MM / zoom;
        match (self.space, self.wall) {
            (Space::Plan, _) => plan(
                scene.job,
                scene.layout,
                &PlanOptions { scale, dimensions: false, boards: scene.session.boards },
            ),
            (Space::Elevation, Some(wall)) => {
                let face = if self.mirrored { Face::Left } else { Face::Right };
                elevation(
                    scene.job,
                    scene.layout,
                    wall,
                    &ElevationOptions {
                        scale,
                        face,
                        dimensions: true,
                        boards: scene.session.boards,
                        zones: scene.session.zones,
                    },
                )
            }
            (Space::Elevation, None) => Picture::default(),
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
}
