//! What is bought beside timber and board: screws, fixings, packers, damp-proof course, tape, beads, filler, sealant, insulation,
//! linings. Estimates, each with the rule it was counted by.

mod boards;
mod frame;
mod needs;

pub use boards::{OfWall, of_ceiling, of_platform, of_wall, screw_length};
pub use frame::{OfFrame, of_frame, of_platform_frame};
pub use needs::{Filled, Need, insulated, order};
