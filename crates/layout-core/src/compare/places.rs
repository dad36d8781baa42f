//! Every place for an opening along its wall.

use super::Outcome;
use crate::document::{Edit, Job, WallEnd};
use crate::id::Name;
use crate::layout::Layout;
use crate::math::{round_to, same};
use crate::pieces::Biller;

/// One place for an opening.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The dimension that would hold it, measured as it is measured now, mm.
    pub distance: f64,
    /// The middle of the opening from the start of the frame, mm.
    pub at: f64,
    /// True for a place than which no other is better.
    pub best: bool,
    /// What it comes to.
    pub outcome: Outcome,
}

/// What every place of one opening along its wall comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    /// The opening.
    pub opening: Name,
    /// Its wall.
    pub wall: Name,
    /// Where it stands now.
    pub now: Stop,
    /// Places from the start of the wall to its end.
    pub stops: Vec<Stop>,
}

impl Sweep {
    /// The edit that moves the opening to a place.
    pub fn edit(&self, stop: &Stop) -> Edit {
        Edit::MoveOpening { opening: self.opening.clone(), distance: stop.distance }
    }
}

/// Tries an opening at up to `places` places along its wall, evenly spread between its ends and at whole
/// millimetres. `None` when there is no such opening, no room to move it, or `go_on` says to give up.
pub fn sweep(
    job: &Job,
    layout: &Layout,
    opening: &Name,
    places: usize,
    go_on: &dyn Fn() -> bool,
) -> Option<Sweep> {
    let (wall, of) = job.opening(opening)?;
    let laid = layout.wall(&wall.name)?;
    let hole = laid.spec.holes.iter().find(|h| h.name == *opening)?;
    let (along, t) = (laid.spec.along(), laid.spec.makeup.timber.thickness());
    let first = along.low + t;
    let room = along.length() - 2.0 * t - hole.span.length();
    if !(room.is_finite() && room >= 1.0 && of.hold.distance.is_finite()) {
        return None;
    }
    let towards = match of.hold.from {
        WallEnd::Start => 1.0,
        WallEnd::End => -1.0,
    };
    let biller = Biller::new(layout);
    let stop = |distance: f64, layout: &Layout, job: &Job, base: &Layout| Stop {
        distance,
        at: hole.span.centre() - along.low + (distance - of.hold.distance) * towards,
        best: false,
        outcome: Outcome::of(job, layout, &wall.name, base, &biller),
    };
    let now = stop(of.hold.distance, layout, job, layout);
    let steps = places.clamp(2, 2000) - 1;
    let mut stops: Vec<Stop> = Vec::with_capacity(steps + 1);
    for k in 0..=steps {
        if !go_on() {
            return None;
        }
        let low = first + room * k as f64 / steps as f64;
        let distance = round_to(of.hold.distance + (low - hole.span.low) * towards, 1.0);
        if stops.last().is_some_and(|last| same(last.distance, distance)) {
            continue;
        }
        let after = Edit::MoveOpening { opening: opening.clone(), distance }.apply(job);
        stops.push(stop(distance, &layout.relayout(&after), &after, layout));
    }
    let best = stops.iter().map(|s| s.outcome.rank()).min();
    for stop in &mut stops {
        stop.best = Some(stop.outcome.rank()) == best;
    }
    Some(Sweep { opening: opening.clone(), wall: wall.name.clone(), now, stops })
}
