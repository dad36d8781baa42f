//! The whole plan, settled.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::{Face, GridFrom, Job, Line, MakeUp, Post, Shell, Sole, Wall};
use crate::id::{ItemRef, Name, Surface};
use crate::math::{LEAST_PIECE, LEAST_STUD, ON_LINE, PlanPoint, PlanVector, SAME, is_place};
use crate::profile::Profile;
use crate::rules::Rules;
use crate::snag::{Code, Snag};
use crate::span::Span;

use super::ends::{End, Meets, Strip};
use super::junctions::{Settled, outline};
use super::readings::{self, Relief};
use super::spec::{between_cuts, plate_runs, runs};
use super::{Break, Laps, Place, Shared, WallSpec, faces, grid, holes, laps, levels, meetings};

/// Every wall of a job, settled, in the job's order.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The walls that can be framed: the wall's place in the job's list, where it stands, and all
    /// that it shares with others.
    pub walls: Vec<Shared>,
    /// What could not be settled as asked.
    pub snags: Vec<Snag>,
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
        breaks: Vec::new(),
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
                settled.breaks.push(Vec::new());
                settled.backings.push(Vec::new());
            }
            Err(snag) => snags.push(*snag),
        }
    }

    let node_names: Vec<[&Name; 2]> = settled.walls.iter().map(|w| [&w.from, &w.to]).collect();
    let met = meetings::find(&settled.strips, &node_names);
    let posts: Vec<(&Post, [PlanPoint; 4])> =
        job.shell.posts.iter().map(|p| (p, outline(p))).collect();
    for meeting in &met.nodes {
        let (wall, end) = meeting.ends[0];
        let node = settled.strips[wall].node(end);
        match posts.iter().find(|(_, outline)| is_in(outline, node)) {
            Some((post, _)) => settled.at_post(meeting, post),
            None => settled.meeting(meeting),
        }
    }
    for &(a, b) in &met.overlaps {
        settled.overlap(a, b);
    }
    for &(through, broken) in &met.crossings {
        settled.crossing(through, broken);
    }
    for wall in 0..settled.strips.len() {
        for (post, _) in &posts {
            settled.post_in_wall(wall, post);
        }
    }
    for wall in 0..settled.strips.len() {
        for end in 0..2 {
            if settled.ends[wall][end].is_none() {
                settled.ends[wall][end] = Some(at_shell(&job.shell, &settled.strips[wall], end));
            }
        }
    }

    let mut plain = vec![[false; 2]; settled.strips.len()];
    for meeting in met.nodes.iter().filter(|m| m.ends.len() + 2 * m.passing.len() <= 3) {
        for &(wall, end) in &meeting.ends {
            plain[wall][end] = true;
        }
    }

    let Settled { strips, ends, mut breaks, mut backings, snags: more, .. } = settled;
    snags.extend(more);
    let longest: Vec<(_, f64)> = longest_bars(job);
    let reliefs = [Surface::Floor, Surface::Ceiling].map(|s| Relief::of(job.levels.readings.of(s)));
    let [floor_relief, ceiling_relief] = &reliefs;
    let walls: Vec<Shared> = kept
        .into_iter()
        .zip(&strips)
        .zip(ends)
        .enumerate()
        .map(|(i, (((wall, makeup), strip), ends))| {
            let mut owed = std::mem::take(&mut backings[i]);
            owed.sort_by(|a, b| {
                a.span.low.total_cmp(&b.span.low).then_with(|| a.with.cmp(&b.with))
            });
            let free = |end: usize| End::square(strip.node_station(end), Meets::Free);
            let [start, finish] = ends;
            let ends = [start.unwrap_or_else(|| free(0)), finish.unwrap_or_else(|| free(1))];
            let reach = Span { low: ends[0].spread().low, high: ends[1].spread().high };
            let read = |surface: Surface, relief: &Option<Relief>| {
                readings::along_wall(job.walls[wall].readings(surface))
                    .or_else(|| Some(relief.as_ref()?.along(&strip.place, reach)))
            };
            let floor = read(Surface::Floor, floor_relief);
            let ceiling = read(Surface::Ceiling, ceiling_relief);
            let ceiling_is_read = ceiling.is_some();
            let ceiling = ceiling.unwrap_or_else(|| Profile::level(job.levels.ceiling));
            Shared {
                wall,
                place: strip.place,
                length: strip.length,
                makeup: makeup.clone(),
                frame: strip.frame,
                breaks: in_frame(std::mem::take(&mut breaks[i]), &ends),
                soffit: levels::soffit(&ceiling, &job.shell, &strip.place, strip.frame, reach),
                floor,
                ceiling_is_read,
                ends,
                head_laps: Laps::default(),
                sole_laps: Laps::default(),
                backings: owed,
                longest: longest.iter().find(|(t, _)| *t == &makeup.timber).map(|(_, l)| *l),
                boards_from: [None; 2],
                faces: [Vec::new(), Vec::new()],
            }
        })
        .collect();
    let mut walls: Vec<Shared> = walls;
    laps::settle(job, &mut walls, &plain);
    share_grids(job, &strips, &mut walls, &mut snags);
    faces::settle(job, &mut walls);
    Plan { walls, snags }
}

/// One wall, with its own choices added to what it shares.
pub fn settle_wall(job: &Job, shared: &Shared) -> WallSpec {
    let wall = &job.walls[shared.wall];
    let makeup = &shared.makeup;
    let sole = wall.sole.as_ref().unwrap_or(&makeup.sole);
    let Standing { floor, bed, head, ends } = standing(job, shared);
    let along = between(&ends);
    let centres = wall.centres.unwrap_or(makeup.centres);
    let faces = [Face::Right, Face::Left]
        .map(|face| faces::within(&shared.faces[faces::side(face)], &ends, face));
    let holes = holes::holes(wall, shared.length);
    let bearings = holes::Bearings { length: shared.length, holes: &holes, faces: &faces };
    let spots = holes::spots(wall, &bearings);
    WallSpec {
        name: wall.name.clone(),
        units: job.units,
        centres,
        length: shared.length,
        frame: shared.frame,
        finished: Span {
            low: shared.frame.low - makeup.right.thickness(),
            high: shared.frame.high + makeup.left.thickness(),
        },
        sole: sole.clone(),
        floor,
        bed,
        is_read: shared.floor.is_some() || shared.ceiling_is_read,
        packing: job.levels.packing.clone(),
        soles_at_doors: wall.soles_at_doors,
        head,
        ceiling: shared.soffit.clone(),
        breaks: in_frame(shared.breaks.clone(), &ends),
        faces,
        ends,
        head_laps: shared.head_laps.clone(),
        sole_laps: shared.sole_laps.clone(),
        backings: shared.backings.clone(),
        fixings: holes::fixings(wall, &spots),
        routes: holes::routes(wall, &spots, along),
        shifts: wall.shifts.clone(),
        joints: wall.joints.clone(),
        holes,
        spots,
        surveyed: job.shell.survey.rows.iter().any(|m| m.value.is_some()),
        odd_bay: wall.odd_bay.clone(),
        boards_from: grid::boards_from(wall, along, centres, shared.boards_from),
        rows: wall.noggin_rows.as_ref().unwrap_or(&makeup.noggins.rows).clone(),
        longest: shared.longest,
        loadbearing: wall.loadbearing,
        needs: wall.needs,
        floor_floats: job.levels.floating,
        raising: job.levels.raising,
        rules: Rules::of(&job.rules),
        makeup: makeup.clone(),
    }
}

/// What a wall stands on and goes up to, and its ends: where the head comes down to the floor it ends.
struct Standing {
    floor: Profile,
    bed: Profile,
    head: Profile,
    ends: [End; 2],
}

fn standing(job: &Job, shared: &Shared) -> Standing {
    let wall = &job.walls[shared.wall];
    let makeup = &shared.makeup;
    let (sole, head) =
        (wall.sole.as_ref().unwrap_or(&makeup.sole), wall.head.as_ref().unwrap_or(&makeup.head));
    let [start, end] = &shared.ends;
    let (low, high) = (start.spread().low - start.housing, end.spread().high + end.housing);
    let reach = Span { low, high };
    // A plate has no bend within a cut through the frame, nor so near it that the mitre would run into it.
    let short = 2.0 * makeup.timber.thickness();
    let runs = bending(&shared.ends, &in_frame(shared.breaks.clone(), &shared.ends), short);
    let floor = levels::floor(&job.levels, sole, shared.floor.as_ref());
    let bedding = wall.bedding.unwrap_or(makeup.bedding);
    let bed = levels::bed(&floor, sole, bedding, reach, &runs, short);
    let head = levels::head(&shared.soffit, head, reach).carried_on_in(&runs).without_short(short);
    let ends = under_soffit(&shared.ends, &bed, &head, makeup, sole);
    let ends = clear_of_breaks(ends, &shared.breaks);
    Standing { floor, bed, head, ends }
}

/// For each run of a frame what it covers, and in what part of it a plate may bend: not within `short` of the
/// cut at either end.
fn bending(ends: &[End; 2], breaks: &[Break], short: f64) -> Vec<[Span; 2]> {
    let mut list: Vec<[Span; 2]> = Vec::with_capacity(breaks.len() + 1);
    for (run, [start, end]) in runs(ends, breaks).into_iter().zip(plate_runs(ends, breaks)) {
        let mut covers = Span { low: start[0].min(start[1]), high: end[0].max(end[1]) };
        // At a break at a slant the long points of its two sides may pass each other.
        if let Some([before, _]) = list.last_mut()
            && before.high > covers.low
        {
            let middle = f64::midpoint(before.high, covers.low);
            (before.high, covers.low) = (middle, middle);
        }
        list.push([covers, between_cuts(run).grown(-short).intersection(covers)]);
    }
    list
}

/// The frame along a wall between the short points of its ends.
fn between(ends: &[End; 2]) -> Span {
    Span { low: ends[0].spread().high, high: ends[1].spread().low }
}

/// Settles where boards start where one wall has that from another.
fn share_grids(job: &Job, strips: &[Strip], walls: &mut [Shared], snags: &mut Vec<Snag>) {
    let takes = |w: &Shared| {
        matches!(job.walls[w.wall].grid_from, GridFrom::BoardedFace | GridFrom::InLine)
    };
    if !walls.iter().any(takes) {
        return;
    }
    let ends: Vec<[End; 2]> = walls.iter().map(|w| standing(job, w).ends).collect();
    let counted: Vec<grid::Counted<'_>> = walls
        .iter()
        .zip(strips.iter().zip(&ends))
        .map(|(shared, (strip, ends))| grid::Counted {
            wall: &job.walls[shared.wall],
            makeup: &shared.makeup,
            strip: *strip,
            along: between(ends),
            ends,
        })
        .collect();
    let given = grid::given(&counted, snags);
    for (wall, given) in walls.iter_mut().zip(given) {
        wall.boards_from = given;
    }
}

/// The ends of a wall whose head comes down to the floor: it stops where its studs would be shorter than
/// [`LEAST_STUD`].
fn under_soffit(
    ends: &[End; 2],
    bed: &Profile,
    head: &Profile,
    makeup: &MakeUp,
    sole: &Sole,
) -> [End; 2] {
    if head.is_level() && bed.is_level() {
        return ends.clone();
    }
    let reach = Span { low: ends[0].spread().low, high: ends[1].spread().high };
    let t = makeup.timber.thickness();
    let foot = match sole {
        Sole::Direct { .. } => bed.raised(t * f64::from(makeup.sole_plates)),
        Sole::Raised { top, .. } => {
            let lower = bed.raised(t);
            let has_riser = top - t - lower.highest() >= LEAST_PIECE;
            if has_riser { Profile::level(*top) } else { lower.raised(t) }
        }
    };
    let under = head.offset(-t * f64::from(makeup.head_plates));
    // Stations where the studs come to their least, in order, with the ends of the wall.
    let mut cuts: Vec<f64> =
        foot.breaks().chain(under.breaks()).filter(|s| reach.contains(*s)).collect();
    cuts.extend([reach.low, reach.high]);
    cuts.sort_by(f64::total_cmp);
    let spare = |span: Span| {
        let ((f0, f1), (u0, u1)) = (foot.over(span), under.over(span));
        (u0 - f0 - LEAST_STUD, u1 - f1 - LEAST_STUD)
    };
    let mut stands: Vec<Span> = Vec::new();
    for pair in cuts.windows(2) {
        let piece = Span { low: pair[0], high: pair[1] };
        let (a, b) = spare(piece);
        let crossing = piece.low + piece.length() * a / (a - b);
        let tall = match (a > 0.0, b > 0.0) {
            (true, true) => piece,
            (true, false) => Span { high: crossing, ..piece },
            (false, true) => Span { low: crossing, ..piece },
            (false, false) => continue,
        };
        match stands.last_mut() {
            Some(last) if tall.low - last.high <= SAME => last.high = tall.high,
            _ => stands.push(tall),
        }
    }
    let Some(longest) = stands.into_iter().max_by(|a, b| a.length().total_cmp(&b.length())) else {
        return ends.clone();
    };
    let [start, end] = ends.clone();
    [
        if longest.low > reach.low + SAME {
            End::square(longest.low, Meets::Soffit)
        } else {
            start
        },
        if longest.high < reach.high - SAME {
            End::square(longest.high, Meets::Soffit)
        } else {
            end
        },
    ]
}

/// An end that a soffit has brought into a break moves on to the edge of it.
fn clear_of_breaks([mut start, mut end]: [End; 2], breaks: &[Break]) -> [End; 2] {
    for b in breaks {
        let low = b.at[0][0].min(b.at[0][1]);
        let high = b.at[1][0].max(b.at[1][1]);
        let within = |end: &End| low < end.at[0] && end.at[0] < high;
        if start.meets == Meets::Soffit && within(&start) {
            start.at = b.at[1];
        }
        if end.meets == Meets::Soffit && within(&end) {
            end.at = b.at[0];
        }
    }
    [start, end]
}

/// The breaks that lie between the ends of the frame, in order; those that touch are one.
fn in_frame(mut breaks: Vec<Break>, ends: &[End; 2]) -> Vec<Break> {
    let inside = Span { low: ends[0].spread().high, high: ends[1].spread().low };
    let (low, high) =
        (|b: &Break| b.at[0][0].min(b.at[0][1]), |b: &Break| b.at[1][0].max(b.at[1][1]));
    breaks.retain(|b| low(b) > inside.low && high(b) < inside.high);
    breaks.sort_by(|a, b| low(a).total_cmp(&low(b)));
    let mut kept: Vec<Break> = Vec::with_capacity(breaks.len());
    for b in breaks {
        match kept.last_mut() {
            Some(last) if low(&b) <= high(last) => {
                if high(&b) > high(last) {
                    last.at[1] = b.at[1];
                }
            }
            _ => kept.push(b),
        }
    }
    kept
}

/// True when `p` is in or on an outline that runs anticlockwise.
fn is_in(outline: &[PlanPoint], p: PlanPoint) -> bool {
    let sides = outline.iter().enumerate().map(|(i, a)| (*a, outline[(i + 1) % outline.len()] - a));
    sides.into_iter().all(|(a, d)| crate::math::cross(d, p - a) >= -ON_LINE * d.norm())
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
    let mut best: Option<(f64, usize, [f64; 2])> = None;
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
            best = Some((squareness, side, at));
        }
    }
    match best {
        Some((_, side, at)) => End { at, meets: Meets::Existing { side }, housing: 0.0 },
        None => End::square(strip.node_station(end), Meets::Free),
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
