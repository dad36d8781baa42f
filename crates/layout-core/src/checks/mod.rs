//! The checks: what is, or will be, wrong with a wall that can be built. One file a family.

mod load;
mod stiffness;
mod raising;
mod asked;
mod room;
mod survey;
mod boards;
mod first_fix;
mod routes;
mod floor;
mod bars;
mod obstacles;
mod doors;

pub(crate) use doors::doors;
pub(crate) use obstacles::Standing;

use crate::boards::Boarding;
use crate::document::Job;
use crate::first_fix::Runs;
use crate::frame::Frame;
use crate::resolve::{Shared, WallSpec};
use crate::snag::Snag;

pub(crate) use survey::survey;

/// Checks of one wall, from its settled value, its frame and its boards alone.
pub(crate) fn wall(spec: &WallSpec, frame: &Frame, boarding: &Boarding, runs: &Runs) -> Vec<Snag> {
    let mut snags = Vec::new();
    load::marked(spec, &mut snags);
    stiffness::bends(spec, frame, &mut snags);
    stiffness::gives(spec, frame, &mut snags);
    raising::tilts(spec, &mut snags);
    asked::sound_and_fire(spec, &mut snags);
    floor::floats(spec, &mut snags);
    boards::centres(spec, &mut snags);
    boards::joints(spec, boarding, &mut snags);
    boards::heavy(spec, &mut snags);
    first_fix::spots(spec, frame, &mut snags);
    routes::runs(spec, frame, runs, &mut snags);
    routes::fixings(spec, &mut snags);
    floor::packed(spec, frame, &mut snags);
    floor::studs(spec, frame, &mut snags);
    bars::too_long(spec, frame, &mut snags);
    snags
}

/// Checks of the plan as a whole.
pub(crate) fn plan(job: &Job, walls: &[Shared]) -> Vec<Snag> {
    let mut snags = Vec::new();
    load::under_beams(job, walls, &mut snags);
    load::housings(job, walls, &mut snags);
    room::outside(job, walls, &mut snags);
    floor::readings(job, &mut snags);
    snags
}
