//! What runs through a framed wall, and what its boxes hang on: cables and pipes, the holes and notches they
//! take, and bay by bay what goes where.

mod runs;
mod held;
mod zones;
mod bays;

pub use bays::{BayList, by_bay};
pub use held::{Held, held};
pub use runs::{Bore, Run, Runs, Way, runs};
pub use zones::{Why, Zone, zones};
