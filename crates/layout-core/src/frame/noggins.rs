//! What lies between the uprights: noggin rows, blocks, and the flat noggins of a ladder tee.

use super::heights::Heights;
use super::holes::Holes;
use super::rows::{Row, flush, lies};
use super::uprights::{Uprights, is_beside_existing};
use super::{Pieces, Role};
use crate::document::{NogginLay, NogginSet, TeeRecipe};
use crate::id::ItemRef;
use crate::math::{EDGE_BEARING, LEAST_PIECE, SAME, SLIVER, same};
use crate::resolve::{Backing, BackingKind, WallSpec};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// Blocks between two studs nailed as one are no further apart than this: 2 to 3 ft in the old books.
const BLOCKS_APART: f64 = 800.0;
/// Flat noggins behind a tee are no further apart than this. Common practice.
const LADDER_APART: f64 = 600.0;
/// A noggin steps aside by no more than this; further off it holds nothing that was meant.
const STEPS_ASIDE: f64 = 300.0;

/// Nobody is told of a noggin that steps aside by less: 3.2 mm, as true as framing is (Gypsum Association).
const UNSEEN: f64 = 3.2;

/// The frame so far, as noggins see it.
pub(super) struct Bays<'a> {
    pub(super) spec: &'a WallSpec,
    pub(super) heights: &'a Heights,
    pub(super) holes: &'a Holes,
    pub(super) uprights: &'a Uprights,
    pub(super) drops: &'a [crate::resolve::Upright],
}

/// A clear stretch between two uprights.
#[derive(Clone, Copy)]
pub(super) struct Bay {
    pub(super) span: Span,
    /// Measured in place before it is cut.
    pub(super) on_site: bool,
}

/// Why a noggin cannot lie somewhere.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Blocked {
    /// An opening, a plate or a break in the frame: nothing is wanted there.
    Frame,
    /// A box, pipe or duct: its name in a sentence, and what it covers in height.
    Sunk(String, Span),
    /// Other timber, and what it covers in height.
    Timber(Role, Span),
}

impl Bays<'_> {
    /// The bays between everything upright that a band of height and depth crosses, in order along the wall;
    /// not those that blocks fill.
    pub(super) fn crossed(&self, pieces: &Pieces, band: Span, across: Span) -> Vec<Bay> {
        let full = self.uprights.list.iter().filter(|u| u.across.overlaps(across)).map(|u| {
            let on_site = u.role == Role::OpeningStud || is_beside_existing(self.spec, u);
            (u.span, u.blocked_to_next, on_site)
        });
        let short = pieces
            .list
            .iter()
            .filter(|p| {
                matches!(p.role, Role::Jack | Role::Cripple) && p.solid.heights().overlaps(band)
            })
            .map(|p| (p.solid.stations(), false, false));
        let mut stops: Vec<_> = full.chain(short).collect();
        stops.sort_by(|a, b| a.0.low.total_cmp(&b.0.low));
        let mut bays = Vec::with_capacity(stops.len());
        for pair in stops.windows(2) {
            let span = Span { low: pair[0].0.high, high: pair[1].0.low };
            if !pair[0].1 && span.length() >= SLIVER - SAME {
                bays.push(Bay { span, on_site: pair[0].2 || pair[1].2 });
            }
        }
        bays
    }

    /// What keeps a noggin out of `band` in a bay, if anything does.
    pub(super) fn blocked(
        &self,
        pieces: &Pieces,
        bay: Span,
        band: Span,
        across: Span,
    ) -> Option<Blocked> {
        let through_hole = self.holes.list.iter().any(|h| {
            let meets = |piece: Option<Span>| piece.is_some_and(|p| p.overlaps(band));
            // The head runs over the jacks as well.
            h.clear.overlaps(bay) && meets(h.head)
                || h.span.overlaps(bay) && (h.void().overlaps(band) || meets(h.sill_piece))
        });
        let in_run = self.holes.runs.iter().any(|run| run.covers(bay));
        if through_hole || !in_run || !self.heights.clear(bay).covers(band) {
            return Some(Blocked::Frame);
        }
        let sunk =
            |s: &&crate::resolve::Spot| s.sunk && s.span.overlaps(bay) && s.heights.overlaps(band);
        if let Some(spot) = self.spec.spots.iter().find(sunk) {
            return Some(Blocked::Sunk(spot.called(), spot.heights));
        }
        // A pipe or duct too wide for a hole in the noggin has the bay to itself.
        let wide = |drop: &&crate::resolve::Upright| {
            drop.hole > self.spec.rules.largest_hole(across.length())
                && Span::about(drop.at, drop.hole).overlaps(bay)
                && drop.heights.overlaps(band)
        };
        if let Some(drop) = self.drops.iter().find(wide) {
            let of = drop.of.label();
            return Some(Blocked::Sunk(format!("the drop of {of}"), drop.heights));
        }
        let piece = pieces.in_the_way(bay, across, band)?;
        Some(Blocked::Timber(piece.role, piece.solid.heights()))
    }

    /// The nearest free band to one that is blocked by a box or by timber, no more than `most` above or
    /// below.
    pub(super) fn aside(
        &self,
        pieces: &Pieces,
        bay: Span,
        band: Span,
        across: Span,
        most: f64,
    ) -> Option<Span> {
        let h = band.length();
        let step = |up: bool| {
            let mut at = band;
            for _ in 0..20 {
                at = match self.blocked(pieces, bay, at, across) {
                    // Where a stud is cut out the bay may end elsewhere at another height.
                    None => {
                        let same_bay =
                            |b: &Bay| same(b.span.low, bay.low) && same(b.span.high, bay.high);
                        return self.crossed(pieces, at, across).iter().any(same_bay).then_some(at);
                    }
                    Some(Blocked::Sunk(_, taken) | Blocked::Timber(_, taken)) => {
                        if up {
                            Span::from(taken.high, h)
                        } else {
                            Span { low: taken.low - h, high: taken.low }
                        }
                    }
                    Some(Blocked::Frame) => {
                        let room = self.heights.clear(bay);
                        let moved = if up && at.low < room.low {
                            Span::from(room.low, h)
                        } else if !up && at.high > room.high {
                            Span { low: room.high - h, high: room.high }
                        } else {
                            return None;
                        };
                        if (moved.low - at.low).abs() < SAME {
                            return None;
                        }
                        moved
                    }
                };
                if (at.low - band.low).abs() > most + SAME {
                    return None;
                }
            }
            None
        };
        let moved = |b: &Span| (b.low - band.low).abs();
        match (step(true), step(false)) {
            (Some(up), Some(down)) => {
                Some(if moved(&down) < moved(&up) - SAME { down } else { up })
            }
            (up, down) => up.or(down),
        }
    }
}

/// Places blocks, rows and ladders.
pub(super) fn place(bays: &Bays, rows: &[Row], pieces: &mut Pieces, snags: &mut Vec<Snag>) {
    blocks(bays.spec, bays.heights, bays.uprights, pieces);
    for (i, row) in rows.iter().enumerate() {
        lay_row(bays, i, row, pieces, snags);
    }
    if bays.spec.makeup.tee == TeeRecipe::Ladder {
        for backing in bays.spec.backings.iter().filter(|b| b.kind == BackingKind::Tee) {
            ladder(bays.spec, bays.heights, bays.holes, bays.uprights, backing, pieces);
        }
    }
}

fn lay_row(bays: &Bays, index: usize, row: &Row, pieces: &mut Pieces, snags: &mut Vec<Snag>) {
    let spec = bays.spec;
    let noggins = &spec.makeup.noggins;
    let lay = row.rule.lay.unwrap_or(noggins.lay);
    let set = row.rule.set.unwrap_or(noggins.set);
    let t = spec.makeup.timber.thickness();
    let (height, across) = lies(spec, lay);
    let mut up = true;
    for bay in bays.crossed(pieces, Span::about(row.height, height), across) {
        let over_head = |h: &super::holes::FramedHole| {
            h.clear.overlaps(bay.span) && h.head.is_some_and(|head| row.height > head.low)
        };
        if !row.along.contains(bay.span.centre())
            || !noggins.over_heads && bays.holes.list.iter().any(over_head)
        {
            continue;
        }
        let centre = match set {
            NogginSet::InLine => row.height,
            NogginSet::Staggered => row.height + if up { t / 2.0 } else { -t / 2.0 },
        };
        let band = Span::about(centre, height);
        let mut put = |along: Span, band: Span, across: Span, pieces: &mut Pieces| {
            up = !up;
            let timber = &spec.makeup.timber;
            pieces.lying(Role::Noggin, timber, along, across, |_| band.low, |_| band.high);
            pieces.last_on_site(bay.on_site);
        };
        let what = match bays.blocked(pieces, bay.span, band, across) {
            None => {
                put(bay.span, band, across, pieces);
                continue;
            }
            Some(Blocked::Frame) => continue,
            // A row that meets another row is there already.
            Some(Blocked::Timber(Role::Pattress, _)) => {
                if behind_pattress(bays, bay.span, centre, lay, pieces, &mut put) {
                    continue;
                }
                "a pattress".to_string()
            }
            Some(Blocked::Timber(..)) => continue,
            Some(Blocked::Sunk(what, _)) => what,
        };
        let moved = bays.aside(pieces, bay.span, band, across, STEPS_ASIDE);
        if let Some(band) = moved {
            put(bay.span, band, across, pieces);
        }
        let by = moved.map(|to| to.low - band.low);
        if by.is_none_or(|by| by.abs() > UNSEEN) {
            snags.push(stepped_aside(spec, index, row, bay.span, by, &what));
        }
    }
}

/// Where a pattress lies in the way of a noggin on edge, one on the flat against the other face keeps the row;
/// a flat one on the pattress's own face is not needed.
fn behind_pattress(
    bays: &Bays,
    bay: Span,
    centre: f64,
    lay: NogginLay,
    pieces: &mut Pieces,
    put: &mut impl FnMut(Span, Span, Span, &mut Pieces),
) -> bool {
    if lay != NogginLay::OnEdge {
        return true;
    }
    for flat in [NogginLay::FlatLeft, NogginLay::FlatRight] {
        let (height, across) = lies(bays.spec, flat);
        let band = Span::about(centre, height);
        // In its own plane the bay may be another: a ground flush with the other face does not end it.
        let own = bays.crossed(pieces, band, across).into_iter().find(|b| b.span.overlaps(bay));
        if let Some(own) = own
            && bays.blocked(pieces, own.span, band, across).is_none()
        {
            put(own.span, band, across, pieces);
            return true;
        }
    }
    false
}

fn stepped_aside(
    spec: &WallSpec,
    index: usize,
    row: &Row,
    bay: Span,
    by: Option<f64>,
    what: &str,
) -> Snag {
    let at = spec.units.show(bay.low - spec.along().low);
    let done = match by {
        Some(by) if by > 0.0 => format!("lies {} higher", spec.units.with_unit(by)),
        Some(by) => format!("lies {} lower", spec.units.with_unit(-by)),
        None => "is left out".to_string(),
    };
    let of = ItemRef::NogginRow { wall: spec.name.clone(), row: index };
    let message = format!(
        "The noggin at {at} of the row at {} in wall {} {done}: {what} is in its way",
        spec.units.show(row.height),
        spec.name
    );
    let remedy = "Nothing, unless a board joint falls there: then move what is in the way.";
    let snag = Snag::new(Code::RowAside, of, message, remedy)
        .in_wall(&spec.name, bay.centre())
        .at_height(row.height);
    match by {
        Some(by) => snag.measured(by.abs(), 0.0),
        None => snag,
    }
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
    let across = flush(spec, backing.face, t);
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
            while let Some(there) = pieces.in_the_way(bay, across, band) {
                band = Span::from(there.solid.heights().high, depth);
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
