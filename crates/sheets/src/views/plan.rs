//! The plan: what stands, the partitions, their openings and the setting-out dimensions.

use layout_core::document::Job;
use layout_core::layout::Layout;

use crate::picture::Picture;

/// What to show on a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
    /// True to draw the running dimensions along each wall.
    pub dimensions: bool,
}

/// Draws the plan of `job`. Model coordinates are the job's plan coordinates.
pub fn plan(_job: &Job, _layout: &Layout, _options: &PlanOptions) -> Picture {
    Picture::default()
}
