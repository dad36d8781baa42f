//! Openings: doors, borrowed lights, hatches and plain openings, and what holds them in their wall.

use serde::{Deserialize, Serialize};

use super::is_default;
use super::{Door, DoorStyle, WallEnd};
use crate::id::Name;

/// Which edge of the structural hole a dimension goes to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum HoldTo {
    /// The edge nearer the end it is measured from.
    #[default]
    Near,
    /// The middle of the hole, which is the middle of the leaf.
    Centre,
    /// The far edge.
    Far,
}

/// The dimension that holds an opening in its wall, measured along the wall from one of its nodes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hold {
    /// The node it is measured from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: WallEnd,
    /// The edge it goes to.
    #[serde(default, skip_serializing_if = "is_default")]
    pub to: HoldTo,
    /// The distance, mm.
    pub distance: f64,
}

/// What kind of hole it is. Sizes other than a door's are structural sizes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum OpeningKind {
    /// A door in a lining.
    Door(Door),
    /// Fixed glazing between two rooms.
    BorrowedLight {
        /// Width of the hole.
        width: f64,
        /// Height of the hole.
        height: f64,
        /// Bottom of the hole above FFL.
        sill: f64,
    },
    /// A hatch.
    Hatch {
        /// Width of the hole.
        width: f64,
        /// Height of the hole.
        height: f64,
        /// Bottom of the hole above FFL.
        sill: f64,
    },
    /// A plain opening to walk through.
    Plain {
        /// Width of the hole.
        width: f64,
        /// Top of the hole above FFL.
        height: f64,
    },
}

/// An opening in a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Its name, unique among the openings of the job.
    pub name: Name,
    /// What it is.
    pub kind: OpeningKind,
    /// What holds it in place.
    pub hold: Hold,
    /// What covers its reveals; what is usual for its kind when nothing is said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub reveals: Option<Reveals>,
}

/// What covers the timber inside an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Reveals {
    /// A lining or a frame.
    Lined,
    /// Strips of board, over the edges of the boards on the faces.
    Boarded,
}

impl Opening {
    /// An opening with what is usual for its kind round it.
    pub fn new(name: impl Into<Name>, kind: OpeningKind, hold: Hold) -> Opening {
        Opening { name: name.into(), kind, hold, reveals: None }
    }

    /// True when its reveals are closed with strips of board. A plain opening's are by itself; a lining of any
    /// thickness covers them, and so does the slot of a pocket.
    pub fn is_boarded(&self) -> bool {
        let may_be = match &self.kind {
            OpeningKind::Door(door) => {
                door.lining.thickness <= 0.0 && door.style != DoorStyle::Pocket
            }
            _ => true,
        };
        let usual = matches!(self.kind, OpeningKind::Plain { .. });
        may_be && self.reveals.map_or(usual, |r| r == Reveals::Boarded)
    }
}

impl OpeningKind {
    /// Width of the hole in the frame.
    pub fn width(&self) -> f64 {
        match self {
            OpeningKind::Door(door) => door.stack().width,
            OpeningKind::BorrowedLight { width, .. }
            | OpeningKind::Hatch { width, .. }
            | OpeningKind::Plain { width, .. } => *width,
        }
    }

    /// Bottom of the hole above FFL; `None` when it goes down to the floor.
    pub fn sill(&self) -> Option<f64> {
        match self {
            OpeningKind::BorrowedLight { sill, .. } | OpeningKind::Hatch { sill, .. } => {
                Some(*sill)
            }
            OpeningKind::Door(_) | OpeningKind::Plain { .. } => None,
        }
    }

    /// Top of the hole above FFL.
    pub fn top(&self) -> f64 {
        match self {
            OpeningKind::Door(door) => door.stack().height,
            OpeningKind::BorrowedLight { height, sill, .. }
            | OpeningKind::Hatch { height, sill, .. } => sill + height,
            OpeningKind::Plain { height, .. } => *height,
        }
    }

    /// What the trade calls it: “door”, “borrowed light”, “hatch”, “opening”.
    pub fn label(&self) -> &'static str {
        match self {
            OpeningKind::Door(_) => "door",
            OpeningKind::BorrowedLight { .. } => "borrowed light",
            OpeningKind::Hatch { .. } => "hatch",
            OpeningKind::Plain { .. } => "opening",
        }
    }
}

impl Hold {
    /// Station of the hole's left edge, in a wall whose nodes are `length` apart.
    pub fn left_edge(self, width: f64, length: f64) -> f64 {
        let to_near = self.distance
            - match self.to {
                HoldTo::Near => 0.0,
                HoldTo::Centre => width / 2.0,
                HoldTo::Far => width,
            };
        match self.from {
            WallEnd::Start => to_near,
            WallEnd::End => length - to_near - width,
        }
    }

    /// The same hold with its distance changed so that the hole's left edge is at station `left`.
    pub fn with_left_edge(self, left: f64, width: f64, length: f64) -> Hold {
        let near = match self.from {
            WallEnd::Start => left,
            WallEnd::End => length - left - width,
        };
        let distance = near
            + match self.to {
                HoldTo::Near => 0.0,
                HoldTo::Centre => width / 2.0,
                HoldTo::Far => width,
            };
        Hold { distance, ..self }
    }
}
