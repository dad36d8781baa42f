//! Ways to mend a snag: edits that have been tried and found to close it, each with what else it changes.
//! Nothing here changes the job.

mod services;
mod openings;
mod walls;

use crate::compare::missing;
use crate::document::{Edit, Job};
use crate::id::ItemRef;
use crate::layout::Layout;
use crate::snag::{Code, Severity, Snag};

/// No more edits than this are tried for one snag.
const MOST_TRIES: usize = 80;

/// A way to mend a snag.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What is done: “Move it 29 towards the end of the wall”.
    pub label: String,
    /// The edit that does it, as one step.
    pub edit: Edit,
    /// Pieces of timber more or fewer.
    pub pieces: i64,
    /// Timber as cut, more or less, mm.
    pub timber: f64,
    /// Snags that are gone after it, the one it is for among them.
    pub closed: Vec<Snag>,
    /// Snags that were not there before; none of them has to be mended.
    pub opened: Vec<Snag>,
}

/// Something to try.
struct Try {
    label: String,
    edit: Edit,
    /// Snags it may not bring.
    without: &'static [Code],
}

impl Try {
    fn new(label: impl Into<String>, edit: Edit) -> Try {
        Try { label: label.into(), edit, without: &[] }
    }
}

/// What a snag is about, and the layout it is in.
struct Case<'a> {
    job: &'a Job,
    layout: &'a Layout,
    snag: &'a Snag,
}

/// The ways to mend `snag`, one of the snags of `layout`, which is that of `job`: of each kind the one that changes
/// least. Empty where the hand has to think of something.
pub fn remedies(job: &Job, layout: &Layout, snag: &Snag) -> Vec<Remedy> {
    let case = Case { job, layout, snag };
    let mut kinds = services::kinds(&case);
    kinds.extend(openings::kinds(&case));
    kinds.extend(walls::kinds(&case));
    let mut tries = 0;
    let mut found: Vec<Remedy> = Vec::new();
    for kind in kinds {
        for attempt in kind {
            tries += 1;
            if tries > MOST_TRIES {
                return found;
            }
            if let Some(remedy) = case.tried(attempt) {
                found.push(remedy);
                break;
            }
        }
    }
    found
}

/// True when there may be ways to mend a snag of this kind.
pub fn may_be_mended(code: Code) -> bool {
    matches!(
        code,
        Code::PointInStud
            | Code::PointsClash
            | Code::PointAtOpening
            | Code::RouteBlocked
            | Code::MissingPattress
            | Code::OutsideWall
            | Code::ArchitraveFouled
            | Code::NotHeaded
            | Code::OutsideHeights
            | Code::HoleTooWide
            | Code::NotchTooDeep
            | Code::CableOutsideZone
            | Code::FixingInZone
            | Code::SwingFouled
            | Code::SlideFouled
            | Code::PocketFouled
            | Code::NibShort
            | Code::TrackNoGround
            | Code::OpeningPastEnd
            | Code::OpeningNoStud
            | Code::OpeningsClash
            | Code::HoleTooSmall
            | Code::CentresTooWide
            | Code::CentresOffBoard
            | Code::JointAtCorner
            | Code::StudPacked
            | Code::StudDropped
            | Code::JointBare
            | Code::BoardEdgeBare
            | Code::GridNotCarried
            | Code::ShiftLost
            | Code::RowAside
            | Code::RowOutside
            | Code::NoStock
    )
}

impl Case<'_> {
    /// What an edit comes to, when it closes the snag and brings nothing that has to be mended.
    fn tried(&self, attempt: Try) -> Option<Remedy> {
        let after = attempt.edit.apply(self.job);
        let laid = self.layout.relayout(&after);
        let own = |list: &[Snag]| {
            list.iter().filter(|s| s.code == self.snag.code && s.of == self.snag.of).count()
        };
        let stays = |s: &Snag| s.code == self.snag.code && s.of == self.snag.of && self.is_at(s);
        if own(&laid.snags) >= own(&self.layout.snags) || laid.snags.iter().any(stays) {
            return None;
        }
        let opened = missing(&laid.snags, &self.layout.snags);
        let bad = |s: &&Snag| s.severity() != Severity::Note || attempt.without.contains(&s.code);
        if opened.iter().any(bad) {
            return None;
        }
        let closed = missing(&self.layout.snags, &laid.snags);
        let count =
            |of: &Layout| of.framed().map(|p| p.frame().members.len()).sum::<usize>() as i64;
        let length = |of: &Layout| {
            of.framed().flat_map(|p| &p.frame().totals).map(|t| t.length).sum::<f64>()
        };
        Some(Remedy {
            label: attempt.label,
            edit: attempt.edit,
            pieces: count(&laid) - count(self.layout),
            timber: length(&laid) - length(self.layout),
            closed: closed.into_iter().cloned().collect(),
            opened: opened.into_iter().cloned().collect(),
        })
    }

    /// True when a snag is at the place of the one to mend.
    fn is_at(&self, other: &Snag) -> bool {
        let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() < 1.0,
            (a, b) => a.is_none() && b.is_none(),
        };
        near(self.snag.station, other.station) && near(self.snag.height, other.height)
    }

    /// A length with its unit.
    fn length(&self, value: f64) -> String {
        self.job.units.with_unit(value)
    }

    /// True when the snag is one of these.
    fn is(&self, codes: &[Code]) -> bool {
        codes.contains(&self.snag.code)
    }

    /// Which way along a wall.
    fn towards(by: f64) -> &'static str {
        if by < 0.0 { "towards the start of the wall" } else { "towards the end of the wall" }
    }

    /// An edit of what the snag is about as one step under a name of its own.
    fn step(&self, what: &str, edit: Edit) -> Edit {
        let of: &ItemRef = &self.snag.of;
        Edit::Several(format!("{what} {}", of.label()), vec![edit])
    }
}
