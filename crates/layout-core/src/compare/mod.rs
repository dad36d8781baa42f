//! Choices side by side: what every place for the odd bay, every usual spacing, every way to lay the boards and every
//! place for an opening would come to; and the whole job with other centres, timber, lengths or boards. Nothing here changes the job; what is chosen comes with the edit that makes it so.

mod boards;
mod odd_bay;
mod places;
mod what_if;

use std::collections::BTreeMap;

use crate::document::{Job, WallEnd};
use crate::frame::{Role, board_joints};
use crate::id::{ItemRef, Name};
use crate::layout::{Layout, WallLayout};
use crate::math::{BOUND_EDGE, SAME};
use crate::pieces::{Bill, Biller};
use crate::snag::{Code, Severity, Snag};
use crate::span::Span;
pub use boards::{Boarded, Boarding, boardings};
pub use odd_bay::{Choice, choices};
pub use places::{Stop, Sweep, sweep};
pub use what_if::{About, WhatIf, Whole, choices_of, what_ifs};

/// What one wall takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tally {
    /// Pieces of every kind.
    pub pieces: usize,
    /// Full-height studs.
    pub studs: usize,
    /// Noggins.
    pub noggins: usize,
    /// Different lengths to cut.
    pub lengths: usize,
    /// Timber as cut, mm.
    pub timber: f64,
    /// Studs that stand off their mark, are packed, left out or added.
    pub moved: usize,
    /// Joints of upright boards with no stud to take both edges.
    pub joints_off: usize,
}

impl Tally {
    /// Counts `wall`.
    pub fn of(wall: &WallLayout) -> Tally {
        let members = &wall.frame.members;
        let count = |is: &dyn Fn(Role) -> bool| members.iter().filter(|m| is(m.role)).count();
        let mut lengths: Vec<i64> = members.iter().map(|m| wall.cut_length(m) as i64).collect();
        lengths.sort_unstable();
        lengths.dedup();
        let moves = [Code::StudShifted, Code::StudPacked, Code::StudDropped, Code::StudAdded];
        Tally {
            pieces: members.len(),
            studs: count(&Role::is_full_height),
            noggins: count(&|role| role == Role::Noggin),
            lengths: lengths.len(),
            timber: wall.frame.totals.iter().map(|t| t.length).sum(),
            moved: wall.frame.snags.iter().filter(|s| moves.contains(&s.code)).count(),
            joints_off: joints_off(wall),
        }
    }
}

/// Joints of upright boards that have no stud, or studs nailed as one, behind both edges.
fn joints_off(wall: &WallLayout) -> usize {
    let is_upright = |role: Role| role.is_full_height() || role == Role::Cripple;
    let mut studs: Vec<Span> = Vec::new();
    let uprights = wall.frame.members.iter().filter(|m| is_upright(m.role));
    let mut spans: Vec<Span> = uprights.map(|m| m.solid.stations()).collect();
    spans.sort_by(|a, b| a.low.total_cmp(&b.low));
    for span in spans {
        match studs.last_mut() {
            Some(last) if span.low <= last.high + SAME => last.high = last.high.max(span.high),
            _ => studs.push(span),
        }
    }
    let stands = |at: f64| {
        let bearing = Span::about(at, 2.0 * BOUND_EDGE);
        studs.iter().any(|s| s.covers(bearing))
            || wall
                .spec
                .breaks
                .iter()
                .any(|b| Span::between(b.at[0][0], b.at[1][0]).overlaps(bearing))
    };
    let off = |from: WallEnd| {
        board_joints(&wall.spec, from).into_iter().filter(|at| !stands(*at)).count()
    };
    off(WallEnd::Start).min(off(WallEnd::End))
}

/// What the whole job comes to, with one wall of it looked at closely.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The wall.
    pub wall: Tally,
    /// The timber of the whole job.
    pub bill: Bill,
    /// Snags of the whole job: stop, mend, note.
    pub snags: [usize; 3],
    /// Snags that are not there now.
    pub opened: Vec<Snag>,
    /// Snags that are there now and would be gone.
    pub closed: Vec<Snag>,
}

impl Outcome {
    /// What `layout` comes to, for `wall`, against the layout `now` that `biller` started from.
    pub fn of(job: &Job, layout: &Layout, wall: &Name, now: &Layout, biller: &Biller) -> Outcome {
        let count = |of: Severity| layout.snags.iter().filter(|s| s.severity() == of).count();
        Outcome {
            wall: layout.wall(wall).map(Tally::of).unwrap_or_default(),
            bill: biller.bill(layout, &job.stock, &job.saw),
            snags: [Severity::Stop, Severity::Mend, Severity::Note].map(count),
            opened: missing(&layout.snags, &now.snags).into_iter().cloned().collect(),
            closed: missing(&now.snags, &layout.snags).into_iter().cloned().collect(),
        }
    }

    /// Less is better: what stops or must be mended first, then board joints without a stud, the price (or
    /// the length bought), pieces, lengths to cut.
    fn rank(&self) -> [i64; 7] {
        let cost = self.bill.price.map_or(self.bill.bought, |p| p * 100.0).round() as i64;
        let of = |n: usize| n as i64;
        [
            of(self.snags[0]),
            of(self.snags[1] + self.bill.no_bar),
            of(self.wall.joints_off),
            cost,
            of(self.wall.pieces),
            of(self.wall.lengths),
            of(self.wall.moved),
        ]
    }
}

/// Snags of `these` that `those` do not have, by what they are and what they are about.
pub fn missing<'a>(these: &'a [Snag], those: &'a [Snag]) -> Vec<&'a Snag> {
    let mut left: BTreeMap<(Code, &ItemRef), usize> = BTreeMap::new();
    for snag in those {
        *left.entry((snag.code, &snag.of)).or_insert(0) += 1;
    }
    let is_new = |snag: &&'a Snag| match left.get_mut(&(snag.code, &snag.of)) {
        Some(count) if *count > 0 => {
            *count -= 1;
            false
        }
        _ => true,
    };
    these.iter().filter(is_new).collect()
}
