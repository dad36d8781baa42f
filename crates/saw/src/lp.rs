//! A linear programme in rows that are met exactly, no variable below zero: least cost. It guides and proves
//! nothing; what it says is checked in whole numbers by whoever asks.
//!
//! The inverse of the basis is kept dense: rows are as many as lengths of pieces and lines of stock, a few hundred at
//! the most.

use crate::Go;

/// Below this a number is nothing.
const TINY: f64 = 1e-9;
/// Pivots between two looks at whether the inverse is still good enough.
const FRESH: usize = 100;
/// An error that is not.
const DRIFT: f64 = 1e-8;
/// Columns that are tried before all are looked at again.
const FEW: usize = 16;
/// Pivots between two looks at whether to go on.
const LOOK: usize = 32;

/// The work was stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stopped;

#[derive(Clone)]
pub(crate) struct Lp {
    rows: usize,
    /// Entries of column c are those from `start[c]` to `start[c + 1]`.
    start: Vec<u32>,
    row: Vec<u32>,
    entry: Vec<f64>,
    cost: Vec<f64>,
    /// Columns that may enter.
    open: Vec<bool>,
    basic: Vec<bool>,
    rhs: Vec<f64>,
    basis: Vec<usize>,
    inverse: Vec<f64>,
    /// Values of the basic columns.
    pub(crate) x: Vec<f64>,
    /// What one more of each row would cost.
    pub(crate) dual: Vec<f64>,
    pivots: usize,
    chance: u64,
    edge: Vec<f64>,
    lead: Vec<f64>,
    some: Vec<u32>,
}

impl Lp {
    /// Rows only. The first columns to be added must be one for each row, each with a single entry of 1: with them
    /// it begins, so `rhs` must not be negative.
    pub(crate) fn new(rhs: &[f64]) -> Lp {
        let rows = rhs.len();
        Lp {
            rows,
            start: vec![0],
            row: Vec::new(),
            entry: Vec::new(),
            cost: Vec::new(),
            open: Vec::new(),
            basic: Vec::new(),
            rhs: rhs.to_vec(),
            basis: Vec::new(),
            inverse: Vec::new(),
            x: Vec::new(),
            dual: Vec::new(),
            pivots: 0,
            chance: 1,
            edge: vec![0.0; rows],
            lead: vec![0.0; rows],
            some: Vec::new(),
        }
    }

    pub(crate) fn columns(&self) -> usize {
        self.cost.len()
    }

    pub(crate) fn add(&mut self, entries: impl Iterator<Item = (usize, f64)>, cost: f64) -> usize {
        for (row, entry) in entries {
            self.row.push(row as u32);
            self.entry.push(entry);
        }
        self.start.push(self.row.len() as u32);
        self.cost.push(cost);
        self.open.push(true);
        self.basic.push(false);
        self.columns() - 1
    }

    /// Begins with the first columns.
    pub(crate) fn begin(&mut self) {
        self.basis = (0..self.rows).collect();
        self.basic.fill(false);
        self.basic[..self.rows].fill(true);
        self.fresh();
    }

    /// A new price; the basis stays.
    pub(crate) fn set_cost(&mut self, column: usize, cost: f64) {
        self.cost[column] = cost;
    }

    pub(crate) fn set_open(&mut self, column: usize, open: bool) {
        self.open[column] = open;
    }

    /// New right-hand sides; the basis stays, [`Lp::dual`] mends it.
    pub(crate) fn set_rhs(&mut self, rhs: &[f64]) {
        self.rhs.copy_from_slice(rhs);
        self.values();
    }

    /// Columns in the basis with their values.
    pub(crate) fn solution(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.basis.iter().zip(&self.x).map(|(&c, &x)| (c, x))
    }

    pub(crate) fn value(&self) -> f64 {
        self.solution().map(|(c, x)| self.cost[c] * x).sum()
    }

    fn entries(&self, column: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        let at = self.start[column] as usize..self.start[column + 1] as usize;
        self.row[at.clone()].iter().map(|&r| r as usize).zip(self.entry[at].iter().copied())
    }

    fn reduced(&self, column: usize) -> f64 {
        self.cost[column] - self.entries(column).map(|(r, e)| self.dual[r] * e).sum::<f64>()
    }

    /// Inverse, values and duals from the basis alone. A basis that has no inverse is given up for the first one.
    fn fresh(&mut self) {
        let n = self.rows;
        self.pivots = 0;
        let mut basis = vec![0.0; n * n];
        for (k, &column) in self.basis.iter().enumerate() {
            for (r, e) in self.entries(column) {
                basis[r * n + k] += e;
            }
        }
        let mut inverse = vec![0.0; n * n];
        for r in 0..n {
            inverse[r * n + r] = 1.0;
        }
        for k in 0..n {
            let size = |r: &usize| basis[r * n + k].abs();
            let best = (k..n).max_by(|a, b| size(a).total_cmp(&size(b))).unwrap_or(k);
            if size(&best) < TINY {
                self.basis = (0..n).collect();
                self.basic.fill(false);
                self.basic[..n].fill(true);
                inverse.fill(0.0);
                (0..n).for_each(|r| inverse[r * n + r] = 1.0);
                break;
            }
            if best != k {
                for c in 0..n {
                    basis.swap(best * n + c, k * n + c);
                    inverse.swap(best * n + c, k * n + c);
                }
            }
            let by = 1.0 / basis[k * n + k];
            for c in 0..n {
                basis[k * n + c] *= by;
                inverse[k * n + c] *= by;
            }
            let (left, right) =
                (basis[k * n..(k + 1) * n].to_vec(), inverse[k * n..(k + 1) * n].to_vec());
            for r in (0..n).filter(|r| *r != k) {
                let times = basis[r * n + k];
                if times != 0.0 {
                    for c in k..n {
                        basis[r * n + c] -= times * left[c];
                    }
                    for c in 0..n {
                        inverse[r * n + c] -= times * right[c];
                    }
                }
            }
        }
        self.inverse = inverse;
        self.values();
        self.duals();
    }

    fn values(&mut self) {
        let n = self.rows;
        self.x = (0..n)
            .map(|k| {
                self.inverse[k * n..(k + 1) * n].iter().zip(&self.rhs).map(|(a, b)| a * b).sum()
            })
            .collect();
    }

    /// Duals again, after prices have changed.
    pub(crate) fn reprice(&mut self) {
        self.duals();
    }

    fn duals(&mut self) {
        let n = self.rows;
        self.dual.clear();
        self.dual.resize(n, 0.0);
        for k in 0..n {
            let cost = self.cost[self.basis[k]];
            if cost != 0.0 {
                for (d, i) in self.dual.iter_mut().zip(&self.inverse[k * n..(k + 1) * n]) {
                    *d += cost * i;
                }
            }
        }
    }

    /// How much of each basic column one of `column` takes the place of, into `edge`.
    fn edge(&mut self, column: usize) {
        let n = self.rows;
        let at = self.start[column] as usize..self.start[column + 1] as usize;
        let (rows, entries) = (&self.row[at.clone()], &self.entry[at]);
        for (k, edge) in self.edge.iter_mut().enumerate() {
            let inverse = &self.inverse[k * n..(k + 1) * n];
            *edge = rows.iter().zip(entries).map(|(&r, e)| inverse[r as usize] * e).sum();
        }
    }

    /// `column` takes the place of the k-th basic one; `edge` is ready.
    fn pivot(&mut self, k: usize, column: usize) {
        let n = self.rows;
        let reduced = self.reduced(column);
        let by = 1.0 / self.edge[k];
        self.lead.copy_from_slice(&self.inverse[k * n..(k + 1) * n]);
        for l in &mut self.lead {
            *l *= by;
        }
        let step = self.x[k] * by;
        // Early on most of the row is nothing.
        self.some.clear();
        self.some.extend((0..n as u32).filter(|&c| self.lead[c as usize] != 0.0));
        let few = self.some.len() * 3 < n;
        for r in 0..n {
            let times = self.edge[r];
            if r == k || times.abs() <= 1e-13 {
                continue;
            }
            let row = &mut self.inverse[r * n..(r + 1) * n];
            if few {
                for &c in &self.some {
                    row[c as usize] -= times * self.lead[c as usize];
                }
            } else {
                for (i, l) in row.iter_mut().zip(&self.lead) {
                    *i -= times * l;
                }
            }
            self.x[r] -= times * step;
        }
        self.inverse[k * n..(k + 1) * n].copy_from_slice(&self.lead);
        self.x[k] = step;
        for (d, l) in self.dual.iter_mut().zip(&self.lead) {
            *d += reduced * l;
        }
        self.basic[self.basis[k]] = false;
        self.basic[column] = true;
        self.basis[k] = column;
        self.pivots += 1;
        if self.pivots >= FRESH {
            self.pivots = 0;
            if self.drift() > DRIFT {
                self.fresh();
            }
        }
    }

    /// How far rounding has carried values and duals away from what they should be.
    fn drift(&self) -> f64 {
        let mut off = self.rhs.clone();
        let mut most = 0.0_f64;
        for (&column, x) in self.basis.iter().zip(&self.x) {
            self.entries(column).for_each(|(r, e)| off[r] -= e * x);
            most = most.max(self.reduced(column).abs());
        }
        off.iter().fold(most, |most, o| most.max(o.abs()))
    }

    fn random(&mut self) -> f64 {
        self.chance = self
            .chance
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.chance >> 40) as f64 / (1u64 << 24) as f64
    }

    /// From a basis whose values are none of them negative to the least cost, or as near as rounding lets it.
    pub(crate) fn primal(&mut self, go: Go) -> Result<(), Stopped> {
        let mut still = 0;
        let mut turn = 0;
        while turn < 20 * self.rows + 2_000 {
            // The best few of all columns are tried before all are looked at again.
            let mut few: Vec<(f64, usize)> = Vec::new();
            for column in 0..self.columns() {
                if !self.basic[column] && self.open[column] {
                    let reduced = self.reduced(column);
                    if reduced < -TINY {
                        few.push((reduced, column));
                    }
                }
            }
            if few.is_empty() {
                return Ok(());
            }
            if few.len() > FEW {
                few.select_nth_unstable_by(FEW, |a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
                few.truncate(FEW);
            }
            few.sort_unstable_by_key(|f| f.1);
            for again in 0..few.len() {
                turn += 1;
                if turn % LOOK == 0 && !go() {
                    return Err(Stopped);
                }
                let mut best = (-TINY, usize::MAX);
                for &(first, column) in &few {
                    if self.basic[column] || !self.open[column] {
                        continue;
                    }
                    let mut reduced = if again == 0 { first } else { self.reduced(column) };
                    // Where many pivots bring nothing, chance leads out of the circle.
                    if still > 40 && reduced < -TINY {
                        reduced *= self.random();
                    }
                    if reduced < best.0 {
                        best = (reduced, column);
                    }
                }
                let (_, column) = best;
                if column == usize::MAX {
                    break;
                }
                self.edge(column);
                let Some((ratio, k)) = self.nearest() else {
                    // No cost falls without end; rounding says so only here.
                    self.open[column] = false;
                    continue;
                };
                still = if ratio > 1e-11 { 0 } else { still + 1 };
                self.pivot(k, column);
            }
        }
        Ok(())
    }

    /// How much of the entering column there can be, and which basic column makes way for it.
    fn nearest(&self) -> Option<(f64, usize)> {
        let mut found: Option<(f64, f64, usize)> = None;
        for (k, (&edge, &x)) in self.edge.iter().zip(&self.x).enumerate() {
            if edge > 1e-8 {
                let ratio = x.max(0.0) / edge;
                let nearer = found.is_none_or(|(least, pivot, _)| {
                    ratio < least - 1e-11 || (ratio <= least + 1e-11 && edge > pivot)
                });
                if nearer {
                    found = Some((ratio, edge, k));
                }
            }
        }
        found.map(|(ratio, _, k)| (ratio, k))
    }

    /// From a basis of least cost whose values may be negative to one whose values are not.
    pub(crate) fn dual(&mut self, go: Go) -> Result<(), Stopped> {
        let n = self.rows;
        for turn in 1..20 * n + 2_000 {
            if turn % LOOK == 0 && !go() {
                return Err(Stopped);
            }
            let least = (0..n).min_by(|&a, &b| self.x[a].total_cmp(&self.x[b]));
            let Some(k) = least.filter(|&k| self.x[k] < -TINY) else { return Ok(()) };
            let inverse = &self.inverse[k * n..(k + 1) * n];
            let mut found: Option<(f64, f64, usize)> = None;
            for column in 0..self.columns() {
                if self.basic[column] || !self.open[column] {
                    continue;
                }
                let edge: f64 = self.entries(column).map(|(r, e)| inverse[r] * e).sum();
                if edge < -1e-8 {
                    let ratio = self.reduced(column).max(0.0) / -edge;
                    let nearer = found.is_none_or(|(least, pivot, _)| {
                        ratio < least - 1e-12 || (ratio <= least + 1e-12 && edge < pivot)
                    });
                    if nearer {
                        found = Some((ratio, edge, column));
                    }
                }
            }
            let Some((_, _, column)) = found else { return Ok(()) };
            self.edge(column);
            if self.edge[k] > -1e-9 {
                self.fresh();
                continue;
            }
            self.pivot(k, column);
        }
        Ok(())
    }
}
