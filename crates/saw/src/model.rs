//! A problem made ready for reckoning: lengths gathered, every piece counted with its cut, everything measured in
//! the largest step that divides them all, lines left out that nothing would be cut from.

use crate::first_fit::{bars_of, shrink};
use crate::problem::saved;
use crate::{Demand, Pattern, Patterns, Piece, Problem};

/// Pieces that are alike.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    pub(crate) piece: Piece,
    /// Length and cut, less what its slanted ends save at the best, steps.
    pub(crate) need: u64,
    pub(crate) count: u64,
    /// What each slanted end saves at the best, steps, and how many it has.
    end: u64,
    ends: u64,
}

/// Bars worth cutting from.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// Which line of the problem's stock.
    pub(crate) stock: usize,
    /// What one holds, steps.
    pub(crate) room: u64,
    pub(crate) cost: u64,
    /// How many could ever be used.
    pub(crate) bars: u64,
    /// Gives no piece that has to be straight.
    pub(crate) bowed: bool,
}

/// The pieces of one bar: items, longest first, and how many of each.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Column {
    pub(crate) line: usize,
    pub(crate) cuts: Vec<(usize, u64)>,
}

/// Columns and how many bars of each.
pub(crate) type Bars = Vec<(Column, u64)>;

#[derive(Clone, Debug, Default)]
pub(crate) struct Model {
    /// Longest first.
    pub(crate) items: Vec<Item>,
    pub(crate) lines: Vec<Line>,
    /// Pieces no bar gives, and how many.
    pub(crate) left_over: Vec<(Piece, usize)>,
    /// Tenths of a millimetre in a step.
    step: u64,
    /// Some ends save something when they lie together.
    slanted: bool,
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl Model {
    /// Sizes must have been checked.
    pub(crate) fn of(problem: &Problem) -> Model {
        let there = |s: &usize| problem.stock[*s].available != Some(0);
        let room = |s: &usize| problem.room(problem.stock[*s].length);
        let usable: Vec<usize> =
            (0..problem.stock.len()).filter(there).filter(|s| room(s).is_some()).collect();
        let given = |p: &Demand| {
            let lines = usable.iter().filter(|s| problem.gives(**s, p.piece));
            lines.filter_map(room).max().is_some_and(|most| p.piece.length + problem.kerf <= most)
        };
        let (fit, left_over): (Vec<_>, Vec<_>) = problem.gathered().into_iter().partition(given);
        let whole = |p: &Demand| p.piece.length + problem.kerf;
        let step = fit.iter().fold(0, |g, p| gcd(gcd(g, whole(p)), problem.ends(p.piece).0)).max(1);
        let items: Vec<Item> = fit
            .iter()
            .map(|p| {
                let (end, ends) = problem.ends(p.piece);
                let need = (whole(p) - end * ends) / step;
                Item { piece: p.piece, need, count: p.count, end: end / step, ends }
            })
            .collect();
        let pieces = items.iter().map(|i| i.count).sum();
        let least = |line: &Line| {
            let gives = |i: &&Item| !(line.bowed && i.piece.straight);
            items.iter().filter(gives).map(|i| i.need).min().unwrap_or(u64::MAX)
        };
        let mut lines: Vec<Line> = usable
            .iter()
            .map(|&stock| Line {
                stock,
                room: room(&stock).unwrap_or(0) / step,
                cost: problem.stock[stock].cost,
                bars: bars_of(&problem.stock[stock]).min(pieces),
                bowed: problem.stock[stock].bowed,
            })
            .filter(|line| line.room >= least(line))
            .collect();
        // A line is idle when another, of which there is enough, holds as much for no more.
        let all = lines.clone();
        let idle = |i: usize| {
            all.iter().enumerate().any(|(k, other)| {
                let mine = &all[i];
                let key = |l: &Line| (l.room, l.cost, l.bars, l.bowed);
                let same = key(other) == key(mine);
                k != i
                    && other.bars == pieces
                    && (mine.bowed || !other.bowed)
                    && other.room >= mine.room
                    && other.cost <= mine.cost
                    && (!same || k < i)
            })
        };
        let mut i = 0;
        lines.retain(|_| {
            i += 1;
            !idle(i - 1)
        });
        let left_over = left_over.iter().map(|p| (p.piece, p.count as usize)).collect();
        let slanted = items.iter().any(|i| i.end > 0);
        Model { items, lines, left_over, step, slanted }
    }

    /// Whether bars of a line may give an item at all.
    pub(crate) fn gives(&self, line: usize, item: usize) -> bool {
        !(self.lines[line].bowed && self.items[item].piece.straight)
    }

    /// Whether what some piece takes depends on the others.
    pub(crate) fn is_slanted(&self) -> bool {
        self.slanted
    }

    /// Whether some bars give less than others of the same length.
    pub(crate) fn sorted(&self) -> bool {
        self.lines.iter().any(|l| l.bowed) && self.items.iter().any(|i| i.piece.straight)
    }

    pub(crate) fn counts(&self) -> Vec<u64> {
        self.items.iter().map(|i| i.count).collect()
    }

    pub(crate) fn pieces(&self) -> u64 {
        self.items.iter().map(|i| i.count).sum()
    }

    pub(crate) fn bars(&self) -> Vec<u64> {
        self.lines.iter().map(|l| l.bars).collect()
    }

    /// Room that cuts take, steps.
    pub(crate) fn taken(&self, cuts: &[(usize, u64)]) -> u64 {
        let at_best: u64 = cuts.iter().map(|&(i, n)| self.items[i].need * n).sum();
        if !self.slanted {
            return at_best;
        }
        // What their ends save at the best taken back, and what they do save taken off.
        let pieces = cuts.iter().map(|&(i, n)| (self.items[i].piece, n, 2 * self.items[i].end));
        let best: u64 = cuts.iter().map(|&(i, n)| self.items[i].end * self.items[i].ends * n).sum();
        at_best + best - saved(&pieces.filter(|p| p.2 > 0))
    }

    /// The largest room of a bar, steps.
    pub(crate) fn longest(&self) -> u64 {
        self.lines.iter().map(|l| l.room).max().unwrap_or(0)
    }

    /// Takes the shortest pieces off until all fit, and what is left can be held for the last cut.
    pub(crate) fn made_to_hold(
        &self,
        problem: &Problem,
        line: usize,
        cuts: &mut Vec<(usize, u64)>,
    ) {
        let room = problem.room(problem.stock[self.lines[line].stock].length).unwrap_or(0);
        while let Some(&(longest, _)) = cuts.first() {
            let spare = room.checked_sub(self.taken(cuts) * self.step);
            let length = self.items[longest].piece.length;
            if spare.is_some_and(|spare| problem.holds(length, spare)) {
                return;
            }
            if let Some(last) = cuts.last_mut() {
                last.1 -= 1;
                if last.1 == 0 {
                    cuts.pop();
                }
            }
        }
    }

    /// The plan that bars come to: pieces that are over are taken off again, bars that are empty left out, the
    /// others changed for the cheapest and then shortest that will do. `None` when pieces are missing, there are not
    /// so many bars, or what is on one does not fit.
    pub(crate) fn plan(&self, problem: &Problem, bars: &Bars) -> Option<Patterns> {
        let mut bars = bars.clone();
        let mut used = vec![0; self.lines.len()];
        let mut over: Vec<i128> = self.items.iter().map(|i| -i128::from(i.count)).collect();
        for (column, n) in &bars {
            used[column.line] += n;
            for &(item, each) in &column.cuts {
                over[item] += i128::from(each) * i128::from(*n);
            }
        }
        let enough = over.iter().all(|o| *o >= 0);
        if !enough || used.iter().zip(&self.lines).any(|(used, line)| *used > line.bars) {
            return None;
        }
        for (item, over) in over.into_iter().enumerate() {
            self.take_off(&mut bars, item, over as u64);
        }
        // Found by what slanted ends save at the best, they may not fit after all.
        let fits = |(c, n): &(Column, u64)| *n == 0 || self.holds(c.line, &c.cuts);
        if self.slanted && !bars.iter().all(fits) {
            return None;
        }
        let mut plan = Patterns { patterns: Vec::new(), left_over: self.left_over.clone() };
        for (column, n) in bars.iter().filter(|(c, n)| *n > 0 && !c.cuts.is_empty()) {
            let mut cuts: Vec<(Piece, usize)> =
                column.cuts.iter().map(|&(i, each)| (self.items[i].piece, each as usize)).collect();
            cuts.sort_by_key(|c| std::cmp::Reverse(c.0));
            let stock = self.lines[column.line].stock;
            plan.patterns.push(Pattern { stock, cuts, left: 0, bars: *n as usize });
        }
        let there: Vec<u64> = problem.stock.iter().map(bars_of).collect();
        let mut plan = shrink(problem, plan, &there);
        plan.merge();
        Some(plan)
    }

    /// Takes `over` pieces of an item off bars: first where all bars of a column can spare one.
    fn take_off(&self, bars: &mut Bars, item: usize, mut over: u64) {
        while over > 0 {
            let with = |c: &Column| c.cuts.iter().position(|cut| cut.0 == item);
            let found = bars.iter().enumerate().filter(|(_, (c, n))| *n > 0 && with(c).is_some());
            let whole = |(_, (c, n)): &(usize, &(Column, u64))| {
                (*n > over, self.lines[c.line].room.saturating_sub(self.taken(&c.cuts)))
            };
            let Some((at, _)) = found.min_by_key(whole) else { return };
            let (mut column, n) = bars[at].clone();
            let lighter = n.min(over);
            let Some(cut) = with(&column) else { return };
            column.cuts[cut].1 -= 1;
            column.cuts.retain(|c| c.1 > 0);
            bars[at].1 -= lighter;
            bars.push((column, lighter));
            over -= lighter;
        }
    }

    /// The bars of a plan, as far as they are cut from lines kept here.
    pub(crate) fn columns(&self, plan: &Patterns) -> Bars {
        let of = |p: &Pattern| {
            let line = self.lines.iter().position(|l| l.stock == p.stock);
            let cuts: Option<Vec<(usize, u64)>> =
                p.cuts.iter().map(|&(piece, n)| Some((self.item(piece)?, n as u64))).collect();
            let cuts = cuts?;
            // A line that is idle here is stood for by another that holds as much for no more.
            let other = || {
                let lines = (0..self.lines.len()).filter(|&l| self.holds(l, &cuts));
                lines.min_by_key(|&l| self.lines[l].cost)
            };
            Some((Column { line: line.or_else(other)?, cuts }, p.bars as u64))
        };
        plan.patterns.iter().filter_map(of).collect()
    }

    /// Whether a bar of a line gives these pieces.
    pub(crate) fn holds(&self, line: usize, cuts: &[(usize, u64)]) -> bool {
        self.lines[line].room >= self.taken(cuts) && cuts.iter().all(|c| self.gives(line, c.0))
    }

    pub(crate) fn item(&self, piece: Piece) -> Option<usize> {
        self.items.binary_search_by(|i| piece.cmp(&i.piece)).ok()
    }
}
