//! One platform, settled: all that its framing needs to know, with the walls it hangs on read once.

use crate::document::{Bearing, Finish, Job, Platform, PlatformHoleKind, PlatformKind, Timber};
use crate::id::{ItemRef, Name};
use crate::math::{PlanPoint, PlanVector, SAME, cross, is_place};
use crate::profile::Profile;
use crate::resolve::{Place, WallSpec, soffit};
use crate::span::Span;
use crate::units::Units;

/// How far a face may stand off a side of the outline and still hold it: a layer of board and some skim.
const NEAR: f64 = 30.0;
/// How far a face may be out of parallel with the side it holds, radians.
const PARALLEL: f64 = 0.01;

/// A platform whose every question about the walls has been answered. Equal specs give equal frames.
///
/// *Along* is the way the joists run, from their first end at 0; *across* is square to it, from the first
/// joist.
#[derive(Clone, Debug, PartialEq)]
pub struct PlatformSpec {
    /// Its name.
    pub name: Name,
    /// What it is.
    pub kind: PlatformKind,
    /// What its lengths are shown and cut in.
    pub units: Units,
    /// False when its corner or its turn is no place a building has.
    pub is_placed: bool,
    /// True when the joists run along its width, and so along x of its place.
    pub along_width: bool,
    /// Its size along the joists, over their bearings.
    pub length: f64,
    /// Its size across the joists.
    pub width: f64,
    /// Underside and top of the joists above FFL.
    pub heights: Span,
    /// Underside and top with boards and skim.
    pub finished: Span,
    /// The lowest of what is over it: ceiling, slope or beam.
    pub ceiling: f64,
    /// Joists and all that goes with them.
    pub timber: Timber,
    /// Timber of fronts.
    pub front: Timber,
    /// Joist centres.
    pub centres: f64,
    /// How the first and the last ends of the joists are carried.
    pub bearings: [Bearing; 2],
    /// The most clear length of joist between noggins.
    pub apart: f64,
    /// Boards and skim on its underside and on its fronts.
    pub below: Finish,
    /// Boards on its top.
    pub above: Finish,
    /// Weight of its boards and skim, kN/m².
    pub boards: f64,
    /// Load it was said to carry, kN/m².
    pub load: Option<f64>,
    /// Its holes.
    pub holes: Vec<Hole>,
    /// What holds its sides: where the joists begin, where they end, beside the first, beside the last.
    pub held: [Vec<Held>; 4],
    /// Walls that stand up through it, and how high.
    pub pierced: Vec<(Name, f64)>,
    /// The longest bar of its section, where the timber list has one.
    pub longest: Option<f64>,
}

/// A hole through a platform.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Its name.
    pub name: Name,
    /// What it is for.
    pub kind: PlatformHoleKind,
    /// What it takes along the joists.
    pub along: Span,
    /// What it takes across them.
    pub across: Span,
}

/// A wall or a side of the room that holds a stretch of a side.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The wall or side.
    pub by: ItemRef,
    /// The stretch, along the side.
    pub span: Span,
}

impl PlatformSpec {
    /// Where the joists' ends are: between the plates, the rims, the fronts or the walls.
    pub fn run(&self) -> Span {
        let taken = |bearing: Bearing| match bearing {
            Bearing::Plate | Bearing::Rim => self.timber.thickness(),
            Bearing::Front => self.front.depth(),
            Bearing::Hangers => 0.0,
        };
        Span { low: taken(self.bearings[0]), high: self.length - taken(self.bearings[1]) }
    }

    /// What holds it, each once, in the order of its sides.
    pub fn holders(&self) -> Vec<&ItemRef> {
        let mut list: Vec<&ItemRef> = Vec::new();
        for held in self.held.iter().flatten() {
            if !list.contains(&&held.by) {
                list.push(&held.by);
            }
        }
        list
    }

    /// The stretch along its width and the stretch along its depth of what lies `along` and `across`.
    pub fn own(&self, along: Span, across: Span) -> (Span, Span) {
        if self.along_width { (along, across) } else { (across, along) }
    }
}

/// Where a platform stands: its corner, and along its width.
pub(crate) fn place(platform: &Platform) -> Place {
    let (sin, cos) = platform.turn_deg.to_radians().sin_cos();
    Place { origin: platform.corner, along: PlanVector::new(cos, sin) }
}

/// One platform with what the walls say about it.
pub(crate) fn settle<'a>(
    job: &Job,
    platform: &Platform,
    walls: &(impl Iterator<Item = (&'a Place, &'a WallSpec)> + Clone),
) -> PlatformSpec {
    let (depth, below, above) =
        (platform.timber.depth(), platform.below.thickness(), platform.above.thickness());
    let low = match platform.kind {
        PlatformKind::Shelf => platform.level - above - depth,
        PlatformKind::LowCeiling | PlatformKind::Bulkhead => platform.level + below,
    };
    let heights = Span::from(low, depth);
    let along_width = platform.spans_width();
    let (w, d) = platform.size;
    let (length, width) = if along_width { (w, d) } else { (d, w) };
    let holes = platform
        .holes
        .iter()
        .map(|h| {
            let (u, v) = (Span::about(h.at.0, h.size.0), Span::about(h.at.1, h.size.1));
            let (along, across) = if along_width { (u, v) } else { (v, u) };
            Hole { name: h.name.clone(), kind: h.kind, along, across }
        })
        .collect();
    // Near, right, far and left, each along the width or the depth.
    let [a, b, c, e] = platform.corners();
    let (near, right, far, left) = ((a, b), (b, c), (e, c), (a, e));
    let sides = if along_width { [left, right, near, far] } else { [near, far, left, right] };
    let stock = job.stock.iter().filter(|s| s.timber == platform.timber);
    let longest = stock.map(|s| s.length).filter(|l| l.is_finite() && *l > 0.0).reduce(f64::max);
    PlatformSpec {
        name: platform.name.clone(),
        kind: platform.kind,
        units: job.units,
        is_placed: [platform.corner.x, platform.corner.y, platform.turn_deg]
            .into_iter()
            .all(is_place),
        along_width,
        length,
        width,
        heights,
        finished: Span { low: heights.low - below, high: heights.high + above },
        ceiling: over(job, platform),
        timber: platform.timber.clone(),
        front: platform.front.clone().unwrap_or_else(|| platform.timber.clone()),
        centres: platform.centres,
        bearings: [platform.bearings.0, platform.bearings.1],
        apart: platform.noggins_apart,
        below: platform.below.clone(),
        above: platform.above.clone(),
        boards: super::checks::weight([&platform.below, &platform.above]),
        load: platform.load,
        holes,
        held: sides.map(|side| holders(job, side, heights, walls.clone())),
        pierced: pierced(platform, heights.low, walls.clone()),
        longest,
    }
}

/// Walls inside the outline that go higher than `low`.
fn pierced<'a>(
    platform: &Platform,
    low: f64,
    walls: impl Iterator<Item = (&'a Place, &'a WallSpec)>,
) -> Vec<(Name, f64)> {
    let extent = |values: &[f64]| {
        let least = values.iter().copied().fold(f64::INFINITY, f64::min);
        Span { low: least, high: values.iter().copied().fold(f64::NEG_INFINITY, f64::max) }
    };
    let (w, d) = platform.size;
    let (inside_x, inside_y) =
        (Span { low: NEAR, high: w - NEAR }, Span { low: NEAR, high: d - NEAR });
    let outline = [
        (inside_x.low, inside_y.low),
        (inside_x.high, inside_y.low),
        (inside_x.high, inside_y.high),
        (inside_x.low, inside_y.high),
    ];
    let stands = |place: &Place, wall: &WallSpec| {
        let (along, frame) = (wall.along(), wall.frame);
        let own = [
            (along.low, frame.low),
            (along.high, frame.low),
            (along.high, frame.high),
            (along.low, frame.high),
        ]
        .map(|(s, n)| platform.own(place.plan(s, n)));
        // Two rectangles are apart when they are along one of the axes of either.
        let theirs = outline.map(|(u, v)| place.wall(platform.plan(u, v)));
        extent(&own.map(|p| p.0)).overlaps(inside_x)
            && extent(&own.map(|p| p.1)).overlaps(inside_y)
            && extent(&theirs.map(|p| p.0)).overlaps(along)
            && extent(&theirs.map(|p| p.1)).overlaps(frame)
    };
    walls
        .map(|(place, wall)| (place, wall, wall.head.highest()))
        .filter(|(place, wall, top)| *top > low + SAME && stands(place, wall))
        .map(|(_, wall, top)| (wall.name.clone(), top))
        .collect()
}

/// The lowest of the ceiling, the slopes and the beams over it.
fn over(job: &Job, platform: &Platform) -> f64 {
    let (w, d) = platform.size;
    let (width, depth) = (Span { low: 0.0, high: w }, Span { low: 0.0, high: d });
    let read = job.levels.readings.ceiling.iter().map(|r| r.level);
    let ceiling = Profile::level(read.fold(job.levels.ceiling, f64::min));
    soffit(&ceiling, &job.shell, &place(platform), depth, width).lowest()
}

/// The walls and sides of the room that hold a side, from `p` to `q`, of something as high as `heights`.
fn holders<'a>(
    job: &Job,
    (p, q): (PlanPoint, PlanPoint),
    heights: Span,
    walls: impl Iterator<Item = (&'a Place, &'a WallSpec)>,
) -> Vec<Held> {
    let side = q - p;
    let length = side.norm();
    if !(length > SAME && length.is_finite()) {
        return Vec::new();
    }
    let u = side / length;
    let whole = Span { low: 0.0, high: length };
    // The stretch of the side that a face from `a` to `b` stands against.
    let against = |a: PlanPoint, b: PlanPoint| -> Option<Span> {
        let (a, b) = (a - p, b - p);
        let run = b - a;
        let is_parallel = cross(u, run).abs() <= PARALLEL * run.norm();
        let is_near = [a, b].iter().all(|e| cross(u, *e).abs() <= NEAR);
        let span = Span::between(a.dot(&u), b.dot(&u)).intersection(whole);
        (is_parallel && is_near && span.length() > SAME).then_some(span)
    };
    let mut held = Vec::new();
    for (place, wall) in walls {
        let along = wall.along();
        let at = |s: f64, n: f64| place.plan(s, n);
        // The nearer of its two faces.
        let faces = [wall.frame.low, wall.frame.high];
        let off = |n: &f64| cross(u, at(along.low, *n) - p).abs();
        let Some(n) = faces.into_iter().min_by(|a, b| off(a).total_cmp(&off(b))) else { continue };
        // Openings as high as it leave nothing to fix to, and a wall must be as high as its top.
        let open: Vec<Span> = wall
            .holes
            .iter()
            .filter(|h| h.top > heights.low + SAME && h.sill.unwrap_or(0.0) < heights.high - SAME)
            .map(|h| h.span)
            .collect();
        for part in along.without(&open) {
            let is_high =
                wall.head.at(part.low).min(wall.head.at(part.high)) >= heights.high - SAME;
            if let Some(span) = against(at(part.low, n), at(part.high, n)).filter(|_| is_high) {
                held.push(Held { by: ItemRef::Wall(wall.name.clone()), span });
            }
        }
    }
    for (i, (a, b)) in job.shell.sides().enumerate() {
        if let Some(span) = against(a, b) {
            held.push(Held { by: ItemRef::Side(i), span });
        }
    }
    held
}
