//! Views: a job and its layout as pictures.

mod plan;
mod elevation;

pub use elevation::{ElevationOptions, elevation};
pub use plan::{PlanOptions, plan};
