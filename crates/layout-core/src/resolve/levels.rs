//! At which heights a wall stands and ends.

use crate::document::{Floor, Head, Levels, Sole};
use crate::profile::Profile;

/// What the lowest plate, or its packers, stands on.
pub(super) fn floor(levels: &Levels, sole: &Sole) -> Profile {
    match sole {
        Sole::Direct { on: Floor::Finished, .. } => Profile::level(0.0),
        Sole::Direct { on: Floor::Slab, .. } | Sole::Raised { .. } => Profile::level(levels.slab()),
    }
}

/// Top of the head plate.
pub(super) fn head(levels: &Levels, head: &Head) -> Profile {
    Profile::level(match head {
        Head::Tight { fit } => levels.ceiling - fit,
        Head::Slip { gap } => levels.ceiling - gap,
        Head::Free { height } => *height,
    })
}
