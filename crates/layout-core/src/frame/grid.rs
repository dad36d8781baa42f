//! The grid of stud centres, and how a common stud gives way to what already stands.

use super::holes::Holes;
use crate::document::{GridFrom, OddBay};
use crate::math::{SAME, SLIVER, same};
use crate::resolve::WallSpec;
use crate::span::Span;

/// A grid of more studs than this is not a wall.
pub(crate) const MOST_STUDS: f64 = 2000.0;

/// Half of the 32 mm a joint between two bound edges needs.
const BOUND_EDGE: f64 = 16.0;

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

/// Width of the boards that centres are meant for: 1200 mm, or 4 ft when the centres divide that.
pub(crate) fn board_width(centres: f64) -> f64 {
    let divides = |width: f64| {
        let rest = width / centres;
        (rest - rest.round()).abs() * centres < 0.5
    };
    if !divides(1200.0) && divides(1219.2) { 1219.2 } else { 1200.0 }
}

/// True when boards of either usual width end on studs at these centres.
pub(crate) fn suits_boards(centres: f64) -> bool {
    let rest = board_width(centres) / centres;
    (rest - rest.round()).abs() * centres < 0.5
}

impl Grid {
    /// The grid of `spec`, between the ends of its frame.
    pub(super) fn of(spec: &WallSpec, holes: &Holes) -> Grid {
        let (along, c) = (spec.along(), spec.centres);
        let inset = match spec.grid_from {
            GridFrom::FrameEnd => 0.0,
            GridFrom::Inset(by) => by,
        };
        let up = |from: f64, to: f64| ladder(from, c, to - from).map(move |k| mark(from, k, c));
        let down = |from: f64, to: f64| ladder(from, c, from - to).map(move |k| mark(from, k, -c));
        let mut marks: Vec<GridMark> = match &spec.odd_bay {
            OddBay::AtEnd => up(along.low + inset, along.high).collect(),
            OddBay::AtStart => down(along.high - inset, along.low).collect(),
            OddBay::Split => {
                // Whole bays about the middle; what is left is halved between the ends.
                let bays = (along.length() / c).ceil();
                let first = (along.length() - (bays - 2.0) * c) / 2.0;
                up(along.low + first - c, along.high)
                    .map(|m| GridMark { joint: false, ..m })
                    .collect()
            }
            OddBay::Beside(name) => {
                let meeting = holes
                    .list
                    .iter()
                    .find(|h| h.name == *name)
                    .map_or(along.high, |h| h.span.centre());
                let from_start = up(along.low + inset, meeting);
                let from_end = down(along.high - inset, meeting);
                from_start.chain(from_end).collect()
            }
        };
        marks.retain(|m| m.at > along.low + SAME && m.at < along.high - SAME);
        // No board joint falls in an end stud: the board simply ends.
        let t = spec.makeup.timber.thickness();
        for mark in &mut marks {
            mark.joint &= mark.at > along.low + t && mark.at < along.high - t;
        }
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

pub(crate) fn mark(from: f64, k: usize, step: f64) -> GridMark {
    let run = k as f64 * step.abs();
    let rest = run / board_width(step.abs());
    GridMark {
        at: from + k as f64 * step,
        joint: (rest - rest.round()).abs() * run < 0.5 && rest >= 0.5,
    }
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
        assert_eq!(board_width(400.0), 1200.0);
        assert_eq!(board_width(406.4), 1219.2);
        assert!(suits_boards(600.0) && suits_boards(609.6) && !suits_boards(450.0));
    }
}
