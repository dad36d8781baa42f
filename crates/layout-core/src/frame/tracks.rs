//! Timber behind the track of a door that slides on the face: a flat noggin in every bay it runs past, over the
//! opening too where the head does not stand behind it.

use super::heights::Heights;
use super::holes::Holes;
use super::{Pieces, Role};
use crate::document::{Door, DoorStyle, Face};
use crate::id::ItemRef;
use crate::math::{LEAST_PIECE, SAME, SLIVER};
use crate::resolve::{Hole, WallSpec};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// A screw wants this much timber above and below it. Common practice.
const ROUND_SCREW: f64 = 12.0;

/// Places what the tracks of the wall's sliding doors are fixed to.
pub(super) fn place(
    spec: &WallSpec,
    heights: &Heights,
    holes: &Holes,
    pieces: &mut Pieces,
    snags: &mut Vec<Snag>,
) {
    for hole in &spec.holes {
        let Some(track) = Track::of(spec, hole) else { continue };
        let mut bare = 0.0;
        for bay in track.bays(pieces) {
            let in_run = holes.runs.iter().any(|run| run.covers(bay));
            if !in_run || bay.length() < SLIVER - SAME || track.is_backed(pieces, bay) {
                continue;
            }
            match track.room(spec, heights, holes, pieces, bay) {
                Some(band) => pieces.lying(
                    Role::Noggin,
                    &spec.makeup.timber,
                    bay,
                    track.across,
                    |_| band.low,
                    |_| band.high,
                ),
                None => bare += bay.intersection(track.along).length(),
            }
        }
        if bare > SAME {
            let message = format!(
                "{} of the track of door {} have no timber behind them at {} above the floor",
                spec.units.with_unit(bare),
                hole.name,
                spec.units.show(track.z)
            );
            let remedy =
                "Hang the track from a board fixed over the studs, or raise the head of the wall.";
            snags.push(
                Snag::new(
                    Code::TrackNoGround,
                    ItemRef::Opening(hole.name.clone()),
                    message,
                    remedy,
                )
                .in_wall(&spec.name, hole.span.centre())
                .at_height(track.z)
                .measured(bare, 0.0),
            );
        }
    }
}

/// The track of one door.
struct Track {
    /// What it covers along the wall: the leaf, shut and open.
    along: Span,
    /// Height of its screws.
    z: f64,
    /// What a flat noggin behind it covers across the wall.
    across: Span,
}

impl Track {
    fn of(spec: &WallSpec, hole: &Hole) -> Option<Track> {
        // A leaf with no lap fills its lining, and its track is the lining's affair.
        let slides = |d: &&Door| d.style == DoorStyle::Sliding && d.lap > 0.0;
        let door = hole.door.as_ref().filter(slides)?;
        let (_, shut) = *door.leaves(hole.span).first()?;
        let open = door.slid_open(shut);
        let along = Span { low: shut.low.min(open.low), high: shut.high.max(open.high) };
        let (frame, t) = (spec.frame, spec.makeup.timber.thickness().min(spec.frame.length()));
        let across = match door.opens {
            Face::Left => Span { low: frame.high - t, high: frame.high },
            Face::Right => Span::from(frame.low, t),
        };
        Some(Track { along, z: door.threshold + door.leaf.1 + door.track / 2.0, across })
    }

    /// What its screws have to find behind the board.
    fn screws(&self) -> Span {
        Span::about(self.z, 2.0 * ROUND_SCREW)
    }

    /// The bays it runs past, between whatever stands upright behind it.
    fn bays(&self, pieces: &Pieces) -> Vec<Span> {
        let screws = self.screws();
        let mut stand: Vec<Span> = pieces
            .list
            .iter()
            .filter(|p| {
                (p.role.is_full_height()
                    || matches!(p.role, Role::Jack | Role::Cripple | Role::Slat))
                    && p.solid.heights().overlaps(screws)
                    && p.solid.across().overlaps(self.across)
            })
            .map(|p| p.solid.stations())
            .collect();
        stand.sort_by(|a, b| a.low.total_cmp(&b.low));
        let bays = stand.windows(2).map(|p| Span { low: p[0].high, high: p[1].low });
        bays.filter(|bay| bay.overlaps(self.along)).collect()
    }

    /// True when something flush with the face lies behind it all over `bay`: the head of the opening, a plate.
    fn is_backed(&self, pieces: &Pieces, bay: Span) -> bool {
        pieces.list.iter().any(|p| {
            !p.role.is_full_height()
                && p.solid.across().covers(self.across)
                && p.solid.heights().covers(self.screws())
                && p.solid.stations().covers(bay.intersection(self.along))
        })
    }

    /// Where a flat noggin goes in `bay`: about the screws, or as far up or down as what lies there leaves.
    fn room(
        &self,
        spec: &WallSpec,
        heights: &Heights,
        holes: &Holes,
        pieces: &Pieces,
        bay: Span,
    ) -> Option<Span> {
        let (depth, clear) = (spec.makeup.timber.depth(), heights.clear(bay));
        let lies: Vec<Span> = pieces
            .list
            .iter()
            .filter(|p| {
                !p.role.is_plate()
                    && p.solid.stations().overlaps(bay)
                    && p.solid.across().overlaps(self.across)
            })
            .map(|p| p.solid.heights())
            .collect();
        let about = Span::about(self.z, depth);
        let up = |low: f64| Span::from(low, depth);
        let down = |high: f64| Span { low: high - depth, high };
        let beside =
            lies.iter().filter(|l| l.overlaps(about)).flat_map(|l| [up(l.high), down(l.low)]);
        let free = |band: &Span| {
            clear.covers(*band)
                && band.covers(self.screws())
                && lies.iter().all(|l| !l.overlaps(*band))
                && !holes.list.iter().any(|h| h.span.overlaps(bay) && h.void().overlaps(*band))
        };
        let tries = [about, down(clear.high), up(clear.low)].into_iter().chain(beside);
        tries.into_iter().find(free).filter(|_| bay.length() >= LEAST_PIECE)
    }
}
