//! Which wall a view is about.

use layout_core::id::{ItemRef, Name};

use crate::gesture::Grip;
use crate::scene::Scene;

/// The wall of the elevation: the one that is shown, or the one something new is being put in.
pub(in crate::canvas) fn shown_wall<'s>(scene: &Scene<'s>) -> Option<&'s Name> {
    let placed = scene.session.gesture.as_ref().and_then(|g| match &g.grip {
        Grip::NewOpening { wall, .. }
        | Grip::NewPoint { wall, .. }
        | Grip::NewReading { wall: Some(wall), .. }
        | Grip::NewFitting { wall, .. } => Some(wall),
        Grip::NewWall(wall) => Some(&wall.name),
        _ => None,
    });
    placed.filter(|w| scene.layout.wall(w).is_some()).or(scene.session.wall.as_ref())
}

/// The wall something is, or is in.
pub(in crate::canvas) fn wall_of(scene: &Scene<'_>, item: &ItemRef) -> Option<Name> {
    scene.job.wall_of(item).map(|w| w.name.clone())
}
