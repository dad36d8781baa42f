//! The whole plan, settled.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::{Job, Line, MakeUp, Shell, Wall};
use crate::id::{ItemRef, Name};
use crate::math::{ON_LINE, PlanPoint, PlanVector, SAME, is_place};
use crate::snag::{Code, Snag};
use crate::span::Span;

use super::ends::{End, Meets, Strip};
use super::junctions::Settled;
use super::{Backing, Place, WallSpec, holes, levels, meetings};

/// Every wall of a job, settled, in the job's order.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The walls that can be framed: the wall's place in the job's list, where it stands, and all
    /// that it shares with others.
    pub walls: Vec<Shared>,
    /// What could not be settled as asked.
    pub snags: Vec<Snag>,
}

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
    /// Timber it owes.
    pub backings: Vec<Backing>,
    /// The longest bar of its section.
    pub longest: Option<f64>,
}

/// Settles everything the walls of `job` share.
pub fn resolve(job: &Job) -> Plan {
    let nodes: BTreeMap<&Name, PlanPoint> = job.nodes.iter().map(|n| (&n.name, n.at)).collect();
    let makeups: BTreeMap<&Name, &Arc<MakeUp>> = job.makeups.iter().map(|m| (&m.name, m)).collect();

    let mut snags = Vec::new();
    let mut kept: Vec<(usize, &Arc<MakeUp>)> = Vec::new();
    let mut settled = Settled {
        walls: Vec::new(),
        strips: Vec::new(),
        ends: Vec::new(),
        backings: Vec::new(),
        snags: Vec::new(),
    };
    for (index, wall) in job.walls.iter().enumerate() {
        let found = (nodes.get(&wall.from), nodes.get(&wall.to), makeups.get(&wall.makeup));
        let (Some(&from), Some(&to), Some(&makeup)) = found else {
            snags.push(missing(wall, &found));
            continue;
        };
        match strip(wall, makeup, from, to) {
            Ok(strip) => {
                kept.push((index, makeup));
                settled.walls.push(wall);
                settled.strips.push(strip);
                settled.ends.push([None, None]);
                settled.backings.push(Vec::new());
            }
            Err(snag) => snags.push(*snag),
        }
    }

    let node_names: Vec<[&Name; 2]> = settled.walls.iter().map(|w| [&w.from, &w.to]).collect();
    let met = meetings::find(&settled.strips, &node_names);
    for group in &met.nodes {
        settled.node(group);
    }
    for &(end, against) in &met.tees {
        settled.butt(end, against, None);
    }
    for &(a, b) in &met.clashes {
        let message =
            format!("Wall {} runs through wall {}", settled.walls[a].name, settled.walls[b].name);
        let snag = settled.snag(
            Code::WallsCross,
            (b, 0),
            message,
            "Stop one at the other, or split it in two there.",
        );
        settled.snags.push(snag);
    }
    for wall in 0..settled.strips.len() {
        for end in 0..2 {
            if settled.ends[wall][end].is_none() {
                settled.ends[wall][end] = Some(at_shell(&job.shell, &settled.strips[wall], end));
            }
        }
    }

    let Settled { strips, ends, mut backings, snags: more, .. } = settled;
    snags.extend(more);
    let longest: Vec<(_, f64)> = longest_bars(job);
    let walls = kept
        .into_iter()
        .zip(strips)
        .zip(ends)
        .enumerate()
        .map(|(i, (((wall, makeup), strip), ends))| {
            let mut owed = std::mem::take(&mut backings[i]);
            owed.sort_by(|a, b| {
                a.span.low.total_cmp(&b.span.low).then_with(|| a.with.cmp(&b.with))
            });
            let free = |end: usize| End { station: strip.node_station(end), meets: Meets::Free };
            let [start, finish] = ends;
            Shared {
                wall,
                place: strip.place,
                length: strip.length,
                makeup: makeup.clone(),
                frame: strip.frame,
                ends: [start.unwrap_or_else(|| free(0)), finish.unwrap_or_else(|| free(1))],
                backings: owed,
                longest: longest.iter().find(|(t, _)| *t == &makeup.timber).map(|(_, l)| *l),
            }
        })
        .collect();
    Plan { walls, snags }
}

/// One wall, with its own choices added to what it shares.
pub fn settle_wall(job: &Job, shared: &Shared) -> WallSpec {
    let wall = &job.walls[shared.wall];
    let makeup = &shared.makeup;
    let (sole, head) =
        (wall.sole.as_ref().unwrap_or(&makeup.sole), wall.head.as_ref().unwrap_or(&makeup.head));
    WallSpec {
        name: wall.name.clone(),
        centres: wall.centres.unwrap_or(makeup.centres),
        length: shared.length,
        frame: shared.frame,
        finished: Span {
            low: shared.frame.low - makeup.right.thickness(),
            high: shared.frame.high + makeup.left.thickness(),
        },
        ends: shared.ends.clone(),
        sole: sole.clone(),
        floor: levels::floor(&job.levels, sole),
        head: levels::head(&job.levels, head),
        ceiling: crate::profile::Profile::level(job.levels.ceiling),
        backings: shared.backings.clone(),
        holes: holes::holes(wall, shared.length),
        spots: holes::spots(wall, shared.length),
        odd_bay: wall.odd_bay.clone(),
        grid_from: wall.grid_from,
        rows: wall.noggin_rows.as_ref().unwrap_or(&makeup.noggins.rows).clone(),
        longest: shared.longest,
        loadbearing: wall.loadbearing,
        makeup: makeup.clone(),
    }
}

fn missing(
    wall: &Wall,
    found: &(Option<&PlanPoint>, Option<&PlanPoint>, Option<&&Arc<MakeUp>>),
) -> Snag {
    let what = match found {
        (None, _, _) => format!("node {}", wall.from),
        (_, None, _) => format!("node {}", wall.to),
        _ => format!("make-up {}", wall.makeup),
    };
    Snag::new(
        Code::MissingPart,
        ItemRef::Wall(wall.name.clone()),
        format!("Wall {} names {what}, which the job does not have", wall.name),
        "Add it, or choose another for the wall.",
    )
}

/// The strip a wall's frame lies in, or why there is none.
fn strip(wall: &Wall, makeup: &MakeUp, from: PlanPoint, to: PlanPoint) -> Result<Strip, Box<Snag>> {
    let refuse = |code, what: &str, remedy: &str| {
        Err(Box::new(Snag::new(
            code,
            ItemRef::Wall(wall.name.clone()),
            format!("Wall {} {what}", wall.name),
            remedy,
        )))
    };
    let (depth, left, right) =
        (makeup.timber.depth(), makeup.left.thickness(), makeup.right.thickness());
    let numbers = [from.x, from.y, to.x, to.y, left, right];
    if !numbers.iter().copied().all(is_place) {
        return refuse(
            Code::Absurd,
            "has a number no building has",
            "Give it lengths in millimetres.",
        );
    }
    let along: PlanVector = to - from;
    let length = along.norm();
    if length < ON_LINE {
        return refuse(
            Code::WallTooShort,
            "starts and ends at the same place",
            "Move one of its nodes.",
        );
    }
    let frame = match wall.line {
        Line::Centre => Span::about(0.0, depth),
        Line::LeftFace => Span::from(-depth, depth),
        Line::RightFace => Span::from(0.0, depth),
        Line::LeftFinished => Span::from(-depth - left, depth),
        Line::RightFinished => Span::from(right, depth),
    };
    Ok(Strip { place: Place { origin: from, along: along / length }, length, frame })
}

/// The end of a wall that meets no other wall: at an existing wall when its node stands on one.
fn at_shell(shell: &Shell, strip: &Strip, end: usize) -> End {
    let node = strip.node(end);
    let mut best: Option<(f64, usize, f64)> = None;
    for (side, (a, b)) in shell.sides().enumerate() {
        let direction = b - a;
        let length = direction.norm();
        if length < SAME {
            continue;
        }
        let u = direction / length;
        let from_a = node - a;
        let (s, n) = (from_a.dot(&u), crate::math::cross(u, from_a));
        let reaches = n.abs() <= ON_LINE && s >= -ON_LINE && s <= length + ON_LINE;
        if !reaches || strip.is_parallel_to(u) {
            continue;
        }
        // A node in a corner of the room stands on two sides: the squarer one is the one it meets.
        let squareness = crate::math::cross(strip.place.along, u).abs();
        if let Some(at) = strip.meets_line(a, u)
            && best.is_none_or(|(q, _, _)| squareness > q)
        {
            best = Some((squareness, side, Strip::stop_short(end, at)));
        }
    }
    match best {
        Some((_, side, station)) => End { station, meets: Meets::Existing { side } },
        None => End { station: strip.node_station(end), meets: Meets::Free },
    }
}

/// The longest bar of each section in the timber list.
fn longest_bars(job: &Job) -> Vec<(&crate::document::Timber, f64)> {
    let mut list: Vec<(&crate::document::Timber, f64)> = Vec::new();
    for stock in job.stock.iter().filter(|s| s.length.is_finite() && s.length > 0.0) {
        match list.iter_mut().find(|(t, _)| *t == &stock.timber) {
            Some((_, length)) => *length = length.max(stock.length),
            None => list.push((&stock.timber, stock.length)),
        }
    }
    list
}
