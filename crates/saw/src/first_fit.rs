//! A first plan, at once: longest piece first, each into the first bar that still holds it.
//!
//! The plan depends on which length is opened when no bar holds the next piece, so every
//! length is tried in turn, as is the shortest that will do; each bar is then changed for the cheapest that holds
//! what is on it, and the cheapest plan is kept. No claim is made that nothing cheaper exists.
//!
//! Pieces of one length are dealt out together and bars cut alike are one pattern, so the work grows with the
//! number of different lengths and not with the number of pieces.

use std::collections::BTreeMap;

use crate::{CutBar, Pattern, Patterns, Plan, Problem};

/// The best of several first-fit plans, as patterns. Never fails: lengths no bar can give are listed.
pub fn first_fit_patterns(problem: &Problem) -> Patterns {
    let mut lengths = problem.pieces.clone();
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    let wanted: Vec<(u64, usize)> =
        lengths.chunk_by(|a, b| a == b).map(|alike| (alike[0], alike.len())).collect();
    let rules = std::iter::once(None).chain((0..problem.stock.len()).map(Some));
    rules
        .map(|opens| shrink(problem, fill(problem, &wanted, opens)))
        .min_by_key(|plan| (plan.missing(), plan.cost(problem), plan.bars()))
        .unwrap_or_default()
}

/// The best of several first-fit plans, with every piece on its bar: bars of the longest stock first, of one
/// stock those with the longest pieces. Never fails: pieces no bar can give are listed.
pub fn first_fit(problem: &Problem) -> Plan {
    let mut plan = first_fit_patterns(problem);
    plan.patterns.sort_by(|a, b| {
        let stock = |p: &Pattern| problem.stock[p.stock].length;
        stock(b).cmp(&stock(a)).then_with(|| b.lengths().cmp(a.lengths()))
    });
    let mut piles: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
    for (i, &length) in problem.pieces.iter().enumerate().rev() {
        piles.entry(length).or_default().push(i);
    }
    let mut take = |length: u64| piles.get_mut(&length).and_then(Vec::pop);
    let each = plan.patterns.iter().flat_map(|p| std::iter::repeat_n(p, p.bars));
    let bars = each
        .map(|p| CutBar {
            stock: p.stock,
            pieces: p.lengths().filter_map(&mut take).collect(),
            left: p.left,
        })
        .collect();
    let missing = plan.left_over.iter().flat_map(|&(length, n)| std::iter::repeat_n(length, n));
    Plan { bars, left_over: missing.filter_map(&mut take).collect() }
}

/// Fills bars with the wanted lengths, longest first, opening bars of line `opens` where one will do, else the
/// shortest that will. `left` of a pattern counts a saw cut with every piece.
fn fill(problem: &Problem, wanted: &[(u64, usize)], opens: Option<usize>) -> Patterns {
    let mut used = vec![0; problem.stock.len()];
    let mut plan = Patterns::default();
    for &(length, wanted) in wanted {
        let need = length + problem.kerf;
        let mut wanted = wanted;
        let mut i = 0;
        while wanted > 0 && i < plan.patterns.len() {
            if plan.patterns[i].left < need {
                i += 1;
                continue;
            }
            let open = plan.patterns.remove(i);
            let cut = deal(&open, length, need, &mut wanted);
            let after = i + cut.len();
            plan.patterns.splice(i..i, cut);
            i = after;
        }
        while wanted > 0 {
            let free = |line: usize| {
                let s = &problem.stock[line];
                s.available.map_or(usize::MAX, |n| n as usize).saturating_sub(used[line])
            };
            let holds = |&line: &usize| {
                free(line) > 0
                    && problem.room(problem.stock[line].length).is_some_and(|room| room >= need)
            };
            let shortest = || {
                let lines = (0..problem.stock.len()).filter(holds);
                lines.min_by_key(|&line| problem.stock[line].length)
            };
            let Some(line) = opens.filter(holds).or_else(shortest) else {
                plan.left_over.push((length, wanted));
                break;
            };
            let left = problem.room(problem.stock[line].length).unwrap_or(0);
            let bars = free(line).min(wanted.div_ceil(fits(left, need)));
            used[line] += bars;
            let fresh = Pattern { stock: line, cuts: Vec::new(), left, bars };
            plan.patterns.extend(deal(&fresh, length, need, &mut wanted));
        }
    }
    plan
}

/// How many pieces with their cuts go into what is left of a bar.
fn fits(left: u64, need: u64) -> usize {
    left.checked_div(need).map_or(usize::MAX, |n| usize::try_from(n).unwrap_or(usize::MAX))
}

/// Deals pieces of one length to bars cut alike, filling each before the next: full bars, one that takes the last
/// pieces, those that get none.
fn deal(open: &Pattern, length: u64, need: u64, wanted: &mut usize) -> Vec<Pattern> {
    let each = fits(open.left, need);
    let full = open.bars.min(*wanted / each);
    let rest = if full < open.bars { *wanted - full * each } else { 0 };
    let with = |bars: usize, n: usize| {
        let mut cut = Pattern { bars, ..open.clone() };
        if n > 0 {
            cut.cuts.push((length, n));
            cut.left -= need * n as u64;
        }
        cut
    };
    let last = usize::from(rest > 0);
    *wanted -= full * each + rest;
    let parts = [(full, each), (last, rest), (open.bars - full - last, 0)];
    parts.into_iter().filter(|(bars, _)| *bars > 0).map(|(bars, n)| with(bars, n)).collect()
}

/// Changes bars for the cheapest that hold what is on them, while there are any, and turns what is left
/// into what is really left over: the last piece needs no cut after it when it ends at the end of the bar.
fn shrink(problem: &Problem, plan: Patterns) -> Patterns {
    let mut used = vec![0; problem.stock.len()];
    for pattern in &plan.patterns {
        used[pattern.stock] += pattern.bars;
    }
    let mut patterns = Vec::with_capacity(plan.patterns.len());
    for pattern in plan.patterns {
        let need: u64 = pattern.lengths().map(|length| length + problem.kerf).sum();
        let mut bars = pattern.bars;
        while bars > 0 {
            let free = |line: usize| match problem.stock[line].available {
                Some(n) if line != pattern.stock => (n as usize).saturating_sub(used[line]),
                _ => bars,
            };
            let holds = |line: usize| {
                problem.room(problem.stock[line].length).is_some_and(|room| room >= need)
            };
            let lines = (0..problem.stock.len()).filter(|&l| holds(l) && free(l) > 0);
            let best = lines.min_by_key(|&l| (problem.stock[l].cost, problem.stock[l].length));
            let stock = best.unwrap_or(pattern.stock);
            let moved = bars.min(free(stock));
            used[pattern.stock] -= moved;
            used[stock] += moved;
            bars -= moved;
            let room = problem.room(problem.stock[stock].length).unwrap_or(0);
            let left = room.saturating_sub(need).saturating_sub(problem.kerf);
            patterns.push(Pattern { stock, left, bars: moved, ..pattern.clone() });
        }
    }
    Patterns { patterns, ..plan }
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
    fn like_pieces_fill_one_bar_before_the_next() {
        // Three bars take two long pieces each but the last; the short ones go into what they leave.
        let problem = Problem {
            kerf: 0,
            trim: 0,
            stock: stock(&[50_000]),
            pieces: [vec![21_000; 5], vec![8_000; 6]].concat(),
        };
        let plan = first_fit_patterns(&problem);
        let as_cut: Vec<_> = plan.patterns.iter().map(|p| (p.bars, p.cuts.clone())).collect();
        assert_eq!(
            as_cut,
            [
                (2, vec![(21_000, 2), (8_000, 1)]),
                (1, vec![(21_000, 1), (8_000, 3)]),
                (1, vec![(8_000, 1)])
            ]
        );
        check(&problem, &first_fit(&problem));
    }

    #[test]
    fn dealing_alike_pieces_together_comes_to_the_same_as_one_at_a_time() {
        let mut seed = 7_u64;
        let mut random = |below: u64| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % below
        };
        for _ in 0..300 {
            let lengths: Vec<u64> = (0..1 + random(6)).map(|_| 1_000 + random(20_000)).collect();
            let pieces: Vec<u64> =
                (0..random(60)).map(|_| lengths[random(lengths.len() as u64) as usize]).collect();
            let problem =
                Problem { kerf: random(40), trim: random(100), stock: stock(&[24_000]), pieces };
            let plan = first_fit(&problem);
            check(&problem, &plan);
            let mut one_at_a_time: Vec<u64> = Vec::new();
            let mut sorted = problem.pieces.clone();
            sorted.sort_unstable_by(|a, b| b.cmp(a));
            for need in sorted.iter().map(|p| p + problem.kerf) {
                match one_at_a_time.iter_mut().find(|left| **left >= need) {
                    Some(left) => *left -= need,
                    None => one_at_a_time.push(problem.room(24_000).unwrap() - need),
                }
            }
            assert_eq!(plan.bars.len(), one_at_a_time.len(), "{problem:?}");
        }
    }

    #[test]
    fn a_cheap_line_runs_out_in_the_middle_of_bars_cut_alike() {
        let mut lines = stock(&[30_000, 24_000]);
        lines[1].available = Some(2);
        lines[1].cost = 1;
        let problem = Problem { kerf: 0, trim: 0, stock: lines, pieces: vec![20_000; 3] };
        let plan = first_fit(&problem);
        check(&problem, &plan);
        let stocks: Vec<usize> = plan.bars.iter().map(|b| b.stock).collect();
        assert_eq!((stocks, plan.cost(&problem)), (vec![0, 1, 1], 30_002));
    }

    #[test]
    fn trim_and_absurd_numbers_are_harmless() {
        let problem =
            Problem { kerf: 30, trim: 50_000, stock: stock(&[24_000]), pieces: vec![1, 0] };
        assert_eq!(first_fit(&problem).left_over.len(), 2);
        assert_eq!(first_fit(&Problem::default()), Plan::default());
    }
}
