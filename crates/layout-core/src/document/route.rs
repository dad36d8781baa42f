//! Routes: cables and pipes that run level through the studs of a wall.

use serde::{Deserialize, Serialize};

use super::Face;
use super::is_default;
use crate::id::Name;

/// What runs along a route.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Service {
    /// Cables.
    #[default]
    Cable,
    /// Water or heating pipe.
    Pipe,
    /// Waste pipe.
    Waste,
}

impl Service {
    /// “cable”, “pipe”, “waste”.
    pub fn label(self) -> &'static str {
        match self {
            Service::Cable => "cable",
            Service::Pipe => "pipe",
            Service::Waste => "waste",
        }
    }
}

/// A row of holes or notches through the studs of a wall, and the drops from it to the points it serves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Route {
    /// Its name, unique among the routes of the job.
    pub name: Name,
    /// What runs along it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub service: Service,
    /// Height of its middle above FFL.
    pub height: f64,
    /// How wide its holes are across, or how deep its notches.
    pub hole: f64,
    /// The points of the wall it runs past; it goes straight up or down to each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<Name>,
    /// True where it goes on past the wall's start and past its end.
    #[serde(default, skip_serializing_if = "is_default")]
    pub past: (bool, bool),
    /// The face its studs are notched from; drilled in the middle without.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub notched: Option<Face>,
}

/// A common stud that stands beside its mark.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shift {
    /// The mark on the grid it belongs to: distance of its centre from the wall's start node.
    pub mark: f64,
    /// How far towards the wall's end it stands.
    pub by: f64,
}
