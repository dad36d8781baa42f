//! What is to be cut: every piece of every wall, grouped for the saw and counted.

use crate::document::{SawSettings, Stock, Timber};
use crate::frame::{Cut, Role};
use crate::id::{Mark, Name};
use crate::layout::Layout;

/// Pieces that are cut alike: one setting of the saw stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// Section and strength class.
    pub timber: Timber,
    /// Length to cut, rounded to the millimetre, and end cuts.
    pub cut: Cut,
    /// What the pieces are, in order of first use.
    pub roles: Vec<Role>,
    /// Wall and mark of every piece, in the job's order.
    pub marks: Vec<(Name, Mark)>,
    /// True when one of them is to be measured on site.
    pub measure_in_place: bool,
}

/// One section's share of the job.
#[derive(Clone, Debug, PartialEq)]
pub struct TimberTotal {
    /// Section and strength class.
    pub timber: Timber,
    /// How many pieces.
    pub pieces: usize,
    /// Their cut lengths together, mm.
    pub length: f64,
}

/// A cutting plan for one section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionPlan {
    /// Section and strength class.
    pub timber: Timber,
    /// Bars, each with its stock length, mm, and its pieces: wall, mark, length, longest first.
    pub bars: Vec<Bar>,
    /// Pieces no bar can give, with their length.
    pub too_long: Vec<(Name, Mark, f64)>,
    /// Total length bought, mm.
    pub bought: f64,
    /// Total price, when every bar used has one.
    pub price: Option<f64>,
    /// True when it is proven that nothing cheaper will do.
    pub proven: bool,
}

/// One bar of a cutting plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Length of the bar as bought, mm.
    pub stock: f64,
    /// Its pieces in cutting order: wall, mark, length.
    pub pieces: Vec<(Name, Mark, f64)>,
    /// What is left after the last cut, mm.
    pub offcut: f64,
}

/// Pieces of the job in stop-block batches: by section, longest first.
pub fn batches(_layout: &Layout) -> Vec<Batch> {
    Vec::new()
}

/// Count and length of each section.
pub fn totals(_layout: &Layout) -> Vec<TimberTotal> {
    Vec::new()
}

/// A cutting plan for each section the job uses.
pub fn cutting_plan(_layout: &Layout, _stock: &[Stock], _saw: &SawSettings) -> Vec<SectionPlan> {
    Vec::new()
}
