//! What fills the bays: the clear rectangle between timbers, and what is cut for it.

use crate::document::{Insulation, Sundries};
use crate::frame::Frame;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::span::Span;

/// Narrower or lower than this nothing is cut for: what is left is packed with scraps, mm. Common practice.
pub const LEAST: f64 = 30.0;

/// One piece of insulation between timbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    /// Which bay it is in, from 1 at the start of the wall.
    pub bay: usize,
    /// What it covers along the wall.
    pub along: Span,
    /// Its foot.
    pub low: f64,
    /// Its top at its start and at its end.
    pub high: [f64; 2],
    /// What is cut for it: width and height, mm.
    pub cut: (f64, f64),
}

impl Fill {
    /// Area of the bay it fills, mm².
    pub fn area(&self) -> f64 {
        self.along.length() * ((self.high[0] + self.high[1]) / 2.0 - self.low)
    }
}

/// A stretch between uprights with what is clear in it.
struct Strip {
    along: Span,
    /// Foot, and top at its start and its end.
    clear: Vec<(f64, [f64; 2])>,
}

/// Everything that is cut for the bays of a wall, bay by bay, from the floor up; nothing where the make-up has none. Timber
/// that leaves more than half of the depth free does not interrupt it.
pub fn fills(spec: &WallSpec, frame: &Frame, friction: f64) -> Vec<Fill> {
    if spec.makeup.insulation.is_none() || frame.members.is_empty() {
        return Vec::new();
    }
    let strips = strips(spec, frame);
    let mut fills: Vec<Fill> = Vec::new();
    let mut bay = 0;
    let mut last = f64::NEG_INFINITY;
    for strip in strips {
        // What goes on beside the strip before it is one piece with it.
        let mut open = strip.clear;
        if (strip.along.low - last).abs() < SAME {
            open.retain(|&(low, high)| {
                let goes_on = |f: &&mut Fill| {
                    (f.along.high - strip.along.low).abs() < SAME
                        && (f.low - low).abs() < SAME
                        && (f.high[1] - high[0]).abs() < SAME
                };
                let Some(fill) = fills.iter_mut().find(goes_on) else { return true };
                fill.along.high = strip.along.high;
                fill.high[1] = high[1];
                false
            });
        }
        last = strip.along.high;
        if open.is_empty() {
            continue;
        }
        bay += 1;
        fills.extend(open.into_iter().map(|(low, high)| Fill {
            bay,
            along: strip.along,
            low,
            high,
            cut: (0.0, 0.0),
        }));
    }
    fills.retain(|f| f.along.length() >= LEAST && f.high[0].max(f.high[1]) - f.low >= LEAST);
    for fill in &mut fills {
        let high = fill.high[0].max(fill.high[1]);
        fill.cut = (fill.along.length() + friction, high - fill.low);
    }
    // Numbered again, since slivers have gone.
    let (mut number, mut before) = (0, 0);
    for fill in &mut fills {
        if fill.bay != before {
            number += 1;
            before = fill.bay;
        }
        fill.bay = number;
    }
    fills
}

fn strips(spec: &WallSpec, frame: &Frame) -> Vec<Strip> {
    let half = spec.frame.length() / 2.0;
    let in_the_way = frame.members.iter().filter(|m| m.solid.across().length() >= half - SAME);
    let members: Vec<_> = in_the_way
        .map(|m| (m.solid.stations(), m.solid.elevation(crate::document::Face::Right)))
        .collect();
    // Where anything begins or ends along the wall, and where its head breaks.
    let along = spec.along();
    let mut cuts: Vec<f64> = vec![along.low, along.high];
    cuts.extend(members.iter().flat_map(|(s, _)| [s.low, s.high]));
    cuts.extend(spec.head.stretches(along).iter().map(|s| s.span.low));
    for hole in &spec.holes {
        cuts.extend([hole.doorway().low, hole.doorway().high, hole.span.low, hole.span.high]);
    }
    cuts.extend(spec.breaks.iter().flat_map(|b| b.at.concat()));
    cuts.retain(|s| along.contains(*s));
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| (*a - *b).abs() < SAME);
    let mut strips = Vec::new();
    for pair in cuts.windows(2) {
        let along = Span { low: pair[0], high: pair[1] };
        if spec.breaks.iter().any(|b| Span::between(b.at[0][0], b.at[1][0]).overlaps(along)) {
            continue;
        }
        let middle = along.centre();
        let mut taken: Vec<Span> = members
            .iter()
            .filter(|(s, _)| s.overlaps(along))
            .map(|(_, corners)| at(corners, middle))
            .collect();
        for hole in spec.holes.iter().filter(|h| h.span.overlaps(along)) {
            taken.push(Span { low: hole.sill.unwrap_or(f64::NEG_INFINITY), high: hole.top });
        }
        let (low, top) = (spec.bed.at(middle), spec.head.at(middle));
        // Between plates only: not where those of another wall lap, nor what the floor buries.
        let mut clear = Span { low, high: top }.without(&taken);
        clear.retain(|z| z.low > low + SAME && z.high < top - SAME && z.high > 0.0);
        let clear: Vec<(f64, [f64; 2])> = clear
            .into_iter()
            .map(|z| {
                // Under a slope its top follows the timber over it.
                let over = members
                    .iter()
                    .filter(|(s, _)| s.overlaps(along))
                    .find(|(_, c)| (at(c, middle).low - z.high).abs() < SAME);
                let high = over
                    .map_or([z.high; 2], |(_, c)| [along.low, along.high].map(|s| at(c, s).low));
                (z.low, high)
            })
            .collect();
        strips.push(Strip { along, clear });
    }
    strips
}

/// What a piece covers in height at a station, from its corners in the elevation.
fn at(corners: &[(f64, f64); 4], s: f64) -> Span {
    let empty = Span { low: f64::INFINITY, high: f64::NEG_INFINITY };
    (0..4).fold(empty, |found, i| {
        let (a, b) = (corners[i], corners[(i + 1) % 4]);
        if !Span::between(a.0, b.0).contains(s) {
            return found;
        }
        let add = |found: Span, z: f64| Span { low: found.low.min(z), high: found.high.max(z) };
        if (b.0 - a.0).abs() < SAME {
            return add(add(found, a.1), b.1);
        }
        add(found, a.1 + (b.1 - a.1) * (s - a.0) / (b.0 - a.0))
    })
}

/// Pieces that are cut alike, to the millimetre.
#[derive(Clone, Debug, PartialEq)]
pub struct Cuts {
    /// Width and height, whole mm.
    pub size: (f64, f64),
    /// How many.
    pub count: usize,
    /// The bays they are for.
    pub bays: Vec<usize>,
}

/// The pieces of a wall, like ones together: most first, the largest of as many.
pub fn alike(fills: &[Fill]) -> Vec<Cuts> {
    let mut cuts: Vec<Cuts> = Vec::new();
    for fill in fills {
        let size = (fill.cut.0.round(), fill.cut.1.round());
        match cuts.iter_mut().find(|c| c.size == size) {
            Some(same) => {
                same.count += 1;
                same.bays.push(fill.bay);
            }
            None => cuts.push(Cuts { size, count: 1, bays: vec![fill.bay] }),
        }
    }
    cuts.sort_by(|a, b| {
        let area = |c: &Cuts| c.size.0 * c.size.1;
        b.count.cmp(&a.count).then(area(b).total_cmp(&area(a)))
    });
    for same in &mut cuts {
        same.bays.dedup();
    }
    cuts
}

/// How many slabs (or rolls) pieces are cut from, as an estimate: strips of one width are cut along or across the slab,
/// whichever gives more of them, and stood end to end; strips that are left are not used for another width.
pub fn slabs(insulation: &Insulation, cuts: &[Cuts]) -> usize {
    let (width, length) = insulation.slab;
    let mut widths: Vec<(f64, f64)> = Vec::new();
    for c in cuts {
        let tall = c.size.1 * c.count as f64;
        match widths.iter_mut().find(|(w, _)| *w == c.size.0) {
            Some((_, sum)) => *sum += tall,
            None => widths.push((c.size.0, tall)),
        }
    }
    let one = |&(wide, tall): &(f64, f64)| {
        // Wider than a slab: strips side by side.
        let beside = (wide / width.max(1.0)).ceil().max(1.0);
        let wide = wide / beside;
        let strips = |across: f64, long: f64| (across / wide.max(1.0)).floor() * long;
        let from_one = strips(width, length).max(strips(length, width));
        if from_one > 0.0 { tall * beside / from_one } else { 0.0 }
    };
    widths.iter().map(one).sum::<f64>().ceil() as usize
}

/// The friction that a job's insulation is cut with, never less than nothing.
pub fn friction(rules: &Sundries) -> f64 {
    if rules.friction.is_finite() { rules.friction.max(0.0) } else { 0.0 }
}
