//! Boards: whether the stud centres suit them, and what is behind their joints.

use crate::boards::{Boarding, Joint, sheet_of};
use crate::catalogue::mass_of;
use crate::document::{Board, Lay, Rule};
use crate::frame::suits_boards;
use crate::id::ItemRef;
use crate::math::{SAME, same};
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// Stud centres above what the thinnest board allows, and centres that do not divide a board.
pub(super) fn centres(spec: &WallSpec, snags: &mut Vec<Snag>) {
    let faces = [&spec.makeup.left, &spec.makeup.right];
    let thinnest = faces
        .iter()
        .filter_map(|f| f.boards.first())
        .map(|b| b.thickness)
        .fold(f64::INFINITY, f64::min);
    if !thinnest.is_finite() {
        return;
    }
    let rule = if thinnest < 12.0 { Rule::CentresThin } else { Rule::CentresThick };
    let most = spec.rules.value(rule);
    let board = format!("{}{}", spec.units.fine(thinnest), spec.units.mark());
    let wall = ItemRef::Wall(spec.name.clone());
    if spec.centres > most + SAME {
        snags.push(
            Snag::new(
                Code::CentresTooWide,
                wall.clone(),
                format!(
                    "Wall {} has studs at {} centres; {} board allows {}",
                    spec.name,
                    spec.units.show(spec.centres),
                    board,
                    spec.units.show(most)
                ),
                "Close the centres up, or use a thicker board.",
            )
            .in_wall(&spec.name, spec.along().centre())
            .measured(spec.centres, most)
            .by(spec.rules.source(rule)),
        );
    }
    let widths = faces.iter().flat_map(|f| &f.boards).filter(|b| b.lay == Lay::Upright);
    let mut widths = widths.map(|b| sheet_of(b, spec.centres).0);
    if let Some(width) = widths.find(|width| !suits_boards(spec.centres, *width)) {
        snags.push(
            Snag::new(
                Code::CentresOffBoard,
                wall,
                format!(
                    "Centres of {} in wall {} do not divide boards {} wide: their joints miss the studs",
                    spec.units.show(spec.centres),
                    spec.name,
                    spec.units.show(width)
                ),
                "Use 300, 400 or 600 with 1200 boards; 16 or 24 in with 4 ft boards.",
            )
            .in_wall(&spec.name, spec.along().centre())
            .measured(spec.centres, width),
        );
    }
}

/// Sheets that one person should not lift: one of each board of the wall.
pub(super) fn heavy(spec: &WallSpec, snags: &mut Vec<Snag>) {
    let one_person = spec.rules.value(Rule::SheetLift);
    let mut done: Vec<&Board> = Vec::new();
    for board in spec.makeup.left.boards.iter().chain(&spec.makeup.right.boards) {
        let (width, length) = sheet_of(board, spec.centres);
        let mass = width * length / 1e6 * mass_of(board);
        if mass <= one_person || done.contains(&board) {
            continue;
        }
        done.push(board);
        let units = spec.units;
        snags.push(
            Snag::new(
                Code::HeavySheet,
                ItemRef::Wall(spec.name.clone()),
                format!(
                    "A sheet of {} {}, {} × {}, in wall {} has {mass:.1} kg: more than {one_person} kg",
                    board.kind,
                    units.fine(board.thickness),
                    units.show(width),
                    units.show(length),
                    spec.name
                ),
                "Two people carry it, or use smaller sheets.",
            )
            .in_wall(&spec.name, spec.along().centre())
            .by(spec.rules.source(Rule::SheetLift)),
        );
    }
}

/// Less than this of a joint without timber is let pass, mm: the width of a stud that a noggin stops at.
const BARE: f64 = 100.0;

/// Joints of boards with nothing behind them, and those that could not be kept off the corner of an opening. One for
/// each height or kind on each face: the layer on the frame is what is fixed to it.
pub(super) fn joints(spec: &WallSpec, boarding: &Boarding, snags: &mut Vec<Snag>) {
    for layer in boarding.layers.iter().filter(|l| l.layer == 0) {
        let face = layer.face.label();
        let wall = ItemRef::Wall(spec.name.clone());
        let is_level = |j: &&Joint| j.along.length() > SAME;
        let mut heights: Vec<f64> =
            layer.joints.iter().filter(is_level).map(|j| j.heights.low).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| same(*a, *b));
        for height in heights {
            let at = layer.joints.iter().filter(is_level).filter(|j| same(j.heights.low, height));
            let bare: Vec<&Joint> = at.filter(|j| j.bare > BARE).collect();
            let Some(first) = bare.first() else { continue };
            let length: f64 = bare.iter().map(|j| j.bare).sum();
            snags.push(
                Snag::new(
                    Code::BoardEdgeBare,
                    wall.clone(),
                    format!(
                        "Boards on the {face} face of wall {} are joined {} up with nothing behind them over {}",
                        spec.name,
                        spec.units.show(height),
                        spec.units.run(length)
                    ),
                    "Put a noggin row there, or use longer boards.",
                )
                .in_wall(&spec.name, first.along.centre())
                .at_height(height)
                .measured(length, BARE),
            );
        }
        let at_corner: Vec<&Joint> = layer.joints.iter().filter(|j| j.at_corner).collect();
        if let Some(first) = at_corner.first() {
            let mut stations: Vec<String> =
                at_corner.iter().map(|j| spec.units.show(j.along.low - spec.along().low)).collect();
            stations.dedup();
            snags.push(
                Snag::new(
                    Code::JointAtCorner,
                    wall,
                    format!(
                        "Boards on the {face} face of wall {} are joined near the corner of an opening, at {}",
                        spec.name,
                        stations.join(", ")
                    ),
                    "Put a stud further from the opening, move the opening, or reinforce the joint.",
                )
                .in_wall(&spec.name, first.along.low)
                .at_height(first.heights.low),
            );
        }
    }
}
