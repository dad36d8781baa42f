//! Plans for bars against problems with known answers, against trying everything, and against what must hold of any. Every
//! plan is checked here, from the numbers alone.

mod generate;
mod laws;

use std::collections::BTreeMap;
use std::path::Path;

use saw::{Demand, Patterns, Planner, Problem, StockLine};
use serde_json::Value;

/// Fails unless the plan gives every piece it does not list as left over, once, from bars there are, within their
/// length, with enough to hold for the last cut of each; gives what the bars cost.
#[track_caller]
pub(crate) fn verified(problem: &Problem, plan: &Patterns) -> u64 {
    let mut wanted: BTreeMap<u64, i64> = BTreeMap::new();
    for piece in &problem.pieces {
        *wanted.entry(piece.length).or_default() += piece.count as i64;
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
            length += each * n as u64;
            longest = longest.max(each);
            *wanted.get_mut(&each).expect("a length that was asked for") -=
                (n * pattern.bars) as i64;
        }
        let used = problem.trim + length + (pieces - 1) * problem.kerf;
        assert!(used <= line.length, "{pattern:?} does not fit");
        // Pieces, cuts and what is left are the bar; a last cut may run off its end.
        let rest = line.length - used;
        assert_eq!(pattern.left, rest.saturating_sub(problem.kerf), "{pattern:?}");
        assert!(longest + rest >= problem.hold, "{pattern:?} cannot be held");
    }
    for &(length, n) in &plan.left_over {
        *wanted.get_mut(&length).expect("a length that was asked for") -= n as i64;
    }
    assert!(wanted.values().all(|n| *n == 0), "more or fewer than asked for: {wanted:?}");
    for (n, line) in bars.iter().zip(&problem.stock) {
        assert!(line.available.is_none_or(|most| *n <= u64::from(most)), "{n} bars of {line:?}");
    }
    cost
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
    });
    let pieces = read["pieces"].as_array().unwrap().iter();
    let pieces =
        pieces.map(|p| Demand { length: tenths(&p["length_mm"]), count: whole(&p["count"]) });
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
