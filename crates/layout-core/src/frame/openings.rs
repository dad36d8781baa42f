//! What stands in and around an opening: jacks, head, sill and cripples, and the slats of a pocket.

use super::grid::{Grid, GridMark, Settled, divide_wide_bays, settle};
use super::heights::Heights;
use super::holes::FramedHole;
use super::{Pieces, Role};
use crate::document::{HeadLay, Timber};
use crate::math::SAME;
use crate::profile::Profile;
use crate::resolve::WallSpec;
use crate::span::Span;

/// Frames one opening.
pub(super) fn frame(
    spec: &WallSpec,
    heights: &Heights,
    grid: &Grid,
    hole: &FramedHole,
    pieces: &mut Pieces,
) {
    let makeup = &spec.makeup;
    let t = makeup.timber.thickness();
    let [left, right] = hole.jacks;
    let jacks = [
        Span { low: hole.span.low - left, high: hole.span.low },
        Span::from(hole.span.high, right),
    ];
    for jack in jacks.into_iter().filter(|j| j.length() > SAME) {
        let sides = [[jack.low; 2], [jack.high; 2]];
        pieces.between_plates(
            Role::Jack,
            sides,
            spec.frame,
            &heights.foot,
            &Profile::level(hole.top),
        );
    }
    // Below the head, from jack to jack; where there is no jack, to the stud that serves.
    let low_room = Span {
        low: if left > SAME { hole.span.low } else { hole.clear.low },
        high: if right > SAME { hole.span.high } else { hole.clear.high },
    };
    let head_top = hole.head.map_or(hole.top, |h| h.high);
    if let Some(head) = hole.head {
        let timber = makeup.opening_head.as_ref().unwrap_or(&makeup.timber);
        let (frame, thin) = (spec.frame, timber.thickness().min(spec.frame.length()));
        let right = Span::from(frame.low, thin);
        let heads = match hole.head_lay {
            HeadLay::Flat => vec![Span::from(frame.low, timber.depth().min(frame.length()))],
            HeadLay::OnEdge => vec![Span::about(frame.centre(), thin)],
            HeadLay::Doubled => vec![right, Span { low: frame.high - thin, high: frame.high }],
        };
        for across in heads {
            pieces.lying(
                Role::OpeningHead,
                timber,
                hole.clear,
                across,
                |_| head.low,
                |_| head.high,
            );
        }
    }
    if let Some(sills) = hole.sill_piece {
        let mut low = sills.low;
        while low < sills.high - SAME {
            pieces.lying(Role::Sill, &makeup.timber, low_room, spec.frame, |_| low, |_| low + t);
            low += t;
        }
    }
    if let Some((pocket, slat)) = hole.pocket {
        slats(spec, heights, grid, hole, pocket, slat, pieces);
    }
    // Over the head the cripples keep the grid between the full-height studs; under the sill
    // between the jacks.
    let mut stand = |room: Span, foot: &Profile, under: &Profile| {
        for span in cripples(grid, room, t, spec.centres) {
            let sides = [[span.low; 2], [span.high; 2]];
            pieces.between_plates(Role::Cripple, sides, spec.frame, foot, under);
        }
    };
    if hole.head.is_some() {
        stand(hole.clear, &Profile::level(head_top), &heights.under);
    }
    if let Some(sill) = hole.sill_piece {
        stand(low_room, &heights.foot, &Profile::level(sill.low));
    }
}

/// The faces of a pocket: slats either side of the leaf's gap, one pair at the mouth and the rest where board
/// joints want them, on the strips that take the place of the sole plate there.
fn slats(
    spec: &WallSpec,
    heights: &Heights,
    grid: &Grid,
    hole: &FramedHole,
    pocket: Span,
    slat: f64,
    pieces: &mut Pieces,
) {
    let t = spec.makeup.timber.thickness();
    // The pocket as it came out, from its mouth to the stud or jack at its back.
    let at_start = pocket.centre() < hole.span.centre();
    let mouth = if at_start {
        Span { low: pocket.high - t, high: pocket.high }
    } else {
        Span::from(pocket.low, t)
    };
    if mouth.low < hole.span.low - SAME || mouth.high > hole.span.high + SAME {
        return;
    }
    let rest = if at_start {
        Span { low: hole.span.low, high: mouth.low }
    } else {
        Span { low: mouth.high, high: hole.span.high }
    };
    let mut stand = cripples(grid, rest, t, spec.centres);
    stand.push(mouth);
    let timber = slat_timber(spec, slat);
    let top = hole.head.map_or_else(|| heights.under.clone(), |h| Profile::level(h.low));
    for face in slat_faces(spec, slat) {
        for span in &stand {
            let sides = [[span.low; 2], [span.high; 2]];
            pieces.between(Role::Slat, &timber, sides, face, &heights.foot, &top);
        }
    }
}

/// The section of slats and of the strips they stand on.
pub(super) fn slat_timber(spec: &WallSpec, slat: f64) -> Timber {
    let timber = &spec.makeup.timber;
    Timber::new(slat, timber.thickness(), timber.grade().clone())
}

/// What slats cover across the wall, at its right and its left face.
pub(super) fn slat_faces(spec: &WallSpec, slat: f64) -> [Span; 2] {
    let frame = spec.frame;
    [Span::from(frame.low, slat), Span { low: frame.high - slat, high: frame.high }]
}

/// Where cripples stand between two uprights that bound `room`.
fn cripples(grid: &Grid, room: Span, t: f64, centres: f64) -> Vec<Span> {
    let fixed = [Span { low: room.low - t, high: room.low }, Span::from(room.high, t)];
    let inside: Vec<GridMark> =
        grid.marks.iter().copied().filter(|m| room.contains(m.at)).collect();
    let limit = centres + t / 2.0;
    let settled = |fixed: &[Span], marks: &[GridMark], room: Span| -> Vec<Span> {
        settle(fixed, marks, t, limit, room)
            .into_iter()
            .filter_map(|s| match s {
                Settled::Kept(span)
                | Settled::Packed { span, .. }
                | Settled::Shifted { span, .. } => Some(span),
                Settled::Dropped { .. } => None,
            })
            .filter(|span| room.covers(*span))
            .collect()
    };
    // Settled from either end, whichever takes fewer: a wall is the same drawn either way.
    let over = |s: Span| Span { low: -s.high, high: -s.low };
    let backwards: Vec<GridMark> =
        inside.iter().rev().map(|m| GridMark { at: -m.at, ..*m }).collect();
    let mut standing = settled(&fixed, &inside, room);
    let other = settled(&[over(fixed[1]), over(fixed[0])], &backwards, over(room));
    if other.len() < standing.len() {
        standing = other.into_iter().map(over).collect();
    }
    standing.sort_by(|a, b| a.low.total_cmp(&b.low));
    let bounds: Vec<Span> = [&fixed[..1], &standing, &fixed[1..]].concat();
    standing.extend(
        divide_wide_bays(&bounds, t, centres, limit, |_| false).into_iter().map(|(span, _)| span),
    );
    standing
}
