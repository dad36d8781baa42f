//! A first plan, at once: longest piece first, each into the first bar that still holds it.
//!
//! The plan depends on which length is opened when no bar holds the next piece, so every
//! length is tried in turn, as is the shortest that will do; each bar is then changed for the cheapest that holds
//! what is on it, and the cheapest plan is kept. No claim is made that nothing cheaper exists.

use crate::{CutBar, Plan, Problem};

/// The best of several first-fit plans. Never fails: pieces no bar can give are listed.
pub fn first_fit(problem: &Problem) -> Plan {
    let mut order: Vec<usize> = (0..problem.pieces.len()).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(problem.pieces[i]));
    let rules = std::iter::once(None).chain((0..problem.stock.len()).map(Some));
    rules
        .map(|opens| shrink(problem, fill(problem, &order, opens)))
        .min_by_key(|plan| (plan.left_over.len(), plan.cost(problem), plan.bars.len()))
        .map(|plan| in_order(problem, plan))
        .unwrap_or_default()
}

/// A bar while it is being filled; `left` counts a saw cut with every piece.
struct Open {
    stock: usize,
    left: u64,
    pieces: Vec<usize>,
}

/// Fills bars in the given order of pieces, opening bars of line `opens` where one will do, else the
/// shortest that will.
fn fill(problem: &Problem, order: &[usize], opens: Option<usize>) -> Plan {
    let mut used = vec![0u32; problem.stock.len()];
    let mut bars: Vec<Open> = Vec::new();
    let mut left_over = Vec::new();
    // The first bar that may hold a piece as long as the last one: those before it did not.
    let (mut last, mut first) = (u64::MAX, 0);
    for &piece in order {
        let need = problem.pieces[piece] + problem.kerf;
        if need != last {
            (last, first) = (need, 0);
        }
        first += bars[first..].iter().position(|b| b.left >= need).unwrap_or(bars.len() - first);
        if let Some(bar) = bars.get_mut(first) {
            bar.left -= need;
            bar.pieces.push(piece);
            continue;
        }
        let holds = |line: usize| {
            let s = &problem.stock[line];
            problem
                .room(s.length)
                .filter(|room| *room >= need && s.available.is_none_or(|n| used[line] < n))
        };
        let shortest = || {
            (0..problem.stock.len())
                .filter(|&l| holds(l).is_some())
                .min_by_key(|&l| problem.stock[l].length)
        };
        match opens.filter(|&l| holds(l).is_some()).or_else(shortest) {
            Some(line) => {
                used[line] += 1;
                let room = problem.room(problem.stock[line].length).unwrap_or(0);
                bars.push(Open { stock: line, left: room - need, pieces: vec![piece] });
            }
            None => left_over.push(piece),
        }
    }
    let bars = bars
        .into_iter()
        .map(|b| CutBar { stock: b.stock, pieces: b.pieces, left: b.left })
        .collect();
    Plan { bars, left_over }
}

/// Changes each bar for the cheapest that holds what is on it, while there are any, and turns what is left
/// into what is really left over: the last piece needs no cut after it when it ends at the end of the bar.
fn shrink(problem: &Problem, mut plan: Plan) -> Plan {
    let mut used = vec![0u32; problem.stock.len()];
    for bar in &plan.bars {
        used[bar.stock] += 1;
    }
    for bar in &mut plan.bars {
        let need: u64 = bar.pieces.iter().map(|&p| problem.pieces[p] + problem.kerf).sum();
        let better = (0..problem.stock.len())
            .filter(|&l| problem.room(problem.stock[l].length).is_some_and(|room| room >= need))
            .filter(|&l| l == bar.stock || problem.stock[l].available.is_none_or(|n| used[l] < n))
            .min_by_key(|&l| (problem.stock[l].cost, problem.stock[l].length));
        if let Some(line) = better {
            used[bar.stock] -= 1;
            used[line] += 1;
            bar.stock = line;
        }
        let room = problem.room(problem.stock[bar.stock].length).unwrap_or(0);
        bar.left = (room - need).saturating_sub(problem.kerf);
    }
    plan
}

/// Longest bars first; of one length, those cut alike together.
fn in_order(problem: &Problem, mut plan: Plan) -> Plan {
    let lengths =
        |bar: &CutBar| -> Vec<u64> { bar.pieces.iter().map(|&p| problem.pieces[p]).collect() };
    plan.bars.sort_by(|a, b| {
        let key = |bar: &CutBar| (problem.stock[bar.stock].length, lengths(bar));
        key(b).cmp(&key(a)).then_with(|| a.pieces.cmp(&b.pieces))
    });
    plan
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::StockLine;

    fn stock(lengths: &[u64]) -> Vec<StockLine> {
        lengths.iter().map(|&length| StockLine { length, cost: length, available: None }).collect()
    }

    /// Every piece once; every bar within its length.
    fn check(problem: &Problem, plan: &Plan) {
        let mut seen: Vec<usize> =
            plan.bars.iter().flat_map(|b| b.pieces.clone()).chain(plan.left_over.clone()).collect();
        seen.sort_unstable();
        assert_eq!(seen, (0..problem.pieces.len()).collect::<Vec<_>>());
        for bar in &plan.bars {
            let cuts: u64 = bar.pieces.iter().map(|&p| problem.pieces[p]).sum();
            let kerfs = problem.kerf * (bar.pieces.len() as u64 - 1);
            assert!(cuts + kerfs + problem.trim <= problem.stock[bar.stock].length);
        }
    }

    #[test]
    fn the_last_piece_needs_no_cut_after_it() {
        let problem =
            Problem { kerf: 30, trim: 0, stock: stock(&[24_000]), pieces: vec![11_985, 11_985] };
        let plan = first_fit(&problem);
        check(&problem, &plan);
        assert_eq!((plan.bars.len(), plan.bars[0].left), (1, 0));
        assert!(plan.proven(&problem));
    }

    #[test]
    fn a_piece_longer_than_every_bar_is_left_over() {
        let problem = Problem {
            kerf: 30,
            trim: 0,
            stock: stock(&[24_000, 48_000]),
            pieces: vec![48_001, 100],
        };
        let plan = first_fit(&problem);
        check(&problem, &plan);
        assert_eq!(plan.left_over, [0]);
        assert_eq!(plan.bars[0].stock, 0);
        assert!(!plan.proven(&problem));
    }

    #[test]
    fn owned_bars_run_out() {
        let mut lines = stock(&[30_000]);
        lines[0].available = Some(1);
        let problem = Problem { kerf: 0, trim: 0, stock: lines, pieces: vec![20_000, 20_000] };
        let plan = first_fit(&problem);
        check(&problem, &plan);
        assert_eq!((plan.bars.len(), plan.left_over.len()), (1, 1));
    }

    #[test]
    fn a_bar_is_changed_for_the_cheapest_that_holds_it() {
        let problem = Problem {
            kerf: 30,
            trim: 0,
            stock: stock(&[24_000, 30_000, 48_000]),
            pieces: vec![23_240; 3],
        };
        let plan = first_fit(&problem);
        check(&problem, &plan);
        assert_eq!(plan.cost(&problem), 72_000);
    }

    #[test]
    fn trim_and_absurd_numbers_are_harmless() {
        let problem =
            Problem { kerf: 30, trim: 50_000, stock: stock(&[24_000]), pieces: vec![1, 0] };
        assert_eq!(first_fit(&problem).left_over.len(), 2);
        assert_eq!(first_fit(&Problem::default()), Plan::default());
    }
}
