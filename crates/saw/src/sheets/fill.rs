//! Filling sheets one piece after another: each goes into the corner of the offcut it suits best, and what is left of
//! that is cut in two.

use std::cmp::Reverse;

use super::plan::{Pattern, What};
use super::problem::{Blank, Problem, Rect};

/// In which order pieces are taken.
#[derive(Clone, Copy, Debug)]
pub(super) enum Order {
    Area,
    Length,
    Width,
    LongSide,
    ShortSide,
    Round,
}

/// Which offcut suits a piece best.
#[derive(Clone, Copy, Debug)]
pub(super) enum Fit {
    /// The one that leaves the least beside it the narrow way.
    ShortSide,
    /// The one that leaves the least the long way.
    LongSide,
    /// The smallest.
    Area,
}

/// How what is left round a piece is cut.
#[derive(Clone, Copy, Debug)]
pub(super) enum Split {
    /// So that one part is as large as can be.
    Large,
    /// So that the smaller part is as large as can be.
    Even,
    /// Along the sheet first.
    Along,
    /// Across the sheet first.
    Across,
}

pub(super) const ORDERS: [Order; 6] =
    [Order::Area, Order::Length, Order::Width, Order::LongSide, Order::ShortSide, Order::Round];
pub(super) const FITS: [Fit; 3] = [Fit::ShortSide, Fit::LongSide, Fit::Area];
pub(super) const SPLITS: [Split; 4] = [Split::Large, Split::Even, Split::Along, Split::Across];

/// How sheets are filled.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rule {
    pub(super) fit: Fit,
    pub(super) split: Split,
    /// The kind of sheet that is opened where it holds the piece; else the cheapest for its area.
    pub(super) opens: Option<usize>,
}

/// An offcut that may still give a piece.
#[derive(Clone, Copy)]
struct Free {
    pattern: usize,
    part: usize,
    width: u64,
    length: u64,
}

/// Sheets, filled.
#[derive(Clone, Debug, Default)]
pub(super) struct Filled {
    pub(super) patterns: Vec<Pattern>,
    pub(super) left_over: Vec<(usize, u32)>,
    /// How many offcuts were looked at: what it took.
    pub(super) looked: u64,
}

/// What is better about a filling: fewer pieces missing, cheaper, fewer sheets, larger offcuts.
pub(super) type Worth = (u64, u64, usize, Reverse<u128>);

impl Filled {
    /// What its sheets cost.
    pub(super) fn cost(&self, problem: &Problem) -> u64 {
        let cost = self.patterns.iter().map(|p| problem.sheets[p.sheet].cost);
        cost.fold(0, u64::saturating_add)
    }

    pub(super) fn worth(&self, problem: &Problem) -> Worth {
        let missing = self.left_over.iter().map(|(_, n)| u64::from(*n)).sum();
        let cost = self.cost(problem);
        // Squares, in square centimetres: one large offcut is worth more than two small ones.
        let worth = |r: Rect| (r.area() / 10_000).pow(2);
        let offcuts = self.patterns.iter().flat_map(|p| p.offcuts(problem.keep)).map(worth).sum();
        (missing, cost, self.patterns.len(), Reverse(offcuts))
    }
}

/// The wanted blanks in an order, with how many of each.
pub(super) fn ordered(problem: &Problem, order: Order) -> Vec<(usize, u32)> {
    let key = |b: &Blank| -> (u128, u128) {
        let (w, l) = (u128::from(b.width), u128::from(b.length));
        match order {
            Order::Area => (w * l, w.max(l)),
            Order::Length => (l, w),
            Order::Width => (w, l),
            Order::LongSide => (w.max(l), w.min(l)),
            Order::ShortSide => (w.min(l), w.max(l)),
            Order::Round => (w + l, w * l),
        }
    };
    let blanks = problem.blanks.iter().enumerate().filter(|(_, b)| b.count > 0);
    let mut order: Vec<(usize, u32)> = blanks.map(|(i, b)| (i, b.count)).collect();
    order.sort_by_key(|&(i, _)| Reverse(key(&problem.blanks[i])));
    order
}

/// Fills sheets with pieces in the order they come, so many at most of each kind of sheet.
pub(super) fn fill(
    problem: &Problem,
    pieces: &[(usize, u32)],
    rule: Rule,
    most: &dyn Fn(usize) -> u32,
) -> Filled {
    let smallest = problem.smallest();
    let mut filling = Filling {
        problem,
        rule,
        smallest,
        free: Vec::new(),
        used: vec![0; problem.sheets.len()],
        most,
        done: Filled::default(),
    };
    for &(blank, count) in pieces {
        filling.put_all(blank, count);
    }
    filling.done
}

struct Filling<'a> {
    problem: &'a Problem,
    rule: Rule,
    smallest: (u64, u64),
    free: Vec<Free>,
    used: Vec<u32>,
    most: &'a dyn Fn(usize) -> u32,
    done: Filled,
}

impl Filling<'_> {
    fn put_all(&mut self, blank: usize, count: u32) {
        // Offcuts that were too small for one are too small for the next.
        let mut from = 0;
        for given in 0..count {
            if !self.put(blank, &mut from) {
                self.done.left_over.push((blank, count - given));
                return;
            }
        }
    }

    fn put(&mut self, blank: usize, from: &mut usize) -> bool {
        if let Some((i, turned)) = self.best(blank, *from) {
            self.place(i, blank, turned);
            return true;
        }
        *from = self.free.len();
        let Some(sheet) = self.sheet_for(blank) else { return false };
        self.used[sheet] += 1;
        let pattern = Pattern::whole(self.problem, sheet);
        let Rect { width, length, .. } = pattern.parts[0].at;
        self.done.patterns.push(pattern);
        self.free.push(Free { pattern: self.done.patterns.len() - 1, part: 0, width, length });
        if let Some((i, turned)) = self.best(blank, *from) {
            self.place(i, blank, turned);
        }
        true
    }

    /// The offcut that suits a piece best, and how it lies in it.
    fn best(&mut self, blank: usize, from: usize) -> Option<(usize, bool)> {
        self.done.looked += (self.free.len() - from) as u64 + 1;
        let mut best: Option<((u64, u64), usize, bool)> = None;
        for (i, free) in self.free.iter().enumerate().skip(from) {
            for (turned, w, l) in self.problem.blanks[blank].ways() {
                if w > free.width || l > free.length {
                    continue;
                }
                let (across, along) = (free.width - w, free.length - l);
                let (short, long) = (across.min(along), across.max(along));
                let key = match self.rule.fit {
                    Fit::ShortSide => (short, long),
                    Fit::LongSide => (long, short),
                    Fit::Area => (free.width * free.length - w * l, short),
                };
                if best.is_none_or(|(k, _, _)| key < k) {
                    best = Some((key, i, turned));
                }
            }
        }
        best.map(|(_, i, turned)| (i, turned))
    }

    /// The kind of sheet to open for a piece.
    fn sheet_for(&mut self, blank: usize) -> Option<usize> {
        let problem = self.problem;
        self.done.looked += problem.sheets.len() as u64;
        let can = |&s: &usize| self.used[s] < (self.most)(s) && problem.holds(s, blank);
        let area = |s: usize| Rect {
            width: problem.sheets[s].width,
            length: problem.sheets[s].length,
            ..Rect::default()
        };
        let kinds = (0..problem.sheets.len()).filter(can);
        self.rule.opens.filter(can).or_else(|| {
            kinds.min_by(|&a, &b| {
                let price = |s: usize, other: usize| {
                    u128::from(problem.sheets[s].cost) * area(other).area()
                };
                price(a, b).cmp(&price(b, a)).then(area(a).area().cmp(&area(b).area()))
            })
        })
    }

    fn place(&mut self, i: usize, blank: usize, turned: bool) {
        let Free { pattern, part, width, length } = self.free.remove(i);
        let (w, l) = self.problem.blanks[blank].size(turned);
        let kerf = self.problem.kerf;
        let (beside, above) = ((width - w).saturating_sub(kerf), (length - l).saturating_sub(kerf));
        let area = |w: u64, l: u64| u128::from(w) * u128::from(l);
        // What is left when the first cut goes along, and when it goes across.
        let along = (area(beside, length), area(w, above));
        let across = (area(width, above), area(beside, l));
        let across_first = match self.rule.split {
            Split::Large => across.0.max(across.1) > along.0.max(along.1),
            Split::Even => across.0.min(across.1) > along.0.min(along.1),
            Split::Along => false,
            Split::Across => true,
        };
        let sheet = &mut self.done.patterns[pattern];
        let sizes = if across_first { [(true, l), (false, w)] } else { [(false, w), (true, l)] };
        let mut part = part;
        let mut left = Vec::new();
        for (across, size) in sizes {
            let (low, high) = sheet.cut(part, across, size, kerf);
            part = low;
            left.extend(high);
        }
        left.extend(sheet.set_piece(self.problem, part, blank, turned));
        for part in left {
            let Rect { width, length, .. } = self.done.patterns[pattern].parts[part].at;
            if width >= self.smallest.0 && length >= self.smallest.1 {
                self.free.push(Free { pattern, part, width, length });
            }
        }
    }
}

/// Changes sheets for cheaper ones that hold what is on them, while there are any.
pub(super) fn shrink(problem: &Problem, filled: &mut Filled) {
    let area =
        |s: usize| u128::from(problem.sheets[s].width) * u128::from(problem.sheets[s].length);
    let mut used = vec![0_u32; problem.sheets.len()];
    for p in &filled.patterns {
        used[p.sheet] += 1;
    }
    for i in 0..filled.patterns.len() {
        let pattern = &filled.patterns[i];
        let now = pattern.sheet;
        // A piece in a cut-out takes no room of its own.
        let nests = pattern.placed().any(|p| !problem.blanks[p.blank].cut_outs.is_empty());
        let needs = if nests { 0 } else { used_area(pattern) };
        let mut cheaper: Vec<usize> = (0..problem.sheets.len())
            .filter(|&s| area(s) >= needs)
            .filter(|&s| problem.sheets[s].cost < problem.sheets[now].cost)
            .filter(|&s| problem.sheets[s].available.is_none_or(|n| used[s] < n))
            .filter(|&s| pattern.placed().all(|p| problem.holds(s, p.blank)))
            .collect();
        cheaper.sort_by_key(|&s| problem.sheets[s].cost);
        if cheaper.is_empty() {
            continue;
        }
        let part = only(problem, pattern);
        let better = cheaper.into_iter().find_map(|s| on_one(&part, s, &mut filled.looked));
        if let Some(better) = better {
            used[now] -= 1;
            used[better.sheet] += 1;
            filled.patterns[i] = better;
        }
    }
}

/// The problem of cutting just what is on a sheet.
pub(super) fn only(problem: &Problem, pattern: &Pattern) -> Problem {
    let mut part = problem.clone();
    part.blanks.iter_mut().for_each(|b| b.count = 0);
    pattern.placed().for_each(|p| part.blanks[p.blank].count += 1);
    part
}

/// Everything that is wanted on one sheet of a kind, when one of the ways to fill it does that.
fn on_one(problem: &Problem, sheet: usize, looked: &mut u64) -> Option<Pattern> {
    let one = |s: usize| u32::from(s == sheet);
    let orders = ORDERS.iter().map(|o| ordered(problem, *o));
    orders.into_iter().find_map(|order| {
        SPLITS.iter().find_map(|&split| {
            let rule = Rule { fit: Fit::ShortSide, split, opens: Some(sheet) };
            let filled = fill(problem, &order, rule, &one);
            *looked += filled.looked + order.len() as u64;
            if filled.left_over.is_empty() { filled.patterns.into_iter().next() } else { None }
        })
    })
}

/// Area of the pieces on a sheet.
pub(super) fn used_area(pattern: &Pattern) -> u128 {
    let pieces = pattern.parts.iter().filter(|p| matches!(p.what, What::Piece { .. }));
    pieces.map(|p| p.at.area()).sum()
}
