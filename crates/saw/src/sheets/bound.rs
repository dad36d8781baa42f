//! What no plan can do better than.
//!
//! A dual feasible function changes lengths so that whatever fitted side by side still does. The area of the pieces,
//! with both their sides so changed, needs so many sheets, changed alike. Which pair of functions says most
//! depends on the pieces, so all of a family are tried. The functions are superadditive, so they hold for smaller
//! sheets and for cut-outs as well.
//!
//! Sources: S. P. Fekete and J. Schepers, “A general framework for bounds for higher-dimensional orthogonal packing
//! problems”, Math. Methods of Operations Research 60 (2004); J. Carlier, F. Clautiaux and A. Moukrim, “New
//! reduction procedures and lower bounds for the two-dimensional bin packing problem with fixed orientation”,
//! Computers & Operations Research 34 (2007).

use super::problem::{Blank, Problem, Rect};

/// So many different sizes make functions at most, fewer when there are many pieces to add up under each.
const SIZES: usize = 48;
/// So much is added up at most.
const WORK: usize = 1_000_000;

/// A dual feasible function over lengths up to a whole.
#[derive(Clone, Copy)]
enum Dual {
    /// The length itself.
    Same,
    /// Short is nothing, and what leaves only short is the whole.
    Big(u64),
    /// Counts steps; what is over half counts what it leaves no room for.
    Steps(u64),
    /// Rounds down to parts of the whole, but one more of them would fill it.
    Parts(u64),
}

impl Dual {
    /// The value of a length, at most `whole`.
    fn of(self, x: u64, whole: u64) -> u128 {
        let (wide, all) = (u128::from(x), u128::from(whole));
        match self {
            Dual::Same => wide,
            Dual::Big(short) if x < short => 0,
            Dual::Big(short) if x > whole - short => all,
            Dual::Big(_) => wide,
            Dual::Steps(step) => {
                let steps = |x: u64| u128::from(x / step);
                match (2 * wide).cmp(&all) {
                    std::cmp::Ordering::Greater => 2 * (steps(whole) - steps(whole - x)),
                    std::cmp::Ordering::Equal => steps(whole),
                    std::cmp::Ordering::Less => 2 * steps(x),
                }
            }
            Dual::Parts(k) => {
                let k = u128::from(k);
                let parts = (k + 1) * wide;
                if parts % all == 0 { wide * k } else { parts / all * all }
            }
        }
    }

    /// The functions worth trying for pieces so long.
    fn family(whole: u64, lengths: &[u64], most: usize) -> Vec<Dual> {
        let mut sizes: Vec<u64> =
            lengths.iter().flat_map(|&l| [l, whole - l, whole - l + 1]).collect();
        // Just over half: what is half a whole counts for nothing.
        sizes.extend([whole / 2, whole / 2 + 1]);
        sizes.retain(|&s| s > 0 && s <= whole / 2 + 1);
        sizes.sort_unstable();
        sizes.dedup();
        // Evenly out of them when there are many.
        let every = sizes.len().div_ceil(most).max(1);
        let sizes: Vec<u64> = sizes.iter().rev().step_by(every).copied().collect();
        let mut family = vec![Dual::Same];
        family.extend(sizes.iter().map(|&s| Dual::Big(s)));
        family.extend(sizes.iter().map(|&s| Dual::Steps(s)));
        family.extend((2..=6).map(Dual::Parts));
        family
    }
}

/// No plan for what is wanted can cost less, every sheet at `cost` of its kind.
pub(super) fn least(problem: &Problem, cost: &dyn Fn(usize) -> u64) -> u64 {
    let kerf = problem.kerf;
    let kinds = 0..problem.sheets.len();
    let wanted: Vec<&Blank> = problem.blanks.iter().filter(|b| b.count > 0).collect();
    let whole = |of: &dyn Fn(usize) -> u64| kinds.clone().map(of).max().unwrap_or(0) + kerf;
    let width = whole(&|k| problem.sheets[k].width);
    let length = whole(&|k| problem.sheets[k].length);
    if wanted.is_empty() || width == kerf || length == kerf {
        return 0;
    }
    let fits = |w: u64, l: u64| w + kerf <= width && l + kerf <= length;
    let ways = |b: &Blank| b.ways().filter(move |&(_, w, l)| fits(w, l)).collect::<Vec<_>>();
    let ways: Vec<Vec<(bool, u64, u64)>> = wanted.iter().map(|b| ways(b)).collect();
    if ways.iter().any(Vec::is_empty) {
        return 0;
    }
    let distinct = |of: &dyn Fn(&(bool, u64, u64)) -> u64| {
        let mut sizes: Vec<u64> = ways.iter().flatten().map(of).map(|s| s + kerf).collect();
        sizes.sort_unstable();
        sizes.dedup();
        sizes
    };
    // Two functions a size and a few more, in pairs, over every piece.
    let lies: usize = ways.iter().map(Vec::len).sum();
    let most = ((WORK / lies.max(1)).isqrt() / 2).clamp(4, SIZES);
    let across = Dual::family(width, &distinct(&|w| w.1), most);
    let along = Dual::family(length, &distinct(&|w| w.2), most);
    let families = [(&across[..], width), (&along[..], length)];
    let table = |sizes: Vec<(u64, u64)>| Table::of(families, kerf, &sizes);
    let sheets = table(problem.sheets.iter().map(|s| (s.width, s.length)).collect());
    let pieces = table(ways.iter().flatten().map(|&(_, w, l)| (w, l)).collect());
    // What falls out lies as its piece does.
    let holes: Vec<(&Blank, &Rect)> = wanted
        .iter()
        .flat_map(|b| b.cut_outs.iter().map(move |c| (*b, c)))
        .filter(|(_, c)| problem.something_fits(c.width, c.length))
        .collect();
    let lies = |turns: bool| if turns { 2 } else { 1 };
    let cut_outs = table(
        holes
            .iter()
            .flat_map(|(b, c)| {
                [(c.width, c.length), (c.length, c.width)].into_iter().take(lies(b.turns))
            })
            .collect(),
    );
    let mut best = 0;
    for u in 0..across.len() {
        for v in 0..along.len() {
            let mut at = 0..0;
            let mut next = |n: usize| {
                at = at.end..at.end + n;
                at.clone()
            };
            let each = wanted.iter().zip(&ways);
            let needed: u128 = each
                .map(|(b, ways)| {
                    let least = next(ways.len()).map(|i| pieces.value(u, v, i)).min();
                    u128::from(b.count) * least.unwrap_or(0)
                })
                .sum();
            at = 0..0;
            let mut next = |n: usize| {
                at = at.end..at.end + n;
                at.clone()
            };
            let given: u128 = holes
                .iter()
                .map(|(b, _)| {
                    let most = next(lies(b.turns)).map(|i| cut_outs.value(u, v, i)).max();
                    u128::from(b.count) * most.unwrap_or(0)
                })
                .sum();
            let rooms: Vec<u128> = kinds.clone().map(|k| sheets.value(u, v, k)).collect();
            best = best.max(cheapest(problem, needed.saturating_sub(given), &rooms, cost));
        }
    }
    best
}

/// Both sides of some rectangles under every function.
struct Table {
    across: Vec<Vec<u128>>,
    along: Vec<Vec<u128>>,
}

impl Table {
    fn of([across, along]: [(&[Dual], u64); 2], kerf: u64, sizes: &[(u64, u64)]) -> Table {
        let values = |(family, whole): (&[Dual], u64), side: &dyn Fn(&(u64, u64)) -> u64| {
            let of =
                |f: &Dual| sizes.iter().map(|s| f.of((side(s) + kerf).min(whole), whole)).collect();
            family.iter().map(of).collect()
        };
        Table { across: values(across, &|s| s.0), along: values(along, &|s| s.1) }
    }

    fn value(&self, u: usize, v: usize, i: usize) -> u128 {
        self.across[u][i] * self.along[v][i]
    }
}

/// The least that sheets of so much room can cost that have `needed` together, parts of sheets allowed; rounded up to
/// what whole sheets can cost.
fn cheapest(problem: &Problem, needed: u128, rooms: &[u128], cost: &dyn Fn(usize) -> u64) -> u64 {
    let mut kinds: Vec<usize> = (0..rooms.len()).filter(|&k| rooms[k] > 0).collect();
    // The cheapest room first.
    kinds.sort_by(|&a, &b| {
        let (a, b) = ((cost(a), rooms[a]), (cost(b), rooms[b]));
        (u128::from(a.0) * b.1).cmp(&(u128::from(b.0) * a.1))
    });
    let mut needed = needed;
    let mut sum = 0_u128;
    for k in kinds {
        if needed == 0 {
            break;
        }
        let sheets = problem.sheets[k].available.map_or(u128::MAX, u128::from);
        let room = rooms[k].saturating_mul(sheets);
        if room >= needed {
            sum += (needed * u128::from(cost(k))).div_ceil(rooms[k]);
            needed = 0;
        } else {
            sum += u128::from(cost(k)) * sheets;
            needed -= room;
        }
    }
    let step = (0..rooms.len()).fold(0, |step, k| common(step, cost(k))).max(1);
    let sum = u64::try_from(sum).unwrap_or(u64::MAX);
    sum.div_ceil(step).saturating_mul(step)
}

/// The greatest common divisor.
fn common(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { common(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever fits side by side still does after the change: tried on every way to fill a whole of 24 with
    /// lengths that go into it, and superadditive on every pair.
    #[test]
    fn what_fitted_side_by_side_still_does() {
        let whole = 24;
        let family = Dual::family(whole, &(1..=whole).collect::<Vec<_>>(), SIZES);
        let mut tried = 0;
        let all = (1..=13).flat_map(|s| [Dual::Big(s), Dual::Steps(s)]).chain(family);
        for f in all {
            for a in 0..=whole {
                for b in 0..=whole - a {
                    assert!(f.of(a, whole) + f.of(b, whole) <= f.of(a + b, whole), "{a} {b}");
                    tried += 1;
                }
            }
        }
        assert!(tried > 1000);
    }
}
