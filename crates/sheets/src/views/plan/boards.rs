//! The boards of a partition on the plan: a strip for each, as thick as it is, from joint to joint and to where it ends in
//! a corner.

use layout_core::id::ItemRef;
use layout_core::layout::WallLayout;
use layout_core::resolve::Hole;
use layout_core::span::Span;

use super::Sheet;
use super::partition::strip;
use crate::picture::{Fill, Pen};

/// The cut is taken this far over the foot of the lowest boards, mm.
const CUT: f64 = 50.0;

/// The layers up to `last` on both faces.
pub(super) fn draw(sheet: &mut Sheet, wall: &WallLayout, last: usize) {
    let of = ItemRef::Wall(wall.name().clone());
    let openings: Vec<Span> = wall.spec.holes.iter().map(Hole::doorway).collect();
    for layer in wall.boards.layers.iter().filter(|l| l.layer <= last) {
        let feet = layer.pieces.iter().map(|p| p.shape.heights().low);
        let cut = feet.fold(f64::INFINITY, f64::min) + CUT;
        for piece in layer.pieces.iter().filter(|p| p.shape.heights().contains(cut)) {
            for part in piece.shape.stations().without(&openings) {
                let corners = strip(wall, part, layer.across);
                sheet.picture.area(corners, Pen::Thin, Fill::Paper, Some(&of));
            }
        }
    }
}
