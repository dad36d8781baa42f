//! A height along a wall: the floor it stands on, the soffit it goes up to. Level, sloping or broken;
//! straight between the points given, with a step where two points share a station.

use crate::math::{SAME, SQUARE};
use crate::span::Span;

/// Heights at stations, in order of station. Level beyond its ends. Never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    // Invariant: at least one point, stations rising; two points at one station are a step.
    points: Vec<(f64, f64)>,
}

/// A straight stretch of a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// From station to station.
    pub span: Span,
    /// Height at its lower station.
    pub from: f64,
    /// Height at its higher station.
    pub to: f64,
}

impl Stretch {
    /// Rise along the wall: the tangent of its slope.
    pub fn slope(self) -> f64 {
        (self.to - self.from) / self.span.length()
    }

    /// Height on the straight line it lies on, also beyond its ends.
    fn on_line(self, s: f64) -> f64 {
        self.from + self.slope() * (s - self.span.low)
    }

    /// Height on the straight line it lies on.
    pub fn at(self, s: f64) -> f64 {
        if s == self.span.high { self.to } else { self.from + self.slope() * (s - self.span.low) }
    }
}

impl Profile {
    /// The same height everywhere.
    pub fn level(z: f64) -> Profile {
        Profile { points: vec![(0.0, z)] }
    }

    /// A profile through `points` (station, height); they are put in order. Of more than two at one
    /// station the first and the last count. Level at 0 when there are none.
    pub fn through(mut points: Vec<(f64, f64)>) -> Profile {
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len());
        for point in points {
            match kept[..] {
                [.., a, b] if a.0 == point.0 && b.0 == point.0 => {
                    kept.pop();
                    kept.push(point);
                }
                [.., last] if last == point => {}
                _ => kept.push(point),
            }
        }
        if kept.is_empty() {
            kept.push((0.0, 0.0));
        }
        Profile { points: kept }
    }

    /// The profile over these stretches, in order; where two do not join there is a step.
    fn of_stretches(stretches: &[Stretch]) -> Profile {
        let mut points: Vec<(f64, f64)> = Vec::with_capacity(stretches.len() + 1);
        for s in stretches {
            for point in [(s.span.low, s.from), (s.span.high, s.to)] {
                let joins = |p: &(f64, f64)| p.0 == point.0 && (p.1 - point.1).abs() < 1e-6;
                if !points.last().is_some_and(joins) {
                    // A point in the middle of a straight line is no point.
                    if let [.., a, b] = points[..]
                        && b.0 > a.0
                        && point.0 > b.0
                        && (a.1 + (point.1 - a.1) * (b.0 - a.0) / (point.0 - a.0) - b.1).abs()
                            < 1e-6
                    {
                        points.pop();
                    }
                    points.push(point);
                }
            }
        }
        Profile::through(points)
    }

    /// The same profile with the points left out that lie on a straight line between others.
    #[must_use]
    pub fn simple(&self) -> Profile {
        if self.highest() - self.lowest() < 1e-6 {
            return Profile::level(self.points.first().map_or(0.0, |p| p.1));
        }
        let (first, last) = (self.points.first(), self.points.last());
        let span = Span { low: first.map_or(0.0, |p| p.0), high: last.map_or(0.0, |p| p.0) };
        Profile::of_stretches(&self.stretches(span))
    }

    /// The profile upside down about 0.
    #[must_use]
    pub fn flipped(&self) -> Profile {
        Profile { points: self.points.iter().map(|&(s, z)| (s, -z)).collect() }
    }

    /// The straight line over all of `span` that touches the profile from above and is lowest in the middle of
    /// it: the one with the least room under it.
    #[must_use]
    pub fn line_above(&self, span: Span) -> Profile {
        let ends = |s: Stretch| [(s.span.low, s.from), (s.span.high, s.to)];
        let mut hull: Vec<(f64, f64)> = Vec::new();
        for point in self.stretches(span).into_iter().flat_map(ends) {
            // At a step only the higher of the two counts.
            if let Some(last) = hull.last_mut()
                && last.0 == point.0
            {
                last.1 = last.1.max(point.1);
            } else {
                hull.push(point);
            }
            while let [.., a, b, c] = hull[..]
                && (b.1 - a.1) * (c.0 - a.0) <= (c.1 - a.1) * (b.0 - a.0)
            {
                hull.pop();
                hull.pop();
                hull.push(c);
            }
        }
        let middle = span.centre();
        match hull.windows(2).find(|pair| pair[1].0 >= middle) {
            Some(&[(s0, z0), (s1, z1)]) => {
                let at = |s: f64| (s, z0 + (z1 - z0) * (s - s0) / (s1 - s0));
                Profile::through(vec![at(span.low), at(span.high)]).simple()
            }
            _ => Profile::level(self.range(span).high),
        }
    }

    /// The height at station `s`; beyond a step, when there is one.
    pub fn at(&self, s: f64) -> f64 {
        let next = self.points.partition_point(|p| p.0 <= s);
        self.between(next, s)
    }

    /// The height at station `s`, this side of a step when there is one.
    pub fn before(&self, s: f64) -> f64 {
        let next = self.points.partition_point(|p| p.0 < s);
        self.between(next, s)
    }

    fn between(&self, next: usize, s: f64) -> f64 {
        match (next.checked_sub(1).map(|i| self.points[i]), self.points.get(next)) {
            (Some((s0, z0)), Some(&(s1, z1))) => z0 + (z1 - z0) * (s - s0) / (s1 - s0),
            (Some((_, z)), None) | (None, Some(&(_, z))) => z,
            (None, None) => 0.0,
        }
    }

    /// Its heights at the two ends of `span`, as seen from inside it.
    pub fn over(&self, span: Span) -> (f64, f64) {
        (self.at(span.low), self.before(span.high))
    }

    /// The same profile moved up by `by`.
    #[must_use]
    pub fn raised(&self, by: f64) -> Profile {
        Profile { points: self.points.iter().map(|&(s, z)| (s, z + by)).collect() }
    }

    /// The profile parallel to this one, `by` above it measured square to each slope: the other side of a
    /// plate. Slopes that meet still meet, on the line that halves their turn.
    #[must_use]
    pub fn offset(&self, by: f64) -> Profile {
        let Some(&(first, _)) = self.points.first() else { return self.clone() };
        let last = self.points.last().map_or(first, |p| p.0);
        let mut moved: Vec<Stretch> = self
            .stretches(Span { low: first, high: last })
            .into_iter()
            .map(|s| {
                let up = by * s.slope().hypot(1.0);
                Stretch { from: s.from + up, to: s.to + up, ..s }
            })
            .collect();
        if moved.is_empty() {
            return self.raised(by);
        }
        for i in 1..moved.len() {
            let (a, b) = (moved[i - 1], moved[i]);
            let is_step = (self.before(b.span.low) - self.at(b.span.low)).abs() > SAME;
            let turn = a.slope() - b.slope();
            if is_step || turn.abs() < SQUARE {
                continue;
            }
            let s = b.span.low + (b.from - a.at(b.span.low)) / turn;
            if a.span.low < s && s < b.span.high {
                let z = a.at(s);
                moved[i - 1] = Stretch { span: Span { high: s, ..a.span }, to: z, ..a };
                moved[i] = Stretch { span: Span { low: s, ..b.span }, from: z, ..b };
            }
        }
        Profile::of_stretches(&moved)
    }

    /// The lower of the two, everywhere in `span`.
    #[must_use]
    pub fn lower_of(&self, other: &Profile, span: Span) -> Profile {
        let mut cuts: Vec<f64> = self.breaks().chain(other.breaks()).collect();
        cuts.extend([span.low, span.high]);
        cuts.retain(|s| span.contains(*s));
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        let mut lower = Vec::new();
        for pair in cuts.windows(2) {
            let span = Span { low: pair[0], high: pair[1] };
            let ((a0, a1), (b0, b1)) = (self.over(span), other.over(span));
            let mut put = |span: Span, from, to| lower.push(Stretch { span, from, to });
            let (first, last) = (a0 - b0, a1 - b1);
            if first * last < 0.0 {
                let share = first / (first - last);
                let s = span.low + span.length() * share;
                let z = a0 + (a1 - a0) * share;
                put(Span { high: s, ..span }, a0.min(b0), z);
                put(Span { low: s, ..span }, z, a1.min(b1));
            } else if first + last <= 0.0 {
                put(span, a0, a1);
            } else {
                put(span, b0, b1);
            }
        }
        if lower.is_empty() {
            Profile::level(self.at(span.low).min(other.at(span.low)))
        } else {
            Profile::of_stretches(&lower)
        }
    }

    /// The profile without stretches shorter than `least` between two others that join them: a plate cannot
    /// follow those. It is nowhere higher than it was.
    #[must_use]
    pub fn without_short(&self, least: f64) -> Profile {
        let mut points = self.points.clone();
        let mut i = 1;
        while i + 2 < points.len() {
            let [before, a, b, after] = [points[i - 1], points[i], points[i + 1], points[i + 2]];
            let short = b.0 > a.0 && b.0 - a.0 < least && before.0 < a.0 && b.0 < after.0;
            if !short {
                i += 1;
                continue;
            }
            let slope = |p: (f64, f64), q: (f64, f64)| (q.1 - p.1) / (q.0 - p.0);
            let (left, middle, right) = (slope(before, a), slope(a, b), slope(b, after));
            // A cap that is cut off leaves the profile lower; in a valley one bend takes the place of two, where the
            // lines either side cross.
            let (caps_a, caps_b) = (left >= middle, middle >= right);
            if !caps_a && !caps_b {
                let s = a.0 + (b.1 - right * (b.0 - a.0) - a.1) / (left - right);
                points[i] = (s, a.1 + left * (s - a.0));
                points.remove(i + 1);
            } else if caps_a && (!caps_b || a.1 > b.1) {
                points.remove(i);
            } else {
                points.remove(i + 1);
            }
        }
        Profile { points }
    }

    /// The profile with no break outside `inner`: its first and its last stretch are carried on to the ends of
    /// `outer`, straight, or turned down about their far end as far as it takes to be nowhere higher there.
    #[must_use]
    pub fn carried_on(&self, inner: Span, outer: Span) -> Profile {
        if self.points.len() == 1 || inner.length() <= SAME {
            return self.clone();
        }
        let mut stretches = self.stretches(inner);
        // The height at `to` of the line from a point that stays, under the profile at `to` and between.
        let under = |kept: (f64, f64), from: f64, own: f64, to: f64| {
            let past = Span::between(from, to);
            let passed = self.points.iter().filter(|p| past.contains(p.0)).copied();
            let ends = [(from, own), (to, self.at(to).min(self.before(to)))];
            let line = |(s, z): (f64, f64)| kept.1 + (z - kept.1) * (to - kept.0) / (s - kept.0);
            passed.chain(ends).map(line).fold(f64::INFINITY, f64::min)
        };
        if let Some(first) = stretches.first_mut() {
            let (low, kept) = (outer.low.min(inner.low), (first.span.high, first.to));
            let from = under(kept, first.span.low, first.from, low);
            *first = Stretch { span: Span { low, ..first.span }, from, ..*first };
        }
        if let Some(last) = stretches.last_mut() {
            let (high, kept) = (outer.high.max(inner.high), (last.span.low, last.from));
            let to = under(kept, last.span.high, last.to, high);
            *last = Stretch { span: Span { high, ..last.span }, to, ..*last };
        }
        if stretches.is_empty() { self.clone() } else { Profile::of_stretches(&stretches) }
    }

    /// The same for each of several runs, given as its outer and its inner span, in order. In the middle of what
    /// lies between two of them it steps from one to the other.
    #[must_use]
    pub fn carried_on_in(&self, runs: &[[Span; 2]]) -> Profile {
        if self.points.len() == 1 {
            return self.clone();
        }
        let mut all: Vec<Stretch> = Vec::new();
        for [outer, inner] in runs {
            let mut run = self.carried_on(*inner, *outer).stretches(*outer);
            if let (Some(last), Some(first)) = (all.last_mut(), run.first_mut()) {
                let middle = f64::midpoint(last.span.high, first.span.low);
                let (to, from) = (last.on_line(middle), first.on_line(middle));
                *last = Stretch { span: Span { high: middle, ..last.span }, to, ..*last };
                *first = Stretch { span: Span { low: middle, ..first.span }, from, ..*first };
            }
            all.append(&mut run);
        }
        Profile::of_stretches(&all)
    }

    /// The straight stretches of `span`, in order. Those too short to matter are left out.
    pub fn stretches(&self, span: Span) -> Vec<Stretch> {
        let inside = |s: &f64| span.low < *s && *s < span.high;
        let mut cuts: Vec<f64> = vec![span.low];
        cuts.extend(self.breaks().filter(inside));
        cuts.push(span.high);
        cuts.dedup();
        cuts.windows(2)
            .map(|pair| Span { low: pair[0], high: pair[1] })
            .filter(|piece| piece.length() > SAME)
            .map(|piece| {
                let (from, to) = self.over(piece);
                Stretch { span: piece, from, to }
            })
            .collect()
    }

    /// Stations where the slope changes, or a step stands, in order.
    pub fn breaks(&self) -> impl Iterator<Item = f64> + '_ {
        self.points.iter().map(|p| p.0)
    }

    /// Stations of the steps in it, in order.
    pub fn steps(&self) -> impl Iterator<Item = f64> + '_ {
        let pairs = self.points.windows(2);
        pairs.filter(|p| p[0].0 == p[1].0 && (p[0].1 - p[1].1).abs() > SAME).map(|p| p[0].0)
    }

    /// The lowest and the highest height in `span`.
    pub fn range(&self, span: Span) -> Span {
        let (from, to) = self.over(span);
        let inside = self.points.iter().filter(|p| span.low < p.0 && p.0 < span.high);
        inside.fold(Span::between(from, to), |r, p| Span {
            low: r.low.min(p.1),
            high: r.high.max(p.1),
        })
    }

    /// The lowest height anywhere.
    pub fn lowest(&self) -> f64 {
        self.points.iter().map(|p| p.1).fold(f64::INFINITY, f64::min)
    }

    /// The highest height anywhere.
    pub fn highest(&self) -> f64 {
        self.points.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max)
    }

    /// True when it is the same height everywhere.
    pub fn is_level(&self) -> bool {
        self.highest() - self.lowest() < SAME
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn heights_between_points_and_beyond_the_ends() {
        let p = Profile::through(vec![(1000.0, 2500.0), (0.0, 2400.0)]);
        assert_eq!(p.at(500.0), 2450.0);
        assert_eq!(p.at(-10.0), 2400.0);
        assert_eq!(p.at(9000.0), 2500.0);
        assert_eq!(Profile::level(2400.0).at(123.0), 2400.0);
        assert_eq!((p.lowest(), p.highest()), (2400.0, 2500.0));
    }

    #[test]
    fn a_step_has_two_heights() {
        let p = Profile::through(vec![
            (0.0, 2400.0),
            (1000.0, 2400.0),
            (1000.0, 2100.0),
            (2000.0, 2100.0),
        ]);
        assert_eq!((p.before(1000.0), p.at(1000.0)), (2400.0, 2100.0));
        assert_eq!(p.steps().collect::<Vec<_>>(), [1000.0]);
        assert_eq!(p.over(Span::between(1000.0, 1500.0)), (2100.0, 2100.0));
        assert_eq!(p.stretches(Span::between(500.0, 1500.0)).len(), 2);
    }

    // Handbook trigonometry: a plate 38 mm thick takes 38 / cos 30° = 43.88 mm measured plumb.
    #[test]
    fn a_plate_under_a_rake_takes_its_thickness_over_cosine() {
        let rise = 1000.0 * 30f64.to_radians().tan();
        let p = Profile::through(vec![(0.0, 2000.0), (1000.0, 2000.0 + rise)]);
        assert_relative_eq!(p.at(400.0) - p.offset(-38.0).at(400.0), 43.88, epsilon = 0.005);
    }

    #[test]
    fn two_slopes_stay_met_at_half_the_turn() {
        let ridge = Profile::through(vec![(0.0, 1000.0), (1000.0, 2000.0), (2000.0, 1000.0)]);
        let under = ridge.offset(-50.0);
        assert_relative_eq!(under.at(1000.0), 2000.0 - 50.0 * 2f64.sqrt(), epsilon = 1e-9);
        // From 45 degrees to level: the mitre leans by half of the turn, 50 × tan 22.5° = 20.71.
        let bend = Profile::through(vec![(0.0, 1000.0), (1000.0, 2000.0), (2000.0, 2000.0)]);
        let at = bend.offset(-50.0).breaks().nth(1).unwrap();
        assert_relative_eq!(at - 1000.0, 50.0 * 22.5f64.to_radians().tan(), epsilon = 1e-9);
    }

    #[test]
    fn short_stretches_are_left_out_on_the_low_side() {
        let ridge = Profile::through(vec![
            (0.0, 900.0),
            (1000.0, 1900.0),
            (1020.0, 1900.0),
            (2000.0, 900.0),
        ]);
        let one = ridge.without_short(90.0);
        assert_eq!(one.breaks().count(), 3);
        assert!(
            (0..200).all(|i| one.at(f64::from(i) * 10.0) <= ridge.at(f64::from(i) * 10.0) + 1e-9)
        );
        let valley = Profile::through(vec![
            (0.0, 1900.0),
            (1000.0, 900.0),
            (1020.0, 900.0),
            (2020.0, 1900.0),
        ]);
        let one = valley.without_short(90.0);
        assert_relative_eq!(one.at(1010.0), 890.0, epsilon = 1e-9);
        assert_eq!(ridge.without_short(10.0), ridge);
    }

    #[test]
    fn a_straight_line_over_a_bumpy_floor_touches_it() {
        let floor = Profile::through(vec![
            (0.0, -12.0),
            (1000.0, -3.0),
            (2000.0, -8.0),
            (3000.0, 0.0),
            (4000.0, -9.0),
        ]);
        let line = floor.line_above(Span::between(0.0, 4000.0));
        // Over the middle the highest two are at 1000 and 3000: 1.5 mm in a metre.
        assert_relative_eq!(line.at(0.0), -4.5);
        assert_relative_eq!(line.at(4000.0), 1.5);
        assert!(
            (0..=40)
                .all(|i| line.at(100.0 * f64::from(i)) >= floor.at(100.0 * f64::from(i)) - 1e-9)
        );
        let step = Profile::through(vec![(0.0, 0.0), (500.0, 0.0), (500.0, 9.0), (900.0, 9.0)]);
        assert!(step.line_above(Span::between(0.0, 900.0)).before(500.0) >= 9.0 - 1e-9);
        assert_eq!(Profile::level(3.0).line_above(Span::between(0.0, 9.0)), Profile::level(3.0));
    }

    #[test]
    fn points_on_a_line_are_no_points() {
        let line = Profile::through(vec![(0.0, 5.0), (10.0, 6.0), (20.0, 7.0), (30.0, 0.0)]);
        assert_eq!(line.simple().breaks().collect::<Vec<_>>(), [0.0, 20.0, 30.0]);
        let flat = Profile::through(vec![(0.0, 5.0), (10.0, 5.0)]);
        assert_eq!(flat.simple(), Profile::level(5.0));
        assert_eq!(line.flipped().flipped(), line);
    }

    #[test]
    fn a_slope_under_a_flat_ceiling() {
        let slope = Profile::through(vec![(0.0, 1200.0), (3000.0, 3200.0)]);
        let all = Span::between(0.0, 3000.0);
        let p = slope.lower_of(&Profile::level(2400.0), all);
        assert_relative_eq!(p.at(1800.0), 2400.0, epsilon = 1e-9);
        assert_relative_eq!(p.at(900.0), 1800.0, epsilon = 1e-9);
        assert_eq!(p.at(2900.0), 2400.0);
        assert_eq!(p.stretches(all).len(), 2);
        assert_eq!(p.range(Span::between(900.0, 2000.0)).high, 2400.0);
    }
}
