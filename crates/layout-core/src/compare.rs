//! Choices side by side: what every place for the odd bay, every usual spacing and every place for an opening
//! would come to. Nothing here changes the job; what is chosen comes with the edit that makes it so.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::{Edit, GridFrom, Job, OddBay, Opening, Wall, WallEnd};
use crate::frame::{Role, board_joints};
use crate::id::{ItemRef, Name};
use crate::layout::{Layout, WallLayout};
use crate::math::{BOUND_EDGE, SAME, round_to, same};
use crate::pieces::{Bill, Biller};
use crate::resolve::board_width;
use crate::snag::{Code, Severity, Snag};
use crate::span::Span;

/// Usual stud centres with boards 1200 wide, and with boards 4 ft wide (16 and 24 in).
const CENTRES: [&[f64]; 2] = [&[300.0, 400.0, 600.0], &[406.4, 609.6]];

/// What one wall takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tally {
    /// Pieces of every kind.
    pub pieces: usize,
    /// Full-height studs.
    pub studs: usize,
    /// Noggins.
    pub noggins: usize,
    /// Different lengths to cut.
    pub lengths: usize,
    /// Timber as cut, mm.
    pub timber: f64,
    /// Studs that stand off their mark, are packed, left out or added.
    pub moved: usize,
    /// Joints of upright boards with no stud to take both edges.
    pub joints_off: usize,
}

impl Tally {
    /// Counts `wall`.
    pub fn of(wall: &WallLayout) -> Tally {
        let members = &wall.frame.members;
        let count = |is: &dyn Fn(Role) -> bool| members.iter().filter(|m| is(m.role)).count();
        let mut lengths: Vec<i64> = members.iter().map(|m| wall.cut_length(m) as i64).collect();
        lengths.sort_unstable();
        lengths.dedup();
        let moves = [Code::StudShifted, Code::StudPacked, Code::StudDropped, Code::StudAdded];
        Tally {
            pieces: members.len(),
            studs: count(&Role::is_full_height),
            noggins: count(&|role| role == Role::Noggin),
            lengths: lengths.len(),
            timber: wall.frame.totals.iter().map(|t| t.length).sum(),
            moved: wall.frame.snags.iter().filter(|s| moves.contains(&s.code)).count(),
            joints_off: joints_off(wall),
        }
    }
}

/// Joints of upright boards that have no stud, or studs nailed as one, behind both edges.
fn joints_off(wall: &WallLayout) -> usize {
    let is_upright = |role: Role| role.is_full_height() || role == Role::Cripple;
    let mut studs: Vec<Span> = Vec::new();
    let uprights = wall.frame.members.iter().filter(|m| is_upright(m.role));
    let mut spans: Vec<Span> = uprights.map(|m| m.solid.stations()).collect();
    spans.sort_by(|a, b| a.low.total_cmp(&b.low));
    for span in spans {
        match studs.last_mut() {
            Some(last) if span.low <= last.high + SAME => last.high = last.high.max(span.high),
            _ => studs.push(span),
        }
    }
    let stands = |at: f64| {
        let bearing = Span::about(at, 2.0 * BOUND_EDGE);
        studs.iter().any(|s| s.covers(bearing))
            || wall
                .spec
                .breaks
                .iter()
                .any(|b| Span::between(b.at[0][0], b.at[1][0]).overlaps(bearing))
    };
    let off = |from: WallEnd| {
        board_joints(&wall.spec, from).into_iter().filter(|at| !stands(*at)).count()
    };
    off(WallEnd::Start).min(off(WallEnd::End))
}

/// What the whole job comes to, with one wall of it looked at closely.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The wall.
    pub wall: Tally,
    /// The timber of the whole job.
    pub bill: Bill,
    /// Snags of the whole job: stop, mend, note.
    pub snags: [usize; 3],
    /// Snags that are not there now.
    pub opened: Vec<Snag>,
    /// Snags that are there now and would be gone.
    pub closed: Vec<Snag>,
}

impl Outcome {
    /// What `layout` comes to, for `wall`, against the layout `now` that `biller` started from.
    pub fn of(job: &Job, layout: &Layout, wall: &Name, now: &Layout, biller: &Biller) -> Outcome {
        let count = |of: Severity| layout.snags.iter().filter(|s| s.severity() == of).count();
        Outcome {
            wall: layout.wall(wall).map(Tally::of).unwrap_or_default(),
            bill: biller.bill(layout, &job.stock, &job.saw),
            snags: [Severity::Stop, Severity::Mend, Severity::Note].map(count),
            opened: missing(&layout.snags, &now.snags).into_iter().cloned().collect(),
            closed: missing(&now.snags, &layout.snags).into_iter().cloned().collect(),
        }
    }

    /// Less is better: what stops or must be mended first, then board joints without a stud, the price (or
    /// the length bought), pieces, lengths to cut.
    fn rank(&self) -> [i64; 7] {
        let cost = self.bill.price.map_or(self.bill.bought, |p| p * 100.0).round() as i64;
        let of = |n: usize| n as i64;
        [
            of(self.snags[0]),
            of(self.snags[1] + self.bill.no_bar),
            of(self.wall.joints_off),
            cost,
            of(self.wall.pieces),
            of(self.wall.lengths),
            of(self.wall.moved),
        ]
    }
}

/// Snags of `these` that `those` do not have, by what they are and what they are about.
pub fn missing<'a>(these: &'a [Snag], those: &'a [Snag]) -> Vec<&'a Snag> {
    let mut left: BTreeMap<(Code, &ItemRef), usize> = BTreeMap::new();
    for snag in those {
        *left.entry((snag.code, &snag.of)).or_insert(0) += 1;
    }
    let is_new = |snag: &&'a Snag| match left.get_mut(&(snag.code, &snag.of)) {
        Some(count) if *count > 0 => {
            *count -= 1;
            false
        }
        _ => true,
    };
    these.iter().filter(is_new).collect()
}

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
