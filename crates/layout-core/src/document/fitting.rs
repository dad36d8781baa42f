//! First-fix points and the things that will hang on a wall.

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
    /// The node its distance is measured from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: WallEnd,
    /// Distance along the wall to its centre.
    pub distance: f64,
    /// Height of its centre above FFL.
    pub height: f64,
    /// Width and height of its box or hole.
    #[serde(default = "usual_box", skip_serializing_if = "is_usual_box")]
    pub size: (f64, f64),
}

fn usual_box() -> (f64, f64) {
    (75.0, 75.0)
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_box(size: &(f64, f64)) -> bool {
    *size == usual_box()
}

/// Something that will hang on a face of a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fitting {
    /// Its name, unique among the fittings of the job: “Basin”, “Coat rail”.
    pub name: Name,
    /// The face it hangs on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face: Face,
    /// The node its distance is measured from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: WallEnd,
    /// Distance along the wall to its middle.
    pub distance: f64,
    /// Its width along the wall.
    pub width: f64,
    /// Height of its underside above FFL.
    pub bottom: f64,
    /// Height of its top above FFL.
    pub top: f64,
    /// Heights of its fixings above FFL.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fixings: Vec<f64>,
    /// What its fixings go into.
    #[serde(default, skip_serializing_if = "is_default")]
    pub behind: Behind,
    /// How far that may lie above or below a fixing where a box or pipe is in the way.
    #[serde(default = "usual_tolerance", skip_serializing_if = "is_usual_tolerance")]
    pub tolerance: f64,
}

/// What lies behind the boards for the fixings of a fitting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Behind {
    /// Noggins of the studs' section on the flat, flush with the face.
    #[default]
    Noggin,
    /// Ply let in between the studs, flush with the face.
    Ply {
        /// Height of the strip.
        height: f64,
        /// Its thickness.
        thickness: f64,
    },
    /// Nothing: it hangs on the boards.
    Nothing,
}

impl Behind {
    /// A strip of 18 mm ply, 200 high: common practice.
    pub const USUAL_PLY: Behind = Behind::Ply { height: 200.0, thickness: 18.0 };
}

fn usual_tolerance() -> f64 {
    Fitting::USUAL_TOLERANCE
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_tolerance(value: &f64) -> bool {
    *value == usual_tolerance()
}

impl Fitting {
    /// Noggins may lie this far from a fixing and still take it: a common one on the flat is about
    /// 100 high.
    pub const USUAL_TOLERANCE: f64 = 40.0;
}
