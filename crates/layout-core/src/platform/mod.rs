//! Platforms: low ceilings, high-level shelves and bulkheads, joisted out between walls.
//!
//! A platform reads the walls it hangs on and changes nothing about them. Its frame is worked out from
//! its [`PlatformSpec`] alone, in coordinates of its own: x along its width, y along its depth, z up from
//! FFL.

mod spec;
mod pieces;
mod holes;
mod joists;
mod boards;
mod checks;

pub(crate) use boards::{board, is_mirrored};
pub use boards::{is_outer, on_board, screws};
pub(crate) use checks::check;
pub use checks::{CEILING_LOAD, SAG, SHELF_LOAD, sag, stiffness};
pub use spec::{Held, Hole, PlatformSpec};
pub(crate) use spec::{place, settle};

use crate::document::Bearing;
use crate::frame::{Frame, Role, RunningMark, totals};
use crate::id::ItemRef;
use crate::math::{LEAST_PIECE, SAME, is_place};
use crate::snag::{Code, Snag, capital};
use crate::span::Span;
use joists::Joists;
use pieces::{Lie, Pieces};

/// Frames one platform.
pub fn frame(spec: &PlatformSpec) -> Frame {
    let mut snags = Vec::new();
    if let Some(snag) = unbuildable(spec) {
        return Frame {
            members: Vec::new(),
            rows: Vec::new(),
            plates: Vec::new(),
            totals: Vec::new(),
            snags: vec![snag],
        };
    }
    let joists = Joists::of(spec, &mut snags);
    let mut pieces = Pieces::new(spec);
    carry(spec, &mut pieces);
    joists.place(spec, &mut pieces);
    let rows = joists::rows(spec);
    joists::noggins(spec, &joists, &rows, &mut pieces);
    let members = pieces.marked();
    let totals = totals(&members);
    Frame { members, rows: Vec::new(), plates: Vec::new(), totals, snags }
}

/// Marks to set out on both plates with one pull of the tape: the near edge of every joist that runs the
/// whole way, from the edge where the first lies; timber beyond the mark.
pub fn running(spec: &PlatformSpec, frame: &Frame) -> Vec<RunningMark> {
    let across = |m: &crate::frame::Member| {
        if spec.along_width { m.solid.across() } else { m.solid.stations() }
    };
    frame
        .members
        .iter()
        .filter(|m| matches!(m.role, Role::Joist | Role::TrimmingJoist))
        .map(|m| RunningMark { at: across(m).low, member: m.mark, role: m.role })
        .collect()
}

/// The highest it goes: over its boards, and where it has a front to the top of that.
fn top(spec: &PlatformSpec) -> f64 {
    if spec.bearings.contains(&Bearing::Front) && !front_fits(spec) {
        let plates = 2.0 * spec.front.thickness() + LEAST_PIECE;
        return (spec.heights.low + plates).max(spec.finished.high);
    }
    spec.finished.high
}

/// True when plates and studs fit between its underside and the ceiling.
fn front_fits(spec: &PlatformSpec) -> bool {
    spec.ceiling - spec.heights.low >= 2.0 * spec.front.thickness() + LEAST_PIECE - SAME
}

/// What carries the ends of the joists.
fn carry(spec: &PlatformSpec, pieces: &mut Pieces) {
    let (t, whole) = (spec.timber.thickness(), Span { low: 0.0, high: spec.width });
    for (end, bearing) in spec.bearings.iter().enumerate() {
        let at = |thick: f64| {
            if end == 0 { Span::from(0.0, thick) } else { Span::from(spec.length - thick, thick) }
        };
        match bearing {
            Bearing::Hangers => {}
            Bearing::Plate => pieces.on_edge(Role::WallPlate, at(t), whole, Lie::Across),
            Bearing::Rim => pieces.on_edge(Role::Rim, at(t), whole, Lie::Across),
            Bearing::Front => front(spec, at(spec.front.depth()), pieces),
        }
    }
}

/// The upright front of a bulkhead: a plate under the ceiling, one at its foot, and short studs on the grid.
fn front(spec: &PlatformSpec, along: Span, pieces: &mut Pieces) {
    let (t, whole) = (spec.front.thickness(), Span { low: 0.0, high: spec.width });
    let foot = Span::from(spec.heights.low, t);
    pieces.of_front(Role::FrontPlate, along, whole, foot, Lie::Across);
    if !front_fits(spec) {
        return;
    }
    let head = Span { low: spec.ceiling - t, high: spec.ceiling };
    pieces.of_front(Role::FrontPlate, along, whole, head, Lie::Across);
    let ends = [Span::from(0.0, t), Span::from(spec.width - t, t)];
    let marks = joists::grid(spec, t);
    let studs = joists::between(&ends, &marks, t, (spec.centres, whole), &[], |_| {});
    for across in studs {
        let up = Span { low: foot.high, high: head.low };
        pieces.of_front(Role::FrontStud, along, across, up, Lie::Up);
    }
}

/// Why a platform cannot be framed at all.
fn unbuildable(spec: &PlatformSpec) -> Option<Snag> {
    let of = ItemRef::Platform(spec.name.clone());
    let what = format!("{} {}", capital(spec.kind.label()), spec.name);
    let holes = spec.holes.iter().flat_map(|h| [h.along, h.across]);
    let spans = holes.chain([spec.heights, spec.finished]).flat_map(|s| [s.low, s.high]);
    let others = [spec.length, spec.width, spec.centres, spec.apart, spec.ceiling];
    let sections = [&spec.timber, &spec.front];
    let is_sane = spec.is_placed
        && spans.chain(others).all(is_place)
        && sections.iter().all(|t| t.thickness() >= 1.0 && t.depth() >= 1.0)
        && spec.load.is_none_or(is_place)
        && spec.apart >= 1.0;
    if !is_sane {
        let message = format!("{what} has a number that is not a size");
        return Some(Snag::new(Code::Absurd, of, message, "Give it lengths that are numbers."));
    }
    if !(0.0..=crate::frame::MOST_STUDS).contains(&(spec.width / spec.centres)) && spec.width > 0.0
    {
        let message = format!(
            "{what} at {} centres would need too many joists",
            spec.units.with_unit(spec.centres)
        );
        return Some(
            Snag::new(
                Code::Absurd,
                of,
                message,
                format!("Choose centres of {} or more.", spec.units.with_unit(50.0)),
            )
            .measured(spec.centres, 50.0),
        );
    }
    let t = spec.timber.thickness();
    let (run, fronts) = (spec.run().length(), 2.0 * spec.front.thickness());
    let needs_across =
        if spec.bearings.contains(&Bearing::Front) { fronts.max(2.0 * t) } else { 2.0 * t };
    let short = if run < LEAST_PIECE {
        Some((run, LEAST_PIECE, "along its joists"))
    } else if spec.width < needs_across {
        Some((spec.width, needs_across, "across its joists"))
    } else {
        None
    };
    short.map(|(value, limit, way)| {
        let message =
            format!("{what} is too small {way}: {} are left", spec.units.with_unit(value.max(0.0)));
        Snag::new(Code::PlatformTooSmall, of, message, "Make it larger, or take it away.")
            .measured(value, limit)
    })
}
