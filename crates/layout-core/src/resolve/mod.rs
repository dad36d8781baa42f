//! Settles everything two walls share: where each wall's frame really starts and stops, who runs
//! through at a corner, what timber a wall owes to the walls that meet it, at which height it
//! stands and ends. After this each wall is one value, [`WallSpec`], and is framed on its own.

mod ends;
mod place;
mod spec;

pub use ends::{End, Meets, Plan, resolve};
pub use place::Place;
pub use spec::{Backing, BackingKind, Hole, WallSpec};
