//! Gathers the pieces of a platform as they are placed, and marks them at the end.

use super::PlatformSpec;
use crate::document::Timber;
use crate::frame::{Member, Role, Solid};
use crate::id::{Kind, Mark};
use crate::span::Span;

/// Which way a piece lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lie {
    /// Along the joists.
    Along,
    /// Across them.
    Across,
    /// Upright.
    Up,
}

/// A piece that has no mark yet: the room it takes along and across the joists and in height.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) role: Role,
    pub(super) timber: Timber,
    pub(super) along: Span,
    pub(super) across: Span,
    pub(super) up: Span,
    pub(super) lie: Lie,
}

/// The pieces placed so far.
pub(super) struct Pieces<'a> {
    spec: &'a PlatformSpec,
    pub(super) list: Vec<Piece>,
}

impl<'a> Pieces<'a> {
    pub(super) fn new(spec: &'a PlatformSpec) -> Pieces<'a> {
        Pieces { spec, list: Vec::with_capacity(32) }
    }

    /// A piece of the joists' timber, on edge.
    pub(super) fn on_edge(&mut self, role: Role, along: Span, across: Span, lie: Lie) {
        let (timber, up) = (self.spec.timber.clone(), self.spec.heights);
        self.list.push(Piece { role, timber, along, across, up, lie });
    }

    /// A piece of a front.
    pub(super) fn of_front(&mut self, role: Role, along: Span, across: Span, up: Span, lie: Lie) {
        self.list.push(Piece { role, timber: self.spec.front.clone(), along, across, up, lie });
    }

    /// True when a piece on edge there would run into nothing.
    pub(super) fn is_free(&self, along: Span, across: Span) -> bool {
        let taken = |p: &Piece| {
            p.along.overlaps(along) && p.across.overlaps(across) && p.up.overlaps(self.spec.heights)
        };
        !self.list.iter().any(taken)
    }

    /// The pieces in order, each with its mark: joists from the first one across, the rest from where the
    /// joists begin.
    pub(super) fn marked(mut self) -> Vec<Member> {
        self.list.sort_by(|a, b| {
            let key = |p: &Piece| match p.role.kind() {
                Kind::Joist => (p.across.low, p.along.low, p.up.low),
                _ => (p.along.low, p.across.low, p.up.low),
            };
            let (ka, kb) = (key(a), key(b));
            let kinds = a.role.kind().cmp(&b.role.kind());
            kinds
                .then(ka.0.total_cmp(&kb.0))
                .then(ka.1.total_cmp(&kb.1))
                .then(ka.2.total_cmp(&kb.2))
        });
        let mut members: Vec<Member> = Vec::with_capacity(self.list.len());
        for piece in self.list {
            let kind = piece.role.kind();
            let number = match members.last() {
                Some(m) if m.mark.kind == kind => m.mark.number.saturating_add(1),
                _ => 1,
            };
            members.push(Member {
                mark: Mark { kind, number },
                role: piece.role,
                solid: solid(self.spec, &piece),
                timber: piece.timber,
                measure_in_place: false,
            });
        }
        members
    }
}

/// The shape of a piece in the platform's place: x along its width, y along its depth.
fn solid(spec: &PlatformSpec, piece: &Piece) -> Solid {
    let (x, y) = spec.own(piece.along, piece.across);
    let up = ((piece.up.low, piece.up.low), (piece.up.high, piece.up.high));
    match piece.lie {
        Lie::Up => Solid::upright(x, y, up.0, up.1),
        lie if (lie == Lie::Along) == spec.along_width => Solid::lying(x, y, up.0, up.1),
        _ => Solid::lying_across(x, y, piece.up),
    }
}
