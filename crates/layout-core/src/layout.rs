//! Everything worked out from a job.

use std::sync::Arc;

use crate::checks;
use crate::document::Job;
use crate::frame::{Frame, Member, frame};
use crate::id::{ItemRef, Mark, Name};
use crate::math::{SQUARE, round_to, same};
use crate::resolve::{Place, Plan, Shared, WallSpec, resolve, settle_wall};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// One wall, laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct WallLayout {
    /// Where it stands on the plan.
    pub place: Place,
    /// The wall, settled.
    pub spec: Arc<WallSpec>,
    /// Its timber.
    pub frame: Arc<Frame>,
    /// What is wrong with it, beside what the framer had to do differently.
    pub snags: Arc<Vec<Snag>>,
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

    /// The length of a piece as it is printed and sent to the saw, whole millimetres. Its two ends are
    /// rounded where they stand, measured from the start of the frame and from the floor, rather than its
    /// length: neighbours still meet. A piece that is not square at both ends is cut to its long point, rounded.
    pub fn cut_length(&self, member: &Member) -> f64 {
        let cut = member.cut();
        let square = cut.ends.iter().all(|e| e.bevel.abs() < SQUARE && e.mitre.abs() < SQUARE);
        let (along, up) = (member.solid.stations(), member.solid.heights());
        let between = |span: Span, zero: f64| {
            round_to(span.high - zero, 1.0) - round_to(span.low - zero, 1.0)
        };
        if square && same(cut.length, along.length()) {
            between(along, self.spec.along().low)
        } else if square && same(cut.length, up.length()) {
            between(up, 0.0)
        } else {
            round_to(cut.length, 1.0)
        }
    }

    /// A wall laid out from nothing.
    pub(crate) fn of(place: Place, spec: WallSpec) -> WallLayout {
        let frame = frame(&spec);
        let snags = checks::wall(&spec, &frame);
        WallLayout { place, spec: Arc::new(spec), frame: Arc::new(frame), snags: Arc::new(snags) }
    }
}

/// Everything worked out from a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The walls, in the job's order, less those that cannot stand anywhere.
    pub walls: Vec<WallLayout>,
    /// Every snag, the gravest first, then in the job's order.
    pub snags: Vec<Snag>,
    /// The job this is of. Cheap: it shares its walls and make-ups with the one laid out.
    pub(crate) job: Job,
    /// What its walls share.
    pub(crate) plan: Arc<Plan>,
}

impl Layout {
    /// Works a job out from nothing.
    pub fn of(job: &Job) -> Layout {
        let mut plan = resolve(job);
        plan.snags.extend(checks::plan(job, &plan.walls));
        Layout::from_plan(job, Arc::new(plan), |_, shared| {
            WallLayout::of(shared.place, settle_wall(job, shared))
        })
    }

    /// Puts a layout together from its plan, `lay` laying out each wall.
    pub(crate) fn from_plan(
        job: &Job,
        plan: Arc<Plan>,
        lay: impl Fn(usize, &Shared) -> WallLayout,
    ) -> Layout {
        let walls: Vec<WallLayout> =
            plan.walls.iter().enumerate().map(|(i, shared)| lay(i, shared)).collect();
        let mut snags: Vec<Snag> = plan.snags.clone();
        for wall in &walls {
            snags.extend(wall.snags.iter().chain(&wall.frame.snags).cloned());
        }
        snags.extend(no_stock(job, &walls));
        snags.sort_by_key(Snag::severity);
        Layout { walls, snags, job: job.clone(), plan }
    }

    /// The wall called `name`.
    pub fn wall(&self, name: &Name) -> Option<&WallLayout> {
        self.walls.iter().find(|w| w.spec.name == *name)
    }
}

/// Sections the job uses and its timber list does not have.
fn no_stock(job: &Job, walls: &[WallLayout]) -> Vec<Snag> {
    let mut missing = Vec::new();
    for total in walls.iter().flat_map(|w| &w.frame.totals) {
        if !missing.contains(&&total.timber) && job.stock.iter().all(|s| s.timber != total.timber) {
            missing.push(&total.timber);
        }
    }
    missing
        .into_iter()
        .map(|timber| {
            Snag::new(
                Code::NoStock,
                ItemRef::Job,
                format!("The timber list has no {} {}", timber.size(), timber.grade()),
                "Add its lengths to the timber list, in Yard.",
            )
        })
        .collect()
}
