//! Plans for bars against problems with known answers, against trying everything, and against what must hold of any. Every
//! plan is checked here, from the numbers alone.

mod generate;
mod laws;

use std::collections::BTreeMap;
use std::path::Path;

use saw::{Demand, Patterns, Piece, Planner, Problem, StockLine};
use serde_json::Value;

/// Fails unless the plan gives every piece it does not list as left over, once, from bars there are, within their
/// length, with enough to hold for the last cut of each; gives what the bars cost.
#[track_caller]
pub(crate) fn verified(problem: &Problem, plan: &Patterns) -> u64 {
    let mut wanted: BTreeMap<Piece, i64> = BTreeMap::new();
    for demand in &problem.pieces {
        *wanted.entry(demand.piece).or_default() += demand.count as i64;
    }
    let mut bars = vec![0; problem.stock.len()];
    let mut cost = 0;
    for pattern in &plan.patterns {
        let line = &problem.stock[pattern.stock];
        assert!(pattern.bars > 0 && !pattern.cuts.is_empty(), "{pattern:?}");
        bars[pattern.stock] += pattern.bars as u64;
        cost += line.cost * pattern.bars as u64;
        let (mut pieces, mut length, mut longest) = (0, 0, 0);
        for &(each, n) in &pattern.cuts {
            pieces += n as u64;
            length += each.length * n as u64;
            longest = longest.max(each.length);
            assert!(!(each.straight && line.bowed), "{pattern:?} has to be straight");
            *wanted.get_mut(&each).expect("a piece that was asked for") -=
                (n * pattern.bars) as i64;
        }
        let saved = saved(problem, &pattern.each().collect::<Vec<_>>());
        let used = problem.trim + length + (pieces - 1) * problem.kerf - saved;
        assert!(used <= line.length, "{pattern:?} does not fit");
        // Pieces, cuts and what is left are the bar; a last cut may run off its end.
        let rest = line.length - used;
        assert_eq!(pattern.left, rest.saturating_sub(problem.kerf), "{pattern:?}");
        assert!(longest + rest >= problem.hold, "{pattern:?} cannot be held");
    }
    for &(piece, n) in &plan.left_over {
        *wanted.get_mut(&piece).expect("a piece that was asked for") -= n as i64;
    }
    assert!(wanted.values().all(|n| *n == 0), "more or fewer than asked for: {wanted:?}");
    for (n, line) in bars.iter().zip(&problem.stock) {
        assert!(line.available.is_none_or(|most| *n <= u64::from(most)), "{n} bars of {line:?}");
    }
    cost
}

/// The most that slanted ends save on one bar: by laying its pieces in every order, either end first, where there are few; else
/// by counting, for each slant, the pairs its ends make: pieces that all have two leave the outer ones over.
pub(crate) fn saved(problem: &Problem, pieces: &[Piece]) -> u64 {
    let slanted: Vec<Piece> = pieces.iter().copied().filter(|p| end(problem, *p) > 0).collect();
    if slanted.len() > 8 {
        return (0..problem.slants.len()).map(|k| by_counting(problem, k, &slanted)).sum();
    }
    // best[set][last piece][its end that is free]: the most that those of the set save in a row.
    let n = slanted.len();
    let ends = |i: usize, turned: bool| {
        let slant = slanted[i].slant.expect("slanted");
        let like = Some(slant.like);
        match (slant.both, turned) {
            (true, _) => (like, like),
            (false, true) => (like, None),
            (false, false) => (None, like),
        }
    };
    let mut best = vec![[None::<u64>; 2]; n << n];
    let at = |set: usize, last: usize| set * n + last;
    for i in 0..n {
        best[at(1 << i, i)] = [Some(0); 2];
    }
    let mut most = 0;
    for set in 1..1_usize << n {
        for (last, turned) in (0..n).flat_map(|i| [(i, false), (i, true)]) {
            let Some(so_far) = best[at(set, last)][usize::from(turned)] else { continue };
            most = most.max(so_far);
            let others = (0..n).filter(|i| set >> i & 1 == 0);
            for (next, turn) in others.flat_map(|i| [(i, false), (i, true)]) {
                let (right, left) = (ends(last, turned).1, ends(next, turn).0);
                let meets = right.is_some() && right == left;
                let more = if meets { 2 * end(problem, slanted[last]) } else { 0 };
                let to = &mut best[at(set | 1 << next, next)][usize::from(turn)];
                *to = (*to).max(Some(so_far + more));
            }
        }
    }
    most
}

/// What one end of a piece saves: half of what two do, in whole tenths; nothing where the piece is not twice as long as
/// that.
fn end(problem: &Problem, piece: Piece) -> u64 {
    let Some(slant) = piece.slant else { return 0 };
    let saves = problem.slants.get(usize::from(slant.like)).copied().unwrap_or(0);
    if 2 * saves <= piece.length { saves / 2 } else { 0 }
}

fn by_counting(problem: &Problem, like: usize, pieces: &[Piece]) -> u64 {
    let of = |p: &&Piece| p.slant.is_some_and(|s| usize::from(s.like) == like);
    let each = pieces.iter().find(of).map_or(0, |p| 2 * end(problem, *p));
    let both = |p: &Piece| p.slant.is_some_and(|s| s.both);
    let ends: u64 = pieces.iter().filter(of).map(|p| if both(p) { 2 } else { 1 }).sum();
    let ring = ends > 0 && pieces.iter().filter(of).all(both);
    each * (ends / 2 - u64::from(ring))
}

/// Planned to the end.
pub(crate) fn planned(problem: &Problem) -> Planner {
    let mut planner = Planner::new(problem).expect("numbers that can be reckoned with");
    assert!(planner.run(&|| true));
    let cost = verified(problem, planner.best());
    assert!(planner.best().missing() > 0 || planner.bound() <= cost, "{problem:?}");
    planner
}

struct Instance {
    name: String,
    problem: Problem,
    optimum: u64,
}

fn instances() -> Vec<Instance> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cutting");
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "json"));
    paths.sort();
    paths.iter().map(|p| instance(&std::fs::read_to_string(p).unwrap())).collect()
}

fn instance(text: &str) -> Instance {
    let read: Value = serde_json::from_str(text).unwrap();
    let whole = |v: &Value| v.as_u64().expect("a whole number");
    let tenths = |v: &Value| 10 * whole(v);
    let stock = read["stock"].as_array().unwrap().iter().map(|s| StockLine {
        length: tenths(&s["length_mm"]),
        cost: whole(&s["price"]),
        available: s["available"].as_u64().map(|n| n as u32),
        bowed: false,
    });
    let pieces = read["pieces"].as_array().unwrap().iter();
    let pieces = pieces.map(|p| Demand::new(tenths(&p["length_mm"]), whole(&p["count"])));
    Instance {
        name: read["name"].as_str().unwrap().to_string(),
        problem: Problem {
            kerf: tenths(&read["kerf_mm"]),
            stock: stock.collect(),
            pieces: pieces.collect(),
            ..Problem::default()
        },
        optimum: whole(&read["optimum_cost"]),
    }
}

/// Ten is the fewest that is known, and proven elsewhere; from memory.
#[test]
fn the_rolls_of_the_paper_mill_are_cut_in_ten_patterns() {
    let mill = instances().into_iter().find(|i| i.name == "mill73").expect("the mill's order");
    let mut planner = planned(&mill.problem);
    planner.tidy(100_000_000, &|| true);
    assert_eq!(verified(&mill.problem, planner.best()), 73);
    assert_eq!(planner.best().patterns.len(), 10);
}

#[test]
fn every_problem_with_a_known_answer_is_planned_to_it_and_proven() {
    let all = instances();
    assert_eq!(all.len(), 15);
    for instance in all {
        let planner = planned(&instance.problem);
        let cost = planner.best().cost(&instance.problem);
        let found = (cost, planner.bound(), planner.proven());
        assert_eq!(found, (instance.optimum, instance.optimum, true), "{}", instance.name);
    }
}
