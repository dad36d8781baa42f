//! Setting out on the floor: one line snapped for every frame, where its ends are from the datum and by two tapes, what is
//! marked along it, what proves it square, and how far a splay is set back.
//!
//! ```text
//!   2●──────────────────●3      the line is one face of the frame; timber, and the crosses,
//!    │     A            │       go on one side of it
//!    │     ╳╳╳╳╳╳╳╳╳╳╳╳╳│
//!    │     ━━━━━━━━━━━━━│◀─ line of A: ends from the datum, and by tapes from 1 and 4
//!    │  ┈┈┈┈┈┈┈┈┈┈┈┈┈┈┈┈│◀─ laser, this far off it on the other side
//!   1◉──────────────────●4
//! ```

use crate::document::{Face, Job, Line};
use crate::id::{ItemRef, Name};
use crate::layout::{Layout, WallLayout};
use crate::math::{PlanPoint, PlanVector, SAME, SQUARE, cross, crosses, meet, same};
use crate::resolve::Meets;
use crate::span::Span;
use crate::survey::tape::{
    Diagonal, ThreeFourFive, TwoTapes, diagonals, three_four_five, two_tapes,
};
use crate::units::Units;

/// The laser stands this far off a line, mm, so that plate and marks do not block it: common practice.
pub const LASER_OFF: f64 = 300.0;

/// Everything that is set out on the floor of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorPlan {
    /// The fixed points tapes are held at: corners of the room, or the ends of the longest line where there is none.
    pub fixed: Vec<Fixed>,
    /// One line for each frame, in the job's order of walls.
    pub lines: Vec<FloorLine>,
    /// Frame faces and posts off the datum along plan x and plan y, in order.
    pub axes: [Vec<Ordinate>; 2],
    /// The diagonals of the room, from fixed point to fixed point: what a tape reads when it is as drawn.
    pub diagonals: Vec<Diagonal>,
    /// Lines that meet squarely, and what proves it.
    pub squares: Vec<Square>,
    /// Splays and the corners they cut off.
    pub splays: Vec<Splay>,
}

/// A point that stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixed {
    /// What it is called on the sheet: the corner's number, or “A start”.
    pub name: String,
    /// Where it is on the plan.
    pub at: PlanPoint,
}

/// A line snapped on the floor: one face of a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorLine {
    /// The wall.
    pub wall: Name,
    /// The face of the frame it is.
    pub face: Face,
    /// Where the frame starts and ends on it, on the plan.
    pub ends: [PlanPoint; 2],
    /// The same points off the datum, along plan x and y, mm.
    pub from_datum: [[f64; 2]; 2],
    /// The same points by two tapes from fixed points that see them, by their place in the list.
    pub tapes: [Option<TwoTapes>; 2],
    /// What is marked along it, from where the plates are marked from.
    pub marks: Vec<FloorMark>,
}

impl FloorLine {
    /// How long it is, mm.
    pub fn length(&self) -> f64 {
        (self.ends[1] - self.ends[0]).norm()
    }

    /// Which side of it the timber, and the cross, goes on as one walks from its start to its end.
    pub fn timber(&self) -> Face {
        match self.face {
            Face::Left => Face::Right,
            Face::Right => Face::Left,
        }
    }

    fn along(&self) -> PlanVector {
        let d = self.ends[1] - self.ends[0];
        if d.norm() > SAME { d / d.norm() } else { PlanVector::new(1.0, 0.0) }
    }
}

/// One figure along a line.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorMark {
    /// From where the running marks of the plates start, mm; negative before it, at an end that is cut at an angle.
    pub at: f64,
    /// “D1 near side”, “B near face”.
    pub what: String,
    /// What it is of.
    pub of: ItemRef,
}

/// One figure off the datum.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordinate {
    /// Off the datum along the axis, mm.
    pub at: f64,
    /// How far what it is of reaches along the other axis, as plan ordinates.
    pub reach: [f64; 2],
    /// What it is of.
    pub of: ItemRef,
    /// True for the face that is snapped.
    pub is_line: bool,
}

/// A square corner between a line and another, or a side of the room.
#[derive(Clone, Debug, PartialEq)]
pub struct Square {
    /// The wall whose line it is.
    pub wall: Name,
    /// What it is square to: a wall, or a side of the room.
    pub to: ItemRef,
    /// Where they meet.
    pub at: PlanPoint,
    /// The biggest three-four-five that fits: first along the line, second along the other.
    pub proof: ThreeFourFive,
}

/// A line that cuts a corner off.
#[derive(Clone, Debug, PartialEq)]
pub struct Splay {
    /// The wall.
    pub wall: Name,
    /// What its start and its end stand on.
    pub between: [ItemRef; 2],
    /// Where the two lines it stands between would meet.
    pub corner: PlanPoint,
    /// From that corner to where the splay's line leaves each of them, mm.
    pub set_backs: [f64; 2],
    /// How long the splay's line is between them, mm.
    pub face: f64,
}

/// Works out the floor of `job`.
pub fn floor_plan(job: &Job, layout: &Layout) -> FloorPlan {
    let mut lines: Vec<FloorLine> = layout.walls.iter().map(|w| line(job, layout, w)).collect();
    let fixed = fixed(job, &lines);
    let sides: Vec<(PlanPoint, PlanPoint)> = job.shell.sides().collect();
    for line in &mut lines {
        line.tapes = line.ends.map(|end| seen_tapes(end, &fixed, &sides));
    }
    let corners: Vec<PlanPoint> = job.shell.outline.iter().map(|c| c.at).collect();
    let diagonals = if corners.len() > 3 { diagonals(&corners) } else { Vec::new() };
    FloorPlan {
        axes: axes(job, layout, &lines),
        squares: squares(job, layout, &lines),
        splays: splays(job, layout, &lines),
        diagonals,
        fixed,
        lines,
    }
}

/// The face whose line is snapped: the one the wall's own line is nearer to; of a wall drawn by its middle the one towards the
/// datum.
fn snapped(job: &Job, wall: &WallLayout) -> Face {
    match job.wall(wall.name()).map(|w| w.line) {
        Some(Line::LeftFace | Line::LeftFinished) => Face::Left,
        Some(Line::RightFace | Line::RightFinished) => Face::Right,
        Some(Line::Centre) | None => {
            let (_, beside) = wall.place.wall(job.datum.at);
            if beside > wall.spec.frame.centre() + SAME { Face::Left } else { Face::Right }
        }
    }
}

fn line(job: &Job, layout: &Layout, wall: &WallLayout) -> FloorLine {
    let spec = &wall.spec;
    let face = snapped(job, wall);
    let (across, side) = match face {
        Face::Right => (spec.frame.low, 0),
        Face::Left => (spec.frame.high, 1),
    };
    let stations = [spec.ends[0].at[side], spec.ends[1].at[side]];
    let ends = stations.map(|s| wall.place.plan(s, across));
    let from_datum = ends.map(|p| [p.x - job.datum.at.x, p.y - job.datum.at.y]);
    let mut line = FloorLine {
        wall: spec.name.clone(),
        face,
        ends,
        from_datum,
        tapes: [None; 2],
        marks: Vec::new(),
    };
    line.marks = along_line(layout, wall, &line, stations);
    line
}

/// What is marked along a line: its ends, jambs, where its frame stops for a post or a wall, and where other walls stand against
/// it.
fn along_line(
    layout: &Layout,
    wall: &WallLayout,
    line: &FloorLine,
    [first, last]: [f64; 2],
) -> Vec<FloorMark> {
    let spec = &wall.spec;
    let start = spec.along().low;
    let own = ItemRef::Wall(spec.name.clone());
    let mut marks: Vec<FloorMark> = Vec::new();
    let mut mark = |station: f64, what: String, of: &ItemRef| {
        marks.push(FloorMark { at: station - start, what, of: of.clone() });
    };
    mark(first, "start".into(), &own);
    mark(last, "end".into(), &own);
    for hole in &spec.holes {
        let of = ItemRef::Opening(hole.name.clone());
        mark(hole.span.low, format!("{} near side", hole.name), &of);
        mark(hole.span.high, format!("{} far side", hole.name), &of);
    }
    let side = usize::from(line.face == Face::Left);
    for b in &spec.breaks {
        mark(b.at[0][side], format!("frame stops at {}", b.with.label()), &b.with);
        mark(b.at[1][side], format!("goes on after {}", b.with.label()), &b.with);
    }
    for backing in &spec.backings {
        let Some(other) = layout.wall(&backing.with) else { continue };
        let of = ItemRef::Wall(backing.with.clone());
        let crossing =
            |n: f64| meet(line.ends[0], line.along(), other.place.plan(0.0, n), other.place.along);
        let faces = [other.spec.frame.low, other.spec.frame.high];
        let mut at: Vec<f64> = faces.into_iter().filter_map(crossing).collect();
        at.sort_by(f64::total_cmp);
        for (at, word) in at.into_iter().zip(["near face", "far face"]) {
            mark(first + at, format!("{} {word}", backing.with), &of);
        }
    }
    let on_line = Span { low: first - start - SAME, high: last - start + SAME };
    marks.retain(|m| on_line.contains(m.at));
    marks.sort_by(|a, b| a.at.total_cmp(&b.at));
    marks
}

/// Corners of the room, by number; or the two ends of the longest line.
fn fixed(job: &Job, lines: &[FloorLine]) -> Vec<Fixed> {
    let outline = &job.shell.outline;
    if outline.len() > 1 {
        let corner = |(i, c): (usize, &crate::document::Corner)| Fixed {
            name: (i + 1).to_string(),
            at: c.at,
        };
        return outline.iter().enumerate().map(corner).collect();
    }
    let longest = lines.iter().reduce(|a, b| if b.length() > a.length() + SAME { b } else { a });
    longest.map_or(Vec::new(), |line| {
        let named = |end: &str, at: PlanPoint| Fixed { name: format!("{} {end}", line.wall), at };
        vec![named("start", line.ends[0]), named("end", line.ends[1])]
    })
}

/// The best two tapes to `point` from fixed points between which and the point no side of the room stands.
fn seen_tapes(
    point: PlanPoint,
    fixed: &[Fixed],
    sides: &[(PlanPoint, PlanPoint)],
) -> Option<TwoTapes> {
    let sees = |f: &Fixed| {
        let d = point - f.at;
        // A tape from a corner, or to a point on a side, touches sides at its own ends; and it may run along a side.
        let (from, to) = (f.at + d * 1e-3, point - d * 1e-3);
        let along = |(a, b): &(PlanPoint, PlanPoint)| {
            [f.at, point].iter().all(|p| (b - a).perp(&(p - a)).abs() <= SAME * (b - a).norm())
        };
        let mut across = sides.iter().filter(|side| !along(side));
        d.norm() > SAME && !across.any(|side| crosses(*side, (from, to)))
    };
    let seen: Vec<usize> = (0..fixed.len()).filter(|i| sees(&fixed[*i])).collect();
    let places: Vec<PlanPoint> = seen.iter().map(|i| fixed[*i].at).collect();
    let tapes = two_tapes(point, &places)?;
    Some(TwoTapes { from: (seen[tapes.from.0], seen[tapes.from.1]), ..tapes })
}

/// Both faces of every frame that lies along an axis, and the sides of every post that is not turned.
fn axes(job: &Job, layout: &Layout, lines: &[FloorLine]) -> [Vec<Ordinate>; 2] {
    let datum = [job.datum.at.x, job.datum.at.y];
    let mut axes: [Vec<Ordinate>; 2] = Default::default();
    for (wall, line) in layout.walls.iter().zip(lines) {
        let along = wall.place.along;
        // A wall along y is measured along x, and the other way round.
        let axis = if along.x.abs() < SQUARE {
            0
        } else if along.y.abs() < SQUARE {
            1
        } else {
            continue;
        };
        for (side, n) in [wall.spec.frame.low, wall.spec.frame.high].into_iter().enumerate() {
            let ends = [0, 1].map(|e| wall.place.plan(wall.spec.ends[e].at[side], n));
            let (low, high) = (ends[0][1 - axis], ends[1][1 - axis]);
            axes[axis].push(Ordinate {
                at: ends[0][axis] - datum[axis],
                reach: [low.min(high), low.max(high)],
                of: ItemRef::Wall(wall.name().clone()),
                is_line: side == usize::from(line.face == Face::Left),
            });
        }
    }
    for post in job.shell.posts.iter().filter(|p| p.turn_deg.abs() < 0.01) {
        let half = [post.size.0 / 2.0, post.size.1 / 2.0];
        for axis in 0..2 {
            let reach = [post.at[1 - axis] - half[1 - axis], post.at[1 - axis] + half[1 - axis]];
            for at in [post.at[axis] - half[axis], post.at[axis] + half[axis]] {
                let of = ItemRef::Post(post.name.clone());
                axes[axis].push(Ordinate { at: at - datum[axis], reach, of, is_line: false });
            }
        }
    }
    for axis in &mut axes {
        axis.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.of.cmp(&b.of)));
        // Walls in line share a figure.
        axis.dedup_by(|b, a| {
            let one = same(a.at, b.at);
            if one {
                a.reach = [a.reach[0].min(b.reach[0]), a.reach[1].max(b.reach[1])];
                a.is_line |= b.is_line;
            }
            one
        });
    }
    axes
}

/// The line a wall's end stands on, and what it is of; `None` at a free end, a post, or where a wall goes on in line.
fn stands_on(
    job: &Job,
    lines: &[FloorLine],
    meets: &Meets,
) -> Option<(ItemRef, PlanPoint, PlanVector, f64)> {
    match meets {
        Meets::Existing { side } => {
            let (a, b) = job.shell.sides().nth(*side)?;
            let length = (b - a).norm();
            (length > SAME).then(|| (ItemRef::Side(*side), a, (b - a) / length, length))
        }
        Meets::Mitres(name) | Meets::Butts(name) | Meets::Through(name) => {
            let line = lines.iter().find(|l| l.wall == *name)?;
            Some((ItemRef::Wall(name.clone()), line.ends[0], line.along(), line.length()))
        }
        Meets::Free | Meets::Post(_) | Meets::Soffit | Meets::InLine(_) => None,
    }
}

fn squares(job: &Job, layout: &Layout, lines: &[FloorLine]) -> Vec<Square> {
    let step = match job.units {
        Units::Millimetres => 100.0,
        Units::FeetInches => 304.8,
    };
    let mut squares: Vec<Square> = Vec::new();
    for (wall, line) in layout.walls.iter().zip(lines) {
        for end in &wall.spec.ends {
            let Some((to, start, along, length)) = stands_on(job, lines, &end.meets) else {
                continue;
            };
            // Two walls at a corner prove each other once.
            let is_known = |s: &Square| {
                s.to == ItemRef::Wall(line.wall.clone()) && ItemRef::Wall(s.wall.clone()) == to
            };
            if along.dot(&line.along()).abs() > SQUARE || squares.iter().any(is_known) {
                continue;
            }
            let Some(t) = meet(start, along, line.ends[0], line.along()) else { continue };
            let at = start + along * t;
            // The longer leg of the other line from there.
            let leg = t.abs().max((length - t).abs()).min(length);
            let Some(proof) = three_four_five(line.length(), leg, step) else { continue };
            squares.push(Square { wall: line.wall.clone(), to, at, proof });
        }
    }
    squares
}

fn splays(job: &Job, layout: &Layout, lines: &[FloorLine]) -> Vec<Splay> {
    let splay = |(wall, line): (&WallLayout, &FloorLine)| {
        let [a, b] = [0, 1].map(|end: usize| stands_on(job, lines, &wall.spec.ends[end].meets));
        let (a, b) = (a?, b?);
        let own = line.along();
        let is_aslant = |d: PlanVector| d.dot(&own).abs() > SQUARE && cross(d, own).abs() > SQUARE;
        if !is_aslant(a.2) || !is_aslant(b.2) {
            return None;
        }
        let corner = a.1 + a.2 * meet(a.1, a.2, b.1, b.2)?;
        let [on_a, on_b] =
            [&a, &b].map(|l| meet(l.1, l.2, line.ends[0], own).map(|t| l.1 + l.2 * t));
        let (on_a, on_b) = (on_a?, on_b?);
        let set_backs = [(on_a - corner).norm(), (on_b - corner).norm()];
        (set_backs.iter().all(|s| *s > SAME)).then(|| Splay {
            wall: line.wall.clone(),
            between: [a.0, b.0],
            corner,
            set_backs,
            face: (on_b - on_a).norm(),
        })
    };
    layout.walls.iter().zip(lines).filter_map(splay).collect()
}
