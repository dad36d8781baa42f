//! Fills one settled wall with timber: plates, studs, openings, junction grounds and noggins.

mod solid;
mod member;

use crate::id::Name;
use crate::resolve::WallSpec;
use crate::snag::Snag;
pub use member::{Cut, EndCut, Member, Role};
pub use solid::Solid;

/// A framed wall, in wall coordinates.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Every piece, plates first, then uprights along the wall, then what lies between them.
    pub members: Vec<Member>,
    /// Heights of the noggin rows' centres above FFL, from the floor up.
    pub rows: Vec<f64>,
    /// What had to be done differently.
    pub snags: Vec<Snag>,
}

impl Frame {
    /// Marks to set out on the sole and head plates with one pull of the tape: stations of the
    /// near edge of every full-height upright, measured from the start of the frame, timber
    /// on the far side of the mark.
    pub fn running(&self, spec: &WallSpec) -> Vec<RunningMark> {
        let start = spec.along().low;
        let mut marks: Vec<RunningMark> = self
            .members
            .iter()
            .filter(|m| m.role.is_full_height())
            .map(|m| RunningMark { at: m.solid.stations().low - start, member: m.mark, role: m.role })
            .collect();
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks
    }
}

/// One running mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunningMark {
    /// Distance from the start of the frame to the near edge of the timber.
    pub at: f64,
    /// The upright.
    pub member: crate::id::Mark,
    /// Its role.
    pub role: Role,
}

/// Frames one wall.
pub fn frame(spec: &WallSpec) -> Frame {
    let _: &Name = &spec.name;
    Frame { members: Vec::new(), rows: Vec::new(), snags: Vec::new() }
}
