//! Studs cut out round a box or a duct: trimmers above and below it, between the studs to either side, and what
//! is left of the stud on them.

use super::heights::Heights;
use super::holes::Holes;
use super::uprights::Uprights;
use super::{Pieces, Role};
use crate::math::{LEAST_STUD, SAME};
use crate::profile::Profile;
use crate::resolve::{Spot, WallSpec};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// A box is this much clear of the timber round it. Common practice.
pub(crate) const BESIDE_BOX: f64 = 5.0;

/// Common studs cut out together.
struct Cut {
    /// Which uprights.
    studs: std::ops::Range<usize>,
    /// The height that is to be clear.
    clear: Span,
}

/// Cuts the common studs out that stand in the way of what is to be headed off, and frames what is left.
pub(super) fn cut_out(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &mut Uprights,
    pieces: &mut Pieces,
    snags: &mut Vec<Snag>,
) {
    let mut cuts: Vec<Cut> = Vec::new();
    for spot in spec.spots.iter().filter(|s| s.headed) {
        let clear = spot.heights.grown(BESIDE_BOX);
        match studs_behind(spec, heights, holes, uprights, spot, clear) {
            Ok(None) => {}
            Ok(Some(studs)) => cuts.push(Cut { studs, clear }),
            Err(why) => snags.push(
                Snag::new(
                    Code::NotHeaded,
                    spot.of.clone(),
                    format!(
                        "No stud of wall {} is cut out for {}: {why}",
                        spec.name,
                        spot.called()
                    ),
                    "Move it, or let the stud stand.",
                )
                .in_wall(&spec.name, spot.span.centre())
                .at_height(spot.heights.centre()),
            ),
        }
    }
    if cuts.is_empty() {
        return;
    }
    let t = spec.makeup.timber.thickness();
    let cuts = joined(cuts, 2.0 * t + LEAST_STUD);
    let timber = &spec.makeup.timber;
    let mut gone: Vec<usize> = Vec::new();
    for cut in &cuts {
        let bay = Span {
            low: uprights.list[cut.studs.start - 1].span.high,
            high: uprights.list[cut.studs.end].span.low,
        };
        for band in
            [Span { low: cut.clear.low - t, high: cut.clear.low }, Span::from(cut.clear.high, t)]
        {
            pieces.lying(Role::StudTrimmer, timber, bay, spec.frame, |_| band.low, |_| band.high);
        }
        gone.extend(cut.studs.clone());
    }
    gone.sort_unstable();
    gone.dedup();
    for &stud in &gone {
        let upright = &uprights.list[stud];
        let mut foot = heights.foot.clone();
        let through = cuts.iter().filter(|c| c.studs.contains(&stud));
        for cut in through {
            let under = Profile::level(cut.clear.low - t);
            pieces.between_plates(Role::Cripple, upright.sides, upright.across, &foot, &under);
            foot = Profile::level(cut.clear.high + t);
        }
        let (sides, across) = (upright.sides, upright.across);
        pieces.between_plates(Role::Cripple, sides, across, &foot, &heights.under);
    }
    for stud in gone.into_iter().rev() {
        uprights.list.remove(stud);
    }
}

/// The common studs behind a box or duct, when they can be cut out; or why they cannot.
fn studs_behind(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &Uprights,
    spot: &Spot,
    clear: Span,
) -> Result<Option<std::ops::Range<usize>>, &'static str> {
    let list = &uprights.list;
    let wanted = spot.span.grown(BESIDE_BOX);
    let mut hit = (0..list.len()).filter(|i| list[*i].span.overlaps(wanted));
    let Some(first) = hit.next() else { return Ok(None) };
    let last = hit.next_back().unwrap_or(first);
    let common = |i: usize| list[i].role == Role::Stud && !list[i].blocked_to_next;
    if !(first..=last).all(common) {
        return Err("what stands there is more than a common stud");
    }
    if first == 0 || last + 1 == list.len() || list[first - 1].blocked_to_next {
        return Err("there is no stud beside it to carry trimmers");
    }
    let bay = Span { low: list[first - 1].span.high, high: list[last + 1].span.low };
    let t = spec.makeup.timber.thickness();
    let room = heights.clear(bay);
    if !room.grown(-LEAST_STUD).covers(clear.grown(t)) {
        return Err("there is no height for trimmers above and below it");
    }
    let full = |i: usize| list[i].across.covers(spec.frame.grown(-SAME));
    let in_hole = holes.gaps.iter().any(|g| g.overlaps(bay));
    let in_run = holes.runs.iter().any(|run| run.covers(bay));
    if in_hole || !in_run || !full(first - 1) || !full(last + 1) {
        return Err("there is no whole stud either side of it");
    }
    Ok(Some(first..last + 1))
}

/// Cuts through the same studs that are nearer to each other than `apart` are one.
fn joined(mut cuts: Vec<Cut>, apart: f64) -> Vec<Cut> {
    cuts.sort_by(|a, b| {
        a.clear.low.total_cmp(&b.clear.low).then(a.studs.start.cmp(&b.studs.start))
    });
    let mut list: Vec<Cut> = Vec::with_capacity(cuts.len());
    for mut cut in cuts {
        // One that is joined may reach another that was clear of it before.
        while let Some(i) = list.iter().position(|c| {
            // Cuts in bays side by side would rest their trimmers on each other's studs.
            let meets = c.studs.start <= cut.studs.end && cut.studs.start <= c.studs.end;
            meets && c.clear.gap(cut.clear) < apart
        }) {
            let other = list.remove(i);
            cut.studs = other.studs.start.min(cut.studs.start)..other.studs.end.max(cut.studs.end);
            cut.clear = Span {
                low: other.clear.low.min(cut.clear.low),
                high: other.clear.high.max(cut.clear.high),
            };
        }
        list.push(cut);
    }
    list.sort_by(|a, b| a.clear.low.total_cmp(&b.clear.low));
    list
}
