//! Where the joists lie, and what lies between them.

use super::PlatformSpec;
use super::holes::{Framed, choose, near_edge, without_clashes};
use super::pieces::{Lie, Pieces};
use crate::frame::{GridMark, Role, Settled, divide_wide_bays, ladder, settle};
use crate::id::ItemRef;
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::board_width;
use crate::snag::{Code, Snag};
use crate::span::Span;

/// The joists that run the whole way, and the holes between them.
pub(super) struct Joists {
    /// Joists from bearing to bearing, in order across.
    pub(super) full: Vec<(Span, Role)>,
    /// The holes that are framed.
    pub(super) holes: Vec<Framed>,
    marks: Vec<GridMark>,
}

/// Centres of the grid, counted from the edge where the first joist lies.
pub(super) fn grid(spec: &PlatformSpec, t: f64) -> Vec<GridMark> {
    let mut marks: Vec<GridMark> = ladder(0.0, spec.centres, spec.width)
        .map(|k| {
            let at = k as f64 * spec.centres;
            let boards = at / board_width(spec.centres);
            let joint = boards >= 0.5 && (boards - boards.round()).abs() * at < 0.5;
            GridMark { at, joint }
        })
        .filter(|m| m.at < spec.width - SAME)
        .collect();
    // No board joint falls in the first or the last: the board simply ends.
    for mark in &mut marks {
        mark.joint &= mark.at > t && mark.at < spec.width - t;
    }
    marks
}

/// Where what is `t` thick settles on `marks` between `fixed` ones; none in a `closed` stretch.
pub(super) fn between(
    fixed: &[Span],
    marks: &[GridMark],
    t: f64,
    (centres, within): (f64, Span),
    closed: &[Span],
    mut said: impl FnMut(&Settled),
) -> Vec<Span> {
    let limit = centres + t / 2.0;
    let is_open = |span: &Span| !closed.iter().any(|c| c.overlaps(*span));
    let open: Vec<GridMark> = marks
        .iter()
        .copied()
        .filter(|m| !closed.iter().any(|c| c.low < m.at && m.at < c.high))
        .collect();
    let mut standing = fixed.to_vec();
    for settled in settle(fixed, &open, t, limit, within) {
        match settled {
            Settled::Kept(span) | Settled::Packed { span, .. } | Settled::Shifted { span, .. }
                if is_open(&span) =>
            {
                standing.push(span);
                said(&settled);
            }
            _ => {}
        }
    }
    standing.sort_by(|a, b| a.low.total_cmp(&b.low));
    let wide = divide_wide_bays(&standing, t, centres, limit, |bay| !is_open(&bay));
    standing.extend(wide.into_iter().map(|(span, _)| span));
    standing.sort_by(|a, b| a.low.total_cmp(&b.low));
    standing
}

impl Joists {
    pub(super) fn of(spec: &PlatformSpec, snags: &mut Vec<Snag>) -> Joists {
        let t = spec.timber.thickness();
        let marks = grid(spec, t);
        // Those that are left as tail joists; one at the edge of the hole gives way to the trimming joist.
        let cut =
            |across: Span| marks.iter().filter(|m| across.low < m.at && m.at < across.high).count();
        let chosen = choose(spec, cut, snags);
        // A fan that a joist would cross is trimmed like a hatch; then the joists lie differently, and
        // another may be crossed.
        let mut trimmed: Vec<bool> = chosen.iter().map(|f| f.trimmed).collect();
        loop {
            let list: Vec<Framed> = chosen
                .iter()
                .zip(&trimmed)
                .map(|(f, trimmed)| Framed { trimmed: *trimmed, ..f.clone() })
                .collect();
            let (mut more, mut moved) = (Vec::new(), Vec::new());
            let holes = without_clashes(spec, list, &mut more);
            let full = lay(spec, &holes, &marks, &mut moved);
            let crossed = |f: &Framed| {
                !f.trimmed && full.iter().any(|(span, _)| span.overlaps(f.hole.across))
            };
            let crossed: Vec<_> =
                holes.iter().filter(|f| crossed(f)).map(|f| f.hole.name.clone()).collect();
            // The same name twice is one too many, and must not keep this going.
            let mut changed = false;
            for (f, trimmed) in chosen.iter().zip(&mut trimmed) {
                if !*trimmed && crossed.contains(&f.hole.name) {
                    (*trimmed, changed) = (true, true);
                }
            }
            if !changed {
                near_edge(spec, &holes, &mut more);
                snags.extend(more);
                snags.extend(moved);
                return Joists { full, holes, marks };
            }
        }
    }

    /// Joists, trimmers and tail joists.
    pub(super) fn place(&self, spec: &PlatformSpec, pieces: &mut Pieces) {
        let run = spec.run();
        for (across, role) in &self.full {
            pieces.on_edge(*role, run, *across, Lie::Along);
        }
        let mut done: Vec<Span> = Vec::new();
        for framed in self.holes.iter().filter(|f| f.trimmed) {
            let room = framed.room(spec);
            for at in framed.trimmers.iter().flatten() {
                pieces.on_edge(Role::Trimmer, *at, room, Lie::Across);
            }
            if !done.iter().any(|d| d.overlaps(room)) {
                self.tails(spec, room, pieces);
                done.push(room);
            }
        }
        for framed in self.holes.iter().filter(|f| !f.trimmed) {
            between_joists(framed, pieces);
        }
    }

    /// The joists of the grid that the holes in `room` cut: what is left of them.
    fn tails(&self, spec: &PlatformSpec, room: Span, pieces: &mut Pieces) {
        let t = spec.timber.thickness();
        let holes = self.holes.iter().filter(|f| f.trimmed && f.room(spec).overlaps(room));
        let taken: Vec<Span> = holes
            .map(|f| {
                let [low, high] = f.trimmers;
                let run = spec.run();
                // Where what carries the joists serves as trimmer, nothing is left on that side.
                Span {
                    low: low.map_or(run.low, |t| t.low),
                    high: high.map_or(run.high, |t| t.high),
                }
            })
            .collect();
        let beside = [Span { low: room.low - t, high: room.low }, Span::from(room.high, t)];
        let inside: Vec<GridMark> =
            self.marks.iter().copied().filter(|m| room.contains(m.at)).collect();
        let lines = between(&beside, &inside, t, (spec.centres, room), &[], |_| {});
        for across in lines.into_iter().filter(|l| room.covers(*l)) {
            for along in spec.run().without(&taken) {
                if along.length() >= LEAST_PIECE {
                    pieces.on_edge(Role::TailJoist, along, across, Lie::Along);
                }
            }
        }
    }
}

/// The joists from bearing to bearing round the trimmed holes.
fn lay(
    spec: &PlatformSpec,
    holes: &[Framed],
    marks: &[GridMark],
    snags: &mut Vec<Snag>,
) -> Vec<(Span, Role)> {
    let t = spec.timber.thickness();
    let within = Span { low: 0.0, high: spec.width };
    let mut fixed = vec![Span::from(0.0, t), Span::from(spec.width - t, t)];
    let mut trimming: Vec<Span> = Vec::new();
    for framed in holes.iter().filter(|f| f.trimmed) {
        for span in framed.joists(spec) {
            if !fixed.iter().chain(&trimming).any(|s| s.overlaps(span)) {
                trimming.push(span);
            }
        }
    }
    fixed.extend(&trimming);
    fixed.sort_by(|a, b| a.low.total_cmp(&b.low));
    let closed: Vec<Span> = holes.iter().filter(|f| f.trimmed).map(|f| f.room(spec)).collect();
    let said = |settled: &Settled| {
        let (across, message, remedy) = match settled {
            Settled::Packed { span, gap } => (
                span.low,
                format!("stands {} off its neighbour", spec.units.with_unit(*gap)),
                "Pack the gap solid: a board joint needs it there.",
            ),
            Settled::Shifted { span, from } => (
                span.low,
                format!(
                    "was meant for {} and lies tight against its neighbour",
                    spec.units.show(from - t / 2.0)
                ),
                "Nail the two as one.",
            ),
            Settled::Kept(_) | Settled::Dropped { .. } => return,
        };
        let whole = format!(
            "The joist at {} of {} {} {message}",
            spec.units.show(across),
            spec.kind.label(),
            spec.name
        );
        let of = ItemRef::Platform(spec.name.clone());
        snags.push(Snag::new(Code::JoistMoved, of, whole, remedy).at_height(spec.heights.low));
    };
    let lines = between(&fixed, marks, t, (spec.centres, within), &closed, said);
    let role = |span: &Span| {
        if trimming.contains(span) { Role::TrimmingJoist } else { Role::Joist }
    };
    lines.into_iter().map(|span| (span, role(&span))).collect()
}

/// Two trimmers for a hole that lies clear between two joists.
fn between_joists(framed: &Framed, pieces: &mut Pieces) {
    let across = framed.hole.across;
    for at in framed.trimmers.iter().flatten() {
        let beside = pieces.list.iter().filter(|p| p.lie == Lie::Along && p.along.covers(*at));
        let (mut low, mut high) = (None::<f64>, None::<f64>);
        for piece in beside {
            if piece.across.high <= across.low + SAME {
                low = Some(low.map_or(piece.across.high, |l| l.max(piece.across.high)));
            }
            if piece.across.low >= across.high - SAME {
                high = Some(high.map_or(piece.across.low, |h| h.min(piece.across.low)));
            }
        }
        if let (Some(low), Some(high)) = (low, high)
            && pieces.is_free(*at, Span { low, high })
        {
            pieces.on_edge(Role::Trimmer, *at, Span { low, high }, Lie::Across);
        }
    }
}

/// Middles of the noggin rows along the joists: as many as keep the clear length within the most asked for.
pub(super) fn rows(spec: &PlatformSpec) -> Vec<f64> {
    let (run, t) = (spec.run(), spec.timber.thickness());
    let count = ((run.length() - spec.apart) / (spec.apart + t)).ceil();
    if !(1.0..=200.0).contains(&count) {
        return Vec::new();
    }
    let clear = (run.length() - count * t) / (count + 1.0);
    (0..count as usize).map(|i| run.low + clear + t / 2.0 + i as f64 * (clear + t)).collect()
}

/// Noggins between the joists on `rows`, where no hole or trimmer is in the way.
pub(super) fn noggins(spec: &PlatformSpec, joists: &Joists, rows: &[f64], pieces: &mut Pieces) {
    let t = spec.timber.thickness();
    for row in rows {
        let along = Span::about(*row, t);
        let mut beside: Vec<Span> = pieces
            .list
            .iter()
            .filter(|p| p.lie == Lie::Along && p.along.covers(along))
            .map(|p| p.across)
            .collect();
        beside.sort_by(|a, b| a.low.total_cmp(&b.low));
        for pair in beside.windows(2) {
            let across = Span { low: pair[0].high, high: pair[1].low };
            let in_hole = joists
                .holes
                .iter()
                .any(|f| f.hole.along.overlaps(along) && f.hole.across.overlaps(across));
            if across.length() >= LEAST_PIECE && !in_hole && pieces.is_free(along, across) {
                pieces.on_edge(Role::Noggin, along, across, Lie::Across);
            }
        }
    }
}
