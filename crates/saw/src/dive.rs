//! Whole bars out of parts of bars: patterns of which the linear programme wants a whole bar are taken, then the one it
//! wants most of, and what is left is worked out again. A wrong turn is taken back so many times.

use crate::columns::{Look, Master, Shop};
use crate::first_fit::complete;
use crate::lp::Stopped;
use crate::model::{Bars, Column};
use crate::{Demand, Pattern, Patterns};

/// Missing, for the longest bar as 1, that is rounding only.
const NOTHING: f64 = 1e-6;

/// How to dive.
pub(crate) struct Style {
    /// Where chance begins; 0 leaves nothing to it.
    pub(crate) chance: u64,
    /// Wrong turns that may be taken back.
    pub(crate) turns_back: usize,
    /// Whole bars are taken of one pattern at a time, that with the most: it takes longer and makes fewer patterns.
    pub(crate) one_by_one: bool,
}

/// What a dive came to.
pub(crate) enum Dive {
    /// All pieces from the bars there are.
    Whole(Bars),
    /// Some pieces are missing: the bars taken, and the pieces.
    Short(Bars, Vec<u64>),
}

/// Where a pattern was taken that may have been the wrong one.
struct Turn {
    master: Master,
    pieces: Vec<u64>,
    bars: Vec<u64>,
    taken: usize,
    pattern: usize,
}

/// Dives from a programme that is solved for `pieces` and `bars`; one that keeps the cost small does with the patterns
/// it has.
pub(crate) fn dive(
    shop: &mut Shop<'_>,
    mut master: Master,
    pieces: &[u64],
    bars: &[u64],
    style: &Style,
) -> Result<Dive, Stopped> {
    let mut pieces = pieces.to_vec();
    let mut bars = bars.to_vec();
    let mut taken: Bars = Vec::new();
    let mut chance = style.chance;
    let mut turns_back = style.turns_back;
    // Where the last turn was taken that may be wrong, and which.
    let mut back: Vec<Turn> = Vec::new();
    loop {
        if master.missing(shop.model) > NOTHING {
            let turn = if turns_back > 0 { back.pop() } else { None };
            let Some(turn) = turn else { return Ok(Dive::Short(taken, pieces)) };
            turns_back -= 1;
            (master, pieces, bars) = (turn.master, turn.pieces, turn.bars);
            taken.truncate(turn.taken);
            master.shut(turn.pattern);
            let most = pieces.clone();
            master.grow(shop, &most, &mut |_, _| Look::On)?;
            if master.missing(shop.model) > NOTHING {
                continue;
            }
        }
        let used: Vec<(usize, f64)> = master.used().collect();
        let before = taken.len();
        let mut whole_ones = used.clone();
        if style.one_by_one {
            whole_ones.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
            whole_ones.truncate(1);
        }
        for &(at, x) in &whole_ones {
            let column = &shop.columns.all[at];
            let room = |n: u64| {
                column.cuts.iter().fold(n.min(bars[column.line]), |n, &(i, a)| n.min(pieces[i] / a))
            };
            let whole = room((x + 1e-6).floor().max(0.0) as u64);
            if whole > 0 {
                take(column, whole, &mut pieces, &mut bars, &mut taken);
            }
        }
        if taken.len() == before {
            let mut best: Option<(f64, usize)> = None;
            for &(at, x) in &used {
                let column = &shop.columns.all[at];
                if bars[column.line] == 0 || column.cuts.iter().any(|&(i, n)| pieces[i] < n) {
                    continue;
                }
                let luck = if style.chance == 0 { 0.0 } else { 0.4 * random(&mut chance) };
                let longest = shop.model.items[column.cuts[0].0].need as f64;
                let wish = x + luck + 0.05 * longest / shop.model.longest() as f64;
                if best.is_none_or(|b| wish > b.0) {
                    best = Some((wish, at));
                }
            }
            let Some((_, at)) = best else { return Ok(Dive::Short(taken, pieces)) };
            if turns_back > 0 {
                back.push(Turn {
                    master: master.clone(),
                    pieces: pieces.clone(),
                    bars: bars.clone(),
                    taken: taken.len(),
                    pattern: at,
                });
                if back.len() > 6 {
                    back.remove(0);
                }
            }
            take(&shop.columns.all[at], 1, &mut pieces, &mut bars, &mut taken);
        }
        if pieces.iter().all(|n| *n == 0) {
            return Ok(Dive::Whole(taken));
        }
        if master.is_for_cost() {
            master.change(shop, &pieces, &bars)?;
            continue;
        }
        if let Some(rest) = fits(shop, &pieces, &bars) {
            taken.extend(rest);
            return Ok(Dive::Whole(taken));
        }
        master.change(shop, &pieces, &bars)?;
        let most = pieces.clone();
        master.grow(shop, &most, &mut |_, _| Look::On)?;
    }
}

fn random(state: &mut u64) -> f64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*state >> 40) as f64 / (1_u64 << 24) as f64
}

fn take(column: &Column, n: u64, pieces: &mut [u64], bars: &mut [u64], taken: &mut Bars) {
    bars[column.line] -= n;
    for &(i, each) in &column.cuts {
        pieces[i] -= each * n;
    }
    taken.push((column.clone(), n));
}

fn wanted(shop: &Shop<'_>, pieces: &[u64]) -> Vec<Demand> {
    let items = shop.model.items.iter().zip(pieces);
    items.filter(|(_, n)| **n > 0).map(|(i, n)| Demand { piece: i.piece, count: *n }).collect()
}

fn free(shop: &Shop<'_>, bars: &[u64]) -> Vec<u64> {
    let mut free = vec![0; shop.problem.stock.len()];
    for (line, n) in shop.model.lines.iter().zip(bars) {
        free[line.stock] = *n;
    }
    free
}

/// The pieces from the bars by first fit, if they all fit.
fn fits(shop: &Shop<'_>, pieces: &[u64], bars: &[u64]) -> Option<Bars> {
    let room: u64 = shop.model.lines.iter().zip(bars).map(|(l, n)| l.room.saturating_mul(*n)).sum();
    let need: u64 = shop.model.items.iter().zip(pieces).map(|(i, n)| i.need * n).sum();
    if need > room {
        return None;
    }
    let longest = (0..shop.problem.stock.len()).max_by_key(|&s| shop.problem.stock[s].length);
    let rules = [None, longest].into_iter();
    let plan = complete(shop.problem, &wanted(shop, pieces), &free(shop, bars), rules);
    (plan.missing() == 0).then(|| exact(shop, &plan))
}

/// The bars of a plan made of the model's own lines.
fn exact(shop: &Shop<'_>, plan: &Patterns) -> Bars {
    let of = |p: &Pattern| {
        let line = shop.model.lines.iter().position(|l| l.stock == p.stock)?;
        let cuts = p.cuts.iter().filter_map(|&(l, n)| Some((shop.model.item(l)?, n as u64)));
        Some((Column { line, cuts: cuts.collect() }, p.bars as u64))
    };
    plan.patterns.iter().filter_map(of).collect()
}

/// Bars that are taken, and what is then missing by first fit from all bars that are left.
pub(crate) fn filled_up(shop: &Shop<'_>, taken: &Bars, pieces: &[u64]) -> Option<Patterns> {
    let mut bars = shop.model.bars();
    for (column, n) in taken {
        bars[column.line] = bars[column.line].checked_sub(*n)?;
    }
    let free = free(shop, &bars);
    let rules = std::iter::once(None).chain((0..free.len()).filter(|&s| free[s] > 0).map(Some));
    let rest = complete(shop.problem, &wanted(shop, pieces), &free, rules);
    if rest.missing() > 0 {
        return None;
    }
    let mut all = taken.clone();
    all.extend(exact(shop, &rest));
    shop.model.plan(shop.problem, &all)
}

/// Plans from bars in parts: those of which there is more than a threshold are rounded up, the others down, and
/// what is missing is filled up.
pub(crate) fn rounded(shop: &Shop<'_>, parts: &[(usize, f64)]) -> Vec<Patterns> {
    let mut plans = Vec::new();
    let mut parts = parts.to_vec();
    parts.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    for threshold in [0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 0.999] {
        let mut pieces = shop.model.counts();
        let mut bars = shop.model.bars();
        let mut taken = Vec::new();
        for up in [false, true] {
            for &(at, x) in &parts {
                let column = &shop.columns.all[at];
                let rest = x - x.floor();
                let n = match up {
                    false => (x + 1e-3).floor() as u64,
                    true => u64::from(rest > threshold && rest < 1.0 - 1e-3),
                };
                let most = |n: u64| {
                    let n = n.min(bars[column.line]);
                    column.cuts.iter().fold(n, |n, &(i, a)| n.min(pieces[i] / a))
                };
                let n = most(n);
                if n > 0 {
                    take(column, n, &mut pieces, &mut bars, &mut taken);
                }
            }
        }
        plans.extend(filled_up(shop, &taken, &pieces));
    }
    plans
}
