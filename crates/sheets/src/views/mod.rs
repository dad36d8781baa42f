//! Views: a job and its layout as pictures.

mod signs;
mod elevation;
mod plan;
mod section;
mod platform;

pub use elevation::{ElevationOptions, elevation};
pub use plan::{PlanOptions, plan};
pub use platform::{platform_plan, platform_section};
pub use section::{SectionOptions, section};
pub use signs::point_letters;
