//! A height along a wall: the floor it stands on, the soffit it goes up to. Level, sloping or
//! broken; straight between the points given.

/// Heights at stations, in order of station. Level beyond its ends. Never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    // Invariant: at least one point, stations rising.
    points: Vec<(f64, f64)>,
}

impl Profile {
    /// The same height everywhere.
    pub fn level(z: f64) -> Profile {
        Profile { points: vec![(0.0, z)] }
    }

    /// A profile through `points` (station, height); they are put in order. Level at 0 when there
    /// are none.
    pub fn through(mut points: Vec<(f64, f64)>) -> Profile {
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        points.dedup_by(|a, b| a.0 == b.0);
        if points.is_empty() {
            points.push((0.0, 0.0));
        }
        Profile { points }
    }

    /// The height at station `s`.
    pub fn at(&self, s: f64) -> f64 {
        let next = self.points.partition_point(|p| p.0 <= s);
        match (next.checked_sub(1).map(|i| self.points[i]), self.points.get(next)) {
            (Some((s0, z0)), Some(&(s1, z1))) => z0 + (z1 - z0) * (s - s0) / (s1 - s0),
            (Some((_, z)), None) | (None, Some(&(_, z))) => z,
            (None, None) => 0.0,
        }
    }

    /// The same profile moved up by `by`.
    #[must_use]
    pub fn raised(&self, by: f64) -> Profile {
        Profile { points: self.points.iter().map(|&(s, z)| (s, z + by)).collect() }
    }

    /// Stations where the slope changes, in order.
    pub fn breaks(&self) -> impl Iterator<Item = f64> + '_ {
        self.points.iter().map(|p| p.0)
    }

    /// The lowest height anywhere.
    pub fn lowest(&self) -> f64 {
        self.points.iter().map(|p| p.1).fold(f64::INFINITY, f64::min)
    }

    /// The highest height anywhere.
    pub fn highest(&self) -> f64 {
        self.points.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_between_points_and_beyond_the_ends() {
        let p = Profile::through(vec![(1000.0, 2500.0), (0.0, 2400.0)]);
        assert_eq!(p.at(500.0), 2450.0);
        assert_eq!(p.at(-10.0), 2400.0);
        assert_eq!(p.at(9000.0), 2500.0);
        assert_eq!(Profile::level(2400.0).at(123.0), 2400.0);
        assert_eq!((p.lowest(), p.highest()), (2400.0, 2500.0));
    }
}
