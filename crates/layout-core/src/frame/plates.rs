//! Plates: cut out at doorways, spliced over studs where no bar is long enough.

use std::cmp::Ordering;

use super::courses::{Course, Straight};
use super::heights::Heights;
use super::holes::Holes;
use super::openings::{slat_faces, slat_timber};
use super::uprights::Uprights;
use super::{Pieces, Role, Solid};
use crate::document::{Joint, Plate};
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::WallSpec;
use crate::span::Span;

/// Splices of two layers of plate keep this far apart, mm. Common practice.
pub const STAGGER: f64 = 600.0;
/// A shorter piece of a joined plate is no hold for what stands on it, mm: two fixings and a stud. Common practice.
pub const LEAST_PLATE: f64 = 300.0;
/// A joint is over the stud whose middle is no further than this from where it was put, mm.
const MOVES: f64 = 60.0;

/// A straight part of a course of plates between cut-outs, and where it may be joined: what the saw chooses
/// from when it decides which lengths to join.
#[derive(Clone, Debug, PartialEq)]
pub struct PlatePart {
    /// Which plate.
    pub role: Role,
    /// Which of its kind, from the floor up, from 0.
    pub layer: usize,
    /// The stretch of the wall it covers.
    pub span: Span,
    /// Length along it for one along the wall: 1 when it is level.
    pub tilt: f64,
    /// Stations it may be joined at, in order: over studs, clear of openings, and of the joints chosen in the
    /// plate below.
    pub splices: Vec<f64>,
    /// Stations it could be joined at whatever the plate below does.
    pub stations: Vec<f64>,
    /// The pieces it is in.
    pub pieces: Vec<Span>,
}

impl PlatePart {
    /// Which plates of the wall it is of; `None` where the job has no word for its joints.
    pub fn plate(&self) -> Option<Plate> {
        plate(self.role)
    }
}

fn plate(role: Role) -> Option<Plate> {
    match role {
        Role::SolePlate => Some(Plate::Sole),
        Role::LowerSole => Some(Plate::LowerSole),
        Role::UpperSole => Some(Plate::UpperSole),
        Role::HeadPlate => Some(Plate::Head),
        _ => None,
    }
}

/// Lays the plates of a wall.
pub(super) fn lay(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &Uprights,
    pieces: &mut Pieces,
) -> Vec<PlatePart> {
    let soles = usize::from(spec.makeup.sole_plates.max(1));
    let mut parts = Vec::new();
    let doors: Vec<Span> = holes.list.iter().filter(|h| h.sill.is_none()).map(|h| h.span).collect();
    let mut below: Vec<f64> = Vec::new();
    for course in &heights.courses {
        if course.layer == 0 {
            below.clear();
        }
        let mut splices = Vec::new();
        // Every other plate laps those of the walls that meet this one, but not the one the studs touch.
        let (laps, from_studs) = match course.role {
            Role::HeadPlate => (Some(&spec.head_laps), course.layer),
            Role::SolePlate => (Some(&spec.sole_laps), soles - 1 - course.layer),
            _ => (None, 0),
        };
        let laps = laps.filter(|_| from_studs % 2 == 1);
        let runs = spec.plate_runs();
        for (i, &[start, end]) in runs.iter().enumerate() {
            let lapped = |at: usize| laps.and_then(|l| l.ends[at]).map(|s| [s; 2]);
            let start = lapped(0).filter(|_| i == 0).unwrap_or(start);
            let end = lapped(1).filter(|_| i + 1 == runs.len()).unwrap_or(end);
            let run = Span { low: start[0].min(start[1]), high: end[0].max(end[1]) };
            let mut cut_out: Vec<Span> =
                if course.cut_at_doors { doors.clone() } else { Vec::new() };
            cut_out.extend(laps.into_iter().flat_map(|l| &l.gaps));
            for straight in &course.straights(run) {
                for part in straight.top.without(&cut_out) {
                    let all = splice_stations(part, course, holes, uprights);
                    let clear = |s: &f64| below.iter().all(|b| (b - s).abs() >= STAGGER - SAME);
                    let stations: Vec<f64> = all.iter().copied().filter(clear).collect();
                    let thickness = spec.makeup.timber.thickness();
                    let longest = spec.longest.map(|l| straight.covered_by(l, thickness));
                    let joined = joined_at(part, longest, &stations, &chosen(spec, course));
                    let cut = joined.unwrap_or_else(|| cut_to(part, longest, &stations));
                    parts.push(PlatePart {
                        role: course.role,
                        layer: course.layer,
                        span: part,
                        tilt: straight.tilt(),
                        splices: stations,
                        stations: all,
                        pieces: cut.clone(),
                    });
                    for piece in cut {
                        if piece.high < part.high - SAME {
                            splices.push(piece.high);
                        }
                        let Some(cuts) = cuts(piece, straight, [start, end]) else { continue };
                        let (low, high) = (|s| straight.low(s), |s| straight.high(s));
                        let solid = Solid::between(cuts, spec.frame, low, high);
                        pieces.put(course.role, &spec.makeup.timber, solid);
                    }
                }
                if course.cut_at_doors {
                    strips(spec, holes, straight, pieces, course.role);
                }
            }
        }
        below = splices;
    }
    parts
}

/// Strips under the slats of a pocket, where the sole plate would be in the leaf's way.
fn strips(spec: &WallSpec, holes: &Holes, straight: &Straight, pieces: &mut Pieces, role: Role) {
    for (pocket, slat) in holes.list.iter().filter_map(|h| h.pocket) {
        let along = pocket.intersection(straight.top).intersection(straight.under);
        if along.length() < LEAST_PIECE {
            continue;
        }
        let cuts = [[along.low; 4], [along.high; 4]];
        for across in slat_faces(spec, slat) {
            let solid = Solid::between(cuts, across, |s| straight.low(s), |s| straight.high(s));
            pieces.put(role, &slat_timber(spec, slat), solid);
        }
    }
}

/// How the two ends of a piece of plate are cut: to what the wall meets, to the part beside it, or square.
/// `None` when nothing is left of it between the cuts of its run.
fn cuts(piece: Span, straight: &Straight, [start, end]: [[f64; 2]; 2]) -> Option<[[f64; 4]; 2]> {
    let leaning = |at: f64, top: f64, under: f64| {
        let under = if (at - top).abs() < SAME { under } else { at };
        [under, under, at, at]
    };
    let low = leaning(piece.low, straight.top.low, straight.under.low);
    let high = leaning(piece.high, straight.top.high, straight.under.high);
    // Right and left at the bottom, left and right at the top.
    let face = [0, 1, 1, 0];
    let low: [f64; 4] = std::array::from_fn(|i| low[i].max(start[face[i]]));
    let high: [f64; 4] = std::array::from_fn(|i| high[i].min(end[face[i]]));
    let long = (0..4).map(|i| high[i] - low[i]);
    let (least, most) = long.fold((f64::INFINITY, 0.0), |(a, b), l| (l.min(a), l.max(b)));
    (least >= 0.0 && most >= LEAST_PIECE).then_some([low, high])
}

/// Where the job says that a course is joined.
fn chosen(spec: &WallSpec, course: &Course) -> Vec<f64> {
    let of =
        |j: &&Joint| plate(course.role) == Some(j.plate) && usize::from(j.layer) == course.layer;
    spec.joints.iter().filter(of).map(|j| j.at).collect()
}

/// `run` in the pieces that `chosen` joints make of it; `None` where none of them is in it, one is not over a stud where it may be
/// joined, or a piece is longer than any bar or shorter than can be nailed.
fn joined_at(
    run: Span,
    longest: Option<f64>,
    stations: &[f64],
    chosen: &[f64],
) -> Option<Vec<Span>> {
    let nearest = |at: &f64| {
        let near = stations.iter().copied().filter(|s| (s - at).abs() <= MOVES);
        near.min_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()))
    };
    let within = chosen.iter().filter(|at| run.contains(**at));
    let mut joints: Vec<f64> = within.map(nearest).collect::<Option<_>>()?;
    joints.sort_by(f64::total_cmp);
    let ends = joints.iter().copied().chain([run.high]);
    let mut from = run.low;
    let pieces: Vec<Span> = ends
        .map(|to| {
            let piece = Span { low: from, high: to };
            from = to;
            piece
        })
        .collect();
    let fits = |p: &Span| {
        p.length() >= LEAST_PLATE && longest.is_none_or(|longest| p.length() <= longest + SAME)
    };
    (pieces.len() > 1 && pieces.iter().all(fits)).then_some(pieces)
}

/// Where a plate may be joined: over the middle of a full-height upright, not over an opening.
fn splice_stations(run: Span, course: &Course, holes: &Holes, uprights: &Uprights) -> Vec<f64> {
    let bears = |role: Role| !matches!(role, Role::OpeningStud | Role::Ground);
    let clear_of_doors =
        |s: f64| course.role != Role::HeadPlate || !holes.list.iter().any(|h| h.clear.contains(s));
    uprights
        .list
        .iter()
        .filter(|u| bears(u.role))
        .map(|u| u.span.centre())
        .filter(|&s| run.contains(s) && clear_of_doors(s))
        .collect()
}

/// Cuts `run` into pieces no longer than `longest`, joined at `stations`: as few pieces as there can be,
/// each as long as there is, and where that can be none shorter than can be nailed. Where no station serves, it stays too long
/// and the saw will say so.
fn cut_to(run: Span, longest: Option<f64>, stations: &[f64]) -> Vec<Span> {
    let Some(longest) = longest else { return vec![run] };
    let mut pieces = Vec::new();
    let mut from = run.low;
    while run.high - from > longest + SAME {
        let within = |s: &&f64| **s > from + LEAST_PIECE && **s - from <= longest + SAME;
        let nailed = |s: &f64| s - from >= LEAST_PLATE && run.high - s >= LEAST_PLATE;
        let far = stations.iter().filter(within).copied();
        let Some(at) = far
            .max_by(|a, b| (nailed(a), a).partial_cmp(&(nailed(b), b)).unwrap_or(Ordering::Equal))
        else {
            break;
        };
        pieces.push(Span { low: from, high: at });
        from = at;
    }
    pieces.push(Span { low: from, high: run.high });
    pieces
}
