//! What is joisted out flat between walls: low ceilings, high-level shelves and bulkheads.

use serde::{Deserialize, Serialize};

use super::is_default;
use super::{Finish, Timber};
use crate::id::Name;
use crate::math::PlanPoint;

/// What a platform is, in words; and which of its faces its level is the level of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PlatformKind {
    /// A flat ceiling under the room's own. Its level is its finished underside.
    #[default]
    LowCeiling,
    /// A shelf at high level. Its level is its finished top.
    Shelf,
    /// A box-down along a wall. Its level is its finished underside.
    Bulkhead,
}

impl PlatformKind {
    /// All of them.
    pub const ALL: [PlatformKind; 3] =
        [PlatformKind::LowCeiling, PlatformKind::Shelf, PlatformKind::Bulkhead];

    /// What it is called on screen and paper.
    pub fn label(self) -> &'static str {
        match self {
            PlatformKind::LowCeiling => "low ceiling",
            PlatformKind::Shelf => "shelf",
            PlatformKind::Bulkhead => "bulkhead",
        }
    }

    /// What its names begin with.
    pub fn stem(self) -> &'static str {
        match self {
            PlatformKind::LowCeiling => "LC",
            PlatformKind::Shelf => "SH",
            PlatformKind::Bulkhead => "BH",
        }
    }
}

/// Which way the joists run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Span {
    /// Across the shorter way; along its depth when both are the same.
    #[default]
    Shorter,
    /// Along its width.
    Width,
    /// Along its depth.
    Depth,
}

/// How the ends of the joists are carried at one side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Bearing {
    /// A wall plate fixed along the wall; the joists stop against it.
    #[default]
    Plate,
    /// The joists run up to the wall, each in a hanger.
    Hangers,
    /// No wall: a rim across the ends of the joists, carried by the walls at its own ends.
    Rim,
    /// No wall: a front hung from the ceiling above, plates with short studs between.
    Front,
}

impl Bearing {
    /// All of them.
    pub const ALL: [Bearing; 4] = [Bearing::Plate, Bearing::Hangers, Bearing::Rim, Bearing::Front];

    /// What it is called on screen and paper.
    pub fn label(self) -> &'static str {
        match self {
            Bearing::Plate => "wall plate",
            Bearing::Hangers => "hangers",
            Bearing::Rim => "rim",
            Bearing::Front => "front from the ceiling",
        }
    }
}

/// What a hole in a platform is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PlatformHoleKind {
    /// An extract fan or a duct: framed between two joists when it falls clear of them.
    #[default]
    Fan,
    /// A hatch: framed all round.
    Hatch,
}

impl PlatformHoleKind {
    /// What it is called on screen and paper.
    pub fn label(self) -> &'static str {
        match self {
            PlatformHoleKind::Fan => "fan",
            PlatformHoleKind::Hatch => "hatch",
        }
    }
}

/// A hole through a platform.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlatformHole {
    /// Its name, unique among the holes of all platforms.
    pub name: Name,
    /// What it is for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kind: PlatformHoleKind,
    /// Its middle, along the width and the depth from the platform's corner.
    pub at: (f64, f64),
    /// Its clear size along the width and the depth.
    pub size: (f64, f64),
}

/// A low ceiling, a shelf or a bulkhead.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Platform {
    /// Its name, unique among platforms and walls: both begin the marks of pieces.
    pub name: Name,
    /// What it is.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kind: PlatformKind,
    /// The corner of its timber that everything in it is measured from.
    #[serde(with = "super::xy")]
    pub corner: PlanPoint,
    /// Width along plan x and depth along plan y before it is turned, over the timber.
    pub size: (f64, f64),
    /// Turned anticlockwise about its corner, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn_deg: f64,
    /// Its finished underside above FFL; of a shelf its finished top.
    pub level: f64,
    /// Joists and all that goes with them.
    pub timber: Timber,
    /// Joist centres.
    pub centres: f64,
    /// Which way the joists run.
    #[serde(default, skip_serializing_if = "is_default")]
    pub span: Span,
    /// How their first and last ends are carried: left and right when they run along the width, near and
    /// far when they run along the depth.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bearings: (Bearing, Bearing),
    /// Timber of fronts, through the front as a stud is through a wall; `None` for the same as the joists.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub front: Option<Timber>,
    /// Boards and skim on the underside.
    #[serde(default, skip_serializing_if = "is_default")]
    pub below: Finish,
    /// Boards on top.
    #[serde(default, skip_serializing_if = "is_default")]
    pub above: Finish,
    /// No clear length of joist between noggins above this.
    #[serde(default = "usual_apart", skip_serializing_if = "is_usual_apart")]
    pub noggins_apart: f64,
    /// Load it is meant to carry besides itself, kN/m²; `None` when nobody has said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<f64>,
    /// Holes through it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub holes: Vec<PlatformHole>,
}

fn usual_apart() -> f64 {
    1350.0
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_apart(apart: &f64) -> bool {
    *apart == usual_apart()
}

impl Platform {
    /// A platform of the usual timber with nothing in it; a bulkhead has its front at the far end.
    pub fn new(
        name: impl Into<Name>,
        kind: PlatformKind,
        corner: PlanPoint,
        size: (f64, f64),
        level: f64,
    ) -> Platform {
        let board =
            || Finish { boards: vec![super::Board::new("standard", 12.5)], ..Finish::default() };
        let shelf = kind == PlatformKind::Shelf;
        let bulkhead = kind == PlatformKind::Bulkhead;
        Platform {
            name: name.into(),
            kind,
            corner,
            size,
            turn_deg: 0.0,
            level,
            timber: Timber::new(46.0, 97.0, "C16"),
            centres: 400.0,
            span: Span::default(),
            bearings: (Bearing::Plate, if bulkhead { Bearing::Front } else { Bearing::Plate }),
            front: None,
            below: if shelf { Finish::default() } else { board() },
            above: if shelf { board() } else { Finish::default() },
            noggins_apart: usual_apart(),
            load: None,
            holes: Vec::new(),
        }
    }

    /// True when the joists run along its width.
    pub fn spans_width(&self) -> bool {
        match self.span {
            Span::Shorter => self.size.0 < self.size.1,
            Span::Width => true,
            Span::Depth => false,
        }
    }

    /// Its four corners on the plan, anticlockwise from the one everything is measured from.
    pub fn corners(&self) -> [PlanPoint; 4] {
        let (w, d) = self.size;
        [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)].map(|(u, v)| self.plan(u, v))
    }

    /// The plan point `u` along its width and `v` along its depth.
    pub fn plan(&self, u: f64, v: f64) -> PlanPoint {
        let (sin, cos) = self.turn_deg.to_radians().sin_cos();
        PlanPoint::new(self.corner.x + u * cos - v * sin, self.corner.y + u * sin + v * cos)
    }

    /// How far a plan point is along its width and its depth.
    pub fn own(&self, p: PlanPoint) -> (f64, f64) {
        let (sin, cos) = self.turn_deg.to_radians().sin_cos();
        let d = p - self.corner;
        (d.x * cos + d.y * sin, d.y * cos - d.x * sin)
    }

    /// The hole called `name`.
    pub fn hole(&self, name: &Name) -> Option<&PlatformHole> {
        self.holes.iter().find(|h| h.name == *name)
    }
}
