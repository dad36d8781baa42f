//! Plan and elevation on the screen: where the eye is, what is drawn, what is under the hand and
//! what the hand does about it.
//!
//! Everything here reads the [`crate::scene::Scene`] and asks with commands. [`DrawState`] is only
//! what the views remember between frames: where the eye is, what the pointer is on, the
//! corners of a room that is not a room yet.

mod cost;
mod eye;
mod copies;
mod keys;
mod overlay;
mod paint;
mod pane;
mod rulers;
mod under;
mod survey;
mod target;
mod tools;
mod words;

use std::sync::Arc;

use egui::Rect;
use layout_core::document::{Fitting, OpeningKind, PlatformKind, PointKind, Survey};
use layout_core::id::{ItemRef, Name, Surface};
use layout_core::math::PlanPoint;
use layout_core::survey::Solved;
use sheets::picture::Picture;

pub use copies::{behind, in_a_row, repeat};
pub use cost::{Cost, cost_ui};
pub use eye::{Extent, Eye, PX_PER_PAPER_MM, Sight};
pub use keys::keys;
pub use paint::{Emphasis, paint};
pub use pane::{Ask, elevation_ui, plan_ui};
pub use target::{LEAST_TARGET, Target, Targets};
pub use tools::Hold;
pub use words::{elevation_title, hand_ui, hint, item_words, typed};

use crate::gesture::Space;

/// What the views in Draw remember between frames. Losing it loses no work.
#[derive(Clone, Debug)]
pub struct DrawState {
    /// The eye over the plan.
    pub plan: PaneState,
    /// The eye over the elevation.
    pub elevation: PaneState,
    /// The share of the place the plan has.
    pub split: f32,
    /// The view that fills the place; `None` for both.
    pub filled: Option<Space>,
    /// The view the hand was last in.
    pub active: Space,
    /// What the pointer is on, and in which view.
    pub hovered: Option<(Space, ItemRef)>,
    /// How often Tab was pressed over the same place: which of the things there is meant.
    pub cycle: usize,
    /// Corners drawn so far of a room, or where a wall or beam begins.
    pub drawn: Vec<PlanPoint>,
    /// The last eye request that was seen.
    pub seen: u64,
    /// The room as the table of measurements makes it, while that is shown.
    pub measuring: Option<Measuring>,
    /// What the next opening, point, fitting and platform will be.
    pub next: Next,
}

impl Default for DrawState {
    fn default() -> DrawState {
        DrawState {
            plan: PaneState::default(),
            elevation: PaneState::default(),
            split: 0.47,
            filled: None,
            active: Space::Plan,
            hovered: None,
            cycle: 0,
            drawn: Vec::new(),
            seen: 0,
            measuring: None,
            next: Next::default(),
        }
    }
}

/// The table of measurements while it is shown, with what is being typed in it.
#[derive(Clone, Debug)]
pub struct Measuring {
    /// What is measured.
    pub survey: Survey,
    /// The room it makes.
    pub solved: Option<Solved>,
    /// The line that is being typed in.
    pub row: Option<usize>,
    /// The line the keyboard goes to next.
    pub next: Option<usize>,
}

/// What one view remembers.
#[derive(Clone, Debug, Default)]
pub struct PaneState {
    /// Where the eye is.
    pub eye: Eye,
    /// The rectangle the eye looks through, on screen.
    pub rect: Option<Rect>,
    /// What the eye was last fitted to; `None` to fit it again.
    pub fitted: Option<Fitted>,
    /// What is under the pointer.
    pub under: Vec<ItemRef>,
    /// True while a press that took hold of nothing moves the drawing.
    pub panning: bool,
    /// The drawing as last worked out, and what it was worked out from.
    pub drawing: Option<(DrawnFrom, Arc<Picture>)>,
    /// What can be picked in it, and where the eye was.
    pub targets: Option<(DrawnFrom, Sight, Arc<Targets>)>,
}

/// What a drawing was worked out from: it is drawn again when any of this changes.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnFrom {
    /// The change of the job.
    pub generation: u64,
    /// The wall of an elevation, and whether its left face is seen.
    pub wall: Option<(Name, bool)>,
    /// How near the eye was: lettering is laid out for it.
    pub zoom: f64,
    /// The layer of boards an elevation shows.
    pub boards: Option<usize>,
    /// True while it shows the zones of cables.
    pub zones: bool,
}

/// What an eye was fitted to: a plan, or the elevation of a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The wall of the elevation, and whether its left face is seen.
    pub wall: Option<(Name, bool)>,
    /// The size of the view.
    pub size: [i32; 2],
    /// What there was to see: its box in whole millimetres, least x and y, then most.
    pub reach: [i64; 4],
    /// True once the eye was moved by hand; it is then left where it is when the view changes size.
    pub moved: bool,
}

/// What the next thing put in will be.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// The next opening that is not a door.
    pub opening: OpeningKind,
    /// The next door.
    pub door: OpeningKind,
    /// The next first-fix point.
    pub point: PointKind,
    /// The next fitting, named by its stem.
    pub fitting: Fitting,
    /// The next platform.
    pub platform: PlatformKind,
    /// The level of the next platform, mm.
    pub level: f64,
    /// What the next level is read on, where the plan does not tell.
    pub surface: Surface,
    /// True when the number typed for a level is how far it is from the laser line.
    pub from_laser: bool,
}

impl Default for Next {
    fn default() -> Next {
        Next {
            opening: OpeningKind::BorrowedLight { width: 900.0, height: 600.0, sill: 1200.0 },
            door: OpeningKind::Door(layout_core::document::Door::default()),
            point: PointKind::Socket,
            fitting: Fitting {
                name: "Shelf".into(),
                face: layout_core::document::Face::Right,
                from: layout_core::document::MeasuredFrom::Start,
                distance: 0.0,
                width: 600.0,
                depth: Fitting::USUAL_DEPTH,
                bottom: 850.0,
                top: 1050.0,
                fixings: vec![950.0],
                behind: layout_core::document::Behind::Noggin,
                tolerance: Fitting::USUAL_TOLERANCE,
            },
            platform: PlatformKind::LowCeiling,
            level: 2200.0,
            surface: Surface::Floor,
            from_laser: true,
        }
    }
}
