//! Two-dimensional cutting: rectangles to cut, sheets to cut them from; a plan out, with what no plan can do better
//! than. Every cut goes right across what it cuts, as a board is scored and snapped (a *guillotine* cut). All
//! sizes are whole tenths of a millimetre.
//!
//! ```
//! use saw::sheets::{Blank, Problem, Sheet, plan};
//!
//! let strip = Blank { width: 4_000, length: 23_900, turns: false, count: 7, cut_outs: vec![] };
//! let sheet = Sheet { width: 12_000, length: 24_000, cost: 1, available: None };
//! let problem = Problem { kerf: 0, keep: 3_000, sheets: vec![sheet], blanks: vec![strip] };
//! let plan = plan(&problem);
//! assert_eq!(plan.cost(&problem), 3);
//! assert!(plan.proven(&problem));
//! ```

mod problem;
mod plan;
mod bound;
mod fill;
mod small;

use fill::{FITS, Filled, ORDERS, Order, Rule, SPLITS, fill, ordered, shrink, used_area};
pub use plan::{Cut, Part, Pattern, Placed, Plan, What};
pub use problem::{Blank, Problem, Rect, Sheet};

/// Sides beyond this are absurd: such sheets and pieces are left out, tenths of a millimetre.
const ABSURD: u64 = 1_000_000_000;
/// So many offcuts are looked at for one plan, once the first one is there.
const LOOKED: u64 = 2_000_000;
/// So much is looked at to find the best plan of few pieces: up to twelve different ones.
const WORK: u64 = 1_200_000;
/// So many orders are tried that are none of the usual ones.
const SHUFFLED: usize = 60;
/// So many sheets at most are cut anew together, so often, with so much to look at each time.
const TOGETHER: usize = 5;
const ROUNDS: usize = 400;
const WORK_TOGETHER: u64 = 40_000;

/// The cheapest plan found, of those the one with the fewest sheets, of those the one with the largest
/// offcuts. Never fails: pieces no sheet can give are listed. The time grows with the number of pieces; it is
/// counted in steps, so the answer is always the same.
pub fn plan(problem: &Problem) -> Plan {
    let mut rest = problem.clone();
    let sane = |side: u64| side > 0 && side <= ABSURD;
    rest.kerf = rest.kerf.min(ABSURD);
    for sheet in &mut rest.sheets {
        if !(sane(sheet.width) && sane(sheet.length)) {
            (sheet.width, sheet.length) = (0, 0);
        }
    }
    let kinds = 0..rest.sheets.len();
    let mut left_over = Vec::new();
    for i in 0..rest.blanks.len() {
        let blank = &rest.blanks[i];
        let fits = sane(blank.width) && sane(blank.length);
        if !(fits && kinds.clone().any(|k| rest.holds(k, i))) {
            left_over.extend((blank.count > 0).then_some((i, blank.count)));
            rest.blanks[i].count = 0;
        }
        let sound = |c: &Rect| sane(c.width) && sane(c.length) && inside(&rest.blanks[i], c);
        let cut_outs = rest.blanks[i].cut_outs.iter().all(sound);
        if !cut_outs {
            rest.blanks[i].cut_outs.clear();
        }
    }
    let mut patterns = whole_sheets(&mut rest);
    let base = Plan { patterns: patterns.clone(), ..Plan::default() };
    let cost = |k: usize| rest.sheets[k].cost;
    let buys = |k: usize| u64::from(rest.sheets[k].cost > 0);
    let least_sheets = bound::least(&rest, &buys);
    // Where all that are bought cost the same the one is the other.
    let one = rest.sheets.iter().map(|s| s.cost).max().unwrap_or(0);
    let mut least_cost = if rest.sheets.iter().all(|s| s.cost == 0 || s.cost == one) {
        least_sheets.saturating_mul(one)
    } else {
        bound::least(&rest, &cost)
    };

    let (filled, proven) = fill_best(&rest, least_cost);
    if proven {
        least_cost = filled.cost(&rest);
    }
    patterns.extend(filled.patterns);
    left_over.extend(filled.left_over);
    left_over.sort_unstable();
    Plan {
        patterns: alike(patterns),
        left_over,
        least_cost: base.cost(&rest).saturating_add(least_cost),
        least_sheets: base.bought(&rest) + least_sheets,
    }
}

fn inside(blank: &Blank, c: &Rect) -> bool {
    let within = |from: u64, size: u64, whole: u64| from <= whole && size <= whole - from;
    within(c.x, c.width, blank.width) && within(c.y, c.length, blank.length)
}

/// Takes away the pieces that only one kind of sheet gives and that leave nothing of it for any other: each has a
/// sheet to itself, in every plan.
fn whole_sheets(rest: &mut Problem) -> Vec<Pattern> {
    let mut patterns = Vec::new();
    let mut alone = Vec::new();
    for (i, blank) in rest.blanks.iter().enumerate().filter(|(_, b)| b.count > 0) {
        let mut kinds = (0..rest.sheets.len()).filter(|&k| rest.holds(k, i));
        let (Some(kind), None) = (kinds.next(), kinds.next()) else { continue };
        let sheet = &rest.sheets[kind];
        let leaves = blank.ways().any(|(_, w, l)| {
            let left = |whole: u64, part: u64| whole.saturating_sub(part + rest.kerf);
            w <= sheet.width
                && l <= sheet.length
                && (rest.something_fits(left(sheet.width, w), sheet.length)
                    || rest.something_fits(sheet.width, left(sheet.length, l)))
        });
        if sheet.available.is_none() && !leaves && !rest.nests(blank) {
            alone.push((i, kind));
        }
    }
    for (i, kind) in alone {
        let rule = Rule { fit: FITS[0], split: SPLITS[0], opens: Some(kind) };
        let filled = fill(rest, &[(i, 1)], rule, &|_| 1);
        let count = std::mem::take(&mut rest.blanks[i].count);
        patterns.extend(filled.patterns.into_iter().map(|p| Pattern { count, ..p }));
    }
    patterns
}

/// The best filling found, and whether it is proven to be the cheapest.
fn fill_best(problem: &Problem, least: u64) -> (Filled, bool) {
    let mut best = Best { problem, least, best: None, looked: 0 };
    let usual: Vec<Vec<(usize, u32)>> = ORDERS.iter().map(|o| ordered(problem, *o)).collect();
    let opens: Vec<Option<usize>> =
        std::iter::once(None).chain((0..problem.sheets.len()).map(Some)).collect();
    let opens = if problem.sheets.len() > 1 { &opens[..] } else { &opens[..1] };
    // Orders change fastest, so that what is tried before the work runs out is not all of one kind.
    for &fit in &FITS {
        for &split in &SPLITS {
            for &opens in opens {
                for order in &usual {
                    best.try_order(order, Rule { fit, split, opens });
                }
            }
        }
    }
    let nests = problem.blanks.iter().any(|b| b.count > 0 && problem.nests(b));
    let mut work = WORK;
    if let Some(patterns) = small::best(problem, &mut work) {
        best.take(Filled { patterns, ..Filled::default() });
        if !nests {
            return (best.best.unwrap_or_default(), true);
        }
    }
    best.shuffle();
    best.together();
    let filled = best.best.unwrap_or_default();
    (filled, false)
}

struct Best<'a> {
    problem: &'a Problem,
    least: u64,
    best: Option<Filled>,
    looked: u64,
}

impl Best<'_> {
    /// True when nothing cheaper is possible.
    fn done(&self) -> bool {
        let best = self.best.as_ref();
        best.is_some_and(|b| b.left_over.is_empty() && b.cost(self.problem) <= self.least)
    }

    fn take(&mut self, new: Filled) {
        let worth = |f: &Filled| f.worth(self.problem);
        if self.best.as_ref().is_none_or(|b| worth(&new) < worth(b)) {
            self.best = Some(new);
        }
    }

    fn try_order(&mut self, order: &[(usize, u32)], rule: Rule) {
        if self.looked > LOOKED && self.best.is_some() {
            return;
        }
        let most = |k: usize| self.problem.sheets[k].available.unwrap_or(u32::MAX);
        let mut filled = fill(self.problem, order, rule, &most);
        self.looked += filled.looked;
        shrink(self.problem, &mut filled);
        self.take(filled);
    }

    /// Tries orders near the usual ones, from a fixed seed.
    fn shuffle(&mut self) {
        let mut random = Random(1);
        for i in 0..SHUFFLED {
            if self.done() || self.looked > LOOKED {
                return;
            }
            let order = shuffled(self.problem, ORDERS[i % ORDERS.len()], &mut random);
            let (fit, split) = (FITS[random.below(FITS.len())], SPLITS[random.below(SPLITS.len())]);
            self.try_order(&order, Rule { fit, split, opens: None });
        }
    }

    /// Cuts a few sheets anew, the best way there is, again and again: an empty one and some that are not full. What
    /// costs the same is kept when it leaves larger offcuts, so that sheets run empty.
    fn together(&mut self) {
        let Some(mut best) = self.best.take() else { return };
        let (mut random, mut work) = (Random(2), WORK);
        for round in 0..ROUNDS {
            let done = best.left_over.is_empty() && best.cost(self.problem) <= self.least;
            if done || best.patterns.len() < 2 || work == 0 {
                break;
            }
            best.patterns.sort_by_cached_key(used_area);
            let most = best.patterns.len().min(TOGETHER);
            let mut group: Vec<usize> = Vec::new();
            if round < most {
                group.extend(0..=round.max(1));
            } else {
                group.push(random.below(best.patterns.len().div_ceil(4)));
                for _ in 0..1 + random.below(most - 1) {
                    group.push(random.below(best.patterns.len()));
                }
            }
            group.sort_unstable();
            group.dedup();
            self.anew(&mut best, &group, &mut work);
        }
        self.best = Some(best);
    }

    /// Cuts these sheets anew, when that is better.
    fn anew(&self, filled: &mut Filled, group: &[usize], work: &mut u64) {
        let mut part = self.problem.clone();
        part.blanks.iter_mut().for_each(|b| b.count = 0);
        let sheets = || group.iter().map(|&i| &filled.patterns[i]);
        for placed in sheets().flat_map(Pattern::placed) {
            part.blanks[placed.blank].count += 1;
        }
        for (k, sheet) in part.sheets.iter_mut().enumerate() {
            let all = filled.patterns.iter().filter(|p| p.sheet == k).count();
            let here = sheets().filter(|p| p.sheet == k).count();
            sheet.available = sheet.available.map(|n| n.saturating_sub((all - here) as u32));
        }
        let mut own = (*work).min(WORK_TOGETHER);
        let before = own;
        let found = small::best(&part, &mut own);
        *work -= (before - own).max(1).min(*work);
        let worth =
            |patterns: Vec<Pattern>| Filled { patterns, ..Filled::default() }.worth(self.problem);
        let now = worth(sheets().cloned().collect());
        if let Some(patterns) = found.filter(|patterns| worth(patterns.clone()) < now) {
            for &i in group.iter().rev() {
                filled.patterns.swap_remove(i);
            }
            filled.patterns.extend(patterns);
        }
    }
}

/// An order near a usual one, piece by piece.
fn shuffled(problem: &Problem, order: Order, random: &mut Random) -> Vec<(usize, u32)> {
    let mut order: Vec<(usize, u32)> = ordered(problem, order)
        .into_iter()
        .flat_map(|(blank, n)| std::iter::repeat_n((blank, 1), n as usize))
        .collect();
    for _ in 0..1 + order.len() / 4 {
        let from = random.below(order.len());
        let piece = order.remove(from);
        order.insert(random.below(order.len() + 1), piece);
    }
    order
}

/// Numbers that look like chance and are always the same.
struct Random(u64);

impl Random {
    fn below(&mut self, n: usize) -> usize {
        let next = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = next.wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n.max(1)
    }
}

/// Sheets cut alike together, kind by kind, the fullest first.
fn alike(mut patterns: Vec<Pattern>) -> Vec<Pattern> {
    patterns.sort_by(|a, b| {
        let key = |p: &Pattern| (p.sheet, std::cmp::Reverse(used_area(p)));
        key(a).cmp(&key(b)).then_with(|| a.parts.cmp(&b.parts))
    });
    let mut together: Vec<Pattern> = Vec::new();
    for pattern in patterns {
        match together.last_mut() {
            Some(last) if last.sheet == pattern.sheet && last.parts == pattern.parts => {
                last.count += pattern.count;
            }
            _ => together.push(pattern),
        }
    }
    together
}

#[cfg(test)]
mod tests;
