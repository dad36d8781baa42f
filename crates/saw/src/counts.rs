//! How many bars of each line: the least that the bars can cost when nothing is asked of them but that their worth,
//! by several sets of values, is at least that of the pieces. What is claimed here is claimed in whole numbers.
//!
//! Give every piece a whole-number value. The pieces on one bar of line j are worth at most F(j), so y(j) bars of each
//! line can only hold them all when the sum of F(j)·y(j) is no less than what all pieces are worth: a *cut*.
//! Whole y that satisfy every cut are looked for, the cheapest first, by branching on a linear relaxation whose
//! duals are turned into whole numbers before anything is ruled out by them.

use std::cmp::Ordering;
use std::collections::{BTreeSet, BinaryHeap};

use crate::Go;
use crate::lp::Stopped;
use crate::sums::Sums;

/// What bars must be worth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cut {
    /// What one bar of each line is worth at most.
    pub(crate) gives: Vec<i64>,
    /// What the pieces are worth.
    pub(crate) needs: i128,
    /// What one piece of each item is worth; empty where that is not known.
    pub(crate) values: Vec<i32>,
}

impl Cut {
    /// What so many bars of each line fall short.
    pub(crate) fn short(&self, bars: &[u64]) -> i128 {
        let sum: i128 =
            self.gives.iter().zip(bars).map(|(f, y)| i128::from(*f) * i128::from(*y)).sum();
        self.needs - sum
    }
}

impl Cut {
    /// The cut divided by `by` and rounded so that it still holds for whole bars: with every worth `q·by + r` and the need
    /// `n·by + rest`, the sum of `q·rest + min(r, rest)` is at least `rest·(n + 1)`.
    fn rounded(&self, by: i64) -> Option<Cut> {
        if by < 2 || self.needs <= 0 {
            return None;
        }
        let rest = i64::try_from(self.needs % i128::from(by)).ok()?;
        let needs = i128::from(rest) * (self.needs / i128::from(by) + 1);
        let gives: Option<Vec<i64>> = self
            .gives
            .iter()
            .map(|f| (f / by).checked_mul(rest)?.checked_add((f % by).min(rest)))
            .collect();
        (rest > 0).then_some(Cut { gives: gives?, needs, values: Vec::new() })?.small()
    }

    /// The same in numbers that leave room to reckon: rounded up on the one side and down on the other.
    fn small(self) -> Option<Cut> {
        let most = self.gives.iter().copied().max().unwrap_or(0);
        let by = (most >> 30) + 1;
        Some(Cut {
            gives: self.gives.iter().map(|f| f / by + i64::from(f % by > 0)).collect(),
            needs: self.needs / i128::from(by),
            values: Vec::new(),
        })
    }
}

/// The cuts added up, so many times each.
fn sum(cuts: &[Cut], times: &[i128]) -> Option<Cut> {
    let lines = cuts.first()?.gives.len();
    let largest = times.iter().copied().max().unwrap_or(0);
    let by = (largest >> 30) + 1;
    let mut gives = vec![0_i128; lines];
    let mut needs = 0_i128;
    for (cut, times) in cuts.iter().zip(times) {
        let times = times / by;
        for (sum, f) in gives.iter_mut().zip(&cut.gives) {
            *sum = sum.checked_add(times.checked_mul(i128::from(*f))?)?;
        }
        needs = needs.checked_add(times.checked_mul(cut.needs)?)?;
    }
    let most = gives.iter().copied().max().unwrap_or(0);
    let by = (most >> 30) + 1;
    let gives = gives.iter().map(|f| i64::try_from(f / by + i128::from(f % by > 0)).ok());
    let gives = gives.collect::<Option<Vec<i64>>>()?;
    Some(Cut { gives, needs: needs / by, values: Vec::new() })
}

/// Bars to choose from.
pub(crate) struct Choice {
    pub(crate) cost: Vec<u64>,
    /// How many there are of each line.
    pub(crate) most: Vec<u64>,
}

/// What was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Found {
    /// No others that satisfy the cuts cost less.
    Least(Vec<u64>, u64),
    /// None that satisfy the cuts cost less than was asked.
    Nothing,
    /// It took too long; none cost less than this, and these satisfy the cuts.
    Open(u64, Option<Vec<u64>>),
}

/// How often cuts are rounded, and how many are kept each time.
const ROUNDS: usize = 8;
const AT_ONCE: usize = 4;

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl Choice {
    /// Every sum of prices is a multiple of this.
    fn unit(&self) -> u64 {
        self.cost.iter().fold(0, |g, c| gcd(g, *c)).max(1)
    }

    pub(crate) fn cost(&self, bars: &[u64]) -> u64 {
        self.cost.iter().zip(bars).map(|(c, y)| c * y).sum()
    }

    /// The least that any bars cost that satisfy the cut, were they to be had in parts; `None` when all there are do
    /// not satisfy it.
    pub(crate) fn least_in_parts(&self, cut: &Cut) -> Option<u64> {
        let mut order: Vec<usize> = (0..self.cost.len()).filter(|&j| cut.gives[j] > 0).collect();
        order.sort_by(|&a, &b| {
            let left = u128::from(self.cost[a]) * cut.gives[b] as u128;
            left.cmp(&(u128::from(self.cost[b]) * cut.gives[a] as u128))
        });
        let mut needs = cut.needs;
        let mut cost = 0_u128;
        for j in order {
            if needs <= 0 {
                break;
            }
            let all = i128::from(cut.gives[j]) * i128::from(self.most[j]);
            if all < needs {
                cost += u128::from(self.cost[j]) * u128::from(self.most[j]);
            } else {
                cost += (u128::from(self.cost[j]) * needs as u128).div_ceil(cut.gives[j] as u128);
            }
            needs -= all;
        }
        (needs <= 0).then(|| (cost as u64).next_multiple_of(self.unit()))
    }

    /// The cheapest bars of those that satisfy every cut, are none of `not` and cost less than `below`; of equal cost
    /// any. `known` is a cost that none can be under. The more `effort`, the longer it may take.
    pub(crate) fn least(
        &self,
        cuts: &[Cut],
        not: &BTreeSet<Vec<u64>>,
        known: u64,
        below: u64,
        effort: usize,
        go: Go,
    ) -> Result<Found, Stopped> {
        let mut known = known;
        let mut some = None;
        let mut cuts = cuts.to_vec();
        self.round(&mut cuts);
        let cuts = &cuts;
        // By sums and by branching in turn, each a little longer than the last time.
        for (sums, boxes) in [(30_000, 500), (100 * effort, effort)] {
            let found = self.by_sums(cuts, not, known, below, sums, go)?;
            match found {
                Found::Open(open, _) => known = known.max(open),
                found => return Ok(found),
            }
            match self.by_boxes(cuts, not, known, below, boxes, go)? {
                Found::Open(open, found) => {
                    known = known.max(open);
                    some = found.or(some);
                }
                found => return Ok(found),
            }
        }
        Ok(Found::Open(known, some))
    }

    /// Adds what the cuts imply for whole bars: a cut divided by some worth and rounded
    /// (mixed integer rounding, G. L. Nemhauser and L. A. Wolsey, 1990), where it cuts off what the relaxation comes to.
    fn round(&self, cuts: &mut Vec<Cut>) {
        let low = vec![0; self.most.len()];
        for _ in 0..ROUNDS {
            let relaxation = Relaxation::new(self, cuts);
            let (_, parts, times) = relaxation.solve(&low, &self.most);
            let broken: Vec<usize> =
                (0..parts.len()).filter(|&j| (parts[j] - parts[j].round()).abs() > 1e-6).collect();
            let mut found: Vec<(f64, Cut)> = Vec::new();
            for row in cuts.iter().cloned().chain(sum(cuts, &times)) {
                for &j in &broken {
                    for part in 1..=3 {
                        let Some(cut) = row.rounded(row.gives[j] / part) else { continue };
                        let worth: f64 =
                            cut.gives.iter().zip(&parts).map(|(f, p)| *f as f64 * p).sum();
                        let short = 1.0 - worth / cut.needs as f64;
                        if short > 1e-6 {
                            found.push((short, cut));
                        }
                    }
                }
            }
            if found.is_empty() {
                break;
            }
            found.sort_by(|a, b| b.0.total_cmp(&a.0));
            found.dedup_by(|a, b| a.1 == b.1);
            found.truncate(AT_ONCE);
            cuts.extend(found.into_iter().map(|f| f.1));
        }
    }

    fn by_sums(
        &self,
        cuts: &[Cut],
        not: &BTreeSet<Vec<u64>>,
        known: u64,
        below: u64,
        nodes: usize,
        go: Go,
    ) -> Result<Found, Stopped> {
        if cuts.iter().any(|cut| cut.short(&self.most) > 0) {
            return Ok(Found::Nothing);
        }
        let relaxation = Relaxation::new(self, cuts);
        let low = vec![0; self.most.len()];
        let (least, _, times) = relaxation.solve(&low, &self.most);
        let known = known.max(least);
        match Sums::new(self, cuts, not, &times, relaxation.part) {
            Some(mut sums) => sums.find(known, below, self.unit(), nodes, go),
            None => Ok(Found::Open(known, None)),
        }
    }

    /// The same by branching. Ends as soon as some are found that cost no more than `known`; looks at so many boxes at
    /// the most.
    fn by_boxes(
        &self,
        cuts: &[Cut],
        not: &BTreeSet<Vec<u64>>,
        known: u64,
        below: u64,
        boxes: usize,
        go: Go,
    ) -> Result<Found, Stopped> {
        let unit = self.unit();
        let relaxation = Relaxation::new(self, cuts);
        let mut best: Option<(u64, Vec<u64>)> = None;
        let mut heap = BinaryHeap::new();
        let top: Vec<u64> = (0..self.cost.len())
            .map(|j| match self.cost[j] {
                0 => self.most[j],
                cost => self.most[j].min((below.max(1) - 1) / cost),
            })
            .collect();
        // Of what costs nothing all there is may as well be used.
        let low = top.iter().zip(&self.cost).map(|(n, c)| if *c == 0 { *n } else { 0 }).collect();
        heap.push(Node { least: known, depth: 0, low, high: top });
        let mut seen = 0_usize;
        while let Some(node) = heap.pop() {
            let limit = best.as_ref().map_or(below, |b| b.0);
            if node.least >= limit || limit <= known {
                break;
            }
            seen += 1;
            if seen > boxes {
                return Ok(Found::Open(node.least.min(limit), best.map(|b| b.1)));
            }
            if seen.is_multiple_of(32) && !go() {
                return Err(Stopped);
            }
            if cuts.iter().any(|cut| cut.short(&node.high) > 0) {
                continue;
            }
            let (least, parts, _) = relaxation.solve(&node.low, &node.high);
            let least = least.next_multiple_of(unit).max(node.least);
            if least >= limit {
                continue;
            }
            let satisfied = |y: &[u64]| cuts.iter().all(|cut| cut.short(y) <= 0);
            let within = |y: &[u64]| {
                y.iter().zip(&node.low).zip(&node.high).all(|((y, l), h)| (l..=h).contains(&y))
            };
            let whole = |up: f64| -> Vec<u64> {
                let each = parts.iter().zip(&node.low).zip(&node.high);
                each.map(|((p, l), h)| ((p + up).floor().max(0.0) as u64).clamp(*l, *h)).collect()
            };
            for y in [whole(0.5), whole(1.0 - 1e-6)] {
                let cost = self.cost(&y);
                if cost < best.as_ref().map_or(below, |b| b.0)
                    && within(&y)
                    && satisfied(&y)
                    && !not.contains(&y)
                {
                    best = Some((cost, y));
                }
            }
            let apart = |j: &usize| (parts[*j] - parts[*j].round()).abs();
            let loose = (0..parts.len()).filter(|&j| node.low[j] < node.high[j]);
            let Some(j) = loose.max_by(|a, b| apart(a).total_cmp(&apart(b))) else {
                continue;
            };
            let mut split = |low: u64, high: u64| {
                if low <= high {
                    let mut node = node.clone();
                    (node.least, node.depth) = (least, node.depth + 1);
                    (node.low[j], node.high[j]) = (low, high);
                    heap.push(node);
                }
            };
            let (low, high) = (node.low[j], node.high[j]);
            if apart(&j) > 1e-6 {
                let at = (parts[j].floor().max(0.0) as u64).clamp(low, high - 1);
                split(low, at);
                split(at + 1, high);
            } else {
                let at = (parts[j].round().max(0.0) as u64).clamp(low, high);
                split(at, at);
                if at > low {
                    split(low, at - 1);
                }
                split(at + 1, high);
            }
        }
        Ok(best.map_or(Found::Nothing, |(cost, bars)| Found::Least(bars, cost)))
    }
}

/// Bars between so many and so many of each line, none of which cost less than `least`.
#[derive(Clone, PartialEq, Eq)]
struct Node {
    least: u64,
    depth: u32,
    low: Vec<u64>,
    high: Vec<u64>,
}

impl Ord for Node {
    /// The cheapest first; of those the deepest.
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .least
            .cmp(&self.least)
            .then(self.depth.cmp(&other.depth))
            .then_with(|| self.low.cmp(&other.low))
            .then_with(|| self.high.cmp(&other.high))
    }
}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The linear relaxation over a box, solved by way of its dual: the greatest Σ λ·needs − Σ μ·width with
/// Σ λ·gives(j) − μ(j) ≤ cost(j). It begins with all of them 0, which is always allowed.
struct Relaxation<'a> {
    choice: &'a Choice,
    cuts: &'a [Cut],
    /// The greatest of each cut's `gives`, and the dearest bar: what numbers are measured in.
    measure: Vec<f64>,
    dearest: f64,
    /// Whole duals are in this part of a cost.
    part: i128,
}

impl Relaxation<'_> {
    fn new<'a>(choice: &'a Choice, cuts: &'a [Cut]) -> Relaxation<'a> {
        let most = |cut: &Cut| cut.gives.iter().copied().max().unwrap_or(0).max(1) as f64;
        let dearest = choice.cost.iter().copied().max().unwrap_or(0).max(1);
        Relaxation {
            choice,
            cuts,
            measure: cuts.iter().map(most).collect(),
            dearest: dearest as f64,
            part: ((1_u128 << 60) / u128::from(dearest)).max(1) as i128,
        }
    }

    /// A cost that no bars in the box that satisfy the cuts are under, proven; and bars in parts that come near it.
    fn solve(&self, low: &[u64], high: &[u64]) -> (u64, Vec<f64>, Vec<i128>) {
        let (lines, cuts) = (low.len(), self.cuts.len());
        let width = cuts + 2 * lines + 1;
        let mut table = vec![0.0; (lines + 1) * width];
        for j in 0..lines {
            let row = &mut table[j * width..(j + 1) * width];
            for (k, cut) in self.cuts.iter().enumerate() {
                row[k] = cut.gives[j] as f64 / self.measure[k];
            }
            row[cuts + j] = -1.0;
            row[cuts + lines + j] = 1.0;
            row[width - 1] = self.choice.cost[j] as f64 / self.dearest;
        }
        let needs: Vec<i128> = self.cuts.iter().map(|cut| cut.short(low)).collect();
        let top = lines * width;
        for k in 0..cuts {
            table[top + k] = -(needs[k] as f64) / self.measure[k];
        }
        for j in 0..lines {
            table[top + cuts + j] = (high[j] - low[j]) as f64;
        }
        let mut basis: Vec<usize> = (cuts + lines..cuts + 2 * lines).collect();
        for turn in 0..200 + 20 * lines {
            // Late turns take the first column that will do, which goes round no circles.
            let objective = &table[top..top + width - 1];
            let column = if turn < 100 + 10 * lines {
                let least = (0..width - 1).min_by(|&a, &b| objective[a].total_cmp(&objective[b]));
                least.filter(|&c| objective[c] < -1e-9)
            } else {
                objective.iter().position(|o| *o < -1e-9)
            };
            let Some(column) = column else { break };
            let ratio = |j: &usize| table[j * width + width - 1] / table[j * width + column];
            let rows = (0..lines).filter(|j| table[j * width + column] > 1e-10);
            let nearest = rows.min_by(|a, b| {
                ratio(a).total_cmp(&ratio(b)).then_with(|| basis[*a].cmp(&basis[*b]))
            });
            let Some(row) = nearest else { break };
            let by = 1.0 / table[row * width + column];
            let lead: Vec<f64> =
                table[row * width..(row + 1) * width].iter().map(|t| t * by).collect();
            for j in (0..=lines).filter(|j| *j != row) {
                let times = table[j * width + column];
                if times != 0.0 {
                    for (t, l) in table[j * width..(j + 1) * width].iter_mut().zip(&lead) {
                        *t -= times * l;
                    }
                }
            }
            table[row * width..(row + 1) * width].copy_from_slice(&lead);
            basis[row] = column;
        }
        let parts = (0..lines)
            .map(|j| low[j] as f64 + table[top + cuts + lines + j].max(0.0))
            .map(|p| if p.is_finite() { p } else { 0.0 })
            .collect();
        let mut times = vec![0_i128; cuts];
        for (row, &column) in basis.iter().enumerate() {
            if column < cuts {
                let scale = self.part as f64 * self.dearest / self.measure[column];
                let dual = (table[row * width + width - 1] * scale).clamp(0.0, 2.0_f64.powi(62));
                times[column] = dual as i128;
            }
        }
        (self.proven(&times, &needs, low, high), parts, times)
    }

    /// What the cuts, taken so many times each, prove of a box: whole numbers only.
    fn proven(&self, times: &[i128], needs: &[i128], low: &[u64], high: &[u64]) -> u64 {
        let mut sum = Some(0_i128);
        for (t, n) in times.iter().zip(needs) {
            sum = sum.and_then(|s| s.checked_add(t.checked_mul(*n)?));
        }
        for j in 0..low.len() {
            let cost = self.part * i128::from(self.choice.cost[j]);
            let gives = self.cuts.iter().zip(times).try_fold(0_i128, |sum, (cut, t)| {
                sum.checked_add(t.checked_mul(i128::from(cut.gives[j]))?)
            });
            let saved = gives.map(|g| (cost - g).min(0));
            let width = i128::from(high[j] - low[j]);
            sum = sum.and_then(|s| s.checked_add(saved?.checked_mul(width)?));
        }
        // An overflow proves nothing beyond what the box costs at its low end.
        let above = sum.unwrap_or(0).max(0);
        let above = above / self.part + i128::from(above % self.part > 0);
        self.choice.cost(low) + u64::try_from(above).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn go() -> bool {
        true
    }

    /// Every count of bars tried.
    fn by_hand(choice: &Choice, cuts: &[Cut], not: &BTreeSet<Vec<u64>>) -> Option<u64> {
        let mut all: Vec<Vec<u64>> = vec![Vec::new()];
        for most in &choice.most {
            all = all
                .iter()
                .flat_map(|y| (0..=*most).map(|n| [y.clone(), vec![n]].concat()))
                .collect();
        }
        let good = |y: &Vec<u64>| !not.contains(y) && cuts.iter().all(|c| c.short(y) <= 0);
        all.iter().filter(|y| good(y)).map(|y| choice.cost(y)).min()
    }

    #[test]
    fn the_least_cost_is_that_of_trying_everything() {
        let mut seed = 11_u64;
        let mut random = |below: u64| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % below
        };
        for _ in 0..400 {
            let lines = 1 + random(4) as usize;
            let choice = Choice {
                cost: (0..lines).map(|_| 1 + random(40)).collect(),
                most: (0..lines).map(|_| random(6)).collect(),
            };
            let cuts: Vec<Cut> = (0..1 + random(4))
                .map(|_| Cut {
                    gives: (0..lines).map(|_| random(1_000_000) as i64).collect(),
                    needs: i128::from(random(5_000_000)),
                    values: Vec::new(),
                })
                .collect();
            let mut not = BTreeSet::new();
            for _ in 0..4 {
                let found = choice.by_boxes(&cuts, &not, 0, 1_000, 100_000, &go).unwrap();
                let sums = choice.by_sums(&cuts, &not, 0, 1_000, 1_000_000, &go).unwrap();
                let cost = |found: &Found| match found {
                    Found::Least(_, cost) => Some(*cost),
                    _ => None,
                };
                assert_eq!(cost(&sums), cost(&found));
                let least = by_hand(&choice, &cuts, &not);
                for cut in &cuts {
                    let parts = choice.least_in_parts(cut);
                    assert!(parts.is_some() || least.is_none());
                    assert!(least.is_none_or(|l| parts.is_none_or(|p| p <= l)));
                }
                match found {
                    Found::Least(y, cost) => {
                        assert_eq!((Some(cost), choice.cost(&y)), (least, cost));
                        assert!(cuts.iter().all(|c| c.short(&y) <= 0));
                        assert!(not.insert(y));
                    }
                    other => {
                        assert_eq!((other, least), (Found::Nothing, None));
                        break;
                    }
                }
            }
        }
    }

    #[test]
    fn stopping_early_claims_no_more_than_is_known() {
        let choice = Choice { cost: vec![97, 101, 103], most: vec![100; 3] };
        let cuts = [Cut { gives: vec![970, 1_011, 1_029], needs: 40_017, values: Vec::new() }];
        let Found::Open(bound, _) =
            choice.by_boxes(&cuts, &BTreeSet::new(), 0, 1 << 40, 1, &go).unwrap()
        else {
            panic!("one box is not enough");
        };
        let Found::Least(_, least) =
            choice.least(&cuts, &BTreeSet::new(), 0, 1 << 40, 10_000, &go).unwrap()
        else {
            panic!("there is a least");
        };
        assert!(bound <= least);
    }
}
