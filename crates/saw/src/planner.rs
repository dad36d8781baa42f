//! The planner: a plan at once, a better one as long as it may go on, and at every moment a cost that no plan
//! can be under.
//!
//! 1. First fit gives a plan.
//! 2. Patterns are found until no other would lower the cost of bars bought in parts; rounding gives better plans, and
//!    the worth of the pieces a bound.
//! 3. The cheapest whole counts of bars of each line that could hold all pieces are found. When they cannot even in
//!    parts of patterns, that gives a cut and other counts; when they can, dives look for whole bars. A plan from
//!    the cheapest counts is proven to be the cheapest.
//! 4. Counts for which no plan was found are looked into to the last pattern, as far as there are not too many.
//! 5. Of plans that cost no more one with fewer patterns is looked for.

use std::collections::{BTreeMap, BTreeSet};

use crate::coarse::{FEW, grouped, true_bars};
use crate::columns::{Aim, Columns, Look, Master, Shop};
use crate::counts::{Choice, Cut, Found};
use crate::dive::{Dive, Style, dive, filled_up, rounded};
use crate::every::{Every, every};
use crate::few::fewer;
use crate::first_fit::first_fit_patterns;
use crate::knapsack::Knapsack;
use crate::lp::Stopped;
use crate::model::{Bars, Column, Model};
use crate::pool::Pool;
use crate::{Fault, Go, Patterns, Piece, Problem};

/// Boxes of counts looked at for one answer.
const BOXES: usize = 5_000;
const MOST_BOXES: usize = 100_000;
/// Dives for one set of counts.
const DIVES: u64 = 12;
/// Pieces that are dealt out to bars one at a time.
const MOST_ONE_BY_ONE: u64 = 100_000;
/// Other plans of the same bars that are tried for fewer patterns.
const OTHERS: u64 = 10;
/// How hard a count that was passed over is looked into at the most.
const AGAIN: usize = 64;
/// Counts that are passed over before the search for better plans ends.
const PASSED_OVER: usize = 24;

/// How far it has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Patterns,
    Counts,
    Again,
    Done,
}

/// Plans a problem, better and better.
pub struct Planner {
    problem: Problem,
    model: Model,
    columns: Columns,
    knapsack: Knapsack,
    choice: Choice,
    best: Patterns,
    /// Whole-number reckoning says that no plan costs less.
    bound: u64,
    cuts: Vec<Cut>,
    /// Counts for which no plan was found, and whether it is proven that there is none.
    not: BTreeMap<Vec<u64>, bool>,
    /// How many boxes of counts are looked at, and how hard counts that were passed over are looked into again.
    effort: usize,
    again: usize,
    /// All counts of a lower cost were looked at.
    reached: u64,
    /// Columns that were of use in some solution in parts.
    useful: BTreeSet<usize>,
    /// What a piece of each item is worth, for the dearest bar as 1; empty while that is not known.
    worth: Vec<f64>,
    stage: Stage,
}

impl Planner {
    /// The first plan, at once; an error when the numbers are too large to reckon with.
    pub fn new(problem: &Problem) -> Result<Planner, Fault> {
        problem.sizes()?;
        let model = Model::of(problem);
        let choice =
            Choice { cost: model.lines.iter().map(|l| l.cost).collect(), most: model.bars() };
        let knapsack = Knapsack::new(&model);
        let mut best = first_fit_patterns(problem);
        best.longest_first(problem);
        let mut planner = Planner {
            problem: problem.clone(),
            columns: Columns::default(),
            knapsack,
            choice,
            best,
            bound: 0,
            cuts: Vec::new(),
            not: BTreeMap::new(),
            effort: BOXES,
            again: 1,
            reached: 0,
            useful: BTreeSet::new(),
            worth: Vec::new(),
            stage: Stage::Patterns,
            model,
        };
        if planner.model.items.is_empty() || planner.model.lines.is_empty() {
            planner.stage = Stage::Done;
            return Ok(planner);
        }
        let length = Cut {
            gives: planner.model.lines.iter().map(|l| l.room as i64).collect(),
            needs: planner
                .model
                .items
                .iter()
                .map(|i| i128::from(i.need) * i128::from(i.count))
                .sum(),
            values: planner.model.items.iter().map(|i| i.need as i32).collect(),
        };
        planner.learn(&length);
        planner.cuts.push(length);
        for (column, _) in planner.model.columns(&planner.best) {
            planner.columns.add(column);
        }
        planner.singles();
        Ok(planner)
    }

    /// The same for a problem that is much like the one `pool` is from: patterns that still hold, the plan as far as it
    /// does, and what pieces were worth give it a start.
    pub fn warm(problem: &Problem, pool: &Pool) -> Result<Planner, Fault> {
        let mut planner = Planner::new(problem)?;
        if planner.stage == Stage::Done {
            return Ok(planner);
        }
        for pattern in &pool.patterns {
            if let Some(column) = planner.still_holds(pattern) {
                planner.columns.add(column);
            }
        }
        let worth = planner.model.items.iter().map(|i| pool.worth(i.piece.length));
        planner.worth = worth.collect::<Option<_>>().unwrap_or_default();
        // The old plan as far as its pieces are still wanted, and the rest by first fit.
        let (mut pieces, mut bars) = (planner.model.counts(), planner.model.bars());
        let mut taken: Bars = Vec::new();
        for pattern in &pool.plan.patterns {
            let cuts: Vec<(Piece, u64)> =
                pattern.cuts.iter().map(|&(piece, n)| (piece, n as u64)).collect();
            let Some(column) = planner.still_holds(&cuts) else { continue };
            let room = (pattern.bars as u64).min(bars[column.line]);
            let n = column.cuts.iter().fold(room, |n, &(i, each)| n.min(pieces[i] / each));
            bars[column.line] -= n;
            column.cuts.iter().for_each(|&(i, each)| pieces[i] -= each * n);
            taken.push((column, n));
        }
        let plan = filled_up(&planner.shop(&|| true), &taken, &pieces);
        if let Some(plan) = plan {
            planner.offer(plan);
        }
        Ok(planner)
    }

    /// What the next planner may begin with.
    pub fn pool(&self) -> Pool {
        let pieces = |column: &Column| -> Vec<(Piece, u64)> {
            column.cuts.iter().map(|&(i, n)| (self.model.items[i].piece, n)).collect()
        };
        Pool {
            patterns: self.useful.iter().map(|&at| pieces(&self.columns.all[at])).collect(),
            plan: self.best.clone(),
            worth: self
                .model
                .items
                .iter()
                .map(|i| i.piece.length)
                .zip(self.worth.iter().copied())
                .collect(),
        }
    }

    /// An old pattern as far as its pieces are still wanted, on the cheapest line that holds it.
    fn still_holds(&self, pattern: &[(Piece, u64)]) -> Option<Column> {
        let mut cuts: Vec<(usize, u64)> = Vec::new();
        for &(piece, n) in pattern {
            if let Some(i) = self.model.item(piece) {
                cuts.push((i, n.min(self.model.items[i].count)));
            }
        }
        let lines = (0..self.model.lines.len()).filter(|&line| self.model.holds(line, &cuts));
        let line = lines.min_by_key(|&l| (self.model.lines[l].cost, self.model.lines[l].room))?;
        self.model.made_to_hold(&self.problem, line, &mut cuts);
        (!cuts.is_empty()).then_some(Column { line, cuts })
    }

    /// The cheapest plan so far, bars of the longest stock first.
    pub fn best(&self) -> &Patterns {
        &self.best
    }

    /// A cost that no plan for the pieces that some bar can give is under.
    pub fn bound(&self) -> u64 {
        self.bound
    }

    /// True when every piece is there and no plan costs less.
    pub fn proven(&self) -> bool {
        self.best.missing() == 0 && self.best.cost(&self.problem) <= self.bound
    }

    /// True when nothing is left to try.
    pub fn done(&self) -> bool {
        self.stage == Stage::Done
    }

    /// Goes on until nothing is left to try or `go_on` says no, and says which: true when it is done. It may be
    /// called again. `go_on` is asked about every millisecond.
    pub fn run(&mut self, go_on: &dyn Fn() -> bool) -> bool {
        while self.stage != Stage::Done && go_on() {
            let step = match self.stage {
                Stage::Patterns => self.patterns(go_on),
                Stage::Counts => self.counts(go_on),
                Stage::Again => self.again(go_on),
                Stage::Done => Ok(Stage::Done),
            };
            match step {
                Ok(stage) => self.stage = stage,
                Err(Stopped) => return false,
            }
        }
        self.stage == Stage::Done
    }

    /// Bars of one length each: from them every demand can be met.
    fn singles(&mut self) {
        for (i, item) in self.model.items.iter().enumerate() {
            for (j, line) in self.model.lines.iter().enumerate() {
                let n = (line.room / item.need).min(item.count);
                if n > 0 && self.model.gives(j, i) {
                    let mut cuts = vec![(i, n)];
                    self.model.made_to_hold(&self.problem, j, &mut cuts);
                    self.columns.add(Column { line: j, cuts });
                }
            }
        }
    }

    fn shop<'a>(&'a mut self, go: Go<'a>) -> Shop<'a> {
        Shop {
            problem: &self.problem,
            model: &self.model,
            columns: &mut self.columns,
            knapsack: &mut self.knapsack,
            go,
        }
    }

    fn cost(&self) -> u64 {
        if self.best.missing() > self.model.left_over.iter().map(|l| l.1).sum() {
            return u64::MAX / 2;
        }
        self.best.cost(&self.problem)
    }

    /// Raises the bound by what a cut proves.
    fn learn(&mut self, cut: &Cut) {
        if let Some(least) = self.choice.least_in_parts(cut) {
            self.bound = self.bound.max(least);
        }
    }

    fn offer(&mut self, mut plan: Patterns) {
        let key = |p: &Patterns, problem: &Problem| {
            (p.missing(), p.cost(problem), p.patterns.len(), p.bought(problem))
        };
        if key(&plan, &self.problem) < key(&self.best, &self.problem) {
            plan.longest_first(&self.problem);
            self.best = plan;
        }
    }

    fn offer_dived(&mut self, dived: &Dive, go: Go) {
        let plan = match dived {
            Dive::Whole(bars) => self.model.plan(&self.problem, bars),
            Dive::Short(taken, missing) => filled_up(&self.shop(go), taken, missing),
        };
        if let Some(plan) = plan {
            self.offer(plan);
        }
    }

    fn settled(&self) -> bool {
        self.cost() <= self.bound
    }

    fn patterns(&mut self, go: Go) -> Result<Stage, Stopped> {
        if self.settled() {
            return Ok(Stage::Done);
        }
        if self.worth.is_empty()
            && self.model.items.len() > FEW
            && self.model.pieces() < MOST_ONE_BY_ONE
        {
            self.coarsely(go)?;
        }
        let (pieces, bars) = (self.model.counts(), self.model.bars());
        let mut master = Master::new(&self.model, &self.columns, Aim::Cost, &pieces, &bars);
        if !self.worth.is_empty() {
            master.begin_at(self.worth.clone());
        }
        let choice = Choice { cost: self.choice.cost.clone(), most: self.choice.most.clone() };
        let mut rounds = 8;
        loop {
            let mut bound = self.bound;
            let mut last: Option<Cut> = None;
            let (mut turn, mut enough) = (0, true);
            let grown = master.grow(&mut self.shop(go), &pieces, &mut |master, cut| {
                let least = choice.least_in_parts(cut);
                let better = least.is_none_or(|l| l > bound);
                if better || last.is_none() {
                    last = Some(cut.clone());
                }
                bound = bound.max(least.unwrap_or(0));
                // A bound that rounding up brings to the cost in parts is as good as it gets.
                turn += 1;
                enough = turn < rounds;
                if !enough || bound as f64 >= master.cost() - 1e-6 {
                    return Look::Enough;
                }
                if better { Look::Better } else { Look::On }
            });
            self.bound = bound;
            if enough || grown.is_err() {
                self.cuts.extend(last);
            }
            let parts: Vec<(usize, f64)> = master.used().collect();
            self.useful.extend(parts.iter().map(|p| p.0));
            self.worth = master.worth(&self.model);
            for plan in rounded(&self.shop(go), &parts) {
                self.offer(plan);
            }
            grown?;
            if enough {
                break;
            }
            rounds *= 2;
        }
        if self.settled() {
            return Ok(Stage::Done);
        }
        let style = Style { chance: 0, turns_back: 0, one_by_one: false };
        let dived = dive(&mut self.shop(go), master.clone(), &pieces, &bars, &style)?;
        self.offer_dived(&dived, go);
        if self.settled() {
            return Ok(Stage::Done);
        }
        self.shape(&mut master, go)?;
        Ok(Stage::Counts)
    }

    /// A first plan, and what pieces are worth, from lengths brought together.
    fn coarsely(&mut self, go: Go) -> Result<(), Stopped> {
        let grouped = grouped(&self.problem, &self.model);
        let Ok(mut coarse) = Planner::new(&grouped) else { return Ok(()) };
        coarse.patterns(go)?;
        if coarse.best.missing() > 0 {
            return Ok(());
        }
        let bars = true_bars(&self.model, &coarse.best, &grouped.pieces);
        for (column, _) in &bars {
            self.columns.add(column.clone());
        }
        if let Some(plan) = self.model.plan(&self.problem, &bars) {
            self.offer(plan);
        }
        let pool = coarse.pool();
        let worth = self.model.items.iter().map(|i| pool.worth(i.piece.length));
        self.worth = worth.collect::<Option<_>>().unwrap_or_default();
        Ok(())
    }

    /// Cuts from prices that are a little other than they are: they tell apart counts that cost nearly the same.
    fn shape(&mut self, master: &mut Master, go: Go) -> Result<(), Stopped> {
        let lines = self.model.lines.len();
        let dearest = self.choice.cost.iter().copied().max().unwrap_or(1).max(1) as f64;
        let own: Vec<f64> = self.choice.cost.iter().map(|c| *c as f64 / dearest).collect();
        let priced: Vec<usize> = (0..lines).filter(|&j| self.choice.cost[j] > 0).collect();
        if priced.len() < 2 {
            return Ok(());
        }
        let pieces = self.model.counts();
        for by in [0.98, 1.02] {
            for &j in &priced {
                let mut prices = own.clone();
                prices[j] *= by;
                master.price(&self.columns, &prices);
                let mut last = None;
                let mut shop = self.shop(go);
                master.grow(&mut shop, &pieces, &mut |_, cut| {
                    last = Some(cut.clone());
                    Look::On
                })?;
                self.useful.extend(master.used().map(|u| u.0));
                if let Some(cut) = last.filter(|cut| !self.cuts.contains(cut)) {
                    self.learn(&cut);
                    self.cuts.push(cut);
                }
            }
        }
        Ok(())
    }

    /// No count of bars whose looking into was given up costs less.
    fn given_up(&self) -> u64 {
        let open = self.not.iter().filter(|(_, proven)| !**proven);
        open.map(|(y, _)| self.choice.cost(y)).min().unwrap_or(u64::MAX)
    }

    /// All counts of bars that cost less than `cost` have been looked at.
    fn reach(&mut self, cost: u64) {
        self.reached = self.reached.max(cost);
        self.bound = self.bound.max(self.reached.min(self.given_up()));
    }

    fn counts(&mut self, go: Go) -> Result<Stage, Stopped> {
        if self.settled() {
            return Ok(Stage::Done);
        }
        if self.not.len() > PASSED_OVER {
            return Ok(Stage::Again);
        }
        let not: BTreeSet<Vec<u64>> = self.not.keys().cloned().collect();
        let known = self.bound.max(self.reached);
        // Where no plan has every piece, all the bars there are cost no more than this.
        let each = self.choice.cost.iter().zip(&self.choice.most);
        let all = each.fold(1_u64, |sum, (c, n)| sum.saturating_add(c.saturating_mul(*n)));
        let below = self.cost().min(all);
        let found = self.choice.least(&self.cuts, &not, known, below, self.effort, go)?;
        match found {
            Found::Nothing => {
                self.reach(self.cost());
                Ok(Stage::Again)
            }
            Found::Open(cost, some) => {
                self.reach(cost);
                self.effort *= 4;
                if let Some(y) = some {
                    self.look_into(&y, go)?;
                }
                Ok(if self.effort > MOST_BOXES { Stage::Again } else { Stage::Counts })
            }
            Found::Least(y, cost) => {
                self.reach(cost);
                self.look_into(&y, go)?;
                Ok(Stage::Counts)
            }
        }
    }

    /// Looks for a plan from so many bars of each line: there is one, or a cut says that there is none, or they are
    /// passed over.
    fn look_into(&mut self, y: &[u64], go: Go) -> Result<(), Stopped> {
        let pieces = self.model.counts();
        let mut master = Master::new(&self.model, &self.columns, Aim::Missing, &pieces, y);
        let mut short: Option<Cut> = None;
        master.grow(&mut self.shop(go), &pieces, &mut |_, cut| {
            if cut.short(y) > 0 {
                short = Some(cut.clone());
                return Look::Enough;
            }
            Look::On
        })?;
        if let Some(cut) = short {
            self.cuts.push(cut);
            return Ok(());
        }
        self.useful.extend(master.used().map(|u| u.0));
        let cost = self.choice.cost(y);
        let mut proven = false;
        if master.missing(&self.model) < 1e-6 {
            for k in 0..DIVES {
                let style =
                    Style { chance: k, turns_back: if k == 0 { 6 } else { 3 }, one_by_one: false };
                let dived = dive(&mut self.shop(go), master.clone(), &pieces, y, &style)?;
                self.offer_dived(&dived, go);
                if self.cost() <= cost {
                    return Ok(());
                }
            }
            proven = self.exhaust(y, 1, go)?;
        }
        if self.cost() > cost {
            self.not.insert(y.to_vec(), proven);
        }
        Ok(())
    }

    /// Looks through every pattern for bars that may hold all pieces; true when it is proven that they do not.
    fn exhaust(&mut self, y: &[u64], effort: usize, go: Go) -> Result<bool, Stopped> {
        // What can be held narrows patterns down in a way that filled-up ones do not know.
        if self.model.items.iter().any(|i| i.piece.length < self.problem.hold) {
            return Ok(false);
        }
        let cuts = std::mem::take(&mut self.cuts);
        let looked = every(&self.shop(go), y, &cuts, effort);
        self.cuts = cuts;
        match looked? {
            Every::None => return Ok(true),
            Every::Plan(bars) => {
                if let Some(plan) = self.model.plan(&self.problem, &bars) {
                    self.offer(plan);
                }
            }
            Every::Unknown => {}
        }
        Ok(false)
    }

    /// Counts that were passed over are looked into again, the cheapest first, with more effort each time.
    fn again(&mut self, go: Go) -> Result<Stage, Stopped> {
        let open = self.not.iter().filter(|(_, proven)| !**proven);
        let cheapest = open.map(|(y, _)| (self.choice.cost(y), y.clone())).min();
        let Some((cost, y)) = cheapest.filter(|_| !self.settled() && self.again < AGAIN) else {
            return Ok(Stage::Done);
        };
        if cost >= self.cost() {
            self.reach(self.reached);
            return Ok(Stage::Done);
        }
        self.again *= 4;
        if self.exhaust(&y, self.again, go)? {
            self.not.insert(y, true);
            self.reach(self.reached);
            self.again = 1;
        }
        Ok(Stage::Again)
    }

    /// Fewer patterns for the same cost: the search takes so many steps at the most, a million of which are some fifty
    /// milliseconds. Worth while when [`Planner::run`] is done.
    pub fn tidy(&mut self, steps: usize, go_on: &dyn Fn() -> bool) {
        // What was found before it was stopped is kept.
        let _ = self.tidied(steps, go_on);
    }

    fn tidied(&mut self, steps: usize, go: Go) -> Result<(), Stopped> {
        let bars = self.model.columns(&self.best);
        let mut y = vec![0; self.model.lines.len()];
        for (column, n) in &bars {
            y[column.line] += n;
        }
        if self.best.missing() > 0
            || bars.len() < 2
            || y.iter().zip(&self.choice.most).any(|(y, m)| y > m)
        {
            return Ok(());
        }
        self.offer_fewer(&bars, steps / 2, go);
        let pieces = self.model.counts();
        let mut master = Master::new(&self.model, &self.columns, Aim::Missing, &pieces, &y);
        master.grow(&mut self.shop(go), &pieces, &mut |_, _| Look::On)?;
        for k in 0..OTHERS {
            let style = Style { chance: k, turns_back: 0, one_by_one: true };
            let dived = dive(&mut self.shop(go), master.clone(), &pieces, &y, &style)?;
            if let Dive::Whole(bars) = dived {
                self.offer_fewer(&bars, steps / (2 * OTHERS as usize), go);
            }
        }
        Ok(())
    }

    fn offer_fewer(&mut self, bars: &Bars, steps: usize, go: Go) {
        let bars = fewer(&self.problem, &self.model, bars, steps, go);
        if let Some(plan) = self.model.plan(&self.problem, &bars) {
            self.offer(plan);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Demand, StockLine};

    fn line(length: u64, cost: u64, available: Option<u32>) -> StockLine {
        StockLine { available, ..StockLine::new(length, cost) }
    }

    fn planned(problem: &Problem) -> Planner {
        let mut planner = Planner::new(problem).unwrap();
        assert!(planner.run(&|| true));
        planner
    }

    #[test]
    fn a_perfect_fit_that_first_fit_misses_is_found_and_proven() {
        // By hand: 6+4, 6+4, 3+3+3 in two bars of 10 and one of 9 cost 29; first fit opens dearer ones.
        let problem = Problem {
            stock: vec![line(10, 10, None), line(9, 9, None)],
            pieces: [(6, 2), (4, 2), (3, 3)]
                .map(|(length, count)| Demand::new(length, count))
                .into(),
            ..Problem::default()
        };
        let planner = planned(&problem);
        assert_eq!((planner.best().cost(&problem), planner.proven()), (29, true));
    }

    #[test]
    fn bars_that_run_out_leave_pieces_over_and_nothing_proven() {
        let problem = Problem {
            stock: vec![line(10, 1, Some(2))],
            pieces: vec![Demand::new(6, 3)],
            ..Problem::default()
        };
        let planner = planned(&problem);
        assert_eq!(
            (planner.best().left_over.clone(), planner.proven()),
            (vec![(6.into(), 1)], false)
        );
    }

    #[test]
    fn few_bars_are_enough_when_they_are_filled_well() {
        // First fit puts 5+4 together and is then short of a bar; 5+5, 4+3+3 fit both.
        let problem = Problem {
            stock: vec![line(10, 7, Some(2))],
            pieces: [(5, 2), (4, 1), (3, 2)]
                .map(|(length, count)| Demand::new(length, count))
                .into(),
            ..Problem::default()
        };
        let planner = planned(&problem);
        assert_eq!((planner.best().missing(), planner.proven()), (0, true));
    }

    #[test]
    fn a_thousand_million_pieces_are_planned_and_proven() {
        let problem = Problem {
            kerf: 30,
            stock: vec![line(24_000, 729, None), line(48_000, 1_500, None)],
            pieces: vec![Demand::new(7_000, 999_999_999), Demand::new(100, 1)],
            ..Problem::default()
        };
        let planner = planned(&problem);
        assert_eq!((planner.best().cost(&problem), planner.proven()), (333_333_333 * 729, true));
    }

    #[test]
    fn stopped_at_any_moment_it_has_a_plan_and_goes_on_from_there() {
        let lengths = [2_308, 2_224, 1_968, 1_038, 562, 362, 180];
        let problem = Problem {
            kerf: 3,
            stock: vec![line(2_400, 729, None), line(3_000, 863, None), line(4_800, 1_585, None)],
            pieces: lengths.map(|length| Demand::new(length, 9)).into(),
            ..Problem::default()
        };
        let whole = planned(&problem);
        let mut planner = Planner::new(&problem).unwrap();
        let mut bound = 0;
        for turns in 1..200 {
            let left = std::cell::Cell::new(turns);
            planner.run(&|| {
                left.set(left.get() - 1);
                left.get() > 0
            });
            assert!(planner.bound() >= bound && planner.bound() <= planner.best().cost(&problem));
            bound = planner.bound();
            assert_eq!(planner.best().missing(), 0);
        }
        assert!(planner.run(&|| true));
        assert_eq!(planner.best().cost(&problem), whole.best().cost(&problem));
        assert!(planner.proven() && whole.proven());
    }

    #[test]
    fn nothing_to_cut_and_nothing_to_cut_it_from() {
        assert!(planned(&Problem::default()).proven());
        let problem = Problem { pieces: vec![Demand::new(6, 3)], ..Problem::default() };
        assert_eq!(planned(&problem).best().missing(), 3);
    }
}
