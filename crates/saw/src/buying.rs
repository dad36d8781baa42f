//! What to buy where not every bar is straight: pieces that have to be come from straight ones only, so of each line as many
//! are bought as make it sure enough that there are so many; the others give the rest.
//!
//! The bars of a line that give a straight piece are its *choice* ones. A plan for y bars, x of them choice, costs the price of
//! the greater of y and the number it takes to be sure of x. No plan costs less than a mixture of the two, which is a
//! plain problem: choice bars a little dearer, others from the same line a little cheaper. So every mixture gives a
//! bound, of which only plans need be thought of that are cheaper than the best so far; the plan is the one whose true cost is least of all that were met.

use std::cell::Cell;

use crate::reserve::to_buy;
use crate::{Fault, Go, Patterns, Planner, Problem, StockLine};

/// How much of the mixture is the number it takes to be sure, in sixteenths.
const MIXES: [u64; 5] = [0, 8, 16, 4, 2];
/// Prices are counted in such parts, so that a mixture is nearly itself.
const PARTS: u64 = 16;
/// How often each of them may ask whether to go on.
const ASKS: u32 = 40;
/// Numbers of choice bars that are looked at one by one.
const MOST_LOOKED_AT: u64 = 2_000;

/// How straight bars are expected to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Straightness {
    /// Of each line of the stock the share that is not straight; 0 where none is or they are known apart.
    pub crooked: Vec<f64>,
    /// How sure it has to be that enough are: a chance, from a half on.
    pub sure: f64,
}

impl Straightness {
    fn of(&self, problem: &Problem, line: usize) -> f64 {
        let share = self.crooked.get(line).copied().unwrap_or(0.0);
        if problem.stock[line].bowed || share.is_nan() { 0.0 } else { share.clamp(0.0, 1.0) }
    }

    /// Bars of a line that it takes to be sure of so many straight ones; as many as there are where that is less.
    fn sure_of(&self, problem: &Problem, line: usize, straight: u64) -> u64 {
        let there = problem.stock[line].available.map_or(u64::MAX, u64::from);
        let bars = to_buy(straight, self.of(problem, line), self.sure.clamp(0.5, 0.9999));
        bars.unwrap_or(u64::MAX).min(there)
    }

    /// Bars of each line that a plan takes beyond those it cuts, to be sure that enough are straight.
    pub fn beyond(&self, problem: &Problem, plan: &Patterns) -> Vec<u64> {
        let (all, choice) = counts(problem, plan);
        let sure = |j: usize| self.sure_of(problem, j, choice[j]);
        (0..all.len()).map(|j| sure(j).saturating_sub(all[j])).collect()
    }
}

/// Bars of each line, and those of them that give a piece that has to be straight.
fn counts(problem: &Problem, plan: &Patterns) -> (Vec<u64>, Vec<u64>) {
    let mut all = vec![0_u64; problem.stock.len()];
    let mut choice = all.clone();
    for pattern in &plan.patterns {
        all[pattern.stock] += pattern.bars as u64;
        choice[pattern.stock] += if pattern.straight() { pattern.bars as u64 } else { 0 };
    }
    (all, choice)
}

/// A mixture under way.
struct Way {
    planner: Planner,
    /// Which line of the problem each of its own is.
    of: Vec<usize>,
    /// How many parts a unit of cost is.
    parts: u64,
    /// It tells of plans that cost less than this.
    under: u64,
    asked: u32,
}

/// Plans a problem whose bars are not all straight, better and better.
pub struct Buying {
    problem: Problem,
    straightness: Straightness,
    ways: Vec<Way>,
    best: Patterns,
    buy: Vec<u64>,
    /// Which way has the best plan.
    from: usize,
    bound: u64,
}

impl Buying {
    /// The first plan, at once; an error when the numbers are too large to reckon with.
    pub fn new(problem: &Problem, straightness: &Straightness) -> Result<Buying, Fault> {
        let plain = Way {
            planner: Planner::new(problem)?,
            of: (0..problem.stock.len()).collect(),
            parts: 1,
            under: u64::MAX,
            asked: 0,
        };
        let mut buying = Buying {
            problem: problem.clone(),
            straightness: straightness.clone(),
            best: plain.planner.best().clone(),
            ways: vec![plain],
            buy: Vec::new(),
            from: 0,
            bound: 0,
        };
        buying.buy = buying.bought(&buying.best).unwrap_or_default();
        Ok(buying)
    }

    /// The cheapest plan so far, bars of the longest stock first.
    pub fn best(&self) -> &Patterns {
        &self.best
    }

    /// How many bars of each line it takes: those that are cut, and those beyond that make it sure that enough are
    /// straight.
    pub fn buy(&self) -> &[u64] {
        &self.buy
    }

    /// What they cost.
    pub fn cost(&self) -> u64 {
        self.problem.stock.iter().zip(&self.buy).map(|(s, n)| s.cost * n).sum()
    }

    /// A cost that no plan for the pieces that some bar can give is under.
    pub fn bound(&self) -> u64 {
        self.bound
    }

    /// True when every piece is there and no plan costs less.
    pub fn proven(&self) -> bool {
        self.best.missing() == 0 && self.cost() <= self.bound
    }

    /// True when nothing is left to try.
    pub fn done(&self) -> bool {
        let all = if self.is_plain() { 1 } else { MIXES.len() };
        self.proven() || self.ways.len() == all && self.ways.iter().all(|w| self.over(w))
    }

    /// Goes on until nothing is left to try or `go_on` says no, and says which: true when it is done. It may be
    /// called again. `go_on` is asked about every millisecond.
    pub fn run(&mut self, go_on: Go) -> bool {
        let mut k = 0;
        while !self.proven() && go_on() {
            if k == self.ways.len() {
                match self.next_way() {
                    Some(way) => self.ways.push(way),
                    None => break,
                }
            }
            if !self.over(&self.ways[k]) {
                let asked = Cell::new(self.ways[k].asked);
                let most = if self.is_plain() { u32::MAX } else { ASKS };
                self.ways[k].planner.run(&|| {
                    asked.set(asked.get().saturating_add(1));
                    asked.get() <= most && go_on()
                });
                self.ways[k].asked = asked.get();
                self.offer(k);
            }
            if !self.over(&self.ways[k]) {
                // Stopped from outside: it goes on here the next time.
                return false;
            }
            k += 1;
        }
        self.done()
    }

    /// Fewer patterns for the same cost, as [`Planner::tidy`].
    pub fn tidy(&mut self, steps: usize, go_on: Go) {
        self.ways[self.from].planner.tidy(steps, go_on);
        self.offer(self.from);
    }

    /// True when nothing has to be bought to be sure of it.
    fn is_plain(&self) -> bool {
        !self.problem.pieces.iter().any(|d| d.piece.straight && d.count > 0)
            || (0..self.problem.stock.len()).all(|j| self.crooked(j) <= 0.0)
    }

    fn crooked(&self, line: usize) -> f64 {
        self.straightness.of(&self.problem, line)
    }

    fn over(&self, way: &Way) -> bool {
        way.planner.done() || way.asked >= ASKS && !self.is_plain()
    }

    /// What a plan has to buy of each line; `None` where there are not so many bars.
    fn bought(&self, plan: &Patterns) -> Option<Vec<u64>> {
        let (all, choice) = counts(&self.problem, plan);
        let there = |j: usize| self.problem.stock[j].available.map_or(u64::MAX, u64::from);
        let sure = |j: usize| self.straightness.sure_of(&self.problem, j, choice[j]);
        (0..all.len()).map(|j| (all[j] <= there(j)).then(|| all[j].max(sure(j)))).collect()
    }

    fn offer(&mut self, k: usize) {
        let Way { planner, of, parts, under, .. } = &self.ways[k];
        let bound = planner.bound().div_ceil(*parts).min(*under);
        let mut plan = planner.best().clone();
        plan.patterns.iter_mut().for_each(|p| p.stock = of[p.stock]);
        plan.merge();
        plan.longest_first(&self.problem);
        self.bound = self.bound.max(bound);
        let Some(buy) = self.bought(&plan) else { return };
        let cost = |buy: &[u64]| -> u64 {
            self.problem.stock.iter().zip(buy).map(|(s, n)| s.cost.saturating_mul(*n)).sum()
        };
        let key = |plan: &Patterns, buy: &[u64]| {
            (plan.missing(), cost(buy), plan.patterns.len(), plan.bought(&self.problem))
        };
        if key(&plan, &buy) < key(&self.best, &self.buy) {
            (self.best, self.buy, self.from) = (plan, buy, k);
        }
    }

    /// The next mixture; `None` when there is none, or its numbers are too large.
    fn next_way(&self) -> Option<Way> {
        if self.is_plain() {
            return None;
        }
        let mix = *MIXES.get(self.ways.len())?;
        let straight = self.problem.pieces.iter().filter(|d| d.piece.straight);
        let straight: u64 = straight.map(|d| d.count).sum();
        let under = if self.best.missing() == 0 { self.cost() } else { u64::MAX };
        let (mut stock, mut of) = (Vec::new(), Vec::new());
        for (j, line) in self.problem.stock.iter().enumerate() {
            let whole = line.cost.checked_mul(PARTS)?;
            // Bars that run out are not told apart: together they might be more than there are.
            if self.crooked(j) <= 0.0 || line.available.is_some() {
                stock.push(StockLine { cost: whole, ..line.clone() });
                of.push(j);
                continue;
            }
            let mixed = u128::from(whole) * u128::from(16 - mix) / 16;
            let choice = match self.fewest(j, straight, under) {
                Some((bars, each)) => {
                    let sure = u128::from(whole) * u128::from(mix) * u128::from(bars);
                    mixed + sure / (16 * u128::from(each))
                }
                // To be sure of one is too dear already.
                None => u128::from(under) * u128::from(PARTS),
            };
            let choice = u64::try_from(choice).ok()?;
            stock.push(StockLine { cost: choice, ..line.clone() });
            stock.push(StockLine { cost: mixed as u64, bowed: true, ..line.clone() });
            of.extend([j, j]);
        }
        let problem = Problem { stock, ..self.problem.clone() };
        let planner = Planner::new(&problem).ok()?;
        Some(Way { planner, of, parts: PARTS, under, asked: 0 })
    }

    /// The smallest proportion of bars to be bought to choice ones, for any number of these up to `most` of which it costs
    /// less than `under` to be sure; `None` where there is none.
    fn fewest(&self, line: usize, most: u64, under: u64) -> Option<(u64, u64)> {
        let cost = self.problem.stock[line].cost;
        let dear = |n: u64| {
            cost.saturating_mul(self.straightness.sure_of(&self.problem, line, n)) >= under
        };
        let (mut low, mut high) = (0, most.max(1));
        // Not too dear at `low`, and too dear beyond `high`.
        while low < high {
            let middle = low + (high - low).div_ceil(2);
            if dear(middle) { high = middle - 1 } else { low = middle }
        }
        let most = low;
        if most == 0 {
            return None;
        }
        let sure = |n: u64| (self.straightness.sure_of(&self.problem, line, n), n);
        let less = |a: &(u64, u64), b: &(u64, u64)| {
            (u128::from(a.0) * u128::from(b.1)).cmp(&(u128::from(b.0) * u128::from(a.1)))
        };
        let looked_at = (1..=most.min(MOST_LOOKED_AT)).map(sure).min_by(less);
        // Of more there are in the long run as many as the share says, and never fewer.
        let in_the_long_run = (1_000_000, ((1.0 - self.crooked(line)) * 1e6).ceil() as u64);
        let long = (most > MOST_LOOKED_AT).then_some(in_the_long_run);
        looked_at.into_iter().chain(long).min_by(less)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Demand, Piece};

    fn straight(length: u64) -> Piece {
        Piece { straight: true, ..length.into() }
    }

    fn bought(problem: &Problem, crooked: &[f64]) -> Buying {
        let straightness = Straightness { crooked: crooked.to_vec(), sure: 0.95 };
        let mut buying = Buying::new(problem, &straightness).unwrap();
        assert!(buying.run(&|| true));
        buying
    }

    /// Forty straight bars at one in ten crooked: 48. Ten more for short pieces are among them, as crooked ones will do.
    #[test]
    fn crooked_bars_give_the_short_pieces() {
        let mut problem = Problem {
            stock: vec![StockLine::new(24_000, 700)],
            pieces: vec![Demand::new(straight(23_000), 40)],
            ..Problem::default()
        };
        assert_eq!(bought(&problem, &[0.1]).buy(), [48]);
        problem.pieces.push(Demand::new(8_000, 24));
        let buying = bought(&problem, &[0.1]);
        assert_eq!((buying.buy(), buying.best().bars(), buying.proven()), (&[48][..], 48, true));
        problem.pieces.push(Demand::new(8_000, 6));
        assert_eq!(bought(&problem, &[0.1]).buy(), [50]);
        assert_eq!(bought(&problem, &[0.0]).buy(), [50]);
    }

    /// By hand: ten straight pieces of 1.4 m are on ten bars of 2.4 m, of which 13 make it sure; each has room for one of
    /// 0.9 m. Of 1.19 m two are on a bar and leave no room: five choice bars and, at eight to a bar, seven for the rest are twelve, and of
    /// twelve enough are straight. Where six in ten are not, being sure of five is all that counts.
    #[test]
    fn the_cheaper_of_mixing_and_keeping_apart() {
        let problem = Problem {
            stock: vec![StockLine::new(24_000, 700)],
            pieces: vec![Demand::new(straight(14_000), 10), Demand::new(9_000, 10)],
            ..Problem::default()
        };
        let buying = bought(&problem, &[0.1]);
        assert_eq!((buying.buy(), buying.cost()), (&[13][..], 9_100));
        let two = Problem {
            pieces: vec![Demand::new(straight(11_900), 10), Demand::new(3_000, 50)],
            ..problem
        };
        assert_eq!(bought(&two, &[0.1]).buy(), [12]);
        assert_eq!(bought(&two, &[0.6]).buy()[0], to_buy(5, 0.6, 0.95).unwrap());
    }

    #[test]
    fn bars_that_run_out_are_all_there_is_to_be_sure_of() {
        let mut line = StockLine::new(24_000, 700);
        line.available = Some(11);
        let problem = Problem {
            stock: vec![line],
            pieces: vec![Demand::new(straight(23_000), 10)],
            ..Problem::default()
        };
        assert_eq!(bought(&problem, &[0.3]).buy(), [11]);
    }
}
