//! The answer: how each sheet is cut.

use super::problem::{Problem, Rect};

/// Something a sheet is cut into on the way.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Part {
    /// Where it is on its sheet.
    pub at: Rect,
    /// What becomes of it.
    pub what: What,
}

/// What becomes of a part.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// It is left over.
    Left,
    /// It is a piece; its cut-outs are parts of their own.
    Piece {
        /// Which blank.
        blank: usize,
        /// True when it lies the other way round.
        turned: bool,
        /// What falls out of it.
        cut_outs: Vec<usize>,
    },
    /// It is cut right across.
    Cut {
        /// True when the cut goes across the sheet, false when it goes along it.
        across: bool,
        /// Where, from the same edge of the sheet as the parts.
        at: u64,
        /// What is before the cut, and what is beyond it when the cut leaves anything there.
        parts: Vec<usize>,
    },
}

/// Sheets cut alike.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pattern {
    /// Which kind of sheet.
    pub sheet: usize,
    /// How many.
    pub count: u32,
    /// The parts; the first is the whole sheet.
    pub parts: Vec<Part>,
}

/// A piece on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Which blank.
    pub blank: usize,
    /// Where.
    pub at: Rect,
    /// True when it lies the other way round.
    pub turned: bool,
}

/// A cut, right across a part of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// The part it goes across.
    pub through: Rect,
    /// True when it goes across the sheet, false when it goes along it.
    pub across: bool,
    /// Where.
    pub at: u64,
}

impl Pattern {
    pub(super) fn whole(problem: &Problem, sheet: usize) -> Pattern {
        let s = &problem.sheets[sheet];
        let at = Rect { x: 0, y: 0, width: s.width, length: s.length };
        Pattern { sheet, count: 1, parts: vec![Part { at, what: What::Left }] }
    }

    fn add(&mut self, at: Rect) -> usize {
        self.parts.push(Part { at, what: What::Left });
        self.parts.len() - 1
    }

    /// Cuts a part that is left at `size` from its lower or left edge; gives what is before the cut and, when the
    /// saw leaves anything there, what is beyond it. Nothing is cut when it is no larger.
    pub(super) fn cut(
        &mut self,
        part: usize,
        across: bool,
        size: u64,
        kerf: u64,
    ) -> (usize, Option<usize>) {
        let at = self.parts[part].at;
        let whole = if across { at.length } else { at.width };
        if size >= whole {
            return (part, None);
        }
        let beyond = whole.saturating_sub(size.saturating_add(kerf));
        let (low, high, line) = if across {
            let high = Rect { y: at.y + size + kerf, length: beyond, ..at };
            (Rect { length: size, ..at }, high, at.y + size)
        } else {
            let high = Rect { x: at.x + size + kerf, width: beyond, ..at };
            (Rect { width: size, ..at }, high, at.x + size)
        };
        let low = self.add(low);
        let high = (beyond > 0).then(|| self.add(high));
        let parts = std::iter::once(low).chain(high).collect();
        self.parts[part].what = What::Cut { across, at: line, parts };
        (low, high)
    }

    /// Makes a part of just its size a piece; gives its cut-outs.
    pub(super) fn set_piece(
        &mut self,
        problem: &Problem,
        part: usize,
        blank: usize,
        turned: bool,
    ) -> Vec<usize> {
        let (at, b) = (self.parts[part].at, &problem.blanks[blank]);
        let cut_outs: Vec<usize> =
            (0..b.cut_outs.len()).map(|i| self.add(b.cut_out(i, at, turned))).collect();
        self.parts[part].what = What::Piece { blank, turned, cut_outs: cut_outs.clone() };
        cut_outs
    }

    /// Parts in the order they come about: every part before what it is cut into, one side of a cut done with
    /// before the other.
    fn in_order(&self) -> impl Iterator<Item = &Part> {
        let mut next = vec![0];
        std::iter::from_fn(move || {
            let part = self.parts.get(next.pop()?)?;
            match &part.what {
                What::Left => {}
                What::Piece { cut_outs: parts, .. } | What::Cut { parts, .. } => {
                    next.extend(parts.iter().rev());
                }
            }
            Some(part)
        })
    }

    /// Its pieces, in the order they come free.
    pub fn placed(&self) -> impl Iterator<Item = Placed> {
        self.in_order().filter_map(|part| match part.what {
            What::Piece { blank, turned, .. } => Some(Placed { blank, at: part.at, turned }),
            _ => None,
        })
    }

    /// Its cuts, in the order they are made.
    pub fn cuts(&self) -> impl Iterator<Item = Cut> {
        self.in_order().filter_map(|part| match part.what {
            What::Cut { across, at, .. } => Some(Cut { through: part.at, across, at }),
            _ => None,
        })
    }

    /// What is left of a sheet and worth keeping, largest first.
    pub fn offcuts(&self, keep: u64) -> Vec<Rect> {
        let left = self.in_order().filter(|p| p.what == What::Left).map(|p| p.at);
        let mut left: Vec<Rect> = left.filter(|r| r.width.min(r.length) >= keep.max(1)).collect();
        left.sort_by_key(|r| (std::cmp::Reverse(r.area()), *r));
        left
    }
}

/// A cutting plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The sheets: kind by kind, the fullest first, sheets cut alike together.
    pub patterns: Vec<Pattern>,
    /// Blanks that no sheet can give or for which the sheets ran out, and how many of each.
    pub left_over: Vec<(usize, u32)>,
    /// No plan can cost less than this.
    pub least_cost: u64,
    /// No plan can do with fewer sheets that cost something.
    pub least_sheets: u64,
}

impl Plan {
    /// What its sheets cost.
    pub fn cost(&self, problem: &Problem) -> u64 {
        let cost = |p: &Pattern| problem.sheets[p.sheet].cost.saturating_mul(u64::from(p.count));
        self.patterns.iter().map(cost).fold(0, u64::saturating_add)
    }

    /// How many of its sheets cost something.
    pub fn bought(&self, problem: &Problem) -> u64 {
        let bought = self.patterns.iter().filter(|p| problem.sheets[p.sheet].cost > 0);
        bought.map(|p| u64::from(p.count)).sum()
    }

    /// True when every piece is there and nothing cheaper will do.
    pub fn proven(&self, problem: &Problem) -> bool {
        self.left_over.is_empty() && self.cost(problem) <= self.least_cost
    }
}
