//! The question: what is to be cut, and from what.

/// One kind of bar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StockLine {
    /// Its length, tenths of a millimetre.
    pub length: u64,
    /// What one costs, in any whole unit.
    pub cost: u64,
    /// How many there are; `None` for as many as needed.
    pub available: Option<u32>,
}

/// A cutting problem.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// Width of the saw cut, tenths of a millimetre.
    pub kerf: u64,
    /// Trimmed off every bar before the first piece, tenths of a millimetre.
    pub trim: u64,
    /// The bars to be had.
    pub stock: Vec<StockLine>,
    /// The pieces, tenths of a millimetre.
    pub pieces: Vec<u64>,
}

impl Problem {
    /// What a bar of `length` holds, with one saw cut added so that every piece can be counted
    /// with its own: n pieces fit when the sum of (piece + kerf) is no more. `None` when trim leaves nothing.
    pub fn room(&self, length: u64) -> Option<u64> {
        (length + self.kerf).checked_sub(self.trim).filter(|room| *room > self.kerf)
    }
}
