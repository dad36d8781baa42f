//! What is to be cut: every piece of every wall and platform, grouped for the saw, counted, and laid on bars.

mod blank;
mod bill;
mod planning;
mod laid;
mod joining;

use std::collections::BTreeMap;

use crate::document::Timber;
use crate::frame::{Cut, EndCut, Member, Role, Total};
use crate::id::{Mark, Name};
use crate::layout::{Framed, Layout};
pub use bill::{Bill, Biller};
pub use joining::{Joining, joining};
pub use laid::Laid;
pub use planning::{Bar, BarPiece, BarsToBuy, Planning, SectionPlan, cutting_plan};

/// Pieces that are cut alike: one setting of the saw stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// Section and strength class.
    pub timber: Timber,
    /// Length to cut, a whole number of the job's saw steps, and end cuts, to a tenth of a degree.
    pub cut: Cut,
    /// What the pieces are, in order of first use.
    pub roles: Vec<Role>,
    /// Wall or platform and mark of every piece, in the job's order.
    pub marks: Vec<(Name, Mark)>,
    /// True when one of them is to be measured on site.
    pub measure_in_place: bool,
}

/// Pieces of the job in stop-block batches: by section, longest first.
pub fn batches(layout: &Layout) -> Vec<Batch> {
    let degrees = |end: EndCut| {
        let tenths = |a: f64| (a.to_degrees() * 10.0).round() as i64;
        (tenths(end.bevel), tenths(end.mitre))
    };
    let mut groups: BTreeMap<_, Batch> = BTreeMap::new();
    for part in layout.framed() {
        for member in &part.frame().members {
            let cut = member.cut();
            let length = part.cut_length(member);
            let key = (
                member.timber.clone(),
                std::cmp::Reverse(tenths(length)),
                degrees(cut.ends[0]),
                degrees(cut.ends[1]),
            );
            let batch = groups.entry(key).or_insert_with(|| Batch {
                timber: member.timber.clone(),
                cut: Cut { length, ends: cut.ends },
                roles: Vec::new(),
                marks: Vec::new(),
                measure_in_place: false,
            });
            if !batch.roles.contains(&member.role) {
                batch.roles.push(member.role);
            }
            batch.marks.push((part.name().clone(), member.mark));
            batch.measure_in_place |= member.measure_in_place;
        }
    }
    groups.into_values().collect()
}

/// Count and cut length of each section, in order of section.
pub fn totals(layout: &Layout) -> Vec<Total> {
    let mut totals: Vec<Total> = Vec::new();
    for total in layout.framed().flat_map(|p| &p.frame().totals) {
        match totals.iter_mut().find(|t| t.timber == total.timber) {
            Some(sum) => {
                sum.pieces += total.pieces;
                sum.length += total.length;
            }
            None => totals.push(total.clone()),
        }
    }
    totals.sort_by(|a, b| a.timber.cmp(&b.timber));
    totals
}

/// The pieces of a part that are cut from bars.
fn sawn<'a>(part: Framed<'a>) -> impl Iterator<Item = &'a Member> {
    part.frame().members.iter().filter(|m| !m.timber.is_ply())
}

/// Tenths of a millimetre, as the saw counts; nothing sensible is out of range.
fn tenths(mm: f64) -> u64 {
    (mm.clamp(0.0, 1e9) * 10.0).round() as u64
}
