//! Timber behind what hangs on the boards: pattresses at the fixings of fittings, and noggins for boxes that
//! have no stud beside them.

use super::noggins::{Bays, Blocked};
use super::rows::flush;
use super::{Pieces, Role};
use crate::document::{Behind, Timber};
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::{Fixing, Spot, WallSpec};
use crate::snag::{Code, Snag, capital};
use crate::span::Span;

/// A fixing this far inside the edge of a pattress has wood enough. Common practice.
const FIXING_EDGE: f64 = 20.0;
/// A box this near to timber hangs on it. Common practice.
pub(crate) const BOX_REACHES: f64 = 50.0;

/// Places the pattresses of every fitting.
pub(super) fn pattresses(bays: &Bays, pieces: &mut Pieces, snags: &mut Vec<Snag>) {
    for fixing in &bays.spec.fixings {
        for &height in &fixing.heights {
            pattress(bays, fixing, height, pieces, snags);
        }
    }
}

/// Section, height and thickness of what goes behind a fitting.
fn section(bays: &Bays, behind: Behind) -> Option<(Timber, f64, f64)> {
    let timber = &bays.spec.makeup.timber;
    match behind {
        Behind::Nothing => None,
        Behind::Noggin => Some((timber.clone(), timber.depth(), timber.thickness())),
        Behind::Ply { height, thickness } => {
            let thick = thickness.clamp(1.0, bays.spec.frame.length());
            let high = height.max(LEAST_PIECE);
            Some((Timber::ply(thick, high), high, thick))
        }
    }
}

fn pattress(bays: &Bays, fixing: &Fixing, height: f64, pieces: &mut Pieces, snags: &mut Vec<Snag>) {
    let Some((timber, high, thick)) = section(bays, fixing.behind) else { return };
    let across = flush(bays.spec, fixing.face, thick);
    let wanted = Span::about(height, high);
    for bay in bays.crossed(pieces, wanted, across) {
        if !bay.span.overlaps(fixing.span) || serves(pieces, bay.span, across, height) {
            continue;
        }
        let band = match bays.blocked(pieces, bay.span, wanted, across) {
            None => Some(wanted),
            Some(_) => bays.aside(pieces, bay.span, wanted, across, fixing.tolerance),
        };
        if let Some(band) = band {
            pieces.lying(Role::Pattress, &timber, bay.span, across, |_| band.low, |_| band.high);
            pieces.last_on_site(bay.on_site);
            continue;
        }
        let why = match bays.blocked(pieces, bay.span, wanted, across) {
            Some(Blocked::Sunk(what, _)) => format!("{what} is in its way"),
            Some(Blocked::Timber(role, _)) => format!("a {} is in its way", role.label()),
            _ => "an opening or a plate is in its way".to_string(),
        };
        let (name, wall) = (fixing.of.label(), &bays.spec.name);
        let message = format!(
            "The fixing at {} of {name} on wall {wall} has no timber behind it from {} on: {why}",
            bays.spec.units.show(height),
            bays.spec.units.show(bay.span.low - bays.spec.along().low)
        );
        let remedy = "Move one of the two, or let the timber lie further from the fixing.";
        snags.push(
            Snag::new(Code::MissingPattress, fixing.of.clone(), message, remedy)
                .in_wall(wall, bay.span.intersection(fixing.span).centre())
                .at_height(height)
                .measured(0.0, fixing.tolerance),
        );
    }
}

/// True when a pattress already lies in the bay that takes a fixing at `height`.
fn serves(pieces: &Pieces, bay: Span, across: Span, height: f64) -> bool {
    pieces.list.iter().any(|p| {
        p.role == Role::Pattress
            && p.solid.stations().covers(bay)
            && p.solid.across().overlaps(across)
            && p.solid.heights().grown(-FIXING_EDGE).contains(height)
    })
}

/// A noggin for every box that has no timber near it: under the box, or over it.
pub(super) fn boxes(bays: &Bays, pieces: &mut Pieces, snags: &mut Vec<Snag>) {
    let spec = bays.spec;
    for spot in spec.spots.iter().filter(|s| s.hangs && is_in_wall(spec, s)) {
        if !hangs(bays, spot, pieces) && !hang(bays, spot, pieces) {
            let (what, wall) = (spot.called(), &spec.name);
            let message = format!(
                "{} on wall {wall} has no timber to hang on, and no room for any",
                capital(&what)
            );
            snags.push(
                Snag::new(
                    Code::MissingPattress,
                    spot.of.clone(),
                    message,
                    "Move it beside a stud, or clear of the opening.",
                )
                .in_wall(wall, spot.span.centre())
                .at_height(spot.heights.centre()),
            );
        }
    }
}

/// What hangs past the end of the wall, over its head or in an opening is said elsewhere.
fn is_in_wall(spec: &WallSpec, spot: &Spot) -> bool {
    spec.holes.iter().all(|hole| !hole.swallows(spot))
        && spec.along().covers(spot.span)
        && spot.heights.high <= spec.head.range(spot.span).low
}

/// True when there is timber beside, under or over a box.
fn hangs(bays: &Bays, spot: &Spot, pieces: &Pieces) -> bool {
    let across = flush(bays.spec, spot.face, spot.depth.min(bays.spec.frame.length()));
    pieces.list.iter().any(|p| {
        let (s, z) = (p.solid.stations(), p.solid.heights());
        let beside = z.overlaps(spot.heights) && s.gap(spot.span) <= BOX_REACHES + SAME;
        let above = s.overlaps(spot.span) && z.gap(spot.heights) <= BOX_REACHES + SAME;
        p.solid.across().overlaps(across) && (beside || above)
    })
}

fn hang(bays: &Bays, spot: &Spot, pieces: &mut Pieces) -> bool {
    let (spec, t) = (bays.spec, bays.spec.makeup.timber.thickness());
    let under = Span { low: spot.heights.low - t, high: spot.heights.low };
    for band in [under, Span::from(spot.heights.high, t)] {
        let bay = bays
            .crossed(pieces, band, spec.frame)
            .into_iter()
            .find(|b| b.span.contains(spot.span.centre()));
        if let Some(bay) = bay
            && bays.blocked(pieces, bay.span, band, spec.frame).is_none()
        {
            let timber = &spec.makeup.timber;
            pieces.lying(
                Role::BoxNoggin,
                timber,
                bay.span,
                spec.frame,
                |_| band.low,
                |_| band.high,
            );
            pieces.last_on_site(bay.on_site);
            return true;
        }
    }
    false
}
