//! Names for what is drawn next.

use super::{Job, OpeningKind, PlatformHoleKind, PlatformKind};
use crate::id::Name;

/// The first of `stem1`, `stem2` … from `first` that is not taken.
pub(super) fn free_name(stem: &str, first: usize, taken: impl Fn(&Name) -> bool) -> Name {
    let mut number = first;
    loop {
        let name = Name::new(format!("{stem}{number}"));
        if !taken(&name) {
            return name;
        }
        number += 1;
    }
}

impl Job {
    /// A name for the next wall: the first free letter, then `A2`, `B2` …
    pub fn free_wall_name(&self) -> Name {
        let taken = |n: &Name| self.wall(n).is_some() || self.platform(n).is_some();
        let letters = || ('A'..='Z').map(String::from);
        let mut round = 1;
        loop {
            let suffix = if round == 1 { String::new() } else { round.to_string() };
            let name = letters().map(|l| Name::new(format!("{l}{suffix}"))).find(|n| !taken(n));
            if let Some(name) = name {
                return name;
            }
            round += 1;
        }
    }

    /// A name for the next node.
    pub fn free_node_name(&self) -> Name {
        free_name("", 1, |n| self.node(n).is_some())
    }

    /// A name for the next opening of a kind: `D1` for doors, `L1` lights, `H1` hatches, `O1` plain.
    pub fn free_opening_name(&self, kind: &OpeningKind) -> Name {
        let stem = match kind {
            OpeningKind::Door(_) => "D",
            OpeningKind::BorrowedLight { .. } => "L",
            OpeningKind::Hatch { .. } => "H",
            OpeningKind::Plain { .. } => "O",
        };
        free_name(stem, 1, |n| self.opening(n).is_some())
    }

    /// A name for the next first-fix point: `X1`, `X2` …
    pub fn free_point_name(&self) -> Name {
        free_name("X", 1, |n| self.point(n).is_some())
    }

    /// A name for the next route: `R1`, `R2` …
    pub fn free_route_name(&self) -> Name {
        free_name("R", 1, |n| self.route(n).is_some())
    }

    /// A name for the next fitting: the stem with the first free number.
    pub fn free_fitting_name(&self, stem: &str) -> Name {
        free_name(&format!("{stem} "), 1, |n| self.fitting(n).is_some())
    }

    /// A name for the next platform: `LC1` for low ceilings, `SH1` shelves, `BH1` bulkheads. No wall has it
    /// either: both begin the marks of pieces.
    pub fn free_platform_name(&self, kind: PlatformKind) -> Name {
        free_name(kind.stem(), 1, |n| self.platform(n).is_some() || self.wall(n).is_some())
    }

    /// A name for the next hole of a platform: `F1` for fans, `T1` for hatches, the trap of old.
    pub fn free_platform_hole_name(&self, kind: PlatformHoleKind) -> Name {
        let stem = match kind {
            PlatformHoleKind::Fan => "F",
            PlatformHoleKind::Hatch => "T",
        };
        free_name(stem, 1, |n| self.platform_hole(n).is_some())
    }

    /// A name for the next thing of the shell: `stem` with the first number no post, beam or
    /// roof plane has.
    pub fn free_shell_name(&self, stem: &str) -> Name {
        free_name(stem, 1, |n| {
            self.shell.posts.iter().any(|p| p.name == *n)
                || self.shell.beams.iter().any(|b| b.name == *n)
                || self.shell.roof.iter().any(|r| r.name == *n)
        })
    }
}
