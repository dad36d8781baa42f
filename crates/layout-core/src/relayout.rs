//! Works a job out again after a change, re-using every wall that came out the same.
//!
//! Most changes while a hand drags are inside one wall: what the walls share is then taken over as it
//! is, and only that wall is laid out. When nodes or levels move, the plan is settled again, and every
//! wall whose settled value is equal keeps its frame.

use std::sync::Arc;

use crate::ceiling::{CeilingLayout, CeilingSpec};
use crate::checks;
use crate::document::{Job, Wall};
use crate::layout::{Layout, PlatformLayout, WallLayout, survey_of};
use crate::platform::PlatformSpec;
use crate::resolve::{Place, WallSpec, resolve, settle_wall};

impl Layout {
    /// The layout of `job`, equal to [`Layout::of`] but faster when little has changed since this
    /// one.
    #[must_use]
    pub fn relayout(&self, job: &Job) -> Layout {
        let untouched = |index: usize| Arc::ptr_eq(&self.job.walls[index], &job.walls[index]);
        let survey = if same_survey(&self.job, job) { self.survey.clone() } else { survey_of(job) };
        if shares_all(&self.job, job) {
            return Layout::from_plan(
                job,
                self.plan.clone(),
                survey,
                |i, shared| {
                    if untouched(shared.wall) {
                        self.walls[i].clone()
                    } else {
                        self.reuse(i, shared.place, settle_wall(job, shared))
                    }
                },
                |place, spec| self.reuse_platform(place, spec),
                |spec| self.reuse_ceiling(spec),
            );
        }
        let mut plan = resolve(job);
        plan.snags.extend(checks::plan(job, &plan.walls));
        Layout::from_plan(
            job,
            Arc::new(plan),
            survey,
            |i, shared| self.reuse(i, shared.place, settle_wall(job, shared)),
            |place, spec| self.reuse_platform(place, spec),
            |spec| self.reuse_ceiling(spec),
        )
    }

    /// The old boards of the ceiling when its settled value is the same, else new ones.
    fn reuse_ceiling(&self, spec: CeilingSpec) -> Arc<CeilingLayout> {
        match &self.ceiling {
            Some(old) if old.spec == spec => old.clone(),
            _ => Arc::new(CeilingLayout::of(spec)),
        }
    }

    /// The old layout of a platform when its settled value is the same, else a new one.
    fn reuse_platform(&self, place: Place, spec: PlatformSpec) -> PlatformLayout {
        match self.platform(&spec.name) {
            Some(old) if *old.spec == spec => PlatformLayout { place, ..old.clone() },
            _ => PlatformLayout::of(place, spec),
        }
    }

    /// The old layout of a wall when its settled value is the same, else a new one. `hint` is where
    /// the wall probably was.
    fn reuse(&self, hint: usize, place: Place, spec: WallSpec) -> WallLayout {
        let old = self
            .walls
            .get(hint)
            .filter(|w| w.spec.name == spec.name)
            .or_else(|| self.wall(&spec.name));
        match old {
            Some(old) if *old.spec == spec => WallLayout { place, ..old.clone() },
            _ => WallLayout::of(place, spec),
        }
    }
}

/// True when the room was measured alike and is drawn alike in both jobs.
fn same_survey(a: &Job, b: &Job) -> bool {
    let outline = |job: &Job| job.shell.outline.iter().map(|c| c.at).collect::<Vec<_>>();
    a.shell.survey == b.shell.survey && a.datum.at == b.datum.at && outline(a) == outline(b)
}

/// True when nothing that two walls share differs between the jobs.
fn shares_all(a: &Job, b: &Job) -> bool {
    let same_place = |v: &Wall, w: &Wall| {
        v.name == w.name
            && v.from == w.from
            && v.to == w.to
            && v.makeup == w.makeup
            && v.line == w.line
            && v.at_from == w.at_from
            && v.at_to == w.at_to
            && v.head == w.head
            && v.sole == w.sole
            && v.centres == w.centres
            && v.odd_bay == w.odd_bay
            && v.grid_from == w.grid_from
            && v.boarded_from == w.boarded_from
            && v.boarded_to == w.boarded_to
            && v.floor == w.floor
            && v.ceiling == w.ceiling
    };
    a.walls.len() == b.walls.len()
        && a.walls.iter().zip(&b.walls).all(|(v, w)| Arc::ptr_eq(v, w) || same_place(v, w))
        && a.makeups.len() == b.makeups.len()
        && a.makeups.iter().zip(&b.makeups).all(|(m, n)| Arc::ptr_eq(m, n) || m == n)
        && a.nodes == b.nodes
        && a.units == b.units
        && a.levels == b.levels
        && a.rules == b.rules
        && a.shell == b.shell
        && a.stock == b.stock
}
