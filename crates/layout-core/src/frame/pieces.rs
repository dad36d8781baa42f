//! Gathers the pieces of a wall as they are placed, and marks them at the end.

use super::heights::Heights;
use super::{Member, Role, Solid};
use crate::document::Timber;
use crate::id::{Kind, Mark};
use crate::resolve::WallSpec;
use crate::span::Span;

/// A piece that has no mark yet.
pub(super) struct Piece {
    pub(super) role: Role,
    pub(super) timber: Timber,
    pub(super) solid: Solid,
    pub(super) on_site: bool,
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

    fn put(&mut self, role: Role, timber: &Timber, solid: Solid) {
        self.list.push(Piece { role, timber: timber.clone(), solid, on_site: false });
    }

    /// An upright of the make-up's timber between two heights along the wall.
    pub(super) fn upright(
        &mut self,
        role: Role,
        span: Span,
        across: Span,
        foot: impl Fn(f64) -> f64,
        head: impl Fn(f64) -> f64,
    ) {
        let timber = &self.spec.makeup.timber;
        let ends = |at: &dyn Fn(f64) -> f64| (at(span.low), at(span.high));
        self.put(role, timber, Solid::upright(span, across, ends(&foot), ends(&head)));
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

    /// The top of a piece that lies in the way of another, if there is one.
    pub(super) fn top_of_what_lies(&self, span: Span, across: Span, band: Span) -> Option<f64> {
        let in_the_way = |p: &&Piece| {
            !p.role.is_plate()
                && p.solid.heights().overlaps(band)
                && p.solid.stations().overlaps(span)
                && p.solid.across().overlaps(across)
        };
        self.list.iter().find(in_the_way).map(|p| p.solid.heights().high)
    }

    /// Says whether the piece placed last is to be measured on site.
    pub(super) fn last_on_site(&mut self, on_site: bool) {
        if let Some(last) = self.list.last_mut() {
            last.on_site = on_site;
        }
    }

    /// A riser under every upright of a raised sole that stands on both its plates.
    pub(super) fn risers(&mut self, heights: &Heights) {
        let Some((low, high)) = &heights.riser else { return };
        let stands: Vec<(Span, Span)> = self
            .list
            .iter()
            .filter(|p| p.role.is_full_height() || p.role == Role::Jack)
            .map(|p| (p.solid.stations(), p.solid.across()))
            .collect();
        for (span, across) in stands {
            self.upright(Role::Riser, span, across, |s| low.at(s), |s| high.at(s));
        }
    }

    /// The pieces in order, each with its mark: every kind counted from the wall's start and from the
    /// floor up.
    pub(super) fn marked(mut self) -> Vec<Member> {
        let row = |p: &Piece| match p.role.kind() {
            // Plates and noggins are counted row by row, uprights along the wall.
            Kind::Plate | Kind::Noggin | Kind::Ground => p.solid.heights().low,
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
