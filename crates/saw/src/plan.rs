//! The answer: which pieces come from which bar.

use crate::Problem;

/// One bar of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutBar {
    /// Which line of the stock it is.
    pub stock: usize,
    /// Which pieces come from it, longest first.
    pub pieces: Vec<usize>,
    /// What is left over, tenths of a millimetre.
    pub left: u64,
}

/// Bars cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Which line of the stock they are.
    pub stock: usize,
    /// The lengths that come from each, tenths of a millimetre, longest first, and how many of each.
    pub cuts: Vec<(u64, usize)>,
    /// What is left over of each, tenths of a millimetre.
    pub left: u64,
    /// How many bars.
    pub bars: usize,
}

impl Pattern {
    /// Every piece of one bar, longest first, tenths of a millimetre.
    pub fn lengths(&self) -> impl Iterator<Item = u64> + '_ {
        self.cuts.iter().flat_map(|&(length, n)| std::iter::repeat_n(length, n))
    }

    /// Pieces from one bar.
    pub fn pieces(&self) -> usize {
        self.cuts.iter().map(|(_, n)| n).sum()
    }
}

/// A cutting plan as lengths, not yet as named pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Patterns {
    /// The patterns.
    pub patterns: Vec<Pattern>,
    /// Lengths that no bar can give, or for which the bars ran out, and how many of each.
    pub left_over: Vec<(u64, usize)>,
}

impl Patterns {
    /// What its bars cost.
    pub fn cost(&self, problem: &Problem) -> u64 {
        self.patterns.iter().map(|p| problem.stock[p.stock].cost * p.bars as u64).sum()
    }

    /// How many bars it takes.
    pub fn bars(&self) -> usize {
        self.patterns.iter().map(|p| p.bars).sum()
    }

    /// How many pieces it does not give.
    pub fn missing(&self) -> usize {
        self.left_over.iter().map(|(_, n)| n).sum()
    }
}

/// A cutting plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The bars, longest stock first, fullest first.
    pub bars: Vec<CutBar>,
    /// Pieces that no bar can give, or for which the bars ran out.
    pub left_over: Vec<usize>,
}

impl Plan {
    /// What its bars cost.
    pub fn cost(&self, problem: &Problem) -> u64 {
        self.bars.iter().map(|b| problem.stock[b.stock].cost).sum()
    }

    /// True when no plan can cost less: its cost is no more than the pieces and their cuts would cost at the best
    /// price for length, or one bar at the least price is all it takes.
    pub fn proven(&self, problem: &Problem) -> bool {
        if !self.left_over.is_empty() {
            return false;
        }
        let needed: u128 = problem.pieces.iter().map(|p| u128::from(p + problem.kerf)).sum();
        // cost/room of the best line, as a fraction, without rounding.
        let bound = problem
            .stock
            .iter()
            .filter_map(|s| {
                problem.room(s.length).map(|room| (u128::from(s.cost), u128::from(room)))
            })
            .map(|(cost, room)| (needed * cost).div_ceil(room))
            .min()
            .unwrap_or(0);
        u128::from(self.cost(problem)) <= bound
    }
}
