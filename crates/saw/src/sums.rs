//! Counts of bars whose prices add up to exactly so much: cost by cost, every one that could satisfy the cuts.
//!
//! Where many lines are of nearly the same price for their length, branching goes through an ocean of counts that differ
//! by a penny, because parts of a penny are no bar to it. Here the sum is kept whole. The cuts, added up in the
//! proportions of their duals, are one cut; a bar *loses* what it costs beyond its worth by that cut, and counts that cost t
//! may lose no more than t is above the bound of the relaxation. The least loss with which some lines can
//! bring the sum to a remainder of one line's price is a table so small that it is filled at once
//! (after R. E. Gomory, “On the relation between integer and noninteger solutions to linear programs”, 1965).

use std::collections::BTreeSet;

use crate::Go;
use crate::counts::{Choice, Cut, Found};
use crate::lp::Stopped;

/// A line whose count is still to be chosen: so many from where it begins, up or down.
struct Free {
    line: usize,
    /// It begins with all there are and goes down, because every bar not used loses something.
    down: bool,
    most: u64,
    loses: i128,
}

pub(crate) struct Sums<'a> {
    choice: &'a Choice,
    cuts: &'a [Cut],
    not: &'a BTreeSet<Vec<u64>>,
    /// Lines in the order they are chosen in; the last is the one remainders are of.
    free: Vec<Free>,
    /// For the lines from each on: the least loss that brings what is still to pay to each remainder.
    least: Vec<Vec<i128>>,
    /// For the lines from each on and each cut: what a cost, and what may be lost, are worth at most.
    worth: Vec<Vec<Vec<Worth>>>,
    /// Of costs in the numbers that losses are in.
    part: i128,
    /// What the relaxation proves, in those numbers.
    proven: i128,
    nodes: usize,
}

/// No bars are worth more, in parts, than so much for each unit of cost and so much for each of what they lose.
#[derive(Clone, Copy)]
struct Worth {
    cost: i128,
    loss: i128,
}

/// Parts of a worth.
const PARTS: i128 = 1 << 40;

const NEVER: i128 = i128::MAX / 4;

impl<'a> Sums<'a> {
    /// `times`: how many times each cut is taken, for a cost in `part` parts. `None` where the numbers are too large.
    pub(crate) fn new(
        choice: &'a Choice,
        cuts: &'a [Cut],
        not: &'a BTreeSet<Vec<u64>>,
        times: &[i128],
        part: i128,
    ) -> Option<Sums<'a>> {
        let mut proven = 0_i128;
        for (t, cut) in times.iter().zip(cuts) {
            proven = proven.checked_add(t.checked_mul(cut.needs)?)?;
        }
        let mut free = Vec::new();
        for j in 0..choice.cost.len() {
            let mut gives = 0_i128;
            for (t, cut) in times.iter().zip(cuts) {
                gives = gives.checked_add(t.checked_mul(i128::from(cut.gives[j]))?)?;
            }
            let loses = part * i128::from(choice.cost[j]) - gives;
            let most = choice.most[j];
            if loses < 0 || choice.cost[j] == 0 {
                proven = proven.checked_add(loses.checked_mul(i128::from(most))?)?;
            }
            if choice.cost[j] > 0 && most > 0 {
                free.push(Free { line: j, down: loses < 0, most, loses: loses.abs() });
            }
        }
        free.sort_by_key(|f| (std::cmp::Reverse(f.loses), f.line));
        // Remainders are of a line that loses nothing and of which there are many.
        let best = (0..free.len()).max_by_key(|&k| (!free[k].down, free[k].most, k))?;
        let last = free.remove(best);
        free.push(last);
        let modulus = choice.cost[free[free.len() - 1].line] as usize;
        if modulus.checked_mul(free.len())? > 4_000_000 {
            return None;
        }
        let mut sums = Sums {
            choice,
            cuts,
            not,
            free,
            least: Vec::new(),
            worth: Vec::new(),
            part,
            proven,
            nodes: 0,
        };
        sums.fill(modulus);
        Some(sums)
    }

    fn fill(&mut self, modulus: usize) {
        let mut row = vec![NEVER; modulus];
        row[0] = 0;
        self.least = vec![row.clone()];
        self.worth = (0..self.free.len())
            .map(|k| self.cuts.iter().map(|cut| self.worth_of(k, cut)).collect())
            .collect();
        for (k, free) in self.free.iter().enumerate().rev() {
            let cost = self.choice.cost[free.line];
            if k + 1 == self.free.len() {
                continue;
            }
            // A bar more pays its cost, one less of a line that goes down asks for it back.
            let mut step = (cost % modulus as u64) as usize;
            if free.down {
                step = (modulus - step) % modulus;
            }
            let rings = gcd(step, modulus);
            for ring in 0..rings {
                let mut at = ring;
                for _ in 0..2 * (modulus / rings) {
                    let to = (at + step) % modulus;
                    let with = row[at] + free.loses;
                    if with < row[to] {
                        row[to] = with;
                    }
                    at = to;
                }
            }
            self.least.push(row.clone());
        }
        self.least.reverse();
    }

    /// What bars of the lines from `k` on can be worth by a cut: each line is a point, what it loses across and what it is
    /// worth up, both for its cost; no mixture of lines lies above the upper hull of the points.
    fn worth_of(&self, k: usize, cut: &Cut) -> Vec<Worth> {
        let lines = &self.free[k..];
        let point = |f: &Free| {
            let cost = self.choice.cost[f.line] as f64;
            let loses = if f.down { 0.0 } else { f.loses as f64 };
            (loses / cost, cut.gives[f.line] as f64 / cost)
        };
        let mut points: Vec<(f64, f64)> = lines.iter().map(point).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
        let mut hull: Vec<(f64, f64)> = Vec::new();
        for p in points {
            let under = |hull: &[(f64, f64)]| match hull {
                [.., a, b] => (b.1 - a.1) * (p.0 - a.0) <= (p.1 - a.1) * (b.0 - a.0),
                _ => false,
            };
            if hull.last().is_some_and(|h| h.1 >= p.1) {
                continue;
            }
            while under(&hull) {
                hull.pop();
            }
            hull.push(p);
        }
        let slopes = hull.windows(2).map(|w| (w[1].1 - w[0].1) / (w[1].0 - w[0].0)).chain([0.0]);
        let slopes = slopes.filter(|s| s.is_finite());
        slopes
            .map(|slope| {
                let loss = (slope * PARTS as f64) as i128;
                let cost = lines.iter().map(|f| {
                    let loses = if f.down { 0 } else { f.loses };
                    let above = i128::from(cut.gives[f.line]) * PARTS - loss.saturating_mul(loses);
                    let cost = i128::from(self.choice.cost[f.line]);
                    above.div_euclid(cost) + 1
                });
                Worth { cost: cost.max().unwrap_or(0).max(0), loss }
            })
            .collect()
    }

    /// Counts that satisfy every cut at the least cost from `from` on and under `below`, in steps of `unit`.
    pub(crate) fn find(
        &mut self,
        from: u64,
        below: u64,
        unit: u64,
        nodes: usize,
        go: Go,
    ) -> Result<Found, Stopped> {
        self.nodes = nodes;
        let mut cost = from.next_multiple_of(unit);
        while cost < below {
            let may_lose = self.part * i128::from(cost) - self.proven;
            let mut bars: Vec<u64> = self.choice.most.clone();
            for free in &self.free {
                bars[free.line] = 0;
            }
            // What lines that begin with all of them cost is paid from the start.
            let paid: u64 = self
                .free
                .iter()
                .filter(|f| f.down)
                .map(|f| f.most * self.choice.cost[f.line])
                .sum();
            let rest = i128::from(cost) - i128::from(paid);
            let given: Vec<i128> = self.cuts.iter().map(|cut| cut.short(&bars)).collect();
            if may_lose >= 0 && self.look(0, rest, cost, may_lose, &mut bars, &given, go)? {
                return Ok(Found::Least(bars, cost));
            }
            if self.nodes == 0 {
                return Ok(Found::Open(cost, None));
            }
            cost += unit;
        }
        Ok(Found::Nothing)
    }

    /// The lines from `k` on: `rest` is still to be paid when all that go down stay where they begin, `left` is
    /// what they may cost together, `short` what each cut still needs.
    #[allow(clippy::too_many_arguments)]
    fn look(
        &mut self,
        k: usize,
        rest: i128,
        left: u64,
        may_lose: i128,
        bars: &mut Vec<u64>,
        short: &[i128],
        go: Go,
    ) -> Result<bool, Stopped> {
        if k == self.free.len() {
            let good = left == 0 && short.iter().all(|s| *s <= 0) && !self.not.contains(bars);
            return Ok(good);
        }
        for (short, worth) in short.iter().zip(&self.worth[k]) {
            let out_of_reach = |w: &Worth| {
                let most = w
                    .cost
                    .checked_mul(i128::from(left))
                    .and_then(|cost| cost.checked_add(w.loss.checked_mul(may_lose)?));
                most.zip(short.checked_mul(PARTS)).is_some_and(|(most, short)| short > most)
            };
            if worth.iter().any(out_of_reach) {
                return Ok(false);
            }
        }
        let Free { line, down, most, loses } = self.free[k];
        let cost = self.choice.cost[line];
        let modulus = self.least[0].len() as i128;
        let last = k + 1 == self.free.len();
        let affords =
            may_lose.checked_div(loses).map_or(u64::MAX, |n| n.try_into().unwrap_or(u64::MAX));
        let highest = most.min(affords);
        // At most so many can be paid.
        let lowest = if down { most.saturating_sub(left / cost) } else { 0 };
        let tries = if last {
            // Only one count pays exactly.
            let n = if left.is_multiple_of(cost) { left / cost } else { return Ok(false) };
            let away = if down { most.checked_sub(n) } else { Some(n) };
            match away {
                Some(n) if n <= highest => n..=n,
                _ => return Ok(false),
            }
        } else {
            lowest..=highest
        };
        for n in tries {
            if self.nodes == 0 {
                return Ok(false);
            }
            self.nodes -= 1;
            if self.nodes.is_multiple_of(4_096) && !go() {
                return Err(Stopped);
            }
            let count = if down { most - n } else { n };
            let pays = i128::from(n) * i128::from(cost);
            let rest = if down { rest + pays } else { rest - pays };
            let Some(left) = left.checked_sub(count * cost) else { break };
            let may_lose = may_lose - i128::from(n) * loses;
            if may_lose < 0 {
                break;
            }
            if !last && self.least[k + 1][rest.rem_euclid(modulus) as usize] > may_lose {
                continue;
            }
            let short: Vec<i128> = short
                .iter()
                .zip(self.cuts)
                .map(|(s, cut)| s - i128::from(cut.gives[line]) * i128::from(count))
                .collect();
            bars[line] = count;
            if self.look(k + 1, rest, left, may_lose, bars, &short, go)? {
                return Ok(true);
            }
            bars[line] = 0;
        }
        Ok(false)
    }
}

fn gcd(a: usize, b: usize) -> usize {
    if b == 0 { a } else { gcd(b, a % b) }
}
