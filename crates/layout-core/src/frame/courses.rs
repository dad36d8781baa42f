//! Courses of plates as they are laid: straight parts that follow the floor or the soffit, cut to each other
//! where it turns.

use super::Role;
use crate::math::{SAME, SQUARE};
use crate::profile::{Profile, Stretch};
use crate::span::Span;

/// A plate bends by this much onto its studs; more, and it is cut in two. Common practice.
const BENDS: f64 = 10.0;
/// Where two slopes differ by more than this the plate is cut, however short one of them is.
const TURNS: f64 = 0.1;

/// One course of plates.
#[derive(Clone, Debug)]
pub(super) struct Course {
    pub(super) role: Role,
    /// What its stack lies on, or hangs under.
    pub(super) base: Profile,
    /// Its underside and its top, from the base, square to it.
    pub(super) up: Span,
    /// The same of the whole stack.
    pub(super) stack: Span,
    /// True when it stops either side of an opening that goes to the floor.
    pub(super) cut_at_doors: bool,
    /// Which course of its kind it is, from 0: splices of one keep clear of those of the one below.
    pub(super) layer: usize,
}

/// A straight part of a course of plates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Straight {
    /// The line of the base along it.
    line: Stretch,
    /// Its underside and its top, from that line, square to it.
    up: Span,
    /// Stations at which it is cut to the part before and after it, at its underside and at its top.
    pub(super) under: Span,
    pub(super) top: Span,
}

impl Straight {
    /// Length along it for one along the wall.
    pub(super) fn tilt(&self) -> f64 {
        self.line.slope().hypot(1.0)
    }

    /// What a bar of a length covers along the wall, mm: cut plumb at both ends where it slopes, the points of one edge
    /// stand out beyond those of the other.
    pub(super) fn covered_by(&self, bar: f64, thickness: f64) -> f64 {
        (bar - thickness * self.line.slope().abs()) / self.tilt()
    }

    /// Height of its underside.
    pub(super) fn low(&self, s: f64) -> f64 {
        self.line.at(s) + self.up.low * self.tilt()
    }

    /// Height of its top.
    pub(super) fn high(&self, s: f64) -> f64 {
        self.line.at(s) + self.up.high * self.tilt()
    }
}

impl Course {
    /// The straight parts of the course in `run`, in order. Parts that meet are cut on the line that halves
    /// their turn; where there is a step between them, plumb.
    pub(super) fn straights(&self, run: Span) -> Vec<Straight> {
        let lines = self.lines(run);
        let whole = |line: &Stretch| Straight {
            line: *line,
            up: self.up,
            under: line.span,
            top: line.span,
        };
        let mut straights: Vec<Straight> = lines.iter().map(whole).collect();
        for i in 1..lines.len() {
            let (a, b) = (lines[i - 1], lines[i]);
            if let Some(at) = self.mitre(a, b) {
                let ends = [a, b].map(|line| [self.up.low, self.up.high].map(|up| at(line, up)));
                [straights[i - 1].under.high, straights[i - 1].top.high] = ends[0];
                [straights[i].under.low, straights[i].top.low] = ends[1];
            }
        }
        straights
    }

    /// Where two parts that meet are cut to each other: for a part and a distance from its line the station on the
    /// line that halves the turn of the base. `None` when the cut is plumb: at a step, in one line, or where the
    /// mitre would run past the end of one of them.
    fn mitre(&self, a: Stretch, b: Stretch) -> Option<impl Fn(Stretch, f64) -> f64> {
        let s = b.span.low;
        let z = self.base.at(s);
        let before = self.base.stretches(Span { low: a.span.low, high: s }).pop()?.slope();
        let after = self.base.stretches(Span { low: s, high: b.span.high }).first()?.slope();
        let turn = before - after;
        if (self.base.before(s) - z).abs() > SAME || turn.abs() < SQUARE {
            return None;
        }
        let lean = (after.hypot(1.0) - before.hypot(1.0)) / turn;
        // A part that is bent and drawn off the base is cut on the same line further out.
        let at = move |line: Stretch, up: f64| {
            s + lean * (up + (line.at(s) - z) / line.slope().hypot(1.0))
        };
        let fits = |line: Stretch, up: f64| a.span.low < at(line, up) && at(line, up) < b.span.high;
        let ends = [self.stack.low, self.stack.high];
        [a, b].into_iter().all(|line| ends.into_iter().all(|up| fits(line, up))).then_some(at)
    }

    /// The base in straight lines. Stretches that turn only a little are one plate, bent down onto its studs:
    /// it is drawn straight, on the side of them away from the studs.
    fn lines(&self, run: Span) -> Vec<Stretch> {
        let mut lines: Vec<Stretch> = Vec::new();
        let mut group: Vec<Stretch> = Vec::new();
        for stretch in self.base.stretches(run) {
            let joins = group.iter().all(|g| (g.slope() - stretch.slope()).abs() < TURNS)
                && group.last().is_none_or(|last| (last.to - stretch.from).abs() < SAME);
            group.push(stretch);
            if group.len() > 1 && (!joins || off_straight(&group).length() > BENDS) {
                group.pop();
                lines.push(self.drawn_straight(&group));
                group = vec![stretch];
            }
        }
        if !group.is_empty() {
            lines.push(self.drawn_straight(&group));
        }
        lines
    }

    /// The line of one plate for a group of stretches: its side towards the studs reaches no further than
    /// theirs, each as steep as it is.
    fn drawn_straight(&self, group: &[Stretch]) -> Stretch {
        let line = chord(group);
        let is_head = self.role == Role::HeadPlate;
        let side = if is_head { self.stack.low } else { self.stack.high };
        let tilt = |s: &Stretch| s.slope().hypot(1.0);
        let off = group.iter().flat_map(|g| {
            let leans = side * (tilt(g) - tilt(&line));
            [g.from - line.at(g.span.low), g.to - line.at(g.span.high)].map(|off| off + leans)
        });
        let by = if is_head { off.fold(0.0, f64::max) } else { off.fold(0.0, f64::min) };
        Stretch { from: line.from + by, to: line.to + by, ..line }
    }
}

/// The straight line from the start of the first to the end of the last.
fn chord(group: &[Stretch]) -> Stretch {
    match (group.first(), group.last()) {
        (Some(a), Some(b)) => {
            Stretch { span: Span { low: a.span.low, high: b.span.high }, from: a.from, to: b.to }
        }
        _ => Stretch { span: Span::from(0.0, 1.0), from: 0.0, to: 0.0 },
    }
}

/// How far the stretches run below and above the line from end to end.
fn off_straight(group: &[Stretch]) -> Span {
    let line = chord(group);
    let off = group.iter().map(|s| s.from - line.at(s.span.low));
    off.fold(Span { low: 0.0, high: 0.0 }, |r, d| Span { low: r.low.min(d), high: r.high.max(d) })
}
