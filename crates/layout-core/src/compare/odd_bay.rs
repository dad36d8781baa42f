//! Every place for the odd bay of a wall, at every usual spacing.

use std::sync::Arc;

use super::Outcome;
use crate::document::{Edit, GridFrom, Job, OddBay, Opening, Wall};
use crate::id::Name;
use crate::layout::{Layout, WallLayout};
use crate::math::same;
use crate::pieces::Biller;
use crate::resolve::board_width;

/// Usual stud centres with boards 1200 wide, and with boards 4 ft wide (16 and 24 in).
const CENTRES: [&[f64]; 2] = [&[300.0, 400.0, 600.0], &[406.4, 609.6]];

/// One place for the odd bay, at one spacing.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// Where the odd bay goes.
    pub odd_bay: OddBay,
    /// Where the grid is counted from, when not from where it is now.
    pub grid_from: Option<GridFrom>,
    /// Stud centres, mm.
    pub centres: f64,
    /// True for the one the wall has now.
    pub now: bool,
    /// True for one than which no other is better.
    pub best: bool,
    /// What it comes to.
    pub outcome: Outcome,
    /// The edit that makes it so, as one step.
    pub edit: Edit,
}

impl Choice {
    /// “at the end”; “end, boarded face” when the grid starts somewhere else than now.
    pub fn words(&self) -> String {
        let bay = self.odd_bay.label();
        match self.grid_from {
            Some(grid) => format!("{}, {}", bay.trim_start_matches("at the "), grid.place()),
            None => bay,
        }
    }
}

/// Every place for the odd bay of `wall` at every usual spacing, by spacing; the spacing the wall has now is
/// among them. With the odd bay at an end, also the other places the grid could be counted from, where they differ: the
/// face of a wall that is boarded first, the grid of the wall in line. Empty when there is no such wall, or `go_on` says to give up.
pub fn choices(job: &Job, layout: &Layout, wall: &Name, go_on: &dyn Fn() -> bool) -> Vec<Choice> {
    let (Some(of), Some(laid)) = (job.wall(wall), layout.wall(wall)) else { return Vec::new() };
    let now = laid.spec.centres;
    let feet = board_width(now) != board_width(CENTRES[0][0]);
    let mut centres = CENTRES[usize::from(feet)].to_vec();
    if !centres.iter().any(|c| same(*c, now)) {
        centres.push(now);
        centres.sort_by(f64::total_cmp);
    }
    let mut bays = vec![OddBay::AtEnd, OddBay::AtStart];
    let mut openings: Vec<&Opening> = of.openings.iter().collect();
    openings.sort_by(|a, b| a.name.cmp(&b.name));
    bays.extend(openings.into_iter().map(|o| OddBay::Beside(o.name.clone())));
    bays.push(OddBay::Split);
    let starts = [GridFrom::FrameEnd, GridFrom::BoardedFace, GridFrom::InLine];
    let others = || starts.into_iter().filter(|grid| *grid != of.grid_from).map(Some);
    let biller = Biller::new(layout);
    let mut choices = Vec::with_capacity(centres.len() * bays.len());
    for centres in centres {
        for odd_bay in &bays {
            let at_end = matches!(odd_bay, OddBay::AtEnd | OddBay::AtStart);
            // The end boards are counted from: the other does not matter.
            let counted = usize::from(*odd_bay == OddBay::AtStart);
            let mut counted_from: Vec<f64> = Vec::new();
            for grid_from in std::iter::once(None).chain(others().filter(|_| at_end)) {
                if !go_on() {
                    return Vec::new();
                }
                let edit =
                    choose(job, of, laid, odd_bay, grid_from.unwrap_or(of.grid_from), centres);
                let after = edit.apply(job);
                let relaid = layout.relayout(&after);
                let Some(relaid_wall) = relaid.wall(wall) else { continue };
                let from = relaid_wall.spec.boards_from[counted];
                if grid_from.is_some() && counted_from.iter().any(|other| same(*other, from)) {
                    continue;
                }
                counted_from.push(from);
                choices.push(Choice {
                    odd_bay: odd_bay.clone(),
                    grid_from,
                    centres,
                    now: grid_from.is_none() && *odd_bay == of.odd_bay && same(centres, now),
                    best: false,
                    outcome: Outcome::of(&after, &relaid, wall, layout, &biller),
                    edit,
                });
            }
        }
    }
    let best = choices.iter().map(|c| c.outcome.rank()).min();
    for choice in &mut choices {
        choice.best = Some(choice.outcome.rank()) == best;
    }
    choices
}

/// The edit that gives a wall this odd bay, this start of its grid and these centres.
fn choose(
    job: &Job,
    wall: &Arc<Wall>,
    laid: &WallLayout,
    odd_bay: &OddBay,
    grid_from: GridFrom,
    centres: f64,
) -> Edit {
    let usual = job.makeup(&wall.makeup).map(|m| m.centres);
    let centres = if same(centres, laid.spec.centres) {
        wall.centres
    } else {
        Some(centres).filter(|c| usual.is_none_or(|u| !same(*c, u)))
    };
    let changed = Wall { odd_bay: odd_bay.clone(), grid_from, centres, ..Wall::clone(wall) };
    let from = if grid_from == wall.grid_from {
        String::new()
    } else {
        format!(", counting from the {}", grid_from.place())
    };
    let label = format!("put the odd bay of wall {} {}{from}", wall.name, odd_bay.label());
    Edit::Several(label, vec![Edit::PutWall(Arc::new(changed))])
}
