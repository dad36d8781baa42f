//! First-fix points: boxes, pipes and ducts on a face of a wall, and what their places are measured from.

use serde::{Deserialize, Serialize};

use super::is_default;
use super::{Face, WallEnd};
use crate::id::Name;

/// What kind of first-fix point it is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PointKind {
    /// Light switch.
    Switch,
    /// Socket outlet.
    #[default]
    Socket,
    /// Fused spur.
    Spur,
    /// Wall light.
    Light,
    /// Data outlet.
    Data,
    /// Thermostat.
    Thermostat,
    /// Fan.
    Fan,
    /// Extract duct.
    Duct,
    /// Pipe drop.
    Pipe,
    /// Waste.
    Waste,
    /// Valve.
    Valve,
    /// The user's own.
    Other(String),
}

impl PointKind {
    /// What it is called on screen and paper.
    pub fn label(&self) -> &str {
        match self {
            PointKind::Switch => "switch",
            PointKind::Socket => "socket",
            PointKind::Spur => "spur",
            PointKind::Light => "light",
            PointKind::Data => "data",
            PointKind::Thermostat => "thermostat",
            PointKind::Fan => "fan",
            PointKind::Duct => "duct",
            PointKind::Pipe => "pipe",
            PointKind::Waste => "waste",
            PointKind::Valve => "valve",
            PointKind::Other(name) => name,
        }
    }
}

impl PointKind {
    /// True for what is wired: cables run to it, and the zones they keep to are counted from it.
    pub fn is_wired(&self) -> bool {
        !matches!(
            self,
            PointKind::Duct
                | PointKind::Pipe
                | PointKind::Waste
                | PointKind::Valve
                | PointKind::Other(_)
        )
    }

    /// True for a switch or socket that anyone is to reach: its height is looked at.
    pub fn is_by_hand(&self) -> bool {
        matches!(self, PointKind::Switch | PointKind::Socket | PointKind::Spur | PointKind::Data)
    }

    /// The hole its service usually takes through timber, mm: a 20 mm bit for cables, pipe and lagging, a 40 mm
    /// waste. Common practice; the real one is measured.
    pub fn usual_hole(&self) -> f64 {
        match self {
            PointKind::Pipe | PointKind::Valve | PointKind::Other(_) => 25.0,
            PointKind::Waste => 45.0,
            PointKind::Duct => 110.0,
            _ => 20.0,
        }
    }

    /// True for a box that hangs on timber; pipes and ducts only go through.
    pub fn is_box(&self) -> bool {
        !matches!(
            self,
            PointKind::Fan
                | PointKind::Duct
                | PointKind::Pipe
                | PointKind::Waste
                | PointKind::Valve
                | PointKind::Other(_)
        )
    }
}

/// A first-fix point on a face of a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// Its name, unique among the points of the job.
    pub name: Name,
    /// What it is.
    pub kind: PointKind,
    /// The face it is on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face: Face,
    /// What its distance is measured from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: MeasuredFrom,
    /// Distance along the wall to its centre.
    pub distance: f64,
    /// Height of its centre above FFL.
    pub height: f64,
    /// Width and height of its box or hole.
    #[serde(default = "usual_box", skip_serializing_if = "is_usual_box")]
    pub size: (f64, f64),
    /// How far it goes into the wall behind the boards.
    #[serde(default = "usual_depth", skip_serializing_if = "is_usual_depth")]
    pub depth: f64,
    /// What a box hangs on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hung: Hung,
    /// How its service comes to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed: Option<Feed>,
    /// True when common studs in its way are cut out between two trimmers.
    #[serde(default, skip_serializing_if = "is_default")]
    pub headed: bool,
}

/// What the place of a point or fitting along its wall is measured from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum MeasuredFrom {
    /// The node the wall starts at, towards its end.
    #[default]
    Start,
    /// The node it ends at, back towards its start.
    End,
    /// The corner of the room at that end: where the finished face stops.
    Corner(WallEnd),
    /// The side of an opening's structural hole nearer that end, away from the opening.
    Opening(Name, WallEnd),
    /// Another point, towards the wall's end; a negative distance goes back towards its start.
    Point(Name),
}

impl MeasuredFrom {
    /// 1 when distances grow towards the wall's end, -1 when they grow towards its start.
    pub fn way(&self) -> f64 {
        match self {
            MeasuredFrom::Start
            | MeasuredFrom::Corner(WallEnd::Start)
            | MeasuredFrom::Opening(_, WallEnd::End)
            | MeasuredFrom::Point(_) => 1.0,
            MeasuredFrom::End
            | MeasuredFrom::Corner(WallEnd::End)
            | MeasuredFrom::Opening(_, WallEnd::Start) => -1.0,
        }
    }

    /// “start of wall”, “corner at the end”, “side of D1”, “X2”.
    pub fn label(&self) -> String {
        match self {
            MeasuredFrom::Start => "start of wall".into(),
            MeasuredFrom::End => "end of wall".into(),
            MeasuredFrom::Corner(WallEnd::Start) => "corner at the start".into(),
            MeasuredFrom::Corner(WallEnd::End) => "corner at the end".into(),
            MeasuredFrom::Opening(name, WallEnd::Start) => format!("near side of {name}"),
            MeasuredFrom::Opening(name, WallEnd::End) => format!("far side of {name}"),
            MeasuredFrom::Point(name) => name.to_string(),
        }
    }
}

/// What a box hangs on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hung {
    /// The stud or noggin beside it; where there is none a noggin is put in.
    #[default]
    Timber,
    /// The board alone: a box with lugs.
    Board,
}

/// A cable, pipe or duct that comes straight down or up to a point through plates and noggins.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Feed {
    /// Where it comes from.
    pub from: FeedFrom,
    /// The hole it takes, mm across.
    pub hole: f64,
}

/// Where a feed comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum FeedFrom {
    /// From over the wall, through its head.
    Above,
    /// From under the floor, through its sole.
    Below,
}

impl Point {
    /// The depth of a box while nothing better is known: 47 mm, the deep one. Common practice.
    pub const USUAL_DEPTH: f64 = 47.0;

    /// A point of a kind on a face, its distance from the start of the wall, its height above FFL.
    pub fn new(
        name: impl Into<Name>,
        kind: PointKind,
        face: Face,
        distance: f64,
        height: f64,
    ) -> Point {
        Point {
            name: name.into(),
            kind,
            face,
            from: MeasuredFrom::Start,
            distance,
            height,
            size: usual_box(),
            depth: Point::USUAL_DEPTH,
            hung: Hung::Timber,
            feed: None,
            headed: false,
        }
    }
}

fn usual_depth() -> f64 {
    Point::USUAL_DEPTH
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_depth(value: &f64) -> bool {
    *value == usual_depth()
}

fn usual_box() -> (f64, f64) {
    (75.0, 75.0)
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_box(size: &(f64, f64)) -> bool {
    *size == usual_box()
}
