//! What stands in and around an opening: jacks, head, sill and cripples.

use super::grid::{Grid, GridMark, Settled, divide_wide_bays, settle};
use super::heights::Heights;
use super::holes::FramedHole;
use super::{Pieces, Role};
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
        let across = Span::from(spec.frame.low, timber.depth().min(spec.frame.length()));
        pieces.lying(Role::OpeningHead, timber, hole.clear, across, |_| head.low, |_| head.high);
    }
    if let Some(sill) = hole.sill_piece {
        pieces.lying(Role::Sill, &makeup.timber, low_room, spec.frame, |_| sill.low, |_| sill.high);
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

/// Where cripples stand between two uprights that bound `room`.
fn cripples(grid: &Grid, room: Span, t: f64, centres: f64) -> Vec<Span> {
    let fixed = [Span { low: room.low - t, high: room.low }, Span::from(room.high, t)];
    let inside: Vec<GridMark> =
        grid.marks.iter().copied().filter(|m| room.contains(m.at)).collect();
    let limit = centres + t / 2.0;
    let mut standing: Vec<Span> = settle(&fixed, &inside, t, limit, room)
        .into_iter()
        .filter_map(|s| match s {
            Settled::Kept(span) | Settled::Packed { span, .. } | Settled::Shifted { span, .. } => {
                Some(span)
            }
            Settled::Dropped { .. } => None,
        })
        .filter(|span| room.covers(*span))
        .collect();
    standing.sort_by(|a, b| a.low.total_cmp(&b.low));
    let bounds: Vec<Span> = [&fixed[..1], &standing, &fixed[1..]].concat();
    standing.extend(
        divide_wide_bays(&bounds, t, centres, limit, |_| false).into_iter().map(|(span, _)| span),
    );
    standing
}
