//! The order to saw in: a stop is set to a length, and every bar of a pattern is cut to it before the next is set. Where one pattern ends
//! with the length the next begins with, the stop stays.

use crate::{Pattern, Patterns, Piece, Problem};

impl Patterns {
    /// How often the stop is set when patterns are sawn in their order, and the lengths of each in theirs.
    pub fn stop_settings(&self) -> usize {
        let mut set = None;
        let mut settings = 0;
        for Piece { length, .. } in self.patterns.iter().flat_map(|p| &p.cuts).map(|c| c.0) {
            settings += usize::from(set != Some(length));
            set = Some(length);
        }
        settings
    }

    /// The same plan in an order with few settings of the stop: patterns follow each other where they have a length in
    /// common, and the lengths of each, longest first otherwise, are turned so that it comes last and first. Where what is left of a bar
    /// could not be held otherwise its longest piece comes last.
    pub fn in_sawing_order(&self, problem: &Problem) -> Patterns {
        let mut left: Vec<&Pattern> = self.patterns.iter().collect();
        let mut patterns: Vec<Pattern> = Vec::with_capacity(left.len());
        let mut set: Option<u64> = None;
        while !left.is_empty() {
            let others = |k: usize, length: u64| {
                let with = |(i, p): (usize, &&Pattern)| i != k && has(p, length);
                left.iter().enumerate().filter(|&(i, p)| with((i, p))).count()
            };
            // Of those that go on with the length that is set, the one with the fewest other ways to be reached.
            let goes_on = |k: &usize| set.is_some_and(|set| begins(problem, left[*k], set));
            let ways = |k: &usize| -> (bool, usize) {
                let ways = left[*k].cuts.iter().map(|c| others(*k, c.0.length)).sum();
                (!goes_on(k), ways)
            };
            let next = (0..left.len()).min_by_key(ways).unwrap_or(0);
            let first = set.filter(|_| goes_on(&next));
            // It ends with the length that most of the others have, for then the stop may stay.
            let mut cuts = left[next].cuts.clone();
            let held = must_end_longest(problem, left[next]);
            let ends = cuts.iter().map(|c| c.0.length);
            let ends = ends.filter(|l| cuts.len() == 1 || first != Some(*l));
            let ends = ends.filter(|l| !held || *l == cuts[0].0.length);
            let last = ends.max_by_key(|l| (others(next, *l), std::cmp::Reverse(*l)));
            cuts.sort_by_key(|c| {
                let length = Some(c.0.length);
                let place = if first == length { 0 } else { 1 + usize::from(last == length) };
                (place, std::cmp::Reverse(c.0))
            });
            set = cuts.last().map(|c| c.0.length);
            patterns.push(Pattern { cuts, ..left.remove(next).clone() });
        }
        let sawn = Patterns { patterns, left_over: self.left_over.clone() };
        // The search is short-sighted: an order that was better by luck is kept.
        let held = self.patterns.iter().any(|p| must_end_longest(problem, p));
        if held || sawn.stop_settings() <= self.stop_settings() { sawn } else { self.clone() }
    }
}

fn has(pattern: &Pattern, length: u64) -> bool {
    pattern.cuts.iter().any(|c| c.0.length == length)
}

/// True when the pattern can be sawn with this length first.
fn begins(problem: &Problem, pattern: &Pattern, length: u64) -> bool {
    let first_is_last = pattern.cuts.len() > 1
        && must_end_longest(problem, pattern)
        && pattern.cuts[0].0.length == length;
    has(pattern, length) && !first_is_last
}

/// True when only the longest piece, cut last, leaves enough to hold: some other with what is left over is too short.
fn must_end_longest(problem: &Problem, pattern: &Pattern) -> bool {
    pattern.cuts.iter().any(|c| c.0.length + pattern.left < problem.hold)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pattern(cuts: &[u64]) -> Pattern {
        Pattern { stock: 0, cuts: cuts.iter().map(|&l| (l.into(), 1)).collect(), left: 0, bars: 2 }
    }

    #[test]
    fn the_stop_stays_where_patterns_meet_in_a_length() {
        // By hand: 50 30 | 30 20 | 20 40 | 40 takes four settings where the given order takes seven.
        let plan = Patterns {
            patterns: [[50, 30].as_slice(), &[40, 20], &[40], &[30, 20]].map(pattern).into(),
            left_over: Vec::new(),
        };
        assert_eq!(plan.stop_settings(), 7);
        let sawn = plan.in_sawing_order(&Problem::default());
        assert_eq!(sawn.stop_settings(), 4);
        assert_eq!(sawn.patterns.len(), 4);
        let pieces = |p: &Patterns| p.patterns.iter().map(Pattern::pieces).sum::<usize>();
        assert_eq!(pieces(&sawn), pieces(&plan));
    }

    #[test]
    fn the_longest_is_last_where_nothing_else_can_be_held() {
        let plan = Patterns { patterns: vec![pattern(&[50, 30, 20])], left_over: Vec::new() };
        let held = Problem { hold: 40, ..Problem::default() };
        let last = |p: &Problem| plan.in_sawing_order(p).patterns[0].cuts[2].0.length;
        assert_eq!((last(&held), last(&Problem::default())), (50, 20));
        assert_eq!(Patterns::default().stop_settings(), 0);
    }
}
