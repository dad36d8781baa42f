//! Plates: cut out at doorways, spliced over studs where no bar is long enough.

use super::heights::{Course, Heights};
use super::holes::Holes;
use super::uprights::Uprights;
use super::{Pieces, Role};
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::WallSpec;
use crate::span::Span;

/// Splices of two layers of plate keep this far apart. Common practice.
const STAGGER: f64 = 600.0;

/// Lays the plates of a wall.
pub(super) fn lay(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &Uprights,
    pieces: &mut Pieces,
) {
    let t = spec.makeup.timber.thickness();
    let doors: Vec<Span> = holes.list.iter().filter(|h| h.sill.is_none()).map(|h| h.span).collect();
    let mut below: Vec<f64> = Vec::new();
    for course in &heights.courses {
        if course.layer == 0 {
            below.clear();
        }
        let runs =
            if course.cut_at_doors { spec.along().without(&doors) } else { vec![spec.along()] };
        let mut splices = Vec::new();
        for run in runs {
            let stations = splice_stations(run, course, holes, uprights, &below);
            for piece in cut_to(run, spec.longest, &stations) {
                if piece.high < run.high - SAME {
                    splices.push(piece.high);
                }
                if piece.length() >= LEAST_PIECE {
                    let low = |s: f64| course.low.at(s);
                    pieces.lying(course.role, &spec.makeup.timber, piece, spec.frame, low, |s| {
                        course.low.at(s) + t
                    });
                }
            }
        }
        below = splices;
    }
}

/// Where a plate may be joined: over the middle of a full-height upright, not over an opening, clear of
/// the splices of the course below.
fn splice_stations(
    run: Span,
    course: &Course,
    holes: &Holes,
    uprights: &Uprights,
    below: &[f64],
) -> Vec<f64> {
    let bears = |role: Role| !matches!(role, Role::OpeningStud | Role::Ground);
    let clear_of_doors =
        |s: f64| course.role != Role::HeadPlate || !holes.list.iter().any(|h| h.clear.contains(s));
    uprights
        .list
        .iter()
        .filter(|u| bears(u.role))
        .map(|u| u.span.centre())
        .filter(|&s| {
            run.contains(s)
                && clear_of_doors(s)
                && below.iter().all(|b| (b - s).abs() >= STAGGER - SAME)
        })
        .collect()
}

/// Cuts `run` into pieces no longer than `longest`, joined at `stations`: as few pieces as there can be,
/// each as long as there is. Where no station serves, it stays too long and the saw will say so.
fn cut_to(run: Span, longest: Option<f64>, stations: &[f64]) -> Vec<Span> {
    let Some(longest) = longest else { return vec![run] };
    let mut pieces = Vec::new();
    let mut from = run.low;
    while run.high - from > longest + SAME {
        let far = stations
            .iter()
            .copied()
            .filter(|&s| s > from + LEAST_PIECE && s - from <= longest + SAME);
        let Some(at) = far.fold(None, |best: Option<f64>, s| Some(best.map_or(s, |b| b.max(s))))
        else {
            break;
        };
        pieces.push(Span { low: from, high: at });
        from = at;
    }
    pieces.push(Span { low: from, high: run.high });
    pieces
}
