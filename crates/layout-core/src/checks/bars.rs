//! Bars: pieces that no bar of their section can give, and plates that can be joined nowhere.

use crate::frame::Frame;
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// Pieces longer than the longest bar of the make-up's section.
pub(super) fn too_long(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    let Some(longest) = spec.longest else { return };
    for member in frame.members.iter().filter(|m| m.timber == spec.makeup.timber) {
        let length = member.reach();
        if length > longest + SAME {
            let (piece, role) = (member.full_mark(&spec.name), member.role.label());
            let (is, most) = (spec.units.show(length), spec.units.show(longest));
            let (code, message, remedy) = if member.role.is_plate() {
                (
                    Code::SpliceNowhere,
                    format!(
                        "Piece {piece} ({role}) is {is} long, the longest bar is {most}, and no stud stands where it may be joined"
                    ),
                    "Add a longer bar to the timber list, or set a stud where the joint is to be.",
                )
            } else {
                (
                    Code::PieceTooLong,
                    format!("Piece {piece} ({role}) is {is} long and the longest bar is {most}"),
                    "Add a longer bar to the timber list, or change the wall.",
                )
            };
            let of = ItemRef::Member { wall: spec.name.clone(), mark: member.mark };
            snags.push(
                Snag::new(code, of, message, remedy)
                    .in_wall(&spec.name, member.solid.stations().centre())
                    .measured(length, longest),
            );
        }
    }
}
