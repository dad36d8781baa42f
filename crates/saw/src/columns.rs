//! Patterns that earn their place: a linear programme over the patterns known so far says what a piece of each length is
//! worth, and the knapsack finds patterns worth more than they cost, until there are none.

use std::collections::BTreeMap;

use crate::Go;
use crate::Problem;
use crate::counts::Cut;
use crate::knapsack::{Coarse, Knapsack};
use crate::lp::{Lp, Stopped};
use crate::model::{Column, Model};

/// New columns from one table at the most, beside those of each line.
const AT_ONCE: usize = 24;
/// A reduced cost below this, for the dearest bar as 1, is none.
const TINY: f64 = 1e-7;

/// How far values are pulled towards those of the best bound.
const PULL: f64 = 0.8;
/// Of a piece.
const CRUMB: f64 = 1e-5;

/// Every pattern met so far, each once.
#[derive(Clone, Default)]
pub(crate) struct Columns {
    pub(crate) all: Vec<Column>,
    places: BTreeMap<Column, usize>,
}

impl Columns {
    /// Its place, and whether it is new.
    pub(crate) fn add(&mut self, column: Column) -> (usize, bool) {
        if let Some(&at) = self.places.get(&column) {
            return (at, false);
        }
        self.all.push(column.clone());
        self.places.insert(column, self.all.len() - 1);
        (self.all.len() - 1, true)
    }
}

/// What the programme keeps small.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Aim {
    /// The cost of the bars.
    Cost,
    /// The length of the pieces that so many bars do not hold.
    Missing,
}

/// What a look at a cut says about going on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Look {
    /// Better patterns are wanted.
    On,
    /// The same, and the cut is the best so far.
    Better,
    /// What is known is enough.
    Enough,
}

/// What all the parts of the planner share.
pub(crate) struct Shop<'a> {
    pub(crate) problem: &'a Problem,
    pub(crate) model: &'a Model,
    pub(crate) columns: &'a mut Columns,
    pub(crate) knapsack: &'a mut Knapsack,
    pub(crate) go: Go<'a>,
}

/// Rows: pieces of every item, then bars of every line.
#[derive(Clone)]
pub(crate) struct Master {
    pub(crate) lp: Lp,
    aim: Aim,
    /// The column of the programme that is the first pattern.
    first: usize,
    /// Which pattern each column is, from the first.
    pub(crate) of: Vec<usize>,
    /// Which patterns are in it.
    there: Vec<bool>,
    /// What bars of each line cost.
    prices: Vec<f64>,
    /// What pieces were worth where the bound was best, and how far values are pulled towards that.
    center: Option<Vec<f64>>,
    pull: f64,
    pulls: f64,
    dearest: f64,
    longest: f64,
}

impl Master {
    /// A programme over every pattern in `known` that `pieces` and `bars` leave room for.
    pub(crate) fn new(
        model: &Model,
        known: &Columns,
        aim: Aim,
        pieces: &[u64],
        bars: &[u64],
    ) -> Master {
        let mut rhs: Vec<f64> = pieces.iter().chain(bars).map(|n| *n as f64).collect();
        let items = model.items.len();
        if aim == Aim::Cost {
            // A crumb more of each, all different, keeps the programme from going round in circles.
            for (i, pieces) in rhs[..items].iter_mut().enumerate() {
                *pieces += CRUMB * (1.0 + (i * 7_919 % 1_009) as f64 / 1_009.0);
            }
        }
        let longest = model.longest().max(1) as f64;
        let mut lp = Lp::new(&rhs);
        for (i, item) in model.items.iter().enumerate() {
            let price = match aim {
                // So much that nothing is left out while there is any bar for it.
                Aim::Cost => 1_000.0,
                Aim::Missing => item.need as f64 / longest,
            };
            lp.add([(i, 1.0)].into_iter(), price);
        }
        for j in 0..bars.len() {
            lp.add([(items + j, 1.0)].into_iter(), 0.0);
        }
        for i in 0..items {
            lp.add([(i, -1.0)].into_iter(), 0.0);
        }
        let dearest = model.lines.iter().map(|l| l.cost).max().unwrap_or(0).max(1) as f64;
        let price = |l: &crate::model::Line| match aim {
            Aim::Cost => l.cost as f64 / dearest,
            Aim::Missing => 0.0,
        };
        let mut master = Master {
            prices: model.lines.iter().map(price).collect(),
            first: lp.columns(),
            lp,
            aim,
            of: Vec::new(),
            there: Vec::new(),
            center: None,
            pull: 0.0,
            pulls: 0.0,
            dearest,
            longest,
        };
        for at in 0..known.all.len() {
            if proper(&known.all[at], pieces, bars) {
                master.add(model, known, at);
            }
        }
        if aim == Aim::Cost {
            // At first a piece is worth its length of the bar that is cheapest for its length.
            let rate = model.lines.iter().map(|l| l.cost as f64 / dearest / l.room as f64);
            let rate = rate.fold(f64::MAX, f64::min);
            master.center = Some(model.items.iter().map(|i| i.need as f64 * rate).collect());
            master.pulls = PULL;
            master.pull = master.pulls;
        }
        master.lp.begin();
        master
    }

    fn add(&mut self, model: &Model, known: &Columns, at: usize) {
        self.there.resize(known.all.len(), false);
        if std::mem::replace(&mut self.there[at], true) {
            return;
        }
        let column = &known.all[at];
        let items = model.items.len();
        let entries = column.cuts.iter().map(|&(i, n)| (i, n as f64));
        let price = self.prices[column.line];
        self.lp.add(entries.chain([(items + column.line, 1.0)]), price);
        self.of.push(at);
    }

    /// Patterns in use, and how many bars of each, in parts.
    pub(crate) fn used(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        let used = self.lp.solution().filter(|(c, x)| *c >= self.first && *x > 1e-9);
        used.map(|(c, x)| (self.of[c - self.first], x))
    }

    /// How much of the pieces is missing, for the longest bar as 1.
    pub(crate) fn missing(&self, model: &Model) -> f64 {
        let items = model.items.len();
        let short = self.lp.solution().filter(|(c, _)| *c < items);
        short.map(|(c, x)| x.max(0.0) * model.items[c].need as f64 / self.longest).sum()
    }

    /// What the bars in parts cost.
    pub(crate) fn cost(&self) -> f64 {
        self.lp.value() * self.dearest
    }

    /// What a piece of each item is worth.
    pub(crate) fn worth(&self, model: &Model) -> Vec<f64> {
        self.lp.dual[..model.items.len()].iter().map(|d| d.max(0.0)).collect()
    }

    /// Other pieces and bars: patterns they leave no room for are shut out, and the rest made good from where it was.
    pub(crate) fn change(
        &mut self,
        shop: &Shop<'_>,
        pieces: &[u64],
        bars: &[u64],
    ) -> Result<(), Stopped> {
        for (k, &at) in self.of.iter().enumerate() {
            let column = &shop.columns.all[at];
            let open = proper(column, pieces, bars);
            self.lp.set_open(self.first + k, open);
            let price = self.prices[column.line];
            // A pattern shut out is no better than its pieces missing.
            let shut = shop.model.taken(&column.cuts) as f64 / self.longest;
            self.lp.set_cost(self.first + k, if open { price } else { price.max(shut) });
        }
        self.lp.reprice();
        self.lp.primal(shop.go)?;
        let rhs: Vec<f64> = pieces.iter().chain(bars).map(|n| *n as f64).collect();
        self.lp.set_rhs(&rhs);
        self.lp.dual(shop.go)?;
        self.lp.primal(shop.go)
    }

    pub(crate) fn is_for_cost(&self) -> bool {
        self.aim == Aim::Cost
    }

    /// Begins from what pieces were worth another time.
    pub(crate) fn begin_at(&mut self, worth: Vec<f64>) {
        self.center = Some(worth);
    }

    /// Other prices of the lines; the basis stays.
    pub(crate) fn price(&mut self, known: &Columns, prices: &[f64]) {
        (self.center, self.pull, self.pulls) = (None, 0.0, 0.0);
        self.prices = prices.to_vec();
        for (k, &at) in self.of.iter().enumerate() {
            self.lp.set_cost(self.first + k, prices[known.all[at].line]);
        }
        self.lp.reprice();
    }

    /// Shuts a pattern out for good.
    pub(crate) fn shut(&mut self, at: usize) {
        if let Some(k) = self.of.iter().position(|&a| a == at) {
            self.lp.set_open(self.first + k, false);
            self.lp.set_cost(self.first + k, 1_000.0);
            self.lp.reprice();
        }
    }

    /// Finds patterns until none would help, or `look` says that it is enough. `most` is how many of each item a
    /// pattern may have; `look` is shown a cut after each round, true for all pieces when `most` is all of them.
    pub(crate) fn grow(
        &mut self,
        shop: &mut Shop<'_>,
        most: &[u64],
        look: &mut dyn FnMut(&Master, &Cut) -> Look,
    ) -> Result<(), Stopped> {
        let model = shop.model;
        let items = model.items.len();
        loop {
            self.lp.primal(shop.go)?;
            if self.aim == Aim::Missing && self.missing(model) < 1e-7 {
                return Ok(());
            }
            if !(shop.go)() {
                return Err(Stopped);
            }
            let own = self.worth(model);
            // Between what pieces are worth here and what they were worth where the bound was best, in case of
            // cost: it wanders less, and shows a better bound sooner.
            let mixed = |by: f64, center: &[f64]| -> Vec<f64> {
                own.iter().zip(center).map(|(o, c)| by * c + (1.0 - by) * o).collect()
            };
            let worth = match &self.center {
                Some(center) if self.pull > 0.0 => mixed(self.pull, center),
                _ => own.clone(),
            };
            let (values, scale) = shop.knapsack.whole(model, &worth);
            if scale <= 0.0 {
                return Ok(());
            }
            shop.knapsack.fill(model, &values, most, Coarse::Fits);
            let cut = cut(model, shop.knapsack, &values, most);
            match look(self, &cut) {
                Look::Enough => return Ok(()),
                Look::Better if self.aim == Aim::Cost => self.center = Some(worth),
                _ => {}
            }
            let rows = self.prices.iter().zip(&self.lp.dual[items..]);
            let price: Vec<f64> = rows.map(|(own, dual)| own - dual.min(0.0)).collect();
            let mut found: Vec<(f64, usize, Option<usize>)> =
                (0..price.len()).map(|j| (f64::MAX, j, None)).collect();
            for (i, value) in values.iter().enumerate().filter(|(i, v)| **v > 0 && most[*i] > 0) {
                let best = (0..model.lines.len()).filter_map(|j| {
                    let beside = shop.knapsack.best_beside(j, i)?;
                    Some(((f64::from(beside) + f64::from(*value)) / scale - price[j], j))
                });
                let best = best.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
                let floor = if self.pull > 0.0 { -0.05 } else { TINY };
                found.extend(best.filter(|b| b.0 > floor).map(|(gain, j)| (gain, j, Some(i))));
            }
            found.sort_by(|a, b| b.0.total_cmp(&a.0));
            let at_once = if shop.knapsack.is_large() { items } else { AT_ONCE };
            found.truncate(at_once + model.lines.len());
            let mut grown = false;
            for (_, line, item) in found {
                let mut cuts = match item {
                    Some(item) => shop.knapsack.cuts_beside(line, item),
                    None => shop.knapsack.cuts(line),
                };
                for cut in &mut cuts {
                    cut.1 = cut.1.min(most[cut.0]);
                }
                model.made_to_hold(shop.problem, line, &mut cuts);
                let gain: f64 = cuts.iter().map(|&(i, n)| own[i] * n as f64).sum();
                if gain - price[line] <= TINY {
                    continue;
                }
                let (at, _) = shop.columns.add(Column { line, cuts });
                let before = self.of.len();
                self.add(model, shop.columns, at);
                grown |= self.of.len() > before;
            }
            if !grown && self.pull == 0.0 {
                return Ok(());
            }
            // Nothing found there may yet be found here.
            self.pull = if grown { self.pulls } else { 0.0 };
        }
    }
}

/// Whether pieces and bars leave room for a column.
fn proper(column: &Column, pieces: &[u64], bars: &[u64]) -> bool {
    bars[column.line] > 0 && column.cuts.iter().all(|&(i, n)| n <= pieces[i])
}

/// What bars of each line must be worth when pieces have these values; the table is filled with them already, unless
/// it is coarse and has to be filled another way.
pub(crate) fn cut(model: &Model, knapsack: &mut Knapsack, values: &[i32], most: &[u64]) -> Cut {
    let copy;
    let filled = if knapsack.is_exact() {
        &*knapsack
    } else {
        let mut other = knapsack.like();
        other.fill(model, values, most, Coarse::Bounds);
        copy = other;
        &copy
    };
    let lines = 0..model.lines.len();
    Cut {
        gives: lines.map(|j| i64::from(filled.best(j))).collect(),
        needs: most.iter().zip(values).map(|(n, v)| i128::from(*n) * i128::from(*v)).sum(),
        values: values.to_vec(),
    }
}
