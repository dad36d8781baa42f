//! Settles everything two walls share: where each wall's frame really starts and stops, who runs
//! through at a corner, what timber a wall owes to the walls that meet it, at which height it
//! stands and ends. After this each wall is one value, [`WallSpec`], and is framed on its own.

mod place;
mod ends;
mod spec;
mod shared;
mod meetings;
mod junctions;
mod readings;
mod levels;
mod holes;
mod laps;
mod faces;
mod grid;
mod plan;

pub use ends::{End, Meets, cut_at};
pub(crate) use faces::side;
pub use faces::{Edge, FaceRun};
pub(crate) use grid::board_width;
pub use holes::station_on;
pub use junctions::outline as post_outline;
pub(crate) use levels::soffit;
pub use place::Place;
pub use plan::{Plan, resolve, settle_wall};
pub use shared::Shared;
pub(crate) use spec::between_cuts;
pub use spec::{
    Backing, BackingKind, Break, Fixing, Hole, Laps, RouteSpec, Spot, Upright, WallSpec,
};
