//! Boards: whether the stud centres suit them.

use crate::boards::sheet_of;
use crate::document::Lay;
use crate::frame::suits_boards;
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// Stud centres above what the thinnest board allows (NHBC Standards 9.2.4: 9.5 mm board, 450; 12.5 mm
/// and thicker, 600; 24 in is taken with 4 ft boards), and centres that do not divide a board.
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
    let most = if thinnest < 12.0 { 450.0 } else { 609.6 };
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
            .measured(spec.centres, most),
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
