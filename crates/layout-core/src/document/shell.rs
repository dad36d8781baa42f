//! What already stands: the room's outline, posts, beams and roof planes.

use serde::{Deserialize, Serialize};

use super::{Survey, is_default};
use crate::id::Name;
use crate::math::PlanPoint;

/// The building as it was found.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shell {
    /// The inside faces of the existing walls, corner after corner, anticlockwise. Empty when the
    /// room has not been drawn.
    #[serde(default)]
    pub outline: Vec<Corner>,
    /// The room as it was measured: what its outline is worked out from when it is asked for.
    #[serde(default, skip_serializing_if = "Survey::is_empty")]
    pub survey: Survey,
    /// Free-standing or built-in posts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub posts: Vec<Post>,
    /// Beams under the ceiling.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beams: Vec<Beam>,
    /// Sloping soffits.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub roof: Vec<RoofPlane>,
}

/// A corner of the room, and the existing wall that runs from it to the next corner.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Corner {
    /// The inside corner on the plan.
    #[serde(with = "super::xy")]
    pub at: PlanPoint,
    /// Thickness of the wall from here to the next corner, outwards.
    pub thickness: f64,
    /// Doors and windows already in that wall.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gaps: Vec<Gap>,
}

/// A door or window in an existing wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gap {
    /// Distance from the corner where the side starts to the gap's near edge.
    pub from: f64,
    /// Its width.
    pub width: f64,
    /// Its bottom above FFL: 0 for a door.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sill: f64,
}

/// A post.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Post {
    /// Its name, unique among posts.
    pub name: Name,
    /// Its middle on the plan.
    #[serde(with = "super::xy")]
    pub at: PlanPoint,
    /// Its size along plan x and y before it is turned.
    pub size: (f64, f64),
    /// Turned anticlockwise, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn_deg: f64,
    /// How deep plates are let into it, along the wall: 0 when they butt.
    #[serde(default, skip_serializing_if = "is_default")]
    pub housing: f64,
}

/// A beam under the ceiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Beam {
    /// Its name, unique among beams.
    pub name: Name,
    /// One end of its centre line.
    #[serde(with = "super::xy")]
    pub from: PlanPoint,
    /// The other end.
    #[serde(with = "super::xy")]
    pub to: PlanPoint,
    /// Its width on the plan.
    pub width: f64,
    /// Its underside above FFL.
    pub soffit: f64,
}

/// A sloping soffit: it rises to the left of the line from `from` to `to`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RoofPlane {
    /// Its name, unique among roof planes.
    pub name: Name,
    /// One end of a level line in the soffit (the eaves).
    #[serde(with = "super::xy")]
    pub from: PlanPoint,
    /// The other end.
    #[serde(with = "super::xy")]
    pub to: PlanPoint,
    /// Height of that line above FFL.
    pub level: f64,
    /// Slope, degrees from level; 0 for a flat ceiling of its own.
    pub pitch_deg: f64,
    /// The part of the plan it covers, corner after corner: there it takes the place of the ceiling. When
    /// empty it goes on everywhere, and the lowest of it, the ceiling and the other planes counts.
    #[serde(default, skip_serializing_if = "Vec::is_empty", with = "super::xy_list")]
    pub over: Vec<PlanPoint>,
}

impl Shell {
    /// The sides as (start, end) of their inside faces, in order round the room.
    pub fn sides(&self) -> impl Iterator<Item = (PlanPoint, PlanPoint)> + '_ {
        let n = self.outline.len();
        (0..if n < 2 { 0 } else { n })
            .map(move |i| (self.outline[i].at, self.outline[(i + 1) % n].at))
    }

    /// Twice the signed area of the outline: positive when it runs anticlockwise.
    pub fn twice_area(&self) -> f64 {
        self.sides().map(|(a, b)| a.x * b.y - b.x * a.y).sum()
    }
}
