//! The holes of a platform: which can be framed, and how.

use super::PlatformSpec;
use super::spec::Hole;
use crate::document::PlatformHoleKind;
use crate::id::ItemRef;
use crate::math::SAME;
use crate::snag::{Code, Snag, capital};
use crate::span::Span;

/// A hole that is framed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Framed {
    pub(super) hole: Hole,
    /// True when it has trimming joists of its own, false when it lies between two that stand anyway.
    pub(super) trimmed: bool,
    /// Trimming joists at each of its sides.
    pub(super) doubled: bool,
    /// Where its two trimmers lie along the joists; `None` where what carries the joists serves.
    pub(super) trimmers: [Option<Span>; 2],
}

impl Framed {
    /// The clear room across between the joists at its sides: more than the hole where the first or last
    /// joist serves.
    pub(super) fn room(&self, spec: &PlatformSpec) -> Span {
        let t = spec.timber.thickness();
        let across = self.hole.across;
        let low = if across.low < 2.0 * t - SAME { t } else { across.low };
        let far = spec.width - 2.0 * t;
        let high = if across.high > far + SAME { spec.width - t } else { across.high };
        Span { low, high }
    }

    /// The trimming joists it brings with it; the first and the last joist serve where there is no room.
    pub(super) fn joists(&self, spec: &PlatformSpec) -> Vec<Span> {
        let t = spec.timber.thickness();
        let across = self.hole.across;
        let inside = Span { low: t, high: spec.width - t };
        let count = if self.doubled { 2 } else { 1 };
        (0..count)
            .map(f64::from)
            .flat_map(|k| {
                [Span::from(across.low - (k + 1.0) * t, t), Span::from(across.high + k * t, t)]
            })
            .filter(|s| inside.covers(*s))
            .collect()
    }

    /// What it takes across with its trimming joists.
    fn zone(&self, spec: &PlatformSpec) -> Span {
        let t = spec.timber.thickness();
        self.hole.across.grown(if !self.trimmed {
            0.0
        } else if self.doubled {
            2.0 * t
        } else {
            t
        })
    }

    /// What it takes along with its trimmers.
    fn reach(&self) -> Span {
        let [low, high] = self.trimmers;
        Span {
            low: low.map_or(self.hole.along.low, |t| t.low),
            high: high.map_or(self.hole.along.high, |t| t.high),
        }
    }
}

/// The holes that can be framed, hatches trimmed; `cut` says how many joists of the grid a stretch cuts.
pub(super) fn choose(
    spec: &PlatformSpec,
    cut: impl Fn(Span) -> usize,
    snags: &mut Vec<Snag>,
) -> Vec<Framed> {
    let mut list: Vec<Framed> = Vec::new();
    for hole in &spec.holes {
        if let Some(snag) = misplaced(spec, hole) {
            snags.push(snag);
            continue;
        }
        let t = spec.timber.thickness();
        let run = spec.run();
        let trimmer = |at: Span| run.covers(at).then_some(at);
        let framed = Framed {
            trimmed: hole.kind == PlatformHoleKind::Hatch,
            doubled: cut(hole.across) > 1,
            trimmers: [
                trimmer(Span::from(hole.along.low - t, t)),
                trimmer(Span::from(hole.along.high, t)),
            ],
            hole: hole.clone(),
        };
        list.push(framed);
    }
    list
}

/// Takes out holes that cannot be framed beside an earlier one.
pub(super) fn without_clashes(
    spec: &PlatformSpec,
    list: Vec<Framed>,
    snags: &mut Vec<Snag>,
) -> Vec<Framed> {
    let mut kept: Vec<Framed> = Vec::new();
    for framed in list {
        let clashes = |other: &&Framed| {
            let same_joists = (framed.hole.across.low - other.hole.across.low).abs() < SAME
                && (framed.hole.across.high - other.hole.across.high).abs() < SAME
                && framed.doubled == other.doubled;
            let may_share = same_joists || !framed.trimmed || !other.trimmed;
            let joists_meet = framed.zone(spec).overlaps(other.zone(spec));
            let is_in_joists =
                framed.joists_if_trimmed(spec).iter().any(|j| j.overlaps(other.hole.across))
                    || other.joists_if_trimmed(spec).iter().any(|j| j.overlaps(framed.hole.across));
            joists_meet && (!may_share || is_in_joists || framed.reach().overlaps(other.reach()))
        };
        match kept.iter().find(clashes) {
            None => kept.push(framed),
            Some(other) => snags.push(
                Snag::new(
                    Code::HolesClash,
                    ItemRef::PlatformHole(framed.hole.name.clone()),
                    format!(
                        "{} {} of {} {} leaves no room for timber between it and {} {}: it is not framed",
                        capital(framed.hole.kind.label()),
                        framed.hole.name,
                        spec.kind.label(),
                        spec.name,
                        other.hole.kind.label(),
                        other.hole.name
                    ),
                    "Move one of them, or line their sides up.",
                )
                .at_height(spec.heights.low),
            ),
        }
    }
    kept
}

impl Framed {
    fn joists_if_trimmed(&self, spec: &PlatformSpec) -> Vec<Span> {
        if self.trimmed { self.joists(spec) } else { Vec::new() }
    }
}

/// What is wrong with where a hole is, when it cannot be framed there.
fn misplaced(spec: &PlatformSpec, hole: &Hole) -> Option<Snag> {
    let t = spec.timber.thickness();
    let (along, across) =
        (Span { low: 0.0, high: spec.length }, Span { low: 0.0, high: spec.width });
    let what = format!(
        "{} {} of {} {}",
        capital(hole.kind.label()),
        hole.name,
        spec.kind.label(),
        spec.name
    );
    let snag = |code, message: String, remedy: &str, value: f64, limit: f64| {
        Some(
            Snag::new(code, ItemRef::PlatformHole(hole.name.clone()), message, remedy)
                .at_height(spec.heights.low)
                .measured(value, limit),
        )
    };
    if !(along.covers(hole.along) && across.covers(hole.across)) {
        let over = (-hole.along.low)
            .max(hole.along.high - along.high)
            .max(-hole.across.low)
            .max(hole.across.high - across.high);
        let message =
            format!("{what} runs {} past its edge: it is not framed", spec.units.with_unit(over));
        return snag(Code::HoleOutside, message, "Move it inside.", over, 0.0);
    }
    // Between the hole and what carries the joists, and between it and the first and last joist.
    let run = spec.run();
    let beside = (hole.across.low - t).min(spec.width - t - hole.across.high);
    let ahead = (hole.along.low - run.low).min(run.high - hole.along.high);
    let least = beside.min(ahead);
    if least < -SAME {
        let message = format!(
            "{what} cuts {} into the timber at its edge: it is not framed",
            spec.units.with_unit(-least)
        );
        return snag(Code::HoleNearEdge, message, "Move it off the edge.", least, 0.0);
    }
    None
}

/// Holes too near an edge for timber of their own there.
pub(super) fn near_edge(spec: &PlatformSpec, list: &[Framed], snags: &mut Vec<Snag>) {
    let t = spec.timber.thickness();
    let run = spec.run();
    for framed in list {
        let hole = &framed.hole;
        let ahead = [hole.along.low - run.low, run.high - hole.along.high];
        let beside = [hole.across.low - t, spec.width - t - hole.across.high];
        let beside = beside.into_iter().filter(|_| framed.trimmed);
        let tight = ahead.into_iter().chain(beside).filter(|g| *g > SAME && *g < t - SAME);
        if let Some(gap) = tight.reduce(f64::min) {
            let message = format!(
                "{} {} of {} {} is {} from the timber at its edge: there is no room for {} of its own",
                capital(hole.kind.label()),
                hole.name,
                spec.kind.label(),
                spec.name,
                spec.units.with_unit(gap),
                spec.units.show(t)
            );
            snags.push(
                Snag::new(
                    Code::HoleNearEdge,
                    ItemRef::PlatformHole(hole.name.clone()),
                    message,
                    format!(
                        "Move it tight against the edge, or {} off it.",
                        spec.units.with_unit(t)
                    ),
                )
                .at_height(spec.heights.low)
                .measured(gap, t),
            );
        }
    }
}
