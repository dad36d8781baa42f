//! The best plan there is, for few pieces: nothing is left out, so what it finds is proven.
//!
//! For every handful of pieces the smallest rectangles they can be cut from are known: those of one piece, and those of
//! two handfuls side by side or end to end. Of one handful only those are kept that no other beats both ways. The
//! cheapest sheets that give everything follow handful by handful. This is the recursion of P. C. Gilmore and R. E.
//! Gomory, “Multistage cutting stock problems of two and more dimensions”, Operations Research 13 (1965), over
//! handfuls instead of places on the sheet.
//!
//! The work is counted, not timed: the answer is the same on every machine.

use super::plan::Pattern;
use super::problem::Problem;

/// A rectangle a handful can be cut from.
#[derive(Clone, Copy)]
struct Made {
    width: u64,
    length: u64,
    of: Of,
}

#[derive(Clone, Copy)]
enum Of {
    Piece {
        blank: usize,
        turned: bool,
    },
    /// Two handfuls, each with which of its rectangles; one beyond a cut that goes across, or beside one along.
    Two {
        across: bool,
        parts: [(usize, usize); 2],
    },
}

/// All handfuls of the wanted pieces, numbered: one digit a blank, the number of it in the handful.
struct Handfuls {
    /// Which blanks, and how many of each.
    wanted: Vec<(usize, usize)>,
    /// What one more of each adds to the number.
    step: Vec<usize>,
    count: usize,
}

impl Handfuls {
    fn of(problem: &Problem, most: u64) -> Option<Handfuls> {
        let blanks = problem.blanks.iter().enumerate().filter(|(_, b)| b.count > 0);
        let wanted: Vec<(usize, usize)> = blanks.map(|(i, b)| (i, b.count as usize)).collect();
        let (mut count, mut pairs, mut step) = (1_usize, 1_u64, Vec::new());
        for &(_, n) in &wanted {
            step.push(count);
            count = count.checked_mul(n + 1)?;
            // Handfuls within handfuls: what the work grows with.
            let n = n as u64;
            pairs = pairs.checked_mul((n + 1).checked_mul(n + 2)? / 2)?;
            if pairs > most {
                return None;
            }
        }
        Some(Handfuls { wanted, step, count })
    }

    fn digits(&self, handful: usize) -> Vec<usize> {
        let digit = |(step, (_, n)): (&usize, &(usize, usize))| handful / step % (n + 1);
        self.step.iter().zip(&self.wanted).map(digit).collect()
    }

    /// The handfuls within one, itself and the empty one left out.
    fn within(&self, handful: usize) -> Vec<usize> {
        let digits = self.digits(handful);
        let mut all = vec![0];
        for (&n, &step) in digits.iter().zip(&self.step) {
            let before = all.len();
            for k in 1..=n {
                for i in 0..before {
                    all.push(all[i] + k * step);
                }
            }
        }
        all.retain(|&h| h != 0 && h != handful);
        all
    }
}

/// The cheapest sheets that give all that is wanted, the fewest of them; `None` when there is too much to look at,
/// or the sheets do not give it. Cut-outs are not looked into. `work` is what may be looked at, and is used up.
pub(super) fn best(problem: &Problem, work: &mut u64) -> Option<Vec<Pattern>> {
    let handfuls = Handfuls::of(problem, *work)?;
    let made = rectangles(problem, &handfuls, work)?;
    cover(problem, &handfuls, &made, work)
}

/// The rectangles of every handful that fit on a sheet.
fn rectangles(problem: &Problem, handfuls: &Handfuls, work: &mut u64) -> Option<Vec<Vec<Made>>> {
    let fits = |w: u64, l: u64| problem.sheets.iter().any(|s| w <= s.width && l <= s.length);
    let mut made: Vec<Vec<Made>> = vec![Vec::new(); handfuls.count];
    for (&(blank, _), &step) in handfuls.wanted.iter().zip(&handfuls.step) {
        for (turned, width, length) in problem.blanks[blank].ways() {
            if fits(width, length) {
                keep(&mut made[step], Made { width, length, of: Of::Piece { blank, turned } });
            }
        }
    }
    for whole in 1..handfuls.count {
        let mut found = std::mem::take(&mut made[whole]);
        for part in handfuls.within(whole) {
            *work = work.checked_sub(1)?;
            let rest = whole - part;
            if part > rest || made[part].is_empty() || made[rest].is_empty() {
                continue;
            }
            *work = work.checked_sub((made[part].len() * made[rest].len()) as u64)?;
            for (i, a) in made[part].iter().enumerate() {
                for (j, b) in made[rest].iter().enumerate() {
                    let parts = [(part, i), (rest, j)];
                    let beside = a.width + problem.kerf + b.width;
                    let beyond = a.length + problem.kerf + b.length;
                    let (width, length) = (a.width.max(b.width), a.length.max(b.length));
                    if fits(beside, length) {
                        let of = Of::Two { across: false, parts };
                        keep(&mut found, Made { width: beside, length, of });
                    }
                    if fits(width, beyond) {
                        let of = Of::Two { across: true, parts };
                        keep(&mut found, Made { width, length: beyond, of });
                    }
                }
            }
        }
        made[whole] = found;
    }
    Some(made)
}

/// Adds a rectangle, unless one is there already that is no larger either way; those it beats go.
fn keep(all: &mut Vec<Made>, new: Made) {
    if all.iter().any(|m| m.width <= new.width && m.length <= new.length) {
        return;
    }
    all.retain(|m| m.width < new.width || m.length < new.length);
    all.push(new);
}

/// What the best way so far to a handful costs: money, sheets, and how little is left on one of them; and its last
/// sheet: kind and handful.
type Way = Option<((u64, usize, u128), Option<(usize, usize)>)>;

/// The cheapest sheets for everything.
fn cover(
    problem: &Problem,
    handfuls: &Handfuls,
    made: &[Vec<Made>],
    work: &mut u64,
) -> Option<Vec<Pattern>> {
    let all = handfuls.count - 1;
    let pieces: usize = handfuls.wanted.iter().map(|(_, n)| n).sum();
    // Kind by kind; of a kind that runs out, sheet by sheet.
    let mut rounds: Vec<(usize, bool)> = Vec::new();
    for (k, sheet) in problem.sheets.iter().enumerate() {
        match sheet.available {
            Some(n) if (n as usize) < pieces => rounds.extend((0..n).map(|_| (k, false))),
            _ => rounds.push((k, true)),
        }
    }
    let area = |&(blank, _): &(usize, usize)| {
        u128::from(problem.blanks[blank].width) * u128::from(problem.blanks[blank].length)
    };
    let each: Vec<u128> = handfuls.wanted.iter().map(area).collect();
    let areas: Vec<u128> = (0..handfuls.count)
        .map(|h| handfuls.digits(h).into_iter().zip(&each).map(|(n, a)| n as u128 * a).sum())
        .collect();
    let mut ways: Vec<Way> = vec![None; handfuls.count];
    ways[0] = Some(((0, 0, 0), None));
    let mut history: Vec<Vec<Way>> = Vec::new();
    for &(kind, again) in &rounds {
        let sheet = &problem.sheets[kind];
        let whole_area = u128::from(sheet.width) * u128::from(sheet.length);
        let fits = |m: &Made| m.width <= sheet.width && m.length <= sheet.length;
        let mut next: Vec<Way> = ways.iter().map(|w| w.map(|(cost, _)| (cost, None))).collect();
        for whole in 1..handfuls.count {
            let mut best = next[whole];
            for part in handfuls.within(whole).into_iter().chain([whole]) {
                *work = work.checked_sub(1)?;
                if !made[part].iter().any(fits) {
                    continue;
                }
                let before = if again { next[whole - part] } else { ways[whole - part] };
                let Some(((cost, sheets, spread), _)) = before else { continue };
                // Squares, so that one large offcut is better than two small ones.
                let left = whole_area.saturating_sub(areas[part]) / 10_000;
                let spread = spread + (whole_area / 10_000).pow(2) - left.pow(2);
                let cost = (cost.saturating_add(sheet.cost), sheets + 1, spread);
                if best.is_none_or(|(b, _)| cost < b) {
                    best = Some((cost, Some((kind, part))));
                }
            }
            next[whole] = best;
        }
        history.push(std::mem::replace(&mut ways, next));
    }
    history.push(ways);
    let mut patterns = Vec::new();
    let mut at = all;
    for (round, &(kind, again)) in rounds.iter().enumerate().rev() {
        while at > 0 {
            let (_, last) = history[round + 1][at]?;
            let Some((_, part)) = last else { break };
            patterns.push(drawn(problem, kind, made, part)?);
            at -= part;
            if !again {
                break;
            }
        }
    }
    (at == 0).then_some(patterns)
}

/// One sheet with a handful on it, so that the largest offcut is left.
fn drawn(problem: &Problem, kind: usize, made: &[Vec<Made>], handful: usize) -> Option<Pattern> {
    let sheet = &problem.sheets[kind];
    let fits = made[handful].iter().enumerate();
    let fits = fits.filter(|(_, m)| m.width <= sheet.width && m.length <= sheet.length);
    let largest = |m: &Made| {
        let beside = u128::from(sheet.width - m.width) * u128::from(sheet.length);
        let beyond = u128::from(sheet.length - m.length) * u128::from(sheet.width);
        beside.max(beyond)
    };
    let (i, _) = fits.max_by_key(|(i, m)| (largest(m), std::cmp::Reverse(*i)))?;
    let mut pattern = Pattern::whole(problem, kind);
    draw(problem, made, &mut pattern, 0, (handful, i));
    Some(pattern)
}

fn draw(
    problem: &Problem,
    made: &[Vec<Made>],
    pattern: &mut Pattern,
    part: usize,
    (handful, i): (usize, usize),
) {
    let this = made[handful][i];
    let at = pattern.parts[part].at;
    let beside = u128::from(at.width - this.width) * u128::from(at.length);
    let beyond = u128::from(at.length - this.length) * u128::from(at.width);
    let across_first = beyond > beside;
    let mut part = part;
    for across in [across_first, !across_first] {
        let size = if across { this.length } else { this.width };
        (part, _) = pattern.cut(part, across, size, problem.kerf);
    }
    match this.of {
        Of::Piece { blank, turned } => {
            pattern.set_piece(problem, part, blank, turned);
        }
        Of::Two { across, parts } => {
            let first = made[parts[0].0][parts[0].1];
            let size = if across { first.length } else { first.width };
            let (low, high) = pattern.cut(part, across, size, problem.kerf);
            draw(problem, made, pattern, low, parts[0]);
            if let Some(high) = high {
                draw(problem, made, pattern, high, parts[1]);
            }
        }
    }
}
