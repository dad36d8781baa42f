//! What holds of every plan, on problems by chance, and the least cost by trying everything.

use saw::{Planner, Problem, StockLine, first_fit_patterns};

use crate::generate::{Chance, room, small};
use crate::{planned, verified};

/// The least cost of all pieces by trying every way to share them out, bar by bar; `None` when the bars run out.
fn by_trying(problem: &Problem) -> Option<u64> {
    let mut pieces: Vec<u64> = Vec::new();
    for p in &problem.pieces {
        pieces.extend((0..p.count).map(|_| p.length));
    }
    let all = (1_usize << pieces.len()) - 1;
    let fits = |set: usize, length: u64| {
        let on: Vec<u64> =
            (0..pieces.len()).filter(|i| set >> i & 1 == 1).map(|i| pieces[i]).collect();
        let used = problem.trim + on.iter().sum::<u64>() + (on.len() as u64 - 1) * problem.kerf;
        used <= length && on.iter().max().unwrap() + length - used >= problem.hold
    };
    // least[set]: for each set of pieces the least cost with so many bars of each limited line used.
    let limits: Vec<Option<u32>> = problem.stock.iter().map(|s| s.available).collect();
    let mut least: Vec<Vec<(Vec<u32>, u64)>> = vec![Vec::new(); all + 1];
    least[0].push((vec![0; limits.len()], 0));
    for set in 0..all {
        for (used, cost) in least[set].clone() {
            // The first piece not yet cut is on the next bar, with any of the others.
            let first = (!set).trailing_zeros();
            let others = all & !set & !(1 << first);
            let mut more = others;
            loop {
                let bar = more | 1 << first;
                for (j, line) in problem.stock.iter().enumerate() {
                    if limits[j].is_none_or(|most| used[j] < most) && fits(bar, line.length) {
                        let mut used = used.clone();
                        if limits[j].is_some() {
                            used[j] += 1;
                        }
                        let cost = cost + line.cost;
                        let to = &mut least[set | bar];
                        match to.iter_mut().find(|t| t.0 == used) {
                            Some(known) => known.1 = known.1.min(cost),
                            None => to.push((used, cost)),
                        }
                    }
                }
                if more == 0 {
                    break;
                }
                more = (more - 1) & others;
            }
        }
    }
    least[all].iter().map(|l| l.1).min()
}

#[test]
fn trying_everything_finds_nothing_cheaper_and_what_is_proven_no_dearer() {
    let (mut compared, mut open) = (0, 0);
    for seed in 0..600 {
        let problem = small(seed, 6);
        let least = by_trying(&problem);
        let planner = planned(&problem);
        let (cost, missing) = (planner.best().cost(&problem), planner.best().missing());
        if let Some(least) = least {
            assert!(planner.bound() <= least, "seed {seed}: {problem:?}");
            assert_eq!((missing, cost), (0, least), "seed {seed}: {problem:?}");
            compared += 1;
            open += usize::from(!planner.proven());
        } else {
            assert!(missing > 0 && !planner.proven(), "seed {seed}: {problem:?}");
        }
    }
    // What can be held is not part of the bound, so a few are at the least cost without a proof.
    assert!(compared > 200 && open * 20 < compared, "{compared} {open}");
}

#[test]
fn what_holds_of_every_plan() {
    let mut proven = 0;
    for seed in 0..400 {
        let problem = room(seed, seed % 30 + 1);
        let first = first_fit_patterns(&problem);
        verified(&problem, &first);
        let mut planner = planned(&problem);
        let best = planner.best().clone();
        let cost = best.cost(&problem);
        assert!(cost <= first.cost(&problem), "seed {seed}");
        if !planner.proven() {
            continue;
        }
        proven += 1;

        // Fewer patterns and another order change neither pieces nor cost.
        let pool = planner.pool();
        let patterns = planner.best().patterns.len();
        planner.tidy(20_000, &|| true);
        assert_eq!(verified(&problem, planner.best()), cost, "seed {seed}");
        assert!(planner.best().patterns.len() <= patterns, "seed {seed}");
        let sawn = planner.best().in_sawing_order(&problem);
        assert_eq!(verified(&problem, &sawn), cost, "seed {seed}");
        assert!(sawn.stop_settings() <= planner.best().stop_settings(), "seed {seed}");
        let chance = &mut Chance::new(seed + 1_000_000);

        // Pieces in another order, some named twice, are the same pieces.
        let mut shuffled = problem.clone();
        for i in (1..shuffled.pieces.len()).rev() {
            shuffled.pieces.swap(i, chance.below(i as u64 + 1) as usize);
        }
        if let Some(last) = shuffled.pieces.last_mut().filter(|p| p.count > 1) {
            last.count -= 1;
            let again = saw::Demand { count: 1, ..*last };
            shuffled.pieces.insert(0, again);
        }
        let again = planned(&shuffled);
        assert_eq!(again.best(), &best, "seed {seed}");
        assert_eq!(again.bound(), planner.bound(), "seed {seed}");

        // An edit planned from what the last plan left comes to the same as planned from nothing.
        let mut edited = problem.clone();
        edited.pieces[0].count += 1;
        if let Some(last) = edited.pieces.last_mut() {
            last.length += 10;
        }
        let fresh = planned(&edited);
        let mut warm = Planner::warm(&edited, &pool).expect("numbers that can be reckoned with");
        verified(&edited, warm.best());
        warm.run(&|| true);
        let warm_cost = verified(&edited, warm.best());
        assert!(warm.bound() <= fresh.best().cost(&edited), "seed {seed}");
        assert!(fresh.bound() <= warm_cost, "seed {seed}");

        // Lines of stock in another order cost the same.
        let mut turned = problem.clone();
        turned.stock.reverse();
        assert!(planned(&turned).bound() <= cost, "seed {seed}");
        assert!(planned(&turned).best().cost(&turned) >= cost, "seed {seed}");

        // Another line to choose from costs no more, a wider cut no less.
        let mut more = problem.clone();
        let length = chance.between(500, 6_000) * 10;
        more.stock.push(StockLine { length, cost: length * 3 / 100, available: None });
        assert!(planned(&more).bound() <= cost, "seed {seed}");
        let wider = Problem { kerf: problem.kerf + 20, ..problem.clone() };
        assert!(planned(&wider).best().cost(&wider) >= cost, "seed {seed}");
    }
    assert!(proven > 390, "{proven}");
}
