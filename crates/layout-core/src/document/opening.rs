//! Openings: doors, borrowed lights, hatches and plain openings, and how the hole in the frame
//! is worked out from the leaf.

use serde::{Deserialize, Serialize};

use super::is_default;
use super::{Face, WallEnd};
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

/// The side a door hangs on, as seen on the wall's right face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hinge {
    /// At the jamb nearer the wall's start.
    #[default]
    Start,
    /// At the jamb nearer the wall's end.
    End,
}

/// How a door moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum DoorStyle {
    /// One hung leaf.
    #[default]
    Single,
    /// A pair of hung leaves, each of the given width, meeting in the middle.
    Double,
    /// One leaf that slides along the face of the wall.
    Sliding,
}

/// A door lining.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lining {
    /// Its thickness.
    pub thickness: f64,
    /// Depth of the rebate the leaf shuts into; 0 for a planted stop.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rebate: f64,
}

/// A door, described by its leaf; the hole follows from it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Door {
    /// Leaf width, height and thickness.
    pub leaf: (f64, f64, f64),
    /// The lining.
    #[serde(default)]
    pub lining: Lining,
    /// Gap between leaf and lining at each side and at the top.
    #[serde(default = "usual_gap")]
    pub gap: f64,
    /// Gap between leaf and finished floor.
    #[serde(default = "usual_threshold")]
    pub threshold: f64,
    /// Packing behind the lining at each side and at the top.
    #[serde(default = "usual_packing")]
    pub packing: f64,
    /// Single, double or sliding.
    #[serde(default, skip_serializing_if = "is_default")]
    pub style: DoorStyle,
    /// The side it hangs on.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hinge: Hinge,
    /// The face it opens towards (or slides on).
    #[serde(default, skip_serializing_if = "is_default")]
    pub opens: Face,
}

fn usual_gap() -> f64 {
    3.0
}

fn usual_threshold() -> f64 {
    8.0
}

fn usual_packing() -> f64 {
    5.0
}

impl Default for Lining {
    fn default() -> Lining {
        Lining { thickness: 30.0, rebate: 0.0 }
    }
}

impl Default for Door {
    fn default() -> Door {
        Door {
            leaf: (762.0, 1981.0, 35.0),
            lining: Lining::default(),
            gap: usual_gap(),
            threshold: usual_threshold(),
            packing: usual_packing(),
            style: DoorStyle::default(),
            hinge: Hinge::default(),
            opens: Face::default(),
        }
    }
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
}

/// One line of the sum that makes a hole out of a leaf.
#[derive(Clone, Debug, PartialEq)]
pub struct StackLine {
    /// “leaf”, “gaps”, “lining”, “packing”.
    pub what: &'static str,
    /// Its share of the width, mm.
    pub width: f64,
    /// Its share of the height above FFL, mm.
    pub height: f64,
}

/// How the structural hole is made up, from the leaf outwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// The terms.
    pub lines: Vec<StackLine>,
    /// Structural width.
    pub width: f64,
    /// Top of the structural hole above FFL.
    pub height: f64,
}

impl Door {
    /// The sum from the leaf to the hole. Width: leaves + gaps + linings less rebates + packing;
    /// height above FFL: leaf + threshold and head gap + lining less rebate + packing.
    pub fn stack(&self) -> Stack {
        let (leaf_width, leaf_height, _) = self.leaf;
        let (leaves, gaps) = match self.style {
            DoorStyle::Double => (2.0, 3.0),
            DoorStyle::Single | DoorStyle::Sliding => (1.0, 2.0),
        };
        let lining = self.lining.thickness - self.lining.rebate;
        let lines = vec![
            StackLine { what: "leaf", width: leaves * leaf_width, height: leaf_height },
            StackLine { what: "gaps", width: gaps * self.gap, height: self.threshold + self.gap },
            StackLine { what: "lining", width: 2.0 * lining, height: lining },
            StackLine { what: "packing", width: 2.0 * self.packing, height: self.packing },
        ];
        Stack {
            width: lines.iter().map(|l| l.width).sum(),
            height: lines.iter().map(|l| l.height).sum(),
            lines,
        }
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
