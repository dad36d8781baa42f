//! A problem made ready for reckoning: lengths gathered, every piece counted with its cut, everything measured in
//! the largest step that divides them all, lines left out that nothing would be cut from.

use crate::first_fit::{bars_of, shrink};
use crate::{Pattern, Patterns, Problem};

/// Pieces of one length.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    /// Tenths of a millimetre.
    pub(crate) length: u64,
    /// Length and cut, steps.
    pub(crate) need: u64,
    pub(crate) count: u64,
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
    /// Lengths no bar gives, and how many.
    pub(crate) left_over: Vec<(u64, usize)>,
    /// Tenths of a millimetre in a step.
    step: u64,
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
        let most = usable.iter().filter_map(room).max().unwrap_or(0);
        let (fit, left_over): (Vec<_>, Vec<_>) =
            problem.gathered().into_iter().partition(|p| p.length + problem.kerf <= most);
        let step = fit.iter().fold(0, |g, p| gcd(g, p.length + problem.kerf)).max(1);
        let items: Vec<Item> = fit
            .iter()
            .map(|p| Item {
                length: p.length,
                need: (p.length + problem.kerf) / step,
                count: p.count,
            })
            .collect();
        let pieces = items.iter().map(|i| i.count).sum();
        let least = items.last().map_or(u64::MAX, |i| i.need);
        let mut lines: Vec<Line> = usable
            .iter()
            .map(|&stock| Line {
                stock,
                room: room(&stock).unwrap_or(0) / step,
                cost: problem.stock[stock].cost,
                bars: bars_of(&problem.stock[stock]).min(pieces),
            })
            .filter(|line| line.room >= least)
            .collect();
        // A line is idle when another, of which there is enough, holds as much for no more.
        let all = lines.clone();
        let idle = |i: usize| {
            all.iter().enumerate().any(|(k, other)| {
                let mine = &all[i];
                let same =
                    (other.room, other.cost, other.bars) == (mine.room, mine.cost, mine.bars);
                k != i
                    && other.bars == pieces
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
        let left_over = left_over.iter().map(|p| (p.length, p.count as usize)).collect();
        Model { items, lines, left_over, step }
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
        cuts.iter().map(|&(i, n)| self.items[i].need * n).sum()
    }

    /// The largest room of a bar, steps.
    pub(crate) fn longest(&self) -> u64 {
        self.lines.iter().map(|l| l.room).max().unwrap_or(0)
    }

    /// Takes the shortest pieces off until what is left can be held for the last cut.
    pub(crate) fn made_to_hold(
        &self,
        problem: &Problem,
        line: usize,
        cuts: &mut Vec<(usize, u64)>,
    ) {
        let room = problem.room(problem.stock[self.lines[line].stock].length).unwrap_or(0);
        while let Some(&(longest, _)) = cuts.first() {
            if problem.holds(self.items[longest].length, room - self.taken(cuts) * self.step) {
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
    /// others changed for the cheapest and then shortest that will do. `None` when pieces are missing or there
    /// are not so many bars.
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
        let mut plan = Patterns { patterns: Vec::new(), left_over: self.left_over.clone() };
        for (column, n) in bars.iter().filter(|(c, n)| *n > 0 && !c.cuts.is_empty()) {
            let mut cuts: Vec<(u64, usize)> = column
                .cuts
                .iter()
                .map(|&(i, each)| (self.items[i].length, each as usize))
                .collect();
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
                (*n > over, self.lines[c.line].room - self.taken(&c.cuts))
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
                p.cuts.iter().map(|&(length, n)| Some((self.item(length)?, n as u64))).collect();
            let cuts = cuts?;
            let taken = self.taken(&cuts);
            // A line that is idle here is stood for by another that holds as much for no more.
            let other = || {
                let holds = |l: &usize| self.lines[*l].room >= taken;
                (0..self.lines.len()).filter(holds).min_by_key(|&l| self.lines[l].cost)
            };
            Some((Column { line: line.or_else(other)?, cuts }, p.bars as u64))
        };
        plan.patterns.iter().filter_map(of).collect()
    }

    pub(crate) fn item(&self, length: u64) -> Option<usize> {
        self.items.binary_search_by(|i| length.cmp(&i.length)).ok()
    }
}
