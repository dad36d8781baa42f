//! What lies between the uprights: noggin rows, blocks, and the flat noggins of a ladder tee.

use super::heights::Heights;
use super::holes::Holes;
use super::uprights::{Uprights, is_beside_existing};
use super::{Pieces, Role};
use crate::document::{Face, NogginLay, NogginSet, Rows, TeeRecipe};
use crate::id::ItemRef;
use crate::math::{EDGE_BEARING, LEAST_PIECE, SAME, SLIVER};
use crate::resolve::{Backing, BackingKind, WallSpec};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// Blocks between two studs nailed as one are no further apart than this: 2 to 3 ft in the old books.
const BLOCKS_APART: f64 = 800.0;
/// Flat noggins behind a tee are no further apart than this. Common practice.
const LADDER_APART: f64 = 600.0;

/// Heights of the noggin rows' centres, from the floor up.
pub(super) fn rows(spec: &WallSpec, heights: &Heights, snags: &mut Vec<Snag>) -> Vec<f64> {
    let at = spec.along().centre();
    // Under a rake, rows are spaced for the tallest bay and stop where they meet it.
    let along = spec.along();
    let (foot, under) = (heights.foot.range(along).low, heights.under.range(along).high);
    let t = spec.makeup.timber.thickness();
    match &spec.rows {
        Rows::Auto => {
            let apart = spec.makeup.noggins.apart.max(300.0);
            let rows = ((under - foot) / apart).ceil() - 1.0;
            let rows = if (0.0..=50.0).contains(&rows) { rows as usize } else { 0 };
            (1..=rows).map(|i| foot + (under - foot) * i as f64 / (rows + 1) as f64).collect()
        }
        Rows::At(wanted) => {
            let mut kept = Vec::with_capacity(wanted.len());
            for (row, &z) in wanted.iter().enumerate() {
                if z - t / 2.0 >= foot && z + t / 2.0 <= under {
                    kept.push(z);
                } else {
                    snags.push(
                        Snag::new(
                            Code::RowOutside,
                            ItemRef::NogginRow { wall: spec.name.clone(), row },
                            format!(
                                "The noggin row at {} of wall {} is not between its plates",
                                spec.units.show(z),
                                spec.name
                            ),
                            "Move the row, or take it away.",
                        )
                        .in_wall(&spec.name, at)
                        .at_height(z)
                        .measured(z, if z < foot { foot + t / 2.0 } else { under - t / 2.0 }),
                    );
                }
            }
            kept.sort_by(f64::total_cmp);
            kept
        }
    }
}

/// Something upright that a noggin can stop against.
#[derive(Clone, Copy)]
struct Stop {
    span: Span,
    /// No noggin between this and the next: blocks join them.
    blocked_to_next: bool,
    /// The bay beside it is measured on site.
    on_site: bool,
}

/// Places noggins, blocks and ladders.
pub(super) fn place(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &Uprights,
    rows: &[f64],
    pieces: &mut Pieces,
) {
    blocks(spec, heights, uprights, pieces);
    for &z in rows {
        row(spec, heights, holes, uprights, z, pieces);
    }
    if spec.makeup.tee == TeeRecipe::Ladder {
        for backing in spec.backings.iter().filter(|b| b.kind == BackingKind::Tee) {
            ladder(spec, heights, holes, uprights, backing, pieces);
        }
    }
}

fn row(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &Uprights,
    z: f64,
    pieces: &mut Pieces,
) {
    let makeup = &spec.makeup;
    let (t, depth) = (makeup.timber.thickness(), makeup.timber.depth());
    let (height, across) = match makeup.noggins.lay {
        NogginLay::OnEdge => (t, spec.frame),
        NogginLay::FlatLeft => (depth, Span { low: spec.frame.high - t, high: spec.frame.high }),
        NogginLay::FlatRight => (depth, Span::from(spec.frame.low, t)),
    };
    let stops = stops_at(spec, uprights, pieces, Span::about(z, height), across);
    let mut up = true;
    for pair in stops.windows(2) {
        let bay = Span { low: pair[0].span.high, high: pair[1].span.low };
        if pair[0].blocked_to_next || bay.length() < SLIVER - SAME {
            continue;
        }
        let centre = match makeup.noggins.set {
            NogginSet::InLine => z,
            NogginSet::Staggered => z + if up { t / 2.0 } else { -t / 2.0 },
        };
        let band = Span::about(centre, height);
        let through_hole = holes.list.iter().any(|h| {
            let meets = |piece: Option<Span>| piece.is_some_and(|p| p.overlaps(band));
            // The head runs over the jacks as well.
            h.clear.overlaps(bay) && meets(h.head)
                || h.span.overlaps(bay) && (h.void().overlaps(band) || meets(h.sill_piece))
        });
        let in_run = holes.runs.iter().any(|run| run.covers(bay));
        if through_hole || !in_run || !heights.clear(bay).covers(band) {
            continue;
        }
        up = !up;
        pieces.lying(Role::Noggin, &makeup.timber, bay, across, |_| band.low, |_| band.high);
        pieces.last_on_site(pair[0].on_site || pair[1].on_site);
    }
}

/// Everything upright that a band of height and depth crosses, in order along the wall.
fn stops_at(
    spec: &WallSpec,
    uprights: &Uprights,
    pieces: &Pieces,
    band: Span,
    across: Span,
) -> Vec<Stop> {
    let full = uprights.list.iter().filter(|u| u.across.overlaps(across)).map(|u| Stop {
        span: u.span,
        blocked_to_next: u.blocked_to_next,
        on_site: u.role == Role::OpeningStud || is_beside_existing(spec, u),
    });
    let short = pieces
        .list
        .iter()
        .filter(|p| {
            matches!(p.role, Role::Jack | Role::Cripple) && p.solid.heights().overlaps(band)
        })
        .map(|p| Stop { span: p.solid.stations(), blocked_to_next: false, on_site: false });
    let mut stops: Vec<Stop> = full.chain(short).collect();
    stops.sort_by(|a, b| a.span.low.total_cmp(&b.span.low));
    stops
}

/// Blocks between two uprights that are nailed as one.
fn blocks(spec: &WallSpec, heights: &Heights, uprights: &Uprights, pieces: &mut Pieces) {
    let t = spec.makeup.timber.thickness();
    for pair in uprights.list.windows(2).filter(|p| p[0].blocked_to_next) {
        let gap = Span { low: pair[0].span.high, high: pair[1].span.low };
        if gap.length() < LEAST_PIECE {
            continue;
        }
        let room = heights.clear(gap);
        let (foot, clear) = (room.low, room.length());
        let count = (clear / BLOCKS_APART).ceil().clamp(2.0, 50.0);
        for k in 0..count as usize {
            let band = Span::about(foot + clear * (k as f64 + 0.5) / count, t);
            if !room.covers(band) {
                continue;
            }
            pieces.lying(
                Role::Block,
                &spec.makeup.timber,
                gap,
                spec.frame,
                |_| band.low,
                |_| band.high,
            );
        }
    }
}

/// Flat noggins between the studs either side of a tee, flush with the face it meets.
fn ladder(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    uprights: &Uprights,
    backing: &Backing,
    pieces: &mut Pieces,
) {
    let (t, depth) = (spec.makeup.timber.thickness(), spec.makeup.timber.depth());
    let shown = backing.span.grown(EDGE_BEARING);
    let across = match backing.face {
        Face::Left => Span { low: spec.frame.high - t, high: spec.frame.high },
        Face::Right => Span::from(spec.frame.low, t),
    };
    for pair in uprights.list.windows(2) {
        let bay = Span { low: pair[0].span.high, high: pair[1].span.low };
        let in_hole = holes.gaps.iter().any(|gap| gap.overlaps(bay))
            || !holes.runs.iter().any(|run| run.covers(bay));
        if !bay.overlaps(shown) || bay.length() < SLIVER - SAME || in_hole {
            continue;
        }
        let room = heights.clear(bay);
        let (foot, clear) = (room.low, room.length());
        let count = (clear / LADDER_APART).ceil().clamp(2.0, 50.0);
        for k in 0..count as usize {
            let mut band = Span::about(foot + clear * (k as f64 + 0.5) / count, depth);
            // A rung gives way upwards to what already lies there.
            while let Some(top) = pieces.top_of_what_lies(bay, across, band) {
                band = Span::from(top, depth);
            }
            if room.covers(band) {
                pieces.lying(
                    Role::Noggin,
                    &spec.makeup.timber,
                    bay,
                    across,
                    |_| band.low,
                    |_| band.high,
                );
            }
        }
    }
}
