//! A first plan, at once: longest piece first, each into the first bar that still holds it.
//!
//! The plan depends on which length is opened when no bar holds the next piece, so every
//! length is tried in turn, as is the shortest that will do; each bar is then changed for the cheapest that holds
//! what is on it, and the cheapest plan is kept. No claim is made that nothing cheaper exists.
//!
//! Pieces of one length are dealt out together and bars cut alike are one pattern, so the work grows with the
//! number of different lengths and not with the number of pieces.

use crate::{Demand, Pattern, Patterns, Piece, Problem, StockLine};

/// The best of several first-fit plans, as patterns. Never fails: lengths no bar can give are listed.
pub fn first_fit_patterns(problem: &Problem) -> Patterns {
    let free: Vec<u64> = problem.stock.iter().map(bars_of).collect();
    let rules = std::iter::once(None).chain((0..problem.stock.len()).map(Some));
    complete(problem, &problem.gathered(), &free, rules)
}

/// How many bars of a line there are.
pub(crate) fn bars_of(line: &StockLine) -> u64 {
    line.available.map_or(u64::MAX, u64::from)
}

/// The best first-fit plan of those that `opens` says: `wanted` (longest first) from `free` bars of each line.
pub(crate) fn complete(
    problem: &Problem,
    wanted: &[Demand],
    free: &[u64],
    opens: impl Iterator<Item = Option<usize>>,
) -> Patterns {
    // Where not all bars are straight, pieces that have to be may have to come first.
    let sorted = problem.stock.iter().any(|s| s.bowed) && wanted.iter().any(|d| d.piece.straight);
    let mut first = wanted.to_vec();
    first.sort_by_key(|d| !d.piece.straight);
    let orders = [wanted, &first];
    let orders = if sorted { &orders[..] } else { &orders[..1] };
    opens
        .flat_map(|opens| orders.iter().map(move |wanted| (opens, *wanted)))
        .map(|(opens, wanted)| shrink(problem, fill(problem, wanted, free, opens), free))
        .min_by_key(|plan| (plan.missing(), plan.cost(problem), plan.bought(problem), plan.bars()))
        .unwrap_or_default()
}

/// Fills bars with the wanted lengths, longest first, opening bars of line `opens` where one will do, else the
/// shortest that will. `left` of a pattern counts a saw cut with every piece.
fn fill(problem: &Problem, wanted: &[Demand], free: &[u64], opens: Option<usize>) -> Patterns {
    let mut free = free.to_vec();
    let rooms: Vec<u64> =
        problem.stock.iter().map(|s| problem.room(s.length).unwrap_or(0)).collect();
    let mut plan = Patterns::default();
    for &Demand { piece, count } in wanted {
        let need = piece.length + problem.kerf;
        let mut wanted = count as usize;
        let mut i = 0;
        while wanted > 0 && i < plan.patterns.len() {
            if fits(problem, &plan.patterns[i], piece) == 0 {
                i += 1;
                continue;
            }
            let open = plan.patterns.remove(i);
            let cut = deal(problem, &open, piece, &mut wanted);
            let after = i + cut.len();
            plan.patterns.splice(i..i, cut);
            i = after;
        }
        while wanted > 0 {
            let holds =
                |&line: &usize| free[line] > 0 && rooms[line] >= need && problem.gives(line, piece);
            let shortest = || {
                let lines = (0..problem.stock.len()).filter(holds);
                lines.min_by_key(|&line| (problem.stock[line].length, !problem.stock[line].bowed))
            };
            let Some(line) = opens.filter(holds).or_else(shortest) else {
                plan.left_over.push((piece, wanted));
                break;
            };
            let fresh = Pattern { stock: line, cuts: Vec::new(), left: rooms[line], bars: 1 };
            let each = fits(problem, &fresh, piece).max(1);
            let bars = free[line].min(wanted.div_ceil(each) as u64);
            free[line] -= bars;
            let fresh = Pattern { bars: bars as usize, ..fresh };
            plan.patterns.extend(deal(problem, &fresh, piece, &mut wanted));
        }
    }
    plan
}

/// How many of a piece, with their cuts, go into what is left of a bar.
fn fits(problem: &Problem, open: &Pattern, piece: Piece) -> usize {
    if !problem.gives(open.stock, piece) {
        return 0;
    }
    let longest = open.cuts.iter().map(|cut| cut.0.length).max().unwrap_or(0).max(piece.length);
    let left = open.left.saturating_sub(problem.hold.saturating_sub(longest));
    let each = piece.length + problem.kerf;
    let mut n = left.checked_div(each).unwrap_or(u64::MAX);
    if problem.ends(piece).0 > 0 {
        // Its ends may lie against others.
        let more = |n: u64| takes_more(problem, open, piece, n) <= left;
        while more(n + 1) {
            n += 1;
        }
    }
    usize::try_from(n).unwrap_or(usize::MAX)
}

/// What so many more of a piece take of a bar.
fn takes_more(problem: &Problem, open: &Pattern, piece: Piece, n: u64) -> u64 {
    let cuts = open.cuts.iter().map(|&(piece, n)| (piece, n as u64));
    problem.takes(cuts.chain([(piece, n)])) - open.takes(problem)
}

/// Deals pieces that are alike to bars cut alike, filling each before the next: full bars, one that takes the last
/// pieces, those that get none.
fn deal(problem: &Problem, open: &Pattern, piece: Piece, wanted: &mut usize) -> Vec<Pattern> {
    let each = fits(problem, open, piece).max(1);
    let full = open.bars.min(*wanted / each);
    let rest = if full < open.bars { *wanted - full * each } else { 0 };
    let with = |bars: usize, n: usize| {
        let mut cut = Pattern { bars, ..open.clone() };
        if n > 0 {
            cut.left -= takes_more(problem, open, piece, n as u64);
            cut.cuts.push((piece, n));
        }
        cut
    };
    let last = usize::from(rest > 0);
    *wanted -= full * each + rest;
    let parts = [(full, each), (last, rest), (open.bars - full - last, 0)];
    parts.into_iter().filter(|(bars, _)| *bars > 0).map(|(bars, n)| with(bars, n)).collect()
}

/// Changes bars for the cheapest that hold what is on them (of those the shortest), while there are any, and turns
/// what is left into what is really left over: the last piece needs no cut after it when it ends at the end of
/// the bar. `there` is how many bars of each line there are in all.
pub(crate) fn shrink(problem: &Problem, plan: Patterns, there: &[u64]) -> Patterns {
    let mut free = there.to_vec();
    for pattern in &plan.patterns {
        free[pattern.stock] = free[pattern.stock].saturating_sub(pattern.bars as u64);
    }
    let mut patterns: Vec<Pattern> = Vec::with_capacity(plan.patterns.len());
    for pattern in plan.patterns {
        let need = pattern.takes(problem);
        let longest = pattern.cuts.iter().map(|cut| cut.0.length).max().unwrap_or(0);
        let spare = |line: usize| {
            if pattern.cuts.iter().any(|cut| !problem.gives(line, cut.0)) {
                return None;
            }
            let spare = problem.room(problem.stock[line].length)?.checked_sub(need)?;
            problem.holds(longest, spare).then_some(spare)
        };
        let mut bars = pattern.bars as u64;
        while bars > 0 {
            let better =
                |&line: &usize| line != pattern.stock && free[line] > 0 && spare(line).is_some();
            let lines = (0..problem.stock.len()).filter(better).chain([pattern.stock]);
            let line = |l: &usize| &problem.stock[*l];
            let key = |l: &usize| (line(l).cost, line(l).length, !line(l).bowed);
            let stock = lines.min_by_key(key).unwrap_or(pattern.stock);
            let moved = if stock == pattern.stock { bars } else { bars.min(free[stock]) };
            if stock != pattern.stock {
                free[pattern.stock] = free[pattern.stock].saturating_add(moved);
                free[stock] -= moved;
            }
            bars -= moved;
            let left = spare(stock).unwrap_or(0).saturating_sub(problem.kerf);
            patterns.push(Pattern { stock, left, bars: moved as usize, ..pattern.clone() });
        }
    }
    Patterns { patterns, ..plan }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Plan, demands};

    fn stock(lengths: &[u64]) -> Vec<StockLine> {
        lengths.iter().map(|&length| StockLine::new(length, length)).collect()
    }

    fn problem(kerf: u64, stock: Vec<StockLine>, lengths: &[u64]) -> Problem {
        Problem { kerf, stock, pieces: demands(lengths), ..Problem::default() }
    }

    /// The plan, in which every piece is once and every bar within its length.
    fn planned(problem: &Problem, lengths: &[u64]) -> Plan {
        let mut plan = first_fit_patterns(problem);
        plan.longest_first(problem);
        let plan = plan.deal(lengths);
        let mut seen: Vec<usize> =
            plan.bars.iter().flat_map(|b| b.pieces.clone()).chain(plan.left_over.clone()).collect();
        seen.sort_unstable();
        assert_eq!(seen, (0..lengths.len()).collect::<Vec<_>>());
        for bar in &plan.bars {
            let cuts: u64 = bar.pieces.iter().map(|&p| lengths[p]).sum();
            let kerfs = problem.kerf * (bar.pieces.len() as u64 - 1);
            assert!(cuts + kerfs + problem.trim <= problem.stock[bar.stock].length);
            let longest = bar.pieces.iter().map(|&p| lengths[p]).max().unwrap();
            let whole = problem.stock[bar.stock].length - problem.trim;
            assert!(longest + whole - cuts - kerfs >= problem.hold);
        }
        plan
    }

    #[test]
    fn the_last_piece_needs_no_cut_after_it() {
        let lengths = [11_985, 11_985];
        let plan = planned(&problem(30, stock(&[24_000]), &lengths), &lengths);
        assert_eq!((plan.bars.len(), plan.bars[0].left), (1, 0));
    }

    #[test]
    fn a_piece_longer_than_every_bar_is_left_over() {
        let lengths = [48_001, 100];
        let plan = planned(&problem(30, stock(&[24_000, 48_000]), &lengths), &lengths);
        assert_eq!(plan.left_over, [0]);
        assert_eq!(plan.bars[0].stock, 0);
    }

    #[test]
    fn owned_bars_run_out() {
        let mut lines = stock(&[30_000]);
        lines[0].available = Some(1);
        let lengths = [20_000, 20_000];
        let plan = planned(&problem(0, lines, &lengths), &lengths);
        assert_eq!((plan.bars.len(), plan.left_over.len()), (1, 1));
    }

    #[test]
    fn a_bar_is_changed_for_the_cheapest_that_holds_it() {
        let lengths = [23_240; 3];
        let problem = problem(30, stock(&[24_000, 30_000, 48_000]), &lengths);
        assert_eq!(planned(&problem, &lengths).cost(&problem), 72_000);
    }

    #[test]
    fn of_equal_prices_the_shorter_bar_is_taken() {
        let mut lines = stock(&[30_000, 24_000]);
        lines[1].cost = 30_000;
        let problem = problem(30, lines, &[20_000]);
        assert_eq!(first_fit_patterns(&problem).bought(&problem), 24_000);
    }

    #[test]
    fn like_pieces_fill_one_bar_before_the_next() {
        // Three bars take two long pieces each but the last; the short ones go into what they leave.
        let lengths = [vec![21_000; 5], vec![8_000; 6]].concat();
        let problem = problem(0, stock(&[50_000]), &lengths);
        let plan = first_fit_patterns(&problem);
        let as_cut: Vec<_> = plan.patterns.iter().map(|p| (p.bars, p.cuts.clone())).collect();
        assert_eq!(
            as_cut,
            [
                (2, vec![(21_000.into(), 2), (8_000.into(), 1)]),
                (1, vec![(21_000.into(), 1), (8_000.into(), 3)]),
                (1, vec![(8_000.into(), 1)])
            ]
        );
        planned(&problem, &lengths);
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
            let some: Vec<u64> = (0..1 + random(6)).map(|_| 1_000 + random(20_000)).collect();
            let lengths: Vec<u64> =
                (0..random(60)).map(|_| some[random(some.len() as u64) as usize]).collect();
            let problem =
                Problem { trim: random(100), ..problem(random(40), stock(&[24_000]), &lengths) };
            let plan = planned(&problem, &lengths);
            let mut one_at_a_time: Vec<u64> = Vec::new();
            let mut sorted = lengths.clone();
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
        let lengths = [20_000; 3];
        let problem = problem(0, lines, &lengths);
        let plan = planned(&problem, &lengths);
        let stocks: Vec<usize> = plan.bars.iter().map(|b| b.stock).collect();
        assert_eq!((stocks, plan.cost(&problem)), (vec![0, 1, 1], 30_002));
    }

    #[test]
    fn a_bar_keeps_enough_to_be_held_for_its_last_cut() {
        // Eight pieces of 300 would leave nothing behind the last; with seven the last cut has 600 to hold.
        let lengths = [3_000; 8];
        let held = Problem { hold: 5_000, ..problem(0, stock(&[24_000]), &lengths) };
        let plan = planned(&held, &lengths);
        assert_eq!(plan.bars.iter().map(|b| b.pieces.len()).collect::<Vec<_>>(), [7, 1]);
        planned(&Problem { hold: 2_999, ..held }, &lengths);
    }

    #[test]
    fn a_thousand_million_pieces_are_dealt_out_at_once() {
        let many = Problem {
            kerf: 30,
            stock: stock(&[24_000]),
            pieces: vec![Demand::new(7_000, 1_000_000_000)],
            ..Problem::default()
        };
        assert_eq!(first_fit_patterns(&many).bars(), 333_333_334);
    }

    #[test]
    fn trim_and_absurd_numbers_are_harmless() {
        let lengths = [1_u64, 0];
        let trimmed = Problem { trim: 50_000, ..problem(30, stock(&[24_000]), &lengths) };
        assert_eq!(planned(&trimmed, &lengths).left_over.len(), 2);
        assert_eq!(first_fit_patterns(&Problem::default()), Patterns::default());
    }
}
