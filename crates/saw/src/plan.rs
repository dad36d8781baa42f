//! The answer: which pieces come from which bar.

use std::collections::BTreeMap;

use crate::{Piece, Problem};

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
    /// The pieces that come from each, longest first, and how many of each.
    pub cuts: Vec<(Piece, usize)>,
    /// What is left over of each, tenths of a millimetre.
    pub left: u64,
    /// How many bars.
    pub bars: usize,
}

impl Pattern {
    /// Every piece of one bar, in the order of the pattern.
    pub fn each(&self) -> impl Iterator<Item = Piece> + '_ {
        self.cuts.iter().flat_map(|&(piece, n)| std::iter::repeat_n(piece, n))
    }

    /// Pieces from one bar.
    pub fn pieces(&self) -> usize {
        self.cuts.iter().map(|(_, n)| n).sum()
    }

    /// True when some piece of it has to be straight.
    pub fn straight(&self) -> bool {
        self.cuts.iter().any(|(piece, _)| piece.straight)
    }

    /// What its pieces take of a bar's [`room`](Problem::room), tenths of a millimetre.
    pub(crate) fn takes(&self, problem: &Problem) -> u64 {
        problem.takes(self.cuts.iter().map(|&(piece, n)| (piece, n as u64)))
    }
}

/// A cutting plan as lengths, not yet as named pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Patterns {
    /// The patterns.
    pub patterns: Vec<Pattern>,
    /// Pieces that no bar can give, or for which the bars ran out, and how many of each.
    pub left_over: Vec<(Piece, usize)>,
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

    /// Total length of its bars, tenths of a millimetre.
    pub fn bought(&self, problem: &Problem) -> u64 {
        self.patterns.iter().map(|p| problem.stock[p.stock].length * p.bars as u64).sum()
    }

    /// Brings bars cut alike from the same stock together.
    pub(crate) fn merge(&mut self) {
        self.patterns.sort_by(|a, b| (a.stock, &b.cuts).cmp(&(b.stock, &a.cuts)));
        self.patterns.dedup_by(|again, first| {
            let same = again.stock == first.stock && again.cuts == first.cuts;
            if same {
                first.bars += again.bars;
            }
            same
        });
    }

    /// Puts bars of the longest stock first, of one stock those with the longest pieces.
    pub fn longest_first(&mut self, problem: &Problem) {
        self.patterns.sort_by(|a, b| {
            let stock = |p: &Pattern| problem.stock[p.stock].length;
            stock(b).cmp(&stock(a)).then_with(|| b.each().cmp(a.each()))
        });
    }

    /// Hands the pieces out to the bars: `pieces` are those of the problem one by one, and the plan says which of them
    /// comes from which bar.
    pub fn deal<P: Copy + Into<Piece>>(&self, pieces: &[P]) -> Plan {
        let mut piles: BTreeMap<Piece, Vec<usize>> = BTreeMap::new();
        for (i, &piece) in pieces.iter().enumerate().rev() {
            piles.entry(piece.into()).or_default().push(i);
        }
        let mut take = |piece: Piece| piles.get_mut(&piece).and_then(Vec::pop);
        let each = self.patterns.iter().flat_map(|p| std::iter::repeat_n(p, p.bars));
        let bars = each
            .map(|p| CutBar {
                stock: p.stock,
                pieces: p.each().filter_map(&mut take).collect(),
                left: p.left,
            })
            .collect();
        let missing = self.left_over.iter().flat_map(|&(piece, n)| std::iter::repeat_n(piece, n));
        Plan { bars, left_over: missing.filter_map(&mut take).collect() }
    }
}

/// A cutting plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The bars, in the order of the patterns they were dealt to.
    pub bars: Vec<CutBar>,
    /// Pieces that no bar can give, or for which the bars ran out.
    pub left_over: Vec<usize>,
}

impl Plan {
    /// What its bars cost.
    pub fn cost(&self, problem: &Problem) -> u64 {
        self.bars.iter().map(|b| problem.stock[b.stock].cost).sum()
    }
}
