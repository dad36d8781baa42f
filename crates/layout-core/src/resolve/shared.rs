//! What a wall shares with the others.

use std::sync::Arc;

use super::{Backing, Break, End, FaceRun, Laps, Place};
use crate::document::MakeUp;
use crate::profile::Profile;
use crate::span::Span;

/// What a wall has settled with the walls, levels and lists around it. Changing an opening does not
/// change it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shared {
    /// Index of the wall in the job.
    pub wall: usize,
    /// Where it stands.
    pub place: Place,
    /// Distance between its nodes.
    pub length: f64,
    /// Its make-up.
    pub makeup: Arc<MakeUp>,
    /// The frame across.
    pub frame: Span,
    /// Its ends.
    pub ends: [End; 2],
    /// Where its frame is interrupted, in order of station.
    pub breaks: Vec<Break>,
    /// What is over it.
    pub soffit: Profile,
    /// The floor along it, where it was read.
    pub floor: Option<Profile>,
    /// True when its ceiling was read.
    pub ceiling_is_read: bool,
    /// Where its outer head plates lap those of other walls.
    pub head_laps: Laps,
    /// Where its outer sole plates do.
    pub sole_laps: Laps,
    /// Timber it owes.
    pub backings: Vec<Backing>,
    /// The longest bar of its section.
    pub longest: Option<f64>,
    /// The stations boards run from at its start and end, where another wall decides that.
    pub boards_from: [Option<f64>; 2],
    /// The runs of boards on its right and its left face.
    pub faces: [Vec<FaceRun>; 2],
}
