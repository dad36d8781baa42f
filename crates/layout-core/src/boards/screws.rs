//! Where boards are screwed: in rows up every upright a board crosses, and along plates and noggins between them.
//!
//! An estimate: a hand that fixes boards goes by the same rule and not by these places.

use super::backing::Backing;
use super::{FacePoint, Layer, Piece};
use crate::document::Sundries;
use crate::frame::Frame;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::span::Span;

/// Screws keep this far from a cut and from a bound edge of a board, and from the edge of the timber, mm. UK specification
/// clause K10/610 (read).
pub(super) const CUT: f64 = 13.0;
const BOUND: f64 = 10.0;
pub(super) const TIMBER: f64 = 6.0;
/// Of two rows nearer than this the second does nothing, mm: studs nailed as one.
const BESIDE: f64 = 60.0;

/// Places of the screws in each piece of a layer, in the order of its pieces.
pub fn screws(
    spec: &WallSpec,
    frame: &Frame,
    layer: &Layer,
    is_outer: bool,
    rules: &Sundries,
) -> Vec<Vec<FacePoint>> {
    on(&Backing::of(spec, frame, layer.face), &layer.pieces, &Spacing::of(is_outer, rules))
}

/// Places of the screws in each of some pieces on the same timber.
pub(super) fn on(backing: &Backing, pieces: &[Piece], spacing: &Spacing) -> Vec<Vec<FacePoint>> {
    let uprights = backing.uprights();
    pieces.iter().map(|p| in_piece(p, backing, &uprights, spacing)).collect()
}

/// The most between two screws along the edges of a board and inside it, mm.
pub(super) struct Spacing {
    pub(super) edge: f64,
    pub(super) field: f64,
}

impl Spacing {
    pub(super) fn new(edge: f64, field: f64) -> Spacing {
        let least = |spacing: f64| if spacing.is_finite() { spacing.max(50.0) } else { 50.0 };
        Spacing { edge: least(edge), field: least(field) }
    }

    /// Of a layer of a wall.
    pub(super) fn of(is_outer: bool, rules: &Sundries) -> Spacing {
        if is_outer {
            Spacing::new(rules.edge, rules.field)
        } else {
            Spacing::new(rules.inner, rules.inner)
        }
    }
}

/// Spans in order, those that touch made one.
pub(super) fn merged(spans: impl Iterator<Item = Span>) -> Vec<Span> {
    let mut spans: Vec<Span> = spans.collect();
    spans.sort_by(|a, b| a.low.total_cmp(&b.low));
    let mut list: Vec<Span> = Vec::new();
    for span in spans {
        match list.last_mut() {
            Some(last) if span.low <= last.high + SAME => last.high = last.high.max(span.high),
            _ => list.push(span),
        }
    }
    list
}

/// One row up an upright.
struct Column {
    at: f64,
    is_edge: bool,
    /// How high what it is in stands, mm.
    high: f64,
}

fn in_piece(
    piece: &Piece,
    backing: &Backing,
    uprights: &[(Span, f64)],
    rules: &Spacing,
) -> Vec<FacePoint> {
    let columns = columns(piece.shape.stations(), uprights);
    let mut screws: Vec<FacePoint> = Vec::new();
    for column in &columns {
        let spacing = if column.is_edge { rules.edge } else { rules.field };
        let timber = backing.timber_at(column.at);
        for board in piece.shape.upright_at(column.at) {
            let board = board.grown(-CUT);
            for timber in &timber {
                let span = board.intersection(timber.grown(-TIMBER));
                screws.extend(spread(span, spacing).into_iter().map(|z| [column.at, z]));
            }
        }
    }
    for pair in columns.windows(2) {
        let between = Span { low: pair[0].at, high: pair[1].at };
        let parts = (between.length() / rules.edge - SAME).ceil().clamp(1.0, 1000.0) as usize;
        for k in 1..parts {
            let s = between.low + between.length() * k as f64 / parts as f64;
            let boards = piece.shape.upright_at(s);
            for timber in backing.lying_at(s) {
                for board in &boards {
                    let span = board.grown(-CUT).intersection(timber.grown(-TIMBER));
                    let at = [s, span.centre()];
                    let near = |p: &FacePoint| (p[0] - s).hypot(p[1] - at[1]) < BESIDE;
                    if span.length() >= 0.0 && !screws.iter().any(near) {
                        screws.push(at);
                    }
                }
            }
        }
    }
    screws
}

/// The rows of a piece: near its edges where they are on timber, and up the middle of what stands between.
fn columns(along: Span, uprights: &[(Span, f64)]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    let shown = |u: &Span| u.intersection(along);
    // Its two edges first, so that what is beside them gives way.
    for is_low in [true, false] {
        let carries = |(u, _): &&(Span, f64)| {
            let edge = if is_low { along.low } else { along.high };
            u.contains(edge) && shown(u).length() >= BOUND + TIMBER - SAME
        };
        // Where two carry it, the one with more behind the edge.
        let best = uprights.iter().filter(carries).max_by(|(a, _), (b, _)| {
            let (a, b) = (shown(a).length(), shown(b).length());
            a.total_cmp(&b)
        });
        if let Some((timber, high)) = best {
            let inset = (shown(timber).length() - TIMBER).clamp(BOUND, CUT);
            let at = if is_low { along.low + inset } else { along.high - inset };
            if !columns.iter().any(|c| (c.at - at).abs() < BESIDE / 2.0) {
                columns.push(Column { at, is_edge: true, high: *high });
            }
        }
    }
    for &(upright, high) in uprights {
        let at = upright.centre();
        // A lower piece beside it holds only part of the board.
        let near = |c: &Column| (c.at - at).abs() < BESIDE && c.high >= high - SAME;
        if along.grown(-BOUND).contains(at) && !columns.iter().any(near) {
            columns.push(Column { at, is_edge: false, high });
        }
    }
    columns.sort_by(|a, b| a.at.total_cmp(&b.at));
    columns
}

/// Places evenly along a span, no more than `spacing` apart, at both its ends.
pub(super) fn spread(span: Span, spacing: f64) -> Vec<f64> {
    let length = span.length();
    if length < -SAME {
        return Vec::new();
    }
    if length < BESIDE {
        return vec![span.centre()];
    }
    let parts = (length / spacing - SAME / spacing).ceil().clamp(1.0, 10_000.0) as usize;
    (0..=parts).map(|k| span.low + length * k as f64 / parts as f64).collect()
}
