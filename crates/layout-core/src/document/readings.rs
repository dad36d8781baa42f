//! What was read on site with the level, and how soles are packed up from it.

use serde::{Deserialize, Serialize};

use crate::id::Surface;
use crate::math::PlanPoint;

/// What a sole plate stands on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Floor {
    /// The structural slab, before insulation and screed.
    Slab,
    /// The finished floor (a deck or screed already down).
    #[default]
    Finished,
}

/// A level read in the room.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Where on the plan.
    #[serde(with = "super::xy")]
    pub at: PlanPoint,
    /// The level there, mm above FFL.
    pub level: f64,
}

/// How the lowest plate lies over a floor that was read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Bedding {
    /// Packed up level with the highest place under it.
    #[default]
    Level,
    /// In one straight line that touches the floor from above, with the least packing.
    Straight,
    /// On the floor, as it runs.
    Following,
}

/// How soles are fixed and packed: settings of the whole job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Packing {
    /// Thicknesses of the shims to be had, mm.
    pub shims: Vec<f64>,
    /// The highest packer that is allowed, mm.
    pub most: f64,
    /// No two fixings of a plate further apart than this, mm.
    pub apart: f64,
    /// Distance of the first and last fixing from the ends of a plate, mm; 150 at the most.
    pub from_end: f64,
    /// Studs whose lengths differ by no more than this are cut alike, mm.
    pub alike: f64,
}

impl Default for Packing {
    fn default() -> Packing {
        Packing {
            shims: vec![1.0, 2.0, 3.0, 5.0, 10.0, 20.0],
            most: 40.0,
            apart: 600.0,
            from_end: 100.0,
            alike: 1.0,
        }
    }
}

/// How wet the timber is, per cent of its dry weight.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moisture {
    /// When it is built in.
    pub now: f64,
    /// When the building has been in use for a year.
    pub in_use: f64,
}

impl Default for Moisture {
    fn default() -> Moisture {
        Moisture { now: 20.0, in_use: 12.0 }
    }
}

/// Above this timber neither grows nor shrinks, per cent.
const SATURATED: f64 = 30.0;
/// Change across the grain for one per cent of moisture (EN 336).
const PER_CENT: f64 = 0.0025;

impl Moisture {
    /// What `size` mm across the grain becomes in use. Length along the grain does not change.
    pub fn in_use_size(self, size: f64) -> f64 {
        let change = self.in_use.min(SATURATED) - self.now.min(SATURATED);
        size * (1.0 + PER_CENT * change)
    }
}

/// How frames come to stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Raising {
    /// Plates first, then stud by stud.
    #[default]
    InPlace,
    /// Nailed together on the floor and tilted up whole.
    Tilted,
}

/// What happens to soles where a doorway is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum SolesAtDoors {
    /// A sole that the floor build-up buries runs on through; one that stands above FFL is cut out.
    #[default]
    BuriedRunThrough,
    /// Every sole is cut out.
    AllCutOut,
}

/// The section of a riser, seen from above. The others are made of plain uprights nailed together.
///
/// ```text
///   plain  ┃      T  ┃━━      I  ┃━━┃
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum RiserShape {
    /// One upright.
    #[default]
    Plain,
    /// An upright with one turned flat against its side.
    T,
    /// Two uprights with one turned flat between them.
    I,
}

/// The levels that were read in the room.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// Which floor the floor's levels are of, here and along walls.
    #[serde(default = "slab", skip_serializing_if = "is_slab")]
    pub floor_is: Floor,
    /// Levels of the floor.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub floor: Vec<Reading>,
    /// Levels of the ceiling.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ceiling: Vec<Reading>,
}

impl Default for Readings {
    fn default() -> Readings {
        Readings { floor_is: slab(), floor: Vec::new(), ceiling: Vec::new() }
    }
}

impl Readings {
    /// Those of one surface.
    pub fn of(&self, surface: Surface) -> &Vec<Reading> {
        match surface {
            Surface::Floor => &self.floor,
            Surface::Ceiling => &self.ceiling,
        }
    }

    /// Those of one surface, to change.
    pub fn of_mut(&mut self, surface: Surface) -> &mut Vec<Reading> {
        match surface {
            Surface::Floor => &mut self.floor,
            Surface::Ceiling => &mut self.ceiling,
        }
    }
}

fn slab() -> Floor {
    Floor::Slab
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_slab(floor: &Floor) -> bool {
    *floor == slab()
}
