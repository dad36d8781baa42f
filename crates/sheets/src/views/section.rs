//! The section strip: one cut through a wall from slab to ceiling, with its levels.

use layout_core::document::Job;
use layout_core::layout::WallLayout;

use crate::picture::Picture;

/// What to show in a section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
    /// The station it is cut at.
    pub station: f64,
}

/// Draws the section of `wall`.
pub fn section(_job: &Job, _wall: &WallLayout, _options: &SectionOptions) -> Picture {
    Picture::default()
}
