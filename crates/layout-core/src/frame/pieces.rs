//! Gathers the pieces of a wall as they are placed, and marks them at the end.

use super::heights::Heights;
use super::uprights::Upright;
use super::{Member, Role, Solid};
use crate::document::{RiserShape, Timber};
use crate::id::{Kind, Mark};
use crate::math::{LEAST_PIECE, NEAR_SQUARE, same};
use crate::profile::{Profile, Stretch};
use crate::resolve::{WallSpec, between_cuts};
use crate::span::Span;

/// A piece that has no mark yet.
pub(super) struct Piece {
    pub(super) role: Role,
    pub(super) timber: Timber,
    pub(super) solid: Solid,
    pub(super) on_site: bool,
}

/// The straight line of one cut that stays under `profile` all over `span`.
fn below(profile: &Profile, span: Span) -> Stretch {
    one_cut(profile, span, |chord, z| chord <= z, profile.range(span).low)
}

/// The straight line of one cut that stays above `profile` all over `span`.
fn above(profile: &Profile, span: Span) -> Stretch {
    one_cut(profile, span, |chord, z| chord >= z, profile.range(span).high)
}

/// From end to end where that keeps to its side of the profile, and leans enough to be cut so; else level.
fn one_cut(profile: &Profile, span: Span, keeps: impl Fn(f64, f64) -> bool, level: f64) -> Stretch {
    let (from, to) = profile.over(span);
    let chord = Stretch { span, from, to };
    let holds = profile.stretches(span).iter().all(|s| {
        let near = |s: f64, z: f64| keeps(chord.at(s), z) || (chord.at(s) - z).abs() < 1e-6;
        near(s.span.low, s.from) && near(s.span.high, s.to)
    });
    let leans = from == to || (from - to).abs() >= NEAR_SQUARE;
    if holds && leans { chord } else { Stretch { span, from: level, to: level } }
}

/// The pieces placed so far.
pub(super) struct Pieces<'a> {
    spec: &'a WallSpec,
    pub(super) list: Vec<Piece>,
}

impl<'a> Pieces<'a> {
    pub(super) fn new(spec: &'a WallSpec) -> Pieces<'a> {
        Pieces { spec, list: Vec::with_capacity(64) }
    }

    /// A piece of any shape.
    pub(super) fn put(&mut self, role: Role, timber: &Timber, solid: Solid) {
        self.list.push(Piece { role, timber: timber.clone(), solid, on_site: false });
    }

    /// An upright from what studs stand on to what they stop under.
    pub(super) fn full_height(&mut self, upright: &Upright, heights: &Heights) {
        self.between_plates(
            upright.role,
            upright.sides,
            upright.across,
            &heights.foot,
            &heights.under,
        );
    }

    /// An upright between two profiles; left out when there is no height for it.
    pub(super) fn between_plates(
        &mut self,
        role: Role,
        sides: [[f64; 2]; 2],
        across: Span,
        foot: &Profile,
        under: &Profile,
    ) {
        let timber = &self.spec.makeup.timber;
        self.between(role, timber, sides, across, foot, under);
    }

    /// The same of another timber.
    pub(super) fn between(
        &mut self,
        role: Role,
        timber: &Timber,
        sides: [[f64; 2]; 2],
        across: Span,
        foot: &Profile,
        under: &Profile,
    ) {
        let span = Span { low: sides[0][0].min(sides[0][1]), high: sides[1][0].max(sides[1][1]) };
        let (foot, head) = (above(foot, span), below(under, span));
        if (head.from - foot.from).min(head.to - foot.to) < LEAST_PIECE {
            return;
        }
        let solid = Solid::ripped(sides, across, |s| foot.at(s), |s| head.at(s));
        self.put(role, timber, solid);
    }

    /// A piece lying along the wall between two heights.
    pub(super) fn lying(
        &mut self,
        role: Role,
        timber: &Timber,
        span: Span,
        across: Span,
        low: impl Fn(f64) -> f64,
        high: impl Fn(f64) -> f64,
    ) {
        let ends = |at: &dyn Fn(f64) -> f64| (at(span.low), at(span.high));
        self.put(role, timber, Solid::lying(span, across, ends(&low), ends(&high)));
    }

    /// A piece that lies in the way of another, if there is one.
    pub(super) fn in_the_way(&self, span: Span, across: Span, band: Span) -> Option<&Piece> {
        let in_the_way = |p: &&Piece| {
            !p.role.is_plate()
                && p.solid.heights().overlaps(band)
                && p.solid.stations().overlaps(span)
                && p.solid.across().overlaps(across)
        };
        self.list.iter().find(in_the_way)
    }

    /// Says whether the piece placed last is to be measured on site.
    pub(super) fn last_on_site(&mut self, on_site: bool) {
        if let Some(last) = self.list.last_mut() {
            last.on_site = on_site;
        }
    }

    /// A riser under every upright of a raised sole that stands on both its plates; of a T or an I section,
    /// where there is room beside it.
    pub(super) fn risers(&mut self, heights: &Heights) {
        let Some((low, high)) = &heights.riser else { return };
        let stands: Vec<(Solid, Timber)> = self
            .list
            .iter()
            .filter(|p| p.role.is_full_height() || matches!(p.role, Role::Jack | Role::Slat))
            .map(|p| (p.solid, p.timber.clone()))
            .collect();
        let first = self.list.len();
        for (solid, timber) in stands {
            let [a, b, c, d] = solid.ends[0];
            let sides = [[a.x, d.x], [b.x, c.x]];
            self.between(Role::Riser, &timber, sides, solid.across(), low, high);
        }
        let stands: Vec<Solid> = self.list[first..].iter().map(|p| p.solid).collect();
        if self.spec.makeup.riser != RiserShape::Plain {
            let depth = self.spec.makeup.timber.depth();
            for solid in stands.iter().filter(|s| same(s.across().length(), depth)) {
                self.stiffen(solid, first, low, high);
            }
        }
    }

    /// Adds the turned piece of a T section beside a riser, and the second upright of an I section behind it:
    /// towards the wall's end, or else towards its start. `first` is the first riser in the list.
    fn stiffen(&mut self, riser: &Solid, first: usize, low: &Profile, high: &Profile) {
        let timber = &self.spec.makeup.timber;
        let (depth, t) = (timber.depth(), timber.thickness());
        let full = riser.across();
        let turned = Span::about(full.centre(), t);
        let at = riser.stations();
        let parts = |from: f64, sign: f64| {
            let part = |near: f64, size: f64| {
                Span::between(from + sign * near, from + sign * (near + size))
            };
            match self.spec.makeup.riser {
                RiserShape::Plain => Vec::new(),
                RiserShape::T => vec![(part(0.0, depth), turned)],
                RiserShape::I => vec![(part(0.0, depth), turned), (part(depth, t), full)],
            }
        };
        let is_free = |parts: &Vec<(Span, Span)>| {
            let whole = parts
                .iter()
                .fold(at, |a, (s, _)| Span { low: a.low.min(s.low), high: a.high.max(s.high) });
            let stands_in = |role: Role| {
                self.list.iter().any(|p| p.role == role && p.solid.stations().covers(whole))
            };
            let clear = self.list[first..].iter().all(|p| {
                let other = p.solid.stations();
                p.role != Role::Riser || same(other.low, at.low) || !other.overlaps(whole)
            });
            let runs = self.spec.runs();
            let in_run = runs.into_iter().any(|run| between_cuts(run).covers(whole));
            clear && in_run && stands_in(Role::LowerSole) && stands_in(Role::UpperSole)
        };
        let choices = [parts(at.high, 1.0), parts(at.low, -1.0)];
        let Some(chosen) = choices.into_iter().find(is_free) else { return };
        for (span, across) in chosen {
            let sides = [[span.low; 2], [span.high; 2]];
            self.between_plates(Role::Riser, sides, across, low, high);
        }
    }

    /// The pieces in order, each with its mark: every kind counted from the wall's start and from the
    /// floor up.
    pub(super) fn marked(mut self) -> Vec<Member> {
        let row = |p: &Piece| match p.role.kind() {
            // Plates and noggins are counted row by row, uprights along the wall.
            Kind::Plate | Kind::Noggin | Kind::Pattress | Kind::Ground => p.solid.heights().low,
            _ => 0.0,
        };
        self.list.sort_by(|a, b| {
            let key = |p: &Piece| (row(p), p.solid.stations().low, p.solid.heights().low);
            let (ka, kb) = (key(a), key(b));
            a.role
                .kind()
                .cmp(&b.role.kind())
                .then(ka.0.total_cmp(&kb.0))
                .then(ka.1.total_cmp(&kb.1))
                .then(ka.2.total_cmp(&kb.2))
        });
        let mut members: Vec<Member> = Vec::with_capacity(self.list.len());
        for piece in self.list {
            let kind = piece.role.kind();
            let number = match members.last() {
                Some(m) if m.mark.kind == kind => m.mark.number + 1,
                _ => 1,
            };
            members.push(Member {
                mark: Mark { kind, number },
                role: piece.role,
                timber: piece.timber,
                solid: piece.solid,
                measure_in_place: piece.on_site,
            });
        }
        members
    }
}
