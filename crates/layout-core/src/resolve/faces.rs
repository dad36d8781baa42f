//! Where the boards of each face of a wall start and stop, layer by layer: at the ends of its frame, and at the
//! walls that meet it, with those first that are boarded first.

use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

use crate::document::{BoardedFirst, Face, Job, Wall};
use crate::id::{ItemRef, Name};
use crate::math::{PlanVector, SAME, cross, meet};
use crate::span::Span;

use super::{End, Meets, Shared};

/// What the end of a run of boards comes up to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// Nothing: the end of the wall stands free.
    Free,
    /// Something that is there already.
    Existing,
    /// The boards of another wall, in an inside corner.
    Inside,
    /// The boards of another wall, round an outside corner.
    Outside,
    /// The boards of a wall in line.
    InLine,
}

/// Boards of one face between two walls that meet it.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceRun {
    /// What each layer covers along the wall, from the frame outwards.
    pub layers: Vec<Span>,
    /// What its start and its end come up to.
    pub edges: [Edge; 2],
    /// What of its finished face is seen along the wall: between the finished faces in its corners.
    pub seen: Span,
}

/// The station each layer stops at, and what it comes up to there.
#[derive(Clone, Debug)]
struct Stop {
    layers: Vec<f64>,
    edge: Edge,
    /// Where its finished face meets what it comes up to.
    seen: f64,
}

/// A stop at an end of a wall, or somewhere along it.
type StopAt = (Option<usize>, Stop);

/// A wall as it leaves a place where walls meet; one that passes leaves it twice.
#[derive(Clone, Copy)]
struct Arm {
    wall: usize,
    end: Option<usize>,
    out: PlanVector,
}

/// Settles the runs of boards of every wall: right face, left face.
pub(super) fn settle(job: &Job, walls: &mut [Shared]) {
    let mut stops: Vec<[Vec<StopAt>; 2]> = walls.iter().map(|_| [Vec::new(), Vec::new()]).collect();
    for arms in places(job, walls) {
        for (i, &a) in arms.iter().enumerate() {
            let b = arms[(i + 1) % arms.len()];
            if a.wall == b.wall {
                continue;
            }
            for (stop_of, face, stop) in corner(job, walls, a, b) {
                stops[stop_of.wall][side(face)].push((stop_of.end, stop));
            }
        }
    }
    for (index, shared) in walls.iter_mut().enumerate() {
        let stops = std::mem::take(&mut stops[index]);
        let mut sides = [Face::Right, Face::Left].into_iter().zip(stops);
        shared.faces =
            std::array::from_fn(|_| sides.next().map_or(Vec::new(), |(f, s)| runs(shared, f, s)));
    }
}

/// Right 0, left 1, as the stations of an [`End`].
pub(crate) fn side(face: Face) -> usize {
    match face {
        Face::Right => 0,
        Face::Left => 1,
    }
}

/// The arms at each place where walls meet, anticlockwise.
fn places(job: &Job, walls: &[Shared]) -> Vec<Vec<Arm>> {
    let node = |shared: &Shared, end: usize| {
        let wall = &job.walls[shared.wall];
        if end == 0 { &wall.from } else { &wall.to }
    };
    let mut ends: BTreeMap<&Name, Vec<(usize, usize)>> = BTreeMap::new();
    for (i, shared) in walls.iter().enumerate() {
        for end in 0..2 {
            ends.entry(node(shared, end)).or_default().push((i, end));
        }
    }
    let by_name: BTreeMap<&Name, usize> =
        walls.iter().enumerate().map(|(i, s)| (&job.walls[s.wall].name, i)).collect();
    let mut places = Vec::new();
    for at in ends.values() {
        let mut arms: Vec<Arm> = Vec::new();
        for &(wall, end) in at {
            let along = walls[wall].place.along;
            arms.push(Arm { wall, end: Some(end), out: if end == 0 { along } else { -along } });
        }
        // Walls that pass: those a wall that ends here butts, and which do not end here themselves.
        for &(wall, end) in at {
            let Meets::Butts(name) = &walls[wall].ends[end].meets else { continue };
            let Some(&passing) = by_name.get(name) else { continue };
            if arms.iter().all(|arm| arm.wall != passing) {
                let along = walls[passing].place.along;
                arms.extend([along, -along].map(|out| Arm { wall: passing, end: None, out }));
            }
        }
        if arms.len() > 1 {
            arms.sort_by(|a, b| a.out.y.atan2(a.out.x).total_cmp(&b.out.y.atan2(b.out.x)));
            places.push(arms);
        }
    }
    // Walls that a crossing breaks are met by the one that runs through, on both faces.
    for (i, shared) in walls.iter().enumerate() {
        for b in &shared.breaks {
            let ItemRef::Wall(name) = &b.with else { continue };
            let Some(&through) = by_name.get(name) else { continue };
            let ways = [(i, shared.place.along), (through, walls[through].place.along)];
            let mut arms: Vec<Arm> = ways
                .into_iter()
                .flat_map(|(wall, along)| [along, -along].map(|out| Arm { wall, end: None, out }))
                .collect();
            arms.sort_by(|a, b| a.out.y.atan2(a.out.x).total_cmp(&b.out.y.atan2(b.out.x)));
            places.push(arms);
        }
    }
    places
}

/// The face of an arm on its left (`true`) or right as one looks out along it.
fn face_of(walls: &[Shared], arm: Arm, left: bool) -> Face {
    let forwards = arm.out.dot(&walls[arm.wall].place.along) > 0.0;
    if forwards == left { Face::Left } else { Face::Right }
}

/// Offset of a face of the frame with `boards` on it.
fn offset(shared: &Shared, face: Face, boards: f64) -> f64 {
    match face {
        Face::Left => shared.frame.high + boards,
        Face::Right => shared.frame.low - boards,
    }
}

/// Where the boards in the corner between two arms stop: those on the left of `a` and on the right of `b`,
/// which is the next anticlockwise.
fn corner(job: &Job, walls: &[Shared], a: Arm, b: Arm) -> Vec<(Arm, Face, Stop)> {
    let turn = cross(a.out, b.out).atan2(a.out.dot(&b.out)).rem_euclid(TAU);
    let [fa, fb] = [face_of(walls, a, true), face_of(walls, b, false)];
    if (turn - PI).abs() < 1e-3 {
        let ending = [(a, fa), (b, fb)].into_iter().filter_map(|(arm, face)| {
            let at = walls[arm.wall].ends[arm.end?].at[side(face)];
            let layers = vec![at; layers_of(&walls[arm.wall], face).len()];
            Some((arm, face, Stop { layers, edge: Edge::InLine, seen: at }))
        });
        return ending.collect();
    }
    let edge = if turn < PI { Edge::Inside } else { Edge::Outside };
    let first = is_first(job, walls, a, b);
    let stops = [(a, fa, b, fb, first), (b, fb, a, fa, !first)];
    let stop = |(arm, face, other, its, first): (Arm, Face, Arm, Face, bool)| {
        let ends = arm.end.map(|end| &walls[arm.wall].ends[end]);
        let (own, others) = (layers_of(&walls[arm.wall], face), layers_of(&walls[other.wall], its));
        let sum = |list: &[f64], n: usize| list.iter().take(n).sum::<f64>();
        let forwards = arm.out.dot(&walls[arm.wall].place.along) > 0.0;
        let at = |layer: usize| {
            // The layers the other wall has up before this one comes to its corner. A board is cut square: at a corner
            // that is not, it stops where the first of its two faces meets them.
            let there = sum(&others, if first { layer } else { layer + 1 });
            let meets =
                |off: f64| station(&walls[arm.wall], face, off, &walls[other.wall], its, there);
            let (inner, outer) = (meets(sum(&own, layer))?, meets(sum(&own, layer + 1))?);
            // In an inside corner and at a post they go no further than the frame.
            let stops = |e: &&End| edge == Edge::Inside || matches!(e.meets, Meets::Post(_));
            let frame = ends.filter(stops).map(|e| e.at[side(face)]);
            let all = [Some(inner), Some(outer), frame].into_iter().flatten();
            Some(all.fold(inner, if forwards { f64::max } else { f64::min }))
        };
        let layers: Option<Vec<f64>> = (0..own.len()).map(at).collect();
        let (all, there) = (own.iter().sum(), others.iter().sum());
        let seen = station(&walls[arm.wall], face, all, &walls[other.wall], its, there)?;
        Some((arm, face, Stop { layers: layers?, edge, seen }))
    };
    stops.into_iter().filter_map(stop).collect()
}

/// Thicknesses of the layers on a face, from the frame outwards.
fn layers_of(shared: &Shared, face: Face) -> Vec<f64> {
    let finish = match face {
        Face::Left => &shared.makeup.left,
        Face::Right => &shared.makeup.right,
    };
    finish.boards.iter().map(|b| b.thickness).collect()
}

/// Station of a wall at which a line along its face, `own` off the frame, meets one along a face of another.
fn station(
    wall: &Shared,
    face: Face,
    own: f64,
    other: &Shared,
    its: Face,
    there: f64,
) -> Option<f64> {
    let line = |s: &Shared, face: Face, off: f64| s.place.plan(0.0, offset(s, face, off));
    let (p, q) = (line(wall, face, own), line(other, its, there));
    meet(p, wall.place.along, q, other.place.along).filter(|s| s.is_finite())
}

/// True when the wall of `a` is boarded before that of `b`: as one of them says, or else the one that does not
/// stop at the other, or the one drawn first.
fn is_first(job: &Job, walls: &[Shared], a: Arm, b: Arm) -> bool {
    let order = |arm: Arm| {
        let wall = &job.walls[walls[arm.wall].wall];
        let gives_way = arm.end.is_some_and(|end| {
            matches!(&walls[arm.wall].ends[end].meets, Meets::Butts(_) | Meets::Existing { .. })
        });
        (arm.end.map_or(1, |end| rank(wall, end)), gives_way, arm.wall)
    };
    order(a) < order(b)
}

/// Which wall it says is boarded first at one end: less goes first.
pub(super) fn rank(wall: &Wall, end: usize) -> u8 {
    match if end == 0 { wall.boarded_from } else { wall.boarded_to } {
        BoardedFirst::This => 0,
        BoardedFirst::Auto => 1,
        BoardedFirst::Other => 2,
    }
}

/// The runs of one face, between its ends and the walls that meet it.
fn runs(shared: &Shared, face: Face, mut stops: Vec<StopAt>) -> Vec<FaceRun> {
    let count = layers_of(shared, face).len();
    if count == 0 {
        return Vec::new();
    }
    let at_end = |end: usize| {
        let own = |(of, _): &&StopAt| *of == Some(end);
        stops
            .iter()
            .find(own)
            .map_or_else(|| bare_end(&shared.ends[end], face, count), |(_, s)| s.clone())
    };
    let (start, finish) = (at_end(0), at_end(1));
    stops.retain(|(end, _)| end.is_none());
    // Along the wall; at each wall that meets it the boards stop and start again.
    stops.sort_by(|a, b| a.1.layers[0].total_cmp(&b.1.layers[0]));
    let mut runs = Vec::new();
    let mut from = start;
    let mut put = |from: &Stop, to: &Stop| {
        let spans = from.layers.iter().zip(&to.layers);
        let layers: Vec<Span> = spans.map(|(&low, &high)| Span { low, high }).collect();
        if layers.iter().all(|s| s.length() > SAME) {
            let seen = Span::between(from.seen, to.seen);
            runs.push(FaceRun { layers, edges: [from.edge, to.edge], seen });
        }
    };
    for pair in stops.chunks_exact(2) {
        put(&from, &pair[0].1);
        from = pair[1].1.clone();
    }
    put(&from, &finish);
    runs
}

/// The end of a wall that no other wall meets on this face.
fn bare_end(end: &End, face: Face, count: usize) -> Stop {
    let edge = match end.meets {
        Meets::Free => Edge::Free,
        _ => Edge::Existing,
    };
    let at = end.at[side(face)];
    Stop { layers: vec![at; count], edge, seen: at }
}

/// The runs of a wall whose frame stops short of where they were settled, under a soffit that comes down.
pub(super) fn within(runs: &[FaceRun], ends: &[End; 2], face: Face) -> Vec<FaceRun> {
    let mut runs = runs.to_vec();
    for (end, settled) in ends.iter().enumerate().filter(|(_, e)| e.meets == Meets::Soffit) {
        let at = settled.at[side(face)];
        for run in &mut runs {
            for layer in run.layers.iter_mut().chain([&mut run.seen]) {
                let own = if end == 0 { &mut layer.low } else { &mut layer.high };
                *own = if end == 0 { own.max(at) } else { own.min(at) };
            }
        }
        runs.retain(|run| run.layers.iter().all(|s| s.length() > SAME));
    }
    runs
}
