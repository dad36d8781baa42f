//! Views: a job and its layout as pictures.

mod signs;
pub(crate) mod cut_outs;
mod elevation;
mod plan;
mod section;
mod platform;

pub(crate) use elevation::cut_to;
pub use elevation::{ElevationOptions, FaceOptions, board_face, elevation};
pub use plan::{Junction, PlanOptions, floor, junction, junction_kinds, plan};
pub use platform::{platform_plan, platform_section};
pub use section::{SectionOptions, section};
pub use signs::point_letters;
