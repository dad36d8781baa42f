//! Heights: the datum, the floor build-up and the ceiling. z = 0 is the finished floor (FFL).

use serde::{Deserialize, Serialize};

use super::readings::{Floor, Moisture, Packing, Raising, Readings};
use super::{Board, Finish, is_default};
use crate::id::Surface;
use crate::math::PlanPoint;

/// The point on the plan that everything is measured from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Datum {
    /// Where it is on the plan.
    #[serde(with = "super::xy")]
    pub at: PlanPoint,
    /// How the crew finds it: “inside corner by the slip door”.
    pub label: String,
}

impl Default for Datum {
    fn default() -> Datum {
        Datum { at: PlanPoint::origin(), label: "inside corner of the room".into() }
    }
}

/// One layer of the floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// “insulation”, “screed”, “deck” …
    pub name: String,
    /// Its thickness, mm.
    pub thickness: f64,
}

/// The levels of the job. All heights are above the finished floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Levels {
    /// The layers between the structural slab and the finished floor, from the slab up.
    #[serde(default)]
    pub build_up: Vec<Layer>,
    /// The ceiling or soffit the partitions go up to.
    pub ceiling: f64,
    /// The laser line the crew works from.
    #[serde(default = "usual_laser")]
    pub laser: f64,
    /// What was read in the room with the level.
    #[serde(default, skip_serializing_if = "is_default")]
    pub readings: Readings,
    /// How soles are fixed and packed.
    #[serde(default, skip_serializing_if = "is_default")]
    pub packing: Packing,
    /// How wet the timber is.
    #[serde(default, skip_serializing_if = "is_default")]
    pub moisture: Moisture,
    /// True when the finished floor floats: it lies on a layer that gives, and may not be loaded in a line.
    #[serde(default, skip_serializing_if = "is_default")]
    pub floating: bool,
    /// How frames come to stand.
    #[serde(default, skip_serializing_if = "is_default")]
    pub raising: Raising,
    /// The boards of the room's own ceiling; `None` when they are no part of the job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boarded: Option<CeilingBoards>,
}

fn usual_laser() -> f64 {
    1000.0
}

impl Default for Levels {
    fn default() -> Levels {
        Levels {
            build_up: Vec::new(),
            ceiling: 2400.0,
            laser: usual_laser(),
            readings: Readings::default(),
            packing: Packing::default(),
            moisture: Moisture::default(),
            floating: false,
            raising: Raising::default(),
            boarded: None,
        }
    }
}

impl Levels {
    /// Structural slab level: minus the thickness of the whole build-up.
    pub fn slab(&self) -> f64 {
        -self.build_up.iter().map(|l| l.thickness).sum::<f64>() + 0.0
    }

    /// The level a surface has where nothing was read.
    pub fn nominal(&self, surface: Surface) -> f64 {
        match (surface, self.readings.floor_is) {
            (Surface::Ceiling, _) => self.ceiling,
            (Surface::Floor, Floor::Slab) => self.slab(),
            (Surface::Floor, Floor::Finished) => 0.0,
        }
    }
}

/// When the room's ceiling is boarded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CeilingTurn {
    /// Before partitions stand: from wall to wall. Partitions go up to its underside.
    #[default]
    BeforePartitions,
    /// After them, between the boards of their faces. Partitions go up to the joists.
    AfterPartitions,
}

/// The boards of the room's own ceiling, and the joists or battens they are fixed to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CeilingBoards {
    /// Boards and skim, from the joists down.
    pub below: Finish,
    /// The way the joists or battens run, anticlockwise from plan x, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub joists_deg: f64,
    /// Their centres, mm.
    pub centres: f64,
    /// Middle of the first of them from the furthest the room goes on the left hand as one looks along them, mm.
    pub first: f64,
    /// How wide they are, mm.
    pub width: f64,
    /// When it is boarded.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn: CeilingTurn,
}

impl Default for CeilingBoards {
    /// One layer on joists of 46 at 400 along plan x.
    fn default() -> CeilingBoards {
        let boards = vec![Board::new("standard", 12.5)];
        CeilingBoards {
            below: Finish { boards, ..Finish::default() },
            joists_deg: 0.0,
            centres: 400.0,
            first: 23.0,
            width: 46.0,
            turn: CeilingTurn::default(),
        }
    }
}
