//! At which heights a wall stands and ends.

use crate::document::{Bedding, Floor, Head, Levels, RoofPlane, Shell, Sole};
use crate::math::{PlanPoint, PlanVector, SAME, cross, left_of};
use crate::profile::Profile;
use crate::span::Span;

use super::Place;

/// What the lowest plate, or its packers, stands on: as it was read, where that was the floor it stands on.
pub(super) fn floor(levels: &Levels, sole: &Sole, read: Option<&Profile>) -> Profile {
    let finished = matches!(sole, Sole::Direct { on: Floor::Finished, .. });
    let level = if finished { 0.0 } else { levels.slab() };
    let of_finished = levels.readings.floor_is == Floor::Finished;
    match read {
        Some(read) if finished == of_finished || levels.slab() == 0.0 => read.clone(),
        _ => Profile::level(level),
    }
}

/// Underside of the lowest plate over `floor`, in a wall over `reach`. It has no bend near the ends of its `runs`
/// and no stretch shorter than `short`.
pub(super) fn bed(
    floor: &Profile,
    sole: &Sole,
    bedding: Bedding,
    reach: Span,
    runs: &[[Span; 2]],
    short: f64,
) -> Profile {
    let (Sole::Direct { packers, .. } | Sole::Raised { packers, .. }) = sole;
    let bed = match bedding {
        _ if floor.is_level() => floor.clone(),
        Bedding::Level => Profile::level(floor.range(reach).high),
        Bedding::Straight => floor.line_above(reach),
        // No plate stands below the floor, as no head stands above its soffit.
        Bedding::Following => floor.flipped().carried_on_in(runs).without_short(short).flipped(),
    };
    bed.raised(*packers)
}

/// Top of the head plate under `soffit`. No head stands above what is over it.
pub(super) fn head(soffit: &Profile, head: &Head, reach: Span) -> Profile {
    match head {
        Head::Tight { fit } => soffit.raised(-fit),
        Head::Slip { gap } => soffit.raised(-gap),
        Head::Free { height } => Profile::level(*height).lower_of(soffit, reach),
        Head::Line { points } => Profile::through(points.clone()).lower_of(soffit, reach),
    }
}

/// What is over a wall: the lowest of the ceiling, the roof planes and the beams across its frame, so
/// that a plate that is square in section goes under it.
pub(crate) fn soffit(
    ceiling: &Profile,
    shell: &Shell,
    place: &Place,
    frame: Span,
    reach: Span,
) -> Profile {
    if shell.roof.is_empty() && shell.beams.is_empty() {
        return ceiling.clone();
    }
    let lines = [frame.low, frame.centre(), frame.high];
    let mut over = lines.iter().map(|&n| over_line(ceiling, shell, place, n, reach));
    let first = over.next().unwrap_or_else(|| ceiling.clone());
    over.fold(first, |lowest, p| lowest.lower_of(&p, reach))
}

/// A surface over one line of a wall: from station to station, at a height that changes evenly.
#[derive(Clone, Copy)]
struct Surface {
    span: Span,
    /// Height at station 0 of the wall, and rise along it.
    at_zero: f64,
    slope: f64,
    /// True for a surface that hides the ceiling above it, even where it is higher.
    instead: bool,
}

/// What is over the line `n` to the left of a wall's own.
fn over_line(ceiling: &Profile, shell: &Shell, place: &Place, n: f64, reach: Span) -> Profile {
    let origin = place.plan(0.0, n);
    let mut surfaces: Vec<Surface> = Vec::new();
    for plane in &shell.roof {
        let Some((at_zero, slope)) = along_plane(plane, origin, place.along) else { continue };
        if plane.over.len() < 3 {
            surfaces.push(Surface { span: reach, at_zero, slope, instead: false });
        } else {
            let inside = within(&plane.over, origin, place.along, reach);
            surfaces.extend(inside.into_iter().map(|span| Surface {
                span,
                at_zero,
                slope,
                instead: true,
            }));
        }
    }
    for beam in &shell.beams {
        let along = beam.to - beam.from;
        if !(along.norm() > SAME && along.norm().is_finite()) {
            continue;
        }
        let half = left_of(along / along.norm()) * (beam.width / 2.0);
        let outline = [beam.from + half, beam.from - half, beam.to - half, beam.to + half];
        let inside = within(&outline, origin, place.along, reach);
        let at_zero = beam.soffit;
        surfaces.extend(inside.into_iter().map(|span| Surface {
            span,
            at_zero,
            slope: 0.0,
            instead: false,
        }));
    }
    let mut cuts: Vec<f64> = surfaces
        .iter()
        .flat_map(|s| [s.span.low, s.span.high])
        .chain([reach.low, reach.high])
        .collect();
    cuts.retain(|s| reach.contains(*s));
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| (*a - *b).abs() < SAME);
    let mut points: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let piece = Span { low: pair[0], high: pair[1] };
        let here = |s: &&Surface| s.span.contains(piece.centre());
        let shows = !surfaces.iter().filter(here).any(|s| s.instead);
        let straight = |s: &Surface| {
            let at = |x: f64| (x, s.at_zero + s.slope * x);
            Profile::through(vec![at(piece.low), at(piece.high)])
        };
        let ceiling = shows.then(|| ceiling.clone());
        let mut over = surfaces.iter().filter(here).map(straight).chain(ceiling);
        let Some(first) = over.next() else { continue };
        let lowest = over.fold(first, |lowest, p| lowest.lower_of(&p, piece));
        points.push((piece.low, lowest.at(piece.low)));
        points.extend(
            lowest
                .breaks()
                .filter(|s| piece.low < *s && *s < piece.high)
                .flat_map(|s| [(s, lowest.before(s)), (s, lowest.at(s))]),
        );
        points.push((piece.high, lowest.before(piece.high)));
    }
    if points.is_empty() { ceiling.clone() } else { Profile::through(points) }
}

/// A roof plane along a line of the plan: its height at the line's start and its rise along it.
fn along_plane(plane: &RoofPlane, origin: PlanPoint, along: PlanVector) -> Option<(f64, f64)> {
    let eaves = plane.to - plane.from;
    let length = eaves.norm();
    if !(length > SAME && length.is_finite()) {
        return None;
    }
    let up = left_of(eaves / length);
    let rise = plane.pitch_deg.to_radians().tan();
    Some((plane.level + rise * (origin - plane.from).dot(&up), rise * along.dot(&up)))
}

/// The stretches of a line of the plan that lie in an outline, within `reach`.
fn within(outline: &[PlanPoint], origin: PlanPoint, along: PlanVector, reach: Span) -> Vec<Span> {
    let side = |p: PlanPoint| cross(along, p - origin);
    let mut cuts: Vec<f64> = Vec::new();
    for (i, &a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let (from, to) = (side(a), side(b));
        if (from < 0.0) != (to < 0.0) {
            cuts.push((a + (b - a) * (from / (from - to)) - origin).dot(&along));
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.chunks_exact(2)
        .map(|pair| Span { low: pair[0], high: pair[1] }.intersection(reach))
        .filter(|span| span.length() > SAME)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn plane(from: (f64, f64), to: (f64, f64), level: f64, pitch_deg: f64) -> RoofPlane {
        RoofPlane {
            name: "R".into(),
            from: PlanPoint::new(from.0, from.1),
            to: PlanPoint::new(to.0, to.1),
            level,
            pitch_deg,
            over: Vec::new(),
        }
    }

    fn over(shell: &Shell, y: f64, ceiling: f64) -> Profile {
        let place = Place { origin: PlanPoint::new(0.0, y), along: PlanVector::new(1.0, 0.0) };
        let ceiling = Profile::level(ceiling);
        soffit(&ceiling, shell, &place, Span::about(0.0, 100.0), Span::between(0.0, 6000.0))
    }

    // A duo-pitch roof over a 6 m gable: 30 degrees from 1000 at both eaves, 1000 + 3000 × tan 30° at the ridge.
    #[test]
    fn two_planes_make_a_ridge() {
        let shell = Shell {
            roof: vec![
                plane((0.0, 6000.0), (0.0, 0.0), 1000.0, 30.0),
                plane((6000.0, 0.0), (6000.0, 6000.0), 1000.0, 30.0),
            ],
            ..Shell::default()
        };
        let p = over(&shell, 3000.0, 9000.0);
        assert_relative_eq!(p.at(3000.0), 2732.05, epsilon = 0.01);
        assert_relative_eq!(p.at(1000.0), 1577.35, epsilon = 0.01);
        assert_relative_eq!(p.at(5000.0), 1577.35, epsilon = 0.01);
        assert_eq!(over(&shell, 3000.0, 2400.0).highest(), 2400.0);
    }

    #[test]
    fn a_beam_and_a_lowered_patch_step_down() {
        let mut patch = plane((3000.0, 0.0), (6000.0, 0.0), 2200.0, 0.0);
        patch.over = [(3000.0, -500.0), (6000.0, -500.0), (6000.0, 500.0), (3000.0, 500.0)]
            .map(|(x, y)| PlanPoint::new(x, y))
            .to_vec();
        let beam = crate::document::Beam {
            name: "B".into(),
            from: PlanPoint::new(1000.0, -900.0),
            to: PlanPoint::new(1000.0, 900.0),
            width: 150.0,
            soffit: 2100.0,
        };
        let shell = Shell { roof: vec![patch], beams: vec![beam], ..Shell::default() };
        let p = over(&shell, 0.0, 2400.0);
        let steps: Vec<f64> = p.steps().collect();
        assert_eq!(steps, [925.0, 1075.0, 3000.0]);
        assert_eq!(
            [500.0, 1000.0, 2000.0, 4000.0].map(|s| p.at(s)),
            [2400.0, 2100.0, 2400.0, 2200.0]
        );
    }
}
