//! Everything worked out from a job.

use std::sync::Arc;

use crate::document::Job;
use crate::frame::{Frame, Member, frame};
use crate::id::{Mark, Name};
use crate::resolve::{Place, WallSpec, resolve};
use crate::snag::Snag;

/// One wall, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct WallLayout {
    /// Where it stands on the plan.
    pub place: Place,
    /// The wall, settled.
    pub spec: Arc<WallSpec>,
    /// Its timber.
    pub frame: Arc<Frame>,
}

impl WallLayout {
    /// Its name.
    pub fn name(&self) -> &Name {
        &self.spec.name
    }

    /// The piece with this mark.
    pub fn member(&self, mark: Mark) -> Option<&Member> {
        self.frame.members.iter().find(|m| m.mark == mark)
    }
}

/// Everything worked out from a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The walls, in the job's order, less those that cannot be framed at all.
    pub walls: Vec<WallLayout>,
    /// Every snag, the gravest first, then in the job's order.
    pub snags: Vec<Snag>,
}

impl Layout {
    /// Works a job out from nothing.
    pub fn of(job: &Job) -> Layout {
        let plan = resolve(job);
        let walls = plan
            .walls
            .into_iter()
            .map(|(place, spec)| WallLayout { place, frame: Arc::new(frame(&spec)), spec })
            .collect();
        Layout { walls, snags: plan.snags }
    }

    /// The wall called `name`.
    pub fn wall(&self, name: &Name) -> Option<&WallLayout> {
        self.walls.iter().find(|w| w.spec.name == *name)
    }
}
