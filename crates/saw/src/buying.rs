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
/// How often the first of them may, when all have been tried: its bound holds of every plan.
const PLAIN_ASKS: u32 = 400;
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

    /// Bars of a line that it takes to be sure of so many straight ones; `None` where no number would do.
    fn sure_of(&self, problem: &Problem, line: usize, straight: u64) -> Option<u64> {
        to_buy(straight, self.of(problem, line), self.sure.clamp(0.5, 0.9999))
    }

    /// Bars of each line that a plan takes beyond those it cuts, to be sure that enough are straight; as many as there are where
    /// that is less, and none where no number would do.
    pub fn beyond(&self, problem: &Problem, plan: &Patterns) -> Vec<u64> {
        let Counts { all, choice } = Counts::of(problem, plan);
        let bought = |j: usize| self.bought(problem, j, all[j], choice[j]);
        (0..all.len()).map(|j| bought(j) - all[j]).collect()
    }

    /// Bars of each line that a plan would take besides, to be sure that enough are straight, if the merchant had them; all
    /// there could be where no number would do.
    pub fn short(&self, problem: &Problem, plan: &Patterns) -> Vec<u64> {
        let Counts { all, choice } = Counts::of(problem, plan);
        let wanted = |j: usize| self.sure_of(problem, j, choice[j]).unwrap_or(u64::MAX);
        let bought = |j: usize| self.bought(problem, j, all[j], choice[j]);
        (0..all.len()).map(|j| wanted(j).saturating_sub(bought(j))).collect()
    }

    /// Bars to be bought of a line of which so many are cut, and so many of those give a straight piece.
    fn bought(&self, problem: &Problem, line: usize, all: u64, choice: u64) -> u64 {
        let sure = self.sure_of(problem, line, choice).unwrap_or(0);
        all.max(sure.min(there(problem, line)))
    }
}

/// How many bars of a line there are.
fn there(problem: &Problem, line: usize) -> u64 {
    problem.stock[line].available.map_or(u64::MAX, u64::from)
}

/// Bars of each line that a plan cuts, and those of them that give a piece that has to be straight.
struct Counts {
    all: Vec<u64>,
    choice: Vec<u64>,
}

impl Counts {
    fn of(problem: &Problem, plan: &Patterns) -> Counts {
        let mut all = vec![0_u64; problem.stock.len()];
        let mut choice = all.clone();
        for pattern in &plan.patterns {
            all[pattern.stock] += pattern.bars as u64;
            choice[pattern.stock] += if pattern.straight() { pattern.bars as u64 } else { 0 };
        }
        Counts { all, choice }
    }
}

/// A mixture that is to be tried.
#[derive(Clone)]
struct Mix {
    /// How much of it is the number it takes to be sure, in sixteenths.
    mix: u64,
    /// Of the lines that run out, the choice bars of each: then the others are no more than the rest, and its bound says nothing of other plans.
    /// Empty where both may be as many as they can.
    apart: Vec<u64>,
}

/// A mixture under way.
struct Way {
    planner: Planner,
    of: Mix,
    /// Which line of the problem each of its own is.
    lines: Vec<usize>,
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
    /// What is to be tried yet, the next one last.
    next: Vec<Mix>,
    best: Patterns,
    buy: Vec<u64>,
    /// Which way has the best plan.
    from: usize,
    /// A cost that no plan is under, and one that no plan is under of which it is sure.
    bounds: [u64; 2],
}

impl Buying {
    /// The first plan, at once; an error when the numbers are too large to reckon with.
    pub fn new(problem: &Problem, straightness: &Straightness) -> Result<Buying, Fault> {
        let plain = Way {
            planner: Planner::new(problem)?,
            of: Mix { mix: 0, apart: Vec::new() },
            lines: (0..problem.stock.len()).collect(),
            parts: 1,
            under: u64::MAX,
            asked: 0,
        };
        let mut buying = Buying {
            problem: problem.clone(),
            straightness: straightness.clone(),
            best: plain.planner.best().clone(),
            ways: vec![plain],
            next: Vec::new(),
            buy: Vec::new(),
            from: 0,
            bounds: [0, 0],
        };
        if !buying.is_plain() {
            let mixes = MIXES.iter().rev();
            buying.next = mixes.map(|&mix| Mix { mix, apart: Vec::new() }).collect();
        }
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
        self.cost_of(&self.buy)
    }

    /// Bars of each line that it would take besides to be as sure as was asked, if there were so many. Nothing but noughts
    /// where some plan with every piece is sure.
    pub fn short(&self) -> Vec<u64> {
        self.straightness.short(&self.problem, &self.best)
    }

    /// A cost that no plan for the pieces that some bar can give is under, of those that are as sure as the best one.
    pub fn bound(&self) -> u64 {
        self.bounds[usize::from(self.is_sure())]
    }

    /// True when every piece is there, and no plan of which it is sure costs less.
    pub fn proven(&self) -> bool {
        self.best.missing() == 0 && self.is_sure() && self.cost() <= self.bounds[1]
    }

    /// True when nothing is left to try.
    pub fn done(&self) -> bool {
        let [first, last] = self.most();
        let all = || (1..self.ways.len()).all(|k| self.over(k, first)) && self.over(0, last);
        self.proven() || self.next.is_empty() && all()
    }

    /// Goes on until nothing is left to try or `go_on` says no, and says which: true when it is done. It may be
    /// called again. `go_on` is asked about every millisecond.
    pub fn run(&mut self, go_on: Go) -> bool {
        let [first, last] = self.most();
        let mut k = 0;
        while !self.proven() && go_on() {
            if k == self.ways.len() {
                let Some(mix) = self.next.pop() else { break };
                let Some(way) = self.way(mix) else { continue };
                self.ways.push(way);
            }
            if !self.goes_on(k, first, go_on) {
                // Stopped from outside: it goes on here the next time.
                return false;
            }
            k += 1;
        }
        if !self.proven() && self.next.is_empty() && k == self.ways.len() {
            self.goes_on(0, last, go_on);
        }
        self.done()
    }

    /// A way goes on until it has asked so often; false when it was stopped before.
    fn goes_on(&mut self, k: usize, most: u32, go_on: Go) -> bool {
        if !self.over(k, most) {
            let asked = Cell::new(self.ways[k].asked);
            self.ways[k].planner.run(&|| {
                asked.set(asked.get().saturating_add(1));
                asked.get() <= most && go_on()
            });
            self.ways[k].asked = asked.get();
            self.offer(k);
        }
        self.over(k, most)
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

    fn over(&self, k: usize, most: u32) -> bool {
        self.ways[k].planner.done() || self.ways[k].asked >= most
    }

    /// How often a way may ask at first, and the first of them when all have been tried.
    fn most(&self) -> [u32; 2] {
        if self.is_plain() { [u32::MAX; 2] } else { [ASKS, PLAIN_ASKS] }
    }

    /// What a plan has to buy of each line; `None` where there are not so many bars.
    fn bought(&self, plan: &Patterns) -> Option<Vec<u64>> {
        let problem = &self.problem;
        let Counts { all, choice } = Counts::of(problem, plan);
        let bought = |j: usize| self.straightness.bought(problem, j, all[j], choice[j]);
        (0..all.len()).map(|j| (all[j] <= there(problem, j)).then(|| bought(j))).collect()
    }

    fn cost_of(&self, buy: &[u64]) -> u64 {
        let each = self.problem.stock.iter().zip(buy);
        each.fold(0, |sum, (line, n)| sum.saturating_add(line.cost.saturating_mul(*n)))
    }

    fn is_sure(&self) -> bool {
        self.short().iter().all(|n| *n == 0)
    }

    fn offer(&mut self, k: usize) {
        let Way { planner, of, lines, parts, under, .. } = &self.ways[k];
        if of.apart.is_empty() {
            let bound = planner.bound().div_ceil(*parts).min(*under);
            self.bounds[1] = self.bounds[1].max(bound);
            if k == 0 {
                self.bounds[0] = self.bounds[0].max(bound);
            }
        }
        let mut plan = planner.best().clone();
        plan.patterns.iter_mut().for_each(|p| p.stock = lines[p.stock]);
        plan.merge();
        plan.longest_first(&self.problem);
        let Some(buy) = self.bought(&plan) else {
            if self.over(k, ASKS) {
                let Counts { choice, .. } = Counts::of(&self.problem, &plan);
                self.next.push(Mix { mix: self.ways[k].of.mix, apart: choice });
            }
            return;
        };
        let key = |plan: &Patterns, buy: &[u64]| {
            let short = self.straightness.short(&self.problem, plan);
            let short = short.iter().fold(0_u64, |sum, n| sum.saturating_add(*n));
            let bought = plan.bought(&self.problem);
            (plan.missing(), short, self.cost_of(buy), plan.patterns.len(), bought)
        };
        if key(&plan, &buy) < key(&self.best, &self.buy) {
            (self.best, self.buy, self.from) = (plan, buy, k);
        }
    }

    /// A mixture made ready to be tried; `None` when its numbers are too large.
    fn way(&self, of: Mix) -> Option<Way> {
        let mix = of.mix;
        let straight = self.problem.pieces.iter().filter(|d| d.piece.straight);
        let straight: u64 = straight.map(|d| d.count).sum();
        let sure = self.best.missing() == 0 && self.is_sure();
        let under = if sure { self.cost() } else { u64::MAX };
        let (mut stock, mut lines) = (Vec::new(), Vec::new());
        for (j, line) in self.problem.stock.iter().enumerate() {
            let whole = line.cost.checked_mul(PARTS)?;
            if self.crooked(j) <= 0.0 {
                stock.push(StockLine { cost: whole, ..line.clone() });
                lines.push(j);
                continue;
            }
            let most = self.most_choice(j, straight);
            let (choice, others) = match (line.available, of.apart.get(j)) {
                (Some(there), Some(&choice)) => (choice.min(most), u64::from(there) - choice),
                (there, _) => (most, there.map_or(u64::MAX, u64::from)),
            };
            let so_many = |n: u64| line.available.map(|_| u32::try_from(n).unwrap_or(u32::MAX));
            let mixed = u128::from(whole) * u128::from(16 - mix) / 16;
            let cost = match self.fewest(j, choice, under) {
                Some((bars, each)) => {
                    let sure = u128::from(whole) * u128::from(mix) * u128::from(bars);
                    mixed + sure / (16 * u128::from(each))
                }
                // To be sure of one is too dear already.
                None => u128::from(under) * u128::from(PARTS),
            };
            if choice > 0 {
                let cost = u64::try_from(cost).ok()?;
                stock.push(StockLine { cost, available: so_many(choice), ..line.clone() });
                lines.push(j);
            }
            let available = so_many(others);
            stock.push(StockLine { cost: mixed as u64, available, bowed: true, ..line.clone() });
            lines.push(j);
        }
        let problem = Problem { stock, ..self.problem.clone() };
        let planner = Planner::new(&problem).ok()?;
        Some(Way { planner, of, lines, parts: PARTS, under, asked: 0 })
    }

    /// The most choice bars of a line of which it can be sure, up to `straight`.
    fn most_choice(&self, line: usize, straight: u64) -> u64 {
        let there = there(&self.problem, line);
        let sure = |n: u64| {
            let bars = self.straightness.sure_of(&self.problem, line, n);
            bars.is_some_and(|bars| bars <= there)
        };
        // Where they do not run out it can be sure of any number, or of none.
        if there == u64::MAX && sure(1) { straight } else { most(straight.min(there), sure) }
    }

    /// The smallest proportion of bars to be bought to choice ones, for any number of these up to `up_to` of which it costs
    /// less than `under` to be sure; `None` where there is none.
    fn fewest(&self, line: usize, up_to: u64, under: u64) -> Option<(u64, u64)> {
        let cost = self.problem.stock[line].cost;
        let bars = |n: u64| self.straightness.sure_of(&self.problem, line, n).unwrap_or(u64::MAX);
        let most = most(up_to, |n| cost.saturating_mul(bars(n)) < under);
        if most == 0 {
            return None;
        }
        let sure = |n: u64| (bars(n), n);
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

/// The greatest number up to `up_to` for which something holds that holds of all smaller ones, and of 0.
fn most(up_to: u64, holds: impl Fn(u64) -> bool) -> u64 {
    let (mut low, mut high) = (0, up_to);
    while low < high {
        let middle = low + (high - low).div_ceil(2);
        if holds(middle) { low = middle } else { high = middle - 1 }
    }
    low
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

    /// Ten straight ones of eleven at three in ten crooked are not to be had for sure: all eleven are bought, and it would
    /// take eight more. From another line, however dear, come those of which it is not sure: of eleven it is of five.
    #[test]
    fn of_bars_that_run_out_no_more_have_to_be_straight_than_is_sure() {
        let line = StockLine { available: Some(11), ..StockLine::new(24_000, 700) };
        let mut problem = Problem {
            stock: vec![line],
            pieces: vec![Demand::new(straight(23_000), 10)],
            ..Problem::default()
        };
        let only = bought(&problem, &[0.3]);
        assert_eq!((to_buy(10, 0.3, 0.95), to_buy(5, 0.3, 0.95)), (Some(19), Some(10)));
        assert_eq!((only.buy(), only.short(), only.best().missing()), (&[11][..], vec![8], 0));
        assert!(!only.proven() && only.bound() == 7_000);
        problem.stock.push(StockLine::new(30_000, 5_000));
        let both = bought(&problem, &[0.3, 0.0]);
        assert_eq!((both.buy(), both.short()), (&[10, 5][..], vec![0, 0]));
        assert!(both.best().missing() == 0 && both.proven());
        // Short pieces still come from every one of the eleven.
        problem.pieces.push(Demand::new(24_000, 6));
        let all = bought(&problem, &[0.3, 0.0]);
        assert_eq!((all.buy(), all.short(), all.best().bars()), (&[11, 5][..], vec![0, 0], 16));
    }

    /// Where no bar of a line is straight none is bought for it to be.
    #[test]
    fn of_bars_that_are_never_straight_nothing_is_sure() {
        let problem = Problem {
            stock: vec![StockLine::new(24_000, 700)],
            pieces: vec![Demand::new(straight(23_000), 2)],
            ..Problem::default()
        };
        let buying = bought(&problem, &[1.0]);
        assert_eq!((buying.buy(), buying.cost(), buying.proven()), (&[2][..], 1_400, false));
    }
}
