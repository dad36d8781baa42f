//! Cables and pipes, straight piece by straight piece, and what they take out of the timber they pass.

use crate::document::Face;
use crate::frame::{Frame, Role};
use crate::id::{ItemRef, Mark};
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::span::Span;

/// Which way a run goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Along the wall, through studs.
    Level,
    /// Up and down, through plates and noggins.
    Upright,
}

/// One straight piece of cable or pipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The point it feeds, or its route.
    pub of: ItemRef,
    /// Which way it goes.
    pub way: Way,
    /// What it covers along the wall.
    pub span: Span,
    /// What it covers in height.
    pub heights: Span,
    /// How wide its holes are across.
    pub hole: f64,
    /// The face it is let into; in the middle of the frame without.
    pub notched: Option<Face>,
}

/// A hole or notch in a piece of timber.
#[derive(Clone, Debug, PartialEq)]
pub struct Bore {
    /// The point or route it is for.
    pub of: ItemRef,
    /// The piece.
    pub member: Mark,
    /// What that is.
    pub role: Role,
    /// Which way it goes.
    pub way: Way,
    /// Station of its middle.
    pub station: f64,
    /// Height of its middle above FFL.
    pub height: f64,
    /// How wide it is across, or how deep a notch.
    pub size: f64,
    /// Depth of the piece across the wall.
    pub depth: f64,
    /// True for a notch: let into the edge of the piece.
    pub notch: bool,
}

/// Everything that runs through a wall.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Runs {
    /// Its straight pieces.
    pub runs: Vec<Run>,
    /// What they take out of its timber, along the wall and from the floor up.
    pub bores: Vec<Bore>,
}

/// The cables and pipes of a framed wall.
pub fn runs(spec: &WallSpec, frame: &Frame) -> Runs {
    let level = spec.routes.iter().filter(|r| r.along.length() > SAME).map(|r| Run {
        of: r.of.clone(),
        way: Way::Level,
        span: r.along,
        heights: Span::about(r.height, r.hole),
        hole: r.hole,
        notched: r.notched,
    });
    let upright = spec.drops().into_iter().map(|drop| Run {
        of: drop.of,
        way: Way::Upright,
        span: Span::about(drop.at, drop.hole),
        heights: drop.heights,
        hole: drop.hole,
        notched: None,
    });
    let runs: Vec<Run> = level.chain(upright).collect();
    let mut bores: Vec<Bore> = runs.iter().flat_map(|run| bores_of(spec, frame, run)).collect();
    bores.sort_by(|a, b| a.station.total_cmp(&b.station).then(a.height.total_cmp(&b.height)));
    Runs { runs, bores }
}

fn bores_of(spec: &WallSpec, frame: &Frame, run: &Run) -> Vec<Bore> {
    // What it takes up across the wall.
    let across = match run.notched {
        None => Span::about(spec.frame.centre(), run.hole),
        Some(face) => spec.into_from(face, run.hole),
    };
    let mut bores = Vec::new();
    for member in &frame.members {
        let (s, z, n) = (member.solid.stations(), member.solid.heights(), member.solid.across());
        let is_upright = z.length() > s.length();
        let crosses = match run.way {
            Way::Level => is_upright && run.span.overlaps(s) && z.contains(run.heights.centre()),
            // A stud that stands where a pipe comes down is not drilled from end to end.
            Way::Upright => !is_upright && s.contains(run.span.centre()) && run.heights.overlaps(z),
        };
        if !crosses || !n.overlaps(across) {
            continue;
        }
        // What lies beside the middle of the wall is cut at its edge.
        let notch = run.notched.is_some() || !n.contains(across.centre());
        let size = if notch { n.intersection(across).length() } else { run.hole };
        let (station, height) = match run.way {
            Way::Level => (s.centre(), run.heights.centre()),
            Way::Upright => (run.span.centre(), z.centre()),
        };
        bores.push(Bore {
            of: run.of.clone(),
            member: member.mark,
            role: member.role,
            way: run.way,
            station,
            height,
            size,
            depth: n.length(),
            notch,
        });
    }
    bores
}
