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
}
