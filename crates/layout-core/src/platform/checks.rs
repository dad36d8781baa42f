//! What is wrong with a platform that can be built: its span, its bearings, its level.

use super::PlatformSpec;
use std::sync::Arc;

use crate::boards::{Layer, On};
use crate::document::{Bearing, Finish, PlatformKind, Timber};
use crate::frame::{Frame, Role};
use crate::id::ItemRef;
use crate::math::SAME;
use crate::snag::{Code, Snag, capital};
use crate::span::Span;

/// Load on a ceiling that nobody goes on, kN/m². BS 6399-3, ceilings without access.
pub const CEILING_LOAD: f64 = 0.25;
/// What a shelf is reckoned with when nobody has said, kN/m²: light household things.
pub const SHELF_LOAD: f64 = 0.5;
/// Sag taken as the most, of the span. BS 5268-2, 2.10.7.
pub const SAG: f64 = 0.003;
/// Head room below this is worth knowing, mm.
const HEAD_ROOM: f64 = 2000.0;
/// Mass of boards and skim, kg/m³: the heaviest gypsum board in use.
const BOARD: f64 = 850.0;
const GRAVITY: f64 = 9.81;

/// Mean stiffness along the grain, N/mm², and mean density, kg/m³, of a strength class: EN 338:2016, Table 1.
pub fn stiffness(grade: &str) -> Option<(f64, f64)> {
    Some(match grade {
        "C14" => (7000.0, 350.0),
        "C16" => (8000.0, 370.0),
        "C18" => (9000.0, 380.0),
        "C20" => (9500.0, 400.0),
        "C22" => (10_000.0, 410.0),
        "C24" => (11_000.0, 420.0),
        "C27" => (11_500.0, 430.0),
        "C30" => (12_000.0, 460.0),
        "C35" => (13_000.0, 470.0),
        "C40" => (14_000.0, 480.0),
        _ => return None,
    })
}

/// Sag in the middle, mm, of a beam on two supports under an even load: 5wL⁴ / 384EI. `w` in N/mm,
/// `span` in mm, `e` in N/mm²; the timber on edge.
pub fn sag(w: f64, span: f64, e: f64, timber: &Timber) -> f64 {
    let i = timber.thickness() * timber.depth().powi(3) / 12.0;
    5.0 * w * span.powi(4) / (384.0 * e * i)
}

/// Weight of boards and skim, kN/m².
pub(super) fn weight(finishes: [&Finish; 2]) -> f64 {
    finishes.iter().map(|f| f.thickness()).sum::<f64>() / 1000.0 * BOARD * GRAVITY / 1000.0
}

/// Load and own weight, kN/m².
pub(super) fn pressure(spec: &PlatformSpec, density: f64) -> f64 {
    let timber = spec.timber.thickness() * spec.timber.depth() / spec.centres / 1000.0;
    spec.reckoned_load() + spec.boards + timber * density * GRAVITY / 1000.0
}

impl PlatformSpec {
    /// The load it is reckoned with, kN/m²: what was said, or what is usual.
    pub fn reckoned_load(&self) -> f64 {
        let usual = if self.kind == PlatformKind::Shelf { SHELF_LOAD } else { CEILING_LOAD };
        self.load.unwrap_or(usual)
    }
}

/// All checks of one platform.
pub(crate) fn check(spec: &PlatformSpec, frame: &Frame, boards: &[Layer<On>]) -> Vec<Snag> {
    let mut snags = Vec::new();
    if frame.members.is_empty() {
        return snags;
    }
    spans(spec, &mut snags);
    bearings(spec, &mut snags);
    levels(spec, &mut snags);
    for (wall, top) in &spec.pierced {
        let message =
            format!("Wall {wall} goes up to {} through {}", spec.units.show(*top), what(spec));
        let remedy = "Stop the wall under it, or make one on each side of the wall.";
        snags.push(snag(spec, Code::WallThrough, message, remedy).measured(*top, spec.heights.low));
    }
    if spec.kind == PlatformKind::Shelf && spec.load.is_none() {
        let message = format!(
            "Nobody has said what {} carries: it is reckoned with {SHELF_LOAD} kN/m²",
            what(spec)
        );
        snags.push(snag(spec, Code::ShelfLoad, message, "Give it a load in its particulars."));
    }
    too_long(spec, frame, &mut snags);
    bare(spec, frame, boards, &mut snags);
    snags
}

fn what(spec: &PlatformSpec) -> String {
    format!("{} {}", spec.kind.label(), spec.name)
}

fn snag(spec: &PlatformSpec, code: Code, message: String, remedy: impl Into<Arc<str>>) -> Snag {
    Snag::new(code, ItemRef::Platform(spec.name.clone()), message, remedy)
        .at_height(spec.heights.low)
}

/// Joists and rims that would sag too far.
fn spans(spec: &PlatformSpec, snags: &mut Vec<Snag>) {
    // A class nobody knows is taken for the weakest.
    let (e, density) = stiffness(spec.timber.grade().as_str()).unwrap_or((7000.0, 350.0));
    let pressure = pressure(spec, density);
    let run = spec.run().length();
    let mut look = |which: &str, w: f64, span: f64, remedy: &str| {
        let (sags, most) = (sag(w, span, e, &spec.timber), SAG * span);
        if sags > most + SAME {
            let message = format!(
                "The {which} of {} would sag {} over {} under {} kN/m² and their own weight, more than {}",
                what(spec),
                spec.units.small(sags),
                spec.units.show(span),
                spec.reckoned_load(),
                spec.units.small(most)
            );
            snags.push(snag(spec, Code::SpanTooLong, message, remedy).measured(sags, most));
        }
    };
    let remedy =
        "Use a deeper section, closer centres or the shorter way; licensed practice decides.";
    look("joists", pressure / 1000.0 * spec.centres, run, remedy);
    if spec.bearings.contains(&Bearing::Rim) {
        let remedy =
            "Use a deeper section, or let the joists run the other way; licensed practice decides.";
        look("rim", pressure / 1000.0 * spec.length / 2.0, spec.width, remedy);
    }
}

/// Sides that should hang on something and do not.
fn bearings(spec: &PlatformSpec, snags: &mut Vec<Snag>) {
    let names = side_names(spec);
    for (end, bearing) in spec.bearings.iter().enumerate() {
        match bearing {
            Bearing::Plate | Bearing::Hangers => {
                let whole = Span { low: 0.0, high: spec.width };
                let held: Vec<Span> = spec.held[end].iter().map(|h| h.span).collect();
                let bare = whole.without(&held).into_iter().map(Span::length).fold(0.0, f64::max);
                // A plate carries itself past a doorway as wide as a bay.
                if bare > spec.centres + SAME {
                    let message = format!(
                        "The {} side of {} has no wall as high as it for {}: its {} hang on nothing there",
                        names[end],
                        what(spec),
                        spec.units.with_unit(bare),
                        if *bearing == Bearing::Plate { "plate and joists" } else { "hangers" }
                    );
                    let remedy = "Move it against a wall, or carry that side by a rim or a front.";
                    snags.push(
                        snag(spec, Code::NoBearing, message, remedy).measured(bare, spec.centres),
                    );
                }
            }
            Bearing::Rim => {
                let t = spec.timber.thickness();
                let at = if end == 0 { t / 2.0 } else { spec.length - t / 2.0 };
                for side in [2, 3] {
                    if !spec.held[side].iter().any(|h| h.span.grown(SAME).contains(at)) {
                        let message = format!(
                            "The rim at the {} side of {} has no wall to hang on at its {} end",
                            names[end],
                            what(spec),
                            names[side]
                        );
                        let remedy = "Move its end to a wall, or carry that side another way.";
                        snags.push(snag(spec, Code::NoBearing, message, remedy));
                    }
                }
            }
            Bearing::Front => {}
        }
    }
}

/// What its sides are called, as it lies before it is turned.
pub(super) fn side_names(spec: &PlatformSpec) -> [&'static str; 4] {
    if spec.along_width {
        ["left", "right", "near", "far"]
    } else {
        ["near", "far", "left", "right"]
    }
}

/// Its level against the ceiling and heads.
fn levels(spec: &PlatformSpec, snags: &mut Vec<Snag>) {
    let top = super::top(spec);
    if top > spec.ceiling + SAME {
        let message = format!(
            "{} {} goes up to {} and what is over it is at {}",
            capital(spec.kind.label()),
            spec.name,
            spec.units.show(top),
            spec.units.show(spec.ceiling)
        );
        snags.push(
            snag(spec, Code::AboveCeiling, message, "Lower it, or use a shallower section.")
                .measured(top, spec.ceiling),
        );
    }
    let low = spec.finished.low;
    if low < HEAD_ROOM - SAME {
        let message =
            format!("There is {} of head room under {}", spec.units.with_unit(low), what(spec));
        let remedy = "Keep it out of where people walk, or raise it.";
        snags.push(snag(spec, Code::LowHeadRoom, message, remedy).measured(low, HEAD_ROOM));
    }
}

/// Pieces longer than the longest bar of the joists' section.
fn too_long(spec: &PlatformSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    let Some(longest) = spec.longest else { return };
    for member in frame.members.iter().filter(|m| m.timber == spec.timber) {
        let length = member.reach();
        if length > longest + SAME {
            let message = format!(
                "Piece {} ({}) is {} long and the longest bar is {}",
                member.full_mark(&spec.name),
                member.role.label(),
                spec.units.show(length),
                spec.units.show(longest)
            );
            let of = ItemRef::Member { wall: spec.name.clone(), mark: member.mark };
            let remedy = if member.role == Role::Joist {
                "Add a longer bar to the timber list, or let the joists run the other way."
            } else {
                "Add a longer bar to the timber list, or make it in two."
            };
            snags
                .push(Snag::new(Code::PieceTooLong, of, message, remedy).measured(length, longest));
        }
    }
}

/// Less than this of an edge without timber is let pass, mm: as of a wall's.
const BARE: f64 = 100.0;

/// Ends and edges of boards with nothing behind them: the layer on the joists is what is fixed to them.
fn bare(spec: &PlatformSpec, frame: &Frame, boards: &[Layer<On>], snags: &mut Vec<Snag>) {
    for layer in boards.iter().filter(|l| l.layer == 0) {
        let side = match layer.face {
            On::Above => "on",
            On::Front => "on the front of",
            _ => "under",
        };
        let ends = layer.joints.iter().filter(|j| j.along.length() < SAME && j.bare > BARE);
        let ends: Vec<_> = ends.collect();
        if let Some(first) = ends.first() {
            let length: f64 = ends.iter().map(|j| j.bare).sum();
            let message = format!(
                "Boards {side} {} end on each other {} across with nothing behind them, over {} in all",
                what(spec),
                spec.units.show(first.along.low),
                spec.units.run(length)
            );
            let remedy = "Use centres that divide the length of the sheets, or put timber there.";
            snags.push(snag(spec, Code::BoardEdgeBare, message, remedy).measured(length, BARE));
        }
        if layer.face != On::Below {
            continue;
        }
        // Plates, rims and fronts carry the edge; between joists in hangers there is nothing.
        let timber = super::boards::timber_of(spec, frame, layer);
        let (mut sides, mut length) = (Vec::new(), 0.0);
        for (end, (at, inwards)) in [(0.0, 1.0), (spec.length, -1.0)].into_iter().enumerate() {
            let whole = Span { low: 0.0, high: spec.width };
            let bare = timber.bare_edge(at, inwards, whole).into_iter().map(Span::length);
            let bare: f64 = bare.sum();
            if bare > BARE {
                sides.push(side_names(spec)[end]);
                length += bare;
            }
        }
        if sides.is_empty() {
            continue;
        }
        let message = format!(
            "The edge of the boards under {} has nothing behind it between the joists on its {} side, over {} in all",
            what(spec),
            sides.join(" and its "),
            spec.units.run(length)
        );
        let remedy = "Put noggins between the joists along the wall, or carry them on a plate.";
        snags.push(snag(spec, Code::BoardEdgeBare, message, remedy).measured(length, BARE));
    }
}
