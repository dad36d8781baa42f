//! The law of grounds: wherever a board can end, on either face, there is timber flush with that face for its
//! edge. Tried on jobs at right angles and at any angle.

use std::sync::Arc;

use layout_core::document::{Face, Job, TeeRecipe, WallEnd};
use layout_core::frame::board_joints;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::{EDGE_BEARING, SAME};
use layout_core::resolve::BackingKind;
use layout_core::snag::{Code, Snag};
use layout_core::span::Span;

use super::{bounds, tries};
use crate::{random, wild};

/// Boards stand this far off the floor.
const FLOOR_GAP: f64 = 10.0;
/// An edge may be without timber over so much of its height in one stretch: a packed gap over a head, the wedge
/// under a rake. What screws are apart.
const BARE: f64 = 150.0;

/// A board overhangs its stud by up to this at an end that is cut a little out of square.
const OVERHANGS: f64 = 6.0;

/// A bound edge of a board lies on this much: half of the 32 mm that two need.
const BOUND: f64 = 16.0;

const FACES: [Face; 2] = [Face::Right, Face::Left];

/// Somewhere a board ends: what is there, the timber it must lie on along the wall, and over what height.
struct Edge {
    what: String,
    face: Face,
    on: Span,
    heights: Span,
    /// The longest stretch that may be bare.
    bare: f64,
}

/// Stations of a cut on one face.
fn on_face(cut: [f64; 2], face: Face) -> f64 {
    cut[usize::from(face == Face::Left)]
}

fn edges(w: &WallLayout) -> Vec<Edge> {
    let spec = &w.spec;
    let along = spec.along();
    let mut edges = Vec::new();
    let mut put = |what: String, face: Face, on: Span, heights: Option<Span>, bare: f64| {
        // Boards go no higher than the lower side of the edge.
        let top = spec.head.range(on.grown(spec.makeup.timber.thickness())).low;
        let whole = Span { low: FLOOR_GAP.max(spec.floor.range(on).high), high: top };
        let heights = heights.map_or(whole, |h| h.intersection(whole));
        edges.push(Edge { what, face, on, heights, bare });
    };
    let before = |s: f64| Span { low: s - EDGE_BEARING, high: s };
    let after = |s: f64| Span::from(s, EDGE_BEARING);
    for face in FACES {
        for (i, run) in spec.runs().into_iter().enumerate() {
            // A run too short for a stud at each end has what it has.
            let (low, high) = (on_face(run[0], face), on_face(run[1], face));
            let inner = run[1][0].min(run[1][1]) - run[0][0].max(run[0][1]);
            if inner < 2.0 * spec.makeup.timber.thickness() {
                continue;
            }
            let (low, high) = (low + OVERHANGS, high - OVERHANGS);
            let (first, last) = (
                Span { low, high: low + EDGE_BEARING - OVERHANGS },
                Span { low: high - EDGE_BEARING + OVERHANGS, high },
            );
            put(format!("start of run {i}"), face, first, None, BARE);
            put(format!("end of run {i}"), face, last, None, BARE);
        }
        for h in &spec.holes {
            let sides = [("near", before(h.span.low)), ("far", after(h.span.high))];
            for (side, on) in sides {
                let heights = Span { low: h.sill.unwrap_or(0.0), high: h.top };
                put(format!("{side} edge of {}", h.name), face, on, Some(heights), BARE);
            }
        }
        let joints = board_joints(spec, WallEnd::Start);
        for j in joints.into_iter().filter(|_| spec.makeup.timber.thickness() > 37.9) {
            let on = Span { low: j - BOUND, high: j + BOUND };
            let near_hole = |s: Span| s.grown(2.0 * spec.makeup.timber.thickness()).overlaps(on);
            let broken = spec.runs().iter().all(|r| {
                let run = Span { low: r[0][0].max(r[0][1]), high: r[1][0].min(r[1][1]) };
                // Beside a break the board stops at the break.
                !run.covers(on.grown(2.0 * spec.makeup.timber.thickness()))
            });
            if !broken && !spec.holes.iter().any(|h| near_hole(h.span)) {
                put(format!("joint at {j:.1}"), face, on, None, BARE);
            }
        }
    }
    for b in &spec.backings {
        if spec.breaks.iter().any(|k| {
            let gone = Span { low: k.at[0][0].min(k.at[0][1]), high: k.at[1][0].max(k.at[1][1]) };
            gone.overlaps(b.span)
        }) {
            continue;
        }
        let ladder = spec.makeup.tee == TeeRecipe::Ladder && b.kind == BackingKind::Tee;
        let bare = if ladder { 700.0 } else { BARE };
        let what = format!("{:?} of {}", b.kind, b.with);
        let (low, high) = (before(b.span.low), after(b.span.high));
        let sides = match b.kind {
            BackingKind::Tee => vec![low, high],
            BackingKind::Corner(WallEnd::Start) => vec![high],
            BackingKind::Corner(WallEnd::End) => vec![low],
        };
        let gone = |s: &&Span| {
            along.covers(**s) && !spec.holes.iter().any(|h| h.span.grown(1.0).overlaps(**s))
        };
        for on in sides.iter().filter(gone) {
            put(what.clone(), b.face, *on, None, bare);
        }
    }
    edges
}

/// Snags that say an edge is not carried as it should be.
fn owned_up(code: Code) -> bool {
    matches!(
        code,
        Code::OpeningNoStud
            | Code::OpeningsClash
            | Code::OpeningPastEnd
            | Code::OpeningTooTall
            | Code::OpeningUpsideDown
            | Code::JointBare
            | Code::StudPacked
            | Code::StudShifted
            | Code::AngledJunction
            | Code::WallsCross
            | Code::WallTooShort
    )
}

/// What of `heights` is timber flush with `face` all over `on`: as gaps between.
fn longest_bare(w: &WallLayout, edge: &Edge) -> f64 {
    let plane = match edge.face {
        Face::Right => w.spec.frame.low,
        Face::Left => w.spec.frame.high,
    };
    // Pieces side by side carry an edge together: each column of the edge on its own.
    let column = |s: f64| -> f64 {
        let mut stands: Vec<Span> = Vec::new();
        for m in &w.frame.members {
            let across = bounds(m)[1];
            let flush = match edge.face {
                Face::Right => (across.low - plane).abs() < 0.1,
                Face::Left => (across.high - plane).abs() < 0.1,
            };
            if flush && let Some(z) = crossed(&m.solid.elevation(edge.face), s) {
                stands.push(z);
            }
        }
        let bare = edge.heights.without(&stands);
        bare.iter().map(|b| b.length()).fold(0.0, f64::max)
    };
    let inside = [0.02, 0.25, 0.5, 0.75, 0.98].map(|t| edge.on.low + edge.on.length() * t);
    inside.into_iter().map(column).fold(0.0, f64::max)
}

/// The heights at which an upright line at `s` is inside a convex outline.
fn crossed(outline: &[(f64, f64); 4], s: f64) -> Option<Span> {
    let mut at: Vec<f64> = Vec::new();
    for i in 0..4 {
        let ((s0, z0), (s1, z1)) = (outline[i], outline[(i + 1) % 4]);
        if (s0 - s) * (s1 - s) <= 0.0 && (s0 - s1).abs() > SAME {
            at.push(z0 + (z1 - z0) * (s - s0) / (s1 - s0));
        }
    }
    let low = at.iter().copied().fold(f64::INFINITY, f64::min);
    let high = at.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (high > low).then_some(Span { low, high })
}

fn carried(jobs: impl Fn(u64) -> Job) -> (usize, Vec<String>) {
    let (mut looked_at, mut broken) = (0, Vec::new());
    for seed in 0..tries() {
        let layout = Layout::of(&as_it_comes(jobs(seed)));
        for w in layout.walls.iter().filter(|w| !w.frame.members.is_empty()) {
            let excused: Vec<f64> = layout
                .snags
                .iter()
                .filter(|s| owned_up(s.code) && s.wall.as_ref() == Some(w.name()))
                .filter_map(|s| s.station)
                .collect();
            let own = |s: &&Snag| s.wall.as_ref() == Some(w.name());
            let off_board =
                layout.snags.iter().filter(own).any(|s| s.code == Code::CentresOffBoard);
            let reach = w.spec.makeup.timber.depth() * 2.0;
            // Centres that do not divide a board have no joints on studs, and the job says so.
            let joint = |e: &Edge| e.what.starts_with("joint");
            for edge in edges(w).into_iter().filter(|e| !(off_board && joint(e))) {
                let near = |s: &f64| edge.on.grown(reach).contains(*s);
                let hole = w.spec.holes.iter().filter(|h| h.span.grown(30.0).overlaps(edge.on));
                let excused_hole = hole
                    .into_iter()
                    .any(|h| excused.iter().any(|s| h.span.grown(reach).contains(*s)));
                if edge.heights.length() < 300.0 || excused.iter().any(near) || excused_hole {
                    continue;
                }
                looked_at += 1;
                let bare = longest_bare(w, &edge);
                if bare > edge.bare {
                    broken.push(format!(
                        "seed {seed}: wall {} {:?} face, {} at {:.1}..{:.1}: {bare:.0} of {:.0} bare",
                        w.name(),
                        edge.face,
                        edge.what,
                        edge.on.low,
                        edge.on.high,
                        edge.heights.length()
                    ));
                }
            }
        }
    }
    (looked_at, broken)
}

/// A job in which nobody shifted a stud or cut one out.
fn as_it_comes(mut job: Job) -> Job {
    for wall in &mut job.walls {
        let wall = Arc::make_mut(wall);
        wall.shifts.clear();
        wall.points.iter_mut().for_each(|p| p.headed = false);
    }
    job
}

fn every_edge_is_carried(jobs: impl Fn(u64) -> Job) {
    let (looked_at, broken) = carried(jobs);
    assert!(looked_at as u64 > tries() * 5, "only {looked_at} edges");
    assert!(
        broken.is_empty(),
        "{} of {looked_at} edges have nothing to be fixed to:\n  {}",
        broken.len(),
        broken[..broken.len().min(25)].join("\n  ")
    );
}

#[test]
fn every_board_edge_has_a_ground() {
    every_edge_is_carried(random::job);
}

#[test]
fn every_board_edge_has_a_ground_at_any_angle() {
    every_edge_is_carried(wild::job);
}

#[test]
fn boards_are_carried_all_along_a_rake_and_at_its_steps() {
    let (mut looked_at, mut broken) = (0, Vec::new());
    for seed in 0..tries() {
        let layout = Layout::of(&wild::job(seed));
        for w in layout.walls.iter().filter(|w| !w.frame.members.is_empty()) {
            let along = w.spec.along();
            for i in 1..40 {
                let s = along.low + along.length() * f64::from(i) / 40.0;
                let stands = w.spec.runs().iter().any(|r| {
                    let run = Span { low: r[0][0].max(r[0][1]), high: r[1][0].min(r[1][1]) };
                    run.grown(-5.0).contains(s)
                });
                // There the plate of another wall lies across.
                let laps = &w.spec.head_laps;
                let past = |(end, at): (usize, f64)| {
                    let short = if end == 0 { at - s } else { s - at };
                    short > 0.0
                };
                let lapped = laps.gaps.iter().any(|g| g.contains(s))
                    || (0..2).filter_map(|i| laps.ends[i].map(|at| (i, at))).any(past);
                if !stands || lapped {
                    continue;
                }
                looked_at += 1;
                let edge = w.spec.head.at(s).min(w.spec.head.before(s)) - EDGE_BEARING;
                let holds = |face| {
                    let flush = w.frame.members.iter();
                    flush
                        .filter_map(|m| crossed(&m.solid.elevation(face), s))
                        .any(|z| z.grown(EDGE_BEARING).contains(edge))
                };
                if !FACES.into_iter().all(holds) {
                    broken.push(format!("seed {seed}: wall {} at {s:.1}, {edge:.1} up", w.name()));
                }
            }
        }
    }
    assert!(looked_at as u64 > tries() * 30, "only {looked_at} places");
    assert!(
        broken.is_empty(),
        "{} bare:\n  {}",
        broken.len(),
        broken[..broken.len().min(20)].join("\n  ")
    );
}
