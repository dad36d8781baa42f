//! Whether so many bars of each line can give all pieces at all, to the last pattern: first every pattern that could be on
//! one of them, then whole bars of those patterns, branching on taking one more of a pattern or none.
//!
//! A cut leaves bars only so much to lose: what they are worth beyond the pieces. A pattern that loses more by itself is on none of
//! them; usually few are left. Patterns are filled up as far as they go, pieces over are cut off later.

use crate::Go;
use crate::columns::{Aim, Columns, Master, Shop};
use crate::counts::Cut;
use crate::lp::Stopped;
use crate::model::{Bars, Column, Item, Model};

/// Patterns that are more than can be dealt with, and steps to find them; each times the effort, as the branches.
const MOST_PATTERNS: usize = 1_200;
const MOST_STEPS: usize = 200_000;
/// Cells of one cut's table, and cuts that get one.
const MOST_CELLS: u64 = 6_000_000;
const TABLES: usize = 3;
/// Branches looked at.
const MOST_BRANCHES: usize = 250;
/// Missing, for the longest bar as 1, that is rounding only.
const NOTHING: f64 = 1e-7;

/// What is known in the end.
pub(crate) enum Every {
    /// These bars give all pieces.
    Plan(Bars),
    /// No bars do: proven.
    None,
    /// There was too much to look through.
    Unknown,
}

/// Looks through everything `bars` could be cut into; `cuts` are some that hold and that `bars` satisfies.
pub(crate) fn every(
    shop: &Shop<'_>,
    bars: &[u64],
    cuts: &[Cut],
    effort: usize,
) -> Result<Every, Stopped> {
    let Some(known) = patterns(shop.model, bars, cuts, effort, shop.go)? else {
        return Ok(Every::Unknown);
    };
    search(shop, &known, bars, effort)
}

/// A cut as the enumeration uses it: values of the items, what may be lost, and the most that items from each on can
/// be worth in each room.
struct Measure<'a> {
    values: &'a [i32],
    gives: &'a [i64],
    slack: i64,
    table: Vec<i32>,
}

/// Every pattern, filled up, that loses no more than each cut allows; `None` when they are too many.
fn patterns(
    model: &Model,
    bars: &[u64],
    cuts: &[Cut],
    effort: usize,
    go: Go,
) -> Result<Option<Columns>, Stopped> {
    let width = model.longest() + 1;
    if width * (model.items.len() as u64 + 1) > MOST_CELLS {
        return Ok(None);
    }
    // The tightest first.
    let mut tight: Vec<(f64, &Cut)> = cuts
        .iter()
        .filter(|cut| cut.values.len() == model.items.len())
        .map(|cut| {
            (
                -cut.short(bars) as f64
                    / cut.gives.iter().copied().max().unwrap_or(1).max(1) as f64,
                cut,
            )
        })
        .collect();
    tight.sort_by(|a, b| a.0.total_cmp(&b.0));
    let measures: Vec<Measure<'_>> = tight
        .iter()
        .take(TABLES)
        .map(|(_, cut)| Measure {
            values: &cut.values,
            gives: &cut.gives,
            slack: i64::try_from(-cut.short(bars)).unwrap_or(i64::MAX),
            table: table(model, &cut.values, width as usize),
        })
        .collect();
    let mut walk = Walk {
        model,
        width: width as usize,
        measures,
        line: 0,
        cuts: Vec::new(),
        found: Columns::default(),
        steps: 0,
        effort,
        go,
    };
    for line in (0..model.lines.len()).filter(|&j| bars[j] > 0) {
        walk.line = line;
        let worth = vec![0; walk.measures.len()];
        if !walk.from(0, model.lines[line].room, &worth)? {
            return Ok(None);
        }
    }
    Ok(Some(walk.found))
}

/// Row i, room r: the most that items from i on can be worth in r.
fn table(model: &Model, values: &[i32], width: usize) -> Vec<i32> {
    let items = model.items.len();
    let mut table = vec![0_i32; (items + 1) * width];
    for i in (0..items).rev() {
        let (above, below) = table.split_at_mut((i + 1) * width);
        let row = &mut above[i * width..];
        row.copy_from_slice(&below[..width]);
        let need = model.items[i].need as usize;
        if need >= width || values[i] <= 0 {
            continue;
        }
        let mut left = model.items[i].count.min((width / need) as u64);
        let mut copies = 1;
        while left > 0 {
            let now = copies.min(left);
            left -= now;
            copies *= 2;
            let (step, value) = (need * now as usize, values[i].saturating_mul(now as i32));
            for room in (step..width).rev() {
                row[room] = row[room].max(row[room - step].saturating_add(value));
            }
        }
    }
    table
}

struct Walk<'a> {
    model: &'a Model,
    width: usize,
    measures: Vec<Measure<'a>>,
    line: usize,
    cuts: Vec<(usize, u64)>,
    found: Columns,
    steps: usize,
    effort: usize,
    go: Go<'a>,
}

impl Walk<'_> {
    /// Items from `item` on into `room`; false when there are too many patterns.
    fn from(&mut self, item: usize, room: u64, worth: &[i64]) -> Result<bool, Stopped> {
        self.steps += 1;
        if self.steps.is_multiple_of(4_096) && !(self.go)() {
            return Err(Stopped);
        }
        if self.steps > self.effort * MOST_STEPS
            || self.found.all.len() > self.effort * MOST_PATTERNS
        {
            return Ok(false);
        }
        for (m, worth) in self.measures.iter().zip(worth) {
            let rest = i64::from(m.table[item * self.width + room as usize]);
            if worth + rest < m.gives[self.line].saturating_sub(m.slack) {
                return Ok(true);
            }
        }
        let Some(first) = (item..self.model.items.len()).find(|&i| self.fits(i, room)) else {
            let holds = !self.cuts.is_empty() && self.model.holds(self.line, &self.cuts);
            if holds && self.full(room) {
                self.found.add(Column { line: self.line, cuts: self.cuts.clone() });
            }
            return Ok(true);
        };
        let &Item { need, count, .. } = &self.model.items[first];
        let most = count.min(room / need);
        for n in (0..=most).rev() {
            if n > 0 {
                self.cuts.push((first, n));
            }
            let each = self.measures.iter().zip(worth);
            let worth: Vec<i64> =
                each.map(|(m, w)| w + i64::from(m.values[first]) * n as i64).collect();
            let go_on = self.from(first + 1, room - n * need, &worth)?;
            if n > 0 {
                self.cuts.pop();
            }
            if !go_on {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// True when no piece that is not on the bar yet fits into what is left.
    fn full(&self, room: u64) -> bool {
        if self.model.is_slanted() {
            return self.truly_full();
        }
        let on = |i: usize| self.cuts.iter().find(|c| c.0 == i).map_or(0, |c| c.1);
        let items = self.model.items.iter().enumerate();
        items.rev().filter(|(i, _)| self.fits(*i, room)).all(|(i, item)| on(i) >= item.count)
    }

    /// The same where what a piece takes depends on the others.
    fn truly_full(&self) -> bool {
        (0..self.model.items.len()).all(|i| {
            let mut cuts = self.cuts.clone();
            match cuts.iter_mut().find(|c| c.0 == i) {
                Some(cut) => cut.1 += 1,
                None => cuts.push((i, 1)),
            }
            let there = cuts.iter().all(|&(i, n)| n <= self.model.items[i].count);
            !there || !self.model.holds(self.line, &cuts)
        })
    }

    fn fits(&self, item: usize, room: u64) -> bool {
        self.model.items[item].need <= room && self.model.gives(self.line, item)
    }
}

/// One place in the search: what is taken, what is left to do, and which patterns are no longer taken.
struct Branch {
    master: Master,
    pieces: Vec<u64>,
    bars: Vec<u64>,
    taken: Vec<usize>,
    open: Vec<bool>,
}

fn search(shop: &Shop<'_>, known: &Columns, bars: &[u64], effort: usize) -> Result<Every, Stopped> {
    let model = shop.model;
    let pieces = model.counts();
    let mut master = Master::new(model, known, Aim::Missing, &pieces, bars);
    master.lp.primal(shop.go)?;
    let mut stack = vec![Branch {
        master,
        pieces,
        bars: bars.to_vec(),
        taken: Vec::new(),
        open: vec![true; known.all.len()],
    }];
    let mut branches = 0;
    while let Some(mut here) = stack.pop() {
        branches += 1;
        if branches > effort * MOST_BRANCHES {
            return Ok(Every::Unknown);
        }
        if !(shop.go)() {
            return Err(Stopped);
        }
        if here.master.missing(model) > NOTHING {
            if impossible(model, known, &here) {
                continue;
            }
            return Ok(Every::Unknown);
        }
        let used: Vec<(usize, f64)> = here.master.used().collect();
        if used.iter().all(|(_, x)| (x - x.round()).abs() < 1e-6) {
            let mut plan: Bars = here.taken.iter().map(|&at| (known.all[at].clone(), 1)).collect();
            let parts = used.iter().filter(|u| u.1 > 0.5);
            plan.extend(parts.map(|&(at, x)| (known.all[at].clone(), x.round() as u64)));
            return Ok(Every::Plan(plan));
        }
        // The pattern nearest to a whole bar, without being one.
        let broken = used.iter().filter(|(_, x)| (x - x.round()).abs() >= 1e-6);
        let Some(&(at, _)) = broken.max_by(|a, b| a.1.fract().total_cmp(&b.1.fract())) else {
            return Ok(Every::Unknown);
        };
        let column = &known.all[at];
        let mut without = here.master.clone();
        without.shut(at);
        without.lp.primal(shop.go)?;
        let mut open = here.open.clone();
        open[at] = false;
        stack.push(Branch {
            master: without,
            pieces: here.pieces.clone(),
            bars: here.bars.clone(),
            taken: here.taken.clone(),
            open,
        });
        if here.bars[column.line] == 0 {
            continue;
        }
        here.bars[column.line] -= 1;
        for &(i, n) in &column.cuts {
            here.pieces[i] = here.pieces[i].saturating_sub(n);
        }
        here.taken.push(at);
        let rhs: Vec<f64> = here.pieces.iter().chain(&here.bars).map(|n| *n as f64).collect();
        here.master.lp.set_rhs(&rhs);
        here.master.lp.dual(shop.go)?;
        here.master.lp.primal(shop.go)?;
        stack.push(here);
    }
    Ok(Every::None)
}

/// Proves in whole numbers that the patterns still open cannot give the pieces: the most that bars can be worth is less than
/// the pieces are.
fn impossible(model: &Model, known: &Columns, here: &Branch) -> bool {
    let worth = here.master.worth(model);
    let most = worth.iter().copied().fold(0.0, f64::max).max(1e-30);
    let values: Vec<i128> =
        worth.iter().map(|w| (w / most * (1_u64 << 40) as f64) as i128).collect();
    let mut best = vec![0_i128; model.lines.len()];
    for (at, column) in known.all.iter().enumerate() {
        if here.open[at] {
            let worth = column.cuts.iter().map(|&(i, n)| values[i] * i128::from(n)).sum();
            best[column.line] = best[column.line].max(worth);
        }
    }
    let needs: i128 = here.pieces.iter().zip(&values).map(|(n, v)| i128::from(*n) * v).sum();
    let gives: i128 = here.bars.iter().zip(&best).map(|(n, b)| i128::from(*n) * b).sum();
    needs > gives
}
