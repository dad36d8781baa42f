//! Many lengths that differ by little: first as fewer, each rounded up to the longest of its group. A plan for those is a plan for the
//! true ones, and what their pieces are worth says nearly what the true ones are.

use std::collections::BTreeMap;

use crate::model::{Bars, Column, Model};
use crate::problem::Slant;
use crate::{Demand, Patterns, Piece, Problem};

/// A problem with this many lengths or fewer is taken as it is; others are brought down to about a third.
pub(crate) const FEW: usize = 80;

/// The problem with lengths brought together: of all neighbours alike those first that waste the least by it.
pub(crate) fn grouped(problem: &Problem, model: &Model) -> Problem {
    let mut groups: Vec<Demand> =
        model.items.iter().map(|i| Demand { piece: i.piece, count: i.count }).collect();
    groups.sort_by_key(|d| (kind(d.piece), std::cmp::Reverse(d.piece.length)));
    let few = (groups.len() / 3 + 10).min(140);
    while groups.len() > few {
        let waste = |k: &usize| {
            let [longer, shorter] = [groups[*k], groups[*k + 1]];
            let more = u128::from(longer.piece.length.abs_diff(shorter.piece.length));
            (kind(longer.piece) != kind(shorter.piece), more * u128::from(shorter.count))
        };
        let Some(k) = (0..groups.len() - 1).min_by_key(waste).filter(|k| !waste(k).0) else {
            break;
        };
        groups[k].count += groups[k + 1].count;
        groups.remove(k + 1);
    }
    Problem { pieces: groups, ..problem.clone() }
}

/// Pieces alike in all but their length may stand for each other.
fn kind(piece: Piece) -> (bool, Option<Slant>) {
    (piece.straight, piece.slant)
}

/// The true pieces in the places of a plan for grouped ones: the longest of a group in the first bars.
pub(crate) fn true_bars(model: &Model, plan: &Patterns, groups: &[Demand]) -> Bars {
    let mut left: BTreeMap<Piece, Vec<(usize, u64)>> = BTreeMap::new();
    let mut order: Vec<usize> = (0..model.items.len()).collect();
    order.sort_by_key(|&i| (kind(model.items[i].piece), i));
    let mut k = 0;
    for i in order {
        let item = &model.items[i];
        let reaches = |group: &Demand| {
            let ahead = kind(group.piece).cmp(&kind(item.piece));
            ahead.is_lt() || ahead.is_eq() && group.piece.length >= item.piece.length
        };
        while k + 1 < groups.len() && reaches(&groups[k + 1]) {
            k += 1;
        }
        left.entry(groups[k].piece).or_default().push((i, item.count));
    }
    left.values_mut().for_each(|items| items.reverse());
    let mut bars = Bars::new();
    for pattern in &plan.patterns {
        let Some(line) = model.lines.iter().position(|l| l.stock == pattern.stock) else {
            continue;
        };
        for _ in 0..pattern.bars {
            let mut cuts: Vec<(usize, u64)> = Vec::new();
            for &(piece, n) in &pattern.cuts {
                for _ in 0..n {
                    let Some(items) = left.get_mut(&piece) else { continue };
                    let Some(last) = items.last_mut() else { continue };
                    last.1 -= 1;
                    match cuts.iter_mut().find(|c| c.0 == last.0) {
                        Some(cut) => cut.1 += 1,
                        None => cuts.push((last.0, 1)),
                    }
                    if last.1 == 0 {
                        items.pop();
                    }
                }
            }
            cuts.sort_unstable();
            match bars.last_mut() {
                Some((column, n)) if column.line == line && column.cuts == cuts => *n += 1,
                _ => bars.push((Column { line, cuts }, 1)),
            }
        }
    }
    bars
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{StockLine, first_fit_patterns};

    #[test]
    fn a_plan_for_grouped_lengths_is_a_plan_for_the_true_ones() {
        let pieces = (0..200).map(|i| Demand::new(10_000 + 37 * i, 1 + i % 3));
        let problem = Problem {
            kerf: 30,
            stock: vec![StockLine::new(48_000, 1_600)],
            pieces: pieces.collect(),
            ..Problem::default()
        };
        let model = Model::of(&problem);
        let grouped = grouped(&problem, &model);
        assert!(grouped.pieces.len() < 100 && grouped.count() == problem.count());
        let plan = first_fit_patterns(&grouped);
        let bars = true_bars(&model, &plan, &grouped.pieces);
        let whole = model.plan(&problem, &bars).expect("every piece, within every bar");
        assert_eq!((whole.missing(), whole.bars()), (0, plan.bars()));
    }
}
