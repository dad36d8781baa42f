//! What will hang on a wall: basins, rails, shelves, cupboards.

use serde::{Deserialize, Serialize};

use super::is_default;
use super::{Face, MeasuredFrom};
use crate::id::Name;

/// Something that will hang on a face of a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fitting {
    /// Its name, unique among the fittings of the job: “Basin”, “Coat rail”.
    pub name: Name,
    /// The face it hangs on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub face: Face,
    /// What its distance is measured from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: MeasuredFrom,
    /// Distance along the wall to its middle.
    pub distance: f64,
    /// Its width along the wall.
    pub width: f64,
    /// How far it stands off the finished face.
    #[serde(default = "usual_depth", skip_serializing_if = "is_usual_depth")]
    pub depth: f64,
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

fn usual_depth() -> f64 {
    Fitting::USUAL_DEPTH
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_depth(value: &f64) -> bool {
    *value == usual_depth()
}

fn usual_tolerance() -> f64 {
    Fitting::USUAL_TOLERANCE
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_tolerance(value: &f64) -> bool {
    *value == usual_tolerance()
}

impl Fitting {
    /// How far a fitting stands off its wall while nothing better is known. Common practice.
    pub const USUAL_DEPTH: f64 = 150.0;
    /// Noggins may lie this far from a fixing and still take it: a common one on the flat is about
    /// 100 high.
    pub const USUAL_TOLERANCE: f64 = 40.0;
}
