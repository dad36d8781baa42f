//! The elevation of one wall, as its right face is seen (or its left, mirrored).

use layout_core::document::{Face, Job};
use layout_core::layout::{Layout, WallLayout};

use crate::picture::Picture;

/// What to show in an elevation.
#[derive(Clone, Debug, PartialEq)]
pub struct ElevationOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
    /// The face it is seen from: the right face shows stations left to right, the left face is mirrored.
    pub face: Face,
    /// True to draw running marks, bay sizes and heights.
    pub dimensions: bool,
}

/// Draws the elevation of `wall`. Model x is the station from the wall's start node (minus the station
/// when seen from the left face), model y the height above FFL.
pub fn elevation(_job: &Job, _layout: &Layout, _wall: &WallLayout, _options: &ElevationOptions) -> Picture {
    Picture::default()
}
