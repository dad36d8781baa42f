//! The most that pieces on one bar can be worth, for every length of bar at once, when each has a whole-number
//! value: a table over room and pieces, filled piece by piece.

use crate::model::Model;

/// Cells the table may have. Beyond, rooms are counted in coarser steps.
const MOST_CELLS: u64 = 24_000_000;
/// No bar is worth more.
const MOST_VALUE: f64 = 1_000_000_000.0;

/// Which way needs and rooms are rounded when steps are coarse. Where they are not, it makes no difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Coarse {
    /// What is found fits.
    Fits,
    /// Nothing that fits is worth more.
    Bounds,
}

/// So many of an item, taken or not.
#[derive(Clone, Copy)]
struct Pass {
    item: usize,
    copies: u64,
}

/// One table for straight bars and, where that makes a difference, one for those that are not.
#[derive(Default)]
pub(crate) struct Knapsack {
    /// Steps of the model in one of the table.
    quantum: u64,
    /// Which table a line's bars are looked up in.
    bowed: Vec<bool>,
    rooms: Vec<usize>,
    needs: Vec<u64>,
    straight: Vec<bool>,
    any: Table,
    crooked: Table,
}

/// Room by room.
#[derive(Default)]
struct Table {
    passes: Vec<Pass>,
    /// Whether each pass is taken at each room, pass by pass.
    taken: Vec<bool>,
    best: Vec<i32>,
    next: Vec<i32>,
}

impl Knapsack {
    pub(crate) fn new(model: &Model) -> Knapsack {
        let most = model.longest();
        let passes: u64 = model
            .items
            .iter()
            .map(|i| u64::from(u64::BITS - i.count.min(most / i.need).leading_zeros()))
            .sum();
        let quantum = (passes * (most + 1)).div_ceil(MOST_CELLS).max(1);
        Knapsack { quantum, ..Knapsack::default() }
    }

    /// An empty table of the same steps.
    pub(crate) fn like(&self) -> Knapsack {
        Knapsack { quantum: self.quantum, ..Knapsack::default() }
    }

    /// True when it takes long to fill, beside a pivot or two.
    pub(crate) fn is_large(&self) -> bool {
        self.any.passes.len() * self.any.best.len() > 1_000_000
    }

    /// True when the table is as fine as the model.
    pub(crate) fn is_exact(&self) -> bool {
        self.quantum == 1
    }

    /// Whole-number values in proportion to `worth` (none negative), so large that no bar comes to more than the
    /// table can hold; and how many times the worth they are.
    pub(crate) fn whole(&self, model: &Model, worth: &[f64]) -> (Vec<i32>, f64) {
        let room = (model.longest() / self.quantum) as f64;
        let mut free = 0.0;
        let mut dearest = 0.0_f64;
        for (item, &worth) in model.items.iter().zip(worth) {
            let need = (item.need / self.quantum) as f64;
            if need > 0.0 {
                dearest = dearest.max(worth / need);
            } else {
                free += worth * item.count as f64;
            }
        }
        let most = free + dearest * room.max(1.0);
        let scale = if most > 0.0 { MOST_VALUE / most } else { 0.0 };
        (worth.iter().map(|w| (w * scale).clamp(0.0, MOST_VALUE) as i32).collect(), scale)
    }

    /// Fills the table. `most` is how many of each item there are.
    pub(crate) fn fill(&mut self, model: &Model, values: &[i32], most: &[u64], coarse: Coarse) {
        let q = self.quantum;
        self.rooms = model.lines.iter().map(|l| (l.room / q) as usize).collect();
        self.needs = model
            .items
            .iter()
            .map(|i| if coarse == Coarse::Fits { i.need.div_ceil(q) } else { i.need / q })
            .collect();
        self.bowed = model.lines.iter().map(|l| l.bowed && model.sorted()).collect();
        self.straight = model.items.iter().map(|i| i.piece.straight).collect();
        let width = self.rooms.iter().max().copied().unwrap_or(0) + 1;
        // Of bounds only the worth is asked, not what it comes from.
        let keep = coarse == Coarse::Fits;
        self.any.fill(width, &self.needs, values, most, keep);
        if model.sorted() {
            let some: Vec<u64> =
                most.iter().zip(&self.straight).map(|(n, s)| if *s { 0 } else { *n }).collect();
            self.crooked.fill(width, &self.needs, values, &some, keep);
        }
    }

    fn table(&self, line: usize) -> &Table {
        if self.bowed[line] { &self.crooked } else { &self.any }
    }

    /// The most a bar of a line can be worth.
    pub(crate) fn best(&self, line: usize) -> i32 {
        self.table(line).best.get(self.rooms[line]).copied().unwrap_or(0)
    }

    /// The most a bar of a line can be worth beside a piece of an item; `None` where it does not give that.
    pub(crate) fn best_beside(&self, line: usize, item: usize) -> Option<i32> {
        if self.bowed[line] && self.straight[item] {
            return None;
        }
        let beside = self.rooms[line].checked_sub(self.needs[item] as usize)?;
        self.table(line).best.get(beside).copied()
    }

    /// The pieces that come to the most on a bar of a line.
    pub(crate) fn cuts(&self, line: usize) -> Vec<(usize, u64)> {
        self.table(line).cuts_within(self.rooms[line], &self.needs)
    }

    /// The same beside one piece of an item, with it.
    pub(crate) fn cuts_beside(&self, line: usize, item: usize) -> Vec<(usize, u64)> {
        let room = self.rooms[line] - self.needs[item] as usize;
        let mut cuts = self.table(line).cuts_within(room, &self.needs);
        match cuts.iter_mut().find(|c| c.0 == item) {
            Some(cut) => cut.1 += 1,
            None => cuts.push((item, 1)),
        }
        cuts.sort_unstable();
        cuts
    }
}

impl Table {
    /// `keep` what is taken where, which is for saying what the worth comes from.
    fn fill(&mut self, width: usize, needs: &[u64], values: &[i32], most: &[u64], keep: bool) {
        self.passes.clear();
        self.best.clear();
        self.best.resize(width, 0);
        self.next.clear();
        self.next.resize(width, 0);
        for item in (0..values.len()).rev() {
            let need = needs[item];
            if values[item] <= 0 || most[item] == 0 || need >= width as u64 {
                continue;
            }
            let fit = (width as u64 - 1).checked_div(need).unwrap_or(u64::MAX);
            let mut left = most[item].min(fit);
            let mut copies = 1;
            while left > 0 {
                let now = copies.min(left);
                left -= now;
                copies *= 2;
                let (need, value) = ((need * now) as usize, i64::from(values[item]) * now as i64);
                // No more than a bar, whose worth the table can hold twice.
                let value = i32::try_from(value).unwrap_or(i32::MAX).min(i32::MAX / 2);
                if keep {
                    self.passes.push(Pass { item, copies: now });
                    self.kept_pass(need, value, width);
                } else {
                    self.pass(need, value);
                }
            }
        }
    }

    fn kept_pass(&mut self, need: usize, value: i32, width: usize) {
        let from = (self.passes.len() - 1) * width;
        if self.taken.len() < from + width {
            self.taken.resize(from + width, false);
        }
        self.taken[from..from + need.min(width)].fill(false);
        if need >= width {
            return;
        }
        self.next[..need].copy_from_slice(&self.best[..need]);
        let taken = &mut self.taken[from + need..from + width];
        let next = &mut self.next[need..width];
        let without = &self.best[need..width];
        let with = &self.best[..width - need];
        for (((taken, next), without), with) in taken.iter_mut().zip(next).zip(without).zip(with) {
            let with = with + value;
            *taken = with > *without;
            *next = with.max(*without);
        }
        std::mem::swap(&mut self.best, &mut self.next);
    }

    fn pass(&mut self, need: usize, value: i32) {
        let width = self.best.len();
        if need >= width {
            return;
        }
        self.next[..need].copy_from_slice(&self.best[..need]);
        let next = &mut self.next[need..];
        for ((next, without), with) in
            next.iter_mut().zip(&self.best[need..]).zip(&self.best[..width - need])
        {
            *next = (with + value).max(*without);
        }
        std::mem::swap(&mut self.best, &mut self.next);
    }

    fn cuts_within(&self, mut room: usize, needs: &[u64]) -> Vec<(usize, u64)> {
        let width = self.best.len();
        let mut cuts: Vec<(usize, u64)> = Vec::new();
        for (k, pass) in self.passes.iter().enumerate().rev() {
            if self.taken[k * width + room] {
                room -= (needs[pass.item] * pass.copies) as usize;
                match cuts.last_mut() {
                    Some(last) if last.0 == pass.item => last.1 += pass.copies,
                    _ => cuts.push((pass.item, pass.copies)),
                }
            }
        }
        cuts.sort_unstable();
        cuts
    }
}
