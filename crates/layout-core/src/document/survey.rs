//! The room as it was measured with a tape: sides, diagonals, offsets, corners taken as square.

use serde::{Deserialize, Serialize};

use super::{Face, is_default};
use crate::id::Name;

/// Corners of the room and what was measured between them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Survey {
    /// What the corners are called, in order round the room as its outline runs.
    pub corners: Vec<Name>,
    /// What was measured, in the order it was written down.
    #[serde(default)]
    pub rows: Vec<Measurement>,
}

/// One measurement.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measurement {
    /// What was measured.
    pub what: Measured,
    /// What the tape said, mm; `None` while it is still to be measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The error to be expected, ± mm: two readings in three lie within it.
    #[serde(default = "usual_error", skip_serializing_if = "is_usual")]
    pub error: f64,
}

/// What a measurement is of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Measured {
    /// Straight from one corner to another: a side between neighbours, a diagonal otherwise.
    Between {
        /// One corner.
        from: Name,
        /// The other.
        to: Name,
    },
    /// A corner square off the line between two others.
    Offset {
        /// The corner that lies off the line.
        corner: Name,
        /// Where the line starts.
        from: Name,
        /// Where it ends.
        to: Name,
        /// The side it lies on, walking from start to end.
        #[serde(default, skip_serializing_if = "is_default")]
        side: Face,
    },
    /// The angle at a corner, taken as square; its value is how far it opens beyond square, mm in a
    /// metre, and its error is in mm in a metre too.
    Square {
        /// The corner.
        corner: Name,
    },
}

fn usual_error() -> f64 {
    3.0
}

fn is_usual(error: &f64) -> bool {
    *error == usual_error()
}

impl Measurement {
    /// A measurement that is still to be taken, with the usual error of a tape.
    pub fn of(what: Measured) -> Measurement {
        Measurement { what, value: None, error: usual_error() }
    }

    /// What counts: what the tape said, or none beyond square for a corner taken as square.
    pub fn reading(&self) -> Option<f64> {
        match self.what {
            Measured::Square { .. } => Some(self.value.unwrap_or(0.0)),
            _ => self.value,
        }
    }
}

impl Measured {
    /// The corners it names.
    pub fn corners(&self) -> Vec<&Name> {
        match self {
            Measured::Between { from, to } => vec![from, to],
            Measured::Offset { corner, from, to, .. } => vec![corner, from, to],
            Measured::Square { corner } => vec![corner],
        }
    }
}

impl Survey {
    /// True when nothing was measured and nothing is to be.
    pub fn is_empty(&self) -> bool {
        self.corners.is_empty() && self.rows.is_empty()
    }

    /// Where a corner stands in the order round the room.
    pub fn index(&self, corner: &Name) -> Option<usize> {
        self.corners.iter().position(|c| c == corner)
    }

    /// True when two corners are neighbours round the room.
    pub fn is_side(&self, from: &Name, to: &Name) -> bool {
        let n = self.corners.len();
        match (self.index(from), self.index(to)) {
            (Some(a), Some(b)) => (a + 1) % n == b || (b + 1) % n == a,
            _ => false,
        }
    }

    /// What a measurement is called in a sentence: “side 1–2”, “diagonal 1–3”.
    pub fn label(&self, what: &Measured) -> String {
        match what {
            Measured::Between { from, to } if self.is_side(from, to) => format!("side {from}–{to}"),
            Measured::Between { from, to } => format!("diagonal {from}–{to}"),
            Measured::Offset { corner, from, to, .. } => {
                format!("offset of {corner} from {from}–{to}")
            }
            Measured::Square { corner } => format!("square at {corner}"),
        }
    }
}
