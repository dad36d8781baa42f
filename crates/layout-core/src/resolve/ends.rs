//! Where each wall's frame starts and stops.

use std::sync::Arc;

use super::{Place, WallSpec};
use crate::document::Job;
use crate::id::Name;
use crate::snag::Snag;

/// One end of a wall's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// Where the frame stops, as a station.
    pub station: f64,
    /// What it meets there.
    pub meets: Meets,
}

/// What the end of a wall meets.
#[derive(Clone, Debug, PartialEq)]
pub enum Meets {
    /// Nothing.
    Free,
    /// An existing wall, square to it: side of the shell counted from 0.
    Existing {
        /// The side of the shell.
        side: usize,
    },
    /// Another wall in the same line.
    InLine(Name),
    /// Another wall at a corner; this one runs through to the other's outer face.
    Through(Name),
    /// Another wall's near face, at a corner or somewhere along it.
    Butts(Name),
}

/// Every wall of a job, settled, in the job's order.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The walls that can be framed.
    pub walls: Vec<(Place, Arc<WallSpec>)>,
    /// What could not be settled as asked.
    pub snags: Vec<Snag>,
}

/// Settles a job's plan.
pub fn resolve(_job: &Job) -> Plan {
    Plan { walls: Vec::new(), snags: Vec::new() }
}
