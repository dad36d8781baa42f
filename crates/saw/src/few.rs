//! Fewer patterns at the same cost: a few patterns of a plan at a time are cut anew from the same bars, with one pattern
//! less.
//!
//! That a bar more of a pattern needs no new setting of the stop is what makes a plan quick to saw, so of plans that cost the same
//! the one with fewer patterns is better. Looking for it is hard; this is a search as far as its steps last.

use std::collections::BTreeMap;

use crate::model::{Bars, Column, Model};
use crate::{Go, Problem};

/// How many patterns are cut anew at a time, and the steps for one such set.
const SIZES: [(usize, usize); 5] =
    [(2, 1_000), (3, 4_000), (4, 20_000), (5, 100_000), (6, 200_000)];

/// The patterns of a plan, with fewer of them where `steps` last to find that; unchanged when none were saved.
pub(crate) fn fewer(problem: &Problem, model: &Model, plan: &Bars, steps: usize, go: Go) -> Bars {
    let mut plan = plan.clone();
    let mut left = steps;
    for (size, steps) in SIZES {
        let mut again = true;
        while again && left > 0 {
            again = false;
            // Patterns of few bars are the likeliest to go.
            plan.sort_by(|a, b| (a.1, &a.0).cmp(&(b.1, &b.0)));
            let sets = Sets::new(plan.len(), size);
            for set in sets {
                if left == 0 || !go() {
                    return plan;
                }
                if !linked(&plan, &set) {
                    left = left.saturating_sub(1);
                    continue;
                }
                let mut cutter =
                    Cutter { problem, model, steps: steps.min(left), found: Vec::new() };
                let before = cutter.steps;
                let some: Vec<&(Column, u64)> = set.iter().map(|&k| &plan[k]).collect();
                let found = cutter.cut_anew(&some, size - 1);
                left -= before - cutter.steps;
                if found {
                    let fresh = cutter.found;
                    for &k in set.iter().rev() {
                        plan.remove(k);
                    }
                    plan.extend(fresh);
                    again = true;
                    break;
                }
            }
        }
    }
    plan
}

/// True when every pattern of the set has a length in common with another of them: others can gain nothing together.
fn linked(plan: &Bars, set: &[usize]) -> bool {
    let has = |k: usize, item: usize| plan[k].0.cuts.iter().any(|c| c.0 == item);
    set.iter().all(|&k| {
        plan[k].0.cuts.iter().any(|c| set.iter().any(|&other| other != k && has(other, c.0)))
    })
}

/// Every choice of so many out of n, those with the first of them first.
struct Sets {
    n: usize,
    next: Option<Vec<usize>>,
}

impl Sets {
    fn new(n: usize, size: usize) -> Sets {
        Sets { n, next: (size <= n).then(|| (0..size).collect()) }
    }
}

impl Iterator for Sets {
    type Item = Vec<usize>;

    fn next(&mut self) -> Option<Vec<usize>> {
        let now = self.next.take()?;
        // The lowest place that can move up by one, those below it back to the beginning: ones with low numbers come first.
        let place =
            (0..now.len()).find(|&i| now[i] + 1 < now.get(i + 1).copied().unwrap_or(self.n));
        self.next = place.map(|place| {
            let mut next = now.clone();
            next[place] += 1;
            (0..place).for_each(|i| next[i] = i);
            next
        });
        Some(now)
    }
}

/// Cuts what some bars hold from the same bars.
struct Cutter<'a> {
    problem: &'a Problem,
    model: &'a Model,
    steps: usize,
    found: Bars,
}

impl Cutter<'_> {
    fn cut_anew(&mut self, some: &[&(Column, u64)], patterns: usize) -> bool {
        let mut bars: BTreeMap<usize, u64> = BTreeMap::new();
        let mut pieces: BTreeMap<usize, u64> = BTreeMap::new();
        for (column, n) in some {
            *bars.entry(column.line).or_default() += n;
            for &(item, each) in &column.cuts {
                *pieces.entry(item).or_default() += each * n;
            }
        }
        let mut bars: Vec<(usize, u64)> = bars.into_iter().collect();
        let mut pieces: Vec<(usize, u64)> = pieces.into_iter().collect();
        self.split(&mut bars, &mut pieces, patterns)
    }

    /// All pieces from the bars in so many patterns at the most.
    fn split(
        &mut self,
        bars: &mut Vec<(usize, u64)>,
        pieces: &mut Vec<(usize, u64)>,
        patterns: usize,
    ) -> bool {
        let lines = bars.iter().filter(|b| b.1 > 0).count();
        let Some(first) = pieces.iter().position(|p| p.1 > 0) else { return true };
        if lines == 0 || self.steps == 0 {
            return false;
        }
        let room: u128 = bars
            .iter()
            .map(|&(line, n)| u128::from(self.model.lines[line].room) * u128::from(n))
            .sum();
        let need: u128 =
            pieces.iter().map(|&(i, n)| u128::from(self.model.items[i].need) * u128::from(n)).sum();
        if need > room {
            return false;
        }
        if patterns == 1 {
            return self.last(bars, pieces);
        }
        // The longest piece is on the next pattern, with any of the others, on as many bars as will.
        for at in 0..bars.len() {
            let (line, there) = bars[at];
            if !self.model.gives(line, pieces[first].0) {
                continue;
            }
            for n in (1..=there.min(pieces[first].1)).rev() {
                let most = pieces[first].1 / n;
                let fit = self.model.lines[line].room / self.model.items[pieces[first].0].need;
                for each in (1..=most.min(fit)).rev() {
                    let mut cuts = vec![(pieces[first].0, each)];
                    bars[at].1 -= n;
                    pieces[first].1 -= each * n;
                    let left =
                        self.model.lines[line].room - each * self.model.items[pieces[first].0].need;
                    let done =
                        self.others(first + 1, left, n, line, &mut cuts, bars, pieces, patterns);
                    pieces[first].1 += each * n;
                    bars[at].1 += n;
                    if done {
                        return true;
                    }
                    if self.steps == 0 {
                        return false;
                    }
                }
            }
        }
        false
    }

    /// The other pieces of a pattern, from `from` on.
    #[allow(clippy::too_many_arguments)]
    fn others(
        &mut self,
        from: usize,
        left: u64,
        n: u64,
        line: usize,
        cuts: &mut Vec<(usize, u64)>,
        bars: &mut Vec<(usize, u64)>,
        pieces: &mut Vec<(usize, u64)>,
        patterns: usize,
    ) -> bool {
        if self.steps == 0 {
            return false;
        }
        self.steps -= 1;
        let next = (from..pieces.len()).find(|&k| {
            let item = pieces[k].0;
            let fits = self.model.items[item].need <= left;
            pieces[k].1 >= n && fits && self.model.gives(line, item)
        });
        let Some(k) = next else {
            let before = self.found.len();
            let column = Column { line, cuts: cuts.clone() };
            if self.can_be_held(&column) && {
                self.found.push((column, n));
                self.split(bars, pieces, patterns - 1)
            } {
                return true;
            }
            self.found.truncate(before);
            return false;
        };
        let item = pieces[k].0;
        let need = self.model.items[item].need;
        for each in (0..=(left / need).min(pieces[k].1 / n)).rev() {
            if each > 0 {
                cuts.push((item, each));
            }
            pieces[k].1 -= each * n;
            let left = left - each * need;
            let done = self.others(k + 1, left, n, line, cuts, bars, pieces, patterns);
            pieces[k].1 += each * n;
            if each > 0 {
                cuts.pop();
            }
            if done {
                return true;
            }
        }
        false
    }

    /// All that is left as one pattern: on bars of one line, the same on each.
    fn last(&mut self, bars: &[(usize, u64)], pieces: &[(usize, u64)]) -> bool {
        self.steps -= 1;
        for &(line, there) in bars {
            // On fewer bars than there are would cost less than the least there is.
            if there == 0 || pieces.iter().any(|p| !p.1.is_multiple_of(there)) {
                continue;
            }
            let cuts: Vec<(usize, u64)> =
                pieces.iter().filter(|p| p.1 > 0).map(|&(i, n)| (i, n / there)).collect();
            let column = Column { line, cuts };
            if self.model.holds(line, &column.cuts) && self.can_be_held(&column) {
                self.found.push((column, there));
                return true;
            }
        }
        false
    }

    fn can_be_held(&self, column: &Column) -> bool {
        let mut cuts = column.cuts.clone();
        self.model.made_to_hold(self.problem, column.line, &mut cuts);
        cuts == column.cuts
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Demand, StockLine};

    #[test]
    fn three_patterns_become_two_and_two_one() {
        let problem = Problem {
            stock: vec![StockLine::new(100, 1)],
            pieces: [(60, 4), (40, 4), (30, 3), (25, 3)].map(|(l, n)| Demand::new(l, n)).into(),
            ..Problem::default()
        };
        let model = Model::of(&problem);
        let column = |cuts: &[(usize, u64)]| Column { line: 0, cuts: cuts.to_vec() };
        // By hand: four bars of 60 and 40, three of 30 and 25, where they were mixed.
        let mixed = vec![
            (column(&[(0, 1), (2, 1)]), 2),
            (column(&[(0, 1), (1, 1)]), 2),
            (column(&[(1, 1), (3, 2)]), 1),
            (column(&[(1, 1), (2, 1), (3, 1)]), 1),
            (column(&[]), 1),
        ];
        let mixed: Bars = mixed.into_iter().filter(|(c, _)| !c.cuts.is_empty()).collect();
        let fewer = fewer(&problem, &model, &mixed, 100_000, &|| true);
        let plan = model.plan(&problem, &fewer).expect("every piece");
        assert!(fewer.len() < mixed.len(), "{fewer:?}");
        assert_eq!(plan.bars(), 6);
    }

    #[test]
    fn every_set_comes_once() {
        let sets: Vec<Vec<usize>> = Sets::new(5, 3).collect();
        assert_eq!(sets.len(), 10);
        assert_eq!((sets[0].clone(), sets[9].clone()), (vec![0, 1, 2], vec![2, 3, 4]));
        assert_eq!(Sets::new(2, 3).count(), 0);
    }
}
