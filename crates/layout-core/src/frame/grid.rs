//! The grid of stud centres, and how a common stud gives way to what already stands.

use crate::document::{OddBay, WallEnd};
use crate::math::{BOUND_EDGE, SAME, SLIVER, same};
use crate::resolve::{WallSpec, board_width};
use crate::span::Span;

/// A grid of more studs than this is not a wall.
pub(crate) const MOST_STUDS: f64 = 2000.0;

/// A place on the grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct GridMark {
    /// Station of the stud's centre.
    pub(crate) at: f64,
    /// True when the edge of an upright board falls there.
    pub(crate) joint: bool,
}

/// Stations of stud centres, in order.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Grid {
    pub(super) marks: Vec<GridMark>,
}

/// A board may be this much narrower than it is called and still end on its stud, mm (EN 520: 0/−4).
const UNDER_SIZE: f64 = 4.0;

/// True when boards so wide end on studs at these centres.
pub(crate) fn suits_boards(centres: f64, width: f64) -> bool {
    let bays = width / centres;
    bays > 0.5 && (bays - bays.round()).abs() * centres < UNDER_SIZE
}

impl Grid {
    /// The grid of `spec`, between the ends of its frame.
    pub(super) fn of(spec: &WallSpec) -> Grid {
        let c = spec.centres;
        let joints = [WallEnd::Start, WallEnd::End].map(|end| board_joints(spec, end)).concat();
        let mut marks: Vec<GridMark> = courses(spec)
            .into_iter()
            .flat_map(|course| course.every(c))
            .map(|at| GridMark { at, joint: joints.iter().any(|j| (j - at).abs() < 0.5) })
            .collect();
        let along = spec.along();
        marks.retain(|m| m.at > along.low + SAME && m.at < along.high - SAME);
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        Grid { marks }
    }
}

/// Steps 1, 2 … of `centres` that fit in `room`; none when the numbers make no sense.
pub(crate) fn ladder(from: f64, centres: f64, room: f64) -> impl Iterator<Item = usize> {
    let steps = room / centres;
    let sane = from.is_finite() && centres > 0.0 && (0.0..=MOST_STUDS).contains(&steps);
    1..=(if sane { steps.floor() as usize } else { 0 })
}

/// Boards laid one after the other from `from` on, over part of a wall.
struct Course {
    from: f64,
    /// 1 from the start of the wall to its end, -1 the other way.
    way: f64,
    over: Span,
}

impl Course {
    /// The stations every `step` from where boards start; none when the numbers make no sense.
    fn every(&self, step: f64) -> impl Iterator<Item = f64> + use<> {
        let Course { from, way, over } = *self;
        let (near, far) = if way > 0.0 { (over.low, over.high) } else { (over.high, over.low) };
        let steps = |to: f64| (to - from) * way / step;
        let first = (steps(near) - SAME).ceil().max(1.0);
        let count = steps(far).floor() - first;
        let sane = from.is_finite() && step > 0.0 && (0.0..=MOST_STUDS).contains(&count);
        let count = if sane { count as usize + 1 } else { 0 };
        (0..count).map(move |k| from + way * (first + k as f64) * step)
    }
}

/// How the grid of a wall runs: from one end, or from both ends to the opening its odd bay is beside.
fn courses(spec: &WallSpec) -> Vec<Course> {
    let (along, [start, end]) = (spec.along(), spec.boards_from);
    let meeting = match &spec.odd_bay {
        OddBay::AtEnd | OddBay::Split => along.high,
        OddBay::AtStart => along.low,
        OddBay::Beside(name) => {
            let hole = spec.holes.iter().find(|h| h.name == *name);
            hole.map_or(along.high, |h| h.span.centre())
        }
    };
    let up = Course { from: start, way: 1.0, over: Span { low: along.low, high: meeting } };
    let down = Course { from: end, way: -1.0, over: Span { low: meeting, high: along.high } };
    [up, down].into_iter().filter(|course| course.over.length() > SAME).collect()
}

/// Stations at which the edges of two upright boards meet, in order. Where the odd bay is split boards may be
/// started from either end, and `split_from` says from which.
pub fn board_joints(spec: &WallSpec, split_from: WallEnd) -> Vec<f64> {
    let (along, t) = (spec.along(), spec.makeup.timber.thickness());
    let courses = match (&spec.odd_bay, split_from) {
        (OddBay::Split, WallEnd::End) => {
            vec![Course { from: spec.boards_from[1], way: -1.0, over: along }]
        }
        _ => courses(spec),
    };
    let width = board_width(spec.centres);
    let mut joints: Vec<f64> = courses.iter().flat_map(|course| course.every(width)).collect();
    // None falls in an end stud: the board simply ends.
    joints.retain(|j| *j > along.low + t && *j < along.high - t);
    joints.sort_by(f64::total_cmp);
    joints.dedup_by(|a, b| (*a - *b).abs() < 0.5);
    joints
}

/// What became of a common stud.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Settled {
    /// It stands on its mark.
    Kept(Span),
    /// It stands on its mark, a sliver off its neighbour: the gap is packed.
    Packed {
        span: Span,
        /// Clear space to pack.
        gap: f64,
    },
    /// It stands tight against its neighbour.
    Shifted {
        span: Span,
        /// Where its centre was meant to be.
        from: f64,
    },
    /// It is left out.
    Dropped {
        /// Where its centre was meant to be.
        at: f64,
        /// Centres of the uprights that are then neighbours.
        spacing: f64,
    },
}

/// Settles common studs of thickness `t` on `marks` (in order) against the `fixed` uprights, all
/// `within` the frame or the hole they stand in. Spacing between centres may go up to `limit`.
///
/// A common that would overlap an upright, or stand a sliver away from it, is left out when the spacing
/// still holds and no board joint needs it; kept and packed when a joint needs it there, or moving it
/// would open the next bay too far; otherwise moved tight against its neighbour.
pub(crate) fn settle(
    fixed: &[Span],
    marks: &[GridMark],
    t: f64,
    limit: f64,
    within: Span,
) -> Vec<Settled> {
    let mut standing: Vec<Span> = fixed.to_vec();
    standing.sort_by(|a, b| a.low.total_cmp(&b.low));
    let mut out = Vec::with_capacity(marks.len());
    for (i, mark) in marks.iter().enumerate() {
        let settled = settle_one(&standing, *mark, marks.get(i + 1), t, limit, within);
        if let Settled::Kept(span) | Settled::Packed { span, .. } | Settled::Shifted { span, .. } =
            settled
        {
            let at = standing.partition_point(|s| s.low < span.low);
            standing.insert(at, span);
        }
        out.push(settled);
    }
    out
}

fn settle_one(
    standing: &[Span],
    mark: GridMark,
    next_mark: Option<&GridMark>,
    t: f64,
    limit: f64,
    within: Span,
) -> Settled {
    let span = Span::about(mark.at, t);
    if standing.iter().any(|s| same(s.centre(), mark.at)) {
        return Settled::Dropped { at: mark.at, spacing: 0.0 };
    }
    let after = standing.partition_point(|s| s.centre() < mark.at);
    let (left, right) = (after.checked_sub(1).map(|k| standing[k]), standing.get(after).copied());
    let is_sliver = |gap: f64| gap > SAME && gap < SLIVER - SAME;
    let neighbours = [left, right];
    let conflict =
        neighbours.iter().flatten().filter(|s| s.gap(span) < -SAME || is_sliver(s.gap(span)));
    let Some(neighbour) = conflict.min_by(|a, b| a.gap(span).total_cmp(&b.gap(span))).copied()
    else {
        return Settled::Kept(span);
    };

    let previous = left.map_or(f64::NEG_INFINITY, Span::centre);
    let following = right.map(Span::centre).into_iter().chain(next_mark.map(|m| m.at));
    let next = following.fold(f64::INFINITY, f64::min);
    let spacing = next - previous;
    let bears = neighbour.low <= mark.at - BOUND_EDGE + SAME
        && neighbour.high >= mark.at + BOUND_EDGE - SAME;
    let joint = mark.joint && !bears;
    if !joint && (spacing <= limit + SAME || !spacing.is_finite()) {
        return Settled::Dropped {
            at: mark.at,
            spacing: if spacing.is_finite() { spacing } else { 0.0 },
        };
    }

    let free = |s: &Span| within.covers(*s) && !standing.iter().any(|o| o.overlaps(*s));
    let fits = |s: &Span| {
        // A bay that was too wide before gets a stud of its own anyway.
        let holds = |now: f64, before: f64| now <= limit + SAME || before > limit + SAME;
        free(s)
            && holds(s.centre() - previous, mark.at - previous)
            && holds(next - s.centre(), next - mark.at)
            && !neighbours.iter().flatten().any(|o| is_sliver(o.gap(*s)))
    };
    let before = Span { low: neighbour.low - t, high: neighbour.low };
    let behind = Span::from(neighbour.high, t);
    let sides = if mark.at >= neighbour.centre() { [behind, before] } else { [before, behind] };
    if free(&span) && (joint || !fits(&sides[0])) {
        return Settled::Packed { span, gap: neighbour.gap(span) };
    }
    match sides.iter().find(|s| fits(s)).or_else(|| sides.iter().find(|s| free(s))) {
        Some(tight) => Settled::Shifted { span: *tight, from: mark.at },
        None => Settled::Dropped {
            at: mark.at,
            spacing: if spacing.is_finite() { spacing } else { 0.0 },
        },
    }
}

/// Studs of thickness `t` that divide every bay between the `standing` uprights (in order) whose
/// centres are more than `limit` apart, unless `skip` says the bay is to stay open. Each comes with the
/// spacing it divides.
pub(crate) fn divide_wide_bays(
    standing: &[Span],
    t: f64,
    centres: f64,
    limit: f64,
    skip: impl Fn(Span) -> bool,
) -> Vec<(Span, f64)> {
    let mut extra = Vec::new();
    for pair in standing.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let spacing = b.centre() - a.centre();
        let bay = Span { low: a.high, high: b.low };
        if spacing <= limit + SAME || skip(bay) {
            continue;
        }
        let bays = (spacing / centres).ceil().min(MOST_STUDS);
        for k in 1..bays as usize {
            let span = Span::about(a.centre() + spacing * k as f64 / bays, t);
            if bay.grown(-SLIVER).covers(span) {
                extra.push((span, spacing));
            }
        }
    }
    extra
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(marks: &[f64]) -> Vec<GridMark> {
        marks.iter().map(|&at| GridMark { at, joint: false }).collect()
    }

    // A builder's guide example: 5.0 m at 450 centres, 38 studs. The stud at 4950 would overlap the
    // end stud by 7 mm; leaving it out would leave 481, more than 450 + 19: it is moved.
    #[test]
    fn a_stud_over_the_end_stud_moves_when_the_bay_would_be_too_wide() {
        let fixed = [Span::from(0.0, 38.0), Span::from(4962.0, 38.0)];
        let out = settle(&fixed, &at(&[4500.0, 4950.0]), 38.0, 469.0, Span::between(0.0, 5000.0));
        assert_eq!(out[0], Settled::Kept(Span::about(4500.0, 38.0)));
        assert_eq!(out[1], Settled::Shifted { span: Span::from(4924.0, 38.0), from: 4950.0 });
    }

    // 417 at 400 centres with 46 studs: within half a stud of the centres, so no extra stud.
    #[test]
    fn a_last_bay_of_417_at_400_needs_no_stud() {
        let fixed = [Span::from(0.0, 46.0), Span::about(1617.0, 46.0)];
        let out = settle(&fixed, &at(&[1200.0, 1600.0]), 46.0, 423.0, Span::between(0.0, 1640.0));
        assert_eq!(out[1], Settled::Dropped { at: 1600.0, spacing: 417.0 });
    }

    // Opening stud 1738–1776, common stud 1781–1819 at 600 centres: 5 mm clear. Leaving it out
    // would leave 643, so it stands tight; where a board joint needs it, it stays and is packed.
    #[test]
    fn a_sliver_is_closed_or_packed() {
        let fixed = [Span::from(1738.0, 38.0)];
        let out = settle(&fixed, &at(&[1800.0, 2400.0]), 38.0, 619.0, Span::between(0.0, 3600.0));
        assert_eq!(out[0], Settled::Shifted { span: Span::from(1776.0, 38.0), from: 1800.0 });
        let mut marks = at(&[1800.0, 2400.0]);
        marks[0].joint = true;
        let out = settle(&fixed, &marks, 38.0, 619.0, Span::between(0.0, 3600.0));
        assert_eq!(out[0], Settled::Packed { span: Span::about(1800.0, 38.0), gap: 5.0 });
    }

    #[test]
    fn boards_of_1200_and_of_4_ft() {
        assert!(suits_boards(600.0, 1200.0) && suits_boards(609.6, 1219.2));
        assert!(!suits_boards(450.0, 1200.0) && !suits_boards(406.4, 1200.0));
    }
}
