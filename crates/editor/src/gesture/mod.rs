//! A drag under way: it remembers where it began, and each frame says which edit it amounts to.

use layout_core::document::{Edit, Job};
use layout_core::math::PlanPoint;

/// What the hand holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Grip {
    /// An opening, along its wall.
    Opening(layout_core::id::Name),
}

/// A drag under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Gesture {
    /// What the hand holds.
    pub grip: Grip,
    /// Where the drag began (plan, or station and height in an elevation).
    pub from: PlanPoint,
    /// Where the hand is, after snapping.
    pub now: PlanPoint,
    /// The number typed during the drag, which wins over the hand.
    pub typed: String,
}

impl Gesture {
    /// The edit this drag amounts to, worked out from the job it began on.
    pub fn edit(&self, _base: &Job) -> Option<Edit> {
        None
    }
}
