//! The boards of a platform: under its joists, over them, and on its fronts.
//!
//! Boards below go to the edge of the timber; those of a front hang over their edges, from there up to the ceiling.
//! In the layers the places are across the joists and along them, on a front across the joists and up.

use super::PlatformSpec;
use crate::boards::{FacePoint, Flat, Layer, On, Timber, less, rectangle, spacing};
use crate::document::{Bearing, Finish, Sundries};
use crate::frame::{Frame, Role};
use crate::math::{LEAST_PIECE, SAME, WallPoint};
use crate::span::Span;

/// A side of a piece that lies in the plane of the boards, mm.
const FLUSH: f64 = 0.5;

/// The boards of a platform: below, above, then its fronts.
pub(crate) fn board(spec: &PlatformSpec, frame: &Frame) -> Vec<Layer<On>> {
    if frame.members.is_empty() {
        return Vec::new();
    }
    let across = Span { low: 0.0, high: spec.width };
    let holes: Vec<Vec<FacePoint>> =
        spec.holes.iter().map(|h| rectangle(h.across, h.along)).collect();
    let level = |on: On, along: Span, finish: &Finish, face: f64, out: f64| {
        let area = less(vec![rectangle(across, along)], &holes);
        let timber = timber(spec, frame, on, face);
        let (boards, centres) = (&finish.boards, spec.centres);
        Flat { area: &area, timber, boards, centres, on, face, out }.lay(&mut 0)
    };
    let whole = Span { low: 0.0, high: spec.length };
    let mut layers = level(On::Below, whole, &spec.below, spec.heights.low, -1.0);
    // A front goes up past the joists.
    let behind = |end: usize| match spec.bearings[end] {
        Bearing::Front => spec.front.depth(),
        _ => 0.0,
    };
    let top = Span { low: behind(0), high: spec.length - behind(1) };
    layers.extend(level(On::Above, top, &spec.above, spec.heights.high, 1.0));
    let mut number = 0;
    for (end, face) in [0.0, spec.length].into_iter().enumerate() {
        let up = Span { low: spec.heights.low - thickness(&spec.below), high: spec.ceiling };
        if spec.bearings[end] == Bearing::Front && up.length() >= LEAST_PIECE {
            let area = less(vec![rectangle(across, up)], &[]);
            let timber = timber(spec, frame, On::Front, face);
            let out = if end == 0 { -1.0 } else { 1.0 };
            let (boards, centres, on) = (&spec.below.boards, spec.centres, On::Front);
            let front = Flat { area: &area, timber, boards, centres, on, face, out };
            layers.extend(front.lay(&mut number));
        }
    }
    layers
}

fn thickness(finish: &Finish) -> f64 {
    finish.boards.iter().map(|b| b.thickness).sum()
}

/// The timber boards are fixed to on one side of a platform; `face` says which of two fronts.
fn timber(spec: &PlatformSpec, frame: &Frame, on: On, face: f64) -> Timber {
    let pieces = frame.members.iter().filter_map(|m| {
        let (along, across) = spec.own(m.solid.stations(), m.solid.across());
        let up = m.solid.heights();
        let is = |v: f64| (v - face).abs() < FLUSH;
        match on {
            On::Front => {
                let of_front = matches!(m.role, Role::FrontPlate | Role::FrontStud);
                (of_front && (is(along.low) || is(along.high))).then_some((across, up))
            }
            On::Above => is(up.high).then_some((across, along)),
            _ => is(up.low).then_some((across, along)),
        }
    });
    Timber::of(pieces)
}

/// Where the timber is that a layer is on, square to it: of a front, along the joists.
fn face(spec: &PlatformSpec, layer: &Layer<On>) -> f64 {
    match layer.face {
        On::Front if layer.across.high <= SAME => 0.0,
        On::Front => spec.length,
        On::Above => spec.heights.high,
        _ => spec.heights.low,
    }
}

/// The timber behind a layer of a platform.
pub(crate) fn timber_of(spec: &PlatformSpec, frame: &Frame, layer: &Layer<On>) -> Timber {
    timber(spec, frame, layer.face, face(spec, layer))
}

/// Places of the screws in each piece of a layer, in the order of its pieces.
pub fn screws(
    spec: &PlatformSpec,
    frame: &Frame,
    layer: &Layer<On>,
    rules: &Sundries,
) -> Vec<Vec<FacePoint>> {
    let is_outer = is_outer(spec, layer);
    timber_of(spec, frame, layer).screws(layer, spacing(layer.face, is_outer, rules))
}

/// True when no other layer goes over it.
pub fn is_outer(spec: &PlatformSpec, layer: &Layer<On>) -> bool {
    let finish = if layer.face == On::Above { &spec.above } else { &spec.below };
    layer.layer + 1 == finish.boards.len()
}

/// A place on a layer, on the side of it that looks at the timber: along the platform's width, along its depth, and
/// above FFL.
pub fn on_board(spec: &PlatformSpec, layer: &Layer<On>, [s, z]: FacePoint) -> WallPoint {
    let towards_high = match layer.face {
        On::Above => false,
        On::Front => layer.across.high <= SAME,
        _ => true,
    };
    let inner = if towards_high { layer.across.high } else { layer.across.low };
    let (along, across, up) = match layer.face {
        On::Front => (inner, s, z),
        _ => (z, s, inner),
    };
    let (x, y) = if spec.along_width { (along, across) } else { (across, along) };
    WallPoint::new(x, y, up)
}

/// True when a layer seen from the room shows its places mirrored, the joists running up.
pub(crate) fn is_mirrored(spec: &PlatformSpec, layer: &Layer<On>) -> bool {
    match layer.face {
        On::Above => spec.along_width,
        On::Front => (layer.across.high <= SAME) == spec.along_width,
        _ => !spec.along_width,
    }
}
