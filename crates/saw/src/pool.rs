//! What one plan leaves for the next: patterns that were of use, the plan itself, and what pieces were worth. After an edit most of
//! it still holds, and planning again takes a fraction of the time.

use crate::{Patterns, Piece};

/// Of no use to a reader: hand it to [`crate::Planner::warm`].
#[derive(Clone, Debug, Default)]
pub struct Pool {
    /// Pieces on one bar, longest first, and how many of each.
    pub(crate) patterns: Vec<Vec<(Piece, u64)>>,
    /// The plan.
    pub(crate) plan: Patterns,
    /// What a piece of each length was worth, for the dearest bar as 1, longest first.
    pub(crate) worth: Vec<(u64, f64)>,
}

impl Pool {
    /// What a piece of `length` should be worth now: between the lengths next to it, in proportion.
    pub(crate) fn worth(&self, length: u64) -> Option<f64> {
        let at = self.worth.partition_point(|w| w.0 > length);
        let shorter = self.worth.get(at);
        if let Some(&(_, worth)) = shorter.filter(|w| w.0 == length) {
            return Some(worth);
        }
        let longer = at.checked_sub(1).and_then(|k| self.worth.get(k));
        match (longer, shorter) {
            (Some(&(a, high)), Some(&(b, low))) => {
                let part = (length - b) as f64 / (a - b) as f64;
                Some(low + (high - low) * part)
            }
            (Some(&(other, worth)), None) | (None, Some(&(other, worth))) => {
                Some(worth * length as f64 / other as f64)
            }
            (None, None) => None,
        }
    }
}
