//! Where the lowest plate of a wall is fixed to the floor, and what is packed under it there.
//!
//! ```text
//!   ▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭▭          ▭▭▭▭▭▭▭▭▭▭   a fixing near each end of every
//!    ↓        ↓          ↓             ↓       ↓    piece of plate, and no two further apart
//!    ═   ≡    ═          ≡   door     ═        ≡    than the job says: on packers where
//!   ─────────────────────────────────────────────   the floor is lower than the plate
//! ```

use crate::frame::{Frame, Member, Role};
use crate::id::Mark;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::span::Span;
use crate::units::Units;

/// No fixing nearer to the end of a plate than this, or the plate splits: mm, common practice.
const LEAST_FROM_END: f64 = 40.0;
/// The furthest a first fixing may be from the end of a plate or the side of a doorway, mm: common practice.
const MOST_FROM_END: f64 = 150.0;
/// A fixing keeps this far from a pipe, mm: common practice.
pub(crate) const FROM_PIPE: f64 = 50.0;
/// And this far from the side of an upright, so that it can be driven with the frame standing, mm.
const FROM_STUD: f64 = 15.0;

/// No more fixings than this in a piece of plate.
const MOST: f64 = 2000.0;

/// A place where the lowest plate is fixed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fixing {
    /// Station.
    pub at: f64,
    /// From the floor up to the plate, mm: what is packed there.
    pub packer: f64,
    /// The piece of plate.
    pub plate: Mark,
    /// True when a pipe stands in the way and no place clear of it is near enough.
    pub blocked: bool,
}

/// A packer made up from shims.
#[derive(Clone, Debug, PartialEq)]
pub struct Shims {
    /// Thickness and count, the thickest first.
    pub shims: Vec<(f64, usize)>,
    /// What is left over that no shims make up, mm.
    pub left: f64,
}

impl Shims {
    /// “20 + 2 × 5”; empty when there are none.
    pub fn text(&self, units: Units) -> String {
        let one = |&(thickness, count): &(f64, usize)| match count {
            1 => units.fine(thickness),
            _ => format!("{count} × {}", units.fine(thickness)),
        };
        self.shims.iter().map(one).collect::<Vec<_>>().join(" + ")
    }
}

/// Fixings of the lowest plate of a wall, in order of station.
pub fn fixings(spec: &WallSpec, frame: &Frame) -> Vec<Fixing> {
    let lowest = |m: &&Member| matches!(m.role, Role::SolePlate | Role::LowerSole);
    let on_bed = |m: &&Member| {
        let s = m.solid.stations().centre();
        m.solid.heights().low - spec.bed.at(s) < spec.makeup.timber.thickness() / 2.0
    };
    let pipes: Vec<Span> =
        spec.spots.iter().filter(|s| s.is_pipe).map(|s| s.span.grown(FROM_PIPE)).collect();
    let uprights: Vec<Span> = frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height() || matches!(m.role, Role::Jack | Role::Riser))
        .map(|m| m.solid.stations().grown(FROM_STUD))
        .collect();
    let mut list = Vec::new();
    for plate in frame.members.iter().filter(lowest).filter(on_bed) {
        let run = plate.solid.stations();
        for at in along(run, spec, &pipes, &uprights) {
            let packer = (spec.bed.at(at) - spec.floor.at(at)).max(0.0);
            let blocked = pipes.iter().any(|p| p.low + SAME < at && at < p.high - SAME);
            list.push(Fixing { at, packer, plate: plate.mark, blocked });
        }
    }
    list.sort_by(|a, b| a.at.total_cmp(&b.at));
    list
}

/// Stations of the fixings of one piece of plate.
fn along(run: Span, spec: &WallSpec, pipes: &[Span], uprights: &[Span]) -> Vec<f64> {
    let packing = &spec.packing;
    let end = packing.from_end.min(run.length() / 2.0).max(0.0);
    let near = |from: f64, to: f64| Span::between(from, to).intersection(run);
    let (low, high) = (run.low, run.high);
    let first = clear(
        low + end,
        near(low + LEAST_FROM_END.min(end), low + MOST_FROM_END.max(end)),
        pipes,
        uprights,
    );
    let last = clear(
        high - end,
        near(high - MOST_FROM_END.max(end), high - LEAST_FROM_END.min(end)),
        pipes,
        uprights,
    );
    // One in the middle holds a short piece.
    let holds = first - low <= MOST_FROM_END && high - first <= MOST_FROM_END;
    if last - first < SAME || (holds && last - first <= 2.0 * LEAST_FROM_END) {
        return vec![first];
    }
    let apart = packing.apart.max(100.0).max(run.length() / MOST);
    let mut stations = vec![first];
    let mut from = first;
    // Each step goes on by at least a third of the spacing, whatever stands in the way.
    while last - from > apart + SAME {
        let steps = ((last - from) / apart - 1e-9).ceil();
        let reach = near(from + apart / 3.0, from + apart);
        from = clear(from + (last - from) / steps, reach, pipes, uprights);
        stations.push(from);
    }
    stations.push(last);
    stations
}

/// The station in `reach` nearest to `wanted` that is clear of pipes and uprights; of pipes alone where there
/// is none; `wanted` where there is none of those either.
fn clear(wanted: f64, reach: Span, pipes: &[Span], uprights: &[Span]) -> f64 {
    let wanted = wanted.clamp(reach.low, reach.high.max(reach.low));
    let nearest = |keep_off: &[Span]| -> Option<f64> {
        if keep_off.iter().all(|o| wanted <= o.low + SAME || wanted >= o.high - SAME) {
            return Some(wanted);
        }
        let free = reach.without(keep_off);
        let edges = free.iter().map(|f| wanted.clamp(f.low, f.high));
        edges.min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))
    };
    let all: Vec<Span> = pipes.iter().chain(uprights).copied().collect();
    nearest(&all).or_else(|| nearest(pipes)).unwrap_or(wanted)
}

/// The shims that make up the packer of a fixing as it is printed, to the step of the job's units.
pub fn shims(spec: &WallSpec, fixing: &Fixing) -> Shims {
    made_up(spec.units.round(fixing.packer), &spec.packing.shims)
}

/// Packers above this are timber, not shims, mm.
const MOST_SHIMS: f64 = 300.0;

/// Makes up `height` from shims of these thicknesses: as much of it as they can, with as few of them as do it.
/// Counted in tenths of a millimetre; what is above 300 mm is left over.
pub fn made_up(height: f64, thicknesses: &[f64]) -> Shims {
    let tenths = |v: f64| (v * 10.0).round() as usize;
    let wanted = tenths(height.clamp(0.0, MOST_SHIMS));
    let mut sizes: Vec<usize> = thicknesses
        .iter()
        .filter(|t| **t >= 0.1 && **t <= MOST_SHIMS)
        .map(|t| tenths(*t))
        .collect();
    sizes.sort_unstable_by(|a, b| b.cmp(a));
    sizes.dedup();
    // The fewest shims for every height up to the one wanted, and the thickest that can be one of them.
    let mut fewest: Vec<Option<(usize, usize)>> = vec![None; wanted + 1];
    fewest[0] = Some((0, 0));
    for h in 1..=wanted {
        for &size in sizes.iter().filter(|s| **s <= h) {
            let Some((count, _)) = fewest[h - size] else { continue };
            if fewest[h].is_none_or(|(best, _)| count + 1 < best) {
                fewest[h] = Some((count + 1, size));
            }
        }
    }
    let mut h = (0..=wanted).rev().find(|h| fewest[*h].is_some()).unwrap_or(0);
    let left = ((height - h as f64 / 10.0).max(0.0) * 10.0).round() / 10.0;
    let mut shims: Vec<(f64, usize)> = Vec::new();
    while let Some((1.., size)) = fewest[h] {
        let thickness = size as f64 / 10.0;
        match shims.iter_mut().find(|s| s.0 == thickness) {
            Some(s) => s.1 += 1,
            None => shims.push((thickness, 1)),
        }
        h -= size;
    }
    shims.sort_by(|a, b| b.0.total_cmp(&a.0));
    Shims { shims, left }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(height: f64, stock: &[f64]) -> (usize, f64) {
        let made = made_up(height, stock);
        (made.shims.iter().map(|s| s.1).sum(), made.left)
    }

    #[test]
    fn packers_take_the_fewest_shims() {
        let stock = [1.0, 2.0, 3.0, 5.0, 10.0, 20.0];
        assert_eq!(made_up(17.0, &stock).text(Units::Millimetres), "10 + 5 + 2");
        assert_eq!(made_up(44.0, &stock).text(Units::Millimetres), "2 × 20 + 3 + 1");
        assert_eq!(made_up(0.0, &stock).text(Units::Millimetres), "");
        // The thickest first would take 6 + 1 + 1.
        assert_eq!(made_up(8.0, &[1.0, 4.0, 6.0]).text(Units::Millimetres), "2 × 4");
        assert_eq!(made_up(7.3, &stock), Shims { shims: vec![(5.0, 1), (2.0, 1)], left: 0.3 });
    }

    // Held against trying every way there is.
    #[test]
    fn no_other_choice_takes_fewer_or_leaves_less() {
        for stock in [vec![2.0, 5.0, 9.0], vec![3.0, 7.0], vec![1.5, 4.0, 6.5]] {
            for h in 0..=40 {
                let height = f64::from(h);
                let mut best = (0, height);
                let mut tries = vec![(0, 0.0)];
                while let Some((n, sum)) = tries.pop() {
                    let left = height - sum;
                    if left < best.1 - 1e-9 || (left < best.1 + 1e-9 && n < best.0) {
                        best = (n, left);
                    }
                    tries.extend(
                        stock
                            .iter()
                            .map(|s| (n + 1, sum + s))
                            .filter(|t| t.1 <= height && t.0 <= 20),
                    );
                }
                assert_eq!(count(height, &stock), best, "{height} from {stock:?}");
            }
        }
    }

    #[test]
    fn odd_stock_leaves_all_over() {
        assert_eq!(count(12.0, &[]), (0, 12.0));
        assert_eq!(count(12.0, &[f64::NAN, -1.0, 0.0, 1e9]), (0, 12.0));
        assert_eq!(count(5000.0, &[20.0]).0, 15);
        assert_eq!(made_up(f64::NAN, &[20.0]).shims, []);
    }
}
