//! How doubled plates lap where walls meet squarely: the outer plate of the wall that butts (the upper of its head,
//! the lower of its sole) runs over the inner plate of the other, whose own outer plate makes room for it.
//!
//! ```text
//!   upper   ═══════════╡═════     the through wall's upper plate stops at the near face of the other;
//!   lower   ════════════════╡     at a corner the other's upper plate runs on to its outer face
//! ```

use std::collections::BTreeMap;

use crate::document::{Face, Head, Job, Sole};
use crate::math::{SQUARE, meet};
use crate::span::Span;

use super::{BackingKind, Laps, Meets, Place, Shared};

/// Which plates.
#[derive(Clone, Copy, PartialEq)]
enum Plates {
    Heads,
    Soles,
}

/// Settles the laps of all walls; `plain` says at which ends there is a corner or a tee and nothing else.
pub(super) fn settle(job: &Job, walls: &mut [Shared], plain: &[[bool; 2]]) {
    let by_name: BTreeMap<_, _> =
        walls.iter().enumerate().map(|(i, w)| (&job.walls[w.wall].name, i)).collect();
    for (i, plain) in plain.iter().enumerate() {
        for (end, _) in plain.iter().enumerate().filter(|(_, plain)| **plain) {
            let Meets::Butts(other) = &walls[i].ends[end].meets else { continue };
            let Some(&j) = by_name.get(other) else { continue };
            if walls[i].place.along.dot(&walls[j].place.along).abs() > SQUARE {
                continue;
            }
            for plates in [Plates::Heads, Plates::Soles] {
                if level_with(job, &walls[i], &walls[j], plates) {
                    lap(job, walls, (i, end), j, plates);
                }
            }
        }
    }
}

/// True when both have two plates or more, at one level.
fn level_with(job: &Job, a: &Shared, b: &Shared, plates: Plates) -> bool {
    let (v, w) = (&job.walls[a.wall], &job.walls[b.wall]);
    match plates {
        Plates::Heads => {
            let head = |w: &crate::document::Wall, s: &Shared| -> Head {
                w.head.as_ref().unwrap_or(&s.makeup.head).clone()
            };
            a.makeup.head_plates > 1
                && b.makeup.head_plates > 1
                && head(v, a) == head(w, b)
                && a.soffit.is_level()
                && b.soffit.is_level()
                && (a.soffit.lowest() - b.soffit.lowest()).abs() < crate::math::SAME
                && a.makeup.timber.thickness() == b.makeup.timber.thickness()
        }
        Plates::Soles => {
            let sole = |w: &crate::document::Wall, s: &Shared| -> Sole {
                w.sole.as_ref().unwrap_or(&s.makeup.sole).clone()
            };
            a.makeup.sole_plates > 1
                && b.makeup.sole_plates > 1
                && sole(v, a) == sole(w, b)
                && matches!(sole(v, a), Sole::Direct { .. })
                && a.makeup.timber.thickness() == b.makeup.timber.thickness()
        }
    }
}

/// Laps the upper plates of wall `i`, which butts with `end`, over those of wall `j`.
fn lap(job: &Job, walls: &mut [Shared], (i, end): (usize, usize), j: usize, plates: Plates) {
    let faces = [Face::Left, Face::Right].map(|f| crosses(&walls[i].place, &walls[j], f));
    let [Some(a), Some(b)] = faces else { return };
    let far = if end == 0 { a.min(b) } else { a.max(b) };
    let name = job.walls[walls[i].wall].name.clone();
    let corner =
        walls[j].ends.iter().position(|e| matches!(&e.meets, Meets::Through(w) if *w == name));
    if let Some(at) = corner {
        let faces = [Face::Left, Face::Right].map(|f| crosses(&walls[j].place, &walls[i], f));
        let [Some(a), Some(b)] = faces else { return };
        of(&mut walls[j], plates).ends[at] = Some(if at == 0 { a.max(b) } else { a.min(b) });
    } else {
        let mut gaps: Vec<(usize, Span)> = Vec::new();
        for (k, wall) in walls.iter().enumerate() {
            let owed =
                wall.backings.iter().filter(|b| b.kind == BackingKind::Tee && b.with == name);
            gaps.extend(owed.map(|b| (k, b.span)));
        }
        // Of two that meet either side at one place, the first laps.
        let taken = |(k, span): &(usize, Span)| {
            laps(&walls[*k], plates).gaps.iter().any(|g| g.overlaps(*span))
        };
        let bent = |(k, _): &(usize, Span)| {
            walls[*k].place.along.dot(&walls[i].place.along).abs() > SQUARE
        };
        if gaps.is_empty() || gaps.iter().any(|g| taken(g) || bent(g)) {
            return;
        }
        for (k, span) in gaps {
            of(&mut walls[k], plates).gaps.push(span);
        }
    }
    of(&mut walls[i], plates).ends[end] = Some(far);
}

/// Station at which the line of a wall crosses a face of another.
fn crosses(place: &Place, other: &Shared, face: Face) -> Option<f64> {
    let n = if face == Face::Left { other.frame.high } else { other.frame.low };
    meet(place.origin, place.along, other.place.plan(0.0, n), other.place.along)
}

fn laps(wall: &Shared, plates: Plates) -> &Laps {
    match plates {
        Plates::Heads => &wall.head_laps,
        Plates::Soles => &wall.sole_laps,
    }
}

fn of(wall: &mut Shared, plates: Plates) -> &mut Laps {
    match plates {
        Plates::Heads => &mut wall.head_laps,
        Plates::Soles => &mut wall.sole_laps,
    }
}
